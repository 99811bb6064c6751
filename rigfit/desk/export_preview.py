"""How an export will look before it is written: a sheet, sheets of paper side by side, pieces.

No Tk. Every picture is drawn from the very scenes that are written.
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from rigfit import tasks
from rigfit.desk.plane_pictures import without_place
from rigfit.drawing.scene import Item, Pen, Scene, Text
from rigfit.errors import NotMeasuredError
from rigfit.rigging.report import EngineReport

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from rigfit.drawing.palette import Palette
    from rigfit.drawing.tiles import Grid, Page, TiledDrawing

Room = tuple[int, int]
"""Width and height a picture may have, screen pixels."""

MOST_PAGES = 24
"""Of more sheets than this only the page that shows how they lie is drawn."""

_MM_PER_INCH = 25.4
_LEAST_PX = 16
_GAP_MM = 12.0
_THINNEST_PX, _LEAST_LETTERS_PX = 0.7, 2.6
_NAME_SHARE, _NAME_ALPHA = 0.4, 0.12
_NAME_MM, _BETWEEN_MM, _ROW_SHARE = 8.0, 30.0, 1.4  # of pieces beside each other
_EDGE_MM = 2.0


@dataclass(frozen=True, slots=True)
class Preview:
    """How an output will look: a picture, or a text to read.

    :param png: the picture, "" bytes for a text.
    :param text: the text, "" for a picture.
    :param note: said below a picture, "" for nothing.
    """

    png: bytes = b""
    text: str = ""
    note: str = ""


def sheet_png(scene: Scene, palette: Palette, room: Room) -> bytes:
    """Return a drawing as a picture as large as fits into a room."""
    from rigfit.drawing.strokes import on_sheet, placed
    from rigfit.drawing.to_axes import to_png

    scene = on_sheet(scene)
    paper = placed(scene).paper
    return to_png(scene, palette, _dots_per_inch(paper.width_mm, paper.height_mm, room))


def _dots_per_inch(width_mm: float, height_mm: float, room: Room) -> float:
    wide, high = (max(size, _LEAST_PX) for size in room)
    return min(wide / width_mm, high / height_mm) * _MM_PER_INCH


# -- sheets of paper -------------------------------------------------------------------------------


def grid_words(report: EngineReport, paper: str, *, factors: tuple[float, float]) -> str:
    """Return how many sheets a template takes, of which paper and how they are turned.

    :raises NotMeasuredError: when what it needs is not measured or decided.
    :raises OutputError: when it does not go on that paper.
    """
    from rigfit.drawing.tiles import choose_grid

    return _said(choose_grid(tasks.paper_template(report), paper, factors))


def _said(grid: Grid) -> str:
    from rigfit.drawing.tiles import is_landscape

    count = "1 sheet" if grid.count == 1 else f"{grid.count} sheets"
    turned = "landscape" if is_landscape(grid.sheet) else "upright"
    return f"{count} of {grid.sheet.name}, {turned}, and a page to start with"


def tiled_template(
    report: EngineReport,
    paper: str,
    *,
    inside: bool = False,
    corrected: bool = False,
    date: str = "",
) -> TiledDrawing:
    """Return the sheets of a template, with the words that will stand on them.

    :raises NotMeasuredError: when what it needs is not measured or decided.
    :raises OutputError: as ``tasks.write_paper_template``.
    """
    from rigfit.drawing.tile_pages import tiled_sheets

    drawing = tasks.paper_template(report, inside=inside)
    return tiled_sheets(report, drawing, paper, corrected=corrected, date=date)


def sheets_preview(sheets: TiledDrawing, palette: Palette, room: Room) -> Preview:
    """Return the sheets as they lie, beside the page to start with."""
    return Preview(png=_pages_png(sheets, palette, room), note=_said(sheets.grid))


def _pages_png(sheets: TiledDrawing, palette: Palette, room: Room) -> bytes:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    placed, (width, height) = _laid(sheets)
    dots = _dots_per_inch(width, height, room)
    # Seen through, so that the ground of the form is between the sheets.
    figure = Figure(figsize=(width / _MM_PER_INCH, height / _MM_PER_INCH), facecolor="none")
    desk = _Desk(figure, width, height, palette, _THINNEST_PX * _MM_PER_INCH / dots)
    for page, left, bottom in placed:
        desk.lay(page, left, bottom)
    out = io.BytesIO()
    FigureCanvasAgg(figure).print_figure(out, format="png", dpi=dots, facecolor="none")
    return out.getvalue()


def _laid(
    sheets: TiledDrawing,
) -> tuple[list[tuple[Page, float, float]], tuple[float, float]]:
    """Return each page with its lower left corner, and the size of all of it, mm."""
    first, *rest = sheets.pages
    grid = sheets.grid
    start = first.sheet
    if grid.count > MOST_PAGES:
        size = start.width_mm + 2.0 * _EDGE_MM, start.height_mm + 2.0 * _EDGE_MM
        return [(first, _EDGE_MM, _EDGE_MM)], size
    wide, high = grid.sheet.width_mm + _GAP_MM, grid.sheet.height_mm + _GAP_MM
    height = max(start.height_mm, grid.rows * high - _GAP_MM)
    left, edge = start.width_mm + 2.0 * _GAP_MM + _EDGE_MM, _EDGE_MM
    placed = [(first, edge, edge + height - start.height_mm)]
    for number, page in enumerate(rest):
        row, column = divmod(number, grid.columns)
        placed.append((page, left + column * wide, edge + height - (row + 1) * high + _GAP_MM))
    return placed, (left + grid.columns * wide - _GAP_MM + edge, height + 2.0 * edge)


@dataclass(frozen=True, slots=True)
class _Desk:
    """A figure on which pages are laid; all in paper mm.

    :param thinnest_mm: of a line, so that it is still seen in a small picture.
    """

    figure: Figure
    width: float
    height: float
    palette: Palette
    thinnest_mm: float

    def lay(self, page: Page, left: float, bottom: float) -> None:
        """Draw one page with its lower left corner there."""
        from rigfit.drawing.scene import Ink

        sheet = page.sheet
        paper = self._part(left, bottom, sheet.width_mm, sheet.height_mm)
        paper.set_facecolor(self.palette[Ink.PAPER])
        paper.set_xlim(0.0, sheet.width_mm)
        paper.set_ylim(0.0, sheet.height_mm)
        for edge in paper.spines.values():
            edge.set_color(self.palette[Ink.MUTED])
            edge.set_linewidth(self.thinnest_mm * 72.0 / _MM_PER_INCH)
        if page.window is not None:
            self._window(page, left, bottom)
        self._draw(page.outer, paper)
        if page.name:
            paper.text(
                0.5, 0.55, page.name, transform=paper.transAxes, alpha=_NAME_ALPHA,
                ha="center", va="center", color=self.palette[Ink.ACCENT],
                fontproperties=self._letters(sheet.height_mm * _NAME_SHARE),
            )  # fmt: skip

    def _window(self, page: Page, left: float, bottom: float) -> None:
        window = page.window
        if window is None:
            return
        x, y = page.origin
        wide, high = window.width * page.stretch[0], window.height * page.stretch[1]
        axes = self._part(left + x, bottom + y, wide, high)
        axes.set_axis_off()
        axes.set_xlim(window.left, window.right)
        axes.set_ylim(window.bottom, window.top)
        self._draw(page.inner, axes)

    def _draw(self, items: Sequence[Item], axes: Any) -> None:
        from rigfit.drawing.to_axes import draw_scene

        least = _LEAST_LETTERS_PX * self.thinnest_mm / _THINNEST_PX
        seen = tuple(_seen(item, self.thinnest_mm, least) for item in items)
        draw_scene(Scene("", seen), axes, self.palette)

    def _part(self, left: float, bottom: float, wide: float, high: float) -> Any:
        box = (left / self.width, bottom / self.height, wide / self.width, high / self.height)
        axes: Any = self.figure.add_axes(box)
        axes.set_xticks(())
        axes.set_yticks(())
        axes.patch.set_alpha(None if axes.axison else 0.0)
        return axes

    @staticmethod
    def _letters(height_mm: float) -> Any:
        from matplotlib.font_manager import FontProperties

        from rigfit.drawing.fonts import font_path

        size = height_mm * 72.0 / _MM_PER_INCH
        return FontProperties(fname=font_path(bold=True), size=size)


def _seen(item: Item, thinnest_mm: float, least_mm: float) -> Item:
    """Return an item as it is seen in a small picture: thin lines heavier, tiny words as bars.

    Nobody could read these words, and they would take most of the time.
    """
    if isinstance(item, Text):
        return item if item.height_mm >= least_mm else _bar(item)
    if item.pen is None or item.pen.width_mm >= thinnest_mm:
        return item
    return replace(item, pen=Pen(thinnest_mm, item.pen.dash, item.pen.ink))


def _bar(text: Text) -> Item:
    from rigfit.drawing.fonts import text_box
    from rigfit.drawing.scene import Ink, Path

    first, second, third, last = text_box(text, 1.0)
    start = (first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0
    end = (second[0] + third[0]) / 2.0, (second[1] + third[1]) / 2.0
    ink = Ink.COWL if text.ink in (Ink.LINE, Ink.MUTED) else text.ink
    return Path((start, end), text.layer, pen=Pen(text.height_mm * 0.6, ink=ink))


# -- plates and dash -------------------------------------------------------------------------------


def pieces_preview(report: EngineReport, palette: Palette, room: Room) -> Preview:
    """Return plates and dash side by side, and why what is not there cannot be made.

    :raises NotMeasuredError: when none of them can be made.
    """
    scenes: list[Scene] = []
    reasons: list[NotMeasuredError] = []
    for make in _PIECES:
        try:
            scenes += make(report)
        except NotMeasuredError as reason:
            reasons.append(reason)
    if not scenes:
        raise reasons[0]
    note = " ".join(without_place(reason) for reason in reasons)
    return Preview(png=sheet_png(_side_by_side(scenes), palette, room), note=note)


def _plates(report: EngineReport) -> list[Scene]:
    from rigfit.drawing.plates import backing_plates, plate_scene
    from rigfit.rigging.template import drilling_template

    case = report.case
    plates = backing_plates(drilling_template(case).features, case.job.bolting)
    return [plate_scene(plate) for plate in plates]


def _setback_plates(report: EngineReport) -> list[Scene]:
    from rigfit.drawing.plates import plate_scene, setback_plates

    if report.case.bracket is None:  # nobody waits for plates of a bracket that is not there
        return []
    return [plate_scene(plate) for plate in setback_plates(report.case)]


def _dash(report: EngineReport) -> list[Scene]:
    return [tasks.sheet_scene(report, "dash")]


_PIECES: tuple[Callable[[EngineReport], list[Scene]], ...] = (_plates, _setback_plates, _dash)


def _side_by_side(scenes: Sequence[Scene]) -> Scene:
    """Return scenes at true scale in one, each under its name, in rows about as wide as high."""
    from rigfit.drawing.fonts import text_width_mm
    from rigfit.drawing.strokes import full_extents

    boxes = [full_extents(scene.items, scene.scale) for scene in scenes]
    names = [text_width_mm(scene.title, _NAME_MM, bold=True) for scene in scenes]
    wides = [max(box[2] - box[0], name) for box, name in zip(boxes, names, strict=True)]
    highs = [box[3] - box[1] + 2.0 * _NAME_MM for box in boxes]
    area = sum(wide * high for wide, high in zip(wides, highs, strict=True))
    most = max(*wides, _ROW_SHARE * math.sqrt(area))
    items: list[Item] = []
    x, y, row = 0.0, 0.0, 0.0
    for scene, box, wide, high in zip(scenes, boxes, wides, highs, strict=True):
        if x and x + wide > most:
            x, y, row = 0.0, y - row - _BETWEEN_MM, 0.0
        items.append(Text((x, y), scene.title, "NOTES", height_mm=_NAME_MM, up="top", bold=True))
        down = y - 2.0 * _NAME_MM - box[3]
        items += (_moved(item, x - box[0], down) for item in scene.items)
        x, row = x + wide + _BETWEEN_MM, max(row, high)
    return Scene("Plates and dash", tuple(items), 1.0)


def _moved(item: Item, right: float, up: float) -> Item:
    from rigfit.drawing.scene import Disc, Path

    if isinstance(item, Path):
        return replace(item, points=tuple((x + right, y + up) for x, y in item.points))
    if isinstance(item, Disc):
        return replace(item, centre=(item.centre[0] + right, item.centre[1] + up))
    return replace(item, at=(item.at[0] + right, item.at[1] + up))
