"""Holes and bolts in words and as data: what is shown, in 80 columns, in the job's units."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings

from rigfit import tasks
from rigfit.plain_holes import (
    bolts_lines,
    hole_rows,
    holes_lines,
    place,
    reuse_lines,
    shown_relations,
)
from rigfit.plain_report import not_looked_at_lines, report_lines
from rigfit.plain_tables import WIDTH, cut, painted, table, verdict_cell
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hole_fit import Relation
from rigfit.rigging.job import Job
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown
from rigfit.wording import bolts_data, holes_data, report_data
from tests.builders import CATALOGUE, CLAMPED, reading, sample_job
from tests.rigging.holes import FASTENERS, hole_jobs, no_go, old, opening, patterned
from tests.rigging.loads import crew

OF_HOLES = ("old holes", "openings and places inside", "bolts and backing")
OF_THE_BOAT = (
    "swing of the engine", "capacity plate", "country and its power rule",
    "people, fuel and gear aboard", "how she floats", "the boat under way", "sea trial",
)  # fmt: skip


def check(job: Job) -> EngineReport:
    return fit_check(job, FASTENERS)


def in_units(job: Job, lengths: str) -> Job:
    return replace(job, units=replace(job.units, lengths=lengths))


@settings(max_examples=60)
@given(hole_jobs())
def test_every_table_of_holes_stays_within_80_columns(job: Job) -> None:
    for lengths in ("mm", "in"):
        report = check(in_units(job, lengths))
        lines = [*holes_lines(report), *reuse_lines(report), *bolts_lines(report)]
        assert [line for line in lines if len(line) > WIDTH] == []


@settings(max_examples=60)
@given(hole_jobs())
def test_each_new_hole_is_shown_and_nothing_tight_is_left_out(job: Job) -> None:
    report = check(job)
    assert report.holes is not None
    text = "\n".join(holes_lines(report))
    for item in report.holes.holes:
        assert item.hole.feature.name in text
        kept = shown_relations(item)
        assert kept
        if item.reuse is None:
            worst = min(item.relations, key=lambda other: (-other.verdict.rank, other.slack_mm))
            assert max(other.verdict.rank for other in kept) == worst.verdict.rank
    assert json.loads(json.dumps(report_data(report), allow_nan=False))["holes"]["new"]


def test_a_hole_clear_of_everything_shows_its_nearest_neighbour() -> None:
    report = check(sample_job())
    assert report.holes is not None
    assert [relation.relation for item in report.holes.holes for relation in shown_relations(item)]
    assert "clear of" in "\n".join(holes_lines(report))


@pytest.mark.parametrize(
    ("holes", "relation"),
    [
        (patterned(tol=0.1), Relation.SERVES),
        ((old(-163.5, 58.0),), Relation.BREAKS),
        ((old(-163.5, 75.0),), Relation.NEAR),
    ],
)
def test_the_words_of_a_relation_stand_in_table_data_and_spreadsheet(holes, relation) -> None:
    report = check(sample_job(holes=holes))
    words = {
        Relation.SERVES: "served by",
        Relation.BREAKS: "breaks into",
        Relation.NEAR: "too near",
    }
    assert words[relation] in "\n".join(holes_lines(report))
    found = holes_data(report)["new"][0]["against"]
    assert relation.value in {item["relation"] for item in found}
    headings, *rows = hole_rows(report)
    assert relation.value in {row[headings.index("relation")] for row in rows}


def test_what_is_to_be_filled_and_measured_again_is_said() -> None:
    report = check(
        sample_job(holes=(old(10.0, 300.0, name="spare"), old(2000.0, 40.0, name="far")))
    )
    text = " ".join(" ".join(holes_lines(report)).split())
    assert "To be filled solid: spare, far." in text
    assert "Measure again: far lies off the transom" in text
    assert holes_data(report)["to_fill"] == ["spare", "far"]


def test_what_is_in_the_way_inside_is_said_only_where_somebody_looked() -> None:
    assert "Inside" not in "\n".join(holes_lines(check(sample_job())))
    report = check(sample_job(no_go=(no_go(-200.0, -100.0, 30.0, 80.0),)))
    assert "Inside, ! stops: wide washers" in " ".join(holes_lines(report))
    assert holes_data(report)["inside"][0]["place"] == "knee"


def test_places_are_fine_enough_to_drill_by() -> None:
    assert place(-163.54, Shown("mm"), signed=True) == "-163.5"
    assert place(163.5, Shown("mm"), signed=True) == "+163.5"
    assert place(-0.0, Shown("mm"), signed=True) == "0"
    assert place(163.5, Shown("in"), signed=True) == "+6.44"


@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_the_stack_adds_up_to_its_grip(lengths: str) -> None:
    report = tasks.check(in_units(tasks.drilled_demo_job(), lengths))
    data = bolts_data(report)
    assert data is not None
    assert sum(layer["thickness_mm"] for layer in data["layers"]) == pytest.approx(
        data["grip_mm"], abs=0.003
    )
    text = "\n".join(bolts_lines(report))
    assert "grip" in text
    assert "backing plate" in text
    assert "95 mm" in text


def test_without_bolts_there_is_no_section_and_no_data() -> None:
    report = check(sample_job())
    assert bolts_lines(report) == []
    assert bolts_data(report) is None


def test_bolts_half_filled_in_say_what_is_missing() -> None:
    report = check(sample_job(bolting__bolt="M12"))
    assert bolts_data(report) is None
    assert "Not known:" in " ".join(bolts_lines(report))


# ----------------------------------------------------------------------------- not looked at


def test_what_nobody_entered_is_named_and_decides_nothing() -> None:
    report = fit_check(sample_job(), CATALOGUE)
    assert report.verdict is Verdict.FITS
    assert report.not_looked_at == (*OF_HOLES, *OF_THE_BOAT)
    lines = not_looked_at_lines(report)
    assert " ".join(lines) == f"Not looked at yet: {', '.join((*OF_HOLES, *OF_THE_BOAT))}."
    assert "\n".join(lines) in "\n".join(report_lines(report))
    assert report_data(report)["not_looked_at"] == list(report.not_looked_at)


@pytest.mark.parametrize(
    ("changes", "known"),
    [
        ({"holes": (old(0.0, 300.0),)}, "old holes"),
        ({"openings": (opening(0.0, 450.0, 30.0),)}, "openings and places inside"),
        ({"no_go": (no_go(-50.0, 50.0, 400.0, 480.0),)}, "openings and places inside"),
        ({"bolting__bolt": "M12"}, "bolts and backing"),
        ({"plate__max_persons": 4}, "capacity plate"),
        ({"plate__country": "US"}, "country and its power rule"),
        ({"masses": (crew(),)}, "people, fuel and gear aboard"),
        ({"hull__depth_bow": reading(900.0)}, "how she floats"),
        ({"underway__mass": reading(900.0)}, "the boat under way"),
        ({"propeller__pitch": reading(430.0)}, "the boat under way"),
    ],
)
def test_whatever_somebody_entered_is_no_longer_named(changes, known) -> None:
    assert known not in check(sample_job(**changes)).not_looked_at


def test_an_engine_that_clamps_on_has_nothing_of_the_kind_to_look_at() -> None:
    job = sample_job(engine__engine_class=CLAMPED)
    assert fit_check(job, CATALOGUE).not_looked_at == OF_THE_BOAT


def test_where_all_was_looked_at_there_is_no_line() -> None:
    report = tasks.check(tasks.drilled_demo_job())
    assert report.not_looked_at == ()
    assert not_looked_at_lines(report) == []


# ----------------------------------------------------------------------------- tables


def test_only_the_verdict_of_a_row_is_painted() -> None:
    lines = table(("a", "verdict"), [["x", "= fits"], ["y", "! stops"]], "ll")
    said = painted(
        [*lines, "= fits below"], [Verdict.FITS, Verdict.STOPS], lambda word, _: f"<{word}>"
    )
    assert said[2:] == ["x  <= fits>", "y  <! stops>", "= fits below"]
    assert said[:2] == lines[:2]


def test_words_are_cut_with_a_sign_that_something_is_missing() -> None:
    assert cut("a long name", 20) == "a long name"
    assert cut("a long name", 8) == "a lon..."
    assert verdict_cell(Verdict.UNKNOWN) == "? unknown"
