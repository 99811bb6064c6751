"""Words: phrases with amounts in the job's units, and numbers as data."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.findings import Finding, Verdict, deg, mm, phrase
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Units
from rigfit.sources import SOURCES, cite
from rigfit.units import Kind, Shown, show
from rigfit.wording import (
    CAUTIONS,
    MARKS,
    finding_data,
    heights_data,
    number,
    option_data,
    plate_data,
    report_data,
    say,
    share_words,
    shown,
    verdict_line,
)
from tests.builders import CATALOGUE, jobs, sample_job, without

MM, INCHES = Shown("mm"), Shown("in")
lengths = st.floats(-2000.0, 2000.0)


def a_finding(**changes: object) -> Finding:
    plain = Finding(
        code=999,
        subject="boat",
        title="a question",
        verdict=Verdict.TIGHT,
        sentence=phrase("A gap of {gap}.", gap=mm(4.0)),
        source="geometry",
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("style", "words"),
    [(MM, "The plate is +12 mm up at 14°."), (INCHES, "The plate is +1/2 in (+12 mm) up at 14°.")],
)
def test_a_phrase_is_said_in_the_units_of_the_job(style: Shown, words: str) -> None:
    said = say(
        phrase("The plate is {plate} up at {rake}.", plate=mm(12.0, signed=True), rake=deg(14.0)),
        style,
    )
    assert said == words


@given(lengths)
def test_an_amount_is_said_as_units_shows_it(value: float) -> None:
    for style in (MM, INCHES):
        said = say(phrase("{x}", x=mm(value, signed=True)), style)
        assert said == show(value, Kind.LENGTH, style, signed=True)


@given(st.text(max_size=40))
def test_a_word_from_the_job_is_said_as_it_is_typed(name: str) -> None:
    assert say(phrase("Engine {id}.", id=name), MM) == f"Engine {name}."


def test_a_phrase_that_promises_an_amount_it_lacks_is_a_mistake_found_at_once() -> None:
    with pytest.raises(KeyError):
        say(phrase("{gap} of hook"), MM)


@pytest.mark.parametrize("value", ["mm", "in"])
@pytest.mark.parametrize("speeds", ["kn", "km/h", "mph"])
def test_results_are_shown_as_the_job_asks(value: str, speeds: str) -> None:
    assert shown(Units(lengths=value, speeds=speeds)) == Shown(value, speeds)  # type: ignore[arg-type]


def test_a_missing_number_is_a_dash() -> None:
    assert number(None, Kind.LENGTH, MM) == "-"
    assert number(3.0, Kind.LENGTH, MM, signed=True) == "+3 mm"


def test_every_verdict_has_a_sign_of_its_own_so_colour_is_never_alone() -> None:
    assert set(MARKS) == set(Verdict)
    assert len(set(MARKS.values())) == len(Verdict)
    assert all(len(mark) == 1 and mark.isascii() for mark in MARKS.values())


@given(jobs())
def test_the_verdict_line_counts_the_findings_that_set_it(job: object) -> None:
    report = fit_check(job, CATALOGUE)  # type: ignore[arg-type]
    count = sum(1 for item in report.findings if item.verdict is report.verdict)
    line = verdict_line(report)
    assert report.verdict is Verdict.FITS or f"{count} finding" in line
    assert line.endswith(".")


def test_one_finding_is_not_spoken_of_as_many() -> None:
    line = verdict_line(fit_check(without(sample_job(), "transom.height_square"), CATALOGUE))
    assert line == "Nothing stops it; 1 finding tight or not confirmed by tape."


def test_one_finding_that_waits_is_not_spoken_of_as_many() -> None:
    line = verdict_line(fit_check(without(sample_job(), "transom.lowest_bolt"), CATALOGUE))
    assert line == "Not to be decided yet: 1 finding waits for a measurement."


@pytest.mark.parametrize("value", [float("inf"), float("-inf"), None])
def test_a_limitless_margin_is_no_number_in_the_data(value: float | None) -> None:
    assert finding_data(a_finding(margin=value), MM)["margin"] is None


@given(lengths)
def test_numbers_in_the_data_are_whole_micrometres_without_minus_zero(value: float) -> None:
    found = finding_data(a_finding(value=value), MM)["value"]
    assert isinstance(found, float)
    assert abs(found - value) <= 0.0005 + 1e-9
    assert str(found) != "-0.0"


def test_numbers_in_the_data_do_not_depend_on_the_units_shown() -> None:
    finding = a_finding(value=12.345, low=0.0, high=25.0, margin=12.345, tolerance=3.0)
    metric, inch = finding_data(finding, MM), finding_data(finding, INCHES)
    differing = {key for key in metric if metric[key] != inch[key]}
    assert differing == {"sentence"}


@pytest.mark.parametrize(("kind", "unit"), [(Kind.LENGTH, "mm"), (Kind.ANGLE, "deg")])
def test_the_unit_of_the_data_is_the_base_unit_of_the_kind(kind: Kind, unit: str) -> None:
    assert finding_data(a_finding(kind=kind), MM)["unit"] == unit


def test_the_source_of_the_data_is_cited_with_its_mark() -> None:
    assert finding_data(a_finding(), MM)["source"] == cite("geometry")


@pytest.mark.parametrize("key", sorted(SOURCES))
def test_every_citation_carries_how_far_it_was_verified(key: str) -> None:
    assert cite(key).endswith(f"[{SOURCES[key].mark.value}]")


def test_the_plate_of_the_data_is_that_of_the_mounted_row() -> None:
    report = fit_check(sample_job(mounting__row=3), CATALOGUE)
    row = next(item for item in heights_data(report) if item["row"] == 3)
    plate = plate_data(report)
    assert (plate["row"], plate["row_is_chosen"]) == (3, True)
    assert (plate["height_mm"], plate["tolerance_mm"]) == (
        row["plate_height_mm"],
        row["tolerance_mm"],
    )


def test_a_height_that_cannot_be_computed_is_null_in_the_data() -> None:
    report = fit_check(without(sample_job(), "transom.rake"), CATALOGUE)
    data = option_data(report.options[0])
    assert (data["plate_height_mm"], data["tolerance_mm"], data["off_target_mm"]) == (None,) * 3
    assert data["lift_mm"] == 3.0


def test_the_cautions_go_with_the_data() -> None:
    assert report_data(fit_check(sample_job(), CATALOGUE))["cautions"] == list(CAUTIONS)


@pytest.mark.parametrize(
    ("value", "words"),
    [(0.276, "28 % of the limit"), (1.04, "104 % of the limit"), (29.198, "29.2 times the limit"),
     (None, "")],
)  # fmt: skip
def test_a_share_of_a_limit_is_said_as_a_share(value, words):
    finding = Finding(704, "A", "bearing", Verdict.TIGHT, phrase(""), "class", kind=Kind.RATIO,
                      value=value, high=1.0)  # fmt: skip
    assert share_words(finding) == words
    assert share_words(replace(finding, kind=Kind.LENGTH)) == ""
