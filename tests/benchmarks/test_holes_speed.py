"""How long the search among very many old holes takes. Run on its own with --benchmark-only."""

import random

import pytest

from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hole_fit import hole_fit
from rigfit.rigging.hole_reuse import reuse_choices
from rigfit.rigging.mounting_options import height_options
from tests.builders import CATALOGUE, PLATE, bracket_job, case_of, sample_job
from tests.rigging.holes import old

MANY = 10_000
LIMIT_S = 1.0


def crowd(wide, high, sizes):
    """Return very many old holes strewn over a part of the transom."""
    chance = random.Random(4)  # noqa: S311 - a repeatable crowd, no secret
    return tuple(
        old(chance.uniform(-wide, wide), chance.uniform(0.0, high), chance.choice(sizes))
        for _ in range(MANY)
    )


CROWDS = {
    "all over": (360.0, 518.0, (13.5,)),
    "where the bolts go": (200.0, 300.0, (13.5,)),
    "of all sizes": (360.0, 518.0, (3.0, 8.0, 13.5, 14.0, 32.0, 90.0)),
}


@pytest.mark.parametrize("name", CROWDS)
def test_searching_ten_thousand_holes_over_all_heights(name, benchmark):
    case = case_of(sample_job(holes=crowd(*CROWDS[name])))
    options = height_options(case)
    found = benchmark.pedantic(reuse_choices, args=(case, options), rounds=3)
    benchmark.extra_info |= {"choices": len(found), "most": len(found[0].reused)}
    assert benchmark.stats.stats.median < LIMIT_S


def test_searching_ten_thousand_holes_over_every_setting_of_a_bracket(benchmark):
    case = case_of(bracket_job(PLATE, holes=crowd(*CROWDS["all over"])))
    options = height_options(case)
    benchmark.pedantic(reuse_choices, args=(case, options), rounds=3)
    benchmark.extra_info["heights"] = len(options)
    assert benchmark.stats.stats.median < LIMIT_S


def test_fitting_one_pattern_among_ten_thousand_holes(benchmark):
    case = case_of(sample_job(holes=crowd(*CROWDS["all over"])))
    fit = benchmark(hole_fit, case)
    assert len(fit.old.holes) == MANY


def test_a_whole_check_of_a_few_holes_stays_quick(benchmark):
    holes = (old(-163.5, 48.0), old(163.5, 48.0), old(-125.5, 251.0), old(125.5, 251.0))
    bare, drilled = sample_job(), sample_job(holes=holes)
    report = benchmark(fit_check, drilled, CATALOGUE)
    assert len(report.reuse[0].reused) == len(holes)
    assert fit_check(bare, CATALOGUE).reuse == ()
