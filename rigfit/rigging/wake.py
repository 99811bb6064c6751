"""The water behind a planing boat's transom, after Savitsky and Morabito (2010), and by the trade.

D. Savitsky and M. Morabito, "Surface wave contours associated with the forebody wake of stepped
planing hulls", Marine Technology 47(1), 2010, 1-16. In beams, with the trim t in degrees:

    H = 0.17 (A + 0.03 Lk t^1.5) sin((pi / Cv) (x / 3)^1.5)

The coefficients were read in a public code of a later thesis and recalled; the paper itself was not
read. H is counted from the extended keel line on the centreline, and from the extended buttock a
quarter beam off it. Lengths mm, angles degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from rigfit.rigging.case import SETBACK_RISE
from rigfit.rigging.planing import Planing

CENTRE_A = 1.5
CENTRE_STEEP_A = 2.0
QUARTER_A = 0.75
STEEP_DEG = 15.0
"""The profile's constant A: centreline up to 15 degrees of deadrise, above, and quarter beam."""

DEADRISE_RANGE_DEG = (10.0, 30.0)
TRIM_RANGE_DEG = (3.0, 5.0)
CV_RANGE = (4.0, 8.0)
FURTHEST_BEAMS = 3.0
"""Range of the tests behind it (from memory, not firmly)."""

RULE_NAME = "trade's rule, 25 mm per 300 mm"
"""How ``rule_mm`` is called on a drawing."""


class Line(Enum):
    """Where the surface is followed; the value names the line its height is counted from."""

    CENTRE = "extended keel line"
    QUARTER = "extended buttock a quarter beam off the centreline"


@dataclass(frozen=True, slots=True)
class Wake:
    """What the surface behind a boat depends on.

    :param beam_mm: between the chines.
    :param keel_mm: wetted length of the keel.
    :param trim_deg: running trim.
    :param cv: speed coefficient V / sqrt(g b).
    :param deadrise_deg: of the bottom at the transom.
    """

    beam_mm: float
    keel_mm: float
    trim_deg: float
    cv: float
    deadrise_deg: float

    def rise_mm(self, aft_mm: float, line: Line = Line.CENTRE) -> float:
        """Return the surface above its line at a distance aft of the transom, 0 at the transom.

        :param aft_mm: along the keel line, not negative.
        """
        a = QUARTER_A
        if line is Line.CENTRE:
            a = CENTRE_A if self.deadrise_deg <= STEEP_DEG else CENTRE_STEEP_A
        beams = max(aft_mm, 0.0) / self.beam_mm
        size = 0.17 * (a + 0.03 * self.keel_mm / self.beam_mm * math.pow(self.trim_deg, 1.5))
        return self.beam_mm * size * math.sin(math.pi / self.cv * math.pow(beams / 3.0, 1.5))

    def surface_mm(self, aft_mm: float, across_mm: float = 0.0) -> float:
        """Return the surface above the keel line, + up, behind the middle half of the beam.

        On the centreline and a quarter beam off it these are the two profiles; between them a
        straight line, which is rigfit's own.

        :param across_mm: off the centreline, either way, up to a quarter of the beam.
        """
        quarter = self.beam_mm / 4.0
        share = min(abs(across_mm) / quarter, 1.0)
        outer = quarter * math.tan(math.radians(self.deadrise_deg))
        outer += self.rise_mm(aft_mm, Line.QUARTER)
        return (1.0 - share) * self.rise_mm(aft_mm) + share * outer

    def peak_mm(self) -> float:
        """Return how far aft the surface is highest: 3 b (Cv / 2)^(2/3)."""
        return 3.0 * self.beam_mm * math.pow(self.cv / 2.0, 2.0 / 3.0)

    def doubts(self, aft_mm: float = 0.0, across_mm: float = 0.0) -> tuple[str, ...]:
        """Return in words what makes the surface at a place an extrapolation; none inside."""
        said = []
        for name, value, (low, high), unit in (
            ("speed coefficient", self.cv, CV_RANGE, ""),
            ("trim", self.trim_deg, TRIM_RANGE_DEG, "°"),
            ("deadrise", self.deadrise_deg, DEADRISE_RANGE_DEG, "°"),
        ):
            if not low <= value <= high:
                said.append(f"{name} {value:.1f}{unit} is outside {low:g} to {high:g}{unit}")
        if aft_mm > FURTHEST_BEAMS * self.beam_mm:
            said.append(f"it is more than {FURTHEST_BEAMS:g} beams aft")
        if abs(across_mm) > self.beam_mm / 4.0:
            said.append("it is more than a quarter beam off the centreline")
        return tuple(said)


def wake_of(state: Planing, beam_mm: float, deadrise_deg: float) -> Wake:
    """Return the wake of a planing state."""
    return Wake(beam_mm, state.keel_mm, state.trim_deg, state.cv, deadrise_deg)


def rule_mm(aft_mm: float) -> float:
    """Return the trade's height for a plate so far aft: 25 mm for each 300 mm, from the keel line.

    Custom, no standard: it sets the plate clear of the water rather than following its surface.
    """
    return SETBACK_RISE * aft_mm


@dataclass(frozen=True, slots=True)
class PlateWater:
    """The surface at a plate and propeller, heights above the keel line.

    :param aft_mm: middle of the plate aft of the transom's foot.
    :param surface_mm: water at the middle of the plate; ``front_mm`` and ``aft_edge_mm`` at its
        ends.
    :param plate_mm: underside of the plate.
    :param rule_mm: what the trade's rule gives at the middle of the plate.
    :param tip_mm: how deep the propeller's upper tip is under water; negative above it.
    :param doubts: why this is an extrapolation, in words.
    """

    aft_mm: float
    surface_mm: float
    front_mm: float
    aft_edge_mm: float
    plate_mm: float
    rule_mm: float
    tip_mm: float
    doubts: tuple[str, ...]

    @property
    def clear_mm(self) -> float:
        """The plate above the water, negative below it."""
        return self.plate_mm - self.surface_mm


@dataclass(frozen=True, slots=True)
class PlatePlace:
    """Where a plate and propeller are, mm from the transom's foot and the keel line.

    :param front_mm: and ``aft_edge_mm``: ends of the plate, aft of the foot.
    :param plate_mm: its underside above the keel line, plate level.
    :param shaft_aft_mm: propeller aft of the foot; ``shaft_below_mm`` its shaft below the plate.
    :param radius_mm: of the propeller.
    :param across_mm: off the centreline.
    """

    front_mm: float
    aft_edge_mm: float
    plate_mm: float
    shaft_aft_mm: float
    shaft_below_mm: float
    radius_mm: float
    across_mm: float = 0.0


def water_at(wake: Wake, place: PlatePlace) -> PlateWater:
    """Return the predicted surface at a plate that is parallel to the keel line."""
    middle = (place.front_mm + place.aft_edge_mm) / 2.0

    def surface(aft_mm: float) -> float:
        return wake.surface_mm(aft_mm, place.across_mm)

    tip = place.plate_mm - place.shaft_below_mm + place.radius_mm
    return PlateWater(
        aft_mm=middle,
        surface_mm=surface(middle),
        front_mm=surface(place.front_mm),
        aft_edge_mm=surface(place.aft_edge_mm),
        plate_mm=place.plate_mm,
        rule_mm=rule_mm(middle),
        tip_mm=surface(place.shaft_aft_mm) - tip,
        doubts=wake.doubts(place.aft_edge_mm, place.across_mm),
    )
