import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from rigfit.drawing.dimensioning import (
    ARROW_MM,
    angle_between,
    leader,
    level_mark,
    linear,
    whisker,
)
from rigfit.drawing.fonts import text_box, text_width_mm
from rigfit.drawing.scene import MEASURE, Disc, Ink, Path, Scene, Text, arc_of, flatten
from rigfit.drawing.to_dxf import audit, to_dxf

PLACES = st.floats(-1000.0, 1000.0)
POINTS = st.tuples(PLACES, PLACES)
SCALES = st.sampled_from([1.0, 5.0, 10.0])
WORDS = st.sampled_from(["8", "508 ±3", "1 234.5 ±0.5 square to keel"])


def texts(items):
    return [item for item in items if isinstance(item, Text)]


def heads(items):
    return [item for item in items if isinstance(item, Path) and item.fill is Ink.MUTED]


def lines(items):
    return [item for item in items if isinstance(item, Path) and item.fill is None]


def flat(path):
    return [value for point in path.points for value in point]


def test_a_dimension_is_made_of_the_agreed_parts():
    items = linear((0.0, 0.0), (400.0, 0.0), offset=10.0, words="400", scale=5.0, ref="width")
    assert len(lines(items)) == 3
    assert len(heads(items)) == 2
    assert [text.words for text in texts(items)] == ["400"]
    assert {(item.group, item.layer, item.ref) for item in items} == {
        ("measures", "MEASURES", "width")
    }
    assert {line.pen for line in lines(items)} == {MEASURE}
    assert all(len(line.points) == 2 for line in lines(items))


def test_the_line_lies_to_the_left_at_its_offset_on_paper():
    items = linear((0.0, 0.0), (400.0, 0.0), offset=10.0, words="400", scale=5.0)
    assert flat(lines(items)[2]) == pytest.approx([0.0, 50.0, 400.0, 50.0])
    under = linear((0.0, 0.0), (400.0, 0.0), offset=-10.0, words="400", scale=5.0)
    assert [y for _, y in lines(under)[2].points] == pytest.approx([-50.0, -50.0])


def test_extension_lines_keep_clear_and_run_past():
    items = linear((0.0, 0.0), (400.0, 0.0), offset=10.0, words="400", scale=5.0)
    assert flat(lines(items)[0]) == pytest.approx([0.0, 5.0, 0.0, 57.5])
    assert flat(lines(items)[1]) == pytest.approx([400.0, 5.0, 400.0, 57.5])


def test_a_point_on_the_line_needs_no_extension():
    items = linear((0.0, 0.0), (400.0, 30.0), offset=0.0, words="400", scale=5.0, direction=0.0)
    assert len(lines(items)) == 2


@pytest.mark.parametrize("direction", [0.0, 180.0])
def test_a_horizontal_distance_between_points_at_unlike_heights(direction):
    items = linear(
        (0.0, 0.0), (400.0, 300.0), offset=10.0, words="400", scale=5.0, direction=direction
    )
    level = 350.0 if direction == 0.0 else -50.0
    assert [y for _, y in lines(items)[-1].points] == pytest.approx([level, level])
    tips = sorted(head.points[0] for head in heads(items))
    assert tips == [pytest.approx((0.0, level)), pytest.approx((400.0, level))]


def test_arrowheads_are_slim_and_point_outwards():
    first, last = heads(linear((0.0, 0.0), (400.0, 0.0), offset=10.0, words="400", scale=5.0))
    assert first.points[0] == pytest.approx((0.0, 50.0))
    assert last.points[0] == pytest.approx((400.0, 50.0))
    assert {round(x, 9) for x, _ in first.points[1:]} == {12.5}
    assert {round(x, 9) for x, _ in last.points[1:]} == {387.5}
    assert math.dist(*first.points[1:]) == pytest.approx(ARROW_MM[1] * 5.0)


def test_arrowheads_turn_inwards_when_the_span_is_too_small():
    items = linear((0.0, 0.0), (20.0, 0.0), offset=10.0, words="2", scale=5.0)
    first, last = heads(items)
    assert first.points[0] == pytest.approx((0.0, 50.0))
    assert all(x < 0.0 for x, _ in first.points[1:])
    assert all(x > 20.0 for x, _ in last.points[1:])
    assert lines(items)[-1].points[0][0] == pytest.approx(-25.0)


@pytest.mark.parametrize("aside", ["start", "end"])
def test_words_too_long_stand_beside_on_a_lengthened_line(aside):
    items = linear((0.0, 0.0), (40.0, 0.0), offset=10.0, words="40 ±3", scale=5.0, aside=aside)
    (text,) = texts(items)
    left, right = text_box(text, 5.0)[0][0], text_box(text, 5.0)[1][0]
    (begin, _), (stop, _) = lines(items)[-1].points
    if aside == "end":
        assert left > 40.0
        assert stop == pytest.approx(right)
    else:
        assert right < 0.0
        assert begin == pytest.approx(left)


@pytest.mark.parametrize(
    ("end", "angle"),
    [
        ((400.0, 0.0), 0.0),
        ((-400.0, 0.0), 0.0),
        ((0.0, 400.0), 90.0),
        ((0.0, -400.0), 90.0),
        ((300.0, 300.0), 45.0),
        ((-300.0, 300.0), -45.0),
        ((-300.0, -300.0), 45.0),
    ],
)
def test_words_read_from_the_bottom_or_the_right(end, angle):
    (text,) = texts(linear((0.0, 0.0), end, offset=10.0, words="400", scale=5.0))
    assert text.angle_deg == pytest.approx(angle)


@given(POINTS, POINTS, st.floats(-30.0, 30.0), WORDS, SCALES, st.sampled_from(["start", "end"]))
def test_a_dimension_never_writes_over_its_own_lines(start, end, offset, words, scale, aside):
    assume(math.dist(start, end) > 0.5)
    items = linear(start, end, offset=offset, words=words, scale=scale, aside=aside)
    (text,) = texts(items)
    assert text.words == words
    box = Polygon(text_box(text, scale))
    for item in items:
        if isinstance(item, Path):
            assert box.distance(LineString(item.points)) > 0.1 * scale


@given(POINTS, POINTS, st.floats(-30.0, 30.0), SCALES, st.floats(-180.0, 180.0))
def test_arrow_tips_measure_the_distance(start, end, offset, scale, direction):
    along = (math.cos(math.radians(direction)), math.sin(math.radians(direction)))
    span = (end[0] - start[0]) * along[0] + (end[1] - start[1]) * along[1]
    assume(abs(span) > 0.5)
    items = linear(start, end, offset=offset, words="x", scale=scale, direction=direction)
    one, other = (head.points[0] for head in heads(items))
    assert math.dist(one, other) == pytest.approx(abs(span), abs=1e-6)


def test_no_distance_no_dimension():
    with pytest.raises(ValueError, match="no distance"):
        linear((0.0, 0.0), (0.0, 9.0), offset=5.0, words="0", scale=1.0, direction=0.0)


@pytest.mark.parametrize(("elbow", "way"), [((60.0, 80.0), 1.0), ((-60.0, 80.0), -1.0)])
def test_a_leader_has_a_shelf_as_long_as_its_words(elbow, way):
    items = leader((0.0, 0.0), elbow, "keel strip", scale=5.0)
    width = text_width_mm("keel strip", 2.5) * 5.0
    assert lines(items)[1].points == (elbow, pytest.approx((elbow[0] + way * width, 80.0)))
    assert heads(items)[0].points[0] == (0.0, 0.0)
    assert [text.words for text in texts(items)] == ["keel strip"]


def test_a_leader_of_several_lines_keeps_them_apart():
    items = leader((0.0, 0.0), (60.0, 80.0), ("4 × Ø13.5", "washers Ø38", "gap"), scale=5.0)
    boxes = [Polygon(text_box(text, 5.0)) for text in texts(items)]
    shelf = LineString(lines(items)[1].points)
    assert [text.words for text in texts(items)] == ["4 × Ø13.5", "washers Ø38", "gap"]
    assert all(box.distance(shelf) > 1.0 for box in boxes)
    assert all(a.distance(b) > 1.0 for a, b in pairwise(boxes))


def test_a_leader_into_an_area_ends_in_a_dot():
    (dot,) = (
        item
        for item in leader((3.0, 4.0), (60.0, 80.0), "core", scale=5.0, end="dot")
        if isinstance(item, Disc)
    )
    assert dot.centre == (3.0, 4.0)


@given(st.floats(-360.0, 360.0), st.floats(0.5, 350.0), st.floats(12.0, 60.0), SCALES)
def test_an_angle_is_drawn_about_its_apex(begin, sweep, radius, scale):
    items = angle_between((7.0, 8.0), radius, begin, begin + sweep, "12.0°", scale=scale)
    size = radius * scale
    for arc in lines(items):
        for point in flatten(arc, sag_mm=0.01):
            assert math.dist(point, (7.0, 8.0)) == pytest.approx(size, rel=1e-6)
    tips = [head.points[0] for head in heads(items)]
    for tip, side in zip(tips, (begin, begin + sweep), strict=True):
        turn = math.radians(side)
        expected = (7.0 + size * math.cos(turn), 8.0 + size * math.sin(turn))
        assert tip == pytest.approx(expected, abs=1e-6 * size)
    (text,) = texts(items)
    assert text.words == "12.0°"
    assert Polygon(text_box(text, scale)).distance(Point(7.0, 8.0)) > size


def test_a_wide_angle_is_swept_anticlockwise_between_its_arrows():
    (arc,) = lines(angle_between((0.0, 0.0), 20.0, 10.0, 70.0, "60°", scale=1.0))
    _, radius, first, sweep = arc_of(*arc.points, arc.bulges[0])
    assert radius == pytest.approx(20.0)
    assert math.degrees(first) == pytest.approx(10.0)
    assert math.degrees(sweep) == pytest.approx(60.0)


def test_a_small_angle_has_its_arrows_outside():
    items = angle_between((0.0, 0.0), 20.0, 78.0, 90.0, "12°", scale=1.0)
    first, last = heads(items)
    assert all(math.degrees(math.atan2(y, x)) < 78.0 for x, y in first.points[1:])
    assert all(math.degrees(math.atan2(y, x)) > 90.0 for x, y in last.points[1:])
    assert len(lines(items)) == 2


@pytest.mark.parametrize(("rays", "count"), [("none", 0), ("from", 1), ("to", 1), ("both", 2)])
def test_sides_of_an_angle_are_drawn_when_asked(rays, count):
    items = angle_between((0.0, 0.0), 20.0, 0.0, 60.0, "60°", scale=2.0, rays=rays)
    straight = [line for line in lines(items) if not line.bulges]
    assert len(straight) == count
    assert all(math.dist(*line.points) == pytest.approx(43.0) for line in straight)


def test_words_of_an_angle_can_be_moved_out_of_the_way():
    items = angle_between((0.0, 0.0), 20.0, 78.0, 90.0, "12°", scale=1.0, words_deg=0.0)
    box = Polygon(text_box(texts(items)[0], 1.0))
    assert box.bounds[0] == pytest.approx(21.0)
    assert abs(box.centroid.y) < 1.0


def test_no_angle_no_dimension():
    with pytest.raises(ValueError, match="no angle"):
        angle_between((0.0, 0.0), 20.0, 30.0, 390.0, "0°", scale=1.0)


def test_a_whisker_is_as_long_as_the_tolerance():
    beam, *bars = whisker((10.0, 20.0), 3.0, 90.0, scale=5.0, ink=Ink.TIGHT)
    assert beam.points == (pytest.approx((10.0, 17.0)), pytest.approx((10.0, 23.0)))
    assert [math.dist(*bar.points) for bar in bars] == pytest.approx([10.0, 10.0])
    assert [bar.points[0][1] for bar in bars] == pytest.approx([17.0, 23.0])
    assert beam.pen.ink is Ink.TIGHT


@pytest.mark.parametrize(("side", "way"), [("right", 1.0), ("left", -1.0)])
def test_a_level_mark_stands_on_its_level(side, way):
    items = level_mark((10.0, 20.0), "plate −15", scale=5.0, side=side)
    line, triangle, text = items
    assert triangle.points[0] == (10.0, 20.0)
    assert all(y > 20.0 for _, y in triangle.points[1:])
    assert {y for _, y in line.points} == {20.0}
    box = Polygon(text_box(text, 5.0))
    assert (box.centroid.x - 10.0) * way > 0.0
    assert box.distance(Polygon(triangle.points)) > 1.0
    assert box.distance(LineString(line.points)) > 0.5
    assert text.words == "plate −15"


def test_a_dimension_is_sound_in_an_exchange_file():
    items = (
        *linear((0.0, 0.0), (400.0, 300.0), offset=10.0, words="500 ±3", scale=5.0),
        *angle_between((0.0, 0.0), 20.0, 0.0, 300.0, "300°", scale=5.0),
        *leader((0.0, 0.0), (60.0, 80.0), "core", scale=5.0, end="dot"),
    )
    assert audit(to_dxf(Scene("", items, 5.0))) == []
