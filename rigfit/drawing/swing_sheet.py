"""The sheet of the swing: one of its three views, title block and cautions."""

from __future__ import annotations

from typing import Literal, TypeAlias

from rigfit.drawing.labels import VERDICT_INK, units_note
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Ink, Item, Placement, Point, Scene, Text
from rigfit.drawing.sheet import Box, TitleBlock, centred_corner, drawing_area, frame, paper
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.swing_parts import basis_words
from rigfit.drawing.swing_view import swing_plan_items, swing_side_items, swing_worst_items
from rigfit.errors import OutputError
from rigfit.rigging.envelope import engine_envelope, mounted_option
from rigfit.rigging.report import EngineReport
from rigfit.rigging.swing_summary import AGAIN
from rigfit.units import Shown

View: TypeAlias = Literal["swing", "swing-plan", "swing-worst"]

TITLES: dict[str, str] = {
    "swing": "Swing of the engine, from the side",
    "swing-plan": "Swing of the engine, from above",
    "swing-worst": "Tilt and steering at the worst place",
}

SCALES = (2.0, 4.0, 5.0, 8.0, 10.0, 16.0, 20.0, 25.0, 40.0)
"""Reductions tried; the largest that fits the sheet is used."""

_GAP_MM = 6.0
_CAPTION_MM = 11.0
_HEADINGS = {"swing": "From the side", "swing-plan": "From above, bow to the left, plate level",
             "swing-worst": "From the side, and below it from above"}  # fmt: skip


def swing_sheet(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A3",
    view: View = "swing",
) -> Scene:  # fmt: skip
    """Return one view of the swing on a sheet, laid so that it comes out larger.

    :raises NotMeasuredError: with nothing round the engine, or without the rake.
    :raises OutputError: for an unknown paper, or one too small.
    """
    option = report.mounted or mounted_option(report.case)
    block = _title_block(report, style, words, view)

    def items_at(scale: float) -> tuple[Item, ...]:
        if view == "swing":
            return swing_side_items(report.case, option, scale, style, 0.0)
        if view == "swing-plan":
            return swing_plan_items(report.case, option, scale, style, 0.0, 0.0)
        return swing_worst_items(report.case, option, scale, style)

    for scale in SCALES:
        items = items_at(scale)
        bounds = full_extents(items, scale)
        for landscape in (True, False):
            sheet = paper(paper_name, landscape=landscape)
            box = Box(*drawing_area(sheet, block)).inset(_GAP_MM)
            high = box.height - _CAPTION_MM
            if (bounds[2] - bounds[0] <= box.width * scale
                    and bounds[3] - bounds[1] <= high * scale):  # fmt: skip
                area = (box.left, box.bottom, box.right, box.top - _CAPTION_MM)
                corner = centred_corner(bounds, area, scale)
                return Scene(
                    title=block.title,
                    items=(
                        *items,
                        *_caption(report, box, corner, scale, view),
                        *frame(sheet, scale, corner, block),
                    ),
                    scale=scale,
                    placement=Placement(sheet, corner),
                )
    raise OutputError(
        f"the swing does not go on this sheet even at 1:{SCALES[-1]:g}",
        cure="choose a larger paper",
    )


def _caption(
    report: EngineReport, box: Box, corner: Point, scale: float, view: View
) -> list[Item]:  # fmt: skip
    option = report.mounted or mounted_option(report.case)
    row = f"row {option.row}" if option.row else "clamped"
    x, y = corner[0] + box.left * scale, corner[1] + (box.top - 3.5) * scale
    heading = f"{_HEADINGS[view]} 1:{scale:g}, {row}"
    items: list[Item] = [
        Text((x, y), heading, "NOTES", height_mm=3.5, bold=True, group="sheet"),
    ]
    if view != "swing-worst":
        items.append(
            Text((x, y - 5.0 * scale), basis_words(engine_envelope(report.case)), "NOTES",
                 height_mm=2.2, ink=Ink.MUTED, group="sheet")
        )  # fmt: skip
    return items


def _title_block(
    report: EngineReport, style: Shown, words: SheetWords, view: View
) -> TitleBlock:  # fmt: skip
    candidate = report.case.candidate
    name = f"{candidate.id}, {candidate.name}" if candidate.name else candidate.id
    return TitleBlock(
        title=TITLES[view],
        boat=report.case.job.boat.name or "unnamed boat",
        engine=f"{name} ({report.case.engine.name})",
        date=words.date,
        units=units_note(style),
        version=words.version,
        status=f"{report.verdict.value.upper()}: {words.status}",
        status_ink=VERDICT_INK[report.verdict],
        cautions=(AGAIN, *words.cautions),
    )
