"""New holes against old ones, openings, edges and what is inside: relations and findings."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rigfit.rigging.checks_hole_fit import hole_findings, named, pair_verdict, relations_of
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.hole_fit import (
    HoleGrid,
    HoleRelation,
    OldHole,
    Relation,
    fit_one,
    hole_fit,
    new_holes,
    old_holes,
    relate_to_edges,
    relate_to_hole,
    relate_to_opening,
    serving_play_mm,
)
from rigfit.rigging.hole_pattern import HolePattern
from rigfit.rigging.job import ExistingHole, Job
from rigfit.rigging.readings import Origin
from rigfit.rigging.template import drilling_template
from rigfit.rigging.transom_map import Neighbour, Opening
from rigfit.rigging.transom_outline import transom_outline
from rigfit.sources import SOURCES
from rigfit.wording import say, shown
from tests.builders import CATALOGUE, CLAMPED, STEPPED, bracket_job, case_of, reading, sample_job
from tests.rigging.holes import (
    BOLT,
    FASTENERS,
    HALVES,
    RULE,
    hole_case,
    hole_jobs,
    mirrored,
    new,
    no_go,
    old,
    opening,
    patterned,
)

SIDES = {"port": "starboard", "starboard": "port"}
sizes = st.floats(4.0, 40.0)
near = st.floats(-60.0, 60.0)


def one(across: float, below: float, diameter: float = 13.5, tol: float = 0.0) -> OldHole:
    return OldHole(1, "old", across, below, diameter / 2.0, (tol, tol, tol / 2.0))


def findings(**changes: object) -> dict[int, Finding]:
    case = hole_case(**changes)
    return {item.code: item for item in hole_findings(case, hole_fit(case))}


def other_side(name: str) -> str:
    return " ".join(SIDES.get(word, word) for word in name.split())


# ------------------------------------------------------------------- one hole against one


@pytest.mark.parametrize(
    ("apart", "relation", "verdict"),
    [
        (0.0, Relation.SERVES, Verdict.FITS),
        (0.79, Relation.SERVES, Verdict.FITS),
        (0.9, Relation.BREAKS, Verdict.STOPS),
        (13.4, Relation.BREAKS, Verdict.STOPS),
        (13.6, Relation.NEAR, Verdict.STOPS),  # less than one diameter left
        (27.1, Relation.NEAR, Verdict.TIGHT),  # 1.0 to 1.5 diameters
        (33.6, Relation.NEAR, Verdict.TIGHT),
        (33.9, Relation.CLEAR, Verdict.FITS),
    ],
)
def test_the_five_relations_follow_the_distance(
    apart: float, relation: Relation, verdict: Verdict
) -> None:
    found = relate_to_hole(new(), one(apart, 100.0), RULE, BOLT)
    assert (found.relation, found.verdict) == (relation, verdict)


def test_a_hole_exactly_on_an_old_one_serves() -> None:
    found = relate_to_hole(new(12.0, 80.0), one(12.0, 80.0), RULE, BOLT)
    assert found.relation is Relation.SERVES
    assert found.slack_mm == pytest.approx(0.8)


@given(sizes, sizes, near, near)
def test_the_ligament_is_what_shapely_measures_between_the_rims(
    size: float, other: float, across: float, below: float
) -> None:
    found = relate_to_hole(new(0.0, 100.0, size), one(across, 100.0 + below, other), RULE, BOLT)
    rims = [
        shapely.Point(0.0, 0.0).buffer(size / 2.0, quad_segs=256),
        shapely.Point(across, below).buffer(other / 2.0, quad_segs=256),
    ]
    assert max(0.0, found.ligament_mm) == pytest.approx(rims[0].distance(rims[1]), abs=2e-3)


@given(sizes, sizes, near, near)
def test_clear_means_that_the_hole_grown_by_the_rule_misses_the_old_one(
    size: float, other: float, across: float, below: float
) -> None:
    found = relate_to_hole(new(0.0, 100.0, size), one(across, 100.0 + below, other), RULE, BOLT)
    assume(abs(found.ligament_mm - found.required_mm) > 0.01 and abs(found.ligament_mm) > 0.01)
    assume(not found.relation.is_reuse)
    hole = shapely.Point(0.0, 0.0).buffer(size / 2.0, quad_segs=256)
    beside = shapely.Point(across, below).buffer(other / 2.0, quad_segs=256)
    grown = hole.buffer(RULE.old_enough_d * size, quad_segs=256)
    assert (found.relation is Relation.CLEAR) == (not grown.intersects(beside))
    assert (found.relation is Relation.BREAKS) == hole.intersects(beside)


@given(sizes, sizes, near, near, st.floats(0.0, 20.0), st.floats(0.0, 2.0))
def test_growing_an_old_hole_never_turns_too_near_into_clear(
    size: float, other: float, across: float, below: float, more: float, tol: float
) -> None:
    order = [Relation.CLEAR, Relation.NEAR, Relation.BREAKS]
    hole = new(0.0, 100.0, size, tol)
    before = relate_to_hole(hole, one(across, 100.0 + below, other, tol), RULE, BOLT)
    after = relate_to_hole(hole, one(across, 100.0 + below, other + more, tol), RULE, BOLT)
    assume(not before.relation.is_reuse and not after.relation.is_reuse)
    assert order.index(after.relation) >= order.index(before.relation)


@given(sizes, sizes, near, near)
def test_a_tolerance_never_makes_an_answer_better(
    size: float, other: float, across: float, below: float
) -> None:
    sure = relate_to_hole(new(0.0, 100.0, size), one(across, 100.0 + below, other), RULE, BOLT)
    vague = relate_to_hole(
        new(0.0, 100.0, size, 1.0), one(across, 100.0 + below, other, 1.0), RULE, BOLT
    )
    assert sure.relation is vague.relation
    if vague.verdict is Verdict.FITS:
        assert sure.verdict is Verdict.FITS
        assert vague.slack_mm >= vague.tolerance_mm


@pytest.mark.parametrize(
    ("old_mm", "play"),
    [(13.5, 0.8), (12.7, 0.4), (15.5, 1.8), (15.6, None), (12.0, None)],
)
def test_a_bolt_passes_a_hole_neither_too_small_nor_too_wide(
    old_mm: float, play: float | None
) -> None:
    found = serving_play_mm(13.5, old_mm, BOLT, RULE)
    assert found == (None if play is None else pytest.approx(play))


def test_a_hole_just_beyond_its_play_may_serve_after_all() -> None:
    found = relate_to_hole(new(), one(1.5, 100.0, tol=1.0), RULE, BOLT)
    assert (found.relation, found.verdict) == (Relation.BREAKS, Verdict.TIGHT)


@pytest.mark.parametrize(
    ("below", "relation"),
    [(100.0, Relation.SERVES), (120.0, Relation.SLOT), (80.0, Relation.SLOT)],
)
def test_in_a_slotted_bracket_the_bolt_may_sit_anywhere_in_the_slot(
    below: float, relation: Relation
) -> None:
    slotted = replace(new(), bracket_slot_mm=60.0)
    assert relate_to_hole(slotted, one(0.3, below), RULE, BOLT).relation is relation
    assert relate_to_hole(new(), one(0.3, below), RULE, BOLT).relation in (
        Relation.SERVES,
        Relation.NEAR,
    )
    beyond = relate_to_hole(slotted, one(0.0, 100.0 + 24.5), RULE, BOLT)
    assert not beyond.relation.is_reuse


# ------------------------------------------------------------------- openings and edges


def against(hole_at: tuple[float, float], item: Opening) -> HoleRelation:
    found = relate_to_opening(new(*hole_at), 1, item, RULE, BOLT)
    assert found is not None
    return found


@given(near, near, st.floats(5.0, 80.0), st.floats(5.0, 80.0))
def test_the_material_beside_a_square_opening_is_what_shapely_measures(
    across: float, below: float, wide: float, tall: float
) -> None:
    found = against((across, 100.0 + below), opening(0.0, 100.0, wide, tall))
    box = shapely.box(-wide / 2.0, -tall / 2.0, wide / 2.0, tall / 2.0)
    point = shapely.Point(across, below)
    outside = box.distance(point)
    expected = outside if outside > 0.0 else -box.exterior.distance(point)
    assert found.ligament_mm == pytest.approx(expected - 6.75, abs=1e-9)


def test_a_round_opening_has_the_material_of_a_hole() -> None:
    found = against((40.0, 100.0), opening(0.0, 100.0, 32.0))
    assert found.ligament_mm == pytest.approx(40.0 - 16.0 - 6.75)
    assert found.neighbour == "drain 1"


def test_an_old_slot_takes_the_bolt_and_a_drain_of_that_shape_does_not() -> None:
    slot = opening(0.0, 100.0, 14.0, 60.0, kind="other")
    assert against((0.2, 120.0), slot).relation is Relation.SLOT
    assert against((0.2, 140.0), slot).relation is not Relation.SLOT
    assert against((0.2, 120.0), replace(slot, kind="drain")).relation is Relation.BREAKS


def test_overlapping_slots_are_each_looked_at_on_their_own() -> None:
    slots = (
        opening(0.0, 90.0, 14.0, 60.0, kind="other"),
        opening(3.0, 110.0, 14.0, 60.0, kind="other"),
    )
    outline = transom_outline(sample_job(), None)
    found = fit_one(new(), HoleGrid(()), slots, outline, RULE, BOLT)
    kinds = [item.relation for item in found.against("opening")]
    assert sorted(kinds, key=lambda item: item.value) == [Relation.BREAKS, Relation.SLOT]
    assert found.reuse is not None


def test_an_opening_without_its_width_gives_no_relation() -> None:
    lacking = replace(opening(0.0, 100.0, 32.0), width=None)
    assert relate_to_opening(new(), 1, lacking, RULE, BOLT) is None


FACES = {
    "width only": {},
    "chine": {"face__chine_width": reading(1000.0), "face__chine_below_top": reading(300.0)},
    "notch": {"face__notch_width": reading(640.0), "face__notch_depth": reading(120.0)},
    "all": {
        "face__chine_width": reading(1000.0),
        "face__chine_below_top": reading(300.0),
        "face__notch_width": reading(640.0),
        "face__notch_depth": reading(120.0),
    },
}


def polygon(name: str) -> shapely.Polygon:
    """Return the transom as shapely sees it, starboard half first, deep where nothing is known."""
    right = [(360.0, 0.0)] if "notch" not in name and name != "all" else []
    if name in ("notch", "all"):
        right = [(320.0, 0.0), (320.0, -120.0), (360.0, -120.0), (360.0, 0.0)]
    right += [(500.0, 300.0)] if name in ("chine", "all") else [(360.0, 3000.0)]
    heel = [(0.0, 518.0)] if name in ("chine", "all") else []
    return shapely.Polygon([*right, *heel, *((-x, y) for x, y in reversed(right))])


@pytest.mark.parametrize("name", FACES)
@given(across=st.floats(-600.0, 600.0), below=st.floats(-200.0, 700.0))
def test_the_distance_to_the_nearest_edge_is_what_shapely_measures(
    name: str, across: float, below: float
) -> None:
    outline = transom_outline(sample_job(**FACES[name]), reading(518.0))
    found = outline.inside_mm(across, below)
    assert found is not None
    shape, point = polygon(name), shapely.Point(across, below)
    distance = shape.exterior.distance(point)
    assume(distance > 1e-6)
    assert abs(found[1]) == pytest.approx(distance, abs=1e-6)
    assert (found[1] > 0.0) == shape.contains(point)


def test_without_a_width_there_are_no_sides() -> None:
    outline = transom_outline(sample_job(transom__width_at_top=None), None)
    assert not outline.has_sides
    assert [edge.name for edge in outline.edges] == ["top"]
    names = {item.neighbour for item in relate_to_edges(new(), outline, RULE)}
    assert names == {"top"}


# ------------------------------------------------------------------- many holes


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.floats(-400, 400), st.floats(0, 500), st.floats(1, 150)), max_size=40),
    st.floats(-400, 400),
    st.floats(0, 500),
    st.floats(0, 80),
)
def test_the_grid_finds_exactly_the_holes_within_reach(
    holes: list[tuple[float, float, float]], across: float, below: float, reach: float
) -> None:
    every = [OldHole(n, str(n), x, y, r) for n, (x, y, r) in enumerate(holes, start=1)]
    found = [item.number for item in HoleGrid(every).near(across, below, reach)]
    expected = [
        item.number
        for item in every
        if math.hypot(item.across_mm - across, item.below_mm - below) - item.radius_mm <= reach
    ]
    assert sorted(found) == expected


@settings(max_examples=60)
@given(hole_jobs())
def test_what_the_grid_leaves_out_is_safely_clear_and_each_neighbour_comes_once(job: Job) -> None:
    case = case_of(job)
    fit = hole_fit(case)
    assert fit is not None
    for item in fit.holes:
        kept = [relation.number for relation in item.against("hole")]
        assert len(kept) == len(set(kept))
        for hole in fit.old.holes:
            if hole.number not in kept:
                found = relate_to_hole(item.hole, hole, fit.rule, fit.bolt)
                assert found.relation is Relation.CLEAR
                assert found.ligament_mm - found.required_mm >= found.tolerance_mm


# ------------------------------------------------------------------- symmetry


def answers(job: Job, *, turned: bool) -> Counter[tuple[object, ...]]:
    case = case_of(job)
    fit = hole_fit(case)
    assert fit is not None
    turn = other_side if turned else str
    found = [
        (turn(item.hole.feature.name), relation.what, relation.relation, relation.verdict,
         round(relation.distance_mm, 6), round(relation.ligament_mm, 6))
        for item in fit.holes
        for relation in item.relations
    ]  # fmt: skip
    found += [
        (turn(item.feature.name), item.verdict, round(min(item.clear_mm, 1e9), 6))
        for item in fit.exits
    ]
    return Counter(found)


@settings(max_examples=150)
@given(hole_jobs())
def test_a_mirrored_boat_has_mirrored_answers(job: Job) -> None:
    assert answers(job, turned=False) == answers(mirrored(job), turned=True)


@settings(max_examples=100)
@given(hole_jobs(), st.floats(-30.0, 30.0))
def test_moving_the_engine_and_all_that_is_there_alike_changes_nothing_but_the_edges(
    job: Job, by: float
) -> None:
    def moved(item: ExistingHole | Opening) -> object:
        assert item.across
        return replace(item, across=item.across.moved(by))

    off = job.mounting.off_centre
    assert off
    shifted = replace(
        job,
        holes=tuple(moved(item) for item in job.holes),
        openings=tuple(moved(item) for item in job.openings),
        no_go=(),
        mounting=replace(job.mounting, off_centre=off.moved(by)),
    )
    plain = replace(job, no_go=())

    def beside(of: Job) -> list[tuple[object, ...]]:
        fit = hole_fit(case_of(of))
        assert fit is not None
        rows = relations_of(fit, "hole", "opening")
        return sorted(
            (item.hole.feature.name, relation.neighbour, round(relation.ligament_mm, 6))
            for item, relation in rows
        )

    assert beside(shifted) == beside(plain)


# ------------------------------------------------------------------- findings


def test_the_old_holes_of_the_demo_engine_serve_by_the_readings_as_they_are() -> None:
    found = findings(holes=patterned())
    assert found[304].verdict is Verdict.TIGHT  # +/- 1 mm cannot prove 0.8 mm of play
    assert found[304].settle is not None
    assert "no" in found[307].sentence.text.lower()


def test_exactly_known_holes_and_a_chosen_bolt_fit() -> None:
    case = hole_case(
        holes=patterned(tol=0.0),
        bolting__bolt="half-13",
        mounting__upper_holes_below_top=reading(48.0, 0.0),
        engine__upper_spacing=reading(327.0, 0.0),
        engine__lower_spacing=reading(251.0, 0.0),
        engine__upper_to_lower=reading(203.0, 0.0),
    )
    found = {item.code: item for item in hole_findings(case, hole_fit(case))}
    assert {code: item.verdict for code, item in found.items()} == {
        304: Verdict.FITS,
        305: Verdict.FITS,
        307: Verdict.FITS,
    }


@pytest.mark.parametrize(
    ("change", "code", "verdict"),
    [
        ({"holes": patterned(shift=5.0)}, 304, Verdict.STOPS),
        ({"holes": patterned(shift=5.0)}, 307, Verdict.TIGHT),
        ({"holes": (old(0.0, 200.0),)}, 304, Verdict.FITS),
        ({"holes": (old(0.0, 200.0),)}, 307, Verdict.TIGHT),
        ({"holes": (old(-163.5, 48.0 + 30.0),)}, 304, Verdict.TIGHT),
        ({"openings": (opening(-125.5, 251.0, 32.0),)}, 305, Verdict.STOPS),
        ({"openings": (opening(0.0, 400.0, 32.0),)}, 305, Verdict.FITS),
        ({"transom__width_at_top": reading(390.0, 3.0)}, 305, Verdict.TIGHT),
        ({"transom__width_at_top": reading(330.0, 3.0)}, 305, Verdict.STOPS),
        ({"transom__width_at_top": reading(300.0, 3.0)}, 305, Verdict.STOPS),
        ({"transom__width_at_top": None}, 305, Verdict.UNKNOWN),
        ({"no_go": (no_go(-135.0, -100.0, 200.0, 400.0),)}, 306, Verdict.STOPS),
        ({"no_go": (no_go(-20.0, 20.0, 200.0, 400.0),)}, 306, Verdict.TIGHT),  # no washer chosen
        (
            {
                "no_go": (no_go(-20.0, 20.0, 200.0, 400.0),),
                "bolting__washer": "M12-wide",
                "bolting__backing": "washers",
            },
            306,
            Verdict.FITS,
        ),
        (
            {
                "no_go": (no_go(-20.0, 20.0, 200.0, 400.0),),
                "bolting__plate_width": reading(400.0, 1.0),
                "bolting__plate_height": reading(80.0, 1.0),
                "bolting__backing": "plate",
            },
            306,
            Verdict.STOPS,
        ),
        (
            {"no_go": (no_go(-20.0, 20.0, 200.0, 400.0),), "transom__thickness": None},
            306,
            Verdict.UNKNOWN,
        ),
    ],
)
def test_one_thing_on_the_transom_changes_that_answer(
    change: dict[str, object], code: int, verdict: Verdict
) -> None:
    assert findings(**change)[code].verdict is verdict


def test_what_is_not_there_gets_no_finding() -> None:
    assert set(findings()) == {305}


def test_unfit_figures_of_the_class_never_fit() -> None:
    for name in ("upper_spacing", "lower_spacing", "upper_to_lower"):
        found = findings(**{f"engine__{name}": None, "holes": (old(0.0, 200.0),)})
        assert found[305].verdict is Verdict.TIGHT


def test_behind_a_bracket_the_pattern_is_the_brackets_and_never_fits() -> None:
    job = bracket_job(STEPPED)
    fit = hole_fit(case_of(replace(job, holes=patterned())))
    assert fit is not None
    assert {item.hole.is_firm for item in fit.holes} == {False}
    verdicts = [relation.verdict for _, relation in relations_of(fit, "hole", "edge")]
    assert Verdict.FITS not in verdicts


def test_undecided_holes_wait_for_a_height_and_a_clamped_engine_has_none() -> None:
    found = findings(holes=patterned(), mounting__upper_holes_below_top=None)
    assert set(found) == {304}
    assert found[304].verdict is Verdict.UNKNOWN
    assert findings(holes=patterned(), engine__engine_class=CLAMPED) == {}


@settings(max_examples=80)
@given(hole_jobs())
def test_every_finding_can_be_said_and_names_a_source(job: Job) -> None:
    case = case_of(job)
    for finding in hole_findings(case, hole_fit(case)):
        assert finding.source in SOURCES
        for words in (finding.sentence, finding.settle, *finding.working):
            assert words is None or not set("{}") & set(say(words, shown(job.units)))
        if finding.verdict is Verdict.UNKNOWN:
            assert finding.settle is not None
        if finding.verdict is Verdict.FITS and finding.margin is not None:
            assert finding.tolerance is not None
            assert finding.margin >= finding.tolerance


def test_the_report_carries_the_fit_and_the_reuse() -> None:
    report = fit_check(sample_job(holes=patterned()), CATALOGUE)
    assert report.holes is not None
    assert [item.reuse is not None for item in report.holes.holes] == [True] * 4
    assert len(report.reuse[0].reused) == 4


# ------------------------------------------------------------------- what cannot be right


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        (old(0.0, 200.0, 0.0), "no diameter"),
        (old(1700.0, 100.0), "off the transom"),
        (replace(old(0.0, 100.0), across=None), "lacks"),
    ],
)
def test_a_hole_that_cannot_be_right_is_named_and_nothing_fits(
    hole: ExistingHole, words: str
) -> None:
    found = findings(holes=(replace(hole, name="the odd one"),))
    said = say(found[304].settle, shown(sample_job().units))  # type: ignore[arg-type]
    assert words in said
    assert "the odd one" in said
    assert found[304].verdict.rank >= Verdict.UNKNOWN.rank


def test_holes_without_a_diameter_are_left_out_of_the_fit() -> None:
    holes, faults = old_holes((old(0.0, 50.0, 0.0), old(5.0, 60.0)))
    assert [item.number for item in holes] == [2]
    assert len(faults) == 1


def test_a_place_inside_entered_the_wrong_way_round_is_not_trusted() -> None:
    found = findings(no_go=(no_go(60.0, 20.0, 200.0, 400.0),))
    assert found[306].verdict is Verdict.UNKNOWN
    assert found[306].settle is not None
    assert "swapped" in found[306].settle.text
    straight = findings(no_go=(no_go(-20.0, 20.0, 200.0, 400.0),))[306]
    turned = findings(no_go=(no_go(20.0, -20.0, 400.0, 200.0),))[306]
    assert turned.value == straight.value


def test_a_place_inside_without_all_its_edges_is_unknown() -> None:
    found = findings(no_go=(replace(no_go(-20.0, 20.0, 200.0, 400.0), below_to=None),))
    assert found[306].verdict is Verdict.UNKNOWN


def test_an_opening_half_described_leaves_the_answer_open() -> None:
    lacking = replace(opening(0.0, 400.0, 32.0), width=None)
    found = findings(openings=(lacking,))[305]
    assert found.verdict is Verdict.UNKNOWN
    assert found.settle is not None
    assert "opening" in found.settle.text


def test_many_names_are_counted_and_not_listed() -> None:
    assert named("abcdefgh") == "a, b, c, d, e, f and 2 more"
    assert named("ab") == "a, b"


# ------------------------------------------------------------------- a second engine

KICKER = {
    "neighbour__arrangement": "kicker",
    "neighbour__kicker_pattern": "four-bolt",
    "neighbour__kicker_across": reading(430.0, 3.0),
    "neighbour__kicker_upper_holes": reading(60.0, 3.0),
    "transom__width_at_top": reading(1400.0, 3.0),
}


def twins(spacing: float | None) -> dict[str, object]:
    apart = None if spacing is None else reading(spacing, 1.0)
    return {
        "neighbour": Neighbour(arrangement="twins", twin_spacing=apart),
        "transom__width_at_top": reading(1600.0, 3.0),
    }


@pytest.mark.parametrize(
    ("spacing", "verdict"),
    [
        (700.0, Verdict.FITS),
        (660.0, Verdict.TIGHT),
        (600.0, Verdict.TIGHT),
        (800.0, Verdict.TIGHT),
        (560.0, Verdict.STOPS),
        (400.0, Verdict.STOPS),
        (None, Verdict.UNKNOWN),
    ],
)
def test_twins_are_judged_by_their_distance(spacing: float | None, verdict: Verdict) -> None:
    assert findings(**twins(spacing))[308].verdict is verdict


def test_twins_have_a_pattern_each_at_half_the_spacing() -> None:
    case = hole_case(**twins(700.0), mounting__off_centre=reading(10.0, 0.0))
    found = [item.feature for item in new_holes(case, reading(48.0), 10.0)]
    assert len(found) == len({item.name for item in found}) == 8
    for engine, middle in (("port engine", -340.0), ("starboard engine", 360.0)):
        own = sorted(item.across_mm for item in found if item.engine == engine)
        assert own == pytest.approx(sorted(middle + x for x, _ in HALVES))


def test_the_template_of_twins_proves_each_engine_square() -> None:
    template = drilling_template(hole_case(**twins(700.0)))
    assert len(template.features) == 8
    lengths = [
        math.hypot(a.across_mm - b.across_mm, a.below_top_mm - b.below_top_mm)
        for a, b in template.diagonals
    ]
    assert len(lengths) == 4
    assert lengths == pytest.approx([lengths[0]] * 4)
    assert all(first.engine == second.engine for first, second in template.diagonals)


def test_a_template_says_when_the_second_engine_is_missing_from_it() -> None:
    assert "ONE ENGINE ONLY" in drilling_template(hole_case(**twins(None))).notes[0]
    lacking = {**KICKER, "neighbour__kicker_across": None}
    assert "WITHOUT THE KICKER" in drilling_template(hole_case(**lacking)).notes[0]


def test_a_kicker_brings_its_own_holes_and_never_fits() -> None:
    found = findings(**KICKER)[308]
    assert found.verdict is Verdict.TIGHT
    template = drilling_template(hole_case(**KICKER))
    assert [item.engine for item in template.features].count("kicker") == 4
    close = {**KICKER, "neighbour__kicker_across": reading(150.0, 3.0)}
    assert findings(**close)[308].verdict is Verdict.STOPS


@pytest.mark.parametrize("name", ["kicker_across", "kicker_pattern", "kicker_upper_holes"])
def test_a_kicker_half_described_is_unknown(name: str) -> None:
    blank = "" if name == "kicker_pattern" else None
    found = findings(**{**KICKER, f"neighbour__{name}": blank})[308]
    assert found.verdict is Verdict.UNKNOWN
    assert found.settle is not None


def test_two_loaded_bolts_want_more_between_them_than_an_old_hole_does() -> None:
    case = hole_case()
    fit = hole_fit(case)
    assert fit is not None
    apart = 13.5 * 3.0  # rim to rim two diameters: enough beside an old hole
    first, second = new(0.0), new(apart + 0.01)
    assert pair_verdict(first, second, fit) is Verdict.TIGHT
    assert relate_to_hole(first, one(apart, 100.0), RULE, BOLT).verdict is Verdict.FITS
    assert pair_verdict(first, new(apart - 0.1), fit) is Verdict.STOPS


def test_a_slotted_pattern_gives_slots_to_the_lower_bolts_only() -> None:
    slotted = HolePattern(
        "four-bolt", "slotted", "class", (50.8, 69.85), 327.0, 203.0, 251.0, 60.0, 13.5
    )
    catalogue = replace(FASTENERS, hole_patterns={**FASTENERS.hole_patterns, "four-bolt": slotted})
    case = replace(hole_case(holes=(old(125.5, 270.0),)), catalogue=catalogue)
    fit = hole_fit(case)
    assert fit is not None
    assert [item.hole.bracket_slot_mm for item in fit.holes] == [0.0, 0.0, 60.0, 60.0]
    served = [item for item in fit.holes if item.reuse]
    assert [item.hole.feature.name for item in served] == ["lower starboard"]
    assert served[0].reuse is not None
    assert served[0].reuse.relation is Relation.SLOT


@pytest.mark.parametrize(
    ("size", "bolt", "verdict"),
    [
        (13.5, "", Verdict.FITS),  # 1/2 in and M12 both pass
        (15.2, "", Verdict.TIGHT),  # too loose for M12, and nobody said which
        (15.2, "half-13", Verdict.FITS),
    ],
)
def test_an_answer_without_a_chosen_bolt_fits_where_it_holds_for_every_bolt_meant(
    size: float, bolt: str, verdict: Verdict
) -> None:
    exact = reading(0.0, 0.0)
    case = hole_case(
        holes=patterned(tol=0.0, diameter=size),
        bolting__bolt=bolt,
        mounting__upper_holes_below_top=replace(exact, value=48.0),
        engine__upper_spacing=replace(exact, value=327.0),
        engine__lower_spacing=replace(exact, value=251.0),
        engine__upper_to_lower=replace(exact, value=203.0),
    )
    fit = hole_fit(case)
    assert fit is not None
    assert {item.verdict for item in fit.holes} == {verdict}


def test_the_play_is_that_of_the_thickest_bolt_meant_or_of_the_chosen_one() -> None:
    loose = hole_fit(hole_case(holes=patterned(tol=0.0)))
    chosen = hole_fit(hole_case(holes=patterned(tol=0.0), bolting__bolt="M12"))
    assert loose is not None
    assert chosen is not None
    assert not loose.bolt.is_firm
    assert chosen.bolt.diameter_mm == 12.0
    assert chosen.holes[0].reuse is not None
    assert chosen.holes[0].reuse.play_mm == pytest.approx(1.5)
    assert loose.footprint.origin is Origin.DEFAULT
