"""The command ``holes``: what the new holes meet, and putting old holes into the job file."""

from __future__ import annotations

import argparse
import sys
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

from rigfit.command_parts import (
    NOTHING_STOPS,
    Parser,
    add_command,
    add_job,
    add_json,
    asked_text,
    in_file,
    named,
    paint_for,
    print_report_data,
    say_lines,
    status_of,
)
from rigfit.errors import EntryError, RigfitError, UsageError
from rigfit.plain_holes import bolts_lines, holes_lines, reuse_lines
from rigfit.plain_report import WIDTH, heading, not_looked_at_lines
from rigfit.plain_tables import apart
from rigfit.rigging.job import Job
from rigfit.rigging.report import EngineReport
from rigfit.wording import bolts_data, holes_data, reuse_data, say, shown

if TYPE_CHECKING:
    from rigfit.records.hole_entry import HoleTexts


def add_holes(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "holes", _holes,
        "show the new holes against old holes and edges, or add old holes to the job",
        "rigfit holes my-boat.toml\n"
        "rigfit holes my-boat.toml --add holes.csv\n"
        "rigfit holes my-boat.toml --add transom.dxf --centre-x 790 --top-y 520\n"
        'rigfit holes my-boat.toml --tapes "top port" "141 mm" "464 mm" '
        '--diameter 13\n'
        'rigfit holes my-boat.toml --pattern trade-four-bolt --below "48 mm"',
    )  # fmt: skip
    add_job(parser)
    shape = parser.add_mutually_exclusive_group()
    add_json(shape)
    shape.add_argument("--csv", action="store_true", help="print the table for a spreadsheet, mm")
    ways = parser.add_argument_group("add old holes to the job file").add_mutually_exclusive_group()
    ways.add_argument(
        "--add", default=None, metavar="FILE",
        help="rows of across, below the top, diameter (text, CSV; - for standard input), or the "
        "circles of a .dxf",
    )  # fmt: skip
    ways.add_argument(
        "--tapes", nargs=3, default=None, metavar=("NAME", "A", "B"),
        help="a hole by its distances from the two fixed points of the job",
    )  # fmt: skip
    ways.add_argument(
        "--pattern", default=None, metavar="ID", help="the holes an engine of a pattern left"
    )
    _add_details(parser)


def _add_details(parser: Parser) -> None:
    """Add what goes with one way of adding holes only."""
    dxf = parser.add_argument_group("with a .dxf")
    dxf.add_argument("--unit", default=None, choices=("mm", "in"), help="unit of the file")
    dxf.add_argument("--layer", default=None, metavar="NAME", help="the only layer to read")
    dxf.add_argument(
        "--centre-x", default=None, metavar="LENGTH", help="x of the boat's centreline in the file"
    )
    dxf.add_argument(
        "--top-y", default=None, metavar="LENGTH", help="y of the transom top in the file"
    )
    tapes = parser.add_argument_group("with --tapes")
    tapes.add_argument(
        "--side", default="below", choices=("below", "above", "port", "starboard"),
        help="where the hole lies from the line between the points (below)",
    )  # fmt: skip
    tapes.add_argument(
        "--diameter", default="", metavar="LENGTH",
        help="of the hole; without it the place is shown and nothing is added",
    )  # fmt: skip
    pattern = parser.add_argument_group("with --pattern")
    pattern.add_argument(
        "--below", default=None, metavar="LENGTH", help="its upper holes below the transom top"
    )
    pattern.add_argument(
        "--centre", default=None, metavar="LENGTH", help="its middle from the centreline (0)"
    )


def _holes(options: argparse.Namespace) -> int:
    from rigfit import tasks

    _refuse_stray(options)
    job = tasks.open_job(options.job)
    if options.add is not None or options.tapes is not None or options.pattern is not None:
        return _added(options, job)
    with in_file(options.job):
        report = tasks.check(job, options.engine)
    if options.json:
        print_report_data(
            report,
            holes=holes_data(report),
            reuse=reuse_data(report),
            bolts=bolts_data(report),
            not_looked_at=list(report.not_looked_at),
        )
    elif options.csv:
        sys.stdout.write(tasks.holes_csv(report).replace("\r\n", "\n"))
    else:
        _show(report)
    return status_of(report)


def _refuse_stray(options: argparse.Namespace) -> None:
    """Refuse details that go with a way of adding holes that was not asked for."""
    for way, names in (
        ("add", ("unit", "layer", "centre_x", "top_y")),
        ("tapes", ("diameter",)),
        ("pattern", ("below", "centre")),
    ):
        if getattr(options, way) is not None:
            continue
        for name in names:
            if getattr(options, name):
                raise UsageError(
                    f"--{name.replace('_', '-')} says nothing without --{way}",
                    cure="leave it out, or see rigfit holes --help",
                )


def _show(report: EngineReport) -> None:
    paint = paint_for(sys.stdout)
    lines = apart(
        heading(report, paint),
        textwrap.wrap(_why_none(report), WIDTH) if report.holes is None else (),
        holes_lines(report, paint),
        reuse_lines(report, paint),
        bolts_lines(report),
        not_looked_at_lines(report),
    )
    say_lines(lines)


def _why_none(report: EngineReport) -> str:
    if not report.case.transom_pattern.is_bolted:
        return "This engine clamps on: it needs no holes that rigfit knows of."
    return (
        "It is not decided yet how far below the transom top the upper holes go; write "
        "upper_holes_below_top into the job. rigfit heights lists the choices."
    )


# ------------------------------------------------------------------------------ adding


def _added(options: argparse.Namespace, job: Job) -> int:
    """Add old holes to the job file and say what was added."""
    from rigfit import tasks
    from rigfit.records.hole_entry import with_holes

    if options.tapes is not None:
        rows, lines = _taped(options, job)
    elif options.pattern is not None:
        rows, lines = _of_pattern(options, job), []
    elif options.add.lower().endswith(".dxf"):
        rows, lines = _of_dxf(options, job), []
    else:
        rows, lines = _of_text(options, job), []
    if not rows:
        say_lines([*lines, "Nothing is added; say --diameter too to add the hole."])
        return NOTHING_STOPS
    changed = with_holes(job, rows)
    tasks.save(options.job, changed)
    new = changed.holes[len(job.holes) :]
    count = "1 old hole" if len(new) == 1 else f"{len(new)} old holes"
    said = f"Added {count} to {options.job}, which now has {len(changed.holes)}."
    say_lines([*lines, said, f"Then: rigfit holes {options.job}"])
    return NOTHING_STOPS


def _of_text(options: argparse.Namespace, job: Job) -> list[HoleTexts]:
    from rigfit import tasks

    for name in ("unit", "layer", "centre_x", "top_y"):
        if getattr(options, name) is not None:
            raise UsageError(
                f"--{name.replace('_', '-')} is for a DXF file",
                cure="leave it out, or write the unit into the rows",
            )
    text = asked_text(options.add, "save it as CSV in UTF-8, or as .dxf")
    return list(tasks.pasted_holes(text, job, named(options.add)))


def _of_dxf(options: argparse.Namespace, job: Job) -> list[HoleTexts]:
    from rigfit import tasks
    from rigfit.records.outline_import import UnitAskedError

    places = {}
    for name in ("centre_x", "top_y"):
        typed = getattr(options, name)
        if typed is None:
            raise UsageError(
                f"--{name.replace('_', '-')} is missing",
                allowed="a DXF file does not say where the boat's centreline and transom top are",
                cure="read both in the drawing and say --centre-x and --top-y",
            )
        places[name] = _length(name, typed, job)
    try:
        rows = tasks.outline_holes(
            Path(options.add), unit=options.unit, layer=options.layer,
            centre_x_mm=places["centre_x"], top_y_mm=places["top_y"],
        )  # fmt: skip
    except UnitAskedError as error:
        raise error.at("--unit").at(options.add) from None
    except RigfitError as error:
        raise error if options.add in error.where else error.at(options.add) from None
    if not rows:
        raise UsageError("the file holds no circle", cure="add the holes by --add with rows")
    return list(rows)


def _of_pattern(options: argparse.Namespace, job: Job) -> list[HoleTexts]:
    from rigfit import tasks

    if options.below is None:
        raise UsageError(
            "--below is missing",
            allowed="a pattern says how its holes lie to each other, not how far down",
            cure='measure its upper holes below the transom top: --below "48 mm"',
        )
    below = _length("below", options.below, job)
    centre = _length("centre", options.centre, job) if options.centre else 0.0
    return list(tasks.pattern_holes(options.pattern, below, centre))


def _length(name: str, typed: str, job: Job) -> float:
    from rigfit.records.hole_entry import length_mm

    try:
        return length_mm(typed, job)
    except EntryError as error:
        raise error.at(f"--{name.replace('_', '-')}") from None


def _taped(options: argparse.Namespace, job: Job) -> tuple[list[HoleTexts], list[str]]:
    """Return the row to add, none without a diameter, and the place in words."""
    from rigfit.records.hole_entry import taped_hole

    name, first, second = options.tapes
    try:
        found = taped_hole(job, name, first, second, side=options.side, diameter=options.diameter)
    except RigfitError as error:
        raise error.at("--tapes") from None
    style = shown(job.units)
    text = (
        f"{name or 'The hole'} is {found.row.across} from the centreline (+ starboard) and "
        f"{found.row.below_top} below the transom top. The tapes miss each other by "
        f"{found.position.residual_mm:.1f} mm."
    )
    lines = textwrap.wrap(text, WIDTH)
    for warning in found.position.warnings:
        lines += textwrap.wrap(say(warning, style), WIDTH)
    return ([found.row] if options.diameter else []), lines
