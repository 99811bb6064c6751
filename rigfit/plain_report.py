"""The report as plain text in 80 columns: for terminals, mail and screen readers."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from rigfit.plain_afloat import afloat_lines, load_lines
from rigfit.plain_holes import bolts_lines, holes_lines, reuse_lines
from rigfit.plain_runs import runs_lines
from rigfit.plain_swing import swing_lines
from rigfit.plain_tables import (
    WIDTH,
    Paint,
    apart,
    cut,
    fitted,
    narrow,
    no_paint,
    painted,
    verdict_cell,
    verdict_word,
)
from rigfit.plain_trial import trial_lines
from rigfit.plain_underway import underway_lines
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.report import EngineReport
from rigfit.sources import cite
from rigfit.units import Kind, Shown, brief, compact
from rigfit.wording import CAUTIONS, MARKS, number, say, share_words, shown, verdict_line

__all__ = [
    "WIDTH",
    "caution_lines",
    "drilling_lines",
    "finding_lines",
    "heading",
    "heights_lines",
    "not_looked_at_lines",
    "range_lines",
    "report_lines",
    "shortlist_lines",
]


def heading(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return boat, engine and overall verdict."""
    case = report.case
    name = case.candidate.name
    title = f"{case.job.boat.name or 'Unnamed boat'}: engine {case.candidate.id}"
    title += f", {name}" if name else ""
    lines = textwrap.wrap(f"{title} ({case.engine.name})", WIDTH)
    word = paint(f"{MARKS[report.verdict]} {report.verdict.value.upper()}", report.verdict)
    return [*lines, f"{word}  {verdict_line(report)}"]


def heights_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return the height table: every option, the mounted one marked with >."""
    style = shown(report.case.job.units)
    with_setting = any(option.setting_mm for option in report.options)
    unit = "in (mm)" if style.lengths == "in" else "mm"
    inch = style.lengths == "in"
    headings = ["", "row", *(["setting"] if with_setting else []), "lift", "plate"]
    headings += ["+/- mm" if inch else "+/-", "off target", "verdict", "why"]
    # With a column more there is room for millimetres beside the inches of the plate only.
    beside = _inches_only if with_setting else _short
    rows = []
    for option in report.options:
        plate = option.plate
        mark = ">" if option == report.mounted else " "
        row = [mark, str(option.row) if option.row else "clamp"]
        row += [_inches_only(option.setting_mm, style, signed=False)] if with_setting else []
        row += [beside(option.lift.value, style), _short(plate.value if plate else None, style)]
        # Tolerances stay in mm: a sixteenth of an inch is too coarse for them.
        row += [_short(plate.tolerance if plate else None, Shown("mm"), signed=False)]
        row += [beside(option.off_target_mm, style)]
        row += [verdict_cell(option.verdict), option.reason]
        rows.append(row)
    right = "lr" + ("r" if with_setting else "") + "rrrrll"
    lines = fitted(headings, rows, right)
    return [
        f"Heights, {unit}: plate above (+) or below (-) the keel line",
        *painted(lines, [option.verdict for option in report.options], paint),
        *_target_line(report, style),
    ]


def _inches_only(value: float | None, style: Shown, *, signed: bool = True) -> str:
    """Return a length for a narrow cell, in inch jobs without the millimetres beside."""
    return brief(_short(value, style, signed=signed))


def _short(value: float | None, style: Shown, *, signed: bool = True) -> str:
    """Return a length for a table cell, a dash where it is missing."""
    return "-" if value is None else compact(value, style, signed=signed)


def _target_line(report: EngineReport, style: Shown) -> list[str]:
    band = report.case.band
    if band is None:
        return ["Target: none known for this hull; write one in the job."]
    text = (
        f"Target {number(band.low_mm, Kind.LENGTH, style, signed=True)} to "
        f"{number(band.high_mm, Kind.LENGTH, style, signed=True)}"
    )
    if report.case.rise.mid_mm:
        text += f", {number(report.case.rise.mid_mm, Kind.LENGTH, style)} of it for the setback"
    return textwrap.wrap(f"{text}. Source: {cite(band.source)}. Check afloat.", WIDTH)


def drilling_lines(report: EngineReport) -> list[str]:
    """Return the drilling heights of a bare transom, with what each keeps in hand."""
    if not report.drilling:
        return []
    style = shown(report.case.job.units)
    rows = [
        [
            choice.label,
            _short(choice.upper_below_top_mm, style, signed=False),
            _short(choice.lower_below_top_mm, style, signed=False),
            _short(choice.plate_mm, style),
            f"{choice.rows_below}/{choice.rows_above}",
            verdict_cell(choice.verdict),
            choice.reason,
        ]
        for choice in report.drilling
    ]
    headings = ("choice", "upper", "lower", "plate", "down/up", "verdict", "why")
    return [
        "The transom is not drilled yet. Where the holes could go, below the top, and",
        "how many rows each choice leaves to move the engine down or up later:",
        *fitted(headings, rows, "lrrrlll"),
    ]


def range_lines(report: EngineReport) -> list[str]:
    """Return the core picture: the plate fully down to fully up, for each leg."""
    if not report.ranges:
        return []
    style = shown(report.case.job.units)
    rows = [
        [
            entry.name,
            _short(entry.leg_mm, style, signed=False),
            _short(entry.low_mm, style),
            _short(entry.high_mm, style),
            verdict_cell(entry.verdict),
        ]
        for entry in report.ranges
    ]
    return [
        "The plate from engine fully down to fully up, for each leg:",
        *narrow(("leg", "length", "down", "up", "at best"), rows, "lrrrl", 0),
    ]


def finding_lines(
    finding: Finding, style: Shown, paint: Paint = no_paint, *, working: bool = False
) -> list[str]:
    """Return one finding: verdict, title, sentence, margin, source, and its working if asked."""
    lines = [f"{verdict_word(finding.verdict, paint)}  {finding.code}  {finding.title}"]
    body = [say(finding.sentence, style)]
    if share_words(finding):
        body.append(f"{share_words(finding).capitalize()}.")
    elif finding.margin is not None and finding.tolerance is not None:
        body.append(
            f"Margin {number(finding.margin, finding.kind, style, signed=True)}, tolerance "
            f"{number(finding.tolerance, finding.kind, style)}."
        )
    if finding.settle is not None:
        body.append(f"To settle it: {say(finding.settle, style)}")
    body.append(f"Source: {cite(finding.source)}.")
    if working:
        body += [f"- {say(line, style)}" for line in finding.working]
    for text in body:
        lines += textwrap.wrap(text, WIDTH - 4, initial_indent="    ", subsequent_indent="    ")
    return lines


def report_lines(
    report: EngineReport, paint: Paint = no_paint, *, working: bool = False
) -> list[str]:
    """Return a whole report: verdict, findings worst first, heights, holes, swing, afloat ..."""
    style = shown(report.case.job.units)
    found = (finding_lines(finding, style, paint, working=working) for finding in report.findings)
    return apart(
        heading(report, paint),
        *found,
        not_looked_at_lines(report),
        heights_lines(report, paint),
        drilling_lines(report),
        range_lines(report),
        holes_lines(report, paint),
        reuse_lines(report, paint),
        bolts_lines(report),
        runs_lines(report, paint),
        swing_lines(report, paint),
        load_lines(report, paint),
        afloat_lines(report, paint),
        underway_lines(report, paint, findings=False),
        trial_lines(report, paint, findings=False),
        caution_lines(),
    )


def not_looked_at_lines(report: EngineReport) -> list[str]:
    """Return in a line what nobody entered anything about; nothing when all was looked at."""
    if not report.not_looked_at:
        return []
    return textwrap.wrap(f"Not looked at yet: {', '.join(report.not_looked_at)}.", WIDTH)


def shortlist_lines(reports: Sequence[EngineReport], paint: Paint = no_paint) -> list[str]:
    """Return all engines of a job, a line each: verdict, plate, what decides."""
    if not reports:
        return []
    style = shown(reports[0].case.job.units)
    rows = []
    for report in reports:
        plate = report.mounted.plate if report.mounted else None
        candidate = report.case.candidate
        rows.append(
            [
                cut(candidate.id, 12),
                candidate.name or report.case.engine.name,
                verdict_cell(report.verdict),
                _short(plate.value if plate else None, style),
                _short(plate.tolerance if plate else None, style, signed=False),
                report.findings[0].title if report.verdict is not Verdict.FITS else "",
            ]
        )
    headings = ("id", "engine", "verdict", "plate", "+/-", "what decides")
    lines = narrow(headings, rows, "lllrrl", 1)
    return [
        "All engines of the job, plate at the chosen or best row:",
        *painted(lines, [report.verdict for report in reports], paint),
    ]


def caution_lines() -> list[str]:
    """Return the cautions that end every report."""
    lines = ["Cautions"]
    for caution in CAUTIONS:
        lines += textwrap.wrap(caution, WIDTH - 4, initial_indent="  * ", subsequent_indent="    ")
    return lines
