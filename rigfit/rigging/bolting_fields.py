"""What is known and chosen about bolts and backing, and about the printer that makes templates."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.candidate import CALIPER_MM
from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.units import Kind


def _thickness(label: str, how: str, example: str, high: float = 60.0) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=0.0, high=high, tolerance=CALIPER_MM,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bolting:
    """Bolts, washers and backing of the mounting, and the transom's core."""

    bolt: str = described(
        FieldSpec(
            label="bolt",
            how="Thread of the mounting bolts.",
            profile="bolts",
            example="half-13",
        ),
        "",
    )
    grade: str = described(
        FieldSpec(
            label="material and strength",
            how="Read it from the bolt head or the bag.",
            profile="bolt_grades",
            example="A4-70",
        ),
        "",
    )
    length: Reading | None = described(
        FieldSpec(
            label="length of the bolts in hand",
            how="Under the head to the end. Leave empty to have it worked out.",
            kind=Kind.LENGTH, low=20.0, high=400.0, tolerance=CALIPER_MM, example="110 mm",
        )
    )  # fmt: skip
    flange: Reading | None = described(
        _thickness(
            "thickness of the engine's clamp bracket at the bolts",
            "Caliper over the flange of the bracket.",
            "14 mm",
        )
    )
    backing: str = described(
        FieldSpec(
            label="inside, under the nuts",
            how="What spreads the load of the nuts over the core.",
            choices=("washers", "plate", "plate and washers"),
            example="plate and washers",
        ),
        "",
    )
    washer: str = described(
        FieldSpec(
            label="washers",
            how="Under heads and nuts alike. A wide one bears on twice the core of an ordinary.",
            profile="washers",
            example="M12-wide",
        ),
        "",
    )
    plate_thickness: Reading | None = described(
        _thickness("thickness of the backing plate", "Of each plate.", "6 mm", 40.0)
    )
    plate_width: Reading | None = described(
        FieldSpec(
            label="width of the backing plate",
            how="Across. A plate may join two bolts, or all four.",
            kind=Kind.LENGTH, low=20.0, high=900.0, tolerance=CALIPER_MM, example="400 mm",
        )
    )  # fmt: skip
    plate_height: Reading | None = described(
        FieldSpec(
            label="height of the backing plate",
            how="Up and down.",
            kind=Kind.LENGTH, low=20.0, high=600.0, tolerance=CALIPER_MM, example="80 mm",
        )
    )  # fmt: skip
    core: str = described(
        FieldSpec(
            label="core of the transom",
            how="Look into an old hole or at the swarf of the drill.",
            profile="cores",
            example="plywood",
        ),
        "",
    )
    torque: Reading | None = described(
        FieldSpec(
            label="tightening torque the engine's maker gives",
            how="From the owner's or rigging manual; it wins over every computed figure.",
            kind=Kind.TORQUE, low=1.0, high=400.0, origin=Origin.STATED, example="75 N·m",
        )
    )  # fmt: skip
    thread_state: str = described(
        FieldSpec(
            label="threads are",
            how="Decides how much of the torque becomes tension.",
            choices=("dry", "oiled", "anti-seize"),
            example="anti-seize",
        ),
        "",
    )
    load_factor: Reading | None = described(
        FieldSpec(
            label="load factor for waves and trailer",
            how="How many times its weight the engine pulls on its bolts at worst. Leave empty to "
            "use the customary 5, which is labelled as such.",
            kind=Kind.RATIO, low=1.0, high=15.0, origin=Origin.CHOSEN, example="5",
        )
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PrinterCheck:
    """What the check bars measured on a printed sheet; decides whether a template may be used."""

    paper: str = described(
        FieldSpec(
            label="paper in the printer",
            how="What the template is printed on; bars measured on another paper prove nothing.",
            choices=("A4", "A3", "Letter", "Legal", "Tabloid"),
            example="A4",
        ),
        "",
    )
    bar_across: Reading | None = described(
        FieldSpec(
            label="the 100 mm bar across the sheet measures",
            how="With a steel rule, on the sheet as it came out of the printer.",
            kind=Kind.LENGTH, low=20.0, high=200.0, tolerance=0.25, example="100 mm",
        )
    )  # fmt: skip
    bar_along: Reading | None = described(
        FieldSpec(
            label="the 100 mm bar along the sheet measures",
            how="The bar at right angles to the other; printers stretch the two unlike.",
            kind=Kind.LENGTH, low=20.0, high=200.0, tolerance=0.25, example="100 mm",
        )
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class DashCutout:
    """One round instrument or switch: the hole in the dash and what is to go into it."""

    name: str = described(FieldSpec(label="name of the cut-out", example="rev counter"), "")
    across: Reading | None = described(
        FieldSpec(
            label="middle from the left edge of the dash",
            how="Seen from in front, to the middle of the opening.",
            kind=Kind.LENGTH, low=0.0, high=2500.0, tolerance=CALIPER_MM, required=True,
            example="120 mm",
        )
    )  # fmt: skip
    down: Reading | None = described(
        FieldSpec(
            label="middle below the upper edge of the dash",
            how="Along the dash, to the middle of the opening.",
            kind=Kind.LENGTH, low=0.0, high=1000.0, tolerance=CALIPER_MM, required=True,
            example="70 mm",
        )
    )  # fmt: skip
    old_width: Reading | None = described(
        FieldSpec(
            label="old opening, width or diameter",
            how="Leave empty where there is none yet.",
            kind=Kind.LENGTH, low=3.0, high=800.0, tolerance=CALIPER_MM, example="86 mm",
        )
    )  # fmt: skip
    old_height: Reading | None = described(
        FieldSpec(
            label="old opening, height",
            how="Leave empty for a round one.",
            kind=Kind.LENGTH, low=3.0, high=800.0, tolerance=CALIPER_MM, example="60 mm",
        )
    )  # fmt: skip
    new_width: Reading | None = described(
        FieldSpec(
            label="new instrument's opening, width or diameter",
            how="From its maker's sheet.",
            kind=Kind.LENGTH, low=3.0, high=800.0, required=True, origin=Origin.STATED,
            example="85 mm",
        )
    )  # fmt: skip
    new_height: Reading | None = described(
        FieldSpec(
            label="new instrument's opening, height",
            how="Leave empty for a round one.",
            kind=Kind.LENGTH, low=3.0, high=800.0, origin=Origin.STATED, example="60 mm",
        )
    )  # fmt: skip
    bezel_width: Reading | None = described(
        FieldSpec(
            label="its rim, width or diameter",
            how="What covers the edge of the opening.",
            kind=Kind.LENGTH, low=3.0, high=900.0, origin=Origin.STATED, example="95 mm",
        )
    )  # fmt: skip
    bezel_height: Reading | None = described(
        FieldSpec(
            label="its rim, height",
            how="Leave empty for a round one.",
            kind=Kind.LENGTH, low=3.0, high=900.0, origin=Origin.STATED, example="70 mm",
        )
    )  # fmt: skip
