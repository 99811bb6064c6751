"""The command afloat: what it prints, and offsets that go into the job file with remarks kept."""

from __future__ import annotations

import io
import json

import pytest

from rigfit import tasks
from rigfit.command_line import run
from rigfit.command_parts import BAD_INPUT, NOTHING_STOPS
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text

JOB = demo_job_text(DRILLED_DEMO)
ROWS = [
    (ahead, height, half)
    for ahead in (0, 2500, 5000)
    for height, half in ((0, 0), (230, 790), (640, 950))
]
CSV = "station (mm),height (mm),half breadth (mm)\n" + "".join(f"{a},{h},{b}\n" for a, h, b in ROWS)


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.fixture
def offsets(tmp_path):
    path = tmp_path / "offsets.csv"
    path.write_text(CSV, encoding="utf-8")
    return path


def test_it_prints_load_heights_moves_and_the_float_test(job, capsys):
    assert run(["afloat", str(job)]) == NOTHING_STOPS
    out = capsys.readouterr().out
    for words in ("Power and load", "Afloat, mm", "First to be wet", "forward", "Float test"):
        assert words in out
    assert all(len(line) <= 80 for line in out.splitlines())
    assert "Cautions" in out


def test_it_prints_data(job, capsys):
    assert run(["afloat", str(job), "--json"]) == NOTHING_STOPS
    data = json.loads(capsys.readouterr().out)
    assert data["engine"] == "B"
    assert {mark["name"] for mark in data["afloat"]["marks"]} >= {"scupper", "sole"}
    assert data["load"]["limits"]


def test_a_boat_without_hull_is_told_what_to_fill_in(tmp_path, capsys):
    path = tmp_path / "dunlin.toml"
    path.write_text(demo_job_text(), encoding="utf-8")
    run(["afloat", str(path)])
    assert "Fill in [hull] ashore and [afloat]" in capsys.readouterr().out
    run(["afloat", str(path), "--json"])
    assert json.loads(capsys.readouterr().out)["afloat"] is None


def test_offsets_go_into_the_job_and_remarks_stay(job, offsets, capsys):
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == NOTHING_STOPS
    out = capsys.readouterr().out
    assert f"Added {len(ROWS)} offsets" in out
    assert "3 stations" in out
    text = job.read_text(encoding="utf-8")
    for line in JOB.splitlines():
        assert line in text
    found = tasks.open_job(job).offsets
    assert [(o.ahead.value, o.height.value, o.half_breadth.value) for o in found] == ROWS


def test_offsets_are_read_from_standard_input(job, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO(CSV))
    assert run(["afloat", str(job), "--offsets", "-"]) == NOTHING_STOPS
    assert len(tasks.open_job(job).offsets) == len(ROWS)


def test_a_bottom_left_open_is_taken_and_told(job, offsets, capsys):
    offsets.write_text(CSV.replace("0,0,0\n", "0,0,100\n", 1), encoding="utf-8")
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == NOTHING_STOPS
    assert "does not close" in capsys.readouterr().out
    assert tasks.open_job(job).offsets


def test_the_same_table_twice_is_refused(job, offsets, capsys):
    run(["afloat", str(job), "--offsets", str(offsets)])
    once = job.read_bytes()
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == BAD_INPUT
    assert "more than once" in capsys.readouterr().err.replace("\n", " ")
    assert job.read_bytes() == once


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("0,0,0\n0,200,700\n", "stations"),
        (CSV.replace("2500,230", "2500,lots"), "row 6"),
        ("height,half breadth\n0,0\n", "no column"),
    ],
)
def test_a_table_that_is_no_hull_changes_nothing(job, offsets, capsys, text, said):
    offsets.write_text(text, encoding="utf-8")
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == BAD_INPUT
    err = " ".join(capsys.readouterr().err.split())
    assert said in err
    assert "offsets.csv" in err
    assert job.read_text(encoding="utf-8") == JOB


def test_more_than_the_job_can_hold_is_refused(job, offsets, capsys):
    rows = [(a, h, 5 * h) for a in range(0, 5000, 5) for h in (0, 100)]
    offsets.write_text("".join(f"{a},{h},{b}\n" for a, h, b in rows), encoding="utf-8")
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == NOTHING_STOPS
    offsets.write_text("5100,0,0\n5100,100,500\n", encoding="utf-8")
    assert run(["afloat", str(job), "--offsets", str(offsets)]) == BAD_INPUT
    assert "2002 offsets" in capsys.readouterr().err


def test_a_file_that_cannot_be_read_is_told(job, tmp_path, capsys):
    assert run(["afloat", str(job), "--offsets", str(tmp_path / "no.csv")]) == BAD_INPUT
    picture = tmp_path / "picture.csv"
    picture.write_bytes(b"\xff\xfe\xff\x00")
    assert run(["afloat", str(job), "--offsets", str(picture)]) == BAD_INPUT
    assert "plain text" in capsys.readouterr().err


def test_data_and_offsets_do_not_go_together(job, offsets, capsys):
    assert run(["afloat", str(job), "--json", "--offsets", str(offsets)]) == BAD_INPUT
    assert job.read_text(encoding="utf-8") == JOB


@pytest.mark.parametrize("sheet", ["afloat", "scupper-curve", "float-test"])
def test_the_sheets_can_be_drawn(job, tmp_path, sheet):
    path = tmp_path / "out.pdf"
    assert run(["draw", str(job), str(path), "--sheet", sheet]) == NOTHING_STOPS
    assert path.read_bytes().startswith(b"%PDF")
