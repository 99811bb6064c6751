"""The sheets of a boat afloat: before and after with her margins, or the curve alone.

Each is the scene of ``afloat_view`` on a sheet with title block and cautions.
"""

from __future__ import annotations

from dataclasses import replace

from rigfit.drawing.afloat_view import NARROW, afloat_scene, margin_curve_scene
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import Paper, Placement, Scene
from rigfit.drawing.sheet import TitleBlock, centred_corner, drawing_area, frame, paper
from rigfit.drawing.strokes import full_extents
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.afloat import Flotation, Trouble, flotation_of
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown

TITLES = {False: "Afloat, before and after", True: "Heights above the water under added mass"}
NO_SCALE = "none"
_GAP_MM = 4.0
_CAUTION = (
    "Reckoned for calm water and a hull at rest: waves, way and people moving about take more. "
    "Float her before anything is cut or bought."
)


def afloat_sheet(
    report: EngineReport,
    style: Shown,
    words: SheetWords,
    paper_name: str = "A3",
    *,
    curve_only: bool = False,
) -> Scene:
    """Return how she floats on a sheet: lying where that has room for it, else standing.

    :raises NotMeasuredError: when what it takes is not entered.
    :raises OutputError: for an unknown paper, or one too small.
    """
    flotation = drawn_flotation(report)
    block = title_block(report.case, style, words, TITLES[curve_only], report.verdict, _CAUTION)
    if curve_only:
        sheet = paper(paper_name, landscape=True)
        return on_paper(margin_curve_scene(flotation, style), sheet, replace(block, scale=NO_SCALE))
    boat = report.case.job.boat.name
    try:
        sheet = paper(paper_name, landscape=True)
        return on_paper(afloat_scene(flotation, style, boat), sheet, block)
    except OutputError:
        sheet = paper(paper_name, landscape=False)
        return on_paper(afloat_scene(flotation, style, boat, NARROW), sheet, block)


def on_paper(scene: Scene, sheet: Paper, block: TitleBlock) -> Scene:
    """Return a drawing in the middle of a sheet with its frame; raises ``OutputError``."""
    left, bottom, right, top = drawing_area(sheet, block)
    scale = scene.scale
    bounds = full_extents(scene.items, scale)
    wide, high = right - left - 2.0 * _GAP_MM, top - bottom - 2.0 * _GAP_MM
    if bounds[2] - bounds[0] > wide * scale or bounds[3] - bounds[1] > high * scale:
        raise OutputError(
            f"this drawing does not go on {sheet.name}",
            cure="choose A3 or Tabloid",
            where="paper",
        )
    corner = centred_corner(bounds, (left, bottom, right, top), scale)
    return Scene(
        title=block.title,
        items=(*scene.items, *frame(sheet, scale, corner, block)),
        scale=scale,
        placement=Placement(sheet, corner),
    )


def drawn_flotation(report: EngineReport) -> Flotation:
    """Return how she floats; raises ``NotMeasuredError`` naming what stands in the way."""
    found = flotation_of(report.case)
    if isinstance(found, Flotation):
        return found
    if isinstance(found, Trouble):
        raise NotMeasuredError(
            _plain(found.sentence.text.format_map(found.sentence.amounts)),
            cure=_plain(found.settle.text.format_map(found.settle.amounts)),
            where=", ".join(found.needs),
        )
    raise NotMeasuredError(
        "nothing is entered about how she floats",
        cure="fill in [hull] and [afloat]: beam and depths ashore, heights above the water afloat",
        where="afloat",
    )


def _plain(sentence: str) -> str:
    """Return a sentence as part of a longer one."""
    text = sentence.rstrip(".")
    return text[:1].lower() + text[1:]
