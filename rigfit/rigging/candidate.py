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
    cowl_length: Reading | None = described(
        FieldSpec(
            label="length of the cowl",
            how="Fore and aft, plate level, from the foremost to the aftmost point of the hood.",
            kind=Kind.LENGTH,
            low=100.0,
            high=1500.0,
            tolerance=LEG_MM,
            example="740 mm",
        )
    )
    cowl_breadth: Reading | None = described(
        FieldSpec(
            label="breadth of the cowl",
            how="Across, at the widest place of the hood, handles and latches included.",
            kind=Kind.LENGTH,
            low=100.0,
            high=1000.0,
            tolerance=LEG_MM,
            example="460 mm",
        )
    )
    cowl_top_above_seat: Reading | None = described(
        FieldSpec(
            label="top of the cowl above the seat",
            how="Plate level: upright from the seat under the clamp bracket's hook to the top of "
            "the hood.",
            kind=Kind.LENGTH,
            low=50.0,
            high=1500.0,
            tolerance=LEG_MM,
            example="600 mm",
        )
    )
    cowl_front_ahead_of_seat: Reading | None = described(
        FieldSpec(
            label="front of the cowl ahead of the seat",
            how="Plate level: level, from the seat forward to the foremost point of the hood; the "
            "cable grommet counts.",
            kind=Kind.LENGTH,
            low=-300.0,
            high=900.0,
            tolerance=LEG_MM,
            example="170 mm",
        )
    )
    skeg_below_plate: Reading | None = described(
        FieldSpec(
            label="tip of the skeg below the plate",
            how="Square to the plate, from its underside to the lowest tip of the skeg.",
            kind=Kind.LENGTH,
            low=50.0,
            high=700.0,
            tolerance=LEG_MM,
            example="360 mm",
        )
    )
    lock_angle: Reading | None = described(
        FieldSpec(
            label="steering lock, each way",
            how="Angle the engine turns from straight ahead to its stop, read on the plate.",
            kind=Kind.ANGLE,
            low=5.0,
            high=90.0,
            tolerance=2.0,
            example="32°",
        )
    )
    full_tilt: Reading | None = described(
        FieldSpec(
            label="full tilt, plate against square to the face",
            how="Angle the plate stands at fully tilted, from square to the face the clamp bracket "
            "sits on, propeller up is +. Travel is this less the one fully in.",
            kind=Kind.ANGLE,
            low=20.0,
            high=130.0,
            tolerance=2.0,
            example="80°",
        )
    )
    trim_in: Reading | None = described(
        FieldSpec(
            label="trimmed fully in, plate against square to the face",
            how="As for full tilt, engine fully in. On a rake of 12° a plate that stands 4° "
            "propeller under there reads 8°: the rake is added.",
            kind=Kind.ANGLE,
            low=-30.0,
            high=40.0,
            tolerance=1.0,
            example="8°",
        )
    )
    tilt_axis_out: Reading | None = described(
        FieldSpec(
            label="tilt axis out from the face",
            how="Square to the face the clamp bracket sits on, to the middle of the tilt tube; - "
            "where it lies over the boat.",
            kind=Kind.LENGTH,
            low=-200.0,
            high=300.0,
            tolerance=LEG_MM,
            example="-20 mm",
        )
    )
    tilt_axis_up: Reading | None = described(
        FieldSpec(
            label="tilt axis above the seat",
            how="Along the face, from the seat under the clamp bracket's hook to the middle of the "
            "tilt tube.",
            kind=Kind.LENGTH,
            low=-200.0,
            high=300.0,
            tolerance=LEG_MM,
            example="60 mm",
        )
    )
    outline: str = described(
        FieldSpec(
            label="side view of the engine, as points",
            how="In mm, ahead and above of the tilt axis for each corner, plate level, corners "
            "parted by semicolons and outlines by a slash; takes the place of the sizes of the "
            "cowl from the side. rigfit swing JOB --outline FILE.dxf fills it in.",
            example="180, 60; 180, 500; -460, 500; -460, 60",
            longest=8000,
        ),
        "",
    )
    gear_ratio: Reading | None = described(
        FieldSpec(
            label="gear ratio",
            how="Turns of the engine for one of the propeller, from its manual; 28/13 is read, "
            "too. Or turn the flywheel by hand in gear and count ten turns of the propeller.",
            kind=Kind.RATIO,
            low=1.0,
            high=4.0,
            origin=Origin.STATED,
            example="2.15",
        )
    )
    wot_low: Reading | None = described(
        FieldSpec(
            label="lower end of the maker's band at full throttle",
            how="From the engine's manual or its plate: the speeds it must come up to, loaded, "
            "with the lever fully open.",
            kind=Kind.ROTATION,
            low=2000.0,
            high=9000.0,
            origin=Origin.STATED,
            example="5000 rpm",
        )
    )
    wot_high: Reading | None = described(
        FieldSpec(
            label="upper end of the maker's band at full throttle",
            how="From the same place; above it the engine is overspeeding.",
            kind=Kind.ROTATION,
            low=2000.0,
            high=9000.0,
            origin=Origin.STATED,
            example="6000 rpm",
        )
    )
