"""Runs from spreadsheets and CSV, and back again."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.errors import EntryError
from rigfit.records.pasted import MOST_PROBLEMS, MOST_ROWS
from rigfit.records.trial_csv import runs_csv
from rigfit.records.trial_paste import parse_runs, with_runs
from rigfit.rigging.readings import Reading, specs
from rigfit.rigging.sea_trial import trial_log
from rigfit.rigging.trial_fields import PLATE_LOOKS, TRIMS, VENTILATES, YES_NO, Run
from tests.builders import CATALOGUE, reading
from tests.rigging.trials import job, runs, trial


def values(text: str, *names: str, entries: str = "metric"):
    found = parse_runs(text, entries, "T1")
    assert found.problems == ()
    return [tuple(getattr(getattr(run, n), "value", getattr(run, n)) for n in names)
            for run in found.runs]  # fmt: skip


def said(text: str, entries: str = "metric", trial_id: str = "T1") -> str:
    problems = parse_runs(text, entries, trial_id).problems
    assert problems
    return " ".join(problem.sentence() for problem in problems)


@pytest.mark.parametrize("mark", ["\t", ";", ","])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_cells_are_parted_by_tabs_semicolons_or_commas(mark: str, end: str) -> None:
    line = mark.join(("3000", "20.5", "21.5", "7.2"))
    found = values(end.join((line, line, "")), "rpm", "speed_there", "speed_back", "fuel_flow")
    assert found == [(3000.0, 20.5, 21.5, 7.2)] * 2


@pytest.mark.parametrize(
    "text",
    [
        "rpm\tspeed there\tspeed back\n3000\t20\t21",
        "speed back;RPM;speed there\n21;3000;20",
        "Engine speed,out,back,mean speed\n3000,20,21,20.5",
        "no,rpm,there,return\n1,3000,20,21",
        "rpm;there;back\n3000;20,0;21,0",
    ],
)
def test_headings_put_the_columns_in_any_order(text: str) -> None:
    assert values(text, "rpm", "speed_there", "speed_back") == [(3000.0, 20.0, 21.0)]


def test_units_in_headings_and_cells_are_exact() -> None:
    """50 km/h = 50 / 1.852 kn; 1 mph = 1609.344 / 1852 kn; 1 US gal = 3.785411784 L."""
    text = "rpm\tspeed there (km/h)\tspeed back [mph]\tfuel (gal/h)\twater pressure (psi)\n" \
        "3000\t50\t30\t4\t13"  # fmt: skip
    ((there, back, flow, pressure),) = values(
        text, "speed_there", "speed_back", "fuel_flow", "pressure"
    )
    assert there == pytest.approx(50.0 / 1.852, rel=1e-12)
    assert back == pytest.approx(30.0 * 1609.344 / 1852.0, rel=1e-12)
    assert flow == pytest.approx(4.0 * 3.785411784, rel=1e-12)
    assert pressure == pytest.approx(13.0 * 6894.757293168 / 1e5, rel=1e-9)


def test_words_people_write_for_a_choice() -> None:
    text = "rpm,wot,porpoises,vent,plate,trim\n5600,Y,n,In turns,SPRAY,half out"
    ((*found,),) = values(text, "full_throttle", "porpoises", "ventilates", "plate", "trim")
    assert found == ["yes", "no", "in turns", "spray", "half out"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing was pasted"),
        ("x" * 1_000_001, "too large"),
        ("3000\n" * (MOST_ROWS + 2), "rows"),
        ("foo,bar\n1,2", "which column is the engine speed"),
        ("3000,20,21\n4000,20,21,22", "row 2: it has 4 columns"),
        ("1,2,3,4,5\n", "5 columns without headings"),
        ("rpm,there\n,20", "row 2, engine speed: it is not filled in"),
        ("rpm,there\nfast,20", "row 2, engine speed"),
        ("rpm,there\n3000,200", "row 2, speed there"),
        ("rpm,there\n3000,20 kg", "row 2, speed there"),
        ("rpm,plate\n3000,green", "row 2, the plate"),
        ("rpm,note\n3000,a\x07b", "row 2, anything else"),
    ],
)
def test_a_row_that_cannot_be_read_is_named(text: str, words: str) -> None:
    assert words in said(text)


def test_a_row_of_no_trial_is_named() -> None:
    assert "trial of the run" in said("3000,20,21", trial_id="")


def test_mixed_units_are_named_and_a_bare_number_between_them_refused() -> None:
    found = parse_runs("rpm,speed there\n3000,25 mph\n4000,22 kn", "metric", "T1")
    assert found.problems == ()
    assert found.notes == ('Speed there is in several units: kn, mph.',)  # fmt: skip
    assert "has no unit, and others" in said("rpm,speed there\n3000,25 mph\n4000,22")
    same = parse_runs("rpm,speed there\n3000,25 kn\n4000,22 kt\n4500,23", "metric", "T1")
    assert same.notes == ()


@pytest.mark.parametrize(
    "heading", ["speed there (mph)", "speed there mph", "speed_there_mph", "there, MPH"]
)
def test_the_unit_of_a_heading_counts_with_and_without_brackets(heading: str) -> None:
    # 1 mph is 1609.344 m an hour, 1 kn is 1852 m an hour.
    found = parse_runs(f"rpm\t{heading}\n3000\t20", "metric", "T1")
    assert found.problems == ()
    assert found.taken_as == ()
    assert found.runs[0].speed_there.value == pytest.approx(20.0 * 1609.344 / 1852.0)


def test_nothing_is_passed_over_in_silence() -> None:
    found = parse_runs("rpm,there,hat size\n3000,20,58", "metric", "T1")
    assert found.notes == ('Columns not read: "hat size".',)
    many = parse_runs("rpm\n" + "x\n" * 40, "metric", "T1")
    assert len(many.problems) == MOST_PROBLEMS
    assert many.notes == (f"Rows behind row {MOST_PROBLEMS + 1} were not looked at.",)
    assert len(many.runs) == 0


@given(st.text(max_size=200))
def test_no_text_brings_anything_but_runs_and_sentences(text: str) -> None:
    found = parse_runs(text, "inch", "T1")
    assert all(problem.sentence() for problem in found.problems)
    assert all(run.rpm is not None for run in found.runs)


def test_either_every_row_is_taken_or_none() -> None:
    before = job()
    after, notes = with_runs(before, "rpm,there,back\n3000,20,21\n4000,25,26", "runs.csv", "T1")
    assert after.runs[: len(before.runs)] == before.runs
    assert len(after.runs) == len(before.runs) + 2
    assert notes == ("Numbers without a unit were taken as: speed there kn, speed back kn.",)
    assert with_runs(before, "rpm,there (mph)\n3000,20", "runs.csv", "T1")[1] == ()
    inch = replace(before, units=replace(before.units, entries="inch"))
    fuel = with_runs(inch, "rpm,fuel\n3000,2.1", "runs.csv", "T1")[1]
    assert fuel == ("Numbers without a unit were taken as: fuel flow US gal/h.",)
    with pytest.raises(EntryError, match="engine speed") as caught:
        with_runs(before, "rpm,there\n3000,20\nx,20\ny,20", "runs.csv", "T1")
    assert "runs.csv" in caught.value.where
    assert "1 more like it" in caught.value.sentence()
    with pytest.raises(EntryError, match='no trial "T9"'):
        with_runs(before, "trial,rpm\nT9,3000", "runs.csv")


# ------------------------------------------------------------------ CSV out and in

TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=12)


def numbers(low: float, high: float):
    return st.none() | st.builds(
        lambda value, spread: Reading(value, spread, typed="x", tolerance_typed=True),
        st.floats(low, high), st.floats(0.0, 0.4),
    )  # fmt: skip


RUNS = st.builds(
    Run,
    trial=st.just("T1"),
    rpm=numbers(300.0, 9000.0).filter(lambda item: item is not None),
    speed_there=numbers(0.0, 100.0),
    speed_back=numbers(0.0, 100.0),
    full_throttle=st.sampled_from(YES_NO),
    trim=st.sampled_from(TRIMS),
    mass_aboard=numbers(0.0, 5000.0),
    pressure=numbers(0.0, 5.0),
    fuel_flow=numbers(0.0, 400.0),
    plate=st.sampled_from(PLATE_LOOKS),
    ventilates=st.sampled_from(VENTILATES),
    porpoises=st.sampled_from(YES_NO),
    overheats=st.sampled_from(YES_NO),
    time=TEXTS,
    note=TEXTS | st.sampled_from(("=1+1", "@now", "-x", "+1", "a;b", 'say "so"', "a,b")),
)


def facts(run: Run) -> list[object]:
    """Everything a run says, readings as value and tolerance."""
    return [
        (item.value, item.tolerance) if isinstance(item, Reading) else item
        for item in (getattr(run, name) for name in specs(Run))
    ]


@pytest.mark.parametrize("entries", ["metric", "inch"])
@given(made=st.lists(RUNS, min_size=1, max_size=5))
def test_runs_written_as_csv_are_the_same_when_read_again(made: list[Run], entries: str) -> None:
    text = runs_csv(trial_log(job(trial(), log=made), CATALOGUE))
    found = parse_runs(text, entries)
    assert [problem.sentence() for problem in found.problems] == []
    assert not any("not read" in note for note in found.notes)
    wanted = sorted(made, key=lambda run: run.rpm.value if run.rpm else 0.0)
    assert [facts(run) for run in found.runs] == [facts(run) for run in wanted]


def test_a_spreadsheet_runs_nothing_of_it() -> None:
    evil = tuple(replace(run, note="=HYPERLINK(1)", time="@x") for run in runs()[:1])
    rows = list(csv.reader(io.StringIO(runs_csv(trial_log(job(trial(), log=evil), CATALOGUE)))))
    assert not any(cell.startswith(("=", "@", "+")) for row in rows for cell in row)
    assert rows[1][rows[0].index("engine speed (rpm)")] == "1000.0 ± 50.0"


def test_numbers_with_the_usual_tolerance_stay_numbers() -> None:
    plain = tuple(replace(run, rpm=replace(reading(3000.0, 50.0), tolerance_typed=False))
                  for run in runs()[:1])  # fmt: skip
    rows = list(csv.reader(io.StringIO(runs_csv(trial_log(job(trial(), log=plain), CATALOGUE)))))
    assert float(rows[1][rows[0].index("engine speed (rpm)")]) == 3000.0
    assert float(rows[1][rows[0].index("mean speed (kn)")]) == pytest.approx(3.9)
