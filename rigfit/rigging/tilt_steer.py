"""Tilt and steering together, in space: the worst place over both whole ranges, certified.

The engine is a set of convex bodies, each a side view drawn out to its breadth; so are the walls.
The two angles are searched best first: a cell of both ranges is thrown away when no place in it can
be nearer than the nearest found. The bound of a cell takes the plane that parts the two bodies at
its middle; a corner's distance from it is a sine of either angle, so its least value in the cell is
bounded by value, slope and curvature. The answer is right to ``RESOLUTION_MM``.

The steering axis stands square to the plate and turns with the tilt. Steering is + with the
propeller to starboard.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rigfit.rigging.envelope import Envelope, hull_in_directions
from rigfit.rigging.nearest_bodies import Place, body_distance
from rigfit.rigging.outline import Polygon
from rigfit.rigging.plate_height import Point
from rigfit.rigging.surroundings import Solid, convex_pieces, corner_plan
from rigfit.rigging.turning import Turn

RESOLUTION_MM = 0.01
"""How far the least clearance may be off for want of searching further."""

MOST_CELLS = 6000
"""Cells after which a search stops, saying what it has proved so far."""

STEPS = (21, 5)
"""Tilts and angles of steering at which the depth of a contact is compared."""

_TOUCH_MM = 1e-6
_LOWER = ("strut", "gearcase", "skeg")
_SIZED = ("cowl", "swivel", "leg", "gearcase", "plate", "propeller")
_CORNER_CHORDS = 6
_BANDS = 6


@dataclass(frozen=True, slots=True)
class WorstPlace:
    """Where the engine comes nearest to anything, tilting and steering.

    :param clear_mm: least clearance; below 0 about how deep it would go into it.
    :param tilt_deg: plate angle there, propeller up is +.
    :param steer_deg: steering there, + with the propeller to starboard.
    :param part: part of the engine.
    :param solid: the thing it is nearest to.
    :param on_engine: place on the engine, top frame, (x aft, y starboard, z up).
    :param on_solid: place on the thing.
    :param resolution_mm: how much less the true clearance can be at most.
    :param cells: how many cells were looked at.
    """

    clear_mm: float
    tilt_deg: float
    steer_deg: float
    part: str
    solid: Solid
    on_engine: Place
    on_solid: Place
    resolution_mm: float
    cells: int


@dataclass(frozen=True, slots=True)
class _Body:
    """A convex part of the engine, from the steering axis at the height of the tilt axis."""

    name: str
    corners: tuple[Place, ...]
    aft_mm: float
    steers: bool
    reach_mm: float
    side_mm: float


def tilt_and_steer(
    envelope: Envelope, turn: Turn, lock_deg: float, off_mm: float, solids: Sequence[Solid]
) -> WorstPlace | None:
    """Return the worst place over all tilts of ``turn`` and steering to ``lock_deg`` each way.

    :param turn: tilt axis and range in the top frame; give both ends alike for one tilt.
    :param off_mm: engine's middle from the centreline, + to starboard.
    :return: None with no solids, or an envelope without parts.
    """
    return _searched(envelope, turn, lock_deg, off_mm, tuple(solids))


@lru_cache(maxsize=32)
def _searched(
    envelope: Envelope, turn: Turn, lock_deg: float, off_mm: float, solids: tuple[Solid, ...]
) -> WorstPlace | None:
    bodies = _bodies(envelope)
    walls = [(solid, wall) for solid in solids for wall in solid_bodies(solid)]
    if not any(solid.meets(body.name) for body in bodies for solid, _ in walls):
        return None
    return _Search(bodies, walls, turn, lock_deg, off_mm).run()


def _bodies(envelope: Envelope) -> list[_Body]:
    """Return the engine's convex bodies: hood and tray in one, the gearcase, and the rest."""
    upper = [part for part in envelope.parts if part.name in ("cowl", "pan")]
    lower = [part for part in envelope.parts if part.name in _LOWER]
    single = [part for part in envelope.parts if part not in upper and part not in lower]
    groups = [("cowl", upper), ("gearcase", lower), *((part.name, [part]) for part in single)]
    found = []
    for name, parts in groups:
        if not parts:
            continue
        half = max(part.half_breadth_mm for part in parts)
        steers = all(part.steers for part in parts)
        aft = envelope.steering_aft_mm if steers else 0.0
        points = [point for part in parts for point in part.ring]
        # A drawn outline may hold the whole engine, hollow between hood and leg.
        clouds = [points] if name in _SIZED else _bands(parts[0].ring)
        found += [
            _body(name, hull_in_directions(cloud), half, aft, steers=steers) for cloud in clouds
        ]
    return found


def _body(name: str, ring: Polygon, half: float, aft: float, *, steers: bool) -> _Body:
    corners = tuple((x - aft, side, z) for x, z in ring for side in (-half, half))
    reach = max(math.hypot(math.hypot(x, y) + abs(aft), z) for x, y, z in corners)
    side = max(math.hypot(x, y) for x, y, _ in corners) if steers else 0.0
    return _Body(name, corners, aft, steers, reach, side)


def _bands(ring: Polygon) -> list[list[Point]]:
    """Return the corners of a polygon cut level into bands, each with the cuts' own corners."""
    low, high = min(z for _, z in ring), max(z for _, z in ring)
    cuts = [low + (high - low) * step / _BANDS for step in range(_BANDS + 1)]
    bands = []
    for bottom, top in itertools.pairwise(cuts):
        inside = [point for point in ring if bottom <= point[1] <= top]
        for (ax, az), (bx, bz) in zip(ring, (*ring[1:], ring[0]), strict=True):
            inside += [
                (ax + (level - az) * (bx - ax) / (bz - az), level)
                for level in (bottom, top)
                if min(az, bz) < level < max(az, bz)
            ]
        if len(inside) > 2:
            bands.append(inside)
    return bands


def solid_bodies(solid: Solid) -> list[tuple[Place, ...]]:
    """Return a solid as convex bodies, corners in the top frame."""
    if solid.plan:
        low, high = solid.heights_mm
        front, side = solid.plan[0]
        radius = abs(solid.plan[1][0] - front)
        sign = 1.0 if side > 0.0 else -1.0
        # Fewer, longer chords: they stand further off the arc, on the safe side.
        plan = corner_plan(front, side, radius, sign, _CORNER_CHORDS)
        pairs = itertools.pairwise(plan[1:])
        return [
            tuple((x, y, z) for x, y in (plan[0], one, two) for z in (low, high))
            for one, two in pairs
        ]
    ends = (solid.port_mm, solid.starboard_mm)
    return [tuple((x, y, z) for x, z in ring for y in ends) for ring in convex_pieces(solid.ring)]


@dataclass(slots=True)
class _Cell:
    body: _Body
    wall: int
    at: tuple[float, float, float, float]
    tilt_first: bool
    guess: Place


class _Search:
    """The search of the two ranges, best first."""

    def __init__(
        self,
        bodies: list[_Body],
        walls: list[tuple[Solid, tuple[Place, ...]]],
        turn: Turn,
        lock_deg: float,
        off_mm: float,
    ) -> None:
        self._bodies, self._walls, self._off = bodies, walls, off_mm
        self._axis = turn.pivot
        low, high = math.radians(turn.low_deg), math.radians(turn.high_deg)
        self._tilt, self._half_tilt = 0.5 * (low + high), 0.5 * (high - low)
        self._lock = math.radians(lock_deg)
        self._best = math.inf
        self._found: tuple[float, float, _Body, int, Place, Place] | None = None
        self._count = 0
        self._ties = itertools.count()
        self._heap: list[tuple[float, int, _Cell]] = []

    def run(self) -> WorstPlace:
        """Return the worst place."""
        self._seed()
        for body in self._bodies:
            for wall, (solid, _) in enumerate(self._walls):
                if not solid.meets(body.name):
                    continue
                lock = self._lock if body.steers else 0.0
                self._look(body, wall, (self._tilt, 0.0, self._half_tilt, lock), None)
        proved = self._best
        while self._heap and self._best > 0.0 and self._count < MOST_CELLS:
            low, _, cell = heapq.heappop(self._heap)
            if low >= self._wanted:
                proved = low
                break
            self._split(cell)
            proved = self._heap[0][0] if self._heap else self._best
        return self._answer(max(0.0, self._best - proved))

    def _seed(self) -> None:
        """Look at the corners of both ranges first: the worst place is often one of them."""
        for body in self._bodies[:1]:
            for wall, (solid, other) in enumerate(self._walls):
                for steer in (-self._lock, self._lock) if solid.meets(body.name) else ():
                    tilt = self._tilt + self._half_tilt
                    gap, one, two = body_distance(self.corners(body, tilt, steer), other)
                    if gap < self._best:
                        self._best, self._found = gap, (tilt, steer, body, wall, one, two)

    @property
    def _wanted(self) -> float:
        """What a cell must promise to undercut, to be worth a look."""
        return self._best - RESOLUTION_MM

    def _split(self, cell: _Cell) -> None:
        body = cell.body
        tilt, steer, half_tilt, half_steer = cell.at
        if half_steer == 0.0 or (cell.tilt_first and half_tilt > 0.0):
            half = 0.5 * half_tilt
            parts = [(tilt + sign * half, steer, half, half_steer) for sign in (-1.0, 1.0)]
        else:
            half = 0.5 * half_steer
            parts = [(tilt, steer + sign * half, half_tilt, half) for sign in (-1.0, 1.0)]
        for part in parts:
            self._look(body, cell.wall, part, cell.guess)

    def _look(
        self, body: _Body, wall: int, at: tuple[float, float, float, float], guess: Place | None
    ) -> None:
        """Look at the middle of a cell, and keep it when it may hold something nearer."""
        tilt, steer, half_tilt, half_steer = at
        self._count += 1
        other = self._walls[wall][1]
        if guess is not None and self._bound(body, at, _unit(guess), other)[0] >= self._wanted:
            return  # the plane that parted the bodies in the larger cell parts them here too
        corners = self.corners(body, tilt, steer)
        gap, one, two = body_distance(corners, other, guess)
        if gap < self._best:
            self._best = gap
            self._found = (tilt, steer, body, wall, one, two)
        if gap <= 0.0:
            return
        low = gap - body.reach_mm * half_tilt - body.side_mm * half_steer
        if low >= self._wanted:
            return
        vector = (one[0] - two[0], one[1] - two[1], one[2] - two[2])
        bound, tilt_first = self._bound(body, at, _unit(vector), other)
        low = max(low, bound)
        if low < self._wanted:
            cell = _Cell(body, wall, at, tilt_first, vector)
            heapq.heappush(self._heap, (low, next(self._ties), cell))

    def corners(self, body: _Body, tilt: float, steer: float) -> list[Place]:
        """Return a body's corners in the top frame; angles in radians."""
        ct, st, cs, ss = math.cos(tilt), math.sin(tilt), math.cos(steer), math.sin(steer)
        ax, az, aft, off = *self._axis, body.aft_mm, self._off
        found = []
        for x, y, z in body.corners:
            level = x * cs - y * ss + aft
            found.append(
                (ax + level * ct - z * st, off + x * ss + y * cs, az + level * st + z * ct)
            )
        return found

    def _bound(
        self, body: _Body, at: tuple[float, float, float, float], n: Place, wall: Sequence[Place]
    ) -> tuple[float, bool]:
        """Return what no place of the cell can be nearer than, by the plane square to ``n``.

        And whether the bound would gain more by halving the tilt than by halving the steering.
        """
        tilt, steer, half_tilt, half_steer = at
        ct, st, cs, ss = math.cos(tilt), math.sin(tilt), math.cos(steer), math.sin(steer)
        nx, ny, nz = n
        along, across = nx * ct + nz * st, nz * ct - nx * st
        level = math.hypot(nx, nz)  # tilting moves nothing across
        # Greatest second derivatives of a corner's distance from the plane, anywhere in the cell.
        by_tilts = 0.5 * level * body.reach_mm * half_tilt**2
        turning = math.hypot(along, ny) + level * half_tilt
        by_steers = 0.5 * body.side_mm * min(1.0, turning) * half_steer**2
        mixed = level * body.side_mm * half_tilt * half_steer
        aft, least, tilts, steers = body.aft_mm, math.inf, 0.0, 0.0
        for x, y, z in body.corners:
            back, side = x * cs - y * ss, x * ss + y * cs
            value = along * (back + aft) + across * z + ny * side
            by_tilt = abs(across * (back + aft) - along * z) * half_tilt
            by_steer = abs(ny * back - along * side) * half_steer
            if value - by_tilt - by_steer < least:
                least, tilts, steers = value - by_tilt - by_steer, by_tilt, by_steer
        ax, az = self._axis
        offset = nx * ax + nz * az + ny * self._off
        low = least + offset - by_tilts - by_steers - mixed
        reach = max(nx * x + ny * y + nz * z for x, y, z in wall)
        return low - reach, tilts + by_tilts >= steers + by_steers

    def _answer(self, resolution: float) -> WorstPlace:
        assert self._found is not None  # noqa: S101 - one cell at least was looked at
        tilt, steer, body, wall, one, two = self._found
        clear = self._best
        if clear <= 0.0:
            clear, tilt, steer, body, wall, one = self._deepest()
            two, resolution = one, 0.0
        return WorstPlace(
            clear, math.degrees(tilt), math.degrees(steer), body.name, self._walls[wall][0],
            one, two, resolution, self._count,
        )  # fmt: skip

    def _deepest(self) -> tuple[float, float, float, _Body, int, Place]:
        """Return about the deepest place of all contacts, compared at steps of both ranges.

        How deep is told by the shortest way, level, across or down, in which the wall would have to
        be moved to clear the engine as it stands there.
        """
        assert self._found is not None  # noqa: S101 - called after a contact
        tilt, steer, body, wall, one, _ = self._found
        depth = _depth(self.corners(body, tilt, steer), self._walls[wall][1], 0.0)
        best = (-depth, tilt, steer, body, wall, one)
        boxes = [_box(other) for _, other in self._walls]
        for body in self._bodies:
            for tilt, steer in self._places(body):
                corners = self.corners(body, tilt, steer)
                own = _box(corners)
                for wall, (solid, other) in enumerate(self._walls):
                    if not solid.meets(body.name) or _ways_out(own, boxes[wall])[0][0] <= -best[0]:
                        continue
                    depth = _depth(corners, other, -best[0])
                    if depth > -best[0]:
                        best = (-depth, tilt, steer, body, wall, _inmost(corners, boxes[wall]))
        return best

    def _places(self, body: _Body) -> list[tuple[float, float]]:
        """Return steps of both ranges: tilts, and steering where the body is steered."""
        half = (STEPS[1] - 1) // 2
        steers = [self._lock * (k - half) / half for k in range(STEPS[1])] if body.steers else [0.0]
        tilts = [
            self._tilt + self._half_tilt * (2.0 * k / (STEPS[0] - 1) - 1.0) for k in range(STEPS[0])
        ]
        return [(tilt, steer) for tilt in tilts for steer in steers]


def _box(corners: Sequence[Place]) -> tuple[Place, Place]:
    xs, ys, zs = zip(*corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


_WAYS: tuple[tuple[int, float], ...] = ((0, -1.0), (0, 1.0), (1, -1.0), (1, 1.0), (2, -1.0))
"""Axis and sense in which a wall is moved out of the way: ahead, aft, to either side, down."""


def _ways_out(own: tuple[Place, Place], wall: tuple[Place, Place]) -> list[tuple[float, int]]:
    """Return how far a wall's box must be moved each way to clear the engine's, least first."""
    found = []
    for number, (axis, sign) in enumerate(_WAYS):
        way = wall[1][axis] - own[0][axis] if sign < 0.0 else own[1][axis] - wall[0][axis]
        found.append((way, number))
    # Above or beside it altogether: nothing need be moved.
    if own[1][2] < wall[0][2]:
        found.append((0.0, 0))
    return sorted(found)


def _depth(corners: Sequence[Place], wall: Sequence[Place], more_than: float) -> float:
    """Return the shortest way to 0.1 mm, in which a wall is moved to clear a body; 0 for none.

    Only what is deeper than ``more_than`` is looked at; less comes back as 0.
    """

    def meets(number: int, by: float) -> bool:
        axis, sign = _WAYS[number]
        step = [0.0, 0.0, 0.0]
        step[axis] = sign * by
        moved = [(x + step[0], y + step[1], z + step[2]) for x, y, z in wall]
        return body_distance(corners, moved)[0] <= _TOUCH_MM

    ways = _ways_out(_box(corners), _box(wall))
    if ways[0][0] <= more_than or not all(meets(number, more_than) for _, number in ways):
        return 0.0
    best = math.inf
    for way, number in ways:
        if best <= more_than + 0.1 or (best < math.inf and meets(number, best)):
            continue
        low, high = more_than, min(way, best)
        while high - low > 0.1:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if meets(number, middle) else (low, middle)
        best = high
    return best


def _inmost(corners: Sequence[Place], wall: tuple[Place, Place]) -> Place:
    """Return the corner of a body that lies least outside a box."""
    low, high = wall
    return min(
        corners,
        key=lambda c: sum(max(0.0, low[i] - c[i], c[i] - high[i]) for i in range(3)),
    )


def _unit(v: Place) -> Place:
    length = math.hypot(*v)
    return v[0] / length, v[1] / length, v[2] / length
