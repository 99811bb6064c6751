"""Steering: plan view exact, the gear's closed forms, twins, and tilt with steering in space."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize
from scipy.spatial.transform import Rotation
from shapely import affinity
from shapely.geometry import Polygon as Area

from rigfit.errors import EntryError
from rigfit.rigging.envelope import engine_envelope, engine_travel, mounted_option, tilt_turn
from rigfit.rigging.nearest_bodies import body_distance
from rigfit.rigging.steer import (
    pivot_share,
    plan_steer,
    ram_angle_deg,
    ram_off_line_mm,
    steer_at,
    steering_gear,
    twins_gap,
    twins_of,
)
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.tilt_steer import RESOLUTION_MM, _bodies, solid_bodies, tilt_and_steer
from rigfit.rigging.transom_map import Neighbour
from rigfit.rigging.turning import Turn
from rigfit.rigging.well_fields import Steering, Well
from tests.builders import case_of, changed, reading, sample_catalogue, sample_job
from tests.rigging.swing_jobs import FULL_ENGINE, box, gear, roomy_well, swing_job

corners = st.tuples(*(st.floats(-200.0, 200.0) for _ in range(3)))
bodies = st.lists(corners, min_size=4, max_size=9)


def worst(job, lock=32.0, **changes):
    case = case_of(changed(job, **changes))
    turn = tilt_turn(case, mounted_option(case))
    off = case.job.mounting.off_centre.value
    return tilt_and_steer(engine_envelope(case), turn, lock, off, surroundings(case).solids)


# ------------------------------------------------------------------- seen from above


@pytest.mark.parametrize("width", [520.0, 700.0, 900.0])
@pytest.mark.parametrize("sized", [True, False])
def test_the_plan_is_that_of_a_brute_sweep(width, sized) -> None:
    sizes = FULL_ENGINE if sized else {}
    job = changed(sample_job(well=roomy_well(width=reading(width, 3.0))), **sizes)
    plan = plan_steer(case_of(job))
    hood = Area(plan.ring).buffer(plan.round_mm, quad_segs=90) if plan.round_mm else Area(plan.ring)
    assert plan.gaps
    for gap in plan.gaps:
        thing, least = Area(gap.solid.plan_ring()), []
        for step in range(-640, 641):
            turned = affinity.rotate(hood, step / 20.0, origin=plan.turn.pivot)
            least.append(turned.distance(thing))
        assert gap.touch.gap_mm == pytest.approx(min(least), abs=0.5)


def test_a_wider_well_never_has_less_room_and_a_mirrored_one_the_same() -> None:
    gaps = [
        plan_steer(case_of(swing_job(well=roomy_well(width=reading(wide, 3.0))))).worst
        for wide in (560.0, 640.0, 760.0, 900.0)
    ]
    clear = [gap.touch.gap_mm for gap in gaps]
    assert clear == sorted(clear)
    left = box(ahead=(0.0, 400.0), above=(100.0, 700.0), across=(-500.0, -330.0))
    right = box(ahead=(0.0, 400.0), above=(100.0, 700.0), across=(330.0, 500.0))
    one, two = (
        plan_steer(case_of(swing_job(well=Well(), obstacles=(item,)))).worst
        for item in (left, right)
    )
    assert one.touch.gap_mm == pytest.approx(two.touch.gap_mm)
    assert one.touch.angle_deg == pytest.approx(-two.touch.angle_deg, abs=1e-6)


@pytest.mark.parametrize("width", [520.0, 700.0, 900.0])
def test_the_tolerance_holds_what_a_shifted_steering_axis_does(width) -> None:
    # By moving the axis, the hood straight ahead staying where it is, and looking again.
    case = case_of(swing_job(well=roomy_well(width=reading(width, 3.0))))
    envelope = engine_envelope(case)
    clear = [gap for gap in plan_steer(case).gaps if gap.touch.gap_mm > 1.0]
    assert clear
    for gap in clear:
        moved = [
            plan_steer(case, None, replace(
                envelope, steering_aft_mm=envelope.steering_aft_mm + by,
                cowl_aft_mm=envelope.cowl_aft_mm - by,
            ), (gap.solid,)).gaps[0].touch.gap_mm
            for by in (-0.5, 0.5)
        ]  # fmt: skip
        away = [
            (one - two) / gap.touch.gap_mm
            for one, two in zip(gap.touch.on_moving, gap.touch.on_fixed, strict=True)
        ]
        share = pivot_share((away[0], away[1], 0.0), gap.touch.angle_deg)
        assert abs(moved[1] - moved[0]) * 20.0 == pytest.approx(share, rel=0.02, abs=0.02)
        assert gap.tolerance_mm >= share * 1.15


def test_what_lies_below_the_hood_is_not_in_the_plan() -> None:
    job = swing_job(well=Well(), obstacles=(box(ahead=(0.0, 300.0), above=(-400.0, -200.0)),))
    assert plan_steer(case_of(job)).gaps == ()


def test_a_rounded_corner_takes_room_a_square_one_leaves() -> None:
    tight = {"length": reading(330.0, 3.0), "width": reading(600.0, 3.0),
             "front_top": reading(300.0, 3.0)}  # fmt: skip
    square = plan_steer(case_of(swing_job(well=roomy_well(corner_radius=None, **tight)))).worst
    rounded = plan_steer(
        case_of(swing_job(well=roomy_well(corner_radius=reading(150.0, 3.0), **tight)))
    ).worst
    assert rounded.touch.gap_mm <= square.touch.gap_mm


# ------------------------------------------------------------------- the gear


@given(st.floats(1.0, 300.0), st.floats(301.0, 600.0))
def test_a_ram_and_its_arm_make_a_right_triangle(travel, arm) -> None:
    angle = math.radians(ram_angle_deg(travel, arm))
    assert arm * math.sin(angle) == pytest.approx(travel)
    assert arm - arm * math.cos(angle) == pytest.approx(ram_off_line_mm(travel, arm))


@pytest.mark.parametrize(("travel", "arm"), [(200.0, 200.0), (300.0, 100.0), (-1.0, 100.0)])
def test_a_travel_longer_than_its_arm_is_refused(travel, arm) -> None:
    with pytest.raises(EntryError, match="less than the arm"):
        ram_angle_deg(travel, arm)


def test_the_rod_reaches_its_tube_its_end_and_its_travel() -> None:
    result = steering_gear(case_of(swing_job(steering=gear())))
    assert result.reach_mm == pytest.approx(150.0 + 100.0 + 88.9)
    assert result.clear_mm == pytest.approx(450.0 - 338.9)
    assert result.withdrawal_clear_mm == pytest.approx(450.0 - 390.0)
    assert result.angle_deg == pytest.approx(24.316, abs=0.001)


def test_an_engine_off_centre_has_less_room_on_that_side() -> None:
    job = swing_job(steering=gear(), mounting__off_centre=reading(40.0, 3.0))
    assert steering_gear(case_of(job)).wall_mm == pytest.approx(410.0)
    port = changed(job, steering=gear(side="port"))
    assert steering_gear(case_of(port)).wall_mm == pytest.approx(490.0)
    both = changed(job, steering=gear(side="both"))
    assert steering_gear(case_of(both)).wall_mm == pytest.approx(410.0)


def test_without_readings_nothing_is_known_of_the_gear() -> None:
    result = steering_gear(case_of(sample_job(steering=Steering())))
    assert (result.reach_mm, result.clear_mm, result.hose_clear_mm) == (None, None, None)


def test_a_rod_above_a_low_side_wall_is_free() -> None:
    low = roomy_well(front_top=reading(-60.0, 3.0))
    assert steering_gear(case_of(swing_job(well=low, steering=gear()))).is_over_wall
    assert not steering_gear(case_of(swing_job(steering=gear()))).is_over_wall


# ------------------------------------------------------------------- twins


@given(st.floats(480.0, 900.0), st.floats(0.0, 40.0))
@settings(max_examples=40, deadline=None)
def test_twins_are_as_far_apart_as_a_brute_look_says(spacing, lock) -> None:
    envelope = engine_envelope(case_of(swing_job()))
    gap = twins_gap(envelope, lock, spacing)
    half, side, aft = 370.0, 230.0, envelope.cowl_aft_mm
    hood = Area([(aft - half, -side), (aft + half, -side), (aft + half, side), (aft - half, side)])
    steps = np.linspace(-lock, lock, 31)
    turned = [affinity.rotate(hood, float(angle), origin=(0.0, 0.0)) for angle in steps]
    beside = [affinity.translate(item, 0.0, spacing) for item in turned]
    tied = min(one.distance(two) for one, two in zip(turned, beside, strict=True))
    free = min(one.distance(two) for one in turned for two in beside[::3])
    assert max(0.0, gap.tied_mm) == pytest.approx(tied, abs=1e-2)
    assert gap.free_mm <= free + 1e-6
    assert gap.free_mm <= max(0.0, gap.tied_mm) + 1e-3


def test_toe_takes_room_and_a_tie_bar_reaches_what_it_reaches() -> None:
    envelope = engine_envelope(case_of(swing_job()))
    assert twins_gap(envelope, 20.0, 660.0, 0.8).tied_mm < twins_gap(envelope, 20.0, 660.0).tied_mm
    assert twins_gap(envelope, 20.0, 660.0).tie_bar_reaches
    assert not twins_gap(envelope, 20.0, 900.0).tie_bar_reaches


@pytest.mark.parametrize("toe_mm", [-13.0, 0.0, 13.0])
def test_toe_of_the_job_is_half_on_each_engine_over_the_arm_to_the_propeller(toe_mm) -> None:
    spacing = Neighbour("twins", reading(660.0), reading(toe_mm))
    case = case_of(replace(swing_job(), neighbour=spacing))
    gap, envelope = twins_of(case), engine_envelope(case)
    arm = case.engine.sizes.propeller_aft - case.engine.axis_out_mm - envelope.steering_aft_mm
    assert arm > 200.0
    assert math.tan(math.radians(gap.toe_deg)) * arm == pytest.approx(toe_mm / 2.0)
    straight = twins_gap(envelope, engine_travel(case).lock_deg, 660.0)
    assert (gap.tied_mm < straight.tied_mm) == (toe_mm != 0.0)


@pytest.mark.parametrize(
    "engine", sample_catalogue().engine_classes.values(), ids=lambda item: item.id
)
def test_every_class_has_its_propeller_well_aft_of_the_steering_axis(engine) -> None:
    assert engine.sizes.propeller_aft - engine.axis_out_mm > 150.0


# ------------------------------------------------------------------- in space


@settings(max_examples=60, deadline=None)
@given(bodies, bodies, st.floats(0.0, 500.0))
def test_the_distance_of_two_bodies_is_that_of_a_quadratic_program(one, two, away) -> None:
    a, b = np.array(one), np.array(two) + np.array((away, 0.0, 0.0))
    ours, on_a, on_b = body_distance(one, [tuple(map(float, row)) for row in b])
    count = len(a) + len(b)
    unlike = np.vstack((a, -b))
    sums = np.zeros((2, count))
    sums[0, : len(a)] = 1.0
    sums[1, len(a) :] = 1.0
    if ours == 0.0:
        found = linprog(np.zeros(count), A_eq=np.vstack((unlike.T, sums)),
                        b_eq=[0.0, 0.0, 0.0, 1.0, 1.0])  # fmt: skip
        assert found.status == 0 or _least(unlike, sums) < 1e-3
    else:
        assert math.dist(on_a, on_b) == pytest.approx(ours, abs=1e-6)
        n = (np.array(on_a) - np.array(on_b)) / ours
        # The plane square to the nearest places parts the bodies by as much: nothing is nearer.
        assert (a @ n).min() - (b @ n).max() == pytest.approx(ours, abs=1e-4)


def _least(unlike, sums):
    start = np.full(unlike.shape[0], 2.0 / unlike.shape[0])
    equal = {"type": "eq", "fun": lambda w: sums @ w - 1.0}
    found = minimize(
        lambda w: float(np.sum((w @ unlike) ** 2)),
        start,
        bounds=[(0, 1)] * len(start),
        constraints=equal,
    )
    return math.sqrt(max(0.0, found.fun))


def brute(case, lock, tilts, steers):
    """Return the least distance over a grid, engine placed by scipy's rotations."""
    envelope, turn = engine_envelope(case), tilt_turn(case, mounted_option(case))
    least = math.inf
    walls = [(s, w) for s in surroundings(case).solids for w in solid_bodies(s)]
    for tilt, steer in itertools.product(tilts, steers):
        tilted = Rotation.from_euler("y", -tilt, degrees=True)
        steered = Rotation.from_euler("z", steer, degrees=True)
        for body in _bodies(envelope):
            turned = steered.apply(body.corners) if body.steers else np.array(body.corners)
            moved = tilted.apply(turned + np.array((body.aft_mm, 0.0, 0.0)))
            placed = moved + np.array((turn.pivot[0], 0.0, turn.pivot[1]))
            rows = [tuple(map(float, row)) for row in placed]
            for solid, wall in walls:
                if solid.meets(body.name):
                    least = min(least, body_distance(rows, wall)[0])
    return least


@pytest.mark.parametrize(("wide", "long"), [(900.0, 620.0), (760.0, 640.0), (760.0, 720.0)])
def test_the_worst_place_in_space_is_that_of_a_brute_grid(wide, long) -> None:
    well = roomy_well(width=reading(wide, 3.0), length=reading(long, 3.0), corner_radius=None)
    case = case_of(swing_job(well=well))
    turn = tilt_turn(case, mounted_option(case))
    place = worst(swing_job(well=well))
    tilts = np.linspace(turn.low_deg, turn.high_deg, 25)
    least = brute(case, 32.0, tilts, np.linspace(-32.0, 32.0, 17))
    assert place.clear_mm <= least + 1e-6
    near = np.linspace(-0.5, 0.5, 5)
    tilts = np.clip(place.tilt_deg + near, turn.low_deg, turn.high_deg)
    steers = np.clip(place.steer_deg + near, -32.0, 32.0)
    fine = brute(case, 32.0, tilts, steers)
    assert place.clear_mm - place.resolution_mm <= fine + 1e-6
    assert fine <= least + 1e-6 or place.clear_mm <= fine
    assert place.resolution_mm <= RESOLUTION_MM
    assert math.dist(place.on_engine, place.on_solid) == pytest.approx(place.clear_mm, abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.floats(560.0, 1000.0), st.floats(1.0, 100.0))
def test_a_wider_well_never_has_less_room_in_space(wide, more) -> None:
    one = worst(swing_job(well=roomy_well(width=reading(wide, 3.0))))
    two = worst(swing_job(well=roomy_well(width=reading(wide + more, 3.0))))
    assert max(0.0, two.clear_mm) >= max(0.0, one.clear_mm) - 2.0 * RESOLUTION_MM


@settings(max_examples=15, deadline=None)
@given(st.floats(0.0, 40.0), st.floats(0.0, 10.0))
def test_more_lock_never_gives_more_room(lock, more) -> None:
    job = swing_job()
    assert max(0.0, worst(job, lock + more).clear_mm) <= (
        max(0.0, worst(job, lock).clear_mm) + 2.0 * RESOLUTION_MM
    )


def test_a_mirrored_boat_has_the_same_room() -> None:
    left = box(ahead=(100.0, 400.0), above=(100.0, 700.0), across=(-600.0, -400.0))
    right = box(ahead=(100.0, 400.0), above=(100.0, 700.0), across=(400.0, 600.0))
    one, two = (worst(swing_job(well=Well(), obstacles=(item,))) for item in (left, right))
    assert one.clear_mm == pytest.approx(two.clear_mm, abs=2.0 * RESOLUTION_MM)
    assert one.clear_mm > 0.0


def test_steering_makes_a_tilt_that_cleared_worse() -> None:
    straight = worst(swing_job(), lock=0.0)
    turned = worst(swing_job(), lock=32.0)
    assert turned.clear_mm < straight.clear_mm - 10.0
    assert abs(turned.steer_deg) > 10.0


def test_a_contact_is_deep_and_named() -> None:
    place = worst(swing_job(well=roomy_well(length=reading(300.0, 3.0))))
    assert place.clear_mm < -10.0
    assert place.solid.kind == "well"


def test_at_one_tilt_the_place_is_at_that_tilt_and_no_better_than_over_all() -> None:
    case = case_of(swing_job())
    over_all = worst(swing_job())
    place = steer_at(case, 40.0)
    assert place.tilt_deg == pytest.approx(40.0)
    assert place.clear_mm >= over_all.clear_mm - RESOLUTION_MM


def test_with_nothing_round_it_there_is_no_worst_place() -> None:
    envelope = engine_envelope(case_of(swing_job()))
    assert tilt_and_steer(envelope, Turn((0.0, 80.0), 0.0, 60.0), 30.0, 0.0, ()) is None


@settings(max_examples=25, deadline=None)
@given(st.floats(2.0, 90.0), st.sampled_from(["ahead", "port", "starboard", "up"]))
def test_the_depth_of_a_contact_is_the_shortest_way_out(deep, way) -> None:
    """A hood taken as a box, held still, and a box that reaches into it by a known way."""
    case = case_of(swing_job(well=Well()))
    envelope, turn = engine_envelope(case), tilt_turn(case, mounted_option(case))
    x, z = zip(*envelope.part("cowl").ring, strict=True)
    left, low, top = turn.pivot[0] + min(x), turn.pivot[1] + min(z), turn.pivot[1] + max(z)
    half = envelope.cowl_half_breadth_mm
    middle = turn.pivot[0] + 0.5 * (min(x) + max(x))
    beside = (-middle - 40.0, -middle + 40.0)
    made = {
        "ahead": ((-left - deep, -left + 900.0), (low - 50.0, top + 400.0), (-900.0, 900.0)),
        "port": (beside, (low + 90.0, top + 800.0), (-900.0, deep - half)),
        "starboard": (beside, (low + 90.0, top + 800.0), (half - deep, 900.0)),
        "up": (beside, (top - deep, top + 900.0), (-60.0, 60.0)),
    }[way]  # fmt: skip
    thing = box("thing", "other", *made)
    found = surroundings(case_of(swing_job(well=Well(), obstacles=(thing,)))).solids
    still = Turn(turn.pivot, 0.0, 0.0)
    place = tilt_and_steer(envelope, still, 0.0, 0.0, found)
    if way == "up":  # it hangs into the hood from above; only ahead, aft or aside can clear it
        assert place.clear_mm <= -deep + 0.2 or place.clear_mm <= -60.0
    else:
        assert -place.clear_mm == pytest.approx(deep, abs=0.3)
    assert place.part == "cowl"


def test_the_deepest_of_several_contacts_is_named() -> None:
    """A shallow contact that is met first does not hide a deep one."""
    shallow = box("shallow", "other", (160.0, 400.0), (150.0, 700.0), (-900.0, -200.0))
    deep = box("deep", "other", (0.0, 400.0), (150.0, 700.0), (100.0, 900.0))
    for things in ((shallow, deep), (deep, shallow)):
        place = worst(swing_job(well=Well(), obstacles=things), lock=5.0)
        assert place.solid.name == "deep"
