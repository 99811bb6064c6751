"""The profile sheet: side view, height ladder, title block and cautions on one sheet of paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rigfit.drawing.height_ladder import Panel, ladder_items, range_height, range_items
from rigfit.drawing.labels import VERDICT_INK, units_note
from rigfit.drawing.scene import Ink, Item, Path, Pen, Placement, Point, Scene, Text
from rigfit.drawing.sheet import Box, TitleBlock, centred_corner, drawing_area, frame, paper
from rigfit.drawing.side_view import side_items, sketch_of
from rigfit.drawing.strokes import full_extents
from rigfit.errors import OutputError
from rigfit.rigging.case import Case
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown

SCALES = (2.0, 4.0, 5.0, 8.0, 10.0, 16.0, 20.0)
"""Reductions tried for the profile; the largest that fits its part of the sheet is used."""

_LADDER_MM = 112.0
_GAP_MM = 8.0
_CAPTION_MM = 10.0
_BESIDE_FROM_MM = 400.0
_LOWER_SHARE = 0.36
_LADDER_SHARE = 0.54


@dataclass(frozen=True, slots=True)
class SheetWords:
    """The words of a sheet that are not drawn from the report itself.

    :param status: the overall verdict as a sentence.
    :param cautions: sentences of caution.
    :param version: of rigfit.
    :param date: as printed, or "".
    """

    status: str
    cautions: Sequence[str]
    version: str
    date: str = ""


def profile_sheet(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A3"
) -> Scene:
    """Return the side profile on a sheet: landscape from A3 up, portrait on smaller paper.

    :raises OutputError: for an unknown paper, or one too small for the title block.
    """
    wide_sheet = paper(paper_name, landscape=True)
    beside = wide_sheet.width_mm >= _BESIDE_FROM_MM
    sheet = wide_sheet if beside else paper(paper_name, landscape=False)
    block = title_block(report.case, style, words, "Side profile and plate height", report.verdict)
    box = Box(*drawing_area(sheet, block)).inset(_GAP_MM)
    view, ladder, table = _parts(report, box, beside=beside)
    scale, items, bounds = _fitted(report, style, view.width, view.height - _CAPTION_MM)
    area = (view.left, view.bottom, view.right, view.top - _CAPTION_MM)
    corner = centred_corner(bounds, area, scale)
    return Scene(
        title=block.title,
        items=(
            *items,
            *_caption(report, view, corner, scale),
            _rule(box, ladder, corner, scale, beside=beside),
            *ladder_items(report, _panel(ladder, corner, scale), style),
            *range_items(report, _panel(table, corner, scale), style),
            *frame(sheet, scale, corner, block),
        ),
        scale=scale,
        placement=Placement(sheet, corner),
    )


def _panel(box: Box, corner: Point, scale: float) -> Panel:
    return Panel(box.left, box.bottom, box.width, box.height, corner, scale)


def _parts(report: EngineReport, box: Box, *, beside: bool) -> tuple[Box, Box, Box]:
    """Return where profile, ladder and table of legs go on the sheet."""
    table = range_height(report)
    if beside:
        split = box.right - _LADDER_MM
        view = replace(box, right=split - 2.0 * _GAP_MM)
        side = replace(box, left=split)
        gap = _GAP_MM if table else 0.0
        return (
            view,
            replace(side, bottom=box.bottom + table + gap),
            replace(side, top=box.bottom + table),
        )
    level = box.bottom + _LOWER_SHARE * box.height
    middle = box.left + _LADDER_SHARE * box.width
    view = replace(box, bottom=level + _GAP_MM)
    ladder = Box(box.left, box.bottom, middle - _GAP_MM / 2.0, level)
    return view, ladder, Box(middle + _GAP_MM / 2.0, level - table, box.right, level)


def _rule(box: Box, ladder: Box, corner: Point, scale: float, *, beside: bool) -> Path:
    """Return the thin line between the profile and the rest."""
    if beside:
        x = ladder.left - _GAP_MM
        ends = ((x, box.bottom - _GAP_MM), (x, box.top + _GAP_MM))
    else:
        y = ladder.top + _GAP_MM / 2.0
        ends = ((box.left - _GAP_MM, y), (box.right + _GAP_MM, y))
    points = tuple((corner[0] + px * scale, corner[1] + py * scale) for px, py in ends)
    return Path(points, "SHEET", pen=Pen(0.18, ink=Ink.MUTED), group="sheet")


def title_block(
    case: Case, style: Shown, words: SheetWords, title: str, verdict: Verdict | None,
    *own_cautions: str,
) -> TitleBlock:  # fmt: skip
    """Return the title block of a sheet about one engine.

    :param title: name of the drawing.
    :param verdict: before the status, in its ink; None for the status alone.
    :param own_cautions: what this sheet says before the cautions of every sheet.
    """
    candidate = case.candidate
    name = f"{candidate.id}, {candidate.name}" if candidate.name else candidate.id
    return TitleBlock(
        title=title,
        boat=case.job.boat.name or "unnamed boat",
        engine=f"{name} ({case.engine.name})",
        date=words.date,
        units=units_note(style),
        version=words.version,
        status=f"{verdict.value.upper()}: {words.status}" if verdict else words.status,
        status_ink=VERDICT_INK[verdict] if verdict else Ink.LINE,
        cautions=(*own_cautions, *words.cautions),
    )


def _fitted(
    report: EngineReport, style: Shown, wide: float, high: float
) -> tuple[float, tuple[Item, ...], tuple[float, float, float, float]]:
    """Return the largest scale at which the profile fits, its items and their bounds."""
    for scale in SCALES:
        items = side_items(report, scale, style)
        box = full_extents(items, scale)
        if box[2] - box[0] <= wide * scale and box[3] - box[1] <= high * scale:
            return scale, items, box
    raise OutputError(
        "the profile does not go on this sheet even at 1:20", cure="choose a larger paper"
    )


def _caption(report: EngineReport, view: Box, corner: Point, scale: float) -> list[Item]:
    """Return the scale of the view, and what had to be drawn at a usual size."""
    x, y = corner[0] + view.left * scale, corner[1] + (view.top - 4.0) * scale
    items: list[Item] = [
        Text((x, y), f"Profile 1:{scale:g}", "NOTES", height_mm=3.5, bold=True, group="sheet")
    ]
    guessed = sketch_of(report).guessed
    if guessed:
        note = "Not measured, drawn at a usual size: " + ", ".join(guessed)
        items.append(
            Text((x, y - 5.5 * scale), note, "NOTES", height_mm=2.5, ink=Ink.TIGHT, group="sheet")
        )
    return items
