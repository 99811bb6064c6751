"""The command trial: what it says, what it puts into the job, what it refuses."""

from __future__ import annotations

import csv
import io
import json

import pytest

from rigfit import tasks
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text
from rigfit.rigging.readings import Reading
from tests.records.tracks import gpx, nmea

JOB = demo_job_text(DRILLED_DEMO)
NEW = '\n# the third day, a remark\n[[trial]]\nid = "T3"\nengine = "B"\nrow = 3\n'
CSV = "rpm,speed there (kn),speed back (kn),wot\n3000,15,14,no\n5600,33,32,yes\n"


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "boat.toml").write_text(JOB + NEW, encoding="utf-8")
    (tmp_path / "runs.csv").write_text(CSV, encoding="utf-8")
    legs = [(20.0, 90.0)] * 60 + [(9.0, 180.0)] * 5 + [(21.0, 270.0)] * 60
    (tmp_path / "day.gpx").write_bytes(gpx(legs))
    (tmp_path / "day.nmea").write_bytes(nmea(legs))
    return tmp_path


def job_of(here):
    return tasks.open_job(here / "boat.toml")


def test_it_says_trials_gains_advice_and_cautions(rigfit) -> None:
    status, out, err = rigfit("trial", "boat.toml")
    assert (status, err) == (0, "")
    for words in ("Trial T1, 2026-04-25, old engine", "Trial T2 against T1", "slip %", "L/nmi",
                  "Raise the engine one row", "cut-off cord", "life jackets",
                  "no hard turn trimmed in", "nobody leans over the stern",
                  "maker's instructions win"):  # fmt: skip
        assert words in " ".join(out.split())
    assert all(len(line) <= 80 for line in out.splitlines())


def test_a_job_without_trials_says_how_to_begin(rigfit, here) -> None:
    text = JOB[: JOB.index("[[trial]]")] + JOB[JOB.index("[[engine]]") :]
    (here / "boat.toml").write_text(text, encoding="utf-8")
    status, out, _ = rigfit("trial", "boat.toml")
    assert status == 0
    assert "No run of a sea trial is logged" in out


def test_data_is_the_same_as_the_text(rigfit) -> None:
    status, out, _ = rigfit("trial", "boat.toml", "--json")
    data = json.loads(out)["trial"]
    assert status == 0
    assert [item["id"] for item in data["trials"]] == ["T1", "T2", "T3"]
    fastest = data["trials"][1]["runs"][-1]
    assert fastest["rpm"] == 5450.0
    assert fastest["speed_kn"] == pytest.approx(30.9)
    # 28/13 and 17 in: 5450 x 17 / (28/13) / 1215.22 kn of pitch speed, by definition.
    assert fastest["slip"]["value"] == pytest.approx(
        1.0 - 30.9 / (5450.0 * 17.0 * 13.0 / 28.0 / 1215.2231), abs=1e-4
    )
    assert data["advice"][0]["step"] == "height, one row"
    assert data["compared"]["before"] == "T1"


def test_csv_out_has_every_run(rigfit, here) -> None:
    status, _, _ = rigfit("trial", "boat.toml", "--csv", "out.csv")
    rows = list(csv.reader(io.StringIO((here / "out.csv").read_text("utf-8"))))
    assert status == 0
    assert len(rows) == 1 + len(job_of(here).runs)


def test_runs_go_into_the_job_and_its_remarks_stay(rigfit, here) -> None:
    before = (here / "boat.toml").read_text("utf-8")
    status, out, err = rigfit("trial", "boat.toml", "--import", "runs.csv", "--trial", "T3")
    after = (here / "boat.toml").read_text("utf-8")
    assert (status, err) == (0, "")
    assert "2 runs added." in out
    found = [item for item in job_of(here).runs if item.trial == "T3"]
    assert [item.rpm.value for item in found] == [3000.0, 5600.0]
    remarks = [line for line in before.splitlines() if line.startswith("#")]
    assert [line for line in after.splitlines() if line.startswith("#")] == remarks


@pytest.mark.parametrize("name", ["day.gpx", "day.nmea"])
def test_a_track_gives_speeds_to_runs_with_a_time(rigfit, here, name: str) -> None:
    call = ("trial", "boat.toml", "--import", name, "--trial", "T3", "--at", "4000=12:00:10")
    status, out, err = rigfit(*call)
    assert (status, err) == (0, "")
    assert "1 run got a speed." in out
    (new,) = [item for item in job_of(here).runs if item.trial == "T3"]
    assert isinstance(new.speed_there, Reading)
    assert isinstance(new.speed_back, Reading)
    assert new.speed_there.value == pytest.approx(20.0, abs=0.05)
    assert new.speed_back.value == pytest.approx(21.0, abs=0.05)
    status, out, _ = rigfit(*call[:-2])
    assert "it has a speed already" in " ".join(out.split())
    assert "0 runs got a speed." in out
    assert "12:00:" in out


def test_what_is_reckoned_is_kept_before_the_trial_and_not_moved_after(rigfit, here) -> None:
    status, out, err = rigfit("trial", "boat.toml", "--expect", "--trial", "T3")
    assert (status, err) == (0, "")
    kept = job_of(here).trials[2].expected_speed
    assert kept is not None
    assert f"{kept.value:.1f}" in out
    assert "kept" in rigfit("trial", "boat.toml", "--expect", "--trial", "T3")[1]
    assert job_of(here).trials[2].expected_speed == kept


def test_another_trial_to_hold_against(rigfit) -> None:
    rigfit("trial", "boat.toml", "--import", "runs.csv", "--trial", "T3")
    assert "Trial T3 against T2" in rigfit("trial", "boat.toml")[1]
    assert "Trial T3 against T1" in rigfit("trial", "boat.toml", "--against", "T1")[1]


def test_the_whole_report_has_the_trials(rigfit) -> None:
    out = rigfit("check", "boat.toml")[1]
    assert "Sea trials" in out
    assert "sea trial" not in out.partition("Not looked at yet:")[2].partition(".")[0]


@pytest.mark.parametrize("sheet", ["trial", "trial-form"])
def test_sheets_are_drawn(rigfit, here, sheet: str) -> None:
    status, _, err = rigfit("draw", "boat.toml", "out.pdf", "--sheet", sheet, "--paper", "Letter")
    assert (status, err) == (0, "")
    assert (here / "out.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--import", "runs.csv"), "trial of the run"),
        (("--import", "runs.csv", "--trial", "T9"), 'no trial "T9"'),
        (("--import", "day.gpx"), "not said which trial"),
        (("--import", "day.gpx", "--trial", "T9"), 'no trial "T9"'),
        (("--import", "day.gpx", "--trial", "T3", "--at", "x"), "not an engine speed and a time"),
        (("--import", "day.gpx", "--trial", "T3", "--at", "fast=12:00"), "does not begin with a"),
        (("--import", "runs.csv", "--trial", "T3", "--at", "3000=12:00"), "belongs to a track"),
        (("--import", "none.csv", "--trial", "T3"), "cannot be read"),
        (("--import", "bad.csv", "--trial", "T3"), "no plain text"),
        (("--import", "bad.gpx", "--trial", "T3"), "well-formed"),
        (("--import", "runs.csv", "--json"), "change the job"),
        (("--at", "3000=12:00"), "--at needs --import"),
        (("--against", "T7"), "cannot be held against"),
        (("--expect", "--trial", "T9"), 'no trial "T9"'),
    ],
)
def test_what_cannot_be_done_is_said_and_the_job_is_left_alone(
    rigfit, here, arguments: tuple[str, ...], words: str
) -> None:
    (here / "bad.csv").write_bytes(b"rpm\n\xff\xfe\n")
    (here / "bad.gpx").write_bytes(b"<gpx><trk>")
    before = (here / "boat.toml").read_bytes()
    status, out, err = rigfit("trial", "boat.toml", *arguments)
    assert (status, out) == (2, "")
    assert words in " ".join(err.split())
    assert (here / "boat.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ('[[trial]]\nid = "X"\npitch = "0 in"\n', "too small"),
        ('[[trial]]\nid = "X"\ngear_ratio = 0\n', "too small"),
        ("[[trial]]\nrow = 2\n", "it is not filled in"),
        ('[[run]]\ntrial = "T1"\n', "it is not filled in"),
        ('[[run]]\ntrial = "T1"\nrpm = 3000\nfuel_flow = "3 kg"\n', "measures mass, not flow"),
        ('[[run]]\ntrial = "T1"\nrpm = 3000\nplate = "blue"\n', "is not known"),
    ],
)
def test_bad_entries_are_named(rigfit, here, entry: str, words: str) -> None:
    (here / "boat.toml").write_text(JOB + "\n" + entry, encoding="utf-8")
    status, _, err = rigfit("trial", "boat.toml")
    assert status == 2
    assert words in " ".join(err.split())
