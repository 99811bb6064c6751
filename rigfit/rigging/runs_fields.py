"""What is measured of the runs: conductors by length and current, cables by their legs."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.units import Kind

NOT_SAID = "not said"
NOT_CHOSEN = "not chosen"

CRANKING = "cranking the engine"
USES = (
    CRANKING, "panel feeder", "electronics", "navigation lights", "bilge blower", "other",
    NOT_SAID,
)  # fmt: skip
"""What a conductor supplies, as far as the allowed voltage drop tells it apart."""

AWG = (
    "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "0", "00", "000", "0000",
)  # fmt: skip
"""The gauges of 33 CFR 183.425, Table 5, the thinnest first."""

INSULATION_DEG = (60, 75, 80, 90, 105, 125, 200)
"""Temperature ratings of insulation in that table, degrees Celsius."""

VOLTS = ("12 V", "24 V", "36 V")
STEERING = "steering cable"
CONTROL = "control cable"
THROUGH_TUBE = "through the tilt tube"
ON_TRANSOM = "on transom or well"

_STRING_MM = 50.0


@dataclass(frozen=True, slots=True)
class Wire:
    """One pair of conductors from the source to what it feeds, and back."""

    name: str = described(
        FieldSpec(
            label="name of the conductor",
            how="A word of your own for what it leads to.",
            example="sounder",
        ),
        "",
    )
    use: str = described(
        FieldSpec(
            label="what it supplies",
            how="Decides how much of the voltage may be lost on the way: 3 % for feeders of a "
            "panel, electronics, navigation lights and blowers, 10 % for the rest.",
            choices=USES,
            example="electronics",
        ),
        NOT_SAID,
    )
    length: Reading | None = described(
        FieldSpec(
            label="length of the way, once",
            how="A string laid where the conductors will lie, from the source to what they feed. "
            "The way back is added by itself.",
            kind=Kind.LENGTH, low=50.0, high=50_000.0, tolerance=_STRING_MM, required=True,
            example="5.20 m",
        )
    )  # fmt: skip
    current: Reading | None = described(
        FieldSpec(
            label="current it carries",
            how="The most that is drawn at once, from the makers' sheets.",
            kind=Kind.CURRENT, low=0.05, high=2000.0, required=True, origin=Origin.STATED,
            example="15 A",
        )
    )  # fmt: skip
    voltage: str = described(
        FieldSpec(
            label="voltage of the system",
            how="12 V unless another is chosen.",
            choices=VOLTS,
            example="12 V",
        ),
        VOLTS[0],
    )
    gauge: str = described(
        FieldSpec(
            label="gauge of the conductor, AWG",
            how="As printed on it; leave it not chosen to be told the thinnest that keeps within "
            "the voltage drop. Of one sold by mm² choose the next thinner gauge: 10 is 5.3 mm², "
            "6 is 13.3, 2 is 33.6.",
            choices=(*AWG, NOT_CHOSEN),
            example="10",
        ),
        NOT_CHOSEN,
    )
    insulation: str = described(
        FieldSpec(
            label="temperature rating of its insulation, °C",
            how="As printed on it.",
            choices=(*(str(rating) for rating in INSULATION_DEG), NOT_SAID),
            example="105",
        ),
        NOT_SAID,
    )
    hot_space: str = described(
        FieldSpec(
            label="runs through an engine space",
            how="A closed space with an engine in it, reckoned at 50 °C; the table's currents are "
            "those for 30 °C.",
            choices=("yes", "no", NOT_SAID),
            example="no",
        ),
        NOT_SAID,
    )


@dataclass(frozen=True, slots=True)
class Cable:
    """One mechanical cable by the legs of its way, as the trade measures them."""

    name: str = described(
        FieldSpec(
            label="name of the cable",
            how="A word of your own: steering, shift, throttle.",
            example="steering",
        ),
        "",
    )
    kind: str = described(
        FieldSpec(
            label="kind of cable",
            how="A steering cable from helm to engine, or a control cable for throttle or shift.",
            choices=(STEERING, CONTROL, NOT_SAID),
            example=STEERING,
        ),
        NOT_SAID,
    )
    leg_a: Reading | None = described(
        FieldSpec(
            label="leg A, helm or control box to the side",
            how="From the middle of the wheel, or from the control box, along the way the cable "
            "will lie, to where it turns aft.",
            kind=Kind.LENGTH, low=0.0, high=10_000.0, tolerance=_STRING_MM, required=True,
            example="500 mm",
        )
    )  # fmt: skip
    leg_b: Reading | None = described(
        FieldSpec(
            label="leg B, along the side to the transom",
            how="From where leg A ends, aft to where the cable turns in to the engine.",
            kind=Kind.LENGTH, low=0.0, high=20_000.0, tolerance=_STRING_MM, required=True,
            example="2.64 m",
        )
    )  # fmt: skip
    leg_c: Reading | None = described(
        FieldSpec(
            label="leg C, along the transom to the engine",
            how="From the side to the middle of the engine. Leave empty for a control cable whose "
            "leg B already ends at the engine.",
            kind=Kind.LENGTH, low=0.0, high=5000.0, tolerance=_STRING_MM, example="710 mm",
        )
    )  # fmt: skip
    bends: int | None = described(
        FieldSpec(
            label="right-angle bends on its way",
            how="Count turns of 90°; two of 45° are one.",
            kind=Kind.COUNT, low=0, high=12, example="2",
        )
    )  # fmt: skip
    mount: str = described(
        FieldSpec(
            label="where a steering cable ends",
            how="In the engine's tilt tube, or in a support on the transom or the splash well.",
            choices=(THROUGH_TUBE, ON_TRANSOM, NOT_SAID),
            example=THROUGH_TUBE,
        ),
        NOT_SAID,
    )
    feet: int | None = described(
        FieldSpec(
            label="length of the cable to be bought, feet",
            how="As the maker's list names it; cables are stocked by the foot.",
            kind=Kind.COUNT, low=1, high=100, example="13",
        )
    )  # fmt: skip
