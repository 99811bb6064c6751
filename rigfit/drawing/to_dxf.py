"""Writer to DXF with ezdxf: model space, millimetres, 1:1, for CAD programs and cutters.

Only what every reader was found to understand goes in: LINE, ARC, CIRCLE, polylines with bulges
and one TEXT per line of words, on layers with colours. Nothing is placed in paper space, because
many readers take it for part of the piece.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Literal, TypeAlias

from rigfit.drawing.dxf_words import dxf_text
from rigfit.drawing.scene import Dash, Disc, Item, Path, Point, Scene, Text, arc_of
from rigfit.drawing.strokes import extents

__all__ = ["LAYER_COLOURS", "Release", "audit", "dxf_text", "to_dxf"]

Release: TypeAlias = Literal["R2000", "R12"]

LAYER_COLOURS = {
    "DRILL": 1,
    "TRIM": 5,
    "CENTRELINES": 3,
    "DATUM": 4,
    "CENTREMARKS": 3,
    "MEASURES": 8,
    "NOTES": 7,
    "PROOFBAR": 6,
    "EXISTING": 8,
    "FILL": 30,
    "OBSTACLE": 1,
    "HULL": 7,
    "TRANSOM": 7,
    "BRACKET": 4,
    "ENGINE": 7,
    "PLATE": 6,
    "TARGET": 3,
    "KEELLINE": 3,
    "SHEET": 8,
    "WATER": 140,
}
"""Colour number by layer; other layers get 7, which is black on white and white on black."""

_LINE_TYPES = {Dash.DASHED: "DASHED", Dash.DOTTED: "DASHED", Dash.CENTRE: "CENTER"}
_PATTERNS_MM = {"DASHED": (3.0, -1.5), "CENTER": (10.0, -1.5, 1.0, -1.5)}
_LAYER_NAME = re.compile(r"[A-Z0-9_-]{1,31}")
_DECIMALS = 6
_BULGE_DECIMALS = 9


def to_dxf(scene: Scene, *, release: Release = "R2000", linetypes: bool = True) -> bytes:
    """Return the scene as a DXF file: ASCII, CRLF, the same bytes for the same scene.

    :param release: R2000, which states its unit, or R12 for old controllers, which cannot.
    :param linetypes: False for cut files: every line continuous.
    :raises ValueError: for a layer name other readers would refuse.
    """
    with _fixed_stamps():
        doc = _new(release)
        _add_layers(doc, scene, linetypes=linetypes)
        _fill_header(doc, scene)
        msp = doc.modelspace()
        for item in scene.items:
            attribs = _attribs(item, linetypes=linetypes)
            if isinstance(item, Text):
                _write(msp, item, scene.scale, attribs)
            elif item.pen is None:
                continue
            elif isinstance(item, Disc):
                msp.add_circle(_point(item.centre), _round(item.radius_mm), attribs)
            else:
                _draw(msp, item, attribs)
        out = io.StringIO(newline="\n")
        doc.write(out)
    return out.getvalue().replace("\n", "\r\n").encode("ascii")


def audit(data: bytes) -> list[str]:
    """Return what ezdxf finds wrong in a DXF file, mended or not; empty for a sound file."""
    import ezdxf

    doc = ezdxf.read(io.StringIO(data.decode("ascii").replace("\r\n", "\n")))  # type: ignore[attr-defined]
    found = doc.audit()
    return [str(entry.message) for entry in (*found.errors, *found.fixes)]


@contextmanager
def _fixed_stamps() -> Iterator[None]:
    """Keep dates, random ids and version stamps out of the file; restore the library's options."""
    from ezdxf import options  # type: ignore[attr-defined]

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _new(release: Release) -> Any:
    import logging

    import ezdxf

    # For R12 the library remarks, on the error stream, that it cannot store a unit; so we say.
    logger = logging.getLogger("ezdxf")
    before = logger.disabled
    logger.disabled = True
    try:
        return ezdxf.new({"R2000": "AC1015", "R12": "AC1009"}[release], units=4)  # type: ignore[attr-defined]
    finally:
        logger.disabled = before


def _round(value: float, decimals: int = _DECIMALS) -> float:
    # Adding 0.0 turns -0.0 into 0.0; rounding hides the last digits in which systems differ.
    return round(value, decimals) + 0.0


def _point(point: Point) -> Point:
    return _round(point[0]), _round(point[1])


def _drawn(item: Item) -> bool:
    return isinstance(item, Text) or item.pen is not None


def _line_type(item: Item) -> str:
    """Return the line type of a path or disc, "" for a continuous line or for text."""
    if isinstance(item, Text) or item.pen is None:
        return ""
    return _LINE_TYPES.get(item.pen.dash, "")


def _attribs(item: Item, *, linetypes: bool) -> dict[str, Any]:
    attribs: dict[str, Any] = {"layer": item.layer}
    kind = _line_type(item) if linetypes else ""
    if kind:
        # Set on the entity as well as the layer: some readers lose what is "by layer".
        attribs["linetype"] = kind
    return attribs


def _add_layers(doc: Any, scene: Scene, *, linetypes: bool) -> None:
    drawn = [item for item in scene.items if _drawn(item)]
    kinds = {_line_type(item) for item in drawn} - {""} if linetypes else set()
    for kind in sorted(kinds):
        pattern = [part * scene.scale for part in _PATTERNS_MM[kind]]
        whole = sum(abs(part) for part in pattern)
        doc.linetypes.add(kind, pattern=[whole, *pattern], description=kind.capitalize())
    for name in dict.fromkeys(item.layer for item in drawn):
        if not _LAYER_NAME.fullmatch(name):
            raise ValueError(f"layer name {name!r}: A-Z, digits, - and _ only, 31 at most")
        own = [item for item in drawn if item.layer == name and not isinstance(item, Text)]
        common = {_line_type(item) for item in own}
        alike = common.pop() if linetypes and len(common) == 1 else ""
        colour = LAYER_COLOURS.get(name, 7)
        doc.layers.add(name, color=colour, linetype=alike or "CONTINUOUS")


def _fill_header(doc: Any, scene: Scene) -> None:
    modern = doc.dxfversion != "AC1009"
    doc.header["$LUNITS"] = 2
    doc.header["$LTSCALE"] = 1.0
    if modern:
        doc.header["$INSUNITS"] = 4
        doc.header["$MEASUREMENT"] = 1
        # Left at 0, some programs print the whole drawing as a dot.
        doc.header["$PSVPSCALE"] = 1.0
    if not any(_drawn(item) for item in scene.items):
        return
    boxes = [extents(item, scene.scale) for item in scene.items if _drawn(item)]
    left, bottom = _point((min(box[0] for box in boxes), min(box[1] for box in boxes)))
    right, top = _point((max(box[2] for box in boxes), max(box[3] for box in boxes)))
    msp = doc.modelspace()
    msp.dxf.extmin, msp.dxf.extmax = (left, bottom, 0.0), (right, top, 0.0)
    msp.dxf.limmin, msp.dxf.limmax = (left, bottom), (right, top)
    # Some programs take their sheet from the limits of the paper layout: let it hold the drawing.
    sheet = doc.layout("Layout1") if modern else doc.active_layout()
    sheet.dxf.limmin = (0.0, 0.0)
    sheet.dxf.limmax = _point((math.ceil(right - left) + 20.0, math.ceil(top - bottom) + 20.0))
    centre = _point(((left + right) / 2.0, (bottom + top) / 2.0))
    height = max(top - bottom, (right - left) * 0.6, 1.0)
    doc.set_modelspace_vport(height=_round(height * 1.1), center=centre)


def _draw(msp: Any, path: Path, attribs: dict[str, Any]) -> None:
    points = [_point(point) for point in path.points]
    bulges = [_round(bulge, _BULGE_DECIMALS) for bulge in path.bulges or (0.0,) * len(points)]
    if len(points) == 2 and not path.closed:
        _draw_single(msp, path, attribs)
        return
    rows = [(x, y, bulge) for (x, y), bulge in zip(points, bulges, strict=True)]
    if msp.doc.dxfversion == "AC1009":
        msp.add_polyline2d(rows, format="xyb", close=path.closed, dxfattribs=attribs)
    else:
        msp.add_lwpolyline(rows, format="xyb", close=path.closed, dxfattribs=attribs)


def _draw_single(msp: Any, path: Path, attribs: dict[str, Any]) -> None:
    """Draw a path of one segment: a line or an arc; nothing if it has no length."""
    start, end = path.points
    if _point(start) == _point(end):
        return
    bulge = path.bulges[0] if path.bulges else 0.0
    if bulge == 0.0:
        msp.add_line(_point(start), _point(end), attribs)
        return
    centre, radius, first, sweep = arc_of(start, end, bulge)
    # Arcs in DXF run anticlockwise.
    begin, stop = sorted((first, first + sweep))
    begin, stop = (_round(math.degrees(angle) % 360.0) for angle in (begin, stop))
    msp.add_arc(_point(centre), _round(radius), begin, stop, dxfattribs=attribs)


def _write(msp: Any, text: Text, scale: float, attribs: dict[str, Any]) -> None:
    from ezdxf.enums import TextEntityAlignment

    words = dxf_text(text.words)
    if not words.strip():
        return
    across = {"left": "LEFT", "centre": "CENTER", "right": "RIGHT"}[text.across]
    up = {"base": "", "middle": "MIDDLE_", "top": "TOP_"}[text.up]
    height = _round(text.height_mm * scale)
    entity = msp.add_text(words, height=height, rotation=_round(text.angle_deg), dxfattribs=attribs)
    entity.set_placement(_point(text.at), align=TextEntityAlignment[up + across])
