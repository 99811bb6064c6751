"""Planing after Savitsky (1964): trim, wetted lengths, resistance, porpoising limit of a prism.

D. Savitsky, "Hydrodynamic design of planing hulls", Marine Technology 1(1), 1964, 71-95: a hull of
constant deadrise and beam in steady motion on calm water, bare: neither the leg of an outboard nor
the air is counted. Lengths are mm, angles degrees, masses kg, speeds knots at the border. Every
result says in words where it leaves the range of the tests; outside it nothing is cut or bent.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from rigfit.errors import JobError
from rigfit.units import GRAVITY, KNOT_M_S

ROUGHNESS = 0.0004
"""Allowance added to the friction coefficient (Savitsky 1964, after the towing tank's custom)."""

CV_RANGE = (0.60, 13.0)
TRIM_RANGE_DEG = (2.0, 15.0)
LONGEST_WETTED = 4.0
STEEPEST_DEG = 30.0
"""Range of the lift formula: speed coefficient, trim, mean wetted length in beams (Savitsky 1964);
deadrise as far as the tests behind it went (from memory)."""

PORPOISING_RANGE = (0.13, 0.30)
PORPOISING_STEEPEST_DEG = 20.0
_PORPOISING = (
    (-376.37, 329.74, -38.485, 1.3415),
    (-356.05, 314.36, -41.674, 3.5786),
    (-254.51, 239.65, -23.936, 3.0195),
)
"""Cubics in the root of half the lift coefficient that a public library fitted to the paper's chart
of the porpoising limit, for 0, 10 and 20 degrees of deadrise (read)."""

_SEARCH_DEG = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.5, 8.0, 10.0, 12.5, 15.0)
_TRIM_EXACT_DEG = 1e-7
_SPEED_EXACT = 1e-6
_SLOWEST_CV = 1.0
_LEAST_SHARE = 0.01  # of the speed's square, along a bottom so short that the formula has no root


@dataclass(frozen=True, slots=True)
class Water:
    """Water: density kg/m3, kinematic viscosity m2/s."""

    density: float
    viscosity: float


WATERS = {"salt": Water(1025.0, 1.1892e-6), "fresh": Water(1000.0, 1.1386e-6)}
"""Densities as for flotation; viscosities at 15 degrees C, ITTC 7.5-02-01-03 (from memory)."""


@dataclass(frozen=True, slots=True)
class PlaningBoat:
    """What the 1964 method asks of a boat.

    :param mass_kg: all of her, under way.
    :param beam_mm: between the chines, over the wetted length.
    :param deadrise_deg: over the wetted length; 0 to 30.
    :param ahead_mm: centre of gravity ahead of the transom's foot, along the keel.
    :param above_mm: centre of gravity above the keel line.
    :param thrust_deg: thrust line against the keel line, + where it pushes the stern up.
    :param arm_mm: centre of gravity above the thrust line, square to it (the paper's f).
    """

    mass_kg: float
    beam_mm: float
    deadrise_deg: float
    ahead_mm: float
    above_mm: float
    thrust_deg: float = 0.0
    arm_mm: float = 0.0


def thrust_arm_mm(
    ahead_mm: float, above_mm: float, aft_mm: float, propeller_mm: float, thrust_deg: float
) -> float:
    """Return the centre of gravity's height over the thrust line, square to it; plane geometry.

    :param ahead_mm: and ``above_mm``: centre of gravity, from the transom's foot and the keel line.
    :param aft_mm: propeller aft of the transom's foot.
    :param propeller_mm: propeller above the keel line, negative below it.
    :param thrust_deg: thrust line against the keel line, + where it rises forward.
    """
    angle = math.radians(thrust_deg)
    up, forward = above_mm - propeller_mm, ahead_mm + aft_mm
    return up * math.cos(angle) - forward * math.sin(angle)


@dataclass(frozen=True, slots=True)
class PorpoisingLimit:
    """Trim above which a boat porpoises.

    :param trim_deg: the limit; read at the end of the chart where the boat lies beyond it.
    :param beyond: why it is no reading of the chart, in words; "" inside it.
    """

    trim_deg: float
    beyond: str = ""


@dataclass(frozen=True, slots=True)
class Planing:
    """A boat planing at one speed and trim.

    :param speed_kn: her speed.
    :param trim_deg: keel line against the water.
    :param cv: speed coefficient V / sqrt(g b).
    :param lift: lift coefficient on the square of the beam.
    :param wetted: mean wetted length in beams.
    :param keel_mm: wetted length of the keel; ``chine_mm`` of the chine, 0 where it runs dry.
    :param draught_mm: foot of the transom below the level water far from the boat.
    :param centre_mm: centre of pressure ahead of the transom.
    :param bottom_m_s: mean speed of the water along the bottom.
    :param reynolds: Reynolds number on the mean wetted length.
    :param friction_n: frictional force along the bottom.
    :param resistance_n: whole resistance of the bare hull.
    :param moment_nm: what turns the bow down; 0 in equilibrium.
    :param porpoising: the limit at this loading and speed.
    :param doubts: where this leaves the range of the method, in words.
    """

    speed_kn: float
    trim_deg: float
    cv: float
    lift: float
    wetted: float
    keel_mm: float
    chine_mm: float
    draught_mm: float
    centre_mm: float
    bottom_m_s: float
    reynolds: float
    friction_n: float
    resistance_n: float
    moment_nm: float
    porpoising: PorpoisingLimit
    doubts: tuple[str, ...] = ()

    @property
    def power_kw(self) -> float:
        """Effective power: resistance times speed."""
        return self.resistance_n * self.speed_kn * KNOT_M_S / 1000.0

    @property
    def margin_deg(self) -> float:
        """How far the trim is below the porpoising limit, negative above it."""
        return self.porpoising.trim_deg - self.trim_deg

    @property
    def is_inside(self) -> bool:
        """True where everything lies within the range of the method and its chart."""
        return not self.doubts and not self.porpoising.beyond


@dataclass(frozen=True, slots=True)
class NotPlaning:
    """No equilibrium: why, in words."""

    reason: str


def flat_lift(lift: float, deadrise_deg: float) -> float:
    """Return the lift coefficient of a flat plate that with deadrise gives ``lift``.

    Inverts CLb = CL0 - 0.0065 beta CL0^0.6 (Savitsky 1964) by Newton's method.
    """
    k = 0.0065 * deadrise_deg
    flat = 2.0 * lift + math.pow(2.0 * k, 2.5)  # above the root, from where Newton only comes down
    for _ in range(60):
        step = (flat - k * math.pow(flat, 0.6) - lift) / (1.0 - 0.6 * k * math.pow(flat, -0.4))
        flat -= step
        if abs(step) < 1e-13 * flat:
            break
    return flat


def deadrise_lift(flat: float, deadrise_deg: float) -> float:
    """Return CLb = CL0 - 0.0065 beta CL0^0.6, lift lost to deadrise (Savitsky 1964)."""
    return flat - 0.0065 * deadrise_deg * math.pow(flat, 0.6)


def mean_wetted(flat: float, trim_deg: float, cv: float) -> float:
    """Return the mean wetted length in beams that gives a flat plate's lift coefficient.

    Inverts CL0 = trim^1.1 (0.012 l^0.5 + 0.0055 l^2.5 / Cv^2) by Newton's method from above.
    """
    wanted, k = flat / math.pow(trim_deg, 1.1), 0.0055 / (cv * cv)
    root = min(wanted / 0.012, math.pow(wanted / k, 0.2))
    for _ in range(60):
        quart = k * root**4
        step = (root * (0.012 + quart) - wanted) / (0.012 + 5.0 * quart)
        root -= step
        if abs(step) < 1e-13 * root:
            break
    return root * root


def pressure_centre(wetted: float, cv: float) -> float:
    """Return the centre of pressure ahead of the transom as a share of the mean wetted length."""
    return 0.75 - 1.0 / (5.21 * (cv / wetted) ** 2 + 2.39)


def friction_coefficient(reynolds: float) -> float:
    """Return Schoenherr's friction coefficient: 0.242 / sqrt(Cf) = log10(Re Cf).

    :param reynolds: above 1e4.
    """
    root = math.sqrt(0.075) / (math.log10(reynolds) - 2.0)  # the 1957 line, to begin with
    for _ in range(20):
        gap = 0.242 / root - math.log10(reynolds) - 2.0 * math.log10(root)
        step = gap / (-0.242 / (root * root) - 2.0 / (root * math.log(10.0)))
        root -= step
        if abs(step) < 1e-13:
            break
    return root * root


def wetted_lengths_mm(
    wetted: float, beam_mm: float, deadrise_deg: float, trim_deg: float
) -> tuple[float, float]:
    """Return the wetted lengths of keel and chine, mm.

    Lk - Lc = (b / pi) (tan beta / tan trim). Where the chine would be dry it is 0, and the keel
    twice the mean, as a triangle has it.
    """
    mean = wetted * beam_mm
    apart = beam_mm / math.pi * math.tan(math.radians(deadrise_deg))
    half = apart / math.tan(math.radians(trim_deg)) / 2.0
    return (mean + half, mean - half) if mean >= half else (2.0 * mean, 0.0)


def porpoising_limit(half_lift_root: float, deadrise_deg: float) -> PorpoisingLimit:
    """Return the trim at which porpoising begins (Savitsky 1964, chart; fit of a public library).

    Between the chart's three deadrises a parabola, as that library does it.

    :param half_lift_root: root of half the lift coefficient, 0.13 to 0.30.
    :param deadrise_deg: 0 to 20. Beyond either end the limit is that of the end, and it is said.
    """
    low, high = PORPOISING_RANGE
    x = min(max(half_lift_root, low), high)
    beta = min(max(deadrise_deg, 0.0), PORPOISING_STEEPEST_DEG)
    at0, at10, at20 = (((a * x + b) * x + c) * x + d for a, b, c, d in _PORPOISING)
    u = beta / 10.0
    trim = at0 * (u - 1.0) * (u - 2.0) / 2.0 - at10 * u * (u - 2.0) + at20 * u * (u - 1.0) / 2.0
    beyond = []
    if x != half_lift_root:
        end = "lightly" if half_lift_root < low else "heavily"
        beyond.append(
            f"she is loaded too {end} for her speed (root of half the lift coefficient "
            f"{half_lift_root:.3f}, chart {low:.2f} to {high:.2f})"
        )
    if beta != deadrise_deg:
        beyond.append(f"deadrise {deadrise_deg:.1f}° is beyond the chart's 0 to 20°")
    return PorpoisingLimit(trim, " and ".join(beyond))


def _check(boat: PlaningBoat, speed_kn: float) -> None:
    """Raise ``JobError`` for numbers the method has no meaning for."""
    asked = (
        ("the mass under way", boat.mass_kg, "kg", "underway, mass"),
        ("the chine beam", boat.beam_mm, "mm", "hull, chine_beam"),
        ("the centre of gravity ahead", boat.ahead_mm, "mm", "underway, centre_ahead"),
        ("the speed", speed_kn, "kn", "underway, speed"),
    )
    for name, value, unit, where in asked:
        if not (math.isfinite(value) and value > 0.0):
            raise JobError(
                f"{name} is {value:g} {unit}", allowed="it must be more than 0",
                cure="measure it again", where=where,
            )  # fmt: skip
    if not 0.0 <= boat.deadrise_deg < 60.0:
        raise JobError(
            f"the deadrise is {boat.deadrise_deg:g}°", allowed="0 to 60°",
            cure="measure it again", where="boat, deadrise",
        )  # fmt: skip


class _Run:
    """A boat at one speed: what does not depend on trim, worked out once."""

    __slots__ = ("boat", "cv", "flat", "lift", "speed", "water", "weight")

    def __init__(self, boat: PlaningBoat, speed_kn: float, water: Water) -> None:
        _check(boat, speed_kn)
        self.boat, self.water = boat, water
        self.speed = speed_kn * KNOT_M_S
        beam = boat.beam_mm / 1000.0
        self.weight = boat.mass_kg * GRAVITY
        self.cv = self.speed / math.sqrt(GRAVITY * beam)
        self.lift = self.weight / (0.5 * water.density * (self.speed * beam) ** 2)
        self.flat = flat_lift(self.lift, boat.deadrise_deg)

    def friction(self, trim_deg: float, wetted: float) -> tuple[float, float, float]:
        """Return the mean speed along the bottom, m/s, Reynolds number and friction, N."""
        boat = self.boat
        beam, slope = boat.beam_mm / 1000.0, math.cos(math.radians(trim_deg))
        dynamic = deadrise_lift(0.012 * math.sqrt(wetted) * trim_deg**1.1, boat.deadrise_deg)
        share = 1.0 - dynamic / (wetted * slope)
        bottom = self.speed * math.sqrt(min(max(share, _LEAST_SHARE), 1.0))
        length = wetted * beam
        reynolds = max(bottom * length / self.water.viscosity, 1e4)
        area = length * beam / math.cos(math.radians(boat.deadrise_deg))
        drag = 0.5 * self.water.density * bottom**2 * area
        return bottom, reynolds, drag * (friction_coefficient(reynolds) + ROUGHNESS)

    def moment(self, trim_deg: float) -> float:
        """Return the moment that turns the bow down about the centre of gravity, N m."""
        wetted = mean_wetted(self.flat, trim_deg, self.cv)
        return self.balance(trim_deg, wetted, self.friction(trim_deg, wetted)[2])

    def balance(self, trim_deg: float, wetted: float, friction: float) -> float:
        """Return the paper's sum of moments for a known wetted length and friction."""
        boat = self.boat
        trim, thrust = math.radians(trim_deg), math.radians(boat.thrust_deg)
        arm = boat.arm_mm / 1000.0
        ahead = (boat.ahead_mm - pressure_centre(wetted, self.cv) * wetted * boat.beam_mm) / 1000.0
        quarter = boat.beam_mm / 4.0 * math.tan(math.radians(boat.deadrise_deg))
        above = (boat.above_mm - quarter) / 1000.0
        normal = (1.0 - math.sin(trim) * math.sin(trim + thrust)) * ahead / math.cos(trim)
        return self.weight * (normal - arm * math.sin(trim)) + friction * (above - arm)

    def state(self, trim_deg: float) -> Planing:
        """Return everything at one trim."""
        boat = self.boat
        wetted = mean_wetted(self.flat, trim_deg, self.cv)
        bottom, reynolds, friction = self.friction(trim_deg, wetted)
        keel, chine = wetted_lengths_mm(wetted, boat.beam_mm, boat.deadrise_deg, trim_deg)
        trim = math.radians(trim_deg)
        return Planing(
            speed_kn=self.speed / KNOT_M_S,
            trim_deg=trim_deg,
            cv=self.cv,
            lift=self.lift,
            wetted=wetted,
            keel_mm=keel,
            chine_mm=chine,
            draught_mm=keel * math.sin(trim),
            centre_mm=pressure_centre(wetted, self.cv) * wetted * boat.beam_mm,
            bottom_m_s=bottom,
            reynolds=reynolds,
            friction_n=friction,
            resistance_n=self.weight * math.tan(trim) + friction / math.cos(trim),
            moment_nm=self.balance(trim_deg, wetted, friction),
            porpoising=porpoising_limit(math.sqrt(self.lift / 2.0), boat.deadrise_deg),
            doubts=self.doubts(trim_deg, wetted, chine, bottom),
        )

    def doubts(
        self, trim_deg: float, wetted: float, chine_mm: float, bottom_m_s: float
    ) -> tuple[str, ...]:
        """Return where a state leaves the method's range, in words."""
        said = []
        low, high = CV_RANGE
        if not low <= self.cv <= high:
            said.append(f"speed coefficient {self.cv:.2f} is outside {low:g} to {high:g}")
        low, high = TRIM_RANGE_DEG
        if not low <= trim_deg <= high:
            said.append(f"trim {trim_deg:.1f}° is outside {low:g} to {high:g}°")
        if wetted > LONGEST_WETTED:
            said.append(f"mean wetted length {wetted:.1f} beams is more than {LONGEST_WETTED:g}")
        if self.boat.deadrise_deg > STEEPEST_DEG:
            said.append(f"deadrise {self.boat.deadrise_deg:.0f}° is more than {STEEPEST_DEG:g}°")
        if chine_mm <= 0.0:
            said.append("the chines run dry, and the formulas are for wet ones")
        if bottom_m_s <= self.speed * math.sqrt(_LEAST_SHARE) * 1.001:
            said.append("the wetted length is too short for the formula of the bottom's speed")
        return tuple(said)


def at_trim(boat: PlaningBoat, speed_kn: float, trim_deg: float, water: Water) -> Planing:
    """Return a boat held at a trim, 0.1 to 25 degrees; ``moment_nm`` says what she wants to do.

    :raises JobError: for a mass, beam, place, speed or trim that has no meaning.
    """
    if not 0.1 <= trim_deg <= 25.0:
        raise JobError(
            f"a trim of {trim_deg:g}°", allowed="0.1 to 25°", cure="take a running trim",
            where="underway, trim",
        )  # fmt: skip
    return _Run(boat, speed_kn, water).state(trim_deg)


def equilibrium(boat: PlaningBoat, speed_kn: float, water: Water) -> Planing | NotPlaning:
    """Return how a boat planes at a speed: the trim at which nothing turns her.

    The balance is the paper's, with the thrust line's angle and arm; a root between 0.5 and 15
    degrees that a disturbance does not throw off, bracketed and closed by regula falsi (Illinois).

    :raises JobError: for a mass, beam, place or speed that has no meaning.
    """
    run = _Run(boat, speed_kn, water)
    before, below = _SEARCH_DEG[0], run.moment(_SEARCH_DEG[0])
    if below >= 0.0:
        return NotPlaning("she would run flatter than 0.5°, which the formulas do not cover")
    for trim in _SEARCH_DEG[1:]:
        turning = run.moment(trim)
        if turning >= 0.0:
            found = _falsi(run.moment, (before, below), (trim, turning), _TRIM_EXACT_DEG)
            return run.state(found)
        before, below = trim, turning
    return NotPlaning("she would squat to more than 15°: she does not plane at this speed")


def _falsi(
    function: Callable[[float], float],
    low: tuple[float, float],
    high: tuple[float, float],
    exact: float,
) -> float:
    """Return a root between two points of opposite sign by the Illinois method."""
    (a, fa), (b, fb) = low, high
    for _ in range(60):
        middle = b - fb * (b - a) / (fb - fa)
        value = function(middle)
        if value == 0.0 or abs(b - a) < exact:
            return middle
        if value * fb < 0.0:
            a, fa = b, fb
        else:
            fa /= 2.0
        moved = abs(middle - b)
        b, fb = middle, value
        if moved < exact:
            return middle
    return b


def speed_for_power(
    boat: PlaningBoat, effective_kw: float, water: Water, *, near_kn: float | None = None
) -> Planing | NotPlaning:
    """Return the fastest planing state whose resistance takes an effective power.

    :param effective_kw: power that really pushes: shaft power times propulsive efficiency.
    :param near_kn: where to begin to look.
    :raises JobError: for a boat or power that has no meaning.
    """
    if not (math.isfinite(effective_kw) and effective_kw > 0.0):
        raise JobError(
            f"a power of {effective_kw:g} kW", allowed="it must be more than 0",
            cure="give power and efficiency", where="engine, power",
        )  # fmt: skip
    slowest = _SLOWEST_CV * math.sqrt(GRAVITY * boat.beam_mm / 1000.0) / KNOT_M_S

    def excess(speed_kn: float) -> float:
        state = equilibrium(boat, speed_kn, water)
        # Too fast to be answered counts as too fast for the power.
        return state.power_kw - effective_kw if isinstance(state, Planing) else math.inf

    upper = near_kn * 1.03 if near_kn else 40.0
    over = excess(upper)
    while over < 0.0 and upper < 120.0:
        upper *= 1.15
        over = excess(upper)
    if over < 0.0:
        return NotPlaning("the power would drive her faster than 120 kn, which is not answered")
    ratio = 0.94 if near_kn else 0.90
    while upper > slowest:
        lower = upper * ratio
        under = excess(lower)
        if under < 0.0:
            speed = _speed(excess, (lower, under), (upper, over))
            if speed is None:
                return NotPlaning("before the power is used up she runs flatter than 0.5°")
            return equilibrium(boat, speed, water)
        upper, over = lower, under
    if near_kn is not None:
        # Next to the hump the span that the power covers can lie between two steps.
        return speed_for_power(boat, effective_kw, water)
    return NotPlaning("the power does not get her on the plane")


def _speed(
    excess: Callable[[float], float], low: tuple[float, float], high: tuple[float, float]
) -> float | None:
    """Return the speed between two at which the power is used up; None where it never is.

    Above the upper one she may run too flat to be answered; halving finds where that begins.
    """
    while math.isinf(high[1]) and high[0] - low[0] > 1e-3:
        middle = (low[0] + high[0]) / 2.0
        value = excess(middle)
        if value < 0.0:
            low = (middle, value)
        else:
            high = (middle, value)
    return None if math.isinf(high[1]) else _falsi(excess, low, high, _SPEED_EXACT)
