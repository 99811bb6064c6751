"""What the drawings of the swing share: the engine held at an angle, solids, and placed words.

Places are in the top frame (origin at the transom's upper outer edge, x aft, y to starboard, z up),
mm. A side view shows x and z, a view from above x and y.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

from rigfit.drawing.dimensioning import leader
from rigfit.drawing.fonts import text_box, text_width_mm
from rigfit.drawing.scene import EDGE, Disc, Ink, Item, Path, Pen, Point, Text
from rigfit.errors import NotMeasuredError
from rigfit.rigging.case import Case
from rigfit.rigging.envelope import (
    Basis,
    Envelope,
    Part,
    Travel,
    engine_envelope,
    engine_travel,
    off_centre_mm,
    tilt_turn,
)
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.nearest_bodies import Place
from rigfit.rigging.outline import Polygon
from rigfit.rigging.surroundings import Solid, convex_pieces, surroundings
from rigfit.rigging.turning import Turn
from rigfit.units import Kind, Shown, compact, show

Window = tuple[float, float, float, float]
"""Left, bottom, right and top of what is shown."""

HATCH = Pen(0.13, ink=Ink.MUTED)
_HATCH_MM = 2.4
_CELL_MM = 1.6
_BOARD = ("well", "transom")


@dataclass(frozen=True, slots=True)
class Stage:
    """An engine among what is round it, ready to be drawn.

    :param envelope: room the engine takes.
    :param turn: tilt axis and ends.
    :param travel: how far it tilts and turns.
    :param off_mm: its middle from the centreline, + to starboard.
    :param solids: what is round it.
    """

    case: Case
    option: HeightOption
    envelope: Envelope
    turn: Turn
    travel: Travel
    off_mm: float
    solids: tuple[Solid, ...]

    @property
    def obstacles(self) -> tuple[Solid, ...]:
        """What is neither well nor transom."""
        return tuple(solid for solid in self.solids if solid.kind not in _BOARD)


def stage_of(case: Case, option: HeightOption) -> Stage:
    """Return what the swing is drawn from.

    :raises NotMeasuredError: without a rake, with nothing round the engine, or with an entry that
        cannot be used.
    """
    found = surroundings(case)
    if found.is_empty:
        raise NotMeasuredError(
            "nothing is entered that the engine could touch",
            cure="enter the motor well or an obstacle, measured from the transom's upper outer "
            "edge",
            where="swing",
        )
    if found.problems:
        raise NotMeasuredError(found.problems[0].rstrip("."), where="swing")
    if case.job.transom.rake is None:
        raise NotMeasuredError(
            "without the rake nobody knows where the engine's tilt axis lies",
            cure="measure the rake of the transom",
            where="swing",
        )
    return Stage(
        case, option, engine_envelope(case), tilt_turn(case, option), engine_travel(case),
        off_centre_mm(case), found.solids,
    )  # fmt: skip


Around: TypeAlias = tuple[tuple[Item, ...], tuple[Item, ...]]
"""What lies under the engine and what lies over it."""


class Remembered:
    """Remembers what does not move, so that holding the engine otherwise draws the engine alone.

    A case never changes, so the same object means the same boat.
    """

    def __init__(self, most: int = 4) -> None:
        self._most = most
        self._kept: tuple[tuple[Case, Hashable, Around], ...] = ()

    def of(self, case: Case, key: Hashable, make: Callable[[], Around]) -> Around:
        """Return what was made for a case and key, making it when it is not remembered."""
        for other, known, found in self._kept:
            if other is case and known == key:
                return found
        made = make()
        self._kept = ((case, key, made), *self._kept[: self._most - 1])
        return made


def basis_words(envelope: Envelope) -> str:
    """Return what the engine's size rests on, as a sentence for the sheet."""
    if envelope.basis is Basis.SIZED:
        return "Conservative: envelope only sized, the hood is drawn and judged as a full box."
    if envelope.basis is Basis.CLASS:
        return "Engine sizes typical of the class, not measured: a clearance cannot read fits."
    return "Engine from its drawn outline."


# --------------------------------------------------------------------------- the engine


def held(part: Part, stage: Stage, tilt_deg: float, steer_deg: float) -> list[Place]:
    """Return the corners of a part (x, y, z), first steered about its own axis, then tilted.

    Hollows of its side view are left out: what is drawn of it is its outline alone.
    """
    aft = stage.envelope.steering_aft_mm
    return held_at(part, aft, stage.turn.pivot, stage.off_mm, tilt_deg, steer_deg)


def held_at(
    part: Part, steering_aft_mm: float, axis: Point, off_mm: float, tilt_deg: float,
    steer_deg: float,
) -> list[Place]:  # fmt: skip
    """Return the corners of a part held about a tilt axis, as ``held``."""
    tilt = math.radians(tilt_deg)
    steer = math.radians(steer_deg if part.steers else 0.0)
    ct, st, cs, ss = math.cos(tilt), math.sin(tilt), math.cos(steer), math.sin(steer)
    (ax, az), aft = axis, steering_aft_mm
    found: list[Place] = []
    for x, z in _bulk(part.ring):
        for y in (-part.half_breadth_mm, part.half_breadth_mm):
            level = (x - aft) * cs - y * ss + aft
            across = (x - aft) * ss + y * cs
            found.append((ax + level * ct - z * st, off_mm + across, az + level * st + z * ct))
    return found


def seen(part: Part, stage: Stage, tilt_deg: float, steer_deg: float, *, above: bool) -> Polygon:
    """Return the outline of a held part from the side, or from above."""
    return convex_hull(
        (x, y if above else z) for x, y, z in held(part, stage, tilt_deg, steer_deg)
    )  # fmt: skip


@lru_cache(maxsize=64)
def _bulk(ring: Polygon) -> Polygon:
    return convex_hull(ring)


def convex_hull(points: Iterable[Point]) -> Polygon:
    """Return the convex hull of some points, anticlockwise."""
    ordered = sorted({(round(x, 6), round(y, 6)) for x, y in points})
    if len(ordered) < 3:
        return tuple(ordered)

    def half(run: Sequence[Point]) -> list[Point]:
        line: list[Point] = []
        for p in run:
            while len(line) > 1 and _left(line[-2], line[-1], p) <= 0.0:
                line.pop()
            line.append(p)
        return line[:-1]

    return (*half(ordered), *half(ordered[::-1]))


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@lru_cache(maxsize=8)
def silhouette(envelope: Envelope) -> tuple[Polygon, ...]:
    """Return the outline of all parts together in the axis frame, plate level."""
    from shapely import Polygon as Area
    from shapely import get_parts, unary_union

    whole = unary_union([Area(part.ring).buffer(0.5) for part in envelope.parts])
    return tuple(
        tuple((float(x), float(z)) for x, z in piece.simplify(0.3).exterior.coords[:-1])
        for piece in get_parts(whole)
    )


def turned(rings: Iterable[Polygon], turn: Turn, tilt_deg: float) -> tuple[Polygon, ...]:
    """Return outlines of the axis frame, tilted, in the top frame."""
    cos, sin = math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg))
    px, pz = turn.pivot
    return tuple(
        tuple((px + x * cos - z * sin, pz + x * sin + z * cos) for x, z in ring) for ring in rings
    )


# --------------------------------------------------------------------------- solids


def clipped(ring: Sequence[Point], window: Window) -> Polygon:
    """Return the part of a polygon inside a window; () for none."""
    points = list(ring)
    for axis, level, sign in (
        (0, window[0], 1.0), (1, window[1], 1.0), (0, window[2], -1.0), (1, window[3], -1.0),
    ):  # fmt: skip
        kept: list[Point] = []
        for a, b in zip(points, [*points[1:], *points[:1]], strict=True):
            one, two = sign * (a[axis] - level), sign * (b[axis] - level)
            if one >= 0.0:
                kept.append(a)
            if (one > 0.0 > two) or (one < 0.0 < two):
                share = one / (one - two)
                kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        points = kept
        if not points:
            return ()
    return tuple(points) if len(points) > 2 else ()


def solid_items(ring: Polygon, scale: float, ref: str) -> list[Item]:
    """Return a thing in the way: quiet fill, section lines at 45 degrees, its edge."""
    items: list[Item] = [Path(ring, "OBSTACLES", pen=None, closed=True, fill=Ink.HULL, ref=ref)]
    for piece in convex_pieces(ring):
        items += [
            Path(line, "OBSTACLES", pen=HATCH, ref=ref) for line in _hatch(piece, _HATCH_MM * scale)
        ]
    return [*items, Path(ring, "OBSTACLES", pen=EDGE, closed=True, ref=ref)]


def _hatch(ring: Polygon, step: float) -> list[tuple[Point, Point]]:
    """Return lines at 45 degrees through a convex polygon; they match from piece to piece."""
    pitch = step * math.sqrt(2.0)
    sums = [y - x for x, y in ring]
    found = []
    for number in range(math.ceil(min(sums) / pitch), math.floor(max(sums) / pitch) + 1):
        level, cuts = number * pitch, []
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            one, two = ay - ax - level, by - bx - level
            if (one > 0.0) != (two > 0.0):
                share = one / (one - two)
                cuts.append((ax + share * (bx - ax), ay + share * (by - ay)))
        if len(cuts) == 2 and math.dist(*cuts) > 0.1 * step:
            found.append((cuts[0], cuts[1]))
    return found


def moved(items: Iterable[Item], by: Point) -> list[Item]:
    """Return items moved as a whole."""

    def at(point: Point) -> Point:
        return point[0] + by[0], point[1] + by[1]

    found: list[Item] = []
    for item in items:
        if isinstance(item, Path):
            found.append(replace(item, points=tuple(map(at, item.points))))
        elif isinstance(item, Disc):
            found.append(replace(item, centre=at(item.centre)))
        else:
            found.append(replace(item, at=at(item.at)))
    return found


# --------------------------------------------------------------------------- words


def gap_text(clear_mm: float, tolerance_mm: float, style: Shown) -> str:
    """Return a clearance with its tolerance."""
    return compact(abs(clear_mm), style, tolerance_mm=tolerance_mm)


def angle_text(value: float) -> str:
    """Return an angle with its sign."""
    return show(round(value, 1) + 0.0, Kind.ANGLE, signed=True)


@dataclass(slots=True)
class Words:
    """Places words so that none lies on another, and as few lines as can be run through them.

    :param scale: model mm per paper mm.
    :param keep_off: boxes, model mm, where no words are wanted.
    """

    scale: float
    keep_off: list[Window] = field(default_factory=list)
    _inked: set[tuple[int, int]] = field(default_factory=set)
    _written: set[tuple[int, int]] = field(default_factory=set)

    def taken(self, items: Iterable[Item]) -> None:
        """Note the words that are placed already, and where lines run."""
        for item in items:
            if isinstance(item, Text):
                box = _box(item, self.scale)
                self.keep_off.append(box)
                self._written |= self._cells_of(box)
            elif isinstance(item, Path) and item.pen is not None:
                points = (*item.points, item.points[0]) if item.closed else item.points
                for a, b in pairwise(points):
                    self._inked |= self._cells_along(a, b)

    def inside(self, ring: Polygon, words: str, ref: str, away: Sequence[Point]) -> list[Item]:
        """Return a name in the middle of a polygon where it fits, else beside it on a leader."""
        xs, ys = [x for x, _ in ring], [y for _, y in ring]
        middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
        height = 2.2
        wide = text_width_mm(words, height) * self.scale
        if wide < 0.9 * (max(xs) - min(xs)) and max(ys) - min(ys) > 5.0 * self.scale:
            text = Text(middle, words, "NOTES", height_mm=height, across="centre", up="middle",
                        backed=True, group="measures", ref=ref)  # fmt: skip
            if self._is_free([text]):
                self.taken([text])
                return [text]
        return self.note(middle, (words,), away, ref=ref, height=height, dot=True)

    def note(
        self, tip: Point, lines: Sequence[str], away: Sequence[Point], *, ref: str = "",
        ink: Ink = Ink.LINE, height: float = 2.5, dot: bool = False,
    ) -> list[Item]:  # fmt: skip
        """Return a note on a leader, its elbow where it lies on least.

        :param away: ways from the tip to the elbow to be tried, paper mm; then longer ones.
        """
        best: list[Item] = []
        least = math.inf
        for reach, stretch in enumerate((1.0, 1.35, 1.7, 2.1, 2.6, 3.2, 4.0, 5.0)):
            for way, (dx, dy) in enumerate(away):
                dearer = 0.7 * reach + 0.02 * way
                if dearer >= least:
                    continue
                elbow = (tip[0] + dx * stretch * self.scale, tip[1] + dy * stretch * self.scale)
                made = leader(tip, elbow, lines, scale=self.scale, ref=ref, text_height=height,
                              end="dot" if dot else "arrow")  # fmt: skip
                cost = self._cost(made, tip, elbow) + dearer
                if cost < least:
                    least, best = cost, list(made)
        texts = [replace(item, ink=ink, backed=True) for item in best if isinstance(item, Text)]
        # The words first: what lies behind them must not cover the leader.
        noted = [*texts, *(item for item in best if not isinstance(item, Text))]
        self.taken(noted)
        return noted

    def _cost(self, items: Sequence[Item], tip: Point, elbow: Point) -> float:
        """Return what speaks against a note: words under it most of all, then lines."""
        cost = 0.0 if self._is_free(items) else 1000.0
        for item in items:
            if isinstance(item, Text):
                cost += len(self._inked & self._cells_of(_box(item, self.scale)))
        return cost + 8.0 * len(self._written & self._cells_along(tip, elbow))

    def _cells_of(self, box: Window) -> set[tuple[int, int]]:
        step = _CELL_MM * self.scale
        left, low, right, top = (math.floor(level / step) for level in box)
        return {(i, j) for i in range(left, right + 1) for j in range(low, top + 1)}

    def _cells_along(self, a: Point, b: Point) -> set[tuple[int, int]]:
        step = _CELL_MM * self.scale
        count = max(1, math.ceil(math.dist(a, b) / step))
        dx, dy = (b[0] - a[0]) / count / step, (b[1] - a[1]) / count / step
        x, y = a[0] / step, a[1] / step
        return {(math.floor(x + dx * k), math.floor(y + dy * k)) for k in range(count + 1)}

    def _is_free(self, items: Iterable[Item]) -> bool:
        edge = 1.2 * self.scale
        for item in items:
            if not isinstance(item, Text):
                continue
            left, low, right, top = _box(item, self.scale)
            for other in self.keep_off:
                if (left - edge < other[2] and right + edge > other[0]
                        and low - edge < other[3] and top + edge > other[1]):  # fmt: skip
                    return False
        return True


def _box(text: Text, scale: float) -> Window:
    xs, ys = zip(*text_box(text, scale), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def gap_mark(one: Point, other: Point, ink: Ink, scale: float) -> list[Item]:
    """Return the two nearest places and the line between them."""
    ends = [
        Disc(at, 0.9 * scale, "SWING", pen=None, fill=ink, group="overlay") for at in (one, other)
    ]
    if math.dist(one, other) < 0.2 * scale:
        ring = Disc(one, 2.0 * scale, "SWING", pen=Pen(0.35, ink=ink), group="overlay")
        return [ends[0], ring]
    return [Path((one, other), "SWING", pen=Pen(0.5, ink=ink), group="overlay"), *ends]
