"""Holes found by tape from fixed points: circles that meet, least squares, tapes that cannot."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from rigfit.errors import EntryError
from rigfit.rigging.readings import Reading
from rigfit.rigging.transom_map import TransomFace
from rigfit.rigging.trilateration import FixedPoint, Position, Side, Tape, fixed_points, locate
from tests.builders import reading

A = FixedPoint("the port screw", reading(-300.0), reading(0.0))
B = FixedPoint("the starboard screw", reading(300.0), reading(0.0))
C = FixedPoint("the keel screw", reading(10.0), reading(480.0))
spots = st.tuples(st.floats(-600.0, 600.0), st.floats(5.0, 500.0))


def to(point: FixedPoint, spot: tuple[float, float], more: float = 0.0, tol: float = 0.0) -> Tape:
    """Return a tape from a point to a spot, ``more`` too long."""
    away = math.hypot(spot[0] - point.across.value, spot[1] - point.below.value)
    return Tape(point, Reading(away + more, tol))


def found(position: Position) -> tuple[float, float]:
    return position.across.value, position.below.value


@given(spots)
def test_two_tapes_find_the_spot_they_were_read_to(spot: tuple[float, float]) -> None:
    position = locate([to(A, spot), to(B, spot)])
    # Near the line of the points a rounding of the tapes moves the place by its square root.
    assert found(position) == pytest.approx(spot, abs=1e-6 + 1e-9 / spot[1])
    assert position.residual_mm == pytest.approx(0.0, abs=1e-6)


@given(spots)
def test_the_mirror_solution_is_told_apart_by_the_side(spot: tuple[float, float]) -> None:
    above = locate([to(A, spot), to(B, spot)], Side.ABOVE)
    assert found(above) == pytest.approx((spot[0], -spot[1]), abs=1e-5)


@given(spots, st.floats(-200.0, 200.0))
def test_moving_points_and_spot_alike_moves_the_answer(
    spot: tuple[float, float], by: float
) -> None:
    def moved(point: FixedPoint) -> FixedPoint:
        return replace(point, across=point.across.moved(by))

    there = (spot[0] + by, spot[1])
    position = locate([to(moved(A), there), to(moved(B), there)])
    assert found(position) == pytest.approx(there, abs=1e-5)


@given(spots)
def test_port_and_starboard_mirror_each_other(spot: tuple[float, float]) -> None:
    here = locate([to(A, spot, tol=2.0), to(B, spot, tol=2.0)])
    turned = (-spot[0], spot[1])
    there = locate([to(A, turned, tol=2.0), to(B, turned, tol=2.0)])
    assert there.across.value == pytest.approx(-here.across.value, abs=1e-5)
    assert there.across.tolerance == pytest.approx(here.across.tolerance, rel=1e-6)
    assert there.below.tolerance == pytest.approx(here.below.tolerance, rel=1e-6)


@settings(max_examples=150)
@given(spots, st.lists(st.floats(-4.0, 4.0), min_size=3, max_size=3))
def test_three_tapes_are_settled_as_scipy_settles_them(
    spot: tuple[float, float], errors: list[float]
) -> None:
    tapes = [to(point, spot, more) for point, more in zip((A, B, C), errors, strict=True)]
    assume(all(tape.distance.value > 20.0 for tape in tapes))

    def misses(place: list[float]) -> list[float]:
        return [
            tape.distance.value
            - math.hypot(
                place[0] - tape.point.across.value, place[1] - tape.point.below.value
            )
            for tape in tapes
        ]  # fmt: skip

    try:
        position = locate(tapes)
    except EntryError:
        assume(False)  # the tapes were made too short to meet
    other = least_squares(misses, spot, xtol=1e-14, ftol=1e-14, gtol=1e-14)
    mine = math.fsum(miss * miss for miss in misses(list(found(position))))
    assert mine <= 2.0 * other.cost + 1e-6
    assert position.residual_mm == pytest.approx(math.sqrt(mine / 3.0), abs=1e-6)


@settings(max_examples=60)
@given(spots)
def test_three_tapes_that_agree_leave_no_residual(spot: tuple[float, float]) -> None:
    position = locate([to(A, spot), to(B, spot), to(C, spot)])
    assert found(position) == pytest.approx(spot, abs=1e-4)
    assert position.residual_mm < 1e-4


# ------------------------------------------------------------------- tolerances


def test_at_right_angles_each_tape_moves_the_place_by_its_own_tolerance() -> None:
    """From points 600 apart a spot 300 below their middle is seen at a right angle."""
    position = locate([to(A, (0.0, 300.0), tol=3.0), to(B, (0.0, 300.0), tol=3.0)])
    expected = 2.0 * 3.0 / math.sqrt(3.0)
    assert position.across.tolerance == pytest.approx(expected, rel=1e-3)
    assert position.below.tolerance == pytest.approx(expected, rel=1e-3)
    assert position.warnings == ()


@given(spots, st.floats(0.1, 3.0))
def test_a_wider_tape_never_makes_the_place_surer(spot: tuple[float, float], tol: float) -> None:
    assume(spot[1] > 60.0)
    narrow = locate([to(A, spot, tol=tol), to(B, spot, tol=tol)])
    wide = locate([to(A, spot, tol=2.0 * tol), to(B, spot, tol=2.0 * tol)])
    assert wide.across.tolerance > narrow.across.tolerance
    assert wide.below.tolerance > narrow.below.tolerance


def test_the_doubt_of_a_fixed_point_counts_too() -> None:
    unsure = replace(A, across=reading(-300.0, 3.0))
    spot = (40.0, 250.0)
    plain = locate([to(A, spot, tol=1.0), to(B, spot, tol=1.0)])
    position = locate([to(unsure, spot, tol=1.0), to(B, spot, tol=1.0)])
    assert position.across.tolerance > plain.across.tolerance


def test_tapes_that_cross_flat_are_warned_of() -> None:
    position = locate([to(A, (0.0, 20.0), tol=3.0), to(B, (0.0, 20.0), tol=3.0)])
    assert max(position.across.tolerance, position.below.tolerance) > 10.0
    assert any("flat" in warning.text for warning in position.warnings)


def test_a_tape_that_disagrees_with_the_others_is_named() -> None:
    spot = (60.0, 250.0)
    tapes = [to(A, spot, tol=1.0), to(B, spot, tol=1.0), to(C, spot, more=40.0, tol=1.0)]
    position = locate(tapes)
    assert position.residual_mm > 5.0
    assert any("measure it again" in warning.text for warning in position.warnings)


def test_a_third_tape_makes_the_place_surer() -> None:
    spot = (60.0, 250.0)
    two = locate([to(A, spot, tol=3.0), to(B, spot, tol=3.0)])
    three = locate([to(A, spot, tol=3.0), to(B, spot, tol=3.0), to(C, spot, tol=3.0)])
    assert three.below.tolerance < two.below.tolerance


# ------------------------------------------------------------------- tapes that cannot


def refused(tapes: list[Tape], side: Side = Side.BELOW) -> str:
    with pytest.raises(EntryError) as caught:
        locate(tapes, side)
    return caught.value.sentence()


def test_tapes_too_short_to_meet_say_by_how_much() -> None:
    words = refused([Tape(A, reading(288.0, 0.0)), Tape(B, reading(300.0, 0.0))])
    assert "too short by 12 mm to meet" in words


def test_tapes_too_short_by_no_more_than_their_tolerance_meet_on_the_line() -> None:
    position = locate([Tape(A, reading(299.0, 3.0)), Tape(B, reading(299.0, 3.0))])
    assert found(position) == pytest.approx((0.0, 0.0), abs=1.0)


def test_a_tape_too_long_to_meet_the_other_is_named() -> None:
    words = refused([Tape(A, reading(950.0, 0.0)), Tape(B, reading(300.0, 0.0))])
    assert "the port screw is too long by 50 mm" in words


@pytest.mark.parametrize(
    ("tapes", "words"),
    [
        ([], "no tape"),
        ([to(A, (0.0, 100.0))], "one tape"),
        ([to(A, (0.0, 100.0)), to(A, (0.0, 100.0))], "the same place"),
        ([Tape(A, reading(0.0)), to(B, (0.0, 100.0))], "more than 0"),
        ([Tape(A, reading(-5.0)), to(B, (0.0, 100.0))], "more than 0"),
        ([Tape(A, reading(math.inf)), to(B, (0.0, 100.0))], "measure again"),
    ],
)
def test_what_gives_no_position_is_refused_with_a_cure(tapes: list[Tape], words: str) -> None:
    assert words in refused(tapes)


def test_points_one_above_the_other_want_port_or_starboard() -> None:
    low = FixedPoint("the lower screw", reading(-300.0), reading(400.0))
    spot = (-100.0, 200.0)
    tapes = [to(A, spot), to(low, spot)]
    assert "port or starboard" in refused(tapes)
    assert found(locate(tapes, Side.STARBOARD)) == pytest.approx(spot)
    assert found(locate(tapes, Side.PORT)) == pytest.approx((-500.0, 200.0))


def test_the_points_of_the_job_are_those_filled_in() -> None:
    assert fixed_points(TransomFace()) == ()
    face = TransomFace(point_a_across=reading(-300.0), point_a_below=reading(0.0))
    assert [point.across.value for point in fixed_points(face)] == [-300.0]
    half = replace(face, point_b_across=reading(300.0))
    assert len(fixed_points(half)) == 1
    both = fixed_points(replace(half, point_b_below=reading(0.0)))
    assert [point.name for point in both] == ["first fixed point", "second fixed point"]
