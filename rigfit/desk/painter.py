"""Paints a scene into pixels for the screen: shapes by matplotlib's Agg renderer, words apart.

Words cost most of a full draw, and the toolkit's own words look as good, so the painter leaves them
to the window. Without them a whole profile is painted within a frame. No Tk here.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.drawing.fonts import text_box
from rigfit.drawing.palette import Palette
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Point, Text, flatten
from rigfit.drawing.strokes import DASHES

_SAG_PX = 0.12
_THINNEST_PX = 0.8

Box = tuple[int, int, int, int]
"""Whole pixels: left, top, right, bottom, the last two not included."""


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text to be set by the window.

    :param at: pixel of its anchor.
    :param text: the scene's text, with its anchoring, angle, ink and ref.
    :param capital_px: height of its capitals, pixels.
    """

    at: tuple[float, float]
    text: Text
    capital_px: float


def words_of(items: Iterable[Item], view: View) -> tuple[Words, ...]:
    """Return the texts of a scene with where and how large they stand on the screen."""
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    return tuple(
        Words(view.to_screen(item.at), item, item.height_mm * pixel)
        for item in items
        if isinstance(item, Text)
    )


def paint(
    items: Iterable[Item],
    view: View,
    palette: Palette,
    *,
    clear: bool = False,
    ground: Any = None,
    crop: Box | None = None,
) -> Any:
    """Return the shapes of a scene as an RGBA array, height x width x 4, of whole pixels.

    What is painted in a crop is, pixel for pixel, what a whole picture shows there.

    :param items: in the keel frame or on the sheet, back to front; of texts only the paper cleared
        behind them is painted.
    :param clear: True for a transparent ground, as a sprite needs it; else the palette's paper.
    :param ground: an earlier whole picture of this view to paint on; it stays as it is.
    :param crop: the part to paint and return; None for all.
    """
    import numpy as np

    renderer: Any = _renderer(max(view.width, 1), max(view.height, 1))
    pixels = np.asarray(renderer.buffer_rgba())
    left, top, right, bottom = crop or (0, 0, pixels.shape[1], pixels.shape[0])
    part = pixels[top:bottom, left:right]
    if ground is None:
        # A pixel in one piece is filled fifty times faster than its four parts.
        part.view(np.uint32)[:] = 0 if clear else _word(palette[Ink.PAPER])
    else:
        part[:] = ground[top:bottom, left:right]
    brush = _Brush(renderer, view, palette)
    for item in items:
        # What reaches over the crop is painted whole, and the rest of it thrown away: cut to the
        # crop, the smooth edges would come out another shade here and there.
        if crop is not None and not _meet(item_box(item, view), crop):
            continue
        if not isinstance(item, Text):
            brush.stroke(item)
        elif item.backed:
            corners = text_box(item, view.scene_scale)
            brush.stroke(Path(corners, "", pen=None, closed=True, fill=Ink.PAPER))
    return part.copy()


def item_box(item: Item, view: View) -> tuple[float, float, float, float]:
    """Return (left, top, right, bottom) of all pixels an item can touch, a little too large."""
    if isinstance(item, Text):
        points: tuple[Point, ...] = text_box(item, view.scene_scale) if item.backed else ()
    elif isinstance(item, Disc):
        (x, y), r = item.centre, item.radius_mm
        points = ((x - r, y - r), (x + r, y + r))
    else:
        points = flatten(item, _SAG_PX * view.mm_per_px)
    if not points:
        return math.inf, math.inf, -math.inf, -math.inf
    xs, ys = zip(*points, strict=True)
    left, bottom = view.to_screen((min(xs), min(ys)))
    right, top = view.to_screen((max(xs), max(ys)))
    pen = None if isinstance(item, Text) else item.pen
    wide = 0.0 if pen is None else pen.width_mm * PIXELS_PER_PAPER_MM * view.ui_scale
    reach = max(wide, _THINNEST_PX) / 2.0 + 2.0  # smooth edges, and lines moved on to whole pixels
    return left - reach, top - reach, right + reach, bottom + reach


def _meet(one: tuple[float, float, float, float], other: Box) -> bool:
    left, top, right, bottom = one
    return left < other[2] and right > other[0] and top < other[3] and bottom > other[1]


@lru_cache(maxsize=1)
def _renderer(width: int, height: int) -> Any:
    from matplotlib.backends import backend_agg

    make: Any = backend_agg.RendererAgg
    # At 72 dpi a point is a pixel, so that line widths are pixels.
    return make(width, height, 72.0)


def _word(colour: str) -> int:
    """Return an opaque colour "#rrggbb" as the four bytes of a pixel in one number."""
    return int.from_bytes(bytes.fromhex(f"{colour[1:]}ff"), sys.byteorder)


class _Brush:
    """Strokes items of one scene; what neighbours share is made once."""

    def __init__(self, renderer: Any, view: View, palette: Palette) -> None:
        from matplotlib.transforms import Affine2D

        scale = 1.0 / view.mm_per_px
        self._renderer, self._palette = renderer, palette
        self._sag_mm = _SAG_PX * view.mm_per_px
        self._pixel = PIXELS_PER_PAPER_MM * view.ui_scale
        self._affine = Affine2D.from_values(
            scale, 0.0, 0.0, scale,
            view.width / 2.0 - view.centre[0] * scale, view.height / 2.0 - view.centre[1] * scale,
        )  # fmt: skip
        self._pens: dict[Pen | None, Any] = {}
        self._faces: dict[Ink, Any] = {}

    def stroke(self, item: Path | Disc) -> None:
        face = None if item.fill is None else self._face(item.fill)
        context = self._pens.get(item.pen) or self._context(item.pen)
        self._renderer.draw_path(context, _outline(item, self._sag_mm), self._affine, face)

    def _face(self, ink: Ink) -> Any:
        from matplotlib.colors import to_rgb

        if ink not in self._faces:
            self._faces[ink] = to_rgb(self._palette[ink])
        return self._faces[ink]

    def _context(self, pen: Pen | None) -> Any:
        context = self._renderer.new_gc()
        context.set_antialiased(True)
        context.set_linewidth(0.0)
        if pen is not None:
            _set_pen(context, pen, self._palette, self._pixel)
        self._pens[pen] = context
        return context


def _set_pen(context: Any, pen: Pen, palette: Palette, pixel: float) -> None:
    width = max(pen.width_mm * pixel, _THINNEST_PX)
    context.set_linewidth(width)
    context.set_foreground(palette[pen.ink])
    context.set_joinstyle("round")
    context.set_capstyle("butt")
    pattern = DASHES.get(pen.dash)
    if pattern:
        context.set_dashes(0.0, [length * width for length in pattern])


def _outline(item: Path | Disc, sag_mm: float) -> Any:
    from matplotlib.path import Path as Outline

    if isinstance(item, Disc):
        return Outline.circle(item.centre, item.radius_mm)
    points = flatten(item, sag_mm)
    return Outline((*points, points[0]), closed=True) if item.closed else Outline(points)
