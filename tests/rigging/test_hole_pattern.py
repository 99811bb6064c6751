"""Where a bracket's holes land on the transom."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point

from rigfit.rigging.case import measured_pattern
from rigfit.rigging.hole_pattern import Feature, HolePattern, diagonal_mm, drilled_features
from tests.builders import CATALOGUE, reading, sample_engine

PATTERN = CATALOGUE.hole_pattern("four-bolt")
CLAMP = CATALOGUE.hole_pattern("clamp")

tops = st.floats(20.0, 400.0)
offsets = st.floats(-1500.0, 1500.0)
patterns = st.builds(
    HolePattern,
    id=st.just("any"),
    name=st.just("any"),
    source=st.just("class"),
    upper_rows_mm=st.just((50.0, 69.0)),
    upper_spacing_mm=st.floats(50.0, 700.0),
    lower_below_upper_mm=st.floats(50.0, 600.0),
    lower_spacing_mm=st.floats(50.0, 700.0),
    hole_mm=st.floats(6.0, 20.0),
)


def by_name(features: tuple[Feature, ...]) -> dict[str, Feature]:
    return {feature.name: feature for feature in features}


def test_a_bolted_engine_needs_four_holes_in_two_rows() -> None:
    names = [feature.name for feature in drilled_features(PATTERN, 48.0)]
    assert names == ["upper port", "upper starboard", "lower port", "lower starboard"]


@given(patterns, tops, offsets)
def test_port_and_starboard_mirror_each_other_about_the_engine(
    pattern: HolePattern, top: float, off: float
) -> None:
    found = by_name(drilled_features(pattern, top, off))
    for row in ("upper", "lower"):
        port, starboard = found[f"{row} port"], found[f"{row} starboard"]
        assert port.across_mm + starboard.across_mm == pytest.approx(2.0 * off, abs=1e-9)
        assert port.across_mm < starboard.across_mm
        assert port.below_top_mm == starboard.below_top_mm


@given(patterns, tops, offsets)
def test_an_engine_as_far_to_the_other_side_has_the_mirror_image(
    pattern: HolePattern, top: float, off: float
) -> None:
    here = {(f.across_mm, f.below_top_mm) for f in drilled_features(pattern, top, off)}
    there = {(-f.across_mm, f.below_top_mm) for f in drilled_features(pattern, top, -off)}
    assert here == there


@given(patterns, tops, offsets)
def test_the_rows_keep_their_spacing_and_distance(
    pattern: HolePattern, top: float, off: float
) -> None:
    found = by_name(drilled_features(pattern, top, off))
    wide = found["upper starboard"].across_mm - found["upper port"].across_mm
    narrow = found["lower starboard"].across_mm - found["lower port"].across_mm
    assert (wide, narrow) == pytest.approx(
        (pattern.upper_spacing_mm, pattern.lower_spacing_mm), abs=1e-9
    )
    assert found["lower port"].below_top_mm - top == pytest.approx(
        pattern.lower_below_upper_mm, abs=1e-9
    )


@given(patterns, tops, offsets)
def test_both_diagonals_are_alike_and_those_of_the_trapezium(
    pattern: HolePattern, top: float, off: float
) -> None:
    found = by_name(drilled_features(pattern, top, off))
    falling = diagonal_mm(found["upper port"], found["lower starboard"])
    rising = diagonal_mm(found["lower port"], found["upper starboard"])
    half = (pattern.upper_spacing_mm + pattern.lower_spacing_mm) / 2.0
    assert falling == pytest.approx(rising, rel=1e-9)
    assert falling == pytest.approx(math.hypot(half, pattern.lower_below_upper_mm), rel=1e-9)


@given(patterns, tops, offsets)
def test_a_diagonal_is_what_shapely_measures(pattern: HolePattern, top: float, off: float) -> None:
    first, *_, last = drilled_features(pattern, top, off)
    ends = [Point(f.across_mm, f.below_top_mm) for f in (first, last)]
    assert diagonal_mm(first, last) == pytest.approx(LineString(ends).length, rel=1e-9)


@given(patterns, tops)
def test_every_hole_is_drilled_to_the_patterns_diameter(pattern: HolePattern, top: float) -> None:
    assert {f.diameter_mm for f in drilled_features(pattern, top)} == {pattern.hole_mm}


def test_a_clamp_bracket_has_no_holes_to_drill() -> None:
    assert not CLAMP.is_bolted
    with pytest.raises(ValueError, match="clamp"):
        drilled_features(CLAMP, 48.0)


def test_an_engine_without_readings_has_the_pattern_of_its_class() -> None:
    bare = sample_engine(
        first_row=None, row_pitch=None, upper_spacing=None, lower_spacing=None, upper_to_lower=None
    )
    assert measured_pattern(PATTERN, bare) is PATTERN


@given(st.floats(20.0, 200.0), st.floats(10.0, 60.0))
def test_measured_rows_replace_those_of_the_class(first: float, pitch: float) -> None:
    engine = sample_engine(first_row=reading(first), row_pitch=reading(pitch))
    rows = measured_pattern(PATTERN, engine).upper_rows_mm
    assert rows == pytest.approx([first + index * pitch for index in range(4)], abs=1e-9)


@given(st.floats(20.0, 200.0))
def test_a_measured_first_hole_shifts_the_rows_of_the_class(first: float) -> None:
    engine = sample_engine(first_row=reading(first), row_pitch=None)
    rows = measured_pattern(PATTERN, engine).upper_rows_mm
    steps = [row - rows[0] for row in rows]
    assert rows[0] == first
    assert steps == pytest.approx([row - 50.8 for row in PATTERN.upper_rows_mm], abs=1e-9)


def test_measured_spacings_replace_those_of_the_class() -> None:
    pattern = measured_pattern(PATTERN, sample_engine())
    found = pattern.upper_spacing_mm, pattern.lower_spacing_mm, pattern.lower_below_upper_mm
    assert found == (327.0, 251.0, 203.0)


def test_rows_are_not_given_to_a_bracket_that_has_none() -> None:
    assert measured_pattern(CLAMP, sample_engine()).upper_rows_mm == ()
