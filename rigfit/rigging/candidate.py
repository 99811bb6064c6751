"""A candidate engine: what is stated of it and what was measured on it."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.units import Kind

LEG_MM = 5.0
CALIPER_MM = 1.0
"""Default half-widths of the tolerance of a leg and of a reading by caliper."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One engine that might be hung on the boat."""

    id: str = described(
        FieldSpec(
            label="id of the engine",
            how="A short word of your own, used in commands.",
            required=True,
            example="A",
        ),
        "",
    )
    name: str = described(
        FieldSpec(label="what you call it", example="the advert from the coast"), ""
    )
    engine_class: str = described(
        FieldSpec(
            label="engine class",
            how="The generic class nearest to it; stands in for what is not measured.",
            profile="engine_classes",
            required=True,
            example="medium-75-115",
        ),
        "",
    )
    power: Reading | None = described(
        FieldSpec(
            label="rated power",
            how="From the plate on the engine's bracket.",
            kind=Kind.POWER,
            low=0.5,
            high=500.0,
            tolerance=0.0,
            origin=Origin.STATED,
            example="80 hp",
        )
    )
    mass: Reading | None = described(
        FieldSpec(
            label="mass of the engine",
            how="Weigh it on a crane scale; a brochure figure is for the lightest version.",
            kind=Kind.MASS,
            low=5.0,
            high=700.0,
            tolerance=2.0,
            example="165 kg",
        )
    )
    leg_stated: Reading | None = described(
        FieldSpec(
            label="leg length as stated",
            how="From the advert or the model code. A class name is not a size: long means 508 "
            "to 572 mm.",
            kind=Kind.LENGTH,
            low=300.0,
            high=900.0,
            origin=Origin.STATED,
            example="20 in",
        )
    )
    leg_measured: Reading | None = described(
        FieldSpec(
            label="leg length as measured",
            how="Straight batten along the leg: from the seat under the clamp bracket's hook to "
            "the underside of the anti-ventilation plate, square to the plate. Both sides, "
            "averaged.",
            kind=Kind.LENGTH,
            low=300.0,
            high=900.0,
            tolerance=LEG_MM,
            example="516 mm",
            dimension="leg",
        )
    )
    max_lift: Reading | None = described(
        FieldSpec(
            label="most the maker lets the seat stand above the transom top",
            how="From the engine's installation manual, if it gives one; higher rows are refused.",
            kind=Kind.LENGTH,
            low=0.0,
            high=200.0,
            origin=Origin.STATED,
            example="60 mm",
        )
    )
    first_row: Reading | None = described(
        FieldSpec(
            label="uppermost bracket hole below the seat",
            how="Along the bracket face, from the seat to the centre of its uppermost hole. "
            "Measured figures replace the pattern of the class.",
            kind=Kind.LENGTH,
            low=20.0,
            high=200.0,
            tolerance=CALIPER_MM,
            example="51 mm",
        )
    )
    row_pitch: Reading | None = described(
        FieldSpec(
            label="distance from one bracket hole to the next",
            how="Measure over several holes and divide; 18 and 19 mm are both met.",
            kind=Kind.LENGTH,
            low=10.0,
            high=60.0,
            tolerance=0.25,
            example="19 mm",
        )
    )
    upper_spacing: Reading | None = described(
        FieldSpec(
            label="upper bracket holes, apart",
            how="Centre to centre across the engine.",
            kind=Kind.LENGTH,
            low=50.0,
            high=700.0,
            tolerance=CALIPER_MM,
            example="327 mm",
        )
    )
    lower_spacing: Reading | None = described(
        FieldSpec(
            label="lower bracket holes, apart",
            how="Centre to centre across the engine.",
            kind=Kind.LENGTH,
            low=50.0,
            high=700.0,
            tolerance=CALIPER_MM,
            example="251 mm",
        )
    )
    upper_to_lower: Reading | None = described(
        FieldSpec(
            label="upper row to lower row",
            how="Along the bracket face, from the uppermost upper hole to the uppermost lower one.",
            kind=Kind.LENGTH,
            low=50.0,
            high=600.0,
            tolerance=CALIPER_MM,
            example="203 mm",
        )
    )
