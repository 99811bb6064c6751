"""The curves of the sea trials in the drawing: whole, readable, and each mark leads to its run."""

from __future__ import annotations

import pytest

from rigfit.desk.draft import Address
from rigfit.desk.pictures import fitted, hover_words, picture_of, pointed_at, ref_of
from rigfit.desk.trial_pictures import LEAST_MM, TRIALS, size_for
from rigfit.desk.view import View
from rigfit.drawing.scene import Disc, Ink, Path
from rigfit.drawing.strokes import full_extents
from rigfit.units import Shown
from tests.desk.test_plane_pictures import texts, touching, words
from tests.desk.trial_boat import trial_bench

SIZES = ((900, 640, 1.0), (1800, 1200, 2.0), (560, 700, 1.0), (480, 420, 1.0))


@pytest.fixture
def bench(tmp_path):
    return trial_bench(tmp_path)


def shown(bench, name="trial", size=SIZES[0]):
    bench.set_picture(name)
    view = fitted(bench, *size)
    return picture_of(bench, view), view


def middle(picture, ref):
    """Return the middle of the first mark of a ref."""
    item = next(item for item in picture.items if item.ref == ref and isinstance(item, Disc | Path))
    if isinstance(item, Disc):
        return item.centre
    xs, ys = zip(*item.points, strict=True)
    return (min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0


def test_both_trials_are_drawn_with_speed_slip_and_fuel(bench):
    picture, _ = shown(bench)
    assert picture.kind == "trial"
    said = " ".join(words(picture))
    for part in ("Speed, kn", "Slip, %", "Litres a nautical mile", "Engine speed, rpm", "T1", "T2"):
        assert part in said


@pytest.mark.parametrize("lengths", ["mm", "in"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", sorted(TRIALS))
def test_it_is_whole_in_the_pane_and_no_words_touch(bench, name, size, lengths):
    bench.set_units(lengths=lengths)
    picture, view = shown(bench, name, size)
    assert picture.kind == name
    left, bottom, right, top = full_extents(picture.items, view.scene_scale)
    low, high = view.to_screen((left, bottom)), view.to_screen((right, top))
    assert low[0] >= 0.0 and high[1] >= 0.0 and high[0] <= view.width and low[1] <= view.height
    assert touching(picture, view) == []


@pytest.mark.parametrize("size", SIZES[:2])
def test_its_words_are_as_large_as_others_where_there_is_room(bench, size):
    picture, _ = shown(bench, "trial", size)
    least = min(item.height_mm for item in texts(picture))
    assert least == pytest.approx(2.2, rel=0.15)


def test_the_size_is_the_same_however_near_one_looks(bench):
    _, view = shown(bench)
    near = View(view.width, view.height, view.centre, view.mm_per_px / 5.0, view.ui_scale)
    assert size_for("trial", near) == size_for("trial", view)
    assert size_for("trial", View(10, 10, (0.0, 0.0), 1.0)) == LEAST_MM["trial"]


@pytest.mark.parametrize("row", range(8))
def test_a_mark_leads_to_its_run_and_the_run_lights_its_marks(bench, row):
    picture, view = shown(bench)
    ref = f"run-{row}"
    point = middle(picture, ref)
    assert pointed_at(picture, point, 3.0 * view.mm_per_px, view.scene_scale) == ref
    assert ref_of(Address("run", "fuel_flow", row), bench.engine_index) == ref
    lit = [item for item in picture.lit(ref).items if item.ref == ref]
    assert len(lit) >= 3  # speed, slip and fuel
    assert all(item.pen.ink is Ink.ACCENT for item in lit)


def test_marks_follow_the_rows_of_the_form_where_one_before_cannot_be_used(bench):
    draft = bench.draft
    rows = draft.rows("run")
    while draft.rows("run"):
        draft = draft.remove_row("run", 0)
    draft = draft.add_row("run", note="nothing yet")
    names = ("trial", "rpm", "speed_there", "speed_back")
    for row in rows:
        draft = draft.add_row("run", **dict(zip(names, row[:4], strict=True)))
    bench.take(draft, "one run before")
    picture, _ = shown(bench)
    refs = {item.ref for item in picture.items if item.ref}
    assert refs == {f"run-{at}" for at in range(1, 9)}


def test_where_the_pointer_is_means_no_length(bench):
    picture, _ = shown(bench)
    assert hover_words(picture.kind, (3.0, 4.0), Shown()) == ""


def test_without_runs_there_is_a_sentence_with_what_to_do(bench):
    draft = bench.draft
    while draft.rows("run"):
        draft = draft.remove_row("run", 0)
    bench.take(draft, "no runs")
    picture, _ = shown(bench)
    assert picture.kind == "words"
    said = " ".join(words(picture))
    assert "No run of a sea trial is logged" in said
    assert "F7" in said
    assert "[[" not in said


def test_an_edit_of_a_run_changes_the_curves(bench):
    before, _ = shown(bench)
    bench.type(Address("run", "speed_there", 7), "36 kn")
    after, _ = shown(bench)
    assert middle(before, "run-7") != middle(after, "run-7")
