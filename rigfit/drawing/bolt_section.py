"""A section through the transom at one bolt: what it clamps, how long it is, what shows past it.

Model mm: x along the bolt, 0 on the outer face of the transom, + outside (aft); y up from the
middle of the bolt. The head stands outside, the nut inside; the other way round is drawn the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rigfit.drawing.dimensioning import leader, linear
from rigfit.drawing.labels import exact_words, reading_words
from rigfit.drawing.profile_sheet import SheetWords, title_block
from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    MEASURE,
    OUTLINE,
    THIN,
    Disc,
    Ink,
    Item,
    Path,
    Pen,
    Placement,
    Point,
    Scene,
    Text,
)
from rigfit.drawing.sheet import (
    Box,
    TitleBlock,
    centred_corner,
    drawing_area,
    frame,
    paper,
    scale_words,
)
from rigfit.drawing.strokes import full_extents
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.bolting import (
    THREADS_LEAST,
    Layer,
    grip_of,
    hole_of_mm,
    label_of,
    layers_of,
    length_needed_mm,
    missing,
    protrusion_mm,
    stack_needs,
    washer_of,
)
from rigfit.rigging.case import Case
from rigfit.rigging.fasteners import Bolt
from rigfit.rigging.findings import Verdict
from rigfit.rigging.report import EngineReport
from rigfit.units import Kind, Shown, inch_fraction, show

SCALES = (0.5, 1.0, 2.0, 5.0)
"""Scales tried, as model mm per paper mm; the largest that fits is used."""

LAYER, STEEL, NOTES = "TRANSOM", "BOLT", "NOTES"

_GAP_MM = 6.0
_LIST_MM = 94.0
_CAPTION_MM = 8.0
_HATCH = Pen(0.18, ink=Ink.MUTED)
_RULE = Pen(0.18, ink=Ink.MUTED)
_BALLOON_MM = 2.6
_PITCH_MM = 7.0
_CORNERS = 2.0 / 3.0**0.5  # across corners over across flats of a hexagon
_COLLAR = 0.28  # share of a lock nut's height that its insert takes


@dataclass(frozen=True, slots=True)
class Slab:
    """One clamped thing as it is drawn.

    :param number: on the drawing and in the list, from 1.
    :param layer: what it is.
    :param inner_mm: its x towards the nut.
    :param outer_mm: its x towards the head.
    :param half_mm: how far it is drawn from the middle of the bolt.
    :param bore_mm: its hole.
    """

    number: int
    layer: Layer
    inner_mm: float
    outer_mm: float
    half_mm: float
    bore_mm: float

    @property
    def middle_mm(self) -> float:
        """Its middle, x."""
        return (self.inner_mm + self.outer_mm) / 2.0


@dataclass(frozen=True, slots=True)
class Section:
    """Everything the drawing shows, in model mm.

    :param bolt: the bolt.
    :param slabs: from the head in.
    :param length_mm: of the bolt, under its head.
    :param is_bought: True where the length was worked out, not measured in hand.
    :param half_mm: how far transom and bracket are drawn from the middle of the bolt.
    :param hole_mm: through the transom.
    """

    bolt: Bolt
    slabs: tuple[Slab, ...]
    length_mm: float
    is_bought: bool
    half_mm: float
    hole_mm: float

    @property
    def head_mm(self) -> float:
        """The x of the underside of the head."""
        return self.slabs[0].outer_mm

    @property
    def nut_mm(self) -> float:
        """The x of the nut's bearing face."""
        return self.slabs[-1].inner_mm

    @property
    def end_mm(self) -> float:
        """The x of the end of the bolt."""
        return self.head_mm - self.length_mm

    @property
    def past_mm(self) -> float:
        """How far the bolt stands past its lock nut."""
        return protrusion_mm(self.bolt, self.length_mm, self.head_mm - self.nut_mm)


def section_of(case: Case) -> Section:
    """Return the section of a case.

    :raises NotMeasuredError: naming what of bolt, thicknesses and backing is not filled in.
    """
    lacking = missing(case, "bolting.bolt", *stack_needs(case))
    if lacking:
        raise NotMeasuredError(
            "there is no section through a bolt yet: "
            + ", ".join(label_of(name) for name in lacking)
            + (" is" if len(lacking) == 1 else " are")
            + " not known",
            cure="fill it in" if len(lacking) == 1 else "fill them in",
            where=lacking[0].replace(".", ", "),
        )
    bolt = case.catalogue.bolt(case.job.bolting.bolt)
    layers = layers_of(case)
    grip = grip_of(layers)
    needed = length_needed_mm(bolt, grip.value + grip.tolerance, THREADS_LEAST)
    given = case.job.bolting.length
    length = given.value if given else bolt.next_length_mm(needed) or needed
    hole = hole_of_mm(case) or bolt.diameter_mm
    washer = washer_of(case)
    seat = washer.outer_mm if washer else bolt.flats_mm * _CORNERS
    half = max(30.0, 0.75 * seat + 6.0)
    slabs = tuple(_slabs(case, layers, half, hole))
    return Section(bolt, slabs, length, given is None, half, hole)


def _slabs(case: Case, layers: Sequence[Layer], half: float, hole: float) -> Iterator[Slab]:
    washer, tall = washer_of(case), case.job.bolting.plate_height
    upto = [layer.name for layer in layers].index("transom")
    x = sum(layer.thickness.value for layer in layers[:upto])
    for number, layer in enumerate(layers, start=1):
        reach, bore = half, hole
        if layer.name == "washer" and washer:
            reach, bore = washer.outer_mm / 2.0, washer.bore_mm
        elif layer.name == "backing plate":
            reach = min(half, tall.value / 2.0) if tall else 0.8 * half
        elif layer.name != "transom":
            reach = 0.85 * half
        yield Slab(number, layer, x - layer.thickness.value, x, reach, bore)
        x -= layer.thickness.value


# ------------------------------------------------------------------------------ the section


def section_items(section: Section, scale: float, style: Shown) -> tuple[Item, ...]:
    """Return the section with numbers and dimensions, model mm, back to front."""
    items: list[Item] = []
    for slab in section.slabs:
        items += _slab_items(slab, section, scale)
    items += _bolt_items(section)
    reach = 5.0 * scale
    ends = ((section.end_mm - reach, 0.0), (section.head_mm + section.bolt.head_mm + reach, 0.0))
    items.append(Path(ends, STEEL, pen=CENTRE_LINE))
    items += _balloons(section, scale)
    items += _dimensions(section, scale, style)
    return tuple(items)


def _slab_items(slab: Slab, section: Section, scale: float) -> Iterator[Item]:
    """Yield both halves of a slab: filled, hatched, open where it goes on beyond the drawing."""
    name = slab.layer.name
    fill = {"transom": Ink.HULL, "engine's bracket": Ink.ENGINE}.get(name, Ink.COWL)
    step, way = {"transom": (3.2, 1.0), "engine's bracket": (2.2, -1.0)}.get(name, (1.2, 1.0))
    goes_on = slab.half_mm >= section.half_mm - 1e-9
    for low, high in (
        (slab.bore_mm / 2.0, slab.half_mm),
        (-slab.half_mm, -slab.bore_mm / 2.0),
    ):
        x0, x1 = slab.inner_mm, slab.outer_mm
        corners = ((x0, low), (x1, low), (x1, high), (x0, high))
        yield Path(corners, LAYER, pen=None, closed=True, fill=fill, ref=name)
        for ends in hatching(x0, low, x1, high, step * scale, way):
            yield Path(ends, LAYER, pen=_HATCH)
        far, near = (high, low) if low > 0.0 else (low, high)
        outline = ((x0, far), (x0, near), (x1, near), (x1, far))
        yield Path(outline, LAYER, pen=EDGE, closed=not goes_on, ref=name)
        if goes_on:
            yield _break(x0, x1, far, scale)


def _break(x0: float, x1: float, y: float, scale: float) -> Path:
    """Return a thin line with a zigzag: the thing goes on."""
    jog, middle, over = 1.2 * scale, (x0 + x1) / 2.0, 1.0 * scale
    wide = min(jog, (x1 - x0) / 6.0)
    points = (
        (x0 - over, y),
        (middle - wide, y),
        (middle - 0.4 * wide, y + jog),
        (middle + 0.4 * wide, y - jog),
        (middle + wide, y),
        (x1 + over, y),
    )
    return Path(points, LAYER, pen=THIN)


def hatching(
    left: float, bottom: float, right: float, top: float, step: float, way: float
) -> Iterator[tuple[Point, Point]]:
    """Yield section lines at 45 degrees inside a rectangle.

    :param step: from line to line, along the horizontal.
    :param way: + 1 for lines that rise to the right, - 1 for lines that fall.
    """
    high = top - bottom
    count = int((right - left + high) / step)
    for index in range(1, count + 1):
        # The line meets the bottom edge's own line at this distance from its rising corner.
        at = left - high + index * step
        start = max(at, left)
        stop = min(at + high, right)
        if stop - start <= 1e-6:
            continue
        ends = ((start, bottom + start - at), (stop, bottom + stop - at))
        if way > 0.0:
            yield ends
        else:
            (x0, y0), (x1, y1) = ends
            yield (left + right - x0, y0), (left + right - x1, y1)


def _bolt_items(section: Section) -> Iterator[Item]:
    bolt = section.bolt
    radius, root = bolt.diameter_mm / 2.0, bolt.diameter_mm / 2.0 - 0.54 * bolt.thread_mm
    head, end = section.head_mm, section.end_mm
    chamfer = radius - root
    shank = (
        (head, radius),
        (end + chamfer, radius),
        (end, root),
        (end, -root),
        (end + chamfer, -radius),
        (head, -radius),
    )
    yield Path(shank, STEEL, pen=OUTLINE, closed=True, fill=Ink.PAPER, ref="bolt")
    start = end + bolt.threaded_mm(section.length_mm)
    for sign in (1.0, -1.0):
        yield Path(((end, sign * root), (start, sign * root)), STEEL, pen=THIN, ref="thread")
    if start < head - 1e-6:
        yield Path(((start, radius), (start, -radius)), STEEL, pen=EDGE, ref="thread end")
    yield from _hexagon(head, head + bolt.head_mm, bolt.flats_mm, "head")
    face = section.nut_mm
    collar = _COLLAR * bolt.lock_nut_mm
    yield from _hexagon(face - bolt.lock_nut_mm + collar, face, bolt.flats_mm, "nut")
    half = 0.46 * bolt.flats_mm
    back = face - bolt.lock_nut_mm
    corners = ((back, -half), (back + collar, -half), (back + collar, half), (back, half))
    yield Path(corners, STEEL, pen=OUTLINE, closed=True, fill=Ink.PAPER, ref="lock nut")


def _hexagon(x0: float, x1: float, flats: float, ref: str) -> Iterator[Item]:
    """Yield a hexagon seen across its corners: three faces, the middle one twice as wide."""
    half = flats * _CORNERS / 2.0
    corners = ((x0, -half), (x1, -half), (x1, half), (x0, half))
    yield Path(corners, STEEL, pen=OUTLINE, closed=True, fill=Ink.PAPER, ref=ref)
    for sign in (1.0, -1.0):
        yield Path(((x0, sign * half / 2.0), (x1, sign * half / 2.0)), STEEL, pen=THIN)


def spread_out(wanted: Sequence[float], pitch: float) -> tuple[float, ...]:
    """Return places near the wanted ones (ascending), no two nearer to each other than ``pitch``.

    Crowded neighbours move apart evenly about their common middle.
    """
    groups: list[list[float]] = []
    for place in wanted:
        groups.append([place])
        while len(groups) > 1 and _first(groups[-1], pitch) < _last(groups[-2], pitch) + pitch:
            crowd = groups.pop()
            groups[-1] += crowd
    return tuple(
        _first(group, pitch) + index * pitch for group in groups for index in range(len(group))
    )


def _first(group: Sequence[float], pitch: float) -> float:
    return sum(group) / len(group) - (len(group) - 1) * pitch / 2.0


def _last(group: Sequence[float], pitch: float) -> float:
    return _first(group, pitch) + (len(group) - 1) * pitch


def _balloons(section: Section, scale: float) -> Iterator[Item]:
    """Yield the number of each slab in a circle above it, and what is inside and outside."""
    slabs = tuple(reversed(section.slabs))
    level = section.half_mm + 11.0 * scale
    places = spread_out([slab.middle_mm for slab in slabs], _PITCH_MM * scale)
    radius = _BALLOON_MM * scale
    for slab, x in zip(slabs, places, strict=True):
        tip = (slab.middle_mm, slab.half_mm - min(2.0 * scale, slab.half_mm / 4.0))
        knee = (slab.middle_mm, section.half_mm + 3.0 * scale)
        points = (tip, knee, (x, level - radius))
        yield Path(points, "MEASURES", pen=MEASURE, group="measures")
        yield Disc(tip, 0.4 * scale, "MEASURES", pen=None, fill=Ink.MUTED, group="measures")
        yield Disc((x, level), radius, "MEASURES", pen=THIN, fill=Ink.PAPER, group="measures")
        yield Text(
            (x, level), str(slab.number), NOTES, height_mm=2.5, across="centre", up="middle",
            bold=True, group="measures",
        )  # fmt: skip
    far = (min(section.nut_mm, places[0]), max(section.head_mm, places[-1]))
    for x, words, across in ((far[0], "INSIDE", "right"), (far[1], "OUTSIDE, AFT", "left")):
        away = -6.0 if across == "right" else 6.0
        yield Text(
            (x + away * scale, section.half_mm), words, NOTES, height_mm=2.5,
            across="right" if across == "right" else "left", ink=Ink.MUTED, bold=True,
        )  # fmt: skip


def _length_words(section: Section, style: Shown) -> str:
    """Return the bolt's length; an inch bolt is bought in inches whatever the job shows."""
    if section.bolt.is_metric or style.lengths == "in":
        return exact_words(section.length_mm, style)
    return f"{exact_words(section.length_mm, style)} ({inch_fraction(section.length_mm)} in)"


def _dimensions(section: Section, scale: float, style: Shown) -> Iterator[Item]:
    bolt, half = section.bolt, section.half_mm
    first, second = -half - 15.0 * scale, -half - 24.0 * scale
    back = section.nut_mm - bolt.lock_nut_mm
    low = -bolt.flats_mm * _CORNERS / 2.0
    end = (section.end_mm, -bolt.diameter_mm / 2.0 + bolt.thread_mm)
    nut, behind = (section.nut_mm, min(low, -section.slabs[-1].half_mm)), (back, low)
    head = (section.head_mm, min(low, -section.slabs[0].half_mm))

    def along(a: Point, b: Point, level: float, words: str, ref: str) -> tuple[Item, ...]:
        if abs(a[0] - b[0]) < 0.05:
            return ()
        off = (level - min(a[1], b[1])) / scale
        aside = "start" if ref == "protrusion" else "end"
        return linear(
            a, b, offset=off, words=words, scale=scale, ref=ref, direction=0.0,
            aside="start" if aside == "start" else "end",
        )  # fmt: skip

    grip = exact_words(section.head_mm - section.nut_mm, style)
    yield from along(nut, head, first, f"grip {grip}", "grip")
    if section.past_mm > 0.0:
        past = exact_words(section.past_mm, style)
        yield from along(end, behind, first, f"past nut {past}", "protrusion")
    length = _length_words(section, style)
    bought = ", to buy" if section.is_bought else ""
    yield from along(end, head, second, f"length {length}{bought}", "length")
    wall = next(slab for slab in section.slabs if slab.layer.name == "transom")
    hole = exact_words(section.hole_mm, style)
    tip = (wall.middle_mm, -section.hole_mm / 2.0)
    elbow = (section.head_mm + 5.0 * scale, -half - 6.5 * scale)
    yield from leader(tip, elbow, f"hole Ø {hole}", scale=scale, ref="hole")


# ------------------------------------------------------------------------------ the sheet


def bolt_section(
    report: EngineReport, style: Shown, words: SheetWords, paper_name: str = "A4"
) -> Scene:
    """Return the section on a landscape sheet, the list of the stack beside it.

    :param words: the status is the sentence of finding 701.
    :raises NotMeasuredError: when bolt, thicknesses or backing are not filled in.
    :raises OutputError: for an unknown paper, or a bolt too long for it.
    """
    section = section_of(report.case)
    sheet = paper(paper_name, landscape=True)
    block = _title_block(report, style, words)
    box = Box(*drawing_area(sheet, block)).inset(_GAP_MM)
    view = replace(box, right=box.right - _LIST_MM - _GAP_MM, top=box.top - _CAPTION_MM)
    scale, items, bounds = _fitted(section, style, view.width, view.height)
    corner = centred_corner(bounds, (view.left, view.bottom, view.right, view.top), scale)
    column = replace(box, left=box.right - _LIST_MM)
    return Scene(
        title=block.title,
        items=(
            *items,
            *_caption(box, corner, scale),
            *_list_items(report.case, section, column, corner, scale, style),
            *frame(sheet, scale, corner, block),
        ),
        scale=scale,
        placement=Placement(sheet, corner),
    )


def _title_block(report: EngineReport, style: Shown, words: SheetWords) -> TitleBlock:
    verdicts = [finding.verdict for finding in report.findings if finding.code == 701]
    verdict = verdicts[0] if verdicts else Verdict.UNKNOWN
    return title_block(report.case, style, words, "Section at a bolt", verdict)


def _fitted(
    section: Section, style: Shown, wide: float, high: float
) -> tuple[float, tuple[Item, ...], tuple[float, float, float, float]]:
    for scale in SCALES:
        items = section_items(section, scale, style)
        box = full_extents(items, scale)
        if box[2] - box[0] <= wide * scale and box[3] - box[1] <= high * scale:
            return scale, items, box
    raise OutputError(
        f"a bolt of {section.length_mm:.0f} mm does not go on this sheet even at 1:5",
        cure="choose a larger paper",
    )


def _caption(box: Box, corner: Point, scale: float) -> Iterator[Item]:
    at = (corner[0] + box.left * scale, corner[1] + (box.top - 3.5) * scale)
    words = f"Section at one bolt {scale_words(scale)}"
    yield Text(at, words, NOTES, height_mm=3.5, bold=True, group="sheet")


@dataclass(frozen=True, slots=True)
class _Column:
    """Writes rows of a list downwards; places in paper mm."""

    box: Box
    corner: Point
    scale: float

    def at(self, x: float, y: float) -> Point:
        return self.corner[0] + x * self.scale, self.corner[1] + y * self.scale

    def rule(self, y: float) -> Path:
        ends = (self.at(self.box.left, y), self.at(self.box.right, y))
        return Path(ends, "SHEET", pen=_RULE, group="sheet")

    def row(
        self, y: float, cells: Sequence[str], *, bold: bool = False, ink: Ink = Ink.LINE
    ) -> Iterator[Item]:
        """Yield a row of number, name and value, the value at the right edge."""
        number, name, value = cells
        places = ((self.box.left + 1.0, number), (self.box.left + 8.0, name))
        for x, words in places:
            if words:
                yield Text(
                    self.at(x, y), words, NOTES, height_mm=2.5, bold=bold, ink=ink, group="sheet"
                )
        yield Text(
            self.at(self.box.right - 1.0, y), value, NOTES, height_mm=2.5, across="right",
            bold=bold, ink=ink, group="sheet",
        )  # fmt: skip


def _list_items(
    case: Case, section: Section, box: Box, corner: Point, scale: float, style: Shown
) -> Iterator[Item]:
    column = _Column(box, corner, scale)
    y = box.top - 3.5
    at = column.at(box.left + 1.0, y)
    yield Text(at, "From the head in", NOTES, height_mm=3.5, bold=True, group="sheet")
    y -= 3.0
    yield column.rule(y)
    for slab in section.slabs:
        y -= 5.5
        thick = slab.layer.thickness
        said = reading_words(thick, style) if thick.tolerance else exact_words(thick.value, style)
        yield from column.row(y, (str(slab.number), slab.layer.name, said))
    y -= 2.5
    yield column.rule(y)
    for name, value, bold in _sums(case, section, style):
        y -= 5.5
        yield from column.row(y, ("", name, value), bold=bold)
    y -= 2.5
    yield column.rule(y)


def _sums(case: Case, section: Section, style: Shown) -> Iterator[tuple[str, str, bool]]:
    """Yield what the list ends with: name, value, whether it stands out."""
    bolt, bolting = section.bolt, case.job.bolting
    yield "grip", exact_words(section.head_mm - section.nut_mm, style), True
    yield "lock nut, by its standard", exact_words(bolt.lock_nut_mm, style), False
    turns = section.past_mm / bolt.thread_mm
    shows = f"{turns:.1f}" if turns > 0.0 else "none"
    yield "threads past the nut (1 1/2 to 3)", shows, False
    kind = "length to buy" if section.is_bought else "length in hand"
    yield kind, _length_words(section, style), True
    grade = case.catalogue.bolt_grade(bolting.grade).name if bolting.grade else "grade not known"
    yield f"{bolt.name}, {grade}", "", False
    if bolting.torque is not None:
        yield "torque by the engine's maker", show(bolting.torque.value, Kind.TORQUE, style), False
