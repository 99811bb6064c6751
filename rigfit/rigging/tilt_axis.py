"""Where an engine's tilt axis is: as measured, else as its class has it."""

from __future__ import annotations

from dataclasses import replace

from rigfit.rigging.case import Case
from rigfit.rigging.outboard import EngineClass
from rigfit.rigging.readings import Origin, Reading


def axis_readings(case: Case) -> tuple[Reading, Reading]:
    """Return the tilt axis out from the face and up from the seat; else the class's."""
    engine, candidate = case.engine, case.candidate
    spread = engine.axis_tolerance_mm
    return (
        candidate.tilt_axis_out or Reading(engine.axis_out_mm, spread, Origin.CLASS),
        candidate.tilt_axis_up or Reading(engine.axis_up_mm, spread, Origin.CLASS),
    )


def engine_with_axis(case: Case) -> EngineClass:
    """Return the engine's class with its tilt axis as measured, where it was measured.

    Its axis tolerance is that of the worse known of the two readings.
    """
    out, up = axis_readings(case)
    return replace(
        case.engine,
        axis_out_mm=out.value,
        axis_up_mm=up.value,
        axis_tolerance_mm=max(out.tolerance, up.tolerance),
    )
