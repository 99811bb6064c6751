"""Power, load and weight rules against published values, each with its source and mark.

References
----------
33 CFR 183.53(a) and Table 183.53, text revised 1 July 2001, no later change found. Mark: read.
A boatbuilding page on horsepower, examples 1 and 2. Mark: read. Example 2 (12 ft by 46 in) prints
    10 hp, against the law's own nearest integer; it is the one published value not met.
Wis. Adm. Code NR 5.12, table 2 note, which spells out the raising to fives. Mark: read.
US Coast Guard Boatbuilder's Handbook, safe loading, discussion of 183.41. Mark: read; it prints
    4.12, 4.10 and 4.09, cut and not rounded.
33 CFR 183.41(b) rounding, 183.35 fifth, numbers invented for the test. Mark: read (the rule).
Canadian study guide for compliance notices. Mark: read.
US boating-course rule, length times beam over 15. Mark: read.
Outboard weights in force from 1 June 2018 (33 CFR 183.75). Mark: read in a reprint.
Metric form of the lines: 1 hp = 0.745699872 kW, 1 sq ft = 0.09290304 m2. Mark: definition.
"""

from __future__ import annotations

from dataclasses import astuple

import pytest

from rigfit.rigging.load_rules import (
    ENGINE_WEIGHTS,
    engine_weights,
    list_test_capacity,
    persons_by_size,
    persons_capacity,
    persons_of_gross_load,
    persons_quotient,
    weight_capacity,
    whole_persons,
)
from rigfit.rigging.power_rules import (
    FLAT,
    PLAIN,
    REMOTE,
    factor_ft2,
    horsepower_183_53,
    raised_hp,
)
from rigfit.units import FOOT_MM, HORSEPOWER_KW, INCH_MM


def hp(factor: float, inches: float = 15.0, *, remote: bool = False, flat: bool = False) -> float:
    result = horsepower_183_53(factor, is_remote=remote, transom_mm=inches * INCH_MM, is_flat=flat)
    assert result.is_settled
    assert result.low_hp == result.high_hp
    return result.high_hp


# Check values A-hp-table-0 to -52, tolerance 0 (read).
@pytest.mark.parametrize(
    ("factor", "expected"),
    [
        (0.0, 3.0),
        (35.0, 3.0),
        (36.0, 5.0),
        (39.0, 5.0),
        (40.0, 7.5),
        (43.0, 10.0),
        (45.0, 10.0),
        (46.0, 15.0),
        (52.0, 15.0),
    ],
)
def test_the_table_of_183_53(factor: float, expected: float) -> None:
    assert hp(factor) == expected


# Check values A-hp-formula-*, tolerance 0.01 (rule read, numbers of three worked out).
@pytest.mark.parametrize(
    ("factor", "inches", "raw", "expected"),
    [
        (52.6, 20.0, 15.2, 20.0),
        (60.0, 19.9, 23.0, 25.0),
        (60.0, 20.0, 30.0, 30.0),
        (136.5, 20.0, 183.0, 185.0),
    ],
)
def test_the_lines_of_183_53_with_remote_steering(
    factor: float, inches: float, raw: float, expected: float
) -> None:
    result = horsepower_183_53(factor, is_remote=True, transom_mm=inches * INCH_MM, is_flat=False)
    assert result.raw_hp == pytest.approx(raw, abs=0.01)
    assert result.high_hp == result.low_hp == expected


# A-hp-formula-remote-136.5 (published example 1, read) and -5.4m-1.9m (worked out).
@pytest.mark.parametrize(
    ("length_ft", "width_ft", "factor", "raw", "expected"),
    [(19.5, 7.0, 136.5, 183.0, 185.0), (17.7165, 6.2336, 110.438, 130.88, 135.0)],
)
def test_the_factor_is_length_times_width_in_feet(
    length_ft: float, width_ft: float, factor: float, raw: float, expected: float
) -> None:
    found = factor_ft2(length_ft * FOOT_MM, width_ft * FOOT_MM)
    assert found == pytest.approx(factor, abs=0.01)
    result = horsepower_183_53(found, is_remote=True, transom_mm=508.0, is_flat=False)
    assert result.raw_hp == pytest.approx(raw, abs=0.01)
    assert result.high_hp == expected


def test_the_published_example_that_contradicts_the_law_is_not_followed() -> None:
    """12 ft by 46 in with a tiller: the page prints 10 hp, the table says 15 for a factor of 46."""
    assert hp(factor_ft2(12.0 * FOOT_MM, 46.0 * INCH_MM)) == 15.0
    assert hp(factor_ft2(12.0 * FOOT_MM, 46.0 * INCH_MM), flat=True) == 10.0


# A-hp-round-21 to -30, tolerance 0 (read).
@pytest.mark.parametrize(
    ("raw", "expected"),
    [(21.0, 25.0), (24.0, 25.0), (25.0, 25.0), (26.0, 30.0), (29.0, 30.0), (30.0, 30.0)],
)
def test_the_raising_to_fives(raw: float, expected: float) -> None:
    assert raised_hp(raw) == expected


# A-metric-conversion, tolerance 0.0005 (definition).
@pytest.mark.parametrize(
    ("line", "slope", "offset"),
    [(REMOTE, 16.0533, 67.113), (PLAIN, 6.42132, 18.6425), (FLAT, 4.01332, 11.1855)],
)
def test_the_lines_in_kilowatts_and_square_metres(
    line: object, slope: float, offset: float
) -> None:
    assert line.slope_kw_m2 == pytest.approx(slope, abs=0.0005)  # type: ignore[attr-defined]
    assert line.offset_kw == pytest.approx(offset, abs=0.0005)  # type: ignore[attr-defined]


# A-persons-550, -547 (read), -half-38.4, -half-38.5, -half-320.5 (rule read).
@pytest.mark.parametrize(
    ("capacity", "quotient", "persons"),
    [
        (550.0, 4.1277, 4),
        (547.0, 4.1064, 4),
        (546.0, 4.0993, 4),
        (38.4, None, 0),
        (38.5, None, 1),
        (320.5, None, 3),
    ],
)
def test_whole_persons_of_183_41(capacity: float, quotient: float | None, persons: int) -> None:
    assert whole_persons(capacity) == persons
    if quotient is not None:
        assert persons_quotient(capacity) == pytest.approx(quotient, abs=0.0006)


def test_the_list_test_of_183_41() -> None:
    """A-persons-test-545 (read): A/0.6 = 908.33; the lesser of 547 and that is 547."""
    assert list_test_capacity(545.0) == pytest.approx(908.33, abs=0.5)
    assert persons_capacity(547.0, 0.0, 545.0) == 547.0
    # The handbook's third example: A = 328 gives 546, less than 547.
    assert persons_capacity(547.0, 0.0, 328.0) == pytest.approx(546.67, abs=0.01)


def test_the_fifth_of_183_35() -> None:
    """A-weightcap (rule read, numbers invented)."""
    assert weight_capacity(5000.0, 1500.0) == pytest.approx(700.0, abs=0.01)


def test_the_persons_of_canadas_study_guide() -> None:
    """A-canada-persons (read)."""
    assert persons_of_gross_load(578.0, 228.0, 50.0) == 4


def test_the_owners_rule_of_boating_courses() -> None:
    """A-owner-rule (read): 18 ft by 6 ft gives 7."""
    assert persons_by_size(18.0 * FOOT_MM, 6.0 * FOOT_MM) == 7


# A-engine-weights-*, tolerance 0 (read in a reprint).
@pytest.mark.parametrize(
    "row",
    [
        (0.1, 2.0, 30, 32, 27, 0, 0, 0, 0, 32),
        (35.0, 64.9, 286, 300, 255, 14, 45, 25, 100, 459),
        (95.0, 104.9, 458, 481, 409, 23, 45, 25, 100, 649),
        (105.0, 144.9, 526, 552, 469, 26, 45, 25, 100, 723),
        (145.0, 194.9, 561, 589, 501, 28, 45, 25, 100, 762),
        (195.0, 209.9, 652, 685, 582, 33, 45, 25, 100, 863),
        (210.0, 300.0, 699, 734, 624, 35, 45, 25, 100, 914),
    ],
)
def test_the_outboard_weights_of_183_75(row: tuple[float, ...]) -> None:
    for hp_in_row in row[:2]:
        (found,) = engine_weights(hp_in_row * HORSEPOWER_KW)
        assert astuple(found) == row


def test_all_fourteen_rows_keep_the_tables_own_ratios() -> None:
    """Running 1.05 dry, swamped 0.85 running, and the total as the sum, each within a pound."""
    assert len(ENGINE_WEIGHTS) == 14
    for row in ENGINE_WEIGHTS:
        assert row.running == pytest.approx(1.05 * row.dry, abs=1.0)
        assert row.swamped == pytest.approx(0.85 * row.running, abs=1.0)
        parts = row.running + row.controls + row.battery + row.fuel
        assert row.total == pytest.approx(parts, abs=1.0)
