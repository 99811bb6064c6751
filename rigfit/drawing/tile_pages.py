"""What is printed on the sheets of a tiled drawing: bars, crosses, map, labels and words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigfit.drawing.fonts import printable, text_width_mm, wrapped
from rigfit.drawing.scene import Across, Disc, Ink, Item, Path, Pen, Point, Text
from rigfit.drawing.sheet import Box, paper
from rigfit.drawing.tiles import (
    BAR_STRIP_MM,
    CROSS_MM,
    Drawing,
    Grid,
    Page,
    SheetWords,
    TiledDrawing,
    TileHole,
    box_of,
    choose_grid,
    contains,
    is_landscape,
    is_whole,
    overlaps,
    seen_in,
    sheet_name,
    sheet_status,
    stretch_of,
    strip_area,
    window_area,
)
from rigfit.errors import OutputError
from rigfit.rigging.printer import (
    BAR_MM,
    FACTOR_HIGH,
    FACTOR_LOW,
    Bars,
    BarState,
    bars_of,
)
from rigfit.rigging.report import EngineReport

LAYER = "SHEET"

_BAR = Pen(0.25)
_FRAME = Pen(0.25, ink=Ink.MUTED)
_CUT = Pen(0.35)
_CROSS = Pen(0.18)
_JOIN = Pen(0.25, ink=Ink.ACCENT)
_ARM_MM = 4.0
_JOIN_MM = 2.5
_JOIN_AT = (0.2, 0.25, 0.3, 0.35, 0.65, 0.7, 0.75, 0.8)  # of the edge, to be clear of holes
_TINY, _SMALL, _WORDS, _LOUD, _BIG = 1.8, 2.2, 3.0, 4.2, 7.0
_HOLE_LABEL = 3.0
_MAP_AT, _MAP_WIDTH = 27.0, 20.0
_BAR_AT = 52.0


def tiled_sheets(
    report: EngineReport, drawing: Drawing, paper_name: str = "", *, corrected: bool, date: str = ""
) -> TiledDrawing:
    """Return a drawing spread over sheets of paper, with the words that stand on them.

    :param paper_name: and ``corrected``, ``date`` as ``tasks.write_paper_template`` takes them.
    :raises OutputError: for an unknown paper, a drawing too large for it, or bars that leave
        nothing to correct.
    """
    job, candidate = report.case.job, report.case.candidate
    name = paper(paper_name or job.printer.paper or "A4", landscape=False).name
    bars = bars_of(job.printer, name)
    factors = _correction(bars) if corrected else (1.0, 1.0)
    status, ink, refused = sheet_status(bars, corrected=corrected)
    engine = f"{candidate.id} ({candidate.name})" if candidate.name else candidate.id
    words = SheetWords(job.boat.name, engine, date, status, ink, refused)
    return tiled(drawing, name, words, factors)


def _correction(bars: Bars) -> tuple[float, float]:
    """Return the factors of a corrected edition; raises ``OutputError`` when there are none."""
    if bars.factors is not None:
        return bars.factors
    cures = {
        BarState.MISSING: "measure both bars on a printed sheet and enter them first",
        BarState.MISTAKEN: "measure the bars again",
        BarState.CONFIRMED: "use the ordinary edition",
        BarState.OFF: "measure both bars, and print at 100 %",
    }
    raise OutputError(
        f"there is no corrected edition to make: {bars.sentence.rstrip('.')}",
        allowed=f"bars that are off can be corrected by {FACTOR_LOW:g} to {FACTOR_HIGH:g}",
        cure=cures[bars.state],
        where="printer",
    )


def tiled(
    drawing: Drawing, paper_name: str, words: SheetWords, factors: Point = (1.0, 1.0)
) -> TiledDrawing:
    """Return a drawing spread over as few sheets of a paper as will hold it at full size.

    :param factors: stretch across and along the sheet, of a corrected edition.
    :raises OutputError: for an unknown paper, or a drawing too large for ``MOST_SHEETS``.
    """
    grid = choose_grid(drawing, paper_name, factors)
    sheets = tuple(
        sheet_page(drawing, grid, words, row, column)
        for row in range(grid.rows)
        for column in range(grid.columns)
    )
    title = f"{drawing.title}, {drawing.view}"
    return TiledDrawing(title, grid, (first_page(drawing, grid, words), *sheets))


def sheet_page(drawing: Drawing, grid: Grid, words: SheetWords, row: int, column: int) -> Page:
    """Return one sheet of a tiled drawing."""
    window = grid.window(row, column)
    inner = [
        item for item in seen_in(window, drawing.items) if not _is_cut_in_two(item, window, grid)
    ]
    whole = [hole for hole in drawing.holes if is_whole(hole, window)]
    inner += _labels(whole, drawing.holes, window, inner)
    inner += _joining_marks(drawing, grid, row, column)
    inner += _crosses(drawing, window, inner)
    inner += _neighbours(grid, row, column, inner)
    if words.refused:
        inner.append(_refusal(window))
    name = sheet_name(row, column)
    outer = (
        *_frame(grid, row, column),
        *_strip(drawing, grid, words, name),
        *_map(grid, _map_box(grid), (row, column)),
        *_upright_bar(grid),
    )
    origin = (grid.area.left, grid.area.bottom)
    return Page(name, grid.sheet, outer, window, tuple(inner), origin, grid.stretch)


def first_page(drawing: Drawing, grid: Grid, words: SheetWords) -> Page:
    """Return the page that comes before the sheets: how to use them, and how they lie."""
    sheet = paper(grid.sheet.name, landscape=False)
    factors = grid.stretch[::-1] if is_landscape(grid.sheet) else grid.stretch
    upright = Grid(
        sheet, grid.rows, grid.columns, grid.overlap_mm, window_area(sheet),
        stretch_of(sheet, factors), grid.first,
    )  # fmt: skip
    outer: list[Item] = [*_strip(drawing, upright, words, ""), *_upright_bar(upright)]
    area = upright.area
    x, y = area.left + 4.0, area.top - 6.0
    width = area.width - 8.0
    for line, height, bold in _first_words(drawing, grid):
        for part in wrapped(printable(line), width, height, bold=bold):
            outer.append(_text((x, y), part, height, bold=bold))
            y -= height * 1.75
        y -= 1.2
    outer += _big_map(drawing, grid, Box(x, area.bottom + 4.0, x + width, y - 2.0))
    return Page("", sheet, tuple(outer))


def _first_words(drawing: Drawing, grid: Grid) -> Iterator[tuple[str, float, bool]]:
    yield f"{drawing.title}: start here", 5.0, True
    yield drawing.view, 3.5, True
    count = f"{grid.count} sheets" if grid.count > 1 else "1 sheet"
    size = f"{drawing.bounds.width:.0f} x {drawing.bounds.height:.0f} mm"
    yield f"{count} of {grid.sheet.name} at full size, {size}, besides this page.", 2.5, False
    for number, step in enumerate(drawing.steps, start=1):
        yield f"{number}.  {step.replace('{paper}', grid.sheet.name)}", 2.5, False
    if drawing.notes:
        yield "Before drilling", 2.5, True
    for note in drawing.notes:
        yield note, 2.2, False


# ------------------------------------------------------------------ on the drawing


def _is_cut_in_two(item: Item, window: Box, grid: Grid) -> bool:
    """True for words that a window cuts and another sheet shows whole."""
    if not isinstance(item, Text) or contains(window, box := box_of(item)):
        return False
    others = (grid.window(row, col) for row in range(grid.rows) for col in range(grid.columns))
    return any(contains(other, box) for other in others)


def _labels(
    whole: list[TileHole], holes: tuple[TileHole, ...], window: Box, items: list[Item]
) -> list[Item]:
    """Return the names of the holes that a window shows whole, clear of other words."""
    taken = [box_of(item) for item in items if isinstance(item, Text)]
    taken += [hole.box for hole in holes]
    lines = [item for item in items if isinstance(item, Path) and not item.fill]
    labels: list[Item] = []
    for hole in whole:
        if not hole.label:
            continue
        label = _label(hole, window, taken, lines)
        taken.append(box_of(label))
        labels.append(label)
    return labels


def _label(hole: TileHole, window: Box, taken: list[Box], lines: list[Path]) -> Text:
    (x, y), reach = hole.centre, hole.half_height_mm * 1.9 + 2.0
    side = hole.half_width_mm * 1.9 + 2.0
    words = _cut(hole.label, min(60.0, window.width - 4.0), _HOLE_LABEL)
    options = [
        Text((x + right * off, y + up * high), words, "NOTES", height_mm=_HOLE_LABEL,
             across=across, up="base" if up > 0.0 else "top", bold=True, backed=True, ref="label")
        for up, high in ((1.0, reach), (-1.0, reach), (1.0, reach * 0.5), (-1.0, reach * 0.5))
        for across, right, off in _asides(side, beside=high < reach)
    ]  # fmt: skip
    edge = window.inset(1.0)
    held = [label for label in options if contains(edge, box_of(label))]

    def trouble(label: Text) -> tuple[int, int]:
        box = box_of(label)
        return (
            sum(overlaps(box, other) for other in taken),
            sum(_crosses_box(line, box) for line in lines),
        )

    return min(held, key=trouble) if held else _pushed_in(options[0], edge)


def _asides(side: float, *, beside: bool) -> tuple[tuple[Across, float, float], ...]:
    """Return how a label stands to its hole: centred, or to one side and the other."""
    if beside:
        return (("left", 1.0, side), ("right", -1.0, side))
    return (("centre", 0.0, 0.0), ("left", -1.0, side), ("right", 1.0, side))


def _crosses_box(path: Path, box: Box) -> bool:
    """True when the first leg of a path runs through a box."""
    (x0, y0), (x1, y1) = path.points[:2]
    enter, leave = 0.0, 1.0
    for start, way, low, high in (
        (x0, x1 - x0, box.left, box.right),
        (y0, y1 - y0, box.bottom, box.top),
    ):
        if way == 0.0:
            if not low <= start <= high:
                return False
            continue
        ends = sorted(((low - start) / way, (high - start) / way))
        enter, leave = max(enter, ends[0]), min(leave, ends[1])
    return enter <= leave


def _pushed_in(label: Text, edge: Box) -> Text:
    """Return a label moved into a box that it fits into, for a hole in a corner of a sheet."""
    box = box_of(label)
    right = max(0.0, edge.left - box.left) - max(0.0, box.right - edge.right)
    up = max(0.0, edge.bottom - box.bottom) - max(0.0, box.top - edge.top)
    return replace(label, at=(label.at[0] + right, label.at[1] + up))


def _crosses(drawing: Drawing, window: Box, items: list[Item]) -> list[Item]:
    """Return the crosses of a window with their place on the boat beside them.

    None stands in a hole, where it could be taken for the centre.
    """
    taken = [box_of(item) for item in items if isinstance(item, Text) or item.ref == "join"]
    taken += [hole.box for hole in drawing.holes]
    keep_off = [hole.box.inset(-_ARM_MM) for hole in drawing.holes]
    edge = window.inset(_ARM_MM)
    found: list[Item] = []
    for y in _multiples(edge.bottom, edge.top):
        for x in _multiples(edge.left, edge.right):
            if any(contains(box, Box(x, y, x, y)) for box in keep_off):
                continue
            found += [
                _line((x - _ARM_MM, y), (x + _ARM_MM, y), _CROSS, "cross"),
                _line((x, y - _ARM_MM), (x, y + _ARM_MM), _CROSS, "cross"),
            ]
            label = _place_words((x, y), drawing, window, taken)
            taken.append(box_of(label))
            found.append(label)
    return found


def _multiples(low: float, high: float) -> Iterator[float]:
    step = int(-(-low // CROSS_MM))
    while step * CROSS_MM <= high:
        yield step * CROSS_MM
        step += 1


def _place_words(at: Point, drawing: Drawing, window: Box, taken: list[Box]) -> Text:
    """Return a cross's place on the boat, beside it where it covers no other words."""
    x, y = at
    across = (-x if drawing.inside else x) + 0.0
    words = f"({across:.0f}, {-y + 0.0:.0f})"
    options = [
        Text((x + 1.2 * right, y + 1.2 * up), words, "SHEET", height_mm=_TINY,
             across="left" if right > 0.0 else "right", up="base" if up > 0.0 else "top",
             ink=Ink.MUTED, backed=True, ref="cross")
        for up in (1.0, -1.0)
        for right in (1.0, -1.0)
    ]  # fmt: skip
    edge = window.inset(0.5)
    for label in options:
        box = box_of(label)
        if contains(edge, box) and not any(overlaps(box, other) for other in taken):
            return label
    return next((label for label in options if contains(edge, box_of(label))), options[0])


def _joining_marks(drawing: Drawing, grid: Grid, row: int, column: int) -> list[Item]:
    """Return slanted crosses in the middle of each overlap, alike on both sheets that share it."""
    window, half = grid.window(row, column), grid.overlap_mm / 2.0
    spots: list[Point] = []
    for beside, x in ((column - 1, window.left + half), (column + 1, window.right - half)):
        if grid.has(row, beside):
            places = [(x, window.bottom + way * window.height) for way in _JOIN_AT]
            spots += _two_clear(places, drawing.holes)
    for beside, y in ((row - 1, window.top - half), (row + 1, window.bottom + half)):
        if grid.has(beside, column):
            places = [(window.left + way * window.width, y) for way in _JOIN_AT]
            spots += _two_clear(places, drawing.holes)
    reach = _JOIN_MM
    return [
        _line((x - reach, y - turn * reach), (x + reach, y + turn * reach), _JOIN, "join")
        for x, y in spots
        for turn in (1.0, -1.0)
    ]


def _two_clear(places: list[Point], holes: tuple[TileHole, ...]) -> list[Point]:
    """Return the outermost place of each half that is clear of all holes, else the outermost."""
    reach = _JOIN_MM + 1.0

    def is_clear(place: Point) -> bool:
        (x, y) = place
        mark = Box(x - reach, y - reach, x + reach, y + reach)
        return not any(overlaps(mark, hole.box) for hole in holes)

    half = len(places) // 2
    return [
        next(filter(is_clear, side), side[0]) for side in (places[:half], places[: half - 1 : -1])
    ]


def _neighbours(grid: Grid, row: int, column: int, items: list[Item]) -> list[Item]:
    """Return the neighbours' names at the edges of a window, and what to do there."""
    window = grid.window(row, column)
    taken = [box_of(item) for item in items if isinstance(item, Text)]
    sides = (
        (row, column + 1, "cut here, lay over {}", (window.right - 1.2, None), 90.0),
        (row - 1, column, "cut here, lay over {}", (None, window.top - 1.2 - _SMALL), 0.0),
        (row, column - 1, "goes under {}", (window.left + 1.2 + _SMALL, None), 90.0),
        (row + 1, column, "goes under {}", (None, window.bottom + 1.2), 0.0),
    )
    notes: list[Item] = []
    for to_row, to_column, words, (x, y), turn in sides:
        if not grid.has(to_row, to_column):
            continue
        said = words.format(sheet_name(to_row, to_column))
        options = [
            Text(
                (x if x is not None else window.left + way * window.width,
                 y if y is not None else window.bottom + way * window.height),
                said, LAYER, height_mm=_SMALL, across="centre", angle_deg=turn, ink=Ink.ACCENT,
                backed=True, ref="neighbour",
            )
            for way in (0.5, 0.36, 0.64, 0.3, 0.7)
        ]  # fmt: skip
        free = [n for n in options if not any(overlaps(box_of(n), box) for box in taken)]
        note = (free or options)[0]
        taken.append(box_of(note))
        notes.append(note)
    return notes


def _refusal(window: Box) -> Text:
    middle = ((window.left + window.right) / 2.0, (window.bottom + window.top) / 2.0)
    return Text(middle, "DO NOT USE: WRONG SCALE", LAYER, height_mm=9.0, across="centre",
                up="middle", angle_deg=30.0, ink=Ink.STOPS, bold=True, ref="refused")  # fmt: skip


# ------------------------------------------------------------------ round the drawing


def _frame(grid: Grid, row: int, column: int) -> list[Item]:
    """Return the edges of the window; those to be cut are heavier."""
    box = grid.area
    corners = (
        ((box.right, box.bottom), (box.right, box.top), grid.has(row, column + 1)),
        ((box.left, box.top), (box.right, box.top), grid.has(row - 1, column)),
        ((box.left, box.bottom), (box.left, box.top), False),
        ((box.left, box.bottom), (box.right, box.bottom), False),
    )
    return [
        _line(a, b, _CUT if cut else _FRAME, "cut" if cut else "frame") for a, b, cut in corners
    ]


def _strip(drawing: Drawing, grid: Grid, words: SheetWords, name: str) -> list[Item]:
    """Return the strip below the window: sheet, view, boat and engine, status, level bar."""
    box = strip_area(grid.sheet)
    items: list[Item] = []
    if name:
        items.append(_text((box.left, box.top - 4.0 - _BIG), name, _BIG, bold=True))
        items.append(_text((box.left, box.top - 7.5 - _BIG - _WORDS), f"of {grid.count}", _WORDS))
    else:
        items.append(_text((box.left, box.top - 10.0), "Start here", 4.0, bold=True))
    x, width = box.left + _BAR_AT, box.width - _BAR_AT
    about = (words.boat or "Unnamed boat", f"engine {words.engine}",
             words.date or "date: ...............", drawing.title)  # fmt: skip
    rest = text_width_mm(printable(" · ".join(("", "", *about[2:]))), _SMALL)
    boat = _cut(about[0], (width - rest) / 2.0, _SMALL)
    engine = _cut(about[1], width - rest - text_width_mm(boat, _SMALL), _SMALL)
    said = " · ".join((boat, engine, *about[2:]))
    view = (_LOUD, True, Ink.ACCENT) if drawing.inside else (_WORDS, True, Ink.LINE)
    lines = (
        (drawing.view, *view, 5.6),
        (said, _SMALL, False, Ink.LINE, 9.4),
        (words.status, 2.5, True, words.status_ink, 13.4),
    )
    for line, height, bold, ink, down in lines:
        line = _cut(line, width, height, bold=bold)
        items.append(_text((x, box.top - down), line, height, bold=bold, ink=ink))
    return items + _level_bar(grid, (x, box.bottom + 3.0))


def _level_bar(grid: Grid, at: Point) -> list[Item]:
    """Return the bar that is read from left to right, with its name."""
    (x, y), length = at, BAR_MM * grid.stretch[0]
    way = "along" if is_landscape(grid.sheet) else "across"
    return [
        _line((x, y), (x + length, y), _BAR, "bar-level"),
        *(_line((end, y - 2.0), (end, y + 2.0), _BAR, "bar-end") for end in (x, x + length)),
        _text((x + length + 3.0, y - 0.9), f"100 mm {way} the sheet", _SMALL),
    ]


def _upright_bar(grid: Grid) -> list[Item]:
    """Return the bar beside the window, its name, and what the crosses mean."""
    x = strip_area(grid.sheet).left + 2.2
    low, length = grid.area.bottom + 1.0, BAR_MM * grid.stretch[1]
    way = "across" if is_landscape(grid.sheet) else "along"
    high = low + length
    items: list[Item] = [
        _line((x, low), (x, high), _BAR, "bar-upright"),
        *(_line((x - 2.0, end), (x + 2.0, end), _BAR, "bar-end") for end in (low, high)),
        _text((x + 4.2, low + length / 2.0), f"100 mm {way} the sheet", _SMALL, across="centre",
              turn=90.0),
    ]  # fmt: skip
    legend = (
        "Crosses: mm from the centreline (+ starboard), mm below the transom top. "
        "Slanted ones join sheets."
    )
    start = high + 5.0
    lines = wrapped(legend, grid.area.top - start, _TINY)
    if len(lines) * _TINY * 1.5 > BAR_STRIP_MM - 1.0:
        lines = []
    for index, line in enumerate(lines):
        items.append(_text((x + _TINY * (0.6 + 1.5 * index) - 0.8, start), line, _TINY,
                           ink=Ink.MUTED, turn=90.0))  # fmt: skip
    return items


def _map_box(grid: Grid) -> Box:
    box = strip_area(grid.sheet)
    return Box(box.left + _MAP_AT, box.bottom + 1.0, box.left + _MAP_AT + _MAP_WIDTH, box.top - 3.0)


def _cells(grid: Grid, box: Box) -> Iterator[tuple[int, int, Box]]:
    """Yield the places of the sheets in a map that fills a box, in true proportion."""
    width, height = grid.size_mm
    size = min(box.width / (grid.columns * width), box.height / (grid.rows * height))
    wide, high = size * width, size * height
    left = box.left
    top = (box.bottom + box.top + grid.rows * high) / 2.0
    for row in range(grid.rows):
        for column in range(grid.columns):
            x, y = left + column * wide, top - row * high
            yield row, column, Box(x, y - high, x + wide, y)


def _map(grid: Grid, box: Box, here: tuple[int, int]) -> list[Item]:
    """Return the small map: where this sheet lies among the others."""
    return [
        _rectangle(cell, _FRAME, Ink.LINE if (row, column) == here else None)
        for row, column, cell in _cells(grid, box)
    ]


def _big_map(drawing: Drawing, grid: Grid, box: Box) -> list[Item]:
    """Return the map of the first page: names of the sheets, and the holes on them."""
    if box.height < 15.0:
        return []
    spread = Box(box.left, box.bottom, box.right, box.bottom + min(box.height, 110.0))
    first, last = grid.window(0, 0), grid.window(grid.rows - 1, grid.columns - 1)
    whole = Box(first.left, last.bottom, last.right, first.top)
    size = min(spread.width / whole.width, spread.height / whole.height)

    def at(x: float, y: float) -> Point:
        return spread.left + (x - whole.left) * size, spread.bottom + (y - whole.bottom) * size

    items: list[Item] = []
    apart = grid.overlap_mm * size
    for row in range(grid.rows):
        for column in range(grid.columns):
            window = grid.window(row, column)
            low, high = at(window.left, window.bottom), at(window.right, window.top)
            items.append(_rectangle(Box(*low, *high), _FRAME, None))
            corner = (low[0] + apart + 2.0, low[1] + apart + 2.0)
            name = sheet_name(row, column)
            items.append(_text(corner, name, 3.5, bold=True, ink=Ink.MUTED))
    ends = (at(whole.left, 0.0), at(whole.right, 0.0))
    items.append(_line(*ends, _CUT, "map-datum"))
    items.append(_text((ends[0][0] + 2.0, ends[0][1] + 1.2), "transom top", _TINY))
    items += [
        Disc(at(*hole.centre), max(0.6, hole.half_width_mm * size), LAYER, pen=_BAR, ref="map-hole")
        for hole in drawing.holes
    ]
    return items


# ------------------------------------------------------------------ primitives


def _line(start: Point, end: Point, pen: Pen, ref: str = "") -> Path:
    return Path((start, end), LAYER, pen=pen, group="sheet", ref=ref)


def _rectangle(box: Box, pen: Pen, fill: Ink | None) -> Path:
    corners = (
        (box.left, box.bottom),
        (box.right, box.bottom),
        (box.right, box.top),
        (box.left, box.top),
    )
    return Path(corners, LAYER, pen=pen, closed=True, fill=fill, group="sheet", ref="map")


def _text(
    at: Point,
    words: str,
    height: float,
    *,
    across: Across = "left",
    bold: bool = False,
    ink: Ink = Ink.LINE,
    turn: float = 0.0,
) -> Text:
    return Text(at, words, LAYER, height_mm=height, across=across, bold=bold, ink=ink,
                angle_deg=turn, group="sheet")  # fmt: skip


def _cut(words: str, width: float, height: float, *, bold: bool = False) -> str:
    """Return words on one line that is no longer than a width, with "…" if some had to go."""
    words = printable(words)
    if text_width_mm(words, height, bold=bold) <= width:
        return words
    while words and text_width_mm(words + "…", height, bold=bold) > width:
        words = words[:-1]
    return words.rstrip() + "…"
