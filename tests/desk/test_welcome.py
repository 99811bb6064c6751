"""The first screen: three ways to begin, recent files, cautions, the drawing that comes later."""

import tkinter as tk
from pathlib import Path

import pytest

from rigfit.desk import welcome
from rigfit.desk.kit import theme
from rigfit.desk.settings import Recent
from rigfit.desk.welcome import Welcome
from rigfit.wording import CAUTIONS
from tests.desk.harness import (
    click,
    faults,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
    wait_for,
    walk,
)

LONG = "boats of the yard that are waiting for their engines since the winter/" * 2
RECENT = (
    Recent(Path("/srv/harbour/boats/dunlin.rigfit.toml"), is_there=True),
    Recent(Path("/srv/harbour/boats/sandpiper.rigfit.toml"), is_there=False),
    Recent(Path(f"/srv/harbour/{LONG}/{'a very long name ' * 5}.rigfit.toml"), is_there=True),
)


class Begun:
    """The first screen and what was chosen on it."""

    def __init__(self, root):
        self.root, self.chosen = root, []
        self.page = Welcome(
            root,
            on_new=lambda: self.chosen.append("new"),
            on_open=lambda: self.chosen.append("open"),
            on_demo=lambda: self.chosen.append("demo"),
            on_recent=self.chosen.append,
        )

    def show(self, recent=RECENT):
        self.page.pack(fill="both", expand=True)
        self.page.set_recent(recent)
        settle(self.root)

    def words(self):
        labels = [part for part in walk(self.page) if isinstance(part, tk.Label)]
        return [str(part.cget("text")) for part in labels]


@pytest.fixture
def begun(root):
    made = Begun(root)
    made.show()
    return made


def test_three_ways_to_begin(begun):
    for choice in begun.page.choices:
        click(choice)
    assert begun.chosen == ["new", "open", "demo"]


def test_it_says_what_it_is_for_and_every_caution(begun):
    words = begun.words()
    assert "rigfit" in words
    assert any("Does this engine fit this boat?" in line for line in words)
    assert set(CAUTIONS) <= set(words)


def test_a_recent_file_is_opened_and_a_missing_one_is_not(begun):
    there, missing, _ = begun.page.rows
    click(missing)
    assert begun.chosen == []
    click(there)
    assert begun.chosen == [RECENT[0].path]
    assert begun.words().count("missing") == 1


def test_recent_files_can_change(begun):
    begun.page.set_recent(RECENT[:1])
    settle(begun.root)
    assert [row.recent for row in begun.page.rows] == [RECENT[0]]
    assert "missing" not in begun.words()
    begun.page.set_recent(())
    settle(begun.root)
    assert "Worked on before" not in begun.words()
    assert faults(begun.root) == []
    begun.page.set_recent(RECENT)
    settle(begun.root)
    assert "Worked on before" in begun.words()
    assert faults(begun.root) == []


def test_the_same_files_again_change_nothing(begun):
    before = list(begun.page.rows)
    begun.page.set_recent(tuple(RECENT))
    assert begun.page.rows == before


def test_all_of_it_by_keyboard(begun):
    stops = tab_stops(begun.root)
    files = [begun.page.rows[0], begun.page.rows[2]]
    assert stops == [*(choice.keys_to for choice in begun.page.choices), *files]
    begun.page.focus_set()
    press_key(begun.root, "Return", "Tab", "space", "Tab", "Tab", "Return", "Tab", "space")
    assert begun.chosen == ["new", "open", RECENT[0].path, RECENT[2].path]


def test_the_keyboard_is_seen(begun):
    take_keyboard(begun.root)
    first, second, _ = begun.page.choices
    first.focus_set()
    settle(begun.root)
    assert (first.has_ring, second.has_ring) == (True, False)


def test_the_drawing_comes_after_the_screen(make_root, monkeypatch):
    painted = []
    original = welcome._demo_pixels
    monkeypatch.setattr(
        welcome, "_demo_pixels", lambda *room: painted.append(begun.seen()) or original(*room)
    )
    root = make_root()
    begun = Begun(root)
    begun.seen = lambda: begun.page.choices[0].winfo_viewable()
    assert painted == []
    begun.show()
    wait_for(root, lambda: begun.page.picture is not None)
    assert painted == [1]
    settle(root)
    assert (begun.page.picture.width(), begun.page.picture.height()) == welcome._PICTURE


def test_the_drawing_follows_the_appearance(begun):
    wait_for(begun.root, lambda: begun.page.picture is not None)
    before = begun.page.picture
    theme.apply("dark", 1.0)
    wait_for(begun.root, lambda: begun.page.picture is not before)
    assert faults(begun.root) == []


def test_without_the_screen_nothing_is_drawn(root):
    begun = Begun(root)
    theme.apply("dark", 1.0)
    settle(root)
    assert (begun.page._job, begun.page.picture) == ("", None)


@pytest.mark.parametrize("recent", [RECENT, ()], ids=["files", "none"])
@pytest.mark.parametrize(
    ("appearance", "scale", "size"),
    [
        ("light", 1.0, "640x300"),
        ("light", 1.0, "1280x640"),
        ("dark", 1.0, "1900x1000"),
        ("dark", 1.5, "1366x700"),
        ("light", 2.0, "1280x600"),
        ("dark", 2.0, "3800x2000"),
    ],
)
def test_nothing_is_cut_off(make_root, tmp_path, appearance, scale, size, recent):
    root = make_root(appearance, scale, size)
    begun = Begun(root)
    begun.show(recent)
    wait_for(root, lambda: begun.page.picture is not None)
    name = f"welcome-{len(recent)}-{appearance}-{scale}-{size}"
    screenshot(root, name, tmp_path)
    assert faults(root) == []
    begun.page._pane._go(10_000)
    screenshot(root, f"{name}-end", tmp_path)


def test_it_follows_scale_and_width(begun):
    for scale, size in ((1.5, "1280x720"), (2.0, "1280x600"), (1.0, "1900x1000"), (1.0, "640x300")):
        theme.apply("light", scale)
        begun.root.wm_geometry(size)
        settle(begun.root)
        assert faults(begun.root) == []
