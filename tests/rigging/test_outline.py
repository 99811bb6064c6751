"""The side outline: a rigid body whose plate is exactly where the height says."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon, affinity

from rigfit.rigging.bracket import Arms
from rigfit.rigging.outboard import EngineClass
from rigfit.rigging.outline import Outline, axis_in_level_frame, level_outline, placed
from rigfit.rigging.plate_height import Rig
from tests.builders import BOLTED, CATALOGUE, CLAMPED

ENGINES = tuple(CATALOGUE.engine_classes.values())

engines = st.sampled_from(ENGINES)
legs = st.floats(381.0, 787.0)
turns = st.floats(-90.0, 90.0)


def assert_same(found: Outline, expected: Outline) -> None:
    """Fail unless every point of both outlines is the same to a hundred-millionth of a mm."""
    assert found.parts.keys() == expected.parts.keys()
    for part, polygon in expected.parts.items():
        np.testing.assert_allclose(found.parts[part], polygon, rtol=0.0, atol=1e-8)


@st.composite
def rigs(draw: st.DrawFn, engine_id: str = BOLTED) -> Rig:
    """A rig of one sample class on any transom."""
    engine = CATALOGUE.engine_class(engine_id)
    return Rig(
        height_face_mm=draw(st.floats(350.0, 800.0)),
        rake_deg=draw(st.floats(-5.0, 25.0)),
        leg_mm=draw(legs),
        lift_mm=draw(st.floats(0.0, 100.0)),
        setback_mm=draw(st.floats(0.0, 700.0)),
        arms=draw(st.sampled_from(Arms)),
        axis_out_mm=engine.axis_out_mm,
        axis_up_mm=engine.axis_up_mm,
        leg_rake_deg=engine.leg_rake_deg,
    )


@pytest.mark.parametrize("engine_id", [BOLTED, CLAMPED])
@given(data=st.data())
def test_the_underside_of_the_placed_plate_is_at_the_computed_height(
    engine_id: str, data: st.DataObject
) -> None:
    rig = data.draw(rigs(engine_id))
    plate = placed(CATALOGUE.engine_class(engine_id), rig).parts["plate"]
    assert min(z for _, z in plate) == pytest.approx(rig.plate_height_mm(), abs=1e-8)


@given(engines, legs)
def test_the_underside_of_the_level_plate_is_a_leg_below_the_seat(
    engine: EngineClass, leg: float
) -> None:
    plate = level_outline(engine.sizes, leg).parts["plate"]
    assert min(z for _, z in plate) == -leg


@pytest.mark.parametrize("engine", ENGINES, ids=lambda engine: engine.id)
@given(leg=legs)
def test_every_part_is_a_simple_polygon(engine: EngineClass, leg: float) -> None:
    shapes = {name: Polygon(ring) for name, ring in level_outline(engine.sizes, leg).parts.items()}
    assert [name for name, shape in shapes.items() if not shape.is_valid] == []
    assert min(shape.area for shape in shapes.values()) > 0.0


@given(rigs(), st.sampled_from([0.0, 360.0, -360.0]))
def test_no_turn_and_a_full_turn_change_nothing(rig: Rig, tilt: float) -> None:
    level = placed(CATALOGUE.engine_class(BOLTED), rig)
    assert_same(level.turned(rig.axis(), tilt), level)


@given(rigs(), turns)
def test_a_tilted_part_keeps_its_area_and_the_length_of_its_edge(rig: Rig, tilt: float) -> None:
    engine = CATALOGUE.engine_class(BOLTED)
    level, tilted = placed(engine, rig), placed(engine, rig, tilt)
    for part, ring in level.parts.items():
        before, after = Polygon(ring), Polygon(tilted.parts[part])
        assert (after.area, after.length) == pytest.approx((before.area, before.length), rel=1e-9)


@given(rigs(), turns)
def test_tilting_is_shapelys_rotation_about_the_axis(rig: Rig, tilt: float) -> None:
    engine = CATALOGUE.engine_class(BOLTED)
    expected = {
        name: tuple(
            (point.x, point.y)
            for point in affinity.rotate(MultiPoint(ring), tilt, origin=rig.axis()).geoms
        )
        for name, ring in placed(engine, rig).parts.items()
    }
    assert_same(placed(engine, rig, tilt), Outline(expected))


@given(rigs(), st.floats(1.0, 60.0))
def test_tilting_up_swings_the_propeller_aft_and_up(rig: Rig, tilt: float) -> None:
    engine = CATALOGUE.engine_class(BOLTED)
    level, tilted = (
        Polygon(placed(engine, rig, angle).parts["propeller"]).centroid for angle in (0.0, tilt)
    )
    assert tilted.y > level.y
    # Aft as long as the shaft has not come up to the height of the tilt axis.
    below, behind = rig.axis()[1] - level.y, level.x - rig.axis()[0]
    if tilt < math.degrees(math.atan2(below, behind)):
        assert tilted.x > level.x


@given(rigs())
def test_the_axis_of_the_placed_engine_is_that_of_the_rig(rig: Rig) -> None:
    engine = CATALOGUE.engine_class(BOLTED)
    home = axis_in_level_frame(engine)
    front = level_outline(engine.sizes, rig.leg_mm).parts["plate"][0]
    moved = placed(engine, rig).parts["plate"][0]
    assert (moved[0] - front[0] + home[0], moved[1] - front[1] + home[1]) == pytest.approx(
        rig.axis(), abs=1e-8
    )


@given(engines, legs, st.tuples(st.floats(-500.0, 500.0), st.floats(-500.0, 500.0)))
def test_moving_there_and_back_changes_nothing(
    engine: EngineClass, leg: float, by: tuple[float, float]
) -> None:
    level = level_outline(engine.sizes, leg)
    assert_same(level.moved(by).moved((-by[0], -by[1])), level)


@pytest.mark.parametrize("engine", ENGINES, ids=lambda engine: engine.id)
def test_the_parts_hang_together_from_cowl_to_skeg(engine: EngineClass) -> None:
    parts = level_outline(engine.sizes, 508.0).parts
    shapes = {name: Polygon(polygon) for name, polygon in parts.items()}
    chain = ("cowl", "pan", "leg", "plate", "strut", "gearcase", "skeg")
    apart = [(a, b) for a, b in itertools.pairwise(chain) if not shapes[a].intersects(shapes[b])]
    assert apart == []
