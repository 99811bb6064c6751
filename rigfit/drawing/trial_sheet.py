"""The curves of the sea trials on a sheet with title block and cautions."""

from __future__ import annotations

from dataclasses import replace

from rigfit.drawing.afloat_sheet import NO_SCALE
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import Placement, Scene
from rigfit.drawing.sheet import TitleBlock, drawing_area, frame, paper
from rigfit.drawing.trial_view import trial_scene
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import log_of_case
from rigfit.units import Shown

TRIAL_CAUTIONS = (
    "Under way: cut-off cord clipped on, life jackets worn, a look-out, gentle turns first, never "
    "a hard turn trimmed in, nobody leans over the stern.",
    "Full throttle alone judges nothing: look at mid-range and turns. The engine maker's "
    "instructions win.",
)
"""What the sheets of the sea trial say above all else."""

_GAP_MM = 3.0


def trial_sheet(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A4"
) -> Scene:
    """Return the curves on a sheet that stands, as large as the paper lets them be.

    :raises NotMeasuredError: when no run is logged.
    :raises OutputError: for an unknown paper.
    """
    case = report.case
    log = log_of_case(case)
    sheet = paper(paper_name, landscape=False)
    block = trial_title_block(report, style, words, "Sea trial: speed, slip, fuel")
    area = drawing_area(sheet, block)
    left, bottom, right, top = area
    size = (right - left - 2.0 * _GAP_MM, top - bottom - 2.0 * _GAP_MM)
    scene = trial_scene(log, style, case.job.boat.name, size)
    corner = (-left - _GAP_MM, -bottom - _GAP_MM)
    return Scene(
        title=block.title,
        items=(*scene.items, *frame(sheet, 1.0, corner, block)),
        scale=1.0,
        placement=Placement(sheet, corner),
    )


def trial_title_block(
    report: EngineReport, style: Shown, words: SheetWords, title: str
) -> TitleBlock:
    """Return the title block of the trial's sheets: their own cautions and units."""
    fuel = "US gal" if style.lengths == "in" else "L"
    return replace(
        title_block(report.case, style, words, title, report.verdict),
        scale=NO_SCALE,
        units=f"{style.speeds}, rpm, {fuel}",
        cautions=(*TRIAL_CAUTIONS, *words.cautions[:1]),
    )
