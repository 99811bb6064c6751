"""Writer to PDF with reportlab: true millimetres, to be printed at 100 %."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rigfit.drawing.fonts import base_point, em_mm, font_path, printable, text_width_mm
from rigfit.drawing.palette import Palette
from rigfit.drawing.scene import Disc, Ink, Item, Pen, Point, Scene, Text
from rigfit.drawing.strokes import DASHES, circle, on_sheet, pieces, placed

POINTS_PER_MM = 72.0 / 25.4
_BACKING_MM = 0.4


def page_points(width_mm: float, height_mm: float) -> tuple[int, int]:
    """Return a page's size in whole points.

    Some print filters shrink a page that is a fraction of a point off the paper's nominal size
    (A4 is 595 x 842); the drawing on it stays in true millimetres.
    """
    return round(width_mm * POINTS_PER_MM), round(height_mm * POINTS_PER_MM)


def to_pdf(scene: Scene, palette: Palette) -> bytes:
    """Return the sheet as a one-page PDF; same scene, same bytes.

    Characters the fonts lack come out as "?". A scene without a sheet gets one 10 mm larger all
    round; nothing is shrunk to fit.
    """
    return pages_to_pdf([scene], palette, title=scene.title)


def pages_to_pdf(scenes: Sequence[Scene], palette: Palette, *, title: str) -> bytes:
    """Return sheets as the pages of one PDF, each at its own scale and paper size.

    :raises ValueError: if there is no sheet at all.
    """
    if not scenes:
        raise ValueError("a PDF needs at least one page")
    out = io.BytesIO()
    canvas = new_canvas(out, title)
    for scene in scenes:
        _page(canvas, on_sheet(scene), palette)
    canvas.save()
    return out.getvalue()


def new_canvas(out: io.BytesIO, title: str) -> Any:
    """Return an empty PDF: nothing in it that changes from run to run, and never scaled."""
    from reportlab.pdfgen.canvas import Canvas

    regular = _font(bold=False)
    # Invariant: no date or random number. Version 1.6 is the first that knows PrintScaling.
    # The first font is named lest the library lists one of its own that is not embedded.
    canvas: Any = Canvas(
        out, invariant=1, pdfVersion=(1, 6), initialFontName=regular, pageCompression=1, lang="en"
    )
    canvas.setTitle(printable(title))
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setCreator("rigfit")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


@lru_cache(maxsize=2)
def _font(*, bold: bool) -> str:
    """Make a font known to the library under a name of ours, once; return the name."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = "rigfit-bold" if bold else "rigfit-regular"
    pdfmetrics.registerFont(TTFont(name, str(font_path(bold))))
    return name


@dataclass(frozen=True, slots=True)
class Plot:
    """Model millimetres to points of the page, rounded only when written.

    :param canvas: the PDF being written.
    :param corner: the model point at ``origin``, mm.
    :param scale: model mm per paper mm.
    :param origin: where on the page that point lies, paper mm.
    :param stretch: factors to the right and up, (1, 1) for a true drawing.
    """

    canvas: Any
    palette: Palette
    corner: Point = (0.0, 0.0)
    scale: float = 1.0
    origin: Point = (0.0, 0.0)
    stretch: Point = (1.0, 1.0)

    def at(self, point: Point) -> Point:
        """Return a model point in points of the page."""
        ratio = POINTS_PER_MM / self.scale
        return (
            (point[0] - self.corner[0]) * ratio * self.stretch[0] + self.origin[0] * POINTS_PER_MM,
            (point[1] - self.corner[1]) * ratio * self.stretch[1] + self.origin[1] * POINTS_PER_MM,
        )


def _page(canvas: Any, scene: Scene, palette: Palette) -> None:
    paper = placed(scene).paper
    size = page_points(paper.width_mm, paper.height_mm)
    canvas.setPageSize(size)
    canvas.setLineJoin(1)
    if palette[Ink.PAPER] != "#ffffff":
        canvas.setFillColor(_colour(palette, Ink.PAPER))
        canvas.rect(0, 0, *size, stroke=0, fill=1)
    sheet = Plot(canvas, palette, placed(scene).corner, scene.scale)
    for item in scene.items:
        put(item, sheet)
    canvas.showPage()


def put(item: Item, sheet: Plot) -> None:
    """Write one item."""
    if isinstance(item, Text):
        _write(item, sheet)
        return
    path = circle(item.centre, item.radius_mm) if isinstance(item, Disc) else item
    course = sheet.canvas.beginPath()
    course.moveTo(*sheet.at(path.points[0]))
    for way in pieces(path):
        if isinstance(way[0], tuple):
            course.curveTo(*(value for point in way for value in sheet.at(point)))
        else:
            course.lineTo(*sheet.at(way))
    if path.closed:
        course.close()
    if item.pen is not None:
        _take(item.pen, sheet)
    if item.fill is not None:
        sheet.canvas.setFillColor(_colour(sheet.palette, item.fill))
    sheet.canvas.drawPath(course, stroke=item.pen is not None, fill=item.fill is not None)


def _take(pen: Pen, sheet: Plot) -> None:
    canvas = sheet.canvas
    width = pen.width_mm * POINTS_PER_MM
    dashes = [part * width for part in DASHES[pen.dash]]
    canvas.setLineWidth(width)
    canvas.setLineCap(0 if dashes else 1)
    canvas.setDash(dashes)
    canvas.setStrokeColor(_colour(sheet.palette, pen.ink))


def _write(text: Text, sheet: Plot) -> None:
    canvas = sheet.canvas
    words = printable(text.words)
    width = text_width_mm(words, text.height_mm, bold=text.bold) * POINTS_PER_MM
    left = -{"left": 0.0, "centre": 0.5, "right": 1.0}[text.across] * width
    canvas.saveState()
    canvas.translate(*sheet.at(base_point(text, sheet.scale)))
    if math.fmod(text.angle_deg, 360.0):
        canvas.rotate(text.angle_deg)
    if text.backed:
        edge = _BACKING_MM * POINTS_PER_MM
        high = text.height_mm * POINTS_PER_MM + 2.0 * edge
        canvas.setFillColor(_colour(sheet.palette, Ink.PAPER))
        canvas.rect(left - edge, -edge, width + 2.0 * edge, high, stroke=0, fill=1)
    canvas.setFillColor(_colour(sheet.palette, text.ink))
    size = em_mm(text.height_mm, bold=text.bold) * POINTS_PER_MM
    canvas.setFont(_font(bold=text.bold), size)
    canvas.drawString(left, 0.0, words)
    canvas.restoreState()


def _colour(palette: Palette, ink: Ink) -> Any:
    from reportlab.lib.colors import HexColor

    return HexColor(palette[ink])
