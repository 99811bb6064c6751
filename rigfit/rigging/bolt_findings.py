"""What the checks of bolts and backing share: the profiles a job names, and findings that wait."""

from __future__ import annotations

from rigfit.rigging.bolting import label_of
from rigfit.rigging.case import Case
from rigfit.rigging.fasteners import Bolt, BoltGrade, Core
from rigfit.rigging.findings import Amount, Finding, Verdict, listed, phrase
from rigfit.units import Kind


def waiting(case: Case, code: int, title: str, source: str, names: tuple[str, ...]) -> Finding:
    """Return the finding that waits for some fields, all named."""
    labels = [label_of(name) for name in names]
    zero = [label_of(name) for name in names if _is_typed_zero(case, name)]
    text = "Not known: {listed}." + (" A thickness of 0 says nothing." if zero else "")
    return Finding(
        code=code,
        subject=case.candidate.id,
        title=title,
        verdict=Verdict.UNKNOWN,
        sentence=phrase(text, listed=listed(labels)),
        source=source,
        needs=names,
        settle=phrase("Fill in: {listed}.", listed=listed(labels)),
    )


def _is_typed_zero(case: Case, name: str) -> bool:
    group, _, key = name.partition(".")
    return group == "bolting" and getattr(case.job.bolting, key) not in (None, "")


def bolt_of(case: Case) -> Bolt | None:
    """Return the bolt the job names, or None; raises ``ProfileError`` for one nobody knows."""
    key = case.job.bolting.bolt
    return case.catalogue.bolt(key) if key else None


def grade_of(case: Case) -> BoltGrade | None:
    """Return the grade the job names, or None; raises ``ProfileError`` for one nobody knows."""
    key = case.job.bolting.grade
    return case.catalogue.bolt_grade(key) if key else None


def core_of(case: Case) -> Core | None:
    """Return the core the job names, or None; raises ``ProfileError`` for one nobody knows."""
    key = case.job.bolting.core
    return case.catalogue.core(key) if key else None


def kilonewtons(force_n: float) -> str:
    """Return a force as it is said: "12.5 kN"."""
    return f"{force_n / 1000.0:.1f} kN"


def megapascals(stress_mpa: float) -> str:
    """Return a pressure as it is said: "5.5 MPa", whole from 20 up."""
    return f"{stress_mpa:.0f} MPa" if stress_mpa >= 20.0 else f"{stress_mpa:.1f} MPa"


def torque_amount(value_nm: float) -> Amount:
    """Return a torque, N·m, as an amount for a sentence."""
    return Amount(value_nm, Kind.TORQUE)


def no_pattern(case: Case, code: int, title: str) -> Finding:
    """Return the finding for an engine that clamps on, whose bolt holes nobody knows."""
    return Finding(
        code=code,
        subject=case.candidate.id,
        title=title,
        verdict=Verdict.UNKNOWN,
        sentence=phrase("Where this engine's bolts sit is not known."),
        source="class",
        needs=("engine.engine_class",),
        settle=phrase("Trace the bolt holes from the engine's own clamp bracket."),
    )
