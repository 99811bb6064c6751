"""Which parts are seen side by side, and how wide."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.desk.layout import (
    DRAWING_LEAST,
    PARTS,
    SIDE_MOST,
    THREE_FROM,
    TWO_FROM,
    Layout,
    layout_for,
    side_widths,
)

sizes = st.floats(320, 4000), st.floats(200, 2200)


@pytest.mark.parametrize(
    ("size", "columns"),
    [
        ((1920, 1080), 3), ((1366, 700), 3), ((1280, 650), 3), ((911, 480), 2), ((853, 420), 2),
        ((640, 300), 1), ((683, 330), 1),
    ],
)  # fmt: skip
def test_usual_screens(size, columns):
    layout = layout_for(*size)
    assert 1 + (layout.centre is not None) + bool(layout.right) == columns


@given(*sizes)
def test_every_part_has_one_place(width, height):
    layout = layout_for(width, height)
    places = [*layout.left, *layout.right, *([layout.centre] if layout.centre else [])]
    assert sorted(places) == sorted(PARTS)
    for part in PARTS:
        assert part in layout.column_of(part)


@given(*sizes, st.floats(-500, 3000), st.floats(-500, 3000))
def test_columns_fit_and_leave_the_drawing_its_room(width, height, left, right):
    layout = layout_for(width, height)
    wide = side_widths(width, layout, left, right)
    assert all(0 <= item <= max(SIDE_MOST, width) for item in wide)
    if layout.centre:
        assert width - sum(wide) >= DRAWING_LEAST
    else:
        assert wide == (int(width), 0)


@given(st.floats(TWO_FROM, 4000), st.floats(1, 2000), st.floats(0, 300))
def test_a_wish_for_more_never_makes_a_column_narrower(width, left, more):
    layout = layout_for(width, 800)
    assert side_widths(width, layout, left + more, 300) >= side_widths(width, layout, left, 300)


def test_stacked_results_share_no_place():
    layout = layout_for(THREE_FROM, 900)
    assert layout.column_of("findings") == ("findings",)
    assert layout_for(THREE_FROM, 400).column_of("findings") == ("findings", "heights")
    assert Layout(PARTS).column_of("drawing") == PARTS
