"""Rows of the form: a label, a help mark, what is typed or chosen, and a line for a message.

A form has some sixty of them, so a row is plain Tk inside but for its outline, which halves the
time to build it. The line for the message is always kept free: nothing jumps when one appears.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping
from typing import Any, Literal

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label, Outline, ring_on_focus
from rigfit.desk.kit.choices import Choice
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.tooltip import Tooltip

Tone = Literal["error", "warn", "note"]
"""What a message is: it must be put right, it should be looked at, or it only informs."""

FIELD_WIDTH = 208
"""Width of the outline in logical px; all rows share it, so that the fields line up."""

ECHO_CHARACTERS = 13
"""Width kept free behind the entry for the unit or the echo, in figures of the small size."""

_TONES: dict[Tone, Role] = {"error": "error", "warn": "warn", "note": "dim"}


def _nothing(*_given: Any) -> None:
    """Stand in for a callback that nobody asked for."""


class Row(Area):
    """What every row has: the label, the help mark and the message; one field to be put in.

    :param label: name in print, lower case.
    :param help_text: how to take the measurement; "" for no mark.
    :param picture: a function returning a ``PhotoImage`` for the help, or None.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        *,
        help_text: str = "",
        picture: Callable[[], Any] | None = None,
    ) -> None:
        super().__init__(master)
        self._label = Label(self, label, size=theme.LABEL, wrap=1)
        self._mark = tk.Label(self, bd=0, highlightthickness=0)
        self._line = Label(self, "", size=theme.SMALL, anchor="e")
        self._message = ""
        self._tone: Tone = "note"
        self._label.grid(row=0, column=0, sticky="w")
        self._mark.grid(row=0, column=1)
        self._line.grid(row=1, column=0, columnspan=3, sticky="ne")
        self.grid_columnconfigure(0, weight=1)
        self.help = Tooltip(self._mark, help_text, picture=picture)
        self._has_help = bool(help_text)
        self._whole = Tooltip(self._line, self._hidden_part)
        self.bind("<Configure>", lambda event: self._fit(event.width))
        self._label.bind("<Button-1>", lambda _event: self.focus_field())

    @property
    def message(self) -> str:
        """The message under the field, whole even where the line is too short for it."""
        return self._message

    def set_message(self, text: str, tone: Tone = "error") -> None:
        """Say something under the field; "" takes it back. An error also marks the outline."""
        if (text, tone) == (self._message, self._tone):
            return
        self._message, self._tone = text, tone
        self._line.set_role(_TONES[tone])
        self._fit(self.winfo_width())
        self._show_state()

    def set_label(self, text: str) -> None:
        """Show another label."""
        self._label.set_text(text)

    def focus_field(self) -> None:
        """Put the cursor into the field."""

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_rowconfigure(0, minsize=theme.px(theme.CONTROL))
        self.grid_rowconfigure(1, minsize=theme.px(theme.MESSAGE))
        self.grid_columnconfigure(1, minsize=theme.px(theme.MESSAGE + theme.GAP))
        image = icons.photo("help", "dim", theme.MESSAGE) if self._has_help else icons.blank()
        self._mark.configure(image=image, bg=theme.colour(self.surface))
        self._fit(self.winfo_width())

    def _show_state(self) -> None:
        """Show by the outline whether there is an error."""

    def _fit(self, width: int) -> None:
        room = width - theme.px(FIELD_WIDTH + theme.MESSAGE + theme.GAP)
        if room > 0:
            self._label.set_wrap(room)
            sign = self._sign()
            words = f" {self._message}" if sign else self._message
            self._line.set_text(theme.fitted(words, width - sign, theme.SMALL))

    def _sign(self) -> int:
        """Put the sign of its tone before the message; return the room it takes."""
        if not self._message or self._tone == "note":
            self._line.configure(image="")
            return 0
        sign = icons.photo("alert", _TONES[self._tone], theme.SMALL)
        self._line.configure(image=sign, compound="left")
        return theme.px(theme.SMALL)

    def _hidden_part(self) -> str:
        return "" if self._line.cget("text").strip() == self._message else self._message


class FieldRow(Row):
    """A row with an entry, which takes any text; the unit or what was understood stands behind it.

    :param on_edit: called with the text after every change by hand, each key press at once.
    :param on_commit: called with the text when the field is left, or on Return, if it has changed.
    :param on_focus: called when the field gets the keyboard.
    :param on_step: called with +1 (Up) or -1 (Down) and whether Shift is held.
    :param required: True to mark the field while it is empty.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        *,
        help_text: str = "",
        picture: Callable[[], Any] | None = None,
        on_edit: Callable[[str], Any] = _nothing,
        on_commit: Callable[[str], Any] = _nothing,
        on_focus: Callable[[], Any] = _nothing,
        on_step: Callable[[int, bool], Any] | None = None,
        required: bool = False,
        numeric: bool = True,
    ) -> None:
        super().__init__(master, label, help_text=help_text, picture=picture)
        self._on_edit, self._on_commit, self._on_step = on_edit, on_commit, on_step
        self._on_focus, self._required = on_focus, required
        self._silent, self._before = False, ""
        self._outline = Outline(self, width=FIELD_WIDTH)
        self._outline.grid(row=0, column=2)
        self._outline.grid_propagate(False)  # noqa: FBT003
        self._text = tk.StringVar(self)
        self._entry = tk.Entry(self._outline, textvariable=self._text, bd=0, highlightthickness=0)
        self._entry.configure(width=1, justify="right" if numeric else "left")
        self._echo = tk.Label(self._outline, bd=0, padx=0, pady=0, anchor="w")
        self._echo.configure(width=ECHO_CHARACTERS if numeric else 0)
        self._outline.grid_columnconfigure(0, weight=1)
        self._outline.grid_rowconfigure(0, weight=1)
        self._entry.grid(row=0, column=0, sticky="nsew")
        self._echo.grid(row=0, column=1, sticky="ns")
        self.keys_to: tk.Entry = self._entry
        self._outline.keys_to = self._entry
        self._bind_keys()
        self._text.trace_add("write", lambda *_names: self._edited())
        self.repaint()

    @property
    def text(self) -> str:
        """What the entry holds."""
        return self._text.get()

    @property
    def has_focus(self) -> bool:
        """True while the cursor is in the entry."""
        return self._outline.has_ring

    def set_text(self, text: str) -> None:
        """Put a text into the entry without calling anybody; the cursor stays where it can."""
        if text != self.text:
            at = self._entry.index("insert")
            self._silent = True
            self._text.set(text)
            self._silent = False
            self._entry.icursor(at)
            # Only then: a form that shows back what is being typed must not end the edit.
            self._before = text
        self._show_state()

    def set_echo(self, text: str) -> None:
        """Show the unit, or what was understood, behind the entry."""
        self._echo.configure(text=text)

    def set_required(self, required: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Mark the field while it is empty, or do not."""
        self._required = required
        self._show_state()

    def set_enabled(self, enabled: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Let it be typed in, or grey it out and let Tab pass it by."""
        self._entry.configure(state="normal" if enabled else "disabled", takefocus=enabled)
        self._outline.fill("field" if enabled else "hover")
        self._echo.configure(bg=theme.colour(self._outline.surface))

    def focus_field(self) -> None:
        """Put the cursor into the entry and select what is there, to be typed over."""
        self._entry.focus_set()
        self._entry.selection_range(0, "end")
        self._entry.icursor("end")

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        field, text = theme.colour("field"), theme.colour("text")
        self._entry.configure(
            bg=field,
            fg=text,
            font=theme.tk_font(),
            insertbackground=text,
            insertwidth=max(1, theme.px(1)),
            selectbackground=theme.colour("selection"),
            selectforeground=text,
            disabledbackground=theme.colour("hover"),
            disabledforeground=theme.colour("dim"),
        )
        inside = theme.colour(self._outline.surface)
        self._echo.configure(bg=inside, font=theme.tk_font(theme.SMALL))
        edge = max(2, theme.px(2))
        self._entry.grid_configure(padx=(theme.px(8), theme.px(6)), pady=edge)
        self._echo.grid_configure(padx=(0, theme.px(6)), pady=edge)
        self._show_state()

    def _bind_keys(self) -> None:
        entry = self._entry
        ring_on_focus(entry, self._outline)
        entry.bind("<FocusIn>", lambda _event: self._entered(), add="+")
        entry.bind("<FocusOut>", lambda _event: self._left(), add="+")
        entry.bind("<Return>", lambda _event: self._commit())
        entry.bind("<KP_Enter>", lambda _event: self._commit())
        entry.bind("<Escape>", lambda _event: self._revert())
        entry.bind("<F1>", lambda _event: self.help.show())
        entry.bind("<Key>", lambda _event: self.help.hide(), add="+")
        for key, by in (("Up", 1), ("Down", -1)):
            entry.bind(f"<{key}>", lambda _event, step=by: self._step(step, big=False))  # type: ignore[misc]
            entry.bind(f"<Shift-{key}>", lambda _event, step=by: self._step(step, big=True))  # type: ignore[misc]

    def _entered(self) -> None:
        self._before = self.text
        self._show_state()
        self._on_focus()

    def _left(self) -> None:
        self._entry.selection_clear()
        self._commit()
        self._show_state()

    def _edited(self) -> None:
        if not self._silent:
            self._show_state()
            self._on_edit(self.text)

    def _commit(self) -> None:
        if self.text != self._before:
            self._before = self.text
            self._on_commit(self.text)

    def _revert(self) -> None:
        self._text.set(self._before)
        self._entry.icursor("end")

    def _step(self, by: int, *, big: bool) -> str:
        if self._on_step is not None:
            self._on_step(by, big)
        return "break"

    def _show_state(self) -> None:
        is_wanted = self._required and not self.text.strip()
        failed = bool(self._message) and self._tone == "error"
        # An empty field is no mistake yet: its line is thin, so that a new form stays quiet.
        if failed:
            self._outline.warn("error")
        else:
            self._outline.warn("warn" if is_wanted else "", width=1)
        self._echo.configure(fg=theme.colour("warn" if is_wanted else "dim"))


class ChoiceRow(Row):
    """A row with a drop-down list, in line with the entries of the other rows.

    :param choices: keys with the words shown for them.
    :param on_choose: called with the key of the new choice, never by ``set``.
    :param on_focus: called when it gets the keyboard.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        choices: Mapping[str, str],
        *,
        on_choose: Callable[[str], Any] = _nothing,
        on_focus: Callable[[], Any] = _nothing,
        help_text: str = "",
        picture: Callable[[], Any] | None = None,
        chosen: str = "",
    ) -> None:
        super().__init__(master, label, help_text=help_text, picture=picture)
        self.choice = Choice(self, choices, on_choose, chosen=chosen, width=FIELD_WIDTH)
        self.choice.grid(row=0, column=2)
        self.keys_to: tk.Label = self.choice.keys_to
        self.keys_to.bind("<FocusIn>", lambda _event: on_focus(), add="+")
        self.keys_to.bind("<F1>", lambda _event: self.help.show())
        self.keys_to.bind("<FocusOut>", lambda _event: self.help.hide(), add="+")
        self.repaint()

    @property
    def chosen(self) -> str:
        """The key of the choice."""
        return self.choice.chosen

    def set(self, key: str) -> None:
        """Choose, without calling anybody."""
        self.choice.set(key)

    def focus_field(self) -> None:
        """Give the list the keyboard."""
        self.choice.focus_set()

    def _show_state(self) -> None:
        self.choice.warn("error" if self._message and self._tone == "error" else "")
