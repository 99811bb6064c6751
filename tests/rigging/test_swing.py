"""The tilting engine: exact against a brute sweep, and what more room, setback and height do."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon as Area
from shapely.ops import unary_union

from rigfit.errors import EntryError
from rigfit.rigging.envelope import (
    engine_envelope,
    envelope_of,
    mounted_option,
    placed_rings,
    rig_of,
    tilt_turn,
)
from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.steer import plan_steer
from rigfit.rigging.surroundings import (
    convex_pieces,
    corner_chords,
    corner_plan,
    obstacle_solid,
    outline_points,
    surroundings,
)
from rigfit.rigging.swing import options_swing, tilt_swing
from rigfit.rigging.tilt_steer import tilt_and_steer
from rigfit.rigging.trim_and_trailer import trailer_clearance
from rigfit.rigging.well_fields import Obstacle, Well
from tests.builders import bracket_job, case_of, changed, reading, sample_job
from tests.rigging.swing_jobs import FULL_ENGINE, TRAILER, box, roomy_well, swing_job


def gap_to(job, name="front wall of the well"):
    gaps = tilt_swing(case_of(job)).gaps
    return next(gap for gap in gaps if gap.solid.name == name)


@pytest.mark.parametrize("ahead", [430.0, 560.0, 700.0])
@pytest.mark.parametrize("full", [True, False])
def test_the_exact_tilt_is_that_of_a_brute_sweep(ahead, full) -> None:
    sizes = FULL_ENGINE if full else {}
    case = case_of(changed(sample_job(obstacles=(box(ahead=(ahead, 900.0)),)), **sizes))
    swing = tilt_swing(case)
    names = ("cowl", "pan", "swivel", "leg", "plate", "strut", "gearcase", "skeg", "propeller")
    engine = unary_union(
        [Area(ring).buffer(0) for ring in placed_rings(swing.envelope, swing.turn.pivot, names)]
    )
    thing = Area(swing.gaps[0].solid.ring)
    step, gaps = 0.01, []  # half a step moves the hood's far corner by less than 0.12 mm
    angle = swing.turn.low_deg
    while angle <= swing.turn.high_deg + 1e-9:
        turned = affinity.rotate(engine, angle, origin=swing.turn.pivot)
        gaps.append((turned.distance(thing), angle))
        angle += step
    least, at = min(gaps)
    touch = swing.gaps[0].touch
    if least > 0.0:
        assert touch.gap_mm == pytest.approx(least, abs=0.12)
        assert touch.gap_mm <= least + 1e-6
        assert touch.angle_deg == pytest.approx(at, abs=0.5)
    else:
        first = next(where for gap, where in gaps if gap == 0.0)
        assert first - step - 1e-6 <= touch.angle_deg <= first + 1e-6


def test_the_touching_places_are_as_far_apart_as_the_gap() -> None:
    gaps = tilt_swing(case_of(swing_job())).gaps
    assert gaps
    for gap in gaps:
        apart = math.dist(gap.touch.on_moving, gap.touch.on_fixed)
        assert apart == pytest.approx(gap.touch.gap_mm, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.floats(300.0, 900.0), st.floats(1.0, 200.0))
def test_a_longer_well_never_has_less_room(length, more) -> None:
    short = gap_to(swing_job(well=roomy_well(length=reading(length, 3.0))))
    longer = gap_to(swing_job(well=roomy_well(length=reading(length + more, 3.0))))
    assert longer.clear_mm >= short.clear_mm - 0.2
    assert longer.clear_mm <= short.clear_mm + more + 0.2


@settings(max_examples=15, deadline=None)
@given(st.floats(300.0, 560.0))
def test_a_wall_moved_by_what_it_lacks_just_clears(length) -> None:
    job = swing_job(well=Well(length=reading(length, 3.0), front_top=reading(200.0, 3.0)))
    gap = gap_to(job)
    if gap.touches and gap.move == "ahead":
        moved = Well(length=reading(length - gap.clear_mm, 3.0), front_top=reading(200.0, 3.0))
        assert 0.0 <= gap_to(swing_job(well=moved)).clear_mm <= 0.3
    elif gap.touches:
        lower = Well(length=reading(length, 3.0), front_top=reading(200.0 + gap.clear_mm, 3.0))
        assert 0.0 <= gap_to(swing_job(well=lower)).clear_mm <= 0.3
    else:
        assert gap.move == ""


def test_a_setback_gives_room_ahead() -> None:
    on_transom = tilt_swing(case_of(changed(sample_job(well=roomy_well()), **FULL_ENGINE)))
    behind = tilt_swing(case_of(changed(bracket_job(well=roomy_well()), **FULL_ENGINE)))
    assert behind.kick_up.ahead_mm < on_transom.kick_up.ahead_mm - 100.0


def test_an_obstacle_beside_the_engine_is_not_in_the_way_of_the_tilt() -> None:
    beside = box(ahead=(-100.0, 400.0), above=(0.0, 900.0), across=(300.0, 600.0))
    assert tilt_swing(case_of(swing_job(well=Well(), obstacles=(beside,)))).gaps == ()


def test_an_obstacle_the_engine_stands_in_is_named_at_rest() -> None:
    gap = gap_to(swing_job(obstacles=(box("locker", ahead=(-50.0, 200.0), above=(0.0, 700.0)),)),
                 "locker")  # fmt: skip
    assert gap.touch.at_rest
    assert gap.touches


def test_another_engine_is_left_to_its_own_finding() -> None:
    job = swing_job(well=Well(), obstacles=(box("kicker", "kicker", ahead=(0.0, 300.0)),))
    assert tilt_swing(case_of(job)).gaps == ()


def test_the_leg_does_not_reach_what_is_inside_the_transom() -> None:
    gap = gap_to(
        swing_job(well=roomy_well(floor_below_top=reading(100.0, 3.0))), "floor of the well"
    )
    assert gap.clear_mm > 0.0


def test_kicking_up_reaches_as_far_as_the_outline_ever_does() -> None:
    swing = tilt_swing(case_of(swing_job()))
    ahead = max(
        -swing.turn.point(point, angle / 10.0)[0]
        for ring in placed_rings(swing.envelope, swing.turn.pivot)
        for point in ring
        for angle in range(int(10 * swing.turn.low_deg), int(10 * swing.turn.high_deg) + 1, 5)
    )
    assert swing.kick_up.ahead_mm == pytest.approx(ahead, abs=0.1)
    assert swing.kick_up.ahead_mm >= ahead - 1e-9


def test_every_possible_height_has_its_clearance_and_the_one_looked_at_no_change() -> None:
    case = case_of(swing_job())
    options = height_options(case)
    found = options_swing(case, options)
    assert [item.option for item in found] == [item for item in options if item.is_possible]
    now = next(item for item in found if item.option.row == mounted_option(case).row)
    assert now.change_mm == 0.0
    clear = [item.gap.clear_mm for item in found if item.gap]
    # The front wall is lower than the axis, so a higher engine clears it by more.
    assert clear == sorted(clear)
    assert clear[1] - clear[0] == pytest.approx(found[1].change_mm - found[0].change_mm)


def test_the_tolerance_follows_the_readings() -> None:
    wall = gap_to(swing_job())
    loose = gap_to(swing_job(well=roomy_well(length=reading(620.0, 40.0))))
    axis = gap_to(swing_job(engine__tilt_axis_out=None))
    assert loose.tolerance_mm > wall.tolerance_mm
    assert axis.tolerance_mm > wall.tolerance_mm


def test_the_tolerance_is_what_a_moved_reading_really_does() -> None:
    job = swing_job()
    base = gap_to(job)
    still = {
        f"engine__{name}": replace(getattr(job.engines[0], name), tolerance=0.0)
        for name in ("cowl_top_above_seat", "cowl_front_ahead_of_seat", "full_tilt", "trim_in",
                     "tilt_axis_out", "tilt_axis_up", "first_row", "row_pitch")
    }  # fmt: skip
    quiet = changed(job, transom__rake=reading(14.0), transom__thickness=reading(45.0),
                    mounting__upper_holes_below_top=reading(48.0), **still)  # fmt: skip
    well = roomy_well(length=reading(620.0), front_top=reading(60.0))
    assert gap_to(changed(quiet, well=well)).tolerance_mm == pytest.approx(0.0, abs=1e-6)
    tilted = changed(quiet, well=well, engine__full_tilt=reading(80.0, 1.0))
    moved = gap_to(changed(tilted, engine__full_tilt=reading(80.01, 1.0))).clear_mm
    slope = abs(moved - base.clear_mm) / 0.01
    assert gap_to(tilted).tolerance_mm == pytest.approx(2.0 * slope / math.sqrt(3.0), rel=0.02)


# ------------------------------------------------------------------- what stands round it


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("420; 5", "point 1"),
        ("420, -50; x, 3; 5, 6", "point 2"),
        ("420, -50; 560, -50", "2 different corners"),
        ("0, 0; 100, 100; 100, 0; 0, 100", "crosses itself"),
        ("nan, 0; 1, 2; 3, 4", "point 1"),
        ("99999, 0; 1, 2; 3, 4", "at most"),
    ],
)
def test_an_outline_that_cannot_be_read_is_named_with_its_cure(text, said) -> None:
    with pytest.raises(EntryError, match=said) as caught:
        outline_points(text, "obstacle 1 (rail)")
    assert "obstacle 1 (rail)" in str(caught.value)


def test_an_outline_takes_the_place_of_the_four_readings() -> None:
    drawn = Obstacle(name="seat", outline="700, -100; 900, -100; 900, 250; 700, 250")
    one = gap_to(swing_job(obstacles=(drawn,)), "seat").clear_mm
    assert one == pytest.approx(gap_to(swing_job(obstacles=(box(),)), "seat").clear_mm)


@pytest.mark.parametrize(
    ("obstacle", "said"),
    [
        (Obstacle(name="rail"), "ahead_from, ahead_to, above_from, above_to not entered"),
        (box("rail", ahead=(500.0, 500.0)), "no size"),
        (box("rail", across=(5.0, 5.0)), "port and starboard"),
    ],
)
def test_an_obstacle_without_place_or_size_is_a_problem_and_not_a_crash(obstacle, said) -> None:
    with pytest.raises(EntryError, match=said):
        obstacle_solid(obstacle)
    found = surroundings(case_of(swing_job(obstacles=(obstacle,))))
    assert len(found.problems) == 1
    assert "rail" in found.problems[0]


def test_readings_the_wrong_way_round_make_the_same_box() -> None:
    assert obstacle_solid(box(ahead=(900.0, 700.0))).ring == obstacle_solid(box()).ring


@pytest.mark.parametrize("name", ["length", "width"])
def test_a_well_of_no_size_is_named(name) -> None:
    found = surroundings(case_of(swing_job(well=roomy_well(**{name: reading(0.0)}))))
    assert found.solids == ()
    assert name in found.problems[0]


def test_a_wall_of_unknown_height_is_taken_as_tall_and_says_so() -> None:
    solids = surroundings(case_of(swing_job(well=Well(length=reading(500.0))))).solids
    assert solids[0].heights_mm[1] > 1000.0
    assert "taken to stand" in solids[0].assumed


def test_the_thickness_puts_the_front_wall_further_ahead() -> None:
    thin = surroundings(case_of(swing_job(transom__thickness=None))).solids[0]
    thick = surroundings(case_of(swing_job())).solids[0]
    moved = max(x for x, _ in thin.ring) - max(x for x, _ in thick.ring)
    assert moved == pytest.approx(45.0 / math.cos(math.radians(14.0)))


def test_nothing_entered_is_nothing_round_it() -> None:
    assert surroundings(case_of(sample_job())).is_empty


@given(st.floats(1.0, 400.0))
def test_the_chords_of_a_rounded_corner_keep_to_their_arc(radius) -> None:
    plan = corner_plan(-600.0, 400.0, radius, 1.0, corner_chords(radius))
    middle = (-600.0 + radius, 400.0 - radius)
    for one, two in itertools.pairwise(plan[1:]):
        half = ((one[0] + two[0]) / 2.0, (one[1] + two[1]) / 2.0)
        assert radius - 0.0101 <= math.dist(half, middle) <= radius + 1e-9


@given(st.lists(st.floats(40.0, 200.0), min_size=3, max_size=9))
def test_convex_pieces_fill_the_polygon_between_them(radii) -> None:
    ring = tuple(
        (r * math.cos(2.0 * math.pi * i / len(radii)), r * math.sin(2.0 * math.pi * i / len(radii)))
        for i, r in enumerate(radii)
    )
    pieces = [Area(piece) for piece in convex_pieces(ring)]
    assert sum(piece.area for piece in pieces) == pytest.approx(Area(ring).area, rel=1e-6)
    for piece in pieces:
        assert piece.area == pytest.approx(piece.convex_hull.area, rel=1e-6)


# ------------------------------------------------------------------- a drawn outline

DRAWN = (
    (-170.0, 130.0), (-150.0, 560.0), (100.0, 600.0), (560.0, 420.0), (560.0, 120.0),
    (350.0, 60.0), (350.0, -512.0), (190.0, -512.0), (190.0, 60.0), (-60.0, 110.0),
)  # fmt: skip


def test_a_drawn_engine_is_checked_as_drawn_in_all_three_ways() -> None:
    case = case_of(swing_job())
    drawn, boxed = envelope_of(case, [DRAWN]), engine_envelope(case)
    option, solids = mounted_option(case), surroundings(case).solids
    one = tilt_swing(case, option, drawn, solids).worst
    two = tilt_swing(case, option, boxed, solids).worst
    # The box round the hood takes more room than the hood.
    assert one.clear_mm > two.clear_mm
    tall = surroundings(case_of(swing_job(well=roomy_well(front_top=reading(300.0, 3.0))))).solids
    assert plan_steer(case, option, drawn, tall).worst is not None
    turn = tilt_turn(case, option)
    still = tilt_and_steer(drawn, turn, 0.0, 0.0, solids)
    turned = tilt_and_steer(drawn, turn, 32.0, 0.0, solids)
    assert turned.clear_mm <= still.clear_mm <= one.clear_mm + 0.1


def test_bodies_hold_the_outline_they_are_made_of() -> None:
    case = case_of(swing_job(well=Well(), obstacles=(box(ahead=(560.0, 700.0)),)))
    envelope, solids = envelope_of(case, [DRAWN]), surroundings(case).solids
    turn = tilt_turn(case, mounted_option(case))
    flat = tilt_swing(case, None, envelope, solids).worst
    spatial = tilt_and_steer(envelope, turn, 0.0, 0.0, solids)
    assert spatial.clear_mm <= flat.clear_mm + 0.02
    assert spatial.clear_mm >= flat.clear_mm - 60.0


# ------------------------------------------------------------------- on the trailer


def test_the_departure_angle_is_the_least_slope_to_any_corner() -> None:
    case = case_of(swing_job(trailer=TRAILER))
    clear = trailer_clearance(case)
    option, rake = mounted_option(case), math.radians(14.0)
    rig = rig_of(case, option)
    height = case.heights.along_face.value
    axis = (rig.axis()[0] + height * math.sin(rake), rig.axis()[1] + height * math.cos(rake))
    rings = placed_rings(engine_envelope(case), axis)
    shape = unary_union([Area(ring).buffer(0) for ring in rings])
    for place, tilt in ((clear.tilted, 66.0), (clear.down, 0.0)):
        turned = affinity.rotate(shape, tilt, origin=axis)
        z0 = turned.bounds[1]
        assert place.ground_mm == pytest.approx(z0 + 480.0, abs=1e-6)
        coords = [point for part in getattr(turned, "geoms", [turned])
                  for point in part.exterior.coords]  # fmt: skip
        least = min(math.degrees(math.atan2(z + 480.0, x + 1100.0)) for x, z in coords)
        assert place.departure_deg == pytest.approx(least, abs=1e-6)


def test_without_axle_heel_or_leg_there_is_no_trailer_figure() -> None:
    assert trailer_clearance(case_of(swing_job())) is None
