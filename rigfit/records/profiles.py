"""The shipped profiles: engine classes, hole patterns, hull kinds, brackets and the demo job.

They are TOML files in the folder ``profiles`` of the checkout, which a wheel carries as
``rigfit/_profiles``. Reading is strict: a profile is data that decides where holes are drilled.
"""

from __future__ import annotations

import dataclasses
import functools
import math
import types
import typing
from collections.abc import Hashable, Mapping
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from rigfit.errors import ProfileError
from rigfit.records.plain_words import echo, listed, nearest, shown_path
from rigfit.records.toml_text import parse_toml
from rigfit.rigging.bracket import TransomBracket
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.fasteners import Bolt, BoltGrade, Core, Washer
from rigfit.rigging.hole_pattern import HolePattern, HoleRule
from rigfit.rigging.hull import HullKind
from rigfit.rigging.outboard import EngineClass
from rigfit.sources import SOURCES

Record = TypeVar("Record")

_PACKAGE = Path(__file__).resolve().parents[1]


def profiles_folder() -> Path:
    """Return the folder of the shipped profiles: beside the installed package or in a checkout.

    :raises ProfileError: when neither is there.
    """
    for folder in (_PACKAGE / "_profiles", _PACKAGE.parent / "profiles"):
        if folder.is_dir():
            return folder
    raise ProfileError(
        "the profiles that belong to rigfit are missing", cure="install rigfit again"
    )


@functools.cache
def load_catalogue() -> Catalogue:
    """Return every shipped profile; read once, then kept.

    :raises ProfileError: naming file, profile and key.
    """
    return read_catalogue(profiles_folder())


def read_catalogue(folder: Path) -> Catalogue:
    """Return the profiles of one folder.

    :raises ProfileError: a file is missing, a key is unknown, missing or of the wrong type, a
        source or a hole pattern does not exist.
    """
    catalogue = Catalogue(
        engine_classes=_family(folder, "engine_classes", EngineClass),
        hole_patterns=_family(folder, "hole_patterns", HolePattern),
        hull_kinds=_family(folder, "hull_kinds", HullKind),
        brackets=_family(folder, "brackets", TransomBracket),
        hole_rules=_family(folder, "hole_rules", HoleRule),
        bolts=_family(folder, "bolts", Bolt),
        bolt_grades=_family(folder, "bolt_grades", BoltGrade),
        washers=_family(folder, "washers", Washer),
        cores=_family(folder, "cores", Core),
    )
    _check_patterns(catalogue)
    return catalogue


DRILLED_DEMO = "dunlin-drilled.toml"
"""The second demo job: *Dunlin* when it comes to holes, bolts and the dash."""


def demo_job_text(name: str = "dunlin.toml") -> str:
    """Return the text of a demo job, the invented tender *Dunlin*.

    :raises ProfileError: when the file is missing.
    """
    return _text(profiles_folder() / "demo" / name)


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        raise ProfileError(
            "the file is missing or cannot be read",
            cure="install rigfit again",
            where=shown_path(path),
        ) from None


def _family(folder: Path, name: str, record: type[Record]) -> Mapping[str, Record]:
    file = f"{name}.toml"
    tables = parse_toml(_text(folder / file), file, ProfileError)
    return MappingProxyType(
        {key: _profile(record, key, table, f"{file}, [{key}]") for key, table in tables.items()}
    )


def _profile(record: type[Record], key: str, table: object, place: str) -> Record:
    if isinstance(table, dict) and "id" in table:
        raise ProfileError("id is given by the table's name", cure="delete it", where=place)
    profile = _record(record, table, place, {"id": key})
    for name in ("source", "outer_source", "edge_source", "nut_source", "proof_source"):
        source = getattr(profile, name, "")
        if source not in SOURCES and (source or name == "source"):
            raise ProfileError(
                f"there is no source {echo(source)}",
                cure=nearest(source, SOURCES) or "use a key of rigfit/sources.py",
                where=f"{place}, {name}",
            )
    return profile


@functools.cache
def _hints(record: Any) -> Mapping[str, Any]:
    """Return the types of a record's fields; asked for once a profile, and slow to work out."""
    return MappingProxyType(typing.get_type_hints(record))


def _record(
    record: type[Record], table: object, place: str, given: dict[str, Any] | None = None
) -> Record:
    """Build a record from a table: every key known, every value of the field's own type."""
    if not isinstance(table, dict):
        raise ProfileError(f"{echo(table)} is not a table", where=place)
    values: dict[str, Any] = dict(given or {})
    hints = _hints(typing.cast("Hashable", record))
    for key, raw in table.items():
        if key not in hints:
            raise ProfileError(
                f"unknown key {echo(key)}",
                allowed=f"known are {listed(hints)}" if not nearest(key, hints) else "",
                cure=nearest(key, hints),
                where=place,
            )
        values[key] = _value(hints[key], raw, f"{place}, {key}")
    for field in dataclasses.fields(record):  # type: ignore[arg-type]
        if field.name not in values and field.default is dataclasses.MISSING:
            raise ProfileError(f"the key {field.name} is missing", cure="add it", where=place)
    return record(**values)


def _value(hint: Any, raw: object, place: str) -> Any:
    if isinstance(hint, types.UnionType):  # float | None: a key that is there is not None
        hint = next(part for part in typing.get_args(hint) if part is not type(None))
    if typing.get_origin(hint) is tuple:
        if not isinstance(raw, list):
            raise ProfileError(f"{echo(raw)} is not a list of numbers", where=place)
        return tuple(_value(float, item, place) for item in raw)
    if dataclasses.is_dataclass(hint):
        return _record(typing.cast("type[Any]", hint), raw, place)
    if hint is str and isinstance(raw, str):
        return raw
    if hint is float and isinstance(raw, int | float) and not isinstance(raw, bool):
        if math.isfinite(raw):
            return float(raw)
    elif isinstance(hint, type) and issubclass(hint, Enum):
        words = [member.value for member in hint]
        if raw in words:
            return hint(raw)
        raise ProfileError(
            f"{echo(raw)} is not known", allowed="allowed are " + listed(words), where=place
        )
    wanted = "a text in quotes" if hint is str else "a number"
    raise ProfileError(f"{echo(raw)} is not {wanted}", where=place)


def _check_patterns(catalogue: Catalogue) -> None:
    users: list[tuple[str, str, str]] = [
        ("engine_classes.toml", key, engine.pattern)
        for key, engine in catalogue.engine_classes.items()
    ]
    users += [("brackets.toml", key, item.pattern) for key, item in catalogue.brackets.items()]
    for file, key, pattern in users:
        if pattern not in catalogue.hole_patterns:
            known = catalogue.hole_patterns
            raise ProfileError(
                f"there is no hole pattern {echo(pattern)}",
                allowed=f"known are {listed(known)}",
                cure=nearest(pattern, known),
                where=f"{file}, [{key}], pattern",
            )
