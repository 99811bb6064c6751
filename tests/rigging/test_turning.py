"""Turning shapes: closed forms against worked corners, and against a fine sweep with shapely."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon as Area
from shapely.ops import unary_union

from rigfit.errors import EntryError
from rigfit.rigging.turning import Turn, Turning, checked_polygon, is_inside, overlap

SQUARE = ((200.0, -50.0), (300.0, -50.0), (300.0, 50.0), (200.0, 50.0))

coordinates = st.floats(-300.0, 300.0)


@st.composite
def stars(draw, centre=(0.0, 0.0), least=20.0, most=160.0):
    """Polygons that do not cross themselves, hollow or not, about a centre."""
    count = draw(st.integers(3, 8))
    parts = draw(st.lists(st.floats(0.2, 1.0), min_size=count, max_size=count))
    radii = draw(st.lists(st.floats(least, most), min_size=count, max_size=count))
    assume(max(parts) < 0.45 * sum(parts))
    angle, ring = draw(st.floats(0.0, 6.0)), []
    for part, radius in zip(parts, radii, strict=True):
        angle += 2.0 * math.pi * part / sum(parts)
        ring.append((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)))
    return tuple(ring)


def swept(rings, ring, turn, step_deg, round_mm=0.0):
    """Return (least gap, its angle, first contact) of a sweep, with shapely."""
    moving, fixed = unary_union([Area(item) for item in rings]), Area(ring)
    count = max(1, math.ceil((turn.high_deg - turn.low_deg) / step_deg))
    gaps = []
    for index in range(count + 1):
        angle = turn.low_deg + (turn.high_deg - turn.low_deg) * index / count
        turned = affinity.rotate(moving, angle, origin=turn.pivot)
        gaps.append((max(0.0, turned.distance(fixed) - round_mm), angle))
    least = min(gaps)
    first = next((angle for gap, angle in gaps if gap == 0.0), None)
    return least[0], least[1], first


def test_a_corner_on_a_circle_meets_a_wall_where_its_cosine_says() -> None:
    blade = ((0.0, 0.0), (0.0, -100.0), (-1e-3, -100.0))
    wall = ((80.0, -500.0), (90.0, -500.0), (90.0, 500.0), (80.0, 500.0))
    touch = Turning([blade], Turn((0.0, 0.0), 0.0, 85.0)).first_within(wall)
    assert touch is not None
    assert touch.angle_deg == pytest.approx(math.degrees(math.asin(0.8)), abs=1e-9)
    assert touch.on_fixed == pytest.approx((80.0, -60.0))


def test_a_rectangle_turning_about_its_middle_passes_a_wall_with_its_corner() -> None:
    box = ((-40.0, -30.0), (40.0, -30.0), (40.0, 30.0), (-40.0, 30.0))
    wall = ((60.0, -300.0), (70.0, -300.0), (70.0, 300.0), (60.0, 300.0))
    touch = Turning([box], Turn((0.0, 0.0), 0.0, 90.0)).least_gap(wall)
    assert touch.gap_mm == pytest.approx(10.0)
    assert touch.angle_deg == pytest.approx(math.degrees(math.atan2(30.0, 40.0)), abs=1e-9)


def test_a_standing_corner_reaches_a_turning_edge() -> None:
    edge = ((-10.0, 50.0), (200.0, 50.0), (200.0, 60.0), (-10.0, 60.0))
    corner = ((100.0, 80.0), (130.0, 120.0), (70.0, 120.0))
    touch = Turning([edge], Turn((0.0, 0.0), 0.0, 60.0)).first_within(corner)
    assert touch is not None
    expected = math.atan2(80.0, 100.0) - math.asin(60.0 / math.hypot(80.0, 100.0))
    assert touch.angle_deg == pytest.approx(math.degrees(expected), abs=1e-9)
    assert touch.on_fixed == (100.0, 80.0)


@settings(max_examples=60, deadline=None)
@given(
    stars(), stars(centre=(250.0, 60.0), most=140.0), coordinates, coordinates,
    st.floats(-60.0, 0.0), st.floats(1.0, 90.0), st.sampled_from((0.0, 25.0)),
)  # fmt: skip
def test_the_exact_answer_is_that_of_a_fine_sweep(one, two, px, pz, low, span, round_mm) -> None:
    turn = Turn((px, pz), low, low + span)
    exact = Turning([one], turn, round_mm).least_gap(two)
    step = 0.1
    gap, _, first = swept([one], two, turn, step, round_mm)
    reach = max(math.dist(turn.pivot, point) for point in one)
    slack = reach * math.radians(step) + 1e-6
    assert exact.gap_mm <= gap + 1e-6
    assert exact.gap_mm >= gap - slack
    if exact.gap_mm == 0.0 and first is not None:
        assert exact.angle_deg <= first + 1e-6
        turned = affinity.rotate(Area(one), exact.angle_deg, origin=turn.pivot)
        assert exact.at_rest or turned.distance(Area(two)) <= round_mm + 1e-5
    if first is not None:
        assert exact.gap_mm == 0.0


@settings(max_examples=60, deadline=None)
@given(stars(), stars(centre=(300.0, 0.0)), st.floats(1.0, 60.0), st.floats(1.0, 80.0))
def test_the_first_place_within_a_gap_has_that_gap(one, two, gap, span) -> None:
    turning = Turning([one], Turn((10.0, -20.0), 0.0, span))
    touch, least = turning.first_within(two, gap), turning.least_gap(two)
    assert (touch is not None) == (least.gap_mm <= gap + 1e-9)
    if touch is not None and not touch.at_rest:
        assert touch.gap_mm == pytest.approx(gap, abs=1e-5)
        before = Turning([one], Turn((10.0, -20.0), 0.0, touch.angle_deg)).least_gap(two)
        assert before.gap_mm >= gap - 1e-5


@settings(max_examples=50, deadline=None)
@given(stars(), stars(centre=(280.0, 0.0)), st.floats(5.0, 80.0), st.floats(-180.0, 180.0))
def test_turning_the_whole_picture_changes_nothing(one, two, span, by) -> None:
    plain = Turning([one], Turn((30.0, 40.0), -5.0, span)).least_gap(two)
    whole = Turn((0.0, 0.0), by, by)
    moved = [tuple(whole.point(point, by) for point in ring) for ring in (one, two)]
    turn = Turn(whole.point((30.0, 40.0), by), -5.0, span)
    assert Turning([moved[0]], turn).least_gap(moved[1]).gap_mm == pytest.approx(
        plain.gap_mm, abs=1e-5
    )


@settings(max_examples=50, deadline=None)
@given(stars(), stars(centre=(280.0, 0.0)), st.floats(5.0, 80.0))
def test_a_mirrored_picture_turned_the_other_way_has_the_same_gap(one, two, span) -> None:
    plain = Turning([one], Turn((30.0, 40.0), -5.0, span)).least_gap(two)
    flip = [tuple((x, -z) for x, z in ring) for ring in (one, two)]
    other = Turning([flip[0]], Turn((30.0, -40.0), -span, 5.0)).least_gap(flip[1])
    assert other.gap_mm == pytest.approx(plain.gap_mm, abs=1e-5)


@given(stars(), st.floats(5.0, 80.0))
def test_a_shape_that_holds_the_pivot_and_the_engine_is_touched_at_rest(one, span) -> None:
    around = ((-999.0, -999.0), (999.0, -999.0), (999.0, 999.0), (-999.0, 999.0))
    touch = Turning([one], Turn((0.0, 0.0), 0.0, span)).least_gap(around)
    assert touch.at_rest
    assert touch.gap_mm == 0.0


def test_a_crossed_outline_a_line_and_a_nothing_are_named() -> None:
    bow = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0))
    with pytest.raises(EntryError, match="the rail crosses itself"):
        checked_polygon(bow, "the rail")
    with pytest.raises(EntryError, match="the rail has 2 different corners"):
        checked_polygon(((0.0, 0.0), (5.0, 0.0), (0.0, 0.0)), "the rail")
    with pytest.raises(EntryError, match="no number"):
        checked_polygon(((0.0, 0.0), (5.0, math.nan), (0.0, 9.0)), "the rail")
    with pytest.raises(EntryError):
        checked_polygon(((0.0, 0.0), (5.0, 0.0), (9.0, 0.0)), "the rail")


@given(stars())
def test_any_honest_outline_is_taken(ring) -> None:
    assert len(checked_polygon((*ring, ring[0]), "it")) == len(ring)


@pytest.mark.parametrize(("low", "high"), [(5.0, 0.0), (0.0, 360.0), (0.0, math.inf)])
def test_a_turn_must_go_up_by_less_than_a_full_turn(low, high) -> None:
    with pytest.raises(EntryError):
        Turn((0.0, 0.0), low, high)


def test_inside_and_overlap() -> None:
    assert is_inside((250.0, 0.0), SQUARE)
    assert not is_inside((310.0, 0.0), SQUARE)
    assert overlap(SQUARE, tuple((x + 50.0, z + 50.0) for x, z in SQUARE))
    assert not overlap(SQUARE, tuple((x + 101.0, z) for x, z in SQUARE))
