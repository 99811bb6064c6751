"""The pictures of the drawing: what is shown, how it is fitted, what can be pointed at, no Tk."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from rigfit.desk import pictures
from rigfit.desk.draft import FIELDS, Address
from rigfit.desk.pictures import (
    address_of,
    content_bounds,
    dragged_option,
    fitted,
    height_callout,
    hover_words,
    is_inside,
    picture_of,
    ref_of,
    scene_on_screen,
    spread,
    turned_deg,
    wants_fit,
)
from rigfit.desk.settings import Settings
from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.desk.workbench import Workbench, height_key
from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Ink, Path, Text
from rigfit.drawing.strokes import full_extents
from rigfit.records.profiles import load_catalogue
from rigfit.units import Shown

RAKE = Address("transom", "rake")
UPPER_HOLES = Address("mounting", "upper_holes_below_top")
SIZES = ((900, 640, 1.0), (1800, 1200, 2.0), (560, 700, 1.0), (480, 420, 1.0))


@pytest.fixture
def bench(tmp_path):
    made = Workbench(load_catalogue(), Settings(), tmp_path)
    made.begin_demo()
    return made


@pytest.fixture
def view(bench):
    return fitted(bench, 900, 640, 1.0)


def texts(picture):
    return [item for item in picture.items if isinstance(item, Text)]


def words(picture):
    return [item.words for item in texts(picture)]


def pixels_of(items, view):
    left, bottom, right, top = full_extents(items, view.scene_scale)
    return *view.to_screen((left, top)), *view.to_screen((right, bottom))


# -- what is shown --------------------------------------------------------------------------------


def test_the_profile_is_the_side_view_at_the_scale_of_the_screen(bench, view):
    picture = picture_of(bench, view)
    assert picture.kind == "profile"
    assert "518 ± 3" in words(picture)
    assert "plate +12 ± 5.4, fits" in words(picture)


def test_without_a_report_the_reason_is_shown_in_the_middle(bench):
    bench.begin()
    view = fitted(bench, 600, 400, 1.0)
    picture = picture_of(bench, view)
    assert picture.kind == "words"
    assert " ".join(words(picture)) == bench.trouble
    left, top, right, bottom = pixels_of(picture.items, view)
    assert (left + right) / 2.0 == pytest.approx(300.0, abs=1.0)
    assert (top + bottom) / 2.0 == pytest.approx(200.0, abs=5.0)


@given(st.integers(200, 1500), st.floats(0.1, 20.0), st.sampled_from((1.0, 1.5, 2.0)))
def test_a_sentence_stays_in_the_pane_whatever_the_view(width, mm_per_px, scale):
    view = View(round(width * scale), round(900 * scale), (70.0, -20.0), mm_per_px, scale)
    sentence = "The engine is not known; add one, or choose one of those that are there. " * 2
    picture = pictures.sentence_picture(sentence, view)
    assert " ".join(words(picture)).split() == sentence.split()
    left, _, right, _ = pixels_of(picture.items, view)
    assert left >= 0.0 and right <= view.width


def test_the_template_is_drawn_with_letters_as_large_as_on_the_board(bench):
    bench.set_picture("template")
    view = fitted(bench, 900, 640, 1.0)
    heading = next(item for item in texts(picture_of(bench, view)) if item.bold)
    assert heading.height_mm * view.scene_scale == pytest.approx(5.0)


def test_a_template_that_cannot_be_had_says_what_to_do(bench):
    bench.set_picture("template")
    bench.type(Address("engine", "leg_measured", bench.engine_index), "")
    picture = picture_of(bench, fitted(bench, 900, 640, 1.0))
    said = " ".join(words(picture))
    assert picture.kind == "words"
    assert said.startswith("There is no template for engine B: its leg is not measured; measure")


def test_what_was_not_measured_is_noted_in_the_corner(bench, view):
    assert not [item for item in words(picture_of(bench, view)) if "usual size" in item]
    bench.type(RAKE, "")
    note = next(item for item in texts(picture_of(bench, view)) if "usual size" in item.words)
    assert note.words == "Not measured, drawn at a usual size: rake"
    x, y = view.to_screen(note.at)
    assert x < 20.0 and y > 620.0


def test_ghosts_lie_over_the_engine_and_not_at_its_own_height(bench, view):
    for option in bench.options:
        bench.toggle_ghost(height_key(option))
    ghosts = [item for item in picture_of(bench, view).over if item.ref == "ghost"]
    labels = [item for item in ghosts if isinstance(item, Text)]
    # Three at most, and the mounted height is the engine itself.
    shown = [bench.option_of(key) for key in bench.look.ghosts]
    assert len(labels) == len([item for item in shown if item != bench.report.mounted]) > 0


def test_labels_of_ghosts_do_not_touch(bench, view):
    for option in (item for item in bench.options if item != bench.report.mounted):
        bench.toggle_ghost(height_key(option))
    labels = [item for item in texts(picture_of(bench, view)) if item.ref == "ghost"]
    assert len(labels) == 3
    boxes = [Polygon(text_box(item, view.scene_scale)) for item in labels]
    assert not any(
        one.intersects(other) for at, one in enumerate(boxes) for other in boxes[at + 1 :]
    )


@given(st.lists(st.floats(-500, 500), max_size=6), st.floats(1.0, 100.0))
def test_spreading_keeps_order_and_distance_and_the_middle(levels, pitch):
    levels = sorted(levels)
    found = spread(levels, pitch)
    assert len(found) == len(levels)
    gaps = [after - before for before, after in pairwise(found)]
    assert all(gap >= pitch - 1e-6 for gap in gaps)
    assert sum(found) == pytest.approx(sum(levels), abs=1e-6)
    if all(after - before >= pitch for before, after in pairwise(levels)):
        assert found == pytest.approx(levels)


def test_tilt_is_kept_within_the_travel_of_the_engine_shown(bench, view):
    bench.set_look(replace(bench.look, tilt_deg=500.0))
    most = bench.report.case.engine.tilt_deg
    assert f"tilt {most:g}°" in words(picture_of(bench, view))


@pytest.mark.parametrize("tilt", [5.0, 32.0, 60.0])
def test_what_stays_is_the_same_at_every_tilt(bench, view, tilt):
    assert picture_of(bench, view, tilt_deg=tilt).under == picture_of(bench, view).under


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("size", SIZES[:2])
def test_no_words_of_the_profile_touch_each_other(bench, lengths, size):
    bench.set_units(lengths=lengths)
    view = fitted(bench, *size)
    boxes = [Polygon(text_box(item, view.scene_scale)) for item in texts(picture_of(bench, view))]
    assert not any(
        one.intersects(other) for at, one in enumerate(boxes) for other in boxes[at + 1 :]
    )


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_the_dashed_line_of_the_sole_leaves_words_free(bench, lengths, size):
    bench.set_units(lengths=lengths)
    view = fitted(bench, *size)
    picture = picture_of(bench, view)
    level = [
        item for item in picture.under if isinstance(item, Path) and item.pen == pictures.HIDDEN
    ]
    assert level
    for item in texts(picture):
        box = Polygon(text_box(item, view.scene_scale))
        for line in level:
            (x0, y), (x1, _) = line.points
            assert not box.intersects(Polygon([(x0, y), (x1, y), (x1, y + 1e-6), (x0, y + 1e-6)]))


# -- which field a dimension belongs to -----------------------------------------------------------


def test_every_field_with_a_dimension_is_found_by_it_and_back():
    named = [
        (Address(table, name, 0 if table in ("engine", "hole") else -1), spec.dimension)
        for table, fields in FIELDS.items()
        for name, spec in fields
        if spec.dimension
    ]
    assert named
    for address, ref in named:
        assert address_of(ref, 0) == address
        assert ref_of(address, 0) == ref


def test_what_is_no_dimension_leads_nowhere():
    assert address_of("engine-cowl", 0) is None
    assert ref_of(None, 0) == ref_of(Address("boat", "name"), 0) == ""
    assert ref_of(Address("engine", "leg_measured", 1), 0) == ""


@pytest.mark.parametrize("ref", ["height-along-face", "height-square", "rake", "thickness", "leg"])
def test_a_lit_dimension_is_heavier_and_in_the_accent_and_nothing_else_changes(bench, view, ref):
    plain = picture_of(bench, view)
    lit = plain.lit(ref)
    changed = [
        (old, new) for old, new in zip(plain.items, lit.items, strict=True) if old is not new
    ]
    assert changed and all(old.ref == ref for old, _ in changed)
    for old, new in changed:
        if isinstance(new, Text):
            assert new.bold and new.ink is Ink.ACCENT
        elif new.pen is not None:
            assert new.pen.ink is Ink.ACCENT and new.pen.width_mm > old.pen.width_mm


def test_the_holes_of_the_template_belong_to_their_field(bench):
    bench.set_picture("template")
    picture = picture_of(bench, fitted(bench, 900, 640, 1.0))
    ref = ref_of(UPPER_HOLES, 0)
    lit = [item.words for item in texts(picture) if item.ref == ref]
    assert lit == ["48", "48"]


# -- fitting --------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("picture", ["profile", "template"])
@pytest.mark.parametrize("tilt", [0.0, 40.0])
def test_a_fitted_picture_is_whole_and_fills_the_pane(bench, size, lengths, picture, tilt):
    bench.set_units(lengths=lengths)
    bench.set_picture(picture)
    bench.set_tilt(tilt)
    view = fitted(bench, *size)
    left, top, right, bottom = pixels_of(picture_of(bench, view).items, view)
    width, height, _ = size
    assert left >= 0.0 and top >= 0.0 and right <= width and bottom <= height
    margin = 3.0 * pictures.MARGIN_PX * view.ui_scale
    if not tilt:
        assert right - left > width - margin or bottom - top > height - margin


@pytest.mark.parametrize("lengths", ["mm", "in"])
def test_words_never_take_all_of_a_small_pane(bench, lengths):
    bench.set_units(lengths=lengths)
    for width in (420, 300, 200):
        view = fitted(bench, width, 640, 1.0)
        layers = ("HULL", "ENGINE")
        boat = [item for item in picture_of(bench, view).items if item.layer in layers]
        left, _, right, _ = pixels_of(boat, view)
        assert 0.35 * width < right - left <= width
        assert left >= 0.0 and right <= width


@pytest.mark.parametrize(
    ("size", "share"),
    [((900, 640), 1.0), ((1800, 1280), 1.0), ((594, 640), 0.9), ((200, 200), 0.8)],
)
def test_words_are_smaller_in_a_small_pane(bench, size, share):
    scale = 2.0 if size[0] == 1800 else 1.0
    assert fitted(bench, *size, scale).ui_scale == pytest.approx(scale * share)


def test_the_note_lies_below_the_drawing(bench):
    bench.type(RAKE, "")
    view = fitted(bench, 900, 640, 1.0)
    picture = picture_of(bench, view)
    note = [item for item in picture.items if item.group == "sheet"]
    drawing = [item for item in picture.items if item.group != "sheet"]
    assert pixels_of(note, view)[1] >= pixels_of(drawing, view)[3]


def test_a_fitted_view_of_a_small_pane_needs_no_better_one(bench):
    for lengths in ("mm", "in"):
        bench.set_units(lengths=lengths)
        assert wants_fit(bench, fitted(bench, 420, 300, 1.5), 1.5, pictures.SNUG) is None


def test_a_fitted_view_needs_no_better_one(bench, view):
    assert wants_fit(bench, view, 1.0) is None
    assert wants_fit(bench, view, 1.0, pictures.SNUG) is None


def test_a_drawing_that_spills_or_looks_lost_wants_a_better_view(bench, view):
    for other in (view.panned(400.0, 0.0), view.zoomed(1.5), view.zoomed(0.6)):
        assert wants_fit(bench, other, 1.0) == view
    assert wants_fit(bench, view.zoomed(0.9), 1.0) is None


def test_the_bounds_hold_the_engine_level_and_tilted(bench, view):
    level = content_bounds(bench, view)
    bench.set_tilt(60.0)
    both = content_bounds(bench, view)
    assert both[0] <= level[0] and both[1] <= level[1] and both[2] >= level[2]
    assert both[3] >= level[3]


# -- pointing -------------------------------------------------------------------------------------


@given(st.floats(-400, 1200), st.floats(-400, 1300))
def test_inside_is_what_geometry_says(x, y):
    hood = Path(((0.0, 0.0), (300.0, 40.0), (420.0, 500.0), (150.0, 200.0)), "ENGINE", closed=True,
                fill=Ink.COWL)  # fmt: skip
    polygon = Polygon(hood.points)
    if polygon.exterior.distance(Spot(x, y)) > 1e-6:
        assert is_inside((hood,), (x, y)) == polygon.contains(Spot(x, y))


def test_an_outline_without_a_fill_has_no_inside():
    ring = Path(((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)), "ENGINE", closed=True)
    assert not is_inside((ring,), (4.0, 4.0))


@pytest.mark.parametrize(
    ("kind", "point", "style", "said"),
    [
        ("profile", (312.2, 145.4), Shown(), "312 mm aft of the heel, 145 mm above the keel line"),
        ("profile", (-20.0, -3.0), Shown(), "20 mm forward of the heel, 3 mm below the keel line"),
        ("profile", (254.0, 25.4), Shown("in"),
         "10 in (254 mm) aft of the heel, 1 in (25 mm) above the keel line"),
        ("template", (82.0, -120.0), Shown(), "82 mm to starboard, 120 mm below the transom top"),
        ("template", (-5.0, 12.0), Shown(), "5 mm to port, 12 mm above the transom top"),
        ("words", (1.0, 1.0), Shown(), ""),
    ],
)  # fmt: skip
def test_where_the_pointer_is_in_words(kind, point, style, said):
    assert hover_words(kind, point, style) == said


@given(st.floats(-179, 179), st.floats(-179, 179))
def test_turning_is_the_angle_between(first, by):
    def at(degrees):
        turn = math.radians(degrees)
        return 10.0 + 5.0 * math.cos(turn), 20.0 + 5.0 * math.sin(turn)

    assert turned_deg((10.0, 20.0), at(first), at(first + by)) == pytest.approx(by, abs=1e-6)


@pytest.mark.parametrize("tilt", [0.0, 10.0, 45.0])
def test_the_handle_is_on_the_hood_and_turns_about_the_axis(bench, tilt):
    report = bench.report
    axis = pictures.tilt_axis(report)
    level, tilted = (pictures.tilt_handle(report, deg) for deg in (0.0, tilt))
    assert turned_deg(axis, level, tilted) == pytest.approx(tilt, abs=1e-6)
    hood = pictures.outline_at(report.case, pictures.sketch_of(report), tilt).parts["cowl"]
    assert tilted in hood


def test_a_dragged_engine_snaps_to_what_is_possible(bench):
    report = bench.report
    possible = [item for item in report.options if item.is_possible]
    assert dragged_option(report, 0.0) == report.mounted
    assert dragged_option(report, 1e4) == possible[-1]
    assert dragged_option(report, -1e4) == possible[0]


@pytest.mark.parametrize(
    ("lengths", "lines"),
    [
        ("mm", ("row 2", "lift +22 mm", "plate +12 mm", "fits")),
        ("in", ("row 2", "lift +7/8 in (+22 mm)", "plate +7/16 in (+12 mm)", "fits")),
    ],
)
def test_a_height_in_words(bench, lengths, lines):
    bench.set_units(lengths=lengths)
    assert height_callout(bench.report.mounted, bench.style).lines == lines


def test_an_engine_moved_by_itself_is_the_picture_made_from_nothing(bench, view):
    plain = picture_of(bench, view)
    for option in bench.options:
        for tilt in (0.0, 25.0):
            alone = pictures.moved(plain, bench, view, option, tilt)
            assert alone == picture_of(bench, view, option, tilt)
            assert alone.under is plain.under
    bench.toggle_ghost(height_key(bench.options[0]))
    assert pictures.moved(plain, bench, view, bench.options[1], 0.0) is None


# -- as a scene -----------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
def test_the_scene_has_a_sheet_as_large_as_the_pane(bench, size):
    view = fitted(bench, *size)
    scene = scene_on_screen("Dunlin", picture_of(bench, view), view)
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    paper, corner = scene.placement.paper, scene.placement.corner
    assert (paper.width_mm, paper.height_mm) == pytest.approx((size[0] / pixel, size[1] / pixel))
    upper_right = (
        corner[0] + paper.width_mm * scene.scale,
        corner[1] + paper.height_mm * scene.scale,
    )
    assert view.to_screen(corner) == pytest.approx((0.0, size[1]))
    assert view.to_screen(upper_right) == pytest.approx((size[0], 0.0), abs=1e-6)
