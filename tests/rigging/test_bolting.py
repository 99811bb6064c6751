"""Grip, length, thrust, tension, preload and bearing as plain calculations."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigfit.records.profiles import load_catalogue
from rigfit.rigging.bolting import (
    FRICTION,
    LOAD_FACTOR,
    Layer,
    clamp_force,
    friction_range,
    friction_reading,
    grip_of,
    ideal_thrust_n,
    layers_of,
    length_needed_mm,
    loads_of,
    missing,
    preload_n,
    proof_load_n,
    protrusion_mm,
    protrusion_of,
    rigid_plate_tensions_n,
    ring_area_mm2,
    spread_mm,
    stack_needs,
    thread_to_spare_mm,
    thrust_at_rest,
    torque_nm,
)
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.readings import Origin
from rigfit.units import GRAVITY
from tests.builders import CATALOGUE, CLAMPED, POD, bracket_job, changed, reading, sample_job

SHIPPED = load_catalogue()
FULL = replace(
    CATALOGUE,
    bolts=SHIPPED.bolts,
    bolt_grades=SHIPPED.bolt_grades,
    washers=SHIPPED.washers,
    cores=SHIPPED.cores,
)
M12, A4_70 = SHIPPED.bolt("M12"), SHIPPED.bolt_grade("A4-70")
BOLTING = Bolting(
    bolt="M12",
    grade="A4-70",
    flange=reading(14.0, 1.0),
    backing="plate and washers",
    washer="M12-wide",
    plate_thickness=reading(6.0, 1.0),
    core="plywood-1",
    torque=reading(55.0, 0.0, Origin.STATED),
    thread_state="dry",
)
some_bolt = st.sampled_from(list(SHIPPED.bolts.values()))
forces = st.floats(1.0, 1e6)
sizes = st.floats(5.0, 20.0)


def case(**changes):
    job = changed(sample_job(bolting=BOLTING), **changes)
    return Case(job, FULL, job.engines[0])


# ------------------------------------------------------------------------------ grip and length


@given(st.lists(st.tuples(st.floats(1.0, 100.0), st.floats(0.0, 3.0)), min_size=1, max_size=6))
def test_grip_is_the_sum_and_its_tolerance_the_root_of_squares(parts):
    layers = [Layer("washer", reading(*part)) for part in parts]
    grip = grip_of(layers)
    assert grip.value == pytest.approx(sum(value for value, _ in parts))
    half = math.sqrt(sum(tol**2 for _, tol in parts))
    assert grip.tolerance == pytest.approx(2.0 * half / math.sqrt(3.0), abs=1e-6)


@given(some_bolt, st.floats(5.0, 200.0), st.floats(0.0, 5.0))
def test_a_bolt_of_the_length_needed_shows_those_threads(bolt, grip, threads):
    past = protrusion_mm(bolt, length_needed_mm(bolt, grip, threads), grip)
    assert past == pytest.approx(threads * bolt.thread_mm, abs=1e-9)


@given(some_bolt, st.floats(5.0, 150.0))
def test_a_longer_bolt_never_has_more_thread_in_its_grip(bolt, grip):
    spare = [thread_to_spare_mm(bolt, length, grip) for length in bolt.lengths_mm]
    # Where the standard lengthens the thread by 6 or 13 mm, a step of 10 can gain a little.
    assert all(after <= before + 13.0 for before, after in itertools.pairwise(spare))
    assert spare[0] == grip - (bolt.lengths_mm[0] - bolt.threaded_mm(bolt.lengths_mm[0]))


def test_a_hundred_millimetre_m12_by_hand():
    # 30 mm of thread, so 70 mm of plain shank: a grip of 65 leaves the nut 5 mm off its thread.
    assert thread_to_spare_mm(M12, 100.0, 65.0) == pytest.approx(-5.0)
    assert protrusion_mm(M12, 100.0, 65.0) == pytest.approx(100.0 - 65.0 - 14.9)


def test_protrusion_carries_the_tolerance_of_every_reading():
    layers = [Layer("transom", reading(45.0, 2.0)), Layer("engine's bracket", reading(14.0, 1.0))]
    past = protrusion_of(M12, reading(80.0, 1.0), layers)
    assert past.value == pytest.approx(80.0 - 59.0 - 14.9)
    assert past.tolerance == pytest.approx(2.0 * math.sqrt((4.0 + 1.0 + 1.0) / 3.0))


@pytest.mark.parametrize(
    ("backing", "names"),
    [
        ("washers", ["washer", "engine's bracket", "transom", "washer"]),
        ("plate", ["engine's bracket", "transom", "backing plate"]),
        (
            "plate and washers",
            ["washer", "engine's bracket", "transom", "backing plate", "washer"],
        ),
    ],
)
def test_the_stack_from_the_head_in(backing, names):
    assert [layer.name for layer in layers_of(case(bolting__backing=backing))] == names


def test_a_thickness_of_nothing_counts_as_not_known():
    empty = case(bolting__flange=reading(0.0, 0.0), bolting__plate_thickness=reading(0.0, 0.0))
    assert missing(empty, *stack_needs(empty)) == ("bolting.flange", "bolting.plate_thickness")
    assert missing(case(), *stack_needs(case())) == ()


# ------------------------------------------------------------------------------ loads


@given(st.floats(1.0, 300.0), st.floats(150.0, 450.0))
def test_thrust_follows_from_momentum(power_kw, diameter):
    # An ideal propeller at rest: P = T v, T = 2 rho A v^2, with v at the disc.
    thrust = ideal_thrust_n(power_kw, diameter)
    area = math.pi / 4.0 * (diameter / 1000.0) ** 2
    speed = math.sqrt(thrust / (2.0 * 1025.0 * area))
    assert thrust * speed == pytest.approx(power_kw * 1000.0, rel=1e-9)


def test_thrust_ends_at_the_ideal_and_is_never_firm():
    thrust = thrust_at_rest(60.0, 340.0)
    assert thrust.value + thrust.tolerance == pytest.approx(ideal_thrust_n(60.0, 340.0))
    assert 4000.0 < thrust.value < 8000.0
    assert not thrust.origin.is_firm


@given(st.floats(0.0, 1e8), st.lists(st.floats(0.0, 500.0), min_size=1, max_size=6))
def test_a_rigid_plate_is_in_balance(moment, heights):
    assume(max(heights) > 1.0)
    pulls = rigid_plate_tensions_n(moment, heights)
    assert sum(p * y for p, y in zip(pulls, heights, strict=True)) == pytest.approx(moment)
    # The highest bolt pulls hardest, and one at the contact not at all.
    assert max(pulls) == pulls[heights.index(max(heights))]
    assert all(pull == 0.0 for pull, y in zip(pulls, heights, strict=True) if y == 0.0)


def test_two_upper_and_two_lower_bolts_by_hand():
    # 4 kN·m on bolts 200 mm above the contact and two at it: 10 kN in each upper one.
    assert rigid_plate_tensions_n(4e6, (200.0, 200.0, 0.0, 0.0)) == pytest.approx(
        (10e3, 10e3, 0.0, 0.0)
    )


def test_loads_of_the_sample_engine_by_hand():
    loads = loads_of(case(transom__rake=reading(0.0, 0.0), mounting__row=1))
    # Row 1 is 51 below the seat, the lower bolts 203 below that; the centre of gravity is two
    # thirds of (740 / 2 - 170) and one third of 270 aft; the leg 512, the shaft 165 below it.
    aft = 2.0 / 3.0 * 200.0 + 270.0 / 3.0
    below = 512.0 + 165.0 - 51.0 - 203.0
    moment = 165.0 * GRAVITY * 5.0 * aft + 0.7 * ideal_thrust_n(67.0, 340.0) * below
    assert loads.weight_lever_mm == pytest.approx(aft)
    assert loads.thrust_lever_mm == pytest.approx(below)
    assert loads.moment_nmm == pytest.approx(moment)
    assert loads.tension_n.value == pytest.approx(moment / (2.0 * 203.0))
    assert loads.shear_n == pytest.approx(165.0 * GRAVITY * 5.0 / 4.0)


def test_the_load_factor_is_the_customary_one_until_chosen():
    assert loads_of(case()).factor.origin is Origin.DEFAULT
    assert loads_of(case()).factor.value == LOAD_FACTOR
    own = loads_of(case(bolting__load_factor=reading(3.0, 0.0, Origin.CHOSEN)))
    assert own.factor.value == 3.0
    assert own.tension_n.value < loads_of(case()).tension_n.value


def test_setback_pulls_harder():
    job = bracket_job(POD, bolting=BOLTING, bracket__setback=reading(500.0, 3.0))
    behind = loads_of(Case(job, FULL, job.engines[0]))
    assert behind.weight_lever_mm > loads_of(case()).weight_lever_mm + 400.0
    assert behind.tension_n.value > loads_of(case()).tension_n.value


@given(st.floats(50.0, 300.0), st.floats(1.0, 100.0))
def test_a_heavier_engine_pulls_harder(mass, more):
    light, heavy = (
        loads_of(case(engine__mass=reading(value, 1.0))).tension_n.value
        for value in (mass, mass + more)
    )
    assert heavy > light


@pytest.mark.parametrize("name", ["engine__mass", "engine__power", "transom__rake"])
def test_without_a_reading_there_are_no_loads(name):
    assert loads_of(case(**{name: None})) is None


def test_a_clamped_engine_has_no_known_loads():
    assert loads_of(case(engine__engine_class=CLAMPED)) is None


def test_estimates_show_in_the_tolerance():
    tension = loads_of(case()).tension_n
    assert {"thrust", "centre", "shaft"} <= {share.name for share in tension.stand_ins}
    assert 0.1 < tension.tolerance / tension.value < 0.6


# ------------------------------------------------------------------------------ torque, bearing


@given(forces, sizes, st.floats(0.1, 0.4))
def test_torque_and_preload_undo_each_other(force, diameter, friction):
    torque = torque_nm(force, diameter, friction)
    assert preload_n(torque, diameter, friction) == pytest.approx(force)


@pytest.mark.parametrize("stainless", [True, False])
@pytest.mark.parametrize("state", ["dry", "oiled", "anti-seize", ""])
def test_friction_is_a_range_and_the_unknown_state_spans_them_all(stainless, state):
    low, high = friction_range(state, stainless=stainless)
    assert 0.1 < low < high < 0.4
    widest = friction_range("", stainless=stainless)
    assert widest[0] <= low
    assert widest[1] >= high
    read = friction_reading(state, stainless=stainless)
    assert (read.value - read.tolerance, read.value + read.tolerance) == pytest.approx((low, high))
    assert not read.origin.is_firm


def test_slippery_threads_need_less():
    assert FRICTION["anti-seize"] < FRICTION["oiled"] < FRICTION["dry"]
    dry = friction_range("dry", stainless=True)
    assert dry[1] > friction_range("dry", stainless=False)[1]


@given(sizes, st.floats(1.0, 100.0), st.floats(0.0, 20.0))
def test_more_seat_is_less_pressure(hole, rim, plate):
    seat = hole + rim
    assert ring_area_mm2(spread_mm(seat, plate), hole) >= ring_area_mm2(seat, hole)
    assert ring_area_mm2(hole, seat) == 0.0


def test_clamp_force_follows_the_maker_else_proof():
    proof = proof_load_n(M12, A4_70)
    assert proof == pytest.approx(450.0 * 84.27, rel=1e-3)
    by_maker = clamp_force(case(), M12, A4_70)
    low, high = (preload_n(55.0, 12.0, k) for k in (0.35, 0.20))
    assert low < by_maker.value < high
    assert by_maker.tolerance > 0.0
    by_proof = clamp_force(case(bolting__torque=None), M12, A4_70)
    assert by_proof.value == pytest.approx(0.75 * proof)
    bare = replace(A4_70, yield_mpa=None)
    assert clamp_force(case(bolting__torque=None), M12, bare) is None
