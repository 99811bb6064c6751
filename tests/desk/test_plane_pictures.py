"""Pictures of face, bolt section and dash: what is drawn, where it leads, what is said; no Tk."""

import pytest
from shapely.geometry import Polygon

from rigfit import tasks
from rigfit.desk import pictures
from rigfit.desk.afloat_pictures import AFLOATS
from rigfit.desk.draft import FIELDS, Address
from rigfit.desk.pictures import address_of, fitted, hover_words, picture_of, pointed_at, ref_of
from rigfit.desk.plane_pictures import PLANES, TRIALS, places_of
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.drawing.fonts import text_box
from rigfit.drawing.scene import Disc, Ink, Path, Text
from rigfit.drawing.strokes import full_extents
from rigfit.records.profiles import load_catalogue
from rigfit.units import Shown
from tests.desk.drilled_boat import drilled_bench
from tests.desk.panels import demo_bench

SIZES = ((900, 640, 1.0), (1800, 1200, 2.0), (560, 700, 1.0), (480, 420, 1.0))
ALL = sorted(PLANES - AFLOATS - TRIALS)


@pytest.fixture
def bench(tmp_path):
    made = drilled_bench(tmp_path)
    assert made.derived.messages == {}
    return made


def shown(bench, name, size=SIZES[0]):
    bench.set_picture(name)
    view = fitted(bench, *size)
    return picture_of(bench, view), view


def texts(picture):
    return [item for item in picture.items if isinstance(item, Text)]


def words(picture):
    return [item.words for item in texts(picture)]


def touching(picture, view):
    boxes = [(item.words, Polygon(text_box(item, view.scene_scale))) for item in texts(picture)]
    return [
        (one, other)
        for at, (one, box) in enumerate(boxes)
        for other, beside in boxes[at + 1 :]
        if box.intersects(beside)
    ]


# -- what is shown ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("face", "SEEN FROM ASTERN, OUTSIDE"),
        ("face-inside", "SEEN FROM INSIDE: MIRRORED"),
        ("section", "grip 69"),
        ("dash", "rev counter"),
    ],
)
def test_each_is_the_drawing_of_its_name(bench, name, said):
    picture, _ = shown(bench, name)
    assert picture.kind == name
    assert said in words(picture)


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ALL)
def test_it_is_whole_in_the_pane_and_no_words_touch(bench, name, size, lengths):
    bench.set_units(lengths=lengths)
    picture, view = shown(bench, name, size)
    left, bottom, right, top = full_extents(picture.items, view.scene_scale)
    low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
    assert low[0] >= 0.0 and high[1] >= 0.0 and high[0] <= view.width and low[1] <= view.height
    assert touching(picture, view) == []


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("size", SIZES[:2])
@pytest.mark.parametrize("name", ALL)
def test_no_words_of_the_drilled_demo_touch(tmp_path, name, size, lengths):
    path = tmp_path / "drilled.toml"
    tasks.save(path, tasks.drilled_demo_job())
    bench = Workbench(load_catalogue(), Settings(), tmp_path / "unsaved")
    bench.open(path)
    bench.set_units(lengths=lengths)
    picture, view = shown(bench, name, size)
    assert picture.kind == name
    assert touching(picture, view) == []


@pytest.mark.parametrize("size", SIZES[:2])
@pytest.mark.parametrize("name", ["face", "face-inside"])
def test_the_face_of_the_plain_demo_boat_has_no_words_that_touch(tmp_path, name, size):
    picture, view = shown(demo_bench(tmp_path), name, size)
    assert touching(picture, view) == []


def test_words_of_the_face_keep_their_size_and_those_of_the_dash_grow(bench):
    for name, keeps in (("face", True), ("section", True), ("dash", False)):
        picture, view = shown(bench, name)
        closer = picture_of(bench, view.zoomed(2.0))
        first, second = (
            {item.words: item.height_mm for item in texts(made) if item.group != "sheet"}
            for made in (picture, closer)
        )
        common = first.keys() & second.keys()
        assert common
        for said in common:
            ratio = second[said] / first[said]
            assert ratio == pytest.approx(1.0 if keeps else 2.0)


def test_the_inside_is_the_mirror_of_the_outside(bench):
    def centres(name):
        picture, _ = shown(bench, name)
        discs = [item for item in picture.items if isinstance(item, Disc)]
        return sorted(
            (round(disc.centre[0], 6) + 0.0, disc.centre[1], disc.radius_mm) for disc in discs
        )

    outside, inside = centres("face"), centres("face-inside")
    assert outside
    assert inside == sorted((-x + 0.0, y, radius) for x, y, radius in outside)


@pytest.mark.parametrize(("name", "said"), [("section", "section"), ("dash", "dash")])
def test_what_is_not_measured_is_a_sentence_with_its_cure(tmp_path, name, said):
    bench = demo_bench(tmp_path)
    picture, view = shown(bench, name)
    sentence = " ".join(words(picture))
    assert picture.kind == "words"
    assert said in sentence
    assert sentence.endswith(".")
    assert "_" not in sentence
    assert touching(picture, view) == []


def test_a_cure_names_no_field_of_a_file(bench):
    bench.type(Address("mounting", "upper_holes_below_top"), "")
    for index in range(len(bench.draft.rows("hole"))):
        bench.remove_row("hole", len(bench.draft.rows("hole")) - 1)
        assert index >= 0
    for name in ("template", "face"):
        sentence = " ".join(words(shown(bench, name)[0]))
        assert "_" not in sentence
        assert "rigfit heights" not in sentence


def test_the_note_says_what_marks_and_colours_mean(bench):
    picture, _ = shown(bench, "face")
    note = " ".join(item.words for item in texts(picture) if item.group == "sheet")
    assert "X old hole" in note
    assert "An old hole serves: N1, N2, N3, N4." in note
    bench.type(Address("hole", "across", 0), "-150 mm")
    picture, _ = shown(bench, "face")
    note = " ".join(item.words for item in texts(picture) if item.group == "sheet")
    assert "N1" not in note.split("An old hole serves:")[1].split(".")[0]
    assert "old hole: N1." in note


def test_what_is_guessed_of_the_face_is_noted(bench):
    bench.type(Address("face", "chine_width"), "")
    picture, _ = shown(bench, "face")
    assert any("usual size" in item.words for item in texts(picture) if item.group == "sheet")


def test_the_numbers_of_the_section_are_named(bench):
    picture, _ = shown(bench, "section")
    note = " ".join(item.words for item in texts(picture) if item.group == "sheet")
    for said in ("1 washer", "2 engine's bracket", "3 transom", "4 backing plate", "5 washer"):
        assert said in note


# -- which field an item belongs to ----------------------------------------------------------------


@pytest.mark.parametrize("name", ["face", "face-inside"])
@pytest.mark.parametrize("table", ["hole", "opening", "no_go"])
def test_what_is_on_the_face_leads_to_the_first_field_of_its_row(bench, name, table):
    picture, view = shown(bench, name)
    side = 1.0 if name == "face" else -1.0
    for index, item in enumerate(getattr(bench.derived.job, f"{table}s", bench.derived.job.no_go)):
        if table == "no_go":
            x = (item.across_from.value + item.across_to.value) / 2.0
            y = -(item.below_from.value + 0.2 * (item.below_to.value - item.below_from.value))
            x += 100.0 * (index == 0)  # beside the knee that lies over it
        else:
            x, y = item.across.value, -item.below_top.value
            if table == "hole":  # the middle is that of the new hole as well
                x += item.diameter.value / 2.0 * 0.99
        ref = pointed_at(picture, (side * x, y), 6.0 * view.mm_per_px, view.scene_scale)
        wanted = Address(table, FIELDS[table][0][0], index)
        if table == "hole" and ref == "upper-holes":
            continue  # both lie in one place, and the new one is drawn over the old
        assert address_of(ref, bench.engine_index) == wanted


def test_a_mark_leads_to_its_row_too(bench):
    picture, view = shown(bench, "face")
    for mark, table, index in (("X2", "hole", 1), ("P1", "opening", 0), ("G2", "no_go", 1)):
        text = next(item for item in texts(picture) if item.words == mark)
        corners = text_box(text, view.scene_scale)
        middle = tuple(sum(part) / len(corners) for part in zip(*corners, strict=True))
        ref = pointed_at(picture, middle, view.mm_per_px, view.scene_scale)
        assert (address_of(ref, 0).table, address_of(ref, 0).index) == (table, index)


@pytest.mark.parametrize(
    ("name", "address"),
    [
        ("face", Address("hole", "diameter", 2)),
        ("face-inside", Address("opening", "width", 1)),
        ("face", Address("no_go", "below_to", 0)),
        ("face", Address("mounting", "upper_holes_below_top")),
        ("dash", Address("dash", "new_width", 0)),
        ("section", Address("bolting", "flange")),
        ("section", Address("transom", "thickness")),
    ],
)
def test_a_field_lights_what_it_describes_and_nothing_else(bench, name, address):
    plain, _ = shown(bench, name)
    ref = ref_of(address, bench.engine_index)
    lit = plain.lit(ref)
    changed = [new for old, new in zip(plain.items, lit.items, strict=True) if old is not new]
    assert changed and all(item.ref == ref for item in changed)
    assert any(
        (item.ink if isinstance(item, Text) else item.pen and item.pen.ink) is Ink.ACCENT
        for item in changed
    )
    assert len(changed) < len(plain.items) / 3


def test_a_row_that_does_not_count_moves_no_other(bench):
    bench.remove_row("hole", 0)
    bench.add_row("hole", name="half typed", across="10 mm")
    bench.add_row("hole", name="late", across="20 mm", below_top="150 mm", diameter="12 mm")
    late = len(bench.draft.rows("hole")) - 1
    assert late - 1 not in places_of(bench.derived, "hole")
    picture, view = shown(bench, "face")
    ref = pointed_at(picture, (20.0, -150.0), view.mm_per_px, view.scene_scale)
    assert ref == f"hole-{late}"


@pytest.mark.parametrize("table", ["hole", "opening", "no_go", "dash"])
def test_places_are_as_many_as_the_job_has(bench, table):
    records = {"hole": "holes", "opening": "openings"}
    bench.add_row(table, name="half typed")
    job = bench.derived.job
    assert len(places_of(bench.derived, table)) == len(getattr(job, records.get(table, table)))


def test_the_inside_of_a_cut_out_leads_to_it(bench):
    picture, view = shown(bench, "dash")
    for index, (x, y) in enumerate(((150.0, -75.0), (245.0, -75.0))):
        ref = pointed_at(picture, (x, y), view.mm_per_px, view.scene_scale)
        assert ref == f"dash-{index}"
    assert pointed_at(picture, (10.0, -160.0), view.mm_per_px, view.scene_scale) == ""


def test_an_empty_part_of_the_face_leads_nowhere(bench):
    picture, view = shown(bench, "face")
    assert pointed_at(picture, (0.0, -150.0), view.mm_per_px, view.scene_scale) == ""
    assert address_of("hole-x", 0) is None
    assert address_of("edge", 0) is None


# -- where the pointer is --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "point", "said"),
    [
        ("face", (82.0, -120.0), "82 mm to starboard, 120 mm below the transom top"),
        ("face", (-5.0, 12.0), "5 mm to port, 12 mm above the transom top"),
        ("face-inside", (82.0, -120.0), "82 mm to port, 120 mm below the transom top"),
        ("section", (12.0, 5.0),
         "12 mm outside the transom's outer face, 5 mm above the middle of the bolt"),
        ("section", (-30.0, -5.0),
         "30 mm inside the transom's outer face, 5 mm below the middle of the bolt"),
        ("dash", (120.0, -90.0), "120 mm right of the left edge, 90 mm below the upper edge"),
        ("dash", (-3.0, 4.0), "3 mm left of the left edge, 4 mm above the upper edge"),
    ],
)  # fmt: skip
def test_where_the_pointer_is_in_words(kind, point, said):
    assert hover_words(kind, point, Shown()) == said


def test_a_picture_has_shapes_and_words_to_read(bench):
    for name in ALL:
        picture, view = shown(bench, name)
        assert any(isinstance(item, Path) for item in picture.items)
        assert pictures.content_bounds(bench, view)[2] > 0.0
