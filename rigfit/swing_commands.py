"""The command ``swing``: does the engine tilt and turn clear; the outline of an engine from DXF."""

from __future__ import annotations

import argparse
import sys
import textwrap

from rigfit.command_parts import (
    Parser,
    add_command,
    add_job,
    asked_report,
    paint_for,
    print_data,
    say_lines,
    status_of,
)
from rigfit.plain_report import WIDTH, caution_lines, finding_lines, heading
from rigfit.plain_swing import swing_lines
from rigfit.rigging.report import REPORT_FORMAT, EngineReport
from rigfit.wording import finding_data, shown, swing_data

_CODES = range(401, 408)


def add_swing(commands: argparse._SubParsersAction[Parser]) -> None:
    """Add the command with its help."""
    parser = add_command(
        commands, "swing", _swing,
        "say whether the engine tilts and turns clear of all round it, at every height",
        "rigfit swing my-boat.toml\n"
        "rigfit swing my-boat.toml --json\n"
        "rigfit draw my-boat.toml swing.pdf --sheet swing",
    )  # fmt: skip
    add_job(parser)
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _swing(options: argparse.Namespace) -> int:
    report = asked_report(options)
    style = shown(report.case.job.units)
    findings = [finding for finding in report.findings if finding.code in _CODES]
    if options.json:
        print_data(
            {
                "format": REPORT_FORMAT,
                "engine": report.case.candidate.id,
                "swing": swing_data(report),
                "findings": [finding_data(finding, style) for finding in findings],
                "not_looked_at": list(report.not_looked_at),
            }
        )
        return status_of(report)
    paint = paint_for(sys.stdout)
    lines = heading(report, paint)
    for finding in findings:
        lines += ["", *finding_lines(finding, style, paint)]
    lines += ["", *(swing_lines(report, paint) or _nothing()), "", *_not_entered(report)]
    say_lines([*lines, *caution_lines()])
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
    return ["Not looked at:", *left, ""] if left else []
