"""Checks 304 to 308: new holes against old ones, openings, edges, what is inside, a second engine.

All five rest on one ``HoleFit``, worked out once for each engine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import partial
from itertools import combinations

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Finding, Limits, Phrase, Verdict, at_best, mm, phrase, worst
from rigfit.rigging.hole_fit import (
    FittedHole,
    HoleFit,
    HoleRelation,
    NewHole,
    Relation,
    kicker_pattern,
)
from rigfit.rigging.no_go import BoltExit
from rigfit.rigging.tolerance import expanded

TWIN_ENOUGH_MM = 26.0 * 25.4
TWIN_LEAST_MM = 23.0 * 25.4
TIE_BAR_MOST_MM = 749.0
"""Twins, centre to centre: 26 in recommended, 23 in used against advice, a tie bar ends at 749."""

_MOST_NAMED = 6


def hole_findings(case: Case, holes: HoleFit | None) -> tuple[Finding, ...]:
    """Return findings 304 to 308 for an engine and its hole fit (None while there can be none)."""
    found = check_neighbour(case, holes)
    if holes is None:
        return (*check_undecided(case), *found)
    return (
        *check_old_holes(case, holes),
        *check_openings(case, holes),
        *check_inside(case, holes),
        *check_to_fill(case, holes),
        *found,
    )


def check_undecided(case: Case) -> tuple[Finding, ...]:
    """304 while nobody decided where the holes go: old holes may serve."""
    if not case.job.holes or not case.transom_pattern.is_bolted:
        return ()
    return (
        Finding(
            code=304,
            subject=case.candidate.id,
            title="new holes and old ones",
            verdict=Verdict.UNKNOWN,
            sentence=phrase(
                "There are {count} old holes, but it is not decided where the new ones go.",
                count=str(len(case.job.holes)),
            ),
            source="geometry",
            needs=_needs(case),
            settle=phrase("Choose a drilling height; the reuse table shows which holes can serve."),
        ),
    )


def _needs(case: Case) -> tuple[str, ...]:
    """Return the readings that place the new holes."""
    given = case.job.mounting.upper_holes_below_top is not None
    if case.bracket is not None:
        return ("mounting.upper_holes_below_top" if given else "bracket.height",)
    return (
        "mounting.upper_holes_below_top",
        "engine.upper_spacing",
        "engine.lower_spacing",
        "engine.upper_to_lower",
    )


def check_old_holes(case: Case, holes: HoleFit) -> tuple[Finding, ...]:
    """304: do the bolts find old holes, and is there sound material beside the others?"""
    if not case.job.holes:
        return ()
    fitted = holes.holes
    verdict = worst(item.verdict for item in fitted)
    if holes.faults:
        verdict = at_best(verdict, Verdict.UNKNOWN)
    found = partial(
        Finding,
        code=304,
        subject=case.candidate.id,
        title="new holes and old ones",
        verdict=verdict,
        needs=_needs(case),
        settle=_settle_old(holes, verdict),
        working=tuple(_old_line(item) for item in fitted)
        + _bolt_line(holes)
        + tuple(phrase("{fault}", fault=fault) for fault in holes.faults),
    )
    if not holes.to_drill:
        return (_all_served(found, fitted),)
    drilled = [(item, relation) for item in holes.to_drill for relation in item.against("hole")[:1]]
    served = len(fitted) - len(holes.to_drill)
    if not drilled:
        return (
            found(
                sentence=phrase(
                    "{served} of {all} bolts find old holes; the others are well clear of every "
                    "old hole.",
                    served=str(served),
                    all=str(len(fitted)),
                ),
                source=holes.rule.source,
            ),
        )
    item, relation = min(drilled, key=lambda pair: (-pair[1].verdict.rank, pair[1].slack_mm))
    return (
        found(
            sentence=phrase(
                "{served} of {all} bolts find old holes. Of the others, {new} "
                + _RELATION[relation.relation]
                + ": {ligament} of material from rim to rim, {required} is wanted.",
                served=str(served),
                all=str(len(fitted)),
                new=item.hole.feature.name,
                old=relation.neighbour,
                ligament=mm(relation.ligament_mm),
                required=mm(relation.required_mm),
            ),
            source=holes.rule.source,
            value=relation.ligament_mm,
            low=relation.required_mm,
            margin=relation.ligament_mm - relation.required_mm,
            tolerance=relation.tolerance_mm,
        ),
    )


_RELATION = {
    Relation.SERVES: "is served by {old}",
    Relation.SLOT: "goes through {old} as a slot",
    Relation.BREAKS: "breaks into {old}",
    Relation.NEAR: "is too near to {old}",
    Relation.CLEAR: "stays clear of {old}",
}


def _all_served(found: partial[Finding], fitted: Sequence[FittedHole]) -> Finding:
    uses = [item.reuse for item in fitted if item.reuse is not None]
    tightest = min(uses, key=lambda item: item.slack_mm - item.tolerance_mm)
    play = tightest.play_mm or 0.0
    return found(
        sentence=phrase(
            "All {all} bolts find old holes as they are; at {old} the bolt is {off} off the "
            "middle, and {play} is all the play there is.",
            all=str(len(fitted)),
            old=tightest.neighbour,
            off=mm(tightest.distance_mm),
            play=mm(play),
        ),
        source="asme-b18-2-8",
        value=tightest.distance_mm,
        high=play,
        margin=play - tightest.distance_mm,
        tolerance=tightest.tolerance_mm,
    )


def _old_line(item: FittedHole) -> Phrase:
    relation = item.reuse or next(iter(item.against("hole")), None)
    name = item.hole.feature.name
    if relation is None:
        return phrase("{new} is clear of every old hole", new=name)
    return phrase(
        "{new} " + _RELATION[relation.relation] + ", {off} off its middle, {ligament} rim to rim",
        new=name,
        old=relation.neighbour,
        off=mm(relation.distance_mm),
        ligament=mm(relation.ligament_mm),
    )


def _bolt_line(holes: HoleFit) -> tuple[Phrase, ...]:
    bolt = holes.bolt
    if bolt.is_firm or all(item.reuse is None for item in holes.holes):
        return ()
    return (
        phrase(
            "no bolt is chosen: judged for one of {thick}, the thickest the hole is meant for",
            thick=mm(bolt.diameter_mm),
        ),
    )


def _settle_old(holes: HoleFit, verdict: Verdict) -> Phrase | None:
    if holes.faults:
        return phrase("Measure again: {fault}.", fault=holes.faults[0])
    if verdict is Verdict.FITS or verdict is Verdict.STOPS:
        return None
    if any(item.reuse is not None for item in holes.holes):
        return phrase(
            "Offer the engine's bracket, or a board drilled to it, to the old holes and push a "
            "bolt through each."
        )
    return phrase("Measure the old holes again, by caliper, from the same centreline and top.")


def check_openings(case: Case, holes: HoleFit) -> tuple[Finding, ...]:
    """305: do the holes keep their distance from openings and from the edges of the transom?"""
    found = [(item, relation) for item in holes.holes for relation in item.against("edge")]
    found += [(item, relation) for item in holes.to_drill for relation in item.against("opening")]
    item, relation = min(found, key=lambda pair: (-pair[1].verdict.rank, pair[1].slack_mm))
    verdict, settle = relation.verdict, None
    lacking = [
        opening
        for opening in case.job.openings
        if None in (opening.across, opening.below_top, opening.width)
    ]
    if lacking and verdict is not Verdict.STOPS:
        verdict = Verdict.UNKNOWN
        settle = phrase("Fill in the place and the width of every opening.")
    elif not holes.outline.has_sides and verdict is not Verdict.STOPS:
        verdict = Verdict.UNKNOWN
        settle = phrase("Measure the width of the transom where the engine sits.")
    elif verdict is Verdict.TIGHT:
        settle = phrase("Mark the holes on the transom and measure to it by caliper.")
    is_edge = relation.what == "edge"
    neighbour = f"the {relation.neighbour} edge" if is_edge else relation.neighbour
    return (
        Finding(
            code=305,
            subject=case.candidate.id,
            title="openings and edges",
            verdict=verdict,
            sentence=phrase(
                "{new} lies off the transom, beyond {near}."
                if is_edge and relation.distance_mm < 0.0
                else "Of all openings and edges {near} matters most: {ligament} of material to the "
                "rim of {new}, {required} is wanted.",
                new=item.hole.feature.name,
                near=neighbour,
                ligament=mm(relation.ligament_mm),
                required=mm(relation.required_mm),
            ),
            source=holes.rule.edge_source if is_edge else holes.rule.source,
            value=relation.ligament_mm,
            low=relation.required_mm,
            margin=relation.ligament_mm - relation.required_mm,
            tolerance=relation.tolerance_mm,
            needs=(*_needs(case), "transom.width_at_top"),
            settle=settle,
        ),
    )


def check_inside(case: Case, holes: HoleFit) -> tuple[Finding, ...]:
    """306: do washers or plates sit clear inside, even where the drill was off square?"""
    if not case.job.no_go:
        return ()
    swapped = [place.name for place in holes.places if place.is_swapped]
    lacking = len(case.job.no_go) - len(holes.places)
    nearest = min(holes.exits, key=lambda item: (-item.verdict.rank, item.clear_mm))
    verdict = nearest.verdict
    if swapped or lacking:
        verdict = at_best(verdict, Verdict.UNKNOWN)
    found = partial(
        Finding,
        code=306,
        subject=case.candidate.id,
        title="washers inside",
        verdict=verdict,
        source="drill-drift",
        needs=(*_needs(case), "transom.thickness", *filter(None, (holes.footprint.need,))),
        settle=_settle_inside(holes, verdict, swapped, lacking),
    )
    if not holes.places:
        return (found(sentence=phrase("The edges of the places inside are not filled in.")),)
    drift = nearest.drift_mm
    return (
        found(
            sentence=_inside_words(holes, nearest),
            value=nearest.clear_mm,
            low=drift or 0.0,
            margin=nearest.clear_mm - (drift or 0.0),
            tolerance=nearest.tolerance_mm,
            working=tuple(
                phrase(
                    "{new}: {label} {clear} from {place}",
                    new=item.feature.name,
                    label=holes.footprint.label,
                    clear=mm(item.clear_mm),
                    place=item.place,
                )
                for item in holes.exits
            ),
        ),
    )


def _inside_words(holes: HoleFit, nearest: BoltExit) -> Phrase:
    amounts = {
        "new": nearest.feature.name,
        "label": holes.footprint.label,
        "place": nearest.place,
    }
    chosen = "" if holes.footprint.origin.is_firm else " (by custom, none chosen)"
    if nearest.clear_mm < 0.0:
        text = "Inside, {label}{chosen} at {new} would lie over {place} by {over}"
        amounts_mm = {"over": mm(-nearest.clear_mm)}
    else:
        text = "Inside, {label}{chosen} at {new} stays {clear} clear of {place}"
        amounts_mm = {"clear": mm(nearest.clear_mm)}
    if nearest.drift_mm is None:
        return phrase(text + ", hole square.", chosen=chosen, **amounts, **amounts_mm)
    text += "; a drill 1° off square wanders {drift} in the thickness."
    return phrase(text, chosen=chosen, drift=mm(nearest.drift_mm), **amounts, **amounts_mm)


def _settle_inside(
    holes: HoleFit, verdict: Verdict, swapped: Sequence[str], lacking: int
) -> Phrase | None:
    if swapped:
        return phrase(
            'Enter {place} with "from" to port and up, "to" to starboard and down; they are '
            "swapped.",
            place=swapped[0],
        )
    if lacking:
        return phrase("Fill in all four edges of every place inside.")
    if verdict is Verdict.UNKNOWN:
        return phrase("Measure the thickness of the transom at the bolts.")
    if verdict is not Verdict.TIGHT:
        return None
    if holes.footprint.origin.is_firm:
        return phrase("Drill one pilot hole and look where it comes out.")
    return phrase("Choose the washers, or measure the backing plate, and drill one pilot first.")


def check_to_fill(case: Case, holes: HoleFit) -> tuple[Finding, ...]:
    """307: which old holes are left over and have to be filled?"""
    if not case.job.holes:
        return ()
    left = holes.to_fill
    found = partial(
        Finding,
        code=307,
        subject=case.candidate.id,
        title="holes to be filled",
        source="hole-filling",
        needs=_needs(case),
    )
    if not left:
        verdict = worst(item.verdict for item in holes.holes if item.reuse is not None)
        return (
            found(
                verdict=at_best(verdict, Verdict.UNKNOWN) if holes.faults else verdict,
                sentence=phrase("No old hole is left over: a bolt goes through each."),
                settle=_settle_old(holes, verdict),
            ),
        )
    return (
        found(
            verdict=Verdict.TIGHT,
            sentence=phrase(
                "{count} to be filled solid before the engine hangs: {names}.",
                count="1 old hole is" if len(left) == 1 else f"{len(left)} old holes are",
                names=named(item.name for item in left),
            ),
        ),
    )


def named(names: Iterable[str]) -> str:
    """Return names as a list for a sentence, the rest counted where there are many."""
    every = list(names)
    text = ", ".join(every[:_MOST_NAMED])
    more = len(every) - _MOST_NAMED
    return f"{text} and {more} more" if more > 0 else text


def check_neighbour(case: Case, holes: HoleFit | None) -> tuple[Finding, ...]:
    """308: is there room for a twin or a kicker?"""
    arrangement = case.job.neighbour.arrangement
    if arrangement == "twins":
        return (_twins(case, holes),)
    return (_kicker(case, holes),) if arrangement == "kicker" else ()


def _twins(case: Case, holes: HoleFit | None) -> Finding:
    spacing = case.job.neighbour.twin_spacing
    found = partial(
        Finding,
        code=308,
        subject=case.candidate.id,
        title="twins",
        source="twin-spacing",
        needs=("neighbour.twin_spacing",),
    )
    if spacing is None:
        return found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("How far apart the twins hang is not said."),
            settle=phrase("Ask the engine's maker for the least distance centre to centre."),
        )
    limits = Limits(TWIN_ENOUGH_MM, TIE_BAR_MOST_MM, TWIN_LEAST_MM, math.inf)
    spread = expanded(spacing.tolerance)
    verdict = limits.judge(spacing.value, spread)
    cowl = case.engine.sizes.cowl_breadth
    if spacing.value < cowl:
        verdict = Verdict.STOPS
    verdict = worst((verdict, _between(holes)))
    return found(
        verdict=verdict,
        sentence=phrase(
            "The twins hang {spacing} apart; {enough} is recommended, {least} was used against "
            "advice, and a tie bar reaches to {most}.",
            spacing=mm(spacing.value),
            enough=mm(TWIN_ENOUGH_MM),
            least=mm(TWIN_LEAST_MM),
            most=mm(TIE_BAR_MOST_MM),
        ),
        value=spacing.value,
        low=TWIN_ENOUGH_MM,
        high=TIE_BAR_MOST_MM,
        margin=limits.margin(spacing.value),
        tolerance=spread,
        settle=phrase("Ask the engine's maker for the least distance centre to centre.")
        if verdict is Verdict.TIGHT
        else None,
        working=(phrase("cowl of the class {cowl} wide", cowl=mm(cowl)),),
    )


def _kicker(case: Case, holes: HoleFit | None) -> Finding:
    beside, off = case.job.neighbour, case.job.mounting.off_centre
    pattern = kicker_pattern(case)
    found = partial(
        Finding,
        code=308,
        subject=case.candidate.id,
        title="kicker beside the engine",
        source="class",
        needs=(
            "neighbour.kicker_pattern",
            "neighbour.kicker_across",
            "neighbour.kicker_upper_holes",
        ),
    )
    lacks_holes = pattern is None or (pattern.is_bolted and beside.kicker_upper_holes is None)
    if beside.kicker_across is None or lacks_holes:
        return found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("Where the kicker is bolted is not known."),
            settle=phrase(
                "Enter the kicker's hole pattern, its centre from the centreline and its upper "
                "holes below the top."
            ),
        )
    apart = abs(beside.kicker_across.value - (off.value if off else 0.0))
    half = case.engine.sizes.cowl_breadth / 2.0
    spread = expanded(beside.kicker_across.tolerance, off.tolerance if off else 0.0)
    verdict = Limits(low=half).judge(apart, spread)
    verdict = worst((at_best(verdict, Verdict.TIGHT), _between(holes)))
    return found(
        verdict=verdict,
        sentence=phrase(
            "The kicker is {apart} from the engine's middle, whose cowl reaches {half} to each "
            "side by its class; nothing here knows how far either swings.",
            apart=mm(apart),
            half=mm(half),
        ),
        value=apart,
        low=half,
        margin=apart - half,
        tolerance=spread,
        settle=None
        if verdict is Verdict.STOPS
        else phrase("Turn and tilt both by hand from lock to lock before drilling."),
    )


def _between(holes: HoleFit | None) -> Verdict:
    """Return the verdict on the material between loaded holes of one engine and of the other."""
    pairs = combinations([item.hole for item in holes.holes] if holes else [], 2)
    return worst(
        (
            Verdict.FITS,
            *(
                pair_verdict(first, second, holes)
                for first, second in pairs
                if holes is not None and first.feature.engine != second.feature.engine
            ),
        )
    )


def pair_verdict(first: NewHole, second: NewHole, holes: HoleFit) -> Verdict:
    """Return the verdict on the material between two holes that both carry a bolt."""
    size = max(first.feature.diameter_mm, second.feature.diameter_mm)
    across = first.feature.across_mm - second.feature.across_mm
    below = first.feature.below_top_mm - second.feature.below_top_mm
    ligament = math.hypot(across, below)
    ligament -= (first.feature.diameter_mm + second.feature.diameter_mm) / 2.0
    spread = expanded(
        *(first.across_tolerance_mm, first.below_tolerance_mm),
        *(second.across_tolerance_mm, second.below_tolerance_mm),
    )
    limits = Limits(low=holes.rule.pitch_enough_d * size, outer_low=holes.rule.pitch_least_d * size)
    return limits.judge(ligament, spread)


def relations_of(holes: HoleFit, *what: str) -> tuple[tuple[FittedHole, HoleRelation], ...]:
    """Return every kept relation of some kinds, worst first, with its hole: rows for a table."""
    rows = [(item, relation) for item in holes.holes for relation in item.against(*what)]
    return tuple(sorted(rows, key=lambda row: (-row[1].verdict.rank, row[1].slack_mm)))
