"""The boat under way in words and on the command line."""

from __future__ import annotations

import json

import pytest

from rigfit import tasks
from rigfit.command_line import run
from rigfit.plain_report import report_lines
from rigfit.plain_tables import WIDTH
from rigfit.plain_underway import reading_lines, underway_lines
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.propeller import Band
from rigfit.wording import report_data, underway_data
from tests.builders import CATALOGUE, reading, sample_job
from tests.demo_reports import ROOT
from tests.rigging.underway_jobs import UNDERWAY, underway_job

DEMO = str(ROOT / "profiles" / "demo" / "dunlin-drilled.toml")
PLAIN_DEMO = str(ROOT / "profiles" / "demo" / "dunlin.toml")
BAND = Band(5000.0, 6000.0)


def report(**changes):
    return fit_check(underway_job(**changes), CATALOGUE)


def text(**changes):
    return "\n".join(underway_lines(report(**changes)))


def read(rpm, speed=None, gear=2.0, pitch=17.0 * 25.4):
    return " ".join(reading_lines(report(), rpm, speed, pitch, gear, BAND, 5750.0))


def test_nothing_entered_says_nothing():
    assert underway_lines(fit_check(sample_job(), CATALOGUE)) == []
    assert underway_data(fit_check(sample_job(), CATALOGUE)) is None


@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_no_line_is_too_long(lengths):
    lines = underway_lines(report(units__lengths=lengths))
    assert max(map(len, lines)) <= WIDTH
    assert max(map(len, reading_lines(report(), 5300.0, 29.0, 430.0, 2.15, BAND, 5750.0))) <= WIDTH


def test_the_text_holds_findings_figures_and_every_height():
    said = text()
    for words in ("should plane", "porpoising begins", "by Savitsky", "reckoned from", " hp)",
                  "Row 1", "Row 2", "extrapolation", "extended keel line"):  # fmt: skip
        assert words in said.replace("\n  ", " ").replace("\n", " ")


def test_crouch_s_constant_is_shown_with_its_spread_and_mark():
    line = next(line for line in text().splitlines() if line.startswith("Crouch's constant"))
    assert "150" in line
    assert "15" in line.replace("150", "")
    assert "runabout; from memory" in text().replace("\n", " ")


def test_what_is_lacking_is_said_instead():
    said = text(hull__chine_beam=None)
    assert "beam between the chines" in said
    assert "reckoned from" not in said


def test_the_report_has_it_once():
    lines = report_lines(report())
    assert sum("Under way: an estimate" in line for line in lines) == 1
    assert sum("should plane at" in line for line in lines) == 1


def test_the_data_are_the_numbers_of_the_text():
    made = report()
    data = report_data(made)["underway"]
    assert data == underway_data(made)
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert data["speed_kn"] == 24.0
    assert data["trim_deg"]["value"] == pytest.approx(made.finding(601).value, abs=1e-3)
    assert [row["row"] for row in data["plates"]] == [1, 2, 3, 4]
    assert data["reckoned_from"]["mass"] == {
        "value": 950.0, "tolerance": 20.0, "from": "entered", "measured": True,
    }  # fmt: skip


def test_the_data_say_what_is_lacking_or_does_not_plane():
    lacking = underway_data(report(boat__deadrise=None))
    assert lacking["lacking"] == ["boat.deadrise"]
    slow = UNDERWAY.__class__(**{
        name: getattr(UNDERWAY, name) for name in UNDERWAY.__slots__ if name != "speed"
    })  # fmt: skip
    weak = underway_data(report(underway=slow, engine__power=reading(3.0)))
    assert weak["state"] is None
    assert weak["trouble"]
    assert weak["plates"] == []


# ----------------------------------------------------------------- one reading


def test_a_reading_gives_slip_band_and_pitches():
    """Case E-slip: 5500 rpm, 17 in, 2:1 and 33 kn are 14.2 % of slip."""
    said = read(5500.0, 33.0)
    assert "38.5 kn" in said
    assert "slip of 14.2 %" in said
    assert "in its upper half, as it should be" in said


def test_a_well_placed_engine_reads_well_placed():
    """Band 5000 to 6000: well placed at about 5700 (common practice, no source)."""
    assert "as it should be" in read(5700.0)
    assert "aim for the upper half" in read(5200.0)
    assert "lugs" in read(4800.0)
    assert "overspeeds" in read(6100.0)


def test_negative_slip_is_shown_as_a_doubt():
    said = read(5000.0, 40.0)
    assert "slip of -1" in said
    assert "cannot be" in said
    assert "tachometer" in said


def test_the_pitch_is_in_inches_with_every_rule_s_range():
    said = read(5250.0)
    assert "in (" in said
    assert "by percent" in said
    assert "by 150 to 200 rpm an inch" in said
    assert "100 to 300" in said


def test_far_off_no_rate_is_used():
    said = read(3500.0)
    assert "too far off" in said
    assert "by 150 to 200" not in said


# ----------------------------------------------------------------- the command


def test_the_command_says_it(capsys):
    assert run(["underway", DEMO]) == 0
    assert "Under way" in capsys.readouterr().out


def test_the_command_without_anything_entered_says_what_to_fill_in(capsys):
    assert run(["underway", PLAIN_DEMO]) == 0
    assert "Fill in [underway]" in capsys.readouterr().out


def test_the_command_prints_data(capsys):
    assert run(["underway", DEMO, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["engine"] == "B"
    assert data["underway"]["trouble"] == ""


def test_the_command_takes_a_reading_in_any_unit(capsys):
    assert run(["underway", DEMO, "--rpm", "5500", "--speed", "38 mph"]) == 0
    assert "slip of" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--speed", "20"], "needs --rpm"),
        (["--json", "--rpm", "5000"], "--json does not go"),
        (["--rpm", "fast"], "--rpm"),
        (["--rpm", "5000", "--speed", "20 kg"], "--speed"),
        (["--rpm", "0", "--speed", "20"], "engine speed is 0"),
    ],
)
def test_bad_input_is_named(options, words, capsys):
    assert run(["underway", DEMO, *options]) == 2
    assert words in " ".join(capsys.readouterr().err.split())


def test_a_reading_without_a_pitch_is_asked_for(tmp_path, capsys):
    job = tasks.demo_job_text("dunlin-drilled.toml").replace('pitch = "17 in"', "")
    path = tmp_path / "job.toml"
    path.write_text(job, "utf-8")
    assert run(["underway", str(path), "--rpm", "5000"]) == 2
    assert "pitch of the propeller is not entered" in " ".join(capsys.readouterr().err.split())


def test_a_zero_gear_ratio_is_named(tmp_path, capsys):
    text_ = tasks.demo_job_text("dunlin-drilled.toml").replace('"28/13"', '"0"')
    path = tmp_path / "job.toml"
    path.write_text(text_, "utf-8")
    assert run(["underway", str(path)]) == 2
    err = " ".join(capsys.readouterr().err.split())
    assert "gear" in err
    assert "1 to 4" in err
