"""What is on the transom besides bolt holes: its corners, openings, and what stands inside.

Everything is measured as a tape reads it: from the centreline, + to starboard seen from astern, and
down from the transom top along the outer face.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.candidate import CALIPER_MM
from rigfit.rigging.readings import FieldSpec, Reading, described
from rigfit.units import Kind

TAPE_MM = 3.0
_ACROSS = 1750.0
_DEEP = 1100.0


def _across(label: str, how: str, example: str, *, required: bool = False) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=-_ACROSS, high=_ACROSS, tolerance=TAPE_MM,
        required=required, example=example,
    )  # fmt: skip


def _below(label: str, how: str, example: str, *, required: bool = False) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=0.0, high=_DEEP, tolerance=TAPE_MM,
        required=required, example=example,
    )  # fmt: skip


def _size(label: str, how: str, example: str, *, required: bool = False) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=1.0, high=2000.0, tolerance=CALIPER_MM,
        required=required, example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class TransomFace:
    """The outline of the transom's outer face, and two fixed points to tape from."""

    chine_width: Reading | None = described(
        FieldSpec(
            label="width between the chine corners",
            how="Straight across the transom, from chine corner to chine corner. The diagonals of "
            "the template are proved from these corners.",
            kind=Kind.LENGTH, low=300.0, high=3500.0, tolerance=TAPE_MM, example="1.58 m",
        )
    )  # fmt: skip
    chine_below_top: Reading | None = described(
        _below(
            "chine corners below the transom top",
            "Square down from the level of the transom top at the engine to the chine corners.",
            "370 mm",
        )
    )
    notch_width: Reading | None = described(
        FieldSpec(
            label="width of the motor well's notch",
            how="Between the upright sides of the lower part of the transom top. Leave empty where "
            "the whole top is level.",
            kind=Kind.LENGTH, low=200.0, high=3000.0, tolerance=TAPE_MM, example="640 mm",
        )
    )  # fmt: skip
    notch_depth: Reading | None = described(
        FieldSpec(
            label="depth of the notch",
            how="How far the transom top at the engine lies below the top beside it.",
            kind=Kind.LENGTH, low=10.0, high=600.0, tolerance=TAPE_MM, example="120 mm",
        )
    )  # fmt: skip
    point_a_across: Reading | None = described(
        _across(
            "first fixed point, from the centreline",
            "Two fixed points, such as screws or corners, let a tape find any hole. - to port.",
            "-300 mm",
        )
    )
    point_a_below: Reading | None = described(
        _below("first fixed point, below the top", "Down from the transom top.", "0 mm")
    )
    point_b_across: Reading | None = described(
        _across("second fixed point, from the centreline", "+ to starboard.", "300 mm")
    )
    point_b_below: Reading | None = described(
        _below("second fixed point, below the top", "Down from the transom top.", "0 mm")
    )


@dataclass(frozen=True, slots=True)
class Opening:
    """One opening or fitting in the transom that is not a bolt hole."""

    name: str = described(FieldSpec(label="name of the opening", example="drain"), "")
    kind: str = described(
        FieldSpec(
            label="what it is",
            how="A narrow one called other is an old slot, which a bolt may go through.",
            choices=("drain", "cable opening", "scupper", "tow eye", "transducer", "other"),
            example="drain",
        ),
        "other",
    )
    across: Reading | None = described(
        _across(
            "its middle, from the centreline", "+ to starboard, - to port.", "0 mm", required=True
        )
    )
    below_top: Reading | None = described(
        _below("its middle, below the transom top", "Along the face.", "455 mm", required=True)
    )
    width: Reading | None = described(
        _size("its width", "Across; of a round one its diameter.", "32 mm", required=True)
    )
    height: Reading | None = described(_size("its height", "Leave empty for a round one.", "32 mm"))


@dataclass(frozen=True, slots=True)
class NoGo:
    """One place inside where no bolt, washer or plate can sit."""

    name: str = described(FieldSpec(label="name of the place", example="port knee"), "")
    kind: str = described(
        FieldSpec(
            label="what is there",
            how="Only for the drawing; what counts are its edges.",
            choices=("well floor", "knee", "stringer", "pipe", "battery", "other"),
            example="knee",
        ),
        "other",
    )
    across_from: Reading | None = described(
        _across(
            "from, across", "Its port edge, projected square to the outer face.", "-260 mm",
            required=True,
        )
    )  # fmt: skip
    across_to: Reading | None = described(
        _across("to, across", "Its starboard edge.", "-205 mm", required=True)
    )
    below_from: Reading | None = described(
        _below("from, below the top", "Its upper edge.", "120 mm", required=True)
    )
    below_to: Reading | None = described(
        _below("to, below the top", "Its lower edge; where it runs to the bottom, how far you see.",
               "500 mm", required=True)
    )  # fmt: skip
    corner_radius: Reading | None = described(
        FieldSpec(
            label="radius of its upper corners",
            how="Of the curve of a well floor or knee where it meets the transom; empty for none.",
            kind=Kind.LENGTH, low=0.0, high=500.0, tolerance=TAPE_MM, example="60 mm",
        )
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A second engine on the same transom: a twin of the chosen one, or a kicker beside it."""

    arrangement: str = described(
        FieldSpec(
            label="engines on the transom",
            how="single; twins of the chosen engine, each half the spacing off the centreline; or "
            "a kicker beside the main engine.",
            choices=("single", "twins", "kicker"),
            example="single",
        ),
        "single",
    )
    twin_spacing: Reading | None = described(
        FieldSpec(
            label="twins, centre to centre",
            how="Between the engines' own centrelines. Ask the maker for the least.",
            kind=Kind.LENGTH, low=300.0, high=1500.0, tolerance=CALIPER_MM, example="660 mm",
        )
    )  # fmt: skip
    twin_toe: Reading | None = described(
        FieldSpec(
            label="toe of twins, at the propeller shafts",
            how="How much further apart the shafts stand than the engines' centrelines at the "
            "transom, steered straight: + apart (toe out), - together.",
            kind=Kind.LENGTH, low=-100.0, high=100.0, tolerance=CALIPER_MM, example="13 mm",
        )
    )  # fmt: skip
    kicker_pattern: str = described(
        FieldSpec(
            label="kicker's holes or bracket",
            how="The hole pattern of the kicker, or of its auxiliary bracket.",
            profile="hole_patterns",
            example="clamp",
        ),
        "",
    )
    kicker_across: Reading | None = described(
        _across("kicker's centre, from the centreline", "+ to starboard, - to port.", "430 mm")
    )
    kicker_upper_holes: Reading | None = described(
        _below("kicker's upper holes below the top", "Along the face.", "60 mm")
    )
