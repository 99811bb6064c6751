"""All checks on one engine, in the order one works at the boat.

To add a check: write ``check_something(case) -> tuple[Finding, ...]`` in the module of its band,
put it in ``CHECKS`` below, and test that it is ``unknown`` without its measurement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from rigfit.errors import JobError
from rigfit.rigging.afloat import is_entered
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.checks_bolts import check_bolts
from rigfit.rigging.checks_dash import check_dash
from rigfit.rigging.checks_flotation import check_flotation
from rigfit.rigging.checks_height import (
    check_leg,
    check_leg_class,
    check_off_centre,
    check_plate,
    check_plate_range,
    check_setback,
)
from rigfit.rigging.checks_hole_fit import hole_findings
from rigfit.rigging.checks_holes import check_lower_holes, check_pattern, check_upper_holes
from rigfit.rigging.checks_load import check_engine_weight, check_load
from rigfit.rigging.checks_masses import check_masses
from rigfit.rigging.checks_measurements import (
    check_keel_line,
    check_rake,
    check_transom_height,
)
from rigfit.rigging.checks_power import (
    check_kill_switch,
    check_power_plate,
    check_power_rule,
    check_steering_duty,
)
from rigfit.rigging.checks_power import not_looked_at as power_not_looked_at
from rigfit.rigging.checks_runs import check_runs
from rigfit.rigging.checks_swing import check_swing
from rigfit.rigging.checks_swing import not_looked_at as swing_not_looked_at
from rigfit.rigging.checks_trial import check_trial
from rigfit.rigging.checks_trial import not_looked_at as trial_not_looked_at
from rigfit.rigging.checks_underway import check_underway
from rigfit.rigging.drilling import drilling_choices
from rigfit.rigging.findings import Finding
from rigfit.rigging.hole_fit import hole_fit
from rigfit.rigging.hole_reuse import reuse_choices
from rigfit.rigging.job import Job
from rigfit.rigging.mounting_options import (
    HeightOption,
    best_option,
    chosen_setting_mm,
    height_options,
    plate_ranges,
)
from rigfit.rigging.printer import check_printed_template
from rigfit.rigging.report import EngineReport
from rigfit.rigging.underway import not_looked_at as underway_not_looked_at

Check = Callable[[Case], tuple[Finding, ...]]

CHECKS: tuple[Check, ...] = (
    check_transom_height,
    check_keel_line,
    check_rake,
    check_leg,
    check_leg_class,
    check_setback,
    check_off_centre,
    check_upper_holes,
    check_lower_holes,
    check_pattern,
    check_power_plate,
    check_power_rule,
    check_load,
    check_engine_weight,
    check_kill_switch,
    check_steering_duty,
    check_masses,
    check_bolts,
    check_dash,
    check_runs,
    check_flotation,
    check_printed_template,
    check_swing,
    check_underway,
    check_trial,
)
"""Checks that need the case only; those on the list of heights are called in ``fit_check``."""

SLOW: tuple[Check, ...] = (check_flotation, check_swing, check_underway)
"""Checks that cost more than all others together; while somebody types they can be put off."""

_SLOW_CODES = frozenset((*range(400, 410), *range(510, 520), *range(600, 610)))


def fit_check(
    job: Job, catalogue: Catalogue, engine_id: str = "", *, before: EngineReport | None = None
) -> EngineReport:
    """Return everything rigfit finds on one engine of the job.

    :param engine_id: the candidate; "" for the chosen one, or the first.
    :param before: an earlier report on the same engine; what ``SLOW`` found then is kept as it was,
        until ``completed`` works it out. None to work out everything.
    :raises JobError: when the job has no engine, no such engine, or a row the engine lacks.
    :raises ProfileError: when the job names a profile that does not exist.
    """
    case = Case(job, catalogue, job.engine(engine_id or default_engine(job)))
    options = height_options(case)
    decided = _decided(case, options)
    mounted = decided or best_option(case, options)
    ranges = plate_ranges(case, options)
    holes = hole_fit(case)
    checks = [check for check in CHECKS if before is None or check not in SLOW]
    findings = [finding for check in checks for finding in check(case)]
    findings += slow_findings(before) if before is not None else ()
    findings += check_plate(case, options, mounted, chosen=decided is not None)
    findings += check_plate_range(case, options, ranges)
    findings += hole_findings(case, holes)
    bare = job.mounting.upper_holes_below_top is None
    drilling = drilling_choices(case) if bare else ()
    return EngineReport(
        case=case,
        findings=_worst_first(findings),
        options=options,
        mounted=mounted,
        is_chosen=decided is not None,
        ranges=ranges,
        drilling=drilling,
        holes=holes,
        reuse=reuse_choices(case, options, drilling, holes.old if holes else None),
        not_looked_at=not_looked_at(case),
    )


def slow_findings(report: EngineReport) -> tuple[Finding, ...]:
    """Return what ``SLOW`` found in a report."""
    return tuple(finding for finding in report.findings if finding.code in _SLOW_CODES)


def completed(report: EngineReport) -> EngineReport:
    """Return a report made with ``before``, now with everything worked out for its own case."""
    findings = [finding for finding in report.findings if finding.code not in _SLOW_CODES]
    findings += (finding for check in SLOW for finding in check(report.case))
    return replace(report, findings=_worst_first(findings))


def _worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda finding: (-finding.verdict.rank, finding.code)))


def not_looked_at(case: Case) -> tuple[str, ...]:
    """Return what nobody entered anything about, in words.

    Of holes and bolts nothing is asked for an engine that clamps on. A job without an old hole may
    be a transom that was never drilled, or one nobody looked at: rigfit cannot tell them apart, and
    says so instead of passing it.
    """
    rest: tuple[str, ...] = ("swing of the engine",) if swing_not_looked_at(case) else ()
    rest += power_not_looked_at(case)
    if not is_entered(case):
        rest += ("how she floats",)
    rest += underway_not_looked_at(case)
    rest += trial_not_looked_at(case)
    if not case.transom_pattern.is_bolted:
        return rest
    job = case.job
    asked = (
        ("old holes", bool(job.holes)),
        ("openings and places inside", bool(job.openings or job.no_go)),
        ("bolts and backing", job.bolting != Bolting()),
    )
    return (*(words for words, is_known in asked if not is_known), *rest)


def default_engine(job: Job) -> str:
    """Return the chosen engine's id, or the first one's; raises ``JobError`` without any."""
    if job.mounting.engine:
        return job.mounting.engine
    if not job.engines:
        raise JobError("the job has no engine", cure="add an [[engine]] table to the job file")
    return job.engines[0].id


def fit_check_all(job: Job, catalogue: Catalogue) -> tuple[EngineReport, ...]:
    """Return a report for every candidate, in the order of the job."""
    return tuple(fit_check(job, catalogue, candidate.id) for candidate in job.engines)


def _decided(case: Case, options: tuple[HeightOption, ...]) -> HeightOption | None:
    """Return the height the job has decided on for this engine, or None."""
    mounting = case.job.mounting
    if mounting.row is None or mounting.engine not in ("", case.candidate.id):
        return None
    if mounting.engine == "" and len(case.job.engines) > 1:
        return None
    rows = len(case.pattern.upper_rows_mm)
    if case.pattern.is_bolted and not 1 <= mounting.row <= rows:
        raise JobError(
            f"row {mounting.row} is chosen but the bracket of engine {case.candidate.id} has "
            f"{rows} rows",
            allowed=f"1 to {rows}",
            cure="choose a row that exists",
            where="mounting, row",
        )
    row = mounting.row if case.pattern.is_bolted else 0
    setting = chosen_setting_mm(case) or 0.0
    return next(item for item in options if (item.row, item.setting_mm) == (row, setting))
