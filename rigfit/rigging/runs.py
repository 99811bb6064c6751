"""Runs: voltage drop and listed current of conductors, lengths of cables to the next stocked one.

Lengths mm, currents A, drops as a share of the voltage. Conductors are copper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.rigging.runs_fields import AWG, INSULATION_DEG, STEERING, THROUGH_TUBE
from rigfit.units import CIRCULAR_MIL_MM2, FOOT_MM, INCH_MM

K_COPPER = 10.75
"""Circular mils times ohms a foot of copper, as the voltage-drop formula of ABYC E-11 takes it."""

DROP_SHARES = {
    "panel feeder": 0.03,
    "electronics": 0.03,
    "navigation lights": 0.03,
    "bilge blower": 0.03,
    "other": 0.10,
}
"""Share of the voltage that may be lost on the way out and back, by what is supplied (E-11)."""

CRANKING_SHARES = (0.05, 0.10)
"""Cranking conductors: what to aim at, and what is never passed (read in one article only)."""

TABLE_5: dict[str, tuple[int, ...]] = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
    "4": (105, 125, 130, 135, 160, 170, 180),
    "3": (120, 145, 150, 155, 180, 195, 210),
    "2": (140, 170, 175, 180, 210, 225, 240),
    "1": (165, 195, 210, 210, 245, 265, 280),
    "0": (195, 230, 245, 245, 285, 305, 325),
    "00": (225, 265, 285, 285, 330, 355, 370),
    "000": (260, 310, 330, 330, 385, 410, 430),
    "0000": (300, 360, 385, 385, 445, 475, 510),
}
"""33 CFR 183.425, Table 5 (read): amperes at 30 °C by AWG, for each of ``INSULATION_DEG``."""

ENGINE_SPACE = {105: 0.85}
"""Factor in an engine space of 50 °C by insulation; only that of 105 °C was read."""

SAE_CM = {
    "18": 1537, "16": 2336, "14": 3702, "12": 5833, "10": 9343, "8": 14810, "6": 24538,
    "4": 37360, "2": 62450, "1": 77790, "0": 98980, "00": 125100, "000": 158600, "0000": 205500,
}  # fmt: skip
"""Least area of boat cable made to SAE gauges, circular mils; AWG 12 was read, others recalled."""

STEERING_BEND_MM = 4.0 * INCH_MM
CONTROL_SLACK_MM = (600.0, 3.0 * FOOT_MM, 4.0 * FOOT_MM)
"""What makers' rules add to the way of a control cable: 600 mm (one), 3 ft (two), 4 ft (one)."""

MOST_BENDS = 4
"""Right-angle bends of a steering cable: 360 degrees in all."""

BEND_RADIUS_MM = 200.0
SUPPORT_MM = 6.0 * FOOT_MM


def circular_mils(gauge: str) -> float:
    """Return the area of a solid conductor of a gauge, circular mils, by AWG's definition.

    The diameter is 0.005 in times 92 to the power of (36 - n) / 39; 0 to 0000 are n of 0 to -3.
    """
    number = 1 - len(gauge) if set(gauge) == {"0"} else int(gauge)
    mils: float = 5.0 * 92.0 ** ((36.0 - number) / 39.0)
    return mils * mils


def area_mm2(gauge: str) -> float:
    """Return the same area in square millimetres."""
    return circular_mils(gauge) * CIRCULAR_MIL_MM2


def least_mils(gauge: str) -> float:
    """Return the smaller of a gauge's two areas, circular mils: AWG's, and SAE's where known."""
    return min(circular_mils(gauge), SAE_CM.get(gauge, math.inf))


def needed_mils(length_mm: float, current_a: float, volts: float, share: float) -> float:
    """Return the area a conductor needs, circular mils: CM = K I L / E.

    :param length_mm: one way; L is there and back, feet.
    :param share: of the voltage that may be lost; E is that many volts.
    """
    return K_COPPER * current_a * 2.0 * length_mm / FOOT_MM / (share * volts)


def drop_share(mils: float, length_mm: float, current_a: float, volts: float) -> float:
    """Return the share of the voltage lost out and back over an area of circular mils."""
    return needed_mils(length_mm, current_a, volts, 1.0) / mils


def gauge_for_drop(length_mm: float, current_a: float, volts: float, share: float) -> str | None:
    """Return the thinnest gauge whose smaller area keeps within a drop; None where none does."""
    needed = needed_mils(length_mm, current_a, volts, share)
    return next((gauge for gauge in AWG if least_mils(gauge) >= needed), None)


def listed_a(gauge: str, insulation_deg: int) -> int:
    """Return the current Table 5 lists for a gauge and an insulation at 30 °C, A.

    :raises KeyError: and ``ValueError``, for a gauge or an insulation that the table lacks.
    """
    return TABLE_5[gauge][INSULATION_DEG.index(insulation_deg)]


def engine_space_a(gauge: str, insulation_deg: int) -> float | None:
    """Return the listed current in an engine space, A; None where its factor was not read."""
    factor = ENGINE_SPACE.get(insulation_deg)
    return None if factor is None else factor * listed_a(gauge, insulation_deg)


@dataclass(frozen=True, slots=True)
class CableRule:
    """What one maker's rule makes of the way of a cable.

    :param words: the rule in words.
    :param length_mm: before rounding; ``feet``, the next stocked length.
    """

    words: str
    length_mm: float

    @property
    def feet(self) -> int:
        """The next whole foot that is not shorter."""
        return max(1, math.ceil(self.length_mm / FOOT_MM - 1e-9))


def cable_rules(kind: str, way_mm: float, bends: int, mount: str) -> tuple[CableRule, ...]:
    """Return the length of a new cable by every rule that was read.

    :param kind: ``STEERING`` or ``CONTROL``.
    :param way_mm: all legs together.
    :param bends: right-angle bends; they count for a steering cable only.
    :param mount: ``THROUGH_TUBE`` or ``ON_TRANSOM``; counts for a steering cable only.
    """
    if kind != STEERING:
        words = ("the way and 600 mm", "the way and 3 ft", "the way and 4 ft")
        return tuple(
            CableRule(said, way_mm + slack)
            for said, slack in zip(words, CONTROL_SLACK_MM, strict=True)
        )
    if mount == THROUGH_TUBE:
        first = CableRule(
            "the way, less 4 in for each bend, and 6 in",
            way_mm - STEERING_BEND_MM * bends + 6.0 * INCH_MM,
        )
        second = CableRule(
            "the way, less 10 cm for each bend, and 30.5 cm", way_mm - 100.0 * bends + 305.0
        )
        return first, second
    first = CableRule(
        "the way, less 4 in for each bend and 6 in",
        way_mm - STEERING_BEND_MM * bends - 6.0 * INCH_MM,
    )
    return first, CableRule("the way, less 10 cm for each bend", way_mm - 100.0 * bends)


def stocked_feet(rules: tuple[CableRule, ...], tolerance_mm: float) -> tuple[int, ...]:
    """Return every stocked length, ft, that a rule can come to within the tolerance of the way."""
    moved = [
        CableRule(rule.words, rule.length_mm + by).feet
        for rule in rules
        for by in (-tolerance_mm, 0.0, tolerance_mm)
    ]
    return tuple(range(min(moved), max(moved) + 1))
