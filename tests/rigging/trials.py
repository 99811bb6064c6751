"""Logs of sea trials for tests; all their figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from rigfit.rigging.case import Case
from rigfit.rigging.job import Job
from rigfit.rigging.sea_trial import TrialLog, trial_log
from rigfit.rigging.trial_fields import Run, Trial
from tests.builders import CATALOGUE, case_of, reading, sample_job

Point = tuple[float, float | None, float | None, float | None]
"""Engine speed, speed there and back, fuel flow."""

OLD: tuple[Point, ...] = (
    (1000, 4.1, 3.5, 2.1), (2000, 7.2, 6.0, 6.0), (3000, 13.8, 12.4, 12.4),
    (4000, 20.9, 19.5, 19.6), (5000, 27.6, 26.6, 32.5),
)  # fmt: skip
NEW: tuple[Point, ...] = (
    (1000, 4.2, 3.6, 1.5), (2000, 6.9, 6.2, 4.6), (3000, 14.9, 13.4, 8.7),
    (4000, 22.9, 21.8, 13.9), (5000, 29.5, 28.5, 21.8), (5700, 33.0, 32.0, 29.0),
)  # fmt: skip


def trial(key: str = "T1", **changes: Any) -> Trial:
    """Return a trial of the sample job's engine with everything said that matters."""
    said: dict[str, Any] = {
        "date": f"2026-05-{10 + len(key):02d}", "engine": "A", "row": 2,
        "pitch": reading(431.8), "gear_ratio": reading(2.0), "wot_low": reading(5000.0),
        "wot_high": reading(6000.0), "mass_aboard": reading(240.0, 10.0), "wind": reading(6.0, 1.0),
        "water": "ripples", "speed_from": "satellite", "rpm_checked": "yes",
    }  # fmt: skip
    return Trial(key, **{**said, **changes})


def runs(points: Sequence[Point] = NEW, key: str = "T1", **said: Any) -> tuple[Run, ...]:
    """Return runs, the fastest of them at full throttle, with nothing dangerous."""
    calm: dict[str, Any] = {
        "trim": "a little out", "plate": "wetted", "ventilates": "no", "porpoises": "no",
        "overheats": "no",
    }  # fmt: skip
    top = max(point[0] for point in points)
    return tuple(
        Run(
            key,
            reading(rpm, 50.0),
            *(reading(way, 0.3) if way is not None else None for way in (there, back)),
            full_throttle="yes" if rpm == top else "no",
            fuel_flow=reading(flow, 0.5) if flow is not None else None,
            **{**calm, **said},
        )
        for rpm, there, back, flow in points
    )


def job(*trials: Trial, log: Sequence[Run] = (), **changes: Any) -> Job:
    """Return the sample job with a log; one good trial where none is given."""
    plain = sample_job(**changes)
    if not trials:
        return replace(plain, trials=(trial(),), runs=tuple(log) or runs())
    return replace(plain, trials=trials, runs=tuple(log))


def case(*trials: Trial, log: Sequence[Run] = (), **changes: Any) -> Case:
    """Return the case of ``job``."""
    return case_of(job(*trials, log=log, **changes))


def log_of(found: Case) -> TrialLog:
    """Return the log of a case."""
    return trial_log(found.job, CATALOGUE)
