"""What is known of the boat's limits and of what is carried: capacity plate, rules, masses.

Places of masses are counted as those of the hull: ahead from the foot of the transom along the keel
line, + forward; above the keel line; across + to starboard.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Reading, described
from rigfit.rigging.transom_map import TAPE_MM
from rigfit.units import Kind

COUNTRIES = ("US", "EU", "UK", "CA", "AU", "NZ", "other")
"""Countries a job can name for its rules."""

ANSWERS = ("yes", "no", "not said")
CRAFT = (
    "monohull", "sailboat", "canoe or kayak", "inflatable", "multihull", "not said",
)  # fmt: skip
MASS_KINDS = (
    "crew", "fuel tank", "battery", "gear", "anchor", "bracket", "propeller", "other",
)  # fmt: skip

_PLACE_MM = 50.0


def _answer(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(label=label, how=how, choices=ANSWERS, example=example)


def _wide(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=300.0, high=5000.0, tolerance=5.0,
        example=example,
    )  # fmt: skip


def _upright(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=50.0, high=1500.0, tolerance=TAPE_MM,
        example=example,
    )  # fmt: skip


def _mass(label: str, how: str, example: str, high: float, tolerance: float = 0.0) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.MASS, low=0.0, high=high, tolerance=tolerance,
        example=example,
    )  # fmt: skip


def _place(label: str, how: str, example: str, low: float, high: float) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=low, high=high, tolerance=_PLACE_MM,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class CapacityPlate:
    """The builder's capacity plate, and the country whose rules count."""

    country: str = described(
        FieldSpec(
            label="country whose rules count",
            how="Where the boat is used and insured. Only the United States' rules are known here "
            "as numbers; of other countries it is said whom to ask.",
            choices=COUNTRIES,
            example="US",
        ),
        "",
    )
    max_power: Reading | None = described(
        FieldSpec(
            label="maximum power on the capacity plate",
            how="As it is stamped, with its unit. Leave empty where the boat has no plate.",
            kind=Kind.POWER, low=0.0, high=1500.0, example="90 hp",
        )
    )  # fmt: skip
    max_load: Reading | None = described(
        _mass(
            "maximum total load on the capacity plate",
            "The figure for people, gear and whatever else the plate names with it.",
            "650 kg", 10_000.0,
        )
    )  # fmt: skip
    load_includes_engine: str = described(
        _answer(
            "the plate's total load counts the engine in",
            "Read the words beside the figure: persons, motor, gear is yes; persons, gear is no.",
            "yes",
        ),
        "not said",
    )
    max_persons_mass: Reading | None = described(
        _mass(
            "mass of persons on the capacity plate",
            "Where the plate gives one beside the number of persons.",
            "400 kg", 10_000.0,
        )
    )  # fmt: skip
    max_persons: int | None = described(
        FieldSpec(
            label="number of persons on the capacity plate",
            how="The figure as stamped.",
            kind=Kind.COUNT, low=0, high=100, example="5",
        )
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class RuleFacts:
    """What power and load rules ask of a boat, measured as 33 CFR 183.3 defines it."""

    craft: str = described(
        FieldSpec(
            label="craft, as the rules part them",
            how="A monohull cuts the water surface in one closed curve at any draught; catamarans, "
            "trimarans and pontoon boats are multihulls. A sailboat is meant to sail mainly.",
            choices=CRAFT,
            example="monohull",
        ),
        "not said",
    )
    transom_width: Reading | None = described(
        _wide(
            "greatest width of the transom",
            "The widest place of the transom, outer side to outer side, without handles, rails "
            "and other fittings. Not the width between the chines, nor that of the notch.",
            "1.85 m",
        )
    )
    beam: Reading | None = described(
        _wide(
            "greatest beam",
            "Between the outer sides at the widest place, without handles and fittings. A transom "
            "wider than half of it counts as a full transom.",
            "2.05 m",
        )
    )
    aft_quarter_beam: Reading | None = described(
        _wide(
            "broadest beam in the aftermost quarter of the length",
            "Only for a boat without a full transom: it takes the place of the transom's width.",
            "1.70 m",
        )
    )
    transom_height: Reading | None = described(
        _upright(
            "transom height as the rule takes it",
            "Upright, from the lowest point along the transom's top where water comes in, to the "
            "line of the bottom on the centreline, carried aft, without keels. Leave empty to use "
            "the height square to the keel line.",
            "20 in",
        )
    )
    motorwell_height: Reading | None = described(
        _upright(
            "height of the motor well as the rule takes it",
            "Upright, from the lowest point where water comes in along the top of the well, to "
            "the same line of the bottom.",
            "480 mm",
        )
    )
    remote_steering: str = described(
        _answer(
            "remote steering",
            "Any mechanical, hydraulic or electric help fixed to the boat and used to steer. A "
            "tiller is no.",
            "yes",
        ),
        "not said",
    )
    flat_bottom_hard_chine: str = described(
        _answer(
            "flat bottom with hard chines",
            "yes where the bottom is flat across at the transom and meets the sides at a corner.",
            "no",
        ),
        "not said",
    )
    boat_weight: Reading | None = described(
        _mass(
            "boat weight as the rule takes it",
            "Hull, deck, everything fixed for good, and full built-in tanks; no engine.",
            "480 kg", 10_000.0, 10.0,
        )
    )  # fmt: skip
    max_displacement: Reading | None = described(
        _mass(
            "maximum displacement",
            "From the builder: what she displaces, sunk level in calm water, until water would "
            "come aboard.",
            "2200 kg", 50_000.0, 20.0,
        )
    )  # fmt: skip
    list_test: Reading | None = described(
        _mass(
            "mass on one side in the list test",
            "From the builder: what the stability test of persons found. Only counts for a persons "
            "capacity under 550 lb.",
            "149 kg", 2000.0, 1.0,
        )
    )  # fmt: skip
    steering_duty: str = described(
        FieldSpec(
            label="class of the steering gear",
            how="From the label on the cable or helm: standard, or light duty for one engine of "
            "15 to 40 kW.",
            choices=("standard", "light", "not said"),
            example="standard",
        ),
        "not said",
    )
    kill_switch: str = described(
        _answer(
            "engine cut-off switch with a lanyard or other link",
            "Try it: the engine must stop when the link is pulled.",
            "yes",
        ),
        "not said",
    )


@dataclass(frozen=True, slots=True)
class OldEngine:
    """The engine that comes off, or came off."""

    engine_class: str = described(
        FieldSpec(
            label="class of the old engine",
            how="The generic class nearest to it; stands in for a mass nobody weighed.",
            profile="engine_classes",
            example="two-stroke-75-115",
        ),
        "",
    )
    mass: Reading | None = described(
        _mass(
            "mass of the old engine",
            "Weigh it when it comes off; 0 for a transom that never carried one.",
            "118 kg", 700.0, 2.0,
        )
    )  # fmt: skip
    number: int | None = described(
        FieldSpec(
            label="how many of them",
            how="2 for twins; the mass above is of one. Empty for one.",
            kind=Kind.COUNT, low=1, high=4, example="1",
        )
    )  # fmt: skip
    ahead_of_transom: Reading | None = described(
        _place(
            "old engine's centre ahead of the transom",
            "Negative, as it hangs aft. Leave empty for the usual place.",
            "-200 mm", -3000.0, 3000.0,
        )
    )  # fmt: skip
    above_keel: Reading | None = described(
        _place(
            "old engine's centre above the keel line",
            "Leave empty for the usual place.",
            "650 mm", -500.0, 3000.0,
        )
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class MassItem:
    """One thing aboard with its mass and place: people, tanks, batteries, gear."""

    name: str = described(
        FieldSpec(label="name of the load", how="As you call it.", example="fuel, midships"), ""
    )
    kind: str = described(
        FieldSpec(
            label="kind of load",
            how="Engines are not listed here: the new one is a candidate, the old one has its own "
            "table.",
            choices=MASS_KINDS,
            example="battery",
        ),
        "other",
    )
    mass: Reading | None = described(
        _mass(
            "mass of the load",
            "All of it together; of a fuel tank the empty tank only, as the fuel is reckoned from "
            "its volume.",
            "24 kg", 3000.0, 2.0,
        )
    )  # fmt: skip
    persons: int | None = described(
        FieldSpec(
            label="how many persons it is",
            how="Of crew only.",
            kind=Kind.COUNT, low=0, high=100, example="2",
        )
    )  # fmt: skip
    volume: Reading | None = described(
        FieldSpec(
            label="volume of the fuel tank, full",
            how="Of a fuel tank only.",
            kind=Kind.VOLUME, low=0.0, high=2000.0, tolerance=1.0, example="90 L",
        )
    )  # fmt: skip
    level: Reading | None = described(
        FieldSpec(
            label="how full the fuel tank is",
            how="Of a fuel tank only; empty is taken as full.",
            kind=Kind.FRACTION, low=0.0, high=1.0, tolerance=0.05, example="50 %",
        )
    )  # fmt: skip
    tank: str = described(
        FieldSpec(
            label="the fuel tank is",
            how="A built-in tank and what is in it belong to the boat, not to her load.",
            choices=("built in", "portable", "not said"),
            example="built in",
        ),
        "not said",
    )
    ahead_of_transom: Reading | None = described(
        _place(
            "its middle, ahead of the transom",
            "From the foot of the transom forward along the keel line; negative aft of it.",
            "900 mm", -3000.0, 15_000.0,
        )
    )  # fmt: skip
    above_keel: Reading | None = described(
        _place("its middle, above the keel line", "Square up.", "350 mm", -500.0, 4000.0)
    )
    across: Reading | None = described(
        _place(
            "its middle, from the centreline",
            "+ to starboard, - to port. Leave empty for the middle.",
            "0 mm", -2500.0, 2500.0,
        )
    )  # fmt: skip
    when: str = described(
        FieldSpec(
            label="aboard",
            how="before the change of engine, after it, or both.",
            choices=("both", "before", "after"),
            example="both",
        ),
        "both",
    )
