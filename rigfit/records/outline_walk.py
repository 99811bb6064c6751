"""The walk through a DXF drawing: every usable entity of model space as points, within limits."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, TypeAlias

from rigfit.records.outline_pieces import Circle, OutlineFileError, Piece, Point

MOST_ENTITIES = 50_000
MOST_REFERENCES = 2_000
DEEPEST = 4
MOST_POINTS = 400_000
FARTHEST_MM = 1e5
MOST_CONTROL_POINTS = 5_000
HIGHEST_DEGREE = 11
LARGEST_PARAMETER = 100.0
LONGEST_S = 20.0

SAG_MM = 0.05
"""Chords of a curve leave it by no more than this ..."""
_STEP = math.radians(1.0)
"""... and turn by no more than this, so that areas are right to 1e-4."""
_SPLINE_PART = 2e-5
_ALIKE = 1e-6

Bulged: TypeAlias = tuple[float, float, float]
"""A vertex: x, y and the bulge of the way to the next (tangent of a quarter of its angle)."""


class Walk:
    """One walk; fills its lists and counts.

    :param doc: the loaded drawing.
    :param scale: mm in one unit of the file.
    :param layer: the only layer wanted, or None for all that show.
    :param clock: seconds, for the limit of time.
    """

    def __init__(
        self,
        doc: Any,
        scale: float,
        layer: str | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.pieces: list[Piece] = []
        self.circles: list[Circle] = []
        self.skipped: Counter[str] = Counter()
        self.hidden = 0
        self.layers: set[str] = set()
        self._doc = doc
        self._scale = scale
        self._wanted = layer.lower() if layer is not None else None
        self._clock = clock
        self._until = clock() + LONGEST_S
        self._opened: set[str] = set()
        self._troubles = _troubles()
        self._entities = self._references = self._points = 0

    def run(self) -> None:
        """Walk through model space; raises ``OutlineFileError`` where a limit is passed."""
        self._through(self._doc.modelspace(), "0", ())

    def _through(self, entities: Iterable[Any], layer: str, inside: tuple[str, ...]) -> None:
        for entity in entities:
            self._entities += 1
            if self._entities > MOST_ENTITIES:
                raise _too_much(f"more than {MOST_ENTITIES} entities, blocks opened")
            if self._clock() > self._until:
                raise _too_much(f"more than can be read in {LONGEST_S:.0f} s")
            own = str(entity.dxf.get("layer", "0"))
            # What lies on layer 0 of a block takes the layer of the reference.
            here = layer if own == "0" else own
            if entity.dxftype() == "INSERT":
                self._open(entity, here, inside)
            else:
                self._take(entity, here)

    def _open(self, insert: Any, layer: str, inside: tuple[str, ...]) -> None:
        """Walk through what a block reference shows."""
        name = str(insert.dxf.get("name", "")).lower()
        if name in inside:
            raise OutlineFileError(
                f'the block "{name[:60]}" holds itself', cure="explode the blocks and export again"
            )
        if len(inside) >= DEEPEST:
            raise _too_much(f"blocks inside blocks deeper than {DEEPEST}")
        if self._frozen(layer) or insert.dxf.get("invisible", 0):
            self.hidden += 1
            return
        block = self._doc.blocks.get(name)
        columns = max(1, int(insert.dxf.get("column_count", 1)))
        rows = max(1, int(insert.dxf.get("row_count", 1)))
        self._references += columns * rows
        if self._references > MOST_REFERENCES:
            raise _too_much(f"more than {MOST_REFERENCES} block references")
        if block is None:
            self.skipped["INSERT"] += 1
            return
        self._open_grids(name, block)
        if self._entities + len(block) * columns * rows > MOST_ENTITIES:
            raise _too_much(f"more than {MOST_ENTITIES} entities, blocks opened")
        for single in insert.multi_insert() if columns * rows > 1 else (insert,):
            self._through(self._shown(single), layer, (*inside, name))

    def _open_grids(self, name: str, block: Any) -> None:
        """Put single references in place of grids of them, once for a block.

        The library moves and turns a grid inside a block but does not stretch its spacing.
        """
        if name in self._opened:
            return
        self._opened.add(name)
        grids = [item for item in block if item.dxftype() == "INSERT" and item.mcount > 1]
        if sum(item.mcount for item in grids) > MOST_REFERENCES:
            raise _too_much(f"more than {MOST_REFERENCES} block references")
        for grid in grids:
            singles = list(grid.multi_insert())
            block.unlink_entity(grid)
            for single in singles:
                block.add_entity(single)

    def _shown(self, insert: Any) -> Iterator[Any]:
        def lost(entity: Any, _reason: str) -> None:
            self.skipped[entity.dxftype()] += 1

        try:
            yield from insert.virtual_entities(skipped_entity_callback=lost)
        except self._troubles:
            self.skipped["INSERT"] += 1

    def _take(self, entity: Any, layer: str) -> None:
        kind = entity.dxftype()
        reader = _READERS.get(kind)
        if reader is None or (kind == "POLYLINE" and not _is_chain(entity)):
            self.skipped[kind] += 1
            return
        if entity.dxf.get("invisible", 0) or self._frozen(layer) or self._off(layer):
            self.hidden += 1
            return
        self.layers.add(layer)
        if self._wanted is not None and layer.lower() != self._wanted:
            return
        try:
            reader(self, entity, layer)
        except self._troubles:
            self.skipped[kind] += 1

    def _frozen(self, layer: str) -> bool:
        known = self._doc.layers
        return layer in known and bool(known.get(layer).is_frozen())

    def _off(self, layer: str) -> bool:
        known = self._doc.layers
        return layer in known and bool(known.get(layer).is_off())

    # ------------------------------------------------------------------ what the readers need

    def sized(self, *values: float) -> tuple[float, ...]:
        """Return numbers of the file in mm; refuses what is not finite or too large."""
        mm = tuple(float(value) * self._scale for value in values)
        for value in mm:
            if not math.isfinite(value):
                raise OutlineFileError(
                    "the file holds a coordinate that is no number", cure="export it again"
                )
            if abs(value) > FARTHEST_MM:
                raise OutlineFileError(
                    f"the file holds a coordinate or radius of {value / 1000.0:.3g} m",
                    allowed=f"lengths up to {FARTHEST_MM / 1000.0:.0f} m are read",
                    cure="move the outline near the origin, or give the right unit",
                )
        return mm

    def chain(self, points: Iterable[Sequence[float]], *, closed: bool = False) -> None:
        """Keep a chain of points in the file's units; repeated points count once."""
        room = MOST_POINTS - self._points
        kept: list[Point] = []
        for point in islice(points, room + 1):
            x, y = self.sized(point[0], point[1])
            if not kept or kept[-1] != (x, y):
                kept.append((x, y))
            self._points += 1
        if self._points > MOST_POINTS:
            raise _too_much(f"curves of more than {MOST_POINTS} points")
        if closed and len(kept) > 1 and kept[0] == kept[-1]:
            kept.pop()
        if len(kept) > 1:
            self.pieces.append(Piece(tuple(kept), closed and len(kept) > 2))

    def circle(self, x: float, y: float, radius: float, layer: str) -> None:
        """Keep a full circle, in the file's units; one without a size is left out."""
        x_mm, y_mm, radius_mm = self.sized(x, y, radius)
        if radius_mm <= 0.0:
            self.skipped["CIRCLE"] += 1
            return
        self.circles.append(Circle(x_mm, y_mm, 2.0 * radius_mm, layer))

    def arc(self, centre: Point, radius: float, first: float, sweep: float) -> list[Point]:
        """Return points on an arc, ends included, in the file's units; angles in radians."""
        sag = min(SAG_MM / self._scale, radius)
        flat = 2.0 * math.acos(1.0 - sag / radius)
        count = max(2, math.ceil(abs(sweep) / min(_STEP, flat)))
        return [
            (
                centre[0] + radius * math.cos(first + sweep * step / count),
                centre[1] + radius * math.sin(first + sweep * step / count),
            )
            for step in range(count + 1)
        ]

    def sag(self, reach: float) -> float:
        """Return how flat chords may be, in the file's units, on a curve so far across."""
        return max(1e-9, min(SAG_MM / self._scale, _SPLINE_PART * reach))


def _troubles() -> tuple[type[Exception], ...]:
    """Return what a faulty entity can make the library raise."""
    import ezdxf

    return (
        ezdxf.DXFError,  # type: ignore[attr-defined]
        ArithmeticError, AssertionError, AttributeError, LookupError, RuntimeError, TypeError,
        ValueError,
    )  # fmt: skip


def _too_much(what: str) -> OutlineFileError:
    return OutlineFileError(
        f"the file holds {what}", cure="export the outline alone, exploded, with coarser curves"
    )


def _is_chain(polyline: Any) -> bool:
    return bool(polyline.is_2d_polyline or polyline.is_3d_polyline)


def _world(entity: Any, points: Iterable[Point], height: float = 0.0) -> Iterator[Point]:
    """Yield points of an entity's own plane in the axes of the drawing."""
    ocs = entity.ocs()
    for x, y in points:
        if ocs.transform:
            place = ocs.to_wcs((x, y, height))
            yield float(place.x), float(place.y)
        else:
            yield x, y


def _is_level(entity: Any) -> bool:
    """True where an entity's own plane is that of the drawing, perhaps seen from behind."""
    x, y, _ = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    return abs(float(x)) < _ALIKE and abs(float(y)) < _ALIKE


def _line(walk: Walk, entity: Any, _layer: str) -> None:
    walk.chain((entity.dxf.start, entity.dxf.end))


def _arc(walk: Walk, entity: Any, layer: str) -> None:
    centre, radius = entity.dxf.center, float(entity.dxf.radius)
    walk.sized(centre.x, centre.y, radius)
    if radius <= 0.0:
        walk.skipped["ARC"] += 1
        return
    begin, stop = float(entity.dxf.start_angle), float(entity.dxf.end_angle)
    if not math.isfinite(begin) or not math.isfinite(stop):
        walk.sized(math.nan)
    sweep = math.radians((stop - begin) % 360.0)
    if sweep < _ALIKE:
        _circle(walk, entity, layer)
        return
    points = walk.arc((centre.x, centre.y), radius, math.radians(begin), sweep)
    walk.chain(_world(entity, points, centre.z))


def _circle(walk: Walk, entity: Any, layer: str) -> None:
    if not _is_level(entity):
        walk.skipped["tilted CIRCLE"] += 1
        return
    centre = entity.dxf.center
    walk.sized(centre.x, centre.y, entity.dxf.radius)
    ((x, y),) = _world(entity, [(centre.x, centre.y)], centre.z)
    walk.circle(x, y, abs(float(entity.dxf.radius)), layer)


def _ellipse(walk: Walk, entity: Any, layer: str) -> None:
    centre, major = entity.dxf.center, entity.dxf.major_axis
    ratio, begin, stop = (
        float(entity.dxf.get(key, usual))
        for key, usual in (("ratio", 1.0), ("start_param", 0.0), ("end_param", math.tau))
    )
    walk.sized(centre.x, centre.y, major.x, major.y, ratio, begin, stop)
    if max(abs(begin), abs(stop)) > LARGEST_PARAMETER:
        raise _too_much(f"an ellipse with a parameter beyond {LARGEST_PARAMETER:g}")
    whole = abs(math.remainder(stop - begin, math.tau)) < _ALIKE
    if whole and abs(abs(ratio) - 1.0) < _ALIKE and _is_level(entity):
        walk.circle(centre.x, centre.y, math.hypot(major.x, major.y), layer)
        return
    walk.chain(entity.flattening(walk.sag(math.hypot(major.x, major.y)), 16))


def _spline(walk: Walk, entity: Any, _layer: str) -> None:
    control, through = entity.control_points, entity.fit_points
    count = max(len(control), len(through))
    if count > MOST_CONTROL_POINTS or len(entity.knots) > 2 * MOST_CONTROL_POINTS:
        raise _too_much(f"a spline of more than {MOST_CONTROL_POINTS} control points")
    if int(entity.dxf.get("degree", 3)) > HIGHEST_DEGREE:
        raise _too_much(f"a spline of a degree above {HIGHEST_DEGREE}")
    guides = [*control, *through]
    for x, y, *_ in guides:
        walk.sized(x, y)
    for number in (*entity.knots, *entity.weights):
        if not math.isfinite(number):
            walk.sized(math.nan)
    xs, ys = [point[0] for point in guides], [point[1] for point in guides]
    reach = math.hypot(max(xs) - min(xs), max(ys) - min(ys))
    walk.chain(entity.flattening(walk.sag(reach), 8))


def _lwpolyline(walk: Walk, entity: Any, layer: str) -> None:
    rows = [(float(x), float(y), float(bulge)) for x, y, bulge in entity.get_points("xyb")]
    height = float(entity.dxf.get("elevation", 0.0))
    _polyline(walk, entity, rows, height, layer, closed=bool(entity.closed))


def _old_polyline(walk: Walk, entity: Any, layer: str) -> None:
    closed = bool(entity.is_closed)
    places = [vertex.dxf.location for vertex in entity.vertices]
    if entity.is_3d_polyline:
        walk.chain(places, closed=closed)
        return
    rows = [
        (float(place.x), float(place.y), float(vertex.dxf.get("bulge", 0.0)))
        for place, vertex in zip(places, entity.vertices, strict=True)
    ]
    height = float(places[0].z) if places else 0.0
    _polyline(walk, entity, rows, height, layer, closed=closed)


def _polyline(
    walk: Walk, entity: Any, rows: Sequence[Bulged], height: float, layer: str, *, closed: bool
) -> None:
    for x, y, bulge in rows:
        walk.sized(x, y)
        if not math.isfinite(bulge):
            walk.sized(bulge)
    if closed and len(rows) == 2 and _is_level(entity):
        (x0, y0, first), (x1, y1, second) = rows
        if abs(abs(first) - 1.0) < _ALIKE and abs(first - second) < _ALIKE:
            middle = [((x0 + x1) / 2.0, (y0 + y1) / 2.0)]
            ((x, y),) = _world(entity, middle, height)
            walk.circle(x, y, math.hypot(x1 - x0, y1 - y0) / 2.0, layer)
            return
    walk.chain(_world(entity, _bulged(walk, rows, closed=closed), height), closed=closed)


def _bulged(walk: Walk, rows: Sequence[Bulged], *, closed: bool) -> Iterator[Point]:
    """Yield the points of a polyline, arcs broken into chords."""
    count = len(rows)
    for index, (x, y, bulge) in enumerate(rows):
        yield x, y
        if bulge == 0.0 or (index == count - 1 and not closed):
            continue
        end = rows[(index + 1) % count]
        dx, dy = end[0] - x, end[1] - y
        chord = math.hypot(dx, dy)
        if abs(bulge) * chord < 1e-6:
            continue
        radius = chord * (1.0 / abs(bulge) + abs(bulge)) / 4.0
        if abs(bulge) > 1.0:
            # Beyond half a turn the arc reaches past its ends, so its size must be looked at.
            walk.sized(radius)
        off = (1.0 - bulge * bulge) / (4.0 * bulge)
        centre = (x + dx / 2.0 - dy * off, y + dy / 2.0 + dx * off)
        first = math.atan2(y - centre[1], x - centre[0])
        yield from walk.arc(centre, radius, first, 4.0 * math.atan(bulge))[1:-1]


_READERS: dict[str, Callable[[Walk, Any, str], None]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _old_polyline,
}
