"""Checks 1xx: are the measurements sound enough to advise on?"""

from __future__ import annotations

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Finding, Limits, Phrase, Verdict, deg, mm, phrase
from rigfit.rigging.plate_height import plate_angles_deg, square_height_mm
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.transom import (
    HOOK_NOTICE_MM,
    HOOK_STOP_MM,
    RAKE_HIGH_DEG,
    RAKE_LOW_DEG,
    WEDGES_DEG,
    Bottom,
    KeelShape,
    wedge_deg,
)
from rigfit.units import Kind

HEIGHT_FIELDS = ("transom.height_along_face", "transom.height_square", "transom.rake")


def check_transom_height(case: Case) -> tuple[Finding, ...]:
    """101: do the heights along the face and square to the keel line agree?"""
    transom = case.job.transom
    if transom.height_along_face is None and transom.height_square is None:
        return (_height_missing(),)
    difference = case.heights.disagreement
    if difference is None:
        return (_height_single(case),)
    verdict = Verdict.UNKNOWN if case.heights.conflict else Verdict.FITS
    if case.heights.conflict:
        text = (
            "The two transom heights disagree by {gap}, more than the {tolerance} that the tape "
            "explains; rigfit works with the middle and a wider tolerance."
        )
        settle = phrase(
            "Measure both again: along the face on the centreline, and square to a straightedge "
            "clamped along the keel."
        )
    else:
        text = "The two transom heights agree to {gap}, within the {tolerance} of the tape."
        settle = None
    return (
        Finding(
            code=101,
            subject="boat",
            title="transom heights agree",
            verdict=verdict,
            sentence=phrase(
                text, gap=mm(abs(difference.value)), tolerance=mm(difference.tolerance)
            ),
            source="cfr-183.3",
            value=difference.value,
            tolerance=difference.tolerance,
            needs=HEIGHT_FIELDS,
            settle=settle,
            working=_height_working(case),
        ),
    )


def _height_missing() -> Finding:
    return Finding(
        code=101,
        subject="boat",
        title="transom height",
        verdict=Verdict.UNKNOWN,
        sentence=phrase("The transom height is not measured, so no plate height can be given."),
        source="cfr-183.3",
        needs=HEIGHT_FIELDS[:2],
        settle=phrase(
            "Tape down the outer face on the centreline, from the transom top to the bottom of "
            "the hull, not to a keel strip."
        ),
    )


def _height_single(case: Case) -> Finding:
    transom = case.job.transom
    along = transom.height_along_face is not None
    if transom.rake is None:
        text = "There is a transom height but no rake, so the one cannot be turned into the other."
        verdict, settle = Verdict.UNKNOWN, phrase("Measure the rake of the transom.")
    else:
        text = (
            "Only one transom height was taken, {which}; the usual slip is to take the one for "
            "the other, which is {slip} here."
        )
        verdict = Verdict.TIGHT
        other = "square to the keel line" if along else "along the face"
        settle = phrase(f"Measure the transom height {other} as well.")
    reading = case.heights.along_face
    slip = 0.0
    if reading is not None and transom.rake is not None:
        slip = reading.value - square_height_mm(reading.value, transom.rake.value)
    given = transom.height_along_face or transom.height_square
    return Finding(
        code=101,
        subject="boat",
        title="transom heights agree",
        verdict=verdict,
        sentence=phrase(
            text, which="along the face" if along else "square to the keel line", slip=mm(slip)
        ),
        source="cfr-183.3",
        value=given.value if given else None,
        tolerance=expanded(given.tolerance) if given else None,
        needs=HEIGHT_FIELDS,
        settle=settle,
        working=_height_working(case),
    )


def _height_working(case: Case) -> tuple[Phrase, ...]:
    lines = []
    transom, used = case.job.transom, case.heights.along_face
    for label, reading in (
        ("along the face", transom.height_along_face),
        ("square to the keel line", transom.height_square),
    ):
        if reading is not None:
            lines.append(
                phrase(
                    "read " + label + ": {value} +/- {limit}",
                    value=mm(reading.value),
                    limit=mm(reading.tolerance),
                )
            )
    if transom.rake is not None and used is not None:
        lines.append(
            phrase(
                "at {rake} of rake, {along} along the face stands {square} square to the keel line",
                rake=deg(transom.rake.value),
                along=mm(used.value),
                square=mm(square_height_mm(used.value, transom.rake.value)),
            )
        )
    return tuple(lines)


def check_keel_line(case: Case) -> tuple[Finding, ...]:
    """110: is the keel line straight enough to measure heights from?"""
    shape = case.keel
    if shape is None:
        return (
            Finding(
                code=110,
                subject="boat",
                title="keel line straight",
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "The keel line is not checked for hook or rocker; a hook is often blamed on "
                    "the engine's height."
                ),
                source="hook-owners",
                needs=("keel_line.gap_0", "keel_line.gap_300", "keel_line.gap_900"),
                settle=phrase(
                    "Lay a straightedge of at least {length} along the bottom beside the keel, its "
                    "end at the transom, and read the gaps.",
                    length=mm(900.0),
                ),
            ),
        )
    limits = Limits(high=HOOK_NOTICE_MM, outer_high=HOOK_STOP_MM)
    verdict = limits.judge(shape.depth.value, shape.depth.tolerance)
    return (
        Finding(
            code=110,
            subject="boat",
            title="keel line straight",
            verdict=verdict,
            sentence=_keel_sentence(shape, verdict),
            source="hook-owners" if verdict is Verdict.STOPS else "straightedge",
            value=shape.depth.value,
            high=HOOK_NOTICE_MM if verdict is not Verdict.STOPS else HOOK_STOP_MM,
            margin=limits.margin(shape.depth.value)
            if verdict is not Verdict.STOPS
            else limits.outer_margin(shape.depth.value),
            tolerance=shape.depth.tolerance,
            needs=tuple(f"keel_line.gap_{station:.0f}" for station in shape.stations_mm),
            working=(
                phrase(
                    "greatest departure {depth} at {station} ahead of the transom, counted from "
                    "the line between the ends of the straightedge",
                    depth=mm(shape.depth.value),
                    station=mm(shape.station_mm),
                ),
            ),
        ),
    )


def _keel_sentence(shape: KeelShape, verdict: Verdict) -> Phrase:
    amounts = {"depth": mm(shape.depth.value), "station": mm(shape.station_mm)}
    if shape.bottom is Bottom.STRAIGHT:
        return Phrase("The keel line is straight within {depth}.", amounts)
    name = shape.bottom.value
    if verdict is Verdict.STOPS:
        return Phrase(
            f"The bottom has a {name} of {{depth}}, {{station}} ahead of the transom: look at the "
            "hull first, no height advice is worth giving before.",
            amounts,
        )
    return Phrase(
        f"The bottom has a {name} of {{depth}}, {{station}} ahead of the transom.", amounts
    )


def check_rake(case: Case) -> tuple[Finding, ...]:
    """120: does the rake leave the engine its trim range, or is a wedge due?"""
    rake = case.job.transom.rake
    if rake is None:
        return (
            Finding(
                code=120,
                subject="boat",
                title="rake and trim",
                verdict=Verdict.UNKNOWN,
                sentence=phrase("The rake of the transom is not measured."),
                source="rake-design",
                kind=Kind.ANGLE,
                needs=("transom.rake",),
                settle=phrase(
                    "Zero a digital level on the straightedge under the keel, then lay it on the "
                    "transom face; swap ends and average."
                ),
            ),
        )
    reach = WEDGES_DEG[-1]
    limits = Limits(RAKE_LOW_DEG, RAKE_HIGH_DEG, RAKE_LOW_DEG - reach, RAKE_HIGH_DEG + reach)
    spread = expanded(rake.tolerance)
    verdict = limits.judge(rake.value, spread)
    engine = case.engine
    low, high = plate_angles_deg(
        engine.trim_in_deg, engine.trim_out_deg, rake.value, engine.leg_rake_deg
    )
    return (
        Finding(
            code=120,
            subject="boat",
            title="rake and trim",
            verdict=verdict,
            sentence=_rake_sentence(rake.value, verdict),
            source="rake-design" if wedge_deg(rake.value) == 0.0 else "wedges",
            kind=Kind.ANGLE,
            value=rake.value,
            low=RAKE_LOW_DEG,
            high=RAKE_HIGH_DEG,
            margin=limits.margin(rake.value),
            tolerance=spread,
            needs=("transom.rake",),
            working=(
                phrase(
                    "trim limits of the class, {low0} to {high0} at {rake0} of rake, become plate "
                    "angles of {low} to {high} on this transom",
                    low0=deg(engine.trim_in_deg, signed=True),
                    high0=deg(engine.trim_out_deg, signed=True),
                    rake0=deg(engine.leg_rake_deg),
                    low=deg(low, signed=True),
                    high=deg(high, signed=True),
                ),
            ),
        ),
    )


def _rake_sentence(rake_deg: float, verdict: Verdict) -> Phrase:
    amounts = {"rake": deg(rake_deg), "low": deg(RAKE_LOW_DEG), "high": deg(RAKE_HIGH_DEG)}
    wedge = wedge_deg(rake_deg)
    if wedge == 0.0:
        return Phrase("The rake of {rake} is within the usual {low} to {high}.", amounts)
    lacks = "cannot tuck under far enough" if wedge > 0.0 else "cannot trim out far enough"
    amounts["wedge"] = deg(abs(wedge))
    end = "up" if wedge > 0.0 else "down"
    if verdict is Verdict.STOPS:
        return Phrase(
            "The rake of {rake} is far from the usual {low} to {high}; no stocked wedge makes up "
            f"for it and the engine {lacks}: ask the engine's maker.",
            amounts,
        )
    return Phrase(
        f"The rake of {{rake}} is outside the usual {{low}} to {{high}}, so the engine {lacks}; a "
        f"wedge of {{wedge}}, thick end {end}, mends it and costs as much at the other end.",
        amounts,
    )
