"""What diagrams on a sheet share: a panel in paper mm, and the round levels of their axes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rigfit.drawing.scene import THIN, Path, Pen, Point, Text

_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Panel:
    """A part of the drawing: paper mm from its lower left corner become model mm."""

    corner: Point
    scale: float
    width: float
    height: float

    def at(self, x: float, y: float) -> Point:
        """Return a place of the panel, paper mm, in model mm."""
        return self.corner[0] + x * self.scale, self.corner[1] + y * self.scale

    def line(self, points: Sequence[Point], pen: Pen = THIN, ref: str = "") -> Path:
        """Return a polyline through places of the panel."""
        return Path(tuple(self.at(*point) for point in points), "MEASURES", pen=pen, ref=ref)

    def text(self, x: float, y: float, words: str, **style: object) -> Text:
        """Return words at a place of the panel; ``style`` as the fields of ``Text``."""
        return Text(self.at(x, y), words, "NOTES", **style)  # type: ignore[arg-type]


def step_of(length: float, most: int) -> float:
    """Return a round step, 1, 2 or 5 times a power of ten, that parts a length ``most`` times."""
    rough = length / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(k * power for k in (1.0, 2.0, 5.0, 10.0) if k * power >= rough - 1e-12)


def step_near(rough: float) -> float:
    """Return the round step nearest to a rough one, 1, 2 or 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(rough))
    return power * min((1.0, 2.0, 5.0, 10.0), key=lambda part: abs(part * power - rough))


def levels(low: float, high: float, step: float) -> list[float]:
    """Return the multiples of a step from ``low`` to ``high``, both ends among them."""
    first, last = math.ceil(low / step - _NOISE), math.floor(high / step + _NOISE)
    return [step * k for k in range(first, last + 1)]
