"""What many tests build: readings, a small catalogue, a fully measured job, and random jobs.

Nothing here reads a profile file: the catalogue is made by hand, so that a test of the geometry
does not change when a shipped profile does. All its sizes are invented.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from hypothesis import strategies as st

from rigfit.rigging.bracket import Arms, TransomBracket
from rigfit.rigging.case import Case
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.hole_pattern import HolePattern, HoleRule
from rigfit.rigging.hull import HullKind
from rigfit.rigging.job import (
    GROUPS,
    Boat,
    Candidate,
    Job,
    KeelLine,
    Mounting,
    SetbackBracket,
    Target,
    Transom,
    Units,
)
from rigfit.rigging.outboard import EngineClass, EngineSizes
from rigfit.rigging.readings import Origin, Reading, specs

BOLTED, CLAMPED = "medium", "portable"
PLATE, STEPPED, POD = "plate", "plate-stepped", "pod"
VEE, NO_BAND = "planing-vee", "foil"


HOLE_RULE = HoleRule(
    id="default",
    name="any core",
    source="hole-ligament",
    old_enough_d=1.5,
    old_least_d=1.0,
    edge_enough_d=2.5,
    edge_least_d=1.0,
    pitch_enough_d=3.0,
    pitch_least_d=2.0,
    edge_source="hole-edges",
    play_mm=0.8,
    loose_mm=2.8,
    washer_d=3.0,
    drill_off_deg=1.0,
)


def reading(value: float, tol: float = 0.0, origin: Origin = Origin.MEASURED) -> Reading:
    """Return a reading as a user would have typed it."""
    return Reading(value, tol, origin, typed=f"{value:g}", tolerance_typed=True)


def sample_sizes(scale: float = 1.0) -> EngineSizes:
    """Return the outline sizes of an invented engine of some 90 hp, times ``scale``."""
    sizes = EngineSizes(
        cowl_length=740.0,
        cowl_height=480.0,
        cowl_breadth=460.0,
        cowl_bottom=120.0,
        cowl_forward=170.0,
        leg_breadth=170.0,
        leg_aft=270.0,
        plate_length=480.0,
        plate_aft=590.0,
        gearcase_length=560.0,
        gearcase_diameter=115.0,
        shaft_below_plate=165.0,
        skeg_below_plate=360.0,
        propeller_diameter=340.0,
        propeller_aft=430.0,
    )
    return EngineSizes(**{item.name: scale * getattr(sizes, item.name) for item in fields(sizes)})


def _engine(key: str, pattern: str, out: float, up: float, scale: float) -> EngineClass:
    return EngineClass(
        id=key,
        name=f"{key} engine",
        source="class",
        power_low_kw=40.0 * scale,
        power_high_kw=90.0 * scale,
        legs_mm=(508.0, 635.0),
        mass_low_kg=120.0 * scale,
        mass_high_kg=190.0 * scale,
        pattern=pattern,
        axis_out_mm=out,
        axis_up_mm=up,
        axis_tolerance_mm=40.0,
        leg_rake_deg=12.0,
        trim_in_deg=-4.0,
        trim_out_deg=16.0,
        tilt_deg=68.0,
        steering_lock_deg=32.0,
        wot_low_rpm=5000.0,
        wot_high_rpm=6000.0,
        gear_ratio=2.1,
        sizes=sample_sizes(scale),
    )


def _bracket(key: str, **changes: Any) -> TransomBracket:
    plain = TransomBracket(
        id=key,
        name=f"{key} bracket",
        source="class",
        setback_mm=150.0,
        arms=Arms.SQUARE,
        height_mm=0.0,
        travel_mm=0.0,
        step_mm=0.0,
        engine_holes_mm=47.6,
        pattern="four-bolt",
        mass_kg=15.0,
    )
    return replace(plain, **changes)


def sample_catalogue() -> Catalogue:
    """Return a small catalogue made by hand: two of everything that matters."""
    patterns = (
        HolePattern(
            id="four-bolt",
            name="four bolts, four rows",
            source="hole-layout",
            upper_rows_mm=(50.8, 69.85, 88.9, 107.95),
            upper_spacing_mm=327.025,
            lower_below_upper_mm=203.2,
            lower_spacing_mm=250.825,
            hole_mm=13.5,
        ),
        HolePattern(id="clamp", name="clamp screws", source="class"),
    )
    hulls = (
        HullKind(
            id=VEE,
            name="planing vee bottom",
            source="plate-planing",
            datum="the keel at the transom",
            low_mm=0.0,
            high_mm=25.0,
            outer_low_mm=-25.0,
            outer_high_mm=50.0,
            outer_source="plate-planing",
        ),
        HullKind(id=NO_BAND, name="hull on foils", source="job", datum="the keel at the transom"),
    )
    brackets = (
        _bracket(PLATE, travel_mm=125.0),
        _bracket(STEPPED, setback_mm=102.0, travel_mm=76.2, step_mm=19.05),
        _bracket(POD, setback_mm=500.0, arms=Arms.LEVEL),
    )
    engines = (
        _engine(BOLTED, "four-bolt", out=-20.0, up=60.0, scale=1.0),
        _engine(CLAMPED, "clamp", out=-10.0, up=35.0, scale=0.45),
    )
    return Catalogue(
        engine_classes={item.id: item for item in engines},
        hole_patterns={item.id: item for item in patterns},
        hull_kinds={item.id: item for item in hulls},
        brackets={item.id: item for item in brackets},
        hole_rules={"default": HOLE_RULE},
    )


CATALOGUE = sample_catalogue()


def sample_engine(**changes: Any) -> Candidate:
    """Return a candidate with every field measured, its plate 12 mm up on row 2 of the Dunlin."""
    engine = Candidate(
        id="A",
        name="the advert from the coast",
        engine_class=BOLTED,
        power=reading(67.0, 0.0, Origin.STATED),
        mass=reading(165.0, 2.0),
        leg_stated=reading(508.0, 0.0, Origin.STATED),
        leg_measured=reading(512.0, 5.0),
        max_lift=reading(80.0, 0.0, Origin.STATED),
        first_row=reading(51.0, 1.0),
        row_pitch=reading(19.0, 0.25),
        upper_spacing=reading(327.0, 1.0),
        lower_spacing=reading(251.0, 1.0),
        upper_to_lower=reading(203.0, 1.0),
    )
    return replace(engine, **changes)


def sample_job(**changes: Any) -> Job:
    """Return a fully measured job whose best row fits.

    :param changes: "group__field" for a field (``transom__rake=None``), "engine__field" for one of
        the only engine, a plain field of ``Job`` for a whole group.
    """
    job = Job(
        units=Units(),
        boat=Boat(
            name="Dunlin",
            hull_kind=VEE,
            length=reading(5200.0, 20.0),
            deadrise=reading(16.0, 1.0),
        ),
        transom=Transom(
            height_along_face=reading(518.0, 3.0),
            height_square=reading(503.0, 3.0),
            rake=reading(14.0, 1.0),
            thickness=reading(45.0, 1.0),
            lowest_bolt=reading(330.0, 3.0),
            width_at_top=reading(720.0, 3.0),
        ),
        keel_line=KeelLine(
            gap_0=reading(0.0, 1.0),
            gap_150=reading(0.5, 1.0),
            gap_300=reading(0.5, 1.0),
            gap_600=reading(0.5, 1.0),
            gap_900=reading(0.0, 1.0),
        ),
        mounting=Mounting(upper_holes_below_top=reading(48.0, 1.0), off_centre=reading(0.0, 3.0)),
        engines=(sample_engine(),),
    )
    return changed(job, **changes)


def bracket_job(kind: str = PLATE, **changes: Any) -> Job:
    """Return the sample job with a measured setback bracket and a rise of the owner's own."""
    job = sample_job(
        bracket=SetbackBracket(
            kind=kind,
            setback=reading(150.0, 3.0),
            measured_to="seat",
            direction="as its profile",
            height=reading(0.0, 3.0),
        ),
        target=Target(setback_rise=reading(12.0, 0.0, Origin.CHOSEN)),
    )
    return changed(job, **changes)


def changed(job: Job, **changes: Any) -> Job:
    """Return a job with fields replaced; for the names see ``sample_job``."""
    for name, value in changes.items():
        group, _, key = name.partition("__")
        if not key:
            job = replace(job, **{group: value})
        elif group == "engine":
            job = replace(job, engines=(replace(job.engines[0], **{key: value}), *job.engines[1:]))
        else:
            job = replace(job, **{group: replace(getattr(job, group), **{key: value})})
    return job


def without(job: Job, *names: str) -> Job:
    """Return a job without the named readings ("transom.rake", "engine.leg_measured")."""
    return changed(job, **{name.replace(".", "__"): None for name in names})


def holds(job: Job, name: str) -> bool:
    """True when a field named as in ``Finding.needs`` is filled in, for the first engine."""
    group, _, key = name.partition(".")
    record = job.engines[0] if group == "engine" else getattr(job, group)
    return getattr(record, key) not in (None, "", "not said")


def case_of(job: Job) -> Case:
    """Return the first engine of a job on its boat."""
    return Case(job, CATALOGUE, job.engines[0])


def records() -> dict[str, type]:
    """Return the records of a job by the group name that ``Finding.needs`` uses."""
    return {key: record for key, _, record in GROUPS} | {"engine": Candidate}


def measured_fields(*groups: str) -> tuple[str, ...]:
    """Return the names of all number fields that are measured on boat or engine, by group."""
    return tuple(
        f"{group}.{name}"
        for group in groups
        for name, spec in specs(records()[group]).items()
        if spec.kind is not None and spec.origin is Origin.MEASURED
    )


MEASURED = measured_fields("boat", "transom", "keel_line", "bracket", "mounting", "engine")
STATED = ("engine.leg_stated", "engine.max_lift", "engine.power")


@st.composite
def jobs(draw: st.DrawFn, *, most_missing: int = 6) -> Job:
    """Jobs with any engine, hull, bracket and units, odd sizes and random missing readings."""
    kind = draw(st.sampled_from((None, None, PLATE, STEPPED, POD)))
    job = bracket_job(kind) if kind else sample_job()
    sizes = {
        "transom__height_along_face": (380.0, 660.0, 3.0),
        "transom__height_square": (380.0, 660.0, 3.0),
        "transom__rake": (-5.0, 25.0, 1.0),
        "transom__lowest_bolt": (200.0, 400.0, 3.0),
        "keel_line__gap_300": (0.0, 12.0, 1.0),
        "engine__leg_measured": (381.0, 660.0, 5.0),
        "engine__leg_stated": (370.0, 780.0, 0.0),
        "engine__first_row": (30.0, 80.0, 1.0),
        "engine__max_lift": (0.0, 120.0, 0.0),
        "mounting__upper_holes_below_top": (20.0, 120.0, 1.0),
        "mounting__off_centre": (-400.0, 400.0, 3.0),
        "target__setback_rise": (0.0, 60.0, 0.0),
    }
    for name in draw(st.sets(st.sampled_from(sorted(sizes)), max_size=5)):
        low, high, tol = sizes[name]
        origin = specs(records()[name.split("__")[0]])[name.split("__")[1]].origin
        job = changed(job, **{name: reading(draw(st.floats(low, high)), tol, origin)})
    job = changed(
        job,
        boat__hull_kind=draw(st.sampled_from((VEE, VEE, NO_BAND, ""))),
        engine__engine_class=draw(st.sampled_from((BOLTED, BOLTED, CLAMPED))),
        engine__name=draw(st.sampled_from(("", "a name as long as forty characters allow"))),
        bracket__measured_to=draw(st.sampled_from(("seat", "propeller", "not said"))),
        units__lengths=draw(st.sampled_from(("mm", "in"))),
        mounting__row=draw(st.sampled_from((None, None, 1, 4))),
        target__setback_rise=draw(st.sampled_from((None, job.target.setback_rise))),
    )
    return without(job, *draw(st.sets(st.sampled_from(MEASURED + STATED), max_size=most_missing)))
