"""Sheets over a drawing: every hole whole somewhere, nothing left out, as few as can be."""

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Disc, Ink, Path, Text
from rigfit.drawing.sheet import PAPERS_MM, Box
from rigfit.drawing.template_view import paper_drawing
from rigfit.drawing.tile_pages import tiled
from rigfit.drawing.tiles import (
    END_MARGIN_MM,
    MOST_SHEETS,
    SIDE_MARGIN_MM,
    Drawing,
    SheetWords,
    TileHole,
    choose_grid,
    is_landscape,
    is_whole,
    overlap_mm,
    sheet_name,
    sheet_status,
    strip_area,
)
from rigfit.errors import OutputError
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.printer import judge_bars
from rigfit.rigging.template import Template, drilling_template
from rigfit.units import Shown
from tests.demo_reports import report_on

WORDS = SheetWords("Dunlin", "B", "14 March")
CASES = ("B-mm", "B-in", "twin-mm", "plate-fixed-in")
PAPERS = st.sampled_from(sorted(PAPERS_MM))
FACTORS = st.sampled_from(((1.0, 1.0), (1.03, 0.99), (0.95, 1.2)))


def drawing_of(case, inside=False):
    report = report_on(case)
    style = Shown("in") if case.endswith("-in") else Shown()
    return paper_drawing(drilling_template(report.case), style, inside=inside)


@st.composite
def drawings(draw):
    """Drawings with one to eight holes, some of them slots, anywhere within reason."""
    holes = []
    for index in range(draw(st.integers(1, 8))):
        half = draw(st.floats(1.5, 30.0))
        tall = half + draw(st.sampled_from((0.0, 20.0)))
        centre = (draw(st.floats(-450.0, 450.0)), draw(st.floats(-500.0, 0.0)))
        holes.append(TileHole(f"hole {index}", centre, half, tall))
    boxes = [hole.box for hole in holes]
    bounds = Box(
        min(item.left for item in boxes), min(item.bottom for item in boxes),
        max(item.right for item in boxes), max(item.top for item in boxes),
    )  # fmt: skip
    items = tuple(Disc(hole.centre, hole.half_width_mm, "DRILL") for hole in holes)
    return Drawing("Pattern", "OUTSIDE", items, tuple(holes), bounds)


def windows(grid):
    return [grid.window(row, col) for row in range(grid.rows) for col in range(grid.columns)]


def grid_of(drawing, paper, factors=(1.0, 1.0)):
    try:
        return choose_grid(drawing, paper, factors)
    except OutputError as error:
        assert f"at most {MOST_SHEETS}" in error.sentence()
        return None


# ---------------------------------------------------------------- the grid


@settings(max_examples=200)
@given(drawings(), PAPERS, FACTORS)
def test_every_hole_is_whole_on_some_sheet(drawing, paper, factors):
    grid = grid_of(drawing, paper, factors)
    if grid is not None:
        for hole in drawing.holes:
            assert any(is_whole(hole, window) for window in windows(grid))


@settings(max_examples=100)
@given(drawings(), PAPERS, FACTORS)
def test_the_sheets_cover_the_drawing_and_lie_centred_on_it(drawing, paper, factors):
    grid = grid_of(drawing, paper, factors)
    if grid is None:
        return
    bounds = drawing.bounds
    whole = unary_union([box(w.left, w.bottom, w.right, w.top) for w in windows(grid)])
    assert whole.buffer(1e-6).covers(box(bounds.left, bounds.bottom, bounds.right, bounds.top))
    left, bottom, right, top = whole.bounds
    assert left + right == pytest.approx(bounds.left + bounds.right, abs=1e-6)
    assert bottom + top == pytest.approx(bounds.bottom + bounds.top, abs=1e-6)


@settings(max_examples=100)
@given(drawings(), PAPERS)
def test_no_orientation_and_no_smaller_grid_would_do(drawing, paper):
    grid = grid_of(drawing, paper)
    if grid is None:
        return
    overlap = grid.overlap_mm
    short, long = sorted(PAPERS_MM[paper])
    for wide, high, ends_level in ((short, long, False), (long, short, True)):
        # Reckoned here from the margins alone: 7 and 13 mm, 10 mm of bar, 22 mm of words.
        window_w = wide - 2.0 * (13.0 if ends_level else 7.0) - 10.0
        window_h = high - 2.0 * (7.0 if ends_level else 13.0) - 22.0
        counts = [
            columns * rows
            for columns in range(1, MOST_SHEETS + 1)
            for rows in range(1, MOST_SHEETS + 1)
            if columns * window_w - (columns - 1) * overlap >= drawing.bounds.width - 1e-6
            and rows * window_h - (rows - 1) * overlap >= drawing.bounds.height - 1e-6
        ]
        assert grid.count <= min(counts, default=10**9)


@given(drawings())
def test_sheets_overlap_by_more_than_the_largest_hole(drawing):
    largest = max(max(hole.box.width, hole.box.height) for hole in drawing.holes)
    assert overlap_mm(drawing.holes) >= largest + 2.0


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_margins_are_kept_on_all_papers(paper):
    grid = choose_grid(drawing_of("B-mm"), paper)
    sheet, area, strip = grid.sheet, grid.area, strip_area(grid.sheet)
    level, upright = SIDE_MARGIN_MM, END_MARGIN_MM
    if is_landscape(sheet):
        level, upright = upright, level
    assert strip.left == level
    assert strip.bottom == upright
    assert sheet.width_mm - area.right == pytest.approx(level)
    assert sheet.height_mm - area.top == pytest.approx(upright)


def plain(width, height, half=5.0):
    hole = TileHole("hole", (0.0, 0.0), half, half)
    return Drawing("Pattern", "OUTSIDE", (), (hole,), Box(0.0, 0.0, width, height))


def test_a_drawing_that_fits_exactly_takes_one_sheet():
    area = choose_grid(plain(50.0, 50.0), "A4").area
    assert choose_grid(plain(area.width, area.height), "A4").count == 1
    assert choose_grid(plain(area.width + 0.01, area.height), "A4").count == 2


def test_a_wide_drawing_turns_the_sheet():
    assert is_landscape(choose_grid(plain(250.0, 150.0), "A4").sheet)
    assert not is_landscape(choose_grid(plain(150.0, 200.0), "A4").sheet)


@pytest.mark.parametrize(
    ("drawing", "paper", "words"),
    [
        (plain(3500.0, 1100.0), "A4", ["3500 x 1100 mm", "at most 60 sheets", "print shop"]),
        (plain(400.0, 400.0, half=200.0), "A4", ["does not go on A4", "larger paper"]),
        (plain(100.0, 100.0), "B5", ["'B5'", "A4, A3, Letter, Legal, Tabloid"]),
    ],
)
def test_what_cannot_be_done_is_said(drawing, paper, words):
    with pytest.raises(OutputError) as caught:
        choose_grid(drawing, paper)
    assert [word for word in words if word not in caught.value.sentence()] == []


def test_sheets_are_named_by_row_and_column():
    names = [sheet_name(row, col) for row, col in ((0, 0), (1, 1), (25, 11), (26, 0), (51, 2))]
    assert names == ["A1", "B2", "Z12", "AA1", "AZ3"]


# ---------------------------------------------------------------- what is on a sheet


def texts(items, ref=None):
    return [i for i in items if isinstance(i, Text) and (ref is None or i.ref == ref)]


@settings(max_examples=40)
@given(drawings(), PAPERS)
def test_a_hole_is_named_only_where_it_is_whole(drawing, paper):
    if grid_of(drawing, paper) is None:
        return
    named = set()
    for page in tiled(drawing, paper, WORDS).pages[1:]:
        whole = {hole.label for hole in drawing.holes if is_whole(hole, page.window)}
        labels = [item.words for item in texts(page.inner, "label")]
        assert sorted(labels) == sorted(whole)
        named |= whole
        for item in texts(page.inner, "label"):
            window = page.window
            area = box(window.left, window.bottom, window.right, window.top)
            assert area.covers(Polygon(text_box(item, 1.0)))
    assert named == {hole.label for hole in drawing.holes}


@settings(max_examples=40)
@given(drawings(), PAPERS)
def test_nothing_outside_its_window_is_on_a_sheet(drawing, paper):
    if grid_of(drawing, paper) is None:
        return
    for page in tiled(drawing, paper, WORDS).pages[1:]:
        window = box(page.window.left, page.window.bottom, page.window.right, page.window.top)
        shown = {item.centre for item in page.inner if isinstance(item, Disc)}
        for item in drawing.items:
            distance = window.distance(Point(item.centre))
            if item.centre in shown:
                assert distance <= math.sqrt(2.0) * item.radius_mm + 1e-9
            else:
                assert distance >= item.radius_mm - 1e-9


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("case", CASES)
def test_crosses_say_where_they_stand(case, paper, inside):
    drawing = drawing_of(case, inside)
    for page in tiled(drawing, paper, WORDS).pages[1:]:
        crosses = [i for i in page.inner if isinstance(i, Path) and i.ref == "cross"]
        middles = {
            (sum(x for x, _ in i.points) / 2.0, sum(y for _, y in i.points) / 2.0) for i in crosses
        }
        labels = texts(page.inner, "cross")
        assert len(labels) == len(middles) > 0
        for label in labels:
            across, below = map(float, label.words.strip("()").split(","))
            place = (-across if inside else across, -below)
            assert place in middles
            assert math.dist(label.at, place) < 3.0
        for hole in drawing.holes:
            assert min(math.dist(hole.centre, middle) for middle in middles) > hole.half_width_mm


@pytest.mark.parametrize("case", CASES)
def test_joining_marks_are_alike_on_both_sheets(case):
    spread = tiled(drawing_of(case), "A4", WORDS)
    grid, pages = spread.grid, spread.pages[1:]

    def marks(row, column):
        page = pages[row * grid.columns + column]
        found = [i.points for i in page.inner if isinstance(i, Path) and i.ref == "join"]
        return {tuple((round(x, 6), round(y, 6)) for x, y in points) for points in found}

    pairs = 0
    for row in range(grid.rows):
        for column in range(grid.columns):
            for other in ((row + 1, column), (row, column + 1)):
                if grid.has(*other):
                    pairs += 1
                    assert len(marks(row, column) & marks(*other)) >= 4  # two crosses
    assert pairs > 0


@pytest.mark.parametrize("paper", ["A4", "Tabloid"])
def test_neighbours_are_named_and_cut_edges_agree(paper):
    spread = tiled(drawing_of("twin-mm"), paper, WORDS)
    grid = spread.grid
    for page in spread.pages[1:]:
        row, column = "ABCDEF".index(page.name[0]), int(page.name[1:]) - 1
        said = {item.words for item in texts(page.inner, "neighbour")}
        wanted = set()
        for words, to in (
            ("cut here, lay over", (row, column + 1)),
            ("cut here, lay over", (row - 1, column)),
            ("goes under", (row, column - 1)),
            ("goes under", (row + 1, column)),
        ):
            if grid.has(*to):
                wanted.add(f"{words} {sheet_name(*to)}")
        assert said == wanted
        cuts = sum(1 for i in page.outer if isinstance(i, Path) and i.ref == "cut")
        assert cuts == sum(words.startswith("cut") for words in wanted)


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("paper", PAPERS_MM)
@pytest.mark.parametrize("case", CASES)
def test_words_round_the_drawing_stay_on_the_paper_and_apart(case, paper, inside):
    words = SheetWords("Dunlin " * 20, "B (a name as long as forty characters allow)", "1 May")
    for page in tiled(drawing_of(case, inside), paper, words).pages:
        edge = box(*(6.9, 6.9, page.sheet.width_mm - 6.9, page.sheet.height_mm - 6.9))
        areas = [(item.words, Polygon(text_box(item, 1.0)).buffer(-0.05))
                 for item in texts(page.outer)]  # fmt: skip
        assert [said for said, area in areas if not edge.covers(area)] == []
        covered = [(a, b) for (a, one), (b, two) in combinations(areas, 2) if one.intersects(two)]
        assert covered == []


@pytest.mark.parametrize("case", CASES)
def test_every_page_says_what_it_is(case):
    for inside, view in ((False, "OUTSIDE, SEEN FROM ASTERN"), (True, "INSIDE, MIRRORED")):
        spread = tiled(drawing_of(case, inside), "A4", WORDS)
        for page in spread.pages:
            said = " ".join(item.words for item in texts(page.outer))
            for word in (view, "Dunlin", "engine B", "14 March", "NOT YET CHECKED",
                         "100 mm across the sheet", "100 mm along the sheet"):  # fmt: skip
                assert word in said
            assert ("INSIDE" in said) is inside
        for page in spread.pages[1:]:
            said = [item.words for item in texts(page.outer)]
            assert page.name in said
            assert f"of {spread.grid.count}" in said


def bar(page, ref):
    (item,) = [i for i in page.outer if isinstance(i, Path) and i.ref == ref]
    return math.dist(*item.points)


def test_the_bars_are_true_unless_corrected():
    drawing = drawing_of("B-mm")
    for page in tiled(drawing, "A4", WORDS).pages:
        assert (bar(page, "bar-level"), bar(page, "bar-upright")) == pytest.approx((100.0, 100.0))
    spread = tiled(drawing, "A4", WORDS, (1.03, 0.98))
    for page in spread.pages:
        lengths = bar(page, "bar-level"), bar(page, "bar-upright")
        # Across is the short edge, however the sheet is read.
        wanted = (98.0, 103.0) if is_landscape(page.sheet) else (103.0, 98.0)
        assert lengths == pytest.approx(wanted)


@pytest.mark.parametrize("factors", [(1.0, 1.0), (1.06, 0.97), (0.9, 1.1)])
def test_a_corrected_window_still_ends_at_the_margin(factors):
    spread = tiled(drawing_of("twin-mm"), "Letter", WORDS, factors)
    for page in spread.pages[1:]:
        window, area = page.window, spread.grid.area
        assert page.on_paper((window.left, window.bottom)) == pytest.approx(
            (area.left, area.bottom)
        )
        assert page.on_paper((window.right, window.top)) == pytest.approx((area.right, area.top))


@pytest.mark.parametrize(
    ("bars", "corrected", "words", "ink", "refused"),
    [
        ((None, None), False, "NOT YET CHECKED: measure both bars", Ink.TIGHT, False),
        ((100.0, None), False, "NOT YET CHECKED: measure both bars", Ink.TIGHT, False),
        ((50.0, 100.0), False, "NOT YET CHECKED: measure both bars", Ink.TIGHT, False),
        ((100.2, 99.6), False, "bars confirmed: 100.2 mm across, 99.6 mm along", Ink.FITS, False),
        ((97.0, 100.0), False, "DO NOT USE: the 100 mm bars measured 97 mm across, 100 mm along",
         Ink.STOPS, True),
        ((97.0, None), False, "DO NOT USE: the 100 mm bars measured 97 mm", Ink.STOPS, True),
        ((97.0, 100.0), True, "CORRECTED x 1.0309 across, x 1.0000 along: measure both bars again",
         Ink.TIGHT, False),
    ],
)  # fmt: skip
def test_the_sheet_says_what_the_bars_prove(bars, corrected, words, ink, refused):
    assert sheet_status(judge_bars(*bars), corrected=corrected) == (words, ink, refused)


def test_a_refused_sheet_says_so_across_the_drawing():
    words = SheetWords("Dunlin", "B", status="DO NOT USE", status_ink=Ink.STOPS, refused=True)
    for page in tiled(drawing_of("B-mm"), "A4", words).pages[1:]:
        assert len(texts(page.inner, "refused")) == 1
    for page in tiled(drawing_of("B-mm"), "A4", WORDS).pages[1:]:
        assert texts(page.inner, "refused") == []


# ---------------------------------------------------------------- the two editions


@pytest.mark.parametrize("case", CASES)
def test_the_inside_is_the_mirror_image_with_words_to_be_read(case):
    outside, inside = drawing_of(case), drawing_of(case, inside=True)
    for one, other in zip(outside.holes, inside.holes, strict=True):
        assert other.centre == (-one.centre[0], one.centre[1])
        assert other.label == one.label
    radii = [{(i.centre, i.radius_mm) for i in d.items if isinstance(i, Disc)}
             for d in (outside, inside)]  # fmt: skip
    assert radii[1] == {((-x, y), radius) for (x, y), radius in radii[0]}
    said = [sorted(i.words for i in texts(d.items)) for d in (outside, inside)]
    assert said[0] == said[1]
    for item in texts(inside.items):
        assert -90.0 < item.angle_deg <= 90.0


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("case", CASES)
def test_words_on_paper_keep_clear_of_each_other(case, inside):
    areas = [(item.words, Polygon(text_box(item, 1.0)).buffer(-0.05))
             for item in texts(drawing_of(case, inside).items)]  # fmt: skip
    covered = [(a, b) for (a, one), (b, two) in combinations(areas, 2) if one.intersects(two)]
    assert covered == []


@pytest.mark.parametrize("inside", [False, True])
def test_port_and_starboard_stand_on_their_own_side(inside):
    drawing = drawing_of("B-mm", inside)
    at = {item.words: item.at[0] for item in texts(drawing.items)}
    assert (at["PORT"] < at["STARBOARD"]) is not inside
    port = next(hole for hole in drawing.holes if "port" in hole.label)
    assert (port.centre[0] < 0.0) is not inside


@pytest.mark.parametrize("case", CASES)
def test_the_sheets_reach_all_that_is_new_and_the_centreline(case):
    drawing = drawing_of(case)
    bounds = drawing.bounds
    assert bounds.left < 0.0 < bounds.right
    assert bounds.top > 20.0  # to fold over the transom top
    for hole in drawing.holes:
        assert bounds.left < hole.box.left
        assert bounds.right > hole.box.right
        assert bounds.bottom < hole.box.bottom


def test_a_slot_is_labelled_as_one_and_must_be_whole():
    features = (
        Feature("upper port", -100.0, 50.0, 13.5, 60.0),
        Feature("upper starboard", 100.0, 50.0, 13.5),
    )
    template = Template(features, (), 0.0, 0.0, ("Dunlin",), ())
    slot, hole = paper_drawing(template, Shown()).holes
    assert slot.label == "upper port, slot 13.5 x 60"
    assert (slot.box.width, slot.box.height) == (13.5, 60.0)
    assert hole.label == "upper starboard, dia 13.5"
