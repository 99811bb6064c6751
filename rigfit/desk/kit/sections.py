"""Sections of a form: headings that fold away what is under them."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label
from rigfit.desk.kit.colours import Role


class Section(Area):
    """A heading that folds away what is under it, by a click or with Space or Return.

    Put rows into ``body``.

    :param title: the heading.
    :param on_fold: called with True when it has been opened, False when it was folded.
    """

    def __init__(
        self,
        master: tk.Misc,
        title: str,
        *,
        is_open: bool = True,
        on_fold: Callable[[bool], Any] = bool,
    ) -> None:
        super().__init__(master)
        self.is_open, self._on_fold = is_open, on_fold
        self._head = Area(self)
        tk.Frame.configure(self._head, takefocus=1)
        self._chevron = tk.Label(self._head, bd=0, highlightthickness=0)
        self._title = Label(self._head, title, bold=True)
        self._note = Label(self._head, "", role="dim", size=theme.SMALL)
        self.body = Area(self)
        self.keys_to: tk.Frame = self._head
        self._head.keys_to = self._head  # type: ignore[attr-defined] # read by focus_on_click
        self._chevron.pack(side="left")
        self._note.pack(side="right")
        self._title.pack(side="left")
        self._head.pack(fill="x")
        for part in (self._head, self._chevron, self._title, self._note):
            part.bind("<ButtonRelease-1>", lambda _event: self.toggle())
        for key in ("space", "Return", "KP_Enter"):
            self._head.bind(f"<{key}>", lambda _event: self.toggle())
        self._head.bind("<Configure>", lambda _event: self._fit())
        self._head.bind("<Left>", lambda _event: self.fold())
        self._head.bind("<Right>", lambda _event: self.unfold())
        self.repaint()

    def set_note(self, text: str, role: Role = "dim") -> None:
        """Say something short at the right end of the heading ("2 needed")."""
        if (text, role) != (self._note.cget("text"), self._note.role):
            self._note.set_text(text)
            self._note.set_role(role)
            self._fit()

    @property
    def title(self) -> str:
        """The heading."""
        return str(self._title.cget("text"))

    def set_title(self, text: str) -> None:
        """Show another heading; one too long for a line goes on on the next."""
        if text != self.title:
            self._title.set_text(text)

    def toggle(self) -> None:
        """Fold it away, or open it again."""
        if self.is_open:
            self.fold()
        else:
            self.unfold()

    def fold(self) -> None:
        """Fold it away."""
        if self.is_open:
            self._set_open(False)  # noqa: FBT003

    def unfold(self) -> None:
        """Open it."""
        if not self.is_open:
            self._set_open(True)  # noqa: FBT003

    def focus_set(self) -> None:
        """Give the heading the keyboard."""
        self.keys_to.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        back = theme.colour(self.surface)
        ring = theme.colour("focus")
        tk.Frame.configure(
            self._head,
            highlightcolor=ring,
            highlightbackground=back,
            highlightthickness=theme.px(theme.RING),
        )
        self._chevron.configure(bg=back)
        self._chevron.pack_configure(padx=(theme.px(2), theme.px(6)))
        self._title.pack_configure(ipady=theme.px(5))
        self._note.pack_configure(padx=(theme.px(8), theme.px(6)))
        self._show_open()
        self._fit()

    def _fit(self) -> None:
        """Let the heading break where its note begins."""
        taken = self._chevron.winfo_reqwidth() + self._note.winfo_reqwidth()
        room = self._head.winfo_width() - taken - theme.px(2 + 6 + 8 + 6 + 2 * theme.RING)
        if room > 0:
            self._title.set_wrap(room)

    def _set_open(self, is_open: bool) -> None:  # noqa: FBT001
        self.is_open = is_open
        self._show_open()
        self._on_fold(is_open)

    def _show_open(self) -> None:
        name = "down" if self.is_open else "right"
        self._chevron.configure(image=icons.photo(name, "dim", 14))
        if self.is_open:
            self.body.pack(fill="x", pady=(theme.px(theme.GAP), 0))
        else:
            self.body.pack_forget()
