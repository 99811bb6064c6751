"""A JSON Schema of job files, made from the field descriptions, for editors that understand one."""

from __future__ import annotations

from typing import Any

from rigfit.records.field_values import words_of
from rigfit.records.job_reading import FORMAT, MOST_ITEMS
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.readings import FieldSpec, specs
from rigfit.units import BASE_UNIT, LONGEST_TEXT, Kind


def schema(catalogue: Catalogue | None = None) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a job file.

    It checks names, types and words. Limits are in the descriptions only, because an entry may be
    typed in any unit.
    """
    known = catalogue or load_catalogue()
    properties: dict[str, Any] = {
        "format": {
            "title": "version of the file format",
            "description": "Written by rigfit; leave it as it is.",
            "type": "integer",
            "const": FORMAT,
        }
    }
    for key, heading, record in GROUPS:
        properties[key] = _table(record, heading, known, required=False)
    for key, _, heading, record in LISTS:
        properties[key] = {
            "title": heading,
            "type": "array",
            "maxItems": MOST_ITEMS[key],
            "items": _table(record, heading, known, required=True),
        }
    properties["engine"]["minItems"] = 1
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "rigfit job",
        "description": "One boat, its measurements, its candidate engines and what was decided.",
        "type": "object",
        "additionalProperties": False,
        "required": ["format", "engine"],
        "properties": properties,
    }


def _table(
    record: type[Any], heading: str, catalogue: Catalogue, *, required: bool
) -> dict[str, Any]:
    fields = specs(record)
    table: dict[str, Any] = {
        "title": heading,
        "type": "object",
        "additionalProperties": False,
        "properties": {name: _field(spec, catalogue) for name, spec in fields.items()},
    }
    # A boat may be saved half measured; a hole or an engine without its place or class is nothing.
    if required:
        table["required"] = [name for name, spec in fields.items() if spec.required]
    return table


def _field(spec: FieldSpec, catalogue: Catalogue) -> dict[str, Any]:
    words = words_of(spec, catalogue)
    said: dict[str, Any] = {"title": spec.label, "examples": [spec.example]}
    described = " ".join(part for part in (spec.how, _limits(spec)) if part)
    if described:
        said["description"] = described
    if words:
        return said | {"type": "string", "enum": [*words, ""]}
    if spec.kind is None:
        return said | {"type": "string", "maxLength": spec.longest}
    return said | {"type": ["string", "number"], "maxLength": LONGEST_TEXT}


def _limits(spec: FieldSpec) -> str:
    if spec.kind is None:
        return ""
    unit = BASE_UNIT[spec.kind]
    words = f"From {spec.low:g} to {spec.high:g} {unit}".rstrip()
    if spec.tolerance and spec.kind is not Kind.COUNT:
        words += f"; ± {spec.tolerance:g} {unit} unless typed with its own tolerance"
    return words + "."
