"""The profile sheet: side view, height ladder, title block and cautions on one sheet of paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigfit.drawing.height_ladder import Panel, ladder_items
from rigfit.drawing.labels import VERDICT_INK, units_note
from rigfit.drawing.scene import Ink, Item, Pen, Placement, Scene, Text
from rigfit.drawing.sheet import TitleBlock, drawing_area, frame, paper
from rigfit.drawing.side_view import side_items, sketch_of
from rigfit.errors import OutputError
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown

SCALES = (2.0, 4.0, 5.0, 8.0, 10.0, 16.0, 20.0)
"""Reductions tried for the profile; the largest that fits its part of the sheet is used."""

_LADDER_MM = 112.0
_GAP_MM = 8.0


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
    """Return the side profile on a landscape sheet.

    :raises OutputError: for an unknown paper, or one too small for the title block.
    """
    sheet = paper(paper_name, landscape=True)
    block = _title_block(report, style, words)
    left, bottom, right, top = drawing_area(sheet, block)
    wide = right - left - _LADDER_MM - 3.0 * _GAP_MM
    high = top - bottom - 2.0 * _GAP_MM
    scale, items, box = _fitted(report, style, wide, high)
    slack = ((wide * scale - (box[2] - box[0])) / 2.0, (high * scale - (box[3] - box[1])) / 2.0)
    corner = (
        box[0] - slack[0] - (left + _GAP_MM) * scale,
        box[1] - slack[1] - (bottom + _GAP_MM) * scale,
    )
    panel = Panel(right - _GAP_MM - _LADDER_MM, bottom + _GAP_MM, _LADDER_MM, high, corner, scale)
    return Scene(
        title=block.title,
        items=(
            *items,
            *_caption(report, panel, left, top),
            *ladder_items(report, panel, style),
            *frame(sheet, scale, corner, block),
        ),
        scale=scale,
        placement=Placement(sheet, corner),
    )


def _title_block(report: EngineReport, style: Shown, words: SheetWords) -> TitleBlock:
    candidate = report.case.candidate
    name = f"{candidate.id}, {candidate.name}" if candidate.name else candidate.id
    return TitleBlock(
        title="Side profile and plate height",
        boat=report.case.job.boat.name or "unnamed boat",
        engine=f"{name} ({report.case.engine.name})",
        date=words.date,
        units=units_note(style),
        version=words.version,
        status=f"{report.verdict.value.upper()}: {words.status}",
        status_ink=VERDICT_INK[report.verdict],
        cautions=tuple(words.cautions),
    )


def _fitted(
    report: EngineReport, style: Shown, wide: float, high: float
) -> tuple[float, tuple[Item, ...], tuple[float, float, float, float]]:
    """Return the largest scale at which the profile fits, its items and their bounds."""
    for scale in SCALES:
        items = side_items(report, scale, style)
        box = full_bounds(items, scale)
        if box[2] - box[0] <= wide * scale and box[3] - box[1] <= high * scale:
            return scale, items, box
    raise OutputError(
        "the profile does not go on this sheet even at 1:20", cure="choose a larger paper"
    )


def full_bounds(items: Sequence[Item], scale: float) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of geometry and words together, model mm."""
    from rigfit.drawing.fonts import text_box

    left, bottom, right, top = Scene("", tuple(items), scale).bounds()
    for item in items:
        if isinstance(item, Text):
            xs, ys = zip(*text_box(item, scale), strict=True)
            left, right = min(left, *xs), max(right, *xs)
            bottom, top = min(bottom, *ys), max(top, *ys)
    return left, bottom, right, top


def _caption(report: EngineReport, panel: Panel, left: float, top: float) -> list[Item]:
    """Return the scale of the view, what had to be guessed, and the rule beside the ladder."""
    scale, corner = panel.scale, panel.corner
    x = corner[0] + (left + 4.0) * scale
    y = corner[1] + (top - _GAP_MM - 4.0) * scale
    items: list[Item] = [
        Text((x, y), f"Profile 1:{scale:g}", "NOTES", height_mm=3.5, bold=True, group="sheet"),
        panel.line(-_GAP_MM, -_GAP_MM, -_GAP_MM, panel.height + _GAP_MM, Pen(0.18, ink=Ink.MUTED)),
    ]
    guessed = sketch_of(report).guessed
    if guessed:
        note = "Not measured, drawn at a usual size: " + ", ".join(guessed)
        items.append(
            Text((x, y - 5.5 * scale), note, "NOTES", height_mm=2.5, ink=Ink.TIGHT, group="sheet")
        )
    return items
