"""Old holes pasted from a spreadsheet, or taken from a pattern that is known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.records.hole_paste import HoleRow, holes_from_pattern, parse
from rigfit.records.pasted import MOST_PROBLEMS, MOST_ROWS
from rigfit.units import Kind, parse_entry
from tests.builders import CATALOGUE

PATTERN = CATALOGUE.hole_pattern("four-bolt")
ROW = HoleRow("old top", "-163.5", "48", "13.5")


def said(text: str, entries: str = "metric") -> str:
    """Return all problems of a paste as one text; there must be one."""
    problems = parse(text, entries).problems
    assert problems
    return " ".join(problem.sentence() for problem in problems)


@pytest.mark.parametrize("mark", ["\t", ";", ","])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_cells_are_parted_by_tabs_semicolons_or_commas(mark: str, end: str) -> None:
    line = mark.join(("old top", "-163.5", "48", "13.5"))
    found = parse(end.join((line, line, "")))
    assert found.problems == ()
    assert found.rows == (ROW, ROW)


@pytest.mark.parametrize(
    ("heading", "line"),
    [
        ("name\tacross\tbelow\tdia", "old top\t-163.5\t48\t13.5"),
        ("dia\tbelow top\tacross\tname", "13.5\t48\t-163.5\told top"),
        ("Hole;Left-right;Down;Diameter", "old top;-163.5;48;13.5"),
        ("label,y,x,ø", "old top,48,-163.5,13.5"),
        ("remark,hole,distance from the centreline,distance below the transom top,diameter of it",
         "wet,old top,-163.5,48,13.5"),
    ],
)  # fmt: skip
def test_headings_put_the_columns_in_any_order(heading: str, line: str) -> None:
    found = parse(f"{heading}\n{line}\n")
    assert found.problems == ()
    assert found.rows == (ROW,)


def test_without_headings_three_columns_are_across_below_and_diameter() -> None:
    assert parse("-163.5\t48\t13.5").rows == (HoleRow("", "-163.5", "48", "13.5"),)


@pytest.mark.parametrize("mark", ["\t", ";"])
def test_decimal_commas_become_points(mark: str) -> None:
    lines = ("old top", "-163,5", "48", "13,5"), ("next", "1,234", "0,5", "13,5")
    found = parse("\n".join(mark.join(cells) for cells in lines))
    assert found.problems == ()
    assert found.rows == (ROW, HoleRow("next", "1.234", "0.5", "13.5"))


def test_a_number_that_can_be_read_two_ways_is_refused_where_nothing_settles_it() -> None:
    assert "two ways" in said("1,234\t48\t13")


def test_thousands_marks_beside_points_are_not_guessed_at() -> None:
    found = parse("old\t-163.5\t48\t13.5\nnew\t1,234\t48\t13.5")
    assert found.rows == (HoleRow("old", "-163.5", "48", "13.5"),)
    assert "row 2" in found.problems[0].sentence()


@pytest.mark.parametrize(
    "headings", ["across (in)\tdown [mm]\tdia (in)", "across in\tdown mm\tdia, in"]
)
def test_units_in_headings_and_cells_are_kept(headings: str) -> None:
    found = parse(f"{headings}\n-6 7/16 in\t48\t0.53\n")
    assert found.problems == ()
    row = found.rows[0]
    assert (row.across, row.below_top, row.diameter) == ("-6 7/16 in", "48 mm", "0.53 in")


def test_inches_typed_with_a_sign_and_quoted_by_the_spreadsheet_are_read() -> None:
    found = parse('top\t-6 7/16"\t"1 7/8"""\t17/32"', "inch")
    assert found.problems == ()
    assert found.rows[0].below_top == '1 7/8"'


def test_bare_numbers_follow_the_units_of_the_job() -> None:
    assert parse("-6.4\t1.9\t0.53", "inch").problems == ()
    assert "diameter of the hole" in said("-163.5\t48\t0.53", "metric")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a\t-163.5\t48\t0", ("row 1", "diameter of the hole", "too small")),
        ("a\t-163.5\t48\t13.5\nb\t9999\t48\t13.5", ("row 2", "distance from the centreline")),
        ("a\t-163.5\t\t13.5", ("row 1", "distance below the transom top", "not filled in")),
        ("across\tdown\tdia\n1\t2\tx", ("row 2", "diameter")),
        ("1\t2", ("row 1", "2 columns")),
        ("1\t2\t3\t4\t5", ("row 1", "5 columns")),
        ("across\tdown\n1\t2", ("headings", "diameter")),
        ("some words\nmore words", ("headings",)),
        ("", ("nothing was pasted",)),
        (" \n\t\n", ("nothing was pasted",)),
        ("a\x07b\t1\t2\t13", ("row 1", "cannot be printed")),
    ],
)
def test_each_slip_is_a_sentence_that_names_the_row(text: str, words: tuple[str, ...]) -> None:
    sentence = said(text)
    for word in words:
        assert word in sentence


def test_good_rows_are_kept_beside_bad_ones() -> None:
    found = parse("a\t1\t2\t13\nb\tx\t2\t13\nc\t3\t4\t13")
    assert [row.name for row in found.rows] == ["a", "c"]
    assert len(found.problems) == 1


def test_too_many_rows_or_too_much_text_is_refused() -> None:
    row = "a\t1\t2\t13\n"
    assert len(parse(row * MOST_ROWS).rows) == MOST_ROWS
    assert str(MOST_ROWS) in said(row * (MOST_ROWS + 2))
    assert "too large" in said("x" * 1_000_001)


def test_after_very_many_slips_the_rest_is_not_looked_at() -> None:
    assert len(parse("a\tx\t2\t13\n" * 200).problems) == MOST_PROBLEMS


@given(st.text(max_size=300))
def test_no_text_at_all_raises(text: str) -> None:
    found = parse(text)
    assert found.rows or found.problems


@given(
    st.lists(
        st.tuples(st.floats(-1700, 1700), st.floats(0, 1000), st.floats(2, 200)),
        min_size=1,
        max_size=8,
    ),
    st.sampled_from("\t;"),
    st.booleans(),
)
def test_numbers_come_back_as_they_were_written(
    holes: list[tuple[float, float, float]], mark: str, comma: bool
) -> None:
    lines = [mark.join(f"{value:.1f}" for value in hole) for hole in holes]
    text = "\n".join(lines)
    found = parse(text.replace(".", ",") if comma else text)
    assert found.problems == ()
    for row, hole in zip(found.rows, holes, strict=True):
        read = [parse_entry(item, Kind.LENGTH).value for item in (row.across, row.below_top)]
        assert read == pytest.approx(list(hole[:2]), abs=0.05001)


# ------------------------------------------------------------------- a known pattern


def test_a_known_pattern_gives_four_rows_with_their_unit() -> None:
    rows = holes_from_pattern(PATTERN, 48.0, 0.0125)
    assert rows[0] == HoleRow("old upper port", "-163.5 mm", "48 mm", "13.5 mm")
    assert rows[3] == HoleRow("old lower starboard", "125.425 mm", "251.2 mm", "13.5 mm")


@given(st.floats(20.0, 400.0), st.floats(-500.0, 500.0))
def test_a_known_pattern_can_be_pasted_again_whatever_the_units(top: float, centre: float) -> None:
    rows = holes_from_pattern(PATTERN, top, centre)
    text = "\n".join("\t".join((r.name, r.across, r.below_top, r.diameter)) for r in rows)
    assert parse(text, "inch").rows == rows


@pytest.mark.parametrize("text", ["a\t" + "7" * 200_000, '"' * 200_001, "\x00\t1\t2"])
def test_no_text_is_too_odd_to_be_answered(text):
    pasted = parse(text, "metric")
    assert pasted.rows == ()
    assert pasted.problems
