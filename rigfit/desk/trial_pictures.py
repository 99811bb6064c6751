"""Pictures of the boat at speed: the curves of her sea trials, plate and water. No Tk.

Both are laid out for the pane they are shown in, so that their words are as large as all others,
and grow with the drawing when it is looked at more closely. A mark in the curves leads to its run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from rigfit.desk.plane_pictures import TRIALS, box_of, places_of, row_ref
from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.drawing.scene import Item, Point, Scene, Text
from rigfit.errors import NotMeasuredError
from rigfit.records.plain_words import listed
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown

if TYPE_CHECKING:
    from rigfit.desk.form_state import Derived
    from rigfit.rigging.underway import UnderwayResult

__all__ = ["TRIALS", "mark_at", "size_for", "trial_items", "underway_note"]

LEAST_MM: dict[str, tuple[float, float]] = {"trial": (110.0, 130.0), "underway": (150.0, 150.0)}
"""Width and height each picture needs to be clear, paper mm; a smaller pane shows it smaller."""

_GROWTHS, _GROWTH = 16, 1.08  # how often more room is tried, and by how much
_NEARLY_SQUARE = 1.4
_SMALLEST = 12.5  # of a smaller section the names of its lines reach into the heading
_ROOM_PX = 44.0  # what is left free around the drawing, together
_FOOT_PX = 30.0


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a drawing was made for."""

    name: str
    report: EngineReport
    style: Shown
    size: tuple[float, float]

    def is_same(self, other: _Asked) -> bool:
        return self.report.case is other.report.case and (self.name, self.style, self.size) == (
            other.name, other.style, other.size,
        )  # fmt: skip


_last: dict[str, tuple[_Asked, Scene]] = {}
"""The last drawing made of each name: it costs more than a frame and is asked for often."""


def size_for(name: str, view: View) -> tuple[float, float]:
    """Return width and height of a picture for a pane, paper mm; the same however near the view."""
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    width = view.width / pixel - _ROOM_PX / PIXELS_PER_PAPER_MM
    height = view.height / pixel - (_ROOM_PX + _FOOT_PX) / PIXELS_PER_PAPER_MM
    least_width, least_height = LEAST_MM[name]
    # As high and wide as the pane asks for, but never flatter or slimmer than is clear.
    return round(max(width, least_width)), round(max(height, least_height))


def trial_items(
    name: str, derived: Derived, report: EngineReport, view: View, style: Shown
) -> tuple[Item, ...]:
    """Return what one of ``TRIALS`` shows, back to front.

    :raises NotMeasuredError: when what it shows is not measured or logged.
    """
    scene = _scene(_Asked(name, report, style, size_for(name, view)))
    refs: Mapping[str, str] = _run_refs(derived) if name == "trial" else UNDERWAY_REFS
    times = scene.scale / view.scene_scale
    return tuple(_sized((replace(item, ref=refs.get(item.ref, "")) for item in scene.items), times))


UNDERWAY_REFS: Mapping[str, str] = MappingProxyType(
    {
        "wake": "underway.speed",
        "plate-water": "underway.speed",
        "looked-at": "underway.speed",
        "top": "underway.efficiency",
        "engine-propeller": "propeller.pitch",
        "engine-plate": "underway.plate_angle",
    }
)
"""Which field the parts of the picture under way belong to."""


def _scene(asked: _Asked) -> Scene:
    known = _last.get(asked.name)
    if known is not None and known[0].is_same(asked):
        return known[1]
    scene = _MAKERS[asked.name](asked)
    _last[asked.name] = asked, scene
    return scene


def _trial(asked: _Asked) -> Scene:
    from rigfit.drawing.trial_view import trial_scene
    from rigfit.rigging.sea_trial import trial_log

    case = asked.report.case
    log = trial_log(case.job, case.catalogue)
    if not any(trial.runs for trial in log.trials):
        raise NotMeasuredError(
            "no run of a sea trial is logged",
            cure="fill in a trial and its runs, or paste or import them under the runs (F7)",
        )
    return trial_scene(log, asked.style, case.job.boat.name, asked.size)


def _underway(asked: _Asked) -> Scene:
    from rigfit.drawing.underway_view import Room, underway_scene

    found = _running(asked.report)
    width, height = asked.size
    for _ in range(_GROWTHS):
        # In a room that lies only a little the charts below leave less of it empty.
        rooms = [(width, height)]
        if height < width < _NEARLY_SQUARE * height:
            rooms.insert(0, (height, height))
        made = (underway_scene(asked.report, found, asked.style, Room(*room)) for room in rooms)
        scenes = [scene for scene in made if scene is not None and scene.scale <= _SMALLEST]
        if scenes:
            return min(scenes, key=lambda scene: scene.scale)
        width, height = _GROWTH * width, _GROWTH * height
    raise NotMeasuredError(
        "how she runs does not fit into this room", cure="make the window larger"
    )


def _running(report: EngineReport) -> UnderwayResult:
    """Return how she runs; raises ``NotMeasuredError`` naming what stands in the way."""
    from rigfit.rigging.underway import Lacking, UnderwayResult, underway_of

    found = underway_of(report.case)
    if isinstance(found, UnderwayResult):
        return found
    if isinstance(found, Lacking):
        raise NotMeasuredError(
            f"how she planes cannot be drawn without {listed(found.words)}",
            cure="measure or enter it",
        )
    raise NotMeasuredError(
        "nothing is filled in about the boat under way",
        cure="fill in mass and centre of gravity of the boat under way, or her type of hull",
    )


def underway_note(report: EngineReport) -> str:
    """Return the note below the picture under way, "" where there is none."""
    from rigfit.rigging.underway import UnderwayResult, underway_of

    found = underway_of(report.case)
    if not isinstance(found, UnderwayResult):
        return ""
    return "An estimate from published formulas for calm water; the sea trial decides."


def _run_refs(derived: Derived) -> dict[str, str]:
    """Return the ref of the row in the form for the name of each run in the drawing."""
    places = places_of(derived, "run")
    return {f"run-{row}": row_ref("run", place) for row, place in enumerate(places, start=1)}


def mark_at(items: Iterable[Item], point: Point, reach_mm: float) -> str:
    """Return the ref of the mark whose middle is nearest to a point, "" for none in reach.

    Marks of two trials lie over each other; the nearest one is meant.

    :param items: those with a ref.
    :param reach_mm: how far the pointer may be off the edge of a mark, model mm.
    """
    found: list[tuple[float, str]] = []
    for item in reversed(tuple(items)):  # of two at one place the upper one
        if isinstance(item, Text):
            continue
        left, bottom, right, top = box_of(item)
        off = math.dist(point, ((left + right) / 2.0, (bottom + top) / 2.0))
        if off <= reach_mm + max(right - left, top - bottom) / 2.0:
            found.append((off, item.ref))
    return min(found, key=lambda pair: pair[0], default=(0.0, ""))[1]


def _sized(items: Iterable[Item], times: float) -> Iterator[Item]:
    for item in items:
        yield replace(item, height_mm=item.height_mm * times) if isinstance(item, Text) else item


_MAKERS: dict[str, Callable[[_Asked], Scene]] = {"trial": _trial, "underway": _underway}
