"""Old holes into a job: from rows of texts and from two tapes, with the messages of every entry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.errors import EntryError
from rigfit.records.hole_entry import hole_of, length_mm, taped_hole, with_holes
from rigfit.records.hole_paste import HoleRow, holes_from_pattern
from rigfit.records.job_file import job_text, parse_job
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import Job, Units
from rigfit.rigging.transom_map import TransomFace
from tests.builders import reading, sample_job

CATALOGUE = load_catalogue()
ROW = HoleRow("top", "-163.5 mm", "48 ± 0.5", "1/2 in")
FACE = TransomFace(
    point_a_across=reading(-300.0, 0.5),
    point_a_below=reading(20.0, 0.5),
    point_b_across=reading(300.0, 0.5),
    point_b_below=reading(20.0, 0.5),
)


def test_a_row_becomes_the_hole_it_describes() -> None:
    hole = hole_of(ROW)
    assert (hole.name, hole.across.value, hole.below_top.value) == ("top", -163.5, 48.0)
    assert hole.below_top.tolerance == 0.5
    assert hole.diameter.value == pytest.approx(12.7)


def test_bare_numbers_are_read_in_the_units_of_the_job() -> None:
    inch = replace(sample_job(), units=Units(entries="inch"), holes=())
    assert with_holes(inch, [HoleRow("", "2", "2", "1/2")]).holes[0].across.value == 50.8
    assert length_mm("2", inch) == 50.8
    assert length_mm("-2 mm", sample_job()) == -2.0


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (HoleRow("", "", "48", "13"), ("hole 2", "distance from the centreline", "not filled in")),
        (HoleRow("", "1", "48", "wide"), ("hole 2", "diameter", "wide")),
        (HoleRow("", "1", "-4", "13"), ("hole 2", "below the transom top", "0 mm")),
        (HoleRow("a\nb", "1", "4", "13"), ("hole 2", "U+000A")),
        ({"across": "1", "below_top": "4"}, ("hole 2", "diameter", "not filled in")),
    ],
)
def test_a_row_that_cannot_be_read_is_named_and_nothing_is_added(row, words) -> None:
    with pytest.raises(EntryError) as refused:
        with_holes(sample_job(), [ROW, row])
    assert [word for word in words if word not in refused.value.sentence()] == []


def test_a_job_is_not_filled_beyond_what_its_file_may_hold() -> None:
    full = replace(sample_job(), holes=(hole_of(ROW),) * 20_000)
    with pytest.raises(EntryError, match="20001 holes"):
        with_holes(full, [ROW])


def test_added_holes_stand_behind_the_others_and_can_be_written_and_read() -> None:
    job = replace(parse_job(job_text(Job(), CATALOGUE), "", CATALOGUE, engines_needed=False))
    once = with_holes(job, holes_from_pattern(CATALOGUE.hole_pattern("trade-four-bolt"), 48.0))
    twice = with_holes(once, [ROW])
    assert twice.holes[: len(once.holes)] == once.holes
    text = job_text(twice, CATALOGUE)
    assert parse_job(text, "", CATALOGUE, engines_needed=False).holes == twice.holes


@given(across=st.floats(-600.0, 600.0), below=st.floats(80.0, 600.0))
def test_tapes_held_to_a_hole_find_it_again(across: float, below: float) -> None:
    job = replace(sample_job(), face=FACE)
    tapes = [f"{math.hypot(across - x, below - 20.0):.3f} ± 0.5 mm" for x in (-300.0, 300.0)]
    found = taped_hole(job, "old", tapes[0], tapes[1], diameter="13")
    hole = hole_of(found.row)
    assert hole.across.value == pytest.approx(across, abs=0.2)
    assert hole.below_top.value == pytest.approx(below, abs=0.2)
    # What is typed as a half-width comes to the same expanded tolerance again.
    for typed, known in (
        (hole.across, found.position.across),
        (hole.below_top, found.position.below),
    ):
        assert typed.tolerance * 2.0 / math.sqrt(3.0) == pytest.approx(known.tolerance, abs=0.12)


def test_without_both_fixed_points_there_is_nothing_to_tape_from() -> None:
    with pytest.raises(EntryError, match="two fixed points"):
        taped_hole(replace(sample_job(), face=replace(FACE, point_b_below=None)), "", "400", "400")


@pytest.mark.parametrize(("first", "second"), [("x", "400"), ("400", ""), ("9 m", "400")])
def test_a_tape_that_cannot_be_read_is_named(first: str, second: str) -> None:
    with pytest.raises(EntryError, match=r"tape to the (first|second) fixed point"):
        taped_hole(replace(sample_job(), face=FACE), "", first, second)
