"""Jobs with a hull and heights read afloat, for the tests of flotation."""

from __future__ import annotations

from typing import Any

from rigfit.rigging.afloat import Flotation, flotation_of
from rigfit.rigging.case import Case
from rigfit.rigging.hull_fields import Afloat, Hull, WaterMark
from rigfit.rigging.hull_form import FewMeasures
from rigfit.rigging.job import Job
from tests.builders import case_of, changed, reading, sample_job

FEW = FewMeasures(5_200.0, 1_650.0, 1_600.0, 1_950.0, 230.0, 280.0, 620.0, 700.0, 980.0)

HULL = Hull(
    chine_beam=reading(1650.0, 10.0),
    sheer_beam=reading(1950.0, 10.0),
    chine_height_aft=reading(230.0, 5.0),
    deadrise_amidships=reading(19.0, 1.0),
    depth_aft=reading(620.0, 5.0),
    depth_amidships=reading(700.0, 5.0),
    depth_bow=reading(980.0, 10.0),
)

AFLOAT = Afloat(
    transom_top=reading(300.0, 5.0),
    bow=reading(730.0, 5.0),
    scupper=reading(140.0, 5.0),
    engine_mass=reading(118.0, 2.0),
)

MARKS = (
    WaterMark("cable opening", "rigging opening", below_top=reading(100.0, 3.0)),
    WaterMark("sole", "sole", height=reading(360.0, 5.0), ahead=reading(800.0, 20.0)),
)


def afloat_job(**changes: Any) -> Job:
    """Return the sample job with hull, heights afloat and two marks; changes as ``sample_job``."""
    return changed(sample_job(hull=HULL, afloat=AFLOAT, marks=MARKS), **changes)


def afloat_case(**changes: Any) -> Case:
    """Return the first engine of such a job."""
    return case_of(afloat_job(**changes))


def floated(**changes: Any) -> Flotation:
    """Return how such a boat floats; fails where it does not."""
    found = flotation_of(afloat_case(**changes))
    assert isinstance(found, Flotation), found
    return found
