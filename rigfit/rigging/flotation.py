"""Flotation at rest: what a hull displaces under an inclined water plane, and where it rests.

Frame as in ``rigfit.rigging.hull_form``: x ahead, y to starboard, z up from the keel line, mm. The
water is the plane z = height + slope_ahead x + slope_across y. Each section is clipped exactly;
along the length Simpson's first rule. Volumes are litres, masses kg.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

from rigfit.errors import JobError
from rigfit.rigging.hull_form import HullForm

Edge: TypeAlias = tuple[float, float, float, float]

DENSITY_KG_L = {"salt": 1.025, "fresh": 1.0}
"""Sea water 1.025 and fresh water 1.000 kg/L, the textbook values."""

STEEPEST = math.tan(math.radians(25.0))
"""Slopes beyond this are not answered: sections square to the keel line no longer describe it."""

_MM3_L = 1e-6
_TURNS = 60

CLOSE = 1e-11
"""Where the search ends: what is missing as a share of volume, and of volume times length."""


@dataclass(frozen=True, slots=True)
class PointMass:
    """A mass and its place: mm ahead of the transom's foot, above the keel line, to starboard."""

    name: str
    mass_kg: float
    ahead_mm: float
    above_mm: float
    across_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Plane:
    """A water surface in the hull's frame: rises by its slopes ahead and to starboard."""

    height_mm: float
    slope_ahead: float = 0.0
    slope_across: float = 0.0

    def at(self, ahead_mm: float, across_mm: float = 0.0) -> float:
        """Return the surface above the keel line at a place, mm."""
        return self.height_mm + self.slope_ahead * ahead_mm + self.slope_across * across_mm

    def above_mm(self, ahead_mm: float, across_mm: float, z_mm: float) -> float:
        """Return how far a point is above the water, straight down to it; negative below it."""
        lean = math.sqrt(1.0 + self.slope_ahead**2 + self.slope_across**2)
        return (z_mm - self.at(ahead_mm, across_mm)) / lean

    @property
    def trim_deg(self) -> float:
        """Trim, + by the stern: the keel line's angle to the water."""
        return -math.degrees(math.atan(self.slope_ahead))

    @property
    def list_deg(self) -> float:
        """List, + to starboard."""
        return math.degrees(math.atan(self.slope_across))


@dataclass(frozen=True, slots=True)
class Pod:
    """A closed pod or bracket aft, as an upright prism: litres, mm as for a point."""

    volume_l: float
    ahead_mm: float
    bottom_mm: float
    height_mm: float

    def immersed(self, level_mm: float) -> tuple[float, float]:
        """Return the volume under water, mm3, and the height of its middle."""
        share = min(1.0, max(0.0, (level_mm - self.bottom_mm) / self.height_mm))
        return self.volume_l / _MM3_L * share, self.bottom_mm + share * self.height_mm / 2.0


@dataclass(frozen=True, slots=True)
class Displaced:
    """What lies under a water plane; moments are about the frame's origin, mm to the power.

    :param volume: mm3, with ``mx``, ``my``, ``mz`` its moments ahead, across, above.
    :param area: water plane projected on the keel line's plane, mm2, with first moments ``ax``,
        ``ay`` and second ones ``axx``, ``axy``, ``ayy``.
    """

    volume: float
    mx: float
    my: float
    mz: float
    area: float
    ax: float
    ay: float
    axx: float
    axy: float
    ayy: float

    @property
    def litres(self) -> float:
        """Volume in litres."""
        return self.volume * _MM3_L

    @property
    def centre_mm(self) -> tuple[float, float, float]:
        """Centre of buoyancy (ahead, across, above); of nothing, the origin."""
        if self.volume <= 0.0:
            return 0.0, 0.0, 0.0
        return self.mx / self.volume, self.my / self.volume, self.mz / self.volume


def displaced(form: HullForm, plane: Plane, pods: Sequence[Pod] = ()) -> Displaced:
    """Return volume, water plane and moments under a plane. Water above the sheer is kept out.

    The integrals run over the clipped edges of every section in heights above the water, so the
    water line itself adds nothing and no polygon need be built. The last answers are remembered:
    a search begins where another one ended, and a tolerance moves one reading at a time.
    """
    return _displaced(form, plane, tuple(pods))


@lru_cache(maxsize=256)
def _displaced(form: HullForm, plane: Plane, pods: tuple[Pod, ...]) -> Displaced:
    total = [0.0] * 10
    slope = plane.slope_across
    for cut in _cuts(form):
        x = cut.ahead_mm
        level = plane.height_mm + plane.slope_ahead * x
        if level + abs(slope) * cut.widest_mm <= cut.lowest_mm:
            continue
        a, s0, s1, breadth, b1, b2 = _section(cut.edges, level, slope)
        weight = cut.weight_mm
        total[0] += weight * a
        total[1] += weight * a * x
        total[2] += weight * s0
        total[3] += weight * (s1 + level * a + slope * s0)
        total[4] += weight * breadth
        total[5] += weight * breadth * x
        total[6] += weight * b1
        total[7] += weight * breadth * x * x
        total[8] += weight * b1 * x
        total[9] += weight * b2
    for pod in pods:
        _add_pod(total, pod, plane)
    return Displaced(*total)


@dataclass(frozen=True, slots=True)
class Cut:
    """A section made ready for clipping.

    :param ahead_mm: where it stands; ``weight_mm`` is its part in Simpson's first rule.
    :param lowest_mm: its lowest point; ``widest_mm``, its largest half breadth.
    :param edges: (y, z, y, z) of bottom, outline and deck. That along the middle adds nothing.
    """

    ahead_mm: float
    weight_mm: float
    lowest_mm: float
    widest_mm: float
    edges: tuple[Edge, ...]


@lru_cache(maxsize=64)
def _cuts(form: HullForm) -> tuple[Cut, ...]:
    return tuple(cuts_of(form))


def cuts_of(form: HullForm) -> list[Cut]:
    """Return every section of a hull, transom to stem, made ready for clipping."""
    last, step = len(form.sections) - 1, form.step_mm
    cuts = []
    for index, outline in enumerate(form.sections):
        weight = (1.0 if index in (0, last) else 4.0 if index % 2 else 2.0) * step / 3.0
        points = [(0.0, outline[0][1]), *outline, (0.0, outline[-1][1])]
        edges = tuple((*one, *other) for one, other in pairwise(points))
        lowest = min(z for _, z in outline)
        widest = max(y for y, _ in outline)
        cuts.append(Cut(index * step, weight, lowest, widest, edges))
    return cuts


def awash_mm3(form: HullForm, pods: Sequence[Pod] = ()) -> float:
    """Return the volume up to the sheer, mm3: the most a hull and its pods displace."""
    half = math.fsum(
        cut.weight_mm * (y1 - y0) * (cut.edges[-1][1] - (z0 + z1) / 2.0)
        for cut in _cuts(form)
        for y0, z0, y1, z1 in cut.edges
    )
    return 2.0 * half + math.fsum(pod.volume_l for pod in pods) / _MM3_L


def _section(
    edges: tuple[Edge, ...], level: float, slope: float
) -> tuple[float, float, float, float, float, float]:
    """Return area, moment across, moment of height above water, breadth and its moments."""
    if slope == 0.0:
        area, _, tall, breadth, _, inertia = _half(edges, level, 0.0)
        return 2.0 * area, 0.0, 2.0 * tall, 2.0 * breadth, 0.0, 2.0 * inertia
    right, left = _half(edges, level, slope), _half(edges, level, -slope)
    return (
        right[0] + left[0], right[1] - left[1], right[2] + left[2],
        right[3] + left[3], right[4] - left[4], right[5] + left[5],
    )  # fmt: skip


def _half(
    edges: tuple[Edge, ...], level: float, slope: float
) -> tuple[float, float, float, float, float, float]:
    """Return area, moments (y, height above water) and the wet breadth's 0th to 2nd moments.

    One half section, clipped where it is under water. Where an edge leaves the water upwards the
    wet breadth ends, and the reverse.
    """
    area = across = tall = breadth = first = second = 0.0
    for y0, z0, y1, z1 in edges:
        h0, h1 = z0 - level - slope * y0, z1 - level - slope * y1
        if h0 >= 0.0:
            if h1 >= 0.0:
                continue
            y0 += (y1 - y0) * h0 / (h0 - h1)
            h0 = 0.0
            breadth -= y0
            first -= y0 * y0 / 2.0
            second -= y0 * y0 * y0 / 3.0
        elif h1 >= 0.0:
            y1 = y0 + (y1 - y0) * h0 / (h0 - h1)
            h1 = 0.0
            breadth += y1
            first += y1 * y1 / 2.0
            second += y1 * y1 * y1 / 3.0
        dy = y1 - y0
        area -= dy * (h0 + h1) / 2.0
        across -= dy * (y0 * (2.0 * h0 + h1) + y1 * (h0 + 2.0 * h1)) / 6.0
        tall -= dy * (h0 * h0 + h0 * h1 + h1 * h1) / 6.0
    return area, across, tall, breadth, first, second


def _add_pod(total: list[float], pod: Pod, plane: Plane) -> None:
    level = plane.at(pod.ahead_mm)
    volume, middle = pod.immersed(level)
    if volume <= 0.0:
        return
    x = pod.ahead_mm
    surface = 0.0
    if level < pod.bottom_mm + pod.height_mm:
        surface = pod.volume_l / _MM3_L / pod.height_mm
    for k, part in enumerate(
        (volume, volume * x, 0.0, volume * middle, surface, surface * x, 0.0, surface * x * x)
    ):
        total[k] += part


@dataclass(frozen=True, slots=True)
class Load:
    """A total mass, kg, with its centre, mm."""

    mass_kg: float
    ahead_mm: float
    above_mm: float
    across_mm: float = 0.0

    def changed(self, added: Iterable[PointMass] = (), removed: Iterable[PointMass] = ()) -> Load:
        """Return the load with some masses put aboard and others taken out.

        :raises JobError: when more is taken out than there is.
        """
        mass = self.mass_kg
        moments = [mass * self.ahead_mm, mass * self.above_mm, mass * self.across_mm]
        for sign, items in ((1.0, added), (-1.0, removed)):
            for item in items:
                mass += sign * item.mass_kg
                places = (item.ahead_mm, item.above_mm, item.across_mm)
                for k, place in enumerate(places):
                    moments[k] += sign * item.mass_kg * place
        if mass <= 0.0:
            raise JobError(
                f"the boat as she lies displaces {self.mass_kg:.0f} kg, less than what is taken "
                "out of her",
                cure="look at the heights read afloat, the depths of the hull and the mass of what "
                "came off",
                where="afloat, transom_top",
            )
        return Load(mass, *(moment / mass for moment in moments))


def load_of(masses: Iterable[PointMass]) -> Load:
    """Return the total of some masses; raises ``JobError`` when there are none."""
    return Load(0.0, 0.0, 0.0).changed(masses)


@dataclass(frozen=True, slots=True)
class Floating:
    """A hull at rest.

    :param plane: the water in the hull's frame.
    :param load: what she weighs and where.
    :param wet: what she displaces.
    :param gm_mm: transverse and ``gml_mm`` longitudinal metacentric height.
    """

    plane: Plane
    load: Load
    wet: Displaced
    gm_mm: float
    gml_mm: float


def equilibrium(
    form: HullForm,
    load: Load,
    density_kg_l: float,
    pods: Sequence[Pod] = (),
    start: Plane | None = None,
) -> Floating:
    """Return how a hull floats under a load: sinkage, trim, and list where mass is off centre.

    Volume times density is the mass, and the centre of buoyancy lies straight under the centre of
    gravity, by Newton's method with the exact slopes, each step cut where it does not help.

    :param start: where to begin, such as the state before.
    :raises JobError: for a mass the hull cannot carry, a centre of gravity from which it comes to
        no rest within 25 degrees, or a hull that is not stable upright.
    """
    volume = load.mass_kg / density_kg_l / _MM3_L
    full = awash_mm3(form, pods)
    if volume >= full:
        raise JobError(
            f"the hull cannot float: {load.mass_kg:.0f} kg is more than the "
            f"{full * _MM3_L * density_kg_l:.0f} kg it displaces when awash",
            cure="look at beam, depth and the masses",
            where="hull, chine_beam",
        )
    if not 0.0 < load.ahead_mm < form.length_mm:
        raise JobError(
            f"the centre of all mass lies {load.ahead_mm:.0f} mm ahead of the transom",
            allowed=f"it must lie within the hull, 0 to {form.length_mm:.0f} mm",
            cure="look at the masses and their places, and at what hung on her when heights were "
            "read",
            where="hull, centre_ahead",
        )
    plane = start or Plane(_level_height(form, volume, pods))
    return _rest(form, load, volume, pods, plane)


def _level_height(form: HullForm, volume: float, pods: Sequence[Pod]) -> float:
    """Return the height of a level water plane that cuts off a volume, to about 1 mm."""
    low = min(z for outline in form.sections for _, z in outline)
    high = form.top_mm()
    while high - low > 1.0:
        middle = (low + high) / 2.0
        if displaced(form, Plane(middle), pods).volume < volume:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _rest(form: HullForm, load: Load, volume: float, pods: Sequence[Pod], plane: Plane) -> Floating:
    long = form.length_mm
    listing = abs(load.across_mm) > 1e-9 or plane.slope_across != 0.0
    wet = displaced(form, plane, pods)
    gaps = _gaps(load, volume, plane, wet)
    for _ in range(_TURNS):
        size = _size(gaps, volume, long)
        if size < CLOSE:
            return _floating(plane, load, wet, form)
        step = _step(load, plane, wet, gaps, listing=listing)
        share = min(1.0, _limit(step, long))
        for _ in range(12):
            tried = Plane(
                plane.height_mm + share * step[0],
                plane.slope_ahead + share * step[1],
                plane.slope_across + share * step[2],
            )
            new_wet = displaced(form, tried, pods)
            new_gaps = _gaps(load, volume, tried, new_wet)
            if _size(new_gaps, volume, long) < size:
                break
            share /= 2.0
        plane, wet, gaps = tried, new_wet, new_gaps
        if max(abs(plane.slope_ahead), abs(plane.slope_across)) > STEEPEST:
            break
    if _size(gaps, volume, long) < 1e-7:
        return _floating(plane, load, wet, form)
    awash = awash_mm3(form, pods) / volume * load.mass_kg
    raise JobError(
        f"with {load.mass_kg:.0f} kg, its centre {load.ahead_mm:.0f} mm ahead of the transom and "
        f"{load.across_mm:.0f} mm off the centreline, she comes to no rest within 25 degrees",
        allowed=f"awash she displaces {awash:.0f} kg",
        cure="look at the masses and their places, and at beam and depth of the hull",
        where="hull, centre_ahead",
    )


def _gaps(load: Load, volume: float, plane: Plane, wet: Displaced) -> tuple[float, float, float]:
    """Return what is missing in volume, and in moment ahead and across."""
    arm = wet.mz - load.above_mm * wet.volume
    return (
        wet.volume - volume,
        wet.mx - load.ahead_mm * wet.volume + plane.slope_ahead * arm,
        wet.my - load.across_mm * wet.volume + plane.slope_across * arm,
    )


def _size(gaps: tuple[float, float, float], volume: float, length: float) -> float:
    return abs(gaps[0]) / volume + (abs(gaps[1]) + abs(gaps[2])) / (volume * length)


def _limit(step: Sequence[float], length: float) -> float:
    """Return the share of a step that moves no end by more than an eighth of the length."""
    most = max(abs(step[0]), abs(step[1]) * length, abs(step[2]) * length, 1e-12)
    return length / 8.0 / most


def _step(
    load: Load,
    plane: Plane,
    wet: Displaced,
    gaps: tuple[float, float, float],
    *,
    listing: bool,
) -> tuple[float, float, float]:
    """Return Newton's step in height and slopes."""
    arm = wet.mz - load.above_mm * wet.volume
    level, a, m = plane.height_mm, plane.slope_ahead, plane.slope_across
    # Moments of the surface strip (1, x, y), and the same times its height above the keel line.
    strips = ((wet.area, wet.ax, wet.ay), (wet.ax, wet.axx, wet.axy), (wet.ay, wet.axy, wet.ayy))
    rows = []
    for x_moment, z_part, own in ((0, 0.0, -1), (1, a, 1), (2, m, 2)):
        row = []
        for k in range(3):
            d_volume, d_x, d_y = strips[k]
            d_z = level * d_volume + a * d_x + m * d_y
            if x_moment == 0:
                row.append(d_volume)
                continue
            centre = load.ahead_mm if x_moment == 1 else load.across_mm
            moved = (d_x if x_moment == 1 else d_y) - centre * d_volume
            row.append(moved + z_part * (d_z - load.above_mm * d_volume))
        if own > 0:
            row[own] += arm
        rows.append(row)
    if not listing:
        height, trim = _solve2(rows[0][0], rows[0][1], rows[1][0], rows[1][1], gaps[0], gaps[1])
        return height, trim, 0.0
    return _solve3(rows, gaps)


def _solve2(a: float, b: float, c: float, d: float, p: float, q: float) -> tuple[float, float]:
    under = a * d - b * c
    if abs(under) < 1e-30:
        return (-p / a if a else 50.0 * (-1.0 if p > 0.0 else 1.0)), 0.0
    return -(p * d - b * q) / under, -(a * q - c * p) / under


def _solve3(
    rows: Sequence[Sequence[float]], gaps: tuple[float, float, float]
) -> tuple[float, float, float]:
    (a, b, c), (d, e, f), (g, h, i) = rows
    p, q, r = (-gap for gap in gaps)
    under = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    if abs(under) < 1e-30:
        height, trim = _solve2(a, b, d, e, gaps[0], gaps[1])
        return height, trim, 0.0
    return (
        (p * (e * i - f * h) - b * (q * i - f * r) + c * (q * h - e * r)) / under,
        (a * (q * i - f * r) - p * (d * i - f * g) + c * (d * r - q * g)) / under,
        (a * (e * r - q * h) - b * (d * r - q * g) + p * (d * h - e * g)) / under,
    )


def _floating(plane: Plane, load: Load, wet: Displaced, form: HullForm) -> Floating:
    rise = wet.centre_mm[2] - load.above_mm
    middle_x, middle_y = wet.ax / wet.area, wet.ay / wet.area
    gm = (wet.ayy - wet.area * middle_y**2) / wet.volume + rise
    gml = (wet.axx - wet.area * middle_x**2) / wet.volume + rise
    if gm <= 0.0:
        raise JobError(
            f"she would not stay upright: metacentric height {gm:.0f} mm",
            cure="look at the height of the centre of gravity and at the beam of a hull "
            f"{2.0 * form.half_beam_mm():.0f} mm wide",
            where="hull, centre_height",
        )
    return Floating(plane, load, wet, gm, gml)


def at_plane(form: HullForm, load: Load, plane: Plane, pods: Sequence[Pod] = ()) -> Floating:
    """Return the state of a hull that was seen to float at a plane under its load.

    :raises JobError: when it would not stay upright like that.
    """
    return _floating(plane, load, displaced(form, plane, pods), form)


def load_afloat(
    form: HullForm, plane: Plane, above_mm: float, density_kg_l: float, pods: Sequence[Pod] = ()
) -> Load:
    """Return what a boat weighs, and where, that was seen to float at a plane.

    :param above_mm: height of her centre of gravity, which floating upright does not tell.
    :raises JobError: when the plane does not touch the hull.
    """
    wet = displaced(form, plane, pods)
    if wet.volume <= 0.0:
        raise JobError(
            "by the heights read afloat the whole hull is above the water",
            cure="look at the heights above the water and the depths of the hull",
            where="afloat, transom_top",
        )
    x, y, z = wet.centre_mm
    lift = z - above_mm
    return Load(
        wet.litres * density_kg_l,
        x + plane.slope_ahead * lift,
        above_mm,
        y + plane.slope_across * lift,
    )


def plane_for_mass(
    form: HullForm, x: float, z: float, mass_kg: float, density_kg_l: float
) -> Plane:
    """Return the plane through one point under which she displaces a mass.

    :param x: where the height was read, mm ahead, near an end of her; ``z``, of the water there.
    :raises JobError: when no trim within 10 degrees does.
    """

    def plane(slope: float) -> Plane:
        return Plane(z - slope * x, slope)

    low, high = -math.tan(math.radians(10.0)), math.tan(math.radians(10.0))
    if x > form.length_mm / 2.0:
        low, high = high, low
    wanted = mass_kg / density_kg_l
    if not (displaced(form, plane(low)).litres <= wanted <= displaced(form, plane(high)).litres):
        raise JobError(
            f"the one height read afloat and a mass of {mass_kg:.0f} kg do not go together",
            cure="read heights above the water at transom and stem, or look at the mass of the "
            "bare boat",
            where="hull, mass",
        )
    for _ in range(40):
        middle = (low + high) / 2.0
        if displaced(form, plane(middle)).litres < wanted:
            low = middle
        else:
            high = middle
    return plane((low + high) / 2.0)
