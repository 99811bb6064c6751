"""What the widgets do: every one by keyboard, every one by mouse, and who is told."""

from __future__ import annotations

import tkinter as tk
from dataclasses import replace
from pathlib import Path
from tkinter import font as tkfont

import pytest

from rigfit.desk.kit import dialogs, icons, theme, wheel
from rigfit.desk.kit.base import Area
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.choices import Chip, Choice, Segmented, Switch
from rigfit.desk.kit.fields import LONGEST, ChoiceRow, FieldRow
from rigfit.desk.kit.pages import TextPage
from rigfit.desk.kit.panes import BAR_WIDTH, ScrollPane, StatusBar
from rigfit.desk.kit.sections import Section
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.desk.kit.tooltip import Tooltip
from rigfit.rigging.findings import Verdict
from tests.desk.gallery import Gallery, sample_rows
from tests.desk.harness import (
    click,
    faults,
    needs_real_keys,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
    type_text,
    wait_for,
    xdotool,
)


@pytest.fixture
def heard():
    return []


@pytest.fixture
def sheet(root):
    area = Area(root, "panel")
    area.pack(fill="both", expand=True)
    return area


def shown(widget, **packing):
    widget.pack(**packing)
    settle(widget)
    return widget


# Everything by keyboard ------------------------------------------------------------------------


def test_tab_reaches_every_control_in_the_order_it_is_seen(root):
    gallery = Gallery(root)
    settle(root)
    wanted = [tool.keys_to for tool in gallery.tools if tool.is_enabled]
    wanted += [gallery.status._link]
    for section, rows in zip(gallery.sections, (slice(0, 5), slice(5, None)), strict=True):
        wanted += [section.keys_to, *(row.keys_to for row in list(gallery.rows.values())[rows])]
    wanted += [gallery.views.keys_to, gallery.grid_switch.keys_to]
    wanted += [chip.keys_to for chip in gallery.chips]
    wanted += [gallery.table.keys_to, gallery.page.keys_to]
    assert [str(stop) for stop in tab_stops(root)] == [str(stop) for stop in wanted]


def test_tab_itself_moves_the_keyboard_there_and_back(root, sheet):
    first, second = Button(sheet, "One", bool), TextPage(sheet, "Words")
    shown(first)
    shown(second, fill="both", expand=True)
    third = shown(Button(sheet, "Two", bool))
    first.focus_set()
    press_key(root, "Tab")
    assert root.focus_get() is second.keys_to
    press_key(root, "Tab")
    assert root.focus_get() is third.keys_to
    press_key(root, "Shift-Tab", "Shift-Tab")
    assert root.focus_get() is first.keys_to


@pytest.mark.parametrize("style", ["primary", "plain", "ghost"])
def test_a_ring_shows_which_button_has_the_keyboard(root, sheet, tmp_path, style):
    button = shown(Button(sheet, "Save", bool, style=style), padx=20, pady=20)
    before = screenshot(button, "before", tmp_path).read_bytes()
    button.focus_set()
    assert screenshot(button, "after", tmp_path).read_bytes() != before
    root.focus_set()
    assert screenshot(button, "again", tmp_path).read_bytes() == before


# Buttons ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["space", "Return", "KP_Enter"])
def test_keys_press_a_button(root, sheet, heard, key):
    button = shown(Button(sheet, "Save", lambda: heard.append("save")))
    button.focus_set()
    press_key(root, key)
    assert heard == ["save"]


def test_a_click_presses_a_button_on_release_and_gives_it_the_keyboard(root, sheet, heard):
    button = shown(Button(sheet, "Save", lambda: heard.append("save"), icon="save"))
    click(button)
    assert heard == ["save"]
    assert root.focus_get() is button.keys_to


def test_a_click_on_the_words_gives_the_keyboard_to_the_button(root, sheet, heard):
    button = shown(Button(sheet, "Save", lambda: heard.append("save")))
    click(button._text_label)
    press_key(root, "space")
    assert heard == ["save", "save"]


def test_a_disabled_button_is_silent_and_passed_by(root, sheet, heard):
    button = shown(Button(sheet, "Save", lambda: heard.append("save")))
    other = shown(Button(sheet, "Other", bool))
    button.set_enabled(False)
    click(button)
    assert heard == []
    assert tab_stops(root) == [other.keys_to]
    button.set_enabled(True)
    click(button)
    assert heard == ["save"]


def test_a_button_is_as_wide_as_its_words(root, sheet):
    button = shown(Button(sheet, "Save", bool))
    narrow = button.winfo_width()
    button.set_text("Save job sheet as PDF")
    settle(root)
    assert button.words == "Save job sheet as PDF"
    assert button.winfo_width() >= narrow + theme.text_width(" job sheet as PDF")


def test_a_tool_in_use_looks_different(root, sheet, tmp_path):
    button = shown(IconButton(sheet, "tilt", "Tilt", bool))
    before = screenshot(button, "off", tmp_path).read_bytes()
    button.set_on(True)
    assert screenshot(button, "on", tmp_path).read_bytes() != before


def test_an_icon_button_fires_by_mouse_and_keyboard(root, sheet, heard):
    button = shown(IconButton(sheet, "undo", "Undo", lambda: heard.append("undo")))
    click(button)
    press_key(root, "space")
    assert heard == ["undo", "undo"]


@needs_real_keys
def test_the_real_mouse_presses_a_button(root, sheet, heard):
    button = shown(Button(sheet, "Save", lambda: heard.append("save")))
    x, y = button.winfo_rootx() + 20, button.winfo_rooty() + 10
    xdotool(root, "mousemove", str(x), str(y), "click", "1")
    wait_for(root, lambda: heard == ["save"])


# Choosing --------------------------------------------------------------------------------------

VIEWS = {"side": "Side", "face": "Face", "plan": "Plan"}


def test_arrows_move_the_choice_around(root, sheet, heard):
    views = shown(Segmented(sheet, VIEWS, heard.append))
    views.keys_to.focus_set()
    press_key(root, "Right", "Right", "Right", "Left")
    assert heard == ["face", "plan", "side", "plan"]
    assert views.chosen == "plan"


def test_a_click_chooses_a_segment_once(root, sheet, heard):
    views = shown(Segmented(sheet, VIEWS, heard.append))
    click(views._cells["plan"])
    click(views._cells["plan"])
    assert heard == ["plan"]
    assert root.focus_get() is views


def test_a_choice_set_by_the_program_is_not_reported(root, sheet, heard):
    views = shown(Segmented(sheet, VIEWS, heard.append))
    choice = shown(Choice(sheet, VIEWS, heard.append))
    switch = shown(Switch(sheet, "Dimensions", heard.append))
    chip = shown(Chip(sheet, Verdict.TIGHT, heard.append))
    views.set("plan")
    choice.set("plan")
    switch.set(True)
    chip.set(True)
    assert heard == []
    assert (views.chosen, choice.chosen, switch.is_on, chip.is_on) == ("plan", "plan", True, True)


def test_choosing_moves_nothing(root, sheet):
    words = {"side": "Side", "sizes": "Dimensions", "plan": "Plan"}
    views = shown(Segmented(sheet, words, bool), anchor="w")
    places = [cell.winfo_x() for cell in views._cells.values()]
    views.choose("sizes")  # the widest word becomes bold, and wider
    settle(root)
    assert [cell.winfo_x() for cell in views._cells.values()] == places


def test_arrows_step_through_a_drop_down_and_stop_at_its_ends(root, sheet, heard):
    choice = shown(Choice(sheet, VIEWS, heard.append))
    choice.focus_set()
    press_key(root, "Up", "Down", "Down", "Down")
    assert heard == ["face", "plan"]


@pytest.mark.parametrize("key", ["space", "Return", "Alt-Down"])
def test_keys_open_a_drop_down_with_the_choice_marked(root, sheet, heard, key, monkeypatch):
    choice = shown(Choice(sheet, VIEWS, heard.append, chosen="face"))
    opened = []
    monkeypatch.setattr(choice._menu, "tk_popup", lambda x, y: opened.append((x, y)))
    choice.focus_set()
    press_key(root, key)
    assert opened == [(choice.winfo_rootx(), choice.winfo_rooty() + choice.winfo_height() + 1)]
    marks = [choice._menu.entrycget(index, "image") for index in range(3)]
    assert marks[0] == marks[2] != marks[1]
    choice._menu.invoke(2)
    assert heard == ["plan"]


def test_an_unknown_choice_is_shown_as_it_is(root, sheet):
    choice = shown(Choice(sheet, VIEWS, bool))
    choice.set("class-of-my-own")
    assert choice._word.cget("text") == "class-of-my-own"
    choice.set_choices({"class-of-my-own": "Mine"})
    assert choice._word.cget("text") == "Mine"


@pytest.mark.parametrize("key", ["space", "Return"])
def test_keys_switch_and_toggle(root, sheet, heard, key):
    switch = shown(Switch(sheet, "Dimensions", heard.append))
    switch.focus_set()
    press_key(root, key, key)
    assert heard == [True, False]
    chip = shown(Chip(sheet, Verdict.TIGHT, heard.append, count=2))
    chip.focus_set()
    press_key(root, key, key)
    assert heard == [True, False, True, False]


def test_a_chip_says_its_count_in_words_and_keeps_its_mark(root, sheet, heard):
    chip = shown(Chip(sheet, Verdict.STOPS, heard.append))
    chip.set_count(3)
    assert chip.keys_to.cget("text").strip() == "3 stops"
    assert str(chip.keys_to.cget("image")) == str(icons.mark(Verdict.STOPS))
    click(chip)
    assert heard == [True]


# Fields ----------------------------------------------------------------------------------------


@pytest.fixture
def row(sheet, heard):
    def note(name):
        return lambda *given: heard.append((name, *given))

    made = FieldRow(
        sheet,
        "leg length",
        help_text="Tape it.",
        on_edit=note("edit"),
        on_commit=note("commit"),
        on_focus=note("focus"),
        on_step=note("step"),
    )
    return shown(made, fill="x")


def test_every_key_press_is_reported_and_leaving_commits_once(root, row, heard):
    row.focus_field()
    settle(root)
    type_text(root, "20 3/8")
    press_key(root, "Tab")
    root.focus_set()
    settle(root)
    edits = [("edit", "20 3/8"[:length]) for length in range(1, 7)]
    assert heard == [("focus",), *edits, ("commit", "20 3/8")]


def test_return_commits_and_leaving_does_not_again(root, row, heard):
    row.focus_field()
    settle(root)
    type_text(root, "5")
    press_key(root, "Return")
    assert heard[-1] == ("commit", "5")
    press_key(root, "Return")
    root.focus_set()
    settle(root)
    assert heard.count(("commit", "5")) == 1


def test_a_click_beside_the_field_commits_it(root, sheet, row, heard):
    row.focus_field()
    settle(root)
    type_text(root, "7")
    click(sheet, 5, 500)
    settle(root)
    assert heard[-1] == ("commit", "7")


def test_escape_takes_the_typing_back(root, row, heard):
    row.set_text("508")
    row.focus_field()
    settle(root)
    type_text(root, "9")
    assert row.text == "9"
    press_key(root, "Escape")
    assert row.text == "508"
    assert heard[-1] == ("edit", "508")
    root.focus_set()
    settle(root)
    assert not [item for item in heard if item[0] == "commit"]


def test_a_text_set_by_the_program_is_not_reported(root, row, heard):
    row.set_text("508")
    row.set_text("509")
    assert row.text == "509"
    assert heard == []


def test_showing_back_what_is_typed_does_not_end_the_edit(root, row, heard):
    row.set_text("508")
    row._on_edit = row.set_text  # as a form does that is drawn anew after each key
    row.focus_field()
    settle(root)
    type_text(root, "9")
    press_key(root, "Return")
    assert heard[-1] == ("commit", "9")


def test_the_cursor_stays_when_the_program_sets_a_text(root, row):
    row.set_text("508 mm")
    row.focus_field()
    row.keys_to.icursor(2)
    row.set_text("518 mm")
    assert row.keys_to.index("insert") == 2


def test_arrows_step_a_number(root, row, heard):
    row.focus_field()
    settle(root)
    heard.clear()
    press_key(root, "Up", "Down", "Shift-Up")
    assert heard == [("step", 1, False), ("step", -1, False), ("step", 1, True)]


def test_a_message_moves_nothing(root, sheet, row):
    below = shown(FieldRow(sheet, "rake"), fill="x")
    places = below.winfo_y(), row.winfo_height(), row._outline.winfo_x()
    row.set_message("5080 mm is outside 300 to 1000 mm")
    settle(root)
    assert (below.winfo_y(), row.winfo_height(), row._outline.winfo_x()) == places
    assert row.winfo_height() == theme.PITCH
    row.set_message("")
    settle(root)
    assert (below.winfo_y(), row.winfo_height(), row._outline.winfo_x()) == places


def test_the_ring_moves_nothing(root, sheet, row):
    places = row._outline.winfo_width(), row._outline.winfo_height(), row.keys_to.winfo_x()
    row.focus_field()
    settle(root)
    now = row._outline.winfo_width(), row._outline.winfo_height(), row.keys_to.winfo_x()
    assert row.has_focus
    assert now == places


def test_states_of_a_field_show_on_its_outline(root, row):
    assert row._outline.alert == ""
    row.set_required(True)
    assert row._outline.alert == "warn"
    row.set_text("508")
    assert row._outline.alert == ""
    row.set_message("too large")
    assert row._outline.alert == "error"
    row.set_message("typical of the class", "note")
    assert row._outline.alert == ""


WHOLE = "5080 mm is outside 300 to 1000 mm; type another unit behind the number if it is one"


@pytest.fixture
def narrow_row(root, sheet):
    narrow = Area(sheet)
    narrow.pack_propagate(False)
    narrow.configure(width=340, height=160)
    narrow.pack()
    return shown(FieldRow(narrow, "leg length"), fill="x")


def test_a_long_message_takes_the_lines_it_needs_once_the_field_is_left(root, narrow_row):
    row = narrow_row
    row.focus_field()
    settle(root)
    row.set_message(WHOLE)
    settle(root)
    assert row.winfo_height() == theme.PITCH
    assert row._line.cget("text").endswith("…")
    assert row._hidden_part() == WHOLE
    root.focus_set()
    settle(root)
    assert row.message == row._line.cget("text") == WHOLE
    assert row._hidden_part() == ""
    assert row.winfo_height() > theme.PITCH
    assert faults(root) == []


def test_the_room_of_a_long_message_stays_while_the_field_is_typed_in(root, narrow_row):
    row = narrow_row
    row.set_message(WHOLE)
    settle(root)
    height = row.winfo_height()
    row.focus_field()
    settle(root)
    for message in ("", "too large", WHOLE):
        row.set_message(message)
        settle(root)
        assert row.winfo_height() == height
    row.set_message("")
    root.focus_set()
    settle(root)
    assert row.winfo_height() == theme.PITCH


def test_the_sign_of_a_message_stands_beside_its_first_line_and_goes_with_it(root, narrow_row):
    row = narrow_row
    row.set_message(WHOLE)
    settle(root)
    assert row._sign.winfo_rootx() >= row.winfo_rootx()
    assert row._sign.winfo_rootx() + row._sign.winfo_width() <= row._line.winfo_rootx()
    row.set_message(WHOLE, "note")
    settle(root)
    assert not row._sign.winfo_ismapped()


def copy(root, text, *, selection="CLIPBOARD"):
    if selection == "CLIPBOARD":
        root.clipboard_clear()
        root.clipboard_append(text)
    else:
        root.selection_handle(lambda start, length: text[int(start) :][: int(length)])
        root.selection_own()


def test_a_paste_replaces_what_is_selected_as_one_edit_on_one_line(root, row, heard):
    row.set_text("508")
    row.focus_field()
    settle(root)
    copy(root, "\n20\r\n3/8\tin\n")
    row.keys_to.event_generate("<<Paste>>")
    assert row.text == "20 3/8 in"
    assert heard == [("focus",), ("edit", "20 3/8 in")]
    row.keys_to.icursor(0)
    row.keys_to.event_generate("<<Paste>>")
    assert row.text == "20 3/8 in20 3/8 in"


def test_a_paste_of_nothing_changes_nothing(root, row, heard):
    root.clipboard_clear()
    row.focus_field()
    settle(root)
    row.keys_to.event_generate("<<Paste>>")
    assert heard == [("focus",)]


def test_a_book_is_cut_before_tk_has_to_lay_it_out(root, row, heard):
    row.focus_field()
    settle(root)
    copy(root, "5" * 5_000_000)
    row.keys_to.event_generate("<<Paste>>")
    assert row.text == "5" * LONGEST
    assert row.was_cut
    type_text(root, "6")
    assert row.text == "5" * LONGEST
    press_key(root, "BackSpace")
    assert row.text == "5" * (LONGEST - 1)
    assert not row.was_cut
    assert all(len(what[-1]) <= LONGEST for what in heard)
    row.set_text("7" * 5_000_000)
    assert row.text == "7" * LONGEST


def test_the_middle_button_pastes_where_it_is_pressed(root, row):
    row.set_text("8 mm")
    settle(root)
    copy(root, "50\n", selection="PRIMARY")
    row.keys_to.event_generate("<<PasteSelection>>", x=0, y=5)
    assert row.text == "508 mm"


def test_a_unit_that_comes_and_goes_does_not_move_the_digits_being_typed(root, sheet):
    row = shown(FieldRow(sheet, "rake", echo_characters=0), fill="x")
    row.set_echo("mm")
    settle(root)
    wide = row.keys_to.winfo_width()
    row.focus_field()
    settle(root)
    row.set_echo("")
    settle(root)
    assert row.keys_to.winfo_width() == wide
    root.focus_set()
    settle(root)
    assert row.keys_to.winfo_width() > wide


def test_a_field_of_another_width_lines_up_with_its_neighbours(root, sheet):
    field = shown(FieldRow(sheet, "rake", field_width=160), fill="x")
    choice = shown(ChoiceRow(sheet, "taken", {"a": "face"}, field_width=160), fill="x")
    settle(root)
    assert field._outline.winfo_width() == choice.choice.winfo_width() == 160
    assert field._outline.winfo_rootx() == choice.choice.winfo_rootx()


def test_f1_shows_how_to_measure(root, row):
    row.focus_field()
    press_key(root, "F1")
    assert row.help.is_shown
    type_text(root, "5")
    assert not row.help.is_shown
    press_key(root, "F1", "Escape")
    assert not row.help.is_shown
    assert row.text == "5"
    press_key(root, "Escape")
    assert row.text == ""


def test_f1_in_a_field_is_not_for_the_window(root, sheet, row, heard):
    choice = shown(ChoiceRow(sheet, "taken", {"face": "along the face"}, help_text=lambda: "How"))
    root.bind("<F1>", lambda _event: heard.append("window"))
    for field in (row, choice):
        field.focus_field()
        settle(root)
        press_key(root, "F1")
        assert field.help.is_shown
    assert "window" not in heard
    root.focus_set()
    press_key(root, "F1")
    assert heard[-1] == "window"


def test_a_needed_choice_is_marked_until_something_is_chosen(root, sheet):
    words = {"": "not chosen", "face": "along the face"}
    row = shown(ChoiceRow(sheet, "taken", words, required=True), fill="x")
    assert row.choice.alert == "warn"
    row.choice.choose("face")
    assert row.choice.alert == ""
    row.set_required(False)
    row.set("")
    assert row.choice.alert == ""


def test_a_field_that_cannot_be_used_is_passed_by(root, row):
    row.set_enabled(False)
    assert tab_stops(root) == []
    row.set_enabled(True)
    assert tab_stops(root) == [row.keys_to]


def test_a_click_on_the_label_puts_the_cursor_into_the_field(root, row):
    click(row._label)
    settle(root)
    assert root.focus_get() is row.keys_to


def test_a_choice_row_reports_and_shows_errors(root, sheet, heard):
    row = ChoiceRow(
        sheet,
        "taken",
        {"face": "along the face", "keel": "square to the keel line"},
        on_choose=heard.append,
        on_focus=lambda: heard.append("focus"),
    )
    shown(row, fill="x")
    row.focus_field()
    settle(root)
    press_key(root, "Down")
    assert heard == ["focus", "keel"]
    assert row.chosen == "keel"
    row.set_message("there is no keel line")
    assert row.choice.alert == "error"
    assert row.winfo_height() == theme.PITCH


def test_a_section_folds_by_key_and_click_and_hides_its_fields(root, sheet, heard):
    section = Section(sheet, "Transom", on_fold=heard.append)
    row = FieldRow(section.body, "rake")
    row.pack(fill="x")
    shown(section, fill="x")
    section.focus_set()
    press_key(root, "space")
    assert not row.winfo_viewable()
    assert tab_stops(root) == [section.keys_to]
    section.focus_set()
    press_key(root, "Right", "Right")
    click(section._title)
    assert heard == [False, True, False]


def test_a_long_heading_breaks_where_its_note_begins(root, sheet):
    narrow = Area(sheet)
    narrow.pack_propagate(False)
    narrow.configure(width=240, height=120)
    narrow.pack()
    section = shown(Section(narrow, "Transom"), fill="x")
    low = section._head.winfo_height()
    section.set_title("The keel line: gaps under a straightedge")
    section.set_note("5 of 5")
    settle(root)
    assert section.title == "The keel line: gaps under a straightedge"
    assert section._head.winfo_height() > low
    assert faults(root) == []


# Tables ----------------------------------------------------------------------------------------

COLUMNS = (
    Column("row", "Bolt row", 80, is_numeric=True),
    Column("lift", "Lift, mm", 80, is_numeric=True),
    Column("plate", "Plate, mm", 96, is_numeric=True),
    Column("holes", "Holes reused", 112, grows=True),
    Column("gap", "Clearance, mm", 120, is_numeric=True, is_spare=True),
)


@pytest.fixture
def table(root, sheet, heard):
    made = Table(
        sheet,
        COLUMNS,
        verdict_title="Verdict",
        on_pick=lambda key: heard.append(("pick", key)),
        on_open=lambda key: heard.append(("open", key)),
    )
    made.set_rows(sample_rows())
    return shown(made, fill="x")


def keys(*numbers):
    return [f"row {number}" for number in numbers]


def test_figures_sort_as_numbers_and_back(table):
    table.sort("lift")
    assert table.shown_keys == keys(1, 2, 3, 4, 5)
    table.sort("lift", is_reversed=True)
    assert table.shown_keys == keys(5, 4, 3, 2, 1)


def test_verdicts_sort_from_best_to_worst_and_equal_rows_keep_their_order(table):
    table.sort("#0")
    assert table.shown_keys == keys(4, 3, 5, 1, 2)


def test_empty_cells_come_last_either_way(root, sheet):
    table = shown(Table(sheet, COLUMNS[:2]))
    rows = [
        TableRow(text, ("1", text), (1, value))
        for text, value in (("", None), ("9", 9), ("10", 10))
    ]
    table.set_rows([TableRow(row.cells[1] or "none", row.cells, row.order) for row in rows])
    table.sort("lift")
    assert table.shown_keys == ["9", "10", "none"]
    table.sort("lift", is_reversed=True)
    assert table.shown_keys == ["10", "9", "none"]


def test_a_heading_sorts_turns_round_and_shows_the_arrow(root, table):
    column = {"row": "#1", "lift": "#2"}["lift"]
    command = table.tree.heading(column, "command")
    root.tk.call(command)
    assert (table.sorted_by, table.is_reversed) == ("lift", False)
    up = table.tree.heading("lift", "image")
    root.tk.call(command)
    assert (table.sorted_by, table.is_reversed) == ("lift", True)
    assert table.tree.heading("lift", "image") not in ("", up)
    assert not table.tree.heading("row", "image")


def test_keys_sort_pick_and_open(root, table, heard):
    table.focus_set()
    settle(root)
    press_key(root, "Right", "Right", "Right")
    assert table.sorted_by == "lift"
    press_key(root, "space")
    assert table.is_reversed
    assert heard == []
    press_key(root, "Down", "Return")
    settle(root)
    assert heard[0][0] == "pick"
    assert ("open", heard[0][1]) in heard


def test_a_click_picks_and_a_double_click_opens(root, table, heard):
    table.sort("lift")
    x, y, _, height = table.tree.bbox("row 3", "lift")
    click(table.tree, x + 5, y + height // 2)
    settle(root)
    assert heard == [("pick", "row 3")]
    click(table.tree, x + 5, y + height // 2, double=True)
    settle(root)
    assert ("open", "row 3") in heard


def test_a_row_picked_by_the_program_is_not_reported(root, table, heard):
    table.pick("row 3")
    settle(root)
    assert table.picked == "row 3"
    assert heard == []


def test_the_user_can_pick_again_what_the_program_had_picked(root, table, heard):
    table.pick("row 3")
    settle(root)
    table.tree.selection_set("row 1")
    settle(root)
    table.tree.selection_set("row 3")
    settle(root)
    assert heard == [("pick", "row 1"), ("pick", "row 3")]


def test_new_rows_keep_sorting_and_picking(root, table, heard):
    table.sort("lift", is_reversed=True)
    table.pick("row 2")
    settle(root)
    table.set_rows(sample_rows()[:3])
    settle(root)
    assert table.shown_keys == keys(5, 4, 1)
    assert table.picked == ""
    table.pick("row 1")
    table.set_rows(sample_rows())
    settle(root)
    assert table.picked == "row 1"
    assert heard == []


def test_updated_rows_are_written_where_they_stand(root, table, heard):
    table.sort("lift")
    table.pick("row 3")
    rows = sample_rows()
    before = table.shown_keys
    written = []
    item = table.tree.item
    table.tree.item = lambda key, *rest, **more: (
        written.append(key) if "values" in more else None,
        item(key, *rest, **more),
    )[1]
    table.update_rows(rows)
    assert written == []
    row = replace(rows[0], cells=("9", "199.0", "+161.0", "none", "22"), order=(9, 199.0))
    table.update_rows([row, *rows[1:]])
    settle(root)
    assert written == [row.key]
    assert table.tree.set(row.key, "lift") == "199.0"
    assert table.picked == "row 3"
    assert table.shown_keys == [key for key in before if key != row.key] + [row.key]
    table.update_rows(rows[:2])
    assert sorted(table.shown_keys) == sorted(item.key for item in rows[:2])
    assert heard == []


def test_columns_as_wide_as_their_cells_share_what_is_left(root, sheet):
    columns = (Column("row", "Row", 40), Column("why", "Why", 40, grows=True, is_spare=True))
    table = shown(Table(sheet, columns, verdict_title="Verdict", fits_cells=True), fill="x")
    table.set_rows([TableRow("one", ("1", "a reason that needs some room"))])
    settle(root)
    needed = Table.room_for(columns, [TableRow("one", ("1", "a reason that needs some room"))])
    width = table.tree.winfo_width()
    shown_widths = [int(table.tree.column(key, "width")) for key in ("row", "why")]
    assert shown_widths[0] == needed["row"]
    assert shown_widths[1] == width - Table.sign_room() - needed["row"] >= needed["why"]
    table.update_rows([TableRow("one", ("1", "much too long a reason " * 20))])
    settle(root)
    assert tuple(table.tree.cget("displaycolumns")) == ("row",)
    assert int(table.tree.column("row", "width")) == width - Table.sign_room()


def test_spare_columns_give_way_in_their_own_order(root, sheet):
    columns = (
        Column("row", "Row", 80),
        Column("lift", "Lift", 160, is_spare=True, gives_way=2),
        Column("off", "Off", 160, is_spare=True, gives_way=1),
        Column("gap", "Gap", 60, is_spare=True, gives_way=3),
    )
    table = Table(sheet, columns)
    table._fold(80 + 160 + 160 + 60)
    assert tuple(table.tree.cget("displaycolumns")) == ("row", "lift", "off", "gap")
    table._fold(80 + 160 + 159)
    assert tuple(table.tree.cget("displaycolumns")) == ("row", "off", "gap")
    table._fold(100)
    assert tuple(table.tree.cget("displaycolumns")) == ("row",)


def test_other_columns_can_be_had_while_a_row_is_picked(root, table):
    table.sort("gap")
    table.pick("row 2")
    columns = (Column("row", "Row", 80), Column("why", "Why", 100))
    table.set_columns(columns)
    table.set_rows([TableRow(row.key, (row.cells[0], "so")) for row in sample_rows()])
    settle(root)
    assert table.picked == "row 2"
    assert table.sorted_by == ""
    assert table.tree.set("row 2", "why") == "so"
    assert table.copied().split("\n")[0].split("\t") == ["Verdict", "Row", "Why"]
    assert table.tree.heading("#0", "text") == "Verdict"


def test_the_verdict_cell_has_mark_and_word(table):
    cell = table.tree.item("row 3")
    assert cell["text"].strip() == "tight"
    assert cell["image"] == [str(icons.mark(Verdict.TIGHT))]


def test_figures_stand_at_the_right_and_words_at_the_left(table):
    assert [str(table.tree.column(key, "anchor")) for key in ("lift", "holes")] == ["e", "w"]


def test_copying_gives_text_for_a_spreadsheet(root, table):
    table.sort("lift")
    table.pick("row 3")
    table.focus_set()
    press_key(root, "Control-c")
    lines = root.clipboard_get().split("\n")
    assert lines[0].split("\t")[:3] == ["Verdict", "Bolt row", "Lift, mm"]
    assert lines[1].split("\t") == ["tight", "3", "38.0", "+0.0", "all four", "22"]
    table.pick("")
    assert len(table.copied().split("\n")) == 6


def test_a_narrow_table_leaves_spare_columns_out(root, table):
    assert "gap" in table.tree.cget("displaycolumns")
    root.wm_geometry("560x400")
    settle(root)
    assert "gap" not in table.tree.cget("displaycolumns")
    root.wm_geometry("1280x720")
    settle(root)
    assert "gap" in table.tree.cget("displaycolumns")


# Panes -----------------------------------------------------------------------------------------


@pytest.fixture
def pane(root, sheet):
    made = ScrollPane(sheet, width=440)
    made.pack(side="left", fill="y")
    for number in range(30):
        FieldRow(made.body, f"row {number}").pack(fill="x")
    settle(root)
    return made


def top_of(pane):
    return pane._canvas.canvasy(0)


def test_the_wheel_scrolls_the_pane_under_the_pointer(root, pane):
    row = pane.body.winfo_children()[0]
    row.keys_to.event_generate("<Button-5>")
    settle(root)
    assert top_of(pane) > 0
    row.keys_to.event_generate("<Button-4>")
    row.keys_to.event_generate("<Button-4>")
    settle(root)
    assert top_of(pane) == 0


def test_wheel_deltas_of_other_systems():
    assert [wheel.notches(120), wheel.notches(-240), wheel.notches(-3, aqua=True)] == [-1, 2, 3]


def test_touchpad_deltas_carry_both_directions():
    across = 7 << 16
    assert wheel.strokes(across | 100) == -2.0
    assert wheel.strokes(across | (0x10000 - 50)) == 1.0


def test_a_field_that_gets_the_keyboard_comes_into_sight(root, pane):
    rows = pane.body.winfo_children()
    rows[29].focus_field()
    settle(root)
    bottom = pane._canvas.winfo_rooty() + pane._canvas.winfo_height()
    assert rows[29].winfo_rooty() + rows[29].winfo_height() <= bottom
    rows[0].focus_field()
    settle(root)
    assert rows[0].winfo_rooty() >= pane._canvas.winfo_rooty()


def test_what_is_in_sight_does_not_move(root, pane):
    pane.scroll_by(3)
    before = top_of(pane)
    pane.see(pane.body.winfo_children()[8])
    assert top_of(pane) == before


def test_a_pane_that_needs_no_scrolling_stays_where_it_is(root, sheet):
    pane = ScrollPane(sheet)
    pane.pack(side="left", fill="y")
    shown(Button(pane.body, "One", bool))
    pane.scroll_by(5)
    settle(root)
    assert top_of(pane) == 0


def test_scroll_bars_show_nothing_where_all_can_be_seen(root):
    gallery = Gallery(root)
    settle(root)
    for bar in (gallery.table._bar, gallery.page._bar):
        assert bar.get() == (0.0, 1.0)
        assert bar._button_color == bar._clear
    gallery.page.set_text("line\n" * 200)
    settle(root)
    assert gallery.page._bar._button_color != gallery.page._bar._clear


def test_headings_alone_do_not_make_a_pane_narrower_and_narrower(root, sheet):
    """They wrap to its width; if that came from them, laying out would not end."""
    pane = ScrollPane(sheet, width=300)
    for number in range(30):
        Section(pane.body, f"A heading of many short words to wrap, number {number}").pack(fill="x")
    pane.pack(side="left", fill="y")
    sheet.pack(fill="both", expand=True)
    root.update_idletasks()
    settle(root)
    assert pane.body.winfo_width() == theme.px(300 - BAR_WIDTH)


def test_panes_do_not_pile_up_bindings(root, sheet):
    before = len(root.bind_all())
    for _ in range(3):
        ScrollPane(sheet).destroy()
    assert len(root.bind_all()) == before


def test_the_status_bar_says_works_and_links(root, sheet, heard):
    bar = shown(StatusBar(sheet), fill="x")
    bar.busy("Checking 200 engines", 0.4, lambda: heard.append("cancel"))
    settle(root)
    assert bar._bar.winfo_viewable()
    click(bar._link)
    bar.say("Saved", "ok", link="Open folder", on_link=lambda: heard.append("open"))
    settle(root)
    assert not bar._bar.winfo_viewable()
    bar._link.focus_set()
    press_key(root, "Return")
    assert heard == ["cancel", "open"]
    bar.say("Ready")
    settle(root)
    assert bar.text == "Ready"
    assert not bar._link.winfo_viewable()


def test_the_status_bar_cuts_a_long_text_and_keeps_it_whole(root, sheet):
    bar = shown(StatusBar(sheet), fill="x", side="bottom")
    where = "Saved " + "a folder with a very long name/" * 12 + "job sheet.pdf"
    bar.say(where, "ok", link="Open folder", on_link=bool)
    bar.set_right("mm  ·  100 %")
    settle(root)
    assert faults(root) == []
    assert bar.text == where
    assert bar._said.cget("text").endswith("…")
    assert bar._hidden_part() == where
    bar.say("Ready")
    assert bar._said.cget("text") == "Ready"


# Tooltips --------------------------------------------------------------------------------------


def test_a_tooltip_shows_for_the_keyboard_after_a_while_and_goes_with_it(root, sheet):
    button = shown(IconButton(sheet, "undo", "Undo (Ctrl+Z)", bool))
    button.focus_set()
    assert not button.tip.is_shown
    wait_for(root, lambda: button.tip.is_shown)
    root.focus_set()
    settle(root)
    assert not button.tip.is_shown


def test_a_tooltip_shows_for_the_pointer_but_not_for_a_passing_one(root, sheet):
    button = shown(IconButton(sheet, "undo", "Undo", bool))
    button.keys_to.event_generate("<Enter>")
    button.keys_to.event_generate("<Leave>")
    later = []
    root.after(theme.px(700), lambda: later.append(1))
    wait_for(root, lambda: bool(later))
    assert not button.tip.is_shown
    button.keys_to.event_generate("<Enter>")
    wait_for(root, lambda: button.tip.is_shown)
    button.keys_to.event_generate("<ButtonPress-1>")
    assert not button.tip.is_shown


def test_a_tooltip_stays_on_the_screen_and_may_hold_a_picture(root, sheet):
    corner = tk.Label(sheet, text="x")
    corner.place(relx=1.0, rely=1.0, anchor="se")
    root.wm_geometry("800x600+3040+1560")
    settle(root)
    tip = Tooltip(corner, "words " * 40, picture=lambda: icons.photo("save", size=64))
    tip.show()
    settle(root)
    window = root.tooltip_window
    assert window.winfo_rootx() + window.winfo_width() <= root.winfo_screenwidth()
    assert window.winfo_rooty() + window.winfo_height() <= root.winfo_screenheight()
    assert window.winfo_width() <= theme.px(260 + 2 * 8)
    assert str(window._picture.cget("image"))


def test_all_tooltips_share_one_window(root, sheet):
    one, other = (shown(IconButton(sheet, name, name, bool)) for name in ("undo", "redo"))
    one.tip.show()
    other.tip.show()
    assert (one.tip.is_shown, other.tip.is_shown) == (False, True)
    assert len([child for child in root.winfo_children() if isinstance(child, tk.Toplevel)]) == 1


# Dialogs ---------------------------------------------------------------------------------------

ANSWERS = {"save": "Save", "drop": "Do not save", "stay": "Cancel"}


def answered(root, act):
    """Ask, let ``act`` do something with the dialog once it has the keyboard, return the answer."""
    dialog = dialogs.question(root, "Save the changes?", "They are not in the file.", ANSWERS)

    def when_shown():
        if dialog.grab_status() is None:
            root.after(20, when_shown)
            return
        try:
            dialog.focus_force()
            settle(root)
            dialog._take_focus()
            settle(root)
            act(dialog)
        finally:
            if dialog.winfo_exists():
                dialog.close("nobody answered")

    root.after(20, when_shown)
    return dialog.show()


@pytest.mark.parametrize(("key", "answer"), [("Return", "save"), ("space", "save"), ("Escape", "")])
def test_keys_answer_a_dialog(root, key, answer):
    assert answered(root, lambda dialog: press_key(dialog, key)) == answer


@pytest.mark.parametrize("answer", list(ANSWERS))
def test_buttons_answer_a_dialog(root, answer):
    assert answered(root, lambda dialog: click(dialog.buttons[answer])) == answer


def test_tab_goes_round_inside_a_dialog(root):
    seen = []

    def act(dialog):
        press_key(dialog, "Tab")
        seen.append(dialog.focus_get())
        assert dialog.focus_get() is dialog.buttons["drop"].keys_to
        press_key(dialog, "Return")

    assert answered(root, act) == "drop"
    assert len(seen) == 1


def test_the_keyboard_goes_back_to_where_it_was(root, sheet):
    row = shown(FieldRow(sheet, "rake"), fill="x")
    row.focus_field()
    settle(root)
    answered(root, lambda dialog: dialog.close("save"))
    wait_for(root, lambda: root.focus_get() is row.keys_to)


class Answering(dialogs.Questions):
    def __init__(self, answer):
        self.answer, self.asked = answer, []

    def ask(self, parent, title, text, choices):
        self.asked.append(title)
        return self.answer


def test_a_test_can_answer_instead(root):
    stand_in = Answering("drop")
    undo = dialogs.ask_through(stand_in)
    try:
        assert dialogs.ask(root, "Save the changes?", "", ANSWERS) == "drop"
        assert dialogs.questions() is stand_in
    finally:
        undo()
    assert stand_in.asked == ["Save the changes?"]
    assert dialogs.questions() is not stand_in


def test_files_are_asked_for_by_path(root, monkeypatch):
    told = []

    def chooser(answer):
        return lambda **how: (told.append(how), answer)[1]

    monkeypatch.setenv("PATH", "")  # no program of the desktop's own
    kinds = [("rigfit jobs", "*.toml")]
    monkeypatch.setattr("tkinter.filedialog.askopenfilename", chooser("boats/skiff.toml"))
    monkeypatch.setattr("tkinter.filedialog.asksaveasfilename", chooser(""))
    ask = dialogs.questions()
    assert ask.open_path(root, "Open", kinds) == Path("boats/skiff.toml")
    assert ask.save_path(root, "Save", kinds, suggestion=Path("boats/skiff.toml")) is None
    assert (told[1]["initialdir"], told[1]["initialfile"]) == ("boats", "skiff.toml")


def test_dialogs_leave_nothing_behind(root):
    import customtkinter as ctk

    before = set(ctk.ScalingTracker.window_widgets_dict)
    answered(root, lambda dialog: dialog.close(""))
    assert set(ctk.ScalingTracker.window_widgets_dict) == before


# Pages of text ---------------------------------------------------------------------------------


@pytest.fixture
def page(root, sheet):
    made = shown(TextPage(sheet, "One line.\nAnother line."), fill="both", expand=True)
    made.focus_set()
    settle(root)
    return made


def test_a_page_can_be_read_but_not_changed(root, page):
    type_text(root, "abc")
    press_key(
        root, "BackSpace", "Delete", "Control-v", "Control-x", "Return", "Control-d", "Control-k"
    )
    assert page.text == "One line.\nAnother line."


def test_an_aligned_page_has_letters_of_one_width_at_every_scale(root, sheet):
    page = shown(TextPage(sheet, "iii\nWWW", is_aligned=True), fill="both", expand=True)
    widths = []
    for scale in (1.0, 2.0):
        theme.apply("light", scale)
        settle(root)
        used = tkfont.Font(root, font=page.keys_to.cget("font"))
        assert used.measure("iii") == used.measure("WWW")
        widths.append(used.measure("W" * 80))
    assert widths[1] > 1.8 * widths[0]
    assert page.text == "iii\nWWW"


def test_a_page_can_be_selected_and_copied(root, page):
    press_key(root, "Control-a", "Control-c")
    assert root.clipboard_get() == "One line.\nAnother line."
    press_key(root, "Down", "Shift-End")
    assert page.keys_to.get("sel.first", "sel.last") == "Another line."


def test_a_new_text_starts_at_its_beginning(root, page):
    page.set_text("\n".join(str(number) for number in range(500)))
    settle(root)
    assert page.text.startswith("0\n1")
    assert page.keys_to.yview()[0] == 0.0


def test_the_root_gets_the_keyboard_back_for_a_click_beside(root, sheet, page):
    take_keyboard(root)
    page.focus_set()
    click(sheet, 1, 1)
    assert root.focus_get() is root
