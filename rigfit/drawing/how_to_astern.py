"""How-to pictures from astern, port to the left: transom, holes and the engine's bracket."""

from __future__ import annotations

from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    EDGE_QUIET,
    FAINT,
    Items,
    box,
    hole,
    level,
    line,
    moved,
    note,
    reading,
    reading_angle,
    shape,
    tape,
    wrong,
    zigzag,
)
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Point
from rigfit.rigging.outline import softened

_MIDDLE = 40.0


def _mirrored(half: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return an outline from its starboard half, listed from the centreline outwards."""
    return half + tuple((2.0 * _MIDDLE - x, y) for x, y in reversed(half))


def _boat(keel_y: float, rise_deg: float, notch: tuple[float, float, float]) -> Items:
    """Return a boat from astern.

    :param notch: half width of the motor notch, its floor and the height of the gunwales.
    """
    half, floor, rail = notch
    chine = moved((_MIDDLE, keel_y), rise_deg, 27.0)
    right = (
        (_MIDDLE, floor), (_MIDDLE + half, floor), (_MIDDLE + half + 1.4, floor + 0.6),
        (_MIDDLE + half + 2.0, floor + 2.0), (_MIDDLE + half + 3.2, rail), (72.0, rail),
        (70.5, rail - 9.0), chine, (_MIDDLE, keel_y),
    )  # fmt: skip
    return (shape(_mirrored(right), "TRANSOM", Ink.HULL, Pen(0.35, ink=Ink.MUTED)),)


def deadrise() -> Items:
    """Return: a level on the bottom, seen from astern, against level."""
    apex, rise = (_MIDDLE, 14.0), 18.0
    flat = ((_MIDDLE, apex[1]), (77.0, apex[1]))
    return (
        *_boat(apex[1], rise, (13.0, 36.0, 47.0)),
        line(flat, "DATUM", DASHED_QUIET),
        *level(moved(apex, 180.0 - rise, 14.0), -rise + 180.0, "18.0°"),
        *note((77.0, 17.0), "level", across="right"),
        *note((_MIDDLE, 52.0), "seen from astern", across="centre"),
        *reading_angle(apex, 23.0, 0.0, rise, "deadrise", (51.0, 8.5)),
    )


def width_at_top() -> Items:
    """Return: the flat where the engine sits, not the whole width of the boat."""
    half, floor = 15.0, 33.0
    left, right = (_MIDDLE - half, floor), (_MIDDLE + half, floor)
    return (
        *_boat(5.0, 16.0, (half, floor, 44.0)),
        *tape(left, right),
        *wrong(
            (8.0, 44.0),
            (72.0, 44.0),
            "not the whole boat",
            (_MIDDLE, 53.4),
            across="centre",
            offset=3.8,
            part=0.2,
        ),
        *reading(left, right, "flat part only", (_MIDDLE, 21.5), across="centre", offset=-6.5),
    )


_TOP_Y = 44.0


def _transom(*, sides: bool = True) -> Items:
    """Return the middle of the transom from astern: its top edge, the centreline, the rest cut."""
    left, right, low = 4.0, 76.0, 5.0
    items: Items = (
        shape(((left, low), (right, low), (right, _TOP_Y), (left, _TOP_Y)), "TRANSOM", pen=None),
        line(((left, _TOP_Y), (right, _TOP_Y)), "TRANSOM", EDGE_QUIET),
        zigzag((left, low), (left, _TOP_Y + 1.0), "TRANSOM"),
        zigzag((right, low), (right, _TOP_Y + 1.0), "TRANSOM"),
        zigzag((left, low), (right, low), "TRANSOM"),
        line(((_MIDDLE, 3.0), (_MIDDLE, 49.5)), "CENTRELINES", CENTRE_QUIET),
        *note((_MIDDLE, 52.3), "centreline", across="centre"),
    )
    if not sides:
        return items
    return (
        *items,
        *note((6.5, 9.0), "port"),
        *note((73.5, 9.0), "starboard", across="right"),
    )


_UPPER, _LOWER = 20.4, 15.7  # half the spacing of a usual pattern, 1:8
_ROW_Y = (_TOP_Y - 14.0, _TOP_Y - 33.0)
_HOLE_MM = 1.7


def _four_holes() -> Items:
    items: list[Item] = []
    for reach, y in ((_UPPER, _ROW_Y[0]), (_LOWER, _ROW_Y[1])):
        for side in (-1.0, 1.0):
            items += hole((_MIDDLE + side * reach, y), _HOLE_MM)
    return tuple(items)


def hole_across() -> Items:
    """Return: from the centreline to the middle of a hole."""
    centre = (_MIDDLE + 20.0, 24.0)
    return (
        *_transom(),
        *hole(centre, 3.0),
        *reading((_MIDDLE, centre[1]), centre, ("+ starboard", "− port"), (43.0, 36.5), offset=6.5),
    )


def hole_below_top() -> Items:
    """Return: from the transom top down the face to the middle of a hole."""
    centre = (_MIDDLE + 5.5, 22.0)
    return (
        *_transom(),
        *hole(centre, 3.0),
        *note((62.0, 48.0), "transom top", across="centre"),
        *reading((centre[0], _TOP_Y), centre, ("top to", "hole centre"), (53.0, 34.0), offset=5.5),
    )


def hole_diameter() -> Items:
    """Return: a caliper's inner jaws across a hole."""
    centre, radius = (_MIDDLE, 22.0), 11.0
    x, y = centre
    left, right = x - radius, x + radius

    def jaw(edge: float, way: float) -> Path:
        # The edge that touches is straight; the jaw tapers on the side away from it.
        far, tip = edge + way * 7.0, edge + way * 1.5
        corners = ((edge, y - 2.5), (edge, 43.5), (far, 43.5), (far, 37.0), (tip, 28.0),
                   (tip, y - 2.5))  # fmt: skip
        return shape(corners, "DATUM", Ink.RESERVE)

    return (
        shape(((4.0, 5.0), (76.0, 5.0), (76.0, 39.0), (4.0, 39.0)), "TRANSOM", pen=None),
        Disc(centre, radius, "EXISTING", pen=EDGE_QUIET, fill=Ink.PAPER),
        jaw(left, 1.0),
        jaw(right, -1.0),
        *tape((12.0, 42.0), (72.0, 42.0), width=4.0),
        *note((_MIDDLE, 51.0), "caliper", across="centre"),
        *reading((left, y), (right, y), "across", (x, 14.5), across="centre", offset=-4.5),
    )


def upper_holes_below_top() -> Items:
    """Return: from the transom top down to the upper pair of bolt holes."""
    x = _MIDDLE - _UPPER
    return (
        *_transom(sides=False),
        *_four_holes(),
        *note((64.0, 48.0), "transom top", across="centre"),
        *reading(
            (x, _TOP_Y), (x, _ROW_Y[0]), ("top to", "upper pair"), (16.0, 38.8),
            offset=-6.5,
        ),
    )  # fmt: skip


def bracket_engine_holes() -> Items:
    """Return: from a setback bracket's top edge down to its own upper holes for the engine."""
    y = 30.0
    holes = [(_MIDDLE + side * _UPPER, y) for side in (-1.0, 1.0)]
    return (
        shape(((4.0, 5.0), (76.0, 5.0), (76.0, 38.0), (4.0, 38.0)), "TRANSOM", pen=None),
        line(((4.0, 38.0), (76.0, 38.0)), "TRANSOM"),
        box(13.0, 8.0, 67.0, _TOP_Y, "BRACKET", Ink.COWL),
        line(((_MIDDLE, 3.0), (_MIDDLE, 49.5)), "CENTRELINES", CENTRE_QUIET),
        *(item for centre in holes for item in hole(centre, _HOLE_MM)),
        *note((_MIDDLE, 52.3), "centreline", across="centre"),
        *note((16.0, 12.0), "bracket"),
        *reading(
            (holes[1][0], _TOP_Y), holes[1], ("top to", "holes"), (55.5, 38.0), across="right",
            offset=-2.6,
        ),
    )  # fmt: skip


def off_centre() -> Items:
    """Return: the engine's own middle to starboard of the boat's centreline."""
    x = _MIDDLE + 15.0
    hood = softened(
        (
            (x - 6.5, 35.5), (x - 8.5, 37.5), (x - 8.5, 44.0), (x - 7.0, 49.5),
            (x + 7.0, 49.5), (x + 8.5, 44.0), (x + 8.5, 37.5), (x + 6.5, 35.5),
        )
    )  # fmt: skip
    return (
        *_boat(11.0, 14.0, (22.0, 30.0, 38.0)),
        line(((_MIDDLE, 4.0), (_MIDDLE, 49.0)), "CENTRELINES", CENTRE_QUIET),
        shape(((x - 2.0, 14.0), (x + 2.0, 14.0), (x + 2.4, 36.0), (x - 2.4, 36.0)), "ENGINE",
              Ink.ENGINE),
        shape(((x - 6.5, 13.4), (x + 6.5, 13.4), (x + 6.5, 14.2), (x - 6.5, 14.2)), "PLATE",
              Ink.MUTED),
        Disc((x, 9.0), 5.4, "ENGINE", FAINT, Ink.ENGINE),
        Disc((x, 9.0), 1.9, "ENGINE", fill=Ink.COWL, pen=Pen(0.25, ink=Ink.MUTED)),
        shape(hood, "ENGINE", Ink.COWL),
        line(((x, 2.5), (x, 52.0)), "CENTRELINES", CENTRE_QUIET),
        *note((_MIDDLE, 52.3), "centreline", across="centre"),
        *reading((_MIDDLE, 23.0), (x, 23.0), "+ starboard", (37.0, 23.0), across="right"),
    )  # fmt: skip


_SEAT_Y = 47.0
_FIRST_Y, _PITCH = 39.5, 2.9  # 1:7 or so
_DROP = 24.0


def _bracket(middle: float = _MIDDLE) -> Items:
    """Return the engine's clamp bracket from astern: two cheeks under a hook, with their holes."""
    items: list[Item] = []
    for side in (-1.0, 1.0):
        upper, lower = middle + side * _UPPER, middle + side * _LOWER
        cheek = (
            (upper + side * 4.5, 50.0),
            (upper + side * 4.5, 27.0),
            (lower + side * 4.5, 18.0),
            (lower + side * 4.5, 4.0),
            (lower - side * 4.5, 4.0),
            (lower - side * 4.5, 50.0),
        )
        items.append(shape(cheek, "BRACKET", Ink.ENGINE))
        for row in range(4):
            items += hole((upper, _FIRST_Y - row * _PITCH), 1.0, mark=False, layer="DRILL")
            items += hole((lower, _FIRST_Y - _DROP - row * _PITCH), 1.0, mark=False, layer="DRILL")
    items.append(box(middle - 13.0, 44.0, middle + 13.0, 51.0, "BRACKET", Ink.COWL))
    return *items, *note((middle, 6.5), "from astern", across="centre")


def spacing(*, upper: bool) -> Items:
    """Return: the upper or the lower pair of bracket holes, centre to centre across."""
    reach, y = (_UPPER, _FIRST_Y) if upper else (_LOWER, _FIRST_Y - _DROP)
    return (
        *_bracket(),
        *reading(
            (_MIDDLE - reach, y), (_MIDDLE + reach, y), ("centre", "to centre"),
            (_MIDDLE, y - 6.5 if upper else y + 6.5), across="centre",
        ),
    )  # fmt: skip


def upper_to_lower() -> Items:
    """Return: from the uppermost upper hole down to the uppermost lower one."""
    middle = 28.0
    high, low = (middle + _UPPER, _FIRST_Y), (middle + _LOWER, _FIRST_Y - _DROP)
    return (
        *_bracket(middle),
        *reading(high, low, ("topmost to", "topmost"), (58.5, 27.5), direction=270.0, offset=7.5),
    )


def _cheek() -> Items:
    """Return one cheek of the bracket close up, its hook over the seat."""
    x = 30.0
    cheek = ((x - 9.0, 46.0), (x + 9.0, 46.0), (x + 9.0, 4.0), (x - 9.0, 4.0))
    items: list[Item] = [
        shape(cheek, "BRACKET", Ink.ENGINE),
        box(x - 11.0, 44.0, x + 11.0, 51.0, "BRACKET", Ink.COWL),
        line(((x - 24.0, 44.0), (x + 20.0, 44.0)), "BRACKET", DASHED_QUIET),
        zigzag((x - 10.0, 4.0), (x + 10.0, 4.0), "BRACKET"),
    ]
    for row in range(4):
        items += hole((x, 29.5 - 6.5 * row), 2.2, layer="DRILL")
    return tuple(items)


def first_row() -> Items:
    """Return: from the seat to the middle of the uppermost hole."""
    return (
        *_cheek(),
        *note((7.0, 47.0), "seat"),
        *reading((30.0, 44.0), (30.0, 29.5), ("seat to", "first hole"), (50.0, 36.5), offset=16.0),
    )


def row_pitch() -> Items:
    """Return: over several holes, then divided."""
    return (
        *_cheek(),
        *note((7.0, 47.0), "seat"),
        *reading((30.0, 29.5), (30.0, 10.0), ("three steps", "÷ 3"), (50.0, 20.0), offset=16.0),
    )
