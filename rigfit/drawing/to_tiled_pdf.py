"""Writer of tiled drawings to PDF: one sheet a page, true millimetres, never to be scaled."""

from __future__ import annotations

import io

from rigfit.drawing.palette import LIGHT, Palette
from rigfit.drawing.sheet import Box
from rigfit.drawing.tiles import Page, TiledDrawing
from rigfit.drawing.to_pdf import Plot, new_canvas, page_points, put


def to_tiled_pdf(drawing: TiledDrawing, palette: Palette = LIGHT) -> bytes:
    """Return a tiled drawing as a PDF; same drawing, same bytes.

    The page boxes are in whole points, because some print filters shrink others; what is on them
    is in true millimetres. Viewers are told not to scale, which not all of them obey: the bars on
    every sheet are the proof.
    """
    out = io.BytesIO()
    canvas = new_canvas(out, drawing.title)
    for page in drawing.pages:
        canvas.setPageSize(page_points(page.sheet.width_mm, page.sheet.height_mm))
        canvas.setLineJoin(1)
        if page.window is not None:
            _window(canvas, page, page.window, palette)
        plain = Plot(canvas, palette)
        for item in page.outer:
            put(item, plain)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _window(canvas: object, page: Page, window: Box, palette: Palette) -> None:
    """Write what is seen of the model, clipped to the window."""
    plot = Plot(
        canvas, palette, (window.left, window.bottom), origin=page.origin, stretch=page.stretch
    )
    low, high = plot.at((window.left, window.bottom)), plot.at((window.right, window.top))
    plot.canvas.saveState()
    course = plot.canvas.beginPath()
    course.rect(*low, high[0] - low[0], high[1] - low[1])
    plot.canvas.clipPath(course, stroke=0, fill=0)
    for item in page.inner:
        put(item, plot)
    plot.canvas.restoreState()
