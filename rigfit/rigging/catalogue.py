"""The catalogue: every profile rigfit knows, by family and id."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from rigfit.errors import ProfileError
from rigfit.rigging.bracket import TransomBracket
from rigfit.rigging.fasteners import Bolt, BoltGrade, Core, Washer
from rigfit.rigging.hole_pattern import HolePattern, HoleRule
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
    hole_rules: Mapping[str, HoleRule] = field(default_factory=dict)
    bolts: Mapping[str, Bolt] = field(default_factory=dict)
    bolt_grades: Mapping[str, BoltGrade] = field(default_factory=dict)
    washers: Mapping[str, Washer] = field(default_factory=dict)
    cores: Mapping[str, Core] = field(default_factory=dict)

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

    def hole_rule(self, core: str = "") -> HoleRule:
        """Return the rule for holes in a transom core; the default rule for any other core.

        :raises ProfileError: when the catalogue holds no default rule.
        """
        if core in self.hole_rules:
            return self.hole_rules[core]
        return _pick(self.hole_rules, "default", "rule for holes", "hole rules")

    def bolt(self, key: str) -> Bolt:
        """Return a bolt; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.bolts, key, "bolt", "bolting, bolt")

    def bolt_grade(self, key: str) -> BoltGrade:
        """Return a strength grade; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.bolt_grades, key, "strength of bolts", "bolting, grade")

    def washer(self, key: str) -> Washer:
        """Return a washer; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.washers, key, "washer", "bolting, washer")

    def core(self, key: str) -> Core:
        """Return a core; raises ``ProfileError`` naming the nearest id."""
        return _pick(self.cores, key, "core", "bolting, core")

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
