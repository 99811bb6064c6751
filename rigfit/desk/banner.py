"""The banner: a strip for what is not urgent enough for a dialog, and stays until it is answered.

Unsaved work found after a crash, a job file that another program has changed. One is shown at a
time; the others wait their turn.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label, Rule, on_keys, space
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.colours import Role
from rigfit.desk.recovery import Recoverable
from rigfit.records.plain_words import shown_path

Kind = Literal["note", "warn"]

_LEAST_TEXT = 320  # logical px; with less beside the buttons, they go below the text
_MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


@dataclass(frozen=True, slots=True)
class _Notice:
    """One thing to be shown: what it is known by, what it says, what can be answered."""

    key: str
    text: str
    buttons: Mapping[str, str]
    on_answer: Callable[[str, str], Any]
    kind: Kind


class Banner(Area):
    """A strip over the whole width, a hairline high while there is nothing to say.

    Escape inside it, or its close button, answers "".
    """

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master)
        self._waiting: list[_Notice] = []
        self._strip: _Strip | None = None
        tk.Frame.configure(self, height=1)

    @property
    def key(self) -> str:
        """What is shown, by its key; "" for nothing."""
        return self._strip.notice.key if self._strip else ""

    @property
    def waiting(self) -> tuple[str, ...]:
        """What is shown and what waits behind it."""
        return tuple(item.key for item in self._waiting)

    @property
    def text(self) -> str:
        """What it says, "" for nothing."""
        return self._strip.notice.text if self._strip else ""

    @property
    def buttons(self) -> Mapping[str, Button]:
        """The buttons shown, by what they answer; "" is the close button."""
        return self._strip.buttons if self._strip else {}

    def show(
        self,
        key: str,
        text: str,
        buttons: Mapping[str, str],
        on_answer: Callable[[str, str], Any],
        kind: Kind = "note",
    ) -> None:
        """Say something, after whatever else is waiting; the same key again replaces its text.

        :param key: what it is known by.
        :param buttons: answers with the words on their buttons, the usual answer first.
        :param on_answer: called with the key and the answer, "" when it was just closed; it is
            then no longer shown.
        """
        notice = _Notice(key, text, dict(buttons), on_answer, kind)
        if key in self.waiting:
            self._waiting[self.waiting.index(key)] = notice
        else:
            self._waiting.append(notice)
        self._refresh()

    def hide(self, key: str) -> None:
        """Stop saying something; nobody is told. An unknown key is passed over."""
        self._waiting = [item for item in self._waiting if item.key != key]
        self._refresh()

    def answer(self, answer: str) -> None:
        """Answer what is shown, as its buttons do."""
        if self._strip is not None:
            notice = self._strip.notice
            self.hide(notice.key)
            notice.on_answer(notice.key, answer)

    def _refresh(self) -> None:
        first = self._waiting[0] if self._waiting else None
        old = self._strip
        if (old.notice if old else None) == first:
            return
        had_keys = old is not None and old.has_keys
        self._strip = None
        if first is not None:
            self._strip = _Strip(self, first, self.answer)
            self._strip.pack(fill="x")
        if old is not None:
            old.destroy()
        if self._strip is None:
            tk.Frame.configure(self, height=1)  # Tk keeps the old height when the last part goes
        if had_keys:
            target: Any = self._strip or self.winfo_toplevel()
            target.focus_set()


class _Strip(Area):
    """What is shown: a sign, the text, a button for every answer and one to close."""

    def __init__(self, master: tk.Misc, notice: _Notice, on_answer: Callable[[str], None]) -> None:
        super().__init__(master, "warn_tint" if notice.kind == "warn" else "accent_tint")
        self.notice = notice
        self.buttons: dict[str, Button] = {}
        line = Area(self)
        self._sign = tk.Label(line, bd=0, highlightthickness=0)
        self._text = Label(line, notice.text)
        self._foot = Area(line)
        self._close = IconButton(line, "close", "Close (Esc)", lambda: on_answer(""))
        line.grid_columnconfigure(1, weight=1)
        for place, (key, words) in enumerate(notice.buttons.items()):
            self.buttons[key] = Button(self._foot, words, lambda given=key: on_answer(given))  # type: ignore[misc]
            self.buttons[key].pack(side="left", padx=(theme.GAP if place else 0, 0))
        self.buttons[""] = self._close
        for button in self.buttons.values():
            on_keys(button.keys_to, lambda: on_answer(""), "Escape")
        line.pack(fill="x")
        space(line, padx=(theme.PADDING, theme.GAP), pady=theme.GAP)
        Rule(self).pack(fill="x")
        self._line = line
        self._sign.grid(row=0, column=0, sticky="n")
        self._text.grid(row=0, column=1, sticky="w")
        self._close.grid(row=0, column=3, sticky="n")
        self._foot.grid(row=0, column=2, sticky="e")
        line.bind("<Configure>", lambda _event: self._fit())
        self.repaint()

    @property
    def has_keys(self) -> bool:
        """True while one of its buttons has the keyboard."""
        inside = self.focus_get()
        return inside is not None and str(inside).startswith(f"{self}.")

    def focus_set(self) -> None:
        """Give the first button the keyboard."""
        next(iter(self.buttons.values())).focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        role: Role = "warn" if self.notice.kind == "warn" else "accent"
        name = "alert" if self.notice.kind == "warn" else "help"
        back = theme.colour(self.surface)
        self._sign.configure(image=icons.photo(name, role, icons.SIZE), bg=back)
        drop = (theme.px(theme.CONTROL) - theme.px(icons.SIZE)) // 2
        self._sign.grid_configure(pady=(drop, 0))
        self._fit()

    def _fit(self) -> None:
        """Break the text to the room there is, with the buttons beside it or below."""
        whole = self._line.winfo_width()
        if whole <= 1:
            return
        sign, close = theme.px(icons.SIZE + theme.GAP), theme.px(theme.CONTROL + theme.GAP)
        room = whole - sign - close
        beside = room - self._foot.winfo_reqwidth() - theme.px(theme.PADDING)
        is_beside = not self.notice.buttons or beside >= theme.px(_LEAST_TEXT)
        self._text.set_wrap(max(beside if is_beside else room, 1))
        edge = theme.px(4)
        self._text.grid_configure(padx=(theme.px(theme.GAP), 0), pady=edge)
        self._close.grid_configure(padx=(theme.px(theme.GAP), 0))
        side = theme.px(theme.PADDING) if is_beside else theme.px(theme.GAP)
        self._foot.grid_configure(
            row=0 if is_beside else 1,
            column=2 if is_beside else 1,
            columnspan=1 if is_beside else 2,
            sticky="e" if is_beside else "w",
            padx=(side, 0),
            pady=(0, 0 if is_beside else edge),
        )


def recover_words(item: Recoverable) -> str:
    """Return a sentence on unsaved work: which boat, when it was written, what to mind."""
    when = _moment(item.written)
    if item.trouble:
        return f"Unsaved work {when} was found but cannot be recovered: {item.trouble}"
    boat = item.boat or "a boat without a name"
    if item.file is None:
        return f"Unsaved work on {boat} {when} was found; it was never saved to a job file."
    found = f"Unsaved work on {boat} ({shown_path(item.file)}) {when} was found"
    if item.file_changed:
        return f"{found}; the job file has been changed since, and recovering leaves it as it is."
    return f"{found}; the job file is as it was when the work began."


def _moment(seconds: float) -> str:
    try:
        moment = datetime.fromtimestamp(seconds)  # local, for it is read by a person
    except (OverflowError, OSError, ValueError):
        return "from an unknown time"
    day = f"{moment.day} {_MONTHS[moment.month - 1]} {moment.year}"
    return f"from {day}, {moment:%H:%M},"
