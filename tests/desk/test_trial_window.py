"""Under way and the sea trials in the whole window: seen, reached by keys, clicked, written."""

from __future__ import annotations

import subprocess
import sys

import pytest

from rigfit import tasks
from rigfit.desk import export_plan
from rigfit.desk.actions import ACTIONS, keys_page
from rigfit.desk.draft import Address
from rigfit.desk.export_plan import Wish
from rigfit.desk.pictures import fitted, picture_of, scene_on_screen
from rigfit.drawing.strokes import full_extents
from tests.demo_reports import ROOT
from tests.desk.harness import (
    faults,
    press_key,
    screenshot,
    settle,
    wait_for,
)
from tests.desk.test_drawing_pane import at, hover, press, release
from tests.desk.test_full_window import LOOKS, maker_of_windows, painted
from tests.desk.test_trial_pictures import middle
from tests.desk.trial_boat import trial_bench

PICTURES = ("trial", "underway")
TABLES = ("propeller", "underway", "trial", "run")
SHEETS = (("underway", "trial", "underway"), ("trial", "trial", "trial"),
          ("trial", "trial-form", "trial-form"))  # fmt: skip


@pytest.fixture
def make_window(make_root, tmp_path):
    return maker_of_windows(make_root, tmp_path, trial_bench)


# Seen ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "scale", "appearance", "lengths"), LOOKS)
def test_every_picture_is_whole_and_nothing_is_cut_off(
    make_window, tmp_path, size, scale, appearance, lengths
):
    window = make_window(size, scale, appearance, lengths)
    drawing = window.body.drawing
    for name in PICTURES:
        window.run(f"view-{name}")
        painted(window)
        assert drawing.picture.kind == name
        assert faults(window.root) == [], name
        view, drawn = drawing.view, drawing.picture.items
        left, bottom, right, top = full_extents(drawn, view.scene_scale)
        low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
        assert min(low[0], high[1]) >= 0.0
        assert high[0] <= view.width and low[1] <= view.height
        notes = [item for item in drawn if item.group == "sheet"]
        if notes:
            others = [item for item in drawn if item.group != "sheet"]
            highest = full_extents(notes, view.scene_scale)[3]
            assert full_extents(others, view.scene_scale)[1] >= highest
        screenshot(window.root, f"{name}-{size}-{scale}-{appearance}-{lengths}", tmp_path)


@pytest.mark.parametrize(
    ("size", "scale", "appearance", "lengths"), [LOOKS[0], LOOKS[4], LOOKS[7], LOOKS[3]]
)
def test_every_section_and_the_advice_are_whole(
    make_window, tmp_path, size, scale, appearance, lengths
):
    window = make_window(size, scale, appearance, lengths)
    window.run("go-measurements")
    panel = window.body.measurements
    wait_for(window.root, lambda: not panel.is_opening)
    for table in TABLES:
        group = panel.groups[table]
        group.set_open(True)
        panel.see(group.section)
        settle(window.root)
        assert faults(window.root) == [], table
        screenshot(window.root, f"table-{table}-{size}-{scale}-{appearance}", tmp_path)
    window.run("go-findings")
    window.body.findings.advice.toggle()
    settle(window.root)
    assert faults(window.root) == []
    screenshot(window.root, f"advice-{size}-{scale}-{appearance}", tmp_path)


def test_nothing_heavy_is_loaded_for_the_first_window():
    script = """
import sys
import rigfit.desk.window, rigfit.desk.body
heavy = {"rigfit.records.trial_paste", "rigfit.records.track_log", "rigfit.drawing.trial_view",
         "rigfit.drawing.underway_view", "rigfit.desk.trial_aid", "rigfit.desk.trial_table",
         "rigfit.desk.trial_pictures", "rigfit.rigging.steady", "matplotlib", "scipy"}
print(sorted(heavy & set(sys.modules)))
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=ROOT,
                          check=True)  # fmt: skip
    assert done.stdout.strip() == "[]"


# Reached ---------------------------------------------------------------------------------------


def test_everything_is_reached_by_a_key_and_stands_on_the_page_of_keys(make_window):
    window = make_window()
    labels = {label for _, label, _ in keys_page()}
    for name in PICTURES:
        action = ACTIONS[f"view-{name}"]
        assert action.keys and action.label in labels
        press_key(window.root, action.keys[0])
        assert window.bench.look.picture == name
        assert window.toolbar.picture.chosen == name
    for name in ("go-runs", "import-runs"):
        assert ACTIONS[name].keys and ACTIONS[name].label in labels


def test_no_key_means_two_things():
    keys = [key for action in ACTIONS.values() for key in action.keys]
    assert len(set(keys)) == len(keys)


def test_to_the_runs_and_to_pasting_them_by_keys(make_window):
    window = make_window()
    root, bench = window.root, window.bench
    press_key(root, "F7")
    settle(root)
    runs = window.body.measurements.runs
    assert runs.section.is_open
    assert root.focus_get() is runs.runs.keys_to
    assert runs.runs.winfo_rooty() < root.winfo_rooty() + root.winfo_height()
    press_key(root, "Down", "Down", "Return")
    settle(root)
    assert bench.focus.table == "run"
    assert root.focus_get() is runs.line(bench.focus).row.keys_to
    root.clipboard_clear()
    root.clipboard_append("3000\t14\t13\n")
    press_key(root, "Control-Shift-i")
    settle(root)
    assert runs.aid.is_open
    assert root.focus_get() is runs.aid.card.add.keys_to
    press_key(root, "space")
    settle(root)
    assert len(bench.draft.rows("run")) == 9
    press_key(root, "Control-z")
    assert len(bench.draft.rows("run")) == 8


def test_without_a_run_the_key_leads_to_their_section(make_window):
    window = make_window()
    draft = window.bench.draft
    while draft.rows("run"):
        draft = draft.remove_row("run", 0)
    window.bench.take(draft, "no runs")
    window.run("go-runs")
    settle(window.root)
    runs = window.body.measurements.runs
    assert runs.section.is_open
    assert not runs.runs.winfo_manager()
    assert window.root.focus_get() is runs.section.keys_to


@pytest.mark.parametrize("row", [1, 3, 7])
def test_a_click_on_a_mark_leads_to_the_run_and_lights_it(make_window, row):
    window = make_window("1920x1080")
    window.run("view-trial")
    painted(window)
    pane, bench = window.body.drawing, window.bench
    where = at(pane, middle(pane.picture, f"run-{row}"))
    hover(pane, where)
    assert str(pane.canvas.cget("cursor")) == "hand2"
    press(pane, where)
    release(pane, where)
    painted(window)
    assert bench.wanted == Address("run", "trial", row)
    assert bench.focus == Address("run", "trial", row)
    assert window.body.measurements.runs.runs.picked == str(row)


def test_what_is_typed_of_a_run_moves_its_mark_at_once(make_window):
    window = make_window()
    window.run("view-trial")
    painted(window)
    pane = window.body.drawing
    before = middle(pane.picture, "run-7")
    window.bench.type(Address("run", "speed_there", 7), "36 kn")
    painted(window)
    assert middle(pane.picture, "run-7") != before


# Written ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("what", "trial", "name"), SHEETS)
@pytest.mark.parametrize("kind", ["pdf", "svg", "png", "dxf"])
def test_every_sheet_is_written_from_the_form(tmp_path, what, trial, name, kind):
    report = trial_bench(tmp_path).report
    wish = Wish(what=what, place=tmp_path / f"sheet.{kind}", kind=kind, trial=trial)
    assert wish.sheet == name
    assert name in tasks.SHEETS
    assert export_plan.suggested_name(what, kind, "boat", sheet=trial) == f"boat-{name}.{kind}"
    written = export_plan.export_task(wish, report, None)(lambda *_: None, lambda: False)
    begins = {"pdf": b"%PDF", "svg": b"<?xml", "png": b"\x89PNG", "dxf": b"  0"}[kind]
    assert [item.path for item in written] == [wish.place]
    assert wish.place.read_bytes().startswith(begins)


@pytest.mark.parametrize(("action", "trial"), [("export-underway", ""), ("export-trial", "trial"),
                                               ("export-trial", "trial-form")])  # fmt: skip
def test_the_page_shows_and_writes_it(make_window, tmp_path, action, trial):
    window = make_window()
    window.run(action)
    settle(window.root)
    page = window.export_page
    if trial:
        page.rows.trial.pick.choose(trial)
        settle(window.root)
        assert page.wish().place.name.endswith(f"-{trial}.pdf")
    wait_for(window.root, lambda: not window.worker.is_busy)
    wait_for(window.root, lambda: page.preview.picture is not None)
    settle(window.root)
    assert faults(window.root) == []
    screenshot(window.root, f"{action}-{trial}", tmp_path)
    target = tmp_path / "out.pdf"
    page.destination.set_text(str(target))
    wait_for(window.root, lambda: not window.worker.is_busy)
    page.export()
    wait_for(window.root, lambda: target.exists() and not window.worker.is_busy)
    assert target.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("name", PICTURES)
def test_what_is_on_the_screen_is_the_picture_that_is_saved(tmp_path, name, lengths):
    bench = trial_bench(tmp_path, lengths)
    bench.set_picture(name)
    view = fitted(bench, 900, 640, 1.0)
    picture = picture_of(bench, view)
    assert scene_on_screen("Dunlin", picture, view).items == picture.items
