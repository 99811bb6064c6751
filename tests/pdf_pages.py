"""Reading a PDF back with a library other than its writer: lines, circles, words, pixels."""

from __future__ import annotations

import ctypes
import math
from contextlib import contextmanager

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw

MM = 72.0 / 25.4


@contextmanager
def opened(data):
    """Open a PDF from bytes and close it again."""
    document = pdfium.PdfDocument(data)
    try:
        yield document
    finally:
        document.close()


def words_of(page):
    """Return all text of a page, in one string without line breaks."""
    text = page.get_textpage()
    words = " ".join(text.get_text_bounded().split())
    text.close()
    return words


def places_of(page, words):
    """Return the lower left corner, paper mm, of every place where words stand on a page."""
    text = page.get_textpage()
    search, found = text.search(words), []
    while (hit := search.get_next()) is not None:
        left, bottom, _, _ = text.get_charbox(hit[0])
        found.append((left / MM, bottom / MM))
    search.close()
    text.close()
    return found


def paths_of(page):
    """Return the points of every path on a page, paper mm, in order."""
    paths = []
    for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        points = []
        for index in range(raw.FPDFPath_CountSegments(thing.raw)):
            segment = raw.FPDFPath_GetPathSegment(thing.raw, index)
            x, y = ctypes.c_float(), ctypes.c_float()
            assert raw.FPDFPathSegment_GetPoint(segment, x, y)
            points.append(thing.get_matrix().on_point(x.value, y.value))
        paths.append([(x / MM, y / MM) for x, y in points])
    return paths


def lines_of(page):
    """Return the straight lines of a page as (start, end)."""
    return [tuple(points) for points in paths_of(page) if len(points) == 2]


def circles_of(page, radius_mm):
    """Return the centres of the circles of a radius; others and polygons are left out."""
    centres = []
    for points in paths_of(page):
        if len(points) < 25:
            continue
        ends = np.array(points[0:25:3])  # each curve is two control points and an end
        centre = ends[:8].mean(axis=0)
        if np.abs(np.hypot(*(ends - centre).T) - radius_mm).max() < 0.005:
            centres.append(tuple(centre))
    return centres


def crosses_of(page, slack_mm, arm_mm=4.0):
    """Return the middles of the upright crosses with arms of a length."""
    level, upright = [], []
    for (x0, y0), (x1, y1) in lines_of(page):
        if abs(math.dist((x0, y0), (x1, y1)) - 2.0 * arm_mm) < 2.0 * slack_mm:
            middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
            if abs(y0 - y1) < 1e-3:
                level.append(middle)
            elif abs(x0 - x1) < 1e-3:
                upright.append(middle)
    return [one for one in level if any(math.dist(one, other) < 0.005 for other in upright)]


def ink(page, box_mm, dpi):
    """Return which pixels of a part of a page are dark, row 0 on top.

    :param box_mm: (left, bottom, right, top), paper mm.
    """
    width, height = page.get_size()
    left, bottom, right, top = (value * MM for value in box_mm)
    crop = (left, bottom, width - right, height - top)
    picture = page.render(scale=dpi / 72.0, grayscale=True, crop=crop).to_numpy()
    return picture.reshape(picture.shape[:2]) < 128
