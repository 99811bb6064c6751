import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path as FilePath

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.image import imread

from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.palette import DARK, LIGHT
from rigfit.drawing.scene import (
    EDGE,
    OUTLINE,
    Dash,
    Disc,
    Ink,
    Paper,
    Path,
    Pen,
    Placement,
    Scene,
    Text,
    slot,
)
from rigfit.drawing.to_axes import draw_scene, figure_of, to_png, to_svg

ROOT = FilePath(__file__).parents[2]
A4 = Paper("A4", 210.0, 297.0)
SHEET = Placement(A4, (-500.0, -200.0))


def board(*items, scale=5.0, placement=SHEET):
    return Scene("Board", items, scale, placement)


SAMPLE = board(
    Path(((0.0, 0.0), (300.0, 0.0), (300.0, 200.0)), "HULL", OUTLINE, closed=True, fill=Ink.HULL),
    Disc((50.0, 50.0), 20.0, "DRILL", EDGE),
    slot((150.0, 60.0), 13.5, 60.0, "DRILL"),
    Path(((0.0, 90.0), (300.0, 90.0)), "CENTRELINES", Pen(0.18, Dash.CENTRE)),
    Text((10.0, 150.0), "Ø13.5 ±3 fits", "NOTES", bold=True, backed=True, angle_deg=30.0),
)


def dark(png):
    """Return the picture as an array of booleans, True where there is ink, row 0 at the top."""
    return imread(io.BytesIO(png))[:, :, :3].sum(axis=2) < 1.5


def spot(ink, dpi):
    """Return the centre of all ink, paper mm from the lower left corner."""
    rows, columns = np.nonzero(ink)
    millimetre = dpi / 25.4
    return (columns.mean() + 0.5) / millimetre, (ink.shape[0] - rows.mean() - 0.5) / millimetre


def test_the_figure_is_the_sheet():
    figure = figure_of(SAMPLE, LIGHT)
    assert figure.get_size_inches() * 25.4 == pytest.approx([210.0, 297.0])
    (axes,) = figure.axes
    assert not axes.axison
    assert axes.get_position().bounds == (0.0, 0.0, 1.0, 1.0)


@pytest.mark.parametrize("scale", [1.0, 2.5, 10.0])
def test_model_millimetres_land_on_paper_millimetres(scale):
    figure = figure_of(board(*SAMPLE.items, scale=scale), LIGHT)
    figure.dpi = 254.0
    pixels = figure.axes[0].transData.transform([(-500.0, -200.0), (0.0, 0.0)])
    assert pixels[0] / 10.0 == pytest.approx([0.0, 0.0], abs=1e-9)
    assert pixels[1] / 10.0 == pytest.approx([500.0 / scale, 200.0 / scale], rel=1e-12)


def test_a_disc_is_where_it_should_be_in_the_picture():
    disc = Disc((100.0, 300.0), 40.0, "DRILL", None, fill=Ink.LINE)
    ink = dark(to_png(board(disc), LIGHT, dpi=254.0))
    assert spot(ink, 254.0) == pytest.approx((120.0, 100.0), abs=0.05)
    assert np.sqrt(ink.sum() / np.pi) / 10.0 == pytest.approx(8.0, abs=0.03)


def test_an_arc_bulges_to_the_right_side_in_the_picture():
    half = Path(
        ((0.0, 0.0), (100.0, 0.0)), "TRIM", None, closed=True, fill=Ink.LINE, bulges=(1.0, 0.0)
    )
    ink = dark(to_png(board(half), LIGHT, dpi=254.0))
    x, y = spot(ink, 254.0)
    assert x == pytest.approx(110.0, abs=0.05)
    assert y == pytest.approx(40.0 - 4.0 * 10.0 / (3.0 * np.pi), abs=0.05)


@pytest.mark.parametrize("up", ["base", "middle", "top"])
@pytest.mark.parametrize("bold", [False, True])
def test_capitals_have_their_height_and_hang_where_anchored(up, bold):
    text = Text((0.0, 0.0), "H", "NOTES", height_mm=20.0, up=up, bold=bold)
    rows = np.nonzero(dark(to_png(board(text), LIGHT, dpi=254.0)).any(axis=1))[0]
    top, base = (2970 - rows[0]) / 10.0, (2970 - rows[-1] - 1) / 10.0
    assert top - base == pytest.approx(20.0, abs=0.15)
    assert base == pytest.approx(40.0 - {"base": 0.0, "middle": 10.0, "top": 20.0}[up], abs=0.15)


def test_letters_keep_their_size_when_the_axes_are_zoomed():
    figure = Figure(figsize=(4.0, 4.0))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set(xlim=(0.0, 100.0), ylim=(0.0, 100.0))
    draw_scene(board(Text((50.0, 50.0), "Heel", "NOTES", up="middle")), axes, LIGHT)
    before = axes.texts[0].get_window_extent().height
    axes.set(xlim=(40.0, 60.0), ylim=(40.0, 60.0))
    assert axes.texts[0].get_window_extent().height == before


def test_drawing_into_axes_leaves_their_limits_alone():
    axes = Figure().add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set(xlim=(0.0, 10.0), ylim=(0.0, 10.0))
    draw_scene(SAMPLE, axes, LIGHT)
    assert axes.get_xlim() == (0.0, 10.0)
    assert axes.get_ylim() == (0.0, 10.0)


def test_neighbours_of_one_pen_share_an_artist_and_order_is_kept():
    lines = [Path(((0.0, y), (9.0, y)), "TRIM") for y in range(50)]
    cover = Path(((0.0, 0.0), (9.0, 0.0), (9.0, 9.0)), "HULL", closed=True, fill=Ink.HULL)
    axes = Figure().add_axes((0.0, 0.0, 1.0, 1.0))
    draw_scene(board(*lines, cover, Disc((0.0, 0.0), 1.0, "DRILL")), axes, LIGHT)
    assert len(axes.patches) == 3
    orders = [patch.get_zorder() for patch in axes.patches]
    assert orders == sorted(set(orders))


@pytest.mark.parametrize(
    ("dash", "marks"), [(Dash.SOLID, 1), (Dash.DASHED, 10), (Dash.CENTRE, 9), (Dash.DOTTED, 38)]
)
def test_dashes_repeat_as_the_standard_says(dash, marks):
    # One period is 7.5 mm for dashed, 15.5 mm for centre lines and 2 mm for dotted ones.
    pen = Pen(0.5, dash)
    line = Path(((0.0, 0.0), (375.0, 0.0)), "TRIM", pen)
    strip = Placement(Paper("", 100.0, 10.0), (-50.0, -25.0))
    row = dark(to_png(board(line, placement=strip), LIGHT, dpi=508.0)).any(axis=0)
    assert np.count_nonzero(np.diff(row.astype(int)) == 1) == marks


def test_words_are_backed_by_paper():
    corners = ((-90.0, -9.0), (90.0, -9.0), (90.0, 30.0), (-90.0, 30.0))
    bar = Path(corners, "HULL", None, closed=True, fill=Ink.LINE)
    backed = Text((0.0, 0.0), "Heel", "NOTES", across="centre", ink=Ink.PAPER, backed=True)
    cleared = dark(to_png(board(bar), LIGHT, dpi=254.0)).sum()
    cleared -= dark(to_png(board(bar, backed), LIGHT, dpi=254.0)).sum()
    assert cleared >= text_width_mm("Heel", 2.5) * 2.5 * 100.0


def test_dark_paper_is_dark():
    picture = imread(io.BytesIO(to_png(SAMPLE, DARK, dpi=50.0)))
    assert picture[0, 0, :3] * 255.0 == pytest.approx([0x1E, 0x22, 0x27])


def test_text_is_taken_as_typed():
    text = Text((0.0, 0.0), "$x^2$ {a} 船 50%", "NOTES")
    axes = figure_of(board(text), LIGHT).axes[0]
    assert axes.texts[0].get_text() == "$x^2$ {a} ? 50%"
    assert not axes.texts[0].get_parse_math()


def test_png_has_the_pixels_of_its_paper():
    assert imread(io.BytesIO(to_png(SAMPLE, LIGHT, dpi=254.0))).shape == (2970, 2100, 4)


def test_svg_is_in_true_size_with_outlined_letters():
    svg = to_svg(SAMPLE, LIGHT).decode()
    assert 'width="595.275591pt" height="841.889764pt"' in svg
    assert "<text" not in svg
    assert "Board" in svg
    assert len(svg) < 1_000_000


def test_the_writers_leave_matplotlib_as_it_was():
    before = dict(mpl.rcParams)
    to_svg(SAMPLE, LIGHT)
    to_png(SAMPLE, LIGHT)
    assert dict(mpl.rcParams) == before


def test_same_scene_same_bytes():
    assert to_png(SAMPLE, LIGHT) == to_png(SAMPLE, LIGHT)
    assert to_svg(SAMPLE, LIGHT) == to_svg(SAMPLE, LIGHT)


SCRIPT = """
import hashlib, sys
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.scene import *
from rigfit.drawing.to_axes import to_png, to_svg
from rigfit.drawing.to_dxf import to_dxf
from rigfit.drawing.to_pdf import to_pdf
items = (Disc((5.0, 5.0), 4.0, "DRILL"), slot((20.0, 5.0), 4.0, 9.0, "TRIM"),
         Path(((0.0, 0.0), (9.0, 9.0)), "CENTRELINES", CENTRE_LINE),
         Path(((0.0, 0.0), (9.0, 0.0)), "DATUM", HIDDEN), Text((0.0, 0.0), "Heel", "NOTES"))
scene = Scene("Board", items)
made = [to_png(scene, LIGHT), to_svg(scene, LIGHT), to_pdf(scene, LIGHT),
        to_dxf(scene), to_dxf(scene, release="R12")]
assert "matplotlib.pyplot" not in sys.modules
print([hashlib.sha256(data).hexdigest() for data in made])
"""


def test_same_bytes_in_another_process_zone_and_hash_order():
    said = set()
    for seed, zone in (("1", "UTC"), ("2", "Pacific/Auckland")):
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)}
        run = subprocess.run(
            [sys.executable, "-W", "error", "-c", SCRIPT],
            env=surroundings,
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stderr == ""
        said.add(run.stdout)
    assert len(said) == 1
    assert len(said.pop()) > 5 * len(hashlib.sha256(b"").hexdigest())


def test_importing_the_writers_stays_cheap():
    heavy = "{'matplotlib', 'ezdxf', 'reportlab', 'fontTools', 'numpy'}"
    modules = "to_axes, to_pdf, to_dxf, to_list, dimensioning, sheet, palette"
    code = f"import sys; from rigfit.drawing import {modules}; print({heavy} & set(sys.modules))"
    run = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stdout.strip() == "set()"
