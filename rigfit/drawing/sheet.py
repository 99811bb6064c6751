"""The sheet: paper sizes, scales after ISO 5455, frame, title block and cautions strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rigfit.drawing.fonts import text_width_mm, wrapped
from rigfit.drawing.scene import Across, Ink, Item, Paper, Path, Pen, Point, Text
from rigfit.errors import OutputError

PAPERS_MM = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "Letter": (215.9, 279.4),
    "Legal": (215.9, 355.6),
    "Tabloid": (279.4, 431.8),
}
"""Width and height in portrait: ISO 216 and the sizes of North America."""

BORDER_MM = 10.0
BINDING_MM = 20.0
GROUP = "sheet"
LAYER = "SHEET"

_FRAME = Pen(0.7)
_BOX = Pen(0.35)
_RULE = Pen(0.18, ink=Ink.MUTED)
_PAD = 1.8  # between a rule and words
_LABEL = 1.8  # heights of capitals
_SMALL = 1.8
_VALUE = 2.5
_TITLE = 4.0
_LEADING = 1.75  # line pitch in heights of capitals
_UNDER_LABEL = 1.4
_BLOCK_WIDTH = 170.0
_STRIP_WIDTH = 130.0  # longer lines are hard to follow
_MARK_MM = 4.0
_SHARES = (0.11, 0.12, 0.12, 0.18, 0.30, 0.17)
_BESIDE = 55.0  # least width for a cautions strip beside the title block


def paper(name: str, *, landscape: bool) -> Paper:
    """Return a sheet of paper by name, mm.

    :raises OutputError: for a size that is not on the list.
    """
    try:
        width, height = PAPERS_MM[name]
    except KeyError:
        known = ", ".join(PAPERS_MM)
        raise OutputError(f"there is no paper size {name!r}", allowed=f"known: {known}") from None
    return Paper(name, height, width) if landscape else Paper(name, width, height)


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block and the cautions strip say.

    :param title: name of the drawing.
    :param date: as it is to be printed, or "".
    :param units: how numbers are meant, such as "Dimensions in millimetres".
    :param version: of rigfit.
    :param status: one line on what the sheet may be used for, or "".
    :param status_ink: its colour.
    :param cautions: sentences, each set on lines of its own.
    :param scale: as it is to be printed; "" for that of the drawing.
    :param number: which sheet of how many, or "".
    :param binding: whether to leave 20 mm for binding at the left.
    """

    title: str
    boat: str
    engine: str
    date: str = ""
    units: str = "Dimensions in millimetres"
    version: str = ""
    status: str = ""
    status_ink: Ink = Ink.LINE
    cautions: tuple[str, ...] = ()
    scale: str = ""
    number: str = ""
    binding: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper, mm from the sheet's lower left corner."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom

    def inset(self, by: float) -> Box:
        """Return the box with ``by`` taken off on every side."""
        return Box(self.left + by, self.bottom + by, self.right - by, self.top - by)


@dataclass(frozen=True, slots=True)
class _Cell:
    """One field of the title block: a small label above lines of words."""

    label: str
    lines: tuple[str, ...]
    width: float
    height: float = _VALUE
    bold: bool = False
    ink: Ink = Ink.LINE

    @property
    def needs(self) -> float:
        label = _LABEL + _UNDER_LABEL if self.label else 0.0
        return 2.0 * _PAD + label + _high(max(1, len(self.lines)), self.height)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the parts of a sheet lie, and the rows of its title block from above."""

    frame: Box
    block: Box
    rows: tuple[tuple[_Cell, ...], ...]
    cautions: Box | None
    sentences: tuple[str, ...]

    @property
    def free(self) -> Box:
        band = max(self.block.top, self.cautions.top if self.cautions else 0.0)
        return Box(self.frame.left, band, self.frame.right, self.frame.top)


def drawing_area(sheet: Paper, block: TitleBlock) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of the space above title block and cautions.

    In paper mm from the lower left corner of the sheet, up to the frame.

    :raises OutputError: if the words leave less than a third of the sheet's height.
    """
    # Every scale is written on one line, so it has no say in the heights.
    free = _layout(sheet, 1.0, block).free
    return free.left, free.bottom, free.right, free.top


def centred_corner(
    bounds: tuple[float, float, float, float],
    area: tuple[float, float, float, float],
    scale: float,
) -> Point:
    """Return the corner of a sheet, model mm, that puts a drawing in the middle of an area.

    :param bounds: (left, bottom, right, top) of the drawing, model mm.
    :param area: as ``drawing_area`` returns it, paper mm.
    """
    x = (bounds[0] + bounds[2]) / 2.0 - (area[0] + area[2]) / 2.0 * scale
    y = (bounds[1] + bounds[3]) / 2.0 - (area[1] + area[3]) / 2.0 * scale
    return x, y


def frame(sheet: Paper, scale: float, corner: Point, block: TitleBlock) -> tuple[Item, ...]:
    """Return frame, title block and cautions strip for a sheet that lies over a model.

    :param scale: model mm per paper mm.
    :param corner: lower left corner of the sheet, model mm.
    :raises OutputError: as ``drawing_area``.
    """
    layout = _layout(sheet, scale, block)
    pencil = _Pencil(scale, corner)
    items = [
        *_title_block(layout, pencil),
        *_centring_marks(sheet, layout.frame, pencil),
    ]
    if layout.cautions is not None:
        items += _cautions(layout.sentences, layout.cautions, pencil)
    # The frame last: its heavy line covers the ends of the rules that meet it.
    return (*items, pencil.rectangle(layout.frame, _FRAME))


def scale_words(scale: float) -> str:
    """Return a scale as drawings state it: "1:5", "1:2.5", "2:1"."""
    return f"1:{scale:g}" if scale >= 1.0 else f"{1.0 / scale:g}:1"


def _layout(sheet: Paper, scale: float, block: TitleBlock) -> _Layout:
    left = BINDING_MM if block.binding else BORDER_MM
    edge = Box(left, BORDER_MM, sheet.width_mm - BORDER_MM, sheet.height_mm - BORDER_MM)
    beside = min(edge.width - _BLOCK_WIDTH, _STRIP_WIDTH)
    # Without room beside it, the strip goes above a title block as wide as the frame.
    stacked = bool(block.cautions) and beside < _BESIDE
    split = edge.left if stacked else edge.right - min(_BLOCK_WIDTH, edge.width)
    rows = _rows(sheet, scale, block, edge.right - split)
    title = Box(split, edge.bottom, edge.right, edge.bottom + sum(_tall(row) for row in rows))
    strip, sentences = None, _set(block.cautions, edge.width if stacked else beside)
    if stacked:
        strip = Box(edge.left, title.top, edge.right, title.top + _strip_height(sentences))
    elif sentences:
        top = max(title.top, edge.bottom + _strip_height(sentences))
        strip = Box(split - beside, edge.bottom, split, top)
    layout = _Layout(edge, title, rows, strip, sentences)
    if layout.free.top - layout.free.bottom < sheet.height_mm / 3.0:
        raise OutputError(
            "the words of the title block and the cautions leave no room for the drawing",
            cure="choose a larger paper or shorten them",
        )
    return layout


def _rows(
    sheet: Paper, scale: float, block: TitleBlock, width: float
) -> tuple[tuple[_Cell, ...], ...]:
    inner = width - 2.0 * _PAD
    half = width / 2.0
    rows: list[tuple[_Cell, ...]] = []
    if block.status:
        lines = _cut(block.status, inner, _VALUE, 2, bold=True)
        rows.append((_Cell("", lines, width, bold=True, ink=block.status_ink),))
    title = _cut(block.title, inner, _TITLE, 2, bold=True)
    rows.append((_Cell("", title, width, _TITLE, bold=True),))
    names = (("Boat", block.boat), ("Engine", block.engine))
    rows.append(
        tuple(_Cell(name, _cut(said, half - 2.0 * _PAD, _VALUE, 2), half) for name, said in names)
    )
    particulars = (
        ("Scale", block.scale or scale_words(scale)),
        ("Paper", sheet.name),
        ("Sheet", block.number),
        ("Date", block.date),
        ("Units", block.units),
        ("Drawn with", f"rigfit {block.version}".rstrip()),
    )
    cells = []
    for (name, said), share in zip(particulars, _SHARES, strict=True):
        lines = _cut(said, share * width - 2.0 * _PAD, _VALUE, 2)
        cells.append(_Cell(name, lines, share * width))
    return (*rows, tuple(cells))


def _tall(row: tuple[_Cell, ...]) -> float:
    return max(cell.needs for cell in row)


@dataclass(frozen=True, slots=True)
class _Pencil:
    """Turns paper mm into scene items."""

    scale: float
    corner: Point

    def at(self, x: float, y: float) -> Point:
        return self.corner[0] + x * self.scale, self.corner[1] + y * self.scale

    def rectangle(self, box: Box, pen: Pen) -> Item:
        corners = (
            self.at(box.left, box.bottom),
            self.at(box.right, box.bottom),
            self.at(box.right, box.top),
            self.at(box.left, box.top),
        )
        return Path(corners, LAYER, pen=pen, closed=True, group=GROUP)

    def rule(self, x0: float, y0: float, x1: float, y1: float, pen: Pen = _RULE) -> Item:
        return Path((self.at(x0, y0), self.at(x1, y1)), LAYER, pen=pen, group=GROUP)

    def lines(
        self,
        lines: Sequence[str],
        x: float,
        top: float,
        height: float,
        *,
        bold: bool = False,
        ink: Ink = Ink.LINE,
        across: Across = "left",
    ) -> list[Item]:
        """Return lines of text below each other, the first with its capitals' tops at ``top``."""
        return [
            Text(
                self.at(x, top - height - index * height * _LEADING),
                line,
                LAYER,
                height_mm=height,
                across=across,
                ink=ink,
                bold=bold,
                group=GROUP,
            )
            for index, line in enumerate(lines)
        ]


def _cut(
    words: str, width: float, height: float, most: int, *, bold: bool = False
) -> tuple[str, ...]:
    """Return words as at most so many lines; the last ends in "..." if some had to go."""
    lines = wrapped(words, width, height, bold=bold)
    if len(lines) <= most:
        return tuple(lines)
    last = lines[most - 1]
    while last and text_width_mm(last + "…", height, bold=bold) > width:
        last = last[:-1]
    return (*lines[: most - 1], last.rstrip() + "…")


def _high(count: int, height: float) -> float:
    """Return the height of so many lines of text, first capital to last base line."""
    return height + (count - 1) * height * _LEADING if count else 0.0


def _title_block(layout: _Layout, pencil: _Pencil) -> Iterator[Item]:
    box = layout.block
    y = box.top
    for index, row in enumerate(layout.rows):
        if index:
            yield pencil.rule(box.left, y, box.right, y)
        high, x = _tall(row), box.left
        for column, cell in enumerate(row):
            if column:
                yield pencil.rule(x, y, x, y - high)
            yield from _cell(cell, x, y, pencil)
            x += cell.width
        y -= high
    yield pencil.rectangle(box, _BOX)


def _cell(cell: _Cell, x: float, top: float, pencil: _Pencil) -> Iterator[Item]:
    x, top = x + _PAD, top - _PAD
    if cell.label:
        yield from pencil.lines((cell.label,), x, top, _LABEL, ink=Ink.MUTED)
        top -= _LABEL + _UNDER_LABEL
    yield from pencil.lines(cell.lines, x, top, cell.height, bold=cell.bold, ink=cell.ink)


def _set(sentences: Sequence[str], width: float) -> tuple[str, ...]:
    """Return the lines of a cautions strip: each sentence begins a line of its own."""
    lines: list[str] = []
    for sentence in sentences:
        lines += wrapped(sentence, width - 2.0 * _PAD, _SMALL)
    return tuple(lines)


def _strip_height(lines: Sequence[str]) -> float:
    return 2.0 * _PAD + _SMALL + _UNDER_LABEL + _high(len(lines), _SMALL)


def _cautions(lines: Sequence[str], box: Box, pencil: _Pencil) -> Iterator[Item]:
    x, top = box.left + _PAD, box.top - _PAD
    yield from pencil.lines(("Cautions",), x, top, _SMALL, bold=True)
    yield from pencil.lines(lines, x, top - _SMALL - _UNDER_LABEL, _SMALL)
    yield pencil.rectangle(box, _BOX)


def _centring_marks(sheet: Paper, edge: Box, pencil: _Pencil) -> Iterator[Item]:
    """Yield the four marks of ISO 5457 by which a sheet is lined up, from the frame outwards."""
    middle_x, middle_y = sheet.width_mm / 2.0, sheet.height_mm / 2.0
    reach = _MARK_MM
    yield pencil.rule(middle_x, edge.bottom, middle_x, edge.bottom - reach, _BOX)
    yield pencil.rule(middle_x, edge.top, middle_x, edge.top + reach, _BOX)
    yield pencil.rule(edge.left, middle_y, edge.left - reach, middle_y, _BOX)
    yield pencil.rule(edge.right, middle_y, edge.right + reach, middle_y, _BOX)
