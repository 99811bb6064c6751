import ctypes

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest

from rigfit.drawing.palette import DARK, LIGHT
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    OUTLINE,
    Disc,
    Ink,
    Paper,
    Path,
    Pen,
    Placement,
    Scene,
    Text,
    slot,
)
from rigfit.drawing.to_pdf import page_points, pages_to_pdf, to_pdf

A4 = Paper("A4", 297.0, 210.0)
SHEET = Placement(A4, (-300.0, -200.0))
MM = 72.0 / 25.4


def board(*items, scale=5.0, placement=SHEET):
    return Scene("Board – Ø", items, scale, placement)


SAMPLE = board(
    Path(((0.0, 0.0), (300.0, 0.0), (300.0, 200.0)), "HULL", OUTLINE, closed=True, fill=Ink.HULL),
    Disc((50.0, 50.0), 20.0, "DRILL", EDGE),
    slot((150.0, 60.0), 13.5, 60.0, "DRILL"),
    Path(((0.0, 90.0), (300.0, 90.0)), "CENTRELINES", CENTRE_LINE),
    Text((10.0, 150.0), "Ø13.5 ±3° → ½", "NOTES"),
    Text((10.0, 170.0), "Heel", "NOTES", bold=True, backed=True, angle_deg=30.0),
)


@pytest.fixture
def opened():
    documents = []

    def open_pdf(data):
        documents.append(pdfium.PdfDocument(data))
        return documents[-1]

    yield open_pdf
    for document in documents:
        document.close()


def path_points(page):
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


def ink(page, dpi):
    picture = page.render(scale=dpi / 72.0, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2]) < 128


@pytest.mark.parametrize(
    ("size", "points"),
    [
        ((210.0, 297.0), (595, 842)),
        ((420.0, 297.0), (1191, 842)),
        ((215.9, 279.4), (612, 792)),
        ((279.4, 431.8), (792, 1224)),
        ((215.9, 355.6), (612, 1008)),
    ],
)
def test_the_page_box_is_in_whole_points(size, points, opened):
    assert page_points(*size) == points
    scene = board(Disc((0.0, 0.0), 5.0, "DRILL"), placement=Placement(Paper("", *size), (-9, -9)))
    assert opened(to_pdf(scene, LIGHT))[0].get_size() == points


@pytest.mark.parametrize("scale", [1.0, 2.5, 10.0])
def test_points_lie_within_five_micrometres(scale, opened):
    points = ((-123.4, -56.7), (0.0, 0.0), (60.3, -111.1))
    sheet = Placement(A4, (-150.0, -120.0))
    scene = board(Path(points, "TRIM"), scale=scale, placement=sheet)
    (found,) = path_points(opened(to_pdf(scene, LIGHT))[0])
    for (x, y), (u, v) in zip(points, found, strict=True):
        assert (u, v) == pytest.approx(((x + 150.0) / scale, (y + 120.0) / scale), abs=0.005)


def test_circles_are_round_and_in_place(opened):
    scene = board(Disc((50.0, 50.0), 33.75, "DRILL"))
    (found,) = path_points(opened(to_pdf(scene, LIGHT))[0])
    ends = np.array(found[0:1] + found[3::3])  # each curve is two control points and an end
    assert np.hypot(*(ends - (70.0, 50.0)).T) == pytest.approx(6.75, abs=0.005)


def test_a_raster_agrees_on_place_and_area(opened):
    disc = Disc((50.0, 50.0), 20.0, "DRILL", None, fill=Ink.LINE)
    rows, columns = np.nonzero(ink(opened(to_pdf(board(disc), LIGHT))[0], 1200))
    pixel = 25.4 / 1200
    height = round(595 / 72 * 1200)
    assert (columns.mean() + 0.5) * pixel == pytest.approx(70.0, abs=0.05)
    assert (height - rows.mean() - 0.5) * pixel == pytest.approx(50.0, abs=0.05)
    assert np.sqrt(rows.size / np.pi) * pixel == pytest.approx(4.0, abs=0.01)


@pytest.mark.parametrize("up", ["base", "middle", "top"])
def test_capitals_have_their_height_and_hang_where_anchored(up, opened):
    text = Text((0.0, 0.0), "H", "NOTES", height_mm=20.0, up=up)
    rows = np.nonzero(ink(opened(to_pdf(board(text), LIGHT))[0], 720).any(axis=1))[0]
    pixel, whole = 25.4 / 720, 5950
    top, base = (whole - rows[0]) * pixel, (whole - rows[-1] - 1) * pixel
    assert top - base == pytest.approx(20.0, abs=0.08)
    assert base == pytest.approx(40.0 - {"base": 0.0, "middle": 10.0, "top": 20.0}[up], abs=0.08)


def test_printing_at_true_size_is_asked_for():
    data = to_pdf(SAMPLE, LIGHT)
    assert data.startswith(b"%PDF-1.6")
    assert b"/PrintScaling /None" in data


def test_every_font_is_embedded_and_ours(opened):
    data = to_pdf(SAMPLE, LIGHT)
    fonts = set()
    for text in opened(data)[0].get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
        font = raw.FPDFTextObj_GetFont(text.raw)
        name = ctypes.create_string_buffer(100)
        raw.FPDFFont_GetBaseFontName(font, name, 100)
        fonts.add((name.value.decode().split("+")[-1], raw.FPDFFont_GetIsEmbedded(font)))
    assert fonts == {("Lato-Regular", 1), ("Lato-Bold", 1)}
    assert data.count(b"/BaseFont") == 2
    assert b"Helvetica" not in data


def test_words_can_be_read_back(opened):
    words = opened(to_pdf(SAMPLE, LIGHT))[0].get_textpage().get_text_range()
    assert "Ø13.5 ±3° → ½" in words


def test_what_the_font_lacks_becomes_a_question_mark(opened):
    text = Text((0.0, 0.0), "船 12", "NOTES")
    words = opened(to_pdf(board(text), LIGHT))[0].get_textpage().get_text_range()
    assert words.strip() == "? 12"


def test_the_title_is_in_the_metadata(opened):
    about = opened(to_pdf(SAMPLE, LIGHT)).get_metadata_dict()
    assert about["Title"] == "Board – Ø"
    assert about["Creator"] == "rigfit"


def test_pages_follow_each_other_at_their_own_size(opened):
    other = board(
        Disc((0.0, 0.0), 5.0, "DRILL"), placement=Placement(Paper("", 420.0, 297.0), (-9.0, -9.0))
    )
    document = opened(pages_to_pdf([SAMPLE, other], LIGHT, title="Both"))
    assert [page.get_size() for page in document] == [(842, 595), (1191, 842)]
    assert len(path_points(document[1])) == 1


def test_a_pdf_without_pages_is_refused():
    with pytest.raises(ValueError, match="page"):
        pages_to_pdf([], LIGHT, title="none")


def test_what_lies_off_the_sheet_is_not_written(opened):
    scene = board(Disc((0.0, 0.0), 5.0, "DRILL"), Disc((9000.0, 0.0), 5.0, "DRILL"))
    assert len(path_points(opened(to_pdf(scene, LIGHT))[0])) == 1


def test_dark_paper_is_painted(opened):
    page = opened(to_pdf(SAMPLE, DARK))[0]
    assert page.render().to_numpy()[0, 0, :3].tolist() == [0x27, 0x22, 0x1E]


def test_backing_clears_the_lines_below(opened):
    line = Path(((-50.0, 6.0), (50.0, 6.0)), "TRIM", Pen(0.7))
    backed = Text((0.0, 0.0), "     ", "NOTES", across="centre", backed=True)
    clear = ink(opened(to_pdf(board(line, backed), LIGHT))[0], 144).sum()
    assert clear < ink(opened(to_pdf(board(line), LIGHT))[0], 144).sum() * 0.9


def test_same_scene_same_bytes():
    assert to_pdf(SAMPLE, LIGHT) == to_pdf(SAMPLE, LIGHT)
