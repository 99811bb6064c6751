"""Small parts that panels share: links that flow, notices, and work put off."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from typing import Any

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.panes import Link

SIDE = 8
"""Distance of words from the edges of a panel, logical px."""

Linked = tuple[str, Callable[[], Any]]
"""The words of a link and what it does."""


class Later:
    """Runs something once, a while after it was last asked for; nothing after ``cancel``.

    :param widget: whose event loop it is.
    :param action: what to run.
    :param wait_ms: how long to wait; 0 for the next time nothing else is to be done.
    """

    def __init__(self, widget: tk.Misc, action: Callable[[], Any], wait_ms: int = 0) -> None:
        self._widget, self._action, self._wait = widget, action, wait_ms
        self._job = ""

    @property
    def is_waiting(self) -> bool:
        """True from being asked until it has run."""
        return bool(self._job)

    def ask(self) -> None:
        """Run it later; while it waits, asking again changes nothing."""
        if not self._job:
            after = self._widget.after_idle if not self._wait else self._delayed
            self._job = after(self._run)

    def ask_anew(self) -> None:
        """Run it later, counted from now."""
        self.cancel()
        self.ask()

    def cancel(self) -> None:
        """Do not run it any more."""
        if self._job:
            self._widget.after_cancel(self._job)
            self._job = ""

    def _delayed(self, action: Callable[[], Any]) -> str:
        return self._widget.after(self._wait, action)

    def _run(self) -> None:
        self._job = ""
        self._action()


class Words(Label):
    """A label that asks Tk for nothing where it says the same as before.

    A list of findings has a hundred of them, and hears of every key press.
    """

    said, wrapped = "", 0

    def set_text(self, text: str) -> None:
        """Show another text."""
        if text != self.said:
            self.said = text
            super().set_text(text)

    def set_wrap(self, width: int) -> None:
        """Break lines at another width, in screen pixels."""
        if width != self.wrapped:
            self.wrapped = width
            super().set_wrap(width)


class Flow(Area):
    """Links one behind the other, in as many lines as the width asks for; they are reused.

    :param on_focus: called when one of them gets the keyboard or loses it.
    """

    def __init__(self, master: tk.Misc, on_focus: Callable[[], Any] = bool) -> None:
        super().__init__(master)
        self._on_focus = on_focus
        self._links: list[Link] = []
        self._words: list[str] = []
        self._width = 0

    @property
    def links(self) -> list[Link]:
        """The links that are shown."""
        return self._links[: len(self._words)]

    def show(self, items: Sequence[Linked]) -> None:
        """Show other links."""
        while len(self._links) < len(items):
            link = Link(self)
            for event in ("<FocusIn>", "<FocusOut>"):
                link.bind(event, lambda _event: self._on_focus())
            self._links.append(link)
        self._words = [words for words, _ in items]
        for link, (words, command) in zip(self._links, items, strict=False):
            link.set(words, command)
        for link in self._links[len(items) :]:
            link.place_forget()
        self.fit(self._width)

    def fit(self, width: int) -> None:
        """Lay the links out in a width in screen pixels."""
        self._width = width
        if width <= 1:
            return
        left = top = high = 0
        for link, words in zip(self._links, self._words, strict=False):
            room = width - 2 * theme.px(theme.GAP + theme.RING)
            tk.Label.configure(link, text=theme.fitted(words, room, theme.SMALL, bold=True))
            wide, high = link.winfo_reqwidth(), link.winfo_reqheight()
            if left and left + wide > width:
                left, top = 0, top + high
            link.place(x=left, y=top)
            left += wide
        tk.Frame.configure(self, width=width, height=max(1, top + high))


class Notice(Area):
    """A paragraph with links for what can be done about it."""

    def __init__(self, master: tk.Misc, role: Role) -> None:
        super().__init__(master)
        self._said = Label(self, role=role, size=theme.LABEL)
        self.flow = Flow(self)
        self._said.pack(anchor="w")
        self.flow.pack(fill="x")
        space(self._said, padx=(SIDE, 0))

    @property
    def text(self) -> str:
        """What it says."""
        return str(self._said.cget("text"))

    def say(self, text: str, links: Sequence[Linked] = ()) -> None:
        """Say something; with "" it is to be hidden by whoever placed it."""
        if text != self.text:
            self._said.set_text(text)
        self.flow.show(links)

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self._said.set_wrap(max(1, width - theme.px(2 * SIDE)))
        self.flow.fit(width)
