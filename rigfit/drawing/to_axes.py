"""Writer to matplotlib: the drawing on screen, and as PNG and SVG."""

from __future__ import annotations

import io
import math
from itertools import groupby
from typing import TYPE_CHECKING, Any

from rigfit.drawing.fonts import em_mm, font_path, printable
from rigfit.drawing.palette import Palette
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Scene, Text
from rigfit.drawing.strokes import DASHES, circle, on_sheet, pieces, placed

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

POINTS_PER_MM = 72.0 / 25.4

_ACROSS = {"left": "left", "centre": "center", "right": "right"}


def draw_scene(scene: Scene, axes: Axes, palette: Palette) -> None:
    """Add a scene to axes whose data coordinates are model mm; limits stay as they are.

    Pens, dashes and letters keep their size on paper however far the axes are zoomed.
    """
    order = 0
    for pen, run in groupby(scene.items, key=_plain_pen):
        if pen is not None:
            axes.add_artist(_outline(list(run), pen, palette, order))
            order += 1
            continue
        for item in run:
            if isinstance(item, Text):
                _write(item, axes, palette, order)
            else:
                axes.add_artist(_filled(item, palette, order))
            order += 1


def _plain_pen(item: Item) -> Pen | None:
    """Return the pen of an item that is all line; such neighbours are drawn as one artist."""
    if isinstance(item, Text) or item.fill is not None:
        return None
    return item.pen


def _mpl_path(items: list[Path | Disc]) -> Any:
    from matplotlib.path import Path as Course

    points: list[tuple[float, float]] = []
    codes: list[Any] = []
    for item in items:
        path = item if isinstance(item, Path) else circle(item.centre, item.radius_mm)
        points.append(path.points[0])
        codes.append(Course.MOVETO)
        for way in pieces(path):
            if isinstance(way[0], tuple):
                points += way
                codes += [Course.CURVE4] * 3
            else:
                points.append(way)
                codes.append(Course.LINETO)
        if path.closed:
            points.append(path.points[0])
            codes.append(Course.CLOSEPOLY)
    return Course(points, codes)


def _line_style(pen: Pen, palette: Palette) -> dict[str, Any]:
    dashes = DASHES[pen.dash]
    return {
        "edgecolor": palette[pen.ink],
        "linewidth": pen.width_mm * POINTS_PER_MM,
        "linestyle": (0, dashes) if dashes else "solid",
        # Round joins keep sharp corners within half a line width of where they belong.
        "joinstyle": "round",
        "capstyle": "butt" if dashes else "round",
    }


def _outline(items: list[Any], pen: Pen, palette: Palette, order: int) -> Any:
    from matplotlib.patches import PathPatch

    style = _line_style(pen, palette)
    return PathPatch(_mpl_path(items), facecolor="none", zorder=order, **style)


def _filled(item: Path | Disc, palette: Palette, order: int) -> Any:
    from matplotlib.patches import PathPatch

    style: dict[str, Any] = {"edgecolor": "none", "linewidth": 0.0}
    if item.pen is not None:
        style = _line_style(item.pen, palette)
    inside = "none" if item.fill is None else palette[item.fill]
    return PathPatch(_mpl_path([item]), facecolor=inside, zorder=order, **style)


def _write(text: Text, axes: Axes, palette: Palette, order: int) -> None:
    from matplotlib.font_manager import FontProperties
    from matplotlib.transforms import ScaledTranslation

    size = em_mm(text.height_mm, bold=text.bold) * POINTS_PER_MM
    turn = math.radians(text.angle_deg)
    drop = {"base": 0.0, "middle": 0.5, "top": 1.0}[text.up] * text.height_mm / 25.4
    shift = ScaledTranslation(
        drop * math.sin(turn), -drop * math.cos(turn), axes.figure.dpi_scale_trans
    )
    artist: Any = axes.text(
        *text.at,
        printable(text.words),
        fontproperties=FontProperties(fname=font_path(text.bold), size=size),
        color=palette[text.ink],
        horizontalalignment=_ACROSS[text.across],
        verticalalignment="baseline",
        rotation=text.angle_deg,
        rotation_mode="anchor",
        transform=axes.transData + shift,
        parse_math=False,
        clip_on=True,
        zorder=order,
    )
    if hasattr(artist, "set_fontfeatures"):
        # Joined letters look unlike those of the other writers, and "1/2" must stay three signs.
        artist.set_fontfeatures(["-liga", "-dlig", "-frac"])
    if text.backed:
        artist.set_bbox(
            {"boxstyle": "square,pad=0.15", "facecolor": palette[Ink.PAPER], "edgecolor": "none"}
        )


def figure_of(scene: Scene, palette: Palette) -> Figure:
    """Return a figure that is the sheet: its size in mm, the scene on it to scale, no ticks.

    A scene without a sheet gets one 10 mm larger all round. Nothing is shrunk to fit: what lies
    outside the sheet is left off.
    """
    from matplotlib.figure import Figure

    scene = on_sheet(scene)
    sheet = placed(scene)
    width, height = sheet.paper.width_mm, sheet.paper.height_mm
    figure = Figure(figsize=(width / 25.4, height / 25.4), facecolor=palette[Ink.PAPER])
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    left, bottom = sheet.corner
    # The figure has the proportions of the sheet, so equal aspect holds by construction;
    # asking for it as well would let matplotlib move the limits by a rounding error.
    axes.set_xlim(left, left + width * scene.scale)
    axes.set_ylim(bottom, bottom + height * scene.scale)
    draw_scene(scene, axes, palette)
    return figure


def to_png(scene: Scene, palette: Palette, dpi: float = 150.0) -> bytes:
    """Return the sheet as a PNG picture with ``dpi`` dots per inch of paper."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure = figure_of(scene, palette)
    out = io.BytesIO()
    about = {"Software": "rigfit", "Title": printable(scene.title)}
    FigureCanvasAgg(figure).print_figure(out, format="png", dpi=dpi, metadata=about)
    return out.getvalue()


def to_svg(scene: Scene, palette: Palette) -> bytes:
    """Return the sheet as SVG in true size; letters are outlines, so it looks alike everywhere."""
    import matplotlib
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    # Same drawing, same bytes: by default ids are random and the date is written.
    fixed = {"svg.hashsalt": "rigfit", "svg.fonttype": "path", "svg.image_inline": True}
    with matplotlib.rc_context(fixed):  # type: ignore[arg-type]
        figure = figure_of(scene, palette)
        out = io.BytesIO()
        about = {"Date": None, "Creator": "rigfit", "Title": printable(scene.title)}
        FigureCanvasSVG(figure).print_figure(out, format="svg", metadata=about)
    return out.getvalue()
