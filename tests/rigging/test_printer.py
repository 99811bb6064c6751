"""The printer's check bars: what is confirmed, what is refused, and finding 309."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.bolting_fields import PrinterCheck
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.printer import BarState, bars_of, judge_bars, within
from rigfit.rigging.readings import Origin
from rigfit.wording import say, shown
from tests.builders import CATALOGUE, CLAMPED, reading, sample_job

anything = st.none() | st.floats() | st.floats(40.0, 160.0) | st.floats(99.0, 101.0)


def finding(paper="", across=None, along=None, **changes):
    """Return finding 309 of the sample job with a printer, or None."""
    job = sample_job(printer=PrinterCheck(paper, across, along), **changes)
    found = [f for f in fit_check(job, CATALOGUE).findings if f.code == 309]
    return found[0] if found else None


def words(found):
    style = shown(sample_job().units)
    settle = say(found.settle, style) if found.settle else ""
    return f"{say(found.sentence, style)} {settle}"


@given(anything, anything)
def test_any_two_numbers_get_a_verdict_in_a_sentence(across, along):
    bars = judge_bars(across, along, 327.0)
    assert bars.sentence.endswith(".")
    assert bars.sentence[0].isupper() or bars.sentence[0].isdigit() or bars.sentence[0] in "-I"
    assert (bars.hint == "") is (bars.state is BarState.CONFIRMED)


@given(st.floats(40.0, 160.0), st.floats(40.0, 160.0))
def test_only_two_bars_within_half_a_millimetre_are_confirmed(across, along):
    near = all(99.5 - 1e-9 <= value <= 100.5 + 1e-9 for value in (across, along))
    assert (judge_bars(across, along).state is BarState.CONFIRMED) is near


@given(st.floats(81.0, 124.0), st.floats(81.0, 124.0))
def test_the_correction_brings_both_bars_to_100(across, along):
    bars = judge_bars(across, along)
    if bars.state is BarState.OFF:
        assert bars.factors is not None
        assert bars.factors[0] * across == pytest.approx(100.0)
        assert bars.factors[1] * along == pytest.approx(100.0)
    else:
        assert bars.factors is None


@pytest.mark.parametrize("value", [50.0, 25.4, 0.0, -100.0, 150.1, 1000.0, math.nan, math.inf])
def test_what_cannot_be_a_100_mm_bar_is_a_measuring_mistake(value):
    for pair in ((value, 100.0), (100.0, value), (value, None), (value, 97.0)):
        bars = judge_bars(*pair)
        assert bars.state is BarState.MISTAKEN
        assert "is not a reading of a bar drawn 100 mm long" in bars.sentence
        assert "100 mm" in bars.hint
        assert bars.factors is None


@pytest.mark.parametrize(
    ("pair", "factors"), [((97.0, None), None), ((70.0, 100.0), None), ((140.0, 140.0), None),
                          ((80.0, 125.0), (1.25, 0.8))]
)  # fmt: skip
def test_a_correction_needs_both_bars_and_has_its_limits(pair, factors):
    assert judge_bars(*pair).factors == (factors and pytest.approx(factors))


@pytest.mark.parametrize(("value", "near"), [(99.5, True), (100.5, True), (99.49, False)])
def test_half_a_millimetre_itself_is_within(value, near):
    assert within(value) is near


@pytest.mark.parametrize(
    ("bar", "cause"),
    [
        (97.0, "fit to page"),
        (94.07, "A4 file shrunk to fit Letter"),
        (85.52, "printer set to Letter"),
        (91.46, "wide margins"),
        (106.3, "enlarged"),
        (99.2, "feed"),
        (88.5, "scale setting"),
    ],
)
def test_the_likely_cause_is_named(bar, cause):
    assert cause in judge_bars(bar, bar).hint


def test_unlike_directions_are_no_fit_to_page():
    hint = judge_bars(97.0, 100.0).hint
    assert "two directions differ" in hint
    assert "fit to page" not in hint


def test_what_is_off_is_said_in_percent_and_over_the_pattern():
    bars = judge_bars(97.0, 102.0, 327.0)
    # 327 mm x 3 % = 9.81 mm; 327 mm x 2 % = 6.54 mm
    assert "97.0 % of full size, 9.8 mm too narrow over 327 mm" in bars.sentence
    assert "102.0 % of full size, 6.5 mm too wide over 327 mm" in bars.sentence


def test_bars_of_another_paper_prove_nothing():
    printer = PrinterCheck("A4", reading(100.0, 0.25), reading(97.0, 0.25))
    assert bars_of(printer, "A4").state is BarState.OFF
    assert bars_of(printer, "Letter").state is BarState.MISSING
    unsaid = PrinterCheck("", reading(100.0, 0.25), reading(100.0, 0.25))
    assert bars_of(unsaid, "Letter").state is BarState.CONFIRMED


# ---------------------------------------------------------------- finding 309


def test_there_is_no_finding_before_anybody_prints():
    assert finding() is None


@pytest.mark.parametrize(
    ("across", "along", "verdict", "said"),
    [
        (None, None, Verdict.UNKNOWN, "Neither check bar is measured yet"),
        (100.0, None, Verdict.UNKNOWN, "The bar along the sheet is not measured yet"),
        (None, 100.0, Verdict.UNKNOWN, "The bar across the sheet is not measured yet"),
        (100.1, 99.8, Verdict.FITS, "Both bars are within 0.5 mm"),
        (100.4, 99.8, Verdict.TIGHT, "Both bars are within 0.5 mm"),
        (97.0, 100.0, Verdict.TIGHT, "9.8 mm too narrow over 327 mm"),
        (97.0, None, Verdict.TIGHT, "97.0 % of full size"),
        (51.0, 50.0, Verdict.UNKNOWN, "50 mm for the bar along the sheet is not a reading"),
    ],
)
def test_the_printed_template(across, along, verdict, said):
    bars = [None if value is None else reading(value, 0.25) for value in (across, along)]
    found = finding("A4", *bars)
    assert found.verdict is verdict
    assert said in words(found)
    assert found.needs == ("printer.bar_across", "printer.bar_along")
    assert (found.settle is None) is said.startswith("Both bars")


def test_the_worse_bar_is_the_one_judged():
    found = finding("", reading(100.2, 0.1), reading(99.6, 0.25))
    assert (found.value, found.tolerance) == (99.6, 0.25)
    assert found.margin == pytest.approx(0.1)


def test_bars_nobody_measured_never_fit():
    soft = reading(100.0, 0.0, Origin.DEFAULT)
    assert finding("A4", soft, soft).verdict is Verdict.TIGHT


def test_an_engine_without_a_pattern_gets_its_printer_judged_too():
    found = finding("A4", reading(97.0, 0.25), reading(97.0, 0.25), engine__engine_class=CLAMPED)
    assert found.verdict is Verdict.TIGHT
    assert "97.0 % of full size" in words(found)
