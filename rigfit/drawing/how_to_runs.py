"""How-to pictures of runs: the way of a conductor, and the three legs of a cable, from above."""

from __future__ import annotations

import math

from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    EDGE_QUIET,
    FAINT,
    QUIET,
    Items,
    box,
    line,
    note,
    reading,
    shape,
)
from rigfit.drawing.scene import Disc, Ink, Pen, Point

_OUTLINE = Pen(0.35, ink=Ink.MUTED)
_WHEEL: Point = (55.0, 26.0)
_TURN: Point = (55.0, 13.0)
_CORNER: Point = (19.0, 13.0)
_ENGINE: Point = (19.0, 28.0)


def wire_length() -> Items:
    """Return: along the way the pair of conductors lies, once, from source to what it feeds."""
    foot, rise = 16.5, 36.0
    red = ((20.0, 22.0), (20.0, foot + 1.5), (58.5, foot + 1.5), (58.5, rise))
    black = ((18.0, 22.0), (18.0, foot), (60.0, foot), (60.0, rise))
    return (
        box(8.0, 22.0, 26.0, 33.0, "OBSTACLE", Ink.COWL),
        box(16.8, 33.0, 21.2, 34.5, "OBSTACLE", Ink.RESERVE),
        box(50.0, rise, 68.0, 46.0, "OBSTACLE", Ink.COWL),
        line(red, "EXISTING", EDGE_QUIET),
        line(black, "EXISTING", QUIET),
        *note((17.0, 38.5), "source", across="centre"),
        *note((59.0, 50.0), "what it feeds", across="centre"),
        *note((40.0, 25.0), ("with every", "corner"), across="centre"),
        *reading(black[1], black[2], "the way, once", (40.0, 8.0), across="centre",
                 offset=-4.0, direction=0.0),
    )  # fmt: skip


def _boat() -> Items:
    """Return a boat from above, bow to the right, with wheel, engine and cable."""
    bow = [
        (50.0 + 26.0 * math.sin(turn), 28.0 - 20.0 * math.cos(turn))
        for turn in (math.pi * step / 12.0 for step in range(13))
    ]
    return (
        shape([(15.0, 9.5), *bow, (15.0, 46.5)], "HULL", pen=_OUTLINE),
        box(6.0, 24.0, 14.0, 32.0, "ENGINE", Ink.ENGINE),
        box(14.0, 26.0, 16.5, 30.0, "BRACKET", Ink.COWL),
        line(((4.0, 28.0), (77.5, 28.0)), "CENTRELINES", CENTRE_QUIET),
        Disc(_WHEEL, 4.2, "EXISTING", pen=EDGE_QUIET),
        line((_WHEEL, _TURN, _CORNER, _ENGINE), "EXISTING", Pen(0.5, ink=Ink.MUTED)),
        Disc(_WHEEL, 0.8, "EXISTING", pen=QUIET, fill=Ink.COWL),
        line(((15.0, 9.5), (15.0, 46.5)), "TRANSOM", EDGE_QUIET),
    )


def leg_a() -> Items:
    """Return: from the middle of the wheel to where the cable turns aft along the side."""
    return (
        *_boat(),
        *note((40.0, 36.0), "helm", across="centre"),
        line(((44.5, 35.0), (51.5, 29.0)), "NOTES", FAINT),
        *reading(_TURN, _WHEEL, ("A to", "the turn"), (46.0, 19.5), across="right", offset=7.0,
                 direction=90.0),
    )  # fmt: skip


def leg_b() -> Items:
    """Return: along the side, from that turn to where the cable turns in to the engine."""
    return (
        *_boat(),
        *note((64.0, 33.0), "helm"),
        *reading(_CORNER, _TURN, "B along the side", (37.0, 21.3), across="centre", offset=4.5,
                 direction=0.0),
    )  # fmt: skip


def leg_c() -> Items:
    """Return: from the side to the middle of the engine."""
    return (
        *_boat(),
        *note((64.0, 33.0), "helm"),
        *note((7.6, 36.0), "engine", across="centre"),
        *reading(_CORNER, _ENGINE, ("C", "to the", "engine"), (26.5, 20.5), offset=-5.0,
                 direction=90.0),
    )  # fmt: skip
