"""The form of a hull as a row of sections, from a few measurements, from stations or from offsets.

Frame: x ahead of the foot of the transom along the keel line, y to starboard, z above the keel
line; mm. A section is a half outline from the middle of the bottom up to the sheer; the other side
mirrors it. What lies aft of the transom's foot, because the transom leans, is left out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

from rigfit.errors import JobError

Outline: TypeAlias = tuple[tuple[float, float], ...]

STATIONS = 21
"""Sections a hull is cut into; odd, for Simpson's first rule. 41 change a displacement by 0.1 %."""

STEM_SHARE = 0.62
"""Where, as a share of the length, the keel begins to rise towards the stem (own estimate)."""

STEM_CHINE = 0.70
"""Where the chine meets the stem, as a share of the stem's height (own estimate)."""


@dataclass(frozen=True, slots=True)
class HullForm:
    """Sections at even distances along the keel line.

    :param length_mm: from the first to the last section.
    :param sections: half outlines of (y, z), bottom to sheer, all with as many points; their number
        is odd and at least three.
    :raises JobError: where this does not hold, or an outline has a negative half breadth.
    """

    length_mm: float
    sections: tuple[Outline, ...]

    def __post_init__(self) -> None:
        if len(self.sections) < 3 or len(self.sections) % 2 == 0 or self.length_mm <= 0.0:
            raise JobError(
                f"a hull of {len(self.sections)} sections over {self.length_mm:.0f} mm",
                allowed="an odd number of sections, three at least, over some length",
                where="station",
            )
        if any(y < 0.0 for outline in self.sections for y, _ in outline):
            raise JobError(
                "a half breadth is negative",
                allowed="half breadths are 0 or more",
                cure="give half breadths of one side",
                where="station",
            )

    @property
    def step_mm(self) -> float:
        """Distance between sections."""
        return self.length_mm / (len(self.sections) - 1)

    def ahead_mm(self, index: int) -> float:
        """Return where a section stands."""
        return index * self.step_mm

    def keel_mm(self) -> Outline:
        """Return the middle line of the bottom as (x, z), transom to stem."""
        return tuple((self.ahead_mm(i), part[0][1]) for i, part in enumerate(self.sections))

    def sheer_mm(self) -> Outline:
        """Return the sheer in side view as (x, z), transom to stem."""
        return tuple((self.ahead_mm(i), part[-1][1]) for i, part in enumerate(self.sections))

    def half_beam_mm(self) -> float:
        """Return the largest half breadth anywhere."""
        return max(y for outline in self.sections for y, _ in outline)

    def top_mm(self) -> float:
        """Return the highest point of the sheer."""
        return max(outline[-1][1] for outline in self.sections)


@dataclass(frozen=True, slots=True)
class FewMeasures:
    """A hull from a few measurements, mm and degrees.

    :param length_mm: of the hull.
    :param chine_beam_mm: between the chines, widest.
    :param chine_aft_mm: between the chines at the transom.
    :param sheer_beam_mm: at the sheer amidships.
    :param chine_height_aft_mm: chine above the keel line at the transom.
    :param chine_height_mid_mm: chine above the keel line amidships.
    :param depth_aft_mm: and ``depth_mid_mm``, ``depth_bow_mm``, keel line to sheer.
    :param fullness: power of the curve by which the breadth falls to nothing at the stem; 2 is a
        parabola, more is fuller.
    """

    length_mm: float
    chine_beam_mm: float
    chine_aft_mm: float
    sheer_beam_mm: float
    chine_height_aft_mm: float
    chine_height_mid_mm: float
    depth_aft_mm: float
    depth_mid_mm: float
    depth_bow_mm: float
    fullness: float = 2.0


@lru_cache(maxsize=64)
def few_measures_form(few: FewMeasures, stations: int = STATIONS) -> HullForm:
    """Return a hard-chine hull with a straight run aft and a raked stem.

    Own form, an estimate ahead of amidships: chine and sheer fall to the stem as powers, the keel
    rises from ``STEM_SHARE`` of the length to where the chine meets the stem.

    :raises JobError: when the chine stands above the sheer.
    """
    step = few.length_mm / (stations - 1)
    sections = tuple(_few_section(few, index * step) for index in range(stations))
    for index, ((_, keel), (_, chine), (_, sheer)) in enumerate(sections):
        if chine > sheer + 1e-6 or keel > chine + 1e-6:
            raise JobError(
                f"{index * step:.0f} mm ahead of the transom the chine, {chine:.0f} mm above the "
                f"keel line, is not between keel and sheer ({sheer:.0f} mm)",
                cure="look again at the depths, the deadrise and the beam between the chines",
                where="hull",
            )
    return HullForm(few.length_mm, sections)


def _few_section(few: FewMeasures, x: float) -> Outline:
    middle, long = few.length_mm / 2.0, few.length_mm
    stem_chine = STEM_CHINE * few.depth_bow_mm
    if x <= middle:
        share = x / middle
        chine_half = (few.chine_aft_mm + (few.chine_beam_mm - few.chine_aft_mm) * share) / 2.0
        chine = few.chine_height_aft_mm
        chine += (few.chine_height_mid_mm - few.chine_height_aft_mm) * share
        flare = (few.sheer_beam_mm - few.chine_beam_mm) / 2.0
        sheer_half = chine_half + flare
    else:
        share = (x - middle) / (long - middle)
        chine_half = few.chine_beam_mm / 2.0 * (1.0 - share**few.fullness)
        chine = few.chine_height_mid_mm + (stem_chine - few.chine_height_mid_mm) * share**2
        # The sheer is always fuller than the chine, or the flare would turn inwards.
        sheer_half = few.sheer_beam_mm / 2.0 * (1.0 - share ** (few.fullness + 0.5))
    start = STEM_SHARE * long
    keel = stem_chine * ((x - start) / (long - start)) ** 3 if x > start else 0.0
    return ((0.0, min(keel, chine)), (max(chine_half, 0.0), chine),
            (max(sheer_half, 0.0), _sheer(few, x / long)))  # fmt: skip


def _sheer(few: FewMeasures, t: float) -> float:
    """Return the parabola through the three depths at a share of the length."""
    return (
        few.depth_aft_mm * (1.0 - t) * (1.0 - 2.0 * t)
        + few.depth_mid_mm * 4.0 * t * (1.0 - t)
        + few.depth_bow_mm * t * (2.0 * t - 1.0)
    )


def sections_form(
    sections: Sequence[tuple[float, Outline]], length_mm: float, stations: int = STATIONS
) -> HullForm:
    """Return a hull through measured sections, cut anew at even distances.

    Between sections every point runs along a monotone cubic, so nothing bulges past what was
    measured. Aft of the first section it is carried on straight; ahead of the last one breadths
    run down to nothing at the stem where the last section is not there already.

    :param sections: (ahead of the transom, half outline bottom to sheer), in order.
    :param length_mm: of the hull.
    :raises JobError: for fewer than three sections, sections out of order or past the length, an
        outline whose sheer is not above its bottom.
    """
    return _cut_anew(tuple(sections), length_mm, stations)


@lru_cache(maxsize=64)
def _cut_anew(
    sections: tuple[tuple[float, Outline], ...], length_mm: float, stations: int
) -> HullForm:
    _check_sections(sections, length_mm)
    count = max(len(outline) for _, outline in sections)
    places = [ahead for ahead, _ in sections]
    outlines = [_resampled(outline, count) for _, outline in sections]
    if length_mm - places[-1] > 1.0:
        places.append(length_mm)
        outlines.append(tuple((0.0, z) for _, z in outlines[-1]))
    columns = [
        (
            _Curve(places, [outline[k][0] for outline in outlines]),
            _Curve(places, [outline[k][1] for outline in outlines]),
        )
        for k in range(count)
    ]
    step = length_mm / (stations - 1)
    cut = tuple(
        tuple((max(0.0, breadth.at(i * step)), height.at(i * step)) for breadth, height in columns)
        for i in range(stations)
    )
    return HullForm(length_mm, cut)


def _check_sections(sections: Sequence[tuple[float, Outline]], length_mm: float) -> None:
    if len(sections) < 3:
        raise JobError(
            f"there are {len(sections)} sections",
            allowed="three at least",
            cure="measure one at the transom, one amidships and one well forward",
            where="station",
        )
    for number, ((before, _), (ahead, _)) in enumerate(pairwise(sections), start=2):
        if ahead <= before:
            raise JobError(
                f"section {number} stands {ahead:.0f} mm ahead of the transom, the one before it "
                f"{before:.0f} mm",
                cure="put the sections in order from the transom forward, each place once",
                where="station, ahead",
            )
    if sections[-1][0] > length_mm + 1.0:
        raise JobError(
            f"the last section stands {sections[-1][0]:.0f} mm ahead of the transom",
            allowed=f"the hull is {length_mm:.0f} mm long",
            cure="look at that section and at the length of the hull",
            where="station, ahead",
        )
    for number, (_, outline) in enumerate(sections, start=1):
        if len(outline) < 2 or outline[-1][1] <= outline[0][1]:
            raise JobError(
                f"the sheer of section {number} is not above its bottom",
                cure="look at the heights of that section",
                where="station, sheer_height",
            )
        for (_, lower), (_, upper) in pairwise(outline):
            if upper < lower:
                raise JobError(
                    f"the heights of section {number} fall from {lower:.0f} to {upper:.0f} mm on "
                    "the way from keel to sheer",
                    cure="look at its chine: it lies between keel and sheer",
                    where="station, chine_height",
                )


def _resampled(outline: Outline, count: int) -> Outline:
    """Return an outline with as many points; those added halve its longest pieces."""
    points = list(outline)
    while len(points) < count:
        spans = [abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in pairwise(points)]
        k = spans.index(max(spans))
        (y0, z0), (y1, z1) = points[k], points[k + 1]
        points.insert(k + 1, ((y0 + y1) / 2.0, (z0 + z1) / 2.0))
    return tuple(points)


class _Curve:
    """A monotone cubic through points (Fritsch and Carlson); straight on before the first."""

    def __init__(self, xs: Sequence[float], ys: Sequence[float]) -> None:
        self.xs, self.ys = list(xs), list(ys)
        steps = [b - a for a, b in zip(self.xs, self.xs[1:], strict=False)]
        rises = [(b - a) / step for a, b, step in zip(self.ys, self.ys[1:], steps, strict=False)]
        slopes = [rises[0]]
        for k in range(1, len(rises)):
            left, right = rises[k - 1], rises[k]
            if left * right <= 0.0:
                slopes.append(0.0)
                continue
            w1, w2 = 2.0 * steps[k] + steps[k - 1], steps[k] + 2.0 * steps[k - 1]
            slopes.append((w1 + w2) / (w1 / left + w2 / right))
        slopes.append(rises[-1])
        self.slopes = slopes

    def at(self, x: float) -> float:
        """Return the curve's height at a place."""
        if x <= self.xs[0]:
            return self.ys[0] + self.slopes[0] * (x - self.xs[0])
        k = min(bisect_right(self.xs, x) - 1, len(self.xs) - 2)
        step = self.xs[k + 1] - self.xs[k]
        t = (x - self.xs[k]) / step
        return (
            self.ys[k] * (1.0 + 2.0 * t) * (1.0 - t) ** 2
            + self.slopes[k] * step * t * (1.0 - t) ** 2
            + self.ys[k + 1] * t * t * (3.0 - 2.0 * t)
            + self.slopes[k + 1] * step * t * t * (t - 1.0)
        )
