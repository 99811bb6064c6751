"""The boat afloat in the drawing: what is drawn, where it leads, and loads moved fore and aft."""

from __future__ import annotations

import pytest

from rigfit.desk import mass_drag, pictures
from rigfit.desk.afloat_pictures import AFLOATS, mark_fields, mass_row
from rigfit.desk.draft import Address
from rigfit.desk.drawing_pane import DrawingPane
from rigfit.desk.pictures import address_of, fitted, hover_words, picture_of, pointed_at, ref_of
from rigfit.drawing.scene import Disc, Text
from rigfit.drawing.strokes import full_extents
from rigfit.rigging.afloat import Flotation, flotation_of
from rigfit.rigging.findings import Verdict
from rigfit.units import Shown
from tests.desk import harness
from tests.desk.afloat_boat import afloat_bench
from tests.desk.panels import demo_bench

SIZES = ((900, 640, 1.0), (1800, 1200, 2.0), (560, 700, 1.0), (480, 420, 1.0))
NEW_BATTERY = Address("mass", "ahead_of_transom", 1)


@pytest.fixture
def bench(tmp_path):
    made = afloat_bench(tmp_path)
    assert made.derived.messages == {}
    return made


def shown(bench, name="afloat", size=SIZES[0]):
    bench.set_picture(name)
    view = fitted(bench, *size)
    return picture_of(bench, view), view


def words(picture):
    return [item.words for item in picture.items if isinstance(item, Text)]


def ring(picture, row):
    return next(i for i in picture.moving if isinstance(i, Disc) and i.ref == f"mass-{row}")


# -- what is drawn ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "said"),
    [("afloat", "Heights above the water"), ("scupper-curve", "Under more mass at the transom")],
)
def test_each_is_the_drawing_of_its_name(bench, name, said):
    picture, _ = shown(bench, name)
    assert picture.kind == name
    assert said in words(picture)


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", sorted(AFLOATS))
def test_it_is_whole_in_the_pane(tmp_path, name, size, lengths):
    picture, view = shown(afloat_bench(tmp_path, lengths), name, size)
    left, bottom, right, top = full_extents(picture.items, view.scene_scale)
    low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
    assert low[0] >= 0.0 and high[1] >= 0.0 and high[0] <= view.width and low[1] <= view.height


@pytest.mark.parametrize(("name", "times"), [("afloat", 1.0), ("scupper-curve", 2.0)])
def test_letters_of_the_curve_grow_with_it_those_of_the_boat_keep_their_size(bench, name, times):
    picture, view = shown(bench, name)
    closer = picture_of(bench, view.zoomed(2.0))

    def heights(made):
        texts = [i for i in made.items if isinstance(i, Text) and i.group != "sheet"]
        return [item.height_mm for item in texts]

    assert heights(closer) == pytest.approx([times * height for height in heights(picture)])


@pytest.mark.parametrize("name", sorted(AFLOATS))
def test_a_boat_without_a_hull_says_what_to_fill_in(tmp_path, name):
    bench = demo_bench(tmp_path)
    draft = bench.draft
    if bench.derived.job.hull.chine_beam is not None:
        pytest.skip("the demo boat has a hull")
    picture, _ = shown(bench, name)
    assert picture.kind == "words"
    assert "Nothing is filled in about the hull" in " ".join(words(picture))
    assert bench.draft == draft


def test_what_is_missing_is_said_as_the_finding_says_it(bench):
    bench.type(Address("afloat", "engine_mass"), "")
    bench.type(Address("old_engine", "mass"), "")
    bench.type(Address("old_engine", "engine_class"), "")
    picture, _ = shown(bench)
    assert picture.kind == "words"
    assert "mass of the engine that hung on her then" in " ".join(words(picture))
    finding = next(item for item in bench.report.findings if item.code == 511)
    assert finding.verdict is Verdict.UNKNOWN


def test_the_picture_follows_what_is_typed(bench):
    before, _ = shown(bench)
    bench.type(Address("afloat", "transom_top"), "340 mm")
    after, _ = shown(bench)
    assert words(before) != words(after)


# -- where it leads --------------------------------------------------------------------------------


def test_every_mark_leads_to_where_its_height_is_typed(bench):
    flotation = flotation_of(bench.report.case)
    assert isinstance(flotation, Flotation)
    named = dict(zip([mark.name for mark in flotation.marks],
                     mark_fields(flotation, bench.derived), strict=True))  # fmt: skip
    assert named == {
        "transom top": "afloat.transom_top",
        "scupper": "afloat.scupper",
        "cable opening": "mark-0",
        "sole": "mark-1",
    }
    for ref in named.values():
        address = address_of(ref, 0)
        assert address is not None
        assert ref_of(address, 0) == ref


def test_a_mark_that_has_no_height_yet_leaves_the_others_theirs(bench):
    bench.type(Address("mark", "below_top", 0), "")
    flotation = flotation_of(bench.report.case)
    assert mark_fields(flotation, bench.derived)[-1] == "mark-1"


def test_every_ref_of_the_drawings_leads_to_a_field_there_is(bench):
    for name in AFLOATS:
        picture, _ = shown(bench, name)
        refs = {item.ref for item in picture.items} - {""}
        assert refs
        for ref in refs:
            address = address_of(ref, bench.engine_index)
            assert address is not None
            bench.draft.text(address)


def test_a_load_is_pointed_at_by_its_ring_and_the_focus_lights_it(bench):
    picture, view = shown(bench)
    assert pointed_at(picture, ring(picture, 1).centre, 1.0, view.scene_scale) == "mass-1"
    lit = picture.lit(ref_of(NEW_BATTERY, 0))
    texts = {
        i.ref: i.bold for i in lit.items if isinstance(i, Text) and i.words.startswith("on: n")
    }
    assert texts == {"mass-1": True}


def test_where_the_pointer_is_on_the_hull_is_said_and_beside_it_not():
    style = Shown("mm")
    assert hover_words("afloat", (-1200.0, 300.0), style) == (
        "1200 mm ahead of the transom's foot, 300 mm above the keel line"
    )
    assert hover_words("afloat", (-1200.0, -900.0), style) == ""
    assert hover_words("scupper-curve", (10.0, 10.0), style) == ""


# -- loads -----------------------------------------------------------------------------------------


def test_loads_with_a_place_have_a_ring_at_it_and_others_have_none(bench):
    picture, _ = shown(bench)
    assert {mass_row(item.ref) for item in picture.moving} == {0, 1}
    assert ring(picture, 0).centre[0] == -300.0
    assert ring(picture, 1).centre[0] == -1505.0
    assert "M1 old battery, M2 new battery" in " ".join(words(picture))


def test_rings_of_loads_in_one_place_stand_one_above_the_other(bench):
    for _ in range(4):
        bench.add_row("mass", name="box", mass="5 kg", ahead_of_transom="1505 mm",
                      above_keel="350 mm")  # fmt: skip
    picture, _ = shown(bench)
    rings = [item for item in picture.moving if isinstance(item, Disc)]
    assert len(rings) == 6
    for at, one in enumerate(rings):
        for other in rings[at + 1 :]:
            gap = abs(complex(*one.centre) - complex(*other.centre))
            assert gap > one.radius_mm + other.radius_mm


@pytest.mark.parametrize(
    ("lengths", "aft", "text"),
    [("mm", 203.0, "1300 mm"), ("mm", 1.0, "1500 mm"), ("in", 203.0, "51.5 in")],
)
def test_a_dragged_load_stands_at_whole_steps(tmp_path, lengths, aft, text):
    bench = afloat_bench(tmp_path, lengths)
    mass_drag.put(bench, "mass-1", mass_drag.dragged(bench, "mass-1", aft))
    assert bench.draft.text(NEW_BATTERY) == text
    assert bench.derived.messages == {}


@pytest.mark.parametrize("aft", [-1e6, 1e6])
def test_a_load_is_never_dragged_to_where_its_field_refuses_it(bench, aft):
    mass_drag.put(bench, "mass-1", mass_drag.dragged(bench, "mass-1", aft))
    assert bench.derived.messages == {}
    place = bench.derived.job.masses[1].ahead_of_transom.value
    assert -3000.0 <= place <= bench.derived.job.boat.length.value


def test_what_is_no_load_with_a_place_is_not_dragged(bench):
    for ref in ("mass-2", "mass-77", "mark-0", ""):
        assert mass_drag.dragged(bench, ref, 100.0) is None


@pytest.fixture
def pane(make_root, bench):
    bench.set_picture("afloat")
    root = make_root(size="900x640")
    harness.take_keyboard(root)
    made = DrawingPane(root, bench)
    made.pack(fill="both", expand=True)
    harness.wait_for(root, lambda: made.is_painted and not made.pending)
    yield made
    bench.close(discard=True)


def hold(pane, row):
    x, y = (round(part) for part in pane.view.to_screen(ring(pane.picture, row).centre))
    pane.canvas.event_generate("<Motion>", x=x, y=y)
    pane.canvas.event_generate("<ButtonPress-1>", x=x, y=y)
    return x, y


def test_a_load_is_dragged_aft_and_it_is_one_step(pane, bench):
    before, first = bench.draft, ring(pane.picture, 1).centre
    x, y = hold(pane, 1)
    assert str(pane.canvas.cget("cursor")) == "sb_h_double_arrow"
    view = pane.view
    for at in (x + 20, x + 60):
        pane.canvas.event_generate("<B1-Motion>", x=at, y=y, state=0x100)
    assert bench.draft == before
    assert ring(pane.picture, 1).centre[0] > first[0]
    pane.canvas.event_generate("<ButtonRelease-1>", x=x + 60, y=y)
    place = bench.derived.job.masses[1].ahead_of_transom.value
    assert place == pytest.approx(1505.0 - 60.0 * view.mm_per_px, abs=5.01)
    assert ring(pane.picture, 1).centre[0] == -place
    assert bench.undo() == "the place of a load"
    assert bench.draft == before


def test_escape_lets_a_load_go_where_it_was(pane, bench):
    before, first = bench.draft, pane.picture
    x, y = hold(pane, 1)
    pane.canvas.event_generate("<B1-Motion>", x=x + 60, y=y, state=0x100)
    pane.canvas.focus_force()
    pane.canvas.event_generate("<Key-Escape>")
    pane.canvas.event_generate("<ButtonRelease-1>", x=x + 60, y=y)
    assert bench.draft == before
    assert ring(pane.picture, 1) == ring(first, 1)


def test_a_click_on_a_load_goes_to_its_row(pane, bench):
    x, y = hold(pane, 0)
    pane.canvas.event_generate("<ButtonRelease-1>", x=x, y=y)
    assert bench.wanted == Address("mass", "name", 0)
    assert pictures.picture_of(bench, pane.view).kind == "afloat"
