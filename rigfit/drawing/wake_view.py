"""The predicted water behind the transom in a side view, and the trade's rule beside it."""

from __future__ import annotations

from rigfit.drawing.scene import Dash, Ink, Item, Path, Pen, Point, Text
from rigfit.rigging.underway import Surface
from rigfit.rigging.wake import RULE_NAME, rule_mm
from rigfit.units import Kind, Shown, show

WATER_PEN = Pen(0.5, ink=Ink.ACCENT)
FAR_PEN = Pen(0.5, Dash.DASHED, Ink.ACCENT)
RULE_PEN = Pen(0.25, Dash.DASHED, Ink.MUTED)
"""The predicted surface, the same where it is an extrapolation, and the trade's rule."""

_STEPS = 40
_TEXT_MM = 2.2


def surface_items(surface: Surface, reach_mm: float, deep_mm: float) -> list[Item]:
    """Return the predicted surface aft of the transom and the trade's rule, from the keel line.

    :param reach_mm: how far aft they are drawn.
    :param deep_mm: how far below the keel line the water is tinted; 0 for the lines alone.
    """
    wake, across = surface.wake, surface.plate.place.across_mm
    xs = [reach_mm * k / _STEPS for k in range(_STEPS + 1)]
    line = tuple((x, wake.surface_mm(x, across)) for x in xs)
    is_far = bool(wake.doubts(reach_mm, across))
    deep = min(0.0, *(z for _, z in line)) - deep_mm
    items: list[Item] = [
        Path(((0.0, 0.0), (reach_mm, rule_mm(reach_mm))), "WATER", pen=RULE_PEN, ref="rule"),
        Path(line, "WATER", pen=FAR_PEN if is_far else WATER_PEN, ref="wake"),
    ]
    if deep_mm > 0.0:
        body = (*line, (reach_mm, deep), (0.0, deep))
        items.insert(0, Path(body, "WATER", pen=None, closed=True, fill=Ink.WATER, ref="wake"))
    return items


def surface_legend(surface: Surface, at: Point, scale: float, style: Shown) -> list[Item]:
    """Return what both lines are, with a sample of each, from a place down and to the right."""
    far = surface_words(surface) != "water"
    words = f"water at {show(surface.speed_kn, Kind.SPEED, style)}{', extrapolated' if far else ''}"
    rows = ((words, FAR_PEN if far else WATER_PEN, Ink.ACCENT), (RULE_NAME, RULE_PEN, Ink.MUTED))
    items: list[Item] = []
    for index, (text, pen, ink) in enumerate(rows):
        x, z = at[0], at[1] - 3.8 * scale * index
        items += [
            Path(((x, z), (x + 8.0 * scale, z)), "NOTES", pen=pen, group="measures", ref="legend"),
            Text((x + 9.5 * scale, z), text, "NOTES", height_mm=_TEXT_MM, up="middle", ink=ink,
                 group="measures", ref="legend"),
        ]  # fmt: skip
    return items


def surface_words(surface: Surface) -> str:
    """Return how the surface is named, with "extrapolated" where it is that."""
    place = surface.plate.place
    is_far = bool(surface.wake.doubts(place.aft_edge_mm, place.across_mm))
    return "water, extrapolated" if is_far else "water"
