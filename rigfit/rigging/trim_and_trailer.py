"""Trim reserve on this transom, and how far an engine clears the ground on its trailer."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.rigging.case import Case
from rigfit.rigging.envelope import (
    engine_envelope,
    engine_travel,
    mounted_option,
    placed_rings,
    rig_of,
)
from rigfit.rigging.findings import Limits
from rigfit.rigging.plate_height import Point, along_face
from rigfit.rigging.turning import Turn

USUAL_WEDGES_DEG = (2.0, 3.0, 4.0, 5.0, 6.0)
"""Wedges that can be bought (common practice)."""

TRIM_IN = Limits(low=-10.0, high=-3.0, outer_low=-14.0, outer_high=0.0)
"""Plate angle fully in that leaves reserve to hold the bow down (common practice)."""

DEPARTURE_DEG = 10.0
"""Departure angle asked for where the job does not say (estimate)."""


@dataclass(frozen=True, slots=True)
class TrimReserve:
    """The ends of the trim on this rake, as plate angles, propeller up +.

    :param trim_in_deg: fully in.
    :param trim_out_deg: end of the running trim; the class's, moved to this rake.
    :param wedge_deg: usual wedge that brings the inner end into reserve: + with its thick end up,
        - with its thick end down, 0 for none, None where no usual one is enough.
    """

    trim_in_deg: float
    trim_out_deg: float
    wedge_deg: float | None


def trim_reserve(case: Case) -> TrimReserve:
    """Return the trim on this rake: limits stated at r0 become [lo - (r - r0), hi - (r - r0)]."""
    engine, rake = case.engine, case.job.transom.rake
    inner = engine_travel(case).trim_in_deg
    change = (rake.value if rake else engine.leg_rake_deg) - engine.leg_rake_deg
    return TrimReserve(inner, engine.trim_out_deg - change, wedge_for(inner))


def wedge_for(trim_in_deg: float) -> float | None:
    """Return the smallest usual wedge that brings a trim-in angle into reserve; None for none."""
    if TRIM_IN.margin(trim_in_deg) >= 0.0:
        return 0.0
    sign = 1.0 if trim_in_deg > -3.0 else -1.0
    for wedge in USUAL_WEDGES_DEG:
        if TRIM_IN.margin(trim_in_deg - sign * wedge) >= 0.0:
            return sign * wedge
    return None


@dataclass(frozen=True, slots=True)
class GroundPoint:
    """The engine's lowest place as a ramp meets it.

    :param tilt_deg: plate angle.
    :param ground_mm: lowest point of the engine above the ground.
    :param departure_deg: slope from the wheel's foot to the engine, the least over its outline.
    :param at: the point that decides it, keel frame.
    """

    tilt_deg: float
    ground_mm: float
    departure_deg: float
    at: Point


@dataclass(frozen=True, slots=True)
class TrailerClearance:
    """The engine on its trailer, tilted fully up and level.

    :param tilted: fully up.
    :param down: plate level.
    """

    tilted: GroundPoint
    down: GroundPoint


def trailer_clearance(case: Case) -> TrailerClearance | None:
    """Return how the engine clears the ground; None while a reading for it is missing.

    It takes the heel above the ground, the axle to the transom, transom height, rake and leg.
    """
    trailer, height = case.job.trailer, case.heights.along_face
    heel, axle = trailer.heel_above_ground, trailer.axle_to_transom
    if heel is None or axle is None or height is None or case.leg is None:
        return None
    if case.job.transom.rake is None:
        return None
    rig = rig_of(case, mounted_option(case))
    up = along_face(rig.rake_deg)
    axis = rig.axis()
    axis = (axis[0] + height.value * up[0], axis[1] + height.value * up[1])
    tilt = engine_travel(case).full_tilt_deg
    rings = placed_rings(engine_envelope(case), axis)
    points = [point for ring in rings for point in ring]
    found = [
        _ground(points, Turn(axis, 0.0, 0.0), angle, heel.value, axle.value)
        for angle in (tilt, 0.0)
    ]
    return TrailerClearance(found[0], found[1])


def _ground(
    points: list[Point], turn: Turn, tilt_deg: float, heel_mm: float, axle_mm: float
) -> GroundPoint:
    turned = [turn.point(point, tilt_deg) for point in points]
    aft = [point for point in turned if point[0] + axle_mm > 1.0] or turned

    def slope(point: Point) -> float:
        return math.degrees(math.atan2(point[1] + heel_mm, max(1.0, point[0] + axle_mm)))

    at = min(aft, key=slope)
    return GroundPoint(tilt_deg, min(z for _, z in turned) + heel_mm, slope(at), at)
