"""Power, load and flotation as plain text in 80 columns: what is aboard, limits, heights, test."""

from __future__ import annotations

import textwrap

from rigfit.plain_tables import (
    WIDTH,
    Paint,
    cut,
    fitted,
    narrow,
    no_paint,
    painted,
    table,
    verdict_cell,
)
from rigfit.rigging.afloat import Flotation, Trouble
from rigfit.rigging.afloat_summary import AfloatSummary, summary_of
from rigfit.rigging.checks_flotation import pod_sentence, test_sentence, usual_sentence
from rigfit.rigging.checks_load import is_begun, load_limits
from rigfit.rigging.margins import PERSON_KG
from rigfit.rigging.masses import Masses, growth, masses_after, masses_before
from rigfit.rigging.readings import Reading
from rigfit.rigging.report import EngineReport
from rigfit.rigging.suggestions import FORWARD_MM
from rigfit.units import Kind, Shown, brief, compact, show
from rigfit.wording import MARKS, number, say, shown

_NAME = 18
_TO_READ = "........"


def load_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return power and load: what is aboard before and after, and every limit; nothing while
    nobody entered anything about them.
    """
    case = report.case
    if not is_begun(case):
        return []
    style = shown(case.job.units)
    lines = ["Power and load"]
    for code in (501, 502):
        for finding in report.findings:
            if finding.code == code:
                word = f"{MARKS[finding.verdict]} {finding.verdict.value}"
                lines += textwrap.wrap(f"{word}: {say(finding.sentence, style)}", WIDTH)
    after = masses_after(case)
    limits = load_limits(case, after)
    if limits:
        rows = [
            [
                limit.name,
                show(limit.value, limit.kind, style),
                show(limit.limit, limit.kind, style),
                show(limit.margin, limit.kind, style, signed=True),
                verdict_cell(limit.verdict),
            ]
            for limit in limits
        ]
        shown_limits = narrow(("limit", "aboard", "most", "left", "verdict"), rows, "lrrrl", 0)
        lines += ["", *painted(shown_limits, [limit.verdict for limit in limits], paint)]
    lines += ["", *_mass_table(masses_before(case), after, style)]
    more = growth(case)
    if more is not None:
        by = show(more.value, Kind.MASS, style, signed=True)
        give = show(more.tolerance, Kind.MASS, style)
        lines.append(f"Engine weight at the stern: {by}, give or take {give}.")
    return lines


def _mass_table(before: Masses, after: Masses, style: Shown) -> list[str]:
    """Return every mass with its place and when it is aboard, and what was not weighed."""
    rows = []
    for item in (*after.items, *(each for each in before.items if each not in after.items)):
        now, then = item in before.items, item in after.items
        rows.append(
            [
                item.name,
                show(item.mass.value, Kind.MASS, style),
                _place(item.ahead, style),
                _place(item.above, style),
                "both" if now and then else "before" if now else "after",
                "" if item.mass.origin.is_firm else str(item.mass.origin.value),
            ]
        )
    headings = ("aboard", "mass", "ahead", "above keel", "when", "not weighed")
    rows = [[cut(row[0], 26), *row[1:]] for row in rows]
    if any(row[-1] for row in rows):
        lines = fitted(headings, rows, "lrrrll")
    else:
        lines = table(headings[:-1], [row[:-1] for row in rows], "lrrrl")
    missing = tuple(dict.fromkeys((*before.missing, *after.missing)))
    if missing:
        lines += textwrap.wrap(f"Mass not entered yet: {', '.join(missing)}.", WIDTH)
    return lines


def _place(reading: Reading | None, style: Shown) -> str:
    return _length(reading.value if reading else None, style)


def _length(value: float | None, style: Shown) -> str:
    """Return a length for a narrow cell, in inch jobs without the millimetres beside."""
    return "-" if value is None else brief(compact(value, style))


def afloat_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return how she floats: heights, trim, who is wet first, moves, float test.

    Nothing while nobody entered anything about it; what stands in the way where it cannot be said.
    """
    found = summary_of(report.case)
    if found is None:
        return []
    style = shown(report.case.job.units)
    if isinstance(found, Trouble):
        words = f"{say(found.sentence, style)} To settle it: {say(found.settle, style)}"
        return ["Afloat", *textwrap.wrap(words, WIDTH)]
    return [
        *height_lines(found, style, paint),
        *_state_lines(found, style),
        *_move_lines(found, style),
        "",
        *test_lines(found, style),
    ]


def height_lines(found: AfloatSummary, style: Shown, paint: Paint = no_paint) -> list[str]:
    """Return the table of marks: before, after, wanted, mass until wet, one person aft."""
    title = f"Afloat, {style.lengths}: heights above the water"
    if not found.marks:
        return [title, "No mark has a height yet."]
    rows = [
        [
            cut(item.mark.name, _NAME),
            _length(item.mark.before, style),
            _length(item.mark.after.value, style),
            _length(item.mark.after.tolerance, Shown("mm")),
            _length(item.wanted_mm, style),
            _until_wet(item.wet_kg, style),
            "swamps" if item.aft_mm is None else _length(item.aft_mm, style),
            verdict_cell(item.verdict),
        ]
        for item in found.marks
    ]
    spread = "+/- mm" if style.lengths == "in" else "+/-"
    headings = ("mark", "now", "after", spread, "wanted", "wet at", "1 aft", "verdict")
    laid = narrow(headings, rows, "lrrrrrrl", 0)
    notes = (
        "wet at: mass on the transom, beyond the change, that brings it to the water; 1 aft: with "
        f"one person of {show(PERSON_KG, Kind.MASS, style)} stepping aft."
    )
    return [
        title,
        *painted(laid, [item.verdict for item in found.marks], paint),
        *textwrap.wrap(notes, WIDTH),
    ]


def _until_wet(kg: float | None, style: Shown) -> str:
    if kg is None:
        return "dry"
    return "wet" if kg <= 0.0 else brief(show(kg, Kind.MASS, style))


def _state_lines(found: AfloatSummary, style: Shown) -> list[str]:
    """Return trim, list, who is wet first, and what the answer rests on."""
    flotation = found.flotation
    said = []
    stern, bow, trim = flotation.stern_mm, flotation.bow_mm, flotation.trim_change_deg
    if stern is not None and bow is not None and trim is not None:
        said.append(
            f"At the transom {_deeper(stern.value, style)}, at the stem "
            f"{_deeper(bow.value, style)}; trim {show(abs(trim.value), Kind.ANGLE, style)} more by "
            f"the {'stern' if trim.value >= 0.0 else 'bow'}."
        )
    lean = flotation.list_deg.value
    side = "starboard" if lean >= 0.0 else "port"
    said.append(
        "She stays upright." if abs(lean) < 0.05
        else f"She lists {show(abs(lean), Kind.ANGLE, style)} to {side}."
    )  # fmt: skip
    first = found.first_wet
    if first is not None and first.kg is not None:
        more = show(first.kg, Kind.MASS, style)
        name = first.mark.name
        said.append(
            f"First to be wet: {name}, under {more} more at the transom." if first.kg > 0.0
            else f"The {name} will be under water as it is."
        )  # fmt: skip
    if found.pod is not None:
        said.append(say(pod_sentence(found.pod), style))
    said += _basis(flotation, style)
    said += [f"Look at this: {say(doubt, style)}" for doubt in found.doubts]
    return [line for text in said for line in textwrap.wrap(text, WIDTH)]


def _basis(flotation: Flotation, style: Shown) -> list[str]:
    said = []
    if not flotation.is_anchored:
        said.append("Nothing was read afloat: these heights are estimates.")
    if flotation.usual:
        said.append(say(usual_sentence(flotation), style))
    if flotation.uncounted:
        names = ", ".join(flotation.uncounted)
        said.append(f"Not counted, because mass or place is missing: {names}.")
    return said


def _deeper(value: float, style: Shown) -> str:
    word = "deeper" if value >= 0.0 else "higher"
    return f"{number(abs(value), Kind.LENGTH, style)} {word}"


def _move_lines(found: AfloatSummary, style: Shown) -> list[str]:
    """Return what could go forward, and what for."""
    if not found.wanted_mm:
        return []
    by = number(found.wanted_mm, Kind.LENGTH, style)
    why = (
        f"The {found.lifted.name} is short of what is wanted by {by}." if found.lifted
        else f"To undo the {by} she sinks at the transom:"
    )  # fmt: skip
    said = [why]
    said += [
        f"- {move.name}, {show(move.mass_kg, Kind.MASS, style)}, "
        f"{number(move.by_mm, Kind.LENGTH, style)} forward: transom up "
        f"{number(move.gain_mm, Kind.LENGTH, style)}"
        f"{'' if move.is_enough else ', not enough by itself'}."
        for move in found.moves[:4]
    ]
    if not found.moves:
        said.append("Nothing that is listed with its place could go forward.")
    if found.any_kg is not None:
        said.append(
            f"Enough by itself: {show(found.any_kg, Kind.MASS, style)} moved "
            f"{number(FORWARD_MM, Kind.LENGTH, style)} forward."
        )
    elif found.lifted is not None and not any(move.is_enough for move in found.moves):
        said.append(f"No move alone makes it good: raise or close the {found.lifted.name}, or hang "
                    "less aft.")  # fmt: skip
        if found.undo_kg is not None and found.flotation.stern_mm is not None:
            sinks = number(found.flotation.stern_mm.value, Kind.LENGTH, style)
            said.append(
                f"To undo the {sinks} she sinks at the transom: "
                f"{show(found.undo_kg, Kind.MASS, style)} moved "
                f"{number(FORWARD_MM, Kind.LENGTH, style)} forward."
            )
    return [line for text in said for line in textwrap.wrap(text, WIDTH, subsequent_indent="  ")]


def test_lines(found: AfloatSummary, style: Shown) -> list[str]:
    """Return the sheet of a float test: what to put where, and a line to write each reading on."""
    test = found.test
    what = say(test_sentence(found.flotation, test), style)
    rows = [
        [
            cut(name, 30),
            _length(now, style),
            _length(expected, style),
            _length(spread, Shown("mm")),
            _TO_READ,
        ]
        for name, now, expected, spread in test.rows
    ]
    headings = ("mark", "now", "expected", "+/- mm", "read")
    return [*textwrap.wrap(what, WIDTH), *narrow(headings, rows, "lrrrl", 0)]
