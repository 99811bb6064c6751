"""Afloat: the hull from the side with the water before and after, and what is left of each margin.

Three views on one drawing, all in model mm of the side view: the hull with x aft and z up from the
keel line; below it the marks' heights above the water, and how they sink under added mass.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rigfit.drawing.afloat_panels import (
    DISC_MM,
    NOW,
    THEN,
    curve_items,
    heights_items,
    key_items,
    number_disc,
)
from rigfit.drawing.charts import Panel
from rigfit.drawing.dimensioning import leader
from rigfit.drawing.labels import units_note
from rigfit.drawing.scene import (
    EDGE,
    MEASURE,
    OUTLINE,
    THIN,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Scene,
    Text,
)
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.flotation import Plane, PointMass
from rigfit.units import Kind, Shown, show

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
_SMALL_MM = 2.2
_MOST_MARKS = 6
_MOST_MASSES = 6
_DEEP_MM = -6.0
_WAYS = ((-1.0, 0.0), (-0.71, 0.71), (-0.71, -0.71), (0.0, -1.0), (0.0, 1.0))
"""Where a mark's number goes that has no room: forward, down, up."""


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
    heights = Panel((left, bottom), scale, half, layout.high)
    curve = Panel((left + (half + layout.gap) * scale, bottom), scale, half, layout.high)
    items += heights_items(flotation, marks, heights, style)
    items += curve_items(flotation, marks, curve, style)
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
        *heights_items(flotation, marks, Panel(corner, scale, width, NARROW.high), style),
    )


def margin_curve_scene(flotation: Flotation, style: Shown) -> Scene:
    """Return the curve alone: height of each mark above the water against mass at the transom."""
    panel = Panel((0.0, 0.0), 1.0, 150.0, 95.0)
    marks = shown_marks(flotation)
    items = [*curve_items(flotation, marks, panel, style), *key_items(marks, panel)]
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
    """Return the marks' numbers at their places; one that stands on another goes to the nearest
    free place, forward first.
    """
    apart = 2.0 * DISC_MM * scale
    taken: list[Point] = []
    lines: list[Item] = []
    items: list[Item] = []
    for number, mark in enumerate(marks, start=1):
        place = (-mark.ahead_mm, mark.z_mm)
        at = _free(place, taken, apart)
        taken.append(at)
        if at != place:
            lines.append(Path((place, at), "MARKS", pen=MEASURE, ref=f"mark-{number}"))
        items += number_disc(at, number, scale, f"mark-{number}")
    return [*lines, *items]


def _free(place: Point, taken: Sequence[Point], apart: float) -> Point:
    """Return the nearest point at a place or round it that keeps its distance from others."""
    x, y = place
    at = place
    for turn in range(len(taken) * len(_WAYS) + 1):
        if turn:
            ahead, up = _WAYS[(turn - 1) % len(_WAYS)]
            far = apart * (1 + (turn - 1) // len(_WAYS))
            at = (x + ahead * far, y + up * far)
        if all(math.dist(at, other) >= apart - 1e-9 for other in taken):
            break
    return at


def _ends(flotation: Flotation, scale: float) -> tuple[float, float]:
    """Return how far ahead the water is drawn, aft end first."""
    pods = [-2.0 * pod.ahead_mm + 6.0 * scale for pod in flotation.pods]
    return -max(24.0 * scale, *pods, 0.0), flotation.form.length_mm + 12.0 * scale


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
    return Path(ends, "WATER", pen=NOW if ref == "water-now" else THEN, ref=ref)


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
