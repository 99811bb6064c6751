"""How long the swing takes. Run on its own with --benchmark-only."""

from __future__ import annotations

import time

from shapely import affinity
from shapely.geometry import Polygon as Area
from shapely.ops import unary_union

from rigfit.rigging import swing, tilt_steer
from rigfit.rigging.checks_swing import check_swing
from rigfit.rigging.envelope import engine_envelope, mounted_option, placed_rings, tilt_turn
from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.tilt_steer import tilt_and_steer
from tests.builders import case_of, sample_job
from tests.rigging.swing_jobs import TRAILER, box, gear, roomy_well, swing_job

TIMES_FASTER = 50.0
TILT_AND_STEER_S = 0.050


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
    begin = time.perf_counter()
    sweep(unary_union(rings), things, turn, 0.05)
    slow = time.perf_counter() - begin
    times = slow / benchmark.stats.stats.median
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
