"""Rows of the form: a label, a help mark, what is typed or chosen, and a line for a message.

A form has some sixty of them, so a row is plain Tk inside but for its outline, which halves the
time to build it. The line for the message is always kept free, and a long message only takes more
lines once the field is left: nothing jumps while somebody types.
"""

from __future__ import annotations

import re
import tkinter as tk
from collections.abc import Callable, Mapping
from typing import Any, Literal

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label, Outline, on_keys, ring_on_focus
from rigfit.desk.kit.choices import Choice
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.tooltip import Tooltip

Tone = Literal["error", "warn", "note"]
"""What a message is: it must be put right, it should be looked at, or it only informs."""

FIELD_WIDTH = 208
"""Width of the outline in logical px; all rows share it, so that the fields line up."""

ECHO_CHARACTERS = 13
"""Width kept free behind the entry for the unit or the echo, in figures of the small size."""

LONGEST = 4_000
"""Characters a field takes; Tk would lay out a pasted book on one line, for minutes."""

_ECHO_GAP = 6

_TONES: dict[Tone, Role] = {"error": "error", "warn": "warn", "note": "dim"}


def _nothing(*_given: Any) -> None:
    """Stand in for a callback that nobody asked for."""


def one_line(text: str) -> str:
    """Return a pasted text as a field takes it: line ends and tabs are spaces."""
    return re.sub(r"[\r\n\t\v\f\x85\u2028\u2029]+", " ", text.strip("\r\n\t"))


class Row(Area):
    """What every row has: the label, the help mark and the message; one field to be put in.

    :param label: name in print, lower case.
    :param help_text: how to take the measurement, or what finds it when wanted; "" for no mark.
    :param picture: a function returning a ``PhotoImage`` for the help, or None.
    :param field_width: width of the outline in logical px; the same in all rows of a form.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        *,
        help_text: str | Callable[[], str] = "",
        picture: Callable[[], Any] | None = None,
        field_width: int = FIELD_WIDTH,
    ) -> None:
        super().__init__(master)
        self._field_width, self._kept_lines = field_width, 0
        self._label = Label(self, label, size=theme.LABEL, wrap=1)
        self._mark = tk.Label(self, bd=0, highlightthickness=0)
        self._line = Label(self, "", size=theme.SMALL, anchor="e")
        self._sign: tk.Label | None = None
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
        room = width - theme.px(self._field_width + theme.MESSAGE + theme.GAP)
        if room > 0:
            self._label.set_wrap(room)
            words, lines = self._message, self._kept_lines
            wide = width - self._show_sign()
            # Lines break between words, so that several hold less than their width.
            most = wide * lines * (1.0 if lines == 1 else 0.8)
            self._line.set_wrap(0 if lines == 1 else wide)
            self._line.set_text(theme.fitted(words, int(most), theme.SMALL) if lines else words)
            if not lines:
                is_long = self._line.winfo_reqheight() > theme.px(theme.MESSAGE)
                self._line.grid_configure(pady=(0, theme.px(theme.GAP / 2) if is_long else 0))

    def _keep_lines(self) -> None:
        """Keep the room of the message as it is now, whatever it will say."""
        height = self._line.winfo_reqheight()
        self._kept_lines = max(1, round(height / theme.line_height(theme.SMALL)))
        if self._kept_lines > 1:
            self.grid_rowconfigure(1, minsize=height + theme.px(theme.GAP / 2))

    def _free_lines(self) -> None:
        """Give the message the room it asks for again."""
        self._kept_lines = 0
        self.grid_rowconfigure(1, minsize=theme.px(theme.MESSAGE))
        self._fit(self.winfo_width())

    def _show_sign(self) -> int:
        """Put the sign of its tone before the message; return the room it takes."""
        if not self._message or self._tone == "note":
            if self._sign is not None:
                self._sign.place_forget()
            return 0
        if self._sign is None:  # most rows never have one
            self._sign = tk.Label(self, bd=0, padx=0, pady=0)
        image = icons.photo("alert", _TONES[self._tone], theme.SMALL)
        self._sign.configure(image=image, bg=theme.colour(self.surface))
        gap = theme.px(theme.GAP / 2)
        self._sign.place(in_=self._line, x=-gap, y=max(1, theme.px(1)), anchor="ne")
        return theme.px(theme.SMALL) + gap

    def _hidden_part(self) -> str:
        return "" if self._line.cget("text") == self._message else self._message


class FieldRow(Row):
    """A row with an entry, which takes any text; the unit or what was understood stands behind it.

    :param on_edit: called with the text after every change by hand, each key press at once.
    :param on_commit: called with the text when the field is left, or on Return, if it has changed.
    :param on_focus: called when the field gets the keyboard.
    :param on_step: called with +1 (Up) or -1 (Down) and whether Shift is held.
    :param required: True to mark the field while it is empty.
    :param echo_characters: room kept behind the entry of a number, in figures; 0 for as much as
        stands there, which grows at once but shrinks only when the field is left.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        *,
        help_text: str | Callable[[], str] = "",
        picture: Callable[[], Any] | None = None,
        on_edit: Callable[[str], Any] = _nothing,
        on_commit: Callable[[str], Any] = _nothing,
        on_focus: Callable[[], Any] = _nothing,
        on_step: Callable[[int, bool], Any] | None = None,
        required: bool = False,
        numeric: bool = True,
        field_width: int = FIELD_WIDTH,
        echo_characters: int = ECHO_CHARACTERS,
    ) -> None:
        super().__init__(
            master, label, help_text=help_text, picture=picture, field_width=field_width
        )
        self._on_edit, self._on_commit, self._on_step = on_edit, on_commit, on_step
        self._on_focus, self._required = on_focus, required
        self._silent, self._before = False, ""
        self._is_cut, self.was_cut = False, False
        self._outline = Outline(self, width=field_width)
        self._outline.grid(row=0, column=2)
        self._outline.grid_propagate(False)  # noqa: FBT003
        self._text = tk.StringVar(self)
        self._entry = tk.Entry(self._outline, textvariable=self._text, bd=0, highlightthickness=0)
        self._entry.configure(width=1, justify="right" if numeric else "left")
        self._echo = tk.Label(self._outline, bd=0, padx=0, pady=0, anchor="w")
        self._echo.configure(width=echo_characters if numeric else 0)
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
        text = text[:LONGEST]
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
        if text:
            self._keep_echo()

    def _keep_echo(self) -> None:
        """Keep the room behind the entry while somebody types: digits do not move for a unit."""
        if self.has_focus:
            wide = self._echo.winfo_reqwidth() + theme.px(_ECHO_GAP)
            self._outline.grid_columnconfigure(1, minsize=wide)

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
        self._echo.grid_configure(padx=(0, theme.px(_ECHO_GAP)), pady=edge)
        self._show_state()

    def _bind_keys(self) -> None:
        entry = self._entry
        ring_on_focus(entry, self._outline)
        entry.bind("<FocusIn>", lambda _event: self._entered(), add="+")
        entry.bind("<FocusOut>", lambda _event: self._left(), add="+")
        entry.bind("<Return>", lambda _event: self._commit())
        entry.bind("<KP_Enter>", lambda _event: self._commit())
        entry.bind("<Escape>", lambda _event: self._escaped())
        on_keys(entry, self.help.show, "F1")
        entry.bind("<<Paste>>", lambda _event: self._paste("CLIPBOARD", "insert"))
        entry.bind("<<PasteSelection>>", lambda event: self._paste("PRIMARY", f"@{event.x}"))
        entry.bind("<Key>", lambda _event: self.help.hide(), add="+")
        for key, by in (("Up", 1), ("Down", -1)):
            entry.bind(f"<{key}>", lambda _event, step=by: self._step(step, big=False))  # type: ignore[misc]
            entry.bind(f"<Shift-{key}>", lambda _event, step=by: self._step(step, big=True))  # type: ignore[misc]

    def _entered(self) -> None:
        self._before = self.text
        self._keep_lines()
        self._keep_echo()
        self._show_state()
        self._on_focus()

    def _left(self) -> None:
        self._entry.selection_clear()
        self._commit()
        self._free_lines()
        self._outline.grid_columnconfigure(1, minsize=0)
        self._show_state()

    def _edited(self) -> None:
        if self._silent:
            return
        if len(self.text) > LONGEST:
            self._entry.delete(LONGEST, "end")
            self._is_cut = True
        self.was_cut, self._is_cut = self._is_cut, False
        self._show_state()
        self._on_edit(self.text)

    def _paste(self, selection: str, place: str) -> str:
        """Put a copied text in the place of what is selected, as one edit, no longer than held."""
        reader: Any = self._entry
        try:
            copied = one_line(reader.selection_get(selection=selection))
        except tk.TclError:  # nothing was copied, or no text
            return "break"
        entry, text = self._entry, self.text
        first = last = entry.index(place)
        if place == "insert" and entry.selection_present():
            first, last = entry.index("sel.first"), entry.index("sel.last")
        room = LONGEST - len(text) + last - first
        self._is_cut = len(copied) > room
        copied = copied[: max(room, 0)]
        self._text.set(text[:first] + copied + text[last:])
        entry.icursor(first + len(copied))
        entry.selection_clear()
        return "break"

    def _escaped(self) -> None:
        if self.help.is_shown:
            self.help.hide()
        else:
            self._revert()

    def _commit(self) -> None:
        if self.text != self._before:
            self._before = self.text
            self._on_commit(self.text)

    def _revert(self) -> None:
        if self.text != self._before:
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
    :param required: True to mark it while the empty key is chosen.
    """

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        choices: Mapping[str, str],
        *,
        on_choose: Callable[[str], Any] = _nothing,
        on_focus: Callable[[], Any] = _nothing,
        help_text: str | Callable[[], str] = "",
        picture: Callable[[], Any] | None = None,
        chosen: str = "",
        required: bool = False,
        field_width: int = FIELD_WIDTH,
    ) -> None:
        super().__init__(
            master, label, help_text=help_text, picture=picture, field_width=field_width
        )
        self._required, self._on_choose = required, on_choose
        self.choice = Choice(self, choices, self._choose, chosen=chosen, width=field_width)
        self.choice.grid(row=0, column=2)
        self.keys_to: tk.Label = self.choice.keys_to
        self.keys_to.bind("<FocusIn>", lambda _event: on_focus(), add="+")
        on_keys(self.keys_to, self.help.show, "F1")
        self.keys_to.bind("<FocusOut>", lambda _event: self.help.hide(), add="+")
        self.repaint()
        self._show_state()

    @property
    def chosen(self) -> str:
        """The key of the choice."""
        return self.choice.chosen

    def set(self, key: str) -> None:
        """Choose, without calling anybody."""
        self.choice.set(key)
        self._show_state()

    def set_required(self, required: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Mark it while the empty key is chosen, or do not."""
        self._required = required
        self._show_state()

    def focus_field(self) -> None:
        """Give the list the keyboard."""
        self.choice.focus_set()

    def _choose(self, key: str) -> None:
        self._show_state()
        self._on_choose(key)

    def _show_state(self) -> None:
        if self._message and self._tone == "error":
            self.choice.warn("error")
        else:
            is_wanted = self._required and not self.chosen
            self.choice.warn("warn" if is_wanted else "", width=1)
