"""The document: one draft and its file on disk. Opens, saves, keeps unsaved work, recovers it.

Nothing is lost on the way: a file changed by somebody else is not written over unasked, a failed
save leaves everything as it was, and what a job file cannot hold stays beside it.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from rigfit.desk.draft import Draft
from rigfit.desk.form_state import Derived, LeftOut, derive
from rigfit.desk.recovery import Recoverable, find_unsaved, remove_unsaved
from rigfit.desk.settings import settings_folder
from rigfit.desk.unsaved import (
    Unsaved,
    digest_of,
    exists,
    file_digest,
    names_beside,
    read_unsaved,
    unsaved_bytes,
)
from rigfit.errors import NewerFormatError, OutputError, RigfitError, UsageError
from rigfit.records.job_file import (
    LARGEST_BYTES,
    decode_job,
    job_bytes,
    job_text,
    parse_job,
    read_job,
    save_job,
    update_text,
)
from rigfit.records.plain_words import shown_path
from rigfit.records.saving import make_folder, write_whole
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import Job


class ChangedOnDiskError(OutputError):
    """The file was changed since it was read; ask whether to overwrite, reload or save as."""


@dataclass(frozen=True, slots=True)
class Saved:
    """A save that worked.

    :param path: the file.
    :param left_out: what was typed but is not in the file.
    :param note: "" or a sentence on what could not be kept safe besides.
    """

    path: Path
    left_out: tuple[LeftOut, ...]
    note: str = ""

    @property
    def sentence(self) -> str:
        """What happened, for the status line."""
        name = self.path.name
        if not self.left_out:
            return f"Saved {name}."
        count = len(self.left_out)
        things = "1 entry" if count == 1 else f"{count} entries"
        kept = self.note or "They stay in the form and beside the file."
        return f"Saved {name} without {things} that it cannot hold. {kept}"


@dataclass(frozen=True, slots=True)
class _Stamp:
    """How a file looked when it was read; the digest decides, the rest is quick to compare."""

    digest: str
    size: int = -1
    mtime_ns: int = -1


class Document:
    """A boat in the form, with or without a file.

    :param catalogue: the profiles its job may name.
    :param folder: where unsaved new boats are kept; ``settings_folder() / "unsaved"`` when None.
    """

    def __init__(self, catalogue: Catalogue, folder: Path | None = None) -> None:
        self._catalogue = catalogue
        self._folder = folder or settings_folder() / "unsaved"
        self._path: Path | None = None
        self._text = ""
        self._stamp: _Stamp | None = None
        self._saved: Draft | None = None
        self._own: Path | None = None
        self._kept: Draft | None = None  # what stands in it
        self._keeps_own = False

    @property
    def path(self) -> Path | None:
        """The job file; None for a boat never saved."""
        return self._path

    @property
    def folder(self) -> Path:
        """Where unsaved new boats are kept."""
        return self._folder

    def begin(self, draft: Draft) -> None:
        """Start a boat without a file; its draft as it is needs no saving."""
        self._settle(None, draft)

    def open(self, path: str | os.PathLike[str]) -> Draft:
        """Return the draft of a job file and make it the document's.

        :raises RigfitError: as ``records.job_reading.read_job``; the document is as before.
        """
        path = Path(path).absolute()  # links stay as the user named them
        data = job_bytes(path)
        name = shown_path(path)
        text = decode_job(data, name)
        job = parse_job(text, name, self._catalogue, engines_needed=False)
        draft = Draft.from_job(job)
        self._settle(path, draft, text, _stamp_of(path, data))
        return draft

    def _settle(
        self, path: Path | None, draft: Draft | None, text: str = "", stamp: _Stamp | None = None
    ) -> None:
        self._path, self._saved, self._text, self._stamp = path, draft, text, stamp
        self._own, self._kept, self._keeps_own = None, None, False

    # -- saving ----------------------------------------------------------------------------

    def changed_on_disk(self) -> bool:
        """Tell whether the file is another than the one that was read; quick while it is not.

        A file that is gone does not count as changed: saving brings it back.
        """
        return self._is_changed(quick=True)

    def _is_changed(self, *, quick: bool) -> bool:
        if self._path is None:
            return False
        try:
            stat = self._path.stat()
            stamp = self._stamp
            if stamp is None:
                return True
            if quick and (stat.st_size, stat.st_mtime_ns) == (stamp.size, stamp.mtime_ns):
                return False
            return stat.st_size > LARGEST_BYTES or file_digest(self._path) != stamp.digest
        except FileNotFoundError:
            return False
        except OSError:
            return True

    def save(self, draft: Draft, *, overwrite: bool = False) -> Saved:
        """Write the draft to its file; remarks in the file stay.

        :param overwrite: True to write even over a file that somebody else changed.
        :raises UsageError: the boat has no file yet.
        :raises ChangedOnDiskError: the file was changed since it was read; nothing was written.
        :raises OutputError: it cannot be written; the file is untouched.
        """
        if self._path is None:
            raise UsageError("this boat has no file yet", cure="save it under a name")
        if not overwrite and self._is_changed(quick=False):
            raise ChangedOnDiskError(
                "the file was changed by another program or window since it was read",
                cure="save over it, load it again, or save under another name",
                where=shown_path(self._path),
            )
        derived = self._writable(draft)
        if exists(self._path):
            save_job(self._path, derived.job, self._catalogue)
        else:
            self._write_copy(self._path, derived.job)
        return self._after_saving(self._path, derived)

    def save_as(self, draft: Draft, path: str | os.PathLike[str]) -> Saved:
        """Write the draft to another file, with the remarks of the one it came from.

        What stands there is written over when it is a job; the caller has asked for that.

        :raises ChangedOnDiskError: it is the document's own file, changed since it was read.
        :raises OutputError: it cannot be written, or no job that rigfit can read stands there; it
            is untouched.
        """
        path = Path(path).absolute()  # links stay as the user named them
        if self._path is not None and _real(path) == _real(self._path):
            return self.save(draft)
        derived = self._writable(draft)
        if exists(path):
            self._require_job(path)
        self._write_copy(path, derived.job)
        return self._after_saving(path, derived)

    def _writable(self, draft: Draft) -> Derived:
        """Return what follows from a draft, once its job is known to be readable again."""
        derived = derive(draft, self._catalogue)
        text = job_text(derived.job, self._catalogue)
        problem = "" if len(text.encode()) <= LARGEST_BYTES else "it is too large"
        try:
            parse_job(text, "", self._catalogue, engines_needed=False)
        except RigfitError as error:
            problem = problem or error.problem
        if problem:
            raise OutputError(
                f"the job could not be read back from a file: {problem}", cure="take something out"
            )
        return derived

    def _require_job(self, path: Path) -> None:
        try:
            read_job(path, self._catalogue, engines_needed=False)
        except NewerFormatError:
            raise
        except RigfitError:
            raise OutputError(
                "what stands there is no job file that rigfit can read",
                cure="save under another name",
                where=shown_path(path),
            ) from None

    def _write_copy(self, path: Path, job: Job) -> None:
        write_whole(path, update_text(self._text, job, self._catalogue).encode("utf-8"))

    def _after_saving(self, path: Path, derived: Derived) -> Saved:
        old, self._path, self._saved = self._own, path, derived.draft
        self._text, self._stamp = "", None
        with contextlib.suppress(RigfitError):  # without a stamp the next save asks first
            data = job_bytes(path)
            self._text, self._stamp = decode_job(data, path.name), _stamp_of(path, data)
        self._own, self._keeps_own, note = None, bool(derived.left_out), ""
        if self._keeps_own:
            try:
                self._keep(derived.draft)
            except OutputError:
                self._own, old = old, None  # what was kept before is better than nothing
                note = "They stay in the form only, and could not be kept on the disk."
        if old is not None and old != self._own:
            _unlink(old)
        return Saved(path, derived.left_out, note)

    # -- unsaved work ----------------------------------------------------------------------

    def autosave(self, draft: Draft) -> Path | None:
        """Keep the texts of a draft on disk until it is saved; return the file, None if needless.

        Beside the job file where that can be written, else in the settings folder; whole or not
        at all, and never over the unsaved work of another window.

        :raises OutputError: when it cannot be written anywhere; what was kept before stays.
        """
        if draft == self._saved and not self._keeps_own:
            self.drop_unsaved()
        elif draft != self._kept or self._own is None or not exists(self._own):
            self._keep(draft)
        return self._own

    def _keep(self, draft: Draft) -> None:
        """Write a draft as the document's unsaved work; raises ``OutputError``, then as before."""
        old = self._own
        self._own, self._kept = self._write_unsaved(draft), draft
        if old is not None and old != self._own:
            _unlink(old)

    def _write_unsaved(self, draft: Draft) -> Path:
        digest = self._stamp.digest if self._stamp else ""
        data = unsaved_bytes(Unsaved(draft, self._path, digest))
        places = [self._own] if self._own else []
        if self._path is not None:
            places += _free(self._path)
        places += _free(self._folder / (self._path.name if self._path else "new-boat"))
        trouble = OutputError("there is no name left for unsaved work", cure="save the boat")
        for place in places:
            try:
                if place.parent == self._folder:
                    make_folder(self._folder)
                write_whole(place, data)
            except OutputError as error:
                trouble = error
            else:
                return place
        raise trouble

    def drop_unsaved(self) -> None:
        """Remove the unsaved work from the disk; the document and its file stay as they are."""
        if self._own is not None:
            _unlink(self._own)
        self._own, self._kept, self._keeps_own = None, None, False

    def recoverable(self, files: Iterable[str | os.PathLike[str]] = ()) -> tuple[Recoverable, ...]:
        """Return the unsaved work found, newest first: of boats never saved and of some files.

        Work that its job file holds already is removed from the disk and not returned. Damaged
        work is returned with its trouble, and left alone. Never raises.

        :param files: job files to look beside, such as the recent ones.
        """
        return find_unsaved(self._folder, files, self._catalogue, skip=self._own)

    def recover(self, item: Recoverable) -> Draft:
        """Return the draft of some unsaved work and make it the document's, not yet saved.

        Where the job file was changed since, saving raises ``ChangedOnDiskError`` first.

        :raises JobFileError: when the work cannot be read; the document is as before.
        """
        work = read_unsaved(item.unsaved)
        text = ""
        if work.file is not None:
            with contextlib.suppress(RigfitError):
                text = decode_job(job_bytes(work.file), "")
        self._settle(work.file, None, text, _Stamp(work.digest) if work.digest else None)
        self._own, self._kept = item.unsaved, work.draft
        return work.draft

    def discard(self, item: Recoverable) -> None:
        """Remove some unsaved work from the disk; raises ``OutputError`` when that fails."""
        remove_unsaved(item)

    def close(self, *, discard: bool = False) -> None:
        """Leave the document; its unsaved work is removed from the disk.

        Call it once the draft is saved, or its owner wants to lose it. Entries that the last save
        had to leave out are kept for the next time, as they were then.

        :param discard: True to remove those as well.
        """
        if discard or not self._keeps_own:
            self.drop_unsaved()
        elif self._saved is not None:
            with contextlib.suppress(OutputError):  # later texts are better than none
                self.autosave(self._saved)
        self._settle(None, None)


def _stamp_of(path: Path, data: bytes) -> _Stamp:
    try:
        stat = path.stat()
    except OSError:
        return _Stamp(digest_of(data))
    return _Stamp(digest_of(data), stat.st_size, stat.st_mtime_ns)


def _real(path: Path) -> str:
    try:
        return os.path.realpath(path)
    except (OSError, ValueError):  # a name no disk can have: writing will tell
        return str(path)


def _free(file: Path) -> list[Path]:
    """Return the first name for unsaved work on a file that nobody uses, if there is one."""
    name = next((name for name in names_beside(file) if not exists(name)), None)
    return [name] if name is not None else []


def _unlink(path: Path) -> None:
    with contextlib.suppress(OSError):  # what cannot be removed is offered again, no harm done
        path.unlink(missing_ok=True)
