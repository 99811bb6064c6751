"""The side profile: hull aft, transom, engine, plate and target, with every reading that counts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from rigfit.drawing.dimensioning import angle_between, leader, level_mark, linear, whisker
from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.labels import VERDICT_INK, reading_words
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    OUTLINE,
    THIN,
    Dash,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Text,
)
from rigfit.drawing.wake_view import surface_items, surface_legend
from rigfit.rigging.bracket import Arms
from rigfit.rigging.case import Case
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.outboard import EngineClass
from rigfit.rigging.outline import Outline, clamp_outline, placed
from rigfit.rigging.plate_height import Rig, along_face, outward
from rigfit.rigging.readings import Reading
from rigfit.rigging.report import EngineReport
from rigfit.rigging.tilt_axis import axis_readings, engine_with_axis
from rigfit.rigging.underway import surface_of
from rigfit.units import Kind, Shown, compact, show

FORWARD_MM = 760.0
"""How much of the hull is shown ahead of the transom."""

BRACKET_EDGE_MM = 28.0
"""Thickness of a setback bracket's edge, over which the hook goes."""

BRACKET_DEPTH_MM = 330.0
"""How far down a setback bracket's body is drawn."""

SKETCH_HEIGHT_MM = 508.0
SKETCH_RAKE_DEG = 12.0
SKETCH_LEG_MM = 508.0
SKETCH_THICKNESS_MM = 45.0
"""Drawn where a reading is missing; the drawing says so in words."""

PART_STYLE: dict[str, tuple[Ink, Pen]] = {
    "swivel": (Ink.COWL, EDGE),
    "propeller": (Ink.ENGINE, EDGE),
    "skeg": (Ink.ENGINE, EDGE),
    "strut": (Ink.ENGINE, EDGE),
    "gearcase": (Ink.ENGINE, EDGE),
    "leg": (Ink.ENGINE, EDGE),
    "pan": (Ink.ENGINE, EDGE),
    "plate": (Ink.LINE, EDGE),
    "cowl": (Ink.COWL, OUTLINE),
    "stripe": (Ink.ENGINE, THIN),
}


@dataclass(frozen=True, slots=True)
class Sketch:
    """The numbers a profile is drawn from, and which of them nobody measured.

    :param rig: position of the engine.
    :param thickness_mm: of the transom.
    :param guessed: labels of what is missing and drawn at a usual size instead.
    """

    rig: Rig
    thickness_mm: float
    guessed: tuple[str, ...]


def sketch_of(report: EngineReport, lift_mm: float | None = None) -> Sketch:
    """Return the numbers to draw a report's engine with.

    :param lift_mm: seat above the transom top; None for the mounted height.
    """
    case, guessed = report.case, []
    height, rake = case.heights.along_face, case.job.transom.rake
    thickness = case.job.transom.thickness
    if height is None:
        guessed.append("transom height")
    if rake is None:
        guessed.append("rake")
    if case.leg is None:
        guessed.append("leg")
    if thickness is None:
        guessed.append("transom thickness")
    axis = axis_readings(case)
    if lift_mm is None:
        lift_mm = report.mounted.lift.value if report.mounted else 0.0
    rig = Rig(
        height_face_mm=height.value if height else SKETCH_HEIGHT_MM,
        rake_deg=rake.value if rake else SKETCH_RAKE_DEG,
        leg_mm=case.leg.reading.value if case.leg else SKETCH_LEG_MM,
        lift_mm=lift_mm,
        setback_mm=case.setback.value,
        arms=case.arms,
        axis_out_mm=axis[0].value,
        axis_up_mm=axis[1].value,
        leg_rake_deg=case.engine.leg_rake_deg,
    )
    return Sketch(rig, thickness.value if thickness else SKETCH_THICKNESS_MM, tuple(guessed))


@lru_cache(maxsize=16)
def _placed(engine: EngineClass, rig: Rig, tilt_deg: float) -> Outline:
    return placed(engine, rig, tilt_deg)


def outline_at(case: Case, sketch: Sketch, tilt_deg: float = 0.0) -> Outline:
    """Return the engine's outline in the keel frame; the last few are remembered."""
    return _placed(engine_with_axis(case), sketch.rig, tilt_deg)


def on_face(rig: Rig, up_mm: float, out_mm: float = 0.0) -> Point:
    """Return the point ``up_mm`` above the heel along the face, ``out_mm`` outward from it."""
    (tx, tz), (nx, nz) = along_face(rig.rake_deg), outward(rig.rake_deg)
    return up_mm * tx + out_mm * nx, up_mm * tz + out_mm * nz


@dataclass(frozen=True, slots=True)
class SideLayers:
    """The profile in three layers, so that a window can move the middle one by itself.

    :param under: hull, target, keel line: stays while the engine moves.
    :param moving: setback bracket, engine, clamp bracket, leg and plate: follows the height.
    :param over: dimensions of the transom, which lie on top.
    """

    under: tuple[Item, ...]
    moving: tuple[Item, ...]
    over: tuple[Item, ...]


def side_layers(
    report: EngineReport,
    scale: float,
    style: Shown,
    option: HeightOption | None = None,
    tilt_deg: float = 0.0,
) -> SideLayers:
    """Return the profile in the keel frame, x aft and z up, at a drawing scale.

    :param scale: model mm per paper mm, which sizes arrows and the places of dimensions.
    :param option: the height to draw the engine at; None for the mounted one.
    :param tilt_deg: how far the engine is tilted up. Leg and plate height are told with the plate
        level, so a tilted engine shows its angle in their place.
    """
    option = option or report.mounted
    sketch = sketch_of(report, option.lift.value if option else None)
    # What must not move with the engine takes its place from the height that is mounted.
    home = outline_at(report.case, sketch_of(report))
    under = [
        *_target(report, home, scale, style),
        *_wake(report, home, scale, style),
        *_hull(sketch, scale),
        *_keel_line(report, home, scale),
    ]
    moving = moving_items(report, scale, style, option, tilt_deg)
    over = [
        *_reading_dimensions(report, sketch, scale, style),
        *_setback_dimension(report.case, sketch, scale, style),
        *_top_mark(report.case, sketch, scale, style),
    ]
    return SideLayers(tuple(under), moving, tuple(over))


def moving_items(
    report: EngineReport,
    scale: float,
    style: Shown,
    option: HeightOption | None = None,
    tilt_deg: float = 0.0,
) -> tuple[Item, ...]:
    """Return the middle one of ``side_layers`` by itself, for a window that moves the engine."""
    option = option or report.mounted
    sketch = sketch_of(report, option.lift.value if option else None)
    outline = outline_at(report.case, sketch, tilt_deg)
    moving = [
        *_setback_plate(report.case, sketch, option),
        *engine_items(outline, "engine"),
        *_clamp(report.case, sketch),
        *_bolts(report.case, sketch),
    ]
    if tilt_deg:
        moving += _tilt_angle(report.case, sketch, tilt_deg, scale)
    else:
        moving += _leg_dimension(report.case, sketch, outline, scale, style)
        moving += _plate_answer(option, sketch, outline, scale, style)
    return tuple(moving)


def side_items(report: EngineReport, scale: float, style: Shown) -> tuple[Item, ...]:
    """Return the whole profile with the engine at its mounted height, back to front."""
    layers = side_layers(report, scale, style)
    return (*layers.under, *layers.moving, *layers.over)


def ghost_items(
    report: EngineReport, option: HeightOption, scale: float, style: Shown
) -> tuple[Item, ...]:
    """Return the engine's outline at another height, dotted and unfilled, with its plate named."""
    outline = outline_at(report.case, sketch_of(report, option.lift.value))
    ink = VERDICT_INK[option.verdict]
    pen = Pen(0.25, Dash.DOTTED, ink)
    parts: list[Item] = [
        Path(outline.parts[name], "ENGINE", pen=pen, closed=True, group="overlay", ref="ghost")
        for name in ("cowl", "leg", "plate", "gearcase", "skeg")
    ]
    plate = outline.parts["plate"]
    front, level = min(x for x, _ in plate), min(z for _, z in plate)
    words = f"row {option.row}" if option.row else "clamped"
    if option.plate is not None:
        words += f" {compact(option.plate.value, style, signed=True)}"
    label = Text(
        (front - 1.5 * scale, level), words, "NOTES", height_mm=2.2, across="right", up="middle",
        ink=ink, group="overlay", ref="ghost",
    )  # fmt: skip
    return (*parts, label)


def engine_items(outline: Outline, group: str) -> tuple[Item, ...]:
    """Return the engine's parts, filled and outlined."""
    items = []
    for name, polygon in outline.parts.items():
        fill, pen = PART_STYLE[name]
        layer = "PLATE" if name == "plate" else "ENGINE"
        items.append(
            Path(polygon, layer, pen=pen, closed=True, fill=fill, group=group, ref=f"engine-{name}")
        )
    return tuple(items)


def _hull(sketch: Sketch, scale: float) -> list[Item]:
    """Return the aft end of the hull: shell, transom in section, a break line forward."""
    rig, thick = sketch.rig, sketch.thickness_mm
    top = on_face(rig, rig.height_face_mm)
    inner_top, inner_low = (
        on_face(rig, rig.height_face_mm, -thick),
        on_face(rig, 26.0 / math.cos(math.radians(rig.rake_deg)), -thick),
    )
    forward = -FORWARD_MM
    sole = 0.30 * top[1]
    rail = top[1] + 95.0
    knee = inner_low[0] - 0.06 * FORWARD_MM
    shade = (
        (forward, 0.0),
        (0.0, 0.0),
        top,
        inner_top,
        (inner_top[0] - 150.0, top[1] - 8.0),
        (inner_top[0] - 235.0, rail),
        (forward, rail + 22.0),
    )
    shell = ((forward, 0.0), (0.0, 0.0), top, inner_top, inner_low, (knee, 14.0), (forward, 14.0))
    section = ((0.0, 0.0), top, inner_top, on_face(rig, 14.0, -thick))
    items: list[Item] = [
        Path(shade, "HULL", pen=None, closed=True, fill=Ink.HULL),
        Path(shell, "HULL", pen=None, closed=True, fill=Ink.MUTED),
        Path(section, "TRANSOM", pen=None, closed=True, fill=Ink.MUTED),
        *transom_hatch(sketch, rig.height_face_mm, scale),
        Path((shade[3], shade[4], shade[5], shade[6]), "HULL", pen=EDGE),
        Path(((forward, 14.0), (knee, 14.0), inner_low, inner_top), "HULL", pen=EDGE),
        Path(((forward, 0.0), (0.0, 0.0), top, inner_top), "TRANSOM", pen=OUTLINE),
        Path(((forward, sole), (inner_low[0], sole)), "HULL", pen=HIDDEN),
        *_break_line(forward, rail + 22.0, scale),
    ]
    return items


def transom_hatch(sketch: Sketch, height_mm: float, scale: float) -> list[Item]:
    """Return the section lines of the transom, at 45 degrees to its face, in paper colour.

    :param height_mm: of the transom along its face, from the heel at the origin.
    """
    rig, thick = sketch.rig, sketch.thickness_mm
    step = 2.2 * scale
    count = int((height_mm - thick) / step)
    pen = Pen(0.18, ink=Ink.PAPER)
    return [
        Path(
            (on_face(rig, up, 0.0), on_face(rig, up + thick, -thick)),
            "TRANSOM",
            pen=pen,
        )
        for up in (step * (index + 0.6) for index in range(count))
    ]


def _break_line(x: float, top: float, scale: float) -> list[Item]:
    """Return a long break with a zigzag in the middle: the hull goes on forward."""
    middle, jog = top / 2.0, 1.6 * scale
    points = (
        (x, -4.0 * scale),
        (x, middle - jog),
        (x - jog, middle - 0.4 * jog),
        (x + jog, middle + 0.4 * jog),
        (x, middle + jog),
        (x, top + 4.0 * scale),
    )
    return [Path(points, "HULL", pen=THIN)]


def _keel_line(report: EngineReport, outline: Outline, scale: float) -> list[Item]:
    aft = _leg_line(outline, scale) + 3.0 * scale
    words = "keel line" if report.case.hull is None else f"keel line: {report.case.hull.datum}"
    if text_width_mm(words, 2.2) > FORWARD_MM / scale - 4.0:
        words = "keel line"
    return [
        Path(((-FORWARD_MM - 6.0 * scale, 0.0), (aft, 0.0)), "KEELLINE", pen=CENTRE_LINE),
        Text(
            (-FORWARD_MM + 2.0 * scale, -1.6 * scale),
            words,
            "NOTES",
            height_mm=2.2,
            up="top",
            ink=Ink.MUTED,
            group="measures",
        ),
        Disc((0.0, 0.0), 0.7 * scale, "KEELLINE", pen=THIN, fill=Ink.PAPER, ref="heel"),
    ]


def _wake(report: EngineReport, outline: Outline, scale: float, style: Shown) -> list[Item]:
    """Return the predicted water from the keel line to the plate, where the way is entered."""
    surface = surface_of(report.case)
    if surface is None:
        return []
    reach = max(max(x for x, _ in outline.parts[name]) for name in ("plate", "propeller"))
    reach += 3.0 * scale
    legend = surface_legend(surface, (reach, -17.5 * scale), scale, style)
    return [*surface_items(surface, reach, 0.0), *legend]


def _leg_line(outline: Outline, scale: float) -> float:
    """Return where the leg is dimensioned: clear of hood and plate, aft of both."""
    aft = max(max(x for x, _ in outline.parts[name]) for name in ("cowl", "plate", "propeller"))
    return aft + 12.0 * scale


def _target(report: EngineReport, outline: Outline, scale: float, style: Shown) -> list[Item]:
    """Return the target band behind the engine, inside the range that is still tolerated."""
    band = report.case.band
    if band is None:
        return []
    left = 4.0 * scale
    right = _leg_line(outline, scale) + 3.0 * scale
    low, high = band.limits.outer_low, band.limits.outer_high
    items: list[Item] = []
    if low is not None and high is not None:
        items.append(_strip(left, low, right, high, Ink.RESERVE, "target-reserve"))
    items.append(_strip(left, band.low_mm, right, band.high_mm, Ink.BAND, "target"))
    edge = Pen(0.18, Dash.DASHED, Ink.FITS)
    items += [
        Path(((left, level), (right, level)), "TARGET", pen=edge, ref="target")
        for level in (band.low_mm, band.high_mm)
    ]
    words = f"target {_range_words(band.low_mm, band.high_mm, style)}"
    items.append(
        Text((right + 1.5 * scale, band.middle_mm), words, "NOTES", height_mm=2.5, up="middle",
             ink=Ink.FITS, group="measures", ref="target")
    )  # fmt: skip
    return items


def _strip(left: float, low: float, right: float, high: float, fill: Ink, ref: str) -> Path:
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Path(corners, "TARGET", pen=None, closed=True, fill=fill, ref=ref)


def _clamp(case: Case, sketch: Sketch) -> list[Item]:
    """Return the clamp bracket hooked over what carries it, and the tilt axis."""
    rig = sketch.rig
    seat = rig.seat()
    (tx, tz), (nx, nz) = along_face(rig.rake_deg), outward(rig.rake_deg)

    def at(up: float, out: float) -> Point:
        return seat[0] + up * tx + out * nx, seat[1] + up * tz + out * nz

    drop = max(case.pattern.upper_rows_mm, default=60.0) + case.pattern.lower_below_upper_mm + 40
    edge = sketch.thickness_mm if case.bracket is None else BRACKET_EDGE_MM
    clamp = tuple(at(*corner) for corner in clamp_outline(drop, edge))
    axis = rig.axis()
    return [
        Path(clamp, "BRACKET", pen=EDGE, closed=True, fill=Ink.ENGINE, group="engine", ref="clamp"),
        Disc(axis, 11.0, "ENGINE", pen=EDGE, fill=Ink.PAPER, group="engine", ref="axis"),
        Disc(axis, 2.5, "ENGINE", pen=None, fill=Ink.LINE, group="engine", ref="axis"),
    ]


def _bolts(case: Case, sketch: Sketch) -> list[Item]:
    """Return the centre lines of the bolts through the transom; they stay where they are."""
    if case.bracket is not None or not case.pattern.is_bolted:
        return []
    rig, upper = sketch.rig, case.upper_holes.value
    inside = -sketch.thickness_mm - 26.0
    levels = [
        rig.height_face_mm - below for below in (upper, upper + case.pattern.lower_below_upper_mm)
    ]
    return [
        Path((on_face(rig, up, 34.0), on_face(rig, up, inside)), "CENTRELINES", pen=CENTRE_LINE,
             ref="bolt")
        for up in levels
    ]  # fmt: skip


def _setback_plate(case: Case, sketch: Sketch, option: HeightOption | None) -> list[Item]:
    """Return a setback bracket as the plain body between the transom face and its own face."""
    if case.bracket is None:
        return []
    rig = sketch.rig
    dx, dz = _arms(rig)
    raised = case.bracket_height.value + (option.setting_mm if option else 0.0)
    top, low = rig.height_face_mm, rig.height_face_mm - BRACKET_DEPTH_MM

    def out(up: float) -> Point:
        x, z = on_face(rig, up)
        return x + rig.setback_mm * dx, z + rig.setback_mm * dz

    points = (on_face(rig, top), out(top + raised), out(low + raised), on_face(rig, low))
    return [Path(points, "BRACKET", pen=EDGE, closed=True, fill=Ink.HULL, ref="bracket")]


def _arms(rig: Rig) -> Point:
    return outward(rig.rake_deg) if rig.arms is Arms.SQUARE else (1.0, 0.0)


def _reading_dimensions(
    report: EngineReport, sketch: Sketch, scale: float, style: Shown
) -> list[Item]:
    """Return the dimensions of the transom as measured."""
    rig, transom = sketch.rig, report.case.job.transom
    top, heel = on_face(rig, rig.height_face_mm), (0.0, 0.0)
    inner = on_face(rig, rig.height_face_mm, -sketch.thickness_mm)
    items: list[Item] = []
    beside = _beside(report.case, sketch, scale, style)
    if transom.height_along_face is not None:
        words = reading_words(transom.height_along_face, style)
        items += linear(
            heel, top, offset=beside, words=words, scale=scale,
            ref="height-along-face",
        )  # fmt: skip
    if transom.height_square is not None:
        words = reading_words(transom.height_square, style)
        x, further = inner[0] - 16.0, beside + 18.0 - sketch.thickness_mm / scale
        items += linear(
            (x, 0.0), (x, top[1]), offset=further, words=words, scale=scale, ref="height-square",
            direction=90.0,
        )  # fmt: skip
    if transom.rake is not None and abs(transom.rake.value) > 0.2:
        items += _rake(transom.rake, scale)
    if transom.thickness is not None:
        words = reading_words(transom.thickness, style)
        up = 0.60 * rig.height_face_mm
        items += linear(
            on_face(rig, up),
            on_face(rig, up, -sketch.thickness_mm),
            offset=0.0,
            words=words,
            scale=scale,
            ref="thickness",
        )
    return items


def _beside(case: Case, sketch: Sketch, scale: float, style: Shown) -> float:
    """Return how far from the face its height is dimensioned, paper mm: clear of the thickness."""
    thickness = case.job.transom.thickness
    words = "" if thickness is None else reading_words(thickness, style)
    return sketch.thickness_mm / scale + 10.0 + text_width_mm(words, 2.5)


def _rake(rake: Reading, scale: float) -> list[Item]:
    """Return the rake as the angle below the heel, where the sheet is empty."""
    square, face = 270.0, 270.0 - rake.value
    radius = 24.0
    angle = math.radians(270.0 - rake.value / 2.0)
    tip = (radius * scale * math.cos(angle), radius * scale * math.sin(angle))
    words = f"rake {reading_words(rake, Shown(), Kind.ANGLE)}"
    leans_aft = rake.value > 0.0
    side = -1.0 if leans_aft else 1.0
    ends = (face, square) if leans_aft else (square, face)
    arc = angle_between((0.0, 0.0), radius, *ends, "", scale=scale, ref="rake", rays="both")
    lines = [item for item in arc if not isinstance(item, Text)]
    shelf = (tip[0] + side * 9.0 * scale, tip[1] - 5.0 * scale)
    return [*lines, *leader(tip, shelf, words, scale=scale, ref="rake", end="dot")]


def _leg_dimension(
    case: Case, sketch: Sketch, outline: Outline, scale: float, style: Shown
) -> list[Item]:
    """Return the leg, from the seat to the plate."""
    if case.leg is None:
        return []
    rig, right = sketch.rig, _leg_line(outline, scale)
    seat = rig.seat()
    words = f"leg {reading_words(case.leg.reading, style)}"
    return [
        *linear(
            (right, rig.plate_height_mm()), (right, seat[1]), offset=0.0, words=words, scale=scale,
            ref="leg", direction=90.0,
        ),
        *_seat_mark(seat, right, scale),
    ]  # fmt: skip


def _tilt_angle(case: Case, sketch: Sketch, tilt_deg: float, scale: float) -> list[Item]:
    """Return the tilt at its axis, on an arc that clears the engine at every angle."""
    axis = sketch.rig.axis()
    parts = outline_at(case, sketch).parts
    reach = max(math.dist(axis, point) for name in ("skeg", "propeller") for point in parts[name])
    words = f"tilt {show(tilt_deg, Kind.ANGLE)}"
    return list(
        angle_between(
            axis, reach / scale + 4.0, 270.0, 270.0 + tilt_deg, words,
            scale=scale, ref="tilt", rays="both",
        )
    )  # fmt: skip


def _setback_dimension(case: Case, sketch: Sketch, scale: float, style: Shown) -> list[Item]:
    rig = sketch.rig
    if case.bracket is None or rig.setback_mm <= 0.0:
        return []
    dx, dz = _arms(rig)
    start = on_face(rig, rig.height_face_mm - BRACKET_DEPTH_MM)
    end = (start[0] + rig.setback_mm * dx, start[1] + rig.setback_mm * dz)
    words = reading_words(case.setback, style)
    return list(linear(start, end, offset=-7.0, words=words, scale=scale, ref="setback"))


def _top_mark(case: Case, sketch: Sketch, scale: float, style: Shown) -> list[Item]:
    """Return the level of the transom top; left out where there is no room for its words."""
    if case.bracket is not None or scale > 10.0:
        return []
    rig, words, height = sketch.rig, "transom top", 2.2
    top = on_face(rig, rig.height_face_mm)
    x = on_face(rig, rig.height_face_mm, -sketch.thickness_mm - 40.0)[0] - 18.0 * scale
    if case.job.transom.height_along_face is not None:
        beside = _beside(case, sketch, scale, style) * scale
        line = top[0] - beside / math.cos(math.radians(rig.rake_deg))
        first = x - (text_width_mm(words, height) + 4.0) * scale
        if first < line < x + 1.5 * scale:
            x = line - 3.5 * scale  # the dimension of the face would run through the words
    return list(
        level_mark((x, top[1]), words, scale=scale, side="left", text_height=height, ink=Ink.MUTED)
    )


def _seat_mark(seat: Point, right: float, scale: float) -> list[Item]:
    """Return a thin line from the seat out to the leg's dimension, behind nothing else."""
    pen = Pen(0.13, Dash.DASHED, Ink.MUTED)
    return [
        Path(((seat[0] + 2.0 * scale, seat[1]), (right, seat[1])), "MEASURES", pen=pen,
             group="measures"),
        Text((right - 8.0 * scale, seat[1] + 1.2 * scale), "seat", "NOTES", height_mm=2.0,
             across="right", ink=Ink.MUTED, group="measures"),
    ]  # fmt: skip


def _range_words(low_mm: float, high_mm: float, style: Shown) -> str:
    """Return a band: ``0 to +25``, or ``0 to +1 (0 to +25)`` in inches."""
    ends = [compact(level, style, signed=True) for level in (low_mm, high_mm)]
    if style.lengths == "mm":
        return " to ".join(ends)
    inches, metric = zip(*(end.rstrip(")").split(" (") for end in ends), strict=True)
    return f"{' to '.join(inches)} ({' to '.join(metric)})"


def _plate_answer(
    option: HeightOption | None, sketch: Sketch, outline: Outline, scale: float, style: Shown
) -> list[Item]:
    """Return the plate's height with its whisker in the colour of its verdict."""
    if option is None or option.plate is None:
        return []
    ink, tolerance = VERDICT_INK[option.verdict], option.plate.tolerance
    at = (max(x for x, _ in outline.parts["plate"]) + 6.0 * scale, sketch.rig.plate_height_mm())
    words = compact(at[1], style, tolerance_mm=tolerance, signed=True)
    return [
        *whisker(at, tolerance, 90.0, scale=scale, ref="plate", ink=ink),
        Disc(at, 0.8 * scale, "MEASURES", pen=None, fill=ink, group="measures", ref="plate"),
        *leader(
            (at[0], at[1] - tolerance), (at[0] + 5.0 * scale, -10.0 * scale),
            f"plate {words}, {option.verdict.value}", scale=scale, ref="plate", text_height=3.0,
            end="dot",
        ),
    ]  # fmt: skip
