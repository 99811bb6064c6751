"""The table of actions: closed, complete, every key once, and no key that edits text."""

import re
from dataclasses import fields

import pytest

from rigfit.desk.actions import ACTIONS, Context, keys_page, shown_keys, tk_sequences

NAMES = sorted(ACTIONS)
EVERYTHING = Context(
    is_saved=False,
    has_file=True,
    can_undo=True,
    can_redo=True,
    engines=2,
    recent=1,
    has_report=True,
    can_raise=True,
    can_lower=True,
    can_steer=True,
    can_play=True,
)


def test_an_unknown_action_is_an_error():
    with pytest.raises(KeyError):
        ACTIONS["sav"]


def test_the_table_cannot_be_added_to():
    with pytest.raises(TypeError):
        ACTIONS["mine"] = ACTIONS["save"]


@pytest.mark.parametrize("platform", ["linux", "darwin", "win32"])
def test_every_key_is_bound_once(platform):
    bound = [name for action in ACTIONS.values() for name in tk_sequences(action, platform)]
    assert len(bound) == len(set(bound)) > 40


def test_labels_are_told_apart():
    labels = [action.label for action in ACTIONS.values()]
    assert len(labels) == len(set(labels))


@pytest.mark.parametrize("name", NAMES)
def test_an_action_says_what_it_does(name):
    action = ACTIONS[name]
    assert action.name == name
    assert re.fullmatch(r"[A-Z][A-Za-z, ]+(\.\.\.)?", action.label)
    assert re.fullmatch(r"[A-Z].+\.", action.sentence)


@pytest.mark.parametrize("letter", "abcdefhktvx")
def test_keys_that_edit_a_text_are_left_alone(letter):
    assert f"Control-{letter}" not in [key for item in ACTIONS.values() for key in item.keys]


@pytest.mark.parametrize("name", NAMES)
def test_everything_can_be_done_when_all_is_there(name):
    is_cancel = name == "cancel"
    assert ACTIONS[name].enabled(EVERYTHING) is not is_cancel


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("undo", "can_undo"),
        ("redo", "can_redo"),
        ("raise", "can_raise"),
        ("lower", "can_lower"),
        ("open-recent", "recent"),
        ("next-engine", "engines"),
        ("previous-engine", "engines"),
        ("remove-engine", "engines"),
        ("duplicate-engine", "engines"),
        ("tilt-up", "has_report"),
        ("tilt-down", "has_report"),
        ("copy-heights", "has_report"),
        ("text-report", "has_report"),
        ("view-template", "has_report"),
        ("export-drawing", "has_report"),
        ("export-template", "has_report"),
        ("export-report", "has_report"),
    ],
)
def test_an_action_waits_for_what_it_needs(name, field):
    values = {item.name: getattr(EVERYTHING, item.name) for item in fields(Context)}
    assert not ACTIONS[name].enabled(Context(**{**values, field: 0}))


@pytest.mark.parametrize("name", ["export-drawing", "export-template", "export-report"])
def test_one_export_at_a_time(name):
    assert not ACTIONS[name].enabled(Context(has_report=True, is_busy=True))


@pytest.mark.parametrize(
    ("is_saved", "has_file", "wanted"),
    [(True, True, False), (False, True, True), (True, False, True), (False, False, True)],
)
def test_saving_is_offered_while_something_is_not_on_disk(is_saved, has_file, wanted):
    assert ACTIONS["save"].enabled(Context(is_saved=is_saved, has_file=has_file)) is wanted


def test_going_on_is_possible_with_nothing_at_all():
    able = {name for name, action in ACTIONS.items() if action.enabled(Context())}
    assert {"new", "open", "demo", "save", "save-as", "add-engine", "keys", "quit"} <= able


@pytest.mark.parametrize(
    ("name", "platform", "shown"),
    [
        ("save", "linux", "Ctrl+S"),
        ("save-as", "win32", "Ctrl+Shift+S"),
        ("save-as", "darwin", "Command+Shift+S"),
        ("raise", "darwin", "Option+Up"),
        ("zoom-in", "linux", "Ctrl+Plus"),
        ("next-engine", "linux", "Ctrl+Page Down"),
        ("keys", "darwin", "F1"),
        ("demo", "linux", ""),
    ],
)
def test_keys_are_shown_as_on_the_keyboard(name, platform, shown):
    assert shown_keys(ACTIONS[name], platform) == shown


@pytest.mark.parametrize(
    ("name", "platform", "sequences"),
    [
        ("save", "linux", ("<Control-Key-s>", "<Control-Key-S>")),
        ("save", "darwin", ("<Command-Key-s>", "<Command-Key-S>")),
        ("save-as", "linux", ("<Control-Shift-Key-s>", "<Control-Shift-Key-S>")),
        ("view-profile", "linux", ("<Control-Key-1>",)),
        ("raise", "linux", ("<Alt-Key-Up>",)),
        ("keys", "linux", ("<Key-F1>",)),
    ],
)
def test_keys_are_bound_as_tk_writes_them(name, platform, sequences):
    assert tk_sequences(ACTIONS[name], platform) == sequences


def test_the_page_of_keys_lists_every_action_that_has_keys():
    page = keys_page("linux")
    assert [label for _, label, _ in page] == [a.label for a in ACTIONS.values() if a.keys]
    assert ("Ctrl+Shift+Z or Ctrl+Y", "Redo", "Do again what was taken back.") in page
