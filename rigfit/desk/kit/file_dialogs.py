"""Asking for files and folders: the desktop's own dialog on Linux where there is one, else Tk's.

Tk's own dialog is the system's on Windows and macOS; on X11 it is bare and knows no places.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import tkinter as tk
from collections.abc import Callable, Sequence
from pathlib import Path
from tkinter import filedialog
from typing import Any, Literal

FileKinds = Sequence[tuple[str, str]]
"""Kinds of file as (words, pattern): ``[("rigfit jobs", "*.rigfit.toml")]``."""

Wanted = Literal["open", "save", "folder"]
"""A file that is there, a file to be written, or a folder."""

_POLL_MS = 40
_DONE, _CANCELLED = 0, 1
_NO_DISPLAY = b"display"  # what both programs complain of when they cannot show themselves


def ask_path(
    parent: tk.Misc, wanted: Wanted, title: str, kinds: FileKinds = (), start: Path | None = None
) -> Path | None:
    """Ask for a path; None when nothing was chosen. Asks before a file is written over.

    :param start: the file or folder proposed; None for wherever the system begins.
    """
    if parent.tk.call("tk", "windowingsystem") == "x11":
        for words in _programs(wanted, title, kinds, start):
            understood, answer = _run(parent, words)
            if understood:
                return Path(answer) if answer else None
    name = _tk_dialog(parent, wanted, title, kinds, start)
    return Path(name) if name else None


def _programs(wanted: Wanted, title: str, kinds: FileKinds, start: Path | None) -> list[list[str]]:
    """Return what can be run to ask, best first, as argument lists."""
    order = ["zenity", "kdialog"]
    if "KDE" in os.environ.get("XDG_CURRENT_DESKTOP", "").upper().split(":"):
        order.reverse()
    arguments = {"zenity": _zenity, "kdialog": _kdialog}
    found = [(shutil.which(name), name) for name in order]
    return [[path, *arguments[name](wanted, title, kinds, start)] for path, name in found if path]


def _zenity(wanted: Wanted, title: str, kinds: FileKinds, start: Path | None) -> list[str]:
    words = ["--file-selection", f"--title={title}"]
    words += {"open": [], "save": ["--save", "--confirm-overwrite"], "folder": ["--directory"]}[
        wanted
    ]
    if start is not None:
        # With a slash at its end it is the folder to begin in, not one to be chosen in its parent.
        words.append(f"--filename={start.absolute()}{'/' if wanted == 'folder' else ''}")
    return words + [f"--file-filter={name} | {pattern}" for name, pattern in kinds]


def _kdialog(wanted: Wanted, title: str, kinds: FileKinds, start: Path | None) -> list[str]:
    option = {"open": "--getopenfilename", "save": "--getsavefilename"}.get(
        wanted, "--getexistingdirectory"
    )
    words = ["--title", title, option, str((start or Path.cwd()).absolute())]
    if kinds:
        words.append("|".join(f"{name} ({pattern})" for name, pattern in kinds))
    return words


def _run(parent: tk.Misc, words: list[str]) -> tuple[bool, str]:
    """Run a dialog program while the window lives on; return if it worked, and its answer."""
    pipe = subprocess.PIPE
    try:
        program = subprocess.Popen(words, stdin=subprocess.DEVNULL, stdout=pipe, stderr=pipe)
    except OSError:
        return False, ""
    with program, _Shield(parent) as shield:
        shield.wait_until(lambda: program.poll() is not None)
        was_closed = program.poll() is None
        if was_closed:  # the window, with the program still asking for it
            program.kill()
        said, complaint = program.communicate()
    if was_closed:
        return True, ""
    answer = os.fsdecode(said).removesuffix("\n")
    if program.returncode == _CANCELLED and _NO_DISPLAY in complaint.lower():
        return False, ""
    return program.returncode in (_DONE, _CANCELLED), answer if not program.returncode else ""


class _Shield:
    """Keeps clicks and keys from a window while another program asks in its name."""

    def __init__(self, parent: tk.Misc) -> None:
        self._top = parent.winfo_toplevel()
        self._before: Any = parent.focus_get()
        self._patch = tk.Frame(self._top, width=1, height=1, bd=0, highlightthickness=0)

    def __enter__(self) -> _Shield:
        self._patch.place(x=0, y=0)
        self._top.update_idletasks()
        if self._patch.winfo_viewable():
            self._patch.grab_set()
        self._patch.focus_set()
        return self

    def __exit__(self, *_trouble: object) -> None:
        with contextlib.suppress(tk.TclError):  # the window may be gone
            if self._before is not None and self._before.winfo_exists():
                self._before.focus_set()

    def wait_until(self, done: Callable[[], bool]) -> None:
        """Let the window run until something is so, or until it is closed."""

        def look() -> None:
            if done():
                self._patch.destroy()
            else:
                self._patch.after(_POLL_MS, look)

        look()
        if self._patch.winfo_exists():
            self._patch.wait_window()


def _tk_dialog(
    parent: tk.Misc, wanted: Wanted, title: str, kinds: FileKinds, start: Path | None
) -> str:
    if wanted == "folder":
        first = {} if start is None else {"initialdir": str(start)}
        return filedialog.askdirectory(parent=parent, title=title, mustexist=False, **first)
    if wanted == "open":
        return filedialog.askopenfilename(parent=parent, title=title, filetypes=list(kinds))
    place = start or Path()
    return filedialog.asksaveasfilename(
        parent=parent,
        title=title,
        filetypes=list(kinds),
        initialdir=str(place.parent),
        initialfile=place.name,
    )
