"""Tracks and expectations put into a job's trials."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rigfit.errors import EntryError
from rigfit.records.job_reading import parse_job
from rigfit.records.job_update import update_text
from rigfit.records.job_writing import job_text
from rigfit.records.track_log import read_track
from rigfit.records.trial_entry import offered, trial_named, with_expectation, with_track
from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import Estimate, expanded
from tests.builders import CATALOGUE
from tests.records.tracks import gpx
from tests.rigging.trials import job, runs, trial

TRACK = read_track(gpx([(20.0, 90.0)] * 60 + [(9.0, 180.0)] * 5 + [(21.0, 270.0)] * 60))


def test_the_only_trial_need_not_be_named() -> None:
    assert trial_named(job(), "") == "T1"
    two = job(trial(), trial("T2"), log=runs())
    assert trial_named(two, "T2") == "T2"
    for named, words in (("", "not said which"), ("T5", 'no trial "T5"')):
        with pytest.raises(EntryError, match=words):
            trial_named(two, named)


def test_a_track_says_what_was_read_dropped_found_and_done() -> None:
    found = with_track(job(), TRACK, "", ["4000=12:00:10", "4500=15:00:00"])
    assert found.count == 1
    assert "125 points read, 1 not used." in found.told
    assert "2 steady stretches of speed found." in found.told
    assert sum("it has no time" in line for line in found.told) == len(runs())
    assert len(found.job.runs) == len(runs()) + 2


def test_stretches_are_offered_with_their_way_back() -> None:
    first, second = offered(TRACK)
    assert first.startswith("12:00:0")
    assert "20.0 kn, back 21.0 kn from 12:01:" in first
    assert "back" not in second


def test_what_came_from_a_track_is_the_same_in_the_file() -> None:
    made = with_track(job(), TRACK, "", ["4000=12:00:10"]).job
    old = job_text(job(), CATALOGUE)
    text = update_text(old, made, CATALOGUE)
    again = parse_job(text, "", CATALOGUE)
    assert again.runs[-1] == made.runs[-1]
    assert text.startswith(old[:200])


def test_an_expectation_keeps_its_tolerance_and_is_not_overwritten() -> None:
    kept, told = with_expectation(job(), "", Estimate(31.44, 3.0), Estimate(5612.0, 240.0))
    speed, rpm = kept.trials[0].expected_speed, kept.trials[0].expected_rpm
    assert speed is not None
    assert rpm is not None
    assert (speed.value, rpm.value) == (31.4, 5612.0)
    assert expanded(speed.tolerance) == pytest.approx(3.0, abs=0.06)
    assert expanded(rpm.tolerance) == pytest.approx(240.0, abs=0.6)
    assert len(told) == 2
    again, told = with_expectation(kept, "", Estimate(20.0, 1.0), None)
    assert again == kept
    assert "is kept" in told[0]


def test_nothing_reckoned_is_no_expectation() -> None:
    with pytest.raises(EntryError, match="nothing can be reckoned"):
        with_expectation(job(), "", None, None)


def test_too_many_runs_are_refused(monkeypatch) -> None:
    monkeypatch.setattr("rigfit.records.trial_entry.MOST_RUNS", 5)
    with pytest.raises(EntryError, match="at most 5"):
        with_track(job(), TRACK, "", ["4000=12:00:10"])


def test_a_speed_that_was_typed_is_never_replaced() -> None:
    typed = tuple(replace(run, time="12:00:10") for run in runs())
    found = with_track(job(trial(), log=typed), TRACK, "")
    assert found.count == 0
    assert found.job.runs == typed
    assert isinstance(found.job.runs[0].speed_there, Reading)
