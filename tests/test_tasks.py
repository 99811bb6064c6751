import math
import re
from dataclasses import replace
from itertools import pairwise

import ezdxf
import pypdfium2
import pytest
import shapely
from ezdxf import path as dxf_path
from hypothesis import example, given
from hypothesis import strategies as st
from pyogrio import raw as ogr

from rigfit import tasks
from rigfit.drawing.scene import Path, flatten
from rigfit.drawing.template_view import cut_scene, template_scene
from rigfit.drawing.to_dxf import audit, to_dxf
from rigfit.errors import NotMeasuredError, OutputError, RigfitError, UsageError
from rigfit.rigging.hole_pattern import Feature, drilled_features
from rigfit.rigging.readings import Origin
from rigfit.rigging.template import Template
from rigfit.units import Shown
from tests.builders import reading
from tests.demo_reports import CASES, demo_in, report_on, twin_job, with_bracket

RELEASES = pytest.mark.parametrize("release", ["R2000", "R12"])
PLACES = {  # the measured spacings and the old upper holes of the demo job, from astern
    (-163.5, -48.0),
    (163.5, -48.0),
    (-125.5, -251.0),
    (125.5, -251.0),
}


def layers(path):
    """Return the shapes of a DXF file by layer, as a library not used by rigfit reads them."""
    about, _, shapes, columns = ogr.read(path)
    names = columns[list(about["fields"]).index("Layer")]
    found = {}
    for name, shape in zip(names, shapely.from_wkb(shapes), strict=True):
        found.setdefault(name, []).append(shape)
    return found


def circle(shape):
    """Return (x, y, radius) of a circle read as a ring of points, and how round it is."""
    points = shapely.get_coordinates(shape)[:-1]
    x, y = points.mean(axis=0)
    radii = [math.hypot(px - x, py - y) for px, py in points]
    assert max(radii) - min(radii) < 1e-6
    return round(float(x), 6) + 0.0, round(float(y), 6) + 0.0, sum(radii) / len(radii)


@pytest.fixture
def written(tmp_path):
    """Write the template of a job's engine; return its two paths."""

    def write(report, release="R2000"):
        return [item.path for item in tasks.write_template(report, tmp_path, release=release)]

    return write


# ---------------------------------------------------------------- the demo


def test_the_demo_is_the_same_every_time(tmp_path):
    first, second = tasks.write_demo(tmp_path / "a"), tasks.write_demo(tmp_path / "b")
    assert [item.path.name for item in first] == [item.path.name for item in second]
    assert [item.path.read_bytes() for item in first] == [item.path.read_bytes() for item in second]
    assert len(first) == 28


def test_the_demo_lists_all_it_writes(tmp_path):
    written = tasks.write_demo(tmp_path / "new" / "folder")
    assert {item.path for item in written} == set((tmp_path / "new" / "folder").iterdir())
    assert all(item.what and item.path.stat().st_size > 400 for item in written)


def test_the_written_demo_job_gives_the_same_report(tmp_path):
    tasks.write_demo(tmp_path)
    assert tasks.check(tasks.open_job(tmp_path / "dunlin.toml")) == tasks.check(tasks.demo_job())


def test_the_demo_comes_out_with_all_four_verdicts():
    assert [report.verdict.value for report in tasks.check_all(tasks.demo_job())] == [
        "unknown",
        "fits",
        "stops",
        "tight",
    ]


# ---------------------------------------------------------------- drawings


@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
@pytest.mark.parametrize("case", CASES)
def test_every_case_can_be_drawn(case, kind):
    scene = tasks.profile_scene(report_on(case))
    data = tasks.drawing_bytes(scene, kind)
    start = {"svg": b"<?xml", "png": b"\x89PNG", "pdf": b"%PDF-", "dxf": b"  0\r\n"}[kind]
    assert data.startswith(start)


@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
def test_a_drawing_is_the_same_every_time(kind):
    scene = tasks.profile_scene(report_on("plate-fixed-in"))
    assert tasks.drawing_bytes(scene, kind) == tasks.drawing_bytes(scene, kind)


@pytest.mark.parametrize("case", CASES)
def test_every_drawing_passes_the_audit(case):
    assert audit(tasks.drawing_bytes(tasks.profile_scene(report_on(case)), "dxf")) == []


@pytest.mark.parametrize(("kind", "named"), [("gif", '".gif"'), ("", "without an ending")])
def test_another_kind_of_drawing_is_refused(kind, named):
    with pytest.raises(UsageError, match=r"\.svg, \.png, \.pdf, \.dxf") as refused:
        tasks.drawing_bytes(tasks.profile_scene(report_on("B-mm")), kind)
    assert named in str(refused.value)


def test_a_drawing_ending_may_be_in_capitals(tmp_path):
    written = tasks.write_drawing(report_on("B-mm"), tmp_path / "SIDE.SVG")
    assert written.what == "side profile, SVG"
    assert written.path.read_bytes().startswith(b"<?xml")


def test_an_unknown_paper_leaves_the_older_drawing(tmp_path):
    path = tmp_path / "side.svg"
    path.write_bytes(b"older")
    with pytest.raises(OutputError, match="B5"):
        tasks.write_drawing(report_on("B-mm"), path, paper="B5")
    assert path.read_bytes() == b"older"


# ---------------------------------------------------------------- template


@RELEASES
def test_the_holes_are_where_they_belong(release, written):
    for path in written(report_on("B-mm"), release):
        circles = [circle(shape) for shape in layers(path)["DRILL"]]
        assert {(x, y) for x, y, _ in circles} == PLACES
        assert [radius for _, _, radius in circles] == pytest.approx([6.75] * 4, abs=1e-6)


@pytest.mark.parametrize("case", ["B-mm", "C-mm", "D-in", "twin-mm", "plate-fixed-in"])
@RELEASES
def test_the_holes_are_those_of_the_pattern(case, release, written):
    report = report_on(case)
    mounting = report.case.job.mounting
    expected = {
        (round(hole.across_mm, 6), round(-hole.below_top_mm, 6), hole.diameter_mm / 2.0)
        for hole in drilled_features(
            report.case.transom_pattern,
            mounting.upper_holes_below_top.value,
            mounting.off_centre.value,
        )
    }
    found = {
        (x, y, round(radius, 6))
        for x, y, radius in map(circle, layers(written(report, release)[1])["DRILL"])
    }
    assert found == expected


@RELEASES
def test_below_the_top_is_negative(release, written):
    cut = layers(written(report_on("B-mm"), release)[1])
    tops = [shape.bounds[3] for shapes in cut.values() for shape in shapes]
    assert max(tops) == 0.0
    # Read back, a circle is a ring of points, none of which need be its uppermost.
    assert max(shape.bounds[3] for shape in cut["DRILL"]) == pytest.approx(-48.0 + 6.75, abs=0.01)


@pytest.mark.parametrize("case", ["B-mm", "B-in", "twin-mm", "plate-stepped-mm"])
@RELEASES
def test_the_proof_square_is_100_mm(case, release, written):
    template = layers(written(report_on(case), release)[0])
    square = next(shape for shape in template["PROOFBAR"] if shape.geom_type != "Point")
    corners = shapely.get_coordinates(square)
    sides = [math.dist(a, b) for a, b in pairwise(corners)]
    assert sides == [100.0] * 4
    assert shapely.Polygon(corners).area == 10_000.0


@RELEASES
def test_datum_and_centreline_cross_at_the_origin(release, written):
    template = layers(written(report_on("B-mm"), release)[0])
    datum = [shape for shape in template["DATUM"] if shape.geom_type == "LineString"]
    upright = [
        shape
        for shape in template["CENTRELINES"]
        if shape.geom_type == "LineString" and shape.bounds[0] == shape.bounds[2] == 0.0
    ]
    assert [shape.bounds[1::2] for shape in datum] == [(0.0, 0.0)]
    assert len(upright) == 1
    assert datum[0].intersection(upright[0]).equals(shapely.Point(0.0, 0.0))


@RELEASES
def test_the_cut_file_holds_nothing_but_cuts(release, written):
    cut = layers(written(report_on("B-mm"), release)[1])
    assert {name: len(shapes) for name, shapes in cut.items()} == {"DRILL": 4, "TRIM": 1}


def test_the_cut_is_the_same_as_in_the_template(written):
    template, cut = map(layers, written(report_on("twin-in")))
    for layer in ("DRILL", "TRIM"):
        assert [shape.wkb for shape in cut[layer]] == [shape.wkb for shape in template[layer]]


def test_old_holes_are_shown_but_not_drilled(written):
    report = report_on("B-mm")
    template = layers(written(report)[0])
    circles = [circle(shape) for shape in template["EXISTING"]]
    assert {(x, y) for x, y, _ in circles} == PLACES


@pytest.mark.parametrize(("release", "ending"), [("R2000", ""), ("R12", "_mm")])
def test_a_file_without_a_unit_says_mm_in_its_name(release, ending, written):
    paths = written(report_on("B-mm"), release)
    assert [path.name for path in paths] == [
        f"dunlin-B-template{ending}.dxf",
        f"dunlin-B-cut{ending}.dxf",
    ]
    assert [audit(path.read_bytes()) for path in paths] == [[], []]


@pytest.mark.parametrize(
    ("case", "words"),
    [("A-mm", "leg is not measured"), ("portable-mm", "clamps on"), ("bare-mm", "not decided")],
)
def test_no_template_without_its_readings(case, words, tmp_path):
    with pytest.raises(NotMeasuredError, match=words):
        tasks.write_template(report_on(case), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_faulty_template_is_not_written(tmp_path, monkeypatch):
    monkeypatch.setattr("rigfit.drawing.to_dxf.audit", lambda _: ["a layer is missing"])
    with pytest.raises(OutputError, match="a layer is missing"):
        tasks.write_template(report_on("B-mm"), tmp_path / "out")
    assert not (tmp_path / "out").exists()


@given(st.floats(20.0, 400.0), st.floats(-1500.0, 1500.0))
def test_moved_holes_move_with_the_decision(below, off):
    job = tasks.with_upper_holes(tasks.demo_job(), f"{below!r} mm")
    job = replace(job, mounting=replace(job.mounting, off_centre=reading(off)))
    report = tasks.check(job)
    holes = drilled_features(report.case.transom_pattern, below, off)
    upper, lower = {hole.below_top_mm for hole in holes[:2]}, {h.below_top_mm for h in holes[2:]}
    assert (upper, lower) == ({below}, {below + 203.0})
    assert sum(hole.across_mm for hole in holes) / 4.0 == pytest.approx(off, abs=1e-9)


# ---------------------------------------------------------------- slots


def slotted(width, length):
    features = (
        Feature("upper port", -163.5, 48.0, 13.5),
        Feature("upper starboard", 163.5, 48.0, 13.5),
        Feature("lower port", -125.5, 251.0, width, length),
        Feature("lower starboard", 125.5, 251.0, width, length),
    )
    return Template(features, (), 0.0, 0.0, ("Dunlin",), ())


def slot_area(width, length):
    return width * (length - width) + math.pi * width**2 / 4.0


@pytest.mark.parametrize(("width", "length"), [(13.5, 60.0), (13.5, 14.0), (30.0, 31.0)])
def test_a_slot_has_the_area_of_its_formula(width, length):
    paths = [
        item
        for item in cut_scene(slotted(width, length)).items
        if isinstance(item, Path) and item.ref == "hole-lower-port"
    ]
    area = shapely.Polygon(flatten(paths[0], 1e-4)).area
    assert len(paths) == 1
    assert area == pytest.approx(slot_area(width, length), rel=1e-4)


@RELEASES
def test_a_slot_keeps_its_area_and_place_in_the_file(release, tmp_path):
    path = tmp_path / "cut.dxf"
    path.write_bytes(to_dxf(cut_scene(slotted(13.5, 60.0)), release=release, linetypes=False))
    rings = [
        shapely.Polygon([(v.x, v.y) for v in dxf_path.make_path(entity).flattening(1e-4)])
        for entity in ezdxf.readfile(path).modelspace()
        if entity.dxftype() in ("LWPOLYLINE", "POLYLINE")
    ]
    slots = sorted((ring for ring in rings if ring.area < 5000.0), key=lambda ring: ring.bounds)
    assert [ring.area for ring in slots] == pytest.approx([slot_area(13.5, 60.0)] * 2, rel=1e-4)
    assert slots[0].bounds == pytest.approx((-132.25, -281.0, -118.75, -221.0), abs=1e-3)


def test_a_slot_is_named_with_its_length():
    words = [
        item.words
        for item in template_scene(slotted(13.5, 60.0), Shown()).items
        if getattr(item, "words", "").startswith("lower port")
    ]
    assert words == ["lower port: 125.5 to port, 251 below the top, dia 13.5, slot 60 long"]


# ---------------------------------------------------------------- file names

HOSTILE = (
    "", ".", "..", "../../etc/passwd", "/", "C:\\boats\\x", "a/b", "con", "a\0b", "ß", "船",
    "-rf", "a" * 500, "x.dxf", " ", "$(reboot)", "a;b|c&d", "\u202ednib", "né", "ＡＢ", "\r\n",
)  # fmt: skip


def stem_for(boat, engine):
    job = demo_in("mm")
    engines = (replace(job.engines[1], id=engine),)
    mounting = replace(job.mounting, engine="")
    job = replace(job, boat=replace(job.boat, name=boat), engines=engines, mounting=mounting)
    return tasks.file_stem(tasks.check(job, engine))


@given(st.text(max_size=60) | st.sampled_from(HOSTILE), st.text(min_size=1, max_size=60))
@example("../..", "../..")
@example("a" * 500, "b" * 500)
@example("\u0130stanbul", "\u017f")
def test_a_file_name_is_plain(boat, engine):
    assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]{2,61}", stem_for(boat, engine))


@pytest.mark.parametrize("boat", HOSTILE)
def test_a_hostile_name_stays_in_its_folder(boat, tmp_path):
    job = twin_job(with_bracket(demo_in("mm"), "plate-fixed"))
    job = replace(job, boat=replace(job.boat, name=boat))
    paths = [item.path for item in tasks.write_report(tasks.check(job), tmp_path / "out")]
    assert {path.resolve().parent for path in paths} == {(tmp_path / "out").resolve()}
    assert all(re.fullmatch(r"[a-z0-9-]+-B-report\.(txt|json)", path.name) for path in paths)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("A1", "A2"),
        ("a", "A "),
        ("A/1", "A 1"),
        ("port", "starboard"),
        ("the one from the coast 1", "the one from the coast 2"),
    ],
)
def test_two_engines_do_not_share_a_file(first, second):
    assert stem_for("Dunlin", first) != stem_for("Dunlin", second)


# ---------------------------------------------------------------- settings of a bracket


@pytest.mark.parametrize(
    ("kind", "setting"), [("none", 100.0), ("plate-fixed", 100.0), ("plate-adjustable", 300.0)]
)
def test_a_setting_the_bracket_has_not_moves_no_engine(kind, setting):
    job = with_bracket(demo_in(), kind) if kind != "none" else demo_in()
    top = max(option.plate.value for option in tasks.check(job).options)
    wished = replace(job.mounting, row=4, bracket_setting=reading(setting, 1.0, Origin.CHOSEN))
    try:
        plate = tasks.check(replace(job, mounting=wished)).mounted.plate.value
    except RigfitError:
        return  # refusing it is as good
    # A stepless plate is listed every 12.7 mm, so its uppermost place may be missing.
    assert plate <= top + 12.7


# ---------------------------------------------------------------- sheets, plates and the dash


def test_the_drilled_demo_is_tight_and_everything_was_looked_at():
    report = tasks.check(tasks.drilled_demo_job())
    assert report.verdict.value == "tight"
    assert report.not_looked_at == ()
    assert {finding.code for finding in report.findings} >= {304, 305, 306, 307, 309, 701, 707, 801}


@pytest.mark.parametrize("sheet", tasks.SHEETS)
@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
def test_every_sheet_can_be_written_in_every_kind(sheet, kind, tmp_path):
    report = tasks.check(tasks.drilled_demo_job())
    path = tmp_path / f"a.{kind}"
    written = tasks.write_drawing(report, path, sheet=sheet, theme="dark")
    assert written.what == f"{tasks.SHEETS[sheet]}, {kind.upper()}"
    assert path.stat().st_size > 1000


def test_an_unknown_sheet_is_refused():
    with pytest.raises(UsageError, match="profile, face, face-inside, section, dash"):
        tasks.sheet_scene(report_on("B-mm"), "plan")


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_the_dash_goes_on_paper_with_every_opening_whole_on_a_sheet(tmp_path, paper):
    report = tasks.check(tasks.drilled_demo_job())
    written = tasks.write_dash(report, tmp_path, paper=paper)
    pdf = next(item.path for item in written if item.path.suffix == ".pdf")
    assert paper in pdf.name
    with pypdfium2.PdfDocument(pdf) as document:
        text = " ".join(page.get_textpage().get_text_range() for page in document)
    for cutout in report.case.job.dash:
        assert cutout.name in text
    assert "NOT YET CHECKED" in text or "confirmed" in text


@pytest.mark.parametrize("write", [tasks.write_plates, tasks.write_dash])
def test_what_is_not_chosen_is_not_cut(write, tmp_path):
    with pytest.raises(NotMeasuredError):
        write(report_on("B-mm"), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_plate_too_small_for_its_bolts_leaves_the_folder_alone(tmp_path):
    job = tasks.drilled_demo_job()
    small = replace(job.bolting, plate_width=reading(20.0), plate_height=reading(20.0))
    with pytest.raises(OutputError, match="too small"):
        tasks.write_plates(tasks.check(replace(job, bolting=small)), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_dash_that_needs_no_cutting_gets_no_cut_file(tmp_path):
    job = tasks.drilled_demo_job()
    fits = replace(job.dash[0], old_width=job.dash[0].new_width)
    written = tasks.write_dash(tasks.check(replace(job, dash=(fits,))), tmp_path)
    assert [item.path.name for item in written] == ["dunlin-B-dash.dxf"]


@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_pieces_to_cut_hold_cuts_only(release, tmp_path):
    report = tasks.check(tasks.drilled_demo_job())
    pieces = tasks.write_plates(report, tmp_path, release=release)
    pieces += tasks.write_dash(report, tmp_path, release=release)[1:]
    for piece in pieces:
        found = {item.dxf.layer for item in ezdxf.readfile(piece.path).modelspace()}
        assert found <= {"DRILL", "TRIM"}
        assert "TRIM" in found
