"""Dimensions: lines, arrowheads and words, laid out after ISO 129-1.

All functions are pure and return scene items, back to front. Points and spans are model mm;
offsets, radii, text heights and arrows are paper mm, to be multiplied by ``scale`` (model mm per
paper mm). Words are written as given: what they say is the caller's business.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.scene import MEASURE, Across, Disc, Ink, Item, Path, Pen, Point, Text, Up

GROUP = "measures"
LAYER = "MEASURES"

ARROW_MM = (2.5, 0.8)
"""Length and width of an arrowhead on paper."""

GAP_MM = 1.0
"""Space between the outline and an extension line, and beside words."""

LIFT_MM = 1.2
"""Space between a line and the words on it; descenders clear arrowheads by 0.2 mm."""

OVERRUN_MM = 1.5
"""How far extension lines run past the dimension line."""

_TAIL_MM = 2.5  # line behind an arrowhead that had to go outside
_CENTRE: Across = "centre"
_HEAD_PEN = Pen(0.05, ink=Ink.MUTED)  # a hairline, so that the tip stays where it points

End: TypeAlias = Literal["arrow", "dot"]
Side: TypeAlias = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class _Maker:
    """What all items of one dimension share."""

    scale: float
    ref: str
    text_height: float

    def line(self, start: Point, end: Point, pen: Pen = MEASURE) -> Path:
        return Path((start, end), LAYER, pen=pen, group=GROUP, ref=self.ref)

    def head(self, tip: Point, angle: float) -> Path:
        """Return an arrowhead that points along ``angle`` (radians)."""
        length, half = ARROW_MM[0] * self.scale, ARROW_MM[1] * self.scale / 2.0
        back = _step(tip, angle, -length)
        sides = (_step(back, angle + math.pi / 2.0, half), _step(back, angle - math.pi / 2.0, half))
        points = (tip, *sides)
        return Path(
            points, LAYER, pen=_HEAD_PEN, closed=True, fill=Ink.MUTED, group=GROUP, ref=self.ref
        )

    def text(
        self, at: Point, words: str, across: Across = "centre", angle: float = 0.0, up: Up = "base"
    ) -> Text:
        turn = round(math.degrees(angle), 9) + 0.0
        return Text(
            at,
            words,
            LAYER,
            height_mm=self.text_height,
            across=across,
            up=up,
            angle_deg=turn,
            group=GROUP,
            ref=self.ref,
        )

    def width(self, words: str) -> float:
        """Return the length of words, model mm."""
        return text_width_mm(words, self.text_height) * self.scale


def _step(point: Point, angle: float, length: float) -> Point:
    return point[0] + length * math.cos(angle), point[1] + length * math.sin(angle)


def _reading(angle: float) -> float:
    """Return the direction, of the two along a line, in which text reads from bottom or right."""
    turned = math.remainder(angle, math.tau)
    half = math.pi / 2.0
    if turned > half + 1e-9:
        return turned - math.pi
    return turned + math.pi if turned <= -half + 1e-9 else turned


def linear(
    start: Point,
    end: Point,
    *,
    offset: float,
    words: str,
    scale: float,
    ref: str = "",
    text_height: float = 2.5,
    direction: float | None = None,
    aside: Side = "end",
) -> tuple[Item, ...]:
    """Return a dimension between two points.

    :param offset: paper mm from the points to the dimension line, + to the left of the direction;
        with a direction of its own, from the point that lies further to that side.
    :param direction: of the dimension line, degrees (0 for a horizontal distance, 90 for a
        vertical one); None for the direction from start to end.
    :param aside: beyond which point the words go when they are too long for the space between.
    :raises ValueError: if the points coincide along the direction.
    """
    make = _Maker(scale, ref, text_height)
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    angle = turn if direction is None else math.radians(direction)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    sides = [point[0] * across[0] + point[1] * across[1] for point in (start, end)]
    level = (max(sides) if offset >= 0.0 else min(sides)) + offset * scale
    feet = []
    for point, side in zip((start, end), sides, strict=True):
        lift = level - side
        feet.append((point[0] + across[0] * lift, point[1] + across[1] * lift))
    span = sum((b - a) * part for a, b, part in zip(*feet, along, strict=True))
    if abs(span) < 1e-9:
        raise ValueError(f"no distance to dimension between {start} and {end}")
    first, last = feet
    heading = angle if span > 0.0 else angle + math.pi
    items: list[Item] = []
    for point, foot in ((start, first), (end, last)):
        items += _extension(point, foot, make)
    return (*items, *_dimension_line(first, last, heading, words, aside, make))


def _extension(point: Point, foot: Point, make: _Maker) -> list[Item]:
    length = math.dist(point, foot)
    if length <= GAP_MM * make.scale:
        return []
    angle = math.atan2(foot[1] - point[1], foot[0] - point[0])
    begin = _step(point, angle, GAP_MM * make.scale)
    return [make.line(begin, _step(foot, angle, OVERRUN_MM * make.scale))]


def _dimension_line(
    first: Point, last: Point, heading: float, words: str, aside: Side, make: _Maker
) -> list[Item]:
    """Return the line from first to last with its arrowheads and words."""
    scale = make.scale
    span = math.dist(first, last)
    width = make.width(words)
    inside = span >= (2.0 * ARROW_MM[0] + 1.5) * scale
    fits = span >= width + 2.0 * GAP_MM * scale
    tail = 0.0 if inside else (ARROW_MM[0] + _TAIL_MM) * scale
    outward = (heading + math.pi, heading)
    begin, stop = _step(first, outward[0], tail), _step(last, outward[1], tail)
    reading = _reading(heading)
    anchor, across = _step(first, heading, span / 2.0), _CENTRE
    if not fits:
        away, corner = (outward[1], last) if aside == "end" else (outward[0], first)
        anchor = _step(corner, away, max(tail, GAP_MM * scale))
        across = "left" if math.cos(away - reading) > 0.0 else "right"
        far = _step(anchor, away, width)
        begin, stop = (begin, far) if aside == "end" else (far, stop)
    place = _step(anchor, reading + math.pi / 2.0, LIFT_MM * scale)
    turned = 0.0 if inside else math.pi
    return [
        make.line(begin, stop),
        make.head(first, outward[0] + turned),
        make.head(last, outward[1] + turned),
        make.text(place, words, across, reading),
    ]


def leader(
    tip: Point,
    elbow: Point,
    words: str | Sequence[str],
    *,
    scale: float,
    ref: str = "",
    text_height: float = 2.5,
    end: End = "arrow",
) -> tuple[Item, ...]:
    """Return a note that points: a line from the tip to the elbow, a shelf, words on the shelf.

    :param words: a line of text, or several: the first stands on the shelf, the others below it.
    :param end: "arrow" for a tip on an outline, "dot" for one inside an area.
    """
    make = _Maker(scale, ref, text_height)
    lines = (words,) if isinstance(words, str) else tuple(words)
    # The shelf runs on to the side the elbow lies on.
    way = 1.0 if elbow[0] >= tip[0] else -1.0
    across: Across = "left" if way > 0.0 else "right"
    width = max(make.width(line) for line in lines)
    shelf_end = (elbow[0] + way * width, elbow[1])
    items: list[Item] = [make.line(tip, elbow), make.line(elbow, shelf_end)]
    if end == "arrow":
        items.append(make.head(tip, math.atan2(tip[1] - elbow[1], tip[0] - elbow[0])))
    else:
        radius = ARROW_MM[1] * scale / 2.0
        items.append(Disc(tip, radius, LAYER, pen=_HEAD_PEN, fill=Ink.MUTED, group=GROUP, ref=ref))
    items.append(make.text((elbow[0], elbow[1] + LIFT_MM * scale), lines[0], across))
    pitch = text_height * 1.6 * scale
    for index, line in enumerate(lines[1:]):
        y = elbow[1] - GAP_MM * scale - index * pitch
        items.append(make.text((elbow[0], y), line, across, up="top"))
    return tuple(items)


def angle_between(
    apex: Point,
    radius: float,
    from_deg: float,
    to_deg: float,
    words: str,
    *,
    scale: float,
    ref: str = "",
    text_height: float = 2.5,
    rays: Literal["none", "from", "to", "both"] = "none",
    words_deg: float | None = None,
) -> tuple[Item, ...]:
    """Return the dimension of an angle: an arc with arrowheads and words outside its middle.

    :param radius: of the arc, paper mm.
    :param from_deg: where the arc begins, degrees from + x.
    :param to_deg: where it ends, anticlockwise from there; a full turn is added if it is less.
    :param rays: which sides to draw from the apex past the arc, where the drawing has no line.
    :param words_deg: in which direction from the apex the words stand; None for the middle.
    :raises ValueError: if the two sides coincide.
    """
    make = _Maker(scale, ref, text_height)
    begin = math.radians(from_deg)
    sweep = math.radians((to_deg - from_deg) % 360.0)
    if sweep < 1e-9:
        raise ValueError(f"no angle to dimension between {from_deg} and {to_deg} degrees")
    size = radius * scale
    inside = sweep * radius >= 2.0 * ARROW_MM[0] + 1.5
    tail = 0.0 if inside else (ARROW_MM[0] + _TAIL_MM) / radius
    items: list[Item] = []
    for name, side in (("from", begin), ("to", begin + sweep)):
        if rays in (name, "both"):
            items.append(make.line(apex, _step(apex, side, size + OVERRUN_MM * scale)))
    if inside:
        items.append(_arc(apex, size, begin, sweep, make))
    else:
        items.append(_arc(apex, size, begin - tail, tail, make))
        items.append(_arc(apex, size, begin + sweep, tail, make))
    # A straight head on an arc looks right when it is a chord: turned by half its own angle.
    lean = ARROW_MM[0] / radius / 2.0 * (1.0 if inside else -1.0)
    for side, way in ((begin, -1.0), (begin + sweep, 1.0)):
        pointing = side + way * (math.pi / 2.0 - lean) + (0.0 if inside else math.pi)
        items.append(make.head(_step(apex, side, size), pointing))
    towards = begin + sweep / 2.0 if words_deg is None else math.radians(words_deg)
    items.append(_angle_words(apex, size, towards, words, make))
    return tuple(items)


def _arc(apex: Point, size: float, begin: float, sweep: float, make: _Maker) -> Path:
    # One bulge grows without bounds towards a full turn; halves stay moderate.
    count = 2 if sweep > math.pi * 1.5 else 1
    points = tuple(_step(apex, begin + sweep * n / count, size) for n in range(count + 1))
    bulges = (math.tan(sweep / count / 4.0),) * count + (0.0,)
    return Path(points, LAYER, pen=MEASURE, bulges=bulges, group=GROUP, ref=make.ref)


def _angle_words(apex: Point, size: float, angle: float, words: str, make: _Maker) -> Text:
    """Return level words outside the arc, moved out by what of their box leans inwards."""
    high = make.text_height * make.scale
    wide = make.width(words)
    cos, sin = math.cos(angle), math.sin(angle)
    reach = size + GAP_MM * make.scale + abs(cos) * wide / 2.0 + abs(sin) * high / 2.0
    x, y = _step(apex, angle, reach)
    return make.text((x, y - high / 2.0), words)


def whisker(
    at: Point,
    half: float,
    axis: float,
    *,
    scale: float,
    ref: str = "",
    cap: float = 2.0,
    ink: Ink = Ink.MUTED,
) -> tuple[Item, ...]:
    """Return a tolerance as a beam with a bar at each end.

    :param half: the tolerance each way, model mm.
    :param axis: direction of the beam, degrees from + x.
    :param cap: length of the bars, paper mm.
    """
    make = _Maker(scale, ref, 2.5)
    pen = Pen(0.25, ink=ink)
    angle = math.radians(axis)
    ends = (_step(at, angle, -half), _step(at, angle, half))
    reach = cap * scale / 2.0
    bars = [
        make.line(
            _step(end, angle + math.pi / 2.0, -reach),
            _step(end, angle + math.pi / 2.0, reach),
            pen,
        )
        for end in ends
    ]
    return (make.line(*ends, pen), *bars)


def level_mark(
    at: Point,
    words: str,
    *,
    scale: float,
    ref: str = "",
    text_height: float = 2.5,
    side: Literal["left", "right"] = "right",
    ink: Ink = Ink.LINE,
) -> tuple[Item, ...]:
    """Return a level: a small triangle standing on its tip, a short line and words on it.

    :param at: where the tip stands; its y is the level.
    :param side: where the words go, as seen from the triangle.
    """
    make = _Maker(scale, ref, text_height)
    pen = Pen(0.18, ink=ink)
    way = 1.0 if side == "right" else -1.0
    half, high = 1.25 * scale, 2.2 * scale
    corners = (at, (at[0] + half, at[1] + high), (at[0] - half, at[1] + high))
    begin = at[0] + way * (half + GAP_MM * scale)
    far = begin + way * make.width(words)
    mark = Path(corners, LAYER, pen=pen, closed=True, fill=Ink.PAPER, group=GROUP, ref=ref)
    text = make.text(
        (begin, at[1] + LIFT_MM * 0.8 * scale), words, "left" if way > 0.0 else "right"
    )
    return (make.line((at[0] - way * half * 1.6, at[1]), (far, at[1]), pen), mark, text)
