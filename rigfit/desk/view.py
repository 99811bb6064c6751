"""How a drawing lies on the screen: fit, zoom, pan, what is under the pointer, where it snaps.

Pure numbers, no Tk. Model coordinates are millimetres, x aft (or to starboard) and up; screen
coordinates are pixels, x to the right and y down.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Disc, Item, Path, Point, Text, flatten
from rigfit.rigging.mounting_options import HeightOption

PIXELS_PER_PAPER_MM = 3.4
"""Pixels of one paper mm at 100 %: words of 2.5 mm then have capitals of 8.5 pixels."""

FINEST_MM, COARSEST_MM = 0.02, 60.0
"""Limits of zooming, model mm per pixel."""

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class View:
    """A window on a model.

    :param width: of the pane, pixels.
    :param height: of the pane, pixels.
    :param centre: model point in the middle of the pane.
    :param mm_per_px: model mm per pixel.
    :param ui_scale: scale of the interface, 1 for 100 %.
    """

    width: int
    height: int
    centre: Point
    mm_per_px: float
    ui_scale: float = 1.0

    @classmethod
    def fitted(
        cls, bounds: Bounds, width: int, height: int, *, margin: float = 24.0, ui_scale: float = 1.0
    ) -> View:
        """Return the view that shows ``bounds`` (left, bottom, right, top) whole, centred.

        :param margin: pixels left free on every side.
        """
        left, bottom, right, top = bounds
        room_x, room_y = max(width - 2.0 * margin, 1.0), max(height - 2.0 * margin, 1.0)
        scale = max((right - left) / room_x, (top - bottom) / room_y)
        centre = ((left + right) / 2.0, (bottom + top) / 2.0)
        return cls(width, height, centre, _limited(scale), ui_scale)

    @property
    def scene_scale(self) -> float:
        """Model mm per paper mm to build a scene with, so that words keep their size on screen."""
        return self.mm_per_px * PIXELS_PER_PAPER_MM * self.ui_scale

    def to_screen(self, point: Point) -> Point:
        """Return the pixel of a model point."""
        return (
            self.width / 2.0 + (point[0] - self.centre[0]) / self.mm_per_px,
            self.height / 2.0 - (point[1] - self.centre[1]) / self.mm_per_px,
        )

    def to_model(self, pixel: Point) -> Point:
        """Return the model point of a pixel."""
        return (
            self.centre[0] + (pixel[0] - self.width / 2.0) * self.mm_per_px,
            self.centre[1] - (pixel[1] - self.height / 2.0) * self.mm_per_px,
        )

    def panned(self, right_px: float, down_px: float) -> View:
        """Return the view after the drawing was pushed right and down by pixels."""
        x, y = self.centre
        return replace(self, centre=(x - right_px * self.mm_per_px, y + down_px * self.mm_per_px))

    def zoomed(self, factor: float, about: Point | None = None) -> View:
        """Return the view enlarged by a factor; the model point under ``about`` (pixel) stays.

        :param about: pixel; None for the middle of the pane.
        :raises ValueError: for a factor that is not positive.
        """
        if not factor > 0.0:
            raise ValueError(f"a zoom factor must be positive, not {factor}")
        pixel = about or (self.width / 2.0, self.height / 2.0)
        held = self.to_model(pixel)
        nearer = replace(self, mm_per_px=_limited(self.mm_per_px / factor))
        moved = nearer.to_model(pixel)
        x, y = nearer.centre
        return replace(nearer, centre=(x + held[0] - moved[0], y + held[1] - moved[1]))

    def resized(self, width: int, height: int) -> View:
        """Return the view for a pane of another size, its middle and scale kept."""
        return replace(self, width=width, height=height)


def _limited(mm_per_px: float) -> float:
    return min(max(mm_per_px, FINEST_MM), COARSEST_MM)


def ref_at(items: Iterable[Item], point: Point, reach_mm: float, scale: float) -> str:
    """Return the ``ref`` of what lies nearest to a model point, "" when nothing is in reach.

    :param items: of a scene; those without a ref are passed over.
    :param reach_mm: how far the pointer may be off, model mm.
    :param scale: of the scene, which sizes its words.
    """
    best, found = reach_mm, ""
    for item in items:
        if item.ref:
            distance = _distance(item, point, scale)
            # What was drawn later lies on top, so it wins a tie.
            if distance <= best:
                best, found = distance, item.ref
    return found


def _distance(item: Item, point: Point, scale: float) -> float:
    if isinstance(item, Disc):
        return abs(math.dist(item.centre, point) - item.radius_mm)
    if isinstance(item, Text):
        corners = text_box(item, scale)
        return 0.0 if _inside(corners, point) else _to_outline(corners, point, closed=True)
    points = flatten(item, sag_mm=0.2) if isinstance(item, Path) else ()
    return _to_outline(points, point, closed=item.closed)


def _to_outline(points: Sequence[Point], point: Point, *, closed: bool) -> float:
    ends = [*points[1:], points[0]] if closed else points[1:]
    return min(
        (_to_segment(start, end, point) for start, end in zip(points, ends, strict=False)),
        default=math.inf,
    )


def _to_segment(start: Point, end: Point, point: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    along = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length if length else 0.0
    part = min(max(along, 0.0), 1.0)
    return math.dist((start[0] + part * dx, start[1] + part * dy), point)


def _inside(corners: Sequence[Point], point: Point) -> bool:
    """Return whether a point lies in a convex polygon."""
    turns = [
        (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    return all(turn >= 0.0 for turn in turns) or all(turn <= 0.0 for turn in turns)


def snapped(options: Sequence[HeightOption], lift_mm: float) -> HeightOption | None:
    """Return the possible height nearest to a lift, to which a dragged engine snaps."""
    possible = [option for option in options if option.is_possible]
    return min(possible, key=lambda option: abs(option.lift.value - lift_mm), default=None)


def dragged_lift_mm(start_lift_mm: float, up_mm: float, rake_deg: float) -> float:
    """Return the lift of an engine dragged up by ``up_mm`` in the drawing, along the face."""
    return start_lift_mm + up_mm / math.cos(math.radians(rake_deg))
