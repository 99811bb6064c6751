"""Which parts of the window are seen side by side, by the room there is. No Tk.

All sizes are logical pixels. Three columns on a large window, two on a laptop, and one part at a
time where the form is large and the window small.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Part = Literal["measurements", "drawing", "findings", "heights"]
PARTS: tuple[Part, ...] = ("measurements", "drawing", "findings", "heights")

WORDS: dict[Part, str] = {
    "measurements": "Measure",
    "drawing": "Drawing",
    "findings": "Findings",
    "heights": "Heights",
}
"""What each part is called on its tab."""

SIDE_LEAST, SIDE_MOST = 336, 640
"""Width of the column of measurements, and of that of the results."""

LEFT_SHARE, RIGHT_SHARE, SIDE_USUAL_MOST = 0.3, 0.27, 440
"""Shares of the width the side columns have unless moved, and how wide they get by that."""

DRAWING_LEAST = 400
THREE_FROM, TWO_FROM = 1200, 800
STACKED_FROM = 560
"""Height from which findings and heights stand one above the other."""


@dataclass(frozen=True, slots=True)
class Layout:
    """What is seen where.

    :param left: parts of which one at a time stands in the left column.
    :param centre: the part in the middle; None where everything is in one column.
    :param right: parts of the right column, empty without one.
    :param is_stacked: True when all of ``right`` are seen at once, one above the other.
    """

    left: tuple[Part, ...]
    centre: Part | None = None
    right: tuple[Part, ...] = ()
    is_stacked: bool = False

    def column_of(self, part: Part) -> tuple[Part, ...]:
        """Return the parts that share a place with a part, itself included."""
        if part == self.centre or (part in self.right and self.is_stacked):
            return (part,)
        return self.right if part in self.right else self.left


def layout_for(width: float, height: float) -> Layout:
    """Return what is seen side by side in an area of that size."""
    if width >= THREE_FROM:
        return Layout(
            ("measurements",), "drawing", ("findings", "heights"), is_stacked=height >= STACKED_FROM
        )
    if width >= TWO_FROM:
        return Layout(("measurements", "findings", "heights"), "drawing")
    return Layout(PARTS)


def side_widths(width: float, layout: Layout, left: float, right: float) -> tuple[int, int]:
    """Return the widths of the left and right columns: as wished, within what the room allows.

    :param left: wished for, 0 for the usual width, and ``right`` likewise.
    :returns: 0 for a column that is not there; all of it goes to the left where it stands alone.
    """
    if layout.centre is None:
        return int(width), 0
    columns = 2 if layout.right else 1
    most = min(SIDE_MOST, (width - DRAWING_LEAST) / columns)
    least = min(SIDE_LEAST, most)
    usual = [min(share * width, SIDE_USUAL_MOST) for share in (LEFT_SHARE, RIGHT_SHARE)]
    sides = zip((left, right), usual, strict=True)
    wished = [min(max(side or otherwise, least), most) for side, otherwise in sides]
    return int(wished[0]), int(wished[1]) if layout.right else 0
