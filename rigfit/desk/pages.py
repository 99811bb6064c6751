"""Pages that lie over the middle of the window: a heading, a text to read or a panel, Close."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, Rule, on_keys, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.pages import TextPage


class ReadingPage(Area):
    """A text to read, to copy and to save.

    :param on_close: called when it is to go away.
    :param on_save: called with the text when it is to be written to a file.
    """

    def __init__(
        self, master: tk.Misc, on_close: Callable[[], Any], on_save: Callable[[str], Any]
    ) -> None:
        super().__init__(master, "panel")
        self._on_close, self._on_save = on_close, on_save
        self._head = Area(self)
        self.title = Label(self._head, "", size=theme.HEADING, bold=True)
        self._rule = Rule(self)
        self.page = TextPage(self, is_aligned=True)
        self.title.pack(side="left")
        self.close_button = Button(self._head, "Close", on_close, style="primary")
        self.save_button = Button(self._head, "Save...", lambda: on_save(self.page.text))
        self.copy_button = Button(self._head, "Copy all", self.copy, icon="copy")
        for button in (self.close_button, self.save_button, self.copy_button):
            button.pack(side="right", padx=(theme.GAP, 0))
        self._head.pack(fill="x")
        space(self._head, padx=theme.PADDING, pady=theme.GAP)
        self._rule.pack(fill="x")
        self.page.pack(fill="both", expand=True)
        on_keys(self.page.keys_to, on_close, "Escape")

    def show(self, title: str, text: str) -> None:
        """Show a text under a heading, from its beginning."""
        self.title.set_text(title)
        self.page.set_text(text)

    def copy(self) -> None:
        """Put the whole text on the clipboard."""
        self.clipboard_clear()
        self.clipboard_append(self.page.text)

    def focus_set(self) -> None:
        """Give the text the keyboard."""
        self.page.focus_set()
