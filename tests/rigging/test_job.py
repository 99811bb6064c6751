"""The job: what it refuses, and that every field says what it means."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest

from rigfit.errors import JobError
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.fit_check import default_engine
from rigfit.rigging.job import GROUPS, LISTS, Job, Mounting
from rigfit.rigging.readings import FieldSpec, specs
from rigfit.units import INCH, METRIC, BareUnits, parse_entry
from tests.builders import sample_engine, sample_job

RECORDS = {key: record for key, _, record in GROUPS} | {key: item for key, _, _, item in LISTS}
SPECS = {
    f"{group}.{name}": spec
    for group, record in RECORDS.items()
    for name, spec in specs(record).items()
}
NUMBERS = {name: spec for name, spec in SPECS.items() if spec.kind is not None}
WORDS = {name: spec for name, spec in SPECS.items() if spec.kind is None}
# What a reader of the job file needs beyond the label is said for all but these, whose label says
# it all.
SELF_EVIDENT = (
    "units.speeds",
    "hole.name",
    "opening.name",
    "no_go.name",
    "dash.name",
    "engine.name",
)


def default_of(name: str) -> object:
    group, _, key = name.partition(".")
    return next(item.default for item in fields(RECORDS[group]) if item.name == key)


def test_two_engines_of_one_id_are_refused() -> None:
    twins = (sample_engine(id="A"), sample_engine(id="B"), sample_engine(id="A"))
    with pytest.raises(JobError, match='"A"') as caught:
        Job(engines=twins)
    assert caught.value.cure


def test_engines_of_different_ids_are_taken() -> None:
    job = Job(engines=(sample_engine(id="A"), sample_engine(id="B")))
    assert job.engine("B").id == "B"


@pytest.mark.parametrize("engines", [(), (sample_engine(id="A"),)])
def test_a_chosen_engine_that_is_not_there_is_refused(engines: tuple[object, ...]) -> None:
    with pytest.raises(JobError, match='"C"') as caught:
        Job(engines=engines, mounting=Mounting(engine="C"))  # type: ignore[arg-type]
    assert caught.value.where == "mounting, engine"


def test_asking_for_an_engine_that_is_not_there_names_those_that_are() -> None:
    with pytest.raises(JobError, match="the engines are A"):
        sample_job().engine("Z")


def test_the_chosen_engine_comes_before_the_first() -> None:
    two = Job(engines=(sample_engine(id="A"), sample_engine(id="B")))
    assert default_engine(two) == "A"
    assert default_engine(replace(two, mounting=Mounting(engine="B"))) == "B"


def test_a_job_without_an_engine_says_so() -> None:
    with pytest.raises(JobError, match="no engine"):
        default_engine(Job())


def test_every_single_table_of_a_job_is_listed_in_working_order() -> None:
    listed = [key for key, _, _ in GROUPS] + [field for _, field, _, _ in LISTS]
    assert listed == [item.name for item in fields(Job)]


@pytest.mark.parametrize("group", sorted(RECORDS))
def test_every_field_of_a_record_is_described(group: str) -> None:
    assert list(specs(RECORDS[group])) == [item.name for item in fields(RECORDS[group])]


@pytest.mark.parametrize("name", sorted(SPECS))
def test_every_field_has_a_label_and_says_how(name: str) -> None:
    spec: FieldSpec = SPECS[name]
    assert spec.label.strip()
    assert spec.how or name in SELF_EVIDENT
    assert spec.example


@pytest.mark.parametrize("group", sorted(RECORDS))
def test_no_two_fields_of_a_record_share_a_label(group: str) -> None:
    labels = [spec.label for spec in specs(RECORDS[group]).values()]
    assert len(labels) == len(set(labels))


@pytest.mark.parametrize("name", sorted(NUMBERS))
def test_the_limits_of_a_number_leave_room(name: str) -> None:
    spec = NUMBERS[name]
    assert math.isfinite(spec.low)
    assert spec.low < spec.high < math.inf
    assert 0.0 <= spec.tolerance < (spec.high - spec.low) / 2.0


@pytest.mark.parametrize("bare", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("name", sorted(NUMBERS))
def test_the_example_of_a_number_can_be_typed_and_lies_inside_the_limits(
    name: str, bare: BareUnits
) -> None:
    spec = NUMBERS[name]
    assert spec.kind is not None
    assert spec.low <= parse_entry(spec.example, spec.kind, bare=bare).value <= spec.high


@pytest.mark.parametrize("name", sorted(NUMBERS))
def test_a_number_is_missing_until_it_is_measured(name: str) -> None:
    assert default_of(name) is None


@pytest.mark.parametrize("name", [n for n, spec in WORDS.items() if spec.choices])
def test_the_default_and_the_example_of_a_choice_are_among_its_words(name: str) -> None:
    spec = WORDS[name]
    assert default_of(name) in ("", *spec.choices)  # "" is not answered yet
    assert spec.example in spec.choices
    assert len(set(spec.choices)) == len(spec.choices)


@pytest.mark.parametrize("name", [n for n, spec in WORDS.items() if spec.profile])
def test_a_field_that_names_a_profile_names_a_family_of_the_catalogue(name: str) -> None:
    assert load_catalogue().family(WORDS[name].profile)
