"""What could be moved, solved: this much forward by that much brings the stern up again.

A suggestion says what it gives at the transom; whether there is room for it only the owner sees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rigfit.errors import JobError
from rigfit.rigging.afloat import Flotation
from rigfit.rigging.case import Case
from rigfit.rigging.flotation import Floating, PointMass, equilibrium
from rigfit.rigging.masses import masses_after

MOVABLE = ("battery", "fuel tank", "fuel", "gear", "anchor", "other")
"""Kinds of listed masses that an owner can move; of tanks those that are not built in."""

FORWARD_MM = 1000.0
"""The way for which the mass that would be enough is solved."""

_NEAREST_MM = 10.0


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A mass to move forward.

    :param name: of the mass.
    :param mass_kg: how much.
    :param by_mm: how far forward.
    :param gain_mm: how much higher the transom then floats.
    :param is_enough: True when that reaches what was wanted, False when the bow is reached first.
    """

    name: str
    mass_kg: float
    by_mm: float
    gain_mm: float
    is_enough: bool


def gain_at_transom_mm(flotation: Flotation, mass_kg: float, by_mm: float) -> float:
    """Return how much higher the transom floats when a mass is moved forward.

    :raises JobError: when she does not come to rest like that.
    """
    return _stern(flotation.after) - _stern(_shifted(flotation, mass_kg, by_mm))


def _stern(floating: Floating) -> float:
    return floating.plane.at(0.0)


def _shifted(flotation: Flotation, mass_kg: float, by_mm: float) -> Floating:
    here = PointMass("moved", mass_kg, 0.0, 0.0)
    there = PointMass("moved", mass_kg, by_mm, 0.0)
    load = flotation.after.load.changed((there,), (here,))
    return equilibrium(
        flotation.form, load, flotation.density_kg_l, flotation.pods, flotation.after.plane
    )


def shift_for_gain_mm(
    flotation: Flotation, mass_kg: float, wanted_mm: float, most_mm: float
) -> Suggestion:
    """Return how far forward a mass must go for the transom to rise by some mm.

    :param most_mm: the farthest it can go; where that is not enough, it is what is suggested.
    """
    name = f"{mass_kg:.0f} kg"
    low, high = 0.0, max(0.0, most_mm)
    try:
        best = gain_at_transom_mm(flotation, mass_kg, high)
    except JobError:
        best = 0.0
    if best < wanted_mm:
        return Suggestion(name, mass_kg, high, max(0.0, best), is_enough=False)
    while high - low > 1.0:
        middle = (low + high) / 2.0
        if gain_at_transom_mm(flotation, mass_kg, middle) < wanted_mm:
            low = middle
        else:
            high = middle
    return Suggestion(
        name, mass_kg, high, gain_at_transom_mm(flotation, mass_kg, high), is_enough=True
    )


def mass_for_gain_kg(flotation: Flotation, by_mm: float, wanted_mm: float) -> float | None:
    """Return the mass that must go forward by some mm for the transom to rise by some mm.

    None where moving a quarter of all she weighs is not enough.
    """
    low, high = 0.0, flotation.after.load.mass_kg / 4.0
    try:
        if gain_at_transom_mm(flotation, high, by_mm) < wanted_mm:
            return None
        while high - low > 0.1:
            middle = (low + high) / 2.0
            if gain_at_transom_mm(flotation, middle, by_mm) < wanted_mm:
                low = middle
            else:
                high = middle
    except JobError:
        return None
    return high


def suggestions(case: Case, flotation: Flotation, wanted_mm: float) -> tuple[Suggestion, ...]:
    """Return every listed mass that could be moved forward for the transom to rise by some mm.

    A tank goes with the fuel in it, and stays where it is built in. Those that reach it come first,
    the shortest way first; then the rest, the most gain first.
    """
    reach = 0.85 * flotation.form.length_mm
    found = []
    for name, kg, ahead in _movable(case):
        room = reach - ahead
        if room < _NEAREST_MM:
            continue
        solved = shift_for_gain_mm(flotation, kg, wanted_mm, room)
        found.append(replace(solved, name=name))
    return tuple(
        sorted(found, key=lambda s: (not s.is_enough, s.by_mm if s.is_enough else -s.gain_mm))
    )


def _movable(case: Case) -> list[tuple[str, float, float]]:
    """Return name, kg and place ahead of every listed mass that can be moved, tanks with fuel."""
    found: list[tuple[str, float, float]] = []
    for item in masses_after(case).items:
        movable = item.kind in MOVABLE and item.is_load and item.mass.value > 0.0
        if not movable or item.ahead is None:
            continue
        name, kg = item.name, item.mass.value
        if item.kind == "fuel":
            name = name.removeprefix("fuel in ")
            # The empty tank, where it was weighed, stands right before its fuel.
            if found and found[-1][0] == name:
                kg += found.pop()[1]
        found.append((name, kg, item.ahead.value))
    return found
