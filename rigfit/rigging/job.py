"""The job: one boat, its measurements, its candidate engines and the chosen mounting.

Every field is described once, here, next to the field. The form, the comments in a job file, the
JSON schema, the command line and the error texts all read these descriptions.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from rigfit.errors import JobError
from rigfit.rigging.bolting_fields import Bolting, DashCutout, PrinterCheck
from rigfit.rigging.candidate import CALIPER_MM, Candidate
from rigfit.rigging.hull_fields import Afloat, Hull, Offset, Station, WaterMark
from rigfit.rigging.load_fields import CapacityPlate, MassItem, OldEngine, RuleFacts
from rigfit.rigging.readings import FieldSpec, Origin, Reading, described
from rigfit.rigging.runs_fields import Cable, Wire
from rigfit.rigging.transom_map import TAPE_MM, Neighbour, NoGo, Opening, TransomFace
from rigfit.rigging.trial_fields import Run, Trial
from rigfit.rigging.underway_fields import Propeller, Underway
from rigfit.rigging.well_fields import Obstacle, Steering, Trailer, Well
from rigfit.units import Kind

PROTRACTOR_DEG = 1.0


@dataclass(frozen=True, slots=True)
class Units:
    """How numbers without a unit are read, and how results are shown."""

    entries: str = described(
        FieldSpec(
            label="unit of a number typed without one",
            how="metric means mm, kg, N·m and litres; inch means in, lb, lb·ft and US gallons. "
            "Power is hp and speed is kn in both.",
            choices=("metric", "inch"),
            example="metric",
        ),
        "metric",
    )
    lengths: str = described(
        FieldSpec(
            label="lengths are shown in",
            how="Inches are shown to 1/16 with the millimetres beside.",
            choices=("mm", "in"),
            example="mm",
        ),
        "mm",
    )
    speeds: str = described(
        FieldSpec(label="speeds are shown in", choices=("kn", "km/h", "mph"), example="kn"), "kn"
    )


@dataclass(frozen=True, slots=True)
class Boat:
    """The boat as a whole."""

    name: str = described(
        FieldSpec(label="name of the boat", how="Printed on every sheet.", example="Dunlin"), ""
    )
    hull_kind: str = described(
        FieldSpec(
            label="kind of hull",
            how="Decides where the plate should sit. Look at the bottom just ahead of the engine.",
            profile="hull_kinds",
            required=True,
            example="planing-vee",
        ),
        "",
    )
    length: Reading | None = described(
        FieldSpec(
            label="length of the hull",
            how="Straight overall length of the hull, without brackets, handles and rails.",
            kind=Kind.LENGTH,
            low=2000.0,
            high=15000.0,
            tolerance=20.0,
            example="5.2 m",
        )
    )
    deadrise: Reading | None = described(
        FieldSpec(
            label="deadrise at the transom",
            how="Angle of the bottom against level, seen from astern. 0 is a flat bottom. "
            "Only needed where the engine sits off the centreline.",
            kind=Kind.ANGLE,
            low=0.0,
            high=30.0,
            tolerance=PROTRACTOR_DEG,
            example="16°",
        )
    )


@dataclass(frozen=True, slots=True)
class Transom:
    """The transom, measured on the boat."""

    height_along_face: Reading | None = described(
        FieldSpec(
            label="transom height along the face",
            how="Tape down the outer face on the centreline, from the transom top to the bottom "
            "of the hull, not to a bolted-on keel strip.",
            kind=Kind.LENGTH,
            low=200.0,
            high=1100.0,
            tolerance=TAPE_MM,
            required=True,
            example="518 mm",
            dimension="height-along-face",
        )
    )
    height_square: Reading | None = described(
        FieldSpec(
            label="transom height square to the keel line",
            how="Clamp a straightedge along the keel so that it sticks out behind, and measure "
            "square to it, up to the transom top. Shorter than along the face where the transom "
            "leans: 508 mm reads 524 mm along the face at 14° of rake.",
            kind=Kind.LENGTH,
            low=200.0,
            high=1100.0,
            tolerance=TAPE_MM,
            example="505 mm",
            dimension="height-square",
        )
    )
    rake: Reading | None = described(
        FieldSpec(
            label="rake of the transom",
            how="Angle of the outer face from square to the keel line, + when the top leans aft. "
            "Zero a digital level on the straightedge under the keel, then lay it on the face; "
            "swap ends and average.",
            kind=Kind.ANGLE,
            low=-10.0,
            high=35.0,
            tolerance=PROTRACTOR_DEG,
            required=True,
            example="13°",
            dimension="rake",
        )
    )
    thickness: Reading | None = described(
        FieldSpec(
            label="thickness of the transom",
            how="Caliper or feeler through an old hole, at the bolt positions.",
            kind=Kind.LENGTH,
            low=10.0,
            high=150.0,
            tolerance=CALIPER_MM,
            example="45 mm",
            dimension="thickness",
        )
    )
    lowest_bolt: Reading | None = described(
        FieldSpec(
            label="lowest sound place for a bolt, below the transom top",
            how="Inside, find where the floor of the motor well, a knee or a drain begins to be "
            "in the way of a washer; measure that height down from the transom top along the "
            "outer face.",
            kind=Kind.LENGTH,
            low=100.0,
            high=1000.0,
            tolerance=TAPE_MM,
            example="330 mm",
        )
    )
    width_at_top: Reading | None = described(
        FieldSpec(
            label="width of the transom where the engine sits",
            how="Across the flat outer face at the transom top, between the corners.",
            kind=Kind.LENGTH,
            low=200.0,
            high=3500.0,
            tolerance=TAPE_MM,
            example="720 mm",
        )
    )


def _gap(place: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=f"gap {place}",
        how="Straightedge of at least 0.9 m along the bottom beside the keel, its end at the "
        f"transom. Gap between edge and hull, {place}.",
        kind=Kind.LENGTH,
        low=0.0,
        high=100.0,
        tolerance=1.0,
        example=example,
    )


@dataclass(frozen=True, slots=True)
class KeelLine:
    """Gaps under a straightedge of at least 0.9 m, laid along the keel up to the transom."""

    gap_0: Reading | None = described(_gap("at the transom", "0"))
    gap_150: Reading | None = described(_gap("150 mm ahead of the transom", "1"))
    gap_300: Reading | None = described(_gap("300 mm ahead of the transom", "1"))
    gap_600: Reading | None = described(_gap("600 mm ahead of the transom", "1"))
    gap_900: Reading | None = described(_gap("900 mm ahead of the transom", "0"))


@dataclass(frozen=True, slots=True)
class SetbackBracket:
    """A bracket or adjustable plate between transom and engine, if there is one."""

    kind: str = described(
        FieldSpec(
            label="setback bracket",
            how="none when the engine hangs on the transom itself.",
            profile="brackets",
            example="none",
        ),
        "none",
    )
    setback: Reading | None = described(
        FieldSpec(
            label="setback",
            how="How far aft of the transom face the bracket carries the engine. Say below "
            "whether that is to the seat or to the propeller.",
            kind=Kind.LENGTH,
            low=0.0,
            high=1500.0,
            tolerance=TAPE_MM,
            example="150 mm",
            dimension="setback",
        )
    )
    measured_to: str = described(
        FieldSpec(
            label="setback was measured to the",
            how="seat is where the clamp bracket rests; propeller is the front of its hub.",
            choices=("seat", "propeller", "not said"),
            example="seat",
        ),
        "not said",
    )
    direction: str = described(
        FieldSpec(
            label="the bracket's arms run",
            how="square to the transom face (most plates), or level with the keel line.",
            choices=("square", "level", "as its profile"),
            example="square",
        ),
        "as its profile",
    )
    height: Reading | None = described(
        FieldSpec(
            label="top of the bracket above the transom top",
            how="Along the face, from the transom top up to the bracket's own top edge, on which "
            "the engine's clamp bracket rests; negative when the bracket sits lower. For an "
            "adjustable plate: at its lowest setting.",
            kind=Kind.LENGTH,
            low=-300.0,
            high=400.0,
            tolerance=TAPE_MM,
            example="0 mm",
        )
    )
    engine_holes: Reading | None = described(
        FieldSpec(
            label="engine's upper holes below the top of the bracket",
            how="Along the bracket's face, from its top edge down to the centres of the upper "
            "holes that take the engine's bolts.",
            kind=Kind.LENGTH,
            low=20.0,
            high=400.0,
            tolerance=CALIPER_MM,
            example="48 mm",
        )
    )


@dataclass(frozen=True, slots=True)
class Target:
    """Where the plate should end up; empty fields follow the kind of hull."""

    low: Reading | None = described(
        FieldSpec(
            label="lower end of the target for the plate",
            how="Plate above (+) or below (-) the keel line, before any rise for setback. Leave "
            "empty to use the band of the hull kind.",
            kind=Kind.LENGTH,
            low=-150.0,
            high=250.0,
            origin=Origin.CHOSEN,
            example="0 mm",
        )
    )
    high: Reading | None = described(
        FieldSpec(
            label="upper end of the target for the plate",
            how="As above, upper end.",
            kind=Kind.LENGTH,
            low=-150.0,
            high=250.0,
            origin=Origin.CHOSEN,
            example="25 mm",
        )
    )
    offset: Reading | None = described(
        FieldSpec(
            label="your own shift of the target",
            how="Added to the whole band: + to run higher.",
            kind=Kind.LENGTH,
            low=-150.0,
            high=150.0,
            origin=Origin.CHOSEN,
            example="0 mm",
        )
    )
    setback_rise: Reading | None = described(
        FieldSpec(
            label="your own rise for the setback",
            how="How much higher the plate may sit behind the bracket. Leave empty to use the "
            "custom of 25 mm for each 300 mm, whose spread is shown.",
            kind=Kind.LENGTH,
            low=0.0,
            high=150.0,
            origin=Origin.CHOSEN,
            example="12 mm",
        )
    )


@dataclass(frozen=True, slots=True)
class ExistingHole:
    """One hole already in the transom, seen from astern."""

    name: str = described(FieldSpec(label="name of the hole", example="old top port"), "")
    across: Reading | None = described(
        FieldSpec(
            label="distance from the centreline",
            how="To the centre of the hole, + to starboard, - to port, seen from astern.",
            kind=Kind.LENGTH,
            low=-1750.0,
            high=1750.0,
            tolerance=CALIPER_MM,
            required=True,
            example="-163.5 mm",
        )
    )
    below_top: Reading | None = described(
        FieldSpec(
            label="distance below the transom top",
            how="Along the face, to the centre of the hole.",
            kind=Kind.LENGTH,
            low=0.0,
            high=1100.0,
            tolerance=CALIPER_MM,
            required=True,
            example="48 mm",
        )
    )
    diameter: Reading | None = described(
        FieldSpec(
            label="diameter of the hole",
            how="Caliper across the hole.",
            kind=Kind.LENGTH,
            low=1.0,
            high=300.0,
            tolerance=CALIPER_MM,
            required=True,
            example="13.5 mm",
        )
    )


@dataclass(frozen=True, slots=True)
class Mounting:
    """What has been decided: which engine, which bolt row, where the holes go."""

    engine: str = described(
        FieldSpec(label="chosen engine", how="The id of one of the engines below.", example="B"), ""
    )
    row: int | None = described(
        FieldSpec(
            label="chosen bolt row",
            how="Which hole of the engine's bracket takes the upper bolts; 1 is the uppermost "
            "hole, the lowest engine.",
            kind=Kind.COUNT,
            low=1,
            high=20,
            origin=Origin.CHOSEN,
            example="2",
        )
    )
    upper_holes_below_top: Reading | None = described(
        FieldSpec(
            label="upper bolt holes below the transom top",
            how="Centre of the upper pair of holes in the transom, along the face. For a transom "
            "not drilled yet, the height you decide on; rigfit heights lists the choices.",
            kind=Kind.LENGTH,
            low=20.0,
            high=400.0,
            tolerance=CALIPER_MM,
            example="48 mm",
            dimension="upper-holes",
        )
    )
    bracket_setting: Reading | None = described(
        FieldSpec(
            label="setting of the adjustable bracket",
            how="How far an adjustable bracket is raised above its lowest setting.",
            kind=Kind.LENGTH,
            low=0.0,
            high=400.0,
            tolerance=CALIPER_MM,
            origin=Origin.CHOSEN,
            example="0 mm",
        )
    )
    off_centre: Reading | None = described(
        FieldSpec(
            label="engine off the centreline",
            how="+ to starboard. 0 for a single engine on the centreline.",
            kind=Kind.LENGTH,
            low=-1500.0,
            high=1500.0,
            tolerance=TAPE_MM,
            example="0 mm",
        )
    )


@dataclass(frozen=True, slots=True)
class Job:
    """One boat and everything known and decided about its engine.

    :raises JobError: when two engines share an id or the chosen engine does not exist.
    """

    units: Units = field(default_factory=Units)
    boat: Boat = field(default_factory=Boat)
    transom: Transom = field(default_factory=Transom)
    keel_line: KeelLine = field(default_factory=KeelLine)
    bracket: SetbackBracket = field(default_factory=SetbackBracket)
    target: Target = field(default_factory=Target)
    mounting: Mounting = field(default_factory=Mounting)
    face: TransomFace = field(default_factory=TransomFace)
    neighbour: Neighbour = field(default_factory=Neighbour)
    bolting: Bolting = field(default_factory=Bolting)
    well: Well = field(default_factory=Well)
    steering: Steering = field(default_factory=Steering)
    trailer: Trailer = field(default_factory=Trailer)
    printer: PrinterCheck = field(default_factory=PrinterCheck)
    plate: CapacityPlate = field(default_factory=CapacityPlate)
    rules: RuleFacts = field(default_factory=RuleFacts)
    old_engine: OldEngine = field(default_factory=OldEngine)
    hull: Hull = field(default_factory=Hull)
    afloat: Afloat = field(default_factory=Afloat)
    underway: Underway = field(default_factory=Underway)
    propeller: Propeller = field(default_factory=Propeller)
    holes: tuple[ExistingHole, ...] = ()
    openings: tuple[Opening, ...] = ()
    no_go: tuple[NoGo, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    dash: tuple[DashCutout, ...] = ()
    wires: tuple[Wire, ...] = ()
    cables: tuple[Cable, ...] = ()
    masses: tuple[MassItem, ...] = ()
    marks: tuple[WaterMark, ...] = ()
    stations: tuple[Station, ...] = ()
    offsets: tuple[Offset, ...] = ()
    trials: tuple[Trial, ...] = ()
    runs: tuple[Run, ...] = ()
    engines: tuple[Candidate, ...] = ()

    def __post_init__(self) -> None:
        ids = [engine.id for engine in self.engines]
        for name in ids:
            if ids.count(name) > 1:
                raise JobError(
                    f'two engines have the id "{name}"',
                    cure="give each engine an id of its own",
                    where="engine, id",
                )
        if self.mounting.engine and self.mounting.engine not in ids:
            raise JobError(
                f'the chosen engine "{self.mounting.engine}" is not in the job',
                allowed="the engines are " + (", ".join(ids) or "none yet"),
                cure="choose one of them or add it",
                where="mounting, engine",
            )

    def engine(self, engine_id: str) -> Candidate:
        """Return the candidate with that id; raises ``JobError`` naming those that exist."""
        for candidate in self.engines:
            if candidate.id == engine_id:
                return candidate
        raise JobError(
            f'there is no engine "{engine_id}" in the job',
            allowed="the engines are " + (", ".join(item.id for item in self.engines) or "none"),
            cure="use one of these ids",
        )


GROUPS: tuple[tuple[str, str, type], ...] = (
    ("units", "Units", Units),
    ("boat", "The boat", Boat),
    ("transom", "The transom", Transom),
    ("keel_line", "The keel line: gaps under a straightedge", KeelLine),
    ("bracket", "Setback bracket or adjustable plate", SetbackBracket),
    ("target", "Target for the plate", Target),
    ("mounting", "What has been decided", Mounting),
    ("face", "The face of the transom, for templates", TransomFace),
    ("neighbour", "A second engine on the transom", Neighbour),
    ("bolting", "Bolts and backing", Bolting),
    ("well", "The motor well", Well),
    ("steering", "The steering gear", Steering),
    ("trailer", "The boat on its trailer", Trailer),
    ("printer", "The printer, as its check bars came out", PrinterCheck),
    ("plate", "The capacity plate", CapacityPlate),
    ("rules", "What power and load rules ask", RuleFacts),
    ("old_engine", "The old engine", OldEngine),
    ("hull", "The hull, for flotation", Hull),
    ("afloat", "How she lies afloat now", Afloat),
    ("underway", "The boat under way", Underway),
    ("propeller", "The propeller", Propeller),
)
"""The single tables of a job in working order: key, heading, record."""

LISTS: tuple[tuple[str, str, str, type], ...] = (
    ("hole", "holes", "Holes already in the transom", ExistingHole),
    ("opening", "openings", "Openings and fittings in the transom", Opening),
    ("no_go", "no_go", "Places inside where no bolt can sit", NoGo),
    ("obstacle", "obstacles", "What the engine could touch as it swings", Obstacle),
    ("dash", "dash", "Cut-outs in the dash", DashCutout),
    ("wire", "wires", "Conductors: battery cable and supplies", Wire),
    ("cable", "cables", "Steering and control cables", Cable),
    ("mass", "masses", "What is aboard: people, fuel, batteries, gear", MassItem),
    ("mark", "marks", "Places that must stay above the water", WaterMark),
    ("station", "stations", "Sections of the hull", Station),
    ("offset", "offsets", "Table of offsets of the hull", Offset),
    ("trial", "trials", "Sea trials: what she was like on the day", Trial),
    ("run", "runs", "Runs of the sea trials", Run),
    ("engine", "engines", "Candidate engines", Candidate),
)
"""The repeated tables of a job: key in the file, field of ``Job``, heading, record."""
