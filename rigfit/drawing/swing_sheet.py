"""The sheet of the swing: one of its three views, title block and cautions."""

from __future__ import annotations

from typing import Literal, TypeAlias

from rigfit.drawing.fonts import wrapped
from rigfit.drawing.labels import short_name
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import Ink, Item, Placement, Point, Scene, Text
from rigfit.drawing.sheet import Box, centred_corner, drawing_area, frame, paper
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.swing_parts import basis_words
from rigfit.drawing.swing_view import swing_plan_items, swing_side_items, swing_worst_items
from rigfit.errors import OutputError
from rigfit.rigging.case import Case
from rigfit.rigging.checks_swing import place_verdict, worst_place
from rigfit.rigging.envelope import engine_envelope, mounted_option
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.report import EngineReport
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.swing import tilt_swing
from rigfit.rigging.swing_summary import AGAIN
from rigfit.units import Shown, compact

View: TypeAlias = Literal["swing", "swing-plan", "swing-worst"]

TITLES: dict[str, str] = {
    "swing": "Swing of the engine, from the side",
    "swing-plan": "Swing of the engine, from above",
    "swing-worst": "Tilt and steering at the worst place",
}

SCALES = (2.0, 4.0, 5.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 40.0)
"""Reductions tried; the largest that fits the sheet is used."""

_GAP_MM = 6.0
_HEADING_MM, _LINE_MM, _WORDS_MM = 7.0, 4.0, 2.2
_HEADINGS = {
    "swing": "From the side",
    "swing-plan": "From above, bow to the left, starboard up, plate level",
    "swing-worst": "From the side, and below it from above",
}


def swing_sheet(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A3",
    view: View = "swing",
) -> Scene:  # fmt: skip
    """Return one view of the swing on a sheet, laid so that it comes out larger.

    :raises NotMeasuredError: with nothing round the engine, or without the rake.
    :raises OutputError: for an unknown paper, or one too small.
    """
    option = report.mounted or mounted_option(report.case)
    block = title_block(report.case, style, words, TITLES[view], report.verdict, AGAIN)
    said = _caption_lines(report, style, view)

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
            lines = [line for text in said for line in wrapped(text, box.width, _WORDS_MM)]
            above = _HEADING_MM + _LINE_MM * len(lines)
            high = box.height - above
            if (bounds[2] - bounds[0] <= box.width * scale
                    and bounds[3] - bounds[1] <= high * scale):  # fmt: skip
                area = (box.left, box.bottom, box.right, box.top - above)
                corner = centred_corner(bounds, area, scale)
                return Scene(
                    title=block.title,
                    items=(
                        *items,
                        *_caption(report, lines, box, corner, scale, view),
                        *frame(sheet, scale, corner, block),
                    ),
                    scale=scale,
                    placement=Placement(sheet, corner),
                )
    raise OutputError(
        f"the swing does not go on this sheet even at 1:{SCALES[-1]:g}",
        cure="choose a larger paper",
    )


def _caption_lines(report: EngineReport, style: Shown, view: View) -> list[str]:
    """Return what the drawing rests on, what was taken for granted, and the rows beside."""
    assumed = [solid.assumed for solid in surroundings(report.case).solids if solid.assumed]
    basis = "" if view == "swing-worst" else basis_words(engine_envelope(report.case))
    rows = "" if view == "swing-plan" else rows_words(report, style, both=view == "swing-worst")
    return [line for line in (basis, " ".join(dict.fromkeys(assumed)), rows) if line]


def _caption(
    report: EngineReport, lines: list[str], box: Box, corner: Point, scale: float, view: View
) -> list[Item]:  # fmt: skip
    option = report.mounted or mounted_option(report.case)
    row = f"row {option.row}" if option.row else "clamped"
    x, y = corner[0] + box.left * scale, corner[1] + (box.top - 3.5) * scale
    return [
        Text((x, y), f"{_HEADINGS[view]} 1:{scale:g}, {row}", "NOTES", height_mm=3.5, bold=True,
             group="sheet"),
        *(
            Text((x, y - (5.0 + _LINE_MM * number) * scale), line, "NOTES", height_mm=_WORDS_MM,
                 ink=Ink.MUTED, group="sheet")
            for number, line in enumerate(lines)
        ),
    ]  # fmt: skip


def rows_words(report: EngineReport, style: Shown, *, both: bool = False) -> str:
    """Return what is clear one row up and one row down, or "" without rows to speak of.

    :param both: tilt and steering together instead of the tilt alone.
    """
    mounted = report.mounted or mounted_option(report.case)
    said = []
    for step, name in ((1, "one row up"), (-1, "one row down")):
        wanted = (mounted.row + step, mounted.setting_mm)
        for option in report.options if mounted.row else ():
            if (option.row, option.setting_mm) == wanted and option.is_possible:
                words = _at_row(report.case, option, style, both=both)
                said += [f"{name} {words}"] if words else []
    how = "Tilt and steering together" if both else "Tilting"
    return f"{how}: {', '.join(said)}." if said else ""


def _at_row(case: Case, option: HeightOption, style: Shown, *, both: bool) -> str:
    if both:
        place = worst_place(case, option)
        if place is None:
            return ""
        spread = place_verdict(case, option, place)[1]
        name = short_name(place.solid.name)
        return f"{compact(place.clear_mm, style, tolerance_mm=spread)} to {name}"
    gap = tilt_swing(case, option).worst
    if gap is None:
        return ""
    name = short_name(gap.solid.name)
    return f"{compact(gap.clear_mm, style, tolerance_mm=gap.tolerance_mm)} to {name}"
