"""All that is said of the swing of an engine: every height, trim, steering gear, trailer, twins."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rigfit.errors import EntryError
from rigfit.rigging.case import Case
from rigfit.rigging.checks_swing import place_verdict, plan_verdict, tilt_verdict, worst_place
from rigfit.rigging.envelope import Envelope, engine_envelope, mounted_option
from rigfit.rigging.findings import Verdict, worst
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.steer import (
    PlanGap,
    SteeringGear,
    TwinsGap,
    plan_steer,
    steering_gear,
    twins_of,
)
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.swing import KickUp, TiltGap, tilt_swing
from rigfit.rigging.tilt_steer import WorstPlace
from rigfit.rigging.trim_and_trailer import (
    TrailerClearance,
    TrimReserve,
    trailer_clearance,
    trim_reserve,
)

SETBACKS_MM = (0.0, 100.0, 150.0, 200.0, 250.0, 300.0)
"""Setbacks that are looked at besides the engine's own: sizes of usual plates and brackets."""

AGAIN = "Repeat after any change of height: tilt fully and turn lock to lock by hand, and look."
"""Caution on everything that is written of the swing."""


@dataclass(frozen=True, slots=True)
class HeightSwing:
    """The swing at one height. Each part is None with nothing in its way.

    :param option: the height.
    :param tilt: least clearance over the whole tilt, straight ahead.
    :param steer: least clearance from lock to lock, plate level.
    :param place: the worst of both together.
    :param place_tolerance_mm: expanded uncertainty of its clearance.
    :param change_mm: how much more (+) or less clear ``tilt`` is than at the height looked at now.
    :param verdict: worst of the three.
    """

    option: HeightOption
    tilt: TiltGap | None
    steer: PlanGap | None
    place: WorstPlace | None
    place_tolerance_mm: float
    change_mm: float
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class SwingSummary:
    """All that is said of the swing; what nobody entered anything about is None or empty.

    :param envelope: room the engine takes, and what that rests on.
    :param heights: every possible height, in the order of the report.
    :param now: the height looked at: chosen, else best; None where nothing stands round it.
    :param kick_up: how far ahead the engine reaches as it kicks up.
    :param trim: ends of the trim and wedge; None without the rake.
    :param gear: steering gear in the well.
    :param trailer: clearance on the trailer.
    :param twins: two like engines.
    :param troubles: sentences on what cannot be used or is missing altogether.
    """

    envelope: Envelope
    heights: tuple[HeightSwing, ...]
    now: HeightSwing | None
    kick_up: KickUp | None
    trim: TrimReserve | None
    gear: SteeringGear | None
    trailer: TrailerClearance | None
    twins: TwinsGap | None
    troubles: tuple[str, ...] = ()

    def beside(self, rows: int) -> HeightSwing | None:
        """Return the swing so many rows above (+) or below (-) the height looked at, or None."""
        if self.now is None or not self.now.option.row:
            return None
        wanted = (self.now.option.row + rows, self.now.option.setting_mm)
        found = (item for item in self.heights
                 if (item.option.row, item.option.setting_mm) == wanted)  # fmt: skip
        return next(found, None)


def swing_summary(case: Case, options: Sequence[HeightOption]) -> SwingSummary | None:
    """Return all that is said of the swing; None while nothing is entered about any of it.

    :param options: heights to look at; impossible ones are left out.
    """
    job = case.job
    around, trailer = surroundings(case), trailer_clearance(case)
    gear, trouble = _gear(case)
    twins = twins_of(case)
    trim_asked = case.candidate.trim_in is not None or not around.is_empty
    if around.is_empty and not trim_asked and twins is None and not (gear or trailer or trouble):
        return None
    troubles = (*around.problems, *trouble)
    heights: tuple[HeightSwing, ...] = ()
    kick = now = None
    if job.transom.rake is None:
        troubles += ("Without the rake of the transom the tilt axis has no place: measure it.",)
    elif around.solids and not around.problems:
        mounted = mounted_option(case)
        kick = tilt_swing(case, mounted).kick_up
        possible = [option for option in options if option.is_possible]
        heights = _heights(case, possible, tilt_swing(case, mounted).worst)
        now = next((item for item in heights if _same(item.option, mounted)), None)
    return SwingSummary(
        engine_envelope(case), heights, now, kick,
        trim_reserve(case) if trim_asked and job.transom.rake else None, gear, trailer,
        twins, troubles,
    )  # fmt: skip


def setback_swings(case: Case) -> tuple[tuple[float, HeightSwing], ...]:
    """Return the swing at the height looked at for usual setbacks and the engine's own, mm.

    The engine is taken to hang as high as now; how high it should hang further aft is another
    question. Empty where nothing that can be used is entered round it.
    """
    around = surroundings(case)
    if not around.solids or around.problems or case.job.transom.rake is None:
        return ()
    option, now = mounted_option(case), tilt_swing(case).worst
    asked = sorted({*SETBACKS_MM, round(case.setback.value, 1)})
    return tuple(
        (setback, _heights(_set_back(case, setback), [option], now)[0]) for setback in asked
    )


def _set_back(case: Case, setback_mm: float) -> Case:
    """Return the case with another setback."""
    other = Case(case.job, case.catalogue, case.candidate)
    # A cached property looks into the instance first.
    vars(other)["setback"] = replace(case.setback, value=setback_mm)
    return other


def _same(one: HeightOption, other: HeightOption) -> bool:
    return (one.row, one.setting_mm) == (other.row, other.setting_mm)


def _heights(
    case: Case, options: Sequence[HeightOption], now: TiltGap | None
) -> tuple[HeightSwing, ...]:  # fmt: skip
    found = []
    for option in options:
        tilt, steer = tilt_swing(case, option).worst, plan_steer(case, option).worst
        place, spread, verdicts = worst_place(case, option), 0.0, []
        if tilt is not None:
            verdicts.append(tilt_verdict(case, tilt))
        if steer is not None:
            verdicts.append(plan_verdict(case, steer))
        if place is not None:
            verdict, spread = place_verdict(case, option, place)
            verdicts.append(verdict)
        change = tilt.clear_mm - now.clear_mm if tilt and now else 0.0
        found.append(HeightSwing(option, tilt, steer, place, spread, change, worst(verdicts)))
    return tuple(found)


def _gear(case: Case) -> tuple[SteeringGear | None, tuple[str, ...]]:
    """Return the steering gear where anything of it was measured, and what is wrong with it."""
    gear = case.job.steering
    names = ("half_travel", "arm_radius", "tube_end", "beyond_tube", "withdrawal", "hose_radius")
    if gear.kind == "tiller" or all(getattr(gear, name) is None for name in names):
        return None, ()
    try:
        return steering_gear(case), ()
    except EntryError as error:
        return None, (error.sentence(),)
