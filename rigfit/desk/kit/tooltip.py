"""Tooltips: shown half a second after the pointer or the keyboard has come to rest on a widget."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.kit import theme

DELAY_MS = 500
WIDTH = 260
"""Widest line of a tooltip, in logical px."""

_AWAY = 6
_EDGE = 4


class _Window(tk.Toplevel):
    """The one tooltip window of a root window; it is moved and refilled, never made anew."""

    def __init__(self, root: tk.Misc) -> None:
        super().__init__(root, bd=0, highlightthickness=0)
        self.withdraw()
        self.overrideredirect(boolean=True)
        if root.tk.call("tk", "windowingsystem") == "x11":
            self.attributes("-type", "tooltip")
        self._picture = tk.Label(self, bd=0)
        self._label = tk.Label(self, bd=0, justify="left", anchor="w")
        self._label.pack(side="bottom", fill="x")

    def show(self, over: tk.Misc, text: str, picture: Any) -> None:
        tk.Toplevel.configure(self, bg=theme.colour("tip"))
        self._picture.configure(image=picture or "", bg=theme.colour("tip"))
        if picture is None:
            self._picture.pack_forget()
        else:
            self._picture.pack(padx=theme.px(_EDGE), pady=(theme.px(_EDGE), 0))
        wide = picture.width() if picture is not None else theme.px(WIDTH)
        self._label.configure(
            text=text,
            font=theme.tk_font(theme.SMALL),
            wraplength=max(wide - theme.px(8), theme.px(WIDTH)),
            padx=theme.px(8),
            pady=theme.px(6),
            bg=theme.colour("tip"),
            fg=theme.colour("on_tip"),
        )
        self.update_idletasks()
        left = min(over.winfo_rootx(), self.winfo_screenwidth() - self.winfo_reqwidth())
        below = over.winfo_rooty() + over.winfo_height() + theme.px(_AWAY)
        if below + self.winfo_reqheight() > self.winfo_screenheight():
            below = over.winfo_rooty() - self.winfo_reqheight() - theme.px(_AWAY)
        self.geometry(f"+{max(0, left)}+{max(0, below)}")
        self.deiconify()
        self.lift()


class Tooltip:
    """Shows words, and perhaps a small picture, beside a widget.

    :param widget: shown for the pointer over it and, with ``on_focus``, for the keyboard in it.
    :param text: the words, or a function that finds them when they are wanted; "" for none.
    :param picture: a function returning a ``PhotoImage``, or None.
    :param on_focus: False for a field, where a tooltip would cover what is being typed.
    """

    def __init__(
        self,
        widget: tk.Misc,
        text: str | Callable[[], str],
        *,
        picture: Callable[[], Any] | None = None,
        on_focus: bool = True,
    ) -> None:
        self._widget, self._text, self._picture = widget, text, picture
        self._waiting = ""
        self._shown_picture: Any = None
        self.also(widget)
        widget.bind("<Destroy>", lambda _event: self.hide(), add="+")
        if on_focus:
            widget.bind("<FocusIn>", lambda _event: self._wait(), add="+")
            widget.bind("<FocusOut>", lambda _event: self.hide(), add="+")

    def also(self, widget: tk.Misc) -> None:
        """Show it for the pointer over another widget as well (a label that covers it)."""
        widget.bind("<Enter>", lambda _event: self._wait(), add="+")
        for sequence in ("<Leave>", "<ButtonPress>", "<Key>"):
            widget.bind(sequence, lambda _event: self.hide(), add="+")

    def set_text(self, text: str | Callable[[], str]) -> None:
        """Say something else from now on."""
        self._text = text

    @property
    def is_shown(self) -> bool:
        """True while it can be seen."""
        window = _known_window(self._widget)
        return window is not None and window.state() == "normal" and _shown.get(window) is self

    def show(self) -> None:
        """Show it at once."""
        self._waiting = ""
        text = self._text() if callable(self._text) else self._text
        if not text or not self._widget.winfo_viewable():
            return
        self._shown_picture = self._picture() if self._picture else None
        window = _window(self._widget)
        window.show(self._widget, text, self._shown_picture)
        _shown[window] = self

    def hide(self) -> None:
        """Take it away, and do not show it for the pointer that is there now."""
        if self._waiting:
            self._widget.after_cancel(self._waiting)
            self._waiting = ""
        window = _known_window(self._widget)
        if window is not None and _shown.get(window) is self:
            del _shown[window]
            window.withdraw()

    def _wait(self) -> None:
        if not self._waiting:
            self._waiting = self._widget.after(DELAY_MS, self.show)


_shown: dict[_Window, Tooltip] = {}


def _known_window(widget: tk.Misc) -> _Window | None:
    window: _Window | None = getattr(widget.nametowidget("."), "tooltip_window", None)
    return window


def _window(widget: tk.Misc) -> _Window:
    root = widget.nametowidget(".")
    window = _known_window(widget)
    if window is None:
        window = _Window(root)
        root.tooltip_window = window
    return window
