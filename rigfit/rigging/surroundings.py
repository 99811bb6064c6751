"""What an engine swings among, as solids: the walls of the well, the transom, and obstacles.

The top frame has its origin at the upper outer edge of the transom, x aft, y to starboard from the
centreline, z up, level with the keel line. A solid is a side view drawn straight across.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.errors import EntryError
from rigfit.rigging.case import Case, once_a_case
from rigfit.rigging.outline import Polygon
from rigfit.rigging.plate_height import Point
from rigfit.rigging.readings import Reading
from rigfit.rigging.turning import area_mm2, checked_polygon
from rigfit.rigging.well_fields import Obstacle

FAR_MM = 4000.0
"""How far a solid reaches where nobody says where it ends."""

_DEEP_MM = 800.0
_TALL_MM = 1500.0
_OUTLINE_MM = 5.0
SAGITTA_MM = 0.01
"""How far the chords of a rounded corner may stand off its arc, on the safe side."""

DRAWN_HOOD, DRAWN_LEG = "hood as drawn", "leg as drawn"
"""Parts of an engine whose side view was drawn: above the tray's underside, and below it."""

_ABOARD = ("well", "transom")
_BELOW = (DRAWN_LEG, "swivel", "leg", "strut", "plate", "gearcase", "skeg", "propeller")

NEIGHBOURS = ("kicker", "second engine")
"""Kinds of obstacle that are another engine."""


@dataclass(frozen=True, slots=True)
class Solid:
    """A thing that stands still.

    :param name: how it is called in print.
    :param kind: of obstacle; "well" or "transom" for what is not in the list of obstacles.
    :param ring: side view in the top frame, (x aft, z up), mm.
    :param port_mm: its port side, from the centreline, + to starboard.
    :param starboard_mm: its starboard side.
    :param tolerances_mm: half-widths of the tolerance of its faces along x, y and z.
    :param needs: fields of the job that place it.
    :param assumed: what was taken for granted, as a sentence; "" for nothing.
    :param plan: seen from above instead, (x aft, y starboard), for a rounded corner; then the ring
        only says how high it reaches.
    """

    name: str
    kind: str
    ring: Polygon
    port_mm: float = -FAR_MM
    starboard_mm: float = FAR_MM
    tolerances_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)
    needs: tuple[str, ...] = ()
    assumed: str = ""
    plan: Polygon = ()

    @property
    def is_neighbour(self) -> bool:
        """True for another engine."""
        return self.kind in NEIGHBOURS

    def meets(self, part: str) -> bool:
        """True when a part of the engine can get there: the leg stays aft of the transom."""
        return self.kind not in _ABOARD or part not in _BELOW

    @property
    def heights_mm(self) -> tuple[float, float]:
        """Lower and upper end."""
        heights = [z for _, z in self.ring]
        return min(heights), max(heights)

    def plan_ring(self) -> Polygon:
        """Return its outline seen from above, (x aft, y starboard)."""
        if self.plan:
            return self.plan
        xs = [x for x, _ in self.ring]
        return box_ring(min(xs), self.port_mm, max(xs), self.starboard_mm)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """All solids of a job, and what was entered so that no solid can be made of it.

    :param solids: well first, then obstacles in the order of the job.
    :param problems: sentences naming what is wrong and the cure.
    """

    solids: tuple[Solid, ...]
    problems: tuple[str, ...] = ()

    @property
    def is_empty(self) -> bool:
        """True when nothing was entered."""
        return not self.solids and not self.problems


def box_ring(low_x: float, low_z: float, high_x: float, high_z: float) -> Polygon:
    """Return a rectangle as a polygon."""
    return ((low_x, low_z), (high_x, low_z), (high_x, high_z), (low_x, high_z))


@once_a_case
def surroundings(case: Case) -> Surroundings:
    """Return everything the job says the engine could touch; bad entries become problems."""
    problems: list[str] = []
    solids = list(_well(case, problems))
    solids += _cheeks(case)
    full, inner = case.candidate.full_tilt, case.candidate.trim_in
    if full is not None and inner is not None and full.value <= inner.value:
        problems.append(
            f"engine, full_tilt: {full.value:g}° is not more than trimmed fully in, "
            f"{inner.value:g}°; measure both again, from square to the face, propeller up +."
        )
    if case.candidate.outline:
        try:
            engine_rings(case.candidate.outline)
        except EntryError as error:
            problems.append(error.sentence())
    for index, obstacle in enumerate(case.job.obstacles, start=1):
        try:
            solids.append(obstacle_solid(obstacle, index))
        except EntryError as error:
            problems.append(error.sentence())
    return Surroundings(tuple(solids), tuple(problems))


def engine_rings(text: str) -> tuple[Polygon, ...]:
    """Return the side views in an engine's outline text, in its axis frame (x aft, z up), mm.

    :raises EntryError: as ``outline_points``.
    """
    rings = [part for part in text.split("/") if part.strip()]
    return tuple(
        outline_points(part, f"engine, outline {number}" if len(rings) > 1 else "engine, outline")
        for number, part in enumerate(rings, start=1)
    )


def outline_points(text: str, where: str = "outline") -> Polygon:
    """Return the side view in a text of points, "ahead, above; ahead, above; ...", in mm.

    The result is in the top frame, so x is minus what is ahead.

    :raises EntryError: for what is no pair of numbers, or an outline that crosses itself.
    """
    points: list[Point] = []
    for number, pair in enumerate(text.strip().strip(";").split(";"), start=1):
        parts = pair.replace("mm", "").split(",")
        try:
            ahead, above = (float(part) for part in parts)
        except ValueError:
            raise EntryError(
                f'point {number} of the outline reads "{pair.strip()[:40]}"',
                allowed="ahead and above in mm, with a comma between and a point as decimal mark",
                cure='write it like "420, -50; 560, -50; 560, 310"',
                where=where,
            ) from None
        if not (math.isfinite(ahead) and abs(ahead) <= FAR_MM and abs(above) <= FAR_MM):
            raise EntryError(
                f"point {number} of the outline is {pair.strip()[:40]}",
                allowed=f"at most {FAR_MM:g} mm either way",
                cure="check the numbers",
                where=where,
            )
        points.append((-ahead, above))
    try:
        return checked_polygon(points, "the side view")
    except EntryError as error:
        raise error.at(where) from None


def obstacle_solid(obstacle: Obstacle, index: int = 1) -> Solid:
    """Return an obstacle as a solid.

    :raises EntryError: when it is not placed, has no size, or its outline cannot be used.
    """
    name = obstacle.name or f"{obstacle.kind} {index}"
    where = f"obstacle {index} ({name})"
    sides = _ordered(obstacle.across_from, obstacle.across_to)
    if sides is not None and sides[1] - sides[0] < 0.5:
        raise EntryError(
            "its port and starboard sides are the same",
            cure="enter both sides, or leave both empty where it runs right across",
            where=where,
        )
    across = _tolerance(obstacle.across_from, obstacle.across_to)
    port, starboard = sides or (-FAR_MM, FAR_MM)
    if obstacle.outline:
        ring = outline_points(obstacle.outline, where)
        spread = (_OUTLINE_MM, across, _OUTLINE_MM)
        needs: tuple[str, ...] = ("obstacle.outline",)
    else:
        ring = _box_of(obstacle, where)
        spread = (
            _tolerance(obstacle.ahead_from, obstacle.ahead_to),
            across,
            _tolerance(obstacle.above_from, obstacle.above_to),
        )
        needs = tuple(
            f"obstacle.{key}" for key in ("ahead_from", "ahead_to", "above_from", "above_to")
        )
    return Solid(name, obstacle.kind, ring, port, starboard, spread, needs)


def _box_of(obstacle: Obstacle, where: str) -> Polygon:
    wanted = {
        "ahead_from": obstacle.ahead_from,
        "ahead_to": obstacle.ahead_to,
        "above_from": obstacle.above_from,
        "above_to": obstacle.above_to,
    }
    missing = [key for key, reading in wanted.items() if reading is None]
    ahead = _ordered(obstacle.ahead_from, obstacle.ahead_to)
    above = _ordered(obstacle.above_from, obstacle.above_to)
    if ahead is None or above is None:
        raise EntryError(
            f"{', '.join(missing)} not entered",
            allowed="it takes four readings, or an outline",
            cure="measure it from the transom's upper outer edge",
            where=where,
        )
    if ahead[1] - ahead[0] < 0.5 or above[1] - above[0] < 0.5:
        raise EntryError(
            "it has no size",
            allowed="near and far end, lower and upper edge must differ",
            cure="measure both",
            where=where,
        )
    return box_ring(-ahead[1], above[0], -ahead[0], above[1])


def _ordered(one: Reading | None, two: Reading | None) -> tuple[float, float] | None:
    if one is None or two is None:
        return None
    return min(one.value, two.value), max(one.value, two.value)


def _tolerance(*readings: Reading | None) -> float:
    return max((item.tolerance for item in readings if item is not None), default=0.0)


def _well(case: Case, problems: list[str]) -> list[Solid]:
    """Return the well's front wall, floor, sides and rounded corners, as far as measured."""
    well, transom = case.job.well, case.job.transom
    for name, reading in (("length", well.length), ("width", well.width)):
        if reading is not None and reading.value < 1.0:
            problems.append(f"well, {name}: it is 0, so there is no well; clear it or measure it.")
            return []
    rake = math.radians(transom.rake.value) if transom.rake else 0.0
    thick = transom.thickness.value / math.cos(rake) if transom.thickness else 0.0
    assumed = "" if transom.thickness else "The transom's thickness is taken as nothing."
    floor = -(well.floor_below_top.value if well.floor_below_top else _DEEP_MM)
    top, notch = well.front_top, case.job.face.notch_depth
    front = top.value if top else _TALL_MM
    found: list[Solid] = []
    end = -(thick + well.length.value) if well.length else -FAR_MM
    if well.length is not None:
        along = _tolerance(well.length, transom.thickness)
        spread = (along, 0.0, _tolerance(top))
        tall = "" if top else "The front wall is taken to stand as high as the hood."
        found.append(
            Solid(
                "front wall of the well", "well",
                box_ring(end - _DEEP_MM, min(floor, front) - 50.0, end, front),
                tolerances_mm=spread,
                needs=("well.length", "well.front_top", "transom.thickness"),
                assumed=f"{assumed} {tall}".strip(),
            )
        )  # fmt: skip
    if well.floor_below_top is not None:
        spread = (0.0, 0.0, well.floor_below_top.tolerance)
        # It ends where the leaning transom comes down to it.
        ring = box_ring(max(end, -FAR_MM), floor - 100.0, floor * math.tan(rake) - thick, floor)
        if ring[0][0] < ring[1][0]:
            found.append(Solid("floor of the well", "well", ring, tolerances_mm=spread,
                               needs=("well.floor_below_top",)))  # fmt: skip
    if well.width is None:
        return found
    heights = [item.value for item in (top, notch) if item is not None]
    high = max(heights, default=_TALL_MM)
    said = "" if heights else "The side walls are taken to stand as high as the hood."
    half, spread = well.width.value / 2.0, (0.0, well.width.tolerance / 2.0, 0.0)
    ring = box_ring(max(end, -FAR_MM) - 50.0, min(floor, high - 1.0), -thick, high)
    needs = ("well.width", "well.front_top")
    found.append(Solid("port side of the well", "well", ring, -FAR_MM, -half, spread, needs, said))
    found.append(
        Solid("starboard side of the well", "well", ring, half, FAR_MM, spread, needs, said)
    )
    if well.length is not None and well.corner_radius is not None:
        radius = min(well.corner_radius.value, half, well.length.value)
        found += _corners(end, half, radius, (min(floor, front), front), spread)
    return found


def _corners(
    end: float, half: float, radius: float, heights: Point, spread: tuple[float, float, float]
) -> list[Solid]:
    if radius < 0.5:
        return []
    count = corner_chords(radius)
    ring = box_ring(end, min(heights[0], heights[1] - 1.0), end + radius, heights[1])
    found = []
    for name, sign in (("port", -1.0), ("starboard", 1.0)):
        plan = corner_plan(end, sign * half, radius, sign, count)
        low, high = sorted((sign * half, sign * (half - radius)))
        found.append(
            Solid(
                f"{name} front corner of the well", "well", ring, low, high,
                (spread[1], spread[1], 0.0), ("well.corner_radius",), plan=plan,
            )
        )  # fmt: skip
    return found


def corner_chords(radius_mm: float) -> int:
    """Return how many chords a rounded corner needs to keep within ``SAGITTA_MM`` of its arc."""
    step = 2.0 * math.acos(max(0.0, 1.0 - SAGITTA_MM / radius_mm))
    return max(2, math.ceil(0.5 * math.pi / step))


def corner_plan(front: float, side: float, radius: float, sign: float, count: int) -> Polygon:
    """Return what a rounded corner fills of a square one, seen from above, chords inside the arc.

    :param front: the front wall, x; the well lies aft of it.
    :param side: the side wall, y.
    :param sign: +1 for the starboard corner, -1 for the port one.
    """
    middle = (front + radius, side - sign * radius)
    arc = [
        (
            middle[0] - radius * math.sin(0.5 * math.pi * step / count),
            middle[1] + sign * radius * math.cos(0.5 * math.pi * step / count),
        )
        for step in range(count + 1)
    ]
    return ((front, side), *arc)


def _cheeks(case: Case) -> list[Solid]:
    """Return the transom beside its notch."""
    face, transom = case.job.face, case.job.transom
    if face.notch_width is None or face.notch_depth is None:
        return []
    rake = math.radians(transom.rake.value) if transom.rake else 0.0
    thick = transom.thickness.value / math.cos(rake) if transom.thickness else 1.0
    deep = face.notch_depth.value
    lean = deep * math.tan(rake)
    ring = ((-thick, 0.0), (0.0, 0.0), (lean, deep), (lean - thick, deep))
    half = face.notch_width.value / 2.0
    spread = (_tolerance(transom.thickness), face.notch_width.tolerance / 2.0, 3.0)
    needs = ("face.notch_width", "face.notch_depth")
    return [
        Solid("transom beside the notch, port", "transom", ring, -FAR_MM, -half, spread, needs),
        Solid("transom beside the notch, starboard", "transom", ring, half, FAR_MM, spread, needs),
    ]


def convex_pieces(ring: Polygon) -> tuple[Polygon, ...]:
    """Return convex polygons that fill a polygon between them; itself when it is convex."""
    if area_mm2(ring) < 0.0:
        ring = tuple(reversed(ring))
    if all(_turns_left(ring, index) for index in range(len(ring))):
        return (ring,)
    left, pieces = list(ring), []
    while len(left) > 3:
        index = next((i for i in range(len(left)) if _is_ear(left, i)), 0)
        pieces.append((left[index - 1], left[index], left[(index + 1) % len(left)]))
        del left[index]
    return (*pieces, tuple(left))


def _turns_left(ring: Polygon | list[Point], index: int) -> bool:
    a, b, c = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -1e-9


def _is_ear(ring: list[Point], index: int) -> bool:
    a, b, c = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
    if not _turns_left(ring, index):
        return False
    sides = ((a, b), (b, c), (c, a))
    return not any(
        point not in (a, b, c)
        and all((q[0] - p[0]) * (point[1] - p[1]) - (q[1] - p[1]) * (point[0] - p[0]) >= 0.0
                for p, q in sides)
        for point in ring
    )  # fmt: skip
