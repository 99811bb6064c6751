"""The worst place of tilt and steering together: side view above, the view from above below it."""

from __future__ import annotations

from rigfit.drawing.labels import VERDICT_INK, short_name
from rigfit.drawing.scene import CENTRE_LINE, Ink, Item, Path, Pen, Text
from rigfit.drawing.side_view import PART_STYLE
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.swing_parts import (
    Stage,
    Words,
    angle_text,
    basis_words,
    clipped,
    gap_mark,
    gap_text,
    moved,
    seen,
    solid_items,
)
from rigfit.drawing.swing_plan import boat_items, engine_above, hood_ring, plan_window, turned_text
from rigfit.drawing.swing_side import hull_items, side_window
from rigfit.errors import NotMeasuredError
from rigfit.rigging.checks_swing import place_verdict, worst_place
from rigfit.rigging.tilt_steer import WorstPlace
from rigfit.rigging.turning import is_inside
from rigfit.units import Shown

_SIDE_AWAY = ((-12.0, 14.0), (-18.0, 9.0), (8.0, 18.0), (-12.0, -12.0))
_PLAN_AWAY = ((-12.0, 12.0), (-12.0, -12.0), (12.0, 16.0), (12.0, -16.0))
_GAP_MM = 8.0


def worst_parts(stage: Stage, scale: float, style: Shown) -> tuple[Item, ...]:
    """Return the worst place in two views that lie over each other, and what is said of it.

    :param scale: model mm per paper mm.
    :raises NotMeasuredError: when nothing can be met by any part of the engine.
    """
    place = worst_place(stage.case, stage.option)
    if place is None:
        raise NotMeasuredError(
            "nothing that is entered can be met by any part of the engine",
            cure="enter what stands round it",
            where="swing",
        )
    verdict, spread = place_verdict(stage.case, stage.option, place)
    ink = VERDICT_INK[verdict]
    side = _from_side(stage, place, scale, ink)
    plan = _from_above(stage, place, scale, ink)
    low, high = full_extents(side, scale)[1], full_extents(plan, scale)[3]
    drop = low - high - _GAP_MM * scale
    below = moved(plan, (0.0, drop))
    left, top = full_extents(side, scale)[0], full_extents(side, scale)[3]
    said = worst_lines(stage, place, spread, style)
    return (*side, *below, *_heading(said, (left, top), scale, ink))


def worst_lines(
    stage: Stage, place: WorstPlace, tolerance_mm: float, style: Shown
) -> tuple[str, ...]:  # fmt: skip
    """Return what is said of the worst place, a line each: parts and gap, place, how sure it is."""
    gap = gap_text(place.clear_mm, tolerance_mm, style)
    first = (
        f"{place.part} to {short_name(place.solid.name)}: {gap} clear"
        if place.clear_mm > 0.0
        else f"{place.part} goes about {gap} into {short_name(place.solid.name)}"
    )
    second = f"tilted to {angle_text(place.tilt_deg)}, {turned_text(place.steer_deg)}"
    if place.clear_mm > 0.0:
        third = f"Nearest of the whole travel, certified to {max(place.resolution_mm, 0.01):.2g} mm"
    else:
        third = "About the deepest of 21 tilts and 5 angles of steering"
    return first, second, f"{third}.", basis_words(stage.envelope)


def _heading(
    lines: tuple[str, ...], corner: tuple[float, float], scale: float, ink: Ink
) -> list[Item]:  # fmt: skip
    items: list[Item] = []
    y = corner[1] + (len(lines) * 5.0 + 2.0) * scale
    for number, line in enumerate(lines):
        big = number == 0
        items.append(
            Text((corner[0], y), line, "NOTES", height_mm=3.5 if big else 2.5, bold=big,
                 ink=ink if number < 2 else Ink.MUTED, group="measures", ref="worst")
        )  # fmt: skip
        y -= (6.0 if big else 4.8) * scale
    return items


def _from_side(stage: Stage, place: WorstPlace, scale: float, ink: Ink) -> list[Item]:
    """Return the side view of the engine held at the worst place."""
    window, words = side_window(stage), Words(scale)
    items = hull_items(stage, window, scale)
    for solid in stage.obstacles:
        ring = clipped(solid.ring, window)
        items += solid_items(ring, scale, solid.name) if ring else []
    order = list(PART_STYLE)
    for part in sorted(
        stage.envelope.parts, key=lambda part: order.index(part.name) if part.name in order else 99
    ):
        fill, pen = PART_STYLE.get(part.name, PART_STYLE["cowl"])
        outline = seen(part, stage, place.tilt_deg, place.steer_deg, above=False)
        items.append(
            Path(outline, "ENGINE", pen=pen, closed=True, fill=fill, group="engine",
                 ref=f"engine-{part.name}")
        )  # fmt: skip
    one, other = place.on_engine, place.on_solid
    words.taken(items)
    items += gap_mark((one[0], one[2]), (other[0], other[2]), ink, scale)
    said = (f"{place.part} to {short_name(place.solid.name)}", "from the side")
    items += words.note((other[0], other[2]), said, _SIDE_AWAY, ink=ink, ref=place.solid.name)
    items += _names(stage, place, words, window, above=False)
    return items


def _from_above(stage: Stage, place: WorstPlace, scale: float, ink: Ink) -> list[Item]:
    """Return the view from above of the engine held at the worst place."""
    low, high = side_window(stage)[0], side_window(stage)[2]
    window, words = plan_window(stage, place.tilt_deg), Words(scale)
    window = (max(window[0], low), window[1], min(window[2], high), window[3])
    items = boat_items(stage, window, scale)
    for solid in sorted(stage.obstacles, key=lambda item: item.heights_mm[1]):
        ring = clipped(solid.plan_ring(), window)
        items += solid_items(ring, scale, solid.name) if ring else []
    items += engine_above(stage, place.tilt_deg, place.steer_deg)
    one, other = place.on_engine, place.on_solid
    words.taken(items)
    items += gap_mark((one[0], one[1]), (other[0], other[1]), ink, scale)
    said = (f"{place.part} to {short_name(place.solid.name)}", "from above")
    items += words.note((other[0], other[1]), said, _PLAN_AWAY, ink=ink, ref=place.solid.name)
    items += _names(stage, place, words, window, above=True)
    line = ((other[0], window[1]), (other[0], window[3]))
    pen = Pen(CENTRE_LINE.width_mm, CENTRE_LINE.dash, ink)
    return [*items, Path(line, "SWING", pen=pen, group="overlay")]


def _names(
    stage: Stage, place: WorstPlace, words: Words, window: tuple[float, float, float, float],
    *, above: bool,
) -> list[Item]:  # fmt: skip
    items: list[Item] = []
    for solid in stage.obstacles:
        ring = clipped(solid.plan_ring() if above else solid.ring, window)
        if not ring or solid.name == place.solid.name:
            continue
        xs, ys = [x for x, _ in ring], [y for _, y in ring]
        middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
        said = short_name(solid.name)
        if above and is_inside(middle, hood_ring(stage, place.tilt_deg, place.steer_deg)):
            end = (middle[0], max(ys) - 0.05 * (max(ys) - min(ys)))
            items += words.note(end, (said,), ((8.0, 7.0), (-8.0, 7.0)), ref=solid.name,
                                height=2.2, dot=True)  # fmt: skip
        else:
            items += words.inside(ring, said, solid.name, ((-8.0, 9.0), (-8.0, -9.0),
                                                           (9.0, 9.0)))  # fmt: skip
    return items
