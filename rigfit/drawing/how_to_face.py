"""How-to pictures of the transom's face: corners, fixed points, openings, what stands inside.

All are seen from astern, port to the left. What stands inside is dashed, as if the transom were
glass: its place is given on the outer face, from the centreline and from the transom top.
"""

from __future__ import annotations

import math

from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    EDGE_QUIET,
    FAINT,
    QUIET,
    Items,
    View,
    bar,
    hole,
    line,
    note,
    reading,
    shape,
    tape,
    wrong,
    zigzag,
)
from rigfit.drawing.scene import Across, Disc, Ink, Item, Path, Pen, Point
from rigfit.rigging.outline import softened

_MIDDLE = 40.0
_FLOOR_Y, _RAIL_Y, _KEEL_Y = 36.0, 44.0, 5.0
_NOTCH, _RAIL, _CHINE = 17.0, 35.0, 31.0  # half widths
_CHINE_UP = 12.0  # above the keel
_QUARTER = math.tan(math.pi / 8.0)  # bulge of a quarter of a circle


def _face(half: float = _NOTCH, floor: float = _FLOOR_Y, keel: float = _KEEL_Y) -> Items:
    """Return the whole transom from astern.

    :param half: half width of the notch the engine stands in.
    :param floor: height of the notch's floor, which is the transom top at the engine.
    """
    rail = floor + _RAIL_Y - _FLOOR_Y
    right = (
        (half - 1.3, floor), (half - 0.4, floor + 0.4), (half, floor + 1.3), (half, rail),
        (_RAIL, rail), (_CHINE, keel + _CHINE_UP), (0.0, keel),
    )  # fmt: skip
    ring = [(_MIDDLE + x, y) for x, y in right]
    ring += [(_MIDDLE - x, y) for x, y in reversed(right[:-1])]
    return (shape(ring, "TRANSOM", Ink.HULL, Pen(0.35, ink=Ink.MUTED)),)


def _edge_x(y: float) -> float:
    """Return how far the side of the whole transom is from the centreline at a height."""
    chine = _KEEL_Y + _CHINE_UP
    return _CHINE + (_RAIL - _CHINE) * (y - chine) / (_RAIL_Y - chine)


def _centreline(*, sides: bool = True) -> Items:
    """Return the boat's centreline with its name, and the names of the two sides."""
    named = (*note((4.0, 6.0), "port"), *note((76.0, 6.0), "starboard", across="right"))
    return (
        line(((_MIDDLE, 2.5), (_MIDDLE, 49.5)), "CENTRELINES", CENTRE_QUIET),
        *note((_MIDDLE, 52.3), "centreline", across="centre"),
        *(named if sides else ()),
    )


def _top() -> Items:
    """Return the transom top at the engine, heavier than the rest, with its name."""
    floor = ((_MIDDLE - _NOTCH + 1.3, _FLOOR_Y), (_MIDDLE + _NOTCH - 1.3, _FLOOR_Y))
    return (
        line(floor, "TRANSOM", EDGE_QUIET),
        *note((_MIDDLE, 39.0), "transom top", across="centre"),
    )


def _not_from_edge(point: Point, words_at: Point) -> Items:
    """Return the usual wrong way across: from the side of the transom."""
    way = 1.0 if point[0] > _MIDDLE else -1.0
    edge = (_MIDDLE + way * _edge_x(point[1]), point[1])
    return wrong(edge, point, ("not from", "the side"), words_at, across="centre", part=0.3)


def chine_width() -> Items:
    """Return: straight from one chine corner to the other, not at the top."""
    y = _KEEL_Y + _CHINE_UP
    left, right = (_MIDDLE - _CHINE, y), (_MIDDLE + _CHINE, y)
    return (
        *_face(),
        *tape(left, right),
        *(Disc(corner, 1.0, "TRANSOM", QUIET, Ink.PAPER) for corner in (left, right)),
        *note((4.0, 6.0), "chine corner"),
        line(((9.0, 8.6), (left[0] - 0.2, y - 1.3)), "NOTES", FAINT),
        *wrong(
            (_MIDDLE - _RAIL, _RAIL_Y), (_MIDDLE + _RAIL, _RAIL_Y), "not at the top",
            (_MIDDLE, 52.8), across="centre", offset=4.2, part=0.2,
        ),
        *reading(left, right, ("corner", "to corner"), (_MIDDLE, 30.0), across="centre",
                 offset=7.0),
    )  # fmt: skip


def chine_below_top() -> Items:
    """Return: square down from the level of the transom top, not from the top beside it."""
    y = _KEEL_Y + _CHINE_UP
    left, right = (_MIDDLE - _CHINE, y), (_MIDDLE + _CHINE, y)
    level = ((_MIDDLE - _NOTCH + 1.3, _FLOOR_Y), (_MIDDLE + _RAIL - 1.8, _FLOOR_Y))
    return (
        *_face(),
        line(level, "DATUM", DASHED_QUIET),
        *_top(),
        *(Disc(corner, 1.0, "TRANSOM", QUIET, Ink.PAPER) for corner in (left, right)),
        *note((76.0, 6.0), "chine corner", across="right"),
        line(((71.5, 8.6), (right[0] + 0.2, y - 1.3)), "NOTES", FAINT),
        *wrong(
            (_MIDDLE - _RAIL, _RAIL_Y), left, ("not from", "up here"), (20.0, 25.5),
            offset=8.0, direction=270.0, part=0.35,
        ),
        *reading(
            (right[0], _FLOOR_Y), right, ("square", "down"), (57.0, 25.0), across="right",
            offset=-8.0, direction=270.0,
        ),
    )  # fmt: skip


def notch_width() -> Items:
    """Return: between the upright sides of the notch, not the flat only."""
    y = _FLOOR_Y + 3.6
    left, right = (_MIDDLE - _NOTCH, y), (_MIDDLE + _NOTCH, y)
    return (
        *_face(),
        *tape(left, right),
        *note((15.0, 32.0), "notch", across="centre"),
        line(((20.5, 33.5), (22.8, 36.6)), "NOTES", FAINT),
        *reading(left, right, "side to side", (_MIDDLE, 51.6), across="centre", offset=7.0),
    )


def notch_depth() -> Items:
    """Return: a straightedge over the notch, from its underside down to the floor."""
    x = _MIDDLE + 5.0
    return (
        *_face(floor=32.0, keel=7.0),
        bar((14.0, 40.0), (66.0, 40.0), 2.4),
        *note((_MIDDLE, 46.5), "straightedge", across="centre"),
        *reading((x, 40.0), (x, 32.0), ("down to", "the floor"), (_MIDDLE, 25.0),
                 across="centre"),
    )  # fmt: skip


def _fixed_points() -> tuple[Point, Point]:
    return (_MIDDLE - 11.0, 28.0), (_MIDDLE + 11.0, 28.0)


def _points_and_tapes() -> Items:
    """Return two fixed points by their letters, and the tapes that find a hole from both."""
    spot, items = (_MIDDLE + 3.0, 12.0), list[Item]()
    for point, letter, way in zip(_fixed_points(), "AB", (-1.0, 1.0), strict=True):
        items.append(line((point, spot), "DATUM", DASHED_QUIET))
        items += hole(point, 1.2, layer="DATUM")
        items += note((point[0] + way * 2.6, point[1] - 3.4), letter, across="centre")
    return *items, *hole(spot, 1.5, layer="DRILL")


def point_across(*, first: bool) -> Items:
    """Return: from the centreline to a fixed point, not from the side of the transom."""
    point = _fixed_points()[0 if first else 1]
    way, sign = (-1.0, "− port") if first else (1.0, "+ starboard")
    at = (_MIDDLE + way * 2.0, 32.2)
    return (
        *_face(),
        *_centreline(sides=False),
        *_points_and_tapes(),
        *_not_from_edge(point, (_MIDDLE + way * 23.2, 21.8)),
        *reading((_MIDDLE, point[1]), point, sign, at, across="right" if first else "left"),
    )


def point_below(*, first: bool) -> Items:
    """Return: from the transom top down to a fixed point."""
    point, letter = _fixed_points()[0 if first else 1], "A" if first else "B"
    way: Across = "left" if first else "right"
    at = (point[0] + 2.0 if first else point[0] - 2.0, 32.2)
    return (
        *_face(),
        *_top(),
        *_points_and_tapes(),
        *note((_MIDDLE, 49.0), ("A, B: screws or corners", "to tape from"), across="centre"),
        *reading((point[0], _FLOOR_Y), point, f"top to {letter}", at, across=way),
    )


_OPENING = (_MIDDLE + 12.0, 27.0)
_OPENING_MM = 2.6


def opening_across() -> Items:
    """Return: from the centreline to the middle of an opening, not from the side."""
    return (
        *_face(),
        *_centreline(),
        *hole(_OPENING, _OPENING_MM),
        *_not_from_edge(_OPENING, (64.8, 34.2)),
        *reading((_MIDDLE, _OPENING[1]), _OPENING, ("+ starboard", "− port"), (42.0, 19.6)),
    )


def opening_below_top() -> Items:
    """Return: from the transom top down the face to the middle, not from the top beside it."""
    spot = (_MIDDLE + 6.0, 19.0)
    return (
        *_face(),
        *_top(),
        *hole(spot, _OPENING_MM),
        *wrong(
            (_MIDDLE + 23.0, _RAIL_Y), spot, ("not from", "up here"), (61.0, 25.0),
            across="right", direction=270.0, part=0.3,
        ),
        *reading((spot[0], _FLOOR_Y), spot, ("top to", "its middle"), (38.0, 27.5),
                 across="right", offset=-6.0),
    )  # fmt: skip


def oblong(
    middle: Point, half: tuple[float, float], layer: str, fill: Ink | None, pen: Pen, corner: float
) -> Path:
    """Return an oblong with rounded corners.

    :param half: half its width and half its height, paper mm.
    :param corner: radius of its corners, paper mm; less than either half.
    """
    (x, y), (w, h) = middle, half
    ring: list[Point] = []
    for way, up in ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)):
        side, end = (x + way * w, y + up * (h - corner)), (x + way * (w - corner), y + up * h)
        ring += [side, end] if way == up else [end, side]
    bulges = (_QUARTER, 0.0) * 4
    return Path(tuple(ring), layer, pen=pen, closed=True, fill=fill, bulges=bulges)


def opening_size(*, across: bool) -> Items:
    """Return: a tape over an opening, across or up and down, from edge to edge."""
    (x, y), (w, h), corner = (_MIDDLE, 24.0), (15.5, 9.0), 4.0
    sheet = ((4.0, 4.0), (76.0, 4.0), (76.0, 44.0), (4.0, 44.0))
    common: Items = (
        shape(sheet, "TRANSOM", pen=None),
        line(((4.0, 44.0), (76.0, 44.0)), "TRANSOM", EDGE_QUIET),
        *note((_MIDDLE, 47.6), "transom top", across="centre"),
        oblong((x, y), (w, h), "EXISTING", Ink.PAPER, EDGE_QUIET, corner),
    )
    if across:
        top = y + h - corner
        return (
            *common,
            *tape((x - w, y), (x + w, y)),
            *note((_MIDDLE, 8.5), "round: its diameter", across="centre"),
            *reading((x - w, top), (x + w, top), "edge to edge", (_MIDDLE, 40.4),
                     across="centre", offset=corner + 3.0),
        )  # fmt: skip
    side = x + w - corner
    return (
        *common,
        *tape((x, y + h), (x, y - h)),
        *note((_MIDDLE, 8.5), "round: leave this empty", across="centre"),
        *reading((side, y + h), (side, y - h), ("edge", "to edge"), (61.0, y),
                 offset=corner + 3.5),
    )  # fmt: skip


_KNEE = (_MIDDLE - 22.0, 14.0, _MIDDLE - 11.0, 27.0)  # left, low, right, high


def _place(left: float, low: float, right: float, high: float) -> Path:
    """Return a place inside, dashed because the transom hides it."""
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Path(corners, "OBSTACLE", pen=DASHED_QUIET, closed=True, fill=Ink.COWL)


def no_go_across(*, start: bool) -> Items:
    """Return: from the centreline to the port or the starboard edge of a place inside."""
    left, _low, right, _high = _KNEE
    y = 22.0
    edge = left if start else right
    words = ("to its", "port edge" if start else "starboard edge")
    side = (_MIDDLE - _edge_x(y), y)
    return (
        *_face(),
        _place(*_KNEE),
        *_centreline(sides=False),
        *note((4.0, 6.0), ("dashed:", "knee inside")),
        *note((76.0, 6.0), ("− port", "+ starboard"), across="right"),
        *wrong(side, (edge, y), ("not from", "the side"), (15.5, 32.5), across="centre",
               part=0.5 if start else 0.24),
        *reading((_MIDDLE, y), (edge, y), words, (42.5, y)),
    )  # fmt: skip


def no_go_below(*, start: bool) -> Items:
    """Return: from the transom top down to the upper or the lower edge of a place inside."""
    left, low, right, high = _KNEE
    x = (left + right) / 2.0
    words = ("top to", "upper edge" if start else "lower edge")
    end, at = (high, (30.5, 31.2)) if start else (low, (31.5, 20.5))
    level = ((_MIDDLE - _NOTCH + 1.3, _FLOOR_Y), (x - 8.0, _FLOOR_Y))
    return (
        *_face(),
        _place(*_KNEE),
        *_top(),
        line(level, "DATUM", DASHED_QUIET),
        *note((4.0, 6.0), ("dashed:", "knee inside")),
        *reading((x, _FLOOR_Y), (x, end), words, at),
    )


def corner_radius() -> Items:
    """Return: from where the curve begins to the corner the straight edges would make."""
    left, low, right, high, radius = 14.0, 4.0, 60.0, 39.0, 18.0
    top, side = (right - radius, high), (right, high - radius)
    ring = ((left, low), (right, low), side, top, (left, high))
    bulges = (0.0, 0.0, _QUARTER, 0.0, 0.0)
    edges = ((left, low), (left, high), top, side, (right, low))
    return (
        Path(ring, "OBSTACLE", pen=None, closed=True, fill=Ink.COWL, bulges=bulges),
        Path(edges, "OBSTACLE", pen=EDGE_QUIET, bulges=(0.0, 0.0, -bulges[2], 0.0, 0.0)),
        line((top, (right, high), side), "OBSTACLE", DASHED_QUIET),
        zigzag((left - 1.5, low), (right + 1.5, low), "OBSTACLE"),
        *note((17.0, 10.0), ("well floor or knee,", "upper corner")),
        *wrong(top, side, ("not across", "the curve"), (46.0, 26.0), across="right"),
        *reading(top, (right, high), ("curve’s start", "to corner"), (37.0, 48.0), across="right",
                 offset=7.0),
    )  # fmt: skip


def _outboard(view: View) -> Items:
    """Return an engine from astern; the view's origin is the middle of its plate."""

    def part(half: tuple[Point, ...]) -> tuple[Point, ...]:
        return view.all((*half, *((-x, y) for x, y in reversed(half))))

    scale = view.scale
    hood = softened(part(((6.5, 21.5), (8.5, 23.5), (8.5, 30.0), (7.0, 35.5))))
    return (
        shape(part(((2.4, 22.0), (2.0, 0.0))), "ENGINE", Ink.ENGINE),
        shape(part(((6.5, 0.4), (6.5, -0.4))), "PLATE", Ink.MUTED),
        Disc(view.at(0.0, -4.8), 5.0 / scale, "ENGINE", FAINT, Ink.ENGINE),
        Disc(view.at(0.0, -4.8), 1.8 / scale, "ENGINE", QUIET, Ink.COWL),
        shape(hood, "ENGINE", Ink.COWL),
        line(view.all(((0.0, -11.0), (0.0, 37.5))), "CENTRELINES", CENTRE_QUIET),
    )


def twin_spacing() -> Items:
    """Return: between the centrelines of two engines, not the gap between them."""
    reach, plate = 15.0, 15.0
    left, right = _MIDDLE - reach, _MIDDLE + reach
    cowl = 8.5 / 1.15
    return (
        *_face(27.0, 29.0, 10.0),
        *_outboard(View(1.15, (left, plate))),
        *_outboard(View(1.15, (right, plate))),
        *wrong(
            (left + cowl, 40.0), (right - cowl, 40.0), ("not the", "gap"), (_MIDDLE, 48.5),
            across="centre",
        ),
        *reading((left, 26.0), (right, 26.0), ("centre", "to centre"), (_MIDDLE, 20.2),
                 across="centre"),
    )  # fmt: skip


_KICKER = _MIDDLE + 19.0


def kicker_across() -> Items:
    """Return: from the boat's centreline to the kicker's middle, not from the side."""
    y = 24.5
    side = _MIDDLE + _RAIL - 1.0
    return (
        *_face(27.0, 29.0, 10.0),
        *_outboard(View(1.05, (_MIDDLE, 14.0))),
        *_outboard(View(1.7, (_KICKER, 17.5))),
        *note((_MIDDLE, 52.6), "centreline", across="centre"),
        *wrong((side, y), (_KICKER, y), ("not from", "the side"), (68.5, 9.0), across="centre"),
        *reading((_MIDDLE, y), (_KICKER, y), "+ starboard", (36.5, y), across="right"),
    )  # fmt: skip


def kicker_upper_holes() -> Items:
    """Return: from the transom top down to the kicker's upper holes, not from its bracket."""
    top, row, x = 36.0, 23.5, 36.0
    left, right = x - 8.0, x + 8.0
    sheet = ((4.0, 5.0), (76.0, 5.0), (76.0, top), (4.0, top))
    leg = ((x - 4.0, 52.0), (x - 4.0, 42.0), (x + 4.0, 42.0), (x + 4.0, 52.0))
    return (
        shape(sheet, "TRANSOM", pen=None),
        line(((4.0, top), (76.0, top)), "TRANSOM", EDGE_QUIET),
        *(zigzag((end, 5.0), (end, top + 1.0), "TRANSOM") for end in (4.0, 76.0)),
        zigzag((4.0, 5.0), (76.0, 5.0), "TRANSOM"),
        shape(leg, "ENGINE", Ink.ENGINE, pen=None),
        line(leg[:2], "ENGINE"),
        line(leg[2:], "ENGINE"),
        zigzag((x - 5.5, 52.0), (x + 5.5, 52.0), "ENGINE"),
        oblong((x, 25.5), (12.0, 16.5), "BRACKET", Ink.ENGINE, QUIET, 2.0),
        *(item for way in (left, right) for y in (row, 13.5)
          for item in hole((way, y), 1.5, layer="DRILL")),
        *note((76.0, 39.5), "transom top", across="right"),
        *note((x - 7.0, 48.0), "kicker", across="right"),
        *wrong(
            (x + 12.0, 42.0), (right, row), ("not from", "its bracket"), (57.0, 30.0),
            offset=-5.5, direction=90.0,
        ),
        *reading(
            (left, top), (left, row), ("top to", "holes"), (17.0, 29.8), across="right",
            offset=-9.0,
        ),
    )  # fmt: skip
