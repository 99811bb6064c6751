"""Load rules: capacities, roundings of persons, and the row of engine weights of a power."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.load_rules import (
    ENGINE_WEIGHTS,
    engine_weights,
    manual_persons_capacity,
    outfit_lb,
    persons_by_size,
    persons_capacity,
    persons_of_gross_load,
    short_transom,
    weight_capacity,
    whole_persons,
)
from rigfit.units import FOOT_MM, HORSEPOWER_KW, POUND_KG

POUNDS = st.floats(0.0, 5000.0)


def row_of(horsepower: float) -> list[float]:
    return [row.hp_from for row in engine_weights(horsepower * HORSEPOWER_KW)]


@given(POUNDS, POUNDS)
def test_a_weight_capacity_is_never_negative(displacement: float, boat: float) -> None:
    assert weight_capacity(displacement, boat) >= 0.0


@given(POUNDS)
def test_a_boat_that_weighs_what_she_displaces_carries_nothing(boat: float) -> None:
    assert weight_capacity(boat, boat) == 0.0


@given(POUNDS, POUNDS, st.one_of(st.none(), st.floats(0.0, 1000.0)))
def test_persons_never_weigh_more_than_what_the_outfit_leaves(
    capacity: float, outfit: float, test: float | None
) -> None:
    found = persons_capacity(capacity, outfit, test)
    assert 0.0 <= found <= max(0.0, capacity - outfit)


@given(st.floats(550.0, 5000.0), st.floats(0.0, 500.0))
def test_from_550_pounds_the_list_test_does_not_count(capacity: float, test: float) -> None:
    assert persons_capacity(capacity, 0.0, test) == capacity


def test_below_550_pounds_the_list_test_does_count() -> None:
    assert persons_capacity(549.0, 0.0, 300.0) == pytest.approx(500.0)
    assert persons_capacity(650.0, 101.0, 300.0) == pytest.approx(500.0)


@given(st.integers(1, 40))
def test_persons_go_up_exactly_at_a_half(persons: int) -> None:
    """(capacity + 32) / 141 = persons - 1/2 goes up, also where half to even would go down."""
    half = 141.0 * (persons - 0.5) - 32.0
    assert whole_persons(half) == persons
    assert whole_persons(half - 0.1) == persons - 1


@given(POUNDS, POUNDS)
def test_more_capacity_never_makes_fewer_persons(one: float, other: float) -> None:
    assert whole_persons(min(one, other)) <= whole_persons(max(one, other))


def test_boats_without_an_engine_keep_nine_tenths() -> None:
    assert manual_persons_capacity(400.0, is_powered=False) == pytest.approx(360.0)
    assert manual_persons_capacity(400.0, is_powered=True) == pytest.approx(335.0)
    assert manual_persons_capacity(10.0, is_powered=True) == 0.0


def test_persons_by_size_are_cut_not_rounded() -> None:
    assert persons_by_size(14.9 * FOOT_MM, 2.0 * FOOT_MM) == 1
    assert persons_by_size(15.0 * FOOT_MM, 2.0 * FOOT_MM) == 2


def test_an_engine_heavier_than_the_gross_load_leaves_nobody() -> None:
    assert persons_of_gross_load(200.0, 250.0, 0.0) == 0


@given(st.sampled_from(ENGINE_WEIGHTS), st.floats(0.0, 1.0))
def test_a_power_inside_a_band_has_that_row(row: object, share: float) -> None:
    hp = row.hp_from + share * (row.hp_to - row.hp_from)  # type: ignore[attr-defined]
    assert row_of(hp) == [row.hp_from]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("hp", "rows"),
    [(34.95, [23.0, 35.0]), (2.05, [0.1, 2.1]), (300.05, [210.0, 300.1]), (0.05, []), (351.0, [])],
)
def test_a_power_between_two_bands_has_both_and_one_outside_has_none(
    hp: float, rows: list[float]
) -> None:
    assert row_of(hp) == rows


def test_powers_go_up_from_row_to_row_without_overlap() -> None:
    for below, above in itertools.pairwise(ENGINE_WEIGHTS):
        assert below.hp_from < below.hp_to < above.hp_from
        assert below.dry < above.dry
        assert below.total < above.total


@pytest.mark.parametrize("row", ENGINE_WEIGHTS)
def test_a_short_transom_cuts_a_tenth_off_what_depends_on_the_engine(row: object) -> None:
    short = short_transom(row)  # type: ignore[arg-type]
    assert short.dry == pytest.approx(0.9 * row.dry)  # type: ignore[attr-defined]
    assert short.running == pytest.approx(1.05 * short.dry)
    assert (short.battery, short.fuel) == (row.battery, row.fuel)  # type: ignore[attr-defined]
    assert short.total == pytest.approx(short.running + short.controls + short.battery + short.fuel)


def test_several_engines_multiply_the_final_total() -> None:
    (row,) = engine_weights(90.0 * HORSEPOWER_KW)
    assert outfit_lb(row, 2) == 2.0 * row.total == 1256.0
    assert row.dry_kg == pytest.approx(439.0 * POUND_KG)
    assert row.total_kg == pytest.approx(628.0 * POUND_KG)
