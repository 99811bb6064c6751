"""The transom as measured: its two heights, the keel line under a straightedge, the leg tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from rigfit.rigging.plate_height import along_face_mm, square_height_mm
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate

HOOK_NOTICE_MM = 3.0
HOOK_STOP_MM = 6.35
"""A quarter of an inch over 8 in spoilt the handling of a boat (owners' reports, read)."""

GAP_STATIONS_MM = (0.0, 150.0, 300.0, 600.0, 900.0)


@dataclass(frozen=True, slots=True)
class Heights:
    """Transom height from one or two tape readings.

    :param along_face: height along the face, from whichever was read; None when neither can be.
    :param disagreement: square reading minus the square height computed from the face reading;
        None unless both and the rake were read.
    :param conflict: True when they disagree by more than their tolerance.
    """

    along_face: Reading | None
    disagreement: Estimate | None = None
    conflict: bool = False


def combine_heights(face: Reading | None, square: Reading | None, rake: Reading | None) -> Heights:
    """Return the transom height along the face from the readings there are.

    The reading along the face leads. Where both were taken and agree, it is used as it is; where
    they disagree beyond their tolerance, the middle of the two is used and its tolerance widened
    to reach both, so that no verdict rests on the wrong one.
    """
    if square is None:
        return Heights(face)
    if rake is None:
        return Heights(face)
    if face is None:
        found = estimate(
            lambda values: along_face_mm(values["square"], values["rake"]),
            {"square": square, "rake": rake},
        )
        return Heights(Reading(found.value, square.tolerance, square.origin, square.typed))
    difference = estimate(
        lambda values: values["square"] - square_height_mm(values["face"], values["rake"]),
        {"square": square, "face": face, "rake": rake},
    )
    if abs(difference.value) <= difference.tolerance:
        return Heights(face, difference)
    other = along_face_mm(square.value, rake.value)
    half = abs(other - face.value) / 2.0
    middle = Reading(
        (other + face.value) / 2.0, half + max(face.tolerance, square.tolerance), Origin.MEASURED
    )
    return Heights(middle, difference, conflict=True)


class Bottom(Enum):
    """The shape a straightedge finds."""

    STRAIGHT = "straight"
    HOOK = "hook"
    ROCKER = "rocker"


@dataclass(frozen=True, slots=True)
class KeelShape:
    """What the gaps under the straightedge say.

    :param bottom: hook (hollow in the middle), rocker (round), or straight.
    :param depth: greatest departure from the line between the two ends of the straightedge, mm.
    :param station_mm: where, ahead of the transom.
    :param stations_mm: the stations that were read.
    """

    bottom: Bottom
    depth: Estimate
    station_mm: float
    stations_mm: tuple[float, ...] = ()


def keel_shape(gaps: Mapping[float, Reading]) -> KeelShape | None:
    """Return the shape of the keel line from gaps by station (mm ahead of the transom).

    Needs the gap at the transom, one at 600 mm or beyond, and one between; else None. The edge may
    rest anywhere: only the departure from the line through its two ends counts.
    """
    stations = sorted(gaps)
    if len(stations) < 3 or stations[0] != 0.0 or stations[-1] < 600.0:
        return None
    last = stations[-1]

    def departure(station: float) -> Estimate:
        part = station / last
        return estimate(
            lambda values: (
                values["here"] - (values["transom"] * (1.0 - part) + values["ahead"] * part)
            ),
            {"here": gaps[station], "transom": gaps[0.0], "ahead": gaps[last]},
        )

    found = {station: departure(station) for station in stations[1:-1]}
    worst_at = max(found, key=lambda station: abs(found[station].value))
    deepest = found[worst_at]
    if abs(deepest.value) <= deepest.tolerance:
        bottom = Bottom.STRAIGHT
    else:
        bottom = Bottom.HOOK if deepest.value > 0.0 else Bottom.ROCKER
    depth = Estimate(abs(deepest.value), deepest.tolerance, deepest.shares)
    return KeelShape(bottom, depth, worst_at, tuple(stations))


@dataclass(frozen=True, slots=True)
class LegBand:
    """One row of a trade table: transom heights that are said to take a leg.

    :param low_mm: lowest transom height, square to the keel line.
    :param high_mm: highest transom height.
    :param leg_mm: nominal leg.
    """

    low_mm: float
    high_mm: float
    leg_mm: float


def _inches(*rows: tuple[float, float, float]) -> tuple[LegBand, ...]:
    return tuple(LegBand(low * 25.4, high * 25.4, leg * 25.4) for low, high, leg in rows)


LEG_TABLES: dict[str, tuple[LegBand, ...]] = {
    "leg-table-a": _inches((14, 17.25, 15), (19.5, 22.5, 20), (22.5, 27, 25)),
    "leg-table-b": _inches((15, 17, 15), (19, 21, 20), (24, 26, 25), (30, 30, 30)),
}
"""Two published tables (read); they leave gaps, which are answered with None, not rounded."""


def legs_in_table(table: str, height_square_mm: float) -> tuple[float, ...]:
    """Return the nominal legs, mm, that a trade table gives for a transom height; () in a gap."""
    return tuple(
        band.leg_mm for band in LEG_TABLES[table] if band.low_mm <= height_square_mm <= band.high_mm
    )


def distance_to_leg_mm(table: str, height_square_mm: float, leg_mm: float) -> float | None:
    """Return how far inside (+) or outside (-) a leg's band a transom height is, mm.

    None when the table has no row for that leg.
    """
    margins = [
        min(height_square_mm - band.low_mm, band.high_mm - height_square_mm)
        for band in LEG_TABLES[table]
        if abs(band.leg_mm - leg_mm) < 1.0
    ]
    return max(margins, default=None)


WEDGES_DEG = (3.0, 5.0)
RAKE_LOW_DEG = 12.0
RAKE_HIGH_DEG = 16.0


def wedge_deg(rake_deg: float) -> float:
    """Return the wedge that brings a rake nearest to 12-16 deg: 0, 3 or 5, negative for too much.

    Positive wedges go in with the thick end up and let the engine tuck further under; they cost as
    much at the other end of the trim range.
    """
    if RAKE_LOW_DEG <= rake_deg <= RAKE_HIGH_DEG:
        return 0.0
    sign = 1.0 if rake_deg < RAKE_LOW_DEG else -1.0
    for wedge in WEDGES_DEG:
        if RAKE_LOW_DEG <= rake_deg + sign * wedge <= RAKE_HIGH_DEG:
            return sign * wedge
    return sign * WEDGES_DEG[-1]
