"""The drilling template at true scale, seen from astern (outside), or mirrored for the inside.

Origin where the centreline meets the transom top; x to starboard, y up, so that holes lie at
negative y. Layers are those of ``to_dxf``: DRILL and TRIM go to a shop, the rest is for the eye.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rigfit.drawing.dimensioning import linear
from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.labels import exact_words
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    MEASURE,
    OUTLINE,
    THIN,
    Across,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Scene,
    Text,
    Up,
    slot,
)
from rigfit.drawing.sheet import Box
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.tiles import CROSS_MM, Drawing, TileHole
from rigfit.rigging.hole_pattern import Feature, diagonal_mm
from rigfit.rigging.template import Template
from rigfit.units import Shown

PROOF_MM = 100.0
"""Side of the check square."""

OUTSIDE_VIEW = "OUTSIDE, SEEN FROM ASTERN"
INSIDE_VIEW = "INSIDE, MIRRORED"
"""How the two editions of a paper template are named on every sheet."""

_FLAP_MM = 24.0  # of paper above the transom top, to fold over it
_STEPS = (
    'Print every page at 100 % ("actual size") on {paper} paper; never "fit to page".',
    "Measure both 100 mm bars on a sheet with a steel rule. Enter them in rigfit; more than 0.5 mm "
    "off, and the sheets are not to be used.",
    'Where a sheet says "cut here", cut along the line and lay it over its neighbour until the '
    "slanted crosses of both meet. Tape it. Prove it: far crosses are whole hundreds apart.",
    "Fold on the line TRANSOM TOP and hang the paper over the edge, its centreline on the "
    "centreline of the boat as you found it. Tape it flat.",
    "Compare both diagonals and the heights below the top with a tape before the first hole.",
    "Prick the centres through the paper. Drill one pilot, look inside where it comes out, then "
    "go on.",
)

_BOARD_MARGIN_MM = 70.0
_BOARD_RADIUS_MM = 15.0
_TEXT_MM = 4.0
_SMALL_MM = 3.0


def template_scene(template: Template, style: Shown) -> Scene:
    """Return the drilling template as a scene at 1:1 without a sheet.

    Everything is model mm and text heights are true, so the same scene serves DXF and paper.
    """
    board = _Board.around(template)
    items = (
        *_holes(template),
        _outline(board),
        *_datum(template, board),
        *_existing(template),
        *_measures(template, style),
        *proof_square(board.left, board.bottom - 30.0),
        *_notes(template, board, style),
    )
    return Scene(title="Drilling template", items=items, scale=1.0)


def cut_scene(template: Template) -> Scene:
    """Return what a router or waterjet shop needs: DRILL and TRIM only."""
    return template_scene(template, Shown()).only("DRILL", "TRIM")


def paper_drawing(template: Template, style: Shown, *, inside: bool = False) -> Drawing:
    """Return the drilling template as it goes on sheets of paper, full size.

    :param inside: True for the edition to lay on the inner face: geometry mirrored, words not.
        Port and starboard stay those of the boat.
    """
    items: tuple[Item, ...] = (
        *_holes(template),
        *_existing(template),
        *_measures(template, style),
        *_lines_of_the_boat(template),
    )
    if inside:
        items = mirrored(items)
    wanted = [item for item in items if item.layer != "EXISTING"]
    left, bottom, right, top = full_extents(wanted, 1.0)
    box = Box(left - 3.0, bottom - 3.0, right + 3.0, top)
    return Drawing(
        title="Drilling template",
        view=INSIDE_VIEW if inside else OUTSIDE_VIEW,
        items=(*items, *_fold(box, inside=inside)),
        holes=tuple(tile_hole(feature, -1.0 if inside else 1.0) for feature in template.features),
        bounds=box,
        inside=inside,
        steps=_STEPS,
        notes=_paper_notes(template),
    )


def _paper_notes(template: Template) -> tuple[str, ...]:
    """Return what is drilled and the cautions; the square of the DXF is not on the paper."""
    kept = tuple(note for note in template.notes if "100 mm square" not in note)
    old = ("Dashed circles are holes that are there already.",) if template.existing else ()
    return (*template.headings[2:], *kept, *old)


def mirrored(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Return items as seen from the other side: x reversed, words still to be read."""
    return tuple(_mirrored(item) for item in items)


def _mirrored(item: Item) -> Item:
    if isinstance(item, Disc):
        return replace(item, centre=(-item.centre[0], item.centre[1]))
    if isinstance(item, Path):
        points = tuple((-x, y) for x, y in item.points)
        return replace(item, points=points, bulges=tuple(-bulge for bulge in item.bulges))
    swapped: dict[Across, Across] = {"left": "right", "right": "left", "centre": "centre"}
    over: dict[Up, Up] = {"base": "top", "top": "base", "middle": "middle"}
    across, up, turn = swapped[item.across], item.up, -item.angle_deg
    if turn <= -90.0 + 1e-9:
        # It would read from above: turn it round on its anchor, so that it stays where it is.
        across, up, turn = swapped[across], over[up], turn + 180.0
    at = (-item.at[0], item.at[1])
    return replace(item, at=at, across=across, up=up, angle_deg=turn + 0.0)


def tile_hole(feature: Feature, side: float = 1.0) -> TileHole:
    """Return a feature as a hole that must be whole on some sheet; -1 as side mirrors it."""
    half = feature.diameter_mm / 2.0
    is_slot = feature.slot_mm > feature.diameter_mm
    size = f"slot {feature.diameter_mm:g} x {feature.slot_mm:g}" if is_slot else (
        f"dia {feature.diameter_mm:g}"
    )  # fmt: skip
    return TileHole(
        label=f"{feature.name}, {size}",
        centre=(side * feature.across_mm, -feature.below_top_mm),
        half_width_mm=half,
        half_height_mm=feature.slot_mm / 2.0 if is_slot else half,
    )


def _lines_of_the_boat(template: Template) -> list[Item]:
    """Return the centrelines on paper with their names, clear of the measures."""
    levels = sorted({feature.below_top_mm for feature in template.features})
    low = -levels[-1] - 40.0
    items: list[Item] = []
    lines = [(0.0, "BOAT'S CENTRELINE")]
    if template.centre_mm:
        lines.append((template.centre_mm, "ENGINE'S CENTRE"))
    for x, words in lines:
        away = 1.0 if x > 0.0 or (x == 0.0 and template.centre_mm < 0.0) else -1.0
        middle = _between_crosses(levels[0] + 0.25 * (levels[-1] - levels[0]), words)
        items.append(Path(((x, _FLAP_MM), (x, low)), "CENTRELINES", pen=CENTRE_LINE))
        items.append(Text((x + 1.5 * away, -middle), words, "CENTRELINES", height_mm=_SMALL_MM,
                          across="centre", up="base" if away < 0.0 else "top",
                          angle_deg=90.0))  # fmt: skip
    for level in levels:
        row = [item.across_mm for item in template.features if item.below_top_mm == level]
        ends = ((min(row) - 12.0, -level), (max(row) + 12.0, -level))
        items.append(Path(ends, "CENTRELINES", pen=CENTRE_LINE))
    return items


def _between_crosses(wanted: float, words: str) -> float:
    """Return a place near a wanted one where upright words clear the crosses on the sheets."""
    room = text_width_mm(words, _SMALL_MM) / 2.0 + 5.0
    low = wanted // CROSS_MM * CROSS_MM + room
    return min(max(wanted, low), low - 2.0 * room + CROSS_MM)


def _fold(box: Box, *, inside: bool) -> list[Item]:
    """Return the line to fold on, and which side is which."""
    port, starboard = ("PORT", "STARBOARD")[:: -1 if inside else 1]
    items: list[Item] = [
        Path(((box.left, 0.0), (box.right, 0.0)), "DATUM", pen=Pen(0.35, HIDDEN.dash)),
        Text((box.left + 2.0, 14.0), port, "NOTES", height_mm=_TEXT_MM, bold=True, backed=True),
        Text((box.right - 2.0, 14.0), starboard, "NOTES", height_mm=_TEXT_MM, across="right",
             bold=True, backed=True),
    ]  # fmt: skip
    for way in (0.25, 0.75):
        x = box.left + way * box.width
        items.append(_note(x, 3.0, "TRANSOM TOP: FOLD HERE", height=_SMALL_MM, across="centre",
                           layer="DATUM", bold=True))  # fmt: skip
    return items


@dataclass(frozen=True, slots=True)
class _Board:
    """The board or plate the template is cut from; its top edge lies on the transom top."""

    left: float
    right: float
    bottom: float

    @classmethod
    def around(cls, template: Template) -> _Board:
        reach = max(abs(item.across_mm - template.centre_mm) for item in template.features)
        half = math.ceil((reach + _BOARD_MARGIN_MM) / 10.0) * 10.0
        low = max(
            item.below_top_mm + max(item.slot_mm, item.diameter_mm) / 2.0
            for item in template.features
        )
        bottom = -math.ceil((low + _BOARD_MARGIN_MM) / 10.0) * 10.0
        centre = template.centre_mm
        return cls(centre - half, centre + half, min(bottom, -260.0))


def _at(feature: Feature) -> tuple[float, float]:
    return feature.across_mm, -feature.below_top_mm


def _holes(template: Template) -> list[Item]:
    items: list[Item] = []
    for feature in template.features:
        centre, ref = _at(feature), f"hole-{feature.name.replace(' ', '-')}"
        if feature.slot_mm > feature.diameter_mm:
            items.append(
                slot(centre, feature.diameter_mm, feature.slot_mm, "TRIM", pen=OUTLINE, ref=ref)
            )
        else:
            items.append(Disc(centre, feature.diameter_mm / 2.0, "DRILL", pen=OUTLINE, ref=ref))
        reach = feature.diameter_mm * 0.95
        x, y = centre
        cross = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
        items += [Path(ends, "CENTREMARKS", pen=THIN, ref=ref) for ends in cross]
    if template.bracket_slot_mm:
        items += _bracket_slots(template)
    return items


def _bracket_slots(template: Template) -> list[Item]:
    """Show the slots of the engine's bracket round the lower holes: for the eye, not to cut."""
    return [
        slot(
            _at(feature),
            feature.diameter_mm,
            template.bracket_slot_mm,
            "CENTREMARKS",
            pen=HIDDEN,
            ref="bracket-slot",
        )
        for feature in template.features
        if feature.name.startswith("lower") and not feature.slot_mm
    ]


def _outline(board: _Board) -> Path:
    """Return the board: square upper corners on the datum, rounded lower ones."""
    r, bulge = _BOARD_RADIUS_MM, math.tan(math.pi / 8.0)
    points = (
        (board.left, 0.0),
        (board.left, board.bottom + r),
        (board.left + r, board.bottom),
        (board.right - r, board.bottom),
        (board.right, board.bottom + r),
        (board.right, 0.0),
    )
    bulges = (0.0, bulge, 0.0, bulge, 0.0, 0.0)
    return Path(points, "TRIM", pen=EDGE, closed=True, bulges=bulges, ref="board")


def _datum(template: Template, board: _Board) -> list[Item]:
    centre = template.centre_mm
    items: list[Item] = [
        Path(((board.left - 25.0, 0.0), (board.right + 25.0, 0.0)), "DATUM", pen=HIDDEN),
        Path(((0.0, 25.0), (0.0, board.bottom - 25.0)), "CENTRELINES", pen=CENTRE_LINE),
        _note(board.right + 27.0, 0.0, "TRANSOM TOP", layer="DATUM", up="middle"),
        _note(0.0, 28.0, "CENTRELINE OF THE BOAT", across="centre", layer="CENTRELINES"),
    ]
    if centre:
        items.append(Path(((centre, 15.0), (centre, board.bottom - 15.0)), "CENTRELINES",
                          pen=CENTRE_LINE))  # fmt: skip
        items.append(_note(centre, 17.0, "CENTRE OF THE ENGINE", across="centre"))
    for level in sorted({feature.below_top_mm for feature in template.features}):
        row = [item.across_mm for item in template.features if item.below_top_mm == level]
        ends = ((min(row) - 12.0, -level), (max(row) + 12.0, -level))
        items.append(Path(ends, "CENTRELINES", pen=CENTRE_LINE))
    return items


def _existing(template: Template) -> list[Item]:
    """Return the holes already in the transom, dashed."""
    items: list[Item] = []
    for hole in template.existing:
        ref = "old-" + hole.name.replace(" ", "-")
        items.append(Disc(_at(hole), hole.diameter_mm / 2.0, "EXISTING", pen=HIDDEN, ref=ref))
    return items


def _measures(template: Template, style: Shown) -> list[Item]:
    """Return what a tape can confirm: from centreline, from the top, and both diagonals."""
    items: list[Item] = []
    by_name = {feature.name: feature for feature in template.features}
    rows = [
        (by_name[f"{row} port"], by_name[f"{row} starboard"])
        for row in ("upper", "lower")
        if f"{row} port" in by_name
    ]
    reach = max(abs(feature.across_mm - template.centre_mm) for feature in template.features)
    for index, (port, starboard) in enumerate(rows):
        level = -port.below_top_mm
        for number, feature in enumerate((port, starboard)):
            items += linear(
                (template.centre_mm, level), _at(feature),
                offset=26.0 if (index == 0) == (number == 1) else -26.0,
                words=exact_words(abs(feature.across_mm - template.centre_mm), style), scale=1.0,
                ref=f"across-{feature.name.replace(' ', '-')}", text_height=_TEXT_MM,
            )  # fmt: skip
        for side, feature, away in (("port", port, -1.0), ("starboard", starboard, 1.0)):
            x = template.centre_mm + away * (reach + 22.0 + 17.0 * index)
            items += linear(
                (x, 0.0), (x, -feature.below_top_mm), offset=0.0,
                words=exact_words(feature.below_top_mm, style), scale=1.0,
                ref=f"below-{index}-{side}", text_height=_TEXT_MM,
            )  # fmt: skip
            ends = ((feature.across_mm + away * 14.0, level), (x + away * 2.0, level))
            items.append(Path(ends, "MEASURES", pen=MEASURE, group="measures"))
    for first, second in template.diagonals:
        ends = (_at(first), _at(second))
        items.append(Path(ends, "MEASURES", pen=Pen(0.13, ink=Ink.MUTED), group="measures"))
        items.append(_along(ends, f"diagonal {exact_words(diagonal_mm(first, second), style)}"))
    return items


def _along(ends: tuple[tuple[float, float], tuple[float, float]], words: str) -> Text:
    """Return words on a line, a quarter of the way from its upper end."""
    (x0, y0), (x1, y1) = sorted(ends)
    upper, lower = ((x0, y0), (x1, y1)) if y0 > y1 else ((x1, y1), (x0, y0))
    at = (upper[0] + 0.28 * (lower[0] - upper[0]), upper[1] + 0.28 * (lower[1] - upper[1]))
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    return Text(
        (at[0] + 1.5 * up[0], at[1] + 1.5 * up[1]), words, "MEASURES", height_mm=_SMALL_MM,
        across="centre", angle_deg=angle, ink=Ink.MUTED, group="measures",
    )  # fmt: skip


def proof_square(left: float, top: float) -> list[Item]:
    """Return the 100 mm square that proves the scale, from its upper left corner."""
    corners = (
        (left, top),
        (left + PROOF_MM, top),
        (left + PROOF_MM, top - PROOF_MM),
        (left, top - PROOF_MM),
    )
    middle = (left + PROOF_MM / 2.0, top - PROOF_MM / 2.0)
    return [
        Path(corners, "PROOFBAR", pen=EDGE, closed=True, ref="proof"),
        Text((middle[0], middle[1] + 6.0), "100 mm x 100 mm", "PROOFBAR", height_mm=_TEXT_MM,
             across="centre"),
        Text((middle[0], middle[1] - 4.0), "MEASURE BOTH WAYS", "PROOFBAR", height_mm=_SMALL_MM,
             across="centre"),
        Text((middle[0], middle[1] - 11.0), "BEFORE DRILLING", "PROOFBAR", height_mm=_SMALL_MM,
             across="centre"),
    ]  # fmt: skip


def _notes(template: Template, board: _Board, style: Shown) -> list[Item]:
    """Return the notes beside the proof square: what it is for, table of holes, cautions."""
    x, y = board.left + PROOF_MM + 18.0, board.bottom - 34.0
    items: list[Item] = []
    for index, words in enumerate(template.headings):
        height = 5.0 if index == 0 else _TEXT_MM
        items.append(_note(x, y, words, height=height, bold=index == 0))
        y -= height * 1.8
    y -= 3.0
    for feature in template.features:
        side = "starboard" if feature.across_mm > 0.0 else "port"
        words = (
            f"{feature.name}: {exact_words(abs(feature.across_mm), style)} to {side}, "
            f"{exact_words(feature.below_top_mm, style)} below the top, "
            f"dia {feature.diameter_mm:g}"
        )
        if feature.slot_mm > feature.diameter_mm:
            words += f", slot {feature.slot_mm:g} long"
        items.append(_note(x, y, words))
        y -= _TEXT_MM * 1.7
    y = min(y, board.bottom - 30.0 - PROOF_MM) - 10.0
    for words in template.notes:
        items.append(_note(board.left, y, words, height=_SMALL_MM))
        y -= _SMALL_MM * 1.8
    return items


def _note(
    x: float,
    y: float,
    words: str,
    *,
    height: float = _TEXT_MM,
    across: str = "left",
    up: str = "base",
    layer: str = "NOTES",
    bold: bool = False,
) -> Text:
    return Text((x, y), words, layer, height_mm=height, across=across, up=up, bold=bold)  # type: ignore[arg-type]
