"""The sheet of the float test: what to put where, what each mark should read, room to write.

It is made to be printed, taken afloat and filled in; the weights aboard are the proof of what was
reckoned. It stands on any paper.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from rigfit.drawing.afloat_panels import number_disc, two_lines
from rigfit.drawing.afloat_sheet import NO_SCALE, drawn_flotation
from rigfit.drawing.afloat_view import (
    arrow,
    hull_items,
    mark_numbers,
    shown_marks,
    water_line,
)
from rigfit.drawing.dimensioning import leader
from rigfit.drawing.fonts import wrapped
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import EDGE, MEASURE, THIN, Ink, Item, Path, Placement, Scene, Text
from rigfit.drawing.sheet import Box, drawing_area, frame, paper
from rigfit.drawing.strokes import full_extents
from rigfit.errors import OutputError
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.checks_flotation import test_sentence
from rigfit.rigging.findings import Phrase
from rigfit.rigging.margins import FloatTest, float_test
from rigfit.rigging.report import EngineReport
from rigfit.units import Kind, Shown, brief, compact, show

TITLE = "Float test"
STOP_MM = 25.0
"""A mark this near to the water ends the test (own round figure)."""

_SCALES = (10.0, 20.0, 25.0, 40.0, 50.0, 60.0, 75.0, 100.0, 150.0)
_GAP_MM = 4.0
_TEXT = 2.5
_SMALL = 2.2
_LEADING = 1.75
_ROOMS = ((12.0, 2.0, 0.68), (11.0, 1.0, 0.68), (9.6, 0.2, 0.5), (9.5, 0.0, 0.4))
"""Height of a row, space before a heading, share of the width for the hull: first that fits."""

_TRIALS = ((1.4, _ROOMS[0]), (1.2, _ROOMS[0]), *((1.0, room) for room in _ROOMS))
"""How much larger all of it is drawn, with the room; the first that goes on the paper is taken."""

_FIRST_MM = 24.0
_TICK_MM = 3.0

_CAUTION = "A boat can fill and sink in this test: shallow sheltered water, jackets on, two people."

BEFORE = (
    "Sheltered, calm, shallow water beside a jetty; no wash, no way on, engine stopped.",
    "Life jackets on; two people at least, one of them ashore. Nobody does this alone.",
    "Bungs in, drains and outlets as they always are, bilge dry and seen to stay dry.",
    "Fuel, gear and battery as when the heights were read; nobody aboard while one is read.",
    "Weights that cannot roll or leak: sand bags or full water cans (1 L is 1 kg), each weighed.",
)
"""What has to be so before the first weight goes in."""

DURING = (
    "Lay the weights low at the place shown, one portion after the other, and secure them.",
    "After each portion let her come to rest, read every mark straight down to the water, write.",
    "End it and take weight out when a mark comes within {stop} of the water, or water comes in.",
)
"""How the test goes."""

OUTCOME = (
    "Readings within the tolerance: the reckoning holds for this boat.",
    "Readings further off: believe the water, not the reckoning. Look again at the depths of the "
    "hull, the heights read before, water in the bilge, and the weights; correct, and test again.",
)
"""What the readings say."""


@dataclass(slots=True)
class _Page:
    """A box on paper that is filled from above.

    :param box: paper mm.
    :param corner: of the sheet, model mm, with ``scale`` model mm per paper mm.
    :param y: how far down it is filled, paper mm.
    :param row: height of a row of the table, and ``space`` before a heading.
    """

    box: Box
    corner: tuple[float, float]
    scale: float
    y: float
    items: list[Item]
    row: float
    space: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.corner[0] + x * self.scale, self.corner[1] + y * self.scale

    def text(self, x: float, y: float, words: str, **style: object) -> None:
        self.items.append(Text(self.at(x, y), words, "NOTES", **style))  # type: ignore[arg-type]

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        self.items.append(Path((self.at(x0, y0), self.at(x1, y1)), "MEASURES", pen=THIN))

    def box_of(self, x: float, top: float, wide: float, high: float, ref: str = "") -> None:
        corners = ((x, top), (x + wide, top), (x + wide, top - high), (x, top - high))
        points = tuple(self.at(*point) for point in corners)
        self.items.append(Path(points, "MEASURES", pen=EDGE, closed=True, ref=ref))

    def heading(self, words: str) -> None:
        self.y -= 3.2 + self.space
        self.text(self.box.left, self.y, words, height_mm=3.2, bold=True)
        self.y -= 2.6

    def paragraph(self, words: str, height: float = _TEXT, *, ticked: bool = False) -> None:
        """Set words over the width of the box, behind a box to tick where wanted."""
        aside = _TICK_MM + 2.0 if ticked else 0.0
        for index, line in enumerate(wrapped(words, self.box.width - aside, height)):
            self.y -= height
            if ticked and index == 0:
                self.box_of(self.box.left, self.y + height + 0.3, _TICK_MM, _TICK_MM, "tick")
            self.text(self.box.left + aside, self.y, line, height_mm=height)
            self.y -= height * (_LEADING - 1.0)
        self.y -= 0.5


def float_test_sheet(
    report: EngineReport,
    style: Shown,
    words: SheetWords,
    paper_name: str,
    say: Callable[[Phrase], str],
) -> Scene:
    """Return the sheet of the float test, standing.

    :param say: how a phrase is put in words.
    :raises NotMeasuredError: when it cannot be said how she floats.
    :raises OutputError: for an unknown paper, or one too small.
    """
    flotation = drawn_flotation(report)
    test = float_test(flotation)
    sheet = paper(paper_name, landscape=False)
    block = title_block(report.case, style, words, TITLE, report.verdict, _CAUTION)
    block = replace(block, scale=NO_SCALE)
    box = Box(*drawing_area(sheet, block)).inset(_GAP_MM)
    marks = shown_marks(flotation)
    said = say(test_sentence(flotation, test))
    for zoom, room in _TRIALS:
        # Laid out on paper that much smaller, then drawn that much larger, letters and all.
        small = Box(*(edge / zoom for edge in (box.left, box.bottom, box.right, box.top)))
        page = _page(flotation, small, room)
        page.paragraph(said, 2.8 if room is _ROOMS[0] else _TEXT)
        _picture(page, flotation, test, marks, style)
        _table(page, flotation, test, marks, style)
        _lists(page, test, style)
        if page.y >= small.bottom:
            break
    else:
        raise OutputError(
            f"the float test does not go on {sheet.name}",
            cure="choose A4, Legal, Tabloid or A3",
            where="paper",
        )
    scale = page.scale / zoom
    return Scene(
        title=block.title,
        items=(
            *(_zoomed(item, zoom) for item in page.items),
            *frame(sheet, scale, page.corner, block),
        ),
        scale=scale,
        placement=Placement(sheet, page.corner),
    )


def _zoomed(item: Item, zoom: float) -> Item:
    return replace(item, height_mm=item.height_mm * zoom) if isinstance(item, Text) else item


def _page(flotation: Flotation, box: Box, room: tuple[float, float, float]) -> _Page:
    """Return an empty page whose model frame puts the hull in the middle of its width."""
    row, space, share = room
    long = flotation.form.length_mm
    scale = next((s for s in _SCALES if long / s <= share * box.width), _SCALES[-1])
    # The hull reaches from -long to 0; its keel line will stand at y = 0 of the model.
    middle = (box.left + box.right) / 2.0 + 4.0
    return _Page(box, (-long / 2.0 - middle * scale, 0.0), scale, box.top, [], row, space)


def _picture(
    page: _Page,
    flotation: Flotation,
    test: FloatTest,
    marks: Sequence[MarkHeight],
    style: Shown,
) -> None:
    """Draw the hull as she lies with all of the test mass aboard, and where that goes."""
    scale = page.scale
    plane = test.steps[-1].plane if test.steps else flotation.after.plane
    items = hull_items(flotation, plane, scale, with_pods=not test.steps)
    if flotation.before is not None:
        items.append(water_line(flotation, flotation.before.plane, scale, "water-now"))
    items.append(water_line(flotation, plane, scale, "water-test"))
    if test.test_kg > 0.0:
        tip = (-test.ahead_mm, flotation.form.sections[0][-1][1] + 9.0 * scale)
        items += arrow(tip, -9.0 * scale, scale, "test-mass")
        aside = (tip[0] - 5.0 * scale, tip[1] + 2.0 * scale)
        said = f"{show(test.test_kg, Kind.MASS, style)}, {compact(test.ahead_mm, style)} ahead"
        items += leader(tip, aside, said, scale=scale, end="dot", ref="test-mass")
    items += mark_numbers(marks, scale)
    low, high = full_extents(items, scale)[1::2]
    page.y -= 2.0
    # The page is moved up or down so that the picture stands where the page is filled to.
    page.corner = (page.corner[0], high - page.y * scale)
    page.items[:] = [_moved(item, page.corner[1]) for item in page.items]
    page.items += items
    page.y -= (high - low) / scale + 2.0
    page.text(
        page.box.left, page.y - _SMALL,
        "Blue: water with all of it aboard. Dashed: water now. Numbers: the marks below."
        if test.steps else "Blue: water after the change. Numbers: the marks below.",
        height_mm=_SMALL, ink=Ink.MUTED,
    )  # fmt: skip
    page.y -= _SMALL + 2.0


def _moved(item: Item, by: float) -> Item:
    if isinstance(item, Path):
        return replace(item, points=tuple((x, y + by) for x, y in item.points))
    if isinstance(item, Text):
        return replace(item, at=(item.at[0], item.at[1] + by))
    return replace(item, centre=(item.centre[0], item.centre[1] + by))


def _table(
    page: _Page,
    flotation: Flotation,
    test: FloatTest,
    marks: Sequence[MarkHeight],
    style: Shown,
) -> None:
    """Draw a row for each portion and a column for each mark: expected above, room to write."""
    if not marks:
        page.paragraph("No mark has a height yet; list in [[mark]] what must stay dry.")
        return
    unit = "inch" if style.lengths == "in" else "mm"
    page.heading(f"Heights above the water, {unit}: expected, and what you read")
    chosen = [flotation.marks.index(mark) for mark in marks]
    rows = _rows(test, chosen)
    left, wide = page.box.left, page.box.width
    pitch = (wide - _FIRST_MM) / len(marks)
    top = page.y
    names = [two_lines(mark.name, pitch - 3.0) for mark in marks]
    head = 8.0 + 3.2 * max(len(lines) for lines in names)
    page.text(left + 1.5, top - 4.5, "aboard", height_mm=_SMALL)
    for column, lines in enumerate(names):
        x = left + _FIRST_MM + column * pitch
        page.items += number_disc(
            page.at(x + 3.4, top - 3.6), column + 1, page.scale, f"name-{column + 1}"
        )
        for line, text in enumerate(lines):
            page.text(x + 1.5, top - 8.8 - line * 3.2, text, height_mm=2.0)
    page.box_of(left, top, wide, head)
    top -= head
    for name, heights in rows:
        stop = _stop(heights)
        ink = Ink.STOPS if stop else Ink.LINE
        words = name if isinstance(name, str) else brief(show(name, Kind.MASS, style))
        page.text(left + 1.5, top - 4.5, words, height_mm=_TEXT, bold=True, ink=ink)
        if stop:
            page.text(left + 1.5, top - 8.6, stop, height_mm=2.0, bold=True, ink=ink)
        for column, (at, spread) in enumerate(heights):
            x = left + _FIRST_MM + column * pitch
            said = f"{_short(at, style)} ± {_short(spread, style)}"
            page.text(x + 1.5, top - 3.3, said, height_mm=2.0, ink=Ink.MUTED)
            page.box_of(x + 1.5, top - 4.4, pitch - 3.0, page.row - 5.4, "to-fill")
        page.box_of(left, top, wide, page.row)
        top -= page.row
    for column in range(len(marks)):
        x = left + _FIRST_MM + column * pitch
        page.items.append(
            Path((page.at(x, page.y), page.at(x, top)), "MEASURES", pen=MEASURE)
        )  # fmt: skip
    page.y = top - 2.5


def _stop(heights: Sequence[tuple[float, float]]) -> str:
    """Return why the test ends at a step that leaves some heights, "" where it goes on."""
    if any(at - spread <= 0.0 for at, spread in heights):
        return "STOP: wet"
    return "STOP: near" if any(at <= STOP_MM for at, _ in heights) else ""


def _rows(
    test: FloatTest, chosen: Sequence[int]
) -> list[tuple[str | float, list[tuple[float, float]]]]:
    """Return (mass or words, expected heights) of each row of the table."""
    if test.steps:
        return [(step.kg, [step.heights[k] for k in chosen]) for step in test.steps]
    after = [(test.rows[k][2], test.rows[k][3]) for k in chosen]
    return [("after", after)]


def _short(value: float, style: Shown) -> str:
    return brief(compact(value, style))


def _lists(page: _Page, test: FloatTest, style: Shown) -> None:
    page.heading("Before")
    for words in BEFORE if test.steps else BEFORE[:4]:
        page.paragraph(words, _SMALL, ticked=True)
    if test.steps:
        page.heading("During")
        for words in DURING:
            said = words.format(stop=show(STOP_MM, Kind.LENGTH, style))
            page.paragraph(said, _SMALL, ticked=True)
    page.heading("What it says")
    for words in OUTCOME:
        page.paragraph(words, _SMALL)
    _signed(page)


def _signed(page: _Page) -> None:
    """Draw lines for who read it, when, and in what water."""
    page.y -= 6.0
    names = ("Date and hour", "Water, salt or fresh", "Read by", "Second person")
    wide = page.box.width / len(names)
    for index, name in enumerate(names):
        x = page.box.left + index * wide
        page.line(x, page.y, x + wide - 4.0, page.y)
        page.text(x, page.y - 3.0, name, height_mm=1.8, ink=Ink.MUTED)
    page.y -= 4.0
