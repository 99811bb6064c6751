"""Power rules: bands and edges of 33 CFR 183.53, what the text leaves open, scope, countries."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.load_fields import COUNTRIES
from rigfit.rigging.power_rules import (
    COUNTRY_RULES,
    EDGE_FACTOR,
    HALF_FACTOR,
    LOWEST_BAND,
    TRANSOM_MM,
    RuleInputs,
    RuleResult,
    horsepower_183_53,
    raised_hp,
    trial_route,
    us_power,
)
from rigfit.sources import SOURCES
from rigfit.units import FOOT_MM, HORSEPOWER_KW, INCH_MM
from tests.builders import reading

FACTORS = st.floats(0.0, 200.0)
HEIGHTS = st.floats(200.0, 800.0)
ANSWERS = st.booleans()


def gives(
    factor: float, *, remote: bool = False, tall: bool = True, flat: bool = False
) -> RuleResult:
    height = TRANSOM_MM if tall else TRANSOM_MM - 1.0
    return horsepower_183_53(factor, is_remote=remote, transom_mm=height, is_flat=flat)


def boat(**changes: object) -> RuleInputs:
    """Return a monohull of 5.2 by 1.85 m, remote steering, 20 1/2 in, vee bottom, all exact."""
    plain = RuleInputs(
        length=reading(5200.0),
        transom_width=reading(1850.0),
        beam=reading(2050.0),
        transom_height=reading(520.7),
        is_remote=True,
        is_flat=False,
        craft="monohull",
        power_kw=60.0,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


# ------------------------------------------------------------------ the text, band by band


@given(FACTORS, ANSWERS, ANSWERS, ANSWERS)
def test_nothing_is_given_twice_where_the_text_settles_it(
    factor: float, remote: bool, tall: bool, flat: bool
) -> None:
    result = gives(factor, remote=remote, tall=tall, flat=flat)
    assert result.low_hp <= result.high_hp
    assert result.is_settled == (not result.unsettled)
    if result.is_settled:
        assert result.low_hp == result.high_hp


@given(FACTORS, FACTORS, ANSWERS, ANSWERS, ANSWERS)
def test_a_larger_hull_is_never_given_less(
    one: float, other: float, remote: bool, tall: bool, flat: bool
) -> None:
    small, large = sorted((one, other))
    less = gives(small, remote=remote, tall=tall, flat=flat)
    more = gives(large, remote=remote, tall=tall, flat=flat)
    assert less.low_hp <= more.low_hp
    assert less.high_hp <= more.high_hp


@given(FACTORS, ANSWERS, ANSWERS)
def test_a_flat_bottom_is_never_given_more(factor: float, remote: bool, tall: bool) -> None:
    flat = gives(factor, remote=remote, tall=tall, flat=True)
    plain = gives(factor, remote=remote, tall=tall)
    assert flat.low_hp <= plain.low_hp
    assert flat.high_hp <= plain.high_hp


@given(st.floats(52.6, 300.0))
def test_what_a_line_gives_is_the_next_multiple_of_five(factor: float) -> None:
    result = gives(factor, remote=True)
    assert result.raw_hp is not None
    assert math.remainder(result.high_hp, 5.0) == pytest.approx(0.0, abs=1e-9)
    assert result.raw_hp - 1e-6 <= result.high_hp < result.raw_hp + 5.0


@given(st.integers(0, 400))
def test_a_multiple_of_five_is_not_raised(fives: int) -> None:
    assert raised_hp(5.0 * fives) == 5.0 * fives


@pytest.mark.parametrize(
    ("remote", "tall", "raw"),
    [(True, True, 70.0), (True, False, 39.0), (False, True, 39.0), (False, False, 39.0)],
)
def test_the_higher_line_takes_both_remote_steering_and_twenty_inches(
    remote: bool, tall: bool, raw: float
) -> None:
    assert gives(80.0, remote=remote, tall=tall).raw_hp == pytest.approx(raw)


def test_the_flat_line_gives_way_to_the_higher_one() -> None:
    """The text parts hulls by their bottom only without remote steering or twenty inches."""
    assert gives(80.0, remote=True, flat=True).raw_hp == pytest.approx(70.0)
    assert gives(80.0, flat=True).raw_hp == pytest.approx(25.0)


@pytest.mark.parametrize(
    ("factor", "plain", "flat"),
    [(38.0, 5.0, 3.0), (41.0, 7.5, 5.0), (44.0, 10.0, 7.5), (50.0, 15.0, 10.0), (52.3, 15.0, 10.0)],
)
def test_a_flat_bottom_drops_one_step_of_the_table(
    factor: float, plain: float, flat: float
) -> None:
    assert gives(factor).high_hp == plain
    assert gives(factor, flat=True).high_hp == flat


# ------------------------------------------------------------------ what the text leaves open


@pytest.mark.parametrize("factor", [35.5, 39.5, 42.5, 45.5])
def test_a_half_between_two_bands_is_shown_both_ways(factor: float) -> None:
    result = gives(factor)
    assert result.unsettled == (HALF_FACTOR,)
    assert (result.low_hp, result.high_hp) == (
        gives(factor - 0.1).low_hp,
        gives(factor + 0.1).low_hp,
    )


def test_a_half_inside_a_band_needs_no_remark() -> None:
    assert gives(20.5).is_settled


@pytest.mark.parametrize(
    ("remote", "flat", "low", "high"),
    [(True, False, 15.0, 15.0), (False, False, 15.0, 20.0), (False, True, 10.0, 15.0)],
)
def test_a_factor_of_52_and_a_half_is_neither_in_table_nor_on_a_line(
    remote: bool, flat: bool, low: float, high: float
) -> None:
    result = gives(52.5, remote=remote, flat=flat)
    assert EDGE_FACTOR in result.unsettled
    assert (result.low_hp, result.high_hp) == (low, high)


def test_a_flat_bottom_in_the_lowest_band_is_left_open() -> None:
    result = gives(30.0, flat=True)
    assert result.unsettled == (LOWEST_BAND,)
    assert (result.low_hp, result.high_hp) == (0.0, 3.0)


# ------------------------------------------------------------------ the rule for a boat


def test_a_boat_with_every_answer_gets_one_figure() -> None:
    answer = us_power(boat())
    # 5200 x 1850 mm is 103.55 sq ft; 2 F - 90 = 117.1, raised to 120 hp.
    assert answer.low_kw == answer.high_kw == pytest.approx(120.0 * HORSEPOWER_KW)
    assert answer.raw_kw == pytest.approx(117.1 * HORSEPOWER_KW, abs=0.02)
    assert answer.open_fields == answer.missing == answer.unsettled == ()
    assert answer.used == (
        "boat.length", "rules.transom_width", "rules.remote_steering", "rules.transom_height",
    )  # fmt: skip


@given(st.floats(0.0, 40.0), st.floats(0.0, 20.0), st.floats(0.0, 10.0))
def test_a_wider_tolerance_never_narrows_what_is_given(
    length: float, width: float, height: float
) -> None:
    exact = us_power(boat())
    loose = us_power(
        boat(
            length=reading(5200.0, length),
            transom_width=reading(1850.0, width),
            transom_height=reading(520.7, height),
        )
    )
    assert loose.low_kw is not None and loose.high_kw is not None
    assert exact.low_kw is not None and exact.high_kw is not None
    assert loose.low_kw <= exact.low_kw <= exact.high_kw <= loose.high_kw


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"is_remote": None}, "rules.remote_steering"),
        ({"transom_height": None}, "rules.transom_height"),
        ({"transom_height": reading(508.0, 3.0)}, "rules.transom_height"),
        ({"is_remote": False, "is_flat": None}, "rules.flat_bottom_hard_chine"),
    ],
)
def test_an_open_answer_is_named_and_spans_both_readings(
    change: dict[str, object], field: str
) -> None:
    answer = us_power(boat(**change))
    assert field in answer.open_fields
    assert answer.low_kw is not None and answer.high_kw is not None
    assert answer.low_kw < answer.high_kw


def test_an_answer_that_changes_nothing_is_not_asked_for() -> None:
    """With the higher line the bottom is of no account; with a tiller the height is not."""
    assert us_power(boat(is_flat=None)).open_fields == ()
    assert us_power(boat(is_remote=False, transom_height=None)).open_fields == ()


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"length": None}, ("boat.length",)),
        ({"transom_width": None}, ("rules.transom_width",)),
        ({"length": None, "transom_width": None}, ("boat.length", "rules.transom_width")),
        ({"transom_width": reading(900.0)}, ("rules.aft_quarter_beam",)),
    ],
)
def test_without_a_reading_nothing_is_given(
    change: dict[str, object], missing: tuple[str, ...]
) -> None:
    answer = us_power(boat(**change))
    assert not answer.is_known
    assert answer.missing == missing


def test_a_narrow_transom_gives_way_to_the_beam_of_the_aftermost_quarter() -> None:
    narrow = us_power(boat(transom_width=reading(900.0), aft_quarter_beam=reading(1850.0)))
    assert narrow.high_kw == us_power(boat()).high_kw
    assert "rules.aft_quarter_beam" in narrow.used


def test_a_transom_of_exactly_half_the_beam_is_not_a_full_one() -> None:
    """183.3: it must exceed one half."""
    assert us_power(boat(transom_width=reading(1025.0))).missing == ("rules.aft_quarter_beam",)


def test_a_full_transom_that_was_not_proved_is_said_to_be_taken_for_one() -> None:
    assert any("full transom" in note for note in us_power(boat(beam=None)).notes)
    assert not any("full transom" in note for note in us_power(boat()).notes)


def test_a_height_that_stands_in_is_said_to() -> None:
    answer = us_power(boat(height_fields=("transom.height_square",)))
    assert "transom.height_square" in answer.used
    assert any("stands in" in note for note in answer.notes)


@pytest.mark.parametrize(
    "change",
    [
        {"craft": "inflatable"},
        {"craft": "multihull"},
        {"craft": "sailboat"},
        {"craft": "canoe or kayak"},
        {"length": reading(20.0 * FOOT_MM)},
        {"power_kw": 2.0 * HORSEPOWER_KW},
    ],
)
def test_beyond_its_scope_the_rule_gives_nothing_and_says_why(change: dict[str, object]) -> None:
    answer = us_power(boat(**change))
    assert not answer.is_known
    assert "183.53" in answer.out_of_scope


def test_just_inside_its_scope_the_rule_gives_something() -> None:
    long = us_power(boat(length=reading(20.0 * FOOT_MM - 1.0)))
    assert long.is_known
    assert us_power(boat(length=reading(20.0 * FOOT_MM - 1.0, 20.0))).notes != long.notes


# ------------------------------------------------------------------ the test of 183.53(b)

SMALL = {
    "length": reading(13.0 * FOOT_MM),
    "transom_height": reading(19.0 * INCH_MM),
    "persons": 2,
}


def test_a_small_boat_that_meets_every_condition_may_be_tested() -> None:
    assert trial_route(boat(**SMALL)).is_open is True


@pytest.mark.parametrize(
    "change",
    [
        {"length": reading(13.1 * FOOT_MM)},
        {"is_remote": False},
        {"transom_height": reading(14.9 * INCH_MM)},
        {"transom_height": reading(16.0 * INCH_MM), "motorwell_height": reading(18.0 * INCH_MM)},
        {"persons": 3},
    ],
)
def test_one_condition_not_met_closes_the_test(change: dict[str, object]) -> None:
    route = trial_route(boat(**{**SMALL, **change}))
    assert route.is_open is False
    assert len(route.fails) == 1


def test_a_low_transom_with_a_high_motor_well_may_be_tested() -> None:
    low = {"transom_height": reading(15.0 * INCH_MM), "motorwell_height": reading(19.0 * INCH_MM)}
    assert trial_route(boat(**{**SMALL, **low})).is_open is True


@pytest.mark.parametrize(
    ("change", "asks"),
    [
        ({"persons": None}, ("plate.max_persons",)),
        ({"transom_height": reading(16.0 * INCH_MM)}, ("rules.motorwell_height",)),
        ({"transom_height": None}, ("rules.transom_height",)),
    ],
)
def test_an_unknown_condition_is_asked_for(
    change: dict[str, object], asks: tuple[str, ...]
) -> None:
    route = trial_route(boat(**{**SMALL, **change}))
    assert (route.is_open, route.asks) == (None, asks)


# ------------------------------------------------------------------ countries


def test_every_country_a_job_can_name_has_a_rule_or_somebody_to_ask() -> None:
    assert set(COUNTRY_RULES) == set(COUNTRIES)
    for rule in COUNTRY_RULES.values():
        assert rule.source in SOURCES
        assert rule.ask.endswith(".")
        assert rule.edition and rule.scope


def test_only_a_rule_that_was_read_gives_numbers() -> None:
    assert [rule.country for rule in COUNTRY_RULES.values() if rule.gives] == ["US"]
