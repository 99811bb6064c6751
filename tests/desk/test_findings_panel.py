"""The list of findings: worst first, filtered, opened, and followed to the fields."""

from __future__ import annotations

import tkinter as tk

import pytest

from rigfit.desk.finding_rows import finding_keys, key_number, limit_words
from rigfit.desk.findings_panel import FindingsPanel
from rigfit.desk.form_state import Address
from rigfit.desk.kit import icons, theme
from rigfit.desk.workbench import Change
from rigfit.rigging.findings import Finding, Verdict, phrase
from rigfit.sources import cite
from rigfit.units import Kind, Shown
from rigfit.wording import CAUTIONS, say, verdict_line
from tests.desk.harness import click, faults, press_key, settle, tab_stops, take_keyboard
from tests.desk.panels import count_widgets, demo_bench, shown_panel

A, B, C, D = range(4)
MM, INCH = Shown("mm"), Shown("in")
RAKE = Address("transom", "rake")
HEIGHT = Address("transom", "height_along_face")


def words(label):
    return str(label.cget("text"))


def texts(widget):
    """Return every text that can be seen in a widget."""
    found = []
    if isinstance(widget, tk.Label) and widget.winfo_viewable():
        found.append(words(widget))
    for child in widget.winfo_children():
        found += texts(child)
    return found


@pytest.fixture
def bench(tmp_path):
    return demo_bench(tmp_path)


@pytest.fixture
def panel(root, bench):
    return shown_panel(root, FindingsPanel, bench)


def finding(**more):
    return Finding(220, "A", "plate height", Verdict.FITS, phrase("so"), "geometry", **more)


# Words -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "number", "limit"),
    [
        ({"value": 9.0, "margin": 3.0, "low": 0.0, "high": 25.0},
         "+9 mm, 3 mm to spare", "0 mm to +25 mm"),
        ({"value": -4.0, "margin": -4.0, "low": 0.0}, "-4 mm, 4 mm outside", "at least 0 mm"),
        ({"value": 9.0, "high": 25.0}, "+9 mm", "at most +25 mm"),
        ({"margin": 3.0}, "", ""),
    ],
)  # fmt: skip
def test_the_key_number_has_its_margin_and_its_limit(more, number, limit):
    assert key_number(finding(**more), MM) == number
    assert limit_words(finding(**more), MM) == limit


def test_numbers_are_in_the_units_of_the_job_and_of_their_kind():
    assert key_number(finding(value=25.4, margin=12.7), INCH) == (
        "+1 in (+25 mm), 1/2 in (13 mm) to spare"
    )
    assert key_number(finding(value=13.0, margin=1.0, kind=Kind.ANGLE), INCH) == "+13°, 1° to spare"


def test_findings_that_come_twice_are_told_apart():
    keys = finding_keys([finding(), finding(), finding(value=1.0)])
    assert len(set(keys)) == 3


# What is shown ---------------------------------------------------------------------------------


@pytest.mark.parametrize("engine", [A, B, C, D])
def test_every_finding_is_there_in_order_with_mark_word_number_and_sentence(root, tmp_path, engine):
    bench = demo_bench(tmp_path, engine)
    panel = shown_panel(root, FindingsPanel, bench)
    report = bench.report
    assert words(panel.head.word) == report.verdict.value
    assert words(panel.head.sentence) == verdict_line(report)
    assert [row.finding for row in panel.shown_rows] == list(report.findings)
    tops = [row.winfo_rooty() for row in panel.shown_rows]
    assert tops == sorted(set(tops))
    for row, found in zip(panel.shown_rows, report.findings, strict=True):
        assert words(row.word) == found.verdict.value
        assert str(row._sign.cget("image")) == str(icons.mark(found.verdict))
        assert words(row.title) == found.title
        assert words(row.number) == key_number(found, MM)
        whole = say(found.sentence, MM)
        shown = words(row.sentence)
        assert shown == whole or (found.verdict is Verdict.FITS and shown.endswith("…"))


def test_what_nobody_looked_at_is_named_under_the_list(root, panel, bench):
    report = bench.report
    assert report.not_looked_at
    line = panel.not_looked_at
    assert words(line) == f"Not looked at yet: {', '.join(report.not_looked_at)}."
    assert line.winfo_rooty() > panel.shown_rows[-1].winfo_rooty()
    assert line.winfo_rooty() < panel.cautions.winfo_rooty()
    bench.add_rows("opening", [{"name": "drain", "across": "0", "below_top": "455", "width": "32"}])
    settle(root)
    assert words(line) != f"Not looked at yet: {', '.join(report.not_looked_at)}."
    bench.type(HEIGHT, "")
    while bench.draft.engines:
        bench.remove_engine()
    settle(root)
    assert not line.winfo_manager()


def test_the_cautions_stand_at_the_foot(panel):
    shown = [words(label) for label in panel.cautions.winfo_children()]
    assert shown == list(CAUTIONS)
    assert panel.cautions.winfo_rooty() > panel.shown_rows[-1].winfo_rooty()


def test_the_findings_follow_the_shown_engine(root, panel, bench):
    bench.show_engine(C)
    settle(root)
    assert words(panel.head.word) == "stops"
    assert [row.finding for row in panel.shown_rows] == list(bench.report.findings)


def test_units_change_every_number(root, panel, bench):
    bench.set_units(lengths="in")
    assert words(panel.row(220).number) == key_number(panel.row(220).finding, INCH)
    assert "in (" in words(panel.row(220).number)


# The filter ------------------------------------------------------------------------------------


def test_chips_count_and_filter(root, tmp_path):
    bench = demo_bench(tmp_path, A)
    panel = shown_panel(root, FindingsPanel, bench)
    found = [item.verdict for item in bench.report.findings]
    assert {chip.verdict: chip.count for chip in panel.chips} == {
        verdict: found.count(verdict) for verdict in Verdict
    }
    chips = {chip.verdict: chip for chip in panel.chips}
    click(chips[Verdict.TIGHT])
    assert {row.verdict for row in panel.shown_rows} == {Verdict.TIGHT}
    chips[Verdict.UNKNOWN].focus_set()
    press_key(root, "space")
    assert {row.verdict for row in panel.shown_rows} == {Verdict.TIGHT, Verdict.UNKNOWN}
    press_key(root, "space")
    click(chips[Verdict.TIGHT])
    assert len(panel.shown_rows) == len(found)


def test_an_empty_filter_says_so(root, panel):
    chips = {chip.verdict: chip for chip in panel.chips}
    chips[Verdict.STOPS].toggle()
    settle(root)
    assert panel.shown_rows == []
    assert "No finding stops." in texts(panel)
    chips[Verdict.STOPS].toggle()
    settle(root)
    assert "No finding stops." not in texts(panel)


def test_the_filter_keeps_to_new_verdicts(root, panel, bench):
    chips = {chip.verdict: chip for chip in panel.chips}
    chips[Verdict.UNKNOWN].toggle()
    assert panel.shown_rows == []
    bench.type(RAKE, "")
    assert panel.shown_rows
    assert {row.verdict for row in panel.shown_rows} == {Verdict.UNKNOWN}


def test_chips_take_two_rows_where_it_is_narrow(make_root, bench):
    tops = {}
    for size in ("320x500", "700x500"):
        panel = shown_panel(make_root(size=size), FindingsPanel, bench)
        tops[size] = {chip.winfo_rooty() for chip in panel.chips}
    assert (len(tops["320x500"]), len(tops["700x500"])) == (2, 1)


# Opening ---------------------------------------------------------------------------------------


def test_an_open_finding_tells_numbers_working_and_source(root, panel, bench):
    row = panel.row(220)
    click(row.title)
    settle(root)
    found = bench.report.finding(220)
    shown = texts(row)
    assert say(found.sentence, MM) in shown
    assert {"+12 mm", "0 mm to +25 mm", "5.4 mm"} <= set(shown)
    assert f"Source: {cite(found.source)}." in shown
    for line in found.working:
        assert say(line, MM) in shown
    click(row.title)
    settle(root)
    assert f"Source: {cite(found.source)}." not in texts(row)


def test_an_unknown_finding_says_what_would_settle_it(root, tmp_path):
    bench = demo_bench(tmp_path, A)
    panel = shown_panel(root, FindingsPanel, bench)
    row = panel.row(200)
    assert row.verdict is Verdict.UNKNOWN
    panel.toggle(row.key)
    settle(root)
    assert f"To settle it: {say(bench.report.finding(200).settle, MM)}" in texts(row)


def test_what_was_told_before_is_gone_when_another_finding_takes_the_row(root, panel, bench):
    panel.toggle(panel.row(220).key)
    bench.type(RAKE, "")
    settle(root)
    row = panel.row(220)
    assert row.is_open
    assert not any("moves the plate" in line for line in texts(row))
    assert any(line.startswith("To settle it:") for line in texts(row))


def test_a_link_goes_to_the_deciding_field(root, panel, bench):
    heard = []
    bench.listen(lambda change: heard.append((change, bench.wanted)))
    panel.toggle(panel.row(220).key)
    settle(root)
    links = panel.row(220).details.flow.links
    needs = bench.report.finding(220).needs
    assert len(links) == len(needs)
    for link, need in zip(links, needs, strict=True):
        address = Address.of_need(need, bench.engine_index)
        assert words(link) == address.spec.label
        click(link)
        assert heard.pop() == (Change.GOTO, address)


def test_an_open_finding_stays_open_when_findings_are_sorted_anew(root, panel, bench):
    key = panel.row(302).key
    panel.toggle(key)
    before = [row.key for row in panel.shown_rows]
    bench.type(Address("engine", "upper_to_lower", B), "")
    settle(root)
    assert [row.key for row in panel.shown_rows] != before
    assert [row.key for row in panel.shown_rows if row.is_open] == [key]
    bench.show_engine(C)
    assert not any(row.is_open for row in panel.shown_rows if row.key[1] == "C")
    bench.show_engine(B)
    assert [row.key for row in panel.shown_rows if row.is_open] == [key]


# The keyboard ----------------------------------------------------------------------------------


def test_the_list_is_one_stop_of_tab_and_links_of_open_findings_follow(root, panel):
    def stops():
        return [stop for stop in tab_stops(root) if str(stop).startswith(str(panel.pane))]

    assert stops() == [panel.shown_rows[0]]
    panel.set_open(panel.shown_rows[0].key, is_open=True)
    panel.set_open(panel.shown_rows[2].key, is_open=True)
    settle(root)
    first, third = panel.shown_rows[0], panel.shown_rows[2]
    assert stops() == [first, *first.details.flow.links, *third.details.flow.links]


def test_tab_follows_the_order_shown_after_sorting_anew(root, panel, bench):
    bench.type(Address("engine", "upper_to_lower", B), "")
    for row in (panel.shown_rows[0], panel.shown_rows[-1]):
        panel.set_open(row.key, is_open=True)
    settle(root)
    tops = [stop.winfo_rooty() for stop in tab_stops(root) if "flow" in str(stop)]
    assert len(tops) > 1
    assert tops == sorted(tops)


def test_arrows_move_and_return_space_right_and_left_open_and_fold(root, panel):
    rows = panel.shown_rows
    panel.focus_set()
    press_key(root, "Down", "Down", "Up")
    assert root.focus_get() is rows[1]
    for opening, folding in (("Return", "Return"), ("space", "space"), ("Right", "Left")):
        press_key(root, opening)
        assert rows[1].is_open
        press_key(root, folding)
        assert not rows[1].is_open
    press_key(root, "Left", "End")
    assert root.focus_get() is rows[-1]
    press_key(root, "Down", "Home")
    assert root.focus_get() is rows[0]
    press_key(root, "Up")
    assert root.focus_get() is rows[0]


def test_the_row_with_the_keyboard_has_a_ring_and_is_in_sight(make_root, bench):
    root = make_root(size="372x320")
    panel = shown_panel(root, FindingsPanel, bench)
    take_keyboard(root)
    panel.focus_set()
    press_key(root, "End")
    settle(root)
    row = panel.shown_rows[-1]
    assert root.focus_get() is row
    assert int(row.cget("highlightthickness")) >= theme.RING
    assert row.cget("highlightcolor") == theme.colour("focus")
    top = row.winfo_rooty() - panel.pane.winfo_rooty()
    assert top >= 0
    assert top + row.winfo_height() <= panel.pane.winfo_height()


def test_a_link_has_the_ring_alone(root, panel):
    panel.focus_set()
    row = panel.shown_rows[0]
    press_key(root, "Return", "Tab")
    settle(root)
    assert root.focus_get() is row.details.flow.links[0]
    assert row.cget("highlightcolor") == theme.colour("panel")
    press_key(root, "Shift-Tab")
    settle(root)
    assert root.focus_get() is row
    assert row.cget("highlightcolor") == row.cget("highlightbackground") == theme.colour("focus")


def test_keys_of_the_window_are_left_to_it(root, panel):
    heard = []
    root.bind("<Alt-Up>", lambda _event: heard.append("raise"))
    panel.focus_set()
    press_key(root, "Down", "Alt-Up")
    assert heard == ["raise"]
    assert root.focus_get() is panel.shown_rows[1]


def test_the_keyboard_stays_in_the_list_when_its_finding_goes(root, panel, bench):
    panel.focus_set()
    press_key(root, "End")
    bench.show_engine(C)
    assert root.focus_get() in panel.shown_rows


# Without an answer -----------------------------------------------------------------------------


def test_an_engine_that_lacks_something_says_what_and_leads_there(root, panel, bench):
    heard = []
    bench.add_engine()
    settle(root)
    bench.listen(heard.append)
    assert panel.shown_rows == []
    assert words(panel.head.sentence) == bench.trouble
    (link,) = panel.trouble.flow.links
    click(link)
    assert heard == [Change.GOTO]
    assert bench.wanted == Address("engine", "engine_class", bench.engine_index)


def test_a_boat_without_engines_offers_to_add_one(root, panel, bench):
    while bench.draft.engines:
        bench.remove_engine()
    settle(root)
    (link,) = panel.trouble.flow.links
    assert words(link) == "Add an engine"
    click(link)
    assert len(bench.draft.engines) == 1


def test_no_boat_is_said(root, tmp_path):
    from rigfit.desk.settings import Settings
    from rigfit.desk.workbench import Workbench
    from rigfit.records.profiles import load_catalogue

    panel = shown_panel(root, FindingsPanel, Workbench(load_catalogue(), Settings(), tmp_path))
    assert "No boat is open" in words(panel.head.sentence)
    assert not panel.trouble.winfo_viewable()


def test_entries_that_cannot_be_used_are_named_with_links(root, panel, bench):
    assert not panel.left_out.winfo_viewable()
    bench.type(RAKE, "steep")
    settle(root)
    assert panel.left_out.text == "1 entry cannot be used and is left out:"
    bench.type(HEIGHT, "5 km")
    settle(root)
    assert panel.left_out.text == "2 entries cannot be used and are left out:"
    assert panel.left_out.winfo_viewable()
    heard = []
    bench.listen(heard.append)
    for link, address in zip(panel.left_out.flow.links, (HEIGHT, RAKE), strict=True):
        assert words(link) == address.spec.label
        click(link)
        assert heard.pop() == Change.GOTO
        assert bench.wanted == address
    bench.undo()
    bench.undo()
    settle(root)
    assert not panel.left_out.winfo_viewable()


def test_very_many_wrong_entries_do_not_fill_the_panel(root, panel, bench):
    for address in list(bench.draft.addresses())[5:25]:
        bench.type(address, "nonsense ")
    settle(root)
    assert 1 < len(panel.left_out.flow.links) < 10
    assert "the first are" in panel.left_out.text


# Cheapness -------------------------------------------------------------------------------------


def test_only_findings_that_changed_are_written(root, panel, bench, monkeypatch):
    written = []
    for row in panel.shown_rows:
        keep = row.title.set_text
        monkeypatch.setattr(
            row.title,
            "set_text",
            lambda text, keep=keep, row=row: (written.append(row.key[0]), keep(text)),
        )
    before = {item.code: item for item in bench.report.findings}
    bench.type(Address("transom", "lowest_bolt"), "300")
    changed = [item.code for item in bench.report.findings if before[item.code] != item]
    assert written == changed == [302]
    bench.set_focus(RAKE)
    bench.set_tilt(10.0)
    assert written == [302]


def test_five_hundred_edits_make_no_more_widgets(root, panel, bench):
    for code in (220, 221, 302):
        panel.toggle(panel.row(code).key)
    texts_typed = ("518", "", "9999", "49", "61 cm", "50x")
    for text in texts_typed:
        bench.type(HEIGHT, text)
    for engine in (A, C, D, B):
        bench.show_engine(engine)
    root.update()
    before, commands = count_widgets(panel), len(root.tk.call("info", "commands"))
    for number in range(500):
        bench.type(HEIGHT, texts_typed[number % len(texts_typed)])
        if number % 50 == 0:
            bench.show_engine(number // 50 % 4)
    root.update()
    assert count_widgets(panel) == before
    assert len(root.tk.call("info", "commands")) == commands


def test_what_is_not_shown_waits_until_it_is(root, panel, bench):
    panel.pack_forget()
    settle(root)
    bench.show_engine(C)
    assert words(panel.head.word) == "fits"
    panel.pack(fill="both", expand=True)
    settle(root)
    assert words(panel.head.word) == "stops"


def test_a_panel_taken_down_hears_nothing(root, panel, bench):
    theme.tell()
    panel.destroy()
    bench.show_engine(C)
    root.update()


# Geometry --------------------------------------------------------------------------------------


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize(("width", "height"), [(320, 200), (372, 600), (700, 500)])
def test_nothing_is_cut_off(make_root, tmp_path, lengths, scale, width, height):
    appearance = "dark" if scale == 1.5 else "light"
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(height * scale)}")
    bench = demo_bench(tmp_path, A, lengths)
    panel = shown_panel(root, FindingsPanel, bench)
    for engine in (A, B, C, D):
        bench.show_engine(engine)
        for row in panel.shown_rows[:3]:
            panel.set_open(row.key, is_open=True)
        settle(root)
        assert faults(root) == []
    bench.type(RAKE, "steep")
    bench.add_engine()
    settle(root)
    assert faults(root) == []
    assert panel.pane.winfo_height() >= theme.px(80)


def test_it_keeps_its_shape_when_the_look_changes(root, panel, bench):
    panel.toggle(panel.row(220).key)
    for appearance, scale in (("dark", 2.0), ("light", 1.0), ("dark", 1.5)):
        theme.apply(appearance, scale)
        root.wm_geometry(f"{round(372 * scale)}x{round(600 * scale)}+0+0")
        settle(root)
        assert faults(root) == []
        assert panel.row(220).cget("bg") == theme.colour("panel")
