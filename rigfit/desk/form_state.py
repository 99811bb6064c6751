"""From the texts of the form to a job, its messages and its report: one pure function.

``derive`` never raises, whatever is typed. The job it gives can always be written to a file and
read back; what could not go into it is named, and stays in the draft.
"""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Any

from rigfit.desk.draft import (
    FIELDS,
    GROUP_KEYS,
    LIST_FIELDS,
    NO_PROFILES,
    RECORDS,
    Address,
    Draft,
    Row,
)
from rigfit.desk.row_names import row_name
from rigfit.errors import EntryError, JobError, RigfitError
from rigfit.records.field_values import bare_units, field_defaults, is_blank, value_of
from rigfit.records.plain_words import echo as quoted
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.fit_check import completed, fit_check, slow_findings
from rigfit.rigging.job import Job
from rigfit.rigging.readings import FieldSpec, Reading
from rigfit.rigging.report import EngineReport
from rigfit.units import BASE_UNIT, IN_METRIC, METRIC, BareUnits, Shown, show

__all__ = ["Address", "Derived", "Draft", "LeftOut", "derive", "echo"]

_logger = logging.getLogger(__name__)

_LONGEST_KEPT = 200  # longer texts are answered at once anyway, and must not fill the memory
_CHOSEN = Address("mounting", "engine")
_DECISIONS = MappingProxyType(
    {
        f"{address.table}, {address.field}": address
        for address in (Address("mounting", "row"), Address("mounting", "bracket_setting"))
    }
)
"""Decisions a report can do without, by the place a ``JobError`` names."""

_NO_ENGINE = "There is no engine yet; add one to see whether it fits."
_UNFORESEEN = (
    "rigfit could not work this out, which is a fault of rigfit; nothing typed is lost. "
    "Take back the last change and report what was typed."
)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Something typed that could not go into the job, nor into its file.

    :param address: the field; an empty ``field`` means the whole engine or hole.
    :param sentence: which it is and why, for the user.
    """

    address: Address
    sentence: str


@dataclass(frozen=True)
class Derived:
    """What follows from a draft. Not slotted: the other engines' reports are cached on it.

    :param draft: what it follows from.
    :param catalogue: the profiles it was worked out with.
    :param job: all that can be understood; a field with a message counts as not filled in, and an
        engine or hole without its required fields is not in it.
    :param messages: a sentence for each field that cannot be read, is outside its limits or
        contradicts another.
    :param missing: a sentence for each blank field without which its engine or hole cannot count.
    :param left_out: what was typed but is not in the job.
    :param trouble: what is wrong with the job as a whole, or why there is no report; "" if nothing.
    :param engine_id: the engine of ``report``; "" when there is none.
    :param report: the report on it; where the chosen row or the setting of the bracket does not
        exist, as if none was chosen.
    :param waits: True while the slow findings of the report are those of the report before.
    :param engine_places: index in the draft of each engine of the job.
    :param hole_places: index in the draft of each hole of the job.
    """

    draft: Draft
    catalogue: Catalogue
    job: Job
    messages: Mapping[Address, str]
    missing: Mapping[Address, str]
    left_out: tuple[LeftOut, ...]
    trouble: str
    engine_id: str
    report: EngineReport | None
    engine_places: tuple[int, ...]
    hole_places: tuple[int, ...]
    waits: bool = False

    def completed(self) -> Derived:
        """Return it with everything worked out; the same where nothing waits."""
        if not self.waits or self.report is None:
            return self
        return replace(self, report=_completed(self.report), waits=False)

    @cached_property
    def reports(self) -> tuple[EngineReport, ...]:
        """Reports on all engines of the job that can be checked; worked out when first asked."""
        found = (
            self.completed().report
            if item.id == self.engine_id
            else _check(self.job, self.catalogue, item.id).report
            for item in self.job.engines
        )
        return tuple(report for report in found if report is not None)


def derive(
    draft: Draft, catalogue: Catalogue, engine_id: str = "", before: EngineReport | None = None
) -> Derived:
    """Return everything that follows from a draft; raises nothing, whatever was typed.

    :param engine_id: the engine to report on; "" for the chosen one, or the first that counts.
    :param before: the report so far; what is slow to find stays as it is there, and the result
        ``waits`` to be ``completed``. None to work out everything.
    """
    run = _Run(draft, catalogue)
    parts: dict[str, Any] = {"units": run.record("units", draft.rows("units")[0])}
    run.bare = bare_units(parts["units"].entries)
    for key in GROUP_KEYS:
        if key != "units":
            parts[key] = run.record(key, draft.rows(key)[0])
    places: dict[str, tuple[int, ...]] = {}
    for key, attribute in LIST_FIELDS.items():
        places[key], parts[attribute] = run.items(key)
    job = run.consistent(parts)
    wanted = engine_id or job.mounting.engine or (job.engines[0].id if job.engines else "")
    if before is not None and not _can_wait(before, wanted):
        before = None
    checked = _report_on(run, job, wanted, before)
    run.messages.update(checked.messages)
    return Derived(
        draft=draft,
        catalogue=catalogue,
        job=job,
        messages=MappingProxyType(run.messages),
        missing=MappingProxyType(run.missing),
        left_out=tuple(run.left_out),
        trouble=run.trouble or checked.trouble,
        engine_id=wanted if checked.report is not None else "",
        report=checked.report,
        engine_places=places["engine"],
        hole_places=places["hole"],
        waits=before is not None and checked.report is not None,
    )


def _can_wait(before: EngineReport, wanted: str) -> bool:
    """Tell whether a report on the engine has findings that may stay as they are for a moment."""
    return before.case.candidate.id == wanted and bool(slow_findings(before))


@dataclass
class _Run:
    """What is gathered while one draft is read."""

    draft: Draft
    catalogue: Catalogue
    bare: BareUnits = METRIC
    messages: dict[Address, str] = field(default_factory=dict)
    missing: dict[Address, str] = field(default_factory=dict)
    left_out: list[LeftOut] = field(default_factory=list)
    trouble: str = ""

    def record(self, table: str, row: Row, index: int = -1) -> Any:
        """Return the record of a row; fields that cannot be read get a message."""
        values = field_defaults(RECORDS[table])
        for (name, spec), text in zip(FIELDS[table], row, strict=True):
            if not text or is_blank(text):
                continue
            value, problem = _value(text, spec, table, name, self)
            if problem:
                address = Address(table, name, index)
                self.messages[address] = problem
                self.leave_out(address, f"{spec.label}: {problem}")
            else:
                values[name] = value
        return RECORDS[table](**values)

    def items(self, table: str) -> tuple[tuple[int, ...], tuple[Any, ...]]:
        """Return the engines or holes that have all they need, with their places in the draft."""
        found: list[tuple[int, Any]] = []
        ids: set[str] = set()
        for index, row in enumerate(self.draft.rows(table)):
            item = self.record(table, row, index)
            if self._is_whole(table, row, index, item) and self._is_single(table, index, item, ids):
                found.append((index, item))
        return tuple(index for index, _ in found), tuple(item for _, item in found)

    def _is_whole(self, table: str, row: Row, index: int, item: Any) -> bool:
        wanting = [
            (name, spec)
            for name, spec in FIELDS[table]
            if spec.required and getattr(item, name) in (None, "")
        ]
        place = self.name_of(table, index)
        for name, spec in wanting:
            address = Address(table, name, index)
            if address not in self.messages:
                self.missing[address] = (
                    f"Fill in the {spec.label}: without it {place} does not count."
                )
        if wanting and any(text.strip() for text in row):
            labels = " and ".join(spec.label for _, spec in wanting)
            self.leave_out(Address(table, "", index), f"it lacks the {labels}.")
        return not wanting

    def _is_single(self, table: str, index: int, item: Any, ids: set[str]) -> bool:
        """Tell whether no engine before has its id; the second of one id gets a message."""
        if table != "engine":
            return True
        if item.id not in ids:
            ids.add(item.id)
            return True
        try:
            Job(engines=(item, item))  # says it in the words of a file with that fault
        except JobError as error:
            self.messages[Address("engine", "id", index)] = _plain(error)
            self.trouble = self.trouble or error.sentence()
            self.leave_out(Address("engine", "", index), _plain(error))
        return False

    def consistent(self, parts: dict[str, Any]) -> Job:
        """Return the job; a chosen engine that is not in it gets a message and is not chosen."""
        try:
            return Job(**parts)
        except JobError as error:
            chosen = parts["mounting"].engine
            lacks = f"the chosen engine {quoted(chosen)} does not count yet; fill in what it lacks."
            is_there = self.draft.engine_index(chosen) >= 0
            self.messages[_CHOSEN] = lacks if is_there else _plain(error)
            self.trouble = self.trouble or (lacks if is_there else error.sentence())
            self.leave_out(_CHOSEN, f"{_CHOSEN.spec.label}: {self.messages[_CHOSEN]}")
        return Job(**{**parts, "mounting": replace(parts["mounting"], engine="")})

    def leave_out(self, address: Address, why: str) -> None:
        """Note that something typed is not in the job; ``why`` follows the name of its table."""
        name = self.name_of(address.table, address.index)
        joint = ", " if address.field else " is left out: "
        self.left_out.append(LeftOut(address, f"{name}{joint}{why}" if name else why))

    def name_of(self, table: str, index: int) -> str:
        """Return how an engine or hole is called in a sentence; "" for the boat's own tables."""
        if index < 0:
            return ""
        names = [name for name, _ in FIELDS[table] if name in ("id", "name")]
        called = self.draft.text(Address(table, names[0], index)).strip() if names else ""
        return f"{row_name(table)} {quoted(called) if called else index + 1}"


def _value(text: str, spec: FieldSpec, table: str, name: str, run: _Run) -> tuple[Any, str]:
    """Return what a text means and "", or None and why it cannot be read."""
    if spec.kind is not None and len(text) <= _LONGEST_KEPT:
        return _number(text, table, name, run.bare)
    return _read(text, spec, run.bare, run.catalogue)


@lru_cache(maxsize=8192)
def _number(text: str, table: str, name: str, bare: BareUnits) -> tuple[Any, str]:
    return _read(text, Address(table, name).spec, bare, NO_PROFILES)


def _read(text: str, spec: FieldSpec, bare: BareUnits, catalogue: Catalogue) -> tuple[Any, str]:
    try:
        return value_of(text, spec, bare, catalogue), ""
    except EntryError as error:
        return None, error.sentence()


def _plain(error: RigfitError) -> str:
    """Return an error's sentence without its place, for use at the place itself."""
    return type(error)(error.problem, allowed=error.allowed, cure=error.cure).sentence()


@dataclass(frozen=True, slots=True)
class _Checked:
    """What a check gave: the report or None, what is wrong in words, a message for each field."""

    report: EngineReport | None
    trouble: str = ""
    messages: Mapping[Address, str] = field(default_factory=dict)


def _report_on(run: _Run, job: Job, engine_id: str, before: EngineReport | None) -> _Checked:
    """Return the report on an engine, or why there is none."""
    if any(item.id == engine_id for item in job.engines):
        return _check(job, run.catalogue, engine_id, before)
    index = run.draft.engine_index(engine_id) if engine_id else min(0, len(run.draft.engines) - 1)
    if index < 0:
        return _Checked(None, _unknown_engine(job, engine_id) if engine_id else _NO_ENGINE)
    faults = {**run.missing, **run.messages}.items()
    its_own = (text for at, text in faults if (at.table, at.index) == ("engine", index))
    return _Checked(None, next(its_own, "") or _unknown_engine(job, engine_id))


def _unknown_engine(job: Job, engine_id: str) -> str:
    try:
        job.engine(engine_id)
    except JobError as error:
        return error.sentence()
    return ""


def _completed(report: EngineReport) -> EngineReport:
    try:
        return completed(report)
    except Exception:
        # As in ``_check``; what is known so far stays.
        _logger.exception("a slow check failed on engine %r", report.case.candidate.id)
        return report


def _check(
    job: Job, catalogue: Catalogue, engine_id: str, before: EngineReport | None = None
) -> _Checked:
    """Check an engine; a row or setting that is not there gets a message and is passed over."""
    faults: dict[Address, RigfitError] = {}
    report = None
    while report is None:
        try:
            report = fit_check(job, catalogue, engine_id, before=before)
        except RigfitError as error:
            address = _DECISIONS.get(error.where)
            if address is None or address in faults:
                return _Checked(None, error.sentence())
            faults[address] = error
            cleared: dict[str, Any] = {address.field: None}
            job = replace(job, mounting=replace(job.mounting, **cleared))
        except Exception:
            # The form must go on whatever happens inside a check; the log has the details.
            _logger.exception("a check failed on engine %r", engine_id)
            return _Checked(None, _UNFORESEEN)
    trouble = next((error.sentence() for error in faults.values()), "")
    return _Checked(report, trouble, {address: _plain(error) for address, error in faults.items()})


def echo(address: Address, text: str, entries: str = "metric", shown: Shown = IN_METRIC) -> str:
    """Return what rigfit understands a text to mean ("518 mm (usual ± 3 mm)").

    :param entries: "metric" or "inch", the unit of a number typed without one.
    :param shown: how lengths are shown.
    :returns: "" for a text or choice, and where nothing can be read.
    :raises KeyError: when there is no such field.
    """
    spec = address.spec
    if spec.kind is None or is_blank(text):
        return ""
    value = _read(text, spec, bare_units(entries), NO_PROFILES)[0]
    if not isinstance(value, Reading):
        return ""
    words = show(value.value, spec.kind, shown)
    exact, unit = f"{value.value:.10g}", BASE_UNIT[spec.kind]
    # What was typed in the unit it is shown in is not rounded, or it would look misread.
    if exact in value.typed and words.endswith(f" {unit}"):
        words = f"{exact} {unit}"
    return _with_tolerance(words, value, unit)


def _with_tolerance(words: str, value: Reading, unit: str) -> str:
    if not value.tolerance_typed and not value.tolerance:
        return words
    tolerance = f"± {value.tolerance:.3g}" + ("°" if unit == "deg" else f" {unit}")
    inside = words.endswith(")")  # millimetres stand in brackets behind the inches
    if value.tolerance_typed:
        return f"{words[:-1]} {tolerance})" if inside else f"{words} {tolerance}"
    return f"{words[:-1]}, usual {tolerance})" if inside else f"{words} (usual {tolerance})"
