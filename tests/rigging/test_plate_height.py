"""The plate's height: properties of the one equation, and a rigid body turned independently."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from rigfit.rigging.bracket import Arms
from rigfit.rigging.plate_height import (
    Rig,
    along_face,
    along_face_mm,
    outward,
    plate_angles_deg,
    raise_off_centre_mm,
    square_height_mm,
)

# Sums of lengths up to some metres in double precision; far below anything a tape can see.
EXACT_MM = 1e-8

rakes = st.floats(-10.0, 35.0)
shifts = st.floats(-300.0, 300.0)
offsets = st.floats(-1500.0, 1500.0)
deadrises = st.floats(0.0, 30.0)
rigs = st.builds(
    Rig,
    height_face_mm=st.floats(200.0, 1100.0),
    rake_deg=rakes,
    leg_mm=st.floats(300.0, 900.0),
    lift_mm=st.floats(0.0, 200.0),
    setback_mm=st.floats(0.0, 800.0),
    arms=st.sampled_from(Arms),
    axis_out_mm=st.floats(-100.0, 100.0),
    axis_up_mm=st.floats(0.0, 150.0),
    leg_rake_deg=st.floats(8.0, 18.0),
)


def near(value: float) -> object:
    return pytest.approx(value, abs=EXACT_MM)


@given(rakes)
def test_the_axes_of_the_face_are_square_to_each_other_and_of_unit_length(rake: float) -> None:
    up, out = np.array(along_face(rake)), np.array(outward(rake))
    assert np.allclose([up @ up, out @ out, up @ out], [1.0, 1.0, 0.0], rtol=0.0, atol=1e-12)


@given(rakes)
def test_up_the_face_turns_a_quarter_clockwise_into_outward(rake: float) -> None:
    (tx, tz), out = along_face(rake), outward(rake)
    assert out == (tz, -tx)


@pytest.mark.parametrize("field", ["height_face_mm", "lift_mm"])
@given(rig=rigs, by=shifts)
def test_a_shift_along_the_face_moves_the_plate_by_its_square_part(
    field: str, rig: Rig, by: float
) -> None:
    moved = replace(rig, **{field: getattr(rig, field) + by})
    risen = moved.plate_height_mm() - rig.plate_height_mm()
    assert risen == near(by * math.cos(math.radians(rig.rake_deg)))


@given(rigs, shifts)
def test_a_longer_leg_lowers_the_plate_by_as_much(rig: Rig, by: float) -> None:
    longer = replace(rig, leg_mm=rig.leg_mm + by)
    assert longer.plate_height_mm() - rig.plate_height_mm() == near(-by)


@given(rigs)
def test_on_an_upright_transom_heights_simply_add_up(rig: Rig) -> None:
    upright = replace(rig, rake_deg=0.0, leg_rake_deg=0.0)
    simple = rig.height_face_mm + rig.lift_mm - rig.leg_mm
    assert upright.plate_height_mm() == near(simple)


@given(rigs, shifts, shifts)
def test_the_tilt_axis_does_not_matter_at_the_rake_of_the_leg(
    rig: Rig, out: float, up: float
) -> None:
    level = replace(rig, rake_deg=rig.leg_rake_deg)
    elsewhere = replace(level, axis_out_mm=out, axis_up_mm=up)
    assert elsewhere.plate_height_mm() == near(level.plate_height_mm())


def turned_plate_height_mm(rig: Rig) -> float:
    """Build bracket and engine as points at the leg's rake, turn them as rigid bodies, and read.

    Independent of the equation: the whole engine is turned with the face about the seat, then the
    engine alone about its tilt axis, until two points of the plate are level again.
    """
    stated = math.radians(rig.leg_rake_deg)
    axis = rig.axis_out_mm * np.array([math.cos(stated), 0.0, -math.sin(stated)])
    axis += rig.axis_up_mm * np.array([math.sin(stated), 0.0, math.cos(stated)])
    plate = np.array([[100.0, 0.0, -rig.leg_mm], [400.0, 0.0, -rig.leg_mm]])
    # A turn about +y carries z towards x, which is how a growing rake leans the top aft.
    with_face = Rotation.from_euler("y", rig.rake_deg - rig.leg_rake_deg, degrees=True)
    axis, plate = with_face.apply(axis), with_face.apply(plate)
    fore_aft = plate[1] - plate[0]
    level = Rotation.from_euler("y", math.atan2(fore_aft[2], fore_aft[0]))
    plate = level.apply(plate - axis) + axis
    assert plate[0, 2] == pytest.approx(plate[1, 2], abs=EXACT_MM)  # it is level indeed
    face = Rotation.from_euler("y", rig.rake_deg, degrees=True)
    back = face if rig.arms is Arms.SQUARE else Rotation.identity()
    seat = face.apply([0.0, 0.0, rig.height_face_mm + rig.lift_mm])
    return float((seat + back.apply([rig.setback_mm, 0.0, 0.0]) + plate[0])[2])


@given(rigs)
def test_the_height_is_that_of_a_rigid_engine_turned_until_its_plate_is_level(rig: Rig) -> None:
    assert rig.plate_height_mm() == near(turned_plate_height_mm(rig))


@given(rigs, st.floats(0.01, 200.0))
def test_a_higher_row_never_lowers_the_plate(rig: Rig, up: float) -> None:
    assert replace(rig, lift_mm=rig.lift_mm + up).plate_height_mm() > rig.plate_height_mm()


@given(rigs, st.floats(0.0, 800.0))
def test_level_arms_leave_the_plate_where_it_is(rig: Rig, setback: float) -> None:
    level = replace(rig, arms=Arms.LEVEL, setback_mm=0.0)
    back = replace(level, setback_mm=setback)
    assert back.plate_height_mm() == near(level.plate_height_mm())


@given(rigs, st.floats(0.0, 800.0))
def test_square_arms_lower_the_plate_by_setback_times_the_sine_of_rake(
    rig: Rig, setback: float
) -> None:
    at_face = replace(rig, arms=Arms.SQUARE, setback_mm=0.0)
    back = replace(at_face, setback_mm=setback)
    sunk = at_face.plate_height_mm() - back.plate_height_mm()
    assert sunk == near(setback * math.sin(math.radians(rig.rake_deg)))


@given(rigs)
def test_the_tilt_axis_keeps_its_place_on_the_bracket(rig: Rig) -> None:
    from_seat = np.subtract(rig.axis(), rig.seat())
    parts = from_seat @ outward(rig.rake_deg), from_seat @ along_face(rig.rake_deg)
    assert parts == near((rig.axis_out_mm, rig.axis_up_mm))


@given(st.floats(200.0, 1100.0), rakes)
def test_the_height_along_the_face_and_back_is_the_same(height: float, rake: float) -> None:
    assert along_face_mm(square_height_mm(height, rake), rake) == pytest.approx(height, rel=1e-12)


@given(st.floats(200.0, 1100.0), rakes)
def test_a_tape_down_the_face_never_reads_less(square: float, rake: float) -> None:
    assert along_face_mm(square, rake) >= square


@given(offsets, deadrises)
def test_port_and_starboard_are_raised_alike(offset: float, deadrise: float) -> None:
    raised = raise_off_centre_mm(offset, deadrise)
    assert raised == raise_off_centre_mm(-offset, deadrise)
    assert raised >= 0.0


@given(offsets, deadrises, st.floats(0.1, 10.0))
def test_the_raise_grows_in_step_with_the_offset(
    offset: float, deadrise: float, times: float
) -> None:
    wider = raise_off_centre_mm(times * offset, deadrise)
    assert wider == near(times * raise_off_centre_mm(offset, deadrise))


# Raise in mm per 100 mm of offset, to whole millimetres. Source: the trade's rule of offset times
# the tangent of deadrise (read). The figures as collected say 33 at 18 deg, a slip in rounding:
# 100 tan 18 deg = 32.492. The three others agree.
@pytest.mark.parametrize(("deadrise", "raised"), [(12, 21), (18, 32), (20, 36), (22, 40)])
def test_the_raise_per_100_mm_follows_the_rule_of_the_trade(deadrise: int, raised: int) -> None:
    assert round(raise_off_centre_mm(100.0, deadrise)) == raised


@given(rakes, st.floats(8.0, 18.0))
def test_more_rake_tucks_the_engine_further_under(rake: float, stated: float) -> None:
    low, high = plate_angles_deg(-4.0, 16.0, rake, stated)
    assert high - low == pytest.approx(20.0, abs=1e-9)
    assert low == pytest.approx(-4.0 - (rake - stated), abs=1e-9)


@given(rigs, st.floats(0.1, 5.0))
def test_more_rake_under_the_same_engine_never_lifts_the_seat(rig: Rig, more: float) -> None:
    assume(rig.rake_deg >= 0.0)
    leaning = replace(rig, rake_deg=rig.rake_deg + more)
    assert leaning.seat()[1] < rig.seat()[1]
