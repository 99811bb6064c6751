import math

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.drawing import fonts
from rigfit.drawing.fonts import (
    base_point,
    em_mm,
    font_path,
    missing_glyphs,
    printable,
    text_box,
    text_width_mm,
    wrapped,
)
from rigfit.drawing.scene import Text

WEIGHTS = pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])


def outline_top(path, char):
    with TTFont(path) as font:
        return font["glyf"][font.getBestCmap()[ord(char)]].yMax / font["head"].unitsPerEm


@WEIGHTS
def test_the_shipped_files_are_true_type_outlines(bold):
    path = font_path(bold)
    assert path.parent.name == "fonts"
    with TTFont(path) as font:
        assert "glyf" in font
        assert "Open Font License" in font["name"].getDebugName(13)


def test_the_licence_is_shipped_beside_them():
    words = (font_path(bold=False).parent / "OFL.txt").read_text(encoding="ascii")
    assert "SIL OPEN FONT LICENSE Version 1.1" in words
    assert "Copyright (c)" in words


@WEIGHTS
def test_capitals_come_out_as_high_as_asked(bold):
    assert em_mm(2.5, bold=bold) * outline_top(font_path(bold), "H") == pytest.approx(2.5)


@WEIGHTS
def test_digits_are_all_as_wide(bold):
    widths = {round(text_width_mm(digit, 2.5, bold=bold), 9) for digit in "0123456789"}
    assert len(widths) == 1


def test_widths_agree_with_the_pdf_library():
    from reportlab.pdfbase.ttfonts import TTFont as Measured

    words = "Ø13.5 ±3° 330.2 × 190.5 → ½ é ü"
    for bold in (False, True):
        font = Measured(f"test-{bold}", str(font_path(bold)))
        size = em_mm(3.5, bold=bold)
        expected = sum(font.stringWidth(char, size) for char in words)
        assert text_width_mm(words, 3.5, bold=bold) == pytest.approx(expected, rel=1e-3)


def test_width_grows_in_step_with_height():
    assert text_width_mm("508", 5.0) == pytest.approx(2.0 * text_width_mm("508", 2.5))


def test_signs_of_the_trade_are_all_there():
    assert missing_glyphs("Ø°±−×½¼¾⅛→←↑↓≤≥≈–—…éüßåøñçµ·“”’²") == ""


def test_missing_signs_are_named_once_in_order():
    assert missing_glyphs("船 12 мм 舶船") == "船舶"


def test_printable_replaces_only_what_is_missing():
    assert printable("船 Ø13\t½\x00") == "? Ø13 ½ "


def test_a_lost_font_falls_back_to_one_that_can_be_measured(monkeypatch, tmp_path):
    monkeypatch.setattr(fonts, "_FOLDER", tmp_path)
    for bold in (False, True):
        path = font_path(bold)
        assert path.is_file()
        assert em_mm(2.5, bold=bold) * outline_top(path, "H") == pytest.approx(2.5, rel=0.01)


@pytest.mark.parametrize(("up", "drop"), [("base", 0.0), ("middle", 12.5), ("top", 25.0)])
def test_the_base_line_hangs_below_the_anchor(up, drop):
    text = Text((10.0, 20.0), "H", "NOTES", height_mm=5.0, up=up)
    assert base_point(text, 5.0) == pytest.approx((10.0, 20.0 - drop))


def test_the_base_line_turns_with_the_text():
    text = Text((0.0, 0.0), "H", "NOTES", height_mm=5.0, up="top", angle_deg=90.0)
    assert base_point(text, 1.0) == pytest.approx((5.0, 0.0))


@pytest.mark.parametrize(("across", "share"), [("left", 0.0), ("centre", 0.5), ("right", 1.0)])
def test_a_text_box_lies_where_the_anchor_says(across, share):
    text = Text((100.0, 50.0), "508 ±3", "NOTES", across=across)
    width = text_width_mm("508 ±3", 2.5) * 10.0
    left, _, right, _ = (corner[0] for corner in text_box(text, 10.0))
    assert left == pytest.approx(100.0 - share * width)
    assert right == pytest.approx(left + width)
    top = text_box(text, 10.0)[2][1]
    assert top == pytest.approx(75.0)


@given(st.floats(-360.0, 360.0))
def test_a_turned_text_box_keeps_its_size(angle):
    text = Text((0.0, 0.0), "Heel", "NOTES", angle_deg=angle)
    corners = text_box(text, 2.0)
    assert math.dist(corners[0], corners[1]) == pytest.approx(text_width_mm("Heel", 2.5) * 2.0)
    assert math.dist(corners[1], corners[2]) == pytest.approx(2.5 * 2.0 * (1.0 + fonts.DESCENT))


@settings(deadline=None)
@given(st.text(max_size=60), st.floats(8.0, 100.0))
def test_wrapped_lines_fit_and_lose_nothing(words, width):
    lines = wrapped(words, width, 2.5)
    assert all(text_width_mm(line, 2.5) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(words.split())


def test_wrapping_breaks_at_blanks():
    assert wrapped("two one", text_width_mm("two", 2.5) + 0.1, 2.5) == ["two", "one"]
    assert wrapped("", 50.0, 2.5) == []
