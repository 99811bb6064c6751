"""The colours can be told apart, the letters are ours, and a new look reaches everything."""

from __future__ import annotations

import subprocess
from itertools import product
from tkinter import font as tkfont
from types import SimpleNamespace
from typing import get_args

import customtkinter as ctk
import pytest

from rigfit.desk.kit import colours, lettering, theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.buttons import Button
from rigfit.drawing import palette
from rigfit.drawing.palette import contrast
from rigfit.drawing.scene import Ink
from rigfit.rigging.findings import Verdict
from tests.desk import harness

BOTH = pytest.mark.parametrize("name", ["light", "dark"])
WORDS = ("text", "dim")
PLAIN_SURFACES = ("window", "panel", "field", "stripe", "hover", "pressed")


@BOTH
@pytest.mark.parametrize("surface", [*colours.SURFACES, "selection"])
def test_text_can_be_read_on_every_surface(name, surface):
    look = colours.THEMES[name]
    for words in WORDS if surface != "selection" else ("text",):
        assert contrast(look[words], look[surface]) >= 4.5, (words, surface)


@BOTH
@pytest.mark.parametrize("verdict", list(Verdict))
def test_verdict_colours_can_be_read_on_sheets_and_on_their_tint(name, verdict):
    look = colours.THEMES[name]
    role, tint = colours.VERDICT_ROLES[verdict]
    for surface in ("window", "panel", "field", "stripe", tint):
        assert contrast(look[role], look[surface]) >= 4.5, (role, surface)
    assert contrast(look[role], look["selection"]) >= 3.0, "the mark in the picked row of a table"


@BOTH
def test_text_on_filled_things_can_be_read(name):
    look = colours.THEMES[name]
    assert contrast(look.on_accent, look.accent) >= 4.5
    assert contrast(look.on_accent, look.accent_hover) >= 4.5
    assert contrast(look.accent, look.accent_tint) >= 4.5
    assert contrast(look.on_tip, look.tip) >= 4.5


@BOTH
def test_outlines_rings_and_thumbs_stand_out_from_what_is_beside_them(name):
    look = colours.THEMES[name]
    for line, beside in product(("border", "focus", "error", "warn"), ("window", "panel", "field")):
        assert contrast(look[line], look[beside]) >= 3.0, (line, beside)
    for line, beside in product(("thumb", "thumb_hover"), ("panel",)):
        assert contrast(look[line], look[beside]) >= 2.9, (line, beside)
    assert contrast(look.on_accent, look.border) >= 3.0, "the knob of a switch that is off"


@BOTH
def test_the_primary_button_shows_its_ring_inside(name):
    look = colours.THEMES[name]
    assert contrast(look.on_accent, look.accent) >= 3.0


@BOTH
def test_form_and_drawing_share_their_colours(name):
    drawn = {"light": palette.LIGHT, "dark": palette.DARK}[name]
    look = colours.THEMES[name]
    shared = (look.text, look.accent, look.ok, look.warn, look.error, look.unknown)
    inks = (Ink.LINE, Ink.ACCENT, Ink.FITS, Ink.TIGHT, Ink.STOPS, Ink.UNKNOWN)
    assert shared == tuple(drawn[ink] for ink in inks)


def test_every_role_has_a_colour_in_both_appearances():
    for role in get_args(colours.Role):
        for colour in colours.pair(role):
            assert len(colour) == 7
            int(colour[1:], 16)


def test_a_verdict_has_a_colour_of_its_own():
    assert len({colours.VERDICT_ROLES[verdict] for verdict in Verdict}) == len(Verdict)


def test_scales_stay_within_what_the_form_is_made_for():
    assert [theme.clamped_scale(scale) for scale in (0.5, 1.0, 1.254, 9.0)] == [1.0, 1.0, 1.25, 3.0]


def test_the_screen_and_the_user_are_multiplied(make_root):
    root = make_root(scale=1.5)
    assert theme.screen_scale(root) == pytest.approx(1.0, abs=0.01)
    assert theme.scale() == 1.5
    assert theme.px(8) == 12


def test_lines_are_whole_pixels_and_never_vanish(make_root):
    make_root(scale=1.5)
    assert theme.border(1) * theme.scale() == pytest.approx(2)
    assert theme.border(0.1) * theme.scale() == pytest.approx(1)


def test_customtkinter_is_never_left_to_ask_the_system(root):
    tracker = ctk.AppearanceModeTracker
    assert tracker.appearance_mode_set_by == "user"


@pytest.mark.parametrize(("told", "is_dark"), [("'prefer-dark'", True), ("'prefer-light'", False)])
def test_the_system_is_asked_once(monkeypatch, told, is_dark):
    asked = []

    def run(*words, **_more):
        asked.append(words)
        return SimpleNamespace(stdout=f"{told}\n")

    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr(subprocess, "run", run)
    assert theme.system_appearance() == ("dark" if is_dark else "light")
    assert len(asked) == 1


def test_a_system_that_does_not_tell_is_light(monkeypatch):
    def run(*_words, **_more):
        raise FileNotFoundError("no such program")

    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr(subprocess, "run", run)
    monkeypatch.setattr("darkdetect.theme", lambda: None)
    assert theme.system_appearance() == "light"


def test_the_letters_are_the_shipped_ones(root):
    assert lettering.load()
    assert "Lato" in tkfont.families(root)
    assert tkfont.Font(root, font=theme.tk_font()).actual("family") == "Lato"


def test_figures_have_one_width(root):
    assert len({theme.text_width(figure * 8) for figure in "0123456789"}) == 1


def test_without_fontconfig_the_customary_family_serves(monkeypatch):
    def missing(_name):
        raise OSError("no such library")

    monkeypatch.setattr("ctypes.CDLL", missing)
    lettering.load.cache_clear()
    try:
        assert lettering.family() != "Lato"
    finally:
        monkeypatch.undo()
        lettering.load.cache_clear()


def test_corners_can_be_drawn_without_the_round_letters(monkeypatch):
    monkeypatch.setattr(ctk.DrawEngine, "preferred_drawing_method", "font_shapes")
    theme.plain_corners()
    assert ctk.DrawEngine.preferred_drawing_method == "circle_shapes"


def test_text_is_cut_short_to_fit(root):
    whole = "5080 mm is outside 300 to 1000 mm"
    width = theme.text_width(whole) // 2
    short = theme.fitted(whole, width)
    assert short.endswith("…")
    assert whole.startswith(short[:-1])
    assert theme.text_width(short) <= width
    assert theme.fitted(whole, theme.text_width(whole)) == whole


def test_a_new_look_reaches_plain_and_custom_widgets(root):
    area = Area(root, "panel")
    label = Label(area, "leg length")
    button = Button(area, "Save", bool)
    area.pack()
    label.pack()
    button.pack()
    space(label, padx=8)
    harness.settle(root)
    before = label.winfo_reqheight(), button.winfo_height()
    theme.apply("dark", 2.0)
    harness.settle(root)
    assert area.cget("bg") == label.cget("bg") == colours.DARK.panel
    assert label.cget("fg") == colours.DARK.text
    assert (label.winfo_reqheight(), button.winfo_height()) == (
        pytest.approx(2 * before[0], abs=2),
        2 * before[1],
    )
    assert label.pack_info()["padx"] == 16


def test_a_new_scale_leaves_the_window_as_large_as_it_was(root):
    theme.apply("light", 1.5)
    harness.settle(root)
    assert (root.winfo_width(), root.winfo_height()) == (1280, 720)
    assert root.wm_maxsize()[0] > 1280
