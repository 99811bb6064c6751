"""Writing a job: a commented file from the field descriptions, or only the changed entries."""

from __future__ import annotations

import re
import textwrap
from typing import Any

from rigfit.records.field_values import bare_units, checked_text, typed_text, words_of
from rigfit.records.job_reading import FORMAT
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.candidate import Candidate
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import GROUPS, LISTS, Boat, Job
from rigfit.rigging.readings import FieldSpec, specs
from rigfit.units import BASE_UNIT, BareUnits, Kind

_WIDTH = 96
_EXAMPLE_ID = "A"
_TIED = "\u00a0"  # keeps a figure and its unit on one line while remarks are wrapped

_HEADER = f"""\
# A rigfit job: one boat, its measurements, its candidate engines and what was decided.
#
# Lines that begin with # are remarks; yours are kept. To fill in a line such as
#   # rake = "13°"
# take the # in front of it away and write your own figure.
# A measurement is a number with its unit, in quotes: "518 mm", "51.8 cm", "20 3/8 in", "13°".
# How far it may be off goes behind it: "518 ± 2 mm". Without that a customary figure is used,
# named below. An entry left empty is reported as not measured, never guessed.
#
# rigfit informs. The engine maker's and boat builder's instructions, the capacity plate, local law
# and licensed practice come first.

format = {FORMAT}
"""


def job_text(job: Job, catalogue: Catalogue | None = None) -> str:
    """Return a job as a commented TOML file; reading it gives an equal job.

    Entries stand as they were typed. Fields without an answer stand as remarks to fill in, those
    without which there is no answer at all as "".

    :param catalogue: whose words are listed for the hull kinds and classes; the shipped one when
        None.
    """
    known = catalogue or load_catalogue()
    bare = bare_units(job.units.entries)
    parts = [_HEADER]
    for key, heading, record in GROUPS:
        parts.append(f"\n# {heading}\n[{key}]\n")
        parts.append(_table_text(record, getattr(job, key), bare, known, is_first=True))
    for key, attribute, heading, record in LISTS:
        parts.append(f"\n# {heading}. One table [[{key}]] for each.\n\n")
        items = getattr(job, attribute)
        if not items:
            parts.append(f"# [[{key}]]\n")
            parts.append(_table_text(record, None, bare, known, is_first=True))
        for index, item in enumerate(items):
            parts.append(f"\n[[{key}]]\n" if index else f"[[{key}]]\n")
            parts.append(_table_text(record, item, bare, known, is_first=index == 0))
    return "".join(parts)


def new_job_text(name: str) -> str:
    """Return a commented file to fill in, for a boat of that name, with one engine to overwrite.

    :raises EntryError: when the name is too long or holds characters that cannot be printed.
    """
    engine_class = specs(Candidate)["engine_class"].example
    job = Job(
        boat=Boat(name=checked_text(name)),
        engines=(Candidate(id=_EXAMPLE_ID, engine_class=engine_class),),
    )
    return job_text(job)


def toml_string(text: str) -> str:
    """Return ``text`` as a TOML string, in single quotes where it holds an inch mark."""
    if '"' in text and "'" not in text and text.isprintable():
        return f"'{text}'"
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda m: f"\\u{ord(m[0]):04X}", escaped) + '"'


def toml_value(value: str | int) -> str:
    """Return a text or a whole number in TOML."""
    return toml_string(value) if isinstance(value, str) else str(value)


def _table_text(
    record: type[Any], item: Any, bare: BareUnits, catalogue: Catalogue, *, is_first: bool
) -> str:
    """Return the lines of a table; only the first of its kind explains its fields."""
    lines: list[str] = []
    for name, spec in specs(record).items():
        if is_first:
            lines += _explained(spec, catalogue)
        value = "" if item is None else typed_text(getattr(item, name), spec, bare)
        if item is None or (value == "" and not spec.required):
            example = int(spec.example) if spec.kind is Kind.COUNT else spec.example
            lines.append(f"# {name} = {toml_value(example)}")
        else:
            lines.append(f"{name} = {toml_value(value)}")
    return "\n".join(lines) + "\n"


def _explained(spec: FieldSpec, catalogue: Catalogue) -> list[str]:
    """Return a field's remarks: what it is, how to take it, what may stand there."""
    parts = [f"{spec.label[:1].upper()}{spec.label[1:]}.", spec.how, _tolerance_words(spec)]
    words = words_of(spec, catalogue)
    if words:
        parts.append(f"One of: {', '.join(words)}.")
    text = " ".join(part for part in parts if part)
    wrapped = textwrap.wrap(text, _WIDTH, break_long_words=False, break_on_hyphens=False)
    return ["#", *(f"# {line}".replace(_TIED, " ") for line in wrapped)]


def _tolerance_words(spec: FieldSpec) -> str:
    if spec.kind in (None, Kind.COUNT) or not spec.tolerance:
        return ""
    figure = f"±{_TIED}{spec.tolerance:g}{_TIED}{BASE_UNIT[spec.kind]}"
    return f"Without your own figure {figure} is taken."
