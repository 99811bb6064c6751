"""Published and worked values of the swing, each with its source beside it."""

from __future__ import annotations

import math

import pytest

from rigfit.rigging.plate_height import plate_angles_deg
from rigfit.rigging.steer import TIE_BAR_HIGH_MM, TIE_BAR_LOW_MM, ram_angle_deg, ram_off_line_mm
from rigfit.rigging.turning import Turn, Turning
from rigfit.units import INCH_MM


def test_a_ram_of_3_and_a_half_inches_on_an_arm_of_8_and_a_half() -> None:
    """A sailing forum's numbers (forums.ybw.com 222212, read): the thread prints 3/4 in off line;
    the angle is worked out, asin(3.5 / 8.5).
    """
    assert ram_angle_deg(3.5 * INCH_MM, 8.5 * INCH_MM) == pytest.approx(24.316, abs=0.001)
    assert ram_off_line_mm(3.5 * INCH_MM, 8.5 * INCH_MM) / INCH_MM == pytest.approx(0.754, abs=5e-4)


def test_a_tie_bar_of_18_and_a_half_to_29_and_a_half_inches() -> None:
    """A maker's rigging guide (read): 470 to 749 mm, 18.5 to 29.5 in."""
    inches = [length / INCH_MM for length in (TIE_BAR_LOW_MM, TIE_BAR_HIGH_MM)]
    assert inches == pytest.approx([18.5, 29.5], abs=0.02)


def test_trim_limits_on_another_rake() -> None:
    """Design rule: [lo, hi] stated at rake r0 become [lo - (r - r0), hi - (r - r0)]."""
    assert plate_angles_deg(-4.0, 16.0, 17.0, 12.0) == (-9.0, 11.0)


@pytest.mark.parametrize(("reach", "wall"), [(100.0, 60.0), (100.0, 99.0), (730.0, 606.0)])
def test_a_point_on_a_circle_against_a_wall(reach: float, wall: float) -> None:
    """Plane geometry: a point at distance R, starting upright, meets a wall at asin(w / R)."""
    needle = ((0.0, 0.0), (-1e-6, reach), (0.0, reach))
    upright = ((-wall - 50.0, -2e3), (-wall, -2e3), (-wall, 2e3), (-wall - 50.0, 2e3))
    touch = Turning([needle], Turn((0.0, 0.0), 0.0, 89.9)).first_within(upright)
    assert touch is not None
    assert touch.angle_deg == pytest.approx(math.degrees(math.asin(wall / reach)), abs=1e-4)


@pytest.mark.parametrize(("long", "wide"), [(400.0, 300.0), (740.0, 460.0), (500.0, 500.0)])
def test_a_rectangle_turning_in_a_corner(long: float, wide: float) -> None:
    """Plane geometry: about its middle a rectangle reaches half its diagonal, at the angle where
    the diagonal stands square to the wall, so two walls a diagonal apart just let it turn.
    """
    half = 0.5 * math.hypot(long, wide)
    box = (
        (-long / 2, -wide / 2),
        (long / 2, -wide / 2),
        (long / 2, wide / 2),
        (-long / 2, wide / 2),
    )
    side = ((-2e3, half), (2e3, half), (2e3, half + 50.0), (-2e3, half + 50.0))
    front = ((half, -2e3), (half + 50.0, -2e3), (half + 50.0, 2e3), (half, 2e3))
    turn = Turning([box], Turn((0.0, 0.0), 0.0, 90.0))
    up, ahead = math.degrees(math.atan2(long, wide)), math.degrees(math.atan2(wide, long))
    for wall, angle in ((side, up), (front, ahead)):
        touch = turn.first_within(tuple((x, z) for x, z in wall), 1e-6)
        assert touch is not None
        assert touch.angle_deg in (
            pytest.approx(angle, abs=0.01), pytest.approx(90.0 - angle, abs=0.01)
        )  # fmt: skip
