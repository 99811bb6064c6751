"""What the drawing shows of the workbench, and where: pictures in three layers. No Tk here.

A picture belongs to a view, because words and arrows keep their size on the screen: the closer the
view, the smaller they are in the model.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import get_args

from rigfit.desk.afloat_pictures import AFLOATS, afloat_items
from rigfit.desk.draft import FIELDS, LIST_FIELDS
from rigfit.desk.form_state import Address
from rigfit.desk.picture_parts import (
    LINE,
    MARGIN_PX,
    NOTE_MM,
    Kinds,
    Picture,
    note_items,
    note_lines,
    sentence_picture,
)
from rigfit.desk.plane_pictures import (
    PLANES,
    ROWS,
    SINGLE,
    TRIALS,
    place_words,
    plane_items,
    plane_note,
    ref_inside,
    row_address,
    row_ref,
    without_place,
)
from rigfit.desk.swing_pictures import swing_note, swing_picture, swing_place_words, swung
from rigfit.desk.swing_scrub import STEERED, SWINGS, tilt_range, within
from rigfit.desk.view import PIXELS_PER_PAPER_MM, Bounds, View, dragged_lift_mm, ref_at, snapped
from rigfit.desk.workbench import Workbench
from rigfit.drawing.scene import (
    HIDDEN,
    Item,
    Paper,
    Path,
    Placement,
    Point,
    Scene,
    Text,
)
from rigfit.drawing.side_view import (
    ghost_items,
    moving_items,
    outline_at,
    side_layers,
    sketch_of,
)
from rigfit.drawing.strokes import extents, full_extents
from rigfit.drawing.template_view import template_scene
from rigfit.errors import NotMeasuredError
from rigfit.rigging.findings import Verdict
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.report import EngineReport
from rigfit.rigging.template import drilling_template
from rigfit.units import Kind, Shown, show

_ROUNDS, _STABLE = 12, 0.004  # words grow against the drawing as it shrinks
_MOST_WORDS = 2.2  # how much smaller words may make a drawing
_ROOM_PX, _SMALLEST_WORDS = (660.0, 440.0), 0.8
_SOLID = ("HULL", "TRANSOM", "ENGINE", "BRACKET", "PLATE", "TRIM", "DRILL", "BOLT")

ROOMY, SNUG = 1.3, 1.03
"""How much larger a fitted drawing is when it is worth fitting: usually, and without a reason."""


# -- which field a dimension belongs to -----------------------------------------------------------

DIMENSIONS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        spec.dimension: (table, name)
        for table, fields in FIELDS.items()
        for name, spec in fields
        if spec.dimension
    }
)
"""Table and field of every dimension that shows one, by the ``ref`` of its items."""


def address_of(ref: str, engine_index: int) -> Address | None:
    """Return the field an item shows or belongs to, None for what leads to no field."""
    if ref not in DIMENSIONS:
        return row_address(ref)
    table, name = DIMENSIONS[ref]
    return Address(table, name, engine_index if table in LIST_FIELDS else -1)


def ref_of(address: Address | None, engine_index: int) -> str:
    """Return the ref of what shows a field, "" for nothing or for another engine's."""
    if address is None or (address.table == "engine" and address.index != engine_index):
        return ""
    if address.table in ROWS:
        return row_ref(address.table, address.index)
    is_field = address.table in SINGLE
    return f"{address.table}.{address.field}" if is_field else address.spec.dimension


def pointed_at(picture: Picture, point: Point, reach_mm: float, scale: float) -> str:
    """Return the ref of what leads to a field at a point of a picture, "" for nothing.

    :param reach_mm: how far the pointer may be off a line, model mm.
    :param scale: of the scene, which sizes its words.
    """
    shown = [item for item in picture.items if item.ref and address_of(item.ref, 0) is not None]
    if picture.kind == "trial":
        from rigfit.desk.trial_pictures import mark_at

        return mark_at(shown, point, reach_mm)
    found = ref_at(shown, point, reach_mm, scale)
    # A large hole is pointed at in its middle as well; a dimension of the profile is not.
    return found or (ref_inside(shown, point) if picture.kind in PLANES | SWINGS else "")


# -- pictures -------------------------------------------------------------------------------------


def picture_of(
    bench: Workbench,
    view: View,
    option: HeightOption | None = None,
    tilt_deg: float | None = None,
    steer_deg: float | None = None,
) -> Picture:
    """Return what the workbench wants shown; a sentence where there is nothing to draw.

    :param option: another height than the mounted one, while the engine is dragged.
    :param tilt_deg: another tilt than the workbench's, while the engine is tilted.
    :param steer_deg: another angle of steering than the workbench's, while it is turned.
    """
    report = bench.report
    if report is None:
        return sentence_picture(bench.trouble, view)
    if bench.look.picture == "template":
        return _template(report, bench.style, view)
    if bench.look.picture in PLANES:
        return _plane(bench, report, view)
    tilt = bench.look.tilt_deg if tilt_deg is None else tilt_deg
    if bench.look.picture in SWINGS:
        steer = bench.look.steer_deg if steer_deg is None else steer_deg
        return swing_picture(bench, view, (tilt, steer))
    scale, style = view.scene_scale, bench.style
    tilt = within(tilt, tilt_range(report, "profile"))
    layers = side_layers(report, scale, style, option, tilt)
    shown = [other for key in bench.look.ghosts if (other := bench.option_of(key)) is not None]
    ghosts = _ghosts(
        report,
        [item for item in shown if item != (option or report.mounted)],
        view.scene_scale,
        style,
    )
    notes = note_items(guessed_words(report), view)
    # A tilted engine sweeps over the words beside the target.
    target = [
        replace(item, backed=True)
        for item in layers.under
        if isinstance(item, Text) and item.ref == "target"
    ]
    over = (*ghosts, *target, *layers.over, *notes)
    boxes = [extents(item, scale) for item in layers.over if isinstance(item, Text)]
    under = tuple(
        piece
        for item in layers.under
        if not (isinstance(item, Text) and item.ref == "target")
        for piece in _broken(item, boxes, scale)
    )
    return Picture("profile", under, layers.moving, over)


def moved(
    picture: Picture,
    bench: Workbench,
    view: View,
    option: HeightOption | None,
    tilt_deg: float,
    steer_deg: float | None = None,
) -> Picture | None:
    """Return a picture with its engine elsewhere and all else as it was; None where more changes.

    :param picture: of this view, with no dimension lit.
    """
    report = bench.report
    if report is None:
        return None
    if picture.kind in SWINGS:
        steer = bench.look.steer_deg if steer_deg is None else steer_deg
        return swung(picture, bench, view, (tilt_deg, steer))
    if picture.kind in AFLOATS:  # of a mass only the handle moves
        return picture
    if picture.kind != "profile" or bench.look.ghosts:
        return None
    tilt = within(tilt_deg, tilt_range(report, "profile"))
    items = moving_items(report, view.scene_scale, bench.style, option, tilt)
    return Picture("profile", picture.under, items, picture.over)


def _broken(item: Item, boxes: list[Bounds], scale: float) -> tuple[Item, ...]:
    """Return a level dashed line in pieces that leave words on it free; other items as they are."""
    if not (isinstance(item, Path) and item.pen == HIDDEN and len(item.points) == 2):
        return (item,)
    (x0, y), (x1, end_y) = sorted(item.points)
    if y != end_y:
        return (item,)
    gap = 0.8 * scale
    ends = [x0]
    for left, bottom, right, top in sorted(boxes):
        if bottom - gap < y < top + gap and x0 < left - gap and right + gap < x1:
            ends += [left - gap, right + gap]
    ends.append(x1)
    if len(ends) == 2:
        return (item,)
    return tuple(
        replace(item, points=((start, y), (stop, y)))
        for start, stop in zip(ends[::2], ends[1::2], strict=True)
        if stop > start
    )


def _ghosts(
    report: EngineReport, options: list[HeightOption], scale: float, style: Shown
) -> tuple[Item, ...]:
    """Return the engine at other heights, their labels moved apart so that each can be read."""
    items = [item for option in options for item in ghost_items(report, option, scale, style)]
    labels = sorted((item for item in items if isinstance(item, Text)), key=lambda item: item.at[1])
    levels = spread([item.at[1] for item in labels], NOTE_MM * LINE * scale)
    # They can come to lie on the transom.
    moved = [
        replace(item, at=(item.at[0], level), backed=True)
        for item, level in zip(labels, levels, strict=True)
    ]
    return (*(item for item in items if not isinstance(item, Text)), *moved)


def spread(levels: Sequence[float], pitch: float) -> list[float]:
    """Return rising levels at least a pitch apart, as near to the given ones as that allows.

    :param levels: in rising order.
    """
    runs: list[tuple[float, int]] = []  # middle and number of those that stand together
    for level in levels:
        middle, count = level, 1
        while runs and middle - runs[-1][0] < (count + runs[-1][1]) / 2.0 * pitch:
            before, number = runs.pop()
            middle = (middle * count + before * number) / (count + number)
            count += number
        runs.append((middle, count))
    return [
        middle + (index - (count - 1) / 2.0) * pitch
        for middle, count in runs
        for index in range(count)
    ]


def _template(report: EngineReport, style: Shown, view: View) -> Picture:
    try:
        template = drilling_template(report.case)
    except NotMeasuredError as error:
        return sentence_picture(without_place(error), view)
    scale = view.scene_scale
    has_upper = any(feature.name.startswith("upper") for feature in template.features)
    items = []
    for item in template_scene(template, style).items:
        if has_upper and item.ref.startswith("below-0-"):
            item = replace(item, ref="upper-holes")
        # Its letters are as large as on the board, so they grow with it.
        items.append(
            replace(item, height_mm=item.height_mm / scale) if isinstance(item, Text) else item
        )
    return Picture("template", under=tuple(items))


def _plane(bench: Workbench, report: EngineReport, view: View) -> Picture:
    name = bench.look.picture
    kind: Kinds = next(word for word in get_args(Kinds) if word == name)
    handles: tuple[Item, ...] = ()
    try:
        if name in AFLOATS:
            items, handles = afloat_items(name, bench.derived, report, view, bench.style)
        elif name in TRIALS:
            from rigfit.desk.trial_pictures import trial_items

            items = trial_items(name, bench.derived, report, view, bench.style)
        else:
            items = plane_items(name, bench.derived, report, view.scene_scale, bench.style)
    except NotMeasuredError as error:
        return sentence_picture(without_place(error), view)
    return Picture(kind, items, handles, note_items(note_of(bench), view))


def guessed_words(report: EngineReport) -> str:
    """Return what is drawn at a usual size because nobody measured it, "" for nothing."""
    guessed = sketch_of(report).guessed
    return f"Not measured, drawn at a usual size: {', '.join(guessed)}" if guessed else ""


def note_of(bench: Workbench) -> str:
    """Return the note in the corner of the picture the workbench wants, "" for none."""
    report, name = bench.report, bench.look.picture
    if report is None or name == "template":
        return ""
    if name in SWINGS:
        return swing_note(name, report, bench.style, (bench.look.tilt_deg, bench.look.steer_deg))
    if name == "underway":
        from rigfit.desk.trial_pictures import underway_note

        return underway_note(report)
    return plane_note(name, report) if name in PLANES else guessed_words(report)


# -- fitting --------------------------------------------------------------------------------------


def fitted(bench: Workbench, width: int, height: int, ui_scale: float) -> View:
    """Return the view that shows the whole picture, words and all, clear of the note below it.

    In a small pane words are smaller; where they would still leave the boat no room, some run out
    of the pane.

    :param ui_scale: of the interface; the view's own is less in a small pane.
    """
    ui_scale *= _words_scale(width / ui_scale, height / ui_scale)
    foot = 0.0
    words = note_of(bench)
    if words:
        lines = len(note_lines(words, width, ui_scale))
        foot = lines * NOTE_MM * LINE * PIXELS_PER_PAPER_MM * ui_scale
    view = View(width, height, (0.0, 0.0), 1.0 / (PIXELS_PER_PAPER_MM * ui_scale), ui_scale)
    if picture_of(bench, view).kind == "words":
        return view
    view, whole = replace(view, mm_per_px=2.4 / ui_scale), None
    for at in range(_ROUNDS):
        items = _content(bench, view)
        # Words that jump from place to place may never let it come to rest.
        is_larger = whole is None or view.mm_per_px < whole.mm_per_px
        if at and is_larger and not _spills(items, view, foot):
            whole = view
        seen = _around(bench, view, max(round(height - foot), 1), items)
        x, y = seen.centre
        before = view.mm_per_px
        view = replace(seen, height=height, centre=(x, y - foot / 2.0 * seen.mm_per_px))
        if abs(view.mm_per_px - before) <= _STABLE * before:
            return view
    return whole or view


def _spills(items: Sequence[Item], view: View, foot: float = 0.0) -> bool:
    """Tell whether some of a picture lies outside the pane, or in its lowest ``foot`` pixels."""
    left, bottom, right, top = full_extents(items, view.scene_scale)
    (low_x, low_y), (high_x, high_y) = view.to_screen((left, bottom)), view.to_screen((right, top))
    return min(low_x, high_y) < 0.0 or high_x > view.width or low_y > view.height - foot


def _words_scale(width: float, height: float) -> float:
    """Return how much smaller words are in a pane, by its size in logical px."""
    return min(max(min(width / _ROOM_PX[0], height / _ROOM_PX[1]), _SMALLEST_WORDS), 1.0)


def _around(bench: Workbench, view: View, height: int, items: Sequence[Item]) -> View:
    """Return the view, so many pixels high, that shows all of the picture built for another."""
    margin = MARGIN_PX * view.ui_scale

    def fit(some: Sequence[Item]) -> View:
        bounds = full_extents(some, view.scene_scale)
        return View.fitted(bounds, view.width, height, margin=margin, ui_scale=view.ui_scale)

    whole = fit(items)
    # Words that grow with a drawing belong to it; there is nothing to be had without them.
    has_own = bench.look.picture in {"dash", *AFLOATS, *TRIALS}
    parts = [item for item in items if item.layer in _SOLID and not has_own]
    if bench.look.picture in SWINGS:  # what is round the engine counts as much
        parts = [item for item in items if not isinstance(item, Text)]
    if not parts:
        return whole
    bare = fit(parts)
    most = _MOST_WORDS * bare.mm_per_px
    return whole if whole.mm_per_px <= most else replace(bare, mm_per_px=most)


def _content(bench: Workbench, view: View) -> list[Item]:
    """Return what a view is to show, level and tilted, without notes in the corner."""
    # The hood seen from above is another one at every tilt; what it sweeps from the side is not.
    tilts = {"profile": {0.0, bench.look.tilt_deg}, STEERED: {bench.look.tilt_deg}}.get(
        bench.look.picture, {0.0}
    )
    items = (item for tilt in tilts for item in picture_of(bench, view, tilt_deg=tilt).items)
    return [item for item in items if item.group != "sheet"]


def content_bounds(bench: Workbench, view: View) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of all that is drawn, level and tilted, model mm.

    Notes in the corner and sentences do not count; nothing at all is a point.
    """
    items = _content(bench, view)
    return full_extents(items, view.scene_scale) if items else (0.0, 0.0, 0.0, 0.0)


def wants_fit(bench: Workbench, view: View, ui_scale: float, roomy: float = ROOMY) -> View | None:
    """Return a better view where the picture spills out of this one or looks lost in it.

    :param roomy: how much larger the better one must show it, when nothing spills.
    """
    better = fitted(bench, view.width, view.height, ui_scale)
    if better == view:
        return None
    items = _content(bench, view)
    spills = bool(items) and _spills(items, view)
    return better if spills or view.mm_per_px > roomy * better.mm_per_px else None


# -- pointing -------------------------------------------------------------------------------------


def is_inside(items: Iterable[Item], point: Point) -> bool:
    """True where a point lies on something filled."""
    return any(
        _holds(item.points, point)
        for item in items
        if isinstance(item, Path) and item.closed and item.fill is not None
    )


def _holds(points: tuple[Point, ...], point: Point) -> bool:
    """Return whether a polygon holds a point, by the crossings of a ray to the right."""
    x, y = point
    inside = False
    x0, y0 = points[-1]
    for x1, y1 in points:
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
        x0, y0 = x1, y1
    return inside


def dragged_option(report: EngineReport, up_mm: float) -> HeightOption | None:
    """Return the possible height the mounted engine snaps to when dragged up in the drawing."""
    if report.mounted is None:
        return None
    rake = sketch_of(report).rig.rake_deg
    return snapped(report.options, dragged_lift_mm(report.mounted.lift.value, up_mm, rake))


def tilt_axis(report: EngineReport) -> Point:
    """Return the point the mounted engine tilts about, model mm."""
    return sketch_of(report).rig.axis()


def tilt_handle(report: EngineReport, tilt_deg: float) -> Point:
    """Return where the hood of the mounted engine is taken hold of: aft and on top, model mm."""
    sketch = sketch_of(report)
    level = outline_at(report.case, sketch).parts["cowl"]
    at = max(range(len(level)), key=lambda index: sum(level[index]))
    return outline_at(report.case, sketch, tilt_deg).parts["cowl"][at]


def turned_deg(axis: Point, start: Point, end: Point) -> float:
    """Return by how much a point went round an axis, degrees in (-180, 180], + as tilting up."""
    first = math.atan2(start[1] - axis[1], start[0] - axis[0])
    last = math.atan2(end[1] - axis[1], end[0] - axis[0])
    return math.degrees(math.remainder(last - first, math.tau))


def hover_words(kind: Kinds, point: Point, style: Shown) -> str:
    """Return where a point of the picture is, in words; "" where that means nothing."""
    x, y = point
    across, up = (show(abs(part), Kind.LENGTH, style) for part in _whole(x, y))
    if kind == "profile":
        return (
            f"{across} {'aft' if x >= 0.0 else 'forward'} of the heel, "
            f"{up} {'above' if y >= 0.0 else 'below'} the keel line"
        )
    if kind == "template":
        return (
            f"{across} to {'starboard' if x >= 0.0 else 'port'}, "
            f"{up} {'above' if y > 0.0 else 'below'} the transom top"
        )
    if kind in SWINGS:
        return swing_place_words(kind, point, (across, up))
    return place_words(kind, point, (across, up)) if kind in PLANES else ""


def _whole(*parts: float) -> tuple[float, ...]:
    # A pixel is no tenth of a millimetre.
    return tuple(float(round(part)) for part in parts)


@dataclass(frozen=True, slots=True)
class Callout:
    """What is said beside a part while it is dragged.

    :param lines: what to read.
    :param verdict: of the height, its word is in the last line; None for none.
    """

    lines: tuple[str, ...]
    verdict: Verdict | None = None


def height_callout(option: HeightOption, style: Shown) -> Callout:
    """Return row, lift, plate height and verdict of a height."""
    first = f"row {option.row}" if option.row else "clamped on"
    if option.setting_mm:
        first += f", setting {show(option.setting_mm, Kind.LENGTH, style)}"
    lift = f"lift {show(option.lift.value, Kind.LENGTH, style, signed=True)}"
    plate = "plate unknown"
    if option.plate is not None:
        plate = f"plate {show(option.plate.value, Kind.LENGTH, style, signed=True)}"
    return Callout((first, lift, plate, option.verdict.value), option.verdict)


# -- as a scene -----------------------------------------------------------------------------------


def scene_on_screen(title: str, picture: Picture, view: View) -> Scene:
    """Return a picture as a scene on a sheet as large as the pane, at 100 % of its paper mm."""
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    paper = Paper("", view.width / pixel, view.height / pixel)
    placement = Placement(paper, view.to_model((0.0, float(view.height))))
    return Scene(title, picture.items, view.scene_scale, placement)
