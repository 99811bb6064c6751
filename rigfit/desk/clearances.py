"""How much room the tilting engine has at each height, for the table of heights. No Tk."""

from __future__ import annotations

from collections.abc import Mapping

from rigfit.desk.workbench import HeightKey, height_key
from rigfit.rigging.report import EngineReport
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.swing import TiltGap, options_swing
from rigfit.units import Kind, Shown
from rigfit.wording import number

Clearances = Mapping[HeightKey, TiltGap]
"""The least room of the tilting engine at each possible height, where anything is round it."""


def clearances_of(report: EngineReport) -> Clearances:
    """Return how near the engine comes to anything as it tilts, by height."""
    case = report.case
    # Without a rake nobody knows where it tilts, and mostly there is nothing to be touched.
    if case.job.transom.rake is None or not surroundings(case).solids:
        return {}
    found = options_swing(case, report.options)
    return {height_key(item.option): item.gap for item in found if item.gap is not None}


def clearance_words(gap: TiltGap, style: Shown) -> str:
    """Return how near the tilting engine comes to the nearest thing."""
    if gap.touches:
        return f"tilting it touches {gap.solid.name}"
    return f"{number(gap.clear_mm, Kind.LENGTH, style)} clear of {gap.solid.name} as it tilts"
