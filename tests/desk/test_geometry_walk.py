"""The walk finds what is planted, and finds nothing in a window with every widget of the kit."""

from __future__ import annotations

import tkinter as tk

import pytest

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Card, Label
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.panes import ScrollPane
from rigfit.desk.kit.tables import Column, Table, TableRow
from tests.desk.gallery import Gallery
from tests.desk.harness import faults, screenshot, settle

LONG = "A label that is far too long for the room it has been given here"
SIZES = {1.0: "1280x720", 1.5: "1920x1080", 2.0: "1920x1080"}


@pytest.fixture
def box(root):
    """A box 200 x 100 that does not give way."""
    area = Area(root, "panel")
    area.configure(width=200, height=100)
    area.pack_propagate(False)
    area.grid_propagate(False)
    area.place(x=100, y=100)
    return area


def found(root):
    settle(root)
    return "\n".join(faults(root))


def test_an_empty_window_has_no_faults(root, box):
    assert found(root) == ""


def test_cut_off_text_is_found(root, box):
    Label(box, LONG).pack(fill="x")
    assert "cut off" in found(root)
    assert LONG in found(root)


def test_cut_off_text_inside_a_button_is_found(root, box):
    button = Button(box, "Save", bool)
    button.pack()
    assert found(root) == ""
    button._text_label.configure(text=LONG)
    button.configure(width=32)
    box.configure(width=60)
    assert "cut off" in found(root)


def test_text_cut_off_below_is_found(root, box):
    Label(box, "one\ntwo\nthree\nfour\nfive\nsix\nseven\neight").pack()
    assert "cut off" in found(root)


def test_a_box_that_reaches_out_of_its_parent_is_found(root, box):
    tk.Frame(box, width=50, height=50).place(x=180, y=10)
    assert "reaches out of its parent" in found(root)


def test_a_box_that_reaches_out_of_the_window_is_found(root, box):
    box.place(x=1200, y=10)
    assert "reaches out of the window" in found(root)


def test_neighbours_that_overlap_are_found(root, box):
    one, other = tk.Frame(box, width=50, height=20), tk.Frame(box, width=50, height=20)
    one.grid(row=0, column=0)
    other.grid(row=0, column=0)
    assert "overlap" in found(root)


def test_what_scrolls_may_reach_out(root):
    pane = ScrollPane(root, "panel")
    pane.pack(side="left", fill="y")
    for number in range(80):
        Label(pane.body, f"line {number}").pack(anchor="w")
    assert found(root) == ""


def test_what_a_pane_cannot_show_sideways_is_found(root):
    pane = ScrollPane(root, "panel", width=120)
    pane.pack(side="left", fill="y")
    Label(pane.body, LONG).pack(anchor="w")
    assert "cut off" in found(root)


def test_an_entry_may_hold_more_than_it_shows(root, box):
    entry = tk.Entry(box, width=5)
    entry.insert(0, LONG)
    entry.pack()
    assert found(root) == ""


@pytest.mark.parametrize(
    ("cells", "title", "words"),
    [
        (("short", "1"), "Holes", ""),
        ((LONG, "1"), "Holes", "cell too wide"),
        (("short", "1"), LONG, "heading too wide"),
    ],
)
def test_cells_and_headings_too_wide_are_found(root, cells, title, words):
    table = Table(root, (Column("holes", title, 100), Column("row", "Row", 60)))
    table.pack()
    table.set_rows([TableRow("one", cells)])
    assert words in found(root)
    assert bool(found(root)) == bool(words)


def test_rows_too_low_for_their_letters_are_found(root):
    from tkinter import ttk

    table = Table(root, (Column("holes", "Holes", 100),))
    table.pack()
    assert found(root) == ""
    ttk.Style(root).configure("Rigfit.Treeview", rowheight=8)
    assert "rows too low" in found(root)


def test_columns_cut_off_are_found(root, box):
    Table(box, [Column(str(number), "Row", 100) for number in range(5)]).pack(fill="both")
    assert "columns cut off" in found(root)


@pytest.mark.parametrize("scale", [1.0, 1.5])
def test_outlines_reach_the_last_row_and_column(make_root, tmp_path, scale):
    from PIL import Image, ImageColor

    root = make_root("light", scale)
    card = Card(root)
    tk.Place.place_configure(card, x=10, y=10, width=151, height=75)
    with Image.open(screenshot(root, "card", tmp_path)) as picture:
        line = ImageColor.getrgb(theme.colour("rule"))
        assert [picture.getpixel(spot) for spot in ((160, 40), (80, 84), (10, 40))] == [line] * 3


@pytest.mark.parametrize("scale", list(SIZES))
@pytest.mark.parametrize("appearance", ["light", "dark"])
def test_the_gallery_has_no_faults(make_root, tmp_path, appearance, scale):
    root = make_root(appearance, scale, SIZES[scale])
    Gallery(root)
    assert found(root) == ""
    screenshot(root, f"gallery-{appearance}-{scale}", tmp_path)


def test_the_gallery_has_no_faults_after_the_look_was_switched(make_root):
    root = make_root("light", 1.0, "1920x1080")
    Gallery(root)
    for appearance, scale in (("dark", 2.0), ("light", 1.5), ("dark", 1.0)):
        theme.apply(appearance, scale)
        assert found(root) == "", (appearance, scale)


def test_a_switch_of_scale_there_and_back_moves_nothing(make_root):
    root = make_root("light", 1.0, "1920x1080")
    gallery = Gallery(root)
    settle(root)

    def places():
        return [(row.winfo_x(), row.winfo_y(), row.winfo_height()) for row in gallery.rows.values()]

    before = places()
    theme.apply("light", 2.0)
    settle(root)
    assert places() != before
    theme.apply("light", 1.0)
    settle(root)
    assert places() == before
