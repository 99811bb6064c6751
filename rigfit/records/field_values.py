"""One value of a job: from the file to the record, and from the record to the file."""

from __future__ import annotations

import dataclasses
import math
import unicodedata
from typing import Any

from rigfit.errors import EntryError
from rigfit.records.plain_words import described, echo, listed, nearest
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.readings import FieldSpec, Reading
from rigfit.units import BASE_UNIT, INCH, METRIC, BareUnits, Entry, Kind, from_base, parse_entry

LONGEST_NAME = 200

# Tried in this order when a number without a unit lies outside its limits.
_LIKELY: dict[Kind, tuple[str, ...]] = {
    Kind.LENGTH: ("in", "mm", "cm", "m", "ft"),
    Kind.MASS: ("kg", "lb"),
    Kind.POWER: ("hp", "kW"),
}
# Line ends, control codes and half characters would break a printed line or a TOML file.
_UNPRINTABLE = ("Cc", "Cs", "Zl", "Zp")


def bare_units(entries: str) -> BareUnits:
    """Return the units of numbers typed without one; ``entries`` is "metric" or "inch"."""
    return INCH if entries == "inch" else METRIC


def words_of(spec: FieldSpec, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the words a field accepts; empty for free text and numbers."""
    if spec.profile == "brackets":
        return ("none", *catalogue.family("brackets"))
    return catalogue.family(spec.profile) if spec.profile else spec.choices


def value_of(raw: object, spec: FieldSpec, bare: BareUnits, catalogue: Catalogue) -> Any:
    """Return what the record holds for a raw TOML value that is not blank.

    :raises EntryError: wrong type, unreadable, outside the limits, not one of the words.
    """
    if spec.kind is not None:
        return _number(raw, spec, spec.kind, bare)
    if not isinstance(raw, str):
        raise EntryError(described(raw), cure="write a text in quotes")
    words = words_of(spec, catalogue)
    if words and raw.strip() not in words:
        raise EntryError(
            f"{echo(raw)} is not known",
            allowed=f"allowed are {listed(words)}",
            cure=nearest(raw, words),
        )
    return raw.strip() if words else checked_text(raw, spec.longest)


def checked_text(raw: str, longest: int = LONGEST_NAME) -> str:
    """Return free text without the spaces round it.

    :raises EntryError: longer than ``longest``, or with line ends or control characters.
    """
    if len(raw) > longest:
        raise EntryError(
            f"{echo(raw)} is {len(raw)} characters long",
            allowed=f"at most {longest} are kept",
            cure="shorten it",
        )
    for char in raw:
        if unicodedata.category(char) in _UNPRINTABLE:
            raise EntryError(
                f"{echo(raw)} holds a character that cannot be printed (U+{ord(char):04X})",
                cure="write it on one line, in letters, digits and signs",
            )
    return raw.strip()


def is_blank(raw: object) -> bool:
    """Return True for an empty text, which stands for a field not filled in."""
    return isinstance(raw, str) and not raw.strip()


def _number(raw: object, spec: FieldSpec, kind: Kind, bare: BareUnits) -> Reading | int:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise EntryError(
            described(raw),
            allowed=f"a {kind.value} is wanted",
            cure=f'write it like "{spec.example}"',
        )
    if isinstance(raw, float) and not math.isfinite(raw):
        raise EntryError(
            f"{echo(raw)} is no measurement",
            allowed="a finite number is wanted",
            cure=f'write it like "{spec.example}"',
        )
    entry = parse_entry(raw, kind, bare=bare)
    _check_limits(entry, spec, bare)
    if kind is Kind.COUNT:
        return int(entry.value)
    typed = entry.tolerance is not None
    return Reading(
        value=entry.value,
        tolerance=entry.tolerance if entry.tolerance is not None else spec.tolerance,
        origin=spec.origin,
        typed=entry.typed,
        tolerance_typed=typed,
    )


def _check_limits(entry: Entry, spec: FieldSpec, bare: BareUnits) -> None:
    limits = f"allowed is {_shown(spec.low, entry.kind, bare)} to "
    limits += _shown(spec.high, entry.kind, bare)
    if not spec.low <= entry.value <= spec.high:
        size = "small" if entry.value < spec.low else "large"
        raise EntryError(
            f"{echo(entry.typed)}, read as {_shown(entry.value, entry.kind, bare)}, is too {size}",
            allowed=limits,
            cure=_likely(entry, spec, bare)
            or ("measure again" if spec.tolerance else "stay inside"),
        )
    # A doubt wider than the field's whole range says nothing and would swamp every result.
    if entry.tolerance is not None and entry.tolerance > (spec.high - spec.low) / 2.0:
        raise EntryError(
            f"the tolerance in {echo(entry.typed)} is too large",
            allowed=f"at most {_shown((spec.high - spec.low) / 2.0, entry.kind, bare)}",
            cure="check the unit behind the ±",
        )


def _likely(entry: Entry, spec: FieldSpec, bare: BareUnits) -> str:
    """Return a cure naming the unit that was perhaps meant by a number without one."""
    for unit in _LIKELY.get(entry.kind, ()):
        try:
            meant = parse_entry(f"{entry.typed} {unit}", entry.kind, bare=bare)
        except EntryError:  # a unit is there already, or the text is too long for another
            return ""
        if meant.value != entry.value and spec.low <= meant.value <= spec.high:
            return f'write "{entry.typed} {unit}" if that is meant'
    return ""


def _shown(value: float, kind: Kind, bare: BareUnits) -> str:
    unit = bare.of(kind)
    return f"{from_base(value, unit, kind):.5g} {unit}".strip()


def typed_text(value: object, spec: FieldSpec, bare: BareUnits) -> str | int:
    """Return what a file holds for a value of the record: the user's own typing where it still
    means that value, else the value with its base unit.

    "" stands for a field that is not filled in.
    """
    if value is None:
        return ""
    if not isinstance(value, Reading):
        return value if isinstance(value, int) else str(value)
    if spec.kind is None:
        raise TypeError(f"{spec.label} takes a text")
    if value.typed and _means(value.typed, value, spec, spec.kind, bare):
        return value.typed
    tolerance = value.tolerance_typed or value.tolerance != spec.tolerance
    unit = BASE_UNIT[spec.kind]
    suffix = f" ± {_plain(value.tolerance)}" if tolerance else ""
    return f"{_plain(value.value)}{suffix} {unit}".strip()


def _plain(number: float) -> str:
    return repr(float(number)).removesuffix(".0")


def _means(typed: str, value: Reading, spec: FieldSpec, kind: Kind, bare: BareUnits) -> bool:
    """Tell whether the typed text is still read as this value; a new unit setting may alter it."""
    try:
        entry = parse_entry(typed, kind, bare=bare)
    except EntryError:
        return False
    tolerance = spec.tolerance if entry.tolerance is None else entry.tolerance
    return (entry.value, tolerance) == (value.value, value.tolerance)


def field_defaults(record: type[Any]) -> dict[str, Any]:
    """Return the default of every field of a record, by name."""
    return {item.name: item.default for item in dataclasses.fields(record)}
