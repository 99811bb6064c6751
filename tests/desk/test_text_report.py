"""The text of everything holds every input, finding and height, in lines to be read out."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.desk.actions import keys_page
from rigfit.desk.draft import FIELDS, LIST_FIELDS
from rigfit.desk.form_state import Address, Draft, derive
from rigfit.desk.text_report import keys_text, whole_text
from rigfit.plain_report import WIDTH
from rigfit.records.job_file import parse_job
from rigfit.records.profiles import demo_job_text, load_catalogue
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.wording import CAUTIONS, say, shown

CATALOGUE = load_catalogue()
DEMO = Draft.from_job(parse_job(demo_job_text(), "dunlin.toml", CATALOGUE))
RAKE = Address("transom", "rake")


def text_of(draft: Draft, engine: str = "") -> str:
    return whole_text(derive(draft, CATALOGUE, engine))


def flat(text: str) -> str:
    """Return a text without its line breaks and indents."""
    return " ".join(text.split())


@pytest.mark.parametrize("engine", ["A", "B", "C", "D"])
@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_findings_working_heights_and_cautions_are_all_in_it(engine, lengths):
    derived = derive(DEMO.with_text(Address("units", "lengths"), lengths), CATALOGUE, engine)
    text, report = flat(whole_text(derived)), derived.report
    style = shown(derived.job.units)
    for finding in report.findings:
        assert say(finding.sentence, style) in text
        for line in finding.working:
            assert say(line, style) in text
        if finding.settle:
            assert say(finding.settle, style) in text
    assert "off target" in text
    for option in report.options:
        assert f" {option.row} " in text
    for caution in CAUTIONS:
        assert caution in text


def test_every_field_has_its_label_and_what_was_typed():
    whole = text_of(DEMO)
    headings = [heading for _, heading, _ in GROUPS] + [heading for _, _, heading, _ in LISTS]
    places = [whole.rindex(f"\n{heading}\n") for heading in headings]
    assert places == sorted(places)
    text = flat(whole)
    for address in DEMO.addresses():
        assert f"{address.spec.label}: " in text
        typed = DEMO.text(address).strip().replace("±", "+/-")
        assert typed in text


def test_what_was_understood_stands_beside_with_its_tolerance():
    text = text_of(DEMO.with_text(RAKE, "13"))
    assert "rake of the transom: 13° (usual +/- 1°)" in text
    assert "what you call it: the sailing-school engine\n" in text
    assert "leg length as stated: 20 in = 508 mm\n" in text
    assert "transom height along the face: 518 +/- 3 mm = 518 mm +/- 3 mm" in text


def test_an_empty_field_says_that_nothing_was_measured():
    text = text_of(DEMO.with_text(RAKE, ""))
    assert "rake of the transom: not measured" in text
    assert "chosen bolt row: not decided" in text_of(DEMO.with_text(Address("mounting", "row"), ""))
    assert "name of the boat: not filled in" in text_of(
        DEMO.with_text(Address("boat", "name"), " ")
    )


def test_a_wrong_entry_is_there_as_typed_with_its_message():
    draft = DEMO.with_text(RAKE, "quite a lot")
    derived = derive(draft, CATALOGUE)
    text = flat(whole_text(derived))
    assert "rake of the transom: quite a lot ! " in text
    assert "Not in this report" in text
    message = derived.messages[RAKE].replace("±", "+/-").replace("“", '"').replace("”", '"')
    assert text.count(message) == 2


def test_the_other_engines_have_a_line_each():
    text = text_of(DEMO.add_engine("E"), "B")
    lines = text.splitlines()
    at = lines.index("All engines")
    begun = [line.split()[0] for line in lines[at + 2 : at + 12] if line]
    assert {"A", "B", "C", "D", "E:"} <= set(begun)
    assert "E: no answer. Fill in the engine class" in text


def test_without_an_answer_it_says_why_and_still_has_every_input():
    text = text_of(Draft.new("Sandpiper"))
    assert text.startswith("No answer yet\n")
    assert "Fill in the engine class" in text
    assert "name of the boat: Sandpiper" in text
    assert text_of(Draft()).count("Everything typed") == 1


def test_lines_are_short_and_plain():
    for engine in "ABCD":
        text = text_of(DEMO.with_text(Address("units", "lengths"), "in"), engine)
        assert max(len(line) for line in text.splitlines()) <= WIDTH
        assert {char for char in text if ord(char) > 126} <= {"°", "·"}
        assert "\n\n\n" not in text


CELLS = [(table, name) for table, fields in FIELDS.items() for name, _ in fields]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(CELLS), st.text(max_size=90)), max_size=4))
def test_nothing_typed_can_break_it(edits):
    draft = DEMO
    for table in set(LIST_FIELDS) - {"engine"}:
        draft = draft.add_row(table)
    for (table, name), text in edits:
        draft = draft.with_text(Address(table, name, 0 if table in LIST_FIELDS else -1), text)
    said = text_of(draft)
    assert said.endswith("\n")
    for table, name in CELLS:
        assert FIELDS[table][[key for key, _ in FIELDS[table]].index(name)][1].label in flat(said)


# The page of keys ------------------------------------------------------------------------------


@pytest.mark.parametrize("platform", ["linux", "darwin"])
def test_every_key_of_every_action_is_on_the_page(platform):
    page = keys_text(platform)
    for keys, label, sentence in keys_page(platform):
        assert keys in page
        assert f"{label.removesuffix('...')}: {sentence}" in flat(page)
    assert max(len(line) for line in page.splitlines()) <= WIDTH


@pytest.mark.parametrize(
    "wanted",
    ["How to measure it", "Take back what was typed", "In a table", "In the list of findings",
     "In the drawing", "Turn the order round", "? unknown", "With the keyboard alone"],
)  # fmt: skip
def test_the_keys_of_every_place_are_told(wanted):
    assert wanted in keys_text("linux")


def test_the_new_tables_are_in_it_row_by_row_and_by_name():
    draft = DEMO
    lists = ("opening", "no_go", "dash", "obstacle", "mass", "mark", "station", "offset")
    for table in lists:
        draft = draft.add_row(table, **{name: spec.example for name, spec in FIELDS[table]})
    singles = (
        "face", "neighbour", "bolting", "printer", "well", "steering", "trailer", "plate", "hull",
    )  # fmt: skip
    for table in singles:
        for name, spec in FIELDS[table]:
            draft = draft.with_text(Address(table, name), spec.example)
    text = text_of(draft)
    for heading in (
        "  Opening 1\n",
        "  Place inside 1\n",
        "  Cut-out 1\n",
        "  Hole 4\n",
        "  Obstacle 1\n",
        "  Load 1\n",
    ):
        assert heading in text
    assert "name of the place: port knee" in text
    assert "tightening torque the engine's maker gives: 75 N·m" in text
    assert "inside width of the well: 840 mm" in text
    assert "its side view, as points: 420, -50; 560, -50; 560, 310; 470, 310" in text
    assert "travel of the rod or cylinder, each way: 100 mm" in text
    assert "axle to transom: 1.1 m" in text
    assert "the 100 mm bar across the sheet measures: 100 mm" in text
    for caution in CAUTIONS:
        assert caution in flat(text)
    for words in ("name of the load: fuel, midships", "beam between the chines: 1.65 m"):
        assert words in flat(text)
    lacking = text_of(DEMO.add_row("station", ahead="1 m"))
    assert "section 1 is left out" in flat(lacking)
    lacking = text_of(DEMO.add_row("no_go", name="port knee"))
    assert 'place inside "port knee" is left out' in flat(lacking)
