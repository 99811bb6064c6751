"""The PDF of a paper template, read back; and the command that writes it."""

import re
from dataclasses import replace

import pypdfium2.raw as raw
import pytest

from rigfit import tasks
from rigfit.command_line import run
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.template_view import paper_drawing
from rigfit.drawing.tile_pages import tiled
from rigfit.drawing.tiles import SheetWords
from rigfit.drawing.to_tiled_pdf import to_tiled_pdf
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.records.profiles import demo_job_text
from rigfit.rigging.bolting_fields import PrinterCheck
from rigfit.rigging.template import drilling_template
from rigfit.units import Shown
from tests.builders import reading
from tests.demo_reports import report_on
from tests.pdf_pages import circles_of, opened, words_of

WORDS = SheetWords("Dunlin", "B", "14 March")
PRINTER = '[printer]\npaper = "{}"\nbar_across = "{} mm"\nbar_along = "{} mm"\n\n[[hole]]'


def spread_of(paper="A4", inside=False, words=WORDS, factors=(1.0, 1.0), case="B-mm"):
    drawing = paper_drawing(drilling_template(report_on(case).case), Shown(), inside=inside)
    return tiled(drawing, paper, words, factors)


def with_bars(across, along, paper="A4", name="Dunlin"):
    bars = [None if value is None else reading(value, 0.25) for value in (across, along)]
    job = tasks.demo_job()
    job = replace(job, printer=PrinterCheck(paper, *bars), boat=replace(job.boat, name=name))
    return tasks.check(job)


def pages_of(path):
    with opened(path.read_bytes()) as document:
        return [words_of(page) for page in document]


# ---------------------------------------------------------------- the file


def test_the_same_drawing_gives_the_same_bytes():
    assert to_tiled_pdf(spread_of()) == to_tiled_pdf(spread_of(), LIGHT)


def test_it_tells_viewers_not_to_scale_it_in_a_version_that_knows_how():
    data = to_tiled_pdf(spread_of())
    assert int(re.match(rb"%PDF-1\.(\d)", data)[1]) >= 6
    with opened(data) as document:
        assert not raw.FPDF_VIEWERREF_GetPrintScaling(document.raw)


def test_all_fonts_are_in_the_file():
    with opened(to_tiled_pdf(spread_of())) as document:
        fonts = set()
        for page in document:
            for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
                font = raw.FPDFTextObj_GetFont(thing.raw)
                fonts.add(raw.FPDFFont_GetIsEmbedded(font))
    assert fonts == {1}


def test_there_is_a_page_to_start_with_and_one_for_each_sheet():
    spread = spread_of()
    with opened(to_tiled_pdf(spread)) as document:
        said = [words_of(page) for page in document]
    assert len(said) == spread.grid.count + 1
    assert "start here" in said[0]
    assert 'Print every page at 100 % ("actual size") on A4 paper' in said[0]
    assert "drill 13.5 mm" in said[0]
    for page, words in zip(spread.pages[1:], said[1:], strict=True):
        assert words.count(page.name) >= 1


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_a_hole_is_drawn_only_on_the_sheets_that_show_it(paper):
    spread = spread_of(paper, case="twin-mm")
    with opened(to_tiled_pdf(spread)) as document:
        drawn = [len(circles_of(page, 6.75)) for page in document]
    wanted = [
        sum(
            page.window.left <= x + r and page.window.right >= x - r
            and page.window.bottom <= y + r and page.window.top >= y - r
            for (x, y), r in ((item.centre, item.radius_mm) for item in page.inner
                              if item.layer in ("DRILL", "EXISTING") and hasattr(item, "centre"))
        )
        for page in spread.pages[1:]
    ]  # fmt: skip
    assert drawn[1:] == wanted
    # Some sheets of a wide template show no hole at all; culling must have left them without.
    assert sum(drawn) < 8 * len(wanted)


HOSTILE = [
    "Dunlin) Tj ET Q (",
    "\\050 \\ \\\\ <</Type/Catalog>> endobj",
    "%PDF-1.7 %%EOF",
    "tab\there\nline \x00\x07\x1b[31m",
    "\u8239 \u0416 \U0001f6a4 \u202e",
    "(" * 200,
    "",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_any_name_leaves_the_file_whole(name):
    spread = spread_of(words=SheetWords(name, name, name))
    with opened(to_tiled_pdf(spread)) as document:
        assert len(document) == len(spread.pages)
        for page in document:
            said = words_of(page)
            assert "OUTSIDE, SEEN FROM ASTERN" in said
            assert "NOT YET CHECKED" in said
            assert not any(ord(char) < 32 for char in said)


def test_a_name_with_brackets_is_printed_as_it_is():
    spread = spread_of(words=SheetWords("Dunlin (II) \\ 3", "B", "1 May"))
    with opened(to_tiled_pdf(spread)) as document:
        assert "Dunlin (II) \\ 3 · engine B · 1 May" in words_of(document[1])


# ---------------------------------------------------------------- the task


def test_both_sides_are_two_files_each_marked_on_every_page(tmp_path):
    written = tasks.write_paper_template(report_on("B-mm"), tmp_path, side="both", date="1 May")
    assert [item.path.name for item in written] == [
        "dunlin-B-template-outside-A4.pdf",
        "dunlin-B-template-inside-A4.pdf",
    ]
    for item, own, other in zip(written, ("OUTSIDE, SEEN FROM ASTERN", "INSIDE, MIRRORED"),
                                ("INSIDE, MIRRORED", "OUTSIDE"), strict=True):  # fmt: skip
        for words in pages_of(item.path):
            assert own in words
            assert other not in words
            assert "1 May" in words
            assert "B (the sailing-school engine)" in words


@pytest.mark.parametrize(
    ("bars", "said"),
    [
        ((None, None), "NOT YET CHECKED: measure both bars"),
        ((100.2, 99.9), "bars confirmed: 100.2 mm across, 99.9 mm along"),
        ((97.0, 97.0), "DO NOT USE: the 100 mm bars measured 97 mm across, 97 mm along"),
    ],
)
def test_the_sheets_say_what_the_jobs_bars_prove(bars, said, tmp_path):
    (written,) = tasks.write_paper_template(with_bars(*bars), tmp_path)
    for number, words in enumerate(pages_of(written.path)):
        assert said in words
        assert ("WRONG SCALE" in words) is (bars == (97.0, 97.0) and number > 0)


def test_bars_measured_on_another_paper_confirm_nothing(tmp_path):
    (written,) = tasks.write_paper_template(with_bars(100.0, 100.0), tmp_path, paper="Letter")
    assert written.path.name.endswith("outside-Letter.pdf")
    assert all("NOT YET CHECKED" in words for words in pages_of(written.path))


def test_the_jobs_paper_is_used_when_none_is_said(tmp_path):
    (written,) = tasks.write_paper_template(with_bars(None, None, "Legal"), tmp_path)
    assert written.path.name == "dunlin-B-template-outside-Legal.pdf"


def test_a_corrected_edition_only_when_asked_and_with_its_factors(tmp_path):
    report = with_bars(97.0, 98.0)
    (written,) = tasks.write_paper_template(report, tmp_path, corrected=True)
    assert written.path.name == "dunlin-B-template-outside-A4-corrected.pdf"
    said = "CORRECTED x 1.0309 across, x 1.0204 along: measure both bars again"
    assert all(said in words for words in pages_of(written.path))
    with opened(written.path.read_bytes()) as document:
        assert all(circles_of(page, 6.75) == [] for page in document)


@pytest.mark.parametrize(
    ("bars", "words"),
    [
        ((None, None), ["measured yet", "measure both bars on a printed sheet"]),
        ((100.0, 100.2), ["within 0.5 mm", "ordinary edition"]),
        ((50.0, 100.0), ["50 mm", "measure the bars again"]),
        ((70.0, 97.0), ["0.8 to 1.25", "print at 100 %"]),
    ],
)
def test_nothing_is_corrected_that_cannot_be(bars, words, tmp_path):
    with pytest.raises(OutputError) as caught:
        tasks.write_paper_template(with_bars(*bars), tmp_path, corrected=True)
    assert [word for word in words if word not in caught.value.sentence()] == []
    assert list(tmp_path.iterdir()) == []


def test_no_paper_template_without_its_readings(tmp_path):
    with pytest.raises(NotMeasuredError):
        tasks.write_paper_template(report_on("A-mm"), tmp_path)


def test_the_jig_is_written_as_two_dxf_files_and_on_paper_if_asked(tmp_path):
    report = report_on("B-mm")
    names = [item.path.name for item in tasks.write_jig(report, tmp_path)]
    assert names == ["dunlin-B-jig.dxf", "dunlin-B-jig-cut.dxf"]
    written = tasks.write_jig(report, tmp_path, paper="A3", release="R12")
    assert [item.path.name for item in written] == [
        "dunlin-B-jig-A3.pdf", "dunlin-B-jig_mm.dxf", "dunlin-B-jig-cut_mm.dxf",
    ]  # fmt: skip
    assert all("Drill-guide jig" in words for words in pages_of(written[0].path))


# ---------------------------------------------------------------- the command


@pytest.fixture
def rigfit(tmp_path, monkeypatch, capsys):
    """Run the command in a folder with the demo job; return status, files and all output."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments, printer=None):
        text = demo_job_text()
        if printer:
            text = text.replace("[[hole]]", PRINTER.format(*printer), 1)
        (tmp_path / "demo.toml").write_text(text, encoding="utf-8")
        status = run(["template", "demo.toml", "out", *arguments])
        folder = tmp_path / "out"
        files = {item.name for item in folder.iterdir()} if folder.is_dir() else set()
        captured = capsys.readouterr()
        return status, files, " ".join((captured.out + captured.err).split())

    return call


DXF = {"dunlin-B-template.dxf", "dunlin-B-cut.dxf"}
OUTSIDE, INSIDE = "dunlin-B-template-outside-{}.pdf", "dunlin-B-template-inside-{}.pdf"


@pytest.mark.parametrize(
    ("arguments", "more"),
    [
        ([], set()),
        (["--pdf"], {OUTSIDE.format("A4")}),
        (["--paper", "Letter"], {OUTSIDE.format("Letter")}),
        (["--side", "inside"], {INSIDE.format("A4")}),
        (["--pdf", "--side", "both", "--paper", "A3"], {OUTSIDE.format("A3"), INSIDE.format("A3")}),
        (["--jig"], {"dunlin-B-jig.dxf", "dunlin-B-jig-cut.dxf"}),
        (["--jig", "--pdf"], {OUTSIDE.format("A4"), "dunlin-B-jig-A4.pdf", "dunlin-B-jig.dxf",
                              "dunlin-B-jig-cut.dxf"}),
    ],
)  # fmt: skip
def test_the_command_writes_what_is_asked(arguments, more, rigfit):
    status, files, said = rigfit(*arguments)
    assert status == 0
    assert files == DXF | more
    for name in more:
        assert name in said


def test_the_command_corrects_when_asked(rigfit):
    _, files, said = rigfit("--corrected", printer=("A4", 97, 97.2))
    assert "dunlin-B-template-outside-A4-corrected.pdf" in files
    assert "corrected for the printer" in said


@pytest.mark.parametrize(
    ("arguments", "printer", "words"),
    [
        (["--paper", "B5"], None, ["'B5'", "A4, A3, Letter, Legal, Tabloid"]),
        (["--side", "top"], None, ["top", "outside"]),
        (["--corrected"], None, ["corrected edition", "measure both bars"]),
        (["--corrected"], ("A4", 50, 100), ["50 mm", "not a reading", "measure the bars again"]),
        (["--pdf"], ("A4", 500, 100), ["bar_across", "500 mm", "20 mm to 200 mm"]),
        (["--pdf"], ("B5", 100, 100), ["paper", "B5", "A4"]),
    ],
)
def test_bad_input_is_one_sentence_and_writes_nothing(arguments, printer, words, rigfit):
    status, files, said = rigfit(*arguments, printer=printer)
    assert status == 2
    assert files == set()
    assert said.startswith("rigfit: ")
    assert [word for word in words if word not in said] == []
