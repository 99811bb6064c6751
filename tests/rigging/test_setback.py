"""Setback: the rise of the plate with its spread, and what the setback was measured to.

Custom (common practice, no standard): 25 mm for each 300 mm of setback to the seat; the writers
spread from 20 to 35 mm.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.bracket import Arms
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin
from tests.builders import (
    CATALOGUE,
    PLATE,
    POD,
    STEPPED,
    bracket_job,
    case_of,
    reading,
    sample_job,
    without,
)

setbacks = st.floats(0.0, 1500.0)
kinds = st.sampled_from((PLATE, STEPPED, POD))


def custom_job(setback: float = 150.0, kind: str = PLATE) -> Job:
    return bracket_job(kind, bracket__setback=reading(setback, 3.0), target__setback_rise=None)


@given(setbacks, kinds)
def test_the_rise_follows_custom_and_its_spread(setback: float, kind: str) -> None:
    rise = case_of(custom_job(setback, kind=kind)).rise
    per_300 = [value * 300.0 for value in (rise.low_mm, rise.mid_mm, rise.high_mm)]
    assert per_300 == pytest.approx([20.0 * setback, 25.0 * setback, 35.0 * setback], abs=1e-6)
    assert rise.source == "setback-custom"


@given(setbacks, st.floats(0.0, 150.0))
def test_the_owners_own_rise_takes_the_place_of_custom(setback: float, own: float) -> None:
    job = bracket_job(
        bracket__setback=reading(setback, 3.0),
        target__setback_rise=reading(own, 0.0, Origin.CHOSEN),
    )
    rise = case_of(job).rise
    assert (rise.low_mm, rise.mid_mm, rise.high_mm, rise.source) == (own, own, own, "job")


@given(st.floats(0.0, 150.0))
def test_without_a_bracket_there_is_no_setback_and_no_rise(own: float) -> None:
    case = case_of(sample_job(target__setback_rise=reading(own, 0.0, Origin.CHOSEN)))
    assert (case.setback.value, case.rise.mid_mm) == (0.0, 0.0)


@given(setbacks)
def test_the_target_moves_up_by_the_rise(setback: float) -> None:
    case = case_of(custom_job(setback))
    assert case.band is not None
    found = case.band.low_mm, case.band.high_mm
    assert found == pytest.approx((case.rise.mid_mm, 25.0 + case.rise.mid_mm), abs=1e-9)


@given(setbacks)
def test_only_heights_inside_the_band_at_both_ends_of_the_spread_can_fit(setback: float) -> None:
    case = case_of(custom_job(setback))
    assert case.band is not None
    limits = case.band.limits
    assert limits.low == pytest.approx(0.0 + case.rise.high_mm, abs=1e-9)
    assert limits.high == pytest.approx(25.0 + case.rise.low_mm, abs=1e-9)


def test_custom_alone_never_fits() -> None:
    finding = fit_check(custom_job(), CATALOGUE).finding(230)
    assert finding.verdict is Verdict.TIGHT


def test_an_own_rise_behind_a_measured_setback_fits() -> None:
    assert fit_check(bracket_job(), CATALOGUE).finding(230).verdict is Verdict.FITS


def test_a_setback_measured_to_the_seat_is_used_as_it_is() -> None:
    job = bracket_job()
    assert case_of(job).setback is job.bracket.setback
    assert fit_check(job, CATALOGUE).finding(231).verdict is Verdict.FITS


@pytest.mark.parametrize("code", [220, 231])
def test_a_setback_to_nobody_knows_what_is_unknown(code: int) -> None:
    report = fit_check(bracket_job(bracket__measured_to="not said"), CATALOGUE)
    assert report.finding(code).verdict is Verdict.UNKNOWN


@given(kinds, setbacks)
def test_a_setback_to_nobody_knows_what_makes_no_height_fit(kind: str, setback: float) -> None:
    job = bracket_job(kind, bracket__measured_to="not said", bracket__setback=reading(setback, 3.0))
    verdicts = {option.verdict for option in fit_check(job, CATALOGUE).options}
    assert verdicts <= {Verdict.UNKNOWN, Verdict.STOPS}


@given(setbacks)
def test_a_setback_to_the_propeller_is_reduced_by_the_distance_of_the_class(
    setback: float,
) -> None:
    case = case_of(
        bracket_job(bracket__measured_to="propeller", bracket__setback=reading(setback, 3.0))
    )
    aft = case.engine.sizes.propeller_aft
    assert case.setback.value == pytest.approx(max(0.0, setback - aft), abs=1e-9)
    assert case.setback.tolerance > 3.0
    assert not case.setback.origin.is_firm


@given(st.floats(430.0, 1500.0), kinds)
def test_a_setback_to_the_propeller_never_fits(setback: float, kind: str) -> None:
    job = bracket_job(
        kind, bracket__measured_to="propeller", bracket__setback=reading(setback, 3.0)
    )
    report = fit_check(job, CATALOGUE)
    assert report.finding(231).verdict is Verdict.TIGHT
    assert Verdict.FITS not in {option.verdict for option in report.options}


@pytest.mark.parametrize("code", [230, 231])
def test_a_setback_nobody_measured_is_the_brackets_and_tight(code: int) -> None:
    job = without(bracket_job(), "bracket.setback")
    assert case_of(job).setback.value == 150.0
    assert fit_check(job, CATALOGUE).finding(code).verdict is Verdict.TIGHT


@pytest.mark.parametrize("code", [230, 231])
def test_without_a_bracket_nothing_is_asked_about_setback(code: int) -> None:
    with pytest.raises(KeyError):
        fit_check(sample_job(), CATALOGUE).finding(code)


@pytest.mark.parametrize(
    ("kind", "said", "arms"),
    [
        (PLATE, "as its profile", Arms.SQUARE),
        (POD, "as its profile", Arms.LEVEL),
        (PLATE, "level", Arms.LEVEL),
        (POD, "square", Arms.SQUARE),
    ],
)
def test_the_job_may_say_which_way_the_arms_run(kind: str, said: str, arms: Arms) -> None:
    assert case_of(bracket_job(kind, bracket__direction=said)).arms is arms


@pytest.mark.parametrize("kind", [PLATE, STEPPED, POD])
def test_the_settings_of_a_bracket_run_from_its_lowest_to_its_highest(kind: str) -> None:
    bracket = CATALOGUE.bracket(kind)
    settings = bracket.settings_mm()
    assert settings[0] == 0.0
    assert settings[-1] == pytest.approx(bracket.travel_mm, abs=1e-9)


def test_a_stepped_bracket_has_the_settings_of_its_holes() -> None:
    # 3/4 in from hole to hole (common practice, no standard).
    settings = CATALOGUE.bracket(STEPPED).settings_mm()
    assert settings == pytest.approx([0.0, 19.05, 38.1, 57.15, 76.2], abs=1e-9)
