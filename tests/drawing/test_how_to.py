import io
from itertools import combinations

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from shapely.geometry import LineString, Polygon

from rigfit.drawing import how_to_engine, how_to_side
from rigfit.drawing.fonts import missing_glyphs, text_box
from rigfit.drawing.how_to import FRAME_MM, PICTURES, how_to_scene
from rigfit.drawing.how_to_parts import READING, WRONG
from rigfit.drawing.palette import DARK, LIGHT
from rigfit.drawing.scene import Disc, Ink, Path, Text
from rigfit.drawing.to_axes import draw_scene
from rigfit.drawing.to_dxf import LAYER_COLOURS
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.readings import specs
from rigfit.units import Kind

TABLES = {key: record for key, _heading, record in GROUPS} | {
    key: record for key, _name, _heading, record in LISTS
}
PICTURED = (Kind.LENGTH, Kind.ANGLE, Kind.MASS)
FIELDS = [
    (key, name, spec) for key, record in TABLES.items() for name, spec in specs(record).items()
]
MEASURED = [(key, name) for key, name, spec in FIELDS if spec.kind in PICTURED]
OTHERS = [(key, name) for key, name, spec in FIELDS if spec.kind not in PICTURED]
EACH = pytest.mark.parametrize("key", MEASURED, ids="-".join)
TRAPS = [
    ("transom", "height_along_face"),
    ("bracket", "setback"),
    ("engine", "leg_measured"),
    *(("keel_line", f"gap_{at}") for at in (0, 150, 300, 600, 900)),
]


def items_of(key):
    scene = how_to_scene(*key)
    assert scene is not None
    return scene.items


def texts(key):
    return [item for item in items_of(key) if isinstance(item, Text)]


def inks(item):
    if isinstance(item, Text):
        return {item.ink}
    return {item.fill, item.pen.ink if item.pen else None} - {None}


def heads(key, ref):
    """The closed arrowheads of a reading or of a wrong way; its first point is the tip."""
    return [
        item for item in items_of(key) if isinstance(item, Path) and item.closed and item.ref == ref
    ]


def tips(key):
    return sorted(head.points[0] for head in heads(key, READING))


@pytest.mark.parametrize("key", MEASURED, ids="-".join)
def test_every_measured_field_has_a_picture_with_a_title_of_its_own(key):
    scene = how_to_scene(*key)
    assert scene is not None
    assert scene.placement is None
    assert scene.scale == 1.0
    assert key[1].replace("_", " ") in scene.title


@pytest.mark.parametrize("key", OTHERS, ids="-".join)
def test_words_choices_power_and_counts_have_none(key):
    assert how_to_scene(*key) is None


def test_nothing_is_pictured_that_no_job_asks_for():
    assert set(PICTURES) == set(MEASURED)
    assert how_to_scene("transom", "no_such_field") is None
    assert how_to_scene("holes", "across") is None


@EACH
def test_every_picture_is_as_large_as_its_frame(key):
    scene = how_to_scene(*key)
    assert scene.bounds() == (0.0, 0.0, *FRAME_MM)
    frame = scene.items[0]
    assert frame.pen is None
    assert frame.fill is Ink.PAPER


@EACH
def test_lines_and_words_keep_off_the_edge(key):
    margin = 0.8
    corners = [point for text in texts(key) for point in text_box(text, 1.0)]
    for item in items_of(key)[1:]:
        if isinstance(item, Path):
            corners += item.points
        elif isinstance(item, Disc):
            (x, y), r = item.centre, item.radius_mm
            corners += [(x - r, y - r), (x + r, y + r)]
    for x, y in corners:
        assert margin <= x <= FRAME_MM[0] - margin
        assert margin <= y <= FRAME_MM[1] - margin


@EACH
def test_words_are_large_few_and_apart(key):
    found = texts(key)
    assert all(2.6 <= text.height_mm <= 3.2 for text in found)
    assert not missing_glyphs("".join(text.words for text in found))
    assert sum(len(text.words.split()) for text in found) <= 17
    boxes = [Polygon(text_box(text, 1.0)) for text in found]
    assert not any(one.intersects(other) for one, other in combinations(boxes, 2))


@EACH
def test_exactly_one_reading_is_in_accent_ink(key):
    accent = [item for item in items_of(key) if Ink.ACCENT in inks(item)]
    assert all(item.ref == READING for item in accent)
    assert len(heads(key, READING)) == (1 if key == ("engine", "mass") else 2)
    label = [item for item in accent if isinstance(item, Text)]
    assert 1 <= len(" ".join(item.words for item in label).split()) <= 4
    assert len({(item.across, item.at[0]) for item in label}) == 1


@EACH
def test_the_reading_is_drawn_over_everything_and_its_label_is_near(key):
    items = items_of(key)
    first = min(index for index, item in enumerate(items) if Ink.ACCENT in inks(item))
    assert all(item.ref == READING for item in items[first:])
    points = [point for item in items[first:] if isinstance(item, Path) and Ink.ACCENT in inks(item)
              for point in item.points]  # fmt: skip
    label = next(item for item in items[first:] if isinstance(item, Text))
    assert Polygon(text_box(label, 1.0)).distance(LineString(points)) < 8.0


@EACH
def test_labels_are_not_run_through_by_arrows(key):
    arrows = [LineString(item.points) for item in items_of(key)
              if isinstance(item, Path) and inks(item) & {Ink.ACCENT, Ink.STOPS}
              and item.pen.width_mm < 0.7]  # fmt: skip
    for text in texts(key):
        box = Polygon(text_box(text, 1.0))
        assert not any(box.intersects(arrow) for arrow in arrows), text.words


@EACH
def test_a_wrong_way_is_crossed_out_and_named(key):
    red = [item for item in items_of(key) if Ink.STOPS in inks(item)]
    assert all(item.ref == WRONG for item in red)
    strokes = [item for item in red if isinstance(item, Path) and item.pen.width_mm == 0.7]
    named = [item for item in red if isinstance(item, Text)]
    assert bool(red) == bool(strokes) == bool(named)
    assert len(strokes) % 2 == 0
    if key in TRAPS:
        assert len(heads(key, WRONG)) >= 2


@EACH
def test_layers_are_known_to_exchange_files(key):
    layers = {item.layer for item in items_of(key)}
    assert layers <= set(LAYER_COLOURS)


@EACH
def test_a_picture_is_the_same_every_time(key):
    assert how_to_scene(*key) == how_to_scene(*key)


def pixels(scene, palette):
    """The picture as the desktop shows it: 4 pixels to the millimetre."""
    figure = Figure(figsize=(FRAME_MM[0] / 25.4, FRAME_MM[1] / 25.4))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, FRAME_MM[0])
    axes.set_ylim(0.0, FRAME_MM[1])
    draw_scene(scene, axes, palette)
    out = io.BytesIO()
    FigureCanvasAgg(figure).print_figure(out, format="rgba", dpi=4.0 * 25.4)
    raw = out.getvalue()
    return {raw[at : at + 3] for at in range(0, len(raw), 4)}, len(raw) // 4


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@EACH
def test_pictures_show_paper_and_accent_in_both_palettes(key, palette):
    colours, count = pixels(how_to_scene(*key), palette)
    assert count == 320 * 224
    for ink in (Ink.PAPER, Ink.ACCENT):
        assert bytes.fromhex(palette[ink][1:]) in colours


def test_no_two_pictures_are_alike():
    drawn = [items_of(key) for key in MEASURED]
    assert all(one != other for one, other in combinations(drawn, 2))


def test_the_transom_leans_aft_and_both_heights_end_where_they_should():
    low, high = tips(("transom", "height_along_face"))
    assert high[0] > low[0]
    assert high[1] > low[1]
    foot, top = sorted(tips(("transom", "height_square")), key=lambda tip: tip[1])
    assert foot[0] == pytest.approx(top[0])
    # The same boat: square to the keel line reads less than along the leaning face.
    along = ((high[0] - low[0]) ** 2 + (high[1] - low[1]) ** 2) ** 0.5
    assert (top[1] - foot[1]) / along == pytest.approx(0.9744, abs=1e-3)  # cos 13 degrees


def test_the_wrong_transom_height_reaches_further_than_the_right_one():
    key = ("transom", "height_along_face")
    right = min(y for _x, y in tips(key))
    wrong = min(head.points[0][1] for head in heads(key, WRONG))
    assert wrong < right - 3.0


@pytest.mark.parametrize("ahead", [0, 150, 300, 600, 900])
def test_gaps_are_read_between_edge_and_bottom_at_their_station(ahead):
    edge, bottom = sorted(tips(("keel_line", f"gap_{ahead}")), key=lambda tip: tip[1])
    assert edge[0] == pytest.approx(bottom[0])
    heel = tips(("keel_line", "gap_0"))[0][0]
    bow = tips(("keel_line", "gap_900"))[0][0]
    assert (heel - edge[0]) / (heel - bow) == pytest.approx(ahead / 900.0)
    assert edge[1] == pytest.approx(24.0)
    assert bottom[1] - edge[1] > 2.0


def test_a_straightedge_rests_on_the_bottom_it_is_drawn_under():
    gap = how_to_side._gap
    assert gap(0.0, hollow=True) == gap(900.0, hollow=True) == 0.0
    assert gap(450.0, hollow=False) == 0.0
    for hollow in (False, True):
        assert all(gap(at * 25.0, hollow=hollow) >= 0.0 for at in range(37))


def test_the_leg_is_read_from_seat_to_plate_square_to_it():
    plate, seat = sorted(tips(("engine", "leg_measured")), key=lambda tip: tip[1])
    assert seat[0] == pytest.approx(plate[0])
    assert (seat[1] - plate[1]) * 27.0 == pytest.approx(how_to_engine.LEG_MM)
    stated = sorted(tips(("engine", "leg_stated")), key=lambda tip: tip[1])
    assert stated[1][1] - stated[0][1] == pytest.approx(seat[1] - plate[1])


def test_bracket_pictures_measure_between_hole_centres():
    for name, pair in (("upper_spacing", 0), ("lower_spacing", 1)):
        key = ("engine", name)
        holes = [item.centre for item in items_of(key) if isinstance(item, Disc)]
        rows = sorted({y for _x, y in holes}, reverse=True)
        level = rows[0] if pair == 0 else rows[4]
        assert tips(key) == sorted(centre for centre in holes if centre[1] == level)
    key = ("engine", "row_pitch")
    rows = sorted(item.centre[1] for item in items_of(key) if isinstance(item, Disc))
    assert [y for _x, y in tips(key)] == pytest.approx([rows[0], rows[-1]])
    assert len(rows) == 4  # three steps, as its label says


def test_starboard_is_to_the_right_and_positive():
    for key in (("hole", "across"), ("mounting", "off_centre")):
        middle, out = tips(key)
        assert middle[0] == pytest.approx(40.0)
        assert out[0] > middle[0]
        assert any("+ starboard" in text.words for text in texts(key))
