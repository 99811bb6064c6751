"""Starts the desktop form."""

from __future__ import annotations

import gc
import tkinter as tk
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import get_args

from rigfit.desk.kit import theme
from rigfit.desk.kit.colours import Appearance
from rigfit.desk.kit.root import Root
from rigfit.desk.settings import Settings, load_settings
from rigfit.desk.window import Window
from rigfit.desk.workbench import Workbench
from rigfit.errors import UsageError
from rigfit.records.profiles import load_catalogue


def open_window(path: str | None = None) -> Window:
    """Return the window, not yet running: with a job, the last job, or the first screen.

    :param path: a job file; None for the one of the last time.
    :raises RigfitError: when the named file cannot be read, or there is no screen.
    """
    with _no_collecting():
        return _open(path)


def _open(path: str | None) -> Window:
    settings, trouble = load_settings()
    bench = Workbench(load_catalogue(), settings)
    if path is not None:
        bench.open(path)
    if settings.plain_corners:
        theme.plain_corners()
    root = _root(settings)
    window = Window(root, bench)
    root.report_callback_exception = window.failed
    window.open_at()
    if path is None and settings.last_file:
        window.open_last(Path(settings.last_file))
    if trouble:
        window.status.say(trouble, "warn")
    window.files.offer_recovery()
    return window


def run(path: str | None = None) -> int:
    """Open the window and stay until it is closed; return the exit status.

    :param path: a job file; None for the one of the last time.
    :raises RigfitError: as ``open_window``.
    """
    window = open_window(path)
    gc.freeze()  # what is there now stays to the end; no collection need walk through it
    window.root.mainloop()
    return 0


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Let garbage wait: while a window is built hardly anything becomes garbage."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _root(settings: Settings) -> Root:
    try:
        return Root(_appearance(settings), settings.scale / 100.0)
    except tk.TclError as error:
        raise UsageError(
            f"no window can be opened here ({error})",
            cure="start it where there is a screen, or use rigfit check and rigfit draw",
        ) from None


def _appearance(settings: Settings) -> Appearance:
    if settings.theme == "system":
        return theme.system_appearance()
    return next(name for name in get_args(Appearance) if name == settings.theme)
