"""The swing in words and as data: every height, a row up and down, in 80 columns and all units."""

from __future__ import annotations

import json

import pytest

from rigfit.plain_report import report_lines
from rigfit.plain_swing import place_words, setback_lines, swing_lines
from rigfit.plain_tables import WIDTH
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.steer import plan_steer
from rigfit.rigging.swing import options_swing
from rigfit.rigging.swing_summary import AGAIN, SETBACKS_MM, setback_swings, swing_summary
from rigfit.rigging.transom_map import Neighbour
from rigfit.rigging.well_fields import Obstacle, Well
from rigfit.units import Kind
from rigfit.wording import number, report_data, setbacks_data, shown, swing_data
from tests.builders import CATALOGUE, CLAMPED, changed, reading, sample_job
from tests.rigging.swing_jobs import TRAILER, box, gear, roomy_well, swing_job

RAIL = box("grab rail", "rail", (400.0, 430.0), (620.0, 650.0))
JOBS = {
    "all": lambda: swing_job(
        obstacles=(box(), RAIL), steering=gear(), trailer=TRAILER,
        neighbour=Neighbour("twins", reading(660.0, 3.0)),
    ),
    "touching": lambda: swing_job(
        well=roomy_well(length=reading(300.0, 3.0), front_top=reading(400.0, 3.0))
    ),
    "class only": lambda: sample_job(well=Well(length=reading(450.0, 3.0))),
    "trailer only": lambda: swing_job(well=Well(), trailer=TRAILER),
    "gear only": lambda: sample_job(steering=gear()),
    "no rake": lambda: swing_job(transom__rake=None),
    "long arm": lambda: swing_job(steering=gear(half_travel=reading(300.0))),
    "bad": lambda: swing_job(obstacles=(Obstacle("rail", outline="1, 1; 2, 2"),)),
    "bare": sample_job,
}  # fmt: skip
each_job = pytest.mark.parametrize("name", JOBS)


def report_of(name, **changes):
    return fit_check(changed(JOBS[name](), **changes), CATALOGUE)


def said(report):
    return " ".join(swing_lines(report))


@each_job
@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_no_line_is_too_long(name, lengths):
    report = report_of(name, units__lengths=lengths)
    assert all(len(line) <= WIDTH for line in swing_lines(report))


@each_job
def test_the_data_can_be_written_and_follow_the_summary(name):
    report = report_of(name)
    data = json.loads(json.dumps(report_data(report), allow_nan=False))["swing"]
    found = swing_summary(report.case, report.options)
    assert (data is None) == (found is None) == (name == "bare")
    if found is not None:
        assert len(data["heights"]) == len(found.heights)


def test_nothing_entered_says_nothing():
    report = report_of("bare")
    assert swing_lines(report) == []
    assert swing_data(report) is None


def test_the_report_holds_the_section():
    assert any(line.startswith("Swing, mm") for line in report_lines(report_of("all")))
    assert not any(line.startswith("Swing") for line in report_lines(report_of("bare")))


def test_every_possible_height_has_a_row_and_the_mounted_one_its_mark():
    report = report_of("all")
    lines = swing_lines(report)[4:]
    possible = [option for option in report.options if option.is_possible]
    rows = lines[: len(possible)]
    assert [int(row.lstrip(" >").split()[0]) for row in rows] == [item.row for item in possible]
    assert [row.startswith(">") for row in rows] == [item == report.mounted for item in possible]


def test_the_numbers_are_those_of_the_core():
    report = report_of("all")
    data = swing_data(report)
    by_row = {item["row"]: item for item in data["heights"]}
    for item in options_swing(report.case, report.options):
        row = by_row[item.option.row]
        assert row["tilt_clear_mm"] == pytest.approx(item.gap.clear_mm, abs=1e-3)
        assert row["tilt_nearest"] == item.gap.solid.name
        assert row["tilt_change_mm"] == pytest.approx(item.change_mm, abs=1e-3)
        plan = plan_steer(report.case, item.option).worst
        assert row["steer_clear_mm"] == pytest.approx(plan.touch.gap_mm, abs=1e-3)
    mounted = by_row[report.mounted.row]
    assert mounted["tilt_change_mm"] == 0.0
    assert mounted["both_clear_mm"] == pytest.approx(report.finding(404).value, abs=1e-3)
    assert mounted["tilt_clear_mm"] == pytest.approx(report.finding(401).value, abs=1e-3)


def test_both_together_are_never_clearer_than_tilting_alone():
    for name in ("all", "touching", "class only"):
        for item in swing_data(report_of(name))["heights"]:
            assert item["both_clear_mm"] <= max(0.0, item["tilt_clear_mm"]) + 0.02


def test_a_row_up_and_down_says_what_changes():
    text = said(report_of("all"))
    assert "One row up: tilting" in text
    assert "One row down: tilting" in text
    assert "instead of" in text


def test_an_engine_that_clamps_has_one_height_and_no_rows():
    report = report_of("all", engine__engine_class=CLAMPED)
    text = said(report)
    assert "clamp" in text
    assert "One row" not in text


@pytest.mark.parametrize(
    "words",
    [
        "full box", "Kicking up", "Trim on this rake", "Steering gear", "On the trailer", "support",
        "Twins", "tie bar", "Worst place of both together", "No contact over the whole tilt",
    ],
)  # fmt: skip
def test_everything_entered_is_spoken_of(words):
    assert words in said(report_of("all"))


def test_it_says_to_repeat():
    assert AGAIN in said(report_of("all"))


def test_a_contact_is_named_with_its_angle():
    report = report_of("touching")
    text = said(report)
    assert "First contact tilting at +" in text
    assert "front wall of the well" in text
    assert swing_data(report)["heights"][0]["tilt_touches"] is True


def test_class_sizes_are_owned_up_to():
    assert "typical of the class" in said(report_of("class only"))


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("no rake", "Without the rake"),
        ("bad", "rail"),
        ("long arm", "the travel must be less than the arm"),
    ],
)
def test_what_cannot_be_used_is_said(name, words):
    report = report_of(name)
    assert words in said(report)
    assert any(words in line for line in swing_data(report)["troubles"])


def test_the_trailer_alone_is_said_without_a_table():
    lines = swing_lines(report_of("trailer only"))
    assert lines[0] == "Swing"
    assert any("On the trailer" in line for line in lines)


def test_the_worst_place_is_said_with_part_thing_tilt_and_side():
    report = report_of("all")
    style = shown(report.case.job.units)
    place = swing_summary(report.case, report.options).now.place
    text = place_words(place, style)
    assert text.startswith(f"{place.part} to {place.solid.name}")
    assert number(place.clear_mm, Kind.LENGTH, style) in text
    assert ("starboard" in text) == (place.steer_deg > 0.05)


def test_the_own_setback_comes_to_what_the_height_says_and_more_gives_room_ahead():
    report = report_of("all")
    found = dict(setback_swings(report.case))
    now = swing_summary(report.case, report.options).now
    assert found[0.0].tilt.clear_mm == now.tilt.clear_mm
    assert found[0.0].place.clear_mm == now.place.clear_mm
    clear = [item.tilt.clear_mm for item in found.values()]
    assert clear == sorted(clear)
    assert list(found) == list(SETBACKS_MM)
    assert report.case.setback.value == 0.0


def test_setbacks_are_listed_with_the_own_one_marked():
    report = report_of("all")
    lines = setback_lines(report)
    assert len(lines) == 3 + len(SETBACKS_MM)
    assert [line.startswith(">") for line in lines[3:]] == [True] + [False] * 5
    assert all(len(line) <= WIDTH for line in lines)
    assert len(setbacks_data(report)) == len(SETBACKS_MM)


@pytest.mark.parametrize("name", ["bare", "no rake", "bad", "trailer only"])
def test_without_anything_round_it_there_are_no_setbacks(name):
    assert setback_lines(report_of(name)) == []
    assert setbacks_data(report_of(name)) == []
