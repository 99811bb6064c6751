"""Where bolts come out inside: rounded places, washers, plates and a drill off square."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from rigfit.rigging.findings import Verdict
from rigfit.rigging.hole_fit import BoltSize, footprint_of
from rigfit.rigging.hole_pattern import Feature, drilled_features
from rigfit.rigging.no_go import (
    Footprint,
    Place,
    bearing_seats,
    bolt_exits,
    drift_mm,
    judge_exit,
    place_of,
)
from rigfit.rigging.readings import Origin
from tests.builders import CATALOGUE, reading
from tests.rigging.holes import RULE, hole_case, no_go

FEATURES = drilled_features(CATALOGUE.hole_pattern("four-bolt"), 48.0)
WASHERS = Footprint("washers 37 mm", 18.5, origin=Origin.CHOSEN, need="")
points = st.floats(-200.0, 200.0)


def plate(wide: float, high: float) -> Footprint:
    return Footprint("plate", 0.0, wide / 2.0, high / 2.0, Origin.MEASURED, "")


def rounded(place: Place) -> shapely.Geometry:
    """Return the place as shapely builds it: a box without its upper corners, plus two discs."""
    half = (place.right_mm - place.left_mm) / 2.0
    r = min(place.radius_mm, half, place.bottom_mm - place.top_mm)
    left, right, top, bottom = place.left_mm, place.right_mm, place.top_mm, place.bottom_mm
    parts = [
        shapely.box(left, top + r, right, bottom),
        shapely.box(left + r, top, right - r, bottom),
    ]
    upper = shapely.box(left, top, right, top + r)
    parts += [
        shapely.Point(x, top + r).buffer(r, quad_segs=512).intersection(upper)
        for x in (left + r, right - r)
        if r
    ]
    return shapely.union_all(parts)


places = st.builds(
    lambda left, wide, top, high, r: Place("knee", left, left + wide, top, top + high, r),
    points,
    st.floats(1.0, 200.0),
    points,
    st.floats(1.0, 200.0),
    st.floats(0.0, 120.0),
)


@given(places, points, points)
def test_the_distance_to_a_rounded_place_is_what_shapely_measures(
    place: Place, across: float, below: float
) -> None:
    shape, point = rounded(place), shapely.Point(across, below)
    found = place.distance_mm(across, below)
    distance = shape.boundary.distance(point)
    assert abs(found) == pytest.approx(distance, abs=2e-2)
    if distance > 0.05:
        assert (found < 0.0) == shape.contains(point)


@given(places, points, points, st.floats(0.0, 80.0), st.floats(0.0, 60.0))
def test_a_plate_clears_a_place_just_where_its_middle_clears_the_grown_place(
    place: Place, across: float, below: float, half_width: float, half_height: float
) -> None:
    box = shapely.box(
        across - half_width, below - half_height, across + half_width, below + half_height
    )
    apart = rounded(place).distance(box)
    found = place.grown(half_width, half_height).distance_mm(across, below)
    # Beyond the corners a grown box is round where the place is; only the corner's radius counts.
    assume(place.radius_mm <= (place.right_mm - place.left_mm) / 2.0)
    assume(place.radius_mm <= place.bottom_mm - place.top_mm)
    assert max(0.0, found) == pytest.approx(apart, abs=2e-2)


@given(places, points, points, st.floats(0.0, 50.0), st.floats(0.0, 50.0))
def test_a_larger_washer_or_plate_is_never_further_away(
    place: Place, across: float, below: float, wide: float, high: float
) -> None:
    grown = place.grown(wide, high).distance_mm(across, below)
    assume(2.0 * place.radius_mm <= place.right_mm - place.left_mm)
    assume(place.radius_mm <= place.bottom_mm - place.top_mm)
    assert grown <= place.distance_mm(across, below) + 1e-9


@given(places, points, points)
def test_a_mirrored_place_is_as_far_from_the_mirrored_point(
    place: Place, across: float, below: float
) -> None:
    turned = replace(place, left_mm=-place.right_mm, right_mm=-place.left_mm)
    assert turned.distance_mm(-across, below) == pytest.approx(place.distance_mm(across, below))


@pytest.mark.parametrize(
    ("thickness", "off", "drift"), [(50.0, 1.0, 0.8727), (45.0, 1.0, 0.7855), (50.0, 0.0, 0.0)]
)
def test_a_drill_off_square_drifts_by_thickness_times_the_tangent(
    thickness: float, off: float, drift: float
) -> None:
    assert drift_mm(thickness, off) == pytest.approx(drift, abs=1e-4)


def test_a_place_entered_the_wrong_way_round_is_put_in_order_and_marked() -> None:
    straight, turned = no_go(-20.0, 30.0, 200.0, 400.0), no_go(30.0, -20.0, 400.0, 200.0)
    first, second = place_of(1, straight), place_of(1, turned)
    assert first is not None
    assert second is not None
    assert (first.is_swapped, second.is_swapped) == (False, True)
    assert replace(second, is_swapped=False) == first


def test_a_place_without_an_edge_is_no_place_and_a_nameless_one_has_its_kind() -> None:
    assert place_of(1, replace(no_go(0.0, 1.0, 0.0, 1.0), across_to=None)) is None
    named = place_of(3, no_go(0.0, 1.0, 0.0, 1.0, name=""))
    assert named is not None
    assert named.name == "knee 3"


# ------------------------------------------------------------------- what bears where


def test_washers_sit_round_their_bolts() -> None:
    places_of_bolts = tuple((item.across_mm, item.below_top_mm) for item in FEATURES)
    assert bearing_seats(FEATURES, WASHERS) == places_of_bolts


@pytest.mark.parametrize(
    ("footprint", "seats"),
    [
        (plate(60.0, 60.0), 4),  # one plate under each bolt
        (plate(300.0, 80.0), 3),  # joins the lower pair, 251 apart, and not the upper
        (plate(400.0, 80.0), 2),  # one along each row
        (plate(400.0, 300.0), 1),  # one for all four
    ],
)
def test_a_plate_joins_what_it_is_large_enough_to_join(footprint: Footprint, seats: int) -> None:
    assert len(set(bearing_seats(FEATURES, footprint))) == seats


def test_a_plate_joins_the_bolts_of_one_engine_only() -> None:
    pattern = CATALOGUE.hole_pattern("four-bolt")
    both = (
        *drilled_features(pattern, 48.0, -350.0, "port engine"),
        *drilled_features(pattern, 48.0, 350.0, "starboard engine"),
    )
    seats = set(bearing_seats(both, plate(400.0, 300.0)))
    assert {across for across, _ in seats} == {-350.0, 350.0}


# ------------------------------------------------------------------- verdicts


@pytest.mark.parametrize(
    ("clear", "tolerance", "drift", "verdict"),
    [
        (5.0, 2.0, 0.8, Verdict.FITS),
        (2.5, 2.0, 0.8, Verdict.TIGHT),  # clear if square, within tolerance off square
        (0.5, 0.0, 0.8, Verdict.TIGHT),  # the drift takes it in
        (-1.0, 2.0, 0.8, Verdict.TIGHT),
        (-3.0, 2.0, 0.8, Verdict.STOPS),
        (50.0, 2.0, None, Verdict.UNKNOWN),
        (-3.0, 2.0, None, Verdict.STOPS),
    ],
)
def test_an_exit_is_judged_square_and_off_square(
    clear: float, tolerance: float, drift: float | None, verdict: Verdict
) -> None:
    assert judge_exit(clear, tolerance, drift, WASHERS) is verdict
    by_custom = replace(WASHERS, origin=Origin.DEFAULT)
    assert judge_exit(clear, tolerance, drift, by_custom) is not Verdict.FITS


@given(points, st.floats(0.0, 300.0), st.floats(0.0, 60.0), st.floats(0.0, 360.0))
def test_what_fits_stays_clear_for_a_drill_off_square_any_way(
    across: float, below: float, radius: float, way: float
) -> None:
    place = Place("floor", -150.0, 150.0, 260.0, 600.0, radius)
    bolt = Feature("lower port", across, below, 13.5)
    found = bolt_exits([bolt], [0.0], [place], WASHERS, reading(50.0), 1.0)[0]
    drift = 50.0 * math.tan(math.radians(1.0))
    out = (
        across + drift * math.cos(math.radians(way)),
        below + drift * math.sin(math.radians(way)),
    )
    left = place.distance_mm(*out) - WASHERS.radius_mm
    assert found.clear_mm == pytest.approx(place.distance_mm(across, below) - 18.5)
    if found.verdict is Verdict.FITS:
        assert left >= -1e-9


def test_the_nearest_of_several_places_is_named() -> None:
    there = [Place("far", 200.0, 300.0, 0.0, 500.0), Place("near", 30.0, 60.0, 0.0, 500.0)]
    bolt = Feature("upper port", 0.0, 100.0, 13.5)
    found = bolt_exits([bolt], [1.0], there, WASHERS, reading(45.0), 1.0)[0]
    assert (found.place, found.clear_mm) == ("near", pytest.approx(30.0 - 18.5))


def test_with_no_place_inside_there_is_nothing_to_hit() -> None:
    found = bolt_exits(FEATURES, [0.0] * 4, [], WASHERS, reading(45.0), 1.0)
    assert {item.verdict for item in found} == {Verdict.FITS}
    assert {item.place for item in found} == {""}


# ------------------------------------------------------------------- what is under the nuts


@pytest.mark.parametrize(
    ("change", "radius", "half_width", "firm"),
    [
        ({}, 18.5, 0.0, False),  # the widest washer for a bolt of 12.7 mm
        ({"bolting__washer": "M12", "bolting__backing": "washers"}, 12.0, 0.0, True),
        ({"bolting__washer": "M12", "bolting__backing": "plate"}, 12.0, 0.0, False),
        (
            {
                "bolting__backing": "plate and washers",
                "bolting__plate_width": reading(400.0, 1.0),
                "bolting__plate_height": reading(80.0, 1.0),
            },
            0.0,
            200.0,
            True,
        ),
    ],
)
def test_the_footprint_is_what_was_chosen_and_else_labelled(
    change: dict[str, object], radius: float, half_width: float, *, firm: bool
) -> None:
    found = footprint_of(hole_case(**change), BoltSize(12.7), RULE)
    assert (found.radius_mm, found.half_width_mm) == (radius, half_width)
    assert found.origin.is_firm is firm
    assert firm == (found.need == "" or found.origin is Origin.CHOSEN)
