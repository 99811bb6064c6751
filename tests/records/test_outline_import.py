"""Reading outlines from DXF files: every kind of entity, harmful files, and closed-form areas."""

from __future__ import annotations

import io
import math
import random
import time

import ezdxf
import pytest
from ezdxf.math import Vec3
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.drawing.scene import Disc, Path, Scene, slot
from rigfit.drawing.to_dxf import to_dxf
from rigfit.records import outline_walk
from rigfit.records.outline_import import (
    LARGEST_BYTES,
    OutlineFileError,
    UnitAskedError,
    holes_texts,
    read_outline,
)
from rigfit.records.outline_pieces import Piece, closed_outlines
from rigfit.records.outline_walk import Walk

RELEASES = ("R12", "R2000", "R2010")
AREA = 1.2e-4

every_release = pytest.mark.parametrize("release", RELEASES)


def drawing(release="R2000", unit=4):
    doc = ezdxf.new(release)
    if release != "R12":
        doc.header["$INSUNITS"] = unit
    return doc, doc.modelspace()


def data_of(doc):
    out = io.StringIO()
    doc.write(out)
    return out.getvalue().encode("utf-8")


def read(doc, unit="mm", layer=None):
    return read_outline(data_of(doc), unit, layer)


def rectangle(msp, width, height, left=0.0, bottom=0.0):
    corners = [
        (left, bottom),
        (left + width, bottom),
        (left + width, bottom + height),
        (left, bottom + height),
    ]
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        msp.add_line(start, end)


# ------------------------------------------------------------------------- what is read


@every_release
def test_lines_close_into_one_outline(release):
    doc, msp = drawing(release)
    rectangle(msp, 400.0, 300.0)
    found = read(doc)
    assert [outline.area_mm2 for outline in found.outlines] == [120000.0]
    assert found.size_mm == (400.0, 300.0)
    assert (found.open_pieces, dict(found.skipped), found.notes) == (0, {}, ())


@every_release
def test_a_rounded_plate_of_lines_and_arcs_has_its_closed_form_area(release):
    doc, msp = drawing(release)
    wide, tall, r = 400.0, 200.0, 30.0
    for x0, y0, x1, y1 in (
        (r, 0, wide - r, 0), (wide, r, wide, tall - r), (wide - r, tall, r, tall),
        (0, tall - r, 0, r),
    ):  # fmt: skip
        msp.add_line((x0, y0), (x1, y1))
    for x, y, begin in (
        (wide - r, r, 270),
        (wide - r, tall - r, 0),
        (r, tall - r, 90),
        (r, r, 180),
    ):
        msp.add_arc((x, y), r, begin, begin + 90)
    (outline,) = read(doc).outlines
    assert outline.area_mm2 == pytest.approx(wide * tall - (4 - math.pi) * r * r, rel=AREA)


@every_release
@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.3, -0.3, 2.5])
def test_bulges_have_the_area_of_their_segments(release, bulge):
    doc, msp = drawing(release)
    rows = [(0, 0, 0), (400, 0, bulge), (400, 300, 0), (0, 300, 0)]
    if release == "R12":
        msp.add_polyline2d(rows, format="xyb", close=True)
    else:
        msp.add_lwpolyline(rows, format="xyb", close=True)
    sweep = 4.0 * math.atan(bulge)
    radius = 300.0 / (2.0 * math.sin(abs(sweep) / 2.0))
    segment = math.copysign(radius**2 * (abs(sweep) - math.sin(abs(sweep))) / 2.0, bulge)
    (outline,) = read(doc).outlines
    assert outline.area_mm2 == pytest.approx(400.0 * 300.0 + segment, rel=AREA)


@pytest.mark.parametrize("radius", [1.0, 20.0, 500.0, 40000.0])
def test_a_half_disc_of_any_size_has_its_area(radius):
    doc, msp = drawing()
    msp.add_arc((0, 0), radius, 0, 180)
    msp.add_line((-radius, 0), (radius, 0))
    (outline,) = read(doc).outlines
    assert outline.area_mm2 == pytest.approx(math.pi * radius**2 / 2.0, rel=AREA)


@pytest.mark.parametrize("release", ["R2000", "R2010"])
def test_an_ellipse_has_its_area(release):
    doc, msp = drawing(release)
    msp.add_ellipse((50, 60), (200, 100), 0.4)
    (outline,) = read(doc).outlines
    assert outline.area_mm2 == pytest.approx(math.pi * 0.4 * (200**2 + 100**2), rel=AREA)


def test_a_rational_spline_that_is_a_circle_has_the_circles_area():
    doc, msp = drawing()
    root = math.sqrt(0.5)
    around = ((1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0))
    points = [Vec3(100 * x, 100 * y) for x, y in around]
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    msp.add_rational_spline(points, [1, root] * 4 + [1], degree=2, knots=knots)
    (outline,) = read(doc).outlines
    assert outline.area_mm2 == pytest.approx(math.pi * 100**2, rel=AREA)


def test_a_three_dimensional_polyline_is_seen_from_above():
    doc, msp = drawing()
    msp.add_polyline3d([(0, 0, 5), (100, 0, 9), (100, 50, -3), (0, 50, 7)], close=True)
    assert [outline.area_mm2 for outline in read(doc).outlines] == [5000.0]


@every_release
def test_circles_keep_place_diameter_and_layer(release):
    doc, msp = drawing(release)
    doc.layers.add("BOLTS")
    msp.add_circle((-163.5, -48), 6.75, {"layer": "BOLTS"})
    msp.add_arc((50, 60), 10, 0, 360)
    found = read(doc)
    assert [(c.x_mm, c.y_mm, c.diameter_mm, c.layer) for c in found.circles] == [
        (-163.5, -48.0, 13.5, "BOLTS"),
        (50.0, 60.0, 20.0, "0"),
    ]
    assert found.outlines == ()


def test_circles_drawn_otherwise_are_circles_all_the_same():
    doc, msp = drawing()
    msp.add_lwpolyline([(0, 0, 1), (30, 0, 1)], format="xyb", close=True)
    msp.add_ellipse((100, 0), (12, 5), 1.0)
    circles = [(c.x_mm, c.y_mm, c.diameter_mm) for c in read(doc).circles]
    assert circles == [(15.0, 0.0, 30.0), (100.0, 0.0, 26.0)]


def mirrored_block(doc, msp, **scales):
    block = doc.blocks.new("PART")
    block.add_lwpolyline(
        [(0, 0, 0), (400, 0, 0.5), (400, 300, 0), (0, 300, 0)], format="xyb", close=True
    )
    block.add_circle((50, 60), 7)
    msp.add_blockref("PART", (1000, 0), scales)


def test_a_mirrored_block_is_a_mirrored_outline():
    plain, msp = drawing()
    mirrored_block(plain, msp)
    turned, msp = drawing()
    mirrored_block(turned, msp, xscale=-1.0)
    one, other = read(plain), read(turned)
    assert other.outlines[0].area_mm2 == pytest.approx(one.outlines[0].area_mm2, rel=1e-9)
    assert (other.circles[0].x_mm, other.circles[0].y_mm) == pytest.approx((950.0, 60.0))
    assert other.left_mm - 1000.0 == pytest.approx(-(one.right_mm - 1000.0))
    assert other.circles[0].diameter_mm == pytest.approx(14.0)


@pytest.mark.parametrize("part", ["polyline", "arc", "circle"])
def test_an_entity_seen_from_behind_is_mirrored(part):
    doc, msp = drawing()
    behind = {"extrusion": (0, 0, -1)}
    if part == "polyline":
        rows = [(0, 0, 0), (400, 0, 0.5), (400, 300, 0), (0, 300, 0)]
        msp.add_lwpolyline(rows, format="xyb", close=True, dxfattribs=behind)
    elif part == "arc":
        msp.add_arc((100, 0), 50, 0, 180, dxfattribs=behind)
        msp.add_line((-150, 0), (-50, 0))
    else:
        msp.add_circle((100, 0), 50, behind)
    found = read(doc)
    assert found.right_mm <= 0.5
    assert len(found.outlines) + len(found.circles) == 1


def test_a_grid_of_references_and_blocks_in_blocks_are_opened():
    doc, msp = drawing()
    inner, outer = doc.blocks.new("HOLE"), doc.blocks.new("ROW")
    inner.add_circle((0, 0), 5)
    outer.add_blockref(
        "HOLE",
        (0, 0),
        {"column_count": 3, "column_spacing": 100, "row_count": 2, "row_spacing": 40},
    )
    msp.add_blockref("ROW", (10, 20), {"xscale": 2, "yscale": 2})
    found = sorted((round(c.x_mm, 6), round(c.y_mm, 6), c.diameter_mm) for c in read(doc).circles)
    assert found == [(x, y, 20.0) for x in (10.0, 210.0, 410.0) for y in (20.0, 100.0)]


def test_a_grid_inside_a_turned_and_mirrored_block_turns_and_mirrors_with_it():
    doc, msp = drawing()
    inner, outer = doc.blocks.new("HOLE"), doc.blocks.new("ROW")
    inner.add_circle((0, 0), 5)
    outer.add_blockref("HOLE", (0, 0), {"column_count": 3, "column_spacing": 100})
    msp.add_blockref("ROW", (0, 0), {"xscale": -2, "yscale": 2, "rotation": 30})
    cos, sin = math.cos(math.radians(30)), math.sin(math.radians(30))
    found = sorted((c.x_mm, c.y_mm) for c in read(doc).circles)
    wanted = sorted((-200.0 * k * cos, -200.0 * k * sin) for k in range(3))
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=1e-6)


def test_what_lies_on_layer_0_of_a_block_takes_the_layer_of_the_reference():
    doc, msp = drawing()
    doc.layers.add("HOLES")
    doc.blocks.new("HOLE").add_circle((0, 0), 5)
    msp.add_blockref("HOLE", (10, 20), {"layer": "HOLES"})
    assert [c.layer for c in read(doc, layer="holes").circles] == ["HOLES"]


# ------------------------------------------------------------------------- joining


@pytest.mark.parametrize(("gap", "closes"), [(0.05, True), (0.19, True), (0.25, False)])
def test_ends_are_joined_over_a_fifth_of_a_millimetre(gap, closes):
    doc, msp = drawing()
    msp.add_circle((0, 0), 5)
    msp.add_lwpolyline([(0, 0), (100, 0), (100, 50)])
    msp.add_lwpolyline([(100, 50 + gap), (0, 50), (0, 0)])
    found = read(doc)
    assert bool(found.outlines) is closes
    assert found.open_pieces == (0 if closes else 2)


def test_ends_are_joined_in_millimetres_whatever_the_unit():
    doc, msp = drawing(unit=1)
    msp.add_lwpolyline([(0, 0), (10, 0), (10, 5)])
    msp.add_lwpolyline([(10, 5.1 / 25.4 - 0.1 / 25.4), (10, 5)])
    msp.add_lwpolyline([(10, 5 + 0.15 / 25.4), (0, 5), (0, 0)])
    found = read(doc, None)
    assert found.outlines[0].area_mm2 == pytest.approx(50 * 25.4**2, rel=1e-2)


def test_the_largest_outline_comes_first_and_a_window_in_it_after():
    doc, msp = drawing()
    rectangle(msp, 50.0, 40.0, 100.0, 100.0)
    rectangle(msp, 400.0, 300.0)
    found = read(doc)
    assert [outline.area_mm2 for outline in found.outlines] == [120000.0, 2000.0]
    assert found.outline is found.outlines[0]


def test_loose_ends_are_counted_and_said():
    doc, msp = drawing()
    rectangle(msp, 400.0, 300.0)
    msp.add_line((500, 0), (600, 0))
    found = read(doc)
    assert found.open_pieces == 1
    assert "Not part of any closed outline: 1 open piece." in found.notes


def test_a_line_drawn_twice_counts_once():
    doc, msp = drawing()
    rectangle(msp, 400.0, 300.0)
    rectangle(msp, 400.0, 300.0)
    msp.add_circle((50, 50), 5)
    msp.add_circle((50, 50), 5)
    found = read(doc)
    assert [outline.area_mm2 for outline in found.outlines] == [120000.0]
    assert len(found.circles) == 1
    assert found.notes == (
        "Lines drawn twice, counted once: 4.",
        "1 circle drawn twice counted once.",
    )


def test_an_outline_that_crosses_itself_is_named_and_left_out():
    doc, msp = drawing()
    msp.add_lwpolyline([(0, 0), (100, 100), (100, 0), (0, 80)], close=True)
    msp.add_circle((50, 50), 5)
    found = read(doc)
    assert found.outlines == ()
    assert any("cross themselves" in note for note in found.notes)


@settings(max_examples=60)
@given(st.integers(3, 40), st.randoms(use_true_random=False), st.floats(5.0, 2000.0))
def test_a_polygon_cut_into_shuffled_turned_lines_is_found_again(count, chance, radius):
    angles = [math.tau * k / count for k in range(count)]
    corners = [(radius * math.cos(a), radius * math.sin(a)) for a in angles]
    sides = [Piece(pair) for pair in zip(corners, corners[1:] + corners[:1], strict=True)]
    sides = [Piece(side.points[:: chance.choice((1, -1))]) for side in sides]
    chance.shuffle(sides)
    (outline,), still_open, notes = closed_outlines(sides)
    area = count * radius**2 * math.sin(math.tau / count) / 2.0
    if math.dist(*sides[0].points) > 1.0:
        assert outline.area_mm2 == pytest.approx(area, rel=1e-9)
    assert (still_open, notes) == (0, [])


# ------------------------------------------------------------------------- units and layers


@pytest.mark.parametrize(
    ("code", "name", "mm"),
    [(1, "in", 25.4), (2, "ft", 304.8), (4, "mm", 1.0), (5, "cm", 10.0), (6, "m", 1000.0)],
)
def test_the_files_own_unit_is_believed(code, name, mm):
    doc, msp = drawing(unit=code)
    msp.add_circle((2, 3), 1)
    found = read(doc, None)
    assert (found.unit_found, found.unit) == (name, name)
    assert found.circles[0].diameter_mm == pytest.approx(2.0 * mm)


@pytest.mark.parametrize(("release", "unit"), [("R12", 4), ("R2000", 0), ("R2010", 20)])
def test_a_file_without_a_unit_asks_and_shows_both_sizes(release, unit):
    doc, msp = drawing(release, unit)
    rectangle(msp, 20.0, 15.5)
    with pytest.raises(UnitAskedError) as caught:
        read(doc, None)
    said = str(caught.value)
    assert "20.0 x 15.5 mm" in said
    assert "508 x 394 mm" in said
    assert read(doc, "in").size_mm == pytest.approx((508.0, 393.7))


def test_a_unit_given_against_the_files_own_wins_and_is_said():
    doc, msp = drawing(unit=4)
    msp.add_circle((2, 3), 1)
    found = read(doc, "in")
    assert found.circles[0].diameter_mm == pytest.approx(50.8)
    assert found.notes == ("The file says its unit is mm; it was read in in as you said.",)


def test_hidden_layers_are_left_out_and_said():
    doc, msp = drawing()
    for name, hide in (("OFF", "off"), ("COLD", "freeze")):
        getattr(doc.layers.add(name), hide)()
        msp.add_circle((0, 0), 50, {"layer": name})
    msp.add_circle((0, 0), 5)
    found = read(doc)
    assert [c.diameter_mm for c in found.circles] == [10.0]
    assert found.hidden == 2
    assert "Left out: 2 entities on layers that are off or frozen." in found.notes


def test_one_layer_can_be_chosen_and_all_are_named():
    doc, msp = drawing()
    for name, radius in (("A", 5), ("B", 7)):
        doc.layers.add(name)
        msp.add_circle((0, 0), radius, {"layer": name})
    found = read(doc, layer="B")
    assert [c.diameter_mm for c in found.circles] == [14.0]
    assert found.layers == ("A", "B")
    with pytest.raises(OutlineFileError, match="layers in use are A, B"):
        read(doc, layer="C")


def test_what_cannot_be_used_is_counted_by_type():
    doc, msp = drawing()
    rectangle(msp, 10.0, 10.0)
    msp.add_text("A-1")
    msp.add_point((0, 0))
    msp.add_point((1, 0))
    with msp.add_mesh().edit_data() as mesh:
        mesh.vertices, mesh.faces = [(0, 0, 0), (1, 0, 0), (0, 1, 0)], [(0, 1, 2)]
    found = read(doc)
    assert dict(found.skipped) == {"TEXT": 1, "POINT": 2, "MESH": 1}
    assert "Left out: 1 MESH, 2 POINT, 1 TEXT." in found.notes
    assert any(note.startswith("MESH cannot be used") for note in found.notes)


def test_paper_space_is_not_part_of_the_piece():
    doc, msp = drawing()
    msp.add_circle((0, 0), 5)
    doc.layout("Layout1").add_circle((0, 0), 50)
    assert [c.diameter_mm for c in read(doc).circles] == [10.0]


# ------------------------------------------------------------------------- there and back

places = st.floats(-1700.0, 1700.0).map(lambda v: round(v, 3))
circles = st.lists(
    st.tuples(places, places, st.floats(1.0, 300.0).map(lambda v: round(v, 3))),
    min_size=1, max_size=30, unique_by=lambda c: (round(c[0], 1), round(c[1], 1)),
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(circles, st.sampled_from(["R2000", "R12"]))
def test_circles_come_back_as_they_were_written(holes, release):
    scene = Scene("", tuple(Disc((x, y), d / 2.0, "DRILL") for x, y, d in holes))
    found = read_outline(to_dxf(scene, release=release), "mm")
    back = [(c.x_mm, c.y_mm, c.diameter_mm) for c in found.circles]
    assert len(back) == len(holes)
    for one, other in zip(back, holes, strict=True):
        assert one == pytest.approx(other, abs=2e-6)


@settings(max_examples=40, deadline=None)
@given(st.floats(5.0, 60.0), st.floats(1.0, 400.0), places, places)
def test_a_slot_comes_back_with_its_area(width, straight, x, y):
    item = slot((x, y), width, width + straight, "TRIM")
    (outline,) = read_outline(to_dxf(Scene("", (item,)))).outlines
    assert outline.area_mm2 == pytest.approx(width * straight + math.pi * width**2 / 4.0, rel=AREA)


def test_circles_become_rows_of_existing_holes_from_the_top_down():
    holes = ((1163.5, 952.0), (836.5, 952.0), (1125.4, 748.8), (874.6, 748.8))
    scene = Scene("", tuple(Disc(at, 6.75, "DRILL") for at in holes))
    rows = holes_texts(read_outline(to_dxf(scene)), centre_x=1000.0, top_y=1000.0)
    assert [(row["across"], row["below_top"], row["diameter"]) for row in rows] == [
        ("-163.5 mm", "48 mm", "13.5 mm"),
        ("163.5 mm", "48 mm", "13.5 mm"),
        ("-125.4 mm", "251.2 mm", "13.5 mm"),
        ("125.4 mm", "251.2 mm", "13.5 mm"),
    ]


# ------------------------------------------------------------------------- harmful files


def refused(data, match, unit="mm"):
    begin = time.perf_counter()
    with pytest.raises(OutlineFileError, match=match) as caught:
        read_outline(data, unit)
    assert str(caught.value).endswith(".")
    return time.perf_counter() - begin


@pytest.mark.parametrize("loop", [("A", "A"), ("A", "B")])
def test_a_block_inside_itself_is_refused(loop):
    doc, msp = drawing()
    for name in set(loop):
        doc.blocks.new(name).add_circle((0, 0), 5)
    doc.blocks.get("A").add_blockref(loop[1], (1, 0))
    if loop[1] == "B":
        doc.blocks.get("B").add_blockref("A", (1, 0))
    msp.add_blockref("A", (0, 0))
    refused(data_of(doc), "holds itself")


@pytest.mark.parametrize(("levels", "each"), [(9, 10), (3, 1000)])
def test_a_thousand_million_nested_references_are_refused(levels, each):
    doc, msp = drawing()
    doc.blocks.new("B0").add_circle((0, 0), 5)
    for level in range(1, levels + 1):
        block = doc.blocks.new(f"B{level}")
        for number in range(each):
            block.add_blockref(f"B{level - 1}", (number, 0))
    msp.add_blockref(f"B{levels}", (0, 0))
    refused(data_of(doc), "deeper than 4|more than 2000 block references")


def test_a_huge_grid_of_references_is_refused():
    doc, msp = drawing()
    doc.blocks.new("B").add_circle((0, 0), 5)
    msp.add_blockref("B", (0, 0), {"column_count": 32767, "row_count": 32767})
    refused(data_of(doc), "more than 2000 block references")


def test_a_full_block_referred_to_often_is_refused():
    doc, msp = drawing()
    block = doc.blocks.new("B")
    for number in range(100):
        block.add_line((number, 0), (number, 1))
    msp.add_blockref("B", (0, 0), {"column_count": 40, "row_count": 40})
    refused(data_of(doc), "more than 50000 entities")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e308, 1e12])
@pytest.mark.parametrize("kind", ["line", "circle", "radius", "arc", "polyline", "spline", "angle"])
def test_coordinates_that_are_none_or_far_too_large_are_refused(kind, value):
    doc, msp = drawing()
    if kind == "line":
        msp.add_line((0, 0), (value, 0))
    elif kind == "circle":
        msp.add_circle((value, 0), 5)
    elif kind == "radius":
        msp.add_circle((0, 0), value)
    elif kind == "arc":
        msp.add_arc((0, 0), value, 0, 90)
    elif kind == "polyline":
        msp.add_lwpolyline([(0, 0), (value, 0), (1, 1)], close=True)
    elif kind == "spline":
        msp.add_spline_control_frame([(0, 0), (1, 1), (2, 0), (3, 1)])
        msp[0].control_points[1] = (value, 0, 0)
    elif math.isfinite(value):
        pytest.skip("an angle of many turns is an angle")
    else:
        msp.add_arc((0, 0), 5, 0, value)
    refused(data_of(doc), "coordinate|damaged")


@pytest.mark.parametrize("bulge", [1e9, -1e9, math.nan, math.inf])
def test_a_bulge_beyond_all_bounds_is_refused(bulge):
    doc, msp = drawing()
    msp.add_lwpolyline([(0, 0, bulge), (100, 0, 0), (100, 50, 0)], format="xyb", close=True)
    refused(data_of(doc), "coordinate")


def test_a_bulge_next_to_nothing_is_a_straight_line():
    doc, msp = drawing()
    msp.add_lwpolyline([(0, 0, 1e-12), (100, 0, 1e-300), (100, 50, 0)], format="xyb", close=True)
    assert read(doc).outlines[0].area_mm2 == pytest.approx(2500.0)


def test_too_many_turns_of_an_ellipse_are_refused():
    doc, msp = drawing()
    msp.add_ellipse((0, 0), (10, 0), 0.5, 0.0, 1e6)
    refused(data_of(doc), "ellipse|coordinate")


def test_splines_beyond_their_limits_are_refused():
    doc, msp = drawing()
    msp.add_open_spline([(k, k % 5) for k in range(30)], degree=12)
    refused(data_of(doc), "degree above 11")
    doc, msp = drawing()
    msp.add_open_spline([(k % 100, k // 100) for k in range(6000)])
    refused(data_of(doc), "more than 5000 control points")


def test_too_many_points_are_refused(monkeypatch):
    monkeypatch.setattr(outline_walk, "MOST_POINTS", 500)
    doc, msp = drawing()
    msp.add_arc((0, 0), 100, 0, 300)
    msp.add_arc((0, 0), 90, 0, 300)
    refused(data_of(doc), "more than 500 points")


def test_200000_lines_are_refused_before_they_are_loaded(monkeypatch):
    lines = "".join(f"0\nLINE\n10\n{k}\n11\n1\n" for k in range(200_000))
    data = f"0\nSECTION\n2\nENTITIES\n{lines}0\nENDSEC\n0\nEOF\n".encode()
    monkeypatch.setattr("ezdxf.recover.read", lambda *_: pytest.fail("it was loaded"))
    refused(data, "entities")


@pytest.mark.parametrize(
    ("part", "count", "match"),
    [("0\nVERTEX\n", 60_001, "60001 vertices"), ("0\n0\n", 1_000_001, "lines of text")],
)
def test_what_would_take_long_to_load_is_refused_before(part, count, match, monkeypatch):
    data = f"0\nSECTION\n2\nENTITIES\n{part * count}0\nENDSEC\n0\nEOF\n".encode()
    monkeypatch.setattr("ezdxf.recover.read", lambda *_: pytest.fail("it was loaded"))
    refused(data, match)


def test_outlines_that_all_cross_themselves_are_refused():
    doc, msp = drawing()
    msp.add_lwpolyline([(0, 0), (100, 100), (100, 0), (0, 80)], close=True)
    refused(data_of(doc), "every outline in the file crosses itself")


def test_the_limit_of_time_is_kept():
    doc, msp = drawing()
    rectangle(msp, 10.0, 10.0)
    ticks = iter((0.0, 1.0, 30.0))
    with pytest.raises(OutlineFileError, match="20 s"):
        Walk(doc, 1.0, None, lambda: next(ticks)).run()


@pytest.mark.parametrize(
    ("data", "match"),
    [
        (b"", "is empty"),
        (b" \r\n \n", "is empty"),
        (b"%PDF-1.7\n", "a PDF file"),
        (b"PK\x03\x04rest", "a ZIP file"),
        (b"AC1015\x00\x00", "a DWG file"),
        (b"<svg xmlns=''/>", "XML or SVG"),
        (b"\x89PNG\r\n", "a picture"),
        (b"hello", "not a DXF file"),
        (b"x" * (LARGEST_BYTES + 1), "10.0 MB"),
        (b"0\nSECTION\n2\nENTITIES\n1\n" + b"9" * 9_000_000, "damaged|no line work"),
    ],
)
def test_other_files_are_refused_by_name(data, match):
    refused(data, match)


@pytest.mark.parametrize("seed", range(12))
def test_random_bytes_are_refused(seed):
    noise = random.Random(seed).randbytes(4000)  # noqa: S311 - noise, not a secret
    refused(noise, "not a DXF|damaged|no line work|file")
    refused(b"0\nSECTION\n2\nENTITIES\n0\nLINE\n" + noise, "damaged|no line work|coordinate|file")


@pytest.mark.parametrize("share", [k / 20 for k in range(1, 20)])
@pytest.mark.parametrize("release", ["R12", "R2000"])
def test_a_file_cut_short_is_read_in_part_or_refused_in_words(release, share):
    doc, msp = drawing(release)
    rectangle(msp, 400.0, 300.0)
    msp.add_circle((50, 50), 5)
    data = data_of(doc)
    try:
        found = read_outline(data[: int(len(data) * share)], "mm")
    except OutlineFileError as refusal:
        assert str(refusal).endswith(".")
    else:
        assert found.size_mm <= (400.0, 300.0)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_file_with_any_line_changed_never_breaks(data):
    doc, msp = drawing("R12")
    rectangle(msp, 40.0, 30.0)
    msp.add_polyline2d([(0, 0, 1), (9, 0, 1)], format="xyb", close=True)
    lines = data_of(doc).split(b"\n")
    start = lines.index(b"ENTITIES")
    at = data.draw(st.integers(start, len(lines) - 1))
    lines[at] = data.draw(st.one_of(
        st.binary(max_size=12), st.sampled_from([b"0", b"-1", b"nan", b"1e400", b"LINE", b"70"])
    ))  # fmt: skip
    try:
        found = read_outline(b"\n".join(lines), "mm")
    except OutlineFileError as refusal:
        assert str(refusal).endswith(".")
    else:
        assert all(math.isfinite(value) for value in found.size_mm)


def test_an_empty_drawing_and_one_of_words_only_are_refused():
    doc, msp = drawing()
    refused(data_of(doc), "no line work")
    msp.add_text("A-1")
    refused(data_of(doc), "left out were 1 TEXT")


def test_lines_that_close_nothing_are_refused():
    doc, msp = drawing()
    msp.add_line((0, 0), (9, 0))
    refused(data_of(doc), "1 open piece but no closed outline")


def test_a_path_that_is_not_there_is_refused_by_name(tmp_path):
    with pytest.raises(OutlineFileError, match=r"gone\.dxf: it cannot be read"):
        read_outline(tmp_path / "gone.dxf")
    with pytest.raises(OutlineFileError, match="it cannot be read"):
        read_outline(tmp_path)


def test_a_file_is_read_from_its_path(tmp_path):
    path = tmp_path / "plate.dxf"
    path.write_bytes(to_dxf(Scene("", (Disc((1.0, 2.0), 3.0, "DRILL"),))))
    assert read_outline(path) == read_outline(str(path)) == read_outline(path.read_bytes())


def test_what_rigfit_writes_it_reads_without_a_word():
    trim = Path(((0.0, 0.0), (90.0, 0.0), (90.0, 40.0), (0.0, 40.0)), "TRIM", closed=True)
    found = read_outline(to_dxf(Scene("", (trim, Disc((20.0, 20.0), 6.0, "DRILL")))))
    assert found.notes == ()
    assert found.layers == ("DRILL", "TRIM")
