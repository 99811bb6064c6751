"""How long a day's track, a log of trials and their drawing take."""

from __future__ import annotations

import io
import math

from rigfit.drawing.trial_view import trial_scene
from rigfit.records.track_log import read_track
from rigfit.records.trial_paste import parse_runs
from rigfit.rigging.sea_trial import trial_log
from rigfit.rigging.steady import steady_stretches
from rigfit.units import Shown
from tests.builders import CATALOGUE
from tests.records.tracks import gpx, nmea
from tests.rigging.trials import NEW, job, runs, trial

HOURS = 10
LEGS = [
    (12.0 + 8.0 * math.sin(k / 900.0), 90.0 if (k // 300) % 2 else 270.0)
    for k in range(HOURS * 3600)
]
TRACK_S = 2.0
LOG_MS = 50.0


def median_ms(benchmark) -> float:
    return 1000.0 * benchmark.stats.stats.median


def test_ten_hours_of_gpx_at_one_a_second(benchmark) -> None:
    data = gpx(LEGS)
    seen: list[float] = []

    def read():
        return read_track(io.BytesIO(data), progress=seen.append, size=len(data))

    found = benchmark.pedantic(read, rounds=3)
    benchmark.extra_info["megabytes"] = len(data) / 1e6
    assert len(found.times) == HOURS * 3600
    assert seen[-1] == 1.0
    assert median_ms(benchmark) < 1000.0 * TRACK_S


def test_ten_hours_of_nmea(benchmark) -> None:
    data = nmea(LEGS)
    found = benchmark.pedantic(read_track, args=(data,), rounds=3)
    assert len(found.times) == HOURS * 3600
    assert median_ms(benchmark) < 1000.0 * TRACK_S


def test_steady_stretches_of_ten_hours(benchmark) -> None:
    track = read_track(gpx(LEGS))
    benchmark.pedantic(steady_stretches, args=(track.times, track.speeds, track.courses), rounds=3)
    assert median_ms(benchmark) < 500.0


def test_many_trials(benchmark) -> None:
    made = job(
        *(trial(f"T{k}", date=f"2026-05-{k + 1:02d}") for k in range(20)),
        log=[run for k in range(20) for run in runs(NEW, f"T{k}")],
    )
    log = benchmark(lambda: trial_log(made, CATALOGUE))
    assert sum(len(item.runs) for item in log.trials) == 20 * len(NEW)
    assert median_ms(benchmark) < LOG_MS


def test_the_curves(benchmark) -> None:
    log = trial_log(job(), CATALOGUE)
    benchmark(lambda: trial_scene(log, Shown()))
    assert median_ms(benchmark) < LOG_MS


def test_a_paste_of_two_thousand_rows(benchmark) -> None:
    text = "rpm\tthere\tback\n" + "3000\t20.1\t21.2\n" * 2000
    found = benchmark.pedantic(parse_runs, args=(text, "metric", "T1"), rounds=3)
    assert len(found.runs) == 2000
    assert median_ms(benchmark) < 1000.0
