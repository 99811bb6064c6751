"""Tilt, exact: where the engine's side view first meets each thing, and how near it comes.

Angles are plate angles: 0 is level with the keel line, propeller up is +. Places are in the top
frame (origin at the transom's upper outer edge, x aft, z up).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rigfit.rigging.case import Case
from rigfit.rigging.envelope import (
    Envelope,
    engine_envelope,
    engine_travel,
    engine_with_axis,
    mounted_option,
    off_centre_mm,
    rig_of,
    tilt_turn,
)
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.outline import Polygon
from rigfit.rigging.plate_height import Point, along_face
from rigfit.rigging.surroundings import Solid, surroundings
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.turning import Touch, Turn, Turning

FURTHEST_MM = 800.0
"""How far rigfit looks for a place to which a thing in the way would have to be moved."""

WAYS = {"down": "lower", "ahead": "further ahead", "aft": "further aft"}
"""Ways to move a thing, as they are said behind a length."""


@dataclass(frozen=True, slots=True)
class TiltGap:
    """How the tilting engine stands to one solid.

    :param solid: the thing.
    :param touch: first contact, or the place where the two come nearest.
    :param clear_mm: the gap; where they touch, less than 0 by the shortest way the thing would have
        to be moved level or down to be cleared.
    :param move: that way, "ahead", "aft" or "down"; "" where nothing need be moved.
    :param tolerance_mm: expanded uncertainty of ``clear_mm``.
    """

    solid: Solid
    touch: Touch
    clear_mm: float
    move: str
    tolerance_mm: float

    @property
    def touches(self) -> bool:
        """True when the engine meets it on its way."""
        return self.clear_mm <= 0.0

    @property
    def is_hopeless(self) -> bool:
        """True where no move of up to ``FURTHEST_MM`` clears it."""
        return self.clear_mm <= -FURTHEST_MM


@dataclass(frozen=True, slots=True)
class KickUp:
    """How far ahead the engine reaches as it kicks up.

    :param ahead_mm: furthest ahead of the transom's outer face at its top.
    :param above_mm: height of that point above the transom top.
    :param tilt_deg: plate angle at which it does.
    """

    ahead_mm: float
    above_mm: float
    tilt_deg: float


@dataclass(frozen=True, slots=True)
class TiltSwing:
    """The whole tilt of one engine at one height.

    :param envelope: the room it takes.
    :param turn: pivot and ends, in the top frame.
    :param gaps: one for each solid in its way, least first; another engine is left out.
    :param kick_up: room it takes ahead.
    """

    envelope: Envelope
    turn: Turn
    gaps: tuple[TiltGap, ...]
    kick_up: KickUp

    @property
    def worst(self) -> TiltGap | None:
        """The least clearance, or None with nothing in the way."""
        return self.gaps[0] if self.gaps else None


@dataclass(frozen=True, slots=True)
class OptionSwing:
    """Tilt clearance at one height.

    :param option: the height.
    :param gap: the least clearance there, or None with nothing in the way.
    :param change_mm: how much more (+) or less it is than at the height that is looked at now.
    """

    option: HeightOption
    gap: TiltGap | None
    change_mm: float


def tilt_swing(
    case: Case,
    option: HeightOption | None = None,
    envelope: Envelope | None = None,
    solids: Sequence[Solid] | None = None,
) -> TiltSwing:
    """Return how the tilting engine stands to all that is round it.

    :param option: the height; by default the chosen one, else the best.
    :param envelope: the engine's; by default from its sizes.
    :param solids: what is round it; by default what the job says.
    """
    option = option or mounted_option(case)
    envelope = envelope or engine_envelope(case)
    chosen = surroundings(case).solids if solids is None else tuple(solids)
    turn = tilt_turn(case, option)
    off = off_centre_mm(case)
    found = _touches(envelope, turn, off, tuple(item for item in chosen if not item.is_neighbour))
    gaps = [
        TiltGap(solid, touch, clear, move, _tolerance(case, option, envelope, turn, solid, touch,
                                                      move))
        for solid, touch, clear, move in found
    ]  # fmt: skip
    gaps.sort(key=lambda gap: gap.clear_mm)
    return TiltSwing(envelope, turn, tuple(gaps), _kick_up(envelope, turn))


def options_swing(case: Case, options: Sequence[HeightOption]) -> tuple[OptionSwing, ...]:
    """Return the least tilt clearance at every possible height, in the order given.

    Raising the engine one row carries the tilt axis up with it, so the hood comes down elsewhere.
    """
    envelope, solids = engine_envelope(case), surroundings(case).solids
    now = tilt_swing(case, None, envelope, solids).worst
    found = []
    for option in options:
        if option.is_possible:
            gap = tilt_swing(case, option, envelope, solids).worst
            change = gap.clear_mm - now.clear_mm if gap and now else 0.0
            found.append(OptionSwing(option, gap, change))
    return tuple(found)


@lru_cache(maxsize=64)
def _touches(
    envelope: Envelope, turn: Turn, off_mm: float, solids: tuple[Solid, ...]
) -> tuple[tuple[Solid, Touch, float, str], ...]:
    ready: dict[tuple[int, ...], Turning] = {}
    found = []
    for solid in solids:
        meets = tuple(
            index
            for index, part in enumerate(envelope.parts)
            if not solid.plan
            and solid.meets(part.name)
            and solid.port_mm < off_mm + part.half_breadth_mm
            and solid.starboard_mm > off_mm - part.half_breadth_mm
        )
        if not meets:
            continue
        if meets not in ready:
            rings = tuple(envelope.parts[index].ring for index in meets)
            ready[meets] = Turning.about_origin(rings, turn)
        touch = ready[meets].least_gap(solid.ring)
        if touch.gap_mm > 0.0:
            found.append((solid, touch, touch.gap_mm, ""))
        else:
            move, way = _way_out(ready[meets], solid.ring)
            found.append((solid, touch, -way, move))
    return tuple(found)


def _way_out(turning: Turning, ring: Polygon) -> tuple[str, float]:
    """Return the shortest way, to 0.1 mm, to which a thing must be moved to be cleared."""
    middle = sum(x for x, _ in ring) / len(ring)
    level = ("ahead", (-1.0, 0.0)) if middle < turning.turn.pivot[0] else ("aft", (1.0, 0.0))
    best, name = FURTHEST_MM, level[0]
    for word, (ux, uz) in (level, ("down", (0.0, -1.0))):

        def meets(by: float, ux: float = ux, uz: float = uz) -> bool:
            return turning.touches(tuple((x + by * ux, z + by * uz) for x, z in ring))

        if meets(best):
            continue
        low, high = 0.0, best
        while high - low > 0.1:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if meets(middle) else (low, middle)
        best, name = high, word
    return name, best


def _tolerance(
    case: Case, option: HeightOption, envelope: Envelope, turn: Turn, solid: Solid, touch: Touch,
    move: str,
) -> float:  # fmt: skip
    """Return the expanded uncertainty of a tilt clearance."""
    n = _normal(touch, move)
    spread = (solid.tolerances_mm[0], solid.tolerances_mm[2])
    return tilt_tolerance(case, option, envelope, turn, n, touch.angle_deg, touch.on_moving, spread)


def tilt_tolerance(
    case: Case, option: HeightOption, envelope: Envelope, turn: Turn, n: Point, tilt_deg: float,
    on_engine: Point, solid_mm: tuple[float, float],
) -> float:  # fmt: skip
    """Return the expanded uncertainty of a clearance in the side view.

    From how each reading moves the two nearest places: the derivative of a least distance is that
    of its two places along the line that joins them.

    :param n: that line as a unit vector from the thing to the engine, (x aft, z up); shorter than 1
        where part of the distance is across.
    :param on_engine: the place on the engine, top frame.
    :param solid_mm: half-widths of the thing's tolerance along x and z.
    """
    angle = math.radians(tilt_deg)
    cos, sin = math.cos(angle), math.sin(angle)

    def moved(x: float, z: float) -> float:
        return n[0] * (x * cos - z * sin) + n[1] * (x * sin + z * cos)

    axis = engine_with_axis(case).axis_tolerance_mm
    shares = [
        moved(1.0, 0.0) * envelope.front_tolerance_mm,
        moved(0.0, 1.0) * envelope.top_tolerance_mm,
        (n[0] - moved(1.0, 0.0)) * axis,
        (n[1] - moved(0.0, 1.0)) * axis,
        n[0] * solid_mm[0],
        n[1] * solid_mm[1],
        _end_share(case, turn, tilt_deg, on_engine, n),
    ]
    up = along_face(rig_of(case, option).rake_deg)
    return math.hypot(expanded(*shares), (n[0] * up[0] + n[1] * up[1]) * option.lift.tolerance)


def _normal(touch: Touch, move: str) -> Point:
    if touch.gap_mm > 1e-6:
        return (
            (touch.on_moving[0] - touch.on_fixed[0]) / touch.gap_mm,
            (touch.on_moving[1] - touch.on_fixed[1]) / touch.gap_mm,
        )
    return {"down": (0.0, 1.0), "aft": (-1.0, 0.0)}.get(move, (1.0, 0.0))


def _end_share(case: Case, turn: Turn, tilt_deg: float, on_engine: Point, n: Point) -> float:
    """Return what the tolerance of the travel's end adds where the nearest place is there."""
    at_low = tilt_deg <= turn.low_deg + 0.05
    at_high = tilt_deg >= turn.high_deg - 0.05
    if not (at_low or at_high):
        return 0.0
    travel, rake = engine_travel(case), case.job.transom.rake
    x, z = on_engine[0] - turn.pivot[0], on_engine[1] - turn.pivot[1]
    spread = travel.trim_in_tolerance_deg if at_low else travel.full_tilt_tolerance_deg
    both = math.hypot(spread, rake.tolerance if rake else 0.0)
    return (n[1] * x - n[0] * z) * math.radians(both)


@lru_cache(maxsize=64)
def _kick_up(envelope: Envelope, turn: Turn) -> KickUp:
    """Return the foremost place on the whole way: each corner at its own extreme."""
    best: tuple[float, float, float] | None = None
    for part in envelope.parts:
        for x, z in part.ring:
            ahead = math.degrees(math.pi - math.atan2(z, x))
            turned = turn.low_deg + (ahead - turn.low_deg) % 360.0
            for angle in (turn.low_deg, turn.high_deg, turned):
                if angle <= turn.high_deg:
                    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
                    place = x * cos - z * sin
                    if best is None or place < best[0]:
                        best = (place, x * sin + z * cos, angle)
    if best is None:
        return KickUp(0.0, 0.0, turn.low_deg)
    return KickUp(-(best[0] + turn.pivot[0]), best[1] + turn.pivot[1], best[2])
