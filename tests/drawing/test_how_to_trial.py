"""How-to pictures of the sea trial: true to what each field asks for."""

from __future__ import annotations

import math

import pytest

from rigfit.drawing.how_to import how_to_scene
from rigfit.drawing.how_to_parts import READING
from rigfit.drawing.scene import Disc, Path, Scene, Text


def scene(table: str, name: str) -> Scene:
    found = how_to_scene(table, name)
    assert found is not None
    return found


def tips(found: Scene) -> list[tuple[float, float]]:
    return sorted(
        item.points[0]
        for item in found.items
        if isinstance(item, Path) and item.closed and item.ref == READING
    )


def test_the_plate_is_read_square_up_from_the_keel_line() -> None:
    found = scene("trial", "plate_height")
    low, high = sorted(tips(found), key=lambda tip: tip[1])
    keel = next(item for item in found.items if isinstance(item, Path) and item.layer == "KEELLINE")
    plate = next(item for item in found.items if isinstance(item, Path) and item.layer == "PLATE")
    assert low[0] == pytest.approx(high[0])
    assert low[1] == pytest.approx(keel.points[0][1])
    assert min(abs(high[1] - y) for _, y in plate.points) == pytest.approx(0.0, abs=0.05)


def test_the_pitch_is_one_turn_of_the_helix() -> None:
    found = scene("trial", "pitch")
    helix = max(
        (item for item in found.items if isinstance(item, Path) and item.layer == "ENGINE"),
        key=lambda item: len(item.points),
    )
    (left, y0), (right, y1) = tips(found)
    assert y0 == pytest.approx(y1)
    assert (left, right) == pytest.approx((helix.points[0][0], helix.points[-1][0]))
    # One whole turn: up, down and up again.
    assert helix.points[0][1] == pytest.approx(helix.points[-1][1])
    assert min(y for _, y in helix.points) < helix.points[0][1] - 10.0


def test_the_diameter_is_that_of_the_circle_the_tips_run_in() -> None:
    found = scene("trial", "diameter")
    circle = max((item for item in found.items if isinstance(item, Disc)),
                 key=lambda item: item.radius_mm)  # fmt: skip
    low, high = sorted(tips(found), key=lambda tip: tip[1])
    assert high[1] - low[1] == pytest.approx(2.0 * circle.radius_mm)
    blades = [item for item in found.items if isinstance(item, Path) and len(item.points) == 24]
    assert len(blades) == 3
    for blade in blades:
        reach = max(math.dist(point, circle.centre) for point in blade.points)
        assert reach == pytest.approx(circle.radius_mm, abs=0.05)


def test_the_mass_aboard_is_not_that_of_the_engine() -> None:
    for table in ("trial", "run"):
        words = [item.words for item in scene(table, "mass_aboard").items if isinstance(item, Text)]
        assert "not the engine" in words
        assert {"people", "fuel", "gear"} <= set(words)
