"""The sheet of a boat under way: ``underway_view`` on paper, with title block and cautions."""

from __future__ import annotations

from dataclasses import replace

from rigfit.drawing.afloat_sheet import on_paper
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import Scene
from rigfit.drawing.sheet import drawing_area, paper
from rigfit.drawing.underway_view import Room, underway_scene
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.report import EngineReport
from rigfit.rigging.underway import Lacking, UnderwayResult, underway_of
from rigfit.units import Shown

TITLE = "Under way, water and plate"
_GAP_MM = 5.0
_CAUTION = (
    "An estimate from published formulas for calm water; the sea trial decides. Life jackets on, "
    "cut-off cord clipped, gentle turns first, nobody over the stern: use a camera."
)


def underway_sheet(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A3"
) -> Scene:
    """Return how she runs on a sheet: lying where that has room for it, else standing.

    :raises NotMeasuredError: when what it takes is not entered.
    :raises OutputError: for an unknown paper, or one too small.
    """
    found = drawn_underway(report)
    block = title_block(report.case, style, words, TITLE, report.verdict, _CAUTION)
    for landscape in (True, False):
        sheet = paper(paper_name, landscape=landscape)
        left, bottom, right, top = drawing_area(sheet, block)
        room = Room(right - left - 2.0 * _GAP_MM, top - bottom - 2.0 * _GAP_MM)
        scene = underway_scene(report, found, style, room)
        if scene is None:
            continue
        try:
            return on_paper(scene, sheet, replace(block, scale=""))
        except OutputError:
            if not landscape:
                raise
    raise OutputError(
        f"this drawing does not go on {paper_name}", cure="choose A3 or Tabloid", where="paper"
    )


def drawn_underway(report: EngineReport) -> UnderwayResult:
    """Return how she runs; raises ``NotMeasuredError`` naming what stands in the way."""
    found = underway_of(report.case)
    if isinstance(found, UnderwayResult):
        return found
    if isinstance(found, Lacking):
        raise NotMeasuredError(
            f"how she planes cannot be drawn without {' and '.join(found.words)}",
            cure="measure or enter it",
            where=", ".join(found.fields),
        )
    raise NotMeasuredError(
        "nothing is entered about the boat under way",
        cure="fill in [underway]: mass and centre of gravity, or her type of hull",
        where="underway",
    )
