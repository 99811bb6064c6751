"""How-to pictures of the engine from the side: leg, weight, lift, setback bracket and target."""

from __future__ import annotations

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
    wrong,
    zigzag,
)
from rigfit.drawing.how_to_side import Stern
from rigfit.drawing.scene import Dash, Disc, Ink, Path, Pen, Point, Text
from rigfit.drawing.side_view import BRACKET_EDGE_MM, PART_STYLE
from rigfit.rigging.outboard import EngineSizes
from rigfit.rigging.outline import clamp_outline, level_outline

LEG_MM = 508.0

SIZES = EngineSizes(
    cowl_length=620.0, cowl_height=390.0, cowl_breadth=430.0, cowl_bottom=105.0,
    cowl_forward=150.0, leg_breadth=150.0, leg_aft=245.0, plate_length=430.0, plate_aft=535.0,
    gearcase_length=500.0, gearcase_diameter=108.0, shaft_below_plate=160.0,
    skeg_below_plate=335.0, propeller_diameter=320.0, propeller_aft=395.0,
)  # fmt: skip
"""An engine for the eye only; no reading is taken from it."""

_LOWER_END = ("propeller", "skeg", "gearcase", "strut", "plate")
_ALL = (*_LOWER_END, "leg", "swivel", "pan", "cowl", "stripe")


def engine(view: View, names: tuple[str, ...] = _ALL) -> Items:
    """Return an engine in quiet lines; the view's origin is its seat, its plate is level."""
    parts = level_outline(SIZES, LEG_MM).parts
    items = []
    for name, polygon in parts.items():
        if name in names:
            fill = Ink.MUTED if name == "plate" else PART_STYLE[name][0]
            pen = FAINT if name == "stripe" else QUIET
            layer = "PLATE" if name == "plate" else "ENGINE"
            items.append(shape(view.all(polygon), layer, fill, pen))
    return tuple(items)


def clamp(stern: Stern, down: float, out: float = 0.0, *, drop: float = 300.0) -> Items:
    """Return the engine's clamp bracket, its seat ``down`` below the transom top, real mm."""

    def at(up: float, aft: float) -> Point:
        return stern.below(down - up, out + aft)

    hook = clamp_outline(drop, stern.thick if out == 0.0 else BRACKET_EDGE_MM)
    return (shape((at(*corner) for corner in hook), "BRACKET", Ink.ENGINE),)


def _free_engine(seat: Point, scale: float) -> Items:
    """Return an engine off the boat with its clamp bracket."""
    stern = Stern.under(seat, scale)
    return *engine(View(scale, seat)), *clamp(stern, 0.0)


def leg_measured() -> Items:
    """Return: batten along the leg from seat to plate, not from the cowl, not to the skeg."""
    scale, seat = 27.0, (43.0, 34.0)
    view = View(scale, seat)
    plate = view.at(SIZES.plate_aft - SIZES.plate_length, -LEG_MM)
    cowl = view.at(SIZES.cowl_length - SIZES.cowl_forward - 25.0, SIZES.cowl_bottom)
    edge = view.at(SIZES.plate_aft, -LEG_MM)
    skeg = view.at(SIZES.leg_aft, -LEG_MM - SIZES.skeg_below_plate)
    batten = plate[0] + 2.4
    return (
        *_free_engine(seat, scale),
        bar((batten, seat[1] + 2.0), (batten, plate[1] - 2.0), 1.4, Ink.RESERVE),
        *wrong(
            cowl, edge, ("not from", "the cowl"), (71.5, 8.0), across="centre",
            offset=5.0, direction=270.0,
        ),
        *wrong(
            seat, skeg, ("not to", "the skeg"), (13.0, 8.0), offset=-33.0, direction=270.0,
        ),
        *reading(
            seat, plate, ("seat to", "plate"), (30.5, 25.0), across="right", offset=-9.0,
            direction=270.0,
        ),
    )  # fmt: skip


def leg_stated() -> Items:
    """Return: the figure an advert gives; a class name alone is no size."""
    scale, seat = 27.0, (55.0, 34.0)
    view = View(scale, seat)
    plate = view.at(SIZES.plate_aft - SIZES.plate_length, -LEG_MM)
    style = {"height_mm": 2.7, "across": "centre", "up": "middle", "group": "measures"}
    return (
        *_free_engine(seat, scale),
        box(3.0, 29.0, 32.0, 52.0, "NOTES", Ink.HULL),
        *note((17.5, 48.0), "advert", across="centre"),
        line(((6.0, 45.0), (29.0, 45.0)), "NOTES", FAINT),
        Text((17.5, 40.0), "leg 20 in", "NOTES", **style),  # type: ignore[arg-type]
        *note((17.5, 33.0), "long leg", across="centre"),
        *cross((17.5, 33.0)),
        *note((3.0, 14.0), ("“long” is a name,", "not a size"), ink=Ink.STOPS, ref=WRONG),
        *reading(
            seat, plate, "as stated", (43.0, 23.0), across="right", offset=-9.0,
            direction=270.0,
        ),
    )  # fmt: skip


def mass() -> Items:
    """Return: the engine hanging from a crane scale, not a brochure's figure."""
    scale, seat = 33.0, (19.0, 27.5)
    hang = 25.5
    top = seat[1] + (SIZES.cowl_bottom + SIZES.cowl_height) / scale
    return (
        *_free_engine(seat, scale),
        line(((hang, top - 0.3), (hang, 44.5)), "DATUM", Pen(0.5, ink=Ink.MUTED)),
        Disc((hang, 53.9), 1.3, "DATUM", pen=QUIET, fill=None),
        box(hang - 8.0, 44.5, hang + 8.0, 52.6, "DATUM", Ink.COWL),
        box(hang - 6.2, 46.4, hang + 6.2, 50.8, "DATUM", Ink.PAPER),
        Text((hang, 48.6), "165 kg", "NOTES", 2.6, across="centre", up="middle",
             group="measures"),
        box(51.0, 21.0, 71.0, 35.0, "NOTES", Ink.HULL),
        *note((61.0, 28.0), "brochure", across="centre"),
        *cross((61.0, 28.0), 4.2),
        *note(
            (61.0, 14.5), ("says the", "lightest version"), across="centre", ink=Ink.STOPS,
            ref=WRONG,
        ),
        *reading_at(
            (hang + 6.6, 48.6), (hang + 16.0, 48.6), ("hanging free,", "at rest"), (43.0, 48.6)
        ),
    )  # fmt: skip


def max_lift() -> Items:
    """Return: the most the maker lets the seat stand above the transom top."""
    stern, lift = Stern.under((42.0, 29.0), 6.0), 66.0
    book = ((61.0, 24.0), (68.0, 22.5), (75.0, 24.0), (75.0, 34.0), (68.0, 32.5), (61.0, 34.0))
    return (
        *stern.slab(145.0),
        *clamp(stern, -lift, drop=205.0),
        shape(book, "NOTES", Ink.HULL),
        line(((68.0, 22.5), (68.0, 32.5)), "NOTES"),
        *note((68.0, 17.0), ("the maker’s", "manual"), across="centre"),
        *reading(
            stern.top, stern.below(-lift), ("seat above", "transom top"), (27.5, 41.0),
            across="right", offset=14.0,
        ),
    )  # fmt: skip


def setback() -> Items:
    """Return: from the face to the seat, not to the propeller."""
    scale, out, up = 29.0, 260.0, 80.0
    stern = Stern((22.0, 18.0), scale)
    seat = stern.below(-up, out)
    view, depth = View(scale, seat), 330.0
    hub = view.at(SIZES.propeller_aft, -LEG_MM - SIZES.shaft_below_plate)
    body = (
        stern.below(-up * 0.4), seat, stern.below(depth - up, out), stern.below(depth),
    )  # fmt: skip
    return (
        *stern.hull(),
        *engine(view),
        shape(body, "BRACKET", Ink.HULL),
        *clamp(stern, -up, out),
        *note((15.5, 45.0), "seat"),
        line(((23.0, 44.0), (seat[0] - 0.2, seat[1] + 0.3)), "NOTES", FAINT),
        *wrong(
            stern.heel, hub, ("not to the", "propeller"), (59.0, 8.0), offset=-10.0,
            direction=0.0,
        ),
        *reading(
            stern.below(depth), stern.below(depth - up, out), ("face", "to seat"),
            (20.0, 26.0), across="right", offset=-3.0, direction=-stern.rake,
        ),
    )  # fmt: skip


def bracket_height() -> Items:
    """Return: the bracket's own top edge above the transom top, along the face."""
    stern, rise, out = Stern.under((46.0, 26.0), 7.0), 85.0, 120.0
    body = (
        stern.below(-rise), stern.below(-rise, out), stern.below(130.0, out), stern.below(130.0),
    )  # fmt: skip
    return (
        *stern.slab(150.0),
        shape(body, "BRACKET", Ink.HULL),
        *clamp(stern, -rise, out, drop=205.0),
        *note((53.5, 20.0), "bracket", across="centre"),
        *note((4.0, 10.0), ("negative", "when lower")),
        *reading(
            stern.top, stern.below(-rise), ("top edge", "above transom"), (35.0, 43.0),
            across="right", offset=10.0,
        ),
    )  # fmt: skip


def bracket_setting() -> Items:
    """Return: how far an adjustable bracket is raised above its lowest setting."""
    stern, rise, out = Stern.under((20.0, 37.0), 6.0), 72.0, 90.0

    def slider(raised: float) -> tuple[Point, ...]:
        corners = ((0.0, 0.0), (0.0, 34.0), (150.0, 34.0), (150.0, 0.0))
        return tuple(stern.below(down - raised, out + aft) for down, aft in corners)

    fixed = (stern.below(8.0), stern.below(8.0, out), stern.below(160.0, out), stern.below(160.0))
    return (
        *stern.slab(175.0),
        shape(fixed, "BRACKET", Ink.HULL),
        shape(slider(rise), "BRACKET", Ink.COWL),
        Path(slider(0.0), "BRACKET", pen=DASHED_QUIET, closed=True),
        *note((46.0, 12.0), ("dashed: the", "lowest setting")),
        *reading(
            slider(0.0)[1], slider(rise)[1], ("raised", "by this"), (56.0, 39.0), offset=-8.0,
        ),
    )  # fmt: skip


_LEVEL_Y = 22.0  # of the keel line
_BAND_Y = (29.0, 36.0)
_SHIFT = 7.0
_TARGET_SCALE = 20.0


def _band(left: float, right: float, rise: float = 0.0) -> Items:
    """Return the target band, filled, with its edges dashed."""
    low, high = _BAND_Y[0] + rise, _BAND_Y[1] + rise
    edge = Pen(0.25, Dash.DASHED, Ink.FITS)
    area = ((left, low), (right, low), (right, high), (left, high))
    return (
        shape(area, "TARGET", Ink.BAND, pen=None),
        *(line(((left, level), (right, level)), "TARGET", edge) for level in (low, high)),
    )


def _usual_band(left: float, right: float) -> Items:
    """Return where the band would be without what the picture adds."""
    low, high = _BAND_Y
    area = ((left, low), (right, low), (right, high), (left, high))
    return (Path(area, "TARGET", pen=DASHED_QUIET, closed=True),)


def _gearcase(seat_x: float, plate_y: float) -> Items:
    """Return an engine's lower end, its leg broken off, the plate at a height."""
    view = View(_TARGET_SCALE, (seat_x, plate_y + LEG_MM / _TARGET_SCALE))
    middle, half = view.at(SIZES.leg_aft, 0.0)[0], SIZES.leg_breadth / _TARGET_SCALE / 2.0
    left, right, top = middle - half, middle + half, 53.0
    leg = ((left, top), (left, plate_y + 0.4), (right + 0.6 * half, plate_y + 0.4),
           (right, plate_y + 4.0), (right, top))  # fmt: skip
    return (
        shape(leg, "ENGINE", Ink.ENGINE, pen=None),
        line(leg[:2], "ENGINE"),
        line(leg[2:], "ENGINE"),
        zigzag((left - 1.5, top), (right + 1.5, top), "ENGINE"),
        *engine(view, _LOWER_END),
    )


def _keel_line(right: float) -> Items:
    return (
        line(((3.0, _LEVEL_Y), (right, _LEVEL_Y)), "KEELLINE", CENTRE_QUIET),
        *note((4.0, _LEVEL_Y - 4.0), "keel line"),
        *note((4.0, 5.0), "heights not to scale"),
    )


def _behind_transom(rise: float, *bands: Items) -> Items:
    """Return a hull with an engine on its transom, the plate in the middle of the band."""
    stern = Stern((15.0, _LEVEL_Y), _TARGET_SCALE)
    return (
        *stern.hull(),
        *(item for band in bands for item in band),
        *_gearcase(stern.top[0] + 2.8, sum(_BAND_Y) / 2.0 + rise),
        *_keel_line(77.0),
    )


def target_end(*, upper: bool) -> Items:
    """Return: one end of the target for the plate, above the keel line."""
    right, level = 53.5, _BAND_Y[1 if upper else 0]
    words = ("upper end", "of target") if upper else ("lower end", "of target")
    return (
        *_behind_transom(0.0, _band(19.0, right)),
        *note((60.0, 16.5), "− below it"),
        *reading(
            (right, _LEVEL_Y), (right, level), words, (60.0, 32.0), offset=-4.0, direction=90.0
        ),
    )  # fmt: skip


def target_offset() -> Items:
    """Return: the whole band shifted."""
    right, low = 53.5, _BAND_Y[0]
    return (
        *_behind_transom(_SHIFT, _band(19.5, right, _SHIFT), _usual_band(19.5, right)),
        *note((61.0, 25.5), "− down"),
        *reading(
            (right, low), (right, low + _SHIFT), ("+ moves", "it up"), (61.0, 34.5),
            offset=-4.0, direction=90.0,
        ),
    )  # fmt: skip


def setback_rise() -> Items:
    """Return: how much higher the plate may sit behind a bracket than right at the transom."""
    stern, out, right, low = Stern((13.0, _LEVEL_Y), _TARGET_SCALE), 220.0, 60.0, _BAND_Y[0]
    body = (
        stern.below(0.0), stern.below(-30.0, out), stern.below(230.0, out), stern.below(260.0),
    )  # fmt: skip
    return (
        *stern.hull(),
        *_band(31.0, right, _SHIFT),
        *_usual_band(18.0, right),
        shape(body, "BRACKET", Ink.HULL),
        *_gearcase(stern.below(0.0, out)[0], sum(_BAND_Y) / 2.0 + _SHIFT),
        *_keel_line(64.0),
        *note((22.0, 52.0), "bracket"),
        *reading(
            (right, low), (right, low + _SHIFT), ("extra", "rise"), (67.0, 32.5),
            offset=-4.0, direction=90.0,
        ),
    )  # fmt: skip


def boat_length() -> Items:
    """Return: the hull alone from stem to transom, without engine and rail."""
    bow, heel, top = (10.0, 33.5), (64.5, 16.0), (66.5, 28.0)
    stem = ((12.5, 28.5), (17.0, 22.5), (24.0, 18.0), (34.0, 16.0))
    sheer = ((61.5, 28.6), (60.5, 30.0), (44.0, 30.3), (26.0, 31.5))
    post = [((x, deck), (x, rail)) for x, deck, rail in ((12.5, 33.0, 37.9), (21.0, 31.9, 37.3))]
    rail = (bow, (6.5, 38.4), (30.0, 36.6), (30.0, 31.2))
    view = View(80.0, top)
    aft = view.at(SIZES.cowl_length - SIZES.cowl_forward, 400.0)
    return (
        line(rail, "HULL"),
        *(line(ends, "HULL") for ends in post),
        shape((bow, *stem, heel, top, *sheer), "HULL", pen=Pen(0.35, ink=Ink.MUTED)),
        *engine(view),
        *wrong(
            (6.5, 38.4), aft, "not with rail and engine", (40.0, 52.0), across="centre",
            offset=7.0, direction=0.0,
        ),
        *reading(
            bow, top, "hull only", (37.0, 4.5), across="centre", offset=-19.0, direction=0.0
        ),
    )  # fmt: skip
