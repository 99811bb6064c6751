"""Icons and verdict marks, drawn by rigfit: 2-px strokes with round ends on a grid of 24.

Each is drawn four times too large and shrunk, which gives smooth edges at any scale. A drawing is
only a mask; the colour comes from the role it is asked for in.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

from PIL import Image, ImageDraw

from rigfit.desk.kit import colours, theme
from rigfit.desk.kit.colours import Role
from rigfit.rigging.findings import Verdict

GRID = 24
SIZE = 20
"""Usual size in logical px; marks beside text are ``MARK``."""

MARK = 16
STROKE = 2.0

_FINER = 4

Spot = tuple[float, float]


class Pen:
    """Draws on the grid of 24 into a mask that is four times finer than asked for.

    :param pixels: edge of the square mask that comes out.
    """

    def __init__(self, pixels: int) -> None:
        self._pixels = pixels
        self._step = pixels * _FINER / GRID
        self._mask = Image.new("L", (pixels * _FINER, pixels * _FINER), 0)
        self._draw = ImageDraw.Draw(self._mask)

    def mask(self) -> Image.Image:
        """Return what was drawn, at its proper size, 0 (nothing) to 255."""
        return self._mask.resize((self._pixels, self._pixels), Image.Resampling.BOX)

    def line(self, *spots: Spot, width: float = STROKE, ink: int = 255) -> None:
        """Draw a broken line with round ends and corners; ink 0 rubs out."""
        reach = width / 2
        for one, other in itertools.pairwise(spots):
            self._bar(one, other, reach, ink)
        for x, y in spots:
            self._draw.ellipse(self._box(x, y, reach), fill=ink)

    def shape(self, *spots: Spot, ink: int = 255) -> None:
        """Fill a polygon."""
        self._draw.polygon([self._at(spot) for spot in spots], fill=ink)

    def outline(self, *spots: Spot) -> None:
        """Draw a closed line through some spots."""
        self.line(*spots, spots[0])

    def disc(self, x: float, y: float, radius: float, ink: int = 255) -> None:
        """Fill a circle."""
        self._draw.ellipse(self._box(x, y, radius), fill=ink)

    def ring(self, x: float, y: float, radius: float, width: float = STROKE) -> None:
        """Draw a circle; the radius is to the middle of the stroke."""
        outside = self._box(x, y, radius + width / 2)
        self._draw.ellipse(outside, outline=255, width=round(width * self._step))

    def arc(self, x: float, y: float, radius: float, start: float, end: float) -> None:
        """Draw part of a circle with round ends, clockwise; degrees, 0 to the right."""
        outside = self._box(x, y, radius + STROKE / 2)
        self._draw.arc(outside, start, end, fill=255, width=round(STROKE * self._step))
        for turn in (math.radians(start), math.radians(end)):
            self.disc(x + radius * math.cos(turn), y + radius * math.sin(turn), STROKE / 2)

    def _bar(self, one: Spot, other: Spot, reach: float, ink: int) -> None:
        length = math.dist(one, other) or 1.0
        across = (other[1] - one[1]) * reach / length, (one[0] - other[0]) * reach / length
        corners = [
            (one[0] + across[0], one[1] + across[1]),
            (other[0] + across[0], other[1] + across[1]),
            (other[0] - across[0], other[1] - across[1]),
            (one[0] - across[0], one[1] - across[1]),
        ]
        self.shape(*corners, ink=ink)

    def _at(self, spot: Spot) -> Spot:
        return spot[0] * self._step - 0.5, spot[1] * self._step - 0.5

    def _box(self, x: float, y: float, radius: float) -> Sequence[float]:
        left, top = self._at((x - radius, y - radius))
        right, bottom = self._at((x + radius, y + radius))
        return left, top, right, bottom


def _fits(pen: Pen) -> None:
    pen.disc(12, 12, 10.6)
    pen.line((6.8, 12.4), (10.4, 16), (17.2, 8.6), width=2.8, ink=0)


def _tight(pen: Pen) -> None:
    pen.outline((12, 2), (22, 12), (12, 22), (2, 12))
    pen.shape((12, 2), (12, 22), (2, 12))


def _unknown(pen: Pen) -> None:
    pen.ring(12, 12, 10)
    pen.arc(12, 9.6, 3.2, 180, 360)
    pen.line((15.2, 9.6), (12.2, 12.8), (12, 14.2))
    pen.disc(12, 17.6, 1.5)


def _stops(pen: Pen) -> None:
    near, far = 7.3, 16.7
    low, high = 1, 23
    pen.shape(
        (near, low), (far, low), (high, near), (high, far),
        (far, high), (near, high), (low, far), (low, near),
    )  # fmt: skip
    pen.line((7, 12), (17, 12), width=4, ink=0)


def _new(pen: Pen) -> None:
    pen.line((12, 21), (5, 21), (5, 3), (14, 3), (19, 8), (19, 11))
    pen.line((14, 3), (14, 8), (19, 8))
    pen.line((18, 15), (18, 21))
    pen.line((15, 18), (21, 18))


def _open(pen: Pen) -> None:
    pen.line((4, 19), (4, 5), (9, 5), (11.5, 8), (19, 8), (19, 11))
    pen.outline((4, 19), (7.5, 11), (22, 11), (18.5, 19))


def _save(pen: Pen) -> None:
    pen.line((12, 3), (12, 14))
    pen.line((7.5, 10), (12, 14.5), (16.5, 10))
    pen.line((4, 15), (4, 20), (20, 20), (20, 15))


def _undo(pen: Pen) -> None:
    pen.line((8, 4.5), (4, 8.5), (8, 12.5))
    pen.line((4, 8.5), (14.5, 8.5))
    pen.arc(14.5, 14, 5.5, 270, 450)
    pen.line((14.5, 19.5), (9, 19.5))


def _redo(pen: Pen) -> None:
    pen.line((16, 4.5), (20, 8.5), (16, 12.5))
    pen.line((20, 8.5), (9.5, 8.5))
    pen.arc(9.5, 14, 5.5, 90, 270)
    pen.line((9.5, 19.5), (15, 19.5))


def _lens(pen: Pen) -> None:
    pen.ring(10.5, 10.5, 7)
    pen.line((15.8, 15.8), (21, 21))
    pen.line((7.5, 10.5), (13.5, 10.5))


def _zoom_in(pen: Pen) -> None:
    _lens(pen)
    pen.line((10.5, 7.5), (10.5, 13.5))


def _fit(pen: Pen) -> None:
    for x, y, across, up in ((3, 3, 1, 1), (21, 3, -1, 1), (21, 21, -1, -1), (3, 21, 1, -1)):
        pen.line((x + 5 * across, y), (x, y), (x, y + 5 * up))
    pen.outline((8.5, 8.5), (15.5, 8.5), (15.5, 15.5), (8.5, 15.5))


def _tilt(pen: Pen) -> None:
    pen.line((3, 20), (21, 20))
    pen.line((3, 20), (13, 4))
    pen.arc(3, 20, 11.5, 302, 360)


def _export(pen: Pen) -> None:
    pen.line((10, 4), (4, 4), (4, 20), (20, 20), (20, 14))
    pen.line((11, 13), (20, 4))
    pen.line((14, 4), (20, 4), (20, 10))


def _report(pen: Pen) -> None:
    pen.outline((5, 3), (19, 3), (19, 21), (5, 21))
    for y, end in ((8, 15), (12, 15), (16, 12)):
        pen.line((9, y), (end, y))


def _keys(pen: Pen) -> None:
    pen.outline((2.5, 6), (21.5, 6), (21.5, 18), (2.5, 18))
    for x in (7, 12, 17):
        pen.disc(x, 10.2, 1.3)
    pen.line((8, 14.4), (16, 14.4))


def _sun(pen: Pen) -> None:
    pen.ring(12, 12, 4)
    for eighth in range(8):
        turn = eighth * math.pi / 4
        across, up = math.cos(turn), math.sin(turn)
        pen.line((12 + 8 * across, 12 + 8 * up), (12 + 10 * across, 12 + 10 * up))


def _moon(pen: Pen) -> None:
    pen.disc(11.5, 12.5, 9)
    pen.disc(16.5, 8, 8, ink=0)


def _plus(pen: Pen) -> None:
    pen.line((12, 4), (12, 20))
    pen.line((4, 12), (20, 12))


def _copy(pen: Pen) -> None:
    pen.outline((8, 8), (20, 8), (20, 21), (8, 21))
    pen.line((5, 16), (4, 16), (4, 3), (16, 3), (16, 4))


def _remove(pen: Pen) -> None:
    pen.line((4, 6.5), (20, 6.5))
    pen.line((9, 6), (9, 3), (15, 3), (15, 6))
    pen.line((6, 7), (7, 21), (17, 21), (18, 7))
    pen.line((10, 11), (10.3, 17))
    pen.line((14, 11), (13.7, 17))


def _help(pen: Pen) -> None:
    # Not a question mark: that one means a measurement is missing.
    pen.ring(12, 12, 10)
    pen.disc(12, 7.4, 1.5)
    pen.line((10.5, 11), (12.2, 11), (12.2, 16.6))
    pen.line((10, 16.8), (14.4, 16.8))


def _check(pen: Pen) -> None:
    pen.line((4, 12.5), (9.5, 18), (20, 6.5))


def _close(pen: Pen) -> None:
    pen.line((5, 5), (19, 19))
    pen.line((19, 5), (5, 19))


def _down(pen: Pen) -> None:
    pen.line((5, 9), (12, 16), (19, 9))


def _up(pen: Pen) -> None:
    pen.line((5, 16), (12, 9), (19, 16))


def _right(pen: Pen) -> None:
    pen.line((9, 5), (16, 12), (9, 19))


def _menu(pen: Pen) -> None:
    for y in (6, 12, 18):
        pen.line((4, y), (20, y))


def _alert(pen: Pen) -> None:
    pen.shape((12, 1.5), (23, 21.5), (1, 21.5))
    pen.line((12, 9), (12, 14.5), width=2.4, ink=0)
    pen.disc(12, 18, 1.5, ink=0)


def _play(pen: Pen) -> None:
    pen.outline((6, 4), (20, 12), (6, 20))
    pen.shape((6, 4), (20, 12), (6, 20))


def _stop(pen: Pen) -> None:
    pen.outline((5, 5), (19, 5), (19, 19), (5, 19))
    pen.shape((5, 5), (19, 5), (19, 19), (5, 19))


_DRAWN: dict[str, Callable[[Pen], None]] = {
    Verdict.FITS.value: _fits,
    Verdict.TIGHT.value: _tight,
    Verdict.UNKNOWN.value: _unknown,
    Verdict.STOPS.value: _stops,
    "new": _new,
    "open": _open,
    "save": _save,
    "undo": _undo,
    "redo": _redo,
    "zoom in": _zoom_in,
    "zoom out": _lens,
    "fit": _fit,
    "tilt": _tilt,
    "export": _export,
    "report": _report,
    "keys": _keys,
    "sun": _sun,
    "moon": _moon,
    "plus": _plus,
    "copy": _copy,
    "remove": _remove,
    "help": _help,
    "check": _check,
    "close": _close,
    "down": _down,
    "up": _up,
    "right": _right,
    "alert": _alert,
    "menu": _menu,
    "play": _play,
    "stop": _stop,
}

NAMES = tuple(_DRAWN)
"""Every icon there is; the verdict marks go by their verdict's word."""


@lru_cache(maxsize=256)
def mask(name: str, pixels: int) -> Image.Image:
    """Return an icon as a mask, 0 to 255.

    :param name: one of ``NAMES``.
    :param pixels: edge of the square in screen pixels.
    """
    pen = Pen(pixels)
    _DRAWN[name](pen)
    return pen.mask()


def picture(name: str, pixels: int, colour: str) -> Image.Image:
    """Return an icon in one colour "#rrggbb" on nothing (RGBA)."""
    drawn = Image.new("RGBA", (pixels, pixels), colour)
    drawn.putalpha(mask(name, pixels))
    return drawn


def icon(name: str, role: Role = "text", size: int = SIZE) -> Any:
    """Return an icon for customtkinter's widgets, in both appearances, sharp at this scale.

    :param size: edge in logical px; ask again after the scale has changed.
    """
    import customtkinter as ctk

    light, dark = (picture(name, theme.px(size), colour) for colour in colours.pair(role))
    return ctk.CTkImage(light, dark, size=(size, size))


def photo(name: str, role: Role = "text", size: int = SIZE) -> Any:
    """Return an icon for plain Tk widgets, in the colours in force; the kit keeps it alive.

    :param size: edge in logical px; ask again when the look has changed.
    """
    return _photo(name, theme.colour(role), theme.px(size))


def mark(verdict: Verdict, size: int = MARK) -> Any:
    """Return the mark of a verdict for plain Tk widgets, in its own colour."""
    return photo(verdict.value, colours.VERDICT_ROLES[verdict][0], size)


def blank(size: int = MARK) -> Any:
    """Return a see-through picture as large as an icon, to keep its place free."""
    return _blank(theme.px(size))


def forget() -> None:
    """Drop the pictures that belong to a root window that is gone."""
    _photo.cache_clear()
    _blank.cache_clear()


@lru_cache(maxsize=512)
def _photo(name: str, colour: str, pixels: int) -> Any:
    from PIL import ImageTk

    return ImageTk.PhotoImage(picture(name, pixels, colour), master=theme.root())


@lru_cache(maxsize=16)
def _blank(pixels: int) -> Any:
    from PIL import ImageTk

    nothing = Image.new("RGBA", (pixels, pixels), (0, 0, 0, 0))
    return ImageTk.PhotoImage(nothing, master=theme.root())
