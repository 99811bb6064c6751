"""Folders and files opened with the program the system has for them. No Tk."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from rigfit.records.plain_words import shown_path

_running: list[subprocess.Popen[bytes]] = []


def open_folder(path: str | os.PathLike[str]) -> str:
    """Show a folder in the system's file manager, without waiting for it.

    :param path: the folder; a file stands for the folder it lies in.
    :returns: "" when it was asked for, else a sentence on why it cannot be shown.
    """
    folder = Path(path).absolute()
    return _open(folder if folder.is_dir() else folder.parent, "folder")


def open_file(path: str | os.PathLike[str]) -> str:
    """Show a file with the program the system has for its kind, without waiting for it.

    :returns: "" when it was asked for, else a sentence on why it cannot be shown.
    """
    return _open(Path(path).absolute(), "file")


def start(words: list[str]) -> str:
    """Start a program that runs on by itself; return "" or why it could not be started.

    :param words: the program and its arguments; no shell ever sees them.
    """
    # One that has ended is kept by the system until somebody asks.
    _running[:] = [program for program in _running if program.poll() is None]
    nothing = subprocess.DEVNULL
    try:
        program = subprocess.Popen(
            words, stdin=nothing, stdout=nothing, stderr=nothing, start_new_session=True
        )
    except (OSError, ValueError) as trouble:  # a null character is a ValueError
        return getattr(trouble, "strerror", "") or "no reason given"
    _running.append(program)
    return ""


def _open(path: Path, what: str) -> str:
    if not _is_there(path):
        return f"The {what} {shown_path(path)} is no longer there; export again."
    if sys.platform == "win32":
        trouble = _start_file(path)
    else:
        name = "open" if sys.platform == "darwin" else "xdg-open"
        opener = shutil.which(name)
        if opener is None:
            return (
                f"This system has no program {name} to open the {what} with; "
                f"look for it yourself: {shown_path(path)}."
            )
        trouble = start([opener, str(path)])
    if not trouble:
        return ""
    return f"The {what} {shown_path(path)} could not be opened ({trouble}); open it yourself."


def _start_file(path: Path) -> str:
    opener: Any = getattr(os, "startfile", None)  # Windows only
    try:
        opener(str(path))
    except OSError as trouble:
        return trouble.strerror or "no reason given"
    return ""


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a disk that is gone, a name no disk can have
        return False
