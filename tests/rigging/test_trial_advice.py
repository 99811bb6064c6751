"""Advice after a trial: its order, its reasons, and what it must never rest on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.propeller import Band
from rigfit.rigging.trial_advice import Advice, Step, advice_on, next_step, pitch_range, pitch_words
from rigfit.rigging.trial_fields import PLATE_LOOKS, VENTILATES, YES_NO, Run
from rigfit.sources import SOURCES
from rigfit.units import Kind, Shown, show
from rigfit.wording import say
from tests.builders import reading
from tests.rigging.trials import NEW, case, log_of, runs, trial

ORDER = list(Step)


def advised(*trials: object, log: tuple[Run, ...] = (), **changes: object) -> tuple[Advice, ...]:
    found = case(*trials, log=log, **changes)  # type: ignore[arg-type]
    return advice_on(found, log_of(found))


def steps(*trials: object, log: tuple[Run, ...] = (), **changes: object) -> list[Step]:
    return [item.step for item in advised(*trials, log=log, **changes)]


@st.composite
def logs(draw: st.DrawFn) -> tuple[Run, ...]:
    points = draw(st.lists(st.sampled_from(NEW), min_size=1, max_size=6, unique=True))
    return tuple(
        replace(
            run,
            plate=draw(st.sampled_from(PLATE_LOOKS)),
            ventilates=draw(st.sampled_from(VENTILATES)),
            porpoises=draw(st.sampled_from(YES_NO)),
            overheats=draw(st.sampled_from(YES_NO)),
            full_throttle=draw(st.sampled_from(YES_NO)),
            speed_back=draw(st.sampled_from((run.speed_back, None))),
        )
        for run in runs(tuple(points))
    )


@given(logs(), st.sampled_from(YES_NO), st.sampled_from((None, 240.0)), st.booleans())
def test_advice_keeps_its_order_and_never_comes_without_a_reason(
    log: tuple[Run, ...], checked: str, mass: float | None, hooked: bool
) -> None:
    gaps = {"keel_line__gap_300": reading(25.0 if hooked else 0.0, 1.0)}
    said = trial(rpm_checked=checked, mass_aboard=reading(mass) if mass else None)
    found = advised(said, log=log, **gaps)
    ranks = [item.step.rank for item in found]
    assert found
    assert ranks == sorted(ranks)
    for item in found:
        assert item.source in SOURCES
        for words in (item.what, item.why, item.effect, item.against):
            text = say(words, Shown())
            assert text
            assert "{" not in text


@given(logs())
def test_danger_comes_first_whenever_the_log_tells_of_it(log: tuple[Run, ...]) -> None:
    danger = any(
        run.ventilates in ("in turns", "straight on") or "yes" in (run.porpoises, run.overheats)
        for run in log
    )
    first = next_step(advised(trial(), log=log))
    assert first is not None
    assert (first.step is Step.SAFETY) == danger


@given(logs())
def test_height_and_pitch_are_never_judged_by_full_throttle_alone(log: tuple[Run, ...]) -> None:
    """With nothing but one run at full throttle no change of height or pitch is advised."""
    only = tuple(run for run in log if run.full_throttle == "yes")[:1]
    if not only or only[0].ventilates in ("in turns", "straight on"):
        return
    changes = [item.step for item in advised(trial(), log=only) if item.is_change]
    assert Step.HEIGHT not in changes
    assert Step.PITCH not in changes


def test_an_engine_well_placed_is_left_alone() -> None:
    """5,700 rpm in a band of 5,000 to 6,000: well placed (common practice, no source)."""
    assert steps() == [Step.KEEP]


@pytest.mark.parametrize(
    ("rpm", "word"), [(4700.0, "smaller"), (5200.0, "smaller"), (6200.0, "larger")]
)
def test_pitch_follows_the_band(rpm: float, word: str) -> None:
    points = (*NEW[:4], (4500, 26.0, 25.0, 18.0), (rpm, 30.0, 29.0, 25.0))
    (item,) = advised(trial(), log=runs(points))
    assert item.step is Step.PITCH
    assert word in say(item.what, Shown())


def test_the_pitch_of_a_published_example_lies_in_the_range() -> None:
    """A propeller shop, quoted: 5000 of 6000 rpm, 19 in becomes 15.8 in (read)."""
    low, high = pitch_range(19.0 * 25.4, 5000.0, Band(5500.0, 6166.0 + 2.0 / 3.0))
    assert Band(5500.0, 6166.0 + 2.0 / 3.0).aim == pytest.approx(6000.0)
    assert low <= 15.8 * 25.4 <= high


def test_a_pitch_is_named_in_inches_first() -> None:
    assert pitch_words(17.0 * 25.4) == "17 in (432 mm)"


def test_a_buried_plate_asks_for_one_row_up_and_one_only() -> None:
    (item,) = advised(trial(), log=runs(plate="buried"))
    assert item.step is Step.HEIGHT
    assert item.is_change
    assert "Raise the engine one row" in say(item.what, Shown())


def test_a_plate_buried_before_she_planes_asks_for_nothing() -> None:
    log = tuple(
        replace(run, plate="buried") if run.rpm and run.rpm.value < 2500.0 else run
        for run in runs()
    )
    assert steps(trial(), log=log) == [Step.KEEP]


def test_no_row_that_does_not_exist_is_advised() -> None:
    (item,) = advised(trial(row=5), log=runs(plate="buried"))
    assert "highest row" in say(item.what, Shown())
    first = next_step(advised(trial(row=1), log=runs(ventilates="in turns")))
    assert first is not None
    assert "lowest row" in say(first.what, Shown())


def test_a_row_that_cost_mid_range_is_taken_back_whatever_the_top_does() -> None:
    """Mid-range counts: 10.3 m boat, one hole, + 4 kn at 3500 rpm against - 1.4 kn at the top."""
    off = {3000: -4.0, 4000: -4.0, 5000: -4.0}
    worse = tuple((r, a + off.get(r, 1.4), b + off.get(r, 1.4), f) for r, a, b, f in NEW if a and b)
    found = advised(trial(), trial("T22", row=3), log=(*runs(), *runs(worse, "T22")))
    assert found[0].step is Step.HEIGHT
    assert say(found[0].what, Shown()) == "Go back to row 2."


@pytest.mark.parametrize(
    ("log", "said", "step"),
    [
        (tuple(replace(run, speed_back=None) for run in runs()), {}, Step.INSTRUMENTS),
        (runs(), {"pitch": reading(330.0)}, Step.INSTRUMENTS),
        (runs(), {"speed_from": "paddle wheel"}, Step.INSTRUMENTS),
        (runs(), {"mass_aboard": None}, Step.LOAD),
        (tuple(replace(run, plate="not seen") for run in runs()), {}, Step.HEIGHT),
        (tuple(replace(run, ventilates="not said") for run in runs()), {}, Step.HEIGHT),
        (tuple(replace(run, full_throttle="no") for run in runs()), {}, Step.PITCH),
    ],
)
def test_a_look_comes_before_a_change(
    log: tuple[Run, ...], said: dict[str, object], step: Step
) -> None:
    first = next_step(advised(trial(**said), log=log))
    assert first is not None
    assert (first.step, first.is_change) == (step, False)


def test_a_bent_bottom_comes_before_height_and_pitch() -> None:
    found = steps(trial(), log=runs(plate="buried"), keel_line__gap_300=reading(25.0, 1.0))
    assert found[:2] == [Step.HULL, Step.HEIGHT]


def test_without_a_trial_of_the_engine_there_is_no_advice() -> None:
    assert advised(trial(engine="old"), log=runs()) == ()
    assert next_step(()) is None


def test_falling_water_pressure_is_a_danger_before_anything_is_raised() -> None:
    bars = (0.4, 0.6, 0.8, 0.5, 0.4, 0.4)
    log = tuple(
        replace(run, pressure=reading(bar, 0.05))
        for run, bar in zip(runs(plate="buried"), bars, strict=True)
    )
    found = advised(trial(), log=log)
    assert found[0].step is Step.SAFETY
    assert "4000, 5000, 5700" in say(found[0].why, Shown())
    assert Step.HEIGHT not in [item.step for item in found]


def test_a_row_is_advised_with_the_height_it_gives_and_not_where_it_stops() -> None:
    """The row above is looked up in the table of heights of the same job."""
    made = case(trial(), log=runs(plate="buried"))
    above = next(item for item in height_options(made) if item.row == 3)
    assert above.plate is not None
    (item,) = advised(trial(), log=runs(plate="buried"))
    said = say(item.what, Shown())
    assert f"In row 3 the plate stands {show(above.plate.value, Kind.LENGTH, signed=True)}" in said
    low = reading(above.lift.value - 8.0)
    (item,) = advised(trial(), log=runs(plate="buried"), engine__max_lift=low)
    assert not item.is_change
    assert "Leave the height: of row 3" in say(item.what, Shown())
    assert "maker" in say(item.what, Shown())


def test_a_row_that_cannot_be_had_makes_way_for_what_can_be_done() -> None:
    slow = (*NEW[:4], (4500, 26.0, 25.0, 18.0), (5200, 30.0, 29.0, 25.0))
    assert steps(trial(row=5), log=runs(slow, plate="buried")) == [Step.PITCH]


def test_no_propeller_is_advised_on_readings_that_cannot_be() -> None:
    found = advised(trial(pitch=reading(300.0)), log=runs((*NEW[:4], (5200, 31.0, 30.0, 24.0))))
    assert Step.PITCH not in [item.step for item in found]
    assert "read pitch and gear ratio again" in say(found[0].what, Shown())


def test_steps_are_ranked_as_they_stand() -> None:
    assert [step.rank for step in ORDER] == list(range(len(ORDER)))
