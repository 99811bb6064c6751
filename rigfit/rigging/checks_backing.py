"""Checks 704 to 707: what is under the nuts, the holes, the backing plate, the metals together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from rigfit.rigging.bolt_findings import (
    bolt_of,
    core_of,
    grade_of,
    kilonewtons,
    megapascals,
    no_pattern,
    waiting,
)
from rigfit.rigging.bolting import (
    SKIN_LIMIT,
    clamp_force,
    hole_of_mm,
    missing,
    ring_area_mm2,
    spread_mm,
    stack_needs,
    uses_plate,
    washer_of,
)
from rigfit.rigging.case import Case
from rigfit.rigging.checks_holes import upper_holes_in_transom
from rigfit.rigging.fasteners import Bolt, BoltGrade, Core
from rigfit.rigging.findings import Finding, Limits, Phrase, Verdict, at_best, mm, phrase
from rigfit.rigging.hole_pattern import HolePattern
from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import Estimate, expanded
from rigfit.units import Kind

EDGE_BOLTS = 1.5
"""Bolt diameters from a bolt's middle to the edge of its plate (common practice)."""

DRILL_MM = 0.05
"""What tells inch from metric drills of one size; it means nothing to a bolt."""

LOOSE_SHARE = 1.3
"""A hole wider than this many bolts is the wrong hole; coarse fits end at 1.22 (estimate)."""

TRIED_TO_JOIN = 0.6
"""A plate wider than this share of a spacing is taken as meant to join both bolts."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How one direction of a plate stands to the bolts.

    :param joins: True when the plate spans both bolts of that direction.
    :param edge_mm: from a bolt's middle to the plate's edge.
    :param is_odd: True when it is too large for one bolt and too small for two.
    """

    joins: bool
    edge_mm: float
    is_odd: bool = False


@dataclass(frozen=True, slots=True)
class Rectangle:
    """An upright rectangle on the transom, mm across (+ starboard) and below the top."""

    left: float
    right: float
    upper: float
    lower: float

    def overlaps(self, other: Rectangle, spare_mm: float = 0.0) -> bool:
        """True when the two come nearer to each other than ``spare_mm``."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.lower, other.lower) - max(self.upper, other.upper)
        return across > -spare_mm and down > -spare_mm


def reach(size_mm: float, spacing_mm: float) -> Reach:
    """Return how a plate of a size stands to two bolts a spacing apart."""
    if size_mm > spacing_mm:
        return Reach(joins=True, edge_mm=(size_mm - spacing_mm) / 2.0)
    return Reach(joins=False, edge_mm=size_mm / 2.0, is_odd=size_mm > TRIED_TO_JOIN * spacing_mm)


def plates(
    pattern: HolePattern, width_mm: float, height_mm: float, upper_mm: float, off_mm: float = 0.0
) -> tuple[Rectangle, ...]:
    """Return where backing plates of one size lie: one for all bolts, for a pair, or for each.

    :param upper_mm: upper bolts below the transom top.
    :param off_mm: the engine's own centre, + to starboard.
    """
    lower_mm = upper_mm + pattern.lower_below_upper_mm
    levels: tuple[tuple[float, float], ...] = (
        (upper_mm, pattern.upper_spacing_mm),
        (lower_mm, pattern.lower_spacing_mm),
    )
    if reach(height_mm, pattern.lower_below_upper_mm).joins:
        widest = max(spacing for _, spacing in levels)
        levels = (((upper_mm + lower_mm) / 2.0, widest),)
    boxes = []
    for level, spacing in levels:
        joined = reach(width_mm, spacing).joins
        for middle in (off_mm,) if joined else (off_mm - spacing / 2.0, off_mm + spacing / 2.0):
            half, tall = width_mm / 2.0, height_mm / 2.0
            boxes.append(Rectangle(middle - half, middle + half, level - tall, level + tall))
    return tuple(boxes)


def check_backing_plate(case: Case) -> tuple[Finding, ...]:
    """706: does the plate reach past its bolts, and does it lie clear inside?"""
    if not uses_plate(case):
        return ()
    needs = ("bolting.bolt", "bolting.plate_width", "bolting.plate_height")
    lacking = missing(case, *needs)
    if lacking:
        return (waiting(case, 706, "backing plate", "plate-edge", lacking),)
    if not case.transom_pattern.is_bolted:
        return (no_pattern(case, 706, "backing plate"),)
    found = partial(
        Finding,
        code=706,
        subject=case.candidate.id,
        title="backing plate",
        source="plate-edge",
        needs=needs,
    )
    return (_plate(case, found),)


def least_edge_mm(case: Case) -> float:
    """Return how far a plate must reach past a bolt's middle: its washer, and 1 1/2 bolts."""
    bolt, washer = case.catalogue.bolt(case.job.bolting.bolt), washer_of(case)
    seat = washer.outer_mm if washer else bolt.flats_mm
    return max(seat / 2.0, EDGE_BOLTS * bolt.diameter_mm)


def _plate(case: Case, found: partial[Finding]) -> Finding:
    bolting, pattern = case.job.bolting, case.transom_pattern
    width, height = bolting.plate_width, bolting.plate_height
    assert width is not None and height is not None  # noqa: S101 - the caller looked
    across = [reach(width.value, pattern.upper_spacing_mm)]
    across.append(reach(width.value, pattern.lower_spacing_mm))
    down = reach(height.value, pattern.lower_below_upper_mm)
    if down.joins:
        across = [reach(width.value, max(pattern.upper_spacing_mm, pattern.lower_spacing_mm))]
    edge = min(item.edge_mm for item in (*across, down))
    least = least_edge_mm(case)
    spread = expanded(*_half_widths(case, width, height))
    limits = Limits(low=least)
    verdict = limits.judge(edge, spread)
    text = "The plate, {count}, goes {edge} past the middle of its bolts; {least} is the least."
    if any(item.is_odd for item in (*across, down)):
        verdict = at_best(verdict, Verdict.TIGHT)
        text += " It is too large for one bolt and too small to join two."
    trouble = tuple(_troubles(case, width.value, height.value))
    if trouble:
        verdict, text = Verdict.STOPS, text + " It does not lie clear: {trouble}."
    elif upper_holes_in_transom(case) is None:
        verdict = at_best(verdict, Verdict.TIGHT)
        text += " Where it lies is not decided, so nothing is said of what is in its way."
    if not (case.pattern_is_measured and case.bracket is None):
        verdict = at_best(verdict, Verdict.TIGHT)
    return found(
        verdict=verdict,
        sentence=phrase(
            text,
            count=_count(across, down),
            edge=mm(edge),
            least=mm(least),
            trouble=", ".join(trouble),
        ),
        value=edge,
        low=least,
        margin=limits.margin(edge),
        tolerance=spread,
        settle=None
        if verdict is Verdict.FITS
        else phrase("Cut the plate in card, hold it inside over the holes, and look round it."),
    )


def _count(across: list[Reach], down: Reach) -> str:
    joined = [item.joins for item in across]
    if down.joins:
        return "one for all four bolts" if joined[0] else "one for each upright pair"
    if all(joined):
        return "one for each row of bolts"
    return "one for two bolts below and one for each above" if any(joined) else "one for each bolt"


def _half_widths(case: Case, width: Reading, height: Reading) -> tuple[float, ...]:
    """Return the tolerances that enter the edge: half of each size, half of each spacing."""
    spacings = (
        case.candidate.upper_spacing,
        case.candidate.lower_spacing,
        case.candidate.upper_to_lower,
    )
    worst = max((item.tolerance for item in spacings if item is not None), default=0.0)
    return max(width.tolerance, height.tolerance) / 2.0, worst / 2.0


def _troubles(case: Case, width_mm: float, height_mm: float) -> Iterator[str]:
    """Yield what the plates run into inside, in words."""
    holes = upper_holes_in_transom(case)
    if holes is None:
        return
    off = case.job.mounting.off_centre
    boxes = plates(
        case.transom_pattern, width_mm, height_mm, holes.value, off.value if off else 0.0
    )
    if any(box.upper < 0.0 for box in boxes):
        yield "it stands above the transom top"
    for name, other in _obstacles(case):
        if any(box.overlaps(other) for box in boxes):
            yield f"{name} is in its way"


def _obstacles(case: Case) -> Iterator[tuple[str, Rectangle]]:
    for place in case.job.no_go:
        sides = (place.across_from, place.across_to, place.below_from, place.below_to)
        if any(side is None for side in sides):
            continue
        left, right, upper, lower = (side.value for side in sides if side is not None)
        box = Rectangle(min(left, right), max(left, right), min(upper, lower), max(upper, lower))
        yield place.name or place.kind, box
    for item in case.job.openings:
        if item.across is None or item.below_top is None or item.width is None:
            continue
        wide = item.width.value / 2.0
        tall = item.height.value / 2.0 if item.height else wide
        x, y = item.across.value, item.below_top.value
        yield item.name or item.kind, Rectangle(x - wide, x + wide, y - tall, y + tall)


# ------------------------------------------------------------------------------ 704 bearing


def check_bearing(case: Case) -> tuple[Finding, ...]:
    """704: what the nuts press into the core, if the skins carried nothing."""
    title = "bearing under the nuts"
    needs = ("bolting.bolt", "bolting.grade", "bolting.core", *stack_needs(case)[2:])
    lacking = missing(case, *needs)
    if lacking:
        return (waiting(case, 704, title, "transom-torque", lacking),)
    bolt, grade, core = bolt_of(case), grade_of(case), core_of(case)
    assert bolt is not None and grade is not None and core is not None  # noqa: S101
    force = clamp_force(case, bolt, grade)
    if force is None:
        return (waiting(case, 704, title, grade.proof_source, ("bolting.torque",)),)
    seat = _seat(case, bolt)
    area = ring_area_mm2(seat, max(hole_of_mm(case), bolt.diameter_mm))
    if core.bearing_mpa is None or area <= 0.0:
        return (_no_core_figure(case, core, force, area),)
    return (_bearing(case, core, force, area, seat, needs),)


def _seat(case: Case, bolt: Bolt) -> float:
    """Return the diameter over which a nut presses on the transom, mm."""
    washer, plate = washer_of(case), case.job.bolting.plate_thickness
    seat = washer.outer_mm if washer else bolt.flats_mm
    return spread_mm(seat, plate.value) if uses_plate(case) and plate else seat


def _no_core_figure(case: Case, core: Core, force: Estimate, area: float) -> Finding:
    pressing = f", {megapascals(force.value / area)} under each nut" if area > 0.0 else ""
    return Finding(
        code=704,
        subject=case.candidate.id,
        title="bearing under the nuts",
        verdict=Verdict.UNKNOWN,
        sentence=phrase(
            "What {core} bears was not found in print; the bolts press with {force}{pressing}.",
            core=core.name,
            force=kilonewtons(force.value),
            pressing=pressing,
        ),
        source=core.source,
        needs=("bolting.core", "bolting.washer"),
        settle=phrase(
            "Ask the builder for the core's bearing strength. Tighten to the maker's torque and "
            "watch: if the wrench stops rising or the skin dents, fit larger plates."
        ),
    )


def _even_area(case: Case, local_mm2: float) -> float | None:
    """Return a plate's whole area for each of its bolts; None while its size is not known.

    Without a plate there is nothing beyond the washer to spread the load over.
    """
    bolting, pattern = case.job.bolting, case.transom_pattern
    if not uses_plate(case):
        return local_mm2
    if bolting.plate_width is None or bolting.plate_height is None or not pattern.is_bolted:
        return None
    wide, high = bolting.plate_width.value, bolting.plate_height.value
    bolts = 2.0 if reach(wide, pattern.upper_spacing_mm).joins else 1.0
    bolts *= 2.0 if reach(high, pattern.lower_below_upper_mm).joins else 1.0
    return max(local_mm2, wide * high / bolts)


def _bearing(
    case: Case, core: Core, force: Estimate, area: float, seat: float, needs: tuple[str, ...]
) -> Finding:
    assert core.bearing_mpa is not None  # noqa: S101 - the caller looked
    pressure, spread = force.value / area, force.tolerance / area
    ratio = pressure / core.bearing_mpa
    even = _even_area(case, area)
    text = (
        "Under each nut {force} press with {pressure} over {seat}; {core} alone bears "
        "{bearing} ({basis}). "
    )
    verdict = Verdict.TIGHT
    if even is not None and force.value / even > SKIN_LIMIT * core.bearing_mpa:
        verdict = Verdict.STOPS
        text += "The skin would have to carry over nine tenths of it: fit a larger plate."
    elif ratio > 1.0:
        text += "The rest is for skins and plate to spread, which rigfit cannot reckon."
    else:
        text += "That is within the figure; a core nobody sees is never passed on a figure alone."
    return Finding(
        code=704,
        subject=case.candidate.id,
        title="bearing under the nuts",
        verdict=verdict,
        sentence=phrase(
            text,
            force=kilonewtons(force.value),
            pressure=megapascals(pressure),
            seat=mm(seat),
            core=core.name,
            bearing=megapascals(core.bearing_mpa),
            basis=core.basis,
        ),
        source=core.source,
        kind=Kind.RATIO,
        value=ratio,
        high=1.0,
        margin=1.0 - ratio,
        tolerance=spread / core.bearing_mpa,
        needs=needs,
        settle=phrase(
            "Tighten in steps to the maker's torque and watch: where the wrench stops rising or "
            "the skin dents, stop and enlarge the plate. Wet or soft core: stop."
        ),
        working=_bearing_working(case, force, area, seat, even),
    )


def _bearing_working(
    case: Case, force: Estimate, area: float, seat: float, even: float | None
) -> tuple[Phrase, ...]:
    given = case.job.bolting.torque is not None
    lines = [
        phrase(
            "{force} is {why}.",
            force=kilonewtons(force.value),
            why="the preload of the maker's torque at middling friction"
            if given
            else "75 % of the bolt's proof load, as no maker's torque is filled in",
        ),
        phrase(
            "Area {area}: a ring of {seat} round the hole"
            + (", spread at 45° through the plate." if uses_plate(case) else "."),
            area=f"{area:.0f} mm²",
            seat=mm(seat),
        ),
    ]
    if even is not None and uses_plate(case):
        lines.append(
            phrase(
                "Spread evenly over the whole plate, which only a thick one does: {pressure}.",
                pressure=megapascals(force.value / even),
            )
        )
    return tuple(lines)


# ------------------------------------------------------------------------------ 705 clearance


def check_clearance(case: Case) -> tuple[Finding, ...]:
    """705: does the bolt go through the hole, and is the hole not too wide for it?"""
    title = "bolt in its hole"
    lacking = missing(case, "bolting.bolt")
    if lacking:
        return (waiting(case, 705, title, "iso-273", lacking),)
    bolt, hole = case.catalogue.bolt(case.job.bolting.bolt), hole_of_mm(case)
    if hole <= 0.0:
        return (no_pattern(case, 705, title),)
    verdict, fit = fit_of(bolt, hole)
    text = "A hole of {hole} for {bolt} is {fit}; {play} of play."
    washer = washer_of(case)
    if washer is not None and washer.bore_mm < bolt.diameter_mm:
        verdict, text = Verdict.STOPS, text + " The washer does not go over the bolt."
    elif washer is not None and washer.bore_mm > bolt.diameter_mm * 1.25:
        verdict = at_best(verdict, Verdict.TIGHT)
        text += " The washer's own hole is wide for this bolt."
    low = bolt.holes_mm[0] - DRILL_MM if bolt.holes_mm else bolt.diameter_mm
    high = bolt.holes_mm[-1] + DRILL_MM if bolt.holes_mm else None
    return (
        Finding(
            code=705,
            subject=case.candidate.id,
            title=title,
            verdict=verdict,
            sentence=phrase(
                text,
                hole=f"{hole:g} mm",
                bolt=bolt.name,
                fit=fit,
                play=mm(hole - bolt.diameter_mm),
            ),
            source=bolt.source,
            value=hole,
            low=low,
            high=high,
            margin=Limits(low, high).margin(hole),
            tolerance=expanded(0.0),
            needs=("bolting.bolt",),
            settle=None
            if verdict is Verdict.FITS
            else phrase("Push the bolt through an old hole, and ask the maker for the drill."),
        ),
    )


def fit_of(bolt: Bolt, hole_mm: float) -> tuple[Verdict, str]:
    """Return how a bolt goes through a hole: the verdict and the fit in words."""
    if hole_mm < bolt.diameter_mm:
        return Verdict.STOPS, "too small: the bolt does not go in"
    if hole_mm > LOOSE_SHARE * bolt.diameter_mm:
        return Verdict.STOPS, "far too wide: another bolt, or a sleeve"
    if not bolt.holes_mm:
        return Verdict.TIGHT, "not on any list: its standard has no hole for this size"
    passed = [name for name, hole in zip(bolt.fits, bolt.holes_mm, strict=True)
              if hole <= hole_mm + DRILL_MM]  # fmt: skip
    if not passed:
        return Verdict.TIGHT, f"tighter than the {bolt.fits[0]} fit"
    if hole_mm > bolt.holes_mm[-1] + DRILL_MM:
        return Verdict.TIGHT, f"wider than the {bolt.fits[-1]} fit"
    return Verdict.FITS, f"the {passed[-1]} fit"


# ------------------------------------------------------------------------------ 707 metals


def check_metals(case: Case) -> tuple[Finding, ...]:
    """707: do bolt, bracket and core get on with each other in salt water?"""
    lacking = missing(case, "bolting.grade", "bolting.core")
    if lacking:
        return (waiting(case, 707, "materials together", "metal-pairs", lacking),)
    grade, core = grade_of(case), core_of(case)
    assert grade is not None and core is not None  # noqa: S101 - not lacking
    remarks = metal_remarks(grade, core)
    text = " ".join(remarks) or (
        "Nothing speaks against these materials together. Bed every shank in sealant, so that "
        "neither core nor bracket stays wet."
    )
    return (
        Finding(
            code=707,
            subject=case.candidate.id,
            title="materials together",
            verdict=Verdict.TIGHT if remarks else Verdict.FITS,
            sentence=phrase(text),
            source="metal-pairs",
            needs=("bolting.grade", "bolting.core"),
            settle=phrase("Follow the engine maker's instructions on sealant and anodes.")
            if remarks
            else None,
        ),
    )


def metal_remarks(grade: BoltGrade, core: Core) -> tuple[str, ...]:
    """Return what speaks against a bolt's metal in a core, a sentence each."""
    remarks = []
    if not grade.is_stainless:
        remarks.append("Plain steel rusts in salt water, in the core first: plan to replace it.")
    if grade.is_stainless and core.material == "aluminium":
        remarks.append(
            "Stainless on aluminium eats the aluminium where water stays: keep them apart with "
            "sealant, sleeves and plastic washers."
        )
    if core.material == "treated wood":
        remarks.append(
            "Wood treated with copper eats aluminium: keep the engine's bracket and any aluminium "
            "plate off it with a sealed skin or a plastic pad."
        )
    return tuple(remarks)
