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
    "dunlin-B-profile.svg",
    "dunlin-B-profile.png",
    "dunlin-B-profile.pdf",
    "dunlin-B-profile.dxf",
    "dunlin-B-template.dxf",
    "dunlin-B-cut.dxf",
    "dunlin-B-report.txt",
    "dunlin-B-report.json",
)
TEXTS = tuple(name for name in NAMES if not name.endswith((".png", ".pdf")))
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


def test_the_pdf_has_the_same_pages(fresh):
    old, new = pages(kept("dunlin-B-profile.pdf")), pages(fresh / "dunlin-B-profile.pdf")
    assert [page[0] for page in old] == [page[0] for page in new], REMAKE
    assert [page[1] for page in old] == [page[1] for page in new], REMAKE
    assert [page[2] for page in old] == [page[2] for page in new], REMAKE


def test_the_pdf_is_one_page_of_a3_with_words_and_lines(fresh):
    ((size, words, counts),) = pages(fresh / "dunlin-B-profile.pdf")
    assert size == (1191.0, 842.0)  # whole points
    assert "Cautions" in words
    assert counts["path"] > 100


def test_the_png_looks_the_same(fresh):
    old, new = pixels(kept("dunlin-B-profile.png")), pixels(fresh / "dunlin-B-profile.png")
    assert old.shape == new.shape, REMAKE
    assert np.abs(old - new).mean() < 1.0, REMAKE


def test_a_moved_drawing_would_be_noticed(fresh):
    picture = pixels(fresh / "dunlin-B-profile.png")
    assert np.abs(picture - np.roll(picture, 8, axis=0)).mean() > 1.0
