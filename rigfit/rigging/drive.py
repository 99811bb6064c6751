"""Power, propeller and the maker's band of a job: Crouch's speed, expected engine speed."""

from __future__ import annotations

import math
from collections.abc import Mapping

from rigfit.rigging.case import Case
from rigfit.rigging.outboard import CLASS_GEAR_SPREAD
from rigfit.rigging.propeller import CROUCH, CROUCH_SPREAD, USUAL_SLIP, Band, crouch_kn, rpm_at
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate, half_width


def crouch_constant(case: Case) -> Reading:
    """Return Crouch's constant for the hull: chosen with its spread, else average to fast."""
    kind = case.job.underway.hull_type
    if kind in CROUCH:
        return Reading(CROUCH[kind], CROUCH_SPREAD * CROUCH[kind], Origin.CHOSEN)
    low, high = CROUCH["runabout"], CROUCH["fast runabout"]
    return Reading((low + high) / 2.0, (high - low) / 2.0, Origin.DEFAULT)


def crouch_words(case: Case) -> str:
    """Return what kind of hull Crouch's constant is for, in words."""
    kind = case.job.underway.hull_type
    return kind if kind in CROUCH else "average to fast runabouts, type not said"


def crouch_estimate(case: Case, readings: Mapping[str, Reading]) -> Estimate:
    """Return Crouch's speed, kn, from ``mass`` and ``power`` of the readings."""
    used = {
        "mass": readings["mass"], "power": readings["power"], "constant": crouch_constant(case),
    }  # fmt: skip
    return estimate(lambda v: crouch_kn(v["mass"], v["power"], v["constant"]), used)


def engine_band(case: Case) -> tuple[Band, bool]:
    """Return the maker's band at full throttle, and whether it is that of the class.

    :raises JobError: when its ends are not in order.
    """
    low, high = case.candidate.wot_low, case.candidate.wot_high
    engine = case.engine
    band = Band(
        low.value if low else min(engine.wot_low_rpm, 0.9 * high.value if high else math.inf),
        high.value if high else max(engine.wot_high_rpm, 1.1 * low.value if low else 0.0),
    )
    return band, low is None or high is None


def gear_ratio(case: Case) -> Reading:
    """Return the engine's gear ratio: as entered, else that of its class."""
    return case.candidate.gear_ratio or Reading(
        case.engine.gear_ratio, CLASS_GEAR_SPREAD, Origin.CLASS
    )


def expected_rpm(case: Case, top: Estimate | None) -> Estimate | None:
    """Return the engine speed at the estimated top speed, with a usual slip."""
    pitch = case.job.propeller.pitch
    if pitch is None or top is None:
        return None
    low, high = USUAL_SLIP
    flat = half_width(top.tolerance)
    used = {
        "top": Reading(top.value, flat, Origin.DEFAULT),
        "slip": Reading((low + high) / 2.0, (high - low) / 2.0, Origin.DEFAULT),
        "pitch": pitch,
        "gear": gear_ratio(case),
    }
    return estimate(lambda v: rpm_at(v["top"], v["slip"], v["pitch"], v["gear"]), used)
