"""The edges of the transom's outer face, as far as they were measured.

Seen from astern, across from the centreline (+ starboard) and below the transom top. Both sides are
taken alike, so that a point is looked at on the starboard side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rigfit.rigging.job import Job
from rigfit.rigging.readings import Reading

_DEEP_MM = 3000.0


@dataclass(frozen=True, slots=True)
class Edge:
    """One straight edge on the starboard side, the material to its right when going along it.

    :param name: how it is called in print.
    :param start: first end, (across, below top).
    :param end: last end.
    :param tolerance_mm: half-width of the tolerance of its place.
    """

    name: str
    start: tuple[float, float]
    end: tuple[float, float]
    tolerance_mm: float = 0.0

    def distance_mm(self, across_mm: float, below_mm: float) -> float:
        """Return the distance of a point from the edge, never negative."""
        (x0, y0), (x1, y1) = self.start, self.end
        along_x, along_y = x1 - x0, y1 - y0
        length = along_x * along_x + along_y * along_y
        part = ((across_mm - x0) * along_x + (below_mm - y0) * along_y) / length if length else 0.0
        part = min(1.0, max(0.0, part))
        return math.hypot(across_mm - x0 - part * along_x, below_mm - y0 - part * along_y)


@dataclass(frozen=True, slots=True)
class TransomOutline:
    """The known edges of the transom, one side of them.

    :param edges: starboard side, from the middle of the top round to the heel.
    :param has_sides: False while nobody measured how wide the transom is.
    :param has_bottom: False while the chine corners are not measured.
    """

    edges: tuple[Edge, ...]
    has_sides: bool
    has_bottom: bool

    def contains(self, across_mm: float, below_mm: float) -> bool:
        """Tell whether a point lies on the transom, as far as its edges are known."""
        x, y = abs(across_mm), below_mm
        for edge in self.edges:
            (x0, y0), (x1, y1) = edge.start, edge.end
            if edge.name == "top":
                if y < y0 and (x0 <= x <= x1 or not self.has_sides):
                    return False
            elif edge.name == "side":
                low, high = min(y0, y1), max(y0, y1)
                if low <= y <= high and x > x0 + (x1 - x0) * (y - y0) / (y1 - y0):
                    return False
            elif edge.name == "bottom":
                left, right = min(x0, x1), max(x0, x1)
                if left <= x <= right and y > y0 + (y1 - y0) * (x - x0) / (x1 - x0):
                    return False
        return self._within_ends(x, y)

    def _within_ends(self, x: float, y: float) -> bool:
        """Tell whether a point is above the lowest and inside the widest of what is known."""
        ends = [point for edge in self.edges for point in (edge.start, edge.end)]
        if self.has_sides and x > max(point[0] for point in ends):
            return False
        if y < min(point[1] for point in ends):
            return False
        return not self.has_bottom or y <= max(point[1] for point in ends)

    def distances_mm(self, across_mm: float, below_mm: float) -> Iterator[tuple[Edge, float]]:
        """Yield every edge, nearest part of each name, with how far inside it a point is.

        Off the transom the edge that is nearest counts negative.
        """
        x = abs(across_mm)
        nearest: dict[str, tuple[Edge, float]] = {}
        for edge in self.edges:
            found = edge.distance_mm(x, below_mm)
            if edge.name not in nearest or found < nearest[edge.name][1]:
                nearest[edge.name] = (edge, found)
        outside = not self.contains(across_mm, below_mm)
        least = min((item[1] for item in nearest.values()), default=0.0)
        for edge, found in nearest.values():
            yield edge, -found if outside and found == least else found

    def inside_mm(self, across_mm: float, below_mm: float) -> tuple[Edge, float] | None:
        """Return the nearest edge and how far inside it a point is; negative off the transom."""
        found = list(self.distances_mm(across_mm, below_mm))
        return min(found, key=lambda item: abs(item[1]), default=None)


def transom_outline(job: Job, height_along_face: Reading | None) -> TransomOutline:
    """Return the transom's edges from what was measured of them.

    The top is the datum itself. Sides run from the width at the top to the chine corners, or
    straight down while those are not measured; the bottom from the chine corners to the heel.
    """
    face, width = job.face, job.transom.width_at_top
    half = width.value / 2.0 if width else None
    notch = _notch(job)
    edges: list[Edge] = []
    top = notch[0] if notch else (half if half is not None else _DEEP_MM)
    edges.append(Edge("top", (0.0, 0.0), (top, 0.0)))
    upper = 0.0
    if notch:
        wide, deep, spread = notch
        upper = -deep
        beside = max(half or 0.0, wide) if half is not None else _DEEP_MM
        edges.append(Edge("notch", (wide, 0.0), (wide, -deep), spread))
        if beside > wide:
            edges.append(Edge("top", (wide, -deep), (beside, -deep), spread))
        half = beside if half is not None else None
    corner = _corner(job)
    if half is not None and width is not None:
        spread = width.tolerance / 2.0
        if upper < 0.0:
            edges.append(Edge("side", (half, upper), (half, 0.0), spread))
        low = corner or (half, _DEEP_MM)
        spread = max(spread, face.chine_width.tolerance / 2.0) if face.chine_width else spread
        edges.append(Edge("side", (half, 0.0), low, spread))
    heel = height_along_face
    bottom = corner is not None and heel is not None and heel.value > corner[1]
    if corner is not None and heel is not None and bottom:
        edges.append(Edge("bottom", corner, (0.0, heel.value), heel.tolerance))
    return TransomOutline(tuple(edges), half is not None, bottom)


def _notch(job: Job) -> tuple[float, float, float] | None:
    """Return half the width, the depth and the tolerance of the motor well's notch."""
    wide, deep = job.face.notch_width, job.face.notch_depth
    if wide is None or deep is None or deep.value <= 0.0:
        return None
    return wide.value / 2.0, deep.value, max(wide.tolerance / 2.0, deep.tolerance)


def _corner(job: Job) -> tuple[float, float] | None:
    wide, below = job.face.chine_width, job.face.chine_below_top
    if wide is None or below is None or below.value <= 0.0:
        return None
    return wide.value / 2.0, below.value
