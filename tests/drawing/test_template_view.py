import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Dash, Disc, Path, Text, flatten
from rigfit.drawing.template_view import PROOF_MM, cut_scene, template_scene
from rigfit.rigging.hole_pattern import Feature, HolePattern, drilled_features
from rigfit.rigging.template import Template, drilling_template
from rigfit.units import Shown
from tests.demo_reports import report_on

CASES = [
    f"{kind}-{lengths}"
    for kind in ("B", "C", "D", "twin", "plate-fixed", "pod-level")
    for lengths in ("mm", "in")
]
spans = st.floats(60.0, 700.0)


def template_of(case):
    return drilling_template(report_on(case).case)


def scene_of(case):
    return template_scene(template_of(case), Shown("in" if case.endswith("-in") else "mm"))


def discs(scene, layer):
    return [item for item in scene.items if isinstance(item, Disc) and item.layer == layer]


def paths(scene, layer):
    return [item for item in scene.items if isinstance(item, Path) and item.layer == layer]


def tips(scene, ref):
    return [
        item.points[0]
        for item in paths(scene, "MEASURES")
        if item.ref == ref and item.closed and len(item.points) == 3
    ]


def said(scene, ref):
    return [item.words for item in scene.items if isinstance(item, Text) and item.ref == ref]


def made(upper, lower, drop, below, centre):
    """Return a template of four holes of one's own."""
    pattern = HolePattern(
        "own", "own", "job", (50.0,), upper, drop, lower, hole_mm=13.5, bolt="M12"
    )  # fmt: skip
    features = drilled_features(pattern, below, centre)
    return Template(features, (), centre, 0.0, ("Dunlin", "SEEN FROM ASTERN"), ("Measure.",))


@settings(max_examples=60)
@given(spans, spans, spans, st.floats(20.0, 400.0), st.floats(-1500.0, 1500.0))
def test_the_cuts_are_symmetric_about_the_engine(upper, lower, drop, below, centre):
    scene = cut_scene(made(upper, lower, drop, below, centre))
    holes = {(round(d.centre[0], 6), round(d.centre[1], 6)) for d in discs(scene, "DRILL")}
    mirrored = {(round(2.0 * centre - x, 6) + 0.0, y) for x, y in holes}
    board = Polygon(flatten(paths(scene, "TRIM")[0], 0.01))
    for hole in holes:
        assert any(math.dist(hole, other) < 1e-5 for other in mirrored)
    assert board.bounds[0] + board.bounds[2] == pytest.approx(2.0 * centre, abs=1e-6)


@settings(max_examples=60)
@given(spans, spans, spans, st.floats(20.0, 400.0), st.floats(-1500.0, 1500.0))
def test_every_hole_is_well_inside_the_board(upper, lower, drop, below, centre):
    scene = cut_scene(made(upper, lower, drop, below, centre))
    board = Polygon(flatten(paths(scene, "TRIM")[0], 0.01))
    sides = board.bounds[0] + 50.0, board.bounds[2] - 50.0
    for hole in discs(scene, "DRILL"):
        assert board.covers(Point(hole.centre).buffer(hole.radius_mm))
        assert sides[0] <= hole.centre[0] <= sides[1]


@pytest.mark.parametrize("case", CASES)
def test_the_board_hangs_from_the_transom_top(case):
    scene = scene_of(case)
    board = Polygon(flatten(paths(scene, "TRIM")[0], 0.01))
    top = [x for x, y in paths(scene, "TRIM")[0].points if y == 0.0]
    assert board.is_valid
    assert board.bounds[3] == 0.0
    assert sorted(top) == [board.bounds[0], board.bounds[2]]


@pytest.mark.parametrize("case", CASES)
def test_a_hole_stands_where_its_feature_says(case):
    template, scene = template_of(case), scene_of(case)
    found = {item.ref: (*item.centre, 2.0 * item.radius_mm) for item in discs(scene, "DRILL")}
    assert found == {
        f"hole-{f.name.replace(' ', '-')}": (f.across_mm, -f.below_top_mm, f.diameter_mm)
        for f in template.features
    }


@pytest.mark.parametrize("case", CASES)
def test_dimensions_span_what_they_say(case):
    template, scene = template_of(case), scene_of(case)
    for feature in template.features:
        across = tips(scene, f"across-{feature.name.replace(' ', '-')}")
        row, side = feature.name.split()
        below = tips(scene, f"below-{('upper', 'lower').index(row)}-{side}")
        assert math.dist(*across) == pytest.approx(abs(feature.across_mm - template.centre_mm))
        assert math.dist(*below) == pytest.approx(feature.below_top_mm)


@pytest.mark.parametrize(
    ("case", "ref", "words"),
    [
        ("B-mm", "across-upper-port", "163.5"),
        ("B-mm", "across-lower-starboard", "125.5"),
        ("B-mm", "below-0-port", "48"),
        ("B-mm", "below-1-starboard", "251"),
        ("B-in", "across-upper-port", "6 7/16 in (163.5)"),
        ("B-in", "below-0-starboard", "1 7/8 in (48)"),
    ],
)
def test_a_dimension_says_its_length(case, ref, words):
    assert said(scene_of(case), ref) == [words]


@pytest.mark.parametrize("case", CASES)
def test_both_diagonals_are_given_and_equal(case):
    words = [
        item.words
        for item in scene_of(case).items
        if isinstance(item, Text) and item.words.startswith("diagonal")
    ]
    assert len(words) == 2
    assert len(set(words)) == 1


def test_the_diagonal_is_that_of_the_holes():
    words = [item.words for item in scene_of("B-mm").items if isinstance(item, Text)]
    assert f"diagonal {math.hypot(163.5 + 125.5, 203.0):.1f}" in words


@pytest.mark.parametrize("case", CASES)
def test_the_proof_square_is_square_and_below_the_board(case):
    scene = scene_of(case)
    square = Polygon(next(p for p in paths(scene, "PROOFBAR") if p.ref == "proof").points)
    board = Polygon(paths(scene, "TRIM")[0].points)
    left, bottom, right, top = square.bounds
    assert (right - left, top - bottom) == pytest.approx((PROOF_MM, PROOF_MM), abs=1e-9)
    assert top < board.bounds[1]


@pytest.mark.parametrize("case", CASES)
def test_no_text_covers_another(case):
    areas = [
        (item.words, Polygon(text_box(item, 1.0)).buffer(-0.05))
        for item in scene_of(case).items
        if isinstance(item, Text)
    ]
    covered = [(a, b) for (a, one), (b, two) in combinations(areas, 2) if one.intersects(two)]
    assert covered == []


@pytest.mark.parametrize("case", CASES)
def test_no_words_lie_on_a_hole(case):
    scene = scene_of(case)
    holes = [Point(item.centre).buffer(item.radius_mm) for item in discs(scene, "DRILL")]
    covered = [
        item.words
        for item in scene.items
        if isinstance(item, Text)
        and any(Polygon(text_box(item, 1.0)).intersects(hole) for hole in holes)
    ]
    assert covered == []


@pytest.mark.parametrize("case", CASES)
def test_the_view_is_named(case):
    words = [item.words for item in scene_of(case).items if isinstance(item, Text)]
    assert "SEEN FROM ASTERN, OUTSIDE OF THE TRANSOM" in words
    assert "TRANSOM TOP" in words
    assert "CENTRELINE OF THE BOAT" in words


def test_the_starboard_side_is_to_the_right():
    centres = {item.ref: item.centre[0] for item in discs(scene_of("B-mm"), "DRILL")}
    assert centres["hole-upper-starboard"] > 0.0 > centres["hole-upper-port"]


def test_an_engine_off_the_centreline_has_its_own_line():
    scene = scene_of("twin-mm")
    upright = {
        path.points[0][0]
        for path in paths(scene, "CENTRELINES")
        if path.points[0][0] == path.points[1][0]
    }
    assert upright == {0.0, 345.5}
    assert "CENTRE OF THE ENGINE" in [i.words for i in scene.items if isinstance(i, Text)]


def test_old_holes_are_dashed_and_on_their_own_layer():
    old = discs(scene_of("B-mm"), "EXISTING")
    assert len(old) == 4
    assert {item.pen.dash for item in old} == {Dash.DASHED}


@pytest.mark.parametrize(("engine", "slots"), [("B-mm", 0), ("A-mm", 2)])
def test_slots_of_the_bracket_are_shown_and_never_cut(engine, slots):
    case = report_on(engine).case
    template = Template(
        drilled_features(case.transom_pattern, 48.0), (), 0.0,
        case.transom_pattern.lower_slot_mm, ("Dunlin",), (),
    )  # fmt: skip
    shown = paths(template_scene(template, Shown()), "CENTREMARKS")
    assert sum(1 for path in shown if path.ref == "bracket-slot") == slots
    assert len(paths(cut_scene(template), "TRIM")) == 1


def test_the_cut_holds_only_two_layers():
    assert {item.layer for item in cut_scene(template_of("B-mm")).items} == {"DRILL", "TRIM"}


def test_a_short_slot_is_a_hole():
    features = (
        Feature("upper port", -100.0, 50.0, 13.5, 13.5),
        Feature("upper starboard", 100.0, 50.0, 13.5, 13.5),
    )
    scene = cut_scene(Template(features, (), 0.0, 0.0, ("Dunlin",), ()))
    assert [item.radius_mm for item in discs(scene, "DRILL")] == [6.75, 6.75]
