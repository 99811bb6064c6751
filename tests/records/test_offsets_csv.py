"""Tables of offsets: any separator, headings and units; slips named by row or station."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.errors import EntryError
from rigfit.records.offset_entry import with_offsets
from rigfit.records.offsets_csv import parse_offsets
from rigfit.records.pasted import LARGEST_BYTES, MOST_ROWS
from rigfit.rigging.flotation import Plane, displaced
from rigfit.rigging.hull_form import sections_form
from rigfit.rigging.hull_readings import measured_sections
from tests.builders import sample_job

# A prism: the same triangle, 1800 wide and 400 high, at four stations.
PRISM = [(x, z, 900.0 * z / 400.0) for x in (0, 1500, 3000, 4500) for z in (0, 200, 400)]


def text_of(rows=PRISM, mark=",", head="") -> str:
    lines = [mark.join(f"{number:g}" for number in row) for row in rows]
    return "\n".join([head, *lines] if head else lines)


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_any_usual_separator_is_read(mark: str) -> None:
    table = parse_offsets(text_of(mark=mark))
    assert table.problems == ()
    assert len(table.rows) == len(PRISM)
    assert table.rows[1].half_breadth == "450"


def test_the_hull_of_a_table_displaces_what_its_closed_form_says() -> None:
    table = parse_offsets(text_of())
    form = sections_form(measured_sections(table.offsets, ()), 4500.0)
    wet = displaced(form, Plane(200.0))
    assert wet.volume == pytest.approx(4500.0 * 900.0 * 200.0 / 2.0)


@pytest.mark.parametrize(
    "headings",
    ["half breadth (cm);station [m];waterline (mm)", "half breadth cm;station_m;waterline, MM"],
)
def test_headings_may_stand_in_any_order_with_units(headings: str) -> None:
    rows = [(y / 10.0, x / 1000.0, z) for x, z, y in PRISM]
    table = parse_offsets(text_of(rows, ";", headings), "inch")
    plain = parse_offsets(text_of())
    for one, other in zip(table.offsets, plain.offsets, strict=True):
        assert one.ahead is not None
        assert other.ahead is not None
        assert one.ahead.value == pytest.approx(other.ahead.value)
        assert one.half_breadth is not None
        assert other.half_breadth is not None
        assert one.half_breadth.value == pytest.approx(other.half_breadth.value)


def test_numbers_without_units_follow_the_job() -> None:
    table = parse_offsets("0,0,0\n0,10,20\n50,0,0\n50,10,20\n100,0,0\n100,10,5", "inch")
    assert table.offsets[1].half_breadth is not None
    assert table.offsets[1].half_breadth.value == pytest.approx(508.0)


@given(st.permutations(PRISM))
def test_the_order_of_rows_does_not_matter(rows: list) -> None:
    assert parse_offsets(text_of(rows)).rows == parse_offsets(text_of()).rows


@pytest.mark.parametrize(
    ("text", "place", "word"),
    [
        ("", "offsets", "empty"),
        ("station;height\n0;0", "offsets", "half breadth"),
        (text_of() + "\n5000,abc,3", "row 13", "height above"),
        (text_of() + "\n5000,100", "row 13", "not filled in"),
        (text_of() + "\n5000,0,-20", "row 13", "too small"),
        (text_of(PRISM[:6]), "offsets", "2 stations"),
        (text_of([*PRISM, (6000, 0, 0)]), "station 6000 mm", "one height"),
        (text_of([*PRISM, (0, 200, 460)]), "station 0 mm", "more than once"),
        (text_of([row for row in PRISM if row[:2] != (0, 0)]), "station 0 mm", "does not close"),
    ],
    ids=["empty", "no column", "no number", "short row", "negative", "two stations",
         "one height", "twice", "open bottom"],
)  # fmt: skip
def test_slips_are_named_with_their_place(text: str, place: str, word: str) -> None:
    problems = [str(problem) for problem in parse_offsets(text).problems]
    assert any(place in problem and word in problem for problem in problems), problems


def test_a_flat_bottom_may_begin_on_the_centreline() -> None:
    rows = [(x, z, y) for x in (0, 1000, 2000) for z, y in ((0, 0), (0, 600), (400, 700))]
    assert parse_offsets(text_of(rows)).problems == ()


def test_too_much_is_refused_unread() -> None:
    assert parse_offsets("0,0,0\n" * (MOST_ROWS + 2)).rows == ()
    assert "too large" in str(parse_offsets("1" * (LARGEST_BYTES + 1)).problems[0])


@pytest.mark.parametrize("cell", ["9" * 200_000, '"0'], ids=["endless", "open quote"])
def test_a_cell_nobody_can_read_is_named_by_its_own_row(cell: str) -> None:
    found = parse_offsets(f"{text_of()}\n{cell},600,700\n1,2,3")
    assert str(found.problems[0]).startswith(f"row {len(text_of().splitlines()) + 1}, ")
    assert [row.ahead for row in found.rows].count("1") == 1


@given(st.text(max_size=200))
def test_no_text_breaks_it(text: str) -> None:
    table = parse_offsets(text)
    assert len(table.rows) == len(table.offsets)
    assert table.rows or table.problems


def test_the_same_table_twice_says_that_the_job_has_it_already() -> None:
    job, _ = with_offsets(sample_job(), text_of(), "a.csv")
    with pytest.raises(EntryError, match="offsets the job has already") as caught:
        with_offsets(job, text_of(), "a.csv")
    assert "take the [[offset]] tables out" in str(caught.value)


def test_a_heading_without_the_columns_says_how_to_head_them() -> None:
    (problem,) = parse_offsets("a,b\n1,2\n").problems
    assert 'head the columns "station", "height" and "half breadth"' in problem.sentence()
