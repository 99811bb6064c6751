"""Propagation of tolerances after the GUM (JCGM 100:2008).

Every reading +/- a is taken as a rectangular distribution, u = a / sqrt(3) (4.3.7); the
contributions are found by central differences of +/- u through the real calculation (5.1.3,
note 2), combined in quadrature (5.1.2) and reported with k = 2.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from rigfit.rigging.readings import Origin, Reading

COVERAGE = 2.0
"""The factor k of every tolerance that rigfit reports."""


@dataclass(frozen=True, slots=True)
class Share:
    """What one reading contributes to a result.

    :param name: the reading's key.
    :param reading: the reading itself.
    :param spread: its contribution to the result with k = 2, in the result's unit, signed.
    """

    name: str
    reading: Reading
    spread: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """A computed number with its expanded uncertainty.

    :param value: the number, in its base unit.
    :param tolerance: expanded uncertainty, k = 2, same unit.
    :param shares: contribution of every reading, in the order given.
    """

    value: float
    tolerance: float
    shares: tuple[Share, ...] = ()

    def is_firm(self, *names: str) -> bool:
        """True when all the named readings were measured or chosen, none stood in for."""
        return all(share.reading.origin.is_firm for share in self.shares if share.name in names)

    @property
    def stand_ins(self) -> tuple[Share, ...]:
        """The shares of readings that nobody measured, largest first."""
        soft = [share for share in self.shares if not share.reading.origin.is_firm]
        return tuple(sorted(soft, key=lambda share: -abs(share.spread)))


def standard_uncertainty(half_width: float) -> float:
    """Return u of a rectangular distribution of half-width a: a / sqrt(3) (GUM 4.3.7)."""
    return half_width / math.sqrt(3.0)


def expanded(*half_widths: float) -> float:
    """Return the expanded uncertainty (k = 2) of a sum of readings with these half-widths."""
    return COVERAGE * math.hypot(*(standard_uncertainty(width) for width in half_widths))


def half_width(expanded_uncertainty: float) -> float:
    """Return the half-width of a rectangular reading with this expanded uncertainty (k = 2)."""
    return expanded_uncertainty * math.sqrt(3.0) / COVERAGE


def estimate(
    calculation: Callable[[Mapping[str, float]], float], readings: Mapping[str, Reading]
) -> Estimate:
    """Return the result of a calculation with its expanded uncertainty.

    :param calculation: takes the values of the readings by name; must be defined within +/- u of
        each.
    :param readings: the inputs with their tolerances, base units.
    """
    values = {name: reading.value for name, reading in readings.items()}
    shares = tuple(
        Share(name, reading, COVERAGE * _difference(calculation, values, name, reading))
        for name, reading in readings.items()
    )
    spread = math.sqrt(math.fsum(share.spread**2 for share in shares))
    return Estimate(calculation(values), spread, shares)


def _difference(
    calculation: Callable[[Mapping[str, float]], float],
    values: Mapping[str, float],
    name: str,
    reading: Reading,
) -> float:
    step = standard_uncertainty(reading.tolerance)
    if step == 0.0:
        return 0.0
    above = calculation({**values, name: values[name] + step})
    below = calculation({**values, name: values[name] - step})
    return (above - below) / 2.0


def exact(value: float, origin: Origin = Origin.CHOSEN) -> Reading:
    """Return a reading without tolerance, for a number that was decided, not measured."""
    return Reading(value, 0.0, origin)
