"""The wheel: one place that knows what turning it is called in Tk 8.6 and in Tk 9.

Panes that scroll have a method ``scroll_by(notches)``; the innermost one under the pointer that
has one is turned. Tables and pages of text scroll by themselves, as Tk made them.
"""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk
from typing import Any

_NOTCH = 120
"""Delta of one notch on Windows, and everywhere from Tk 9 on; Aqua's Tk 8.6 counts ones."""


def install(root: tk.Tk) -> None:
    """Bind the wheel for the whole program, once."""
    root.bind_all("<MouseWheel>", _turned)
    if tk.TkVersion >= 9.0:
        root.bind_all("<TouchpadScroll>", _stroked)
    elif root.tk.call("tk", "windowingsystem") == "x11":
        root.bind_all("<Button-4>", lambda event: _scroll(event.widget, -1.0))
        root.bind_all("<Button-5>", lambda event: _scroll(event.widget, 1.0))


def notches(delta: int, *, aqua: bool = False) -> float:
    """Return how many notches downwards a wheel event's delta stands for."""
    return -delta / (1.0 if aqua else _NOTCH)


def strokes(delta: int) -> float:
    """Return how many notches downwards a touchpad event's delta of Tk 9 stands for.

    It packs both directions into one number, the vertical one in the lower 16 bits, in screen
    pixels; some 50 of them are worth a notch.
    """
    down = delta & 0xFFFF
    return -(down - 0x10000 if down >= 0x8000 else down) / 50.0


def _turned(event: tk.Event[Any]) -> None:
    if isinstance(event.widget, tk.Misc):
        aqua = tk.TkVersion < 9.0 and event.widget.tk.call("tk", "windowingsystem") == "aqua"
        _scroll(event.widget, notches(event.delta, aqua=aqua))


def _stroked(event: tk.Event[Any]) -> None:
    _scroll(event.widget, strokes(event.delta))


def _scroll(widget: Any, turned: float) -> None:
    while isinstance(widget, tk.Misc):
        if isinstance(widget, (ttk.Treeview, tk.Text, tk.Listbox)):
            return
        turn = getattr(widget, "scroll_by", None)
        if turn is not None:
            turn(turned)
            return
        widget = widget.master
