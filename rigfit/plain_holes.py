"""Holes and bolts as plain text in 80 columns: new against old, reuse as a trade-off, the stack."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from rigfit.plain_tables import (
    WIDTH,
    Paint,
    cut,
    fitted,
    no_paint,
    painted,
    table,
    verdict_cell,
)
from rigfit.rigging.bolting import grip_of, layers_of, missing, stack_needs
from rigfit.rigging.findings import Verdict
from rigfit.rigging.hole_fit import FittedHole, HoleFit, HoleRelation, Relation
from rigfit.rigging.report import EngineReport
from rigfit.units import Kind, Shown, compact, from_base
from rigfit.wording import number, say, shown

_NAME = 20
_OTHER = 21

_WORDS = {
    Relation.SERVES: "served by",
    Relation.SLOT: "in the slot of",
    Relation.BREAKS: "breaks into",
    Relation.NEAR: "too near to",
    Relation.CLEAR: "clear of",
}


def place(value_mm: float, style: Shown, *, signed: bool = False) -> str:
    """Return where a hole is, fine enough to drill by: to 0.1 mm, or to 0.01 in."""
    if style.lengths == "in":
        text = f"{from_base(value_mm, 'in', Kind.LENGTH) + 0.0:.2f}"
    else:
        text = f"{round(value_mm, 1) + 0.0:g}"
    return f"+{text}" if signed and float(text) > 0.0 else text


def holes_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return each new hole with what it is to old holes, openings and edges, and what to fill.

    Nothing where there are no holes to speak of: an engine that clamps on, or a height not decided.
    """
    fit = report.holes
    if fit is None:
        return []
    style = shown(report.case.job.units)
    rows, verdicts = [], []
    for item in fit.holes:
        for index, relation in enumerate(shown_relations(item)):
            cells = ["", "", ""] if index else _place_cells(item, style)
            rows.append([*cells, *_relation_cells(relation, style)])
            verdicts.append(relation.verdict)
    headings = ("new hole", "across", "below", "is", "what", "rim/off", "rule", "verdict")
    lines = table(headings, rows, "lrrllrrl")
    if max(map(len, lines)) > WIDTH:
        lines = table(headings, rows, "lrrllrrl", gap=" ")
    return [
        f"Holes, {style.lengths}: across from the centreline (+ starboard), below the transom top;",
        "material from rim to rim and least wanted, or how far off a bolt is and its play",
        *painted(lines, verdicts, paint),
        *_inside_lines(fit, style),
        *_filling_lines(fit),
    ]


def shown_relations(item: FittedHole) -> tuple[HoleRelation, ...]:
    """Return what of a new hole is worth a row: its old hole, and all that is not safely clear.

    A hole that is clear of everything gets its nearest neighbour, so that none is left out.
    """
    served = item.reuse
    first = (served,) if served is not None else item.against("hole")[:1]
    kinds = ("edge",) if served is not None else ("opening", "edge")
    more = tuple(other for other in item.against(*kinds) if other.verdict is not Verdict.FITS)
    near = (*first, *more)
    return near or item.relations[:1]


def _place_cells(item: FittedHole, style: Shown) -> list[str]:
    feature = item.hole.feature
    return [
        cut(feature.name, _NAME),
        place(feature.across_mm, style, signed=True),
        place(feature.below_top_mm, style),
    ]


def _relation_cells(relation: HoleRelation, style: Shown) -> list[str]:
    what = f"the {relation.neighbour} edge" if relation.what == "edge" else relation.neighbour
    served = relation.relation.is_reuse and relation.play_mm is not None
    have = relation.distance_mm if served else relation.ligament_mm
    rule = relation.play_mm if served else relation.required_mm
    return [
        _WORDS[relation.relation],
        cut(what, _OTHER),
        place(have, style),
        f"{'<' if served else '>'}{place(rule or 0.0, style)}",
        verdict_cell(relation.verdict),
    ]


def _inside_lines(fit: HoleFit, style: Shown) -> list[str]:
    if not fit.exits or not fit.places:
        return []
    worst = min(fit.exits, key=lambda item: (-item.verdict.rank, item.clear_mm))
    where = number(abs(worst.clear_mm), Kind.LENGTH, style)
    words = f"stays clear of {worst.place} by {where}"
    if worst.clear_mm < 0.0:
        words = f"lies over {worst.place} by {where}"
    text = f"Inside, {verdict_cell(worst.verdict)}: {fit.footprint.label} at {worst.feature.name}"
    return textwrap.wrap(f"{text} {words}.", WIDTH)


def _filling_lines(fit: HoleFit) -> list[str]:
    lines = []
    if fit.to_fill:
        names = [item.name for item in fit.to_fill]
        more = f" and {len(names) - 12} more" if len(names) > 12 else ""
        lines += textwrap.wrap(f"To be filled solid: {', '.join(names[:12])}{more}.", WIDTH)
    for fault in fit.faults[:12]:
        lines += textwrap.wrap(f"Measure again: {fault}.", WIDTH)
    return lines


def reuse_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return which old holes could serve, against what each choice costs; no single answer."""
    if not report.reuse:
        return []
    style = shown(report.case.job.units)
    rows = [
        [
            place(choice.upper_below_top_mm, style),
            place(choice.shift_mm, style, signed=True),
            str(choice.row) if choice.row else "-",
            str(len(choice.reused)),
            str(choice.broken),
            str(choice.too_near),
            "-" if choice.plate_mm is None else compact(choice.plate_mm, style, signed=True),
            _off_cell(choice.off_target_mm, style),
            verdict_cell(choice.verdict),
            choice.reason,
        ]
        for choice in report.reuse
    ]
    headings = ("upper", "aside", "row", "used", "broken", "near", "plate", "off", "verdict", "why")
    lines = fitted(headings, rows, "rrrrrrrrll")
    return [
        f"Reuse of old holes, {style.lengths}: a trade-off, not one answer. "
        "Upper holes below the top,",
        "the engine moved aside, old holes used, new ones breaking in or too near",
        *painted(lines, [choice.verdict for choice in report.reuse], paint),
    ]


def _off_cell(off_mm: float | None, style: Shown) -> str:
    return "-" if off_mm is None else place(off_mm, style, signed=True)


def bolts_lines(report: EngineReport) -> list[str]:
    """Return what a bolt clamps, the length to buy and how tight; nothing while nobody said."""
    case = report.case
    codes = {finding.code for finding in report.findings}
    if not codes & {701, 703}:
        return []
    style = shown(case.job.units)
    lines = ["Bolts"]
    if not missing(case, "bolting.bolt", *stack_needs(case)):
        layers = layers_of(case)
        grip = grip_of(layers)
        rows = [[layer.name, f"{layer.thickness.value:.1f}"] for layer in layers]
        rows.append(["grip", f"{grip.value:.1f} +/- {grip.tolerance:.1f}"])
        lines = ["Bolts, from the head in", *table(("layer", "mm"), rows, "lr")]
    for code in (701, 703):
        if code in codes:
            lines += textwrap.wrap(say(report.finding(code).sentence, style), WIDTH)
    return lines


def hole_rows(report: EngineReport) -> Iterator[list[str | float | None]]:
    """Yield the table of holes as cells for a spreadsheet, in mm, headings first."""
    yield [
        "new hole", "across (mm)", "below top (mm)", "diameter (mm)", "relation", "neighbour",
        "rim to rim (mm)", "wanted (mm)", "off (mm)", "play (mm)", "tolerance (mm)", "verdict",
    ]  # fmt: skip
    for item in report.holes.holes if report.holes else ():
        feature = item.hole.feature
        for relation in shown_relations(item):
            yield [
                feature.name,
                round(feature.across_mm, 3),
                round(feature.below_top_mm, 3),
                round(feature.diameter_mm, 3),
                relation.relation.value,
                relation.neighbour,
                round(relation.ligament_mm, 3),
                round(relation.required_mm, 3),
                round(relation.distance_mm, 3),
                None if relation.play_mm is None else round(relation.play_mm, 3),
                round(relation.tolerance_mm, 3),
                relation.verdict.value,
            ]
