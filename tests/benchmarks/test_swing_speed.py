"""How long the swing takes. Run on its own with --benchmark-only."""

from __future__ import annotations

import itertools
import time

from shapely import affinity
from shapely.geometry import Polygon as Area
from shapely.ops import unary_union

from rigfit.drawing.swing_view import swing_plan_items, swing_side_items
from rigfit.rigging import swing, tilt_steer
from rigfit.rigging.checks_swing import check_swing
from rigfit.rigging.envelope import engine_envelope, mounted_option, placed_rings, tilt_turn
from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.tilt_steer import tilt_and_steer
from rigfit.units import Shown
from tests.builders import case_of, reading, sample_job
from tests.rigging.swing_jobs import TRAILER, box, gear, roomy_well, swing_job

TIMES_FASTER = 50.0
TILT_AND_STEER_S = 0.050
FRAME_S = 0.010


def sweep(engine, things, turn, step_deg):
    """Return the least gap to each thing, by turning the engine step by step."""
    least = [float("inf")] * len(things)
    angle = turn.low_deg
    while angle <= turn.high_deg:
        turned = affinity.rotate(engine, angle, origin=turn.pivot)
        least = [min(old, turned.distance(thing)) for old, thing in zip(least, things, strict=True)]
        angle += step_deg
    return least


def test_the_exact_tilt_is_far_faster_than_a_sweep(benchmark):
    case = case_of(sample_job(well=roomy_well(), obstacles=(box(),)))
    envelope, option = engine_envelope(case), mounted_option(case)
    solids, turn = surroundings(case).solids, tilt_turn(case, mounted_option(case))

    def exact():
        swing._touches.cache_clear()
        return swing.tilt_swing(case, option, envelope, solids)

    found = benchmark(exact)
    rings = [Area(ring).buffer(0) for ring in placed_rings(envelope, turn.pivot)]
    things = [Area(gap.solid.ring) for gap in found.gaps]
    engine, runs = unary_union(rings), []
    for _ in range(5):
        begin = time.perf_counter()
        sweep(engine, things, turn, 0.05)
        runs.append(time.perf_counter() - begin)
    # Least against least: what else the machine does disturbs both alike.
    slow = min(runs)
    times = slow / benchmark.stats.stats.min
    benchmark.extra_info |= {"sweep_ms": 1e3 * slow, "times_faster": times}
    assert times > TIMES_FASTER


def test_tilt_and_steering_together(benchmark):
    case = case_of(
        swing_job(obstacles=(box(), box("rail", "rail", (400.0, 420.0), (600.0, 640.0))))
    )
    turn, solids = tilt_turn(case, mounted_option(case)), surroundings(case).solids
    envelope = engine_envelope(case)

    def search():
        tilt_steer._searched.cache_clear()
        return tilt_and_steer(envelope, turn, 32.0, 0.0, solids)

    place = benchmark(search)
    benchmark.extra_info |= {"cells": place.cells, "resolution_mm": place.resolution_mm}
    assert benchmark.stats.stats.median < TILT_AND_STEER_S


def test_all_findings_of_a_full_job_once_more(benchmark):
    """What a key press costs after the first: the geometry is remembered."""
    case = case_of(swing_job(steering=gear(), trailer=TRAILER))
    assert benchmark(check_swing, case)


def test_every_height(benchmark):
    case = case_of(swing_job())
    options = height_options(case)

    def every():
        swing._touches.cache_clear()
        return swing.options_swing(case, options)

    assert benchmark(every)


def test_a_job_without_a_well_pays_nothing(benchmark):
    case = case_of(sample_job())
    assert benchmark(check_swing, case) == ()


def test_a_frame_of_the_scrub_from_the_side(benchmark):
    """What is built for one frame while the engine is tilted by hand."""
    case = case_of(swing_job(obstacles=(box(),)))
    option, tilts = mounted_option(case), itertools.cycle(range(60))
    swing_side_items(case, option, 10.0, Shown("mm"), 1.0)

    def frame():
        return swing_side_items(case, option, 10.0, Shown("mm"), float(next(tilts)))

    assert benchmark(frame)
    assert benchmark.stats.stats.median < FRAME_S


def test_a_frame_of_the_scrub_from_above(benchmark):
    """What is built for one frame while the engine is steered, plate level."""
    case = case_of(swing_job(obstacles=(box(),)))
    option, steers = mounted_option(case), itertools.cycle(range(30))
    swing_plan_items(case, option, 10.0, Shown("mm"), 0.0, 1.0)

    def frame():
        return swing_plan_items(case, option, 10.0, Shown("mm"), 0.0, float(next(steers)))

    assert benchmark(frame)
    assert benchmark.stats.stats.median < FRAME_S


def test_the_depth_of_a_contact(benchmark):
    """A contact costs more than a clear way: its depth is compared all over both ranges."""
    case = case_of(swing_job(well=roomy_well(length=reading(420.0, 3.0))))
    turn, solids = tilt_turn(case, mounted_option(case)), surroundings(case).solids
    envelope = engine_envelope(case)

    def search():
        tilt_steer._searched.cache_clear()
        return tilt_and_steer(envelope, turn, 32.0, 0.0, solids)

    assert benchmark(search).clear_mm < 0.0
    assert benchmark.stats.stats.median < TILT_AND_STEER_S
