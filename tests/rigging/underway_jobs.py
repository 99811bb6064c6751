"""Jobs with a boat under way, for the tests of planing in a job."""

from __future__ import annotations

from typing import Any

from rigfit.rigging.case import Case
from rigfit.rigging.hull_fields import Hull
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin
from rigfit.rigging.underway import UnderwayResult, underway_of
from rigfit.rigging.underway_fields import Propeller, Underway
from tests.builders import case_of, changed, reading, sample_job

HULL = Hull(chine_beam=reading(1650.0, 10.0))

UNDERWAY = Underway(
    mass=reading(950.0, 20.0),
    centre_ahead=reading(1750.0, 40.0),
    centre_height=reading(520.0, 60.0),
    speed=reading(24.0, 0.0, Origin.CHOSEN),
    plate_angle=reading(0.0, 0.5, Origin.CHOSEN),
    efficiency=reading(0.55, 0.03, Origin.CHOSEN),
    hull_type="runabout",
)

PROPELLER = Propeller(
    pitch=reading(17.0 * 25.4, 0.0, Origin.STATED),
    diameter=reading(336.6, 0.0, Origin.STATED),
    blades=3,
)


def underway_job(**changes: Any) -> Job:
    """Return the sample job, fully measured for the way; changes as ``sample_job``."""
    engine = {
        "engine__power": reading(59.7, 0.0, Origin.STATED),
        "engine__gear_ratio": reading(2.15, 0.0, Origin.STATED),
        "engine__wot_low": reading(5000.0, 0.0, Origin.STATED),
        "engine__wot_high": reading(6000.0, 0.0, Origin.STATED),
    }
    job = sample_job(hull=HULL, underway=UNDERWAY, propeller=PROPELLER, **engine)
    return changed(job, **changes) if changes else job


def underway_case(**changes: Any) -> Case:
    """Return the first engine of such a job."""
    return case_of(underway_job(**changes))


def running(**changes: Any) -> UnderwayResult:
    """Return how such a boat runs; fails where something is lacking."""
    found = underway_of(underway_case(**changes))
    assert isinstance(found, UnderwayResult), found
    return found
