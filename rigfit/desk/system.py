"""Folders, files and printers reached through the programs the system has for them. No Tk."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from rigfit.errors import OutputError
from rigfit.records.plain_words import shown_path

PRINTER_WAIT_S = 10.0
"""How long a program of the printing system may take before it is given up, seconds."""

_LONGEST_REASON = 160

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


def can_print() -> bool:
    """True where the system has ``lp``, which prints a file without asking a viewer."""
    return sys.platform != "win32" and shutil.which("lp") is not None


def print_queues() -> tuple[str, ...]:
    """Return the names of the printers that are set up; it waits for ``lpstat``.

    :raises OutputError: when the system cannot say.
    """
    answer = _answer(["lpstat", "-e"], "The system did not say which printers there are")
    return tuple(name for line in answer.splitlines() if (name := line.strip()))


def send_to_printer(path: Path, queue: str, paper: str) -> None:
    """Print a file at its true size: neither shrunk nor enlarged; it waits until it is taken.

    :param queue: one of ``print_queues``.
    :param paper: name of the paper, "A4".
    :raises OutputError: when the file is gone or the printer does not take it.
    """
    whole = path.absolute()
    if not _is_there(whole):
        raise OutputError(
            f"The file {shown_path(whole)} is no longer there", cure="export it again"
        )
    words = ["lp", "-d", queue, "-o", f"media={paper}", "-o", "print-scaling=none", str(whole)]
    _answer(words, f"The printer {queue} did not take {whole.name}")


def _answer(words: list[str], problem: str) -> str:
    """Return what a program of the printing system says; an ``OutputError`` when it fails."""
    cure = "open the file in its viewer and print it from there, at 100 %"
    program = shutil.which(words[0])
    if program is None:
        raise OutputError(f"{problem} (there is no program {words[0]})", cure=cure)
    try:
        done = subprocess.run(
            [program, *words[1:]], stdin=subprocess.DEVNULL, capture_output=True, check=False,
            timeout=PRINTER_WAIT_S, env={**os.environ, "LC_ALL": "C"},
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        waited = f"no answer within {PRINTER_WAIT_S:g} seconds"
        raise OutputError(f"{problem} ({waited})", cure=cure) from None
    except (OSError, ValueError) as trouble:
        reason = getattr(trouble, "strerror", "") or "no reason given"
        raise OutputError(f"{problem} ({reason})", cure=cure) from trouble
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().splitlines()
        reason = said[0][:_LONGEST_REASON] if said else "no reason given"
        raise OutputError(f"{problem} ({reason})", cure=cure)
    return done.stdout.decode("utf-8", "replace")


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
