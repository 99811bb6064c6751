"""The swing in the window: turned by the pointer and by keys, and painted as if drawn anew."""

import numpy as np
import pytest

from rigfit.desk.drawing_pane import DrawingPane
from rigfit.desk.kit import theme
from rigfit.desk.painter import paint
from rigfit.desk.pictures import picture_of
from rigfit.desk.swing_pictures import gap_lines, swing_axis, swing_handle
from rigfit.desk.swing_scrub import lock_deg, option_of, tilt_range
from rigfit.desk.workbench import Change
from rigfit.drawing.palette import LIGHT
from rigfit.rigging.envelope import engine_envelope
from tests.desk import harness
from tests.desk.swinging_boat import swinging_bench


@pytest.fixture
def bench(tmp_path):
    made = swinging_bench(tmp_path)
    yield made
    made.close(discard=True)


@pytest.fixture
def pane(make_root, bench):
    root = make_root(size="900x640")
    harness.take_keyboard(root)
    made = DrawingPane(root, bench)
    made.pack(fill="both", expand=True)
    quiet(made)
    return made


def quiet(pane):
    harness.wait_for(pane, lambda: pane.is_painted and not pane.pending)


def show(pane, name):
    pane.bench.set_picture(name)
    quiet(pane)
    return pane


def pixel(pane, model):
    x, y = pane.view.to_screen(model)
    return {"x": round(x), "y": round(y)}


def drag(pane, start, *ends, release=True):
    pane.canvas.event_generate("<Motion>", **pixel(pane, start))
    pane.canvas.event_generate("<ButtonPress-1>", **pixel(pane, start))
    for end in ends:
        pane.canvas.event_generate("<B1-Motion>", **pixel(pane, end))
    if release:
        pane.canvas.event_generate("<ButtonRelease-1>", **pixel(pane, ends[-1]))
    pane.update()


def on_hood(pane):
    """Return a place on the hood seen from above, aft of the steering axis and off the middle."""
    report = pane.bench.report
    x, y = swing_axis("swing-plan", report, 0.0)
    envelope = engine_envelope(report.case)
    return x + 0.4 * envelope.cowl_length_mm, y + 0.3 * envelope.cowl_half_breadth_mm


def turned(point, axis, degrees):
    angle = np.radians(degrees)
    x, y = point[0] - axis[0], point[1] - axis[1]
    return (
        axis[0] + x * np.cos(angle) - y * np.sin(angle),
        axis[1] + x * np.sin(angle) + y * np.cos(angle),
    )


def anew(pane):
    """Return the pixels of the present picture, painted as a whole."""
    view = pane.view
    return paint(pane.picture.items, view, LIGHT)


# -- by the pointer --------------------------------------------------------------------------------


@pytest.mark.parametrize("by", [9.0, -14.0])
def test_the_hood_is_dragged_sideways_to_steer(pane, bench, by):
    show(pane, "swing-plan")
    start, axis = on_hood(pane), swing_axis("swing-plan", bench.report, 0.0)
    drag(pane, start, turned(start, axis, by / 2.0), turned(start, axis, by), release=False)
    lines = pane.canvas.callout.content.lines
    near = [by + off for off in (-1.0, 0.0, 1.0)]  # a pixel is about a degree
    style = bench.style
    assert lines in [gap_lines("swing-plan", bench.report, style, (0.0, deg)) for deg in near]
    assert f"to {'starboard' if by > 0 else 'port'}" in lines[0]
    assert len(lines) == 2
    assert bench.look.steer_deg == 0.0
    pane.canvas.event_generate("<ButtonRelease-1>", **pixel(pane, turned(start, axis, by)))
    pane.update()
    assert bench.look.steer_deg == pytest.approx(by, abs=1.0)
    assert bench.look.tilt_deg == 0.0


def test_steering_stops_at_the_lock_and_escape_takes_it_back(pane, bench):
    show(pane, "swing-plan")
    start, axis = on_hood(pane), swing_axis("swing-plan", bench.report, 0.0)
    before = pane.canvas.pixels.copy()
    drag(pane, start, turned(start, axis, 25.0), turned(start, axis, 80.0), release=False)
    lock = int(lock_deg(bench.report))
    assert f"propeller {lock}° to starboard" in pane.canvas.callout.content.lines[0]
    assert not np.array_equal(pane.canvas.pixels, before)
    pane.canvas.event_generate("<Escape>")
    pane.update()
    assert bench.look.steer_deg == 0.0
    assert np.array_equal(pane.canvas.pixels, before)


@pytest.mark.parametrize("by", [12.0, 40.0])
def test_the_handle_tilts_among_what_is_round_the_engine(pane, bench, by):
    show(pane, "swing")
    told = []
    bench.listen(told.append)
    start, axis = swing_handle(bench.report, 0.0), swing_axis("swing", bench.report, 0.0)
    drag(pane, start, turned(start, axis, by / 2.0), turned(start, axis, by))
    assert bench.look.tilt_deg == pytest.approx(by, abs=1.0)
    assert told == [Change.LOOK]
    assert pane._handle_at() == pane.view.to_screen(swing_handle(bench.report, bench.look.tilt_deg))


def test_tilting_in_the_swing_begins_fully_in(pane, bench):
    show(pane, "swing")
    start, axis = swing_handle(bench.report, 0.0), swing_axis("swing", bench.report, 0.0)
    drag(pane, start, turned(start, axis, -20.0), turned(start, axis, -40.0))
    assert bench.look.tilt_deg == tilt_range(bench.report, "swing")[0] < 0.0


def test_the_height_stays_when_the_engine_is_dragged_in_a_swing(pane, bench):
    before = option_of(bench.report)
    for name in ("swing", "swing-plan"):
        show(pane, name)
        start = on_hood(pane) if name == "swing-plan" else swing_handle(bench.report, 0.0)
        drag(pane, start, (start[0] - 60.0, start[1] + 60.0), (start[0] - 90.0, start[1] + 90.0))
        bench.set_tilt(0.0)
    assert option_of(bench.report) == before
    assert not bench.history.can_undo or bench.history.undo_label != "the height of the engine"


# -- painted ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["swing", "swing-plan"])
def test_after_a_scrub_every_pixel_is_as_if_painted_anew(pane, bench, name):
    show(pane, name)
    under = pane.picture.under
    for step in range(1, 6):
        if name == "swing":
            bench.set_tilt(7.0 * step)
        else:
            bench.set_steer(5.0 * step)
        assert np.array_equal(pane.canvas.pixels, anew(pane))
        picture = picture_of(bench, pane.view)
        assert set(pane.picture.items) == set(picture.items)
        assert pane.picture.under is under  # the fast way was taken


def test_what_is_typed_after_a_scrub_is_drawn(pane, bench):
    from rigfit.desk.draft import Address

    show(pane, "swing")
    bench.set_tilt(20.0)
    bench.type(Address("obstacle", "ahead_from", 0), "300 mm")
    bench.set_tilt(25.0)
    quiet(pane)
    assert set(pane.picture.items) == set(picture_of(bench, pane.view).items)


@pytest.mark.parametrize("name", ["swing", "swing-plan", "swing-worst"])
@pytest.mark.parametrize(("appearance", "scale"), [("light", 1.0), ("dark", 2.0)])
def test_a_swing_has_no_faults(make_root, bench, tmp_path, name, appearance, scale):
    root = make_root(appearance, scale, size=f"{round(900 * scale)}x{round(640 * scale)}")
    made = DrawingPane(root, bench)
    made.pack(fill="both", expand=True)
    quiet(made)
    show(made, name)
    bench.set_tilt(20.0)
    quiet(made)
    assert made.picture.kind == name
    assert theme.scale() == pytest.approx(scale)
    assert harness.faults(root) == []
    harness.screenshot(root, f"{name}-{appearance}-{scale}", tmp_path)
