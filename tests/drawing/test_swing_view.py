"""The swing drawn: what is shown is what was reckoned, words keep apart, every sheet fits."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely.geometry import Polygon

from rigfit import tasks
from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Disc, Ink, Path, Scene, Text
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.swing_parts import Words, clipped, convex_hull, held, silhouette, stage_of
from rigfit.drawing.swing_plan import hood_ring
from rigfit.drawing.swing_sheet import SCALES, rows_words
from rigfit.drawing.swing_side import angles_shown
from rigfit.drawing.swing_view import swing_plan_items, swing_side_items, swing_worst_items
from rigfit.drawing.to_dxf import audit, to_dxf
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.checks_swing import worst_place
from rigfit.rigging.envelope import mounted_option
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.steer import plan_steer
from rigfit.rigging.swing import options_swing, tilt_swing
from rigfit.rigging.swing_summary import AGAIN
from rigfit.rigging.transom_map import Neighbour, TransomFace
from rigfit.rigging.turning import area_mm2
from rigfit.rigging.well_fields import Obstacle, Well
from rigfit.units import Shown, compact
from tests.builders import CATALOGUE, case_of, changed, reading, sample_job
from tests.rigging.swing_jobs import box, roomy_well, swing_job

MM, INCH = Shown("mm"), Shown("in")
SHEETS = ("swing", "swing-plan", "swing-worst")
RAIL = box("grab rail", "rail", (400.0, 430.0), (620.0, 650.0), (-540.0, 540.0))
STEP = box("swim step", "swim step", (-700.0, -150.0), (-500.0, -450.0), (330.0, 800.0))
DRAWN = (
    "160, 60; 170, 400; 60, 540; -380, 520; -480, 400; -470, 60; -280, -20; -300, -880; -90, -80"
)

JOBS = {
    "all": lambda: swing_job(obstacles=(box(), RAIL, STEP)),
    "touching": lambda: swing_job(
        well=roomy_well(length=reading(300.0, 3.0), front_top=reading(400.0, 3.0))
    ),
    "in it": lambda: swing_job(obstacles=(box("box", "other", (-300.0, 150.0), (150.0, 300.0)),)),
    "class only": lambda: sample_job(well=Well(length=reading(450.0, 3.0))),
    "floor only": lambda: sample_job(well=Well(floor_below_top=reading(230.0, 3.0))),
    "width only": lambda: sample_job(well=Well(width=reading(800.0, 3.0))),
    "rail only": lambda: sample_job(obstacles=(RAIL,)),
    "drawn": lambda: swing_job(engine__outline=DRAWN),
    "twins": lambda: swing_job(
        neighbour=Neighbour("twins", reading(660.0, 3.0)), mounting__off_centre=reading(330.0)
    ),
    "notch": lambda: swing_job(
        face=TransomFace(notch_width=reading(640.0, 3.0), notch_depth=reading(120.0, 3.0))
    ),
    "polygon": lambda: swing_job(
        obstacles=(Obstacle("deck", "deck edge", outline="650, -50; 900, -50; 900, 300; 800, 90"),)
    ),
}
each_job = pytest.mark.parametrize("name", JOBS)


def report_of(name, **changes):
    return fit_check(changed(JOBS[name](), **changes), CATALOGUE)


def parts(name, scale=10.0, style=MM):
    case = report_of(name).case
    option = mounted_option(case)
    return {
        "swing": swing_side_items(case, option, scale, style, 0.0),
        "swing-plan": swing_plan_items(case, option, scale, style, 0.0, 0.0),
        "swing-worst": swing_worst_items(case, option, scale, style),
    }


def texts(items):
    return [item for item in items if isinstance(item, Text)]


def overlaps(items, scale):
    """Return pairs of words whose boxes overlap by more than 0.1 mm on paper."""
    areas = [
        (text.words, Polygon([(x / scale, y / scale) for x, y in text_box(text, scale)]))
        for text in texts(items)
        if text.words
    ]
    return [
        (first, second)
        for (first, one), (second, other) in combinations(areas, 2)
        if one.buffer(-0.05).intersects(other.buffer(-0.05))
    ]


# ------------------------------------------------------------------------------- on paper


@each_job
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(("paper", "lengths"), [("A3", "mm"), ("A4", "in"), ("Letter", "mm")])
def test_every_sheet_fits_its_paper_and_no_words_touch(name, sheet, paper, lengths):
    scene = tasks.sheet_scene(report_of(name, units__lengths=lengths), sheet, paper)
    assert scene.scale in SCALES
    assert overlaps(scene.items, scene.scale) == []
    left, bottom, right, top = full_extents(scene.items, scene.scale)
    placed = scene.placement
    wide, high = placed.paper.width_mm * scene.scale, placed.paper.height_mm * scene.scale
    assert placed.corner[0] - 1e-6 <= left < right <= placed.corner[0] + wide + 1e-6
    assert placed.corner[1] - 1e-6 <= bottom < top <= placed.corner[1] + high + 1e-6


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("paper", PAPERS_MM)
def test_each_sheet_goes_on_every_paper(sheet, paper):
    assert tasks.sheet_scene(report_of("all"), sheet, paper).placement.paper.name == paper


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_long_name_does_not_make_the_drawing_small(sheet):
    long = box("a seat with a name that its owner made as long as it would go in the field")
    plain = tasks.sheet_scene(report_of("all", obstacles=(box(),)), sheet, "A4")
    named = tasks.sheet_scene(report_of("all", obstacles=(long,)), sheet, "A4")
    assert SCALES.index(named.scale) - SCALES.index(plain.scale) <= 1
    assert any("…" in text.words for text in texts(named.items))


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_says_to_repeat_it_and_what_it_rests_on(sheet):
    said = " ".join(text.words for text in texts(tasks.sheet_scene(report_of("all"), sheet).items))
    assert AGAIN in said
    assert "envelope only sized" in said
    assert "±" in said
    said = " ".join(
        text.words for text in texts(tasks.sheet_scene(report_of("class only"), sheet).items)
    )
    assert "typical of the class" in said
    if sheet != "swing-worst":
        assert "The front wall is taken to stand as high as the hood." in said


def test_an_unknown_paper_is_refused():
    with pytest.raises(OutputError):
        tasks.sheet_scene(report_of("all"), "swing", "A99")


@each_job
@pytest.mark.parametrize("sheet", SHEETS)
def test_the_exchange_file_is_sound(name, sheet):
    assert audit(to_dxf(tasks.sheet_scene(report_of(name), sheet))) == []


# ------------------------------------------------------------------------------- true to the core


@each_job
def test_the_words_from_the_side_are_the_reckoned_numbers(name):
    case = report_of(name).case
    option = mounted_option(case)
    swing = tilt_swing(case, option)
    said = {text.words for text in texts(swing_side_items(case, option, 10.0, MM))}
    for gap in swing.gaps[:4]:
        words = compact(abs(gap.clear_mm), MM, tolerance_mm=gap.tolerance_mm)
        words = "clears nothing" if gap.is_hopeless else words
        assert any(gap.solid.name in line for line in said)
        assert any(words in line for line in said)
    assert any("kicks up" in line for line in said) == (swing.kick_up.ahead_mm > 0.0)


@each_job
def test_the_words_from_above_are_the_reckoned_numbers(name):
    case = report_of(name).case
    option = mounted_option(case)
    said = {text.words for text in texts(swing_plan_items(case, option, 10.0, MM))}
    for gap in plan_steer(case, option).gaps[:3]:
        assert any(gap.solid.name in line for line in said)
        if gap.touch.gap_mm > 0.0:
            words = compact(gap.touch.gap_mm, MM, tolerance_mm=gap.tolerance_mm)
            assert any(words in line for line in said)


@each_job
def test_the_worst_place_is_the_one_of_the_finding(name):
    report = report_of(name)
    place = worst_place(report.case, mounted_option(report.case))
    items = swing_worst_items(report.case, mounted_option(report.case), 10.0, MM)
    first = next(text.words for text in texts(items) if text.bold)
    assert place.part in first
    assert place.solid.name in first
    assert compact(abs(place.clear_mm), MM).split(" ")[0] in first
    dots = [item.centre for item in items if isinstance(item, Disc) and item.layer == "SWING"]
    assert any(
        at == pytest.approx((place.on_engine[0], place.on_engine[2]), abs=1e-6) for at in dots
    )


def test_the_nearest_places_are_marked_where_they_are():
    case = report_of("all").case
    option = mounted_option(case)
    worst = tilt_swing(case, option).worst
    items = swing_side_items(case, option, 10.0, MM)
    ends = [item.points for item in items if isinstance(item, Path) and len(item.points) == 2]
    assert (worst.touch.on_moving, worst.touch.on_fixed) in ends
    assert math.dist(worst.touch.on_moving, worst.touch.on_fixed) == pytest.approx(worst.clear_mm)


def test_the_ends_of_the_travel_and_level_are_drawn():
    stage = stage_of(report_of("all").case, mounted_option(report_of("all").case))
    shown = angles_shown(stage)
    assert shown[0] == stage.turn.low_deg
    assert shown[-1] == stage.turn.high_deg
    assert len(shown) >= 4
    said = [text.words for text in texts(parts("all")["swing"])]
    assert any(words.startswith("in ") for words in said)
    assert any(words.startswith("up ") for words in said)


def test_the_row_beside_is_told_as_reckoned():
    report = report_of("all")
    line = rows_words(report, MM)
    up = next(item for item in options_swing(report.case, report.options)
              if item.option.row == report.mounted.row + 1)  # fmt: skip
    assert f"one row up {compact(up.gap.clear_mm, MM, tolerance_mm=up.gap.tolerance_mm)}" in line


def test_a_contact_is_drawn_in_the_ink_that_stops():
    items = parts("touching")["swing"]
    assert {item.pen.ink for item in items if isinstance(item, Path) and item.ref == "worst"} == {
        Ink.STOPS
    }
    assert any("clear once that is" in text.words for text in texts(items))


_SIDES = {"port side of the well", "starboard side of the well"}


@each_job
def test_items_lead_to_what_they_show(name):
    report = report_of(name)
    stage = stage_of(report.case, mounted_option(report.case))
    names = {solid.name for solid in stage.solids}
    for sheet, items in parts(name).items():
        refs = {item.ref for item in items}
        unseen = {"floor of the well"} if sheet == "swing-plan" else _SIDES
        assert refs & names or names <= unseen, sheet
        if sheet == "swing-worst":
            assert any(ref.startswith("engine-") for ref in refs)
        else:
            assert {"swing", "axis"} <= refs


# ------------------------------------------------------------------------------- mirror, scrub


def test_a_mirrored_boat_is_drawn_mirrored():
    pad = box("locker", "other", (350.0, 500.0), (0.0, 200.0), (260.0, 420.0))
    other = box("locker", "other", (350.0, 500.0), (0.0, 200.0), (-420.0, -260.0))

    def drawn(thing, steer):
        case = case_of(swing_job(obstacles=(thing,)))
        items = swing_plan_items(case, mounted_option(case), 10.0, MM, 0.0, steer)
        rings = [item.points for item in items if isinstance(item, Path) and item.group == "engine"]
        return sorted(sorted((round(x, 3), round(y, 3) + 0.0) for x, y in ring) for ring in rings)

    def flipped(rings):
        return sorted(sorted((x, -y + 0.0) for x, y in ring) for ring in rings)

    assert drawn(pad, 20.0) == flipped(drawn(other, -20.0))


@pytest.mark.parametrize("name", ["all", "touching", "drawn", "class only"])
def test_scrubbing_moves_the_engine_and_nothing_else(name):
    case = report_of(name).case
    option = mounted_option(case)
    still = set(swing_side_items(case, option, 10.0, MM))
    for tilt in (-5.0, 0.0, 31.0, 60.0):
        items = swing_side_items(case, option, 10.0, MM, tilt)
        assert {item.group for item in set(items) - still} == {"engine"}
        assert still <= set(items)


def test_steering_turns_the_hood_about_the_axis_to_the_side_it_says():
    case = report_of("all").case
    stage = stage_of(case, mounted_option(case))
    blade = {
        steer: max(y for part in stage.envelope.parts if part.name == "propeller"
                   for x, y, z in held(part, stage, 0.0, steer))
        for steer in (-20.0, 20.0)
    }  # fmt: skip
    straight, turned = (Polygon(hood_ring(stage, 0.0, steer)) for steer in (0.0, 20.0))
    assert turned.area == pytest.approx(straight.area, rel=1e-6)
    assert blade[20.0] > blade[-20.0]  # + turns the propeller to starboard


def test_a_part_held_up_turns_about_the_tilt_axis():
    case = report_of("all").case
    stage = stage_of(case, mounted_option(case))
    part = stage.envelope.part("cowl")
    level, up = held(part, stage, 0.0, 0.0), held(part, stage, 37.0, 0.0)
    (ax, az) = stage.turn.pivot
    for (x, y, z), (u, v, w) in zip(level, up, strict=True):
        assert math.hypot(x - ax, z - az) == pytest.approx(math.hypot(u - ax, w - az))
        assert y == v
    # Propeller up, so what lies above the axis goes ahead.
    assert min(x for x, _, _ in up) < min(x for x, _, _ in level)


# ------------------------------------------------------------------------------- refusals


@pytest.mark.parametrize("sheet", SHEETS)
def test_nothing_round_the_engine_is_refused_with_what_to_enter(sheet):
    with pytest.raises(NotMeasuredError, match="nothing is entered that the engine could touch"):
        tasks.sheet_scene(fit_check(sample_job(), CATALOGUE), sheet)


def test_without_the_rake_the_axis_has_no_place():
    report = report_of("all", transom__rake=None)
    with pytest.raises(NotMeasuredError, match="measure the rake"):
        tasks.sheet_scene(report, "swing")


def test_an_entry_that_cannot_be_used_is_named():
    report = report_of(
        "all", obstacles=(Obstacle("rail", "rail", outline="0, 0; 9, 9; 9, 0; 0, 9"),)
    )
    with pytest.raises(NotMeasuredError, match=r"rail.*crosses itself"):
        tasks.sheet_scene(report, "swing")


# ------------------------------------------------------------------------------- helpers


def test_a_polygon_is_cut_to_its_window():
    ring = ((-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0))
    assert abs(area_mm2(clipped(ring, (0.0, -1.0, 9.0, 9.0)))) == pytest.approx(30.0)
    assert clipped(ring, (6.0, 0.0, 9.0, 9.0)) == ()


def test_a_hull_holds_every_point_and_turns_one_way():
    points = [(math.cos(k) * (k % 5), math.sin(k) * (k % 7)) for k in range(40)]
    ring = convex_hull(points)
    area = Polygon(ring)
    assert area_mm2(ring) > 0.0
    assert area.is_valid
    assert area.convex_hull.area == pytest.approx(area.area)


def test_the_silhouette_holds_every_part():
    stage = stage_of(report_of("all").case, mounted_option(report_of("all").case))
    whole = Polygon(silhouette(stage.envelope)[0]).buffer(0.6)
    assert all(whole.contains(Polygon(part.ring)) for part in stage.envelope.parts)


def test_notes_keep_off_words_that_stand_already():
    words = Words(1.0)
    words.taken([Text((-14.0, 15.0), "already here", "NOTES", height_mm=2.5, across="right")])
    scene = Scene(title="", items=tuple(words.note((0.0, 0.0), ("a note",), ((-12.0, 14.0),))))
    assert overlaps((*scene.items, Text((-14.0, 15.0), "already here", "NOTES", height_mm=2.5,
                                        across="right")), 1.0) == []  # fmt: skip


def test_what_is_remembered_is_that_of_its_own_boat_height_and_units():
    one, two = report_of("all").case, report_of("touching").case
    for _ in range(2):
        for case in (one, two):
            for style in (MM, INCH):
                for option in (mounted_option(case), report_of("all").options[-1]):
                    fresh = fit_check(case.job, CATALOGUE).case
                    for draw in (swing_side_items, swing_plan_items):
                        assert draw(case, option, 10.0, style) == draw(fresh, option, 10.0, style)
