"""Propeller arithmetic: pitch speed, slip, pitch for a wanted speed of the engine, Crouch's speed.

Engine speeds are rpm at the crankshaft, pitches and diameters mm, speeds knots. Pitch speed is
exact arithmetic of the definition; what is custom carries its spread.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.errors import JobError
from rigfit.units import HORSEPOWER_KW, INCH_MM, KNOT_M_S, POUND_KG

RPM_PER_INCH = (150.0, 200.0)
"""Engine speed that an inch of pitch costs: two dealers (read); see ``RPM_PER_INCH_WIDE``."""

RPM_PER_INCH_WIDE = (100.0, 300.0)
"""All that was met: 100 inboards, 150 to 200, 200 to 300 dealers and owners (read)."""

CUP_RPM = (200.0, 300.0)
DIAMETER_RPM = (100.0, 200.0)
"""Engine speed that a cup costs (single, double) and a quarter inch of diameter (two sources)."""

GOOD_SLIP = (0.10, 0.15)
USUAL_SLIP = (0.05, 0.20)
"""Slip of a good outboard set-up, and from light fast to runabouts (common practice; a page, read).
It means something on the plane only: below it 30 % and more are usual."""

MOST_SLIP = 0.30

CROUCH = {
    "runabout": 150.0,
    "fast runabout": 190.0,
    "race type": 210.0,
    "stepped": 220.0,
    "racing catamaran": 230.0,
}
"""Crouch's constants for knots, pounds and shaft horsepower, after Gerr's Propeller Handbook (from
memory, firm; its list for mph was read and converts back within 0.7 %)."""

CROUCH_SPREAD = 0.10
"""Half-width given to a chosen constant (rigfit's own estimate)."""


def _positive(value: float, name: str, unit: str, where: str) -> None:
    if not (math.isfinite(value) and value > 0.0):
        raise JobError(
            f"the {name} is {value:g} {unit}".rstrip(),
            allowed="it must be more than 0",
            cure=f"enter the {name} of this engine and propeller",
            where=where,
        )


def pitch_speed_kn(rpm: float, pitch_mm: float, gear_ratio: float) -> float:
    """Return the speed of a propeller that screws through without slip, by definition.

    rpm x pitch / gear ratio; with a pitch in inches the constant is 1852 / 0.0254 / 60 = 1215.22.

    :param gear_ratio: turns of the engine for one of the propeller.
    :raises JobError: for a pitch or gear ratio of zero or less, or a negative speed of the engine.
    """
    _positive(pitch_mm, "pitch", "mm", "propeller, pitch")
    _positive(gear_ratio, "gear ratio", "", "engine, gear_ratio")
    if not (math.isfinite(rpm) and rpm >= 0.0):
        raise JobError(
            f"the engine's speed is {rpm:g} rpm", allowed="0 or more",
            cure="read the tachometer again", where="propeller, full_throttle_rpm",
        )  # fmt: skip
    return rpm * pitch_mm / gear_ratio / 60_000.0 / KNOT_M_S


def slip(speed_kn: float, rpm: float, pitch_mm: float, gear_ratio: float) -> float:
    """Return 1 - speed / pitch speed; negative where she goes faster than the propeller screws.

    :raises JobError: as ``pitch_speed_kn``, and for an engine that stands.
    """
    _positive(rpm, "engine speed", "rpm", "propeller, full_throttle_rpm")
    return 1.0 - speed_kn / pitch_speed_kn(rpm, pitch_mm, gear_ratio)


def rpm_at(speed_kn: float, slip_share: float, pitch_mm: float, gear_ratio: float) -> float:
    """Return the engine speed at which a propeller with a slip makes a speed; inverts ``slip``.

    :raises JobError: as ``pitch_speed_kn``, and for a slip of 1 or more.
    """
    if not (math.isfinite(slip_share) and slip_share < 1.0):
        raise JobError(
            f"a slip of {100.0 * slip_share:g} %", allowed="less than 100 %",
            cure="look at speed, pitch and gear ratio", where="propeller, pitch",
        )  # fmt: skip
    return speed_kn / (1.0 - slip_share) / pitch_speed_kn(1.0, pitch_mm, gear_ratio)


def rpm_change(pitch_change_mm: float) -> tuple[float, float]:
    """Return how the engine speed changes with the pitch, lowest first (150 to 200 rpm an inch).

    Custom of the trade; one shop scales by percent instead, see ``pitch_by_percent``.
    """
    inches = pitch_change_mm / INCH_MM
    ends = sorted(-inches * rate for rate in RPM_PER_INCH)
    return ends[0], ends[1]


def pitch_by_percent(pitch_mm: float, rpm: float, target_rpm: float) -> float:
    """Return the pitch for a wanted engine speed in proportion: pitch x rpm / target.

    A propeller shop's rule (read): 19 in at 5000 of 6000 rpm becomes 15.8 in.

    :raises JobError: for numbers that are not positive.
    """
    _positive(pitch_mm, "pitch", "mm", "propeller, pitch")
    _positive(rpm, "engine speed", "rpm", "propeller, full_throttle_rpm")
    _positive(target_rpm, "wanted engine speed", "rpm", "propeller, target_rpm")
    return pitch_mm * rpm / target_rpm


def pitch_by_rate(
    pitch_mm: float,
    rpm: float,
    target_rpm: float,
    rates: tuple[float, float] = RPM_PER_INCH,
) -> tuple[float, float]:
    """Return the pitches for a wanted engine speed by rpm an inch, smallest first.

    :param rates: rpm an inch, slowest first.
    :raises JobError: for numbers that are not positive.
    """
    _positive(pitch_mm, "pitch", "mm", "propeller, pitch")
    _positive(target_rpm, "wanted engine speed", "rpm", "propeller, target_rpm")
    ends = sorted(pitch_mm + (rpm - target_rpm) / rate * INCH_MM for rate in rates)
    return ends[0], ends[1]


@dataclass(frozen=True, slots=True)
class Band:
    """The maker's band of engine speeds at wide open throttle, rpm.

    :raises JobError: when its ends are not positive and in order.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        _positive(self.low, "lower end of the band", "rpm", "engine, wot_low")
        if not self.high > self.low:
            raise JobError(
                f"the band at wide open throttle ends at {self.high:g} rpm",
                allowed=f"more than its lower end, {self.low:g} rpm",
                cure="read both ends in the engine's manual",
                where="engine, wot_high",
            )

    @property
    def middle(self) -> float:
        """The speed above which a loaded boat should come out (common practice, no source)."""
        return (self.low + self.high) / 2.0

    def place(self, rpm: float) -> str:
        """Return where an engine speed lies: "below", "lower half", "upper half" or "above"."""
        if rpm < self.low:
            return "below"
        if rpm > self.high:
            return "above"
        return "upper half" if rpm >= self.middle else "lower half"

    @property
    def aim(self) -> float:
        """The middle of the upper half, to aim a new propeller at."""
        return (self.middle + self.high) / 2.0


def crouch_kn(mass_kg: float, shaft_kw: float, constant: float) -> float:
    """Return Crouch's speed, kn = C / sqrt(pounds per shaft horsepower).

    :param constant: one of ``CROUCH``, for knots; constants for mph must not be mixed in.
    :raises JobError: for a mass or power of zero or less.
    """
    _positive(mass_kg, "mass under way", "kg", "underway, mass")
    _positive(shaft_kw, "power", "kW", "engine, power")
    return constant / math.sqrt(mass_kg / POUND_KG / (shaft_kw / HORSEPOWER_KW))
