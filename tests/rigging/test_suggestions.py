"""What to move forward: a solved shift really gives what it says."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.load_fields import MassItem
from rigfit.rigging.masses import PETROL_KG_L
from rigfit.rigging.suggestions import (
    gain_at_transom_mm,
    mass_for_gain_kg,
    shift_for_gain_mm,
    suggestions,
)
from tests.builders import reading
from tests.rigging.afloat_jobs import afloat_case, floated


def item(name: str, kind: str, kg: float, ahead: float) -> MassItem:
    return MassItem(
        name=name, kind=kind, mass=reading(kg, 1.0), ahead_of_transom=reading(ahead, 20.0),
        above_keel=reading(200.0, 20.0), when="both",
    )  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(st.floats(20.0, 120.0), st.floats(1.0, 12.0))
def test_the_shift_gives_what_was_wanted(kg: float, wanted: float) -> None:
    found = floated()
    solved = shift_for_gain_mm(found, kg, wanted, 4000.0)
    if solved.is_enough:
        assert solved.gain_mm == pytest.approx(wanted, abs=0.2)
        assert gain_at_transom_mm(found, kg, solved.by_mm) == pytest.approx(solved.gain_mm)
    else:
        assert solved.by_mm == 4000.0
        assert solved.gain_mm < wanted


@settings(max_examples=25, deadline=None)
@given(st.floats(200.0, 3000.0), st.floats(1.0, 8.0))
def test_mass_and_shift_are_two_ways_to_the_same_gain(by: float, wanted: float) -> None:
    found = floated()
    kg = mass_for_gain_kg(found, by, wanted)
    if kg is not None:
        assert gain_at_transom_mm(found, kg, by) == pytest.approx(wanted, abs=0.1)
    else:
        assert gain_at_transom_mm(found, found.after.load.mass_kg / 4.0, by) < wanted


def test_too_much_wanted_of_too_little_is_refused() -> None:
    assert mass_for_gain_kg(floated(), 100.0, 200.0) is None
    assert not shift_for_gain_mm(floated(), 5.0, 100.0, 3000.0).is_enough


def test_nothing_moved_gains_nothing() -> None:
    assert gain_at_transom_mm(floated(), 30.0, 0.0) == pytest.approx(0.0, abs=1e-3)


def test_only_what_can_be_moved_is_suggested_the_shortest_way_first() -> None:
    masses = (
        item("battery", "battery", 28.0, 300.0),
        item("two at the wheel", "crew", 160.0, 1500.0),
        item("anchor", "anchor", 60.0, 400.0),
        item("bow locker", "gear", 30.0, 4600.0),
    )
    case, found = afloat_case(masses=masses), floated(masses=masses)
    named = suggestions(case, found, 5.0)
    assert [entry.name for entry in named] == ["anchor", "battery"]
    assert all(entry.is_enough for entry in named)
    assert named[0].by_mm < named[1].by_mm


def test_what_is_not_enough_comes_last_and_says_so() -> None:
    masses = (item("tool box", "gear", 6.0, 300.0), item("anchor", "anchor", 60.0, 400.0))
    named = suggestions(afloat_case(masses=masses), floated(masses=masses), 8.0)
    assert [(entry.name, entry.is_enough) for entry in named] == [
        ("anchor", True),
        ("tool box", False),
    ]


def test_without_a_list_of_masses_nothing_is_suggested() -> None:
    assert suggestions(afloat_case(), floated(), 5.0) == ()


def tank(built: str) -> MassItem:
    return replace(
        item("day tank", "fuel tank", 4.0, 500.0), volume=reading(25.0, 1.0),
        level=reading(1.0, 0.0), tank=built,
    )  # fmt: skip


def test_a_tank_goes_with_its_fuel_and_stays_where_it_is_built_in() -> None:
    masses = (tank("portable"),)
    (named,) = suggestions(afloat_case(masses=masses), floated(masses=masses), 2.0)
    assert named.name == "day tank"
    assert named.mass_kg == pytest.approx(4.0 + 25.0 * PETROL_KG_L)
    built = (tank("built in"),)
    assert suggestions(afloat_case(masses=built), floated(masses=built), 2.0) == ()


def test_two_things_of_one_name_are_two_suggestions() -> None:
    masses = (item("box", "gear", 30.0, 300.0), item("box", "gear", 30.0, 300.0))
    named = suggestions(afloat_case(masses=masses), floated(masses=masses), 2.0)
    assert [entry.mass_kg for entry in named] == [30.0, 30.0]
