"""The runs of the sea trials as rows of a table: as typed, and what each came to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rigfit.desk.draft import FIELDS, Address
from rigfit.desk.form_state import Derived
from rigfit.desk.kit.tables import Column, TableRow
from rigfit.desk.plane_pictures import places_of
from rigfit.records.plain_words import visible
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.sea_trial import RunResult, Speed, TrialLog, trial_log
from rigfit.rigging.trial_advice import is_drifted
from rigfit.rigging.trial_fields import NOT_SAID
from rigfit.units import Kind, Shown, from_base

if TYPE_CHECKING:
    from rigfit.desk.workbench import Workbench
    from rigfit.rigging.findings import Finding

SAFETY = (
    "Life jackets on, cut-off cord clipped on, a second person briefed who can bring her home.",
    "Gentle turns first, at less than full throttle; no hard turn with the engine trimmed fully "
    "in.",
    "Nobody leans over the stern under way: fix a camera to see the plate.",
    "Overheating, no water from the tell-tale, porpoising: ease off and end the run.",
)
"""What is said before anybody goes out; usual cautions of the trade (the maker's come first)."""

_LONGEST_ID, _LONGEST_TYPED = 12, 12


def run_columns(style: Shown) -> tuple[Column, ...]:
    """Return the columns of the table of runs; the least telling give way first."""
    speed = style.speeds
    return (
        Column("trial", "Trial", 40),
        Column("rpm", "rpm", 40, is_numeric=True),
        Column("speed", f"Speed, {speed}", 40, is_numeric=True),
        Column("slip", "Slip, %", 40, is_numeric=True, is_spare=True, gives_way=1),
        Column("mile", "L/nm", 40, is_numeric=True, is_spare=True, gives_way=3),
        Column("there", f"There, {speed}", 40, is_numeric=True, is_spare=True, gives_way=4),
        Column("back", f"Back, {speed}", 40, is_numeric=True, is_spare=True, gives_way=4),
        Column("look", "Look at", 56, grows=True, is_spare=True, gives_way=2),
    )


def results_of(derived: Derived, catalogue: Catalogue) -> tuple[TrialLog, dict[int, RunResult]]:
    """Return the log of the trials, and what each run came to by its row in the form from 0."""
    log = trial_log(derived.job, catalogue)
    places = places_of(derived, "run")
    found = {
        places[run.row - 1]: run
        for trial in log.trials
        for run in trial.runs
        if run.row <= len(places)
    }
    return log, found


def run_rows(derived: Derived, catalogue: Catalogue, style: Shown) -> list[TableRow]:
    """Return every run of the form as a row, those that cannot be used as well, with the reason."""
    if not derived.draft.rows("run"):
        return []
    _, results = results_of(derived, catalogue)
    return [
        _row(derived, index, results.get(index), style)
        for index in range(len(derived.draft.rows("run")))
    ]


def _row(derived: Derived, index: int, result: RunResult | None, style: Shown) -> TableRow:
    def typed(name: str) -> str:
        return derived.draft.text(Address("run", name, index)).strip()

    trial = visible(typed("trial"), _LONGEST_ID) or "-"
    if result is None:
        rpm = visible(typed("rpm"), _LONGEST_TYPED) or "-"
        cells = (trial, rpm, "-", "-", "-", "-", "-", why_unused(derived, index))
        return TableRow(str(index), cells, (trial, None, None, None, None, None, None, cells[-1]))
    there, back = result.run.speed_there, result.run.speed_back
    slip = 100.0 * result.slip.value if result.slip else None
    mile = result.per_mile.value if result.per_mile else None
    numbers = (
        (result.rpm.value, f"{result.rpm.value:.0f}"),
        _speed(result.speed, style),
        (slip, "-" if slip is None else f"{slip:.0f}"),
        (mile, "-" if mile is None else f"{mile:.2f}"),
        _speed(there, style),
        _speed(back, style),
    )
    look = look_words(result)
    return TableRow(
        str(index),
        (trial, *(words for _, words in numbers), look),
        (trial, *(value for value, _ in numbers), look),
    )


def _speed(reading: Any | Speed | None, style: Shown) -> tuple[float | None, str]:
    if reading is None:
        return None, "-"
    value = from_base(reading.value, style.speeds, Kind.SPEED)
    return value, f"{value:.1f}"


def look_words(result: RunResult) -> str:
    """Return what of a run is to be looked at, worst first; "" for nothing."""
    run, words = result.run, []
    if run.overheats == "yes":
        words.append("overheating")
    if run.ventilates in ("in turns", "straight on"):
        words.append(f"draws air {run.ventilates}")
    if run.porpoises == "yes":
        words.append("porpoises")
    if result.slip is not None and result.slip.value < 0.0:
        words.append("faster than the pitch")
    if result.speed is None:
        words.append("no speed")
    elif not result.speed.both_ways:
        words.append("one way only")
    elif is_drifted(result):
        words.append("ways far apart")
    return ", ".join(words)


def why_unused(derived: Derived, index: int) -> str:
    """Return in few words why a run of the form is not among those that are looked at."""
    for name, spec in FIELDS["run"]:
        address = Address("run", name, index)
        if spec.required and not derived.draft.text(address).strip():
            return f"no {spec.label}"
        if spec.required and address in derived.messages:
            return f"{spec.label} cannot be read"
    return "no such trial"


# -- where a finding leads -------------------------------------------------------------------------

_LOG = 620  # the finding on what of the log cannot be used


def deciding_row(table: str, field: str, finding: Finding, bench: Workbench) -> int:
    """Return which trial or run of the form a finding on the sea trials is decided by, from 0.

    It is the newest trial of the engine, and of its runs the first that lacks the field, else the
    one at full throttle. Of what cannot be used it is the first run that cannot.

    :param table: "trial" or "run".
    """
    derived = bench.derived
    log, results = results_of(derived, bench.catalogue)
    if table == "run" and finding.code == _LOG:
        rows = range(len(derived.draft.rows("run")))
        return next((row for row in rows if row not in results), 0)
    trials = log.of_engine(derived.engine_id) or log.trials
    if not trials:
        return 0
    last = trials[-1]
    if table == "trial":
        ids = [item.id for item in derived.job.trials]
        places = places_of(derived, "trial")
        place = ids.index(last.trial.id)
        return places[place] if place < len(places) else 0
    rows_of = {run.row: row for row, run in results.items()}
    lacking = (run for run in last.runs if _lacks(run, field))
    run = next(lacking, last.wot or next(iter(last.runs), None))
    return rows_of.get(run.row, 0) if run else 0


def _lacks(run: RunResult, field: str) -> bool:
    return getattr(run.run, field) in (None, "", NOT_SAID, "not seen")
