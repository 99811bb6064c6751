"""The whole window, driven as a person drives it: keys, clicks, files, and a crash."""

from __future__ import annotations

import csv
import io
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from rigfit.desk.actions import ACTIONS
from rigfit.desk.draft import Address
from rigfit.desk.kit import theme
from rigfit.desk.kit.dialogs import ask_through
from rigfit.desk.layout import PARTS
from rigfit.desk.menus import GROUPS, SCALES
from rigfit.desk.settings import Settings, load_settings
from rigfit.desk.window import WITHOUT_A_BOAT, Window
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import demo_job_text, load_catalogue
from tests.demo_reports import ROOT
from tests.desk.harness import (
    click,
    faults,
    needs_real_keys,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
    type_text,
    wait_for,
    xdotool,
)
from tests.desk.swinging_boat import WELL
from tests.desk.test_drawing_pane import ON_ENGINE
from tests.desk.test_file_flow import Scripted

RAKE = Address("transom", "rake")
THICKNESS = Address("transom", "thickness")
MakeWindow = Callable[..., Window]


@pytest.fixture
def questions() -> Iterator[Scripted]:
    scripted = Scripted()
    undo = ask_through(scripted)
    yield scripted
    undo()
    assert not scripted.answers


@pytest.fixture
def make_window(make_root: Any, tmp_path: Path, questions: Scripted) -> MakeWindow:
    """Make windows: ``make_window("demo", size="1280x720", scale=1.0, appearance="light")``."""

    def make(
        first: str = "demo", size: str = "1280x720", scale: float = 1.0,
        appearance: str = "light", **settings: Any,
    ) -> Window:  # fmt: skip
        root = make_root(appearance, scale, size=size)
        kept = Settings(theme=appearance, scale=round(100 * scale), **settings)
        bench = Workbench(load_catalogue(), kept, tmp_path / "unsaved")
        window = Window(root, bench, tmp_path)
        if first:
            window.run(first)
        take_keyboard(root)
        painted(window)
        return window

    return make


@pytest.fixture
def window(make_window: MakeWindow) -> Window:
    return make_window()


def painted(window: Window) -> None:
    """Wait until the drawing shows what is true."""
    settle(window.root)
    if window.bench.has_boat:
        wait_for(window.root, lambda: not window.body.drawing.pending)
    settle(window.root)


def go_to(window: Window, address: Address) -> None:
    window.bench.go_to(address)
    settle(window.root)


def keyboard_in(window: Window) -> str:
    return str(window.root.focus_get())


# ---------------------------------------------------------------- opening


def test_the_first_time_there_is_an_invitation(make_window, tmp_path):
    window = make_window("")
    assert window.welcome.winfo_viewable()
    assert faults(window.root) == []
    screenshot(window.root, "window-first", tmp_path)
    for name in ("save", "undo", "raise", "export-drawing", "text-report", "go-heights"):
        window.run(name)
    assert not window.bench.has_boat


@pytest.mark.parametrize("name", ["new", "demo"])
def test_from_the_invitation_to_a_boat(make_window, name):
    window = make_window("")
    window.run(name)
    painted(window)
    assert window.bench.has_boat
    assert window.body.winfo_viewable()
    assert not window.welcome.winfo_viewable()


def test_every_action_has_a_handler_and_a_place_in_the_menu(window):
    assert set(window._handlers) == set(ACTIONS)
    placed = {name for _, names in GROUPS for name in names if name}
    assert placed | {"menu"} == set(ACTIONS)
    assert set(ACTIONS) > WITHOUT_A_BOAT


def test_the_menu_says_what_can_be_done(window):
    window.menus.refill()
    edit = window.menus._parts["Edit"]
    states = {edit.entrycget(at, "label").strip(): edit.entrycget(at, "state")
              for at in range(edit.index("end") + 1) if edit.type(at) == "command"}  # fmt: skip
    assert states["Undo"] == "disabled"
    assert states["Add an engine"] == "normal"


# ---------------------------------------------------------------- measure, see, decide


def test_what_is_typed_is_drawn_and_judged_at_once(window, tmp_path):
    pane = window.body.drawing
    before = window.bench.report.mounted.plate.value
    go_to(window, RAKE)
    press_key(window.root, "Control-slash")
    type_text(window.root, "18 deg")
    painted(window)
    assert window.bench.draft.text(RAKE) == "18 deg"
    assert window.bench.report.mounted.plate.value != before
    assert "18°" in " ".join(line.text.words for line in pane.canvas.words)
    assert window.root.title().startswith("*Dunlin")
    screenshot(window.root, "window-typed", tmp_path)


@needs_real_keys
def test_real_keys_reach_the_field(window):
    go_to(window, THICKNESS)
    xdotool(window.root, "key", "ctrl+slash")
    xdotool(window.root, "type", "--delay", "20", "48 mm")
    wait_for(window.root, lambda: window.bench.draft.text(THICKNESS) == "48 mm")
    xdotool(window.root, "key", "ctrl+z")
    wait_for(window.root, lambda: window.bench.draft.text(THICKNESS) == "45 mm")


def test_undo_and_redo_by_keys(window):
    go_to(window, RAKE)
    press_key(window.root, "Control-slash")
    type_text(window.root, "15")
    press_key(window.root, "Control-z")
    assert window.bench.is_saved
    press_key(window.root, "Control-Shift-z")
    assert window.bench.draft.text(RAKE) == "15"
    assert window.toolbar.buttons["undo"].is_enabled


def test_rows_by_keys(window):
    row = window.bench.report.mounted.row
    press_key(window.root, "Alt-Up")
    assert window.bench.report.mounted.row == row + 1
    press_key(window.root, "Alt-Down", "Alt-Down")
    assert window.bench.report.mounted.row == row - 1


def test_tilt_and_steering_in_the_swing_by_keys(window):
    bench = window.bench
    for name, text in WELL.items():
        bench.type(Address("well", name), text)
    press_key(window.root, "Alt-Right")
    assert bench.look.steer_deg == 0.0  # the profile is not steered
    for key, name in (("7", "swing"), ("9", "swing-worst"), ("8", "swing-plan")):
        press_key(window.root, f"Control-{key}")
        assert (bench.look.picture, window.toolbar.picture.chosen) == (name, name)
        wait_for(window.root, lambda name=name: window.body.drawing.picture.kind == name)
    press_key(window.root, "Alt-Right", "Alt-Right", "Alt-Left", "Alt-Left", "Alt-Left")
    assert bench.look.steer_deg == -5.0
    press_key(window.root, "Alt-Prior", "Alt-Prior", "Alt-Next")
    assert bench.look.tilt_deg == 5.0
    painted(window)
    words = " ".join(item.text.words for item in window.body.drawing.canvas.words)
    assert "Tilt 5°, propeller 5° to port: " in words
    assert faults(window.root) == []


def test_the_engine_is_dragged_to_another_row_with_the_mouse(window):
    pane = window.body.drawing
    row = window.bench.report.mounted.row
    x, y = (round(pixel) for pixel in pane.view.to_screen(ON_ENGINE))
    canvas = pane.canvas
    canvas.event_generate("<ButtonPress-1>", x=x, y=y)
    for step in range(1, 30):
        canvas.event_generate("<B1-Motion>", x=x, y=y - step, state=0x100)
        window.root.update()
    canvas.event_generate("<ButtonRelease-1>", x=x, y=y - 29, state=0x100)
    painted(window)
    assert window.bench.report.mounted.row > row
    assert window.bench.undo() == "the height of the engine"
    assert window.bench.is_saved


def test_a_height_is_picked_from_the_table_by_keys(window):
    press_key(window.root, "F5")
    settle(window.root)
    press_key(window.root, "Home", "Down", "Down", "Down", "Return")
    painted(window)
    assert window.bench.history.can_undo or window.bench.report.mounted.row


def test_going_to_a_field_unfolds_and_shows_it(make_window):
    window = make_window(size="1280x720", scale=2.0)
    window.body.show_part("findings")
    settle(window.root)
    assert window.body.seen_parts() == ("findings",)
    address = Address("keel_line", "gap_300")
    go_to(window, address)
    assert window.body.seen_parts() == ("measurements",)
    assert window.bench.focus == address


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_every_part_is_a_key_away(make_window, part, scale):
    window = make_window(scale=scale)
    press_key(window.root, ACTIONS[f"go-{part}"].keys[0])
    settle(window.root)
    assert part in window.body.seen_parts()
    focused = keyboard_in(window)
    assert focused.startswith(str(getattr(window.body, part)))


def test_engines_by_keys(window):
    press_key(window.root, "Control-Next")
    assert window.bench.report.case.candidate.id == "C"
    press_key(window.root, "Control-Shift-d")
    assert len(window.bench.draft.engines) == 5
    press_key(window.root, "Control-Shift-BackSpace")
    assert len(window.bench.draft.engines) == 4


def test_tab_reaches_everything(window):
    stops = [str(stop) for stop in tab_stops(window.root)]
    parts = [window.toolbar, *(getattr(window.body, part) for part in PARTS)]
    for part in parts:
        assert any(stop.startswith(str(part)) for stop in stops), part
    assert len(stops) == len(set(stops))


# ---------------------------------------------------------------- pages and exports


def test_the_page_of_keys_names_every_key_and_closes(window, tmp_path):
    window.body.show_part("drawing")
    press_key(window.root, "F1")
    settle(window.root)
    text = window.reading_page.page.text
    assert all(action.label.rstrip(".") in text for action in ACTIONS.values() if action.keys)
    screenshot(window.root, "window-keys", tmp_path)
    press_key(window.root, "Escape")
    settle(window.root)
    assert window.body.winfo_viewable()


def test_everything_as_text_is_a_key_away(window):
    press_key(window.root, "Control-r")
    settle(window.root)
    text = window.reading_page.page.text
    for word in ("Dunlin", "518 +/- 3 mm", "keel line", "= FITS", "not measured"):
        assert word in text
    window.reading_page.copy()
    assert window.root.clipboard_get() == text


def test_heights_on_the_clipboard(window):
    press_key(window.root, "Control-Shift-c")
    assert "plate" in window.root.clipboard_get()
    window.body.heights.copy_csv()
    rows = list(csv.reader(io.StringIO(window.root.clipboard_get())))
    assert len(rows) == 1 + len(window.bench.options)


@pytest.mark.parametrize(
    ("action", "name"),
    [("export-drawing", "*.pdf"), ("export-view", "*.png"), ("export-template", "*.dxf"),
     ("export-report", "*.txt")],
)  # fmt: skip
def test_exports_go_where_they_say(window, tmp_path, action, name):
    window.run(action)
    settle(window.root)
    page = window.export_page
    assert page.winfo_viewable()
    target = tmp_path / "out"
    target.mkdir()
    to_file = action in ("export-drawing", "export-view")
    page.destination.set_text(str(target / f"drawing{name[1:]}" if to_file else target))
    wait_for(window.root, lambda: not window.worker.is_busy)
    screenshot(window.root, f"window-{action}", tmp_path)
    page.export()
    wait_for(window.root, lambda: bool(list(target.glob(name))) and not window.worker.is_busy)
    press_key(window.root, "Escape")
    settle(window.root)
    assert window.body.winfo_viewable()


# ---------------------------------------------------------------- look and settings


def test_choices_are_remembered(make_window, tmp_path):
    window = make_window()
    window.set_choice("theme", "dark")
    window.set_choice("scale", "125")
    window.set_choice("speeds", "km/h")
    window.run("units")
    assert theme.appearance() == "dark"
    assert theme.scale() == pytest.approx(1.25)
    window._keep_settings()
    kept, trouble = load_settings(tmp_path)
    assert trouble == ""
    assert (kept.theme, kept.scale, kept.speeds, kept.lengths) == ("dark", 125, "km/h", "in")


def test_larger_and_smaller_stop_at_the_ends(window):
    for _ in range(12):
        press_key(window.root, "F12")
    assert window.bench.settings.scale == SCALES[-1]
    for _ in range(12):
        press_key(window.root, "F11")
    assert window.bench.settings.scale == SCALES[0]
    settle(window.root)
    assert faults(window.root) == []


def test_the_theme_of_the_system_is_followed(window, monkeypatch):
    monkeypatch.setattr(theme, "system_appearance", lambda: "dark")
    window.set_choice("theme", "system")
    assert theme.appearance() == "dark"
    monkeypatch.setattr(theme, "system_appearance", lambda: "light")
    window._ask_system()
    wait_for(window.root, lambda: theme.appearance() == "light")


@pytest.mark.parametrize("appearance", ["light", "dark"])
@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("size", ["1280x720", "1366x768", "1920x1080"])
def test_nothing_is_cut_off(make_window, tmp_path, size, scale, lengths, appearance):
    window = make_window("demo", size, scale, appearance)
    if lengths == "in":
        window.bench.set_units(lengths="in")
        window.bench.type(THICKNESS, "no such thing as a thickness here, is there")
        window.bench.show_engine(2)
    name = f"window-{size}-{round(100 * scale)}-{lengths}-{appearance}"
    for part in PARTS:
        window.body.show_part(part)
        painted(window)
        assert faults(window.root) == [], part
        if part == "measurements" or len(window.body.layout.left) > 1:
            screenshot(window.root, f"{name}-{part}", tmp_path)


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("size", ["1280x720", "1920x1080"])
def test_no_page_is_cut_off(make_window, size, scale):
    window = make_window("demo", size, scale)
    for action in ("export-drawing", "export-template", "export-report", "keys", "text-report"):
        window.run(action)
        settle(window.root)
        assert faults(window.root) == [], action
        window.close_page()


def test_a_window_made_smaller_folds_and_unfolds(make_window):
    window = make_window(size="1400x900")
    assert set(window.body.seen_parts()) == set(PARTS)
    for size, seen in (("900x700", 2), ("640x400", 1), ("1400x900", 4)):
        window.root.wm_geometry(f"{size}+0+0")
        painted(window)
        assert len(window.body.seen_parts()) == seen
        assert faults(window.root) == []


# ---------------------------------------------------------------- files and crashes


def test_save_open_and_the_unsaved_mark(window, questions, tmp_path):
    path = tmp_path / "dunlin.toml"
    questions.paths = [path]
    press_key(window.root, "Control-Shift-s")
    assert path.exists()
    window.bench.type(RAKE, "15 deg")
    assert window.root.title().startswith("*")
    press_key(window.root, "Control-s")
    assert not window.root.title().startswith("*")
    assert 'rake = "15 deg"' in path.read_text()


def test_closing_with_unsaved_changes_asks(window, questions, tmp_path, monkeypatch):
    window.bench.type(RAKE, "15 deg")
    questions.answers = ["stay"]
    window.run("quit")
    assert window.root.winfo_exists()
    assert window.bench.draft.text(RAKE) == "15 deg"
    questions.answers = ["save"]
    questions.paths = [tmp_path / "kept.toml"]
    monkeypatch.setattr(window.root, "close", lambda: None)
    window.run("quit")
    assert 'rake = "15 deg"' in (tmp_path / "kept.toml").read_text()


def test_an_error_nobody_foresaw_keeps_the_work(window, tmp_path, capsys):
    window.bench.type(RAKE, "15 deg")
    try:
        raise ZeroDivisionError("planted")
    except ZeroDivisionError:
        window.failed(*sys.exc_info())
    assert "kept" in window.status.text
    assert "planted" in capsys.readouterr().err
    assert window.bench.document.recoverable() == ()  # its own work is not offered to itself
    assert [item for item in (tmp_path / "unsaved").iterdir() if item.is_file()]


@needs_real_keys
def test_killed_and_taken_up_again(display, make_window, questions, tmp_path):
    job, folder = tmp_path / "dunlin.toml", tmp_path / "settings"
    job.write_bytes(demo_job_text().encode())
    folder.mkdir()
    environment = os.environ | {"PYTHONPATH": str(ROOT), "RIGFIT_SETTINGS_DIR": str(folder)}
    process = subprocess.Popen([sys.executable, "-m", "rigfit", "app", str(job)], env=environment)
    try:
        wait_until(lambda: typed_into(process, "thickness 49 mm"))
        wait_until(lambda: any("49" in item.read_text() for item in unsaved(tmp_path)))
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait(timeout=10)
    assert "49" not in job.read_text()
    window = make_window("")
    assert window.files.open(job)
    assert "Unsaved work" in window.banner.text
    window.banner.answer("recover")
    assert "49" in " ".join(window.bench.draft.text(at) for at in window.bench.draft.addresses())
    assert not window.bench.is_saved
    questions.answers = []
    window.run("save")
    assert "49" in job.read_text()
    assert unsaved(tmp_path) == []


def unsaved(folder: Path) -> list[Path]:
    return [item for item in folder.iterdir() if "unsaved" in item.name and item.is_file()]


def typed_into(process: subprocess.Popen[bytes], text: str) -> bool:
    """Type into the other program's first field, once its window is there."""
    assert process.poll() is None, "the program ended"
    found = subprocess.run(
        ["xdotool", "search", "--onlyvisible", "--name", "rigfit"], capture_output=True, check=False
    )
    windows = found.stdout.split()
    if not windows:
        return False
    time.sleep(0.5)  # until its first field has the keyboard
    subprocess.run(["xdotool", "windowfocus", windows[-1].decode()], check=True)
    time.sleep(0.3)
    subprocess.run(["xdotool", "type", "--delay", "30", text], check=True)
    return True


def wait_until(answer: Callable[[], bool], seconds: float = 20.0) -> None:
    end = time.monotonic() + seconds
    while not answer():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.1)


def test_clicks_on_the_toolbar(window):
    click(window.toolbar.buttons["undo"])
    assert window.bench.is_saved
    window.bench.type(RAKE, "15")
    settle(window.root)
    click(window.toolbar.buttons["undo"])
    assert window.bench.is_saved
