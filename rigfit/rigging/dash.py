"""Dash cut-outs: what the new instrument's rim does to the old opening and to its neighbours.

All shapes are round or upright rectangles with one common middle, so every answer has a closed
form: how far the rim reaches past the opening at the worst place, and how far apart two rims lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from rigfit.rigging.bolting_fields import DashCutout
from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import expanded

RING_LAP_MM = 5.0
"""How far an adapter ring should reach past the old opening all round (own estimate)."""

SHEET_TOLERANCE_MM = 1.0
"""Half-width allowed on the sizes of a maker's sheet: openings come out up to 1 mm larger."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A circle or an upright rectangle.

    :param width_mm: across, or the diameter.
    :param height_mm: up and down; None for a round one.
    """

    width_mm: float
    height_mm: float | None = None

    @property
    def is_round(self) -> bool:
        """True for a circle."""
        return self.height_mm is None

    @property
    def half_mm(self) -> tuple[float, float]:
        """Half the width and half the height."""
        tall = self.width_mm if self.height_mm is None else self.height_mm
        return self.width_mm / 2.0, tall / 2.0

    def grown(self, by_mm: float) -> Shape:
        """Return the shape larger by so much on every side."""
        tall = None if self.height_mm is None else self.height_mm + 2.0 * by_mm
        return Shape(self.width_mm + 2.0 * by_mm, tall)


def cover_mm(rim: Shape, opening: Shape) -> float:
    """Return how far a rim reaches past an opening with the same middle, at the worst place.

    Negative where the opening reaches past the rim.
    """
    wide, tall = opening.half_mm
    reach, rise = rim.half_mm
    if rim.is_round:
        return reach - (wide if opening.is_round else math.hypot(wide, tall))
    return min(reach - wide, rise - tall)


def gap_mm(
    first: Shape, first_at: tuple[float, float], second: Shape, second_at: tuple[float, float]
) -> float:
    """Return the clear distance between two shapes; negative where they overlap.

    An overlap is counted along the shortest way out.
    """
    across = abs(second_at[0] - first_at[0])
    down = abs(second_at[1] - first_at[1])
    if first.is_round and second.is_round:
        return math.hypot(across, down) - first.half_mm[0] - second.half_mm[0]
    if not first.is_round and not second.is_round:
        half = (
            first.half_mm[0] + second.half_mm[0],
            first.half_mm[1] + second.half_mm[1],
        )
        return _outside(across - half[0], down - half[1])
    disc, box = (first, second) if first.is_round else (second, first)
    return _outside(across - box.half_mm[0], down - box.half_mm[1]) - disc.half_mm[0]


def _outside(across: float, down: float) -> float:
    """Return the signed distance to a corner region: + outside, - inside."""
    if across <= 0.0 or down <= 0.0:
        return max(across, down)
    return math.hypot(across, down)


class Fate(Enum):
    """What becomes of one cut-out."""

    COVERED = "covered"
    RING = "ring needed"
    ENLARGE = "enlarge"
    NEW = "new hole"
    CLASH = "clash"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Clash:
    """A rim that meets another rim or the edge of the dash.

    :param with_what: "speedometer", "the left edge of the dash" ...
    :param gap_mm: clear distance, negative for an overlap.
    :param tolerance_mm: of the gap, k = 2.
    """

    with_what: str
    gap_mm: float
    tolerance_mm: float


@dataclass(frozen=True, slots=True)
class CutoutFit:
    """One cut-out and what is to be done with it.

    :param name: of the instrument, or its number in the list.
    :param at_mm: middle, right of the left edge and below the upper edge of the dash.
    :param old: opening that is there, or None.
    :param new: opening the instrument wants; None while its size is missing.
    :param rim: None while its size is missing.
    :param cover_mm: how far the rim reaches past the old and the new opening, whichever reaches
        further; None without a rim or an opening.
    :param enlarge_mm: how far the new opening reaches past the old one; 0 where it does not.
    :param tolerance_mm: of ``cover_mm``, k = 2.
    :param clash: the nearest other rim or edge; None for a dash with room all round.
    """

    name: str
    at_mm: tuple[float, float] | None
    old: Shape | None
    new: Shape | None
    rim: Shape | None
    cover_mm: float | None = None
    enlarge_mm: float = 0.0
    tolerance_mm: float = 0.0
    clash: Clash | None = None

    @property
    def is_complete(self) -> bool:
        """True when place, opening and rim are known, and the rim is larger than the opening."""
        if self.at_mm is None or self.new is None or self.rim is None:
            return False
        return cover_mm(self.rim, self.new) > 0.0

    @property
    def ring(self) -> Shape | None:
        """Outer size of the adapter ring that is needed, or None."""
        if self.old is None or self.rim is None or cover_mm(self.rim, self.old) >= 0.0:
            return None
        return self.old.grown(RING_LAP_MM)

    @property
    def footprint(self) -> Shape | None:
        """What lies on the dash: the ring, else the rim, else the opening itself."""
        return self.ring or self.rim or self.new

    @property
    def is_cut(self) -> bool:
        """True where the dash has to be cut."""
        return self.new is not None and (self.old is None or self.enlarge_mm > 0.0)

    @property
    def fate(self) -> Fate:
        """What matters most: a clash, then a ring, then what is to be cut."""
        if self.clash is not None and self.clash.gap_mm < -self.clash.tolerance_mm:
            return Fate.CLASH
        if not self.is_complete:
            return Fate.UNKNOWN
        if self.ring is not None:
            return Fate.RING
        if self.old is None:
            return Fate.NEW
        return Fate.ENLARGE if self.enlarge_mm > 0.0 else Fate.COVERED


def dash_fits(cutouts: Sequence[DashCutout]) -> tuple[CutoutFit, ...]:
    """Return what becomes of every cut-out, in the order of the job; () for an empty dash."""
    alone = [_alone(number, cutout) for number, cutout in enumerate(cutouts, start=1)]
    return tuple(_with_clash(index, alone, cutouts) for index in range(len(alone)))


def _shape(width: Reading | None, height: Reading | None) -> Shape | None:
    if width is None:
        return None
    return Shape(width.value, height.value if height else None)


def _spread(*sizes: Reading | None) -> float:
    """Return the tolerance of half the difference of two sizes, k = 2."""
    halves = [
        (size.tolerance if size.origin.is_firm else max(size.tolerance, SHEET_TOLERANCE_MM)) / 2.0
        for size in sizes
        if size is not None
    ]
    return expanded(*halves)


def _alone(number: int, cutout: DashCutout) -> CutoutFit:
    """Return a cut-out without regard to its neighbours."""
    old = _shape(cutout.old_width, cutout.old_height)
    new = _shape(cutout.new_width, cutout.new_height)
    rim = _shape(cutout.bezel_width, cutout.bezel_height)
    at = (cutout.across.value, cutout.down.value) if cutout.across and cutout.down else None
    covers = [cover_mm(rim, under) for under in (old, new) if rim and under]
    larger = -cover_mm(old, new) if old and new else 0.0
    return CutoutFit(
        name=cutout.name or f"cut-out {number}",
        at_mm=at,
        old=old,
        new=new,
        rim=rim,
        cover_mm=min(covers, default=None),
        enlarge_mm=max(0.0, larger),
        tolerance_mm=_spread(cutout.bezel_width, cutout.old_width or cutout.new_width),
    )


def _with_clash(index: int, alone: Sequence[CutoutFit], cutouts: Sequence[DashCutout]) -> CutoutFit:
    fit = alone[index]
    shape, own = fit.footprint, cutouts[index]
    if fit.at_mm is None or shape is None or own.across is None or own.down is None:
        return fit
    half = _spread(own.bezel_width or own.new_width)
    edges = (
        ("the left edge of the dash", fit.at_mm[0] - shape.half_mm[0], own.across.tolerance),
        ("the upper edge of the dash", fit.at_mm[1] - shape.half_mm[1], own.down.tolerance),
    )
    near = [Clash(name, gap, math.hypot(expanded(tol), half)) for name, gap, tol in edges]
    for number, other in enumerate(alone):
        there, beside = other.footprint, cutouts[number].across
        if number == index or there is None or other.at_mm is None or beside is None:
            continue
        gap = gap_mm(shape, fit.at_mm, there, other.at_mm)
        theirs = _spread(cutouts[number].bezel_width or cutouts[number].new_width)
        spread = math.hypot(expanded(own.across.tolerance, beside.tolerance), half, theirs)
        near.append(Clash(other.name, gap, spread))
    nearest = min(near, key=lambda clash: clash.gap_mm)
    return CutoutFit(
        fit.name, fit.at_mm, fit.old, fit.new, fit.rim, fit.cover_mm, fit.enlarge_mm,
        fit.tolerance_mm, nearest,
    )  # fmt: skip
