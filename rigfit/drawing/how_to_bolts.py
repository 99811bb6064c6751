"""How-to pictures of bolts and backing, of the printer's check bars, and of the dash."""

from __future__ import annotations

from typing import TypeAlias

from rigfit.drawing.how_to_face import oblong
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    EDGE_QUIET,
    FAINT,
    QUIET,
    Items,
    box,
    hole,
    line,
    moved,
    note,
    reading,
    shape,
    tape,
    wrong,
    zigzag,
)
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Point

_AXIS_Y = 27.0


def _hexagon(left: float, right: float, half: float, y: float = _AXIS_Y) -> Items:
    """Return a bolt head or a nut from the side, with two of its edges."""
    return (
        box(left, y - half, right, y + half, "TRANSOM", Ink.PAPER),
        *(
            line(((left, y + way * half / 2.0), (right, y + way * half / 2.0)), "TRANSOM", FAINT)
            for way in (-1.0, 1.0)
        ),
    )


def _thread(left: float, right: float, half: float, y: float = _AXIS_Y) -> Items:
    """Return the threaded end of a bolt, its tip to the left."""
    tip = 0.35 * half
    ring = (
        (right, y - half), (left + tip, y - half), (left, y - half + tip),
        (left, y + half - tip), (left + tip, y + half), (right, y + half),
    )  # fmt: skip
    depth = 0.22 * half
    return (
        shape(ring, "TRANSOM", Ink.PAPER),
        *(
            line(((left, y + way * (half - depth)), (right, y + way * (half - depth))), "TRANSOM",
                 FAINT)
            for way in (-1.0, 1.0)
        ),
    )  # fmt: skip


def length() -> Items:
    """Return: a bolt in hand, from under its head to its end."""
    half, end, head, top = 4.0, 10.0, 60.0, 68.0
    y = _AXIS_Y + 2.0
    return (
        *_thread(end, head - 20.0, half, y),
        box(head - 20.0, y - half, head, y + half, "TRANSOM", Ink.PAPER),
        *_hexagon(head, top, 8.0, y),
        line(((end - 4.0, y), (top + 4.0, y)), "CENTRELINES", CENTRE_QUIET),
        *tape((head, y - half - 3.0), (end, y - half - 3.0), width=3.0),
        *wrong(
            (end, y + half), (top, y + 8.0), "not with the head", (39.0, 50.0), across="centre",
            offset=5.5, direction=0.0, part=0.25,
        ),
        *reading(
            (end, y - half), (head, y - half), "under head to end", (35.0, 6.5),
            across="centre", offset=-12.5,
        ),
    )  # fmt: skip


_INNER, _OUTER = 30.0, 46.0  # faces of the transom
_PLATE, _FLANGE = _INNER - 7.0, _OUTER + 9.0
_PLATE_HALF, _FLANGE_HALF = 13.0, 14.0
_LOW, _HIGH = 4.5, 49.5


def _section() -> Items:
    """Return a section through the transom at one bolt: plate inside, bracket outside."""
    y, half = _AXIS_Y, 2.6
    wall = ((_INNER, _LOW), (_OUTER, _LOW), (_OUTER, _HIGH), (_INNER, _HIGH))
    return (
        shape(wall, "TRANSOM", Ink.COWL, pen=None),
        *(line(((x, _LOW), (x, _HIGH)), "TRANSOM", EDGE_QUIET) for x in (_INNER, _OUTER)),
        *(zigzag((_INNER - 1.5, end), (_OUTER + 1.5, end), "TRANSOM") for end in (_LOW, _HIGH)),
        box(_OUTER, y - _FLANGE_HALF, _FLANGE, y + _FLANGE_HALF, "BRACKET", Ink.ENGINE),
        box(_PLATE, y - _PLATE_HALF, _INNER, y + _PLATE_HALF, "PLATE", Ink.RESERVE),
        box(_PLATE, y - half, _FLANGE, y + half, "TRANSOM", Ink.PAPER),
        box(_FLANGE, y - 6.5, _FLANGE + 1.8, y + 6.5, "TRANSOM", Ink.PAPER),
        *_hexagon(_FLANGE + 1.8, _FLANGE + 6.3, 4.6),
        *_thread(_PLATE - 10.5, _PLATE - 1.8, half),
        box(_PLATE - 1.8, y - 6.5, _PLATE, y + 6.5, "TRANSOM", Ink.PAPER),
        *_hexagon(_PLATE - 7.3, _PLATE - 1.8, 4.6),
        line(((_PLATE - 14.0, y), (_FLANGE + 10.0, y)), "CENTRELINES", CENTRE_QUIET),
    )


def flange() -> Items:
    """Return: the engine's clamp bracket at the bolts, without the transom it sits on."""
    high, low = _AXIS_Y + _FLANGE_HALF, _AXIS_Y - _FLANGE_HALF
    return (
        *_section(),
        *note((14.0, 48.0), "inside", across="centre"),
        *note((58.5, 36.0), ("engine’s", "bracket")),
        *wrong((_INNER, low), (_FLANGE, low), ("not with", "the transom"), (58.0, 9.0),
               offset=-4.0, part=0.36),
        *reading((_OUTER, high), (_FLANGE, high), ("bracket", "only"), (58.0, 46.5), offset=4.5),
    )  # fmt: skip


def plate_thickness() -> Items:
    """Return: the backing plate alone, without washer and transom."""
    high, low = _AXIS_Y + _PLATE_HALF, _AXIS_Y - _PLATE_HALF
    return (
        *_section(),
        *note((20.0, 37.0), ("backing", "plate"), across="right"),
        *note((66.0, 48.0), "outside", across="centre"),
        *wrong((_PLATE - 1.8, low + 2.0), (_INNER, low), ("not with", "the washer"), (10.4, 8.5),
               across="centre", offset=-5.0, direction=0.0),
        *reading((_PLATE, high), (_INNER, high), ("plate", "only"), (19.5, 46.8), across="right",
                 offset=4.5),
    )  # fmt: skip


def plate_size(*, across: bool) -> Items:
    """Return: a backing plate from inside, across or up and down."""
    left, low, right, high = (18.0, 15.0, 62.0, 30.0) if across else (9.0, 15.0, 53.0, 30.0)
    top, middle = 44.0, (left + right) / 2.0
    sheet = ((4.0, 4.0), (76.0, 4.0), (76.0, top), (4.0, top))
    items: list[Item] = [
        shape(sheet, "TRANSOM", pen=None),
        line(((4.0, top), (76.0, top)), "TRANSOM", EDGE_QUIET),
        *note((40.0, 49.0), "transom from inside", across="centre"),
        box(left, low, right, high, "PLATE", Ink.RESERVE),
        *note((middle, 9.5), "backing plate", across="centre"),
    ]
    for way in (-1.0, 1.0):
        items += _nut((middle + way * 15.0, (low + high) / 2.0))
    if across:
        ends = (left, high), (right, high)
        return *items, *reading(*ends, "across", (middle, 39.2), across="centre", offset=5.0)
    ends = (right, high), (right, low)
    return *items, *reading(*ends, ("up and", "down"), (60.0, 22.5), offset=4.5)


def _nut(at: Point) -> Items:
    """Return a nut on its washer, seen along the bolt."""
    ring = [moved(at, 60.0 * corner, 2.6) for corner in range(6)]
    return (
        Disc(at, 4.2, "TRANSOM", fill=Ink.PAPER),
        shape(ring, "TRANSOM", Ink.PAPER),
        *hole(at, 1.3, mark=False, layer="TRANSOM"),
    )


def printer_bar(*, across: bool) -> Items:
    """Return: a steel rule on the printed sheet, from tick to tick of one check bar."""
    left, low, right, high = 20.0, 2.5, 60.0, 53.5
    page = ((left, low), (right, low), (right, high), (left, high))
    level = ((left + 10.0, low + 7.0), (right - 4.0, low + 7.0))
    upright = ((left + 6.0, low + 11.0), (left + 6.0, low + 41.0))
    axis, top = (left + right) / 2.0 + 3.0, high - 6.0
    items: list[Item] = [
        shape(page, "SHEET", Ink.PAPER),
        line(((axis - 13.0, top), (axis + 13.0, top)), "TRANSOM", EDGE_QUIET),
        line(((axis, top + 3.0), (axis, low + 25.0)), "CENTRELINES", CENTRE_QUIET),
        *_ticked(*level, (0.0, 1.5)),
        *_ticked(*upright, (1.5, 0.0)),
        *note((63.0, 48.0), ("printed", "sheet")),
    ]
    for way in (-1.0, 1.0):
        items += hole((axis + way * 8.0, top - 8.0), 1.7, layer="DRILL")
    if across:
        return (
            *items,
            *tape(level[1], level[0], width=3.4),
            *note((63.0, 8.0), ("steel", "rule")),
            *reading(*level, "tick to tick", (43.0, 20.0), across="centre", offset=6.0),
        )
    return (
        *items,
        *tape(*upright, width=3.4),
        *note((17.0, 28.5), ("steel", "rule"), across="right"),
        *reading(*upright, ("tick", "to tick"), (34.0, 20.5), offset=-5.5),
    )


def _ticked(start: Point, end: Point, reach: Point) -> tuple[Path, ...]:
    (dx, dy) = reach
    return (
        line((start, end), "PROOFBAR", EDGE_QUIET),
        *(line(((x - dx, y - dy), (x + dx, y + dy)), "PROOFBAR") for x, y in (start, end)),
    )


_DASH = (3.0, 12.0, 77.0, 42.0)


def _dash() -> Items:
    """Return the left part of a dash from the front."""
    left, low, right, high = _DASH
    face = ((left, low), (right, low), (right, high), (left, high))
    return (
        shape(face, "HULL", pen=None),
        line(((right, high), (left, high), (left, low), (right, low)), "HULL", EDGE_QUIET),
        zigzag((right, low - 1.5), (right, high + 1.5), "HULL"),
    )


def dash_place(*, across: bool) -> Items:
    """Return: from the left or the upper edge of the dash to the middle of an opening."""
    left, low, _right, high = _DASH
    (x, y), radius = (40.0, 26.0), 7.0
    items = (
        *_dash(),
        *hole((62.0, y), 4.5),
        *hole((x, y), radius),
        *note((left, low - 4.5), "dash from in front"),
    )
    if across:
        return (
            *items,
            *wrong((left, y), (x - radius, y), ("not to", "its edge"), (19.0, 18.5),
                   across="centre"),
            *reading((left, high), (x, y), "edge to middle", (22.5, 52.0), across="centre",
                     offset=5.0, direction=0.0),
        )  # fmt: skip
    return (
        *items,
        *wrong((x, high), (x, y + radius), ("not to", "its edge"), (44.0, 37.0)),
        *reading((x, high), (x, y), ("edge to", "middle"), (25.0, 33.5), across="right",
                 offset=-12.5, direction=270.0),
    )  # fmt: skip


_INSTRUMENT: Point = (40.0, 27.0)
_RIM, _BODY, _GLASS = (15.0, 11.5), (11.0, 7.5), (12.8, 9.3)
_CORNER = 2.5

_Size: TypeAlias = tuple[tuple[float, float], str]


def _rounded(half: tuple[float, float], fill: Ink | None, pen: Pen = QUIET) -> Path:
    return oblong(_INSTRUMENT, half, "EXISTING", fill, pen, _CORNER)


def _one_size(right: _Size, other: _Size, *, across: bool) -> Items:
    """Return the size to read, and another of the same instrument crossed out.

    :param right: half width and half height to read, and what they are of.
    :param other: the same of what not to read.
    """
    (x, y), (w, h) = _INSTRUMENT, _RIM
    (rw, rh), (ow, oh) = right[0], other[0]
    words = ("not the", other[1])
    if across:
        high, low = y + rh - _CORNER, y - oh + _CORNER
        return (
            *note((75.0, 7.5), ("round:", "diameter"), across="right"),
            *wrong((x - ow, low), (x + ow, low), words, (20.0, 7.5), across="right",
                   offset=y - h - 8.0 - low),
            *reading((x - rw, high), (x + rw, high), f"the {right[1]}", (x, 49.8),
                     across="centre", offset=y + h + 7.0 - high),
        )  # fmt: skip
    far, near = x + rw - _CORNER, x - ow + _CORNER
    return (
        *note((x, 6.0), "round: leave this empty", across="centre"),
        *wrong((near, y + oh), (near, y - oh), words, (17.3, y), across="right",
               offset=x - w - 4.5 - near),
        *reading((far, y + rh), (far, y - rh), ("the", right[1]), (61.0, y),
                 offset=x + w + 4.0 - far),
    )  # fmt: skip


def old_opening(*, across: bool) -> Items:
    """Return: the hole in the dash itself, not the rim that covered its edge."""
    return (
        *_dash(),
        _rounded(_BODY, Ink.PAPER, EDGE_QUIET),
        _rounded(_RIM, None, DASHED_QUIET),
        *_one_size((_BODY, "hole"), (_RIM, "old rim"), across=across),
    )


def new_opening(*, across: bool) -> Items:
    """Return: the opening on the maker's sheet of the new instrument, not its rim."""
    return (
        box(2.5, 2.5, 77.5, 53.5, "NOTES", Ink.HULL),
        *note((5.5, 47.5), ("maker’s", "sheet")),
        _rounded(_RIM, None),
        _rounded(_BODY, Ink.PAPER, EDGE_QUIET),
        *_one_size((_BODY, "opening"), (_RIM, "rim"), across=across),
    )


def rim(*, across: bool) -> Items:
    """Return: the rim of the new instrument, not the body that goes into the dash."""
    x, y = _INSTRUMENT
    return (
        _rounded(_RIM, Ink.COWL, EDGE_QUIET),
        _rounded(_GLASS, Ink.PAPER),
        _rounded(_BODY, None, DASHED_QUIET),
        line(((x, y - 4.0), (x + 5.0, y + 4.0)), "EXISTING", EDGE_QUIET),
        Disc((x, y - 4.0), 1.2, "EXISTING", fill=Ink.COWL, pen=QUIET),
        *note((3.0, 47.5), ("new", "instrument")),
        *_one_size((_RIM, "rim"), (_BODY, "body"), across=across),
    )
