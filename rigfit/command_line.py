"""The command line: app, new, check, heights, holes, swing, afloat, underway, draw, template, cut,
schema, demo.

Exit status: 0 nothing stops, 1 something stops, 2 bad input or usage.
"""

from __future__ import annotations

import argparse
import os
import sys
import textwrap
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rigfit.afloat_commands import add_afloat
from rigfit.command_parts import (
    BAD_INPUT,
    NOTHING_STOPS,
    Parser,
    add_command,
    add_job,
    add_json,
    asked_report,
    in_file,
    paint_for,
    print_data,
    print_report_data,
    say_lines,
    status_of,
)
from rigfit.errors import EntryError, NotMeasuredError, RigfitError, UsageError
from rigfit.hole_commands import add_holes
from rigfit.plain_report import (
    caution_lines,
    drilling_lines,
    heading,
    heights_lines,
    range_lines,
    report_lines,
    shortlist_lines,
)
from rigfit.plain_tables import apart
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import EngineReport
from rigfit.swing_commands import add_swing
from rigfit.trial_commands import add_trial
from rigfit.underway_commands import add_underway
from rigfit.version import VERSION

if TYPE_CHECKING:
    from rigfit.tasks import Written

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


def _parser(open_window: OpenWindow | None) -> Parser:
    parser = Parser(
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
    add_holes(commands)
    add_swing(commands)
    add_afloat(commands)
    add_trial(commands)
    add_underway(commands)
    _add_draw(commands)
    _add_template(commands)
    _add_cut(commands)
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
  rigfit holes my-boat.toml            new holes against what is there
  rigfit swing my-boat.toml            tilting and turning clear of all round it
  rigfit afloat my-boat.toml           how she floats before and after
  rigfit trial my-boat.toml            sea trials: slip, gains, what to change next
  rigfit underway my-boat.toml         how she should plane
  rigfit draw my-boat.toml side.pdf    the side profile
  rigfit template my-boat.toml out     drilling template and cut file

exit status: 0 nothing stops, 1 something stops, 2 bad input or usage
"""


def _add_app(commands: argparse._SubParsersAction[Parser], opened: OpenWindow) -> None:
    parser = add_command(
        commands, "app", lambda options: opened(options.job), "open the window, like rigfit alone",
        "rigfit app my-boat.toml",
    )  # fmt: skip
    parser.add_argument(
        "job", nargs="?", default=None, metavar="JOB", help="job file; else the last one"
    )


def _add_new(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "new", _new, "make a job file to fill in",
        'rigfit new my-boat.toml --name "Sandpiper"',
    )  # fmt: skip
    parser.add_argument("job", metavar="JOB", help="name of the new file, ending in .toml")
    parser.add_argument("--name", default="", help="name of the boat")


def _add_check(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "check", _check, "check an engine on the boat: verdict and findings",
        "rigfit check my-boat.toml\n"
        "rigfit check my-boat.toml --engine C --working\n"
        "rigfit check my-boat.toml --all\n"
        "rigfit check my-boat.toml --json",
    )  # fmt: skip
    add_job(parser)
    parser.add_argument("--all", action="store_true", help="all engines, a line each")
    parser.add_argument("--working", action="store_true", help="show how each number came about")
    add_json(parser)


def _add_heights(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "heights", _heights, "list where the plate ends up at every height",
        "rigfit heights my-boat.toml --engine B",
    )  # fmt: skip
    add_job(parser)
    add_json(parser)


def _add_draw(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "draw", _draw, "draw the side profile, or another sheet",
        "rigfit draw my-boat.toml side.pdf\n"
        "rigfit draw my-boat.toml side.svg --paper Tabloid\n"
        "rigfit draw my-boat.toml face.pdf --sheet face",
    )  # fmt: skip
    add_job(parser)
    parser.add_argument("to", metavar="FILE", help="where to; .svg, .png, .pdf or .dxf")
    parser.add_argument(
        "--sheet", default="profile", metavar="SHEET",
        help="profile, face (the transom from astern), face-inside, section (through a bolt), "
        "dash (full size, without paper), swing (from the side), swing-plan (from above), "
        "swing-worst (worst place of tilt and steering), afloat (before and after), scupper-curve, "
        "float-test (to fill in), trial (curves of the sea trials), trial-form (to fill in), "
        "underway (water and plate)",
    )  # fmt: skip
    parser.add_argument("--paper", default="A3", help="A4, A3, Letter, Legal or Tabloid (A3)")
    parser.add_argument("--dark", action="store_true", help="light lines on a dark sheet")
    parser.add_argument("--date", default="", help="date to print in the title block")


def _add_template(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "template", _template, "write the drilling template and the cut file as DXF",
        "rigfit template my-boat.toml out\n"
        'rigfit template my-boat.toml out --below-top "52 mm"\n'
        "rigfit template my-boat.toml out --pdf --paper Letter --side both",
    )  # fmt: skip
    add_job(parser)
    parser.add_argument("to", metavar="FOLDER", help="folder to write into")
    parser.add_argument(
        "--below-top", default=None, metavar="LENGTH",
        help="upper holes below the transom top, instead of the job's own",
    )  # fmt: skip
    _add_release(parser)
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


def _add_release(parser: Parser) -> None:
    parser.add_argument(
        "--release", default="R2000", choices=("R2000", "R12"),
        help="R12 for old controllers: millimetres, but no unit stored in the file",
    )  # fmt: skip


def _add_cut(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "cut", _cut, "write backing plates, setback plates and the dash as DXF to cut",
        "rigfit cut my-boat.toml out --release R12\nrigfit cut my-boat.toml out --paper A4",
    )  # fmt: skip
    add_job(parser)
    parser.add_argument("to", metavar="FOLDER", help="folder to write into")
    parser.add_argument(
        "--paper", default=None, help="the dash on sheets of paper too: A4, A3, Letter, Legal, ..."
    )
    _add_release(parser)


def _add_schema(commands: argparse._SubParsersAction[Parser]) -> None:
    add_command(
        commands, "schema", _schema, "print the JSON Schema of job files",
        "rigfit schema > job.schema.json",
    )  # fmt: skip


def _add_demo(commands: argparse._SubParsersAction[Parser]) -> None:
    parser = add_command(
        commands, "demo", _demo, "check the demo boat and write all its outputs to a folder",
        "rigfit demo\nrigfit demo somewhere-else",
    )  # fmt: skip
    parser.add_argument(
        "folder", nargs="?", default="rigfit-demo", metavar="FOLDER", help="rigfit-demo if not said"
    )


def _show_help(parser: Parser) -> int:
    parser.print_help()
    return NOTHING_STOPS


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
    say_lines(
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
        with in_file(options.job):
            reports = tasks.check_all(job)
        if options.json:
            print_data([report_data(report) for report in reports])
        else:
            say_lines([*shortlist_lines(reports, paint_for(sys.stdout)), "", *caution_lines()])
        return status_of(*reports)
    report = asked_report(options)
    if options.json:
        print_data(report_data(report))
    else:
        say_lines(report_lines(report, paint_for(sys.stdout), working=options.working))
        say_lines(_others(report))
    return status_of(report)


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

    report = asked_report(options)
    if options.json:
        print_report_data(
            report,
            plate=plate_data(report),
            heights=heights_data(report),
            drilling=drilling_data(report),
        )
        return status_of(report)
    paint = paint_for(sys.stdout)
    lines = apart(
        heading(report, paint),
        heights_lines(report, paint),
        drilling_lines(report),
        range_lines(report),
    )
    say_lines(lines)
    return status_of(report)


def _draw(options: argparse.Namespace) -> int:
    from rigfit import tasks

    report = asked_report(options)
    with in_file(options.job):
        written = tasks.write_drawing(
            report,
            Path(options.to),
            sheet=options.sheet,
            paper=options.paper,
            theme="dark" if options.dark else "light",
            date=options.date,
        )
    say_lines([f"Wrote {written.path} ({written.what})."])
    return NOTHING_STOPS


def _template(options: argparse.Namespace) -> int:
    from rigfit import tasks

    job = tasks.open_job(options.job)
    if options.below_top is not None:
        try:
            job = tasks.with_upper_holes(job, options.below_top)
        except EntryError as error:
            raise error.at("--below-top") from None
    with in_file(options.job):
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
    say_lines([*lines, "Measure the 100 mm square on the print before drilling."])
    return status_of(report)


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


def _cut(options: argparse.Namespace) -> int:
    from rigfit import tasks

    report, folder = asked_report(options), Path(options.to)
    with in_file(options.job):
        written, reasons = tasks.write_pieces(
            report, folder, release=options.release, paper=options.paper
        )
    lines = [f"Wrote {item.path}: {item.what}." for item in written]
    lines += [line for reason in reasons for line in textwrap.wrap(_left_out(reason), 80)]
    say_lines([*lines, "Measure one piece of card before you cut the sheet."])
    return status_of(report)


def _left_out(reason: NotMeasuredError) -> str:
    sentence = reason.sentence()
    return f"Left out: {sentence}"


def _schema(_options: argparse.Namespace) -> int:
    from rigfit.records.job_schema import schema
    from rigfit.records.profiles import load_catalogue

    print_data(schema(load_catalogue()))
    return NOTHING_STOPS


def _demo(options: argparse.Namespace) -> int:
    from rigfit import tasks

    job, paint = tasks.demo_job(), paint_for(sys.stdout)
    report = tasks.check(job)
    lines = [*heading(report, paint), "", *heights_lines(report, paint), ""]
    lines += [*shortlist_lines(tasks.check_all(job), paint), ""]
    written = tasks.write_demo(Path(options.folder))
    lines.append(f"Written to {Path(options.folder).resolve()}:")
    wide = max(len(item.path.name) for item in written) + 2
    for item in written:
        name = f"{item.path.name:<{wide}}"
        lines += textwrap.wrap(item.what, 80, initial_indent=name, subsequent_indent=" " * wide)
    lines += ["", f"Next: rigfit check {Path(options.folder) / 'dunlin.toml'}", ""]
    say_lines([*lines, *caution_lines()])
    return status_of(report)
