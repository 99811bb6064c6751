"""Previews of exports: sheets of paper as they lie, pieces beside each other, and what is said."""

import io

import pytest
from PIL import Image

from rigfit import tasks
from rigfit.desk import export_preview
from rigfit.desk.export_plan import Wish, preview, sheets_words
from rigfit.desk.export_preview import pieces_preview, sheets_preview, tiled_template
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.scene import Text
from rigfit.errors import NotMeasuredError, OutputError
from tests.demo_reports import report_on
from tests.pdf_pages import opened, words_of

ROOM = (800, 560)


@pytest.fixture(scope="module")
def drilled():
    return tasks.check(tasks.drilled_demo_job())


@pytest.fixture(scope="module")
def demo():
    return report_on("B-mm")


def picture(made):
    return Image.open(io.BytesIO(made.png))


def sheets_in(image):
    """Return how many sheets lie side by side, and below each other: what is between is clear."""
    alpha = image.getchannel("A")

    def runs(length, clear_at):
        shown = [not clear_at(at) for at in range(length)]
        return sum(now and not before for before, now in zip([False, *shown], shown, strict=False))

    wide, high = image.size
    columns = runs(wide, lambda x: alpha.crop((x, 0, x + 1, high)).getextrema()[1] == 0)
    right = alpha.crop((round(wide * 0.8), 0, wide, high))
    rows = runs(high, lambda y: right.crop((0, y, right.width, y + 1)).getextrema()[1] == 0)
    return columns, rows


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_the_sheets_lie_as_they_are_taped_beside_the_page_to_start_with(demo, paper):
    sheets = tiled_template(demo, paper)
    made = sheets_preview(sheets, LIGHT, ROOM)
    image = picture(made)
    assert image.size[0] <= ROOM[0] + 1 and image.size[1] <= ROOM[1] + 1
    assert sheets_in(image) == (1 + sheets.grid.columns, sheets.grid.rows)
    assert f"{sheets.grid.count} sheet" in made.note
    assert paper in made.note


def test_so_many_sheets_are_one_page_that_shows_how_they_lie(demo, monkeypatch):
    monkeypatch.setattr(export_preview, "MOST_PAGES", 1)
    sheets = tiled_template(demo, "A4")
    assert sheets.grid.count > 1
    wide, high = picture(sheets_preview(sheets, LIGHT, ROOM)).size
    assert wide < high


def test_the_sheets_previewed_are_those_written(demo, tmp_path):
    sheets = tiled_template(demo, "A4", inside=True, date="3 May")
    (written,) = tasks.write_paper_template(demo, tmp_path, paper="A4", side="inside", date="3 May")
    with opened(written.path.read_bytes()) as document:
        assert len(document) == len(sheets.pages)
        for page, drawn in zip(sheets.pages, document, strict=True):
            said = words_of(drawn)
            assert "3 May" in said
            texts = [item.words for item in page.outer if isinstance(item, Text)]
            assert page.name in (*texts, "")
            # Upright words come back from a PDF sign by sign.
            level = [item for item in page.outer if isinstance(item, Text) and not item.angle_deg]
            assert all("".join(item.words.split()) in "".join(said.split()) for item in level)


@pytest.mark.parametrize(("side", "mirrored"), [("outside", False), ("both", True)])
def test_of_two_sides_the_outer_is_shown_and_the_other_named(demo, tmp_path, side, mirrored):
    wish = Wish("template", tmp_path, medium="paper", paper="A4", side=side)
    made = preview(wish, demo, None, ROOM)
    assert ("mirror image" in made.note) == mirrored
    assert made.note.startswith(sheets_words(wish, demo))


def test_inside_and_outside_look_different(demo, tmp_path):
    pictures = {
        preview(Wish("template", tmp_path, medium="paper", side=side), demo, None, ROOM).png
        for side in ("outside", "inside")
    }
    assert len(pictures) == 2


def test_how_many_sheets_is_said_of_paper_only(demo, tmp_path):
    assert sheets_words(Wish("template", tmp_path), demo) == ""
    assert sheets_words(Wish("template", tmp_path, medium="paper"), None) == ""
    unmeasured = report_on("A-mm")
    assert sheets_words(Wish("template", tmp_path, medium="paper"), unmeasured) == ""
    with pytest.raises(NotMeasuredError):
        preview(Wish("template", tmp_path, medium="paper"), unmeasured, None, ROOM)


def test_plates_and_dash_are_beside_each_other(drilled):
    made = pieces_preview(drilled, LIGHT, ROOM)
    wide, high = picture(made).size
    assert wide <= ROOM[0] + 1 and high <= ROOM[1] + 1
    assert made.note == ""


def test_without_any_piece_the_first_reason_is_raised(demo):
    with pytest.raises(NotMeasuredError, match="backing plate"):
        pieces_preview(demo, LIGHT, ROOM)


@pytest.mark.parametrize("what", ["drawing", "face", "section"])
@pytest.mark.parametrize("room", [(800, 560), (300, 700), (1, 1)])
def test_a_sheet_fits_into_its_room(drilled, tmp_path, what, room):
    made = preview(Wish(what, tmp_path / "a.pdf"), drilled, None, room)
    wide, high = picture(made).size
    assert wide <= max(room[0], 16) + 1
    assert high <= max(room[1], 16) + 1


def test_an_unknown_paper_is_an_error(demo, tmp_path):
    with pytest.raises(OutputError, match="paper"):
        preview(Wish("template", tmp_path, medium="paper", paper="B9"), demo, None, ROOM)
