"""Margins: kilograms until wet, the curve, a person aft, pods, and the float test's mass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rigfit.rigging.flotation import PointMass, equilibrium
from rigfit.rigging.margins import (
    float_test,
    heights_mm,
    kilograms_until_wet,
    margin_curve,
    person_aft,
    pod_balance,
    transom_place,
    with_mass,
)
from tests.builders import POD, reading
from tests.rigging.afloat_jobs import HULL, floated


def test_that_many_kilograms_bring_each_mark_to_the_water() -> None:
    found = floated()
    ahead, above = transom_place(found)
    for wet in kilograms_until_wet(found):
        if wet.kg is not None:
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


def test_the_test_mass_with_the_old_engine_floats_her_as_the_new_one_will() -> None:
    found = floated()
    test = float_test(found)
    assert test.test_kg == pytest.approx(47.0)
    assert found.before is not None
    load = found.before.load.changed(
        (PointMass("test", test.test_kg, test.ahead_mm, test.above_mm),)
    )
    state = equilibrium(found.form, load, found.density_kg_l)
    assert state.plane.at(0.0) == pytest.approx(found.after.plane.at(0.0), abs=0.5)
    for (_, _, height, _), there in zip(test.rows, heights_mm(found, state), strict=True):
        assert there == pytest.approx(height, abs=0.5)


def test_a_lighter_engine_wants_no_test_mass() -> None:
    assert float_test(floated(engine__mass=reading(90.0, 2.0))).test_kg == 0.0
