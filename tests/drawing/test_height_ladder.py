import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from shapely.geometry import Polygon

from rigfit import tasks
from rigfit.drawing.fonts import text_box
from rigfit.drawing.height_ladder import Panel, ladder_items, range_height, range_items
from rigfit.drawing.labels import VERDICT_INK
from rigfit.drawing.scene import Disc, Ink, Path, Text
from rigfit.rigging.fit_check import fit_check
from rigfit.units import Shown
from tests.builders import CATALOGUE, changed, jobs, reading
from tests.demo_reports import CASES, demo_in, report_on

PANEL = Panel(0.0, 0.0, 112.0, 190.0, (0.0, 0.0), 1.0)
MEASURED = tuple(case for case in CASES if not case.startswith("empty"))
FEW = tuple(case for case in MEASURED if not case.startswith(("plate-adj", "plate-step")))


def ladder(case, panel=PANEL):
    return ladder_items(report_on(case), panel, Shown("in" if case.endswith("-in") else "mm"))


def texts(items):
    return [item for item in items if isinstance(item, Text)]


def discs(items):
    return [item for item in items if isinstance(item, Disc)]


def ratio(items):
    note = next(item.words for item in texts(items) if "upright 1:" in item.words)
    return float(note.rpartition(":")[2])


def level_at(items):
    """Return a function from a height on the panel to mm above the keel line, from the axis."""
    zero = next(item.at[1] for item in texts(items) if item.words == "keel line")
    scale = ratio(items)
    return lambda y: (y - zero) * scale


def possible(report):
    return [option for option in report.options if option.is_possible and option.plate]


# ---------------------------------------------------------------- rungs


@pytest.mark.parametrize("case", FEW)
def test_a_rung_stands_at_each_height(case):
    items = ladder(case)
    level = level_at(items)
    expected = [option.plate.value for option in possible(report_on(case))]
    assert [level(item.centre[1]) for item in discs(items)] == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("case", MEASURED)
def test_the_axis_is_true(case):
    items = ladder(case)
    level = level_at(items)
    ticks = [item for item in texts(items) if item.across == "right" and item.height_mm == 2.0]
    named = [item for item in ticks if item.words != "keel line"]
    assert len(named) >= 2
    assert [level(item.at[1]) for item in named] == pytest.approx(
        [float(item.words) for item in named], abs=1e-6
    )


@pytest.mark.parametrize("case", MEASURED)
def test_the_target_is_filled_at_its_levels(case):
    items, band = ladder(case), report_on(case).case.band
    level = level_at(items)
    fills = [item for item in items if isinstance(item, Path) and item.fill is Ink.BAND]
    edges = [sorted({level(y) for _, y in item.points}) for item in fills]
    assert edges == [pytest.approx([band.low_mm, band.high_mm], abs=1e-6)]


@pytest.mark.parametrize("case", FEW)
def test_a_rung_has_the_colour_and_word_of_its_verdict(case):
    options = possible(report_on(case))
    items = ladder(case)
    said = [item for item in texts(items) if item.words == item.ink.value and item.bold]
    assert [item.words for item in said] == [option.verdict.value for option in options]
    assert [item.fill for item in discs(items)] == [VERDICT_INK[o.verdict] for o in options]


def test_rungs_say_row_height_and_tolerance():
    said = [item.words for item in texts(ladder("B-mm"))]
    assert [word for word in said if word.startswith("row ")] == [
        "row 1",
        "row 2",
        "row 3",
        "row 4",
    ]
    assert [word for word in said if "±" in word] == [
        "-6.8 ± 5.3",
        "+12 ± 5.4",
        "+30 ± 5.5",
        "+49 ± 5.6",
    ]


def test_the_mounted_row_is_bold():
    bold = [item.words for item in texts(ladder("B-mm")) if item.bold and item.ink is Ink.LINE]
    assert bold == ["Height of the plate", "row 2", "+12 ± 5.4"]


@pytest.mark.parametrize("case", FEW)
def test_whiskers_are_as_long_as_the_tolerance(case):
    items = ladder(case)
    spans = [
        abs(item.points[1][1] - item.points[0][1]) * ratio(items)
        for item in items
        if isinstance(item, Path)
        and len(item.points) == 2
        and item.points[0][0] == pytest.approx(item.points[1][0])
        and item.pen.ink in VERDICT_INK.values()
    ]
    expected = [2.0 * option.plate.tolerance for option in possible(report_on(case))]
    assert spans == pytest.approx(expected, abs=1e-6)


def test_an_engine_that_clamps_on_has_one_rung():
    items = ladder("portable-mm")
    assert len(discs(items)) == 1
    assert "clamped" in [item.words for item in texts(items)]


def test_a_refused_height_has_no_rung():
    job = changed(demo_in(), engines=(demo_in().engines[1],))
    report = tasks.check(changed(job, engine__max_lift=reading(30.0)))
    assert len(report.options) == 4
    assert len(discs(ladder_items(report, PANEL, Shown()))) == 2


def test_an_empty_job_says_so():
    assert [item.words for item in ladder("empty-mm")] == [
        "Height of the plate",
        "not to be computed yet",
    ]


def test_of_very_many_heights_the_nearest_are_shown():
    report = report_on("plate-adjustable-mm")
    items = ladder("plate-adjustable-mm")
    count = len(possible(report))
    note = next(item.words for item in texts(items) if "upright" in item.words)
    assert count > 16
    assert len(discs(items)) == 16
    assert note.startswith(f"16 of {count} heights, upright 1:")


# The table lists a stepless plate every 12.7 mm; an owner sets it where it pleases.
@pytest.mark.parametrize("setting", [0.0, 101.6, 30.0, 125.0])
def test_the_mounted_height_is_among_those_shown(setting):
    job = changed(report_on("plate-adjustable-mm").case.job, mounting__row=4)
    job = changed(job, mounting__bracket_setting=reading(setting))
    report = tasks.check(job)
    items = ladder_items(report, PANEL, Shown())
    marked = [item for item in discs(items) if item.radius_mm == pytest.approx(1.3)]
    assert [level_at(items)(item.centre[1]) for item in marked] == [
        pytest.approx(report.mounted.plate.value, abs=1e-6)
    ]


# ---------------------------------------------------------------- the panel


def boxes(items, scale=1.0):
    return [(item.words, Polygon(text_box(item, scale))) for item in texts(items)]


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("corner", [(0.0, 0.0), (-800.0, 350.0)])
def test_a_panel_elsewhere_holds_the_same(case, corner):
    panel = Panel(0.0, 0.0, PANEL.width, PANEL.height, corner, 5.0)
    here, there = discs(ladder(case)), discs(ladder(case, panel))
    assert [item.centre for item in there] == [
        pytest.approx((corner[0] + 5.0 * item.centre[0], corner[1] + 5.0 * item.centre[1]))
        for item in here
    ]


@settings(max_examples=80)
@given(jobs())
def test_labels_stay_apart_and_in_the_panel(job):
    items = ladder_items(fit_check(job, CATALOGUE), PANEL, Shown(job.units.lengths))
    places = [item.at[1] for item in texts(items) if item.up == "middle" and item.at[0] == 37.0]
    gaps = [above - below for below, above in pairwise(places)]
    assert len(places) == len(discs(items))
    assert all(gap >= 4.4 - 1e-9 for gap in gaps)
    assert all(0.0 <= y <= PANEL.height - 10.0 for y in places)


@settings(max_examples=80)
@given(jobs())
def test_marks_and_whiskers_stay_in_the_panel(job):
    items = ladder_items(fit_check(job, CATALOGUE), PANEL, Shown(job.units.lengths))
    levels = [point[1] for item in items if isinstance(item, Path) for point in item.points]
    levels += [item.centre[1] for item in discs(items)]
    assert all(-1e-6 <= y <= PANEL.height - 8.0 for y in levels)


def test_a_very_wide_tolerance_stays_in_the_panel():
    job = changed(demo_in(), transom__height_along_face=reading(518.0, 300.0))
    items = ladder_items(tasks.check(job), PANEL, Shown())
    levels = [point[1] for item in items if isinstance(item, Path) for point in item.points]
    assert (min(levels) >= 0.0, max(levels) <= PANEL.height) == (True, True)


# ---------------------------------------------------------------- legs


def table(case):
    items = range_items(report_on(case), PANEL, Shown("in" if case.endswith("-in") else "mm"))
    return [item.words for item in texts(items)]


def test_the_table_of_legs_agrees_with_the_report():
    ranges = report_on("B-mm").ranges
    said = table("B-mm")
    cells = [said[4 + 4 * index : 8 + 4 * index] for index in range(len(ranges))]
    assert len(said) == 4 + 4 * len(ranges)
    assert [float(row[1]) for row in cells] == pytest.approx([r.low_mm for r in ranges], abs=0.5)
    assert [row[3] for row in cells] == [entry.verdict.value for entry in ranges]


@pytest.mark.parametrize(
    ("case", "leg"), [("B-mm", "measured leg 514"), ("A-mm", "leg as stated 540")]
)
def test_the_own_leg_is_named_with_its_length(case, leg):
    assert leg in table(case)


@pytest.mark.parametrize("case", ["B-in", "A-in"])
def test_a_leg_has_no_sign(case):
    # Heights above the keel line are signed, lengths are not.
    own = next(words for words in table(case) if "stated" in words or "measured" in words)
    assert "+" not in own


def test_an_empty_job_has_no_table():
    report = report_on("empty-mm")
    assert range_items(report, PANEL, Shown()) == ()
    assert range_height(report) == 0.0


@pytest.mark.parametrize("case", MEASURED)
def test_the_table_keeps_to_its_height(case):
    report = report_on(case)
    items = range_items(report, PANEL, Shown("in" if case.endswith("-in") else "mm"))
    shapes = [shape.bounds for _, shape in boxes(items)]
    assert min(bounds[1] for bounds in shapes) >= 0.0
    assert max(bounds[3] for bounds in shapes) <= range_height(report)
    assert math.isclose(range_height(report), 6.5 * (len(report.ranges) + 1) + 3.0)
