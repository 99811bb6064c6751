"""Afloat: the hull from the side with the water before and after, and what is left of each margin.

Three views on one drawing, all in model mm of the side view: the hull with x aft and z up from the
keel line; below it the marks' heights above the water, and how they sink under added mass.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigfit.drawing.dimensioning import leader
from rigfit.drawing.fonts import text_width_mm, wrapped
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
from rigfit.rigging.checks_flotation import limits_of, mark_verdict
from rigfit.rigging.flotation import Plane, PointMass
from rigfit.rigging.margins import CurvePoint, WetAt, kilograms_until_wet, margin_curve
from rigfit.units import INCH_MM, POUND_KG, Kind, Shown, compact, show

SCALES = (10.0, 20.0, 25.0, 40.0, 50.0)
"""Reductions of the side view; taken is the largest at which the hull has room."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How large the parts of the drawing are, paper mm.

    :param hull: the longest the hull may be drawn.
    :param wide: both panels with ``gap`` between them.
    :param high: height of a panel.
    :param is_narrow: True for notes over the hull and under it, with none beside it.
    """

    hull: float
    wide: float
    high: float
    gap: float = 20.0
    is_narrow: bool = False


WIDE = Layout(264.0, 290.0, 76.0)
"""For A3 and Tabloid lying, and for the screen."""

NARROW = Layout(132.0, 176.0, 60.0, 12.0, is_narrow=True)
"""For A4, Letter and Legal standing."""

_PANEL_GAP_MM = 26.0
_HEAD_MM = 3.5
_SMALL_MM = 2.2
_NOW = Pen(0.25, Dash.DASHED, Ink.MUTED)
_THEN = Pen(0.5, ink=Ink.ACCENT)
_MOST_MARKS = 6
_HEIGHT_STEPS = {
    "mm": (25.0, 50.0, 100.0, 200.0),
    "in": (INCH_MM, 2.0 * INCH_MM, 4.0 * INCH_MM, 8.0 * INCH_MM),
}
_MASS_STEPS = {
    "mm": (25.0, 50.0, 100.0),
    "in": (50.0 * POUND_KG, 100.0 * POUND_KG, 200.0 * POUND_KG),
}
"""Steps of the curve's axes, mm and kg, round in the unit that is shown."""

_MOST_MASSES = 6
_DEEP_MM = -6.0
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


def afloat_scene(
    flotation: Flotation, style: Shown, boat: str = "", layout: Layout = WIDE
) -> Scene:
    """Return how she floats before and after, her margins, and the curve of added mass.

    :param boat: her name, for the heading.
    """
    scale = _scale_for(flotation, layout)
    marks = shown_marks(flotation)
    items: list[Item] = [*side_items(flotation, marks, scale, style, layout)]
    left = -_ends(flotation, scale)[1] if layout.is_narrow else -flotation.form.length_mm
    low = min(0.0, min(z for _, z in flotation.form.keel_mm())) - _PANEL_GAP_MM * scale
    half = (layout.wide - layout.gap) / 2.0
    bottom = low - layout.high * scale
    heights = _Panel((left, bottom), scale, half, layout.high)
    curve = _Panel((left + (half + layout.gap) * scale, bottom), scale, half, layout.high)
    items += _heights(flotation, marks, heights, style)
    items += _curve(flotation, marks, curve, style)
    items += _heading(flotation, left, scale, style, boat)
    return Scene(title="Afloat", items=tuple(items), scale=scale)


def screen_items(flotation: Flotation, style: Shown, scale: float) -> tuple[Item, ...]:
    """Return the side view with the heights below it at any scale, without heading and curve.

    :param scale: model mm per paper mm; words and the heights keep their size on paper.
    """
    marks, ends = shown_marks(flotation), _ends(flotation, scale)
    keel = min(0.0, *(z for _, z in flotation.form.keel_mm()))
    corner = (-ends[1], keel - (_PANEL_GAP_MM + NARROW.high) * scale)
    width = min(max((ends[1] - ends[0]) / scale, 90.0), NARROW.wide)
    return (
        *side_items(flotation, marks, scale, style, NARROW),
        *_heights(flotation, marks, _Panel(corner, scale, width, NARROW.high), style),
    )


def margin_curve_scene(flotation: Flotation, style: Shown) -> Scene:
    """Return the curve alone: height of each mark above the water against mass at the transom."""
    panel = _Panel((0.0, 0.0), 1.0, 150.0, 95.0)
    marks = shown_marks(flotation)
    items = [*_curve(flotation, marks, panel, style), *_key(marks, panel)]
    return Scene(title="Margin against added mass", items=tuple(items), scale=1.0)


def _scale_for(flotation: Flotation, layout: Layout) -> float:
    fits = (s for s in SCALES if flotation.form.length_mm / s <= layout.hull)
    return next(fits, 100.0)


def shown_marks(flotation: Flotation) -> tuple[MarkHeight, ...]:
    """Return the marks to show, the lowest of too many."""
    order = sorted(flotation.marks, key=lambda mark: mark.after.value)[:_MOST_MARKS]
    return tuple(order)


def _heading(
    flotation: Flotation, left: float, scale: float, style: Shown, boat: str
) -> list[Item]:
    top = flotation.form.top_mm() + max(34.0, 14.0 + 6.0 * len(_noted(flotation))) * scale
    name = f"{boat}, afloat" if boat else "Afloat"
    note = f"Side view 1:{scale:g}. {units_note(style)}. Arrows: down goes on, up comes off."
    if not flotation.is_anchored:
        note = f"Side view 1:{scale:g}. Nothing was read afloat: heights are estimates."
    return [
        Text((left, top + 7.0 * scale), name, "NOTES", height_mm=5.0, bold=True),
        Text((left, top), note, "NOTES", height_mm=2.5, ink=Ink.MUTED),
    ]


# ------------------------------------------------------------------ side view


def side_items(
    flotation: Flotation,
    marks: Sequence[MarkHeight],
    scale: float,
    style: Shown,
    layout: Layout = WIDE,
) -> list[Item]:
    """Return the hull from the side with both waters, what goes on and off, the marks' numbers.

    :param scale: model mm per paper mm.
    """
    return [
        *hull_items(flotation, flotation.after.plane, scale),
        *_water_lines(flotation, scale),
        *_water_words(flotation, scale, style, is_narrow=layout.is_narrow),
        *_masses(flotation, scale, style, is_narrow=layout.is_narrow),
        *mark_numbers(marks, scale),
    ]


def hull_items(
    flotation: Flotation, plane: Plane, scale: float, *, with_pods: bool = True
) -> list[Item]:
    """Return the hull from the side in water that lies as a plane says, without its lines."""
    form = flotation.form
    keel, sheer = form.keel_mm(), form.sheer_mm()
    chine = tuple(
        (form.ahead_mm(i), part[len(part) // 2][1]) for i, part in enumerate(form.sections)
    )
    top = sheer[0][1]
    # The form ends at the transom's foot; drawn is the transom as it leans.
    lean = -top * math.tan(math.radians(flotation.rake_deg))
    outline = tuple((-x, z) for x, z in (*keel, *reversed(sheer), (lean, top)))
    return [
        Path(_water(flotation, plane, scale), "WATER", pen=None, closed=True, fill=Ink.WATER),
        *(_pods(flotation) if with_pods else ()),
        Path(outline, "HULL", pen=OUTLINE, closed=True, fill=Ink.HULL, ref="hull"),
        Path(tuple((-x, z) for x, z in chine), "HULL", pen=THIN, ref="chine"),
    ]


def _pods(flotation: Flotation) -> list[Item]:
    """Return closed pods from the transom to twice their middle, as they were measured."""
    items: list[Item] = []
    for pod in flotation.pods:
        aft, top = -2.0 * pod.ahead_mm, pod.bottom_mm + pod.height_mm
        corners = ((0.0, pod.bottom_mm), (aft, pod.bottom_mm), (aft, top), (0.0, top))
        items.append(Path(corners, "HULL", pen=EDGE, closed=True, fill=Ink.ENGINE, ref="pod"))
    return items


def mark_numbers(marks: Sequence[MarkHeight], scale: float) -> list[Item]:
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
        items += number_disc(at, number, scale, f"mark-{number}")
    return [*lines, *items]


def number_disc(at: Point, number: int, scale: float, ref: str) -> list[Item]:
    """Return the number of a mark in a circle, ``at`` its middle."""
    ink = Ink.LINE
    return [
        Disc(at, _DISC_MM * scale, "MARKS", pen=Pen(0.25, ink=ink), fill=Ink.PAPER, ref=ref),
        Text(at, str(number), "MARKS", height_mm=2.0, across="centre", up="middle", ref=ref),
    ]


def _ends(flotation: Flotation, scale: float) -> tuple[float, float]:
    """Return how far ahead the water is drawn, aft end first."""
    return -24.0 * scale, flotation.form.length_mm + 12.0 * scale


def _water(flotation: Flotation, plane: Plane, scale: float) -> tuple[Point, ...]:
    aft, fore = _ends(flotation, scale)
    deep = _DEEP_MM * scale
    return ((-aft, plane.at(aft)), (-aft, deep), (-fore, deep), (-fore, plane.at(fore)))


def _water_lines(flotation: Flotation, scale: float) -> list[Item]:
    lines = [water_line(flotation, flotation.after.plane, scale, "water-after")]
    if flotation.before is not None:
        lines.insert(0, water_line(flotation, flotation.before.plane, scale, "water-now"))
    return lines


def water_line(flotation: Flotation, plane: Plane, scale: float, ref: str) -> Item:
    """Return a water line past both ends of the hull, dashed for "water-now"."""
    aft, fore = _ends(flotation, scale)
    ends = ((-aft, plane.at(aft)), (-fore, plane.at(fore)))
    return Path(ends, "WATER", pen=_NOW if ref == "water-now" else _THEN, ref=ref)


def _water_words(
    flotation: Flotation, scale: float, style: Shown, *, is_narrow: bool
) -> list[Item]:
    """Return what the water lines are: beside their aft ends, or below all of it."""
    words = []
    if flotation.stern_mm is not None and flotation.trim_change_deg is not None:
        stern, trim = flotation.stern_mm.value, flotation.trim_change_deg.value
        depth = "deeper" if stern >= 0.0 else "higher"
        words.append(f"{show(abs(stern), Kind.LENGTH, style)} {depth} at the transom")
        end = "stern" if trim >= 0.0 else "bow"
        words.append(f"{show(abs(trim), Kind.ANGLE, style)} more by the {end}")
    aft, fore = _ends(flotation, scale)
    has_now = flotation.before is not None
    if is_narrow:
        now = " Dashed: water now." if has_now else ""
        text = f"Blue: water afterwards{', ' if words else ''}{', '.join(words)}.{now}"
        return [Text((-fore, _DEEP_MM * scale - 4.5 * scale), text, "NOTES", height_mm=_SMALL_MM)]
    x, y = -aft + 2.0 * scale, flotation.after.plane.at(aft)
    items: list[Item] = [
        Text((x, y), "Water afterwards", "NOTES", up="middle", ink=Ink.ACCENT)
    ]  # fmt: skip
    for index, text in enumerate(words, start=1):
        place = (x, y - index * 4.4 * scale)
        items.append(Text(place, text, "NOTES", height_mm=_SMALL_MM, up="middle"))
    if has_now:
        items.append(
            Text((x, y + 4.4 * scale), "Water now, dashed", "NOTES", up="middle", ink=Ink.MUTED)
        )
    return items


def _noted(flotation: Flotation) -> list[tuple[str, PointMass]]:
    """Return the masses that come off and go on, aftmost first, the aftmost of too many."""
    pairs = [("off", item) for item in flotation.removed]
    pairs += [("on", item) for item in flotation.added]
    return sorted((p for p in pairs if p[1].mass_kg > 0.0), key=lambda p: p[1].ahead_mm)[
        :_MOST_MASSES
    ]


def _masses(flotation: Flotation, scale: float, style: Shown, *, is_narrow: bool) -> list[Item]:
    """Return an arrow and a note at every mass that comes out or goes aboard.

    Notes run aft, the aftmost lowest, or forward with the foremost lowest: none crosses another.
    """
    pairs = _noted(flotation)
    top = flotation.form.top_mm()
    most = max((mass.mass_kg for _, mass in pairs), default=1.0)
    items: list[Item] = []
    for index, (way, mass) in enumerate(reversed(pairs) if is_narrow else pairs):
        tip = (-mass.ahead_mm, mass.above_mm)
        aside = -5.0 if is_narrow else 5.0
        elbow = (tip[0] + aside * scale, top + (4.0 + 6.0 * (index + 1)) * scale)
        words = f"{_sign(way)} {mass.name}, {show(mass.mass_kg, Kind.MASS, style)}"
        length = (3.0 + 6.0 * mass.mass_kg / most) * scale
        items += arrow(tip, -length if way == "on" else length, scale, _ref(mass))
        items += leader(tip, elbow, words, scale=scale, end="dot", ref=_ref(mass))
    return items


def arrow(foot: Point, length: float, scale: float, ref: str = "") -> list[Item]:
    """Return an upright arrow, model mm: down (negative) for a weight put on, up for one taken."""
    x, y = foot
    tip = y + length
    back = tip - math.copysign(2.2 * scale, length)
    half = 0.8 * scale
    head = ((x, tip), (x - half, back), (x + half, back))
    return [
        Path((foot, (x, back)), "MASSES", pen=Pen(0.35, ink=Ink.ACCENT), ref=ref),
        Path(head, "MASSES", pen=None, closed=True, fill=Ink.ACCENT, ref=ref),
    ]


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
                   bold=True),
        panel.text(0.0, panel.height + 1.5, "Column: afterwards, with its tolerance. Beside it: "
                   "dashed now, line wanted.", height_mm=1.8, ink=Ink.MUTED),
    ]  # fmt: skip
    if not marks:
        words = "no mark has a height yet"
        return [*items, panel.text(0.0, panel.height - 6.0, words, ink=Ink.MUTED)]
    known = [m.after.value + m.after.tolerance for m in marks]
    known += [m.before for m in marks if m.before is not None]
    known += [_wanted(m) for m in marks]
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
    manner = _manner([compact(mark.after.value, style) for mark in marks], pitch - 8.0)
    for index, mark in enumerate(marks):
        x = (index + 0.5) * pitch
        items += _column(flotation, mark, index + 1, panel, (x, zero, unit, pitch))
        said = compact(mark.after.value, style)
        items.append(
            panel.text(
                x + 2.0, zero + mark.after.value * unit,
                said.partition(" (")[0] if manner.is_short else said,
                height_mm=manner.height, up="middle", bold=True,
                ink=VERDICT_INK[mark_verdict(flotation, mark)],
            )
        )  # fmt: skip
    return items


def _wanted(mark: MarkHeight) -> float:
    return limits_of(mark).low or 0.0


def _column(
    flotation: Flotation,
    mark: MarkHeight,
    number: int,
    panel: _Panel,
    place: tuple[float, float, float, float],
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
        items.append(panel.line(((x - 7.2, now), (x - 1.6, now)), _NOW, f"now-{number}"))
    wanted = zero + _wanted(mark) * unit
    items.append(panel.line(((x - 7.2, wanted), (x - 1.6, wanted)), EDGE, f"wanted-{number}"))
    items += number_disc(panel.at(x, 12.6), number, panel.scale, f"name-{number}")
    for line, text in enumerate(wrapped(mark.name, pitch - 2.0, 2.0)[:2]):
        items.append(
            panel.text(x, 8.6 - line * 3.4, text, height_mm=2.0, across="centre", up="middle")
        )
    items.append(
        panel.text(x, 1.4, verdict.value.upper(), height_mm=1.8, across="centre", up="middle",
                   ink=ink, bold=True)
    )  # fmt: skip
    return items


@dataclass(frozen=True, slots=True)
class _Manner:
    """How heights are written beside their columns: in which size, with millimetres or without."""

    height: float
    is_short: bool


def _manner(texts: Sequence[str], room: float) -> _Manner:
    """Return the largest manner in which every text has room, or the smallest of all."""
    for height, is_short in ((2.5, False), (1.8, False), (2.2, True)):
        manner = _Manner(height, is_short=is_short)
        said = [text.partition(" (")[0] if manner.is_short else text for text in texts]
        if all(text_width_mm(text, manner.height, bold=True) <= room for text in said):
            return manner
    return _Manner(1.8, is_short=True)


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
    left, right, foot = 12.0, panel.width - 14.0, 17.0
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
        items += number_disc(panel.at(panel.width + 8.0, y), number, panel.scale, f"key-{number}")
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
    for level in _ticks(low, high, _HEIGHT_STEPS[style.lengths]):
        y = zero + level * tall
        items.append(panel.line(((x - 1.2, y), (x, y)), MEASURE))
        words = compact(level, style).partition(" (")[0] if level else "water 0"
        items.append(panel.text(x - 2.0, y, words, height_mm=2.0, across="right", up="middle"))
    for kg in _ticks(0.0, most, _MASS_STEPS[style.lengths]):
        at = x + kg * wide
        items.append(panel.line(((at, bottom - 1.2), (at, bottom)), MEASURE))
        words = show(kg, Kind.MASS, style).split(" (")[0]
        items.append(panel.text(at, bottom - 2.2, words, height_mm=2.0, across="centre", up="top"))
    items.append(panel.line(((x, bottom), (right, bottom)), EDGE))
    items.append(
        panel.text(
            x, bottom - 9.0,
            f"{'Inches' if style.lengths == 'in' else 'mm'} above water, by mass at the transom",
            height_mm=2.0, up="top", ink=Ink.MUTED,
        )
    )  # fmt: skip
    return items


def _ticks(low: float, high: float, steps: Sequence[float]) -> list[float]:
    """Return round levels between two, at most seven steps apart, 0 among them where it is."""
    step = next((one for one in steps if high - low <= 7.0 * one), steps[-1])
    first = math.ceil(low / step - 1e-9)
    return [step * k for k in range(first, math.floor(high / step + 1e-9) + 1)]


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
        items += number_disc(panel.at(point[0] + 10.0, y), number, panel.scale, f"end-{number}")
    return items
