"""The room an engine takes: its side outline and breadths, and how far it tilts and turns.

The axis frame has its origin at the tilt axis, x aft and z up, with the plate level; it turns with
the engine. Where only sizes were measured the hood is taken as the full box round them, so that the
answer errs on the safe side; where nothing was measured the class stands in and says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache

from rigfit.errors import EntryError
from rigfit.rigging.case import Case, once_a_case
from rigfit.rigging.mounting_options import (
    HeightOption,
    best_option,
    chosen_setting_mm,
    height_options,
    option_at,
)
from rigfit.rigging.outboard import EngineSizes
from rigfit.rigging.outline import Polygon, axis_in_level_frame, level_outline
from rigfit.rigging.plate_height import Point, Rig
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.surroundings import DRAWN_HOOD, DRAWN_LEG, engine_rings
from rigfit.rigging.tilt_axis import engine_with_axis as engine_with_axis
from rigfit.rigging.turning import Turn, checked_polygon

CLASS_SPREAD_MM = 40.0
"""Half-width of what an engine's sizes differ by within its class (estimate)."""

OUTLINE_MM = 5.0
"""Half-width of what an engine differs from a drawn outline of it (estimate)."""

CLASS_ANGLE_DEG = 4.0
"""Half-width of what tilt, trim and lock differ by within a class (estimate)."""

DECIDING = ("cowl_front_ahead_of_seat", "cowl_top_above_seat", "cowl_breadth")
"""The three tape readings that settle whether a hood clears what is round it."""

_ROUNDED = 0.3
_SKIPPED = ("stripe", "cowl", "pan")


class Basis(Enum):
    """What an envelope rests on."""

    CLASS = "typical of the class"
    SIZED = "measured sizes, taken as a box"
    OUTLINE = "a drawn outline"


@dataclass(frozen=True, slots=True)
class Part:
    """One part of an engine: a side view and how far it reaches to either side.

    :param name: "cowl", "leg", "propeller" ...
    :param ring: side view in the axis frame.
    :param half_breadth_mm: from the engine's own middle to either side.
    :param steers: False for what hangs on the clamp bracket and only tilts.
    """

    name: str
    ring: Polygon
    half_breadth_mm: float
    steers: bool = True


@dataclass(frozen=True, slots=True)
class Travel:
    """How far an engine tilts and turns on this transom.

    :param trim_in_deg: plate angle fully in, propeller up is +; 0 is level with the keel line.
    :param full_tilt_deg: plate angle fully up.
    :param lock_deg: steering, each way.
    :param trim_in_tolerance_deg: half-width of its tolerance; likewise the other two.
    :param missing: fields of the engine that nobody measured and the class stands in for.
    """

    trim_in_deg: float
    full_tilt_deg: float
    lock_deg: float
    trim_in_tolerance_deg: float
    full_tilt_tolerance_deg: float
    lock_tolerance_deg: float
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Envelope:
    """All the room an engine takes.

    :param basis: what it rests on.
    :param parts: side views with breadths.
    :param cowl_aft_mm: middle of the hood aft of the steering axis, plate level.
    :param cowl_length_mm: of the hood, fore and aft.
    :param cowl_half_breadth_mm: of the hood.
    :param corner_radius_mm: of the hood's corners seen from above; 0 where only sizes are known.
    :param steering_aft_mm: steering axis aft of the tilt axis, plate level; always the class's.
    :param front_tolerance_mm: half-width of the tolerance of the hood's front; likewise top, side.
    :param missing: fields of the engine that nobody measured and the class stands in for.
    """

    basis: Basis
    parts: tuple[Part, ...]
    cowl_aft_mm: float
    cowl_length_mm: float
    cowl_half_breadth_mm: float
    corner_radius_mm: float
    steering_aft_mm: float
    front_tolerance_mm: float
    top_tolerance_mm: float
    side_tolerance_mm: float
    missing: tuple[str, ...]

    @property
    def is_firm(self) -> bool:
        """True when nothing that decides a clearance stands in for a measurement."""
        return self.basis is not Basis.CLASS

    @property
    def is_drawn(self) -> bool:
        """True where the side view is a drawn outline."""
        return self.parts[0].name in (DRAWN_HOOD, DRAWN_LEG)

    def part(self, name: str) -> Part:
        """Return a part by name; raises ``KeyError`` for one it does not have.

        The hood of a drawn outline is the outline that reaches highest.
        """
        for part in self.parts:
            if part.name == name:
                return part
        if name == "cowl" and self.parts:
            return max(self.parts, key=lambda part: max(z for _, z in part.ring))
        raise KeyError(name)


@once_a_case
def engine_envelope(case: Case) -> Envelope:
    """Return an engine's envelope: from the outline in the job, measured sizes, or its class.

    An outline in the job that cannot be used is left out here; ``surroundings`` says what is wrong.
    """
    return envelope_of(case, _drawn(case.candidate.outline))


def envelope_of(case: Case, outline: Sequence[Iterable[Point]] | None) -> Envelope:
    """Return an engine's envelope with a given outline, or with none.

    :param outline: closed side views of the tilting engine with the plate level, mm, x aft and z
        up from the tilt axis; None to go by measured sizes or the class.
    :raises EntryError: for an outline that crosses itself or has no area.
    """
    sizes, home = measured_sizes(case), axis_in_level_frame(engine_with_axis(case))
    candidate = case.candidate
    missing = tuple(f"engine.{name}" for name in DECIDING if getattr(candidate, name) is None)
    if outline is not None:
        rings = [
            checked_polygon(ring, f"engine outline {index}")
            for index, ring in enumerate(outline, 1)
        ]
        if not rings:
            raise EntryError("the engine's outline is empty", cure="draw its side view")
        basis = Basis.OUTLINE if "engine.cowl_breadth" not in missing else Basis.CLASS
        level = min(z for _, z in level_outline(sizes, leg_mm(case), home).parts["pan"]) - home[1]
        parts = tuple(
            Part(name, ring, sizes.cowl_breadth / 2.0) for name, ring in _split(tuple(rings), level)
        )
        missing = tuple(name for name in missing if name == "engine.cowl_breadth")
    else:
        basis = Basis.CLASS if missing else Basis.SIZED
        parts = _parts(case, sizes, home, basis)
    breadth = sizes.cowl_breadth / 2.0
    steering = sizes.leg_aft - 0.5 * sizes.leg_breadth - home[0]
    front, back = -sizes.cowl_forward - home[0], sizes.cowl_length - sizes.cowl_forward - home[0]
    if outline is not None:
        upper = [x for part in parts for x, z in part.ring if z > 0.0]
        front, back = (min(upper), max(upper)) if upper else (front, back)
    spread = CLASS_SPREAD_MM if outline is None else OUTLINE_MM
    return Envelope(
        basis=basis,
        parts=parts,
        cowl_aft_mm=0.5 * (front + back) - steering,
        cowl_length_mm=back - front,
        cowl_half_breadth_mm=breadth,
        corner_radius_mm=_ROUNDED * breadth if basis is Basis.CLASS else 0.0,
        steering_aft_mm=steering,
        front_tolerance_mm=_spread(candidate.cowl_front_ahead_of_seat, spread),
        top_tolerance_mm=_spread(candidate.cowl_top_above_seat, spread),
        side_tolerance_mm=_spread(candidate.cowl_breadth, CLASS_SPREAD_MM) / 2.0,
        missing=missing,
    )


@lru_cache(maxsize=16)
def _split(rings: tuple[Polygon, ...], level_mm: float) -> tuple[tuple[str, Polygon], ...]:
    """Return drawn outlines cut at a level: what lies below is the leg, which stays aft."""
    from shapely import Polygon as Area
    from shapely import box, get_parts

    found = []
    for ring in rings:
        left, low, right, high = Area(ring).bounds
        halves = ((DRAWN_HOOD, level_mm, high + 1.0), (DRAWN_LEG, low - 1.0, level_mm))
        for name, bottom, top in halves:
            if top <= bottom:
                continue
            piece = Area(ring).intersection(box(left - 1.0, bottom, right + 1.0, top))
            found += [
                (name, tuple((float(x), float(z)) for x, z in part.exterior.coords[:-1]))
                for part in get_parts(piece)
                if part.area > 1.0
            ]
    return tuple(found)


@lru_cache(maxsize=16)
def _drawn(text: str) -> tuple[Polygon, ...] | None:
    """Return the side views in the job, or None without any that can be used."""
    try:
        return engine_rings(text) or None
    except EntryError:
        return None


def _spread(reading: Reading | None, otherwise: float) -> float:
    return otherwise if reading is None else reading.tolerance


def measured_sizes(case: Case) -> EngineSizes:
    """Return the class's sizes with the candidate's own measured ones put in."""
    candidate, sizes = case.candidate, case.engine.sizes
    changes: dict[str, float] = {}
    for name, reading in (
        ("cowl_length", candidate.cowl_length),
        ("cowl_breadth", candidate.cowl_breadth),
        ("cowl_forward", candidate.cowl_front_ahead_of_seat),
        ("skeg_below_plate", candidate.skeg_below_plate),
    ):
        if reading is not None:
            changes[name] = reading.value
    top = candidate.cowl_top_above_seat
    if top is not None:
        # A hood lower than its class's underside hangs lower as a whole.
        bottom = min(sizes.cowl_bottom, 0.5 * top.value)
        changes |= {"cowl_bottom": bottom, "cowl_height": top.value - bottom}
    return replace(sizes, **changes)


def leg_mm(case: Case) -> float:
    """Return the leg to draw with: as known, else the class's longest."""
    return case.leg.reading.value if case.leg else max(case.engine.legs_mm)


def _moved(ring: Polygon, home: Point) -> Polygon:
    return tuple((x - home[0], z - home[1]) for x, z in ring)


def _parts(case: Case, sizes: EngineSizes, home: Point, basis: Basis) -> tuple[Part, ...]:
    outline = level_outline(sizes, leg_mm(case), home).parts
    half = sizes.cowl_breadth / 2.0
    box = _cowl_box(sizes) if basis is Basis.SIZED else outline["cowl"]
    breadths = {
        "swivel": 0.35 * sizes.cowl_breadth,
        "leg": 0.6 * sizes.leg_breadth,
        "strut": 0.3 * sizes.leg_breadth,
        "plate": 0.3 * sizes.plate_length,
        "gearcase": 0.5 * sizes.gearcase_diameter,
        "skeg": 0.1 * sizes.gearcase_diameter,
        "propeller": 0.5 * sizes.propeller_diameter,
    }
    own = [Part("cowl", _moved(box, home), half), Part("pan", _moved(outline["pan"], home), half)]
    own += [
        Part(name, _moved(ring, home), breadths[name], steers=name != "swivel")
        for name, ring in outline.items()
        if name not in _SKIPPED
    ]
    return tuple(own)


def _cowl_box(sizes: EngineSizes) -> Polygon:
    left, right = -sizes.cowl_forward, sizes.cowl_length - sizes.cowl_forward
    low, high = sizes.cowl_bottom, sizes.cowl_bottom + sizes.cowl_height
    return ((left, low), (right, low), (right, high), (left, high))


def engine_travel(case: Case) -> Travel:
    """Return how far the engine tilts and turns; the rake must be known.

    Angles stated at rake r0 become plate angles less (r - r0). A measured one is taken from square
    to the face, so its r0 is 0.
    """
    candidate, engine = case.candidate, case.engine
    rake = case.job.transom.rake
    value = rake.value if rake else engine.leg_rake_deg
    missing: list[str] = []

    def angle(name: str, of_class: float) -> tuple[float, float]:
        reading: Reading | None = getattr(candidate, name)
        if reading is None:
            missing.append(f"engine.{name}")
            return of_class - (value - engine.leg_rake_deg), CLASS_ANGLE_DEG
        return reading.value - value, reading.tolerance

    low, low_spread = angle("trim_in", engine.trim_in_deg)
    high, high_spread = angle("full_tilt", engine.tilt_deg)
    lock = candidate.lock_angle
    if lock is None:
        missing.append("engine.lock_angle")
        lock = Reading(engine.steering_lock_deg, CLASS_ANGLE_DEG, Origin.CLASS)
    return Travel(
        low, max(low, high), lock.value, low_spread, high_spread, lock.tolerance, tuple(missing)
    )


@once_a_case
def mounted_option(case: Case) -> HeightOption:
    """Return the height to look at: the chosen one, else the best, else the lowest possible."""
    mounting = case.job.mounting
    options = height_options(case)
    row = mounting.row if mounting.engine in ("", case.candidate.id) else None
    rows = len(case.pattern.upper_rows_mm)
    if row is not None and (rows == 0 or 1 <= row <= rows):
        return option_at(case, row if rows else 0, chosen_setting_mm(case) or 0.0)
    best = best_option(case, options)
    return best or next((item for item in options if item.is_possible), options[0])


def rig_of(case: Case, option: HeightOption) -> Rig:
    """Return the rig in the top frame: origin at the transom's upper outer edge, x aft, z up.

    All clearances are reckoned in this frame, so that they need no transom height. In the keel
    frame the origin stands at ``rig_of`` moved by the height along the face.
    """
    rake, engine = case.job.transom.rake, engine_with_axis(case)
    return Rig(
        height_face_mm=0.0,
        rake_deg=rake.value if rake else engine.leg_rake_deg,
        leg_mm=leg_mm(case),
        lift_mm=option.lift.value,
        setback_mm=case.setback.value,
        arms=case.arms,
        axis_out_mm=engine.axis_out_mm,
        axis_up_mm=engine.axis_up_mm,
        leg_rake_deg=engine.leg_rake_deg,
    )


def tilt_turn(case: Case, option: HeightOption) -> Turn:
    """Return the turn about the tilt axis from fully in to fully up, in the top frame."""
    travel = engine_travel(case)
    return Turn(rig_of(case, option).axis(), travel.trim_in_deg, travel.full_tilt_deg)


def off_centre_mm(case: Case) -> float:
    """Return the engine's middle from the centreline, + to starboard."""
    off = case.job.mounting.off_centre
    return off.value if off else 0.0


def placed_rings(envelope: Envelope, axis: Point, names: Iterable[str] = ()) -> list[Polygon]:
    """Return the side views, plate level, with the tilt axis at a point; all parts by default."""
    wanted = tuple(names)
    return [
        tuple((x + axis[0], z + axis[1]) for x, z in part.ring)
        for part in envelope.parts
        if not wanted or part.name in wanted
    ]


def hull_in_directions(points: Iterable[Point], count: int = 12) -> Polygon:
    """Return a convex polygon of at most ``count`` sides round some points, touching on each side.

    It never cuts into them, so that it is safe to use in their place.
    """
    cloud = list(points)
    lines = []
    for step in range(count):
        angle = 2.0 * math.pi * step / count
        nx, nz = math.cos(angle), math.sin(angle)
        lines.append((nx, nz, max(nx * x + nz * z for x, z in cloud)))
    ring: list[Point] = []
    for (ax, az, a), (bx, bz, b) in zip(lines, [*lines[1:], lines[0]], strict=True):
        turn = ax * bz - az * bx
        ring.append(((a * bz - b * az) / turn, (ax * b - bx * a) / turn))
    apart = tuple(
        point
        for point, last in zip(ring, [ring[-1], *ring[:-1]], strict=True)
        if math.dist(point, last) > 1e-6
    )
    return apart if len(apart) > 2 else tuple(ring)
