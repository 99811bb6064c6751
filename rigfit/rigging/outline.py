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
    """Named polygons, back to front."""

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


def level_outline(sizes: EngineSizes, leg_mm: float, axis: Point = (0.0, 45.0)) -> Outline:
    """Return the outline with the plate level, its underside ``leg_mm`` below the seat.

    :param axis: tilt axis from the seat, where the swivel bracket hangs.
    """
    return Outline(
        {
            "swivel": _swivel(sizes, leg_mm, axis),
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
    """A hood: raked in front, highest a little ahead of the middle, falling towards aft."""
    shape = (
        (0.035, 0.00),
        (0.005, 0.10),
        (0.000, 0.34),
        (0.045, 0.74),
        (0.130, 0.95),
        (0.300, 1.005),
        (0.560, 0.995),
        (0.800, 0.905),
        (0.945, 0.71),
        (1.005, 0.42),
        (0.995, 0.13),
        (0.955, 0.00),
    )
    return softened(
        ((u * s.cowl_length - s.cowl_forward, s.cowl_bottom + v * s.cowl_height) for u, v in shape),
        rounds=3,
    )


def _stripe(s: EngineSizes) -> Polygon:
    """A narrow line round the hood that lends it scale; no maker's graphics."""
    left = -s.cowl_forward
    low = s.cowl_bottom + 0.24 * s.cowl_height
    high = low + 0.03 * s.cowl_height
    return tuple(
        (left + part * s.cowl_length, level)
        for part, level in ((0.012, low), (0.993, low), (0.996, high), (0.010, high))
    )


def _pan(s: EngineSizes) -> Polygon:
    """The tray under the hood, drawn in hollow towards the leg."""
    left, length = -s.cowl_forward, s.cowl_length
    top, height = s.cowl_bottom, s.cowl_height
    front, back = s.leg_aft - 0.5 * s.leg_breadth, s.leg_aft + 0.5 * s.leg_breadth
    right = left + length

    def between(outer: float, inner: float, part: float) -> float:
        return outer + part * (inner - outer)

    return softened(
        (
            (left + 0.05 * length, top + 0.03 * height),
            (left + 0.055 * length, top - 0.07 * height),
            (between(left, front, 0.34), top - 0.15 * height),
            (between(left, front, 0.80), top - 0.20 * height),
            (between(left, front, 0.97), top - 0.34 * height),
            (front, top - 0.66 * height),
            (back, top - 0.66 * height),
            (between(right, back, 0.95), top - 0.36 * height),
            (between(right, back, 0.74), top - 0.20 * height),
            (between(right, back, 0.30), top - 0.13 * height),
            (right - 0.05 * length, top - 0.06 * height),
            (right - 0.045 * length, top + 0.03 * height),
        ),
        rounds=3,
    )


def _swivel(s: EngineSizes, leg_mm: float, axis: Point) -> Polygon:
    """The swivel bracket, from the tilt axis to the front of the leg."""
    front = s.leg_aft - 0.40 * s.leg_breadth
    x, z = axis
    return softened(
        (
            (x - 22.0, z + 20.0),
            (x + 12.0, z + 26.0),
            (front, z + 14.0),
            (front, -0.56 * leg_mm),
            (front - 30.0, -0.56 * leg_mm),
            (front - 46.0, -0.46 * leg_mm),
            (x + 34.0, -0.14 * leg_mm),
            (x - 20.0, z - 22.0),
        ),
        rounds=2,
    )


def _leg(s: EngineSizes, leg_mm: float) -> Polygon:
    """The midsection, from under the tray to the plate, flared where it meets it."""
    top, low = s.cowl_bottom - 0.5 * s.cowl_height, -leg_mm + PLATE_THICKNESS_MM
    half = s.leg_breadth / 2.0
    flare = low + 0.55 * s.leg_breadth
    return (
        (s.leg_aft - 0.97 * half, top),
        (s.leg_aft - 0.90 * half, flare),
        (s.leg_aft - 0.93 * half, low + 0.2 * s.leg_breadth),
        (s.leg_aft - 1.04 * half, low),
        (s.leg_aft + 1.85 * half, low),
        (s.leg_aft + 1.22 * half, low + 0.16 * s.leg_breadth),
        (s.leg_aft + 0.98 * half, flare),
        (s.leg_aft + 0.95 * half, top),
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
    """The part of the gearcase between plate and torpedo, hollowed ahead of the propeller."""
    top, deep = -leg_mm, s.shaft_below_plate
    front = s.leg_aft - 0.52 * s.leg_breadth
    back = s.leg_aft + 0.92 * s.leg_breadth
    nose = s.propeller_aft - s.gearcase_length
    root = s.propeller_aft - 0.06 * s.gearcase_length
    return (
        (front, top),
        (front - 0.25 * (front - nose), top - 0.45 * deep),
        (front - 0.62 * (front - nose), top - 0.86 * deep),
        (front - 0.62 * (front - nose), top - deep),
        (root, top - deep),
        (root, top - 0.80 * deep),
        (min(back, root) - 0.16 * s.leg_breadth, top - 0.55 * deep),
        (min(back, root) - 0.10 * s.leg_breadth, top - 0.25 * deep),
        (back, top),
    )


def _gearcase(s: EngineSizes, leg_mm: float) -> Polygon:
    """The torpedo, bluntly pointed in front, cut square at the propeller."""
    centre, radius = -leg_mm - s.shaft_below_plate, s.gearcase_diameter / 2.0
    nose = s.propeller_aft - s.gearcase_length
    upper = []
    for step in range(13):
        part = step / 12.0
        # A half ellipse over the first 45 % of the length, then a slow taper to the propeller.
        upper.append(
            (nose + 0.45 * s.gearcase_length * (1.0 - math.cos(part * math.pi / 2.0)),
             centre + radius * math.sin(part * math.pi / 2.0))
        )  # fmt: skip
    upper.append((s.propeller_aft, centre + 0.84 * radius))
    lower = [(x, 2.0 * centre - z) for x, z in reversed(upper[1:])]
    return tuple(upper + lower)


def _skeg(s: EngineSizes, leg_mm: float) -> Polygon:
    """The fin under the torpedo, swept aft."""
    root = -leg_mm - s.shaft_below_plate - 0.3 * s.gearcase_diameter
    tip = -leg_mm - s.skeg_below_plate
    back = s.propeller_aft - 0.09 * s.gearcase_length
    front = back - 0.60 * s.gearcase_length
    deep = root - tip
    return (
        (front, root),
        (front + 0.16 * s.gearcase_length, tip + 0.52 * deep),
        (front + 0.29 * s.gearcase_length, tip + 0.10 * deep),
        (front + 0.33 * s.gearcase_length, tip),
        (back - 0.05 * s.gearcase_length, tip),
        (back - 0.015 * s.gearcase_length, tip + 0.18 * deep),
        (back, root),
    )


def _propeller(s: EngineSizes, leg_mm: float) -> Polygon:
    """Hub and two blades seen from the side, blades raked aft."""
    centre, radius = -leg_mm - s.shaft_below_plate, s.propeller_diameter / 2.0
    front, length = s.propeller_aft, 0.30 * s.propeller_diameter
    hub = 0.40 * s.gearcase_diameter
    blade = (
        (0.00, hub),
        (0.10, hub + 0.02 * radius),
        (0.12, 0.50 * radius),
        (0.24, 0.74 * radius),
        (0.44, 0.93 * radius),
        (0.66, radius),
        (0.86, 0.94 * radius),
        (0.98, 0.74 * radius),
        (0.96, 0.50 * radius),
        (0.84, hub + 0.04 * radius),
        (0.92, hub),
        (1.18, 0.74 * hub),
    )
    upper = [(front + u * length, centre + v) for u, v in blade]
    return tuple(upper + [(x, 2.0 * centre - z) for x, z in reversed(upper)])


def clamp_outline(drop_mm: float, thickness_mm: float) -> Polygon:
    """Return the clamp bracket hooked over what carries it, as (up, out) from the seat.

    Up along the face, out square to it.

    :param drop_mm: how far the bracket reaches down the face.
    :param thickness_mm: of the transom or bracket edge that the hook goes over.
    """
    inside = -thickness_mm
    return (
        (0.0, inside - 26.0),
        (-70.0, inside - 26.0),
        (-70.0, inside - 12.0),
        (0.0, inside - 2.0),
        (0.0, 0.0),
        (-drop_mm, 0.0),
        (-drop_mm, 16.0),
        (-60.0, 46.0),
        (22.0, 52.0),
        (30.0, 20.0),
        (22.0, inside - 20.0),
    )


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
    level = level_outline(engine.sizes, rig.leg_mm, home)
    level = level.moved((axis[0] - home[0], axis[1] - home[1]))
    return level if tilt_deg == 0.0 else level.turned(axis, tilt_deg)
