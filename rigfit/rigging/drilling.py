"""Where a bare transom may be drilled, and what each height of the holes keeps in hand."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.rigging.case import UPPER_HOLES_DEFAULT_MM, Band, Case
from rigfit.rigging.findings import Limits, Verdict, at_best
from rigfit.rigging.mounting_options import REASON_LOW, judge_plate, lift_at, plate_at
from rigfit.rigging.tolerance import Estimate, exact, expanded

UPPER_EDGE_MIN_MM = 44.45
"""Upper holes never nearer to the transom top than 1 3/4 in (trade figure, read)."""


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
    :param verdict: ``fits`` when the plate fits, a row is to spare each way and all holes are in
        the sound zone, all of it by tape.
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
    rake, band = case.job.transom.rake, case.band
    if case.bracket or not case.pattern.is_bolted or band is None:
        return ()
    if case.heights.along_face is None or rake is None or case.leg is None:
        return ()
    # On a bare transom the seat at the top is lift 0; how far up the target is, along the face:
    level = plate_at(case, lift_at(case, 1, exact(case.pattern.upper_rows_mm[0])), case.leg.reading)
    if level is None:
        return ()
    wanted = (band.middle_mm - level.value) / math.cos(math.radians(rake.value))
    rows = case.pattern.upper_rows_mm
    heights = [(f"target on row {index + 1}", row - wanted) for index, row in enumerate(rows)]
    heights.append(("trade figure", UPPER_HOLES_DEFAULT_MM))
    return tuple(_choice(case, band, label, below) for label, below in heights if below > 0.0)


def _choice(case: Case, band: Band, label: str, below_mm: float) -> DrillingChoice:
    rows = case.pattern.upper_rows_mm
    plates = [_plate(case, row, below_mm) for row in range(1, len(rows) + 1)]
    usable = [index for index, row in enumerate(rows) if row - below_mm >= -1e-9]
    candidates = usable or [len(rows) - 1]
    nearest = min(candidates, key=lambda index: abs(plates[index].value - band.middle_mm))
    rows_below = sum(1 for index in usable if index < nearest)
    rows_above = len(rows) - 1 - nearest
    lower = below_mm + case.pattern.lower_below_upper_mm
    answers = [
        (Verdict.FITS, "") if usable else (Verdict.STOPS, REASON_LOW),
        judge_plate(case, plates[nearest], band),
        _judge_holes(case, below_mm, lower),
        _judge_spare(rows_below, rows_above),
    ]
    verdict, reason = max(answers, key=lambda answer: answer[0].rank)
    return DrillingChoice(
        label,
        below_mm,
        nearest + 1,
        plates[nearest].value,
        rows_below,
        rows_above,
        lower,
        verdict,
        reason,
    )


def _plate(case: Case, row: int, below_mm: float) -> Estimate:
    assert case.leg is not None  # noqa: S101 - the caller looked
    plate = plate_at(case, lift_at(case, row, exact(below_mm)), case.leg.reading)
    assert plate is not None  # noqa: S101 - height and rake are there
    return plate


def _judge_holes(case: Case, upper_mm: float, lower_mm: float) -> tuple[Verdict, str]:
    lowest, between = case.job.transom.lowest_bolt, case.candidate.upper_to_lower
    if upper_mm < UPPER_EDGE_MIN_MM:
        return Verdict.STOPS, "upper holes too near the transom top"
    if lowest is None:
        return Verdict.UNKNOWN, "sound zone inside not measured"
    spread = expanded(lowest.tolerance, between.tolerance if between else 0.0)
    verdict = Limits(high=lowest.value).judge(lower_mm, spread)
    if verdict is Verdict.STOPS:
        return verdict, "lower holes below the sound zone"
    if between is None:
        return at_best(verdict, Verdict.TIGHT), "bracket's hole rows not measured"
    return verdict, "" if verdict is Verdict.FITS else "lower holes at the edge of the sound zone"


def _judge_spare(rows_below: int, rows_above: int) -> tuple[Verdict, str]:
    if not rows_below:
        return Verdict.TIGHT, "no row left to go lower"
    if not rows_above:
        return Verdict.TIGHT, "no row left to go higher"
    return Verdict.FITS, ""
