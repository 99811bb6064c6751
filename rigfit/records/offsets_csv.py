"""A table of offsets from a spreadsheet: rows of texts for the form, checked for sense.

Each row is a station, a height above the keel line and a half breadth. Numbers stay as typed and
are read by ``rigfit.units`` like any entry.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, value_of
from rigfit.records.pasted import BARE_NUMBER, LENGTH_UNIT, MOST_PROBLEMS, cells_of, lines_of
from rigfit.records.plain_words import echo
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.hull_fields import Offset
from rigfit.rigging.readings import Reading, specs

LEAST_STATIONS = 3

IS_OPEN = "it does not close"
"""How the one problem begins that can be lived with: the bottom is then taken as flat."""

_ORDER = ("ahead", "height", "half_breadth")
_WORDS = {
    "half_breadth": ("half", "breadth", "beam", "offset", "y"),
    "height": ("height", "waterline", "above", "wl", "z"),
    "ahead": ("station", "ahead", "section", "distance", "x"),
}


@dataclass(frozen=True, slots=True)
class OffsetRow:
    """One entry as texts, by the names of the fields of ``Offset``."""

    ahead: str
    height: str
    half_breadth: str


@dataclass(frozen=True, slots=True)
class OffsetTable:
    """What a text holds.

    :param rows: the rows that can be read, in order of stations and heights.
    :param offsets: the same as records.
    :param problems: a sentence for everything that is wrong, naming row or station.
    """

    rows: tuple[OffsetRow, ...]
    offsets: tuple[Offset, ...]
    problems: tuple[EntryError, ...] = ()


def parse_offsets(text: str, entries: str = "metric") -> OffsetTable:
    """Return the offsets in text from a spreadsheet or CSV file; never raises for its text.

    Cells are parted by tabs, else semicolons, else commas. A first row of words names the columns,
    in any order, perhaps with units; without it they are station, height, half breadth. A table
    must have three stations, each with two heights at least, each height once, and must close:
    the lowest entry of a station lies on the centreline, or the bottom is taken as flat there and
    that is said.

    :param entries: "metric" or "inch", for numbers without a unit.
    """
    try:
        lines = lines_of(text)
    except EntryError as error:
        return _refused(error.problem, error.allowed)
    if not lines:
        return _refused("the table is empty", "rows of station, height and half breadth")
    mark = next((sign for sign in "\t;" if any(sign in line for line in lines)), ",")
    table = [cells_of(line, mark) for line in lines]
    columns, first = {key: index for index, key in enumerate(_ORDER)}, 0
    units: dict[str, str] = {}
    if not re.match(r"[+\-−]?\s*[.,]?\d", table[0][0] if table[0] else ""):
        columns, units = _columns(table[0])
        first = 1
        lacking = [key for key in _ORDER if key not in columns]
        if lacking:
            names = ", ".join(specs(Offset)[key].label for key in lacking)
            return _refused(
                f"there is no column for {names}",
                "",
                'head the columns "station", "height" and "half breadth", or leave the heading out',
            )
    found: list[tuple[OffsetRow, Offset]] = []
    problems: list[EntryError] = []
    for number, cells in enumerate(table[first:], start=first + 1):
        try:
            found.append(_row(cells, columns, units, entries))
        except EntryError as error:
            problems.append(error.at(f"row {number}"))
            if len(problems) >= MOST_PROBLEMS:
                break
    found.sort(key=lambda pair: (_mm(pair[1].ahead), _mm(pair[1].height)))
    problems += sense_of([offset for _, offset in found])
    return OffsetTable(
        tuple(row for row, _ in found), tuple(offset for _, offset in found), tuple(problems)
    )


def _refused(problem: str, allowed: str, cure: str = "") -> OffsetTable:
    return OffsetTable((), (), (EntryError(problem, allowed=allowed, cure=cure, where="offsets"),))


def _mm(reading: Reading | None) -> float:
    return reading.value if reading else 0.0


def _columns(row: Sequence[str]) -> tuple[dict[str, int], dict[str, str]]:
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for index, cell in enumerate(row):
        heading = LENGTH_UNIT.sub("", cell).strip().casefold()
        key = next((key for key, words in _WORDS.items() if _says(heading, words)), None)
        if key is None or key in columns:
            continue
        columns[key] = index
        unit = LENGTH_UNIT.search(cell)
        if unit is not None:
            units[key] = unit[1].casefold()
    return columns, units


def _says(heading: str, words: Sequence[str]) -> bool:
    return any(heading == word if len(word) <= 2 else word in heading for word in words)


def _row(
    cells: Sequence[str], columns: dict[str, int], units: dict[str, str], entries: str
) -> tuple[OffsetRow, Offset]:
    texts: dict[str, str] = {}
    values: dict[str, Reading] = {}
    for key in _ORDER:
        text = cells[columns[key]] if columns[key] < len(cells) else ""
        spec = specs(Offset)[key]
        if not text:
            raise EntryError(
                "it is not filled in", cure=f"write it like {echo(spec.example)}", where=spec.label
            )
        if key in units and BARE_NUMBER.fullmatch(text):
            text = f"{text} {units[key]}"
        try:
            values[key] = value_of(text, spec, bare_units(entries), load_catalogue())
        except EntryError as error:
            raise error.at(spec.label) from None
        texts[key] = text
    return OffsetRow(**texts), Offset(**values)


def sense_of(offsets: Sequence[Offset]) -> list[EntryError]:
    """Return what no hull can be, and what was left open."""
    stations: dict[float, list[tuple[float, float]]] = {}
    for item in offsets:
        part = stations.setdefault(_mm(item.ahead), [])
        part.append((_mm(item.height), _mm(item.half_breadth)))
    problems = []
    if offsets and len(stations) < LEAST_STATIONS:
        problems.append(
            EntryError(
                f"there are {len(stations)} stations",
                allowed=f"{LEAST_STATIONS} at least",
                cure="add one at the transom, one amidships and one well forward",
                where="offsets",
            )
        )
    for ahead, part in stations.items():
        problems += _station_sense(f"station {ahead:g} mm", part)
    return problems


def _station_sense(where: str, part: Sequence[tuple[float, float]]) -> list[EntryError]:
    problems = []
    heights = [height for height, _ in part]
    if len(part) < 2:
        problems.append(EntryError("it has one height", allowed="two at least", where=where))
    doubled = sorted({height for height in heights if heights.count(height) > 1})
    problems += [
        EntryError(
            f"the height {height:g} mm is there more than once",
            allowed="once, or twice for a flat that begins on the centreline",
            cure="delete one of them",
            where=where,
        )
        for height in doubled
        if (height, 0.0) not in part
    ]
    if min(part)[1] > 0.0:
        problems.append(
            EntryError(
                f"{IS_OPEN}: its lowest half breadth is {min(part)[1]:g} mm",
                allowed="the bottom is taken as flat from there to the centreline",
                cure="add the height at which the half breadth is 0, if it is not flat",
                where=where,
            )
        )
    return problems
