"""Backing and setback plates: which holes they carry, their outlines, and the files they make."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from rigfit.drawing import plates
from rigfit.drawing.plates import (
    Plate,
    backing_plates,
    cut_bytes,
    plate_scene,
    setback_plates,
)
from rigfit.drawing.scene import Disc, Path, flatten
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.records.outline_import import read_outline
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.hole_pattern import Feature, drilled_features
from tests.builders import CATALOGUE, bracket_job, case_of, reading, sample_job

PATTERN = CATALOGUE.hole_pattern("four-bolt")
HOLES = drilled_features(PATTERN, 48.0, 30.0)


def bolting(width, height):
    return Bolting(
        plate_width=reading(width) if width else None,
        plate_height=reading(height) if height else None,
    )


def measured_bracket(**changes):
    return bracket_job(**{"bracket__engine_holes": reading(48.0, 0.5)} | changes)


def shapes(plate):
    scene = plate_scene(plate)
    (outline,) = [item for item in scene.items if isinstance(item, Path)]
    return Polygon(flatten(outline, 0.01)), [i for i in scene.items if isinstance(i, Disc)]


# ----------------------------------------------------------------------- which plates


@pytest.mark.parametrize(
    ("width", "height", "names"),
    [
        (400.0, 260.0, ["all bolts"]),
        (400.0, 80.0, ["upper row", "lower row"]),
        (80.0, 80.0, ["upper port", "upper starboard", "lower port", "lower starboard"]),
        (120.0, 260.0, ["port side", "starboard side"]),
    ],
)
def test_plates_join_as_many_bolts_as_they_reach(width, height, names):
    found = backing_plates(HOLES, bolting(width, height))
    assert [plate.name for plate in found] == [f"backing plate, {name}" for name in names]


@given(st.floats(30.0, 900.0), st.floats(30.0, 600.0))
def test_every_bolt_has_one_plate_and_metal_all_round(width, height):
    found = backing_plates(HOLES, bolting(width, height))
    assert sorted(h.name for p in found for h in p.holes) == sorted(h.name for h in HOLES)
    for plate in found:
        board, discs = shapes(plate)
        for disc in discs:
            # Half a diameter of metal: the hole grown to twice its size is still on the plate.
            assert board.buffer(0.02).covers(Point(disc.centre).buffer(2.0 * disc.radius_mm - 3.0))
            assert board.covers(Point(disc.centre).buffer(disc.radius_mm))


def test_twins_have_plates_of_their_own_and_a_kicker_has_none():
    sides = (("port engine", -350.0), ("starboard engine", 350.0), ("kicker", 600.0))
    holes = [h for name, at in sides for h in drilled_features(PATTERN, 48.0, at, name)]
    found = backing_plates(holes, bolting(400.0, 260.0))
    assert [(plate.name, plate.across_mm) for plate in found] == [
        ("backing plate, port engine, all bolts", pytest.approx(-350.0)),
        ("backing plate, starboard engine, all bolts", pytest.approx(350.0)),
    ]


@given(st.floats(-900.0, 900.0))
def test_plates_go_with_the_engine(off):
    there = backing_plates(drilled_features(PATTERN, 48.0, off), bolting(400.0, 80.0))
    here = backing_plates(drilled_features(PATTERN, 48.0), bolting(400.0, 80.0))
    moved = [plate.across_mm - other.across_mm for plate, other in zip(there, here, strict=True)]
    assert moved == pytest.approx([off, off], abs=1e-9)


@pytest.mark.parametrize(
    ("width", "height", "key"), [(None, 80.0, "width"), (400.0, None, "height")]
)
def test_a_plate_without_its_size_is_refused_by_its_field(width, height, key):
    with pytest.raises(NotMeasuredError, match=f"plate_{key}: there is no outline") as caught:
        backing_plates(HOLES, bolting(width, height))
    assert f"enter it as plate_{key}." in str(caught.value)


def test_no_holes_no_plate():
    with pytest.raises(NotMeasuredError, match="the bolt holes are not decided"):
        backing_plates((), bolting(400.0, 80.0))


def test_a_plate_too_small_for_a_bolt_is_refused():
    with pytest.raises(OutputError, match=r"25 x 80 mm is too small for a hole of 13\.5 mm"):
        backing_plates(HOLES, bolting(25.0, 80.0))


# ----------------------------------------------------------------------- outlines


@given(st.floats(30.0, 900.0), st.floats(30.0, 600.0))
def test_the_outline_is_a_rectangle_less_its_corners(width, height):
    plate = Plate("p", 0.0, 0.0, width, height, ())
    board, _ = shapes(plate)
    r = plate.corner_mm
    assert board.is_valid
    assert board.bounds == pytest.approx((0.0, 0.0, width, height))
    assert board.area == pytest.approx(width * height - (4.0 - math.pi) * r * r, rel=1e-3)


@pytest.mark.parametrize("size", [(400.0, 260.0), (400.0, 80.0)])
def test_holes_keep_their_distances(size):
    for plate in backing_plates(HOLES, bolting(*size)):
        _, discs = shapes(plate)
        for one, hole in zip(discs, plate.holes, strict=True):
            for other, second in zip(discs, plate.holes, strict=True):
                apart = (second.across_mm - hole.across_mm, hole.below_top_mm - second.below_top_mm)
                dx, dy = (b - a for a, b in zip(one.centre, other.centre, strict=True))
                assert (dx, dy) == pytest.approx(apart)


def test_square_corners_are_four_points():
    assert len(plates.rounded((0.0, 0.0, 9.0, 5.0), 0.0, "TRIM").points) == 4


# ----------------------------------------------------------------------- setback plates


def test_a_setback_plate_has_the_engines_holes_and_the_transoms():
    engine, transom = setback_plates(case_of(measured_bracket()))
    assert (engine.holes[0].name, engine.holes[0].below_top_mm) == ("upper port", 48.0)
    assert {h.across_mm for h in engine.holes[:2]} == {-163.5, 163.5}
    assert transom.holes[0].below_top_mm == 48.0
    assert (engine.width_mm, engine.height_mm) == (327.0 + 80.0, 48.0 + 203.0 + 40.0)


@given(st.floats(-40.0, 200.0))
def test_a_higher_bracket_has_its_transom_holes_lower_on_the_plate(height):
    _, transom = setback_plates(case_of(measured_bracket(bracket__height=reading(height, 1.0))))
    assert transom.holes[0].below_top_mm == pytest.approx(48.0 + height)
    assert all(transom.holds(hole) for hole in transom.holes if height > -20.0)


@pytest.mark.parametrize(
    ("missing", "where"),
    [
        ("bracket__engine_holes", "bracket, engine_holes"),
        ("bracket__height", "bracket, height"),
        ("mounting__upper_holes_below_top", "mounting, upper_holes_below_top"),
        ("engine__upper_spacing", "engine"),
    ],
)
def test_a_setback_plate_is_never_drawn_from_a_class(missing, where):
    with pytest.raises(NotMeasuredError, match="no outline of the setback plate") as caught:
        setback_plates(case_of(measured_bracket(**{missing: None})))
    assert caught.value.where == where


def test_without_a_bracket_there_is_no_setback_plate():
    with pytest.raises(NotMeasuredError, match="hangs on the transom itself"):
        setback_plates(case_of(sample_job()))


# ----------------------------------------------------------------------- files


def every_plate():
    return (*backing_plates(HOLES, bolting(400.0, 80.0)),
            *setback_plates(case_of(measured_bracket())))  # fmt: skip


@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_the_files_are_sound_alike_and_hold_the_cuts_only(release):
    for plate in every_plate():
        data = cut_bytes(plate_scene(plate), release)
        assert data == cut_bytes(plate_scene(plate), release)
        found = read_outline(data, "mm")
        assert found.layers == ("DRILL", "TRIM")
        assert len(found.outlines) == 1
        assert [c.diameter_mm for c in found.circles] == [13.5] * len(plate.holes)
        assert found.size_mm == pytest.approx((plate.width_mm, plate.height_mm))


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(st.floats(-300, 300), st.floats(30, 500)), min_size=1, max_size=8))
def test_holes_anywhere_are_cut_where_they_are(places):
    holes = tuple(Feature(f"h{k}", x, y, 10.0) for k, (x, y) in enumerate(places))
    assume(len({(round(x, 1), round(y, 1)) for x, y in places}) == len(places))
    plate = Plate("p", 0.0, 250.0, 700.0, 600.0, holes)
    found = read_outline(cut_bytes(plate_scene(plate)))
    back = [(c.x_mm - 350.0, 550.0 - c.y_mm) for c in found.circles]
    for one, hole in zip(back, holes, strict=True):
        assert one == pytest.approx((hole.across_mm, hole.below_top_mm), abs=2e-6)


def test_a_faulty_file_is_refused(monkeypatch):
    monkeypatch.setattr(plates, "audit", lambda _data: ["a hole too many"])
    with pytest.raises(OutputError, match="a hole too many"):
        cut_bytes(plate_scene(every_plate()[0]))
