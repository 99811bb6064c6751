"""The transom: its two heights, the keel line under a straightedge, leg tables and wedges."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigfit.rigging.plate_height import along_face_mm, square_height_mm
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.transom import (
    GAP_STATIONS_MM,
    LEG_TABLES,
    Bottom,
    combine_heights,
    distance_to_leg_mm,
    keel_shape,
    legs_in_table,
    wedge_deg,
)
from tests.builders import reading

heights = st.floats(350.0, 800.0)
rakes = st.builds(Reading, st.floats(0.0, 25.0), st.floats(0.0, 2.0))
tapes = st.floats(0.0, 10.0)
gap_values = st.lists(st.floats(0.0, 30.0), min_size=5, max_size=5)


def gaps(*values: float, tol: float = 1.0) -> dict[float, Reading]:
    return {
        station: reading(value, tol) for station, value in zip(GAP_STATIONS_MM, values, strict=True)
    }


@given(heights, rakes, tapes)
def test_two_heights_that_agree_leave_the_reading_along_the_face_as_it_is(
    along: float, rake: Reading, tape: float
) -> None:
    face = reading(along, tape)
    square = reading(square_height_mm(along, rake.value), tape)
    found = combine_heights(face, square, rake)
    assert found.along_face is face
    assert not found.conflict


@given(heights, heights, rakes, tapes, tapes)
def test_two_heights_that_disagree_give_the_middle_and_reach_both(
    along: float, square: float, rake: Reading, tape: float, other_tape: float
) -> None:
    found = combine_heights(reading(along, tape), reading(square, other_tape), rake)
    assume(found.conflict)
    assert found.along_face is not None
    used, other = found.along_face, along_face_mm(square, rake.value)
    assert used.value == pytest.approx((along + other) / 2.0, rel=1e-12)
    # Both readings, each with its own limits, lie inside what is used.
    assert (
        used.tolerance
        >= max(abs(along - used.value) + tape, abs(other - used.value) + other_tape) - 1e-9
    )


@given(heights, heights, rakes, tapes)
def test_a_conflict_is_a_disagreement_beyond_its_tolerance(
    along: float, square: float, rake: Reading, tape: float
) -> None:
    found = combine_heights(reading(along, tape), reading(square, tape), rake)
    assert found.disagreement is not None
    assert found.conflict is (abs(found.disagreement.value) > found.disagreement.tolerance)


@given(heights, rakes, tapes)
def test_a_square_height_alone_is_turned_along_the_face(
    square: float, rake: Reading, tape: float
) -> None:
    found = combine_heights(None, reading(square, tape), rake)
    assert found.along_face is not None
    assert found.along_face.value == pytest.approx(along_face_mm(square, rake.value), rel=1e-12)
    assert found.along_face.origin is Origin.MEASURED
    assert found.disagreement is None


@given(heights, st.none() | rakes)
def test_a_height_along_the_face_alone_is_used_as_it_is(along: float, rake: Reading | None) -> None:
    face = reading(along, 3.0)
    found = combine_heights(face, None, rake)
    assert found.along_face is face
    assert found.disagreement is None


def test_a_square_height_without_rake_cannot_be_turned() -> None:
    assert combine_heights(None, reading(500.0, 3.0), None).along_face is None


@given(heights, heights)
def test_without_rake_the_reading_along_the_face_is_not_doubted(
    along: float, square: float
) -> None:
    found = combine_heights(reading(along, 3.0), reading(square, 3.0), None)
    assert found.along_face is not None
    assert (found.along_face.value, found.conflict) == (along, False)


def test_no_reading_gives_no_height() -> None:
    assert combine_heights(None, None, reading(14.0, 1.0)).along_face is None


@given(gap_values, st.floats(-20.0, 20.0), st.floats(-0.02, 0.02))
def test_how_the_straightedge_lies_does_not_matter(
    values: list[float], lifted: float, slope: float
) -> None:
    shape = keel_shape(gaps(*values))
    leaning = keel_shape(
        gaps(
            *(
                value + lifted + slope * station
                for value, station in zip(values, GAP_STATIONS_MM, strict=True)
            )
        )
    )
    assert shape is not None
    assert leaning is not None
    assert leaning.depth.value == pytest.approx(shape.depth.value, abs=1e-9)


@given(gap_values, st.floats(0.1, 10.0))
def test_a_hollow_as_many_times_as_deep_is_found_as_many_times_as_deep(
    values: list[float], times: float
) -> None:
    shape, deeper = keel_shape(gaps(*values)), keel_shape(gaps(*(times * v for v in values)))
    assert shape is not None
    assert deeper is not None
    assert deeper.depth.value == pytest.approx(times * shape.depth.value, rel=1e-9, abs=1e-9)


@given(gap_values)
def test_hook_and_rocker_are_each_other_upside_down(values: list[float]) -> None:
    shape, flipped = keel_shape(gaps(*values)), keel_shape(gaps(*(30.0 - v for v in values)))
    assert shape is not None
    assert flipped is not None
    # Two stations equally deep, one up and one down, may come out either way round.
    departures = [
        v - values[0] - (values[-1] - values[0]) * s / 900.0
        for v, s in zip(values, GAP_STATIONS_MM, strict=True)
    ][1:-1]
    assume(abs(max(departures) + min(departures)) > 1e-6)
    opposite = {Bottom.HOOK: Bottom.ROCKER, Bottom.ROCKER: Bottom.HOOK}
    assert flipped.bottom is opposite.get(shape.bottom, Bottom.STRAIGHT)


@pytest.mark.parametrize(
    ("values", "bottom", "depth", "station"),
    [
        ((0.0, 0.0, 0.0, 0.0, 0.0), Bottom.STRAIGHT, 0.0, None),
        ((0.0, 2.0, 5.0, 2.0, 0.0), Bottom.HOOK, 5.0, 300.0),
        ((6.0, 3.0, 0.0, 3.0, 6.0), Bottom.ROCKER, 6.0, 300.0),
        ((9.0, 7.5, 6.0, 3.0, 0.0), Bottom.STRAIGHT, 0.0, None),
        ((9.0, 7.5, 6.0, 8.0, 0.0), Bottom.HOOK, 5.0, 600.0),
        ((0.0, 1.0, 1.0, 1.0, 0.0), Bottom.STRAIGHT, 1.0, None),
    ],
)
def test_the_shape_of_plain_cases_worked_by_hand(
    values: tuple[float, ...], bottom: Bottom, depth: float, station: float | None
) -> None:
    shape = keel_shape(gaps(*values))
    assert shape is not None
    assert (shape.bottom, shape.depth.value) == (bottom, pytest.approx(depth, abs=1e-12))
    assert station in (None, shape.station_mm)


@pytest.mark.parametrize(
    "stations",
    [(), (0.0,), (0.0, 900.0), (0.0, 600.0), (0.0, 150.0, 300.0), (150.0, 300.0, 600.0, 900.0)],
)
def test_too_few_stations_tell_nothing(stations: tuple[float, ...]) -> None:
    assert keel_shape({station: reading(1.0, 1.0) for station in stations}) is None


@pytest.mark.parametrize("stations", [(0.0, 300.0, 600.0), (0.0, 150.0, 900.0)])
def test_three_stations_over_600_mm_are_enough(stations: tuple[float, ...]) -> None:
    assert keel_shape({station: reading(1.0, 1.0) for station in stations}) is not None


@given(st.sampled_from(sorted(LEG_TABLES)), st.floats(300.0, 800.0))
def test_a_height_is_in_a_leg_band_exactly_when_its_distance_is_not_negative(
    table: str, height: float
) -> None:
    answered = legs_in_table(table, height)
    inside = {
        band.leg_mm
        for band in LEG_TABLES[table]
        if (distance_to_leg_mm(table, height, band.leg_mm) or 0.0) >= 0.0
    }
    assert set(answered) == inside


# Source: the two trade tables, read; what lies between their bands has no answer in them.
@pytest.mark.parametrize(
    ("table", "inches"),
    [
        ("leg-table-a", 13.9),
        ("leg-table-a", 17.3),
        ("leg-table-a", 19.4),
        ("leg-table-a", 27.1),
        ("leg-table-b", 14.9),
        ("leg-table-b", 18.0),
        ("leg-table-b", 22.5),
        ("leg-table-b", 27.0),
        ("leg-table-b", 29.9),
    ],
)
def test_a_gap_of_a_table_is_answered_with_nothing(table: str, inches: float) -> None:
    assert legs_in_table(table, inches * 25.4) == ()


def test_a_leg_that_a_table_does_not_list_has_no_distance() -> None:
    assert distance_to_leg_mm("leg-table-a", 760.0, 762.0) is None


# Stocked wedges are 3 and 5 deg (read); rakes of 12 to 16 deg are accepted (from memory).
@pytest.mark.parametrize(
    ("rake", "wedge"),
    [
        (12.0, 0.0),
        (14.0, 0.0),
        (16.0, 0.0),
        (11.0, 3.0),
        (9.0, 3.0),
        (8.9, 5.0),
        (7.0, 5.0),
        (3.0, 5.0),
        (17.0, -3.0),
        (19.0, -3.0),
        (19.1, -5.0),
        (21.0, -5.0),
        (26.0, -5.0),
    ],
)
def test_the_wedge_for_a_rake(rake: float, wedge: float) -> None:
    assert wedge_deg(rake) == wedge


@given(st.floats(7.0, 21.0))
def test_within_reach_of_the_stocked_wedges_the_rake_comes_right(rake: float) -> None:
    slack = 1e-9  # deg, for 7 + 5 and the like in binary
    assert 12.0 - slack <= rake + wedge_deg(rake) <= 16.0 + slack


@given(st.floats(-10.0, 35.0))
def test_a_wedge_never_makes_a_rake_worse(rake: float) -> None:
    off = abs(rake + wedge_deg(rake) - 14.0)
    assert off <= abs(rake - 14.0)
