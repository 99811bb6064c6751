"""The painter: shapes land on the right pixels, in the right colours; words are handed on."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.desk.painter import item_box, paint, words_of
from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.drawing.palette import DARK, LIGHT
from rigfit.drawing.scene import Disc, Ink, Path, Pen, Text
from rigfit.drawing.side_view import side_layers
from rigfit.units import Shown
from tests.demo_reports import report_on

VIEW = View(200, 100, (0.0, 0.0), 1.0)


def rgb(colour):
    return tuple(int(colour[index : index + 2], 16) for index in (1, 3, 5))


def square(left, bottom, side):
    corners = ((left, bottom), (left + side, bottom), (left + side, bottom + side),
               (left, bottom + side))  # fmt: skip
    return Path(corners, "ENGINE", pen=None, closed=True, fill=Ink.ENGINE)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_an_empty_scene_is_the_paper(palette):
    pixels = paint((), VIEW, palette)
    assert pixels.shape == (100, 200, 4)
    assert {tuple(pixel) for pixel in pixels.reshape(-1, 4)} == {(*rgb(palette[Ink.PAPER]), 255)}


def test_a_clear_ground_is_transparent_outside_the_shapes():
    pixels = paint((square(0, 0, 20),), VIEW, LIGHT, clear=True)
    assert pixels[5, 5, 3] == 0
    assert tuple(pixels[40, 110]) == (*rgb(LIGHT[Ink.ENGINE]), 255)


@given(st.integers(-80, 60), st.integers(-40, 20), st.integers(4, 20))
def test_a_filled_square_covers_its_pixels_and_no_others(left, bottom, side):
    pixels = paint((square(left, bottom, side),), VIEW, LIGHT)
    painted = np.argwhere((pixels[:, :, :3] == rgb(LIGHT[Ink.ENGINE])).all(axis=2))
    assert len(painted) == side * side
    assert painted.min(axis=0).tolist() == [50 - bottom - side, 100 + left]


def test_later_items_lie_on_top():
    cover = Path(square(0, 0, 20).points, "ENGINE", pen=None, closed=True, fill=Ink.COWL)
    pixels = paint((square(0, 0, 20), cover), VIEW, LIGHT)
    assert tuple(pixels[40, 110, :3]) == rgb(LIGHT[Ink.COWL])


def test_a_disc_covers_its_area():
    pixels = paint((Disc((0.0, 0.0), 30.0, "DRILL", pen=None, fill=Ink.LINE),), VIEW, LIGHT)
    share = 1.0 - pixels[:, :, 0].astype(float) / 255.0
    dark = 1.0 - rgb(LIGHT[Ink.LINE])[0] / 255.0
    assert share.sum() / dark == pytest.approx(math.pi * 900.0, rel=0.01)


def test_a_pen_keeps_its_width_whatever_the_zoom():
    line = Path(((-1e4, 0.0), (1e4, 0.0)), "HULL", pen=Pen(1.0))
    widths = []
    for mm_per_px in (0.5, 5.0):
        pixels = paint((line,), View(200, 100, (0.0, 0.0), mm_per_px), LIGHT)
        column = 1.0 - pixels[:, 100, 0].astype(float) / 255.0
        widths.append(column.sum() / (1.0 - rgb(LIGHT[Ink.LINE])[0] / 255.0))
    assert widths == pytest.approx([PIXELS_PER_PAPER_MM] * 2, rel=0.02)


def test_words_are_handed_on_with_place_and_size():
    text = Text((10.0, 20.0), "seat", "NOTES", height_mm=2.5, ref="seat")
    found = words_of((square(0, 0, 5), text), View(200, 100, (0.0, 0.0), 2.0, ui_scale=1.5))
    assert [(item.at, item.text) for item in found] == [((105.0, 40.0), text)]
    assert found[0].capital_px == pytest.approx(2.5 * PIXELS_PER_PAPER_MM * 1.5)


def test_a_moved_engine_is_the_same_sprite_elsewhere():
    report = report_on("B-mm")
    low, high = report.options[1], report.options[2]
    rise = high.lift.value - low.lift.value
    tilt = math.radians(13.0)
    view = View(400, 500, (250.0, 300.0), 3.0)
    shifted = View(400, 500, (250.0 + rise * math.sin(tilt), 300.0 + rise * math.cos(tilt)), 3.0)
    sprites = [
        paint(
            [item for item in side_layers(report, 8.0, Shown(), option).moving
             if item.group == "engine"],
            seen, LIGHT, clear=True,
        )
        for option, seen in ((low, view), (high, shifted))
    ]  # fmt: skip
    difference = np.abs(sprites[0].astype(int) - sprites[1].astype(int))
    assert difference.mean() < 0.05


def profile():
    view = View(420, 331, (120.3, 310.7), 4.1)
    layers = side_layers(report_on("B-mm"), view.scene_scale, Shown(), None, 17.0)
    return layers, view


CROPS = st.tuples(
    st.integers(0, 400), st.integers(0, 310), st.integers(1, 420), st.integers(1, 331)
).map(lambda box: (box[0], box[1], min(box[0] + box[2], 420), min(box[1] + box[3], 331)))


@settings(max_examples=40, deadline=None)
@given(CROPS)
def test_a_crop_on_an_earlier_ground_is_that_part_of_the_whole(crop):
    layers, view = profile()
    items = (*layers.under, *layers.moving, *layers.over)
    left, top, right, bottom = crop
    wanted = paint(items, view, LIGHT)[top:bottom, left:right]
    ground = paint(layers.under, view, LIGHT)
    kept = ground.copy()
    above = (*layers.moving, *layers.over)
    assert (paint(above, view, LIGHT, ground=ground, crop=crop) == wanted).all()
    assert (paint(items, view, LIGHT, crop=crop) == wanted).all()
    assert (ground == kept).all()


def test_an_earlier_picture_is_not_touched_by_a_later_one():
    first = paint((square(0, 0, 20),), VIEW, LIGHT)
    kept = first.copy()
    paint((square(-30, -30, 60),), VIEW, DARK)
    assert (first == kept).all()


def test_all_that_an_item_paints_lies_in_its_box():
    layers, view = profile()
    blank = paint((), view, LIGHT)
    for item in (*layers.under, *layers.moving, *layers.over):
        rows, columns = np.nonzero((paint((item,), view, LIGHT) != blank).any(axis=2))
        if rows.size:
            left, top, right, bottom = item_box(item, view)
            assert left <= columns.min() and columns.max() < right
            assert top <= rows.min() and rows.max() < bottom


@pytest.mark.parametrize("backed", [True, False])
def test_paper_is_cleared_behind_words_that_ask_for_it(backed):
    words = Text((0.0, 0.0), "MMM", "NOTES", height_mm=5.0, backed=backed)
    pixels = paint((square(-90, -40, 80), square(-20, -40, 80), words), VIEW, LIGHT)
    inside = tuple(pixels[50 - 8, 100 + 10, :3])
    assert inside == rgb(LIGHT[Ink.PAPER if backed else Ink.ENGINE])
