"""The section at a bolt: to scale, on the sheet, nothing over anything else, the numbers right."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from rigfit import tasks
from rigfit.drawing.bolt_section import (
    SCALES,
    bolt_section,
    hatching,
    section_items,
    section_of,
    spread_out,
)
from rigfit.drawing.fonts import text_box
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Disc, Path, Text
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.to_axes import to_png
from rigfit.drawing.to_list import words
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.fit_check import fit_check
from rigfit.units import Shown
from rigfit.wording import CAUTIONS, say
from tests.builders import changed, reading

SHIPPED = load_catalogue()
BOLTING = Bolting(
    bolt="half-13",
    grade="F593-CW",
    flange=reading(14.0, 1.0),
    backing="plate and washers",
    washer="half-SAE",
    plate_thickness=reading(6.0, 1.0),
    plate_height=reading(80.0, 1.0),
    plate_width=reading(400.0, 1.0),
    core="plywood",
    torque=reading(75.0),
)
M12 = {"bolt": "M12", "washer": "M12-wide"}
CASES = {
    "half inch": {},
    "M12 in hand": {**M12, "length": reading(110.0, 1.0)},
    "plate only": {"backing": "plate", "plate_height": reading(40.0)},
    "washers only": {**M12, "backing": "washers"},
    "M6": {"bolt": "M6", "washer": "M6", "backing": "washers"},
    "M16 too short": {"bolt": "M16", "washer": "M16-wide", "length": reading(60.0, 1.0)},
    "very long": {**M12, "plate_thickness": reading(40.0), "flange": reading(60.0)},
}
PAPERS = ("A4", "A3", "Letter")
every_sheet = pytest.mark.parametrize(
    ("name", "paper", "lengths"),
    [(name, paper, lengths) for name in CASES for paper in PAPERS for lengths in ("mm", "in")],
)


def job_of(thickness=45.0, **changes):
    job = tasks.demo_job()
    bolting = replace(BOLTING, **changes)
    return changed(job, bolting=bolting, transom__thickness=reading(thickness, 1.0))


def section(**changes):
    job = job_of(**changes)
    return section_of(Case(job, SHIPPED, job.engine("B")))


def sheet(name="half inch", paper="A4", lengths="mm", thickness=45.0):
    report = fit_check(job_of(thickness, **CASES[name]), SHIPPED, "B")
    style = Shown(lengths)
    status = say(report.finding(701).sentence, style)
    return bolt_section(report, style, SheetWords(status, CAUTIONS, "0.1.0"), paper)


def on_paper(scene, points):
    (x, y), scale = scene.placement.corner, scene.scale
    return [((px - x) / scale, (py - y) / scale) for px, py in points]


def areas(scene):
    return [
        (item.words, Polygon(on_paper(scene, text_box(item, scene.scale))))
        for item in scene.items
        if isinstance(item, Text) and item.words
    ]


def shape(found, ref):
    """Return (left, bottom, right, top) of the items with a ref."""
    return full_extents([item for item in found if getattr(item, "ref", "") == ref], 1.0)


# ------------------------------------------------------------------------------ on the sheet


@every_sheet
def test_no_text_covers_another(name, paper, lengths):
    shrunk = [(said, area.buffer(-0.05)) for said, area in areas(sheet(name, paper, lengths))]
    clashes = [(a, b) for (a, one), (b, two) in combinations(shrunk, 2) if one.intersects(two)]
    assert clashes == []


@every_sheet
def test_everything_is_inside_the_frame(name, paper, lengths):
    scene = sheet(name, paper, lengths)
    laid = scene.placement.paper
    frame = box(9.99, 9.99, laid.width_mm - 9.99, laid.height_mm - 9.99)
    assert [said for said, area in areas(scene) if not frame.covers(area)] == []
    drawn = [item for item in scene.items if getattr(item, "group", "") != "sheet"]
    left, bottom, right, top = full_extents(drawn, scene.scale)
    assert frame.covers(Polygon(on_paper(scene, ((left, bottom), (right, bottom), (right, top)))))


@every_sheet
def test_no_word_of_the_section_stands_on_the_title_block_or_list(name, paper, lengths):
    scene = sheet(name, paper, lengths)
    drawn = [item for item in scene.items if getattr(item, "group", "") != "sheet"]
    left, bottom, right, top = full_extents(drawn, scene.scale)
    (x0, y0), (x1, y1) = on_paper(scene, ((left, bottom), (right, top)))
    inside = box(x0, y0, x1, y1).buffer(-0.05)
    sheet_words = [
        item.words
        for item in scene.items
        if isinstance(item, Text)
        and item.group == "sheet"
        and Polygon(on_paper(scene, text_box(item, scene.scale))).intersects(inside)
    ]
    assert sheet_words == []


@pytest.mark.parametrize("name", CASES)
def test_the_scale_is_one_of_the_few_and_is_named(name):
    scene = sheet(name)
    assert scene.scale in SCALES
    named = f"1:{scene.scale:g}" if scene.scale >= 1.0 else f"{1.0 / scene.scale:g}:1"
    assert f"Section at one bolt {named}" in words(scene)
    assert named in words(scene)


def test_a_usual_bolt_is_drawn_full_size():
    assert sheet().scale == 1.0


def test_larger_paper_has_no_smaller_scale():
    assert all(sheet(name, "A3").scale <= sheet(name, "A4").scale for name in CASES)


def test_an_unknown_paper_is_refused():
    with pytest.raises(OutputError, match="A4, A3, Letter"):
        sheet(paper="B5")


def test_it_can_be_painted():
    assert to_png(sheet(), LIGHT, 40.0).startswith(b"\x89PNG")


# ------------------------------------------------------------------------------ true to scale


@pytest.mark.parametrize("name", CASES)
def test_every_layer_has_its_own_thickness_and_they_touch(name):
    found = section(**CASES[name])
    for slab in found.slabs:
        assert slab.outer_mm - slab.inner_mm == pytest.approx(slab.layer.thickness.value)
    for outer, inner in pairwise(found.slabs):
        assert outer.inner_mm == pytest.approx(inner.outer_mm)
    transom = next(slab for slab in found.slabs if slab.layer.name == "transom")
    assert transom.outer_mm == pytest.approx(0.0)


@pytest.mark.parametrize("name", CASES)
def test_bolt_nut_and_hole_are_drawn_at_their_sizes(name):
    found = section(**CASES[name])
    bolt, items = found.bolt, section_items(found, 1.0, Shown())
    left, bottom, right, top = shape(items, "bolt")
    assert right - left == pytest.approx(found.length_mm)
    assert top - bottom == pytest.approx(bolt.diameter_mm)
    back, _, _, _ = shape(items, "lock nut")
    assert found.nut_mm - back == pytest.approx(bolt.lock_nut_mm)
    assert back - left == pytest.approx(found.past_mm)
    _, low, _, high = shape(items, "head")
    assert high - low == pytest.approx(bolt.flats_mm * 2.0 / 3.0**0.5)
    edges = [y for i in items if getattr(i, "ref", "") == "transom" for _, y in i.points]
    assert min(y for y in edges if y > 0.0) == pytest.approx(found.hole_mm / 2.0)


def test_thread_is_drawn_where_the_standard_has_it():
    found = section(**CASES["M12 in hand"])
    left, _, right, _ = shape(section_items(found, 1.0, Shown()), "thread")
    assert right - left == pytest.approx(30.0)


def test_a_small_plate_ends_and_a_tall_one_goes_on():
    small, tall = section(plate_height=reading(40.0)), section()
    plates = [next(s for s in x.slabs if s.layer.name == "backing plate") for x in (small, tall)]
    assert plates[0].half_mm == 20.0
    assert plates[1].half_mm == tall.half_mm


# ------------------------------------------------------------------------------ what it says


def test_the_numbers_are_those_of_the_stack():
    said = words(sheet())
    # 2 x 2.413 + 14 + 45 + 6; the lock nut takes 15.5, and 3 3/4 in are the next that reach.
    assert "grip 69.8" in said
    assert "length 95.2 (3 3/4 in), to buy" in said
    assert "past nut 10" in said
    assert "hole Ø 13.5" in said
    assert {"45 ± 1", "14 ± 1", "6 ± 1", "75 N·m"} <= set(said)
    assert "1/2-13 UNC, stainless F593 CW" in said
    assert {"INSIDE", "OUTSIDE, AFT"} <= set(said)


def test_a_bolt_in_hand_is_not_to_buy():
    said = words(sheet("M12 in hand"))
    assert "length in hand" in said
    assert not any("to buy" in line for line in said)


def test_a_bolt_that_does_not_reach_shows_nothing_past_its_nut():
    said = words(sheet("M16 too short"))
    assert "none" in said
    assert not any(line.startswith("past nut") for line in said)


def test_inches_have_their_millimetres_beside():
    said = words(sheet(lengths="in"))
    assert "grip 2 3/4 in (69.8)" in said
    assert "Inches to 1/16, millimetres in brackets" in " ".join(said)


@pytest.mark.parametrize(
    ("name", "verdict"), [("half inch", "FITS: Buy"), ("M16 too short", "STOPS: A bolt of")]
)
def test_the_title_block_gives_the_answer_on_length(name, verdict):
    assert verdict in " ".join(words(sheet(name)))


def test_every_layer_has_one_number_in_the_drawing_and_one_in_the_list():
    said = words(sheet())
    assert all(said.count(str(number)) == 2 for number in range(1, 6))


def test_the_cautions_are_on_the_sheet():
    assert "have a second person check" in " ".join(words(sheet()))


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"bolt": ""}, "bolt is not known; fill it in"),
        ({"flange": reading(0.0)}, "thickness of the engine's clamp bracket"),
        ({"washer": "", "backing": ""}, "inside, under the nuts is not known"),
        ({"plate_thickness": None, "flange": None}, "are not known; fill them in"),
    ],
)
def test_what_is_missing_is_named_instead_of_drawn(change, named):
    with pytest.raises(NotMeasuredError, match=named):
        section(**change)


# ------------------------------------------------------------------------------ its parts


@given(
    st.floats(0.5, 60.0), st.floats(0.5, 60.0), st.floats(0.5, 5.0), st.sampled_from((1.0, -1.0))
)
def test_section_lines_stay_inside_at_45_degrees(wide, high, step, way):
    edge = box(3.0, -2.0, 3.0 + wide, -2.0 + high).buffer(1e-6)
    lines = list(hatching(3.0, -2.0, 3.0 + wide, -2.0 + high, step, way))
    for (x0, y0), (x1, y1) in lines:
        assert edge.covers(LineString(((x0, y0), (x1, y1))))
        assert (y1 - y0) == pytest.approx(way * (x1 - x0), abs=1e-9)
    assert len(lines) >= int((wide + high) / step) - 1


@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=8), st.floats(0.5, 10.0))
def test_numbers_keep_their_order_and_distance(wanted, pitch):
    wanted = sorted(wanted)
    places = spread_out(wanted, pitch)
    assert len(places) == len(wanted)
    gaps = [b - a for a, b in pairwise(places)]
    assert all(gap >= pitch - 1e-6 for gap in gaps)


def test_numbers_with_room_stay_where_they_point():
    assert spread_out((1.0, 20.0, 40.0), 7.0) == (1.0, 20.0, 40.0)
    assert spread_out((10.0, 10.0), 7.0) == (6.5, 13.5)


@pytest.mark.parametrize("name", CASES)
def test_number_circles_do_not_touch(name):
    scene = sheet(name)
    rings = [i for i in scene.items if isinstance(i, Disc) and i.pen is not None]
    xs = sorted(ring.centre[0] for ring in rings)
    assert len(xs) == len(section(**CASES[name]).slabs)
    wide = 2.0 * rings[0].radius_mm
    assert all(b - a > wide for a, b in pairwise(xs))


def test_section_lines_are_thin_and_outlines_are_not():
    items = section_items(section(), 1.0, Shown())
    widths = {item.ref: item.pen.width_mm for item in items if isinstance(item, Path) and item.pen}
    assert widths["bolt"] > widths[""]
