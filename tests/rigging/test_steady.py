"""Steady stretches of a track and the runs they belong to."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import find, given
from hypothesis import strategies as st

from rigfit.rigging.steady import (
    LEAST_SECONDS,
    nearest,
    steady_stretches,
    way_back,
    with_speeds,
)
from tests.builders import reading
from tests.rigging.trials import job, runs, trial

DAY = 1_778_932_800.0  # 2026-05-16 12:00:00 UTC


def track(*legs: tuple[float, float, float], noise: float = 0.08, seed: int = 1):
    """A track at 1 Hz: legs of (seconds, knots, course), five seconds of slowing between them."""
    rest = random.Random(seed)  # noqa: S311 - noise, not secrets
    times, speeds, courses = [], [], []
    at = DAY
    for seconds, knots, course in legs:
        for _ in range(int(seconds)):
            times.append(at)
            speeds.append(max(0.0, knots + rest.gauss(0.0, noise)))
            courses.append((course + rest.gauss(0.0, 1.0)) % 360.0)
            at += 1.0
        for k in range(5):
            times.append(at)
            speeds.append(knots * (0.8 - 0.15 * k))
            courses.append((course + 35.0 * k) % 360.0)
            at += 1.0
    return times, speeds, courses


def test_legs_held_long_enough_are_found_with_their_speed() -> None:
    found = steady_stretches(*track((60, 20.0, 90.0), (60, 21.0, 270.0), (10, 30.0, 90.0)))
    assert [round(item.mean) for item in found] == [20, 21]
    for item, course in zip(found, (90.0, 270.0), strict=True):
        assert item.course == pytest.approx(course, abs=2.0)
        assert item.seconds >= 55.0
        assert abs(item.mean - round(item.mean)) <= item.spread


# Whatever the speeds: single ones, and some that are nearly held for up to a minute.
held_speeds = st.lists(
    st.tuples(
        st.floats(0.0, 40.0), st.lists(st.floats(-0.4, 0.4), min_size=1, max_size=60)
    ).map(lambda leg: [max(0.0, leg[0] + off) for off in leg[1]]),
    max_size=8,
).map(lambda legs: [speed for leg in legs for speed in leg])  # fmt: skip


def test_the_speeds_tried_hold_stretches_too() -> None:
    """The two properties below would hold of nothing, too."""
    found = find(held_speeds, lambda s: len(steady_stretches([DAY + k for k in range(len(s))], s)))
    assert len(found) > LEAST_SECONDS


@given(held_speeds)
def test_whatever_the_speeds_a_stretch_stays_in_its_band(speeds: list[float]) -> None:
    times = [DAY + k for k in range(len(speeds))]
    for item in steady_stretches(times, speeds):
        part = speeds[int(item.start - DAY) : int(item.end - DAY) + 1]
        assert item.seconds >= LEAST_SECONDS
        assert max(part) - min(part) <= 2.0 * max(0.6, 0.03 * max(part)) + 1e-9
        assert item.mean == pytest.approx(math.fsum(part) / len(part))


@given(held_speeds)
def test_stretches_are_in_order_and_do_not_overlap(speeds: list[float]) -> None:
    found = steady_stretches([DAY + k for k in range(len(speeds))], speeds)
    assert all(a.end < b.start for a, b in pairwise(found))


def test_a_turn_and_a_gap_end_a_stretch() -> None:
    times = [DAY + k for k in range(80)]
    courses = [90.0] * 40 + [180.0] * 40
    assert len(steady_stretches(times, [20.0] * 80, courses)) == 2
    late = times[:40] + [time + 30.0 for time in times[40:]]
    assert len(steady_stretches(late, [20.0] * 80, [90.0] * 80)) == 2
    assert steady_stretches([], []) == ()


def test_the_way_back_is_the_next_on_the_opposite_course() -> None:
    found = steady_stretches(
        *track((40, 20.0, 90.0), (40, 12.0, 270.0), (40, 20.5, 200.0), (40, 20.8, 272.0))
    )
    back = way_back(found[0], found)
    assert back is found[3]
    assert way_back(found[3], found) is None


def test_speeds_go_into_runs_with_a_time_and_nowhere_else() -> None:
    found = steady_stretches(*track((60, 20.0, 90.0), (60, 21.0, 270.0)))
    blank = [replace(run, speed_there=None, speed_back=None) for run in runs()]
    log = (replace(blank[0], time="12:00:20"), blank[1], replace(runs()[2], time="12:00:20"),
           replace(blank[3], time="15:00:00"), replace(blank[4], time="noon"))  # fmt: skip
    matched = with_speeds(job(trial(), log=log), found, "T1")
    new = matched.job.runs
    assert matched.count == 1
    assert new[0].speed_there is not None
    assert new[0].speed_back is not None
    assert new[0].speed_there.value == pytest.approx(20.0, abs=0.1)
    assert new[0].speed_back.value == pytest.approx(21.0, abs=0.1)
    assert new[1:] == log[1:]
    assert len(matched.told) == len(log)
    for word, told in zip(
        ("there from", "no time", "already", "no steady stretch", "cannot be read"),
        matched.told, strict=True,
    ):  # fmt: skip
        assert word in told


@pytest.mark.parametrize(
    ("typed", "is_found"),
    [
        ("12:00:10", True), ("12:00", True), ("2026-05-16T12:00:10Z", True),
        ("2026-05-16T14:00:10+02:00", True), ("2026-05-17T12:00:10Z", False), ("25:00:00", False),
        ("", False), ("x" * 300, False),
    ],
)  # fmt: skip
def test_times_as_they_are_typed(typed: str, is_found: bool) -> None:
    found = steady_stretches(*track((60, 20.0, 90.0)))
    item, why = nearest(typed, found)
    assert (item is not None) == is_found
    assert bool(why) != is_found


def test_a_time_just_after_midnight_is_that_of_the_next_day() -> None:
    start = DAY + 12 * 3600.0 - 30.0
    found = steady_stretches([start + 60.0 + k for k in range(60)], [20.0] * 60)
    item, _ = nearest("00:00:40", found)
    assert item is found[0]
    assert nearest("12:00:00", ())[0] is None


def test_a_speed_from_a_track_keeps_its_tolerance_when_written() -> None:
    found = steady_stretches(*track((60, 20.0, 90.0)))
    run = replace(runs()[0], speed_there=None, speed_back=None, time="12:00:10")
    there = with_speeds(job(trial(), log=(run,)), found, "T1").job.runs[0].speed_there
    assert there is not None
    assert there.tolerance_typed
    assert there.typed == f"{there.value:g} ± {there.tolerance:g} kn"
    assert reading(there.value).value == there.value
