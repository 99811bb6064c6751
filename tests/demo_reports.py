"""Reports on the demo boat and on what is changed about her: other engines, brackets and units."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from rigfit import tasks
from rigfit.records.job_reading import parse_job
from rigfit.records.job_writing import new_job_text
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import Job, Mounting, SetbackBracket
from rigfit.rigging.report import EngineReport
from tests.builders import reading

ROOT = Path(__file__).resolve().parents[1]

ENGINES = ("A", "B", "C", "D")
BRACKETS = ("plate-fixed", "plate-adjustable", "plate-stepped", "pod-level", "own")
UNITS = ("mm", "in")
KINDS = (*ENGINES, *BRACKETS, "empty", "portable", "bare", "twin")
CASES = tuple(f"{kind}-{lengths}" for lengths in UNITS for kind in KINDS)
"""Every kind of job worth drawing, in both units."""


def demo_in(lengths: str = "mm") -> Job:
    """Return the demo job with its results in mm or inches."""
    job = tasks.demo_job()
    return replace(job, units=replace(job.units, lengths=lengths))


def with_bracket(job: Job, kind: str) -> Job:
    bracket = SetbackBracket(kind=kind, setback=reading(150.0, 3.0), measured_to="seat")
    return replace(job, bracket=bracket)


def empty_job() -> Job:
    """Return a job as ``rigfit new`` makes it: nothing measured."""
    return parse_job(new_job_text("Sandpiper"), "new.toml", load_catalogue())


def portable_job(job: Job) -> Job:
    """Return the demo job with one engine that only clamps on."""
    engine = replace(job.engines[1], engine_class="portable-8-20")
    return replace(job, engines=(engine,), mounting=Mounting(engine="B"))


def bare_job(job: Job) -> Job:
    """Return the demo job with a transom nobody has drilled yet."""
    mounting = replace(job.mounting, upper_holes_below_top=None, row=None)
    return replace(job, mounting=mounting, holes=())


def twin_job(job: Job) -> Job:
    """Return the demo job with its engine 345.5 mm to starboard."""
    return replace(job, mounting=replace(job.mounting, off_centre=reading(345.5, 3.0)))


@cache
def report_on(case: str) -> EngineReport:
    """Return the report on one of ``CASES``."""
    kind, lengths = case.rsplit("-", 1)
    job = demo_in(lengths)
    if kind in ENGINES:
        return tasks.check(job, kind)
    if kind in BRACKETS:
        return tasks.check(with_bracket(job, kind))
    if kind == "empty":
        return tasks.check(replace(empty_job(), units=job.units))
    makers = {"portable": portable_job, "bare": bare_job, "twin": twin_job}
    return tasks.check(makers[kind](job))
