"""A case: one candidate engine on the job's boat, with every number it needs resolved.

Resolving decides which reading counts and what stands in where nobody measured, and keeps the
origin of each number, so that a finding can tell a tape reading from a class figure.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, wraps
from typing import TypeVar

from rigfit.rigging.bracket import Arms, TransomBracket
from rigfit.rigging.candidate import Candidate
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.findings import Limits
from rigfit.rigging.hole_pattern import HolePattern
from rigfit.rigging.hull import HullKind
from rigfit.rigging.job import Job
from rigfit.rigging.outboard import EngineClass, LegClass, leg_class_of
from rigfit.rigging.plate_height import raise_off_centre_mm
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate
from rigfit.rigging.transom import (
    GAP_STATIONS_MM,
    HOOK_STOP_MM,
    Heights,
    KeelShape,
    combine_heights,
    keel_shape,
)

UPPER_HOLES_DEFAULT_MM = 47.625
"""1 7/8 in below the transom top: the trade's figure for a transom not drilled yet (read)."""

SETBACK_RISE_LOW = 20.0 / 300.0
SETBACK_RISE = 25.0 / 300.0
SETBACK_RISE_HIGH = 35.0 / 300.0
"""Rise of the plate per mm of setback to the seat: custom, and the spread of the sources."""

Answer = TypeVar("Answer")

_CLASS_HOLES_MM = 3.0
_CLASS_SETBACK_MM = 10.0
_PROPELLER_TOLERANCE_MM = 60.0
_STATED_LEG_MM = 25.0


@dataclass(frozen=True, slots=True)
class Leg:
    """What is known of a leg.

    :param reading: the number to calculate with; for a stated leg the middle of what engines of
        that class really have, with half that spread as tolerance.
    :param stated: the class the stated length belongs to, None when nothing was stated or it
        falls between classes.
    """

    reading: Reading
    stated: LegClass | None = None

    @property
    def is_measured(self) -> bool:
        """True when somebody measured it."""
        return self.reading.origin is Origin.MEASURED

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Shortest and longest the leg can be."""
        return (
            self.reading.value - self.reading.tolerance,
            self.reading.value + self.reading.tolerance,
        )


def resolve_leg(candidate: Candidate) -> Leg | None:
    """Return the leg to calculate with: measured, else as stated with its spread, else None."""
    stated = candidate.leg_stated
    leg_class = leg_class_of(stated.value) if stated else None
    if candidate.leg_measured:
        return Leg(candidate.leg_measured, leg_class)
    if not stated:
        return None
    if leg_class is None:
        low, high = stated.value - _STATED_LEG_MM, stated.value + _STATED_LEG_MM
    else:
        low, high = min(leg_class.low_mm, stated.value), max(leg_class.high_mm, stated.value)
    middle = Reading((low + high) / 2.0, (high - low) / 2.0, Origin.STATED, stated.typed)
    return Leg(middle, leg_class)


@dataclass(frozen=True, slots=True)
class Rise:
    """How much higher the plate may sit behind a setback, with the spread of the sources, mm."""

    low_mm: float = 0.0
    mid_mm: float = 0.0
    high_mm: float = 0.0
    source: str = "setback-custom"


@dataclass(frozen=True, slots=True)
class Band:
    """The target for the plate, after setback, off-centre raise and the owner's own shift.

    :param low_mm: lower end, plate above the keel line.
    :param high_mm: upper end.
    :param limits: what a plate height is judged by: the band narrowed by the spread of the setback
        rule, inside the range that is still tolerated.
    :param source: key of the band.
    """

    low_mm: float
    high_mm: float
    limits: Limits
    source: str

    @property
    def middle_mm(self) -> float:
        """The middle of the band."""
        return (self.low_mm + self.high_mm) / 2.0

    def off_mm(self, height_mm: float) -> float:
        """Return how far a plate height is above (+) or below (-) the band; 0 inside it."""
        return max(0.0, height_mm - self.high_mm) + min(0.0, height_mm - self.low_mm)


@dataclass(frozen=True)
class Case:
    """One candidate engine on the boat of a job. Not slotted: results are cached on it."""

    job: Job
    catalogue: Catalogue
    candidate: Candidate

    @cached_property
    def engine(self) -> EngineClass:
        """The candidate's generic class."""
        return self.catalogue.engine_class(self.candidate.engine_class)

    @cached_property
    def hull(self) -> HullKind | None:
        """The hull kind, or None while the job does not say."""
        key = self.job.boat.hull_kind
        return self.catalogue.hull_kind(key) if key else None

    @cached_property
    def bracket(self) -> TransomBracket | None:
        """The setback bracket, or None when the engine hangs on the transom itself."""
        key = self.job.bracket.kind
        return None if key in ("", "none") else self.catalogue.bracket(key)

    @cached_property
    def heights(self) -> Heights:
        """The transom height, from whichever readings there are."""
        transom = self.job.transom
        return combine_heights(transom.height_along_face, transom.height_square, transom.rake)

    @cached_property
    def keel(self) -> KeelShape | None:
        """The shape of the keel line, or None while the gaps are not taken."""
        gaps = {
            station: reading
            for station in GAP_STATIONS_MM
            if (reading := getattr(self.job.keel_line, f"gap_{station:.0f}")) is not None
        }
        return keel_shape(gaps)

    @cached_property
    def keel_is_bent(self) -> bool:
        """True for a hook or rocker so deep that no height advice is worth giving."""
        depth = self.keel.depth if self.keel else None
        return depth is not None and depth.value > HOOK_STOP_MM + depth.tolerance

    @cached_property
    def leg(self) -> Leg | None:
        """The leg, or None when neither stated nor measured."""
        return resolve_leg(self.candidate)

    @cached_property
    def pattern(self) -> HolePattern:
        """The engine's hole pattern, its measured figures in place of those of the class."""
        return measured_pattern(self.catalogue.hole_pattern(self.engine.pattern), self.candidate)

    @cached_property
    def pattern_is_measured(self) -> bool:
        """True when all figures that place the engine's holes were measured on the engine."""
        asked = (
            self.candidate.first_row,
            self.candidate.upper_spacing,
            self.candidate.lower_spacing,
            self.candidate.upper_to_lower,
        )
        return all(reading is not None for reading in asked)

    @cached_property
    def transom_pattern(self) -> HolePattern:
        """The pattern drilled in the transom: the engine's, or the setback bracket's."""
        if self.bracket is None:
            return self.pattern
        return self.catalogue.hole_pattern(self.bracket.pattern)

    @cached_property
    def upper_holes(self) -> Reading:
        """Upper holes below the top of what carries the engine: transom or bracket."""
        if self.bracket is not None:
            own = self.job.bracket.engine_holes
            return own or Reading(self.bracket.engine_holes_mm, _CLASS_HOLES_MM, Origin.CLASS)
        given = self.job.mounting.upper_holes_below_top
        return given or Reading(UPPER_HOLES_DEFAULT_MM, 0.0, Origin.DEFAULT)

    @cached_property
    def arms(self) -> Arms:
        """Direction in which the bracket carries the seat aft."""
        said = self.job.bracket.direction
        if self.bracket is None or said in ("square", "level"):
            return Arms(said) if said in ("square", "level") else Arms.SQUARE
        return self.bracket.arms

    @cached_property
    def setback(self) -> Reading:
        """Setback to the seat; a reading to the propeller is reduced by the class's distance."""
        if self.bracket is None:
            return Reading(0.0, 0.0, Origin.CHOSEN)
        given = self.job.bracket.setback
        if given is None:
            return Reading(self.bracket.setback_mm, _CLASS_SETBACK_MM, Origin.CLASS)
        if self.job.bracket.measured_to != "propeller":
            return given
        aft = self.engine.sizes.propeller_aft
        spread = math.hypot(given.tolerance, _PROPELLER_TOLERANCE_MM)
        return replace(
            given, value=max(0.0, given.value - aft), tolerance=spread, origin=Origin.CLASS
        )

    @cached_property
    def setback_is_ambiguous(self) -> bool:
        """True when a setback was typed but not what it was measured to."""
        said = self.job.bracket.measured_to
        return (
            self.bracket is not None
            and self.job.bracket.setback is not None
            and said not in ("seat", "propeller")
        )

    @cached_property
    def bracket_height(self) -> Reading:
        """Top of the bracket above the transom top at its lowest setting; 0 without a bracket."""
        if self.bracket is None:
            return Reading(0.0, 0.0, Origin.CHOSEN)
        if self.job.bracket.height is not None:
            return self.job.bracket.height
        holes = self.job.mounting.upper_holes_below_top
        pattern = self.transom_pattern
        if holes is not None and pattern.is_bolted:
            above = pattern.upper_rows_mm[0] - holes.value
            # The holes were measured, but not how far below its top the bracket has its own.
            return Reading(above, holes.tolerance + _CLASS_HOLES_MM, Origin.CLASS)
        return Reading(self.bracket.height_mm, 5.0, Origin.CLASS)

    @cached_property
    def rise(self) -> Rise:
        """Rise of the plate for the setback."""
        own = self.job.target.setback_rise
        if self.bracket is None:
            return Rise()
        if own is not None:
            return Rise(own.value, own.value, own.value, "job")
        back = self.setback.value
        return Rise(back * SETBACK_RISE_LOW, back * SETBACK_RISE, back * SETBACK_RISE_HIGH)

    @cached_property
    def centre_raise(self) -> Estimate | None:
        """Raise for an engine off the centreline; None when the deadrise is missing."""
        off = self.job.mounting.off_centre
        if off is None or off.value == 0.0:
            return Estimate(0.0, 0.0)
        deadrise = self.job.boat.deadrise
        if deadrise is None:
            return None
        return estimate(
            lambda values: raise_off_centre_mm(values["off"], values["deadrise"]),
            {"off": off, "deadrise": deadrise},
        )

    @cached_property
    def band(self) -> Band | None:
        """The target band, or None while hull kind and job leave it open."""
        return _band(self)


def measured_pattern(pattern: HolePattern, candidate: Candidate) -> HolePattern:
    """Return a pattern with the candidate's own measured figures put in."""
    changes: dict[str, float | tuple[float, ...]] = {}
    if pattern.is_bolted and (candidate.first_row or candidate.row_pitch):
        rows = pattern.upper_rows_mm
        first = candidate.first_row.value if candidate.first_row else rows[0]
        pitch = candidate.row_pitch.value if candidate.row_pitch else None
        changes["upper_rows_mm"] = tuple(
            first + (pitch * index if pitch is not None else rows[index] - rows[0])
            for index in range(len(rows))
        )
    for key, reading in (
        ("upper_spacing_mm", candidate.upper_spacing),
        ("lower_spacing_mm", candidate.lower_spacing),
        ("lower_below_upper_mm", candidate.upper_to_lower),
    ):
        if reading is not None:
            changes[key] = reading.value
    return replace(pattern, **changes) if changes else pattern  # type: ignore[arg-type]


def _band(case: Case) -> Band | None:
    target, hull = case.job.target, case.hull
    low = target.low.value if target.low else hull.low_mm if hull else None
    high = target.high.value if target.high else hull.high_mm if hull else None
    if low is None or high is None or low > high:
        return None
    own = target.low is not None or target.high is not None
    outer_low = low if own or hull is None or hull.outer_low_mm is None else hull.outer_low_mm
    outer_high = high if own or hull is None or hull.outer_high_mm is None else hull.outer_high_mm
    shift = (target.offset.value if target.offset else 0.0) + (
        case.centre_raise.value if case.centre_raise else 0.0
    )
    rise = case.rise
    limits = Limits(
        low + rise.high_mm + shift,
        high + rise.low_mm + shift,
        min(low, outer_low) + rise.low_mm + shift,
        max(high, outer_high) + rise.high_mm + shift,
    )
    return Band(
        low + rise.mid_mm + shift,
        high + rise.mid_mm + shift,
        limits,
        "job" if own or hull is None else hull.source,
    )


def once_a_case(function: Callable[[Case], Answer]) -> Callable[[Case], Answer]:
    """Return a function whose answer is kept on the case, so that every check may ask for it.

    What it raises is not kept.
    """
    name = f"{function.__module__}.{function.__qualname__}"

    @wraps(function)
    def kept(case: Case) -> Answer:
        known = vars(case)
        if name not in known:
            known[name] = function(case)
        answer: Answer = known[name]
        return answer

    return kept


class CaseKey:
    """A case that counts as the same while nothing of it that decides an answer has changed.

    For ``lru_cache``: the catalogue counts by identity and lives as long as the key does.

    :param parts: the parts of the job that decide the answer; all can be hashed.
    """

    def __init__(self, case: Case, *parts: object) -> None:
        self.case, self.parts = case, (*parts, case.candidate, id(case.catalogue))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, CaseKey) and self.parts == other.parts

    def __hash__(self) -> int:
        return hash(self.parts)
