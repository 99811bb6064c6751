"""Undo and redo: laws that hold for any sequence of edits, merging, and what a step costs."""

import itertools
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit import tasks
from rigfit.desk.draft import Address, Draft
from rigfit.desk.history import MERGE_SECONDS, History

RAKE = Address("transom", "rake")


def clock(*moments):
    return iter(moments).__next__


def edited(*states):
    history = History(0)
    for state in states:
        history.apply(state, f"to {state}")
    return history


@given(st.lists(st.integers(0, 5)))
def test_undoing_everything_gives_each_state_back_in_turn(states):
    history = edited(*states)
    seen = [state for state, _ in itertools.groupby([0, *states])]
    back = [history.current]
    while history.can_undo:
        back.append(history.undo())
    assert back == seen[::-1]
    forth = [history.current]
    while history.can_redo:
        forth.append(history.redo())
    assert forth == seen


@given(st.lists(st.integers(0, 5), min_size=1), st.integers(0, 9), st.integers(6, 9))
def test_a_new_edit_forgets_what_was_taken_back(states, undos, new):
    history = edited(*states)
    for _ in range(undos):
        history.undo()
    before = history.current
    history.apply(new, "new")
    assert not history.can_redo
    assert history.undo() == before


@given(st.lists(st.sampled_from(["undo", "redo", 1, 2, 3])))
def test_undo_and_redo_are_each_others_opposite(moves):
    history = History(0)
    for move in moves:
        if isinstance(move, int):
            history.apply(move, str(move))
        else:
            getattr(history, move)()
    here = history.current
    if history.can_undo:
        history.undo()
        assert history.redo() == here
    if history.can_redo:
        history.redo()
        assert history.undo() == here


def test_undo_and_redo_without_steps_change_nothing():
    history = History("a")
    assert history.undo() == "a"
    assert history.redo() == "a"
    assert (history.can_undo, history.can_redo) == (False, False)
    assert (history.undo_label, history.redo_label) == ("", "")


def test_the_same_state_again_is_no_step():
    history = edited(1)
    history.undo()
    history.apply(0, "nothing")
    assert history.can_redo
    assert not history.can_undo


def test_labels_say_what_will_be_taken_back_and_done_again():
    history = edited(1, 2)
    assert history.undo_label == "to 2"
    history.undo()
    assert (history.undo_label, history.redo_label) == ("to 1", "to 2")


def type_keys(history, keys, moments, key="rake"):
    now = clock(*moments)
    for index in range(1, len(keys) + 1):
        history.apply(keys[:index], "rake", key, now=now)


def test_keys_typed_into_one_field_are_one_step():
    history = History("")
    type_keys(history, "13.5", [10.0, 10.9, 11.8, 12.7])
    assert history.current == "13.5"
    assert history.undo() == ""
    assert not history.can_undo


@pytest.mark.parametrize("pause", [MERGE_SECONDS + 0.01, 60.0])
def test_a_pause_begins_another_step(pause):
    history = History("")
    type_keys(history, "13", [10.0, 10.0 + pause])
    assert history.undo() == "1"
    assert history.undo() == ""


def test_another_field_begins_another_step():
    history = History("")
    now = clock(10.0, 10.1)
    history.apply("a", "rake", "rake", now=now)
    history.apply("ab", "name", "name", now=now)
    assert history.undo() == "a"


def test_edits_without_a_key_are_never_joined():
    history = History(0)
    now = clock(10.0, 10.0)
    history.apply(1, "add an engine", now=now)
    history.apply(2, "add an engine", now=now)
    assert history.undo() == 1


def test_an_edit_after_undo_or_redo_is_a_step_of_its_own():
    history = History("")
    type_keys(history, "13", [10.0, 10.1])
    history.undo()
    history.redo()
    history.apply("135", "rake", "rake", now=clock(10.2))
    assert history.undo() == "13"


def test_what_was_typed_and_rubbed_out_at_once_is_no_step():
    history = History("")
    now = clock(10.0, 10.2, 10.4)
    history.apply("x", "rake", "rake", now=now)
    history.apply("", "rake", "rake", now=now)
    assert not history.can_undo
    history.apply("y", "rake", "rake", now=now)
    assert history.undo() == ""


def test_saved_is_the_state_that_was_saved_however_it_is_reached():
    history = edited(1)
    assert not history.is_saved
    history.mark_saved()
    assert history.is_saved
    history.apply(2, "on")
    assert not history.is_saved
    history.apply(1, "back by hand")
    assert history.is_saved
    history.undo()
    history.undo()
    history.undo()
    assert not history.is_saved
    history.redo()
    assert history.is_saved


def test_the_saved_state_can_be_returned_to_though_typing_goes_on():
    history = History("")
    now = clock(10.0, 10.1)
    history.apply("1", "rake", "rake", now=now)
    history.mark_saved()
    history.apply("13", "rake", "rake", now=now)
    assert history.undo() == "1"
    assert history.is_saved


def test_five_thousand_edits_cost_little_and_can_all_be_taken_back():
    start = Draft.from_job(tasks.demo_job())
    history = History(start)
    tracemalloc.start()
    try:
        for number in range(5000):
            history.apply(history.current.with_text(RAKE, f"13.{number}°"), "rake")
        used, _ = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert used < 6_000_000  # a copy of all texts at every edit would be 20 times that
    steps = 0
    while history.can_undo:
        history.undo()
        steps += 1
    assert steps == 5000
    assert history.current is start
