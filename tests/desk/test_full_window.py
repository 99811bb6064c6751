"""The window with everything filled in: each picture whole, nothing cut off, each sheet written."""

from __future__ import annotations

import pytest

from rigfit.desk import export_plan, pictures
from rigfit.desk.actions import ACTIONS, keys_page
from rigfit.desk.afloat_pictures import AFLOATS
from rigfit.desk.export_plan import Wish
from rigfit.desk.settings import Settings
from rigfit.desk.swing_scrub import SWINGS
from rigfit.desk.window import Window
from rigfit.drawing.strokes import full_extents
from tests.desk.full_boat import full_bench
from tests.desk.harness import (
    faults,
    press_key,
    screenshot,
    settle,
    take_keyboard,
    wait_for,
)

PICTURES = tuple(sorted(SWINGS)) + tuple(sorted(AFLOATS))
TABLES = ("plate", "rules", "old_engine", "well", "obstacle", "steering", "trailer", "mass", "hull",
          "station", "offset", "afloat", "mark")  # fmt: skip
LOOKS = [
    ("1280x720", 1.0, "light", "mm"),
    ("1280x720", 1.5, "dark", "in"),
    ("1280x720", 2.0, "light", "in"),
    ("1366x768", 1.0, "dark", "in"),
    ("1366x768", 1.5, "light", "mm"),
    ("1366x768", 2.0, "dark", "mm"),
    ("1920x1080", 1.0, "light", "in"),
    ("1920x1080", 1.5, "dark", "mm"),
    ("1920x1080", 2.0, "light", "mm"),
]


@pytest.fixture
def make_window(make_root, tmp_path):
    return maker_of_windows(make_root, tmp_path, full_bench)


def maker_of_windows(make_root, folder, bench_of):
    """Return a function that opens whole windows with a boat, the keyboard in the drawing.

    :param bench_of: makes the boat, from a folder and the unit of lengths.
    """

    def make(size="1280x720", scale=1.0, appearance="light", lengths="mm"):
        root = make_root(appearance, scale, size=size)
        bench = bench_of(folder, lengths)
        bench.settings = Settings(theme=appearance, scale=round(100 * scale))
        made = Window(root, bench, folder)
        take_keyboard(root)
        made.run("go-drawing")
        painted(made)
        return made

    return make


def painted(window):
    drawing = window.body.drawing
    settle(window.root)
    wait_for(window.root, lambda: drawing.is_painted and not drawing.pending)
    settle(window.root)


def assert_no_note_lies_on_the_drawing(picture, view, name):
    notes = [item for item in picture.items if item.group == "sheet"]
    if notes and name in AFLOATS:
        drawn = [item for item in picture.items if item.group != "sheet"]
        highest = full_extents(notes, view.scene_scale)[3]
        assert full_extents(drawn, view.scene_scale)[1] >= highest


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
        view = drawing.view
        left, bottom, right, top = full_extents(drawing.picture.items, view.scene_scale)
        low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
        # In a small pane some words run out rather than leave the engine no room.
        if scale == 1.0 or name not in ("swing", "swing-plan"):
            assert min(low[0], high[1]) >= 0.0, name
            assert high[0] <= view.width and low[1] <= view.height, name
        assert_no_note_lies_on_the_drawing(drawing.picture, view, name)
        screenshot(window.root, f"{name}-{size}-{scale}-{appearance}-{lengths}", tmp_path)


@pytest.mark.parametrize(
    ("size", "scale", "appearance", "lengths"), [LOOKS[0], LOOKS[4], LOOKS[7], LOOKS[3]]
)
def test_every_table_is_whole(make_window, tmp_path, size, scale, appearance, lengths):
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


@pytest.mark.parametrize(
    ("what", "swing", "name"),
    [
        ("swing", "swing", "swing"),
        ("swing", "swing-plan", "swing-plan"),
        ("swing", "swing-worst", "swing-worst"),
        ("afloat", "swing", "afloat"),
        ("curve", "swing", "scupper-curve"),
    ],
)
@pytest.mark.parametrize("kind", ["pdf", "svg", "png", "dxf"])
def test_every_sheet_is_written_from_the_form(tmp_path, what, swing, name, kind):
    report = full_bench(tmp_path).report
    wish = Wish(what=what, place=tmp_path / f"sheet.{kind}", kind=kind, swing=swing)
    assert wish.sheet == name
    assert export_plan.suggested_name(what, kind, "boat", sheet=wish.sheet) == f"boat-{name}.{kind}"
    written = export_plan.export_task(wish, report, None)(lambda *_: None, lambda: False)
    begins = {"pdf": b"%PDF", "svg": b"<?xml", "png": b"\x89PNG", "dxf": b"  0"}[kind]
    assert [item.path for item in written] == [wish.place]
    assert wish.place.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("action", "afloat"),
    [
        ("export-swing", ""),
        ("export-afloat", "afloat"),
        ("export-afloat", "float-test"),
        ("export-curve", ""),
    ],
)
def test_the_page_shows_and_writes_it(make_window, tmp_path, action, afloat):
    window = make_window()
    window.run(action)
    settle(window.root)
    page = window.export_page
    if afloat:
        page.rows.afloat.pick.choose(afloat)
        settle(window.root)
        assert page.wish().place.name.endswith(f"-{afloat}.pdf")
        assert (page.wish().sheet, page.wish().paper) == (afloat, "A4")
    wait_for(window.root, lambda: not window.worker.is_busy)
    wait_for(window.root, lambda: page.preview.picture is not None)
    settle(window.root)
    assert faults(window.root) == []
    screenshot(window.root, f"{action}-{afloat}", tmp_path)
    target = tmp_path / "out.pdf"
    page.destination.set_text(str(target))
    wait_for(window.root, lambda: not window.worker.is_busy)
    page.export()
    wait_for(window.root, lambda: target.exists() and not window.worker.is_busy)
    assert target.read_bytes().startswith(b"%PDF")


def test_everything_new_is_reached_by_a_key_and_stands_on_the_page_of_keys(make_window):
    window = make_window()
    labels = {label for _, label, _ in keys_page()}
    for name in PICTURES:
        action = ACTIONS[f"view-{name}"]
        assert action.keys and action.label in labels
        press_key(window.root, action.keys[0])
        assert window.bench.look.picture == name
    for name in ("play", "steer-port", "steer-starboard", "tilt-up", "tilt-down"):
        assert ACTIONS[name].label in labels


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("name", PICTURES)
def test_what_is_on_the_screen_is_the_picture_that_is_saved(tmp_path, name, lengths):
    bench = full_bench(tmp_path, lengths)
    bench.set_picture(name)
    view = pictures.fitted(bench, 900, 640, 1.0)
    picture = pictures.picture_of(bench, view)
    scene = pictures.scene_on_screen("Dunlin", picture, view)
    assert scene.items == picture.items
    assert len({item.layer for item in scene.items}) > 1
