"""The root window, and where the keyboard goes after a click."""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk
from typing import Any

import customtkinter as ctk

from rigfit.desk.kit import icons, lettering, theme, wheel
from rigfit.desk.kit.colours import Appearance


class Root(ctk.CTk):  # type: ignore[misc] # customtkinter is untyped
    """The program's one root window, with the look already in force.

    Its own sizes (``geometry``, ``minsize``) are screen pixels: multiply with ``theme.px``.

    :param appearance: "light" or "dark".
    :param user_scale: times what the screen asks for.
    """

    surface = "window"

    def __init__(self, appearance: Appearance = "light", user_scale: float = 1.0) -> None:
        lettering.load()  # Tk reads the list of fonts only once, when it starts
        theme.prepare(appearance, user_scale)
        super().__init__(className="Rigfit")
        theme.adopt(self)
        icons.forget()
        self.title("rigfit")
        # customtkinter gives the focus to the very label or canvas that was hit, which then
        # swallows Space and Return; ours gives it to the control the label belongs to.
        self.bind_all("<Button-1>", focus_on_click)
        wheel.install(self)
        theme.watch(self)

    def _set_scaling(self, widget_scaling: float, _window_scaling: float) -> None:
        # Called first of all widgets. customtkinter would freeze the window's size for a second.
        ctk.windows.widgets.scaling.CTkScalingBaseClass._set_scaling(self, widget_scaling, 1.0)
        theme.rescale(widget_scaling)

    def close(self) -> None:
        """Close the window with all that still waits to be run later."""
        for job in self.tk.splitlist(self.tk.call("after", "info")):
            # Not after_cancel: it deletes commands that their widgets still mean to delete.
            self.tk.call("after", "cancel", job)
        self.destroy()

    def repaint(self) -> None:
        """Take the background from the theme again."""
        tk.Tk.configure(self, bg=theme.colour("window"))


def focus_on_click(event: tk.Event[Any]) -> None:
    """Move the focus to the control that was hit, or, beside all controls, to its window.

    Leaving a field this way commits it, as leaving it with Tab does.
    """
    widget: Any = event.widget
    if not isinstance(widget, tk.Misc):  # a menu of Tk's own: only its name is known
        return
    target: Any = widget
    while target is not None and not isinstance(target, (tk.Tk, tk.Toplevel)):
        keys = getattr(target, "keys_to", None)
        if keys is not None:
            keys.focus_set()
            return
        if isinstance(target, (tk.Entry, tk.Text, ttk.Treeview)) or takes_tab(target):
            target.focus_set()
            return
        target = target.master
    widget.winfo_toplevel().focus_set()


def takes_tab(widget: Any) -> bool:
    """True for a plain Tk widget that was made reachable by Tab."""
    try:
        return str(widget.tk.call(str(widget), "cget", "-takefocus")) in {"1", "True"}
    except tk.TclError:
        return False
