"""Under way: the water behind the transom with the plate in it, and trim and drag against speed.

The section is drawn in the keel frame, x aft and z up; the charts stand beside or below it in the
same model millimetres, so that one scene holds all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rigfit.drawing.charts import Panel, levels, step_near
from rigfit.drawing.fonts import wrapped
from rigfit.drawing.labels import VERDICT_INK, units_note
from rigfit.drawing.running import spread
from rigfit.drawing.scene import (
    CENTRE_LINE,
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
from rigfit.drawing.side_view import (
    PART_STYLE,
    Sketch,
    on_face,
    outline_at,
    sketch_of,
    transom_hatch,
)
from rigfit.drawing.wake_view import (
    FAR_PEN,
    RULE_PEN,
    WATER_PEN,
    surface_items,
    surface_words,
)
from rigfit.rigging.checks_underway import METHOD_DEG, name_of, plate_verdict
from rigfit.rigging.planing import Planing
from rigfit.rigging.report import EngineReport
from rigfit.rigging.underway import PlateAt, Surface, UnderwayResult, speed_curve
from rigfit.rigging.wake import RULE_NAME, rule_mm
from rigfit.units import Kind, Shown, compact, from_base, show

SCALES = (2.5, 4.0, 5.0, 8.0, 10.0, 12.5, 16.0, 20.0)
_AHEAD_MM = 110.0
_BEHIND_MM = 60.0
_LOWER = ("swivel", "leg", "strut", "propeller", "skeg", "gearcase", "plate")
_GHOST = ("plate",)
_LABELS_MM = 44.0
_CHART_MM = 88.0
_HEAD_MM = 17.5
_LINE_MM = 4.1
_TEXT_MM = 2.2
_GAP_MM = 9.0
_TIMES = (10.0, 8.0, 5.0, 4.0, 3.0, 2.0)


# ------------------------------------------------------------------ the scene


@dataclass(frozen=True, slots=True)
class Room:
    """What a sheet has to give, paper mm."""

    width: float
    height: float


def underway_scene(
    report: EngineReport, found: UnderwayResult, style: Shown, room: Room
) -> Scene | None:
    """Return section and charts laid into a room; None where it is too small for them.

    Beside each other on a room that lies, the charts below the section on one that stands.
    """
    facts = fact_lines(found, style, room.width)
    high = room.height - _HEAD_MM - _LINE_MM * len(facts) - _GAP_MM
    is_wide = room.width > room.height
    part = (room.width - _CHART_MM - _GAP_MM, high) if is_wide else (room.width, 0.5 * high)
    section = _section_bounds(report, found)
    long, tall = section[2] - section[0], section[3] - section[1]
    fits = (s for s in SCALES if long / s + _LABELS_MM <= part[0] and tall / s <= part[1])
    scale = next(fits, None)
    if scale is None:
        return None
    if is_wide:
        taken = long / scale + _LABELS_MM + _GAP_MM
        left, bottom = section[0] + taken * scale, section[3] - high * scale
        panel = Panel((left, bottom), scale, room.width - taken, high)
    else:
        rest = high - tall / scale - 2.0 * _GAP_MM
        panel = Panel((section[0], section[1] - (rest + 2.0 * _GAP_MM) * scale), scale,
                       room.width, rest)  # fmt: skip
    if panel.height < 45.0 or panel.width < 60.0:
        return None
    foot = min(section[1], panel.corner[1]) - _GAP_MM * scale
    under = high - tall / scale - _GAP_MM if is_wide else 0.0
    items = [
        *_section(report, found, section, scale, style),
        *_stretched(found, section, scale, under),
        *_charts(found, panel, style),
        *_heading(report, found, (section[0], section[3]), scale, style),
        *_facts(facts, (section[0], foot), scale),
    ]
    return Scene(title="Under way", items=tuple(items), scale=scale)


def _heading(
    report: EngineReport, found: UnderwayResult, at: Point, scale: float, style: Shown
) -> list[Item]:
    name = report.case.job.boat.name
    title = f"{name}, under way" if name else "Under way"
    speed = "" if found.speed_kn is None else f" at {show(found.speed_kn, Kind.SPEED, style)}"
    what = "Section" if found.mounted is None else "Water"
    note = f"{what} behind the transom{speed}, 1:{scale:g}. {units_note(style)}. An estimate."
    items: list[Item] = [
        Text((at[0], at[1] + 13.0 * scale), title, "NOTES", height_mm=4.0, bold=True),
        Text((at[0], at[1] + 8.5 * scale), note, "NOTES", height_mm=_TEXT_MM, ink=Ink.MUTED),
    ]
    mounted = found.mounted
    if mounted is not None:
        water = mounted.water
        side = "above" if water.clear_mm >= 0.0 else "under"
        words = (
            f"Plate {compact(abs(water.clear_mm), style)} {side} the water, which stands "
            f"{compact(water.surface_mm, style, signed=True)} from the extended keel line at the "
            "plate's middle."
        )
        items.append(
            Text((at[0], at[1] + 4.5 * scale), words, "NOTES", height_mm=_TEXT_MM,
                 ink=Ink.ACCENT, ref="plate-water")
        )  # fmt: skip
    return items


def fact_lines(found: UnderwayResult, style: Shown, width_mm: float) -> list[str]:
    """Return what the sheet says in words, set to a width."""
    said = []
    state, trim = found.state, found.trim
    if isinstance(state, Planing) and trim is not None and found.speed_kn is not None:
        said.append(
            f"{show(found.speed_kn, Kind.SPEED, style)}: trim {show(trim.value, Kind.ANGLE)} ± "
            f"{show(math.hypot(trim.tolerance, METHOD_DEG), Kind.ANGLE)}; porpoising from "
            f"{show(state.porpoising.trim_deg, Kind.ANGLE)}"
            f"{' (end of the chart)' if state.porpoising.beyond else ''}; foot of the transom "
            f"{show(state.draught_mm, Kind.LENGTH, style)} under the level water; bare hull "
            f"{state.resistance_n:.0f} N."
        )
    ends = [
        show(found.crouch.value + sign * found.crouch.tolerance, Kind.SPEED, style)
        for sign in (-1.0, 1.0)
    ]
    by_crouch = f"{ends[0]} to {ends[1]} by Crouch's formula"
    if found.top is None:
        said.append(f"Top speed: {by_crouch}; by Savitsky none, {found.top_trouble}.")
    else:
        tops = [
            show(found.top.value + sign * found.top.tolerance, Kind.SPEED, style)
            for sign in (-1.0, 1.0)
        ]
        said.append(f"Top speed: {tops[0]} to {tops[1]} by Savitsky, {by_crouch}.")
    doubts = list(state.doubts) if isinstance(state, Planing) else []
    if not isinstance(state, Planing):
        said.append(f"No planing trim comes out: {state.reason}.")
    mounted = found.mounted
    if mounted is not None:
        doubts += [f"for the water, {words}" for words in mounted.water.doubts]
    elif found.wake is not None:
        said.append(
            "Transom height, rake or leg is not measured: no water is drawn, the engine is at a "
            "usual place."
        )
    if doubts:
        said.append(f"Outside the published range: {'; '.join(doubts)}.")
    if found.soft:
        soft = [
            f"{name_of(key)} ({item.words})"
            for key, item in found.given.items()
            if item in found.soft
        ]
        said.append(f"Not measured: {'; '.join(soft)}.")
    return [line for text in said for line in wrapped(text, width_mm - 2.0, _TEXT_MM)]


def _facts(lines: Sequence[str], at: Point, scale: float) -> list[Item]:
    return [
        Text((at[0], at[1] - index * _LINE_MM * scale), words, "NOTES", height_mm=_TEXT_MM,
             up="top")
        for index, words in enumerate(lines)
    ]  # fmt: skip


# ------------------------------------------------------------------ section


def _surface(found: UnderwayResult) -> Surface | None:
    if found.wake is None or found.mounted is None or found.speed_kn is None:
        return None
    return Surface(found.wake, found.mounted, found.speed_kn)


def _drawn(found: UnderwayResult) -> tuple[PlateAt, ...]:
    """Return the height looked at and its neighbours, lowest first."""
    mounted = found.mounted
    if mounted is None:
        return ()
    rows = [item.option for item in found.plates]
    if mounted.option not in rows:
        return (mounted,)
    k = rows.index(mounted.option)
    return found.plates[max(0, k - 1) : k + 2]


def _section_bounds(
    report: EngineReport, found: UnderwayResult
) -> tuple[float, float, float, float]:
    """Return what of the side view the section shows, model mm."""
    mounted = found.mounted
    option = mounted.option if mounted else None
    outline = outline_at(report.case, sketch_of(report, option.lift.value if option else None))
    parts = [outline.parts[name] for name in ("skeg", "propeller", "plate")]
    right = max(x for part in parts for x, _ in part) + _BEHIND_MM
    low = min(z for part in parts for _, z in part) - 25.0
    plates = [item.place.plate_mm for item in _drawn(found)]
    return -_AHEAD_MM, low, right, max([0.0, *plates]) + 130.0


def _section(
    report: EngineReport,
    found: UnderwayResult,
    bounds: tuple[float, float, float, float],
    scale: float,
    style: Shown,
) -> list[Item]:
    left, low, right, top = bounds
    mounted = found.mounted
    sketch = sketch_of(report, mounted.option.lift.value if mounted else None)
    surface = _surface(found)
    items = surface_items(surface, right, -low) if surface else []
    items += _hull(sketch, left, top, scale)
    items += _engine(report, sketch, top)
    # The lines once more over the engine, so that they can be followed through.
    items += [item for item in items if isinstance(item, Path) and item.ref in ("wake", "rule")
              and item.pen is not None]  # fmt: skip
    items += _ghosts(report, found)
    items.append(
        Path(((left - 2.0 * scale, 0.0), (right, 0.0)), "KEELLINE", pen=CENTRE_LINE, ref="keel")
    )
    return [*items, *_end_labels(found, right, scale, style)]


def _below(polygon: Sequence[Point], top: float) -> tuple[Point, ...]:
    """Return the part of a polygon that lies at or under a level."""
    kept: list[Point] = []
    for (x0, z0), (x1, z1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if z0 <= top:
            kept.append((x0, z0))
        if (z0 - top) * (z1 - top) < 0.0:
            kept.append((x0 + (x1 - x0) * (top - z0) / (z1 - z0), top))
    return tuple(kept)


def _hull(sketch: Sketch, left: float, top: float, scale: float) -> list[Item]:
    """Return the end of the bottom and the transom in section, broken off above."""
    rig, thick = sketch.rig, sketch.thickness_mm
    up = min(rig.height_face_mm, top / math.cos(math.radians(rig.rake_deg)))
    outer, inner = on_face(rig, up), on_face(rig, up, -thick)
    short = up - thick * math.tan(math.radians(rig.rake_deg))
    shade = ((left, 0.0), (0.0, 0.0), outer, (left, outer[1]))
    wall = ((0.0, 0.0), outer, inner, on_face(rig, 14.0, -thick), (left, 14.0), (left, 0.0))
    return [
        Path(shade, "HULL", pen=None, closed=True, fill=Ink.HULL),
        Path(_below(wall, outer[1]), "TRANSOM", pen=None, closed=True, fill=Ink.MUTED),
        *transom_hatch(sketch, short, scale),
        Path(((left, 0.0), (0.0, 0.0), outer), "TRANSOM", pen=OUTLINE, ref="transom"),
        Path(
            ((left, 14.0), on_face(rig, 14.0, -thick), on_face(rig, short, -thick)),
            "HULL",
            pen=EDGE,
        ),
    ]


def _engine(report: EngineReport, sketch: Sketch, top: float) -> list[Item]:
    """Return the lower end of the engine, cut off above."""
    outline = outline_at(report.case, sketch)
    items: list[Item] = []
    for name in _LOWER:
        fill, pen = PART_STYLE[name]
        part = _below(outline.parts[name], top)
        if len(part) >= 3:
            layer = "PLATE" if name == "plate" else "ENGINE"
            items.append(Path(part, layer, pen=pen, closed=True, fill=fill, ref=f"engine-{name}"))
    return items


def _ghosts(report: EngineReport, found: UnderwayResult) -> list[Item]:
    """Return the plates of the neighbouring heights, dotted."""
    items: list[Item] = []
    for item in _drawn(found):
        if found.mounted is not None and item.option == found.mounted.option:
            continue
        outline = outline_at(report.case, sketch_of(report, item.option.lift.value))
        pen = Pen(0.25, Dash.DOTTED, VERDICT_INK[plate_verdict(found, item)])
        items += [
            Path(outline.parts[name], "PLATE", pen=pen, closed=True, ref="ghost") for name in _GHOST
        ]
    return items


def _end_labels(found: UnderwayResult, right: float, scale: float, style: Shown) -> list[Item]:
    """Return what the lines are, at their aft ends, kept apart where they meet."""
    rows: list[tuple[float, float, str, Ink, bool]] = []
    for item in _drawn(found):
        is_it = found.mounted is not None and item.option == found.mounted.option
        name = f"row {item.option.row}" if item.option.row else "clamped"
        words = f"{name}: plate {compact(item.place.plate_mm, style, signed=True)}"
        ink = VERDICT_INK[plate_verdict(found, item)]
        rows.append((item.place.aft_edge_mm, item.place.plate_mm, words, ink, is_it))
    surface = _surface(found)
    if surface is not None:
        level = surface.wake.surface_mm(right, surface.plate.place.across_mm)
        rows.append((right, level, surface_words(surface), Ink.ACCENT, False))
        rows.append((right, rule_mm(right), RULE_NAME, Ink.MUTED, False))
    rows.append((right, 0.0, "extended keel line", Ink.LINE, False))
    rows.sort(key=lambda row: row[1])
    levels = spread([row[1] / scale for row in rows], 4.0)
    items: list[Item] = []
    x = right + 3.0 * scale
    for (end, z, words, ink, bold), level in zip(rows, levels, strict=True):
        items.append(Path(((end, z), (right, z), (x, level * scale)), "MEASURES", pen=MEASURE))
        items.append(
            Text((x + 1.0 * scale, level * scale), words, "NOTES", height_mm=_TEXT_MM, up="middle",
                 ink=ink, bold=bold)
        )  # fmt: skip
    if surface is not None:
        at = (surface.plate.water.aft_mm, surface.plate.water.surface_mm)
        items.append(
            Disc(at, 0.8 * scale, "MEASURES", pen=None, fill=Ink.ACCENT, ref="plate-water")
        )
    return items


def _stretched(
    found: UnderwayResult, bounds: tuple[float, float, float, float], scale: float, room_mm: float
) -> list[Item]:
    """Return water, rule and plates again below the section, heights several times larger.

    Nothing where there is no room to enlarge them at least twice.
    """
    surface, plates = _surface(found), _drawn(found)
    right = bounds[2]
    if surface is None or not plates:
        return []
    across = surface.plate.place.across_mm
    levels = [0.0, rule_mm(right), surface.wake.surface_mm(right, across)]
    levels += [item.place.plate_mm for item in plates]
    low, high = min(levels), max(levels)
    head = 7.0
    times = next((t for t in _TIMES if (high - low) * t / scale <= room_mm - head - 3.0), None)
    if times is None:
        return []
    zero = bounds[1] - (_GAP_MM + head) * scale - high * times

    def at(x: float, z: float) -> Point:
        return x, zero + z * times

    xs = [right * k / 30.0 for k in range(31)]
    far = surface_words(surface) != "water"
    items: list[Item] = [
        Text((bounds[0], zero + high * times + 3.5 * scale), f"The same, heights {times:g} times",
             "NOTES", height_mm=_TEXT_MM, bold=True),
        Path((at(bounds[0], 0.0), at(right, 0.0)), "KEELLINE", pen=CENTRE_LINE),
        Path((at(0.0, 0.0), at(right, rule_mm(right))), "WATER", pen=RULE_PEN, ref="rule-large"),
        Path(tuple(at(x, surface.wake.surface_mm(x, across)) for x in xs), "WATER",
             pen=FAR_PEN if far else WATER_PEN, ref="wake-large"),
    ]  # fmt: skip
    for item in plates:
        place, ink = item.place, VERDICT_INK[plate_verdict(found, item)]
        is_it = item.option == surface.plate.option
        ends = (at(place.front_mm, place.plate_mm), at(place.aft_edge_mm, place.plate_mm))
        pen = Pen(0.7, ink=ink) if is_it else Pen(0.35, Dash.DOTTED, ink)
        name = f"row {item.option.row}" if item.option.row else "clamped"
        items += [
            Path(ends, "PLATE", pen=pen, ref="plate-large"),
            Text((ends[0][0] - 1.2 * scale, ends[0][1]), name, "NOTES", height_mm=1.8, up="middle",
                 across="right", ink=ink, bold=is_it, backed=True),
        ]  # fmt: skip
    return items


# ------------------------------------------------------------------ charts


def _charts(found: UnderwayResult, panel: Panel, style: Shown) -> list[Item]:
    """Return trim with the porpoising limit above, resistance below, against speed."""
    curve = speed_curve(found)
    if len(curve) < 3:
        words = "no planing trim comes out at any speed"
        return [panel.text(0.0, panel.height - 6.0, words, height_mm=_TEXT_MM, ink=Ink.MUTED)]
    half = (panel.height - 18.0) / 2.0
    upper = Panel(panel.at(0.0, half + 18.0), panel.scale, panel.width, half)
    lower = Panel(panel.at(0.0, 8.0), panel.scale, panel.width, half - 2.0)
    limits = [state.porpoising.trim_deg for state in curve]
    high = max(*limits, *(state.trim_deg for state in curve))
    items = [
        *_chart(found, upper, style, "Trim, °", (0.0, 1.12 * high), curve,
                lambda state: state.trim_deg),
        *_limit(upper, curve, 1.12 * high),
    ]  # fmt: skip
    drag = 1.15 * max(state.resistance_n for state in curve)
    shaded = "shaded: top speed, estimated" if found.top is not None else ""
    return [
        *items,
        lower.text(lower.width - _RIGHT, lower.height - 2.5, shaded, height_mm=1.8,
                   across="right", ink=Ink.MUTED),
        *_chart(found, lower, style, "Resistance of the bare hull, N", (0.0, drag), curve,
                lambda state: state.resistance_n),
    ]  # fmt: skip


_LEAST_RISE_MM = 3.6
_LEFT, _RIGHT, _FOOT, _TOP = 11.0, 3.0, 5.5, 5.0


def _place(panel: Panel, curve: Sequence[Planing], high: float) -> Callable[[float, float], Point]:
    first, last = curve[0].speed_kn, curve[-1].speed_kn
    wide, tall = panel.width - _LEFT - _RIGHT, panel.height - _FOOT - _TOP

    def place(speed: float, value: float) -> Point:
        return (
            _LEFT + wide * (speed - first) / (last - first),
            _FOOT + tall * min(max(value / high, 0.0), 1.0),
        )

    return place


def _chart(
    found: UnderwayResult,
    panel: Panel,
    style: Shown,
    title: str,
    span: tuple[float, float],
    curve: Sequence[Planing],
    value: Callable[[Planing], float],
) -> list[Item]:
    high = span[1]
    place = _place(panel, curve, high)
    first, last = curve[0].speed_kn, curve[-1].speed_kn
    items: list[Item] = [
        panel.text(0.0, panel.height - 2.5, title, height_mm=_TEXT_MM, bold=True),
    ]
    if found.top is not None:
        low, up = found.top.value - found.top.tolerance, found.top.value + found.top.tolerance
        corners = (place(max(low, first), 0.0), place(up, 0.0), place(up, high),
                   place(max(low, first), high))  # fmt: skip
        band = tuple(panel.at(*corner) for corner in corners)
        items.append(Path(band, "MEASURES", pen=None, closed=True, fill=Ink.RESERVE, ref="top"))
    items += _axes(panel, place, (first, last), high, style)
    pen = Pen(0.5)
    items.append(panel.line([place(state.speed_kn, value(state)) for state in curve], pen, "curve"))
    if found.speed_kn is not None and isinstance(found.state, Planing):
        x, y = place(found.speed_kn, value(found.state))
        items.append(panel.line(((x, _FOOT), (x, y)), MEASURE))
        items.append(
            Disc(panel.at(x, y), 1.0 * panel.scale, "MEASURES", pen=None, fill=Ink.ACCENT,
                 ref="looked-at")
        )  # fmt: skip
    return items


def _limit(panel: Panel, curve: Sequence[Planing], high: float) -> list[Item]:
    """Return the porpoising limit: drawn through inside its chart, dotted at the chart's end."""
    place = _place(panel, curve, high)
    items: list[Item] = []
    for one, two in pairwise(curve):
        beyond = one.porpoising.beyond or two.porpoising.beyond
        pen = Pen(0.35, Dash.DOTTED if beyond else Dash.SOLID, Ink.STOPS)
        ends = [place(state.speed_kn, state.porpoising.trim_deg) for state in (one, two)]
        items.append(panel.line(ends, pen, "porpoising"))
    words = "porpoising limit, dotted beyond its chart"
    x = panel.width - _RIGHT
    items.append(
        panel.text(x, panel.height - 2.5, words, height_mm=1.8, across="right", ink=Ink.STOPS)
    )
    return items


def _axes(
    panel: Panel,
    place: Callable[[float, float], Point],
    ends: tuple[float, float],
    high: float,
    style: Shown,
) -> list[Item]:
    left, foot = place(ends[0], 0.0)
    right, top = place(ends[1], high)
    items: list[Item] = [panel.line(((left, top), (left, foot), (right, foot)), THIN, "axes")]
    per_knot = from_base(1.0, style.speeds, Kind.SPEED)
    step = step_near((ends[1] - ends[0]) * per_knot / 5.0)
    marks = levels(ends[0] * per_knot, ends[1] * per_knot, step)
    for mark in marks:
        x, _ = place(mark / per_knot, 0.0)
        items.append(panel.line(((x, foot), (x, foot - 1.0)), THIN))
        words = show(mark / per_knot, Kind.SPEED, style) if mark == marks[-1] else f"{mark:g}"
        items.append(panel.text(x, foot - 1.6, words, height_mm=1.8, across="centre", up="top"))
    rise = step_near(high / 3.5)
    while rise / high * (top - foot) < _LEAST_RISE_MM:  # a flat chart has fewer figures
        rise = step_near(2.0 * rise)
    for level in levels(rise, high, rise):
        _, y = place(ends[0], level)
        items.append(panel.line(((left, y), (right, y)), Pen(0.13, ink=Ink.MUTED)))
        items.append(
            panel.text(left - 1.0, y, f"{level:g}", height_mm=1.8, across="right", up="middle")
        )
    return items
