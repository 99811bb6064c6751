"""Paints a scene into pixels for the screen: shapes by matplotlib's Agg renderer, words apart.

Words cost most of a full draw, and the toolkit's own words look as good, so the painter leaves them
to the window. Without them a whole profile is painted within a frame. No Tk here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.drawing.palette import Palette
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Text, flatten
from rigfit.drawing.strokes import DASHES

_SAG_PX = 0.12
_THINNEST_PX = 0.8


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


def paint(items: Iterable[Item], view: View, palette: Palette, *, clear: bool = False) -> Any:
    """Return the shapes of a scene as an RGBA array, height x width x 4, of whole pixels.

    :param items: in the keel frame or on the sheet, back to front; texts are passed over.
    :param clear: True for a transparent ground, as a sprite needs it; else the palette's paper.
    """
    import numpy as np
    from matplotlib.colors import to_rgba
    from matplotlib.transforms import Affine2D

    renderer: Any = _renderer(view.width, view.height)
    scale = 1.0 / view.mm_per_px
    affine = Affine2D.from_values(
        scale, 0.0, 0.0, scale,
        view.width / 2.0 - view.centre[0] * scale, view.height / 2.0 - view.centre[1] * scale,
    )  # fmt: skip
    if not clear:
        ground = tuple(round(255 * part) for part in to_rgba(palette[Ink.PAPER]))
        np.asarray(renderer.buffer_rgba())[:] = ground
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    for item in items:
        if not isinstance(item, Text):
            _stroke(renderer, item, affine, palette, pixel, view.mm_per_px)
    return np.asarray(renderer.buffer_rgba())


def _renderer(width: int, height: int) -> Any:
    from matplotlib.backends import backend_agg

    make: Any = backend_agg.RendererAgg
    # At 72 dpi a point is a pixel, so that line widths are pixels.
    return make(max(width, 1), max(height, 1), 72.0)


def _stroke(
    renderer: Any, item: Path | Disc, affine: Any, palette: Palette, pixel: float, mm_per_px: float
) -> None:
    from matplotlib.colors import to_rgb

    context = renderer.new_gc()
    context.set_antialiased(True)
    context.set_linewidth(0.0)
    if item.pen is not None:
        _set_pen(context, item.pen, palette, pixel)
    face = None if item.fill is None else to_rgb(palette[item.fill])
    renderer.draw_path(context, _outline(item, _SAG_PX * mm_per_px), affine, face)
    context.restore()


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
