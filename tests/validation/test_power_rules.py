"""What the published values of power, load and weight rules say beyond single figures.

The figures themselves stand in ``power_load_flotation.toml``.

References
----------
33 CFR 183.53(a) and Table 183.53, text revised 1 July 2001, no later change found. Mark: read.
A boatbuilding page on horsepower, example 2. Mark: read. It prints 10 hp for 12 ft by 46 in,
    against the law's own nearest integer; it is the one published value not met.
US Coast Guard Boatbuilder's Handbook, safe loading, discussion of 183.41. Mark: read; it prints
    4.12, 4.10 and 4.09, cut and not rounded.
Outboard weights in force from 1 June 2018 (33 CFR 183.75). Mark: read in a reprint.
"""

from __future__ import annotations

import pytest

from rigfit.rigging.load_rules import (
    ENGINE_WEIGHTS,
    list_test_capacity,
    persons_capacity,
    persons_quotient,
    whole_persons,
)
from rigfit.rigging.power_rules import factor_ft2, horsepower_183_53
from rigfit.units import FOOT_MM, INCH_MM


def hp(factor: float, *, flat: bool = False) -> float:
    result = horsepower_183_53(factor, is_remote=False, transom_mm=15.0 * INCH_MM, is_flat=flat)
    assert result.is_settled
    assert result.low_hp == result.high_hp
    return result.high_hp


def test_the_published_example_that_contradicts_the_law_is_not_followed() -> None:
    """12 ft by 46 in with a tiller: the page prints 10 hp, the table says 15 for a factor of 46."""
    assert hp(factor_ft2(12.0 * FOOT_MM, 46.0 * INCH_MM)) == 15.0
    assert hp(factor_ft2(12.0 * FOOT_MM, 46.0 * INCH_MM), flat=True) == 10.0


def test_the_lesser_of_list_test_and_weight_is_the_persons_capacity() -> None:
    """The handbook's second and third example: A = 545 leaves 547, A = 328 gives 546."""
    assert list_test_capacity(545.0) == pytest.approx(908.333, abs=0.001)
    assert persons_capacity(547.0, 0.0, 545.0) == 547.0
    assert persons_capacity(547.0, 0.0, 328.0) == pytest.approx(546.67, abs=0.01)
    assert persons_quotient(546.0) == pytest.approx(4.0993, abs=0.0006)
    assert whole_persons(546.0) == 4


def test_all_fourteen_rows_keep_the_tables_own_ratios() -> None:
    """Running 1.05 dry, swamped 0.85 running, and the total as the sum, each within a pound."""
    assert len(ENGINE_WEIGHTS) == 14
    for row in ENGINE_WEIGHTS:
        assert row.running == pytest.approx(1.05 * row.dry, abs=1.0)
        assert row.swamped == pytest.approx(0.85 * row.running, abs=1.0)
        parts = row.running + row.controls + row.battery + row.fuel
        assert row.total == pytest.approx(parts, abs=1.0)
