"""What the pointer is on in the drawing, and what it does with a button held down. No Tk."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from rigfit.desk import pictures
from rigfit.desk.picture_parts import Picture
from rigfit.desk.pictures import Callout
from rigfit.desk.swing_pictures import Held, gap_lines, swing_axis
from rigfit.desk.swing_scrub import STEERED, SWINGS, lock_deg, tilt_range, within
from rigfit.desk.view import View
from rigfit.desk.workbench import Workbench
from rigfit.drawing.scene import Point
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.report import EngineReport

Kind = Literal["tilt", "steer", "dimension", "mass", "engine", "ground"]

CURSORS: dict[Kind, str] = {
    "tilt": "exchange",
    "steer": "exchange",
    "dimension": "hand2",
    "mass": "sb_h_double_arrow",
    "engine": "sb_v_double_arrow",
    "ground": "",
}


@dataclass(frozen=True, slots=True)
class Target:
    """What lies under the pointer; ``ref`` is that of what leads to a field."""

    kind: Kind
    ref: str = ""


@dataclass(slots=True)
class Drag:
    """A button held down.

    :param target: what was hit.
    :param start: pixel where it went down.
    :param view: as it was then.
    :param moved: False as long as it may still become a click.
    :param kind: what dragging moves: the engine, its tilt, its steering, a mass, or the whole
        drawing ("ground").
    :param option: height the engine has been dragged to.
    :param tilt_deg: tilt it has been dragged to; likewise ``steer_deg``.
    :param ahead_mm: where a mass has been dragged to, ahead of the transom.
    :param seen: pictures of the heights passed on the way.
    """

    target: Target
    start: Point
    view: View
    kind: Kind
    moved: bool = False
    option: HeightOption | None = None
    tilt_deg: float | None = None
    steer_deg: float | None = None
    ahead_mm: float | None = None
    seen: dict[HeightOption | None, Picture] = field(default_factory=dict)

    @property
    def has_moved(self) -> bool:
        """True once the engine or a mass is drawn elsewhere than the workbench has it."""
        moved = (self.option, self.tilt_deg, self.steer_deg, self.ahead_mm)
        return any(item is not None for item in moved)


@dataclass(slots=True)
class Pointer:
    """Where the pointer is; None while it is elsewhere."""

    at: Point | None = None
    target: Target = field(default_factory=lambda: Target("ground"))


def moves(target: Target, picture: Picture, tilt_deg: float) -> Kind:
    """Return what is moved by dragging a target: in a swing the engine turns and stays where it is.

    :param tilt_deg: of the drawn engine; tilted, its dimensions cannot be taken hold of.
    """
    kind = target.kind
    if kind == "dimension":
        # What moves with the engine can be taken hold of to move it.
        is_engine = any(item.ref == target.ref for item in picture.moving)
        is_level = tilt_deg == 0.0 or picture.kind in SWINGS
        kind = "engine" if is_engine and is_level else "ground"
    if kind == "engine":
        turned: dict[str, Kind] = {"swing": "tilt", STEERED: "steer"}
        return turned.get(picture.kind, kind)
    return kind


def dragged_deg(drag: Drag, bench: Workbench, report: EngineReport, pixel: Point) -> float:
    """Return the tilt or steering an engine has been dragged to, in whole degrees."""
    picture, look = bench.look.picture, bench.look
    axis = pictures.tilt_axis(report)
    if picture in SWINGS:
        axis = swing_axis(picture, report, look.tilt_deg)
    view = drag.view
    by = pictures.turned_deg(axis, view.to_model(drag.start), view.to_model(pixel))
    if drag.kind == "steer":
        start, ends = look.steer_deg, (-lock_deg(report), lock_deg(report))
    else:
        start, ends = look.tilt_deg, tilt_range(report, picture)
    whole = float(math.ceil(ends[0])), float(math.floor(ends[1]))
    return within(float(round(within(start, ends) + by)), whole) + 0.0


def turn_callout(bench: Workbench, report: EngineReport, held: Held) -> Callout:
    """Return what is said beside an engine that is being turned: the angle, and how near it is."""
    picture = bench.look.picture
    if picture in SWINGS:
        return Callout(gap_lines(picture, report, bench.style, held))
    return Callout((f"tilt {held[0]:.0f}°",))
