"""Old holes from a spreadsheet, and from a pattern that is known: rows of texts for the form.

Nothing is guessed that could put a hole elsewhere: columns are told apart by their headings, or
stand in the usual order; numbers stay as typed and are read by ``rigfit.units`` like any entry.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, checked_text, value_of
from rigfit.records.pasted import BARE_NUMBER, LENGTH_UNIT, MOST_PROBLEMS, cells_of, lines_of
from rigfit.records.plain_words import echo
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.hole_pattern import HolePattern, drilled_features
from rigfit.rigging.job import ExistingHole
from rigfit.rigging.readings import specs

_ORDER = ("across", "below_top", "diameter")
_WORDS = {
    "diameter": ("diam", "dia", "ø", "⌀", "size", "bore"),
    "below_top": ("below", "down", "under", "depth", "from top", "y"),
    "across": ("across", "left", "right", "centreline", "centerline", "centre line", "side", "x"),
    "name": ("name", "label", "which", "what", "hole", "no", "nr", "number", "id", "#"),
}
_COMMA = re.compile(r"(?<![\d.,])(?:\d+,(?:\d{1,2}|\d{4,})|0,\d+|\d{4,},\d+)(?![\d.,])")
_POINT = re.compile(r"\d\.\d")


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole as texts, by the names of the fields of ``ExistingHole``; "" is not filled in."""

    name: str
    across: str
    below_top: str
    diameter: str


@dataclass(frozen=True, slots=True)
class Pasted:
    """What a paste holds.

    :param rows: the rows that can be read, in order.
    :param problems: a sentence for each row that cannot, naming the row.
    """

    rows: tuple[HoleRow, ...]
    problems: tuple[EntryError, ...] = ()


def parse(text: str, entries: str = "metric") -> Pasted:
    """Return the holes in text copied from a spreadsheet or a CSV file; never raises for its text.

    Cells are parted by tabs, else semicolons, else commas. A first row of words names the columns,
    in any order, perhaps with units: "across (mm)". Without it they are across, below the top and
    diameter, with a name in front where there are four. Where numbers have decimal commas and
    none has a point, commas are points.

    :param entries: "metric" or "inch", for numbers without a unit.
    """
    try:
        lines = lines_of(text)
    except EntryError as error:
        return _refused(error.problem, error.allowed)
    if not lines:
        return _refused("nothing was pasted", "rows of across, below the top and diameter")
    mark = next((sign for sign in "\t;" if any(sign in line for line in lines)), ",")
    table = [_cells(line, mark) for line in lines]
    if mark != "," and _has_decimal_commas(table):
        table = [[re.sub(r"(?<=\d),(?=\d)|^,(?=\d)", ".", cell) for cell in row] for row in table]
    start = 0 if _is_data(table[0]) else 1
    columns, units = _columns(table[0]) if start else (None, {})
    if start and columns is not None and (lost := [key for key in _ORDER if key not in columns]):
        return _refused(
            f"the headings do not say which column is {_label(lost[0])}",
            'headings such as "across", "below top" and "diameter"',
        )
    rows, problems = [], []
    for number, cells in enumerate(table[start:], start=start + 1):
        try:
            rows.append(_row(cells, columns, units, entries))
        except EntryError as error:
            problems.append(error.at(f"row {number}"))
            if len(problems) >= MOST_PROBLEMS:
                break
    return Pasted(tuple(rows), tuple(problems))


def holes_from_pattern(
    pattern: HolePattern, upper_below_top_mm: float, centre_mm: float = 0.0
) -> tuple[HoleRow, ...]:
    """Return the holes an engine of a known pattern left, as texts for the form, in mm.

    :param upper_below_top_mm: its upper holes below the transom top.
    :param centre_mm: its middle from the centreline, + to starboard.
    :raises ValueError: for a pattern without bolt rows.
    """
    return tuple(
        HoleRow(
            f"old {item.name}",
            _millimetres(item.across_mm),
            _millimetres(item.below_top_mm),
            _millimetres(item.diameter_mm),
        )
        for item in drilled_features(pattern, upper_below_top_mm, centre_mm)
    )


def _millimetres(value: float) -> str:
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".") + " mm"


def _refused(problem: str, allowed: str) -> Pasted:
    error = EntryError(problem, allowed=allowed, cure="copy the rows again")
    return Pasted((), (error,))


def _label(key: str) -> str:
    return specs(ExistingHole)[key].label


def _cells(line: str, mark: str) -> list[str]:
    cells = cells_of(line, mark)
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _has_decimal_commas(table: Sequence[Sequence[str]]) -> bool:
    cells = [cell for row in table for cell in row]
    commas = any(_COMMA.search(cell) for cell in cells)
    return commas and not any(_POINT.search(cell) for cell in cells)


def _is_data(row: Sequence[str]) -> bool:
    """Tell whether a first row holds numbers rather than headings."""
    return any(re.match(r"[+\-−]?\s*[.,]?\d", cell) for cell in row[1:] or row)


def _columns(row: Sequence[str]) -> tuple[dict[str, int], dict[str, str]]:
    """Return the column of every field that the headings name, and the units they name."""
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for index, cell in enumerate(row):
        heading = LENGTH_UNIT.sub("", cell).strip().casefold()
        key = next((key for key, words in _WORDS.items() if _says(heading, words)), None)
        if key is None or key in columns:
            continue
        columns[key] = index
        unit = LENGTH_UNIT.search(cell)
        if unit is not None and key != "name":
            units[key] = unit[1]
    return columns, units


def _says(heading: str, words: Sequence[str]) -> bool:
    """Tell whether a heading holds one of the words; a single letter must be all of it."""
    for word in words:
        if len(word) == 1 and word.isalpha() and word.isascii():
            if heading == word:
                return True
        elif re.search(rf"(?<![a-z]){re.escape(word)}", heading):
            return True
    return False


def _row(
    cells: Sequence[str], columns: dict[str, int] | None, units: dict[str, str], entries: str
) -> HoleRow:
    if columns is None:
        if not 3 <= len(cells) <= 4:
            raise EntryError(
                f"it has {len(cells)} columns",
                allowed="three: across, below the top and diameter; or four with a name in front",
                cure="add headings, or leave out the other columns",
            )
        order = _ORDER if len(cells) == 3 else ("name", *_ORDER)
        columns = {key: index for index, key in enumerate(order)}
    texts = {
        key: cells[index] if index < len(cells) else "" for key, index in columns.items()
    }  # fmt: skip
    for key, unit in units.items():
        if BARE_NUMBER.fullmatch(texts[key]):
            texts[key] = f"{texts[key]} {unit.casefold()}"
    row = HoleRow(**{item.name: texts.get(item.name, "") for item in fields(HoleRow)})
    _check(row, entries)
    return row


def _check(row: HoleRow, entries: str) -> None:
    """Refuse a row of which a field cannot be read or lies outside its limits."""
    described = specs(ExistingHole)
    checked_text(row.name)
    for key in _ORDER:
        text = getattr(row, key)
        try:
            if not text:
                raise EntryError(
                    "it is not filled in", cure=f"write it like {echo(described[key].example)}"
                )
            value_of(text, described[key], bare_units(entries), load_catalogue())
        except EntryError as error:
            raise error.at(_label(key)) from None
