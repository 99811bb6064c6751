"""What the commands share: their parser, printing, exit status, and the report they ask for."""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import textwrap
from collections.abc import Callable, Iterator, Sequence
from typing import IO, NoReturn

from rigfit.errors import JobError, NotMeasuredError, ProfileError, UsageError
from rigfit.plain_tables import Paint, no_paint
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import EngineReport

NOTHING_STOPS, SOMETHING_STOPS, BAD_INPUT = 0, 1, 2
"""Exit status of every command."""

_COLOURS = {
    Verdict.FITS: "32",
    Verdict.TIGHT: "33",
    Verdict.UNKNOWN: "36",
    Verdict.STOPS: "1;31",
}


class Parser(argparse.ArgumentParser):
    """A parser whose complaints are rigfit's own: one sentence, exit status 2."""

    def error(self, message: str) -> NoReturn:
        """Raise ``UsageError`` instead of ending the program."""
        raise UsageError(message.rstrip("."), cure=f"see {self.prog} --help")


def paint_for(stream: IO[str]) -> Paint:
    """Return colours for a terminal, none for a file, a pipe or where NO_COLOR is set."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not stream.isatty():
        return no_paint
    return lambda word, verdict: f"\x1b[{_COLOURS[verdict]}m{word}\x1b[0m"


def say_lines(lines: Sequence[str]) -> None:
    """Print lines."""
    print("\n".join(lines))


def add_command(
    commands: argparse._SubParsersAction[Parser],
    name: str,
    command: Callable[[argparse.Namespace], int],
    summary: str,
    example: str,
) -> Parser:
    """Add a command with its help and return its parser."""
    parser = commands.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog="example:\n" + textwrap.indent(example, "  "),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(command=command)
    return parser


def add_job(parser: Parser) -> None:
    """Add the job file and the engine, which most commands take."""
    parser.add_argument("job", metavar="JOB", help="job file made by rigfit new")
    parser.add_argument(
        "--engine", default="", metavar="ID", help="which engine; else the chosen one or the first"
    )


def status_of(*reports: EngineReport) -> int:
    """Return the exit status that reports come to."""
    stopped = any(report.verdict is Verdict.STOPS for report in reports)
    return SOMETHING_STOPS if stopped else NOTHING_STOPS


def print_data(data: object) -> None:
    """Print data as JSON."""
    # ASCII only, so that the data are whole whatever encoding the output has.
    print(json.dumps(data, indent=2, allow_nan=False))


def asked_report(options: argparse.Namespace) -> EngineReport:
    """Return the report a command asks for with its job and engine; errors name the file."""
    from rigfit import tasks

    job = tasks.open_job(options.job)
    with in_file(options.job):
        return tasks.check(job, options.engine)


@contextlib.contextmanager
def in_file(name: str) -> Iterator[None]:
    """Name the job file in errors about what it says."""
    try:
        yield
    except (JobError, ProfileError, NotMeasuredError) as error:
        raise error.at(name) from None
