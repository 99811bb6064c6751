"""The banner: one notice at a time, answered by button, Escape or closing; text that wraps."""

import os
import time
from pathlib import Path

import pytest

from rigfit.desk.banner import Banner, recover_words
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label
from rigfit.desk.recovery import Recoverable
from tests.desk.harness import (
    click,
    faults,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
)

RECOVER = {"recover": "Recover", "discard": "Discard", "later": "Later"}
LOAD = {"load": "Load it again", "keep": "Keep mine"}
WORDS = (
    "Unsaved work on Dunlin (/srv/boats/boats/of the yard/dunlin.rigfit.toml) from 3 May 2024, "
    "14:05, was found; the job file has been changed since, and recovering leaves it as it is."
)


class Shown:
    """A banner above a page, and what it was answered."""

    def __init__(self, root):
        self.answers = []
        self.banner = Banner(root)
        self.banner.pack(fill="x")
        self.below = Area(root)
        self.below.pack(fill="both", expand=True)
        Label(self.below, "the page below").pack(anchor="w")

    def show(self, key, text=WORDS, buttons=RECOVER, kind="note"):
        self.banner.show(key, text, buttons, lambda *given: self.answers.append(given), kind)
        settle(self.banner)


@pytest.fixture
def shown(root):
    made = Shown(root)
    settle(root)
    return made


def test_with_nothing_to_say_it_takes_a_hairline(shown):
    assert shown.banner.winfo_height() == 1
    shown.show("work")
    assert shown.banner.winfo_height() >= theme.CONTROL
    shown.banner.hide("work")
    settle(shown.banner)
    assert (shown.banner.winfo_height(), shown.banner.text, shown.banner.key) == (1, "", "")
    assert shown.answers == []


def test_a_button_answers_with_its_key_and_the_notice_goes(shown):
    shown.show("work")
    click(shown.banner.buttons["discard"])
    assert shown.answers == [("work", "discard")]
    assert shown.banner.waiting == ()


def test_the_close_button_answers_nothing(shown):
    shown.show("work")
    click(shown.banner.buttons[""])
    assert shown.answers == [("work", "")]


def test_escape_inside_answers_nothing_and_elsewhere_is_left_alone(shown, root):
    shown.show("work")
    take_keyboard(root)
    press_key(root, "Escape")
    assert shown.answers == []
    shown.banner.buttons["later"].focus_set()
    press_key(root, "Escape")
    assert shown.answers == [("work", "")]


def test_several_wait_their_turn(shown):
    shown.show("one", "The first.")
    shown.show("two", "The second.", LOAD, "warn")
    assert (shown.banner.text, shown.banner.waiting) == ("The first.", ("one", "two"))
    shown.banner.answer("later")
    assert (shown.banner.text, set(shown.banner.buttons)) == ("The second.", {*LOAD, ""})


def test_one_that_waits_can_be_taken_back(shown):
    shown.show("one", "The first.")
    shown.show("two", "The second.")
    shown.banner.hide("two")
    shown.banner.hide("three")
    assert (shown.banner.text, shown.banner.waiting) == ("The first.", ("one",))


def test_the_same_key_again_replaces_the_text_in_its_place(shown):
    shown.show("one", "The first.")
    shown.show("two", "The second.")
    shown.show("one", "The first, once more.", LOAD)
    assert shown.banner.text == "The first, once more."
    assert shown.banner.waiting == ("one", "two")
    assert set(shown.banner.buttons) == {*LOAD, ""}


def test_an_answer_may_show_the_next_notice(shown):
    said = []

    def answered(key, answer):
        said.append((key, answer))
        shown.show("after", "What came of it.")

    shown.banner.show("one", "The first.", LOAD, answered)
    shown.banner.answer("load")
    assert (said, shown.banner.text) == ([("one", "load")], "What came of it.")


def test_answering_without_a_notice_does_nothing(shown):
    shown.banner.answer("load")
    assert shown.answers == []


def test_the_keyboard_reaches_every_button_and_goes_on_to_the_next_notice(shown, root):
    shown.show("one")
    shown.show("two", "The second.", LOAD)
    stops = tab_stops(root)
    assert stops == [button.keys_to for button in shown.banner.buttons.values()]
    press_key(root, "Tab")
    press_key(root, "Return")
    assert shown.answers == [("one", "recover")]
    assert root.focus_get() is shown.banner.buttons["load"].keys_to
    press_key(root, "Tab", "space")
    assert shown.answers[1:] == [("two", "keep")]
    assert root.focus_get() is root


def test_a_notice_without_buttons_can_only_be_closed(shown):
    shown.show("told", "Settings could not be read; usual settings are taken instead.", {})
    assert list(shown.banner.buttons) == [""]


@pytest.mark.parametrize("kind", ["note", "warn"])
@pytest.mark.parametrize(
    ("appearance", "scale", "size"),
    [
        ("light", 1.0, "1280x600"),
        ("dark", 1.0, "640x300"),
        ("light", 1.5, "960x450"),
        ("dark", 2.0, "1280x600"),
        ("light", 2.0, "3800x2000"),
    ],
)
def test_nothing_is_cut_off(make_root, appearance, scale, size, kind, tmp_path):
    root = make_root(appearance, scale, size)
    shown = Shown(root)
    shown.show("work", WORDS, RECOVER, kind)
    screenshot(root, f"banner-{kind}-{appearance}-{scale}-{size}", tmp_path)
    assert faults(root) == []


def test_it_follows_width_scale_and_appearance(shown, root):
    shown.show("work")
    one_line = shown.banner.winfo_height()
    root.wm_geometry("640x300")
    settle(root)
    assert shown.banner.winfo_height() > one_line
    theme.apply("dark", 2.0)
    settle(root)
    root.wm_geometry("1280x600")
    settle(root)
    assert faults(root) == []
    strip = shown.banner.winfo_children()[0]
    assert strip.cget("bg") == theme.colour("accent_tint")


# What is said about unsaved work ------------------------------------------------------------------


def work(**more):
    given = {"boat": "Dunlin", "file": Path("boats/dunlin.toml"), "written": 1714745100.0, **more}
    return Recoverable(Path("unsaved"), **given)


@pytest.fixture
def harbour_time(monkeypatch):
    monkeypatch.setenv("TZ", "UTC-2")  # POSIX: two hours ahead
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.skipif(os.name == "nt", reason="the time zone cannot be set there")
def test_unsaved_work_is_named_with_boat_file_and_local_time(harbour_time):
    words = recover_words(work())
    assert words.startswith("Unsaved work on Dunlin (boats/dunlin.toml) from 3 May 2024, 16:05,")
    assert "as it was" in words


def test_a_changed_file_is_told_of():
    assert "has been changed since" in recover_words(work(file_changed=True))


def test_a_boat_never_saved_and_one_without_a_name():
    words = recover_words(work(file=None, boat=""))
    assert "a boat without a name" in words
    assert "never saved" in words


def test_trouble_is_passed_on():
    words = recover_words(work(trouble="unsaved: it is damaged."))
    assert words.endswith("cannot be recovered: unsaved: it is damaged.")


@pytest.mark.parametrize("written", [1e300, float("nan"), -1e18])
def test_an_impossible_time_is_no_trouble(written):
    assert "an unknown time" in recover_words(work(written=written))
