"""Hidden lines: for writers that cannot fill, cut away what later fills would cover."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rigfit.drawing.scene import Disc, Item, Path, Scene, flatten

_SAG_MM = 0.02


def without_hidden_lines(scene: Scene) -> Scene:
    """Return the scene with every line cut where a fill lies over it, and fills dropped.

    A line that nothing covers is kept as it is, arcs included. Words are never covered.
    """
    kept: list[Item] = []
    cover: Any = None
    # From front to back: what has been seen so far covers what comes next.
    for item in reversed(scene.items):
        if isinstance(item, Path | Disc):
            kept.extend(reversed(_seen(item, cover)))
            if item.fill is not None:
                area = _area(item)
                cover = area if cover is None else cover.union(area)
        else:
            kept.append(item)
    return replace(scene, items=tuple(reversed(kept)))


def _ring(item: Path | Disc) -> tuple[tuple[float, float], ...]:
    if isinstance(item, Path):
        return flatten(item, _SAG_MM)
    from shapely import Point

    return tuple(Point(item.centre).buffer(item.radius_mm, quad_segs=32).exterior.coords)


def _area(item: Path | Disc) -> Any:
    from shapely import Polygon, make_valid

    return make_valid(Polygon(_ring(item)))


def _seen(item: Path | Disc, cover: Any) -> list[Path | Disc]:
    """Return the pieces of an item's line that nothing covers."""
    if item.pen is None:
        return []
    if cover is None:
        return [replace(item, fill=None)]
    from shapely import LineString, get_parts

    points = _ring(item)
    closed = isinstance(item, Disc) or item.closed
    line = LineString((*points, points[0]) if closed else points)
    # A line on the very edge of a cover is that shape's own outline drawn twice: keep it.
    left = line.difference(cover.buffer(-1e-6))
    if left.length >= line.length - 1e-6:
        return [replace(item, fill=None)]
    return [
        Path(
            tuple((float(x), float(y)) for x, y in piece.coords),
            item.layer,
            pen=item.pen,
            group=item.group,
            ref=item.ref,
        )
        for piece in get_parts(_joined(left))
        if piece.length > 1e-3
    ]


def _joined(lines: Any) -> Any:
    """Join pieces that meet, such as those on both sides of a ring's first point."""
    from shapely import line_merge

    return line_merge(lines) if lines.geom_type == "MultiLineString" else lines
