"""How-to pictures of what an engine takes up as it tilts and turns, and of its steering gear.

From the side the bow is to the left; from above it is up, so that starboard is to the right as it
is from astern.
"""

from __future__ import annotations

from dataclasses import replace

from rigfit.drawing.how_to_engine import LEG_MM, SIZES, clamp, engine
from rigfit.drawing.how_to_parts import (
    CENTRE_QUIET,
    DASHED_QUIET,
    FAINT,
    QUIET,
    Items,
    View,
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
from rigfit.drawing.how_to_side import Stern
from rigfit.drawing.scene import Disc, Ink, Path, Point
from rigfit.rigging.outline import Outline, softened

_SCALE = 30.0
_SEAT: Point = (36.0, 29.3)
_TILT_AXIS: Point = (0.0, 45.0)  # real mm from the seat
_HOOD_TOP = SIZES.cowl_bottom + SIZES.cowl_height


def _standing() -> Items:
    """Return a whole engine off the boat, its plate level and named."""
    view, stern = View(_SCALE, _SEAT), Stern.under(_SEAT, _SCALE)
    tip = view.at(SIZES.plate_aft, -LEG_MM)
    return (
        *engine(view),
        *clamp(stern, 0.0),
        line((tip, (tip[0] + 5.0, tip[1])), "PLATE", FAINT),
        *note((tip[0] + 6.0, tip[1]), "plate level"),
    )


def _hood_ends(view: View) -> tuple[Point, Point]:
    """Return the foremost and the aftmost point of the hood."""
    ring = max((item for item in engine(view, ("cowl",)) if isinstance(item, Path)),
               key=lambda item: len(item.points)).points  # fmt: skip
    return min(ring), max(ring)


def cowl_length() -> Items:
    """Return: from the foremost to the aftmost point of the hood, not to the propeller."""
    view = View(_SCALE, _SEAT)
    front, back = _hood_ends(view)
    blade = view.at(SIZES.propeller_aft + 0.29 * SIZES.propeller_diameter, -LEG_MM - 200.0)
    return (
        *_standing(),
        *wrong(
            (front[0], 16.0), blade, ("not to the", "propeller"), (28.0, 8.0), across="right",
            offset=9.2 - blade[1], direction=0.0, part=0.14,
        ),
        *reading(front, back, ("front", "to back"), (57.5, 50.2), offset=50.2 - back[1],
                 direction=0.0),
    )  # fmt: skip


def cowl_top_above_seat() -> Items:
    """Return: from the seat up to the top of the hood, not from the hood's own edge."""
    view = View(_SCALE, _SEAT)
    top = view.at(36.0, _HOOD_TOP)
    edge = view.at(SIZES.cowl_length - SIZES.cowl_forward - 25.0, SIZES.cowl_bottom)
    return (
        *_standing(),
        *wrong(
            edge, top, ("not from", "its edge"), (62.0, 40.0), offset=-5.5, direction=90.0,
        ),
        *reading(
            _SEAT, top, ("seat", "to top"), (21.5, 37.5), across="right", offset=12.5,
            direction=90.0,
        ),
    )  # fmt: skip


def cowl_front_ahead_of_seat() -> Items:
    """Return: from the seat forward to the foremost point, the cable grommet included."""
    scale, seat = 15.0, (34.0, 20.0)
    view, stern = View(scale, seat), Stern.under(seat, scale)
    front, _back = _hood_ends(view)
    cable = (front[0] - 2.2, view.at(0.0, SIZES.cowl_bottom + 80.0)[1])
    middle, half = view.at(SIZES.leg_aft, 0.0)[0], SIZES.leg_breadth / scale / 2.0
    return (
        box(middle - half, 6.0, middle + half, 26.0, "ENGINE", Ink.ENGINE),
        zigzag((middle - half - 1.5, 6.0), (middle + half + 1.5, 6.0), "ENGINE"),
        box(cable[0], cable[1] - 1.6, front[0] + 1.5, cable[1] + 1.6, "ENGINE", Ink.ENGINE),
        *engine(view, ("pan", "cowl", "stripe")),
        *clamp(stern, 0.0, drop=100.0),
        *note((4.0, 47.5), ("grommet", "counts")),
        line(((12.0, 43.0), (cable[0] + 0.3, cable[1] + 1.9)), "NOTES", FAINT),
        *note((64.5, 12.0), ("plate", "level")),
        *reading(
            cable, seat, ("front", "to seat"), (18.5, 9.0), across="right",
            offset=9.0 - seat[1], direction=0.0,
        ),
    )  # fmt: skip


def _latched(view: View) -> Items:
    """Return a hood from above with a latch on either side; the origin is its middle."""
    half, long = SIZES.cowl_breadth / 2.0, SIZES.cowl_length / 2.0
    ring = softened(
        ((-0.8 * half, long), (0.8 * half, long), (half, 0.4 * long), (half, -0.5 * long),
         (0.75 * half, -long), (-0.75 * half, -long), (-half, -0.5 * long), (-half, 0.4 * long))
    )  # fmt: skip
    latches = []
    for way in (-1.0, 1.0):
        left, low = view.at(way * half - 26.0, -50.0)
        right, high = view.at(way * half + 26.0, 30.0)
        latches.append(box(left, low, right, high, "ENGINE", Ink.ENGINE))
    return (
        *latches,
        shape(view.all(ring), "ENGINE", Ink.COWL),
        line(view.all(((0.0, long + 40.0), (0.0, -long - 40.0))), "CENTRELINES", CENTRE_QUIET),
    )


def cowl_breadth() -> Items:
    """Return: across the hood at its widest, latches included."""
    view = View(15.0, (40.0, 27.0))
    half = SIZES.cowl_breadth / 2.0
    bare = [view.at(way * half, 60.0) for way in (-1.0, 1.0)]
    wide = [view.at(way * (half + 26.0), -50.0) for way in (-1.0, 1.0)]
    return (
        *_latched(view),
        *note((4.0, 6.0), "from above"),
        *note((69.0, 26.3), "latch", across="centre"),
        line(((64.5, 26.3), (wide[1][0] + 0.3, 26.3)), "NOTES", FAINT),
        *wrong(bare[0], bare[1], ("not without", "the latches"), (66.0, 41.5), across="centre",
               offset=5.0),
        *reading(wide[0], wide[1], ("widest", "place"), (62.0, 14.0), offset=-8.5),
    )  # fmt: skip


def skeg_below_plate() -> Items:
    """Return: square to the plate from its underside to the skeg's tip, not to the propeller."""
    scale, plate_y = 11.0, 40.0
    view = View(scale, (20.0, plate_y + LEG_MM / scale))
    middle, half = view.at(SIZES.leg_aft, 0.0)[0], SIZES.leg_breadth / scale / 2.0
    tip = view.at(SIZES.propeller_aft - 0.09 * SIZES.gearcase_length - 60.0,
                  -LEG_MM - SIZES.skeg_below_plate)  # fmt: skip
    blade = view.at(SIZES.propeller_aft + 0.2 * SIZES.propeller_diameter,
                    -LEG_MM - SIZES.shaft_below_plate - SIZES.propeller_diameter / 2.0)  # fmt: skip
    aft = view.at(SIZES.plate_aft, -LEG_MM)
    front = view.at(SIZES.plate_aft - SIZES.plate_length, -LEG_MM)
    return (
        box(middle - half, plate_y, middle + half, 52.0, "ENGINE", Ink.ENGINE),
        zigzag((middle - half - 1.5, 52.0), (middle + half + 1.5, 52.0), "ENGINE"),
        *engine(view, ("propeller", "skeg", "gearcase", "strut", "plate")),
        *note((58.0, 46.0), "plate"),
        line(((63.0, 44.0), (aft[0] - 4.0, plate_y + 1.2)), "NOTES", FAINT),
        *wrong(
            (aft[0], plate_y), (blade[0], blade[1]), ("not to", "the blade"), (63.0, 5.5),
            offset=4.0, direction=270.0, part=0.4,
        ),
        *reading(
            front, tip, ("plate", "to tip"), (18.5, 17.0), across="right", offset=-8.0,
            direction=270.0,
        ),
    )  # fmt: skip


def tilted(view: View, angle_deg: float, axis: Point = _TILT_AXIS) -> Items:
    """Return the engine turned up about its tilt axis; angles against level, propeller up +."""

    def turn(points: tuple[Point, ...]) -> tuple[Point, ...]:
        real = tuple(
            ((x - view.origin[0]) * view.scale, (y - view.origin[1]) * view.scale)
            for x, y in points
        )
        return view.all(Outline({"": real}).turned(axis, angle_deg).parts[""])

    return tuple(
        replace(item, points=turn(item.points)) if isinstance(item, Path) else item
        for item in engine(view)
    )


def tilted_point(view: View, point: Point, angle_deg: float) -> Point:
    """Return where a point of the level engine, real mm from the seat, comes to in the frame."""
    return view.at(*Outline({"": (point,)}).turned(_TILT_AXIS, angle_deg).parts[""][0])


def _square_corner(foot: Point, rake: float) -> Path:
    """Return the mark of a right angle between the face, upwards, and a line out from it."""
    size = 1.8
    up, out = moved(foot, 90.0 - rake, size), moved(foot, -rake, size)
    return line((up, moved(up, -rake, size), out), "MEASURES", FAINT)


def full_tilt() -> Items:
    """Return: the plate fully tilted, against a line square to the face."""
    scale, seat, turned = 28.0, (23.0, 25.0), 67.0
    view, stern = View(scale, seat), Stern.under(seat, scale)
    apex = tilted_point(view, (-130.0, -LEG_MM), turned)
    aft = tilted_point(view, (SIZES.plate_aft + 200.0, -LEG_MM), turned)
    # Where the line square to the face through that apex leaves the face.
    dx, dy = apex[0] - seat[0], apex[1] - seat[1]
    down = -scale * (dx * (stern.face(1.0)[0] - stern.heel[0]) * scale
                     + dy * (stern.face(1.0)[1] - stern.heel[1]) * scale)  # fmt: skip
    foot, radius = stern.below(down), 31.0
    return (
        *stern.slab(330.0),
        *clamp(stern, 0.0),
        *tilted(view, turned),
        line((foot, moved(apex, -stern.rake, radius + 3.0)), "DATUM", DASHED_QUIET),
        _square_corner(foot, stern.rake),
        line((apex, aft), "PLATE", CENTRE_QUIET),
        *note((66.0, 51.0), "plate"),
        line(((65.5, 51.0), (aft[0] + 0.6, aft[1] - 0.6)), "NOTES", FAINT),
        *note((4.0, 5.0), "square to the face"),
        line(((37.0, 5.0), moved(apex, -stern.rake, 3.0)), "NOTES", FAINT),
        *reading_angle(
            apex, radius, -stern.rake, turned, "full tilt", (63.0, 41.0)
        ),
    )  # fmt: skip


def trim_in() -> Items:
    """Return: the plate fully in, against a line square to the face."""
    scale, seat, turned = 27.0, (24.0, 33.0), -3.0
    view, stern = View(scale, seat), Stern.under(seat, scale)
    aft = tilted_point(view, (SIZES.plate_aft + 480.0, -LEG_MM), turned)
    reach = 41.0
    start = tilted_point(view, (-120.0, -LEG_MM), turned)
    return (
        *stern.slab(600.0),
        *clamp(stern, 0.0),
        *tilted(view, turned),
        line((start, aft), "PLATE", CENTRE_QUIET),
        line((start, moved(start, -stern.rake, reach + 3.0)), "DATUM", DASHED_QUIET),
        _square_corner(start, stern.rake),
        *note((61.0, 18.5), "plate"),
        *note((3.5, 5.1), ("square to", "the face")),
        *reading_angle(
            start, reach, -stern.rake, turned, "fully in", (61.5, 7.0)
        ),
    )  # fmt: skip


_AXIS_OUT, _AXIS_UP = 62.0, 84.0


def _tilt_tube() -> tuple[Items, Stern, Point]:
    """Return the clamp bracket with its tilt tube, the stern it hangs on, the tube's middle."""
    stern = Stern.under((36.0, 26.0), 5.2)
    middle = stern.below(-_AXIS_UP, _AXIS_OUT)
    ear = tuple(
        stern.below(-up, out)
        for up, out in ((20.0, -10.0), (_AXIS_UP + 26.0, _AXIS_OUT - 20.0),
                        (_AXIS_UP + 26.0, _AXIS_OUT + 20.0), (_AXIS_UP, _AXIS_OUT + 32.0),
                        (-40.0, 62.0), (-60.0, 44.0))
    )  # fmt: skip
    items: Items = (
        *stern.slab(95.0),
        *clamp(stern, 0.0, drop=95.0),
        shape(softened(ear, 1), "BRACKET", Ink.ENGINE),
        Disc(middle, 4.2, "BRACKET", QUIET, Ink.COWL),
        Disc(middle, 2.6, "BRACKET", QUIET, Ink.PAPER),
        line((stern.top, stern.below(-_AXIS_UP - 45.0)), "DATUM", DASHED_QUIET),
        line((moved(middle, 0.0, -6.0), moved(middle, 0.0, 6.0)), "CENTREMARKS", FAINT),
        line((moved(middle, 90.0, -6.0), moved(middle, 90.0, 6.0)), "CENTREMARKS", FAINT),
        *note((64.0, 31.0), "tilt tube"),
        line(((63.5, 32.5), moved(middle, -25.0, 4.4)), "NOTES", FAINT),
    )
    return items, stern, middle


def tilt_axis_out() -> Items:
    """Return: square out from the face to the middle of the tilt tube."""
    items, stern, middle = _tilt_tube()
    return (
        *items,
        *note((4.0, 39.5), ("face,", "carried on up")),
        line(((28.0, 39.5), stern.below(-_AXIS_UP * 0.62)), "NOTES", FAINT),
        *note((60.0, 9.0), ("− over", "the boat")),
        *reading(
            stern.below(-_AXIS_UP), middle, ("face to tube’s", "middle"), (35.5, 48.5),
            across="right", offset=9.0,
        ),
    )  # fmt: skip


def tilt_axis_up() -> Items:
    """Return: along the face, from the seat to the middle of the tilt tube."""
    items, stern, middle = _tilt_tube()
    return (
        *items,
        *note((9.0, 14.0), "seat", across="centre"),
        line(((15.0, 13.5), (stern.below(0.0, -30.0)[0], stern.below(0.0, -30.0)[1])), "NOTES",
             FAINT),
        *reading(
            stern.top, middle, ("seat to", "tube’s middle"), (27.0, 43.0), across="right",
            offset=9.0, direction=90.0 - stern.rake,
        ),
    )  # fmt: skip
