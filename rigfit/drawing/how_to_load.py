"""How-to pictures of limits and loads: capacity plate, what the rules measure, masses aboard."""

from __future__ import annotations

import math

from rigfit.drawing.how_to_afloat import (
    RIGHT,
    Profile,
    ahead,
    astern,
    cut_stern,
    keel_line,
    plumb,
    up,
    water_body,
    water_line,
)
from rigfit.drawing.how_to_engine import clamp, engine
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
    hole,
    line,
    note,
    quiet,
    reading,
    reading_at,
    shape,
    wrong,
)
from rigfit.drawing.how_to_side import Stern
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Point, Text

_MIDDLE = 40.0
_OUTLINE = Pen(0.35, ink=Ink.MUTED)
_FIGURE_MM = 2.7


def _figure(at: Point, words: str) -> Text:
    """Return a figure as a plate, a display or a sheet shows it."""
    return Text(at, words, "NOTES", _FIGURE_MM, across="centre", up="middle", group="measures")


def _display(middle: Point, words: str) -> Items:
    """Return the display of a scale; its sides are 9 mm from its middle."""
    x, y = middle
    return (
        box(x - 9.0, y - 4.0, x + 9.0, y + 4.0, "DATUM", Ink.COWL),
        box(x - 7.4, y - 2.5, x + 7.4, y + 2.5, "DATUM", Ink.PAPER),
        _figure(middle, words),
    )


def plate(*, persons: bool) -> Items:
    """Return: the capacity plate, and the line of it that is asked for."""
    rows = (("persons", "5"), ("persons", "400 kg"), ("total", "650 kg"), ("power", "90 hp"))
    items: list[Item] = [box(4.0, 8.0, 47.0, 49.0, "NOTES", Ink.HULL)]
    items += [
        Disc((x, y), 0.9, "NOTES", FAINT, Ink.PAPER) for x in (6.2, 44.8) for y in (10.2, 46.8)
    ]
    items += note((25.5, 43.8), "capacity plate", across="centre")
    places = []
    for index, (name, figure) in enumerate(rows):
        y = 36.0 - 7.6 * index
        items += note((8.0, y), name)
        items.append(box(25.5, y - 2.8, 43.5, y + 2.8, "NOTES", Ink.PAPER))
        items.append(_figure((34.5, y), figure))
        places.append(y)
    y = places[1 if persons else 2]
    words = ("mass of", "persons") if persons else ("total load", "as stamped")
    return *items, *reading_at((43.8, y), (52.0, y), words, (54.0, y))


def _hook(at: Point) -> Items:
    """Return the ring a crane scale hangs from, and the scale's line below it."""
    return (Disc((at[0], at[1] + 5.3), 1.3, "DATUM", pen=QUIET, fill=None),)


def _hung_engine(words: str) -> Items:
    """Return an engine that hangs free from a crane scale."""
    scale, seat, hang = 33.0, (13.0, 26.5), (19.5, 47.5)
    return (
        *engine(View(scale, seat)),
        *clamp(Stern.under(seat, scale), 0.0),
        line(((hang[0], 41.3), (hang[0], 43.5)), "DATUM", Pen(0.5, ink=Ink.MUTED)),
        *_hook(hang),
        *_display(hang, words),
    )


def _read_hung(words: tuple[str, str]) -> Items:
    return reading_at((28.8, 47.5), (36.5, 47.5), words, (38.5, 47.5))


def old_engine_mass() -> Items:
    """Return: the old engine on a crane scale, on its way off the transom."""
    stern = Stern.under((71.0, 44.0), 9.0)
    arrow = ((58.0, 32.0), (36.0, 32.0))
    return (
        *_hung_engine("118 kg"),
        *stern.slab(260.0),
        line(arrow, "NOTES", DASHED_QUIET),
        shape(((33.5, 32.0), (36.5, 33.0), (36.5, 31.0)), "NOTES", Ink.MUTED, pen=None),
        *note((46.5, 27.0), "comes off", across="centre"),
        *_read_hung(("old engine,", "each alone")),
    )


def afloat_engine_mass() -> Items:
    """Return: the engine she floated with when the heights were read."""
    boat = Profile((66.0, 13.0), 0.42)
    surface = 16.0
    sea = ((37.0, 8.0), (RIGHT, 8.0), (RIGHT, surface), (37.0, surface))
    return (
        *_hung_engine("118 kg"),
        shape(sea, "WATER", Ink.WATER, pen=None),
        *boat.hull(chine=False),
        *engine(View(100.0, boat.aft(boat.top_up + 0.6))),
        *water_line(surface, 37.0),
        *note((57.0, 32.0), ("hung on her", "afloat"), across="centre"),
        *_read_hung(("that same", "engine")),
    )


def _no_engine(boat: Profile) -> Items:
    """Return an engine on the boat's transom, crossed out."""
    seat = boat.aft(boat.top_up)
    return *engine(View(75.0, seat)), *cross((seat[0] + 2.4, seat[1] + 0.5), 3.4)


def boat_weight() -> Items:
    """Return: the boat in slings under a crane scale, tanks full, without engine."""
    boat, hang = Profile((60.0, 10.0), 0.85), (38.0, 46.5)
    low, high = boat.at(20.0, 3.0), boat.at(11.0, 8.5)
    ends = (boat.sheer(44.0), boat.sheer(6.0))
    return (
        *(line((end, (hang[0], 41.0)), "DATUM", QUIET) for end in ends),
        line(((hang[0], 41.0), (hang[0], 42.5)), "DATUM", Pen(0.5, ink=Ink.MUTED)),
        *boat.hull(chine=False),
        box(*low, *high, "HULL", Ink.WATER),
        *_hook(hang),
        *_display(hang, "480 kg"),
        *_no_engine(boat),
        *note((76.0, 5.0), "no engine", across="right", ink=Ink.STOPS, ref=WRONG),
        *note((30.0, 5.0), "built-in tank full", across="centre"),
        line(((39.0, 7.0), (45.5, 14.0)), "NOTES", FAINT),
        *reading_at((47.3, 46.5), (54.0, 46.5), ("boat with", "fittings"), (56.0, 46.5)),
    )


def hull_mass() -> Items:
    """Return: the bare boat on her trailer on a weighbridge; the trailer is taken off."""
    boat, ground = Profile((56.0, 24.0), 0.8), 15.0
    seat = boat.aft(boat.top_up)
    frame = ((52.0, 20.5), (12.0, 20.5), (5.0, 18.0))
    return (
        box(6.0, ground - 3.0, 60.0, ground, "DATUM", Ink.COWL),
        line(((3.0, ground), (RIGHT, ground)), "DATUM", QUIET),
        *boat.hull(chine=False),
        line(frame, "NOTES", Pen(0.5, ink=Ink.MUTED)),
        *(line(((x, 20.5), (x, 23.9)), "NOTES", QUIET) for x in (36.0, 52.0)),
        Disc((44.0, ground + 3.0), 3.0, "NOTES", QUIET, Ink.COWL),
        Disc((44.0, ground + 3.0), 1.0, "NOTES", FAINT, Ink.PAPER),
        *_display((20.0, 7.0), "760 kg"),
        *engine(View(80.0, seat)),
        *cross((seat[0] + 2.4, seat[1] + 0.5), 3.4),
        *note((76.0, 50.0), ("no engine, fuel,", "people"), across="right", ink=Ink.STOPS,
              ref=WRONG),
        *reading_at((29.3, 7.0), (36.0, 7.0), "less the trailer", (38.0, 7.0)),
    )  # fmt: skip


def max_displacement() -> Items:
    """Return: the builder's figure for the boat sunk level until water would come aboard."""
    boat = Profile((58.0, 10.0), 0.9)
    surface = boat.aft(boat.top_up)[1]
    return (
        *water_body(surface),
        *boat.hull(chine=False),
        *water_line(surface),
        *note((31.0, 15.0), "sunk level", across="centre"),
        *note((76.0, 28.5), "to here", across="right"),
        line(((64.5, 26.5), (61.0, surface + 0.4)), "NOTES", FAINT),
        *_sheet((24.0, 44.5), "2200 kg"),
        *reading_at((32.5, 42.3), (41.0, 42.3), ("builder’s", "figure"), (43.0, 42.3)),
    )


def _sheet(middle: Point, words: str) -> Items:
    """Return a builder's sheet with a figure on its lower half."""
    x, y = middle
    return (
        box(x - 12.0, y - 6.5, x + 12.0, y + 6.5, "NOTES", Ink.HULL),
        *note((x, y + 2.8), "builder", across="centre"),
        box(x - 8.2, y - 4.9, x + 8.2, y + 0.5, "NOTES", Ink.PAPER),
        _figure((x, y - 2.2), words),
    )


def list_test() -> Items:
    """Return: the boat heeled by a mass on one side, from astern."""
    turn, pivot = math.radians(-9.0), (28.0, 15.0)

    def heeled(*points: Point) -> tuple[Point, ...]:
        return tuple(
            (pivot[0] + x * math.cos(turn) - y * math.sin(turn),
             pivot[1] + x * math.sin(turn) + y * math.cos(turn))
            for x, y in points
        )  # fmt: skip

    half = ((19.0, 1.0), (22.0, 18.0))
    ring = ((0.0, -6.0), *half, *((-x, y) for x, y in reversed(half)))
    mass = heeled((12.0, 4.0), (18.6, 4.0), (18.6, 12.0), (12.0, 12.0))
    surface = 18.5
    return (
        *water_body(surface),
        shape(heeled(*ring), "HULL", pen=_OUTLINE),
        line(heeled((-19.5, 4.0), (19.5, 4.0)), "HULL", FAINT),
        line(heeled((0.0, -8.0), (0.0, 24.0)), "CENTRELINES", CENTRE_QUIET),
        *water_line(surface),
        shape(mass, "OBSTACLE", Ink.COWL, _OUTLINE),
        *_sheet((64.0, 46.0), "149 kg"),
        *reading_at((64.0, 41.0), (64.0, 33.5), ("mass on", "one side"), (56.0, 29.0)),
    )


def transom_height() -> Items:
    """Return: upright from the transom's top to the line of the bottom, not along the face."""
    heel, top = (52.0, 13.0), (58.006, 39.0)
    return (
        *_bottom_line(),
        *wrong(heel, top, ("not along", "the face"), (25.0, 50.0), offset=11.0, part=0.72),
        *reading((top[0], heel[1]), top, ("upright", "to line"), (60.5, 27.0), direction=90.0),
    )


def motorwell_height() -> Items:
    """Return: upright from the sill of the motor well to the line of the bottom."""
    sill = (32.2, 36.5)
    return (
        *_bottom_line(),
        *note((43.5, 50.0), "well", across="centre"),
        line(((43.5, 47.8), (43.5, 34.0)), "NOTES", FAINT),
        *reading((sill[0], 13.0), sill, ("upright", "to line"), (23.5, 27.0), across="right",
                 offset=5.5, direction=90.0),
    )  # fmt: skip


def _bottom_line() -> Items:
    """Return the stern with a fin under it, and the line of the bottom, carried aft."""
    fin = ((12.0, 13.0), (44.0, 13.0), (44.0, 9.5), (18.0, 9.5))
    return (
        *cut_stern(),
        shape(fin, "HULL", Ink.COWL, FAINT),
        *keel_line(13.0),
        *note((76.0, 9.0), "line of bottom", across="right"),
        *note((24.0, 5.5), "without keel", across="centre"),
    )


def transom_width() -> Items:
    """Return: outer side to outer side at the widest place, not between the chines."""
    rail, chine = 44.0, 23.0
    return (
        *astern(12.0),
        *wrong((11.0, chine), (69.0, chine), "not between the chines", (_MIDDLE, 4.6),
               across="centre", offset=-14.0, direction=0.0, part=0.2),
        *reading((8.0, rail), (72.0, rail), "outer sides", (_MIDDLE, 53.0), across="centre",
                 offset=5.0),
    )  # fmt: skip


_STEM, _TAIL, _AXIS = 6.0, 68.0, 29.0
_WIDE_X = 42.0


def _half(x: float, stern: float) -> float:
    """Return the half breadth of the boat in plan, ``stern`` that of her transom, paper mm."""
    full = 16.0
    if x <= _WIDE_X:
        return full * math.sqrt(1.0 - ((_WIDE_X - x) / (_WIDE_X - _STEM)) ** 2)
    return full - (full - stern) * ((x - _WIDE_X) / (_TAIL - _WIDE_X)) ** 2


def _plan(stern: float = 13.0) -> Items:
    """Return the boat from above, with her centreline."""
    ends = [_STEM + (_TAIL - _STEM) * (index / 40.0) ** 1.6 for index in range(41)]
    side = [(x, _half(x, stern)) for x in ends]
    ring = [(x, _AXIS + y) for x, y in side] + [(x, _AXIS - y) for x, y in reversed(side[1:])]
    inner = [(x + 1.2, _AXIS + 0.84 * y) for x, y in side[8:-3]]
    inner += [(x, 2.0 * _AXIS - y) for x, y in reversed(inner)]
    return (
        shape(ring, "HULL", pen=_OUTLINE),
        shape(inner, "HULL", Ink.PAPER, FAINT),
        line(((3.0, _AXIS), (72.0, _AXIS)), "CENTRELINES", CENTRE_QUIET),
    )


def beam() -> Items:
    """Return: between the outer sides at the widest place, not with what is fitted there."""
    at, out = 29.0, 3.0
    half = _half(at, 13.0)
    fenders = (
        box(at - 3.0, low, at + 3.0, low + out, "NOTES", Ink.COWL)
        for low in (_AXIS + half - 0.4, _AXIS - half - out + 0.4)
    )
    ends = ((at, _AXIS - half - out + 0.4), (at, _AXIS + half + out - 0.4))
    return (
        *_plan(),
        *fenders,
        *wrong(*ends, "not with fittings", (6.0, 52.5), part=0.72),
        *reading((_WIDE_X, _AXIS - 16.0), (_WIDE_X, _AXIS + 16.0), ("widest", "place"),
                 (45.0, 35.5)),
    )  # fmt: skip


def aft_quarter_beam() -> Items:
    """Return: the broadest place in the aftermost quarter of the length."""
    stern, edge = 7.0, _TAIL - (_TAIL - _STEM) / 4.0
    half = _half(edge, stern)
    return (
        *_plan(stern),
        line(((edge, 8.0), (edge, 51.0)), "DATUM", DASHED_QUIET),
        *quiet((edge, 8.5), (_TAIL, 8.5)),
        *note((61.0, 4.5), "¼ length", across="centre"),
        *reading((edge, _AXIS - half), (edge, _AXIS + half), ("broadest", "in quarter"),
                 (50.0, 35.5), across="right"),
    )  # fmt: skip


def sheer_beam() -> Items:
    """Return: outside to outside of the top edge, half-way along."""
    at = (_STEM + _TAIL) / 2.0
    half = _half(at, 13.0)
    items: list[Item] = []
    for left, right in ((_STEM, at), (at, _TAIL)):
        items += quiet((left, 8.0), (right, 8.0))
        items += note(((left + right) / 2.0, 4.6), "half", across="centre")
    return (
        *_plan(),
        *items,
        *note((_MIDDLE, 51.0), "top edge, without fenders", across="centre"),
        *reading((at, _AXIS - half), (at, _AXIS + half), ("outside", "to outside"), (40.0, 35.5)),
    )


_LOAD = (33.0, 25.0)


def _load(middle: Point = _LOAD) -> Items:
    """Return a load with its middle marked."""
    (x, y), (w, h) = middle, (6.0, 4.2)
    return (
        box(x - w, y - h, x + w, y + h, "OBSTACLE", Ink.COWL),
        *hole(middle, 1.1, layer="DATUM"),
    )


def load_ahead() -> Items:
    """Return: from the foot of the transom to a load's middle, not from the transom top."""
    boat = Profile()
    top = boat.aft(boat.top_up)
    return ahead(
        _LOAD, ("foot to middle",), _load(),
        wrong(_LOAD, top, "not from the top", (49.0, 45.5), across="centre", offset=9.0,
              direction=0.0),
    )  # fmt: skip


def load_up() -> Items:
    """Return: from the keel line up to a load's middle, load and all."""
    return up(
        _LOAD, ("up to", "its middle"), (41.0, 24.5), _load(),
        note((_LOAD[0], 50.0), "load, wherever stowed", across="centre"),
    )  # fmt: skip


def load_across() -> Items:
    """Return: from the centreline to a load's middle, not from the side."""
    spot = (58.0, 25.0)
    half = ((22.0, 15.0), (29.0, 40.0))
    ring = [(_MIDDLE, 8.0), *((_MIDDLE + x, y) for x, y in half)]
    ring += [(_MIDDLE - x, y) for x, y in reversed(half)]
    return (
        shape(ring, "HULL", pen=_OUTLINE),
        line(((17.0, 19.0), (63.0, 19.0)), "HULL", FAINT),
        line(((_MIDDLE, 4.0), (_MIDDLE, 48.0)), "CENTRELINES", CENTRE_QUIET),
        *note((_MIDDLE, 51.5), "centreline", across="centre"),
        box(52.5, 19.0, 63.0, 31.0, "OBSTACLE", Ink.COWL),
        *hole(spot, 1.1, layer="DATUM"),
        *note((4.0, 6.0), "port"),
        *note((76.0, 6.0), "starboard", across="right"),
        *reading((_MIDDLE, spot[1]), spot, ("+ starboard", "− port"), (37.5, 28.5),
                 across="right"),
    )  # fmt: skip


def load_mass() -> Items:
    """Return: a load on a floor scale; of a fuel tank only the empty tank."""
    return (
        box(6.0, 12.0, 38.0, 15.0, "DATUM", Ink.COWL),
        *_display((22.0, 7.0), "24 kg"),
        box(11.0, 15.0, 33.0, 31.0, "OBSTACLE", Ink.ENGINE),
        *(box(x, 31.0, x + 4.0, 33.0, "OBSTACLE", Ink.COWL) for x in (13.0, 27.0)),
        Path(((52.0, 22.0), (74.0, 22.0), (74.0, 36.0), (52.0, 36.0)), "OBSTACLE", pen=QUIET,
             closed=True, fill=Ink.HULL),
        box(60.0, 36.0, 64.0, 38.0, "OBSTACLE", Ink.COWL),
        box(52.0, 22.0, 74.0, 31.0, "OBSTACLE", Ink.WATER),
        *cross((63.0, 26.5), 3.2),
        *note((63.0, 44.0), ("tank: not", "its fuel"), across="centre", ink=Ink.STOPS, ref=WRONG),
        *reading_at((31.3, 7.0), (39.0, 7.0), "all of it", (41.0, 7.0)),
    )  # fmt: skip


_OLD = Stern((26.0, 22.0), 33.0)
_OLD_MIDDLE = (37.0, 43.0)


def _hung_on() -> Items:
    """Return the stern with the old engine on it, its centre marked."""
    return (
        *_OLD.hull(),
        *engine(View(_OLD.scale, _OLD.top)),
        *clamp(_OLD, 0.0),
        *keel_line(_OLD.heel[1], (RIGHT - 1.0, _OLD.heel[1] - 3.8), across="right"),
        *hole(_OLD_MIDDLE, 1.4, layer="DATUM"),
    )


def old_engine_ahead() -> Items:
    """Return: from the foot of the transom aft to the old engine's centre; that is negative."""
    y = _OLD.heel[1]
    return (
        *_hung_on(),
        *plumb(_OLD_MIDDLE, y),
        *note((60.0, 48.0), "old engine", across="centre"),
        *reading(_OLD.heel, (_OLD_MIDDLE[0], y), ("− when", "aft"), (22.5, 8.0),
                 across="right", offset=-15.5, direction=0.0),
    )  # fmt: skip


def old_engine_up() -> Items:
    """Return: from the keel line up to the old engine's centre."""
    y = _OLD.heel[1]
    return (
        *_hung_on(),
        *note((60.0, 51.0), "old engine", across="centre"),
        *reading((_OLD_MIDDLE[0], y), _OLD_MIDDLE, ("up to", "its centre"), (56.5, 33.0),
                 offset=-16.5, direction=90.0),
    )  # fmt: skip
