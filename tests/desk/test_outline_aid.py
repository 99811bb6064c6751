"""The aid for an engine's side view: read from a DXF file, placed on the tilt axis, one step."""

from __future__ import annotations

import ezdxf
import pytest

from rigfit.desk import pictures
from rigfit.desk.draft import Address
from rigfit.desk.kit import dialogs
from rigfit.desk.measurements import MeasurementsPanel
from rigfit.rigging.envelope import Basis, engine_envelope
from rigfit.rigging.surroundings import surroundings
from tests.desk.harness import faults, press_key, screenshot, settle, take_keyboard, wait_for
from tests.desk.panels import shown_panel
from tests.desk.swinging_boat import swinging_bench
from tests.desk.test_file_flow import Scripted

# Round an axis at (1000, 2000), the bow to the left: 300 ahead to 420 aft, 500 up to 700 down.
CORNERS = ((700, 2000), (700, 2500), (1300, 2500), (1300, 1800), (1420, 1300), (1000, 1300))


@pytest.fixture
def bench(tmp_path):
    return swinging_bench(tmp_path)


@pytest.fixture
def questions():
    scripted = Scripted()
    undo = dialogs.ask_through(scripted)
    yield scripted
    undo()


@pytest.fixture
def panel(root, bench):
    made = shown_panel(root, MeasurementsPanel, bench)
    wait_for(root, lambda: not made.is_opening)
    take_keyboard(root)
    return made


def drawn(folder, unit=4, rings=(CORNERS,)):
    drawing = ezdxf.new("R2000")
    drawing.header["$INSUNITS"] = unit
    for ring in rings:
        drawing.modelspace().add_lwpolyline(ring, close=True)
    path = folder / "engine.dxf"
    drawing.saveas(path)
    return path


def read(root, panel, questions, path):
    aid = panel.groups["engine"].aid
    if not aid.is_open:
        aid.toggle()
    questions.paths.append(path)
    aid.card.ask_file()
    wait_for(root, lambda: not aid.card.reader.is_reading)
    settle(root)
    return aid.card


def put(card, **texts):
    for name, text in texts.items():
        card.fields[name].set_text(text)
    card.refresh()
    settle(card)


def outline(bench):
    return bench.draft.text(Address("engine", "outline", bench.engine_index))


def test_a_side_view_is_placed_on_the_axis_and_is_one_step(root, panel, bench, questions, tmp_path):
    bench.type(Address("engine", "cowl_breadth", bench.engine_index), "420 mm")
    before = bench.draft
    card = read(root, panel, questions, drawn(tmp_path))
    assert card.said.text == (
        "engine.dxf: one closed outline, read in mm; x from 700 to 1420 mm, y from 1300 to 2500 mm."
    )
    assert not card.put.winfo_manager()  # where the axis is, nobody has said
    assert root.focus_get() is card.fields["x"].keys_to
    put(card, x="1000 mm", y="2000 mm")
    assert "300 mm ahead of the tilt axis and 500 mm above it" in card.answer.text
    assert bench.draft == before
    card.put.focus_set()
    press_key(root, "space")
    settle(root)
    assert bench.focus == Address("engine", "outline", bench.engine_index)
    assert not panel.groups["engine"].aid.is_open
    envelope = engine_envelope(bench.report.case)
    assert envelope.basis is Basis.OUTLINE
    points = [point for part in envelope.parts for point in part.ring]
    box = [f(point[at] for point in points) for f in (min, max) for at in (0, 1)]
    # x aft of the axis; the kept outline stands outside by half a millimetre at most.
    assert box == pytest.approx([-300.0, -700.0, 420.0, 500.0], abs=0.51)
    assert bench.undo() == "the engine's side view"
    assert bench.draft == before


def test_the_drawn_engine_is_what_swings_in_the_picture(root, panel, bench, questions, tmp_path):
    bench.set_picture("swing")
    view = pictures.fitted(bench, 900, 640, 1.0)
    first = pictures.picture_of(bench, view)
    card = read(root, panel, questions, drawn(tmp_path))
    put(card, x="1000", y="2000")
    card.put.invoke()
    second = pictures.picture_of(bench, view)
    outlines = [[item for item in made.items if item.layer == "SWING"] for made in (first, second)]
    assert outlines[0] != outlines[1]
    assert (first.kind, second.kind) == ("swing", "swing")


def test_a_bow_to_the_right_turns_it_round(root, panel, bench, questions, tmp_path):
    card = read(root, panel, questions, drawn(tmp_path))
    put(card, x="1000 mm", y="2000 mm")
    card.choices["bow"].choice.choose("right")
    assert "420 mm ahead of the tilt axis" in card.answer.text


def test_an_axis_that_cannot_be_right_is_named(root, panel, bench, questions, tmp_path):
    card = read(root, panel, questions, drawn(tmp_path))
    put(card, x="90 m", y="2000 mm")
    assert "check the unit of the file and where the tilt axis is" in card.answer.text
    assert not card.put.winfo_manager()
    put(card, x="about there")
    assert card.fields["x"].message
    assert faults(root) == []


def test_the_unit_is_asked_for_where_the_file_has_none(root, panel, bench, questions, tmp_path):
    card = read(root, panel, questions, drawn(tmp_path, unit=0))
    assert card.unit_buttons["mm"].winfo_viewable()
    card.read("mm")
    wait_for(root, lambda: not card.reader.is_reading)
    settle(root)
    put(card, x="1000 mm", y="2000 mm")
    assert card.text


def test_a_file_without_a_closed_line_says_so(root, panel, bench, questions, tmp_path):
    path = drawn(tmp_path, rings=())
    drawing = ezdxf.readfile(path)
    drawing.modelspace().add_line((0, 0), (500, 0))
    drawing.saveas(path)
    card = read(root, panel, questions, path)
    if card.found is not None:
        put(card, x="0", y="0")
    assert "no closed outline" in f"{card.said.text} {card.answer.text}"
    assert not card.put.winfo_manager()
    assert outline(bench) == ""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("420, -50; 560, -50; 560, 310; 420, 310", ""),
        ("420, -50; 560, 310; 560, -50; 420, 310", "crosses itself"),
        ("420, -50; 560, abc", "ahead and above"),
    ],
)
def test_an_obstacle_is_entered_as_a_polygon_and_what_is_wrong_is_said(bench, text, said):
    while bench.draft.rows("obstacle"):
        bench.remove_row("obstacle", 0)
    bench.add_row("obstacle", name="locker", outline=text)
    bench.set_picture("swing")
    picture = pictures.picture_of(bench, pictures.fitted(bench, 900, 640, 1.0))
    words = " ".join(getattr(item, "words", "") for item in picture.items)
    finding = bench.report.finding(401)
    if said:
        assert said in str(finding.sentence.text.format_map(finding.sentence.amounts))
        assert said in words or picture.kind == "words"
    else:
        solid = surroundings(bench.report.case).solids[-1]
        assert (solid.name, set(solid.ring)) == (
            "locker", {(-420.0, -50.0), (-560.0, -50.0), (-560.0, 310.0), (-420.0, 310.0)},
        )  # fmt: skip
        assert picture.kind == "swing"
        assert "locker" in words


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("appearance", ["light", "dark"])
def test_nothing_is_cut_off(make_root, bench, questions, tmp_path, appearance, scale):
    root = make_root(appearance, scale, f"{round(384 * scale)}x{round(700 * scale)}")
    panel = shown_panel(root, MeasurementsPanel, bench)
    wait_for(root, lambda: not panel.is_opening)
    card = read(root, panel, questions, drawn(tmp_path))
    put(card, x="1000 mm", y="about")
    assert faults(root) == []
    put(card, y="2000 mm")
    card.see_all()
    assert faults(root) == []
    screenshot(root, f"aid-outline-{appearance}-{scale}", tmp_path)
