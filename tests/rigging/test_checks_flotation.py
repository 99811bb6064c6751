"""Findings 511 to 515: limits, unknowns, suggestions, and what loads when nothing is entered."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.checks_flotation import check_flotation, pod_sentence
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hull_fields import WaterMark
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.margins import float_test, pod_balance
from rigfit.rigging.readings import Origin
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import CATALOGUE, case_of, reading, sample_job, without
from tests.rigging.afloat_jobs import afloat_case, afloat_job, floated
from tests.rigging.test_suggestions import item

NAMES = {f"{key}.{f.name}" for key, _, record in GROUPS for f in fields(record)}
NAMES |= {f"{key}.{f.name}" for key, _, _, record in LISTS for f in fields(record)} | {"hull"}


def findings(**changes) -> tuple[Finding, ...]:
    return check_flotation(afloat_case(**changes))


def one(code: int, name: str = "", **changes) -> Finding:
    return next(f for f in findings(**changes) if f.code == code and name in f.title)


def words(finding: Finding) -> str:
    parts = [finding.sentence, *finding.working]
    parts += [finding.settle] if finding.settle else []
    return " ".join(say(part, Shown()) for part in parts)


def test_nothing_entered_gives_no_finding() -> None:
    assert check_flotation(case_of(sample_job())) == ()


def test_what_is_missing_is_one_unknown() -> None:
    (found,) = check_flotation(case_of(without(afloat_job(), "afloat.engine_mass")))
    assert (found.code, found.verdict) == (511, Verdict.UNKNOWN)
    assert found.needs == ("afloat.engine_mass",)
    assert found.settle is not None


def test_a_measured_boat_with_room_fits() -> None:
    found = findings(afloat__transom_top=reading(330.0, 5.0))
    codes = {f.code for f in found}
    assert codes == {511, 512, 513, 514, 515}
    freeboard = next(f for f in found if f.code == 511)
    assert freeboard.verdict is Verdict.FITS
    assert freeboard.value == pytest.approx(freeboard.margin + 250.0)


@pytest.mark.parametrize(
    ("height", "verdict"),
    [(160.0, Verdict.FITS), (95.0, Verdict.TIGHT), (80.0, Verdict.TIGHT), (30.0, Verdict.STOPS)],
)
def test_scuppers_are_judged_by_those_of_boats_that_sank(height: float, verdict: Verdict) -> None:
    assert one(512, "scupper", afloat__scupper=reading(height, 5.0)).verdict is verdict


@pytest.mark.parametrize(
    ("kind", "low"),
    [("scupper", 63.5), ("sole", 76.2), ("rigging opening", 260.0), ("other", 63.5)],
)
def test_each_kind_has_its_limit_and_source(kind: str, low: float) -> None:
    marks = (WaterMark("it", kind, above_water=reading(300.0, 5.0)),)
    found = one(512, "it above", marks=marks)
    assert found.low == low
    assert found.source in SOURCES


def test_the_lowest_place_in_the_transom_counts() -> None:
    marks = (WaterMark("notch", "transom notch", above_water=reading(180.0, 5.0)),)
    found = one(511, marks=marks)
    assert "notch" in words(found)
    assert found.verdict is Verdict.TIGHT


def test_under_water_is_said_so() -> None:
    found = one(512, "scupper", afloat__scupper=reading(15.0, 5.0))
    assert found.verdict is Verdict.STOPS
    assert "under water" in words(found)


def test_kilograms_until_wet_and_the_first_are_told() -> None:
    text = words(one(512, "scupper"))
    assert "brings it to the water" in text
    assert "first to be wet" in text
    assert "stepping aft" in text


def test_what_is_short_comes_with_what_to_move() -> None:
    masses = (item("battery", "battery", 28.0, 300.0),)
    text = words(one(512, "scupper", afloat__scupper=reading(95.0, 5.0), masses=masses))
    assert "battery" in text
    plain = words(one(512, "scupper", afloat__scupper=reading(80.0, 5.0)))
    assert "moved forward" in plain


def test_the_trim_is_told_by_its_ends() -> None:
    found = one(513)
    assert found.value is not None
    assert found.value > 0.0
    text = words(found)
    assert "by the stern" in text
    assert "deeper at the transom" in text
    assert "higher at the stem" in text


def test_an_equal_engine_does_not_trim() -> None:
    found = one(513, afloat__engine="A", afloat__engine_mass=None)
    assert found.value == pytest.approx(0.0, abs=0.01)
    assert found.verdict is Verdict.FITS


def test_an_engine_off_centre_lists_her() -> None:
    found = one(514, mounting__off_centre=reading(-300.0, 3.0))
    assert found.value is not None
    assert found.value < -0.3
    assert "to port" in words(found)


def test_no_word_on_the_centreline_no_finding_on_list() -> None:
    assert 514 not in {f.code for f in findings(mounting__off_centre=None)}


def test_the_float_test_says_mass_and_heights() -> None:
    text = words(one(515))
    assert f"{float_test(floated()).test_kg:.0f} kg" in text
    assert "should then read" in text


@pytest.mark.parametrize(
    "changes",
    [
        {"engine__mass": None},
        {"afloat__bow": None, "engine__mass": None},
        {"engine__mass": reading(165.0, 0.0, Origin.STATED)},
        {"afloat__engine_mass": reading(118.0, 0.0, Origin.CLASS)},
    ],
)
def test_what_nobody_measured_never_fits(changes: dict) -> None:
    found = findings(**changes)
    assert found
    assert [f.code for f in found if f.verdict is Verdict.FITS] == []


OPTIONAL = (
    "afloat.bow", "afloat.scupper", "afloat.transom_top", "hull.depth_bow", "hull.depth_aft",
    "hull.sheer_beam", "hull.chine_beam", "hull.chine_height_aft", "boat.length", "boat.deadrise",
    "engine.mass", "transom.rake", "transom.height_along_face", "mounting.off_centre",
    "hull.depth_amidships", "afloat.engine_mass",
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.sets(st.sampled_from(OPTIONAL), max_size=8))
def test_whatever_is_missing_nothing_that_needs_it_fits_and_nothing_breaks(
    missing: set[str],
) -> None:
    if "transom.height_along_face" in missing:
        missing = missing | {"transom.height_square"}  # either gives the other
    for found in check_flotation(case_of(without(afloat_job(), *missing))):
        assert set(found.needs) <= NAMES
        assert found.source in SOURCES
        assert words(found)
        if found.verdict is Verdict.FITS:
            assert not set(found.needs) & missing
        else:
            assert found.settle is not None


def test_the_whole_report_takes_them_in() -> None:
    report = fit_check(afloat_job(), CATALOGUE)
    assert {511, 512, 513, 514, 515} <= {f.code for f in report.findings}


def test_a_pod_is_told_in_the_trim() -> None:
    from tests.rigging.test_margins import pod_job

    found = pod_job()
    assert found.pods
    job = afloat_job()
    hull = replace(
        job.hull, pod_volume=reading(120.0, 5.0), pod_aft=reading(250.0, 10.0),
        pod_bottom=reading(40.0, 10.0), pod_height=reading(450.0, 10.0),
    )  # fmt: skip
    text = words(one(513, hull=hull, bracket__kind="pod", bracket__setback=reading(500.0, 5.0)))
    assert "pod lifts" in text


def test_flotation_loads_no_library_of_numbers() -> None:
    program = """
import sys
from dataclasses import replace
from rigfit import tasks
from rigfit.rigging.hull_fields import Afloat, Hull
from rigfit.rigging.readings import Reading
job = replace(
    tasks.demo_job(),
    hull=Hull(chine_beam=Reading(1650.0, 5.0)),
    afloat=Afloat(transom_top=Reading(300.0, 5.0), engine_mass=Reading(118.0, 2.0)),
)
report = tasks.check(job)
assert report.finding(513).value is not None
print(sorted({"numpy", "shapely", "scipy", "matplotlib"} & set(sys.modules)))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "numpy" not in done.stdout
    assert "matplotlib" not in done.stdout


def test_three_heights_that_do_not_lie_on_one_water_are_named() -> None:
    straight = one(515, afloat__amidships=reading(473.0, 5.0))
    bent = one(515, afloat__amidships=reading(520.0, 5.0))
    assert "one level water" not in words(straight)
    assert "one level water" in words(bent)
    assert bent.verdict is Verdict.TIGHT


def test_a_mass_at_odds_with_the_heights_is_named() -> None:
    found = floated()
    assert found.bare_kg is not None
    agreed = words(one(515, hull__mass=reading(round(found.bare_kg), 20.0)))
    apart = words(one(515, hull__mass=reading(2.0 * found.bare_kg, 20.0)))
    assert "bare boat weighs" not in agreed
    assert "bare boat weighs" in apart


@pytest.mark.parametrize(
    "changes",
    [
        {"afloat__transom_top": reading(470.0, 5.0), "afloat__bow": reading(790.0, 5.0)},
        {"hull__mass": reading(2000.0, 20.0)},
        {"afloat__amidships": reading(520.0, 5.0)},
    ],
)
def test_where_readings_contradict_each_other_nothing_afloat_fits(changes: dict) -> None:
    found = [item for item in findings(**changes) if item.code in (511, 512, 513, 515)]
    assert found
    assert [item.code for item in found if item.verdict is Verdict.FITS] == []
    assert any("until they agree" in say(item.settle, Shown()) for item in found if item.settle)


def test_usual_measures_of_the_hull_are_named() -> None:
    full = {"hull__centre_height": reading(350.0, 20.0), "face__chine_width": reading(1580.0, 5.0)}
    assert "Usual figures stand in" not in words(one(515, **full))
    said = words(one(515, **full, hull__depth_bow=None))
    assert "not measured: top of the stem above the keel line." in said


def test_fuel_and_people_at_the_reading_are_told() -> None:
    assert "40 L of fuel" in words(one(515, afloat__fuel=reading(40.0, 5.0)))
    assert "usual load" not in words(one(515, afloat__people=2))
    assert "usual load" in words(one(515))


def test_a_pod_is_weighed_against_its_lever() -> None:
    from tests.rigging.test_margins import pod_job

    balance = pod_balance(pod_job())
    assert balance is not None
    sentence = pod_sentence(balance)
    assert "pulls the stern down" in sentence.text
    assert sentence.amounts["mass"].value == pytest.approx(-balance.moment_kgm)
    light = replace(balance, moment_kgm=12.0)
    assert "lifts the stern like" in pod_sentence(light).text


@pytest.mark.parametrize(
    ("changes", "part"),
    [
        ({"hull__pod_volume": reading(90.0, 5.0)}, "not counted without: middle of the pod aft"),
        (
            {
                "hull__pod_volume": reading(90.0, 5.0), "hull__pod_aft": reading(250.0, 5.0),
                "hull__pod_bottom": reading(60.0, 5.0), "hull__pod_height": reading(400.0, 5.0),
            },
            "no bracket or pod",
        ),
    ],
)  # fmt: skip
def test_a_pod_that_lifts_nothing_says_why(changes: dict, part: str) -> None:
    assert part in words(one(515, **changes))
