"""Margins above the water: heights of marks, how many kilograms until each is wet, who goes first.

Everything starts from a ``Flotation``, whose state after the change is the ground. Masses put
aboard are kg at a place in the hull's frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.errors import JobError
from rigfit.rigging.afloat import Flotation, MarkHeight
from rigfit.rigging.float_arrays import equilibria
from rigfit.rigging.flotation import Floating, Plane, Pod, PointMass, equilibrium
from rigfit.rigging.masses import PERSON_KG as PERSON_KG

MOST_KG = 1000.0
"""More than this is not put on a small boat's transom, even in thought."""

INSIDE_MM = 200.0
"""How far inside the transom a test mass is put: as far aft as a bag or can stands."""

_STEP_KG = 40.0
_LEAST_TEST_KG = 1.0
_REST_SHARE = 0.4
_FORWARD_SHARE = 0.85
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
class FloatStep:
    """One step of a float test.

    :param kg: test mass aboard by then.
    :param plane: how the water then lies.
    :param heights: (expected, tolerance) of every mark, mm above the water, in the order of the
        flotation.
    """

    kg: float
    plane: Plane
    heights: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class FloatTest:
    """What to do and read at a float test, with the old engine still on.

    :param test_kg: to put aboard; 0 where there is nothing to test with mass.
    :param ahead_mm: and ``above_mm``, ``across_mm``, where it belongs; always inside the boat.
    :param rows: (name, height now or None, expected height, tolerance), mm above the water; what is
        expected is with all of the test mass, without one after the change.
    :param is_whole: True where the test mass weighs and trims like the whole change. Otherwise it
        stands in for what hangs aft of her: it sinks the transom alike, and other marks follow.
    :param steps: the test mass little by little, from none.
    """

    test_kg: float
    ahead_mm: float
    above_mm: float
    rows: tuple[tuple[str, float | None, float, float], ...]
    across_mm: float = 0.0
    is_whole: bool = True
    steps: tuple[FloatStep, ...] = ()


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
    added = [most_kg * index / (points - 1) for index in range(points)]
    masses = [PointMass("added", kg, ahead, above) for kg in added]
    loads = [flotation.after.load.changed((mass,)) for mass in masses]
    many = equilibria(
        flotation.form, loads, flotation.density_kg_l, flotation.after.plane, flotation.pods
    )
    places = [(mark.ahead_mm, mark.across_mm, mark.z_mm) for mark in flotation.marks]
    heights = many.above_mm(places).tolist()
    curve: list[CurvePoint] = []
    start = flotation.after.plane
    for row, kg in enumerate(added):
        if many.floats[row]:
            start = many.plane(row)
            curve.append(CurvePoint(kg, tuple(heights[row])))
            continue
        # What all together did not find is sought once more alone, from the point before.
        try:
            state = with_mass(flotation, masses[row], start)
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

    Where the whole change has its middle inside the boat the test mass is all of it. Else, and with
    a closed pod that is not on yet, it lies just inside the transom, solved for the transom to
    lie as deep as after the change.
    """
    before = flotation.before
    if before is None:
        return _no_test(flotation)
    changes = [(1.0, item) for item in flotation.added]
    changes += [(-1.0, item) for item in flotation.removed]
    kg = flotation.heavier_kg
    ahead = 0.0
    if kg > _LEAST_TEST_KG:
        ahead = math.fsum(sign * item.mass_kg * item.ahead_mm for sign, item in changes) / kg
    is_whole = INSIDE_MM <= ahead <= _FORWARD_SHARE * flotation.form.length_mm
    is_whole = is_whole and not flotation.pods
    if not is_whole:
        ahead, kg = INSIDE_MM, _mass_that_sinks_alike(flotation, before)
    if kg <= _LEAST_TEST_KG:
        return _no_test(flotation)
    across = math.fsum(sign * item.mass_kg * item.across_mm for sign, item in changes) / kg
    above = transom_place(flotation)[1] / 2.0
    steps = []
    for part in _portions(kg):
        tested = PointMass("test", part, ahead, above, across)
        load = before.load.changed((tested,)) if part else before.load
        try:
            state = equilibrium(flotation.form, load, flotation.density_kg_l, start=before.plane)
        except JobError:
            return _no_test(flotation)
        heights = zip(heights_mm(flotation, state), flotation.marks, strict=True)
        expected = tuple((at, _spread(mark, part / kg)) for at, mark in heights)
        steps.append(FloatStep(part, state.plane, expected))
    rows = tuple(
        (mark.name, mark.before, *height)
        for mark, height in zip(flotation.marks, steps[-1].heights, strict=True)
    )
    return FloatTest(kg, ahead, above, rows, across, is_whole, tuple(steps))


def _no_test(flotation: Flotation) -> FloatTest:
    rows = tuple(
        (mark.name, mark.before, mark.after.value, mark.after.tolerance) for mark in flotation.marks
    )
    return FloatTest(0.0, 0.0, 0.0, rows)


def _spread(mark: MarkHeight, share: float) -> float:
    """Return a mark's tolerance under a share of the test mass: the change's part grows with it."""
    change = max(0.0, mark.after.tolerance**2 - mark.before_spread**2)
    return math.hypot(mark.before_spread, share * math.sqrt(change))


def _portions(kg: float) -> tuple[float, ...]:
    """Return masses from 0 to all of it, in at most four portions of round kilograms.

    Only the last one is not round, and a small rest goes with it.
    """
    portion = 10.0 * max(1, math.ceil(kg / 40.0))
    count = max(1, math.ceil(kg / portion - _REST_SHARE))
    return (*(portion * k for k in range(count)), kg)


def _mass_that_sinks_alike(flotation: Flotation, before: Floating) -> float:
    """Return the mass just inside the transom that sinks it as the change will, kg; 0 for none."""
    target = flotation.after.plane.at(0.0)
    low, high = 0.0, MOST_KG
    if target <= before.plane.at(0.0):
        return 0.0
    _, above = transom_place(flotation)
    while high - low > 0.05:
        middle = (low + high) / 2.0
        load = before.load.changed((PointMass("test", middle, INSIDE_MM, above / 2.0),))
        try:
            state = equilibrium(flotation.form, load, flotation.density_kg_l, start=before.plane)
            deep = state.plane.at(0.0) >= target
        except JobError:
            deep = True
        low, high = (low, middle) if deep else (middle, high)
    return high
