"""Which old holes could serve the new engine, if it may hang a little higher, lower or aside.

Every pair of a new hole and an old one says where the engine would have to hang for the bolt to
pass: a small disc of places, as wide as the play. The places that serve most lie in a disc's middle
or where two discs meet, so trying just those is exact. What comes back is a trade-off between holes
reused, damage done and the height of the plate; it is not one answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from rigfit.rigging.candidate import CALIPER_MM
from rigfit.rigging.case import Case
from rigfit.rigging.checks_holes import upper_holes_in_transom
from rigfit.rigging.drilling import UPPER_EDGE_MIN_MM, DrillingChoice
from rigfit.rigging.findings import Limits, Verdict, worst
from rigfit.rigging.hole_fit import (
    BoltSize,
    FittedHole,
    HoleGrid,
    NewHole,
    OldHole,
    Relation,
    bolt_of,
    fit_one,
    footprint_of,
    new_holes,
    old_holes,
    relate_to_opening,
    serving_play_mm,
)
from rigfit.rigging.hole_pattern import HoleRule
from rigfit.rigging.mounting_options import REASON_MAKER, HeightOption, judge_plate
from rigfit.rigging.no_go import bolt_exits, place_of
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, expanded
from rigfit.rigging.transom_outline import transom_outline

SHIFT_MOST_MM = 15.0
"""Most an engine may be moved aside to meet old holes: owners judged 1/2 in off centre best left
alone, and suspected 1 in of hard steering one way (read); hence not much over the half inch."""

SHIFT_SOURCE = "shift-aside"
"""Source of that limit."""

UPPER_MOST_MM = 400.0
"""Upper holes further below the top than the job's field takes are no mounting."""

PLATE_SAME_MM = 2.0
"""A plate nearer to its target by less than this is no reason to reuse fewer holes."""

_SAME_MM = 0.05
_ON_RIM = 1.0 - 1e-9


@dataclass(frozen=True, slots=True)
class ReuseChoice:
    """One place to hang the engine, with what it reuses, what it costs and where the plate lands.

    :param upper_below_top_mm: upper holes below the transom top, along the face.
    :param shift_mm: how far the engine is moved aside from where the job wants it, + to starboard.
    :param row: bolt row that then brings the plate nearest to the target.
    :param setting_mm: setting of an adjustable bracket, 0 without one.
    :param reused: places in the job (from 1) of the old holes that bolts go through.
    :param broken: new holes that would break into an old hole or an opening.
    :param too_near: new holes that would come too near to one.
    :param plate_mm: plate above the keel line, None while a reading is missing.
    :param off_target_mm: plate above (+) or below (-) the target band, 0 inside; None likewise.
    :param plate_verdict: the answer for the plate.
    :param verdict: the worst of plate, holes, edges and what is inside.
    :param reason: why the plate is not better, in a few words; "" where it fits.
    """

    upper_below_top_mm: float
    shift_mm: float
    row: int
    setting_mm: float
    reused: tuple[int, ...]
    broken: int
    too_near: int
    plate_mm: float | None
    off_target_mm: float | None
    plate_verdict: Verdict
    verdict: Verdict
    reason: str

    @property
    def damage(self) -> int:
        """New holes that break into something or come too near to it."""
        return self.broken + self.too_near


@dataclass(frozen=True, slots=True)
class _Disc:
    """Where the engine may hang for one bolt to pass one old hole: (shift, upper holes)."""

    shift: float
    upper: float
    radius: float


@dataclass(frozen=True, slots=True)
class _Tally:
    """What one place to hang the engine does to the holes; no tolerances yet."""

    reused: tuple[int, ...]
    broken: int
    too_near: int


def reuse_choices(
    case: Case,
    options: Sequence[HeightOption],
    drilling: Sequence[DrillingChoice] = (),
    grid: HoleGrid | None = None,
) -> tuple[ReuseChoice, ...]:
    """Return the choices that no other beats in holes reused, damage and plate at once.

    Most reused first. Looks at every height option, at moves of up to ``SHIFT_MOST_MM`` aside and
    at upper holes no nearer to the top than the trade's least. Empty without old holes, for an
    engine that clamps on, and where no option is possible.

    :param options: every height option of the case.
    :param drilling: heights for a bare transom, tried as they are.
    :param grid: the old holes by place, where a hole fit has them already.
    :raises ProfileError: when the job names a profile that does not exist.
    """
    if not case.job.holes or not case.transom_pattern.is_bolted:
        return ()
    search = _Search.of(case, options, grid)
    wanted = upper_holes_in_transom(case)
    places = [(0.0, choice.upper_below_top_mm) for choice in drilling]
    places += [(0.0, wanted.value)] if wanted is not None else []
    places += search.places()
    best: dict[tuple[int, int], tuple[tuple[float, ...], tuple[float, float]]] = {}
    for shift, upper in places:
        plate = search.plates.nearest(upper)
        if plate is None:
            continue
        tally = search.tally(shift, upper)
        key = len(tally.reused), tally.broken + tally.too_near
        cost = (round(plate.off, 1), abs(shift), plate.from_middle)
        if key not in best or cost < best[key][0]:
            best[key] = cost, (shift, upper)
    front = [
        place
        for (reused, damage), (cost, place) in best.items()
        if not any(
            more >= reused
            and less <= damage
            and (more, less) != (reused, damage)
            and other[0] <= cost[0] + PLATE_SAME_MM
            for (more, less), (other, _) in best.items()
        )
    ]
    found = [search.choice(*place) for place in front]
    return tuple(
        sorted(found, key=lambda item: (-len(item.reused), item.damage, abs(item.shift_mm)))
    )


@dataclass(frozen=True, slots=True)
class _Nearest:
    """The height option that brings the plate nearest to the target for some upper holes."""

    option: HeightOption
    plate: Estimate | None
    off: float
    from_middle: float


class _Plates:
    """Plate heights of every option, moved with the upper holes.

    Upper holes lower by 1 mm lower the seat by 1 mm along the face, whatever carries it.
    """

    def __init__(self, case: Case, options: Sequence[HeightOption]) -> None:
        self._case = case
        self._options = options
        wanted = upper_holes_in_transom(case) if case.bracket else case.upper_holes
        self._upper = wanted.value if wanted is not None else case.upper_holes.value
        rake = case.job.transom.rake
        self._slope = math.cos(math.radians(rake.value)) if rake else 1.0
        self._found: dict[float, _Nearest | None] = {}
        self._middle = case.band.middle_mm if case.band else 0.0
        # As plain numbers, for a plate is asked for at every place of the search.
        self._each = [
            (item, item.lift.value, item.plate.value if item.plate else None, least)
            for item in options
            if (least := self._least_lift(item)) is not None
        ]

    def _least_lift(self, option: HeightOption) -> float | None:
        """Return the least lift an option may come to, or None where it is never to be had.

        Behind a bracket the hook rests on the bracket, which moves with its own holes.
        """
        if self._case.bracket is not None:
            is_possible = option.is_possible or option.reason == REASON_MAKER
            return -math.inf if is_possible else None
        return -option.lift.tolerance if option.row else -math.inf

    def nearest(self, upper_mm: float) -> _Nearest | None:
        """Return the possible option nearest to the target, or None when there is none."""
        key = round(upper_mm, 2)
        if key not in self._found:
            self._found[key] = self._search(upper_mm)
        return self._found[key]

    def _search(self, upper_mm: float) -> _Nearest | None:
        down, most = upper_mm - self._upper, self._case.candidate.max_lift
        highest = most.value if most is not None else math.inf
        best, least_off = None, math.inf
        for option, lift, plate, least in self._each:
            if not least <= lift - down <= highest:
                continue
            # The band is even about its middle, so the nearest to the middle is the nearest to it.
            off = option.row if plate is None else abs(plate - down * self._slope - self._middle)
            if off < least_off:
                best, least_off = option, off
        return None if best is None else self._at(best, upper_mm)

    def _at(self, option: HeightOption, upper_mm: float) -> _Nearest:
        band = self._case.band
        if option.plate is None or band is None:
            return _Nearest(option, option.plate, 0.0, float(option.row))
        height = option.plate.value - (upper_mm - self._upper) * self._slope
        plate = replace(option.plate, value=height)
        return _Nearest(option, plate, abs(band.off_mm(height)), abs(height - band.middle_mm))

    def judged(self, nearest: _Nearest, upper_mm: float) -> tuple[Verdict, str]:
        """Return the verdict on a plate whose upper holes are those that are there."""
        plate = nearest.plate
        if plate is None:
            return judge_plate(self._case, None, self._case.band)
        taped = Reading(upper_mm, CALIPER_MM, Origin.MEASURED)
        shares = tuple(
            replace(share, reading=taped)
            if share.name == "upper_holes" and not share.reading.origin.is_firm
            else share
            for share in plate.shares
        )
        changed = any(new is not old for new, old in zip(shares, plate.shares, strict=True))
        spread = math.hypot(plate.tolerance, expanded(CALIPER_MM)) if changed else plate.tolerance
        return judge_plate(self._case, Estimate(plate.value, spread, shares), self._case.band)


class _Search:
    """What a search needs at hand: the new holes at shift 0 and upper 0, the old ones by place."""

    def __init__(
        self, case: Case, new: Sequence[NewHole], grid: HoleGrid, rule: HoleRule, bolt: BoltSize,
        plates: _Plates,
    ) -> None:  # fmt: skip
        self._case, self._new, self._grid, self._rule, self._bolt = case, new, grid, rule, bolt
        self.plates = plates
        self._outline = transom_outline(case.job, case.heights.along_face)
        self._plays = {
            (size, item.number): play
            for size in {item.feature.diameter_mm for item in new}
            for item in grid.holes
            if (play := serving_play_mm(size, 2.0 * item.radius_mm, bolt, rule)) is not None
        }
        self._openings = [
            (number, item, math.hypot(item.width.value, (item.height or item.width).value) / 2.0)
            for number, item in enumerate(case.job.openings, start=1)
            if item.across is not None and item.below_top is not None and item.width is not None
        ]
        self._cell = max(1.0, *self._plays.values()) if self._plays else 1.0
        self._serving: dict[tuple[int, int], list[OldHole]] = {}
        able = {number for _, number in self._plays}
        for item in grid.holes:
            if item.number in able:
                key = int(item.across_mm // self._cell), int(item.below_mm // self._cell)
                self._serving.setdefault(key, []).append(item)

    @classmethod
    def of(cls, case: Case, options: Sequence[HeightOption], grid: HoleGrid | None) -> _Search:
        off = case.job.mounting.off_centre
        wanted = upper_holes_in_transom(case)
        # Elsewhere the holes are marked with the care that the wanted ones were measured with.
        care = wanted.tolerance if wanted is not None else CALIPER_MM
        taped = Reading(0.0, care, Origin.MEASURED)
        every = new_holes(case, taped, off.value if off else 0.0)
        new = [item for item in every if item.feature.engine != "kicker"]
        rule = case.catalogue.hole_rule(case.job.bolting.core)
        if grid is None:
            grid = HoleGrid(old_holes(case.job.holes)[0])
        return cls(case, new, grid, rule, bolt_of(case), _Plates(case, options))

    def places(self) -> list[tuple[float, float]]:
        """Return every (shift, upper holes) worth trying, each once."""
        discs = list(self._discs())
        found = [(disc.shift, disc.upper) for disc in discs]
        found += [place for pair in _meeting(discs) for place in _crossings(*pair)]
        kept = {
            (round(shift / _SAME_MM), round(upper / _SAME_MM)): (shift, upper)
            for shift, upper in found
            if abs(shift) <= SHIFT_MOST_MM and UPPER_EDGE_MIN_MM <= upper <= UPPER_MOST_MM
        }
        return list(kept.values())

    def _discs(self) -> Iterator[_Disc]:
        """Yield the discs that reach into the allowed moves, their middles drawn inside."""
        for new in self._new:
            size = new.feature.diameter_mm
            for old in self._grid.holes:
                shift = old.across_mm - new.feature.across_mm
                radius = self._plays.get((size, old.number))
                if radius is None or abs(shift) > SHIFT_MOST_MM + radius:
                    continue
                upper = old.below_mm - new.feature.below_top_mm
                if not UPPER_EDGE_MIN_MM - radius <= upper <= UPPER_MOST_MM + radius:
                    continue
                if self.plates.nearest(upper) is not None:
                    shift = min(SHIFT_MOST_MM, max(-SHIFT_MOST_MM, shift))
                    yield _Disc(shift, max(UPPER_EDGE_MIN_MM, upper), radius)

    def moved(self, shift_mm: float, upper_mm: float) -> tuple[NewHole, ...]:
        """Return the new holes with the engine moved there."""
        return tuple(
            replace(
                item,
                feature=replace(
                    item.feature,
                    across_mm=item.feature.across_mm + shift_mm,
                    below_top_mm=item.feature.below_top_mm + upper_mm,
                ),
            )
            for item in self._new
        )

    def tally(self, shift_mm: float, upper_mm: float) -> _Tally:
        """Return what is reused, broken into and come too near to, by the readings as they are."""
        reused, broken, too_near = [], 0, 0
        for new in self._new:
            x = new.feature.across_mm + shift_mm
            y = new.feature.below_top_mm + upper_mm
            number = self._server(new, x, y)
            if number:
                reused.append(number)
                continue
            kind = self._harm(new, x, y)
            broken += kind is Relation.BREAKS
            too_near += kind is Relation.NEAR
        return _Tally(tuple(reused), broken, too_near)

    def _server(self, new: NewHole, x: float, y: float) -> int:
        """Return the old hole that best serves a new one at a place, 0 for none."""
        size, slot = new.feature.diameter_mm, new.slot_half_mm
        cell, column = self._cell, int(x // self._cell)
        first, last = int((y - slot) // cell) - 1, int((y + slot) // cell) + 1
        serving, least = 0, math.inf
        for key in ((i, j) for i in range(column - 1, column + 2) for j in range(first, last + 1)):
            for old in self._serving.get(key, ()):
                below = max(0.0, abs(old.below_mm - y) - slot)
                off = math.hypot(old.across_mm - x, below)
                if off < least and off <= self._plays.get((size, old.number), -1.0):
                    serving, least = old.number, off
        return serving

    def _harm(self, new: NewHole, x: float, y: float) -> Relation:
        """Return what a hole drilled at a place would do to its old neighbours and openings."""
        size = new.feature.diameter_mm
        required = self._rule.old_enough_d * size
        is_near = False
        for old in self._grid.near(x, y, size / 2.0 + required):
            ligament = math.hypot(old.across_mm - x, old.below_mm - y) - old.radius_mm - size / 2.0
            if ligament < 0.0:
                return Relation.BREAKS
            is_near = is_near or ligament < required
        for number, item, reach in self._openings:
            assert item.across and item.below_top  # noqa: S101 - only whole ones are listed
            if math.hypot(item.across.value - x, item.below_top.value - y) > reach + 2.0 * required:
                continue
            moved = replace(new, feature=replace(new.feature, across_mm=x, below_top_mm=y))
            found = relate_to_opening(moved, number, item, self._rule, self._bolt)
            if found is not None and found.relation is Relation.BREAKS:
                return Relation.BREAKS
            is_near = is_near or (found is not None and found.relation is Relation.NEAR)
        return Relation.NEAR if is_near else Relation.CLEAR

    def choice(self, shift_mm: float, upper_mm: float) -> ReuseChoice:
        """Return the finished choice for one place, with tolerances and all that is inside."""
        shift_mm, upper_mm = self._centred(shift_mm, upper_mm)
        nearest = self.plates.nearest(upper_mm)
        assert nearest is not None  # noqa: S101 - only such places are kept
        plate_verdict, reason = self.plates.judged(nearest, upper_mm)
        tally = self.tally(shift_mm, upper_mm)
        plate, band = nearest.plate, self._case.band
        return ReuseChoice(
            upper_below_top_mm=upper_mm,
            shift_mm=shift_mm,
            row=nearest.option.row,
            setting_mm=nearest.option.setting_mm,
            reused=tally.reused,
            broken=tally.broken,
            too_near=tally.too_near,
            plate_mm=plate.value if plate else None,
            off_target_mm=band.off_mm(plate.value) if plate and band else None,
            plate_verdict=plate_verdict,
            verdict=worst((plate_verdict, *self._verdicts(shift_mm, upper_mm))),
            reason=reason,
        )

    def _centred(self, shift_mm: float, upper_mm: float) -> tuple[float, float]:
        """Return the place from which the bolts that pass have the most play left."""
        tally = self.tally(shift_mm, upper_mm)
        if not tally.reused:
            return shift_mm, upper_mm
        by_number = {item.number: item for item in self._grid.holes}
        offs = []
        for new in self._new:
            x, y = new.feature.across_mm + shift_mm, new.feature.below_top_mm + upper_mm
            number = self._server(new, x, y)
            if number and not new.slot_half_mm:
                old = by_number[number]
                offs.append((old.across_mm - x, old.below_mm - y))
        if not offs:
            return shift_mm, upper_mm
        shift = shift_mm + (min(x for x, _ in offs) + max(x for x, _ in offs)) / 2.0
        upper = upper_mm + (min(y for _, y in offs) + max(y for _, y in offs)) / 2.0
        shift = min(SHIFT_MOST_MM, max(-SHIFT_MOST_MM, shift))
        upper = max(UPPER_EDGE_MIN_MM, upper)
        shift, upper = round(shift, 6) + 0.0, round(upper, 6)
        same = self.tally(shift, upper) == tally and self.plates.nearest(upper) is not None
        return (shift, upper) if same else (shift_mm, upper_mm)

    def _verdicts(self, shift_mm: float, upper_mm: float) -> Iterator[Verdict]:
        """Yield the verdicts on old holes, openings, edges, sound zone and places inside."""
        job, rule = self._case.job, self._rule
        moved = self.moved(shift_mm, upper_mm)
        for item in moved:
            fitted = fit_one(item, self._grid, job.openings, self._outline, rule, self._bolt)
            yield fitted.verdict
            yield from _edge_verdicts(fitted)
            if job.transom.lowest_bolt is not None:
                lowest = job.transom.lowest_bolt
                spread = expanded(item.below_tolerance_mm, lowest.tolerance)
                yield Limits(high=lowest.value).judge(item.feature.below_top_mm, spread)
        places = [place_of(number, item) for number, item in enumerate(job.no_go, start=1)]
        exits = bolt_exits(
            [item.feature for item in moved],
            [expanded(item.across_tolerance_mm, item.below_tolerance_mm) for item in moved],
            [place for place in places if place is not None],
            footprint_of(self._case, self._bolt, rule), job.transom.thickness, rule.drill_off_deg,
        )  # fmt: skip
        yield from (item.verdict for item in exits)


def _edge_verdicts(fitted: FittedHole) -> Iterator[Verdict]:
    yield from (item.verdict for item in fitted.against("edge"))
    if fitted.reuse is None:
        yield from (item.verdict for item in fitted.against("opening"))


def _meeting(discs: Sequence[_Disc]) -> Iterator[tuple[_Disc, _Disc]]:
    """Yield every pair of discs that overlap, found by place."""
    wide = 2.0 * max((disc.radius for disc in discs), default=1.0) or 1.0
    cells: dict[tuple[int, int], list[_Disc]] = {}
    for disc in discs:
        column, row = int(disc.shift // wide), int(disc.upper // wide)
        for x in (column - 1, column, column + 1):
            for y in (row - 1, row, row + 1):
                for other in cells.get((x, y), ()):
                    apart = math.hypot(disc.shift - other.shift, disc.upper - other.upper)
                    if apart <= disc.radius + other.radius:
                        yield disc, other
        cells.setdefault((column, row), []).append(disc)


def _crossings(first: _Disc, second: _Disc) -> Iterable[tuple[float, float]]:
    """Return the middle of two discs' overlap and the two points where their rims cross."""
    across, down = second.shift - first.shift, second.upper - first.upper
    apart = math.hypot(across, down)
    if apart < 1e-9:
        return ()
    # A hair inside the rims, so that rounding does not put the point outside both.
    one, two = first.radius * _ON_RIM, second.radius * _ON_RIM
    along = (apart * apart + one * one - two * two) / (2.0 * apart)
    high = one * one - along * along
    along_x, along_y = across / apart, down / apart
    near, far = max(-first.radius, apart - second.radius), min(first.radius, apart + second.radius)
    middle = (near + far) / 2.0
    places = [(first.shift + middle * along_x, first.upper + middle * along_y)]
    if high > 0.0:
        rise = math.sqrt(high)
        foot = first.shift + along * along_x, first.upper + along * along_y
        places += [
            (foot[0] - side * rise * along_y, foot[1] + side * rise * along_x)
            for side in (-1.0, 1.0)
        ]
    return places
