"""The transom's face: holes where they are, an exact mirror from inside, tables that tape true."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from rigfit.drawing.face_plan import face_plan, marks_of
from rigfit.drawing.face_sheet import SCALES, TITLES, face_sheet, table_rows
from rigfit.drawing.face_view import BIG_WORDS, face_items, mirrored, tape_words
from rigfit.drawing.fonts import text_box
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Dash, Disc, Ink, Path, Scene, Text, flatten
from rigfit.drawing.strokes import full_extents
from rigfit.drawing.to_dxf import audit, to_dxf
from rigfit.drawing.to_list import words
from rigfit.errors import OutputError
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import ExistingHole
from rigfit.rigging.transom_map import Neighbour, NoGo, Opening, TransomFace
from rigfit.units import Shown
from rigfit.wording import CAUTIONS
from tests.builders import CATALOGUE, CLAMPED, case_of, changed, jobs, reading, sample_job, without

SAID = SheetWords("Nothing stops it; 3 findings tight.", CAUTIONS, "0.1.0", "14 March 2026")
PAPERS = ("A3", "A4", "Letter")
MM, INCH = Shown("mm"), Shown("in")
CHINES = TransomFace(chine_width=reading(1580.0, 3.0), chine_below_top=reading(370.0, 3.0))


def old(name, across, below, diameter=13.5):
    return ExistingHole(name, reading(across), reading(below), reading(diameter))


def full_job(**changes):
    """Return a job with everything that a face can show."""
    job = sample_job(
        face=TransomFace(
            chine_width=reading(1580.0, 3.0), chine_below_top=reading(370.0, 3.0),
            notch_width=reading(640.0, 3.0), notch_depth=reading(120.0, 3.0),
        ),
        transom__width_at_top=reading(1400.0, 3.0),
        holes=(
            old("old top port", -163.5, 48.0), old("old top starboard", 163.5, 48.0),
            old("old low port", -130.0, 240.0), old("", 130.0, 240.0),
        ),
        openings=(
            Opening("drain", "drain", reading(0.0), reading(455.0), reading(32.0)),
            Opening("", "cable opening", reading(-250.0), reading(60.0), reading(80.0),
                    reading(50.0)),
        ),
        no_go=(
            NoGo("port knee", "knee", reading(-260.0), reading(-205.0), reading(120.0),
                 reading(450.0), reading(30.0)),
            NoGo("", "well floor", reading(300.0), reading(-300.0), reading(420.0), reading(340.0)),
        ),
        bolting=Bolting(backing="plate", plate_width=reading(400.0), plate_height=reading(80.0)),
    )  # fmt: skip
    return changed(job, **changes)


JOBS = {
    "full": full_job(),
    "plain": sample_job(),
    "twins": full_job(neighbour=Neighbour("twins", reading(660.0, 0.5))),
    "kicker": full_job(
        neighbour=Neighbour(
            arrangement="kicker",
            kicker_pattern="four-bolt",
            kicker_across=reading(520.0),
            kicker_upper_holes=reading(60.0),
        )
    ),
    "off": full_job(mounting__off_centre=reading(345.5, 3.0)),
    "clamped": sample_job(engine__engine_class=CLAMPED),
    "bare": without(sample_job(), "transom.width_at_top", "engine.leg_measured"),
    "empty": without(
        sample_job(), "transom.width_at_top", "transom.height_along_face", "transom.height_square",
        "mounting.upper_holes_below_top",
    ),
}  # fmt: skip

every_job = pytest.mark.parametrize("name", sorted(JOBS))
every_sheet = pytest.mark.parametrize(
    ("name", "paper", "side"),
    [(name, paper, side) for name in sorted(JOBS) for paper in PAPERS for side in TITLES],
)


def plan_of(name, relations=None):
    return face_plan(case_of(JOBS[name]), relations)


def sheet(name, paper="A3", side="outside", style=MM, **more):
    return face_sheet(case_of(JOBS[name]), style, SAID, paper, side, **more)


def of(items, kind, layer):
    return [item for item in items if isinstance(item, kind) and item.layer == layer]


def drawn(items):
    """Return where everything lies, mirror-proof: rounded points of paths, discs and words."""
    found = []
    for item in items:
        if isinstance(item, Disc):
            found.append(("disc", _r(item.centre), round(item.radius_mm, 4)))
        elif isinstance(item, Path):
            points = flatten(item, 0.5) if item.bulges else item.points
            found.append(("path", tuple(sorted(map(_r, points)))))
        else:
            found.append(("text", item.words, tuple(sorted(map(_r, text_box(item, 8.0))))))
    return sorted(found, key=repr)


def _r(point):
    return round(point[0], 4) + 0.0, round(point[1], 4) + 0.0


# ------------------------------------------------------------------------- the mirror


@every_job
def test_the_inside_is_an_exact_mirror_of_the_outside(name):
    plan = plan_of(name)
    outside = [i for i in face_items(plan, 8.0, MM, "outside") if getattr(i, "ref", "") != "view"]
    inside = [i for i in face_items(plan, 8.0, MM, "inside") if getattr(i, "ref", "") != "view"]
    assert len(outside) == len(inside) > 5
    for one, other in zip(outside, inside, strict=True):
        assert type(one) is type(other)
        if isinstance(one, Disc):
            assert _r(other.centre) == _r((-one.centre[0], one.centre[1]))
            assert other.radius_mm == one.radius_mm
        elif isinstance(one, Path):
            mirror = [_r((-x, y)) for x, y in flatten(one, 0.5)]
            assert [_r(point) for point in flatten(other, 0.5)] == mirror
        else:
            assert other.words == one.words
            assert _r(other.at) == _r((-one.at[0], one.at[1]))


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_mirrored_twice_is_as_it_was(job):
    items = face_items(face_plan(case_of(job)), 8.0, MM)
    assert drawn(mirrored(mirrored(items))) == drawn(items)


@every_job
def test_words_cover_the_mirrored_place_and_never_stand_on_their_head(name):
    plan = plan_of(name)
    for text in face_items(plan, 8.0, MM, "inside"):
        if isinstance(text, Text):
            assert text.angle_deg in (0.0, 90.0)
    level = [
        item for item in face_items(plan, 8.0, MM) if isinstance(item, Text) and not item.angle_deg
    ]
    for text, other in zip(level, mirrored(level), strict=True):
        xs = sorted(x for x, _ in text_box(text, 8.0))
        mirrored_xs = sorted(-x for x, _ in text_box(other, 8.0))
        assert mirrored_xs == pytest.approx(xs)


@pytest.mark.parametrize("side", TITLES)
def test_the_view_is_named_in_big_letters_and_in_the_title(side):
    scene = sheet("full", side=side)
    (big,) = [item for item in scene.items if getattr(item, "ref", "") == "view"]
    assert big.words == BIG_WORDS[side]
    assert big.height_mm >= 5.0
    assert TITLES[side] in words(scene)
    assert ("MIRRORED" in big.words) == (side == "inside")


@pytest.mark.parametrize(("side", "port"), [("outside", -1.0), ("inside", 1.0)])
def test_port_is_left_from_astern_and_right_from_inside(side, port):
    items = face_items(plan_of("full"), 8.0, MM, side)
    at = {item.words: item.at[0] for item in items if getattr(item, "ref", "") == "side"}
    assert at["PORT"] * port > 0.0 > at["STARBOARD"] * port


def test_an_unknown_side_is_refused():
    with pytest.raises(OutputError, match="known: outside, inside"):
        sheet("full", side="above")


# ------------------------------------------------------------------------- what is where


@every_job
def test_holes_stand_where_they_were_measured(name):
    plan = plan_of(name)
    items = face_items(plan, 8.0, MM)
    found = {item.ref: item for item in of(items, Disc, "DRILL") + of(items, Disc, "EXISTING")}
    for mark, hole in marks_of(plan):
        if mark.startswith("P"):
            continue
        disc = found[f"{'new' if mark.startswith('N') else 'old'}-{mark}"]
        assert disc.centre == (hole.across_mm, -hole.below_top_mm)
        assert 2.0 * disc.radius_mm == pytest.approx(hole.diameter_mm)
    assert len(of(items, Disc, "DRILL")) == len(plan.new)


def test_known_edges_are_solid_and_a_usual_shape_is_dotted_and_said():
    known = [path.pen.dash for path in of(face_items(plan_of("full"), 8.0, MM), Path, "TRANSOM")]
    assert set(known) == {Dash.SOLID}
    usual = of(face_items(plan_of("empty"), 8.0, MM), Path, "TRANSOM")
    assert {path.pen.dash for path in usual} == {Dash.DOTTED}
    said = " ".join(words(sheet("empty")))
    assert "Dotted, not measured, drawn at a usual size: width at the top, chine corners, " in said
    assert not any("usual size" in line for line in words(sheet("full")))


@every_job
def test_the_outline_is_closed_and_holds_the_centreline(name):
    paths = of(face_items(plan_of(name), 8.0, MM), Path, "TRANSOM")
    ends = [_r(point) for path in paths for point in path.points]
    assert all(ends.count(point) == 2 for point in ends)
    starboard = [(s.start, s.end) for s in plan_of(name).sides]
    ring = [start for start, _ in starboard] + [starboard[-1][1]]
    half = Polygon(ring)
    assert half.is_valid
    assert half.area > 0.0


def test_the_outline_goes_through_what_was_measured():
    corners = {_r(end) for side in plan_of("full").sides for end in (side.start, side.end)}
    assert corners >= {(320.0, 0.0), (320.0, 120.0), (700.0, 120.0), (790.0, -370.0), (0.0, -518.0)}


def test_places_inside_are_hatched_and_dashed_only_from_outside():
    for side, dash in (("outside", Dash.DASHED), ("inside", Dash.SOLID)):
        items = of(face_items(plan_of("full"), 8.0, MM, side), Path, "OBSTACLE")
        places = [item for item in items if item.ref.startswith("place-")]
        hatch = [item for item in items if item.ref == "hatch"]
        assert {place.pen.dash for place in places} == {dash}
        areas = [Polygon(flatten(place, 0.05)).buffer(0.5) for place in places]
        assert len(hatch) > 10
        for line in hatch:
            assert any(area.covers(box(*p, *p)) for area in areas for p in line.points)
    swapped = Polygon(flatten(places[1], 0.05)).bounds
    assert swapped == (-300.0, -420.0, 300.0, -340.0)


@pytest.mark.parametrize(("side", "dash"), [("outside", Dash.DASHED), ("inside", Dash.SOLID)])
def test_backing_plates_lie_over_their_bolts(side, dash):
    items = face_items(plan_of("full"), 8.0, MM, side)
    plates = of(items, Path, "BACKING")
    assert len(plates) == 2
    assert {plate.pen.dash for plate in plates} == {dash}
    areas = [Polygon(flatten(plate, 0.05)) for plate in plates]
    for hole in of(items, Disc, "DRILL"):
        assert sum(area.covers(box(*hole.centre, *hole.centre)) for area in areas) == 1


def test_twins_and_a_kicker_have_holes_and_centrelines_of_their_own():
    twins, kicker = plan_of("twins"), plan_of("kicker")
    assert len(twins.new) == len(kicker.new) == 8
    assert dict(twins.centres) == {"port engine": -330.0, "starboard engine": 330.0}
    assert dict(kicker.centres) == {"kicker": 520.0}
    said = words(Scene("", face_items(kicker, 8.0, MM)))
    assert "kicker" in said


def test_a_kicker_without_holes_still_has_its_centreline():
    job = full_job(neighbour=Neighbour("kicker", kicker_across=reading(430.0)))
    plan = face_plan(case_of(job))
    assert len(plan.new) == 4
    assert dict(plan.centres) == {"kicker": 430.0}


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("bare", "its leg is not measured"),
        ("clamped", "it clamps on and its bolt holes are not known"),
        ("empty", "it is not decided how far below the transom top the upper holes go"),
    ],
)
def test_no_hole_is_drawn_from_an_advert_and_the_sheet_says_why(name, why):
    assert plan_of(name).new == ()
    assert why in " ".join(words(sheet(name)))


def test_a_plate_without_a_size_is_not_drawn_and_said():
    plan = face_plan(case_of(full_job(bolting__plate_width=None)))
    assert plan.plates == ()
    assert any("No backing plate is drawn: bolting, plate_width" in note for note in plan.notes)


def test_relations_colour_and_name_the_holes():
    relations = {"upper port": "serves", "lower port": "breaks into", "upper starboard": "clear"}
    plan = plan_of("full", relations)
    discs = {item.ref: item.pen.ink for item in of(face_items(plan, 8.0, MM), Disc, "DRILL")}
    assert discs == {
        "new-N1": Ink.FITS, "new-N2": Ink.LINE, "new-N3": Ink.STOPS, "new-N4": Ink.LINE,
    }  # fmt: skip
    said = {row[1]: row[-1] for row in table_rows(plan, MM)[1:]}
    assert said["upper port"] == "serves"
    assert said["lower stbd"] == ""
    assert table_rows(plan_of("full"), MM)[0][-1] == "to stbd chine"


# ------------------------------------------------------------------------- the table


@pytest.mark.parametrize("style", [MM, INCH])
@every_job
def test_the_table_gives_every_hole_as_a_tape_reads_it(name, style):
    plan = plan_of(name)
    rows = table_rows(plan, style)
    assert len(rows) == 1 + len(marks_of(plan))
    for row, (mark, hole) in zip(rows[1:], marks_of(plan), strict=True):
        assert row[0] == mark
        assert f"{round(abs(hole.across_mm), 1):g}" in row[2]
        assert f"{round(hole.below_top_mm, 1):g}" in row[3]
        assert ("port" in row[2]) == (hole.across_mm < -0.05)


@settings(max_examples=60)
@given(
    st.floats(-900.0, 900.0), st.floats(20.0, 500.0), st.floats(300.0, 3000.0),
    st.floats(100.0, 900.0),
)  # fmt: skip
def test_diagonals_to_the_chine_corners_are_the_tape_of_pythagoras(across, below, width, deep):
    face = TransomFace(chine_width=reading(width), chine_below_top=reading(deep))
    plan = face_plan(case_of(sample_job(face=face, holes=(old("h", across, below),))))
    row = table_rows(plan, MM)[-1]
    for cell, corner in zip(row[5:7], (-width / 2.0, width / 2.0), strict=True):
        said = float(cell.split(" (")[0])
        assert said == pytest.approx(math.hypot(across - corner, below - deep), abs=0.0501)


def test_two_fixed_points_serve_where_the_chine_corners_are_not_known():
    face = TransomFace(
        point_a_across=reading(-300.0), point_a_below=reading(0.0),
        point_b_across=reading(300.0), point_b_below=reading(0.0),
    )  # fmt: skip
    plan = face_plan(case_of(sample_job(face=face)))
    rows = table_rows(plan, MM)
    assert rows[0][5:] == ("to point A", "to point B")
    assert rows[1][5] == f"{round(math.hypot(136.5, 48.0), 1):g} (5 11/16)"
    assert not any("chine corners" in note for note in plan.notes)


def test_without_points_to_tape_from_the_sheet_asks_for_them():
    assert "Measure the width between the chine corners" in " ".join(words(sheet("plain")))


@pytest.mark.parametrize(
    ("style", "said"), [(MM, "163.5 (6 7/16 in)"), (INCH, "6 7/16 in (163.5)")]
)
def test_a_tape_reads_both_units(style, said):
    assert tape_words(163.5, style) == said


def test_the_drawing_itself_has_every_distance_of_the_new_holes():
    said = words(Scene("", face_items(plan_of("full"), 8.0, MM)))
    for hole in plan_of("full").new:
        assert tape_words(abs(hole.across_mm), MM) in said
        assert tape_words(hole.below_top_mm, MM) in said


# ------------------------------------------------------------------------- the sheet


def areas(scene):
    (x0, y0), scale = scene.placement.corner, scene.scale
    for item in scene.items:
        if isinstance(item, Text) and item.words:
            corners = [((x - x0) / scale, (y - y0) / scale) for x, y in text_box(item, scale)]
            yield item.words, Polygon(corners)


@every_sheet
def test_everything_is_on_the_sheet_and_no_text_covers_another(name, paper, side):
    scene = sheet(name, paper, side, INCH if paper == "Letter" else MM)
    assert scene.scale in SCALES
    paper_box = scene.placement.paper
    frame = box(9.99, 9.99, paper_box.width_mm - 9.99, paper_box.height_mm - 9.99)
    found = list(areas(scene))
    assert [said for said, area in found if not frame.covers(area)] == []
    small = [(said, area.buffer(-0.05)) for said, area in found]
    assert [
        (one, other) for (one, a), (other, b) in combinations(small, 2) if a.intersects(b)
    ] == []
    bounds = full_extents(scene.items, scene.scale)
    (x, y), scale = scene.placement.corner, scene.scale
    assert bounds[0] >= x
    assert bounds[1] >= y
    assert bounds[2] <= x + paper_box.width_mm * scale
    assert bounds[3] <= y + paper_box.height_mm * scale


@settings(max_examples=30, deadline=None)
@given(jobs(), st.lists(st.tuples(st.floats(-700, 700), st.floats(0, 500)), max_size=12))
def test_any_job_goes_on_a3(job, places):
    holes = tuple(old(f"hole {k}", x, y) for k, (x, y) in enumerate(places))
    job = changed(job, holes=holes, face=CHINES)
    scene = face_sheet(fit_check(job, CATALOGUE), Shown(job.units.lengths), SAID)
    frame = box(9.99, 9.99, 410.01, 287.01)
    assert [said for said, area in areas(scene) if not frame.covers(area)] == []


def test_more_holes_than_go_on_the_paper_are_said():
    holes = tuple(old(f"hole {k}", -600.0 + 20.0 * k, 100.0 + k) for k in range(60))
    scene = face_sheet(case_of(full_job(holes=holes)), MM, SAID, "A4")
    assert any(line.endswith("more do not go on this paper: choose a larger one.")
               for line in words(scene))  # fmt: skip


def test_a_report_puts_its_verdict_before_the_status():
    report = fit_check(full_job(), CATALOGUE)
    scene = face_sheet(report, MM, SAID)
    assert f"{report.verdict.value.upper()}: {SAID.status}" in " ".join(words(scene))
    assert SAID.status in words(sheet("full"))


@pytest.mark.parametrize("side", TITLES)
def test_the_sheet_makes_a_sound_file_the_same_each_time(side):
    data = to_dxf(sheet("full", side=side))
    assert audit(data) == []
    assert data == to_dxf(sheet("full", side=side))
