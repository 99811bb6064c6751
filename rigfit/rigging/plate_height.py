"""Where the anti-ventilation plate ends up: the frames and the one equation behind every height.

Keel frame (side view): origin at the heel, x aft, z up, square to the keel line, which is z = 0 for
x <= 0. With rake r the face runs along t = (sin r, cos r) and its outward normal is
n = (cos r, -sin r). Lengths in mm, angles in degrees at the border.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from rigfit.rigging.bracket import Arms

Point: TypeAlias = tuple[float, float]


def along_face(rake_deg: float) -> Point:
    """Return t, the unit vector up the transom face, as (x, z) in the keel frame."""
    rake = math.radians(rake_deg)
    return math.sin(rake), math.cos(rake)


def outward(rake_deg: float) -> Point:
    """Return n, the unit vector outward from the transom face, as (x, z) in the keel frame."""
    rake = math.radians(rake_deg)
    return math.cos(rake), -math.sin(rake)


def square_height_mm(along_face_mm: float, rake_deg: float) -> float:
    """Return the transom height square to the keel line from the one along the face.

    H = S cos r, plane geometry; 33 CFR 183.3 means this one. Any rake within +/- 90 deg.
    """
    return along_face_mm * math.cos(math.radians(rake_deg))


def along_face_mm(square_mm: float, rake_deg: float) -> float:
    """Return the transom height along the face from the one square to the keel line: H / cos r."""
    return square_mm / math.cos(math.radians(rake_deg))


@dataclass(frozen=True, slots=True)
class Rig:
    """One engine on one transom: all that decides where its plate is.

    :param height_face_mm: transom height along the face.
    :param rake_deg: rake of the transom.
    :param leg_mm: seat to plate, square to the plate.
    :param lift_mm: seat above the transom top, along the face.
    :param setback_mm: seat aft of the face, along the bracket's arms.
    :param arms: direction of those arms.
    :param axis_out_mm: tilt axis outward from the seat (p_n).
    :param axis_up_mm: tilt axis above the seat, along the face (p_t).
    :param leg_rake_deg: rake for which the leg is stated (r0).
    """

    height_face_mm: float
    rake_deg: float
    leg_mm: float
    lift_mm: float = 0.0
    setback_mm: float = 0.0
    arms: Arms = Arms.SQUARE
    axis_out_mm: float = 0.0
    axis_up_mm: float = 0.0
    leg_rake_deg: float = 12.0

    def seat(self) -> Point:
        """Return the seat M in the keel frame: T + lift t + setback d."""
        tx, tz = along_face(self.rake_deg)
        dx, dz = outward(self.rake_deg) if self.arms is Arms.SQUARE else (1.0, 0.0)
        up = self.height_face_mm + self.lift_mm
        return up * tx + self.setback_mm * dx, up * tz + self.setback_mm * dz

    def axis(self) -> Point:
        """Return the tilt axis in the keel frame: M + p_n n + p_t t."""
        x, z = self.seat()
        tx, tz = along_face(self.rake_deg)
        nx, nz = outward(self.rake_deg)
        return (
            x + self.axis_out_mm * nx + self.axis_up_mm * tx,
            z + self.axis_out_mm * nz + self.axis_up_mm * tz,
        )

    def plate_height_mm(self) -> float:
        """Return the plate above (+) or below (-) the keel line, plate parallel to it.

        z = z_M - L + p_t (cos r - cos r0) - p_n (sin r - sin r0): the engine turns about its tilt
        axis until the plate is level, and the leg is L at the rake r0 it is stated for.
        """
        rake, stated = math.radians(self.rake_deg), math.radians(self.leg_rake_deg)
        turn = self.axis_up_mm * (math.cos(rake) - math.cos(stated)) - self.axis_out_mm * (
            math.sin(rake) - math.sin(stated)
        )
        return self.seat()[1] - self.leg_mm + turn


def plate_angles_deg(
    trim_in_deg: float, trim_out_deg: float, rake_deg: float, leg_rake_deg: float
) -> tuple[float, float]:
    """Return the plate angles at both trim limits on this transom, propeller out positive.

    Bracket limits stated at rake r0 become [lo - (r - r0), hi - (r - r0)].
    """
    change = rake_deg - leg_rake_deg
    return trim_in_deg - change, trim_out_deg - change


def raise_off_centre_mm(offset_mm: float, deadrise_deg: float) -> float:
    """Return how much the bottom rises at an engine off the centreline: |offset| tan(deadrise).

    Trade rule (read), plain trigonometry: 21, 32, 36 and 40 mm per 100 mm at 12, 18, 20 and 22
    deg. Valid from 0 to 30 deg.
    """
    return abs(offset_mm) * math.tan(math.radians(deadrise_deg))
