"""How-to pictures of the sea trial: the plate's height, the propeller's size, what is aboard."""

from __future__ import annotations

import math
from functools import partial

from rigfit.drawing.how_to_afloat import Profile, water_body, water_line
from rigfit.drawing.how_to_engine import LEG_MM, SIZES, engine
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    FAINT,
    QUIET,
    WRONG,
    Items,
    View,
    bar,
    box,
    cross,
    line,
    note,
    reading,
    reading_at,
    shape,
)
from rigfit.drawing.how_to_side import Stern
from rigfit.drawing.scene import Disc, Ink, Item, Path, Point, Text

_LOWER_END = ("propeller", "skeg", "gearcase", "strut", "plate")
_PLATE_SCALE = 21.0
_KEEL_Y = 22.0
_HUB = (28.0, 27.0)
_TIP_MM = 19.0
_ROOT_MM = 5.0


def plate_height() -> Items:
    """Return: from a straightedge along the keel up to the plate, parallel to it."""
    stern = Stern((17.0, _KEEL_Y), _PLATE_SCALE)
    level = _KEEL_Y + 6.0
    seat = (stern.top[0] - 3.0, level + LEG_MM / _PLATE_SCALE)
    view = View(_PLATE_SCALE, seat)
    middle, half = view.at(SIZES.leg_aft, 0.0)[0], SIZES.leg_breadth / _PLATE_SCALE / 2.0
    top = 46.0
    leg = ((middle - half, top), (middle - half, level), (middle + half, level),
           (middle + half, top))  # fmt: skip
    edge = view.at(SIZES.plate_aft, -LEG_MM)[0]
    return (
        *stern.hull(),
        shape(leg, "ENGINE", Ink.ENGINE, pen=QUIET),
        *engine(view, _LOWER_END),
        bar((3.0, _KEEL_Y), (66.0, _KEEL_Y), -2.0),
        line(((3.0, _KEEL_Y), (76.0, _KEEL_Y)), "KEELLINE", CENTRE_QUIET),
        *note((4.0, 15.5), "keel line"),
        *note((56.0, 14.0), "− below it"),
        *reading(
            (edge, _KEEL_Y), (edge, level), ("+ plate", "above"), (56.0, 33.0),
            offset=-4.0, direction=90.0,
        ),
    )  # fmt: skip


def _blade(turn_deg: float) -> tuple[Point, ...]:
    """Return a blade from astern, its middle at an angle; its tip touches the circle."""
    along, across, steps = (_TIP_MM - 3.0) / 2.0, 5.6, 24
    middle, turn = _TIP_MM - along, math.radians(turn_deg)
    points = []
    for k in range(steps):
        way = 2.0 * math.pi * k / steps
        out, side = middle + along * math.cos(way), across * math.sin(way)
        x = out * math.cos(turn) - side * math.sin(turn)
        points.append((_HUB[0] + x, _HUB[1] + out * math.sin(turn) + side * math.cos(turn)))
    return tuple(points)


def diameter() -> Items:
    """Return: across the circle the blades' tips run in."""
    x, y = _HUB
    return (
        Disc(_HUB, _TIP_MM, "ENGINE", pen=DASHED_QUIET),
        *(shape(_blade(90.0 + 120.0 * k), "ENGINE", Ink.COWL) for k in range(3)),
        Disc(_HUB, _ROOT_MM, "ENGINE", pen=QUIET, fill=Ink.ENGINE),
        Disc(_HUB, 1.4, "ENGINE", pen=FAINT, fill=Ink.PAPER),
        *note((4.0, 51.5), "propeller from astern"),
        *note((76.0, 4.0), "of the tips’ circle", across="right"),
        *reading(
            (x, y - _TIP_MM), (x, y + _TIP_MM), ("diameter,", "first figure"), (55.0, 27.0),
            offset=-23.0, direction=90.0,
        ),
    )  # fmt: skip


def pitch() -> Items:
    """Return: how far a blade's helix leads in one turn."""
    start, turn, axis, radius = 16.0, 44.0, 32.0, 12.0
    steps = 60
    helix = tuple(
        (start + turn * k / steps, axis + radius * math.cos(2.0 * math.pi * k / steps))
        for k in range(steps + 1)
    )
    return (
        line(((6.0, axis), (74.0, axis)), "CENTRELINES", CENTRE_QUIET),
        line(helix, "ENGINE", DASHED_QUIET),
        *_propeller(start, axis, radius, faint=False),
        *_propeller(start + turn, axis, radius, faint=True),
        *note((38.0, 51.0), "one turn, without slip", across="centre"),
        *reading(
            (start, axis - radius), (start + turn, axis - radius), "pitch, second figure",
            (38.0, 7.5), across="centre", offset=-7.5,
        ),
    )  # fmt: skip


def _propeller(x: float, axis: float, radius: float, *, faint: bool) -> Items:
    """Return a propeller from the side: hub, and a blade up and one down."""
    pen, fill = (DASHED_QUIET, None) if faint else (QUIET, Ink.COWL)
    items: list[Item] = []
    for way in (1.0, -1.0):
        blade = ((x - 2.4, axis), (x - 1.6, axis + way * radius * 0.8), (x, axis + way * radius),
                 (x + 1.2, axis + way * radius * 0.75), (x + 2.4, axis))  # fmt: skip
        items.append(Path(blade, "ENGINE", pen=pen, closed=True, fill=fill))
    hub = (
        (x - 4.0, axis - 2.6),
        (x + 4.0, axis - 3.4),
        (x + 4.0, axis + 3.4),
        (x - 4.0, axis + 2.6),
    )
    items.append(Path(hub, "ENGINE", pen=pen, closed=True, fill=None if faint else Ink.ENGINE))
    return tuple(items)


def _sheet(middle: Point, figure: str) -> Items:
    """Return a sheet of paper with rows that are summed, and the sum."""
    x, y = middle
    rows = (f"{name}" for name in ("people", "fuel", "gear"))
    items: list[Item] = [box(x - 13.0, y - 12.5, x + 13.0, y + 12.5, "NOTES", Ink.HULL)]
    for index, name in enumerate(rows):
        items += note((x - 11.0, y + 8.6 - 5.2 * index), name)
    items.append(line(((x - 11.0, y - 5.2), (x + 11.0, y - 5.2)), "NOTES", QUIET))
    items.append(box(x - 9.6, y - 11.4, x + 9.6, y - 6.2, "NOTES", Ink.PAPER))
    items.append(
        Text((x, y - 8.8), figure, "NOTES", 2.7, across="centre", up="middle", group="measures")
    )
    return tuple(items)


def mass_aboard(figure: str, words: tuple[str, str], heads: int) -> Items:
    """Return: people, fuel and gear on a list, not the boat and not her engine."""
    boat, surface = Profile((58.0, 8.0), 0.8), 14.5
    people: list[Item] = []
    for k in range(heads):
        x, y = boat.at(30.0 - 7.0 * k, 12.0)
        people += [box(x - 1.6, y - 1.0, x + 1.6, y + 5.0, "OBSTACLE", Ink.COWL)]
        people += [Disc((x, y + 6.8), 1.6, "OBSTACLE", QUIET, Ink.COWL)]
    seat = boat.aft(boat.top_up)
    low, high = boat.at(16.0, 4.0), boat.at(9.0, 9.0)
    return (
        *water_body(surface),
        *people,
        *boat.hull(chine=False),
        box(*low, *high, "HULL", Ink.RESERVE),
        *engine(View(80.0, seat)),
        *cross((seat[0] + 2.4, seat[1] + 0.5), 3.2),
        *water_line(surface),
        *note((76.0, 32.5), "not the engine", across="right", ink=Ink.STOPS, ref=WRONG),
        *_sheet((19.0, 41.0), figure),
        *reading_at((29.0, 32.2), (40.0, 40.0), words, (42.0, 42.0)),
    )


trial_mass = partial(mass_aboard, "240 kg", ("aboard", "all that day"), 2)
run_mass = partial(mass_aboard, "330 kg", ("aboard for", "this run"), 3)
