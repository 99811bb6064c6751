"""The drill-guide jig: it hangs where it says, and its holes are the template's."""

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from rigfit.drawing.fonts import text_box
from rigfit.drawing.jig import (
    BOARD_MM,
    LIP_MM,
    SCREW,
    guide_for,
    jig_cut_scene,
    jig_drawing,
    jig_notes,
    jig_scene,
)
from rigfit.drawing.scene import Disc, Path, Text
from rigfit.drawing.sheet import Box
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.tiles import contains
from rigfit.drawing.to_dxf import audit, to_dxf
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.template import Template, drilling_template
from rigfit.units import Shown
from tests.demo_reports import report_on

CASES = ("B-mm", "B-in", "twin-mm", "plate-fixed-in")
spans = st.floats(60.0, 700.0)


def template_of(case):
    return drilling_template(report_on(case).case)


def style_of(case):
    return Shown("in") if case.endswith("-in") else Shown()


def made(upper, drop, below, centre, diameter):
    features = [
        Feature(f"{row} {side}", centre + sign * upper / 2.0, level, diameter)
        for row, level in (("upper", below), ("lower", below + drop))
        for side, sign in (("port", -1.0), ("starboard", 1.0))
    ]
    return Template(tuple(features), (), centre, 0.0, ("Dunlin",), ())


def pieces(scene):
    """Return the board and the lip as polygons."""
    found = {i.ref: Polygon(i.points) for i in scene.items if i.ref.startswith("jig-")
             and isinstance(i, Path) and i.closed and i.layer == "TRIM"}  # fmt: skip
    return found["jig-board"], found["jig-lip"]


def discs(scene, *, screws):
    return [i for i in scene.items if isinstance(i, Disc) and (i.ref == SCREW) is screws]


@given(spans, spans, st.floats(30.0, 300.0), st.floats(-1000.0, 1000.0), st.floats(6.0, 40.0))
def test_all_holes_are_well_inside_the_board_at_drilling_size(upper, drop, below, centre, diameter):
    template = made(upper, drop, below, centre, diameter)
    board, _ = pieces(jig_cut_scene(template))
    found = {(i.centre, 2.0 * i.radius_mm) for i in discs(jig_cut_scene(template), screws=False)}
    assert found == {((f.across_mm, -f.below_top_mm), f.diameter_mm) for f in template.features}
    for (x, y), _ in found:
        sides = min(x - board.bounds[0], board.bounds[2] - x, y - board.bounds[1])
        assert sides >= 50.0


@pytest.mark.parametrize("case", CASES)
def test_board_and_lip_are_sound_pieces_as_wide_as_each_other(case):
    board, lip = pieces(jig_scene(template_of(case), style_of(case)))
    assert board.is_valid
    assert lip.is_valid
    assert (board.bounds[0], board.bounds[2]) == (lip.bounds[0], lip.bounds[2])
    assert board.distance(lip) > 5.0  # room for the cutter between them
    assert board.bounds[3] == LIP_MM  # the board stands above the transom top by the lip
    assert lip.bounds[3] - lip.bounds[1] == LIP_MM


@pytest.mark.parametrize("case", CASES)
def test_the_screws_put_the_lips_lower_edge_on_the_transom_top(case):
    scene = jig_cut_scene(template_of(case))
    board, lip = pieces(scene)
    screws = [item.centre for item in discs(scene, screws=True)]
    on_board = sorted(at for at in screws if board.covers(Point(at)))
    on_lip = sorted(at for at in screws if lip.covers(Point(at)))
    assert len(on_board) == len(on_lip) == 4
    # Laid screw on screw, the lip comes down by this much; its lower edge is then at 0.
    for (x, y), (u, v) in zip(on_board, on_lip, strict=True):
        assert u == pytest.approx(x)
        assert lip.bounds[1] - (v - y) == pytest.approx(0.0, abs=1e-9)
        assert y > 0.0  # above the transom top, where no hole of the boat can be


@pytest.mark.parametrize("case", CASES)
def test_notches_stand_on_the_centre(case):
    template = template_of(case)
    board, lip = pieces(jig_cut_scene(template))
    for piece in (board, lip):
        inner = [x for x, y in piece.exterior.coords
                 if piece.bounds[1] + 1.0 < y < piece.bounds[3] - 1.0]  # fmt: skip
        assert inner
        assert set(inner) == {template.centre_mm}


def test_an_engine_off_the_centreline_is_said_at_the_notch():
    words = [i.words for i in jig_scene(template_of("twin-mm"), Shown()).items
             if isinstance(i, Text)]  # fmt: skip
    assert "NOTCHES 345.5 TO STARBOARD OF THE BOAT'S CENTRELINE" in words


@given(st.floats(2.0, 60.0), st.floats(3.0, 60.0))
def test_a_guide_is_three_drills_long_or_more(diameter, board):
    guide = guide_for(diameter, board)
    assert guide.length_mm == pytest.approx(board + guide.block_mm)
    assert guide.length_mm >= 3.0 * diameter - 1e-6
    assert guide.block_mm == 0.0 or guide.length_mm < 3.0 * diameter + 1.0


@pytest.mark.parametrize(("diameter", "board"), [(0.0, 18.0), (13.5, 0.0), (math.nan, 18.0)])
def test_a_guide_without_thickness_is_refused(diameter, board):
    with pytest.raises(ValueError, match="thickness"):
        guide_for(diameter, board)


def test_the_notes_say_block_board_and_drill():
    # 3 x 13.5 = 40.5 mm, so 41 of guide: 23 of block on 18 of board; 41 + 45 + 15 = 101 mm.
    said = " ".join(jig_notes(template_of("B-mm"), 45.0))
    assert "guide 41 mm long, a block of 23 mm on a board of 18 mm" in said
    assert "needs 101 mm of free length" in said
    assert "free length" not in " ".join(jig_notes(template_of("B-mm")))
    assert BOARD_MM == 18.0


def test_blocks_are_left_out_where_the_board_is_thick_enough():
    thin = made(300.0, 200.0, 48.0, 0.0, 6.0)
    assert [i for i in jig_scene(thin, Shown()).items if i.ref == "block"] == []
    thick = made(300.0, 200.0, 48.0, 0.0, 13.5)
    assert len([i for i in jig_scene(thick, Shown()).items if i.ref == "block"]) == 4


@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_the_cut_file_holds_two_layers_and_passes_the_audit(release):
    scene = jig_cut_scene(template_of("B-mm"))
    assert {item.layer for item in scene.items} == {"DRILL", "TRIM"}
    assert audit(to_dxf(scene, release=release, linetypes=False)) == []
    assert audit(to_dxf(jig_scene(template_of("B-mm"), Shown()), release=release)) == []


@pytest.mark.parametrize("case", CASES)
def test_no_words_cover_others_or_a_hole(case):
    scene = jig_scene(template_of(case), style_of(case), transom_mm=45.0)
    areas = [(i.words, Polygon(text_box(i, 1.0)).buffer(-0.05))
             for i in scene.items if isinstance(i, Text)]  # fmt: skip
    covered = [(a, b) for (a, one), (b, two) in combinations(areas, 2) if one.intersects(two)]
    assert covered == []
    holes = [Point(i.centre).buffer(i.radius_mm) for i in scene.items if isinstance(i, Disc)]
    assert [said for said, area in areas if any(area.intersects(hole) for hole in holes)] == []


@pytest.mark.parametrize("case", CASES)
def test_the_paper_holds_both_pieces_whole(case):
    drawing = jig_drawing(template_of(case), style_of(case))
    assert contains(drawing.bounds, Box(*full_extents(drawing.items, 1.0)))
    assert sum(hole.label == "" for hole in drawing.holes) == 8
    assert sorted(hole.label for hole in drawing.holes if hole.label)[0].startswith("lower port")


def test_a_slot_is_cut_as_one():
    features = (
        Feature("lower port", -100.0, 250.0, 13.5, 60.0),
        Feature("lower starboard", 100.0, 250.0, 13.5, 13.5),
    )
    scene = jig_cut_scene(Template(features, (), 0.0, 0.0, ("Dunlin",), ()))
    assert len(discs(scene, screws=False)) == 1
    (slot,) = [i for i in scene.items if isinstance(i, Path) and i.bulges]
    ys = [y for _, y in slot.points]
    assert max(ys) - min(ys) == pytest.approx(60.0 - 13.5)
