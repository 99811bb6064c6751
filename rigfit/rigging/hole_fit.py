"""How the bolt holes of a mounting stand to what is in the transom already.

Every new hole gets exactly one relation to each neighbour: it is served by an old hole, falls in a
slot, breaks into it, comes too near, or stays clear. Circles, rectangles and straight edges only,
so closed formulas do; a ligament is the material left from rim to rim.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum

from rigfit.rigging.case import Case
from rigfit.rigging.checks_holes import upper_holes_in_transom
from rigfit.rigging.findings import Limits, Verdict, at_best, worst
from rigfit.rigging.hole_pattern import Feature, HolePattern, HoleRule, drilled_features
from rigfit.rigging.job import ExistingHole
from rigfit.rigging.no_go import BoltExit, Footprint, Place, bolt_exits, place_of
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.transom_map import Opening
from rigfit.rigging.transom_outline import TransomOutline, transom_outline

CLASS_SPACING_MM = 3.0
"""Half-width of what the hole spacings differ by between makes (read: 325.1 to 330.2 mm)."""

MEDIUM_PLAY_MM = 1.5
"""Play of M12 in the 13.5 mm of its medium hole (ISO 273, read)."""

_WASHER_PLAY_MM = 2.0


class Relation(Enum):
    """What a new hole and a neighbour are to each other; exactly one holds."""

    SERVES = "serves"
    SLOT = "falls in a slot"
    BREAKS = "breaks into"
    NEAR = "too near"
    CLEAR = "clear"

    @property
    def is_reuse(self) -> bool:
        """True when the bolt goes through what is there, and nothing is drilled."""
        return self in (Relation.SERVES, Relation.SLOT)


@dataclass(frozen=True, slots=True)
class BoltSize:
    """The bolt that has to pass.

    :param diameter_mm: the chosen one's, else of the thickest that the hole is meant for.
    :param is_firm: True when somebody chose it.
    :param thinnest_mm: the thinnest that the hole is meant for, 0 where that does not matter. An
        answer that holds for thickest and thinnest holds for whichever bolt is bought.
    """

    diameter_mm: float
    is_firm: bool = False
    thinnest_mm: float = 0.0

    def best(self, old_mm: float, rule: HoleRule) -> Verdict:
        """Return the best verdict on a bolt that goes through an old hole or slot so wide, mm."""
        for_all = 0.0 < old_mm <= self.thinnest_mm + rule.loose_mm and self.thinnest_mm > 0.0
        return Verdict.FITS if self.is_firm or for_all else Verdict.TIGHT


@dataclass(frozen=True, slots=True)
class NewHole:
    """One hole of the new mounting, with how well its place is known.

    :param feature: the hole to drill.
    :param across_tolerance_mm: half-width of its place across.
    :param below_tolerance_mm: half-width of its place below the top.
    :param bracket_slot_mm: end-to-end length of the upright slot in the engine's bracket that the
        bolt passes, 0 for a round hole.
    :param is_firm: True when its place was measured on the engine.
    """

    feature: Feature
    across_tolerance_mm: float = 0.0
    below_tolerance_mm: float = 0.0
    bracket_slot_mm: float = 0.0
    is_firm: bool = True

    @property
    def slot_half_mm(self) -> float:
        """How far the bolt may sit above or below the middle of the bracket's slot."""
        return max(0.0, self.bracket_slot_mm - self.feature.diameter_mm) / 2.0


@dataclass(frozen=True, slots=True)
class OldHole:
    """One round hole that is in the transom, as measured.

    :param number: its place in the job, from 1.
    :param tolerances_mm: half-widths of across, below top and radius.
    """

    number: int
    name: str
    across_mm: float
    below_mm: float
    radius_mm: float
    tolerances_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def feature(self) -> Feature:
        """The hole as a feature, for drawings and tables."""
        return Feature(self.name, self.across_mm, self.below_mm, 2.0 * self.radius_mm)


@dataclass(frozen=True, slots=True)
class HoleRelation:
    """One new hole against one neighbour.

    :param neighbour: its name.
    :param what: "hole", "opening" or "edge".
    :param number: place of an old hole in the job, 0 for others.
    :param distance_mm: how far the bolt is off the middle of hole or slot; of an edge, how far the
        hole's centre is inside it.
    :param ligament_mm: material from rim to rim, negative where they overlap.
    :param required_mm: the ligament that is enough.
    :param play_mm: how far off the bolt may be and still pass; None where it cannot serve at all.
    :param tolerance_mm: expanded tolerance of distance and ligament.
    """

    neighbour: str
    what: str
    number: int
    relation: Relation
    distance_mm: float
    ligament_mm: float
    required_mm: float
    play_mm: float | None
    tolerance_mm: float
    verdict: Verdict

    @property
    def slack_mm(self) -> float:
        """What is in hand: of play where it serves, of material else; negative is too little."""
        if self.relation.is_reuse and self.play_mm is not None:
            return self.play_mm - self.distance_mm
        return self.ligament_mm - self.required_mm


@dataclass(frozen=True, slots=True)
class FittedHole:
    """A new hole with its relations that matter: all that are not safely clear, and the nearest.

    :param relations: worst first.
    """

    hole: NewHole
    relations: tuple[HoleRelation, ...]

    @property
    def reuse(self) -> HoleRelation | None:
        """The old hole or slot that the bolt goes through, the best centred one; None to drill."""
        found = [item for item in self.relations if item.relation.is_reuse]
        return min(found, key=lambda item: item.distance_mm, default=None)

    def against(self, *what: str) -> tuple[HoleRelation, ...]:
        """Return the relations to neighbours of some kinds ("hole", "opening", "edge")."""
        return tuple(item for item in self.relations if item.what in what)

    @property
    def verdict(self) -> Verdict:
        """Against old holes: how well it is served, else the worst of the hole to be drilled."""
        served = self.reuse
        if served is not None:
            return served.verdict
        return worst((Verdict.FITS, *(item.verdict for item in self.against("hole"))))


@dataclass(frozen=True, slots=True)
class HoleFit:
    """The whole answer on holes for one mounting; what tables and drawings need.

    :param holes: every new hole with its relations, twins and kicker included.
    :param to_fill: old holes that no bolt uses.
    :param faults: readings of old holes and openings that cannot be right, as words.
    :param exits: where the bolts come out inside.
    :param places: the no-go places inside.
    :param footprint: what bears under the nuts.
    :param outline: the transom's edges.
    :param rule: how much material must stay.
    :param bolt: the bolt that has to pass.
    :param old: the old holes, found by place.
    """

    holes: tuple[FittedHole, ...]
    to_fill: tuple[OldHole, ...]
    faults: tuple[str, ...]
    exits: tuple[BoltExit, ...]
    places: tuple[Place, ...]
    footprint: Footprint
    outline: TransomOutline
    rule: HoleRule
    bolt: BoltSize
    old: HoleGrid = field(repr=False, compare=False)

    @property
    def to_drill(self) -> tuple[FittedHole, ...]:
        """The new holes that no old one serves."""
        return tuple(item for item in self.holes if item.reuse is None)


class HoleGrid:
    """Old holes by place and size, so that the few near a point are found among thousands."""

    __slots__ = ("_cells", "holes", "largest_tolerance_mm")

    def __init__(self, holes: Sequence[OldHole]) -> None:
        self.holes = tuple(holes)
        self.largest_tolerance_mm = max(
            (expanded(*item.tolerances_mm) for item in holes), default=0
        )
        # One grid for each doubling of the radius: a few wide openings must not widen every search.
        self._cells: dict[float, dict[tuple[int, int], list[OldHole]]] = {}
        for item in holes:
            size = 2.0 ** math.ceil(math.log2(max(item.radius_mm, 8.0)))
            key = (int(item.across_mm // (4.0 * size)), int(item.below_mm // (4.0 * size)))
            self._cells.setdefault(size, {}).setdefault(key, []).append(item)

    def near(self, across_mm: float, below_mm: float, reach_mm: float) -> Iterator[OldHole]:
        """Yield the holes whose rim comes within ``reach_mm`` of a point."""
        for size, cells in self._cells.items():
            cell, wide = 4.0 * size, reach_mm + size
            left, right = int((across_mm - wide) // cell), int((across_mm + wide) // cell)
            top, bottom = int((below_mm - wide) // cell), int((below_mm + wide) // cell)
            for column in range(left, right + 1):
                for row in range(top, bottom + 1):
                    for item in cells.get((column, row), ()):
                        apart = math.hypot(item.across_mm - across_mm, item.below_mm - below_mm)
                        if apart - item.radius_mm <= reach_mm:
                            yield item


def old_holes(holes: Sequence[ExistingHole]) -> tuple[tuple[OldHole, ...], tuple[str, ...]]:
    """Return the old holes of a job, and in words those whose readings cannot be used."""
    found, faults = [], []
    for number, hole in enumerate(holes, start=1):
        name = hole.name or f"old hole {number}"
        across, below, diameter = hole.across, hole.below_top, hole.diameter
        if across is None or below is None or diameter is None:
            faults.append(f"{name} lacks its place or its diameter")
        elif diameter.value <= 0.0:
            faults.append(f"{name} has no diameter")
        else:
            spread = (across.tolerance, below.tolerance, diameter.tolerance / 2.0)
            radius = diameter.value / 2.0
            found.append(OldHole(number, name, across.value, below.value, radius, spread))
    return tuple(found), tuple(faults)


def serving_play_mm(new_mm: float, old_mm: float, bolt: BoltSize, rule: HoleRule) -> float | None:
    """Return how far two holes may be apart for the bolt to pass both; None where it never may.

    Diameters in mm. The bolt passes two round holes when their centres are no further apart than
    half the play of each. A hole much wider than the bolt lets it wander, and does not serve.
    """
    if not bolt.diameter_mm <= old_mm <= bolt.diameter_mm + rule.loose_mm:
        return None
    play = (new_mm + old_mm) / 2.0 - bolt.diameter_mm
    return play if play >= 0.0 else None


def relate_to_hole(new: NewHole, old: OldHole, rule: HoleRule, bolt: BoltSize) -> HoleRelation:
    """Return the one relation of a new hole to an old one."""
    feature = new.feature
    size = feature.diameter_mm
    across = old.across_mm - feature.across_mm
    below = old.below_mm - feature.below_top_mm
    apart = math.hypot(across, below)
    ligament = apart - size / 2.0 - old.radius_mm
    spread = expanded(new.across_tolerance_mm, new.below_tolerance_mm, *old.tolerances_mm)
    play = serving_play_mm(size, 2.0 * old.radius_mm, bolt, rule)
    off = math.hypot(across, max(0.0, abs(below) - new.slot_half_mm))
    required = rule.old_enough_d * size
    if play is not None and off <= play:
        relation = Relation.SERVES if apart <= play or not new.slot_half_mm else Relation.SLOT
        verdict = at_best(
            Limits(high=play).judge(off, spread), bolt.best(2.0 * old.radius_mm, rule)
        )
        distance = apart if relation is Relation.SERVES else off
    else:
        distance = off
        relation = _by_ligament(ligament, required)
        verdict = Limits(low=required, outer_low=rule.old_least_d * size).judge(ligament, spread)
        if play is not None and off - play <= spread:  # by the tolerance it may serve after all
            verdict = Verdict.TIGHT
    return HoleRelation(
        old.name, "hole", old.number, relation, distance, ligament, required, play, spread,
        verdict if new.is_firm else at_best(verdict, Verdict.TIGHT),
    )  # fmt: skip


def _by_ligament(ligament: float, required: float) -> Relation:
    if ligament < 0.0:
        return Relation.BREAKS
    return Relation.NEAR if ligament < required else Relation.CLEAR


def relate_to_opening(
    new: NewHole, number: int, opening: Opening, rule: HoleRule, bolt: BoltSize
) -> HoleRelation | None:
    """Return the relation of a new hole to an opening; None while a reading of it is missing.

    An opening without a height is round. A narrow one of no other use is an old slot, which the
    bolt may go through.
    """
    if opening.across is None or opening.below_top is None or opening.width is None:
        return None
    size = new.feature.diameter_mm
    wide = opening.width.value
    tall = opening.height.value if opening.height else wide
    across = abs(new.feature.across_mm - opening.across.value)
    below = abs(new.feature.below_top_mm - opening.below_top.value)
    if opening.height is None:
        gap = math.hypot(across, below) - wide / 2.0
    else:
        aside, down = across - wide / 2.0, below - tall / 2.0
        gap = math.hypot(max(aside, 0.0), max(down, 0.0)) + min(max(aside, down), 0.0)
    spread = expanded(
        new.across_tolerance_mm, new.below_tolerance_mm,
        opening.across.tolerance, opening.below_top.tolerance, opening.width.tolerance / 2.0,
    )  # fmt: skip
    ligament, required = gap - size / 2.0, rule.old_enough_d * size
    name = opening.name or f"{opening.kind} {number}"
    narrow = min(wide, tall)
    off = math.hypot(
        max(0.0, across - (wide - narrow) / 2.0), max(0.0, below - (tall - narrow) / 2.0)
    )
    is_slot = opening.kind == "other" and wide != tall
    play = serving_play_mm(size, narrow, bolt, rule) if is_slot else None
    if play is not None and off <= play:
        relation, verdict = Relation.SLOT, Limits(high=play).judge(off, spread)
        verdict = at_best(verdict, bolt.best(narrow, rule))
    else:
        relation = _by_ligament(ligament, required)
        verdict = Limits(low=required, outer_low=rule.old_least_d * size).judge(ligament, spread)
    return HoleRelation(
        name, "opening", 0, relation, off, ligament, required, play, spread,
        verdict if new.is_firm else at_best(verdict, Verdict.TIGHT),
    )  # fmt: skip


def relate_to_edges(
    new: NewHole, outline: TransomOutline, rule: HoleRule
) -> tuple[HoleRelation, ...]:
    """Return the relation of a new hole to every edge of the transom that is known."""
    feature = new.feature
    size = feature.diameter_mm
    required = rule.edge_enough_d * size
    found = []
    for edge, inside in outline.distances_mm(feature.across_mm, feature.below_top_mm):
        ligament = inside - size / 2.0
        spread = expanded(new.across_tolerance_mm, new.below_tolerance_mm, edge.tolerance_mm)
        verdict = Limits(low=required, outer_low=rule.edge_least_d * size).judge(ligament, spread)
        found.append(
            HoleRelation(
                edge.name,
                "edge",
                0,
                _by_ligament(ligament, required),
                inside,
                ligament,
                required,
                None,
                spread,
                verdict if new.is_firm else at_best(verdict, Verdict.TIGHT),
            )
        )
    return tuple(found)


def bolt_of(case: Case) -> BoltSize:
    """Return the bolt that has to pass: the chosen one, else the thickest the pattern is meant for.

    The play of a 1/2 in bolt in its close fit is the least of those meant; M12, whose medium hole
    by ISO 273 it is, has the most.
    """
    if case.job.bolting.bolt:
        return BoltSize(case.catalogue.bolt(case.job.bolting.bolt).diameter_mm, is_firm=True)
    rule = case.catalogue.hole_rule(case.job.bolting.core)
    hole = case.transom_pattern.hole_mm
    return BoltSize(hole - rule.play_mm, thinnest_mm=hole - MEDIUM_PLAY_MM)


def footprint_of(case: Case, bolt: BoltSize, rule: HoleRule) -> Footprint:
    """Return what bears under the nuts: plate or washers as chosen, else wide washers, labelled."""
    said = case.job.bolting
    if said.backing in ("plate", "plate and washers"):
        wide, high = said.plate_width, said.plate_height
        if wide is not None and high is not None:
            label = f"plate {wide.value:g} x {high.value:g} mm"
            return Footprint(label, 0.0, wide.value / 2.0, high.value / 2.0, Origin.MEASURED, "")
    need = "bolting.plate_width" if said.backing.startswith("plate") else "bolting.washer"
    if said.washer:
        outer = case.catalogue.washer(said.washer).outer_mm
        # With a plate that nobody measured the washers are only what is known to bear.
        origin = Origin.DEFAULT if said.backing.startswith("plate") else Origin.CHOSEN
        return Footprint(f"washers {outer:g} mm", outer / 2.0, origin=origin, need=need)
    most = bolt.diameter_mm + _WASHER_PLAY_MM
    outers = [
        item.outer_mm
        for item in case.catalogue.washers.values()
        if bolt.diameter_mm <= item.bore_mm <= most
    ]
    outer = max(outers, default=rule.washer_d * bolt.diameter_mm)
    return Footprint(f"wide washers {outer:.0f} mm", outer / 2.0, need=need)


def engine_centres_mm(case: Case, centre_mm: float) -> tuple[tuple[str, float], ...]:
    """Return the engines of the chosen kind with their centres: one, or twins by their names."""
    beside = case.job.neighbour
    if beside.arrangement != "twins" or beside.twin_spacing is None:
        return (("", centre_mm),)
    half = beside.twin_spacing.value / 2.0
    return (("port engine", centre_mm - half), ("starboard engine", centre_mm + half))


def new_holes(case: Case, upper: Reading, centre_mm: float) -> tuple[NewHole, ...]:
    """Return every hole the mounting needs: the engine's, its twin's and the kicker's.

    They are laid out from the same centreline as the old holes were measured from, so how well the
    engine's own centre is known does not part the two and is left out of their tolerance.

    :param upper: upper holes below the transom top, along the face.
    :param centre_mm: middle of the engine, or between the twins, + to starboard.
    :raises ValueError: for an engine whose pattern has no bolt rows.
    """
    beside = case.job.neighbour
    bracket, candidate = case.bracket is not None, case.candidate
    spacings = (None, None) if bracket else (candidate.upper_spacing, candidate.lower_spacing)
    rows = None if bracket else candidate.upper_to_lower
    twin = beside.twin_spacing.tolerance / 2.0 if beside.twin_spacing else 0.0
    found: list[NewHole] = []
    for engine, centre in engine_centres_mm(case, centre_mm):
        for feature in drilled_features(case.transom_pattern, upper.value, centre, engine):
            is_lower = "lower" in feature.name
            spacing = spacings[is_lower]
            sides = (spacing.tolerance if spacing else CLASS_SPACING_MM) / 2.0
            down = rows.tolerance if rows else CLASS_SPACING_MM
            found.append(
                NewHole(
                    feature,
                    math.hypot(sides, twin) if engine else sides,
                    math.hypot(upper.tolerance, down) if is_lower else upper.tolerance,
                    case.transom_pattern.lower_slot_mm if is_lower else 0.0,
                    spacing is not None
                    and upper.origin.is_firm
                    and (rows is not None or not is_lower),
                )
            )
    return (*found, *kicker_holes(case))


def kicker_pattern(case: Case) -> HolePattern | None:
    """Return the kicker's pattern, or None without a kicker or while it is not said."""
    beside = case.job.neighbour
    if beside.arrangement != "kicker" or not beside.kicker_pattern:
        return None
    return case.catalogue.hole_pattern(beside.kicker_pattern)


def kicker_holes(case: Case) -> tuple[NewHole, ...]:
    """Return the kicker's holes; none while its pattern, place or bolt rows are not known."""
    beside, pattern = case.job.neighbour, kicker_pattern(case)
    if pattern is None or not pattern.is_bolted:
        return ()
    if beside.kicker_across is None or beside.kicker_upper_holes is None:
        return ()
    features = drilled_features(
        pattern, beside.kicker_upper_holes.value, beside.kicker_across.value, "kicker"
    )
    sides = math.hypot(beside.kicker_across.tolerance, CLASS_SPACING_MM / 2.0)
    down = math.hypot(beside.kicker_upper_holes.tolerance, CLASS_SPACING_MM)
    return tuple(NewHole(item, sides, down, is_firm=False) for item in features)


def hole_fit(case: Case) -> HoleFit | None:
    """Return how the mounting's holes stand to what is there.

    None for an engine that clamps on, and while the height of its holes is not decided.
    :raises ProfileError: when the job names a profile that does not exist.
    """
    upper = upper_holes_in_transom(case)
    if not case.transom_pattern.is_bolted or upper is None:
        return None
    off = case.job.mounting.off_centre
    rule = case.catalogue.hole_rule(case.job.bolting.core)
    bolt = bolt_of(case)
    outline = transom_outline(case.job, case.heights.along_face)
    old, faults = old_holes(case.job.holes)
    grid = HoleGrid(old)
    planned = new_holes(case, upper, off.value if off else 0.0)
    fitted = tuple(fit_one(item, grid, case.job.openings, outline, rule, bolt) for item in planned)
    used = {item.reuse.number for item in fitted if item.reuse is not None}
    places = tuple(
        place
        for number, item in enumerate(case.job.no_go, start=1)
        if (place := place_of(number, item)) is not None
    )
    footprint = footprint_of(case, bolt, rule)
    exits = bolt_exits(
        [item.feature for item in planned],
        [expanded(item.across_tolerance_mm, item.below_tolerance_mm) for item in planned],
        places, footprint, case.job.transom.thickness, rule.drill_off_deg,
    )  # fmt: skip
    return HoleFit(
        fitted,
        tuple(item for item in old if item.number not in used),
        faults + tuple(_off_transom(old, outline)),
        exits,
        places,
        footprint,
        outline,
        rule,
        bolt,
        grid,
    )


def _off_transom(old: Iterable[OldHole], outline: TransomOutline) -> Iterator[str]:
    for item in old:
        if outline.contains(item.across_mm, item.below_mm):
            continue
        spread = expanded(*item.tolerances_mm)
        inside = outline.inside_mm(item.across_mm, item.below_mm)
        if inside is not None and inside[1] < -math.hypot(spread, expanded(inside[0].tolerance_mm)):
            yield f"{item.name} lies off the transom, beyond its {inside[0].name}"


def fit_one(
    new: NewHole,
    old: HoleGrid,
    openings: Sequence[Opening],
    outline: TransomOutline,
    rule: HoleRule,
    bolt: BoltSize,
) -> FittedHole:
    """Return one new hole with its relations: to old holes near it, all openings and all edges.

    Old holes further away than the rule and every tolerance ask for are clear, and left out.
    """
    feature = new.feature
    reach = (rule.old_enough_d + 0.5) * feature.diameter_mm + new.slot_half_mm
    # Quadrature never exceeds the sum of its parts.
    reach += expanded(new.across_tolerance_mm, new.below_tolerance_mm) + old.largest_tolerance_mm
    near = old.near(feature.across_mm, feature.below_top_mm, reach)
    found = [relate_to_hole(new, item, rule, bolt) for item in near]
    for number, opening in enumerate(openings, start=1):
        relation = relate_to_opening(new, number, opening, rule, bolt)
        found += [] if relation is None else [relation]
    found += relate_to_edges(new, outline, rule)
    found.sort(key=lambda item: (-item.verdict.rank, item.slack_mm, item.number))
    return FittedHole(new, tuple(found))
