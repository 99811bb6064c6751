"""What the tests of holes build: old holes, openings and places inside, and their mirror images."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from rigfit.records.profiles import load_catalogue
from rigfit.rigging.case import Case
from rigfit.rigging.hole_fit import BoltSize, NewHole
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.job import ExistingHole, Job
from rigfit.rigging.readings import Reading
from rigfit.rigging.transom_map import NoGo, Opening
from tests.builders import CATALOGUE, HOLE_RULE, reading, sample_job

RULE = HOLE_RULE
BOLT = BoltSize(12.7, is_firm=True)
FASTENERS = replace(
    CATALOGUE, bolts=load_catalogue().bolts, washers=load_catalogue().washers
)  # fmt: skip
HALVES = ((-163.5, 48.0), (163.5, 48.0), (-125.5, 251.0), (125.5, 251.0))
"""Where the holes of the sample engine go, with its upper holes 48 mm below the top."""


def old(
    across: float, below: float, diameter: float = 13.5, tol: float = 1.0, name: str = ""
) -> ExistingHole:
    return ExistingHole(name, reading(across, tol), reading(below, tol), reading(diameter, tol))


def opening(
    across: float, below: float, width: float, height: float | None = None, kind: str = "drain"
) -> Opening:
    tall = None if height is None else reading(height, 1.0)
    return Opening(
        "", kind, reading(across, 3.0), reading(below, 3.0), reading(width, 1.0), tall
    )  # fmt: skip


def no_go(
    left: float, right: float, top: float, bottom: float, radius: float = 0.0, name: str = "knee"
) -> NoGo:
    edges = (reading(value, 3.0) for value in (left, right, top, bottom))
    return NoGo(name, "knee", *edges, reading(radius, 3.0))


def new(across: float = 0.0, below: float = 100.0, size: float = 13.5, tol: float = 0.0) -> NewHole:
    return NewHole(Feature("new", across, below, size), tol, tol)


def patterned(shift: float = 0.0, down: float = 0.0, **changes: float) -> tuple[ExistingHole, ...]:
    """Return old holes just where the sample engine wants them, all moved alike."""
    return tuple(old(x + shift, y + down, **changes) for x, y in HALVES)


def hole_case(**changes: object) -> Case:
    """Return the case of the sample job with changes, on a catalogue with bolts and washers."""
    job = sample_job(**changes)
    return Case(job, FASTENERS, job.engines[0])


def mirrored(job: Job) -> Job:
    """Return a job with everything swapped from port to starboard."""
    return replace(
        job,
        holes=tuple(replace(item, across=_turned(item.across)) for item in job.holes),
        openings=tuple(replace(item, across=_turned(item.across)) for item in job.openings),
        no_go=tuple(
            replace(item, across_from=_turned(item.across_to), across_to=_turned(item.across_from))
            for item in job.no_go
        ),
        mounting=replace(job.mounting, off_centre=_turned(job.mounting.off_centre)),
        neighbour=replace(
            job.neighbour, kicker_across=_turned(job.neighbour.kicker_across)
        ),
    )  # fmt: skip


def _turned(value: Reading | None) -> Reading | None:
    return None if value is None else replace(value, value=-value.value, typed="")


@st.composite
def old_hole(draw: st.DrawFn) -> ExistingHole:
    """Any old hole: often just beside where a bolt of the sample engine goes."""
    x, y = draw(st.sampled_from(HALVES))
    reach = draw(st.sampled_from((0.5, 3.0, 40.0)))
    across = x + draw(st.floats(-reach, reach))
    below = max(0.0, y + draw(st.floats(-reach, reach)))
    size = draw(st.sampled_from((13.5, 13.5, 12.7, 14.0, 6.0, 25.0)))
    return old(across, below, size, draw(st.sampled_from((0.0, 1.0))))


@st.composite
def hole_jobs(draw: st.DrawFn) -> Job:
    """Sample jobs with old holes, openings and places inside near the new holes."""
    return sample_job(
        holes=tuple(draw(st.lists(old_hole(), max_size=6))),
        openings=tuple(
            opening(
                draw(st.floats(-300.0, 300.0)),
                draw(st.floats(20.0, 400.0)),
                draw(st.floats(5.0, 90.0)),
                draw(st.none() | st.floats(5.0, 90.0)),
            )
            for _ in range(draw(st.integers(0, 2)))
        ),
        no_go=tuple(
            no_go(left, left + draw(st.floats(5.0, 200.0)), top, top + 200.0, radius)
            for left, top, radius in draw(
                st.lists(
                    st.tuples(
                        st.floats(-300.0, 200.0), st.floats(30.0, 300.0), st.floats(0.0, 80.0)
                    ),
                    max_size=2,
                )
            )
        ),
        mounting__off_centre=reading(draw(st.floats(-20.0, 20.0)), 0.0),
    )
