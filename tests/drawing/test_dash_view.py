"""The dash template at true scale, and the running measures beside it."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from rigfit.drawing.dash_view import dash_cut_scene, dash_scene, size_words
from rigfit.drawing.fonts import text_box
from rigfit.drawing.running import measures_above, measures_beside, spread
from rigfit.drawing.scene import Disc, Path, Text
from rigfit.drawing.to_dxf import audit, to_dxf
from rigfit.drawing.to_list import words
from rigfit.errors import NotMeasuredError
from rigfit.records.outline_import import read_outline
from rigfit.rigging.bolting_fields import DashCutout
from rigfit.rigging.dash import CutoutFit, Shape, dash_fits
from rigfit.units import Shown
from tests.builders import reading

MM = Shown("mm")


def cutout(name, across, down, old=None, new=85.0, rim=95.0, **sizes):
    return DashCutout(
        name=name,
        across=reading(across),
        down=reading(down),
        old_width=reading(old) if old else None,
        new_width=reading(new) if new else None,
        bezel_width=reading(rim) if rim else None,
        **{key: reading(value) for key, value in sizes.items()},
    )


FITS = dash_fits((
    cutout("rev counter", 120.0, 75.0, old=86.0),
    cutout("speedometer", 245.0, 75.0, old=100.0),
    cutout("trim gauge", 350.0, 60.0, old=50.0, new=52.5, rim=60.0),
    cutout("fuel", 350.0, 135.0, new=52.0, rim=60.0),
    cutout("screen", 500.0, 100.0, old=60.0, old_height=60.0, new=150.0, new_height=90.0,
           rim=170.0, bezel_height=110.0),
))  # fmt: skip


def refs(scene, start):
    return {item.ref: item for item in scene.items if item.ref.startswith(start)}


# ------------------------------------------------------------------------- running measures


@given(st.lists(st.floats(-500.0, 500.0), max_size=30), st.floats(0.1, 40.0))
def test_spread_places_keep_order_distance_and_their_middle(wanted, pitch):
    wanted = sorted(wanted)
    places = spread(wanted, pitch)
    assert all(b - a >= pitch - 1e-6 for a, b in pairwise(places))
    assert sum(places) == pytest.approx(sum(wanted), abs=1e-6)


@given(st.lists(st.floats(-500.0, 500.0), min_size=1, max_size=20), st.floats(0.1, 40.0))
def test_spread_mirrors(wanted, pitch):
    wanted = sorted(wanted)
    there = spread(wanted, pitch)
    back = spread([-value for value in reversed(wanted)], pitch)
    assert [-value for value in reversed(back)] == pytest.approx(list(there), abs=1e-6)


def test_places_with_room_stay_where_they_are():
    assert spread([0.0, 10.0, 30.0], 10.0) == (0.0, 10.0, 30.0)
    assert spread([5.0, 5.0], 10.0) == (0.0, 10.0)


@given(st.lists(st.tuples(st.floats(-300, 300), st.floats(-300, 0)), min_size=1, max_size=15))
def test_measures_never_cover_each_other_and_each_line_starts_at_its_point(points):
    marks = [(point, f"{abs(point[0]):.1f} (6 7/16 in)") for point in points]
    for items in (measures_above(marks, 20.0, 5.0), measures_beside(marks, 320.0, 5.0)):
        boxes = [Polygon(text_box(i, 5.0)).buffer(-0.2) for i in items if isinstance(i, Text)]
        assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
        assert {i.points[0] for i in items if isinstance(i, Path)} <= set(points)


def test_one_line_serves_several_points_on_it():
    items = measures_above([((5.0, -10.0), "5"), ((5.0, -90.0), "5")], 0.0, 1.0)
    assert [item.words for item in items if isinstance(item, Text)] == ["5"]
    assert items[0].points[0] == (5.0, -10.0)


# ------------------------------------------------------------------------- the template


def test_only_what_is_to_be_cut_is_on_the_cut_layers():
    scene = dash_scene(FITS, MM)
    assert set(refs(scene, "cut-")) == {"cut-trim-gauge", "cut-fuel", "cut-screen"}
    layers = {item.ref: item.layer for item in scene.items if item.ref.startswith("cut-")}
    assert layers == {"cut-trim-gauge": "DRILL", "cut-fuel": "DRILL", "cut-screen": "TRIM"}
    assert {item.layer for item in dash_cut_scene(FITS).items} == {"DRILL", "TRIM"}


def test_everything_stands_where_it_was_measured_at_true_scale():
    scene = dash_scene(FITS, MM)
    assert scene.scale == 1.0
    old, rim = refs(scene, "old-")["old-rev-counter"], refs(scene, "rim-")["rim-rev-counter"]
    assert (old.centre, old.radius_mm, old.layer) == ((120.0, -75.0), 43.0, "EXISTING")
    assert (rim.centre, rim.radius_mm) == ((120.0, -75.0), 47.5)
    ring = refs(scene, "ring-")["ring-speedometer"]
    assert 2.0 * ring.radius_mm == 110.0
    screen = Polygon(refs(scene, "cut-")["cut-screen"].points)
    assert screen.bounds == (425.0, -145.0, 575.0, -55.0)
    proof = Polygon(refs(scene, "proof")["proof"].points)
    assert (proof.area, proof.length) == (10000.0, 400.0)


@settings(max_examples=40, deadline=None)
@given(st.lists(
    st.tuples(st.floats(30, 1500), st.floats(30, 600), st.floats(10, 200)), min_size=1, max_size=8,
    unique_by=lambda c: round(c[0]),
))  # fmt: skip
def test_round_cuts_come_back_from_the_file_as_they_were_entered(found):
    fits = tuple(
        CutoutFit(f"c{k}", (x, y), None, Shape(d), Shape(d + 10.0), 5.0)
        for k, (x, y, d) in enumerate(found)
    )
    back = read_outline(to_dxf(dash_cut_scene(fits), linetypes=False)).circles
    for circle, (x, y, d) in zip(back, found, strict=True):
        assert (circle.x_mm, -circle.y_mm, circle.diameter_mm) == pytest.approx((x, y, d), abs=2e-6)


@pytest.mark.parametrize("style", [MM, Shown("in")])
def test_no_words_cover_each_other_and_the_file_is_sound(style):
    scene = dash_scene(FITS, style, "Dunlin")
    boxes = [
        (item.words, Polygon(text_box(item, 1.0)).buffer(-0.2))
        for item in scene.items
        if isinstance(item, Text)
    ]
    assert [
        (one, other) for (one, a), (other, b) in combinations(boxes, 2) if a.intersects(b)
    ] == []
    data = to_dxf(scene)
    assert audit(data) == []
    assert data == to_dxf(dash_scene(FITS, style, "Dunlin"))


def test_the_words_say_what_becomes_of_each():
    said = words(dash_scene(FITS, MM, "Dunlin"))
    assert "Dunlin: dash, SEEN FROM IN FRONT" in said
    assert {"COVERED", "RING NEEDED", "ENLARGE", "NEW HOLE"} <= set(said)
    assert any(line.startswith("speedometer: 245 from the left, 75 from above, ring needed")
               for line in said)  # fmt: skip


def test_one_without_a_place_is_named_and_not_drawn():
    lost = cutout("lost", 10.0, 10.0, new=None)
    scene = dash_scene((*FITS, *dash_fits((lost,))), MM)
    assert any(line.startswith("lost: not drawn") for line in words(scene))
    assert not refs(scene, "cross-lost")


def test_an_empty_dash_has_no_template():
    with pytest.raises(NotMeasuredError, match="no template for the dash"):
        dash_scene((), MM)


def test_where_nothing_is_cut_there_is_no_cut_file():
    with pytest.raises(NotMeasuredError, match="nothing to cut"):
        dash_cut_scene(FITS[:1])


@pytest.mark.parametrize(
    ("shape", "said"),
    [(Shape(85.0), "dia 3 3/8 in (85)"), (Shape(60.0, 40.0), "2 3/8 in (60) x 1 9/16 in (40)")],
)
def test_sizes_in_inches(shape, said):
    assert size_words(shape, Shown("in")) == said


def test_discs_and_paths_only_where_the_shape_is_round_or_square():
    scene = dash_scene(FITS, MM)
    kinds = {ref: type(item) for ref, item in refs(scene, "rim-").items()}
    assert kinds["rim-fuel"] is Disc
    assert kinds["rim-screen"] is Path
