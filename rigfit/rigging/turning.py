"""Shapes that turn about a pivot among shapes that stand still: first contact and least gap, exact.

A corner of the turning shape travels on a circle, and a corner of a standing one travels on the
counter-circle as seen from the turning shape. So every first contact is a circle crossing a
straight edge or reaching a corner, and every least gap lies at an end of the travel, where two
corners pass each other on one radius, or where a corner passes the foot of an edge. All of these
have closed forms; nothing is sampled. Lengths in mm, angles in degrees at the border.

The sense of turning is that of ``Outline.turned``: the first axis towards the second.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeAlias

from rigfit.errors import EntryError
from rigfit.rigging.outline import Polygon
from rigfit.rigging.plate_height import Point

_TINY = 1e-9
_SNAP_MM = 1e-7
_KEPT = 64
_Near: TypeAlias = tuple[float, float, Point, Point]
_Box: TypeAlias = tuple[float, float, float, float]
_Boxed: TypeAlias = tuple[Polygon, _Box]
_FULL = 2.0 * math.pi


@dataclass(frozen=True, slots=True)
class Turn:
    """A turn about a pivot, from one angle to another.

    :param pivot: the fixed point, mm.
    :param low_deg: where the turn begins; the shape is given as it stands at 0.
    :param high_deg: where it ends; not below ``low_deg``, and less than a full turn from it.
    """

    pivot: Point
    low_deg: float
    high_deg: float

    def __post_init__(self) -> None:
        numbers = (*self.pivot, self.low_deg, self.high_deg)
        if not all(math.isfinite(number) for number in numbers):
            raise EntryError("a turn has a pivot or angle that is no number")
        if not 0.0 <= self.high_deg - self.low_deg < 360.0:
            raise EntryError(
                f"a turn from {self.low_deg:g}° to {self.high_deg:g}°",
                allowed="it must go up, by less than a full turn",
                cure="check the angles at both ends",
            )

    def point(self, at: Point, angle_deg: float) -> Point:
        """Return where a point of the turning shape stands at an angle."""
        cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        x, z = at[0] - self.pivot[0], at[1] - self.pivot[1]
        return self.pivot[0] + x * cos - z * sin, self.pivot[1] + x * sin + z * cos


@dataclass(frozen=True, slots=True)
class Touch:
    """Two places nearest to each other.

    :param gap_mm: distance between them; 0 where they touch.
    :param angle_deg: angle of the turn at which that is so.
    :param on_moving: place on the turning shape, where it stands at that angle.
    :param on_fixed: place on the standing shape.
    :param at_rest: True when the shapes overlap already where the turn begins.
    """

    gap_mm: float
    angle_deg: float
    on_moving: Point
    on_fixed: Point
    at_rest: bool = False


def checked_polygon(points: Iterable[Point], name: str) -> Polygon:
    """Return a closed polygon without repeated corners.

    :raises EntryError: fewer than three corners, no area, or sides that cross; names the polygon.
    """
    ring: list[Point] = []
    for point in points:
        if not all(math.isfinite(part) for part in point):
            raise EntryError(f"{name} has a corner that is no number", cure="check its corners")
        if not ring or math.dist(point, ring[-1]) > 1e-6:
            ring.append((float(point[0]), float(point[1])))
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) <= 1e-6:
        ring.pop()
    if len(ring) < 3:
        raise EntryError(
            f"{name} has {len(ring)} different corners",
            allowed="an outline has three or more",
            cure="add the missing corners",
        )
    if _crosses_itself(ring):
        raise EntryError(
            f"the outline of {name} crosses itself",
            allowed="its sides may meet only at corners",
            cure="list the corners in the order of a walk round it",
        )
    if abs(area_mm2(ring)) < 1.0:
        raise EntryError(f"{name} has no area", cure="check its corners")
    return tuple(ring)


def area_mm2(ring: Sequence[Point]) -> float:
    """Return the area of a polygon, positive when its corners run from the first axis over."""
    return 0.5 * math.fsum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """True when two segments share a point."""
    one, two = _side(a, b, c), _side(a, b, d)
    three, four = _side(c, d, a), _side(c, d, b)
    if one * two < 0.0 and three * four < 0.0:
        return True
    return any(
        abs(side) <= _TINY and _between(p, q, r)
        for side, p, q, r in ((one, a, b, c), (two, a, b, d), (three, c, d, a), (four, c, d, b))
    )


def _between(a: Point, b: Point, p: Point) -> bool:
    return (
        min(a[0], b[0]) - _TINY <= p[0] <= max(a[0], b[0]) + _TINY
        and min(a[1], b[1]) - _TINY <= p[1] <= max(a[1], b[1]) + _TINY
    )


def _crosses_itself(ring: Sequence[Point]) -> bool:
    count = len(ring)
    for i in range(count):
        a, b = ring[i], ring[(i + 1) % count]
        for j in range(i + 2, count):
            if (j + 1) % count != i and _cross(a, b, ring[j], ring[(j + 1) % count]):
                return True
    return False


def is_inside(point: Point, ring: Sequence[Point]) -> bool:
    """True for a point inside a polygon (a point on its rim may go either way)."""
    x, z = point
    inside = False
    for (ax, az), (bx, bz) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (az > z) != (bz > z) and x < ax + (z - az) * (bx - ax) / (bz - az):
            inside = not inside
    return inside


@dataclass(frozen=True, slots=True)
class _Edge:
    """One side of a polygon in terms of the pivot.

    Its line lies ``off`` from the pivot in the direction ``normal``; its ends lie from ``low`` to
    ``high`` along it, counted from the foot of the pivot; ``near`` and ``far`` are its least and
    greatest distance from the pivot.
    """

    normal: float
    off: float
    low: float
    high: float
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class _Shape:
    """Polygons in terms of the pivot: corners by radius and direction, and sides."""

    rings: tuple[Polygon, ...]
    radii: list[float] = field(default_factory=list)
    directions: list[float] = field(default_factory=list)
    edges: list[_Edge] = field(default_factory=list)
    placed: dict[float, tuple[_Boxed, ...]] = field(default_factory=dict)


def _shape(rings: Sequence[Polygon], pivot: Point) -> _Shape:
    px, pz = pivot
    own = tuple(tuple((x - px, z - pz) for x, z in ring) for ring in rings)
    corners = sorted((math.hypot(x, z), math.atan2(z, x)) for ring in own for x, z in ring)
    edges = [
        _edge(a, b)
        for ring in own
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
        if a != b
    ]
    return _Shape(own, [item[0] for item in corners], [item[1] for item in corners], edges)


@lru_cache(maxsize=16)
def _own_shape(rings: tuple[Polygon, ...]) -> _Shape:
    return _shape(rings, (0.0, 0.0))


def _edge(a: Point, b: Point) -> _Edge:
    length = math.dist(a, b)
    nx, nz = (b[1] - a[1]) / length, (a[0] - b[0]) / length
    off = nx * a[0] + nz * a[1]
    if off < 0.0:
        nx, nz, off = -nx, -nz, -off
    ends = sorted((-nz * a[0] + nx * a[1], -nz * b[0] + nx * b[1]))
    far = max(math.hypot(*a), math.hypot(*b))
    near = off if ends[0] <= 0.0 <= ends[1] else min(math.hypot(*a), math.hypot(*b))
    return _Edge(math.atan2(nz, nx), off, ends[0], ends[1], near, far)


class Turning:
    """A shape that turns, made ready once and asked about many standing shapes.

    :param rings: its polygons as they stand at angle 0; they may overlap each other.
    :param turn: pivot and ends of the turn.
    :param own: the shape made ready before; see ``about_origin``.
    :param round_mm: how far the shape reaches beyond the polygons all round: 0, or the radius of
        its rounded corners when the polygons are drawn in by as much.
    """

    def __init__(
        self,
        rings: Sequence[Polygon],
        turn: Turn,
        round_mm: float = 0.0,
        *,
        own: _Shape | None = None,
    ) -> None:
        self.turn = turn
        self.round_mm = round_mm
        self._low = math.radians(turn.low_deg)
        self._span = math.radians(turn.high_deg) - self._low
        self._moving = _shape(rings, turn.pivot) if own is None else own
        self._reach = max(self._moving.radii, default=0.0)

    @classmethod
    def about_origin(cls, rings: tuple[Polygon, ...], turn: Turn) -> Turning:
        """Return a turning shape whose polygons are given from the pivot; made ready only once."""
        return cls((), turn, own=_own_shape(rings))

    # ------------------------------------------------------------------ questions

    def least_gap(self, ring: Polygon) -> Touch:
        """Return where the turning shape comes nearest to a standing one, the gap 0 on contact."""
        fixed = _shape((ring,), self.turn.pivot)
        touch = self._contact(fixed, 0.0)
        if touch is not None:
            return touch
        best = self._static(fixed, self._low, math.inf)
        last = self._static(fixed, self._low + self._span, best[0])
        return self._touch(self._passing(fixed, min(best, last, key=_gap_of)))

    def first_within(self, ring: Polygon, gap_mm: float = 0.0) -> Touch | None:
        """Return where the shapes first come within a gap of each other, or None if they never do.

        :param gap_mm: 0 for contact.
        """
        return self._contact(_shape((ring,), self.turn.pivot), gap_mm)

    def touches(self, ring: Polygon) -> bool:
        """True when the shapes ever touch."""
        return self.first_within(ring) is not None

    # ------------------------------------------------------------------ contact

    def _contact(self, fixed: _Shape, gap_mm: float) -> Touch | None:
        gap = gap_mm + self.round_mm
        if _nearest_radius(fixed) > self._reach + gap and not _holds(fixed):
            return None
        start = self._static(fixed, self._low, gap) if gap > 0.0 else None
        if start is not None and start[0] <= gap:
            return self._touch(start, at_rest=True)
        if self._overlaps(fixed, self._low):
            near = self._static(fixed, self._low, math.inf)
            return self._touch((0.0, near[1], near[2], near[3]), at_rest=True)
        first = self._crossings(fixed, gap)
        if first is None:
            return None
        near = self._static(fixed, first, math.inf)
        return self._touch(near)

    def _crossings(self, fixed: _Shape, gap: float) -> float | None:
        """Return the first angle at which a corner reaches an edge or, for a gap, a corner."""
        best = self._span + 1e-12
        moving = self._moving
        best = _first(moving, fixed.edges, gap, self._low, best, sign=1.0)
        best = _first(fixed, moving.edges, gap, self._low, best, sign=-1.0)
        if gap > 0.0:
            best = _first_corners(moving, fixed, gap, self._low, best)
        return None if best > self._span else self._low + best

    # ------------------------------------------------------------------ least gap

    def _passing(self, fixed: _Shape, best: _Near) -> _Near:
        """Return the nearest of ``best`` and all places where corners pass corners or edges."""
        moving = self._moving
        gap, angle = self._past_corners(fixed, best[0], -1.0)
        gap, angle = self._past_edges(moving, fixed.edges, 1.0, gap, angle)
        gap, angle = self._past_edges(fixed, moving.edges, -1.0, gap, angle)
        return best if angle < 0.0 else self._static(fixed, self._low + angle, math.inf)

    def _past_corners(self, fixed: _Shape, gap: float, angle: float) -> tuple[float, float]:
        moving = self._moving
        for radius, direction in zip(fixed.radii, fixed.directions, strict=True):
            begin = bisect_left(moving.radii, radius - gap)
            for index in range(begin, bisect_right(moving.radii, radius + gap)):
                apart = abs(moving.radii[index] - radius)
                if apart < gap:
                    turned = (direction - moving.directions[index] - self._low) % _FULL
                    if turned <= self._span:
                        gap, angle = apart, turned
        return gap, angle

    def _past_edges(
        self, corners: _Shape, edges: Sequence[_Edge], sign: float, gap: float, angle: float
    ) -> tuple[float, float]:
        for edge in edges:
            if not edge.low <= 0.0 <= edge.high:
                continue
            begin = bisect_left(corners.radii, edge.off - gap)
            for index in range(begin, bisect_right(corners.radii, edge.off)):
                apart = edge.off - corners.radii[index]
                if apart < gap:
                    turned = (sign * (edge.normal - corners.directions[index]) - self._low) % _FULL
                    if turned <= self._span:
                        gap, angle = apart, turned
        return gap, angle

    # ------------------------------------------------------------------ at one angle

    def _at(self, angle: float) -> tuple[_Boxed, ...]:
        found = self._moving.placed.get(angle)
        if found is None:
            cos, sin = math.cos(angle), math.sin(angle)
            rings = [
                tuple((x * cos - z * sin, x * sin + z * cos) for x, z in ring)
                for ring in self._moving.rings
            ]
            found = tuple((ring, _box(ring)) for ring in rings)
            if len(self._moving.placed) < _KEPT:
                self._moving.placed[angle] = found
        return found

    def _overlaps(self, fixed: _Shape, angle: float) -> bool:
        return any(
            _box_gap(box, _box(other)) <= 0.0 and overlap(ring, other)
            for ring, box in self._at(angle)
            for other in fixed.rings
        )

    def _static(self, fixed: _Shape, angle: float, within: float) -> _Near:
        """Return the nearest places at one angle, (gap, angle, on moving, on fixed).

        The gap is infinite where none is nearer than ``within``.
        """
        best = (within, angle, (0.0, 0.0), (0.0, 0.0))
        found = False
        for other in fixed.rings:
            outer = _box(other)
            gaps = [(_box_gap(box, outer), ring) for ring, box in self._at(angle)]
            gaps.sort(key=_first_of)
            for apart, ring in gaps:
                if apart >= best[0] and found:
                    break
                near = nearest(ring, other, best[0])
                if near is not None:
                    best, found = (near[0], angle, near[1], near[2]), True
        return best if found else (math.inf, angle, best[2], best[3])

    def _touch(self, near: _Near, *, at_rest: bool = False) -> Touch:
        gap, angle, one, two = near
        if self.round_mm > 0.0 and gap > _TINY:
            part = min(1.0, self.round_mm / gap)
            one = (one[0] + part * (two[0] - one[0]), one[1] + part * (two[1] - one[1]))
        px, pz = self.turn.pivot
        return Touch(
            gap - self.round_mm if gap - self.round_mm > _SNAP_MM else 0.0,
            math.degrees(angle),
            (one[0] + px, one[1] + pz),
            (two[0] + px, two[1] + pz),
            at_rest,
        )


def _gap_of(near: _Near) -> float:
    return near[0]


def _first_of(item: tuple[float, Polygon]) -> float:
    return item[0]


def _box_gap(one: _Box, two: _Box) -> float:
    """Return the distance of two upright boxes; 0 when they overlap."""
    aside = max(one[0] - two[2], two[0] - one[2], 0.0)
    above = max(one[1] - two[3], two[1] - one[3], 0.0)
    return math.hypot(aside, above)


def _nearest_radius(fixed: _Shape) -> float:
    """Return the distance of the pivot from the sides of a standing shape."""
    return min(edge.near for edge in fixed.edges)


def _holds(fixed: _Shape) -> bool:
    """True when the pivot lies inside a standing shape."""
    return any(is_inside((0.0, 0.0), ring) for ring in fixed.rings)


def _first(
    corners: _Shape, edges: Sequence[_Edge], gap: float, low: float, best: float, *, sign: float
) -> float:
    """Return the first turn beyond ``low`` at which a corner comes within a gap of an edge."""
    radii, directions = corners.radii, corners.directions
    least, most = radii[0] - gap, radii[-1] + gap
    for edge in edges:
        if edge.far < least or edge.near > most:
            continue
        for off in (edge.off - gap, edge.off + gap) if gap > 0.0 else (edge.off,):
            begin = bisect_left(radii, abs(off))
            end = bisect_right(radii, math.hypot(off, max(abs(edge.low), abs(edge.high))) + _TINY)
            for index in range(begin, end):
                radius = radii[index]
                along = math.sqrt(max(0.0, radius * radius - off * off))
                for foot in (along, -along):
                    if edge.low - _TINY <= foot <= edge.high + _TINY:
                        at = math.atan2(foot, off) + edge.normal
                        turned = (sign * (at - directions[index]) - low) % _FULL
                        if turned < best:
                            best = turned
    return best


def _first_corners(moving: _Shape, fixed: _Shape, gap: float, low: float, best: float) -> float:
    for radius, direction in zip(fixed.radii, fixed.directions, strict=True):
        begin = bisect_left(moving.radii, radius - gap)
        for index in range(begin, bisect_right(moving.radii, radius + gap)):
            own = moving.radii[index]
            if own * radius == 0.0:
                continue
            cos = (own * own + radius * radius - gap * gap) / (2.0 * own * radius)
            if abs(cos) > 1.0:
                continue
            ahead = math.acos(cos)
            for side in (ahead, -ahead):
                best = min(best, (direction - moving.directions[index] + side - low) % _FULL)
    return best


def _box(ring: Polygon) -> _Box:
    xs, zs = [x for x, _ in ring], [z for _, z in ring]
    return min(xs), min(zs), max(xs), max(zs)


def overlap(one: Polygon, two: Polygon) -> bool:
    """True when two polygons share any point."""
    a, b = _box(one), _box(two)
    if a[0] > b[2] or b[0] > a[2] or a[1] > b[3] or b[1] > a[3]:
        return False
    if is_inside(one[0], two) or is_inside(two[0], one):
        return True
    for p, q in zip(one, (*one[1:], one[0]), strict=True):
        if max(p[0], q[0]) < b[0] or min(p[0], q[0]) > b[2]:
            continue
        if max(p[1], q[1]) < b[1] or min(p[1], q[1]) > b[3]:
            continue
        if any(_cross(p, q, r, s) for r, s in zip(two, (*two[1:], two[0]), strict=True)):
            return True
    return False


def nearest(one: Polygon, two: Polygon, within: float) -> tuple[float, Point, Point] | None:
    """Return the nearest places of two polygons that do not overlap, (gap, on one, on two).

    None where no place of the one is nearer to the other than ``within``.
    """
    best = _nearest_corner(one, two, within)
    other = _nearest_corner(two, one, best[0] if best else within)
    return (other[0], other[2], other[1]) if other else best


def _nearest_corner(
    corners: Polygon, sides: Polygon, within: float
) -> tuple[float, Point, Point] | None:
    """Return the corner that is nearest to a side, (gap, corner, place on the side)."""
    left, low, right, high = _box(sides)
    order = []
    for x, z in corners:
        aside = left - x if x < left else x - right if x > right else 0.0
        above = low - z if z < low else z - high if z > high else 0.0
        apart = aside * aside + above * above
        if apart < within * within:
            order.append((apart, x, z))
    order.sort()
    edges = [(a[0], a[1], b[0], b[1]) for a, b in zip(sides, (*sides[1:], sides[0]), strict=True)]
    best: tuple[float, Point, Point] | None = None
    for apart, x, z in order:
        if apart >= within * within:
            break
        found = _nearest_side(x, z, edges, within)
        if found is not None:
            within = found[0]
            best = (within, (x, z), found[1])
    return best


def _nearest_side(
    x: float, z: float, edges: Sequence[tuple[float, float, float, float]], within: float
) -> tuple[float, Point] | None:
    """Return the place on some sides nearest to a point, where it is nearer than ``within``."""
    best: tuple[float, Point] | None = None
    right, left, high, low = x + within, x - within, z + within, z - within
    for ax, az, bx, bz in edges:
        if (ax > right and bx > right) or (ax < left and bx < left):
            continue
        if (az > high and bz > high) or (az < low and bz < low):
            continue
        ex, ez = bx - ax, bz - az
        square = ex * ex + ez * ez
        part = ((x - ax) * ex + (z - az) * ez) / square if square else 0.0
        part = 0.0 if part < 0.0 else 1.0 if part > 1.0 else part
        fx, fz = ax + part * ex, az + part * ez
        gap = math.hypot(x - fx, z - fz)
        if gap < within:
            within, best = gap, (gap, (fx, fz))
    return best
