"""Two-way means, slip, fuel a mile, and trials held against each other."""

from __future__ import annotations

from dataclasses import replace

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.findings import Amount
from rigfit.rigging.readings import Origin
from rigfit.rigging.sea_trial import (
    UNSEEN_CURRENT_KN,
    counted,
    curve,
    differences,
    gains,
    held_against,
    litres_a_mile,
    slip_of,
    trial_log,
    two_way,
    unsaid,
)
from rigfit.rigging.tolerance import expanded, half_width
from rigfit.rigging.trial_fields import Run
from tests.builders import CATALOGUE, reading
from tests.rigging.trials import NEW, OLD, case, job, log_of, runs, trial

SPEEDS = st.floats(0.5, 60.0)
SPREADS = st.floats(0.0, 2.0)


@given(SPEEDS, SPREADS, SPEEDS, SPREADS)
def test_the_mean_of_two_ways_does_not_depend_on_which_was_first(a, s, b, t) -> None:
    assert two_way(reading(a, s), reading(b, t)) == two_way(reading(b, t), reading(a, s))


@given(st.floats(3.0, 50.0), st.floats(-2.5, 2.5))
def test_a_steady_current_cancels(speed: float, current: float) -> None:
    """Over the ground she makes speed + current there and speed - current back."""
    found = two_way(reading(speed + current, 0.3), reading(speed - current, 0.3))
    assert found is not None
    assert found.value == pytest.approx(speed, rel=1e-12)
    assert found.drift == pytest.approx(abs(current), abs=1e-12)


def test_a_mean_is_better_known_than_each_way_and_one_way_much_worse() -> None:
    both, one = two_way(reading(20.0, 0.3), reading(20.0, 0.3)), two_way(reading(20.0, 0.3), None)
    assert both is not None
    assert one is not None
    # GUM: the mean of two readings has 1 / sqrt 2 of the uncertainty of one.
    assert both.tolerance == pytest.approx(expanded(0.3) / 2.0**0.5)
    assert one.tolerance == pytest.approx(expanded(0.3, UNSEEN_CURRENT_KN))
    assert (both.both_ways, one.both_ways) == (True, False)
    assert two_way(None, None) is None


@given(st.floats(0.0, 10.0))
def test_a_half_width_gives_its_expanded_uncertainty_back(tolerance: float) -> None:
    assert expanded(half_width(tolerance)) == pytest.approx(tolerance)


def test_slip_of_the_published_case() -> None:
    """check_values E-slip: 5500 rpm, 2.0:1, 17 in, 33 kn: 14.2 % (definition)."""
    found = slip_of(reading(33.0), reading(5500.0), reading(17.0 * 25.4), reading(2.0))
    assert found.value == pytest.approx(0.142195, rel=1e-3)


@pytest.mark.parametrize(
    ("rpm", "mph", "low", "high"),
    [
        # An owner's logged figures for a 15 in propeller as quoted in a public thread (read; the
        # gear ratio 1.92 was worked out from them): 24.17 mph where 25.89 would be without slip,
        # 6.6 %; 14 % at 3000 rpm; 6 to 10 % between 3500 and 5600.
        (25.89 * 1056.0 * 1.92 / 15.0, 24.17, 0.0660, 0.0670),
        (3000.0, (1.0 - 0.14) * 3000.0 * 15.0 / 1.92 / 1056.0, 0.139, 0.141),
        (5600.0, (1.0 - 0.08) * 5600.0 * 15.0 / 1.92 / 1056.0, 0.06, 0.10),
    ],
)
def test_slips_of_a_public_data_set(rpm: float, mph: float, low: float, high: float) -> None:
    knots = mph * 1609.344 / 1852.0
    found = slip_of(reading(knots), reading(rpm), reading(15.0 * 25.4), reading(1.92))
    assert low <= found.value <= high


def test_fuel_a_mile_against_a_library_of_units() -> None:
    units = pint.UnitRegistry()
    flow, speed = 21.8 * units.liter / units.hour, 29.0 * units.knot
    wanted = (flow / speed).to("liter / nautical_mile").magnitude
    assert litres_a_mile(reading(21.8), reading(29.0)).value == pytest.approx(wanted, rel=1e-12)


# ------------------------------------------------------------------ the log


def test_every_run_is_in_its_trial_slowest_first_and_none_is_lost() -> None:
    log = log_of(case(trial("T1"), trial("T2"), log=(*reversed(runs()), *runs(OLD, "T2"))))
    assert [len(item.runs) for item in log.trials] == [len(NEW), len(OLD)]
    assert [run.rpm.value for run in log.trials[0].runs] == [point[0] for point in NEW]
    assert log.lost == ()
    assert log.trials[0].wot is not None
    assert log.trials[0].wot.rpm.value == 5700.0


def test_what_cannot_be_used_is_named() -> None:
    odd = (*runs()[:1], *runs(key="T9")[:1], replace(runs()[0], rpm=None))
    log = trial_log(job(trial(), trial(), trial("T3", engine="Z"), log=odd), CATALOGUE)
    said = [f"{item.what}: {item.why}" for item in log.lost]
    assert said == [
        "trial T1: another trial has the same id",
        'run 2: there is no trial "T9"',
        "run 3: it has no engine speed",
        'engine of trial T3: there is no engine "Z"',
    ]


def test_trials_are_in_order_of_date_where_all_dates_can_be_read() -> None:
    late, early = trial("T1", date="2026-06-01"), trial("T2", date="2026-05-01")
    log = log_of(case(late, early, log=runs()))
    assert [item.trial.id for item in log.trials] == ["T2", "T1"]
    odd = replace(early, date="in spring")
    assert [item.trial.id for item in log_of(case(late, odd, log=runs())).trials] == ["T1", "T2"]


@pytest.mark.parametrize("typed", ["16/5/2026", "2026-13-45", "nan", "spring"])
def test_a_date_that_cannot_be_read_is_named(typed: str) -> None:
    log = trial_log(job(trial("T1", date=typed), trial("T2"), log=runs()), CATALOGUE)
    alone = trial_log(job(trial("T1", date=typed), log=runs()), CATALOGUE)
    assert alone.lost == ()
    said = [f"{item.what}: {item.why}" for item in log.lost if item.what.startswith("date")]
    assert len(said) == 1
    assert typed in said[0]
    assert "like 2026-05-16" in said[0]


def test_a_speed_of_nought_under_power_is_named_and_at_rest_is_not() -> None:
    points = ((700.0, 0.0, 0.0, None), (4000.0, 0.0, 0.0, None), (4500.0, 0.0, 5.0, None))
    said = [f"{item.what}: {item.why}" for item in log_of(case(trial(), log=runs(points))).lost]
    assert len(said) == 1
    assert said[0].startswith("speed of run 2: it is 0 under power")


def test_gear_and_band_are_of_the_trial_then_the_engine_then_its_class() -> None:
    bare = trial(gear_ratio=None, wot_low=None, wot_high=None)
    own = {"engine__gear_ratio": reading(2.15), "engine__wot_low": reading(5200.0),
           "engine__wot_high": reading(5800.0)}  # fmt: skip
    trial_s = log_of(case()).trials[0]
    engine_s = log_of(case(bare, log=runs(), **own)).trials[0]
    class_s = log_of(case(bare, log=runs())).trials[0]
    gears = [item.gear.value for item in (trial_s, engine_s, class_s) if item.gear]
    assert gears == [2.0, 2.15, 2.1]
    bands = [(item.band.low, item.band.high) for item in (trial_s, engine_s, class_s) if item.band]
    assert bands == [(5000.0, 6000.0), (5200.0, 5800.0), (5000.0, 6000.0)]
    assert class_s.band_origin is Origin.CLASS
    assert class_s.gear is not None
    assert class_s.gear.origin is Origin.CLASS
    old = log_of(case(replace(bare, engine="old"), log=runs())).trials[0]
    assert (old.gear, old.band) == (None, None)


def test_a_run_without_speed_pitch_or_flow_has_no_result_made_up_for_it() -> None:
    points = ((3000, None, None, 9.0), (4000, 20.0, 20.0, None))
    log = log_of(case(trial(pitch=None), log=runs(points)))
    first, second = log.trials[0].runs
    assert (first.speed, first.slip, first.per_mile) == (None, None, None)
    assert second.speed is not None
    assert (second.slip, second.per_mile) == (None, None)


def test_a_slip_below_nought_counts_against_the_pitch_only_beyond_its_tolerance() -> None:
    """5000 rpm, 17 in, 2.0:1 is 34.97 kn of pitch speed, by definition."""
    points = ((5000, 35.0, 35.1, None), (5001, 37.0, 37.0, None))
    little, much = log_of(case(trial(), log=runs(points))).trials[0].runs
    assert little.slip is not None
    assert little.slip.value < 0.0
    assert (little.is_against_pitch, much.is_against_pitch) == (False, True)


def test_the_mass_of_a_run_comes_before_that_of_its_trial() -> None:
    heavy = tuple(replace(run, mass_aboard=reading(330.0)) for run in runs()[:1])
    found = log_of(case(trial(), log=(*heavy, *runs()[1:]))).trials[0].runs
    assert [run.mass.value for run in found[:2] if run.mass] == [330.0, 240.0]


# ------------------------------------------------------------------ between trials


def pair(**changes: object):
    """Two trials that differ in what is given only."""
    log = log_of(case(trial(), trial("T2", **changes), log=(*runs(), *runs(key="T2"))))
    return log.trials[0], log.trials[1]


@pytest.mark.parametrize(
    ("changes", "names"),
    [
        ({}, []),
        ({"row": 3}, ["bolt row"]),
        ({"pitch": reading(381.0)}, ["pitch"]),
        ({"pitch": reading(381.0), "row": 3}, ["bolt row", "pitch"]),
        ({"mass_aboard": reading(330.0)}, ["mass aboard"]),
        ({"mass_aboard": reading(245.0)}, []),
        ({"wind": reading(15.0)}, ["wind"]),
        ({"water": "chop"}, ["state of the water"]),
        ({"speed_from": "paddle wheel"}, ["where speed was read"]),
        ({"engine": "old"}, ["engine"]),
        ({"propeller": "steel"}, []),  # the other trial does not say
    ],
)
def test_differences_are_named(changes: dict[str, object], names: list[str]) -> None:
    assert [item.name for item in differences(*pair(**changes))] == names


def test_differences_know_changes_from_the_day() -> None:
    found = differences(*pair(row=3, wind=reading(15.0)))
    assert [item.is_change for item in found] == [True, False]
    assert found[1].before == Amount(6.0, found[1].after.kind)  # type: ignore[union-attr]


def test_another_engine_brings_its_propeller_along() -> None:
    found = differences(*pair(engine="old", pitch=reading(381.0)))
    assert [item.name for item in counted(found)] == ["engine"]


def test_what_is_not_said_could_differ() -> None:
    assert unsaid(*pair(row=None, mass_aboard=None)) == ("height of the engine", "mass aboard")


def test_gains_are_told_only_where_both_trials_ran() -> None:
    faster = tuple((rpm + 250.0, a + 1.0, b + 1.0, f) for rpm, a, b, f in NEW if a and b)
    log = log_of(case(trial(), trial("T2"), log=(*runs(), *runs(faster, "T2"))))
    found = gains(log.trials[0], log.trials[1])
    assert [gain.rpm for gain in found] == [rpm + 250.0 for rpm, *_ in NEW[:-1]]
    same = gains(log.trials[0], log.trials[0])
    assert [gain.gain for gain in same] == pytest.approx([0.0] * len(NEW))
    assert not any(gain.is_clear for gain in same)


def test_runs_at_one_engine_speed_are_averaged_in_the_curve() -> None:
    points = ((3000, 14.0, 14.0, None), (3000, 16.0, 16.0, None))
    (point,) = curve(log_of(case(trial(), log=runs(points))).trials[0])
    assert point[:2] == (3000.0, 15.0)


def test_what_was_expected_is_held_against_what_was_measured() -> None:
    kept = trial(expected_speed=reading(33.0, 1.0), expected_rpm=reading(5000.0, 100.0))
    speed, rpm = held_against(log_of(case(kept, log=runs())).trials[0])
    assert (speed.kind, speed.measured, speed.agrees) == ("speed", 32.5, True)
    assert (rpm.kind, rpm.measured, rpm.agrees) == ("engine speed", 5700.0, False)
    assert held_against(log_of(case()).trials[0]) == ()


def test_a_run_is_only_full_throttle_where_somebody_says_so() -> None:
    quiet = tuple(replace(run, full_throttle="not said") for run in runs())
    assert log_of(case(trial(), log=quiet)).trials[0].wot is None
    assert Run().full_throttle == "not said"
