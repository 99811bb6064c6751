"""The command ``afloat``: how she floats before and after, and putting offsets into the job."""

from __future__ import annotations

import argparse
import sys
import textwrap
from pathlib import Path

from rigfit.command_parts import (
    NOTHING_STOPS,
    Parser,
    add_command,
    add_job,
    asked_report,
    paint_for,
    print_data,
    say_lines,
    status_of,
)
from rigfit.errors import EntryError, UsageError
from rigfit.plain_afloat import afloat_lines, load_lines, section_lines
from rigfit.plain_report import WIDTH, caution_lines, heading
from rigfit.rigging.report import REPORT_FORMAT
from rigfit.wording import afloat_data, load_data

_LARGEST_BYTES = 1_000_000
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
    parser.add_argument("--json", action="store_true", help="print data instead of text")
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
        print_data(
            {
                "format": REPORT_FORMAT,
                "engine": report.case.candidate.id,
                "load": load_data(report),
                "afloat": afloat_data(report),
            }
        )
        return status_of(report)
    paint = paint_for(sys.stdout)
    floats = afloat_lines(report, paint) or textwrap.wrap(_NOTHING, WIDTH)
    blocks = (heading(report, paint), load_lines(report, paint), floats, caution_lines())
    say_lines(section_lines(blocks))
    return status_of(report)


def _offsets(options: argparse.Namespace) -> int:
    """Put a table of offsets into the job file and say what was put there."""
    from rigfit import tasks

    if options.json:
        raise UsageError("--json and --offsets do not go together", cure="leave one of them out")
    job = tasks.open_job(options.job)
    where = "standard input" if options.offsets == "-" else options.offsets
    changed, doubts = tasks.with_offsets(job, _text(options.offsets), where)
    tasks.save(options.job, changed)
    added = len(changed.offsets) - len(job.offsets)
    stations = len({offset.ahead.value for offset in changed.offsets if offset.ahead})
    count = len(changed.offsets)
    said = f"Added {added} offsets to {options.job}, which now has {count} at {stations} stations."
    told = [line for doubt in doubts for line in textwrap.wrap(f"Look at this: {doubt}", WIDTH)]
    # A path is left whole, so that it can be copied.
    say_lines([said, *told, f"Then: rigfit afloat {options.job}"])
    return NOTHING_STOPS


def _text(name: str) -> str:
    try:
        if name == "-":
            return sys.stdin.read(_LARGEST_BYTES + 1)
        with Path(name).open("rb") as file:
            return file.read(_LARGEST_BYTES + 1).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise EntryError(
            "it is no plain text", cure="save it as CSV in UTF-8", where=name
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no disk has such a name"
        raise UsageError(
            f"the file cannot be read: {reason.lower()}", cure="check its name", where=name
        ) from None
