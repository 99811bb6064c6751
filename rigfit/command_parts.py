"""What the commands share: their parser, printing, exit status, and the report they ask for."""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import sys
import textwrap
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import IO, NoReturn

from rigfit.errors import JobError, NotMeasuredError, ProfileError, UsageError
from rigfit.plain_tables import Paint, no_paint
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import REPORT_FORMAT, EngineReport

NOTHING_STOPS, SOMETHING_STOPS, BAD_INPUT = 0, 1, 2
"""Exit status of every command."""

_LARGEST_TEXT = 1_000_000
"""Bytes; tables of more are refused by what reads them."""

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


def add_json(parser: argparse._ActionsContainer) -> None:
    """Add the choice of data instead of text."""
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def status_of(*reports: EngineReport) -> int:
    """Return the exit status that reports come to."""
    stopped = any(report.verdict is Verdict.STOPS for report in reports)
    return SOMETHING_STOPS if stopped else NOTHING_STOPS


def print_data(data: object) -> None:
    """Print data as JSON."""
    # ASCII only, so that the data are whole whatever encoding the output has.
    print(json.dumps(data, indent=2, allow_nan=False))


def print_report_data(report: EngineReport, **parts: object) -> None:
    """Print data on one engine as JSON, headed by the format and the engine."""
    engine = report.case.candidate.id
    print_data({"format": REPORT_FORMAT, "engine": engine, **parts})


def named(name: str) -> str:
    """Return a file's name for a sentence; "-" is standard input."""
    return "standard input" if name == "-" else name


def opened(name: str) -> IO[bytes]:
    """Open a file named on the command line; raises ``UsageError`` where that cannot be done."""
    try:
        return Path(name).open("rb")
    except (OSError, ValueError) as error:
        raise _unreadable(error, name) from None


def _unreadable(error: Exception, name: str) -> UsageError:
    reason = getattr(error, "strerror", None) or "no disk has such a name"
    return UsageError(
        f"the file cannot be read: {reason.lower()}", cure="check its name", where=name
    )


def asked_text(name: str, cure: str = "save it as CSV in UTF-8") -> str:
    """Return the text of a table named on the command line, "-" for standard input.

    Of one too large a little more comes back than may be read, so that it is refused as such.

    :raises UsageError: when there is no such file, or it is no text; ``cure`` says what to do then.
    """
    try:
        if name == "-":
            return sys.stdin.read(_LARGEST_TEXT + 1)
        with opened(name) as file:
            data = file.read(_LARGEST_TEXT + 1)
        # What is cut off may end within a letter; it is refused for its size, not as no text.
        return data.decode("utf-8-sig", "replace" if len(data) > _LARGEST_TEXT else "strict")
    except UnicodeDecodeError:
        raise UsageError("it is no plain text", cure=cure, where=named(name)) from None
    except OSError as error:
        raise _unreadable(error, named(name)) from None


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
