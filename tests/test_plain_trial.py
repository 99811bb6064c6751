"""The sea trials as text and data: width, units, what is said and what is not left out."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial

import pytest

from rigfit.plain_trial import BASELINE, one_change, trial_lines
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.trial_data import TRIAL_CAUTIONS, trial_data
from rigfit.units import Shown, mile_unit, per_mile
from rigfit.wording import report_data, say, shown
from tests.builders import CATALOGUE, reading, sample_job
from tests.rigging.trials import NEW, OLD, job, runs, trial

LONG = "a propeller of steel with three blades and a cup, and the bottom scrubbed on the day before"
TWO = job(trial("T1", engine="old"), trial("T22", row=3, change=LONG),
          log=(*runs(OLD), *runs(key="T22")))  # fmt: skip
WILD = job(
    trial(expected_speed=reading(30.0, 1.0), pitch=reading(300.0)), trial("T4"),
    log=(*runs(ventilates="straight on", porpoises="yes", overheats="yes", plate="buried"),
         *runs(((3000, 20.0, None, None),), "T9")),
)  # fmt: skip
JOBS = {"one": job(), "two": TWO, "wild": WILD}
UNITS = [("mm", "kn"), ("in", "mph"), ("mm", "km/h")]


def in_units(made: Job, lengths: str, speeds: str) -> Job:
    return replace(made, units=replace(made.units, lengths=lengths, speeds=speeds))


def lines(made: Job, **asked: object) -> list[str]:
    return trial_lines(fit_check(made, CATALOGUE), **asked)  # type: ignore[arg-type]


@pytest.mark.parametrize("made", JOBS.values(), ids=JOBS)
@pytest.mark.parametrize("units", UNITS)
def test_it_is_80_columns_wide_whatever_the_units(made: Job, units: tuple[str, str]) -> None:
    said = lines(in_units(made, *units))
    assert max(len(line) for line in said) <= 80
    text = " ".join(" ".join(said).split())
    assert "{" not in text
    for caution in TRIAL_CAUTIONS:
        assert caution in text
    for item in made.trials:
        assert f"Trial {item.id}" in text


def test_without_trials_there_is_nothing_to_say_and_a_baseline_to_run() -> None:
    report = fit_check(sample_job(), CATALOGUE)
    assert trial_lines(report) == []
    assert one_change(report) == BASELINE
    assert report_data(report)["trial"] is None


def test_every_run_has_its_line_and_what_is_lost_is_named() -> None:
    said = lines(WILD)
    for rpm, *_ in NEW:
        assert sum(line.lstrip().startswith(f"{rpm} ") for line in said) >= 1
    text = " ".join(said)
    assert 'Not used: run 7, there is no trial "T9".' in text
    assert "AIR" in text
    assert "PORPOISES" in text
    assert "HOT" in text
    assert "more apart than their tolerances" in " ".join(text.split())


def test_negative_slip_carries_its_doubt() -> None:
    assert any("?" in line for line in lines(WILD) if line.lstrip().startswith("5000 "))


def test_findings_can_be_left_to_the_report() -> None:
    assert any(line.startswith("621") for line in lines(job()))
    assert not any(line.startswith("621") for line in lines(job(), findings=False))


@pytest.mark.parametrize(
    ("units", "unit", "value"),
    [
        # 1 L a nautical mile: 1 / 1.852 L a km; 1.609344 / 1.852 L a mile, / 3.785411784 gal.
        (("mm", "kn"), "L/nmi", 1.0),
        (("mm", "km/h"), "L/km", 1.0 / 1.852),
        (("mm", "mph"), "L/mi", 1.609344 / 1.852),
        (("in", "mph"), "gal/mi", 1.609344 / 1.852 / 3.785411784),
    ],
)
def test_fuel_a_mile_in_every_unit(units: tuple[str, str], unit: str, value: float) -> None:
    style = Shown(*units)  # type: ignore[arg-type]
    assert mile_unit(style) == unit
    assert per_mile(1.0, style) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("made", JOBS.values(), ids=JOBS)
def test_the_data_is_whole_and_strict_json(made: Job) -> None:
    report = fit_check(made, CATALOGUE)
    data = trial_data(report, partial(say, style=shown(made.units)))
    assert data is not None
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert report_data(report)["trial"] == data
    logged = sum(len(item["runs"]) for item in data["trials"])  # type: ignore[attr-defined]
    lost = sum(item["what"].startswith("run ") for item in data["not_used"])  # type: ignore[attr-defined]
    assert logged + lost == len(made.runs)
