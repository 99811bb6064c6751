"""The folder ``exports`` holds what the demo writes today."""

import numpy as np
import pypdfium2
import pytest
from PIL import Image
from pypdfium2 import raw

from rigfit import tasks
from tests.demo_reports import ROOT

EXPORTS = ROOT / "exports"
REMAKE = "remake the folder with: python -m rigfit demo exports"
NAMES = (
    "dunlin.toml",
    "dunlin-drilled.toml",
    "dunlin-B-profile.svg",
    "dunlin-B-profile.png",
    "dunlin-B-profile.pdf",
    "dunlin-B-profile.dxf",
    "dunlin-B-template.dxf",
    "dunlin-B-cut.dxf",
    "dunlin-B-report.txt",
    "dunlin-B-report.json",
    "dunlin-B-face.pdf",
    "dunlin-B-face-inside.pdf",
    "dunlin-B-section.pdf",
    "dunlin-B-swing.pdf",
    "dunlin-B-swing-plan.pdf",
    "dunlin-B-swing-worst.pdf",
    "dunlin-B-afloat.pdf",
    "dunlin-B-float-test.pdf",
    "dunlin-B-underway.pdf",
    "dunlin-B-trial.pdf",
    "dunlin-B-trial-form.pdf",
    "dunlin-B-template-outside-A4.pdf",
    "dunlin-B-jig.dxf",
    "dunlin-B-jig-cut.dxf",
    "dunlin-B-backing-plate-upper-row.dxf",
    "dunlin-B-backing-plate-lower-row.dxf",
    "dunlin-B-dash.dxf",
    "dunlin-B-dash-cut.dxf",
)
TEXTS = tuple(name for name in NAMES if not name.endswith((".png", ".pdf")))
PDFS = {
    # name: pages, size of each in whole points
    "dunlin-B-profile.pdf": (1, (1191.0, 842.0)),
    "dunlin-B-face.pdf": (1, (1191.0, 842.0)),
    "dunlin-B-face-inside.pdf": (1, (1191.0, 842.0)),
    "dunlin-B-section.pdf": (1, (842.0, 595.0)),
    "dunlin-B-swing.pdf": (1, (1191.0, 842.0)),
    "dunlin-B-swing-plan.pdf": (1, (842.0, 595.0)),
    "dunlin-B-swing-worst.pdf": (1, (595.0, 842.0)),
    "dunlin-B-afloat.pdf": (1, (1191.0, 842.0)),
    "dunlin-B-float-test.pdf": (1, (595.0, 842.0)),
    "dunlin-B-underway.pdf": (1, (842.0, 595.0)),
    "dunlin-B-trial.pdf": (1, (595.0, 842.0)),
    "dunlin-B-trial-form.pdf": (1, (595.0, 842.0)),
    "dunlin-B-template-outside-A4.pdf": (5, None),  # the first page upright, the sheets lying
}
PAGE_OBJECTS = {raw.FPDF_PAGEOBJ_PATH: "path", raw.FPDF_PAGEOBJ_TEXT: "text"}


@pytest.fixture(scope="module")
def fresh(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    tasks.write_demo(folder)
    return folder


def kept(name):
    path = EXPORTS / name
    assert path.is_file(), f"exports/{name} is missing; {REMAKE}"
    return path


def lines(path):
    # A checkout may have changed the line ends.
    return path.read_bytes().replace(b"\r\n", b"\n").decode("utf-8").split("\n")


def first_difference(old, new):
    """Return the first line that differs, with its number; None for the same lines."""
    for number, pair in enumerate(zip(old, new, strict=False), start=1):
        if pair[0] != pair[1]:
            return number, *pair
    return None if len(old) == len(new) else (min(len(old), len(new)) + 1, len(old), len(new))


def pages(path):
    """Return size, words and number of objects of each page of a PDF."""
    with pypdfium2.PdfDocument(path) as document:
        found = []
        for page in document:
            text = page.get_textpage()
            kinds = [PAGE_OBJECTS.get(item.type, "other") for item in page.get_objects()]
            counts = {kind: kinds.count(kind) for kind in sorted(set(kinds))}
            found.append((page.get_size(), text.get_text_bounded().split(), counts))
            text.close()
            page.close()
    return found


def pixels(path):
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB"), dtype=np.float64)


@pytest.mark.parametrize("name", NAMES)
def test_the_export_is_there(name):
    assert kept(name).stat().st_size > 400


def test_the_demo_writes_these_files_and_no_other(fresh):
    assert {path.name for path in fresh.iterdir()} == set(NAMES)


def test_there_is_nothing_else_from_an_older_demo():
    found = {path.name for path in EXPORTS.glob("dunlin*")}
    assert found - set(NAMES) == set(), f"left over from an older rigfit; delete and {REMAKE}"


@pytest.mark.parametrize("name", TEXTS)
def test_a_text_is_the_same(name, fresh):
    differs = first_difference(lines(kept(name)), lines(fresh / name))
    assert differs is None, f"exports/{name} is out of date; {REMAKE}"


@pytest.mark.parametrize("name", PDFS)
def test_a_pdf_has_the_same_pages(name, fresh):
    old, new = pages(kept(name)), pages(fresh / name)
    assert [page[0] for page in old] == [page[0] for page in new], REMAKE
    assert [page[1] for page in old] == [page[1] for page in new], REMAKE
    assert [page[2] for page in old] == [page[2] for page in new], REMAKE


@pytest.mark.parametrize("name", PDFS)
def test_a_pdf_has_its_pages_with_words_and_lines(name, fresh):
    found = pages(fresh / name)
    count, size = PDFS[name]
    assert len(found) == count
    for each, words, counts in found:
        assert size is None or tuple(map(round, each)) == size
        assert len(words) > 20
        assert counts["path"] > 10
    assert count > 1 or "Cautions" in found[0][1]


def test_the_two_views_of_the_face_say_which_they_are(fresh):
    outside, inside = (
        " ".join(pages(fresh / f"dunlin-B-{name}.pdf")[0][1]) for name in ("face", "face-inside")
    )
    assert "SEEN FROM ASTERN" in outside
    assert "MIRRORED" not in outside
    assert "SEEN FROM INSIDE: MIRRORED" in inside


def test_the_sheets_to_print_say_that_the_bars_were_confirmed(fresh):
    for _, words, _ in pages(fresh / "dunlin-B-template-outside-A4.pdf"):
        assert "bars confirmed" in " ".join(words)


def test_the_png_looks_the_same(fresh):
    old, new = pixels(kept("dunlin-B-profile.png")), pixels(fresh / "dunlin-B-profile.png")
    assert old.shape == new.shape, REMAKE
    assert np.abs(old - new).mean() < 1.0, REMAKE


def test_a_moved_drawing_would_be_noticed(fresh):
    picture = pixels(fresh / "dunlin-B-profile.png")
    assert np.abs(picture - np.roll(picture, 8, axis=0)).mean() > 1.0
