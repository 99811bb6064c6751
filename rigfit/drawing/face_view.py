"""The transom's face drawn, seen from astern, and the same mirrored as it is seen from inside.

The outside view is drawn first; the inside view is its exact mirror image, with words that still
read the right way round. Only pens differ: what lies inside is dashed when seen from outside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal, TypeAlias

from rigfit.drawing.face_plan import FacePlan, Side, marks_of
from rigfit.drawing.fonts import text_box, text_width_mm
from rigfit.drawing.labels import exact_words
from rigfit.drawing.plates import Plate, rounded
from rigfit.drawing.running import measures_above, measures_beside
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    OUTLINE,
    THIN,
    Across,
    Dash,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Point,
    Text,
)
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.transom_map import NoGo
from rigfit.units import Shown, inch_fraction

View: TypeAlias = Literal["outside", "inside"]

BIG_WORDS: dict[str, str] = {
    "outside": "SEEN FROM ASTERN, OUTSIDE",
    "inside": "SEEN FROM INSIDE: MIRRORED",
}
"""What stands above the view in big letters."""

RELATION_INKS: dict[str, Ink] = {
    "serves": Ink.FITS,
    "falls in a slot": Ink.FITS,
    "too near": Ink.TIGHT,
    "breaks into": Ink.STOPS,
}
"""Ink of a hole by what it is to the old ones; any other word is drawn black."""

ON_CENTRE_MM = 0.05
"""A hole nearer to the centreline than this is on it."""

MOST_MEASURED = 20
"""Of more holes than this only the new ones are measured in the view; the table has them all."""

BIG_MM = 6.0
_SIDE_MM = 4.0
_TEXT_MM = 2.2
_MARK_MM = 2.5
_HATCH_MM = 3.5
_USUAL = Pen(0.35, Dash.DOTTED)
_OLD = Pen(0.25, Dash.DASHED)
_BACKING = Pen(0.35, ink=Ink.ACCENT)
_PLACE = Pen(0.25, ink=Ink.STOPS)
_HATCH = Pen(0.13, ink=Ink.MUTED)


def tape_words(value_mm: float, style: Shown) -> str:
    """Return a distance as a tape reads it, in both units: ``163.5 (6 7/16 in)``."""
    if style.lengths == "in":
        return exact_words(value_mm, style)
    return f"{exact_words(value_mm, style)} ({inch_fraction(value_mm)} in)"


def face_items(
    plan: FacePlan, scale: float, style: Shown, view: View = "outside"
) -> tuple[Item, ...]:
    """Return the face as scene items, model mm, back to front.

    :param scale: model mm per paper mm.
    :param view: "outside" as seen from astern, or "inside", its mirror image.
    """
    inside = view == "inside"
    box = _reach(plan)
    items: list[Item] = [
        *_outline(plan.sides),
        *_places(plan.no_go, scale, inside=inside),
        *_backing(plan, inside=inside),
        *_centrelines(plan, box, scale),
        *_openings(plan, scale),
        *_old_holes(plan, scale),
        *_new_holes(plan, scale),
        *_targets(plan, scale),
        *_measures(plan, box, scale, style),
        *_marks(plan, scale),
    ]
    # Engines' names stand between the face and these words.
    bottom = box[1] - (6.0 + 4.0 * min(2, len(plan.centres))) * scale
    for words, x in (("PORT", box[0]), ("STARBOARD", box[2])):
        items.append(
            Text((x * 0.72, bottom), words, "NOTES", height_mm=_SIDE_MM, across="centre", up="top",
                 bold=True, ink=Ink.MUTED, ref="side")
        )  # fmt: skip
    shown = mirrored(items) if inside else tuple(items)
    return (*shown, _big(shown, view, scale))


def mirrored(items: Sequence[Item]) -> tuple[Item, ...]:
    """Return items mirrored left to right, with words that still read the right way round."""
    return tuple(_mirror(item) for item in items)


def _mirror(item: Item) -> Item:
    if isinstance(item, Disc):
        return replace(item, centre=_across(item.centre))
    if isinstance(item, Path):
        bulges = tuple(-bulge + 0.0 for bulge in item.bulges)
        return replace(item, points=tuple(_across(p) for p in item.points), bulges=bulges)
    if item.angle_deg == 90.0:
        # Upright words about their own middle: only their place is mirrored.
        return replace(item, at=_across(item.at))
    other = {"left": "right", "right": "left", "centre": "centre"}[item.across]
    return replace(item, at=_across(item.at), across=other, angle_deg=-item.angle_deg + 0.0)  # type: ignore[arg-type]


def _across(point: Point) -> Point:
    return -point[0] + 0.0, point[1]


def _big(items: Sequence[Item], view: View, scale: float) -> Text:
    """Return the big letters above everything else."""
    top = max(y for item in items for _, y in _ends(item, scale))
    return Text(
        (0.0, top + 5.0 * scale), BIG_WORDS[view], "NOTES", height_mm=BIG_MM, across="centre",
        bold=True, ink=Ink.ACCENT if view == "inside" else Ink.LINE, ref="view",
    )  # fmt: skip


def _ends(item: Item, scale: float) -> Sequence[Point]:
    if isinstance(item, Disc):
        return ((item.centre[0], item.centre[1] + item.radius_mm),)
    return item.points if isinstance(item, Path) else text_box(item, scale)


def _reach(plan: FacePlan) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of everything on the face, the same far both ways."""
    xs, ys = [300.0], [0.0, -300.0]
    for side in plan.sides:
        for x, y in (side.start, side.end):
            xs.append(abs(x))
            ys.append(y)
    for _, hole in marks_of(plan):
        xs.append(abs(hole.across_mm) + hole.diameter_mm / 2.0)
        low = max(hole.diameter_mm, hole.slot_mm) / 2.0
        ys += [-hole.below_top_mm - low, low - hole.below_top_mm]
    for place in plan.no_go:
        left, bottom, right, top = place_box(place)
        xs += [abs(left), abs(right)]
        ys += [bottom, top]
    xs += [abs(across) for _, across in plan.centres]
    for _, (x, y) in plan.targets:
        xs.append(abs(x))
        ys.append(y)
    for plate in plan.plates:
        xs.append(abs(plate.across_mm) + plate.width_mm / 2.0)
        ys.append(-plate.below_top_mm - plate.height_mm / 2.0)
    return -max(xs), min(ys), max(xs), max(ys)


def _outline(sides: Sequence[Side]) -> Iterator[Path]:
    for side in sides:
        pen = OUTLINE if side.known else _USUAL
        for way in (1.0, -1.0):
            ends = ((way * side.start[0], side.start[1]), (way * side.end[0], side.end[1]))
            if ends[0][0] == ends[1][0] == 0.0 and way < 0.0:
                continue
            ref = "edge" if side.known else "usual-edge"
            yield Path(ends, "TRANSOM", pen=pen, ref=ref)


def place_box(place: NoGo) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of a complete place inside, model mm."""
    readings = (place.across_from, place.below_to, place.across_to, place.below_from)
    left, low, right, up = (reading.value if reading else 0.0 for reading in readings)
    return min(left, right), -max(low, up), max(left, right), -min(low, up)


def _places(places: Sequence[NoGo], scale: float, *, inside: bool) -> Iterator[Item]:
    """Yield places inside where nothing can sit: hatched, dashed when seen from outside."""
    for number, place in enumerate(places, start=1):
        box = place_box(place)
        if box[0] == box[2] or box[1] == box[3]:
            continue
        outline = _place_outline(place, box, inside=inside)
        yield from _hatched(outline, scale)
        yield replace(outline, ref=f"place-G{number}")


def _place_outline(place: NoGo, box: tuple[float, float, float, float], *, inside: bool) -> Path:
    left, bottom, right, top = box
    asked = place.corner_radius.value if place.corner_radius else 0.0
    r = min(asked, (right - left) / 2.0, top - bottom)
    pen = _PLACE if inside else replace(_PLACE, dash=Dash.DASHED)
    if r <= 0.0:
        return replace(rounded(box, 0.0, "OBSTACLE"), pen=pen)
    quarter = 0.41421356237309503
    points = ((left, bottom), (right, bottom), (right, top - r), (right - r, top), (left + r, top),
              (left, top - r))  # fmt: skip
    bulges = (0.0, 0.0, quarter, 0.0, quarter, 0.0)
    return Path(points, "OBSTACLE", pen=pen, closed=True, bulges=bulges)


def _hatched(outline: Path, scale: float) -> Iterator[Path]:
    """Yield lines at 45 degrees inside an outline."""
    from shapely import LineString, MultiLineString, Polygon

    from rigfit.drawing.scene import flatten

    area = Polygon(flatten(outline, 0.05 * scale))
    left, bottom, right, top = area.bounds
    pitch = _HATCH_MM * scale * 2.0**0.5
    high = top - bottom
    first = left - high
    lines = []
    for step in range(1, int((right - first) / pitch) + 1):
        x = first + step * pitch
        lines.append(LineString(((x, bottom), (x + high, top))))
    met = MultiLineString(lines).intersection(area)
    for part in getattr(met, "geoms", [met]):
        if part.geom_type == "LineString" and not part.is_empty:
            start, end = part.coords[0], part.coords[-1]
            ends = ((float(start[0]), float(start[1])), (float(end[0]), float(end[1])))
            yield Path(ends, "OBSTACLE", pen=_HATCH, ref="hatch")


def _backing(plan: FacePlan, *, inside: bool) -> Iterator[Item]:
    """Yield plates and washers inside, dashed when seen from outside."""
    pen = _BACKING if inside else replace(_BACKING, dash=Dash.DASHED)
    for plate in plan.plates:
        yield replace(_plate_outline(plate), pen=pen, ref="backing-plate")
    if plan.washer_mm:
        for hole in plan.new:
            yield Disc(_at(hole), plan.washer_mm / 2.0, "BACKING", pen=pen, ref="washer")


def _plate_outline(plate: Plate) -> Path:
    box = (
        plate.across_mm - plate.width_mm / 2.0,
        -plate.below_top_mm - plate.height_mm / 2.0,
        plate.across_mm + plate.width_mm / 2.0,
        -plate.below_top_mm + plate.height_mm / 2.0,
    )
    return rounded(box, plate.corner_mm, "BACKING")


def _centrelines(
    plan: FacePlan, box: tuple[float, float, float, float], scale: float
) -> Iterator[Item]:
    bottom = box[1] - 4.0 * scale
    for number, (name, across) in enumerate((("", 0.0), *plan.centres)):
        ends = ((across, box[3] + 3.0 * scale), (across, bottom))
        yield Path(ends, "CENTRELINES", pen=CENTRE_LINE, ref=f"centreline-{name}")
        if name:
            # Names of engines close together stand on two levels.
            low = bottom - (1.0 + 4.0 * ((number + 1) % 2)) * scale
            yield Text(
                (across, low), name, "NOTES", height_mm=_TEXT_MM, across="centre",
                up="top", ref=f"centre-{name}",
            )  # fmt: skip


def _at(hole: Feature) -> Point:
    return hole.across_mm, -hole.below_top_mm


def _ink(plan: FacePlan, hole: Feature) -> Ink:
    return RELATION_INKS.get(plan.relations.get(hole.name, ""), Ink.LINE)


def _openings(plan: FacePlan, scale: float) -> Iterator[Item]:
    for mark, hole in marks_of(plan):
        if not mark.startswith("P"):
            continue
        (x, y), wide, tall = _at(hole), hole.diameter_mm / 2.0, hole.slot_mm / 2.0
        if tall:
            box = (x - wide, y - tall, x + wide, y + tall)
            yield replace(rounded(box, 0.0, "EXISTING"), pen=EDGE, ref=f"opening-{mark}")
        else:
            yield Disc((x, y), wide, "EXISTING", pen=EDGE, ref=f"opening-{mark}")
        yield from _cross((x, y), 1.5 * scale, "EXISTING", mark)


def _old_holes(plan: FacePlan, scale: float) -> Iterator[Item]:
    for mark, hole in marks_of(plan):
        if mark.startswith("X"):
            pen = replace(_OLD, ink=_ink(plan, hole))
            radius = max(hole.diameter_mm / 2.0, 0.4 * scale)
            yield Disc(_at(hole), radius, "EXISTING", pen=pen, ref=f"old-{mark}")


def _new_holes(plan: FacePlan, scale: float) -> Iterator[Item]:
    for mark, hole in marks_of(plan):
        if mark.startswith("N"):
            pen = replace(EDGE, ink=_ink(plan, hole))
            yield Disc(_at(hole), hole.diameter_mm / 2.0, "DRILL", pen=pen, ref=f"new-{mark}")
            reach = max(hole.diameter_mm * 0.9, 2.0 * scale)
            yield from _cross(_at(hole), reach, "CENTREMARKS", mark)


def _cross(at: Point, reach: float, layer: str, mark: str) -> Iterator[Path]:
    x, y = at
    for ends in (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))):
        yield Path(ends, layer, pen=THIN, ref=f"cross-{mark}")


def _targets(plan: FacePlan, scale: float) -> Iterator[Item]:
    """Yield the points to tape from, as small squares with their names."""
    half = 1.0 * scale
    for name, (x, y) in plan.targets:
        box = (x - half, y - half, x + half, y + half)
        yield replace(rounded(box, 0.0, "DATUM"), pen=HIDDEN, fill=Ink.PAPER, ref=f"target-{name}")


def measured_in_view(plan: FacePlan) -> list[Feature]:
    """Return the holes whose distances stand in the view: all, or of very many the new ones."""
    named = marks_of(plan)
    return [hole for mark, hole in named if len(named) <= MOST_MEASURED or mark[0] == "N"]


def _measures(
    plan: FacePlan, box: tuple[float, float, float, float], scale: float, style: Shown
) -> Iterator[Item]:
    """Yield distances from the centreline above the face, and from the top beside it."""
    holes = measured_in_view(plan)
    above, beside = box[3] + 6.0 * scale, box[2] + 6.0 * scale
    across = [
        (_at(hole), tape_words(abs(hole.across_mm), style))
        for hole in holes
        if abs(hole.across_mm) >= ON_CENTRE_MM
    ]
    down = [(_at(hole), tape_words(hole.below_top_mm, style)) for hole in holes]
    across.append(((0.0, box[3]), "0, the centreline"))
    down.append(((0.0, 0.0), "0, the transom top"))
    yield from measures_above(across, above, scale, height_mm=_TEXT_MM)
    yield from measures_beside(down, beside, scale, height_mm=_TEXT_MM)


def _marks(plan: FacePlan, scale: float) -> Iterator[Text]:
    """Yield the marks of holes and places and the names of points, each where it is free."""
    named = marks_of(plan)
    taken = [_extent(plan, mark, hole) for mark, hole in named]
    wanted = [_target_places(name, at, scale) for name, at in plan.targets]
    wanted += [
        _hole_places(mark, _extent(plan, mark, hole), scale, _ink(plan, hole))
        for mark, hole in named
    ]
    wanted += [
        _inside_places(f"G{number}", place_box(place), scale)
        for number, place in enumerate(plan.no_go, start=1)
    ]
    for texts in wanted:
        chosen = next(
            (text for text in texts if not any(_overlap(_box(text, scale), box) for box in taken)),
            texts[0],
        )
        taken.append(_box(chosen, scale))
        yield chosen


def _extent(plan: FacePlan, mark: str, hole: Feature) -> tuple[float, float, float, float]:
    """Return what a hole takes up, its washer included."""
    (x, y), washer = _at(hole), plan.washer_mm or 0.0
    wide = max(hole.diameter_mm, washer if mark[0] == "N" else 0.0) / 2.0
    tall = hole.slot_mm / 2.0 or wide
    return x - wide, y - tall, x + wide, y + tall


def _target_places(name: str, at: Point, scale: float) -> list[Text]:
    """Return where the name of a point to tape from may stand: below it first, towards inside."""
    across: Across = "left" if at[0] < 0.0 else "right"
    away = -1.0 if at[0] < 0.0 else 1.0
    return [
        Text((at[0] - away * scale, at[1] + up * scale), name, "NOTES", height_mm=_TEXT_MM,
             across=across, up="middle", backed=True, ref=f"target-{name}")
        for up in (-6.5, -10.0, 4.0, -13.5, 7.5)
    ]  # fmt: skip


def _hole_places(
    mark: str, extent: tuple[float, float, float, float], scale: float, ink: Ink
) -> list[Text]:
    """Return where a hole's mark may stand, the nearest first."""
    left, bottom, right_end, top = extent
    x, y = (left + right_end) / 2.0, (bottom + top) / 2.0
    wide, tall = (right_end - left) / 2.0, (top - bottom) / 2.0
    new = mark[0] == "N"
    corners = ((1, 1), (1, -1), (-1, 1), (-1, -1))
    return [
        Text(
            (x + right * (wide + (0.6 + 3.4 * step) * scale),
             y + up * (tall * 0.8 + (1.6 + 2.6 * rise) * scale)),
            mark, "NOTES", height_mm=_MARK_MM, across="left" if right > 0 else "right",
            up="middle", bold=new, ink=ink, backed=True, ref=f"mark-{mark}",
        )
        for step in range(6)
        for rise in range(step + 1)
        for right, up in (corners if new else corners[::-1])
    ]  # fmt: skip


def _inside_places(mark: str, box: tuple[float, float, float, float], scale: float) -> list[Text]:
    """Return where the mark of a place inside may stand: in its middle, along it, beside it."""
    left, bottom, right, top = box
    x, y, high = (left + right) / 2.0, (bottom + top) / 2.0, top - bottom
    spots = [(x, y + part * high) for part in (0.0, 0.25, -0.25, 0.4, -0.4)]
    if right - left < text_width_mm(mark, _MARK_MM, bold=True) * scale:
        spots = []
    spots += [
        (end + away * step * 4.0 * scale, y + part * high)
        for step in (1, 2)
        for part in (0.4, 0.2, 0.0, -0.2, -0.4)
        for end, away in ((left, -1.0), (right, 1.0))
    ]
    return [
        Text(spot, mark, "NOTES", height_mm=_MARK_MM, across="centre", up="middle", bold=True,
             backed=True, ink=Ink.STOPS, ref=f"place-{mark}")
        for spot in spots
    ]  # fmt: skip


def _box(text: Text, scale: float) -> tuple[float, float, float, float]:
    corners = text_box(text, scale)
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _overlap(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
