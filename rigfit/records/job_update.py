"""Changing a job file that somebody wrote by hand: only the entries that differ are touched."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigfit.errors import NewerFormatError, RigfitError
from rigfit.records.field_values import bare_units, typed_text
from rigfit.records.job_reading import parse_job
from rigfit.records.job_writing import job_text, toml_value
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import GROUPS, LISTS, Job
from rigfit.rigging.readings import specs
from rigfit.units import BareUnits

_HEADER = re.compile(r"\s*\[{1,2}\s*(?P<key>[\w-]+)\s*\]{1,2}\s*(?:#|$)")
_ENTRY = re.compile(r"\s*(?P<key>[\w-]+)\s*=")
_REMARK = re.compile(r"#\s*(?P<key>[\w-]+)\s*=[^\r\n]*")

Entries = Mapping[str, str | int]


def update_text(old_text: str, job: Job, catalogue: Catalogue | None = None) -> str:
    """Return ``old_text`` with only those entries changed in which it differs from ``job``.

    Remarks, order and spelling of everything else are kept. Where the old text cannot be used (it
    is no job, or the change does not fit into it) a fresh file is returned, as by ``job_text``.

    :raises NewerFormatError: the old text was written by a newer rigfit, whose data would be lost.
    """
    known = catalogue or load_catalogue()
    fresh = job_text(job, known)
    try:
        old = parse_job(old_text, "", known, engines_needed=False)
        if old == job:
            return old_text
        text = _edited(old_text, old, job)
        # Only a text that says exactly this job may take the place of the old one.
        if text and job_text(parse_job(text, "", known, engines_needed=False), known) == fresh:
            return text
    except NewerFormatError:
        raise
    except RigfitError:
        return fresh
    return fresh


@dataclass(frozen=True, slots=True)
class _Edit:
    """Entries to write into one table: its key and which of that name in the finished file."""

    key: str
    index: int
    entries: Entries


@dataclass(frozen=True, slots=True)
class _Step:
    """Tables to take out of a list, from ``start`` to ``stop``, and the text to put there."""

    key: str
    start: int
    stop: int
    text: str


def _edited(old_text: str, old: Job, new: Job) -> str:
    """Return the edited text, or "" when the file is built in a way that cannot be edited."""
    import tomlkit  # slow to load, and needed only here
    from tomlkit.exceptions import TOMLKitError

    edits, steps = _plan(old, new)
    lines = _lines(old_text.removeprefix("\ufeff"))
    try:
        for step in reversed(steps):  # from the end, so that the places before stay right
            _apply(lines, step)
        _add_places(lines, edits)
        document: Any = tomlkit.parse("".join(lines))
        for edit in edits:
            if edit.key not in document:
                document.add(edit.key, tomlkit.table())
            target = document[edit.key]
            table = target[edit.index] if isinstance(target, list) else target
            for name, entry in edit.entries.items():
                table[name] = entry
        text = tomlkit.dumps(document)
    except (TOMLKitError, LookupError, TypeError, ValueError, AttributeError):
        return ""
    return re.sub(r"\r?\n", "\r\n", text) if "\r\n" in old_text else text


def _plan(old: Job, new: Job) -> tuple[list[_Edit], list[_Step]]:
    bare = bare_units(old.units.entries), bare_units(new.units.entries)
    edits: list[_Edit] = []
    steps: list[_Step] = []
    for key, _, record in GROUPS:
        edits.append(_Edit(key, 0, _changes(record, getattr(old, key), getattr(new, key), bare)))
    for key, attribute, _, record in LISTS:
        before, after = getattr(old, attribute), getattr(new, attribute)
        for tag, i1, i2, j1, j2 in _opcodes(before, after):
            # A hole may be moved in its table; another engine gets a table of its own, because
            # the remarks in the old one are about the old engine.
            if tag == "equal" or (tag == "replace" and i2 - i1 == j2 - j1 and key == "hole"):
                for i, j in zip(range(i1, i2), range(j1, j2), strict=True):
                    edits.append(_Edit(key, j, _changes(record, before[i], after[j], bare)))
            else:
                fresh = [_table_text(key, record, item, bare[1]) for item in after[j1:j2]]
                steps.append(_Step(key, i1, i2, "".join(fresh)))
    return [edit for edit in edits if edit.entries], steps


def _opcodes(old: Sequence[Any], new: Sequence[Any]) -> list[tuple[str, int, int, int, int]]:
    """Return how to get from the old list to the new; engines are followed by their id."""
    before, after = ([getattr(item, "id", item) for item in side] for side in (old, new))
    codes = difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    return [(str(tag), i1, i2, j1, j2) for tag, i1, i2, j1, j2 in codes]


def _changes(
    record: type[Any], old: Any, new: Any, bare: tuple[BareUnits, BareUnits]
) -> dict[str, str | int]:
    """Return the fields whose entry is written differently, as they are to be written."""
    before, after = _all_entries(record, old, bare[0]), _all_entries(record, new, bare[1])
    return {name: entry for name, entry in after.items() if entry != before[name]}


def _all_entries(record: type[Any], item: Any, bare: BareUnits) -> dict[str, str | int]:
    fields = specs(record).items()
    return {name: typed_text(getattr(item, name), spec, bare) for name, spec in fields}


def _table_text(key: str, record: type[Any], item: Any, bare: BareUnits) -> str:
    entries = _all_entries(record, item, bare).items()
    lines = [f"{name} = {toml_value(entry)}\n" for name, entry in entries if entry != ""]
    return f"[[{key}]]\n{''.join(lines)}\n"


def _headers(lines: Sequence[str]) -> list[tuple[int, str]]:
    """Return the line and the key of every table's header."""
    return [
        (index, match["key"] if (match := _HEADER.match(line)) else "")
        for index, line in enumerate(lines)
        if line.lstrip().startswith("[")
    ]


def _apply(lines: list[str], step: _Step) -> None:
    """Take tables out, with the remarks right above them, and put others in."""
    headers = _headers(lines)
    # Each table of the list begins at the remarks above it and ends where the next table begins.
    begins = [_lead(lines, index) for index, _ in headers] + [len(lines)]
    own = [place for place, (_, key) in enumerate(headers) if key == step.key]
    if step.start < len(own):
        start = begins[own[step.start]]
    else:
        start = begins[own[-1] + 1] if own else len(lines)
    stop = begins[own[step.stop - 1] + 1] if step.stop > step.start else start
    above = lines[start - 1] if start else "\n"
    # A header needs a line of its own, and a blank one above it for the reader.
    gap = ("" if above.endswith("\n") else "\n") + ("\n" if above.strip() else "")
    lines[start:stop] = _lines(gap + step.text) if step.text else []


def _lines(text: str) -> list[str]:
    return [line for line in re.split(r"(?<=\n)", text) if line]


def _lead(lines: Sequence[str], index: int) -> int:
    while index and lines[index - 1].lstrip().startswith("#"):
        index -= 1
    return index


def _add_places(lines: list[str], edits: Sequence[_Edit]) -> None:
    """Put an empty entry into the lines for every one to be added.

    It takes the place of its remark (``# rake = "13°"``) where the file has one, so that it stands
    where it is explained; otherwise it follows the last entry of its table.
    """
    for edit in edits:
        start, stop = _section(lines, edit.key, edit.index)
        if start == stop:
            continue
        found = [match["key"] for line in lines[start:stop] if (match := _ENTRY.match(line))]
        for name in edit.entries:
            if name not in found and not _open_remark(lines, start, stop, name):
                _add_after_last(lines, start, stop, name)
                stop += 1


def _section(lines: Sequence[str], key: str, index: int) -> tuple[int, int]:
    """Return where the ``index``-th table of a key begins and ends, (0, 0) if there is none."""
    headers = _headers(lines)
    own = [line for line, name in headers if name == key]
    if index >= len(own):
        return 0, 0
    start = own[index]
    return start, next((line for line, _ in headers if line > start), len(lines))


def _open_remark(lines: list[str], start: int, stop: int, name: str) -> bool:
    for index in range(start, stop):
        match = _REMARK.match(lines[index])
        if match is not None and match["key"] == name:
            lines[index] = f'{name} = ""' + lines[index][match.end() :]
            return True
    return False


def _add_after_last(lines: list[str], start: int, stop: int, name: str) -> None:
    last = max(i for i in range(start, stop) if i == start or _ENTRY.match(lines[i]))
    if not lines[last].endswith("\n"):
        lines[last] += "\n"
    lines.insert(last + 1, f'{name} = ""\n')
