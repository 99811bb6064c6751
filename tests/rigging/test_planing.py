"""Properties of planing, wake and propeller that need no published value."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.planing import (
    WATERS,
    NotPlaning,
    Planing,
    PlaningBoat,
    at_trim,
    deadrise_lift,
    equilibrium,
    flat_lift,
    friction_coefficient,
    mean_wetted,
    porpoising_limit,
    speed_for_power,
    thrust_arm_mm,
    wetted_lengths_mm,
)
from rigfit.rigging.propeller import (
    CROUCH,
    Band,
    crouch_kn,
    pitch_by_percent,
    pitch_by_rate,
    pitch_speed_kn,
    rpm_at,
    rpm_change,
    slip,
)
from rigfit.rigging.wake import Line, PlatePlace, Wake, water_at

SALT = WATERS["salt"]
BOAT = PlaningBoat(1000.0, 1700.0, 15.0, 1800.0, 500.0, 0.0, 950.0)

boats = st.builds(
    PlaningBoat,
    st.floats(400.0, 2500.0),
    st.floats(1300.0, 2400.0),
    st.floats(0.0, 25.0),
    st.floats(1300.0, 2400.0),
    st.floats(300.0, 800.0),
    st.floats(-6.0, 6.0),
    st.floats(500.0, 1200.0),
)
speeds = st.floats(16.0, 45.0)


@given(st.floats(0.001, 0.6), st.floats(0.0, 30.0))
def test_flat_lift_inverts_the_loss_to_deadrise(lift: float, deadrise: float) -> None:
    flat = flat_lift(lift, deadrise)
    assert flat >= lift
    assert deadrise_lift(flat, deadrise) == pytest.approx(lift, rel=1e-10)


@given(st.floats(0.005, 0.5), st.floats(0.5, 15.0), st.floats(0.6, 13.0))
def test_the_wetted_length_gives_back_the_lift(flat: float, trim: float, cv: float) -> None:
    wetted = mean_wetted(flat, trim, cv)
    back = trim**1.1 * (0.012 * wetted**0.5 + 0.0055 * wetted**2.5 / cv**2)
    assert back == pytest.approx(flat, rel=1e-9)


@given(st.floats(1e5, 1e9))
def test_friction_solves_schoenherr_s_equation(reynolds: float) -> None:
    found = friction_coefficient(reynolds)
    assert 0.242 / math.sqrt(found) == pytest.approx(math.log10(reynolds * found), rel=1e-10)


@given(st.floats(0.2, 4.0), st.floats(1000.0, 3000.0), st.floats(0.0, 25.0), st.floats(1.0, 12.0))
def test_the_mean_of_the_wetted_lengths_is_the_mean(
    wetted: float, beam: float, deadrise: float, trim: float
) -> None:
    keel, chine = wetted_lengths_mm(wetted, beam, deadrise, trim)
    assert 0.0 <= chine <= keel
    assert (keel + chine) / 2.0 == pytest.approx(wetted * beam, rel=1e-9)


@given(boats, speeds)
def test_in_equilibrium_nothing_turns_her_and_she_comes_back(
    boat: PlaningBoat, speed: float
) -> None:
    state = equilibrium(boat, speed, SALT)
    assume(isinstance(state, Planing))
    assert isinstance(state, Planing)
    scale = boat.mass_kg * 9.8 * boat.ahead_mm / 1000.0
    assert abs(state.moment_nm) < 1e-5 * scale
    more = at_trim(boat, speed, state.trim_deg + 0.05, SALT)
    less = at_trim(boat, speed, max(0.1, state.trim_deg - 0.05), SALT)
    assert less.moment_nm < 0.0 < more.moment_nm


@given(boats, speeds, st.floats(1.02, 1.5))
def test_a_heavier_boat_needs_more_power(boat: PlaningBoat, speed: float, times: float) -> None:
    light = equilibrium(boat, speed, SALT)
    heavy = equilibrium(replace(boat, mass_kg=boat.mass_kg * times), speed, SALT)
    assume(isinstance(light, Planing) and isinstance(heavy, Planing))
    assert isinstance(light, Planing)
    assert isinstance(heavy, Planing)
    assert heavy.power_kw > light.power_kw


@given(boats, speeds)
def test_thrust_that_pushes_the_stern_down_lifts_the_bow(boat: PlaningBoat, speed: float) -> None:
    """Trimming the engine out tips the thrust line down forward and lengthens its arm."""
    flat = thrust_arm_mm(boat.ahead_mm, boat.above_mm, 500.0, -200.0, 0.0)
    out = thrust_arm_mm(boat.ahead_mm, boat.above_mm, 500.0, -200.0, -4.0)
    assert out > flat
    first = equilibrium(replace(boat, thrust_deg=0.0, arm_mm=flat), speed, SALT)
    second = equilibrium(replace(boat, thrust_deg=-4.0, arm_mm=out), speed, SALT)
    assume(isinstance(first, Planing) and isinstance(second, Planing))
    assert isinstance(first, Planing)
    assert isinstance(second, Planing)
    assert second.trim_deg > first.trim_deg


@given(boats, st.floats(15.0, 80.0))
def test_speed_for_power_is_where_the_power_is_used(boat: PlaningBoat, power: float) -> None:
    state = speed_for_power(boat, power, SALT)
    if isinstance(state, NotPlaning):
        assert state.reason
        return
    assert state.power_kw == pytest.approx(power, rel=1e-4)
    again = speed_for_power(boat, power, SALT, near_kn=state.speed_kn)
    assert isinstance(again, Planing)
    assert again.speed_kn == pytest.approx(state.speed_kn, rel=1e-5)


def test_more_power_is_more_speed() -> None:
    found = [speed_for_power(BOAT, power, SALT) for power in (25.0, 35.0, 45.0, 60.0)]
    kn = [state.speed_kn for state in found if isinstance(state, Planing)]
    assert len(kn) == 4
    assert kn == sorted(kn)


def test_too_little_power_does_not_plane() -> None:
    state = speed_for_power(BOAT, 1.0, SALT)
    assert isinstance(state, NotPlaning)
    assert "does not get her on the plane" in state.reason


@pytest.mark.parametrize(
    ("boat", "speed", "words"),
    [
        (BOAT, 3.0, "speed coefficient"),
        (replace(BOAT, ahead_mm=2600.0), 40.0, "trim"),
        (replace(BOAT, deadrise_deg=33.0), 20.0, "deadrise"),
        (replace(BOAT, deadrise_deg=24.0), 40.0, "chines run dry"),
    ],
)
def test_what_leaves_the_range_is_said(boat: PlaningBoat, speed: float, words: str) -> None:
    state = at_trim(boat, speed, 8.0, SALT) if speed < 5.0 else equilibrium(boat, speed, SALT)
    said = state.doubts if isinstance(state, Planing) else (state.reason,)
    assert any(words in text for text in said)


@pytest.mark.parametrize(
    ("change", "name"),
    [({"mass_kg": 0.0}, "mass"), ({"beam_mm": -1.0}, "beam"), ({"ahead_mm": 0.0}, "centre"),
     ({"deadrise_deg": 70.0}, "deadrise"), ({"mass_kg": math.nan}, "mass")],
)  # fmt: skip
def test_numbers_without_meaning_are_named(change: dict[str, float], name: str) -> None:
    with pytest.raises(JobError, match=name):
        equilibrium(replace(BOAT, **change), 25.0, SALT)


@given(st.floats(0.13, 0.30), st.floats(0.0, 20.0))
def test_the_porpoising_limit_is_whole_inside_its_chart(x: float, deadrise: float) -> None:
    limit = porpoising_limit(x, deadrise)
    assert limit.beyond == ""
    assert 0.3 < limit.trim_deg < 14.0


# ----------------------------------------------------------------- wake

wakes = st.builds(
    Wake,
    st.floats(1200.0, 2500.0),
    st.floats(1500.0, 5000.0),
    st.floats(2.0, 6.0),
    st.floats(2.5, 8.0),
    st.floats(0.0, 25.0),
)


@given(wakes)
def test_the_surface_leaves_the_keel_line_at_the_transom_and_rises_to_its_peak(wake: Wake) -> None:
    assert wake.surface_mm(0.0) == 0.0
    peak = wake.peak_mm()
    steps = [wake.rise_mm(peak * share / 10.0) for share in range(11)]
    assert steps == sorted(steps)
    assert wake.rise_mm(peak) >= wake.rise_mm(peak * 1.05)


@given(wakes, st.floats(0.0, 1500.0), st.floats(0.0, 500.0))
def test_port_and_starboard_are_alike(wake: Wake, aft: float, across: float) -> None:
    assert wake.surface_mm(aft, across) == wake.surface_mm(aft, -across)


@given(wakes, st.floats(0.0, 1500.0))
def test_a_quarter_beam_off_the_buttock_counts(wake: Wake, aft: float) -> None:
    quarter = wake.beam_mm / 4.0
    up = quarter * math.tan(math.radians(wake.deadrise_deg))
    assert wake.surface_mm(aft, quarter) == pytest.approx(up + wake.rise_mm(aft, Line.QUARTER))
    assert wake.rise_mm(aft, Line.QUARTER) <= wake.rise_mm(aft) + 1e-9 or aft > wake.peak_mm()


def test_what_is_beyond_the_wake_s_tests_is_said() -> None:
    inside = Wake(1700.0, 3400.0, 4.0, 5.0, 15.0)
    assert inside.doubts(500.0, 100.0) == ()
    assert len(replace(inside, cv=3.0, trim_deg=2.0, deadrise_deg=5.0).doubts(6000.0, 600.0)) == 5


def test_a_plate_one_millimetre_higher_is_one_further_from_the_water() -> None:
    wake = Wake(1700.0, 3400.0, 4.0, 5.0, 15.0)
    place = PlatePlace(100.0, 600.0, 20.0, 450.0, 165.0, 170.0)
    low, high = water_at(wake, place), water_at(wake, replace(place, plate_mm=21.0))
    assert high.clear_mm - low.clear_mm == pytest.approx(1.0)
    assert low.tip_mm - high.tip_mm == pytest.approx(1.0)
    assert low.front_mm < low.surface_mm < low.aft_edge_mm


# ----------------------------------------------------------------- propeller

rpms, pitches = st.floats(500.0, 8000.0), st.floats(150.0, 700.0)
gears = st.floats(1.2, 3.0)


@given(rpms, st.floats(1.0, 500.0), pitches, gears)
def test_pitch_speed_grows_with_rpm_and_pitch_and_falls_with_gear(
    rpm: float, more: float, pitch: float, gear: float
) -> None:
    here = pitch_speed_kn(rpm, pitch, gear)
    assert pitch_speed_kn(rpm + more, pitch, gear) > here
    assert pitch_speed_kn(rpm, pitch + more, gear) > here
    assert pitch_speed_kn(rpm, pitch, gear + 0.1) < here


@given(rpms, pitches, gears, st.floats(-0.2, 0.6))
def test_slip_and_rpm_are_each_other_s_inverse(
    rpm: float, pitch: float, gear: float, share: float
) -> None:
    speed = pitch_speed_kn(rpm, pitch, gear) * (1.0 - share)
    assert slip(speed, rpm, pitch, gear) == pytest.approx(share, abs=1e-9)
    assert rpm_at(speed, share, pitch, gear) == pytest.approx(rpm, rel=1e-9)


@given(rpms, pitches)
def test_the_wanted_speed_reached_already_asks_for_the_pitch_there_is(
    rpm: float, pitch: float
) -> None:
    assert pitch_by_percent(pitch, rpm, rpm) == pytest.approx(pitch)
    assert pitch_by_rate(pitch, rpm, rpm) == pytest.approx((pitch, pitch))


@given(st.floats(-100.0, 100.0))
def test_less_pitch_is_more_speed_of_the_engine(change: float) -> None:
    low, high = rpm_change(change)
    assert low <= high
    assert rpm_change(-change) == pytest.approx((-high, -low))


def test_faster_than_the_propeller_screws_is_negative_slip_and_not_hidden() -> None:
    assert slip(40.0, 5500.0, 17.0 * 25.4, 2.0) < 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: pitch_speed_kn(5000.0, 430.0, 0.0), "gear ratio is 0"),
        (lambda: pitch_speed_kn(5000.0, -1.0, 2.0), "pitch is -1"),
        (lambda: pitch_speed_kn(-1.0, 430.0, 2.0), "engine's speed is -1"),
        (lambda: slip(30.0, 0.0, 430.0, 2.0), "engine speed is 0"),
        (lambda: rpm_at(30.0, 1.0, 430.0, 2.0), "slip of 100"),
        (lambda: pitch_by_percent(430.0, 5000.0, 0.0), "wanted engine speed"),
        (lambda: pitch_by_rate(0.0, 5000.0, 5500.0), "pitch is 0"),
        (lambda: Band(5500.0, 5000.0), "ends at 5000"),
        (lambda: Band(0.0, 5000.0), "lower end"),
        (lambda: crouch_kn(0.0, 60.0, 150.0), "mass under way"),
        (lambda: crouch_kn(900.0, 0.0, 150.0), "power is 0"),
    ],
)
def test_what_has_no_meaning_is_named(call: object, words: str) -> None:
    with pytest.raises(JobError, match=words):
        call()  # type: ignore[operator]


def test_crouch_for_a_known_ratio() -> None:
    """25 lb for each shaft horsepower and C = 150: 30 kn, plain arithmetic."""
    mass, power = 2000.0 * 0.45359237, 80.0 * 0.745699871582
    assert crouch_kn(mass, power, CROUCH["runabout"]) == pytest.approx(30.0, rel=1e-6)
