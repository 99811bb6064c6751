"""The parts around the form: toolbar, menus, sash, body and pages of text."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigfit.desk.actions import ACTIONS, Context, shown_keys
from rigfit.desk.body import Body
from rigfit.desk.draft import Address
from rigfit.desk.kit import theme
from rigfit.desk.kit.sash import STEP, Sash
from rigfit.desk.layout import PARTS
from rigfit.desk.menus import GROUPS, SCALES, SPEEDS, THEMES, Menus
from rigfit.desk.pages import ReadingPage
from rigfit.desk.settings import Settings
from rigfit.desk.toolbar import NAME_FROM, PICTURES, Toolbar
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import load_catalogue
from tests.desk.harness import click, faults, press_key, settle, tab_stops

RAKE = Address("transom", "rake")


@pytest.fixture
def bench(tmp_path: Path) -> Workbench:
    made = Workbench(load_catalogue(), Settings(), tmp_path)
    made.begin_demo()
    return made


# ---------------------------------------------------------------- menus


class Asked:
    """What the menus were told to do."""

    def __init__(self, root: Any, context: Context, chosen: dict[str, str]) -> None:
        self.done: list[Any] = []
        self.menus = Menus(
            root,
            run=self.done.append,
            set_choice=lambda name, value: self.done.append((name, value)),
            context=lambda: context,
            chosen=lambda name: chosen[name],
            recent=lambda: [("a.toml", lambda: self.done.append("a")), ("b.toml", lambda: None)],
        )
        self.menus.refill()


@pytest.fixture
def asked(root: Any) -> Asked:
    context = Context(engines=2, recent=2, can_undo=True, has_report=True)
    return Asked(root, context, {"theme": "dark", "speeds": "mph", "scale": "150"})


def entries(menu: Any) -> dict[str, int]:
    last = menu.index("end")
    found = range(0 if last is None else last + 1)
    return {menu.entrycget(at, "label").strip(): at for at in found if menu.type(at) != "separator"}


def test_every_action_stands_once_in_the_menus():
    names = [name for _, names in GROUPS for name in names if name]
    assert len(names) == len(set(names))
    assert set(names) | {"menu"} == set(ACTIONS)


def test_an_entry_does_its_action_and_shows_its_keys(asked):
    edit = asked.menus._parts["Edit"]
    at = entries(edit)["Undo"]
    assert edit.entrycget(at, "accelerator") == shown_keys(ACTIONS["undo"])
    edit.invoke(at)
    assert asked.done == ["undo"]


def test_what_cannot_be_done_is_greyed(asked):
    edit = asked.menus._parts["Edit"]
    assert edit.entrycget(entries(edit)["Redo"], "state") == "disabled"
    assert edit.entrycget(entries(edit)["Next engine"], "state") == "normal"


@pytest.mark.parametrize(
    ("name", "words", "chosen"),
    [("theme", THEMES, "Dark"), ("speeds", SPEEDS, "Miles an hour"),
     ("scale", {str(scale): f"{scale} %" for scale in SCALES}, "150 %")],
)  # fmt: skip
def test_a_list_of_choices_marks_the_one_in_force(asked, name, words, chosen):
    menu = asked.menus._lists[name]
    found = entries(menu)
    assert list(found) == list(words.values())
    images = {word: menu.entrycget(at, "image") for word, at in found.items()}
    assert [word for word in images if images[word] == images[chosen]] == [chosen]
    menu.invoke(found[next(iter(found))])
    assert asked.done == [(name, next(iter(words)))]


def test_recent_files_are_opened_from_their_list(asked):
    recent = asked.menus._lists["recent"]
    assert list(entries(recent)) == ["a.toml", "b.toml"]
    recent.invoke(0)
    assert asked.done == ["a"]


def test_refilling_leaves_nothing_double(asked):
    before = {title: asked.menus._parts[title].index("end") for title, _ in GROUPS}
    for _ in range(3):
        asked.menus.refill()
    assert {title: asked.menus._parts[title].index("end") for title, _ in GROUPS} == before


# ---------------------------------------------------------------- toolbar


@pytest.fixture
def bar(root: Any, bench: Workbench) -> Toolbar:
    root.done = []
    made = Toolbar(root, bench, root.done.append, lambda _widget: None)
    made.pack(fill="x")
    settle(root)
    return made


def test_the_bar_shows_boat_engine_and_whether_it_is_saved(bar, bench):
    assert bar._name.cget("text") == "Dunlin"
    assert bar._mark.cget("text") == ""
    assert bar.engine.chosen == "1"
    bench.type(RAKE, "15")
    assert bar._mark.cget("text") == "not saved"
    bench.show_engine(3)
    assert bar.engine.chosen == "3"


def test_another_engine_is_picked_on_the_bar(bar, bench):
    bar.engine.choose("0")
    assert bench.report.case.candidate.id == "A"


def test_the_picture_is_an_action(bar, root, bench):
    bar.picture.choose("face-inside")
    assert root.done == ["view-face-inside"]
    assert bar.picture.chosen == "profile"  # nobody has drawn it yet
    for name in PICTURES:
        bench.set_picture(name)
        assert bar.picture.chosen == name
        assert str(bar.picture.keys_to.cget("text")) == ACTIONS[f"view-{name}"].label


def test_buttons_follow_what_can_be_done(bar, root, bench):
    assert not bar.buttons["undo"].is_enabled
    bench.type(RAKE, "15")
    assert bar.buttons["undo"].is_enabled
    click(bar.buttons["undo"])
    assert root.done == ["undo"]
    assert len([stop for stop in tab_stops(root) if str(stop).startswith(str(bar))]) >= 8


@pytest.mark.parametrize("width", [640, 900, NAME_FROM + 40, 1900])
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_the_bar_fits(make_root, bench, width, scale):
    root = make_root("light", scale, size=f"{round(width * scale)}x200")
    bench.type(Address("boat", "name"), "The name of a boat that goes on and on and on")
    made = Toolbar(root, bench, print, print)
    made.pack(fill="x")
    settle(root)
    assert faults(root) == []
    assert made._name.winfo_ismapped() == (width >= NAME_FROM)


# ---------------------------------------------------------------- sash and body


def test_a_sash_moves_by_pointer_and_by_arrows(root):
    moved: list[float] = []
    sash = Sash(root, moved.append)
    sash.pack(side="left", fill="y")
    settle(root)
    sash.event_generate("<ButtonPress-1>", x=2, y=5, rootx=100, rooty=5)
    sash.event_generate("<B1-Motion>", x=12, y=5, rootx=110, rooty=5)
    assert moved == [10.0]
    press_key(root, "Right", "Left")
    assert moved[1:] == [STEP, -STEP]
    assert str(sash.cget("bg")) == theme.colour("focus")


@pytest.fixture
def body(root: Any, bench: Workbench) -> Body:
    made = Body(root, bench, lambda _name: None)
    made.pack(fill="both", expand=True)
    settle(root)
    return made


def test_columns_are_dragged_within_their_limits(body, root):
    wide = body.measurements.winfo_width()
    body._left_moved(40)
    settle(root)
    assert body.measurements.winfo_width() == wide + 40
    body._left_moved(5000)
    settle(root)
    assert body.drawing.winfo_width() >= theme.px(380)
    assert faults(root) == []


@pytest.mark.parametrize("part", PARTS)
def test_a_part_is_shown_on_a_small_window_by_its_tab(body, root, part):
    root.wm_geometry("640x400+0+0")
    settle(root)
    (column,) = {body.layout.column_of(item) for item in PARTS}
    _, tabs = body._tabs[column]
    tabs.choose("drawing" if part != "drawing" else "heights")
    tabs.choose(part)
    settle(root)
    assert body.seen_parts() == (part,)
    assert getattr(body, part).winfo_viewable()


# ---------------------------------------------------------------- pages


def test_a_page_of_text_is_read_copied_saved_and_closed(root):
    did: list[Any] = []
    page = ReadingPage(root, lambda: did.append("closed"), did.append)
    page.pack(fill="both", expand=True)
    page.show("Keys", "one\ntwo")
    settle(root)
    assert (page.title.cget("text"), page.page.text) == ("Keys", "one\ntwo")
    click(page.copy_button)
    assert root.clipboard_get() == "one\ntwo"
    click(page.save_button)
    page.focus_set()
    press_key(root, "Escape")
    assert did == ["one\ntwo", "closed"]
    assert faults(root) == []
