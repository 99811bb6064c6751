"""Checks 620 to 629: what the log of the sea trials says of the engine looked at.

The newest trial with that engine is judged; nothing is said without one. A finding that rests on a
figure of the engine's class never reads ``fits``.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Amount, Finding, Limits, Phrase, Verdict, at_best, phrase, rpm
from rigfit.rigging.propeller import GOOD_SLIP, MOST_SLIP, USUAL_SLIP
from rigfit.rigging.readings import Origin
from rigfit.rigging.sea_trial import (
    RunResult,
    TrialLog,
    TrialResult,
    counted,
    difference_words,
    differences,
    held_against,
    log_of_case,
    unsaid,
)
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.trial_advice import USUAL_DRIFT, is_drifted
from rigfit.rigging.trial_fields import NOT_SAID
from rigfit.units import Kind

USUAL = Limits(*USUAL_SLIP, outer_low=0.0, outer_high=MOST_SLIP)
_GOOD = f"{100.0 * GOOD_SLIP[0]:.0f} to {100.0 * GOOD_SLIP[1]:.0f} %"
_MOST_NAMED = 4
_LEAST_PRESSURES = 2


def not_looked_at(case: Case) -> tuple[str, ...]:
    """Return the sea trial where no run is logged."""
    return () if case.job.runs else ("sea trial",)


def check_trial(case: Case) -> tuple[Finding, ...]:
    """620 to 629: the log itself, full throttle, slip, both ways, one change, dangers."""
    if not (case.job.trials or case.job.runs):
        return ()
    log = log_of_case(case)
    found = list(_log(log))
    trials = log.of_engine(case.candidate.id)
    if not trials:
        return tuple(found)
    last = trials[-1]
    found += _full_throttle(case, last)
    found += _slip(case, last)
    found += _against_pitch(case, last)
    found += _both_ways(case, last)
    earlier = [item for item in log.trials if item.runs]
    found += _one_change(case, earlier, last)
    found += _held(case, last)
    found += _dangers(case, last)
    found += _plate(case, last)
    found += _pressure(case, last)
    return tuple(found)


def _at(runs: tuple[RunResult, ...]) -> str:
    """Return engine speeds in words, a few of many."""
    said = [f"{run.rpm.value:.0f}" for run in runs[:_MOST_NAMED]]
    more = "" if len(runs) <= _MOST_NAMED else " and more"
    return ", ".join(said) + more + " rpm"


def _share(value: float) -> Amount:
    return Amount(value, Kind.FRACTION)


# ------------------------------------------------------------------ 620


def _log(log: TrialLog) -> Iterator[Finding]:
    """620: is there anything in the log that cannot be used?"""
    found = partial(
        Finding, code=620, subject="boat", title="trial log", source="job", kind=Kind.COUNT,
        needs=("run.trial", "run.rpm"),
    )  # fmt: skip
    runs = sum(len(item.runs) for item in log.trials)
    bare = [item.trial.id for item in log.trials if not item.runs]
    if log.lost or bare:
        lines = tuple(phrase("{what}: {why}.", what=item.what, why=item.why) for item in log.lost)
        lines += tuple(phrase("trial {id} has no run.", id=name) for name in bare)
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("{count} of the trial log cannot be used: {first}",
                            count=f"{len(lines)} thing{'s' if len(lines) > 1 else ''}",
                            first=lines[0].text.format_map(lines[0].amounts)),
            settle=Phrase(
                "Give each trial an id of its own, a date like 2026-05-16 and runs, and each run "
                "the id of its trial and an engine speed."
            ),
            working=lines,
        )  # fmt: skip
        return
    count = f"{len(log.trials)} trial{'s' if len(log.trials) > 1 else ''}"
    yield found(
        verdict=Verdict.FITS,
        sentence=phrase("Logged: {count} with {runs}; nothing is left out.", count=count,
                        runs=f"{runs} run{'s' if runs > 1 else ''}"),
    )  # fmt: skip


# ------------------------------------------------------------------ 621, 622, 623


def _full_throttle(case: Case, last: TrialResult) -> Iterator[Finding]:
    """621: does full throttle lie in the upper half of the maker's band?"""
    found = partial(
        Finding, code=621, subject=case.candidate.id, title="engine speed at full throttle",
        source="trial-band", kind=Kind.ROTATION, needs=("run.full_throttle", "run.rpm"),
    )  # fmt: skip
    wot, band = last.wot, last.band
    if wot is None:
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("No run of trial {id} is marked as full throttle.", id=last.trial.id),
            settle=Phrase("Log a run with the lever fully open, and say so of it."),
        )
        return
    if band is None:
        yield found(
            verdict=Verdict.UNKNOWN, value=wot.rpm.value, tolerance=expanded(wot.rpm.tolerance),
            sentence=phrase("{rpm} at full throttle; the maker's band is not known.",
                            rpm=rpm(wot.rpm.value)),
            settle=Phrase("Look the band up in the engine's manual."),
        )  # fmt: skip
        return
    limits = Limits(band.middle, band.high, outer_low=band.low)
    spread = expanded(wot.rpm.tolerance)
    verdict = limits.judge(wot.rpm.value, spread)
    words = {
        "below": "it lugs",
        "lower half": "in the lower half",
        "upper half": "in the upper half, where it belongs",
        "above": "it races",
    }[band.place(wot.rpm.value)]
    text = "{rpm} at full throttle against a band of {low} to {high}: {place}."
    if last.band_origin is Origin.CLASS:
        verdict = at_best(verdict, Verdict.TIGHT)
        text += " The band is that of the class; the engine's manual says its own."
    yield found(
        verdict=verdict, value=wot.rpm.value, low=band.middle, high=band.high,
        margin=limits.margin(wot.rpm.value), tolerance=spread,
        sentence=phrase(text, rpm=rpm(wot.rpm.value), low=rpm(band.low), high=rpm(band.high),
                        place=words),
        working=(Phrase("Full throttle alone says nothing of mid-range and turns."),),
    )  # fmt: skip


def _fastest(last: TrialResult) -> RunResult | None:
    """Return the run slip is judged by: full throttle, else the fastest with a slip."""
    runs = [run for run in last.runs if run.slip is not None]
    if last.wot is not None and last.wot.slip is not None:
        return last.wot
    return max(runs, key=lambda run: run.speed.value if run.speed else 0.0, default=None)


def _slip(case: Case, last: TrialResult) -> Iterator[Finding]:
    """622: is the slip of the fastest run a usual one?"""
    found = partial(
        Finding, code=622, subject=case.candidate.id, title="slip", source="trial-slip",
        kind=Kind.FRACTION, needs=("run.rpm", "run.speed_there", "trial.pitch", "trial.gear_ratio"),
    )  # fmt: skip
    run = _fastest(last)
    if run is None or run.slip is None:
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("The slip in trial {id} is not known.", id=last.trial.id),
            settle=Phrase("Log speeds both ways, and the propeller's pitch and the gear ratio."),
        )
        return
    verdict = USUAL.judge(run.slip.value, run.slip.tolerance)
    if run.is_against_pitch:
        return  # 623 says it
    if verdict is Verdict.STOPS:
        verdict = Verdict.TIGHT  # a habit of the trade stops no engine
    text = "{slip} of slip at {rpm}; 5 to 20 % are usual on the plane, {good} good."
    if last.gear is not None and last.gear.origin is Origin.CLASS:
        verdict = at_best(verdict, Verdict.TIGHT)
        text += " The gear ratio is that of the class."
    if run.speed is not None and not run.speed.both_ways:
        verdict = at_best(verdict, Verdict.TIGHT)
    yield found(
        verdict=verdict, value=run.slip.value, low=USUAL.low, high=USUAL.high,
        margin=USUAL.margin(run.slip.value), tolerance=run.slip.tolerance,
        sentence=phrase(text, slip=_share(run.slip.value), rpm=rpm(run.rpm.value), good=_GOOD),
        working=(Phrase("Below planing speed 30 % and more are usual and mean nothing."),),
    )  # fmt: skip


def _against_pitch(case: Case, last: TrialResult) -> Iterator[Finding]:
    """623: was she faster than the propeller's pitch? A doubt about a reading, never hidden."""
    doubtful = tuple(run for run in last.runs if run.slip is not None and run.slip.value < 0.0)
    if not doubtful:
        return
    worst = min((run.slip for run in doubtful if run.slip), key=lambda slip: slip.value)
    yield Finding(
        code=623, subject=case.candidate.id, title="negative slip", verdict=Verdict.UNKNOWN,
        source="trial-slip", kind=Kind.FRACTION, value=worst.value, low=0.0, margin=worst.value,
        tolerance=worst.tolerance, needs=("run.rpm", "trial.pitch", "trial.gear_ratio"),
        sentence=phrase("At {at} she was faster than the pitch allows, by {slip} at most: a "
                        "tachometer, a pitch, a gear ratio or a speed is not as written.",
                        at=_at(doubtful), slip=_share(-worst.value)),
        settle=Phrase("Check the tachometer, read the stamp on the hub again (cup and a re-pitched "
                      "blade add to it), look the gear ratio up, run both ways."),
    )  # fmt: skip


# ------------------------------------------------------------------ 624, 625, 626


def _both_ways(case: Case, last: TrialResult) -> Iterator[Finding]:
    """624: how far apart were the two ways?"""
    found = partial(
        Finding, code=624, subject=case.candidate.id, title="there and back", source="trial-drift",
        kind=Kind.SPEED, needs=("run.speed_there", "run.speed_back"),
    )  # fmt: skip
    timed = tuple(run for run in last.runs if run.speed is not None)
    one_way = tuple(run for run in timed if run.speed is not None and not run.speed.both_ways)
    if not timed or one_way:
        what = f"only one way was run at {_at(one_way)}" if timed else "no speed is logged"
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("In trial {id} {what}; current and wind are in the figures.",
                            id=last.trial.id, what=what),
            settle=Phrase("Run the same stretch the other way at once, at the same engine speed."),
        )  # fmt: skip
        return
    drifted = tuple(run for run in timed if is_drifted(run))
    worst = max(timed, key=lambda run: (run.speed.drift or 0.0) if run.speed else 0.0)
    drift = (worst.speed.drift or 0.0) if worst.speed else 0.0
    share = f"{100.0 * USUAL_DRIFT:.0f} %"
    text = "Both ways lie up to {drift} either side of their mean, at {rpm}."
    if drifted:
        text += (
            f" More than {share} of the speed at {{at}}: mean them only if both followed at once."
        )
    yield found(
        verdict=Verdict.TIGHT if drifted else Verdict.FITS, value=drift,
        sentence=phrase(text, drift=Amount(drift, Kind.SPEED), rpm=rpm(worst.rpm.value),
                        at=_at(drifted)),
    )  # fmt: skip


def _one_change(case: Case, trials: list[TrialResult], last: TrialResult) -> Iterator[Finding]:
    """625: was one thing changed since the trial before?"""
    place = trials.index(last)
    if place == 0:
        return
    before = trials[place - 1]
    found = partial(
        Finding, code=625, subject=case.candidate.id, title="one change", source="one-change",
        kind=Kind.COUNT, needs=("trial.row", "trial.pitch", "trial.mass_aboard"),
    )  # fmt: skip
    differing = differences(before, last)
    names = difference_words(differing)
    ids = {"first": before.trial.id, "second": last.trial.id}
    several = counted(differing)
    if len(several) > 1:
        yield found(
            verdict=Verdict.TIGHT, value=float(len(several)), high=1.0,
            margin=1.0 - len(several),
            sentence=Phrase("Between trials {first} and {second} more than one thing changed: "
                            f"{names.text}. Nobody can tell which of them helped.",
                            {**names.amounts, **ids}),
        )  # fmt: skip
        return
    quiet = unsaid(before, last)
    if quiet:
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("Whether one thing only changed between trials {first} and {second} is "
                            "not known: not said is {what}.", what=", ".join(quiet), **ids),
            settle=phrase("Fill in {what} for both trials.", what=", ".join(quiet)),
        )  # fmt: skip
        return
    what = f"one thing changed: {names.text}" if differing else "nothing is said to have changed"
    if len(differing) > len(several) > 0:
        what = f"the engine changed and brought its own along: {names.text}"
    yield found(
        verdict=Verdict.FITS, value=float(len(several)), high=1.0, margin=1.0 - len(several),
        tolerance=0.0,
        sentence=Phrase(f"Between trials {{first}} and {{second}} {what}.",
                        {**names.amounts, **ids}),
    )  # fmt: skip


def _held(case: Case, last: TrialResult) -> Iterator[Finding]:
    """626: what was expected at full throttle, against what was measured."""
    for held in held_against(last)[:1]:
        kind = Kind.SPEED if held.kind == "speed" else Kind.ROTATION
        off = held.measured - held.expected.value
        text = "{measured} measured against {expected} expected at full throttle, {off}"
        text += ": within their tolerances." if held.agrees else ": more than their tolerances."
        low, high = (held.expected.value + way * held.expected.tolerance for way in (-1.0, 1.0))
        limits = Limits(low, high)
        verdict = limits.judge(held.measured, held.tolerance)
        yield Finding(
            code=626, subject=case.candidate.id, title="measured against expected",
            # An expectation that fails stops no engine; it asks why.
            verdict=Verdict.TIGHT if verdict is Verdict.STOPS else verdict, source="expected",
            kind=kind, value=held.measured, tolerance=held.tolerance, low=low, high=high,
            margin=limits.margin(held.measured),
            needs=("trial.expected_speed", "run.full_throttle", "run.speed_there"),
            sentence=phrase(text, measured=Amount(held.measured, kind),
                            expected=Amount(held.expected.value, kind),
                            off=Amount(off, kind, signed=True)),
        )  # fmt: skip


# ------------------------------------------------------------------ 627, 628


def _dangers(case: Case, last: TrialResult) -> Iterator[Finding]:
    """627: did anything dangerous show?"""
    found = partial(
        Finding, code=627, subject=case.candidate.id, title="safe under way", source="trial-safety",
        kind=Kind.COUNT, needs=("run.ventilates", "run.porpoises", "run.overheats"),
    )  # fmt: skip
    hot = last.says("overheats", "yes")
    airy = last.says("ventilates", "in turns", "straight on")
    leaping = last.says("porpoises", "yes")
    told = (("overheating was signalled", hot), ("the propeller draws air", airy),
            ("she porpoises", leaping))  # fmt: skip
    said = [f"{words} at {_at(runs)}" for words, runs in told if runs]
    if said:
        yield found(
            verdict=Verdict.STOPS if hot else Verdict.TIGHT,
            sentence=phrase("In trial {id} {what}. This comes before any tuning.",
                            id=last.trial.id, what="; ".join(said)),
        )  # fmt: skip
        return
    names = {"ventilates": "air in turns", "porpoises": "porpoising", "overheats": "overheating"}
    open_ = [
        words for name, words in names.items()
        if all(getattr(run.run, name) == NOT_SAID for run in last.runs)
    ]  # fmt: skip
    if open_:
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("Trial {id} says nothing of {what}.", id=last.trial.id,
                            what=", ".join(open_)),
            settle=Phrase("Try gentle turns, not trimmed in; watch gauge and tell-tale; say it of "
                          "a run."),
        )  # fmt: skip
        return
    yield found(
        verdict=Verdict.FITS,
        sentence=phrase("No air drawn, no porpoising and no overheating in trial {id}.",
                        id=last.trial.id),
    )  # fmt: skip


def _plate(case: Case, last: TrialResult) -> Iterator[Finding]:
    """628: where was the plate at cruising speed?"""
    seen = tuple(run for run in last.cruising() if run.run.plate != "not seen")
    found = partial(
        Finding, code=628, subject=case.candidate.id, title="plate at speed", source="plate-afloat",
        kind=Kind.COUNT, needs=("run.plate", "run.rpm"),
    )  # fmt: skip
    if not seen:
        yield found(
            verdict=Verdict.UNKNOWN,
            sentence=phrase("Nobody saw the plate at cruising speed in trial {id}.",
                            id=last.trial.id),
            settle=Phrase("Fix a camera at the stern; nobody leans over it under way."),
        )  # fmt: skip
        return
    low = tuple(run for run in seen if run.run.plate in ("buried", "spray"))
    what = "buried or throwing spray" if low else "skimming or dry"
    yield found(
        verdict=Verdict.TIGHT if low else Verdict.FITS,
        sentence=phrase("The plate was {what} at {at}.", what=what, at=_at(low or seen)),
    )


# ------------------------------------------------------------------ 629


def _pressure(case: Case, last: TrialResult) -> Iterator[Finding]:
    """629: does the pressure of the cooling water rise with engine speed, as far as it was read?"""
    read = tuple(run for run in last.runs if run.run.pressure is not None)
    if len(read) < _LEAST_PRESSURES:
        return
    found = partial(
        Finding, code=629, subject=case.candidate.id, title="cooling water", kind=Kind.PRESSURE,
        source="trial-pressure", needs=("run.pressure", "run.rpm"),
    )  # fmt: skip
    starved = last.starved()
    if starved:
        yield found(
            verdict=Verdict.TIGHT,
            sentence=phrase("Water pressure falls as the engine turns faster, at {at}: the intake "
                            "may be starved.", at=_at(starved)),
        )  # fmt: skip
        return
    top = read[-1]
    value = top.run.pressure.value if top.run.pressure else 0.0
    yield found(
        verdict=Verdict.FITS, value=value,
        sentence=phrase("Water pressure does not fall with engine speed: {pressure} at {rpm}. What "
                        "it must be, the engine's manual says.",
                        pressure=Amount(value, Kind.PRESSURE), rpm=rpm(top.rpm.value)),
    )  # fmt: skip
