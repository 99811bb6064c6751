"""The command swing: what it prints, and a side view from DXF that goes into the job file."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import ezdxf
import pytest

from rigfit import tasks
from rigfit.command_line import run
from rigfit.command_parts import BAD_INPUT, NOTHING_STOPS
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text
from rigfit.rigging.envelope import Basis, engine_envelope
from tests.demo_reports import ROOT

JOB = demo_job_text(DRILLED_DEMO)
SIDE = [(850, 560), (840, 720), (900, 960), (1100, 1040), (1380, 1020), (1470, 900), (1480, 620),
        (1300, 480), (1290, -380), (1200, -360), (1120, 420), (1010, 500)]  # fmt: skip


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def drawing(path, points=SIDE, *, unit=4, close=True, mirror=False):
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = unit
    placed = [(-x, y) for x, y in points] if mirror else points
    doc.modelspace().add_lwpolyline(placed, close=close)
    doc.saveas(path)
    return str(path)


AXIS = ["--axis-x", "1000", "--axis-y", "500"]


def test_it_prints_findings_heights_and_the_repeat(job, capsys):
    assert run(["swing", str(job)]) == NOTHING_STOPS
    out = capsys.readouterr().out
    for words in ("Swing, mm", "401", "404", "One row up", "Trim on this rake", "Steering gear",
                  "On the trailer", "Repeat after any change of height", "Cautions"):  # fmt: skip
        assert words in out
    assert all(len(line) <= 80 for line in out.splitlines())
    assert "Not looked at" not in out


def test_the_demo_has_one_tight_place_at_a_corner_at_lock(job):
    report = tasks.check(tasks.open_job(job))
    verdicts = {f.code: f.verdict.value for f in report.findings if 401 <= f.code <= 407}
    assert verdicts == {401: "fits", 402: "fits", 403: "fits", 404: "tight", 405: "fits",
                        406: "fits"}  # fmt: skip
    assert report.not_looked_at == () or "swing of the engine" not in report.not_looked_at


def test_it_prints_data(job, capsys):
    assert run(["swing", str(job), "--json"]) == NOTHING_STOPS
    data = json.loads(capsys.readouterr().out)
    assert data["engine"] == "B"
    assert {item["code"] for item in data["findings"]} == {401, 402, 403, 404, 405, 406}
    assert len(data["swing"]["heights"]) == 4
    assert data["swing"]["row"] == 2


def test_a_boat_with_nothing_round_the_engine_is_told_what_to_measure(tmp_path, capsys):
    path = tmp_path / "dunlin.toml"
    path.write_text(demo_job_text(), encoding="utf-8")
    run(["swing", str(path)])
    out = capsys.readouterr().out
    assert "Measure the motor well ([well])" in out
    assert "Not looked at" in out
    run(["swing", str(path), "--json"])
    assert json.loads(capsys.readouterr().out)["swing"] is None


@pytest.mark.parametrize("sheet", ["swing", "swing-plan", "swing-worst"])
@pytest.mark.parametrize("kind", ["pdf", "svg", "png", "dxf"])
def test_it_is_drawn_in_every_kind(job, tmp_path, capsys, sheet, kind):
    out = tmp_path / f"out.{kind}"
    assert run(["draw", str(job), str(out), "--sheet", sheet]) == NOTHING_STOPS
    assert out.stat().st_size > 2000
    assert "Wrote" in capsys.readouterr().out


def test_a_side_view_goes_into_the_job_and_is_reckoned_with(job, tmp_path, capsys):
    file = drawing(tmp_path / "engine.dxf")
    assert run(["swing", str(job), "--outline", file, *AXIS]) == NOTHING_STOPS
    out = capsys.readouterr().out
    assert "one outline with" in out
    assert "160 mm ahead of the tilt axis and 540 mm above it" in " ".join(out.split())
    text = job.read_text(encoding="utf-8")
    assert "# Looked at on its stand" in text  # remarks are kept
    report = tasks.check(tasks.open_job(job))
    envelope = engine_envelope(report.case)
    assert envelope.basis is Basis.OUTLINE
    assert max(z for part in envelope.parts for _, z in part.ring) == pytest.approx(540.0, abs=0.5)
    run(["swing", str(job)])
    assert "drawn outline" in capsys.readouterr().out


def test_a_drawing_with_the_bow_to_the_right_comes_to_the_same(job, tmp_path, capsys):
    one, two = tmp_path / "one.toml", tmp_path / "two.toml"
    for path in (one, two):
        path.write_text(JOB, encoding="utf-8")
    run(["swing", str(one), "--outline", drawing(tmp_path / "a.dxf"), *AXIS])
    run(["swing", str(two), "--outline", drawing(tmp_path / "b.dxf", mirror=True), "--axis-x",
         "-1000", "--axis-y", "500", "--bow", "right"])  # fmt: skip
    capsys.readouterr()
    first, second = (tasks.check(tasks.open_job(path)).finding(401).value for path in (one, two))
    assert first == pytest.approx(second, abs=0.2)


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (["--axis-x", "0"], "--axis-y is missing"),
        (["--axis-y", "0"], "--axis-x is missing"),
        (["--axis-x", "many", "--axis-y", "0"], "--axis-x"),
        (["--axis-x", "90 m", "--axis-y", "0"], "mm from the tilt axis"),
        ([*AXIS, "--engine", "Q"], 'no engine "Q"'),
        ([*AXIS, "--json"], "--json and --outline do not go together"),
        ([*AXIS, "--layer", "nothing"], "layer"),
    ],
)
def test_a_side_view_that_cannot_be_placed_is_refused(job, tmp_path, capsys, extra, words):
    before = job.read_bytes()
    file = drawing(tmp_path / "engine.dxf")
    assert run(["swing", str(job), "--outline", file, *extra]) == BAD_INPUT
    assert words in " ".join(capsys.readouterr().err.split())
    assert job.read_bytes() == before


def test_a_file_without_unit_asks_for_it_and_an_open_line_is_refused(job, tmp_path, capsys):
    file = drawing(tmp_path / "engine.dxf", unit=0)
    assert run(["swing", str(job), "--outline", file, *AXIS]) == BAD_INPUT
    assert "--unit" in capsys.readouterr().err
    assert run(["swing", str(job), "--outline", file, *AXIS, "--unit", "mm"]) == NOTHING_STOPS
    file = drawing(tmp_path / "open.dxf", close=False)
    assert run(["swing", str(job), "--outline", file, *AXIS]) == BAD_INPUT
    assert "close the gaps" in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize("option", [["--unit", "mm"], ["--axis-x", "0"], ["--bow", "left"]])
def test_details_without_an_outline_are_refused(job, capsys, option):
    assert run(["swing", str(job), *option]) == BAD_INPUT
    assert f"{option[0]} says nothing without --outline" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('length = "537 ± 3 mm"', "length = 0", "well, length: it is 0"),
        ('ahead_to = "880 mm"', 'ahead_to = "690 mm"', "it has no size"),
        ('above_to = "240 ± 3 mm"\n', "", "above_to not entered"),
        ('kind = "seat back"', 'outline = "690, 0; 880, 240; 880, 0; 690, 240"',
         "crosses itself"),
        ('kind = "seat back"', 'outline = "690; 2"', 'reads "690"'),
        ('across_to = "620 mm"', 'across_to = "-620 mm"', "sides are the same"),
        ('half_travel = "98 ± 2 mm"', 'half_travel = "198 mm"', "must be less than the arm"),
        ('ahead_from = "690 ± 3 mm"', 'ahead_from = "-200 mm"', "axis lies inside it"),
    ],
)  # fmt: skip
def test_a_bad_entry_is_named_with_its_cure(job, capsys, old, new, words):
    assert old in JOB
    changed = JOB.replace(old, new, 1)
    if "-200 mm" in new:
        changed = changed.replace('above_from = "-60 mm"', 'above_from = "-300 mm"')
    job.write_text(changed, encoding="utf-8")
    assert run(["swing", str(job)]) == NOTHING_STOPS
    out = " ".join(capsys.readouterr().out.split())
    assert words in out
    assert "unknown" in out


def test_an_outline_too_long_is_refused_by_its_field(job, capsys):
    many = "; ".join(f"{k}, {k % 7}" for k in range(900))
    job.write_text(JOB.replace('kind = "seat back"', f'outline = "{many}"', 1), encoding="utf-8")
    assert run(["swing", str(job)]) == BAD_INPUT
    err = " ".join(capsys.readouterr().err.split())
    assert "at most 2000 are kept" in err
    assert "obstacle" in err


def test_it_runs_as_a_program(job):
    done = subprocess.run(
        [sys.executable, "-m", "rigfit", "swing", str(job)], cwd=ROOT, capture_output=True,
        text=True, check=False, env={**os.environ, "NO_COLOR": "1"},
    )  # fmt: skip
    assert done.returncode == NOTHING_STOPS, done.stderr
    assert "Swing, mm" in done.stdout


def test_a_full_tilt_below_trimmed_in_is_named(job, capsys):
    text = JOB.replace('full_tilt = "79° ± 0.5°"', 'full_tilt = "25°"')
    job.write_text(text.replace('trim_in = "7° ± 0.5°"', 'trim_in = "30°"'), encoding="utf-8")
    run(["swing", str(job)])
    out = " ".join(capsys.readouterr().out.split())
    assert "full_tilt: 25° is not more than trimmed fully in, 30°" in out
