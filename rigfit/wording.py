"""Words: findings and numbers as sentences in the units a job asks for, and as plain data."""

from __future__ import annotations

from typing import Any, cast

from rigfit.rigging.findings import Amount, Finding, Phrase, Verdict
from rigfit.rigging.job import Units
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.report import REPORT_FORMAT, EngineReport
from rigfit.sources import cite
from rigfit.units import BASE_UNIT, Kind, Shown, show

MARKS: dict[Verdict, str] = {
    Verdict.FITS: "=",
    Verdict.TIGHT: "~",
    Verdict.UNKNOWN: "?",
    Verdict.STOPS: "!",
}
"""A sign for each verdict, beside its word: never colour alone."""

CAUTIONS: tuple[str, ...] = (
    "The engine maker's and boat builder's instructions, the capacity plate and local law come "
    "first.",
    "Measure twice, have a second person check, and check the height afloat before sealing.",
    "An engine weighs 50 to 300 kg: use a rated hoist, keep clear below it, chock the trailer.",
    "Wet or soft transom: stop and have it looked at; no height or bolt mends it.",
)
"""Printed on every output."""


def shown(units: Units) -> Shown:
    """Return how results are shown from a job's unit settings."""
    return Shown(cast(Any, units.lengths), cast(Any, units.speeds))


def say(words: Phrase, style: Shown) -> str:
    """Return a phrase with its amounts in the chosen units."""
    return words.text.format_map({key: _amount(item, style) for key, item in words.amounts.items()})


def _amount(item: Amount | str, style: Shown) -> str:
    if isinstance(item, str):
        return item
    return show(item.value, item.kind, style, signed=item.signed)


def number(value: float | None, kind: Kind, style: Shown, *, signed: bool = False) -> str:
    """Return a number with unit, or a dash where it is missing."""
    return "-" if value is None else show(value, kind, style, signed=signed)


def verdict_line(report: EngineReport) -> str:
    """Return the overall verdict as one sentence."""
    verdict = report.verdict
    count = sum(1 for finding in report.findings if finding.verdict is verdict)
    one = count == 1
    things = f"{count} finding{'' if one else 's'}"
    return {
        Verdict.FITS: "Everything that was checked fits, by more than its tolerance.",
        Verdict.TIGHT: f"Nothing stops it; {things} tight or not confirmed by tape.",
        Verdict.UNKNOWN: f"Not to be decided yet: {things} {'waits' if one else 'wait'} for a "
        "measurement.",
        Verdict.STOPS: f"Do not: {things} {'stops' if one else 'stop'} it.",
    }[verdict]


def finding_data(finding: Finding, style: Shown) -> dict[str, object]:
    """Return one finding as data; numbers in the base unit named under ``unit``."""
    return {
        "code": finding.code,
        "subject": finding.subject,
        "title": finding.title,
        "verdict": finding.verdict.value,
        "value": _rounded(finding.value),
        "limit": _rounded(finding.limit),
        "low": _rounded(finding.low),
        "high": _rounded(finding.high),
        "unit": BASE_UNIT[finding.kind],
        "margin": _rounded(finding.margin),
        "tolerance": _rounded(finding.tolerance),
        "sentence": say(finding.sentence, style),
        "source": cite(finding.source),
        "needs": list(finding.needs),
        "settle": say(finding.settle, style) if finding.settle else "",
        "working": [say(line, style) for line in finding.working],
    }


def option_data(option: HeightOption) -> dict[str, object]:
    """Return one height option as data, mm."""
    plate = option.plate
    return {
        "row": option.row,
        "bracket_setting_mm": _rounded(option.setting_mm),
        "lift_mm": _rounded(option.lift.value),
        "plate_height_mm": _rounded(plate.value if plate else None),
        "tolerance_mm": _rounded(plate.tolerance if plate else None),
        "off_target_mm": _rounded(option.off_target_mm),
        "verdict": option.verdict.value,
        "reason": option.reason,
    }


def heights_data(report: EngineReport) -> list[dict[str, object]]:
    """Return all height options of a report as data."""
    return [option_data(option) for option in report.options]


def plate_data(report: EngineReport) -> dict[str, object]:
    """Return the plate at the mounted height, and its target, as data in mm."""
    mounted, band = report.mounted, report.case.band
    plate = mounted.plate if mounted else None
    return {
        "row": mounted.row if mounted else None,
        "row_is_chosen": report.is_chosen,
        "height_mm": _rounded(plate.value if plate else None),
        "tolerance_mm": _rounded(plate.tolerance if plate else None),
        "target_low_mm": _rounded(band.low_mm if band else None),
        "target_high_mm": _rounded(band.high_mm if band else None),
        "setback_rise_mm": _rounded(report.case.rise.mid_mm),
    }


def report_data(report: EngineReport) -> dict[str, object]:
    """Return a whole report as data, the layout of ``rigfit check --json``."""
    job = report.case.job
    style = shown(job.units)
    return {
        "format": REPORT_FORMAT,
        "boat": job.boat.name,
        "engine": report.case.candidate.id,
        "verdict": report.verdict.value,
        "plate": plate_data(report),
        "heights": heights_data(report),
        "plate_ranges": [
            {
                "leg": entry.name,
                "leg_mm": _rounded(entry.leg_mm),
                "low_mm": _rounded(entry.low_mm),
                "high_mm": _rounded(entry.high_mm),
                "verdict": entry.verdict.value,
            }
            for entry in report.ranges
        ],
        "drilling": drilling_data(report),
        "findings": [finding_data(finding, style) for finding in report.findings],
        "cautions": list(CAUTIONS),
    }


def drilling_data(report: EngineReport) -> list[dict[str, object]]:
    """Return where a bare transom may be drilled, as data in mm."""
    return [
        {
            "choice": choice.label,
            "upper_holes_below_top_mm": _rounded(choice.upper_below_top_mm),
            "row": choice.row,
            "plate_height_mm": _rounded(choice.plate_mm),
            "rows_below": choice.rows_below,
            "rows_above": choice.rows_above,
            "lower_holes_below_top_mm": _rounded(choice.lower_below_top_mm),
            "verdict": choice.verdict.value,
            "reason": choice.reason,
        }
        for choice in report.drilling
    ]


def _rounded(value: float | None) -> float | None:
    """Round to a micrometre, so that data compare alike on every machine; no minus zero."""
    if value is None or value in (float("inf"), float("-inf")):
        return None
    return round(value, 3) + 0.0
