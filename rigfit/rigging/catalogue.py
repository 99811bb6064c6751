"""The catalogue: every profile rigfit knows, by family and id."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from rigfit.errors import ProfileError
from rigfit.rigging.bracket import TransomBracket
from rigfit.rigging.hole_pattern import HolePattern
from rigfit.rigging.hull import HullKind
from rigfit.rigging.outboard import EngineClass

Profile = TypeVar("Profile")


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All profiles. ``rigfit.records.profiles`` reads one from the shipped files."""

    engine_classes: Mapping[str, EngineClass]
    hole_patterns: Mapping[str, HolePattern]
    hull_kinds: Mapping[str, HullKind]
    brackets: Mapping[str, TransomBracket]

    def engine_class(self, key: str) -> EngineClass:
        """Return an engine class; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.engine_classes, key, "engine class", "engine, engine_class")

    def hole_pattern(self, key: str) -> HolePattern:
        """Return a hole pattern; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.hole_patterns, key, "hole pattern", "hole pattern")

    def hull_kind(self, key: str) -> HullKind:
        """Return a hull kind; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.hull_kinds, key, "kind of hull", "boat, hull_kind")

    def bracket(self, key: str) -> TransomBracket:
        """Return a bracket; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.brackets, key, "setback bracket", "bracket, kind")

    def family(self, name: str) -> tuple[str, ...]:
        """Return the ids of one family ("hull_kinds", "brackets" ...), in file order."""
        return tuple(getattr(self, name))


def _pick(family: Mapping[str, Profile], key: str, what: str, where: str) -> Profile:
    if key in family:
        return family[key]
    near = difflib.get_close_matches(key, list(family), n=1)
    raise ProfileError(
        f'there is no {what} "{key[:40]}"',
        allowed="known are " + ", ".join(family),
        cure=f'did you mean "{near[0]}"?' if near else "choose one of these",
        where=where,
    )
