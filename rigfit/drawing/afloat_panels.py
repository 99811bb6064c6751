"""The panels under the drawing afloat: heights of the marks, and how they sink under added mass.

Each is made in paper mm from the lower left corner of its panel.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigfit.drawing.charts import Panel, levels
from rigfit.drawing.fonts import text_width_mm, wrapped
from rigfit.drawing.labels import VERDICT_INK
from rigfit.drawing.running import spread
from rigfit.drawing.scene import EDGE, MEASURE, Dash, Disc, Ink, Item, Path, Pen, Point, Text
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.checks_flotation import limits_of, mark_verdict
from rigfit.rigging.margins import CurvePoint, WetAt, kilograms_until_wet, margin_curve
from rigfit.units import INCH_MM, POUND_KG, Kind, Shown, brief, compact, show

Place = Callable[[float, float], Point]

DASHES = (Dash.SOLID, Dash.DASHED, Dash.CENTRE, Dash.DOTTED)

_HEAD_MM = 3.5
DISC_MM = 1.9
_ROOMY_MM = 70.0
NOW = Pen(0.25, Dash.DASHED, Ink.MUTED)
THEN = Pen(0.5, ink=Ink.ACCENT)
_HEIGHT_STEPS = {
    "mm": (25.0, 50.0, 100.0, 200.0),
    "in": (INCH_MM, 2.0 * INCH_MM, 4.0 * INCH_MM, 8.0 * INCH_MM),
}
_MASS_STEPS = {
    "mm": (25.0, 50.0, 100.0),
    "in": (50.0 * POUND_KG, 100.0 * POUND_KG, 200.0 * POUND_KG),
}
"""Steps of the curve's axes, mm and kg, round in the unit that is shown."""


def number_disc(at: Point, number: int, scale: float, ref: str) -> list[Item]:
    """Return the number of a mark in a circle, ``at`` its middle."""
    ink = Ink.LINE
    return [
        Disc(at, DISC_MM * scale, "MARKS", pen=Pen(0.25, ink=ink), fill=Ink.PAPER, ref=ref),
        Text(at, str(number), "MARKS", height_mm=2.0, across="centre", up="middle", ref=ref),
    ]


def heights_items(
    flotation: Flotation, marks: Sequence[MarkHeight], panel: Panel, style: Shown
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
        panel.line(((0.0, zero), (panel.width, zero)), THEN, "water"),
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
                brief(said) if manner.is_short else said,
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
    panel: Panel,
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
        items.append(panel.line(((x - 7.2, now), (x - 1.6, now)), NOW, f"now-{number}"))
    wanted = zero + _wanted(mark) * unit
    items.append(panel.line(((x - 7.2, wanted), (x - 1.6, wanted)), EDGE, f"wanted-{number}"))
    items += number_disc(panel.at(x, 12.6), number, panel.scale, f"name-{number}")
    for line, text in enumerate(two_lines(mark.name, pitch - 2.0)):
        items.append(
            panel.text(x, 8.6 - line * 3.4, text, height_mm=2.0, across="centre", up="middle")
        )
    items.append(
        panel.text(x, 1.4, verdict.value.upper(), height_mm=1.8, across="centre", up="middle",
                   ink=ink, bold=True)
    )  # fmt: skip
    return items


def two_lines(words: str, width: float) -> list[str]:
    """Return a name in at most two lines of small letters; what is cut off ends in dots."""
    lines = wrapped(words, width, 2.0)
    if len(lines) <= 2:
        return lines
    last = lines[1]
    while last and text_width_mm(last + "…", 2.0) > width:
        last = last[:-1]
    return [lines[0], last.rstrip(" ,") + "…"]


@dataclass(frozen=True, slots=True)
class _Manner:
    """How heights are written beside their columns: in which size, with millimetres or without."""

    height: float
    is_short: bool


def _manner(texts: Sequence[str], room: float) -> _Manner:
    """Return the largest manner in which every text has room, or the smallest of all."""
    for height, is_short in ((2.5, False), (1.8, False), (2.2, True)):
        manner = _Manner(height, is_short=is_short)
        said = [brief(text) if manner.is_short else text for text in texts]
        if all(text_width_mm(text, manner.height, bold=True) <= room for text in said):
            return manner
    return _Manner(1.8, is_short=True)


# ------------------------------------------------------------------ curve


def curve_items(
    flotation: Flotation, marks: Sequence[MarkHeight], panel: Panel, style: Shown
) -> list[Item]:
    """Return the curve of each mark's height against mass put on the transom, with its axes."""
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


def key_items(marks: Sequence[MarkHeight], panel: Panel) -> list[Item]:
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
    panel: Panel,
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
        panel.line(((x, zero), (right, zero)), THEN, "water"),
    ]
    for level in _ticks(low, high, _HEIGHT_STEPS[style.lengths]):
        y = zero + level * tall
        items.append(panel.line(((x - 1.2, y), (x, y)), MEASURE))
        words = brief(compact(level, style)) if level else "water 0"
        items.append(panel.text(x - 2.0, y, words, height_mm=2.0, across="right", up="middle"))
    count = 7 if most * wide > _ROOMY_MM else 4
    for kg in _ticks(0.0, most, _MASS_STEPS[style.lengths], count):
        at = x + kg * wide
        items.append(panel.line(((at, bottom - 1.2), (at, bottom)), MEASURE))
        words = brief(show(kg, Kind.MASS, style))
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


def _ticks(low: float, high: float, steps: Sequence[float], count: int = 7) -> list[float]:
    """Return round levels between two, at most so many steps apart, 0 among them where it is."""
    step = next((one for one in steps if high - low <= count * one), steps[-1])
    return levels(low, high, step)


def _curve_names(
    panel: Panel, curve: Sequence[CurvePoint], chosen: Sequence[int], place: Place
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
