"""Checks 601 to 605: how she should plane, porpoising, plate against the water, speed, propeller.

Estimates all, before the sea trial that decides; so nothing here stops an engine. Nothing entered
under [underway] gives no finding. What nobody measured never reads ``fits``.
"""

from __future__ import annotations

import math

from rigfit.rigging.case import Case
from rigfit.rigging.drive import crouch_constant, crouch_words, gear_ratio
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    deg,
    kn,
    listed,
    mm,
    phrase,
)
from rigfit.rigging.mounting_options import missing_for_plate
from rigfit.rigging.planing import TRIM_RANGE_DEG, NotPlaning, Planing
from rigfit.rigging.propeller import (
    CUP_RPM,
    DIAMETER_RPM,
    RPM_PER_INCH,
    USUAL_SLIP,
    pitch_by_percent,
    pitch_by_rate,
)
from rigfit.rigging.trial_advice import pitch_words
from rigfit.rigging.underway import (
    Given,
    Lacking,
    PlateAt,
    UnderwayResult,
    underway_of,
)
from rigfit.rigging.wake import PlateWater
from rigfit.units import Kind

TRIM_DEG = Limits(low=TRIM_RANGE_DEG[0], high=6.0, outer_low=1.0, outer_high=15.0)
"""Running trim of good resistance (2 to 6 degrees: from memory, about 4 is the best) inside what
still planes."""

PORPOISING_DEG = Limits(low=0.0)
METHOD_DEG = 0.5
"""How far method and chart may be off by themselves, added to the tolerance of the readings
(rigfit's own estimate)."""

TIP_MM = Limits(low=0.0, outer_low=-60.0)
"""How deep the propeller's upper tip may lie under the predicted surface; above it by a few
centimetres it may still be fed by what the bottom throws up (rigfit's own estimate)."""

_SETTLE = phrase("Try it afloat: hold the speed in calm water, look at trim and plate by a camera.")
_LEG = phrase(
    "The leg's own lift is not counted: trimming out raises the bow, and brings porpoising nearer, "
    "more than this says."
)
_NAMES = {
    "mass": "mass under way",
    "ahead": "centre of gravity ahead",
    "above": "centre of gravity above the keel",
    "beam": "chine beam",
    "deadrise": "deadrise",
    "power": "power",
    "efficiency": "propulsive efficiency",
    "angle": "running trim of the engine",
}
KINDS = {
    "mass": Kind.MASS,
    "ahead": Kind.LENGTH,
    "above": Kind.LENGTH,
    "beam": Kind.LENGTH,
    "deadrise": Kind.ANGLE,
    "power": Kind.POWER,
    "efficiency": Kind.FRACTION,
    "angle": Kind.ANGLE,
}
"""What was reckoned from, in the order it is shown: kinds of the figures."""


def name_of(key: str) -> str:
    """Return how a figure of ``UnderwayResult.given`` is called in print."""
    return _NAMES[key]


def rpm(value: float) -> Amount:
    """Return an engine speed, rounded to 50 rpm: nothing here is known more closely."""
    return Amount(50.0 * round(value / 50.0), Kind.ROTATION)


def check_underway(case: Case) -> tuple[Finding, ...]:
    """601 to 605: trim and range, porpoising, plate and water, speed, engine speed."""
    found = underway_of(case)
    if found is None:
        return ()
    if isinstance(found, Lacking):
        return (_lacking(case, found),)
    return (
        _trim(case, found),
        *_porpoising(case, found),
        *_plate(case, found),
        _speed(case, found),
        *_propeller(case, found),
    )


def _lacking(case: Case, found: Lacking) -> Finding:
    what = listed(found.words)
    return Finding(
        code=601,
        subject=case.candidate.id,
        title="under way",
        verdict=Verdict.UNKNOWN,
        sentence=phrase("How she planes cannot be said without {what}.", what=what),
        source="savitsky-1964",
        needs=found.fields,
        settle=phrase("Measure or enter {what}.", what=what),
    )


def _held(verdict: Verdict, found: UnderwayResult, *more: bool) -> Verdict:
    """Return a verdict that rests on an estimate: never worse than tight, fits only on firm ground.

    :param more: further conditions for ``fits``.
    """
    if verdict is Verdict.STOPS:
        verdict = Verdict.TIGHT
    state = found.state
    firm = not found.soft and isinstance(state, Planing) and state.is_inside and all(more)
    return verdict if firm else at_best(verdict, Verdict.TIGHT)


def _unique(*names: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _at(found: UnderwayResult) -> str:
    return "her estimated top speed of {speed}" if found.is_top else "{speed}"


def _settle_softly(found: UnderwayResult) -> Phrase:
    soft = found.soft
    if not soft:
        return _SETTLE
    keys = [key for key, item in found.given.items() if item in soft]
    named = " and ".join(_NAMES[key] for key in keys)
    return phrase("Measure the {what}; then try it afloat.", what=named)


def _trim(case: Case, found: UnderwayResult) -> Finding:
    state = found.state
    if isinstance(state, NotPlaning) or found.trim is None or found.speed_kn is None:
        return _not_planing(case, found)
    trim = found.trim
    spread = math.hypot(trim.tolerance, METHOD_DEG)
    verdict = _held(TRIM_DEG.judge(trim.value, spread), found)
    return Finding(
        code=601,
        subject=case.candidate.id,
        title="running trim",
        verdict=verdict,
        sentence=phrase(
            f"At {_at(found)} she should plane at {{trim}} of trim, the foot of the transom "
            "{draught} under the level water.",
            speed=kn(found.speed_kn), trim=deg(trim.value), draught=mm(state.draught_mm),
        ),
        source="savitsky-1964",
        kind=Kind.ANGLE,
        value=trim.value,
        low=TRIM_DEG.low,
        high=TRIM_DEG.high,
        margin=TRIM_DEG.margin(trim.value),
        tolerance=spread,
        needs=found.needs,
        settle=None if verdict is Verdict.FITS else _settle_softly(found),
        working=(*_given_words(found), _state_words(state), *_range_words(state.doubts)),
    )  # fmt: skip


def _not_planing(case: Case, found: UnderwayResult) -> Finding:
    reason = found.state.reason if isinstance(found.state, NotPlaning) else (
        "within the tolerance of the figures she may not plane at this speed"
    )  # fmt: skip
    return Finding(
        code=601,
        subject=case.candidate.id,
        title="running trim",
        verdict=Verdict.TIGHT,
        sentence=phrase("No planing trim comes out: {why}.", why=reason),
        source="savitsky-1964",
        needs=found.needs,
        settle=_settle_softly(found),
        working=_given_words(found),
    )


def _given_words(found: UnderwayResult) -> tuple[Phrase, ...]:
    """Return the figures it was reckoned from, each with where it comes from."""
    lines = []
    for key, kind in KINDS.items():
        item = found.given[key]
        spread = Amount(item.reading.tolerance, kind)
        text = "{name}: {value}, give or take {spread} ({where})."
        if not item.reading.tolerance:
            text = "{name}: {value} ({where})."
        name = _NAMES[key]
        lines.append(
            phrase(
                text, name=name[:1].upper() + name[1:], value=Amount(item.reading.value, kind),
                spread=spread, where=where_from(item),
            )
        )  # fmt: skip
    return tuple(lines)


def where_from(item: Given) -> str:
    """Return where a figure comes from, saying so where nobody measured it."""
    firm = item.reading.origin.is_firm or item.words in ("as stated", "entered", "measured")
    return item.words if firm else f"{item.words}, not measured"


def _state_words(state: Planing) -> Phrase:
    return phrase(
        "Wetted keel {keel}, wetted chine {chine}; resistance of the bare hull {drag} N, effective "
        "power {power}.",
        keel=mm(state.keel_mm), chine=mm(state.chine_mm) if state.chine_mm > 0.0 else "none",
        drag=f"{state.resistance_n:.0f}", power=Amount(state.power_kw, Kind.POWER),
    )  # fmt: skip


def _range_words(doubts: tuple[str, ...]) -> tuple[Phrase, ...]:
    return tuple(
        phrase("Outside the range of the method: {doubt}.", doubt=doubt) for doubt in doubts
    )


def _porpoising(case: Case, found: UnderwayResult) -> tuple[Finding, ...]:
    state, margin = found.state, found.margin
    if not isinstance(state, Planing) or margin is None:
        return ()
    limit = state.porpoising
    set_out = case.job.underway.plate_angle is not None
    spread = math.hypot(margin.tolerance, METHOD_DEG)
    verdict = _held(PORPOISING_DEG.judge(margin.value, spread), found, set_out)
    if margin.value >= 0.0:
        text = "She runs {margin} below the trim at which porpoising begins, {limit}."
    else:
        text = (
            "She runs {margin} above the trim at which porpoising begins, {limit}: trim the engine "
            "in, or bring weight forward."
        )
    beyond = () if not limit.beyond else (
        phrase(
            "Beyond the chart of the limit: {why}. The limit given is that of the chart's end; the "
            "real one may be lower.",
            why=limit.beyond,
        ),
    )  # fmt: skip
    return (
        Finding(
            code=602,
            subject=case.candidate.id,
            title="porpoising",
            verdict=verdict,
            sentence=phrase(text, margin=deg(abs(margin.value)), limit=deg(limit.trim_deg)),
            source="porpoising-1964",
            kind=Kind.ANGLE,
            value=margin.value,
            low=0.0,
            margin=margin.value,
            tolerance=spread,
            needs=found.needs,
            settle=None if verdict is Verdict.FITS else _settle_softly(found),
            working=(*beyond, _LEG),
        ),
    )


def plate_verdict(found: UnderwayResult, item: PlateAt) -> Verdict:
    """Return the verdict on one height against the predicted surface, as 603 gives it."""
    spread = item.option.plate.tolerance if item.option.plate else 0.0
    judged = TIP_MM.judge(item.water.tip_mm, spread)
    return _held(judged, found, not item.water.doubts)


def _plate(case: Case, found: UnderwayResult) -> tuple[Finding, ...]:
    item = found.mounted
    if found.wake is None:
        return ()
    if item is None or item.option.plate is None:
        return (_plate_unknown(case),)
    water = item.water
    verdict = plate_verdict(found, item)
    measured = ("transom.height_along_face", "transom.rake", "engine.leg_measured")
    needs = _unique(*measured, *found.needs)
    return (
        Finding(
            code=603,
            subject=case.candidate.id,
            title="plate and water behind the transom",
            verdict=verdict,
            sentence=_plate_sentence(water),
            source="wake-2010",
            value=water.tip_mm,
            low=TIP_MM.low,
            margin=TIP_MM.margin(water.tip_mm),
            tolerance=item.option.plate.tolerance,
            needs=needs,
            settle=None if verdict is Verdict.FITS else _SETTLE,
            working=_plate_words(found, water),
        ),
    )


def _plate_unknown(case: Case) -> Finding:
    return Finding(
        code=603,
        subject=case.candidate.id,
        title="plate and water behind the transom",
        verdict=Verdict.UNKNOWN,
        sentence=phrase("The water behind the transom is known, but not where the plate will be."),
        source="wake-2010",
        needs=missing_for_plate(case),
        settle=phrase("Measure the transom's height and rake, and the leg of the engine."),
    )


def _plate_sentence(water: PlateWater) -> Phrase:
    side = "above" if water.clear_mm >= 0.0 else "under"
    tip = (
        "the propeller's upper tip {tip} under it" if water.tip_mm >= 0.0
        else "the propeller's upper tip {tip} out of it"
    )  # fmt: skip
    return phrase(
        f"The water behind the transom is reckoned {{rise}} above the keel line at the plate: the "
        f"plate runs {{clear}} {side} it, {tip}.",
        rise=mm(water.surface_mm), clear=mm(abs(water.clear_mm)), tip=mm(abs(water.tip_mm)),
    )  # fmt: skip


def _plate_words(found: UnderwayResult, water: PlateWater) -> tuple[Phrase, ...]:
    lines = [
        phrase(
            "From {front} at the plate's front to {aft} at its aft edge, counted from the extended "
            "keel line; {x} aft of the transom's foot.",
            front=mm(water.front_mm), aft=mm(water.aft_edge_mm), x=mm(water.aft_mm),
        ),
        phrase(
            "The trade's 25 mm for each 300 mm gives {rule} there: custom that sets the plate "
            "clear of the water, not its surface.",
            rule=mm(water.rule_mm),
        ),
    ]  # fmt: skip
    if water.doubts:
        lines.append(
            phrase("An extrapolation of the published profile: {why}.", why="; ".join(water.doubts))
        )
    lines += [
        phrase(
            "{name}: plate {plate}, {clear} to the water.",
            name=option_name(item), plate=mm(item.place.plate_mm, signed=True),
            clear=mm(item.water.clear_mm, signed=True),
        )
        for item in found.plates
    ]  # fmt: skip
    return tuple(lines)


def option_name(item: PlateAt) -> str:
    """Return how a height is called: its bolt row, and the bracket's setting where there is one."""
    option = item.option
    row = f"Row {option.row}" if option.row else "Clamped on"
    return f"{row}, bracket at {option.setting_mm:.0f} mm" if option.setting_mm else row


def _speed(case: Case, found: UnderwayResult) -> Finding:
    crouch = found.crouch
    low, high = crouch.value - crouch.tolerance, crouch.value + crouch.tolerance
    ends = {"low": kn(low), "high": kn(high)}
    top = found.top
    if top is None:
        return Finding(
            code=604,
            subject=case.candidate.id,
            title="top speed",
            verdict=Verdict.TIGHT,
            sentence=phrase(
                "By Savitsky no top speed comes out: {why}. Crouch's formula gives {low} to "
                "{high}.",
                why=found.top_trouble, **ends,
            ),
            source="crouch",
            needs=found.needs,
            settle=_settle_softly(found),
        )  # fmt: skip
    first, last = top.value - top.tolerance, top.value + top.tolerance
    agree = first <= high and low <= last
    way = case.job.underway
    known = case.candidate.power is not None and way.efficiency is not None
    said = way.hull_type != "not said"
    verdict = _held(Verdict.FITS if agree else Verdict.TIGHT, found, known, said)
    words = () if agree else (
        phrase("The two do not agree: look at mass, centre of gravity and power."),
    )  # fmt: skip
    return Finding(
        code=604,
        subject=case.candidate.id,
        title="top speed",
        verdict=verdict,
        sentence=phrase(
            "Top speed is estimated at {first} to {last} by Savitsky, {low} to {high} by Crouch's "
            "formula.",
            first=kn(first), last=kn(last), **ends,
        ),
        source="crouch",
        kind=Kind.SPEED,
        value=top.value,
        tolerance=top.tolerance,
        needs=_unique(*found.needs, "engine.power"),
        settle=None if verdict is Verdict.FITS else _settle_softly(found),
        working=(*words, _constant_words(case), *_most(found)),
    )  # fmt: skip


def _constant_words(case: Case) -> Phrase:
    constant = crouch_constant(case)
    return phrase(
        "Crouch's constant: {value}, give or take {spread} ({what}; Gerr's handbook, recalled, "
        "for knots, pounds and shaft horsepower).",
        value=f"{constant.value:.0f}", spread=f"{constant.tolerance:.0f}",
        what=crouch_words(case),
    )  # fmt: skip


def _most(found: UnderwayResult) -> tuple[Phrase, ...]:
    """Return which figure the speed hangs on most."""
    if found.top is None:
        return ()
    share = max(found.top.shares, key=lambda item: abs(item.spread))
    if share.name not in _NAMES:
        return ()
    return (
        phrase("Most of the range comes from the {name}: {by} either way.",
               name=_NAMES[share.name], by=kn(abs(share.spread))),
    )  # fmt: skip


def _propeller(case: Case, found: UnderwayResult) -> tuple[Finding, ...]:
    """605, where a propeller is named: the engine speed it should come to."""
    expected, pitch, band = found.rpm, case.job.propeller.pitch, found.band
    if expected is None or pitch is None:
        return ()
    limits = Limits(band.middle, band.high, band.low, band.high)
    verdict = _held(
        limits.judge(expected.value, expected.tolerance), found, not found.band_is_class,
        case.candidate.gear_ratio is not None,
    )  # fmt: skip
    low, high = expected.value - expected.tolerance, expected.value + expected.tolerance
    whose = "usual band of such engines" if found.band_is_class else "maker's band"
    place = {
        "below": f"below the {whose}: less pitch",
        "lower half": f"in the lower half of the {whose}: rather less pitch",
        "upper half": f"in the upper half of the {whose}, as it should",
        "above": f"above the {whose}: more pitch",
    }[band.place(expected.value)]
    return (
        Finding(
            code=605,
            subject=case.candidate.id,
            title="engine speed at full throttle",
            verdict=verdict,
            sentence=phrase(
                "With {pitch} of pitch the engine should come to {low} to {high}; the middle is "
                f"{place}.",
                pitch=pitch_words(pitch.value), low=rpm(low), high=rpm(high),
            ),
            source="wot-band",
            kind=Kind.ROTATION,
            value=expected.value,
            low=band.middle,
            high=band.high,
            margin=limits.margin(expected.value),
            tolerance=expected.tolerance,
            needs=_unique(*found.needs, "propeller.pitch", "engine.gear_ratio", "engine.wot_low",
                          "engine.wot_high"),
            settle=None if verdict is Verdict.FITS else phrase(
                "Read engine speed and boat speed at full throttle, loaded, both ways, and log it "
                "as a sea trial."
            ),
            working=_propeller_words(case, found, pitch.value, expected.value),
        ),
    )  # fmt: skip


def target_rpm(case: Case, found: UnderwayResult) -> float:
    """Return the engine speed to aim for: the job's own, else the middle of the upper half."""
    own = case.job.propeller.target_rpm
    return own.value if own else found.band.aim


def _propeller_words(
    case: Case, found: UnderwayResult, pitch_mm: float, expected: float
) -> tuple[Phrase, ...]:
    gear, band, aim = gear_ratio(case), found.band, target_rpm(case, found)
    low, high = pitch_by_rate(pitch_mm, expected, aim)
    percent = pitch_by_percent(pitch_mm, expected, aim)
    slow, fast = USUAL_SLIP
    lines = [
        phrase(
            "Gear ratio {gear}{whose}; slip {slow} to {fast}, as is usual on the plane; band "
            "{low} to {high}, aim for the upper half.",
            gear=Amount(gear.value, Kind.RATIO),
            whose="" if case.candidate.gear_ratio else " (of its class, not entered)",
            slow=Amount(slow, Kind.FRACTION), fast=Amount(fast, Kind.FRACTION),
            low=rpm(band.low), high=rpm(band.high),
        ),
        phrase(
            "For {aim} the trade's {a} to {b} rpm an inch ask for a pitch of {first} to {last}, a "
            "shop's percent for {percent}.",
            a=f"{RPM_PER_INCH[0]:g}", b=f"{RPM_PER_INCH[1]:g}",
            aim=rpm(aim), first=pitch_words(low), last=pitch_words(high),
            percent=pitch_words(percent),
        ),
        phrase(
            "A cup costs about {single} (double {double}), a quarter inch of diameter {a} to {b}: "
            "single sources. Decide by a sea trial, not by this.",
            single=rpm(CUP_RPM[0]), double=rpm(CUP_RPM[1]), a=rpm(DIAMETER_RPM[0]),
            b=rpm(DIAMETER_RPM[1]),
        ),
    ]  # fmt: skip
    return tuple(lines)
