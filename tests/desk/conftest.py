"""Fixtures with a window: an X server once per run, a root window for each test."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.desk import harness

MakeRoot = Callable[..., Any]


@pytest.fixture
def make_root(display: str) -> Iterator[MakeRoot]:
    """Make root windows: ``make_root(appearance, scale, size="1280x720")``; any error in a
    callback of one fails the test."""
    from rigfit.desk.kit.root import Root

    made: list[Any] = []
    errors: list[str] = []

    def make(appearance: str = "light", scale: float = 1.0, size: str = "1280x720") -> Any:
        root = Root(appearance, scale)
        root.report_callback_exception = lambda *error: errors.append(
            "".join(traceback.format_exception(*error))
        )
        # Raw pixels; customtkinter's own method multiplies them.
        root.wm_geometry(f"{size}+0+0")
        made.append(root)
        harness.settle(root)
        return root

    yield make
    for root in made:
        root.close()
    assert not errors, "a callback failed:\n" + "\n".join(errors)


@pytest.fixture
def root(make_root: MakeRoot) -> Any:
    """A root window, light, at 100 %, with the keyboard."""
    made = make_root()
    harness.take_keyboard(made)
    return made
