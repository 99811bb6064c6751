"""Pictures of the swing: from the side, from above, and at the worst place. No Tk.

Their items come from the drawings that are exported. What stays when the engine is tilted or
steered lies under, the engine itself moves, so that a scrub paints little.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, get_args

from rigfit.desk.form_state import Derived
from rigfit.desk.picture_parts import (
    Kinds,
    Picture,
    note_items,
    sentence_picture,
    sized,
    smaller_by,
)
from rigfit.desk.plane_pictures import places_of, row_ref, without_place
from rigfit.desk.swing_scrub import (
    STEERED,
    gap_at,
    gap_words,
    lock_deg,
    option_of,
    place_words,
    size_words,
    tilt_range,
    within,
)
from rigfit.desk.view import View
from rigfit.drawing.scene import Item, Point
from rigfit.errors import EntryError, NotMeasuredError
from rigfit.rigging.case import Case
from rigfit.rigging.envelope import engine_envelope, off_centre_mm, rig_of, tilt_turn
from rigfit.rigging.report import EngineReport
from rigfit.rigging.surroundings import obstacle_solid, surroundings
from rigfit.units import Shown

if TYPE_CHECKING:
    from rigfit.desk.workbench import Workbench

Held = tuple[float, float]
"""Tilt and steering of the drawn engine, degrees."""

_ROOMY_MM = 180.0  # height of a pane with room for both views of the worst place, paper mm
_OF_THE_PANE = "sheet"  # group of the notes in its corner
_WALLS: Mapping[str, str] = MappingProxyType(
    {
        "front wall of the well": "well.length",
        "floor of the well": "well.floor_below_top",
        "port side of the well": "well.width",
        "starboard side of the well": "well.width",
        "port front corner of the well": "well.corner_radius",
        "starboard front corner of the well": "well.corner_radius",
    }
)


# -- pictures --------------------------------------------------------------------------------------


def swing_picture(bench: Workbench, view: View, held: Held) -> Picture:
    """Return one of the swing's pictures; a sentence where nothing round the engine is entered."""
    report = bench.report
    if report is None:
        return sentence_picture(bench.trouble, view)
    name, style = bench.look.picture, bench.style
    smaller = smaller_by(view, _ROOMY_MM) if name == "swing-worst" else 1.0
    scale = smaller * view.scene_scale
    held = possible(report, held)
    try:
        still = _items(name, bench.derived, report, scale, style, (held[0], None))
        items = still
        if name != "swing-worst":
            items = _items(name, bench.derived, report, scale, style, held)
    except NotMeasuredError as error:
        return sentence_picture(without_place(error), view)
    if smaller < 1.0:
        items = still = tuple(sized(items, smaller))
    fixed = set(items).intersection(still)
    first = next((at for at, item in enumerate(items) if item not in fixed), len(items))
    under, moving, over = items[:first], _besides(fixed, items), items[first:]
    over = (*(item for item in over if item in fixed), *_note(bench, report, view, held))
    return Picture(_kind(name), under, moving, over)


def swung(picture: Picture, bench: Workbench, view: View, held: Held) -> Picture | None:
    """Return a swing with its engine held otherwise; None where what lies round it changes too.

    :param picture: of this view and boat.
    """
    report = bench.report
    if report is None or picture.kind == "swing-worst":
        return None
    held = possible(report, held)
    items = _items(picture.kind, bench.derived, report, view.scene_scale, bench.style, held)
    over = tuple(item for item in picture.over if item.group != _OF_THE_PANE)
    moving = _besides({*picture.under, *over}, items)
    if len(items) - len(moving) != len(picture.under) + len(over):
        return None
    over = (*over, *_note(bench, report, view, held))
    return Picture(picture.kind, picture.under, moving, over)


def swing_note(name: str, report: EngineReport, style: Shown, held: Held) -> str:
    """Return the note below a swing: how near the engine is as it is held, and on what it rests."""
    words = [] if name == "swing-worst" else [f"{held_words(name, report, style, held)}."]
    found = surroundings(report.case)
    left = [f"Not drawn: {problem}" for problem in found.problems if found.solids]
    return " ".join(filter(None, (*words, size_words(report.case), *left)))


def held_words(name: str, report: EngineReport, style: Shown, held: Held) -> str:
    """Return how the engine is held and what it is nearest to, as a sentence without its stop."""
    words = ": ".join(gap_lines(name, report, style, held))
    return f"{words[:1].upper()}{words[1:]}"


def gap_lines(name: str, report: EngineReport, style: Shown, held: Held) -> tuple[str, ...]:
    """Return how the engine is held, and what it is nearest to, each in words.

    From the side it is seen straight ahead.
    """
    tilt, steer = possible(report, held)
    steer = steer if name == STEERED else 0.0
    gap = gap_words(gap_at(report, tilt, steer), style)
    return tuple(filter(None, (place_words(tilt, steer), gap)))


def possible(report: EngineReport, held: Held) -> Held:
    """Return tilt and steering brought within what the engine can do."""
    lock = lock_deg(report)
    return within(held[0], tilt_range(report, "swing")), within(held[1], (-lock, lock))


def _kind(name: str) -> Kinds:
    return next(word for word in get_args(Kinds) if word == name)


def _note(
    bench: Workbench, report: EngineReport, view: View, held: Held
) -> tuple[Item, ...]:  # fmt: skip
    return note_items(swing_note(bench.look.picture, report, bench.style, held), view)


def _besides(fixed: set[Item], items: tuple[Item, ...]) -> tuple[Item, ...]:
    return tuple(item for item in items if item not in fixed)


def _items(
    name: str, derived: Derived, report: EngineReport, scale: float, style: Shown,
    held: tuple[float, float | None],
) -> tuple[Item, ...]:  # fmt: skip
    """Return the items of a swing, without the engine where there is no steering.

    :raises NotMeasuredError: when neither well nor obstacles are entered.
    """
    from rigfit.drawing import swing_view

    case, option, (tilt, steer) = drawable(report.case), option_of(report), held
    if name == "swing":
        seen = None if steer is None else tilt
        items = swing_view.swing_side_items(case, option, scale, style, seen)
    elif name == STEERED:
        items = swing_view.swing_plan_items(case, option, scale, style, tilt, steer)
    else:
        items = swing_view.swing_worst_items(case, option, scale, style)
    refs = _refs(derived)
    return tuple(replace(item, ref=refs.get(item.ref, "")) if item.ref else item for item in items)


def drawable(case: Case) -> Case:
    """Return a case without the obstacles nothing can be made of; the same where all can be used.

    While one is being typed, the others are still to be seen.
    """
    found = surroundings(case)
    if not found.problems or not found.solids:
        return case
    kept = []
    for number, obstacle in enumerate(case.job.obstacles, start=1):
        with suppress(EntryError):
            obstacle_solid(obstacle, number)
            kept.append(replace(obstacle, name=obstacle.name or f"{obstacle.kind} {number}"))
    return replace(case, job=replace(case.job, obstacles=tuple(kept)))


def _refs(derived: Derived) -> Mapping[str, str]:
    """Return the new name of every ref that leads to a field: a wall's, an obstacle's."""
    refs = dict(_WALLS)
    rows = places_of(derived, "obstacle")
    for number, (obstacle, place) in enumerate(
        zip(derived.job.obstacles, rows, strict=False), start=1
    ):
        refs[obstacle.name or f"{obstacle.kind} {number}"] = row_ref("obstacle", place)
    return refs


# -- taking hold of the engine ---------------------------------------------------------------------


def swing_axis(name: str, report: EngineReport, tilt_deg: float) -> Point:
    """Return the point of a picture about which the engine is turned by hand."""
    case, option = report.case, option_of(report)
    x, z = rig_of(case, option).axis()
    if name != STEERED:
        return x, z
    aft = engine_envelope(case).steering_aft_mm * math.cos(math.radians(tilt_deg))
    return x + aft, off_centre_mm(case)


def swing_handle(report: EngineReport, tilt_deg: float) -> Point:
    """Return where the hood is taken hold of to tilt it: aft and on top."""
    turn = tilt_turn(report.case, option_of(report))
    x, z = max(engine_envelope(report.case).part("cowl").ring, key=sum)
    return turn.point((x + turn.pivot[0], z + turn.pivot[1]), tilt_deg)


def swing_place_words(name: str, point: Point, lengths: tuple[str, str]) -> str:
    """Return where a point of a swing is, in words; "" for the worst place, seen askew.

    :param lengths: how far it is along and up or across, in words without a sign.
    """
    (x, y), (along, other) = point, lengths
    if name == "swing-worst":
        return ""
    place = f"{along} {'aft' if x >= 0.0 else 'ahead'} of the transom"
    if name == STEERED:
        return f"{place}, {other} to {'starboard' if y >= 0.0 else 'port'}"
    return f"{place}, {other} {'above' if y >= 0.0 else 'below'} its top"
