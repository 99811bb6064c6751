"""Runs of a sea trial from a spreadsheet or a CSV file: every row is read or named with its reason.

Columns are told apart by their headings, or stand in the usual order; numbers stay as typed and are
read by ``rigfit.units`` like any entry. A column whose cells are in several units is named, and a
bare number between them is refused, because nobody can tell what it is in.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, value_of
from rigfit.records.pasted import MOST_PROBLEMS, cells_of, lines_of
from rigfit.records.plain_words import echo, listed
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import Job
from rigfit.rigging.readings import FieldSpec, specs
from rigfit.rigging.trial_fields import Run
from rigfit.units import Kind, convert, unit_names

MOST_RUNS = 5_000

_ORDER = ("rpm", "speed_there", "speed_back", "fuel_flow")
_WORDS: Mapping[str, tuple[str, ...]] = {
    "": ("mean", "slip", "drift", "a mile", "per mile", "litres a", "expected"),
    "full_throttle": ("full throttle", "wot", "lever", "fully open"),
    "rpm": ("rpm", "engine speed", "revs", "r/min"),
    "speed_back": ("speed back", "back", "return", "second way", "upstream"),
    "speed_there": ("speed there", "there", "out", "first way", "downstream", "speed"),
    "pressure": ("pressure",),
    "fuel_flow": ("fuel", "flow", "burn", "l/h", "gal/h"),
    "mass_aboard": ("mass", "weight", "load", "people, fuel", "aboard"),
    "trial": ("trial",),
    "time": ("time", "clock"),
    "trim": ("trim",),
    "plate": ("plate",),
    "ventilates": ("vent", "draws air", "air"),
    "porpoises": ("porpois",),
    "overheats": ("overheat", "hot", "temperature"),
    "note": ("note", "remark", "anything"),
}
_UNIT = re.compile(r"[(\[]\s*([^)\]]{1,12})\s*[)\]]")
_LAST_WORD = re.compile(r"[\s_,]([^\s_,]{1,12})$")
_FIGURE = r"[+\-−]?\s*(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d+)?"
_BARE = re.compile(rf"{_FIGURE}(?:\s*(?:±|\+/-)\s*{_FIGURE})?")
_OWN_UNIT = re.compile(r"[+\-−]?\s*[\d.,]+(?:\s*(?:±|\+/-)\s*[\d.,]+)?\s*(?P<unit>[^\W\d].*)")
_NUMBER = re.compile(r"[+\-−]?\s*[.,]?\d")
_YES, _NO = ("yes", "y", "x", "true", "1"), ("no", "n", "false", "0")


@dataclass(frozen=True, slots=True)
class PastedRuns:
    """What a text holds.

    :param runs: the rows that can be read, in order.
    :param problems: a sentence for each row that cannot, naming the row.
    :param notes: what was passed over or looks odd: columns not read, mixed units.
    :param taken_as: units that numbers without one were taken to be in, with their columns.
    """

    runs: tuple[Run, ...] = ()
    problems: tuple[EntryError, ...] = ()
    notes: tuple[str, ...] = ()
    taken_as: tuple[str, ...] = ()


def parse_runs(text: str, entries: str = "metric", trial: str = "") -> PastedRuns:
    """Return the runs in text from a spreadsheet or CSV file; never raises for its text.

    Cells are parted by tabs, else semicolons, else commas. A first row of words names the columns,
    in any order, perhaps with units: "speed there (mph)". Without it they are engine speed, speed
    there, speed back and fuel flow, as many as there are.

    :param entries: "metric" or "inch", for numbers without a unit.
    :param trial: id of the trial for rows that name none.
    """
    try:
        lines = lines_of(text)
    except EntryError as error:
        return _refused(error.problem, error.allowed)
    if not lines:
        return _refused("nothing was pasted", "rows of engine speed and speeds there and back")
    # The first row decides: a semicolon in somebody's note further down parts no cells.
    mark = next((sign for sign in "\t;" if sign in lines[0]), ",")
    table = [_cells(line, mark) for line in lines]
    if mark != "," and _has_decimal_commas(table):
        table = [[re.sub(r"(?<=\d),(?=\d)", ".", cell) for cell in row] for row in table]
    headed = not any(_NUMBER.match(cell) for cell in table[0])
    notes: list[str] = []
    columns = _columns(table[0], notes) if headed else _unheaded(table[0])
    if "rpm" not in columns:
        return _refused(
            "the headings do not say which column is the engine speed", 'a heading such as "rpm"'
        )
    if not headed and len(table[0]) > len(_ORDER):
        return _refused(
            f"there are {len(table[0])} columns without headings",
            "engine speed, speed there, speed back and fuel flow",
        )
    body = table[1:] if headed else table
    mixed = _mixed_units(body, columns, notes, entries)
    style = _Style(entries, trial, tuple(notes), 0 if headed else len(table[0]))
    found = _rows(body, int(headed) + 1, columns, mixed, style)
    return replace(found, taken_as=_taken_as(body, columns, entries))


@dataclass(frozen=True, slots=True)
class _Column:
    """Where a field stands, and the unit its heading names, or ""."""

    place: int
    unit: str = ""


@dataclass(frozen=True, slots=True)
class _Style:
    entries: str
    trial: str
    notes: tuple[str, ...]
    width: int = 0


def _rows(
    body: Sequence[Sequence[str]], first: int, columns: Mapping[str, _Column],
    mixed: frozenset[str], style: _Style,
) -> PastedRuns:  # fmt: skip
    runs: list[Run] = []
    problems: list[EntryError] = []
    notes = list(style.notes)
    for number, cells in enumerate(body, start=first):
        try:
            runs.append(_run(cells, columns, mixed, style))
        except EntryError as error:
            problems.append(error.at(f"row {number}"))
            if len(problems) >= MOST_PROBLEMS:
                notes.append(f"Rows behind row {number} were not looked at.")
                break
    return PastedRuns(tuple(runs), tuple(problems), tuple(notes))


def with_runs(job: Job, text: str, where: str, trial: str = "") -> tuple[Job, tuple[str, ...]]:
    """Return the job with the runs in some text behind those it has, and what to look at.

    Either every row is taken or none, so that the same text can be mended and read again.

    :param where: how the text is called in errors.
    :param trial: id of the trial for rows that name none.
    :raises EntryError: for the first row that cannot be read, a trial the job lacks, or too many.
    """
    found = parse_runs(text, job.units.entries, trial)
    if found.problems:
        count = len(found.problems)
        first = found.problems[0]
        more = f" ({count - 1} more like it)" if count > 1 else ""
        raise EntryError(
            first.problem + more, allowed=first.allowed, cure=first.cure, where=first.where
        ).at(where)
    known = {item.id for item in job.trials}
    for run in found.runs:
        if run.trial not in known:
            raise EntryError(
                f'there is no trial "{run.trial}"',
                allowed="the trials are " + (", ".join(sorted(known)) or "none yet"),
                cure="add a [[trial]] with that id, or name one that is there",
                where=where,
            )
    runs = (*job.runs, *found.runs)
    if len(runs) > MOST_RUNS:
        raise EntryError(
            f"the job would have {len(runs)} runs", allowed=f"at most {MOST_RUNS}",
            cure="leave out some", where=where,
        )  # fmt: skip
    taken = (f"Numbers without a unit were taken as: {listed(found.taken_as)}.",)
    return replace(job, runs=runs), (*found.notes, *(taken if found.taken_as else ()))


def _refused(problem: str, allowed: str) -> PastedRuns:
    return PastedRuns(problems=(EntryError(problem, allowed=allowed, cure="copy the rows again"),))


def _cells(line: str, mark: str) -> list[str]:
    return [_plain(cell) for cell in cells_of(line, mark)]


def _plain(cell: str) -> str:
    """Return a cell without the apostrophe that keeps a spreadsheet from running it."""
    return cell[1:] if re.match(r"'[\s\u00a0]*[=+\-@＝＋－＠]", cell) else cell


def _has_decimal_commas(table: Sequence[Sequence[str]]) -> bool:
    cells = [cell for row in table for cell in row]
    commas = any(re.fullmatch(r"[+\-−]?\d+,\d{1,2}(?:\s*\D*)?", cell) for cell in cells)
    return commas and not any(re.search(r"\d\.\d", cell) for cell in cells)


def _columns(row: Sequence[str], notes: list[str]) -> dict[str, _Column]:
    columns: dict[str, _Column] = {}
    passed = []
    for index, cell in enumerate(row):
        unit = _UNIT.search(cell)
        heading = _UNIT.sub("", cell).strip().casefold()
        key = _field_of(heading)
        if key is None or key in columns:
            if cell.strip():
                passed.append(cell)
            continue
        if key:
            columns[key] = _Column(index, unit[1].strip() if unit else _unit_behind(key, cell))
    if passed:
        notes.append(f"Columns not read: {', '.join(echo(cell) for cell in passed[:10])}.")
    return columns


def _unit_behind(key: str, heading: str) -> str:
    """Return the unit that ends a heading without brackets, "speed there mph", or ""."""
    kind, last = specs(Run)[key].kind, _LAST_WORD.search(heading.strip())
    return last[1] if last and kind and last[1].casefold() in _known_units(kind) else ""


def _field_of(heading: str) -> str | None:
    """Return the field a heading names, "" for a result that is not read, None for neither."""
    described = specs(Run)
    for key, spec in described.items():
        if heading in (spec.label.casefold(), key, key.replace("_", " ")):
            return key
    for key, words in _WORDS.items():
        if any(re.search(rf"(?<![a-z]){re.escape(word)}", heading) for word in words):
            return key
    return None


def _unheaded(row: Sequence[str]) -> dict[str, _Column]:
    return {key: _Column(index) for index, key in enumerate(_ORDER[: len(row)])}


def _mixed_units(
    body: Sequence[Sequence[str]], columns: Mapping[str, _Column], notes: list[str], entries: str
) -> frozenset[str]:
    """Return the columns whose numbers are in several units, and note them."""
    mixed = set()
    for key, column in columns.items():
        spec = specs(Run)[key]
        if spec.kind is None:
            continue
        cells = [row[column.place] for row in body if column.place < len(row)]
        named = {found["unit"].strip() for cell in cells if (found := _OWN_UNIT.fullmatch(cell))}
        if any(_BARE.fullmatch(cell) for cell in cells):
            named.add(column.unit or bare_units(entries).of(spec.kind))
        sizes = {size for unit in named if (size := _size(unit, spec.kind)) is not None}
        if len(sizes) > 1:
            mixed.add(key)
            notes.append(f"{spec.label.capitalize()} is in several units: {listed(sorted(named))}.")
    return frozenset(mixed)


def _taken_as(
    body: Sequence[Sequence[str]], columns: Mapping[str, _Column], entries: str
) -> tuple[str, ...]:
    """Return "speed there kn" and the like for columns with numbers and no unit anywhere."""
    found = []
    for key, column in columns.items():
        spec = specs(Run)[key]
        unit = bare_units(entries).of(spec.kind) if spec.kind else ""
        cells = [row[column.place] for row in body if column.place < len(row)]
        if unit and not column.unit and key != "rpm" and any(map(_BARE.fullmatch, cells)):
            found.append(f"{spec.label} {unit}")
    return tuple(found)


def _size(unit: str, kind: Kind) -> float | None:
    try:
        return convert(1.0, unit, kind)
    except EntryError:
        return None


def _run(
    cells: Sequence[str], columns: Mapping[str, _Column], mixed: frozenset[str], style: _Style
) -> Run:
    if style.width and any(cells[style.width :]):
        raise EntryError(
            f"it has {len(cells)} columns", allowed=f"{style.width}, as the first row has",
            cure="add headings, or leave out the other columns",
        )  # fmt: skip
    values: dict[str, Any] = {}
    for key, column in columns.items():
        text = cells[column.place] if column.place < len(cells) else ""
        if text:
            values[key] = _value(key, text, column, key in mixed, style.entries)
    values.setdefault("trial", style.trial)
    for key in ("trial", "rpm"):
        if not values.get(key):
            spec = specs(Run)[key]
            more = ", or say which trial all rows are of" if key == "trial" else ""
            raise EntryError(
                "it is not filled in", cure=f"write it like {echo(spec.example)}{more}",
                where=spec.label,
            )  # fmt: skip
    return Run(**values)


def _value(key: str, text: str, column: _Column, is_mixed: bool, entries: str) -> Any:  # noqa: FBT001
    spec = specs(Run)[key]
    try:
        if spec.kind is not None and _BARE.fullmatch(text):
            if is_mixed and not column.unit:
                raise EntryError(
                    f"{echo(text)} has no unit, and others in its column are in several",
                    cure="write the unit behind every number of that column",
                )
            if column.unit and column.unit.casefold() in _known_units(spec.kind):
                text = f"{text} {column.unit}"
        if spec.choices:
            text = _word(text, spec)
        return value_of(text, spec, bare_units(entries), load_catalogue())
    except EntryError as error:
        raise error.at(spec.label) from None


def _known_units(kind: Kind) -> frozenset[str]:
    return frozenset(name.casefold() for name in unit_names(kind) if name)


def _word(text: str, spec: FieldSpec) -> str:
    """Return a choice from what people write for it."""
    plain = text.strip().casefold()
    if "yes" in spec.choices and plain in _YES:
        return "yes"
    if "no" in spec.choices and plain in _NO:
        return "no"
    return next((word for word in spec.choices if word.casefold() == plain), text)
