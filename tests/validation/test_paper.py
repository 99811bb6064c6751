"""Paper against its standards, and a printed template against what was asked for.

Sources: ISO 216 for A4 and A3 (from memory, firm; its own rule, each size half the one before with
sides as 1 to the root of 2, is checked too); Letter 8 1/2 x 11 in, Legal 8 1/2 x 14 in, Tabloid
11 x 17 in (from memory, firm); 1 in = 25.4 mm and 1 PDF unit = 1/72 in by definition. The PDF is
read back with a library other than its writer, as lines and as pixels. Places on the boat are
worked out from the labelled crosses on each sheet alone, as a checker with a rule would, and
compared with the numbers in the demo job: nothing of the layout's own sums goes into the check.
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from rigfit.drawing.sheet import PAPERS_MM
from rigfit.drawing.template_view import paper_drawing
from rigfit.drawing.tile_pages import tiled
from rigfit.drawing.tiles import SheetWords
from rigfit.drawing.to_tiled_pdf import to_tiled_pdf
from rigfit.rigging.template import drilling_template
from rigfit.units import Shown
from tests.demo_reports import report_on
from tests.pdf_pages import circles_of, crosses_of, ink, lines_of, opened, places_of, words_of

VECTOR_MM = 0.005
RASTER_MM = 0.05
RASTER_DPI = 1200

# The demo job, engine B: 327 and 251 mm apart, 48 mm below the top, 203 mm between the rows.
HOLES = {(-163.5, 48.0), (163.5, 48.0), (-125.5, 251.0), (125.5, 251.0)}
RADIUS = 6.75

INCHES = {"Letter": (8.5, 11.0), "Legal": (8.5, 14.0), "Tabloid": (11.0, 17.0)}
METRIC = {"A4": (210.0, 297.0), "A3": (297.0, 420.0)}
POINTS = {
    "A4": (595, 842),
    "A3": (842, 1191),
    "Letter": (612, 792),
    "Legal": (612, 1008),
    "Tabloid": (792, 1224),
}


def pdf_of(paper, inside=False, factors=(1.0, 1.0)):
    template = drilling_template(report_on("B-mm").case)
    words = SheetWords("Dunlin", "B")
    drawing = paper_drawing(template, Shown(), inside=inside)
    return to_tiled_pdf(tiled(drawing, paper, words, factors))


@pytest.fixture(scope="module")
def pdfs():
    return {(paper, inside): pdf_of(paper, inside)
            for paper in PAPERS_MM for inside in (False, True)}  # fmt: skip


# ---------------------------------------------------------------- the paper


def test_iso_216():
    assert {name: PAPERS_MM[name] for name in METRIC} == METRIC
    for width, height in METRIC.values():
        assert height / width == pytest.approx(math.sqrt(2.0), abs=1.0 / width)
    assert METRIC["A3"] == (METRIC["A4"][1], 2.0 * METRIC["A4"][0])
    # A0 has one square metre; A4 is a sixteenth of it, each side cut to whole millimetres.
    assert METRIC["A4"][0] * METRIC["A4"][1] == pytest.approx(1e6 / 16.0, rel=0.003)


@pytest.mark.parametrize("name", INCHES)
def test_sizes_of_north_america(name):
    assert PAPERS_MM[name] == pytest.approx(tuple(25.4 * side for side in INCHES[name]))


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("paper", PAPERS_MM)
def test_page_boxes_are_whole_points_of_the_right_paper(paper, inside, pdfs):
    with opened(pdfs[paper, inside]) as document:
        sizes = {tuple(sorted(page.get_size())) for page in document}
    assert sizes == {POINTS[paper]}
    for points, side in zip(POINTS[paper], PAPERS_MM[paper], strict=True):
        assert abs(points - side * 72.0 / 25.4) <= 0.5


# ---------------------------------------------------------------- lines


def labelled(page, slack_mm=VECTOR_MM):
    """Return the crosses of a page as {(across, below): place on paper}."""
    found = {}
    crosses = crosses_of(page, slack_mm)
    for across, below in re.findall(r"\((-?\d+), (-?\d+)\)", words_of(page)):
        for place in places_of(page, f"({across}, {below})"):
            nearest = min(crosses, key=lambda cross: _apart(cross, place))
            found[float(across), float(below)] = nearest
    return found


def _apart(cross, place):
    # A label stands right or left of its cross; its lower left corner may be 16 mm away.
    return math.hypot(min(abs(cross[0] - place[0]), abs(cross[0] - place[0] - 12.0)),
                      cross[1] - place[1])  # fmt: skip


def on_boat(point, crosses, inside):
    """Return where a point of a page lies on the boat, from the cross nearest to it."""
    place = min(crosses, key=lambda key: math.dist(crosses[key], point))
    dx, dy = (point[0] - crosses[place][0], point[1] - crosses[place][1])
    return place[0] + (-dx if inside else dx), place[1] - dy


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("paper", PAPERS_MM)
def test_holes_lie_where_the_job_says_within_five_micrometres(paper, inside, pdfs):
    met = set()
    with opened(pdfs[paper, inside]) as document:
        for number in range(1, len(document)):
            page = document[number]
            crosses = labelled(page)
            for centre in circles_of(page, RADIUS):
                found = on_boat(centre, crosses, inside)
                wanted = min(HOLES, key=lambda hole: math.dist(hole, found))
                assert found == pytest.approx(wanted, abs=VECTOR_MM)
                met.add(wanted)
    assert met == HOLES


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("paper", PAPERS_MM)
def test_crosses_of_a_sheet_are_whole_hundreds_apart(paper, inside, pdfs):
    with opened(pdfs[paper, inside]) as document:
        for number in range(1, len(document)):
            crosses = labelled(document[number])
            assert crosses
            for (across, below), place in crosses.items():
                for (other_across, other_below), other in crosses.items():
                    apart = math.dist((across, below), (other_across, other_below))
                    assert math.dist(place, other) == pytest.approx(apart, abs=VECTOR_MM)


def bars_of(page):
    """Return the lengths of the level and the upright lines of some 100 mm that end in ticks."""
    lines = lines_of(page)
    ticks = [line for line in lines if abs(math.dist(*line) - 4.0) < 0.01]
    ends = [((x0 + x1) / 2.0, (y0 + y1) / 2.0) for (x0, y0), (x1, y1) in ticks]
    level, upright = [], []
    for start, end in lines:
        length = math.dist(start, end)
        ended = all(any(math.dist(point, tick) < 0.01 for tick in ends) for point in (start, end))
        if 90.0 < length < 110.0 and ended:
            (level if abs(start[1] - end[1]) < 1e-3 else upright).append(length)
    return level, upright


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_both_bars_are_on_every_page_and_100_mm_long(paper, pdfs):
    with opened(pdfs[paper, False]) as document:
        for page in document:
            level, upright = bars_of(page)
            assert level == [pytest.approx(100.0, abs=VECTOR_MM)]
            assert upright == [pytest.approx(100.0, abs=VECTOR_MM)]


def test_a_corrected_edition_comes_out_true_on_the_printer_it_is_for():
    """A printer that makes 97 and 98.5 mm of 100 mm across and along the sheet."""
    printer = (0.97, 0.985)
    with opened(pdf_of("A4", factors=(1.0 / printer[0], 1.0 / printer[1]))) as document:
        for number in range(1, len(document)):
            page = document[number]
            width, height = page.get_size()
            level, upright = printer[::-1] if width > height else printer
            bars = bars_of(page)
            assert bars[0][0] * level == pytest.approx(100.0, abs=VECTOR_MM)
            assert bars[1][0] * upright == pytest.approx(100.0, abs=VECTOR_MM)
            places = labelled(page, slack_mm=0.4)  # their arms are stretched too
            assert len(places) >= 3
            for key, place in places.items():
                for other, at in places.items():
                    printed = ((place[0] - at[0]) * level, (place[1] - at[1]) * upright)
                    wanted = (key[0] - other[0], other[1] - key[1])
                    assert printed == pytest.approx(wanted, abs=VECTOR_MM)


# ---------------------------------------------------------------- pixels


def middle_of_dark(row):
    """Return the middle, in pixels, of the dark pixels of a row that holds one line."""
    dark = np.flatnonzero(row)
    assert dark.size
    assert dark[-1] - dark[0] < 40
    return (dark[0] + dark[-1] + 1) / 2.0


PIXEL_MM = 25.4 / RASTER_DPI


def snapped(box_mm):
    """Return a box whose edges lie on whole pixels, so that a crop is not moved by rounding."""
    return tuple(round(value / PIXEL_MM) * PIXEL_MM for value in box_mm)


def level_at(page, x, y, half=1.0):
    """Return the height on paper of a level line that passes x within half a mm of y."""
    box = snapped((x - 0.1, y - half, x + 0.1, y + half))
    picture = ink(page, box, RASTER_DPI)
    return box[3] - middle_of_dark(picture.any(axis=1)) * PIXEL_MM


def upright_at(page, x, y, half=1.0):
    """Return the place across of an upright line that passes y within half a mm of x."""
    box = snapped((x - half, y - 0.1, x + half, y + 0.1))
    picture = ink(page, box, RASTER_DPI)
    return box[0] + middle_of_dark(picture.any(axis=0)) * PIXEL_MM


def circle_in_pixels(page, near, radius):
    """Return centre and radius of a drawn circle by least squares, from pixels alone.

    Directions in which another line runs through the ring are left out by its thickness there.
    """
    reach = radius + 1.0
    box = snapped((near[0] - reach, near[1] - reach, near[0] + reach, near[1] + reach))
    rows, columns = np.nonzero(ink(page, box, RASTER_DPI))
    x = box[0] + (columns + 0.5) * PIXEL_MM
    y = box[3] - (rows + 0.5) * PIXEL_MM
    away = np.hypot(x - near[0], y - near[1])
    sector = (np.degrees(np.arctan2(y - near[1], x - near[0])) // 2.0).astype(int)
    points = []
    for number in np.unique(sector):
        ring = away[(sector == number) & (away > radius - 1.0)]
        if ring.size and ring.max() - ring.min() < 0.65:
            angle = np.radians(2.0 * number + 1.0)
            middle = (ring.max() + ring.min()) / 2.0
            points.append((near[0] + middle * np.cos(angle), near[1] + middle * np.sin(angle)))
    assert len(points) > 100
    px, py = np.array(points).T
    a = np.column_stack((px, py, np.ones_like(px)))
    (b, c, d), *_ = np.linalg.lstsq(a, px**2 + py**2, rcond=None)
    return (b / 2.0, c / 2.0), math.sqrt(d + b * b / 4.0 + c * c / 4.0)


@pytest.mark.parametrize(("paper", "inside"), [("A4", False), ("A4", True), ("Letter", False)])
def test_pixels_agree_on_holes_and_crosses(paper, inside, pdfs):
    met = set()
    with opened(pdfs[paper, inside]) as document:
        for number in range(1, len(document)):
            page = document[number]
            places = labelled(page)
            for near in circles_of(page, RADIUS):
                place = min(places, key=lambda key: math.dist(places[key], near))
                x, y = places[place]
                # The arms of the cross, away from its middle and on the side without words.
                cross = (upright_at(page, x, y - 3.0), level_at(page, x - 3.0, y))
                centre, radius = circle_in_pixels(page, near, RADIUS)
                found = on_boat(centre, {place: cross}, inside)
                wanted = min(HOLES, key=lambda hole: math.dist(hole, found))
                assert found == pytest.approx(wanted, abs=RASTER_MM)
                assert radius == pytest.approx(RADIUS, abs=RASTER_MM)
                met.add(wanted)
    assert met == HOLES


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_pixels_agree_on_the_bars(paper, pdfs):
    with opened(pdfs[paper, False]) as document:
        for page in document:
            bars = [line for line in lines_of(page) if abs(math.dist(*line) - 100.0) < 1.0]
            for (x0, y0), (x1, y1) in bars:
                if abs(y0 - y1) < 1e-3:
                    length = upright_at(page, x1, y1 + 1.2) - upright_at(page, x0, y0 + 1.2)
                else:
                    length = level_at(page, x1 - 1.2, y1) - level_at(page, x0 - 1.2, y0)
                assert abs(length) == pytest.approx(100.0, abs=RASTER_MM)
            assert len(bars) >= 2
