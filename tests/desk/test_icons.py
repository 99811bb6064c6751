"""Marks and icons differ by their shape, are sharp, and stay inside their square."""

from __future__ import annotations

from itertools import combinations

import pytest
from PIL import ImageChops, ImageStat

from rigfit.desk.kit import icons, theme
from rigfit.rigging.findings import Verdict

SIZES = (16, 20, 32, 40)


def ink(mask):
    """Return how much of a mask is covered, 0 to 1."""
    return ImageStat.Stat(mask).mean[0] / 255


def difference(one, other):
    """Return which part of what either covers, only one of them covers."""
    return ink(ImageChops.difference(one, other)) / ink(ImageChops.lighter(one, other))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("one", "other"), list(combinations(Verdict, 2)))
def test_verdicts_differ_without_colour(one, other, size):
    assert difference(icons.mask(one.value, size), icons.mask(other.value, size)) > 0.2


def test_no_two_icons_are_the_same():
    for one, other in combinations(icons.NAMES, 2):
        assert difference(icons.mask(one, 40), icons.mask(other, 40)) > 0.08, (one, other)


@pytest.mark.parametrize("name", icons.NAMES)
def test_an_icon_fills_its_square_but_stays_inside(name):
    left, top, right, bottom = icons.mask(name, 96).getbbox()
    assert min(left, top) >= 1
    assert max(right, bottom) <= 95
    assert max(right - left, bottom - top) >= 96 * 0.55


@pytest.mark.parametrize("name", icons.NAMES)
def test_an_icon_is_smooth_and_has_full_ink_somewhere(name):
    levels = set(icons.mask(name, 20).tobytes())
    assert max(levels) > 200
    assert len(levels) > 5


def test_marks_are_balanced():
    """The marks that are filled look about equally heavy; the one that asks is lighter."""
    heavy = [ink(icons.mask(verdict.value, 64)) for verdict in (Verdict.FITS, Verdict.STOPS)]
    assert max(heavy) / min(heavy) < 1.3
    assert ink(icons.mask(Verdict.UNKNOWN.value, 64)) < min(heavy) / 1.5


def test_every_verdict_has_a_mark():
    assert {verdict.value for verdict in Verdict} <= set(icons.NAMES)


def test_a_picture_has_the_colour_asked_for():
    picture = icons.picture("plus", 24, "#0b5cad")
    red, green, blue, alpha = picture.getpixel((12, 12))
    assert (red, green, blue, alpha) == (0x0B, 0x5C, 0xAD, 255)
    assert picture.getpixel((0, 0))[3] == 0


def test_pictures_follow_the_scale(make_root):
    make_root(scale=1.5)
    assert icons.photo("save").width() == 30
    assert icons.mark(Verdict.FITS).width() == icons.blank().width() == 24
    assert icons.icon("save").create_scaled_photo_image(1.5, "light").width() == 30


def test_pictures_are_kept_and_made_anew_for_another_appearance(root):
    first = icons.photo("save")
    assert icons.photo("save") is first
    theme.apply("dark")
    assert icons.photo("save") is not first
    theme.apply("light")


def test_a_new_root_gets_new_pictures(make_root):
    make_root()
    first = icons.photo("save")
    after = make_root()
    second = icons.photo("save")
    assert second is not first
    assert str(second) in after.tk.call("image", "names")
