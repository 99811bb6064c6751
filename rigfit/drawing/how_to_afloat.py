"""How-to pictures of the hull and how she lies afloat: profile, section, stern, water, offsets.

Bow to the left, or seen from astern with port to the left. Heights are drawn larger than lengths,
so that they can be seen; places ahead start at the foot of the transom, heights at the keel line.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    EDGE_QUIET,
    FAINT,
    QUIET,
    Items,
    bar,
    hole,
    level,
    line,
    moved,
    note,
    quiet,
    reading,
    reading_angle,
    shape,
    tape,
    wrong,
    zigzag,
)
from rigfit.drawing.scene import Across, Ink, Item, Pen, Point

_OUTLINE = Pen(0.35, ink=Ink.MUTED)
_RAKE = 0.231  # tangent of 13 degrees
LEFT, RIGHT = 3.0, 77.0
"""Where water and the keel line end, paper mm."""


def water_body(top: float, low: float = 3.5) -> Items:
    """Return calm water up to a height; draw the boat over it."""
    corners = ((LEFT, low), (RIGHT, low), (RIGHT, top), (LEFT, top))
    return (shape(corners, "WATER", Ink.WATER, pen=None),)


def water_line(top: float, left: float = LEFT, right: float = RIGHT) -> Items:
    """Return the surface of the water, drawn over the boat, too."""
    return (line(((left, top), (right, top)), "WATER", QUIET),)


def keel_line(y: float, words_at: Point | None = None, *, across: Across = "left") -> Items:
    """Return the keel line over the width of the picture, with its name where there is room."""
    named = () if words_at is None else note(words_at, "keel line", across=across)
    return line(((LEFT, y), (RIGHT, y)), "KEELLINE", CENTRE_QUIET), *named


@dataclass(frozen=True, slots=True)
class Profile:
    """A whole boat from the side.

    :param heel: the foot of the transom, paper mm.
    :param size: 1 for a boat 57 mm long; heights shrink with it.
    """

    heel: Point = (62.0, 17.0)
    size: float = 1.0

    length = 57.0
    """From the foot of the transom to the stem head along the keel line, at size 1."""

    top_up = 11.5
    """Height of the transom top at the engine above the keel line, at size 1."""

    def at(self, ahead: float, up: float) -> Point:
        """Return the point of the frame that lies ahead of the heel and above the keel line."""
        return self.heel[0] - ahead * self.size, self.heel[1] + up * self.size

    def keel(self, ahead: float) -> Point:
        """Return the bottom on the centreline: straight aft, then up into the stem."""
        rise = max(0.0, (ahead - 26.0) / (self.length - 26.0))
        return self.at(ahead, 24.0 * rise**2.2)

    def sheer(self, ahead: float) -> Point:
        """Return the top edge of the side."""
        return self.at(ahead, 15.0 + 9.0 * (max(0.0, ahead) / self.length) ** 2)

    def aft(self, up: float) -> Point:
        """Return the outer face of the transom at a height."""
        return self.at(-up * _RAKE, up)

    @property
    def middle(self) -> float:
        """Half the way along, ahead of the heel, at size 1."""
        return (self.length - 15.0 * _RAKE) / 2.0

    def hull(self, *, chine: bool = True) -> Items:
        """Return the boat with her chine; the notch for the engine is dashed."""
        steps = [self.length * index / 19.0 for index in range(20)]
        outline = [self.keel(ahead) for ahead in steps]
        outline += [self.sheer(ahead) for ahead in reversed(steps)]
        outline.append(self.aft(15.0))
        turn = [self.at(a, 6.0 + 12.0 * (a / 53.0) ** 2.5) for a in (*range(0, 51, 5), 51.5)]
        turn[0] = self.aft(6.0)
        notch = (self.aft(self.top_up), self.at(3.0, self.top_up), self.at(4.0, 15.0))
        return (
            shape(outline, "HULL", pen=_OUTLINE),
            line(notch, "HULL", DASHED_QUIET),
            *((line(turn, "HULL", FAINT),) if chine else ()),
        )


def plumb(point: Point, y: float) -> Items:
    """Return a dashed line from a thing square down to a height."""
    return (line((point, (point[0], y)), "DATUM", DASHED_QUIET),)


_BOAT = Profile()
_KEEL_Y = _BOAT.heel[1]
_UNDER = 8.0  # from the keel line down to a dimension


def ahead(point: Point, words: tuple[str, ...], *things: Items) -> Items:
    """Return: from the foot of the transom forward along the keel line to something.

    :param things: what is drawn over the boat, before the reading.
    """
    start, end = _BOAT.heel, (point[0], _KEEL_Y)
    return (
        *_BOAT.hull(),
        *keel_line(_KEEL_Y, (4.0, 13.2)),
        *(item for thing in things for item in thing),
        *plumb(point, _KEEL_Y),
        *note((64.5, 5.0), ("foot of", "transom")),
        *reading(start, end, words, (start[0] - 0.5, 4.6), across="right",
                 offset=-_UNDER, direction=0.0),
    )  # fmt: skip


def up(
    point: Point, words: tuple[str, ...], at: Point, *things: Items, across: Across = "left"
) -> Items:
    """Return: from the keel line square up to something of the boat in profile."""
    return (
        *_BOAT.hull(chine=False),
        *keel_line(_KEEL_Y, (4.0, 13.2) if point[0] > 20.0 else (RIGHT - 1.0, 13.2),
                   across="left" if point[0] > 20.0 else "right"),
        *(item for thing in things for item in thing),
        *reading((point[0], _KEEL_Y), point, words, at, across=across, direction=90.0),
    )  # fmt: skip


def _halves(y: float) -> Items:
    """Return two equal quiet dimensions under the boat: half-way along."""
    stem, stern, mid = _BOAT.sheer(_BOAT.length), _BOAT.aft(15.0), _BOAT.at(_BOAT.middle, 0.0)
    items: list[Item] = []
    for left, right in ((stem[0], mid[0]), (mid[0], stern[0])):
        items += quiet((left, y), (right, y))
        items += note(((left + right) / 2.0, y - 3.2), "half", across="centre")
    return tuple(items)


def depth(where: str) -> Items:
    """Return: keel line to sheer aft or amidships, or to the stem head.

    :param where: "aft", "amidships" or "bow".
    """
    if where == "bow":
        return up(
            _BOAT.sheer(_BOAT.length), ("up to", "stem head"), (5.0, 9.5),
            note((18.0, 50.0), "string along the keel line"),
        )  # fmt: skip
    if where == "amidships":
        return up(_BOAT.sheer(_BOAT.middle), ("keel line", "to sheer"), (37.0, 25.5), _halves(8.0))
    top = _BOAT.aft(_BOAT.top_up)
    return up(
        _BOAT.aft(15.0), ("up to", "sheer"), (67.5, 26.0),
        wrong((top[0], _KEEL_Y), top, ("not to", "the notch"), (52.5, 26.5),
              across="right", offset=8.5, direction=90.0),
    )  # fmt: skip


def centre_ahead() -> Items:
    """Return: from the foot of the transom to where the bare boat balances."""
    foot = _BOAT.at(24.0, 0.0)
    roller = (foot, (foot[0] - 3.0, _KEEL_Y - 4.6), (foot[0] + 3.0, _KEEL_Y - 4.6))
    middle = _BOAT.at(24.0, 9.0)
    return ahead(
        middle, ("foot to balance",), (shape(roller, "DATUM", Ink.COWL),),
        hole(middle, 1.5, layer="DATUM"),
        note((middle[0], 50.0), "balances here, bare", across="centre"),
    )  # fmt: skip


def centre_height() -> Items:
    """Return: from the keel line up to the bare boat's centre of gravity."""
    middle = _BOAT.at(24.0, 10.0)
    return up(
        middle, ("up to", "centre"), (41.0, 22.5), hole(middle, 1.5, layer="DATUM"),
        note((middle[0], 50.0), "centre of gravity, bare", across="centre"),
    )  # fmt: skip


def mark_ahead() -> Items:
    """Return: from the foot of the transom to an opening in the side."""
    spot = _BOAT.at(21.0, 11.0)
    return ahead(spot, ("foot to mark",), hole(spot, 1.6),
                 note((spot[0], 50.0), "opening in the side", across="centre"))  # fmt: skip


def station_ahead(*, table: bool) -> Items:
    """Return: from the foot of the transom to a section.

    :param table: whether it is one of a table of offsets, with others beside it.
    """
    items: list[Item] = []
    here = 28.5
    for place in (9.5, 19.0, here, 38.0, 47.5):
        if table or place == here:
            pen = EDGE_QUIET if place == here else FAINT
            items.append(line((_BOAT.keel(place), _BOAT.sheer(place)), "DATUM", pen))
    head = "sections of the table" if table else "section"
    words = ("foot to section",)
    return ahead(_BOAT.sheer(here), words, tuple(items), note((33.5, 50.0), head, across="centre"))


def station_keel() -> Items:
    """Return: from the keel line up to the bottom on the centreline, forward."""
    place = 48.0
    point, rail = _BOAT.keel(place), _BOAT.sheer(place)
    return up(
        point, ("up to", "bottom"), (11.0, 9.5),
        (line((point, rail), "DATUM", EDGE_QUIET),), note((9.0, 50.0), "section"),
        note((50.0, 7.0), "0 back here", across="centre"),
    )  # fmt: skip


def freeboard(*, bow: bool) -> Items:
    """Return: afloat, from the stem head or from the sheer amidships straight down to the water."""
    surface = _KEEL_Y + 7.0
    top = _BOAT.sheer(_BOAT.length if bow else _BOAT.middle)
    words, at = (
        (("straight", "down"), (7.5, 46.5)) if bow else (("sheer", "to water"), (37.0, 29.0))
    )
    around = note((60.0, 46.0), "calm water", across="centre") if bow else _halves(12.0)
    return (
        *water_body(surface, 6.0),
        *_BOAT.hull(chine=False),
        *water_line(surface),
        *around,
        *(() if bow else note((40.0, 46.0), "both sides averaged", across="centre")),
        *reading((top[0], surface), top, words, at, direction=90.0),
    )


_HEEL, _TOP_Y, _SILL = (52.0, 13.0), 39.0, (32.2, 36.5)
_FLOOR_Y, _SURFACE = 29.5, 23.0


def _face_x(y: float) -> float:
    """Return the outer face of the transom of the cut stern at a height."""
    return _HEEL[0] + (y - _HEEL[1]) * _RAKE


def cut_stern() -> Items:
    """Return the stern cut along the centreline: transom, motor well with its sill, sole."""
    (x, y), (sill_x, sill_y) = _HEEL, _SILL
    top, thick, skin = (_face_x(_TOP_Y), _TOP_Y), 2.6, 1.2
    far = ((LEFT, y), _HEEL, (_face_x(44.0), 44.0), (LEFT, 45.0))
    cut = (
        (LEFT, y), _HEEL, top, (top[0] - thick, _TOP_Y), (_face_x(_FLOOR_Y) - thick, _FLOOR_Y),
        (sill_x + 0.8, _FLOOR_Y + 0.8), (sill_x + 0.8, sill_y), (sill_x - 0.8, sill_y),
        (sill_x - 0.8, 21.0), (LEFT, 21.0), (LEFT, 21.0 - skin), (sill_x + 0.8, 21.0 - skin),
        (sill_x + 0.8, _FLOOR_Y - skin + 0.8), (_face_x(_FLOOR_Y - skin) - thick, _FLOOR_Y - skin),
        (x - thick + 0.8, y + skin), (LEFT, y + skin),
    )  # fmt: skip
    return (
        shape(far, "HULL", pen=None),
        line(far[1:], "HULL", FAINT),
        shape(cut, "TRANSOM", Ink.COWL, FAINT),
        line(((LEFT, y), _HEEL, top, (top[0] - thick, _TOP_Y)), "TRANSOM", EDGE_QUIET),
        zigzag((LEFT, y - 1.5), (LEFT, 46.5), "HULL"),
    )


def _scupper() -> Items:
    """Return the scupper of the cut stern, through the transom at the well's floor."""
    low, high, thick = _FLOOR_Y, _FLOOR_Y + 2.6, 2.6
    corners = (
        (_face_x(low), low), (_face_x(high), high), (_face_x(high) - thick, high),
        (_face_x(low) - thick, low),
    )  # fmt: skip
    return (shape(corners, "EXISTING", Ink.PAPER),)


def above_water(what: str) -> Items:
    """Return: afloat at the stern, from a place straight down to the water.

    :param what: "transom_top", "scupper" or "well_sill".
    """
    afloat = (*water_body(_SURFACE), *cut_stern(), *_scupper(), *water_line(_SURFACE))
    if what == "transom_top":
        top = (_face_x(_TOP_Y), _TOP_Y)
        return (
            *afloat,
            *note((76.0, 49.0), "nobody aft", across="right"),
            *reading(top, (top[0], _SURFACE), ("straight", "down"), (60.5, 32.0)),
        )
    if what == "scupper":
        edge = (_face_x(_FLOOR_Y), _FLOOR_Y)
        return (
            *afloat,
            *note((76.0, 39.5), "scupper", across="right"),
            line(((66.0, 37.5), (edge[0] + 0.6, _FLOOR_Y + 1.6)), "NOTES", FAINT),
            *reading(edge, (edge[0], _SURFACE), ("lower", "edge"), (65.0, 27.7), offset=6.0,
                     direction=270.0),
        )  # fmt: skip
    return (
        *afloat,
        *note((39.0, 50.5), "well", across="centre"),
        line(((41.0, 48.0), (44.0, 34.0)), "NOTES", FAINT),
        *reading(_SILL, (_SILL[0], _SURFACE), ("sill", "to water"), (24.0, 30.0), across="right",
                 offset=-5.5, direction=270.0),
    )  # fmt: skip


_POD = (24.0, 36.0, 56.0)  # bottom, top, aft end


def _behind_stern() -> Items:
    """Return a stern with a closed pod behind it; its middle is marked."""
    heel, (low, high, end) = (30.0, 14.0), _POD
    top = (heel[0] + 24.0 * _RAKE, heel[1] + 24.0)
    side = [(heel[0] + (y - heel[1]) * _RAKE, y) for y in (low, high)]
    return (
        shape(((LEFT, 14.0), heel, top, (top[0] - 4.0, 38.0), (28.0, 42.0), (LEFT, 43.0)), "HULL",
              pen=None),
        line(((LEFT, 14.0), heel, top, (top[0] - 4.0, 38.0), (28.0, 42.0), (LEFT, 43.0)),
             "TRANSOM", EDGE_QUIET),
        zigzag((LEFT, 12.5), (LEFT, 44.5), "HULL"),
        shape((side[0], (end, low), (end, high), side[1]), "BRACKET", Ink.RESERVE),
        *keel_line(14.0, (4.0, 10.0)),
        *hole(_pod_middle(), 1.3, layer="DATUM"),
    )  # fmt: skip


def _pod_middle() -> Point:
    low, high, end = _POD
    y = (low + high) / 2.0
    return (30.0 + (y - 14.0) * _RAKE + end) / 2.0, y


def pod(what: str) -> Items:
    """Return: where the closed pod behind the transom lies, and how high it is.

    :param what: "aft", "bottom" or "height".
    """
    (x, y), (low, high, end) = _pod_middle(), _POD
    if what == "aft":
        return (
            *_behind_stern(),
            *note((57.0, 19.0), "at half its height", across="centre"),
            *reading((30.0 + (y - 14.0) * _RAKE, y), (x, y), ("face to", "middle"), (36.0, 45.5),
                     offset=10.0, direction=0.0),
        )  # fmt: skip
    if what == "bottom":
        return (
            *_behind_stern(),
            *note((47.0, 40.5), "closed pod", across="centre"),
            *note((76.0, 9.5), "− below", across="right"),
            *reading((end, 14.0), (end, low), ("keel line", "to bottom"), (58.5, 19.0),
                     across="right", offset=-5.0, direction=90.0),
        )  # fmt: skip
    return (
        *_behind_stern(),
        *note((47.0, 40.5), "closed pod", across="centre"),
        *reading((end, low), (end, high), ("bottom", "to top"), (62.5, 30.0), offset=-4.5,
                 direction=90.0),
    )  # fmt: skip


_MIDDLE = 31.0
_CHINE, _SHEER = (20.0, 9.0), (25.0, 30.0)  # half breadth, height above the keel line
_LOW = 13.0


def _section(*, keel: bool = True) -> Items:
    """Return a section of the boat from astern, with the keel line carried out to starboard."""
    half = ((0.0, 0.0), _CHINE, _SHEER)
    ring = [(_MIDDLE + x, _LOW + y) for x, y in half]
    ring += [(_MIDDLE - x, _LOW + y) for x, y in reversed(half[1:])]
    level_line = line(((4.0, _LOW), (RIGHT, _LOW)), "KEELLINE", CENTRE_QUIET)
    return (
        shape(ring, "HULL", pen=_OUTLINE),
        line(((_MIDDLE, _LOW - 4.0), (_MIDDLE, 48.0)), "CENTRELINES", CENTRE_QUIET),
        *((level_line,) if keel else ()),
    )


def _corner(of: Point, side: float = 1.0) -> Point:
    """Return where chine or sheer of the section lies, to starboard or to port (-1)."""
    return _MIDDLE + side * of[0], _LOW + of[1]


def half_breadth(*, chine: bool) -> Items:
    """Return: from the centreline of a section to its chine or sheer, not the whole beam."""
    of, name = (_CHINE, "to chine") if chine else (_SHEER, "to sheer")
    port, point = _corner(of, -1.0), _corner(of)
    words_y, offset, label_y = (4.3, -13.8, 30.0) if chine else (53.0, 4.6, 35.0)
    return (
        *_section(keel=False),
        *note((76.0, 53.0 if chine else 5.0), "section", across="right"),
        *wrong(port, point, "not the whole beam", (_MIDDLE, words_y), across="centre", part=0.2,
               offset=offset, direction=0.0),
        *reading((_MIDDLE, point[1]), point, ("centreline", name), (_MIDDLE + 2.0, label_y)),
    )  # fmt: skip


def section_height(*, chine: bool) -> Items:
    """Return: from the keel line square up to a section's chine or sheer."""
    point = _corner(_CHINE if chine else _SHEER)
    at = (58.5, 18.0) if chine else (59.0, 27.0)
    extra: Items = ()
    if chine:
        extra = wrong(
            (_MIDDLE, _LOW), point, ("not along", "the bottom"), (_MIDDLE + 2.0, 36.0),
            offset=7.5, part=0.5,
        )  # fmt: skip
    return (
        *_section(),
        *note((76.0, 53.0), "section", across="right"),
        *note((76.0, 8.5), "keel line", across="right"),
        *extra,
        *reading((point[0], _LOW), point, ("square", "up"), at, direction=90.0,
                 offset=-5.0 if chine else 0.0),
    )  # fmt: skip


def chine_height_aft() -> Items:
    """Return: a straightedge under the keel, from its edge up to the chine at the transom."""
    point = _corner(_CHINE)
    return (
        *_section(keel=False),
        bar((68.0, _LOW), (4.0, _LOW), 2.4),
        *note((_MIDDLE, 5.0), "straightedge, level", across="centre"),
        *note((_MIDDLE, 53.0), "at the transom", across="centre"),
        *reading((point[0], _LOW), point, ("edge", "to chine"), (59.0, 19.0), direction=90.0,
                 offset=-5.5),
    )  # fmt: skip


def chine_beam() -> Items:
    """Return: straight across from chine to chine, not at the sheer."""
    port, starboard = _corner(_CHINE, -1.0), _corner(_CHINE)
    return (
        *_section(keel=False),
        *tape(port, starboard),
        *note((76.0, 9.0), ("round: where", "it turns up"), across="right"),
        *wrong(_corner(_SHEER, -1.0), _corner(_SHEER), "not at the sheer", (_MIDDLE, 53.0),
               across="centre", offset=5.0, part=0.2),
        *reading(port, starboard, ("chine", "to chine"), (_MIDDLE + 2.0, 36.0), offset=7.5),
    )  # fmt: skip


def deadrise_amidships() -> Items:
    """Return: a level on the bottom half-way along, against level."""
    rise = 24.228  # of the section's bottom, degrees
    apex = (_MIDDLE, _LOW)
    return (
        *_section(keel=False),
        line((apex, (RIGHT, _LOW)), "DATUM", DASHED_QUIET),
        *level(moved(apex, 180.0 - rise, 11.5), 180.0 - rise, "20.0°"),
        *note((76.0, 53.0), "half-way along", across="right"),
        *note((76.0, 9.5), "level", across="right"),
        *reading_angle(apex, 25.0, 0.0, rise, "deadrise", (58.5, 18.0)),
    )


_AXIS = 8.0


def _round(up: float) -> Point:
    """Return the outside of a round section at a height above the keel line."""
    return _AXIS + 41.0 * (1.0 - (1.0 - up / 36.0) ** 2.5) ** 0.75, _LOW + up


def offset_entry(*, height: bool) -> Items:
    """Return: one entry of a table of offsets: a waterline's height, or the half breadth on it."""
    curve = [_round(36.0 * (index / 24.0) ** 2) for index in range(25)]
    point = _round(18.0)
    rows = [line(((_AXIS, y), (_AXIS + 46.0, y)), "DATUM", FAINT)
            for y in (_LOW + 9.0 * row for row in range(1, 5))]  # fmt: skip
    return (
        shape((*curve, (_AXIS, curve[-1][1])), "HULL", pen=_OUTLINE),
        *rows,
        line(((_AXIS, 8.0), (_AXIS, 52.5)), "CENTRELINES", CENTRE_QUIET),
        *keel_line(_LOW, (76.0, 9.0), across="right"),
        *note((_AXIS + 3.0, 52.8), "centreline"),
        *note((76.0, 44.5), "waterlines", across="right"),
        *hole(point, 1.1, layer="DATUM"),
        *(
            reading((point[0], _LOW), point, ("height of", "waterline"), (56.0, 25.6),
                    direction=90.0, offset=-7.0)
            if height
            else reading((_AXIS, point[1]), point, "to the outside", (11.0, 34.6))
        ),
    )  # fmt: skip


_STERN_X, _STERN_TOP = 40.0, 37.0


def astern(keel: float = 8.0) -> Items:
    """Return the boat from astern with the notch for the engine; she is 64 mm wide.

    :param keel: height of the keel in the frame.
    """
    right = (
        (14.0, _STERN_TOP), (15.4, 38.0), (16.0, 44.0), (32.0, 44.0), (29.0, keel + 11.0),
        (0.0, keel),
    )  # fmt: skip
    ring = [(_STERN_X + x, y) for x, y in right]
    ring += [(_STERN_X - x, y) for x, y in reversed(right[:-1])]
    return (shape(ring, "TRANSOM", Ink.HULL, _OUTLINE),)


_MARK, _MARK_MM = (58.0, 27.0), 2.2


def mark(what: str) -> Items:
    """Return: where an opening in the transom lies, always to its lower edge.

    :param what: "height", "below_top", "above_water" or "across".
    """
    (x, y), low = _MARK, (_MARK[0], _MARK[1] - _MARK_MM)
    opening = hole(_MARK, _MARK_MM)
    top = (line(((25.5, _STERN_TOP), (54.5, _STERN_TOP)), "TRANSOM", EDGE_QUIET),
           *note((40.0, 40.5), "transom top", across="centre"))  # fmt: skip
    if what == "height":
        return (
            *astern(10.0), *opening, bar((74.0, 10.0), (6.0, 10.0), 2.4),
            *note((40.0, 4.0), "straightedge, level", across="centre"),
            *reading((x, 10.0), low, ("up to", "lower edge"), (52.0, 21.0), across="right",
                     offset=4.0, direction=90.0),
        )  # fmt: skip
    if what == "below_top":
        return (
            *astern(), *top, *opening,
            line(((54.0, _STERN_TOP), (70.0, _STERN_TOP)), "DATUM", DASHED_QUIET),
            *reading((x, _STERN_TOP), low, ("down to", "lower edge"), (47.5, 31.0),
                     across="right", offset=-6.5, direction=270.0),
        )  # fmt: skip
    if what == "above_water":
        surface = 17.0
        return (
            *water_body(surface), *astern(), *water_line(surface), *opening,
            *note((40.0, 50.0), "calm water", across="centre"),
            *reading(low, (x, surface), ("lower edge", "to water"), (50.0, 24.0), across="right",
                     offset=-4.5, direction=270.0),
        )  # fmt: skip
    return (
        *astern(), *opening,
        line(((_STERN_X, 3.0), (_STERN_X, 48.0)), "CENTRELINES", CENTRE_QUIET),
        *note((_STERN_X, 51.5), "centreline", across="centre"),
        *note((4.0, 6.0), "port"), *note((76.0, 6.0), "starboard", across="right"),
        *reading((_STERN_X, y), _MARK, ("+ starboard", "− port"), (42.0, 19.8)),
    )  # fmt: skip
