"""The commands holes, cut and draw --sheet: what they print, what they write, what they refuse."""

import csv
import io
import json
import re

import pytest

from rigfit import tasks
from rigfit.drawing.scene import Disc, Scene
from rigfit.drawing.to_dxf import to_dxf
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text
from rigfit.rigging.hole_fit import Relation
from tests.demo_reports import ROOT

JOB = demo_job_text(DRILLED_DEMO)
NEAR = '\n[[hole]]\nname = "{name}"\nacross = "{across}"\nbelow_top = "{below}"\ndiameter = 14\n'


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "boat.toml").write_text(JOB, encoding="utf-8")
    return tmp_path


def job_of(here):
    return tasks.open_job(here / "boat.toml")


def add_hole(here, name, across, below, base=JOB):
    hole = NEAR.format(name=name, across=across, below=below)
    (here / "boat.toml").write_text(base + hole, encoding="utf-8")


def without_holes(text):
    return re.sub(r"\[\[hole\]\][^\[]*", "", text)


# ---------------------------------------------------------------- the table


def test_each_new_hole_stands_once_with_the_hole_that_serves_it(rigfit):
    status, out, err = rigfit("holes", "boat.toml")
    assert (status, err) == (0, "")
    for name in ("upper port", "upper starboard", "lower port", "lower starboard"):
        assert re.search(rf"^{name} .*served by old {name} ", out, re.MULTILINE)


@pytest.mark.parametrize(
    ("across", "below", "words", "status"),
    [
        ("-163.5", "58", "breaks into", 1),
        ("-163.5", "70", "too near to", 1),
        ("-163.5", "400", "clear of", 0),
    ],
)
def test_what_a_new_hole_meets_is_named(across, below, words, status, rigfit, here):
    add_hole(here, "stray", across, below, without_holes(JOB))
    found, out, _ = rigfit("holes", "boat.toml")
    assert found == status
    assert (f"{words} stray" in " ".join(out.split())) is (words != "clear of")
    assert "To be filled solid: stray." in out


def test_the_trade_off_the_bolts_and_what_nobody_looked_at_are_printed(rigfit, here):
    _, out, _ = rigfit("holes", "boat.toml")
    assert "Reuse of old holes, mm: a trade-off" in out
    assert "Buy 1/2-13 UNC x 3 3/4 in" in out
    assert "grip" in out
    assert "Not looked at yet" not in out
    (here / "boat.toml").write_text(demo_job_text(), encoding="utf-8")
    _, out, _ = rigfit("holes", "boat.toml")
    unseen = "Not looked at yet: openings and places inside, bolts and backing, swing of the engine"
    assert unseen in " ".join(out.split())
    assert "grip" not in out


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("name", ["stray", "a hole with a very long name " * 6])
def test_no_line_is_wider_than_80(lengths, name, rigfit, here):
    add_hole(
        here, name.strip(), "-150", "60", JOB.replace('lengths = "mm"', f'lengths = "{lengths}"')
    )
    for command in (("holes",), ("check", "--working")):
        lines = rigfit(command[0], "boat.toml", *command[1:])[1].splitlines()
        assert len(lines) > 10
        assert [line for line in lines if len(line) > 80] == []


def test_an_engine_that_clamps_on_and_an_undecided_height_are_said(rigfit, here):
    text = JOB.replace('"medium-75-115"', '"portable-8-20"').replace("row = 2\n", "")
    (here / "boat.toml").write_text(text, encoding="utf-8")
    assert "clamps on" in rigfit("holes", "boat.toml")[1]
    text = demo_job_text().replace("row = 2\n", "")
    text = re.sub(r"upper_holes_below_top = .*", "", text)
    (here / "boat.toml").write_text(text, encoding="utf-8")
    assert "not decided yet" in rigfit("holes", "boat.toml")[1]


def test_the_data_hold_what_the_table_does(rigfit):
    data = json.loads(rigfit("holes", "boat.toml", "--json")[1])
    assert data["format"] == 1
    assert [item["served_by"] for item in data["holes"]["new"]] == [
        "old upper port", "old upper starboard", "old lower port", "old lower starboard",
    ]  # fmt: skip
    assert {
        relation["relation"] for item in data["holes"]["new"] for relation in item["against"]
    } <= {relation.value for relation in Relation}
    assert data["bolts"]["length_to_buy_mm"] == 95.25
    assert data["reuse"][0]["reused"] == [1, 2, 3, 4]
    assert data["not_looked_at"] == []
    whole = json.loads(rigfit("check", "boat.toml", "--json")[1])
    assert {key: whole[key] for key in ("holes", "bolts", "reuse")} == {
        key: data[key] for key in ("holes", "bolts", "reuse")
    }


def test_a_name_that_a_spreadsheet_would_run_stays_a_name(rigfit, here):
    add_hole(here, "=1+2", "-163.5", "62", without_holes(JOB))
    headings, *rows = csv.reader(io.StringIO(rigfit("holes", "boat.toml", "--csv")[1]))
    assert "'=1+2" in {row[headings.index("neighbour")] for row in rows}
    assert all(len(row) == len(headings) for row in rows)


# ---------------------------------------------------------------- adding holes


def test_rows_are_added_and_remarks_stay(rigfit, here):
    (here / "holes.csv").write_text("across;below;dia\n-100 mm;60 mm;1/2 in\n12,5;61;20\n")
    status, out, err = rigfit("holes", "boat.toml", "--add", "holes.csv")
    assert (status, err) == (0, "")
    assert "Added 2 old holes" in out
    added = job_of(here).holes[4:]
    assert [(item.across.value, item.diameter.value) for item in added] == [
        (-100.0, 12.7), (12.5, 20.0),
    ]  # fmt: skip
    text = (here / "boat.toml").read_text(encoding="utf-8")
    assert "# The dash: two old instruments come out" in text


def test_rows_come_from_standard_input_too(rigfit, here, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO("top\t-100\t60\t14\n"))
    assert rigfit("holes", "boat.toml", "--add", "-")[0] == 0
    assert job_of(here).holes[-1].name == "top"


def circles(*places, release="R2000"):
    discs = tuple(Disc((x, y), 6.75, "DRILL") for x, y in places)
    return to_dxf(Scene("holes", discs, 1.0), release=release, linetypes=False)


def test_the_circles_of_a_dxf_are_added_from_the_centreline_and_the_top(rigfit, here):
    (here / "holes.dxf").write_bytes(circles((600.0, 450.0), (1000.0, 450.0)))
    done = rigfit(
        "holes", "boat.toml", "--add", "holes.dxf", "--centre-x", "80 cm", "--top-y", "500"
    )
    assert done[0] == 0
    found = [(item.across.value, item.below_top.value) for item in job_of(here).holes[4:]]
    assert found == [(-200.0, 50.0), (200.0, 50.0)]


def test_two_tapes_find_the_hole_they_were_held_to(rigfit, here):
    # The hole is at -163.5, 251; the points are at +-300, 20.
    first, second = "268.4 ± 0.5 mm", "518.0 ± 0.5 mm"
    status, out, _ = rigfit("holes", "boat.toml", "--tapes", "old", first, second)
    assert status == 0
    assert re.search(r"old is -163\.\d ± \d", out)
    assert "The tapes miss each other by 0.0 mm" in out
    assert "Nothing is added" in out
    assert len(job_of(here).holes) == 4
    rigfit("holes", "boat.toml", "--tapes", "old", first, second, "--diameter", "13 mm")
    hole = job_of(here).holes[-1]
    assert hole.name == "old"
    assert hole.across.value == pytest.approx(-163.5, abs=0.3)
    assert hole.below_top.value == pytest.approx(251.0, abs=0.3)
    assert hole.below_top.tolerance > 0.5


def test_the_holes_of_a_pattern_are_added_about_its_middle(rigfit, here):
    done = rigfit(
        "holes", "boat.toml", "--pattern", "trade-four-bolt", "--below", "60", "--centre", "-20"
    )
    assert done[0] == 0
    uppers = [item for item in job_of(here).holes[4:] if item.below_top.value == 60.0]
    assert sum(item.across.value for item in uppers) == pytest.approx(-40.0)


def put(name, data):
    def prepare(folder):
        (folder / name).write_bytes(data)

    return prepare


def nothing(_folder):
    pass


def no_points(folder):
    text = re.sub(r"point_b_across = .*\n", "", JOB)
    (folder / "boat.toml").write_text(text, encoding="utf-8")


PLACES = ["--centre-x", "0", "--top-y", "0"]
BAD = {
    "no-file": (nothing, ["--add", "no.csv"], ["no.csv", "cannot be read", "check its name"]),
    "picture": (put("a.csv", b"\x89PNG\xff"), ["--add", "a.csv"], ["a.csv", "no plain text"]),
    "empty": (put("a.csv", b""), ["--add", "a.csv"], ["a.csv", "nothing was pasted"]),
    "row": (put("a.csv", b"1,2,x\n"), ["--add", "a.csv"], ["a.csv", "row 1", "diameter"]),
    "beyond": (put("a.csv", b"9 m,2,12\n"), ["--add", "a.csv"], ["row 1", "1750 mm"]),
    "csv-unit": (put("a.csv", b"1,2,12\n"), ["--add", "a.csv", "--unit", "mm"], ["--unit", "DXF"]),
    "dxf-place": (put("a.dxf", b""), ["--add", "a.dxf"], ["--centre-x", "centreline"]),
    "no-dxf": (put("a.dxf", b"hello"), ["--add", "a.dxf", *PLACES], ["a.dxf", "DXF"]),
    "no-unit": (
        put("a.dxf", circles((0.0, -50.0), release="R12")),
        ["--add", "a.dxf", *PLACES],
        ["a.dxf, --unit", "does not say its unit", "mm or in"],
    ),
    "layer": (
        put("a.dxf", circles((0.0, -50.0))),
        ["--add", "a.dxf", *PLACES, "--layer", "HOLES"],
        ["a.dxf", "HOLES", "DRILL"],
    ),
    "above": (
        put("a.dxf", circles((0.0, 50.0))),
        ["--add", "a.dxf", *PLACES],
        ["hole 1", "below the transom top", "-50 mm"],
    ),
    "centre": (put("a.dxf", b""), ["--add", "a.dxf", "--centre-x", "x"], ["--centre-x", "x"]),
    "short-tapes": (nothing, ["--tapes", "a", "10", "20"], ["--tapes", "too short", "meet"]),
    "tape": (nothing, ["--tapes", "a", "x", "20"], ["--tapes", "first fixed point", "x"]),
    "no-points": (no_points, ["--tapes", "a", "400", "400"], ["fixed points", "point_b_across"]),
    "side": (nothing, ["--tapes", "a", "400", "400", "--side", "port"], ["port", "above or below"]),
    "pattern": (nothing, ["--pattern", "five", "--below", "48"], ["five", "trade-four-bolt"]),
    "clamp": (nothing, ["--pattern", "clamp", "--below", "48"], ["clamps on", "one by one"]),
    "no-below": (nothing, ["--pattern", "trade-four-bolt"], ["--below", "48 mm"]),
    "stray": (nothing, ["--unit", "mm"], ["--unit", "without --add"]),
    "two-ways": (nothing, ["--add", "a", "--pattern", "b"], ["--pattern", "--add", "--help"]),
    "two-shapes": (nothing, ["--json", "--csv"], ["--csv", "--json"]),
}


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_added_is_one_sentence_and_leaves_the_job(name, rigfit, here):
    prepare, options, words = BAD[name]
    prepare(here)
    before = (here / "boat.toml").read_bytes()
    status, out, err = rigfit("holes", "boat.toml", *options)
    told = " ".join(err.split())
    assert (status, out) == (2, "")
    assert told.startswith("rigfit: ")
    assert told.endswith((".", "?"))
    assert [word for word in words if word not in told] == []
    assert (here / "boat.toml").read_bytes() == before


# ---------------------------------------------------------------- sheets and pieces


@pytest.mark.parametrize("sheet", tasks.SHEETS)
def test_every_sheet_is_drawn_by_its_name(sheet, rigfit, here):
    status, out, _ = rigfit("draw", "boat.toml", "a.svg", "--sheet", sheet)
    assert (status, out) == (0, f"Wrote a.svg ({tasks.SHEETS[sheet]}, SVG).\n")
    assert (here / "a.svg").read_bytes().startswith(b"<?xml")


def test_an_unknown_sheet_is_refused_with_those_there_are(rigfit):
    status, _, err = rigfit("draw", "boat.toml", "a.svg", "--sheet", "plan")
    assert status == 2
    assert "profile, face, face-inside, section, dash" in " ".join(err.split())


@pytest.mark.parametrize(("sheet", "words"), [("section", "bolt"), ("dash", "cut-out")])
def test_a_sheet_that_is_not_measured_names_what_is_missing(sheet, words, rigfit, here):
    (here / "boat.toml").write_text(demo_job_text(), encoding="utf-8")
    status, _, err = rigfit("draw", "boat.toml", "a.svg", "--sheet", sheet)
    assert status == 2
    assert err.startswith("rigfit: boat.toml, ")
    assert words in err
    assert not (here / "a.svg").exists()


@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_plates_and_dash_are_written_to_cut(release, rigfit, here):
    status, out, _ = rigfit("cut", "boat.toml", "out", "--release", release)
    ending = "_mm" if release == "R12" else ""
    names = ("backing-plate-upper-row", "backing-plate-lower-row", "dash", "dash-cut")
    assert status == 0
    assert {path.name for path in (here / "out").iterdir()} == {
        f"dunlin-B-{name}{ending}.dxf" for name in names
    }
    assert "Left out" not in out


def test_what_cannot_be_cut_yet_is_named_beside_what_was(rigfit, here):
    text = JOB[: JOB.index("# The dash")] + JOB[JOB.index("# Looked at on its stand") :]
    (here / "boat.toml").write_text(text, encoding="utf-8")
    status, out, _ = rigfit("cut", "boat.toml", "out")
    assert status == 0
    assert "Left out: dash: there is no template for the dash" in " ".join(out.split())
    (here / "boat.toml").write_text(demo_job_text(), encoding="utf-8")
    status, _, err = rigfit("cut", "boat.toml", "elsewhere")
    assert status == 2
    assert "backing plate" in " ".join(err.split())
    assert not (here / "elsewhere").exists()


def test_an_outline_file_gives_rows_for_the_form(here):
    rows = tasks.outline_holes(ROOT / "exports" / "dunlin-B-cut.dxf")
    assert [row["diameter"] for row in rows] == ["13.5 mm"] * 4
    assert set(rows[0]) == {"name", "across", "below_top", "diameter"}
