from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing, LineString, Polygon, box

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Ink, Path, Text
from rigfit.drawing.sheet import (
    PAPERS_MM,
    TitleBlock,
    centred_corner,
    drawing_area,
    frame,
    paper,
    scale_words,
)
from rigfit.errors import OutputError

CAUTIONS = (
    "Drilling, lifting 100–300 kg, fuel, batteries and stability can hurt people.",
    "The engine maker’s and the boat builder’s instructions, the capacity plate and local law, "
    "and the practice of licensed trades come first.",
    "Check the plate height afloat before the first long run.",
)
USUAL = TitleBlock(
    "Side profile: plate against the keel line",
    "Dunlin, 5.2 m vee-bottom tender",
    "four-stroke, 75–100 hp, 20 in leg (row 2)",
    date="14 March 2026",
    version="0.1.0",
    status="Not yet checked: measure both bars before drilling",
    cautions=CAUTIONS,
    number="1 of 2",
)
LONG = TitleBlock(
    "Side profile with the plate against the keel line " * 3,
    "Dunlin, " * 30,
    "four-stroke" * 20,
    date="the fourteenth of March two thousand and twenty-six",
    version="0.1.0.dev20260314+local",
    status="Not yet checked: measure both bars before drilling. " * 4,
    cautions=CAUTIONS * 2,
    number="12 of 12",
    binding=True,
)
BARE = TitleBlock("T", "", "")
SHEETS = pytest.mark.parametrize(
    "sheet",
    [paper(name, landscape=way) for name in PAPERS_MM for way in (False, True)],
    ids=lambda sheet: f"{sheet.name}-{sheet.width_mm:g}",
)
BLOCKS = pytest.mark.parametrize("block", [USUAL, LONG, BARE], ids=["usual", "long", "bare"])


def texts(items):
    return [item for item in items if isinstance(item, Text)]


def frame_box(items):
    (left, bottom), _, (right, top), _ = items[-1].points
    return left, bottom, right, top


@pytest.mark.parametrize(
    ("name", "size"), [("A4", (297.0, 210.0)), ("A3", (420.0, 297.0)), ("Letter", (279.4, 215.9))]
)
def test_paper_is_laid_either_way(name, size):
    flat, upright = paper(name, landscape=True), paper(name, landscape=False)
    assert (flat.width_mm, flat.height_mm) == size
    assert (upright.height_mm, upright.width_mm) == size


def test_an_unknown_paper_is_refused_with_the_known_ones():
    with pytest.raises(OutputError, match="A4, A3, Letter"):
        paper("B5", landscape=True)


@pytest.mark.parametrize(("scale", "words"), [(1, "1:1"), (5, "1:5"), (2.5, "1:2.5"), (0.5, "2:1")])
def test_scales_are_written_as_on_drawings(scale, words):
    assert scale_words(scale) == words


@SHEETS
@BLOCKS
def test_no_words_overlap_or_touch_a_line(sheet, block):
    items = frame(sheet, 5.0, (-300.0, -100.0), block)
    boxes = [Polygon(text_box(text, 5.0)) for text in texts(items)]
    assert all(one.distance(other) > 1.0 for one, other in combinations(boxes, 2))
    for item in items:
        if isinstance(item, Path):
            line = LinearRing(item.points) if item.closed else LineString(item.points)
            assert all(area.distance(line) > 2.5 for area in boxes)


@SHEETS
@BLOCKS
def test_everything_lies_on_the_sheet_and_words_inside_the_frame(sheet, block):
    items = frame(sheet, 5.0, (-300.0, -100.0), block)
    page = box(-300.0, -100.0, -300.0 + sheet.width_mm * 5.0, -100.0 + sheet.height_mm * 5.0)
    inner = box(*frame_box(items))
    assert all(page.contains(LineString(item.points)) for item in items if isinstance(item, Path))
    assert all(inner.contains(Polygon(text_box(text, 5.0))) for text in texts(items))


@SHEETS
@BLOCKS
def test_the_drawing_area_is_free(sheet, block):
    area = box(*drawing_area(sheet, block)).buffer(-0.01)
    items = frame(sheet, 1.0, (0.0, 0.0), block)
    assert area.area > sheet.width_mm * sheet.height_mm / 4.0
    for item in items[:-1]:
        if isinstance(item, Text):
            assert not area.intersects(Polygon(text_box(item, 1.0)))
        else:
            assert not area.intersects(LineString(item.points))
    left, _, right, top = frame_box(items)
    assert drawing_area(sheet, block)[0::2] == (left, right)
    assert drawing_area(sheet, block)[3] == top


@SHEETS
def test_all_usual_words_are_there_in_full(sheet):
    said = " ".join(text.words for text in texts(frame(sheet, 5.0, (0.0, 0.0), USUAL)))
    expected = (USUAL.title, USUAL.boat, USUAL.engine, USUAL.date, USUAL.units, USUAL.status)
    for words in (*expected, *CAUTIONS, "1:5", sheet.name, "1 of 2", "rigfit 0.1.0"):
        assert words in said
    assert "…" not in said


def test_cautions_are_never_cut():
    said = " ".join(
        text.words for text in texts(frame(paper("A4", landscape=False), 5.0, (0.0, 0.0), LONG))
    )
    for sentence in LONG.cautions:
        assert sentence in said
    assert "…" in said


def test_borders_are_ten_millimetres_or_twenty_for_binding():
    sheet = paper("A4", landscape=True)
    assert frame_box(frame(sheet, 1.0, (0.0, 0.0), BARE)) == (10.0, 10.0, 287.0, 200.0)
    bound = TitleBlock("T", "", "", binding=True)
    assert frame_box(frame(sheet, 1.0, (0.0, 0.0), bound)) == (20.0, 10.0, 287.0, 200.0)


def test_the_frame_is_the_heaviest_line():
    *others, last = frame(paper("A4", landscape=True), 1.0, (0.0, 0.0), USUAL)
    assert last.pen.width_mm == 0.7
    assert max(item.pen.width_mm for item in others if isinstance(item, Path)) < 0.7


def test_everything_is_on_the_sheet_layer_and_moves_with_it():
    items = frame(paper("A4", landscape=True), 2.0, (0.0, 0.0), USUAL)
    assert {(item.layer, item.group) for item in items} == {("SHEET", "sheet")}


def test_the_status_takes_the_colour_given():
    block = TitleBlock("T", "", "", status="Checked", status_ink=Ink.FITS)
    items = texts(frame(paper("A4", landscape=True), 1.0, (0.0, 0.0), block))
    assert [text.words for text in items if text.ink is Ink.FITS] == ["Checked"]


def test_too_many_words_for_the_paper_are_refused():
    block = TitleBlock("T", "", "", cautions=CAUTIONS * 30)
    with pytest.raises(OutputError, match="no room"):
        drawing_area(paper("A4", landscape=True), block)


@settings(deadline=None)
@given(st.text(max_size=80), st.text(max_size=80), st.text(max_size=80))
def test_any_words_keep_inside_the_frame(title, boat, engine):
    block = TitleBlock(title, boat, engine, cautions=CAUTIONS)
    items = frame(paper("A4", landscape=True), 1.0, (0.0, 0.0), block)
    inner = box(*frame_box(items))
    boxes = [Polygon(text_box(text, 1.0)) for text in texts(items)]
    assert all(inner.contains(area) for area in boxes)
    assert all(one.distance(other) > 0.2 for one, other in combinations(boxes, 2))


def test_a_drawing_is_put_in_the_middle_of_the_area():
    x, y = centred_corner((100.0, 0.0, 300.0, 50.0), (10.0, 40.0, 210.0, 140.0), 2.0)
    assert (200.0 - x) / 2.0 == 110.0
    assert (25.0 - y) / 2.0 == 90.0
