"""Writing a file whole or not at all: what stood there before stays until the new one is safe."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Iterator, Sequence
from pathlib import Path

from rigfit.errors import OutputError
from rigfit.records.plain_words import shown_path

_ANYONE_WRITES = 0o222

_REASONS: dict[int, tuple[str, str]] = {
    errno.ENOENT: ("the folder does not exist", "make the folder or choose another"),
    errno.ENOTDIR: ("a part of the path is a file, not a folder", "choose another folder"),
    errno.EACCES: ("writing there is not permitted", "choose a folder of your own"),
    errno.EPERM: ("writing there is not permitted", "choose a folder of your own"),
    errno.EROFS: ("the disk can only be read", "choose a folder on another disk"),
    errno.ENOSPC: ("the disk is full", "free some space and save again"),
    errno.EDQUOT: ("your share of the disk is used up", "free some space and save again"),
    errno.EFBIG: ("the file is too large for that disk", "choose another disk"),
    errno.ENAMETOOLONG: ("the name is too long", "choose a shorter name"),
    errno.EISDIR: ("it is a folder", "give a file name"),
    errno.ELOOP: ("the path leads round in a circle", "choose another folder"),
    errno.EIO: ("the disk reports a fault", "save on another disk"),
    errno.EEXIST: ("a file of that name is in the way", "choose another name"),
}


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Write ``data`` to ``path`` so that the file is the old one or the new one, never half.

    The bytes go to a new file beside it, which takes its place once it is safe on the disk. The
    permissions of an existing file are kept; a link is followed.

    :raises OutputError: the folder is missing or closed to writing, the path is a folder or not an
        ordinary file, the file is read-only, the disk is full; what stood there is untouched.
    """
    given = Path(path)
    with _as_output_error(given):
        target = Path(os.path.realpath(given))
        mode = _mode_of(target, given)
        _write_beside(target, data, mode)


def write_together(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write several files that belong together, making their folders.

    If one cannot be written, what stood in the others before is put back, as far as that goes.

    :raises OutputError: as ``write_whole``.
    """
    for folder in dict.fromkeys(path.parent for path, _ in files):
        make_folder(folder)
    before: list[tuple[Path, bytes | None]] = []
    try:
        for path, data in files:
            old = _content(path)
            write_whole(path, data)
            before.append((path, old))
    except OutputError:
        for path, old in before:
            with contextlib.suppress(OSError, OutputError):
                if old is None:
                    path.unlink()
                else:
                    write_whole(path, old)
        raise


def _content(path: Path) -> bytes | None:
    """Return what stands in a file that is to be written over; None when there is none."""
    try:
        return path.read_bytes() if path.is_file() else None
    except (OSError, ValueError):  # writing will tell
        return None


def make_folder(path: str | os.PathLike[str]) -> None:
    """Make a folder and those above it; one that is there already is welcome.

    :raises OutputError: when it cannot be made, or a file of that name is in the way.
    """
    given = Path(path)
    with _as_output_error(given):
        given.mkdir(parents=True, exist_ok=True)


@contextlib.contextmanager
def _as_output_error(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as trouble:
        unknown = (f"it cannot be written ({trouble.strerror or 'no reason given'})", "")
        problem, cure = _REASONS.get(trouble.errno or 0, unknown)
        raise OutputError(problem, cure=cure, where=shown_path(path)) from trouble
    except ValueError:  # a path with a NUL character, or one no disk can spell
        raise OutputError(
            "the name holds a character no disk accepts",
            cure="choose a name of letters, digits, - and _",
            where=shown_path(path),
        ) from None


def _mode_of(target: Path, given: Path) -> int | None:
    """Return the permissions of the file to be replaced, None for a new one."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "is a directory")
    if not stat.S_ISREG(mode):
        raise OutputError(
            "it is a device or pipe, not a file", cure="give a file name", where=shown_path(given)
        )
    # Replacing needs no right to the old file itself, so the owner's wish is honoured here.
    if not mode & _ANYONE_WRITES or not os.access(target, os.W_OK):
        raise OutputError(
            "the file is read-only",
            cure="save under another name or allow writing to it",
            where=shown_path(given),
        )
    return stat.S_IMODE(mode)


def _write_beside(target: Path, data: bytes, mode: int | None) -> None:
    beside = target.parent / f".rigfit-{secrets.token_hex(6)}.part"
    # Made with the old file's rights from the start, so that a private file is never open to all.
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(beside, flags, 0o666 if mode is None else mode)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if mode is not None:
            with contextlib.suppress(OSError):  # some disks keep no permissions
                beside.chmod(mode)
        beside.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise
