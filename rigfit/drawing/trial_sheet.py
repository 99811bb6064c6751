"""The curves of the sea trials on a sheet with title block and cautions."""

from __future__ import annotations

from rigfit.drawing.labels import VERDICT_INK
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Placement, Scene
from rigfit.drawing.sheet import TitleBlock, drawing_area, frame, paper
from rigfit.drawing.trial_view import trial_scene
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import trial_log
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
    log = trial_log(case.job, case.catalogue)
    sheet = paper(paper_name, landscape=False)
    block = title_block(report, style, words, "Sea trial: speed, slip, fuel")
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


def title_block(report: EngineReport, style: Shown, words: SheetWords, title: str) -> TitleBlock:
    """Return the title block of the trial's sheets."""
    candidate = report.case.candidate
    name = f"{candidate.id}, {candidate.name}" if candidate.name else candidate.id
    fuel = "US gal" if style.lengths == "in" else "L"
    return TitleBlock(
        title=title,
        boat=report.case.job.boat.name or "unnamed boat",
        engine=f"{name} ({report.case.engine.name})",
        date=words.date,
        units=f"{style.speeds}, rpm, {fuel}",
        version=words.version,
        status=f"{report.verdict.value.upper()}: {words.status}",
        status_ink=VERDICT_INK[report.verdict],
        cautions=(*TRIAL_CAUTIONS, *words.cautions[:1]),
    )
