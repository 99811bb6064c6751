import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from rigfit import tasks
from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Disc, Ink, Path, Text
from rigfit.drawing.side_view import (
    engine_items,
    ghost_items,
    on_face,
    side_items,
    side_layers,
    sketch_of,
)
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.outline import placed
from rigfit.rigging.plate_height import Rig
from rigfit.units import Shown
from tests.builders import CATALOGUE, changed, jobs, reading, sample_job
from tests.demo_reports import CASES, demo_in, report_on

SCALE = 5.0
MEASURED = tuple(case for case in CASES if not case.startswith("empty"))


def drawn(case, scale=SCALE):
    return side_items(report_on(case), scale, Shown("in" if case.endswith("-in") else "mm"))


def paths(items, ref):
    return [item for item in items if isinstance(item, Path) and item.ref == ref]


def words(items, ref=None):
    return [
        item.words for item in items if isinstance(item, Text) and (ref is None or item.ref == ref)
    ]


def tips(items, ref):
    """Return where the arrowheads of a dimension point."""
    return [item.points[0] for item in paths(items, ref) if item.closed and len(item.points) == 3]


def underside(items):
    return min(z for path in paths(items, "engine-plate") for _, z in path.points)


def levels(path):
    heights = [z for _, z in path.points]
    return min(heights), max(heights)


# ---------------------------------------------------------------- the plate


@pytest.mark.parametrize("case", MEASURED)
def test_the_plate_is_drawn_where_the_report_says(case):
    plate = report_on(case).mounted.plate
    assert underside(drawn(case)) == pytest.approx(plate.value, abs=1e-6)


@pytest.mark.parametrize("case", MEASURED)
def test_the_whisker_is_the_tolerance(case):
    plate = report_on(case).mounted.plate
    beam = max(paths(drawn(case), "plate"), key=lambda path: LineString(path.points).length)
    low, high = plate.value - plate.tolerance, plate.value + plate.tolerance
    upright = [
        path for path in paths(drawn(case), "plate") if path.points[0][0] == path.points[1][0]
    ]
    assert any(levels(path) == pytest.approx((low, high), abs=1e-6) for path in [*upright, beam])


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ("A-mm", "plate +4.7 ± 37, unknown"),
        ("B-mm", "plate +12 ± 5.4, fits"),
        ("C-mm", "plate -77 ± 7.6, stops"),
        ("B-in", "plate +7/16 (+12 ± 5.4), fits"),
    ],
)
def test_the_answer_is_written_at_the_plate(case, said):
    assert words(drawn(case), "plate") == [said]


@pytest.mark.parametrize(
    ("case", "ink"), [("B-mm", Ink.FITS), ("C-mm", Ink.STOPS), ("A-mm", Ink.UNKNOWN)]
)
def test_the_mark_at_the_plate_has_the_colour_of_its_verdict(case, ink):
    marks = [item for item in drawn(case) if isinstance(item, Disc) and item.ref == "plate"]
    assert [item.fill for item in marks if item.fill is not Ink.MUTED] == [ink]


# ---------------------------------------------------------------- dimensions

SAID = {
    "height-along-face": ("518 ± 3", "20 3/8 (518 ± 3)"),
    "height-square": ("505 ± 3", "19 7/8 (505 ± 3)"),
    "rake": ("rake 13° ± 0.5°", "rake 13° ± 0.5°"),
    "thickness": ("45 ± 1", "1 3/4 (45 ± 1)"),
    "leg": ("leg 514 ± 3.2", "leg 20 1/4 (514 ± 3.2)"),
}


@pytest.mark.parametrize("ref", SAID)
@pytest.mark.parametrize("lengths", [0, 1], ids=["mm", "in"])
def test_a_dimension_says_its_reading(ref, lengths):
    assert words(drawn(("B-mm", "B-in")[lengths]), ref) == [SAID[ref][lengths]]


@pytest.mark.parametrize(
    ("ref", "length", "near"),
    [
        ("height-along-face", 518.0, 1e-6),
        ("thickness", 45.0, 1e-6),
        # From the seat, which turns about the tilt axis by the 1 degree from the class's rake.
        ("leg", 514.35, 0.1),
    ],
)
@pytest.mark.parametrize("scale", [2.0, 5.0, 16.0])
def test_a_dimension_spans_its_reading(ref, length, near, scale):
    first, second = tips(drawn("B-mm", scale), ref)
    assert math.dist(first, second) == pytest.approx(length, abs=near)


def test_the_square_height_is_drawn_as_the_face_gives_it():
    first, second = tips(drawn("B-mm"), "height-square")
    drawn_mm = abs(second[1] - first[1])
    assert drawn_mm == pytest.approx(518.0 * math.cos(math.radians(13.0)), abs=1e-6)
    assert drawn_mm == pytest.approx(505.0, abs=3.0)


def test_the_setback_spans_its_reading():
    # On row 2 the seat stands 25 mm higher than the bracket's foot: the line must stay square.
    items = drawn("plate-fixed-mm")
    assert words(items, "setback") == ["150 ± 3"]
    assert math.dist(*tips(items, "setback")) == pytest.approx(150.0, abs=1e-6)


@pytest.mark.parametrize("case", ["pod-level-mm", "plate-fixed-mm", "plate-adjustable-mm"])
def test_the_bracket_reaches_from_the_face_to_under_the_seat(case):
    report = report_on(case)
    rig = sketch_of(report).rig
    body = paths(drawn(case), "bracket")[0]
    assert body.points[0] == pytest.approx(on_face(rig, rig.height_face_mm))
    # The seat stands above the bracket's own top by what the bolt row lifts it.
    mounted = report.mounted
    row_lift = mounted.lift.value - report.case.bracket_height.value - mounted.setting_mm
    assert math.dist(body.points[1], rig.seat()) == pytest.approx(row_lift, abs=1e-9)


@pytest.mark.parametrize("case", ["B-mm", "C-in", "plate-adjustable-mm", "empty-mm"])
def test_the_layers_together_are_the_profile(case):
    report = report_on(case)
    layers = side_layers(report, SCALE, Shown(report.case.job.units.lengths))
    assert (*layers.under, *layers.moving, *layers.over) == drawn(case)


@pytest.mark.parametrize("case", ["B-mm", "D-mm"])
def test_only_the_middle_layer_moves_with_the_height(case):
    report = report_on(case)
    first, *others = [side_layers(report, SCALE, Shown(), option) for option in report.options]
    assert all((other.under, other.over) == (first.under, first.over) for other in others)
    assert all(other.moving != first.moving for other in others)


def test_the_moving_engine_follows_its_lift_along_the_face():
    report = report_on("B-mm")
    low, high = report.options[0], report.options[-1]
    rise = (high.lift.value - low.lift.value) * math.cos(math.radians(13.0))
    undersides = [
        underside(side_layers(report, SCALE, Shown(), option).moving) for option in (low, high)
    ]
    assert undersides[1] - undersides[0] == pytest.approx(rise, abs=1e-9)


def test_a_ghost_is_an_unfilled_outline_at_its_own_height():
    report = report_on("B-mm")
    option = report.options[2]
    ghost = ghost_items(report, option, SCALE, Shown())
    outlines = [item for item in ghost if isinstance(item, Path)]
    assert {item.fill for item in outlines} == {None}
    assert any(
        min(levels(item)) == pytest.approx(option.plate.value, abs=1e-6) for item in outlines
    )
    assert [item.words for item in ghost if isinstance(item, Text)] == ["row 3 +30"]


def test_a_stated_leg_carries_a_question_mark():
    assert words(drawn("A-mm"), "leg") == ["leg 540 ± 32 ?"]


def test_no_dimension_without_its_reading():
    items = drawn("empty-mm")
    assert [ref for ref in SAID if words(items, ref)] == []
    assert words(items, "plate") == []


@pytest.mark.parametrize(
    ("change", "label"),
    [
        ("transom__height_along_face", "transom height"),
        ("transom__rake", "rake"),
        ("transom__thickness", "transom thickness"),
    ],
)
def test_what_is_drawn_at_a_usual_size_is_named(change, label):
    job = changed(demo_in(), **{change: None, "transom__height_square": None})
    assert sketch_of(tasks.check(job)).guessed == (label,)


def test_an_empty_job_names_all_it_had_to_guess():
    assert sketch_of(report_on("empty-mm")).guessed == (
        "transom height",
        "rake",
        "leg",
        "transom thickness",
    )


# ---------------------------------------------------------------- target


@pytest.mark.parametrize("case", MEASURED)
def test_the_target_is_drawn_at_its_levels(case):
    band = report_on(case).case.band
    strips = [path for path in paths(drawn(case), "target") if path.closed]
    assert [levels(path) for path in strips] == [(band.low_mm, band.high_mm)]
    assert [path.fill for path in strips] == [Ink.BAND]


@pytest.mark.parametrize("case", MEASURED)
def test_the_tolerated_range_holds_the_target(case):
    items = drawn(case)
    outer = paths(items, "target-reserve")[0]
    inner = next(path for path in paths(items, "target") if path.closed)
    assert Polygon(outer.points).covers(Polygon(inner.points))
    assert items.index(outer) < items.index(inner)


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ("B-mm", "target 0 to +25"),
        ("B-in", "target 0 to +1 (0 to +25)"),
        ("plate-fixed-mm", "target +13 to +38"),
    ],
)
def test_the_target_is_written_beside_it(case, said):
    assert words(drawn(case), "target") == [said]


def test_no_target_is_drawn_where_none_is_known():
    report = tasks.check(changed(demo_in(), boat__hull_kind="catamaran"))
    assert paths(side_items(report, SCALE, Shown()), "target") == []


# ---------------------------------------------------------------- the engine moves


RAKES = st.floats(-10.0, 35.0)
LIFTS = st.floats(-60.0, 250.0)


def engine_at(lift, rake):
    job = changed(demo_in(), transom__rake=reading(rake, 1.0))
    report = tasks.check(job)
    rig = sketch_of(report, lift).rig
    return engine_items(placed(report.case.engine, rig), "engine")


@settings(max_examples=40)
@given(LIFTS, LIFTS, RAKES)
def test_lifting_moves_the_engine_along_the_face(first, second, rake):
    turn = math.radians(rake)
    by = ((second - first) * math.sin(turn), (second - first) * math.cos(turn))
    for low, high in zip(engine_at(first, rake), engine_at(second, rake), strict=True):
        moved = [(x + by[0], z + by[1]) for x, z in low.points]
        assert [c for p in high.points for c in p] == pytest.approx(
            [c for p in moved for c in p], abs=1e-6
        )


@settings(max_examples=40)
@given(LIFTS, st.floats(0.5, 100.0), RAKES)
def test_a_higher_engine_has_a_higher_plate(lift, more, rake):
    assert underside(engine_at(lift + more, rake)) > underside(engine_at(lift, rake))


@settings(max_examples=40)
@given(LIFTS, RAKES)
def test_the_plate_is_level(lift, rake):
    plate = next(item for item in engine_at(lift, rake) if item.ref == "engine-plate")
    low = min(z for _, z in plate.points)
    assert sum(1 for _, z in plate.points if z == pytest.approx(low, abs=1e-9)) == 2


@given(st.floats(0.0, 900.0), st.floats(-200.0, 400.0), RAKES)
def test_a_point_on_the_face_keeps_its_distances(up, out, rake):
    rig = Rig(height_face_mm=518.0, rake_deg=rake, leg_mm=514.0)
    point, foot = on_face(rig, up, out), on_face(rig, up)
    assert math.hypot(*foot) == pytest.approx(up, abs=1e-9)
    assert math.dist(point, foot) == pytest.approx(abs(out), abs=1e-9)


# ---------------------------------------------------------------- any job


def numbers(items):
    for item in items:
        if isinstance(item, Path):
            yield from (c for point in item.points for c in point)
        elif isinstance(item, Disc):
            yield from (*item.centre, item.radius_mm)
        else:
            yield from item.at


@settings(max_examples=80)
@given(jobs(), st.sampled_from((2.0, 5.0, 16.0)))
def test_any_job_can_be_drawn(job, scale):
    report = fit_check(job, CATALOGUE)
    items = side_items(report, scale, Shown(job.units.lengths))
    assert all(map(math.isfinite, numbers(items)))
    if report.mounted and report.mounted.plate:
        assert underside(items) == pytest.approx(report.mounted.plate.value, abs=1e-6)


@settings(max_examples=60)
@given(st.floats(-10.0, 35.0), st.floats(200.0, 1100.0), st.floats(10.0, 150.0))
def test_the_transom_keeps_its_size(rake, height, thickness):
    job = changed(
        sample_job(),
        transom__rake=reading(rake, 1.0),
        transom__height_along_face=reading(height, 3.0),
        transom__height_square=None,
        transom__thickness=reading(thickness, 1.0),
    )
    items = side_items(fit_check(job, CATALOGUE), SCALE, Shown())
    assert math.dist(*tips(items, "height-along-face")) == pytest.approx(height, abs=1e-6)
    assert math.dist(*tips(items, "thickness")) == pytest.approx(thickness, abs=1e-6)


def test_the_stripe_and_every_part_of_the_engine_is_drawn():
    refs = {item.ref for item in drawn("B-mm") if item.ref.startswith("engine-")}
    assert refs == {f"engine-{name}" for name in placed_parts()}


def placed_parts():
    report = report_on("B-mm")
    return placed(report.case.engine, sketch_of(report).rig).parts


def test_bolts_are_drawn_at_the_holes_of_the_transom():
    rig = sketch_of(report_on("B-mm")).rig
    heels = [
        sum(a * b for a, b in zip(path.points[0], on_face(rig, 1.0), strict=True))
        for path in paths(drawn("B-mm"), "bolt")
    ]
    assert [518.0 - up for up in heels] == pytest.approx([48.0, 251.0], abs=1e-6)


def test_an_engine_that_clamps_on_has_no_bolts_drawn():
    assert paths(drawn("portable-mm"), "bolt") == []


def test_another_lift_is_drawn_without_touching_the_report():
    report = report_on("B-mm")
    before = replace(report)
    assert sketch_of(report, 100.0).rig.lift_mm == 100.0
    assert report == before


# ---------------------------------------------------------------- tilt


TILTS = (3.0, 20.0, 45.0, 70.0)


def tilted(case, tilt, scale=SCALE):
    report = report_on(case)
    return side_layers(report, scale, Shown(report.case.job.units.lengths), None, tilt)


@pytest.mark.parametrize("case", ["B-mm", "plate-fixed-in", "empty-mm"])
@pytest.mark.parametrize("tilt", TILTS)
def test_tilting_moves_only_the_middle_layer(case, tilt):
    level, up = tilted(case, 0.0), tilted(case, tilt)
    assert (up.under, up.over) == (level.under, level.over)
    assert up.moving != level.moving


@pytest.mark.parametrize("tilt", TILTS)
def test_a_tilted_engine_is_the_level_one_turned_about_its_axis(tilt):
    x0, z0 = sketch_of(report_on("B-mm")).rig.axis()
    turn = math.radians(tilt)
    level, up = (tilted("B-mm", deg).moving for deg in (0.0, tilt))
    for ref in {item.ref for item in level if item.ref.startswith("engine-")}:
        for (x, z), found in zip(
            paths(level, ref)[0].points, paths(up, ref)[0].points, strict=True
        ):
            wanted = (
                x0 + (x - x0) * math.cos(turn) - (z - z0) * math.sin(turn),
                z0 + (x - x0) * math.sin(turn) + (z - z0) * math.cos(turn),
            )
            assert found == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("case", ["B-mm", "B-in", "plate-fixed-mm"])
@pytest.mark.parametrize("tilt", TILTS)
def test_a_tilted_engine_says_its_angle_and_nothing_that_holds_level_only(case, tilt):
    items = tilted(case, tilt).moving
    assert words(items, "tilt") == [f"tilt {tilt:g}°"]
    assert words(items) == [f"tilt {tilt:g}°"]
    assert paths(items, "leg") == paths(items, "plate") == []


@pytest.mark.parametrize("tilt", TILTS)
@pytest.mark.parametrize("scale", [2.0, 5.0, 9.0])
def test_the_arc_of_the_tilt_spans_it_and_clears_the_engine(tilt, scale):
    items = tilted("B-mm", tilt, scale).moving
    axis = sketch_of(report_on("B-mm")).rig.axis()
    heads = tips(items, "tilt")
    angles = sorted(math.degrees(math.atan2(z - axis[1], x - axis[0])) for x, z in heads)
    assert angles[0] == pytest.approx(-90.0, abs=1e-6)
    assert angles[1] - angles[0] == pytest.approx(tilt, abs=1e-6)
    low = ("engine-skeg", "engine-propeller", "engine-gearcase", "engine-leg")
    reach = max(
        math.dist(axis, point) for ref in low for path in paths(items, ref) for point in path.points
    )
    assert all(math.dist(axis, tip) > reach for tip in heads)


def test_no_tilt_draws_what_it_always_drew():
    assert tilted("B-mm", 0.0) == side_layers(report_on("B-mm"), SCALE, Shown())


@pytest.mark.parametrize("case", ["B-mm", "B-in", "C-in"])
@pytest.mark.parametrize("scale", [4.0, 5.0, 6.5, 8.0, 9.5])
def test_no_dimension_runs_through_the_words_on_the_transom_top(case, scale):
    items = drawn(case, scale)
    name = next(item for item in items if isinstance(item, Text) and item.words == "transom top")
    box = Polygon(text_box(name, scale))
    lines = [
        LineString(path.points)
        for ref in ("height-along-face", "height-square", "thickness")
        for path in paths(items, ref)
        if not path.closed
    ]
    assert lines and not any(line.crosses(box) for line in lines)
