"""What the ways of entering old holes give before anything is added; reading drawings aside."""

from __future__ import annotations

import io
import math
import time
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.desk import hole_entry
from rigfit.desk.draft import Address
from rigfit.desk.drawing_reader import DrawingFound, DrawingReader, read_drawing
from rigfit.desk.hole_entry import Proposal, read_fields
from rigfit.records.hole_entry import taped_hole
from rigfit.records.hole_paste import HoleRow
from rigfit.records.outline_import import LARGEST_BYTES, Circle
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import ExistingHole
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.transom_map import TransomFace
from rigfit.rigging.trilateration import Side
from rigfit.units import Kind, Shown, parse_entry
from tests.builders import sample_job

CATALOGUE = load_catalogue()
MM, INCH = Shown("mm"), Shown("in")
ROW = HoleRow("old", "-163.5 mm", "48 mm", "13.5 mm")


def value(text):
    return parse_entry(text, Kind.LENGTH).value


def taped(value_mm, tolerance=1.0):
    return Reading(value_mm, tolerance, Origin.MEASURED)


def face_of(a, b):
    return TransomFace(
        point_a_across=taped(a[0]), point_a_below=taped(a[1]),
        point_b_across=taped(b[0]), point_b_below=taped(b[1]),
    )  # fmt: skip


LEVEL = face_of((-300.0, 0.0), (300.0, 0.0))


def tapes_to(face, x, y, **others):
    """Return the fields as somebody types them who measures to a hole."""
    points = (
        (face.point_a_across.value, face.point_a_below.value),
        (face.point_b_across.value, face.point_b_below.value),
    )
    first, second = (math.hypot(x - across, y - below) for across, below in points)
    texts = {
        "first": (hole_entry.TAPES[0], f"{first:.2f} mm ± 1 mm"),
        "second": (hole_entry.TAPES[1], f"{second:.2f} mm ± 1 mm"),
        "diameter": (hole_entry.DIAMETER, others.get("diameter", "13.5")),
    }
    return read_fields(texts, "metric")


# Fields ----------------------------------------------------------------------------------------


def test_fields_are_read_in_the_units_of_the_boat_and_wrong_ones_are_named():
    spec = hole_entry.UPPER
    texts = {"mm": (spec, "48"), "no": (spec, "about"), "blank": (spec, " "), "far": (spec, "3 m")}
    fields = read_fields(texts, "metric")
    assert fields.readings["mm"].value == 48.0
    assert set(fields.messages) == {"no", "far"}
    assert all(message.endswith(".") for message in fields.messages.values())
    inches = read_fields({"in": (spec, "2")}, "inch")
    assert inches.readings["in"].value == pytest.approx(50.8)


@given(st.text(max_size=60))
def test_whatever_is_typed_in_a_field_gives_a_reading_or_a_sentence(text):
    fields = read_fields({"any": (hole_entry.TAPES[0], text)}, "metric")
    assert len(fields.readings) + len(fields.messages) <= 1


def test_a_row_is_shown_fine_enough_to_drill_by_in_either_unit():
    assert hole_entry.cells(ROW, "metric", MM) == ("old", "-163.5", "48", "13.5")
    assert hole_entry.cells(ROW, "metric", INCH) == ("old", "-6.44", "1.89", "0.53")
    assert hole_entry.spot(163.5, MM) == "163.5 mm"
    assert hole_entry.spot(163.5, INCH) == "6.44 in (163.5 mm)"


def test_holes_that_are_entered_already_are_counted():
    there = [ExistingHole("a", taped(-163.0), taped(48.4), taped(13.0))]
    far = HoleRow("", "163.5 mm", "48 mm", "13.5 mm")
    assert "1 of them lies" in hole_entry.doubles([ROW, far], there, "metric")
    assert "2 of them lie" in hole_entry.doubles([ROW, ROW], there, "metric")
    assert hole_entry.doubles([far], there, "metric") == ""


# Paste -----------------------------------------------------------------------------------------


def test_pasted_rows_are_texts_by_the_names_of_the_fields():
    proposal = hole_entry.from_paste("across\tbelow\tdiameter\n-163,5\t48\t13,5\n1\t2", "metric")
    assert proposal.texts == (
        {"name": "", "across": "-163.5", "below_top": "48", "diameter": "13.5"},
    )
    assert len(proposal.problems) == 1
    assert proposal.problems[0].startswith("Row 3, ")


@pytest.mark.parametrize(
    "text",
    ["9" * 5_000_000, "1\t2\t3\n" * 900_000, "a\t" + "x" * 900_000, '"' * 200_001, "\0\t\ud800\t1"],
    ids=["book", "many rows", "long cell", "quotes", "signs"],
)
def test_too_much_or_nonsense_is_refused_in_a_sentence(text):
    proposal = hole_entry.from_paste(text, "metric")
    assert proposal.rows == ()
    assert proposal.problems
    assert all(problem.endswith(".") and len(problem) < 400 for problem in proposal.problems)


@settings(deadline=None)
@given(st.text(max_size=200))
def test_no_pasted_text_breaks_it(text):
    proposal = hole_entry.from_paste(text, "metric")
    for row in proposal.rows:
        assert len(hole_entry.cells(row, "metric", MM)) == 4


# Patterns --------------------------------------------------------------------------------------


def test_only_patterns_with_bolt_rows_are_offered():
    offered = hole_entry.bolted_patterns(CATALOGUE)
    assert offered
    assert "clamp" not in offered
    assert set(offered.values()) <= {item.name for item in CATALOGUE.hole_patterns.values()}


@pytest.mark.parametrize("key", sorted(hole_entry.bolted_patterns(CATALOGUE)))
def test_a_pattern_gives_four_rows_that_the_fields_take(key):
    pattern = CATALOGUE.hole_patterns[key]
    texts = {"upper": (hole_entry.UPPER, "48 ± 0.5"), "centre": (hole_entry.CENTRE, "12")}
    proposal = hole_entry.from_pattern(pattern, read_fields(texts, "metric"))
    assert len(proposal.rows) == 4
    assert proposal.problems == ()
    across = sorted(value(row.across) for row in proposal.rows)
    assert across[-1] - across[0] == pytest.approx(
        max(pattern.upper_spacing_mm, pattern.lower_spacing_mm), abs=0.01
    )
    assert sum(across) / 4 == pytest.approx(12.0, abs=0.01)
    assert {row.below_top for row in proposal.rows if "upper" in row.name} == {"48 mm ± 0.5 mm"}
    assert "not of your transom" in proposal.notes[0]


def test_without_pattern_or_height_there_are_no_rows():
    nothing, pattern = read_fields({}, "metric"), next(iter(CATALOGUE.hole_patterns.values()))
    height = read_fields({"upper": (hole_entry.UPPER, "48")}, "metric")
    wrong = {"upper": (hole_entry.UPPER, "48"), "centre": (hole_entry.CENTRE, "wide")}
    assert hole_entry.from_pattern(pattern, nothing) == Proposal()
    assert hole_entry.from_pattern(None, height) == Proposal()
    assert hole_entry.from_pattern(pattern, read_fields(wrong, "metric")) == Proposal()


# Tapes -----------------------------------------------------------------------------------------


@given(st.floats(-290.0, 290.0), st.floats(40.0, 500.0))
def test_tapes_find_the_hole_they_were_read_at(x, y):
    found = hole_entry.from_tapes(LEVEL, tapes_to(LEVEL, x, y), "below", " drain ", MM)
    (row,) = found.proposal.rows
    assert row.name == "drain"
    for text, true in ((row.across, x), (row.below_top, y)):
        entry = parse_entry(text, Kind.LENGTH)
        assert entry.value == pytest.approx(true, abs=0.3)
        assert entry.tolerance > 0.0


def test_the_command_and_the_form_add_the_same_hole():
    job = replace(sample_job(), face=LEVEL)
    by_command = taped_hole(job, "old", "310 mm", "452 mm", diameter="13.5 mm").row
    texts = {"first": "310 mm", "second": "452 mm"}
    fields = {key: (spec, texts[key]) for key, spec in zip(texts, hole_entry.TAPES, strict=True)}
    fields["diameter"] = (hole_entry.DIAMETER, "13.5 mm")
    found = hole_entry.from_tapes(LEVEL, read_fields(fields, "metric"), "below", "old", MM)
    assert found.proposal.rows == (by_command,)


def test_the_place_is_said_with_its_tolerance_before_the_diameter_is_known():
    fields = tapes_to(LEVEL, -90.0, 228.0, diameter="")
    found = hole_entry.from_tapes(LEVEL, fields, "below", "", MM)
    assert found.proposal.rows == ()
    assert found.sentence.startswith("90 mm ± ")
    assert "to port" in found.sentence
    assert "228 mm ± " in found.sentence


def test_tapes_that_cannot_be_are_refused_in_a_sentence():
    short = {"first": (hole_entry.TAPES[0], "100"), "second": (hole_entry.TAPES[1], "100")}
    found = hole_entry.from_tapes(LEVEL, read_fields(short, "metric"), "below", "", MM)
    assert "too short by 400 mm" in found.proposal.problems[0]
    above = hole_entry.from_tapes(LEVEL, tapes_to(LEVEL, 0.0, 200.0), "above", "", MM)
    assert above.proposal.rows == ()
    assert "distance below the transom top" in above.proposal.problems[0]
    flat = hole_entry.from_tapes(LEVEL, tapes_to(LEVEL, 0.0, 8.0), "below", "", MM)
    assert any("cross so flat" in warning for warning in flat.warnings)


def test_only_sides_that_tell_the_places_apart_are_offered():
    upright, slanted = face_of((0.0, 0.0), (0.0, 400.0)), face_of((0.0, 0.0), (300.0, 200.0))
    assert set(hole_entry.sides(LEVEL)) == {"below", "above"}
    assert set(hole_entry.sides(upright)) == {"port", "starboard"}
    assert set(hole_entry.sides(slanted)) == {side.value for side in Side}
    for face, x, y in ((upright, 120.0, 150.0), (slanted, 60.0, 300.0)):
        for side in hole_entry.sides(face):
            found = hole_entry.from_tapes(face, tapes_to(face, x, y), side, "", MM)
            assert found.sentence or found.proposal.problems


def test_what_is_missing_of_the_points_is_named():
    assert hole_entry.missing_points(LEVEL) == ()
    one = TransomFace(point_a_across=taped(0.0))
    assert Address("face", "point_a_across") not in hole_entry.missing_points(one)
    assert len(hole_entry.missing_points(one)) == 3
    assert hole_entry.from_tapes(one, tapes_to(LEVEL, 0, 99), "below", "", MM).sentence == ""


# Drawings --------------------------------------------------------------------------------------


def transom_drawing(unit=4, circles=((200.0, 470.0, "0"), (520.0, 470.0, "bolts"))):
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = unit
    space = doc.modelspace()
    space.add_lwpolyline([(0, 0), (720, 0), (720, 518), (0, 518)], close=True)
    for x, y, layer in circles:
        space.add_circle((x, y), 6.5, dxfattribs={"layer": layer})
    return doc


@pytest.fixture
def saved(tmp_path):
    def save(doc, name="transom.dxf"):
        out = io.StringIO()
        doc.write(out)
        path = tmp_path / name
        path.write_text(out.getvalue(), encoding="utf-8")
        return path

    return save


def places(found, x="", y=""):
    texts = {
        "x": (hole_entry.CENTRE_X, x or f"{found.middle_x_mm} mm"),
        "y": (hole_entry.TOP_Y, y or f"{found.top_y_mm} mm"),
    }
    return read_fields(texts, "metric")


def test_circles_become_holes_from_the_proposed_centreline_and_top(saved):
    found = read_drawing(saved(transom_drawing())).found
    proposal = hole_entry.from_drawing(found, "", places(found))
    assert [(row.across, row.below_top, row.diameter) for row in proposal.rows] == [
        ("-160 mm", "48 mm", "13 mm"),
        ("160 mm", "48 mm", "13 mm"),
    ]
    assert list(hole_entry.layers(found)) == ["", "0", "bolts"]
    only = hole_entry.from_drawing(found, "bolts", places(found, x="360 mm"))
    assert [row.across for row in only.rows] == ["160 mm"]
    assert hole_entry.from_drawing(found, "", read_fields({}, "metric")) == Proposal()


def test_circles_that_cannot_be_holes_are_named_and_left_out(saved):
    doc = transom_drawing(circles=((200.0, 600.0, "0"), (360.0, 200.0, "0")))
    found = read_drawing(saved(doc)).found
    proposal = hole_entry.from_drawing(found, "", places(found))
    assert len(proposal.rows) == 1
    assert "Imported 1, distance below the transom top" in proposal.problems[0]


def test_a_drawing_full_of_circles_is_cut_with_a_note():
    circles = tuple(Circle(float(i % 700), 500.0 - i // 700, 8.0) for i in range(3000))
    box = (0.0, 0.0, 700.0, 518.0)
    found = DrawingFound(circles, "mm", "mm", box, None, ())
    proposal = hole_entry.from_drawing(found, "", places(found))
    assert len(proposal.rows) == hole_entry.MOST_CIRCLES
    assert "3,000 circles" in proposal.notes[0]


def test_without_a_unit_both_sizes_are_told_and_the_answer_is_taken(saved):
    path = saved(transom_drawing(unit=0))
    asked = read_drawing(path)
    assert asked.found is None
    assert "720.0 x 518.0 mm" in asked.unit_asked
    assert "18288" in asked.unit_asked
    assert read_drawing(path, "in").found.box_mm[2] == pytest.approx(720 * 25.4)


def hostile_files(tmp_path):
    doc = ezdxf.new("R2000")
    block = doc.blocks.new("again")
    block.add_blockref("again", (0, 0))
    doc.modelspace().add_blockref("again", (0, 0))
    out = io.StringIO()
    doc.write(out)
    (tmp_path / "again.dxf").write_text(out.getvalue(), encoding="utf-8")
    (tmp_path / "huge.dxf").write_bytes(b"0\nSECTION\n" * (LARGEST_BYTES // 10 + 9))
    (tmp_path / "text.dxf").write_text("Dear builder, the holes are where they were.")
    (tmp_path / "empty.dxf").write_bytes(b"")
    return [*sorted(tmp_path.glob("*.dxf")), tmp_path / "gone.dxf", tmp_path]


def test_a_hostile_or_broken_file_gives_a_sentence(tmp_path):
    for path in hostile_files(tmp_path):
        answer = read_drawing(path)
        assert answer.found is None, path
        assert answer.problem.endswith("."), path
        assert answer.problem[:1] == answer.problem[:1].upper()


def wait(reader):
    end = time.monotonic() + 30.0
    while (answer := reader.answer()) is None:
        assert time.monotonic() < end, "the other process never answered"
        time.sleep(0.01)
    return answer


def test_another_process_reads_and_its_answer_is_the_same(saved):
    path = saved(transom_drawing())
    reader = DrawingReader()
    assert reader.answer() is None
    reader.start(path)
    assert reader.is_reading
    assert wait(reader) == read_drawing(path)
    assert not reader.is_reading


def test_a_process_that_is_cancelled_or_dies_is_gone(saved):
    reader = DrawingReader()
    reader.start(saved(transom_drawing()))
    process = reader._process
    reader.cancel()
    assert not process.is_alive()
    assert reader.answer() is None
    reader.start(Path("nowhere.dxf"))
    reader._process.kill()
    reader._process.join()
    assert "broke off" in wait(reader).problem
    reader.cancel()
