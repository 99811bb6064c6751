"""What is written down at a sea trial: the boat on the day, and each run.

A trial is one day with one setting of engine and propeller; its runs name it by its id. Speeds are
over the ground; the same stretch is run both ways, so that current and wind show.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.rigging.underway_fields import diameter_field, pitch_field
from rigfit.units import Kind

OLD = "old"
"""What a trial names as its engine when the one that came off was on the boat."""

NOT_SAID = "not said"
YES_NO = ("yes", "no", NOT_SAID)
WATERS = ("calm", "ripples", "chop", "waves", NOT_SAID)
TRIMS = ("fully in", "a little out", "half out", "well out", NOT_SAID)
PLATE_LOOKS = ("dry", "wetted", "buried", "spray", "not seen")
VENTILATES = ("no", "in turns", "straight on", NOT_SAID)

RPM_READING = 50.0
"""Half of one division of a tachometer of 100 rpm, rpm."""

SPEED_READING = 0.3
"""What a display of tenths wanders by while one looks at it, kn."""

_MASS_KG = 20.0


def _choice(
    label: str, how: str, choices: tuple[str, ...], example: str, default: str = NOT_SAID
) -> str:
    spec = FieldSpec(label=label, how=how, choices=choices, example=example)
    chosen: str = described(spec, default)
    return chosen


def _words(label: str, how: str, example: str, *, required: bool = False) -> str:
    spec = FieldSpec(label=label, how=how, example=example, required=required)
    words: str = described(spec, "")
    return words


def _speed(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.SPEED, low=0.0, high=100.0, tolerance=SPEED_READING,
        example=example,
    )  # fmt: skip


def _aboard(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.MASS, low=0.0, high=5000.0, tolerance=_MASS_KG,
        example=example,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Trial:
    """One day on the water with one setting; nothing of it is changed between its runs."""

    id: str = described(
        FieldSpec(
            label="id of the trial",
            how="A short word of your own; its runs name it.",
            required=True,
            example="T1",
        ),
        "",
    )
    date: str = _words("date of the trial", "Year, month, day.", "2026-05-16")
    engine: str = _words(
        "engine on the boat that day",
        'The id of one of the engines below, or "old" for the one that came off.',
        "B",
    )
    row: int | None = described(
        FieldSpec(
            label="bolt row that day",
            how="Which hole of the engine's bracket takes the upper bolts; 1 is the uppermost "
            "hole, the lowest engine.",
            kind=Kind.COUNT, low=1, high=20, example="2",
        )
    )  # fmt: skip
    plate_height: Reading | None = described(
        FieldSpec(
            label="plate above the keel line that day",
            how="Straightedge along the keel, plate parallel to it: + where the plate lies above. "
            "Leave empty where the row says it.",
            kind=Kind.LENGTH, low=-200.0, high=300.0, tolerance=3.0, example="12 mm",
        )
    )  # fmt: skip
    propeller: str = _words(
        "propeller", "Material, number of blades, cup, maker's number as stamped.",
        "aluminium, 3 blades",
    )  # fmt: skip
    pitch: Reading | None = described(pitch_field("pitch of the propeller that day"))
    diameter: Reading | None = described(diameter_field("diameter of the propeller that day"))
    gear_ratio: Reading | None = described(
        FieldSpec(
            label="gear ratio of the engine that day",
            how="Turns of the engine for one of the propeller, from its manual. Leave empty to use "
            "what is known of the engine named above.",
            kind=Kind.RATIO, low=1.0, high=4.0, origin=Origin.STATED, example="2.15",
        )
    )  # fmt: skip
    wot_low: Reading | None = described(
        FieldSpec(
            label="lower end of that engine's band at full throttle",
            how="From its manual. Leave empty to use what is known of the engine named above.",
            kind=Kind.ROTATION, low=2000.0, high=9000.0, origin=Origin.STATED, example="5000 rpm",
        )
    )  # fmt: skip
    wot_high: Reading | None = described(
        FieldSpec(
            label="upper end of that engine's band at full throttle",
            how="From its manual, as above.",
            kind=Kind.ROTATION, low=2000.0, high=9000.0, origin=Origin.STATED, example="6000 rpm",
        )
    )  # fmt: skip
    mass_aboard: Reading | None = described(
        _aboard(
            "people, fuel and gear aboard that day",
            "Weighed or counted: persons, fuel at 0.75 kg a litre, gear; not boat and engine.",
            "240 kg",
        )
    )
    wind: Reading | None = described(
        _speed("wind that day", "From a forecast or a hand meter at her place.", "8 kn")
    )
    water: str = _choice("state of the water", "What she ran in, most of the time.", WATERS, "calm")
    air: str = _words(
        "air and water that day", "Temperatures, salt or fresh, current: in your own words.",
        "14 °C, salt, tide running out",
    )  # fmt: skip
    speed_from: str = _choice(
        "speed was read from",
        "A satellite receiver shows speed over the ground; a paddle wheel that through the water.",
        ("satellite", "paddle wheel", NOT_SAID), "satellite",
    )  # fmt: skip
    rpm_checked: str = _choice(
        "the tachometer was checked",
        "Against a second one, or the reading of the engine's own computer. Wrong pole settings "
        "make it read wrong by a fixed share.",
        YES_NO, "yes",
    )  # fmt: skip
    expected_speed: Reading | None = described(
        FieldSpec(
            label="speed expected at full throttle",
            how="Reckoned or promised before the trial, kept so that it can be held against what "
            "was measured. rigfit trial --expect fills it in.",
            kind=Kind.SPEED, low=0.0, high=100.0, origin=Origin.CHOSEN, example="31 ± 3 kn",
        )
    )  # fmt: skip
    expected_rpm: Reading | None = described(
        FieldSpec(
            label="engine speed expected at full throttle",
            how="As above.",
            kind=Kind.ROTATION, low=1000.0, high=9000.0, origin=Origin.CHOSEN,
            example="5600 ± 300 rpm",
        )
    )  # fmt: skip
    change: str = _words(
        "the one thing changed since the trial before", "One only, or nobody knows what helped.",
        "one row up",
    )  # fmt: skip
    note: str = _words("anything else of the trial", "In your own words.", "bottom scrubbed")


@dataclass(frozen=True, slots=True)
class Run:
    """One run: held at one engine speed, the same stretch both ways."""

    trial: str = _words(
        "trial of the run", "The id of the trial it belongs to.", "T1", required=True
    )
    rpm: Reading | None = described(
        FieldSpec(
            label="engine speed",
            how="Held until the boat's speed stays the same, half a minute at least.",
            kind=Kind.ROTATION, low=300.0, high=9000.0, tolerance=RPM_READING, required=True,
            example="4000 rpm",
        )
    )  # fmt: skip
    speed_there: Reading | None = described(
        _speed("speed there", "Over the ground, at that engine speed, on the first leg.", "24.6 kn")
    )
    speed_back: Reading | None = described(
        _speed(
            "speed back",
            "The same stretch the other way, at once, at the same engine speed. Without it current "
            "and wind are in the figure.",
            "23.8 kn",
        )
    )
    full_throttle: str = _choice(
        "the lever was fully open", "yes for the run at full throttle.", YES_NO, "no"
    )
    trim: str = _choice(
        "trim of the engine", "How far out it was trimmed while the speed was read.", TRIMS,
        "a little out",
    )  # fmt: skip
    mass_aboard: Reading | None = described(
        _aboard(
            "people, fuel and gear aboard for this run",
            "Only where it differs from the trial's figure.",
            "330 kg",
        )
    )
    pressure: Reading | None = described(
        FieldSpec(
            label="pressure of the cooling water",
            how="From the engine's gauge while the speed was read.",
            kind=Kind.PRESSURE, low=0.0, high=5.0, tolerance=0.05, example="0.9 bar",
        )
    )  # fmt: skip
    fuel_flow: Reading | None = described(
        FieldSpec(
            label="fuel flow",
            how="From the engine's computer or a flow meter, at that engine speed.",
            kind=Kind.FLOW, low=0.0, high=400.0, tolerance=0.5, example="14.2 L/h",
        )
    )  # fmt: skip
    plate: str = _choice(
        "the plate, seen from the stern",
        "By a camera, never by leaning over: dry above the water, wetted by it, buried in it, or "
        "throwing spray.",
        PLATE_LOOKS, "wetted", "not seen",
    )  # fmt: skip
    ventilates: str = _choice(
        "the propeller draws air",
        "Engine speed leaps up while the boat slows: in gentle turns, or straight on.",
        VENTILATES, "no",
    )  # fmt: skip
    porpoises: str = _choice(
        "she porpoises", "Bow and stern rise and fall by themselves in calm water.", YES_NO, "no"
    )
    overheats: str = _choice(
        "overheating was signalled",
        "Alarm, lamp or gauge, or no water from the tell-tale. Stop the engine then.",
        YES_NO, "no",
    )  # fmt: skip
    time: str = _words(
        "time of day of the run",
        "Start of its first leg, by the clock of the track: as it stands there, 14:32:10 or with "
        "its date.",
        "14:32:10",
    )
    note: str = _words("anything else of the run", "In your own words.", "two gulls")
