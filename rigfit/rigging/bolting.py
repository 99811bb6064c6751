"""Bolt lengths, loads, preload and bearing: plain calculations, and what a case has for them.

Forces in N, moments in N·mm, stresses in MPa, lengths in mm. The load model is a rigid bracket that
tips about its lowest contact on the transom; it knows nothing of hooks, glue, side loads, grounding
or reverse, and rests on estimates of thrust and centre of gravity: never better than a comparison.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rigfit.rigging.candidate import Candidate
from rigfit.rigging.case import Case
from rigfit.rigging.fasteners import Bolt, BoltGrade, Washer
from rigfit.rigging.job import GROUPS
from rigfit.rigging.readings import Origin, Reading, specs
from rigfit.rigging.tolerance import Estimate, estimate, exact
from rigfit.units import GRAVITY

THREADS_LEAST, THREADS_MOST = 1.5, 3.0
"""Threads that should show past a lock nut: enough for its insert, not so many that they snag."""

PRELOAD_SHARE = 0.75
"""Preload aimed at, as a share of the proof load, for joints that are undone again (read)."""

LOAD_FACTOR = 5.0
"""Customary factor on the engine's weight for waves and trailer; a default, labelled as such."""

WATER_KG_M3 = 1025.0
THRUST_SHARE, THRUST_SPREAD = 0.7, 0.3
"""Thrust at rest as a share of what an ideal propeller could give, and the spread (estimate)."""

COWL_SHARE = 2.0 / 3.0
CENTRE_SPREAD_MM = 60.0
"""Share of the mass at the cowl's middle, the rest at the leg's, and its half-width (estimate)."""

SKIN_LIMIT = 10.0
"""Above this many times the core's figure the skin would carry over nine tenths (estimate)."""

FRICTION: Mapping[str, tuple[float, float]] = {
    "dry": (0.20, 0.25),
    "oiled": (0.15, 0.20),
    "anti-seize": (0.12, 0.16),
}
"""K of T = K F d by the state of the threads (read)."""

STAINLESS_DRY = (0.20, 0.35)
"""The same for dry stainless: from the general figure up to the 0.35 of its own table (read)."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One thing the bolt clamps.

    :param name: "engine's bracket", "transom" ...
    :param thickness: mm, with its tolerance and origin.
    """

    name: str
    thickness: Reading


@dataclass(frozen=True, slots=True)
class Loads:
    """What pulls at the bolts of one engine.

    :param weight_n: the engine hanging still.
    :param factor: load factor on it.
    :param thrust_n: at rest, full power, with its spread.
    :param weight_lever_mm: weight aft of the lowest contact.
    :param thrust_lever_mm: propeller shaft below the lowest contact.
    :param moment_nmm: both together, weight times its factor.
    :param tension_n: pull in each of the two upper bolts.
    :param ideal_tension_n: the same at the thrust of an ideal propeller, which none can exceed.
    :param shear_n: each of four bolts, weight times its factor along the face.
    """

    weight_n: float
    factor: Reading
    thrust_n: Reading
    weight_lever_mm: float
    thrust_lever_mm: float
    moment_nmm: float
    tension_n: Estimate
    ideal_tension_n: Estimate
    shear_n: float


# ------------------------------------------------------------------------------ length and grip


def grip_of(layers: Sequence[Layer]) -> Estimate:
    """Return the thickness of everything between head and nut, mm."""
    readings = {f"{index} {layer.name}": layer.thickness for index, layer in enumerate(layers)}
    return estimate(lambda values: math.fsum(values.values()), readings)


def length_needed_mm(bolt: Bolt, grip_mm: float, threads: float = THREADS_LEAST) -> float:
    """Return the length under the head for a grip, a lock nut and some threads past it."""
    return grip_mm + bolt.lock_nut_mm + threads * bolt.thread_mm


def bolt_to_buy(case: Case) -> float | None:
    """Return the stocked length that is enough even for the thickest the grip may be, mm.

    None where none is so long. The caller has seen to it that nothing is ``missing`` of
    "bolting.bolt" and ``stack_needs``.
    """
    bolt, grip = case.catalogue.bolt(case.job.bolting.bolt), grip_of(layers_of(case))
    return bolt.next_length_mm(length_needed_mm(bolt, grip.value + grip.tolerance))


def protrusion_mm(bolt: Bolt, length_mm: float, grip_mm: float) -> float:
    """Return how far a bolt stands past its lock nut; negative when it does not reach through."""
    return length_mm - grip_mm - bolt.lock_nut_mm


def protrusion_of(bolt: Bolt, length: Reading, layers: Sequence[Layer]) -> Estimate:
    """Return how far a measured bolt stands past its lock nut, all tolerances carried, mm."""
    readings = {f"{index} {layer.name}": layer.thickness for index, layer in enumerate(layers)}

    def past_mm(values: Mapping[str, float]) -> float:
        grip = math.fsum(values[name] for name in readings)
        return protrusion_mm(bolt, values["length"], grip)

    return estimate(past_mm, {"length": length, **readings})


def thread_to_spare_mm(bolt: Bolt, length_mm: float, grip_mm: float) -> float:
    """Return how much thread lies inside the grip; negative when the nut jams on the shank."""
    return grip_mm - (length_mm - bolt.threaded_mm(length_mm))


# ------------------------------------------------------------------------------ loads


def ideal_thrust_n(power_kw: float, propeller_mm: float) -> float:
    """Return the greatest thrust a propeller can give at rest, N.

    Momentum theory, no losses: T^3 = 2 rho A P^2 in sea water. Real ones give 40 to 85 % of it.

    :param power_kw: at the propeller shaft, 0 or more.
    :param propeller_mm: its diameter, above 0.
    """
    area_m2 = math.pi / 4.0 * (propeller_mm / 1000.0) ** 2
    return float((2.0 * WATER_KG_M3 * area_m2 * (power_kw * 1000.0) ** 2) ** (1.0 / 3.0))


def thrust_at_rest(power_kw: float, propeller_mm: float) -> Reading:
    """Return an estimate of the thrust at rest, its upper end the ideal propeller's, N."""
    ideal = ideal_thrust_n(power_kw, propeller_mm)
    return Reading(THRUST_SHARE * ideal, THRUST_SPREAD * ideal, Origin.CLASS)


def rigid_plate_tensions_n(moment_nmm: float, heights_mm: Sequence[float]) -> tuple[float, ...]:
    """Return the pull in each bolt of a rigid plate that tips about its lowest contact.

    Pulls grow with the height above the contact: T = M y / sum of y^2, so that the sum of T y
    is M again.

    :param heights_mm: of each bolt above the contact, 0 or more, at least one above 0.
    """
    whole = math.fsum(height * height for height in heights_mm)
    return tuple(moment_nmm * height / whole for height in heights_mm)


# ------------------------------------------------------------------------------ torque


def preload_n(torque_nm: float, diameter_mm: float, friction: float) -> float:
    """Return the bolt force a torque gives, F = T / (K d), N."""
    return torque_nm * 1000.0 / (friction * diameter_mm)


def torque_nm(force_n: float, diameter_mm: float, friction: float) -> float:
    """Return the torque that gives a bolt force, T = K F d, N·m."""
    return friction * force_n * diameter_mm / 1000.0


def friction_range(state: str, *, stainless: bool) -> tuple[float, float]:
    """Return the lowest and highest K for the state of the threads; "" for a state not said."""
    dry = STAINLESS_DRY if stainless else FRICTION["dry"]
    if not state:
        return FRICTION["anti-seize"][0], dry[1]
    return dry if state == "dry" else FRICTION[state]


def friction_reading(state: str, *, stainless: bool) -> Reading:
    """Return K as a reading: the middle of its range, which nobody measured."""
    low, high = friction_range(state, stainless=stainless)
    return Reading((low + high) / 2.0, (high - low) / 2.0, Origin.CLASS)


def proof_load_n(bolt: Bolt, grade: BoltGrade) -> float | None:
    """Return the force a bolt bears without lasting stretch; None where its grade has no figure."""
    return None if grade.held_mpa is None else grade.held_mpa * bolt.stress_area_mm2


# ------------------------------------------------------------------------------ bearing


def ring_area_mm2(outer_mm: float, hole_mm: float) -> float:
    """Return the area of a ring; 0 for a hole as large as the ring."""
    return max(0.0, math.pi / 4.0 * (outer_mm**2 - hole_mm**2))


def spread_mm(seat_mm: float, plate_mm: float) -> float:
    """Return the diameter a seat's pressure has after spreading at 45 degrees through a plate."""
    return seat_mm + 2.0 * plate_mm


# ------------------------------------------------------------------------------ what a case has


def missing(case: Case, *names: str) -> tuple[str, ...]:
    """Return those of the named fields that are not filled in; thicknesses of 0 count as empty."""
    return tuple(name for name in names if _value(case, name) in (None, "") or _is_zero(case, name))


def _value(case: Case, name: str) -> object:
    group, _, key = name.partition(".")
    return getattr(case.candidate if group == "engine" else getattr(case.job, group), key)


def _is_zero(case: Case, name: str) -> bool:
    value = _value(case, name)
    return isinstance(value, Reading) and value.value <= 0.0 and name.startswith("bolting.")


def label_of(name: str) -> str:
    """Return how a field ("bolting.flange") is called in print."""
    group, _, key = name.partition(".")
    record = Candidate if group == "engine" else {k: r for k, _, r in GROUPS}[group]
    return specs(record)[key].label


def uses_plate(case: Case) -> bool:
    """True when the nuts bear on a backing plate."""
    return "plate" in case.job.bolting.backing


def uses_washers(case: Case) -> bool:
    """True when there are washers under heads and nuts."""
    return "washers" in case.job.bolting.backing


def stack_needs(case: Case) -> tuple[str, ...]:
    """Return the fields that decide the stack of this case, in the order of the form."""
    return (
        "transom.thickness",
        "bolting.flange",
        "bolting.backing",
        *(("bolting.washer",) if uses_washers(case) else ()),
        *(("bolting.plate_thickness",) if uses_plate(case) else ()),
    )


def washer_of(case: Case) -> Washer | None:
    """Return the washer the job names, or None."""
    key = case.job.bolting.washer
    return case.catalogue.washer(key) if key and uses_washers(case) else None


def layers_of(case: Case) -> tuple[Layer, ...]:
    """Return what the bolt clamps, from the head outside to the nut inside.

    The caller has seen to it that nothing is ``missing`` of ``stack_needs``.
    """
    job = case.job
    washer = washer_of(case)
    ring = (Layer("washer", exact(washer.thickness_mm)),) if washer else ()
    assert job.bolting.flange and job.transom.thickness  # noqa: S101 - the caller looked
    outer = (
        Layer("engine's bracket", job.bolting.flange),
        Layer("transom", job.transom.thickness),
    )
    plate = job.bolting.plate_thickness if uses_plate(case) else None
    return (*ring, *outer, *((Layer("backing plate", plate),) if plate else ()), *ring)


def hole_of_mm(case: Case) -> float:
    """Return the hole to be drilled in the transom, mm; 0 where the pattern is not known."""
    return case.transom_pattern.hole_mm


def loads_of(case: Case) -> Loads | None:
    """Return what pulls at the bolts, or None while mass, power, leg, rake or holes are missing."""
    mass, power, rake = case.candidate.mass, case.candidate.power, case.job.transom.rake
    if mass is None or power is None or rake is None or case.leg is None:
        return None
    if not (case.transom_pattern.is_bolted and case.pattern.is_bolted):
        return None
    sizes = case.engine.sizes
    readings = {
        "mass": mass,
        "factor": case.job.bolting.load_factor or Reading(LOAD_FACTOR, 0.0, Origin.DEFAULT),
        "thrust": thrust_at_rest(power.value, sizes.propeller_diameter),
        "leg": case.leg.reading,
        "rake": rake,
        "setback": case.setback,
        "rows": _rows(case),
        "seat": _seat_above_contact(case),
        "centre": Reading(_centre_aft_mm(case), CENTRE_SPREAD_MM, Origin.CLASS),
        "shaft": Reading(sizes.shaft_below_plate, 0.15 * sizes.shaft_below_plate, Origin.CLASS),
    }
    tension = estimate(_upper_tension, readings)
    most = exact(ideal_thrust_n(power.value, sizes.propeller_diameter), Origin.CLASS)
    ideal = estimate(_upper_tension, {**readings, "thrust": most})
    values = {name: reading.value for name, reading in readings.items()}
    weight = mass.value * GRAVITY
    return Loads(
        weight_n=weight,
        factor=readings["factor"],
        thrust_n=readings["thrust"],
        weight_lever_mm=_weight_lever(values),
        thrust_lever_mm=_thrust_lever(values),
        moment_nmm=_moment(values),
        tension_n=tension,
        ideal_tension_n=ideal,
        shear_n=weight * values["factor"] * math.cos(math.radians(rake.value)) / 4.0,
    )


def _weight_lever(values: Mapping[str, float]) -> float:
    """Return how far the weight hangs aft of the lowest contact; the face leans over it."""
    lean = values["seat"] * math.sin(math.radians(values["rake"]))
    return values["centre"] + values["setback"] + lean


def _thrust_lever(values: Mapping[str, float]) -> float:
    drop = values["seat"] * math.cos(math.radians(values["rake"]))
    return values["leg"] + values["shaft"] - drop


def _moment(values: Mapping[str, float]) -> float:
    weight = values["mass"] * GRAVITY * values["factor"]
    return weight * _weight_lever(values) + values["thrust"] * _thrust_lever(values)


def _upper_tension(values: Mapping[str, float]) -> float:
    # The contact is taken at the lower bolts: where the bracket really ends was not measured, and
    # a shorter lever errs to the safe side.
    heights = (values["rows"], values["rows"], 0.0, 0.0)
    return rigid_plate_tensions_n(_moment(values), heights)[0]


def _rows(case: Case) -> Reading:
    """Return upper to lower bolts in the transom."""
    between = case.candidate.upper_to_lower if case.bracket is None else None
    if between is not None:
        return between
    return Reading(case.transom_pattern.lower_below_upper_mm, 3.0, Origin.CLASS)


def _seat_above_contact(case: Case) -> Reading:
    """Return the seat above the lower bolts in the transom, along the face.

    Without a chosen row the engine hangs on its uppermost hole: lowest, with the longest lever.
    """
    row = case.job.mounting.row or 1
    rows = case.pattern.upper_rows_mm
    above = rows[min(row, len(rows)) - 1] + _rows(case).value
    if case.bracket is not None:
        setting = case.job.mounting.bracket_setting
        above += case.transom_pattern.upper_rows_mm[0] - case.upper_holes.value
        above += setting.value if setting else 0.0
    firm = case.candidate.first_row is not None and case.bracket is None
    return Reading(above, 3.0, Origin.MEASURED if firm else Origin.CLASS)


def _centre_aft_mm(case: Case) -> float:
    """Return the engine's centre of gravity aft of the seat: mostly the cowl's middle."""
    sizes = case.engine.sizes
    cowl = sizes.cowl_length / 2.0 - sizes.cowl_forward
    return COWL_SHARE * cowl + (1.0 - COWL_SHARE) * sizes.leg_aft


def clamp_force(case: Case, bolt: Bolt, grade: BoltGrade) -> Estimate | None:
    """Return the preload, N: of the maker's torque, else 75 % of proof; None without either."""
    bolting = case.job.bolting
    if bolting.torque is not None:
        readings = {
            "torque": bolting.torque,
            "friction": friction_reading(bolting.thread_state, stainless=grade.is_stainless),
        }
        return estimate(
            lambda values: preload_n(values["torque"], bolt.diameter_mm, values["friction"]),
            readings,
        )
    proof = proof_load_n(bolt, grade)
    if proof is None:
        return None
    return Estimate(PRELOAD_SHARE * proof, 0.0)
