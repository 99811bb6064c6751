"""The sheet of the transom's face: the view, the table of holes, title block and cautions."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from rigfit.drawing.face_plan import FacePlan, face_plan, marks_of
from rigfit.drawing.face_view import (
    BIG_WORDS,
    ON_CENTRE_MM,
    RELATION_INKS,
    View,
    face_items,
    measured_in_view,
    place_box,
)
from rigfit.drawing.fonts import text_width_mm, wrapped
from rigfit.drawing.labels import exact_words
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import Ink, Item, Path, Pen, Placement, Point, Scene, Text
from rigfit.drawing.sheet import Box, TitleBlock, centred_corner, drawing_area, frame, paper
from rigfit.drawing.strokes import full_extents
from rigfit.errors import OutputError
from rigfit.rigging.case import Case
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown, inch_fraction

SCALES = (2.0, 2.5, 4.0, 5.0, 8.0, 10.0, 16.0, 20.0, 25.0, 40.0)
"""Reductions tried for the view; the largest that fits its part of the sheet is used."""

TITLES: dict[str, str] = {
    "outside": "Transom face, seen from astern (outside)",
    "inside": "Transom face, seen from inside, mirrored",
}

_GAP_MM = 8.0
_CAPTION_MM = 9.0
_BESIDE_FROM_MM = 400.0
_LOWER_SHARE = 0.44
_TABLE_SHARE = 0.5
_LEAST_PANEL_MM = 100.0
_HEIGHTS = (2.2, 2.0, 1.8)
_COLUMN_GAP_MM = 2.4
_PITCH = 1.75
_LONGEST_NAME = 28
_RULE = Pen(0.18, ink=Ink.MUTED)
_FACE_CAUTION = (
    "Distances are taped along the outer face, taken as flat. Across is from the centreline, below "
    "is from the transom top."
)


def face_sheet(
    source: EngineReport | Case,
    style: Shown,
    words: SheetWords,
    paper_name: str = "A3",
    side: View = "outside",
    relations: Mapping[str, str] | None = None,
) -> Scene:
    """Return the transom's face on a sheet: landscape from A3 up, portrait on smaller paper.

    :param source: a report, whose verdict is printed before the status, or a case alone.
    :param side: "outside" as seen from astern, or "inside", its mirror image.
    :param relations: as ``face_plan`` takes them.
    :raises OutputError: for an unknown paper or side, or a paper too small for it all.
    """
    if side not in TITLES:
        raise OutputError(f"there is no view from {side!r}", allowed="known: outside, inside")
    case = source.case if isinstance(source, EngineReport) else source
    plan = face_plan(case, relations)
    wide_sheet = paper(paper_name, landscape=True)
    beside = wide_sheet.width_mm >= _BESIDE_FROM_MM
    sheet = wide_sheet if beside else paper(paper_name, landscape=False)
    block = _title_block(source, case, style, words, side)
    box = Box(*drawing_area(sheet, block)).inset(_GAP_MM)
    view, panel, (scale, items, bounds) = _laid_out(plan, style, side, box, beside=beside)
    area = (view.left, view.bottom, view.right, view.top - _CAPTION_MM)
    corner = centred_corner(bounds, area, scale)
    pencil = _Pencil(corner, scale)
    table = _table_items(plan, style, panel, pencil)
    return Scene(
        title=block.title,
        items=(
            *items,
            *_caption(plan, view, pencil, side),
            *table,
            *frame(sheet, scale, corner, block),
        ),
        scale=scale,
        placement=Placement(sheet, corner),
    )


@dataclass(frozen=True, slots=True)
class _Pencil:
    """Turns paper mm on the sheet into scene items."""

    corner: Point
    scale: float

    def text(self, x: float, y: float, words: str, **style: object) -> Text:
        at = (self.corner[0] + x * self.scale, self.corner[1] + y * self.scale)
        return Text(at, words, "NOTES", group="sheet", **style)  # type: ignore[arg-type]

    def rule(self, x0: float, y: float, x1: float) -> Path:
        ends = tuple(
            (self.corner[0] + x * self.scale, self.corner[1] + y * self.scale) for x in (x0, x1)
        )
        return Path(ends, "SHEET", pen=_RULE, group="sheet")


_Fitted: TypeAlias = tuple[float, tuple[Item, ...], tuple[float, float, float, float]]


def _laid_out(
    plan: FacePlan, style: Shown, side: View, box: Box, *, beside: bool
) -> tuple[Box, Box, _Fitted]:
    """Return where view and table go, and the view at its largest scale.

    Beside each other, the table may shrink to its smaller letters where the view gains a scale.
    """
    if not beside:
        # Only how much paper the table takes is asked here, so any corner and scale will do.
        _, low = _set_table(plan, style, box, _Pencil((0.0, 0.0), 1.0), _HEIGHTS[0])
        needed = box.top - low + _GAP_MM / 2.0
        level = box.bottom + min(needed, _LOWER_SHARE * box.height) + _GAP_MM / 2.0
        view = replace(box, bottom=level + _GAP_MM / 2.0)
        return view, replace(box, top=level - _GAP_MM / 2.0), _fitted(plan, style, side, view)
    best: tuple[Box, Box, _Fitted] | None = None
    for height in _HEIGHTS:
        wide = max(_LEAST_PANEL_MM, sum(_widths(plan, style, height)) + 2.0)
        split = box.right - min(wide, _TABLE_SHARE * box.width)
        view = replace(box, right=split - _GAP_MM)
        found = _fitted(plan, style, side, view)
        if best is None or found[0] < best[2][0]:
            best = view, replace(box, left=split), found
    assert best is not None  # noqa: S101 - there is at least one height
    return best


def _title_block(
    source: EngineReport | Case, case: Case, style: Shown, words: SheetWords, side: View
) -> TitleBlock:
    verdict = source.verdict if isinstance(source, EngineReport) else None
    block = title_block(case, style, words, TITLES[side], verdict, _FACE_CAUTION)
    both = "Millimetres, inches in brackets"
    return replace(block, units=block.units if style.lengths == "in" else both)


def _fitted(plan: FacePlan, style: Shown, side: View, view: Box) -> _Fitted:
    """Return the largest scale at which the view fits, its items and their bounds."""
    for scale in SCALES:
        items = face_items(plan, scale, style, side)
        box = full_extents(items, scale)
        high = view.height - _CAPTION_MM
        if box[2] - box[0] <= view.width * scale and box[3] - box[1] <= high * scale:
            return scale, items, box
    raise OutputError(
        f"the transom does not go on this sheet even at 1:{SCALES[-1]:g}",
        cure="choose a larger paper",
    )


def _caption(plan: FacePlan, view: Box, pencil: _Pencil, side: View) -> list[Item]:
    """Return the scale of the view, and what had to be drawn at a usual size."""
    said = "outside" if side == "outside" else "inside, mirrored"
    heading = f"Face 1:{pencil.scale:g}, {said}"
    items: list[Item] = [pencil.text(view.left, view.top - 3.5, heading, height_mm=3.5, bold=True)]
    if plan.guessed:
        note = "Dotted, not measured, drawn at a usual size: " + ", ".join(plan.guessed)
        items.append(pencil.text(view.left, view.top - 8.5, note, height_mm=2.2, ink=Ink.TIGHT))
    return items


# ------------------------------------------------------------------------- the table


def table_rows(plan: FacePlan, style: Shown) -> tuple[tuple[str, ...], ...]:
    """Return the table of holes, its headings first: mark, hole, distances, diameter, diagonals.

    The last columns are the distances to the chine corners, or to two fixed points, where those
    are known, and what the hole is to the old ones, where that was looked at.
    """
    headings = ["", "hole", "across", "below top", "dia"]
    headings += [_brief(f"to {name}") for name, _ in plan.targets]
    headings += ["old holes"] if plan.relations else []
    rows = [tuple(headings)]
    for mark, hole in marks_of(plan):
        row = [mark, _brief(hole.name), _across_words(hole, style), _both(hole.below_top_mm, style)]
        row.append(_size(hole))
        row += [_both(math.dist((hole.across_mm, -hole.below_top_mm), place), style)
                for _, place in plan.targets]  # fmt: skip
        row += [plan.relations.get(hole.name, "")] if plan.relations else []
        rows.append(tuple(row))
    return tuple(rows)


def _both(value_mm: float, style: Shown) -> str:
    """Return a distance in both units, without their names: they stand above the table."""
    fine = exact_words(value_mm, Shown())
    inches = inch_fraction(value_mm)
    return f"{inches} ({fine})" if style.lengths == "in" else f"{fine} ({inches})"


def _across_words(hole: Feature, style: Shown) -> str:
    if abs(hole.across_mm) < ON_CENTRE_MM:
        return _both(0.0, style)
    side = "port" if hole.across_mm < 0.0 else "stbd"
    return f"{_both(abs(hole.across_mm), style)} {side}"


def _size(hole: Feature) -> str:
    if not hole.slot_mm:
        return f"{round(hole.diameter_mm, 1) + 0.0:g}"
    return f"{round(hole.diameter_mm, 1) + 0.0:g} x {round(hole.slot_mm, 1) + 0.0:g}"


def _table_items(plan: FacePlan, style: Shown, panel: Box, pencil: _Pencil) -> list[Item]:
    """Return the table, and below it places inside, legend and notes.

    :raises OutputError: when it does not go on the sheet even in its smallest letters.
    """
    for height in _HEIGHTS:
        items, low = _set_table(plan, style, panel, pencil, height)
        wide = max(
            (item.at[0] - pencil.corner[0]) / pencil.scale
            + text_width_mm(item.words, item.height_mm, bold=item.bold)
            for item in items
            if isinstance(item, Text)
        )
        if wide <= panel.right + 0.5 and low >= panel.bottom - 0.5:
            return items
    return _cut_short(plan, style, panel, pencil)


def _set_table(
    plan: FacePlan,
    style: Shown,
    panel: Box,
    pencil: _Pencil,
    height: float,
    most: int | None = None,
) -> tuple[list[Item], float]:
    """Return the items of the table and the lowest place they use, paper mm."""
    rows = table_rows(plan, style)
    left_out = 0 if most is None else max(0, len(rows) - 1 - most)
    rows = rows if most is None else rows[: most + 1]
    widths = _widths(plan, style, height)
    unit = "in (mm)" if style.lengths == "in" else "mm (in)"
    y = panel.top - 3.5
    title = f"Holes, {unit}; dia in mm" if len(rows) > 1 else "No holes yet"
    items: list[Item] = [pencil.text(panel.left, y, title, height_mm=3.0, bold=True)]
    y -= 3.0 + height * _PITCH
    for line, row in enumerate(rows if len(rows) > 1 else ()):
        x = panel.left
        for column, cell in enumerate(row):
            if cell:
                ink = RELATION_INKS.get(cell, Ink.LINE) if column == len(row) - 1 else Ink.LINE
                items.append(pencil.text(x, y, cell, height_mm=height, bold=line == 0, ink=ink))
            x += widths[column]
        if line == 0:
            items.append(pencil.rule(panel.left, y - 0.9, x - _COLUMN_GAP_MM))
            y -= 0.8
        y -= height * _PITCH
    if left_out:
        note = f"{left_out} more do not go on this paper: choose a larger one."
        items.append(pencil.text(panel.left, y, note, height_mm=height, bold=True, ink=Ink.TIGHT))
        y -= height * _PITCH
    y -= 2.0
    for words, ink in _remarks(plan, style):
        for part in wrapped(words, panel.width, height):
            items.append(pencil.text(panel.left, y, part, height_mm=height, ink=ink))
            y -= height * _PITCH
    return items, y + height


def _cut_short(plan: FacePlan, style: Shown, panel: Box, pencil: _Pencil) -> list[Item]:
    """Return the table with as many rows as go on the paper; what is left out is said."""
    for most in range(len(marks_of(plan)) - 1, 0, -1):
        items, low = _set_table(plan, style, panel, pencil, _HEIGHTS[-1], most)
        if low >= panel.bottom - 0.5:
            return items
    raise OutputError("the table of holes does not go on this sheet", cure="choose a larger paper")


def _brief(name: str) -> str:
    """Return a name short enough for a column."""
    name = name.replace("starboard", "stbd")
    return name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1].rstrip() + "…"


def _widths(plan: FacePlan, style: Shown, height: float) -> list[float]:
    """Return how wide each column is with the gap after it, paper mm."""
    rows = table_rows(plan, style)
    return [
        _COLUMN_GAP_MM
        + max(text_width_mm(row[at], height, bold=line == 0) for line, row in enumerate(rows))
        for at in range(len(rows[0]))
    ]


def _remarks(plan: FacePlan, style: Shown) -> list[tuple[str, Ink]]:
    """Return what stands below the table: places inside, legend, why there are no holes."""
    said: list[tuple[str, Ink]] = []
    for number, place in enumerate(plan.no_go, start=1):
        left, bottom, right, top = place_box(place)
        name = place.name or place.kind
        said.append((
            f"G{number} {name}, inside: from {_signed(left, style)} to {_signed(right, style)}, "
            f"{_both(-top, style)} to {_both(-bottom, style)} below the top", Ink.LINE,
        ))  # fmt: skip
    legend = ["N new hole", "X old hole, dashed"]
    legend += ["P opening"] if plan.openings else []
    legend += ["G no bolt can sit there, inside, hatched"] if plan.no_go else []
    backing = [*(["plates"] if plan.plates else []), *(["washers"] if plan.washer_mm else [])]
    legend += [f"blue: {' and '.join(backing)} inside"] if backing else []
    said.append(("; ".join(legend) + ".", Ink.MUTED))
    if len(measured_in_view(plan)) < len(marks_of(plan)):
        said.append(("Distances of old holes and openings stand in this table only.", Ink.MUTED))
    if plan.why_none:
        said.append((plan.why_none, Ink.TIGHT))
    return said + [(note, Ink.TIGHT) for note in plan.notes]


def _signed(across_mm: float, style: Shown) -> str:
    if abs(across_mm) < ON_CENTRE_MM:
        return "the centreline"
    return f"{_both(abs(across_mm), style)} {'port' if across_mm < 0.0 else 'stbd'}"


__all__ = ["BIG_WORDS", "SCALES", "TITLES", "face_sheet", "table_rows"]
