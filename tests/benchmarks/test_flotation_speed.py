"""How long flotation takes: an equilibrium, a curve of sixty points, a whole check."""

from rigfit.rigging.afloat import Flotation, _worked_out, flotation_of
from rigfit.rigging.checks_flotation import check_flotation
from rigfit.rigging.flotation import Load, equilibrium
from rigfit.rigging.hull_form import few_measures_form
from rigfit.rigging.margins import margin_curve
from tests.rigging.afloat_jobs import FEW, afloat_case

EQUILIBRIUM_MS = 5.0
CURVE_MS = 150.0


def median_ms(benchmark):
    return 1000.0 * benchmark.stats.stats.median


def test_an_equilibrium_from_nothing(benchmark):
    form = few_measures_form(FEW)
    state = benchmark(equilibrium, form, Load(700.0, 2000.0, 400.0, 20.0), 1.025)
    assert state.gm_mm > 0.0
    assert median_ms(benchmark) < EQUILIBRIUM_MS


def test_a_curve_of_sixty_points(benchmark):
    flotation = flotation_of(afloat_case())
    assert isinstance(flotation, Flotation)
    curve = benchmark(margin_curve, flotation)
    assert len(curve) == 60
    assert median_ms(benchmark) < CURVE_MS


def test_a_check_that_nobody_asked_before(benchmark):
    case = afloat_case()

    def fresh():
        _worked_out.cache_clear()
        return check_flotation(case)

    findings = benchmark(fresh)
    assert findings
