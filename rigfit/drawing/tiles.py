"""True-scale sheets over a drawing: how many, where each lies, and what is printed on it.

A drawing larger than the paper is cut into windows that overlap by more than its largest hole, so
that every hole is whole on at least one sheet. Nothing is ever shrunk to fit: only a corrected
edition, which the user asks for, stretches the drawing, and says so on every sheet.

Model millimetres have their origin at centreline and transom top, y up. Paper millimetres count
from the lower left corner of the sheet as it is read. *Across* a sheet is along its short edge,
*along* it is along its long edge, however it is turned: printers stretch these two unlike.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from rigfit.drawing.scene import Ink, Item, Paper, Point
from rigfit.drawing.sheet import Box, paper
from rigfit.drawing.strokes import extents
from rigfit.errors import OutputError
from rigfit.rigging.printer import Bars, BarState

SIDE_MARGIN_MM, END_MARGIN_MM = 7.0, 13.0
"""Least white along the long and the short edges: printers leave 6.35 and 12.7 mm blank."""

STRIP_MM = 22.0
"""Height of the strip of words under the window."""

BAR_STRIP_MM = 10.0
"""Width of the strip left of the window that holds the upright bar."""

OVERLAP_BEYOND_MM = 2.0
"""How much more than the largest hole two sheets overlap."""

LEAST_OVERLAP_MM = 12.0
"""Overlap of a drawing with small holes or none: room for tape and joining marks."""

CROSS_MM = 100.0
"""A labelled cross stands at every multiple of this, from centreline and transom top."""

MOST_SHEETS = 60
"""Above this nobody tapes a template together without an error."""


@dataclass(frozen=True, slots=True)
class TileHole:
    """A hole that must be whole on some sheet.

    :param label: what is written beside it, where it is whole; "" for nothing.
    :param centre: model mm.
    :param half_width_mm: half its width.
    :param half_height_mm: half its height, more than the half width for a slot.
    """

    label: str
    centre: Point
    half_width_mm: float
    half_height_mm: float

    @property
    def box(self) -> Box:
        """The rectangle round the hole, model mm."""
        (x, y), w, h = self.centre, self.half_width_mm, self.half_height_mm
        return Box(x - w, y - h, x + w, y + h)


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is to be spread over sheets, at 1:1.

    :param title: name of the drawing.
    :param view: from where it is seen, printed on every sheet.
    :param items: scene items, model mm, back to front.
    :param holes: those to be drilled; each lies within the items.
    :param bounds: what the sheets must cover, model mm.
    :param inside: True for a mirrored edition, whose x runs to port.
    :param steps: how to use the sheets, for the first page.
    :param notes: cautions, for the first page.
    """

    title: str
    view: str
    items: tuple[Item, ...]
    holes: tuple[TileHole, ...]
    bounds: Box
    inside: bool = False
    steps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What every sheet says besides its drawing; user text may be anything, it is made safe.

    :param status: whether the sheet may be used.
    :param status_ink: its colour.
    :param refused: True when the sheet must not be used: written across the drawing too.
    """

    boat: str
    engine: str
    date: str = ""
    status: str = "NOT YET CHECKED: measure both bars"
    status_ink: Ink = Ink.TIGHT
    refused: bool = False
    version: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """How the windows lie over a drawing.

    :param sheet: the paper as it is read, landscape or portrait.
    :param rows: number of rows, A on top.
    :param columns: number of columns, 1 at the left.
    :param overlap_mm: by how much neighbouring windows overlap, model mm.
    :param area: the window on each sheet, paper mm.
    :param stretch: paper mm per model mm, to the right and up; (1, 1) unless corrected.
    :param first: lower left corner of the window A1, model mm.
    """

    sheet: Paper
    rows: int
    columns: int
    overlap_mm: float
    area: Box
    stretch: Point
    first: Point

    @property
    def count(self) -> int:
        """Number of sheets."""
        return self.rows * self.columns

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of a window, model mm."""
        return self.area.width / self.stretch[0], self.area.height / self.stretch[1]

    def window(self, row: int, column: int) -> Box:
        """Return what a sheet shows, model mm; row 0 is A, column 0 is 1."""
        width, height = self.size_mm
        left = self.first[0] + column * (width - self.overlap_mm)
        bottom = self.first[1] - row * (height - self.overlap_mm)
        return Box(left, bottom, left + width, bottom + height)

    def has(self, row: int, column: int) -> bool:
        """True when there is a sheet at that place."""
        return 0 <= row < self.rows and 0 <= column < self.columns


@dataclass(frozen=True, slots=True)
class Page:
    """One page, ready for a writer.

    :param name: "A1", or "" for the page that tells how to use the sheets.
    :param sheet: the paper as it is read.
    :param outer: items in paper mm.
    :param window: what is shown of the model, model mm; None for a page without.
    :param inner: items in model mm, to be clipped to the window.
    :param origin: lower left corner of the window, paper mm.
    :param stretch: paper mm per model mm, to the right and up.
    """

    name: str
    sheet: Paper
    outer: tuple[Item, ...]
    window: Box | None = None
    inner: tuple[Item, ...] = ()
    origin: Point = (0.0, 0.0)
    stretch: Point = (1.0, 1.0)

    def on_paper(self, point: Point) -> Point:
        """Return where a point of the model is printed, paper mm."""
        corner = (self.window.left, self.window.bottom) if self.window else (0.0, 0.0)
        return (
            self.origin[0] + (point[0] - corner[0]) * self.stretch[0],
            self.origin[1] + (point[1] - corner[1]) * self.stretch[1],
        )


@dataclass(frozen=True, slots=True)
class TiledDrawing:
    """A drawing spread over sheets.

    :param title: name of the drawing with its view.
    :param grid: how the sheets lie.
    :param pages: the page that tells how to use them, then the sheets row by row.
    """

    title: str
    grid: Grid
    pages: tuple[Page, ...] = field(repr=False)


def choose_grid(drawing: Drawing, paper_name: str, factors: Point = (1.0, 1.0)) -> Grid:
    """Return the grid with the fewest sheets, portrait where both ways need as many.

    :param factors: stretch across and along the sheet, of a corrected edition.
    :raises OutputError: for an unknown paper, or a drawing too large for ``MOST_SHEETS``.
    """
    overlap = overlap_mm(drawing.holes)
    grids = [
        grid
        for landscape in (False, True)
        if (grid := _grid(drawing, paper(paper_name, landscape=landscape), overlap, factors))
    ]
    if not grids:
        raise OutputError(
            f"a hole of the {drawing.title.lower()} does not go on {paper_name} paper whole",
            cure="choose a larger paper",
        )
    best = min(grids, key=lambda grid: grid.count)
    if best.count > MOST_SHEETS:
        box = drawing.bounds
        raise OutputError(
            f"the {drawing.title.lower()} is {box.width:.0f} x {box.height:.0f} mm and would "
            f"take {best.count} sheets of {paper_name}",
            allowed=f"at most {MOST_SHEETS} sheets",
            cure="choose a larger paper, or take the DXF to a print shop",
        )
    return best


def overlap_mm(holes: tuple[TileHole, ...]) -> float:
    """Return by how much sheets overlap: the largest hole and 2 mm."""
    largest = max((max(hole.box.width, hole.box.height) for hole in holes), default=0.0)
    return max(LEAST_OVERLAP_MM, largest + OVERLAP_BEYOND_MM)


def window_area(sheet: Paper) -> Box:
    """Return the window of a sheet, paper mm: inside margins, strip of words and upright bar."""
    left, bottom = _margins(sheet)
    return Box(
        left + BAR_STRIP_MM, bottom + STRIP_MM, sheet.width_mm - left, sheet.height_mm - bottom
    )


def strip_area(sheet: Paper) -> Box:
    """Return the strip of words under the window, paper mm."""
    left, bottom = _margins(sheet)
    return Box(left, bottom, sheet.width_mm - left, bottom + STRIP_MM)


def is_landscape(sheet: Paper) -> bool:
    """True for a sheet that is read with its long edge level."""
    return sheet.width_mm > sheet.height_mm


def stretch_of(sheet: Paper, factors: Point) -> Point:
    """Return factors across and along a sheet as factors to the right and up."""
    across, along = factors
    return (along, across) if is_landscape(sheet) else (across, along)


def sheet_name(row: int, column: int) -> str:
    """Return "B2" for the second row and column."""
    lead = "A" * (row // 26)
    return f"{lead}{chr(ord('A') + row % 26)}{column + 1}"


def is_whole(hole: TileHole, window: Box) -> bool:
    """True when a window shows all of a hole."""
    return contains(window, hole.box)


def contains(outer: Box, inner: Box) -> bool:
    """True when one box lies within another; a common edge counts as within."""
    slack = 1e-9
    return (
        outer.left - slack <= inner.left
        and outer.bottom - slack <= inner.bottom
        and outer.right + slack >= inner.right
        and outer.top + slack >= inner.top
    )


def overlaps(one: Box, other: Box) -> bool:
    """True when two boxes share some area or an edge."""
    return (
        one.left <= other.right
        and one.right >= other.left
        and one.bottom <= other.top
        and one.top >= other.bottom
    )


def seen_in(window: Box, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Return the items that lie in a window at least in part; the rest stays out of the file."""
    return tuple(item for item in items if overlaps(window, box_of(item)))


def box_of(item: Item) -> Box:
    """Return the rectangle round an item, text included, model mm at 1:1."""
    return Box(*extents(item, 1.0))


def sheet_status(bars: Bars, *, corrected: bool) -> tuple[str, Ink, bool]:
    """Return what the bars let a sheet say: words, their ink, and whether its use is refused."""
    measured = f"{bars.across_mm or 0.0:g} mm across, {bars.along_mm or 0.0:g} mm along"
    if corrected and bars.factors:
        across, along = bars.factors
        words = f"CORRECTED x {across:.4f} across, x {along:.4f} along: measure both bars again"
        return words, Ink.TIGHT, False
    if bars.state is BarState.CONFIRMED:
        return f"bars confirmed: {measured}", Ink.FITS, False
    if bars.state is BarState.OFF:
        if bars.across_mm is None or bars.along_mm is None:
            measured = f"{bars.across_mm or bars.along_mm or 0.0:g} mm"
        return f"DO NOT USE: the 100 mm bars measured {measured}", Ink.STOPS, True
    return "NOT YET CHECKED: measure both bars", Ink.TIGHT, False


def _margins(sheet: Paper) -> tuple[float, float]:
    """Return the white left and right, and the white below and above, paper mm."""
    if is_landscape(sheet):
        return END_MARGIN_MM, SIDE_MARGIN_MM
    return SIDE_MARGIN_MM, END_MARGIN_MM


def _grid(drawing: Drawing, sheet: Paper, overlap: float, factors: Point) -> Grid | None:
    """Return the grid of one orientation, centred on the drawing; None if no hole can be whole."""
    area, stretch = window_area(sheet), stretch_of(sheet, factors)
    width, height = area.width / stretch[0], area.height / stretch[1]
    if min(width, height) <= overlap:
        return None
    box = drawing.bounds
    columns = _needed(box.width, width, overlap)
    rows = _needed(box.height, height, overlap)
    whole_w = columns * width - (columns - 1) * overlap
    whole_h = rows * height - (rows - 1) * overlap
    left = (box.left + box.right - whole_w) / 2.0
    top = (box.bottom + box.top + whole_h) / 2.0
    return Grid(sheet, rows, columns, overlap, area, stretch, (left, top - height))


def _needed(length: float, window: float, overlap: float) -> int:
    # The allowance keeps a drawing that fits exactly from needing one sheet more.
    return max(1, math.ceil((length - overlap) / (window - overlap) - 1e-9))
