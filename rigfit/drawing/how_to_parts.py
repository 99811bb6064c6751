"""What the how-to pictures are made of: the frame, tools, readings, and wrong ways crossed out.

All positions are paper mm from the lower left corner of the frame, and the scene's scale is 1: the
pictures show how, not how large. What is drawn true to shape comes through a ``View``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from rigfit.drawing.dimensioning import GROUP, LAYER, angle_between, linear
from rigfit.drawing.scene import Across, Dash, Disc, Ink, Item, Path, Pen, Point, Text, Up

Items: TypeAlias = tuple[Item, ...]

FRAME_MM = (80.0, 56.0)
"""Width and height of every picture."""

LABEL_MM = 3.0
"""Height of the capitals of the one label that names the reading."""

NOTE_MM = 2.7
"""Height of the capitals of everything else."""

READING, WRONG = "reading", "wrong"
"""The ``ref`` of the one reading, and of a way not to take it."""

QUIET = Pen(0.25, ink=Ink.MUTED)
FAINT = Pen(0.18, ink=Ink.MUTED)
EDGE_QUIET = Pen(0.5, ink=Ink.MUTED)
CENTRE_QUIET = Pen(0.18, Dash.CENTRE, Ink.MUTED)
DASHED_QUIET = Pen(0.25, Dash.DASHED, Ink.MUTED)

_READ_PEN = Pen(0.5, ink=Ink.ACCENT)
_READ_HEAD = Pen(0.45, ink=Ink.ACCENT)
_WRONG_PEN = Pen(0.35, Dash.DASHED, Ink.STOPS)
_WRONG_HEAD = Pen(0.3, ink=Ink.STOPS)
_CROSS_PEN = Pen(0.7, ink=Ink.STOPS)
_CROSS_MM = 2.1
_LINE_PITCH = 1.5  # of the height of capitals
_TOOLS = "DATUM"


@dataclass(frozen=True, slots=True)
class View:
    """Where a part of the real thing lies in the picture.

    :param scale: real mm per paper mm.
    :param origin: where the real thing's own origin lies in the frame, paper mm.
    """

    scale: float
    origin: Point

    def at(self, x: float, y: float) -> Point:
        """Return where a real point lies in the frame."""
        return self.origin[0] + x / self.scale, self.origin[1] + y / self.scale

    def all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return where several real points lie."""
        return tuple(self.at(*point) for point in points)


def frame() -> Path:
    """Return the bare rectangle that gives every picture the same bounds."""
    width, height = FRAME_MM
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Path(corners, "SHEET", pen=None, closed=True, fill=Ink.PAPER, group="sheet")


def moved(point: Point, angle_deg: float, length: float) -> Point:
    """Return a point carried along a direction."""
    turn = math.radians(angle_deg)
    return point[0] + length * math.cos(turn), point[1] + length * math.sin(turn)


def between(start: Point, end: Point, part: float) -> Point:
    """Return the point that lies a part of the way from start to end."""
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def shape(
    points: Iterable[Point], layer: str, fill: Ink | None = Ink.HULL, pen: Pen | None = QUIET
) -> Path:
    """Return a closed, filled outline."""
    return Path(tuple(points), layer, pen=pen, closed=True, fill=fill)


def line(points: Iterable[Point], layer: str, pen: Pen = QUIET) -> Path:
    """Return an open line."""
    return Path(tuple(points), layer, pen=pen)


def box(left: float, bottom: float, right: float, top: float, layer: str, fill: Ink) -> Path:
    """Return an upright rectangle."""
    return shape(((left, bottom), (right, bottom), (right, top), (left, top)), layer, fill)


def zigzag(start: Point, end: Point, layer: str) -> Path:
    """Return a break line: the thing goes on beyond it."""
    turn = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    middle = between(start, end, 0.5)
    points = (
        start,
        moved(middle, turn, -1.0),
        moved(moved(middle, turn, -0.4), turn + 90.0, 1.2),
        moved(moved(middle, turn, 0.4), turn - 90.0, 1.2),
        moved(middle, turn, 1.0),
        end,
    )
    return Path(points, layer, pen=FAINT)


def note(
    at: Point,
    words: str | Sequence[str],
    *,
    across: Across = "left",
    ink: Ink = Ink.MUTED,
    ref: str = "",
) -> Items:
    """Return words beside a thing, in one line or several around the same middle."""
    return _lines(at, words, across, Text((0.0, 0.0), "", "NOTES", NOTE_MM, ink=ink, ref=ref))


def _lines(at: Point, words: str | Sequence[str], across: Across, like: Text) -> Items:
    rows = (words,) if isinstance(words, str) else tuple(words)
    pitch, middle = like.height_mm * _LINE_PITCH, (len(rows) - 1) / 2.0
    up: Up = "middle"
    return tuple(
        replace(
            like,
            at=(at[0], at[1] + (middle - index) * pitch),
            words=row,
            across=across,
            up=up,
            group=GROUP,
        )
        for index, row in enumerate(rows)
    )


def _label(at: Point, words: str | Sequence[str], across: Across) -> Items:
    style = Text((0.0, 0.0), "", LAYER, LABEL_MM, ink=Ink.ACCENT, bold=True, ref=READING)
    return _lines(at, words, across, style)


def _recoloured(items: Iterable[Item], pen: Pen, head: Pen, ref: str) -> Items:
    """Return a dimension's line and heads in another ink, without its words."""
    out: list[Item] = []
    for item in items:
        if isinstance(item, Path):
            mine = head if item.closed else pen
            fill = mine.ink if item.closed else None
            out.append(replace(item, pen=mine, fill=fill, ref=ref))
    return tuple(out)


def _measured(
    start: Point,
    end: Point,
    offset: float,
    direction: float | None,
    pens: tuple[Pen, Pen],
    ref: str,
) -> tuple[Items, Point]:
    """Return extension lines and dimension line, and where the middle of the latter is."""
    *feet, course, first, last, _words = linear(
        start, end, offset=offset, direction=direction, words="", scale=1.0, ref=ref
    )
    tips = [item.points[0] for item in (first, last) if isinstance(item, Path)]
    quiet = tuple(item for item in feet if isinstance(item, Path))
    items = (*quiet, *_recoloured((course, first, last), *pens, ref))
    return items, between(tips[0], tips[1], 0.5)


def reading(
    start: Point,
    end: Point,
    words: str | Sequence[str],
    at: Point,
    *,
    across: Across = "left",
    offset: float = 0.0,
    direction: float | None = None,
) -> Items:
    """Return the one dimension to read.

    :param at: where the label stands: its left end, middle or right end, half way up.
    :param offset: and ``direction`` as in ``linear``.
    """
    items, _middle = _measured(start, end, offset, direction, (_READ_PEN, _READ_HEAD), READING)
    return *items, *_label(at, words, across)


def quiet(
    start: Point, end: Point, *, offset: float = 0.0, direction: float | None = None
) -> Items:
    """Return a dimension that only says where the reading is taken."""
    items, _middle = _measured(start, end, offset, direction, (FAINT, FAINT), "")
    return items


def reading_angle(
    apex: Point,
    radius: float,
    from_deg: float,
    to_deg: float,
    words: str | Sequence[str],
    at: Point,
    *,
    across: Across = "left",
) -> Items:
    """Return the one angle to read; the drawing has lines for its sides."""
    arc = angle_between(apex, radius, from_deg, to_deg, "", scale=1.0, ref=READING)
    return *_recoloured(arc, _READ_PEN, _READ_HEAD, READING), *_label(at, words, across)


def reading_at(tip: Point, tail: Point, words: str | Sequence[str], at: Point) -> Items:
    """Return an arrow to a display that shows the reading."""
    _line, head, _other, _words = linear(tip, tail, offset=0.0, words="", scale=1.0)[-4:]
    course = Path((tip, tail), LAYER, group=GROUP)
    arrow = _recoloured((course, head), _READ_PEN, _READ_HEAD, READING)
    return *arrow, *_label(at, words, "left")


def wrong(
    start: Point,
    end: Point,
    words: str | Sequence[str],
    at: Point,
    *,
    across: Across = "left",
    offset: float = 0.0,
    direction: float | None = None,
    part: float = 0.5,
) -> Items:
    """Return a way not to measure, crossed out.

    :param part: how far along the dimension line the cross stands.
    """
    pens = (_WRONG_PEN, _WRONG_HEAD)
    items, middle = _measured(start, end, offset, direction, pens, WRONG)
    tips = [item.points[0] for item in items[-2:] if isinstance(item, Path)]
    spot = middle if part == 0.5 else between(tips[0], tips[1], part)
    return *items, *cross(spot), *note(at, words, across=across, ink=Ink.STOPS, ref=WRONG)


def cross(at: Point, size: float = _CROSS_MM) -> Items:
    """Return two strokes that cross something out."""
    x, y = at
    ends = (
        ((x - size, y - size), (x + size, y + size)),
        ((x - size, y + size), (x + size, y - size)),
    )
    return tuple(Path(pair, LAYER, pen=_CROSS_PEN, group=GROUP, ref=WRONG) for pair in ends)


def bar(start: Point, end: Point, thick: float, fill: Ink = Ink.COWL) -> Path:
    """Return a straight tool: its edge from start to end, its body to the left of that way."""
    turn = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])) + 90.0
    return shape((start, end, moved(end, turn, thick), moved(start, turn, thick)), _TOOLS, fill)


def tape(start: Point, end: Point, *, width: float = 1.7) -> Items:
    """Return a tape with its marks: one edge from start to end, the blade to the left of it."""
    turn = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    count = int(math.dist(start, end) / 1.5)
    marks = []
    for index in range(1, count):
        foot = moved(start, turn, 1.5 * index)
        reach = width * (0.75 if index % 5 == 0 else 0.4)
        marks.append(line((foot, moved(foot, turn + 90.0, reach)), _TOOLS, FAINT))
    return bar(start, end, width, Ink.RESERVE), *marks


def level(at: Point, angle_deg: float, words: str) -> Items:
    """Return a digital level standing with the middle of its base at a point, display on it."""
    start, end = moved(at, angle_deg, -8.0), moved(at, angle_deg, 8.0)
    middle = moved(at, angle_deg + 90.0, 2.6)
    left, right = moved(middle, angle_deg, -5.2), moved(middle, angle_deg, 5.2)
    low = (moved(left, angle_deg - 90.0, 1.9), moved(right, angle_deg - 90.0, 1.9))
    high = (moved(right, angle_deg + 90.0, 1.9), moved(left, angle_deg + 90.0, 1.9))
    # Upside down nobody can read a display.
    upright = angle_deg - 180.0 if 90.0 < angle_deg % 360.0 <= 270.0 else angle_deg
    words_at = Text(
        middle, words, "NOTES", 2.6, across="centre", up="middle", angle_deg=upright, group=GROUP
    )
    return bar(start, end, 5.2), shape((*low, *high), _TOOLS, Ink.PAPER, FAINT), words_at


def hole(centre: Point, radius: float, *, mark: bool = True, layer: str = "EXISTING") -> Items:
    """Return a hole, with its centre marked."""
    disc = Disc(centre, radius, layer, pen=QUIET, fill=Ink.PAPER)
    if not mark:
        return (disc,)
    (x, y), reach = centre, radius + 0.9
    return (
        disc,
        line(((x - reach, y), (x + reach, y)), "CENTREMARKS", FAINT),
        line(((x, y - reach), (x, y + reach)), "CENTREMARKS", FAINT),
    )
