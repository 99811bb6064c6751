"""The boat under way on paper: what is drawn, where, and that it stays on the sheet."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Dash, Disc, Ink, Path, Text
from rigfit.drawing.side_view import side_layers
from rigfit.drawing.to_dxf import LAYER_COLOURS
from rigfit.drawing.underway_view import Room, fact_lines, underway_scene
from rigfit.drawing.wake_view import FAR_PEN, WATER_PEN, surface_items, surface_words
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.underway import Surface, surface_of
from rigfit.rigging.wake import Wake, rule_mm
from rigfit.sheets import drawing_bytes, sheet_scene
from rigfit.units import Shown
from tests.builders import CATALOGUE, changed, reading, sample_job
from tests.rigging.underway_jobs import UNDERWAY, running, underway_case, underway_job

METRIC, INCHES = Shown(), Shown("in", "mph")
PAPERS = ("A4", "A3", "Letter", "Tabloid")


def report(**changes):
    return fit_check(underway_job(**changes), CATALOGUE)


def of(scene, kind, ref):
    return [item for item in scene.items if isinstance(item, kind) and item.ref == ref]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_everything_lies_inside_the_frame_and_words_apart(paper, lengths):
    job = underway_job()
    job = replace(job, units=replace(job.units, lengths=lengths))
    scene = sheet_scene(fit_check(job, CATALOGUE), "underway", paper)
    placed = scene.placement
    assert placed is not None
    left, bottom = placed.corner
    right = left + placed.paper.width_mm * scene.scale
    top = bottom + placed.paper.height_mm * scene.scale
    texts = [item for item in scene.items if isinstance(item, Text) and item.words]
    boxes = [(item.words, Polygon(text_box(item, scene.scale))) for item in texts]
    for _, box in boxes:
        x0, y0, x1, y1 = box.bounds
        assert left < x0
        assert x1 < right
        assert bottom < y0
        assert y1 < top
    clashes = [
        (one, other)
        for (one, a), (other, b) in combinations(boxes, 2)
        if a.intersection(b).area > 0.02 * min(a.area, b.area)
    ]
    assert clashes == []
    assert {item.layer for item in scene.items} <= set(LAYER_COLOURS)


def test_the_section_shows_plate_neighbours_water_rule_and_keel_line():
    scene = sheet_scene(report(), "underway", "A3")
    assert of(scene, Path, "engine-plate")
    assert len(of(scene, Path, "ghost")) == 2
    assert of(scene, Path, "rule")
    assert of(scene, Path, "keel")
    words = " ".join(item.words for item in scene.items if isinstance(item, Text))
    for part in ("row 1", "row 2", "row 3", "trade's rule", "extended keel line", "porpoising"):
        assert part in words


def test_the_line_drawn_is_the_surface_reckoned():
    found = running()
    line = max(
        (item for item in of(sheet_scene(report(), "underway", "A3"), Path, "wake") if item.pen),
        key=lambda item: len(item.points),
    )
    for x, z in line.points:
        assert z == pytest.approx(found.wake.surface_mm(x))
    mark = of(sheet_scene(report(), "underway", "A3"), Disc, "plate-water")[0]
    assert mark.centre[1] == pytest.approx(found.mounted.water.surface_mm)


def test_an_extrapolation_is_dashed_and_named_and_inside_it_is_not():
    surface = surface_of(underway_case())
    assert surface is not None
    far = [item for item in surface_items(surface, 600.0, 0.0) if item.ref == "wake"]
    assert far[0].pen == FAR_PEN
    assert FAR_PEN.dash is Dash.DASHED
    assert surface_words(surface) == "water, extrapolated"
    inside = Surface(Wake(1700.0, 3400.0, 4.0, 5.0, 15.0), surface.plate, 30.0)
    near = [item for item in surface_items(inside, 600.0, 0.0) if item.ref == "wake"]
    assert near[0].pen == WATER_PEN
    assert surface_words(inside) == "water"


def test_the_side_view_follows_the_water_from_the_keel_line_to_the_plate():
    layers = side_layers(report(), 8.0, METRIC)
    drawn = [item for item in layers.under if isinstance(item, Path) and item.ref == "wake"]
    surface = surface_of(underway_case())
    assert len(drawn) == 1
    assert drawn[0].points[0] == (0.0, 0.0)
    assert drawn[0].points[-1][0] > surface.plate.place.aft_edge_mm
    rule = next(item for item in layers.under if getattr(item, "ref", "") == "rule")
    assert rule.points[-1][1] == pytest.approx(rule_mm(rule.points[-1][0]))
    legend = [
        item.words for item in layers.under if isinstance(item, Text) and item.ref == "legend"
    ]
    assert legend == ["water at 24 kn, extrapolated", "trade's rule, 25 mm per 300 mm"]


def test_without_anything_entered_the_side_view_has_no_water():
    layers = side_layers(fit_check(sample_job(), CATALOGUE), 8.0, METRIC)
    assert not [item for item in layers.under if getattr(item, "ref", "") in ("wake", "rule")]


def test_the_quick_surface_is_that_of_the_whole_answer():
    found, quick = running(), surface_of(underway_case())
    assert quick is not None
    assert quick.wake == found.wake
    assert quick.plate == found.mounted


def test_the_porpoising_limit_is_dotted_beyond_its_chart():
    scene = sheet_scene(report(), "underway", "A3")
    dashes = {item.pen.dash for item in of(scene, Path, "porpoising")}
    assert dashes == {Dash.SOLID, Dash.DOTTED}
    assert {item.pen.ink for item in of(scene, Path, "porpoising")} == {Ink.STOPS}


def test_the_facts_give_ranges_and_say_what_is_outside():
    words = " ".join(fact_lines(running(), METRIC, 200.0))
    assert "by Savitsky" in words
    assert "Crouch" in words
    assert "Outside the published range" in words
    soft = running(underway=replace(UNDERWAY, centre_ahead=None))
    assert "Not measured" in " ".join(fact_lines(soft, METRIC, 200.0))


def test_a_boat_that_does_not_plane_still_has_a_sheet():
    slow = replace(UNDERWAY, speed=None)
    weak = report(underway=slow, engine__power=reading(3.0))
    scene = sheet_scene(weak, "underway", "A3")
    words = " ".join(item.words for item in scene.items if isinstance(item, Text))
    assert "does not get her on the plane" in words


def test_what_is_lacking_is_named():
    with pytest.raises(NotMeasuredError, match="beam between the chines"):
        sheet_scene(report(hull__chine_beam=None), "underway", "A3")
    with pytest.raises(NotMeasuredError, match="nothing is entered"):
        sheet_scene(fit_check(sample_job(), CATALOGUE), "underway", "A3")
    with pytest.raises(OutputError):
        sheet_scene(report(), "underway", "A9")


def test_a_room_too_small_is_refused():
    assert underway_scene(report(), running(), METRIC, Room(60.0, 40.0)) is None


@pytest.mark.parametrize("kind", ["svg", "png", "pdf", "dxf"])
def test_it_can_be_written_in_every_kind_the_same_each_time(kind):
    scene = sheet_scene(report(), "underway", "A4")
    assert drawing_bytes(scene, kind) == drawing_bytes(scene, kind)


def test_twins_and_a_pod_have_their_sheet_too():
    off = changed(underway_job(), mounting__off_centre=reading(350.0, 3.0))
    assert sheet_scene(fit_check(off, CATALOGUE), "underway", "A3").items
