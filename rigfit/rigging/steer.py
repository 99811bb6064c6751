"""Steering: the hood seen from above, the gear that turns it, and two engines side by side.

Seen from above the frame is x aft, y to starboard from the centreline, origin at the transom's
upper outer edge. Steering is + with the propeller to starboard.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rigfit.errors import EntryError
from rigfit.rigging.case import Case
from rigfit.rigging.envelope import (
    Envelope,
    engine_envelope,
    engine_travel,
    mounted_option,
    off_centre_mm,
    placed_rings,
    rig_of,
    tilt_turn,
)
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.outline import Polygon
from rigfit.rigging.surroundings import DRAWN_HOOD, Solid, box_ring, surroundings
from rigfit.rigging.tilt_steer import WorstPlace, tilt_and_steer
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.turning import Touch, Turn, Turning

TIE_BAR_LOW_MM = 470.0
TIE_BAR_HIGH_MM = 749.0
"""Lengths an adjustable tie bar reaches, threads still in sight (a maker's rigging guide, read)."""

PIVOT_MM = 20.0
"""How far ahead or aft the steering axis may lie of where the class has it (rigfit's estimate)."""


@dataclass(frozen=True, slots=True)
class PlanGap:
    """How the turning hood stands to one solid, seen from above with the plate level.

    :param solid: the thing.
    :param touch: first contact turning out from straight ahead, or where the two come nearest.
    :param tolerance_mm: expanded uncertainty of the gap.
    """

    solid: Solid
    touch: Touch
    tolerance_mm: float


@dataclass(frozen=True, slots=True)
class PlanSteer:
    """The hood from lock to lock, plate level.

    :param turn: steering axis and locks.
    :param ring: outline of the hood straight ahead, drawn in by ``round_mm`` all round.
    :param round_mm: radius of its corners.
    :param gaps: one for each solid at the height of the hood, least first.
    """

    turn: Turn
    ring: Polygon
    round_mm: float
    gaps: tuple[PlanGap, ...]

    @property
    def worst(self) -> PlanGap | None:
        """The least clearance, or None with nothing at the height of the hood."""
        return self.gaps[0] if self.gaps else None


def plan_steer(
    case: Case,
    option: HeightOption | None = None,
    envelope: Envelope | None = None,
    solids: Sequence[Solid] | None = None,
) -> PlanSteer:
    """Return the hood's clearance seen from above, exact, with the plate level.

    Only solids that reach into the heights of the hood count. For another tilt see ``steer_at``.
    """
    option = option or mounted_option(case)
    envelope = envelope or engine_envelope(case)
    chosen = surroundings(case).solids if solids is None else tuple(solids)
    travel, axis = engine_travel(case), rig_of(case, option).axis()
    pivot = (axis[0] + envelope.steering_aft_mm, off_centre_mm(case))
    turn = Turn(pivot, -travel.lock_deg, travel.lock_deg)
    ring = _hood(envelope, pivot)
    low, high = _heights(envelope, axis[1])
    gaps = []
    for solid in chosen:
        below, above = solid.heights_mm
        if above > low and below < high and not solid.is_neighbour:
            touch = _plan_touch(ring, turn, envelope.corner_radius_mm, solid.plan_ring())
            gaps.append(PlanGap(solid, touch, _tolerance(case, envelope, solid, touch)))
    gaps.sort(key=lambda gap: gap.touch.gap_mm)
    return PlanSteer(turn, ring, envelope.corner_radius_mm, tuple(gaps))


def steer_at(
    case: Case, tilt_deg: float, option: HeightOption | None = None
) -> WorstPlace | None:  # fmt: skip
    """Return the worst place from lock to lock at one plate angle, in space; None with nothing."""
    turn = tilt_turn(case, option or mounted_option(case))
    still = Turn(turn.pivot, tilt_deg, tilt_deg)
    lock = engine_travel(case).lock_deg
    solids = [solid for solid in surroundings(case).solids if not solid.is_neighbour]
    return tilt_and_steer(engine_envelope(case), still, lock, off_centre_mm(case), solids)


@lru_cache(maxsize=256)
def _plan_touch(ring: Polygon, turn: Turn, round_mm: float, solid: Polygon) -> Touch:
    """Return where a hood comes nearest to a solid, or first touches it turning out."""
    touch = Turning([ring], turn, round_mm).least_gap(solid)
    return touch if touch.gap_mm > 0.0 else _outward(ring, turn, round_mm, solid) or touch


def _outward(ring: Polygon, turn: Turn, round_mm: float, solid: Polygon) -> Touch | None:
    """Return the first contact turning out from straight ahead, to the side where it is nearer."""
    start = Turn(turn.pivot, 0.0, turn.high_deg)
    one = Turning([ring], start, round_mm).first_within(solid)
    x, y = turn.pivot
    other = Turn((x, -y), 0.0, turn.high_deg)
    two = Turning([_flipped(ring)], other, round_mm).first_within(_flipped(solid))
    if two is None or (one is not None and one.angle_deg <= two.angle_deg):
        return one
    return replace(
        two,
        angle_deg=-two.angle_deg,
        on_moving=(two.on_moving[0], -two.on_moving[1]),
        on_fixed=(two.on_fixed[0], -two.on_fixed[1]),
    )


def _flipped(ring: Polygon) -> Polygon:
    return tuple((x, -y) for x, y in ring)


def _hood(envelope: Envelope, pivot: tuple[float, float]) -> Polygon:
    half, radius = 0.5 * envelope.cowl_length_mm, envelope.corner_radius_mm
    side = envelope.cowl_half_breadth_mm - radius
    middle = pivot[0] + envelope.cowl_aft_mm
    return box_ring(
        middle - half + radius, pivot[1] - side, middle + half - radius, pivot[1] + side
    )


def _heights(envelope: Envelope, axis_z: float) -> tuple[float, float]:
    """Return how low and high the hood reaches; of a drawn outline, what is above the axis."""
    names = [part.name for part in envelope.parts if part.name in ("cowl", "pan", DRAWN_HOOD)]
    rings = placed_rings(envelope, (0.0, axis_z), names)
    heights = [z for ring in rings for _, z in ring]
    return (min(heights) if names else axis_z), max(heights)


def _tolerance(case: Case, envelope: Envelope, solid: Solid, touch: Touch) -> float:
    ahead = (envelope.front_tolerance_mm, PIVOT_MM, solid.tolerances_mm[0])
    off = case.job.mounting.off_centre
    across = (envelope.side_tolerance_mm, solid.tolerances_mm[1], off.tolerance if off else 0.0)
    if touch.gap_mm <= 1e-6:
        return max(expanded(*ahead), expanded(*across))
    nx = (touch.on_moving[0] - touch.on_fixed[0]) / touch.gap_mm
    ny = (touch.on_moving[1] - touch.on_fixed[1]) / touch.gap_mm
    turned = math.radians(touch.angle_deg)
    own = (nx * math.cos(turned) + ny * math.sin(turned)) * envelope.front_tolerance_mm
    side = (ny * math.cos(turned) - nx * math.sin(turned)) * envelope.side_tolerance_mm
    pivot = pivot_share((nx, ny, 0.0), touch.angle_deg)
    return expanded(own, side, nx * ahead[2], ny * across[1], ny * across[2], pivot)


def pivot_share(
    away: tuple[float, float, float], steer_deg: float, tilt_deg: float = 0.0
) -> float:  # fmt: skip
    """Return by how much a gap may be off, mm, because the steering axis is the class's.

    A hood whose place straight ahead is measured moves by (1 - cos, -sin) of the angle for each
    mm that the axis lies further aft; with the engine tilted that is turned up with it.

    :param away: unit vector from the thing to the engine: aft, to starboard, up.
    :param steer_deg: angle of the steering, counted as in ``Touch.angle_deg``.
    :param tilt_deg: angle of the plate, propeller up +.
    """
    turned, tilted = math.radians(steer_deg), math.radians(tilt_deg)
    aft = away[0] * math.cos(tilted) + away[2] * math.sin(tilted)
    return PIVOT_MM * abs(aft * (1.0 - math.cos(turned)) - away[1] * math.sin(turned))


# --------------------------------------------------------------------------- steering gear


def ram_angle_deg(half_travel_mm: float, arm_mm: float) -> float:
    """Return the angle to which a ram square to the middle position turns an arm: asin(s / a).

    :raises EntryError: when the travel is not shorter than the arm.
    """
    if not 0.0 <= half_travel_mm < arm_mm:
        raise EntryError(
            f"a travel of {half_travel_mm:g} mm each way on an arm of {arm_mm:g} mm",
            allowed="the travel must be less than the arm is long",
            cure="measure both again; travel counts from the middle to one end",
            where="steering",
        )
    return math.degrees(math.asin(half_travel_mm / arm_mm))


def ram_off_line_mm(half_travel_mm: float, arm_mm: float) -> float:
    """Return how far the arm's end leaves the ram's line at the end: a - sqrt(a^2 - s^2).

    :raises EntryError: as ``ram_angle_deg``.
    """
    return arm_mm * (1.0 - math.cos(math.radians(ram_angle_deg(half_travel_mm, arm_mm))))


@dataclass(frozen=True, slots=True)
class SteeringGear:
    """The steering gear in the well. Every number is None where a reading for it is missing.

    :param angle_deg: to which the travel turns the engine, each way.
    :param off_line_mm: how far the arm's end leaves the rod's line.
    :param reach_mm: outermost end of rod or cylinder at full travel, from the engine's middle.
    :param wall_mm: the nearer side wall, from the engine's middle, on the side it comes out.
    :param clear_mm: room between that end and the wall.
    :param withdrawal_clear_mm: room left when the rod is drawn out; negative where it cannot be.
    :param hose_clear_mm: room ahead of the hoses to the front wall.
    :param is_over_wall: True where the rod passes above the side wall, which then is not in the
        way.
    """

    angle_deg: float | None
    off_line_mm: float | None
    reach_mm: float | None
    wall_mm: float | None
    clear_mm: float | None
    withdrawal_clear_mm: float | None
    hose_clear_mm: float | None
    is_over_wall: bool


def steering_gear(case: Case) -> SteeringGear:
    """Return how the steering gear goes into the well.

    :raises EntryError: when the travel is longer than the arm.
    """
    gear, well = case.job.steering, case.job.well
    axis = rig_of(case, mounted_option(case)).axis()
    angle = off_line = reach = wall = None
    if gear.half_travel and gear.arm_radius:
        angle = ram_angle_deg(gear.half_travel.value, gear.arm_radius.value)
        off_line = ram_off_line_mm(gear.half_travel.value, gear.arm_radius.value)
    if gear.half_travel and gear.tube_end and gear.beyond_tube:
        reach = gear.tube_end.value + gear.beyond_tube.value + gear.half_travel.value
    if well.width:
        off = off_centre_mm(case)
        rooms = {"starboard": 0.5 * well.width.value - off, "port": 0.5 * well.width.value + off}
        wall = rooms.get(gear.side, min(rooms.values()))
    sides = [item for item in surroundings(case).solids if "side of the well" in item.name]
    over = bool(sides) and not sides[0].assumed and sides[0].heights_mm[1] < axis[1] - 30.0
    drawn = (
        gear.tube_end.value + gear.withdrawal.value if gear.tube_end and gear.withdrawal else None
    )
    return SteeringGear(
        angle, off_line, reach, wall,
        None if reach is None or wall is None else wall - reach,
        None if drawn is None or wall is None else wall - drawn,
        _hose_clear(case, axis[0]),
        over,
    )  # fmt: skip


def _hose_clear(case: Case, axis_x: float) -> float | None:
    """Return the room ahead of the hoses, whose sweep reaches furthest straight ahead."""
    radius = case.job.steering.hose_radius
    walls = [item for item in surroundings(case).solids if item.name.startswith("front wall")]
    if radius is None or not walls:
        return None
    steering = axis_x + engine_envelope(case).steering_aft_mm
    return steering - radius.value - max(x for x, _ in walls[0].ring)


# --------------------------------------------------------------------------- two engines


@dataclass(frozen=True, slots=True)
class TwinsGap:
    """Two like engines side by side.

    :param spacing_mm: centre to centre.
    :param tied_mm: least gap between the hoods when a tie bar turns both together; below 0 by how
        far they overlap at full lock.
    :param free_mm: least gap with the bar off, each at the lock towards the other.
    :param tie_bar_reaches: True when a usual adjustable bar covers the spacing.
    :param toe_deg: by how much each is turned when steered straight, as reckoned with.
    """

    spacing_mm: float
    tied_mm: float
    free_mm: float
    tie_bar_reaches: bool
    toe_deg: float = 0.0


def twins_of(case: Case) -> TwinsGap | None:
    """Return the gaps between the twins of a job, None without twins or their distance.

    Toe is read at the propeller shafts, so its angle rests on how far aft of the steering axis the
    propeller is; that is the class's.
    """
    neighbour = case.job.neighbour
    if neighbour.arrangement != "twins" or neighbour.twin_spacing is None:
        return None
    envelope, toe_deg = engine_envelope(case), 0.0
    if neighbour.twin_toe is not None:
        engine = case.engine
        arm = engine.sizes.propeller_aft - engine.axis_out_mm - envelope.steering_aft_mm
        toe_deg = math.degrees(math.atan2(0.5 * neighbour.twin_toe.value, arm))
    return twins_gap(envelope, engine_travel(case).lock_deg, neighbour.twin_spacing.value, toe_deg)


def twins_gap(
    envelope: Envelope, lock_deg: float, spacing_mm: float, toe_deg: float = 0.0
) -> TwinsGap:
    """Return the gaps between two like engines, hoods as boxes with square corners (safe side).

    Tied, both turn alike, so the one hood is the other moved by the spacing: the gap is that of the
    vector between them to the box twice as large. Free, each leans over as far as its corner
    reaches at any angle up to the lock, and the two meet like mirror images.

    :param toe_deg: by how much each engine is turned when steered straight, either way.
    """
    lock = math.radians(lock_deg + abs(toe_deg))
    half, side = 0.5 * envelope.cowl_length_mm, envelope.cowl_half_breadth_mm
    front, back = envelope.cowl_aft_mm - half, envelope.cowl_aft_mm + half
    box = box_ring(-2.0 * half, -2.0 * side, 2.0 * half, 2.0 * side)
    vector = ((-1e-4, spacing_mm), (1e-4, spacing_mm), (0.0, spacing_mm + 1e-4))
    turn = Turn((0.0, 0.0), -math.degrees(lock), math.degrees(lock))
    tied = Turning([vector], turn).least_gap(box).gap_mm
    if tied <= 0.0:
        aside = spacing_mm * math.cos(lock) - 2.0 * side
        tied = min(0.0, max(aside, spacing_mm * math.sin(lock) - 2.0 * half))
    reach = max(_lean(corner, side, lock) for corner in (front, back))
    free = max(0.0, spacing_mm - 2.0 * reach)
    reaches = TIE_BAR_LOW_MM <= spacing_mm <= TIE_BAR_HIGH_MM
    return TwinsGap(spacing_mm, tied, free, reaches, toe_deg)


def _lean(along: float, side: float, lock: float) -> float:
    """Return how far a corner reaches across at any angle up to the lock."""
    radius, at = math.hypot(along, side), math.atan2(abs(along), side)
    return radius if at <= lock else radius * math.cos(at - lock)
