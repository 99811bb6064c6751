import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from rigfit.drawing.scene import (
    Disc,
    Paper,
    Path,
    Placement,
    Scene,
    Text,
    arc_of,
    flatten,
    slot,
)
from rigfit.drawing.strokes import circle, curves, extents, on_sheet, pieces, placed
from rigfit.drawing.to_list import listing, words

PLACES = st.floats(-1000.0, 1000.0)
POINTS = st.tuples(PLACES, PLACES)
BULGES = st.floats(0.02, 4.0) | st.floats(-4.0, -0.02)


def arc(start, end, bulge):
    return Path((start, end), "TRIM", bulges=(bulge, 0.0))


@given(POINTS, POINTS, BULGES)
def test_flattened_arcs_lie_on_their_circle(start, end, bulge):
    assume(math.dist(start, end) > 1.0)
    centre, radius, _, _ = arc_of(start, end, bulge)
    for point in flatten(arc(start, end, bulge), sag_mm=0.05):
        assert math.dist(point, centre) == pytest.approx(radius, rel=1e-9, abs=1e-7)


@given(POINTS, POINTS, BULGES)
def test_chords_stray_no_further_than_asked(start, end, bulge):
    assume(math.dist(start, end) > 1.0)
    centre, radius, _, _ = arc_of(start, end, bulge)
    points = flatten(arc(start, end, bulge), sag_mm=0.05)
    for one, other in pairwise(points):
        middle = ((one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0)
        assert radius - math.dist(middle, centre) <= 0.05 + 1e-6


@given(POINTS, POINTS, BULGES)
def test_a_mirrored_arc_is_the_mirror_image(start, end, bulge):
    assume(math.dist(start, end) > 1.0)
    image = arc((-start[0], start[1]), (-end[0], end[1]), -bulge)
    for (x, y), (u, v) in zip(
        flatten(arc(start, end, bulge), 0.1), flatten(image, 0.1), strict=True
    ):
        assert (-u, v) == pytest.approx((x, y), abs=1e-6)


@given(POINTS, POINTS, BULGES)
def test_an_arc_run_backwards_is_the_same_arc(start, end, bulge):
    assume(math.dist(start, end) > 1.0)
    there, back = arc_of(start, end, bulge), arc_of(end, start, -bulge)
    assert there[0] == pytest.approx(back[0], abs=1e-6)
    assert there[1] == pytest.approx(back[1])


@given(POINTS, POINTS, BULGES)
def test_curves_follow_the_circle(start, end, bulge):
    assume(math.dist(start, end) > 1.0)
    centre, radius, _, _ = arc_of(start, end, bulge)
    here = start
    for one, two, stop in curves(start, end, bulge):
        for t in (0.2, 0.5, 0.8):
            s = 1.0 - t
            x, y = (
                s**3 * here[n] + 3 * s * s * t * one[n] + 3 * s * t * t * two[n] + t**3 * stop[n]
                for n in (0, 1)
            )
            assert abs(math.dist((x, y), centre) - radius) <= 5e-6 * radius + 1e-7
        here = stop
    assert here == end


def test_a_half_circle_bulges_to_the_right_of_its_way():
    centre, radius, first, sweep = arc_of((0.0, 0.0), (2.0, 0.0), 1.0)
    assert centre == pytest.approx((1.0, 0.0))
    assert radius == pytest.approx(1.0)
    assert math.cos(first) == pytest.approx(-1.0)
    assert sweep == pytest.approx(math.pi)
    lowest = min(y for _, y in flatten(arc((0.0, 0.0), (2.0, 0.0), 1.0), 1e-5))
    assert lowest == pytest.approx(-1.0, abs=1e-4)


def test_a_slot_has_the_area_of_its_formula():
    outline = Polygon(flatten(slot((30.0, 40.0), 13.5, 60.0, "DRILL"), sag_mm=1e-5))
    assert outline.area == pytest.approx(13.5 * 46.5 + math.pi * 13.5**2 / 4.0, rel=1e-5)
    assert outline.bounds == pytest.approx((23.25, 10.0, 36.75, 70.0), abs=1e-4)
    assert outline.is_valid


def test_bounds_count_the_belly_of_an_arc():
    scene = Scene("", (arc((0.0, 0.0), (20.0, 0.0), -1.0), Disc((50.0, 0.0), 5.0, "DRILL")))
    assert scene.bounds() == pytest.approx((0.0, -5.0, 55.0, 10.0), abs=0.05)


def test_a_scene_of_words_has_no_bounds():
    with pytest.raises(ValueError, match="no geometry"):
        Scene("", (Text((0.0, 0.0), "note", "NOTES"),)).bounds()


def test_only_keeps_layers_and_drops_the_sheet():
    sheet = Placement(Paper("A4", 297.0, 210.0), (0.0, 0.0))
    items = (Disc((0.0, 0.0), 5.0, "DRILL"), Text((0.0, 0.0), "note", "NOTES"))
    kept = Scene("t", items, 1.0, sheet).only("DRILL", "TRIM")
    assert kept.items == items[:1]
    assert kept.placement is None


def test_a_sheet_made_to_measure_has_its_margin_and_counts_words():
    text = Text((0.0, 0.0), "Heel", "NOTES", across="right")
    scene = Scene("", (Disc((0.0, 0.0), 50.0, "DRILL"),), 2.0)
    sheet = placed(scene)
    assert sheet.corner == pytest.approx((-70.0, -70.0))
    assert (sheet.paper.width_mm, sheet.paper.height_mm) == pytest.approx((70.0, 70.0))
    left = placed(Scene("", (text,), 2.0)).corner[0]
    assert left == pytest.approx(extents(text, 2.0)[0] - 20.0)


def test_an_empty_scene_has_no_sheet():
    with pytest.raises(ValueError, match="empty"):
        placed(Scene("", ()))


def test_what_lies_off_the_sheet_is_left_out():
    sheet = Placement(Paper("", 100.0, 100.0), (0.0, 0.0))
    inside, across, outside = (Disc((x, 50.0), 10.0, "DRILL") for x in (50.0, 105.0, 111.0))
    text = Text((-1.0, 50.0), "beside", "NOTES", across="right")
    assert on_sheet(Scene("", (inside, across, outside, text), 1.0, sheet)).items == (
        inside,
        across,
    )


def test_a_circle_is_two_half_circles():
    ways = list(pieces(circle((5.0, 5.0), 3.0)))
    assert len(ways) == 8
    assert ways[-1][-1] == pytest.approx((8.0, 5.0))


def test_pieces_of_a_straight_path_are_its_points():
    triangle = Path(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), "TRIM", closed=True)
    assert list(pieces(triangle)) == [(1.0, 0.0), (0.0, 1.0), (0.0, 0.0)]


def test_the_listing_says_all_there_is():
    scene = Scene(
        "t",
        (
            Path(((0.0, 0.0), (-0.001, 7.126)), "TRIM", ref="height"),
            Path(((0.0, 0.0), (1.0, 0.0)), "TRIM", closed=True, bulges=(1.0, 0.5)),
            Disc((1.0, 2.0), 6.75, "DRILL"),
            Text((3.0, 4.0), "508 ±3", "NOTES", across="centre", angle_deg=90.0),
        ),
    )
    assert listing(scene) == (
        "TRIM path (0.00, 0.00) (0.00, 7.13) [height]",
        "TRIM area (0.00, 0.00) bulge 1.00 (1.00, 0.00) bulge 0.50",
        "DRILL disc (1.00, 2.00) r 6.75",
        'NOTES text (3.00, 4.00) centre base turned 90.00 2.50 "508 ±3"',
    )
    assert words(scene) == ("508 ±3",)
