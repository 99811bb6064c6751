"""The boat of a job under way: what planing needs, where each figure comes from, and the answers.

What nobody measured stands in under its own label; what cannot stand in is named as missing. The
estimates carry their tolerance after the GUM, so that no speed or trim is ever one bare number.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from rigfit.errors import JobError
from rigfit.rigging.afloat import Flotation, flotation_of
from rigfit.rigging.case import Case, CaseKey
from rigfit.rigging.drive import crouch_estimate, engine_band, expected_rpm
from rigfit.rigging.envelope import mounted_option
from rigfit.rigging.masses import Masses, engine_count, masses_after
from rigfit.rigging.mounting_options import HeightOption, height_options
from rigfit.rigging.planing import (
    WATERS,
    NotPlaning,
    Planing,
    PlaningBoat,
    Water,
    equilibrium,
    speed_for_power,
    thrust_arm_mm,
)
from rigfit.rigging.plate_height import along_face, outward
from rigfit.rigging.propeller import Band
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate, half_width
from rigfit.rigging.underway_fields import Propeller, Underway
from rigfit.rigging.wake import PlatePlace, PlateWater, Wake, wake_of, water_at

EFFICIENCY = Reading(0.55, 0.10, Origin.DEFAULT)
"""Share of the shaft power that pushes the bare hull, leg, air and roughness counted as lost:
rigfit's own estimate for outboards."""

CENTRE_SHARE = Reading(0.38, 0.05, Origin.DEFAULT)
"""Centre of gravity of a bare boat ahead of the transom, as a share of her length (estimate)."""

_USUAL_DEPTH_MM = 700.0
_PROPELLER_MM = 60.0
_NO_PLATE_MM = 50.0
_RAKE_DEG = 13.0
_CURVE_POINTS = 28


@dataclass(frozen=True, slots=True)
class Given:
    """One figure with the fields of the job it rests on.

    :param reading: value, tolerance, origin.
    :param fields: the fields that decide it.
    :param words: where it comes from, for the reader.
    """

    reading: Reading
    fields: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Lacking:
    """Why nothing can be said about the boat under way.

    :param fields: the fields to fill in.
    :param words: what they are, for a sentence.
    """

    fields: tuple[str, ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlateAt:
    """One height of the engine with the water behind the transom.

    :param option: the height.
    :param place: of plate and propeller at it.
    :param water: the predicted surface there.
    """

    option: HeightOption
    place: PlatePlace
    water: PlateWater


@dataclass(frozen=True, slots=True)
class UnderwayResult:
    """Everything about one boat and engine under way.

    :param given: every figure planing was reckoned from, by name.
    :param boat: the same as the method takes it.
    :param water: what she runs in.
    :param speed_kn: the speed looked at; None where there is none.
    :param is_top: True where that is the estimated top speed, not one the owner chose.
    :param state: how she runs at it.
    :param trim: running trim, deg; ``margin`` below the porpoising limit; None without a state.
    :param top: top speed by Savitsky and the propulsive efficiency, kn; ``top_trouble`` why not.
    :param crouch: the same by Crouch's formula.
    :param wake: the surface behind the transom; None without a state.
    :param plates: plate and water at every possible height, lowest engine first.
    :param mounted: the height looked at; None where none is to be had.
    :param rpm: engine speed expected at the top speed with the propeller; None without one.
    :param band: the maker's band at full throttle, or that of the engine's class.
    :param band_is_class: True where nobody entered the band.
    """

    given: Mapping[str, Given]
    boat: PlaningBoat
    water: Water
    speed_kn: float | None
    is_top: bool
    state: Planing | NotPlaning
    trim: Estimate | None
    margin: Estimate | None
    top: Estimate | None
    top_trouble: str
    crouch: Estimate
    wake: Wake | None
    plates: tuple[PlateAt, ...]
    mounted: PlateAt | None
    rpm: Estimate | None
    band: Band
    band_is_class: bool

    @property
    def needs(self) -> tuple[str, ...]:
        """The fields everything rests on, in order."""
        names = [name for item in self.given.values() for name in item.fields]
        return tuple(dict.fromkeys(names))

    @property
    def soft(self) -> tuple[Given, ...]:
        """The figures that decide trim and that nobody measured."""
        deciding = ("mass", "ahead", "beam", "deadrise")
        return tuple(
            self.given[name] for name in deciding if not self.given[name].reading.origin.is_firm
        )


def is_begun(case: Case) -> bool:
    """True when anything about the boat under way is entered."""
    return case.job.underway != Underway()


def not_looked_at(case: Case) -> tuple[str, ...]:
    """Return the subject where nobody entered anything about way or propeller."""
    entered = is_begun(case) or case.job.propeller != Propeller()
    return () if entered else ("the boat under way",)


def underway_of(case: Case) -> UnderwayResult | Lacking | None:
    """Return how she runs; None where nothing of it is entered, else what is lacking.

    The last few answers are remembered, so that checks, sheet and report may all ask.

    :raises JobError: for figures that have no meaning, such as a band turned upside down.
    """
    return _worked_out(_key(case)) if is_begun(case) else None


def _key(case: Case) -> CaseKey:
    job = case.job
    return CaseKey(
        case, job.boat, job.transom, job.bracket, job.mounting, job.face, job.hull, job.afloat,
        job.marks, job.stations, job.offsets, job.engines, job.masses, job.old_engine,
        job.neighbour, job.underway, job.propeller, job.target,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Surface:
    """The predicted surface behind the transom alone, for a view that has no time for the rest.

    :param wake: the surface.
    :param plate: plate and water at the height looked at.
    :param speed_kn: the speed it is for.
    """

    wake: Wake
    plate: PlateAt
    speed_kn: float


def surface_of(case: Case) -> Surface | None:
    """Return the surface at the height looked at; None where nothing about it can be said.

    The same as in ``underway_of``, without the tolerances: about a tenth of its time.
    """
    return _surface(_key(case)) if is_begun(case) else None


@lru_cache(maxsize=32)
def _worked_out(key: CaseKey) -> UnderwayResult | Lacking:
    case = key.case
    given = _gather(case)
    if isinstance(given, Lacking):
        return given
    return _result(case, given)


@lru_cache(maxsize=32)
def _surface(key: CaseKey) -> Surface | None:
    case = key.case
    given, option = _gather(case), mounted_option(case)
    if isinstance(given, Lacking) or option.plate is None:
        return None
    values = {name: item.reading.value for name, item in given.items()}
    boat, water, chosen = planing_boat(values), _water(case), case.job.underway.speed
    state = (
        speed_for_power(boat, values["power"] * values["efficiency"], water)
        if chosen is None
        else equilibrium(boat, chosen.value, water)
    )
    if isinstance(state, NotPlaning):
        return None
    wake = wake_of(state, boat.beam_mm, boat.deadrise_deg)
    return Surface(wake, _plate_at(case, option, wake), state.speed_kn)


# ----------------------------------------------------------------- figures


def _gather(case: Case) -> dict[str, Given] | Lacking:
    job, missing = case.job, []
    beam = _beam(case)
    deadrise = job.boat.deadrise
    total = _total(case)
    if beam is None:
        missing.append(("hull.chine_beam", "the beam between the chines"))
    if deadrise is None:
        missing.append(("boat.deadrise", "the deadrise at the transom"))
    if job.underway.mass is None and total is None:
        missing.append(("underway.mass", "the mass of the whole boat under way"))
    if job.underway.centre_ahead is None and job.boat.length is None:
        missing.append(("boat.length", "the length of the hull, or her centre of gravity"))
    if missing or beam is None or deadrise is None:
        return Lacking(tuple(name for name, _ in missing), tuple(word for _, word in missing))
    mass = job.underway.mass
    found = {
        "mass": _said(mass, "underway.mass", "entered") if mass else _summed_mass(total),
        "ahead": _ahead(case, total),
        "above": _above(case, total),
        "beam": beam,
        "deadrise": Given(deadrise, ("boat.deadrise",), "measured"),
    }
    found |= _drive(case)
    return _too_vague(found) or found


_CLOSER = {
    "mass": ("underway.mass", "a mass under way that is larger than its tolerance"),
    "ahead": ("underway.centre_ahead", "her centre of gravity, which is reckoned at the transom"),
    "beam": ("hull.chine_beam", "a beam between the chines larger than its tolerance"),
    "power": ("engine.power", "a power that is larger than its tolerance"),
    "efficiency": ("underway.efficiency", "an efficiency that is larger than its tolerance"),
}


def _too_vague(found: Mapping[str, Given]) -> Lacking | None:
    """Return the figures that within their tolerance could be nothing at all, or None."""
    vague = [
        _CLOSER[key]
        for key in _CLOSER
        if found[key].reading.value <= max(found[key].reading.tolerance, 0.0)
    ]
    if not vague:
        return None
    return Lacking(tuple(name for name, _ in vague), tuple(words for _, words in vague))


def _said(reading: Reading, name: str, words: str) -> Given:
    return Given(reading, (name,), words)


def _beam(case: Case) -> Given | None:
    hull, face = case.job.hull.chine_beam, case.job.face.chine_width
    if hull is not None:
        return _said(hull, "hull.chine_beam", "measured")
    if face is None:
        return None
    return Given(
        replace(face, tolerance=max(face.tolerance, 0.04 * face.value), origin=Origin.DEFAULT),
        ("hull.chine_beam",), "chine width at the transom",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Total:
    """The bare boat and what is listed aboard."""

    bare: Reading
    bare_fields: tuple[str, ...]
    masses: Masses


def _total(case: Case) -> _Total | None:
    masses, said = masses_after(case), case.job.underway.mass
    if said is not None:
        # Whoever weighed all of her knows the bare boat as what is left of it.
        rest = said.value - masses.total.value
        if rest <= 0.0:
            return None
        return _Total(replace(said, value=rest), ("underway.mass",), masses)
    bare = _bare(case)
    return None if bare is None else _Total(*bare, masses)


def _bare(case: Case) -> tuple[Reading, tuple[str, ...]] | None:
    """Return the bare boat: weighed, else by the heights read afloat."""
    said = case.job.hull.mass
    if said is not None:
        return said, ("hull.mass",)
    found = flotation_of(case)
    if not isinstance(found, Flotation) or found.bare_kg is None:
        return None
    kg = found.bare_kg
    if kg <= 0.0:
        return None
    origin = Origin.MEASURED if found.is_firm else Origin.DEFAULT
    return Reading(kg, 0.15 * kg, origin), ("afloat.transom_top", "afloat.bow")


def _summed_mass(total: _Total | None) -> Given:
    if total is None:
        raise JobError("the mass under way is not known", where="underway, mass")
    summed = total.masses.total
    spread = math.hypot(total.bare.tolerance, half_width(summed.tolerance))
    firm = total.bare.origin.is_firm and all(m.mass.origin.is_firm for m in total.masses.items)
    crew = bool(total.masses.of_kind("crew"))
    origin = Origin.MEASURED if firm and crew and not total.masses.missing else Origin.DEFAULT
    words = "bare boat and what is listed aboard"
    if not crew:
        words += ", nobody aboard"
    fields = (*total.bare_fields, "engine.mass")
    return Given(Reading(total.bare.value + summed.value, spread, origin), fields, words)


def _ahead(case: Case, total: _Total | None) -> Given:
    """Return the centre of gravity ahead: entered, else of bare boat and masses."""
    said, length = case.job.underway.centre_ahead, case.job.boat.length
    if said is not None:
        return _said(said, "underway.centre_ahead", "entered")
    share = CENTRE_SHARE
    long = length.value if length else 0.0
    usual = Reading(share.value * long, share.tolerance * long, Origin.DEFAULT)
    bare = case.job.hull.centre_ahead or usual
    fields = ("underway.centre_ahead",)
    if total is None:
        return Given(usual, fields, "38 % of her length, as is usual")
    moment, mass = total.bare.value * bare.value, total.bare.value
    spread = [total.bare.value * bare.tolerance]
    for item in total.masses.items:
        where = item.ahead or bare
        moment += item.mass.value * where.value
        mass += item.mass.value
        spread.append(item.mass.value * where.tolerance)
    at = Reading(moment / mass, math.hypot(*spread) / mass, Origin.DEFAULT)
    if bare.origin.is_firm and not total.masses.unplaced:
        at = replace(at, origin=Origin.CLASS)
    words = "from the bare boat and what is listed aboard"
    if bare is usual:
        words += ", the bare boat's at 38 % of her length"
    return Given(at, fields, words)


def _above(case: Case, total: _Total | None) -> Given:
    """Return the centre of gravity above the keel line; it matters little."""
    said, hull = case.job.underway.centre_height, case.job.hull
    if said is not None:
        return _said(said, "underway.centre_height", "entered")
    deep = hull.depth_amidships or hull.depth_aft or Reading(_USUAL_DEPTH_MM)
    bare = hull.centre_height or Reading(0.55 * deep.value, 0.2 * deep.value, Origin.DEFAULT)
    if total is None:
        high = Reading(bare.value + 100.0, bare.tolerance + 100.0, Origin.DEFAULT)
        return Given(high, (), "over half her depth, as is usual")
    moment, mass = total.bare.value * bare.value, total.bare.value
    for item in total.masses.items:
        moment += item.mass.value * (item.above or bare).value
        mass += item.mass.value
    high = Reading(moment / mass, bare.tolerance, Origin.DEFAULT)
    return Given(high, (), "from the bare boat and what is listed aboard")


def _drive(case: Case) -> dict[str, Given]:
    """Return thrust line, power and efficiency."""
    place = plate_place(case, mounted_option(case))
    way, engine = case.job.underway, case.engine
    angle = way.plate_angle or Reading(0.0, 1.0, Origin.DEFAULT)
    power = case.candidate.power
    words = "as stated"
    if power is None:
        low, high = engine.power_low_kw, engine.power_high_kw
        power, words = Reading((low + high) / 2.0, (high - low) / 2.0, Origin.CLASS), "of its class"
    count = engine_count(case)
    power = replace(power, value=power.value * count, tolerance=power.tolerance * count)
    usual = "55 %, give or take 10: rigfit's own estimate"
    efficiency = way.efficiency
    level = way.plate_angle is None
    return {
        "aft": Given(Reading(place.shaft_aft_mm, _PROPELLER_MM, Origin.CLASS), (), "of its class"),
        "shaft": Given(
            Reading(place.plate_mm - place.shaft_below_mm, _NO_PLATE_MM, Origin.CLASS), (),
            "from plate and class",
        ),
        "angle": Given(angle, (), "plate parallel to the keel line" if level else "entered"),
        "power": Given(power, ("engine.power",), words),
        "efficiency": _said(efficiency, "underway.efficiency", "entered") if efficiency
        else Given(EFFICIENCY, (), usual),
    }  # fmt: skip


def plate_place(case: Case, option: HeightOption) -> PlatePlace:
    """Return where plate and propeller are with the engine at a height, the plate level.

    The tilt axis moves them by about a millimetre along, and a running trim by its sine times the
    leg: both are left out, and lie within the propeller's tolerance. Without transom readings the
    plate is taken level with the keel line.
    """
    sizes = case.engine.sizes
    rake, face = case.job.transom.rake, case.heights.along_face
    angle = rake.value if rake else _RAKE_DEG
    up = (face.value if face else case.engine.legs_mm[0]) + option.lift.value
    (tx, _), (nx, _) = along_face(angle), outward(angle)
    back = case.setback.value * (nx if case.arms.value == "square" else 1.0)
    seat = up * tx + back
    plate = option.plate.value if option.plate is not None else 0.0
    own = case.job.propeller.diameter
    off = case.job.mounting.off_centre
    spacing = case.job.neighbour.twin_spacing
    across = off.value if off else 0.0
    if engine_count(case) == 2 and spacing is not None:
        across = spacing.value / 2.0
    return PlatePlace(
        front_mm=max(0.0, seat + sizes.plate_aft - sizes.plate_length),
        aft_edge_mm=seat + sizes.plate_aft,
        plate_mm=plate,
        shaft_aft_mm=seat + sizes.propeller_aft,
        shaft_below_mm=sizes.shaft_below_plate,
        radius_mm=(own.value if own else sizes.propeller_diameter) / 2.0,
        across_mm=across,
    )


# ----------------------------------------------------------------- answers


class _NoAnswer(Exception):  # noqa: N818 - carried inside this module only
    """Within the tolerance of its readings something has no answer."""


def planing_boat(values: Mapping[str, float]) -> PlaningBoat:
    """Return the boat as the method takes it, from the figures by name."""
    thrust = -values["angle"]
    arm = thrust_arm_mm(values["ahead"], values["above"], values["aft"], values["shaft"], thrust)
    return PlaningBoat(
        mass_kg=values["mass"],
        beam_mm=values["beam"],
        deadrise_deg=max(0.0, values["deadrise"]),
        ahead_mm=values["ahead"],
        above_mm=values["above"],
        thrust_deg=thrust,
        arm_mm=arm,
    )


def _result(case: Case, given: Mapping[str, Given]) -> UnderwayResult:
    readings = {name: item.reading for name, item in given.items()}
    values = {name: reading.value for name, reading in readings.items()}
    boat, water = planing_boat(values), _water(case)
    top, trouble = _top(readings, boat, water)
    chosen = case.job.underway.speed
    speed = chosen.value if chosen else top.value if top else None
    state: Planing | NotPlaning
    state = NotPlaning(trouble) if speed is None else equilibrium(boat, speed, water)
    trim = margin = None
    wake = None
    if isinstance(state, Planing):
        runs = _runs_at(state.speed_kn, water)
        trim = _tried(lambda values: runs(values).trim_deg, readings)
        margin = _tried(lambda values: runs(values).margin_deg, readings)
        wake = wake_of(state, boat.beam_mm, boat.deadrise_deg)
    options = tuple(item for item in height_options(case) if item.is_possible)
    plates = tuple(_plate_at(case, item, wake) for item in options if item.plate) if wake else ()
    mounted = mounted_option(case)
    band, is_class = engine_band(case)
    return UnderwayResult(
        given=given, boat=boat, water=water, speed_kn=speed, is_top=chosen is None, state=state,
        trim=trim, margin=margin, top=top, top_trouble=trouble,
        crouch=crouch_estimate(case, readings), wake=wake, plates=plates,
        mounted=_plate_at(case, mounted, wake) if mounted.plate and wake else None,
        rpm=expected_rpm(case, top), band=band, band_is_class=is_class,
    )  # fmt: skip


def _water(case: Case) -> Water:
    said = case.job.underway.water
    return WATERS[said if said in WATERS else case.job.afloat.water]


def _runs_at(speed_kn: float, water: Water) -> Callable[[Mapping[str, float]], Planing]:
    """Return what gives how she runs at a speed; the same boat is worked out once."""
    known: dict[PlaningBoat, Planing] = {}

    def runs(values: Mapping[str, float]) -> Planing:
        boat = planing_boat(values)
        if boat not in known:
            state = equilibrium(boat, speed_kn, water)
            if isinstance(state, NotPlaning):
                raise _NoAnswer
            known[boat] = state
        return known[boat]

    return runs


def _tried(
    calculation: Callable[[Mapping[str, float]], float], readings: Mapping[str, Reading]
) -> Estimate | None:
    """Return an estimate; None where it has no answer at an end of its readings' tolerance."""
    try:
        return estimate(calculation, readings)
    except _NoAnswer:
        return None


def _top(
    readings: Mapping[str, Reading], boat: PlaningBoat, water: Water
) -> tuple[Estimate | None, str]:
    """Return the speed at which power times efficiency is used up, or why there is none."""
    power = readings["power"].value * readings["efficiency"].value
    state = speed_for_power(boat, power, water)
    if isinstance(state, NotPlaning):
        return None, state.reason
    near = state.speed_kn

    def speed(values: Mapping[str, float]) -> float:
        effective = values["power"] * values["efficiency"]
        found = speed_for_power(planing_boat(values), effective, water, near_kn=near)
        if isinstance(found, NotPlaning):
            raise _NoAnswer
        return found.speed_kn

    found = _tried(speed, readings)
    if found is None:
        return None, "within the tolerance of the figures she may not get on the plane"
    return found, ""


def speed_curve(found: UnderwayResult) -> tuple[Planing, ...]:
    """Return how she runs from the slowest planing speed to a little above the fastest looked at.

    Speeds at which no planing trim comes out are left out.
    """
    fastest = max(
        found.speed_kn or 0.0,
        found.top.value + found.top.tolerance if found.top else 0.0,
        20.0,
    )
    slowest = max(3.0, 0.35 * fastest)
    last = 1.08 * fastest
    speeds = [slowest + (last - slowest) * k / (_CURVE_POINTS - 1) for k in range(_CURVE_POINTS)]
    states = [equilibrium(found.boat, speed, found.water) for speed in speeds]
    return tuple(state for state in states if isinstance(state, Planing))


def _plate_at(case: Case, option: HeightOption, wake: Wake) -> PlateAt:
    place = plate_place(case, option)
    return PlateAt(option, place, water_at(wake, place))
