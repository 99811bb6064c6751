"""Findings 401 to 407: verdicts, what settles them, and silence where nothing was entered."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.rigging.checks_swing import check_swing, not_looked_at
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.readings import specs
from rigfit.rigging.transom_map import Neighbour
from rigfit.rigging.trim_and_trailer import USUAL_WEDGES_DEG, trim_reserve, wedge_for
from rigfit.rigging.well_fields import Obstacle, Steering, Trailer, Well
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import CATALOGUE, CLAMPED, case_of, changed, reading, sample_job, without
from tests.rigging.swing_jobs import FULL_ENGINE, TRAILER, box, gear, roomy_well, swing_job

FIELDS = {
    f"{key}.{name}"
    for key, record in [(k, r) for k, _, r in GROUPS] + [(k, r) for k, _, _, r in LISTS]
    for name in specs(record)
}
EVERYTHING = {"steering": gear(), "trailer": TRAILER}


def found(job, code):
    return next((item for item in check_swing(case_of(job)) if item.code == code), None)


def text(finding, lengths="mm"):
    return say(finding.sentence, Shown(lengths, "kn"))


def test_nothing_entered_gives_no_finding_but_a_list() -> None:
    case = case_of(sample_job())
    assert check_swing(case) == ()
    assert len(not_looked_at(case)) == 4
    full = case_of(swing_job(**EVERYTHING))
    assert not_looked_at(full) == ()


def test_all_measured_and_roomy_fits_throughout() -> None:
    job = swing_job(**EVERYTHING)
    verdicts = {item.code: item.verdict for item in check_swing(case_of(job))}
    assert verdicts == dict.fromkeys((401, 402, 403, 404, 405, 406), Verdict.FITS)


@pytest.mark.parametrize("name", sorted(FULL_ENGINE))
def test_without_a_reading_nothing_that_needs_it_fits(name) -> None:
    key = name.replace("__", ".")
    job = without(swing_job(**EVERYTHING), key)
    fits = [
        item.code
        for item in check_swing(case_of(job))
        if item.verdict is Verdict.FITS and key in item.needs
    ]
    assert fits == []


def test_without_the_hood_it_is_unknown_and_names_the_three_tape_readings() -> None:
    job = sample_job(well=roomy_well(length=reading(900.0, 3.0), width=reading(1400.0, 3.0)))
    for code in (401, 403, 404):
        finding = found(job, code)
        assert finding.verdict is Verdict.UNKNOWN
        assert "typical of its class, not measured" in text(finding)
        said = say(finding.settle, Shown("mm", "kn"))
        for reading_name in ("front of the cowl", "top of the cowl", "breadth of the cowl"):
            assert reading_name in said


def test_a_tilt_axis_of_the_class_is_said_and_leaves_the_tilting_at_best_tight() -> None:
    job = without(swing_job(**EVERYTHING), "engine.tilt_axis_out")
    for code in (401, 404):
        finding = found(job, code)
        assert finding.verdict is Verdict.TIGHT
        assert finding.margin > finding.tolerance
        assert "tilt axis is typical of its class" in text(finding)
        assert "tilt axis out from the face" in say(finding.settle, Shown("mm", "kn"))
    assert found(job, 403).verdict is Verdict.FITS
    for code in (403, 404):
        working = " ".join(say(line, Shown("mm", "kn")) for line in found(job, code).working)
        assert "steering axis is taken where engines of the class have it, 20 mm" in working


def test_a_class_that_would_touch_is_unknown_and_not_stopped() -> None:
    job = sample_job(well=roomy_well(length=reading(250.0, 3.0), front_top=reading(300.0, 3.0)))
    assert found(job, 401).verdict is Verdict.UNKNOWN
    assert found(job, 404).verdict is Verdict.UNKNOWN


def test_a_measured_engine_that_touches_is_stopped_and_told_how_far_to_move() -> None:
    job = swing_job(well=roomy_well(length=reading(300.0, 3.0), front_top=reading(300.0, 3.0)))
    finding = found(job, 401)
    assert finding.verdict is Verdict.STOPS
    assert "touches front wall of the well at" in text(finding)
    assert finding.value < -20.0
    assert found(job, 404).verdict is Verdict.STOPS


def test_a_narrow_well_stops_the_steering() -> None:
    finding = found(swing_job(well=roomy_well(width=reading(480.0, 3.0))), 403)
    assert finding.verdict is Verdict.STOPS
    assert "touches" in text(finding)


def test_a_hood_that_stands_in_the_wall_is_said_to_stand_in_it() -> None:
    finding = found(swing_job(well=roomy_well(width=reading(400.0, 3.0))), 403)
    assert "stands in" in text(finding)


def test_a_front_wall_of_unknown_height_is_unknown_where_its_height_decides() -> None:
    finding = found(swing_job(well=roomy_well(length=reading(300.0, 3.0), front_top=None)), 401)
    assert finding.verdict is Verdict.UNKNOWN
    assert "top of the well's front wall" in say(finding.settle, Shown("mm", "kn"))


def test_without_the_rake_it_is_unknown() -> None:
    finding = found(without(swing_job(), "transom.rake"), 401)
    assert finding.verdict is Verdict.UNKNOWN
    assert finding.needs == ("transom.rake",)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"obstacles": (Obstacle(name="rail", outline="0, 0; 9, 9; 9, 0; 0, 9"),)}, "crosses"),
        ({"obstacles": (Obstacle(name="rail"),)}, "not entered"),
        ({"well": Well(width=reading(0.0))}, "it is 0"),
        ({"obstacles": (box("locker", ahead=(-300.0, 300.0), above=(-9.0, 300.0)),)}, "axis lies"),
    ],
)
def test_a_bad_entry_is_named_in_a_finding(change, said) -> None:
    finding = found(swing_job(**change), 401)
    assert finding.verdict is Verdict.UNKNOWN
    assert said in text(finding)
    assert finding.settle is not None


@pytest.mark.parametrize(
    ("trim_in", "verdict", "wedge"),
    [(8.0, Verdict.FITS, 0.0), (14.0, Verdict.TIGHT, 3.0), (22.0, Verdict.STOPS, None),
     (-2.0, Verdict.STOPS, -6.0), (17.0, Verdict.STOPS, 6.0)],
)  # fmt: skip
def test_trim_reserve_advises_a_usual_wedge(trim_in, verdict, wedge) -> None:
    job = swing_job(engine__trim_in=reading(trim_in, 1.0))
    assert found(job, 402).verdict is verdict
    assert trim_reserve(case_of(job)).wedge_deg == wedge


@given(st.floats(-20.0, 12.0))
def test_the_wedge_advised_is_the_smallest_usual_one_that_serves(trim_in) -> None:
    wedge = wedge_for(trim_in)
    if wedge is None:
        assert all(
            not -10.0 <= trim_in - sign * step <= -3.0
            for step in USUAL_WEDGES_DEG
            for sign in (1.0 if trim_in > -3.0 else -1.0,)
        )
    else:
        assert -10.0 <= trim_in - wedge <= -3.0
        smaller = [step for step in USUAL_WEDGES_DEG if step < abs(wedge)]
        sign = 1.0 if wedge > 0.0 else -1.0
        assert all(not -10.0 <= trim_in - sign * step <= -3.0 for step in smaller)


def test_trim_limits_move_with_the_rake() -> None:
    steep = trim_reserve(case_of(sample_job(transom__rake=reading(20.0, 1.0))))
    usual = trim_reserve(case_of(sample_job(transom__rake=reading(12.0, 1.0))))
    assert (usual.trim_in_deg, usual.trim_out_deg) == pytest.approx((-4.0, 16.0))
    assert steep.trim_in_deg == pytest.approx(usual.trim_in_deg - 8.0)
    assert steep.trim_out_deg == pytest.approx(usual.trim_out_deg - 8.0)


def test_a_rod_that_cannot_be_drawn_out_stops_and_says_what_it_lacks() -> None:
    finding = found(swing_job(steering=gear(withdrawal=reading(400.0, 5.0))), 405)
    assert finding.verdict is Verdict.STOPS
    assert "lacks" in text(finding)


def test_a_gear_without_its_readings_is_unknown() -> None:
    job = swing_job(steering=Steering(half_travel=reading(90.0, 2.0), arm_radius=reading(200.0)))
    finding = found(job, 405)
    assert finding.verdict is Verdict.UNKNOWN
    assert finding.settle is not None
    assert finding.working


def test_a_gear_whose_travel_is_longer_than_its_arm_is_named() -> None:
    finding = found(swing_job(steering=gear(half_travel=reading(300.0, 2.0))), 405)
    assert finding.verdict is Verdict.UNKNOWN
    assert "arm" in text(finding)


def test_a_tiller_needs_no_room_for_a_rod() -> None:
    assert found(swing_job(steering=gear(kind="tiller")), 405) is None


def test_the_trailer_figures_follow_the_heel_and_a_missing_wish_is_labelled() -> None:
    low = Trailer(heel_above_ground=reading(250.0, 5.0), axle_to_transom=reading(1100.0, 10.0))
    high = Trailer(heel_above_ground=reading(480.0, 5.0), axle_to_transom=reading(1100.0, 10.0))
    one, two = found(swing_job(trailer=low), 406), found(swing_job(trailer=high), 406)
    assert one.value < two.value
    assert two.verdict is Verdict.TIGHT
    assert "customary" in text(two)
    assert "support" in text(two)


def test_the_trailer_needs_the_leg() -> None:
    job = without(swing_job(trailer=TRAILER), "engine.leg_measured", "engine.leg_stated")
    assert found(job, 406).verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("spacing", "verdict"), [(480.0, Verdict.STOPS), (560.0, Verdict.TIGHT), (1100.0, Verdict.FITS)]
)
def test_twins(spacing, verdict) -> None:
    twins = Neighbour(arrangement="twins", twin_spacing=reading(spacing, 1.0))
    finding = found(swing_job(neighbour=twins), 407)
    assert finding.verdict is verdict
    ends = ("turned towards each other they touch.", "with the tie bar off", "overlap by")
    assert any(words in text(finding) for words in ends)
    assert "at full lock; they" not in text(finding)


def test_a_kicker_without_its_room_is_unknown_and_with_it_is_judged() -> None:
    beside = Neighbour(arrangement="kicker", kicker_across=reading(430.0, 3.0))
    assert found(swing_job(neighbour=beside), 407).verdict is Verdict.UNKNOWN
    near = box("kicker", "kicker", (-500.0, 150.0), (-200.0, 500.0), (240.0, 500.0))
    far = box("kicker", "kicker", (-500.0, 150.0), (-200.0, 500.0), (800.0, 1000.0))
    assert found(swing_job(neighbour=beside, obstacles=(near,)), 407).verdict is Verdict.STOPS
    assert found(swing_job(neighbour=beside, obstacles=(far,)), 407).verdict is Verdict.FITS


def test_the_whole_check_holds_the_findings_and_asks_none_twice() -> None:
    report = fit_check(swing_job(**EVERYTHING), CATALOGUE)
    codes = [item.code for item in report.findings if 400 <= item.code < 500]
    assert sorted(codes) == [401, 402, 403, 404, 405, 406]


maybe = st.booleans()


@settings(max_examples=40, deadline=None)
@given(
    st.floats(100.0, 1200.0), st.floats(200.0, 1500.0), st.floats(-400.0, 400.0),
    st.sets(st.sampled_from(sorted(FULL_ENGINE))), maybe, maybe, maybe,
    st.sampled_from(("mm", "in")), maybe,
)  # fmt: skip
def test_whatever_is_entered_every_finding_is_whole(
    length, width, top, missing, rod, trailer, twins, lengths, clamped
) -> None:
    job = swing_job(
        well=roomy_well(
            length=reading(length, 3.0), width=reading(width, 3.0), front_top=reading(top, 3.0)
        ),
        steering=gear() if rod else Steering(),
        trailer=TRAILER if trailer else Trailer(),
        neighbour=Neighbour("twins", reading(660.0, 1.0)) if twins else Neighbour(),
    )
    job = without(job, *(name.replace("__", ".") for name in missing))
    if clamped:
        job = changed(job, engine__engine_class=CLAMPED)
    seen = set()
    for finding in check_swing(case_of(job)):
        assert finding.code not in seen
        seen.add(finding.code)
        assert finding.source in SOURCES
        assert set(finding.needs) <= FIELDS
        assert text(finding, lengths)
        assert all(say(line, Shown(lengths, "kn")) for line in finding.working)
        if finding.verdict is Verdict.UNKNOWN:
            assert finding.settle is not None
        if finding.verdict is Verdict.FITS:
            assert finding.margin >= finding.tolerance
            assert not any(name.replace("__", ".") in finding.needs for name in missing)
