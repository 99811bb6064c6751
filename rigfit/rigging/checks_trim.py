"""Checks 402, 405 and 406: trim reserve, the steering gear in the well, and the trailer."""

from __future__ import annotations

from functools import partial

from rigfit.errors import EntryError
from rigfit.rigging.case import Case
from rigfit.rigging.envelope import engine_travel
from rigfit.rigging.findings import Finding, Limits, Phrase, Verdict, at_best, deg, mm, phrase
from rigfit.rigging.steer import SteeringGear, steering_gear
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.trim_and_trailer import (
    DEPARTURE_DEG,
    TRIM_IN,
    trailer_clearance,
    trim_reserve,
)
from rigfit.units import Kind

LEAST_MM = 20.0
"""Gap that is asked for between what swings and what stands still."""

CLEAR = Limits(low=LEAST_MM, outer_low=0.0)

_TRIM = Phrase("Measure the plate's angle fully in.")

# ------------------------------------------------------------------ 402


def check_trim_reserve(case: Case) -> tuple[Finding, ...]:
    """402: can the propeller be tucked far enough under on this rake?"""
    trim, rake = case.candidate.trim_in, case.job.transom.rake
    if trim is None and surroundings(case).is_empty:
        return ()
    found = partial(
        Finding, code=402, subject=case.candidate.id, title="trim reserve", source="trim-reserve",
        kind=Kind.ANGLE, needs=("engine.trim_in", "transom.rake"),
    )  # fmt: skip
    if rake is None:
        return (
            found(verdict=Verdict.UNKNOWN,
                  sentence=phrase("Without the rake the trim on this transom is not known."),
                  settle=phrase("Measure the rake of the transom.")),
        )  # fmt: skip
    reserve = trim_reserve(case)
    spread = expanded(engine_travel(case).trim_in_tolerance_deg, rake.tolerance)
    verdict = TRIM_IN.judge(reserve.trim_in_deg, spread)
    if trim is None:
        verdict = Verdict.TIGHT if verdict is Verdict.FITS else at_best(verdict, Verdict.TIGHT)
    wedge = reserve.wedge_deg
    text = "Fully in, the plate stands at {inner} on this transom"
    if wedge is None:
        text += "; no usual wedge mends that: ask the engine's maker."
    elif wedge == 0.0:
        text += ", which holds the bow down and leaves {outer} for running out."
    else:
        text += f"; a wedge of {{wedge}}, thick end {'up' if wedge > 0.0 else 'down'}, mends it "
        text += "and costs as much at the other end."
    amounts = {
        "inner": deg(reserve.trim_in_deg, signed=True), "wedge": deg(abs(wedge or 0.0)),
        "outer": deg(reserve.trim_out_deg, signed=True),
    }  # fmt: skip
    return (
        found(
            verdict=verdict, sentence=Phrase(text, amounts), value=reserve.trim_in_deg,
            low=TRIM_IN.low, high=TRIM_IN.high, margin=TRIM_IN.margin(reserve.trim_in_deg),
            tolerance=spread,
            settle=_TRIM if trim is None else None,
        ),
    )  # fmt: skip


# ------------------------------------------------------------------ 405


_GEAR_FIELDS = ("half_travel", "arm_radius", "tube_end", "beyond_tube", "withdrawal", "hose_radius")


def check_steering_gear(case: Case) -> tuple[Finding, ...]:
    """405: do rod, cylinder and hoses go into the well, and can the rod be drawn out?"""
    gear = case.job.steering
    if gear.kind == "tiller" or all(getattr(gear, name) is None for name in _GEAR_FIELDS):
        return ()
    found = partial(
        Finding, code=405, subject=case.candidate.id, title="steering gear in the well",
        source="geometry",
    )  # fmt: skip
    try:
        result = steering_gear(case)
    except EntryError as error:
        return (
            found(verdict=Verdict.UNKNOWN, needs=("steering.half_travel", "steering.arm_radius"),
                  sentence=phrase("The gear cannot be as entered: {problem}",
                                  problem=error.sentence()),
                  settle=phrase("Measure travel and arm again.")),
        )  # fmt: skip
    rooms = _rooms(result)
    if not rooms:
        return (_gear_unknown(case, result),)
    value, what = min(rooms)
    spread = _gear_spread(case)
    verdict = CLEAR.judge(value, spread)
    firm = result.is_over_wall or (result.reach_mm is not None and result.clear_mm is not None)
    if not firm:
        verdict = at_best(verdict, Verdict.TIGHT)
    text = "{what}: {gap} to spare." if value >= 0.0 else "{what}: it lacks {gap}."
    return (
        found(
            verdict=verdict, sentence=phrase(text, what=what, gap=mm(abs(value))), value=value,
            low=LEAST_MM, margin=CLEAR.margin(value), tolerance=spread,
            needs=("steering.tube_end", "steering.beyond_tube", "steering.half_travel",
                   "well.width"),
            settle=None if verdict is Verdict.FITS else phrase(
                "Put the steering hard over to each side and hold a tape along the rod."
            ),
            working=_gear_working(result),
        ),
    )  # fmt: skip


def _rooms(result: SteeringGear) -> list[tuple[float, str]]:
    rooms = [
        (result.clear_mm, "End of rod or cylinder at full travel to the well's side"),
        (result.withdrawal_clear_mm, "Drawing the rod out past the well's side"),
    ]
    if result.is_over_wall:
        rooms = []
    rooms.append((result.hose_clear_mm, "Hoses to the front wall of the well"))
    return [(room, name) for room, name in rooms if room is not None]


def _gear_spread(case: Case) -> float:
    gear, width = case.job.steering, case.job.well.width
    parts = [
        reading.tolerance
        for reading in (gear.tube_end, gear.beyond_tube, gear.half_travel)
        if reading is not None
    ]
    return expanded(*parts, width.tolerance / 2.0 if width else 0.0)


def _gear_working(result: SteeringGear) -> tuple[Phrase, ...]:
    if result.angle_deg is None or result.off_line_mm is None:
        return ()
    return (
        phrase(
            "the travel turns the arm by {angle} each way; its end leaves the rod's line by {off}",
            angle=deg(result.angle_deg), off=mm(result.off_line_mm),
        ),
    )  # fmt: skip


def _gear_unknown(case: Case, result: SteeringGear) -> Finding:
    gear = case.job.steering
    wanted = ("half_travel", "tube_end", "beyond_tube")
    missing = [f"steering.{name}" for name in wanted if getattr(gear, name) is None]
    missing += [] if case.job.well.width else ["well.width"]
    return Finding(
        code=405, subject=case.candidate.id, title="steering gear in the well",
        verdict=Verdict.UNKNOWN, source="ram-arc",
        sentence=phrase("Whether rod or cylinder clears the side of the well is not known."),
        needs=tuple(missing) or ("well.width",),
        settle=phrase(
            "Measure the travel each way, the end of the tilt tube from the engine's middle, what "
            "sticks out beyond it, and the width of the well."
        ),
        working=_gear_working(result),
    )  # fmt: skip


# ------------------------------------------------------------------ 406


def check_trailer(case: Case) -> tuple[Finding, ...]:
    """406: does the skeg clear the ground on the trailer?"""
    trailer = case.job.trailer
    if trailer.heel_above_ground is None and trailer.axle_to_transom is None:
        return ()
    needs = (
        "trailer.heel_above_ground", "trailer.axle_to_transom", "transom.height_along_face",
        "transom.rake", "engine.leg_measured", "engine.skeg_below_plate", "engine.full_tilt",
    )  # fmt: skip
    found = partial(Finding, code=406, subject=case.candidate.id, title="clearance on the trailer",
                    source="trailer-departure", kind=Kind.ANGLE, needs=needs)  # fmt: skip
    clear = trailer_clearance(case)
    if clear is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase("How far the skeg clears the ground is not known."),
                settle=phrase(
                    "Measure the heel above the ground, axle to transom, the transom's height and "
                    "rake, and the leg."
                ),
            ),
        )
    wanted = trailer.departure_wanted
    limits = Limits(low=wanted.value if wanted else DEPARTURE_DEG, outer_low=0.0)
    value = clear.tilted.departure_deg
    spread = _trailer_spread(case, clear.tilted.at[0])
    verdict = limits.judge(value, spread)
    candidate = case.candidate
    firm = all((wanted, candidate.skeg_below_plate, candidate.full_tilt, candidate.leg_measured))
    if not firm:
        verdict = at_best(verdict, Verdict.TIGHT)
    said = "" if wanted else " (a customary figure, none is entered)"
    return (
        found(
            verdict=verdict,
            sentence=phrase(
                "Tilted fully up, the engine clears a slope of {slope} behind the wheels, {ground} "
                f"above level ground; {{wanted}} is asked for{said}. Carry it on a support, "
                "never on its tilt lock alone.",
                slope=deg(value), ground=mm(clear.tilted.ground_mm), wanted=deg(limits.low or 0.0),
            ),
            value=value, low=limits.low, margin=limits.margin(value), tolerance=spread,
            settle=None if firm else phrase(
                "Measure skeg, leg and full tilt, and say how steep a ramp it must clear."
            ),
            working=(
                phrase(
                    "with the plate level it would stand {ground} above the ground, {slope} behind "
                    "the wheels",
                    ground=mm(clear.down.ground_mm, signed=clear.down.ground_mm < 0.0),
                    slope=deg(clear.down.departure_deg, signed=clear.down.departure_deg < 0.0),
                ),
            ),
        ),
    )  # fmt: skip


def _trailer_spread(case: Case, aft_mm: float) -> float:
    """Return the expanded uncertainty of the departure angle, deg: heights over their distance."""
    trailer, travel = case.job.trailer, engine_travel(case)
    heel, axle = trailer.heel_above_ground, trailer.axle_to_transom
    away = max(200.0, aft_mm + (axle.value if axle else 0.0))
    leg = case.leg.reading.tolerance if case.leg else 0.0
    lift = expanded(heel.tolerance if heel else 0.0, leg)
    return (lift / away + expanded(travel.full_tilt_tolerance_deg) / 57.3 * 700.0 / away) * 57.3
