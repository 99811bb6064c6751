"""The command ``afloat``: how she floats before and after, and putting offsets into the job."""

from __future__ import annotations

import argparse
import sys
import textwrap

from rigfit.command_parts import (
    NOTHING_STOPS,
    Parser,
    add_command,
    add_job,
    add_json,
    asked_report,
    asked_text,
    named,
    paint_for,
    print_report_data,
    say_lines,
    status_of,
)
from rigfit.errors import UsageError
from rigfit.plain_afloat import afloat_lines, load_lines
from rigfit.plain_report import WIDTH, caution_lines, heading
from rigfit.plain_tables import apart
from rigfit.wording import afloat_data, load_data

_NOTHING = (
    "Nothing is entered about how she floats. Fill in [hull] ashore and [afloat] at her berth."
)


def add_afloat(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "afloat", _afloat,
        "say how she floats before and after, or add a table of offsets to the job",
        "rigfit afloat my-boat.toml\n"
        "rigfit afloat my-boat.toml --json\n"
        "rigfit afloat my-boat.toml --offsets offsets.csv",
    )  # fmt: skip
    add_job(parser)
    add_json(parser)
    parser.add_argument(
        "--offsets", default=None, metavar="FILE",
        help="rows of station, height above the keel line, half breadth (text, CSV; - for standard "
        "input), to add to the job",
    )  # fmt: skip


def _afloat(options: argparse.Namespace) -> int:
    if options.offsets is not None:
        return _offsets(options)
    report = asked_report(options)
    if options.json:
        print_report_data(report, load=load_data(report), afloat=afloat_data(report))
        return status_of(report)
    paint = paint_for(sys.stdout)
    floats = afloat_lines(report, paint) or textwrap.wrap(_NOTHING, WIDTH)
    say_lines(apart(heading(report, paint), load_lines(report, paint), floats, caution_lines()))
    return status_of(report)


def _offsets(options: argparse.Namespace) -> int:
    """Put a table of offsets into the job file and say what was put there."""
    from rigfit import tasks

    if options.json:
        raise UsageError("--json and --offsets do not go together", cure="leave one of them out")
    job = tasks.open_job(options.job)
    text = asked_text(options.offsets)
    changed, doubts = tasks.with_offsets(job, text, named(options.offsets))
    tasks.save(options.job, changed)
    added = len(changed.offsets) - len(job.offsets)
    stations = len({offset.ahead.value for offset in changed.offsets if offset.ahead})
    count = len(changed.offsets)
    said = f"Added {added} offsets to {options.job}, which now has {count} at {stations} stations."
    told = [line for doubt in doubts for line in textwrap.wrap(f"Look at this: {doubt}", WIDTH)]
    # A path is left whole, so that it can be copied.
    say_lines([said, *told, f"Then: rigfit afloat {options.job}"])
    return NOTHING_STOPS
