"""Where bolts come out inside: places where no washer or plate can sit, and how near they are.

Places inside are measured projected square to the outer face, so that a bolt square to the face
comes out where it went in. A drill held off square drifts by thickness times the tangent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rigfit.rigging.findings import Limits, Verdict, at_best
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.transom_map import NoGo


@dataclass(frozen=True, slots=True)
class Place:
    """A rectangle on the transom whose upper corners are rounded.

    :param name: how it is called in print.
    :param left_mm: port edge, from the centreline, + to starboard.
    :param right_mm: starboard edge.
    :param top_mm: upper edge, below the transom top.
    :param bottom_mm: lower edge.
    :param radius_mm: radius of the upper corners; cut to what the sides allow.
    :param tolerance_mm: half-width of the tolerance of its edges.
    :param is_swapped: True when "from" and "to" were entered the wrong way round.
    """

    name: str
    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float
    radius_mm: float = 0.0
    tolerance_mm: float = 0.0
    is_swapped: bool = False

    def grown(self, half_width_mm: float, half_height_mm: float) -> Place:
        """Return the place a rectangle's middle must stay out of, for the rectangle to miss it."""
        return replace(
            self,
            left_mm=self.left_mm - half_width_mm,
            right_mm=self.right_mm + half_width_mm,
            top_mm=self.top_mm - half_height_mm,
            bottom_mm=self.bottom_mm + half_height_mm,
        )

    def distance_mm(self, across_mm: float, below_mm: float) -> float:
        """Return the distance of a point from the place's rim, negative inside it."""
        half = (self.right_mm - self.left_mm) / 2.0
        radius = max(0.0, min(self.radius_mm, half, self.bottom_mm - self.top_mm))
        aside = abs(across_mm - (self.left_mm + self.right_mm) / 2.0) - half
        above, under = self.top_mm - below_mm, below_mm - self.bottom_mm
        if aside > -radius and above > -radius:  # nearest to a rounded upper corner
            return math.hypot(aside + radius, above + radius) - radius
        down = max(above, under)
        if aside > 0.0 and down > 0.0:
            return math.hypot(aside, down)
        return max(aside, down)


@dataclass(frozen=True, slots=True)
class Footprint:
    """What bears on the inside of the transom under the nuts.

    :param label: how it is called in print ("washers 38 mm", "plate 400 x 80 mm").
    :param radius_mm: radius of the washers; 0 for a plate.
    :param half_width_mm: half the width of a plate; 0 for washers.
    :param half_height_mm: half the height of a plate; 0 for washers.
    :param origin: ``DEFAULT`` where nobody chose; such a footprint never lets a verdict fit.
    :param need: the field of the job that would settle it.
    """

    label: str
    radius_mm: float
    half_width_mm: float = 0.0
    half_height_mm: float = 0.0
    origin: Origin = Origin.DEFAULT
    need: str = "bolting.washer"

    @property
    def is_plate(self) -> bool:
        """True for a backing plate, which may join several bolts."""
        return self.half_width_mm > 0.0


@dataclass(frozen=True, slots=True)
class BoltExit:
    """Where one bolt comes out inside, and the place that is nearest to what bears there.

    :param feature: the hole.
    :param seat: middle of its washer, or of the plate that it shares, as (across, below top).
    :param drift_mm: how far the drill may wander in the thickness; None while it is not measured.
    :param place: name of the nearest place, "" where there is none.
    :param clear_mm: from the rim of washer or plate to that place, hole square; negative inside.
    :param tolerance_mm: expanded tolerance of it.
    :param verdict: ``fits`` when it stays clear even with the drill off square.
    """

    feature: Feature
    seat: tuple[float, float]
    drift_mm: float | None
    place: str
    clear_mm: float
    tolerance_mm: float
    verdict: Verdict


def place_of(number: int, item: NoGo) -> Place | None:
    """Return a no-go place of the job with its edges in order; None while an edge is missing."""
    edges = (item.across_from, item.across_to, item.below_from, item.below_to)
    across_from, across_to, below_from, below_to = edges
    if across_from is None or across_to is None or below_from is None or below_to is None:
        return None
    return Place(
        name=item.name or f"{item.kind} {number}",
        left_mm=min(across_from.value, across_to.value),
        right_mm=max(across_from.value, across_to.value),
        top_mm=min(below_from.value, below_to.value),
        bottom_mm=max(below_from.value, below_to.value),
        radius_mm=item.corner_radius.value if item.corner_radius else 0.0,
        tolerance_mm=max(edge.tolerance for edge in edges if edge is not None),
        is_swapped=across_from.value > across_to.value or below_from.value > below_to.value,
    )


def drift_mm(thickness_mm: float, off_deg: float) -> float:
    """Return how far a drill off square has wandered on the far side: t tan(a); a below 90 deg."""
    return thickness_mm * math.tan(math.radians(off_deg))


def bearing_seats(
    features: Sequence[Feature], footprint: Footprint
) -> tuple[tuple[float, float], ...]:
    """Return the middle of the washer or plate of every feature, as (across, below top).

    A washer sits round its bolt. A plate at least as wide as the bolts of a row are apart joins
    the row; one that is also as high as the rows are apart joins all of an engine.
    """
    return tuple(_seat(feature, features, footprint) for feature in features)


def _seat(
    feature: Feature, features: Sequence[Feature], footprint: Footprint
) -> tuple[float, float]:
    across, below = feature.across_mm, feature.below_top_mm
    if not footprint.is_plate:
        return across, below
    own = [item for item in features if item.engine == feature.engine]
    row = [item.across_mm for item in own if abs(item.below_top_mm - below) < 1.0]
    wide = 2.0 * footprint.half_width_mm
    if max(row) - min(row) > wide:
        return across, below
    across = (max(row) + min(row)) / 2.0
    every = [item.across_mm for item in own]
    downs = [item.below_top_mm for item in own]
    joins_all = max(every) - min(every) <= wide
    if joins_all and max(downs) - min(downs) <= 2.0 * footprint.half_height_mm:
        below = (max(downs) + min(downs)) / 2.0
    return across, below


def bolt_exits(
    features: Sequence[Feature],
    tolerances_mm: Sequence[float],
    places: Sequence[Place],
    footprint: Footprint,
    thickness: Reading | None,
    off_deg: float,
) -> tuple[BoltExit, ...]:
    """Return where every bolt comes out inside, with the nearest no-go place.

    :param tolerances_mm: expanded tolerance of each feature's position.
    :param thickness: of the transom; without it nothing that might drift there reads ``fits``.
    """
    drift = None if thickness is None else drift_mm(thickness.value, off_deg)
    exits = []
    seats = bearing_seats(features, footprint)
    for feature, spread, seat in zip(features, tolerances_mm, seats, strict=True):
        name, clear, edge = "", math.inf, 0.0
        for place in places:
            grown = place.grown(footprint.half_width_mm, footprint.half_height_mm)
            found = grown.distance_mm(*seat) - footprint.radius_mm
            if found < clear:
                name, clear, edge = place.name, found, place.tolerance_mm
        whole = math.hypot(spread, expanded(edge))
        verdict = judge_exit(clear, whole, drift, footprint) if name else Verdict.FITS
        exits.append(BoltExit(feature, seat, drift, name, clear, whole, verdict))
    return tuple(exits)


def judge_exit(
    clear_mm: float, tolerance_mm: float, drift: float | None, footprint: Footprint
) -> Verdict:
    """Return the verdict on a bearing that is ``clear_mm`` from a no-go place, hole square.

    Without the thickness it stops where even a square hole runs in, and is unknown else.
    """
    if drift is None:
        square = Limits(low=0.0).judge(clear_mm, tolerance_mm)
        return square if square is Verdict.STOPS else Verdict.UNKNOWN
    verdict = Limits(low=drift, outer_low=0.0).judge(clear_mm, tolerance_mm)
    return verdict if footprint.origin.is_firm else at_best(verdict, Verdict.TIGHT)
