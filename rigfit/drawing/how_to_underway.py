"""How-to pictures of the boat under way and of the propeller that belongs to it."""

from __future__ import annotations

from rigfit.drawing.how_to_afloat import Profile, ahead, up, water_body, water_line
from rigfit.drawing.how_to_engine import LEG_MM, SIZES, engine
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    QUIET,
    Items,
    View,
    box,
    hole,
    line,
    moved,
    note,
    reading_angle,
    reading_at,
)
from rigfit.drawing.how_to_side import Stern
from rigfit.drawing.how_to_swing import tilted, tilted_point
from rigfit.drawing.how_to_trial import diameter as trial_diameter
from rigfit.drawing.how_to_trial import pitch as trial_pitch
from rigfit.drawing.scene import Disc, Ink, Item, Text

_BOAT = Profile()


def _aboard(boat: Profile, heads: int = 2) -> Items:
    """Return the engine on the transom and people standing amidships."""
    items: list[Item] = []
    for k in range(heads):
        x, y = boat.at(30.0 - 8.0 * k, 12.0)
        items += [box(x - 1.6, y - 1.0, x + 1.6, y + 5.0, "OBSTACLE", Ink.COWL)]
        items += [Disc((x, y + 6.8), 1.6, "OBSTACLE", QUIET, Ink.COWL)]
    seat = boat.aft(boat.top_up)
    return *items, *engine(View(100.0 / boat.size, seat))


def mass() -> Items:
    """Return: the whole boat as she is run, added up on a sheet or weighed."""
    boat, surface, x, y = Profile((60.0, 8.0), 0.8), 14.5, 19.0, 39.5
    items: list[Item] = [box(x - 13.0, y - 14.0, x + 13.0, y + 13.0, "NOTES", Ink.HULL)]
    for index, name in enumerate(("boat", "engine", "people", "fuel")):
        items += note((x - 11.0, y + 9.4 - 4.6 * index), name)
    items.append(line(((x - 11.0, y - 7.0), (x + 11.0, y - 7.0)), "NOTES", QUIET))
    items.append(box(x - 9.6, y - 13.0, x + 9.6, y - 7.8, "NOTES", Ink.PAPER))
    figure = Text((x, y - 10.4), "980 kg", "NOTES", 2.7, across="centre", up="middle",
                  group="measures")  # fmt: skip
    return (
        *water_body(surface),
        *_aboard(boat),
        *boat.hull(chine=False),
        *water_line(surface),
        *items,
        figure,
        *reading_at((29.0, y - 10.4), (38.0, 40.0), ("all of her,", "loaded"), (40.0, 42.0)),
    )


def centre_ahead() -> Items:
    """Return: from the foot of the transom to where the loaded boat balances."""
    middle = _BOAT.at(20.0, 9.0)
    return ahead(
        middle, ("foot to balance",), _aboard(_BOAT), hole(middle, 1.5, layer="DATUM"),
        note((40.0, 51.0), "balances here, loaded", across="centre"),
    )  # fmt: skip


def centre_height() -> Items:
    """Return: from the keel line up to the loaded boat's centre of gravity."""
    middle = _BOAT.at(20.0, 10.5)
    return up(
        middle, ("up to", "centre"), (45.0, 22.5), _aboard(_BOAT), hole(middle, 1.5, layer="DATUM"),
        note((40.0, 51.0), "centre of gravity, loaded", across="centre"),
    )  # fmt: skip


def plate_angle() -> Items:
    """Return: the plate against the keel line, + with the propeller trimmed out."""
    scale, turned, keel_y = 31.0, 15.0, 17.0
    stern = Stern((20.0, keel_y), scale)
    view = View(scale, stern.top)
    start = tilted_point(view, (-140.0, -LEG_MM), turned)
    aft = tilted_point(view, (SIZES.plate_aft + 260.0, -LEG_MM), turned)
    reach = 36.0
    return (
        *stern.hull(),
        *tilted(view, turned),
        line(((3.0, keel_y), (20.0, keel_y)), "KEELLINE", CENTRE_QUIET),
        line((start, moved(start, 0.0, reach + 3.0)), "DATUM", DASHED_QUIET),
        line((start, aft), "PLATE", CENTRE_QUIET),
        *note((4.0, 12.5), "keel line"),
        *note((4.0, 4.0), "dashed: parallel to it"),
        *note((59.0, 30.0), "plate"),
        *reading_angle(start, reach, 0.0, turned, "+ out", (62.0, 20.5)),
    )


def pitch() -> Items:
    """Return: how far the blades' helix leads in one turn, as the hub says."""
    return *note((76.0, 3.6), "13¼ × 17", across="right"), *trial_pitch()


def diameter() -> Items:
    """Return: across the circle the blades' tips run in, as the hub says."""
    return *note((76.0, 51.5), "hub: 13¼ × 17", across="right"), *trial_diameter()
