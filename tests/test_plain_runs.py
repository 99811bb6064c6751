"""Conductors and cables as text: 80 columns, both units, marked where a gauge is only reckoned."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from rigfit import tasks
from rigfit.plain_report import report_lines
from rigfit.plain_runs import runs_lines
from rigfit.rigging.job import Job
from rigfit.rigging.runs_fields import Cable, Wire
from rigfit.runs_data import runs_data
from rigfit.wording import report_data
from tests.builders import changed, reading


def lines(job: Job) -> list[str]:
    return runs_lines(tasks.check(job))


def test_nothing_listed_says_nothing() -> None:
    assert lines(tasks.demo_job()) == []


@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_the_demo_lists_its_runs_in_80_columns(lengths: str) -> None:
    job = changed(tasks.drilled_demo_job(), units__lengths=lengths)
    found = lines(job)
    assert all(len(line) <= 80 for line in found)
    text = "\n".join(found)
    assert "sounder and radio" in text
    assert "outside" in text  # cranking is not held against the table
    assert "13 ft" in text
    assert "electrician" in text
    assert ("in (" in text) is (lengths == "in")


def test_it_stands_in_the_whole_report() -> None:
    report = tasks.check(tasks.drilled_demo_job())
    assert "Conductors and cables" in report_lines(report)


def test_what_is_missing_is_a_dash_and_a_reckoned_gauge_in_brackets() -> None:
    bare = Wire("lamp", "navigation lights", reading(5000.0, 50.0), reading(2.0, 0.0))
    job = changed(tasks.demo_job(), wires=(bare, Wire()), cables=(Cable(),))
    text = "\n".join(lines(job))
    assert "(16)" in text  # 10.75 x 2 A x 32.8 ft / 0.36 V is 1,959 CM, and SAE 16 has 2,336
    assert "conductor 2" in text
    assert "? unknown" in text
    assert "cable 1" in text


def test_many_long_names_are_cut() -> None:
    wire = Wire("x" * 120, "other", reading(5000.0, 50.0), reading(2.0, 0.0), gauge="16")
    found = lines(changed(tasks.demo_job(), wires=(wire, replace(wire, name="y" * 120))))
    assert all(len(line) <= 80 for line in found)


def test_long_names_of_cables_are_cut() -> None:
    assert all(
        len(line) <= 80 for line in lines(changed(tasks.demo_job(), cables=(Cable("z" * 120),)))
    )


def test_the_same_as_data() -> None:
    assert report_data(tasks.check(tasks.demo_job()))["runs"] is None
    report = tasks.check(tasks.drilled_demo_job())
    found = runs_data(report)
    assert found == report_data(report)["runs"]
    assert json.loads(json.dumps(found)) == found
    assert found is not None
    sounder, battery = found["conductors"]  # type: ignore[misc]
    # 10.75 x 9 A x 2 x 3600 / 304.8 ft / 9343 CM / 12 V.
    assert sounder["drop"] == pytest.approx(10.75 * 9.0 * 7200.0 / 304.8 / 9343.0 / 12.0, abs=5e-5)
    assert sounder["listed_a"] == 60.0
    assert battery["listed_a"] is None
    assert battery["thinnest_by_drop_awg"] is None
    (cable,) = found["cables"]  # type: ignore[misc]
    assert cable["stocked_ft"] == [13]
