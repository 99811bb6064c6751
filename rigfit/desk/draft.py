"""The draft: every text of the form as typed, never changed behind the user's back.

A draft is frozen; an edit gives a new one that shares everything untouched with the old one, so
that a history of thousands of edits stays small.
"""

from __future__ import annotations

import re
import string
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, typed_text, value_of
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import GROUPS, LISTS, Job
from rigfit.rigging.readings import FieldSpec, Reading, specs
from rigfit.units import BareUnits, Kind

Row = tuple[str, ...]
"""The texts of one table, in the order of its fields."""

GROUP_KEYS: tuple[str, ...] = tuple(key for key, _, _ in GROUPS)
LIST_KEYS: tuple[str, ...] = tuple(key for key, _, _, _ in LISTS)
LIST_FIELDS = MappingProxyType({key: attribute for key, attribute, _, _ in LISTS})
"""The repeated tables: key of the table, name of its list in ``Job``."""

RECORDS = MappingProxyType(
    {key: record for key, _, record in GROUPS} | {key: record for key, _, _, record in LISTS}
)
FIELDS = MappingProxyType({key: tuple(specs(record).items()) for key, record in RECORDS.items()})
"""Name and description of every field, by table, in order."""

_COLUMNS = {
    (table, name): column
    for table, fields in FIELDS.items()
    for column, (name, _) in enumerate(fields)
}
# A number is understood without any profile, so that reading one needs no catalogue.
NO_PROFILES = Catalogue({}, {}, {}, {})

_ADDRESS = re.compile(r"([a-z_]+)(?:\[([0-9]{1,6})\])?\.([a-z0-9_]+)")
_ENTRIES = ("units", "entries")


@dataclass(frozen=True, slots=True)
class Address:
    """The place of one field in a draft.

    :param table: key of the table ("transom", "engine").
    :param field: name of the field in it; "" for the table as a whole.
    :param index: which of a repeated table, from 0; -1 for a single table.
    """

    table: str
    field: str
    index: int = -1

    def __str__(self) -> str:
        place = self.table if self.index < 0 else f"{self.table}[{self.index}]"
        return f"{place}.{self.field}"

    @property
    def needs_key(self) -> str:
        """The name findings use in ``needs`` ("engine.leg_measured")."""
        return f"{self.table}.{self.field}"

    @property
    def spec(self) -> FieldSpec:
        """The field's description; raises ``KeyError`` when there is no such field."""
        return FIELDS[self.table][_COLUMNS[self.table, self.field]][1]

    @classmethod
    def parse(cls, text: str) -> Address:
        """Return the address in a text such as "transom.rake" or "engine[0].leg_measured".

        :raises EntryError: when it names no field of a job.
        """
        match = _ADDRESS.fullmatch(text[:100])
        if match is not None and (match[1], match[3]) in _COLUMNS:
            is_repeated = match[1] in LIST_FIELDS
            if is_repeated == (match[2] is not None):
                return cls(match[1], match[3], int(match[2]) if is_repeated else -1)
        raise EntryError(f"{text[:100]!r} names no field of a job")

    @classmethod
    def of_need(cls, key: str, engine_index: int) -> Address:
        """Return where a key of ``Finding.needs`` is typed, for the engine of that index.

        Of the other repeated tables it is the first row.

        :raises EntryError: when it names no field of a job.
        """
        table, _, name = key.partition(".")
        row = engine_index if table == "engine" else 0
        return cls.parse(f"{table}[{row}].{name}" if table in LIST_FIELDS else key)


@dataclass(frozen=True, slots=True)
class Draft:
    """What stands in every field of the form, as typed; "" where nothing was typed.

    Methods that take an ``Address`` raise ``KeyError`` for a field that does not exist and
    ``IndexError`` for an engine or hole that does not.

    :param groups: the single tables, in the order of ``GROUPS``.
    :param lists: the repeated tables, in the order of ``LISTS``, each a row of texts for every
        hole, engine ...
    """

    groups: tuple[Row, ...] = field(
        default_factory=lambda: tuple(("",) * len(FIELDS[key]) for key in GROUP_KEYS)
    )
    lists: tuple[tuple[Row, ...], ...] = ((),) * len(LIST_KEYS)

    @classmethod
    def new(cls, name: str = "", entries: str = "metric", lengths: str = "mm") -> Draft:
        """Return the draft of a new boat: its name, the units, and one engine "A" to fill in."""
        draft = cls().with_text(Address("units", "entries"), entries)
        draft = draft.with_text(Address("units", "lengths"), lengths)
        return draft.with_text(Address("boat", "name"), name).add_engine()

    @classmethod
    def from_job(cls, job: Job) -> Draft:
        """Return the draft of a job, every entry as it was typed."""
        bare = bare_units(job.units.entries)
        rows = [_row_of(key, getattr(job, key), bare) for key in GROUP_KEYS]
        lists = [
            tuple(_row_of(key, item, bare) for item in getattr(job, attribute))
            for key, attribute in LIST_FIELDS.items()
        ]
        return cls(tuple(rows), tuple(lists))

    def rows(self, table: str) -> tuple[Row, ...]:
        """Return the rows of a table: one for a single table, any number for a repeated one."""
        if table in LIST_FIELDS:
            return self.lists[LIST_KEYS.index(table)]
        return (self.groups[_group(table)],)

    def text(self, address: Address) -> str:
        """Return what was typed in a field."""
        return self.rows(address.table)[_place(self, address)][_column(address)]

    def addresses(self) -> Iterator[Address]:
        """Yield the address of every field, in working order."""
        for table, fields in FIELDS.items():
            repeated = table in LIST_FIELDS
            for index in range(len(self.rows(table))):
                for name, _ in fields:
                    yield Address(table, name, index if repeated else -1)

    def with_text(self, address: Address, text: str) -> Draft:
        """Return the draft with another text in one field.

        A change of ``units.entries`` writes the unit behind every number that would otherwise be
        read as another length or mass than before; no other field touches any but itself.
        """
        row, column = self.rows(address.table)[_place(self, address)], _column(address)
        if row[column] == text:
            return self
        changed = (*row[:column], text, *row[column + 1 :])
        draft = self._with_row(address.table, _place(self, address), changed)
        if (address.table, address.field) == _ENTRIES:
            return draft._in_units(bare_units(row[column].strip()), bare_units(text.strip()))
        return draft

    def _with_row(self, table: str, place: int, row: Row) -> Draft:
        if table in LIST_FIELDS:
            rows = self.rows(table)
            return self._with_rows(table, (*rows[:place], row, *rows[place + 1 :]))
        at = _group(table)
        return replace(self, groups=(*self.groups[:at], row, *self.groups[at + 1 :]))

    def _with_rows(self, table: str, rows: tuple[Row, ...]) -> Draft:
        at = LIST_KEYS.index(table)
        return replace(self, lists=(*self.lists[:at], rows, *self.lists[at + 1 :]))

    def _in_units(self, old: BareUnits, new: BareUnits) -> Draft:
        if old == new:
            return self
        draft = self
        for address in self.addresses():
            text = self.text(address)
            kept = _same_meaning(text, address.spec, old, new) if text else text
            draft = draft.with_text(address, kept)
        return draft

    # -- repeated tables -------------------------------------------------------------------

    def add_row(self, table: str, **texts: str) -> Draft:
        """Return the draft with one row more in a repeated table, the last; texts by field."""
        return self._with_rows(table, (*self.rows(table), _row(table, texts)))

    def remove_row(self, table: str, index: int) -> Draft:
        """Return the draft without a row of a repeated table."""
        rows = self.rows(table)
        _at(rows, index)
        return self._with_rows(table, rows[:index] + rows[index + 1 :])

    # -- engines ---------------------------------------------------------------------------

    @property
    def engines(self) -> tuple[Row, ...]:
        """One row of texts for each engine."""
        return self.rows("engine")

    @property
    def engine_ids(self) -> tuple[str, ...]:
        """The ids of the engines as typed, without spaces round them."""
        column = _COLUMNS["engine", "id"]
        return tuple(row[column].strip() for row in self.engines)

    def engine_index(self, engine_id: str) -> int:
        """Return which engine has that id, -1 when none has."""
        ids = self.engine_ids
        return ids.index(engine_id) if engine_id in ids else -1

    def add_engine(self, id: str = "", **texts: str) -> Draft:  # noqa: A002 - the field's name
        """Return the draft with one engine more, the last.

        :param id: its id; "" for the next free letter, A to Z, then A2 to Z2 and so on.
        :param texts: texts of its other fields, by field.
        """
        return self.add_row("engine", id=id or self._free_id(), **texts)

    def duplicate_engine(self, index: int) -> Draft:
        """Return the draft with a copy of an engine behind it, under the next free id."""
        copied = _at(self.engines, index)
        column = _COLUMNS["engine", "id"]
        row = (*copied[:column], self._free_id(), *copied[column + 1 :])
        rows = (*self.engines[: index + 1], row, *self.engines[index + 1 :])
        return self._with_rows("engine", rows)

    def remove_engine(self, index: int) -> Draft:
        """Return the draft without an engine; if it was the chosen one, none is chosen."""
        _at(self.engines, index)
        gone = self.engine_ids[index]
        draft = self.remove_row("engine", index)
        chosen = Address("mounting", "engine")
        if gone not in draft.engine_ids and self.text(chosen).strip() == gone:
            return draft.with_text(chosen, "")
        return draft

    def _free_id(self) -> str:
        taken = set(self.engine_ids)
        for number in range(1, len(taken) + 2):
            for letter in string.ascii_uppercase:
                name = letter if number == 1 else f"{letter}{number}"
                if name not in taken:
                    return name
        raise AssertionError("more names than engines were tried")

    # -- decisions -------------------------------------------------------------------------

    def choose(self, engine_id: str, row: int | None, setting_mm: float | None = None) -> Draft:
        """Return the draft with the engine and its height decided.

        :param row: bolt row from 1; None or 0 where there is none to choose (it clamps on).
        :param setting_mm: setting of an adjustable bracket, mm; None or 0 for its lowest.
        """
        draft = self.with_text(Address("mounting", "engine"), engine_id)
        draft = draft.with_text(Address("mounting", "row"), str(row) if row else "")
        setting = f"{setting_mm:.10g} mm" if setting_mm else ""
        return draft.with_text(Address("mounting", "bracket_setting"), setting)


def _row_of(table: str, item: object, bare: BareUnits) -> Row:
    return tuple(str(typed_text(getattr(item, name), spec, bare)) for name, spec in FIELDS[table])


def _row(table: str, texts: dict[str, str]) -> Row:
    unknown = set(texts) - {name for name, _ in FIELDS[table]}
    if unknown:
        raise KeyError(min(unknown))
    return tuple(texts.get(name, "") for name, _ in FIELDS[table])


def _group(table: str) -> int:
    if table not in GROUP_KEYS:
        raise KeyError(table)
    return GROUP_KEYS.index(table)


def _column(address: Address) -> int:
    return _COLUMNS[address.table, address.field]


def _place(draft: Draft, address: Address) -> int:
    """Return the row of an address in its table; a list is never counted from its end."""
    if address.table not in LIST_FIELDS:
        return 0
    _at(draft.rows(address.table), address.index)
    return address.index


def _at(rows: tuple[Row, ...], index: int) -> Row:
    if not 0 <= index < len(rows):
        raise IndexError(index)
    return rows[index]


def _same_meaning(text: str, spec: FieldSpec, old: BareUnits, new: BareUnits) -> str:
    """Return the text, with its unit written behind it where new units would alter its meaning."""
    if spec.kind is None or spec.kind is Kind.COUNT or not text.strip():
        return text
    try:
        value = value_of(text, spec, old, NO_PROFILES)
    except EntryError:  # it has no meaning to keep
        return text
    kept = typed_text(value, spec, new)
    return text if isinstance(value, Reading) and kept == value.typed else str(kept)
