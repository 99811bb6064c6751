import io
import math
import time

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf import path as dxf_path
from hypothesis import example, given
from hypothesis import strategies as st
from pyogrio import raw as ogr

from rigfit.drawing.scene import (
    CENTRE_LINE,
    EDGE,
    HIDDEN,
    Dash,
    Disc,
    Ink,
    Path,
    Pen,
    Scene,
    Text,
    arc_of,
    slot,
)
from rigfit.drawing.to_dxf import LAYER_COLOURS, audit, dxf_text, to_dxf

RELEASES = pytest.mark.parametrize("release", ["R2000", "R12"])
HOLES = [(x, y) for x in (-165.1, 165.1) for y in (-50.0, -69.05, -254.0, -273.05)]


def template():
    edge = ((-200.0, 0.0), (200.0, 0.0), (200.0, -500.0), (-200.0, -500.0))
    cross = [
        Path(((x - 5.0, y), (x + 5.0, y)), "CENTREMARKS", CENTRE_LINE)
        for x in (-100.0, 0.0, 100.0)
        for y in (-100.0, -200.0, -300.0)
    ]
    return Scene(
        "Template",
        (
            Path(edge, "TRIM", EDGE, closed=True),
            *(Disc(at, 6.75, "DRILL", EDGE) for at in HOLES),
            slot((30.0, -240.0), 13.5, 60.0, "DRILL", pen=EDGE),
            Path(((0.0, 10.0), (0.0, -510.0)), "CENTRELINES", CENTRE_LINE),
            Path(((-210.0, 0.0), (210.0, 0.0)), "DATUM", HIDDEN),
            Path(((-40.0, -100.0), (40.0, -100.0)), "TRIM", EDGE, bulges=(0.5, 0.0)),
            Path(((0.0, 0.0), (5.0, 9.0), (9.0, 1.0)), "MEASURES"),
            *cross,
            Path(((0.0, 0.0), (50.0, 0.0), (0.0, 50.0)), "HULL", None, closed=True, fill=Ink.HULL),
            Text((0.0, -480.0), "MEASURE BEFORE DRILLING Ø13.5", "NOTES", across="centre"),
        ),
    )


def read(data):
    return ezdxf.read(io.StringIO(data.decode("ascii").replace("\r\n", "\n")))


def read_with_gdal(data, tmp_path):
    """Return rows (layer, shape, text) as a second library reads the file."""
    path = tmp_path / "made.dxf"
    path.write_bytes(data)
    about, _, shapes, columns = ogr.read(path)
    fields = dict(zip(about["fields"], columns, strict=True))
    shapes = shapely.from_wkb(shapes)
    return list(zip(fields["Layer"], shapes, fields["Text"], strict=True))


def fitted_circle(shape):
    x, y = shapely.get_coordinates(shape).T
    rows = np.column_stack([x, y, np.ones_like(x)])
    a, b, c = np.linalg.lstsq(rows, x**2 + y**2, rcond=None)[0]
    return a / 2.0, b / 2.0, math.sqrt(c + (a**2 + b**2) / 4.0)


@RELEASES
def test_the_file_is_sound(release):
    assert audit(to_dxf(template(), release=release)) == []


@RELEASES
def test_an_unsound_file_is_found_out(release):
    data = to_dxf(template(), release=release)
    broken = data.replace(b"\r\n  6\r\nCENTER\r\n", b"\r\n  6\r\nNOWHERE\r\n")
    assert broken != data
    assert audit(broken) != []


@RELEASES
def test_a_second_library_finds_every_hole(release, tmp_path):
    rows = read_with_gdal(to_dxf(template(), release=release), tmp_path)
    circles = [fitted_circle(shape) for layer, shape, _ in rows if layer == "DRILL"][:8]
    for (x, y, radius), hole in zip(circles, HOLES, strict=True):
        assert (x, y) == pytest.approx(hole, abs=1e-6)
        assert radius == pytest.approx(6.75, abs=1e-6)


@RELEASES
def test_a_second_library_finds_layers_and_words(release, tmp_path):
    rows = read_with_gdal(to_dxf(template(), release=release), tmp_path)
    assert {layer for layer, _, _ in rows} == {
        "TRIM", "DRILL", "CENTRELINES", "DATUM", "MEASURES", "CENTREMARKS", "NOTES",
    }  # fmt: skip
    assert [text for _, _, text in rows if text] == ["MEASURE BEFORE DRILLING dia 13.5"]


@RELEASES
def test_a_second_library_finds_the_outline_of_a_slot(release, tmp_path):
    rows = read_with_gdal(to_dxf(template(), release=release), tmp_path)
    shape = [shape for layer, shape, _ in rows if layer == "DRILL"][8]
    area = shapely.Polygon(shapely.get_coordinates(shape)).area
    assert area == pytest.approx(13.5 * 46.5 + math.pi * 13.5**2 / 4.0, rel=2e-3)
    assert shape.bounds == pytest.approx((23.25, -270.0, 36.75, -210.0), abs=0.01)


@RELEASES
def test_a_slot_has_the_area_of_its_formula(release):
    entities = read(to_dxf(template().only("DRILL"), release=release)).modelspace()
    (outline,) = (entity for entity in entities if entity.dxftype() != "CIRCLE")
    points = [(p.x, p.y) for p in dxf_path.make_path(outline).flattening(1e-5)]
    expected = 13.5 * 46.5 + math.pi * 13.5**2 / 4.0
    assert shapely.Polygon(points).area == pytest.approx(expected, rel=1e-4)
    assert outline.is_closed


@RELEASES
def test_each_item_becomes_the_plainest_entity(release):
    kinds = [entity.dxftype() for entity in read(to_dxf(template(), release=release)).modelspace()]
    outline = {"R2000": "LWPOLYLINE", "R12": "POLYLINE"}[release]
    assert kinds == [
        outline, *["CIRCLE"] * 8, outline, "LINE", "LINE", "ARC", outline, *["LINE"] * 9, "TEXT",
    ]  # fmt: skip


@given(st.floats(0.02, 4.0) | st.floats(-4.0, -0.02))
def test_an_arc_keeps_its_ends_and_belly(bulge):
    start, end = (10.0, 20.0), (40.0, -5.0)
    scene = Scene("", (Path((start, end), "TRIM", EDGE, bulges=(bulge, 0.0)),))
    (entity,) = read(to_dxf(scene)).modelspace()
    ends = [(entity.start_point.x, entity.start_point.y), (entity.end_point.x, entity.end_point.y)]
    if bulge < 0.0:
        ends.reverse()
    assert ends[0] == pytest.approx(start, abs=1e-4)
    assert ends[1] == pytest.approx(end, abs=1e-4)
    centre, radius, _, _ = arc_of(start, end, bulge)
    assert (entity.dxf.center.x, entity.dxf.center.y) == pytest.approx(centre, abs=1e-5)
    assert entity.dxf.radius == pytest.approx(radius, abs=1e-5)
    turn = (entity.dxf.end_angle - entity.dxf.start_angle) % 360.0
    assert turn == pytest.approx(math.degrees(4.0 * math.atan(abs(bulge))), abs=1e-4)


def test_the_header_says_millimetres_and_true_size():
    header = read(to_dxf(template())).header
    assert header["$ACADVER"] == "AC1015"
    assert header["$INSUNITS"] == 4
    assert header["$MEASUREMENT"] == 1
    assert header["$LUNITS"] == 2
    assert header["$PSVPSCALE"] == 1.0
    assert header["$LTSCALE"] == 1.0
    assert header["$EXTMIN"][:2] == (-210.0, -510.0)
    assert header["$EXTMAX"][:2] == (210.0, 10.0)
    assert header["$LIMMAX"][:2] == (210.0, 10.0)
    assert header["$PLIMMAX"][0] >= 420.0
    assert header["$PLIMMAX"][1] >= 520.0


def test_r12_is_r12():
    doc = read(to_dxf(template(), release="R12"))
    assert doc.dxfversion == "AC1009"
    assert doc.header["$EXTMAX"][:2] == (210.0, 10.0)


@RELEASES
def test_nothing_lies_in_paper_space(release):
    doc = read(to_dxf(template(), release=release))
    assert [len(layout) for layout in doc.layouts if not layout.is_modelspace] == [0]


def test_only_layers_in_use_are_made_with_their_colours():
    doc = read(to_dxf(template()))
    made = {layer.dxf.name: layer.dxf.color for layer in doc.layers}
    own = {name: colour for name, colour in made.items() if name not in ("0", "Defpoints")}
    names = {item.layer for item in template().items} - {"HULL"}
    assert own == {name: LAYER_COLOURS[name] for name in names}


@RELEASES
def test_line_types_are_on_layer_and_entity(release):
    doc = read(to_dxf(template(), release=release))
    assert doc.layers.get("CENTRELINES").dxf.linetype == "CENTER"
    assert doc.layers.get("DATUM").dxf.linetype == "DASHED"
    assert doc.layers.get("TRIM").dxf.linetype.upper() == "CONTINUOUS"
    kinds = {entity.dxf.layer: entity.dxf.linetype for entity in doc.modelspace().query("LINE")}
    assert kinds == {"CENTRELINES": "CENTER", "DATUM": "DASHED", "CENTREMARKS": "CENTER"}


@RELEASES
def test_a_cut_file_has_continuous_lines_only(release):
    doc = read(to_dxf(template(), release=release, linetypes=False))
    assert "CENTER" not in doc.linetypes
    assert {entity.dxf.linetype.upper() for entity in doc.modelspace()} == {"BYLAYER"}


def test_a_layer_of_mixed_lines_stays_continuous():
    items = (
        Path(((0.0, 0.0), (9.0, 0.0)), "HULL"),
        Path(((0.0, 0.0), (9.0, 0.0)), "HULL", Pen(0.25, Dash.DOTTED)),
    )
    doc = read(to_dxf(Scene("", items)))
    assert doc.layers.get("HULL").dxf.linetype.upper() == "CONTINUOUS"
    assert [entity.dxf.linetype for entity in doc.modelspace()] == ["BYLAYER", "DASHED"]


def test_letters_and_dashes_grow_with_the_scale_and_positions_do_not():
    items = (Path(((0.0, 0.0), (90.0, 0.0)), "DATUM", HIDDEN), Text((7.0, 8.0), "Heel", "NOTES"))
    doc = read(to_dxf(Scene("", items, 10.0)))
    line, text = doc.modelspace()
    assert line.dxf.end.x == 90.0
    assert text.dxf.height == 25.0
    assert text.dxf.insert.vec2 == (7.0, 8.0)


@pytest.mark.parametrize("across", ["left", "centre", "right"])
@pytest.mark.parametrize("up", ["base", "middle", "top"])
def test_words_hang_where_anchored(across, up):
    text = Text((7.0, 8.0), "Heel", "NOTES", across=across, up=up, angle_deg=30.0)
    (entity,) = read(to_dxf(Scene("", (text,)))).modelspace()
    plain = across == "left" and up == "base"
    at = entity.dxf.insert if plain else entity.dxf.align_point
    assert (at.x, at.y) == (7.0, 8.0)
    assert entity.dxf.rotation == 30.0
    assert entity.dxf.halign == ["left", "centre", "right"].index(across)
    assert entity.dxf.valign == {"base": 0, "middle": 2, "top": 3}[up]


def test_lines_without_length_and_blank_words_are_left_out():
    items = (Path(((1.0, 1.0), (1.0, 1.0)), "TRIM"), Text((0.0, 0.0), " \u200b", "NOTES"))
    assert len(read(to_dxf(Scene("", items))).modelspace()) == 0


@RELEASES
def test_an_empty_scene_gives_a_sound_file(release):
    assert audit(to_dxf(Scene("", ()), release=release)) == []


@pytest.mark.parametrize("name", ["drill", "DRILL HOLES", "", "Ä", "X" * 32, "A/B"])
def test_a_layer_name_others_would_refuse_is_refused(name):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    with pytest.raises(ValueError, match="layer name"):
        to_dxf(Scene("", (Disc((0.0, 0.0), 1.0, name),)))
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


@pytest.mark.parametrize("before", [False, True])
def test_the_library_s_options_are_restored(before, monkeypatch):
    monkeypatch.setattr(ezdxf.options, "write_fixed_meta_data_for_testing", before)
    to_dxf(template(), release="R12")
    assert ezdxf.options.write_fixed_meta_data_for_testing is before


@RELEASES
def test_the_bytes_are_ascii_with_crlf_and_no_minus_zero(release):
    scene = Scene("", (Path(((-1e-9, 0.0), (5.0, -0.0)), "TRIM"), *template().items))
    data = to_dxf(scene, release=release)
    assert data.isascii()
    assert data.count(b"\n") == data.count(b"\r\n") > 100
    assert b"\r\n-0.0\r\n" not in data


@RELEASES
def test_same_scene_same_bytes(release):
    assert to_dxf(template(), release=release) == to_dxf(template(), release=release)


def test_a_template_is_made_quickly():
    to_dxf(template())
    times = []
    for _ in range(3):
        begin = time.perf_counter()
        to_dxf(template())
        times.append(time.perf_counter() - begin)
    assert min(times) < 0.15


@given(st.text())
@example("%%%c")
@example("\uff05\uff05c \ufe5b\uff3c\uff5d\uff3e")
@example("a\nb\tc\u2028d\x7f\x85")
def test_no_words_can_harm_a_file(words):
    safe = dxf_text(words)
    assert safe.isascii()
    assert all(32 <= ord(char) < 127 for char in safe)
    assert "%%" not in safe
    assert not set("\\{}^") & set(safe)


@given(
    st.text(
        alphabet=st.characters(max_codepoint=126, min_codepoint=32, exclude_characters="%\\{}^")
    )
)
def test_plain_words_stay_as_they_are(words):
    assert dxf_text(words) == words


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("4 × Ø13.5 ±0.5", "4 x dia 13.5 +/-0.5"),
        ("⌀ 5", "dia 5"),
        ("Ørland 12°", "Orland 12 deg"),
        ("20½ in, ½ in, 3⅜", "20 1/2 in, 1/2 in, 3 3/8"),
        ("é ü ß æ ø Ł", "e u ss ae o L"),
        ("a — b – c − d", "a - b - c - d"),
        ("“so” ‘it’ is…", "\"so\" 'it' is..."),
        ("19.05 → 38.1 ≤ 40 µm", "19.05 -> 38.1 <= 40 um"),
        ("C:\\P {x}^J 50%%", "C:/P (x) J 50% %"),
        ("船 12", "? 12"),
        ("one\ntwo", "one two"),
    ],
)
def test_signs_are_spelt_out(words, expected):
    assert dxf_text(words) == expected
