"""The sheet of the float test: on every paper, a box for every reading, the cautions, stop rows."""

from __future__ import annotations

import itertools

import pytest

from rigfit import tasks
from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Ink, Path, Text
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.drawing.strokes import full_extents
from rigfit.errors import NotMeasuredError
from rigfit.rigging.afloat import Flotation, flotation_of
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hull_fields import WaterMark
from rigfit.rigging.margins import float_test
from tests.builders import CATALOGUE, reading, sample_job
from tests.rigging.afloat_jobs import AFLOAT, afloat_job

MANY = tuple(
    WaterMark(f"a place with a long name {k}", "other", above_water=reading(60.0 + 25.0 * k, 5.0))
    for k in range(12)
)
JOBS = {
    "plain": {},
    "many marks": {"marks": MANY},
    "much heavier": {"engine__mass": reading(290.0, 2.0)},
    "lighter": {"engine__mass": reading(90.0, 2.0)},
    "not known before": {"afloat": AFLOAT.__class__(transom_top=reading(300.0, 5.0))},
    "off centre": {"mounting__off_centre": reading(40.0, 2.0)},
}


def report(name="plain", **changes):
    return fit_check(afloat_job(**JOBS[name], **changes), CATALOGUE)


def sheet(found, paper="A4"):
    return tasks.sheet_scene(found, "float-test", paper)


def words(scene):
    return [item.words for item in scene.items if isinstance(item, Text)]


CAN = [name for name in JOBS if name != "not known before"]


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("paper", PAPERS_MM)
@pytest.mark.parametrize("name", CAN)
def test_it_goes_on_every_paper_and_nothing_stands_on_anything(name, paper, lengths):
    scene = sheet(report(name, units__lengths=lengths), paper)
    placed = scene.placement
    left, bottom, right, top = full_extents(scene.items, scene.scale)
    wide, high = placed.paper.width_mm * scene.scale, placed.paper.height_mm * scene.scale
    assert placed.corner[0] - 1e-6 <= left < right <= placed.corner[0] + wide + 1e-6
    assert placed.corner[1] - 1e-6 <= bottom < top <= placed.corner[1] + high + 1e-6
    boxes = []
    for item in scene.items:
        if isinstance(item, Text):
            xs, ys = zip(*text_box(item, scene.scale), strict=True)
            boxes.append((item.words, min(xs), min(ys), max(xs), max(ys)))
    hair = 0.05 * scene.scale
    for a, b in itertools.combinations(boxes, 2):
        apart = a[1] >= b[3] - hair or b[1] >= a[3] - hair
        assert apart or a[2] >= b[4] - hair or b[2] >= a[4] - hair, (a[0], b[0])


def test_there_is_a_box_for_every_reading_of_every_step():
    found = report()
    flotation = flotation_of(found.case)
    assert isinstance(flotation, Flotation)
    test = float_test(flotation)
    fill = [item for item in sheet(found).items if item.ref == "to-fill"]
    assert len(fill) == len(test.steps) * len(flotation.marks)
    said = words(sheet(found))
    for step in test.steps:
        for at, _ in step.heights:
            assert any(text.startswith(f"{at:.0f} ±") for text in said)


def test_the_boxes_to_fill_are_large_enough_for_a_pencil():
    for paper in PAPERS_MM:
        scene = sheet(report("many marks"), paper)
        for item in scene.items:
            if isinstance(item, Path) and item.ref == "to-fill":
                xs, ys = zip(*item.points, strict=True)
                assert (max(ys) - min(ys)) / scene.scale >= 4.0
                assert (max(xs) - min(xs)) / scene.scale >= 12.0


def test_it_warns_of_what_can_drown_somebody():
    text = " ".join(words(sheet(report())))
    for part in ("heltered", "Life jackets", "Nobody does this alone", "Bungs in", "nobody aboard",
                 "cannot roll", "comes within 25 mm", "believe the water"):  # fmt: skip
        assert part in text


def test_a_step_that_may_wet_a_mark_says_stop():
    low = fit_check(afloat_job(afloat__scupper=reading(20.0, 5.0)), CATALOGUE)
    stops = [item for item in sheet(low).items if isinstance(item, Text) and "STOP" in item.words]
    assert stops
    assert all(item.ink is Ink.STOPS for item in stops)
    assert not any("STOP" in text for text in words(sheet(report())))


def test_a_lighter_engine_has_one_row_to_read_and_no_weights():
    found = report("lighter")
    scene = sheet(found)
    text = " ".join(words(scene))
    assert "does not sink her transom" in text
    assert "After each portion" not in text
    marks = len(flotation_of(found.case).marks)
    assert len([item for item in scene.items if item.ref == "to-fill"]) == marks


def test_an_engine_off_the_middle_is_tested_off_the_middle():
    text = " ".join(words(sheet(report("off centre"))))
    assert "to starboard" in text


def test_what_is_missing_is_said():
    with pytest.raises(NotMeasuredError, match="mass of the engine"):
        sheet(report("not known before"))
    with pytest.raises(NotMeasuredError, match="nothing is entered"):
        sheet(fit_check(sample_job(), CATALOGUE))


def test_a_step_that_comes_near_the_water_says_stop_before_one_that_wets():
    low = fit_check(
        afloat_job(afloat__scupper=reading(80.0, 5.0), engine__mass=reading(290.0, 2.0)), CATALOGUE
    )
    stops = [text for text in words(sheet(low)) if text.startswith("STOP:")]
    assert stops == sorted(stops)
    assert stops[-1] == "STOP: wet"
    text = " ".join(words(sheet(low)))
    assert "Stop before it is all in" in text
    assert "may wet scupper" in text
