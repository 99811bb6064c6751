"""Readings: numbers with their tolerance and where they came from, and how a field is described."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from enum import Enum
from typing import Any

from rigfit.units import Kind

_SPEC = "rigfit"


class Origin(Enum):
    """Where a number came from. Only ``measured`` and ``chosen`` can carry a ``fits``."""

    MEASURED = "measured"
    CHOSEN = "chosen in the job"
    STATED = "as stated by the seller"
    CLASS = "typical of the class, not measured"
    DEFAULT = "customary figure, not measured"

    @property
    def is_firm(self) -> bool:
        """True for a number taken from this boat or decided by its owner."""
        return self in (Origin.MEASURED, Origin.CHOSEN)


@dataclass(frozen=True, slots=True)
class Reading:
    """One number in the base unit of its kind, with the half-width of its tolerance.

    :param value: base unit of the kind (mm, deg, kg, kW ...).
    :param tolerance: half-width a of the limits +/- a, same unit, not negative.
    :param origin: where it came from.
    :param typed: the user's own text, "" when nobody typed it.
    :param tolerance_typed: False when the tolerance is the field's default.
    """

    value: float
    tolerance: float = 0.0
    origin: Origin = Origin.MEASURED
    typed: str = ""
    tolerance_typed: bool = False

    def moved(self, by: float) -> Reading:
        """Return the same reading shifted by ``by`` (for finite differences)."""
        return replace(self, value=self.value + by)


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """What a field of the job means; serves the form, file comments, schema and error texts.

    :param label: name in print, lower case ("transom height along the face").
    :param how: how to take the measurement, one or two sentences.
    :param kind: kind of number, or None for text and choices.
    :param low: smallest accepted value in the base unit.
    :param high: largest accepted value in the base unit.
    :param tolerance: default half-width of the tolerance, base unit; 0 for decisions.
    :param origin: where a number typed in this field comes from.
    :param choices: the accepted words, for a choice.
    :param profile: family of profiles the word is taken from ("engine_classes"), or "".
    :param required: True where no answer at all is possible without it.
    :param example: an entry as it could be typed.
    :param dimension: id of the dimension on the drawing that shows it, or "".
    :param longest: most characters of a text.
    """

    label: str
    how: str = ""
    kind: Kind | None = None
    low: float = 0.0
    high: float = 0.0
    tolerance: float = 0.0
    origin: Origin = Origin.MEASURED
    choices: tuple[str, ...] = ()
    profile: str = ""
    required: bool = False
    example: str = ""
    dimension: str = ""
    longest: int = 200


def described(spec: FieldSpec, default: Any = None) -> Any:
    """Return a dataclass field that carries its own description."""
    return field(default=default, metadata={_SPEC: spec})


def specs(record: type[Any]) -> dict[str, FieldSpec]:
    """Return the descriptions of a record's described fields, in order, by name."""
    return {item.name: item.metadata[_SPEC] for item in fields(record) if _SPEC in item.metadata}
