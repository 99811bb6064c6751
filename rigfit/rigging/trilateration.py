"""Where a hole is, from tapes to fixed points: two circles, or least squares with three and more.

Across is from the centreline, + to starboard, below is down from the transom top, along the face.
Two tapes meet at two places, one each side of the line between the points; which one is told.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from rigfit.errors import EntryError
from rigfit.rigging.findings import Phrase, mm, phrase
from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import Estimate, estimate, expanded
from rigfit.rigging.transom_map import TransomFace

WARN_MM = 10.0
"""A position less certain than this is no place for a drill."""

_STEPS = 60
_CLOSE_MM = 1e-9


class Side(Enum):
    """On which side of the line between the fixed points the hole lies."""

    BELOW = "below"
    ABOVE = "above"
    PORT = "port"
    STARBOARD = "starboard"


@dataclass(frozen=True, slots=True)
class FixedPoint:
    """A point that a tape is held to.

    :param name: how it is called in print.
    :param across: from the centreline, + to starboard.
    :param below: below the transom top.
    """

    name: str
    across: Reading
    below: Reading


@dataclass(frozen=True, slots=True)
class Tape:
    """A distance read from a fixed point to the middle of a hole."""

    point: FixedPoint
    distance: Reading


@dataclass(frozen=True, slots=True)
class Position:
    """Where the hole is.

    :param across: from the centreline, with its expanded tolerance.
    :param below: below the transom top, likewise.
    :param residual_mm: root mean square by which the tapes miss one another; 0 with two that meet.
    :param warnings: sentences on tapes that disagree or cross too flat.
    """

    across: Estimate
    below: Estimate
    residual_mm: float
    warnings: tuple[Phrase, ...] = ()


def fixed_points(face: TransomFace) -> tuple[FixedPoint, ...]:
    """Return the job's fixed points that are filled in, the first one first."""
    both = (
        ("first fixed point", face.point_a_across, face.point_a_below),
        ("second fixed point", face.point_b_across, face.point_b_below),
    )
    return tuple(
        FixedPoint(name, across, below)
        for name, across, below in both
        if across is not None and below is not None
    )


def locate(tapes: Sequence[Tape], side: Side = Side.BELOW) -> Position:
    """Return where two or more tapes meet, with the tolerance of tapes and points in it.

    :param side: where the hole lies, seen from the line between the first two points.
    :raises EntryError: fewer than two tapes, points that are one and the same, tapes that do not
        meet by more than their tolerance, a distance of zero or less, a side that tells nothing.
    """
    _check(tapes)
    values = {name: item.value for name, item in _readings(tapes).items()}
    start = _two_circles(values, side)
    residual = 0.0
    if len(tapes) > 2:
        start = _least_squares(values, len(tapes), start)
    misses = _misses(values, len(tapes), start)
    residual = math.sqrt(math.fsum(miss * miss for miss in misses) / len(misses))
    readings = _readings(tapes)

    def place(item: int) -> Estimate:
        return estimate(lambda found: _solve(found, len(tapes), start, side)[item], readings)

    across, below = place(0), place(1)
    exact_pair = len(tapes) == 2
    return Position(
        across,
        below,
        0.0 if exact_pair and residual < _CLOSE_MM else residual,
        tuple(_warnings(tapes, across, below, misses)),
    )


def _readings(tapes: Sequence[Tape]) -> dict[str, Reading]:
    found = {}
    for number, tape in enumerate(tapes):
        found[f"across {number}"] = tape.point.across
        found[f"below {number}"] = tape.point.below
        found[f"tape {number}"] = tape.distance
    return found


def _check(tapes: Sequence[Tape]) -> None:
    if len(tapes) < 2:
        raise EntryError(
            "one tape alone gives no position" if tapes else "no tape was read",
            allowed="tapes to two fixed points, or more",
            cure="measure to a second point",
        )
    for tape in tapes:
        if not tape.distance.value > 0.0 or not math.isfinite(tape.distance.value):
            raise EntryError(
                f"the tape to {tape.point.name} reads {tape.distance.value:g} mm",
                allowed="a distance is more than 0",
                cure="measure again",
            )
    first, second = tapes[0].point, tapes[1].point
    apart = math.hypot(
        second.across.value - first.across.value, second.below.value - first.below.value
    )
    if apart < 1.0:
        raise EntryError(
            f"{first.name} and {second.name} are the same place",
            allowed="two points well apart",
            cure="measure to another point",
        )
    _check_meeting(tapes[0], tapes[1], apart)


def _check_meeting(first: Tape, second: Tape, apart: float) -> None:
    """Refuse two tapes that do not meet by more than their tolerance."""
    one, two = first.distance, second.distance
    points = (first.point, second.point)
    spread = expanded(
        one.tolerance, two.tolerance,
        *(item.tolerance for point in points for item in (point.across, point.below)),
    )  # fmt: skip
    short = apart - (one.value + two.value)
    if short > spread:
        raise EntryError(
            f"the two tapes are too short by {short:.0f} mm to meet",
            allowed=f"together at least {apart:.0f} mm, the distance between the points",
            cure="measure both again, and the points",
        )
    over = abs(one.value - two.value) - apart
    if over > spread:
        longer = first if one.value > two.value else second
        raise EntryError(
            f"the tape to {longer.point.name} is too long by {over:.0f} mm to meet the other",
            allowed=f"they differ by {apart:.0f} mm at most, the distance between the points",
            cure="measure both again, and the points",
        )


def _two_circles(values: Mapping[str, float], side: Side) -> tuple[float, float]:
    """Return where the first two circles meet on a side; the nearest place where they just miss."""
    x0, y0, one = values["across 0"], values["below 0"], values["tape 0"]
    dx, dy = values["across 1"] - x0, values["below 1"] - y0
    apart = math.hypot(dx, dy)
    two = values["tape 1"]
    # Tapes that just miss are taken to meet on the line, halfway between their ends.
    if one + two <= apart:
        along, rise = (one + apart - two) / 2.0, 0.0
    elif one >= two + apart:
        along, rise = (one + two + apart) / 2.0, 0.0
    elif two >= one + apart:
        along, rise = (apart - one - two) / 2.0, 0.0
    else:
        along = (one * one - two * two + apart * apart) / (2.0 * apart)
        rise = math.sqrt(max(0.0, one * one - along * along))
    ux, uy = dx / apart, dy / apart
    foot = x0 + along * ux, y0 + along * uy
    both = [(foot[0] - turn * rise * uy, foot[1] + turn * rise * ux) for turn in (1.0, -1.0)]
    axis = 1 if side in (Side.BELOW, Side.ABOVE) else 0
    if abs((ux, uy)[1 - axis]) < 1e-6:
        words = "port or starboard" if axis else "above or below"
        raise EntryError(
            f'"{side.value}" does not tell the two places apart where the tapes meet',
            allowed=f"with these two points say {words}",
            cure="choose one of these",
        )
    pick = max if side in (Side.BELOW, Side.STARBOARD) else min
    return pick(both, key=lambda place: place[axis])


def _solve(
    values: Mapping[str, float], count: int, start: tuple[float, float], side: Side
) -> tuple[float, float]:
    if count == 2:
        return _two_circles(values, side)
    return _least_squares(values, count, start)


def _misses(values: Mapping[str, float], count: int, place: tuple[float, float]) -> list[float]:
    """Return by how much each tape is too long for a place, mm."""
    return [
        values[f"tape {number}"]
        - math.hypot(
            place[0] - values[f"across {number}"], place[1] - values[f"below {number}"]
        )
        for number in range(count)
    ]  # fmt: skip


def _least_squares(
    values: Mapping[str, float], count: int, start: tuple[float, float]
) -> tuple[float, float]:
    """Return the place that the tapes miss least, by damped Gauss-Newton steps from ``start``."""
    place, damping = start, 1e-6
    cost = math.fsum(miss * miss for miss in _misses(values, count, place))
    for _ in range(_STEPS):
        step = _step(values, count, place, damping)
        tried = place[0] + step[0], place[1] + step[1]
        found = math.fsum(miss * miss for miss in _misses(values, count, tried))
        if found <= cost:
            place, cost, damping = tried, found, damping * 0.2
            if math.hypot(*step) < _CLOSE_MM:
                break
        else:
            damping = max(damping, 1e-6) * 10.0
    return place


def _step(
    values: Mapping[str, float], count: int, place: tuple[float, float], damping: float
) -> tuple[float, float]:
    xx = xy = yy = gx = gy = 0.0
    for number, miss in enumerate(_misses(values, count, place)):
        dx, dy = place[0] - values[f"across {number}"], place[1] - values[f"below {number}"]
        length = math.hypot(dx, dy) or 1.0
        ux, uy = dx / length, dy / length
        xx, xy, yy = xx + ux * ux, xy + ux * uy, yy + uy * uy
        gx, gy = gx + ux * miss, gy + uy * miss
    xx, yy = xx + damping, yy + damping
    whole = xx * yy - xy * xy
    return (gx * yy - gy * xy) / whole, (gy * xx - gx * xy) / whole


def _warnings(
    tapes: Sequence[Tape], across: Estimate, below: Estimate, misses: Sequence[float]
) -> list[Phrase]:
    found = []
    worst = max(across.tolerance, below.tolerance)
    if worst > WARN_MM:
        found.append(
            phrase(
                "The tapes cross so flat that the place is only known to {worst}; choose points "
                "that the hole sees at about a right angle.",
                worst=mm(worst),
            )
        )
    for tape, miss in zip(tapes, misses, strict=True):
        allowed = expanded(
            tape.distance.tolerance, tape.point.across.tolerance, tape.point.below.tolerance
        )
        if abs(miss) > max(allowed, 1e-6):
            found.append(
                phrase(
                    "The tape to {point} misses the place by {miss}, more than its tolerance: "
                    "measure it again.",
                    point=tape.point.name,
                    miss=mm(abs(miss)),
                )
            )
    return found
