"""Dash cut-outs: cover and gaps in closed form, against shapes of points, and their findings."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Point, box

from rigfit.rigging.bolting_fields import DashCutout
from rigfit.rigging.checks_dash import check_dash
from rigfit.rigging.dash import (
    RING_LAP_MM,
    SHEET_TOLERANCE_MM,
    Fate,
    Shape,
    cover_mm,
    dash_fits,
    gap_mm,
)
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.readings import Origin
from rigfit.rigging.tolerance import expanded
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import CATALOGUE, case_of, reading, sample_job

sizes = st.floats(5.0, 300.0)
shapes = st.builds(Shape, sizes, st.one_of(st.none(), sizes))
places = st.tuples(st.floats(-400.0, 400.0), st.floats(-400.0, 400.0))


def area(shape: Shape, at: tuple[float, float] = (0.0, 0.0)):
    """Return a shape as a polygon; a circle's lies outside it by less than 1e-5 of its size."""
    (x, y), (wide, tall) = at, shape.half_mm
    if shape.is_round:
        return Point(x, y).buffer(wide, quad_segs=200)
    return box(x - wide, y - tall, x + wide, y + tall)


def cutout(old=86.0, new=85.0, rim=95.0, across=120.0, down=80.0, **changes) -> DashCutout:
    def stated(value):
        return reading(value, 0.0, Origin.STATED) if value else None

    made = DashCutout(
        name="rev counter",
        across=reading(across, 0.5),
        down=reading(down, 0.5),
        old_width=reading(old, 0.5) if old else None,
        new_width=stated(new),
        bezel_width=stated(rim),
    )
    return replace(made, **changes)


def only(*cutouts: DashCutout):
    return dash_fits(cutouts)[0]


def finding(*cutouts: DashCutout):
    return check_dash(case_of(sample_job(dash=cutouts)))[0]


# ---------------------------------------------------------------------------- geometry


@pytest.mark.parametrize(
    ("rim", "opening", "cover"),
    [
        (Shape(95.0), Shape(86.0), 4.5),
        (Shape(80.0), Shape(86.0), -3.0),
        (Shape(100.0), Shape(60.0, 80.0), 0.0),
        (Shape(120.0, 90.0), Shape(100.0, 84.0), 3.0),
        (Shape(120.0, 90.0), Shape(84.0), 3.0),
        (Shape(70.0, 70.0), Shape(80.0), -5.0),
    ],
)
def test_cover_in_closed_form(rim: Shape, opening: Shape, cover: float) -> None:
    assert cover_mm(rim, opening) == pytest.approx(cover)


@given(shapes, shapes)
def test_a_rim_covers_when_the_opening_grown_by_the_cover_still_lies_in_it(
    rim: Shape, opening: Shape
) -> None:
    cover = cover_mm(rim, opening)
    assume(abs(cover) > 0.05)
    assert area(rim).buffer(0.01).covers(area(opening)) == (cover > 0.0)


@given(shapes, shapes, st.floats(0.1, 5.0))
def test_cover_scales_and_falls_as_the_opening_grows(
    rim: Shape, opening: Shape, factor: float
) -> None:
    def scaled(shape: Shape) -> Shape:
        tall = None if shape.height_mm is None else shape.height_mm * factor
        return Shape(shape.width_mm * factor, tall)

    cover = cover_mm(rim, opening)
    assert cover_mm(scaled(rim), scaled(opening)) == pytest.approx(factor * cover, abs=1e-9)
    assert cover_mm(rim, opening.grown(1.0)) <= cover - 1.0 + 1e-9


@given(shapes, places, shapes, places)
def test_the_gap_is_the_distance_of_the_shapes(first, first_at, second, second_at) -> None:
    gap = gap_mm(first, first_at, second, second_at)
    one, other = area(first, first_at), area(second, second_at)
    assert max(0.0, gap) == pytest.approx(one.distance(other), abs=0.01)
    assume(abs(gap) > 0.05)
    assert one.intersects(other) == (gap < 0.0)


@given(shapes, places, shapes, places)
def test_the_gap_does_not_know_left_from_right_nor_first_from_second(
    first, first_at, second, second_at
) -> None:
    gap = gap_mm(first, first_at, second, second_at)
    mirrored = gap_mm(first, (-first_at[0], first_at[1]), second, (-second_at[0], second_at[1]))
    assert mirrored == gap
    assert gap_mm(second, second_at, first, first_at) == pytest.approx(gap)


# ---------------------------------------------------------------------------- what becomes of it


@pytest.mark.parametrize(
    ("made", "fate"),
    [
        (cutout(), Fate.COVERED),
        (cutout(old=100.0), Fate.RING),
        (cutout(old=80.0), Fate.ENLARGE),
        (cutout(old=None), Fate.NEW),
        (cutout(rim=None), Fate.UNKNOWN),
        (cutout(rim=84.0), Fate.UNKNOWN),
        (cutout(new=None), Fate.UNKNOWN),
        (cutout(across=40.0), Fate.CLASH),
        (cutout(down=40.0), Fate.CLASH),
        (cutout(old=70.0, old_height=reading(80.0)), Fate.RING),
        (cutout(old=60.0, old_height=reading(60.0)), Fate.ENLARGE),
    ],
)
def test_what_becomes_of_a_cutout(made: DashCutout, fate: Fate) -> None:
    assert only(made).fate is fate


@given(sizes, sizes, sizes)
def test_a_round_cutout_is_covered_enlarged_or_ringed_by_its_diameters(old, new, rim) -> None:
    assume(rim > new and len({old, new, rim}) == 3)
    fit = only(cutout(old, new, rim, across=400.0, down=400.0))
    assert (fit.fate is Fate.RING) == (old > rim)
    assert fit.is_cut == (new > old)
    assert fit.cover_mm == pytest.approx((rim - max(old, new)) / 2.0)
    if fit.ring:
        assert fit.ring.width_mm == pytest.approx(old + 2.0 * RING_LAP_MM)
        assert cover_mm(fit.ring, Shape(old)) == pytest.approx(RING_LAP_MM)


@given(st.floats(60.0, 300.0), st.floats(0.0, math.tau))
def test_neighbours_clash_alike_whichever_is_asked(apart: float, way: float) -> None:
    first = cutout(across=700.0, down=700.0)
    second = cutout(
        across=700.0 + apart * math.cos(way), down=700.0 + apart * math.sin(way), name="speed"
    )
    one, other = dash_fits((first, second))
    assert one.clash is not None
    assert one.clash.gap_mm == pytest.approx(apart - 95.0)
    assert other.clash is not None
    assert other.clash.gap_mm == pytest.approx(one.clash.gap_mm)
    assert (one.clash.with_what, other.clash.with_what) == ("speed", "rev counter")


def test_a_ring_takes_the_room_of_the_rim() -> None:
    first, second = cutout(old=110.0), cutout(across=230.0, name="speed")
    fit = dash_fits((first, second))[0]
    assert fit.clash is not None
    assert fit.clash.gap_mm == pytest.approx(110.0 - 120.0 / 2.0 - 95.0 / 2.0)


def test_the_tolerance_is_of_half_the_difference_of_the_diameters() -> None:
    assert only(cutout()).tolerance_mm == pytest.approx(expanded(0.25, SHEET_TOLERANCE_MM / 2.0))


# ---------------------------------------------------------------------------- findings


def test_a_boat_without_cutouts_has_no_finding() -> None:
    report = fit_check(sample_job(), CATALOGUE)
    assert [item for item in report.findings if item.code == 801] == []


def test_there_is_one_finding_for_each_cutout() -> None:
    job = sample_job(dash=(cutout(), cutout(across=400.0, name="")))
    found = [item for item in fit_check(job, CATALOGUE).findings if item.code == 801]
    assert [item.title for item in found] == ["dash, rev counter", "dash, cut-out 2"]
    assert {item.subject for item in found} == {"boat"}


@pytest.mark.parametrize(
    ("made", "verdict", "words"),
    [
        (cutout(), Verdict.FITS, "The rim covers the old opening by 4.5 mm all round."),
        (cutout(rim=88.0), Verdict.TIGHT, "The rim covers the old opening by 1 mm all round."),
        (
            cutout(old=100.0),
            Verdict.TIGHT,
            "The old opening reaches 2.5 mm past the rim: it needs an adapter ring of at least "
            "110 mm diameter outside, with an opening of 85 mm diameter.",
        ),
        (
            cutout(old=80.0),
            Verdict.TIGHT,
            "The old opening is to be enlarged to 85 mm diameter, 2.5 mm further out at most; the "
            "rim covers the old edge by 5 mm.",
        ),
        (
            cutout(old=None),
            Verdict.TIGHT,
            "A new hole of 85 mm diameter is to be cut; the rim covers its edge by 5 mm.",
        ),
        (
            cutout(across=40.0),
            Verdict.STOPS,
            "Its rim overlaps the left edge of the dash by 7.5 mm.",
        ),
        (
            cutout(rim=None),
            Verdict.UNKNOWN,
            "Its rim is not known, so nobody can say whether it covers the opening.",
        ),
        (
            cutout(across=48.0),
            Verdict.TIGHT,
            "The rim covers the old opening by 4.5 mm all round. It all but touches the left edge "
            "of the dash: 0.5 mm between them.",
        ),
    ],
)
def test_what_a_finding_says(made: DashCutout, verdict: Verdict, words: str) -> None:
    found = finding(made)
    assert (found.verdict, say(found.sentence, Shown())) == (verdict, words)
    assert found.source in SOURCES


@pytest.mark.parametrize("missing", ["across", "down", "new_width", "bezel_width"])
def test_without_a_reading_it_is_unknown_and_says_what_settles_it(missing: str) -> None:
    found = finding(replace(cutout(), **{missing: None}))
    assert found.verdict is Verdict.UNKNOWN
    assert found.settle is not None


@given(sizes, st.one_of(st.none(), sizes), sizes)
def test_nothing_that_is_to_be_cut_reads_fits(new, old, rim) -> None:
    made = cutout(old, new, rim, across=400.0, down=400.0)
    if only(made).is_cut:
        assert finding(made).verdict is not Verdict.FITS


@given(sizes, sizes, sizes)
def test_inches_say_the_same_in_their_own_units(old, new, rim) -> None:
    found = finding(cutout(old, new, rim))
    assert "{" not in say(found.sentence, Shown("in"))


def test_a_name_with_braces_does_no_harm() -> None:
    found = check_dash(
        case_of(sample_job(dash=(cutout(name="{x}"), cutout(across=150.0, name="{y}"))))
    )
    assert say(found[0].sentence, Shown()) == "Its rim overlaps {y} by 65 mm."


def test_the_play_in_a_larger_old_opening_is_in_the_working() -> None:
    (line,) = finding(cutout(old=88.0)).working
    assert say(line, Shown()).startswith("The instrument has 1.5 mm of play each way")
