"""The command ``trial``: the log of the sea trials, logs put into it, advice, the next change."""

from __future__ import annotations

import argparse
import sys
import textwrap
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from rigfit.command_parts import (
    NOTHING_STOPS,
    Parser,
    add_command,
    add_job,
    add_json,
    asked_report,
    asked_text,
    named,
    opened,
    paint_for,
    print_report_data,
    say_lines,
    status_of,
)
from rigfit.errors import UsageError
from rigfit.plain_report import WIDTH, caution_lines, heading
from rigfit.plain_tables import apart
from rigfit.plain_trial import NOT_LOGGED, trial_lines
from rigfit.trial_data import compared, log_of, trial_data
from rigfit.wording import say, shown

if TYPE_CHECKING:
    from rigfit.rigging.job import Job

_TRACKS = (".gpx", ".nmea", ".nma", ".log")


def add_trial(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "trial", _trial,
        "say what the sea trials came to and what to change next, or put a log into the job",
        "rigfit trial my-boat.toml\n"
        "rigfit trial my-boat.toml --against T1 --csv runs.csv\n"
        "rigfit trial my-boat.toml --import runs.csv --trial T2\n"
        "rigfit trial my-boat.toml --import day.gpx --trial T2 --at 3000=14:32:10\n"
        "rigfit draw my-boat.toml form.pdf --sheet trial-form --paper A4",
    )  # fmt: skip
    add_job(parser)
    add_json(parser)
    parser.add_argument("--csv", default=None, metavar="FILE", help="write every run as CSV")
    parser.add_argument(
        "--against", default="", metavar="ID",
        help="which trial to hold the newest against; else the one before it",
    )  # fmt: skip
    parser.add_argument(
        "--import", dest="files", nargs="+", default=None, metavar="FILE",
        help="put runs (text, CSV) or the speeds of a track (GPX, NMEA 0183) into the job",
    )  # fmt: skip
    parser.add_argument(
        "--trial", default="", metavar="ID", help="which trial what is put in belongs to"
    )
    parser.add_argument(
        "--at", action="append", default=[], metavar="RPM=TIME",
        help="a run at that engine speed began at that time (UTC) of the track; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--expect", action="store_true",
        help="keep what is reckoned for full throttle in the trial, before it is run",
    )  # fmt: skip


def _trial(options: argparse.Namespace) -> int:
    changing = options.files is not None or options.expect
    if changing and (options.json or options.csv or options.against):
        raise UsageError(
            "--import and --expect change the job and go without --json, --csv and --against",
            cure="call it once to change the job and again to look",
        )
    if options.at and options.files is None:
        raise UsageError("--at needs --import and a track", cure="name the track")
    if options.files is not None:
        return _import(options)
    if options.expect:
        return _expect(options)
    report = asked_report(options)
    if options.against:
        _check_against(options, compared(report, log_of(report), options.against))
    if options.csv is not None:
        from rigfit.records.saving import write_whole
        from rigfit.records.trial_csv import runs_csv

        write_whole(Path(options.csv), runs_csv(log_of(report)).encode("utf-8"))
    if options.json:
        print_report_data(
            report, trial=trial_data(report, partial(say, style=shown(report.case.job.units)))
        )
        return status_of(report)
    paint = paint_for(sys.stdout)
    said = trial_lines(report, paint, against=options.against) or textwrap.wrap(NOT_LOGGED, WIDTH)
    say_lines(apart(heading(report, paint), said, caution_lines()))
    return status_of(report)


def _check_against(options: argparse.Namespace, pair: object) -> None:
    if pair is None:
        raise UsageError(
            f'trial "{options.against[:40]}" cannot be held against the newest one',
            allowed="another trial of the job with runs", cure="see rigfit trial JOB",
        )  # fmt: skip


# ------------------------------------------------------------------ into the job


def _import(options: argparse.Namespace) -> int:
    """Put runs or speeds into the job file and say what was done with each row and point."""
    from rigfit import tasks

    job = tasks.open_job(options.job)
    told: list[str] = []
    for name in options.files:
        changed, lines = _one_file(job, name, options)
        more = len(changed.runs) - len(job.runs)
        told += [f"{name}:", *lines, f"{more} run{'' if more == 1 else 's'} added."]
        job = changed
    tasks.save(options.job, job)
    said = [line for words in told for line in _wrapped(words)]
    say_lines([*said, f"Then: rigfit trial {options.job}"])
    return NOTHING_STOPS


def _wrapped(words: str) -> list[str]:
    # A path is left whole, so that it can be copied.
    return [words] if words.endswith(":") else textwrap.wrap(words, WIDTH, initial_indent="  ",
                                                             subsequent_indent="    ")  # fmt: skip


def _one_file(job: Job, name: str, options: argparse.Namespace) -> tuple[Job, list[str]]:
    from rigfit.records.trial_paste import with_runs

    if name != "-" and _is_track(name):
        return _track(job, name, options)
    if options.at:
        raise UsageError("--at belongs to a track", allowed="GPX or NMEA 0183", cure="leave it out")
    changed, notes = with_runs(job, asked_text(name), named(name), options.trial or _only(job))
    return changed, list(notes)


def _only(job: Job) -> str:
    return job.trials[0].id if len(job.trials) == 1 else ""


def _track(job: Job, name: str, options: argparse.Namespace) -> tuple[Job, list[str]]:
    from rigfit.records.track_log import read_track
    from rigfit.records.trial_entry import offered, with_track

    with opened(name) as file:
        size = Path(name).stat().st_size
        track = read_track(file, name, progress=_progress(), size=size)
    if sys.stderr.isatty():
        sys.stderr.write("\r" + " " * 30 + "\r")
    matched = with_track(job, track, options.trial, options.at)
    lines = [*matched.told, f"{matched.count} run{'' if matched.count == 1 else 's'} got a speed."]
    if not matched.count:
        lines += ["Stretches to choose from, with --at RPM=TIME:", *offered(track)]
    return matched.job, lines


def _progress() -> Callable[[float], None] | None:
    """Return what shows the part read on a terminal, None for a file or a pipe."""
    if not sys.stderr.isatty():
        return None

    def show(part: float) -> None:
        sys.stderr.write(f"\rreading the track {100.0 * part:3.0f} %")
        sys.stderr.flush()

    return show


def _is_track(name: str) -> bool:
    """Tell a track from a table of runs by its ending, else by how it begins."""
    if name.casefold().endswith(_TRACKS):
        return True
    from rigfit.records.track_log import SNIFFED, is_log

    with opened(name) as file:
        return is_log(file.read(SNIFFED))


def _expect(options: argparse.Namespace) -> int:
    """Keep what is reckoned for full throttle in a trial, so that it can be held against it."""
    from rigfit import tasks
    from rigfit.records.trial_entry import with_expectation
    from rigfit.rigging.underway import UnderwayResult, underway_of

    report = asked_report(options)
    found = underway_of(report.case)
    top = found.top if isinstance(found, UnderwayResult) else None
    rpm = found.rpm if isinstance(found, UnderwayResult) else None
    job, told = with_expectation(report.case.job, options.trial, top, rpm)
    tasks.save(options.job, job)
    say_lines([line for words in told for line in textwrap.wrap(words, WIDTH)])
    return NOTHING_STOPS
