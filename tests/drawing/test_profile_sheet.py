from itertools import combinations

import pytest
from hypothesis import given, settings
from shapely.geometry import Polygon, box

from rigfit import tasks
from rigfit.drawing.fonts import text_box
from rigfit.drawing.profile_sheet import SCALES, SheetWords, profile_sheet
from rigfit.drawing.scene import Disc, Path, Scene, Text
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.to_list import words
from rigfit.errors import OutputError
from rigfit.rigging.fit_check import fit_check
from rigfit.units import Shown
from tests.builders import CATALOGUE, changed, jobs
from tests.demo_reports import CASES, demo_in, report_on

PAPERS = ("A3", "A4", "Letter")
TOUCHING_MM = 0.1
BORDER_MM = 10.0

every_sheet = pytest.mark.parametrize(
    ("case", "paper"), [(case, paper) for case in CASES for paper in PAPERS]
)


def sheet(case, paper="A3"):
    return tasks.profile_scene(report_on(case), paper)


def on_paper(scene, points):
    (x, y), scale = scene.placement.corner, scene.scale
    return [((px - x) / scale, (py - y) / scale) for px, py in points]


def text_areas(scene):
    """Return (words, area in paper mm) of every text."""
    return [
        (item.words, Polygon(on_paper(scene, text_box(item, scene.scale))))
        for item in scene.items
        if isinstance(item, Text) and item.words
    ]


def frame_of(scene, by=0.0):
    paper = scene.placement.paper
    edge = BORDER_MM - by
    return box(edge, edge, paper.width_mm - edge, paper.height_mm - edge)


def overlaps(scene):
    """Return pairs of texts that cover each other by more than a touch."""
    areas = [(said, area.buffer(-TOUCHING_MM / 2.0)) for said, area in text_areas(scene)]
    return [
        (first, second)
        for (first, one), (second, other) in combinations(areas, 2)
        if one.intersects(other)
    ]


# ---------------------------------------------------------------- fit on the sheet


@every_sheet
def test_the_profile_goes_on_the_sheet(case, paper):
    scene = sheet(case, paper)
    assert scene.scale in SCALES
    assert scene.placement.paper.name == paper


@every_sheet
def test_no_text_covers_another(case, paper):
    assert overlaps(sheet(case, paper)) == []


@every_sheet
def test_all_text_is_inside_the_frame(case, paper):
    scene = sheet(case, paper)
    frame = frame_of(scene, by=0.01)
    assert [said for said, area in text_areas(scene) if not frame.covers(area)] == []


@every_sheet
def test_everything_is_on_the_paper(case, paper):
    scene = sheet(case, paper)
    left, bottom, right, top = full_extents(scene.items, scene.scale)
    (x0, y0), (x1, y1) = on_paper(scene, ((left, bottom), (right, top)))
    assert min(x0, y0) >= 0.0
    assert (x1, y1) <= (scene.placement.paper.width_mm, scene.placement.paper.height_mm)


@every_sheet
def test_the_drawing_itself_is_inside_the_frame(case, paper):
    scene = sheet(case, paper)
    frame = frame_of(scene, by=0.01)
    shapes = [item for item in scene.items if isinstance(item, Path) and item.group != "sheet"]
    outside = [
        item.ref or item.layer
        for item in shapes
        if not all(frame.covers(box(*p, *p)) for p in on_paper(scene, item.points))
    ]
    assert outside == []


def is_caption(item):
    return isinstance(item, Text) and item.words.startswith("Profile 1:")


@pytest.mark.parametrize("paper", ["A3", "Tabloid", "Legal"])
@pytest.mark.parametrize("case", CASES)
def test_the_profile_keeps_to_its_side_of_the_rule(case, paper):
    scene = sheet(case, paper)
    rule = next(i for i in scene.items if isinstance(i, Path) and i.layer == "SHEET")
    (x, y), (far, _) = on_paper(scene, rule.points)
    caption = next(i for i, item in enumerate(scene.items) if is_caption(item))
    profile = scene.items[:caption]
    left, bottom, right, top = full_extents(profile, scene.scale)
    (_, low), (high, _) = on_paper(scene, ((left, bottom), (right, top)))
    # Upright beside the ladder, level above it on small paper.
    assert (high <= x) if far == pytest.approx(x) else (low >= y)


@settings(max_examples=40)
@given(jobs())
def test_any_job_goes_on_a3(job):
    said = SheetWords("Nothing stops it.", ("Measure twice.",), "0.1.0")
    scene = profile_sheet(fit_check(job, CATALOGUE), Shown(job.units.lengths), said)
    frame = frame_of(scene, by=0.01)
    assert [words for words, area in text_areas(scene) if not frame.covers(area)] == []


@pytest.mark.parametrize("engine_class", ["portable-2-6", "large-250-300"])
@pytest.mark.parametrize("paper", PAPERS)
def test_the_smallest_and_the_largest_class_go_on_the_sheet(engine_class, paper):
    job = changed(demo_in(), mounting__row=None, mounting__engine="")
    job = changed(job, engine__engine_class=engine_class, engine__leg_measured=None)
    scene = tasks.profile_scene(tasks.check(job, "A"), paper)
    assert scene.scale in SCALES


def test_an_unknown_paper_is_refused():
    with pytest.raises(OutputError, match="A4, A3, Letter, Legal, Tabloid"):
        sheet("B-mm", "B5")


# ---------------------------------------------------------------- what it says


@pytest.mark.parametrize(
    ("case", "status"),
    [
        ("B-mm", "FITS: Everything that was checked fits, by more than its tolerance."),
        ("C-mm", "STOPS: Do not: "),
        ("A-mm", "UNKNOWN: Not to be decided yet: "),
        ("D-mm", "TIGHT: Nothing stops it; "),
    ],
)
def test_the_title_block_gives_the_verdict(case, status):
    said = " ".join(words(sheet(case)))
    assert status in said


@pytest.mark.parametrize("case", CASES)
def test_the_cautions_are_on_every_sheet(case):
    said = " ".join(words(sheet(case)))
    assert "and check the height afloat before sealing." in said
    assert "keep clear below it" in said


@pytest.mark.parametrize(
    ("case", "units"),
    [("B-mm", "Dimensions in millimetres"), ("B-in", "Inches to 1/16, millimetres in brackets")],
)
def test_the_title_block_gives_the_units(case, units):
    assert units in " ".join(words(sheet(case)))


@pytest.mark.parametrize("paper", ["A3", "A4", "Tabloid", "Legal"])
def test_the_scale_is_named_as_drawn(paper):
    scene = sheet("B-mm", paper)
    said = words(scene)
    assert f"Profile 1:{scene.scale:g}" in said
    assert f"1:{scene.scale:g}" in said


def test_what_was_drawn_at_a_usual_size_is_named():
    note = "Not measured, drawn at a usual size: transom height, rake, leg, transom thickness"
    assert note in words(sheet("empty-mm"))
    assert not any("usual size" in line for line in words(sheet("B-mm")))


def test_a_date_is_printed_only_when_given():
    report = report_on("B-mm")
    assert "14 March 2026" in words(tasks.profile_scene(report, date="14 March 2026"))
    assert len(words(tasks.profile_scene(report))) + 1 == len(
        words(tasks.profile_scene(report, date="14 March"))
    )


@pytest.mark.parametrize(("paper", "wide"), [("A3", True), ("Tabloid", True), ("A4", False)])
def test_small_paper_stands_upright(paper, wide):
    laid = sheet("B-mm", paper).placement.paper
    assert (laid.width_mm > laid.height_mm) == wide


@pytest.mark.parametrize("case", ["B-mm", "plate-fixed-in", "empty-mm"])
def test_larger_paper_has_no_smaller_scale(case):
    assert sheet(case, "A3").scale <= sheet(case, "Legal").scale


@pytest.mark.parametrize("case", CASES)
def test_a_profile_keeps_its_true_proportions(case):
    scene = sheet(case)
    plate = next(item for item in scene.items if getattr(item, "ref", "") == "engine-plate")
    xs = [x for x, _ in plate.points]
    length = report_on(case).case.engine.sizes.plate_length
    assert max(xs) - min(xs) == pytest.approx(length, abs=1e-6)


def test_bounds_hold_words_as_well():
    text = Text((0.0, 0.0), "keel line", "NOTES", height_mm=5.0)
    items = (Disc((0.0, 0.0), 1.0, "HULL"), text)
    bounds = full_extents(items, 2.0)
    assert Scene("", items, 2.0).bounds() == (-1.0, -1.0, 1.0, 1.0)
    assert box(*bounds).covers(Polygon(text_box(text, 2.0)))
