"""How-to pictures: one for every measured field, legible, and true to what the field asks."""

import io
import math
from itertools import combinations

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from shapely.geometry import LineString, Point, Polygon

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
SHOWN = [(key, name) for key, name, spec in FIELDS if spec.kind is Kind.MASS]
"""What a scale, a plate or a sheet shows: an arrow points at it."""
OTHERS = [(key, name) for key, name, spec in FIELDS if spec.kind not in PICTURED]
EACH = pytest.mark.parametrize("key", MEASURED, ids="-".join)
TRAPS = [
    ("transom", "height_along_face"),
    ("bracket", "setback"),
    ("engine", "leg_measured"),
    *(("keel_line", f"gap_{at}") for at in (0, 150, 300, 600, 900)),
    *(
        ("face", name)
        for name in ("chine_width", "chine_below_top", "point_a_across", "point_b_across")
    ),
    *(("neighbour", name) for name in ("twin_spacing", "kicker_across", "kicker_upper_holes")),
    *(("bolting", name) for name in ("length", "flange", "plate_thickness")),
    *(("opening", name) for name in ("across", "below_top")),
    *(("no_go", name) for name in ("across_from", "across_to", "corner_radius")),
    *(("rules", name) for name in ("transom_width", "beam", "transom_height")),
    *(("hull", name) for name in ("chine_beam", "depth_aft")),
    *(("station", name) for name in ("chine_half", "chine_height", "sheer_half")),
    ("mass", "ahead_of_transom"),
    *(("dash", name) for key, name, spec in FIELDS if key == "dash" and spec.kind in PICTURED),
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
    assert len(heads(key, READING)) == (1 if key in SHOWN else 2)
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


def wrong_tips(key):
    return sorted(head.points[0] for head in heads(key, WRONG))


def span(found):
    (x0, y0), (x1, y1) = found
    return math.dist((x0, y0), (x1, y1))


def test_across_is_read_from_the_centreline_and_not_from_the_side_of_the_transom():
    for key in (("opening", "across"), ("face", "point_b_across"), ("neighbour", "kicker_across")):
        (middle, y), point = tips(key)
        assert (middle, point[1]) == pytest.approx((40.0, y))
        assert point[0] > middle
        near, side = wrong_tips(key)
        assert near == pytest.approx(point)
        assert side[0] > 65.0
    for key in (("face", "point_a_across"), ("no_go", "across_from"), ("no_go", "across_to")):
        point, (middle, _y) = tips(key)
        assert middle == pytest.approx(40.0)
        assert point[0] < middle
        side, near = wrong_tips(key)
        assert near == pytest.approx(point)
        assert side[0] < 15.0


def test_depths_start_at_the_transom_top_the_engine_stands_on():
    names = ("point_a_below", "point_b_below", "chine_below_top")
    keys = [("face", name) for name in names]
    keys += [("opening", "below_top"), ("no_go", "below_from"), ("no_go", "below_to")]
    tops = {round(max(y for _x, y in tips(key)), 6) for key in keys}
    assert len(tops) == 1
    for key in (("face", "chine_below_top"), ("opening", "below_top")):
        assert max(y for _x, y in wrong_tips(key)) > tops.copy().pop() + 5.0
        # Both come down to the same thing; only where they start differs.
        assert min(tips(key), key=lambda tip: tip[1])[1] == pytest.approx(
            min(y for _x, y in wrong_tips(key))
        )


def test_the_two_fixed_points_mirror_each_other():
    for name in ("across", "below"):
        a, b = tips(("face", f"point_a_{name}")), tips(("face", f"point_b_{name}"))
        assert {(round(80.0 - x, 6), y) for x, y in b} == {(round(x, 6), y) for x, y in a}


def test_a_place_inside_is_read_to_its_own_four_edges():
    def place(name):
        return next(
            item
            for item in items_of(("no_go", name))
            if isinstance(item, Path) and item.layer == "OBSTACLE"
        )

    edges = {
        "across_from": min(x for x, _y in place("across_from").points),
        "across_to": max(x for x, _y in place("across_to").points),
    }
    for name, x in edges.items():
        assert tips(("no_go", name))[0][0] == pytest.approx(x)
    heights = [y for _x, y in place("below_from").points]
    for name, y in (("below_from", max(heights)), ("below_to", min(heights))):
        assert min(tip[1] for tip in tips(("no_go", name))) == pytest.approx(y)


def test_the_radius_is_read_along_the_edge_not_across_the_curve():
    key = ("no_go", "corner_radius")
    assert span(wrong_tips(key)) == pytest.approx(span(tips(key)) * math.sqrt(2.0))


def test_twins_are_read_between_their_centrelines():
    key = ("neighbour", "twin_spacing")
    left, right = tips(key)
    assert (left[0] + right[0]) / 2.0 == pytest.approx(40.0)
    middles = {
        round(item.points[0][0], 6)
        for item in items_of(key)
        if isinstance(item, Path) and item.layer == "CENTRELINES"
    }
    assert middles == {round(left[0], 6), round(right[0], 6)}
    assert span(wrong_tips(key)) < span((left, right))


def test_kicker_holes_are_read_to_a_hole_of_the_upper_pair():
    key = ("neighbour", "kicker_upper_holes")
    upper = max(item.centre[1] for item in items_of(key) if isinstance(item, Disc))
    assert min(y for _x, y in tips(key)) == pytest.approx(upper)
    assert span(wrong_tips(key)) > span(tips(key))


@pytest.mark.parametrize("name", ["length", "flange", "plate_thickness"])
def test_bolts_and_what_they_clamp_are_read_without_their_neighbours(name):
    key = ("bolting", name)
    assert span(wrong_tips(key)) > span(tips(key))
    (left, _y), (right, _z) = tips(key)
    far_left, far_right = (x for x, _y in wrong_tips(key))
    # One end is shared, the other takes in what does not belong.
    assert (left == pytest.approx(far_left)) != (right == pytest.approx(far_right))


def test_the_bracket_is_outside_and_the_plate_inside():
    inside, outside = tips(("bolting", "plate_thickness")), tips(("bolting", "flange"))
    assert inside[1][0] < outside[0][0]


@pytest.mark.parametrize(
    ("across", "along"),
    [
        (("printer", "bar_across"), ("printer", "bar_along")),
        (("bolting", "plate_width"), ("bolting", "plate_height")),
        (("opening", "width"), ("opening", "height")),
        (("dash", "old_width"), ("dash", "old_height")),
        (("dash", "new_width"), ("dash", "new_height")),
        (("dash", "bezel_width"), ("dash", "bezel_height")),
    ],
)
def test_widths_lie_level_and_heights_stand_upright(across, along):
    (_x0, y0), (_x1, y1) = tips(across)
    assert y0 == pytest.approx(y1)
    (x0, _y0), (x1, _y1) = tips(along)
    assert x0 == pytest.approx(x1)


@pytest.mark.parametrize("name", ["width", "height"])
def test_an_opening_is_not_its_rim_and_a_rim_is_not_its_body(name):
    for part in ("old", "new"):
        key = ("dash", f"{part}_{name}")
        assert span(tips(key)) < span(wrong_tips(key))
    rim = ("dash", f"bezel_{name}")
    assert span(tips(rim)) == pytest.approx(span(wrong_tips(("dash", f"new_{name}"))))
    assert span(wrong_tips(rim)) == pytest.approx(span(tips(("dash", f"new_{name}"))))


@pytest.mark.parametrize("name", ["across", "down"])
def test_a_dash_opening_is_placed_by_its_middle(name):
    key, axis = ("dash", name), 0 if name == "across" else 1
    middle = max(
        (item for item in items_of(key) if isinstance(item, Disc)), key=lambda disc: disc.radius_mm
    )
    reached = [tip[axis] for tip in tips(key)]
    assert any(end == pytest.approx(middle.centre[axis]) for end in reached)
    assert span(wrong_tips(key)) < span(tips(key))


def level_of(key, layer):
    """The height of the first level line of a layer: the keel line, or the water's surface."""
    return next(
        item.points[0][1]
        for item in items_of(key)
        if isinstance(item, Path)
        and item.layer == layer
        and not item.closed
        and item.points[0][1] == item.points[-1][1]
    )


def test_places_ahead_start_at_the_foot_of_the_transom_on_the_keel_line():
    keys = [("mass", "ahead_of_transom"), ("hull", "centre_ahead"), ("mark", "ahead")]
    keys += [("station", "ahead"), ("offset", "ahead")]
    feet = {round(tips(key)[1][0], 6) for key in keys}
    assert len(feet) == 1
    for key in keys:
        (x0, y0), (x1, y1) = tips(key)
        assert y0 == pytest.approx(y1)
        assert x0 < x1 - 10.0
    # Counted from the transom's top the same place would read more.
    assert span(wrong_tips(keys[0])) > span(tips(keys[0]))


def test_the_old_engine_hangs_aft_of_the_foot_of_the_transom():
    key = ("old_engine", "ahead_of_transom")
    centre = next(item.centre for item in items_of(key)
                  if isinstance(item, Disc) and item.layer == "DATUM")  # fmt: skip
    foot, aft = tips(key)
    assert aft[0] == pytest.approx(centre[0])
    assert foot[0] < aft[0]
    assert any("−" in text.words for text in texts(key))
    assert max(tips(("old_engine", "above_keel")))[1] == pytest.approx(centre[1])


@pytest.mark.parametrize(
    "key",
    [
        ("old_engine", "above_keel"),
        ("mass", "above_keel"),
        *(("hull", name) for name in ("depth_aft", "depth_amidships", "depth_bow")),
        ("hull", "centre_height"),
        ("hull", "pod_bottom"),
        *(("station", name) for name in ("keel_height", "chine_height", "sheer_height")),
        ("offset", "height"),
        *(("rules", name) for name in ("transom_height", "motorwell_height")),
    ],
    ids="-".join,
)
def test_heights_stand_square_on_the_keel_line(key):
    foot, head = sorted(tips(key), key=lambda tip: tip[1])
    assert foot[0] == pytest.approx(head[0])
    assert foot[1] == pytest.approx(level_of(key, "KEELLINE"))


@pytest.mark.parametrize(
    "key",
    [
        *(("afloat", name) for name in ("transom_top", "scupper", "well_sill", "amidships", "bow")),
        ("mark", "above_water"),
    ],
    ids="-".join,
)
def test_heights_afloat_are_read_straight_down_to_the_water(key):
    foot, head = sorted(tips(key), key=lambda tip: tip[1])
    assert foot[0] == pytest.approx(head[0])
    assert foot[1] == pytest.approx(level_of(key, "WATER"))


def test_a_mark_is_read_to_its_lower_edge():
    for name in ("height", "below_top", "above_water"):
        key = ("mark", name)
        opening = next(item for item in items_of(key) if isinstance(item, Disc))
        low = opening.centre[1] - opening.radius_mm
        assert any(y == pytest.approx(low) for _x, y in tips(key))


def test_a_half_breadth_is_half_of_the_beam_it_warns_of():
    for name in ("chine_half", "sheer_half"):
        key = ("station", name)
        assert span(tips(key)) * 2.0 == pytest.approx(span(wrong_tips(key)))
    assert span(tips(("hull", "chine_beam"))) == pytest.approx(
        span(wrong_tips(("station", "chine_half")))
    )
    assert span(wrong_tips(("hull", "chine_beam"))) > span(tips(("hull", "chine_beam")))


def test_the_chine_is_higher_along_the_bottom_than_square_up():
    key = ("station", "chine_height")
    assert span(wrong_tips(key)) > span(tips(key))


def test_the_rule_takes_the_transom_upright_and_the_well_at_its_sill():
    key = ("rules", "transom_height")
    assert span(tips(key)) / span(wrong_tips(key)) == pytest.approx(0.9744, abs=1e-3)
    well = ("rules", "motorwell_height")
    assert max(tips(well))[0] < min(tips(key))[0] - 10.0
    sill = max(y for _x, y in tips(well))
    assert sill == pytest.approx(max(y for _x, y in tips(("afloat", "well_sill"))))


def test_the_depth_at_the_transom_goes_past_the_top_the_engine_hangs_on():
    key = ("hull", "depth_aft")
    assert max(y for _x, y in tips(key)) > max(y for _x, y in wrong_tips(key))
    afloat = max(tips(("afloat", "amidships")), key=lambda tip: tip[1])
    ashore = max(tips(("hull", "depth_amidships")), key=lambda tip: tip[1])
    assert afloat == pytest.approx(ashore)


def test_beams_are_taken_bare_and_where_they_belong():
    assert span(tips(("rules", "beam"))) < span(wrong_tips(("rules", "beam")))
    beams = [tips(("rules", "beam")), tips(("hull", "sheer_beam"))]
    beams.append(tips(("rules", "aft_quarter_beam")))
    assert all(low[0] == pytest.approx(high[0]) for low, high in beams)
    assert span(beams[0]) > max(span(beams[1]), span(beams[2]))
    key = ("rules", "transom_width")
    assert span(tips(key)) > span(wrong_tips(key))


@pytest.mark.parametrize("key", SHOWN, ids="-".join)
def test_a_mass_is_read_off_a_figure_in_kilograms(key):
    (tip,) = tips(key)
    figures = [text for text in texts(key) if text.words.endswith(" kg")]
    distances = [Polygon(text_box(text, 1.0)).distance(Point(tip)) for text in figures]
    assert min(distances) < 5.0


def test_the_two_lines_of_a_plate_are_told_apart():
    (load,), (persons,) = tips(("plate", "max_load")), tips(("plate", "max_persons_mass"))
    assert load[0] == persons[0]
    assert load[1] < persons[1]
