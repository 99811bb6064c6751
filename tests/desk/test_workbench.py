"""The workbench: one way for every change, everybody told, nothing lost."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.desk.draft import Address, Draft
from rigfit.desk.settings import Settings, load_settings
from rigfit.desk.workbench import (
    MOST_GHOSTS,
    Change,
    Workbench,
    height_key,
    keep_settings,
)
from rigfit.errors import RigfitError, UsageError
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.findings import Verdict
from tests.desk.panels import with_old_holes

RAKE = Address("transom", "rake")
NAME = Address("boat", "name")
CATALOGUE = load_catalogue()
STEPS = ("type", "engine", "copy", "gone", "hole", "rows", "reuse", "height", "units")


@pytest.fixture
def bench(tmp_path: Path) -> Workbench:
    return Workbench(CATALOGUE, Settings(), tmp_path / "unsaved")


@pytest.fixture
def demo(bench: Workbench) -> Workbench:
    bench.begin_demo()
    return bench


@pytest.fixture
def heard(demo: Workbench) -> list[Change]:
    changes: list[Change] = []
    demo.listen(changes.append)
    return changes


def unsaved_in(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*unsaved*"))


# ---------------------------------------------------------------- typing


def test_before_any_boat_there_is_nothing_to_show(bench):
    assert not bench.has_boat
    assert bench.report is None
    assert bench.options == ()
    assert not bench.context().has_report


def test_the_demo_opens_at_its_chosen_engine(demo):
    assert demo.boat_name == "Dunlin"
    assert demo.draft.engine_ids[demo.engine_index] == "B"
    assert demo.report.case.candidate.id == "B"
    assert demo.is_saved


def test_typing_is_worked_out_at_once_and_told_once(demo, heard):
    before = demo.report.mounted.plate.value
    demo.type(RAKE, "18°")
    assert demo.report.mounted.plate.value != before
    assert heard == [Change.TEXTS]


def test_typing_the_same_text_again_is_no_change(demo, heard):
    demo.type(RAKE, demo.draft.text(RAKE))
    assert heard == []
    assert not demo.history.can_undo


def test_a_text_nobody_can_read_is_kept_and_named(demo):
    demo.type(RAKE, "about thirteen")
    assert demo.draft.text(RAKE) == "about thirteen"
    assert "thirteen" in demo.derived.messages[RAKE]


def test_edits_of_one_field_are_one_step(demo):
    for text in ("1", "15", "15 "):
        demo.type(RAKE, text)
    demo.undo()
    assert demo.is_saved


def test_undo_and_redo_say_what_they_did(demo):
    demo.type(RAKE, "15°")
    assert demo.undo() == "rake of the transom"
    assert demo.redo() == "rake of the transom"
    assert demo.draft.text(RAKE) == "15°"
    assert demo.redo() == ""


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(STEPS), max_size=12))
def test_whatever_was_done_can_be_taken_back_and_done_again(steps):
    bench = Workbench(CATALOGUE, Settings(), Path("nowhere"))
    bench.begin_demo()
    start = bench.draft
    for number, step in enumerate(steps):
        {
            "type": lambda n=number: bench.type(Address("transom", "thickness"), f"{40 + n} mm"),
            "engine": bench.add_engine,
            "copy": bench.duplicate_engine,
            "gone": lambda: bench.remove_engine() if bench.draft.engines else None,
            "hole": lambda: bench.add_row("hole"),
            "rows": lambda: bench.add_rows("opening", [{"name": "drain"}, {"name": "cables"}]),
            "reuse": lambda: (
                [bench.choose_reuse(item) for item in bench.report.reuse[:1]]
                if bench.report
                else None
            ),
            "height": lambda: bench.step_height(1),
            "units": lambda: bench.set_units(lengths="in"),
        }[step]() if bench.draft.engines or step not in ("copy", "gone") else None
    end = bench.draft
    while bench.history.can_undo:
        bench.undo()
    assert bench.draft == start
    while bench.history.can_redo:
        bench.redo()
    assert bench.draft == end
    assert 0 <= bench.engine_index < max(1, len(bench.draft.engines))


# ---------------------------------------------------------------- rows and old holes


def test_many_rows_are_one_step_with_a_name_in_plain_words(demo, heard):
    before = demo.draft
    demo.add_rows("no_go", [{"name": "port knee"}, {"name": "well floor"}])
    assert [row[0] for row in demo.draft.rows("no_go")] == ["port knee", "well floor"]
    assert heard == [Change.ENGINES]
    assert demo.undo() == "2 places inside more"
    assert demo.draft == before
    demo.add_rows("no_go", [])
    assert demo.history.can_redo  # nothing to add is no change
    with pytest.raises(KeyError):
        demo.add_rows("hole", [{"depth": "3 mm"}])
    assert demo.draft == before


@pytest.mark.parametrize(
    ("table", "name"),
    [
        ("engine", "engine"),
        ("opening", "opening"),
        ("hole", "hole"),
        ("no_go", "place inside"),
        ("dash", "cut-out"),
        ("wire", "conductor"),
        ("cable", "cable"),
        ("obstacle", "obstacle"),
    ],
)
def test_a_row_is_called_by_its_name_when_it_comes_and_goes(demo, table, name):
    demo.add_row(table)
    assert demo.history.undo_label == f"a new {name}"
    demo.remove_row(table, len(demo.draft.rows(table)) - 1)
    assert demo.history.undo_label == f"the {name} taken out"


UPPER, MIDDLE = Address("mounting", "upper_holes_below_top"), Address("mounting", "off_centre")


def test_a_choice_of_old_holes_is_as_certain_as_the_holes_it_uses(demo):
    with_old_holes(demo)
    more, fewer = demo.report.reuse
    demo.choose_reuse(more)
    assert demo.is_chosen_reuse(demo.report.reuse[0])
    assert (demo.draft.text(UPPER), demo.draft.text(MIDDLE)) == (
        "60 mm ± 0.2 mm",
        "8 mm ± 0.2 mm",
    )
    back = next(item for item in demo.report.reuse if item.reused == fewer.reused)
    assert back.shift_mm == pytest.approx(-8.0)
    demo.choose_reuse(back)
    assert demo.draft.text(MIDDLE) == "0 mm ± 0.2 mm"
    assert demo.report.case.job.mounting.row == fewer.row


def test_a_reading_that_says_the_place_already_stays_as_typed(demo):
    demo.type(UPPER, "1 7/8 in ± 1/32 in")
    near = replace(demo.report.reuse[0], upper_below_top_mm=47.63, shift_mm=0.0, row=3)
    demo.choose_reuse(near)
    assert demo.draft.text(UPPER) == "1 7/8 in ± 1/32 in"
    assert demo.draft.text(Address("mounting", "row")) == "3"
    usual = replace(near, upper_below_top_mm=55.0, reused=())
    demo.choose_reuse(usual)
    assert demo.draft.text(UPPER) == "55 mm"


# ---------------------------------------------------------------- engines


def test_another_engine_is_reported_on(demo, heard):
    demo.show_engine(2)
    assert demo.report.case.candidate.id == "C"
    assert heard == [Change.ENGINE]


@pytest.mark.parametrize(("index", "shown"), [(-5, 0), (0, 0), (3, 3), (99, 3)])
def test_an_engine_beyond_the_last_is_the_last(demo, index, shown):
    demo.show_engine(index)
    assert demo.engine_index == shown


def test_engines_go_round(demo):
    seen = []
    for _ in range(5):
        seen.append(demo.engine_index)
        demo.show_beside(1)
    assert seen == [1, 2, 3, 0, 1]


def test_a_new_engine_is_shown_and_lacks_its_class(demo, heard):
    demo.add_engine()
    assert demo.engine_index == 4
    assert demo.report is None
    assert "class" in demo.trouble
    assert heard == [Change.ENGINES | Change.ENGINE]


def test_a_copy_stands_behind_and_reports_alike(demo):
    plate = demo.report.mounted.plate
    demo.duplicate_engine()
    assert demo.engine_index == 2
    assert demo.draft.engine_ids[2] not in "ABCD"
    assert demo.report.options[0].plate == plate or demo.report.mounted is not None


def test_the_last_engine_can_go_too(demo):
    while demo.draft.engines:
        demo.remove_engine()
    assert demo.report is None
    assert "add one" in demo.trouble


def test_an_engine_with_anothers_id_is_not_reported_on(demo):
    demo.show_engine(0)
    demo.type(Address("engine", "id", 0), "B")
    demo.show_engine(1)
    assert demo.report is None
    assert '"B"' in demo.trouble


def test_an_engine_without_id_says_so_and_shows_no_other(demo):
    demo.type(Address("engine", "id", 1), "")
    assert demo.report is None
    assert "id" in demo.trouble


def test_the_choice_follows_the_id_key_by_key(demo):
    address = Address("engine", "id", 1)
    for text in ("", "H", "He"):
        demo.type(address, text)
    assert demo.draft.text(Address("mounting", "engine")) == "He"
    assert demo.report.is_chosen
    demo.commit(address, "He")
    demo.undo()
    assert demo.is_saved


def test_another_engines_id_leaves_the_choice(demo):
    for text in ("", "B"):
        demo.type(Address("engine", "id", 0), text)
    demo.type(Address("engine", "id", 0), "X")
    assert demo.draft.text(Address("mounting", "engine")) == "B"


# ---------------------------------------------------------------- heights and look


def test_raising_goes_up_the_possible_rows_and_stops(demo):
    heights = []
    while demo.context().can_raise:
        heights.append(demo.report.mounted.lift.value)
        demo.step_height(1)
    heights.append(demo.report.mounted.lift.value)
    assert heights == sorted(set(heights))
    before = demo.draft
    demo.step_height(1)
    assert demo.draft is before


def test_choosing_a_height_decides_on_the_engine_too(demo):
    demo.show_engine(0)
    option = next(item for item in demo.options if item.is_possible)
    demo.choose(option)
    assert demo.draft.text(Address("mounting", "engine")) == "A"
    assert demo.report.is_chosen
    assert height_key(demo.report.mounted) == height_key(option)


def test_ghosts_are_few_and_go_with_the_engine(demo):
    keys = [height_key(option) for option in demo.options]
    for key in keys:
        demo.toggle_ghost(key)
    assert demo.look.ghosts == tuple(keys[-MOST_GHOSTS:])
    demo.toggle_ghost(keys[-1])
    assert keys[-1] not in demo.look.ghosts
    demo.show_engine(0)
    assert demo.look.ghosts == ()


@pytest.mark.parametrize(("wanted", "got"), [(-5.0, 0.0), (30.0, 30.0), (500.0, 68.0)])
def test_tilt_stays_within_the_travel(demo, wanted, got):
    demo.set_tilt(wanted)
    assert demo.look.tilt_deg == got


def test_going_to_a_field_of_another_engine_shows_it(demo, heard):
    address = Address("engine", "leg_measured", 3)
    demo.go_to(address)
    assert demo.engine_index == 3
    assert demo.wanted == address
    assert heard == [Change.ENGINE, Change.GOTO]


def test_the_look_is_no_part_of_the_job(demo):
    demo.set_tilt(20.0)
    demo.set_picture("template")
    assert demo.is_saved
    assert not demo.history.can_undo


# ---------------------------------------------------------------- units and settings


def test_units_are_the_boats_and_a_habit(demo):
    demo.set_units(lengths="in", speeds="mph")
    assert demo.style.lengths == "in"
    demo.begin()
    assert demo.style.lengths == "in"
    assert demo.style.speeds == "mph"


def test_entries_in_inches_keep_the_meaning_of_what_was_typed(demo):
    before = demo.report.mounted.plate.value
    demo.set_units(entries="inch")
    assert demo.report.mounted.plate.value == pytest.approx(before, abs=1e-9)


def test_settings_are_kept_for_the_next_time(demo, tmp_path):
    demo.set_settings(scale=150, theme="dark")
    assert keep_settings(demo.settings, tmp_path) == ""
    assert load_settings(tmp_path) == (demo.settings, "")


def test_settings_that_cannot_be_kept_are_a_sentence(demo, tmp_path):
    (tmp_path / "in the way").write_text("")
    assert "could not be kept" in keep_settings(demo.settings, tmp_path / "in the way")


# ---------------------------------------------------------------- files


def test_save_open_and_go_on(demo, tmp_path):
    path = tmp_path / "dunlin.toml"
    demo.type(RAKE, "14 deg")
    demo.save_as(path)
    assert demo.is_saved
    assert demo.settings.last_file == str(path)
    demo.type(RAKE, "15 deg")
    assert not demo.is_saved
    demo.save()
    other = Workbench(CATALOGUE, Settings(), tmp_path / "unsaved")
    other.open(path)
    assert other.draft == demo.draft


def test_a_file_that_cannot_be_read_leaves_the_boat(demo, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("not = [a job")
    before = demo.draft
    with pytest.raises(RigfitError):
        demo.open(bad)
    assert demo.draft is before
    assert demo.has_boat


def test_loading_again_can_be_taken_back(demo, tmp_path):
    path = tmp_path / "dunlin.toml"
    demo.save_as(path)
    demo.type(RAKE, "15 deg")
    demo.reload()
    assert demo.is_saved
    assert demo.draft.text(RAKE) != "15 deg"
    demo.undo()
    assert demo.draft.text(RAKE) == "15 deg"


def test_loading_again_needs_a_file(demo):
    with pytest.raises(UsageError):
        demo.reload()


def test_unsaved_work_is_kept_and_taken_up_again(demo, tmp_path):
    demo.type(RAKE, "unreadable")
    demo.autosave()
    other = Workbench(CATALOGUE, Settings(), tmp_path / "unsaved")
    (found,) = other.document.recoverable()
    other.recover(found)
    assert other.draft == demo.draft
    assert not other.is_saved


def test_taken_up_work_of_a_file_goes_back_to_the_file(demo, tmp_path):
    path = tmp_path / "dunlin.toml"
    demo.save_as(path)
    saved = demo.draft
    demo.type(RAKE, "15 deg")
    demo.autosave()
    other = Workbench(CATALOGUE, Settings(), tmp_path / "unsaved")
    (found,) = other.document.recoverable([path])
    other.recover(found)
    assert other.draft.text(RAKE) == "15 deg"
    other.undo()
    assert other.draft == saved
    assert other.is_saved


def test_leaving_a_saved_boat_leaves_nothing_behind(demo, tmp_path):
    demo.type(RAKE, "15 deg")
    demo.autosave()
    assert unsaved_in(tmp_path)
    demo.save_as(tmp_path / "dunlin.toml")
    demo.close()
    assert not [item for item in unsaved_in(tmp_path) if item.is_file()]


def test_a_new_boat_has_one_engine_to_fill_in(bench):
    bench.begin()
    assert bench.draft.engines == Draft.new().engines
    assert bench.report is None
    bench.type(Address("engine", "engine_class", 0), "medium-75-115")
    assert bench.report.verdict is Verdict.UNKNOWN
