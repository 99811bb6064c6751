"""Checks 503 and 504: load against plate and rule, weight of the engine.

A mass nobody weighed is of its class and can never make a load fit. Where no plate gives a limit
and no rule can be reckoned, nothing is said.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from rigfit.rigging.case import Case
from rigfit.rigging.checks_power import hung_power, rule_inputs
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    kg,
    phrase,
    worst,
)
from rigfit.rigging.load_fields import CapacityPlate, OldEngine, RuleFacts
from rigfit.rigging.load_rules import (
    SHORT_TRANSOM_MM,
    EngineWeights,
    engine_weights,
    outfit_lb,
    persons_by_size,
    persons_capacity,
    short_transom,
    weight_capacity,
    whole_persons,
)
from rigfit.rigging.masses import (
    NEW_ENGINE,
    Masses,
    PlacedMass,
    engine_count,
    growth,
    masses_after,
    total_mass,
)
from rigfit.rigging.power_rules import LEAST_KW, LONGEST_MM
from rigfit.rigging.tolerance import estimate, expanded
from rigfit.units import POUND_KG, Kind

PERSON_LEAST_KG = 15.0
PERSON_MOST_KG = 180.0
"""What one person weighs at least and at most before a figure is doubted (estimate)."""

CLASS_SLACK = 0.25
"""Share by which a mass may leave its class before the reading is doubted (estimate)."""


def is_begun(case: Case) -> bool:
    """True once anything of plate, rules, old engine or load is entered."""
    job = case.job
    begun = (job.plate != CapacityPlate(), job.rules != RuleFacts())
    return any((*begun, job.old_engine != OldEngine(), bool(job.masses)))


# ---------------------------------------------------------------------------- 503


@dataclass(frozen=True, slots=True)
class LoadLimit:
    """One limit of what may be aboard, with what is.

    :param name: what is limited ("total load").
    :param value: what is aboard, kg or persons.
    :param tolerance: expanded uncertainty of it.
    :param limit: the most allowed, same unit.
    :param kind: ``Kind.MASS`` or ``Kind.COUNT``.
    :param source: key of the source of the limit.
    :param fields: the fields it rests on.
    :param verdict: the answer.
    """

    name: str
    value: float
    tolerance: float
    limit: float
    kind: Kind
    source: str
    fields: tuple[str, ...]
    verdict: Verdict

    @property
    def margin(self) -> float:
        """What is left, negative when over."""
        return self.limit - self.value


def check_load(case: Case) -> tuple[Finding, ...]:
    """503: is everything aboard within the plate's load, or within what the rule gives?"""
    plate = case.job.plate
    wrong = _plate_contradiction(plate)
    if wrong is not None:
        return (_contradicted(case, wrong),)
    aboard = masses_after(case)
    limits = load_limits(case, aboard)
    if not limits:
        return ()
    return (_load_finding(case, aboard, limits),)


def _plate_contradiction(plate: CapacityPlate) -> tuple[Phrase, tuple[str, ...]] | None:
    """Return what is wrong with the figures of a plate, and the fields, or None."""
    load, people, number = plate.max_load, plate.max_persons_mass, plate.max_persons
    if load is not None and load.value <= 0.0:
        return phrase("The plate's total load was entered as 0."), ("plate.max_load",)
    if load is not None and people is not None and people.value > load.value:
        text = "The plate's mass of persons, {people}, is above its total load, {load}."
        amounts = {"people": kg(people.value), "load": kg(load.value)}
        return phrase(text, **amounts), ("plate.max_persons_mass", "plate.max_load")
    if number and people is not None:
        each = people.value / number
        if not PERSON_LEAST_KG <= each <= PERSON_MOST_KG:
            text = "The plate's {number} persons and {people} make {each} a person."
            amounts = {"people": kg(people.value), "each": kg(each)}
            return (
                phrase(text, number=str(number), **amounts),
                ("plate.max_persons", "plate.max_persons_mass"),
            )
    return None


def _finding_503(case: Case) -> partial[Finding]:
    return partial(
        Finding, code=503, subject=case.candidate.id, title="load aboard", kind=Kind.MASS
    )


def _contradicted(case: Case, wrong: tuple[Phrase, tuple[str, ...]]) -> Finding:
    sentence, fields = wrong
    return _finding_503(case)(
        verdict=Verdict.UNKNOWN,
        sentence=sentence,
        source="capacity-plate",
        needs=fields,
        settle=phrase("Read the plate again, with the unit of each figure."),
    )


def load_limits(case: Case, aboard: Masses) -> tuple[LoadLimit, ...]:
    """Return every limit that plate or rule sets to what is aboard; the plate's where it has any.

    A total that the plate may or may not count the engine in is judged both ways.
    """
    plate = case.job.plate
    limits = []
    if plate.max_load is not None:
        limits.append(_total_limit(case, aboard, plate.max_load.value))
    crew = aboard.of_kind("crew")
    if plate.max_persons_mass is not None and crew:
        limits.append(
            _mass_limit(
                "mass of persons", crew, plate.max_persons_mass.value, "capacity-plate",
                ("plate.max_persons_mass",),
            )
        )  # fmt: skip
    persons = [item.persons for item in crew if item.persons is not None]
    if plate.max_persons is not None and persons:
        limits.append(_persons_limit(sum(persons), plate.max_persons))
    return tuple(limits) or _rule_limits(case, aboard)


def _persons_limit(persons: int, limit: int) -> LoadLimit:
    verdict = Verdict.FITS if persons <= limit else Verdict.STOPS
    fields = ("plate.max_persons", "mass.persons")
    return LoadLimit(
        "number of persons", persons, 0.0, limit, Kind.COUNT, "capacity-plate", fields, verdict
    )


def _mass_limit(
    name: str,
    items: Sequence[PlacedMass],
    limit: float,
    source: str,
    fields: tuple[str, ...],
    spread: float = 0.0,
) -> LoadLimit:
    """Return masses against a limit, kg, that is itself known to +/- ``spread``."""
    total = total_mass(items)
    tolerance = math.hypot(total.tolerance, spread)
    verdict = Limits(high=limit).judge(total.value, tolerance)
    if total.stand_ins:
        verdict = at_best(verdict, Verdict.TIGHT)
    own = tuple(dict.fromkeys(name for item in items for name in item.fields))
    return LoadLimit(
        name, total.value, tolerance, limit, Kind.MASS, source, (*fields, *own), verdict
    )


def _total_limit(case: Case, aboard: Masses, limit: float) -> LoadLimit:
    """Return the total load against the plate, with the engine in it as the plate says."""
    loads = [item for item in aboard.items if item.is_load]
    bare = [item for item in loads if item.kind != NEW_ENGINE]
    said = case.job.plate.load_includes_engine
    fields = ("plate.max_load", "plate.load_includes_engine")
    make = partial(_mass_limit, limit=limit, source="capacity-plate", fields=fields)
    if said == "no":
        return make("load without engine", bare)
    counted = make("total load with engine", loads)
    if said == "yes" or case.job.plate.country == "US":
        return counted
    without = make("load without engine", bare)
    if counted.verdict is without.verdict:
        return counted
    # Whether the engine counts decides it, and only the words on the plate say that.
    return LoadLimit(
        "total load with engine", counted.value, counted.tolerance, limit, Kind.MASS,
        "capacity-plate", counted.fields, Verdict.UNKNOWN,
    )  # fmt: skip


def _rule_limits(case: Case, aboard: Masses) -> tuple[LoadLimit, ...]:
    """Return what 183.35 and 183.41 give in the United States, where the builder's figures are."""
    rules = case.job.rules
    if case.job.plate.country != "US" or rule_inputs(case).craft not in ("", "monohull"):
        return ()
    if rules.max_displacement is None or rules.boat_weight is None or not _is_in_scope(case):
        return _size_limit(case, aboard)
    found = estimate(
        lambda values: weight_capacity(values["displacement"], values["boat"]),
        {"displacement": rules.max_displacement, "boat": rules.boat_weight},
    )
    fields = ("rules.max_displacement", "rules.boat_weight")
    make = partial(_mass_limit, source="cfr-183.41", spread=found.tolerance)
    loads = [item for item in aboard.items if item.is_load]
    limits = [make("total load with engine", loads, found.value, fields=fields)]
    row, crew = _heaviest_row(case), aboard.of_kind("crew")
    if row is not None and crew:
        people = _persons_capacity_lb(case, found.value, row) * POUND_KG
        limits.append(make("mass of persons", crew, people, fields=(*fields, "engine.power")))
    return tuple(limits)


def _is_in_scope(case: Case) -> bool:
    """True where 183.35 and 183.41 count: under 20 ft, and for outboards over 2 hp."""
    length, power = case.job.boat.length, hung_power(case)
    is_long = length is not None and length.value >= LONGEST_MM
    is_weak = power.is_rated and power.high_kw <= LEAST_KW + 1e-9
    return not (is_long or is_weak)


def _size_limit(case: Case, aboard: Masses) -> tuple[LoadLimit, ...]:
    """Return the boating course's number of persons; a rule of thumb that never fits."""
    length, beam = case.job.boat.length, case.job.rules.beam
    persons = [item.persons for item in aboard.of_kind("crew") if item.persons is not None]
    if length is None or beam is None or not persons or length.value >= LONGEST_MM:
        return ()
    most = persons_by_size(length.value, beam.value)
    fields = ("boat.length", "rules.beam", "mass.persons")
    verdict = Verdict.TIGHT if sum(persons) <= most else Verdict.STOPS
    return (
        LoadLimit(
            "number of persons", sum(persons), 0.0, most, Kind.COUNT, "persons-by-size", fields,
            verdict,
        ),
    )  # fmt: skip


def _heaviest_row(case: Case) -> EngineWeights | None:
    power = hung_power(case)
    rows = engine_weights(power.high_kw / power.count)
    return rows[-1] if rows else None


def _persons_capacity_lb(case: Case, capacity_kg: float, row: EngineWeights) -> float:
    test = case.job.rules.list_test
    return persons_capacity(
        capacity_kg / POUND_KG,
        outfit_lb(row, engine_count(case)),
        None if test is None else test.value / POUND_KG,
    )


def _load_finding(case: Case, aboard: Masses, limits: tuple[LoadLimit, ...]) -> Finding:
    verdict = worst(limit.verdict for limit in limits)
    lead = min(
        (limit for limit in limits if limit.verdict is verdict),
        key=lambda limit: limit.margin / max(limit.limit, 1.0),
    )
    lacks = _lacks(case, aboard)
    if lacks and verdict is not Verdict.STOPS:
        verdict = Verdict.UNKNOWN
    over = lead.margin < 0.0
    text = f"The {{name}} is {{value}}, {{gap}} {'more' if over else 'less'} than the "
    text += "{limit} of the {where}."
    if lacks:
        text += " Not entered yet: {lacks}."
    where = "capacity plate" if lead.source == "capacity-plate" else "rule, which is no rating"
    return _finding_503(case)(
        verdict=verdict,
        sentence=phrase(
            text, name=lead.name, value=_amount(lead, lead.value), where=where,
            gap=_amount(lead, abs(lead.margin)), limit=_amount(lead, lead.limit),
            lacks=", ".join(lacks),
        ),
        source=lead.source,
        kind=lead.kind,
        value=lead.value,
        high=lead.limit,
        margin=lead.margin,
        tolerance=lead.tolerance,
        needs=tuple(
            dict.fromkeys(
                name
                for limit in limits
                for name in limit.fields
                if not (verdict is Verdict.FITS and name == "plate.load_includes_engine")
            )
        ),
        settle=_load_settle(aboard, verdict, lead, lacks),
        working=_load_working(case, aboard, limits),
    )  # fmt: skip


def _amount(limit: LoadLimit, value: float) -> Amount:
    return Amount(value, limit.kind)


def _lacks(case: Case, aboard: Masses) -> tuple[str, ...]:
    """Return what a load is not complete without, in words."""
    people = () if any(item.kind == "crew" for item in case.job.masses) else ("people",)
    return (*people, *aboard.missing)


def _load_settle(
    aboard: Masses, verdict: Verdict, lead: LoadLimit, lacks: tuple[str, ...]
) -> Phrase | None:
    if verdict is Verdict.FITS:
        return None
    if lacks:
        return phrase("Enter the mass of: {lacks}.", lacks=", ".join(lacks))
    if verdict is Verdict.UNKNOWN:
        return phrase("Read from the plate whether its total load counts the engine in.")
    if verdict is Verdict.STOPS:
        end = "; the plate stays as it is." if lead.source == "capacity-plate" else "."
        return phrase("Leave something ashore, or take a lighter engine" + end)
    soft = [item.name for item in aboard.items if not item.mass.origin.is_firm]
    if soft and lead.margin >= lead.tolerance:
        return phrase("Weigh or enter what only stands in: {soft}.", soft=", ".join(soft))
    if lead.source == "persons-by-size":
        return phrase("Ask the builder for the boat's capacity; the rule of thumb is no plate.")
    return phrase("Weigh what is aboard more closely.")


def _load_working(case: Case, aboard: Masses, limits: tuple[LoadLimit, ...]) -> tuple[Phrase, ...]:
    lines = []
    for item in aboard.items:
        tail = "" if item.mass.origin.is_firm else f" ({item.mass.origin.value})"
        tail += "" if item.is_load else ", part of the boat"
        name = item.name
        lines.append(phrase("{name}: {mass}{tail}", name=name, mass=kg(item.mass.value), tail=tail))
    lines += [
        phrase(
            "{name}: {value} of {limit}.",
            name=limit.name, value=_amount(limit, limit.value), limit=_amount(limit, limit.limit),
        )
        for limit in limits
    ]  # fmt: skip
    rules, row = case.job.rules, _heaviest_row(case)
    both = rules.max_displacement is not None and rules.boat_weight is not None
    if both and case.job.plate.country == "US" and not _is_in_scope(case):
        lines.append(
            phrase(
                "33 CFR 183.35 and 183.41 are for outboards over 2 hp on boats under 20 ft; here "
                "they give nothing."
            )
        )
    elif both and case.job.plate.country == "US" and row is not None:
        assert rules.max_displacement is not None and rules.boat_weight is not None  # noqa: S101
        capacity = weight_capacity(rules.max_displacement.value, rules.boat_weight.value)
        people = _persons_capacity_lb(case, capacity, row)
        lines.append(
            phrase(
                "33 CFR 183.35 gives {capacity} of weight capacity, 183.41 {people} of persons, "
                "{number} in number, with the law's own engine weights. The plate wins.",
                capacity=kg(capacity), people=kg(people * POUND_KG),
                number=str(whole_persons(people)),
            )
        )  # fmt: skip
    return tuple(lines)


# ---------------------------------------------------------------------------- 504


def check_engine_weight(case: Case) -> tuple[Finding, ...]:
    """504: is the engine heavier than its class, and than the weights boats are reckoned with?"""
    if not is_begun(case):
        return ()
    found = partial(
        Finding,
        code=504,
        subject=case.candidate.id,
        title="weight of the engine",
        kind=Kind.MASS,
        needs=("engine.mass",),
    )
    low, high = case.engine.mass_low_kg, case.engine.mass_high_kg
    mass = case.candidate.mass
    if mass is None:
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "The engine is not weighed; its class spans {low} to {high}.",
                    low=kg(low), high=kg(high),
                ),
                source="class",
                settle=phrase("Weigh it on a crane scale, with oil and propeller."),
                working=_growth_lines(case),
            ),
        )  # fmt: skip
    if not low * (1.0 - CLASS_SLACK) <= mass.value <= high * (1.0 + CLASS_SLACK):
        return (
            found(
                verdict=Verdict.UNKNOWN,
                sentence=phrase(
                    "{mass} is far from the {low} to {high} of its class.",
                    mass=kg(mass.value), low=kg(low), high=kg(high),
                ),
                source="class",
                needs=("engine.mass", "engine.engine_class"),
                settle=phrase("Check the mass with its unit, and the class of the engine."),
                working=_growth_lines(case),
            ),
        )  # fmt: skip
    return (_weighed(case, found, mass.value, expanded(mass.tolerance)),)


def _weighed(case: Case, found: partial[Finding], mass_kg: float, spread_kg: float) -> Finding:
    """Return the comparison of a stated mass with the law's engine weights, else its class."""
    row = _heaviest_row(case) if case.candidate.power else None
    limit = row.dry_kg if row else case.engine.mass_high_kg
    limits = Limits(high=limit, outer_high=limit * 10.0)
    verdict = limits.judge(mass_kg, spread_kg)
    # The limit of a class is nobody's measurement, so that nothing fits by it.
    if row is None or case.candidate.mass is None or not case.candidate.mass.origin.is_firm:
        verdict = at_best(verdict, Verdict.TIGHT)
    than = "weight that boats are reckoned with" if row else "heaviest of its class"
    side = "over" if mass_kg > limit else "under"
    text = f"{{mass}} is {{gap}} {side} the {than}, {{limit}}."
    if mass_kg > limit:
        text += " The difference comes off people and gear."
    settle = None
    if verdict is not Verdict.FITS:
        settle = phrase("Weigh the engine as it will hang, and count it into the load.")
    return found(
        verdict=verdict,
        sentence=phrase(text, mass=kg(mass_kg), gap=kg(abs(limit - mass_kg)), limit=kg(limit)),
        source="cfr-183.75" if row else "class",
        value=mass_kg,
        high=limit,
        margin=limit - mass_kg,
        tolerance=spread_kg,
        needs=("engine.mass", "engine.power"),
        settle=settle,
        working=(*_table_lines(case), *_growth_lines(case)),
    )


def _table_lines(case: Case) -> tuple[Phrase, ...]:
    """Return what the law's table leaves open or allows for this engine and transom."""
    power = hung_power(case)
    rows = engine_weights(power.high_kw / power.count) if power.is_rated else ()
    height = rule_inputs(case).transom_height
    lines = []
    if len(rows) > 1:
        lines.append(
            phrase(
                "The power lies between two bands of the table, {low} and {high}; the text does "
                "not settle this, and the heavier is taken.",
                low=kg(rows[0].dry_kg), high=kg(rows[-1].dry_kg),
            )
        )  # fmt: skip
    if rows and height is not None and height.value + height.tolerance <= SHORT_TRANSOM_MM:
        lines.append(
            phrase(
                "For a transom of 20 in or less the table lets the dry weight be cut by a tenth: "
                "{cut}.",
                cut=kg(short_transom(rows[-1]).dry_kg),
            )
        )
    return tuple(lines)


def _growth_lines(case: Case) -> tuple[Phrase, ...]:
    more = growth(case)
    if more is None:
        return ()
    word = "heavier" if more.value >= 0.0 else "lighter"
    return (
        phrase(
            f"The stern gets {{more}} ± {{spread}} {word} than with the old engine.",
            more=kg(abs(more.value)), spread=kg(more.tolerance),
        ),
    )  # fmt: skip
