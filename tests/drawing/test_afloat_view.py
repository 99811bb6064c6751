"""The drawing afloat: water where it was reckoned, marks in place, nothing over anything else."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.drawing.afloat_view import (
    NARROW,
    WIDE,
    afloat_scene,
    margin_curve_scene,
    mark_numbers,
)
from rigfit.drawing.fonts import text_box
from rigfit.drawing.labels import VERDICT_INK
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.scene import Disc, Ink, Path, Scene, Text
from rigfit.drawing.to_axes import to_png
from rigfit.rigging.afloat import Flotation
from rigfit.rigging.checks_flotation import check_flotation, limits_of, mark_verdict
from rigfit.rigging.hull_fields import Afloat, WaterMark
from rigfit.rigging.margins import kilograms_until_wet, margin_curve
from rigfit.units import Shown
from tests.builders import reading
from tests.rigging.afloat_jobs import HULL, afloat_case, floated
from tests.rigging.test_margins import pod_job

MM, INCH = Shown(), Shown("in")
MANY = tuple(
    WaterMark(f"a place with a long name {k}", "other", above_water=reading(60.0 + 25.0 * k, 5.0))
    for k in range(12)
)


def no_before() -> Flotation:
    hull = replace(HULL, mass=reading(420.0, 20.0), centre_ahead=reading(2200.0, 50.0))
    return floated(hull=hull, afloat=Afloat())


CASES = {
    "plain": floated(),
    "many marks": floated(marks=MANY),
    "wet": floated(afloat__scupper=reading(20.0, 5.0)),
    "not read afloat": no_before(),
}


def by_ref(scene: Scene, ref: str):
    return next(item for item in scene.items if item.ref == ref)


def overlaps(scene: Scene) -> list[tuple[str, str]]:
    """Return pairs of words whose boxes overlap by more than a hair."""
    boxes = []
    for item in scene.items:
        if isinstance(item, Text):
            xs, ys = zip(*text_box(item, scene.scale), strict=True)
            boxes.append((item.words, min(xs), min(ys), max(xs), max(ys)))
    hair = 0.05 * scene.scale
    return [
        (a[0], b[0])
        for a, b in itertools.combinations(boxes, 2)
        if a[1] < b[3] - hair and b[1] < a[3] - hair and a[2] < b[4] - hair and b[2] < a[4] - hair
    ]


@pytest.mark.parametrize("style", [MM, INCH], ids=["mm", "in"])
@pytest.mark.parametrize("flotation", CASES.values(), ids=CASES)
def test_no_words_stand_on_others(flotation: Flotation, style: Shown) -> None:
    assert overlaps(afloat_scene(flotation, style, "Dunlin")) == []
    assert overlaps(afloat_scene(flotation, style, "Dunlin", NARROW)) == []
    assert overlaps(margin_curve_scene(flotation, style)) == []


@pytest.mark.parametrize("flotation", CASES.values(), ids=CASES)
def test_the_hull_goes_on_the_sheet(flotation: Flotation) -> None:
    for layout in (WIDE, NARROW):
        scene = afloat_scene(flotation, MM, "", layout)
        assert flotation.form.length_mm / scene.scale <= layout.hull


def test_the_water_lies_where_it_was_reckoned() -> None:
    found = floated()
    scene = afloat_scene(found, MM)
    assert found.before is not None
    for ref, plane in (("water-now", found.before.plane), ("water-after", found.after.plane)):
        line = by_ref(scene, ref)
        assert isinstance(line, Path)
        for x, y in line.points:
            assert y == pytest.approx(plane.at(-x))


def test_marks_stand_at_their_places() -> None:
    found = floated()
    scene = afloat_scene(found, MM)
    order = sorted(found.marks, key=lambda mark: mark.after.value)
    for number, mark in enumerate(order, start=1):
        item = by_ref(scene, f"mark-{number}")
        # A number that had to make room is led to from its place.
        at = item.centre if isinstance(item, Disc) else item.points[0]
        assert at == pytest.approx((-mark.ahead_mm, mark.z_mm))


def test_numbers_stand_on_no_others() -> None:
    scene = afloat_scene(CASES["many marks"], MM)
    discs = [item for item in scene.items if isinstance(item, Disc) and item.layer == "MARKS"]
    numbers = [disc for disc in discs if disc.ref.startswith("mark-")]
    for one, other in itertools.combinations(numbers, 2):
        gap = math.dist(one.centre, other.centre)
        assert gap >= one.radius_mm + other.radius_mm - 1e-6


def test_the_transom_leans_as_measured() -> None:
    outline = by_ref(afloat_scene(floated(), MM), "hull")
    assert isinstance(outline, Path)
    x, z = max(outline.points)
    assert x == pytest.approx(z * math.tan(math.radians(14.0)))


def test_columns_are_as_tall_as_the_marks_are_high() -> None:
    found = floated()
    scene = afloat_scene(found, MM)
    order = sorted(found.marks, key=lambda mark: mark.after.value)
    tall = []
    for number in range(1, len(order) + 1):
        line = by_ref(scene, f"height-{number}")
        assert isinstance(line, Path)
        tall.append(line.points[1][1] - line.points[0][1])
    ratio = [height / mark.after.value for height, mark in zip(tall, order, strict=True)]
    assert ratio == pytest.approx([ratio[0]] * len(ratio))


def test_the_drawing_and_the_findings_agree_on_the_verdict() -> None:
    found = floated()
    judged = {
        finding.title.removesuffix(" above water"): finding.verdict
        for finding in check_flotation(afloat_case())
        if finding.code == 512
    }
    drawn = {mark.name: mark_verdict(found, mark) for mark in found.marks}
    assert judged
    assert {name: drawn[name] for name in judged} == judged


def test_a_verdict_is_a_word_and_not_colour_alone() -> None:
    found = floated()
    scene = afloat_scene(found, MM)
    said = [item for item in scene.items if isinstance(item, Text)]
    assert found.marks
    for mark in found.marks:
        verdict = mark_verdict(found, mark)
        words = verdict.value.upper()
        assert any(item.words == words and item.ink is VERDICT_INK[verdict] for item in said)


def test_the_curve_meets_the_water_at_the_kilograms_until_wet() -> None:
    found = floated()
    scene = margin_curve_scene(found, MM)
    water = by_ref(scene, "water")
    assert isinstance(water, Path)
    left, right = water.points[0][0], water.points[1][0]
    wet = kilograms_until_wet(found)[0]
    assert wet.kg is not None
    points = margin_curve(found, 100.0, 3)
    assert points[0].added_kg == 0.0
    dots = [item for item in scene.items if isinstance(item, Disc) and item.pen is None]
    first = min(dot.centre[0] for dot in dots)
    assert left < first < right
    assert all(dot.centre[1] == pytest.approx(water.points[0][1]) for dot in dots)


def test_what_was_not_read_afloat_is_said_to_be_an_estimate() -> None:
    scene = afloat_scene(no_before(), MM)
    said = " ".join(item.words for item in scene.items if isinstance(item, Text))
    assert "Nothing was read afloat" in said
    assert "water-now" not in {item.ref for item in scene.items}


def test_masses_that_change_are_named() -> None:
    said = [item.words for item in afloat_scene(floated(), MM).items if isinstance(item, Text)]
    assert "off: old engine, 118 kg" in said
    assert "on: engine A, 165 kg" in said


def test_a_boat_without_marks_is_drawn() -> None:
    hull = replace(HULL, mass=reading(420.0, 20.0), centre_ahead=reading(2200.0, 50.0))
    found = floated(
        hull=hull, afloat=Afloat(), marks=(), transom__height_along_face=None,
        transom__height_square=None,
    )  # fmt: skip
    assert found.marks == ()
    assert to_png(afloat_scene(found, MM), LIGHT, 60.0).startswith(b"\x89PNG")


def test_a_pod_is_drawn_where_it_was_measured() -> None:
    scene = afloat_scene(pod_job(), MM)
    pod = by_ref(scene, "pod")
    assert isinstance(pod, Path)
    xs, zs = zip(*pod.points, strict=True)
    assert (min(xs), max(xs)) == (0.0, 500.0)
    assert (min(zs), max(zs)) == (40.0, 490.0)
    assert overlaps(scene) == []


@pytest.mark.parametrize("layout", [WIDE, NARROW], ids=["wide", "narrow"])
def test_arrows_point_down_for_what_goes_on_and_up_for_what_comes_off(layout) -> None:
    found = floated()
    items = afloat_scene(found, MM, "", layout).items
    for masses, way in ((found.added, -1.0), (found.removed, 1.0)):
        for mass in masses:
            heads = [
                item for item in items
                if item.ref == f"mass-{mass.name.replace(' ', '-')}"
                and isinstance(item, Path) and item.fill is Ink.ACCENT
            ]  # fmt: skip
            assert len(heads) == 1
            tip = heads[0].points[0]
            assert tip[0] == pytest.approx(-mass.ahead_mm)
            assert (tip[1] - mass.above_mm) * way > 0.0


def test_what_is_wanted_is_drawn_beside_every_column_on_its_scale() -> None:
    found = floated()
    scene = afloat_scene(found, MM)
    order = sorted(found.marks, key=lambda mark: mark.after.value)
    for number, mark in enumerate(order, start=1):
        column, wanted = by_ref(scene, f"height-{number}"), by_ref(scene, f"wanted-{number}")
        foot = column.points[0][1]
        unit = (column.points[1][1] - foot) / mark.after.value
        low = limits_of(mark).low
        assert (wanted.points[0][1] - foot) / unit == pytest.approx(low)


def test_the_axes_of_the_curve_are_round_in_the_unit_shown() -> None:
    found = floated()
    said = [i.words for i in margin_curve_scene(found, INCH).items if isinstance(i, Text)]
    assert any(words.endswith(" lb") and words.split()[0] in ("50", "100", "200") for words in said)
    heights = [words for words in said if words.lstrip("-").isdigit() and len(words) < 4]
    assert len(heights) >= 3
    assert any("Inches above water" in words for words in said)


@given(st.lists(st.tuples(st.floats(-300.0, 300.0), st.floats(0.0, 700.0)), max_size=6))
@settings(max_examples=60, deadline=None)
def test_numbers_find_room_wherever_marks_stand(places) -> None:
    marks = [
        replace(floated_mark, ahead_mm=x, z_mm=z)
        for floated_mark, (x, z) in zip(
            [CASES["plain"].marks[0]] * len(places), places, strict=True
        )
    ]
    discs = [item for item in mark_numbers(marks, 40.0) if isinstance(item, Disc)]
    assert len(discs) == len(places)
    for one, other in itertools.combinations(discs, 2):
        assert math.dist(one.centre, other.centre) >= one.radius_mm + other.radius_mm - 1e-6


@pytest.mark.parametrize("layout", [WIDE, NARROW], ids=["wide", "narrow"])
def test_the_water_reaches_past_a_pod_and_its_words_stand_beside(layout) -> None:
    items = afloat_scene(pod_job(), MM, "", layout).items
    pod = next(item for item in items if item.ref == "pod")
    aft = max(x for x, _ in pod.points)
    line = next(item for item in items if item.ref == "water-after")
    assert max(x for x, _ in line.points) > aft
    if not layout.is_narrow:
        said = next(i for i in items if isinstance(i, Text) and i.words == "Water afterwards")
        assert said.at[0] > aft
