"""Findings 501 to 507: power and load against plate and rule, weights, reminders, odd readings."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.checks_masses import check_masses
from rigfit.rigging.checks_power import (
    check_power_rule,
    hung_power,
    not_looked_at,
    rule_inputs,
)
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job, Neighbour
from rigfit.rigging.load_fields import CapacityPlate, MassItem, OldEngine, RuleFacts
from rigfit.rigging.readings import Origin, specs
from rigfit.sources import SOURCES
from rigfit.units import POUND_KG
from rigfit.wording import report_data, say, shown
from tests.builders import CATALOGUE, case_of, reading, records, sample_job
from tests.rigging.loads import HP, case, crew, facts, found, hp, load_job, plate, tank

FITS, TIGHT, UNKNOWN, STOPS = Verdict.FITS, Verdict.TIGHT, Verdict.UNKNOWN, Verdict.STOPS
TWINS = Neighbour(arrangement="twins", twin_spacing=reading(660.0, 1.0))
NO_PLATE = CapacityPlate(country="US")
ASKED = {"plate": CapacityPlate, "rules": RuleFacts, "old_engine": OldEngine, "mass": MassItem}


def words(finding: Finding) -> str:
    """Return everything a finding says, in millimetres."""
    style = shown(load_job().units)
    parts = (finding.sentence, finding.settle, *finding.working)
    return " ".join(say(part, style) for part in parts if part)


# ------------------------------------------------------------------ as a whole


def test_nothing_entered_finds_nothing_but_is_said_not_to_be_looked_at() -> None:
    report = fit_check(sample_job(), CATALOGUE)
    assert [item.code for item in report.findings if 500 <= item.code < 600] == []
    assert not_looked_at(report.case) == (
        "capacity plate",
        "country and its power rule",
        "people, fuel and gear aboard",
    )


def test_everything_entered_leaves_nothing_not_looked_at() -> None:
    assert not_looked_at(case()) == ()


def test_a_boat_within_every_limit_fits_throughout() -> None:
    assert {code: item.verdict for code, item in found().items()} == dict.fromkeys(
        (501, 502, 503, 504, 505, 506), FITS
    )


@st.composite
def load_jobs(draw: st.DrawFn) -> Job:
    """Jobs of any plate, facts and load, each with random figures and much of it missing."""
    mass = st.floats(0.0, 900.0)

    def maybe(value: Any) -> Any:
        return value if draw(st.booleans()) else None

    job = load_job(
        engine__power=maybe(hp(draw(st.floats(1.0, 300.0)))),
        engine__mass=maybe(reading(draw(st.floats(5.0, 400.0)), 2.0)),
        boat__length=maybe(reading(draw(st.floats(2000.0, 9000.0)), 20.0)),
        boat__hull_kind=draw(st.sampled_from(("", "planing-vee"))),
        transom__height_square=maybe(reading(draw(st.floats(380.0, 660.0)), 3.0)),
        plate=plate(
            country=draw(st.sampled_from(("", *specs(CapacityPlate)["country"].choices))),
            max_power=maybe(reading(draw(st.floats(0.0, 200.0)))),
            max_load=maybe(reading(draw(mass))),
            max_persons_mass=maybe(reading(draw(mass))),
            max_persons=maybe(draw(st.integers(0, 10))),
            load_includes_engine=draw(st.sampled_from(("yes", "no", "not said"))),
        ),
        rules=facts(
            craft=draw(st.sampled_from(specs(RuleFacts)["craft"].choices)),
            transom_width=maybe(reading(draw(st.floats(300.0, 3000.0)), 5.0)),
            beam=maybe(reading(draw(st.floats(300.0, 3000.0)), 5.0)),
            remote_steering=draw(st.sampled_from(("yes", "no", "not said"))),
            flat_bottom_hard_chine=draw(st.sampled_from(("yes", "no", "not said"))),
            transom_height=maybe(reading(draw(st.floats(380.0, 660.0)), 3.0)),
            max_displacement=maybe(reading(draw(st.floats(0.0, 5000.0)), 20.0)),
            boat_weight=maybe(reading(draw(mass), 10.0)),
            kill_switch=draw(st.sampled_from(("yes", "no", "not said"))),
            steering_duty=draw(st.sampled_from(("standard", "light", "not said"))),
        ),
        neighbour=draw(st.sampled_from((Neighbour(), TWINS, Neighbour(arrangement="kicker")))),
    )
    items = st.sampled_from(
        (
            crew(draw(mass), maybe(draw(st.integers(0, 9)))),
            tank(draw(st.floats(0.0, 200.0)), level=maybe(reading(0.5, 0.05))),
            MassItem("box", "gear", maybe(reading(draw(mass), 2.0))),
        )
    )
    return replace(job, masses=tuple(draw(st.lists(items, max_size=3))))


def entered(job: Job, name: str) -> bool:
    """True when a field a finding needs holds an answer; of masses, in any of them."""
    group, _, key = name.partition(".")
    record = {"engine": job.engines, "mass": job.masses}.get(group) or (getattr(job, group, None),)
    return any(getattr(item, key, None) not in (None, "", "not said") for item in record)


@settings(max_examples=300, deadline=None)
@given(load_jobs())
def test_nothing_fits_without_what_it_needs_and_every_finding_can_be_said(job: Job) -> None:
    report = fit_check(job, CATALOGUE)
    mine = [item for item in report.findings if 500 <= item.code < 600]
    known = {f"{key}.{name}" for key, record in ASKED.items() for name in specs(record)}
    known |= {f"{key}.{name}" for key, record in records().items() for name in specs(record)}
    for item in mine:
        assert item.source in SOURCES
        assert set(item.needs) <= known
        if item.verdict is FITS:
            assert [name for name in item.needs if not entered(job, name)] == []
            assert item.margin is None or item.tolerance is None or item.margin >= item.tolerance
        if item.verdict is UNKNOWN:
            assert item.settle is not None
        assert not set("{}") & set(words(item))
    assert len({item.code for item in mine}) == len(mine)
    report_data(report)


@settings(max_examples=150, deadline=None)
@given(load_jobs())
def test_a_figure_of_the_class_never_fits(job: Job) -> None:
    bare = replace(job, engines=(replace(job.engines[0], mass=None, power=None),))
    fits = {
        item.code
        for item in fit_check(bare, CATALOGUE).findings
        if item.verdict is FITS and {"engine.mass", "engine.power"} & set(item.needs)
    }
    assert fits & {501, 502, 503, 504, 506} == set()


@settings(max_examples=150, deadline=None)
@given(load_jobs())
def test_what_a_rule_gives_is_never_called_a_rating_of_the_boat(job: Job) -> None:
    for item in fit_check(job, CATALOGUE).findings:
        if item.code == 502 and item.value is not None:
            assert ("It is no rating" in words(item)) != ("plate wins over it" in words(item))


# ------------------------------------------------------------------ 501


@pytest.mark.parametrize(
    ("engine", "verdict"), [(80.0, FITS), (100.0, FITS), (100.5, STOPS), (115.0, STOPS)]
)
def test_power_against_the_plate(engine: float, verdict: Verdict) -> None:
    finding = found(engine__power=hp(engine))[501]
    assert finding.verdict is verdict
    assert finding.source == "capacity-plate"


def test_twins_make_twice_the_power() -> None:
    finding = found(engine__power=hp(60.0), neighbour=TWINS)[501]
    assert finding.verdict is STOPS
    assert finding.value == pytest.approx(120.0 * HP)
    assert found(engine__power=hp(50.0), neighbour=TWINS)[501].verdict is FITS


def test_a_kicker_is_not_counted_and_that_is_said() -> None:
    assert "kicker" in words(found(neighbour=Neighbour(arrangement="kicker"))[501])


@pytest.mark.parametrize(
    ("max_kw", "verdict"), [(95.0, TIGHT), (90.0, TIGHT), (60.0, UNKNOWN), (39.0, STOPS)]
)
def test_without_a_rated_power_the_span_of_the_class_counts(
    max_kw: float, verdict: Verdict
) -> None:
    """The class has 40 to 90 kW."""
    finding = found(engine__power=None, plate=plate(max_power=reading(max_kw)))[501]
    assert finding.verdict is verdict
    assert not hung_power(case(engine__power=None)).is_rated


def test_a_plate_of_no_power_is_named_with_the_reading_to_check() -> None:
    codes = found(plate=plate(max_power=reading(0.0)))
    assert codes[501].verdict is UNKNOWN
    assert codes[501].needs[0] == "plate.max_power"
    assert "Read the plate again" in words(codes[501])


def test_without_a_plate_power_nothing_is_said_of_it() -> None:
    assert 501 not in found(plate=plate(max_power=None))


# ------------------------------------------------------------------ 502


def test_the_rule_is_compared_beside_the_plate_and_never_stops_what_the_plate_allows() -> None:
    """5.2 m by 1.85 m gives 120 hp; the plate of 300 hp wins over it."""
    finding = found(engine__power=hp(200.0), plate=plate(max_power=reading(300.0 * HP)))[502]
    assert finding.verdict is TIGHT
    assert "capacity plate wins" in words(finding)
    assert "more than the computation gives" in words(finding)


@pytest.mark.parametrize(
    ("engine", "verdict"), [(110.0, FITS), (115.0, FITS), (120.0, TIGHT), (121.0, TIGHT),
                            (126.0, STOPS)]
)  # fmt: skip
def test_without_a_plate_the_rule_is_what_there_is(engine: float, verdict: Verdict) -> None:
    """117.1 ± 1.2 hp is raised to 120, or to 115 at the lower end: 115.95 is 120 too."""
    loose = facts(transom_width=reading(1850.0, 40.0))
    finding = found(engine__power=hp(engine), plate=NO_PLATE, rules=loose)[502]
    assert finding.verdict is verdict
    assert "no rating" in words(finding)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"remote_steering": "not said"}, "rules.remote_steering"),
        ({"transom_height": reading(508.0, 3.0)}, "rules.transom_height"),
        ({"remote_steering": "no", "flat_bottom_hard_chine": "not said"},
         "rules.flat_bottom_hard_chine"),
    ],
)  # fmt: skip
def test_an_open_answer_that_decides_it_is_asked_for(change: dict[str, Any], field: str) -> None:
    engine = hp(50.0) if "flat_bottom_hard_chine" in change else hp(80.0)
    finding = found(engine__power=engine, plate=NO_PLATE, rules=facts(**change))[502]
    assert finding.verdict is UNKNOWN
    assert field in finding.needs


def test_an_open_answer_that_does_not_decide_it_keeps_it_from_fitting() -> None:
    rules = facts(remote_steering="not said")
    assert found(engine__power=hp(30.0), plate=NO_PLATE, rules=rules)[502].verdict is TIGHT


@pytest.mark.parametrize("field", ["transom_width"])
def test_without_a_fact_the_rule_waits_for_it(field: str) -> None:
    finding = found(plate=NO_PLATE, rules=facts(**{field: None}))[502]
    assert (finding.verdict, finding.needs) == (UNKNOWN, (f"rules.{field}",))
    assert "greatest width of the transom" in words(finding)


def test_without_a_fact_nothing_is_asked_beside_a_plate() -> None:
    assert 502 not in found(rules=facts(transom_width=None))


@pytest.mark.parametrize("country", ["EU", "UK", "CA", "AU", "NZ", "other"])
def test_of_another_country_it_is_said_whom_to_ask(country: str) -> None:
    finding = found(plate=CapacityPlate(country=country))[502]
    assert finding.verdict is UNKNOWN
    assert "is known here" in words(finding)
    assert "Only to compare" in words(finding)
    assert 502 not in found(plate=plate(country=country))


def test_a_boat_beyond_the_rule_is_sent_to_its_builder() -> None:
    finding = found(plate=NO_PLATE, boat__length=reading(6500.0, 20.0))[502]
    assert finding.verdict is UNKNOWN
    assert "20 ft" in words(finding)


def test_what_the_text_does_not_settle_is_asked() -> None:
    """2.0 m by 1.5 m is 32.3 sq ft: the lowest band, from which a flat bottom cannot drop."""
    finding = found(
        engine__power=hp(2.5),
        plate=NO_PLATE,
        boat__length=reading(2000.0),
        rules=facts(
            transom_width=reading(1500.0), beam=None, flat_bottom_hard_chine="yes",
            remote_steering="no",
        ),
    )[502]  # fmt: skip
    assert finding.verdict is UNKNOWN
    assert "does not settle" in words(finding)


def test_without_a_country_the_rule_asks_for_one_once_its_facts_are_there() -> None:
    finding = found(plate=CapacityPlate())[502]
    assert finding.needs == ("plate.country", "plate.max_power")
    assert 502 not in found(plate=CapacityPlate(), rules=RuleFacts())


@pytest.mark.parametrize(("hull", "craft"), [("small-rib", "inflatable"), ("pontoon", "multihull"),
                                             ("planing-vee", "")])  # fmt: skip
def test_a_hull_kind_tells_what_craft_it_is_where_nobody_said(hull: str, craft: str) -> None:
    job = load_job(rules=facts(craft="not said"), boat__hull_kind=hull)
    assert rule_inputs(case_of(job)).craft == craft


@pytest.mark.parametrize(
    ("missing", "fields"),
    [
        ((), ("transom.height_square",)),
        (("square",), ("transom.height_along_face", "transom.rake")),
    ],
)
def test_the_transom_height_of_the_rule_is_stood_in_for(
    missing: tuple[str, ...], fields: tuple[str, ...]
) -> None:
    gone = {"transom__height_square": None} if missing else {}
    inputs = rule_inputs(case(rules=facts(transom_height=None), **gone))
    assert inputs.height_fields == fields
    assert inputs.transom_height is not None
    assert inputs.transom_height.value == pytest.approx(503.0, abs=0.5)


def test_transom_heights_that_disagree_stand_in_for_nothing() -> None:
    off = case(rules=facts(transom_height=None), transom__height_square=reading(530.0, 3.0))
    assert rule_inputs(off).transom_height is None


# ------------------------------------------------------------------ 503


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        ({}, FITS),
        ({"max_load": reading(347.5), "max_persons_mass": None}, TIGHT),
        ({"max_load": reading(300.0), "max_persons_mass": None}, STOPS),
        ({"max_persons_mass": reading(150.0), "max_persons": 2}, STOPS),
        ({"max_persons": 1, "max_persons_mass": None}, STOPS),
        ({"country": "EU", "max_load": reading(300.0), "max_persons_mass": None}, UNKNOWN),
        ({"country": "EU", "max_load": reading(300.0), "max_persons_mass": None,
          "load_includes_engine": "no"}, FITS),
        ({"country": "EU", "max_load": reading(300.0), "max_persons_mass": None,
          "load_includes_engine": "yes"}, STOPS),
    ],
)  # fmt: skip
def test_load_against_the_plate(change: dict[str, Any], verdict: Verdict) -> None:
    """165 kg of engine, 160 of people and 22.4 of fuel are 347.4 kg."""
    assert found(plate=plate(**change))[503].verdict is verdict


def test_the_heavier_engine_is_what_breaks_the_plate() -> None:
    tight = plate(max_load=reading(360.0), max_persons_mass=None)
    assert found(plate=tight)[503].verdict is FITS
    assert found(plate=tight, engine__mass=reading(190.0, 2.0))[503].verdict is STOPS


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"masses": ()}, "people"),
        ({"masses": (crew(), MassItem("box", "gear"))}, "box"),
        ({"masses": (crew(), tank(volume=None))}, "red tank"),
    ],
)
def test_what_is_not_entered_keeps_a_load_unknown(change: dict[str, Any], told: str) -> None:
    finding = found(**change)[503]
    assert finding.verdict is UNKNOWN
    assert told in words(finding)


def test_what_is_over_already_stops_whatever_is_not_entered() -> None:
    heavy = plate(max_load=reading(100.0), max_persons_mass=None)
    assert found(plate=heavy, masses=())[503].verdict is STOPS


@pytest.mark.parametrize(
    ("change", "told"),
    [({"engine__mass": None}, "engine A"), ({"masses": (crew(), tank(level=None))}, "fuel")],
)
def test_a_load_with_a_stand_in_is_tight_and_names_it(change: dict[str, Any], told: str) -> None:
    finding = found(**change)[503]
    assert finding.verdict is TIGHT
    assert finding.settle is not None
    assert told in say(finding.settle, shown(load_job().units))


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"max_persons_mass": reading(700.0)}, "plate.max_persons_mass"),
        ({"max_load": reading(0.0)}, "plate.max_load"),
        ({"max_persons": 40}, "plate.max_persons"),
        ({"max_persons": 1}, "plate.max_persons"),
    ],
)
def test_a_plate_that_contradicts_itself_is_named_with_the_reading_to_check(
    change: dict[str, Any], field: str
) -> None:
    finding = found(plate=plate(**change))[503]
    assert finding.verdict is UNKNOWN
    assert field in finding.needs
    assert "Read the plate again" in words(finding)


def test_without_a_plate_the_builders_figures_give_the_laws_capacity() -> None:
    """(2600 - 480) / 5 = 424 kg; 934.8 - 628 lb leave 306.8 lb = 139 kg of persons, 2 of them."""
    rules = facts(max_displacement=reading(2600.0), boat_weight=reading(480.0))
    finding = found(plate=NO_PLATE, rules=rules)[503]
    assert finding.verdict is STOPS
    assert finding.high == pytest.approx(139.1, abs=0.1)
    assert "2 in number" in words(finding)
    assert found(plate=NO_PLATE, rules=rules, masses=(crew(130.0),))[503].verdict is FITS


@pytest.mark.parametrize("hull", ["catamaran", "pontoon"])
def test_a_kind_of_hull_that_contradicts_the_craft_is_named(hull: str) -> None:
    job = load_job(rules=facts(craft="monohull"), boat__hull_kind=hull)
    (finding,) = check_power_rule(case_of(job))
    assert finding.verdict is Verdict.UNKNOWN
    assert f"kind of hull is {hull}" in words(finding)
    assert set(finding.needs) == {"rules.craft", "boat.hull_kind"}


def test_the_builders_figures_count_nothing_in_another_country_or_for_another_craft() -> None:
    rules = facts(max_displacement=reading(2600.0), boat_weight=reading(480.0))
    assert 503 not in found(plate=CapacityPlate(country="AU"), rules=rules)
    assert 503 not in found(plate=NO_PLATE, rules=replace(rules, craft="multihull"))


@pytest.mark.parametrize(("persons", "verdict"), [(7, TIGHT), (8, STOPS)])
def test_without_plate_and_figures_the_boating_course_counts_but_never_fits(
    persons: int, verdict: Verdict
) -> None:
    """5.2 by 2.05 m is 114.7 sq ft: 7 persons."""
    finding = found(plate=NO_PLATE, masses=(crew(75.0 * persons, persons),))[503]
    assert finding.verdict is verdict
    assert finding.source == "persons-by-size"


@pytest.mark.parametrize(
    "change", [{"boat__length": reading(6200.0)}, {"engine__power": hp(2.0)}], ids=["20 ft", "2 hp"]
)
def test_the_laws_load_gives_nothing_out_of_its_scope(change: dict[str, Any]) -> None:
    rules = facts(max_displacement=reading(2600.0), boat_weight=reading(480.0))
    no_plate = {"plate": CapacityPlate(country="US"), "rules": rules, "masses": (crew(),)}
    inside = found(**no_plate)[503]
    assert inside.source == "cfr-183.41"
    outside = found(**no_plate, **change).get(503)
    assert outside is None or outside.source != "cfr-183.41"
    if outside is not None:
        assert "here they give nothing" in words(outside)


# ------------------------------------------------------------------ 504


@pytest.mark.parametrize(
    ("mass", "verdict"),
    [
        (reading(165.0, 2.0), FITS),
        (reading(199.0, 2.0), TIGHT),
        (reading(210.0, 2.0), TIGHT),
        (reading(165.0, 2.0, Origin.STATED), TIGHT),
        (reading(60.0, 2.0), UNKNOWN),
        (reading(400.0, 2.0), UNKNOWN),
        (None, UNKNOWN),
    ],
)
def test_weight_of_an_engine_of_80_hp(mass: Any, verdict: Verdict) -> None:
    """The law's weight for 65 to 94.9 hp is 439 lb, 199.1 kg; the class spans 120 to 190 kg."""
    assert found(engine__mass=mass)[504].verdict is verdict


def test_the_weight_without_a_rated_power_rests_on_the_class_and_never_fits() -> None:
    finding = found(engine__power=None)[504]
    assert (finding.verdict, finding.source) == (TIGHT, "class")


def test_the_stern_is_said_to_get_heavier_or_lighter() -> None:
    assert "47 kg ± 3.3 kg heavier" in words(found()[504])
    light = OldEngine(mass=reading(190.0, 2.0))
    assert "25 kg ± 3.3 kg lighter" in words(found(old_engine=light)[504])


# ------------------------------------------------------------------ 505, 506


@pytest.mark.parametrize(
    ("said", "country", "verdict"),
    [
        ("yes", "US", FITS),
        ("no", "US", TIGHT),
        ("not said", "US", UNKNOWN),
        ("no", "NZ", TIGHT),
        ("not said", "NZ", UNKNOWN),
    ],
)
def test_the_cut_off_switch(said: str, country: str, verdict: Verdict) -> None:
    assert (
        found(plate=plate(country=country), rules=facts(kill_switch=said))[505].verdict is verdict
    )


@pytest.mark.parametrize(
    "change",
    [
        {"plate": plate(country="")},
        {"boat__length": reading(8000.0)},
        {"engine__power": hp(2.5)},
    ],
)
def test_where_no_law_asks_for_a_switch_none_is_asked_for(change: dict[str, Any]) -> None:
    assert 505 not in found(rules=facts(), **change)


def test_outside_the_united_states_the_switch_is_custom_and_no_law_is_claimed() -> None:
    finding = found(plate=plate(country="NZ"), rules=facts())[505]
    assert finding.source == "kill-switch"
    assert "must fit" not in finding.sentence.text


@pytest.mark.parametrize(
    ("duty", "engine", "more", "verdict"),
    [
        ("standard", 80.0, {}, FITS),
        ("light", 80.0, {}, STOPS),
        ("light", 50.0, {}, FITS),
        ("light", 25.0, {"neighbour": TWINS}, STOPS),
        ("not said", 80.0, {}, UNKNOWN),
    ],
)
def test_the_class_of_the_steering(
    duty: str, engine: float, more: dict[str, Any], verdict: Verdict
) -> None:
    codes = found(rules=facts(steering_duty=duty), engine__power=hp(engine), **more)
    assert codes[506].verdict is verdict


@pytest.mark.parametrize(
    "change", [{"engine__power": hp(20.0)}, {"rules": facts(remote_steering="no")}]
)
def test_no_steering_class_is_asked_for_up_to_15_kw_or_with_a_tiller(
    change: dict[str, Any],
) -> None:
    assert 506 not in found(**{"rules": facts(), **change})


# ------------------------------------------------------------------ 507


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"boat__length": reading(3000.0), "rules": RuleFacts(), "masses": (crew(400.0, None),)},
         "boat.length"),
        ({"masses": (crew(400.0, 2),)}, "mass.persons"),
        ({"masses": (crew(20.0, 3),)}, "mass.persons"),
        ({"masses": (crew(ahead_of_transom=reading(9000.0)),)}, "mass.ahead_of_transom"),
        ({"masses": (crew(), MassItem("box", "gear", reading(5.0), volume=reading(60.0)))},
         "mass.volume"),
    ],
)  # fmt: skip
def test_a_mass_that_can_hardly_be_meant_is_named_with_the_reading_to_check(
    change: dict[str, Any], field: str
) -> None:
    (finding,) = check_masses(case(**change))
    assert finding.verdict is UNKNOWN
    assert field in finding.needs
    assert finding.settle is not None


def test_400_kg_of_people_in_a_boat_of_3_m_is_said_in_so_many_words() -> None:
    (finding,) = check_masses(
        case(boat__length=reading(3000.0), rules=RuleFacts(), masses=(crew(400.0, None),))
    )
    assert "400 kg of people in a boat of 3000 mm" in words(finding)


@pytest.mark.parametrize("kg", [75.0, 160.0, 320.0, 600.0])
def test_a_likely_crew_is_not_doubted(kg: float) -> None:
    assert check_masses(case(masses=(crew(kg, round(kg / 80.0)),))) == ()


def test_several_doubts_are_all_told_in_one_finding() -> None:
    odd = (crew(400.0, 2), crew(ahead_of_transom=reading(9000.0)))
    (finding,) = check_masses(case(masses=odd))
    assert "beyond the bow" in words(finding)
    assert "200 kg a person" in words(finding)


def test_a_power_between_two_bands_takes_the_heavier_and_says_so() -> None:
    finding = found(engine__power=hp(104.95))[504]
    assert finding.high == pytest.approx(526 * POUND_KG)
    assert "the text does not settle this" in words(finding)
    assert "does not settle" not in words(found()[504])


def test_a_short_transom_lets_the_dry_weight_be_cut_and_that_is_said() -> None:
    short = found(rules=facts(transom_height=reading(480.0, 3.0)))[504]
    assert "cut by a tenth" in words(short)
    # 520.7 mm, and 508 mm that may be more, are not 20 in or less.
    assert "cut by a tenth" not in words(found()[504])
    edge = found(rules=facts(transom_height=reading(508.0, 3.0)))[504]
    assert "cut by a tenth" not in words(edge)
