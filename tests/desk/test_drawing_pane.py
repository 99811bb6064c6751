"""The drawing pane: real events on a canvas, pixels of its buffer, and what it leaves alone."""

import subprocess
import sys
from itertools import combinations

import numpy as np
import pytest

from rigfit import tasks
from rigfit.desk import pictures
from rigfit.desk.afloat_pictures import AFLOATS
from rigfit.desk.draft import Address
from rigfit.desk.drawing_pane import DrawingPane
from rigfit.desk.drawing_surface import _rounded, changed_box
from rigfit.desk.exports import export_view
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area
from rigfit.desk.painter import paint
from rigfit.desk.plane_pictures import PLANES, TRIALS
from rigfit.desk.settings import Settings
from rigfit.desk.view import PIXELS_PER_PAPER_MM
from rigfit.desk.workbench import Change, Workbench, height_key
from rigfit.drawing.palette import DARK, LIGHT
from rigfit.drawing.scene import Ink, Path, Text
from rigfit.errors import UsageError
from rigfit.records.profiles import load_catalogue
from tests.desk import harness
from tests.desk.drilled_boat import drilled_bench

RAKE, FACE = Address("transom", "rake"), Address("transom", "height_along_face")
ON_ENGINE = (330.0, 250.0)  # model mm, on the demo's leg
ON_GROUND = (-600.0, 700.0)


@pytest.fixture
def bench(tmp_path):
    made = Workbench(load_catalogue(), Settings(), tmp_path)
    made.begin_demo()
    yield made
    made.close(discard=True)


def painted(root, bench):
    pane = DrawingPane(root, bench)
    pane.pack(fill="both", expand=True)
    quiet(pane)
    return pane


@pytest.fixture
def pane(make_root, bench):
    root = make_root(size="900x640")
    harness.take_keyboard(root)
    return painted(root, bench)


def quiet(pane):
    harness.wait_for(pane, lambda: pane.is_painted and not pane.pending)


def at(pane, model):
    x, y = pane.view.to_screen(model)
    return {"x": round(x), "y": round(y)}


def press(pane, where, button=1):
    pane.canvas.event_generate(f"<ButtonPress-{button}>", **where)


def move(pane, where, button=1, right=0, down=0):
    where = {"x": where["x"] + right, "y": where["y"] + down}
    pane.canvas.event_generate(f"<B{button}-Motion>", **where)
    pane.update()
    return where


def release(pane, where, button=1):
    pane.canvas.event_generate(f"<ButtonRelease-{button}>", **where)
    pane.update()


def hover(pane, where):
    pane.canvas.event_generate("<Motion>", **where)
    pane.update()


def full(pane):
    """Return all that is on show, painted anew from nothing."""
    palette = DARK if theme.appearance() == "dark" else LIGHT
    return paint(pane.picture.items, pane.view, palette)


def assert_is_whole(pane):
    assert (pane.canvas.pixels == full(pane)).all()


def rows_px(pane, option):
    """Return how many pixels up the engine goes to a height."""
    rise = option.lift.value - pane.bench.report.mounted.lift.value
    rake = np.radians(pane.bench.report.case.job.transom.rake.value)
    return rise * np.cos(rake) / pane.view.mm_per_px


def other_heights(bench):
    return [item for item in bench.options if item.is_possible and item != bench.report.mounted]


def said(pane):
    return [line.text.words for line in pane.canvas.words]


def rake_said(pane):
    return next(words.split()[1] for words in said(pane) if words.startswith("rake"))


def on_canvas(pane):
    """Return the words the canvas really shows."""
    canvas = pane.canvas
    return sorted(
        canvas.itemcget(item, "text")
        for item in canvas.find_all()
        if canvas.type(item) == "text" and canvas.itemcget(item, "state") == "normal"
    )


# -- the first picture ----------------------------------------------------------------------------


def test_matplotlib_is_loaded_only_after_the_window_is_there():
    script = """
import sys, tempfile
from pathlib import Path
from tests.desk import harness
from tests.desk.drilled_boat import drilled_bench
server = harness.start_display()
from rigfit.desk.kit.root import Root
from rigfit.desk.drawing_pane import DrawingPane
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import load_catalogue
root = Root()
bench = Workbench(load_catalogue(), Settings(), Path(tempfile.mkdtemp()))
bench.begin_demo()
pane = DrawingPane(root, bench)
pane.pack(fill="both", expand=True)
root.update_idletasks()
before = any(name.startswith("matplotlib") for name in sys.modules), pane.is_painted
harness.wait_for(root, lambda: pane.is_painted)
after = any(name.startswith("matplotlib") for name in sys.modules)
bench.close(discard=True)
root.close()
server.terminate()
print(before, after)
"""
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.strip() == "(False, False) True"


@pytest.mark.parametrize(
    ("appearance", "scale", "size"), [("light", 1.0, "900x640"), ("dark", 2.0, "1800x1200")]
)
def test_the_pane_shows_the_picture_of_the_workbench(make_root, bench, appearance, scale, size):
    pane = painted(make_root(appearance, scale, size), bench)
    assert pane.picture == pictures.picture_of(bench, pane.view)
    assert pane.view.ui_scale == scale
    assert pane.canvas.pixels.shape[:2] == (pane.winfo_height(), pane.winfo_width())
    assert_is_whole(pane)
    assert on_canvas(pane) == sorted(said(pane))


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_words_on_the_canvas_do_not_touch_and_are_whole(make_root, bench, lengths, scale):
    bench.set_units(lengths=lengths)
    pane = painted(make_root("light", scale, f"{round(900 * scale)}x{round(640 * scale)}"), bench)
    canvas = pane.canvas
    boxes = {
        canvas.itemcget(item, "text"): canvas.bbox(item)
        for item in canvas.find_all()
        if canvas.type(item) == "text"
        and canvas.itemcget(item, "state") == "normal"
        and float(canvas.itemcget(item, "angle")) in (0.0, 90.0)
    }
    assert len(boxes) >= 6
    for left, top, right, bottom in boxes.values():
        assert left >= 0 and top >= 0
        assert right <= canvas.winfo_width() and bottom <= canvas.winfo_height()
    for (_, one), (_, other) in combinations(boxes.items(), 2):
        # Boxes of lines reach above capitals, so a few shared pixels mean nothing.
        across = min(one[2], other[2]) - max(one[0], other[0])
        up = min(one[3], other[3]) - max(one[1], other[1])
        assert across <= 0 or up <= theme.px(5)


def test_words_stand_where_the_scene_puts_them(pane):
    line = next(item for item in pane.canvas.words if item.text.words.startswith("target"))
    canvas = pane.canvas
    item = next(i for i in canvas.find_all() if canvas.type(i) == "text"
                and canvas.itemcget(i, "text") == line.text.words)  # fmt: skip
    left, top, right, bottom = canvas.bbox(item)
    assert left == pytest.approx(line.at[0], abs=3)
    # Level with the middle of the capitals; descenders make the box lower than that.
    assert top < line.at[1] < bottom and (top + bottom) / 2.0 == pytest.approx(line.at[1], abs=4)
    wanted = pictures.extents(line.text, pane.view.scene_scale)
    assert right - left == pytest.approx((wanted[2] - wanted[0]) / pane.view.mm_per_px, rel=0.08)


def test_nothing_is_painted_while_hidden(pane, bench):
    pane.pack_forget()
    pane.update()
    before = pane.picture
    bench.type(RAKE, "20")
    assert pane.picture is before and not pane.is_painted
    pane.pack(fill="both", expand=True)
    quiet(pane)
    assert pane.picture != before
    assert rake_said(pane) == "20°"
    assert_is_whole(pane)


def test_a_pane_inside_something_hidden_is_painted_once_that_appears(make_root, bench):
    root = make_root(size="900x640")
    page = Area(root)
    pane = DrawingPane(page, bench)
    pane.pack(fill="both", expand=True)
    page.pack(fill="both", expand=True)
    quiet(pane)
    page.pack_forget()
    root.update()
    bench.type(RAKE, "20")
    assert not pane.is_painted
    page.pack(fill="both", expand=True)
    quiet(pane)
    assert rake_said(pane) == "20°"


def test_idle_means_that_nothing_is_scheduled(pane):
    jobs = set(pane.tk.splitlist(pane.tk.call("after", "info")))
    assert not pane.pending
    harness.settle(pane)
    assert set(pane.tk.splitlist(pane.tk.call("after", "info"))) <= jobs


# -- edits ----------------------------------------------------------------------------------------


def test_an_edit_is_painted_at_once(pane, bench):
    bench.type(RAKE, "14.5")
    assert rake_said(pane) == "14.5°"
    assert_is_whole(pane)


def test_an_edit_that_shows_nowhere_paints_nothing(pane, bench):
    shown, paints = pane.canvas.pixels, pane.canvas.whole_paints
    bench.type(Address("boat", "name"), "Dunlin II")
    assert pane.canvas.pixels is shown
    assert pane.canvas.whole_paints == paints


@pytest.mark.parametrize(
    ("address", "text"),
    [
        (Address("engine", "leg_measured", 1), "530"),
        (Address("engine", "leg_measured", 1), ""),
        (RAKE, "0"),
        (RAKE, ""),
        (Address("transom", "thickness"), ""),
        (Address("transom", "height_along_face"), "700"),
        (Address("boat", "hull_kind"), "catamaran"),
    ],
)
def test_a_part_painted_anew_is_what_a_full_repaint_shows(pane, bench, address, text):
    assert bench.engine_index == 1
    before = bench.draft.text(address)
    for words in (text, before, text):
        bench.type(address, words)
        assert_is_whole(pane)
        assert on_canvas(pane) == sorted(said(pane))


def test_thousands_of_edits_leave_nothing_behind(make_root, bench):
    pane = painted(make_root(size="300x240"), bench)

    def count():
        pane.update_idletasks()
        return len(pane.canvas.find_all()), len(pane.tk.splitlist(pane.tk.call("image", "names")))

    def edits(number):
        for index in range(number):
            bench.type(RAKE, f"{10 + index % 7}.{index % 10}")
            bench.type(Address("engine", "leg_measured", 1), f"{500 + index % 60}")
            if index % 5 == 0:
                bench.set_focus((RAKE, FACE, None)[index % 3])

    edits(40)
    first = count()
    edits(1000)
    assert count() == first


def test_growing_out_of_the_pane_fits_it_again_a_little_later(pane, bench):
    view = pane.view
    bench.type(FACE, "900")
    bench.type(Address("transom", "height_square"), "877")
    assert pane.view == view and pane.pending
    quiet(pane)
    assert pane.view.mm_per_px > view.mm_per_px
    assert pictures.wants_fit(bench, pane.view, theme.scale()) is None


def test_small_edits_leave_the_view_alone(pane, bench):
    view = pane.view
    bench.type(RAKE, "12")
    quiet(pane)
    assert pane.view == view


def test_a_view_chosen_by_hand_is_kept_through_edits_but_not_for_another_boat(pane, bench):
    pane.zoom_in()
    view = pane.view
    bench.type(FACE, "900")
    quiet(pane)
    assert pane.view == view
    bench.begin_demo()
    quiet(pane)
    assert pane.view == pictures.fitted(bench, 900, 640, 1.0)


def test_resizing_fits_again_after_a_while(pane, make_root):
    before = pane.view
    pane.winfo_toplevel().wm_geometry("700x500+0+0")
    harness.settle(pane)
    quiet(pane)
    assert (pane.view.width, pane.view.height) == (700, 500)
    assert pane.view.mm_per_px > before.mm_per_px
    assert_is_whole(pane)


def test_resizing_after_a_zoom_keeps_scale_and_middle(pane):
    pane.zoom_in()
    before = pane.view
    pane.winfo_toplevel().wm_geometry("700x500+0+0")
    harness.settle(pane)
    quiet(pane)
    assert pane.view == before.resized(700, 500)


# -- other pictures -------------------------------------------------------------------------------


def test_the_template_and_back(pane, bench):
    bench.set_picture("template")
    assert pane.picture.kind == "template"
    assert "TRANSOM TOP" in said(pane)
    assert_is_whole(pane)
    bench.set_picture("profile")
    assert pane.view == pictures.fitted(bench, 900, 640, 1.0)
    assert_is_whole(pane)


def test_no_engine_is_said_in_words_and_gone_with_the_first_engine(pane, bench):
    bench.begin()
    quiet(pane)
    assert " ".join(said(pane)) == bench.trouble
    assert (pane.canvas.pixels[:, :, :3] == 255).all()
    bench.type(Address("engine", "engine_class", 0), "medium-40-60")
    assert pane.picture.kind == "profile"
    assert pane.view == pictures.fitted(bench, 900, 640, 1.0)
    assert any("usual size" in words for words in said(pane))


def test_ghosts_come_and_go(pane, bench):
    plain = pane.canvas.pixels
    for option in other_heights(bench):
        bench.toggle_ghost(height_key(option))
        assert_is_whole(pane)
    assert any(words.startswith("row 3") for words in said(pane))
    for option in other_heights(bench):
        bench.toggle_ghost(height_key(option))
    assert (pane.canvas.pixels == plain).all()


@pytest.mark.parametrize("tilt", [3.0, 20.0, 55.0])
def test_tilting_leaves_the_hull_and_shows_the_angle(pane, bench, tilt):
    bench.set_tilt(tilt)
    assert_is_whole(pane)
    assert f"tilt {tilt:g}°" in said(pane)
    assert not [words for words in said(pane) if words.startswith(("leg", "plate"))]
    bench.set_tilt(0.0)
    quiet(pane)
    assert pane.view == pictures.fitted(bench, 900, 640, 1.0)


def test_a_tilted_engine_is_whole_in_the_end(pane, bench):
    bench.set_tilt(40.0)
    quiet(pane)
    assert pictures.wants_fit(bench, pane.view, theme.scale()) is None


# -- focus and dimensions -------------------------------------------------------------------------


def test_the_field_with_the_keyboard_lights_its_dimension(pane, bench):
    plain = pane.canvas.pixels
    accent = tuple(int(LIGHT[Ink.ACCENT][n : n + 2], 16) for n in (1, 3, 5))
    assert not (plain[:, :, :3] == accent).all(axis=2).any()
    bench.set_focus(FACE)
    assert (pane.canvas.pixels[:, :, :3] == accent).all(axis=2).any()
    assert [line.text.words for line in pane.canvas.words if line.text.bold] == ["518 ± 3"]
    assert_is_whole(pane)
    bench.set_focus(Address("boat", "name"))
    assert (pane.canvas.pixels == plain).all()


@pytest.mark.parametrize(
    ("ref", "address"),
    [
        ("rake", RAKE),
        ("height-along-face", FACE),
        ("leg", Address("engine", "leg_measured", 1)),
        ("thickness", Address("transom", "thickness")),
    ],
)
def test_a_click_on_a_dimension_goes_to_its_field(pane, bench, ref, address):
    told = []
    bench.listen(told.append)
    words = next(i for i in pane.picture.items if isinstance(i, Text) and i.ref == ref)
    where = at(pane, words.at)
    hover(pane, where)
    assert str(pane.canvas.cget("cursor")) == "hand2"
    press(pane, where)
    release(pane, where)
    assert bench.wanted == address
    assert told == [Change.GOTO]


def test_a_click_on_nothing_goes_nowhere(pane, bench):
    for model in (ON_GROUND, ON_ENGINE):
        press(pane, at(pane, model))
        release(pane, at(pane, model))
    assert bench.wanted is None
    assert not bench.history.can_undo


def test_where_the_pointer_is_is_told_and_taken_back(pane):
    heard = []
    pane.on_hover = heard.append
    x, y = pane.view.to_screen((312.0, 145.0))
    hover(pane, {"x": round(x), "y": round(y)})
    assert heard[-1].endswith("the keel line") and " mm aft of the heel, " in heard[-1]
    pane.canvas.event_generate("<Leave>", x=-5, y=5)
    assert heard[-1] == ""


# -- dragging the engine --------------------------------------------------------------------------


@pytest.mark.parametrize("which", [0, -1])
def test_dragging_the_engine_snaps_and_chooses_once(pane, bench, which):
    target = other_heights(bench)[which]
    up = round(rows_px(pane, target))
    changes = []
    start = at(pane, ON_ENGINE)
    press(pane, start)
    where = start
    for share in (0.3, 0.7, 1.0):
        where = move(pane, start, down=-round(share * up))
        assert_is_whole(pane)
    assert pane.canvas.callout.content.verdict is target.verdict
    assert pane.canvas.callout.content.lines[0] == f"row {target.row}"
    assert bench.report.mounted != target
    bench.listen(changes.append)
    release(pane, where)
    assert changes == [Change.TEXTS]
    assert bench.report.mounted.row == target.row
    assert pane.canvas.callout.content is None
    assert_is_whole(pane)
    bench.undo()
    assert not bench.history.can_undo


def test_passing_a_height_again_paints_nothing_anew(pane, bench):
    start = at(pane, ON_ENGINE)
    press(pane, start)
    ups = [round(rows_px(pane, item)) for item in other_heights(bench)[:2]]
    seen = []
    for up in (*ups, *ups):
        move(pane, start, down=-up if abs(up) > 5 else -6)
        seen.append(pane.canvas._patched[1])
    assert seen[2] is seen[0] and seen[3] is seen[1]
    release(pane, start)


def test_dragging_back_to_the_same_row_changes_nothing(pane, bench):
    start, pixels = at(pane, ON_ENGINE), pane.canvas.pixels
    press(pane, start)
    move(pane, start, down=-60)
    move(pane, start)
    release(pane, start)
    assert not bench.history.can_undo
    assert (pane.canvas.pixels == pixels).all()


def test_escape_takes_a_drag_back(pane, bench):
    start, pixels = at(pane, ON_ENGINE), pane.canvas.pixels
    press(pane, start)
    move(pane, start, down=-60)
    assert (pane.canvas.pixels != pixels).any()
    harness.press_key(pane.canvas, "Escape")
    assert (pane.canvas.pixels == pixels).all()
    assert pane.canvas.callout.content is None
    move(pane, start, down=-60)
    release(pane, start)
    assert not bench.history.can_undo


def test_an_engine_with_one_height_stays_where_it_is(pane, bench):
    bench.type(Address("engine", "engine_class", 1), "portable-8-20")
    quiet(pane)
    assert sum(item.is_possible for item in bench.options) == 1
    start, pixels, view = at(pane, (300.0, 250.0)), pane.canvas.pixels, pane.view
    hover(pane, start)
    press(pane, start)
    move(pane, start, down=-60)
    assert (pane.canvas.pixels == pixels).all() and pane.view == view
    release(pane, start)
    assert pane.canvas.callout.content is None


def test_the_leg_dimension_moves_the_engine_too(pane, bench):
    words = next(i for i in pane.picture.moving if isinstance(i, Text) and i.ref == "leg")
    start, target = at(pane, words.at), other_heights(bench)[-1]
    press(pane, start)
    where = move(pane, start, down=-round(rows_px(pane, target)))
    release(pane, where)
    assert bench.report.mounted.row == target.row
    assert bench.wanted is None


def test_the_callout_stays_in_the_pane(pane, bench):
    start = at(pane, ON_ENGINE)
    press(pane, start)
    for x, y in ((895, 5), (895, 635), (3, 635)):
        pane.canvas.event_generate("<B1-Motion>", x=x, y=y)
        left, top, right, bottom = pane.canvas.bbox("callout")
        assert left >= 0 and top >= 0 and right <= 900 and bottom <= 640
    release(pane, start)


# -- tilting --------------------------------------------------------------------------------------


def handle(pane):
    item = pane._handle
    return pane.canvas.itemcget(item, "state"), pane.canvas.coords(item)


def test_the_handle_shows_with_the_pointer_or_the_keyboard(pane):
    assert handle(pane)[0] == "hidden"
    hover(pane, at(pane, ON_GROUND))
    assert handle(pane)[0] == "normal"
    pane.canvas.event_generate("<Leave>", x=-5, y=5)
    assert handle(pane)[0] == "hidden"
    pane.focus_set()
    pane.update()
    assert handle(pane)[0] == "normal"


def test_the_handle_tilts_live_and_sets_the_tilt_once(pane, bench):
    hover(pane, at(pane, ON_GROUND))
    x, y = map(round, handle(pane)[1])
    start, told, view = {"x": x, "y": y}, [], pane.view
    bench.listen(told.append)
    paints = pane.canvas.whole_paints
    press(pane, start)
    for step in range(1, 9):
        where = move(pane, start, right=-10 * step, down=-2 * step)
        assert_is_whole(pane)
    tilt = float(pane.canvas.callout.content.lines[0].split()[1].rstrip("°"))
    assert 5.0 < tilt < 40.0
    assert pane.canvas.whole_paints == paints  # every frame was a patch
    axis = pictures.tilt_axis(bench.report)
    ends = [view.to_model((place["x"], place["y"])) for place in (start, where)]
    assert pictures.turned_deg(axis, *ends) == pytest.approx(tilt, abs=0.5)
    assert told == [] and pane.view == view
    release(pane, where)
    assert told == [Change.LOOK] and bench.look.tilt_deg == tilt
    assert not bench.history.can_undo


def test_tilting_stops_at_both_ends_and_escape_takes_it_back(pane, bench):
    hover(pane, at(pane, ON_GROUND))
    x, y = map(round, handle(pane)[1])
    start = {"x": x, "y": y}
    press(pane, start)
    move(pane, start, right=200, down=100)
    assert pane.canvas.callout.content.lines == ("tilt 0°",)
    move(pane, start, right=-450, down=400)
    most = int(bench.report.case.engine.tilt_deg)
    assert pane.canvas.callout.content.lines == (f"tilt {most}°",)
    harness.press_key(pane.canvas, "Escape")
    assert bench.look.tilt_deg == 0.0 and "leg 514 ± 3.2" in said(pane)


# -- zooming and panning --------------------------------------------------------------------------


@pytest.mark.parametrize("button", [4, 5])
@pytest.mark.parametrize("pixel", [(100, 80), (450, 320), (899, 1)])
def test_the_wheel_zooms_about_the_pointer(pane, button, pixel):
    held, before = pane.view.to_model(pixel), pane.view.mm_per_px
    pane.canvas.event_generate(f"<Button-{button}>", x=pixel[0], y=pixel[1])
    pane.update()
    assert pane.view.to_model(pixel) == pytest.approx(held, abs=1e-6)
    assert (pane.view.mm_per_px < before) == (button == 4)
    assert_is_whole(pane)


def test_a_wheel_with_deltas_zooms_as_well(pane):
    before = pane.view.mm_per_px
    pane.canvas.event_generate("<MouseWheel>", x=10, y=10, delta=240)
    assert pane.view.mm_per_px < before


@pytest.mark.parametrize(
    ("button", "model", "space"),
    [(1, ON_GROUND, False), (2, ON_ENGINE, False), (1, ON_ENGINE, True)],
)
def test_panning_by_dragging(pane, bench, button, model, space):
    pane.focus_set()
    pane.update()
    if space:
        pane.canvas.event_generate("<KeyPress-space>")
    start, point = at(pane, model), pane.view.to_model((200.0, 200.0))
    press(pane, start, button)
    where = move(pane, start, button, right=70, down=-40)
    release(pane, where, button)
    assert pane.view.to_screen(point) == pytest.approx((270.0, 160.0), abs=1e-6)
    assert not bench.history.can_undo
    assert_is_whole(pane)


def test_keys_zoom_pan_and_fit(pane):
    fit = pane.view
    pane.focus_set()
    pane.update()
    harness.press_key(pane.canvas, "plus")
    assert pane.view.mm_per_px < fit.mm_per_px
    harness.press_key(pane.canvas, "minus", "minus")
    assert pane.view.mm_per_px > fit.mm_per_px
    before = pane.view
    harness.press_key(pane.canvas, "Left")
    little = before.to_screen((0.0, 0.0))[0] - pane.view.to_screen((0.0, 0.0))[0]
    harness.press_key(pane.canvas, "Right", "Shift-Right")
    much = before.to_screen((0.0, 0.0))[0] - pane.view.to_screen((0.0, 0.0))[0]
    assert little < 0.0 < much and much > 2.0 * abs(little)
    harness.press_key(pane.canvas, "0")
    assert pane.view == fit


@pytest.mark.parametrize("key", ["Alt-Up", "Alt-Down", "Control-Up"])
def test_keys_of_the_window_are_left_to_it(pane, key):
    heard = []
    pane.winfo_toplevel().bind(f"<{key.replace('-', '-Key-')}>", heard.append)
    pane.focus_set()
    pane.update()
    view = pane.view
    harness.press_key(pane.canvas, key)
    assert len(heard) == 1 and pane.view == view


def test_a_double_click_on_the_ground_fits(pane):
    fit = pane.view
    pane.zoom_in()
    harness.click(pane, 20, 20, double=True)
    assert pane.view == fit


def test_nothing_can_be_moved_where_there_is_only_a_sentence(pane, bench):
    bench.begin()
    quiet(pane)
    view = pane.view
    pane.zoom_in()
    start = {"x": 300, "y": 300}
    press(pane, start)
    release(pane, move(pane, start, right=50))
    assert pane.view == view


def test_tab_reaches_the_drawing_and_shows_its_ring(pane):
    assert harness.tab_stops(pane) == [pane.canvas]
    assert int(pane.canvas.cget("highlightthickness")) == theme.px(theme.RING)
    assert str(pane.canvas.cget("highlightcolor")) == theme.colour("focus")


# -- the look -------------------------------------------------------------------------------------


def test_light_and_dark_and_back(pane):
    light = pane.canvas.pixels
    theme.apply("dark")
    quiet(pane)
    assert tuple(pane.canvas.pixels[5, 5, :3]) == (0x1E, 0x22, 0x27)
    assert_is_whole(pane)
    theme.apply("light")
    quiet(pane)
    assert (pane.canvas.pixels == light).all()


def test_a_larger_form_has_larger_words_and_still_shows_all(pane, bench):
    before = pane.canvas.words[0].capital_px
    theme.apply("light", 1.25)
    harness.settle(pane)
    quiet(pane)
    assert pane.view.ui_scale == 1.25
    assert pane.canvas.words[0].capital_px == pytest.approx(1.25 * before)
    assert pictures.wants_fit(bench, pane.view, theme.scale()) is None


# -- what is on the screen as a file --------------------------------------------------------------


def test_the_scene_is_what_is_on_the_screen(pane, bench):
    bench.set_focus(FACE)
    bench.set_tilt(20.0)
    pane.zoom_in()
    scene = pane.view_scene()
    assert scene.items == pane.picture.items
    assert scene.title == "Dunlin"
    paper = scene.placement.paper
    assert paper.width_mm * PIXELS_PER_PAPER_MM == pytest.approx(900.0)
    assert paper.height_mm * PIXELS_PER_PAPER_MM == pytest.approx(640.0)


def test_a_pane_never_shown_has_a_scene_too(make_root, bench):
    scene = DrawingPane(make_root(), bench).view_scene()
    assert any(isinstance(item, Path) for item in scene.items)


@pytest.mark.parametrize("look", ["profile", "template"])
def test_the_screen_is_exported_in_its_own_size(pane, bench, tmp_path, look):
    bench.set_picture(look)
    pane.zoom_in()
    scene = pane.view_scene()
    paper = scene.placement.paper
    for kind in tasks.DRAWING_KINDS:
        path = tmp_path / f"view.{kind}"
        written = export_view(scene, path, "light")
        assert written == (tasks.Written(path, f"drawing as on the screen, {kind.upper()}"),)
    sizes = [png_mm(tmp_path / "view.png"), svg_mm(tmp_path / "view.svg")]
    sizes.append(pdf_mm(tmp_path / "view.pdf"))
    for width, height in sizes:
        assert (width, height) == pytest.approx((paper.width_mm, paper.height_mm), abs=0.2)
    assert dxf_items(tmp_path / "view.dxf") > 20


def png_mm(path):
    from PIL import Image

    with Image.open(path) as picture:
        return tuple(size / tasks.PNG_DPI * 25.4 for size in picture.size)


def svg_mm(path):
    from xml.etree import ElementTree

    root = ElementTree.fromstring(path.read_bytes())  # noqa: S314 - written by ourselves
    return tuple(float(root.get(side).removesuffix("pt")) / 72.0 * 25.4
                 for side in ("width", "height"))  # fmt: skip


def pdf_mm(path):
    import pypdfium2

    document = pypdfium2.PdfDocument(path)
    try:
        assert len(document) == 1
        return tuple(size / 72.0 * 25.4 for size in document[0].get_size())
    finally:
        document.close()


def dxf_items(path):
    import ezdxf

    return len(list(ezdxf.readfile(path).modelspace()))


def test_an_ending_that_is_none_is_refused_and_writes_nothing(pane, tmp_path):
    with pytest.raises(UsageError, match="cannot tell what to draw"):
        export_view(pane.view_scene(), tmp_path / "view.doc")
    assert list(tmp_path.iterdir()) == []


def test_a_cancelled_export_writes_nothing(pane, tmp_path):
    assert export_view(pane.view_scene(), tmp_path / "view.png", cancelled=lambda: True) == ()
    assert list(tmp_path.iterdir()) == []


# -- what changed ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("low", "high", "found"),
    [
        (10.2, 20.0, (10, 74)),
        (-5.0, 63.0, (0, 64)),
        (870.0, 899.5, (836, 900)),
        (0.0, 900.0, (0, 900)),
        (-20.0, -1.0, (0, 0)),
        (901.0, 950.0, (0, 0)),
    ],
)
def test_patches_are_whole_steps_wide_inside_the_pane(low, high, found):
    assert _rounded(low, high, 900) == found


def test_the_changed_box_holds_every_pixel_that_differs(pane, bench):
    view = pane.view
    before = pictures.picture_of(bench, view)
    assert changed_box(before, before, view) is None
    for after in (
        before.lit("rake"),
        pictures.picture_of(bench, view, bench.options[-1]),
        pictures.picture_of(bench, view, tilt_deg=12.0),
    ):
        differ = np.argwhere(
            (paint(before.items, view, LIGHT) != paint(after.items, view, LIGHT)).any(axis=2)
        )
        left, top, right, bottom = changed_box(before, after, view)
        assert differ[:, 0].min() >= top and differ[:, 0].max() < bottom
        assert differ[:, 1].min() >= left and differ[:, 1].max() < right


# -- face, section and dash ------------------------------------------------------------------------


@pytest.fixture
def drilled(make_root, tmp_path):
    bench = drilled_bench(tmp_path)
    root = make_root(size="900x640")
    harness.take_keyboard(root)
    yield painted(root, bench)
    bench.close(discard=True)


@pytest.mark.parametrize("name", sorted(PLANES - AFLOATS - TRIALS))
def test_another_picture_is_fitted_and_painted(drilled, name):
    before = drilled.canvas.pixels.copy()
    drilled.zoom_in()
    drilled.bench.set_picture(name)
    quiet(drilled)
    assert drilled.picture.kind == name
    assert drilled.view == pictures.fitted(drilled.bench, 900, 640, 1.0)
    assert (before != drilled.canvas.pixels).any()
    assert drilled.canvas.itemcget(drilled._handle, "state") == "hidden"
    assert drilled._target_at((450, 320)).kind != "engine"


@pytest.mark.parametrize("name", ["face", "face-inside"])
def test_from_one_face_to_the_other_and_back_nothing_is_left_over(drilled, name):
    drilled.bench.set_picture(name)
    quiet(drilled)
    first = drilled.canvas.pixels.copy()
    for other in ("section", "profile", name):
        drilled.bench.set_picture(other)
        quiet(drilled)
    assert (first == drilled.canvas.pixels).all()


@pytest.mark.parametrize(
    ("name", "model", "wanted"),
    [
        ("face", (0.0, -455.0), Address("opening", "name", 0)),
        ("face", (265.0, -110.0), Address("opening", "name", 1)),
        ("face-inside", (-265.0, -110.0), Address("opening", "name", 1)),
        ("face", (-230.0, -200.0), Address("no_go", "name", 1)),
        ("dash", (150.0, -75.0), Address("dash", "name", 0)),
    ],
)
def test_a_click_on_a_hole_goes_to_its_row(drilled, name, model, wanted):
    drilled.bench.set_picture(name)
    quiet(drilled)
    where = at(drilled, model)
    hover(drilled, where)
    assert str(drilled.canvas.cget("cursor")) == "hand2"
    press(drilled, where)
    release(drilled, where)
    assert drilled.bench.wanted == wanted


def test_a_click_beside_the_holes_goes_nowhere(drilled):
    drilled.bench.set_picture("face")
    quiet(drilled)
    where = at(drilled, (100.0, -150.0))
    press(drilled, where)
    release(drilled, where)
    assert drilled.bench.wanted is None


def test_the_focus_lights_a_hole_and_leaves_the_rest(drilled):
    drilled.bench.set_picture("face")
    quiet(drilled)
    plain = drilled.canvas.pixels.copy()
    drilled.bench.set_focus(Address("opening", "width", 1))
    quiet(drilled)
    changed = np.argwhere((plain != drilled.canvas.pixels).any(axis=2))
    assert len(changed)
    left, top = drilled.view.to_screen((210.0, -70.0))
    right, bottom = drilled.view.to_screen((290.0, -140.0))
    assert changed[:, 1].min() > left and changed[:, 1].max() < right
    assert changed[:, 0].min() > top and changed[:, 0].max() < bottom
    drilled.bench.set_focus(None)
    quiet(drilled)
    assert (plain == drilled.canvas.pixels).all()


def test_an_edit_moves_a_hole_of_the_face(drilled):
    drilled.bench.set_picture("face")
    quiet(drilled)
    before = drilled.canvas.pixels.copy()
    drilled.bench.type(Address("hole", "across", 0), "-140 mm")
    quiet(drilled)
    assert (before != drilled.canvas.pixels).any()


@pytest.mark.parametrize("appearance", ["light", "dark"])
@pytest.mark.parametrize(("scale", "size"), [(1.0, "900x640"), (2.0, "1800x1200")])
@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_every_picture_is_painted_in_every_look(
    make_root, tmp_path, appearance, scale, size, lengths
):
    bench = drilled_bench(tmp_path, lengths)
    pane = painted(make_root(appearance, scale, size=size), bench)
    for name in sorted(PLANES - AFLOATS - TRIALS):
        bench.set_picture(name)
        quiet(pane)
        harness.screenshot(pane, f"{name}-{appearance}-{scale}-{lengths}", tmp_path)
        assert pane.picture.kind == name
        assert len(pane.canvas.words) > 3
        boxes = [pane.canvas.bbox(item) for item in pane.canvas.find_all()
                 if pane.canvas.type(item) == "text"
                 and pane.canvas.itemcget(item, "state") != "hidden"
                 and pane.canvas.itemcget(item, "angle") == "0.0"
                 and "callout" not in pane.canvas.gettags(item)]  # fmt: skip
        for one, other in combinations(boxes, 2):
            wide = min(one[2], other[2]) - max(one[0], other[0])
            high = min(one[3], other[3]) - max(one[1], other[1])
            # The box of a line of the toolkit has room above and below its letters.
            assert wide <= 1 or high <= 0.4 * min(one[3] - one[1], other[3] - other[1])
    bench.close(discard=True)
