"""What happens around files: asking before work is lost, choosing names, saying what went wrong.

Every method leaves the boat in the form as it was unless it worked.
"""

from __future__ import annotations

import re
import time
import tkinter as tk
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Protocol

from rigfit.desk.banner import Banner, recover_words
from rigfit.desk.document import ChangedOnDiskError, Saved
from rigfit.desk.kit import dialogs
from rigfit.desk.kit.panes import Note
from rigfit.desk.recovery import Recoverable
from rigfit.desk.settings import recent_files
from rigfit.desk.workbench import Workbench
from rigfit.errors import RigfitError

JOB_KINDS = (("rigfit jobs", "*.toml"), ("All files", "*"))
ENDING = ".toml"

_STEM = re.compile(r"[^a-z0-9]+")
_KEPT = "Everything typed is still in the form."


class Say(Protocol):
    """Says in the status bar what has happened."""

    def __call__(self, text: str, kind: Note = "note") -> None:
        """Say a sentence."""


class FileFlow:
    """New, open, save and what hangs on them, for one window.

    :param parent: in front of which questions are asked.
    :param say: the status bar.
    :param settled: called after another boat has come into the form.
    """

    def __init__(
        self,
        parent: tk.Misc,
        bench: Workbench,
        banner: Banner,
        say: Say,
        settled: Callable[[], None],
    ) -> None:
        self._parent, self._bench, self._banner = parent, bench, banner
        self._say, self._settled = say, settled
        self._asked_about: tuple[Path, int] | None = None

    # -- another boat ----------------------------------------------------------------------

    def new(self) -> None:
        """Start a new boat, once the one in the form may be left."""
        if self.may_leave():
            self._bench.begin()
            self._after("A new boat. Fill in what you have measured; Save gives it a file.")

    def demo(self) -> None:
        """Show the demo boat, once the one in the form may be left."""
        if self.may_leave():
            self._bench.begin_demo()
            self._after("Dunlin, an invented boat to try things on. Save as... keeps a copy.")

    def ask_open(self) -> None:
        """Ask which job file to open, and open it."""
        path = dialogs.questions().open_path(self._parent, "Open a job file", JOB_KINDS)
        if path is not None:
            self.open(path)

    def open(self, path: Path) -> bool:
        """Open a job file, once the boat in the form may be left; True when it is open."""
        if not self.may_leave():
            return False
        try:
            self._bench.open(path)
        except RigfitError as error:
            if not path.exists():
                self._bench.set_settings(recent=self._bench.settings.without_recent(path).recent)
            self._banner.show("open", error.sentence(), {}, _no_answer, kind="warn")
            return False
        self._banner.hide("open")
        self._after(f"Opened {path.name}.")
        self._offer(only=path)
        return True

    def may_leave(self) -> bool:
        """Ask what is to become of unsaved changes; True when the boat may be left."""
        bench = self._bench
        if not bench.has_boat or bench.is_saved:
            return True
        answer = dialogs.ask(
            self._parent,
            f"Save the changes to {bench.boat_name}?",
            "What was typed since the last save is lost otherwise.",
            {"save": "Save", "discard": "Do not save", "stay": "Go back"},
        )
        if answer == "save":
            return self.save()
        if answer == "discard":
            # The boat stays whole until another one is there: opening that may still fail.
            bench.document.drop_unsaved()
            return True
        return False

    def _after(self, words: str) -> None:
        self._asked_about = None
        self._banner.hide("disk")
        self._settled()
        self._say(words)

    # -- saving ----------------------------------------------------------------------------

    def save(self) -> bool:
        """Save the boat, asking for a name where it has none; True when it is saved."""
        if self._bench.document.path is None:
            return self.save_as()
        return self._try(self._bench.save)

    def save_as(self) -> bool:
        """Ask for a name and save the boat there; True when it is saved."""
        path = dialogs.questions().save_path(
            self._parent, "Save the boat", JOB_KINDS, suggestion=self._suggestion()
        )
        if path is None:
            return False
        if not path.suffix:
            path = path.with_name(path.name + ENDING)
            if path.exists() and not self._may_replace(path):
                return False
        return self._try(partial(self._bench.save_as, path))

    def _try(self, write: Callable[[], Saved]) -> bool:
        """Save, and say what came of it; True when it is saved."""
        try:
            saved = write()
        except ChangedOnDiskError as error:
            return self._save_over(error)
        except RigfitError as error:
            return self._failed(error)
        self._banner.hide("disk")
        self._say(saved.sentence, "ok")
        return True

    def _may_replace(self, path: Path) -> bool:
        answer = dialogs.ask(
            self._parent,
            f"Replace {path.name}?",
            "There is a file of that name already; what it holds is lost.",
            {"keep": "Keep it", "replace": "Replace"},
        )
        return answer == "replace"

    def _save_over(self, error: ChangedOnDiskError) -> bool:
        answer = dialogs.ask(
            self._parent,
            "The file was changed by somebody else",
            f"{error.sentence()} {_KEPT}",
            {"as": "Save as...", "over": "Save over it", "load": "Load it again", "": "Go back"},
        )
        if answer == "over":
            return self._try(partial(self._bench.save, overwrite=True))
        if answer == "load":
            self.reload()
        return answer == "as" and self.save_as()

    def _failed(self, error: RigfitError) -> bool:
        self._say(error.sentence(), "error")
        answer = dialogs.ask(
            self._parent,
            "The boat could not be saved",
            f"{error.sentence()} {_KEPT}",
            {"as": "Save as...", "": "Go back"},
        )
        return answer == "as" and self.save_as()

    def _suggestion(self) -> Path:
        from rigfit.desk.export_plan import default_folder

        path = self._bench.document.path
        if path is not None:
            return path
        stem = _STEM.sub("-", self._bench.boat_name.lower()).strip("-")[:40] or "boat"
        recent = [item.path for item in recent_files(self._bench.settings) if item.is_there]
        return default_folder(recent[0] if recent else None) / f"{stem}{ENDING}"

    # -- the disk --------------------------------------------------------------------------

    def reload(self) -> None:
        """Read the file again; undo brings back what stood in the form."""
        try:
            self._bench.reload()
        except RigfitError as error:
            self._say(error.sentence(), "error")
            return
        self._banner.hide("disk")
        self._say("Loaded the file as it is on the disk; Undo brings back what was typed.")

    def look_at_disk(self) -> None:
        """Say so, once, when the boat's file was changed since it was read."""
        path = self._bench.document.path
        if not self._bench.has_boat or path is None or not self._bench.document.changed_on_disk():
            return
        try:
            state = path, path.stat().st_mtime_ns
        except OSError:
            return
        if state == self._asked_about:
            return
        self._asked_about = state
        self._banner.show(
            "disk",
            f"{path.name} was changed by another program since it was read.",
            {"load": "Load it again", "keep": "Keep what is here"},
            lambda _key, answer: self.reload() if answer == "load" else None,
            kind="warn",
        )

    # -- after a crash ---------------------------------------------------------------------

    def offer_recovery(self) -> None:
        """Offer unsaved work that was found on the disk."""
        self._offer()

    def _offer(self, only: Path | None = None) -> None:
        files = [item.path for item in recent_files(self._bench.settings)]
        found = self._bench.document.recoverable(files)
        for number, item in enumerate(found):
            if only is not None and item.file != only.absolute():
                continue
            self._banner.show(
                f"recover {number}",
                recover_words(item),
                {"later": "Later", "discard": "Throw it away"}
                if item.trouble
                else {"recover": "Take it up", "discard": "Throw it away", "later": "Later"},
                lambda _key, answer, found=item: self._recovered(found, answer),  # type: ignore[misc]
                kind="warn",
            )

    def _recovered(self, item: Recoverable, answer: str) -> None:
        if answer == "recover" and self.may_leave():
            try:
                self._bench.recover(item)
            except RigfitError as error:
                self._say(error.sentence(), "error")
                return
            when = time.strftime("%H:%M", time.localtime(item.written))
            self._after(f"Took up the work of {when}. It is not saved yet.")
        elif answer == "discard":
            try:
                self._bench.document.discard(item)
            except RigfitError as error:
                self._say(error.sentence(), "error")
            else:
                self._say("Thrown away.")


def _no_answer(_key: str, _answer: str) -> None:
    """Take the answer to a message that asks nothing."""
