"""Checks 3xx: do the bolt holes keep clear of the transom top and of what is inside below?"""

from __future__ import annotations

from functools import partial

from rigfit.rigging.case import UPPER_HOLES_DEFAULT_MM, Case
from rigfit.rigging.drilling import UPPER_EDGE_MIN_MM
from rigfit.rigging.findings import Finding, Limits, Verdict, at_best, mm, phrase
from rigfit.rigging.mounting_options import CLASS_ROW_TOLERANCE_MM
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import expanded


def upper_holes_in_transom(case: Case) -> Reading | None:
    """Return the upper holes below the transom top; None for a transom nobody decided about."""
    given = case.job.mounting.upper_holes_below_top
    if case.bracket is None or given is not None or not case.transom_pattern.is_bolted:
        return given
    top = case.bracket_height
    below = case.transom_pattern.upper_rows_mm[0] - top.value
    # However well the bracket's top is measured, its hole pattern is its class's.
    return Reading(below, top.tolerance + CLASS_ROW_TOLERANCE_MM, Origin.CLASS)


def _upper_need(case: Case) -> str:
    """Return the reading that places the upper holes in the transom."""
    given = case.job.mounting.upper_holes_below_top
    return "bracket.height" if case.bracket and given is None else "mounting.upper_holes_below_top"


def check_upper_holes(case: Case) -> tuple[Finding, ...]:
    """301: are the upper holes far enough below the transom top?"""
    if not case.transom_pattern.is_bolted:
        return (_clamped(case),)
    holes = upper_holes_in_transom(case)
    found = partial(
        Finding,
        code=301,
        subject=case.candidate.id,
        title="upper holes below the top",
        source="hole-top-edge",
        low=UPPER_EDGE_MIN_MM,
        needs=(_upper_need(case),),
    )
    if holes is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "It is not decided where the upper holes go; rigfit reckons with the trade's "
                    "{usual} below the top until you say.",
                    usual=mm(UPPER_HOLES_DEFAULT_MM),
                ),
                settle=phrase("Choose one of the drilling heights and write it in the job."),
            ),
        )
    limits = Limits(low=UPPER_EDGE_MIN_MM)
    spread = expanded(holes.tolerance)
    verdict = limits.judge(holes.value, spread)
    if not holes.origin.is_firm:
        verdict = at_best(verdict, Verdict.TIGHT)
    return (
        found(
            verdict=verdict,
            sentence=phrase(
                "The upper holes are {below} below the transom top; the trade never goes under "
                "{least}.",
                below=mm(holes.value),
                least=mm(UPPER_EDGE_MIN_MM),
            ),
            value=holes.value,
            margin=limits.margin(holes.value),
            tolerance=spread,
        ),
    )


def _clamped(case: Case) -> Finding:
    return Finding(
        code=301,
        subject=case.candidate.id,
        title="bolts of a clamped engine",
        verdict=Verdict.UNKNOWN,
        sentence=phrase(
            "This engine clamps on; its maker also wants through bolts, whose places rigfit does "
            "not know."
        ),
        source="class",
        needs=("engine.engine_class",),
        settle=phrase("Trace the bolt holes from the engine's own clamp bracket."),
    )


def check_lower_holes(case: Case) -> tuple[Finding, ...]:
    """302: do the lower bolts come out inside where a washer can sit?"""
    if not case.transom_pattern.is_bolted:
        return ()
    holes, lowest = upper_holes_in_transom(case), case.job.transom.lowest_bolt
    pattern_needs = () if case.bracket else ("engine.upper_to_lower",)
    found = partial(
        Finding,
        code=302,
        subject=case.candidate.id,
        title="lower bolts inside",
        source="geometry",
        needs=("transom.lowest_bolt", _upper_need(case), *pattern_needs),
    )
    if holes is None or lowest is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "Where the lower bolts come out inside is not known: floor of the well, knee "
                    "or drain may be in the way."
                ),
                settle=phrase(
                    "Measure, down from the transom top, the lowest place where a washer still "
                    "sits clear inside."
                    if lowest is None
                    else "Choose a drilling height."
                ),
            ),
        )
    below = holes.value + case.transom_pattern.lower_below_upper_mm
    limits = Limits(high=lowest.value)
    between = case.candidate.upper_to_lower if case.bracket is None else None
    spread = expanded(holes.tolerance, lowest.tolerance, between.tolerance if between else 0.0)
    verdict = limits.judge(below, spread)
    measured = between is not None
    if not measured or not holes.origin.is_firm:
        verdict = at_best(verdict, Verdict.TIGHT)
    return (
        found(
            verdict=verdict,
            sentence=phrase(
                "The lower bolts are {below} below the transom top; inside, a washer sits clear "
                "down to {lowest}.",
                below=mm(below),
                lowest=mm(lowest.value),
            ),
            value=below,
            high=lowest.value,
            margin=limits.margin(below),
            tolerance=spread,
            settle=None
            if measured or verdict is Verdict.STOPS
            else phrase("Measure the distance from upper to lower holes on the engine's bracket."),
        ),
    )


def check_pattern(case: Case) -> tuple[Finding, ...]:
    """303: were the pattern's figures taken from this engine?"""
    if not case.transom_pattern.is_bolted or case.bracket is not None:
        return ()
    measured = case.pattern_is_measured
    return (
        Finding(
            code=303,
            subject=case.candidate.id,
            title="hole pattern",
            verdict=Verdict.FITS if measured else Verdict.TIGHT,
            sentence=phrase(
                "The hole pattern was measured on the engine: {upper} and {lower} apart, {rows} "
                "between the rows."
                if measured
                else "The hole pattern is the class's, {upper} and {lower} apart, {rows} between "
                "the rows; real ones differ by a few millimetres, more than the play of a bolt.",
                upper=mm(case.pattern.upper_spacing_mm),
                lower=mm(case.pattern.lower_spacing_mm),
                rows=mm(case.pattern.lower_below_upper_mm),
            ),
            source=case.pattern.source,
            needs=(
                "engine.first_row",
                "engine.upper_spacing",
                "engine.lower_spacing",
                "engine.upper_to_lower",
            ),
            settle=None
            if measured
            else phrase("Measure the hole spacings on the engine's own bracket before drilling."),
        ),
    )
