"""Everything said of a boat afloat in one place agrees with what it was gathered from."""

from __future__ import annotations

import pytest

from rigfit.rigging.afloat import Trouble, flotation_of
from rigfit.rigging.afloat_summary import AfloatSummary, summary_of
from rigfit.rigging.checks_flotation import check_flotation, limits_of, mark_verdict
from rigfit.rigging.findings import Verdict
from rigfit.rigging.hull_fields import Afloat, Hull
from rigfit.rigging.load_fields import MassItem
from rigfit.rigging.margins import kilograms_until_wet, person_aft
from rigfit.rigging.suggestions import FORWARD_MM, gain_at_transom_mm
from tests.builders import case_of, reading, sample_job
from tests.rigging.afloat_jobs import afloat_case, floated


def summed(**changes):
    found = summary_of(afloat_case(**changes))
    assert isinstance(found, AfloatSummary), found
    return found


def battery(ahead_mm=200.0, kg=30.0):
    return MassItem(
        "battery", "battery", reading(kg, 1.0),
        ahead_of_transom=reading(ahead_mm, 20.0), above_keel=reading(300.0, 20.0),
    )  # fmt: skip


def test_nothing_entered_gives_nothing():
    assert summary_of(case_of(sample_job())) is None


def test_what_stands_in_the_way_is_handed_on():
    case = afloat_case(hull=Hull())
    assert isinstance(summary_of(case), Trouble)
    assert summary_of(case) == flotation_of(case)


def test_each_mark_has_its_mass_until_wet_its_height_aft_and_its_verdict():
    found, flotation = summed(), floated()
    aft = person_aft(flotation)
    wet = {item.mark.name: item.kg for item in kilograms_until_wet(flotation)}
    assert len(found.marks) == len(flotation.marks) > 2
    for index, item in enumerate(found.marks):
        assert item.mark == flotation.marks[index]
        assert item.wet_kg == wet[item.mark.name]
        assert item.aft_mm == aft[index]
        assert item.wanted_mm == limits_of(item.mark).low
        assert item.verdict is mark_verdict(flotation, item.mark)


def test_the_first_to_be_wet_needs_the_least_mass():
    found = summed()
    masses = [item.wet_kg for item in found.marks if item.wet_kg is not None]
    assert found.first_wet.kg == min(masses)


def test_a_mark_that_is_short_is_what_the_moves_are_for():
    found = summed(masses=(battery(),))
    gaps = {item.mark.name: item.wanted_mm - item.mark.after.value for item in found.marks}
    assert found.lifted.name == max(gaps, key=gaps.get)
    assert found.wanted_mm == max(gaps.values()) > 0.0
    assert [move.name for move in found.moves] == ["battery"]


def test_where_nothing_is_short_the_moves_undo_the_sinkage():
    high = Afloat(
        transom_top=reading(330.0, 5.0), bow=reading(745.0, 5.0), engine_mass=reading(118.0, 2.0)
    )
    found = summed(afloat=high, marks=(), masses=(battery(),))
    assert found.lifted is None
    assert found.wanted_mm == found.flotation.stern_mm.value > 0.0
    assert found.moves


def test_a_lighter_engine_asks_for_no_move():
    high = Afloat(
        transom_top=reading(330.0, 5.0), bow=reading(745.0, 5.0), engine_mass=reading(300.0, 2.0)
    )
    found = summed(afloat=high, marks=(), masses=(battery(),))
    assert found.wanted_mm == 0.0
    assert found.moves == ()


def test_the_float_test_says_ahead_where_the_change_is_ahead():
    """A battery that goes far forward brings the test mass ahead of the transom."""
    fore = battery(4500.0, 60.0)
    items = (MassItem(**{n: getattr(fore, n) for n in (
        "name", "kind", "mass", "ahead_of_transom", "above_keel")}, when="after"),)  # fmt: skip
    case = afloat_case(masses=items)
    found = summary_of(case)
    sentence = next(item for item in check_flotation(case) if item.code == 515).sentence
    assert found.test.ahead_mm > 1000.0
    assert "like the whole change" in sentence.text
    assert sentence.amounts["ahead"].value == found.test.ahead_mm
    plain = afloat_case()
    sentence = next(item for item in check_flotation(plain) if item.code == 515).sentence
    assert "sinks the transom as the change will" in sentence.text
    assert sentence.amounts["ahead"].value == 200.0


def test_a_flooded_mark_is_named_as_wet():
    low = Afloat(
        transom_top=reading(300.0, 5.0), bow=reading(730.0, 5.0), scupper=reading(5.0, 5.0),
        engine_mass=reading(10.0, 2.0),
    )  # fmt: skip
    found = summed(afloat=low)
    scupper = next(item for item in found.marks if item.mark.name == "scupper")
    assert scupper.wet_kg == 0.0
    assert scupper.verdict is not Verdict.FITS


def test_what_undoes_the_sinking_really_does():
    case = afloat_case()
    found = summary_of(case)
    assert isinstance(found, AfloatSummary)
    assert found.undo_kg is not None
    gain = gain_at_transom_mm(found.flotation, found.undo_kg, FORWARD_MM)
    assert gain == pytest.approx(found.flotation.stern_mm.value, abs=0.2)
    lighter = summary_of(afloat_case(engine__mass=reading(90.0, 2.0)))
    assert isinstance(lighter, AfloatSummary)
    assert lighter.undo_kg is None
