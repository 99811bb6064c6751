"""How-to pictures of the steering lock and the steering gear, from above, bow up."""

from __future__ import annotations

import math
from dataclasses import replace

from rigfit.drawing.dimensioning import angle_between
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    FAINT,
    QUIET,
    WRONG,
    Items,
    View,
    box,
    cross,
    line,
    moved,
    note,
    reading,
    reading_angle,
    shape,
    wrong,
    zigzag,
)
from rigfit.drawing.scene import Dash, Disc, Ink, Item, Path, Pen, Point
from rigfit.rigging.outline import softened

_TUBE_AHEAD, _TUBE_HALF = 95.0, 165.0
_ARM_MM, _ROD_MM, _TRAVEL_MM = 216.0, 110.0, 100.0
_LOCK_DEG = 32.0


def _wrong_angle(
    apex: Point, radius: float, from_deg: float, to_deg: float, cross_deg: float
) -> Items:
    """Return an angle not to read, crossed out in the direction ``cross_deg`` from its apex."""
    out: list[Item] = []
    for item in angle_between(apex, radius, from_deg, to_deg, "", scale=1.0, ref=WRONG):
        if isinstance(item, Path):
            head = item.closed
            pen = Pen(0.3, ink=Ink.STOPS) if head else Pen(0.35, Dash.DASHED, Ink.STOPS)
            out.append(replace(item, pen=pen, fill=Ink.STOPS if head else None))
    return *out, *cross(moved(apex, cross_deg, radius))


_LEG = ((-3.4, 3.0), (3.4, 3.0), (4.2, -2.0), (2.4, -9.0), (-2.4, -9.0), (-4.2, -2.0))
_PLATE = ((-3.5, -4.0), (3.5, -4.0), (7.0, -14.0), (7.0, -24.5), (-7.0, -24.5), (-7.0, -14.0))
_BLADES = ((-9.0, -20.5), (9.0, -20.5), (9.0, -22.5), (-9.0, -22.5))


def _turned(axis: Point, by_deg: float, points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return points given from the steering axis, aft downwards, of an engine turned about it."""
    cos, sin = math.cos(math.radians(by_deg)), math.sin(math.radians(by_deg))
    return tuple((axis[0] + x * cos - y * sin, axis[1] + x * sin + y * cos) for x, y in points)


def _leg_from_above(axis: Point, by_deg: float) -> Items:
    return (
        shape(_turned(axis, by_deg, _BLADES), "ENGINE", Ink.ENGINE),
        shape(_turned(axis, by_deg, _PLATE), "PLATE", Ink.HULL),
        shape(_turned(axis, by_deg, softened(_LEG, 2)), "ENGINE", Ink.COWL),
        Disc(axis, 1.3, "ENGINE", QUIET, Ink.PAPER),
    )


def twin_toe() -> Items:
    """Return: between the propeller shafts, less the distance of the engines centre to centre."""
    left, right, toe = (24.0, 44.0), (56.0, 44.0), 5.0
    shafts = [_turned(at, by, ((0.0, -29.0),))[0] for at, by in ((left, -toe), (right, toe))]
    return (
        box(4.0, 46.5, 76.0, 50.0, "TRANSOM", Ink.COWL),
        *_leg_from_above(left, -toe),
        *_leg_from_above(right, toe),
        line((left, shafts[0]), "CENTRELINES", CENTRE_QUIET),
        line((right, shafts[1]), "CENTRELINES", CENTRE_QUIET),
        line((left, (left[0], shafts[0][1])), "CENTRELINES", FAINT),
        line((right, (right[0], shafts[1][1])), "CENTRELINES", FAINT),
        *note((58.0, 52.0), "from above"),
        *wrong(left, right, ("not at", "the axes"), (40.0, 37.0), across="centre"),
        *reading(shafts[0], shafts[1], ("shafts apart", "less spacing"), (40.0, 8.0),
                 across="centre"),
    )  # fmt: skip


def lock_angle() -> Items:
    """Return: from straight ahead to one stop, not from stop to stop."""
    axis, reach = (34.0, 46.0), 29.0
    first, last = 270.0, 270.0 + _LOCK_DEG
    middle = [moved(axis, way, reach + 10.0) for way in (first, last, first - _LOCK_DEG)]
    return (
        box(4.0, 48.5, 76.0, 52.0, "TRANSOM", Ink.COWL),
        *_leg_from_above(axis, _LOCK_DEG),
        line((axis, middle[0]), "CENTRELINES", CENTRE_QUIET),
        line((axis, middle[1]), "CENTRELINES", CENTRE_QUIET),
        line((axis, middle[2]), "CENTRELINES", FAINT),
        *note((61.0, 34.0), "plate"),
        line(((60.5, 33.5), _turned(axis, _LOCK_DEG, ((7.2, -16.0),))[0]), "NOTES", FAINT),
        *note((4.0, 42.5), "from above"),
        *_wrong_angle(axis, reach + 8.0, first - _LOCK_DEG, last, first - 20.0),
        *note((3.0, 27.5), ("not stop", "to stop"), ink=Ink.STOPS, ref=WRONG),
        *reading_angle(axis, reach, first, last, ("straight", "to stop"), (55.5, 17.0)),
    )


def _gear(view: View, *, arm: bool = True) -> Items:
    """Return transom, swivel, tilt tube and steering arm; the view's origin is the axis."""
    left, low = view.at(-_TUBE_HALF, _TUBE_AHEAD - 17.0)
    left = max(left, 3.0)
    right, high = view.at(_TUBE_HALF, _TUBE_AHEAD + 17.0)
    face, inside = view.at(0.0, 70.0)[1], view.at(0.0, 118.0)[1]
    half, end = 75.0 / view.scale, 4.0
    x, y = view.origin
    swivel = ((-60.0, _TUBE_AHEAD), (60.0, _TUBE_AHEAD), (45.0, -45.0), (-45.0, -45.0))
    bar = ((-20.0, 0.0), (20.0, 0.0), (16.0, _ARM_MM + 18.0), (-16.0, _ARM_MM + 18.0))
    hole = Disc(view.at(0.0, _ARM_MM), 8.0 / view.scale, "ENGINE", QUIET, Ink.PAPER)
    return (
        box(3.0, face, 77.0, inside, "TRANSOM", Ink.HULL),
        box(x - half, end, x + half, y, "ENGINE", Ink.ENGINE),
        zigzag((x - half - 1.5, end), (x + half + 1.5, end), "ENGINE"),
        shape(view.all(swivel), "BRACKET", Ink.ENGINE),
        box(left, low, right, high, "BRACKET", Ink.COWL),
        *((shape(view.all(bar), "ENGINE", Ink.ENGINE), hole) if arm else ()),
        Disc(view.origin, 14.0 / view.scale, "ENGINE", QUIET, Ink.PAPER),
    )


def _rod(view: View, out: float, *, dashed: bool = False) -> Path:
    """Return the rod sticking out of the tube's starboard end by ``out``, real mm."""
    ends = ((_TUBE_HALF, -8.0), (_TUBE_HALF + out, -8.0), (_TUBE_HALF + out, 8.0),
            (_TUBE_HALF, 8.0))  # fmt: skip
    points = view.all((x, _TUBE_AHEAD + y) for x, y in ends)
    if dashed:
        return Path(points, "BRACKET", pen=DASHED_QUIET, closed=True)
    return shape(points, "BRACKET", Ink.PAPER)


def _link(view: View) -> Items:
    """Return the link from the rod's end to the arm."""
    end, hole = view.at(_TUBE_HALF + _ROD_MM - 12.0, _TUBE_AHEAD), view.at(0.0, _ARM_MM)
    return (
        line((end, hole), "BRACKET", Pen(0.9, ink=Ink.MUTED)),
        *(Disc(spot, 1.1, "BRACKET", QUIET, Ink.PAPER) for spot in (end, hole)),
    )


_VIEW = View(9.0, (26.0, 19.0))
_FROM_ABOVE = (4.0, 51.5)


def half_travel() -> Items:
    """Return: the rod's end from the middle of its travel to one end, not lock to lock."""
    at = [_VIEW.at(_TUBE_HALF + _ROD_MM + move, _TUBE_AHEAD - 8.0)
          for move in (-_TRAVEL_MM, 0.0, _TRAVEL_MM)]  # fmt: skip
    return (
        *_gear(_VIEW),
        _rod(_VIEW, _ROD_MM + _TRAVEL_MM, dashed=True),
        _rod(_VIEW, _ROD_MM),
        *_link(_VIEW),
        *note(_FROM_ABOVE, "from above"),
        *note((62.0, 44.0), "rod, midway", across="centre"),
        line(((58.5, 42.0), (at[1][0] - 2.5, at[1][1] + 1.9)), "NOTES", FAINT),
        *wrong(at[0], at[2], "not lock to lock", (58.0, 5.0), across="centre", offset=-18.5),
        *reading(at[1], at[2], "middle to end", (54.0, 16.8), across="centre", offset=-7.0),
    )


def arm_radius() -> Items:
    """Return: from the steering axis to the hole in the arm, not from the tilt tube."""
    view = replace(_VIEW, origin=(38.0, 19.0))
    hole, tube = view.at(0.0, _ARM_MM), view.at(0.0, _TUBE_AHEAD)
    return (
        *_gear(view),
        *note((4.0, 6.0), "from above"),
        *note((62.0, 8.0), ("steering", "axis")),
        line(((61.0, 10.5), moved(view.origin, -25.0, 1.8)), "NOTES", FAINT),
        *wrong(
            tube, hole, ("not from", "the tube"), (59.0, 43.5), offset=-17.5, direction=90.0
        ),
        *reading(
            view.origin, hole, ("axis", "to hole"), (17.0, 42.0), across="right", offset=18.5,
            direction=90.0,
        ),
    )  # fmt: skip


def tube_end() -> Items:
    """Return: from the middle of the engine to the end of the tilt tube, not of the rod."""
    low = _VIEW.at(_TUBE_HALF, _TUBE_AHEAD - 17.0)
    rod = _VIEW.at(_TUBE_HALF + _ROD_MM, _TUBE_AHEAD + 8.0)
    x = _VIEW.origin[0]
    return (
        *_gear(_VIEW),
        _rod(_VIEW, _ROD_MM),
        line(((x, 47.5), (x, 2.5)), "CENTRELINES", CENTRE_QUIET),
        *note(_FROM_ABOVE, "middle of the engine"),
        *note((64.0, 24.0), "rod"),
        line(((66.0, 26.0), (rod[0] - 2.0, rod[1] - 2.0)), "NOTES", FAINT),
        *wrong((x, rod[1]), rod, ("not to the", "rod’s end"), (59.0, 41.0), offset=8.0),
        *reading((x, low[1]), low, ("middle to", "tube’s end"), (47.0, 16.0), offset=-9.0),
    )


def beyond_tube() -> Items:
    """Return: from the tube's end out over fittings and the first of the cable's bend."""
    view = View(7.0, (18.0, 14.5))
    x, y = view.at(_TUBE_HALF, _TUBE_AHEAD)
    nut, sleeve, out, half = x + 5.0, x + 14.0, x + 25.0, 1.6
    radius = out - sleeve - half
    bend = [
        (sleeve + r * math.cos(math.radians(angle)), y + radius + r * math.sin(math.radians(angle)))
        for r, angles in ((radius + half, range(-90, 1, 10)), (radius - half, range(0, -91, -10)))
        for angle in angles
    ]  # fmt: skip
    return (
        *_gear(view, arm=False),
        box(x, y - 1.9, sleeve, y + 1.9, "BRACKET", Ink.PAPER),
        box(x, y - 3.4, nut, y + 3.4, "BRACKET", Ink.ENGINE),
        shape(bend, "BRACKET", Ink.COWL),
        line(((x, y - 3.4), (x, y + 3.4)), "BRACKET", QUIET),
        *note(_FROM_ABOVE, "from above"),
        *note((69.0, 39.0), "cable"),
        *wrong((x, y - 3.4), (sleeve, y - 1.9), ("not to the", "fitting"), (31.0, 5.8),
               across="left", offset=-7.0, direction=0.0),
        *reading((x, y + 3.4), (out, y + radius), "bend included", (54.0, 51.2),
                 across="centre", offset=47.0 - y - radius, direction=0.0),
    )  # fmt: skip


def withdrawal() -> Items:
    """Return: the room beyond the tube's end for the rod to be drawn out, up to the wall."""
    view = View(11.0, (23.0, 20.0))
    x, y = view.at(_TUBE_HALF, _TUBE_AHEAD)
    room, wall = 300.0 / 11.0, 70.5
    return (
        *_gear(view, arm=False),
        box(wall, 4.0, wall + 3.0, 49.0, "HULL", Ink.COWL),
        _rod(view, 300.0, dashed=True),
        _rod(view, 60.0),
        *note(_FROM_ABOVE, "from above"),
        *note((68.0, 45.5), "well’s side", across="right"),
        *note((68.0, 9.0), ("dashed: the rod", "drawn out"), across="right"),
        *reading((x, y - 1.0), (x + room, y - 1.0), "room it needs", (51.0, 39.0),
                 across="centre", offset=7.0),
    )  # fmt: skip


def hose_radius() -> Items:
    """Return: from the steering axis forward to the outermost bend of hose or cable."""
    view, reach = View(9.0, (34.0, 17.0)), 265.0
    axis, top = view.origin, view.at(0.0, reach)
    loops = []
    for part, thick in ((1.0, 1.6), (0.8, 1.2)):
        ring = [view.at(-70.0 + 140.0 * step / 12.0,
                        (0.42 + 0.58 * math.sin(math.pi * step / 12.0)) * reach * part
                        - thick * 4.5) for step in range(13)]  # fmt: skip
        loops.append(line(ring, "ENGINE", Pen(thick, ink=Ink.MUTED)))
    sweep = [moved(axis, 90.0 + 4.0 * step, top[1] - axis[1]) for step in range(-9, 10)]
    return (
        *_gear(view, arm=False),
        *loops,
        line(sweep, "DATUM", DASHED_QUIET),
        *note((4.0, 6.0), "from above"),
        *note((60.0, 50.5), "hoses", across="centre"),
        line(((56.0, 48.5), view.at(50.0, 0.8 * reach)), "NOTES", FAINT),
        *note((61.0, 8.0), ("steering", "axis")),
        line(((60.0, 10.5), moved(axis, -20.0, 1.8)), "NOTES", FAINT),
        *wrong(view.at(0.0, _TUBE_AHEAD), top, ("not from", "the tube"), (62.0, 37.0),
               offset=-25.0, direction=90.0),
        *reading(axis, top, ("axis to", "outermost"), (21.5, 38.0), across="right",
                 offset=11.0, direction=90.0),
    )  # fmt: skip
