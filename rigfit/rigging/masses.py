"""Masses: everything aboard with its place, before and after the change of engine.

One list serves the load check and the flotation. Places are counted from the foot of the transom
along the keel line (+ ahead) and up from the keel line. What nobody weighed is of its class and
labelled so; what nobody can stand in for is named as missing and counts nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from rigfit.rigging.case import Case
from rigfit.rigging.load_fields import MassItem
from rigfit.rigging.outboard import EngineClass
from rigfit.rigging.plate_height import square_height_mm
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate, half_width

PETROL_KG_L = 0.745
PETROL_SPREAD_KG_L = 0.03
"""Density of petrol and half its spread: 0.720 to 0.775 by EN 228 (from memory)."""

PERSON_KG = 80.0
"""One grown person, where nobody was weighed (own round figure; rules use 75 to 85 kg)."""

ENGINE_PLACE_MM = 120.0
"""Half-width of where an outboard's centre of gravity is taken to be (estimate)."""

CENTRED = Reading(0.0, 0.0, Origin.DEFAULT)
"""On the centreline, where nobody said otherwise."""

NEW_ENGINE, OLD_ENGINE = "engine", "old engine"

_RAKE_DEG = 13.0
_RAKE_SPREAD_DEG = 3.0


@dataclass(frozen=True, slots=True)
class PlacedMass:
    """One mass aboard.

    :param name: how it is called in print.
    :param kind: one of ``load_fields.MASS_KINDS``, or "engine", "old engine", "fuel".
    :param mass: kg, with its origin.
    :param ahead: mm ahead of the foot of the transom; None where nobody said.
    :param above: mm above the keel line; None where nobody said.
    :param across: mm from the centreline, + to starboard.
    :param is_load: True where it counts as load; a built-in tank belongs to the boat.
    :param persons: how many persons it is, None where not said or no crew.
    :param fields: the fields its mass comes from.
    """

    name: str
    kind: str
    mass: Reading
    ahead: Reading | None = None
    above: Reading | None = None
    across: Reading = CENTRED
    is_load: bool = True
    persons: int | None = None
    fields: tuple[str, ...] = ()

    @property
    def is_placed(self) -> bool:
        """True where its place ahead and its height are known or stood in for."""
        return self.ahead is not None and self.above is not None


@dataclass(frozen=True, slots=True)
class Masses:
    """All masses aboard at one time.

    :param items: those whose mass is known or stood in for.
    :param missing: what has no mass, as "name: field" for a sentence.
    :param missing_fields: the fields that would settle it.
    """

    items: tuple[PlacedMass, ...]
    missing: tuple[str, ...] = ()
    missing_fields: tuple[str, ...] = ()

    def of_kind(self, *kinds: str) -> tuple[PlacedMass, ...]:
        """Return the masses of some kinds."""
        return tuple(item for item in self.items if item.kind in kinds)

    @property
    def total(self) -> Estimate:
        """Sum of all masses, kg."""
        return total_mass(self.items)

    @property
    def unplaced(self) -> tuple[str, ...]:
        """Names of the masses whose place ahead or height nobody gave."""
        return tuple(item.name for item in self.items if not item.is_placed)

    @property
    def centre_ahead(self) -> Estimate | None:
        """Common centre, mm ahead of the foot of the transom; None while a place is missing."""
        if self.unplaced or not self.items or self.total.value <= 0.0:
            return None
        readings = {f"m{number}": item.mass for number, item in enumerate(self.items)}
        readings |= {
            f"x{number}": item.ahead for number, item in enumerate(self.items) if item.ahead
        }
        count = len(self.items)
        return estimate(
            lambda values: (
                math.fsum(values[f"m{n}"] * values[f"x{n}"] for n in range(count))
                / math.fsum(values[f"m{n}"] for n in range(count))
            ),
            readings,
        )


def total_mass(items: Iterable[PlacedMass]) -> Estimate:
    """Return the sum of some masses, kg, with its tolerance.

    Twins have one mass between them: if one is heavier than thought, so is the other.
    """
    readings: dict[str, Reading] = {}
    times: dict[str, int] = {}
    for number, item in enumerate(items, start=1):
        key = NEW_ENGINE if item.kind == NEW_ENGINE else f"{number} {item.name}"
        readings[key] = item.mass
        times[key] = times.get(key, 0) + 1
    return estimate(
        lambda values: math.fsum(times[key] * value for key, value in values.items()), readings
    )


def masses_before(case: Case) -> Masses:
    """Return what was aboard with the old engine."""
    items, missing, fields = _listed(case, "before")
    old = _old_engine(case)
    if old is None:
        missing, fields = (*missing, "the old engine"), (*fields, "old_engine.mass")
    return Masses((*(() if old is None else (old,)), *items), missing, fields)


def masses_after(case: Case) -> Masses:
    """Return what is aboard with the candidate engine, its twin and its bracket."""
    items, missing, fields = _listed(case, "after")
    listed = {item.kind for item in items}
    bracket = () if "bracket" in listed else _bracket(case)
    return Masses((*new_engines(case), *bracket, *items), missing, fields)


def growth(case: Case) -> Estimate | None:
    """Return new engines less old ones, kg; None while the old one is not known."""
    old = _old_engine(case)
    if old is None:
        return None
    new = total_mass(new_engines(case))
    hung = Reading(new.value, half_width(new.tolerance), engine_mass(case).origin)
    readings = {"new": hung, "old": old.mass}
    return estimate(lambda values: values["new"] - values["old"], readings)


def engine_count(case: Case) -> int:
    """Return how many engines of the candidate's kind are hung: 2 for twins, else 1."""
    return 2 if case.job.neighbour.arrangement == "twins" else 1


def engine_mass(case: Case) -> Reading:
    """Return the mass of one candidate engine: as entered, else the middle of its class."""
    return case.candidate.mass or class_mass(case.engine)


def class_mass(engine: EngineClass) -> Reading:
    """Return the middle of a class's masses, kg, with half their spread as tolerance."""
    low, high = engine.mass_low_kg, engine.mass_high_kg
    return Reading((low + high) / 2.0, (high - low) / 2.0, Origin.CLASS)


def new_engines(case: Case) -> tuple[PlacedMass, ...]:
    """Return the candidate engine, or both twins, where they will hang."""
    ahead, above = _usual_place(case, case.engine, case.setback)
    mass = engine_mass(case)
    one = PlacedMass(
        f"engine {case.candidate.id}", NEW_ENGINE, mass, ahead, above,
        across=case.job.mounting.off_centre or CENTRED,
        fields=("engine.mass",),
    )  # fmt: skip
    if engine_count(case) == 1:
        return (one,)
    spacing = case.job.neighbour.twin_spacing
    half = spacing.value / 2.0 if spacing else 0.0
    sides = (("port", -half), ("starboard", half))
    origin = spacing.origin if spacing else Origin.DEFAULT
    return tuple(
        replace(one, name=f"engine {case.candidate.id}, {side}", across=Reading(off, 3.0, origin))
        for side, off in sides
    )


def _old_engine(case: Case) -> PlacedMass | None:
    """Return the old engine or engines as one mass, None where nothing is known of them."""
    old = case.job.old_engine
    engine = case.catalogue.engine_class(old.engine_class) if old.engine_class else None
    afloat = case.job.afloat.engine_mass
    mass, field = (old.mass, "old_engine.mass") if old.mass else (afloat, "afloat.engine_mass")
    if mass is None and engine is not None:
        mass, field = class_mass(engine), "old_engine.mass"
    if mass is None:
        return None
    count = old.number or 1
    if field == "old_engine.mass" and count > 1:
        mass = replace(mass, value=mass.value * count, tolerance=mass.tolerance * count)
    ahead, above = _usual_place(case, engine or case.engine, Reading(0.0, 0.0, Origin.DEFAULT))
    return PlacedMass(
        OLD_ENGINE, OLD_ENGINE, mass, old.ahead_of_transom or ahead, old.above_keel or above,
        fields=(field,),
    )  # fmt: skip


def _usual_place(
    case: Case, engine: EngineClass, setback: Reading
) -> tuple[Reading, Reading | None]:
    """Return an engine's usual centre: aft of its seat by the midsection, at the cowl's foot.

    The height is None while no transom height is known.
    """
    rake = case.job.transom.rake or Reading(_RAKE_DEG, _RAKE_SPREAD_DEG, Origin.DEFAULT)
    face = case.heights.along_face
    top = face.value if face else engine.legs_mm[0]
    aft = top * math.sin(math.radians(rake.value)) + setback.value + engine.sizes.leg_aft
    spread = math.hypot(ENGINE_PLACE_MM, setback.tolerance)
    ahead = Reading(-aft, spread, Origin.CLASS)
    if face is None:
        return ahead, None
    up = square_height_mm(face.value, rake.value) + engine.sizes.cowl_bottom
    raised = case.bracket_height.value if setback.value else 0.0
    return ahead, Reading(up + raised, ENGINE_PLACE_MM, Origin.CLASS)


def _bracket(case: Case) -> tuple[PlacedMass, ...]:
    """Return the setback bracket of the job's profile, halfway out, where nobody listed one."""
    if case.bracket is None or case.bracket.mass_kg <= 0.0:
        return ()
    kg = case.bracket.mass_kg
    engine_ahead, engine_above = _usual_place(case, case.engine, Reading(0.0))
    halfway = engine_ahead.value + case.engine.sizes.leg_aft - case.setback.value / 2.0
    ahead = Reading(halfway, ENGINE_PLACE_MM, Origin.CLASS)
    above = engine_above and replace(
        engine_above, value=engine_above.value - case.engine.sizes.cowl_bottom - 150.0
    )
    mass = Reading(kg, 0.3 * kg, Origin.CLASS)
    return (PlacedMass("bracket", "bracket", mass, ahead, above, fields=("bracket.kind",)),)


def _listed(
    case: Case, when: str
) -> tuple[tuple[PlacedMass, ...], tuple[str, ...], tuple[str, ...]]:
    """Return the listed masses aboard at a time, what has no mass, and the fields to fill in."""
    placed: list[PlacedMass] = []
    missing: list[str] = []
    fields: list[str] = []
    for number, item in enumerate(case.job.masses, start=1):
        if item.when not in ("both", when):
            continue
        name = item.name or f"{item.kind} {number}"
        found, lacks = _tank(item, name) if item.kind == "fuel tank" else _plain(item, name)
        placed += found
        if lacks:
            missing.append(name)
            fields.append(lacks)
    return tuple(placed), tuple(missing), tuple(dict.fromkeys(fields))


def _plain(item: MassItem, name: str) -> tuple[tuple[PlacedMass, ...], str]:
    if item.mass is None:
        return (), "mass.mass"
    persons = item.persons if item.kind == "crew" else None
    place = _placed(item, name, item.kind, item.mass, ("mass.mass",))
    return (replace(place, persons=persons),), ""


def _tank(item: MassItem, name: str) -> tuple[tuple[PlacedMass, ...], str]:
    """Return a fuel tank as its empty self and its fuel; a level nobody gave is taken as full."""
    found = []
    if item.mass is not None:
        found.append(_placed(item, name, item.kind, item.mass, ("mass.mass",)))
    if item.volume is None:
        return tuple(found), "mass.volume"
    fuel = fuel_mass(item.volume, item.level)
    fields = ("mass.volume", "mass.level")
    found.append(_placed(item, f"fuel in {name}", "fuel", fuel, fields))
    return tuple(found), ""


def fuel_mass(volume: Reading, level: Reading | None) -> Reading:
    """Return the mass of petrol in a tank, kg.

    :param volume: of the full tank, litres.
    :param level: 0 to 1; None is taken as full, and labelled as a customary figure.
    """
    share = level or Reading(1.0, 0.0, Origin.DEFAULT)
    kg = volume.value * share.value * PETROL_KG_L
    spread = math.hypot(
        volume.tolerance * share.value * PETROL_KG_L,
        share.tolerance * volume.value * PETROL_KG_L,
        PETROL_SPREAD_KG_L * volume.value * share.value,
    )
    origin = share.origin if volume.origin.is_firm else volume.origin
    return Reading(kg, spread, origin)


def _placed(
    item: MassItem, name: str, kind: str, mass: Reading, fields: tuple[str, ...]
) -> PlacedMass:
    return PlacedMass(
        name, kind, mass, item.ahead_of_transom, item.above_keel,
        across=item.across or CENTRED,
        is_load=not (item.kind == "fuel tank" and item.tank == "built in"),
        fields=fields,
    )  # fmt: skip
