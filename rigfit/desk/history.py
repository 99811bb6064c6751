"""Undo and redo: every state of the form that was, each sharing what did not change."""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Generic, TypeVar

State = TypeVar("State")

MERGE_SECONDS = 1.0
"""Edits of one field that follow each other within this time are one step."""


@dataclass(frozen=True, slots=True)
class _Step(Generic[State]):
    """One step that can be taken back.

    :param state: the state before it.
    :param label: what was done.
    """

    state: State
    label: str


class History(Generic[State]):
    """The state of the form now, those before it and those taken back.

    States are compared with ``==`` and never changed; they should be frozen and share what they
    have in common.

    :param start: the first state, taken as saved.
    """

    def __init__(self, start: State) -> None:
        self._current = start
        self._saved = start
        self._past: list[_Step[State]] = []
        self._future: list[_Step[State]] = []
        self._merge_key: Hashable = None
        self._last_edit = 0.0

    @property
    def current(self) -> State:
        """The state now."""
        return self._current

    def apply(
        self,
        new: State,
        label: str,
        merge_key: Hashable = None,
        *,
        now: Callable[[], float] = time.monotonic,
    ) -> State:
        """Make ``new`` the current state, as one step that can be taken back; return it.

        A state equal to the current one is no step. What had been taken back is forgotten.

        :param label: what was done, as the undo entry says it ("rake of the transom").
        :param merge_key: edits with an equal key that follow each other within ``MERGE_SECONDS``
            are one step; None for a step of its own.
        :param now: the clock, seconds.
        """
        if new == self._current:
            return self._current
        moment = now()
        soon = moment - self._last_edit <= MERGE_SECONDS
        if merge_key is not None and merge_key == self._merge_key and soon and self._past:
            if new == self._past[-1].state:  # typed and rubbed out again: nothing happened
                self._past.pop()
                merge_key = None
        else:
            self._past.append(_Step(self._current, label))
        self._future.clear()
        self._current, self._merge_key, self._last_edit = new, merge_key, moment
        return new

    def undo(self) -> State:
        """Take the last step back and return the state; without one, the current state."""
        if self._past:
            step = self._past.pop()
            self._future.append(_Step(self._current, step.label))
            self._current = step.state
        self._merge_key = None
        return self._current

    def redo(self) -> State:
        """Do again what was taken back last and return the state; without it, the current one."""
        if self._future:
            step = self._future.pop()
            self._past.append(_Step(self._current, step.label))
            self._current = step.state
        self._merge_key = None
        return self._current

    @property
    def can_undo(self) -> bool:
        """True when there is a step to take back."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """True when something was taken back and nothing else done since."""
        return bool(self._future)

    @property
    def undo_label(self) -> str:
        """What ``undo`` would take back; "" for nothing."""
        return self._past[-1].label if self._past else ""

    @property
    def redo_label(self) -> str:
        """What ``redo`` would do again; "" for nothing."""
        return self._future[-1].label if self._future else ""

    def mark_saved(self) -> None:
        """Take the current state as the one that is saved; it stays a step of its own."""
        self._saved = self._current
        self._merge_key = None

    @property
    def is_saved(self) -> bool:
        """True while the current state equals the saved one, however it was reached."""
        return self._current == self._saved
