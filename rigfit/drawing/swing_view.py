"""The swing of the engine drawn: from the side, from above, and at the worst place.

All is in the top frame: origin at the transom's upper outer edge, x aft, y to starboard from the
centreline, z up, mm. Angles are plate angles, propeller up is +; steering is + with the propeller
to starboard.
"""

from __future__ import annotations

from rigfit.drawing.scene import Item
from rigfit.drawing.swing_parts import stage_of
from rigfit.drawing.swing_plan import plan_parts
from rigfit.drawing.swing_side import side_parts
from rigfit.drawing.swing_worst import worst_parts
from rigfit.rigging.case import Case
from rigfit.rigging.mounting_options import HeightOption
from rigfit.units import Shown


def swing_side_items(
    case: Case, option: HeightOption, scale: float, style: Shown, tilt_deg: float | None = None
) -> tuple[Item, ...]:
    """Return the swing from the side: obstacles, the way of the engine, nearest places in words.

    :param option: the height the engine hangs at.
    :param scale: model mm per paper mm.
    :param tilt_deg: also draw the engine in full at this plate angle; None for outlines alone.
    :raises NotMeasuredError: with nothing round the engine, or without the rake.
    """
    return side_parts(stage_of(case, option), scale, style, tilt_deg)


def swing_plan_items(
    case: Case,
    option: HeightOption,
    scale: float,
    style: Shown,
    tilt_deg: float = 0.0,
    steer_deg: float | None = None,
) -> tuple[Item, ...]:
    """Return the swing from above: well, obstacles, hood at both locks, sector, nearest places.

    :param tilt_deg: plate angle at which the engine is held.
    :param steer_deg: also draw the engine in full, turned so far; None for outlines alone.
    :raises NotMeasuredError: as ``swing_side_items``.
    """
    return plan_parts(stage_of(case, option), scale, style, tilt_deg, steer_deg)


def swing_worst_items(
    case: Case, option: HeightOption, scale: float, style: Shown
) -> tuple[Item, ...]:  # fmt: skip
    """Return the worst place of tilt and steering together, from the side and from above.

    :raises NotMeasuredError: as ``swing_side_items``, or when no part can meet anything.
    """
    return worst_parts(stage_of(case, option), scale, style)
