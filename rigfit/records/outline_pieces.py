"""Pieces of line work, joined at their ends into closed outlines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from rigfit.errors import RigfitError

SNAP_MM = 0.2
"""Ends nearer to each other than this are one corner."""

Point: TypeAlias = tuple[float, float]


class OutlineFileError(RigfitError):
    """A file with an outline cannot be used: no DXF, too large, harmful, or nothing in it."""


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle: its middle in the file's axes and its diameter, mm, and its layer."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    layer: str = "0"


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline.

    :param points: anticlockwise, the first not repeated, mm in the file's axes; curves are broken
        into chords.
    :param area_mm2: inside it.
    """

    points: tuple[Point, ...]
    area_mm2: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A line or curve as a chain of points, mm; ``closed`` where the last joins the first."""

    points: tuple[Point, ...]
    closed: bool = False


def closed_outlines(pieces: Sequence[Piece]) -> tuple[tuple[Outline, ...], int, list[str]]:
    """Return closed outlines, largest first, how many pieces stay open, and what to know of it.

    :raises OutlineFileError: never for valid points; ends are joined within ``SNAP_MM``.
    """
    from shapely import Polygon, polygonize_full
    from shapely.geometry import LineString

    rings = [piece.points for piece in pieces if piece.closed and len(piece.points) >= 3]
    chains = [piece.points for piece in pieces if not piece.closed]
    distinct, doubles = _distinct(_snapped(chains))
    # A chain whose two ends meet is an outline by itself.
    rings += [chain[:-1] for chain in distinct if chain[0] == chain[-1] and len(chain) > 3]
    lines = [LineString(chain) for chain in distinct if chain[0] != chain[-1]]
    polygons: list[Any] = [Polygon(ring) for ring in rings]
    still_open = 0
    if lines:
        found, cuts, dangles, invalid = polygonize_full(lines)
        polygons += [Polygon(polygon.exterior) for polygon in found.geoms]
        still_open = sum(len(rest.geoms) for rest in (cuts, dangles, invalid))
    sound = [polygon for polygon in polygons if polygon.is_valid and polygon.area > 0.0]
    notes = []
    if len(sound) < len(polygons):
        notes.append(f"Outlines that cross themselves or have no area: {len(polygons) - len(sound)}"
                     ", left out.")  # fmt: skip
    if doubles:
        notes.append(f"Lines drawn twice, counted once: {doubles}.")
    outlines = sorted((_outline(polygon) for polygon in sound), key=lambda item: -item.area_mm2)
    return tuple(outlines), still_open, notes


def _outline(polygon: Any) -> Outline:
    ring = list(polygon.exterior.coords)[:-1]
    if not polygon.exterior.is_ccw:
        ring.reverse()
    return Outline(tuple((float(x), float(y)) for x, y in ring), float(polygon.area))


def _snapped(chains: Sequence[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    """Return the chains with ends near each other moved to one place.

    A chain shorter than the snap becomes a single point and is dropped.
    """
    corners: dict[tuple[int, int], list[Point]] = {}

    def corner(point: Point) -> Point:
        column, row = math.floor(point[0] / SNAP_MM), math.floor(point[1] / SNAP_MM)
        for x in (column - 1, column, column + 1):
            for y in (row - 1, row, row + 1):
                for known in corners.get((x, y), ()):
                    if math.dist(known, point) <= SNAP_MM:
                        return known
        corners.setdefault((column, row), []).append(point)
        return point

    moved = []
    for chain in chains:
        joined = (corner(chain[0]), *chain[1:-1], corner(chain[-1]))
        if len(set(joined)) > 1:
            moved.append(joined)
    return moved


def _distinct(chains: Sequence[tuple[Point, ...]]) -> tuple[list[tuple[Point, ...]], int]:
    """Return every chain once, whichever way it runs, and how many were drawn twice."""
    found: dict[tuple[Point, ...], tuple[Point, ...]] = {}
    for chain in chains:
        rounded = tuple((round(x, 3), round(y, 3)) for x, y in chain)
        found.setdefault(min(rounded, rounded[::-1]), chain)
    return list(found.values()), len(chains) - len(found)
