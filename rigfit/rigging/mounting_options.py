"""Every height an engine can be bolted at, and where a bare transom may be drilled."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from rigfit.errors import JobError
from rigfit.rigging.case import Band, Case, Leg, once_a_case
from rigfit.rigging.findings import Verdict, at_best, worst
from rigfit.rigging.outboard import LEG_CLASSES
from rigfit.rigging.plate_height import Rig
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tilt_axis import axis_readings
from rigfit.rigging.tolerance import Estimate, estimate, exact

CLASS_ROW_TOLERANCE_MM = 3.0
"""Half-width of what the uppermost bracket hole differs by between makes (estimate)."""


@dataclass(frozen=True, slots=True)
class HeightOption:
    """One height the job allows.

    :param row: bolt row, 1 the uppermost bracket hole and so the lowest engine; 0 for an engine
        that only clamps on.
    :param setting_mm: setting of an adjustable bracket above its lowest, 0 without one.
    :param lift: seat above the transom top, along the face, mm.
    :param plate: plate above the keel line with its tolerance, None while a reading is missing.
    :param off_target_mm: distance of the plate above (+) or below (-) the target band, 0 inside.
    :param verdict: the answer for this height.
    :param reason: why it is not better, in a few words; "" for ``fits``.
    """

    row: int
    setting_mm: float
    lift: Estimate
    plate: Estimate | None
    off_target_mm: float | None
    verdict: Verdict
    reason: str = ""

    @property
    def is_possible(self) -> bool:
        """False when the hook would have to sit below the top, or the maker refuses it."""
        return self.reason not in (REASON_LOW, REASON_MAKER)


CLASS_PITCH_TOLERANCE_MM = 1.05
"""A class's holes step by 18 or by 19.05 mm; both are met."""

DECIDING = ("height", "rake", "leg", "row", "upper_holes", "setback", "bracket")
"""Readings a plate height needs; the tilt axis only shifts it within its tolerance."""

REASON_LOW = "the hook would have to sit below the top"
REASON_MAKER = "higher than the maker allows"
_REASONS = {
    "transom": "transom height or rake not measured",
    "leg": "leg not known",
    "band": "no target for this hull kind",
    "stated": "leg only stated",
    "hook": "keel line not straight: hull first",
    "gaps": "keel line not checked",
    "ambiguous": "setback to seat or propeller?",
    "deadrise": "deadrise not measured",
}


def missing_for_plate(case: Case) -> tuple[str, ...]:
    """Return the keys of the readings without which no plate height can be computed."""
    missing = []
    if case.heights.along_face is None:
        missing.append("transom.height_along_face")
    if case.job.transom.rake is None:
        missing.append("transom.rake")
    if case.leg is None:
        missing.append("engine.leg_measured")
    return tuple(missing)


def chosen_setting_mm(case: Case) -> float | None:
    """Return the bracket setting the job has decided on, or None.

    :raises JobError: for a setting without a bracket, or one the bracket cannot be set to.
    """
    chosen = case.job.mounting.bracket_setting
    if chosen is None or (case.bracket is None and chosen.value == 0.0):
        return None
    if case.bracket is None:
        raise JobError(
            f"a bracket setting of {chosen.value:g} mm is entered, but no setback bracket",
            cure="name the bracket or clear the setting",
            where="mounting, bracket_setting",
        )
    if not case.bracket.can_be_set_to(chosen.value):
        settings = case.bracket.settings_mm()
        steps = f" in steps of {case.bracket.step_mm:g} mm" if case.bracket.step_mm else ""
        raise JobError(
            f"a bracket setting of {chosen.value:g} mm is entered, which {case.bracket.name} lacks",
            allowed=f"it goes from 0 to {settings[-1]:g} mm{steps}",
            cure="enter a setting it has",
            where="mounting, bracket_setting",
        )
    listed = min(case.bracket.settings_mm(), key=lambda item: abs(item - chosen.value))
    return listed if abs(listed - chosen.value) <= 0.05 else chosen.value


@once_a_case
def height_options(case: Case) -> tuple[HeightOption, ...]:
    """Return every bolt row times every bracket setting, lowest engine first.

    Rows that would need the hook below the top are listed as ``stops``, so that the table shows
    why they are not to be had. A chosen setting between the usual ones is listed too.

    :raises JobError: as ``chosen_setting_mm``.
    """
    settings = set(case.bracket.settings_mm() if case.bracket else (0.0,))
    chosen = chosen_setting_mm(case)
    settings |= set() if chosen is None else {chosen}
    rows = case.pattern.upper_rows_mm
    options = [
        _option(case, row, setting)
        for setting in sorted(settings)
        for row in (range(1, len(rows) + 1) if rows else (0,))
    ]
    return tuple(sorted(options, key=lambda option: (option.lift.value, option.row)))


def option_at(case: Case, row: int, setting_mm: float = 0.0) -> HeightOption:
    """Return the option of one row (0 for an engine that clamps on) and bracket setting."""
    return _option(case, row, setting_mm)


def lift_of(case: Case, row: int, setting_mm: float) -> Estimate:
    """Return the seat above the transom top for a bolt row: a_k - v, plus the bracket's height."""
    return lift_at(case, row, case.upper_holes if row else exact(0.0), setting_mm)


def lift_at(case: Case, row: int, upper_holes: Reading, setting_mm: float = 0.0) -> Estimate:
    """Return the lift of a bolt row for given upper holes below the top of what carries it."""
    readings = {
        "row": _row_reading(case, row) if row else exact(0.0),
        "upper_holes": upper_holes,
        "bracket": case.bracket_height,
    }
    return estimate(lambda values: sum_of_lift(values) + setting_mm, readings)


def _row_reading(case: Case, row: int) -> Reading:
    """Return the distance of a bracket hole below the seat, with where it came from."""
    distance = case.pattern.upper_rows_mm[row - 1]
    first, pitch = case.candidate.first_row, case.candidate.row_pitch
    if first is None:
        return Reading(distance, CLASS_ROW_TOLERANCE_MM, Origin.CLASS)
    if row == 1:
        return first
    each = pitch.tolerance if pitch else CLASS_PITCH_TOLERANCE_MM
    origin = Origin.MEASURED if pitch else Origin.CLASS
    return Reading(distance, first.tolerance + each * (row - 1), origin)


def plate_at(case: Case, lift: Estimate, leg: Reading) -> Estimate | None:
    """Return the plate height for a lift and a leg; None while transom readings are missing."""
    height, rake = case.heights.along_face, case.job.transom.rake
    if height is None or rake is None:
        return None
    engine, axis = case.engine, axis_readings(case)
    readings: dict[str, Reading] = {
        "height": height,
        "rake": rake,
        "leg": leg,
        **{share.name: share.reading for share in lift.shares},
        "setback": case.setback,
        "axis_out": axis[0],
        "axis_up": axis[1],
    }
    above = lift.value - sum_of_lift({name: item.value for name, item in readings.items()})

    def height_mm(values: Mapping[str, float]) -> float:
        return Rig(
            height_face_mm=values["height"],
            rake_deg=values["rake"],
            leg_mm=values["leg"],
            lift_mm=sum_of_lift(values) + above,
            setback_mm=values["setback"],
            arms=case.arms,
            axis_out_mm=values["axis_out"],
            axis_up_mm=values["axis_up"],
            leg_rake_deg=engine.leg_rake_deg,
        ).plate_height_mm()

    return estimate(height_mm, readings)


def sum_of_lift(values: Mapping[str, float]) -> float:
    """Return row - upper holes + bracket, the measured part of a lift, mm."""
    return values["row"] - values["upper_holes"] + values["bracket"]


def _option(case: Case, row: int, setting_mm: float) -> HeightOption:
    lift = lift_of(case, row, setting_mm)
    plate = plate_at(case, lift, case.leg.reading) if case.leg else None
    band = case.band
    off = band.off_mm(plate.value) if plate and band else None
    verdict, reason = judge_plate(case, plate, band)
    # The hook rests on what carries it: the transom top, or the bracket's edge as it is set.
    hook_mm = lift.value - (case.bracket_height.value + setting_mm if case.bracket else 0.0)
    most = case.candidate.max_lift
    if row and hook_mm < -lift.tolerance:
        verdict, reason = Verdict.STOPS, REASON_LOW
    elif most is not None and lift.value > most.value:
        verdict, reason = Verdict.STOPS, REASON_MAKER
    elif row and hook_mm < 0.0 and verdict is Verdict.FITS:
        verdict, reason = Verdict.TIGHT, "the hook may have to sit below the top"
    return HeightOption(row, setting_mm, lift, plate, off, verdict, reason)


def judge_plate(case: Case, plate: Estimate | None, band: Band | None) -> tuple[Verdict, str]:
    """Return the verdict on one plate height and, unless it fits, the reason in a few words.

    Never ``fits`` while a needed reading is missing or a class figure decides.
    """
    if plate is None:
        return Verdict.UNKNOWN, _REASONS["leg" if case.leg is None else "transom"]
    if band is None:
        return Verdict.UNKNOWN, _REASONS["band"]
    if case.keel_is_bent:
        return Verdict.UNKNOWN, _REASONS["hook"]
    if case.leg is not None and not case.leg.is_measured:
        return _judge_stated(case.leg, plate, band)
    verdict = band.limits.judge(plate.value, judged_tolerance_mm(case, plate))
    ceilings = tuple(_ceilings(case, plate))
    capped = at_best(verdict, worst(ceiling for ceiling, _ in ceilings)) if ceilings else verdict
    if capped is verdict:
        return verdict, _reason(band, plate, verdict)
    return capped, next(reason for ceiling, reason in ceilings if ceiling is capped)


def judged_tolerance_mm(case: Case, plate: Estimate) -> float:
    """Return the tolerance of plate against target: the plate's and the off-centre raise's."""
    raised = case.centre_raise.tolerance if case.centre_raise else 0.0
    return math.hypot(plate.tolerance, raised)


def _judge_stated(leg: Leg, plate: Estimate, band: Band) -> tuple[Verdict, str]:
    """Judge a leg known from an advert only: hopeless at both ends stops, all else is unknown."""
    short, long_ = leg.ends_mm
    rest = math.sqrt(math.fsum(share.spread**2 for share in plate.shares if share.name != "leg"))
    highest = plate.value + (leg.reading.value - short)
    lowest = plate.value - (long_ - leg.reading.value)
    limits = band.limits
    same_side = (lowest > band.middle_mm) == (highest > band.middle_mm)
    hopeless = all(limits.judge(end, rest) is Verdict.STOPS for end in (highest, lowest))
    if hopeless and same_side:
        return Verdict.STOPS, _reason(band, plate, Verdict.STOPS)
    return Verdict.UNKNOWN, _REASONS["stated"]


def _ceilings(case: Case, plate: Estimate) -> list[tuple[Verdict, str]]:
    found = []
    if case.setback_is_ambiguous:
        found.append((Verdict.UNKNOWN, _REASONS["ambiguous"]))
    if case.centre_raise is None:
        found.append((Verdict.UNKNOWN, _REASONS["deadrise"]))
    if case.keel is None:
        found.append((Verdict.TIGHT, _REASONS["gaps"]))
    soft = [
        share.reading.origin.value
        for share in plate.shares
        if share.name in DECIDING and not share.reading.origin.is_firm
    ]
    found += [(Verdict.TIGHT, word) for word in soft[:1]]
    return found


def _reason(band: Band, plate: Estimate, verdict: Verdict) -> str:
    if verdict is Verdict.FITS:
        return ""
    off = band.off_mm(plate.value)
    if off == 0.0 and band.limits.margin(plate.value) < 0.0:
        return "inside, but not by every writer's rise"
    if off == 0.0:
        return "inside, but within the tolerance of an edge"
    side = "high" if off > 0.0 else "low"
    return f"{'too ' if verdict is Verdict.STOPS else ''}{side}"


def best_option(case: Case, options: tuple[HeightOption, ...]) -> HeightOption | None:
    """Return the possible option with the best verdict, nearest to the middle of the band.

    Where the job has decided on a bracket setting, only its rows are looked at.
    """
    chosen = chosen_setting_mm(case)
    if chosen is not None:
        options = tuple(option for option in options if option.setting_mm == chosen)
    usable = [option for option in options if option.is_possible and option.plate is not None]
    band = case.band
    if not usable or band is None:
        return None

    def rank(option: HeightOption) -> tuple[int, float]:
        assert option.plate is not None  # noqa: S101 - filtered above, for the type checker
        return option.verdict.rank, abs(option.plate.value - band.middle_mm)

    return min(usable, key=rank)


@dataclass(frozen=True, slots=True)
class PlateRange:
    """Where the plate can be put, from the engine fully down to fully up, for one leg.

    :param name: "measured leg", "as stated" or the name of a leg class.
    :param leg_mm: the leg.
    :param low_mm: plate with the engine at its lowest option.
    :param high_mm: plate with the engine at its highest option.
    :param verdict: best verdict the range allows, by the band alone.
    """

    name: str
    leg_mm: float
    low_mm: float
    high_mm: float
    verdict: Verdict


def plate_ranges(case: Case, options: tuple[HeightOption, ...]) -> tuple[PlateRange, ...]:
    """Return the core picture: the plate's range for this leg and for each leg class.

    Empty while the transom height or the rake is missing.
    """
    lifts = [option.lift for option in options if option.is_possible]
    if not lifts or case.heights.along_face is None or case.job.transom.rake is None:
        return ()
    own = []
    if case.leg:
        name = "measured leg" if case.leg.is_measured else "leg as stated, middle of its spread"
        own.append((name, case.leg.reading.value))
    legs = own + [(leg.name, leg.nominal_mm) for leg in LEG_CLASSES]
    # A leg only shifts the plate, so each lift is worked out once, for a leg of nothing.
    found = [plate_at(case, lift, exact(0.0)) for lift in lifts]
    seats = [plate.value for plate in found if plate is not None]
    return tuple(_range(case.band, name, leg, [seat - leg for seat in seats]) for name, leg in legs)


def _range(band: Band | None, name: str, leg_mm: float, heights: list[float]) -> PlateRange:
    low, high = min(heights), max(heights)
    if band is None:
        verdict = Verdict.UNKNOWN
    else:
        inside = [band.limits.judge(height, 0.0) for height in heights]
        verdict = min(inside, key=lambda item: item.rank)
    return PlateRange(name, leg_mm, low, high, verdict)
