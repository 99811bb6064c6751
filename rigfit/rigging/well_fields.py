"""What the engine swings among: the motor well, obstacles, the steering gear, and the trailer.

All is measured as a tape and a level read it from one datum, the upper outer edge of the transom:
ahead of it and above it, level with the keel line, and across from the centreline.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.rigging.transom_map import TAPE_MM
from rigfit.units import Kind

LOOSE_MM = 5.0
"""Default half-width of a reading to the edge of something soft, round or hard to reach."""


def _length(
    label: str, how: str, example: str, *, low: float = 0.0, high: float = 3000.0,
    tolerance: float = TAPE_MM,
) -> FieldSpec:  # fmt: skip
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=low, high=high, tolerance=tolerance,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Well:
    """The motor well ahead of the transom, a box with upright walls."""

    length: Reading | None = described(
        _length(
            "inside length of the well, fore and aft",
            "Level, from the inside of the transom at its top to the well's front wall, at the "
            "height of the cowl's front.",
            "460 mm",
        )
    )
    width: Reading | None = described(
        _length(
            "inside width of the well",
            "Across, between the side walls where they are nearest, centred on the boat.",
            "840 mm",
        )
    )
    floor_below_top: Reading | None = described(
        _length(
            "floor of the well below the transom top",
            "Straight down from the level of the transom top to the highest part of the floor.",
            "230 mm",
            high=1100.0,
        )
    )
    front_top: Reading | None = described(
        _length(
            "top of the well's front wall above the transom top",
            "Straightedge level over the transom top to the front wall; + where the wall stands "
            "higher, - where it is lower.",
            "120 mm",
            low=-1000.0,
            high=1500.0,
        )
    )
    corner_radius: Reading | None = described(
        _length(
            "radius of the well's front corners",
            "Of the curve in which front and side walls meet, seen from above; empty or 0 for a "
            "square corner.",
            "60 mm",
            high=500.0,
        )
    )


OBSTACLES = (
    "seat back",
    "rail",
    "bait board",
    "ladder",
    "swim step",
    "deck edge",
    "bracket strip",
    "kicker",
    "second engine",
    "other",
)
"""What an obstacle can be."""


def _place(label: str, how: str, example: str) -> FieldSpec:
    return _length(label, how, example, low=-3000.0, tolerance=LOOSE_MM)


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One thing the engine could touch, as a box or as a side view outline drawn across."""

    name: str = described(
        FieldSpec(
            label="name of the obstacle", how="As it is called aboard.", example="stern seat"
        ),
        "",
    )
    kind: str = described(
        FieldSpec(
            label="kind of obstacle",
            how="A kicker or second engine is judged in a finding of its own.",
            choices=OBSTACLES,
            example="seat back",
        ),
        "other",
    )
    ahead_from: Reading | None = described(
        _place(
            "its near end, ahead of the transom",
            "Level, from the outer face of the transom at its top; + forward, - aft.",
            "420 mm",
        )
    )
    ahead_to: Reading | None = described(
        _place("its far end, ahead of the transom", "As above.", "560 mm")
    )
    above_from: Reading | None = described(
        _place(
            "its lower edge, above the transom top",
            "Upright from the level of the transom top; + above, - below.",
            "-50 mm",
        )
    )
    above_to: Reading | None = described(
        _place("its upper edge, above the transom top", "As above.", "310 mm")
    )
    across_from: Reading | None = described(
        _place(
            "its port side, from the centreline",
            "- to port, + to starboard. Leave both sides empty where it runs right across.",
            "-600 mm",
        )
    )
    across_to: Reading | None = described(
        _place("its starboard side, from the centreline", "As above.", "600 mm")
    )
    outline: str = described(
        FieldSpec(
            label="its side view, as points",
            how="In mm, ahead and above for each corner, corners parted by semicolons; takes the "
            "place of the four readings above. Walk round it once without crossing your own line.",
            example="420, -50; 560, -50; 560, 310; 470, 310",
            longest=2000,
        ),
        "",
    )


GEARS = (
    "unknown",
    "tiller",
    "rod through tilt tube",
    "cylinder in front",
    "cylinder at the side",
    "two cables",
)
"""What can turn the engine."""


@dataclass(frozen=True, slots=True)
class Steering:
    """The steering gear at the engine."""

    kind: str = described(
        FieldSpec(
            label="kind of steering gear",
            how="Look at the front of the engine, at the tube through which it tilts.",
            choices=GEARS,
            example="rod through tilt tube",
        ),
        "unknown",
    )
    half_travel: Reading | None = described(
        _length(
            "travel of the rod or cylinder, each way",
            "From the middle to one end of its travel; half of lock to lock.",
            "100 mm",
            low=10.0,
            high=400.0,
        )
    )
    arm_radius: Reading | None = described(
        _length(
            "length of the steering arm",
            "From the engine's steering axis to the hole in the arm that is pushed.",
            "216 mm",
            low=40.0,
            high=600.0,
        )
    )
    tube_end: Reading | None = described(
        _length(
            "end of the tilt tube, from the middle of the engine",
            "Across, to the end on the side where the rod or cable comes out.",
            "165 mm",
            low=20.0,
            high=600.0,
        )
    )
    beyond_tube: Reading | None = described(
        _length(
            "rod or cylinder beyond the end of the tilt tube",
            "Across, with the engine straight ahead, fittings and the first of the cable's bend "
            "included.",
            "110 mm",
            high=900.0,
        )
    )
    withdrawal: Reading | None = described(
        _length(
            "room beyond the tilt tube to draw the rod out",
            "About the length of rod inside the tube; from the gear's manual, or measured on it.",
            "300 mm",
            high=1200.0,
        )
    )
    side: str = described(
        FieldSpec(
            label="rod or cable comes out to",
            how="Seen from astern.",
            choices=("starboard", "port", "both"),
            example="starboard",
        ),
        "starboard",
    )
    hose_radius: Reading | None = described(
        _length(
            "reach of the hoses ahead of the steering axis",
            "From the steering axis forward to the outermost bend of hose, cable or harness.",
            "260 mm",
            high=900.0,
            tolerance=LOOSE_MM,
        )
    )


@dataclass(frozen=True, slots=True)
class Trailer:
    """The boat on its trailer, standing level."""

    heel_above_ground: Reading | None = described(
        _length(
            "heel above the ground, on the trailer",
            "From the ground up to where keel line and transom meet, trailer hitched and level.",
            "480 mm",
            high=2000.0,
            tolerance=10.0,
        )
    )
    axle_to_transom: Reading | None = described(
        _length(
            "axle to transom",
            "Level, from the middle of the rearmost axle aft to the heel.",
            "1.1 m",
            high=6000.0,
            tolerance=10.0,
        )
    )
    departure_wanted: Reading | None = described(
        FieldSpec(
            label="departure angle wanted",
            how="How steep a ramp or kerb the engine must clear, seen from the wheel's foot. "
            "Leave empty to use the customary figure, which is labelled as such.",
            kind=Kind.ANGLE,
            low=0.0,
            high=45.0,
            origin=Origin.CHOSEN,
            example="12°",
        )
    )
