"""Choosing: one of a few in a row, one of many from a list, on or off, and verdict chips."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import customtkinter as ctk

from rigfit.desk.kit import colours, icons, theme
from rigfit.desk.kit.base import Outline, on_keys, ring_on_focus, style_menu, surface_of
from rigfit.rigging.findings import Verdict

_CHEVRON = 12


class Segmented(Outline):
    """A few choices side by side, one of them chosen: one stop of Tab, arrows move the choice.

    :param choices: what is chosen, with the word shown for it; words of one or two.
    :param command: called with the key of the new choice, never by ``set``.
    """

    def __init__(
        self,
        master: tk.Misc,
        choices: Mapping[str, str],
        command: Callable[[str], Any],
        *,
        chosen: str = "",
    ) -> None:
        super().__init__(master)
        self._command = command
        self.chosen = chosen or next(iter(choices))
        self._cells: dict[str, tk.Label] = {}
        self._bars: dict[str, tk.Frame] = {}
        for column, (key, word) in enumerate(choices.items()):
            self._add(column, key, word)
        self.keys_to = self
        tk.Frame.configure(self, takefocus=1)
        for step, names in ((-1, ("Left", "Up")), (1, ("Right", "Down"))):
            for name in names:
                tk.Misc.bind(self, f"<{name}>", lambda _event, by=step: self._step(by))  # type: ignore[misc]
        tk.Misc.bind(self, "<FocusIn>", lambda _event: self.ring(True))  # noqa: FBT003
        tk.Misc.bind(self, "<FocusOut>", lambda _event: self.ring(False))  # noqa: FBT003
        self.repaint()

    def set(self, key: str) -> None:
        """Choose, without calling the command."""
        self.chosen = key
        self.repaint()

    def choose(self, key: str) -> None:
        """Choose as a click does: the command is called if that changes anything."""
        if key != self.chosen:
            self.set(key)
            self._command(key)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_rowconfigure(0, weight=1, minsize=theme.px(theme.CONTROL))
        self.grid_columnconfigure(tuple(range(len(self._cells))), weight=1, uniform="cell")
        for column, (key, cell) in enumerate(self._cells.items()):
            on = key == self.chosen
            back = theme.colour("accent_tint" if on else "field")
            cell.configure(
                bg=back,
                fg=theme.colour("accent" if on else "text"),
                font=theme.tk_font(bold=on),
                padx=theme.px(12),
            )
            edge = max(2, theme.px(2))
            ends = edge if not column else 0, edge if column == len(self._cells) - 1 else 0
            cell.grid_configure(padx=ends, pady=edge)
            self._bars[key].configure(bg=theme.colour("accent"), height=edge)
            self._show_bar(key, on=on)
        self._keep_width()

    def _add(self, column: int, key: str, word: str) -> None:
        cell = tk.Label(self, text=word, bd=0, highlightthickness=0)
        cell.grid(row=0, column=column, sticky="nsew")
        cell.bind("<ButtonRelease-1>", lambda _event: self.choose(key))
        self._cells[key] = cell
        self._bars[key] = tk.Frame(cell, bd=0, highlightthickness=0)

    def _show_bar(self, key: str, *, on: bool) -> None:
        # Not by colour alone: the choice is also written bold and underlined.
        if on:
            self._bars[key].place(relx=0, rely=1, relwidth=1, anchor="sw")
        else:
            self._bars[key].place_forget()

    def _keep_width(self) -> None:
        # As wide as the widest word in either weight, so that nothing moves.
        words = (str(cell.cget("text")) for cell in self._cells.values())
        widths = (
            max(theme.text_width(word, bold=bold) for bold in (True, False)) for word in words
        )
        widest = max(widths) + 2 * theme.px(12)
        self.grid_columnconfigure(tuple(range(len(self._cells))), minsize=widest)

    def _step(self, by: int) -> str:
        keys = list(self._cells)
        self.choose(keys[(keys.index(self.chosen) + by) % len(keys)])
        return "break"


class Choice(Outline):
    """A drop-down list: arrows step through it, Space, Return or Alt-Down open it.

    :param choices: keys with the words shown for them.
    :param command: called with the key of the new choice, never by ``set``.
    :param width: in logical px.
    """

    def __init__(
        self,
        master: tk.Misc,
        choices: Mapping[str, str],
        command: Callable[[str], Any],
        *,
        chosen: str = "",
        width: int = 168,
    ) -> None:
        super().__init__(master, width=width)
        self._choices, self._command = dict(choices), command
        self.chosen = chosen or next(iter(choices), "")
        self.pack_propagate(False)  # noqa: FBT003
        self._chevron = tk.Label(self, bd=0, highlightthickness=0)
        self._chevron.pack(side="right")
        self._word = tk.Label(self, bd=0, highlightthickness=0, anchor="w")
        self._word.pack(side="left", fill="both", expand=True)
        self._menu = tk.Menu(self, tearoff=False, bd=1, relief="solid")
        self.keys_to: tk.Label = self._word
        self._word.configure(takefocus=1)
        ring_on_focus(self._word, self)
        on_keys(self._word, self.open, "space", "Return", "KP_Enter", "Alt-Down")
        on_keys(self._word, lambda: self._step(-1), "Up")
        on_keys(self._word, lambda: self._step(1), "Down")
        for part in (self._word, self._chevron):
            part.bind("<Button-1>", lambda _event: self._clicked())
        self.repaint()

    def set(self, key: str) -> None:
        """Choose, without calling the command; an unknown key is shown as it is."""
        self.chosen = key
        self._show_word()

    def set_choices(self, choices: Mapping[str, str]) -> None:
        """Offer other choices; what is chosen stays chosen."""
        self._choices = dict(choices)
        self._show_word()

    def choose(self, key: str) -> None:
        """Choose as a click does: the command is called if that changes anything."""
        if key != self.chosen:
            self.set(key)
            self._command(key)

    def open(self) -> None:
        """Open the list below the control."""
        self._menu.delete(0, "end")
        for key, word in self._choices.items():
            image = icons.photo("check") if key == self.chosen else icons.blank(icons.SIZE)
            self._menu.add_command(
                label=f"{word}  ",
                image=image,
                compound="left",
                command=lambda picked=key: self.choose(picked),  # type: ignore[misc]
            )
        if self.chosen in self._choices:
            self._menu.activate(list(self._choices).index(self.chosen))
        below = self.winfo_rooty() + self.winfo_height() + 1
        self._menu.tk_popup(self.winfo_rootx(), below)

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self.keys_to.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        field, text = theme.colour("field"), theme.colour("text")
        edge = max(2, theme.px(2))
        self._word.configure(bg=field, fg=text, font=theme.tk_font())
        self._word.pack_configure(padx=(theme.px(8), 0), pady=edge)
        self._chevron.configure(bg=field, image=icons.photo("down", "dim", _CHEVRON))
        self._chevron.pack_configure(padx=(theme.px(4), theme.px(10)), pady=edge)
        style_menu(self._menu)
        self._show_word()

    def _show_word(self) -> None:
        word = self._choices.get(self.chosen, self.chosen)
        room = theme.px(self.cget("width") - 8 - 4 - 10 - _CHEVRON - 2)
        self._word.configure(text=theme.fitted(word, room))

    def _clicked(self) -> str:
        self.focus_set()
        self.open()
        return "break"

    def _step(self, by: int) -> None:
        keys = list(self._choices)
        if not keys:
            return
        at = keys.index(self.chosen) + by if self.chosen in keys else 0
        self.choose(keys[min(max(at, 0), len(keys) - 1)])


class Switch(Outline):
    """On or off, at once and without a button to confirm.

    :param text: what is on or off.
    :param command: called with the new state, never by ``set``.
    """

    def __init__(
        self,
        master: tk.Misc,
        text: str,
        command: Callable[[bool], Any],
        *,
        on: bool = False,
    ) -> None:
        outside = surface_of(master)
        super().__init__(master, fill=outside, line="")
        self._command = command
        self._switch = ctk.CTkSwitch(
            self,
            text=text,
            command=self._toggled,
            font=theme.font(),
            switch_width=36,
            switch_height=20,
            width=0,
            border_width=2,
            bg_color=colours.pair(outside),
        )
        self._switch.pack(padx=6, pady=4)
        self.keys_to: tk.Canvas = self._switch._canvas
        self.keys_to.configure(takefocus=1)
        ring_on_focus(self.keys_to, self)
        on_keys(self.keys_to, self._switch.toggle, "space", "Return", "KP_Enter")
        self.set(on)

    @property
    def is_on(self) -> bool:
        """True while it is on."""
        return bool(self._switch.get())

    def set(self, on: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Switch, without calling the command."""
        self._switch.set(on)
        self._show_track()

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self.keys_to.focus_set()

    def _show_track(self) -> None:
        # The border belongs to the track; the knob then stands inside it.
        self._switch.configure(border_color=colours.pair("accent" if self.is_on else "border"))

    def _toggled(self) -> None:
        self._show_track()
        self._command(self.is_on)


class Chip(Outline):
    """How many findings have one verdict; switched on, only those are shown.

    :param verdict: whose mark, word and colours it has.
    :param command: called with the new state on a click, Space or Return, never by ``set``.
    """

    def __init__(
        self,
        master: tk.Misc,
        verdict: Verdict,
        command: Callable[[bool], Any],
        *,
        count: int = 0,
    ) -> None:
        super().__init__(master, fill="panel", line="rule")
        self.verdict, self.count, self.is_on = verdict, count, False
        self._command = command
        self._label = tk.Label(self, bd=0, highlightthickness=0, compound="left", takefocus=1)
        self._label.grid(row=0, column=0, sticky="nsew")
        self.bind("<ButtonRelease-1>", lambda _event: self.toggle())
        self.keys_to: tk.Label = self._label
        ring_on_focus(self._label, self)
        on_keys(self._label, self.toggle, "space", "Return", "KP_Enter")
        self._label.bind("<ButtonRelease-1>", lambda _event: self.toggle())
        self.repaint()

    def set_count(self, count: int) -> None:
        """Show another count."""
        self.count = count
        self.repaint()

    def set(self, on: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Switch on or off, without calling the command."""
        self.is_on = on
        self.repaint()

    def toggle(self) -> None:
        """Switch over, as a click does."""
        self.set(not self.is_on)
        self._command(self.is_on)

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self.keys_to.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        role, tint = colours.VERDICT_ROLES[self.verdict]
        self.line = role if self.is_on else "rule"
        self.fill(tint if self.is_on else "panel")
        super().repaint()
        self.grid_rowconfigure(0, weight=1, minsize=theme.px(theme.CONTROL))
        self._label.configure(
            text=f"  {self.count} {self.verdict.value}",
            image=icons.mark(self.verdict),
            font=theme.tk_font(bold=self.is_on),
            bg=theme.colour(self.surface),
            fg=theme.colour("text" if self.count else "dim"),
        )
        self._label.grid_configure(padx=theme.px(8), pady=max(2, theme.px(2)))


def chips(master: tk.Misc, verdicts: Sequence[Verdict], command: Callable[[], Any]) -> list[Chip]:
    """Return a chip for each verdict, side by side in ``master``; ``command`` after any change."""
    made = [Chip(master, verdict, lambda _on: command()) for verdict in verdicts]
    for chip in made:
        chip.pack(side="left", padx=(0, theme.GAP))
    return made
