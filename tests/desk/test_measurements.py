"""The measurements panel: what is typed reaches the boat, and what the boat holds is seen."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.desk.draft import FIELDS, GROUP_KEYS, LIST_FIELDS, Address, Draft
from rigfit.desk.how_to_pictures import HEIGHT, MOST_KEPT, WIDTH, HowToPictures
from rigfit.desk.kit import theme
from rigfit.desk.kit.fields import LONGEST, ChoiceRow, FieldRow
from rigfit.desk.measurement_groups import ROWS_SHOWN, filled_in
from rigfit.desk.measurement_rows import (
    CHOSEN_ENGINE,
    choices_of,
    help_words,
    is_choice,
    stepped,
    unit_behind,
)
from rigfit.desk.measurements import LISTED, ORDER, MeasurementsPanel
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Change, Workbench
from rigfit.drawing.how_to import PICTURES
from rigfit.errors import EntryError
from rigfit.records.profiles import load_catalogue
from rigfit.units import INCH, METRIC, Kind, Shown, from_base, parse_entry
from tests.desk.harness import (
    click,
    faults,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
    type_text,
    wait_for,
    walk,
)

HEIGHT_FACE = Address("transom", "height_along_face")
RAKE = Address("transom", "rake")
HULL = Address("boat", "hull_kind")
NAME = Address("boat", "name")
NONSENSE = "518 mm of tape, which somebody read to me over the telephone"


@pytest.fixture
def bench(tmp_path):
    return Workbench(load_catalogue(), Settings(), tmp_path)


@pytest.fixture
def panel(root, bench):
    return placed(root, bench)


@pytest.fixture
def demo(panel, bench):
    bench.begin_demo()
    settle(panel)
    return panel


def placed(root, bench, width=384, height=700):
    panel = MeasurementsPanel(root, bench)
    scale = theme.scale()
    panel.place(x=0, y=0, width=round(width * scale), height=round(height * scale))
    return panel


def open_all(panel):
    for group in panel.groups.values():
        group.section.unfold()
    settle(panel)


def row_of(panel, address):
    line = panel.groups[address.table].line(address)
    assert line is not None, f"no row shows {address}"
    return line.row


def put_in(panel, address):
    """Put the cursor into a field as a click does, and wait until it is there."""
    panel.go_to(address)
    settle(panel)
    return row_of(panel, address)


def note(panel, table):
    return str(panel.groups[table].section._note.cget("text"))


def furnish(bench, count=1):
    """Add rows to the repeated tables that the demo boat has none of, as their examples say."""
    for table in LISTED - {"hole"}:
        examples = {name: spec.example for name, spec in FIELDS[table]}
        bench.add_rows(table, [examples] * count)


def first_engine(field, index=0):
    return Address("engine", field, index)


# Every field -----------------------------------------------------------------------------------


def test_the_order_names_every_table_that_is_measured_once():
    assert set(ORDER) == {*GROUP_KEYS, *LIST_FIELDS}
    assert len(set(ORDER)) == len(ORDER)


def test_every_field_has_a_row_once_its_section_is_open(demo, bench):
    furnish(bench, 2)
    open_all(demo)
    for table in ORDER:
        indices = range(len(bench.draft.rows(table))) if table in LISTED else [-1]
        for index in [bench.engine_index] if table == "engine" else indices:
            for name, spec in FIELDS[table]:
                row = row_of(demo, Address(table, name, index))
                assert row.winfo_viewable()
                assert str(row._label.cget("text")) == spec.label
                assert isinstance(row, ChoiceRow) == is_choice(Address(table, name, index))


def test_every_text_of_the_boat_is_seen_as_typed(demo, bench):
    furnish(bench)
    open_all(demo)
    for group in demo.groups.values():
        for line in group.lines:
            text = bench.draft.text(line.address)
            if isinstance(line.row, FieldRow):
                assert line.row.text == text
            elif text:
                assert line.row.chosen == text


def test_rows_of_a_folded_section_are_made_when_it_is_first_opened(demo):
    keel = demo.groups["keel_line"]
    assert not keel.lines
    click(keel.section._title)
    assert len(keel.lines) == 5
    made = list(keel.lines)
    keel.section.fold()
    keel.section.unfold()
    assert keel.lines == made


def test_a_folded_section_is_up_to_date_when_it_is_opened(demo, bench):
    keel = demo.groups["keel_line"].section
    keel.unfold()
    keel.fold()
    bench.type(Address("keel_line", "gap_0"), "7")
    keel.unfold()
    assert row_of(demo, Address("keel_line", "gap_0")).text == "7"


def test_what_is_needed_starts_open_and_what_is_empty_folded(panel, bench):
    bench.begin()
    wait_for(panel, lambda: not panel.is_opening)  # those below the first screen open later
    opened = {table for table, group in panel.groups.items() if group.section.is_open}
    assert opened == {"boat", "transom", "engine"}
    bench.begin_demo()
    wait_for(panel, lambda: not panel.is_opening)
    assert panel.groups["mounting"].section.is_open
    assert not panel.groups["bracket"].section.is_open


def test_what_was_folded_by_hand_stays_folded_with_another_boat(demo, bench):
    demo.groups["transom"].section.focus_set()
    press_key(demo, "space")
    click(demo.groups["units"].section._title)
    demo.go_to(Address("keel_line", "gap_0"))
    bench.begin_demo()
    is_open = {table: group.section.is_open for table, group in demo.groups.items()}
    assert not is_open["transom"]
    assert is_open["units"]
    assert not is_open["keel_line"]


# Typing ----------------------------------------------------------------------------------------


def test_every_key_reaches_the_boat_and_undo_takes_the_field_back_as_one_step(demo, bench, root):
    take_keyboard(root)
    row = put_in(demo, HEIGHT_FACE)
    seen = []
    bench.listen(lambda _change: seen.append(bench.draft.text(HEIGHT_FACE)))
    type_text(root, "20 3/8 in")
    assert seen[-9:] == ["20 3/8 in"[:length] for length in range(1, 10)]
    assert row.text == "20 3/8 in"
    bench.undo()
    assert row.text == "518 ± 3 mm"


def test_a_wrong_entry_gets_its_message_at_once_and_loses_it_at_once(demo, bench, root):
    take_keyboard(root)
    row = put_in(demo, HEIGHT_FACE)
    type_text(root, "5")
    assert row.message == bench.derived.messages[HEIGHT_FACE]
    assert row._tone == "error"
    assert note(demo, "transom") == "1 to put right"
    type_text(root, "18")
    assert row.message == "518 mm (usual ± 3 mm)"
    assert row._tone == "note"
    assert note(demo, "transom") == "6 of 6"


def test_a_whole_message_is_read_once_the_field_is_left(demo, root):
    take_keyboard(root)
    row = put_in(demo, RAKE)
    type_text(root, "13 mm")
    settle(demo)
    press_key(root, "Tab")
    settle(demo)
    assert row._line.cget("text") == row.message
    assert faults(root) == []


@pytest.mark.parametrize(
    ("text", "unit", "under"),
    [
        ("518", "mm", "518 mm (usual ± 3 mm)"),
        ("518 ± 2", "mm", ""),
        ("518 ± 2 mm", "", ""),
        ("20 3/8 in", "", "518 mm (usual ± 3 mm)"),
        ("51.8 cm ± 1 mm", "", "518 mm ± 1 mm"),
        ("", "mm", ""),
    ],
)
def test_what_was_understood_and_how_certain_it_is_stands_under_the_field(
    demo, bench, text, unit, under
):
    bench.type(Address("transom", "height_square"), text)
    row = row_of(demo, Address("transom", "height_square"))
    assert row.text == text
    assert row._echo.cget("text") == unit
    assert row.message == under


def test_inches_change_what_is_said_but_not_what_was_typed(demo, bench):
    row = row_of(demo, Address("transom", "height_square"))
    bench.set_units(lengths="in")
    assert row.text == "505 mm"
    assert row.message == "19 7/8 in (505 mm, usual ± 3 mm)"
    bench.type(Address("transom", "height_square"), "")
    bench.set_units(entries="inch")
    assert row._echo.cget("text") == "in"


@pytest.mark.parametrize(
    ("text", "kind", "entries", "unit"),
    [
        ("", Kind.ANGLE, "metric", "°"),
        ("13", Kind.ANGLE, "inch", "°"),
        ("13 deg", Kind.ANGLE, "metric", ""),
        ("1' 8", Kind.LENGTH, "inch", ""),
        ("20 3/8", Kind.LENGTH, "inch", "in"),
        ("160", Kind.MASS, "inch", "lb"),
        ("2", Kind.COUNT, "metric", ""),
    ],
)
def test_the_unit_behind_a_number_is_the_one_it_will_be_read_in(text, kind, entries, unit):
    assert unit_behind(text, kind, entries) == unit


def test_a_book_is_kept_only_to_a_point_and_says_so(demo, bench, root):
    take_keyboard(root)
    row = put_in(demo, NAME)
    root.clipboard_clear()
    root.clipboard_append("Dun\nlin " * 700_000)
    row.keys_to.event_generate("<<Paste>>")
    kept = bench.draft.text(NAME)
    assert len(kept) == LONGEST
    assert kept.startswith("Dun lin Dun lin")
    assert row.message.startswith("Only the first 4,000 characters")
    assert bench.derived.messages[NAME] in row.message
    assert note(demo, "boat") == "1 to put right"
    press_key(root, "BackSpace")
    assert row.message == bench.derived.messages[NAME]


def test_undo_keys_are_left_to_the_window(demo, root):
    heard = []
    root.bind("<Control-z>", lambda _event: heard.append("undo"))
    take_keyboard(root)
    row = put_in(demo, NAME)
    type_text(root, "x")
    press_key(root, "Control-z")
    assert heard == ["undo"]
    assert row.text == "x"


# Needed fields ---------------------------------------------------------------------------------


def test_a_new_form_is_quiet_but_says_what_is_needed_in_words(panel, bench, root):
    bench.begin()
    settle(panel)
    rows = [row_of(panel, address) for address in (HULL, HEIGHT_FACE, RAKE)]
    rows.append(row_of(panel, first_engine("engine_class")))
    assert {(row.message, row._tone) for row in rows} == {("needed", "note")}
    assert {row._outline.alert for row in rows[1:3]} == {"warn"}
    assert row_of(panel, Address("transom", "thickness"))._outline.alert == ""
    assert row_of(panel, Address("transom", "thickness")).message == ""
    notes = [note(panel, table) for table in ("boat", "transom", "engine", "target", "hole")]
    assert notes == ["1 needed", "2 needed", "1 needed", "optional", "none"]


def test_a_table_in_which_somebody_types_says_what_it_lacks(panel, bench, root):
    bench.begin()
    take_keyboard(root)
    put_in(panel, HEIGHT_FACE)
    type_text(root, "518")
    rake, hull = row_of(panel, RAKE), row_of(panel, HULL)
    assert rake._tone == "warn"
    assert "rake of the transom" in rake.message
    assert (hull.message, hull._tone) == ("needed", "note")
    assert note(panel, "transom") == "1 needed"
    put_in(panel, first_engine("power"))
    type_text(root, "8")
    missing = first_engine("engine_class")
    assert row_of(panel, missing).message == bench.derived.missing[missing]
    press_key(root, "BackSpace")
    assert row_of(panel, missing)._tone == "warn"
    bench.begin()
    assert (rake.message, rake._tone) == ("needed", "note")


def test_only_what_is_not_the_default_counts_as_filled_in():
    draft = Draft.new().with_text(Address("bracket", "kind"), "none")
    assert filled_in("bracket", draft.rows("bracket")[0]) == 0
    draft = draft.with_text(Address("bracket", "height"), "x")
    assert filled_in("bracket", draft.rows("bracket")[0]) == 1


# Choices ---------------------------------------------------------------------------------------


def test_profiles_are_chosen_by_name_and_kept_by_key(demo, bench, root):
    take_keyboard(root)
    row = put_in(demo, HULL)
    assert row.choice._word.cget("text") == "planing vee bottom"
    press_key(root, "Down")
    assert bench.draft.text(HULL) == "planing-modern"
    assert row.message == "planing vee bottom, modern and fast"
    press_key(root, "Up", "Up")
    assert bench.draft.text(HULL) == ""
    assert row.choice._word.cget("text") == "not chosen"
    assert row.choice.alert == "warn"


def test_an_unknown_word_is_shown_as_it_is_with_its_message(demo, bench):
    bench.type(HULL, "planing\nwee")
    row = row_of(demo, HULL)
    assert "planing" in row.choice._word.cget("text")
    assert "\n" not in row.choice._word.cget("text")
    assert row.message == bench.derived.messages[HULL]
    assert bench.draft.text(HULL) == "planing\nwee"


def test_a_blank_choice_shows_its_default_where_it_has_one(demo, bench):
    kind = Address("bracket", "kind")
    open_all(demo)
    bench.type(kind, "")
    assert row_of(demo, kind).chosen == "none"
    assert "" not in choices_of(bench, kind)


def test_the_chosen_engine_is_one_of_those_there_are(demo, bench):
    row = row_of(demo, CHOSEN_ENGINE)
    assert row.chosen == "B"
    assert list(choices_of(bench, CHOSEN_ENGINE)) == ["", "A", "B", "C", "D"]
    bench.add_engine()
    assert "E" in choices_of(bench, CHOSEN_ENGINE)
    assert row.choice._choices["E"] == "E"
    row.choice.choose("E")
    assert bench.draft.text(CHOSEN_ENGINE) == "E"
    bench.type(CHOSEN_ENGINE, "Z")
    assert row.chosen == "Z"
    assert row.message == bench.derived.messages[CHOSEN_ENGINE]


def test_units_are_for_this_boat_and_the_next(demo, bench):
    demo.groups["units"].section.unfold()
    assert note(demo, "units") == "metric, mm, kn"
    row_of(demo, Address("units", "lengths")).choice.choose("in")
    assert note(demo, "units") == "metric, in, kn"
    assert bench.settings.lengths == "in"
    assert bench.style.lengths == "in"


# Stepping --------------------------------------------------------------------------------------


def test_arrows_step_a_number_in_its_own_unit(demo, bench, root):
    take_keyboard(root)
    row = put_in(demo, first_engine("leg_measured", 1))
    press_key(root, "Up")
    assert row.text == bench.draft.text(row_address(demo, row)) == "21 1/4 in ± 1/8 in"
    press_key(root, "Shift-Down")
    assert row.text == "11 1/4 in ± 1/8 in"
    assert row.message == bench.derived.messages[first_engine("leg_measured", 1)]


def row_address(panel, row):
    return next(line.address for line in panel.groups["engine"].lines if line.row is row)


@pytest.mark.parametrize(
    ("text", "up"),
    [
        ("518 mm", "519 mm"),
        ("-0.5", "0.5"),
        ("−1.50 cm", "−0.50 cm"),
        ("+5", "+6"),
        ("50,8 cm ± 1 mm", "51,8 cm ± 1 mm"),
        ("0,518 m", "1.518 m"),
        ("-3/8 in", "5/8 in"),
        ('20⅜" ± ⅛ in', '21 3/8" ± ⅛ in'),
        ("1' 11 1/2\"", "2' 1/2\""),
        ("5.0e2", "501"),
        ("", ""),
        ("about 5", "about 5"),
        ("5 parsecs", "5 parsecs"),
        ("1e-999999999", "1e-999999999"),
    ],
)
def test_a_number_keeps_its_way_of_writing_when_it_is_stepped(text, up):
    assert stepped(text, 1) == up


def test_a_count_is_not_stepped_below_none():
    assert stepped("0", -1, Kind.COUNT) == "0"
    assert stepped("0", 10, Kind.COUNT) == "10"


UNITS = st.sampled_from(["", " mm", "cm", " m", " in", '"', " ft"])
TOLERANCES = st.sampled_from(["", " ± 3 mm", " +/- 1/8 in", "± 0,5 cm"])
NUMBERS = st.one_of(
    st.integers(-3000, 3000).map(str),
    st.decimals(-999, 999, places=2).map(str),
    st.decimals(0, 999, places=1).map(lambda number: str(number).replace(".", ",")),
    st.builds("{} {}/8".format, st.integers(0, 90), st.integers(0, 7)),
    st.builds("{}' {}".format, st.integers(0, 20), st.integers(0, 11)),
)


@given(NUMBERS, UNITS, TOLERANCES, st.sampled_from([-10, -1, 1, 10]))
def test_a_step_is_whole_units_and_leaves_the_tolerance_alone(number, unit, tolerance, by):
    text = number + unit + tolerance
    new = stepped(text, by, Kind.LENGTH, INCH)
    try:
        before = parse_entry(text, Kind.LENGTH, bare=INCH)
    except EntryError:
        assert new == text
        return
    after = parse_entry(new, Kind.LENGTH, bare=INCH)
    name = unit.strip() or ("mm" if "mm" in tolerance else "cm" if "cm" in tolerance else "in")
    name = "in" if "'" in number else name
    assert after.tolerance == before.tolerance
    step = from_base(after.value, name, Kind.LENGTH) - from_base(before.value, name, Kind.LENGTH)
    assert step == pytest.approx(by)
    assert new.endswith(unit + tolerance)


@given(st.text(max_size=90), st.integers(-10, 10), st.sampled_from(list(Kind)))
def test_stepping_never_fails_and_never_spoils_a_text(text, by, kind):
    new = stepped(text, by, kind)
    if new != text:
        assert parse_entry(new, kind).value != parse_entry(text, kind).value


def test_a_fraction_is_stepped_exactly():
    text = "1/3 in"
    for _ in range(30):
        text = stepped(text, 1)
    assert text == "30 1/3 in"
    assert Fraction(91, 3) * Fraction("25.4") == pytest.approx(
        parse_entry(text, Kind.LENGTH, bare=METRIC).value
    )


# Engines ---------------------------------------------------------------------------------------


def test_the_same_rows_stand_for_whichever_engine_is_shown(demo, bench):
    group = demo.groups["engine"]
    rows = [line.row for line in group.lines]
    assert group.section.title == "Engine B"
    bench.show_engine(3)
    assert [line.row for line in group.lines] == rows
    assert group.section.title == "Engine D"
    assert row_of(demo, first_engine("leg_measured", 3)).text == "51.2 cm"
    row_of(demo, first_engine("mass", 3))._text.set("301 lb")
    assert bench.draft.text(first_engine("mass", 3)) == "301 lb"
    assert bench.draft.text(first_engine("mass", 1)) == "163 kg"


def test_nothing_grows_however_often_engines_are_switched(demo, bench, root):
    open_all(demo)
    bench.show_engine(0)

    def size():
        commands = len(root.tk.splitlist(root.tk.call("info", "commands")))
        return len(list(walk(root))), commands

    first = size()
    for _ in range(40):
        bench.show_beside(1)
        demo.update_idletasks()
    assert size() == first


def test_buttons_add_duplicate_and_remove_engines(demo, bench, root):
    take_keyboard(root)
    group = demo.groups["engine"]
    click(group.duplicate)
    assert group.section.title == "Engine E"
    assert row_of(demo, first_engine("mass", 2)).text == "163 kg"
    click(group.add)
    settle(demo)
    assert group.section.title == "Engine F"
    assert root.focus_get() is row_of(demo, first_engine("engine_class", 5)).keys_to
    for _ in range(6):
        click(group.remove)
    settle(demo)
    assert bench.draft.engines == ()
    assert group._none.winfo_viewable()
    assert not any(line.row.winfo_viewable() for line in group.lines)
    assert root.focus_get() is group.add.keys_to
    assert note(demo, "engine") == "none yet"
    press_key(root, "space")
    settle(demo)
    assert row_of(demo, first_engine("id")).text == "A"


def test_the_choice_of_an_engine_follows_its_id_key_by_key(demo, bench, root):
    take_keyboard(root)
    put_in(demo, first_engine("id", 1))
    type_text(root, "Gull")
    press_key(root, "Tab")
    settle(demo)
    assert bench.draft.text(CHOSEN_ENGINE) == "Gull"
    assert demo.groups["engine"].section.title == "Engine Gull"
    assert row_of(demo, CHOSEN_ENGINE).chosen == "Gull"


def test_the_choice_follows_when_another_engine_is_shown_before_the_id_is_left(demo, bench, root):
    take_keyboard(root)
    put_in(demo, first_engine("id", 1))
    type_text(root, "Gull")
    bench.show_engine(0)
    assert bench.draft.text(CHOSEN_ENGINE) == "Gull"
    assert bench.draft.engine_ids[:2] == ("A", "Gull")
    assert bench.focus == first_engine("id", 0)


# Holes -----------------------------------------------------------------------------------------


@pytest.fixture
def holes(demo):
    demo.groups["hole"].section.unfold()
    settle(demo)
    return demo.groups["hole"]


def numbers(holes):
    return [str(block._title.cget("text")) for block in holes.blocks if block.winfo_manager()]


def test_each_hole_has_its_rows_and_can_be_taken_out(demo, bench, holes, root):
    take_keyboard(root)
    assert note(demo, "hole") == "4 holes"
    holes.blocks[1].remove.focus_set()
    settle(demo)
    press_key(root, "space")
    settle(demo)
    assert numbers(holes) == ["Hole 1", "Hole 2", "Hole 3"]
    assert row_of(demo, Address("hole", "name", 1)).text == "old lower port"
    bench.undo()
    assert row_of(demo, Address("hole", "name", 1)).text == "old upper starboard"
    assert len(numbers(holes)) == 4
    for _ in range(4):
        holes.blocks[0].remove.invoke()
    assert root.focus_get() is holes.add.keys_to
    assert note(demo, "hole") == "none"


def test_a_hole_is_added_and_filled_in_from_the_keyboard(demo, bench, holes, root):
    take_keyboard(root)
    holes.add.focus_set()
    press_key(root, "space")
    settle(demo)
    assert root.focus_get() is row_of(demo, Address("hole", "name", 4)).keys_to
    assert note(demo, "hole") == "3 needed"
    assert row_of(demo, Address("hole", "across", 4)).message == "needed"
    type_text(root, "drain")
    assert row_of(demo, Address("hole", "across", 4))._tone == "warn"
    press_key(root, "Tab")
    type_text(root, "12")
    assert bench.draft.rows("hole")[4] == ("drain", "12", "", "")


def test_thousands_of_holes_are_shown_some_at_a_time(demo, bench, holes, root):
    draft = bench.draft
    for number in range(4, 2 * ROWS_SHOWN + 3):
        draft = draft.add_row("hole", name=f"no {number}")
    bench._apply(draft, "many holes", Change.ENGINES)
    settle(demo)
    assert len(numbers(holes)) == ROWS_SHOWN
    assert not holes.earlier.is_enabled
    click(holes.later)
    click(holes.later)
    settle(demo)
    assert numbers(holes) == [f"Hole {2 * ROWS_SHOWN + at}" for at in (1, 2, 3)]
    assert not holes.later.is_enabled
    assert faults(root) == []
    demo.go_to(Address("hole", "name", ROWS_SHOWN))
    assert row_of(demo, Address("hole", "name", ROWS_SHOWN)).text == f"no {ROWS_SHOWN}"
    bench.begin_demo()
    assert numbers(holes) == ["Hole 1", "Hole 2", "Hole 3", "Hole 4"]


# Openings, places inside, cut-outs -------------------------------------------------------------

ONE_OF = {
    "opening": ("Add an opening", "Opening 1", "1 opening", "2 openings"),
    "no_go": ("Add a place inside", "Place inside 1", "1 place inside", "2 places inside"),
    "dash": ("Add a cut-out", "Cut-out 1", "1 cut-out", "2 cut-outs"),
    "wire": ("Add a conductor", "Conductor 1", "1 conductor", "2 conductors"),
    "cable": ("Add a cable", "Cable 1", "1 cable", "2 cables"),
}


@pytest.mark.parametrize("table", ONE_OF)
def test_rows_of_a_list_come_and_go_by_their_own_name(demo, bench, root, table):
    add, title, one, two = ONE_OF[table]
    take_keyboard(root)
    before, group = bench.draft, demo.groups[table]
    assert not group.section.is_open
    assert note(demo, table) == "none"
    group.section.unfold()
    settle(demo)
    assert group.add.words == add
    group.add.focus_set()
    press_key(root, "space")
    settle(demo)
    assert numbers(group) == [title]
    assert root.focus_get() is row_of(demo, Address(table, "name", 0)).keys_to
    needed = sum(1 for _, spec in FIELDS[table] if spec.required)
    assert note(demo, table) == f"{needed} needed"
    assert row_of(demo, required(table)).message == "needed"
    type_text(root, "one")
    assert row_of(demo, required(table)).message == bench.derived.missing[required(table)]
    assert title.lower().removesuffix(" 1") in bench.derived.missing[required(table)]
    for name, spec in FIELDS[table]:
        bench.type(Address(table, name, 0), spec.example)
    assert note(demo, table) == one
    bench.add_rows(table, [{name: spec.example for name, spec in FIELDS[table]}])
    assert note(demo, table) == two
    for _ in range(2):
        group.blocks[0].remove.invoke()
    settle(demo)
    assert bench.draft.rows(table) == ()
    assert root.focus_get() is group.add.keys_to
    while bench.history.can_undo:
        bench.undo()
    assert bench.draft == before


def test_obstacles_come_and_go_though_no_field_of_them_is_needed(demo, bench, root):
    take_keyboard(root)
    before, group = bench.draft, demo.groups["obstacle"]
    assert not group.section.is_open
    assert note(demo, "obstacle") == "none"
    group.section.unfold()
    settle(demo)
    assert group.add.words == "Add an obstacle"
    group.add.focus_set()
    press_key(root, "space")
    settle(demo)
    assert numbers(group) == ["Obstacle 1"]
    assert root.focus_get() is row_of(demo, Address("obstacle", "name", 0)).keys_to
    for name, spec in FIELDS["obstacle"]:
        bench.type(Address("obstacle", name, 0), spec.example)
    assert bench.derived.messages == {}
    assert note(demo, "obstacle") == "1 obstacle"
    settle(demo)
    assert faults(root) == []
    group.blocks[0].remove.invoke()
    settle(demo)
    assert bench.draft == before
    assert root.focus_get() is group.add.keys_to


def test_well_steering_and_trailer_stand_where_they_are_measured():
    places = [ORDER.index(table) for table in ("no_go", "well", "obstacle", "steering", "trailer")]
    assert places == sorted(places)
    assert set(ORDER) == set(FIELDS)
    assert ORDER.index("trailer") < ORDER.index("units")


def required(table):
    return Address(table, next(name for name, spec in FIELDS[table] if spec.required), 0)


@pytest.mark.parametrize("table", [*ONE_OF, "obstacle"])
def test_many_rows_of_a_list_are_shown_some_at_a_time(demo, bench, table):
    bench.add_rows(table, [{"name": f"no {at}"} for at in range(ROWS_SHOWN + 2)])
    demo.go_to(Address(table, "name", ROWS_SHOWN + 1))
    settle(demo)
    group = demo.groups[table]
    assert len(numbers(group)) == 2
    assert row_of(demo, Address(table, "name", ROWS_SHOWN + 1)).text == f"no {ROWS_SHOWN + 1}"
    click(group.earlier)
    settle(demo)
    assert len(numbers(group)) == ROWS_SHOWN


def test_what_nobody_filled_in_of_the_new_tables_starts_folded_and_holds_no_rows(demo, bench):
    later = ("neighbour", "face", "bolting", "printer", "well", "steering", "trailer", "obstacle")
    for table in (*later, *ONE_OF):
        assert not demo.groups[table].section.is_open
        assert demo.groups[table].lines == []
    bench.type(Address("bolting", "torque"), "75 N·m")
    bench.begin_demo()
    assert not demo.groups["bolting"].section.is_open


def test_a_single_table_with_something_in_it_starts_open(panel, bench, tmp_path):
    bench.begin_demo()
    bench.type(Address("bolting", "torque"), "75 N·m")
    bench.type(Address("printer", "paper"), "A4")
    path = tmp_path / "bolted.rigfit.toml"
    bench.save_as(path)
    bench.begin()
    bench.open(path)
    settle(panel)
    assert panel.groups["bolting"].section.is_open
    assert panel.groups["printer"].section.is_open
    assert not panel.groups["face"].section.is_open
    assert row_of(panel, Address("bolting", "torque")).text == "75 N·m"
    assert note(panel, "printer") == "1 of 3"


def test_a_row_in_which_nothing_changed_is_not_looked_at(demo, bench, monkeypatch):
    furnish(bench, 2)
    open_all(demo)
    looked = []
    for group in demo.groups.values():
        for line in group.lines:
            monkeypatch.setattr(line, "update", lambda at=line.address, **_how: looked.append(at))
    bench.type(Address("opening", "width", 1), "40 mm")
    assert {(at.table, at.index) for at in looked} == {("opening", 1)}


# Keyboard --------------------------------------------------------------------------------------


def is_in_sight(panel, row):
    pane = panel.pane._canvas
    top = row.winfo_rooty() - pane.winfo_rooty()
    return top >= 0 and top + row.winfo_height() <= pane.winfo_height()


@pytest.mark.parametrize(
    "address",
    [
        Address("keel_line", "gap_900"),
        Address("units", "speeds"),
        Address("hole", "diameter", 3),
        Address("engine", "upper_to_lower", 2),
        NAME,
    ],
    ids=str,
)
def test_a_field_that_is_asked_for_is_opened_seen_and_has_the_cursor(demo, bench, root, address):
    take_keyboard(root)
    bench.go_to(Address("mounting", "row"))
    bench.go_to(address)
    settle(demo)
    row = row_of(demo, address)
    assert root.focus_get() is row.keys_to
    assert bench.focus == address
    assert is_in_sight(demo, row)
    if address.table == "engine":
        assert bench.engine_index == address.index


def test_a_table_that_is_asked_for_gives_its_first_lack(demo, bench, root):
    take_keyboard(root)
    bench.type(Address("hole", "below_top", 2), "")
    bench.go_to(Address("hole", "", 2))
    settle(demo)
    assert bench.focus == Address("hole", "below_top", 2)
    bench.type(first_engine("mass", 1), "heavy")
    bench.go_to(first_engine("", 1))
    settle(demo)
    assert bench.focus == first_engine("mass", 1)


@pytest.mark.parametrize("table", ["hole", "engine"])
def test_what_is_gone_only_opens_its_section(demo, bench, root, table):
    take_keyboard(root)
    for gone in (Address(table, FIELDS[table][0][0], 77), Address(table, "")):
        demo.go_to(gone)
        settle(demo)
        assert root.focus_get() is demo.groups[table].section.keys_to
        assert demo.groups[table].section.is_open
    while bench.draft.engines:
        bench.remove_engine()
    demo.go_to(first_engine("id"))
    settle(demo)
    assert root.focus_get() is demo.groups["engine"].section.keys_to


def test_the_first_field_to_fill_in_is_found(panel, bench, root):
    take_keyboard(root)
    bench.begin()
    panel.focus_first()
    settle(panel)
    assert bench.focus == HULL
    bench.begin_demo()
    panel.focus_first()
    settle(panel)
    assert bench.focus == NAME


def test_tab_goes_in_reading_order(demo, bench, root):
    for table in reversed(ORDER):
        demo.groups[table].section.unfold()
    bench.add_row("hole", name="late")
    furnish(bench)
    settle(demo)
    stops = [stop for stop in tab_stops(root) if stop.winfo_viewable()]
    places = [(stop.winfo_rooty() + stop.winfo_height() // 2, stop.winfo_rootx()) for stop in stops]
    fields = sum(len(group.lines) for group in demo.groups.values())
    removes = sum(len(bench.draft.rows(table)) for table in LISTED)
    aids = len(demo.groups["hole"].aids.buttons) + 2  # of the offsets, and of the side view
    runs = 4  # their table, and the buttons to bring some in and to give them away
    buttons = 3 + removes + len(LISTED) + aids + runs
    assert len(stops) == len(ORDER) + fields + buttons
    for (above, left), (below, right) in pairwise(places):
        assert below > above + 4 or (abs(below - above) <= 4 and right > left)


def test_the_field_with_the_cursor_is_told(demo, bench, root):
    take_keyboard(root)
    click(row_of(demo, HEIGHT_FACE))
    settle(demo)
    assert bench.focus == HEIGHT_FACE
    press_key(root, "Tab")
    settle(demo)
    assert bench.focus == Address("transom", "height_square")


# Help ------------------------------------------------------------------------------------------


def test_f1_shows_how_to_measure_with_example_limits_tolerance_and_picture(demo, bench, root):
    heard = []
    root.bind("<F1>", lambda _event: heard.append("keys"))
    take_keyboard(root)
    row = put_in(demo, HEIGHT_FACE)
    press_key(root, "F1")
    assert row.help.is_shown
    assert heard == []
    words = str(root.tooltip_window._label.cget("text"))
    for part in (HEIGHT_FACE.spec.how, "For example 518 mm.", "200 mm to 1100 mm", "± 3 mm"):
        assert part in words
    assert "Needed." in words
    picture = root.tooltip_window._picture
    assert picture.winfo_viewable()
    assert picture.winfo_reqwidth() >= WIDTH
    assert picture.winfo_reqheight() >= HEIGHT


def test_limits_are_said_in_the_units_shown():
    words = help_words(HEIGHT_FACE.spec, shown=Shown("in"))
    assert "7 7/8 in (200 mm) to 43 5/16 in (1100 mm)" in words
    assert "May stay empty." in help_words(Address("mounting", "row").spec)


@pytest.mark.parametrize(("appearance", "scale"), [("light", 1.0), ("dark", 1.5)])
def test_every_field_that_has_a_picture_shows_it_in_the_look_in_force(make_root, appearance, scale):
    root = make_root(appearance, scale)
    pictures = HowToPictures(root)
    for table, name in PICTURES:
        image = pictures.picture(table, name)
        assert (image.width(), image.height()) == (theme.px(WIDTH), theme.px(HEIGHT))
    corner = root.tk.call(str(image), "get", 2, 2)
    assert (sum(root.tk.splitlist(corner)) > 600) == (appearance == "light")
    assert pictures.picture("boat", "name") is None
    assert len(pictures._kept) <= MOST_KEPT


def test_a_picture_is_painted_once_for_each_look(root):
    pictures = HowToPictures(root)
    first = pictures.picture("transom", "rake")
    assert pictures.picture("transom", "rake") is first
    theme.apply("dark")
    dark = pictures.picture("transom", "rake")
    theme.apply("light")
    assert dark is not first
    assert pictures.picture("transom", "rake") is first


# Geometry --------------------------------------------------------------------------------------


def spoil(bench):
    """Type what gives long messages, one in each table there is."""
    furnish(bench)
    for table in ORDER:
        index = bench.engine_index if table == "engine" else 0 if table in LIST_FIELDS else -1
        for name, spec in FIELDS[table]:
            if spec.kind is not None or spec.profile:
                bench.type(Address(table, name, index), NONSENSE)
    bench.type(first_engine("id", bench.engine_index), "W" * 60)


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize(("appearance", "lengths"), [("light", "mm"), ("dark", "in")])
def test_nothing_is_cut_off(make_root, bench, tmp_path, appearance, scale, lengths):
    root = make_root(appearance, scale, f"{round(384 * scale)}x{round(700 * scale)}")
    panel = placed(root, bench)
    bench.begin_demo()
    bench.set_units(lengths=lengths)
    furnish(bench)
    open_all(panel)
    assert faults(root) == []
    places = ("boat.name", f"engine[{bench.engine_index}].max_lift", "hole[3].name")
    for place in (
        *places,
        "face.notch_width",
        "no_go[0].kind",
        "bolting.core",
        "dash[0].across",
        "wire[0].use",
        "cable[0].kind",
    ):
        panel.go_to(Address.parse(place))
        name = f"measurements-{appearance}-{scale}-{lengths}-{place}"
        assert screenshot(root, name, tmp_path).exists()
    spoil(bench)
    root.focus_set()
    settle(root)
    assert faults(root) == []
    panel.go_to(HEIGHT_FACE)
    screenshot(root, f"measurements-{appearance}-{scale}-{lengths}-wrong", tmp_path)


@pytest.mark.parametrize("width", [330, 640])
def test_narrow_and_wide_panels_are_whole_too(make_root, bench, width):
    root = make_root("light", 1.0, f"{width}x700")
    panel = placed(root, bench, width)
    bench.begin()
    settle(root)
    assert faults(root) == []
    bench.begin_demo()
    spoil(bench)
    open_all(panel)
    assert faults(root) == []
    while bench.draft.engines:
        bench.remove_engine()
    settle(root)
    assert faults(root) == []


def test_a_change_of_look_keeps_everything_whole(demo, bench, root):
    open_all(demo)
    theme.apply("dark", 1.5)
    demo.place(x=0, y=0, width=576, height=700)
    settle(root)
    assert [fault for fault in faults(root) if "reaches out of the window" not in fault] == []
    theme.apply("light")


def test_no_row_is_drawn_anew_for_what_did_not_change(demo, bench, monkeypatch):
    open_all(demo)
    drawn = []
    for group in demo.groups.values():
        for line in group.lines:
            row = line.row
            monkeypatch.setattr(
                row, "set_message", lambda *_words, at=line.address: drawn.append(at)
            )
    bench.type(RAKE, "14")
    assert drawn == [RAKE]
