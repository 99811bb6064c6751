"""Power, load and flotation in words and as data: what is shown, in 80 columns and all units."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from rigfit import tasks
from rigfit.plain_afloat import afloat_lines, load_lines
from rigfit.plain_report import report_lines
from rigfit.plain_tables import WIDTH, apart
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.afloat_summary import summary_of
from rigfit.rigging.checks_load import load_limits
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hull_fields import Afloat, Hull
from rigfit.rigging.masses import masses_after, masses_before
from rigfit.wording import afloat_data, load_data, report_data
from tests.builders import CATALOGUE, changed, reading, sample_job
from tests.rigging.afloat_jobs import AFLOAT, afloat_job
from tests.rigging.loads import crew, load_job, tank

LENGTHS = ("mm", "in")


def check(job):
    is_sample = job.engines[0].engine_class in CATALOGUE.engine_classes
    return fit_check(job, CATALOGUE if is_sample else load_catalogue())


def bare():
    return check(sample_job())


JOBS = {
    "afloat": lambda: afloat_job(),
    "load": lambda: load_job(),
    "trouble": lambda: afloat_job(hull=Hull()),
    "not read": lambda: afloat_job(
        afloat=Afloat(engine_mass=reading(118.0, 2.0)), hull__mass=reading(420.0, 20.0),
        hull__centre_ahead=reading(2100.0, 50.0),
    ),
    "unweighed": lambda: load_job(engine__mass=None, masses=(crew(), tank(volume=None))),
    "listing": lambda: afloat_job(mounting__off_centre=reading(300.0, 3.0)),
    "long names": lambda: changed(
        afloat_job(marks=(replace(afloat_job().marks[0], name="a port scupper " * 4),)),
        masses=(replace(crew(), name="the many hands of the harbour " * 2),),
    ),
    "demo": tasks.drilled_demo_job,
}  # fmt: skip


@pytest.mark.parametrize("lengths", LENGTHS)
@pytest.mark.parametrize("name", JOBS)
def test_every_line_stays_within_80_columns(name, lengths):
    job = JOBS[name]()
    report = check(replace(job, units=replace(job.units, lengths=lengths)))
    lines = [*load_lines(report), *afloat_lines(report)]
    assert lines
    assert [line for line in lines if len(line) > WIDTH or line != line.rstrip()] == []


def test_nothing_is_said_where_nothing_is_entered():
    assert load_lines(bare()) == []
    assert afloat_lines(bare()) == []
    assert afloat_data(bare()) is None
    assert load_data(bare())["masses"] == []
    text = "\n".join(report_lines(bare()))
    assert "Power and load" not in text
    assert "how she floats" in text


def test_the_report_has_both_sections():
    text = "\n".join(report_lines(check(tasks.drilled_demo_job())))
    assert text.index("Power and load") < text.index("Afloat, mm") < text.index("Cautions")
    unseen = "".join(line for line in text.splitlines() if line.startswith("Not looked at yet"))
    for words in ("capacity plate", "aboard", "how she floats"):
        assert words not in unseen


def test_what_stands_in_the_way_is_said_with_its_cure():
    report = check(afloat_job(hull=Hull()))
    text = " ".join(afloat_lines(report))
    assert "beam between the chines" in text
    assert "To settle it" in text
    assert "beam between the chines" in afloat_data(report)["trouble"]


def row_of(lines, name):
    return next(line for line in lines if line.startswith(name)).split()


def test_each_mark_has_its_row_with_the_numbers_of_the_model():
    report = check(afloat_job())
    lines = afloat_lines(report)
    marks = summary_of(report.case).marks
    assert marks
    for item in marks:
        cells = row_of(lines, item.mark.name)
        assert str(round(item.mark.after.value)) in cells
        assert item.verdict.value in cells
        assert str(round(item.wanted_mm)) in cells


def test_the_first_to_be_wet_and_one_person_aft_are_told():
    report = check(afloat_job())
    text = " ".join(afloat_lines(report))
    found = summary_of(report.case)
    assert f"First to be wet: {found.first_wet.mark.name}" in text
    assert f"{found.first_wet.kg:.0f} kg more at the transom" in text
    assert "80 kg stepping aft" in text


def test_the_float_test_leaves_a_place_to_write_every_reading():
    report = check(afloat_job())
    lines = afloat_lines(report)
    sheet = lines[next(i for i, line in enumerate(lines) if line.startswith("Float test")) :]
    marks = summary_of(report.case).marks
    assert sum(line.endswith("........") for line in sheet) == len(marks)
    assert "ahead of the foot" in " ".join(sheet)


def test_a_lighter_engine_needs_no_test_mass():
    report = check(afloat_job(afloat=replace(AFLOAT, engine_mass=reading(400.0, 2.0))))
    text = " ".join(afloat_lines(report))
    assert "does not sink her transom" in text
    assert "higher; trim" not in text.split("at the stem")[0]


def test_estimates_are_called_so():
    text = " ".join(afloat_lines(check(JOBS["not read"]())))
    assert "Nothing was read afloat" in text


def test_a_list_is_told_with_its_side():
    assert "to starboard" in " ".join(afloat_lines(check(JOBS["listing"]())))
    assert "She stays upright." in " ".join(afloat_lines(check(afloat_job())))


def test_every_mass_and_every_limit_has_a_row():
    report = check(load_job())
    lines = load_lines(report)
    after, before = masses_after(report.case), masses_before(report.case)
    for item in (*after.items, *before.items):
        cells = row_of(lines, item.name)
        when = {(True, True): "both", (True, False): "before", (False, True): "after"}
        assert when[item in before.items, item in after.items] in cells
    limits = load_limits(report.case, after)
    assert len(limits) == 3
    for limit in limits:
        assert limit.verdict.value in row_of(lines, limit.name)


def test_what_was_not_weighed_is_labelled_and_what_is_missing_named():
    text = "\n".join(load_lines(check(JOBS["unweighed"]())))
    assert "not weighed" in text
    assert "not measured" in text
    assert "Mass not entered yet: red tank." in text


def test_data_hold_the_same_numbers_as_the_model():
    report = check(afloat_job())
    data, found = afloat_data(report), summary_of(report.case)
    assert [mark["name"] for mark in data["marks"]] == [item.mark.name for item in found.marks]
    for mark, item in zip(data["marks"], found.marks, strict=True):
        assert mark["after_mm"] == pytest.approx(item.mark.after.value, abs=1e-3)
        assert mark["wet_under_kg"] == pytest.approx(item.wet_kg, abs=1e-3)
        assert mark["verdict"] == item.verdict.value
    assert data["first_wet"] == found.first_wet.mark.name
    assert data["stern_deeper_mm"]["value"] == pytest.approx(
        found.flotation.stern_mm.value, abs=1e-3
    )
    assert data["float_test"]["mass_kg"] == pytest.approx(found.test.test_kg, abs=1e-3)


@pytest.mark.parametrize("name", JOBS)
def test_data_are_json_without_what_json_has_not(name):
    data = report_data(check(JOBS[name]()))
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert {"load", "afloat"} <= set(data)


def test_data_of_the_load_tell_before_from_after():
    data = load_data(check(load_job()))
    old = next(item for item in data["masses"] if item["kind"] == "old engine")
    new = next(item for item in data["masses"] if item["kind"] == "engine")
    assert (old["before"], old["after"], new["before"], new["after"]) == (True, False, False, True)
    assert data["engine_heavier_kg"] == pytest.approx(new["mass_kg"] - old["mass_kg"])


def test_blocks_stand_apart_and_empty_ones_are_left_out():
    assert apart(["a"], [], ["b", "c"]) == ["a", "", "b", "c"]
    assert apart() == []
