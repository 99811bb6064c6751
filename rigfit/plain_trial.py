"""The sea trials as plain text in 80 columns and as data: runs, gains, advice, the one change."""

from __future__ import annotations

import textwrap

from rigfit.plain_tables import WIDTH, Paint, cut, fitted, no_paint, painted, table, verdict_cell
from rigfit.rigging.findings import Phrase
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import (
    RunResult,
    TrialLog,
    TrialResult,
    counted,
    difference_words,
    differences,
    gains,
    held_against,
)
from rigfit.rigging.trial_advice import Advice, advice_on, next_step, pitch_words
from rigfit.sources import cite
from rigfit.trial_data import TRIAL_CAUTIONS, compared, log_of
from rigfit.units import Kind, Shown, from_base, mile_unit, per_mile, show
from rigfit.wording import say, shown

NOT_LOGGED = (
    "No run of a sea trial is logged. Fill in [[trial]] and [[run]], or rigfit trial JOB "
    "--import FILE."
)
BASELINE = (
    "Change nothing: run the boat as she is, so that later trials have something beside them.",
    "No run with this engine is logged yet.",
)


def one_change(report: EngineReport) -> tuple[str, str]:
    """Return the one thing to change before the next trial, and why, in words."""
    style = shown(report.case.job.units)
    step = next_step(advice_on(report.case, log_of(report)))
    return BASELINE if step is None else (say(step.what, style), say(step.why, style))


def trial_lines(
    report: EngineReport, paint: Paint = no_paint, *, against: str = "", findings: bool = True
) -> list[str]:
    """Return trials, gains and advice; nothing while neither trial nor run is entered.

    :param against: id of the trial the newest is held against; "" for the one before it.
    :param findings: False where they are printed elsewhere.
    """
    job = report.case.job
    if not (job.trials or job.runs):
        return []
    log, style = log_of(report), shown(job.units)
    lines = ["Sea trials"]
    for lost in log.lost:
        lines += _wrapped(f"Not used: {lost.what}, {lost.why}.")
    for item in log.trials:
        lines += ["", *_one_trial(item, style)]
    lines += _gain_lines(report, log, style, against)
    if findings:
        lines += ["", *finding_lines(report, paint)]
    lines += ["", *advice_lines(report, log, style)]
    return [*lines, "", *(line for words in TRIAL_CAUTIONS for line in _wrapped(words))]


def _wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent)


# ------------------------------------------------------------------ runs


def _one_trial(item: TrialResult, style: Shown) -> list[str]:
    trial = item.trial
    said = [item.title]
    if trial.row is not None:
        said.append(f"row {trial.row}")
    if trial.pitch is not None:
        said.append(f"pitch {pitch_words(trial.pitch.value)}")
    if trial.mass_aboard is not None:
        said.append(f"{show(trial.mass_aboard.value, Kind.MASS, style)} aboard")
    if trial.change:
        said.append(f"changed: {trial.change}")
    lines = _wrapped("Trial " + ", ".join(said))
    if not item.runs:
        return [*lines, "No run is logged."]
    speed, mile = style.speeds, mile_unit(style)
    headings = ("rpm", "there", "back", f"mean {speed}", "+/-", "slip %", "+/-", mile, "plate", "")
    rows = [_run_row(run, style) for run in item.runs]
    lines += fitted(headings, rows, "rrrrrrrrll")
    for held in held_against(item):
        kind = Kind.SPEED if held.kind == "speed" else Kind.ROTATION
        lines += _wrapped(
            f"Expected at full throttle {show(held.expected.value, kind, style)}, measured "
            f"{show(held.measured, kind, style)}: "
            + ("within their tolerances." if held.agrees else "more apart than their tolerances.")
        )
    return lines


def _run_row(run: RunResult, style: Shown) -> list[str]:
    there, back = run.run.speed_there, run.run.speed_back
    speed, slip = run.speed, run.slip
    doubt = "?" if slip is not None and slip.value < 0.0 else ""
    flags = [
        word
        for word, is_so in (
            ("full", run.is_full_throttle),
            ("AIR", run.run.ventilates in ("in turns", "straight on")),
            ("PORPOISES", run.run.porpoises == "yes"),
            ("HOT", run.run.overheats == "yes"),
            ("one way", speed is not None and not speed.both_ways),
        )
        if is_so
    ]
    return [
        f"{run.rpm.value:.0f}",
        _speed(there.value if there else None, style),
        _speed(back.value if back else None, style),
        _speed(speed.value if speed else None, style),
        _speed(speed.tolerance if speed else None, style),
        f"{100.0 * slip.value:.1f}{doubt}" if slip else "-",
        f"{100.0 * slip.tolerance:.0f}" if slip else "-",
        f"{per_mile(run.per_mile.value, style):.2f}" if run.per_mile else "-",
        cut("" if run.run.plate == "not seen" else run.run.plate, 8),
        ", ".join(flags),
    ]


def _speed(value: float | None, style: Shown) -> str:
    return "-" if value is None else f"{from_base(value, style.speeds, Kind.SPEED):.1f}"


# ------------------------------------------------------------------ between trials


def _gain_lines(report: EngineReport, log: TrialLog, style: Shown, against: str) -> list[str]:
    pair = compared(report, log, against)
    if pair is None:
        return []
    first, last = pair
    lines = ["", f"Trial {last.trial.id} against {first.trial.id}"]
    differing = differences(first, last)
    for item in differing:
        kind = "changed" if item.is_change else "not the same"
        lines += _wrapped(f"{kind}: {say(difference_words((item,)), style)}", "  ")
    if len(counted(differing)) > 1:
        lines += _wrapped("More than one thing differs, so nobody can tell which of them helped.")
    rows = [
        [
            f"{gain.rpm:.0f}",
            f"{from_base(gain.gain, style.speeds, Kind.SPEED):+.1f}",
            f"{from_base(gain.tolerance, style.speeds, Kind.SPEED):.1f}",
            "" if gain.is_clear else "within tolerance",
        ]
        for gain in gains(first, last)
    ]
    if rows:
        lines += table(("rpm", f"gain {style.speeds}", "+/-", ""), rows, "rrrl")
    else:
        lines.append("No engine speed of the two lies in a common range.")
    return lines


def finding_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return the findings 620 to 629, worst first."""
    style = shown(report.case.job.units)
    found = [item for item in report.findings if 620 <= item.code < 630]
    rows = [[str(item.code), verdict_cell(item.verdict), item.title] for item in found]
    if not rows:
        return ["No trial with this engine has a run."]
    lines: list[str] = []
    for line, item in zip(
        painted(table(("", "verdict", "question"), rows, "lll"), [f.verdict for f in found], paint)[
            -len(rows) :
        ],
        found,
        strict=True,
    ):
        lines += [line, *_wrapped(say(item.sentence, style), "     ")]
        if item.settle is not None:
            lines += _wrapped(f"To settle it: {say(item.settle, style)}", "     ")
    return lines


# ------------------------------------------------------------------ advice


def advice_lines(report: EngineReport, log: TrialLog, style: Shown) -> list[str]:
    """Return the advice in its order; only the first is for the next trial."""
    found = advice_on(report.case, log)
    if not found:
        return ["Advice needs a trial with this engine, with runs."]
    lines = ["Advice, first things first; one of them only before the next trial"]
    for place, item in enumerate(found, start=1):
        mark = "next" if place == 1 else "later"
        lines += _wrapped(f"{place}. {item.step.value} ({mark}): {say(item.what, style)}")
        for name, words in _reasons(item):
            lines += _wrapped(f"{name}: {say(words, style)}", "   ")
        lines += _wrapped(f"Source: {cite(item.source)}", "   ")
    return lines


def _reasons(item: Advice) -> tuple[tuple[str, Phrase], ...]:
    return (
        ("Why", item.why),
        ("Expected", item.effect),
        ("Against it would speak", item.against),
    )
