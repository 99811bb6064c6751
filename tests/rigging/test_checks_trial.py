"""Findings 620 to 629: full throttle, slip, both ways, one change, dangers, plate, pressure."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.checks_trial import check_trial, not_looked_at
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.trial_fields import PLATE_LOOKS, VENTILATES, YES_NO, Run
from rigfit.sources import SOURCES
from rigfit.units import Shown
from rigfit.wording import say
from tests.builders import CATALOGUE, case_of, reading, sample_job
from tests.rigging.trials import NEW, case, job, runs, trial

FITS, TIGHT, UNKNOWN, STOPS = Verdict.FITS, Verdict.TIGHT, Verdict.UNKNOWN, Verdict.STOPS
NAMES = {f"{key}.{f.name}" for key, _, record in GROUPS for f in fields(record)}
NAMES |= {f"{key}.{f.name}" for key, _, _, record in LISTS for f in fields(record)}


def found(*trials: object, log: tuple[Run, ...] = (), **changes: object) -> dict[int, Finding]:
    return {item.code: item for item in check_trial(case(*trials, log=log, **changes))}  # type: ignore[arg-type]


def text(finding: Finding) -> str:
    return say(finding.sentence, Shown())


def at(rpm: float) -> tuple[Run, ...]:
    return runs((*NEW[:4], (rpm, 33.0, 32.0, 28.0)))


def test_nothing_logged_is_said_not_to_be_looked_at() -> None:
    assert check_trial(case_of(sample_job())) == ()
    assert not_looked_at(case_of(sample_job())) == ("sea trial",)
    assert "sea trial" in fit_check(sample_job(), CATALOGUE).not_looked_at
    assert not_looked_at(case()) == ()


def test_a_good_trial_fits_throughout() -> None:
    assert {code: item.verdict for code, item in found().items()} == dict.fromkeys(
        (620, 621, 622, 624, 627, 628), FITS
    )


@pytest.mark.parametrize(
    ("rpm", "verdict", "words"),
    [
        # A band of 5,000 to 6,000 rpm: 5,700 is well placed (common practice, no source).
        (5700.0, FITS, "upper half"),
        (5250.0, TIGHT, "lower half"),
        (5000.0, TIGHT, "lower half"),
        (4700.0, STOPS, "lugs"),
        (6030.0, TIGHT, "races"),
        (6300.0, STOPS, "races"),
    ],
)
def test_full_throttle_against_the_band(rpm: float, verdict: Verdict, words: str) -> None:
    item = found(trial(), log=at(rpm))[621]
    assert item.verdict is verdict
    assert words in text(item)


def test_a_band_of_the_class_never_fits() -> None:
    item = found(trial(wot_low=None, wot_high=None), log=at(5700.0))[621]
    assert item.verdict is TIGHT
    assert "class" in text(item)


def test_full_throttle_is_not_guessed() -> None:
    quiet = tuple(replace(run, full_throttle="not said") for run in runs())
    assert found(trial(), log=quiet)[621].verdict is UNKNOWN


@pytest.mark.parametrize(
    ("pitch_in", "verdict"), [(16.3, FITS), (20.0, TIGHT), (30.0, TIGHT), (14.5, TIGHT)]
)
def test_slip_within_the_usual(pitch_in: float, verdict: Verdict) -> None:
    """5 to 20 % are usual (a page, read); a habit stops no engine."""
    item = found(trial(pitch=reading(pitch_in * 25.4)), log=runs())[622]
    assert item.verdict is verdict


def test_negative_slip_is_a_doubt_and_never_hidden() -> None:
    seen = found(trial(pitch=reading(12.0 * 25.4)), log=runs())
    assert seen[623].verdict is UNKNOWN
    assert seen[623].settle is not None
    assert "faster than the pitch allows" in text(seen[623])
    assert 622 not in seen or seen[622].verdict is not FITS


def test_one_way_only_is_unknown_and_a_strong_current_tight() -> None:
    one = tuple(replace(run, speed_back=None) for run in runs())
    assert found(trial(), log=one)[624].verdict is UNKNOWN
    tide = runs(((2000, 9.0, 5.0, None), (4000, 24.0, 18.0, None), (5700, 33.0, 32.0, None)))
    assert found(trial(), log=tide)[624].verdict is TIGHT


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ({"row": 3}, FITS),
        ({}, FITS),
        ({"row": 3, "pitch": reading(381.0)}, TIGHT),
        ({"row": 3, "mass_aboard": reading(400.0)}, TIGHT),
        ({"row": None}, UNKNOWN),
    ],
)
def test_one_thing_is_changed_between_trials(said: dict[str, object], verdict: Verdict) -> None:
    seen = found(trial(), trial("T22", **said), log=(*runs(), *runs(key="T22")))
    assert seen[625].verdict is verdict


def test_an_expectation_is_held_against_the_measurement() -> None:
    for expected, verdict in ((32.0, FITS), (36.0, TIGHT)):
        seen = found(trial(expected_speed=reading(expected, 2.0)), log=runs())
        assert seen[626].verdict is verdict


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ({"overheats": "yes"}, STOPS),
        ({"ventilates": "in turns"}, TIGHT),
        ({"porpoises": "yes"}, TIGHT),
        ({"ventilates": "not said"}, UNKNOWN),
        ({"overheats": "not said"}, UNKNOWN),
    ],
)
def test_dangers(said: dict[str, str], verdict: Verdict) -> None:
    assert found(trial(), log=runs(**said))[627].verdict is verdict


@pytest.mark.parametrize(
    ("plate", "verdict"),
    [("dry", FITS), ("wetted", FITS), ("buried", TIGHT), ("spray", TIGHT), ("not seen", UNKNOWN)],
)
def test_the_plate_at_cruising_speed(plate: str, verdict: Verdict) -> None:
    assert found(trial(), log=runs(plate=plate))[628].verdict is verdict


@pytest.mark.parametrize(
    ("bars", "verdict"),
    [((0.4, 0.6, 0.8), FITS), ((0.6, 0.6, 0.6), FITS), ((0.4, 0.8, 0.5), TIGHT), ((0.8,), None)],
)
def test_water_pressure_that_falls_with_engine_speed(
    bars: tuple[float, ...], verdict: Verdict | None
) -> None:
    read = tuple(
        replace(run, pressure=reading(bar, 0.05)) for run, bar in zip(runs(), bars, strict=False)
    )
    seen = found(trial(), log=(*read, *runs()[len(bars) :]))
    assert (seen[629].verdict if 629 in seen else None) is verdict


def test_a_run_that_belongs_nowhere_is_named() -> None:
    seen = found(trial(), log=(*runs(), *runs(key="T7")[:1]))
    assert seen[620].verdict is UNKNOWN
    assert 'there is no trial "T7"' in text(seen[620])
    assert found(trial(), trial("T4"), log=runs())[620].verdict is UNKNOWN


@st.composite
def any_job(draw: st.DrawFn):
    log = tuple(
        replace(
            run,
            plate=draw(st.sampled_from(PLATE_LOOKS)),
            ventilates=draw(st.sampled_from(VENTILATES)),
            porpoises=draw(st.sampled_from(YES_NO)),
            overheats=draw(st.sampled_from(YES_NO)),
            full_throttle=draw(st.sampled_from(YES_NO)),
            trial=draw(st.sampled_from(("T1", "T22", "T7"))),
            speed_there=draw(st.sampled_from((run.speed_there, None))),
            speed_back=draw(st.sampled_from((run.speed_back, None))),
        )
        for run in draw(st.lists(st.sampled_from(runs()), max_size=6))
    )
    second = trial("T22", engine=draw(st.sampled_from(("A", "old", "", "Z"))),
                   row=draw(st.sampled_from((None, 1, 2))))  # fmt: skip
    first = trial(pitch=draw(st.sampled_from((None, reading(200.0), reading(431.8)))))
    return job(first, second, log=log)


@given(any_job())
def test_every_finding_owes_what_all_findings_owe(made) -> None:
    items = check_trial(case_of(made))
    assert len({item.code for item in items}) == len(items)
    for item in items:
        assert 620 <= item.code < 650
        assert item.source in SOURCES
        assert set(item.needs) <= NAMES
        assert "{" not in text(item)
        assert item.verdict is not UNKNOWN or item.settle is not None
        if item.verdict is FITS and item.margin is not None and item.tolerance is not None:
            assert item.margin >= item.tolerance
