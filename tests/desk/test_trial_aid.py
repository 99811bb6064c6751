"""The runs of the sea trials in the form: table, cautions, pasting, reading, giving away."""

from __future__ import annotations

import time

import pytest

from rigfit.desk import trial_aid
from rigfit.desk.draft import Address
from rigfit.desk.kit import dialogs
from rigfit.desk.measurements import MeasurementsPanel
from rigfit.desk.trial_entry import FileRead
from rigfit.desk.trial_rows import SAFETY
from rigfit.records.trial_paste import parse_runs
from tests.desk.harness import (
    click,
    faults,
    press_key,
    screenshot,
    settle,
    take_keyboard,
    wait_for,
)
from tests.desk.panels import shown_panel
from tests.desk.test_trial_entry import LEGS, TABLE, gpx
from tests.desk.trial_boat import trial_bench

LONG = "rpm\tspeed there\n" + "\n".join(f"{1000 + at}\tseveral" for at in range(12))


@pytest.fixture
def bench(tmp_path):
    return trial_bench(tmp_path)


def opened(root, bench, table="run"):
    panel = shown_panel(root, MeasurementsPanel, bench)
    group = panel.groups[table]
    assert not group.section.is_open
    group.section.unfold()
    settle(root)
    take_keyboard(root)
    return group


def copy(root, text):
    root.clipboard_clear()
    root.clipboard_append(text)


class Answers:
    """Answers every question for a file with one path."""

    def __init__(self, path):
        self.path = path

    def open_path(self, *_asked):
        return self.path

    def save_path(self, *_asked, **_more):
        return self.path


# The sections ----------------------------------------------------------------------------------


def test_the_cautions_stand_above_the_trials(root, bench):
    group = opened(root, bench, "trial")
    assert group.safety.text == " ".join(SAFETY)
    for words in ("Life jackets", "cut-off cord", "trimmed fully in", "over the stern"):
        assert words in group.safety.text
    assert group.safety.winfo_rooty() < group.blocks[0].winfo_rooty()


def test_all_runs_are_in_the_table_and_a_picked_one_is_led_to(root, bench):
    group = opened(root, bench)
    assert group.runs.count == 8
    assert len(group.blocks) == 3
    group.runs.focus_set()
    for _ in range(5):
        press_key(root, "Down")
    settle(root)
    picked = int(group.runs.picked)
    assert bench.focus == Address("run", "rpm", picked)
    press_key(root, "Return")
    settle(root)
    line = group.line(Address("run", "rpm", picked))
    assert line is not None
    assert root.focus_get() is line.row.keys_to
    assert line.row.text == bench.draft.text(Address("run", "rpm", picked))


def test_the_run_whose_field_has_the_cursor_is_picked(root, bench):
    group = opened(root, bench)
    group.panel.go_to(Address("run", "fuel_flow", 6))
    settle(root)
    assert group.runs.picked == "6"


def test_the_table_follows_what_is_typed(root, bench):
    group = opened(root, bench)
    before = group.runs.copied()
    bench.type(Address("run", "speed_there", 0), "12.4 kn")
    wait_for(root, lambda: group.runs.copied() != before)
    assert "11.0" in group.runs.tree.item("0")["values"]


def test_speeds_are_shown_in_the_unit_of_the_job(root, bench):
    group = opened(root, bench)
    bench.set_units(speeds="mph")
    wait_for(root, lambda: "mph" in group.runs.copied())
    assert "11.4" in group.runs.tree.item("0")["values"]  # 9.9 kn x 1852 / 1609.344


def test_a_run_is_added_and_taken_out(root, bench):
    group = opened(root, bench)
    click(group.add)
    settle(root)
    assert group.runs.count == 9
    assert root.focus_get() is group.line(Address("run", "trial", 8)).row.keys_to
    group.blocks[2].remove.invoke()
    settle(root)
    assert group.runs.count == 8


def test_a_run_chooses_among_the_trials_and_a_trial_among_the_engines(root, bench):
    group = opened(root, bench)
    row = group.line(Address("run", "trial", 0)).row
    assert list(row.choice._choices) == ["", "T1", "T2"]
    row.choice.choose("T2")
    assert bench.draft.text(Address("run", "trial", 0)) == "T2"
    bench.type(Address("trial", "id", 1), "late")
    settle(root)
    assert list(row.choice._choices) == ["", "T1", "late"]
    trials = group.panel.groups["trial"]
    trials.section.unfold()
    engine = trials.line(Address("trial", "engine", 0)).row
    assert list(engine.choice._choices)[:3] == ["", "old", "A"]
    bench.type(Address("run", "trial", 3), "another")
    settle(root)
    assert bench.draft.text(Address("run", "trial", 3)) == "another"


def test_runs_follow_the_id_of_their_trial_as_it_is_typed(bench):
    first = Address("trial", "id", 0)
    bench.set_focus(first)
    for text in ("T", "T2", "T22", "T2"):  # it passes through the id of another
        bench.type(first, text)
    bench.commit(first, "T23")
    names = [bench.draft.text(Address("run", "trial", row)) for row in range(8)]
    assert names == ["T23"] * 4 + ["T2"] * 4
    bench.undo()
    assert bench.draft.text(Address("run", "trial", 0)) == "T1"


def test_runs_of_two_trials_with_one_id_follow_neither(bench):
    bench.take(bench.draft.with_text(Address("trial", "id", 1), "T1"), "one id twice")
    bench.type(Address("trial", "id", 0), "T9")
    assert bench.draft.text(Address("run", "trial", 0)) == "T1"


# Bringing runs in ------------------------------------------------------------------------------


def test_pasted_runs_are_added_with_their_trial_as_one_step(root, bench):
    group, before = opened(root, bench), bench.draft
    copy(root, TABLE)
    group.aid.toggle()
    card = group.aid.card
    settle(root)
    assert "2 runs can be read." in card.said.text
    assert "fast" in card.said.text
    assert bench.draft == before
    assert root.focus_get() is card.add.keys_to
    press_key(root, "space")
    settle(root)
    assert len(bench.draft.rows("run")) == 10
    assert len(bench.draft.rows("trial")) == 3
    assert not group.aid.is_open
    assert bench.focus == Address("run", "trial", 8)
    bench.undo()
    assert bench.draft == before


def test_rows_without_a_trial_go_to_the_chosen_one(root, bench):
    group = opened(root, bench)
    copy(root, "3000\t14\t13\n")
    group.aid.toggle()
    card = group.aid.card
    assert card.choices["trial"].chosen == "T2"
    card.choices["trial"].choice.choose("T1")
    card.take()
    assert bench.draft.rows("run")[-1][0] == "T1"
    group.aid.toggle()
    copy(root, "3000\t14\t13\n")
    card.paste()
    card.choices["trial"].choice.choose("new")
    card.take()
    assert bench.draft.rows("run")[-1][0] == "T3"
    assert bench.draft.text(Address("trial", "id", 2)) == "T3"


def test_bare_numbers_follow_the_unit_of_entries(root, bench):
    group = opened(root, bench)
    copy(root, "rpm\tspeed there\tmass aboard\n3000\t14\t200\n")
    group.aid.toggle()
    bench.set_units(entries="inch")
    settle(root)
    group.aid.card.take()
    mass = bench.derived.job.runs[-1].mass_aboard
    assert mass.value == pytest.approx(200 * 0.45359237)


def test_a_track_is_read_beside_the_form_and_shows_how_far_it_is(
    root, bench, tmp_path, monkeypatch
):
    path = tmp_path / "day.gpx"
    path.write_bytes(gpx(LEGS))
    monkeypatch.setattr(dialogs, "questions", lambda: Answers(path))
    group = opened(root, bench)
    copy(root, "")
    group.aid.toggle()
    card = group.aid.card
    card.ask_file()
    assert card.stop.winfo_manager()
    assert "%" in card.said.text
    wait_for(root, lambda: not card.worker.is_busy)
    settle(root)
    assert not card.stop.winfo_manager()
    assert "4 steady stretches" in card.said.text
    assert root.focus_get() is card.add.keys_to
    press_key(root, "space")
    settle(root)
    assert len(bench.draft.rows("run")) == 10
    assert bench.draft.text(Address("run", "speed_there", 8)).startswith("20.00 ±")


def test_reading_can_be_cancelled_and_changes_nothing(root, bench, tmp_path, monkeypatch):
    path, ended = tmp_path / "day.gpx", []

    def slow(_path, progress, cancelled):
        progress(0.3, "reading day.gpx")
        while not cancelled():
            time.sleep(0.005)
        ended.append(True)
        return FileRead("day.gpx")

    monkeypatch.setattr(trial_aid, "read_file", slow)
    group, before = opened(root, bench), bench.draft
    copy(root, "")
    group.aid.toggle()
    card = group.aid.card
    card.read(path)
    wait_for(root, lambda: "30 %" in card.said.text)
    card.stop.focus_set()
    press_key(root, "space")
    wait_for(root, lambda: bool(ended))
    settle(root)
    assert "cancelled" in card.said.text
    assert not card.add.winfo_manager()
    assert bench.draft == before
    assert root.focus_get() is card.choose.keys_to


def test_a_file_that_cannot_be_read_is_said_in_words(root, bench, tmp_path):
    group = opened(root, bench)
    copy(root, "")
    group.aid.toggle()
    card = group.aid.card
    card.read(tmp_path / "none.gpx")
    wait_for(root, lambda: not card.worker.is_busy)
    assert card.said.text.startswith("The file none.gpx cannot be read")


def test_escape_closes_the_card_and_the_button_has_the_keyboard(root, bench):
    group = opened(root, bench)
    copy(root, TABLE)
    group.aid.toggle()
    settle(root)
    press_key(root, "Escape")
    settle(root)
    assert not group.aid.is_open
    assert root.focus_get() is group.aid.button.keys_to


# Giving runs away ------------------------------------------------------------------------------


def test_all_runs_go_to_the_clipboard_and_come_back_the_same(root, bench):
    group = opened(root, bench)
    group.aid.copy_runs()
    text = root.clipboard_get()
    assert "8 runs are on the clipboard" in group.aid.told.text
    back = parse_runs(text).runs
    ours = bench.derived.job.runs
    assert [(run.trial, run.rpm.value, run.speed_there.value) for run in back] == [
        (run.trial, run.rpm.value, run.speed_there.value) for run in ours
    ]


def test_runs_are_saved_as_csv_and_trouble_is_said(root, bench, tmp_path, monkeypatch):
    path = tmp_path / "out.csv"
    answers = Answers(path)
    monkeypatch.setattr(dialogs, "questions", lambda: answers)
    group = opened(root, bench)
    group.aid.save_runs()
    assert len(parse_runs(path.read_text(encoding="utf-8")).runs) == 8
    assert "8 runs are in" in group.aid.told.text
    answers.path = tmp_path / "no" / "such" / "folder.csv"
    (tmp_path / "no").write_text("a file", encoding="utf-8")
    group.aid.save_runs()
    assert "are in" not in group.aid.told.text


def test_runs_of_which_none_can_be_used_are_not_given_away(root, bench):
    draft = bench.draft
    while draft.rows("run"):
        draft = draft.remove_row("run", 0)
    bench.take(draft.add_row("run", trial="T1"), "one run")
    group = opened(root, bench)
    copy(root, "before")
    group.aid.copy_runs()
    assert "needs its trial and an engine speed" in group.aid.told.text
    assert root.clipboard_get() == "before"


# Geometry --------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [TABLE, LONG, ""])
@pytest.mark.parametrize(
    ("appearance", "scale", "width", "lengths"),
    [("light", 1.0, 384, "mm"), ("dark", 2.0, 384, "in"), ("dark", 1.5, 330, "mm"),
     ("light", 1.0, 640, "in")],
)  # fmt: skip
def test_nothing_is_cut_off(make_root, tmp_path, appearance, scale, width, lengths, text):
    bench = trial_bench(tmp_path, lengths, "km/h")
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(700 * scale)}")
    group = opened(root, bench)
    assert faults(root) == []
    copy(root, text)
    group.aid.toggle()
    if text:
        group.aid.card.paste()
    settle(root)
    assert faults(root) == []
    name = f"runs-{appearance}-{scale}-{width}-{len(text)}"
    screenshot(root, f"{name}-card", tmp_path)
    group.aid.close()
    group.aid.copy_runs()
    settle(root)
    assert faults(root) == []
    group.panel.see(group.section)
    screenshot(root, name, tmp_path)
