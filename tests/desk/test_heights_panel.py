"""The table of heights: in the job's units, sorted as numbers, chosen, drawn besides and copied."""

from __future__ import annotations

import csv
import io

import pytest

from rigfit.desk import exports
from rigfit.desk.clearances import clearances_of
from rigfit.desk.form_state import Address
from rigfit.desk.heights_panel import HeightsPanel, drilling_words, option_words, row_key
from rigfit.desk.kit import icons, theme
from rigfit.desk.reuse_part import MOST_TO_FILL, fill_words, reuse_key, reuse_words
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import MOST_GHOSTS, Workbench, height_key
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.hole_fit import OldHole
from rigfit.units import Shown
from tests.desk.harness import click, faults, press_key, screenshot, settle, tab_stops, wait_for
from tests.desk.panels import count_widgets, demo_bench, shown_panel, with_old_holes
from tests.desk.swinging_boat import swinging_bench

A, B, C, D = range(4)
MM, INCH = Shown("mm"), Shown("in")
RAKE = Address("transom", "rake")
HEIGHT = Address("transom", "height_along_face")
HOLES = Address("mounting", "upper_holes_below_top")


@pytest.fixture
def bench(tmp_path):
    return demo_bench(tmp_path)


@pytest.fixture
def panel(root, bench):
    return shown_panel(root, HeightsPanel, bench)


@pytest.fixture
def said(panel):
    heard = []
    panel.on_say = heard.append
    return heard


def with_steps(bench):
    """Hang the engine on a bracket that can be set."""
    bench.type(Address("bracket", "kind"), "plate-adjustable")
    bench.type(Address("bracket", "setback"), "150 mm")
    bench.type(Address("bracket", "measured_to"), "seat")
    assert any(option.setting_mm for option in bench.options)


def up_to_date(root, panel):
    wait_for(root, lambda: not panel._update.is_waiting)
    settle(root)


def cells(panel, option):
    """Return the cells of a height by the key of their column."""
    tree = panel.table.tree
    return {str(column): str(tree.set(row_key(option), column)) for column in tree["columns"]}


def pick(root, panel, option):
    panel.table.focus_set()
    panel.table.tree.selection_set(row_key(option))
    panel.table.tree.focus(row_key(option))
    root.update()


def words(label):
    return str(label.cget("text"))


# What is shown ---------------------------------------------------------------------------------


@pytest.mark.parametrize("engine", [A, B, C, D])
def test_every_height_is_a_row_with_verdict_mark_and_numbers(root, tmp_path, engine):
    bench = demo_bench(tmp_path, engine)
    panel = shown_panel(root, HeightsPanel, bench)
    assert panel.table.shown_keys == [row_key(option) for option in bench.options]
    for option in bench.options:
        item = panel.table.tree.item(row_key(option))
        assert item["text"].strip() == option.verdict.value
        assert item["image"] == [str(icons.mark(option.verdict))]
        assert cells(panel, option)["row"].split()[0] == str(option.row)
        assert cells(panel, option)["why"] == option.reason


def test_lengths_are_in_mm_with_the_tolerance_of_the_plate(panel, bench):
    shown = cells(panel, bench.options[1])
    assert (shown["lift"], shown["plate"], shown["off"]) == ("+22", "+12 ± 5.4", "0")
    assert "setting" not in shown


def test_lengths_are_in_inches_with_the_tolerance_in_mm(root, tmp_path):
    bench = demo_bench(tmp_path, B, "in")
    panel = shown_panel(root, HeightsPanel, bench)
    shown = cells(panel, bench.options[1])
    assert (shown["plate"], shown["off"]) == ("+7/16 (+12 ± 5.4)", "0")
    assert panel.table.tree.heading("plate", "text") == "Plate, in (mm)"


def test_the_chosen_height_is_marked_and_the_best_where_none_is_chosen(root, panel, bench):
    assert [cells(panel, option)["row"] for option in bench.options] == ["1", "2 chosen", "3", "4"]
    bench.type(Address("mounting", "row"), "")
    up_to_date(root, panel)
    best = bench.options.index(bench.report.mounted)
    assert cells(panel, bench.options[best])["row"] == f"{best + 1} best"


def test_settings_have_a_column_only_where_there_are_any(root, panel, bench):
    with_steps(bench)
    up_to_date(root, panel)
    assert [cells(panel, option)["setting"] for option in bench.options] == [
        f"{option.setting_mm:.0f}" for option in bench.options
    ]
    bench.type(Address("bracket", "kind"), "")
    up_to_date(root, panel)
    assert "setting" not in cells(panel, bench.options[0])


def test_rows_can_be_told_apart_where_it_is_narrow(make_root, bench):
    with_steps(bench)
    root = make_root(size="320x500")
    panel = shown_panel(root, HeightsPanel, bench)
    names = [cells(panel, option)["row"] for option in bench.options]
    assert len(set(names)) == len(names)
    assert faults(root) == []


def test_what_the_table_leaves_out_is_said_about_the_picked_height(make_root, bench):
    root = make_root(size="320x500")
    panel = shown_panel(root, HeightsPanel, bench)
    assert "why" not in tuple(panel.table.tree.cget("displaycolumns"))
    assert words(panel.picked) == option_words(bench.report.mounted, MM)
    pick(root, panel, bench.options[3])
    assert words(panel.picked) == option_words(bench.options[3], MM)
    assert words(panel.picked) == (
        "Row 4: lift +60 mm, plate +49 mm ± 5.6 mm, 24 mm above the target. Tight: high."
    )


def test_target_and_leg_ranges_stand_below(panel, bench):
    assert words(panel.target).startswith("Target 0 mm to +25 mm. Source: ")
    assert len(panel.ranges.texts) == len(bench.report.ranges)
    assert panel.ranges.texts[0].startswith("Measured leg, 514 mm: plate -6.8 mm to +49 mm; fits")
    assert not panel.drilling.winfo_viewable()


def test_a_bare_transom_shows_where_it_may_be_drilled(root, panel, bench):
    bench.type(HOLES, "")
    up_to_date(root, panel)
    assert bench.report.drilling
    assert panel.drilling.winfo_viewable()
    assert panel.drilling.texts == [drilling_words(item, MM) for item in bench.report.drilling]
    assert "; tight" in "".join(panel.drilling.texts)


def test_without_a_report_it_says_why_and_comes_back(root, panel, bench):
    bench.add_engine()
    up_to_date(root, panel)
    assert words(panel.none) == bench.trouble
    assert not panel.table.winfo_viewable()
    panel.copy_text()
    bench.undo()
    up_to_date(root, panel)
    assert panel.table.winfo_viewable()
    assert not panel.none.winfo_viewable()


def test_no_boat_is_said(root, tmp_path):
    panel = shown_panel(root, HeightsPanel, Workbench(load_catalogue(), Settings(), tmp_path))
    assert "no engine yet" in words(panel.none) or "No boat is open" in words(panel.none)
    assert not panel.table.winfo_viewable()


# Sorting ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("column", ["row", "setting", "lift", "plate", "off"])
def test_every_column_of_figures_sorts_as_numbers(root, tmp_path, lengths, column):
    bench = demo_bench(tmp_path, B, lengths)
    with_steps(bench)
    panel = shown_panel(root, HeightsPanel, bench)
    meant = {
        "row": lambda option: (option.row, option.setting_mm),
        "setting": lambda option: option.setting_mm,
        "lift": lambda option: option.lift.value,
        "plate": lambda option: option.plate.value,
        "off": lambda option: option.off_target_mm,
    }[column]
    for backwards in (False, True):
        panel.table.sort(column, is_reversed=backwards)
        wanted = sorted(bench.options, key=meant, reverse=backwards)
        assert panel.table.shown_keys == [row_key(option) for option in wanted]


def test_verdicts_sort_from_best_to_worst(root, panel, bench):
    panel.table.sort("#0")
    ranks = {row_key(option): option.verdict.rank for option in bench.options}
    shown = [ranks[key] for key in panel.table.shown_keys]
    assert shown == sorted(shown)


def test_sorting_and_picking_outlast_typing(root, panel, bench):
    panel.table.sort("plate", is_reversed=True)
    pick(root, panel, bench.options[2])
    before = cells(panel, bench.options[0])
    bench.type(HEIGHT, "530")
    up_to_date(root, panel)
    assert cells(panel, bench.options[0]) != before
    assert panel.table.picked == row_key(bench.options[2])
    assert panel.table.shown_keys == [row_key(option) for option in reversed(bench.options)]


# Choosing --------------------------------------------------------------------------------------


def test_choosing_by_keyboard_is_one_step_to_undo(root, panel, bench, said):
    before = bench.draft
    panel.focus_set()
    press_key(root, "Down", "Down", "Down")
    assert bench.draft is before
    press_key(root, "Return")
    up_to_date(root, panel)
    option = panel.picked_option
    assert bench.report.is_chosen
    assert bench.report.mounted.row == option.row != 2
    assert cells(panel, option)["row"].endswith("chosen")
    assert said == [f"Row {option.row} is chosen; undo takes that back."]
    bench.undo()
    assert bench.draft == before


def test_a_double_click_and_the_button_choose(root, panel, bench):
    x, y, wide, high = panel.table.tree.bbox(row_key(bench.options[2]), "row")
    click(panel.table.tree, x + wide // 2, y + high // 2, double=True)
    assert bench.report.mounted.row == 3
    pick(root, panel, bench.options[3])
    click(panel.buttons["choose"])
    assert bench.report.mounted.row == 4


def test_what_cannot_be_had_is_shown_but_refused(root, panel, bench, said):
    bench.type(HOLES, "120 mm")
    up_to_date(root, panel)
    option = next(option for option in bench.options if not option.is_possible)
    before = bench.draft
    pick(root, panel, option)
    press_key(root, "Return")
    assert bench.draft is before
    assert said == [f"Row {option.row} cannot be chosen: {option.reason}."]
    assert words(panel.picked).endswith("It cannot be chosen.")


def test_choosing_nothing_or_the_same_again_is_answered_in_words(root, panel, bench, said):
    before = bench.draft
    panel.choose()
    panel.overlay()
    pick(root, panel, bench.options[1])
    panel.choose()
    assert said == [
        "Pick a height in the table first.",
        "Pick a height in the table first.",
        "Row 2 is chosen already.",
    ]
    assert bench.draft is before


def test_without_a_listener_nothing_is_said(panel):
    panel.choose()
    panel.copy_csv()


def test_alt_arrows_move_the_engine_and_not_the_pick(root, panel, bench):
    pick(root, panel, bench.options[0])
    press_key(root, "Alt-Up")
    up_to_date(root, panel)
    assert bench.report.mounted.row == 3
    assert panel.table.picked == row_key(bench.options[0])


# Drawing besides -------------------------------------------------------------------------------


def test_a_height_is_drawn_besides_and_marked(root, panel, bench, said):
    option = bench.options[0]
    pick(root, panel, option)
    press_key(root, "o")
    up_to_date(root, panel)
    assert bench.look.ghosts == (height_key(option),)
    assert cells(panel, option)["row"] == "1 overlaid"
    click(panel.buttons["overlay"])
    up_to_date(root, panel)
    assert bench.look.ghosts == ()
    assert cells(panel, option)["row"] == "1"
    assert said == ["Row 1 is drawn besides.", "Row 1 is no longer drawn besides."]


def test_the_mounted_height_is_not_drawn_twice(root, panel, bench, said):
    pick(root, panel, bench.options[1])
    panel.overlay()
    assert bench.look.ghosts == ()
    assert said == ["The engine is drawn on row 2 already; pick another height."]


def test_no_more_than_the_limit_are_drawn_besides(root, panel, bench, said):
    with_steps(bench)
    up_to_date(root, panel)
    others = [option for option in bench.options if option != bench.report.mounted]
    for option in others[: MOST_GHOSTS + 1]:
        pick(root, panel, option)
        panel.overlay()
    up_to_date(root, panel)
    marked = [option for option in others if "overlaid" in cells(panel, option)["row"]]
    assert [height_key(option) for option in marked] == sorted(
        bench.look.ghosts, key=[height_key(option) for option in others].index
    )
    assert len(marked) == MOST_GHOSTS
    assert "made room" in said[-1]


# Copying ---------------------------------------------------------------------------------------


def test_copying_as_text_gives_the_table_of_the_report(root, panel, bench, said):
    panel.buttons["text"].focus_set()
    press_key(root, "space")
    assert root.clipboard_get() == exports.heights_text(bench.report)
    assert said == ["The heights are on the clipboard, as text."]


def test_copying_as_csv_reads_back_as_numbers(root, panel, bench):
    click(panel.buttons["csv"])
    rows = list(csv.DictReader(io.StringIO(root.clipboard_get())))
    assert [int(row["row"]) for row in rows] == [option.row for option in bench.options]
    for row, option in zip(rows, bench.options, strict=True):
        assert float(row["lift (mm)"]) == pytest.approx(option.lift.value, abs=0.001)
        assert float(row["plate above keel line (mm)"]) == pytest.approx(
            option.plate.value, abs=0.001
        )
        assert row["verdict"] == option.verdict.value


# Cheapness -------------------------------------------------------------------------------------


def test_typing_is_followed_once_and_a_little_later(root, panel, bench, monkeypatch):
    calls = []
    update = panel.table.update_rows
    monkeypatch.setattr(panel.table, "update_rows", lambda rows: (calls.append(1), update(rows)))
    before = cells(panel, bench.options[0])
    for text in ("519", "52", "520", "521"):
        bench.type(HEIGHT, text)
    assert calls == []
    assert cells(panel, bench.options[0]) == before
    up_to_date(root, panel)
    assert calls == [1]
    assert cells(panel, bench.options[0]) != before


def test_five_hundred_edits_make_no_more_widgets(root, panel, bench):
    typed = ("518", "", "9999", "49", "61 cm")
    bench.type(HOLES, "")
    panel.refresh()
    bench.undo()
    for engine in (A, C, D, B):
        bench.show_engine(engine)
        panel.refresh()
    before, commands = count_widgets(panel), len(root.tk.call("info", "commands"))
    for number in range(500):
        bench.type(HEIGHT, typed[number % len(typed)])
        if number % 50 == 0:
            bench.show_engine(number // 50 % 4)
        if number % 10 == 0:
            panel.refresh()
    up_to_date(root, panel)
    assert count_widgets(panel) == before
    # One command may stand for the work that is put off.
    assert len(root.tk.call("info", "commands")) <= commands + 1


def test_what_is_not_shown_waits_until_it_is(root, panel, bench):
    panel.pack_forget()
    settle(root)
    bench.show_engine(C)
    assert not panel._update.is_waiting
    panel.pack(fill="both", expand=True)
    settle(root)
    assert [cells(panel, option)["why"] for option in bench.options] == ["too low"] * 4


def test_a_panel_taken_down_takes_its_work_along(root, panel, bench):
    bench.type(HEIGHT, "520")
    assert panel._update.is_waiting
    theme.tell()
    panel.destroy()
    bench.type(HEIGHT, "521")
    settle(root)
    assert not panel._update.is_waiting


# Geometry --------------------------------------------------------------------------------------


def test_everything_can_be_reached_by_tab(root, panel):
    stops = [str(stop) for stop in tab_stops(root)]
    for wanted in (panel.table.tree, *(button.keys_to for button in panel.buttons.values())):
        assert str(wanted) in stops


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize(("width", "height"), [(320, 200), (372, 600), (560, 400)])
def test_nothing_is_cut_off(make_root, tmp_path, lengths, scale, width, height):
    appearance = "dark" if scale == 1.5 else "light"
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(height * scale)}")
    bench = demo_bench(tmp_path, A, lengths)
    panel = shown_panel(root, HeightsPanel, bench)
    for engine in (A, B, C, D):
        bench.show_engine(engine)
        up_to_date(root, panel)
        assert faults(root) == []
    bench.type(HOLES, "")
    up_to_date(root, panel)
    assert faults(root) == []
    bench.type(HOLES, "120 mm")
    with_steps(bench)
    for option in bench.options[:3]:
        bench.toggle_ghost(height_key(option))
    panel.table.sort("plate")
    up_to_date(root, panel)
    assert faults(root) == []


def test_it_keeps_its_shape_when_look_and_width_change(root, panel, bench):
    for appearance, scale, width in (("dark", 2.0, 372), ("light", 1.0, 700), ("dark", 1.5, 320)):
        theme.apply(appearance, scale)
        root.wm_geometry(f"{round(width * scale)}x{round(600 * scale)}+0+0")
        settle(root)
        up_to_date(root, panel)
        assert faults(root) == []


# Reuse of old holes ----------------------------------------------------------------------------


@pytest.fixture
def reuse(root, panel, bench):
    with_old_holes(bench)
    up_to_date(root, panel)
    return panel.reuse


def reuse_cells(reuse, choice):
    tree = reuse.table.tree
    return {str(column): str(tree.set(reuse_key(choice), column)) for column in tree["columns"]}


def pick_reuse(root, reuse, choice):
    reuse.table.focus_set()
    reuse.table.tree.selection_set(reuse_key(choice))
    reuse.table.tree.focus(reuse_key(choice))
    root.update()


def test_every_choice_is_a_row_with_what_it_costs(reuse, bench):
    assert len(bench.report.reuse) > 1
    assert reuse.table.shown_keys == [reuse_key(choice) for choice in bench.report.reuse]
    for choice in bench.report.reuse:
        shown = reuse_cells(reuse, choice)
        assert shown["used"] == str(len(choice.reused))
        assert (shown["breaks"], shown["near"]) == (str(choice.broken), str(choice.too_near))
        assert float(shown["upper"]) == pytest.approx(choice.upper_below_top_mm, abs=0.06)
        assert float(shown["aside"]) == pytest.approx(choice.shift_mm, abs=0.06)
        assert reuse.table.tree.item(reuse_key(choice))["text"].strip() == choice.verdict.value
    assert "trade-off" in words(reuse.about)


def test_the_picked_choice_is_told_in_full(root, reuse, bench):
    more, fewer = bench.report.reuse
    pick_reuse(root, reuse, fewer)
    assert words(reuse.said) == (
        "Old holes 5 and 6 are used again, 4 holes to fill. Upper holes 105 mm below the top, row "
        "4, plate -6.8 mm. Tight: low."
    )
    assert "1 new hole would break into what is there" in reuse_words(more, bench.report, MM)
    assert "8 mm further to starboard" in reuse_words(more, bench.report, MM)
    assert "0.31 in (8 mm)" in reuse_words(more, bench.report, INCH)


def test_choosing_sets_holes_middle_and_row_as_one_step(root, panel, reuse, bench, said):
    before, more = bench.draft, bench.report.reuse[0]
    pick_reuse(root, reuse, more)
    press_key(root, "Return")
    up_to_date(root, panel)
    texts = {
        name: bench.draft.text(Address("mounting", name))
        for name in ("engine", "row", "upper_holes_below_top", "off_centre")
    }
    assert texts == {
        "engine": "B",
        "row": "3",
        "upper_holes_below_top": "60 mm ± 0.2 mm",
        "off_centre": "8 mm ± 0.2 mm",
    }
    served = {item.reuse.number for item in bench.report.holes.holes if item.reuse}
    assert served == set(more.reused)
    assert said[-1] == "Old holes 1, 2 and 3 are used again; undo takes that back."
    assert reuse_cells(reuse, bench.report.reuse[0])["used"] == "3 now"
    assert reuse.table.picked == reuse_key(more)
    click(reuse.button)
    assert said[-1] == "The engine hangs there already."
    bench.undo()
    assert bench.draft == before


def test_without_a_pick_of_several_nothing_is_chosen(root, reuse, bench, said):
    before = bench.draft
    click(reuse.button)
    assert said == ["Pick a row of the reuse of old holes first."]
    assert bench.draft == before


def test_old_holes_to_fill_are_listed(root, panel, reuse, bench):
    bench.choose_reuse(bench.report.reuse[0])
    up_to_date(root, panel)
    assert [hole.number for hole in bench.report.holes.to_fill] == [4, 5, 6]
    assert "Old hole 4: 139.5 mm to starboard, 263 mm below the top, 13.5 mm wide." in (
        reuse.fill.text
    )
    many = [OldHole(at, "", 0.0, 5.0 * at, 4.0) for at in range(1, MOST_TO_FILL + 4)]
    told = fill_words(many, MM)
    assert told[0] == "Hole 1: on the centreline, 5 mm below the top, 8 mm wide."
    assert told[-1] == "And 3 more."


def test_without_old_holes_there_is_nothing_about_them(root, panel, bench):
    assert panel.reuse.winfo_viewable()
    for _ in range(4):
        bench.remove_row("hole", 0)
    up_to_date(root, panel)
    assert not panel.reuse.winfo_viewable()
    bench.undo()
    up_to_date(root, panel)
    assert panel.reuse.winfo_viewable()


def test_the_table_of_reuse_comes_after_the_heights_for_the_keyboard(root, panel, reuse):
    stops = tab_stops(root)
    wanted = [panel.table.tree, panel.buttons["csv"].keys_to, reuse.table.tree]
    places = [stops.index(stop) for stop in (*wanted, reuse.button.keys_to)]
    assert places == sorted(places)


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize(("scale", "width"), [(1.0, 320), (1.5, 372), (2.0, 560), (1.0, 640)])
def test_reuse_is_whole_at_every_width(make_root, tmp_path, lengths, scale, width):
    appearance = "dark" if scale == 1.5 else "light"
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(640 * scale)}")
    bench = demo_bench(tmp_path, B, lengths)
    with_old_holes(bench)
    panel = shown_panel(root, HeightsPanel, bench)
    up_to_date(root, panel)
    assert faults(root) == []
    bench.choose_reuse(bench.report.reuse[0])
    up_to_date(root, panel)
    panel.pane.see(panel.reuse.fill)
    assert faults(root) == []
    screenshot(root, f"reuse-{appearance}-{scale}-{width}-{lengths}", tmp_path)


# -- room to tilt ---------------------------------------------------------------------------------


def headings(panel):
    tree = panel.table.tree
    return [tree.heading(key)["text"] for key in tree.cget("displaycolumns")]


def test_without_anything_round_the_engine_there_is_no_clearance(root, panel):
    assert all("Clearance" not in heading for heading in headings(panel))
    assert "tilt" not in str(panel.picked.cget("text"))


@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_the_clearance_is_the_last_to_come_and_the_first_to_go(make_root, tmp_path, lengths):
    root = make_root(size="1280x720")
    bench = swinging_bench(tmp_path, lengths)
    panel = shown_panel(root, HeightsPanel, bench)
    up_to_date(root, panel)
    assert any(heading.startswith("Clearance") for heading in headings(panel))
    assert faults(root) == []
    root.wm_geometry("360x720+0+0")
    settle(root)
    assert all("Clearance" not in heading for heading in headings(panel))
    assert "tilting it touches stern seat" in str(panel.picked.cget("text"))
    assert faults(root) == []


def test_the_clearance_of_every_height_is_in_its_row(make_root, tmp_path):
    root = make_root(size="1280x720")
    bench = swinging_bench(tmp_path)
    panel = shown_panel(root, HeightsPanel, bench)
    up_to_date(root, panel)
    tree = panel.table.tree
    at = list(tree.cget("columns")).index("clear")
    assert {tree.item(row)["values"][at] for row in tree.get_children()} == {"touches"}
    bench.remove_row("obstacle", 0)
    up_to_date(root, panel)
    gaps = clearances_of(bench.report)
    for option in bench.options:
        gap = gaps[height_key(option)]
        assert not gap.touches
        cell = str(tree.item(row_key(option))["values"][at])
        assert float(cell) == pytest.approx(gap.clear_mm, abs=0.51)
        words = option_words(option, MM, gap)
        assert f" clear of {gap.solid.name} as it tilts" in words


def test_with_no_rake_nobody_knows_where_it_tilts(tmp_path):
    bench = swinging_bench(tmp_path)
    bench.type(RAKE, "")
    assert clearances_of(bench.report) == {}
