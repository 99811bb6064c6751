"""The command line: app, new, check, heights, draw, template, schema and demo.

Exit status: 0 nothing stops, 1 something stops, 2 bad input or usage.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import sys
import textwrap
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import IO, TYPE_CHECKING, NoReturn

from rigfit.errors import (
    EntryError,
    JobError,
    NotMeasuredError,
    ProfileError,
    RigfitError,
    UsageError,
)
from rigfit.plain_report import (
    Paint,
    caution_lines,
    drilling_lines,
    heading,
    heights_lines,
    no_paint,
    range_lines,
    report_lines,
    shortlist_lines,
    table,
)
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import REPORT_FORMAT, EngineReport
from rigfit.version import VERSION

if TYPE_CHECKING:
    from rigfit.tasks import Written

NOTHING_STOPS, SOMETHING_STOPS, BAD_INPUT = 0, 1, 2

_COLOURS = {
    Verdict.FITS: "32",
    Verdict.TIGHT: "33",
    Verdict.UNKNOWN: "36",
    Verdict.STOPS: "1;31",
}


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are rigfit's own: one sentence, exit status 2."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(message.rstrip("."), cure=f"see {self.prog} --help")


OpenWindow = Callable[[str | None], int]
"""Opens the desktop form with a job file, or the last one, and returns the exit status."""


def run(arguments: Sequence[str], open_window: OpenWindow | None = None) -> int:
    """Run one command and return its exit status; never raises for bad input.

    ``--help`` and ``--version`` end the program at once, as argparse does.

    :param open_window: what ``app``, and no command at all, does; without it they print the help.
    """
    _make_output_safe()
    try:
        options = _parser(open_window).parse_args(arguments)
        command: Callable[[argparse.Namespace], int] = options.command
        return command(options)
    except RigfitError as error:
        _complain(error.sentence())
        return BAD_INPUT
    except BrokenPipeError:
        # The reader of a pipe went away; that is not an error of ours.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return NOTHING_STOPS
    except KeyboardInterrupt:
        _complain("stopped at your wish; nothing was half written.")
        return BAD_INPUT


def _complain(sentence: str) -> None:
    # A path longer than a line is left whole, so that it can be copied.
    lines = textwrap.wrap(f"rigfit: {sentence}", 80, break_on_hyphens=False, break_long_words=False)
    print("\n".join(lines).replace("rigfit:\n", "rigfit: ", 1), file=sys.stderr)


def _make_output_safe() -> None:
    """Let a terminal that cannot print a sign show a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _paint(stream: IO[str]) -> Paint:
    """Return colours for a terminal, none for a file, a pipe or where NO_COLOR is set."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not stream.isatty():
        return no_paint
    return lambda word, verdict: f"\x1b[{_COLOURS[verdict]}m{word}\x1b[0m"


def _say(lines: Sequence[str]) -> None:
    print("\n".join(lines))


def _parser(open_window: OpenWindow | None) -> _Parser:
    parser = _Parser(
        prog="rigfit",
        description="Does this outboard fit this boat? Leg, plate height, bolt rows, templates.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"rigfit {VERSION}")
    opened = open_window or (lambda _job: _show_help(parser))
    parser.set_defaults(command=lambda _: opened(None))
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    _add_app(commands, opened)
    _add_new(commands)
    _add_check(commands)
    _add_heights(commands)
    _add_draw(commands)
    _add_template(commands)
    _add_schema(commands)
    _add_demo(commands)
    return parser


_EXAMPLES = """\
first steps:
  rigfit                               open the window
  rigfit demo                          see a finished job
  rigfit new my-boat.toml              make a job file, then fill it in
  rigfit check my-boat.toml            verdict and findings
  rigfit heights my-boat.toml          where the plate ends up, row by row
  rigfit draw my-boat.toml side.pdf    the side profile
  rigfit template my-boat.toml out     drilling template and cut file

exit status: 0 nothing stops, 1 something stops, 2 bad input or usage
"""


def _command(
    commands: argparse._SubParsersAction[_Parser],
    name: str,
    command: Callable[[argparse.Namespace], int],
    summary: str,
    example: str,
) -> _Parser:
    parser = commands.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog="example:\n" + textwrap.indent(example, "  "),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(command=command)
    return parser


def _add_job(parser: _Parser) -> None:
    parser.add_argument("job", metavar="JOB", help="job file made by rigfit new")
    parser.add_argument(
        "--engine", default="", metavar="ID", help="which engine; else the chosen one or the first"
    )


def _add_app(commands: argparse._SubParsersAction[_Parser], opened: OpenWindow) -> None:
    parser = _command(
        commands, "app", lambda options: opened(options.job), "open the window, like rigfit alone",
        "rigfit app my-boat.toml",
    )  # fmt: skip
    parser.add_argument(
        "job", nargs="?", default=None, metavar="JOB", help="job file; else the last one"
    )


def _add_new(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "new", _new, "make a job file to fill in",
        'rigfit new my-boat.toml --name "Sandpiper"',
    )  # fmt: skip
    parser.add_argument("job", metavar="JOB", help="name of the new file, ending in .toml")
    parser.add_argument("--name", default="", help="name of the boat")


def _add_check(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "check", _check, "check an engine on the boat: verdict and findings",
        "rigfit check my-boat.toml\n"
        "rigfit check my-boat.toml --engine C --working\n"
        "rigfit check my-boat.toml --all\n"
        "rigfit check my-boat.toml --json",
    )  # fmt: skip
    _add_job(parser)
    parser.add_argument("--all", action="store_true", help="all engines, a line each")
    parser.add_argument("--working", action="store_true", help="show how each number came about")
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _add_heights(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "heights", _heights, "list where the plate ends up at every height",
        "rigfit heights my-boat.toml --engine B",
    )  # fmt: skip
    _add_job(parser)
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _add_draw(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "draw", _draw, "draw the side profile on a sheet",
        "rigfit draw my-boat.toml side.pdf\nrigfit draw my-boat.toml side.svg --paper Tabloid",
    )  # fmt: skip
    _add_job(parser)
    parser.add_argument("to", metavar="FILE", help="where to; .svg, .png, .pdf or .dxf")
    parser.add_argument("--paper", default="A3", help="A4, A3, Letter, Legal or Tabloid (A3)")
    parser.add_argument("--dark", action="store_true", help="light lines on a dark sheet")
    parser.add_argument("--date", default="", help="date to print in the title block")


def _add_template(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "template", _template, "write the drilling template and the cut file as DXF",
        "rigfit template my-boat.toml out\n"
        'rigfit template my-boat.toml out --below-top "52 mm"\n'
        "rigfit template my-boat.toml out --pdf --paper Letter --side both",
    )  # fmt: skip
    _add_job(parser)
    parser.add_argument("to", metavar="FOLDER", help="folder to write into")
    parser.add_argument(
        "--below-top", default=None, metavar="LENGTH",
        help="upper holes below the transom top, instead of the job's own",
    )  # fmt: skip
    parser.add_argument(
        "--release", default="R2000", choices=("R2000", "R12"),
        help="R12 for old controllers: millimetres, but no unit stored in the file",
    )  # fmt: skip
    parser.add_argument("--pdf", action="store_true", help="also on paper, full size, to tape")
    parser.add_argument(
        "--paper", default="", help="A4, A3, Letter, Legal or Tabloid; else the job's, or A4"
    )
    parser.add_argument(
        "--side", default="", choices=("outside", "inside", "both"),
        help="paper for the outer face (outside), mirrored for the inner face, or both",
    )  # fmt: skip
    parser.add_argument(
        "--corrected", action="store_true",
        help="stretch the paper by what the job's two check bars are off",
    )  # fmt: skip
    parser.add_argument("--jig", action="store_true", help="also a drill-guide jig with a lip")
    parser.add_argument("--date", default="", help="date to print on the sheets of paper")


def _add_schema(commands: argparse._SubParsersAction[_Parser]) -> None:
    _command(
        commands, "schema", _schema, "print the JSON Schema of job files",
        "rigfit schema > job.schema.json",
    )  # fmt: skip


def _add_demo(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(
        commands, "demo", _demo, "check the demo boat and write all its outputs to a folder",
        "rigfit demo\nrigfit demo somewhere-else",
    )  # fmt: skip
    parser.add_argument(
        "folder", nargs="?", default="rigfit-demo", metavar="FOLDER", help="rigfit-demo if not said"
    )


def _show_help(parser: _Parser) -> int:
    parser.print_help()
    return NOTHING_STOPS


def _status(*reports: EngineReport) -> int:
    stopped = any(report.verdict is Verdict.STOPS for report in reports)
    return SOMETHING_STOPS if stopped else NOTHING_STOPS


def _print_data(data: object) -> None:
    # ASCII only, so that the data are whole whatever encoding the output has.
    print(json.dumps(data, indent=2, allow_nan=False))


def _report(options: argparse.Namespace) -> EngineReport:
    from rigfit import tasks

    job = tasks.open_job(options.job)
    with _in_file(options.job):
        return tasks.check(job, options.engine)


@contextlib.contextmanager
def _in_file(name: str) -> Iterator[None]:
    """Name the job file in errors about what it says."""
    try:
        yield
    except (JobError, ProfileError, NotMeasuredError) as error:
        raise error.at(name) from None


def _new(options: argparse.Namespace) -> int:
    from rigfit.records.job_writing import new_job_text
    from rigfit.records.saving import write_whole

    path = Path(options.job)
    if os.path.lexists(path):
        raise UsageError(
            f"{path} exists already and is left as it is",
            cure="choose another name or move it away",
        )
    write_whole(path, new_job_text(options.name or path.stem[:60]).encode("utf-8"))
    _say(
        [
            f"Made {path}. Fill in what you have measured; each line says how to measure it.",
            f"Then: rigfit check {path}",
        ]
    )
    return NOTHING_STOPS


def _check(options: argparse.Namespace) -> int:
    from rigfit import tasks
    from rigfit.wording import report_data

    if options.all:
        job = tasks.open_job(options.job)
        with _in_file(options.job):
            reports = tasks.check_all(job)
        if options.json:
            _print_data([report_data(report) for report in reports])
        else:
            _say([*shortlist_lines(reports, _paint(sys.stdout)), "", *caution_lines()])
        return _status(*reports)
    report = _report(options)
    if options.json:
        _print_data(report_data(report))
    else:
        _say(report_lines(report, _paint(sys.stdout), working=options.working))
        _say(_others(report))
    return _status(report)


def _others(report: EngineReport) -> list[str]:
    others = [
        candidate.id
        for candidate in report.case.job.engines
        if candidate.id != report.case.candidate.id
    ]
    if not others:
        return []
    words = f"Other engines in the job: {', '.join(others)}. rigfit check --all lists them."
    return ["", *textwrap.wrap(words, 80)]


def _heights(options: argparse.Namespace) -> int:
    from rigfit.wording import drilling_data, heights_data, plate_data

    report = _report(options)
    if options.json:
        _print_data(
            {
                "format": REPORT_FORMAT,
                "engine": report.case.candidate.id,
                "plate": plate_data(report),
                "heights": heights_data(report),
                "drilling": drilling_data(report),
            }
        )
        return _status(report)
    paint = _paint(sys.stdout)
    lines = [*heading(report, paint), "", *heights_lines(report, paint)]
    for block in (drilling_lines(report), range_lines(report)):
        lines += ["", *block] if block else []
    _say(lines)
    return _status(report)


def _draw(options: argparse.Namespace) -> int:
    from rigfit import tasks

    report = _report(options)
    written = tasks.write_drawing(
        report,
        Path(options.to),
        paper=options.paper,
        theme="dark" if options.dark else "light",
        date=options.date,
    )
    _say([f"Wrote {written.path} ({written.what})."])
    return NOTHING_STOPS


def _template(options: argparse.Namespace) -> int:
    from rigfit import tasks

    job = tasks.open_job(options.job)
    if options.below_top is not None:
        try:
            job = tasks.with_upper_holes(job, options.below_top)
        except EntryError as error:
            raise error.at("--below-top") from None
    with _in_file(options.job):
        report = tasks.check(job, options.engine)
        written = (
            *_paper_and_jig(options, report),
            *tasks.write_template(report, Path(options.to), release=options.release),
        )
    lines = [f"Wrote {item.path}: {item.what}." for item in written]
    if report.verdict is Verdict.STOPS:
        lines.append("Do not drill yet: rigfit check says what stops this engine.")
    if any(item.path.suffix == ".pdf" for item in written):
        lines.append("Print at 100 %, measure both bars and enter them in [printer] of the job.")
    _say([*lines, "Measure the 100 mm square on the print before drilling."])
    return _status(report)


def _paper_and_jig(options: argparse.Namespace, report: EngineReport) -> tuple[Written, ...]:
    """Write what was asked for besides the DXF files; it comes first, because it can be refused."""
    from rigfit import tasks

    folder, date, corrected = Path(options.to), options.date, options.corrected
    on_paper = options.pdf or options.paper or options.side or corrected
    written: tuple[Written, ...] = ()
    if on_paper:
        written += tasks.write_paper_template(
            report, folder, paper=options.paper, side=options.side or "outside",
            corrected=corrected, date=date,
        )  # fmt: skip
    if options.jig:
        written += tasks.write_jig(
            report, folder, release=options.release, paper=options.paper if on_paper else None,
            corrected=corrected, date=date,
        )  # fmt: skip
    return written


def _schema(_options: argparse.Namespace) -> int:
    from rigfit.records.job_schema import schema
    from rigfit.records.profiles import load_catalogue

    _print_data(schema(load_catalogue()))
    return NOTHING_STOPS


def _demo(options: argparse.Namespace) -> int:
    from rigfit import tasks

    job, paint = tasks.demo_job(), _paint(sys.stdout)
    report = tasks.check(job)
    lines = [*heading(report, paint), "", *heights_lines(report, paint), ""]
    lines += [*shortlist_lines(tasks.check_all(job), paint), ""]
    written = tasks.write_demo(Path(options.folder))
    lines.append(f"Written to {Path(options.folder).resolve()}:")
    lines += table(("file", "what it is"), [(item.path.name, item.what) for item in written], "ll")
    lines += ["", f"Next: rigfit check {Path(options.folder) / 'dunlin.toml'}", ""]
    _say([*lines, *caution_lines()])
    return _status(report)
