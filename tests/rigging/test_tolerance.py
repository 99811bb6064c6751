"""Propagation of tolerances, against a package made for it and against its own definition.

Method: JCGM 100:2008 (GUM), 4.3.7 rectangular distribution, 5.1.2 combination in quadrature,
from memory. Independent check: the ``uncertainties`` package, which differentiates by itself.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from rigfit.rigging.bracket import Arms
from rigfit.rigging.plate_height import Rig
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import COVERAGE, estimate, exact, standard_uncertainty
from tests.builders import reading

STATED_RAKE = 12.0

LIMITS = {
    "height": (st.floats(350.0, 800.0), st.floats(0.1, 10.0)),
    "rake": (st.floats(2.0, 25.0), st.floats(0.1, 2.0)),
    "leg": (st.floats(381.0, 762.0), st.floats(0.1, 25.0)),
    "lift": (st.floats(0.0, 100.0), st.floats(0.1, 5.0)),
    "setback": (st.floats(0.0, 700.0), st.floats(0.1, 60.0)),
    "axis_out": (st.floats(-60.0, 60.0), st.floats(0.1, 40.0)),
    "axis_up": (st.floats(0.0, 120.0), st.floats(0.1, 40.0)),
}
readings = st.fixed_dictionaries(
    {name: st.builds(Reading, values, tols) for name, (values, tols) in LIMITS.items()}
)


def plate(values: Mapping[str, float]) -> float:
    return Rig(
        height_face_mm=values["height"],
        rake_deg=values["rake"],
        leg_mm=values["leg"],
        lift_mm=values["lift"],
        setback_mm=values["setback"],
        arms=Arms.SQUARE,
        axis_out_mm=values["axis_out"],
        axis_up_mm=values["axis_up"],
        leg_rake_deg=STATED_RAKE,
    ).plate_height_mm()


def plate_by_uncertainties(found: Mapping[str, Reading]) -> tuple[float, float]:
    """The same equation written out with numbers that carry their standard deviation."""
    value = {
        name: ufloat(item.value, item.tolerance / math.sqrt(3.0)) for name, item in found.items()
    }
    rake, stated = value["rake"] * (math.pi / 180.0), math.radians(STATED_RAKE)
    height = (
        (value["height"] + value["lift"]) * umath.cos(rake)
        - value["setback"] * umath.sin(rake)
        - value["leg"]
        + value["axis_up"] * (umath.cos(rake) - math.cos(stated))
        - value["axis_out"] * (umath.sin(rake) - math.sin(stated))
    )
    return height.nominal_value, 2.0 * height.std_dev


@given(readings)
def test_the_plate_and_its_tolerance_are_those_of_the_uncertainties_package(
    found: dict[str, Reading],
) -> None:
    ours, (value, expanded) = estimate(plate, found), plate_by_uncertainties(found)
    assert ours.value == pytest.approx(value, abs=1e-9)
    # Differences over +/- u instead of a derivative: for a sine over 2 deg / sqrt(3) they are less
    # than u^2 / 6 = 7e-5 apart, by the series of the sine.
    assert ours.tolerance == pytest.approx(expanded, rel=7e-5)


@given(st.lists(st.tuples(st.floats(-9.0, 9.0), st.floats(0.0, 30.0)), min_size=1, max_size=6))
def test_independent_terms_combine_in_quadrature(terms: list[tuple[float, float]]) -> None:
    weights = {f"x{index}": weight for index, (weight, _) in enumerate(terms)}
    found = estimate(
        lambda values: math.fsum(weights[name] * values[name] for name in weights),
        {f"x{index}": reading(100.0, tol) for index, (_, tol) in enumerate(terms)},
    )
    expected = 2.0 * math.sqrt(math.fsum((w * a) ** 2 for w, a in terms) / 3.0)
    assert found.tolerance == pytest.approx(expected, rel=1e-9, abs=1e-9)


@given(st.floats(0.0, 100.0))
def test_one_reading_comes_back_with_twice_its_standard_uncertainty(tol: float) -> None:
    found = estimate(lambda values: values["x"], {"x": reading(508.0, tol)})
    assert found.tolerance == pytest.approx(2.0 * tol / math.sqrt(3.0), abs=1e-9)


# GUM 4.3.7: for limits +/- a, u = a / sqrt(3); k = 2 by 6.3.3 (both from memory).
@pytest.mark.parametrize(("limit", "u"), [(0.0, 0.0), (3.0, 1.7320508), (1.0, 0.5773503)])
def test_a_rectangular_distribution_has_the_published_uncertainty(limit: float, u: float) -> None:
    assert standard_uncertainty(limit) == pytest.approx(u, abs=5e-8)


def test_every_reported_tolerance_uses_k_of_two() -> None:
    assert COVERAGE == 2.0


@given(readings)
def test_without_any_tolerance_the_result_has_none(found: dict[str, Reading]) -> None:
    bare = estimate(plate, {name: exact(item.value) for name, item in found.items()})
    assert bare.tolerance == 0.0
    assert [share.spread for share in bare.shares] == [0.0] * len(found)


@given(readings)
def test_the_shares_add_up_to_the_tolerance_in_the_order_given(found: dict[str, Reading]) -> None:
    ours = estimate(plate, found)
    assert [share.name for share in ours.shares] == list(found)
    assert math.hypot(*(share.spread for share in ours.shares)) == pytest.approx(ours.tolerance)


@given(readings)
def test_a_share_carries_the_sign_of_its_effect(found: dict[str, Reading]) -> None:
    spread = {share.name: share.spread for share in estimate(plate, found).shares}
    assert spread["leg"] < 0.0 < spread["height"]
    assert spread["leg"] == pytest.approx(-2.0 * found["leg"].tolerance / math.sqrt(3.0))


@pytest.mark.parametrize("name", sorted(LIMITS))
@given(found=readings, wider=st.floats(1.0, 3.0))
def test_a_wider_reading_never_makes_the_result_surer(
    name: str, found: dict[str, Reading], wider: float
) -> None:
    item = found[name]
    loose = {**found, name: Reading(item.value, wider * item.tolerance)}
    slack = 1e-9  # mm, rounding of the square root of a sum
    assert estimate(plate, loose).tolerance >= estimate(plate, found).tolerance - slack


def test_stand_ins_are_named_with_the_largest_first() -> None:
    found = estimate(
        lambda values: values["a"] + values["b"] + values["c"],
        {
            "a": reading(1.0, 1.0, Origin.CLASS),
            "b": reading(1.0, 9.0),
            "c": reading(1.0, 5.0, Origin.DEFAULT),
        },
    )
    assert [share.name for share in found.stand_ins] == ["c", "a"]


@pytest.mark.parametrize("origin", list(Origin))
def test_only_what_is_measured_or_chosen_is_firm(origin: Origin) -> None:
    found = estimate(lambda values: values["x"], {"x": reading(1.0, 1.0, origin)})
    assert found.is_firm("x") is (origin in (Origin.MEASURED, Origin.CHOSEN))
    assert found.is_firm("another name")


@given(st.floats(-500.0, 500.0))
def test_moving_a_reading_keeps_all_else(by: float) -> None:
    moved = reading(500.0, 3.0).moved(by)
    assert (moved.value, moved.tolerance, moved.typed) == (500.0 + by, 3.0, "500")
