"""The form of a hull: sections from few measurements, stations and offsets, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.flotation import Plane, displaced
from rigfit.rigging.hull_form import HullForm, few_measures_form, sections_form
from tests.rigging.afloat_jobs import FEW

PLATE = ((0.0, 0.0), (800.0, 200.0), (900.0, 600.0))


def test_the_measured_places_are_where_they_were_measured() -> None:
    form = few_measures_form(FEW)
    aft, middle, bow = form.sections[0], form.sections[10], form.sections[-1]
    assert aft[0] == (0.0, 0.0)
    assert aft[1] == (FEW.chine_aft_mm / 2.0, FEW.chine_height_aft_mm)
    assert aft[-1][1] == pytest.approx(FEW.depth_aft_mm)
    assert middle[1] == pytest.approx((FEW.chine_beam_mm / 2.0, FEW.chine_height_mid_mm))
    assert middle[-1] == pytest.approx((FEW.sheer_beam_mm / 2.0, FEW.depth_mid_mm))
    assert bow[-1] == pytest.approx((0.0, FEW.depth_bow_mm), abs=1e-9)


def test_she_ends_in_a_stem_without_breadth() -> None:
    assert all(y == 0.0 for y, _ in few_measures_form(FEW).sections[-1])


@given(
    st.floats(1200.0, 2400.0),
    st.floats(0.85, 1.0),
    st.floats(1.0, 1.3),
    st.floats(1.3, 4.0),
)
def test_sheer_is_never_inside_the_chine(
    chine: float, aft: float, flare: float, fullness: float
) -> None:
    few = replace(
        FEW, chine_beam_mm=chine, chine_aft_mm=aft * chine, sheer_beam_mm=flare * chine,
        fullness=fullness,
    )  # fmt: skip
    for _, (chine_y, _), (sheer_y, _) in few_measures_form(few).sections:
        assert sheer_y >= chine_y - 1e-9 >= -1e-9


def test_a_fuller_bow_displaces_more() -> None:
    plane = Plane(300.0)
    lean = displaced(few_measures_form(replace(FEW, fullness=1.6)), plane).litres
    full = displaced(few_measures_form(replace(FEW, fullness=3.0)), plane).litres
    assert full > lean


def test_a_chine_above_the_sheer_is_refused_with_the_place() -> None:
    with pytest.raises(JobError, match="chine") as refused:
        few_measures_form(replace(FEW, depth_aft_mm=200.0))
    assert "deadrise" in refused.value.cure
    assert refused.value.where == "hull"


def test_sections_of_a_hull_cut_from_itself_give_the_same_hull() -> None:
    fine = few_measures_form(FEW, 41)
    rows = [(fine.ahead_mm(i), part) for i, part in enumerate(fine.sections)]
    again = sections_form(rows, fine.length_mm, 41)
    for one, other in zip(fine.sections, again.sections, strict=True):
        for a, b in zip(one, other, strict=True):
            assert a == pytest.approx(b, abs=1e-6)


def test_few_stations_of_a_hull_displace_nearly_the_same() -> None:
    fine = few_measures_form(FEW, 21)
    rows = [(fine.ahead_mm(i), fine.sections[i]) for i in (0, 5, 10, 14, 17, 20)]
    again = sections_form(rows, fine.length_mm)
    plane = Plane(250.0)
    assert displaced(again, plane).litres == pytest.approx(displaced(fine, plane).litres, rel=0.01)


@given(st.lists(st.floats(100.0, 1000.0), min_size=4, max_size=6))
def test_nothing_bulges_past_what_was_measured(halves: list[float]) -> None:
    rows = [
        (1000.0 * i, ((0.0, 0.0), (half, 200.0), (half + 50.0, 600.0)))
        for i, half in enumerate(halves)
    ]
    form = sections_form(rows, 1000.0 * (len(halves) - 1))
    for part in form.sections:
        assert min(halves) - 1e-6 <= part[1][0] <= max(halves) + 1e-6


def test_ahead_of_the_last_station_breadths_run_out_to_the_stem() -> None:
    form = sections_form([(0.0, PLATE), (1500.0, PLATE), (3000.0, PLATE)], 5000.0)
    assert all(y == 0.0 for y, _ in form.sections[-1])
    assert form.sections[0] == PLATE


def test_outlines_of_unlike_counts_of_points_are_brought_together() -> None:
    more = ((0.0, 0.0), (400.0, 100.0), (800.0, 200.0), (900.0, 600.0))
    form = sections_form([(0.0, PLATE), (2000.0, more), (4000.0, PLATE)], 4000.0)
    plain = sections_form([(0.0, PLATE), (2000.0, PLATE), (4000.0, PLATE)], 4000.0)
    plane = Plane(400.0)
    assert displaced(form, plane).litres == pytest.approx(displaced(plain, plane).litres)


@pytest.mark.parametrize(
    ("rows", "length", "word"),
    [
        ([(0.0, PLATE), (2000.0, PLATE)], 4000.0, "2 sections"),
        ([(0.0, PLATE), (2000.0, PLATE), (1500.0, PLATE)], 4000.0, "section 3"),
        ([(0.0, PLATE), (2000.0, PLATE), (2000.0, PLATE)], 4000.0, "section 3"),
        ([(0.0, PLATE), (2000.0, PLATE), (4500.0, PLATE)], 4000.0, "4500 mm"),
        ([(0.0, PLATE), (2000.0, PLATE[::-1]), (4000.0, PLATE)], 4000.0, "section 2"),
    ],
    ids=["too few", "out of order", "twice", "past the stem", "upside down"],
)
def test_bad_stations_are_named(rows: list, length: float, word: str) -> None:
    with pytest.raises(JobError, match=word) as refused:
        sections_form(rows, length)
    assert refused.value.where.startswith("station")


@given(st.integers(1, 8))
def test_simpson_wants_an_odd_number_of_sections(count: int) -> None:
    assume(count % 2 == 0 or count < 3)
    with pytest.raises(JobError, match="odd"):
        HullForm(4000.0, (PLATE,) * count)


def test_a_negative_half_breadth_is_refused() -> None:
    with pytest.raises(JobError, match="negative"):
        HullForm(4000.0, (((-1.0, 0.0), (800.0, 600.0)),) * 3)
