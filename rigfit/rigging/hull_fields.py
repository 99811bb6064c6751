"""What is measured of the hull, and how she lies afloat, to say how she will float later.

Lengths ahead are counted from the foot of the transom forward along the keel line, heights from the
keel line up, square to it; across is + to starboard. The keel line is the straight run of the
bottom at the transom, as under the straightedge.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.rigging.transom_map import TAPE_MM
from rigfit.units import Kind

AFLOAT_MM = 5.0
"""Default half-width of the tolerance of a height read afloat in calm water."""

_HULL_MM = 20.0
_LONG = 15_000.0
_HIGH = 3_000.0


def _hull(label: str, how: str, example: str, low: float = 50.0, high: float = 5000.0) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=low, high=high, tolerance=_HULL_MM,
        example=example,
    )  # fmt: skip


def _water(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=-300.0, high=2500.0, tolerance=AFLOAT_MM,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hull:
    """The hull from a few measurements, ashore. Stations or offsets, where given, lead over it."""

    chine_beam: Reading | None = described(
        _hull(
            "beam between the chines",
            "Widest, straight across from chine to chine. Of a round bottom: where it turns up.",
            "1.65 m", 300.0,
        )
    )  # fmt: skip
    sheer_beam: Reading | None = described(
        _hull(
            "beam at the sheer amidships",
            "Half-way along, outside to outside of the hull's top edge, without fenders.",
            "1.95 m", 300.0,
        )
    )  # fmt: skip
    chine_height_aft: Reading | None = described(
        _hull(
            "chine above the keel line at the transom",
            "Square up from the straightedge under the keel. Leave empty to have it worked out "
            "from the deadrise.",
            "235 mm", 0.0, 1500.0,
        )
    )  # fmt: skip
    deadrise_amidships: Reading | None = described(
        FieldSpec(
            label="deadrise amidships",
            how="Angle of the bottom against level, half-way along.",
            kind=Kind.ANGLE, low=0.0, high=60.0, tolerance=2.0, example="20°",
        )
    )  # fmt: skip
    depth_aft: Reading | None = described(
        _hull(
            "depth at the transom, keel line to sheer",
            "Square up from the keel line to the top edge of the side at the transom, not to the "
            "lower top at the engine.",
            "620 mm", 150.0, _HIGH,
        )
    )  # fmt: skip
    depth_amidships: Reading | None = described(
        _hull(
            "depth amidships, keel line to sheer",
            "Half-way along, square up from the keel line to the sheer.",
            "700 mm", 150.0, _HIGH,
        )
    )  # fmt: skip
    depth_bow: Reading | None = described(
        _hull(
            "top of the stem above the keel line",
            "Stretch the keel line forward with a string, and measure square up to the stem head.",
            "980 mm", 150.0, _HIGH,
        )
    )  # fmt: skip
    mass: Reading | None = described(
        FieldSpec(
            label="mass of the bare boat",
            how="Without engine, fuel, batteries and people: weighbridge, less the trailer. Where "
            "heights were read afloat they give it, and this is only compared.",
            kind=Kind.MASS, low=20.0, high=10_000.0, tolerance=20.0, example="420 kg",
        )
    )  # fmt: skip
    centre_ahead: Reading | None = described(
        _hull(
            "centre of gravity of the bare boat ahead of the transom",
            "Where she balances. Only needed where nothing was read afloat.",
            "2.1 m", 0.0, _LONG,
        )
    )  # fmt: skip
    centre_height: Reading | None = described(
        _hull(
            "centre of gravity of the bare boat above the keel line",
            "Leave empty to use half the depth amidships, with a wide tolerance.",
            "380 mm", 0.0, _HIGH,
        )
    )  # fmt: skip
    pod_volume: Reading | None = described(
        FieldSpec(
            label="closed volume of the pod or bracket",
            how="What of it is watertight, outside measure. Leave empty for an open bracket.",
            kind=Kind.VOLUME, low=0.0, high=2000.0, tolerance=5.0, example="90 L",
        )
    )  # fmt: skip
    pod_aft: Reading | None = described(
        _hull("middle of the pod aft of the transom", "At half its height.", "260 mm", 0.0, 2000.0)
    )
    pod_bottom: Reading | None = described(
        _hull(
            "bottom of the pod above the keel line",
            "Negative below it.", "60 mm", -300.0, 1500.0,
        )
    )  # fmt: skip
    pod_height: Reading | None = described(
        _hull("height of the pod", "From its bottom to its top.", "420 mm", 20.0, 1500.0)
    )


@dataclass(frozen=True, slots=True)
class Afloat:
    """How she lies now, read afloat in calm water; what is computed is the change from this."""

    water: str = described(
        FieldSpec(
            label="water",
            how="Salt is reckoned with 1.025 kg a litre, fresh with 1.",
            choices=("salt", "fresh"),
            example="salt",
        ),
        "salt",
    )
    transom_top: Reading | None = described(
        _water(
            "transom top above the water",
            "At the engine, straight down from the transom top to the water. Nobody aft meanwhile.",
            "255 mm",
        )
    )
    scupper: Reading | None = described(
        _water("scupper above the water", "Its lower edge, at the transom.", "70 mm")
    )
    well_sill: Reading | None = described(
        _water("sill of the motor well above the water", "The lowest place water can come over "
               "into the boat.", "240 mm")
    )  # fmt: skip
    amidships: Reading | None = described(
        _water("freeboard amidships", "Half-way along, sheer to water, both sides averaged.",
               "460 mm")
    )  # fmt: skip
    bow: Reading | None = described(
        _water("stem head above the water", "Straight down from the top of the stem.", "720 mm")
    )
    engine: str = described(
        FieldSpec(
            label="engine that hung on her then",
            how="The id of one of the engines in this job; none for a bare transom. Leave empty "
            "where it is not one of them, and give its mass.",
            example="old",
        ),
        "",
    )
    engine_mass: Reading | None = described(
        FieldSpec(
            label="mass of the engine that hung on her then",
            how="Weigh it when it comes off. 0 for a bare transom.",
            kind=Kind.MASS, low=0.0, high=700.0, tolerance=2.0, example="118 kg",
        )
    )  # fmt: skip
    fuel: Reading | None = described(
        FieldSpec(
            label="fuel aboard then",
            how="What was in the tank when the heights were read.",
            kind=Kind.VOLUME, low=0.0, high=2000.0, tolerance=5.0, example="40 L",
        )
    )  # fmt: skip
    people: int | None = described(
        FieldSpec(
            label="people aboard then",
            how="Those who sat in her while the heights were read.",
            kind=Kind.COUNT, low=0.0, high=30.0, example="0",
        )
    )  # fmt: skip


MARK_KINDS = (
    "scupper", "well sill", "rigging opening", "transom notch", "sole", "bilge outlet", "other",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WaterMark:
    """A place that must stay above the water."""

    name: str = described(
        FieldSpec(
            label="name of the mark",
            how="Any name you know it by; it is printed on the drawing.",
            example="port scupper",
        ),
        "",
    )
    kind: str = described(
        FieldSpec(
            label="what it is",
            how="Decides how far above the water it should be.",
            choices=MARK_KINDS,
            example="scupper",
        ),
        "other",
    )
    height: Reading | None = described(
        FieldSpec(
            label="above the keel line",
            how="Its lower edge, square up from the keel line.",
            kind=Kind.LENGTH, low=-200.0, high=_HIGH, tolerance=AFLOAT_MM, example="290 mm",
        )
    )  # fmt: skip
    below_top: Reading | None = described(
        FieldSpec(
            label="or below the transom top",
            how="Its lower edge, down along the outer face. For marks in the transom.",
            kind=Kind.LENGTH, low=-500.0, high=1100.0, tolerance=TAPE_MM, example="215 mm",
        )
    )  # fmt: skip
    above_water: Reading | None = described(
        _water(
            "above the water now",
            "Read afloat together with the other heights. Best of all: it needs no hull height.",
            "70 mm",
        )
    )
    ahead: Reading | None = described(
        FieldSpec(
            label="ahead of the transom",
            how="Leave empty for a mark in the transom.",
            kind=Kind.LENGTH, low=-1500.0, high=_LONG, tolerance=_HULL_MM, example="0 mm",
        )
    )  # fmt: skip
    across: Reading | None = described(
        FieldSpec(
            label="from the centreline",
            how="+ to starboard. Leave empty for the middle.",
            kind=Kind.LENGTH, low=-2500.0, high=2500.0, tolerance=_HULL_MM, example="-640 mm",
        )
    )  # fmt: skip


def _station(
    label: str, how: str, example: str, low: float = 0.0, high: float = _HIGH
) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=low, high=high, tolerance=10.0, required=True,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Station:
    """A section of the hull: keel, chine and sheer at one place along the keel line."""

    ahead: Reading | None = described(
        _station(
            "ahead of the transom", "Along the keel line, from the foot of the transom.", "1.0 m",
            0.0, _LONG,
        )
    )  # fmt: skip
    keel_height: Reading | None = described(
        _station("keel above the keel line", "0 where the bottom runs straight.", "0 mm", -300.0)
    )
    chine_half: Reading | None = described(
        _station("half breadth at the chine", "From the centreline, or half of the beam.", "800 mm")
    )
    chine_height: Reading | None = described(
        _station("chine above the keel line", "Square up from the keel line.", "240 mm", -300.0)
    )
    sheer_half: Reading | None = described(
        _station("half breadth at the sheer", "From the centreline, or half of the beam.", "930 mm")
    )
    sheer_height: Reading | None = described(
        _station("sheer above the keel line", "Square up from the keel line.", "650 mm", -300.0)
    )


@dataclass(frozen=True, slots=True)
class Offset:
    """One entry of a table of offsets: the half breadth of a section at a height."""

    ahead: Reading | None = described(
        FieldSpec(
            label="section ahead of the transom",
            how="From the foot of the transom along the keel line, as in the table.",
            kind=Kind.LENGTH, low=0.0, high=_LONG, tolerance=0.0, required=True,
            origin=Origin.STATED, example="1000 mm",
        )
    )  # fmt: skip
    height: Reading | None = described(
        FieldSpec(
            label="height above the keel line",
            how="Of the waterline this entry belongs to; bring it to the keel line at the transom.",
            kind=Kind.LENGTH, low=-300.0, high=_HIGH, tolerance=0.0, required=True,
            origin=Origin.STATED, example="200 mm",
        )
    )  # fmt: skip
    half_breadth: Reading | None = described(
        FieldSpec(
            label="half breadth",
            how="From the centreline to the outside of the hull.",
            kind=Kind.LENGTH, low=0.0, high=_HIGH, tolerance=0.0, required=True,
            origin=Origin.STATED, example="742 mm",
        )
    )  # fmt: skip
