"""Published values for runs: listed currents, voltage drop, areas of gauges, lengths of cables."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from rigfit.rigging.runs import (
    TABLE_5,
    area_mm2,
    cable_rules,
    circular_mils,
    drop_share,
    engine_space_a,
    gauge_for_drop,
    least_mils,
    listed_a,
    needed_mils,
    stocked_feet,
)
from rigfit.rigging.runs_fields import (
    AWG,
    CONTROL,
    INSULATION_DEG,
    ON_TRANSOM,
    STEERING,
    THROUGH_TUBE,
)
from rigfit.units import FOOT_MM, INCH_MM

TABLE_CASES = {
    "A-ampacity-AWG12": ("12", (25, 25, 35, 40, 45, 50, 55)),
    "A-ampacity-AWG8": ("8", (55, 65, 70, 70, 80, 90, 100)),
    "A-ampacity-AWG4": ("4", (105, 125, 130, 135, 160, 170, 180)),
    "A-ampacity-AWG1": ("1", (165, 195, 210, 210, 245, 265, 280)),
    "A-ampacity-AWG0": ("0", (195, 230, 245, 245, 285, 305, 325)),
    "A-ampacity-AWG000": ("000", (260, 310, 330, 330, 385, 410, 430)),
    "A-ampacity-AWG0000": ("0000", (300, 360, 385, 385, 445, 475, 510)),
}
"""33 CFR 183.425, Table 5, amperes at 30 °C for 60, 75, 80, 90, 105, 125, 200 °C (read)."""


@pytest.mark.parametrize("case", TABLE_CASES)
def test_listed_currents(case: str) -> None:
    gauge, wanted = TABLE_CASES[case]
    assert tuple(listed_a(gauge, rating) for rating in (60, 75, 80, 90, 105, 125, 200)) == wanted


def test_what_the_table_lacks_is_refused() -> None:
    with pytest.raises(KeyError):
        listed_a("5", 75)
    with pytest.raises(ValueError):
        listed_a("12", 70)


def test_thicker_conductors_and_hotter_insulation_carry_no_less() -> None:
    rows = [TABLE_5[gauge] for gauge in AWG]
    assert all(a < b for thin, thick in pairwise(rows)
               for a, b in zip(thin, thick, strict=True))  # fmt: skip
    assert all(list(row) == sorted(row) for row in rows)
    assert all(len(row) == len(INSULATION_DEG) for row in rows)


def test_engine_spaces_at_105_degrees() -> None:
    """A dealer's table for E-11, 105 °C inside engine spaces, 18 to 4/0 (read)."""
    wanted = (17, 21, 30, 38, 51, 68, 102, 136, 153, 178, 208, 242, 280, 327, 378)
    for gauge, listed in zip(AWG, wanted, strict=True):
        found = engine_space_a(gauge, 105)
        assert found is not None
        assert found == pytest.approx(listed, abs=1.0)
    assert engine_space_a("12", 75) is None


AREAS_CM = (
    1624, 2583, 4107, 6530, 10383, 16510, 26251, 41741, 52635, 66371, 83693, 105535, 133077,
    167806, 211600,
)  # fmt: skip
"""AWG by its definition (ASTM B258 steps of the 39th root of 92), 18 to 4/0; 3 recalled."""


@pytest.mark.parametrize(("gauge", "mils"), list(zip(AWG, AREAS_CM, strict=True)))
def test_areas_of_gauges(gauge: str, mils: int) -> None:
    assert circular_mils(gauge) == pytest.approx(mils, abs=2.0)


def test_areas_in_square_millimetres() -> None:
    """Handbook figures from memory: AWG 10 is 5.26 mm2, AWG 4/0 is 107.2 mm2."""
    assert area_mm2("10") == pytest.approx(5.26, abs=0.01)
    assert area_mm2("0000") == pytest.approx(107.2, abs=0.1)


def test_the_worked_voltage_drop() -> None:
    """E-11 example as dealers print it (read): 10 A, 11 + 10 ft, 12 V: 3 % 6,271 CM, 10 % 1,881."""
    way = 10.5 * FOOT_MM
    assert needed_mils(way, 10.0, 12.0, 0.03) == pytest.approx(6271.0, abs=0.5)
    assert needed_mils(way, 10.0, 12.0, 0.10) == pytest.approx(1881.0, abs=0.5)
    # AWG 12 has 6,530 CM, but SAE 12 only 5,833: the next one is taken.
    assert gauge_for_drop(way, 10.0, 12.0, 0.03) == "10"
    assert gauge_for_drop(way, 10.0, 12.0, 0.10) == "16"


def test_two_more_worked_voltage_drops() -> None:
    """An electrical maker's page (read), out and back in all: 24 V, 3 %, 10 ft, 100 A is AWG 6.

    By AWG's areas the drop alone gives 8, and the page takes 6 for the current; 12 V, 10 %, 40 ft,
    45 A is its 8, which boat cable of 14,810 circular mils misses.
    """
    assert circular_mils("8") > needed_mils(5.0 * FOOT_MM, 100.0, 24.0, 0.03) > circular_mils("10")
    assert gauge_for_drop(5.0 * FOOT_MM, 100.0, 24.0, 0.03) == "6"
    assert circular_mils("8") > needed_mils(20.0 * FOOT_MM, 45.0, 12.0, 0.10) > least_mils("8")


def test_drop_is_ohms_law_with_copper() -> None:
    """Resistance of annealed copper, 1.724e-8 ohm m at 20 °C (IEC 60028, from memory).

    K of 10.75 is that at 25 to 30 °C: 3.7 % more, 0.393 % for each degree.
    """
    length, current, volts = 4.0, 20.0, 12.0
    ohms = 1.724e-8 * 2.0 * length / (area_mm2("10") * 1e-6)
    found = drop_share(circular_mils("10"), length * 1000.0, current, volts)
    warmer = found * volts / (current * ohms)
    assert 20.0 + (warmer - 1.0) / 0.00393 == pytest.approx(29.0, abs=2.0)


def test_boat_cable_is_never_taken_thicker_than_its_gauge() -> None:
    assert all(least_mils(gauge) <= circular_mils(gauge) for gauge in AWG)
    assert least_mils("12") == 5833


def test_nothing_keeps_within_a_drop_of_nothing() -> None:
    assert gauge_for_drop(50_000.0, 500.0, 12.0, 0.03) is None


def test_the_worked_steering_cable_in_inches() -> None:
    """A maker's example (read): 20 + 104 + 28 in, two bends, tilt tube: 150 in, 13 ft."""
    first, _ = cable_rules(STEERING, 152.0 * INCH_MM, 2, THROUGH_TUBE)
    assert first.length_mm / INCH_MM == pytest.approx(150.0)
    assert first.feet == 13


def test_the_worked_steering_cable_in_centimetres() -> None:
    """Another maker's example (read): 100 + 200 + 60 cm, two bends, tilt tube: 370.5 cm, 13 ft."""
    _, second = cable_rules(STEERING, 3600.0, 2, THROUGH_TUBE)
    assert second.length_mm == pytest.approx(3705.0)
    assert second.feet == 13


def test_a_mount_on_the_transom_takes_a_foot_less_than_a_tilt_tube() -> None:
    """6 in less in place of 6 in more (read)."""
    tube, _ = cable_rules(STEERING, 3600.0, 2, THROUGH_TUBE)
    mount, _ = cable_rules(STEERING, 3600.0, 2, ON_TRANSOM)
    assert tube.length_mm - mount.length_mm == pytest.approx(FOOT_MM)


def test_a_control_cable_has_its_way_and_slack() -> None:
    """A + B and 3 ft (two rules read), 4 ft or 600 mm (one each), up to the next foot."""
    rules = cable_rules(CONTROL, 10.0 * FOOT_MM, 5, "")
    assert [rule.feet for rule in rules] == [12, 13, 14]
    assert stocked_feet(rules, 0.0) == (12, 13, 14)


def test_the_tolerance_of_the_way_can_take_the_next_foot() -> None:
    rules = cable_rules(STEERING, 152.0 * INCH_MM, 2, THROUGH_TUBE)
    assert stocked_feet(rules[:1], 10.0) == (13,)
    assert stocked_feet(rules[:1], 7.0 * INCH_MM) == (12, 13, 14)
    assert math.isclose(rules[0].length_mm, 150.0 * INCH_MM)
