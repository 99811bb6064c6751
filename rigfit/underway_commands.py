"""The command ``underway``: how she should run, and what one full-throttle reading says."""

from __future__ import annotations

import argparse
import sys

from rigfit.command_parts import (
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
from rigfit.errors import UsageError
from rigfit.plain_report import caution_lines, heading
from rigfit.plain_tables import apart
from rigfit.plain_underway import reading_lines, underway_lines
from rigfit.rigging.drive import engine_band, gear_ratio
from rigfit.rigging.report import EngineReport
from rigfit.units import INCH, METRIC, Kind, parse_entry
from rigfit.wording import underway_data


def add_underway(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "underway", _underway,
        "say how she should plane: trim, water at the plate, speed, propeller",
        "rigfit underway my-boat.toml\n"
        "rigfit underway my-boat.toml --json\n"
        'rigfit underway my-boat.toml --rpm 5400 --speed "29 kn"',
    )  # fmt: skip
    add_job(parser)
    add_json(parser)
    parser.add_argument(
        "--rpm", default=None, metavar="RPM",
        help="an engine speed read at full throttle: say pitch speed, band and other pitches",
    )  # fmt: skip
    parser.add_argument(
        "--speed", default=None, metavar="SPEED", help="boat speed read with it: say the slip"
    )


def _underway(options: argparse.Namespace) -> int:
    report = asked_report(options)
    if options.json:
        if options.rpm is not None or options.speed is not None:
            raise UsageError(
                "--json does not go with --rpm or --speed", cure="leave one of them out"
            )
        print_report_data(report, underway=underway_data(report))
        return status_of(report)
    paint = paint_for(sys.stdout)
    runs = underway_lines(report, paint) or [
        "Nothing is entered about the boat under way. Fill in [underway] of the job: her",
        "mass and centre of gravity first.",
    ]
    read = _reading(options, report)
    say_lines(apart(heading(report, paint), runs, read, caution_lines()))
    return status_of(report)


def _reading(options: argparse.Namespace, report: EngineReport) -> list[str]:
    """Return what an engine speed given on the command line says."""
    case = report.case
    if options.rpm is None:
        if options.speed is not None:
            raise UsageError("--speed needs --rpm", cure="give the engine speed read with it")
        return []
    pitch = case.job.propeller.pitch
    if pitch is None:
        raise UsageError(
            "the pitch of the propeller is not entered",
            cure="fill in pitch under [propeller] of the job",
            where="propeller, pitch",
        )
    bare = INCH if case.job.units.entries == "inch" else METRIC
    rpm = parse_entry(options.rpm, Kind.ROTATION, bare=bare, where="--rpm").value
    speed = None
    if options.speed is not None:
        speed = parse_entry(options.speed, Kind.SPEED, bare=bare, where="--speed").value
    band, _ = engine_band(case)
    own = case.job.propeller.target_rpm
    target = own.value if own else band.aim
    return reading_lines(report, rpm, speed, pitch.value, gear_ratio(case).value, band, target)
