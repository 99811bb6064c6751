"""The sheets afloat: on paper with title block and cautions, and refused where nothing is known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rigfit import tasks
from rigfit.drawing.afloat_sheet import afloat_sheet
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Text
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.drawing.strokes import full_extents
from rigfit.errors import NotMeasuredError, OutputError, UsageError
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hull_fields import Hull
from rigfit.wording import CAUTIONS
from tests.builders import CATALOGUE, sample_job
from tests.rigging.afloat_jobs import afloat_job

SHEETS = ("afloat", "scupper-curve")


def report(**changes):
    return fit_check(afloat_job(**changes), CATALOGUE)


def words(scene):
    return [item.words for item in scene.items if isinstance(item, Text)]


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("paper", PAPERS_MM)
@pytest.mark.parametrize("sheet", SHEETS)
def test_everything_lies_on_the_paper(sheet, paper, lengths):
    scene = tasks.sheet_scene(report(units__lengths=lengths), sheet, paper)
    placed = scene.placement
    left, bottom, right, top = full_extents(scene.items, scene.scale)
    wide, high = placed.paper.width_mm * scene.scale, placed.paper.height_mm * scene.scale
    assert placed.corner[0] - 1e-6 <= left < right <= placed.corner[0] + wide + 1e-6
    assert placed.corner[1] - 1e-6 <= bottom < top <= placed.corner[1] + high + 1e-6


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_the_curve_goes_on_every_paper(paper):
    assert tasks.sheet_scene(report(), "scupper-curve", paper).placement.paper.name == paper


def test_an_unknown_paper_is_refused():
    with pytest.raises(OutputError, match="A99"):
        tasks.sheet_scene(report(), "afloat", "A99")


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_sheet_says_boat_verdict_and_cautions(sheet):
    found = report()
    text = " ".join(words(tasks.sheet_scene(found, sheet, "A3", "1 May")))
    assert found.verdict.value.upper() in text
    assert "1 May" in text
    for caution in CAUTIONS:
        assert caution.split(",")[0][:30] in text
    assert "calm water" in text


@pytest.mark.parametrize("sheet", SHEETS)
def test_nothing_entered_is_refused_naming_what_to_fill_in(sheet):
    bare = fit_check(sample_job(), CATALOGUE)
    with pytest.raises(NotMeasuredError, match="nothing is entered about how she floats"):
        tasks.sheet_scene(bare, sheet)


def test_what_stands_in_the_way_is_said():
    with pytest.raises(NotMeasuredError, match="beam between the chines"):
        tasks.sheet_scene(report(hull=Hull()), "afloat")


def test_braces_in_a_name_do_no_harm():
    found = report()
    job = replace(found.case.job, boat=replace(found.case.job.boat, name="{x} %s"))
    scene = afloat_sheet(
        fit_check(job, CATALOGUE), tasks.shown(job.units), SheetWords("", (), "1"), "A3"
    )
    assert "{x} %s" in words(scene)


def test_the_sheets_are_offered_by_name():
    assert set(SHEETS) <= set(tasks.SHEETS)
    with pytest.raises(UsageError, match="scupper-curve"):
        tasks.sheet_scene(report(), "curve")


@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
def test_a_sheet_is_written_in_every_kind(kind, tmp_path):
    written = tasks.write_drawing(report(), tmp_path / f"a.{kind}", sheet="afloat")
    assert written.path.stat().st_size > 1000
    assert written.what == f"afloat, before and after, {kind.upper()}"
