"""The boat of a job under way: what stands in, what is lacking, and findings 601 to 605."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.afloat import Flotation, flotation_of
from rigfit.rigging.checks_underway import check_underway, plate_verdict, target_rpm
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.fit_check import fit_check, not_looked_at
from rigfit.rigging.masses import PERSON_KG, masses_after
from rigfit.rigging.planing import NotPlaning, Planing, equilibrium
from rigfit.rigging.readings import Origin
from rigfit.rigging.underway import (
    EFFICIENCY,
    Lacking,
    is_begun,
    planing_boat,
    plate_place,
    underway_of,
)
from rigfit.rigging.underway_fields import Propeller, Underway
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import CATALOGUE, case_of, reading, sample_job
from tests.rigging.afloat_jobs import afloat_job
from tests.rigging.underway_jobs import HULL, UNDERWAY, running, underway_case, underway_job

METRIC = Shown()


def findings(**changes: object) -> dict[int, Finding]:
    return {finding.code: finding for finding in check_underway(underway_case(**changes))}


def words(finding: Finding) -> str:
    lines = [finding.sentence, *finding.working, *([finding.settle] if finding.settle else [])]
    return " ".join(say(line, METRIC) for line in lines)


# ----------------------------------------------------------------- nothing, and what is lacking


def test_nothing_entered_says_nothing_and_is_named_as_not_looked_at() -> None:
    case = case_of(sample_job())
    assert check_underway(case) == ()
    assert underway_of(case) is None
    assert "the boat under way" in not_looked_at(case)


def test_what_was_entered_is_not_called_not_looked_at() -> None:
    assert is_begun(underway_case())
    assert "the boat under way" not in not_looked_at(underway_case())
    only = case_of(sample_job(propeller=Propeller(pitch=reading(430.0))))
    assert "the boat under way" not in not_looked_at(only)
    assert check_underway(only) == ()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"hull": replace(HULL, chine_beam=None)}, "hull.chine_beam"),
        ({"boat__deadrise": None}, "boat.deadrise"),
        ({"underway": replace(UNDERWAY, mass=None)}, "underway.mass"),
    ],
)
def test_without_a_deciding_reading_it_is_unknown_and_says_what_settles_it(
    changes: dict[str, object], field: str
) -> None:
    found = findings(**changes)
    assert list(found) == [601]
    assert found[601].verdict is Verdict.UNKNOWN
    assert found[601].needs == (field,)
    assert found[601].settle is not None


@pytest.mark.parametrize(
    ("way", "field"),
    [
        ({"mass": reading(60.0, 90.0)}, "underway.mass"),
        ({"centre_ahead": reading(250.0, 300.0)}, "underway.centre_ahead"),
        ({"efficiency": reading(0.3, 0.4)}, "underway.efficiency"),
    ],
)
def test_a_figure_that_may_be_nothing_within_its_tolerance_is_lacking(
    way: dict[str, object], field: str
) -> None:
    found = findings(underway=replace(UNDERWAY, **way))
    assert found[601].verdict is Verdict.UNKNOWN
    assert found[601].needs == (field,)


def test_several_lacking_readings_are_named_together() -> None:
    lacking = underway_of(underway_case(hull=replace(HULL, chine_beam=None), boat__deadrise=None))
    assert isinstance(lacking, Lacking)
    assert lacking.fields == ("hull.chine_beam", "boat.deadrise")


# ----------------------------------------------------------------- what it is reckoned from


def test_the_thrust_line_follows_plate_and_engine() -> None:
    found = running()
    case = underway_case()
    place = plate_place(case, found.mounted.option) if found.mounted else None
    assert place is not None
    shaft = place.plate_mm - case.engine.sizes.shaft_below_plate
    assert found.boat.thrust_deg == 0.0
    assert found.boat.arm_mm == pytest.approx(520.0 - shaft)


def test_trimming_the_engine_out_raises_the_running_trim() -> None:
    flat = running()
    out = running(underway=replace(UNDERWAY, plate_angle=reading(4.0, 0.5, Origin.CHOSEN)))
    assert flat.trim is not None
    assert out.trim is not None
    assert out.boat.thrust_deg == -4.0
    assert out.trim.value > flat.trim.value
    assert "leg's own lift is not counted" in words(findings()[602])


def test_the_state_is_that_of_the_method_itself() -> None:
    found = running()
    values = {name: item.reading.value for name, item in found.given.items()}
    state = equilibrium(planing_boat(values), 24.0, found.water)
    assert state == found.state
    assert isinstance(state, Planing)
    assert found.trim is not None
    assert found.trim.value == pytest.approx(state.trim_deg)


def test_a_figure_nobody_gave_is_labelled_and_never_fits() -> None:
    found = running(underway=replace(UNDERWAY, efficiency=None, centre_ahead=None))
    assert found.given["efficiency"].reading == EFFICIENCY
    assert "own estimate" in found.given["efficiency"].words
    assert found.given["ahead"].reading.origin is Origin.DEFAULT
    assert "38 %" in found.given["ahead"].words
    checked = findings(underway=replace(UNDERWAY, centre_ahead=None))
    assert Verdict.FITS not in {item.verdict for item in checked.values()}
    assert "centre of gravity ahead" in words(checked[601])


def test_the_mass_adds_up_from_boat_engine_and_what_is_aboard() -> None:
    job = afloat_job(underway=Underway(hull_type="runabout"))
    bare = running(
        hull=replace(job.hull, mass=reading(450.0, 10.0)),
        underway=replace(UNDERWAY, mass=None),
        masses=(),
    )
    engine = underway_case().candidate.mass
    assert engine is not None
    assert bare.boat.mass_kg == pytest.approx(450.0 + engine.value)
    assert "nobody aboard" in bare.given["mass"].words
    assert bare.given["mass"].reading.origin is Origin.DEFAULT


def test_what_was_read_afloat_gives_the_bare_boat() -> None:
    case = case_of(afloat_job(underway=Underway(hull_type="runabout")))
    found = underway_of(case)
    assert not isinstance(found, Lacking)
    assert found is not None
    afloat, masses = flotation_of(case), masses_after(case)
    assert isinstance(afloat, Flotation)
    assert afloat.bare_kg is not None
    assert found.boat.mass_kg == pytest.approx(afloat.bare_kg + masses.total.value)
    assert "afloat.transom_top" in found.needs


def test_people_aboard_at_the_reading_are_counted_once() -> None:
    """Heights that stay as read with two people more aboard mean a boat lighter by those two."""

    def total(people: int) -> float:
        job = afloat_job(underway=Underway(hull_type="runabout"), afloat__people=people)
        found = underway_of(case_of(job))
        assert found is not None
        assert not isinstance(found, Lacking)
        return found.boat.mass_kg

    assert total(0) - total(2) == pytest.approx(2.0 * PERSON_KG)


def test_the_top_speed_is_where_power_times_efficiency_is_used() -> None:
    found = running(underway=replace(UNDERWAY, speed=None))
    assert found.is_top
    assert found.top is not None
    assert isinstance(found.state, Planing)
    assert found.state.power_kw == pytest.approx(59.7 * 0.55, rel=1e-4)
    assert found.speed_kn == found.top.value


@given(st.floats(1.05, 1.6))
def test_a_heavier_boat_is_slower_by_both_estimates(times: float) -> None:
    light = running()
    heavy = running(underway=replace(UNDERWAY, mass=reading(950.0 * times, 20.0)))
    assert heavy.crouch.value < light.crouch.value
    assert light.top is not None
    if heavy.top is not None:
        assert heavy.top.value < light.top.value


def test_a_wider_tolerance_of_the_mass_widens_every_range() -> None:
    narrow = running()
    wide = running(underway=replace(UNDERWAY, mass=reading(950.0, 120.0)))
    for name in ("trim", "margin", "top", "crouch"):
        assert getattr(wide, name).tolerance > getattr(narrow, name).tolerance


def test_an_engine_off_the_centreline_meets_higher_water() -> None:
    centred = running()
    off = running(mounting__off_centre=reading(300.0, 3.0))
    assert centred.mounted is not None
    assert off.mounted is not None
    assert off.mounted.water.surface_mm > centred.mounted.water.surface_mm


def test_every_possible_height_has_its_water() -> None:
    found = running()
    report = fit_check(underway_job(), CATALOGUE)
    possible = [item.row for item in report.options if item.is_possible]
    assert [item.option.row for item in found.plates] == possible
    clear = [item.water.clear_mm for item in found.plates]
    assert clear == sorted(clear)


# ----------------------------------------------------------------- findings


def test_a_measured_boat_inside_the_range_can_fit() -> None:
    found = findings()
    assert list(found) == [601, 602, 603, 604, 605]
    assert found[601].verdict is Verdict.FITS
    assert found[604].verdict is Verdict.FITS


def test_nothing_of_it_stops_an_engine() -> None:
    heavy = replace(UNDERWAY, mass=reading(2500.0, 20.0), speed=None)
    for way in (UNDERWAY, heavy, replace(UNDERWAY, centre_ahead=reading(700.0, 20.0))):
        assert Verdict.STOPS not in {item.verdict for item in findings(underway=way).values()}


def test_a_stern_heavy_boat_porpoises_and_is_told_what_helps() -> None:
    found = findings(underway=replace(UNDERWAY, centre_ahead=reading(1150.0, 20.0)))
    assert found[602].value is not None
    assert found[602].value < 0.0
    assert found[602].verdict is Verdict.TIGHT
    assert "trim the engine in" in words(found[602])


def test_beyond_the_chart_the_limit_is_named_as_its_end() -> None:
    found = findings(underway=replace(UNDERWAY, speed=reading(40.0, 0.0, Origin.CHOSEN)))
    assert found[602].verdict is Verdict.TIGHT
    assert "chart's end" in words(found[602])
    assert "may be lower" in words(found[602])


def test_the_water_is_marked_as_an_extrapolation_where_it_is_one() -> None:
    found = findings()
    assert "extrapolation" in words(found[603])
    assert "25 mm for each 300 mm" in words(found[603])
    assert "extended keel line" in words(found[603])
    assert found[603].verdict is Verdict.TIGHT


def test_a_plate_too_high_lets_the_propeller_out_of_the_water() -> None:
    found = running()
    highest, lowest = found.plates[-1], found.plates[0]
    assert highest.water.tip_mm < lowest.water.tip_mm
    assert plate_verdict(found, highest).rank >= plate_verdict(found, lowest).rank


def test_without_the_plate_s_height_the_water_alone_settles_nothing() -> None:
    found = findings(transom__height_along_face=None, transom__height_square=None)[603]
    assert found.verdict is Verdict.UNKNOWN
    assert found.needs == ("transom.height_along_face",)
    assert found.settle is not None


def test_both_estimates_of_speed_are_ranges() -> None:
    text = say(findings()[604].sentence, METRIC)
    assert "by Savitsky" in text
    assert "Crouch" in text
    assert text.count(" to ") == 2


def test_too_little_power_is_said_in_words() -> None:
    found = findings(
        underway=replace(UNDERWAY, speed=None), engine__power=reading(4.0, 0.0, Origin.STATED)
    )
    assert isinstance(running(
        underway=replace(UNDERWAY, speed=None), engine__power=reading(4.0, 0.0, Origin.STATED)
    ).state, NotPlaning)  # fmt: skip
    assert "does not get her on the plane" in words(found[601])
    assert 602 not in found
    assert 603 not in found
    assert "no top speed comes out" in words(found[604])


def test_the_engine_speed_belongs_to_pitch_gear_and_slip() -> None:
    """rpm = speed / (1 - slip) x gear / pitch: slip's middle of 12.5 %, by the definition."""
    found = running()
    assert found.rpm is not None
    assert found.top is not None
    metres = found.top.value * 1852.0 / 60.0
    assert found.rpm.value == pytest.approx(metres / 0.875 / 0.4318 * 2.15, rel=1e-6)


@pytest.mark.parametrize(
    ("inches", "place"), [(25.0, "less pitch"), (11.0, "more pitch"), (17.0, "upper half")]
)
def test_pitch_is_held_against_the_upper_half_of_the_band(inches: float, place: str) -> None:
    """Common practice, no source: aim for the upper half."""
    propeller = Propeller(pitch=reading(inches * 25.4, 0.0, Origin.STATED))
    found = findings(propeller=propeller)[605]
    assert found.verdict is Verdict.TIGHT
    assert place in say(found.sentence, METRIC)


def test_a_band_or_gear_of_the_class_is_named() -> None:
    found = findings(engine__gear_ratio=None, engine__wot_low=None, engine__wot_high=None)[605]
    assert "of its class, not entered" in words(found)
    assert "usual band" in words(found)


def test_a_band_upside_down_is_refused_by_name() -> None:
    with pytest.raises(JobError, match="band at wide open throttle"):
        check_underway(underway_case(engine__wot_low=reading(6500.0, 0.0, Origin.STATED)))


def test_the_speed_aimed_for_is_the_job_s_own() -> None:
    case = underway_case(propeller=Propeller(target_rpm=reading(5600.0, 0.0, Origin.CHOSEN)))
    found = underway_of(case)
    assert found is not None
    assert not isinstance(found, Lacking)
    assert target_rpm(case, found) == 5600.0
    assert target_rpm(underway_case(), running()) == 5750.0


@given(
    st.floats(500.0, 3000.0), st.floats(900.0, 2600.0), st.floats(5.0, 60.0), st.floats(0.0, 28.0)
)
def test_every_finding_has_a_source_finite_numbers_and_a_way_to_settle_it(
    mass: float, ahead: float, speed: float, deadrise: float
) -> None:
    way = replace(
        UNDERWAY, mass=reading(mass, 20.0), centre_ahead=reading(ahead, 40.0),
        speed=reading(speed, 0.0, Origin.CHOSEN),
    )  # fmt: skip
    for finding in findings(underway=way, boat__deadrise=reading(deadrise, 1.0)).values():
        assert finding.source in SOURCES
        assert finding.verdict is not Verdict.STOPS
        assert finding.settle is not None or finding.verdict is Verdict.FITS
        numbers = (finding.value, finding.margin, finding.tolerance)
        assert all(math.isfinite(number) for number in numbers if number is not None)
        assert words(finding)
