"""Which old holes could serve: the search is exact, keeps its limits and shows a trade-off."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.case import Case
from rigfit.rigging.drilling import UPPER_EDGE_MIN_MM, drilling_choices
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hole_fit import HoleGrid, Relation, bolt_of, fit_one, new_holes, old_holes
from rigfit.rigging.hole_reuse import PLATE_SAME_MM, SHIFT_MOST_MM, ReuseChoice, reuse_choices
from rigfit.rigging.job import ExistingHole, Job
from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.transom_map import Neighbour
from rigfit.rigging.transom_outline import transom_outline
from tests.builders import (
    CATALOGUE,
    CLAMPED,
    PLATE,
    STEPPED,
    bracket_job,
    case_of,
    reading,
    sample_job,
)
from tests.rigging.holes import HALVES, hole_jobs, mirrored, no_go, old, opening, patterned


def choices(job: Job) -> tuple[ReuseChoice, ...]:
    case = case_of(job)
    return reuse_choices(case, height_options(case))


def relations(case: Case, upper: float, shift: float) -> list[Relation]:
    """Return what becomes of every new hole at a place, by the same rules as the hole fit."""
    off = case.job.mounting.off_centre
    centre = (off.value if off else 0.0) + shift
    grid = HoleGrid(old_holes(case.job.holes)[0])
    rule, outline = CATALOGUE.hole_rule(), transom_outline(case.job, None)
    found = []
    for item in new_holes(case, reading(upper), centre):
        fitted = fit_one(item, grid, (), outline, rule, bolt_of(case))
        kinds = [relation.relation for relation in fitted.against("hole")]
        order = (Relation.SERVES, Relation.SLOT, Relation.BREAKS, Relation.NEAR)
        found.append(next((kind for kind in order if kind in kinds), Relation.CLEAR))
    return found


def test_holes_just_where_they_are_wanted_all_serve() -> None:
    best = choices(sample_job(holes=patterned()))[0]
    assert (best.reused, best.damage, best.shift_mm) == ((1, 2, 3, 4), 0, 0.0)
    assert best.upper_below_top_mm == pytest.approx(48.0)
    assert best.row == 2
    assert best.plate_verdict is Verdict.FITS


@given(st.floats(-SHIFT_MOST_MM, SHIFT_MOST_MM), st.floats(0.0, 40.0))
def test_a_pattern_anywhere_in_reach_is_found_whole(shift: float, down: float) -> None:
    best = choices(sample_job(holes=patterned(shift, down)))[0]
    assert len(best.reused) == 4
    assert best.shift_mm == pytest.approx(shift, abs=0.81)
    assert best.upper_below_top_mm == pytest.approx(48.0 + down, abs=0.81)


@pytest.mark.parametrize("shift", [SHIFT_MOST_MM + 1.0, -SHIFT_MOST_MM - 1.0, 60.0])
def test_a_pattern_beyond_the_limit_of_moves_is_not_reused(shift: float) -> None:
    assert all(item.reused == () for item in choices(sample_job(holes=patterned(shift))))


def test_upper_holes_too_near_the_top_are_not_reused() -> None:
    found = choices(sample_job(holes=patterned(0.0, -10.0)))
    assert all(len(item.reused) < 4 for item in found)
    assert all(item.upper_below_top_mm >= UPPER_EDGE_MIN_MM for item in found)


def test_a_pattern_a_little_narrower_is_met_half_way() -> None:
    """327 and 325.6 mm: exactly on one hole the other is 1.4 mm off, from the middle both pass."""
    holes = (old(-162.8, 48.0), old(162.8, 48.0))
    job = sample_job(holes=tuple(replace(item, across=item.across.moved(3.0)) for item in holes))  # type: ignore[union-attr]
    best = choices(job)[0]
    assert best.reused == (1, 2)
    assert best.shift_mm == pytest.approx(3.0, abs=1e-6)


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(HALVES),
            st.floats(-1.6, 1.6),
            st.floats(-1.6, 1.6),
            st.sampled_from((13.5, 13.5, 14.2)),
        ),
        min_size=1,
        max_size=5,
    )
)
def test_no_finer_grid_finds_a_place_that_serves_more(
    spots: list[tuple[tuple[float, float], float, float, float]],
) -> None:
    holes = tuple(old(x + dx, y + dy + 2.0, size) for (x, y), dx, dy, size in spots)
    case = case_of(sample_job(holes=holes))
    best = max(len(item.reused) for item in reuse_choices(case, height_options(case)))
    steps = [0.2 * step for step in range(-13, 14)]
    brute = max(
        relations(case, 50.0 + down, shift).count(Relation.SERVES)
        for shift, down in itertools.product(steps, steps)
    )
    assert best >= brute


@settings(max_examples=80)
@given(hole_jobs())
def test_each_choice_counts_what_the_hole_fit_finds_there(job: Job) -> None:
    case = case_of(replace(job, openings=()))
    for item in reuse_choices(case, height_options(case)):
        found = relations(case, item.upper_below_top_mm, item.shift_mm)
        assert len(item.reused) == found.count(Relation.SERVES)
        assert item.broken == found.count(Relation.BREAKS)
        assert item.too_near == found.count(Relation.NEAR)


@settings(max_examples=80)
@given(hole_jobs())
def test_every_choice_keeps_the_limits_and_none_is_beaten_by_another(job: Job) -> None:
    found = choices(job)
    for item in found:
        assert abs(item.shift_mm) <= SHIFT_MOST_MM
        assert item.upper_below_top_mm >= UPPER_EDGE_MIN_MM
        assert 1 <= item.row <= 4
        assert item.verdict.rank >= item.plate_verdict.rank
    for one, other in itertools.permutations(found, 2):
        assert one.off_target_mm is not None
        assert other.off_target_mm is not None
        # Centring the bolts in their holes moves the plate by a millimetre at most.
        nearer = abs(one.off_target_mm) + PLATE_SAME_MM - 1.0 <= abs(other.off_target_mm)
        assert (len(one.reused), one.damage) != (len(other.reused), other.damage)
        as_good = len(one.reused) >= len(other.reused) and one.damage <= other.damage
        assert not (nearer and as_good)


@settings(max_examples=60)
@given(hole_jobs())
def test_a_mirrored_boat_has_the_mirrored_trade_off(job: Job) -> None:
    def key(item: ReuseChoice) -> tuple[object, ...]:
        return len(item.reused), item.damage, item.row

    here, there = choices(job), choices(mirrored(job))
    assert sorted(map(key, here)) == sorted(map(key, there))


@pytest.mark.parametrize("row", [1, 2, 3, 4])
def test_the_plate_of_a_choice_is_that_of_its_row_with_those_holes(row: int) -> None:
    down = 19.0 * (row - 2)
    if 48.0 + down < UPPER_EDGE_MIN_MM:
        down = 0.0
    job = sample_job(holes=patterned(0.0, down))
    best = choices(job)[0]
    there = fit_check(
        sample_job(mounting__upper_holes_below_top=reading(best.upper_below_top_mm, 1.0)), CATALOGUE
    )
    option = next(item for item in there.options if item.row == best.row)
    assert option.plate is not None
    assert best.plate_mm == pytest.approx(option.plate.value, abs=1e-9)
    assert best.plate_verdict is option.verdict


@pytest.mark.parametrize("kind", [PLATE, STEPPED])
def test_behind_a_bracket_the_settings_are_searched_and_the_plate_follows(kind: str) -> None:
    job = bracket_job(kind, holes=patterned(2.0, 6.0))
    best = choices(job)[0]
    assert len(best.reused) >= 2
    assert best.plate_mm is not None
    assert best.plate_verdict.rank <= Verdict.TIGHT.rank


def test_what_is_inside_and_the_sound_zone_can_stop_a_choice() -> None:
    free = choices(sample_job(holes=patterned()))[0]
    inside = choices(sample_job(holes=patterned(), no_go=(no_go(-140.0, -110.0, 200.0, 400.0),)))[0]
    low = choices(sample_job(holes=patterned(), transom__lowest_bolt=reading(200.0, 3.0)))[0]
    assert free.verdict is not Verdict.STOPS
    assert inside.verdict is Verdict.STOPS
    assert low.verdict is Verdict.STOPS
    assert inside.plate_verdict is Verdict.FITS


@pytest.mark.parametrize(("across", "broken", "too_near"), [(-163.5, 1, 0), (-200.0, 0, 1)])
def test_an_opening_where_a_hole_would_be_drilled_is_damage(
    across: float, broken: int, too_near: int
) -> None:
    beside = opening(across, 48.0, 30.0)
    found = choices(sample_job(holes=patterned()[2:], openings=(beside,)))
    lower = next(item for item in found if len(item.reused) == 2)
    assert (lower.broken, lower.too_near) == (broken, too_near)
    served = choices(sample_job(holes=patterned(), openings=(beside,)))[0]
    assert (len(served.reused), served.damage) == (4, 0)


def test_a_row_that_the_maker_refuses_is_not_offered() -> None:
    job = sample_job(holes=patterned(), engine__max_lift=reading(10.0, 0.0))
    assert {item.row for item in choices(job)} == {1}


def test_twins_are_moved_together_and_both_are_counted() -> None:
    twins = Neighbour(arrangement="twins", twin_spacing=reading(700.0, 1.0))
    holes = patterned(-350.0 + 4.0) + patterned(350.0 + 4.0)
    job = sample_job(
        holes=holes,
        neighbour=twins,
        transom__width_at_top=reading(1600.0, 3.0),
    )
    best = choices(job)[0]
    assert len(best.reused) == 8
    assert best.shift_mm == pytest.approx(4.0, abs=1e-6)


def test_without_old_holes_or_bolts_there_is_nothing_to_reuse() -> None:
    assert choices(sample_job()) == ()
    assert choices(sample_job(holes=patterned(), engine__engine_class=CLAMPED)) == ()


def test_without_a_leg_the_holes_are_still_searched_and_the_plate_is_unknown() -> None:
    best = choices(
        sample_job(holes=patterned(), engine__leg_measured=None, engine__leg_stated=None)
    )[0]
    assert len(best.reused) == 4
    assert (best.plate_mm, best.plate_verdict) == (None, Verdict.UNKNOWN)


def test_on_a_transom_not_decided_about_reused_holes_count_as_measured() -> None:
    job = sample_job(holes=patterned(), mounting__upper_holes_below_top=None)
    best = choices(job)[0]
    assert len(best.reused) == 4
    assert best.plate_verdict is Verdict.FITS
    case = case_of(job)
    with_drilling = reuse_choices(case, height_options(case), drilling_choices(case))
    assert len(with_drilling[0].reused) == 4


@pytest.mark.parametrize(
    "hole", [old(0.0, 200.0, 0.0), old(1700.0, 1000.0), replace(old(0.0, 100.0), across=None)]
)
def test_holes_that_cannot_be_right_do_not_stop_the_search(hole: ExistingHole) -> None:
    found = choices(sample_job(holes=(*patterned(), hole)))
    assert found[0].reused == (1, 2, 3, 4)


def test_ten_thousand_holes_are_searched() -> None:
    many = tuple(old(-350.0 + 7.0 * (n % 100), 5.0 * (n // 100), 4.0) for n in range(10_000))
    found = choices(sample_job(holes=(*patterned(), *many)))
    assert found[0].reused == (1, 2, 3, 4)
