"""The command ``swing``: does the engine tilt and turn clear; the outline of an engine from DXF."""

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
    add_json,
    asked_report,
    paint_for,
    print_report_data,
    say_lines,
    status_of,
)
from rigfit.errors import EntryError, JobError, RigfitError, UsageError
from rigfit.plain_report import WIDTH, caution_lines, finding_lines, heading
from rigfit.plain_swing import setback_lines, swing_lines
from rigfit.plain_tables import apart
from rigfit.rigging.report import EngineReport
from rigfit.wording import finding_data, setbacks_data, shown, swing_data

_CODES = range(401, 408)


def add_swing(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "swing", _swing,
        "say whether the engine tilts and turns clear of all round it, at every height",
        "rigfit swing my-boat.toml\n"
        "rigfit swing my-boat.toml --json\n"
        "rigfit swing my-boat.toml --outline engine.dxf --axis-x 0 --axis-y 0\n"
        "rigfit draw my-boat.toml swing.pdf --sheet swing",
    )  # fmt: skip
    add_job(parser)
    add_json(parser)
    drawn = parser.add_argument_group("put the engine's side view into the job file")
    drawn.add_argument(
        "--outline", default=None, metavar="FILE",
        help="a .dxf with the closed side view of the engine, plate level",
    )  # fmt: skip
    drawn.add_argument("--unit", default=None, choices=("mm", "in"), help="unit of the file")
    drawn.add_argument("--layer", default=None, metavar="NAME", help="the only layer to read")
    drawn.add_argument("--axis-x", default=None, metavar="LENGTH", help="x of the tilt axis there")
    drawn.add_argument("--axis-y", default=None, metavar="LENGTH", help="y of the tilt axis there")
    drawn.add_argument(
        "--bow", default=None, choices=("left", "right"), help="where the bow lies there (left)"
    )


def _outline(options: argparse.Namespace) -> int:
    """Put an outline into the job file and say what was put there."""
    from rigfit import tasks
    from rigfit.records.hole_entry import length_mm
    from rigfit.records.outline_import import UnitAskedError

    if options.json:
        raise UsageError("--json and --outline do not go together", cure="leave one of them out")
    job, places = tasks.open_job(options.job), []
    for name in ("axis_x", "axis_y"):
        flag, typed = f"--{name.replace('_', '-')}", getattr(options, name)
        if typed is None:
            raise UsageError(
                f"{flag} is missing",
                allowed="a DXF file does not say where the engine's tilt axis is",
                cure="read both in the drawing and say --axis-x and --axis-y",
            )
        try:
            places.append(length_mm(typed, job))
        except EntryError as error:
            raise error.at(flag) from None
    try:
        changed, said = tasks.with_engine_outline(
            job, options.engine, Path(options.outline), unit=options.unit, layer=options.layer,
            axis_mm=(places[0], places[1]), bow_right=options.bow == "right",
        )  # fmt: skip
    except UnitAskedError as error:
        raise error.at("--unit").at(options.outline) from None
    except JobError as error:
        raise error.at(options.job) from None
    except RigfitError as error:
        raise error if options.outline in error.where else error.at(options.outline) from None
    tasks.save(options.job, changed)
    lines = textwrap.wrap(f"Put {said} into {options.job}.", WIDTH, break_long_words=False)
    say_lines([*lines, f"Then: rigfit swing {options.job}"])
    return NOTHING_STOPS


def _refuse_stray(options: argparse.Namespace) -> None:
    for name in ("unit", "layer", "axis_x", "axis_y", "bow"):
        if getattr(options, name) is not None:
            raise UsageError(
                f"--{name.replace('_', '-')} says nothing without --outline",
                cure="leave it out, or see rigfit swing --help",
            )


def _swing(options: argparse.Namespace) -> int:
    if options.outline is not None:
        return _outline(options)
    _refuse_stray(options)
    report = asked_report(options)
    style = shown(report.case.job.units)
    findings = [finding for finding in report.findings if finding.code in _CODES]
    if options.json:
        print_report_data(
            report,
            swing=swing_data(report),
            setbacks=setbacks_data(report),
            findings=[finding_data(finding, style) for finding in findings],
            not_looked_at=list(report.not_looked_at),
        )
        return status_of(report)
    paint = paint_for(sys.stdout)
    lines = apart(
        heading(report, paint),
        *(finding_lines(finding, style, paint) for finding in findings),
        swing_lines(report, paint) or _nothing(),
        setback_lines(report, paint),
        _not_entered(report),
        caution_lines(),
    )
    say_lines(lines)
    return status_of(report)


def _nothing() -> list[str]:
    return textwrap.wrap(
        "Nothing is entered that the engine could touch. Measure the motor well ([well]) and what "
        "stands near it ([[obstacle]]) from the transom's upper outer edge.",
        WIDTH,
    )


def _not_entered(report: EngineReport) -> list[str]:
    from rigfit.rigging.checks_swing import not_looked_at

    left = [line for text in not_looked_at(report.case) for line in textwrap.wrap(
        text, WIDTH, initial_indent="  * ", subsequent_indent="    ")]  # fmt: skip
    return ["Not looked at:", *left] if left else []
