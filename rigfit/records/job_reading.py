"""Reading a job: every slip in the file named with its place, what is allowed and the cure."""

from __future__ import annotations

import dataclasses
import errno
import os
import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rigfit.errors import EntryError, JobError, JobFileError, NewerFormatError, RigfitError
from rigfit.records.field_values import bare_units, field_defaults, is_blank, value_of
from rigfit.records.plain_words import echo, listed, nearest, shown_path, toml_kind, visible
from rigfit.records.toml_text import parse_toml
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import GROUPS, LISTS, Job, Units
from rigfit.rigging.readings import specs
from rigfit.units import METRIC, BareUnits

FORMAT = 1
"""The version of the file format this rigfit writes and the newest it reads.

1: first version.
"""

LARGEST_BYTES = 2_000_000
MOST_PROBLEMS = 50
MOST_ITEMS = {
    "hole": 20_000,
    "opening": 200,
    "no_go": 200,
    "obstacle": 200,
    "dash": 200,
    "wire": 200,
    "cable": 50,
    "mass": 200,
    "mark": 50,
    "station": 100,
    "offset": 2_000,
    "trial": 200,
    "run": 5_000,
    "engine": 200,
}

_TABLES: dict[str, type[Any]] = {key: record for key, _, record in GROUPS}
_REPEATED: dict[str, type[Any]] = {key: record for key, _, _, record in LISTS}
_HOME = {name: key for key, record in {**_TABLES, **_REPEATED}.items() for name in specs(record)}
_ADD_ENGINE = 'add a table [[engine]] with id = "A" and its engine_class'


def read_job(
    path: str | os.PathLike[str], catalogue: Catalogue, *, engines_needed: bool = True
) -> Job:
    """Return the job in a file.

    :param engines_needed: False to accept a job to which no engine was added yet.
    :raises JobFileError: the file is missing, too large, not text, not TOML, or a key, a table or
        the list of engines is not as it must be.
    :raises NewerFormatError: the file was written by a newer rigfit.
    :raises EntryError: a value cannot be read or lies outside its limits.
    :raises JobError: two engines share an id, or the chosen one is not there.
    """
    name = shown_path(Path(path))
    text = decode_job(job_bytes(Path(path)), name)
    return parse_job(text, name, catalogue, engines_needed=engines_needed)


def parse_job(text: str, name: str, catalogue: Catalogue, *, engines_needed: bool = True) -> Job:
    """Return the job in a text; ``name`` is the file's name for errors.

    Raises as ``read_job``, the first problem where there are several.
    """
    job, problems = _read(text, visible(name, 300), catalogue, engines_needed=engines_needed)
    if job is None:
        raise problems[0]
    return job


def job_problems(text: str, name: str, catalogue: Catalogue) -> tuple[RigfitError, ...]:
    """Return everything that is wrong with a job's text, in the order of the tables.

    A text that is not TOML, or of a newer format, has that one problem.
    """
    try:
        return tuple(_read(text, visible(name, 300), catalogue, engines_needed=True)[1])
    except JobFileError as error:
        return (error,)


def job_bytes(path: Path) -> bytes:
    """Return the bytes of a job file; raises ``JobFileError`` when there are none to be had."""
    where = shown_path(path)
    try:
        mode, size = path.stat().st_mode, path.stat().st_size
        if stat.S_ISDIR(mode):
            raise JobFileError(
                "it is a folder", cure="give the name of a job file in it", where=where
            )
        if not stat.S_ISREG(mode):
            raise JobFileError(
                "it is a device or pipe", cure="give the name of a job file", where=where
            )
        if size > LARGEST_BYTES:
            raise JobFileError(
                f"the file has {size / 1e6:.1f} MB",
                allowed=f"a job has at most {LARGEST_BYTES / 1e6:g} MB",
                cure="give the name of a job file",
                where=where,
            )
        with path.open("rb") as stream:
            return stream.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise JobFileError(
            "there is no such file",
            cure="check the name, or make a new job with rigfit new",
            where=where,
        ) from None
    except PermissionError:
        raise JobFileError(
            "reading it is not permitted", cure="ask its owner or copy it", where=where
        ) from None
    except OSError as trouble:
        long = trouble.errno == errno.ENAMETOOLONG
        why = "the name is too long" if long else trouble.strerror or "no reason given"
        raise JobFileError(
            f"it cannot be read ({why})", cure="check the name and the disk", where=where
        ) from None
    except ValueError:
        raise JobFileError(
            "the name holds a character no disk accepts", cure="check the name", where=where
        ) from None


def decode_job(data: bytes, name: str) -> str:
    """Return the text of a job file's bytes; a byte order mark of UTF-8 is passed over.

    :raises JobFileError: when the bytes are not text in UTF-8.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise JobFileError("the text is in UTF-16", cure="save it as UTF-8", where=name)
    if b"\x00" in data:
        raise JobFileError(
            "this is not a text file", cure="give the name of a job file", where=name
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        line = data.count(b"\n", 0, trouble.start) + 1
        raise JobFileError(
            f"line {line} is not in UTF-8",
            cure="open the file in an editor and save it as UTF-8",
            where=name,
        ) from None


@dataclass(frozen=True, slots=True)
class _Reading:
    """What goes along while one file is read; every problem found is kept."""

    name: str
    catalogue: Catalogue
    bare: BareUnits = METRIC
    problems: list[RigfitError] = field(default_factory=list)

    @property
    def is_full(self) -> bool:
        """True once there is more wrong than anyone would read; the rest is not looked at."""
        return len(self.problems) >= MOST_PROBLEMS

    def note(self, problem: str, place: str, *, allowed: str = "", cure: str = "") -> None:
        error = JobFileError(problem, allowed=allowed, cure=cure, where=place)
        self.problems.append(error.at(self.name))


def _read(
    text: str, name: str, catalogue: Catalogue, *, engines_needed: bool
) -> tuple[Job | None, list[RigfitError]]:
    top = parse_toml(text, name, JobFileError)
    _check_format(top, name)
    start = _Reading(name, catalogue)
    units = _table(top, "units", start)
    bare = bare_units(units.get("entries", Units().entries))
    run = dataclasses.replace(start, bare=bare)
    _check_top(top, run)
    parts: dict[str, Any] = {"units": Units(**units)}
    for key, record in _TABLES.items():
        if key not in parts:
            parts[key] = record(**_table(top, key, run))
    for key, attribute, _, _ in LISTS:
        parts[attribute] = _items(top, key, run)
    if engines_needed and not parts["engines"] and not top.get("engine"):
        run.note("the job has no engine", "[[engine]]", cure=_ADD_ENGINE)
    if run.problems:
        return None, run.problems
    try:
        return Job(**parts), []
    except JobError as error:
        return None, [error.at(name)]


def _check_format(top: dict[str, Any], name: str) -> None:
    number = top.get("format")
    if isinstance(number, int) and not isinstance(number, bool):
        if number == FORMAT:
            return
        if number > FORMAT:
            raise NewerFormatError(
                f"the file has format {echo(number)}",
                allowed=f"this rigfit reads up to format {FORMAT}",
                cure="open it with a newer rigfit",
                where=f"{name}, format",
            )
    raise JobFileError(
        "it does not say format = 1"
        if number is None
        else f"format is {echo(number)}, which is not known",
        allowed=f"a job file says format = {FORMAT} above its tables",
        cure="add that line, or make a new job with rigfit new",
        where=f"{name}, format",
    )


def _check_top(top: dict[str, Any], run: _Reading) -> None:
    known = ("format", *_TABLES, *_REPEATED)
    for key in top:
        if key in known:
            continue
        if run.is_full:
            return
        if key in _HOME:
            home = _HOME[key]
            run.note(f"{echo(key)} stands in no table", echo(key), cure=f"move it to [{home}]")
        else:
            cure = nearest(key, known)
            allowed = "" if cure else f"the tables are {listed(known[1:])}"
            run.note("unknown name", echo(key), allowed=allowed, cure=cure or "delete it")


def _table(top: dict[str, Any], key: str, run: _Reading) -> dict[str, Any]:
    table = top.get(key, {})
    if not isinstance(table, dict):
        double = isinstance(table, list)
        cure = f"write [{key}] in single brackets, once" if double else f"write a table [{key}]"
        run.note(f"{key} is {toml_kind(table)}", f"[{key}]", allowed="a table is wanted", cure=cure)
        return {}
    return _fields(_TABLES[key], table, f"[{key}]", run)


def _items(top: dict[str, Any], key: str, run: _Reading) -> tuple[Any, ...]:
    tables = top.get(key, [])
    place = f"[[{key}]]"
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        run.note(
            f"{key} is {toml_kind(tables)}",
            place,
            allowed="tables are wanted, one for each",
            cure=f"write {place} in double brackets above each",
        )
        return ()
    if len(tables) > MOST_ITEMS[key]:
        run.note(
            f"there are {len(tables)}",
            place,
            allowed=f"at most {MOST_ITEMS[key]} are read",
            cure="take some out",
        )
        return ()
    items = [_item(key, index, table, run) for index, table in enumerate(tables, start=1)]
    return tuple(item for item in items if item is not None)


def _item(key: str, index: int, table: dict[str, Any], run: _Reading) -> Any:
    record = _REPEATED[key]
    named = table.get("id", table.get("name"))
    place = f"{key} {index}" + (f" {echo(named)}" if isinstance(named, str) and named else "")
    before = len(run.problems)
    values = _fields(record, table, place, run)
    for name, spec in specs(record).items():
        if spec.required and is_blank(table.get(name, "")):
            example = f'write it like {name} = "{spec.example}"'
            run.note("it is not filled in", f"{place}, {name}", allowed=spec.label, cure=example)
    return record(**values) if len(run.problems) == before else None


def _fields(record: type[Any], table: dict[str, Any], place: str, run: _Reading) -> dict[str, Any]:
    """Return the values of a table by field; a blank one keeps its default."""
    known = specs(record)
    values = field_defaults(record)
    for key, raw in table.items():
        if run.is_full:
            break
        if key not in known:
            _note_unknown(key, tuple(known), place, run)
        elif not is_blank(raw):
            try:
                values[key] = value_of(raw, known[key], run.bare, run.catalogue)
            except EntryError as error:
                run.problems.append(error.at(key).at(place).at(run.name))
    return values


def _note_unknown(key: str, known: tuple[str, ...], place: str, run: _Reading) -> None:
    cure = nearest(key, known)
    if not cure and key in _HOME:
        cure = f"it belongs to [{_HOME[key]}]"
    allowed = "" if cure else f"known are {listed(known)}"
    run.note(f"unknown name {echo(key)}", place, allowed=allowed, cure=cure or "delete it")
