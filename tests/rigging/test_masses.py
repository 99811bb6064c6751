"""Masses: what is aboard before and after, what stands in for a scale, and where it all sits."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.job import Neighbour
from rigfit.rigging.load_fields import MassItem, OldEngine
from rigfit.rigging.masses import (
    NEW_ENGINE,
    OLD_ENGINE,
    PETROL_KG_L,
    Masses,
    PlacedMass,
    engine_mass,
    fuel_mass,
    growth,
    masses_after,
    masses_before,
    total_mass,
)
from rigfit.rigging.readings import Origin
from tests.builders import BOLTED, PLATE, bracket_job, case_of, reading
from tests.rigging.loads import case, crew, tank

TWINS = Neighbour(arrangement="twins", twin_spacing=reading(660.0, 1.0))


def battery(when: str = "both", kg: float = 24.0) -> MassItem:
    return MassItem(
        "battery", "battery", reading(kg, 1.0), ahead_of_transom=reading(300.0, 10.0),
        above_keel=reading(250.0, 10.0), when=when,
    )  # fmt: skip


def names(masses: Masses) -> list[str]:
    return [item.name for item in masses.items]


# ------------------------------------------------------------------ before and after


def test_before_has_the_old_engine_and_after_the_new_one() -> None:
    here = case()
    assert names(masses_before(here)) == ["old engine", "hands", "fuel in red tank"]
    assert names(masses_after(here)) == ["engine A", "hands", "fuel in red tank"]
    assert masses_before(here).total.value == pytest.approx(118.0 + 160.0 + 30.0 * PETROL_KG_L)
    assert masses_after(here).total.value == pytest.approx(165.0 + 160.0 + 30.0 * PETROL_KG_L)


@pytest.mark.parametrize(
    ("when", "before", "after"), [("both", 1, 1), ("before", 1, 0), ("after", 0, 1)]
)
def test_a_mass_is_aboard_when_it_says(when: str, before: int, after: int) -> None:
    here = case(masses=(battery(when),))
    assert len(masses_before(here).of_kind("battery")) == before
    assert len(masses_after(here).of_kind("battery")) == after


def test_an_old_engine_nobody_told_of_is_missing_and_counts_nothing() -> None:
    before = masses_before(case(old_engine=OldEngine()))
    assert before.of_kind(OLD_ENGINE) == ()
    assert before.missing_fields == ("old_engine.mass",)
    assert growth(case(old_engine=OldEngine())) is None


def test_the_engine_that_hung_on_her_afloat_serves_as_the_old_one() -> None:
    (old,) = masses_before(
        case(old_engine=OldEngine(), afloat__engine_mass=reading(111.0, 2.0))
    ).of_kind(OLD_ENGINE)
    assert (old.mass.value, old.fields) == (111.0, ("afloat.engine_mass",))


def test_an_old_engine_of_a_class_is_labelled_as_one() -> None:
    (old,) = masses_before(case(old_engine=OldEngine(engine_class=BOLTED))).of_kind(OLD_ENGINE)
    assert old.mass.origin is Origin.CLASS
    assert (old.mass.value, old.mass.tolerance) == (155.0, 35.0)


def test_two_old_engines_weigh_twice_as_much() -> None:
    one = OldEngine(mass=reading(118.0, 2.0))
    (old,) = masses_before(case(old_engine=replace(one, number=2))).of_kind(OLD_ENGINE)
    assert (old.mass.value, old.mass.tolerance) == (236.0, 4.0)


def test_growth_is_new_less_old_with_its_tolerance() -> None:
    more = growth(case())
    assert more is not None
    assert more.value == pytest.approx(47.0)
    # 165 and 118 kg, each +/- 2 kg rectangular: 2 * hypot(2, 2) / sqrt 3.
    assert more.tolerance == pytest.approx(2.0 * (8.0 / 3.0) ** 0.5)


# ------------------------------------------------------------------ what stands in


def test_an_engine_nobody_weighed_is_of_its_class() -> None:
    assert engine_mass(case(engine__mass=None)).origin is Origin.CLASS
    assert engine_mass(case()).origin is Origin.MEASURED


@given(st.floats(1.0, 500.0), st.floats(0.0, 1.0))
def test_fuel_never_weighs_more_than_a_full_tank(litres: float, level: float) -> None:
    full = fuel_mass(reading(litres), None)
    part = fuel_mass(reading(litres), reading(level))
    assert 0.0 <= part.value <= full.value == pytest.approx(litres * PETROL_KG_L)


def test_a_level_nobody_gave_is_taken_as_full_and_labelled() -> None:
    assert fuel_mass(reading(60.0), None).origin is Origin.DEFAULT
    assert fuel_mass(reading(60.0), reading(0.5)).origin is Origin.MEASURED


def test_a_tank_weighs_its_own_mass_and_its_fuel() -> None:
    own = tank(mass=reading(6.0, 0.5))
    after = masses_after(case(masses=(own,)))
    assert [item.kind for item in after.items] == [NEW_ENGINE, "fuel tank", "fuel"]
    assert all(item.ahead == own.ahead_of_transom for item in after.items[1:])


def test_only_a_built_in_tank_belongs_to_the_boat() -> None:
    for kind, is_load in (("portable", True), ("not said", True), ("built in", False)):
        (fuel,) = masses_after(case(masses=(tank(tank=kind),))).of_kind("fuel")
        assert fuel.is_load is is_load


@pytest.mark.parametrize(
    ("item", "field"),
    [(MassItem("box", "gear"), "mass.mass"), (MassItem("tank", "fuel tank"), "mass.volume")],
)
def test_a_mass_without_a_figure_is_missing_by_name(item: MassItem, field: str) -> None:
    after = masses_after(case(masses=(item,)))
    assert after.missing == (item.name,)
    assert after.missing_fields == (field,)


def test_a_load_without_a_name_gets_one_from_its_kind_and_number() -> None:
    after = masses_after(case(masses=(crew(), replace(battery(), name=""))))
    assert names(after)[-1] == "battery 2"


def test_the_bracket_of_the_job_counts_until_somebody_lists_one() -> None:
    job = bracket_job(PLATE)
    (bracket,) = masses_after(case_of(job)).of_kind("bracket")
    assert (bracket.mass.value, bracket.mass.origin) == (15.0, Origin.CLASS)
    own = replace(job, masses=(MassItem("jack plate", "bracket", reading(12.0, 1.0)),))
    (listed,) = masses_after(case_of(own)).of_kind("bracket")
    assert listed.mass.value == 12.0


# ------------------------------------------------------------------ places


def test_an_engine_hangs_aft_of_the_foot_of_the_transom_and_its_place_is_of_its_class() -> None:
    (engine,) = masses_after(case()).of_kind(NEW_ENGINE)
    # 518 sin 14 deg = 125.3 aft of the foot at the top, and the midsection 270 aft of the seat.
    assert engine.ahead is not None and engine.above is not None
    assert engine.ahead.value == pytest.approx(-395.3, abs=0.1)
    assert engine.above.value == pytest.approx(518.0 * 0.970296 + 120.0, abs=0.1)
    assert engine.ahead.origin is Origin.CLASS


def test_a_setback_carries_the_new_engine_aft_but_not_the_old_one() -> None:
    plain = replace(bracket_job(PLATE), old_engine=OldEngine(mass=reading(100.0)))
    here = case_of(plain)
    (new,) = masses_after(here).of_kind(NEW_ENGINE)
    (old,) = masses_before(here).of_kind(OLD_ENGINE)
    assert new.ahead is not None and old.ahead is not None
    assert new.ahead.value == pytest.approx(old.ahead.value - 150.0)


def test_an_old_engine_sits_where_somebody_measured_it() -> None:
    own = OldEngine(mass=reading(118.0), ahead_of_transom=reading(-250.0))
    (old,) = masses_before(case(old_engine=own)).of_kind(OLD_ENGINE)
    assert old.ahead is not None and old.ahead.value == -250.0


def test_without_a_transom_height_the_engine_has_no_height() -> None:
    here = case(transom__height_along_face=None, transom__height_square=None)
    assert masses_after(here).unplaced == ("engine A",)


def test_twins_hang_on_either_side_and_weigh_twice() -> None:
    port, starboard = masses_after(case(neighbour=TWINS)).of_kind(NEW_ENGINE)
    assert (port.across.value, starboard.across.value) == (-330.0, 330.0)
    total = total_mass((port, starboard))
    assert total.value == pytest.approx(330.0)
    # If one is heavier than thought, so is the other: 2 kg each are 4 kg, not 2.8.
    assert total.tolerance == pytest.approx(2.0 * 4.0 / 3.0**0.5)


def test_twins_at_a_spacing_nobody_gave_stand_in_the_middle_and_say_so() -> None:
    port, _ = masses_after(case(neighbour=Neighbour(arrangement="twins"))).of_kind(NEW_ENGINE)
    assert (port.across.value, port.across.origin) == (0.0, Origin.DEFAULT)


def placed(kg: float, ahead: float) -> PlacedMass:
    return PlacedMass(f"at {ahead:g}", "gear", reading(kg, 1.0), reading(ahead, 10.0), reading(0.0))


@given(
    st.lists(st.tuples(st.floats(1.0, 300.0), st.floats(-1000.0, 6000.0)), min_size=1, max_size=6)
)
def test_the_common_centre_lies_between_the_outermost(pairs: list[tuple[float, float]]) -> None:
    masses = Masses(tuple(placed(kg, ahead) for kg, ahead in pairs))
    centre = masses.centre_ahead
    assert centre is not None
    assert min(x for _, x in pairs) - 1e-6 <= centre.value <= max(x for _, x in pairs) + 1e-6
    assert masses.total.value == pytest.approx(sum(kg for kg, _ in pairs))


def test_the_common_centre_of_a_lever_is_the_textbook_one() -> None:
    masses = Masses((placed(100.0, 0.0), placed(300.0, 1000.0)))
    assert masses.centre_ahead is not None
    assert masses.centre_ahead.value == pytest.approx(750.0)


def test_without_a_place_there_is_no_common_centre() -> None:
    nowhere = PlacedMass("box", "gear", reading(10.0))
    masses = Masses((placed(100.0, 0.0), nowhere))
    assert masses.centre_ahead is None
    assert masses.unplaced == ("box",)
    assert Masses(()).centre_ahead is None
    assert masses.total.value == pytest.approx(110.0)
