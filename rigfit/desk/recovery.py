"""Finding unsaved work after a crash: which there is, what it belongs to, whether it is new."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from rigfit.desk.draft import Address
from rigfit.desk.form_state import derive
from rigfit.desk.unsaved import Unsaved, exists, file_digest, names_beside, names_in, read_unsaved
from rigfit.errors import OutputError, RigfitError
from rigfit.records.job_file import read_job
from rigfit.records.plain_words import shown_path
from rigfit.rigging.catalogue import Catalogue

_BOAT_NAME = Address("boat", "name")


@dataclass(frozen=True, slots=True)
class Recoverable:
    """Unsaved work found on disk.

    :param unsaved: the file that holds it.
    :param file: the job file it belongs to, None for a boat never saved or when damaged.
    :param boat: the name of the boat, as typed.
    :param written: when it was written, seconds since 1970.
    :param file_changed: True when the job file is no longer as it was when the work began.
    :param trouble: why it cannot be recovered; "" when it can.
    """

    unsaved: Path
    file: Path | None
    boat: str
    written: float
    file_changed: bool = False
    trouble: str = ""


def find_unsaved(
    folder: Path,
    files: Iterable[str | os.PathLike[str]],
    catalogue: Catalogue,
    skip: Path | None = None,
) -> tuple[Recoverable, ...]:
    """Return the unsaved work in a folder and beside some job files, newest first; never raises.

    Work that its job file holds already is removed from the disk and not returned. Damaged work
    is returned with its trouble, and left alone.

    :param skip: unsaved work that is not to be looked at, because it is being written now.
    """
    places = [*names_in(folder)]
    for file in files:
        places += [place for place in names_beside(Path(file).absolute()) if exists(place)]
    found = [_found(place, catalogue) for place in dict.fromkeys(places) if place != skip]
    known = [item for item in found if item is not None]
    return tuple(sorted(known, key=lambda item: -item.written))


def remove_unsaved(item: Recoverable) -> None:
    """Remove some unsaved work from the disk; raises ``OutputError`` when that fails."""
    try:
        item.unsaved.unlink(missing_ok=True)
    except OSError as trouble:
        raise OutputError(
            f"it cannot be removed ({trouble.strerror or 'no reason given'})",
            where=shown_path(item.unsaved),
        ) from trouble


def _found(place: Path, catalogue: Catalogue) -> Recoverable | None:
    try:
        written = place.stat().st_mtime
    except OSError:
        return None
    try:
        work = read_unsaved(place)
    except RigfitError as error:
        return Recoverable(place, None, "", written, trouble=error.sentence())
    item = Recoverable(
        place, work.file, work.draft.text(_BOAT_NAME).strip(), written, _is_changed(work)
    )
    if not _is_held(work, catalogue):
        return item
    with contextlib.suppress(OutputError):  # it holds nothing new, so it may as well stay
        remove_unsaved(item)
    return None


def _is_held(work: Unsaved, catalogue: Catalogue) -> bool:
    """Tell whether the job file of some unsaved work says all of it already."""
    derived = derive(work.draft, catalogue)
    if work.file is None or derived.left_out:
        return False
    try:
        return read_job(work.file, catalogue, engines_needed=False) == derived.job
    except RigfitError:
        return False


def _is_changed(work: Unsaved) -> bool:
    if work.file is None or not exists(work.file):
        return False
    try:
        return file_digest(work.file) != work.digest
    except OSError:
        return True
