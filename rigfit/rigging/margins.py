"""Margins above the water: heights of marks, how many kilograms until each is wet, who goes first.

Everything starts from a ``Flotation``, whose state after the change is the ground. Masses put
aboard are kg at a place in the hull's frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.errors import JobError
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.flotation import Floating, Plane, Pod, PointMass, equilibrium

PERSON_KG = 80.0
"""One grown person, as the step-aft test takes him (own round figure; rules use 75 to 85 kg)."""

MOST_KG = 1000.0
"""More than this is not put on a small boat's transom, even in thought."""

_STEP_KG = 40.0
_NEAR_MM = 0.05


@dataclass(frozen=True, slots=True)
class WetAt:
    """A mark and the mass at the transom that brings it to the water.

    :param kg: added mass; 0 for a mark that is wet already, None where it stays dry to the most
        that was tried.
    """

    mark: MarkHeight
    kg: float | None


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """Heights of all marks above the water, mm, in the order of the flotation, under a mass."""

    added_kg: float
    heights_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PodBalance:
    """A closed pod or bracket against what it carries.

    :param buoyancy_kg: what it displaces as she floats; ``most_kg`` wholly under water.
    :param carried_kg: engine and bracket on it.
    :param net_kg: buoyancy less what it carries; negative pulls the stern down.
    :param moment_kgm: of that net force about the transom, kg m, + lifts the stern.
    """

    buoyancy_kg: float
    most_kg: float
    carried_kg: float
    net_kg: float
    moment_kgm: float


@dataclass(frozen=True, slots=True)
class FloatTest:
    """What to do and read at a float test.

    :param test_kg: to put where the engine will hang, beyond what hangs there; 0 for none.
    :param ahead_mm: and ``above_mm``, where it belongs.
    :param rows: (name, height now or None, expected height, tolerance), mm above the water.
    """

    test_kg: float
    ahead_mm: float
    above_mm: float
    rows: tuple[tuple[str, float | None, float, float], ...]


def transom_place(flotation: Flotation) -> tuple[float, float]:
    """Return where mass at the transom is put: at its foot, at the height of its top or sheer."""
    tops = [mark.z_mm for mark in flotation.marks if mark.kind == "transom notch"]
    return 0.0, max(tops, default=flotation.form.sections[0][-1][1])


def with_mass(flotation: Flotation, mass: PointMass, start: Plane | None = None) -> Floating:
    """Return how she floats with one more mass aboard; raises ``JobError`` where she does not."""
    load = flotation.after.load.changed((mass,))
    return equilibrium(
        flotation.form, load, flotation.density_kg_l, flotation.pods,
        start or flotation.after.plane,
    )  # fmt: skip


def heights_mm(flotation: Flotation, floating: Floating) -> tuple[float, ...]:
    """Return the heights of all marks above the water in some state, mm."""
    return tuple(
        floating.plane.above_mm(mark.ahead_mm, mark.across_mm, mark.z_mm)
        for mark in flotation.marks
    )


def person_aft(flotation: Flotation, mass_kg: float = PERSON_KG) -> tuple[float, ...] | None:
    """Return the heights of all marks with one more person at the transom; None if she swamps.

    He stands on the centreline half a metre ahead of the transom.
    """
    _, top = transom_place(flotation)
    try:
        return heights_mm(flotation, with_mass(flotation, PointMass("person", mass_kg, 500.0, top)))
    except JobError:
        return None


def margin_curve(
    flotation: Flotation, most_kg: float = 300.0, points: int = 60
) -> tuple[CurvePoint, ...]:
    """Return the heights of all marks against mass added at the transom, from nothing up.

    It ends early where she floats no more.
    """
    ahead, above = transom_place(flotation)
    curve: list[CurvePoint] = []
    start = flotation.after.plane
    for index in range(points):
        kg = most_kg * index / (points - 1)
        try:
            state = with_mass(flotation, PointMass("added", kg, ahead, above), start)
        except JobError:
            break
        start = state.plane
        curve.append(CurvePoint(kg, heights_mm(flotation, state)))
    return tuple(curve)


def kilograms_until_wet(flotation: Flotation, most_kg: float = MOST_KG) -> tuple[WetAt, ...]:
    """Return the mass at the transom that brings each mark to the water, the first wet first."""
    ahead, above = transom_place(flotation)
    count = len(flotation.marks)
    found: list[float | None] = [None] * count
    last = (0.0, heights_mm(flotation, flotation.after))
    for index, height in enumerate(last[1]):
        found[index] = 0.0 if height <= 0.0 else None
    start, kg = flotation.after.plane, 0.0
    while None in found and kg < most_kg:
        kg += _STEP_KG
        try:
            state = with_mass(flotation, PointMass("added", kg, ahead, above), start)
        except JobError:
            break
        now = (kg, heights_mm(flotation, state))
        for index in range(count):
            if found[index] is None and now[1][index] <= 0.0:
                found[index] = _crossing(flotation, index, last, now, start)
        start, last = state.plane, now
    pairs = [WetAt(mark, kg) for mark, kg in zip(flotation.marks, found, strict=True)]
    return tuple(sorted(pairs, key=lambda wet: math.inf if wet.kg is None else wet.kg))


def _crossing(
    flotation: Flotation,
    index: int,
    dry: tuple[float, tuple[float, ...]],
    wet: tuple[float, tuple[float, ...]],
    start: Plane,
) -> float:
    """Return the mass between two at which a mark touches the water, by regula falsi."""
    ahead, above = transom_place(flotation)
    low, high = (dry[0], dry[1][index]), (wet[0], wet[1][index])
    kg = low[0]
    for _ in range(12):
        kg = low[0] + (high[0] - low[0]) * low[1] / (low[1] - high[1])
        state = with_mass(flotation, PointMass("added", kg, ahead, above), start)
        height = heights_mm(flotation, state)[index]
        if abs(height) < _NEAR_MM:
            break
        if height > 0.0:
            low = (kg, height)
        else:
            high = (kg, height)
    return kg


def pod_balance(flotation: Flotation) -> PodBalance | None:
    """Return a closed pod's buoyancy against what hangs on it; None without a measured pod."""
    if not flotation.pods:
        return None
    pod: Pod = flotation.pods[0]
    volume, _ = pod.immersed(flotation.after.plane.at(pod.ahead_mm))
    lift = volume * 1e-6 * flotation.density_kg_l
    # What hangs aft of the transom hangs on the pod.
    carried = [item for item in flotation.added if item.ahead_mm < 0.0]
    mass = math.fsum(item.mass_kg for item in carried)
    moment = -lift * pod.ahead_mm + math.fsum(item.mass_kg * item.ahead_mm for item in carried)
    return PodBalance(
        lift, pod.volume_l * flotation.density_kg_l, mass, lift - mass, moment / 1000.0
    )


def float_test(flotation: Flotation) -> FloatTest:
    """Return what to put aboard at a float test with the old engine on, and what should be read.

    The moment of the test mass is that of the whole change, so trim comes out alike.
    """
    heavier = flotation.heavier_kg
    changes = [(1.0, item) for item in flotation.added]
    changes += [(-1.0, item) for item in flotation.removed]
    ahead, above = transom_place(flotation)
    if abs(heavier) > 1.0:
        moment = math.fsum(sign * item.mass_kg * item.ahead_mm for sign, item in changes)
        ahead = moment / heavier
    rows = tuple(
        (mark.name, mark.before, mark.after.value, mark.after.tolerance) for mark in flotation.marks
    )
    return FloatTest(max(0.0, heavier), ahead, above, rows)
