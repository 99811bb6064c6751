"""How a test drives the form: an X server of its own, keys and clicks, pictures, and a walk over
every widget that finds what is cut off or lies over something else.

Nothing here waits a fixed time: ``settle`` returns when the form has stopped changing.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import time
import tkinter as tk
from collections.abc import Callable, Iterator
from itertools import combinations
from pathlib import Path
from tkinter import font as tkfont
from tkinter import ttk
from typing import Any

import pytest

SCREEN = (3840, 2160)
QUIET_S, LIMIT_S, PATIENCE_S = 0.06, 5.0, 20.0


# The X server ----------------------------------------------------------------------------------


def start_display() -> subprocess.Popen[bytes] | None:
    """Start an X server and point DISPLAY at it; None where there is no such program."""
    program = shutil.which("Xvfb")
    if program is None:
        return None
    reads, writes = os.pipe()
    size = f"{SCREEN[0]}x{SCREEN[1]}x24"
    server = subprocess.Popen(
        [
            program,
            "-displayfd",
            str(writes),
            "-screen",
            "0",
            size,
            "-dpi",
            "96",
            "-nolisten",
            "tcp",
        ],
        pass_fds=[writes],
        stderr=subprocess.DEVNULL,
    )
    os.close(writes)
    number = b""
    while not number.endswith(b"\n"):
        part = os.read(reads, 16)
        if not part:
            raise RuntimeError("the X server ended before it was ready")
        number += part
    os.close(reads)
    os.environ["DISPLAY"] = f":{number.decode().strip()}"
    return server


# Time ------------------------------------------------------------------------------------------


def settle(widget: tk.Misc) -> None:
    """Let events run until nothing has moved, appeared or asked to be painted for a while."""
    root: Any = widget.nametowidget(".")
    last = [time.monotonic()]
    if not getattr(root, "settle_watch", None):
        root.settle_watch = last
        for event in ("<Configure>", "<Map>", "<Expose>"):
            root.bind_all(
                event, lambda _event: root.settle_watch.__setitem__(0, time.monotonic()), "+"
            )
    root.settle_watch[0] = time.monotonic()
    end = time.monotonic() + LIMIT_S
    while time.monotonic() - root.settle_watch[0] < QUIET_S and time.monotonic() < end:
        root.update()
        time.sleep(0.002)


def wait_for(widget: tk.Misc, answer: Callable[[], bool]) -> None:
    """Let events run until something is so; fail when it takes beyond all patience."""
    end = time.monotonic() + PATIENCE_S
    while not answer():
        assert time.monotonic() < end, "waited in vain"
        widget.update()
        time.sleep(0.002)


# Keys and clicks -------------------------------------------------------------------------------


def take_keyboard(root: tk.Misc) -> None:
    """Give the window the keyboard; without a window manager nobody else does."""
    root.focus_force()
    settle(root)


def press_key(widget: tk.Misc, *keys: str) -> None:
    """Press keys ("Tab", "Shift-Tab", "Control-c", "space") where the keyboard is."""
    for key in keys:
        held, _, last = key.rpartition("-")
        target = widget.focus_get() or widget.winfo_toplevel()
        # "<5>" alone would be the fifth mouse button.
        target.event_generate(f"<{held}-Key-{last}>" if held else f"<Key-{last}>")
        widget.update()


KEYSYMS = {
    " ": "space",
    "'": "apostrophe",
    '"': "quotedbl",
    "-": "minus",
    "<": "less",
    ".": "period",
    ",": "comma",
    "/": "slash",
    "+": "plus",
    "±": "plusminus",
    "°": "degree",
}


def type_text(widget: tk.Misc, text: str) -> None:
    """Type a text, key by key, where the keyboard is."""
    press_key(widget, *(char if char.isalnum() else KEYSYMS[char] for char in text))


def click(widget: Any, x: int | None = None, y: int | None = None, *, double: bool = False) -> None:
    """Click a widget with the left button, in its middle unless told where."""
    target: tk.Misc = getattr(widget, "keys_to", widget)
    x = target.winfo_width() // 2 if x is None else x
    y = target.winfo_height() // 2 if y is None else y
    target.event_generate("<Enter>", x=x, y=y)
    for _ in range(2 if double else 1):
        target.event_generate("<ButtonPress-1>", x=x, y=y)
        target.event_generate("<ButtonRelease-1>", x=x, y=y)
    target.update()


needs_real_keys = pytest.mark.skipif(
    shutil.which("xdotool") is None, reason="there is no program (xdotool) to press real keys"
)


def xdotool(root: tk.Misc, *words: str) -> None:
    """Drive the real pointer and keyboard of the X server; for a few tests from end to end."""
    subprocess.run(["xdotool", *words], check=True, timeout=20)
    settle(root)


def tab_stops(root: tk.Misc) -> list[tk.Misc]:
    """Return everything Tab reaches, in order, once around."""
    take_keyboard(root)
    first: tk.Misc | None = None
    stops: list[tk.Misc] = []
    at: tk.Misc | None = root.winfo_toplevel()
    while at is not None and len(stops) < 1000:
        at = at.tk_focusNext()
        if at is None or at == first or isinstance(at, (tk.Tk, tk.Toplevel)):
            break
        first = first or at
        stops.append(at)
    return stops


# Pictures --------------------------------------------------------------------------------------


def screenshot(root: tk.Misc, name: str, folder: Path) -> Path:
    """Save what a window shows as PNG into RIGFIT_SCREENSHOTS, or into ``folder`` without it."""
    from PIL import ImageGrab

    place = Path(os.environ.get("RIGFIT_SCREENSHOTS") or folder)
    place.mkdir(parents=True, exist_ok=True)
    settle(root)
    left, top = root.winfo_rootx(), root.winfo_rooty()
    box = (left, top, left + root.winfo_width(), top + root.winfo_height())
    path = place / f"{name}.png"
    ImageGrab.grab(bbox=box, xdisplay=os.environ["DISPLAY"]).save(path)
    return path


# The geometry walk -----------------------------------------------------------------------------


def walk(widget: tk.Misc) -> Iterator[tk.Misc]:
    """Yield a widget and everything inside it that can be seen, hidden parts of CTk included."""
    if not widget.winfo_viewable():
        return
    yield widget
    for child in tk.Misc.winfo_children(widget):
        if not (isinstance(child, (tk.Toplevel, tk.Menu))):
            yield from walk(child)


def faults(root: tk.Misc) -> list[str]:
    """Return what is wrong with the geometry of a window, a sentence each.

    Text that is cut off; boxes that reach out of their parent or of the window; neighbours that
    overlap; cells and rows of tables too small for their text. What scrolls may reach out of its
    pane, and an entry may hold more than it shows.
    """
    found: list[str] = []
    for widget in walk(root):
        found += _cut_text(widget)
        if not _is_scrolled(widget) and widget is not root:
            found += _reaches_out(widget, root)
        found += _overlaps(widget)
        if isinstance(widget, ttk.Treeview):
            found += _cut_cells(widget)
    return found


def _name(widget: tk.Misc) -> str:
    try:
        words = str(widget.cget("text")) if "text" in tk.Misc.keys(widget) else ""
    except (tk.TclError, ValueError):
        words = ""
    return f"{type(widget).__name__} {words!r} ({widget})"


def _cut_text(widget: tk.Misc) -> list[str]:
    if not isinstance(widget, (tk.Label, tk.Button, ttk.Label, ttk.Button)):
        return []
    if not widget.cget("text") and not str(widget.cget("image")):
        return []
    wants = widget.winfo_reqwidth(), widget.winfo_reqheight()
    has = widget.winfo_width(), widget.winfo_height()
    if wants[0] > has[0] + 1 or wants[1] > has[1] + 1:
        return [f"cut off: {_name(widget)} wants {wants}, has {has}"]
    return []


def _box(widget: tk.Misc) -> tuple[int, int, int, int]:
    left, top = widget.winfo_rootx(), widget.winfo_rooty()
    return left, top, left + widget.winfo_width(), top + widget.winfo_height()


def _reaches_out(widget: tk.Misc, root: tk.Misc) -> list[str]:
    found = []
    box = _box(widget)
    for frame, what in ((widget.master, "its parent"), (root, "the window")):
        if frame is None or (what == "the window" and _in_scrolled(widget)):
            continue
        left, top, right, bottom = _box(frame)
        if box[0] < left or box[1] < top or box[2] > right or box[3] > bottom:
            found.append(f"reaches out of {what}: {_name(widget)} {box} in {_box(frame)}")
    return found


def _is_scrolled(widget: tk.Misc) -> bool:
    """True for what a canvas scrolls: it may reach out of the canvas."""
    return isinstance(widget.master, tk.Canvas) and bool(widget.winfo_manager() == "canvas")


def _in_scrolled(widget: tk.Misc | None) -> bool:
    while widget is not None:
        if _is_scrolled(widget):
            return True
        widget = widget.master
    return False


def _overlaps(parent: tk.Misc) -> list[str]:
    if isinstance(parent, (ttk.Treeview, tk.Canvas, tk.PanedWindow)):
        return []
    children = [
        child
        for child in tk.Misc.winfo_children(parent)
        if child.winfo_viewable()
        # The canvas that customtkinter draws a control on lies under all it holds.
        and type(child).__name__ != "CTkCanvas"
        and child.winfo_manager() not in ("place", "wm", "canvas")
    ]
    found = []
    for one, other in combinations(children, 2):
        a, b = _box(one), _box(other)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
            found.append(f"overlap: {_name(one)} {a} and {_name(other)} {b}")
    return found


def _cut_cells(tree: ttk.Treeview) -> list[str]:
    style = ttk.Style(tree)
    name = tree.cget("style") or "Treeview"
    font = tkfont.Font(tree, font=style.lookup(name, "font"))
    head = tkfont.Font(tree, font=style.lookup(f"{name}.Heading", "font"))
    found = []
    shown = [*tree["displaycolumns"]]
    shown = [*tree["columns"]] if shown == ["#all"] else shown
    if "tree" in str(tree.cget("show")):
        shown.insert(0, "#0")
    wide = sum(int(tree.column(column, "width")) for column in shown)
    if wide > tree.winfo_width():
        found.append(f"columns cut off: {tree} has {tree.winfo_width()} px for {wide}")
    if int(font.metrics("linespace")) > int(style.lookup(name, "rowheight")):
        found.append(f"rows too low: {tree}")
    side = 2 * _side(style, f"{name}.Cell")
    for column in shown:
        width = int(tree.column(column, "width"))
        heading = str(tree.heading(column, "text"))
        image = tree.tk.splitlist(tree.heading(column, "image"))
        mark = int(tree.tk.call("image", "width", image[0])) if image else 0
        if head.measure(heading) + side + mark > width:
            found.append(f"heading too wide: {heading!r} in {width} px")
        for item in tree.get_children():
            text = str(tree.item(item, "text") if column == "#0" else tree.set(item, column))
            sign = tree.tk.splitlist(tree.item(item, "image")) if column == "#0" else ()
            mark = int(tree.tk.call("image", "width", sign[0])) if sign else 0
            if font.measure(text) + side + mark > width:
                found.append(f"cell too wide: {text!r} in {width} px under {heading!r}")
    return found


def _side(style: ttk.Style, name: str) -> int:
    padding = style.lookup(name, "padding")
    first = padding[0] if isinstance(padding, (tuple, list)) else str(padding or "0").split()[0]
    return int(str(first))
