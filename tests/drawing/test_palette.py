import pickle

import pytest

from rigfit.drawing.palette import DARK, FILLS, LIGHT, Palette, contrast, luminance
from rigfit.drawing.scene import Ink

BOTH = pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda palette: palette.name)
WRITING = [ink for ink in Ink if ink not in FILLS and ink is not Ink.PAPER]


def test_contrast_runs_from_one_to_twenty_one():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#7f7f7f", "#7f7f7f") == 1.0


def test_contrast_does_not_ask_which_colour_is_on_top():
    assert contrast("#0b5cad", "#ffffff") == contrast("#ffffff", "#0b5cad")


@pytest.mark.parametrize(
    ("colour", "expected"),
    [("#ff0000", 0.2126), ("#00ff00", 0.7152), ("#0000ff", 0.0722), ("#0a0a0a", 0.003035)],
)
def test_luminance_weighs_the_channels(colour, expected):
    assert luminance(colour) == pytest.approx(expected, rel=1e-3)


def test_a_grey_of_known_contrast_against_white():
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@BOTH
@pytest.mark.parametrize("ink", WRITING)
def test_lines_and_words_stand_out_on_paper(palette, ink):
    assert contrast(palette[ink], palette[Ink.PAPER]) >= 4.5


@BOTH
@pytest.mark.parametrize("fill", sorted(FILLS, key=lambda ink: ink.value))
def test_lines_and_words_stand_out_on_fills_too(palette, fill):
    assert min(contrast(palette[ink], palette[fill]) for ink in WRITING) >= 4.5


@BOTH
def test_fills_are_quiet_but_not_the_paper(palette):
    for fill in FILLS:
        assert 1.1 <= contrast(palette[fill], palette[Ink.PAPER]) <= 1.6


@BOTH
def test_no_two_inks_look_the_same(palette):
    assert len(set(palette.colours.values())) == len(Ink)


def test_a_palette_cannot_be_changed():
    with pytest.raises(TypeError):
        LIGHT.colours[Ink.LINE] = "#000000"
    with pytest.raises(AttributeError):
        LIGHT.name = "other"


def test_a_palette_travels_to_another_process():
    assert pickle.loads(pickle.dumps(DARK)) == DARK  # noqa: S301 - our own bytes


def test_a_palette_lacking_an_ink_is_refused():
    colours = {ink: colour for ink, colour in LIGHT.colours.items() if ink is not Ink.WATER}
    with pytest.raises(ValueError, match="water"):
        Palette("mine", colours)


@pytest.mark.parametrize("wrong", ["red", "#fff", "#FFFFFF", "ffffff", "#fffffff"])
def test_a_colour_written_otherwise_is_refused(wrong):
    with pytest.raises(ValueError, match="#rrggbb"):
        Palette("mine", {**LIGHT.colours, Ink.HULL: wrong})
