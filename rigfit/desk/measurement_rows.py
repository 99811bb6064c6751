"""One row of the measurements: a field of the draft, what is said of it, and its help.

A row can be pointed at the same field of another engine or hole: rows are made once and kept.
"""

from __future__ import annotations

import math
import re
import tkinter as tk
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import partial
from typing import Any

from rigfit.desk.draft import RECORDS, Address, Row
from rigfit.desk.form_state import echo
from rigfit.desk.how_to_pictures import HowToPictures
from rigfit.desk.kit import theme
from rigfit.desk.kit.fields import LONGEST, ChoiceRow, FieldRow, Tone
from rigfit.desk.workbench import Workbench
from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, field_defaults, words_of
from rigfit.records.plain_words import visible
from rigfit.rigging.job import Units
from rigfit.rigging.readings import FieldSpec
from rigfit.rigging.trial_fields import OLD
from rigfit.units import (
    BASE_UNIT,
    IN_METRIC,
    METRIC,
    BareUnits,
    Entry,
    Kind,
    Shown,
    parse_entry,
    show,
)

FIELD_PX = 192
"""Width of every field of the panel, logical px."""

LONGEST_NUMBER = 200  # longer texts are no numbers and are not searched for a unit
CHOSEN_ENGINE = Address("mounting", "engine")
_NAMED = {("mounting", "engine"), ("trial", "engine"), ("run", "trial")}
"""Fields that name a row of another table by its id; they are chosen among those there are."""

DEFAULTS = {table: field_defaults(record) for table, record in RECORDS.items()}
"""What a field holds while it is blank, by table and field; None or "" for nothing."""

_CHOICE_ROOM_PX = FIELD_PX - 40
_UNIT_SIGNS = re.compile(r"[^\W\d_]|[°'\"’”′″%]")


# Words -----------------------------------------------------------------------------------------


def unit_behind(text: str, kind: Kind, entries: str) -> str:
    """Return the unit a number is taken in, "" where the text names one itself.

    :param entries: "metric" or "inch".
    """
    if _UNIT_SIGNS.search(text):
        return ""
    unit = bare_units(entries).of(kind)
    return "°" if unit == "deg" else unit


def help_words(spec: FieldSpec, example: str = "", shown: Shown = IN_METRIC) -> str:
    """Return how a field is filled in: how to measure, an example, what is accepted.

    :param example: stands for the field's own example.
    :param shown: how lengths are shown.
    """
    words = [spec.how] if spec.how else []
    example = example or spec.example
    if example:
        words.append(f"For example {example}.")
    if spec.kind is not None:
        low, high = (show(limit, spec.kind, shown) for limit in (spec.low, spec.high))
        words.append(f"Accepted is {low} to {high}.")
        if spec.tolerance:
            unit = "°" if spec.kind is Kind.ANGLE else f" {BASE_UNIT[spec.kind]}"
            words.append(
                f"Usual tolerance ± {spec.tolerance:.3g}{unit}; type your own behind the number, "
                f"like ± {spec.tolerance * 2:.3g}{unit}."
            )
    words.append("Needed." if spec.required else "May stay empty.")
    return "\n".join(words)


def choices_of(bench: Workbench, address: Address) -> dict[str, str]:
    """Return what a choice offers, the words of the draft with those shown for them.

    The empty word is among them where the field has no default.
    """
    if _is_named(address):
        return _names(bench, address)
    spec = address.spec
    family: Any = getattr(bench.catalogue, spec.profile) if spec.profile else {}
    words = {
        word: family[word].name if word in family else word
        for word in words_of(spec, bench.catalogue)
    }
    return words if DEFAULTS[address.table][address.field] else {"": "not chosen", **words}


def _bare(words: str, kind: Kind) -> str:
    """Return a number without spaces and base unit, to see whether two are written alike."""
    return "".join(words.split()).replace(BASE_UNIT[kind] if kind is not Kind.ANGLE else "°", "")


def _names(bench: Workbench, address: Address) -> dict[str, str]:
    """Return the ids of engines or trials a field may name, with the words for each."""
    table, beside = ("trial", "date") if address.table == "run" else ("engine", "name")
    draft = bench.draft
    offered = {}
    for index in range(len(draft.rows(table))):
        key, more = (draft.text(Address(table, name, index)).strip() for name in ("id", beside))
        offered[key] = f"{visible(key, 60)}, {visible(more, 60)}".strip(", ")
    offered.pop("", None)
    if address.table == "mounting":
        return {"": "not decided", **offered}
    if address.table == "run":
        return {"": "not chosen", **offered}
    return {"": "not said", OLD: "the old engine", **offered}


def _is_named(address: Address) -> bool:
    return (address.table, address.field) in _NAMED


def rows_behind(bench: Workbench, table: str) -> tuple[Row, ...]:
    """Return the rows that fields of a table name by their ids; () for a table without such."""
    behind = {"mounting": "engine", "trial": "engine", "run": "trial"}.get(table)
    return bench.draft.rows(behind) if behind else ()


def is_choice(address: Address) -> bool:
    """True for a field that takes one of some words."""
    spec = address.spec
    return bool(spec.choices or spec.profile) or _is_named(address)


# Stepping --------------------------------------------------------------------------------------

_FEET = re.compile(
    r"(?P<feet>\d+)(?P<mark>\s*(?:['’′]|ft\.?|foot|feet)[-\s]*)(?P<inches>[\d.,/⁄\s½¼¾⅛⅜⅝⅞]*)", re.I
)
_FRACTION = re.compile(r"(?:(?P<whole>\d+)(?P<gap>-\s?|\s+))?(?P<over>\d+)\s*[/⁄]\s*(?P<under>\d+)")
_VULGAR = re.compile(r"(?P<whole>\d*)\s*(?P<sign>[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])")
_DECIMAL = re.compile(r"(?P<digits>\d*(?:[.,]\d*)?)(?:[eE](?P<power>[+-]?\d{1,2}))?(?![\d.,])")
_SIGN = re.compile(r"\s*(?P<sign>[+−-]?)\s*")

_Number = tuple[Fraction, Callable[[Fraction], str], str]
"""A number without its sign, how another is written in the same way, and the text behind it."""


def stepped(text: str, by: int, kind: Kind = Kind.LENGTH, bare: BareUnits = METRIC) -> str:
    """Return a typed number stepped by whole units of the unit it was typed in.

    Unit, tolerance and way of writing stay as typed: "20 3/8 in ± 1/8 in" up one is "21 3/8 in ±
    1/8 in". Feet and inches step by inches. A text that cannot be read stays as it is, and so
    does one that could not be read after the step.

    :param by: how many units, downwards where negative.
    """
    before, match = _entry(text, kind, bare), _SIGN.match(text)
    if before is None or match is None or not by:
        return text
    for size, write, behind in _numbers(text[match.end() :]):
        old = -size if match["sign"] in ("-", "−") else size
        new = old + by
        plus = "+" if match["sign"] == "+" and new > 0 else ""
        minus = match["sign"] if old < 0 else "-"
        result = f"{minus if new < 0 else plus}{write(abs(new))}{behind}"
        after = _entry(result, kind, bare)
        if after is not None and _is_step(before, after, old, by):
            return result
    return text


def _entry(text: str, kind: Kind, bare: BareUnits) -> Entry | None:
    try:
        return parse_entry(text, kind, bare=bare)
    except EntryError:
        return None


def _is_step(before: Entry, after: Entry, old: Fraction, by: int) -> bool:
    """Tell whether one entry is ``by`` units away from the other, and as certain."""
    unit = (after.value - before.value) / by
    is_same_unit = math.isclose(before.value, unit * float(old), rel_tol=1e-6, abs_tol=1e-6)
    return unit > 0 and is_same_unit and before.tolerance == after.tolerance


def _numbers(text: str) -> Iterator[_Number]:
    """Yield the ways to read the number at the beginning of a text, the likeliest first."""
    if match := _FEET.match(text):
        for inches, write, behind in _numbers(match["inches"]):
            if not behind.strip():
                yield _feet(match, inches, write, behind + text[match.end() :])
    if match := _FRACTION.match(text):
        under, gap = int(match["under"]), match["gap"] or " "
        if under:
            size = int(match["whole"] or 0) + Fraction(int(match["over"]), under)
            yield size, partial(_mixed, under=under, gap=gap), text[match.end() :]
    if match := _VULGAR.match(text):
        part = Fraction(unicodedata.numeric(match["sign"])).limit_denominator(10)
        write = partial(_mixed, under=part.denominator, gap=" ")
        yield int(match["whole"] or 0) + part, write, text[match.end() :]
    if (match := _DECIMAL.match(text)) and match["digits"].strip(".,"):
        yield from _decimals(match, text[match.end() :])


def _feet(match: re.Match[str], inches: Fraction, write: Any, behind: str) -> _Number:
    def feet(size: Fraction) -> str:
        whole, rest = divmod(size, 12)
        return f"{whole}{match['mark']}{write(rest)}"

    return 12 * int(match["feet"]) + inches, feet, behind


def _mixed(size: Fraction, under: int, gap: str) -> str:
    whole, over = divmod(size.numerator * under // size.denominator, under)
    part = f"{over}/{under}"
    return str(whole) if not over else f"{whole}{gap}{part}" if whole else part


def _decimals(match: re.Match[str], behind: str) -> Iterator[_Number]:
    whole, mark, part = re.fullmatch(r"(\d*)([.,]?)(\d*)", match["digits"]).groups()  # type: ignore[union-attr] # the pattern of digits is this one
    power = int(match["power"] or 0)
    size = Fraction(int(whole + part or "0")) * Fraction(10) ** (power - len(part))
    places = max(0, len(part) - power)

    def write(size: Fraction, mark: str = mark or ".") -> str:
        digits = str(size.numerator * 10**places // size.denominator).zfill(places + 1)
        return f"{digits[:-places]}{mark}{digits[-places:]}" if places else digits

    yield size, write, behind
    # "0,518" up one would be "1,518", which may also be more than a thousand.
    yield size, partial(write, mark="."), behind


# A row -----------------------------------------------------------------------------------------


class Line:
    """A row of the form, bound to one field of the draft.

    :param master: what it is packed into.
    :param address: the field; ``point`` may name the same field of another engine or hole later.
    :param pictures: paints the pictures of its help.
    :param on_edit: called after every change by hand.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        address: Address,
        pictures: HowToPictures,
        on_edit: Callable[[Address], Any],
    ) -> None:
        self._bench, self._on_edit = bench, on_edit
        self.address = address
        self._spec = address.spec
        self._shown: tuple[Any, ...] = ()
        self._offered: Mapping[str, str] = {}
        common: dict[str, Any] = {
            "help_text": self._help,
            "picture": lambda: pictures.picture(address.table, address.field),
            "on_focus": self._entered,
            "required": self._spec.required,
            "field_width": FIELD_PX,
        }
        self.row: FieldRow | ChoiceRow
        if is_choice(address):
            label = self._spec.label
            self.row = ChoiceRow(master, label, {}, on_choose=self._typed, **common)
        else:
            self.row = self._field_row(master, common)
        self.row.pack(fill="x")

    def _field_row(self, master: tk.Misc, common: dict[str, Any]) -> FieldRow:
        is_number = self._spec.kind is not None
        return FieldRow(
            master,
            self._spec.label,
            on_edit=self._typed,
            on_commit=self._left,
            on_step=self._step if is_number else None,
            numeric=is_number,
            echo_characters=0,
            **common,
        )

    @property
    def has_focus(self) -> bool:
        """True while it has the keyboard."""
        return self.row.focus_get() is self.row.keys_to

    def point(self, address: Address) -> None:
        """Stand for the same field of another engine or hole from now on."""
        if address != self.address:
            self.address = address
            if self.has_focus:
                self._entered()

    def update(self, *, quiet: bool) -> None:
        """Show what the draft holds and what is to be said of it, where that has changed.

        :param quiet: True while nothing is said of a needed field that is empty.
        """
        bench, at = self._bench, self.address
        derived, text = bench.derived, bench.draft.text(at)
        message, missing = derived.messages.get(at, ""), derived.missing.get(at, "")
        behind = rows_behind(bench, at.table) if _is_named(at) else ()
        was_cut = isinstance(self.row, FieldRow) and self.row.was_cut
        shown = text, message, missing, quiet, derived.job.units, behind, was_cut
        if shown == self._shown:
            return
        self._shown = shown
        if isinstance(self.row, ChoiceRow):
            self._show_choice(self.row, text)
        else:
            self._show_text(self.row, text, derived.job.units)
        self.row.set_message(*self._words(text, message, missing, quiet=quiet))

    # -- what is shown ---------------------------------------------------------------------

    def _show_text(self, row: FieldRow, text: str, units: Units) -> None:
        row.set_text(text)
        if self._spec.kind is not None:
            row.set_echo(unit_behind(text[:LONGEST_NUMBER], self._spec.kind, units.entries))

    def _show_choice(self, row: ChoiceRow, text: str) -> None:
        offered = choices_of(self._bench, self.address)
        if offered != self._offered:
            self._offered = offered
            row.choice.set_choices(offered)
        row.set(self._key(text))

    def _key(self, text: str) -> str:
        """Return the word that stands in the choice for a text; an unknown one is shown as is."""
        word = text.strip()
        if not word:
            return str(DEFAULTS[self.address.table][self.address.field])
        return word if word in self._offered else visible(word)

    def _words(self, text: str, message: str, missing: str, *, quiet: bool) -> tuple[str, Tone]:
        """Return what stands under the field, and its tone."""
        if isinstance(self.row, FieldRow) and self.row.was_cut:
            cut = f"Only the first {LONGEST:,} characters of it were taken over."
            return f"{cut} {message}".strip(), "error"
        if message:
            return message, "error"
        if self._spec.required and not text.strip():
            if quiet:
                return "needed", "note"
            lack = f"Fill in the {self._spec.label}: without it there is no answer."
            return missing or lack, "warn"
        return self._understood(text), "note"

    def _understood(self, text: str) -> str:
        """Return what a number is read as, or a chosen word too long for its field."""
        if self._spec.kind is not None:
            units = self._bench.derived.job.units
            words = echo(self.address, text, units.entries, self._bench.style)
            return "" if _bare(words, self._spec.kind) == _bare(text, self._spec.kind) else words
        word = self._offered.get(self._key(text), "")
        return word if theme.text_width(word) > theme.px(_CHOICE_ROOM_PX) else ""

    def _help(self) -> str:
        example = self._spec.example
        example = choices_of(self._bench, self.address).get(example, example)
        if not is_choice(self.address):
            example = self._spec.example
        return help_words(self._spec, example, self._bench.style)

    # -- what is typed ---------------------------------------------------------------------

    def _entered(self) -> None:
        self._bench.set_focus(self.address)

    def _typed(self, text: str) -> None:
        bench = self._bench
        self._on_edit(self.address)
        if self.address.table == "units":
            bench.set_units(**{self.address.field: text})
        else:
            bench.type(self.address, text)

    def _left(self, text: str) -> None:
        self._bench.commit(self.address, text)

    def _step(self, by: int, is_big: bool) -> None:  # noqa: FBT001 - as the row calls it
        bench, kind = self._bench, self._spec.kind
        if kind is not None:
            bare = bare_units(bench.derived.job.units.entries)
            text = bench.draft.text(self.address)
            new = stepped(text, by * (10 if is_big else 1), kind, bare)
            if new != text:
                self._typed(new)
