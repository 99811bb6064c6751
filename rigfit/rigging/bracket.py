"""Setback brackets and adjustable plates between transom and engine."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

STEPLESS_MM = 12.7
"""Distance between the settings listed for a stepless plate."""


class Arms(Enum):
    """Which way a bracket carries the seat aft."""

    SQUARE = "square"
    LEVEL = "level"


@dataclass(frozen=True, slots=True)
class TransomBracket:
    """A setback bracket or adjustable plate.

    :param id: key of the profile; "none" and "own" are reserved.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param setback_mm: how far aft it carries the seat.
    :param arms: square to the face, or level with the keel line.
    :param height_mm: its top edge above the transom top at its lowest setting.
    :param travel_mm: how far it can be raised; 0 when fixed.
    :param step_mm: distance between settings; 0 for any height within the travel.
    :param engine_holes_mm: its own upper holes for the engine, below its top edge.
    :param pattern: id of the pattern by which it is bolted to the transom.
    :param mass_kg: typical.
    :param note: cautions.
    """

    id: str
    name: str
    source: str
    setback_mm: float
    arms: Arms
    height_mm: float
    travel_mm: float
    step_mm: float
    engine_holes_mm: float
    pattern: str
    mass_kg: float
    note: str = ""

    def settings_mm(self) -> tuple[float, ...]:
        """Return the heights it can be set to above its lowest, in mm, its full travel included.

        A stepless plate is listed every 12.7 mm (1/2 in) so that a table can show it.
        """
        step = self.step_mm or STEPLESS_MM
        count = int(self.travel_mm / step + 1e-9)
        settings = [step * index for index in range(count + 1)]
        if not self.step_mm and self.travel_mm - settings[-1] > 1e-6:
            settings.append(self.travel_mm)
        return tuple(settings)

    def can_be_set_to(self, setting_mm: float) -> bool:
        """True for a setting within the travel and, on a stepped bracket, on one of its steps."""
        if not -1e-6 <= setting_mm <= self.travel_mm + 0.5:
            return False
        nearest = min(abs(setting_mm - listed) for listed in self.settings_mm())
        return self.step_mm == 0.0 or nearest <= 0.5
