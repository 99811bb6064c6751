"""Checks 501, 502, 505, 506: power against plate and rule, cut-off switch, class of the steering.

The capacity plate wins. What a rule gives is no rating, and of a country whose numbers nobody here
has read it is only said whom to ask.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from rigfit.rigging.bolting import label_of
from rigfit.rigging.case import Case
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    listed,
    phrase,
)
from rigfit.rigging.load_fields import CapacityPlate, RuleFacts
from rigfit.rigging.masses import engine_count
from rigfit.rigging.plate_height import square_height_mm
from rigfit.rigging.power_rules import (
    COUNTRY_RULES,
    LONGEST_MM,
    TEST_CEILING_HP,
    CountryRule,
    PowerAnswer,
    RuleInputs,
    trial_route,
)
from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import estimate
from rigfit.units import FOOT_MM, HORSEPOWER_KW, Kind

SWITCH_LENGTH_MM = 26.0 * FOOT_MM
SWITCH_KW = 3.0 * HORSEPOWER_KW
"""46 USC 4312: boats under 26 ft with 115 lbf of static thrust (read), about 3 hp (from memory)."""

DUTY_KW = 15.0
LIGHT_KW = 40.0
"""ISO 8848: from here a steering class is asked for; up to here light duty serves one engine."""

_NOISE_KW = 1e-6

_INFLATABLE = ("small-rib", "large-rib")
_MULTIHULL = ("catamaran", "pontoon")


@dataclass(frozen=True, slots=True)
class HungPower:
    """The power that would hang on the transom.

    :param low_kw: the least it can be; equal to ``high_kw`` where the rated power was entered.
    :param high_kw: the most it can be.
    :param count: number of engines.
    :param is_rated: True where the rated power was entered, False where the class stands in.
    """

    low_kw: float
    high_kw: float
    count: int
    is_rated: bool


def hung_power(case: Case) -> HungPower:
    """Return the power of the candidate and its twin: as rated, else the span of its class."""
    count, rated = engine_count(case), case.candidate.power
    if rated is None:
        low, high = case.engine.power_low_kw, case.engine.power_high_kw
        return HungPower(low * count, high * count, count, is_rated=False)
    total = rated.value * count
    return HungPower(total, total, count, is_rated=True)


def country_rule(case: Case) -> CountryRule | None:
    """Return what is known of the rules of the job's country; None while it names none."""
    return COUNTRY_RULES.get(case.job.plate.country)


def rule_inputs(case: Case) -> RuleInputs:
    """Return what a power rule asks, from the job; nothing is guessed but the kind of craft."""
    job, rules = case.job, case.job.rules
    height, fields = _rule_height(case)
    power = hung_power(case)
    return RuleInputs(
        length=job.boat.length,
        transom_width=rules.transom_width,
        beam=rules.beam,
        aft_quarter_beam=rules.aft_quarter_beam,
        transom_height=height,
        height_fields=fields,
        motorwell_height=rules.motorwell_height,
        is_remote=_answer(rules.remote_steering),
        is_flat=_answer(rules.flat_bottom_hard_chine),
        craft=_craft(case),
        persons=job.plate.max_persons,
        power_kw=power.high_kw if power.is_rated else None,
    )


def _answer(word: str) -> bool | None:
    return {"yes": True, "no": False}.get(word)


def _craft(case: Case) -> str:
    said, hull = case.job.rules.craft, case.job.boat.hull_kind
    if said != "not said":
        return said
    return "inflatable" if hull in _INFLATABLE else "multihull" if hull in _MULTIHULL else ""


def _rule_height(case: Case) -> tuple[Reading | None, tuple[str, ...]]:
    """Return the transom height for the rule and the fields it comes from."""
    transom = case.job.transom
    if case.job.rules.transom_height is not None:
        return case.job.rules.transom_height, ("rules.transom_height",)
    if transom.height_square is not None and not case.heights.conflict:
        return transom.height_square, ("transom.height_square",)
    face, rake = transom.height_along_face, transom.rake
    if face is None or rake is None or case.heights.conflict:
        return None, ("rules.transom_height",)
    found = estimate(
        lambda values: square_height_mm(values["face"], values["rake"]),
        {"face": face, "rake": rake},
    )
    fields = ("transom.height_along_face", "transom.rake")
    return Reading(found.value, found.tolerance, face.origin), fields


# ---------------------------------------------------------------------------- 501


def check_power_plate(case: Case) -> tuple[Finding, ...]:
    """501: is the engine's power within the capacity plate? Nothing where no plate was read."""
    plate = case.job.plate.max_power
    if plate is None:
        return ()
    power = hung_power(case)
    found = partial(
        Finding,
        code=501,
        subject=case.candidate.id,
        title="power against the capacity plate",
        source="capacity-plate",
        kind=Kind.POWER,
        needs=("plate.max_power", "engine.power"),
    )
    if plate.value <= 0.0:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "The maximum power on the capacity plate was entered as 0, which no outboard "
                    "meets."
                ),
                settle=phrase(
                    "Read the plate again; leave the field empty where the boat has no plate."
                ),
            ),
        )
    limits = Limits(high=plate.value + _NOISE_KW)
    verdict = _against(power, limits, plate.tolerance)
    return (
        found(
            verdict=verdict,
            sentence=_plate_sentence(power, plate, verdict),
            value=power.high_kw,
            high=plate.value,
            margin=limits.margin(power.high_kw),
            tolerance=plate.tolerance,
            settle=_plate_settle(power, verdict),
            working=_power_working(case, power),
        ),
    )


def _against(power: HungPower, limits: Limits, tolerance: float) -> Verdict:
    """Return the verdict on a power; a class's span never fits, and stops only as a whole."""
    low, high = limits.judge(power.low_kw, tolerance), limits.judge(power.high_kw, tolerance)
    if power.is_rated:
        return high
    if low is Verdict.STOPS:
        return low
    return Verdict.UNKNOWN if high is Verdict.STOPS else at_best(high, Verdict.TIGHT)


def _kw(value: float) -> Amount:
    return Amount(value, Kind.POWER)


def _plate_sentence(power: HungPower, plate: Reading, verdict: Verdict) -> Phrase:
    amounts = {
        "power": _kw(power.high_kw),
        "low": _kw(power.low_kw),
        "plate": _kw(plate.value),
        "over": _kw(max(0.0, power.high_kw - plate.value)),
    }
    if not power.is_rated:
        text = "The rated power is not entered; engines of this class have {low} to {power}, and "
        text += "the capacity plate allows {plate}."
    elif verdict is Verdict.FITS:
        text = "{power} is within the {plate} of the capacity plate."
    elif power.high_kw <= plate.value:
        text = "{power} is within the {plate} of the capacity plate, but not by its tolerance."
    else:
        text = "{power} is {over} more than the {plate} of the capacity plate, which wins over "
        text += "every rule and custom."
    return phrase(text, **amounts)


def _plate_settle(power: HungPower, verdict: Verdict) -> Phrase | None:
    if not power.is_rated:
        return phrase("Read the rated power from the plate on the engine's bracket.")
    if verdict is Verdict.FITS:
        return None
    return phrase("Read both plates again, then ask the boat's builder and the insurer in writing.")


def _power_working(case: Case, power: HungPower) -> tuple[Phrase, ...]:
    lines = []
    if power.count > 1 and power.is_rated:
        each = _kw(power.high_kw / power.count)
        lines.append(phrase("Two engines of {each} make {all}.", each=each, all=_kw(power.high_kw)))
    if case.job.neighbour.arrangement == "kicker":
        lines.append(phrase("The kicker is not counted; ask whether your rules count it."))
    rule = country_rule(case)
    if rule is not None and rule.over:
        lines.append(phrase("{over}", over=rule.over))
    return tuple(lines)


# ---------------------------------------------------------------------------- 502


def check_power_rule(case: Case) -> tuple[Finding, ...]:
    """502: what does the country's rule give? Beside a plate it is compared, without one asked.

    Nothing where nobody entered a country or any of the rule's facts.
    """
    job, rule = case.job, country_rule(case)
    has_plate = _has_plate(case)
    if rule is None:
        begun = job.rules.transom_width is not None and not has_plate
        return (_no_country(case),) if begun else ()
    if rule.gives is None:
        return () if has_plate else (_no_rule(case, rule),)
    hull = job.boat.hull_kind
    if job.rules.craft == "monohull" and hull in _MULTIHULL:
        return (_two_crafts(case, rule, hull),)
    answer = rule.gives(rule_inputs(case))
    if has_plate and not answer.is_known:
        return ()
    if answer.out_of_scope:
        return (_ask(case, rule, answer.out_of_scope + ".", ("plate.max_power",)),)
    if not answer.is_known:
        return (_lacking(case, rule, answer),)
    return (_ruled(case, rule, answer),)


def _has_plate(case: Case) -> bool:
    """True where the capacity plate gives a power that can be meant."""
    plate = case.job.plate.max_power
    return plate is not None and plate.value > 0.0


def _finding_502(case: Case, source: str) -> partial[Finding]:
    return partial(
        Finding,
        code=502,
        subject=case.candidate.id,
        title="power by the rule",
        source=source,
        kind=Kind.POWER,
    )


def _no_country(case: Case) -> Finding:
    return _finding_502(case, "no-power-rule")(
        verdict=Verdict.UNKNOWN,
        sentence=phrase("The boat has no plate entered, and whose rules count is not said."),
        needs=("plate.country", "plate.max_power"),
        settle=phrase("Name the country whose rules count, or read the capacity plate."),
    )


def _no_rule(case: Case, rule: CountryRule) -> Finding:
    """Return the finding for a country whose numbers nobody here has read."""
    us = COUNTRY_RULES["US"]
    answer = us.gives(rule_inputs(case)) if us.gives else PowerAnswer()
    working = [phrase("{title} ({edition}): {scope}.", **_cited(rule))]
    if answer.low_kw is not None and answer.high_kw is not None:
        gives = "{high}" if answer.high_kw - answer.low_kw < _NOISE_KW else "{low} to {high}"
        working.append(
            phrase(
                f"Only to compare: {{title}} of the United States gives {gives} for a hull of this "
                "size. It does not count here.",
                title=us.title, low=_kw(answer.low_kw), high=_kw(answer.high_kw),
            )
        )  # fmt: skip
    return _ask(
        case, rule, f"No rule of power of {rule.name} is known here with its numbers.",
        ("plate.max_power",), tuple(working),
    )  # fmt: skip


def _ask(
    case: Case,
    rule: CountryRule,
    text: str,
    needs: tuple[str, ...],
    working: tuple[Phrase, ...] = (),
) -> Finding:
    return _finding_502(case, rule.source)(
        verdict=Verdict.UNKNOWN,
        sentence=phrase("{said}", said=text),
        needs=needs,
        settle=phrase("{ask}", ask=rule.ask),
        working=working,
    )


def _two_crafts(case: Case, rule: CountryRule, hull: str) -> Finding:
    return _finding_502(case, rule.source)(
        verdict=Verdict.UNKNOWN,
        sentence=phrase(
            "The kind of hull is {hull}, but as the rules part them the craft is a monohull; one "
            "of the two is wrong.",
            hull=hull,
        ),
        needs=("rules.craft", "boat.hull_kind"),
        settle=phrase("Count her hulls, and put the kind of hull or the craft right."),
    )


def _cited(rule: CountryRule) -> dict[str, str]:
    return {"title": rule.title, "edition": rule.edition, "scope": rule.scope}


def _lacking(case: Case, rule: CountryRule, answer: PowerAnswer) -> Finding:
    return _finding_502(case, rule.source)(
        verdict=Verdict.UNKNOWN,
        sentence=phrase(
            "{title} asks for what is not entered: {listed}.",
            title=rule.title, listed=_labels(answer.missing),
        ),
        needs=answer.missing,
        settle=phrase("Fill in: {listed}.", listed=_labels(answer.missing)),
        working=tuple(phrase("{note}", note=note) for note in answer.notes),
    )  # fmt: skip


def _labels(fields: tuple[str, ...]) -> str:
    return listed([label_of(name) for name in fields])


def _ruled(case: Case, rule: CountryRule, answer: PowerAnswer) -> Finding:
    """Return the comparison of the engine with what the rule gives."""
    assert answer.low_kw is not None and answer.high_kw is not None  # noqa: S101 - it is known
    power = hung_power(case)
    verdict, settle = _rule_verdict(case, answer, power)
    limit = answer.low_kw if verdict in (Verdict.FITS, Verdict.TIGHT) else answer.high_kw
    is_one = answer.high_kw - answer.low_kw < _NOISE_KW
    gives = "{high}" if is_one else "{low} to {high}"
    has = "this engine has {power}" if power.is_rated else "engines of this class have {class_low}"
    has += "" if power.is_rated else " to {power}"
    tail = " The text does not settle this case." if answer.unsettled else ""
    tail += " The capacity plate wins over it." if _has_plate(case) else " It is no rating."
    return _finding_502(case, rule.source)(
        verdict=verdict,
        sentence=phrase(
            f"What {{title}} gives for this hull is {gives}; {has}.{tail}",
            title=rule.title, low=_kw(answer.low_kw), high=_kw(answer.high_kw),
            power=_kw(power.high_kw), class_low=_kw(power.low_kw),
        ),
        value=power.high_kw,
        high=limit,
        margin=limit + _NOISE_KW - power.high_kw,
        tolerance=0.0,
        needs=(*answer.used, "engine.power", *answer.open_fields),
        settle=settle,
        working=_rule_working(case, rule, answer),
    )  # fmt: skip


def _rule_verdict(
    case: Case, answer: PowerAnswer, power: HungPower
) -> tuple[Verdict, Phrase | None]:
    assert answer.low_kw is not None and answer.high_kw is not None  # noqa: S101 - it is known
    read = phrase("Read the rated power from the plate on the engine's bracket.")
    if power.high_kw <= answer.low_kw + _NOISE_KW:
        if answer.open_fields:
            return Verdict.TIGHT, phrase(
                "It holds however these are answered, but say: {listed}.",
                listed=_labels(answer.open_fields),
            )
        return (Verdict.FITS, None) if power.is_rated else (Verdict.TIGHT, read)
    plate = _has_plate(case)
    if power.low_kw > answer.high_kw + _NOISE_KW:
        ask = "Measure length and width again; then ask the builder and the insurer in writing."
        return (Verdict.TIGHT if plate else Verdict.STOPS), phrase(ask)
    if not power.is_rated:
        return (Verdict.TIGHT if plate else Verdict.UNKNOWN), read
    if answer.open_fields:
        settle = phrase("Say or measure: {listed}.", listed=_labels(answer.open_fields))
        return (Verdict.TIGHT if plate else Verdict.UNKNOWN), settle
    if answer.unsettled:
        return (Verdict.TIGHT if plate else Verdict.UNKNOWN), phrase("Ask the boat's builder.")
    closer = "Measure {listed} more closely; the tolerance decides it."
    return Verdict.TIGHT, phrase(closer, listed=_labels(answer.used[:2]))


def _rule_working(case: Case, rule: CountryRule, answer: PowerAnswer) -> tuple[Phrase, ...]:
    lines = [phrase("{title} ({edition}): {scope}.", **_cited(rule))]
    if answer.factor is not None:
        lines.append(
            phrase(
                "Length times width is {factor} ± {spread} sq ft.",
                factor=f"{answer.factor.value:.1f}", spread=f"{answer.factor.tolerance:.1f}",
            )
        )  # fmt: skip
    if answer.raw_kw is not None:
        lines.append(
            phrase(
                "The line gives {raw}, which may be raised to the next multiple of 5 hp.",
                raw=_kw(answer.raw_kw),
            )
        )
    lines += [phrase("{note}", note=text) for text in (*answer.unsettled, *answer.notes)]
    plate = case.job.plate.max_power
    if plate is not None and answer.high_kw is not None and plate.value > answer.high_kw:
        lines.append(
            phrase(
                "The plate says {plate}, more than the computation gives: read it again, or the "
                "builder went another way.",
                plate=_kw(plate.value),
            )
        )
    route = trial_route(rule_inputs(case))
    length = case.job.boat.length
    if length is not None and length.value < LONGEST_MM and not route.fails:
        lines.append(
            phrase(
                "A builder may instead test such a boat under 183.53(b), up to "
                f"{TEST_CEILING_HP} hp at most."
            )
        )
    return tuple(lines)


# ---------------------------------------------------------------------------- 505, 506


def check_kill_switch(case: Case) -> tuple[Finding, ...]:
    """505: is there a cut-off switch with a link? Asked by the law of the US, custom elsewhere.

    Nothing while nobody named a country, nor where the law of the US leaves the boat out.
    """
    said, length = case.job.rules.kill_switch, case.job.boat.length
    country = case.job.plate.country
    is_us = country == "US"
    is_short = length is None or length.value < SWITCH_LENGTH_MM
    is_law = is_us and is_short and hung_power(case).high_kw >= SWITCH_KW
    if said == "not said" and not is_law and (is_us or not country):
        return ()
    found = partial(
        Finding,
        code=505,
        subject="boat",
        title="engine cut-off switch",
        source="usc-4312" if is_law else "kill-switch",
        needs=("rules.kill_switch",),
    )
    if said == "yes":
        return (
            found(
                verdict=Verdict.FITS,
                sentence=phrase(
                    "There is a cut-off switch with a link; wear the link, and try it each trip."
                ),
            ),
        )
    if said == "no":
        law = " Who installs engine and starting controls in trade must fit one." if is_law else ""
        return (
            found(
                verdict=Verdict.TIGHT,
                sentence=phrase("There is no cut-off switch with a link." + law),
                settle=phrase("Fit one with the controls; the engine maker's kit comes first."),
            ),
        )
    law = (
        " Who installs engine and starting controls in trade on such a boat must fit one."
        if is_law else " Ask what your own country's law says of it, and wear one in any case."
    )  # fmt: skip
    return (
        found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("Whether there is a cut-off switch with a link is not said." + law),
            settle=phrase("Look for it at the helm, pull the link and see whether it stops."),
        ),
    )


def check_steering_duty(case: Case) -> tuple[Finding, ...]:
    """506: is the steering gear of the class that the power asks for? Nothing for a tiller."""
    rules, power = case.job.rules, hung_power(case)
    said = rules.steering_duty
    has_gear = rules.remote_steering == "yes" or said != "not said"
    if not has_gear or power.high_kw <= DUTY_KW or not power.is_rated:
        return ()
    light_serves = power.count == 1 and power.high_kw <= LIGHT_KW + _NOISE_KW
    verdict = {"standard": Verdict.FITS, "not said": Verdict.UNKNOWN}.get(said)
    if verdict is None:
        verdict = Verdict.FITS if light_serves else Verdict.STOPS
    wanted = "standard or light duty" if light_serves else "standard duty"
    settle = None
    if verdict is not Verdict.FITS:
        settle = phrase(
            "Read the class from the label on cable or helm; heavier power on an old cable wants "
            "the whole gear looked at by a mechanic."
        )
    return (
        Finding(
            code=506,
            subject=case.candidate.id,
            title="class of the steering gear",
            verdict=verdict,
            sentence=phrase(
                "{power} asks for a steering gear of {wanted}; this one's class is {said}.",
                power=_kw(power.high_kw),
                wanted=wanted,
                said={"not said": "not known", "light": "light duty"}.get(said, "standard duty"),
            ),
            source="iso-8848",
            kind=Kind.POWER,
            value=power.high_kw,
            high=LIGHT_KW if said == "light" else None,
            margin=LIGHT_KW - power.high_kw if said == "light" else None,
            tolerance=0.0 if said == "light" else None,
            needs=("rules.steering_duty", "engine.power"),
            settle=settle,
        ),
    )


def not_looked_at(case: Case) -> tuple[str, ...]:
    """Return what of power and load nobody entered anything about, in words."""
    job = case.job
    has_rule = job.plate.country != "" or job.rules != RuleFacts()
    asked = (
        ("capacity plate", job.plate != CapacityPlate(country=job.plate.country)),
        ("country and its power rule", has_rule or job.plate.max_power is not None),
        ("people, fuel and gear aboard", bool(job.masses)),
    )
    return tuple(words for words, is_known in asked if not is_known)
