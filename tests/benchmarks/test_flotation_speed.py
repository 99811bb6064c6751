"""How long flotation takes: an equilibrium, a curve of sixty points, a whole check."""

import statistics
import time

import pytest

from rigfit import tasks
from rigfit.rigging.afloat import Flotation, _worked_out, flotation_of
from rigfit.rigging.checks_flotation import check_flotation
from rigfit.rigging.flotation import Load, _cuts, _displaced, equilibrium
from rigfit.rigging.hull_form import _cut_anew, few_measures_form
from rigfit.rigging.margins import margin_curve
from tests.rigging.afloat_jobs import FEW, afloat_case
from tests.rigging.test_float_arrays import chained

EQUILIBRIUM_MS = 5.0
CURVE_MS = 150.0
CURVE_RATIO = 0.8  # all together to one after the other
AGAIN_RATIO = 0.3  # findings alone to all of it, the hull's heights being known


def forget():
    """Forget everything flotation remembers, as at the first question."""
    for remembered in (_worked_out, _displaced, _cuts, few_measures_form, _cut_anew):
        remembered.cache_clear()


def times(function, count=15):
    """Return the median time of a function that starts from nothing, in seconds."""
    taken = []
    for _ in range(count):
        forget()
        begun = time.perf_counter()
        function()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def median_ms(benchmark):
    return 1000.0 * benchmark.stats.stats.median


def test_an_equilibrium_from_nothing(benchmark):
    form = few_measures_form(FEW)

    def fresh():
        forget()
        return equilibrium(form, Load(700.0, 2000.0, 400.0, 20.0), 1.025)

    state = benchmark(fresh)
    assert state.gm_mm > 0.0
    assert median_ms(benchmark) < EQUILIBRIUM_MS


def test_a_curve_of_sixty_points(benchmark):
    flotation = flotation_of(afloat_case())
    assert isinstance(flotation, Flotation)

    def fresh():
        forget()
        return margin_curve(flotation)

    curve = benchmark(fresh)
    assert len(curve) == 60
    assert median_ms(benchmark) < CURVE_MS


@pytest.mark.parametrize("off_centre", [False, True])
def test_a_curve_at_once_against_one_after_the_other(benchmark, off_centre):
    case = tasks.check(tasks.drilled_demo_job()).case if off_centre else afloat_case()
    flotation = flotation_of(case)
    assert isinstance(flotation, Flotation)
    margin_curve(flotation)
    alone = times(lambda: chained(flotation, 300.0, 60))
    together = benchmark.pedantic(lambda: times(lambda: margin_curve(flotation)), rounds=1)
    benchmark.extra_info["ratio"] = together / alone
    print(f"\ncurve: {1000 * alone:.2f} ms one by one, {1000 * together:.2f} ms at once, "
          f"ratio {together / alone:.2f}")  # fmt: skip
    assert together / alone < CURVE_RATIO


def test_a_check_that_nobody_asked_before(benchmark):
    case = afloat_case()

    def fresh():
        forget()
        return check_flotation(case)

    findings = benchmark(fresh)
    assert findings


def test_the_findings_of_the_full_demo_once_she_is_known(benchmark):
    case = tasks.check(tasks.drilled_demo_job()).case
    whole = times(lambda: check_flotation(case))
    heights = times(lambda: flotation_of(case))
    findings = benchmark(check_flotation, case)
    print(f"\ncheck of the full demo: {1000 * whole:.2f} ms, of it {1000 * heights:.2f} ms heights")
    assert findings
    assert median_ms(benchmark) / (1000.0 * whole) < AGAIN_RATIO
