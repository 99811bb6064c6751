"""Many equilibria at once: equal to the scalar search, and to a box barge in closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.float_arrays import ManyFloating, equilibria
from rigfit.rigging.flotation import Load, Plane, Pod, PointMass, equilibrium
from rigfit.rigging.hull_form import HullForm, few_measures_form
from rigfit.rigging.margins import heights_mm, margin_curve, with_mass
from tests.rigging.afloat_jobs import FEW, floated

FORM = few_measures_form(FEW)
START = Plane(250.0, -0.01)
NEAR_MM = 1e-6


def box(long: float, wide: float, deep: float) -> HullForm:
    half = wide / 2.0
    return HullForm(long, (((0.0, 0.0), (half, 0.0), (half, deep)),) * 21)


def corners(form: HullForm) -> list[tuple[float, float, float]]:
    """Return places at both ends and both sides, where a plane that is off shows most."""
    wide, top = form.half_beam_mm(), form.top_mm()
    return [(x, y, z) for x in (0.0, form.length_mm) for y in (-wide, wide) for z in (0.0, top)]


def same(form: HullForm, many: ManyFloating, row: int, alone: Plane) -> None:
    found = many.above_mm(corners(form))[row]
    wanted = [alone.above_mm(*place) for place in corners(form)]
    assert np.abs(found - wanted).max() < NEAR_MM


loads = st.builds(
    Load,
    mass_kg=st.floats(150.0, 2500.0),
    ahead_mm=st.floats(1200.0, 3200.0),
    above_mm=st.floats(200.0, 600.0),
    across_mm=st.one_of(st.just(0.0), st.floats(-60.0, 60.0)),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(loads, min_size=1, max_size=6))
def test_all_together_as_each_alone(many_loads: list[Load]) -> None:
    many = equilibria(FORM, many_loads, 1.025, START)
    for row, load in enumerate(many_loads):
        try:
            alone = equilibrium(FORM, load, 1.025, start=START)
        except JobError:
            assert not many.floats[row]
            continue
        assert many.floats[row]
        same(FORM, many, row, alone.plane)


@settings(max_examples=30, deadline=None)
@given(loads, st.floats(20.0, 200.0), st.floats(-600.0, -100.0), st.floats(-50.0, 250.0))
def test_a_pod_lifts_alike(load: Load, litres: float, ahead: float, bottom: float) -> None:
    pods = (Pod(litres, ahead, bottom, 300.0),)
    many = equilibria(FORM, [load], 1.0, START, pods)
    try:
        alone = equilibrium(FORM, load, 1.0, pods, START)
    except JobError:
        assert not many.floats[0]
        return
    assert many.floats[0]
    same(FORM, many, 0, alone.plane)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(3000.0, 7000.0),
    st.floats(1200.0, 2500.0),
    st.floats(0.1, 0.6),
    st.floats(-0.02, 0.02),
    st.floats(-0.02, 0.02),
)
def test_a_box_barge_in_closed_form(
    long: float, wide: float, share: float, off: float, side: float
) -> None:
    """Trim and list of a box whose corners all stay as they are, wet below and dry above.

    Textbook: KB, BM and BML of a box; exact for an inclined water plane with z measured square to
    the bottom: the centre moves by (I / V) tan, and up by half of that times tan.
    """
    deep, high = 800.0, 300.0
    draught = share * deep
    mass = long * wide * draught * 1e-6
    load = Load(mass, long * (0.5 + off), high, side * wide)
    many = equilibria(box(long, wide, deep), [load], 1.0, Plane(draught))
    if not many.floats[0]:
        with pytest.raises(JobError):
            equilibrium(box(long, wide, deep), load, 1.0, start=Plane(draught))
        return
    height, a, m = many.planes[0]
    ends = [height + a * x + m * y for x in (0.0, long) for y in (-wide / 2.0, wide / 2.0)]
    if min(ends) < 0.0 or max(ends) > deep:
        return
    along, over = long**2 / 12.0 / draught, wide**2 / 12.0 / draught
    rise = draught / 2.0 + (along * a * a + over * m * m) / 2.0 - high
    assert height + a * long / 2.0 == pytest.approx(draught, abs=NEAR_MM)
    # What is out of balance, as a shift of the centre of gravity.
    assert along * a + a * rise == pytest.approx(off * long, abs=1e-5)
    assert over * m + m * rise == pytest.approx(side * wide, abs=1e-5)


def test_loads_that_cannot_float_are_marked() -> None:
    full = equilibrium(FORM, Load(700.0, 2000.0, 400.0), 1.025).load.mass_kg
    wanted = [
        Load(full, 2000.0, 400.0),
        Load(90_000.0, 2000.0, 400.0),
        Load(full, -10.0, 400.0),
        Load(full, 5_300.0, 400.0),
        Load(full, 2000.0, 4_000.0),
        Load(full, 60.0, 400.0),
    ]
    many = equilibria(FORM, wanted, 1.025, START)
    assert many.floats.tolist() == [True, False, False, False, False, False]
    for load in wanted[1:]:
        with pytest.raises(JobError):
            equilibrium(FORM, load, 1.025, start=START)


def test_no_load_at_all() -> None:
    many = equilibria(FORM, [], 1.0, START)
    assert many.planes.shape == (0, 3)
    assert many.above_mm(corners(FORM)).shape == (0, 8)


def chained(flotation, most_kg: float, points: int) -> list[tuple[float, ...]]:
    """Return the curve one mass after the other, each beginning at the one before."""
    found, start = [], flotation.after.plane
    tops = [mark.z_mm for mark in flotation.marks if mark.kind == "transom notch"]
    for index in range(points):
        kg = most_kg * index / (points - 1)
        try:
            state = with_mass(flotation, PointMass("added", kg, 0.0, max(tops)), start)
        except JobError:
            break
        start = state.plane
        found.append(heights_mm(flotation, state))
    return found


@pytest.mark.parametrize("most_kg", [100.0, 300.0, 600.0, 1000.0, 3000.0, 9000.0])
@pytest.mark.parametrize("off_mm", [0.0, 150.0])
def test_the_curve_is_that_of_one_after_the_other(most_kg: float, off_mm: float) -> None:
    from tests.builders import reading

    changes = {"mounting__off_centre": reading(off_mm, 2.0)} if off_mm else {}
    flotation = floated(**changes)
    wanted = chained(flotation, most_kg, 60)
    found = [point.heights_mm for point in margin_curve(flotation, most_kg)]
    assert len(found) == len(wanted) >= 3
    if most_kg > 2000.0:
        assert len(found) < 60
    gap = max(abs(a - b) for one, other in zip(found, wanted, strict=True)
              for a, b in zip(one, other, strict=True))  # fmt: skip
    assert gap < NEAR_MM
    assert all(math.isfinite(height) for heights in found for height in heights)
