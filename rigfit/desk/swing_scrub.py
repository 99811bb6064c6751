"""An engine held at one tilt and one angle of steering: how far it goes, and what it is nearest to.

No Tk. Places are in the top frame: origin at the transom's upper outer edge, x aft, y to starboard,
z up. Tilt is the plate's angle, + propeller up; steering is + with the propeller to starboard.
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
    hull_in_directions,
    mounted_option,
    off_centre_mm,
    rig_of,
)
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.nearest_bodies import Place, body_distance
from rigfit.rigging.plate_height import Point
from rigfit.rigging.report import EngineReport
from rigfit.rigging.surroundings import Solid, surroundings
from rigfit.rigging.tilt_steer import solid_bodies
from rigfit.units import Kind, Shown, show

STEERED = "swing-plan"
"""The picture in which the engine is steered."""

SWINGS = frozenset({"swing", STEERED, "swing-worst"})
"""Pictures of the swing, by the word in ``Look.picture``."""

# Bodies that lie close together count as one, as in the search for the worst place.
_ONE_BODY = {"pan": "cowl", "strut": "gearcase", "skeg": "gearcase"}
_TOUCHING_MM = 0.05

Range = tuple[float, float]
_Box = tuple[Place, Place]


# -- how far it goes -------------------------------------------------------------------------------


def within(value: float, ends: Range) -> float:
    """Return a value brought between two ends."""
    return min(max(value, ends[0]), ends[1])


def tilt_range(report: EngineReport, picture: str) -> Range:
    """Return the least and greatest tilt a picture can show, degrees.

    The profile begins with the plate level; a swing goes from fully in to fully up.
    """
    if picture in SWINGS:
        travel = engine_travel(report.case)
        return min(travel.trim_in_deg, 0.0), max(travel.full_tilt_deg, 0.0)
    return 0.0, max(report.case.engine.tilt_deg, 0.0)


def lock_deg(report: EngineReport) -> float:
    """Return how far the engine can be turned each way, degrees."""
    return max(engine_travel(report.case).lock_deg, 0.0)


# -- what it is nearest to -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Gap:
    """The least distance of an engine that is held still.

    :param clear_mm: distance; 0 where it stands in the thing.
    :param part: of the engine.
    :param solid: the thing.
    """

    clear_mm: float
    part: str
    solid: Solid


@dataclass(frozen=True, slots=True)
class _Body:
    name: str
    corners: tuple[Place, ...]
    aft_mm: float
    steers: bool


@dataclass(frozen=True, slots=True)
class _Wall:
    solid: Solid
    corners: tuple[Place, ...]
    box: _Box


def gap_at(report: EngineReport, tilt_deg: float, steer_deg: float) -> Gap | None:
    """Return the least distance at one tilt and angle of steering; None with nothing round it.

    Parts are taken as bodies with flat sides round them, so it errs on the safe side.
    """
    case, option = report.case, option_of(report)
    walls = _walls(surroundings(case).solids)
    axis, off = rig_of(case, option).axis(), off_centre_mm(case)
    pairs = []
    for body in _bodies(engine_envelope(case)):
        corners = _turned(body, axis, off, tilt_deg, steer_deg)
        box = _box(corners)
        pairs += [
            (_box_gap(box, wall.box), number, body.name, corners, wall)
            for number, wall in enumerate(walls)
            if wall.solid.meets(body.name)
        ]
    pairs.sort(key=lambda pair: pair[:3])
    best: Gap | None = None
    for apart, _, name, corners, wall in pairs:
        if best is not None and apart >= best.clear_mm:
            break
        clear = body_distance(corners, wall.corners)[0]
        if best is None or clear < best.clear_mm:
            best = Gap(clear, name, wall.solid)
    return best


def option_of(report: EngineReport) -> HeightOption:
    """Return the height the swing is looked at: the mounted one, as everywhere else."""
    return report.mounted or mounted_option(report.case)


def place_words(tilt_deg: float, steer_deg: float | None) -> str:
    """Return how the engine is held ("tilt 30°, steering 12° to port"); no steering for None."""
    words = f"tilt {_degrees(tilt_deg)}"
    if steer_deg is None:
        return words
    turned = _degrees(abs(steer_deg))
    if turned == "0°":
        return f"{words}, straight ahead"
    return f"{words}, propeller {turned} to {'starboard' if steer_deg > 0.0 else 'port'}"


def gap_words(gap: Gap | None, style: Shown) -> str:
    """Return a gap in words ("42 mm from cowl to stern seat"); "" with nothing round it."""
    if gap is None:
        return ""
    if gap.clear_mm < _TOUCHING_MM:
        return f"{gap.part} and {gap.solid.name} overlap"
    return f"{show(gap.clear_mm, Kind.LENGTH, style)} from {gap.part} to {gap.solid.name}"


def size_words(case: Case) -> str:
    """Return what the engine's size rests on where nobody measured it, "" where somebody did."""
    envelope = engine_envelope(case)
    return "" if envelope.is_firm else f"The engine's size is {envelope.basis.value}."


def _degrees(value: float) -> str:
    return f"{round(value, 1) + 0.0:g}°"


# -- bodies ----------------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _bodies(envelope: Envelope) -> tuple[_Body, ...]:
    groups: dict[str, list[int]] = {}
    for number, part in enumerate(envelope.parts):
        groups.setdefault(_ONE_BODY.get(part.name, part.name), []).append(number)
    found = []
    for name, numbers in groups.items():
        parts = [envelope.parts[number] for number in numbers]
        half = max(part.half_breadth_mm for part in parts)
        steers = all(part.steers for part in parts)
        aft = envelope.steering_aft_mm if steers else 0.0
        ring = hull_in_directions(point for part in parts for point in part.ring)
        corners = tuple((x - aft, side, z) for x, z in ring for side in (-half, half))
        found.append(_Body(name, corners, aft, steers))
    return tuple(found)


@lru_cache(maxsize=8)
def _walls(solids: tuple[Solid, ...]) -> tuple[_Wall, ...]:
    return tuple(
        _Wall(solid, corners, _box(corners)) for solid in solids for corners in solid_bodies(solid)
    )


def _turned(
    body: _Body, axis: Point, off_mm: float, tilt_deg: float, steer_deg: float
) -> tuple[Place, ...]:
    """Return a body's corners: first steered about its own axis, then tilted."""
    tilt, steer = math.radians(tilt_deg), math.radians(steer_deg if body.steers else 0.0)
    ct, st, cs, ss = math.cos(tilt), math.sin(tilt), math.cos(steer), math.sin(steer)
    ax, az = axis
    found = []
    for x, y, z in body.corners:
        level = x * cs - y * ss + body.aft_mm
        found.append(
            (ax + level * ct - z * st, off_mm + x * ss + y * cs, az + level * st + z * ct)
        )  # fmt: skip
    return tuple(found)


def _box(corners: Sequence[Place]) -> _Box:
    xs, ys, zs = zip(*corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _box_gap(one: _Box, other: _Box) -> float:
    apart = [
        max(low - far, near - high, 0.0)
        for near, high, low, far in zip(one[0], one[1], other[0], other[1], strict=True)
    ]
    return math.hypot(*apart)
