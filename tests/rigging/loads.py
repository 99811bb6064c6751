"""Jobs with a capacity plate, rule facts and masses, for the tests of power and load."""

from __future__ import annotations

from typing import Any

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Finding
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.load_fields import CapacityPlate, MassItem, OldEngine, RuleFacts
from rigfit.rigging.readings import Origin, Reading
from tests.builders import CATALOGUE, changed, reading, sample_job

HP = 0.745699872


def hp(value: float) -> Reading:
    """Return a power in horsepower, as an engine's plate states it."""
    return reading(value * HP, 0.0, Origin.STATED)


def plate(**changes: Any) -> CapacityPlate:
    """Return a plate of 100 hp, 650 kg and 5 persons of 400 kg, in the US."""
    figures: dict[str, Any] = {
        "country": "US",
        "max_power": reading(100.0 * HP),
        "max_load": reading(650.0),
        "max_persons_mass": reading(400.0),
        "max_persons": 5,
    }
    return CapacityPlate(**(figures | changes))


def facts(**changes: Any) -> RuleFacts:
    """Return everything 183.53 asks of a vee bottom with a wheel and a 20 1/2 in transom."""
    known: dict[str, Any] = {
        "craft": "monohull",
        "transom_width": reading(1850.0, 5.0),
        "beam": reading(2050.0, 5.0),
        "transom_height": reading(520.7, 3.0),
        "remote_steering": "yes",
        "flat_bottom_hard_chine": "no",
    }
    return RuleFacts(**(known | changes))


def crew(kg: float = 160.0, persons: int | None = 2, **changes: Any) -> MassItem:
    """Return some people amidships."""
    places = {"ahead_of_transom": reading(1600.0, 50.0), "above_keel": reading(600.0, 50.0)}
    return MassItem("hands", "crew", reading(kg, 2.0), persons, **(places | changes))


def tank(litres: float = 60.0, **changes: Any) -> MassItem:
    """Return a portable fuel tank, half full."""
    known: dict[str, Any] = {
        "volume": reading(litres, 1.0),
        "level": reading(0.5, 0.05),
        "tank": "portable",
        "ahead_of_transom": reading(900.0, 50.0),
        "above_keel": reading(300.0, 50.0),
    }
    return MassItem("red tank", "fuel tank", **(known | changes))


def load_job(**changes: Any) -> Job:
    """Return the sample job with a plate, every fact, an old engine, two people and fuel.

    The engine has 80 hp and weighs 165 kg; for the names of changes see ``sample_job``.
    """
    job = sample_job(
        engine__power=hp(80.0),
        plate=plate(),
        rules=facts(kill_switch="yes", steering_duty="standard"),
        old_engine=OldEngine(mass=reading(118.0, 2.0)),
        masses=(crew(), tank()),
    )
    return changed(job, **changes)


def case(**changes: Any) -> Case:
    """Return the first engine of ``load_job`` on its boat."""
    job = load_job(**changes)
    return Case(job, CATALOGUE, job.engines[0])


def found(**changes: Any) -> dict[int, Finding]:
    """Return the 5xx findings on ``load_job`` by code."""
    report = fit_check(load_job(**changes), CATALOGUE)
    return {item.code: item for item in report.findings if 500 <= item.code < 600}
