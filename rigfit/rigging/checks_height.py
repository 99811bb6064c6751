"""Checks 2xx: the leg, the plate's height and the setback."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from rigfit.rigging.case import Case
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    deg,
    mm,
    phrase,
)
from rigfit.rigging.mounting_options import (
    HeightOption,
    PlateRange,
    best_option,
    judged_tolerance_mm,
    missing_for_plate,
)
from rigfit.rigging.outboard import leg_class_of
from rigfit.rigging.plate_height import square_height_mm
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.transom import LEG_TABLES, distance_to_leg_mm, legs_in_table

SETTLE = {
    "transom.height_along_face": "Measure the transom height along the face.",
    "transom.rake": "Measure the rake of the transom.",
    "engine.leg_measured": "Measure the leg: seat under the hook to the underside of the plate.",
    "engine.first_row": "Measure the uppermost bracket hole below the seat.",
    "mounting.upper_holes_below_top": "Measure, or decide, the upper holes below the transom top.",
    "keel_line.gap_0": "Read the gaps under a straightedge along the keel.",
    "boat.hull_kind": "Say what kind of hull it is, or write a target for the plate in the job.",
    "engine.row_pitch": "Measure the distance from one bracket hole to the next.",
    "target.low": "Give the target a lower end that is below its upper end,",
    "target.high": "and both ends unless the kind of hull supplies the other.",
    "bracket.engine_holes": "Measure the engine's upper holes below the top of the bracket.",
    "boat.deadrise": "Measure the deadrise at the transom.",
    "bracket.measured_to": "Say whether the setback was measured to the seat or the propeller.",
    "bracket.setback": "Measure the setback from transom face to seat.",
    "bracket.height": "Measure the top of the bracket above the transom top.",
}


def height_needs(case: Case) -> tuple[str, ...]:
    """Return the keys of the readings that give the transom height, rake included."""
    transom = case.job.transom
    given = {
        "transom.height_along_face": transom.height_along_face,
        "transom.height_square": transom.height_square,
    }
    keys = [key for key, reading in given.items() if reading is not None]
    return (*(keys or ["transom.height_along_face"]), "transom.rake")


def plate_needs(case: Case, option: HeightOption | None = None) -> tuple[str, ...]:
    """Return the keys of all readings a plate height of this case rests on.

    :param option: the height meant; the uppermost row needs no distance to the next one.
    """
    needs = [*height_needs(case), "engine.leg_measured"]
    if case.pattern.is_bolted:
        needs.append("engine.first_row")
        needs += [] if option is not None and option.row == 1 else ["engine.row_pitch"]
    if case.bracket is not None:
        needs += ["bracket.setback", "bracket.measured_to", "bracket.height"]
        needs += ["bracket.engine_holes"] if case.pattern.is_bolted else []
    elif case.pattern.is_bolted:
        needs.append("mounting.upper_holes_below_top")
    off = case.job.mounting.off_centre
    if off is not None and off.value != 0.0:
        needs.append("boat.deadrise")
    needs += target_needs(case)
    return tuple(needs)


def target_needs(case: Case) -> list[str]:
    """Return the keys of what sets the target: the hull kind, or the job's own band."""
    target = case.job.target
    own = [f"target.{end}" for end in ("low", "high") if getattr(target, end) is not None]
    return own if len(own) == 2 else ["boat.hull_kind", *own]


def check_leg(case: Case) -> tuple[Finding, ...]:
    """200: is the leg known by tape, and does it agree with what was stated?"""
    leg, subject = case.leg, case.candidate.id
    found = partial(Finding, code=200, subject=subject, title="leg length", source="leg-spread")
    if leg is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase("Nothing is known of the leg of engine {id}.", id=subject),
                needs=("engine.leg_measured",),
                settle=phrase(SETTLE["engine.leg_measured"]),
            ),
        )
    short, long_ = leg.ends_mm
    if not leg.is_measured:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "The leg is only stated as {typed}; engines sold under that name measure "
                    "{short} to {long}.",
                    typed=_stated(case),
                    short=mm(short),
                    long=mm(long_),
                ),
                value=leg.reading.value,
                tolerance=expanded(leg.reading.tolerance),
                needs=("engine.leg_measured",),
                settle=phrase(SETTLE["engine.leg_measured"]),
            ),
        )
    return (_measured_leg(case, found),)


def _stated(case: Case) -> Amount:
    stated = case.candidate.leg_stated
    return mm(stated.value if stated else 0.0)


def _measured_leg(case: Case, found: Callable[..., Finding]) -> Finding:
    assert case.leg is not None  # noqa: S101 - the caller looked
    leg, value = case.leg, case.leg.reading.value
    amounts: dict[str, Amount | str] = {"leg": mm(value), "typed": _stated(case)}
    text, verdict = "The leg measures {leg}.", Verdict.FITS
    if case.candidate.leg_stated is not None and leg.stated is None:
        text = "The leg measures {leg}; the {typed} stated is between the trade's classes."
    elif leg.stated is not None:
        spread = Limits(leg.stated.low_mm, leg.stated.high_mm)
        amounts |= {"low": mm(leg.stated.low_mm), "high": mm(leg.stated.high_mm)}
        # A class has no sharp edge: only a clear miss of its whole spread is worth a word.
        if spread.margin(value) >= -leg.reading.tolerance:
            text = "The leg measures {leg}, as the {typed} stated lets expect."
        else:
            verdict = Verdict.TIGHT
            text = (
                "The leg measures {leg}, not what is sold as {typed}: {low} to {high}. The "
                "tape counts; measure once more."
            )
    return found(
        verdict=verdict,
        sentence=Phrase(text, amounts),
        value=value,
        tolerance=expanded(leg.reading.tolerance),
        needs=("engine.leg_measured",),
    )


def check_leg_class(case: Case) -> tuple[Finding, ...]:
    """210: what do the trade's tables say of this leg on this transom height?

    Not asked behind a setback bracket, for which the tables are not meant.
    """
    height, rake = case.heights.along_face, case.job.transom.rake
    leg_class = leg_class_of(case.leg.reading.value) if case.leg else None
    if case.bracket is not None or height is None or rake is None or case.leg is None:
        return ()
    square = square_height_mm(height.value, rake.value)
    spread = expanded(height.tolerance)
    sentence, verdict, margin = _table_answers(
        square, spread, leg_class.nominal_mm if leg_class else None
    )
    if not case.leg.is_measured:
        verdict = at_best(verdict, Verdict.TIGHT)
    return (
        Finding(
            code=210,
            subject=case.candidate.id,
            title="leg class for the transom",
            verdict=verdict,
            sentence=sentence,
            source="leg-table-a",
            value=square,
            margin=margin,
            tolerance=spread,
            needs=(*height_needs(case), "engine.leg_measured"),
            working=tuple(
                Phrase(
                    f"{name}: {{height}} of transom takes {_legs(table, square)}",
                    {"height": mm(square)},
                )
                for name, table in (("first table", "leg-table-a"), ("second table", "leg-table-b"))
            ),
        ),
    )


def _legs(table: str, square_mm: float) -> str:
    found = legs_in_table(table, square_mm)
    return " or ".join(f"a {leg / 25.4:.0f} in leg" for leg in found) or "nothing: between classes"


def _table_answers(
    square_mm: float, spread_mm: float, leg_mm: float | None
) -> tuple[Phrase, Verdict, float | None]:
    amounts = {"height": mm(square_mm)}
    if leg_mm is None:
        text = "The leg is between the trade's classes, so its tables do not speak of it."
        return Phrase(text), Verdict.TIGHT, None
    amounts["leg"] = mm(leg_mm)
    margins = [distance_to_leg_mm(table, square_mm, leg_mm) for table in LEG_TABLES]
    known = [margin for margin in margins if margin is not None]
    if not known:
        return Phrase("No trade table speaks of this leg.", amounts), Verdict.TIGHT, None
    inside = [margin >= spread_mm for margin in known]
    outside = [margin < -spread_mm for margin in known]
    other = any(legs_in_table(table, square_mm) for table in LEG_TABLES)
    if all(inside):
        text = "A transom of {height} takes a leg of nominally {leg}, both trade tables say."
        return Phrase(text, amounts), Verdict.FITS, min(known)
    if all(outside) and other:
        text = "A transom of {height} wants another leg than nominally {leg}, the tables say."
        return Phrase(text, amounts), Verdict.STOPS, max(known)
    text = (
        "A transom of {height} is at the edge or between the trade's classes for a leg of "
        "nominally {leg}: go by the plate's height, not by the class."
    )
    return Phrase(text, amounts), Verdict.TIGHT, min(known)


def check_plate(
    case: Case, options: tuple[HeightOption, ...], mounted: HeightOption | None, *, chosen: bool
) -> tuple[Finding, ...]:
    """220: where is the plate at the chosen row, or at the best one?"""
    missing = missing_for_plate(case)
    if case.band is None:
        target = case.job.target
        crossed = target.low is not None or target.high is not None
        missing += ("target.low", "target.high") if crossed else ("boat.hull_kind",)
    if mounted is None or mounted.plate is None or case.band is None:
        return (_plate_unknown(case, missing),)
    plate, band = mounted.plate, case.band
    better = best_option(case, options)
    return (
        Finding(
            code=220,
            subject=case.candidate.id,
            title="plate height",
            verdict=mounted.verdict,
            sentence=_plate_sentence(case, mounted, better, chosen=chosen),
            source=band.source,
            value=plate.value,
            low=band.low_mm,
            high=band.high_mm,
            margin=Limits(band.low_mm, band.high_mm).margin(plate.value),
            tolerance=judged_tolerance_mm(case, plate),
            needs=plate_needs(case, mounted),
            settle=_plate_settle(case, mounted),
            working=_plate_working(mounted),
        ),
    )


def _plate_unknown(case: Case, missing: tuple[str, ...]) -> Finding:
    refused = "No bolt row of this engine can be used on this transom; see the heights."
    text = "The plate's height cannot be computed yet." if missing else refused
    return Finding(
        code=220,
        subject=case.candidate.id,
        title="plate height",
        verdict=Verdict.UNKNOWN if missing else Verdict.STOPS,
        sentence=phrase(text),
        source="geometry",
        needs=missing or plate_needs(case),
        settle=phrase(" ".join(SETTLE[key] for key in missing or ("engine.leg_measured",))),
    )


def _plate_sentence(
    case: Case, mounted: HeightOption, better: HeightOption | None, *, chosen: bool
) -> Phrase:
    assert mounted.plate is not None and case.band is not None  # noqa: S101
    band, plate = case.band, mounted.plate
    off = band.off_mm(plate.value)
    where = _place(mounted)
    amounts: dict[str, Amount | str] = {
        "plate": mm(abs(plate.value)),
        "tolerance": mm(plate.tolerance),
        "low": mm(band.low_mm, signed=True),
        "high": mm(band.high_mm, signed=True),
        "off": mm(abs(off)),
    }
    side = "above" if plate.value >= 0.0 else "below"
    state = "inside" if off == 0.0 else "{off} " + ("above" if off > 0.0 else "below")
    text = f"{where} the plate is {{plate}} {side} the keel line, +/- {{tolerance}}, {state} "
    text += "the target of {low} to {high}"
    if mounted.reason and off == 0.0:
        text += f" ({mounted.reason})"
    if chosen and better is not None and better.verdict.rank < mounted.verdict.rank:
        text += f"; {_place(better).lower()} would be better"
    return Phrase(text + ". Check afloat.", amounts)


def _place(option: HeightOption) -> str:
    if option.row == 0:
        return "Clamped on the top"
    return f"On row {option.row}"


def _plate_settle(case: Case, mounted: HeightOption) -> Phrase | None:
    if mounted.verdict in (Verdict.FITS, Verdict.STOPS) or mounted.plate is None:
        return None
    if case.keel_is_bent:
        return phrase("Have the bottom put right, then read the gaps along the keel again.")
    asks = []
    if case.setback_is_ambiguous:
        asks.append("bracket.measured_to")
    if case.centre_raise is None:
        asks.append("boat.deadrise")
    keys = {
        "leg": "engine.leg_measured",
        "row": "engine.first_row" if case.candidate.first_row is None else "engine.row_pitch",
        "upper_holes": "bracket.engine_holes" if case.bracket else "mounting.upper_holes_below_top",
        "setback": "bracket.setback",
        "bracket": "bracket.height",
    }
    asks += [keys[share.name] for share in mounted.plate.stand_ins if share.name in keys]
    if case.keel is None:
        asks.append("keel_line.gap_0")
    if asks:
        return phrase(" ".join(SETTLE[key] for key in dict.fromkeys(asks)))
    largest = max(mounted.plate.shares, key=lambda share: abs(share.spread))
    names = {"height": "transom height", "leg": "leg", "rake": "rake"}
    if largest.name in names and case.band is not None and mounted.off_target_mm == 0.0:
        return phrase(
            "Measure the " + names[largest.name] + " again, more closely: it makes up most of the "
            "+/- {tolerance}.",
            tolerance=mm(mounted.plate.tolerance),
        )
    return None


_SHARE_NAMES = {
    "height": "transom height along the face",
    "rake": "rake",
    "leg": "leg",
    "row": "bracket hole below the seat",
    "upper_holes": "upper holes below the top",
    "bracket": "bracket above the transom top",
    "setback": "setback",
    "axis_out": "tilt axis, outward",
    "axis_up": "tilt axis, upward",
}


def _plate_working(mounted: HeightOption) -> tuple[Phrase, ...]:
    assert mounted.plate is not None  # noqa: S101 - the caller looked
    lines = [
        phrase(
            "z = (height + lift) cos(rake) - leg, with the lift {lift} and the turn about the "
            "tilt axis",
            lift=mm(mounted.lift.value, signed=True),
        )
    ]
    for share in mounted.plate.shares:
        if share.reading.tolerance == 0.0 and share.reading.value == 0.0:
            continue
        amount = deg if share.name == "rake" else mm
        lines.append(
            phrase(
                f"{_SHARE_NAMES[share.name]} {{value}} +/- {{limit}} ({{origin}}): moves the plate "
                "by {spread}",
                value=amount(share.reading.value),
                limit=amount(share.reading.tolerance),
                origin=share.reading.origin.value,
                spread=mm(abs(share.spread)),
            )
        )
    return tuple(lines)


def check_plate_range(
    case: Case, options: tuple[HeightOption, ...], ranges: tuple[PlateRange, ...]
) -> tuple[Finding, ...]:
    """221: does any height, from fully down to fully up, reach the target?"""
    band, usable = case.band, [option for option in options if option.is_possible]
    if band is None or not ranges or case.leg is None or not usable:
        return ()
    own = ranges[0]
    verdict = min((option.verdict for option in usable), key=lambda item: item.rank)
    gap_low, gap_high = band.low_mm - own.high_mm, own.low_mm - band.high_mm
    amounts = {
        "low": mm(own.low_mm, signed=True),
        "high": mm(own.high_mm, signed=True),
        "from": mm(band.low_mm, signed=True),
        "to": mm(band.high_mm, signed=True),
    }
    text = "From fully down to fully up the plate runs from {low} to {high}; the target is "
    text += "{from} to {to}."
    if gap_low > 0.0:
        text += " The leg is too long by {gap}: raise the transom or the bracket, or look for a "
        text += "shorter leg."
        amounts["gap"] = mm(gap_low)
    elif gap_high > 0.0:
        text += " The leg is too short by {gap}: lower the transom's cut-out, or look for a longer "
        text += "leg."
        amounts["gap"] = mm(gap_high)
    return (
        Finding(
            code=221,
            subject=case.candidate.id,
            title="reach of the bolt rows",
            verdict=verdict,
            sentence=Phrase(text, amounts),
            source=band.source,
            value=own.high_mm if gap_low > 0.0 else own.low_mm if gap_high > 0.0 else None,
            low=band.low_mm,
            high=band.high_mm,
            margin=-max(gap_low, gap_high) if max(gap_low, gap_high) > 0.0 else None,
            tolerance=usable[0].plate.tolerance if usable[0].plate else None,
            needs=plate_needs(case, best_option(case, options)),
            settle=phrase(SETTLE["engine.leg_measured"]) if not case.leg.is_measured else None,
            working=tuple(
                Phrase(
                    f"{entry.name} {{leg}}: plate {{low}} to {{high}}",
                    {
                        "leg": mm(entry.leg_mm),
                        "low": mm(entry.low_mm, signed=True),
                        "high": mm(entry.high_mm, signed=True),
                    },
                )
                for entry in ranges
            ),
        ),
    )


def check_setback(case: Case) -> tuple[Finding, ...]:
    """230 and 231: the rise for the setback with its spread, and what the setback was taken to."""
    if case.bracket is None:
        return ()
    return (_setback_rise(case), _setback_end(case))


def _setback_rise(case: Case) -> Finding:
    rise, setback = case.rise, case.setback
    custom = rise.source != "job"
    # Custom has a spread, so it is never more than tight; the owner's own figure stands.
    verdict = Verdict.TIGHT if custom or not setback.origin.is_firm else Verdict.FITS
    text = "Behind a setback of {setback} to the seat the plate may sit {rise} higher"
    text += (
        " by custom; writers spread from {low} to {high}. Try it afloat."
        if custom
        else (", as the job says.")
    )
    return Finding(
        code=230,
        subject=case.candidate.id,
        title="rise for the setback",
        verdict=verdict,
        sentence=Phrase(
            text,
            {
                "setback": mm(setback.value),
                "rise": mm(rise.mid_mm),
                "low": mm(rise.low_mm),
                "high": mm(rise.high_mm),
            },
        ),
        source=rise.source,
        value=rise.mid_mm,
        low=rise.low_mm,
        high=rise.high_mm,
        margin=min(rise.mid_mm - rise.low_mm, rise.high_mm - rise.mid_mm),
        tolerance=(rise.high_mm - rise.low_mm) / 2.0,
        needs=("bracket.setback", "bracket.measured_to")
        if custom
        else ("target.setback_rise", "bracket.setback"),
    )


def _setback_end(case: Case) -> Finding:
    given, aft = case.job.bracket.setback, case.engine.sizes.propeller_aft
    found = partial(
        Finding,
        code=231,
        subject=case.candidate.id,
        title="setback measured to",
        source="setback-propeller",
        needs=("bracket.setback", "bracket.measured_to"),
    )
    if given is None:
        return found(
            verdict=Verdict.TIGHT,
            sentence=phrase(
                "The setback is the {setback} typical of this bracket, not measured.",
                setback=mm(case.setback.value),
            ),
            settle=phrase(SETTLE["bracket.setback"]),
        )
    if case.setback_is_ambiguous:
        return found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase(
                "The job does not say whether the setback was measured to the seat or to the "
                "propeller; for this class the two lie {aft} apart.",
                aft=mm(aft),
            ),
            settle=phrase(SETTLE["bracket.measured_to"]),
        )
    if case.job.bracket.measured_to == "propeller":
        return found(
            verdict=Verdict.TIGHT,
            sentence=phrase(
                "The setback of {given} was measured to the propeller; less the {aft} that the "
                "propeller of this class stands behind its seat, {setback} are left.",
                given=mm(given.value),
                aft=mm(aft),
                setback=mm(case.setback.value),
            ),
            value=case.setback.value,
            tolerance=expanded(case.setback.tolerance),
            settle=phrase(SETTLE["bracket.setback"]),
        )
    return found(
        verdict=Verdict.FITS,
        sentence=phrase("The setback was measured to the seat."),
        value=case.setback.value,
        tolerance=expanded(case.setback.tolerance),
    )


def check_off_centre(case: Case) -> tuple[Finding, ...]:
    """232: how much higher does an engine off the centreline of a vee bottom belong?"""
    off, raised = case.job.mounting.off_centre, case.centre_raise
    if off is None or off.value == 0.0:
        return ()
    found = partial(
        Finding,
        code=232,
        subject=case.candidate.id,
        title="raise off the centreline",
        source="deadrise-raise",
        needs=("mounting.off_centre", "boat.deadrise"),
    )
    if raised is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "The engine sits {off} off the centreline, where the bottom is higher; "
                    "without the deadrise rigfit cannot say by how much.",
                    off=mm(abs(off.value)),
                ),
                settle=phrase(SETTLE["boat.deadrise"]),
            ),
        )
    return (
        found(
            verdict=Verdict.FITS,
            sentence=phrase(
                "Off the centreline by {off} the bottom is {up} higher, and so is the target.",
                off=mm(abs(off.value)),
                up=mm(raised.value),
            ),
            value=raised.value,
            tolerance=raised.tolerance,
        ),
    )
