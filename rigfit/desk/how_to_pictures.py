"""The pictures of how a reading is taken, painted for the help of a field when first wanted."""

from __future__ import annotations

import tkinter as tk
from collections import OrderedDict
from typing import Any

from rigfit.desk.kit import theme

WIDTH, HEIGHT = 320, 224
"""Size of a picture in logical px: 80 x 56 mm of paper at four pixels a millimetre."""

MOST_KEPT = 16
"""Pictures kept at a time; at 200 % one takes a megabyte."""

_Key = tuple[str, str, str, float]


class HowToPictures:
    """Paints the pictures for one window, in the look in force, and keeps the latest.

    :param master: any widget of the window; its pictures go with it.
    """

    def __init__(self, master: tk.Misc) -> None:
        self._master = master
        self._kept: OrderedDict[_Key, Any] = OrderedDict()

    def picture(self, table: str, field: str) -> Any:
        """Return the ``PhotoImage`` of a field, or None where there is nothing to draw."""
        key = table, field, theme.appearance(), theme.scale()
        if key in self._kept:
            self._kept.move_to_end(key)
        else:
            self._kept[key] = self._painted(table, field)
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        return self._kept[key]

    def _painted(self, table: str, field: str) -> Any:
        from rigfit.drawing.how_to import how_to_scene

        scene = how_to_scene(table, field)
        if scene is None:
            return None
        # Only here: the drawing library takes longer to load than the whole window to show.
        from PIL import Image, ImageTk

        pixels = _pixels(scene, theme.px(WIDTH), theme.px(HEIGHT))
        return ImageTk.PhotoImage(Image.fromarray(pixels, "RGBA"), master=self._master)


def _pixels(scene: Any, width: int, height: int) -> Any:
    """Return a how-to scene as an array of RGBA pixels in the colours in force."""
    import numpy as np
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from rigfit.drawing.how_to import FRAME_MM
    from rigfit.drawing.palette import DARK, LIGHT
    from rigfit.drawing.scene import Ink
    from rigfit.drawing.to_axes import draw_scene

    palette = DARK if theme.appearance() == "dark" else LIGHT
    dpi = width / (FRAME_MM[0] / 25.4)
    figure = Figure(figsize=(width / dpi, height / dpi), dpi=dpi, facecolor=palette[Ink.PAPER])
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, FRAME_MM[0])
    axes.set_ylim(0.0, FRAME_MM[1])
    draw_scene(scene, axes, palette)
    canvas: Any = FigureCanvasAgg(figure)
    canvas.draw()
    return np.array(canvas.buffer_rgba())
