"""The side outline of an engine from a few sizes, for drawings and first clearance looks.

The outline is made of named closed polygons in the *level frame*: origin at the seat, x aft, z up,
plate level. ``placed`` carries them into the keel frame on a given rig, turned about the tilt axis.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from rigfit.rigging.outboard import EngineClass, EngineSizes
from rigfit.rigging.plate_height import Point, Rig, along_face, outward

Polygon: TypeAlias = tuple[Point, ...]

PLATE_THICKNESS_MM = 9.0


@dataclass(frozen=True, slots=True)
class Outline:
    """Named polygons, back to front: propeller, skeg, gearcase, leg, plate, pan, cowl, stripe."""

    parts: Mapping[str, Polygon]

    def moved(self, by: Point) -> Outline:
        """Return the outline shifted by a vector, mm."""
        return Outline(
            {
                name: tuple((x + by[0], z + by[1]) for x, z in polygon)
                for name, polygon in self.parts.items()
            }
        )

    def turned(self, about: Point, tilt_deg: float) -> Outline:
        """Return the outline tilted up about an axis; + swings the propeller aft and up."""
        cos, sin = math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg))

        def turn(point: Point) -> Point:
            x, z = point[0] - about[0], point[1] - about[1]
            # Up about an axis near the seat: a point below it goes aft (+x), then up (+z).
            return about[0] + x * cos - z * sin, about[1] + x * sin + z * cos

        return Outline(
            {name: tuple(turn(point) for point in polygon) for name, polygon in self.parts.items()}
        )


def softened(points: Iterable[Point], rounds: int = 3) -> Polygon:
    """Return a closed polygon with its corners cut off, ``rounds`` times (corner cutting)."""
    ring = list(points)
    for _ in range(rounds):
        cut: list[Point] = []
        for (x0, z0), (x1, z1) in zip(ring, ring[1:] + ring[:1], strict=True):
            cut.append((0.75 * x0 + 0.25 * x1, 0.75 * z0 + 0.25 * z1))
            cut.append((0.25 * x0 + 0.75 * x1, 0.25 * z0 + 0.75 * z1))
        ring = cut
    return tuple(ring)


def level_outline(sizes: EngineSizes, leg_mm: float) -> Outline:
    """Return the outline with the plate level, its underside ``leg_mm`` below the seat."""
    return Outline(
        {
            "propeller": _propeller(sizes, leg_mm),
            "skeg": _skeg(sizes, leg_mm),
            "gearcase": _gearcase(sizes, leg_mm),
            "strut": _strut(sizes, leg_mm),
            "leg": _leg(sizes, leg_mm),
            "plate": _plate(sizes, leg_mm),
            "pan": _pan(sizes),
            "cowl": _cowl(sizes),
            "stripe": _stripe(sizes),
        }
    )


def _cowl(s: EngineSizes) -> Polygon:
    """A hood: upright in front, highest a little ahead of the middle, falling towards aft."""
    shape = (
        (0.00, 0.00),
        (0.00, 0.05),
        (-0.015, 0.52),
        (0.03, 0.86),
        (0.17, 0.995),
        (0.42, 1.0),
        (0.66, 0.985),
        (0.87, 0.91),
        (0.975, 0.70),
        (1.00, 0.40),
        (0.975, 0.05),
        (0.96, 0.00),
    )
    return softened(
        ((u * s.cowl_length - s.cowl_forward, s.cowl_bottom + v * s.cowl_height) for u, v in shape),
        rounds=3,
    )


def _stripe(s: EngineSizes) -> Polygon:
    """A narrow line round the hood that lends it scale; no maker's graphics."""
    left, right = -s.cowl_forward, s.cowl_length - s.cowl_forward
    low = s.cowl_bottom + 0.24 * s.cowl_height
    high = low + 0.035 * s.cowl_height
    return (
        (left + 0.02 * s.cowl_length, low),
        (right - 0.012 * s.cowl_length, low),
        (right - 0.008 * s.cowl_length, high),
        (left + 0.012 * s.cowl_length, high),
    )


def _pan(s: EngineSizes) -> Polygon:
    """The tray under the hood, drawn in towards the leg."""
    left, right = -s.cowl_forward, s.cowl_length - s.cowl_forward
    depth = 0.36 * s.cowl_height
    top, low = s.cowl_bottom, s.cowl_bottom - depth
    leg_left, leg_right = s.leg_aft - 0.62 * s.leg_breadth, s.leg_aft + 0.75 * s.leg_breadth
    return softened(
        (
            (left + 0.03 * s.cowl_length, top),
            (left + 0.05 * s.cowl_length, top - 0.35 * depth),
            (0.5 * (left + leg_left), low + 0.22 * depth),
            (leg_left, low),
            (leg_right, low),
            (0.4 * right + 0.6 * leg_right, low + 0.3 * depth),
            (right - 0.07 * s.cowl_length, top - 0.3 * depth),
            (right - 0.045 * s.cowl_length, top),
        ),
        rounds=2,
    )


def _leg(s: EngineSizes, leg_mm: float) -> Polygon:
    """The midsection, from under the tray to the plate, a little slimmer below."""
    top = s.cowl_bottom - 0.3 * s.cowl_height
    low = -leg_mm + PLATE_THICKNESS_MM
    half = s.leg_breadth / 2.0
    knee = low + 0.18 * (top - low)
    return softened(
        (
            (s.leg_aft - half, top),
            (s.leg_aft - 0.92 * half, knee),
            (s.leg_aft - 1.1 * half, low),
            (s.leg_aft - 0.6 * half, low),
            (s.leg_aft + 1.2 * half, low),
            (s.leg_aft + 1.55 * half, low),
            (s.leg_aft + 1.0 * half, knee),
            (s.leg_aft + 1.05 * half, top),
        ),
        rounds=2,
    )


def _plate(s: EngineSizes, leg_mm: float) -> Polygon:
    """The anti-ventilation plate; its underside is exactly ``leg_mm`` below the seat."""
    front, aft, low = s.plate_aft - s.plate_length, s.plate_aft, -leg_mm
    high = low + PLATE_THICKNESS_MM
    return (
        (front + 0.06 * s.plate_length, low),
        (aft, low),
        (aft, high - 3.0),
        (aft - 0.1 * s.plate_length, high),
        (front + 0.1 * s.plate_length, high),
        (front, high - 3.0),
        (front, low + 3.0),
    )


def _strut(s: EngineSizes, leg_mm: float) -> Polygon:
    """The part of the gearcase between plate and torpedo."""
    top, low = -leg_mm, -leg_mm - s.shaft_below_plate
    back = s.propeller_aft - 0.14 * s.gearcase_length
    front = s.leg_aft - 0.62 * s.leg_breadth
    return (
        (front, top),
        (front - 0.02 * s.gearcase_length, low),
        (back, low),
        (back - 0.05 * s.gearcase_length, low + 0.55 * s.shaft_below_plate),
        (s.leg_aft + 0.95 * s.leg_breadth, top),
    )


def _gearcase(s: EngineSizes, leg_mm: float) -> Polygon:
    """The torpedo, bluntly pointed in front, cut square at the propeller."""
    centre, radius = -leg_mm - s.shaft_below_plate, s.gearcase_diameter / 2.0
    back, nose = s.propeller_aft, s.propeller_aft - s.gearcase_length
    upper = [
        (nose + s.gearcase_length * part, centre + radius * math.sqrt(1.0 - (1.0 - share) ** 2))
        for part, share in ((0.0, 0.0), (0.02, 0.12), (0.06, 0.3), (0.13, 0.55), (0.24, 0.85))
    ]
    upper += [(nose + 0.42 * s.gearcase_length, centre + radius), (back, centre + 0.9 * radius)]
    lower = [(x, 2.0 * centre - z) for x, z in reversed(upper)]
    return tuple(upper + lower[:-1])


def _skeg(s: EngineSizes, leg_mm: float) -> Polygon:
    """The fin under the torpedo, swept aft."""
    root = -leg_mm - s.shaft_below_plate - 0.4 * s.gearcase_diameter
    tip = -leg_mm - s.skeg_below_plate
    back = s.propeller_aft - 0.1 * s.gearcase_length
    front = back - 0.52 * s.gearcase_length
    return (
        (front, root),
        (front + 0.22 * s.gearcase_length, tip + 0.06 * (root - tip)),
        (front + 0.27 * s.gearcase_length, tip),
        (back - 0.06 * s.gearcase_length, tip),
        (back - 0.02 * s.gearcase_length, tip + 0.25 * (root - tip)),
        (back, root),
    )


def _propeller(s: EngineSizes, leg_mm: float) -> Polygon:
    """Hub and two blades seen from the side."""
    centre, radius = -leg_mm - s.shaft_below_plate, s.propeller_diameter / 2.0
    front, length = s.propeller_aft, 0.30 * s.propeller_diameter
    hub = 0.42 * s.gearcase_diameter
    blade = (
        (front, centre + hub),
        (front + 0.16 * length, centre + hub),
        (front + 0.02 * length, centre + 0.62 * radius),
        (front + 0.22 * length, centre + 0.93 * radius),
        (front + 0.48 * length, centre + radius),
        (front + 0.78 * length, centre + 0.9 * radius),
        (front + 0.92 * length, centre + 0.6 * radius),
        (front + 0.72 * length, centre + hub),
        (front + 1.25 * length, centre + 0.82 * hub),
    )
    mirrored = tuple((x, 2.0 * centre - z) for x, z in reversed(blade))
    return blade + mirrored


def axis_in_level_frame(engine: EngineClass) -> Point:
    """Return the tilt axis from the seat with the plate level, at the class's own rake."""
    tx, tz = along_face(engine.leg_rake_deg)
    nx, nz = outward(engine.leg_rake_deg)
    return (
        engine.axis_out_mm * nx + engine.axis_up_mm * tx,
        engine.axis_out_mm * nz + engine.axis_up_mm * tz,
    )


def placed(engine: EngineClass, rig: Rig, tilt_deg: float = 0.0) -> Outline:
    """Return the engine's outline in the keel frame, plate level or tilted up by ``tilt_deg``."""
    axis, home = rig.axis(), axis_in_level_frame(engine)
    level = level_outline(engine.sizes, rig.leg_mm).moved((axis[0] - home[0], axis[1] - home[1]))
    return level if tilt_deg == 0.0 else level.turned(axis, tilt_deg)
