"""The lettering: the shipped family, its metrics, and what a line of text takes up.

A ``Text`` gives the height of its capitals; fonts are sized by their em square. The metrics come
from the font files themselves, read on first use, so that every writer agrees on them. Kerning is
left out: a line may come out a little shorter on paper than measured here, hardly ever longer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from rigfit.drawing.scene import Point, Text

FAMILY = "Lato"
"""The family shipped with rigfit (SIL Open Font License, see ``fonts/OFL.txt``)."""

DESCENT = 0.24
"""How far letters such as "g" reach below the base line, in heights of capitals."""

_FOLDER = Path(__file__).with_name("fonts")
_STAND_IN = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_STAND_IN_CAPITAL = 0.729  # of the em; those two files do not state it


@dataclass(frozen=True, slots=True)
class _Face:
    """What is needed of one font file; lengths as parts of the em."""

    capital: float
    advances: dict[int, float]
    substitute: float


@lru_cache(maxsize=2)
def font_path(bold: bool) -> Path:  # noqa: FBT001 - weight is the one question about a font here
    """Return the TrueType file to write with.

    The shipped one, or, in an installation that lost it, the one matplotlib carries.
    """
    path = _FOLDER / f"{FAMILY}-{'Bold' if bold else 'Regular'}.ttf"
    if path.is_file():
        return path
    import matplotlib

    return Path(matplotlib.get_data_path()) / "fonts" / "ttf" / _STAND_IN[bold]


@lru_cache(maxsize=4)
def _face_at(path: Path) -> _Face:
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    font: Any
    with TTFont(path, lazy=True) as font:
        # Only two bytes of the head table are wanted; the library's reader of that table
        # prints a remark about the date in it.
        em = int.from_bytes(font.reader["head"][18:20], "big")
        # Glyphs go by number here; finding out their names is the slowest part of a font.
        count = int.from_bytes(font.reader["maxp"][4:6], "big")
        font.setGlyphOrder([f"glyph{number}" for number in range(count)])
        names: dict[int, str] = font.getBestCmap()
        widths: dict[str, tuple[int, int]] = font["hmtx"].metrics
        capital = getattr(font["OS/2"], "sCapHeight", _STAND_IN_CAPITAL * em)
    advances = {code: widths[name][0] / em for code, name in names.items()}
    return _Face(capital / em, advances, advances[ord("?")])


def _face(*, bold: bool) -> _Face:
    return _face_at(font_path(bold))


def em_mm(height_mm: float, *, bold: bool = False) -> float:
    """Return the font size, in mm, that gives capitals ``height_mm`` high."""
    return height_mm / _face(bold=bold).capital


def text_width_mm(words: str, height_mm: float, *, bold: bool = False) -> float:
    """Return how long a line of text is, in mm, with capitals ``height_mm`` high."""
    face = _face(bold=bold)
    ems = sum(face.advances.get(ord(char), face.substitute) for char in words)
    return ems * height_mm / face.capital


def missing_glyphs(text: str) -> str:
    """Return the characters of a text that the fonts lack, each once, in order of appearance."""
    faces = (_face(bold=False), _face(bold=True))
    lacking = (char for char in text if any(ord(char) not in face.advances for face in faces))
    return "".join(dict.fromkeys(lacking))


def printable(text: str) -> str:
    """Return a text with a "?" for each character the fonts lack or that is no sign at all."""
    lacking = {ord(char): "?" for char in missing_glyphs(text)}
    lacking |= {ord(char): " " for char in text if ord(char) < 32 or 127 <= ord(char) < 160}
    return text.translate(lacking)


def base_point(text: Text, scale: float) -> Point:
    """Return where the base line of a text meets its anchor, model mm: ``at``, or below it."""
    drop = {"base": 0.0, "middle": 0.5, "top": 1.0}[text.up] * text.height_mm * scale
    turn = math.radians(text.angle_deg)
    return text.at[0] + drop * math.sin(turn), text.at[1] - drop * math.cos(turn)


def text_box(text: Text, scale: float) -> tuple[Point, Point, Point, Point]:
    """Return the corners, model mm, of the space a text takes: its width, descenders to capitals.

    Anticlockwise as read, from the lower left.
    """
    width = text_width_mm(text.words, text.height_mm, bold=text.bold) * scale
    left = -{"left": 0.0, "centre": 0.5, "right": 1.0}[text.across] * width
    low, high = -DESCENT * text.height_mm * scale, text.height_mm * scale
    turn = math.radians(text.angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = base_point(text, scale)

    def corner(along: float, up: float) -> Point:
        return x + along * cos - up * sin, y + along * sin + up * cos

    return (
        corner(left, low),
        corner(left + width, low),
        corner(left + width, high),
        corner(left, high),
    )


def wrapped(words: str, width_mm: float, height_mm: float, *, bold: bool = False) -> list[str]:
    """Return a text as lines no longer than ``width_mm`` with capitals ``height_mm`` high.

    Lines break at blanks; a single word that is longer than a line breaks where it must.
    """
    lines: list[str] = []
    line = ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if text_width_mm(longer, height_mm, bold=bold) <= width_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, width_mm, height_mm, bold=bold)
        lines += whole
    return [*lines, line] if line else lines


def _broken(word: str, width_mm: float, height_mm: float, *, bold: bool) -> list[str]:
    pieces = [""]
    for char in word:
        if pieces[-1] and text_width_mm(pieces[-1] + char, height_mm, bold=bold) > width_mm:
            pieces.append("")
        pieces[-1] += char
    return pieces
