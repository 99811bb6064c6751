"""Verdicts, limits and findings."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    deg,
    mm,
    phrase,
    worst,
)
from rigfit.units import Kind

numbers = st.floats(-1000.0, 1000.0)
tolerances = st.floats(0.0, 200.0)
verdicts = st.sampled_from(Verdict)


@st.composite
def limits(draw: st.DrawFn) -> Limits:
    """Bands with one end, two or none, inside a tolerated band that is at least as wide."""
    low, width = draw(st.none() | numbers), draw(st.floats(0.0, 500.0))
    high = draw(st.none() | (numbers if low is None else st.just(low + width)))
    outer_low = None if low is None else draw(st.none() | st.floats(low - 300.0, low))
    outer_high = None if high is None else draw(st.none() | st.floats(high, high + 300.0))
    return Limits(low, high, outer_low, outer_high)


def finding(**changes: object) -> Finding:
    return Finding(
        code=999,
        subject="boat",
        title="a question",
        verdict=Verdict.FITS,
        sentence=phrase("It fits."),
        source="geometry",
        **changes,  # type: ignore[arg-type]
    )


def test_the_verdicts_run_from_best_to_worst() -> None:
    names = [verdict.value for verdict in sorted(Verdict, key=lambda item: item.rank)]
    assert names == ["fits", "tight", "unknown", "stops"]


@given(limits(), numbers, tolerances)
def test_nothing_fits_with_a_margin_smaller_than_its_tolerance(
    band: Limits, value: float, tolerance: float
) -> None:
    if band.judge(value, tolerance) is Verdict.FITS:
        assert band.margin(value) >= tolerance


@given(numbers, st.floats(0.1, 200.0), st.floats(0.0, 0.99))
def test_a_value_inside_by_less_than_its_tolerance_is_tight(
    end: float, tolerance: float, share: float
) -> None:
    inside = share * tolerance
    assert Limits(low=end).judge(end + inside, tolerance) is Verdict.TIGHT
    assert Limits(high=end).judge(end - inside, tolerance) is Verdict.TIGHT


@given(limits(), numbers, tolerances)
def test_nothing_stops_that_its_tolerance_could_still_bring_inside(
    band: Limits, value: float, tolerance: float
) -> None:
    stops = band.judge(value, tolerance) is Verdict.STOPS
    assert stops is (band.outer_margin(value) < -tolerance)


@given(limits(), numbers, tolerances, st.floats(0.0, 100.0))
def test_a_surer_reading_keeps_every_firm_answer(
    band: Limits, value: float, tolerance: float, more: float
) -> None:
    """The looser the reading, the more verdicts go to tight; none turns from one firm to other."""
    tight, loose = band.judge(value, tolerance), band.judge(value, tolerance + more)
    assert loose in (tight, Verdict.TIGHT)


@given(limits(), numbers, tolerances)
def test_a_value_is_never_judged_unknown(band: Limits, value: float, tolerance: float) -> None:
    assert band.judge(value, tolerance) is not Verdict.UNKNOWN


@given(limits(), numbers)
def test_the_tolerated_band_is_never_the_narrower_one(band: Limits, value: float) -> None:
    assert band.outer_margin(value) >= band.margin(value)


@given(numbers, tolerances)
def test_without_any_limit_everything_fits(value: float, tolerance: float) -> None:
    assert Limits().judge(value, tolerance) is Verdict.FITS
    assert Limits().margin(value) == math.inf


@pytest.mark.parametrize(
    ("value", "tolerance", "verdict"),
    [
        (12.0, 5.0, Verdict.FITS),
        (5.0, 5.0, Verdict.FITS),
        (4.0, 5.0, Verdict.TIGHT),
        (-3.0, 0.0, Verdict.TIGHT),
        (-25.0, 0.0, Verdict.TIGHT),
        (-26.0, 0.5, Verdict.STOPS),
        (-26.0, 1.0, Verdict.TIGHT),
        (50.0, 0.0, Verdict.TIGHT),
        (51.0, 0.5, Verdict.STOPS),
    ],
)
def test_a_band_with_a_reserve_beside_it(value: float, tolerance: float, verdict: Verdict) -> None:
    assert Limits(0.0, 25.0, -25.0, 50.0).judge(value, tolerance) is verdict


@given(st.lists(verdicts, min_size=1))
def test_the_worst_verdict_wins_whatever_the_order(given_: list[Verdict]) -> None:
    found = worst(given_)
    assert found in given_
    assert found.rank == max(verdict.rank for verdict in given_)


def test_nothing_checked_is_unknown_not_fine() -> None:
    assert worst(()) is Verdict.UNKNOWN


@given(verdicts, verdicts)
def test_a_ceiling_only_ever_makes_worse(verdict: Verdict, ceiling: Verdict) -> None:
    capped = at_best(verdict, ceiling)
    assert capped.rank >= max(verdict.rank, ceiling.rank)
    assert capped in (verdict, ceiling)


@pytest.mark.parametrize(
    ("value", "low", "high", "limit"),
    [
        (12.0, 0.0, 25.0, 0.0),
        (13.0, 0.0, 25.0, 25.0),
        (-40.0, 0.0, 25.0, 0.0),
        (90.0, 0.0, 25.0, 25.0),
        (48.0, 44.0, None, 44.0),
        (48.0, None, 60.0, 60.0),
        (48.0, None, None, None),
        (None, 0.0, 25.0, 25.0),
        (None, 44.0, None, 44.0),
    ],
)
def test_the_limit_of_a_finding_is_the_one_nearest_to_its_value(
    value: float | None, low: float | None, high: float | None, limit: float | None
) -> None:
    assert finding(value=value, low=low, high=high).limit == limit


@given(numbers, numbers, st.floats(0.0, 500.0))
def test_the_margin_is_counted_from_the_limit(value: float, low: float, width: float) -> None:
    high = low + width
    limit = finding(value=value, low=low, high=high).limit
    assert limit is not None
    assert abs(value - limit) == pytest.approx(abs(Limits(low, high).margin(value)), abs=1e-9)


def test_amounts_know_their_kind_and_sign() -> None:
    assert mm(3.0, signed=True) == Amount(3.0, Kind.LENGTH, signed=True)
    assert deg(3.0) == Amount(3.0, Kind.ANGLE)


def test_the_amounts_of_a_phrase_cannot_be_changed_behind_its_back() -> None:
    amounts = {"gap": mm(4.0)}
    words = Phrase("{gap} of hook", amounts)
    amounts["gap"] = mm(9.0)
    assert words.amounts["gap"] == mm(4.0)
    with pytest.raises(TypeError):
        words.amounts["gap"] = mm(9.0)  # type: ignore[index]
