"""Load rules: weight and persons capacity, and the engine weights they are reckoned with.

The law's tables and roundings are in pounds; they are kept so here and turned into kilograms where
they leave. A result says what the rule gives; the capacity plate wins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rigfit.units import FOOT_MM, HORSEPOWER_KW, INCH_MM, POUND_KG

PERSON_LB = 141.0
PERSONS_ADDED_LB = 32.0
"""33 CFR 183.41(b): persons = (capacity + 32) / 141, a half and more goes up."""

LIST_TEST_BELOW_LB = 550.0
"""33 CFR 183.41: the list test counts for persons capacities under this."""

OWNER_RULE_FT2 = 15.0
"""US boating courses: length times beam, sq ft, over 15 for a boat without a plate."""

CANADA_PERSON_KG = 75.0
"""The mass of one person in Canada's study guide for compliance notices."""

_NOISE = 1e-9


def weight_capacity(max_displacement: float, boat_weight: float) -> float:
    """Return 33 CFR 183.35: a fifth of what displacement leaves over boat weight, in their unit.

    0 where the boat weighs more than she can displace.
    """
    return max(0.0, (max_displacement - boat_weight) / 5.0)


def persons_capacity(
    weight_capacity_lb: float, outfit_lb: float, list_test_lb: float | None = None
) -> float:
    """Return 33 CFR 183.41(a), lb: the lesser of weight capacity less outfit, and of A/0.6.

    :param outfit_lb: motor, controls, dry battery and full portable tank, as ``EngineWeights``.
    :param list_test_lb: A of the list test; only counts where the first figure is under 550 lb.
    """
    left = max(0.0, weight_capacity_lb - outfit_lb)
    if list_test_lb is None or left >= LIST_TEST_BELOW_LB:
        return left
    return min(left, list_test_capacity(list_test_lb))


def list_test_capacity(weight_lb: float) -> float:
    """Return 33 CFR 183.41(a)(2), lb: A of the list test over 0.6."""
    return weight_lb / 0.6


def manual_persons_capacity(weight_capacity_lb: float, *, is_powered: bool) -> float:
    """Return 33 CFR 183.43, lb: 90 % of weight capacity, less 25 lb for engines up to 2 hp."""
    return max(0.0, 0.9 * weight_capacity_lb - (25.0 if is_powered else 0.0))


def persons_quotient(capacity_lb: float) -> float:
    """Return (capacity + 32) / 141 before it is rounded."""
    return (capacity_lb + PERSONS_ADDED_LB) / PERSON_LB


def whole_persons(capacity_lb: float) -> int:
    """Return 33 CFR 183.41(b): whole persons, a fraction of one half or more going up."""
    return math.floor(persons_quotient(capacity_lb) + 0.5 + _NOISE)


def persons_by_size(length_mm: float, beam_mm: float) -> int:
    """Return the boating course's rule for a boat without a plate: length times beam over 15."""
    return math.floor(length_mm * beam_mm / FOOT_MM**2 / OWNER_RULE_FT2 + _NOISE)


def persons_of_gross_load(gross_kg: float, engine_kg: float, equipment_kg: float) -> int:
    """Return Canada's study-guide rule: persons of 75 kg in what engine and equipment leave."""
    left = (gross_kg - engine_kg - equipment_kg) / CANADA_PERSON_KG
    return max(0, math.floor(left + _NOISE))


@dataclass(frozen=True, slots=True)
class EngineWeights:
    """One row of the outboard weights of 33 CFR 183.75 in force from 1 June 2018, lb.

    :param hp_from: weakest engine of the row.
    :param hp_to: strongest.
    :param dry: heaviest published shortest-leg engine and 10 %.
    :param running: 1.05 dry.
    :param swamped: 0.85 running.
    :param controls: controls and rigging.
    :param battery: dry battery.
    :param battery_submerged: battery under water.
    :param fuel: full portable tank.
    :param total: running, controls, dry battery and fuel.
    """

    hp_from: float
    hp_to: float
    dry: float
    running: float
    swamped: float
    controls: float
    battery: float
    battery_submerged: float
    fuel: float
    total: float

    @property
    def dry_kg(self) -> float:
        """Dry weight, kg."""
        return self.dry * POUND_KG

    @property
    def total_kg(self) -> float:
        """Everything together, kg."""
        return self.total * POUND_KG


ENGINE_WEIGHTS: tuple[EngineWeights, ...] = tuple(
    EngineWeights(*row)
    for row in (
        (0.1, 2.0, 30, 32, 27, 0, 0, 0, 0, 32),
        (2.1, 3.9, 42, 44, 37, 0, 0, 0, 0, 44),
        (4.0, 6.9, 66, 69, 59, 0, 0, 0, 25, 94),
        (7.0, 10.9, 105, 110, 94, 5, 20, 11, 50, 185),
        (11.0, 22.9, 127, 133, 113, 6, 45, 25, 50, 234),
        (23.0, 34.9, 187, 196, 167, 9, 45, 25, 100, 350),
        (35.0, 64.9, 286, 300, 255, 14, 45, 25, 100, 459),
        (65.0, 94.9, 439, 461, 392, 22, 45, 25, 100, 628),
        (95.0, 104.9, 458, 481, 409, 23, 45, 25, 100, 649),
        (105.0, 144.9, 526, 552, 469, 26, 45, 25, 100, 723),
        (145.0, 194.9, 561, 589, 501, 28, 45, 25, 100, 762),
        (195.0, 209.9, 652, 685, 582, 33, 45, 25, 100, 863),
        (210.0, 300.0, 699, 734, 624, 35, 45, 25, 100, 914),
        (300.1, 350.0, 884, 928, 789, 44, 45, 25, 100, 1117),
    )
)
"""The whole table, read in a reprint."""

SHORT_TRANSOM_MM = 20.0 * INCH_MM
"""Up to this transom height the dry weight may be cut by a tenth."""


def engine_weights(power_kw: float) -> tuple[EngineWeights, ...]:
    """Return the row of a power; both neighbours between two bands, none outside the table.

    The bands end at tenths of a horsepower, so that 34.95 hp stands in none of them: the table
    does not settle that, and both rows are returned.
    """
    hp = power_kw / HORSEPOWER_KW
    for index, row in enumerate(ENGINE_WEIGHTS):
        if hp <= row.hp_to + 1e-6:
            if hp >= row.hp_from - 1e-6:
                return (row,)
            return (ENGINE_WEIGHTS[index - 1], row) if index else ()
    return ()


def short_transom(row: EngineWeights) -> EngineWeights:
    """Return the row as the note for transoms of 20 in or less allows it: dry cut by a tenth.

    The dependent columns are redone, not rounded: running 1.05 dry, swamped 0.85 running, controls
    a twentieth of dry where the row has any (the ratio all rows keep to).
    """
    dry = 0.9 * row.dry
    running = 1.05 * dry
    controls = 0.05 * dry if row.controls else 0.0
    return replace(
        row, dry=dry, running=running, swamped=0.85 * running, controls=controls,
        total=running + controls + row.battery + row.fuel,
    )  # fmt: skip


def outfit_lb(row: EngineWeights, engines: int = 1) -> float:
    """Return the final total of a row for some engines: the total times their number."""
    return row.total * engines
