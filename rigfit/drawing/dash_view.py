"""The dash at true scale, seen from in front: what to cut, what is there, what covers it.

Origin at the left and upper edge of the dash; x to the right, y up, so that cut-outs lie at
negative y. Layers are those of the drilling template: DRILL and TRIM are cut, the rest is for the
eye.
"""

from __future__ import annotations

from collections.abc import Sequence

from rigfit.drawing.fonts import wrapped
from rigfit.drawing.labels import exact_words
from rigfit.drawing.running import measures_above, measures_beside
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    OUTLINE,
    THIN,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Scene,
    Text,
)
from rigfit.drawing.sheet import Box
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.template_view import PROOF_MM
from rigfit.drawing.tiles import Drawing, TileHole
from rigfit.errors import NotMeasuredError
from rigfit.rigging.dash import CutoutFit, Shape
from rigfit.units import Shown

_TEXT_MM = 4.0
_SMALL_MM = 3.0
_NAME_MM = 3.0
_MARGIN_MM = 40.0
_RIM = Pen(0.25, ink=Ink.ACCENT)
_RING = Pen(0.35, ink=Ink.TIGHT)

_CAUTIONS = (
    "Full size, 1 unit is 1 mm. Check the 100 mm square on what you print or cut.",
    "Hold every size against the instrument in hand before cutting.",
    "Look behind the dash first: wires, fuel and steering lines, room for the instrument's depth.",
)


def dash_scene(fits: Sequence[CutoutFit], style: Shown, boat: str = "") -> Scene:
    """Return the dash as a scene at 1:1 without a sheet, seen from in front.

    :param fits: as ``dash_fits`` returns them; those without a place are named in the notes.
    :param boat: name of the boat, for the heading.
    :raises NotMeasuredError: when no cut-out has a place and an opening.
    """
    items, (right, bottom) = _plane(fits, style)
    items += _below(fits, bottom, right, style, boat)
    return Scene(title="Dash template", items=tuple(items), scale=1.0)


def _plane(fits: Sequence[CutoutFit], style: Shown) -> tuple[list[Item], tuple[float, float]]:
    """Return the dash itself, without notes, and how far it reaches to the right and down."""
    placed = [fit for fit in fits if fit.at_mm is not None and fit.new is not None]
    if not placed:
        raise NotMeasuredError(
            "there is no template for the dash: no cut-out has both a place and an opening",
            cure="measure the middle of each from the left and upper edges of the dash, and take "
            "its opening from the maker's sheet",
            where="dash",
        )
    right, bottom = _reach(placed)
    items: list[Item] = []
    for fit in placed:
        items += _cutout(fit)
    items += _edges(right, bottom)
    items += _measures(placed, right, style)
    for fit in placed:
        # Last, so that the paper behind them stops the centre lines of others.
        items += _name(fit, _at(fit))
    return items, (right, bottom)


STEPS = (
    "Print at 100 %, measure both bars, lay the sheets over each other by their crosses.",
    "Put the upper left corner to the corner of the dash; compare the distances with a tape.",
    "Hold each instrument against its outline before anything is cut.",
)
"""How the sheets of a dash are used."""


def dash_drawing(fits: Sequence[CutoutFit], style: Shown) -> Drawing:
    """Return the dash for sheets of paper; every opening is whole on one of them, if it can be.

    :raises NotMeasuredError: as ``dash_scene``.
    """
    items, _ = _plane(fits, style)  # the notes stand on the first page
    left, bottom, right, top = full_extents(items, 1.0)
    return Drawing(
        title="Dash",
        view="SEEN FROM IN FRONT",
        items=tuple(items),
        holes=tuple(
            TileHole("", _at(fit), *fit.new.half_mm)
            for fit in fits
            if fit.at_mm is not None and fit.new is not None
        ),
        bounds=Box(left - 3.0, bottom - 3.0, right + 3.0, top + 3.0),
        steps=STEPS,
        notes=("Look behind the dash before cutting: wiring, steering, fuel and instruments.",),
    )


def dash_cut_scene(fits: Sequence[CutoutFit]) -> Scene:
    """Return what is to be cut: DRILL and TRIM only.

    :raises NotMeasuredError: as ``dash_scene``, and when nothing is to be cut at all.
    """
    scene = dash_scene(fits, Shown()).only("DRILL", "TRIM")
    if not scene.items:
        raise NotMeasuredError(
            "there is nothing to cut in the dash",
            allowed="every old opening takes its new instrument as it is",
        )
    return scene


def _at(fit: CutoutFit) -> Point:
    assert fit.at_mm is not None  # noqa: S101 - only placed ones are drawn
    return fit.at_mm[0], -fit.at_mm[1]


def _reach(placed: Sequence[CutoutFit]) -> tuple[float, float]:
    """Return the right end and the lower end of what is drawn, model mm."""
    rights, bottoms = [PROOF_MM], [0.0]
    for fit in placed:
        x, y = _at(fit)
        for shape in (fit.old, fit.new, fit.rim, fit.ring):
            if shape is not None:
                rights.append(x + shape.half_mm[0])
                bottoms.append(y - shape.half_mm[1])
    return max(rights) + _MARGIN_MM, min(bottoms) - _MARGIN_MM


def _drawn(shape: Shape, at: Point, layer: str, pen: Pen, ref: str) -> Item:
    if shape.is_round:
        return Disc(at, shape.half_mm[0], layer, pen=pen, ref=ref)
    (x, y), (wide, tall) = at, shape.half_mm
    corners = (
        (x - wide, y - tall),
        (x + wide, y - tall),
        (x + wide, y + tall),
        (x - wide, y + tall),
    )
    return Path(corners, layer, pen=pen, closed=True, ref=ref)


def _cutout(fit: CutoutFit) -> list[Item]:
    at, key = _at(fit), fit.name.replace(" ", "-")
    items: list[Item] = []
    if fit.old is not None:
        items.append(_drawn(fit.old, at, "EXISTING", HIDDEN, f"old-{key}"))
    if fit.rim is not None:
        items.append(_drawn(fit.rim, at, "RIM", _RIM, f"rim-{key}"))
    if fit.ring is not None:
        items.append(_drawn(fit.ring, at, "RIM", _RING, f"ring-{key}"))
    if fit.is_cut and fit.new is not None:
        layer = "DRILL" if fit.new.is_round else "TRIM"
        items.append(_drawn(fit.new, at, layer, OUTLINE, f"cut-{key}"))
    reach = 8.0
    (x, y) = at
    cross = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
    items += [Path(ends, "CENTREMARKS", pen=THIN, ref=f"cross-{key}") for ends in cross]
    return items


def _name(fit: CutoutFit, at: Point) -> list[Item]:
    """Return the instrument's name and its fate, inside its opening below the cross."""
    room = max(20.0, 1.6 * (fit.new.half_mm[0] if fit.new else 10.0))
    lines = [*wrapped(fit.name, room, _NAME_MM)[:2], fit.fate.value.upper()]
    return [
        Text(
            (at[0], at[1] - 12.0 - index * 5.0), line, "NOTES", height_mm=_NAME_MM,
            across="centre", up="top", bold=index == len(lines) - 1, backed=True,
        )
        for index, line in enumerate(lines)
    ]  # fmt: skip


def _edges(right: float, bottom: float) -> list[Item]:
    """Return the left and upper edges of the dash, from which everything is measured."""
    edge = ((0.0, bottom), (0.0, 0.0), (right, 0.0))
    return [
        Path(edge, "DATUM", pen=EDGE, ref="edges"),
        Text((6.0, -4.0), "LEFT AND UPPER EDGE OF THE DASH", "DATUM", height_mm=_SMALL_MM,
             up="top", ink=Ink.MUTED),
    ]  # fmt: skip


def _measures(placed: Sequence[CutoutFit], right: float, style: Shown) -> list[Item]:
    across = [(_at(fit), exact_words(_at(fit)[0], style)) for fit in placed]
    down = [(_at(fit), exact_words(-_at(fit)[1], style)) for fit in placed]
    # One line for all that share it, from the farthest: dashes over dashes look solid.
    lowest = {round(x, 3): (x, y) for x, y in sorted(map(_at, placed), key=lambda at: -at[1])}
    leftmost = {round(y, 3): (x, y) for x, y in sorted(map(_at, placed), reverse=True)}
    ends = [*((at, (at[0], 0.0)) for at in lowest.values()),
            *((at, (right, at[1])) for at in leftmost.values())]  # fmt: skip
    lines = [Path(pair, "CENTRELINES", pen=CENTRE_LINE, ref="centres") for pair in ends]
    above = measures_above(
        [((point[0], 0.0), words) for point, words in across], 4.0, 1.0, height_mm=_TEXT_MM
    )
    beside = measures_beside(
        [((right, point[1]), words) for point, words in down], right, 1.0, height_mm=_TEXT_MM
    )
    return [*lines, *above, *beside]


def _below(
    fits: Sequence[CutoutFit], bottom: float, right: float, style: Shown, boat: str
) -> list[Item]:
    """Return the proof square and, below it, heading, list of cut-outs and cautions."""
    top = bottom - 15.0
    corners = ((0.0, top), (PROOF_MM, top), (PROOF_MM, top - PROOF_MM), (0.0, top - PROOF_MM))
    items: list[Item] = [Path(corners, "PROOFBAR", pen=EDGE, closed=True, ref="proof")]
    words = ("100 mm x 100 mm", "MEASURE BOTH WAYS", "BEFORE CUTTING")
    for index, line in enumerate(words):
        y = top - PROOF_MM / 2.0 + 6.0 - 8.0 * index
        items.append(Text((PROOF_MM / 2.0, y), line, "PROOFBAR", height_mm=_SMALL_MM,
                          across="centre"))  # fmt: skip
    y = top - PROOF_MM - 12.0
    room = max(right, 260.0)
    heading = (f"{boat}: " if boat else "") + "dash, SEEN FROM IN FRONT"
    for size, line in _lines(fits, style, heading):
        for part in wrapped(line, room, size, bold=line is heading):
            items.append(Text((0.0, y), part, "NOTES", height_mm=size, bold=line is heading))
            y -= size * 1.8
    return items


def _lines(fits: Sequence[CutoutFit], style: Shown, heading: str) -> list[tuple[float, str]]:
    lines = [(5.0, heading), *((_TEXT_MM, _said(fit, style)) for fit in fits)]
    return [*lines, *((_SMALL_MM, caution) for caution in _CAUTIONS)]


def _said(fit: CutoutFit, style: Shown) -> str:
    if fit.at_mm is None or fit.new is None:
        return f"{fit.name}: not drawn, its place or its opening is not known"
    across, down = (exact_words(value, style) for value in fit.at_mm)
    words = f"{fit.name}: {across} from the left, {down} from above, {fit.fate.value}"
    for name, shape in (("old", fit.old), ("new", fit.new), ("rim", fit.rim), ("ring", fit.ring)):
        if shape is not None:
            words += f", {name} {size_words(shape, style)}"
    return words


def size_words(shape: Shape, style: Shown) -> str:
    """Return the size of a shape: ``dia 85`` or ``60 x 40``, exact as drilling wants it."""
    if shape.height_mm is None:
        return f"dia {exact_words(shape.width_mm, style)}"
    return f"{exact_words(shape.width_mm, style)} x {exact_words(shape.height_mm, style)}"
