"""What the paper writers share: dashes, arcs as Bézier curves, the sheet under a drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Dash, Item, Paper, Path, Placement, Point, Scene, Text, arc_of

MARGIN_MM = 10.0
"""White space around a drawing that comes without a sheet, paper mm."""

DASHES: dict[Dash, tuple[float, ...]] = {
    Dash.SOLID: (),
    Dash.DASHED: (12.0, 3.0),
    # ISO 128 allows dots up to half a line width; those get lost on many printers.
    Dash.CENTRE: (24.0, 3.0, 1.0, 3.0),
    Dash.DOTTED: (1.0, 3.0),
}
"""Marks and gaps in turn, in line widths (ISO 128-2:2020, table of line types)."""

Curve = tuple[Point, Point, Point]
"""A cubic Bézier piece: two control points and its end; it starts where the last one ended."""


def curves(start: Point, end: Point, bulge: float) -> Iterator[Curve]:
    """Yield the pieces of an arc with a bulge (not 0), none wider than 45 degrees.

    They leave the circle by less than 5e-6 of its radius.
    """
    (x, y), radius, first, sweep = arc_of(start, end, bulge)
    count = max(1, math.ceil(abs(sweep) / (math.pi / 4.0) - 1e-9))
    step = sweep / count
    reach = 4.0 / 3.0 * math.tan(step / 4.0) * radius
    for piece in range(count):
        a, b = first + piece * step, first + (piece + 1) * step
        last = piece == count - 1
        stop = end if last else (x + radius * math.cos(b), y + radius * math.sin(b))
        begin = (x + radius * math.cos(a), y + radius * math.sin(a))
        yield (
            (begin[0] - reach * math.sin(a), begin[1] + reach * math.cos(a)),
            (stop[0] + reach * math.sin(b), stop[1] - reach * math.cos(b)),
            stop,
        )


def pieces(path: Path) -> Iterator[Point | Curve]:
    """Yield a path's ways on from its first point: a point for a straight way, or a curve.

    A closed path comes back to its first point, so closing it adds nothing.
    """
    count = len(path.points)
    for index in range(count if path.closed else count - 1):
        start, end = path.points[index], path.points[(index + 1) % count]
        bulge = path.bulges[index] if path.bulges else 0.0
        if bulge == 0.0:
            yield end
        else:
            yield from curves(start, end, bulge)


def circle(centre: Point, radius_mm: float) -> Path:
    """Return a circle as a closed path of two half circles, for writers that know paths only."""
    x, y = centre
    points = ((x + radius_mm, y), (x - radius_mm, y))
    return Path(points, "", closed=True, bulges=(1.0, 1.0))


def extents(item: Item, scale: float) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of any item, text included, model mm."""
    if isinstance(item, Text):
        corners: tuple[Point, ...] = text_box(item, scale)
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return min(xs), min(ys), max(xs), max(ys)
    return Scene("", (item,), scale).bounds()


def full_extents(items: Iterable[Item], scale: float) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of all items together, text included, model mm.

    :raises ValueError: for no items at all.
    """
    lefts, bottoms, rights, tops = zip(*(extents(item, scale) for item in items), strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def placed(scene: Scene) -> Placement:
    """Return the sheet of a scene; one that fits around it, with a margin, if it has none.

    :raises ValueError: for an empty scene without a sheet.
    """
    if scene.placement is not None:
        return scene.placement
    if not scene.items:
        raise ValueError("an empty drawing has no size")
    left, bottom, right, top = full_extents(scene.items, scene.scale)
    margin = MARGIN_MM * scene.scale
    width, height = (right - left) / scene.scale, (top - bottom) / scene.scale
    paper = Paper("", width + 2.0 * MARGIN_MM, height + 2.0 * MARGIN_MM)
    return Placement(paper, (left - margin, bottom - margin))


def on_sheet(scene: Scene) -> Scene:
    """Return the scene with a sheet and without the items that lie wholly outside it."""
    sheet = placed(scene)
    left, bottom = sheet.corner
    right = left + sheet.paper.width_mm * scene.scale
    top = bottom + sheet.paper.height_mm * scene.scale

    def seen(item: Item) -> bool:
        low_x, low_y, high_x, high_y = extents(item, scene.scale)
        return low_x <= right and high_x >= left and low_y <= top and high_y >= bottom

    return replace(scene, items=tuple(filter(seen, scene.items)), placement=sheet)
