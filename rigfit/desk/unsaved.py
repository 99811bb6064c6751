"""Unsaved work on disk: the texts of a draft beside its job file, until it is saved.

A file holds all texts as typed, also those no job file could hold. It is written whole or not at
all, and names the job file it belongs to and the state of that file when the work began.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigfit.desk.draft import FIELDS, GROUP_KEYS, LIST_FIELDS, Draft, Row
from rigfit.errors import JobFileError, NewerFormatError
from rigfit.records.plain_words import shown_path

SUFFIX = ".rigfit-unsaved"
FORMAT = 1
"""The version of unsaved files this rigfit writes and the newest it reads.

1: first version.
"""

_FORMAT_KEY = "rigfit_unsaved"
_LARGEST_BYTES = 200_000_000
_MOST_NAMES = 50


@dataclass(frozen=True, slots=True)
class Unsaved:
    """What an unsaved file holds.

    :param draft: the texts.
    :param file: the job file they belong to, None for a boat never saved.
    :param digest: ``digest_of`` that file when the work on it began; "" for none.
    """

    draft: Draft
    file: Path | None
    digest: str


def digest_of(data: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def file_digest(path: Path) -> str:
    """Return the digest of a file; raises ``OSError`` when it cannot be read."""
    return digest_of(path.read_bytes())


def exists(path: Path) -> bool:
    """Tell whether a file is there; False also where the disk cannot say."""
    try:
        return path.exists()
    except (OSError, ValueError):  # a disk that is gone, a name no disk can have
        return False


def unsaved_bytes(unsaved: Unsaved) -> bytes:
    """Return the content of an unsaved file."""
    draft = unsaved.draft
    tables: dict[str, Any] = {key: _texts(key, draft.rows(key)[0]) for key in GROUP_KEYS}
    tables |= {key: [_texts(key, row) for row in draft.rows(key)] for key in LIST_FIELDS}
    data = {
        _FORMAT_KEY: FORMAT,
        "file": str(unsaved.file) if unsaved.file else "",
        "digest": unsaved.digest,
        "draft": tables,
    }
    # Plain ASCII also holds what cannot be written in UTF-8, such as half of a character.
    return json.dumps(data, indent=1).encode("ascii")


def read_unsaved(path: Path) -> Unsaved:
    """Return what an unsaved file holds.

    :raises JobFileError: when it cannot be read or is damaged.
    :raises NewerFormatError: when a newer rigfit wrote it.
    """
    where = shown_path(path)
    try:
        if not path.is_file():
            raise JobFileError("there is no such file", where=where)
        with path.open("rb") as stream:
            data = json.loads(stream.read(_LARGEST_BYTES).decode("ascii"))
        return _understood(data, where)
    except (OSError, ValueError, RecursionError, LookupError, TypeError, AttributeError):
        raise JobFileError(
            "this unsaved work is damaged and cannot be read",
            cure="discard it, or keep the file and look into it with an editor",
            where=where,
        ) from None


def _understood(data: Any, where: str) -> Unsaved:
    number = data[_FORMAT_KEY]
    if isinstance(number, int) and number > FORMAT:
        raise NewerFormatError(
            f"the unsaved work has format {number}",
            allowed=f"this rigfit reads up to format {FORMAT}",
            cure="recover it with a newer rigfit",
            where=where,
        )
    if number != FORMAT:
        raise ValueError(number)
    tables = data["draft"]
    draft = Draft(
        groups=tuple(_row(key, tables[key]) for key in GROUP_KEYS),
        lists=tuple(tuple(_row(key, texts) for texts in tables[key]) for key in LIST_FIELDS),
    )
    file = _text(data["file"])
    return Unsaved(draft, Path(file) if file else None, _text(data["digest"]))


def _texts(table: str, row: Row) -> dict[str, str]:
    names = (name for name, _ in FIELDS[table])
    return {name: text for name, text in zip(names, row, strict=True) if text}


def _row(table: str, texts: dict[str, str]) -> Row:
    if set(texts) - {name for name, _ in FIELDS[table]}:
        raise ValueError(table)
    return tuple(_text(texts.get(name, "")) for name, _ in FIELDS[table])


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def names_beside(file: Path) -> Iterator[Path]:
    """Yield the names unsaved work on a job file may have, first choice first.

    There are several, because two windows may be at work on one file.
    """
    yield file.with_name(file.name + SUFFIX)
    for number in range(2, _MOST_NAMES):
        yield file.with_name(f"{file.name}{SUFFIX}-{number}")


def names_in(folder: Path) -> tuple[Path, ...]:
    """Return the unsaved files of a folder, by name; none when it cannot be read."""
    try:
        return tuple(sorted(item for item in folder.iterdir() if SUFFIX in item.name))
    except OSError:
        return ()
