"""The sea trials as plain data: runs, what cannot be used, the comparison, the advice."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from rigfit.rigging.findings import Amount, Phrase
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import (
    RunResult,
    TrialLog,
    TrialResult,
    differences,
    gains,
    held_against,
    log_of_case,
)
from rigfit.rigging.tolerance import Estimate
from rigfit.rigging.trial_advice import advice_on
from rigfit.sources import cite

Say: TypeAlias = Callable[[Phrase], str]

TRIAL_CAUTIONS: tuple[str, ...] = (
    "Under way: cut-off cord clipped on, life jackets worn, a second person looking out.",
    "Gentle turns first; no hard turn trimmed in; nobody leans over the stern: use a camera.",
    "The engine maker's instructions win over every figure here.",
)
"""Said with every answer about a trial."""


def log_of(report: EngineReport) -> TrialLog:
    """Return the log of the report's job."""
    return log_of_case(report.case)


def compared(
    report: EngineReport, log: TrialLog, against: str = ""
) -> tuple[TrialResult, TrialResult] | None:
    """Return the trial held against and the newest with this engine, or None without two."""
    own = log.of_engine(report.case.candidate.id)
    full = [item for item in log.trials if item.runs]
    if not own:
        return None
    last = own[-1]
    if against:
        first = log.trial(against)
        return (first, last) if first is not None and first is not last and first.runs else None
    place = full.index(last)
    return (full[place - 1], last) if place else None


def trial_data(report: EngineReport, say: Say) -> dict[str, object] | None:
    """Return log, comparison and advice as data; kn, rpm, kg, litres a nautical mile.

    None while neither trial nor run is entered.

    :param say: renders a phrase in the job's units.
    """
    if not (report.case.job.trials or report.case.job.runs):
        return None
    log = log_of(report)
    pair = compared(report, log)
    return {
        "trials": [_trial_data(item) for item in log.trials],
        "not_used": [{"what": item.what, "why": item.why} for item in log.lost],
        "compared": _pair_data(*pair) if pair else None,
        "advice": [
            {
                "step": item.step.value,
                "what": say(item.what),
                "why": say(item.why),
                "effect": say(item.effect),
                "against": say(item.against),
                "source": cite(item.source),
                "is_change": item.is_change,
            }
            for item in advice_on(report.case, log)
        ],
        "cautions": list(TRIAL_CAUTIONS),
    }


def _estimate(value: Estimate | None) -> dict[str, float] | None:
    if value is None:
        return None
    return {"value": round(value.value, 4), "tolerance": round(value.tolerance, 4)}


def _trial_data(item: TrialResult) -> dict[str, object]:
    trial = item.trial
    return {
        "id": trial.id,
        "date": trial.date,
        "engine": item.engine,
        "row": trial.row,
        "pitch_mm": trial.pitch.value if trial.pitch else None,
        "gear_ratio": item.gear.value if item.gear else None,
        "gear_ratio_from": item.gear.origin.value if item.gear else "",
        "band_rpm": [item.band.low, item.band.high] if item.band else None,
        "mass_aboard_kg": trial.mass_aboard.value if trial.mass_aboard else None,
        "change": trial.change,
        "runs": [_run_data(run) for run in item.runs],
        "held": [
            {"what": held.kind, "expected": held.expected.value, "measured": held.measured,
             "agrees": held.agrees}
            for held in held_against(item)
        ],
    }  # fmt: skip


def _run_data(run: RunResult) -> dict[str, object]:
    speed = run.speed
    return {
        "row": run.row,
        "rpm": run.rpm.value,
        "speed_kn": round(speed.value, 3) if speed else None,
        "speed_tolerance_kn": round(speed.tolerance, 3) if speed else None,
        "drift_kn": round(speed.drift, 3) if speed and speed.drift is not None else None,
        "slip": _estimate(run.slip),
        "litres_per_nautical_mile": _estimate(run.per_mile),
        "full_throttle": run.run.full_throttle,
        "plate": run.run.plate,
        "ventilates": run.run.ventilates,
        "porpoises": run.run.porpoises,
        "overheats": run.run.overheats,
    }


def _plain(item: str | Amount) -> str | float:
    return item.value if isinstance(item, Amount) else item


def _pair_data(first: TrialResult, last: TrialResult) -> dict[str, object]:
    return {
        "before": first.trial.id,
        "after": last.trial.id,
        "differences": [
            {"name": item.name, "before": _plain(item.before), "after": _plain(item.after),
             "is_change": item.is_change}
            for item in differences(first, last)
        ],
        "gains_kn": [
            {"rpm": gain.rpm, "gain": round(gain.gain, 3), "tolerance": round(gain.tolerance, 3)}
            for gain in gains(first, last)
        ],
    }  # fmt: skip
