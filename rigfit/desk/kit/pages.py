"""Pages of text to read and copy."""

from __future__ import annotations

import tkinter as tk
from tkinter import font as tkfont
from typing import Any

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area
from rigfit.desk.kit.panes import ScrollBar


class TextPage(Area):
    """A page of text to read, select and copy, for the plain report and the list of keys.

    Tab leaves it; arrows, Page keys, Home and End move in it.

    :param is_aligned: True for text laid out in columns by spaces: all letters of one width.
    """

    def __init__(self, master: tk.Misc, text: str = "", *, is_aligned: bool = False) -> None:
        super().__init__(master)
        self._even = tkfont.nametofont("TkFixedFont", self).copy() if is_aligned else None
        self._text = tk.Text(self, wrap="word", bd=0, width=1, height=1, undo=False)
        self.keys_to: tk.Text = self._text
        self._bar = ScrollBar(self, self._text.yview)
        self._text.configure(yscrollcommand=self._bar.set)
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(0, weight=1)
        self._text.grid(row=0, column=0, sticky="nsew")
        self._bar.grid(row=0, column=1, sticky="ns")
        self._bind_keys()
        self.set_text(text)
        self.repaint()

    @property
    def text(self) -> str:
        """The whole text."""
        return self._text.get("1.0", "end-1c")

    def set_text(self, text: str) -> None:
        """Show another text, from its beginning."""
        self._text.replace("1.0", "end", text)
        self._text.mark_set("insert", "1.0")
        self._text.see("1.0")

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self._text.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        back = theme.colour(self.surface)
        if self._even is not None:
            self._even.configure(size=-theme.px(theme.LABEL))
        self._text.configure(
            bg=back,
            fg=theme.colour("text"),
            font=self._even or theme.tk_font(),
            padx=theme.px(theme.PADDING - theme.RING),
            pady=theme.px(theme.GAP),
            spacing1=theme.px(2),
            spacing3=theme.px(2),
            insertbackground=theme.colour("accent"),
            insertwidth=max(1, theme.px(2)),
            selectbackground=theme.colour("selection"),
            selectforeground=theme.colour("text"),
            inactiveselectbackground=theme.colour("selection"),
            highlightthickness=theme.px(theme.RING),
            highlightcolor=theme.colour("focus"),
            highlightbackground=back,
        )

    def _bind_keys(self) -> None:
        # Not state="disabled": then the arrows would move no cursor to select with.
        text = self._text
        text.bind("<Key>", self._key)
        for sequence in ("<<Cut>>", "<<Paste>>", "<<PasteSelection>>", "<<Clear>>"):
            text.bind(sequence, lambda _event: "break")
        text.bind("<<NextWindow>>", lambda _event: self._leave(text.tk_focusNext()))
        text.bind("<<PrevWindow>>", lambda _event: self._leave(text.tk_focusPrev()))
        for key in ("a", "A"):
            text.bind(f"<Control-{key}>", lambda _event: self._select_all())

    def _key(self, event: tk.Event[Any]) -> str | None:
        moves = {"Up", "Down", "Left", "Right", "Prior", "Next", "Home", "End"}
        copies = event.keysym.lower() in {"c", "insert"} and int(event.state) & 0x4
        # Escape and the function keys belong to the window.
        others = event.keysym == "Escape" or event.keysym.startswith("F")
        return None if event.keysym in moves or copies or others else "break"

    def _leave(self, target: tk.Misc | None) -> str:
        if target is not None:
            target.focus_set()
        return "break"

    def _select_all(self) -> str:
        self._text.tag_add("sel", "1.0", "end-1c")
        return "break"
