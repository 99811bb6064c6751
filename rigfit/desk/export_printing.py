"""Printing from the form: which printers there are, and sheets of paper sent to one, unscaled.

The system is asked in a thread of its own, so that the window never waits for a printer.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any, Literal

from rigfit.desk import system
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import style_menu
from rigfit.desk.worker import Worker
from rigfit.errors import RigfitError

PUMP_MS = 40

Say = Callable[[str, Literal["note", "ok", "error"]], Any]

_NO_PRINTER = (
    "No printer is set up on this system; open the file in its viewer and print it from there, "
    "at 100 %."
)


class Printing:
    """Asks for the printers, offers them in a menu, and sends files to the one that is chosen.

    :param owner: the widget below which the menu opens.
    :param say: told what is going on and what came of it.
    """

    def __init__(self, owner: tk.Misc, say: Say) -> None:
        self._owner, self._say = owner, say
        self._files: tuple[Path, ...] = ()
        self._paper = ""
        self._worker: Worker | None = None
        self._job = ""
        self.menu = tk.Menu(owner, tearoff=False, bd=1, relief="solid")
        owner.bind("<Destroy>", lambda _event: self.close(), add="+")
        theme.watch(self)
        self.repaint()

    @property
    def is_busy(self) -> bool:
        """True while the system is asked."""
        return self._worker is not None and self._worker.is_busy

    def winfo_exists(self) -> bool:
        """True until the menu is gone."""
        return bool(self.menu.winfo_exists())

    def offer(self, files: Sequence[Path], paper: str) -> None:
        """Ask which printers there are, then open the menu of them.

        :param files: what is to be printed.
        :param paper: name of the paper.
        """
        if self.is_busy:
            return
        self._files, self._paper = tuple(files), paper
        self._say("Looking for printers.", "note")
        self._start(lambda: system.print_queues(), self._found)

    def send(self, queue: str) -> None:
        """Send the files to a printer."""
        files, paper = self._files, self._paper
        if self.is_busy:
            return

        def sending() -> int:
            for path in files:
                system.send_to_printer(path, queue, paper)
            return len(files)

        self._say(f"Sending to {queue}.", "note")
        self._start(sending, partial(self._sent, queue))

    def forget(self) -> None:
        """Drop whatever is still to be heard."""
        if self._worker is not None:
            self._worker.cancel()

    def close(self) -> None:
        """End for good."""
        worker, self._worker = self._worker, None
        if worker is not None:
            worker.close(timeout=0.1)

    def repaint(self) -> None:
        """Take colours and letters from the theme again."""
        style_menu(self.menu)

    def _found(self, queues: tuple[str, ...]) -> None:
        if not queues:
            self._say(_NO_PRINTER, "note")
            return
        self._say(f"Choose a printer with {self._paper} paper in it.", "note")
        self.menu.delete(0, "end")
        for queue in queues:
            self.menu.add_command(label=f"{queue}  ", command=partial(self.send, queue))
        owner = self._owner
        self.menu.tk_popup(owner.winfo_rootx(), owner.winfo_rooty() + owner.winfo_height() + 1)

    def _sent(self, queue: str, count: int) -> None:
        files = "1 file" if count == 1 else f"{count} files"
        words = f"Sent {files} to {queue}, on {self._paper}, unscaled. Measure both bars first."
        self._say(words, "ok")

    def _start(self, task: Callable[[], Any], on_done: Callable[[Any], None]) -> None:
        self._worker = self._worker or Worker()
        self._worker.start(lambda _progress, _cancelled: task(), on_done, self._failed)
        self._pump()

    def _failed(self, error: RigfitError) -> None:
        self._say(error.sentence(), "error")

    def _pump(self) -> None:
        if self._worker is not None and self._worker.pump():
            self._job = self._owner.after(PUMP_MS, self._pump)
