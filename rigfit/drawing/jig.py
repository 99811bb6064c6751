"""The drill-guide jig: a board that hangs from the transom top by a lip and guides the drill.

Two pieces are cut from one sheet of board. The *board* lies on the outer face; it stands above the
transom top by the height of the lip. The *lip* is a strip screwed to its forward face there: its
lower edge rests on the transom top. Seen from astern; origin at centreline and transom top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.drawing.dimensioning import linear
from rigfit.drawing.labels import exact_words
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    OUTLINE,
    THIN,
    Disc,
    Item,
    Path,
    Scene,
    Text,
    slot,
)
from rigfit.drawing.sheet import Box
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.template_view import OUTSIDE_VIEW, PROOF_MM, proof_square, tile_hole
from rigfit.drawing.tiles import Drawing, TileHole
from rigfit.rigging.template import Template
from rigfit.units import Shown

BOARD_MM = 18.0
"""Thickness of the board meant, the trade's 3/4 in ply."""

GUIDE_DIAMETERS = 3.0
"""Length of a guide in diameters of the drill: custom; shorter ones let it lean."""

LIP_MM = 40.0
"""Height of the lip, and of the board above the transom top."""

_MARGIN_MM = 60.0
_GAP_MM = 15.0  # between board and lip on the sheet they are cut from
_FREE_MM = 15.0  # of drill beyond guide and transom: its point, and room for the chuck
_NOTCH_MM = 5.0
_SCREW_MM = 4.0
_BLOCK_MM = 70.0
_TEXT_MM, _SMALL_MM = 3.5, 2.5

STEPS = (
    'Print every page at 100 % ("actual size") on {paper} paper; never "fit to page". Measure '
    "both 100 mm bars on a sheet.",
    "Tape the sheets together, glue them to the aft face of the board, and cut board and lip "
    "along the outlines.",
    "Screw the lip to the forward face of the board, its lower edge on the line TRANSOM TOP, "
    "through the small holes.",
    "Glue a block over each hole on the aft face, where the dashed square is, and drill board and "
    "block together on a drill press, so that the guides are square.",
    "Hang the jig over the transom top, its notches on the centreline, and clamp it. Compare both "
    "diagonals with a tape, then drill.",
)
"""How to make and use the jig."""


@dataclass(frozen=True, slots=True)
class Guide:
    """How thick the guide under one drill should be.

    :param diameter_mm: the drill.
    :param length_mm: of the whole guide, board and block.
    :param block_mm: thickness of the block, 0 where the board alone is thick enough.
    """

    diameter_mm: float
    length_mm: float
    block_mm: float


def guide_for(diameter_mm: float, board_mm: float = BOARD_MM) -> Guide:
    """Return the guide a drill wants; the block in whole millimetres, rounded up.

    :raises ValueError: for a drill or board without thickness.
    """
    if not (diameter_mm > 0.0 and board_mm > 0.0):
        raise ValueError("a drill and a board have a thickness")
    wanted = GUIDE_DIAMETERS * diameter_mm
    block = float(max(0, math.ceil(wanted - board_mm - 1e-9)))
    return Guide(diameter_mm, board_mm + block, block)


def jig_scene(template: Template, style: Shown, *, transom_mm: float = 0.0) -> Scene:
    """Return the jig as a scene at 1:1 without a sheet: all layers.

    :param transom_mm: thickness of the transom, to say how long a drill it takes; 0 if unknown.
    """
    items = _items(template, style)
    box = Box(*full_extents(items, 1.0))
    x, y = box.left + PROOF_MM + 12.0, box.bottom - 14.0
    below = proof_square(box.left, y)
    for index, words in enumerate((*template.headings, *jig_notes(template, transom_mm))):
        y -= _TEXT_MM * 1.8
        below.append(_text((x, y), words, bold=index == 0))
    return Scene("Drill-guide jig", (*items, *below), 1.0)


def jig_cut_scene(template: Template) -> Scene:
    """Return what a router needs of the jig: DRILL and TRIM only."""
    return jig_scene(template, Shown()).only("DRILL", "TRIM")


def jig_drawing(template: Template, style: Shown, *, transom_mm: float = 0.0) -> Drawing:
    """Return the jig for sheets of paper, to glue on the board."""
    items = tuple(_items(template, style))
    left, bottom, right, top = full_extents(items, 1.0)
    return Drawing(
        title="Drill-guide jig",
        view=OUTSIDE_VIEW,
        items=items,
        holes=(
            *(tile_hole(feature) for feature in template.features),
            *(
                TileHole("", item.centre, item.radius_mm, item.radius_mm)
                for item in items
                if isinstance(item, Disc) and item.ref == SCREW
            ),
        ),
        bounds=Box(left - 3.0, bottom - 3.0, right + 3.0, top + 3.0),
        steps=STEPS,
        notes=jig_notes(template, transom_mm),
    )


SCREW = "lip-screw"
"""``ref`` of the small holes for the screws of the lip."""


def jig_notes(template: Template, transom_mm: float = 0.0) -> tuple[str, ...]:
    """Return what to know before making the jig: guides, drill, lip."""
    notes = []
    for diameter in sorted({feature.diameter_mm for feature in template.features}):
        guide = guide_for(diameter)
        words = f"Drill {diameter:g} mm: guide {guide.length_mm:g} mm long"
        if guide.block_mm:
            words += f", a block of {guide.block_mm:g} mm on a board of {BOARD_MM:g} mm"
        if transom_mm:
            words += (
                f"; the drill needs {guide.length_mm + transom_mm + 15.0:.0f} mm of free length"
            )
        notes.append(words + ".")
    lean = math.tan(math.radians(1.0)) * 50.0
    return (
        *notes,
        f"Three diameters of guide are custom. 1 deg off square is {lean:.1f} mm in 50 mm.",
        "The small holes above the transom top are for the screws of the lip, never for the boat.",
        "The lip follows the transom top: shim it where that is not square to the centreline.",
        "The engine maker's template and instructions come first.",
    )


def _items(template: Template, style: Shown) -> list[Item]:
    box = _board_box(template)
    centre = template.centre_mm
    strip = Box(box.left, LIP_MM + _GAP_MM, box.right, 2.0 * LIP_MM + _GAP_MM)
    items: list[Item] = [_board(box, centre), _lip(strip, centre)]
    items += _guides(template)
    # The lip is drawn as it lies on the sheet of board, its lower edge the one on the transom.
    for way in (0.1, 0.3, 0.7, 0.9):
        x = box.left + way * box.width
        for y in (LIP_MM / 2.0, strip.bottom + LIP_MM / 2.0):
            items.append(Disc((x, y), _SCREW_MM / 2.0, "DRILL", pen=EDGE, ref=SCREW))
    items += [
        Path(((box.left - 8.0, 0.0), (box.right + 8.0, 0.0)), "DATUM", pen=HIDDEN),
        _text((box.left + 4.0, 3.0), "TRANSOM TOP", layer="DATUM"),
        _text((centre + 6.0, strip.bottom + 3.0), "LIP: this edge on the transom top"),
        Path(((centre, strip.top + 6.0), (centre, box.bottom - 6.0)), "CENTRELINES",
             pen=CENTRE_LINE),
        _text((centre + 6.0, box.bottom + 4.0), _centre_words(centre, style), layer="CENTRELINES"),
    ]  # fmt: skip
    return items + _measures(template, box, style)


def _centre_words(centre: float, style: Shown) -> str:
    if not centre:
        return "NOTCHES ON THE BOAT'S CENTRELINE"
    side = "STARBOARD" if centre > 0.0 else "PORT"
    return f"NOTCHES {exact_words(abs(centre), style)} TO {side} OF THE BOAT'S CENTRELINE"


def _board_box(template: Template) -> Box:
    centre = template.centre_mm
    reach = max(abs(item.across_mm - centre) for item in template.features)
    half = math.ceil((reach + _MARGIN_MM) / 10.0) * 10.0
    low = max(
        item.below_top_mm + max(item.slot_mm, item.diameter_mm) / 2.0 for item in template.features
    )
    bottom = -math.ceil((low + _MARGIN_MM) / 10.0) * 10.0
    return Box(centre - half, bottom, centre + half, LIP_MM)


def _board(box: Box, centre: float) -> Path:
    """Return the outline of the board with a notch on the centreline above and below."""
    n = _NOTCH_MM
    points = (
        (box.left, box.bottom),
        (centre - n, box.bottom),
        (centre, box.bottom + n),
        (centre + n, box.bottom),
        (box.right, box.bottom),
        (box.right, box.top),
        (centre + n, box.top),
        (centre, box.top - n),
        (centre - n, box.top),
        (box.left, box.top),
    )
    return Path(points, "TRIM", pen=EDGE, closed=True, ref="jig-board")


def _lip(box: Box, centre: float) -> Path:
    n = _NOTCH_MM
    points = (
        (box.left, box.bottom),
        (box.right, box.bottom),
        (box.right, box.top),
        (centre + n, box.top),
        (centre, box.top - n),
        (centre - n, box.top),
        (box.left, box.top),
    )
    return Path(points, "TRIM", pen=EDGE, closed=True, ref="jig-lip")


def _guides(template: Template) -> list[Item]:
    """Return the holes at drilling diameter, their centre marks, and where the blocks go."""
    items: list[Item] = []
    for feature in template.features:
        x, y = feature.across_mm, -feature.below_top_mm
        ref, reach = f"hole-{feature.name.replace(' ', '-')}", feature.diameter_mm * 0.95
        if feature.slot_mm > feature.diameter_mm:
            items.append(slot((x, y), feature.diameter_mm, feature.slot_mm, "TRIM", pen=OUTLINE,
                              ref=ref))  # fmt: skip
        else:
            items.append(Disc((x, y), feature.diameter_mm / 2.0, "DRILL", pen=OUTLINE, ref=ref))
        cross = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
        items += [Path(ends, "CENTREMARKS", pen=THIN, ref=ref) for ends in cross]
        if guide_for(feature.diameter_mm).block_mm:
            items.append(_block(x, y, feature.slot_mm))
    return items


def _block(x: float, y: float, slot_mm: float) -> Path:
    half, high = _BLOCK_MM / 2.0, (_BLOCK_MM + slot_mm) / 2.0
    corners = (
        (x - half, y - high),
        (x + half, y - high),
        (x + half, y + high),
        (x - half, y + high),
    )
    return Path(corners, "CENTREMARKS", pen=HIDDEN, closed=True, ref="block")


def _measures(template: Template, box: Box, style: Shown) -> list[Item]:
    """Return the heights below the transom top, and the size of the board."""
    items: list[Item] = []
    for index, level in enumerate(sorted({item.below_top_mm for item in template.features})):
        x = box.right + 12.0 + 12.0 * index
        items += linear((x, 0.0), (x, -level), offset=0.0, words=exact_words(level, style),
                        scale=1.0, ref=f"jig-below-{index}", text_height=_TEXT_MM)  # fmt: skip
    items += linear(
        (box.left, box.bottom), (box.right, box.bottom), offset=-14.0,
        words=exact_words(box.width, style), scale=1.0, ref="jig-width", text_height=_TEXT_MM,
    )  # fmt: skip
    items += linear(
        (box.left, box.top), (box.left, box.bottom), offset=-14.0,
        words=exact_words(box.height, style), scale=1.0, ref="jig-height", text_height=_TEXT_MM,
    )  # fmt: skip
    return items


def _text(at: tuple[float, float], words: str, *, layer: str = "NOTES", bold: bool = False) -> Text:
    height = _TEXT_MM if bold or layer == "NOTES" else _SMALL_MM
    return Text(at, words, layer, height_mm=height, bold=bold)
