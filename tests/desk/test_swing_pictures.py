"""The swing in the form: what is drawn, how it is turned, what it is nearest to; no window."""

import pytest

from rigfit.desk import pictures
from rigfit.desk.draft import Address
from rigfit.desk.pictures import address_of, fitted, hover_words, moved, picture_of, ref_of
from rigfit.desk.swing_pictures import held_words, swing_axis, swing_handle
from rigfit.desk.swing_scrub import (
    SWINGS,
    gap_at,
    gap_words,
    lock_deg,
    option_of,
    place_words,
    tilt_range,
)
from rigfit.drawing.scene import Text
from rigfit.drawing.strokes import full_extents
from rigfit.rigging.envelope import engine_envelope, off_centre_mm, tilt_turn
from rigfit.rigging.surroundings import surroundings
from rigfit.rigging.tilt_steer import tilt_and_steer
from rigfit.rigging.turning import Turn
from rigfit.units import Shown
from tests.desk.panels import demo_bench
from tests.desk.swinging_boat import swinging_bench

SIZES = ((900, 640, 1.0), (1800, 1200, 2.0), (480, 420, 1.0))
ALL = sorted(SWINGS)
TURNED = ("swing", "swing-plan")
SEAT = Address("obstacle", "name", 0)


@pytest.fixture
def bench(tmp_path):
    made = swinging_bench(tmp_path)
    assert made.derived.messages == {}
    return made


def shown(bench, name, size=SIZES[0]):
    bench.set_picture(name)
    view = fitted(bench, *size)
    return picture_of(bench, view), view


def words(picture):
    return " ".join(item.words for item in picture.items if isinstance(item, Text))


# -- what is shown ---------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ALL)
def test_it_is_whole_in_the_pane(bench, name, size):
    picture, view = shown(bench, name, size)
    assert picture.kind == name
    left, bottom, right, top = full_extents(picture.items, view.scene_scale)
    low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
    assert low[0] >= 0.0 and high[1] >= 0.0 and high[0] <= view.width and low[1] <= view.height


@pytest.mark.parametrize("name", ALL)
def test_with_nothing_round_the_engine_it_says_what_to_measure(tmp_path, name):
    picture, _ = shown(demo_bench(tmp_path), name)
    assert picture.kind == "words"
    said = words(picture)
    assert "well" in said or "obstacle" in said
    assert "_" not in said


@pytest.mark.parametrize("name", TURNED)
def test_only_the_engine_moves(bench, name):
    picture, view = shown(bench, name)
    assert picture.moving and picture.under
    other = picture_of(bench, view, tilt_deg=20.0 if name == "swing" else 0.0, steer_deg=12.0)
    assert other.under == picture.under
    assert other.moving != picture.moving
    assert "straight ahead" in words(picture)


@pytest.mark.parametrize(("name", "held"), [("swing", (20.0, 0.0)), ("swing-plan", (0.0, -17.0))])
def test_a_scrubbed_picture_is_the_picture_made_anew(bench, name, held):
    picture, view = shown(bench, name)
    quick = moved(picture, bench, view, None, *held)
    whole = picture_of(bench, view, tilt_deg=held[0], steer_deg=held[1])
    assert quick is not None
    assert (set(quick.under), set(quick.moving)) == (set(whole.under), set(whole.moving))
    assert quick.over == whole.over != picture.over


# -- turning ---------------------------------------------------------------------------------------


def test_tilt_and_steering_stop_at_the_ends_of_the_engine(bench):
    bench.set_picture("swing")
    low, high = tilt_range(bench.report, "swing")
    assert low < 0.0 < high
    bench.set_tilt(-90.0)
    assert bench.look.tilt_deg == low
    bench.set_tilt(190.0)
    assert bench.look.tilt_deg == high
    lock = lock_deg(bench.report)
    bench.set_steer(190.0)
    assert bench.look.steer_deg == lock > 0.0
    bench.set_steer(-190.0)
    assert bench.look.steer_deg == -lock


def test_the_profile_does_not_show_the_plate_fully_in(bench):
    bench.set_picture("swing")
    bench.set_tilt(-3.0)
    assert bench.look.tilt_deg == -3.0
    bench.set_picture("profile")
    assert bench.look.tilt_deg == 0.0


def test_only_the_swing_from_above_is_steered(bench):
    for name in ("profile", *ALL):
        bench.set_picture(name)
        assert bench.context().can_steer is (name == "swing-plan")


def test_the_handle_turns_about_the_tilt_axis(bench):
    axis = swing_axis("swing", bench.report, 0.0)
    ends = swing_handle(bench.report, 0.0), swing_handle(bench.report, 33.0)
    assert pictures.turned_deg(axis, *ends) == pytest.approx(33.0)


# -- what it is nearest to -------------------------------------------------------------------------


@pytest.mark.parametrize("tilt", [-5.0, 0.0, 18.0, 33.0, 47.0])
def test_straight_ahead_it_is_what_the_search_in_space_finds(bench, tilt):
    report = bench.report
    case, pivot = report.case, tilt_turn(report.case, option_of(report)).pivot
    found = tilt_and_steer(
        engine_envelope(case), Turn(pivot, tilt, tilt), 0.0, off_centre_mm(case),
        surroundings(case).solids,
    )  # fmt: skip
    gap = gap_at(report, tilt, 0.0)
    assert gap.clear_mm == pytest.approx(max(found.clear_mm, 0.0), abs=0.02)
    assert (gap.part, gap.solid.name) == (found.part, found.solid.name)


def test_nowhere_is_it_nearer_than_at_the_worst_place(bench):
    bench.remove_row("obstacle", 0)
    report = bench.report
    case, turn = report.case, tilt_turn(report.case, option_of(report))
    lock = lock_deg(report)
    worst = tilt_and_steer(
        engine_envelope(case), turn, lock, off_centre_mm(case), surroundings(case).solids
    )
    assert worst.clear_mm > 0.0
    at_worst = gap_at(report, worst.tilt_deg, worst.steer_deg).clear_mm
    assert at_worst == pytest.approx(worst.clear_mm, abs=0.02)
    for part in range(9):
        tilt = turn.low_deg + (turn.high_deg - turn.low_deg) * part / 8.0
        for steer in (-lock, -0.4 * lock, 0.0, 0.7 * lock, lock):
            assert gap_at(report, tilt, steer).clear_mm >= worst.clear_mm - 0.02


def test_steering_is_plus_with_the_propeller_to_starboard(bench):
    bench.remove_row("obstacle", 0)
    bench.type(Address("mounting", "off_centre"), "-150 mm")
    sides = {steer: gap_at(bench.report, 0.0, steer).solid.name for steer in (-32.0, 32.0)}
    assert sides[32.0] == "port side of the well"  # the hood's front goes the other way


@pytest.mark.parametrize(
    ("held", "said"),
    [
        ((0.0, 0.0), "tilt 0°, straight ahead"),
        ((-4.0, 12.0), "tilt -4°, propeller 12° to starboard"),
        ((30.5, -7.0), "tilt 30.5°, propeller 7° to port"),
        ((-0.01, 0.04), "tilt 0°, straight ahead"),
        ((5.0, None), "tilt 5°"),
    ],
)
def test_how_it_is_held_is_said(held, said):
    assert place_words(*held) == said


def test_the_present_place_is_said_with_its_gap(bench):
    report = bench.report
    clear = held_words("swing", report, bench.style, (30.0, 20.0))
    assert clear == f"Tilt 30°, straight ahead: {gap_words(gap_at(report, 30.0, 0.0), Shown())}"
    assert " mm from cowl to stern seat" in clear
    touching = held_words("swing", report, bench.style, (60.0, 0.0))
    assert touching.endswith("cowl and stern seat overlap")
    above = held_words("swing-plan", report, bench.style, (30.0, 20.0))
    assert above.startswith("Tilt 30°, propeller 20° to starboard: ")
    inches = held_words("swing", report, Shown("in"), (30.0, 0.0))
    assert " in (" in inches
    assert gap_words(None, bench.style) == ""


def test_a_guessed_size_is_said_until_the_hood_is_measured(bench):
    assert "typical of the class" in words(shown(bench, "swing")[0])
    for name, text in (
        ("cowl_front_ahead_of_seat", "380 mm"),
        ("cowl_top_above_seat", "520 mm"),
        ("cowl_breadth", "420 mm"),
    ):
        bench.type(Address("engine", name, bench.engine_index), text)
    assert "typical of the class" not in words(shown(bench, "swing")[0])


# -- pointing --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", TURNED)
def test_things_round_the_engine_lead_to_their_fields(bench, name):
    picture, _ = shown(bench, name)
    found = {address_of(item.ref, 0) for item in picture.items if item.ref}
    assert SEAT in found
    assert any(item is not None and item.table == "well" for item in found)


def test_a_field_lights_up_what_it_places(bench):
    picture, _ = shown(bench, "swing")
    for address in (SEAT, Address("well", "length")):
        ref = ref_of(address, bench.engine_index)
        assert ref and picture.lit(ref) != picture


def test_a_row_that_cannot_be_used_keeps_the_others_in_their_places(bench):
    bench.type(Address("obstacle", "above_from", 0), "")
    bench.type(Address("obstacle", "above_to", 0), "")
    picture, _ = shown(bench, "swing")
    assert any(address_of(item.ref, 0) == Address("obstacle", "name", 1) for item in picture.items)
    assert "Not drawn: " in words(picture)
    assert "stern seat" in words(picture)  # it is named with what it lacks


def test_an_obstacle_just_added_takes_nothing_away(bench):
    drawn, _ = shown(bench, "swing")
    bench.add_row("obstacle")
    picture, _ = shown(bench, "swing")
    assert picture.kind == "swing"
    refs = [{item.ref for item in made.items} for made in (drawn, picture)]
    assert refs[0] == refs[1]


def test_a_well_that_cannot_be_is_said_in_place_of_the_picture(bench):
    while bench.draft.rows("obstacle"):
        bench.remove_row("obstacle", 0)
    for name in ("length", "floor_below_top", "front_top"):
        bench.type(Address("well", name), "")
    bench.add_row("obstacle", name="x", outline="1, 2; 3, 4")
    bench.type(Address("well", "width"), "")
    picture, _ = shown(bench, "swing")
    assert picture.kind == "words"
    assert "x" in words(picture)


@pytest.mark.parametrize(
    ("name", "point", "said"),
    [
        ("swing", (-120.0, 40.0), "120 mm ahead of the transom, 40 mm above its top"),
        ("swing", (12.0, -3.0), "12 mm aft of the transom, 3 mm below its top"),
        ("swing-plan", (-120.0, 40.0), "120 mm ahead of the transom, 40 mm to starboard"),
        ("swing-worst", (1.0, 2.0), ""),
    ],
)
def test_where_the_pointer_is_is_said(name, point, said):
    assert hover_words(name, point, Shown()) == said
