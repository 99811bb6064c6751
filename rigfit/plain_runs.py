"""Runs as plain text in 80 columns: conductors with drop and listed current, cables with length."""

from __future__ import annotations

import textwrap

from rigfit.plain_tables import WIDTH, Paint, narrow, no_paint, painted, verdict_cell
from rigfit.rigging.checks_runs import (
    cables_of,
    drop_of,
    feet_of,
    feet_words,
    most_a,
    thinnest,
    way_of,
    wires_of,
)
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import EngineReport
from rigfit.rigging.runs_fields import CRANKING, NOT_CHOSEN, Wire
from rigfit.units import Kind, Shown, show
from rigfit.wording import shown

_FIRST = "The makers' instructions and a qualified electrician come before these tables."


def runs_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return conductors and cables as two tables; nothing while none is listed."""
    style = shown(report.case.job.units)
    wires, cables = _wires(report, style, paint), _cables(report, style, paint)
    if not wires and not cables:
        return []
    between = [""] if wires and cables else []
    return ["Conductors and cables", *wires, *between, *cables, *textwrap.wrap(_FIRST, WIDTH)]


def _verdicts(report: EngineReport, code: int) -> dict[str, Verdict]:
    """Return the verdicts of a code by the name of the run, which ends the finding's title."""
    found = [item for item in report.findings if item.code == code]
    return {item.title.partition(", ")[2]: item.verdict for item in found}


def _wires(report: EngineReport, style: Shown, paint: Paint) -> list[str]:
    drops, rows, verdicts = _verdicts(report, 811), [], []
    for name, wire in wires_of(report.case):
        dropped, most = drop_of(wire), most_a(wire)
        verdicts.append(drops[name])
        rows.append(
            [
                name,
                show(wire.length.value, Kind.LENGTH, style) if wire.length else "-",
                show(wire.current.value, Kind.CURRENT) if wire.current else "-",
                _gauge(wire),
                show(dropped[0], Kind.FRACTION) if dropped else "-",
                "outside" if wire.use == CRANKING else show(most, Kind.CURRENT) if most else "-",
                verdict_cell(drops[name]),
            ]
        )
    if not rows:
        return []
    headings = ("conductor", "way, once", "carries", "AWG", "drop", "listed", "by drop")
    lines = painted(narrow(headings, rows, "lrrrrrl", 0), verdicts, paint)
    return [*lines, "Listed: 33 CFR 183.425, Table 5, which does not bind boats with outboards."]


def _gauge(wire: Wire) -> str:
    """Return the gauge; of one not chosen the thinnest by voltage drop alone, marked as such."""
    if wire.gauge != NOT_CHOSEN:
        return wire.gauge
    found = None if wire.use == CRANKING else thinnest(wire)
    return f"({found})" if found else "-"


def _cables(report: EngineReport, style: Shown, paint: Paint) -> list[str]:
    found, rows, verdicts = _verdicts(report, 813), [], []
    for name, cable in cables_of(report.case):
        way, feet = way_of(cable), feet_of(cable)
        verdicts.append(found[name])
        rows.append(
            [
                name,
                show(way[0], Kind.LENGTH, style) if way else "-",
                "-" if cable.bends is None else str(cable.bends),
                feet_words(feet) if feet else "-",
                f"{cable.feet} ft" if cable.feet else "-",
                verdict_cell(found[name]),
            ]
        )
    if not rows:
        return []
    headings = ("cable", "way", "bends", "by the rules", "to buy", "verdict")
    return painted(narrow(headings, rows, "lrrrrl", 0), verdicts, paint)
