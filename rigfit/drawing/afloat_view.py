"""Afloat: the hull from the side with the water before and after, and what is left of each margin.

Three views on one drawing, all in model mm of the side view: the hull with x aft and z up from the
keel line; below it the marks' heights above the water, and how they sink under added mass.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigfit.drawing.dimensioning import leader
from rigfit.drawing.fonts import wrapped
from rigfit.drawing.labels import VERDICT_INK, units_note
from rigfit.drawing.running import spread
from rigfit.drawing.scene import (
    EDGE,
    MEASURE,
    OUTLINE,
    THIN,
    Dash,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Scene,
    Text,
)
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.checks_flotation import mark_verdict
from rigfit.rigging.flotation import Plane, PointMass
from rigfit.rigging.margins import CurvePoint, WetAt, kilograms_until_wet, margin_curve
from rigfit.units import Kind, Shown, compact, show

SCALES = (10.0, 20.0, 25.0, 40.0, 50.0)
"""Reductions of the side view; the largest at which the hull is no longer than ``WIDE_MM``."""

WIDE_MM = 240.0
_PANEL_HIGH_MM = 72.0
_PANEL_GAP_MM = 26.0
_HEAD_MM = 3.5
_SMALL_MM = 2.2
_NOW = Pen(0.25, Dash.DASHED, Ink.MUTED)
_THEN = Pen(0.5, ink=Ink.ACCENT)
_MOST_MARKS = 6
_DISC_MM = 1.9

Place = Callable[[float, float], Point]

DASHES = (Dash.SOLID, Dash.DASHED, Dash.CENTRE, Dash.DOTTED)


@dataclass(frozen=True, slots=True)
class _Panel:
    """A part of the drawing: paper mm from its lower left corner become model mm."""

    corner: Point
    scale: float
    width: float
    height: float

    def at(self, x: float, y: float) -> Point:
        return self.corner[0] + x * self.scale, self.corner[1] + y * self.scale

    def line(self, points: Sequence[Point], pen: Pen = THIN, ref: str = "") -> Path:
        return Path(tuple(self.at(*point) for point in points), "MEASURES", pen=pen, ref=ref)

    def text(self, x: float, y: float, words: str, **style: object) -> Text:
        return Text(self.at(x, y), words, "NOTES", **style)  # type: ignore[arg-type]


def afloat_scene(flotation: Flotation, style: Shown, boat: str = "") -> Scene:
    """Return how she floats before and after, her margins, and the curve of added mass.

    :param boat: her name, for the heading.
    """
    scale = _scale_for(flotation)
    marks = _shown_marks(flotation)
    items: list[Item] = [*_side(flotation, marks, scale, style)]
    left = -flotation.form.length_mm
    low = min(0.0, min(z for _, z in flotation.form.keel_mm())) - _PANEL_GAP_MM * scale
    half = (WIDE_MM - 20.0) / 2.0
    bottom = low - _PANEL_HIGH_MM * scale
    heights = _Panel((left, bottom), scale, half, _PANEL_HIGH_MM)
    curve = _Panel((left + (half + 20.0) * scale, bottom), scale, half, _PANEL_HIGH_MM)
    items += _heights(flotation, marks, heights, style)
    items += _curve(flotation, marks, curve, style)
    items += _heading(flotation, scale, style, boat)
    return Scene(title="Afloat", items=tuple(items), scale=scale)


def margin_curve_scene(flotation: Flotation, style: Shown) -> Scene:
    """Return the curve alone: height of each mark above the water against mass at the transom."""
    panel = _Panel((0.0, 0.0), 1.0, 150.0, 95.0)
    marks = _shown_marks(flotation)
    items = [*_curve(flotation, marks, panel, style), *_key(marks, panel)]
    return Scene(title="Margin against added mass", items=tuple(items), scale=1.0)


def _scale_for(flotation: Flotation) -> float:
    fits = (s for s in SCALES if flotation.form.length_mm / s <= WIDE_MM)
    return next(fits, 100.0)


def _shown_marks(flotation: Flotation) -> tuple[MarkHeight, ...]:
    """Return the marks to show, the lowest of too many."""
    order = sorted(flotation.marks, key=lambda mark: mark.after.value)[:_MOST_MARKS]
    return tuple(order)


def _heading(flotation: Flotation, scale: float, style: Shown, boat: str) -> list[Item]:
    left = -flotation.form.length_mm
    top = flotation.form.top_mm() + 34.0 * scale
    name = f"{boat}, afloat" if boat else "Afloat"
    note = f"Side view 1:{scale:g}. {units_note(style)}."
    if not flotation.is_anchored:
        note += " Nothing was read afloat: heights are estimates."
    return [
        Text((left, top + 7.0 * scale), name, "NOTES", height_mm=5.0, bold=True),
        Text((left, top), note, "NOTES", height_mm=2.5, ink=Ink.MUTED),
    ]


# ------------------------------------------------------------------ side view


def _side(
    flotation: Flotation, marks: Sequence[MarkHeight], scale: float, style: Shown
) -> list[Item]:
    form = flotation.form
    keel, sheer = form.keel_mm(), form.sheer_mm()
    chine = tuple(
        (form.ahead_mm(i), part[len(part) // 2][1]) for i, part in enumerate(form.sections)
    )
    top = sheer[0][1]
    # The form ends at the transom's foot; drawn is the transom as it leans.
    lean = -top * math.tan(math.radians(flotation.rake_deg))
    outline = tuple((-x, z) for x, z in (*keel, *reversed(sheer), (lean, top)))
    items: list[Item] = [
        Path(_water(flotation, scale), "WATER", pen=None, closed=True, fill=Ink.WATER),
        *_pods(flotation),
        Path(outline, "HULL", pen=OUTLINE, closed=True, fill=Ink.HULL, ref="hull"),
        Path(tuple((-x, z) for x, z in chine), "HULL", pen=THIN, ref="chine"),
        *_water_lines(flotation, scale, style),
        *_masses(flotation, scale, style),
    ]
    return [*items, *_mark_numbers(marks, scale)]


def _pods(flotation: Flotation) -> list[Item]:
    """Return closed pods from the transom to twice their middle, as they were measured."""
    items: list[Item] = []
    for pod in flotation.pods:
        aft, top = -2.0 * pod.ahead_mm, pod.bottom_mm + pod.height_mm
        corners = ((0.0, pod.bottom_mm), (aft, pod.bottom_mm), (aft, top), (0.0, top))
        items.append(Path(corners, "HULL", pen=EDGE, closed=True, fill=Ink.ENGINE, ref="pod"))
    return items


def _mark_numbers(marks: Sequence[MarkHeight], scale: float) -> list[Item]:
    """Return the marks' numbers at their places; one that stands on another moves forward."""
    apart = 2.0 * _DISC_MM * scale
    taken: list[Point] = []
    lines: list[Item] = []
    items: list[Item] = []
    for number, mark in enumerate(marks, start=1):
        place = at = (-mark.ahead_mm, mark.z_mm)
        while any(math.dist(at, other) < apart for other in taken):
            at = (at[0] - apart, at[1])
        taken.append(at)
        if at != place:
            lines.append(Path((place, at), "MARKS", pen=MEASURE, ref=f"mark-{number}"))
        items += _number(at, number, scale, f"mark-{number}")
    return [*lines, *items]


def _number(at: Point, number: int, scale: float, ref: str) -> list[Item]:
    ink = Ink.LINE
    return [
        Disc(at, _DISC_MM * scale, "MARKS", pen=Pen(0.25, ink=ink), fill=Ink.PAPER, ref=ref),
        Text(at, str(number), "MARKS", height_mm=2.0, across="centre", up="middle", ref=ref),
    ]


def _ends(flotation: Flotation, scale: float) -> tuple[float, float]:
    """Return how far ahead the water is drawn, aft end first."""
    return -24.0 * scale, flotation.form.length_mm + 12.0 * scale


def _water(flotation: Flotation, scale: float) -> tuple[Point, ...]:
    aft, fore = _ends(flotation, scale)
    plane = flotation.after.plane
    deep = -6.0 * scale
    return ((-aft, plane.at(aft)), (-aft, deep), (-fore, deep), (-fore, plane.at(fore)))


def _water_lines(flotation: Flotation, scale: float, style: Shown) -> list[Item]:
    aft, fore = _ends(flotation, scale)

    def line(plane: Plane, pen: Pen, ref: str) -> Path:
        ends = ((-aft, plane.at(aft)), (-fore, plane.at(fore)))
        return Path(ends, "WATER", pen=pen, ref=ref)

    items: list[Item] = []
    before = flotation.before
    if before is not None:
        items.append(line(before.plane, _NOW, "water-now"))
    items.append(line(flotation.after.plane, _THEN, "water-after"))
    words = ["Water afterwards"]
    if flotation.stern_mm is not None and flotation.trim_change_deg is not None:
        by = show(flotation.stern_mm.value, Kind.LENGTH, style, signed=True)
        words.append(f"{by} at the transom")
        words.append(f"{show(flotation.trim_change_deg.value, Kind.ANGLE, signed=True)} by the "
                     "stern")  # fmt: skip
    x, y = -aft + 2.0 * scale, flotation.after.plane.at(aft)
    items.append(Text((x, y), words[0], "NOTES", up="middle", ink=Ink.ACCENT))
    for index, text in enumerate(words[1:], start=1):
        place = (x, y - index * 4.4 * scale)
        items.append(Text(place, text, "NOTES", height_mm=_SMALL_MM, up="middle"))
    if before is not None:
        items.append(
            Text((x, y + 4.4 * scale), "Water now, dashed", "NOTES", up="middle", ink=Ink.MUTED)
        )
    return items


def _masses(flotation: Flotation, scale: float, style: Shown) -> list[Item]:
    """Return a note at every mass that comes out or goes aboard, lowest for the aftmost."""
    pairs = [("off", item) for item in flotation.removed]
    pairs += [("on", item) for item in flotation.added]
    pairs = sorted((p for p in pairs if p[1].mass_kg > 0.0), key=lambda p: p[1].ahead_mm)[:6]
    top = flotation.form.top_mm()
    items: list[Item] = []
    for index, (way, mass) in enumerate(pairs):
        tip = (-mass.ahead_mm, mass.above_mm)
        elbow = (tip[0] + 5.0 * scale, top + (4.0 + 6.0 * (index + 1)) * scale)
        words = f"{_sign(way)} {mass.name}, {show(mass.mass_kg, Kind.MASS, style)}"
        items += leader(tip, elbow, words, scale=scale, end="dot", ref=_ref(mass))
    return items


def _sign(way: str) -> str:
    return "on:" if way == "on" else "off:"


def _ref(mass: PointMass) -> str:
    return f"mass-{mass.name.replace(' ', '-')}"


# ------------------------------------------------------------------ heights


def _heights(
    flotation: Flotation, marks: Sequence[MarkHeight], panel: _Panel, style: Shown
) -> list[Item]:
    """Return a column for each mark: its height afterwards with tolerance, and as it is now."""
    items: list[Item] = [
        panel.text(0.0, panel.height + 6.0, "Heights above the water", height_mm=_HEAD_MM,
                   bold=True)
    ]  # fmt: skip
    if not marks:
        words = "no mark has a height yet"
        return [*items, panel.text(0.0, panel.height - 6.0, words, ink=Ink.MUTED)]
    known = [m.after.value + m.after.tolerance for m in marks]
    known += [m.before for m in marks if m.before is not None]
    high = max(60.0, *known)
    low = min(0.0, *(m.after.value - m.after.tolerance for m in marks))
    foot = 17.0  # room for names
    unit = (panel.height - foot - 6.0) / (high - low)
    zero = foot - low * unit
    water = [panel.at(0.0, foot - 1.0), panel.at(panel.width, foot - 1.0),
             panel.at(panel.width, zero), panel.at(0.0, zero)]  # fmt: skip
    items += [
        Path(tuple(water), "WATER", pen=None, closed=True, fill=Ink.WATER),
        panel.line(((0.0, zero), (panel.width, zero)), _THEN, "water"),
    ]
    pitch = panel.width / len(marks)
    for index, mark in enumerate(marks):
        x = (index + 0.5) * pitch
        items += _column(flotation, mark, index + 1, panel, (x, zero, unit, pitch), style)
    return items


def _column(
    flotation: Flotation,
    mark: MarkHeight,
    number: int,
    panel: _Panel,
    place: tuple[float, float, float, float],
    style: Shown,
) -> list[Item]:
    x, zero, unit, pitch = place
    verdict = mark_verdict(flotation, mark)
    ink = VERDICT_INK[verdict]
    after, spread_mm = mark.after.value, mark.after.tolerance
    y = zero + after * unit
    pen, cap = Pen(0.35, ink=ink), 1.4
    items: list[Item] = [panel.line(((x, zero), (x, y)), Pen(0.7, ink=ink), f"height-{number}")]
    ends = (y - spread_mm * unit, y + spread_mm * unit)
    items.append(panel.line(((x, ends[0]), (x, ends[1])), pen))
    items += [panel.line(((x - cap, end), (x + cap, end)), pen) for end in ends]
    if mark.before is not None:
        now = zero + mark.before * unit
        items.append(panel.line(((x - 3.2, now), (x + 3.2, now)), _NOW, f"now-{number}"))
    words = compact(after, style)
    small = pitch < 24.0
    items.append(
        panel.text(
            x + 2.0, y, words, height_mm=1.8 if small else 2.5, up="middle", ink=ink, bold=True
        )
    )
    items += _number(panel.at(x, 12.6), number, panel.scale, f"name-{number}")
    for line, text in enumerate(wrapped(mark.name, pitch - 2.0, 2.0)[:2]):
        items.append(
            panel.text(x, 8.6 - line * 3.4, text, height_mm=2.0, across="centre", up="middle")
        )
    items.append(
        panel.text(x, 1.4, verdict.value.upper(), height_mm=1.8, across="centre", up="middle",
                   ink=ink, bold=True)
    )  # fmt: skip
    return items


# ------------------------------------------------------------------ curve


def _curve(
    flotation: Flotation, marks: Sequence[MarkHeight], panel: _Panel, style: Shown
) -> list[Item]:
    items: list[Item] = [
        panel.text(0.0, panel.height + 6.0, "Under more mass at the transom", height_mm=_HEAD_MM,
                   bold=True)
    ]  # fmt: skip
    if not marks:
        return items
    wet = kilograms_until_wet(flotation)
    most = _reach_kg(wet)
    curve = margin_curve(flotation, most)
    chosen = [flotation.marks.index(mark) for mark in marks]
    values = [point.heights_mm[k] for point in curve for k in chosen]
    high, low = max(50.0, *values), min(0.0, *values)
    left, right, foot = 12.0, panel.width - 30.0, 17.0
    wide, tall = (right - left) / most, (panel.height - foot - 6.0) / (high - low)

    def place(kg: float, height: float) -> Point:
        return left + kg * wide, foot + (height - low) * tall

    items += _axes(panel, most, high, low, place(0.0, 0.0), (wide, tall), style)
    for index, k in enumerate(chosen):
        items.append(
            panel.line(_points(curve, k, place), Pen(0.35, DASHES[index % 4]), f"curve-{index + 1}")
        )
    items += _curve_names(panel, curve, chosen, place)
    for entry in wet[:3]:
        if entry.kg is not None and 0.0 < entry.kg <= most and entry.mark in marks:
            x, y = place(entry.kg, 0.0)
            items.append(Disc(panel.at(x, y), 0.9 * panel.scale, "MARKS", pen=None, fill=Ink.STOPS))
    return items


def _key(marks: Sequence[MarkHeight], panel: _Panel) -> list[Item]:
    """Return the names behind the numbers, beside a curve that stands alone."""
    items: list[Item] = []
    for number, mark in enumerate(marks, start=1):
        y = panel.height - number * 6.0
        items += _number(panel.at(panel.width + 8.0, y), number, panel.scale, f"key-{number}")
        items.append(panel.text(panel.width + 12.0, y, mark.name, up="middle"))
    return items


def _points(curve: Sequence[CurvePoint], k: int, place: Place) -> tuple[Point, ...]:
    return tuple(place(point.added_kg, point.heights_mm[k]) for point in curve)


def _reach_kg(wet: Sequence[WetAt]) -> float:
    """Return how far the curve goes: a little past the second mark to be wet, in round kg."""
    known = [item.kg for item in wet if item.kg is not None]
    far = 1.25 * (known[1] if len(known) > 1 else known[0] if known else 150.0)
    return min(500.0, max(100.0, 50.0 * round(far / 50.0)))


def _axes(
    panel: _Panel,
    most: float,
    high: float,
    low: float,
    origin: Point,
    units: tuple[float, float],
    style: Shown,
) -> list[Item]:
    x, zero = origin
    wide, tall = units
    right = x + most * wide
    bottom = zero + low * tall
    items: list[Item] = [
        panel.line(((x, bottom), (x, zero + high * tall)), EDGE),
        panel.line(((x, zero), (right, zero)), _THEN, "water"),
    ]
    step = 25.0 if high - low < 150.0 else 50.0 if high - low < 400.0 else 100.0
    level = step * -(-low // step)
    while level <= high:
        y = zero + level * tall
        items.append(panel.line(((x - 1.2, y), (x, y)), MEASURE))
        words = compact(level, style) if level else "water 0"
        items.append(panel.text(x - 2.0, y, words, height_mm=2.0, across="right", up="middle"))
        level += step
    pace = 25.0 if most <= 150.0 else 50.0 if most <= 300.0 else 100.0
    kg = 0.0
    while kg <= most + 1e-6:
        at = x + kg * wide
        items.append(panel.line(((at, bottom - 1.2), (at, bottom)), MEASURE))
        words = show(kg, Kind.MASS, style).split(" (")[0]
        items.append(panel.text(at, bottom - 2.2, words, height_mm=2.0, across="centre", up="top"))
        kg += pace
    items.append(panel.line(((x, bottom), (right, bottom)), EDGE))
    items.append(
        panel.text(x, bottom - 9.0, "Height above the water against mass put on the transom",
                   height_mm=2.0, up="top", ink=Ink.MUTED)
    )  # fmt: skip
    return items


def _curve_names(
    panel: _Panel, curve: Sequence[CurvePoint], chosen: Sequence[int], place: Place
) -> list[Item]:
    """Return the number of each curve at its right end, kept apart where curves meet."""
    ends = sorted(
        (_points(curve[-1:], k, place)[0], number) for number, k in enumerate(chosen, start=1)
    )
    ends.sort(key=lambda item: item[0][1])
    levels = spread([point[1] for point, _ in ends], 4.2)
    items: list[Item] = []
    for (point, number), y in zip(ends, levels, strict=True):
        items.append(panel.line((point, (point[0] + 8.0, y)), MEASURE))
        items += _number(panel.at(point[0] + 10.0, y), number, panel.scale, f"end-{number}")
    return items
