"""The swing from the side: hull aft, obstacles, the engine through its tilt, nearest places."""

from __future__ import annotations

import math
from collections.abc import Collection
from functools import lru_cache

from rigfit.drawing.dimensioning import angle_between
from rigfit.drawing.labels import VERDICT_INK, short_name
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
from rigfit.drawing.side_view import (
    PART_STYLE,
    SKETCH_HEIGHT_MM,
    SKETCH_THICKNESS_MM,
    Sketch,
    on_face,
    transom_hatch,
)
from rigfit.drawing.swing_parts import (
    Around,
    Remembered,
    Stage,
    Window,
    Words,
    angle_text,
    clipped,
    gap_mark,
    gap_text,
    moved,
    silhouette,
    solid_items,
    turned,
)
from rigfit.rigging.case import Case
from rigfit.rigging.checks_swing import tilt_verdict
from rigfit.rigging.envelope import Envelope, engine_with_axis, leg_mm, measured_sizes, rig_of
from rigfit.rigging.outboard import EngineSizes
from rigfit.rigging.outline import Outline, axis_in_level_frame, level_outline
from rigfit.rigging.swing import WAYS, TiltGap, TiltSwing, tilt_swing
from rigfit.rigging.turning import Turn
from rigfit.units import Shown

STEP_DEG = 20.0
"""Angles between the outlines drawn through the tilt."""

_MARGIN_MM = 60.0
_MOST_AHEAD_MM = 2200.0
_UP_AHEAD = ((-12.0, 14.0), (-20.0, 8.0), (-6.0, 20.0), (8.0, 18.0), (16.0, 10.0), (-16.0, -10.0),
             (12.0, -12.0))  # fmt: skip
_NAMES = ((-8.0, 9.0), (-14.0, 4.0), (8.0, 10.0), (-8.0, -9.0), (10.0, -8.0))
_MOST_GAPS = 4


def side_parts(
    stage: Stage, scale: float, style: Shown, tilt_deg: float | None = None
) -> tuple[Item, ...]:
    """Return the swing from the side in the top frame.

    :param scale: model mm per paper mm.
    :param tilt_deg: plate angle at which the engine is drawn in full; None to leave it out.
    """
    under, over = _STILL.of(
        stage.case, (stage.option, scale, style), lambda: _around(stage, scale, style)
    )
    engine = () if tilt_deg is None else engine_drawn(stage, tilt_deg)
    return (*under, *engine, *over)


_STILL = Remembered()


def _around(stage: Stage, scale: float, style: Shown) -> Around:
    """Return what is the same at every tilt, under the engine and over it."""
    swing = tilt_swing(stage.case, stage.option, stage.envelope, stage.solids)
    window = side_window(stage)
    words = Words(scale)
    under = [*hull_items(stage, window, scale), *_obstacles(stage, window, scale)]
    under += _well_side(swing, window)
    over = [*_outlines(stage), *_travel(stage, scale)]
    words.taken((*under, *over))
    gaps = _gaps(stage, swing, scale, style, words)
    kick = _kick_up(swing, scale, style, words)
    said = {gap.solid.name for gap in swing.gaps[:_MOST_GAPS]}
    return tuple(under), (*over, *gaps, *kick, *_named(stage, window, words, said))


def angles_shown(stage: Stage) -> tuple[float, ...]:
    """Return the plate angles at which an outline is drawn: both ends, level and steps between."""
    low, high = stage.turn.low_deg, stage.turn.high_deg
    first, last = math.ceil(low / STEP_DEG), math.floor(high / STEP_DEG)
    between = [step * STEP_DEG for step in range(first, last + 1)]
    apart = 6.0
    kept = [angle for angle in between if angle - low > apart and high - angle > apart]
    return (low, *kept, high) if high > low else (low,)


def side_window(stage: Stage) -> Window:
    """Return what is shown from the side: the whole travel, every obstacle, some of the hull."""
    left, low, right, high = _swept(stage.envelope, stage.turn)
    points = [(max(x, -_MOST_AHEAD_MM), z) for solid in stage.obstacles for x, z in solid.ring]
    points += [
        (x - 80.0, z)
        for solid in stage.solids
        if solid.name == "front wall of the well"
        for x, z in solid.ring[1:3]
        if not solid.assumed or z < 0.0
    ]
    xs, zs = [x for x, _ in points], [z for _, z in points]
    return (
        min(left, *xs, -300.0) - _MARGIN_MM,
        min(low, *zs, -_height(stage.case)) - _MARGIN_MM,
        max((right, *xs)) + _MARGIN_MM,
        max((high, *zs)) + _MARGIN_MM,
    )


@lru_cache(maxsize=8)
def _swept(envelope: Envelope, turn: Turn) -> Window:
    """Return the room of the engine through its whole travel."""
    points = [
        point
        for step in range(25)
        for ring in turned(
            silhouette(envelope), turn, turn.low_deg + (turn.high_deg - turn.low_deg) * step / 24.0
        )
        for point in ring
    ]
    xs, zs = [x for x, _ in points], [z for _, z in points]
    return min(xs), min(zs), max(xs), max(zs)


def _height(case: Case) -> float:
    height = case.heights.along_face
    return height.value if height else SKETCH_HEIGHT_MM


# --------------------------------------------------------------------------- what stands still


def hull_items(stage: Stage, window: Window, scale: float) -> list[Item]:
    """Return the aft end of the hull with the well as far as it is measured, and the transom."""
    case, rig = stage.case, rig_of(stage.case, stage.option)
    thickness = case.job.transom.thickness
    thick = thickness.value if thickness else SKETCH_THICKNESS_MM
    height, left = _height(case), window[0]
    heel = on_face(rig, -height)
    inner, low_inner = on_face(rig, 0.0, -thick), on_face(rig, 14.0 - height, -thick)
    inside, dashed = _inside(stage, (inner[0], inner[1]), height, left)
    shade = ((left, heel[1]), heel, (0.0, 0.0), inner, *inside)
    section = (heel, (0.0, 0.0), inner, low_inner)
    sketch = Sketch(rig, thick, ())
    hatch = moved(transom_hatch(sketch, height, scale), heel)
    pen = HIDDEN if dashed else EDGE
    break_line = Path(((left, heel[1] - 3.0 * scale), (left, inside[-1][1] + 3.0 * scale)), "HULL",
                      pen=THIN)  # fmt: skip
    front = next((item for item in stage.solids if item.name.startswith("front wall")), None)
    guessed: list[Item] = []
    if front is not None and case.job.well.front_top is None:
        # Nobody measured how high it stands, so it counts as high as the hood.
        x = max(place for place, _ in front.ring)
        top = min(max(z for _, z in front.ring), window[3])
        guessed = [Path(((x, inside[-1][1]), (x, top)), "HULL", pen=HIDDEN, ref=front.name)]
    return [
        *guessed,
        Path(shade, "HULL", pen=None, closed=True, fill=Ink.HULL),
        Path(section, "TRANSOM", pen=None, closed=True, fill=Ink.MUTED),
        *hatch,
        Path((inner, *inside), "HULL", pen=pen, ref="floor of the well"),
        Path((low_inner, inner), "HULL", pen=EDGE),
        Path(((left, heel[1]), heel, (0.0, 0.0), inner), "TRANSOM", pen=OUTLINE),
        Path(((left, heel[1]), (heel[0] + 14.0 * scale, heel[1])), "KEELLINE", pen=CENTRE_LINE),
        break_line,
    ]


def _inside(
    stage: Stage, inner: Point, height: float, left: float
) -> tuple[tuple[Point, ...], bool]:
    """Return the line of the well from the transom forward, and True where it is only guessed."""
    well = stage.case.job.well
    front = next((item for item in stage.solids if item.name.startswith("front wall")), None)
    floor = -well.floor_below_top.value if well.floor_below_top else -0.45 * height
    rake = stage.case.job.transom.rake
    foot = inner[0] + (floor - inner[1]) * math.tan(math.radians(rake.value if rake else 0.0))
    if front is None:
        return ((foot, floor), (left, floor)), well.floor_below_top is None
    end = max(x for x, _ in front.ring)
    top = well.front_top.value if well.front_top else 40.0
    return ((foot, floor), (end, floor), (end, max(top, floor)), (left, max(top, floor))), (
        well.front_top is None or well.floor_below_top is None
    )


def _obstacles(stage: Stage, window: Window, scale: float) -> list[Item]:
    items: list[Item] = []
    for solid in stage.obstacles:
        ring = clipped(solid.ring, window)
        if ring:
            items += solid_items(ring, scale, solid.name)
    return items


def _well_side(swing: TiltSwing, window: Window) -> list[Item]:
    """Return the top of the well's side, hidden behind the engine, where that is spoken of."""
    for gap in swing.gaps[:_MOST_GAPS]:
        if gap.solid.name.endswith("side of the well"):
            top = max(z for _, z in gap.solid.ring)
            xs = [x for x, _ in gap.solid.ring]
            ends = ((max(min(xs), window[0]), top), (max(xs), top))
            return [Path(ends, "HULL", pen=HIDDEN, ref=gap.solid.name)] if top < window[3] else []
    return []


def _named(stage: Stage, window: Window, words: Words, said: Collection[str]) -> list[Item]:
    """Return the names of all that stands in the way and is not named by an answer."""
    items: list[Item] = []
    for solid in stage.obstacles:
        ring = clipped(solid.ring, window)
        if ring and solid.name not in said:
            items += words.inside(ring, short_name(solid.name), solid.name, _NAMES)
    for solid in stage.solids:
        if solid.name in said:
            continue
        if solid.name == "front wall of the well":
            top = max(z for _, z in solid.ring) if not solid.assumed else -20.0
            at = (max(x for x, _ in solid.ring), top - 6.0 * words.scale)
            items += words.note(at, ("front wall of the well",), ((-6.0, -8.0), (-10.0, 10.0)),
                                ref=solid.name, height=2.2)  # fmt: skip
        if solid.name == "floor of the well":
            xs, top = [x for x, _ in solid.ring], max(z for _, z in solid.ring)
            at = (0.5 * (max(max(xs) - 400.0, min(xs)) + max(xs)), top)
            items += words.note(at, ("floor of the well",), ((-6.0, -7.0), (6.0, -10.0)),
                                ref=solid.name, height=2.2)  # fmt: skip
    return items


# --------------------------------------------------------------------------- the engine


@lru_cache(maxsize=16)
def _shape(sizes: EngineSizes, leg: float, home: Point) -> Outline:
    """Return the engine as it looks in the axis frame, plate level, with its measured sizes."""
    return level_outline(sizes, leg, home).moved((-home[0], -home[1]))


def engine_drawn(stage: Stage, tilt_deg: float) -> list[Item]:
    """Return the engine in full at one plate angle, its tilt axis marked."""
    items: list[Item] = []
    case = stage.case
    home = axis_in_level_frame(engine_with_axis(case))
    for name, ring in _shape(measured_sizes(case), leg_mm(case), home).parts.items():
        fill, pen = PART_STYLE[name]
        layer = "PLATE" if name == "plate" else "ENGINE"
        items.append(
            Path(turned([ring], stage.turn, tilt_deg)[0], layer, pen=pen, closed=True, fill=fill,
                 group="engine", ref=f"engine-{name}")
        )  # fmt: skip
    pen = Pen(0.25, Dash.DASHED, Ink.MUTED)
    envelope = stage.envelope
    drawn = envelope.parts if envelope.is_drawn else envelope.parts[:1]
    return items + [
        Path(ring, "ENGINE", pen=pen, closed=True, group="engine", ref="engine-box")
        for ring in turned([part.ring for part in drawn], stage.turn, tilt_deg)
    ]


def _outlines(stage: Stage) -> list[Item]:
    """Return the outlines through the tilt: the ends solid, the rest dotted, and the axis."""
    items: list[Item] = []
    ends = (stage.turn.low_deg, stage.turn.high_deg)
    for angle in angles_shown(stage):
        dash = Dash.SOLID if angle in ends else Dash.DOTTED
        pen = Pen(0.18 if angle in ends else 0.25, dash, Ink.MUTED)
        items += [
            Path(ring, "SWING", pen=pen, closed=True, group="overlay", ref="swing")
            for ring in turned(silhouette(stage.envelope), stage.turn, angle)
        ]
    axis = stage.turn.pivot
    return [
        *items,
        Disc(axis, 11.0, "SWING", pen=EDGE, fill=Ink.PAPER, group="overlay", ref="axis"),
        Disc(axis, 2.5, "SWING", pen=None, fill=Ink.LINE, group="overlay", ref="axis"),
    ]


def _travel(stage: Stage, scale: float) -> list[Item]:
    """Return the arc of the travel about the axis, with the angles at which an outline is drawn."""
    axis, low, high = stage.turn.pivot, stage.turn.low_deg, stage.turn.high_deg
    reach = max(
        math.hypot(x, z) for part in stage.envelope.parts for x, z in part.ring if z < 0.0
    )  # fmt: skip
    radius = reach / scale + 5.0
    items: list[Item] = []
    if high - low > 1.0:
        items += [
            item
            for item in angle_between(axis, radius, 270.0 + low, 270.0 + high, "", scale=scale,
                                      ref="tilt", rays="both")
            if not isinstance(item, Text)
        ]  # fmt: skip
    for angle in angles_shown(stage):
        turn = math.radians(270.0 + angle)
        cos, sin = math.cos(turn), math.sin(turn)
        ends = tuple(
            (axis[0] + by * scale * cos, axis[1] + by * scale * sin)
            for by in (radius - 1.2, radius + 1.2)
        )
        at = (axis[0] + (radius + 3.0) * scale * cos, axis[1] + (radius + 3.0) * scale * sin)
        name = {low: "in ", high: "up "}.get(angle, "")
        items += [
            Path(ends, "SWING", pen=THIN, group="measures", ref="tilt"),
            Text(at, f"{name}{angle_text(angle)}", "NOTES", height_mm=2.2,
                 across="left" if cos > 0.2 else "centre" if cos > -0.2 else "right",
                 up="top" if sin < -0.5 else "middle", group="measures", ref="tilt"),
        ]  # fmt: skip
    return items


# --------------------------------------------------------------------------- the answers


def gap_lines(gap: TiltGap, style: Shown) -> tuple[str, str]:
    """Return what is said of one clearance: the thing and the gap, then the angle."""
    words, at = gap_text(gap.clear_mm, gap.tolerance_mm, style), angle_text(gap.touch.angle_deg)
    name = short_name(gap.solid.name)
    if not gap.touches:
        return f"{name}: {words} clear", f"nearest at {at}"
    first = f"touches {name} at {at}"
    if gap.touch.at_rest:
        first = f"stands in {name} before it tilts"
    if gap.is_hopeless:
        return first, f"moving that by {gap_text(gap.clear_mm, 0.0, style)} clears nothing"
    return first, f"clear once that is {words} {WAYS.get(gap.move, 'away')}"


def _gaps(
    stage: Stage, swing: TiltSwing, scale: float, style: Shown, words: Words
) -> list[Item]:  # fmt: skip
    """Return the nearest place of each thing; the worst with its outline, in verdict ink."""
    items: list[Item] = []
    shown = [(gap, VERDICT_INK[tilt_verdict(stage.case, gap)]) for gap in swing.gaps[:_MOST_GAPS]]
    for gap, ink in shown[:1]:
        items += [
            Path(ring, "SWING", pen=Pen(0.35, ink=ink), closed=True, group="overlay", ref="worst")
            for ring in turned(silhouette(stage.envelope), stage.turn, gap.touch.angle_deg)
        ]
    for gap, ink in shown:
        items += gap_mark(gap.touch.on_moving, gap.touch.on_fixed, ink, scale)
    words.taken(items)
    for number, (gap, ink) in enumerate(shown):
        lines = gap_lines(gap, style)
        items += words.note(gap.touch.on_fixed, lines, _UP_AHEAD, ink=ink, ref=gap.solid.name,
                            height=2.8 if number == 0 else 2.2)  # fmt: skip
    return items


def _kick_up(swing: TiltSwing, scale: float, style: Shown, words: Words) -> list[Item]:
    """Return how far ahead the engine reaches as it kicks up."""
    kick = swing.kick_up
    if kick.ahead_mm <= 0.0:
        return []
    at = (-kick.ahead_mm, kick.above_mm)
    line = ((at[0], at[1] - 6.0 * scale), (at[0], at[1] + 6.0 * scale))
    said = (
        f"kicks up to {gap_text(kick.ahead_mm, 0.0, style)} ahead",
        f"at {angle_text(kick.tilt_deg)}",
    )
    return [
        Path(line, "SWING", pen=Pen(0.25, Dash.DASHED, Ink.MUTED), group="overlay"),
        *words.note(at, said, _UP_AHEAD, height=2.2),
    ]
