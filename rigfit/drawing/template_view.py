"""The drilling template at true scale, seen from astern (outside).

Origin where the centreline meets the transom top; x to starboard, y up, so that holes lie at
negative y. Layers are those of ``to_dxf``: DRILL and TRIM go to a shop, the rest is for the eye.
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
    MEASURE,
    OUTLINE,
    THIN,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Scene,
    Text,
    slot,
)
from rigfit.rigging.hole_pattern import Feature, diagonal_mm
from rigfit.rigging.template import Template
from rigfit.units import Shown

PROOF_MM = 100.0
"""Side of the check square."""

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
        *_proof_square(board),
        *_notes(template, board, style),
    )
    return Scene(title="Drilling template", items=items, scale=1.0)


def cut_scene(template: Template) -> Scene:
    """Return what a router or waterjet shop needs: DRILL and TRIM only."""
    return template_scene(template, Shown()).only("DRILL", "TRIM")


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


def _proof_square(board: _Board) -> list[Item]:
    """Return the 100 mm square that proves the scale, below the board."""
    left, top = board.left, board.bottom - 30.0
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
