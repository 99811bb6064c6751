"""A job afloat: what is asked for, the change of engine, tolerances, and slips that are named."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.afloat import Flotation, Trouble, flotation_of, is_entered
from rigfit.rigging.flotation import displaced
from rigfit.rigging.hull_fields import Afloat, Hull, Offset, Station, WaterMark
from rigfit.rigging.load_fields import MassItem, OldEngine
from rigfit.rigging.masses import PETROL_KG_L
from rigfit.rigging.readings import Origin
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import case_of, changed, reading, sample_engine, sample_job, without
from tests.rigging.afloat_jobs import AFLOAT, HULL, afloat_case, afloat_job, floated

HEAVY = replace(HULL, mass=reading(9000.0, 20.0), centre_ahead=reading(2200.0, 50.0))


def trouble(**changes) -> Trouble:
    found = flotation_of(afloat_case(**changes))
    assert isinstance(found, Trouble), found
    return found


def mark(flotation: Flotation, name: str):
    return next(item for item in flotation.marks if item.name == name)


def stations(*aheads: float) -> tuple[Station, ...]:
    """Return sections of a plain hull that tapers forward."""
    long = 5200.0
    return tuple(
        Station(
            ahead=reading(x, 10.0),
            keel_height=reading(0.0, 5.0),
            chine_half=reading(820.0 * (1.0 - (x / long) ** 3), 5.0),
            chine_height=reading(230.0, 5.0),
            sheer_half=reading(950.0 * (1.0 - (x / long) ** 4), 5.0),
            sheer_height=reading(650.0 + 0.06 * x, 5.0),
        )
        for x in aheads
    )


def test_nothing_entered_is_not_looked_at() -> None:
    case = case_of(sample_job())
    assert not is_entered(case)
    assert flotation_of(case) is None


def test_the_kind_of_water_alone_is_no_entry() -> None:
    assert flotation_of(case_of(sample_job(afloat=Afloat(water="fresh")))) is None


def test_as_read_is_as_she_floats_before() -> None:
    found = floated()
    assert mark(found, "scupper").before == pytest.approx(140.0)
    assert mark(found, "transom top").before == pytest.approx(300.0, abs=0.1)
    assert found.before is not None
    assert found.before.plane.at(5200.0) == pytest.approx(980.0 - 730.0)


def test_the_heavier_engine_lowers_everything_aft() -> None:
    found = floated()
    assert found.heavier_kg == pytest.approx(165.0 - 118.0)
    assert found.stern_mm is not None
    assert 20.0 < found.stern_mm.value < 60.0
    for item in found.marks:
        assert item.before is not None
        assert item.after.value < item.before


def test_the_engine_she_floated_with_changes_nothing() -> None:
    found = floated(afloat__engine="A", afloat__engine_mass=None)
    assert found.added == found.removed == ()
    assert found.stern_mm is not None
    assert found.stern_mm.value == pytest.approx(0.0, abs=0.05)


def test_an_equal_engine_changes_nothing() -> None:
    found = floated(afloat__engine_mass=reading(165.0, 2.0))
    assert mark(found, "scupper").after.value == pytest.approx(140.0, abs=0.1)


def test_a_bare_transom_sinks_by_the_whole_engine() -> None:
    bare = floated(afloat__engine="none", afloat__engine_mass=None)
    assert bare.heavier_kg == pytest.approx(165.0)


def test_the_engine_she_floated_with_may_be_another_of_the_job() -> None:
    other = sample_engine(id="B", mass=reading(130.0, 2.0))
    job = afloat_job(afloat__engine="B", afloat__engine_mass=None)
    found = flotation_of(case_of(replace(job, engines=(*job.engines, other))))
    assert isinstance(found, Flotation)
    assert found.heavier_kg == pytest.approx(35.0)


def test_twins_weigh_twice() -> None:
    twins = floated(
        neighbour__arrangement="twins", neighbour__twin_spacing=reading(660.0, 3.0),
        mounting__off_centre=None,
    )  # fmt: skip
    assert twins.heavier_kg == pytest.approx(2.0 * 165.0 - 118.0)
    assert twins.list_deg.value == pytest.approx(0.0, abs=1e-3)


def test_the_old_engine_may_be_entered_with_the_loads() -> None:
    loads = OldEngine(mass=reading(118.0, 2.0))
    found = floated(afloat__engine_mass=None, old_engine=loads)
    assert found.heavier_kg == pytest.approx(47.0)


@settings(max_examples=25, deadline=None)
@given(st.floats(60.0, 250.0), st.floats(1.0, 60.0))
def test_more_engine_means_less_height_and_the_more_the_less(mass: float, more: float) -> None:
    light = floated(engine__mass=reading(mass, 2.0))
    heavy = floated(engine__mass=reading(mass + more, 2.0))
    for one, other in zip(light.marks, heavy.marks, strict=True):
        if one.ahead_mm < 1000.0:
            assert other.after.value < one.after.value


@pytest.mark.parametrize("name", ["engine__mass", "afloat__scupper", "hull__depth_bow"])
def test_a_wider_reading_widens_the_answer(name: str) -> None:
    group, _, key = name.partition("__")
    job = afloat_job()
    record = job.engines[0] if group == "engine" else getattr(job, group)
    wide = replace(getattr(record, key), tolerance=30.0)
    one = mark(floated(), "scupper").after
    other = mark(floated(**{name: wide}), "scupper").after
    assert other.value == pytest.approx(one.value)
    assert other.tolerance > one.tolerance


def test_what_is_read_at_the_scupper_owes_little_to_the_hull() -> None:
    shares = {share.name: abs(share.spread) for share in mark(floated(), "scupper").after.shares}
    reading_share = shares["afloat.scupper"]
    assert reading_share == pytest.approx(2.0 * 5.0 / math.sqrt(3.0), rel=0.01)
    for name in ("hull.depth_aft", "hull.sheer_beam", "fullness", "boat.length"):
        assert shares[name] < reading_share


def test_a_measured_boat_is_firm_and_a_class_engine_is_not() -> None:
    assert floated().is_firm
    assert not floated(engine__mass=None).is_firm
    assert not floated(afloat__engine_mass=reading(118.0, 9.0, Origin.STATED)).is_firm


def test_without_readings_afloat_masses_and_their_centre_do() -> None:
    hull = replace(HULL, mass=reading(420.0, 20.0), centre_ahead=reading(2200.0, 50.0))
    found = floated(hull=hull, afloat=Afloat(engine_mass=reading(118.0, 2.0)))
    assert not found.is_anchored
    assert not found.is_firm
    assert found.before is not None
    assert found.after.load.mass_kg == pytest.approx(420.0 + 165.0)


def test_without_an_old_engine_there_is_no_before() -> None:
    hull = replace(HULL, mass=reading(420.0, 20.0), centre_ahead=reading(2200.0, 50.0))
    found = floated(hull=hull, afloat=Afloat())
    assert found.before is None
    assert found.trim_change_deg is None
    assert [item.name for item in found.marks if item.before is not None] == []


def test_one_height_and_the_mass_of_the_boat_give_the_trim() -> None:
    whole = floated()
    assert whole.before is not None
    bare = whole.before.load.mass_kg - 118.0
    hull = replace(HULL, mass=reading(bare, 5.0))
    found = floated(hull=hull, afloat=replace(AFLOAT, bow=None))
    assert found.before is not None
    assert found.before.plane.trim_deg == pytest.approx(whole.before.plane.trim_deg, abs=0.02)


def test_one_height_at_the_stem_and_the_mass_do_as_well() -> None:
    whole = floated()
    assert whole.before is not None
    hull = replace(HULL, mass=reading(whole.before.load.mass_kg - 118.0, 5.0))
    found = floated(hull=hull, afloat=replace(AFLOAT, transom_top=None))
    assert found.before is not None
    assert found.before.plane.trim_deg == pytest.approx(whole.before.plane.trim_deg, abs=0.02)


def test_one_height_alone_takes_her_to_lie_level_and_says_how_unsure_that_is() -> None:
    found = floated(afloat=replace(AFLOAT, bow=None))
    assert found.before is not None
    assert found.before.plane.trim_deg == pytest.approx(0.0, abs=1e-6)
    shares = {share.name for share in found.marks[0].after.stand_ins}
    assert "level" in shares


def test_stations_lead_over_few_measurements() -> None:
    found = floated(stations=stations(0.0, 1300.0, 2600.0, 3900.0, 4700.0))
    assert len(found.form.sections) == 21
    assert found.form.sections[0][1] == pytest.approx((820.0, 230.0))


def test_offsets_give_the_same_hull_as_the_stations_they_were_taken_from() -> None:
    rows = stations(0.0, 1300.0, 2600.0, 3900.0, 4700.0)
    offsets = tuple(
        Offset(station.ahead, height, half)
        for station in rows
        for height, half in (
            (station.keel_height, reading(0.0)),
            (station.chine_height, station.chine_half),
            (station.sheer_height, station.sheer_half),
        )
    )
    one, other = floated(stations=rows), floated(offsets=offsets)
    plane = one.after.plane
    assert displaced(other.form, plane).litres == pytest.approx(displaced(one.form, plane).litres)


def test_a_battery_moved_forward_lifts_the_stern() -> None:
    def battery(ahead: float, when: str) -> MassItem:
        return MassItem(
            name="battery", kind="battery", mass=reading(25.0, 1.0),
            ahead_of_transom=reading(ahead, 20.0), above_keel=reading(200.0, 20.0), when=when,
        )  # fmt: skip

    moved = floated(masses=(battery(300.0, "before"), battery(2500.0, "after")))
    stays = floated(masses=(battery(300.0, "both"),))
    assert mark(moved, "scupper").after.value > mark(stays, "scupper").after.value
    assert stays.after.plane == floated().after.plane


def test_a_mass_without_a_place_is_named_and_nothing_fits() -> None:
    item = MassItem(name="anchor", kind="anchor", mass=reading(20.0, 1.0), when="after")
    found = floated(masses=(item,))
    assert found.uncounted == ("anchor",)
    assert not found.is_firm


@pytest.mark.parametrize(
    "name",
    ["boat.length", "hull.chine_beam", "afloat.engine_mass"],
)
def test_what_is_missing_is_asked_for(name: str) -> None:
    found = flotation_of(case_of(without(afloat_job(), name)))
    assert isinstance(found, Trouble)
    assert found.needs == (name,)
    assert say(found.settle, Shown())


def test_heights_afloat_are_asked_for() -> None:
    assert trouble(afloat=Afloat(), marks=()).needs == ("afloat.transom_top",)


def test_deadrise_or_the_height_of_the_chine_is_asked_for() -> None:
    assert trouble(boat__deadrise=None, hull__chine_height_aft=None).needs == ("boat.deadrise",)


@pytest.mark.parametrize(
    ("changes", "need"),
    [
        ({"afloat__transom_top": reading(-20.0, 5.0)}, "afloat.transom_top"),
        ({"afloat__bow": reading(-20.0, 5.0)}, "afloat.bow"),
        ({"afloat__transom_top": reading(900.0, 5.0), "afloat__bow": reading(1400.0, 5.0)},
         "afloat.transom_top"),
        ({"hull__depth_aft": reading(200.0, 20.0)}, "hull"),
        ({"stations": stations(0.0, 2600.0, 1300.0)}, "station.ahead"),
        ({"stations": stations(0.0, 2600.0)}, "station"),
        ({"hull": HEAVY, "afloat": Afloat(), "marks": ()}, "hull.chine_beam"),
        ({"hull": HEAVY, "afloat": replace(AFLOAT, bow=None)}, "hull.mass"),
    ],
    ids=["water over the transom", "water over the stem", "in the air", "chine above the sheer",
         "stations out of order", "two stations", "too heavy", "height and mass at odds"],
)  # fmt: skip
def test_slips_name_the_reading_to_look_at(changes: dict, need: str) -> None:
    found = flotation_of(afloat_case(**changes))
    assert isinstance(found, Trouble), found
    assert found.needs == (need,)
    assert say(found.sentence, Shown()).endswith(".")
    assert say(found.settle, Shown()).strip(". ")


def test_a_mass_outside_the_hull_is_named() -> None:
    item = MassItem(
        name="outboard tender", kind="other", mass=reading(20.0, 1.0), when="after",
        ahead_of_transom=reading(9000.0, 20.0), above_keel=reading(200.0, 20.0),
    )  # fmt: skip
    found = trouble(masses=(item,))
    assert found.needs == ("mass.ahead_of_transom",)
    assert "outboard tender" in say(found.sentence, Shown())


@pytest.mark.parametrize("kind", ["pontoon", "catamaran"])
def test_boats_on_two_hulls_are_not_answered(kind: str) -> None:
    found = flotation_of(case_of(changed(afloat_job(), boat__hull_kind=kind)))
    assert isinstance(found, Trouble)
    assert found.needs == ("boat.hull_kind",)


def test_every_answer_is_remembered() -> None:
    assert floated() is floated()
    assert floated() is not floated(engine__mass=reading(150.0, 2.0))


def test_a_mark_without_a_height_is_left_out() -> None:
    found = floated(marks=(WaterMark("vent"),))
    assert "vent" not in [item.name for item in found.marks]


def test_a_mark_off_the_centreline_feels_the_list() -> None:
    marks = tuple(
        WaterMark(name, "scupper", above_water=reading(140.0, 5.0), across=reading(y, 20.0))
        for name, y in (("port", -700.0), ("starboard", 700.0))
    )
    found = floated(marks=marks, mounting__off_centre=reading(200.0, 3.0))
    assert found.list_deg.value > 0.2
    assert mark(found, "starboard").after.value < mark(found, "port").after.value


def test_an_empty_hull_is_no_hull() -> None:
    assert isinstance(flotation_of(case_of(sample_job(hull=Hull(mass=reading(400.0))))), Trouble)


def test_the_bare_boat_is_what_floats_less_what_was_aboard_when_it_was_read() -> None:
    crew = MassItem(
        name="two",
        kind="crew",
        mass=reading(160.0, 5.0),
        persons=2,
        ahead_of_transom=reading(1500.0, 50.0),
        above_keel=reading(600.0, 50.0),
    )
    nobody = floated(masses=(crew,), afloat__people=0)
    assert nobody.before is not None
    assert nobody.bare_kg == pytest.approx(nobody.before.load.mass_kg - 118.0)
    two = floated(masses=(crew,), afloat__people=2, afloat__fuel=reading(40.0, 2.0))
    assert two.bare_kg == pytest.approx(
        nobody.before.load.mass_kg - 118.0 - 160.0 - 40.0 * PETROL_KG_L
    )
