"""The aids for entering old holes: what each adds, as one step; what it refuses; keys and looks."""

from __future__ import annotations

import io
from itertools import pairwise

import ezdxf
import pytest

from rigfit.desk import entry_aids
from rigfit.desk.draft import Address
from rigfit.desk.drawing_reader import DrawingAnswer
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.measurements import MeasurementsPanel
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
)
from tests.desk.panels import demo_bench

POINTS = {
    "point_a_across": "-300 mm",
    "point_a_below": "0 mm",
    "point_b_across": "300 mm",
    "point_b_below": "0 mm",
}
STOPS = {"paste": 4, "pattern": 6, "tapes": 8, "drawing": 9}
"""Stops of Tab in each card when all of it is shown: its controls, the table, the buttons."""

COPIED = (
    "name\tacross (mm)\tbelow top\tdiameter\nnew port\t-100,5\t80\t13,5\nnew stbd\t100,5\t80\t13,5"
)


@pytest.fixture
def bench(tmp_path):
    return demo_bench(tmp_path)


def placed(root, bench, width=384, height=700):
    panel = MeasurementsPanel(root, bench)
    scale = theme.scale()
    panel.place(x=0, y=0, width=round(width * scale), height=round(height * scale))
    panel.groups["hole"].section.unfold()
    settle(root)
    return panel


@pytest.fixture
def panel(root, bench):
    made = placed(root, bench)
    take_keyboard(root)
    return made


@pytest.fixture
def aids(panel):
    return panel.groups["hole"].aids


def opened(aids, key):
    """Open a card from the keyboard and return it."""
    aids.buttons[key].focus_set()
    settle(aids)
    press_key(aids, "space")
    settle(aids)
    return aids.cards[key]


def copy(root, text):
    root.clipboard_clear()
    root.clipboard_append(text)


def holes(bench):
    return bench.draft.rows("hole")


def put(card, **texts):
    for name, text in texts.items():
        card.fields[name]._text.set(text)
    settle(card)


def shown_rows(card):
    tree = card.preview.table.tree
    return [[str(cell) for cell in tree.item(key, "values")] for key in tree.get_children()]


@pytest.fixture
def drawing(tmp_path):
    """Write a DXF file with a transom and holes; have it chosen whenever a file is asked for."""

    def write(unit=4, circles=((200.0, 470.0), (520.0, 470.0))):
        doc = ezdxf.new("R2000")
        doc.header["$INSUNITS"] = unit
        space = doc.modelspace()
        space.add_lwpolyline([(0, 0), (720, 0), (720, 518), (0, 518)], close=True)
        for place, (x, y) in enumerate(circles):
            space.add_circle((x, y), 6.5, dxfattribs={"layer": f"bolts {place}"})
        out = io.StringIO()
        doc.write(out)
        path.write_text(out.getvalue(), encoding="utf-8")
        return path

    class Chooses(dialogs.Questions):
        def open_path(self, _parent, _title, _kinds):
            return path

    path = tmp_path / "transom.dxf"
    undo = dialogs.ask_through(Chooses())
    yield write
    undo()


def read(root, card):
    click(card.choose)
    wait_for(root, lambda: not card.reader.is_reading)
    settle(root)


# Opening and closing ---------------------------------------------------------------------------


def test_one_card_is_open_at_a_time_and_escape_gives_the_button_the_keyboard(aids, root):
    for key in aids.buttons:
        card = opened(aids, key)
        assert aids.open == key
        assert [name for name, made in aids.cards.items() if made.winfo_viewable()] == [key]
        assert str(root.focus_get()).startswith(str(card))
    card.close_button.focus_set()
    settle(root)
    press_key(root, "Escape")
    settle(root)
    assert aids.open == ""
    assert root.focus_get() is aids.buttons["drawing"].keys_to
    assert not card.winfo_viewable()


def test_cards_are_made_once_however_often_they_are_opened(aids):
    made = {key: opened(aids, key) for key in aids.buttons}
    for key in aids.buttons:
        assert opened(aids, key) is made[key]


def test_an_open_card_is_brought_into_sight(panel, aids, root):
    card = opened(aids, "pattern")
    pane = panel.pane._canvas
    bottom = card.winfo_rooty() + card.winfo_height() - pane.winfo_rooty()
    assert card.winfo_rooty() >= pane.winfo_rooty()
    assert bottom <= pane.winfo_height()


@pytest.mark.parametrize("key", ["paste", "pattern", "tapes", "drawing"])
def test_tab_goes_through_a_card_in_reading_order(panel, aids, bench, root, drawing, key):
    for name, text in POINTS.items():
        bench.type(Address("face", name), text)
    copy(root, COPIED)
    card = opened(aids, key)
    if key == "pattern":
        card.choices["pattern"].choice.choose("trade-wide")
        put(card, upper="48")
    elif key == "tapes":
        put(card, first="310", second="452", diameter="13.5")
    elif key == "drawing":
        drawing()
        read(root, card)
    stops = [stop for stop in tab_stops(root) if str(stop).startswith(f"{card}.")]
    places = [(stop.winfo_rooty() + stop.winfo_height() // 2, stop.winfo_rootx()) for stop in stops]
    assert len(stops) == STOPS[key]
    assert card.preview.add.keys_to is stops[-1]
    for (above, left), (below, right) in pairwise(places):
        assert below > above + 4 or (abs(below - above) <= 4 and right > left)


# Paste -----------------------------------------------------------------------------------------


def test_copied_rows_are_shown_and_added_as_one_step(panel, aids, bench, root):
    before = holes(bench)
    copy(root, COPIED)
    card = opened(aids, "paste")
    assert [row[:3] for row in shown_rows(card)] == [
        ["-100.5", "80", "13.5"],
        ["100.5", "80", "13.5"],
    ]
    assert holes(bench) == before
    assert root.focus_get() is card.preview.add.keys_to
    assert card.preview.add.words == "Add 2 holes"
    press_key(root, "Return")
    settle(root)
    assert len(holes(bench)) == len(before) + 2
    assert holes(bench)[-1] == ("new stbd", "100.5 mm", "80", "13.5")
    assert aids.open == ""
    assert bench.focus == Address("hole", "name", len(before))
    assert bench.undo() == "2 holes more"
    assert holes(bench) == before
    bench.redo()
    assert len(holes(bench)) == len(before) + 2


def test_what_cannot_be_read_is_said_and_the_rest_can_be_added(aids, bench, root):
    copy(root, f"{COPIED}\nlost\tfoo\t2\t3")
    card = opened(aids, "paste")
    assert "Row 4, distance from the centreline" in card.preview.said.text
    assert card.preview.add.words == "Add 2 holes"
    assert faults(root) == []


def test_rows_entered_already_are_warned_of(aids, bench, root):
    copy(root, "-163.5\t48\t13.5\n10\t300\t8")
    card = opened(aids, "paste")
    assert "1 of them lies where a hole is entered already" in card.preview.said.text


def test_an_empty_clipboard_and_a_book_leave_everything_as_it_is(aids, bench, root):
    before = bench.draft
    root.clipboard_clear()
    card = opened(aids, "paste")
    assert card.said.text.startswith("There is no text on the clipboard.")
    assert not card.preview.add.winfo_viewable()
    copy(root, "9" * 5_000_000)
    card.again.focus_set()
    settle(root)
    press_key(root, "Control-v")
    settle(root)
    assert "too large" in card.preview.said.text
    assert shown_rows(card) == []
    assert bench.draft == before
    assert faults(root) == []


def test_the_unit_of_bare_numbers_follows_the_boat(aids, bench, root):
    copy(root, "4\t2\t1")
    card = opened(aids, "paste")
    assert shown_rows(card)[0][:3] == ["4", "2", "1"]
    bench.set_units(entries="inch")
    settle(root)
    assert shown_rows(card)[0][:3] == ["101.6", "50.8", "25.4"]


# Pattern ---------------------------------------------------------------------------------------


def test_a_pattern_and_a_height_give_four_holes(aids, bench, root):
    before = len(holes(bench))
    card = opened(aids, "pattern")
    press_key(root, "Down")
    assert not card.preview.add.winfo_viewable()
    press_key(root, "Tab")
    type_text(root, "48")
    settle(root)
    assert len(shown_rows(card)) == 4
    assert "check each hole by tape" in card.preview.said.text
    press_key(root, "Tab")
    type_text(root, "5 ± 1")
    settle(root)
    assert card.preview.add.words == "Add 4 holes"
    click(card.preview.add)
    settle(root)
    added = holes(bench)[before:]
    assert [row[0] for row in added] == [
        "old upper port", "old upper starboard", "old lower port", "old lower starboard",
    ]  # fmt: skip
    assert all(row[1].endswith("± 1 mm") for row in added)
    assert not any(at.table == "hole" for at in bench.derived.messages)
    bench.undo()
    assert len(holes(bench)) == before


def test_a_wrong_figure_is_complained_of_under_its_field(aids, bench, root):
    card = opened(aids, "pattern")
    card.choices["pattern"].choice.choose("trade-wide")
    put(card, upper="4", centre="wide")
    assert "too small" in card.fields["upper"].message
    assert card.fields["centre"].message
    assert shown_rows(card) == []
    put(card, upper="48", centre="")
    assert card.fields["upper"].message == card.fields["centre"].message == ""
    assert len(shown_rows(card)) == 4


# Tapes -----------------------------------------------------------------------------------------


def test_without_fixed_points_there_are_links_to_their_fields(aids, bench, root):
    card = opened(aids, "tapes")
    assert [str(link.cget("text")) for link in card.notice.flow.links] == [
        Address("face", name).spec.label for name in POINTS
    ]
    assert root.focus_get() is card.notice.flow.links[0]
    press_key(root, "Return")
    settle(root)
    assert bench.focus == Address("face", "point_a_across")
    for name, text in POINTS.items():
        bench.type(Address("face", name), text)
    settle(root)
    assert not card.notice.winfo_viewable()
    assert card.fields["first"].winfo_viewable()


@pytest.fixture
def tapes(aids, bench):
    for name, text in POINTS.items():
        bench.type(Address("face", name), text)
    return opened(aids, "tapes")


def test_the_place_is_shown_while_typing_and_added_with_its_tolerance(tapes, bench, root):
    before = len(holes(bench))
    type_text(root, "drain")
    press_key(root, "Tab")
    type_text(root, "310")
    press_key(root, "Tab")
    type_text(root, "452")
    assert tapes.place.text.startswith("90.2 mm ± ")
    assert not tapes.preview.add.winfo_viewable()
    put(tapes, diameter="13.5 ± 0.2")
    click(tapes.preview.add)
    settle(root)
    assert len(holes(bench)) == before + 1
    name, across, below, diameter = holes(bench)[-1]
    assert (name, diameter) == ("drain", "13.5 mm ± 0.2 mm")
    assert across.startswith("-90.2 ± ") and across.endswith(" mm")
    assert below.startswith("228.2 ± ")
    assert not any(at.table == "hole" for at in bench.derived.messages)
    bench.undo()
    assert len(holes(bench)) == before


def test_the_card_stays_for_the_next_hole_and_keeps_the_diameter(tapes, root):
    put(tapes, name="one", first="310", second="452", diameter="13.5")
    click(tapes.preview.add)
    settle(root)
    texts = [tapes.fields[name].text for name in ("name", "first", "second", "diameter")]
    assert texts == ["", "", "", "13.5"]
    assert root.focus_get() is tapes.fields["name"].keys_to
    assert tapes.place.text == ""


def test_tapes_that_do_not_meet_or_hardly_do_say_so(tapes, root):
    put(tapes, first="100", second="100", diameter="13.5")
    assert "too short by 400 mm" in tapes.preview.said.text
    assert not tapes.preview.add.winfo_viewable()
    put(tapes, first="300.1", second="300.1")
    assert "cross so flat" in tapes.place.text
    put(tapes, first="310", second="about")
    assert tapes.fields["second"].message
    assert tapes.place.text == ""
    assert faults(root) == []


def test_the_side_is_one_that_tells_the_two_places_apart(tapes, bench, root):
    choice = tapes.choices["side"].choice
    assert set(choice._choices) == {"below", "above"}
    bench.type(Address("face", "point_b_across"), "-300 mm")
    bench.type(Address("face", "point_b_below"), "400 mm")
    assert set(choice._choices) == {"port", "starboard"}
    assert choice.chosen in choice._choices
    put(tapes, first="310", second="320", diameter="13.5")
    assert tapes.place.text.startswith("56.7 mm ± ")
    choice.choose("port")
    assert tapes.place.text.startswith("543.3 mm ± ")


# Drawing ---------------------------------------------------------------------------------------


def test_circles_are_listed_with_marks_and_added(aids, bench, root, drawing):
    drawing()
    before = len(holes(bench))
    card = opened(aids, "drawing")
    read(root, card)
    assert card.said.text.startswith("transom.dxf: 2 circles; 720 x 518 mm, read in mm, as the")
    assert (card.fields["x"].text, card.fields["y"].text) == ("360 mm", "518 mm")
    assert card.preview.add.words == "Add 2 holes"
    table = card.preview.table
    table.focus_set()
    settle(root)
    press_key(root, "Down", "space")
    assert card.preview.add.words == "Add 1 hole"
    press_key(root, "Return")
    assert card.preview.add.words == "Add 2 holes"
    card.tick_none.invoke()
    settle(root)
    assert not card.preview.add.winfo_viewable()
    card.tick_all.invoke()
    left, top, _, high = table.tree.bbox(table.shown_keys[0], "across")
    assert left > 10
    click(table.tree, 10, top + high // 2)
    assert card.preview.add.words == "Add 1 hole"
    click(card.preview.add)
    settle(root)
    assert [row[1:3] for row in holes(bench)[before:]] == [("160 mm", "48 mm")]
    bench.undo()
    assert len(holes(bench)) == before


def test_layer_and_places_can_be_changed(aids, root, drawing):
    drawing()
    card = opened(aids, "drawing")
    read(root, card)
    card.choices["layer"].choice.choose("bolts 1")
    assert [row[:2] for row in shown_rows(card)] == [["160", "48"]]
    put(card, x="500 mm", y="about")
    assert card.fields["y"].message
    assert shown_rows(card) == []
    put(card, y="500 mm")
    assert [row[:2] for row in shown_rows(card)] == [["20", "30"]]


def test_the_unit_is_asked_for_where_the_file_has_none(aids, root, drawing):
    drawing(unit=0)
    card = opened(aids, "drawing")
    read(root, card)
    assert "720.0 x 518.0 mm" in card.said.text
    assert "18288" in card.said.text
    assert not card.preview.winfo_viewable()
    assert root.focus_get() is card.unit_buttons["mm"].keys_to
    assert faults(root) == []
    press_key(root, "Tab", "space")
    wait_for(root, lambda: not card.reader.is_reading)
    settle(root)
    assert card.fields["x"].text == "9144 mm"
    assert not card.units.winfo_viewable()


def test_a_file_that_cannot_be_used_gives_a_sentence_and_what_was_found_is_gone(
    aids, bench, root, drawing
):
    before = bench.draft
    path = drawing()
    card = opened(aids, "drawing")
    read(root, card)
    path.write_text("The holes are where they were.")
    read(root, card)
    assert "not a DXF file" in card.said.text
    assert not card.preview.winfo_viewable()
    assert bench.draft == before
    assert faults(root) == []


class NeverReady:
    """A reader that reads for ever, until it is told to stop."""

    def __init__(self):
        self.is_reading, self.was_cancelled = False, False

    def start(self, _path, _unit=None):
        self.is_reading = True

    def answer(self):
        return None

    def cancel(self):
        self.was_cancelled = self.was_cancelled or self.is_reading
        self.is_reading = False


@pytest.mark.parametrize("how", ["button", "Escape", "another aid"])
def test_reading_can_be_cancelled_while_the_form_goes_on(aids, bench, root, drawing, how):
    drawing()
    card = opened(aids, "drawing")
    card.reader = NeverReady()
    click(card.choose)
    settle(root)
    assert card.said.text == "Reading transom.dxf ..."
    bench.type(Address("boat", "name"), "Wherry")
    assert card.reader.is_reading
    if how == "button":
        card.stop.focus_set()
        settle(root)
        press_key(root, "space")
        settle(root)
        assert card.said.text == "Reading was cancelled; nothing has changed."
        assert root.focus_get() is card.choose.keys_to
    elif how == "Escape":
        press_key(root, "Escape")
    else:
        opened(aids, "paste")
    assert card.reader.was_cancelled
    assert not card.stop.winfo_viewable()


def test_nothing_is_left_running_when_the_window_goes(aids, panel, root, drawing):
    drawing()
    card = opened(aids, "drawing")
    card.ask_file()
    process = card.reader._process
    panel.destroy()
    assert not process.is_alive()


def test_a_system_without_processes_is_told_in_words(aids, root, drawing, monkeypatch):
    def refuse(*_given):
        raise OSError(11, "no more processes")

    drawing()
    card = opened(aids, "drawing")
    monkeypatch.setattr(card.reader, "start", refuse)
    click(card.choose)
    settle(root)
    assert "no more processes" in card.said.text


# Looks -----------------------------------------------------------------------------------------


def fill(card, key):
    """Bring a card to where it says most."""
    if key == "pattern":
        card.choices["pattern"].choice.choose("trade-narrow")
        put(card, upper="48 ± 0.5", centre="0")
    elif key == "tapes":
        put(card, name="a hole of which somebody made much", first="302", second="303")
        put(card, diameter="13.5")
    elif key == "drawing":
        circles = [(200.0 + 10 * at, 600.0 - 60 * at) for at in range(9)]
        found = read_of(circles)
        card._show(found)
    settle(card)


def read_of(circles):
    from rigfit.desk.drawing_reader import DrawingFound
    from rigfit.records.outline_import import Circle

    made = tuple(Circle(x, y, 13.0) for x, y in circles)
    note = "Left out: 12 TEXT, 3 DIMENSION."
    return DrawingAnswer(DrawingFound(made, "in", "mm", (0, 0, 720, 606), None, (note,)))


@pytest.mark.parametrize(
    ("appearance", "scale", "width", "lengths"),
    [
        ("light", 1.0, 384, "mm"),
        ("light", 1.0, 330, "in"),
        ("dark", 1.5, 330, "mm"),
        ("dark", 2.0, 384, "in"),
        ("light", 2.0, 640, "mm"),
    ],
)
def test_nothing_is_cut_off(make_root, bench, tmp_path, appearance, scale, width, lengths):
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(700 * scale)}")
    bench.set_units(lengths=lengths)
    for name, text in POINTS.items():
        bench.type(Address("face", name), text)
    panel = placed(root, bench, width)
    aids = panel.groups["hole"].aids
    copy(root, f"{COPIED}\n-163.5 mm\t48\t13.5\nlost\tfoo\t2\t3\n")
    for key in aids.buttons:
        aids.toggle(key)
        fill(aids.cards[key], key)
        assert faults(root) == [], key
        screenshot(root, f"aid-{key}-{appearance}-{scale}-{width}-{lengths}", tmp_path)


def test_a_change_of_look_keeps_the_cards_whole(panel, aids, bench, root):
    copy(root, COPIED)
    opened(aids, "paste")
    theme.apply("dark", 1.5)
    panel.place(x=0, y=0, width=576, height=700)
    settle(root)
    assert [fault for fault in faults(root) if "reaches out of the window" not in fault] == []
    theme.apply("light")


def test_every_aid_has_a_button_and_a_card():
    assert list(entry_aids._CARDS) == ["paste", "pattern", "tapes", "drawing"]
