"""The scene: what a drawing consists of, in millimetres of the real thing.

Three primitives serve every writer: ``Path`` (straight or with arcs), ``Disc`` (a circle) and
``Text``. Positions are model millimetres; pen widths, dash lengths and text heights are paper
millimetres. ``Scene.scale`` says how many model millimetres one paper millimetre stands for, so a
paper writer divides positions by it and a model writer (DXF) multiplies text heights by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Across: TypeAlias = Literal["left", "centre", "right"]
Up: TypeAlias = Literal["base", "middle", "top"]


class Ink(Enum):
    """Roles of colour; ``rigfit.drawing.palette`` gives each a colour for light and dark."""

    LINE = "line"
    MUTED = "muted"
    ACCENT = "accent"
    FITS = "fits"
    TIGHT = "tight"
    STOPS = "stops"
    UNKNOWN = "unknown"
    PAPER = "paper"
    HULL = "hull"
    ENGINE = "engine"
    COWL = "cowl"
    BAND = "band"
    RESERVE = "reserve"
    WATER = "water"


class Dash(Enum):
    """Line types after ISO 128: continuous, dashed (hidden), long-dash dot (centre), dotted."""

    SOLID = "solid"
    DASHED = "dashed"
    CENTRE = "centre"
    DOTTED = "dotted"


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: width in paper mm (series of ISO 128: 0.18, 0.25, 0.35, 0.5, 0.7), dash and ink."""

    width_mm: float = 0.25
    dash: Dash = Dash.SOLID
    ink: Ink = Ink.LINE


OUTLINE = Pen(0.5)
EDGE = Pen(0.35)
THIN = Pen(0.18)
MEASURE = Pen(0.18, ink=Ink.MUTED)
CENTRE_LINE = Pen(0.18, Dash.CENTRE)
HIDDEN = Pen(0.25, Dash.DASHED)


@dataclass(frozen=True, slots=True)
class Path:
    """A polyline, straight or with arc segments.

    :param points: model mm, at least two.
    :param layer: layer name in exchange files, A-Z, digits, underscore.
    :param pen: its line, or None for fill only.
    :param closed: whether the last point joins the first.
    :param fill: ink of the inside, or None.
    :param bulges: one per point, DXF convention: tangent of a quarter of the angle of the arc from
        this point to the next, + anticlockwise; empty for straight segments only.
    :param group: "fixed", "engine", "measures", "overlay" or "sheet"; what moves together.
    :param ref: what it stands for: a dimension id, a hole name; "" for nothing to point at.
    """

    points: tuple[Point, ...]
    layer: str
    pen: Pen | None = THIN
    closed: bool = False
    fill: Ink | None = None
    bulges: tuple[float, ...] = ()
    group: str = "fixed"
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Disc:
    """A full circle: ``centre`` and ``radius_mm`` in model mm; other fields as in ``Path``."""

    centre: Point
    radius_mm: float
    layer: str
    pen: Pen | None = THIN
    fill: Ink | None = None
    group: str = "fixed"
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text.

    :param at: anchor point, model mm.
    :param words: the text; no line breaks.
    :param layer: as in ``Path``.
    :param height_mm: height of capitals on paper, mm (ISO 3098 series: 1.8, 2.5, 3.5, 5, 7).
    :param across: which part of the line sits at the anchor.
    :param up: whether base line, middle of the capitals or their top sits at the anchor.
    :param angle_deg: direction of reading, anticlockwise from + x.
    :param backed: True to clear the paper behind it, so that lines do not run through.
    """

    at: Point
    words: str
    layer: str
    height_mm: float = 2.5
    across: Across = "left"
    up: Up = "base"
    angle_deg: float = 0.0
    ink: Ink = Ink.LINE
    bold: bool = False
    backed: bool = False
    group: str = "fixed"
    ref: str = ""


Item: TypeAlias = Path | Disc | Text


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, mm, as it is laid (landscape when wider than high)."""

    name: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Placement:
    """Where the sheet lies over the model: its lower left corner, model mm."""

    paper: Paper
    corner: Point


@dataclass(frozen=True, slots=True)
class Scene:
    """A finished drawing.

    :param title: name of the drawing.
    :param items: back to front.
    :param scale: model mm per paper mm (5 for 1:5).
    :param placement: the sheet, or None for a drawing without one (screen, cut file).
    """

    title: str
    items: tuple[Item, ...]
    scale: float = 1.0
    placement: Placement | None = None

    def only(self, *layers: str) -> Scene:
        """Return the scene with the items of some layers only, without a sheet."""
        kept = tuple(item for item in self.items if item.layer in layers)
        return replace(self, items=kept, placement=None)

    def bounds(self) -> tuple[float, float, float, float]:
        """Return (left, bottom, right, top) of all paths and discs, model mm.

        :raises ValueError: for a scene that holds neither.
        """
        xs: list[float] = []
        ys: list[float] = []
        for item in self.items:
            for x, y in _corners(item):
                xs.append(x)
                ys.append(y)
        if not xs:
            raise ValueError("the scene holds no geometry")
        return min(xs), min(ys), max(xs), max(ys)


def _corners(item: Item) -> Iterable[Point]:
    if isinstance(item, Path):
        return flatten(item, sag_mm=0.05) if item.bulges else item.points
    if isinstance(item, Disc):
        (x, y), r = item.centre, item.radius_mm
        return ((x - r, y - r), (x + r, y + r))
    return ()


def flatten(path: Path, sag_mm: float) -> tuple[Point, ...]:
    """Return the points of a path with its arcs broken into chords no flatter than ``sag_mm``."""
    if not path.bulges:
        return path.points
    points: list[Point] = []
    count = len(path.points)
    for index in range(count if path.closed else count - 1):
        start, end = path.points[index], path.points[(index + 1) % count]
        points.append(start)
        points.extend(_arc_points(start, end, path.bulges[index], sag_mm))
    if not path.closed:
        points.append(path.points[-1])
    return tuple(points)


def arc_of(start: Point, end: Point, bulge: float) -> tuple[Point, float, float, float]:
    """Return (centre, radius, start angle, sweep) of the arc with a bulge; angles in radians."""
    sweep = 4.0 * math.atan(bulge)
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(dx, dy)
    radius = chord / (2.0 * abs(math.sin(sweep / 2.0)))
    # The centre lies on the chord's bisector; its distance carries the sign of the bulge.
    off = (1.0 - bulge * bulge) / (4.0 * bulge)
    centre = (start[0] + dx / 2.0 - dy * off, start[1] + dy / 2.0 + dx * off)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    return centre, radius, first, sweep


def _arc_points(start: Point, end: Point, bulge: float, sag_mm: float) -> Iterator[Point]:
    if bulge == 0.0:
        return
    centre, radius, first, sweep = arc_of(start, end, bulge)
    sag = min(sag_mm, radius)
    step = 2.0 * math.acos(1.0 - sag / radius)
    pieces = max(2, math.ceil(abs(sweep) / step))
    for piece in range(1, pieces):
        angle = first + sweep * piece / pieces
        yield centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def slot(centre: Point, width_mm: float, length_mm: float, layer: str, **style: object) -> Path:
    """Return an upright slot: ``width_mm`` across, ``length_mm`` from end to end (> width)."""
    x, y = centre
    half, straight = width_mm / 2.0, (length_mm - width_mm) / 2.0
    points = (
        (x + half, y - straight),
        (x + half, y + straight),
        (x - half, y + straight),
        (x - half, y - straight),
    )
    return Path(points, layer, closed=True, bulges=(0.0, 1.0, 0.0, 1.0), **style)  # type: ignore[arg-type]
