"""Files dragged onto the window, where the optional library for that is installed."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from pathlib import Path
from typing import Any


def accept_files(target: tk.Widget, on_file: Callable[[Path], Any]) -> bool:
    """Have the first file dropped on a widget handed over; False where that cannot be.

    It needs ``tkinterdnd2`` (the extra "drop"); without it, or where its library does not load,
    the form simply takes no drops.

    :param on_file: called with the path.
    """
    try:
        from tkinterdnd2 import DND_FILES, TkinterDnD

        TkinterDnD.require(target.winfo_toplevel())
        widget: Any = target
        widget.drop_target_register(DND_FILES)
        widget.dnd_bind("<<Drop>>", lambda event: _dropped(target, event.data, on_file))
    except (ImportError, RuntimeError, tk.TclError, AttributeError):
        return False
    return True


def dropped_paths(widget: tk.Misc, data: str) -> list[Path]:
    """Return the paths in what was dropped, a Tcl list; what is no path is passed over."""
    try:
        parts = widget.tk.splitlist(data)
    except tk.TclError:
        return []
    return [Path(part) for part in parts if part and "\0" not in part]


def _dropped(widget: tk.Misc, data: str, on_file: Callable[[Path], Any]) -> str:
    paths = dropped_paths(widget, data)
    if paths:
        # The other program waits for an answer until this returns; questions come after it.
        widget.after(1, lambda: on_file(paths[0]))
    return "copy"
