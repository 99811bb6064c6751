"""The curves of the sea trials and the form for the next one: what is drawn, and how legibly."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon, box

from rigfit.drawing.charts import step_of
from rigfit.drawing.fonts import missing_glyphs, text_box
from rigfit.drawing.palette import FILLS
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Disc, Ink, Path, Scene, Text
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.drawing.trial_form import trial_form_sheet
from rigfit.drawing.trial_sheet import trial_sheet
from rigfit.drawing.trial_view import (
    MOST_TRIALS,
    SHAPES,
    drawn_trials,
    looks,
    mark,
    trial_scene,
)
from rigfit.errors import NotMeasuredError
from rigfit.plain_trial import one_change
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.sea_trial import trial_log
from rigfit.sheets import SHEETS, drawing_bytes, sheet_scene
from rigfit.units import Shown
from rigfit.wording import CAUTIONS
from tests.builders import CATALOGUE, reading, sample_job
from tests.rigging.trials import NEW, OLD, job, runs, trial

WORDS = SheetWords("Everything fits.", CAUTIONS, "0.1", "2026-05-16")
LONG = "a new propeller of steel with three blades and a cup, and the bottom scrubbed, " * 2
ONE = job()
TWO = job(
    trial("T1", engine="old", date="2026-05-01"), trial("T2", change="one row up"),
    log=(*runs(OLD, "T1"), *runs(key="T2")),
)  # fmt: skip
MANY = job(
    *(trial(f"T{k}", date=f"2026-05-{k + 1:02d}", change=LONG) for k in range(9)),
    log=[
        run for k in range(9) for run in
        runs([(r, a + k * 0.4, b + k * 0.4, f) for r, a, b, f in NEW if a and b], f"T{k}")
    ],
)  # fmt: skip
BARE = job(trial(pitch=None), log=runs(((4000, 20.0, None, None),)))
DOUBT = job(trial(pitch=reading(300.0)), log=runs())
INCH = replace(TWO, units=replace(TWO.units, lengths="in", speeds="mph"))
JOBS = {"one": ONE, "two": TWO, "many": MANY, "bare": BARE, "doubt": DOUBT, "inch": INCH}
STYLES = [Shown(), Shown("in", "mph"), Shown("mm", "km/h")]
EACH = pytest.mark.parametrize("made", JOBS.values(), ids=JOBS)
ON = pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])


def scene_of(made: Job, style: Shown = Shown()) -> Scene:  # noqa: B008
    return trial_scene(trial_log(made, CATALOGUE), style, made.boat.name)


def texts(scene: Scene) -> list[Text]:
    return [item for item in scene.items if isinstance(item, Text)]


def sheets(made: Job, paper: str, style: Shown = Shown()) -> tuple[Scene, Scene]:  # noqa: B008
    report = fit_check(made, CATALOGUE)
    return (
        trial_sheet(report, style, WORDS, paper),
        trial_form_sheet(report, style, WORDS, paper, one_change(report)),
    )


@EACH
@ON
@pytest.mark.parametrize("style", STYLES)
def test_words_stay_on_the_paper_apart_and_legible(made: Job, paper: str, style: Shown) -> None:
    for scene in sheets(made, paper, style):
        assert scene.placement is not None
        (x, y), sheet = scene.placement.corner, scene.placement.paper
        frame = box(x + 10.0, y + 10.0, x + sheet.width_mm - 10.0, y + sheet.height_mm - 10.0)
        boxes = [
            (text, Polygon(text_box(text, scene.scale))) for text in texts(scene) if text.words
        ]
        assert not missing_glyphs("".join(text.words for text, _ in boxes))
        for text, outline in boxes:
            assert text.height_mm >= 1.8
            assert frame.contains(outline), text.words
        for (one, a), (other, b) in combinations(boxes, 2):
            assert not a.intersects(b), (one.words, other.words)


@EACH
def test_lines_stay_inside_and_no_line_is_of_a_fill_s_colour(made: Job) -> None:
    scene = scene_of(made)
    for item in scene.items:
        pen = getattr(item, "pen", None)
        assert pen is None or pen.ink not in FILLS
        if isinstance(item, Path):
            assert all(-0.1 <= x <= 150.1 and -0.1 <= y <= 205.1 for x, y in item.points)


def test_every_run_has_its_mark_in_every_diagram() -> None:
    scene = scene_of(ONE)
    marks = [item.ref for item in scene.items if isinstance(item, Disc) and item.ref]
    assert sorted(marks) == sorted(3 * [f"run-{row + 1}" for row in range(len(NEW))])
    courses = [item for item in scene.items if isinstance(item, Path) and item.ref == "trial-T1"]
    assert len(courses) == 3


def test_trials_differ_in_shape_and_not_only_in_colour() -> None:
    found = looks(MOST_TRIALS)
    assert len({look.shape for look in found}) == MOST_TRIALS == len(SHAPES)
    drawn = [mark((0.0, 0.0), look) for look in found]
    assert all(one != other for one, other in combinations(drawn, 2))
    assert found[-1].pen.ink is Ink.ACCENT


def test_bars_are_as_long_as_the_tolerance() -> None:
    log = trial_log(job(trial(), log=runs(((3000, 20.0, None, None), (4000, 40.0, 40.0, None)))),
                    CATALOGUE)  # fmt: skip
    scene = trial_scene(log, Shown())
    one_way, top = log.trials[0].runs[0].speed, log.trials[0].runs[1].speed
    assert one_way is not None
    assert top is not None
    discs = [item for item in scene.items if isinstance(item, Disc) and item.ref]
    low, high = sorted(discs[:2], key=lambda disc: disc.centre[0])
    per_knot = (high.centre[1] - low.centre[1]) / (top.value - one_way.value)
    upright = [
        item.points for item in scene.items
        if isinstance(item, Path) and len(item.points) == 2
        and item.points[0][0] == item.points[1][0] == pytest.approx(low.centre[0])
        and item.pen is not None and item.pen.ink is Ink.ACCENT
    ]  # fmt: skip
    lengths = [abs(b[1] - a[1]) for a, b in upright]
    assert any(length == pytest.approx(2.0 * one_way.tolerance * per_knot) for length in lengths)


def test_negative_slip_is_drawn_below_nought_and_said() -> None:
    assert any("doubt a reading" in text.words for text in texts(scene_of(DOUBT)))
    assert not any("doubt a reading" in text.words for text in texts(scene_of(ONE)))


def test_what_is_not_logged_has_its_place_and_says_so() -> None:
    words = [text.words for text in texts(scene_of(BARE))]
    assert "No fuel flow is logged." in words
    assert "Needs speeds; slip needs pitch and gear ratio, too." in words


def test_of_too_many_trials_the_first_and_the_newest_are_drawn_and_it_says_so() -> None:
    log = trial_log(MANY, CATALOGUE)
    assert [item.trial.id for item in drawn_trials(log)] == ["T0", "T4", "T5", "T6", "T7", "T8"]
    assert any("3 trials between are not drawn" in text.words for text in texts(scene_of(MANY)))


def test_units_are_those_of_the_job() -> None:
    for style, words in zip(
        STYLES,
        (("Speed, kn", "Litres a nautical mile"), ("Speed, mph", "US gallons a mile"),
         ("Speed, km/h", "Litres a kilometre")),
        strict=True,
    ):  # fmt: skip
        assert {*words} <= {text.words for text in texts(scene_of(TWO, style))}


@pytest.mark.parametrize(
    ("length", "most", "step"), [(40.0, 6, 10.0), (1.0, 6, 0.2), (5000.0, 8, 1000.0), (6.0, 6, 1.0)]
)
def test_steps_are_round(length: float, most: int, step: float) -> None:
    assert step_of(length, most) == pytest.approx(step)


def test_without_a_run_there_is_no_curve_but_a_form() -> None:
    report = fit_check(sample_job(), CATALOGUE)
    with pytest.raises(NotMeasuredError, match="no run of a sea trial"):
        sheet_scene(report, "trial", "A4")
    form = sheet_scene(report, "trial-form", "A4")
    assert any("Change nothing" in text.words for text in texts(form))


# ------------------------------------------------------------------ the form


def test_the_one_thing_to_change_is_on_top_and_the_cautions_are_there() -> None:
    made = job(trial(), log=runs(plate="buried"))
    words = texts(sheets(made, "A4")[1])
    top = max(words, key=lambda text: text.at[1])
    assert top.words == "Before this trial, one thing only"
    bold = max((text for text in words if text.bold), key=lambda text: text.at[1])
    assert bold.words.startswith("Raise the engine one row")
    said = " ".join(text.words for text in words)
    for caution in ("cut-off cord", "life jackets", "gentle turns first", "no hard turn trimmed in",
                    "nobody over the stern", "engine maker's instructions win"):  # fmt: skip
        assert caution in said


def test_the_form_asks_for_the_engine_speeds_of_the_trial_before() -> None:
    words = [text.words for text in texts(sheets(ONE, "A4")[1])]
    assert {"1000", "2000", "3000", "4000", "5000", "full"} <= set(words)
    assert "5700" not in words


@ON
def test_a_form_has_boxes_for_ten_runs_and_room_for_notes(paper: str) -> None:
    scene = sheets(ONE, paper)[1]
    rings = [text for text in texts(scene) if text.words == "air  porpoises  hot"]
    assert len(rings) >= 10
    assert any(text.words.startswith("Notes:") for text in texts(scene))


@pytest.mark.parametrize("paper", PAPERS_MM)
@pytest.mark.parametrize("sheet", ["trial", "trial-form"])
def test_both_go_on_every_paper_and_into_every_file(paper: str, sheet: str) -> None:
    assert sheet in SHEETS
    scene = sheet_scene(fit_check(TWO, CATALOGUE), sheet, paper, "2026-05-16")
    for kind, start in (("svg", b"<?xml"), ("pdf", b"%PDF"), ("dxf", b"  0")):
        data = drawing_bytes(scene, kind)
        assert data.startswith(start)
        assert data == drawing_bytes(scene, kind)
