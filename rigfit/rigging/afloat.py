"""How the boat of a job floats before and after the change of engine, every number with tolerance.

Heights read afloat fix the water as it is now; what she weighs and where follows from the hull.
Then what came off is taken out, what goes on is put in, and only the change is left to the model.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

from rigfit.errors import JobError
from rigfit.rigging.case import Case, CaseKey
from rigfit.rigging.findings import Amount, mm, phrase
from rigfit.rigging.floated import Flotation as Flotation
from rigfit.rigging.floated import MarkHeight as MarkHeight
from rigfit.rigging.floated import Trouble as Trouble
from rigfit.rigging.flotation import (
    DENSITY_KG_L,
    Floating,
    Plane,
    Pod,
    PointMass,
    at_plane,
    equilibrium,
    load_afloat,
    load_of,
    plane_for_mass,
)
from rigfit.rigging.hull_fields import Afloat, Hull, WaterMark
from rigfit.rigging.hull_form import HullForm
from rigfit.rigging.hull_readings import ReadingBook, Values, form_of, take_hull, transom_top
from rigfit.rigging.masses import (
    NEW_ENGINE,
    OLD_ENGINE,
    PERSON_KG,
    PETROL_KG_L,
    PlacedMass,
    class_mass,
    masses_after,
    masses_before,
)
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import COVERAGE, Estimate, Share, standard_uncertainty

Place = Callable[[Values], tuple[float, float]]

LEVEL = Reading(0.0, 1.0, Origin.DEFAULT)
"""Trim, deg, of a boat of which one height alone was read afloat."""

MANY_HULLS = ("catamaran", "pontoon", "tunnel")
"""Kinds of hull that one row of sections does not describe."""

_PLACES = {"transom_top": "transom top", "amidships": "sheer amidships", "bow": "stem head"}
_FORM_FIELDS = (
    "transom.rake", "face.chine_width", "hull.sheer_beam", "hull.deadrise_amidships",
    "hull.depth_aft", "hull.depth_amidships", "hull.depth_bow", "hull.centre_height",
)  # fmt: skip
_AFT_MOST_MM = 2500.0
_AHEAD_MOST_MM = 500.0


def is_entered(case: Case) -> bool:
    """True when anything about hull or flotation is filled in."""
    job = case.job
    plain = (job.hull, job.afloat) == (Hull(), Afloat(water=job.afloat.water))
    return not plain or bool(job.marks or job.stations or job.offsets)


def flotation_of(case: Case) -> Flotation | Trouble | None:
    """Return how she floats; None where nothing about it is entered, else what stands in the way.

    The last few answers are remembered, so that every check may ask.
    """
    if not is_entered(case):
        return None
    job = case.job
    key = CaseKey(
        case, job.boat, job.transom, job.bracket, job.mounting, job.face, job.hull, job.afloat,
        job.marks, job.stations, job.offsets, job.engines, job.masses, job.old_engine,
        job.neighbour,
    )  # fmt: skip
    return _worked_out(key)


@lru_cache(maxsize=32)
def _worked_out(key: CaseKey) -> Flotation | Trouble:
    model = _Model(key.case)
    trouble = model.missing()
    if trouble is not None:
        return trouble
    try:
        return model.result()
    except JobError as error:
        return Trouble(
            phrase("How she floats cannot be worked out: {why}.", why=_why(error)),
            (_field(error.where),),
            phrase("{cure}.", cure=_sentence(error.cure or error.allowed)),
        )


def _field(where: str) -> str:
    return ".".join(part.strip() for part in where.split(",")) if "," in where else where


def _why(error: JobError) -> str:
    """Return what is wrong, with what would be right where the cure does not say it."""
    both = error.cure and error.allowed
    return f"{error.problem} ({error.allowed})" if both else error.problem


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


class _Model:
    """The readings of one case and the calculation that turns their values into heights."""

    def __init__(self, case: Case) -> None:
        self.case, self.job = case, case.job
        self.book = ReadingBook()
        self.density = DENSITY_KG_L[self.job.afloat.water]
        take_hull(self.book, case)
        self.is_same = bool(self.job.afloat.engine) and (
            self.job.afloat.engine == case.candidate.id
        )
        self.level_points = self._levels()
        self._gather_masses()
        self.marks = self._marks()

    # ------------------------------------------------------------------ masses

    def _gather_masses(self) -> None:
        """Note what comes off and what goes on; without heights afloat, all that is aboard."""
        before, after = masses_before(self.case), masses_after(self.case)
        old = list(before.items)
        hung = _hung(self.case)
        if hung is not None:
            sample = next(item for item in after.items if item.kind == NEW_ENGINE)
            model = next((item for item in old if item.kind == OLD_ENGINE), None)
            taken = model or replace(sample, name=OLD_ENGINE, kind=OLD_ENGINE)
            old = [item for item in old if item.kind != OLD_ENGINE]
            old.insert(0, replace(taken, mass=hung, fields=("afloat.engine",)))
        self.old_known = any(item.kind == OLD_ENGINE for item in old)
        self.aboard_kg = self._aboard_then_kg(old)
        common = [item for item in old if item in after.items] if self.level_points else []
        gone = [item for item in old if item not in common]
        come = [item for item in after.items if item not in common]
        if self.is_same:
            gone = [item for item in gone if item.kind != OLD_ENGINE]
            come = [item for item in come if item.kind not in (NEW_ENGINE, "bracket")]
        self.gone, self.come = self._noted(gone, "out"), self._noted(come, "in")
        unknown = {*before.missing, *after.missing} - {"the old engine"}
        self.unplaced = tuple(item.name for item in (*gone, *come) if item.ahead is None)
        self.uncounted = (*sorted(unknown), *self.unplaced)

    def _aboard_then_kg(self, old: list[PlacedMass]) -> float:
        """Return what was aboard when the heights were read: people and fuel as noted then."""
        afloat = self.job.afloat
        kg = math.fsum(item.mass.value for item in old if item.kind not in ("crew", "fuel"))
        if afloat.fuel is not None:
            kg += afloat.fuel.value * PETROL_KG_L
        else:
            kg += math.fsum(item.mass.value for item in old if item.kind == "fuel")
        return kg + PERSON_KG * (afloat.people or 0)

    def _noted(self, items: list[PlacedMass], way: str) -> tuple[tuple[str, str, str], ...]:
        """Note the readings of masses; return (name, key of its mass, key of its place)."""
        noted = []
        for number, item in enumerate(items):
            if item.ahead is None:
                continue
            place = f"{way}{number}"
            # Twins have one mass and one place along between them.
            mass = "engine.mass" if item.kind == NEW_ENGINE else f"{place}.mass"
            self.book.readings[mass] = item.mass
            self.book.readings[f"{place}.ahead"] = item.ahead
            high = item.above or self.book.readings["hull.centre_height"]
            self.book.readings[f"{place}.above"] = high
            self.book.readings[f"{place}.across"] = item.across
            noted.append((item.name, mass, place))
        return tuple(noted)

    def masses(
        self, noted: tuple[tuple[str, str, str], ...], values: Values
    ) -> tuple[PointMass, ...]:
        """Return noted masses for some values."""
        return tuple(
            PointMass(name, values[mass], values[f"{place}.ahead"], values[f"{place}.above"],
                      values[f"{place}.across"])
            for name, mass, place in noted
        )  # fmt: skip

    # ------------------------------------------------------------------ heights read afloat

    def _levels(self) -> list[tuple[str, Place]]:
        """Return (name, place of it) for every height read afloat of a point whose height is known.

        The place gives x and z of the water there.
        """
        afloat, hull = self.job.afloat, self.job.hull
        points: list[tuple[str, Place]] = []
        if (
            self.book.take("afloat.transom_top", afloat.transom_top)
            and self.case.heights.along_face
        ):
            points.append(("afloat.transom_top", _transom_water))
        for name, depth, share in (
            ("amidships", "depth_amidships", 0.5),
            ("bow", "depth_bow", 1.0),
        ):
            key = f"afloat.{name}"
            if self.book.take(key, getattr(afloat, name)) and getattr(hull, depth) is not None:
                points.append((key, _depth_water(key, f"hull.{depth}", share)))
        for number, mark in enumerate(self.job.marks):
            if mark.above_water is None or (mark.height is None and mark.below_top is None):
                continue
            if mark.below_top is not None and not self.case.heights.along_face:
                continue
            points.append((f"mark{number}", self._mark_water(number)))
        return points

    def _mark_water(self, number: int) -> Place:
        def place(values: Values) -> tuple[float, float]:
            x, z = self._mark_point(number, values)
            return x, z - values[f"mark{number}.above_water"]

        return place

    def _marks(self) -> list[tuple[str, WaterMark]]:
        """Return every mark with its key: the transom top first, those of the afloat table next."""
        afloat = self.job.afloat
        found = [
            ("transom_top", WaterMark("transom top", "transom notch")),
            ("scupper", WaterMark("scupper", "scupper", above_water=afloat.scupper)),
            ("well_sill", WaterMark("sill of the well", "well sill", above_water=afloat.well_sill)),
        ]
        if self.case.heights.along_face is None and afloat.transom_top is None:
            found.pop(0)
        kept = [item for item in found if item[0] == "transom_top" or item[1].above_water]
        for key, mark in kept:
            if mark.above_water is not None:
                self.book.take(f"afloat.{key}", mark.above_water)
        for number, mark in enumerate(self.job.marks):
            for name in ("height", "below_top", "above_water", "ahead", "across"):
                reading = getattr(mark, name)
                if reading is not None:
                    self.book.readings[f"mark{number}.{name}"] = reading
            kept.append((f"mark{number}", mark))
        return kept

    # ------------------------------------------------------------------ what is missing

    def missing(self) -> Trouble | None:
        """Return the first thing without which nothing can be said, or None."""
        have = self.book.readings
        if self.job.boat.hull_kind in MANY_HULLS:
            return Trouble(
                phrase("How a boat on more than one hull floats is not worked out here."),
                ("boat.hull_kind",),
                phrase("Float her with the test mass on the transom and read the heights."),
            )
        if "boat.length" not in have:
            return _ask("length of the hull", "boat.length")
        if not (self.job.stations or self.job.offsets):
            if "hull.chine_beam" not in have:
                return _ask("beam between the chines", "hull.chine_beam")
            if "boat.deadrise" not in have and "hull.chine_height_aft" not in have:
                return _ask("deadrise at the transom", "boat.deadrise")
        if not self.level_points and not {"hull.mass", "hull.centre_ahead"} <= set(have):
            return _ask(
                "height of the transom top above the water, and that of the stem head, read "
                "afloat in calm water,",
                "afloat.transom_top",
            )
        if self.level_points and not (self.old_known or self.is_same):
            return _ask("mass of the engine that hung on her then", "afloat.engine_mass")
        return self._wrong()

    def _wrong(self) -> Trouble | None:
        """Return what cannot be as it was entered, or None."""
        afloat, long = self.job.afloat, self.book.readings["boat.length"].value
        ids = [candidate.id for candidate in self.job.engines]
        if afloat.engine and afloat.engine not in ids and afloat.engine.casefold() != "none":
            known = ", ".join(ids)
            return _doubt(
                'the engine that hung on her then is named "{engine}"; known are {known} and none',
                "afloat.engine",
                engine=afloat.engine, known=known,
            )  # fmt: skip
        for name in ("transom_top", "amidships", "bow"):
            reading = getattr(afloat, name)
            if reading is not None and reading.value <= 0.0:
                return _doubt(
                    "the water stands {under} over the {place} by what was read afloat",
                    f"afloat.{name}",
                    under=mm(-reading.value), place=_PLACES[name],
                )  # fmt: skip
        for items, noted in ((self.come, "goes aboard"), (self.gone, "came out")):
            for name, _, place in items:
                ahead = self.book.readings[f"{place}.ahead"].value
                if not -_AFT_MOST_MM <= ahead <= long + _AHEAD_MOST_MM:
                    return _doubt(
                        "{name}, which {noted}, stands {ahead} ahead of the transom, outside the "
                        "hull of {long}",
                        "mass.ahead_of_transom",
                        name=name, noted=noted, ahead=mm(ahead), long=mm(long),
                    )  # fmt: skip
        return None

    # ------------------------------------------------------------------ the calculation

    def water_now(self, values: Values, form: HullForm) -> Plane:
        """Return the water as it lies now, through the two outermost heights read afloat."""
        points = sorted(place(values) for _, place in self.level_points)
        (x0, z0), (x1, z1) = points[0], points[-1]
        if x1 - x0 > 0.25 * form.length_mm:
            slope = (z1 - z0) / (x1 - x0)
            return Plane(z0 - slope * x0, slope)
        near_an_end = abs(x0 / form.length_mm - 0.5) > 0.25
        if "hull.mass" in values and near_an_end:
            return plane_for_mass(form, x0, z0, self._mass_now(values), self.density)
        slope = -math.tan(math.radians(values["level"]))
        return Plane(z0 - slope * x0, slope)

    def _mass_now(self, values: Values) -> float:
        return values["hull.mass"] + math.fsum(
            item.mass_kg for item in self.masses(self.gone, values)
        )

    def pods(self) -> tuple[Pod, ...]:
        """Return the pod of the new mounting, when all of it is measured."""
        hull = self.job.hull
        parts = (hull.pod_volume, hull.pod_aft, hull.pod_bottom, hull.pod_height)
        if self.case.bracket is None or self.is_same or any(part is None for part in parts):
            return ()
        volume, aft, bottom, height = (part.value for part in parts if part is not None)
        return (Pod(volume, -aft, bottom, height),)

    def states(
        self, values: Values, start: Plane | None = None
    ) -> tuple[HullForm, Floating | None, Floating]:
        """Return the hull, how she floats now (None if not known) and afterwards."""
        form = form_of(self.job, values)
        gone, come = self.masses(self.gone, values), self.masses(self.come, values)
        high, pods = values["hull.centre_height"], self.pods()
        if self.level_points:
            plane = self.water_now(values, form)
            load = load_afloat(form, plane, high, self.density)
            before = at_plane(form, load, plane)
            load = load.changed(come, gone)
            return form, before, equilibrium(form, load, self.density, pods, start or plane)
        bare = PointMass("bare boat", values["hull.mass"], values["hull.centre_ahead"], high)
        after = equilibrium(form, load_of((bare, *come)), self.density, pods, start)
        if not self.old_known:
            return form, None, after
        return form, equilibrium(form, load_of((bare, *gone)), self.density), after

    def _mark_point(self, number: int, values: Values) -> tuple[float, float]:
        key = f"mark{number}"
        if f"{key}.height" in values:
            z = values[f"{key}.height"]
        else:
            down = values[f"{key}.below_top"]
            z = (values["transom.height_along_face"] - down) * _cos(values)
        ahead = values.get(f"{key}.ahead")
        return (-z * _tan(values) if ahead is None else ahead), z

    def mark_place(
        self, key: str, mark: WaterMark, values: Values, before: Floating | None
    ) -> tuple[float, float, float] | None:
        """Return x, y, z of a mark; None when its height is not known."""
        y = values.get(f"{key}.across", 0.0)
        above = values.get(f"{key}.above_water", values.get(f"afloat.{key}"))
        if above is not None and before is not None:
            lean = math.hypot(1.0, before.plane.slope_ahead)
            aft = -(before.plane.at(0.0, y) + above * lean) * _tan(values)
            x = values.get(f"{key}.ahead", aft)
            return x, y, before.plane.at(x, y) + above * lean
        if key == "transom_top" and "transom.height_along_face" in values:
            x, z = transom_top(values)
            return x, y, z
        has_top = mark.below_top is not None and "transom.height_along_face" in values
        if not key.startswith("mark") or (mark.height is None and not has_top):
            return None
        x, z = self._mark_point(int(key.removeprefix("mark")), values)
        return x, y, z

    def outputs(self, values: Values, start: Plane | None = None) -> dict[str, float]:
        """Return every number that is reported, by name."""
        form, before, after = self.states(values, start)
        out = {"list": after.plane.list_deg}
        if before is not None:
            out["stern"] = after.plane.at(0.0) - before.plane.at(0.0)
            out["bow"] = after.plane.at(form.length_mm) - before.plane.at(form.length_mm)
            out["trim"] = after.plane.trim_deg - before.plane.trim_deg
        for key, mark in self.marks:
            place = self.mark_place(key, mark, values, before)
            if place is not None:
                out[f"height {key}"] = after.plane.above_mm(*place)
                if before is not None:
                    out[f"now {key}"] = before.plane.above_mm(*place)
        return out

    # ------------------------------------------------------------------ the result

    def result(self) -> Flotation:
        """Return everything, with tolerances by moving each reading in turn (GUM)."""
        if self.level_points and "level" not in self.book.readings:
            self.book.readings["level"] = LEVEL
        values = {key: reading.value for key, reading in self.book.readings.items()}
        form, before, after = self.states(values)
        found = self._estimates(values, after.plane)
        return Flotation(
            form=form,
            density_kg_l=self.density,
            pods=self.pods(),
            before=before,
            after=after,
            removed=self.masses(self.gone, values),
            added=self.masses(self.come, values),
            marks=self._mark_heights(values, before, found),
            stern_mm=found.get("stern"),
            bow_mm=found.get("bow"),
            trim_change_deg=found.get("trim"),
            list_deg=found["list"],
            is_anchored=bool(self.level_points),
            rake_deg=values["transom.rake"],
            needs=tuple(dict.fromkeys(self.book.entered)),
            is_firm=self._is_firm(),
            uncounted=self.uncounted,
            misfit_mm=self._misfit_mm(values, before),
            bare_kg=self._bare_kg(before),
            said_bare_kg=said.value if (said := self.job.hull.mass) else None,
            usual=tuple(key for key in _FORM_FIELDS if self._is_usual(key)),
        )

    def _is_usual(self, key: str) -> bool:
        reading = self.book.readings.get(key)
        return reading is not None and not reading.origin.is_firm

    def _misfit_mm(self, values: Values, before: Floating | None) -> float | None:
        if before is None or len(self.level_points) < 3:
            return None
        places = sorted(place(values) for _, place in self.level_points)
        gaps = [z - before.plane.at(x) for x, z in places[1:-1]]
        return max(gaps, key=abs)

    def _bare_kg(self, before: Floating | None) -> float | None:
        if before is None or len(self.level_points) < 2 or self.is_same:
            return None
        return before.load.mass_kg - self.aboard_kg

    def _is_firm(self) -> bool:
        """Tell whether what decides was taken from this boat."""
        deciding = {"boat.length", "hull.chine_beam", "boat.deadrise", "hull.chine_height_aft"}
        deciding |= {mass for _, mass, _ in (*self.gone, *self.come)}
        readings = self.book.readings
        firm = all(readings[key].origin.is_firm for key in deciding if key in readings)
        return firm and bool(self.level_points) and not self.uncounted

    def _mark_heights(
        self, values: Values, before: Floating | None, found: Mapping[str, Estimate]
    ) -> tuple[MarkHeight, ...]:
        marks = []
        for key, mark in self.marks:
            place = self.mark_place(key, mark, values, before)
            if place is None:
                continue
            read = f"{key}.above_water" in values or f"afloat.{key}" in values
            own = f"afloat.{key}" if not key.startswith("mark") else "mark.above_water"
            marks.append(
                MarkHeight(
                    mark.name or mark.kind, mark.kind, *place,
                    before.plane.above_mm(*place) if before else None,
                    found[f"height {key}"], (own, "engine.mass"), read,
                    found[f"now {key}"].tolerance if before else 0.0,
                )
            )  # fmt: skip
        return tuple(marks)

    def _estimates(self, values: Values, start: Plane) -> dict[str, Estimate]:
        middle = self.outputs(values, start)
        shares: dict[str, list[Share]] = {name: [] for name in middle}
        for key, reading in self.book.readings.items():
            step = standard_uncertainty(reading.tolerance)
            if step == 0.0:
                for name in middle:
                    shares[name].append(Share(key, reading, 0.0))
                continue
            high = self.outputs({**values, key: values[key] + step}, start)
            low = self.outputs({**values, key: values[key] - step}, start)
            for name in middle:
                spread = COVERAGE * (high[name] - low[name]) / 2.0
                shares[name].append(Share(key, reading, spread))
        return {
            name: Estimate(value, math.hypot(*(s.spread for s in shares[name])),
                           tuple(shares[name]))
            for name, value in middle.items()
        }  # fmt: skip


def _cos(values: Values) -> float:
    return math.cos(math.radians(values["transom.rake"]))


def _tan(values: Values) -> float:
    return math.tan(math.radians(values["transom.rake"]))


def _transom_water(values: Values) -> tuple[float, float]:
    x, z = transom_top(values)
    return x, z - values["afloat.transom_top"]


def _depth_water(key: str, depth: str, share: float) -> Callable[[Values], tuple[float, float]]:
    return lambda values: (share * values["boat.length"], values[depth] - values[key])


def _hung(case: Case) -> Reading | None:
    """Return the mass of the engine named as the one she was read afloat with, or None."""
    named = case.job.afloat.engine
    if named.casefold() == "none":
        return Reading(0.0)
    for candidate in case.job.engines:
        if named and candidate.id == named:
            kind = case.catalogue.engine_class(candidate.engine_class)
            return candidate.mass or case.job.afloat.engine_mass or class_mass(kind)
    return None


def _ask(what: str, key: str) -> Trouble:
    return Trouble(
        phrase("How she floats cannot be said without the {what}.", what=what.rstrip(",")),
        (key,),
        phrase("Measure the {what} and enter it.", what=what.rstrip(",")),
    )


def _doubt(what: str, key: str, **amounts: Amount | str) -> Trouble:
    return Trouble(
        phrase(f"How she floats cannot be worked out: {what}.", **amounts),
        (key,),
        phrase("Look at that reading again."),
    )
