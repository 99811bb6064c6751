"""Putting logs of a satellite receiver and expectations into a job's trials."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, checked_text, value_of
from rigfit.records.profiles import load_catalogue
from rigfit.records.track_log import Track
from rigfit.records.trial_paste import MOST_RUNS
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin, Reading, specs
from rigfit.rigging.steady import Matched, Stretch, steady_stretches, way_back, with_speeds
from rigfit.rigging.tolerance import Estimate, half_width
from rigfit.rigging.trial_fields import Run

MOST_OFFERED = 40


def trial_named(job: Job, trial: str) -> str:
    """Return the id of a trial of the job: the one named, or the only one there is.

    :raises EntryError: when there is none, no such one, or it is not said which.
    """
    known = [item.id for item in job.trials]
    if trial and trial in known:
        return trial
    if not trial and len(known) == 1:
        return known[0]
    raise EntryError(
        f'there is no trial "{trial}"' if trial else "it is not said which trial this is of",
        allowed="the trials are " + (", ".join(known) or "none yet"),
        cure="name one with --trial" if known else "add a [[trial]] with an id to the job",
        where="trial",
    )


def timed_run(job: Job, trial: str, typed: str) -> Run:
    """Return a run from "RPM=TIME", such as 3000=14:32:10.

    :raises EntryError: when it is not of that form or the engine speed cannot be read.
    """
    rpm, mark, time = typed.partition("=")
    spec = specs(Run)["rpm"]
    if not mark or not time.strip():
        raise EntryError(
            f'"{typed[:40]}" is not an engine speed and a time', cure="write it like 3000=14:32:10",
            where="at",
        )  # fmt: skip
    try:
        value = value_of(rpm, spec, bare_units(job.units.entries), load_catalogue())
    except EntryError as error:
        raise error.at("at") from None
    return Run(trial=trial, rpm=value, time=checked_text(time))


def with_track(job: Job, track: Track, trial: str, at: Sequence[str] = ()) -> Matched:
    """Return the job with speeds from a track in the runs of a trial, and what was done.

    :param at: runs to add first, as "RPM=TIME"; the others are those of the trial with a time.
    :raises EntryError: for a trial the job lacks, something that cannot be read, too many runs.
    """
    name = trial_named(job, trial)
    added = tuple(timed_run(job, name, typed) for typed in at)
    if len(job.runs) + len(added) > MOST_RUNS:
        raise EntryError(
            f"the job would have {len(job.runs) + len(added)} runs", allowed=f"at most {MOST_RUNS}",
            cure="leave out some",
        )  # fmt: skip
    found = steady_stretches(track.times, track.speeds, track.courses)
    matched = with_speeds(replace(job, runs=(*job.runs, *added)), found, name)
    told = (*track.told, f"{len(found)} steady stretches of speed found.", *matched.told)
    return Matched(matched.job, told, matched.count)


def offered(track: Track) -> tuple[str, ...]:
    """Return the steady stretches of a track as lines: time, length, speed, and the way back."""
    found = steady_stretches(track.times, track.speeds, track.courses)
    lines = [_line(item, way_back(item, found)) for item in found[:MOST_OFFERED]]
    if len(found) > MOST_OFFERED:
        lines.append(f"and {len(found) - MOST_OFFERED} more")
    return tuple(lines)


def _line(item: Stretch, back: Stretch | None) -> str:
    more = f", back {back.mean:.1f} kn from {back.clock}" if back else ""
    return f"{item.clock} UTC, {item.seconds:.0f} s at {item.mean:.1f} kn{more}"


def with_expectation(
    job: Job, trial: str, speed: Estimate | None, rpm: Estimate | None
) -> tuple[Job, tuple[str, ...]]:
    """Return the job with what is reckoned for full throttle kept in a trial, and what was done.

    What the trial holds already is left alone, so that an expectation cannot follow the result.

    :raises EntryError: for a trial the job lacks, or when nothing could be reckoned.
    """
    name = trial_named(job, trial)
    if speed is None and rpm is None:
        raise EntryError(
            "nothing can be reckoned for full throttle yet",
            cure="fill in what [underway] and [propeller] ask for", where="trial",
        )  # fmt: skip
    trials = list(job.trials)
    place = next(index for index, item in enumerate(trials) if item.id == name)
    item, told = trials[place], []
    if speed is not None and item.expected_speed is None:
        item = replace(item, expected_speed=_kept(speed, "kn", 1))
        told.append(f"Trial {name} expects {speed.value:.1f} ± {speed.tolerance:.1f} kn.")
    elif speed is not None:
        told.append(f"Trial {name} has an expected speed already, which is kept.")
    if rpm is not None and item.expected_rpm is None:
        item = replace(item, expected_rpm=_kept(rpm, "rpm", 0))
        told.append(f"Trial {name} expects {rpm.value:.0f} ± {rpm.tolerance:.0f} rpm.")
    elif rpm is not None:
        told.append(f"Trial {name} has an expected engine speed already, which is kept.")
    trials[place] = item
    return replace(job, trials=tuple(trials)), tuple(told)


def _kept(value: Estimate, unit: str, places: int) -> Reading:
    number = round(value.value, places)
    spread = max(round(half_width(value.tolerance), places), 10.0**-places)
    typed = f"{number:g} ± {spread:g} {unit}"
    return Reading(number, spread, Origin.CHOSEN, typed, tolerance_typed=True)
