"""Bolts, strength grades, washers and transom cores, as the standards and handbooks give them.

Lengths in mm, areas in mm2, stresses in MPa (N/mm2). A figure that was not found is None, and
whatever needs it is unknown: nothing is filled in from a neighbour in the table.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.errors import ProfileError
from rigfit.units import INCH_MM, inch_fraction

METRIC_LENGTHS_MM = (
    20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 80.0, 90.0, 100.0, 110.0,
    120.0, 130.0, 140.0, 150.0, 160.0, 180.0, 200.0, 220.0, 240.0, 260.0, 280.0, 300.0,
)  # fmt: skip
"""Preferred lengths of ISO 4014 and ISO 4017 under the head (from memory)."""

INCH_LENGTHS_MM = tuple(
    INCH_MM * quarters / 4.0 for quarters in (*range(4, 17), *range(18, 25, 2), *range(28, 49, 4))
)
"""Stocked lengths of inch bolts: by 1/4 in to 4 in, by 1/2 to 6 in, by 1 to 12 in (custom)."""

METRIC_FITS = ("fine", "medium", "coarse")
INCH_FITS = ("close", "normal", "loose")


def metric_stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Return the stress area of a metric thread, pi/4 (d - 0.9382 P)^2, mm2 (ISO 898-1)."""
    return math.pi / 4.0 * (diameter_mm - 0.9382 * pitch_mm) ** 2


def inch_stress_area_in2(diameter_in: float, threads_per_inch: float) -> float:
    """Return the stress area of an inch thread, 0.7854 (D - 0.9743/n)^2, in2 (ASME B1.1)."""
    return 0.7854 * (diameter_in - 0.9743 / threads_per_inch) ** 2


@dataclass(frozen=True, slots=True)
class Bolt:
    """A hexagon bolt with its nut and its clearance holes. Threads are metric or inch.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key of the clearance holes in ``rigfit.sources.SOURCES``.
    :param nut_source: key of the sizes of head and nut.
    :param diameter_mm: nominal diameter of the thread.
    :param pitch_mm: pitch of a metric thread; None for an inch thread.
    :param threads_per_inch: of an inch thread; None for a metric one.
    :param head_mm: height of the head.
    :param flats_mm: head and nut across the flats.
    :param nut_mm: greatest height of a plain nut.
    :param lock_nut_mm: greatest height of a lock nut with an insert.
    :param holes_mm: drills for the three fits, tightest first; empty where no standard has them.
    :param holes_in: the same as inch drills, for an inch thread.
    :param loose_to_in: largest hole that still counts as the loose fit, inch.
    :param note: anything a buyer should know.
    :raises ProfileError: when it has both kinds of thread, or neither, or no size.
    """

    id: str
    name: str
    source: str
    nut_source: str
    diameter_mm: float
    head_mm: float
    flats_mm: float
    nut_mm: float
    lock_nut_mm: float
    pitch_mm: float | None = None
    threads_per_inch: float | None = None
    holes_mm: tuple[float, ...] = ()
    holes_in: tuple[float, ...] = ()
    loose_to_in: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        threads = [item for item in (self.pitch_mm, self.threads_per_inch) if item is not None]
        sizes = (self.diameter_mm, self.head_mm, self.flats_mm, self.nut_mm, self.lock_nut_mm)
        if len(threads) != 1 or min(*threads, *sizes) <= 0.0:
            raise ProfileError(
                f"the bolt {self.id[:40]} has no complete size",
                allowed="sizes above zero, and either pitch_mm or threads_per_inch",
                cure="correct its table",
                where="bolts.toml",
            )

    @property
    def is_metric(self) -> bool:
        """True for a metric thread."""
        return self.pitch_mm is not None

    @property
    def thread_mm(self) -> float:
        """The pitch: from one thread to the next."""
        if self.pitch_mm is not None:
            return self.pitch_mm
        return INCH_MM / (self.threads_per_inch or 1.0)

    @property
    def stress_area_mm2(self) -> float:
        """The area that carries tension, by the formula of its own standard."""
        if self.threads_per_inch is not None:
            area = inch_stress_area_in2(self.diameter_mm / INCH_MM, self.threads_per_inch)
            return area * INCH_MM**2
        return metric_stress_area_mm2(self.diameter_mm, self.thread_mm)

    @property
    def fits(self) -> tuple[str, ...]:
        """Names of the three fits of a clearance hole, tightest first."""
        return METRIC_FITS if self.is_metric else INCH_FITS

    @property
    def lengths_mm(self) -> tuple[float, ...]:
        """The lengths it is stocked in, shortest first."""
        return METRIC_LENGTHS_MM if self.is_metric else INCH_LENGTHS_MM

    def threaded_mm(self, length_mm: float) -> float:
        """Return how much of a bolt of this length carries thread, from its end.

        ISO 888: 2 d + 6 up to 125 mm, 2 d + 12 up to 200, 2 d + 25 above. ASME B18.2.1: 2 D +
        1/4 in up to 6 in, 2 D + 1/2 above. Both from memory. Never more than the length.
        """
        if self.is_metric:
            more = 6.0 if length_mm <= 125.0 else 12.0 if length_mm <= 200.0 else 25.0
        else:
            more = INCH_MM * (0.25 if length_mm <= 6.0 * INCH_MM + 1e-9 else 0.5)
        return min(length_mm, 2.0 * self.diameter_mm + more)

    def length_words(self, length_mm: float) -> str:
        """Return a length as it is asked for over a counter: "90 mm", "3 1/2 in (89 mm)"."""
        if self.is_metric:
            return f"{length_mm:g} mm"
        return f"{inch_fraction(length_mm)} in ({length_mm:.0f} mm)"

    def next_length_mm(self, needed_mm: float) -> float | None:
        """Return the shortest stocked length that is not shorter; None beyond the longest."""
        return next((item for item in self.lengths_mm if item >= needed_mm - 1e-9), None)


@dataclass(frozen=True, slots=True)
class BoltGrade:
    """Material and strength of a bolt.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key of the tensile strength in ``rigfit.sources.SOURCES``.
    :param proof_source: key of what preload and loads are counted from.
    :param metal: "stainless" or "steel".
    :param tensile_mpa: least tensile strength, or None.
    :param yield_mpa: 0.2 % proof stress or yield, or None.
    :param proof_mpa: stress of the proof load where its standard has one, or None.
    :param note: anything a buyer should know.
    """

    id: str
    name: str
    source: str
    proof_source: str
    metal: str
    tensile_mpa: float | None = None
    yield_mpa: float | None = None
    proof_mpa: float | None = None
    note: str = ""

    @property
    def is_stainless(self) -> bool:
        """True for stainless steel, which galls and keeps apart from aluminium."""
        return self.metal == "stainless"

    @property
    def held_mpa(self) -> float | None:
        """The stress borne without lasting stretch: proof stress, else yield; None if neither."""
        return self.proof_mpa if self.proof_mpa is not None else self.yield_mpa


@dataclass(frozen=True, slots=True)
class Washer:
    """A flat washer.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param bore_mm: its hole.
    :param outer_mm: its outer diameter.
    :param thickness_mm: nominal.
    :param note: anything a buyer should know.
    """

    id: str
    name: str
    source: str
    bore_mm: float
    outer_mm: float
    thickness_mm: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Core:
    """What the transom is made of between its skins.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param material: "wood", "treated wood", "laminate", "aluminium" or "foam".
    :param bearing_mpa: pressure square to the face, or None where no figure was found.
    :param basis: what that figure is: "allowable", "proportional limit", "proof stress" or "".
    :param note: anything an owner should know.
    """

    id: str
    name: str
    source: str
    material: str
    bearing_mpa: float | None = None
    basis: str = ""
    note: str = ""
