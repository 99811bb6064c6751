"""Displacement and rest: properties of any hull, and loads that cannot float."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.flotation import (
    Load,
    Plane,
    Pod,
    PointMass,
    displaced,
    equilibrium,
    load_afloat,
    load_of,
)
from rigfit.rigging.hull_form import few_measures_form
from tests.rigging.afloat_jobs import FEW

FORM = few_measures_form(FEW)
PLANES = st.builds(Plane, st.floats(120.0, 420.0), st.floats(-0.04, 0.04), st.floats(-0.15, 0.15))


def shifted(plane: Plane, height: float = 0.0, ahead: float = 0.0, across: float = 0.0) -> Plane:
    return Plane(plane.height_mm + height, plane.slope_ahead + ahead, plane.slope_across + across)


@given(PLANES)
def test_the_water_plane_is_the_slope_of_the_volume(plane: Plane) -> None:
    wet = displaced(FORM, plane)
    up, down = displaced(FORM, shifted(plane, 0.5)), displaced(FORM, shifted(plane, -0.5))
    assert up.volume - down.volume == pytest.approx(wet.area, rel=2e-3)
    up, down = (displaced(FORM, shifted(plane, ahead=s)) for s in (1e-5, -1e-5))
    assert (up.volume - down.volume) / 2e-5 == pytest.approx(wet.ax, rel=2e-3)
    assert (up.mx - down.mx) / 2e-5 == pytest.approx(wet.axx, rel=2e-3)
    up, down = (displaced(FORM, shifted(plane, across=s)) for s in (1e-5, -1e-5))
    assert (up.my - down.my) / 2e-5 == pytest.approx(wet.ayy, rel=2e-3)


@given(PLANES)
def test_listing_the_other_way_mirrors_everything(plane: Plane) -> None:
    one = displaced(FORM, plane)
    other = displaced(FORM, Plane(plane.height_mm, plane.slope_ahead, -plane.slope_across))
    assert one.volume == pytest.approx(other.volume)
    assert one.my == pytest.approx(-other.my, abs=1.0)
    assert one.mz == pytest.approx(other.mz)


@given(PLANES)
def test_the_upright_short_cut_agrees_with_the_long_way(plane: Plane) -> None:
    upright = displaced(FORM, Plane(plane.height_mm, plane.slope_ahead))
    nearly = displaced(FORM, Plane(plane.height_mm, plane.slope_ahead, 1e-9))
    for name in ("volume", "mx", "mz", "area", "ax", "axx", "ayy"):
        assert getattr(upright, name) == pytest.approx(getattr(nearly, name), rel=1e-5), name


def test_above_the_sheer_no_more_is_displaced() -> None:
    top = FORM.top_mm()
    awash, deep = (displaced(FORM, Plane(top + by)).volume for by in (1.0, 900.0))
    assert awash == pytest.approx(deep, rel=1e-12)


def test_below_the_keel_nothing_is() -> None:
    assert displaced(FORM, Plane(-10.0)).litres == 0.0
    assert displaced(FORM, Plane(-10.0)).centre_mm == (0.0, 0.0, 0.0)


@settings(max_examples=60)
@given(
    st.floats(250.0, 1500.0), st.floats(1500.0, 2600.0), st.floats(200.0, 600.0),
    st.floats(-60.0, 60.0), st.sampled_from((1.0, 1.025)),
)  # fmt: skip
def test_at_rest_volume_and_moments_balance(
    mass: float, ahead: float, above: float, across: float, density: float
) -> None:
    state = equilibrium(FORM, Load(mass, ahead, above, across), density)
    assert state.wet.litres * density == pytest.approx(mass, rel=1e-7)
    x, y, z = state.wet.centre_mm
    # The centre of buoyancy lies straight below the centre of gravity.
    lift = z - above
    assert x - ahead + state.plane.slope_ahead * lift == pytest.approx(0.0, abs=0.01)
    assert y - across + state.plane.slope_across * lift == pytest.approx(0.0, abs=0.01)
    again = equilibrium(FORM, state.load, density, start=Plane(state.plane.height_mm + 30.0))
    assert again.plane.height_mm == pytest.approx(state.plane.height_mm, abs=0.01)


@given(st.floats(300.0, 1200.0), st.floats(1600.0, 2500.0), st.floats(200.0, 500.0))
def test_a_boat_seen_afloat_weighs_what_made_her_float_so(
    mass: float, ahead: float, above: float
) -> None:
    state = equilibrium(FORM, Load(mass, ahead, above), 1.025)
    seen = load_afloat(FORM, state.plane, above, 1.025)
    assert seen.mass_kg == pytest.approx(mass, rel=1e-6)
    assert seen.ahead_mm == pytest.approx(ahead, abs=0.02)


def test_mass_aft_lowers_the_stern_and_raises_the_bow() -> None:
    load = Load(600.0, 2000.0, 350.0)
    before = equilibrium(FORM, load, 1.025)
    after = equilibrium(FORM, load.changed((PointMass("e", 60.0, -300.0, 500.0),)), 1.025)
    assert after.plane.at(0.0) > before.plane.at(0.0)
    assert after.plane.at(FORM.length_mm) < before.plane.at(FORM.length_mm)
    assert after.plane.trim_deg > before.plane.trim_deg


def test_mass_to_starboard_lists_her_to_starboard() -> None:
    load = Load(600.0, 2000.0, 350.0).changed((PointMass("p", 80.0, 2000.0, 500.0, 400.0),))
    state = equilibrium(FORM, load, 1.025)
    assert 0.5 < state.plane.list_deg < 6.0
    assert state.plane.above_mm(2000.0, 800.0, 600.0) < state.plane.above_mm(2000.0, -800.0, 600.0)


def test_fresh_water_lets_her_sink_deeper() -> None:
    load = Load(600.0, 2000.0, 350.0)
    salt, fresh = (equilibrium(FORM, load, density) for density in (1.025, 1.0))
    assert fresh.plane.at(2000.0) > salt.plane.at(2000.0)


def test_a_closed_pod_carries_some_of_what_hangs_on_it() -> None:
    load = Load(700.0, 1800.0, 350.0)
    pod = Pod(90.0, -260.0, 60.0, 420.0)
    bare, lifted = equilibrium(FORM, load, 1.025), equilibrium(FORM, load, 1.025, (pod,))
    assert lifted.plane.at(0.0) < bare.plane.at(0.0)
    assert lifted.wet.litres == pytest.approx(bare.wet.litres, rel=1e-6)


def test_a_pod_is_immersed_from_its_bottom_to_its_top() -> None:
    pod = Pod(80.0, -200.0, 100.0, 400.0)
    assert pod.immersed(100.0)[0] == 0.0
    assert pod.immersed(300.0) == pytest.approx((40e6, 200.0))
    assert pod.immersed(900.0) == pytest.approx((80e6, 300.0))


@pytest.mark.parametrize(
    ("load", "word"),
    [
        (Load(9_000.0, 2000.0, 350.0), "cannot float"),
        (Load(600.0, -300.0, 350.0), "centre of all mass"),
        (Load(600.0, 9000.0, 350.0), "centre of all mass"),
        (Load(600.0, 2000.0, 3000.0), "upright"),
        (Load(600.0, 2000.0, 350.0, 1200.0), "no rest"),
    ],
    ids=["too heavy", "aft of her", "ahead of her", "top-heavy", "far off centre"],
)
def test_what_cannot_float_is_named_with_a_cure(load: Load, word: str) -> None:
    with pytest.raises(JobError, match=word) as refused:
        equilibrium(FORM, load, 1.025)
    assert refused.value.cure
    assert refused.value.where.startswith("hull")


def test_more_cannot_come_out_than_is_in_her() -> None:
    with pytest.raises(JobError, match="less than what is taken"):
        Load(100.0, 2000.0, 300.0).changed((), (PointMass("e", 150.0, 0.0, 500.0),))


def test_a_hull_wholly_above_the_water_is_refused() -> None:
    with pytest.raises(JobError, match="above the water"):
        load_afloat(FORM, Plane(-50.0), 300.0, 1.0)


def test_masses_add_up_to_their_common_centre() -> None:
    load = load_of((PointMass("a", 100.0, 0.0, 200.0, 30.0), PointMass("b", 300.0, 4000.0, 600.0)))
    assert (load.mass_kg, load.ahead_mm, load.above_mm) == (400.0, 3000.0, 500.0)
    assert load.across_mm == 7.5


def test_heights_are_straight_down_to_an_inclined_water() -> None:
    plane = Plane(100.0, math.tan(math.radians(10.0)))
    assert plane.above_mm(0.0, 0.0, 300.0) == pytest.approx(200.0 * math.cos(math.radians(10.0)))
