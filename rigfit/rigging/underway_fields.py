"""What is known of the boat under way, and of the propeller, before a sea trial says more."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.units import Kind

HULL_TYPES = (
    "runabout", "fast runabout", "race type", "stepped", "racing catamaran", "not said",
)  # fmt: skip
"""Kinds of hull that Crouch's formula has a constant for."""

CUPS = ("none", "single", "double", "not said")

_CENTRE_MM = 150.0


@dataclass(frozen=True, slots=True)
class Underway:
    """The boat under way: what planing is reckoned from where it is known better than by sums."""

    mass: Reading | None = described(
        FieldSpec(
            label="mass of the whole boat under way",
            how="With engine, fuel, people and gear, as she is run: weighbridge, less the trailer, "
            "with who and what was not in her added. Leave empty to add up what is listed aboard.",
            kind=Kind.MASS, low=50.0, high=15_000.0, tolerance=50.0, example="980 kg",
        )
    )  # fmt: skip
    centre_ahead: Reading | None = described(
        FieldSpec(
            label="centre of gravity ahead of the transom, under way",
            how="Of boat, engine, fuel and people together. On a trailer: load on the coupling "
            "with the boat level, times its distance from the axle, over the whole mass. Leave "
            "empty to reckon it from what is listed aboard.",
            kind=Kind.LENGTH, low=200.0, high=8000.0, tolerance=_CENTRE_MM, example="1.75 m",
        )
    )  # fmt: skip
    centre_height: Reading | None = described(
        FieldSpec(
            label="centre of gravity above the keel line, under way",
            how="Leave empty to reckon it from what is listed aboard; it matters little.",
            kind=Kind.LENGTH, low=50.0, high=3000.0, tolerance=_CENTRE_MM, example="560 mm",
        )
    )  # fmt: skip
    speed: Reading | None = described(
        FieldSpec(
            label="speed to look at",
            how="The speed at which plate and water are compared and porpoising is asked about. "
            "Leave empty to take the top speed as it is estimated.",
            kind=Kind.SPEED, low=3.0, high=100.0, tolerance=0.0, origin=Origin.CHOSEN,
            example="26 kn",
        )
    )  # fmt: skip
    plate_angle: Reading | None = described(
        FieldSpec(
            label="running trim of the engine, plate against the keel line",
            how="+ where the propeller is trimmed out from the boat, - where it is tucked under. "
            "Leave empty for a plate parallel to the keel line.",
            kind=Kind.ANGLE, low=-10.0, high=20.0, tolerance=1.0, origin=Origin.CHOSEN,
            example="2°",
        )
    )  # fmt: skip
    efficiency: Reading | None = described(
        FieldSpec(
            label="propulsive efficiency",
            how="Share of the engine's power that pushes the bare hull; the drag of the leg, of "
            "the air and of a rough bottom is counted as lost. Leave empty for 55 %, give or take "
            "10: rigfit's own estimate.",
            kind=Kind.FRACTION, low=0.2, high=0.85, tolerance=0.05, origin=Origin.CHOSEN,
            example="55 %",
        )
    )  # fmt: skip
    hull_type: str = described(
        FieldSpec(
            label="type of hull, for Crouch's formula",
            how="Decides the constant of the second estimate of her speed: 150 for average "
            "runabouts and cruisers, 190 for fast ones, 210 and more for racing hulls.",
            choices=HULL_TYPES,
            example="runabout",
        ),
        "not said",
    )
    water: str = described(
        FieldSpec(
            label="water she is run in",
            how="Leave it not said to take the water of the heights read afloat.",
            choices=("salt", "fresh", "not said"),
            example="salt",
        ),
        "not said",
    )


def pitch_field(label: str) -> FieldSpec:
    """Return the field for a pitch as stamped, mm inside."""
    return FieldSpec(
        label=label,
        how="The second figure stamped on the hub: 13 1/4 x 17 is a pitch of 17 in. Cup, wear "
        "and a bent blade make another one of it.",
        kind=Kind.LENGTH, low=76.0, high=1000.0, origin=Origin.STATED, example="17 in",
    )  # fmt: skip


def diameter_field(label: str) -> FieldSpec:
    """Return the field for a propeller's diameter as stamped, mm inside."""
    return FieldSpec(
        label=label,
        how="The first figure stamped on the hub, or twice from the middle of the hub to a "
        "blade's tip.",
        kind=Kind.LENGTH, low=100.0, high=700.0, origin=Origin.STATED, example="13 1/4 in",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Propeller:
    """The propeller that is on the engine, or meant for it."""

    pitch: Reading | None = described(pitch_field("pitch of the propeller"))
    diameter: Reading | None = described(diameter_field("diameter of the propeller"))
    blades: int | None = described(
        FieldSpec(
            label="blades of the propeller",
            how="Count them.",
            kind=Kind.COUNT, low=2, high=6, example="3",
        )
    )  # fmt: skip
    cup: str = described(
        FieldSpec(
            label="cup of the blades",
            how="The trailing edge of a cupped blade is curled over; a double cup is plainly so.",
            choices=CUPS,
            example="none",
        ),
        "not said",
    )
    target_rpm: Reading | None = described(
        FieldSpec(
            label="engine speed to aim for at full throttle",
            how="Leave empty to aim for the middle of the upper half of the maker's band.",
            kind=Kind.ROTATION, low=2000.0, high=9000.0, origin=Origin.CHOSEN, example="5700 rpm",
        )
    )  # fmt: skip
