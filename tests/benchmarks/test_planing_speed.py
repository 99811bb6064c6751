"""Speed of planing: an equilibrium under 2 ms, a speed for a power not far above."""

from __future__ import annotations

from typing import Any

from rigfit.rigging.planing import WATERS, PlaningBoat, equilibrium, speed_for_power
from rigfit.rigging.wake import PlatePlace, wake_of, water_at

BOAT = PlaningBoat(1000.0, 1700.0, 15.0, 1800.0, 500.0, 0.0, 950.0)
SALT = WATERS["salt"]


def test_an_equilibrium(benchmark: Any) -> None:
    state = benchmark(equilibrium, BOAT, 28.0, SALT)
    assert 1.0 < state.trim_deg < 6.0
    assert benchmark.stats["median"] < 0.002


def test_a_speed_for_a_power(benchmark: Any) -> None:
    state = benchmark(speed_for_power, BOAT, 33.0, SALT)
    assert state.power_kw > 32.9
    assert benchmark.stats["median"] < 0.010


def test_the_surface_a_window_draws(benchmark: Any) -> None:
    from rigfit import tasks
    from rigfit.rigging import underway

    case = tasks.check(tasks.drilled_demo_job()).case

    def cold() -> object:
        underway._surface.cache_clear()
        return underway.surface_of(case)

    assert benchmark(cold) is not None
    assert benchmark.stats["median"] < 0.005


def test_all_answers_with_their_tolerances(benchmark: Any) -> None:
    from rigfit import tasks
    from rigfit.rigging import underway

    case = tasks.check(tasks.drilled_demo_job()).case

    def cold() -> object:
        underway._worked_out.cache_clear()
        return underway.underway_of(case)

    assert benchmark(cold) is not None
    assert benchmark.stats["median"] < 0.030


def test_the_water_at_eight_heights(benchmark: Any) -> None:
    state = equilibrium(BOAT, 28.0, SALT)
    wake = wake_of(state, BOAT.beam_mm, BOAT.deadrise_deg)  # type: ignore[arg-type]
    places = [PlatePlace(100.0, 580.0, 5.0 + 19.0 * k, 430.0, 165.0, 170.0) for k in range(8)]
    found = benchmark(lambda: [water_at(wake, place) for place in places])
    assert len(found) == 8
