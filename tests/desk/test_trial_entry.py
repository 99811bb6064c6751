"""Runs that are pasted or read: what is proposed, what is said of the rest, what is taken over."""

from __future__ import annotations

import datetime

import pytest

from rigfit.desk.draft import Address
from rigfit.desk.trial_entry import (
    FileRead,
    Found,
    free_id,
    from_text,
    from_track,
    read_file,
    taken_over,
    trial_ids,
)
from rigfit.desk.trial_rows import run_columns, run_rows
from rigfit.errors import EntryError, RigfitError
from rigfit.units import Shown
from tests.desk.panels import demo_bench
from tests.desk.trial_boat import trial_bench

TABLE = (
    "trial\trpm\tspeed there\tspeed back\nT1\t4000\t24.6\t23.8\nT9\t5600\t30.2\t\nT1\tfast\t1\t1\n"
)
START = datetime.datetime(2026, 5, 16, 14, 0, 0, tzinfo=datetime.UTC)


def gpx(legs, *, timed=True):
    """Return a GPX track with legs of (seconds, knots, degrees), a point a second, 60 s apart."""
    points, moment = [], START
    for seconds, knots, course in legs:
        for at in range(seconds):
            time = f"<time>{moment:%Y-%m-%dT%H:%M:%SZ}</time>" if timed else ""
            north = at * knots * 1852.0 / 3600.0 / 111_200.0 * (1 if course == 0 else -1)
            points.append(
                f'<trkpt lat="{50.0 + north:.7f}" lon="1.0">{time}'
                f"<extensions><speed>{knots * 1852.0 / 3600.0:.4f}</speed></extensions></trkpt>"
            )
            moment += datetime.timedelta(seconds=1)
        moment += datetime.timedelta(seconds=60)
    body = "".join(points)
    return (
        '<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1">'
        f"<trk><trkseg>{body}</trkseg></trk></gpx>"
    ).encode()


LEGS = ((60, 20.0, 0), (60, 18.0, 180), (60, 30.0, 0), (60, 28.0, 180))


@pytest.fixture
def track_file(tmp_path):
    path = tmp_path / "day.gpx"
    path.write_bytes(gpx(LEGS))
    return path


# A table ---------------------------------------------------------------------------------------


def test_rows_that_can_be_read_are_proposed_and_the_others_named():
    found = from_text(TABLE, "metric", "T1")
    assert [row["trial"] for row in found.rows] == ["T1", "T9"]
    assert found.rows[0]["speed_there"] == "24.6"
    assert len(found.problems) == 1
    assert "ow 4" in found.problems[0]
    assert "fast" in found.problems[0]
    assert found.button == "Add 2 runs"


def test_an_empty_text_proposes_nothing_and_says_nothing():
    assert from_text("  \n", "metric", "T1") == Found()
    assert not Found().is_anything


@pytest.mark.parametrize(
    "text", ["\x00\x01", "a,b,c", "4000,fast", "rpm\n", '"', "1\t2\t3\t4\t5\t6"]
)
def test_no_text_raises(text):
    found = from_text(text, "metric", "T1")
    assert not found.rows
    assert found.problems


def test_a_row_without_a_trial_belongs_to_the_one_chosen():
    found = from_text("4000\t24\t23\n", "metric", "X")
    assert found.rows[0]["trial"] == "X"


def test_taking_over_adds_the_trials_that_are_missing_as_well(tmp_path):
    bench = trial_bench(tmp_path)
    before = len(bench.draft.rows("run"))
    draft = taken_over(bench.draft, from_text(TABLE, "metric", "T1"), "T1")
    assert trial_ids(draft) == ("T1", "T2", "T9")
    assert len(draft.rows("run")) == before + 2
    assert draft.text(Address("run", "speed_there", before)) == "24.6"


def test_a_new_trial_has_an_id_of_its_own(tmp_path):
    bench = demo_bench(tmp_path)
    draft = bench.draft
    while draft.rows("trial"):
        draft = draft.remove_row("trial", 0)
    assert free_id(draft) == "T1"
    for name in ("T1", "T3", " T2 "):
        draft = draft.add_row("trial", id=name)
    assert free_id(draft) == "T4"


# A track ---------------------------------------------------------------------------------------


def test_a_track_gives_runs_with_both_ways_whose_engine_speed_is_open(tmp_path, track_file):
    bench = demo_bench(tmp_path)
    found = from_track(read_file(track_file), bench.derived, "T7")
    assert len(found.rows) == 2
    assert found.date == "2026-05-16"
    first = found.rows[0]
    assert first["time"] == "14:00:00"
    assert first["speed_there"].startswith("20.00 ±")
    assert first["speed_back"].startswith("18.00 ±")
    assert "rpm" not in first
    draft = taken_over(bench.draft, found, "T7")
    at = trial_ids(draft).index("T7")
    assert draft.text(Address("trial", "date", at)) == "2026-05-16"


def test_a_track_puts_speeds_into_timed_runs_without_any(tmp_path, track_file):
    bench = demo_bench(tmp_path)
    draft = bench.draft.add_row("trial", id="T7")
    row = len(draft.rows("run"))
    draft = draft.add_row("run", trial="T7", rpm="3500", time="14:00:05")
    draft = draft.add_row("run", trial="T7", rpm="4500", time="18:00")
    draft = draft.add_row("run", trial="T7", rpm="5500", time="14:04:00", speed_there="29 kn")
    bench.take(draft, "timed runs")
    found = from_track(read_file(track_file), bench.derived, "T7")
    assert [speeds.row for speeds in found.speeds] == [row]
    assert found.button == "Put speeds into 1 run"
    notes = " ".join(found.notes)
    assert "no steady stretch begins within" in notes
    assert "it has a speed already" in notes
    after = taken_over(bench.draft, found, "T7")
    assert after.text(Address("run", "speed_back", row)).startswith("18 ±")
    assert after.text(Address("run", "speed_there", row + 2)) == "29 kn"


def test_a_track_without_times_is_named_with_its_cure(tmp_path):
    path = tmp_path / "route.gpx"
    path.write_bytes(gpx(LEGS, timed=False))
    with pytest.raises(EntryError, match=r"route\.gpx.*has a time"):
        read_file(path)


def test_a_track_in_which_no_speed_is_held_says_so(tmp_path):
    path = tmp_path / "short.gpx"
    path.write_bytes(gpx(((10, 20.0, 0), (8, 12.0, 0))))
    found = from_track(read_file(path), demo_bench(tmp_path).derived, "T1")
    assert not found.is_anything
    assert "No speed was held" in found.problems[0]


# Files -----------------------------------------------------------------------------------------


def test_what_is_no_file_is_named(tmp_path):
    with pytest.raises(RigfitError, match="cannot be read"):
        read_file(tmp_path / "none.csv")
    with pytest.raises(RigfitError, match="cannot be read"):
        read_file(tmp_path)
    picture = tmp_path / "picture.csv"
    picture.write_bytes(b"\x89PNG\x00\x00")
    with pytest.raises(RigfitError, match="neither a table nor a log"):
        read_file(picture)


def test_a_table_in_a_file_is_read_as_it_is(tmp_path):
    path = tmp_path / "runs.csv"
    path.write_bytes(b"\xef\xbb\xbf" + TABLE.encode())
    assert read_file(path).text == TABLE
    path.write_bytes("rpm;höhe".encode("latin-1"))
    assert read_file(path) == FileRead("runs.csv", "rpm;höhe")


def test_reading_a_log_that_is_cancelled_gives_nothing(track_file):
    assert read_file(track_file, cancelled=lambda: True).track is None


def test_reading_a_log_tells_how_far_it_is(track_file):
    told = []
    read_file(track_file, lambda share, doing: told.append((share, doing)))
    assert told[-1] == (0.95, "looking for steady stretches")
    assert told == sorted(told)


# The table of runs -----------------------------------------------------------------------------


def test_each_run_is_a_row_with_what_it_came_to(tmp_path):
    bench = trial_bench(tmp_path)
    rows = run_rows(bench.derived, bench.catalogue, Shown())
    assert len(rows) == 8
    keys = [column.key for column in run_columns(Shown())]
    first = dict(zip(keys, rows[0].cells, strict=True))
    assert first["speed"] == "9.9"  # (10.2 + 9.6) / 2
    # 2500 rpm / 2.15 x 17 in = 16.27 kn of pitch speed, 9.9 kn made: 39 % (units exact)
    assert first["slip"] == "39"
    assert first["mile"] == "0.82"  # 8.1 L/h over 9.9 kn


def test_a_run_that_cannot_be_used_stays_a_row_and_says_why(tmp_path):
    bench = trial_bench(tmp_path)
    draft = bench.draft.add_row("run", trial="T1").add_row("run", trial="T8", rpm="3000 rpm")
    draft = draft.add_row("run", trial="T1", rpm="many", speed_there="9 kn")
    draft = draft.add_row("run", trial="T1", rpm="3000 rpm", speed_there="9 kn")
    bench.take(draft, "runs")
    rows = run_rows(bench.derived, bench.catalogue, Shown())[8:]
    looks = [row.cells[-1] for row in rows]
    assert looks == ["no engine speed", "no such trial", "engine speed cannot be read",
                     "one way only"]  # fmt: skip
    assert rows[2].cells[1] == "many"
