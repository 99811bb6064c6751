"""The strip between two columns, which is dragged, or moved with arrows, to share the room."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area

STEP = 16
"""Logical px an arrow key moves it."""


class Sash(Area):
    """A strip between two columns.

    :param on_move: called with logical px it is to go to the right, negative to the left.
    """

    def __init__(self, master: tk.Misc, on_move: Callable[[float], Any]) -> None:
        super().__init__(master, "window")
        self._on_move, self._from = on_move, 0
        tk.Frame.configure(self, cursor="sb_h_double_arrow", takefocus=1)
        self.keys_to: tk.Frame = self
        self.bind("<ButtonPress-1>", self._pressed)
        self.bind("<B1-Motion>", self._dragged)
        self.bind("<Left>", lambda _event: self._on_move(-STEP))
        self.bind("<Right>", lambda _event: self._on_move(STEP))
        self.bind("<FocusIn>", lambda _event: self.repaint())
        self.bind("<FocusOut>", lambda _event: self.repaint())
        self.repaint()

    def repaint(self) -> None:
        """Take colour and width from the theme again."""
        role: Any = "focus" if self.focus_get() is self else self.surface
        tk.Frame.configure(self, bg=theme.colour(role), width=theme.px(theme.GAP))

    def _pressed(self, event: tk.Event[Any]) -> None:
        self._from = event.x_root
        self.focus_set()

    def _dragged(self, event: tk.Event[Any]) -> None:
        moved, self._from = event.x_root - self._from, event.x_root
        if moved:
            self._on_move(moved / theme.scale())
