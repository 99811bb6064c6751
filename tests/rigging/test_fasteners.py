"""Bolts, grades, washers and cores: their formulas and limits, and sense in the profiles."""

from __future__ import annotations

import itertools
from dataclasses import FrozenInstanceError, fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.errors import ProfileError
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.fasteners import (
    INCH_LENGTHS_MM,
    METRIC_LENGTHS_MM,
    inch_stress_area_in2,
    metric_stress_area_mm2,
)
from rigfit.sources import SOURCES

CATALOGUE = load_catalogue()
BOLTS = list(CATALOGUE.bolts.values())
GRADES = list(CATALOGUE.bolt_grades.values())
WASHERS = list(CATALOGUE.washers.values())
CORES = list(CATALOGUE.cores.values())
M12 = CATALOGUE.bolt("M12")


def named(items):
    return pytest.mark.parametrize("item", items, ids=[item.id for item in items])


@named([*BOLTS, *GRADES, *WASHERS, *CORES])
def test_every_profile_has_a_name_and_sources_that_exist(item):
    assert item.name.isprintable()
    keys = [getattr(item, f.name) for f in fields(item) if f.name.endswith("source")]
    assert keys
    assert set(keys) <= set(SOURCES)


@named([M12, GRADES[0], WASHERS[0], CORES[0]])
def test_records_are_frozen(item):
    with pytest.raises(FrozenInstanceError):
        item.name = "another"
    assert not hasattr(item, "__dict__")


def test_a_catalogue_without_fasteners_can_be_made_and_names_what_it_lacks():
    bare = Catalogue({}, {}, {}, {})
    assert [bare.family(name) for name in ("bolts", "bolt_grades", "washers", "cores")] == [()] * 4
    with pytest.raises(ProfileError, match='there is no bolt "M12"'):
        bare.bolt("M12")


@pytest.mark.parametrize(
    ("ask", "wrong", "right"),
    [
        (CATALOGUE.bolt, "M11", "M1"),
        (CATALOGUE.bolt_grade, "A4-71", "A4-7"),
        (CATALOGUE.washer, "M12-wyde", "M12-wide"),
        (CATALOGUE.core, "plywod", "plywood"),
    ],
)
def test_an_unknown_name_is_answered_with_the_nearest(ask, wrong, right):
    with pytest.raises(ProfileError) as caught:
        ask(wrong)
    assert f'did you mean "{right}' in str(caught.value)
    assert "bolting, " in caught.value.where


# ------------------------------------------------------------------------------ bolts


@named(BOLTS)
def test_parts_of_a_bolt_are_of_a_possible_size(item):
    d = item.diameter_mm
    assert 0.5 * d < item.head_mm < 0.8 * d
    assert 0.75 * d < item.nut_mm < 1.0 * d
    assert item.nut_mm < item.lock_nut_mm < 1.4 * d
    assert 1.4 * d < item.flats_mm < 1.8 * d
    assert 0.05 * d < item.thread_mm < 0.2 * d
    assert 0.6 < item.stress_area_mm2 / (0.7854 * d * d) < 0.9


@named([item for item in BOLTS if item.holes_mm])
def test_clearance_holes_widen_from_fit_to_fit(item):
    assert item.diameter_mm < item.holes_mm[0]
    assert list(item.holes_mm) == sorted(set(item.holes_mm))
    assert len(item.holes_mm) == len(item.fits)
    for inch, metric in zip(item.holes_in, item.holes_mm, strict=False):
        assert inch * 25.4 == pytest.approx(metric, abs=0.26)


@pytest.mark.parametrize(
    "changes",
    [
        {"pitch_mm": None},
        {"threads_per_inch": 13.0},
        {"pitch_mm": 0.0},
        {"diameter_mm": 0.0},
        {"lock_nut_mm": -1.0},
    ],
)
def test_a_bolt_without_a_size_is_refused(changes):
    with pytest.raises(ProfileError, match="M12 has no complete size"):
        replace(M12, **changes)


@given(st.floats(5.0, 40.0), st.floats(0.5, 3.0))
def test_both_formulas_say_nearly_the_same_of_one_thread(d, pitch):
    # 0.9382 P and 0.9743 P: ISO and ASME round the flat of the thread differently.
    metric = metric_stress_area_mm2(d, pitch)
    inch = inch_stress_area_in2(d / 25.4, 25.4 / pitch) * 25.4**2
    assert inch < metric
    assert metric - inch < 0.12 * pitch * d


@named(BOLTS)
@given(length=st.floats(10.0, 300.0))
def test_thread_is_never_longer_than_the_bolt(item, length):
    threaded = item.threaded_mm(length)
    assert 0.0 < threaded <= length
    assert threaded == length or threaded > 2.0 * item.diameter_mm


@named(BOLTS)
@given(needed=st.floats(0.0, 300.0))
def test_the_next_length_is_the_shortest_that_reaches(item, needed):
    found = item.next_length_mm(needed)
    assert found is not None
    assert found in item.lengths_mm
    assert found >= needed - 1e-9
    assert [each for each in item.lengths_mm if needed <= each < found] == []


def test_beyond_the_longest_there_is_none():
    assert M12.next_length_mm(301.0) is None


@pytest.mark.parametrize("lengths", [METRIC_LENGTHS_MM, INCH_LENGTHS_MM])
def test_lengths_ascend(lengths):
    assert all(a < b for a, b in itertools.pairwise(lengths))


@pytest.mark.parametrize(
    ("key", "length", "words"),
    [("M12", 90.0, "90 mm"), ("half-13", 88.9, "3 1/2 in (89 mm)")],
)  # fmt: skip
def test_lengths_are_asked_for_in_the_bolts_own_units(key, length, words):
    assert CATALOGUE.bolt(key).length_words(length) == words


# ------------------------------------------------------------------------------ the others


@named(GRADES)
def test_strengths_are_in_order(item):
    assert item.metal in ("stainless", "steel")
    assert item.is_stainless == (item.metal == "stainless")
    given_ = [item.proof_mpa, item.yield_mpa, item.tensile_mpa]
    stresses = [value for value in given_ if value is not None]
    assert stresses == sorted(stresses)
    assert item.held_mpa == stresses[0]


def test_a_grade_without_figures_holds_nothing_known():
    assert replace(GRADES[0], yield_mpa=None, proof_mpa=None).held_mpa is None


@named(WASHERS)
def test_washers_have_a_hole_and_a_rim(item):
    assert 0.0 < item.bore_mm < item.outer_mm
    assert 1.0 < item.thickness_mm < 5.0
    sizes = [bolt.diameter_mm for bolt in BOLTS]
    assert any(d < item.bore_mm < 1.2 * d for d in sizes)


@named([item for item in WASHERS if item.id.endswith("-wide")])
def test_a_wide_washer_is_wider_than_the_plain_one(item):
    plain = CATALOGUE.washer(item.id.removesuffix("-wide"))
    assert item.bore_mm == plain.bore_mm
    assert item.outer_mm > 1.4 * plain.outer_mm


@named(CORES)
def test_a_core_says_what_its_figure_is(item):
    assert item.material in ("wood", "treated wood", "laminate", "aluminium", "foam")
    assert (item.bearing_mpa is None) == (item.basis == "")
    assert item.basis in ("", "allowable", "proportional limit", "proof stress")
    assert item.bearing_mpa is None or item.bearing_mpa > 0.0


def test_unknown_plywood_is_taken_as_the_weakest():
    groups = [CATALOGUE.core(f"plywood-{key}").bearing_mpa for key in ("1", "2-3", "4")]
    assert CATALOGUE.core("plywood").bearing_mpa == min(groups)
