"""The view: fit, zoom, pan, what is under the pointer, where a dragged engine snaps."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.desk.view import COARSEST_MM, FINEST_MM, View, dragged_lift_mm, ref_at, snapped
from rigfit.drawing.scene import Disc, Path, Text
from rigfit.drawing.side_view import side_items
from rigfit.rigging.plate_height import along_face
from rigfit.units import Shown
from tests.demo_reports import report_on

VIEWS = st.builds(
    View,
    st.integers(50, 4000),
    st.integers(50, 4000),
    st.tuples(st.floats(-5e3, 5e3), st.floats(-5e3, 5e3)),
    st.floats(0.1, 20.0),
)
PIXELS = st.tuples(st.floats(0, 4000), st.floats(0, 4000))


@given(VIEWS, PIXELS)
def test_there_and_back_is_the_same_pixel(view, pixel):
    assert view.to_screen(view.to_model(pixel)) == pytest.approx(pixel, abs=1e-6)


@given(VIEWS, PIXELS, st.floats(0.2, 5.0))
def test_zooming_holds_what_is_under_the_pointer(view, pixel, factor):
    held = view.to_model(pixel)
    assert view.zoomed(factor, pixel).to_model(pixel) == pytest.approx(held, abs=1e-6)


@given(VIEWS, st.floats(-900, 900), st.floats(-900, 900))
def test_panning_moves_every_point_by_the_same_pixels(view, right, down):
    x, y = view.to_screen((10.0, 20.0))
    moved = view.panned(right, down).to_screen((10.0, 20.0))
    assert moved == pytest.approx((x + right, y + down), abs=1e-6)


@given(st.floats(10, 5000), st.floats(10, 5000), st.integers(100, 3000), st.integers(100, 3000))
def test_a_fitted_view_shows_all_of_it(wide, high, width, height):
    view = View.fitted((-wide / 2, 0.0, wide / 2, high), width, height)
    corners = [view.to_screen(point) for point in ((-wide / 2, 0.0), (wide / 2, high))]
    assert all(-1e-6 <= x <= width + 1e-6 and -1e-6 <= y <= height + 1e-6 for x, y in corners)


@pytest.mark.parametrize(("factor", "limit"), [(1e9, FINEST_MM), (1e-9, COARSEST_MM)])
def test_zooming_stops_at_its_limits(factor, limit):
    assert View(800, 600, (0.0, 0.0), 1.0).zoomed(factor).mm_per_px == limit


@pytest.mark.parametrize("factor", [0.0, -1.0, math.nan])
def test_a_zoom_that_is_none_is_refused(factor):
    with pytest.raises(ValueError, match="must be positive"):
        View(800, 600, (0.0, 0.0), 1.0).zoomed(factor)


def test_up_on_the_screen_is_up_in_the_model():
    view = View(800, 600, (0.0, 0.0), 2.0)
    assert view.to_model((400.0, 0.0)) == (0.0, 600.0)


def test_resizing_keeps_the_middle():
    view = View(800, 600, (5.0, 7.0), 2.0).resized(400, 200)
    assert view.to_screen((5.0, 7.0)) == (200.0, 100.0)


ITEMS = (
    Path(((0.0, 0.0), (100.0, 0.0)), "MEASURES", ref="line"),
    Disc((50.0, 50.0), 10.0, "DRILL", ref="disc"),
    Text((0.0, 80.0), "words", "NOTES", height_mm=10.0, ref="text"),
    Path(((0.0, 20.0), (100.0, 20.0)), "MEASURES"),
)


@pytest.mark.parametrize(
    ("point", "found"),
    [
        ((50.0, 2.0), "line"),
        ((102.0, 0.0), "line"),
        ((61.0, 50.0), "disc"),
        ((50.0, 50.0), ""),
        ((3.0, 84.0), "text"),
        ((50.0, 20.0), ""),
        ((500.0, 500.0), ""),
    ],
)
def test_what_is_under_the_pointer(point, found):
    assert ref_at(ITEMS, point, reach_mm=4.0, scale=1.0) == found


def test_what_was_drawn_later_lies_on_top():
    twice = (*ITEMS, Path(((0.0, 0.0), (100.0, 0.0)), "MEASURES", ref="later"))
    assert ref_at(twice, (50.0, 0.0), reach_mm=4.0, scale=1.0) == "later"


@pytest.mark.parametrize("ref", ["height-along-face", "height-square", "rake", "leg", "plate"])
def test_every_dimension_of_the_demo_can_be_pointed_at(ref):
    items = side_items(report_on("B-mm"), 8.0, Shown())
    words = next(item for item in items if isinstance(item, Text) and item.ref == ref)
    assert ref_at(items, words.at, reach_mm=10.0, scale=8.0) == ref


@given(st.floats(-100, 300))
def test_a_dragged_engine_snaps_to_the_nearest_possible_height(lift):
    options = report_on("B-mm").options
    option = snapped(options, lift)
    assert all(
        abs(option.lift.value - lift) <= abs(other.lift.value - lift) + 1e-9
        for other in options
        if other.is_possible
    )


def test_nothing_to_snap_to():
    assert snapped((), 10.0) is None


@given(st.floats(-50, 200), st.floats(-200, 200), st.floats(-10, 35))
def test_a_drag_upwards_lifts_along_the_face(start, up, rake):
    lifted = dragged_lift_mm(start, up, rake) - start
    assert lifted * along_face(rake)[1] == pytest.approx(up, abs=1e-9)
