"""How-to pictures from the side, bow to the left: boat, transom and keel line."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    EDGE_QUIET,
    FAINT,
    Items,
    bar,
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
from rigfit.drawing.scene import Across, Ink, Point
from rigfit.rigging.plate_height import along_face, outward

BOW = "← bow"

LEFT_MM = 3.0
"""Where the hull breaks off, from the left edge of the frame."""


@dataclass(frozen=True, slots=True)
class Stern:
    """The aft end of a boat, drawn as the side profile draws it.

    :param heel: where the keel line meets the outer face, paper mm.
    :param scale: real mm per paper mm.
    :param height: of the transom along its face, real mm.
    :param rake: of the transom, degrees.
    :param thick: thickness of the transom, real mm.
    """

    heel: Point
    scale: float
    height: float = 518.0
    rake: float = 13.0
    thick: float = 45.0

    @classmethod
    def under(cls, top: Point, scale: float) -> Stern:
        """Return the stern whose transom top lies at a point."""
        plain = cls((0.0, 0.0), scale)
        x, y = plain.top
        return cls((top[0] - x, top[1] - y), scale)

    def face(self, up: float, out: float = 0.0) -> Point:
        """Return the point ``up`` above the heel along the face and ``out`` aft of it, real mm."""
        (tx, tz), (nx, nz) = along_face(self.rake), outward(self.rake)
        x, z = up * tx + out * nx, up * tz + out * nz
        return self.heel[0] + x / self.scale, self.heel[1] + z / self.scale

    def below(self, down: float, out: float = 0.0) -> Point:
        """Return the point ``down`` below the transom top along the face."""
        return self.face(self.height - down, out)

    @property
    def top(self) -> Point:
        """The transom top, on the outer face."""
        return self.face(self.height)

    @property
    def down_deg(self) -> float:
        """The direction down the face, degrees."""
        return 270.0 - self.rake

    def hull(self) -> Items:
        """Return the hull from a break line to the transom, which is cut through."""
        (x0, y0), top = self.heel, self.top
        inner, low = self.below(0.0, -self.thick), self.face(26.0, -self.thick)
        shell = 14.0 / self.scale + 0.3
        rail = top[1] + 3.6
        deck = (
            (inner[0] - 4.0, top[1] - 0.5),
            (inner[0] - 7.0, rail),
            (LEFT_MM, rail + 1.0),
        )
        skin = ((LEFT_MM, y0), self.heel, top, inner, low, (low[0] - 1.5, y0 + shell))
        return (
            shape(((LEFT_MM, y0), self.heel, top, inner, *deck), "HULL", pen=None),
            shape((*skin, (LEFT_MM, y0 + shell)), "HULL", Ink.COWL, pen=None),
            line((inner, *deck), "HULL"),
            line(((LEFT_MM, y0 + shell), (low[0] - 1.5, y0 + shell), low, inner), "HULL", FAINT),
            line(((LEFT_MM, y0), (x0, y0), top, inner), "TRANSOM", EDGE_QUIET),
            zigzag((LEFT_MM, y0 - 1.5), (LEFT_MM, rail + 2.0), "HULL"),
        )

    def slab(self, down: float) -> Items:
        """Return the upper part of the transom only, cut through and broken off below."""
        ends = (self.below(down), self.below(down, -self.thick))
        edge = (ends[0], self.top, self.below(0.0, -self.thick), ends[1])
        return (
            shape(edge, "TRANSOM", Ink.COWL, pen=None),
            line(edge, "TRANSOM", EDGE_QUIET),
            zigzag(moved(ends[1], 180.0 - self.rake, 1.5), moved(ends[0], -self.rake, 1.5),
                   "TRANSOM"),
        )  # fmt: skip

    def block(self, top: float, low: float, inner: float, outer: float) -> tuple[Point, ...]:
        """Return the corners of a block that lies along the face.

        :param top: and ``low``: its ends below the transom top, real mm.
        :param inner: and ``outer``: its sides aft of the face, real mm.
        """
        corners = ((top, inner), (low, inner), (low, outer), (top, outer))
        return tuple(self.below(*corner) for corner in corners)

    def bolt(self, down: float, washer: float = 25.0) -> Items:
        """Return a bolt through the transom: its centre line, and a washer with a nut inside."""
        inside, plate, nut = -self.thick, -self.thick - 14.0, -self.thick - 30.0
        axis = (self.below(down, 45.0), self.below(down, nut - 30.0))
        return (
            shape(self.block(down - washer, down + washer, plate, inside), "TRANSOM", Ink.PAPER),
            shape(self.block(down - 13.0, down + 13.0, nut, plate), "TRANSOM", Ink.PAPER),
            line(axis, "CENTRELINES", CENTRE_QUIET),
        )


def height_along_face() -> Items:
    """Return: tape down the face to the hull's own bottom, not to the keel strip."""
    stern = Stern((26.0, 14.5), 15.0)
    x, y = stern.heel
    strip = ((LEFT_MM, y - 4.0), (x - 1.0, y - 4.0), (x, y), (LEFT_MM, y))
    return (
        *stern.hull(),
        shape(strip, "HULL", Ink.COWL),
        *tape(stern.top, stern.heel),
        *note((5.0, 27.0), BOW),
        *note((4.0, 6.5), "keel strip"),
        *wrong(
            stern.top, (x - 1.0, y - 4.0), ("not to the", "keel strip"), (61.0, 20.0),
            offset=27.0, direction=stern.down_deg, part=0.62,
        ),
        *reading(
            stern.top, stern.heel, ("along", "the face"), (38.5, 29.0), offset=5.0
        ),
    )  # fmt: skip


def height_square() -> Items:
    """Return: straightedge under the keel, tape square up from it."""
    stern = Stern((26.0, 13.0), 15.0)
    y, right = stern.heel[1], stern.top[0] + 2.0
    corner = ((right + 1.7, y + 2.0), (right + 3.7, y + 2.0), (right + 3.7, y))
    return (
        *stern.hull(),
        bar((70.0, y), (6.0, y), 2.2),
        *tape((right, stern.top[1]), (right, y)),
        line(corner, "MEASURES", FAINT),
        *note((5.0, 30.0), BOW),
        *note((38.0, 6.5), "straightedge", across="centre"),
        *reading(
            stern.top, (right, y), ("square to", "the keel"), (47.0, 30.0), offset=8.0,
            direction=270.0,
        ),
    )  # fmt: skip


def rake() -> Items:
    """Return: a digital level zeroed on the straightedge, then laid on the face."""
    stern = Stern((27.0, 11.0), 17.0)
    y = stern.heel[1]
    reach = 42.0
    up = moved(stern.heel, 90.0, reach), moved(stern.heel, 90.0 - stern.rake, reach)
    return (
        *stern.hull(),
        bar((74.0, y), (6.0, y), 2.2),
        line((stern.heel, up[0]), "CENTRELINES", CENTRE_QUIET),
        line((stern.top, up[1]), "CENTRELINES", FAINT),
        *level((58.0, y), 0.0, "0.0°"),
        *level(stern.face(270.0), stern.down_deg, "13.0°"),
        *note((5.0, 24.0), BOW),
        *note((58.0, 20.5), "1  zero it here", across="centre"),
        *note((43.0, 33.0), ("2  lay it here,", "then swap ends")),
        *note((38.0, 5.0), "straightedge", across="centre"),
        *reading_angle(
            stern.heel, reach - 2.5, 90.0 - stern.rake, 90.0, "rake", (41.0, 49.5)
        ),
    )  # fmt: skip


def thickness() -> Items:
    """Return: a feeler through an old hole, face to face, not over the trim."""
    stern = Stern.under((36.0, 42.5), 3.4)
    inside, at = -stern.thick, 72.0
    trim = stern.block(-10.0, 18.0, inside - 9.0, 9.0)
    rod = ((at - 2.0, 62.0), (at - 2.0, inside), (at - 17.0, inside), (at - 17.0, inside - 4.0),
           (at + 2.0, inside - 4.0), (at + 2.0, 62.0))  # fmt: skip
    return (
        *stern.slab(134.0),
        shape(trim, "TRANSOM", Ink.ENGINE),
        shape(stern.block(at - 8.0, at + 8.0, inside, 0.0), "TRANSOM", Ink.PAPER),
        shape((stern.below(*corner) for corner in rod), "DATUM", Ink.RESERVE),
        shape(stern.block(at - 14.0, at + 14.0, 0.0, 7.0), "DATUM", Ink.RESERVE),
        *note((52.0, 23.5), ("feeler through", "an old hole")),
        *wrong(trim[3], trim[0], ("not over", "the trim"), (43.5, 47.0), offset=-3.4),
        *reading(
            stern.below(108.0), stern.below(108.0, inside), "face to face", (33.0, 8.5)
        ),
    )  # fmt: skip


def lowest_bolt() -> Items:
    """Return: down the outer face to the lowest bolt whose washer still clears the well floor."""
    stern = Stern((30.0, 2.5), 11.0)
    down = 330.0
    floor_x, floor_y = stern.below(down + 34.0, -stern.thick)
    front = 8.0
    well = (
        (front, stern.top[1]),
        (front, floor_y),
        (floor_x, floor_y),
        (floor_x - 0.3, floor_y - 1.3),
        (front - 1.3, floor_y - 1.3),
        (front - 1.3, stern.top[1]),
    )
    return (
        *stern.hull(),
        shape(well, "HULL", Ink.COWL),
        *stern.bolt(down),
        *note((19.0, floor_y - 4.6), "well floor", across="centre"),
        *note((10.0, floor_y + 12.0), ("washer", "just clears")),
        *reading(
            stern.top, stern.below(down), ("lowest", "sound place"), (50.0, 31.0), offset=7.0
        ),
    )  # fmt: skip


_KEEL_MM_PER_MM = 14.5
_KEEL_EDGE_Y = 24.0
_KEEL_HEEL_X = 70.0
_KEEL_GAP = 5.5
_KEEL_REACH_MM = 900.0
_KEEL_END_X = _KEEL_HEEL_X - (_KEEL_REACH_MM + 15.0) / _KEEL_MM_PER_MM


def _gap(ahead: float, *, hollow: bool) -> float:
    """Return the gap, paper mm, ``ahead`` of the transom: of a hollow bottom, or of a rounded one.

    A straightedge touches a hollow bottom at both its ends and a rounded one in the middle.
    """
    part = (2.0 * ahead / _KEEL_REACH_MM - 1.0) ** 2
    return _KEEL_GAP * (1.0 - part if hollow else part)


def _keel_x(ahead: float) -> float:
    return _KEEL_HEEL_X - ahead / _KEEL_MM_PER_MM


def _keel_bottom(*, hollow: bool) -> Items:
    steps = [_KEEL_REACH_MM * part / 24.0 for part in range(24, -1, -1)]
    bottom = [(_keel_x(at), _KEEL_EDGE_Y + _gap(at, hollow=hollow)) for at in steps]
    heel, bow = bottom[-1], (LEFT_MM, bottom[0][1] + (0.2 if hollow else 1.2))
    turn = math.tan(math.radians(13.0))
    top = (heel[0] + (51.0 - heel[1]) * turn, 51.0)
    area = (bow, *bottom, top, (LEFT_MM, 51.0))
    return (
        shape(area, "HULL", pen=None),
        line((bow, *bottom, top), "HULL", EDGE_QUIET),
        zigzag((LEFT_MM, 51.0), (top[0], 51.0), "HULL"),
        zigzag((LEFT_MM, bow[1] - 1.0), (LEFT_MM, 51.0), "HULL"),
    )


def keel_gap(ahead: float) -> Items:
    """Return: straightedge under the bottom, the gap at one station counted from the transom."""
    # Only a rounded bottom has gaps at the ends of the edge, only a hollow one between them.
    hollow = 0.0 < ahead < _KEEL_REACH_MM
    x, y = _keel_x(ahead), _KEEL_EDGE_Y
    words = f"gap at {ahead:.0f} mm" if ahead else "gap at the transom"
    label_x = min(max(x, 22.0), 55.0 if ahead else 52.0)
    return (
        *_keel_bottom(hollow=hollow),
        bar((_KEEL_HEEL_X, y), (_KEEL_END_X, y), 2.4),
        *note((11.0, 37.0), BOW),
        *(_station(ahead) if ahead else note((54.0, 16.5), "straightedge", across="centre")),
        *(_wrong_station(ahead) if hollow else _wrong_end(_KEEL_REACH_MM - ahead)),
        *reading(
            (x, y), (x, y + _gap(ahead, hollow=hollow)), words, (label_x, 42.0),
            across="centre",
        ),
    )  # fmt: skip


def _station(ahead: float) -> Items:
    """Return how far ahead of the transom the gap is read."""
    x, low = _keel_x(ahead), _KEEL_EDGE_Y - 2.4
    return (
        *quiet((x, low), (_KEEL_HEEL_X, low), offset=-5.0),
        *note((max((x + _KEEL_HEEL_X) / 2.0, 61.0), 13.2), f"{ahead:.0f} mm", across="centre"),
    )


def _wrong_station(ahead: float) -> Items:
    """Return the station counted from the wrong end of the straightedge."""
    stop, low = _KEEL_END_X + ahead / _KEEL_MM_PER_MM, _KEEL_EDGE_Y - 2.4
    return wrong(
        (_KEEL_END_X, low), (stop, low), ("not from", "the bow"), (stop + 2.5, 7.0), offset=-14.6
    )


def _wrong_end(ahead: float) -> Items:
    """Return the gap read at the other end of the straightedge."""
    x, y = _keel_x(ahead), _KEEL_EDGE_Y
    words = "not at the bow end" if ahead else "not at the transom"
    low = y + _KEEL_GAP
    across: Across
    across, label_x = ("right", _KEEL_HEEL_X + 4.0) if not ahead else ("left", x - 3.0)
    return wrong((x, y), (x, low), words, (label_x, 7.0 if not ahead else 16.5), across=across)
