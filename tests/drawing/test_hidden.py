"""Hidden lines: what a later fill covers is cut away, the rest stays as drawn."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from rigfit.drawing.hidden import without_hidden_lines
from rigfit.drawing.scene import Disc, Ink, Path, Scene, Text

SQUARE = Path(
    ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), "ENGINE", closed=True, fill=Ink.ENGINE
)


def lines(scene, layer="HULL"):
    return [LineString(item.points) for item in scene.items if item.layer == layer]


def test_a_line_behind_a_fill_is_cut_in_two():
    behind = Path(((-5.0, 5.0), (15.0, 5.0)), "HULL")
    left = lines(without_hidden_lines(Scene("", (behind, SQUARE))))
    assert sorted(line.length for line in left) == pytest.approx([5.0, 5.0], abs=1e-5)


def test_a_line_before_a_fill_is_whole():
    front = Path(((-5.0, 5.0), (15.0, 5.0)), "HULL")
    left = lines(without_hidden_lines(Scene("", (SQUARE, front))))
    assert [line.length for line in left] == [20.0]


def test_a_line_wholly_covered_is_gone():
    behind = Path(((2.0, 5.0), (8.0, 5.0)), "HULL")
    assert not lines(without_hidden_lines(Scene("", (behind, SQUARE))))


def test_arcs_that_nothing_covers_keep_their_bulges():
    arc = Path(((20.0, 0.0), (30.0, 0.0)), "HULL", bulges=(1.0, 0.0))
    scene = without_hidden_lines(Scene("", (arc, SQUARE)))
    assert scene.items[0].bulges == (1.0, 0.0)


def test_words_are_never_covered_and_fills_are_dropped():
    text = Text((5.0, 5.0), "words", "NOTES")
    scene = without_hidden_lines(Scene("", (text, SQUARE)))
    assert scene.items[0] == text
    assert scene.items[1].fill is None


def test_a_disc_half_behind_a_square_keeps_half_its_rim():
    disc = Disc((0.0, 5.0), 2.0, "HULL")
    left = lines(without_hidden_lines(Scene("", (disc, SQUARE))))
    assert sum(line.length for line in left) == pytest.approx(2.0 * math.pi, rel=1e-3)


@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(-20, 20), st.floats(-20, 20))
def test_what_is_left_lies_outside_the_cover(x0, y0, x1, y1):
    behind = Path(((x0, y0), (x1 + 41.0, y1)), "HULL")
    left = lines(without_hidden_lines(Scene("", (behind, SQUARE))))
    cover = Polygon(SQUARE.points).buffer(-1e-6)  # its own edge does not cover
    whole = LineString(behind.points)
    assert all(line.intersection(cover).length < 1e-6 for line in left)
    assert sum(line.length for line in left) == pytest.approx(
        whole.difference(cover).length, abs=1e-2
    )
