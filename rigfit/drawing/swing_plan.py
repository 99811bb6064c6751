"""The swing seen from above: transom, well, obstacles, the hood from lock to lock, nearest places.

The boat's bow lies to the left, starboard is up; steering is + with the propeller to starboard.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from functools import lru_cache

from rigfit.drawing.dimensioning import angle_between
from rigfit.drawing.labels import VERDICT_INK, short_name
from rigfit.drawing.plates import rounded
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    OUTLINE,
    Dash,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Text,
)
from rigfit.drawing.side_view import PART_STYLE, SKETCH_THICKNESS_MM
from rigfit.drawing.swing_parts import (
    Around,
    Remembered,
    Stage,
    Window,
    Words,
    angle_text,
    clipped,
    convex_hull,
    gap_mark,
    gap_text,
    held_at,
    seen,
    solid_items,
)
from rigfit.rigging.checks_swing import place_verdict, plan_verdict
from rigfit.rigging.envelope import Envelope
from rigfit.rigging.outline import Polygon
from rigfit.rigging.steer import PlanGap, plan_steer, steer_at, twins_of
from rigfit.rigging.surroundings import DRAWN_HOOD, DRAWN_LEG, box_ring
from rigfit.units import Kind, Shown, show

_LEVEL_DEG = 0.05
_SIDE_MM = 130.0
_MOST_SIDE_MM = 1500.0
_MOST_AHEAD_MM = 2200.0
_BELOW = ("propeller", "gearcase", "leg", "plate", DRAWN_LEG)
_AWAY = ((-12.0, 12.0), (-12.0, -12.0), (12.0, 14.0), (12.0, -14.0), (-20.0, 6.0), (-20.0, -6.0))
_NAMES = ((-8.0, 8.0), (-8.0, -8.0), (8.0, 9.0), (8.0, -9.0))
_MOST_GAPS = 3


def plan_parts(
    stage: Stage,
    scale: float,
    style: Shown,
    tilt_deg: float = 0.0,
    steer_deg: float | None = None,
) -> tuple[Item, ...]:
    """Return the swing from above in the top frame, (x aft, y starboard).

    :param scale: model mm per paper mm.
    :param tilt_deg: plate angle at which the engine is held.
    :param steer_deg: steering at which the engine is drawn in full; None to leave it out.
    """
    under, over = _STILL.of(
        stage.case,
        (stage.option, scale, style, tilt_deg),
        lambda: _around(stage, scale, style, tilt_deg),
    )
    engine = () if steer_deg is None else engine_above(stage, tilt_deg, steer_deg)
    return (*under, *engine, *over)


_STILL = Remembered()


def _around(stage: Stage, scale: float, style: Shown, tilt_deg: float) -> Around:
    """Return what is the same however the engine is turned, under it and over it."""
    window = plan_window(stage, tilt_deg)
    words = Words(scale)
    under = [*boat_items(stage, window, scale), *_obstacles(stage, window, scale)]
    over = [*_hoods(stage, tilt_deg), *_sector(stage, tilt_deg, scale)]
    words.taken((*under, *over))
    second = _second(stage, style, words, tilt_deg)
    answers = _answers(stage, tilt_deg, scale, style, words)
    said = {item.ref for item in answers}
    return (*under, *second), (*over, *answers, *_named(stage, window, words, said))


def pivot_at(stage: Stage, tilt_deg: float) -> Point:
    """Return the steering axis at the height of the tilt axis, from above."""
    aft = stage.envelope.steering_aft_mm * math.cos(math.radians(tilt_deg))
    return stage.turn.pivot[0] + aft, stage.off_mm


def plan_window(stage: Stage, tilt_deg: float) -> Window:
    """Return what is shown from above: well, near obstacles, the hood from lock to lock."""
    lock = stage.travel.lock_deg
    points = [
        point
        for step in range(-2, 3)
        for ring in (hood_ring(stage, tilt_deg, 0.5 * step * lock),)
        for point in ring
    ]
    width = stage.case.job.well.width
    side = max(max(abs(y) for _, y in points), width.value / 2.0 if width else 0.0) + _SIDE_MM
    for solid in stage.obstacles:
        points += [(max(x, -_MOST_AHEAD_MM), 0.0) for x, _ in solid.ring]
        ends = [abs(end) for end in (solid.port_mm, solid.starboard_mm)]
        side = max([side, *(end + 60.0 for end in ends if end < _MOST_SIDE_MM)])
    well = stage.case.job.well.length
    thick = _thickness(stage)
    ahead = min(*(x for x, _ in points), -(thick + well.value) if well else 0.0)
    return ahead - 120.0, -side, max(x for x, _ in points) + 60.0, side


def _thickness(stage: Stage) -> float:
    transom = stage.case.job.transom
    thick = transom.thickness.value if transom.thickness else SKETCH_THICKNESS_MM
    rake = transom.rake.value if transom.rake else 0.0
    return thick / math.cos(math.radians(rake))


# --------------------------------------------------------------------------- what stands still


def boat_items(stage: Stage, window: Window, scale: float) -> list[Item]:
    """Return the transom at its top, the well's inside, and the centreline."""
    left, low, right, high = window
    thick = _thickness(stage)
    around = box_ring(left, low, 0.0, high)
    inside = _well_ring(stage, window)
    items: list[Item] = [
        Path(around, "HULL", pen=None, closed=True, fill=Ink.HULL),
        Path(box_ring(-thick, low, 0.0, high), "TRANSOM", pen=None, closed=True, fill=Ink.MUTED),
    ]
    if inside is not None:
        points, bulges = inside
        items += [
            Path(points, "HULL", pen=None, closed=True, fill=Ink.PAPER, bulges=(*bulges[:-1], 0.0)),
            Path(points, "HULL", pen=EDGE, bulges=bulges, ref="front wall of the well"),
        ]
    notch = stage.case.job.face.notch_width
    if notch is not None:
        half = notch.value / 2.0
        items += [
            Path(((-thick, side), (0.0, side)), "TRANSOM", pen=Pen(0.35, ink=Ink.PAPER))
            for side in (-half, half)
        ]
    return [
        *items,
        Path(((0.0, low), (0.0, high)), "TRANSOM", pen=OUTLINE),
        Path(((-thick, low), (-thick, high)), "TRANSOM", pen=EDGE),
        Path(((left, 0.0), (right + 8.0 * scale, 0.0)), "CENTRELINES", pen=CENTRE_LINE),
    ]


def _well_ring(stage: Stage, window: Window) -> tuple[tuple[Point, ...], tuple[float, ...]] | None:
    """Return the inside of the well as a line from transom to transom, as far as measured."""
    well, thick = stage.case.job.well, _thickness(stage)
    if well.length is None and well.width is None:
        return None
    walls = [item.ring for item in stage.solids if item.name == "front wall of the well"]
    end = max(x for x, _ in walls[0]) if walls else window[0]
    half = well.width.value / 2.0 if well.width else window[3]
    radius = 0.0
    if well.length and well.width and well.corner_radius:
        radius = min(well.corner_radius.value, half, well.length.value)
    if radius < 0.5:
        return ((-thick, -half), (end, -half), (end, half), (-thick, half)), (0.0,) * 4
    quarter = -math.tan(math.pi / 8.0)
    points = (
        (-thick, -half), (end + radius, -half), (end, radius - half), (end, half - radius),
        (end + radius, half), (-thick, half),
    )  # fmt: skip
    return points, (0.0, quarter, 0.0, quarter, 0.0, 0.0)


def _obstacles(stage: Stage, window: Window, scale: float) -> list[Item]:
    items: list[Item] = []
    lowest_first = sorted(stage.obstacles, key=lambda solid: solid.heights_mm[1])
    for solid in lowest_first:
        ring = clipped(solid.plan_ring(), window)
        if ring:
            items += solid_items(ring, scale, solid.name)
    return items


def _named(stage: Stage, window: Window, words: Words, said: Collection[str]) -> list[Item]:
    items: list[Item] = []
    for solid in stage.obstacles:
        ring = clipped(solid.plan_ring(), window)
        if ring and solid.name not in said:
            items += words.inside(ring, short_name(solid.name), solid.name, _NAMES)
    inside = _well_ring(stage, window)
    if inside is not None and not any("of the well" in name for name in said):
        end = min(x for x, _ in inside[0])
        side = min(y for _, y in inside[0])
        at = (end + 0.25 * (inside[0][0][0] - end), 0.8 * side)
        items += words.note(at, ("motor well",), ((-8.0, -6.0), (-8.0, 8.0), (8.0, -8.0)),
                            ref="port side of the well", height=2.2, dot=True)  # fmt: skip
    return items


# --------------------------------------------------------------------------- the engine


def hood_ring(stage: Stage, tilt_deg: float, steer_deg: float) -> Polygon:
    """Return the hood's outline from above with square corners, the engine held."""
    return _hood_hull(stage.envelope, stage.turn.pivot, stage.off_mm, tilt_deg, steer_deg)


@lru_cache(maxsize=128)
def _hood_hull(
    envelope: Envelope, axis: Point, off_mm: float, tilt_deg: float, steer_deg: float
) -> Polygon:
    names = ("cowl", "pan", DRAWN_HOOD)
    parts = [part for part in envelope.parts if part.name in names] or list(envelope.parts)
    corners = (
        held_at(part, envelope.steering_aft_mm, axis, off_mm, tilt_deg, steer_deg) for part in parts
    )
    return convex_hull((x, y) for part in corners for x, y, _ in part)


def _hood_path(stage: Stage, tilt_deg: float, steer_deg: float, **style: object) -> Path:
    """Return the hood's outline from above; with its round corners where the plate is level."""
    envelope = stage.envelope
    if abs(tilt_deg) > _LEVEL_DEG or envelope.corner_radius_mm <= 0.0:
        ring = hood_ring(stage, tilt_deg, steer_deg)
        return Path(ring, "SWING", closed=True, **style)  # type: ignore[arg-type]
    half, side = 0.5 * envelope.cowl_length_mm, envelope.cowl_half_breadth_mm
    middle, (px, py) = envelope.cowl_aft_mm, pivot_at(stage, tilt_deg)
    flat = rounded((middle - half, -side, middle + half, side), envelope.corner_radius_mm, "SWING")
    cos, sin = math.cos(math.radians(steer_deg)), math.sin(math.radians(steer_deg))
    points = tuple((px + x * cos - y * sin, py + x * sin + y * cos) for x, y in flat.points)
    return Path(points, "SWING", closed=True, bulges=flat.bulges, **style)  # type: ignore[arg-type]


def engine_above(stage: Stage, tilt_deg: float, steer_deg: float) -> list[Item]:
    """Return the engine in full from above, held at a tilt and turned."""
    items: list[Item] = []
    for part in sorted(
        (part for part in stage.envelope.parts if part.name in _BELOW),
        key=lambda part: _BELOW.index(part.name),
    ):
        fill, pen = PART_STYLE["leg" if part.name in ("plate", DRAWN_LEG) else part.name]
        ring = seen(part, stage, tilt_deg, steer_deg, above=True)
        items.append(
            Path(ring, "ENGINE", pen=pen, closed=True, fill=fill, group="engine",
                 ref=f"engine-{part.name}")
        )  # fmt: skip
    hood = _hood_path(stage, tilt_deg, steer_deg, pen=OUTLINE, fill=Ink.COWL, group="engine",
                      ref="engine-cowl")  # fmt: skip
    pivot = pivot_at(stage, tilt_deg)
    reach = hood_reach(stage, tilt_deg)
    turn = math.radians(steer_deg)
    ahead = (pivot[0] + reach * math.cos(turn), pivot[1] + reach * math.sin(turn))
    return [*items, hood, Path((pivot, ahead), "ENGINE", pen=CENTRE_LINE, group="engine")]


def hood_reach(stage: Stage, tilt_deg: float) -> float:
    """Return how far the hood reaches from the steering axis, seen from above."""
    pivot = pivot_at(stage, tilt_deg)
    return max(math.dist(pivot, point) for point in hood_ring(stage, tilt_deg, 0.0))


def _hoods(stage: Stage, tilt_deg: float) -> list[Item]:
    """Return the hood straight ahead and at both locks, and the steering axis."""
    lock = stage.travel.lock_deg
    pens = {
        0.0: Pen(0.25, ink=Ink.MUTED),
        lock: Pen(0.25, Dash.DASHED, Ink.MUTED),
        -lock: Pen(0.25, Dash.DASHED, Ink.MUTED),
    }
    items: list[Item] = [
        _hood_path(stage, tilt_deg, steer, pen=pen, group="overlay", ref="swing")
        for steer, pen in pens.items()
    ]
    axis = pivot_at(stage, tilt_deg)
    return [
        *items,
        Disc(axis, 11.0, "SWING", pen=EDGE, fill=Ink.PAPER, group="overlay", ref="axis"),
        Disc(axis, 2.5, "SWING", pen=None, fill=Ink.LINE, group="overlay", ref="axis"),
    ]


def _sector(stage: Stage, tilt_deg: float, scale: float) -> list[Item]:
    """Return the sector of the steering, aft of the hood, with both locks named."""
    lock, apex = stage.travel.lock_deg, pivot_at(stage, tilt_deg)
    if lock < 1.0:
        return []
    radius = hood_reach(stage, tilt_deg) / scale + 4.0
    arc = angle_between(apex, radius, -lock, lock, "", scale=scale, ref="lock", rays="both")
    items: list[Item] = [item for item in arc if not isinstance(item, Text)]
    for sign, side in ((-1.0, "port"), (1.0, "stbd")):
        turn = math.radians(sign * lock)
        at = (
            apex[0] + (radius + 3.0) * scale * math.cos(turn),
            apex[1] + (radius + 3.0) * scale * math.sin(turn),
        )
        words = f"{show(lock, Kind.ANGLE)}, propeller to {side}"
        items.append(Text(at, words, "NOTES", height_mm=2.2, up="middle", group="measures",
                          ref="lock"))  # fmt: skip
    return items


def _second(stage: Stage, style: Shown, words: Words, tilt_deg: float) -> list[Item]:
    """Return the hood of the other engine of a pair."""
    gap = twins_of(stage.case)
    if gap is None:
        return []
    by = -gap.spacing_mm if stage.off_mm > 0.0 else gap.spacing_mm
    straight = _hood_path(stage, tilt_deg, 0.0, pen=HIDDEN, group="fixed", ref="second engine")
    points = tuple((x, y + by) for x, y in straight.points)
    said = ("second engine", f"{gap_text(gap.tied_mm, 0.0, style)} between, tied, at full lock")
    tip = max(points, key=lambda point: point[0])
    return [
        Path(points, "SWING", pen=HIDDEN, closed=True, bulges=straight.bulges, ref="second engine"),
        *words.note(tip, said, ((8.0, 6.0), (8.0, -6.0)), ref="second engine", height=2.2),
    ]


# --------------------------------------------------------------------------- the answers


def _answers(
    stage: Stage, tilt_deg: float, scale: float, style: Shown, words: Words
) -> list[Item]:  # fmt: skip
    if abs(tilt_deg) > _LEVEL_DEG:
        return _tilted_answer(stage, tilt_deg, scale, style, words)
    items: list[Item] = []
    found = plan_steer(stage.case, stage.option, stage.envelope, stage.solids).gaps[:_MOST_GAPS]
    shown = [(gap, VERDICT_INK[plan_verdict(stage.case, gap)]) for gap in found]
    for gap, ink in shown[:1]:
        items.append(
            _hood_path(stage, 0.0, gap.touch.angle_deg, pen=Pen(0.35, ink=ink), group="overlay",
                       ref="worst")
        )  # fmt: skip
    for gap, ink in shown:
        items += gap_mark(gap.touch.on_moving, gap.touch.on_fixed, ink, scale)
    words.taken(items)
    for number, (gap, ink) in enumerate(shown):
        items += words.note(gap.touch.on_fixed, plan_lines(gap, style), _AWAY, ink=ink,
                            ref=gap.solid.name, height=2.8 if number == 0 else 2.2)  # fmt: skip
    return items


def plan_lines(gap: PlanGap, style: Shown) -> tuple[str, ...]:
    """Return what is said of one clearance from above."""
    at, name = turned_text(gap.touch.angle_deg), short_name(gap.solid.name)
    if gap.touch.at_rest:
        return (f"the hood stands in {name}", "wherever it is turned")
    if gap.touch.gap_mm <= 0.0:
        return (f"touches {name}", at)
    words = gap_text(gap.touch.gap_mm, gap.tolerance_mm, style)
    held = f"with the {at}" if at.startswith("propeller") else at
    return f"{name}: {words} clear", f"nearest {held}"


def turned_text(steer_deg: float) -> str:
    """Return a steering angle in words."""
    if abs(steer_deg) < _LEVEL_DEG:
        return "straight ahead"
    side = "starboard" if steer_deg > 0.0 else "port"
    return f"propeller {show(round(abs(steer_deg), 1), Kind.ANGLE)} to {side}"


def _tilted_answer(
    stage: Stage, tilt_deg: float, scale: float, style: Shown, words: Words
) -> list[Item]:  # fmt: skip
    """Return the worst place from lock to lock at a tilt, in space."""
    place = steer_at(stage.case, tilt_deg, stage.option)
    if place is None:
        return []
    verdict, spread = place_verdict(stage.case, stage.option, place)
    ink = VERDICT_INK[verdict]
    worst = _hood_path(stage, tilt_deg, place.steer_deg, pen=Pen(0.35, ink=ink), group="overlay",
                       ref="worst")  # fmt: skip
    one, other = place.on_engine[:2], place.on_solid[:2]
    gap = gap_text(place.clear_mm, spread, style)
    first = (
        f"{place.part} to {short_name(place.solid.name)}: {gap} clear"
        if place.clear_mm > 0.0
        else f"{place.part} goes about {gap} into {short_name(place.solid.name)}"
    )
    said = (first, f"tilted to {angle_text(tilt_deg)}, {turned_text(place.steer_deg)}")
    return [
        worst,
        *gap_mark(one, other, ink, scale),
        *words.note(other, said, _AWAY, ink=ink, ref=place.solid.name, height=2.8),
    ]
