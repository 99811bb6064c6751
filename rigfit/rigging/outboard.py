"""Generic outboard classes: what stands in for a measurement until somebody takes it."""

from __future__ import annotations

from dataclasses import dataclass

CLASS_GEAR_SPREAD = 0.2
"""Half-width of a gear ratio typical of a class (estimate)."""


@dataclass(frozen=True, slots=True)
class EngineSizes:
    """Outline of an engine with the plate level, for drawing and first clearance looks.

    All lengths in mm. Forward and aft are counted from the seat, heights above it; with the plate
    level, at the rake the leg is stated for.

    :param cowl_length: fore and aft.
    :param cowl_height: from the cowl's lower edge to its top.
    :param cowl_breadth: athwart.
    :param cowl_bottom: lower edge of the cowl above the seat.
    :param cowl_forward: foremost point of the cowl, forward of the seat.
    :param leg_breadth: midsection, fore and aft.
    :param leg_aft: centre of the midsection aft of the seat.
    :param plate_length: anti-ventilation plate, fore and aft.
    :param plate_aft: aft edge of the plate, aft of the seat.
    :param gearcase_length: torpedo, nose to propeller.
    :param gearcase_diameter: torpedo.
    :param shaft_below_plate: propeller shaft below the plate.
    :param skeg_below_plate: lower tip of the skeg below the plate.
    :param propeller_diameter: propeller.
    :param propeller_aft: front of the propeller hub, aft of the seat.
    """

    cowl_length: float
    cowl_height: float
    cowl_breadth: float
    cowl_bottom: float
    cowl_forward: float
    leg_breadth: float
    leg_aft: float
    plate_length: float
    plate_aft: float
    gearcase_length: float
    gearcase_diameter: float
    shaft_below_plate: float
    skeg_below_plate: float
    propeller_diameter: float
    propeller_aft: float


@dataclass(frozen=True, slots=True)
class EngineClass:
    """A generic class of outboards.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param power_low_kw: weakest of the class.
    :param power_high_kw: strongest of the class.
    :param legs_mm: nominal leg lengths the class is sold with.
    :param mass_low_kg: lightest met, shortest leg.
    :param mass_high_kg: heaviest met, longest leg.
    :param pattern: id of its hole pattern.
    :param axis_out_mm: tilt axis outward from the seat, square to the face.
    :param axis_up_mm: tilt axis above the seat, along the face.
    :param axis_tolerance_mm: half-width of what both may differ by within the class.
    :param leg_rake_deg: rake for which leg and trim limits are stated.
    :param trim_in_deg: plate fully in, at that rake (negative: propeller under the boat).
    :param trim_out_deg: end of the running trim, at that rake.
    :param tilt_deg: plate at full tilt, at that rake.
    :param steering_lock_deg: each way.
    :param wot_low_rpm: lower end of the maker's band at wide open throttle, typical.
    :param wot_high_rpm: upper end of it.
    :param gear_ratio: typical.
    :param sizes: outline.
    :param note: anything an owner should know about the class.
    """

    id: str
    name: str
    source: str
    power_low_kw: float
    power_high_kw: float
    legs_mm: tuple[float, ...]
    mass_low_kg: float
    mass_high_kg: float
    pattern: str
    axis_out_mm: float
    axis_up_mm: float
    axis_tolerance_mm: float
    leg_rake_deg: float
    trim_in_deg: float
    trim_out_deg: float
    tilt_deg: float
    steering_lock_deg: float
    wot_low_rpm: float
    wot_high_rpm: float
    gear_ratio: float
    sizes: EngineSizes
    note: str = ""


@dataclass(frozen=True, slots=True)
class LegClass:
    """What the trade calls a leg length, and how far real legs of that name spread.

    :param name: "long (20 in)" ...
    :param nominal_mm: the name's own figure.
    :param low_mm: shortest met under that name.
    :param high_mm: longest met under that name.
    """

    name: str
    nominal_mm: float
    low_mm: float
    high_mm: float


LEG_CLASSES: tuple[LegClass, ...] = (
    LegClass("short (15 in)", 381.0, 381.0, 445.0),
    LegClass("long (20 in)", 508.0, 508.0, 572.0),
    LegClass("extra long (25 in)", 635.0, 635.0, 703.0),
    LegClass("ultra long (30 in)", 762.0, 737.0, 787.0),
)
"""Nominal 15, 20, 25 and 30 in; spreads from one dealer's list of real legs (read), with the
nominal length as lower end; for 30 in the list has one figure, so 25 mm either way (estimate)."""


def leg_class_of(stated_mm: float) -> LegClass | None:
    """Return the leg class a stated length belongs to, or None between classes.

    A stated length within 10 mm of the nominal, or inside the class's spread, counts.
    """
    for leg in LEG_CLASSES:
        if leg.low_mm - 10.0 <= stated_mm <= leg.high_mm:
            return leg
    return None
