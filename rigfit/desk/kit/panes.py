"""Panes: what scrolls, what divides, and the status bar."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any, Literal

import customtkinter as ctk

from rigfit.desk.kit import colours, icons, theme
from rigfit.desk.kit.base import Area, Label, Rule, on_keys, surface_of
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.tooltip import Tooltip

BAR_WIDTH = 12
"""Width of a scroll bar in logical px."""

_STEP = 48
_ROOM_BESIDE = 16

Note = Literal["note", "ok", "warn", "error"]


class ScrollBar(ctk.CTkScrollbar):  # type: ignore[misc] # customtkinter is untyped
    """A scroll bar that draws only when it has moved, and shows nothing where all can be seen.

    Its place stays free then: text beside it does not wrap anew.

    :param command: ``yview`` or ``xview`` of what it scrolls.
    """

    def __init__(self, master: tk.Misc, command: Callable[..., Any]) -> None:
        super().__init__(
            master,
            width=BAR_WIDTH,
            height=0,
            command=command,
            bg_color=colours.pair(surface_of(master)),
        )
        self._clear = colours.pair(surface_of(master))
        self._is_idle = False
        self._show(is_idle=True)

    def _draw(self, no_color_updates: bool = False) -> None:  # noqa: FBT001, FBT002 - as theirs
        # Theirs lets pending events run inside each drawing; an older call would then come
        # back after a newer one and draw the past. It also laid out a half built form.
        self._canvas.update_idletasks = lambda: None
        super()._draw(no_color_updates)

    def set(self, start: float | str, end: float | str) -> None:
        """Show which part is seen, both 0 to 1."""
        if (float(start), float(end)) != self.get():
            self._show(is_idle=float(start) <= 0.0 and float(end) >= 1.0)
            super().set(start, end)

    def _show(self, *, is_idle: bool) -> None:
        if is_idle != self._is_idle:
            self._is_idle = is_idle
            thumb = self._clear if is_idle else colours.pair("thumb")
            over = self._clear if is_idle else colours.pair("thumb_hover")
            self.configure(button_color=thumb, button_hover_color=over)


class ScrollPane(Area):
    """A pane that scrolls what is put into its ``body``; make it once and keep it.

    The wheel turns it, and a widget inside that gets the keyboard is brought into sight.

    :param width: asked for, in logical px, with the scroll bar.
    """

    def __init__(
        self, master: tk.Misc, surface: Role | None = None, *, width: int = 3 * theme.PITCH
    ) -> None:
        super().__init__(master, surface)
        self._width = width
        self._canvas = tk.Canvas(self, bd=0, highlightthickness=0, height=1)
        self.body = Area(self._canvas, self.surface)
        self._bar = ScrollBar(self, self._canvas.yview)
        self._canvas.configure(yscrollcommand=self._moved)
        # Never as wide as it would like: headings that wrap to a width that comes from their own
        # words would give way to each other for ever.
        wide = theme.px(width - BAR_WIDTH)
        self._window = self._canvas.create_window(0, 0, window=self.body, anchor="nw", width=wide)
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(0, weight=1)
        self._canvas.grid(row=0, column=0, sticky="nsew")
        self._bar.grid(row=0, column=1, sticky="ns")
        self._canvas.bind("<Configure>", self._resized)
        self.body.bind("<Configure>", lambda _event: self._measure())
        self.winfo_toplevel().bind("<FocusIn>", self._focused, add="+")
        self.repaint()

    def see(self, widget: tk.Misc) -> None:
        """Scroll just as far as is needed to see a widget inside, with a little room beside it."""
        whole, seen = self.body.winfo_height(), self._canvas.winfo_height()
        if whole <= seen:
            return
        room = theme.px(_ROOM_BESIDE)
        top = widget.winfo_rooty() - self.body.winfo_rooty()
        first = self._canvas.canvasy(0)
        if top - room < first:
            self._go(top - room)
        elif top + widget.winfo_height() + room > first + seen:
            self._go(min(top - room, top + widget.winfo_height() + room - seen))

    def scroll_by(self, notches: float) -> None:
        """Scroll by notches of the wheel, downwards where positive."""
        self._go(self._canvas.canvasy(0) + notches * theme.px(_STEP))

    def to_top(self) -> None:
        """Scroll to the beginning."""
        self._go(0)

    def repaint(self) -> None:
        """Take colours from the theme again."""
        super().repaint()
        wide = theme.px(self._width - BAR_WIDTH)
        self._canvas.configure(bg=theme.colour(self.surface), width=wide)

    def _go(self, top: float) -> None:
        whole = max(1, self.body.winfo_height())
        self._canvas.yview_moveto(max(0.0, top / whole))

    def _moved(self, start: float, end: float) -> None:
        self._bar.set(start, end)

    def _resized(self, event: tk.Event[Any]) -> None:
        self._canvas.itemconfigure(self._window, width=event.width)
        self._measure()

    def _measure(self) -> None:
        high = max(self.body.winfo_reqheight(), self._canvas.winfo_height())
        self._canvas.configure(scrollregion=(0, 0, self._canvas.winfo_width(), high))

    def _focused(self, event: tk.Event[Any]) -> None:
        widget = event.widget
        if isinstance(widget, tk.Misc) and str(widget).startswith(str(self.body) + "."):
            self.see(_control_of(widget))


def _control_of(widget: tk.Misc) -> tk.Misc:
    """Return the whole row or control that a focused inner widget belongs to."""
    found = widget
    above: Any = widget
    for _ in range(3):
        above = above.master
        if above is None or not hasattr(above, "keys_to"):
            break
        found = above
    return found


class StatusBar(Area):
    """The line at the foot: what has just happened, what runs, and something short at the right."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master, "panel")
        self._text, self._kind = "", "note"
        self._line = Area(self)
        self._sign = tk.Label(self._line, bd=0, highlightthickness=0)
        self._said = Label(self._line, "", size=theme.SMALL)
        self._right = Label(self._line, "", size=theme.SMALL, role="dim", anchor="e")
        self._link = Link(self._line)
        self._bar = ctk.CTkProgressBar(
            self._line, width=160, height=6, bg_color=colours.pair("panel")
        )
        self._rule = Rule(self)
        self._rule.pack(fill="x")
        self._line.pack(fill="both", expand=True)
        self._right.pack(side="right")
        self._sign.pack(side="left")
        self._said.pack(side="left")
        self._whole = Tooltip(self._said, self._hidden_part)
        self._line.bind("<Configure>", lambda _event: self._fit())
        self.repaint()

    @property
    def text(self) -> str:
        """What it says."""
        return self._text

    def say(
        self,
        text: str,
        kind: Note = "note",
        *,
        link: str = "",
        on_link: Callable[[], Any] | None = None,
    ) -> None:
        """Say what has happened, with a link for what can be done about it ("Open folder")."""
        self._bar.pack_forget()
        self._link.pack_forget()
        self._text, self._kind = text, kind
        if on_link is not None:
            self._link.set(link, on_link)
            self._link.pack(side="left")
        self._show_kind()
        self._fit()

    def busy(self, text: str, fraction: float, on_cancel: Callable[[], Any] | None = None) -> None:
        """Show how far long work has got, 0 to 1; ``say`` ends it."""
        self._text, self._kind = text, "note"
        self._show_kind()
        self._bar.set(fraction)
        if not self._bar.winfo_manager():
            self._bar.pack(side="left", padx=(theme.GAP, 0))
        if on_cancel is not None:
            self._link.set("Cancel", on_cancel)
            self._link.pack(side="left")
        self._fit()

    def set_right(self, text: str) -> None:
        """Show something short at the right end (units, the scale of the drawing)."""
        if text != str(self._right.cget("text")):
            self._right.set_text(text)
            self._fit()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self._right.pack_configure(padx=theme.px(theme.PADDING), pady=theme.px(6))
        self._said.pack_configure(pady=theme.px(6))
        self._show_kind()
        self._fit()

    def _fit(self) -> None:
        """Cut what it says short where the line is too narrow; the tooltip has it whole."""
        others = [self._right, self._sign, self._link, self._bar]
        taken = sum(part.winfo_reqwidth() for part in others if part.winfo_manager())
        room = self._line.winfo_width() - taken - theme.px(4 * theme.PADDING)
        if room > 0:
            self._said.set_text(theme.fitted(self._text, room, theme.SMALL))

    def _hidden_part(self) -> str:
        return "" if self._said.cget("text") == self._text else self._text

    def _show_kind(self) -> None:
        names = {"ok": "check", "warn": "alert", "error": "alert"}
        kind: Role = "dim" if self._kind == "note" else self._kind  # type: ignore[assignment]
        image = icons.photo(names[self._kind], kind, 14) if self._kind in names else ""
        self._sign.configure(image=image, bg=theme.colour("panel"))
        left = theme.px(theme.PADDING), theme.px(6) if image else 0
        self._sign.pack_configure(padx=left)
        self._said.set_role("text" if self._kind == "note" else kind)


class Link(tk.Label):
    """Words that do something when clicked, or with Space or Return."""

    def __init__(self, master: tk.Misc, text: str = "", command: Callable[[], Any] = bool) -> None:
        super().__init__(master, takefocus=1, bd=0, cursor="hand2", text=text)
        self._command = command
        on_keys(self, self.invoke, "space", "Return", "KP_Enter")
        self.bind("<ButtonRelease-1>", lambda _event: self.invoke())
        self.repaint()
        theme.watch(self)

    def set(self, text: str, command: Callable[[], Any]) -> None:
        """Say and do something else."""
        self._command = command
        tk.Label.configure(self, text=text)

    def invoke(self) -> None:
        """Do what it says."""
        self._command()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        back = theme.colour(surface_of(self.master))
        tk.Label.configure(
            self,
            bg=back,
            fg=theme.colour("accent"),
            font=theme.tk_font(theme.SMALL, bold=True),
            padx=theme.px(theme.GAP),
            pady=0,
            highlightthickness=theme.px(theme.RING),
            highlightcolor=theme.colour("focus"),
            highlightbackground=back,
        )
