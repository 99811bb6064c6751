"""The boat under way as plain text in 80 columns: trim, water at the plate, speed, propeller."""

from __future__ import annotations

import textwrap

from rigfit.plain_tables import (
    WIDTH,
    Paint,
    fitted,
    narrow,
    no_paint,
    painted,
    verdict_cell,
)
from rigfit.rigging.checks_underway import KINDS, name_of, option_name, plate_verdict, where_from
from rigfit.rigging.drive import crouch_constant, crouch_words
from rigfit.rigging.propeller import (
    GOOD_SLIP,
    RPM_PER_INCH_WIDE,
    Band,
    pitch_by_percent,
    pitch_by_rate,
    pitch_speed_kn,
    slip,
)
from rigfit.rigging.report import EngineReport
from rigfit.rigging.trial_advice import pitch_words
from rigfit.rigging.underway import Lacking, UnderwayResult, underway_of
from rigfit.units import Kind, Shown, brief, compact, show
from rigfit.wording import MARKS, say, shown

CODES = (601, 602, 603, 604, 605)
"""The findings of this subject."""

FURTHEST_RPM = 1000.0
"""Beyond this the trade's rpm an inch asks for pitches that mean nothing (own estimate)."""


def underway_lines(
    report: EngineReport, paint: Paint = no_paint, *, findings: bool = True
) -> list[str]:
    """Return how she should run: findings, what they were reckoned from, the water at each height.

    Nothing while nobody entered anything about it.

    :param findings: False where the findings stand elsewhere already.
    """
    found = underway_of(report.case)
    if found is None:
        return []
    style = shown(report.case.job.units)
    title = "Under way: an estimate, the sea trial decides"
    said = _finding_lines(report, style) if findings else []
    if isinstance(found, Lacking):
        return [title, *said] if said else []
    lines = [title, *said, *([""] if said else []), *_given_lines(report, found, style)]
    if found.plates:
        lines += ["", *plate_lines(found, style, paint)]
    return lines


def _finding_lines(report: EngineReport, style: Shown) -> list[str]:
    lines = []
    for code in CODES:
        for finding in report.findings:
            if finding.code != code:
                continue
            word = f"{MARKS[finding.verdict]} {finding.verdict.value}"
            said = f"{word}: {say(finding.sentence, style)}"
            if finding.settle is not None:
                said += f" {say(finding.settle, style)}"
            lines += textwrap.wrap(said, WIDTH, subsequent_indent="  ")
    return lines


def _given_lines(report: EngineReport, found: UnderwayResult, style: Shown) -> list[str]:
    rows = []
    for key, kind in KINDS.items():
        item = found.given[key]
        spread = item.reading.tolerance
        rows.append(
            [
                name_of(key),
                _figure(item.reading.value, kind, style),
                _figure(spread, kind, style) if spread else "-",
                where_from(item),
            ]
        )
    constant = crouch_constant(report.case)
    rows.append(
        [
            "Crouch's constant",
            f"{constant.value:.0f}",
            f"{constant.tolerance:.0f}",
            f"{crouch_words(report.case)}; from memory",
        ]
    )
    headings = ("reckoned from", "figure", "+/-", "where from")
    lines: list[str] = []
    for row in fitted(headings, rows, "lrrl"):
        is_note = row.startswith("(")
        lines += textwrap.wrap(row, WIDTH, subsequent_indent="    ") if is_note else [row]
    return lines


def _figure(value: float, kind: Kind, style: Shown) -> str:
    """Return a figure for a narrow cell; power alone in both its units, as engines are named."""
    words = show(value, kind, style)
    return words if kind is Kind.POWER else brief(words)


def plate_lines(found: UnderwayResult, style: Shown, paint: Paint = no_paint) -> list[str]:
    """Return the water behind the transom at every possible height."""
    water = found.plates[0].water
    rows, verdicts = [], []
    for item in found.plates:
        verdict = plate_verdict(found, item)
        verdicts.append(verdict)
        rows.append(
            [
                option_name(item),
                _short(item.place.plate_mm, style),
                _short(item.water.surface_mm, style),
                _short(item.water.rule_mm, style),
                _short(item.water.clear_mm, style),
                _short(item.water.tip_mm, style),
                verdict_cell(verdict),
            ]
        )
    headings = ("height", "plate", "water", "rule", "plate above", "tip under", "verdict")
    notes = (
        "plate, water and rule from the extended keel line at the middle of the plate; rule: the "
        "trade's 25 mm for each 300 mm; tip: the propeller's upper tip under the water."
    )
    if water.doubts:
        notes += f" The water is an extrapolation: {'; '.join(water.doubts)}."
    return [
        f"Water behind the transom, {style.lengths}",
        *painted(narrow(headings, rows, "lrrrrrl", 0), verdicts, paint),
        *textwrap.wrap(notes, WIDTH),
    ]


def _short(value: float, style: Shown) -> str:
    return brief(compact(value, style, signed=True))


def reading_lines(
    report: EngineReport,
    rpm: float,
    speed_kn: float | None,
    pitch_mm: float,
    gear: float,
    band: Band,
    target: float,
) -> list[str]:
    """Return what one full-throttle reading says of slip, band and pitch.

    :param speed_kn: boat speed read with it; None where only the engine speed was read.
    :param target: the engine speed to aim for.
    :raises JobError: for numbers without meaning, such as a gear ratio of 0.
    """
    style = shown(report.case.job.units)
    pitch_kn = pitch_speed_kn(rpm, pitch_mm, gear)
    said = [
        f"{show(rpm, Kind.ROTATION)} with {pitch_words(pitch_mm)} of pitch and a gear ratio of "
        f" {show(gear, Kind.RATIO)}: pitch speed {show(pitch_kn, Kind.SPEED, style)}."
    ]
    if speed_kn is not None:
        said.append(_slip_words(slip(speed_kn, rpm, pitch_mm, gear), speed_kn, style))
    place = band.place(rpm)
    words = {
        "below": "below it: the engine lugs; less pitch, or less load",
        "lower half": "in its lower half; aim for the upper half",
        "upper half": "in its upper half, as it should be",
        "above": "above it: the engine overspeeds; more pitch",
    }[place]
    said.append(f"Band {band.low:.0f} to {band.high:.0f} rpm: {words}.")
    said.append(_pitch_words(pitch_mm, rpm, target))
    said.append(
        "A full-throttle reading alone decides nothing: mid-range and turns count. Cup and "
        "diameter change it, too."
    )
    return [line for text in said for line in textwrap.wrap(text, WIDTH)]


def _pitch_words(pitch_mm: float, rpm: float, target: float) -> str:
    """Return the pitches for the speed aimed for; the rates only as far as they have a meaning."""
    percent = pitch_words(pitch_by_percent(pitch_mm, rpm, target))
    if abs(rpm - target) > FURTHEST_RPM:
        return (
            f"For {target:.0f} rpm: {percent} by percent. That is too far off for rpm an inch: "
            "look at tachometer, load and a slipping hub first."
        )
    low, high = pitch_by_rate(pitch_mm, rpm, target)
    first, last = pitch_by_rate(pitch_mm, rpm, target, RPM_PER_INCH_WIDE)
    return (
        f"For {target:.0f} rpm: {pitch_words(low)} to {pitch_words(high)} by 150 to 200 rpm an "
        f"inch, {pitch_words(first)} to {pitch_words(last)} by all rates met (100 to 300), "
        f"{percent} by percent."
    )


def _slip_words(share: float, speed_kn: float, style: Shown) -> str:
    said = f"At {show(speed_kn, Kind.SPEED, style)} that is a slip of {100.0 * share:.1f} %"
    low, high = GOOD_SLIP
    if share < 0.0:
        return (
            f"{said}: faster than the propeller screws, which cannot be. Look at the tachometer, "
            "the pitch as stamped, the gear ratio and the current."
        )
    return f"{said}; {100.0 * low:.0f} to {100.0 * high:.0f} % is good on the plane."
