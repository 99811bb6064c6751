"""Checks 811 to 813: conductors by voltage drop and by listed current, cables by length.

No verdict here allows a conductor: the current table is written for boats with inboard petrol
engines, so beside it nothing reads better than ``tight``. Makers' instructions come first.
"""

from __future__ import annotations

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Amount, Finding, Limits, Phrase, Verdict, at_best, mm, phrase
from rigfit.rigging.readings import Reading
from rigfit.rigging.runs import (
    BEND_RADIUS_MM,
    CRANKING_SHARES,
    DROP_SHARES,
    ENGINE_SPACE,
    MOST_BENDS,
    SUPPORT_MM,
    cable_rules,
    circular_mils,
    drop_share,
    engine_space_a,
    gauge_for_drop,
    least_mils,
    listed_a,
    stocked_feet,
)
from rigfit.rigging.runs_fields import CONTROL, CRANKING, NOT_CHOSEN, NOT_SAID, STEERING
from rigfit.rigging.runs_fields import Cable as Cable
from rigfit.rigging.runs_fields import Wire as Wire
from rigfit.rigging.tolerance import expanded
from rigfit.units import FOOT_MM, Kind

_FUSE = phrase(
    "Fuse or breaker within reach of the source, for no more than the thinnest conductor behind it "
    "carries and no more than the maker of what it feeds allows."
)
_OUTSIDE = phrase(
    "The table is of the rules for boats with petrol engines other than outboards; for this boat "
    "it is a yardstick and allows nothing. Ask a qualified electrician what counts for her."
)
_CRANKING = phrase(
    "Cranking conductors are outside 33 CFR 183.425. The engine's own manual names their gauge for "
    "their length; it comes before this figure."
)


def wires_of(case: Case) -> tuple[tuple[str, Wire], ...]:
    """Return every conductor with its name, or its number where it has none."""
    wires = enumerate(case.job.wires, start=1)
    return tuple((wire.name or f"conductor {number}", wire) for number, wire in wires)


def cables_of(case: Case) -> tuple[tuple[str, Cable], ...]:
    """Return every cable with its name, or its number where it has none."""
    cables = enumerate(case.job.cables, start=1)
    return tuple((cable.name or f"cable {number}", cable) for number, cable in cables)


def check_runs(case: Case) -> tuple[Finding, ...]:
    """811 voltage drop, 812 listed current, 813 length of cables; nothing where none is listed."""
    found: list[Finding] = []
    for name, wire in wires_of(case):
        found.append(_drop(name, wire))
        if wire.use != CRANKING:
            found.append(_listed(name, wire))
    found += [_cable(name, cable) for name, cable in cables_of(case)]
    return tuple(found)


def volts_of(wire: Wire) -> float:
    """Return the voltage of a conductor's system."""
    return float(wire.voltage.removesuffix(" V"))


def allowed_share(wire: Wire) -> float | None:
    """Return the share of the voltage that may be lost; None while nobody says what is supplied."""
    return CRANKING_SHARES[0] if wire.use == CRANKING else DROP_SHARES.get(wire.use)


def thinnest(wire: Wire) -> str | None:
    """Return the thinnest gauge that keeps within the drop; None where it cannot be said."""
    share = allowed_share(wire)
    if share is None or wire.length is None or wire.current is None:
        return None
    return gauge_for_drop(wire.length.value, wire.current.value, volts_of(wire), share)


def drop_of(wire: Wire) -> tuple[float, float] | None:
    """Return the share of the voltage lost with its tolerance, by the smaller area of the gauge.

    None while length, current or gauge is missing.
    """
    length, current = wire.length, wire.current
    if length is None or current is None or wire.gauge == NOT_CHOSEN:
        return None
    share = drop_share(least_mils(wire.gauge), length.value, current.value, volts_of(wire))
    return share, share * _relative(length, current)


def _relative(*readings: Reading) -> float:
    """Return the expanded uncertainty of a product as a share of it."""
    return expanded(*(reading.tolerance / reading.value for reading in readings))


def _percent(value: float) -> Amount:
    return Amount(value, Kind.FRACTION)


def _amperes(value: float) -> Amount:
    return Amount(value, Kind.CURRENT)


# ---------------------------------------------------------------- conductors


def _drop(name: str, wire: Wire) -> Finding:
    title, dropped, allowed = f"voltage drop, {name}", drop_of(wire), allowed_share(wire)
    if dropped is None or allowed is None:
        return _drop_unknown(title, wire, dropped)
    share, tolerance = dropped
    cranks = wire.use == CRANKING
    limits = Limits(high=allowed, outer_high=CRANKING_SHARES[1] if cranks else None)
    verdict = limits.judge(share, tolerance)
    if verdict is Verdict.STOPS and _by_awg(wire, limits, tolerance) is not Verdict.STOPS:
        verdict = Verdict.TIGHT
    if cranks:
        verdict = at_best(verdict, Verdict.TIGHT)
    return Finding(
        code=811,
        subject="boat",
        title=title,
        verdict=verdict,
        sentence=phrase(
            "AWG {gauge} loses {share} of {volts}, {lost}, out and back; {allowed} may be lost.",
            gauge=wire.gauge, share=_percent(share), volts=wire.voltage,
            lost=f"{share * volts_of(wire):.2f} V", allowed=_percent(allowed),
        ),
        source="cranking-drop" if cranks else "voltage-drop",
        kind=Kind.FRACTION,
        value=share,
        high=allowed,
        margin=limits.margin(share),
        tolerance=tolerance,
        needs=("wire.length", "wire.current", "wire.gauge"),
        settle=None if verdict is Verdict.FITS else _drop_settle(wire, cranks=cranks),
        working=(*_drop_working(wire), _CRANKING if cranks else _FUSE),
    )  # fmt: skip


def _by_awg(wire: Wire, limits: Limits, tolerance: float) -> Verdict:
    """Return the verdict for a conductor that has the full area AWG gives its gauge."""
    assert wire.length is not None and wire.current is not None  # noqa: S101
    mils = circular_mils(wire.gauge)
    share = drop_share(mils, wire.length.value, wire.current.value, volts_of(wire))
    return limits.judge(share, tolerance)


def _drop_settle(wire: Wire, *, cranks: bool) -> Phrase:
    if cranks:
        return phrase("Take the gauge the engine's manual names for this length of cable.")
    gauge = thinnest(wire)
    if gauge is None:
        return phrase("No gauge of the table keeps within it: shorten the way or part the current.")
    if gauge == wire.gauge:
        return phrase("Measure the way again; it leaves little in hand.")
    return phrase("AWG {gauge} keeps within it by voltage drop alone.", gauge=gauge)


def _drop_working(wire: Wire) -> tuple[Phrase, ...]:
    assert wire.length is not None and wire.current is not None  # noqa: S101
    lines = [
        phrase(
            "{current} over {length} and back at {volts}; copper, CM = K I L / E with K 10.75. "
            "AWG {gauge} is taken as {mils} circular mils, the smaller of AWG and boat cable.",
            current=_amperes(wire.current.value), length=mm(wire.length.value),
            volts=wire.voltage, gauge=wire.gauge, mils=f"{least_mils(wire.gauge):.0f}",
        )
    ]  # fmt: skip
    return tuple(lines)


def _drop_unknown(title: str, wire: Wire, dropped: tuple[float, float] | None) -> Finding:
    needs: tuple[str, ...] = ("wire.length", "wire.current")
    if wire.length is None or wire.current is None:
        sentence = phrase("What it loses is not known without length of the way and current.")
        settle = phrase("Lay a string along its way, and take the current from the maker's sheet.")
    elif dropped is not None:
        needs = ("wire.use",)
        sentence = phrase(
            "AWG {gauge} loses {share} of {volts}; how much may be lost depends on what it feeds.",
            gauge=wire.gauge, share=_percent(dropped[0]), volts=wire.voltage,
        )  # fmt: skip
        settle = phrase("Say what it supplies.")
    else:
        needs = ("wire.gauge",)
        gauge = thinnest(wire)
        settle = phrase("Choose a gauge, and look at the current it is listed for.")
        if wire.use == NOT_SAID:
            sentence = phrase("Neither its gauge nor what it supplies is said.")
            settle = phrase("Say what it supplies; the thinnest gauge by voltage drop follows.")
        elif wire.use == CRANKING:
            sentence = phrase("Its gauge is not said.")
            settle = phrase("Take the gauge the engine's manual names for this length of cable.")
        elif gauge is None:
            sentence = phrase("No gauge of the table keeps within the voltage drop.")
            settle = phrase("Shorten the way or part the current.")
        else:
            sentence = phrase(
                "By voltage drop alone AWG {gauge} is the thinnest that will do.", gauge=gauge
            )
    return Finding(
        code=811,
        subject="boat",
        title=title,
        verdict=Verdict.UNKNOWN,
        sentence=sentence,
        source="cranking-drop" if wire.use == CRANKING else "voltage-drop",
        kind=Kind.FRACTION,
        needs=needs,
        settle=settle,
        working=(_CRANKING,) if wire.use == CRANKING else (),
    )


def most_a(wire: Wire) -> float | None:
    """Return the current the table lists for a conductor; None where it cannot be said.

    A conductor in an engine space has an answer only for insulation whose factor was read.
    """
    if wire.gauge == NOT_CHOSEN or wire.insulation == NOT_SAID:
        return None
    rating = int(wire.insulation)
    if wire.hot_space == "yes":
        return engine_space_a(wire.gauge, rating)
    return float(listed_a(wire.gauge, rating))


def _listed(name: str, wire: Wire) -> Finding:
    title, most, current = f"listed current, {name}", most_a(wire), wire.current
    if most is None or current is None:
        return _listed_unknown(title, wire)
    limits, tolerance = Limits(high=most), expanded(current.tolerance)
    verdict = at_best(limits.judge(current.value, tolerance), Verdict.TIGHT)
    place = "in an engine space" if wire.hot_space == "yes" else "at 30 °C"
    return Finding(
        code=812,
        subject="boat",
        title=title,
        verdict=verdict,
        sentence=phrase(
            f"It carries {{current}}; the table lists {{most}} for AWG {{gauge}} with insulation "
            f"for {{rating}} °C {place}.",
            current=_amperes(current.value), most=_amperes(most), gauge=wire.gauge,
            rating=wire.insulation,
        ),
        source="cfr-183.425",
        kind=Kind.CURRENT,
        value=current.value,
        high=most,
        margin=limits.margin(current.value),
        tolerance=tolerance,
        needs=("wire.current", "wire.gauge", "wire.insulation"),
        settle=phrase("Ask a qualified electrician, and follow the makers' instructions."),
        working=(*_heat_words(wire), _OUTSIDE, _FUSE),
    )  # fmt: skip


def _heat_words(wire: Wire) -> tuple[Phrase, ...]:
    if wire.hot_space != NOT_SAID:
        return ()
    rating = int(wire.insulation)
    hot = engine_space_a(wire.gauge, rating)
    if hot is None:
        return (phrase("In a hot engine space it carries less; nobody said that it avoids one."),)
    return (
        phrase(
            "In an engine space of 50 °C it is {hot}; nobody said that it avoids one.",
            hot=_amperes(hot),
        ),
    )


def _listed_unknown(title: str, wire: Wire) -> Finding:
    sentence = phrase("What the table lists is not known without current, gauge and insulation.")
    settle = phrase("Read gauge and temperature off the conductor, the current off the maker's "
                    "sheet.")  # fmt: skip
    if wire.hot_space == "yes" and wire.insulation not in (NOT_SAID, *map(str, ENGINE_SPACE)):
        sentence = phrase(
            "How much insulation for {rating} °C still carries in an engine space is not known.",
            rating=wire.insulation,
        )
        settle = phrase("Ask a qualified electrician, or lead it round the engine space.")
    return Finding(
        code=812,
        subject="boat",
        title=title,
        verdict=Verdict.UNKNOWN,
        sentence=sentence,
        source="cfr-183.425",
        kind=Kind.CURRENT,
        needs=("wire.current", "wire.gauge", "wire.insulation"),
        settle=settle,
        working=(_OUTSIDE,),
    )


# ---------------------------------------------------------------- cables


def way_of(cable: Cable) -> tuple[float, float] | None:
    """Return the way of a cable with its tolerance, mm; None while a leg is missing.

    A control cable needs no leg C.
    """
    legs = [cable.leg_a, cable.leg_b]
    if cable.kind == STEERING or cable.leg_c is not None:
        legs.append(cable.leg_c)
    known = [leg for leg in legs if leg is not None]
    if len(known) < len(legs):
        return None
    return sum(leg.value for leg in known), expanded(*(leg.tolerance for leg in known))


def feet_of(cable: Cable) -> tuple[int, ...] | None:
    """Return every stocked length, ft, that the rules come to; None while a reading is missing."""
    way = way_of(cable)
    lacks = cable.kind == STEERING and (cable.bends is None or cable.mount == NOT_SAID)
    if way is None or cable.kind == NOT_SAID or lacks:
        return None
    return stocked_feet(cable_rules(cable.kind, way[0], cable.bends or 0, cable.mount), way[1])


def feet_words(feet: tuple[int, ...]) -> str:
    """Return stocked lengths in words: "13 ft" or "13 to 15 ft"."""
    return f"{feet[0]} ft" if len(feet) == 1 else f"{feet[0]} to {feet[-1]} ft"


def _cable(name: str, cable: Cable) -> Finding:
    feet, way = feet_of(cable), way_of(cable)
    title = f"length, {name}"
    if feet is None or way is None:
        return _cable_unknown(title, cable)
    text = "The way is {way}; by the rules found that is a cable of {feet}."
    bought = cable.feet
    rules = cable_rules(cable.kind, way[0], cable.bends or 0, cable.mount)
    longest = max(rule.length_mm for rule in rules)
    value = None if bought is None else bought * FOOT_MM
    if bought is None:
        verdict = Verdict.UNKNOWN
        settle = phrase("Hold it against the cable maker's own rule, and enter the length to buy.")
    else:
        verdict = _cable_verdict(bought, feet)
        text += f" One of {bought} ft {_cable_words(bought, feet)}."
        settle = phrase("Hold it against the cable maker's own rule before it is ordered.")
    bends = cable.bends or 0
    if bends > MOST_BENDS:
        verdict = at_best(verdict, Verdict.TIGHT)
    return Finding(
        code=813,
        subject="boat",
        title=title,
        verdict=verdict,
        sentence=phrase(text, way=mm(way[0]), feet=feet_words(feet)),
        source="steering-cable" if cable.kind == STEERING else "control-cable",
        value=value,
        low=None if value is None else longest,
        margin=None if value is None else value - longest,
        tolerance=None if value is None else way[1],
        needs=("cable.leg_a", "cable.leg_b", "cable.feet"),
        settle=None if verdict is Verdict.FITS else settle,
        working=_cable_working(cable, way[0], bends),
    )


def _cable_verdict(bought: int, feet: tuple[int, ...]) -> Verdict:
    """Return the verdict: every rule must be met, and no more than a foot be left over."""
    if bought < feet[0]:
        return Verdict.STOPS
    return Verdict.FITS if feet[-1] <= bought <= feet[-1] + 1 else Verdict.TIGHT


def _cable_words(bought: int, feet: tuple[int, ...]) -> str:
    verdict = _cable_verdict(bought, feet)
    if verdict is Verdict.STOPS:
        return "is too short"
    if verdict is Verdict.FITS:
        return "is long enough by all of them"
    return "is long enough by some of them only" if bought < feet[-1] else "leaves loops over"


def _cable_working(cable: Cable, way_mm: float, bends: int) -> tuple[Phrase, ...]:
    lines = [
        phrase("{rule}: {length}, so {feet} ft.", rule=rule.words[:1].upper() + rule.words[1:],
               length=mm(rule.length_mm), feet=str(rule.feet))
        for rule in cable_rules(cable.kind, way_mm, bends, cable.mount)
    ]  # fmt: skip
    if bends > MOST_BENDS:
        lines.append(
            phrase("{bends} right-angle bends are more than a cable should have, which is {most}.",
                   bends=str(bends), most=str(MOST_BENDS))
        )  # fmt: skip
    if cable.kind == CONTROL:
        lines.append(phrase("No bend tighter than {radius}.", radius=mm(BEND_RADIUS_MM)))
    else:
        lines.append(phrase("A support about every {way}.", way=mm(SUPPORT_MM)))
    return tuple(lines)


def _cable_unknown(title: str, cable: Cable) -> Finding:
    needs = ["cable.leg_a", "cable.leg_b"]
    sentence = phrase("How long it must be is not known without the legs of its way.")
    settle = phrase("Measure its legs with a string laid where the cable will lie.")
    if cable.kind == NOT_SAID:
        needs = ["cable.kind"]
        sentence = phrase("Whether it is a steering or a control cable is not said.")
        settle = phrase("Say what kind of cable it is; their rules differ.")
    elif way_of(cable) is not None:
        needs = ["cable.bends", "cable.mount"]
        sentence = phrase(
            "Its bends count, and whether it ends in the tilt tube or on the transom."
        )
        settle = phrase("Count right-angle bends, and say where it ends.")
    elif cable.kind == STEERING:
        needs.append("cable.leg_c")
    return Finding(
        code=813,
        subject="boat",
        title=title,
        verdict=Verdict.UNKNOWN,
        sentence=sentence,
        source="steering-cable" if cable.kind == STEERING else "control-cable",
        needs=tuple(needs),
        settle=settle,
    )
