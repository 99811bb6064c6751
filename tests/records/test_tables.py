"""CSV that a spreadsheet shows and never runs."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.records.tables import to_csv

STARTS = "=+-@\t\r\n"


def read_back(text):
    return list(csv.reader(io.StringIO(text, newline="")))


def test_a_plain_table():
    text = to_csv(["engine", "plate mm"], [["A", -12.5], ["B", 7], ["C", None]])
    assert text == "engine,plate mm\r\nA,-12.5\r\nB,7\r\nC,\r\n"


@pytest.mark.parametrize(
    "cell",
    [
        '=HYPERLINK("x")',
        "+1+1",
        "-2+3",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\n=1",
        "=1",
        "＝1+1",
        " =1",
        "-",
        "+27 kn",
    ],
)
def test_what_would_run_is_held_by_an_apostrophe(cell):
    assert read_back(to_csv(["name"], [[cell]]))[1] == [f"'{cell}"]


@pytest.mark.parametrize("cell", ["-12.5", "+3", "-1e-3", "508", "-0,5", "+.5", " -4 "])
def test_numbers_typed_as_text_stay_as_they_are(cell):
    assert read_back(to_csv(["n"], [[cell]]))[1] == [cell]


def test_headings_are_made_safe_too():
    assert to_csv(["=1"], []) == "'=1\r\n"


@pytest.mark.parametrize("cell", ['20 3/8"', "a,b", "two\nlines", "5.2 m", "Dunlin"])
def test_quotes_commas_and_line_ends_come_back(cell):
    assert read_back(to_csv(["a", "b"], [[cell, "x"]]))[1] == [cell, "x"]


@pytest.mark.parametrize("row", [[], ["a"], ["a", "b", "c"]])
def test_a_row_of_the_wrong_length_is_an_error(row):
    with pytest.raises(ValueError, match=f"{len(row)} cells under 2 headings"):
        to_csv(["a", "b"], [row])


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\x00")))
def test_no_text_ever_begins_with_a_formula_sign(cell):
    shown = read_back(to_csv(["a", "b"], [[cell, ""]]))[1][0]
    number = cell.strip().lstrip("+-").replace(".", "0").replace(",", "0")[:1].isascii()
    assert shown in (cell, f"'{cell}")
    if shown.lstrip(" ").startswith(tuple(STARTS)):
        assert number
        assert any(char.isdigit() for char in shown)
        assert not any(char in shown for char in "=@(")
