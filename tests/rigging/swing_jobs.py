"""Jobs with a well, obstacles and a fully measured engine, for the tests of the swing."""

from __future__ import annotations

from rigfit.rigging.well_fields import Obstacle, Steering, Trailer, Well
from tests.builders import changed, reading, sample_job

FULL_ENGINE = {
    "engine__cowl_length": reading(740.0, 3.0),
    "engine__cowl_breadth": reading(460.0, 3.0),
    "engine__cowl_top_above_seat": reading(600.0, 3.0),
    "engine__cowl_front_ahead_of_seat": reading(170.0, 3.0),
    "engine__skeg_below_plate": reading(360.0, 3.0),
    "engine__lock_angle": reading(32.0, 1.0),
    "engine__full_tilt": reading(80.0, 1.0),
    "engine__trim_in": reading(8.0, 1.0),
    "engine__tilt_axis_out": reading(-20.0, 3.0),
    "engine__tilt_axis_up": reading(60.0, 3.0),
}


def roomy_well(**changes) -> Well:
    made = {
        "length": reading(620.0, 3.0),
        "width": reading(900.0, 3.0),
        "floor_below_top": reading(230.0, 3.0),
        "front_top": reading(60.0, 3.0),
        "corner_radius": reading(60.0, 3.0),
    }
    return Well(**{**made, **changes})


def box(name="seat", kind="seat back", ahead=(700.0, 900.0), above=(-100.0, 250.0), across=None):
    sides = (None, None) if across is None else (reading(across[0], 3.0), reading(across[1], 3.0))
    return Obstacle(
        name=name,
        kind=kind,
        ahead_from=reading(ahead[0], 3.0),
        ahead_to=reading(ahead[1], 3.0),
        above_from=reading(above[0], 3.0),
        above_to=reading(above[1], 3.0),
        across_from=sides[0],
        across_to=sides[1],
    )


def gear(**changes) -> Steering:
    made = {
        "kind": "rod through tilt tube",
        "half_travel": reading(88.9, 2.0),
        "arm_radius": reading(215.9, 2.0),
        "tube_end": reading(150.0, 2.0),
        "beyond_tube": reading(100.0, 3.0),
        "withdrawal": reading(240.0, 5.0),
        "hose_radius": reading(260.0, 5.0),
    }
    return Steering(**{**made, **changes})


TRAILER = Trailer(
    heel_above_ground=reading(480.0, 5.0),
    axle_to_transom=reading(1100.0, 10.0),
    departure_wanted=reading(10.0),
)


def swing_job(**changes):
    """Return the Dunlin with a roomy well and everything about the engine's swing measured."""
    return changed(sample_job(well=roomy_well(), **FULL_ENGINE), **changes)
