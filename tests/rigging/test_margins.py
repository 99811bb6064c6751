"""Margins: kilograms until wet, the curve, a person aft, pods, and the float test's mass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rigfit.rigging.flotation import PointMass, equilibrium
from rigfit.rigging.hull_fields import Afloat
from rigfit.rigging.load_fields import MassItem
from rigfit.rigging.margins import (
    INSIDE_MM,
    float_test,
    heights_mm,
    kilograms_until_wet,
    margin_curve,
    person_aft,
    pod_balance,
    transom_place,
    with_mass,
)
from rigfit.rigging.tolerance import expanded
from tests.builders import POD, reading
from tests.rigging.afloat_jobs import HULL, floated


def test_that_many_kilograms_bring_each_mark_to_the_water() -> None:
    found = floated()
    ahead, above = transom_place(found)
    told = [wet for wet in kilograms_until_wet(found) if wet.kg is not None]
    assert told
    for wet in told:
        state = with_mass(found, PointMass("w", wet.kg, ahead, above))
        height = heights_mm(found, state)[found.marks.index(wet.mark)]
        assert height == pytest.approx(0.0, abs=0.1)


def test_the_first_wet_comes_first() -> None:
    order = [wet.kg for wet in kilograms_until_wet(floated()) if wet.kg is not None]
    assert order == sorted(order)
    assert order


def test_what_is_wet_already_wants_nothing_more() -> None:
    wet = kilograms_until_wet(floated(afloat__scupper=reading(20.0, 5.0)))
    assert (wet[0].mark.name, wet[0].kg) == ("scupper", 0.0)


def test_little_enough_mass_wets_nothing() -> None:
    dry = [wet for wet in kilograms_until_wet(floated(), most_kg=40.0) if wet.kg is None]
    assert dry


def test_the_curve_begins_as_she_floats_and_falls_at_the_transom() -> None:
    found = floated()
    curve = margin_curve(found, 200.0, 11)
    assert [point.added_kg for point in curve] == pytest.approx([20.0 * k for k in range(11)])
    assert curve[0].heights_mm == pytest.approx(heights_mm(found, found.after))
    scupper = [mark.name for mark in found.marks].index("scupper")
    heights = [point.heights_mm[scupper] for point in curve]
    assert heights == sorted(heights, reverse=True)


def test_the_curve_crosses_where_the_mark_is_wet() -> None:
    found = floated()
    wet = kilograms_until_wet(found)[0]
    assert wet.kg is not None
    k = found.marks.index(wet.mark)
    below, above = (margin_curve(found, wet.kg + by, 2)[-1].heights_mm[k] for by in (5.0, -5.0))
    assert below < 0.0 < above


def test_the_curve_ends_where_she_floats_no_more() -> None:
    assert len(margin_curve(floated(), 20_000.0, 21)) < 21


def test_a_person_aft_lowers_what_is_aft() -> None:
    found = floated()
    heights = person_aft(found)
    assert heights is not None
    for mark, height in zip(found.marks, heights, strict=True):
        assert height < mark.after.value
    assert person_aft(found, 9_000.0) is None


def pod_job(**changes):
    hull = replace(
        HULL, pod_volume=reading(120.0, 5.0), pod_aft=reading(250.0, 10.0),
        pod_bottom=reading(40.0, 10.0), pod_height=reading(450.0, 10.0),
    )  # fmt: skip
    return floated(hull=hull, bracket__kind=POD, bracket__setback=reading(500.0, 5.0), **changes)


def test_a_pod_lifts_what_it_displaces() -> None:
    found = pod_job()
    balance = pod_balance(found)
    assert balance is not None
    assert 0.0 < balance.buoyancy_kg < balance.most_kg == pytest.approx(120.0 * 1.025)
    assert balance.carried_kg == pytest.approx(165.0 + 15.0)
    assert balance.net_kg == pytest.approx(balance.buoyancy_kg - balance.carried_kg)
    assert balance.moment_kgm < 0.0


def test_a_closed_pod_floats_her_higher_than_an_open_one() -> None:
    closed = pod_job()
    opened = floated(bracket__kind=POD, bracket__setback=reading(500.0, 5.0))
    assert pod_balance(opened) is None
    assert closed.after.plane.at(0.0) < opened.after.plane.at(0.0)


def at_the_test(found, kg):
    """Return the state with some test mass aboard and the old engine on."""
    test = float_test(found)
    assert found.before is not None
    mass = PointMass("test", kg, test.ahead_mm, test.above_mm, test.across_mm)
    return equilibrium(found.form, found.before.load.changed((mass,)), found.density_kg_l)


def test_the_test_mass_inside_sinks_the_transom_as_the_new_engine_will() -> None:
    found = floated()
    test = float_test(found)
    assert not test.is_whole
    assert test.ahead_mm == INSIDE_MM
    # Ahead of where the engine hangs, it takes more than the 47 kg of the change.
    assert test.test_kg > 47.0
    state = at_the_test(found, test.test_kg)
    assert state.plane.at(0.0) == pytest.approx(found.after.plane.at(0.0), abs=0.1)
    for (_, _, height, _), there in zip(test.rows, heights_mm(found, state), strict=True):
        assert there == pytest.approx(height, abs=0.01)
    top = next(row for row in test.rows if row[0] == "transom top")
    assert top[2] == pytest.approx(found.marks[0].after.value, abs=1.0)


def moved_battery(ahead: float, kg: float) -> MassItem:
    return MassItem(
        name="new battery", kind="battery", mass=reading(kg, 1.0), when="after",
        ahead_of_transom=reading(ahead, 20.0), above_keel=reading(300.0, 20.0),
    )  # fmt: skip


def test_a_change_whose_middle_is_inside_is_tested_whole() -> None:
    found = floated(masses=(moved_battery(4500.0, 60.0),))
    test = float_test(found)
    assert test.is_whole
    assert test.test_kg == pytest.approx(found.heavier_kg) == pytest.approx(107.0)
    state = at_the_test(found, test.test_kg)
    assert state.plane.at(0.0) == pytest.approx(found.after.plane.at(0.0), abs=0.5)
    assert state.plane.trim_deg == pytest.approx(found.after.plane.trim_deg, abs=0.01)
    for mark, (_, now, height, spread) in zip(found.marks, test.rows, strict=True):
        assert now == mark.before
        assert height == pytest.approx(mark.after.value, abs=0.5)
        assert spread == pytest.approx(mark.after.tolerance)


def test_the_steps_go_from_nothing_to_all_in_round_portions() -> None:
    found = floated()
    test = float_test(found)
    kgs = [step.kg for step in test.steps]
    assert kgs[0] == 0.0
    assert kgs[-1] == test.test_kg
    assert all(kg % 10.0 == 0.0 for kg in kgs[:-1])
    assert len(kgs) <= 5
    for step in test.steps:
        heights = heights_mm(found, at_the_test(found, step.kg))
        assert [height for height, _ in step.heights] == pytest.approx(heights, abs=0.01)
    spreads = [[step.heights[k][1] for step in test.steps] for k in range(len(found.marks))]
    for mark, of_mark in zip(found.marks, spreads, strict=True):
        assert of_mark == sorted(of_mark)
        assert of_mark[0] == pytest.approx(mark.before_spread)
        assert of_mark[-1] == pytest.approx(mark.after.tolerance)


def test_a_mark_read_afloat_is_as_sure_now_as_its_reading() -> None:
    scupper = next(mark for mark in floated().marks if mark.name == "scupper")
    assert scupper.before_spread == pytest.approx(expanded(5.0), rel=0.02)


def test_an_engine_off_the_middle_puts_the_test_mass_aside() -> None:
    test = float_test(floated(mounting__off_centre=reading(30.0, 1.0)))
    assert test.across_mm * test.test_kg == pytest.approx(30.0 * 165.0, rel=1e-6)


def test_a_pod_that_is_not_on_yet_is_no_part_of_the_test() -> None:
    found = pod_job(masses=(moved_battery(4500.0, 60.0),))
    test = float_test(found)
    assert not test.is_whole
    if test.test_kg:
        state = at_the_test(found, test.test_kg)
        assert state.plane.at(0.0) == pytest.approx(found.after.plane.at(0.0), abs=0.1)


def test_a_lighter_engine_wants_no_test_mass() -> None:
    test = float_test(floated(engine__mass=reading(90.0, 2.0)))
    assert (test.test_kg, test.steps) == (0.0, ())


def test_nothing_read_afloat_gives_nothing_to_test_against() -> None:
    hull = replace(HULL, mass=reading(420.0, 20.0), centre_ahead=reading(2200.0, 50.0))
    test = float_test(floated(hull=hull, afloat=Afloat()))
    assert (test.test_kg, test.steps) == (0.0, ())
