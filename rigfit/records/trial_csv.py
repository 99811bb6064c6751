"""The trial log as CSV: each run with what it came to, in base units, readable again as runs."""

from __future__ import annotations

from rigfit.records.tables import Cell, to_csv
from rigfit.rigging.readings import Reading, specs
from rigfit.rigging.sea_trial import RunResult, TrialLog
from rigfit.rigging.trial_fields import Run
from rigfit.units import BASE_UNIT

_RESULTS = ("mean speed (kn)", "drift (kn)", "slip (%)", "slip +/- (%)", "litres a nautical mile")


def runs_csv(log: TrialLog) -> str:
    """Return every run that can be used, by trial and engine speed; never a formula.

    Columns are the fields of a run, numbers in base units, and behind them the results; read as
    runs again (``trial_paste.parse_runs``) they are the same runs.
    """
    headings = [_heading(name) for name in specs(Run)] + list(_RESULTS)
    rows = [_row(run) for item in log.trials for run in item.runs]
    return to_csv(headings, rows)


def _heading(name: str) -> str:
    spec = specs(Run)[name]
    return f"{spec.label} ({BASE_UNIT[spec.kind]})" if spec.kind else spec.label


def _row(result: RunResult) -> list[Cell]:
    cells: list[Cell] = [_cell(getattr(result.run, name)) for name in specs(Run)]
    speed, slip, mile = result.speed, result.slip, result.per_mile
    cells += [
        _rounded(speed.value if speed else None),
        _rounded(speed.drift if speed else None),
        _rounded(100.0 * slip.value if slip else None),
        _rounded(100.0 * slip.tolerance if slip else None),
        _rounded(mile.value if mile else None),
    ]
    return cells


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _cell(value: object) -> Cell:
    if isinstance(value, Reading):
        if value.tolerance_typed:
            return f"{float(value.value)!r} ± {float(value.tolerance)!r}"
        return value.value
    return None if value is None else str(value)
