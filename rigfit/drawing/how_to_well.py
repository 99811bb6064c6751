"""How-to pictures of the motor well, of obstacles round the engine, and of the trailer.

From the side the bow is to the left, from above it is up. All starts at the transom's upper outer
edge: ahead of it and above it, level with the keel line, and across from the centreline.
"""

from __future__ import annotations

import math

from rigfit.drawing.how_to_engine import SIZES, engine
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    EDGE_QUIET,
    FAINT,
    QUIET,
    Items,
    View,
    bar,
    box,
    line,
    moved,
    note,
    reading,
    reading_angle,
    shape,
    wrong,
    zigzag,
)
from rigfit.drawing.how_to_side import LEFT_MM, Stern
from rigfit.drawing.how_to_swing import tilted
from rigfit.drawing.scene import Disc, Ink, Path
from rigfit.rigging.outline import softened

_SCALE = 20.0
_QUARTER = math.tan(math.pi / 8.0)  # bulge of a quarter of a circle


def _engine_on(stern: Stern, low: float) -> Items:
    """Return the upper part of an engine, its seat on the transom top, its leg broken off."""
    view = View(stern.scale, stern.top)
    middle, half = view.at(SIZES.leg_aft, 0.0)[0], SIZES.leg_breadth / stern.scale / 2.0
    return (
        box(middle - half, low, middle + half, stern.top[1] + 3.0, "ENGINE", Ink.ENGINE),
        zigzag((middle - half - 1.5, low), (middle + half + 1.5, low), "ENGINE"),
        *engine(view, ("swivel", "pan", "cowl", "stripe")),
    )


_WELL = Stern.under((51.0, 30.0), _SCALE)
_WALL_X, _WALL_Y, _FLOOR_Y, _SHELL = 25.0, 38.0, 17.0, 2.0


def _inside(y: float) -> float:
    """Return where the transom's inside is at a height."""
    x, top = _WELL.below(0.0, -_WELL.thick)
    return x - (top - y) * math.tan(math.radians(_WELL.rake))


def _well() -> Items:
    """Return the well cut through lengthwise, with an engine on the transom."""
    outer = ((LEFT_MM, _WALL_Y), (_WALL_X, _WALL_Y), (_WALL_X, _FLOOR_Y),
             (_inside(_FLOOR_Y), _FLOOR_Y))  # fmt: skip
    under = ((_inside(_FLOOR_Y - _SHELL), _FLOOR_Y - _SHELL), (_WALL_X - _SHELL, _FLOOR_Y - _SHELL),
             (_WALL_X - _SHELL, _WALL_Y - _SHELL), (LEFT_MM, _WALL_Y - _SHELL))  # fmt: skip
    return (
        *_engine_on(_WELL, 5.0),
        *_WELL.slab(440.0),
        shape((*outer, *under), "HULL", Ink.COWL, pen=None),
        line(outer, "HULL", EDGE_QUIET),
        line(under, "HULL", FAINT),
        zigzag((LEFT_MM, _WALL_Y + 1.5), (LEFT_MM, _WALL_Y - _SHELL - 1.5), "HULL"),
    )


def _level_of_top(left: float) -> Path:
    """Return the level of the transom top, carried forward."""
    x, y = _WELL.top
    return line(((x, y), (left, y)), "DATUM", DASHED_QUIET)


def well_length() -> Items:
    """Return: from the transom's inside at its top to the front wall, not along the floor."""
    inner = _WELL.below(0.0, -_WELL.thick)
    low = _FLOOR_Y + 3.2
    return (
        *_well(),
        *note((4.0, 27.0), ("front", "wall")),
        line(((14.0, 27.0), (_WALL_X - _SHELL - 0.3, 27.0)), "NOTES", FAINT),
        *wrong((_WALL_X, low), (_inside(low), low), "not at the floor", (20.0, 10.0),
               across="centre"),
        *reading((_WALL_X, inner[1]), inner, ("wall to", "transom"), (34.0, 41.5),
                 across="centre", offset=2.8),
    )  # fmt: skip


def well_floor_below_top() -> Items:
    """Return: straight down from the level of the transom top, not along the leaning face."""
    inner, x = _WELL.below(0.0, -_WELL.thick), 28.0
    return (
        *_well(),
        _level_of_top(_WALL_X),
        *wrong(inner, (_inside(_FLOOR_Y), _FLOOR_Y), ("not along", "the face"), (31.0, 8.5),
               across="centre", offset=-4.0),
        *reading((x, inner[1]), (x, _FLOOR_Y), ("straight", "down"), (21.5, 25.0),
                 across="right"),
    )  # fmt: skip


def well_front_top() -> Items:
    """Return: a straightedge level over the transom top, then up or down to the wall's top."""
    y = _WELL.top[1]
    x = _WALL_X + 4.0
    return (
        *_well(),
        bar((_WALL_X, y), (_WELL.top[0] + 3.0, y), 1.8, Ink.RESERVE),
        *note((37.0, 24.0), "straightedge", across="centre"),
        *reading((_WALL_X, y), (_WALL_X, _WALL_Y), ("+ higher", "− lower"), (24.5, 42.6),
                 across="right", offset=x - _WALL_X, direction=270.0),
    )  # fmt: skip


_MIDDLE = 40.0


def _hood_ahead(tip: float, low: float) -> Items:
    """Return the forward part of a hood from above, broken off aft."""
    half = 13.0
    ring = softened(
        ((-half * 0.8, tip), (half * 0.8, tip), (half, tip - 8.0), (half, low), (half, low - 30.0),
         (-half, low - 30.0), (-half, low), (-half, tip - 8.0)), 3
    )  # fmt: skip
    upper = sorted((x, y) for x, y in ring if y >= low)
    edge = ((_MIDDLE - half, low), *((_MIDDLE + x, y) for x, y in upper), (_MIDDLE + half, low))
    return (
        shape(edge, "ENGINE", Ink.COWL, pen=None),
        line(edge, "ENGINE"),
        zigzag((_MIDDLE - half - 1.5, low), (_MIDDLE + half + 1.5, low), "ENGINE"),
    )


def well_width() -> Items:
    """Return: across between the side walls where they are nearest."""
    low, face, front, left, narrow = 4.0, 11.0, 42.0, 12.0, 18.0
    ledge = (22.0, 30.0)
    half = (
        (_MIDDLE, front), (left, front), (left, ledge[1]), (narrow, ledge[1]), (narrow, ledge[0]),
        (left, ledge[0]), (left, face), (_MIDDLE, face),
    )  # fmt: skip
    ring = (*half, *((2.0 * _MIDDLE - x, y) for x, y in reversed(half[1:-1])))
    return (
        box(4.0, face - 3.2, 76.0, front + 4.0, "HULL", Ink.HULL),
        shape(ring, "HULL", Ink.PAPER, EDGE_QUIET),
        *_hood_ahead(20.5, low),
        *note((4.0, 51.0), "from above"),
        *wrong(
            (left, 37.0), (2.0 * _MIDDLE - left, 37.0), "not where it is wider", (76.0, 51.0),
            across="right", part=0.2,
        ),
        *reading(
            (narrow, 26.0), (2.0 * _MIDDLE - narrow, 26.0), "nearest places", (_MIDDLE, 30.5),
            across="centre",
        ),
    )  # fmt: skip


def well_corner_radius() -> Items:
    """Return: from where the curve begins to the corner the straight walls would make."""
    left, low, right, high, radius = 8.0, 4.0, 60.0, 39.0, 18.0
    top, side = (right - radius, high), (right, high - radius)
    walls = ((left, high), top, side, (right, low))
    bulge = (0.0, -_QUARTER, 0.0, 0.0)
    return (
        box(left, low, right + 6.0, high + 6.0, "HULL", Ink.HULL),
        Path((*walls, (left, low)), "HULL", pen=None, closed=True, fill=Ink.PAPER,
             bulges=(*bulge, 0.0)),
        Path(walls, "HULL", pen=EDGE_QUIET, bulges=bulge),
        line((top, (right, high), side), "HULL", DASHED_QUIET),
        *note((12.0, 12.0), ("well from above,", "front corner")),
        *wrong(side, top, ("not across", "the curve"), (44.0, 26.0), across="right"),
        *reading((right, high), side, "corner to curve", (63.0, 47.6),
                 across="centre", offset=9.5),
    )  # fmt: skip


_DECK_Y = 4.5
_STERN = Stern.under((54.0, 24.0), _SCALE)
_SEAT_BACK = (27.0, 30.0, 34.5, 44.0)  # left, low, right, high


def _obstacle() -> Items:
    """Return an engine on the transom and a seat back ahead of it, from the side."""
    left, low, right, high = _SEAT_BACK
    middle = (left + right) / 2.0
    inner = _STERN.below(0.0, -_STERN.thick)
    return (
        *_engine_on(_STERN, 6.0),
        *_STERN.slab(350.0),
        line(((LEFT_MM, _DECK_Y), (inner[0] - 6.0, _DECK_Y)), "HULL", EDGE_QUIET),
        box(middle - 1.0, _DECK_Y, middle + 1.0, low, "OBSTACLE", Ink.HULL),
        box(left, low, right, high, "OBSTACLE", Ink.COWL),
        *note((middle, 50.0), "seat back", across="centre"),
    )


def obstacle_ahead(*, near: bool) -> Items:
    """Return: level from the transom's outer face to an end of the thing, not from inside."""
    left, low, right, _high = _SEAT_BACK
    end = right if near else left
    inner = _STERN.below(0.0, -_STERN.thick)
    words = "near end" if near else "far end"
    y = 19.0
    return (
        *_obstacle(),
        *note((4.0, 36.0), ("+ forward", "− aft")),
        *wrong(inner, (end, low), ("not from", "the inside"), (26.0, 9.3), across="right",
               offset=inner[1] - 13.5, direction=180.0, part=0.3),
        *reading(_STERN.top, (end, low), words, (43.1 if near else 45.0, 22.8), across="centre",
                 offset=_STERN.top[1] - y, direction=180.0),
    )  # fmt: skip


def obstacle_above(*, lower: bool) -> Items:
    """Return: upright from the level of the transom top to an edge, not from the deck."""
    left, low, right, high = _SEAT_BACK
    edge, y = (low if lower else high), _STERN.top[1]
    words = ("top to", "lower edge") if lower else ("top to", "upper edge")
    return (
        *_obstacle(),
        line(((_STERN.top[0], y), (18.5, y)), "DATUM", DASHED_QUIET),
        *note((4.0, y), ("+ above", "− below")),
        *wrong((right, _DECK_Y), (right, edge), ("not from", "the deck"), (28.5, 11.5),
               across="right", offset=-3.2, direction=90.0, part=0.3),
        *reading((left, y), (left, edge), words, (22.5, 36.0 if lower else 40.0),
                 across="right", offset=3.0, direction=90.0),
    )  # fmt: skip


def obstacle_across(*, port: bool) -> Items:
    """Return: from the centreline to a side of the thing, not from the side of the boat."""
    low, high, near, edges = 32.0, 39.0, 6.0, (17.0, 65.0)
    edge = edges[0] if port else edges[1]
    rim = near if port else 2.0 * _MIDDLE - near
    sheet = ((near, 49.0), (near, 12.0), (2.0 * _MIDDLE - near, 12.0), (2.0 * _MIDDLE - near, 49.0))
    side = 27.0 if port else 53.0
    return (
        shape(sheet, "HULL", pen=None),
        line(sheet, "HULL", EDGE_QUIET),
        zigzag((near - 1.5, 49.0), (2.0 * _MIDDLE - near + 1.5, 49.0), "HULL"),
        box(edges[0], low, edges[1], high, "OBSTACLE", Ink.COWL),
        *_hood_ahead(21.0, 4.0),
        line(((_MIDDLE, 47.0), (_MIDDLE, 2.5)), "CENTRELINES", CENTRE_QUIET),
        *note((_MIDDLE, 52.6), "centreline", across="centre"),
        *note((4.0, 6.5), "from above"),
        *wrong(
            (rim, low), (edge, low), ("not from", "the side"),
            (18.5, 18.5) if port else (61.5, 18.5), across="centre",
            offset=-6.5 if port else 6.5,
        ),
        *reading((_MIDDLE, high), (edge, high), "− port" if port else "+ starboard",
                 (side, 46.7), across="centre", offset=-3.6 if port else 3.6),
    )  # fmt: skip


_GROUND_Y, _HEEL, _TOWED = 15.0, (50.0, 25.7), 45.0
_AXLE = (25.5, _GROUND_Y + 5.0)


def _on_trailer() -> tuple[Items, Stern]:
    """Return the boat level on its trailer, the engine tilted up, and its stern."""
    stern = Stern(_HEEL, _TOWED)
    beam = _HEEL[1] - 4.2
    items: Items = (
        line(((LEFT_MM, _GROUND_Y), (77.0, _GROUND_Y)), "DATUM", EDGE_QUIET),
        *tilted(View(_TOWED, stern.top), 67.0),
        *stern.hull(),
        box(LEFT_MM, beam, _HEEL[0] - 2.0, beam + 1.8, "EXISTING", Ink.COWL),
        *(Disc((x, _HEEL[1] - 1.25), 1.15, "EXISTING", QUIET, Ink.PAPER) for x in (12.0, 45.0)),
        Disc(_AXLE, 5.0, "EXISTING", QUIET, Ink.COWL),
        Disc(_AXLE, 2.9, "EXISTING", FAINT, Ink.PAPER),
        Disc(_AXLE, 0.5, "EXISTING", QUIET, Ink.MUTED),
    )
    return items, stern


def heel_above_ground() -> Items:
    """Return: from the ground up to the heel, not to the trailer's frame."""
    items, _stern = _on_trailer()
    beam = (42.0, _HEEL[1] - 4.2)
    return (
        *items,
        *note((7.0, 8.0), "trailer level"),
        *wrong((beam[0], _GROUND_Y), beam, ("not to the", "frame"), (42.0, 8.5),
               across="centre"),
        *reading((_HEEL[0], _GROUND_Y), _HEEL, ("ground", "to heel"), (58.5, 9.0),
                 offset=-5.0),
    )  # fmt: skip


def axle_to_transom() -> Items:
    """Return: level from the axle's middle to the heel, not to the engine."""
    items, stern = _on_trailer()
    blade = (stern.top[0] + 951.0 / _TOWED, stern.top[1])
    return (
        *items,
        *wrong((_AXLE[0], _GROUND_Y - 4.0), blade, ("not to", "the engine"), (13.0, 6.5),
               across="centre", offset=4.0 - _GROUND_Y + 4.0, direction=0.0, part=0.75),
        *reading(_AXLE, _HEEL, "axle to heel", (53.0, 9.5), offset=9.5 - _AXLE[1],
                 direction=0.0),
    )  # fmt: skip


def departure_wanted() -> Items:
    """Return: the ramp the engine must clear, seen from the wheel's foot."""
    items, _stern = _on_trailer()
    foot, slope, radius = (_AXLE[0], _GROUND_Y), 13.0, 42.0
    return (
        *items,
        line((foot, moved(foot, slope, radius + 6.0)), "DATUM", DASHED_QUIET),
        Disc(foot, 0.7, "DATUM", QUIET, Ink.PAPER),
        *note((14.0, 8.0), "wheel’s foot"),
        *note((4.0, 51.5), "engine tilted up"),
        *reading_angle(foot, radius, 0.0, slope, "ramp or kerb", (51.0, 9.0)),
    )


__all__ = [
    "axle_to_transom",
    "departure_wanted",
    "heel_above_ground",
    "obstacle_above",
    "obstacle_across",
    "obstacle_ahead",
    "well_corner_radius",
    "well_floor_below_top",
    "well_front_top",
    "well_length",
    "well_width",
]
