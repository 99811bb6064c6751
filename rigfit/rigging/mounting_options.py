"""Every height an engine can be bolted at, and where a bare transom may be drilled."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from rigfit.rigging.case import UPPER_HOLES_DEFAULT_MM, Band, Case, Leg
from rigfit.rigging.findings import Verdict, at_best, worst
from rigfit.rigging.outboard import LEG_CLASSES
from rigfit.rigging.plate_height import Rig
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate, exact
from rigfit.rigging.transom import HOOK_STOP_MM

UPPER_EDGE_MIN_MM = 44.45
"""Upper holes never nearer to the transom top than 1 3/4 in (trade figure, read)."""

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


def height_options(case: Case) -> tuple[HeightOption, ...]:
    """Return every bolt row times every bracket setting, lowest engine first.

    Rows that would need the hook below the top are listed as ``stops``, so that the table shows
    why they are not to be had.
    """
    settings = case.bracket.settings_mm() if case.bracket else (0.0,)
    rows = case.pattern.upper_rows_mm
    options = [
        _option(case, row, setting)
        for setting in settings
        for row in (range(1, len(rows) + 1) if rows else (0,))
    ]
    return tuple(sorted(options, key=lambda option: (option.lift.value, option.row)))


def option_at(case: Case, row: int | None, setting_mm: float = 0.0) -> HeightOption:
    """Return the option of one row and bracket setting; row None means the first."""
    first = 1 if case.pattern.is_bolted else 0
    return _option(case, first if row is None else row, setting_mm)


def lift_of(case: Case, row: int, setting_mm: float) -> Estimate:
    """Return the seat above the transom top for a bolt row: a_k - v, plus the bracket's height."""
    hook = _row_reading(case, row) if row else exact(0.0)
    readings = {
        "row": hook,
        "upper_holes": case.upper_holes if row else exact(0.0),
        "bracket": case.bracket_height,
    }
    return estimate(
        lambda values: values["row"] - values["upper_holes"] + values["bracket"] + setting_mm,
        readings,
    )


def _row_reading(case: Case, row: int) -> Reading:
    """Return the distance of a bracket hole below the seat, with where it came from."""
    distance = case.pattern.upper_rows_mm[row - 1]
    first, pitch = case.candidate.first_row, case.candidate.row_pitch
    if first is None:
        return Reading(distance, CLASS_ROW_TOLERANCE_MM, Origin.CLASS)
    spread = first.tolerance + (pitch.tolerance if pitch else 0.5) * (row - 1)
    return Reading(distance, spread, Origin.MEASURED)


def plate_at(case: Case, lift: Estimate, leg: Reading) -> Estimate | None:
    """Return the plate height for a lift and a leg; None while transom readings are missing."""
    height, rake = case.heights.along_face, case.job.transom.rake
    if height is None or rake is None:
        return None
    engine = case.engine
    readings: dict[str, Reading] = {
        "height": height,
        "rake": rake,
        "leg": leg,
        **{share.name: share.reading for share in lift.shares},
        "setback": case.setback,
        "axis_out": Reading(engine.axis_out_mm, engine.axis_tolerance_mm, Origin.CLASS),
        "axis_up": Reading(engine.axis_up_mm, engine.axis_tolerance_mm, Origin.CLASS),
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
    refusal = _refusal(case, row, lift)
    plate = plate_at(case, lift, case.leg.reading) if case.leg else None
    band = case.band
    off = band.off_mm(plate.value) if plate and band else None
    if refusal:
        return HeightOption(row, setting_mm, lift, plate, off, Verdict.STOPS, refusal)
    verdict, reason = judge_plate(case, plate, band)
    return HeightOption(row, setting_mm, lift, plate, off, verdict, reason)


def _refusal(case: Case, row: int, lift: Estimate) -> str:
    carried = lift.value - case.bracket_height.value if case.bracket else lift.value
    if row and carried < -lift.tolerance:
        return REASON_LOW
    most = case.candidate.max_lift
    if most is not None and lift.value > most.value:
        return REASON_MAKER
    return ""


def judge_plate(case: Case, plate: Estimate | None, band: Band | None) -> tuple[Verdict, str]:
    """Return the verdict on one plate height and, unless it fits, the reason in a few words.

    Never ``fits`` while a needed reading is missing or a class figure decides.
    """
    if plate is None:
        return Verdict.UNKNOWN, _REASONS["leg" if case.leg is None else "transom"]
    if band is None:
        return Verdict.UNKNOWN, _REASONS["band"]
    if case.keel is not None and case.keel.depth.value > HOOK_STOP_MM + case.keel.depth.tolerance:
        return Verdict.UNKNOWN, _REASONS["hook"]
    if case.leg is not None and not case.leg.is_measured:
        return _judge_stated(case.leg, plate, band)
    verdict = band.limits.judge(plate.value, plate.tolerance)
    ceilings = tuple(_ceilings(case, plate))
    capped = at_best(verdict, worst(ceiling for ceiling, _ in ceilings)) if ceilings else verdict
    if capped is verdict:
        return verdict, _reason(band, plate, verdict)
    return capped, next(reason for ceiling, reason in ceilings if ceiling is capped)


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
    if case.centre_raise_mm is None:
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
    if off == 0.0:
        return "inside, but within the tolerance of an edge"
    side = "high" if off > 0.0 else "low"
    return f"{'too ' if verdict is Verdict.STOPS else ''}{side}"


def best_option(case: Case, options: tuple[HeightOption, ...]) -> HeightOption | None:
    """Return the possible option with the best verdict, nearest to the middle of the band."""
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
    return tuple(_range(case, name, leg, lifts) for name, leg in legs)


def _range(case: Case, name: str, leg_mm: float, lifts: list[Estimate]) -> PlateRange:
    found = [plate_at(case, lift, exact(leg_mm)) for lift in lifts]
    heights = [plate.value for plate in found if plate is not None]
    low, high = min(heights), max(heights)
    band = case.band
    if band is None:
        verdict = Verdict.UNKNOWN
    else:
        inside = [band.limits.judge(height, 0.0) for height in heights]
        verdict = min(inside, key=lambda item: item.rank)
    return PlateRange(name, leg_mm, low, high, verdict)


@dataclass(frozen=True, slots=True)
class DrillingChoice:
    """One height at which the upper holes of a bare transom could be drilled.

    :param label: "target on row 2" or "trade figure".
    :param upper_below_top_mm: upper holes below the transom top, along the face.
    :param row: bolt row that then comes nearest to the middle of the target.
    :param plate_mm: plate height on that row.
    :param rows_below: usable rows that would put the engine lower.
    :param rows_above: rows that would put it higher.
    :param lower_below_top_mm: lower holes below the transom top.
    :param verdict: ``fits`` with a row to spare each way and all holes in the sound zone.
    :param reason: what speaks against it; "" for ``fits``.
    """

    label: str
    upper_below_top_mm: float
    row: int
    plate_mm: float
    rows_below: int
    rows_above: int
    lower_below_top_mm: float
    verdict: Verdict
    reason: str


def drilling_choices(case: Case) -> tuple[DrillingChoice, ...]:
    """Return where a bare transom may be drilled, with what each height keeps in hand.

    One choice per bolt row, which puts the target's middle on that row, and the trade's figure.
    Empty when the engine clamps on, hangs on a bracket, or a reading is missing.
    """
    height, rake, band = case.heights.along_face, case.job.transom.rake, case.band
    if case.bracket or not case.pattern.is_bolted or band is None:
        return ()
    if height is None or rake is None or case.leg is None:
        return ()
    level = plate_at(case, _bare_lift(), case.leg.reading)
    assert level is not None  # noqa: S101 - height and rake are there
    slope = math.cos(math.radians(rake.value))
    wanted = (band.middle_mm - level.value) / slope
    rows = case.pattern.upper_rows_mm
    heights = [(f"target on row {index + 1}", row - wanted) for index, row in enumerate(rows)]
    heights.append(("trade figure", UPPER_HOLES_DEFAULT_MM))
    return tuple(
        _choice(case, label, below, level.value, slope) for label, below in heights if below > 0.0
    )


def _bare_lift() -> Estimate:
    zero = {name: exact(0.0) for name in ("row", "upper_holes", "bracket")}
    return estimate(sum_of_lift, zero)


def _choice(
    case: Case, label: str, below_mm: float, level_mm: float, slope: float
) -> DrillingChoice:
    band = case.band
    assert band is not None  # noqa: S101 - checked by the caller
    rows = case.pattern.upper_rows_mm
    lifts = [row - below_mm for row in rows]
    usable = [index for index, lift in enumerate(lifts) if lift >= -1e-9] or [len(rows) - 1]
    nearest = min(usable, key=lambda i: abs(level_mm + lifts[i] * slope - band.middle_mm))
    rows_below = sum(1 for index in usable if index < nearest)
    rows_above = len(rows) - 1 - nearest
    lower = below_mm + case.pattern.lower_below_upper_mm
    verdict, reason = _judge_choice(case, below_mm, lower, rows_below, rows_above)
    plate = level_mm + lifts[nearest] * slope
    if lifts[nearest] < -1e-9:
        verdict, reason = Verdict.STOPS, REASON_LOW
    elif band.limits.judge(plate, 0.0) is Verdict.STOPS:
        verdict, reason = Verdict.STOPS, "no row reaches the target"
    return DrillingChoice(
        label, below_mm, nearest + 1, plate, rows_below, rows_above, lower, verdict, reason
    )


def _judge_choice(
    case: Case, upper_mm: float, lower_mm: float, rows_below: int, rows_above: int
) -> tuple[Verdict, str]:
    lowest = case.job.transom.lowest_bolt
    if upper_mm < UPPER_EDGE_MIN_MM:
        return Verdict.STOPS, "upper holes too near the transom top"
    if lowest is not None and lower_mm > lowest.value:
        return Verdict.STOPS, "lower holes below the sound zone"
    if lowest is None:
        return Verdict.UNKNOWN, "sound zone inside not measured"
    if case.leg is not None and not case.leg.is_measured:
        return Verdict.UNKNOWN, _REASONS["stated"]
    if not rows_below:
        return Verdict.TIGHT, "no row left to go lower"
    if not rows_above:
        return Verdict.TIGHT, "no row left to go higher"
    return Verdict.FITS, ""
