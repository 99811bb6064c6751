"""Findings 701 to 707: nothing while nothing is known, and none that claims too much."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import ProfileError
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.checks_backing import Rectangle, fit_of, plates, reach
from rigfit.rigging.checks_bolts import check_bolts
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import CHECKS, fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin
from rigfit.rigging.transom_map import NoGo, Opening
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import finding_data, say
from tests.builders import (
    CATALOGUE,
    CLAMPED,
    PLATE,
    bracket_job,
    changed,
    holds,
    jobs,
    reading,
    records,
    sample_job,
)

SHIPPED = load_catalogue()
FULL = replace(
    CATALOGUE,
    bolts=SHIPPED.bolts,
    bolt_grades=SHIPPED.bolt_grades,
    washers=SHIPPED.washers,
    cores=SHIPPED.cores,
)
BOLTING = Bolting(
    bolt="M12",
    grade="A4-70",
    length=reading(100.0, 1.0),
    flange=reading(19.0, 1.0),
    backing="plate and washers",
    washer="M12-wide",
    plate_thickness=reading(6.0, 0.5),
    plate_width=reading(400.0, 1.0),
    plate_height=reading(80.0, 1.0),
    core="plywood-1",
    torque=reading(55.0, 0.0, Origin.STATED),
    thread_state="dry",
    load_factor=reading(5.0, 0.0, Origin.CHOSEN),
)
CODES = [701, 702, 703, 704, 705, 706, 707]
FIELD_NAMES = {
    f"{group}.{item.name}" for group, record in records().items() for item in fields(record)
}


def bolted(job=None, **changes) -> Job:
    return changed(job or sample_job(), bolting=changed_bolting(**changes))


def changed_bolting(**changes) -> Bolting:
    return replace(BOLTING, **changes)


def check(job: Job):
    return {f.code: f for f in check_bolts(Case(job, FULL, job.engines[0]))}


def said(finding, style=None) -> str:
    return say(finding.sentence, style or Shown())


# ------------------------------------------------------------------------------ how many


def test_nothing_filled_in_is_no_finding_but_not_looked_at():
    assert check(sample_job()) == {}
    assert "bolts and backing" in fit_check(sample_job(), FULL).not_looked_at
    assert "bolts and backing" not in fit_check(bolted(), FULL).not_looked_at


def test_a_full_group_answers_every_question_once():
    assert list(check(bolted())) == CODES


def test_the_checks_are_part_of_every_report():
    assert check_bolts in CHECKS


def test_washers_alone_are_not_asked_for_a_plate():
    assert 706 not in check(bolted(backing="washers"))


# ------------------------------------------------------------------------------ what is owed

_FILLED = {item.name: getattr(BOLTING, item.name) for item in fields(BOLTING)}
_EMPTY = {item.name: getattr(Bolting(), item.name) for item in fields(BOLTING)}


@st.composite
def boltings(draw) -> Bolting:
    kept = draw(st.sets(st.sampled_from(sorted(_FILLED))))
    bolting = replace(BOLTING, **{key: _EMPTY[key] for key in _FILLED if key not in kept})
    return replace(
        bolting,
        bolt=draw(st.sampled_from(list(SHIPPED.bolts))) if bolting.bolt else "",
        grade=draw(st.sampled_from(list(SHIPPED.bolt_grades))) if bolting.grade else "",
        core=draw(st.sampled_from(list(SHIPPED.cores))) if bolting.core else "",
        washer=draw(st.sampled_from(list(SHIPPED.washers))) if bolting.washer else "",
        backing=draw(st.sampled_from(("washers", "plate", "plate and washers", ""))),
        length=draw(st.sampled_from((None, reading(25.0, 1.0), reading(380.0, 1.0)))),
        flange=draw(st.sampled_from((None, reading(0.0, 0.0), reading(14.0, 1.0)))),
        torque=draw(st.sampled_from((None, reading(1.0), reading(75.0), reading(400.0)))),
    )


@settings(max_examples=150, deadline=None)
@given(jobs(most_missing=8), boltings())
def test_whatever_is_typed_the_answers_are_whole(job, bolting):
    for code, finding in check(replace(job, bolting=bolting)).items():
        assert finding.source in SOURCES
        assert set(finding.needs) <= FIELD_NAMES
        assert finding.title
        data = finding_data(finding, Shown("in"))
        assert "{" not in data["sentence"]
        assert "nan" not in data["sentence"]
        if finding.verdict is Verdict.UNKNOWN:
            assert finding.settle is not None, code
        if finding.verdict is Verdict.FITS and finding.margin is not None:
            assert finding.margin >= finding.tolerance - 1e-9


@settings(max_examples=150, deadline=None)
@given(jobs(most_missing=8), boltings())
def test_nothing_fits_without_what_it_needs(job, bolting):
    job = replace(job, bolting=bolting)
    bold = [
        (finding.code, name)
        for finding in check(job).values()
        if finding.verdict is Verdict.FITS
        for name in finding.needs
        if not holds(job, name)
    ]
    assert bold == []


@settings(max_examples=60, deadline=None)
@given(jobs(), boltings())
def test_estimates_and_unseen_cores_are_never_passed(job, bolting):
    found = check(replace(job, bolting=bolting))
    assert 704 not in found or found[704].verdict is not Verdict.FITS
    if 702 in found and found[702].verdict is Verdict.FITS:
        assert bolting.load_factor is not None
        assert found[702].value <= 1.0


# ------------------------------------------------------------------------------ one change each


@pytest.mark.parametrize(
    ("change", "code", "verdict"),
    [
        ({}, 701, Verdict.FITS),
        ({"length": None}, 701, Verdict.FITS),
        ({"length": reading(80.0, 1.0)}, 701, Verdict.STOPS),
        ({"length": reading(93.5, 1.0)}, 701, Verdict.TIGHT),
        ({"length": reading(110.0, 1.0)}, 701, Verdict.STOPS),
        ({"length": reading(140.0, 1.0)}, 701, Verdict.STOPS),
        ({"flange": reading(14.0, 1.0), "length": None}, 701, Verdict.TIGHT),
        ({"flange": None}, 701, Verdict.UNKNOWN),
        ({"flange": reading(0.0, 0.0)}, 701, Verdict.UNKNOWN),
        ({"flange": reading(19.0, 1.0, Origin.CLASS)}, 701, Verdict.TIGHT),
        ({"backing": ""}, 701, Verdict.UNKNOWN),
        ({"washer": ""}, 701, Verdict.UNKNOWN),
        ({"washer": "", "backing": "plate", "length": None}, 701, Verdict.FITS),
        ({}, 702, Verdict.FITS),
        ({"load_factor": None}, 702, Verdict.TIGHT),
        ({"bolt": "M6"}, 702, Verdict.TIGHT),
        ({"bolt": "M6", "load_factor": reading(15.0)}, 702, Verdict.STOPS),
        ({"grade": ""}, 702, Verdict.UNKNOWN),
        ({}, 703, Verdict.FITS),
        ({"torque": None}, 703, Verdict.UNKNOWN),
        ({"thread_state": ""}, 703, Verdict.TIGHT),
        ({"thread_state": "anti-seize"}, 703, Verdict.TIGHT),
        ({"torque": reading(400.0)}, 703, Verdict.STOPS),
        ({}, 704, Verdict.TIGHT),
        ({"core": "foam"}, 704, Verdict.UNKNOWN),
        ({"core": "glass-laminate"}, 704, Verdict.UNKNOWN),
        ({"core": ""}, 704, Verdict.UNKNOWN),
        ({"backing": "washers", "washer": "M12"}, 704, Verdict.STOPS),
        ({"plate_thickness": reading(0.0, 0.0)}, 704, Verdict.UNKNOWN),
        ({}, 705, Verdict.FITS),
        ({"bolt": "half-20"}, 705, Verdict.FITS),
        ({"bolt": "M14"}, 705, Verdict.STOPS),
        ({"bolt": "M10", "washer": "M10"}, 705, Verdict.STOPS),
        ({"bolt": "7-16-14", "washer": "7-16-SAE"}, 705, Verdict.TIGHT),
        ({"washer": "M10"}, 705, Verdict.STOPS),
        ({"bolt": ""}, 705, Verdict.UNKNOWN),
        ({}, 706, Verdict.FITS),
        ({"plate_width": reading(340.0, 1.0)}, 706, Verdict.STOPS),
        ({"plate_width": reading(300.0, 1.0)}, 706, Verdict.TIGHT),
        ({"plate_width": reading(80.0, 1.0)}, 706, Verdict.FITS),
        ({"plate_height": None}, 706, Verdict.UNKNOWN),
        ({"plate_height": reading(120.0, 1.0)}, 706, Verdict.STOPS),
        ({}, 707, Verdict.FITS),
        ({"core": "aluminium"}, 707, Verdict.TIGHT),
        ({"core": "plywood-copper"}, 707, Verdict.TIGHT),
        ({"grade": "steel-8-8"}, 707, Verdict.TIGHT),
        ({"grade": ""}, 707, Verdict.UNKNOWN),
    ],
)
def test_one_change_changes_that_answer(change, code, verdict):
    finding = check(bolted(**change))[code]
    assert finding.verdict is verdict, said(finding)


@pytest.mark.parametrize(
    ("key", "code"),
    [
        ("transom__thickness", 701),
        ("engine__mass", 702),
        ("engine__power", 702),
        ("transom__rake", 702),
    ],
)
def test_a_missing_reading_elsewhere_is_named(key, code):
    finding = check(changed(bolted(), **{key: None}))[code]
    assert finding.verdict is Verdict.UNKNOWN
    assert key.replace("__", ".") in finding.needs
    assert say(finding.settle, Shown()).startswith("Fill in: ")


def test_a_clamped_engine_is_told_to_trace_its_holes():
    found = check(bolted(sample_job(engine__engine_class=CLAMPED)))
    for code in (702, 705, 706):
        assert found[code].verdict is Verdict.UNKNOWN
        assert "Trace the bolt holes" in say(found[code].settle, Shown())


def test_a_profile_nobody_knows_is_a_sentence():
    with pytest.raises(ProfileError, match='no bolt "M13"'):
        check(bolted(bolt="M13"))


# ------------------------------------------------------------------------------ what they say


def test_the_length_to_buy_is_named_in_the_bolts_own_units():
    assert "Buy M12 x 100 mm: the grip is 76 mm" in said(check(bolted(length=None))[701])
    inch = check(bolted(bolt="half-13", washer="half-SAE", length=None))[701]
    assert "Buy 1/2-13 UNC x 3 3/4 in (95 mm)" in said(inch)


def test_a_closer_look_at_the_grip_may_save_a_size():
    # The grip is 71 +/- 1.7 mm: 90 mm reach 72.475 with 1 1/2 threads showing, not the worst case.
    finding = check(bolted(flange=reading(14.0, 1.0), length=None))[701]
    assert "Buy M12 x 100 mm" in said(finding)
    assert "90 mm will do up to a grip of 72.5 mm" in say(finding.settle, Shown())


def test_a_short_bolt_is_not_said_to_stand_a_negative_way():
    text = said(check(bolted(length=reading(60.0, 1.0)))[701])
    assert "short of its lock nut's end" in text
    assert "-" not in text


def test_a_jamming_nut_is_named():
    # 110 mm have 80 mm of plain shank, more than the grip of 76.
    assert "jams on the plain shank" in said(check(bolted(length=reading(110.0, 1.0)))[701])


def test_a_grip_beyond_every_stocked_bolt_stops():
    job = changed(bolted(length=None), transom__thickness=reading(290.0, 1.0))
    assert check(job)[701].verdict is Verdict.STOPS


def test_the_default_factor_is_called_custom():
    assert "5 times its weight (by custom)" in said(check(bolted(load_factor=None))[702])
    assert "5 times its weight (as chosen)" in said(check(bolted())[702])


def test_the_makers_torque_wins_and_is_said_to():
    assert "The engine maker's 55 N·m comes before" in said(check(bolted())[703])
    text = said(check(bolted(torque=None))[703])
    # 75 % of 450 MPa x 84.3 mm2 is 28.4 kN; at K 0.20 and 0.35 on 12 mm 68 and 119 N·m.
    assert "28.4 kN, 68 N·m to 119 N·m" in text


def test_dry_stainless_galls():
    assert "galls" in said(check(bolted())[703])
    assert "galls" not in said(check(bolted(thread_state="oiled"))[703])
    assert "galls" not in said(check(bolted(grade="steel-8-8"))[703])


def test_bearing_says_who_carries_the_rest():
    assert "skins and plate to spread" in said(check(bolted())[704])
    strong = bolted(core="aluminium")
    assert "never passed on a figure alone" in said(check(strong)[704])
    assert check(strong)[704].value < 1.0


def test_the_fit_has_a_name():
    assert "is the medium fit; 1.5 mm of play" in said(check(bolted())[705])
    assert "is the close fit" in said(check(bolted(bolt="half-13", washer="half-SAE"))[705])


def test_every_number_has_its_working():
    found = check(bolted())
    for code in (701, 702, 703, 704):
        assert found[code].working
        assert all("{" not in say(line, Shown("in")) for line in found[code].working)
    strength = " ".join(say(line, Shown()) for line in found[702].working)
    assert "Stress area 84.3 mm²" in strength
    assert "estimate" in strength
    assert "over the proof load" in strength or "within the proof load" in strength


# ------------------------------------------------------------------------------ holes and plates


@given(st.sampled_from(list(SHIPPED.bolts.values())), st.floats(3.0, 30.0))
def test_a_bolt_fits_only_holes_between_its_tightest_and_widest(bolt, hole):
    verdict, _ = fit_of(bolt, hole)
    if verdict is Verdict.FITS:
        assert bolt.holes_mm[0] - 0.06 <= hole <= bolt.holes_mm[-1] + 0.06
    assert (verdict is Verdict.STOPS) == (hole < bolt.diameter_mm or hole > 1.3 * bolt.diameter_mm)


@given(st.sampled_from([item for item in SHIPPED.bolts.values() if item.holes_mm]))
def test_the_standards_own_holes_fit_by_name(bolt):
    for name, hole in zip(bolt.fits, bolt.holes_mm, strict=True):
        assert fit_of(bolt, hole) == (Verdict.FITS, f"the {name} fit")


@given(st.floats(10.0, 900.0), st.floats(50.0, 600.0))
def test_a_plate_joins_only_what_it_spans(size, spacing):
    found = reach(size, spacing)
    assert found.joins == (size > spacing)
    assert found.edge_mm <= size / 2.0
    assert not (found.joins and found.is_odd)


@pytest.mark.parametrize(
    ("width", "height", "count"),
    [(400.0, 80.0, 2), (80.0, 80.0, 4), (400.0, 300.0, 1), (80.0, 300.0, 2), (290.0, 80.0, 3)],
)
def test_how_many_plates_there_are(width, height, count):
    pattern = FULL.hole_pattern("four-bolt")
    boxes = plates(pattern, width, height, 48.0, 10.0)
    assert len(boxes) == count
    assert sum(box.left + box.right for box in boxes) / (2.0 * count) == pytest.approx(10.0)


def test_every_bolt_lies_on_a_plate():
    pattern = FULL.hole_pattern("four-bolt")
    for width, height in ((400.0, 80.0), (80.0, 80.0), (400.0, 300.0)):
        boxes = plates(pattern, width, height, 48.0)
        for below, spacing in ((48.0, 327.025), (251.2, 250.825)):
            for x in (-spacing / 2.0, spacing / 2.0):
                assert any(b.left < x < b.right and b.upper < below < b.lower for b in boxes)


@given(*[st.floats(-100.0, 100.0)] * 4)
def test_rectangles_overlap_both_ways(x, y, u, v):
    one, other = Rectangle(x, x + 30.0, y, y + 30.0), Rectangle(u, u + 50.0, v, v + 10.0)
    assert one.overlaps(other) == other.overlaps(one)
    assert one.overlaps(one)


KNEE = NoGo(
    "port knee", "knee", reading(-260.0), reading(-180.0), reading(20.0), reading(500.0)
)  # fmt: skip
DRAIN = Opening("", "drain", reading(0.0), reading(250.0), reading(32.0))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"no_go": (KNEE,)}, "port knee is in its way"),
        ({"openings": (DRAIN,)}, "drain is in its way"),
        ({"mounting__upper_holes_below_top": reading(35.0, 1.0)}, "above the transom top"),
    ],
)
def test_what_stands_in_the_way_is_named(change, words):
    finding = check(changed(bolted(), **change))[706]
    assert finding.verdict is Verdict.STOPS
    assert words in said(finding)


def test_a_half_measured_obstacle_is_no_crash():
    job = changed(bolted(), no_go=(replace(KNEE, below_to=None),), openings=(Opening(),))
    assert check(job)[706].verdict is Verdict.FITS


@pytest.mark.parametrize(
    "change", [{"engine__upper_spacing": None}, {"mounting__upper_holes_below_top": None}]
)
def test_a_plate_on_holes_nobody_measured_never_fits(change):
    assert check(changed(bolted(), **change))[706].verdict is Verdict.TIGHT


def test_behind_a_bracket_the_plate_stands_on_the_brackets_holes():
    job = bolted(bracket_job(PLATE))
    found = check(job)
    assert found[706].verdict is Verdict.TIGHT
    assert "setback bracket's own weight" in " ".join(line.text for line in found[702].working)
