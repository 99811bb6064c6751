"""Reading an outline and its holes from a DXF file that somebody else made.

Such a file may be damaged, huge or made to do harm, so every size is limited before work is spent
on it, blocks are opened one reference at a time, and only plain line work is used. What is left
out is counted and named, never dropped in silence.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from rigfit.errors import RigfitError
from rigfit.records.outline_pieces import (
    Circle,
    Outline,
    OutlineFileError,
    closed_outlines,
)
from rigfit.records.outline_walk import Walk

__all__ = [
    "Circle",
    "ImportedOutline",
    "Outline",
    "OutlineFileError",
    "UnitAskedError",
    "holes_texts",
    "read_outline",
]

LARGEST_BYTES = 10_000_000
MOST_TAGS = 55_000
"""Entities and table entries of a file; some thousand of them may be tables and blocks."""
MOST_VERTICES = 60_000
MOST_LINES = 2_000_000
"""Lines of text in a file; loading takes some seconds for so many."""

GivenUnit: TypeAlias = Literal["mm", "in"]

_UNITS: Mapping[int, tuple[str, float]] = MappingProxyType(
    {
        1: ("in", 25.4),
        2: ("ft", 304.8),
        4: ("mm", 1.0),
        5: ("cm", 10.0),
        6: ("m", 1000.0),
        10: ("yd", 914.4),
        14: ("dm", 100.0),
    }
)
"""Unit and millimetres in it by the file's own unit number; others are asked for."""

_GIVEN = {"mm": 1.0, "in": 25.4}

_OTHER_FILES = (
    (b"%PDF", "a PDF file"),
    (b"PK\x03\x04", "a ZIP file"),
    (b"AC10", "a DWG file"),
    (b"\x1f\x8b", "a packed file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"<", "an XML or SVG file"),
    (b"AutoCAD Binary DXF", "a binary DXF file"),
)
_TAG = re.compile(rb"^[ \t]*0[ \t]*\r?\n[ \t]*([A-Z][A-Z0-9_]*)", re.MULTILINE)
_SAVE_AGAIN = "save it again as an ASCII DXF file, release R12 or R2000"


class UnitAskedError(OutlineFileError):
    """The file does not say its unit, and nobody else did; the sentence shows both sizes."""


@dataclass(frozen=True, slots=True)
class ImportedOutline:
    """What was found in a file, in mm, in the file's own axes.

    :param outlines: closed outlines without circles, largest first.
    :param circles: full circles, in the order of the file.
    :param open_pieces: lines and curves that close nothing.
    :param skipped: entities that were left out, how many by type.
    :param hidden: entities left out because their layer is off or frozen.
    :param layers: layers that hold usable entities, by name.
    :param unit_found: unit the file states ("mm", "in", "ft" ...), "" for none.
    :param unit: unit that was used.
    :param left_mm: and ``bottom_mm``, ``right_mm``, ``top_mm`` of everything used.
    :param notes: what the user should know, as sentences.
    """

    outlines: tuple[Outline, ...]
    circles: tuple[Circle, ...]
    open_pieces: int
    skipped: Mapping[str, int]
    hidden: int
    layers: tuple[str, ...]
    unit_found: str
    unit: str
    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float
    notes: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        object.__setattr__(self, "skipped", MappingProxyType(dict(self.skipped)))

    @property
    def outline(self) -> Outline | None:
        """The largest closed outline, or None where there are circles only."""
        return self.outlines[0] if self.outlines else None

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of everything used."""
        return self.right_mm - self.left_mm, self.top_mm - self.bottom_mm


def read_outline(
    source: Path | str | bytes, unit: GivenUnit | None = None, layer: str | None = None
) -> ImportedOutline:
    """Return the closed outlines and circles of a DXF file.

    Model space only; lines, arcs, circles, ellipses, splines and polylines, also inside blocks.
    Ends that lie within 0.2 mm of each other are joined. It may take some seconds: call it where
    it can be waited for.

    :param source: path of the file, or its bytes.
    :param unit: what one unit of the file is; None to believe the file.
    :param layer: the only layer to read; None for all that are switched on.
    :raises UnitAskedError: when neither the file nor the caller says the unit.
    :raises OutlineFileError: for a file that is no ASCII DXF, too large, harmful or empty.
    """
    data = _bytes_of(source)
    _look_at(data)
    doc = _loaded(data)
    found, factor = _unit(doc)
    scale = _GIVEN[unit] if unit else factor or 1.0
    walk = Walk(doc, scale, layer)
    walk.run()
    if not walk.pieces and not walk.circles:
        raise _empty(walk, layer)
    box = _box(walk)
    if unit is None and factor is None:
        raise _unit_asked(box)
    outlines, open_pieces, notes = closed_outlines(walk.pieces)
    if not outlines and not walk.circles:
        if not open_pieces:
            raise OutlineFileError(
                "every outline in the file crosses itself or has no area",
                cure="draw the outline again so that it does not cross itself",
            )
        raise OutlineFileError(
            f"the file holds {_count(open_pieces, 'open piece')} but no closed outline and no "
            "circle",
            cure="close the gaps, which are wider than 0.2 mm, and export it again",
        )
    if unit and found and unit != found:
        notes.append(f"The file says its unit is {found}; it was read in {unit} as you said.")
    return ImportedOutline(
        outlines=outlines,
        circles=_distinct(walk.circles, notes),
        open_pieces=open_pieces,
        skipped=walk.skipped,
        hidden=walk.hidden,
        layers=tuple(sorted(walk.layers)),
        unit_found=found,
        unit=unit or found,
        left_mm=box[0],
        bottom_mm=box[1],
        right_mm=box[2],
        top_mm=box[3],
        notes=(*notes, *_left_out(walk, open_pieces)),
    )


def holes_texts(
    outline: ImportedOutline, centre_x: float, top_y: float
) -> tuple[dict[str, str], ...]:
    """Return the circles as rows of existing holes, as they would be typed in a job.

    From the top down and from port to starboard. A circle above the top gets a negative distance,
    which the field will refuse in its own words.

    :param centre_x: where the boat's centreline is in the file, mm; the file is seen from astern.
    :param top_y: where the transom top is in the file, mm.
    """
    ordered = sorted(
        outline.circles, key=lambda hole: (round(top_y - hole.y_mm, 1), hole.x_mm - centre_x)
    )
    return tuple(
        {
            "name": f"imported {number}",
            "across": _typed(hole.x_mm - centre_x),
            "below_top": _typed(top_y - hole.y_mm),
            "diameter": _typed(hole.diameter_mm),
        }
        for number, hole in enumerate(ordered, start=1)
    )


def _typed(value_mm: float) -> str:
    return f"{round(value_mm, 2) + 0.0:.10g} mm"


def _bytes_of(source: Path | str | bytes) -> bytes:
    if isinstance(source, bytes):
        _check_size(len(source), "")
        return source
    path = Path(source)
    try:
        _check_size(path.stat().st_size, path.name)
        return path.read_bytes()
    except (OSError, ValueError) as trouble:
        why = getattr(trouble, "strerror", None) or "not a path"
        raise OutlineFileError(
            f"it cannot be read ({why})", cure="choose another file", where=path.name
        ) from None


def _check_size(count: int, name: str) -> None:
    if count > LARGEST_BYTES:
        raise OutlineFileError(
            f"the file has {count / 1e6:.1f} MB",
            allowed=f"files of at most {LARGEST_BYTES / 1e6:.0f} MB are read",
            cure="export the outline alone",
            where=name,
        )


def _look_at(data: bytes) -> None:
    """Refuse what is no ASCII DXF, or would take too long to load, before loading it."""
    head = data[:64].lstrip(b"\xef\xbb\xbf \t\r\n")
    if not head:
        raise OutlineFileError("the file is empty", cure="export the outline again")
    for begin, name in _OTHER_FILES:
        if head.startswith(begin):
            raise OutlineFileError(f"this is {name}, not an ASCII DXF file", cure=_SAVE_AGAIN)
    lines = data.count(b"\n")
    if lines > MOST_LINES:
        raise OutlineFileError(
            f"the file has {lines} lines of text",
            allowed=f"at most {MOST_LINES} are read",
            cure="export the outline alone",
        )
    kinds = Counter(match.group(1) for match in _TAG.finditer(data))
    vertices = kinds.pop(b"VERTEX", 0)
    if vertices > MOST_VERTICES:
        raise OutlineFileError(
            f"the file holds {vertices} vertices",
            allowed=f"at most {MOST_VERTICES} are read",
            cure="export the outline alone, with coarser curves",
        )
    if sum(kinds.values()) > MOST_TAGS:
        raise OutlineFileError(
            f"the file holds about {sum(kinds.values())} entities",
            allowed="at most 50000 are read",
            cure="export the outline alone",
        )
    if not kinds:
        raise OutlineFileError("this is not a DXF file", cure=_SAVE_AGAIN)


def _loaded(data: bytes) -> Any:
    import logging

    import ezdxf
    from ezdxf import recover

    # What the library mends it also remarks on the error stream; the sentences here are enough.
    logger = logging.getLogger("ezdxf")
    before = logger.disabled
    logger.disabled = True
    try:
        doc, _ = recover.read(io.BytesIO(data))
    except RigfitError:
        raise
    except (
        ezdxf.DXFError,  # type: ignore[attr-defined]
        ArithmeticError, AssertionError, AttributeError, LookupError, OSError, RuntimeError,
        TypeError, ValueError,
    ) as trouble:  # fmt: skip
        raise OutlineFileError("the file is damaged or no DXF file", cure=_SAVE_AGAIN) from trouble
    finally:
        logger.disabled = before
    return doc


def _unit(doc: Any) -> tuple[str, float | None]:
    """Return the unit a file states and mm in it; ("", None) where it states none we know."""
    try:
        number = int(doc.header.get("$INSUNITS", 0))
    except (TypeError, ValueError, OverflowError):
        number = 0
    return _UNITS.get(number, ("", None))


def _box(walk: Walk) -> tuple[float, float, float, float]:
    xs = [x for piece in walk.pieces for x, _ in piece.points]
    ys = [y for piece in walk.pieces for _, y in piece.points]
    for hole in walk.circles:
        half = hole.diameter_mm / 2.0
        xs += (hole.x_mm - half, hole.x_mm + half)
        ys += (hole.y_mm - half, hole.y_mm + half)
    return min(xs), min(ys), max(xs), max(ys)


def _unit_asked(box: tuple[float, float, float, float]) -> UnitAskedError:
    wide, tall = box[2] - box[0], box[3] - box[1]
    return UnitAskedError(
        "the file does not say its unit",
        allowed=f"in mm the drawing is {wide:.1f} x {tall:.1f} mm, in inches it is {wide:.2f} x "
        f"{tall:.2f} in ({wide * 25.4:.0f} x {tall * 25.4:.0f} mm)",
        cure="say which of the two it is, mm or in",
    )


def _empty(walk: Walk, layer: str | None) -> OutlineFileError:
    if layer is not None:
        known = ", ".join(sorted(walk.layers)) or "none"
        return OutlineFileError(
            f'nothing that can be used is on the layer "{layer[:60]}"',
            allowed=f"layers in use are {known[:300]}",
            cure="choose one of these",
        )
    left = _listed(walk.skipped)
    return OutlineFileError(
        "the file holds no line work in model space that can be used"
        + (f"; left out were {left}" if left else ""),
        cure="draw the outline with lines, arcs, circles or polylines in model space",
    )


def _listed(skipped: Mapping[str, int]) -> str:
    return ", ".join(f"{count} {name}" for name, count in sorted(skipped.items())[:12])


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def _left_out(walk: Walk, open_pieces: int) -> list[str]:
    """Return sentences on what was not used."""
    said = []
    if walk.skipped:
        said.append(f"Left out: {_listed(walk.skipped)}.")
    solid = sorted(set(walk.skipped) & {"REGION", "3DSOLID", "BODY", "IMAGE", "MESH", "SURFACE"})
    if solid:
        said.append(f"{', '.join(solid)} cannot be used; explode or trace it into lines first.")
    if walk.hidden:
        said.append(f"Left out: {_count(walk.hidden, 'entity').replace('entitys', 'entities')} "
                    "on layers that are off or frozen.")  # fmt: skip
    if open_pieces:
        said.append(f"Not part of any closed outline: {_count(open_pieces, 'open piece')}.")
    return said


def _distinct(circles: list[Circle], notes: list[str]) -> tuple[Circle, ...]:
    """Return every circle once; two within 0.01 mm of each other are one drawn twice."""
    found: dict[tuple[float, float, float], Circle] = {}
    for hole in circles:
        key = (round(hole.x_mm, 2), round(hole.y_mm, 2), round(hole.diameter_mm, 2))
        found.setdefault(key, hole)
    if len(found) < len(circles):
        notes.append(f"{_count(len(circles) - len(found), 'circle')} drawn twice counted once.")
    return tuple(found.values())
