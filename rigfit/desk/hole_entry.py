"""Old holes from a paste, a known pattern, two tapes or a drawing file: what each gives. No Tk.

Every way gives a ``Proposal``: rows of texts as they would be typed, and a sentence for whatever
cannot be used. Nothing is added to the boat before somebody says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field

from rigfit.desk.draft import NO_PROFILES, Address
from rigfit.desk.drawing_reader import DrawingFound
from rigfit.errors import EntryError, RigfitError
from rigfit.plain_holes import place
from rigfit.records.field_values import bare_units, is_blank, value_of
from rigfit.records.hole_entry import row_at
from rigfit.records.hole_paste import HoleRow, holes_from_pattern, parse
from rigfit.records.outline_import import ImportedOutline, holes_texts
from rigfit.records.pasted import LARGEST_BYTES
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.hole_pattern import HolePattern
from rigfit.rigging.job import ExistingHole
from rigfit.rigging.readings import FieldSpec, Reading, specs
from rigfit.rigging.transom_map import TAPE_MM, TransomFace
from rigfit.rigging.trilateration import Position, Side, Tape, fixed_points, locate
from rigfit.units import Kind, Shown, show
from rigfit.wording import say

MOST_CIRCLES = 500
"""Circles of a drawing offered at a time; more are no bolt holes of one transom."""

MOST_PROBLEMS = 20
SAME_PLACE_MM = 1.0
"""Holes nearer to each other than this are one hole entered twice."""

UPPER = Address("mounting", "upper_holes_below_top").spec
CENTRE = Address("mounting", "off_centre").spec
DIAMETER = Address("hole", "diameter").spec
NAME = Address("hole", "name").spec


def _tape(label: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label,
        how="Hold the tape to the point and read it at the middle of the hole, along the face.",
        kind=Kind.LENGTH,
        low=1.0,
        high=4000.0,
        tolerance=TAPE_MM,
        required=True,
        example=example,
    )


TAPES = (_tape("tape to the first point", "310 mm"), _tape("tape to the second point", "452 mm"))


def _in_drawing(label: str, how: str, example: str) -> FieldSpec:
    return FieldSpec(
        label=label, how=how, kind=Kind.LENGTH, low=-1e5, high=1e5, required=True, example=example
    )


CENTRE_X = _in_drawing(
    "centreline, x in the drawing", "Where the boat's centreline is in the drawing.", "360 mm"
)
TOP_Y = _in_drawing(
    "transom top, y in the drawing", "Where the transom top at the engine is.", "518 mm"
)

_DRAWN = (
    "The drawing is taken as seen from astern. It shows where holes were meant to be: check each "
    "by tape."
)
_SIDES = {
    Side.BELOW.value: "below",
    Side.ABOVE.value: "above",
    Side.PORT.value: "to port",
    Side.STARBOARD.value: "to starboard",
}
_ROW_FIELDS = specs(ExistingHole)
_MEASURED = ("across", "below_top", "diameter")
_POINTS = ("point_a_across", "point_a_below", "point_b_across", "point_b_below")


@dataclass(frozen=True, slots=True)
class Proposal:
    """What one way of entering holes would add.

    :param rows: rows that can be added, as texts.
    :param problems: a sentence for whatever cannot be used.
    :param notes: what to know of the rows, as sentences.
    """

    rows: tuple[HoleRow, ...] = ()
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def texts(self) -> tuple[Mapping[str, str], ...]:
        """The rows by the names of the fields."""
        return tuple(asdict(row) for row in self.rows)


@dataclass(frozen=True, slots=True)
class Fields:
    """Texts of an aid's own fields that can be read, and a sentence for each that cannot.

    :param readings: what they mean, by name; blank ones are not in it.
    :param messages: what is wrong, by name.
    """

    readings: Mapping[str, Reading] = field(default_factory=dict)
    messages: Mapping[str, str] = field(default_factory=dict)


def read_fields(texts: Mapping[str, tuple[FieldSpec, str]], entries: str) -> Fields:
    """Return what an aid's fields mean; never raises.

    :param texts: description and text of each field, by name.
    :param entries: "metric" or "inch", the unit of a number typed without one.
    """
    readings: dict[str, Reading] = {}
    messages: dict[str, str] = {}
    for name, (spec, text) in texts.items():
        if is_blank(text):
            continue
        try:
            readings[name] = _reading(spec, text, entries)
        except EntryError as error:
            messages[name] = error.sentence()
    return Fields(readings, messages)


def cells(row: HoleRow, entries: str, style: Shown) -> tuple[str, ...]:
    """Return name, across, below the top and diameter as understood, without units.

    :raises EntryError: for a row that cannot be read.
    """
    values = (_reading(_ROW_FIELDS[key], getattr(row, key), entries).value for key in _MEASURED)
    return row.name, *(place(value, style) for value in values)


def spot(value_mm: float, style: Shown) -> str:
    """Return where a hole is, fine enough to drill by, with its unit."""
    metric = f"{place(value_mm, Shown('mm'))} mm"
    return metric if style.lengths == "mm" else f"{place(value_mm, style)} in ({metric})"


def doubles(rows: Sequence[HoleRow], holes: Sequence[ExistingHole], entries: str) -> str:
    """Return a sentence on rows that lie where the boat has a hole already, "" for none."""
    there = [
        (hole.across.value, hole.below_top.value)
        for hole in holes
        if hole.across is not None and hole.below_top is not None
    ]
    count = 0
    for row in rows:
        at = [_reading(_ROW_FIELDS[key], getattr(row, key), entries).value for key in _MEASURED]
        count += any(max(abs(at[0] - x), abs(at[1] - y)) < SAME_PLACE_MM for x, y in there)
    if not count:
        return ""
    if count == 1:
        return "1 of them lies where a hole is entered already; added again it counts twice."
    return f"{count} of them lie where holes are entered already; added again they count twice."


# The four ways --------------------------------------------------------------------------------


def from_paste(text: str, entries: str) -> Proposal:
    """Return the holes in copied rows; never raises for its text."""
    # Before it is copied about: somebody may have copied a whole book.
    if len(text) > LARGEST_BYTES:
        text = text[: LARGEST_BYTES + 1]
    pasted = parse(text, entries)
    return Proposal(pasted.rows, tuple(_sentence(error) for error in pasted.problems))


def bolted_patterns(catalogue: Catalogue) -> dict[str, str]:
    """Return the key and the name of every hole pattern that has bolt rows."""
    patterns = catalogue.hole_patterns
    return {key: item.name for key, item in patterns.items() if item.is_bolted}


def from_pattern(pattern: HolePattern | None, fields: Fields) -> Proposal:
    """Return the holes of a known pattern; none while the pattern or its height is not said.

    :param fields: "upper" and perhaps "centre"; a typed tolerance goes into the rows.
    """
    upper, centre = fields.readings.get("upper"), fields.readings.get("centre")
    if pattern is None or not pattern.is_bolted or upper is None or fields.messages:
        return Proposal()
    rows = holes_from_pattern(pattern, upper.value, centre.value if centre else 0.0)
    rows = tuple(
        HoleRow(
            row.name,
            row.across + _typed_tolerance(centre),
            row.below_top + _typed_tolerance(upper),
            row.diameter,
        )
        for row in rows
    )
    note = "These are the figures of the pattern, not of your transom: check each hole by tape."
    return _checked(rows, "metric", (note,))


def missing_points(face: TransomFace) -> tuple[Address, ...]:
    """Return the fields of the two fixed points that are not filled in."""
    return tuple(Address("face", name) for name in _POINTS if getattr(face, name) is None)


def sides(face: TransomFace) -> Mapping[str, str]:
    """Return the sides that tell the two places apart where tapes to the fixed points meet."""
    points = fixed_points(face)
    if len(points) < 2:
        return _SIDES
    across = abs(points[1].across.value - points[0].across.value)
    below = abs(points[1].below.value - points[0].below.value)
    if below < 1e-6 * max(across, 1.0):
        return {key: _SIDES[key] for key in ("below", "above")}
    if across < 1e-6 * max(below, 1.0):
        return {key: _SIDES[key] for key in ("starboard", "port")}
    return _SIDES


@dataclass(frozen=True, slots=True)
class Taped:
    """What two tapes say.

    :param proposal: the hole, once its diameter is known too.
    :param sentence: where it is, with its tolerance; "" while it is not known.
    :param warnings: sentences on tapes that disagree or cross too flat.
    """

    proposal: Proposal = field(default_factory=Proposal)
    sentence: str = ""
    warnings: tuple[str, ...] = ()


def from_tapes(face: TransomFace, fields: Fields, side: str, name: str, style: Shown) -> Taped:
    """Return where two tapes to the fixed points meet; never raises.

    :param fields: "first" and "second", and perhaps "diameter".
    :param side: where the hole lies, seen from the line between the points.
    :param name: what the hole is called.
    """
    points, read = fixed_points(face), fields.readings
    if len(points) < 2 or "first" not in read or "second" not in read or fields.messages:
        return Taped()
    tapes = [Tape(points[0], read["first"]), Tape(points[1], read["second"])]
    try:
        found = locate(tapes, Side(side))
    except EntryError as error:
        return Taped(Proposal(problems=(_sentence(error),)))
    warnings = tuple(say(warning, style) for warning in found.warnings)
    diameter = read.get("diameter")
    if diameter is None:
        return Taped(Proposal(), _where(found, style), warnings)
    row = row_at(found, name.strip(), f"{diameter.value:.6g} mm{_typed_tolerance(diameter)}")
    return Taped(_checked((row,), "metric"), _where(found, style), warnings)


def layers(found: DrawingFound) -> dict[str, str]:
    """Return the layers with circles on them, and "" for all of them together."""
    names = sorted({circle.layer for circle in found.circles})
    return {"": "all layers", **{name: name for name in names}}


def from_drawing(found: DrawingFound, layer: str, fields: Fields) -> Proposal:
    """Return the circles of a drawing as holes, from the top down.

    :param layer: the only layer to take; "" for all.
    :param fields: "x" and "y", where the centreline and the transom top are in the drawing.
    """
    x, y = fields.readings.get("x"), fields.readings.get("y")
    if x is None or y is None:
        return Proposal()
    circles = tuple(item for item in found.circles if layer in ("", item.layer))
    kept = ImportedOutline(
        (), circles, 0, {}, 0, (), found.unit_found, found.unit, *found.box_mm
    )  # fmt: skip
    texts = holes_texts(kept, x.value, y.value)
    notes = (_DRAWN, *found.notes)
    if len(texts) > MOST_CIRCLES:
        notes = (
            f"The first {MOST_CIRCLES} of {len(texts):,} circles are shown, from the top down; "
            "choose a layer to see others.",
            *notes,
        )
    return _checked(tuple(HoleRow(**row) for row in texts[:MOST_CIRCLES]), "metric", notes)


# Parts ----------------------------------------------------------------------------------------


def _reading(spec: FieldSpec, text: str, entries: str) -> Reading:
    value = value_of(text, spec, bare_units(entries), NO_PROFILES)
    if not isinstance(value, Reading):
        raise EntryError(f"{spec.label} is not a measurement", cure="type a number with its unit")
    return value


def _checked(rows: Sequence[HoleRow], entries: str, notes: tuple[str, ...] = ()) -> Proposal:
    """Return the rows whose fields would be taken, and why the others would not."""
    good, problems = [], []
    for number, row in enumerate(rows, start=1):
        trouble = _trouble(row, entries)
        if trouble is None:
            good.append(row)
        else:
            name = row.name or f"hole {number}"
            problems.append(f"{name[:1].upper()}{name[1:]}, {trouble}")
    if len(problems) > MOST_PROBLEMS:
        more = len(problems) - MOST_PROBLEMS
        problems[MOST_PROBLEMS:] = [f"{more:,} more circles cannot be holes either."]
    return Proposal(tuple(good), tuple(problems), notes)


def _trouble(row: HoleRow, entries: str) -> str | None:
    for key in _MEASURED:
        try:
            _reading(_ROW_FIELDS[key], getattr(row, key), entries)
        except EntryError as error:
            return f"{_ROW_FIELDS[key].label}: {error.sentence()}"
    return None


def _where(found: Position, style: Shown) -> str:
    """Return a place with its tolerance as a sentence."""
    across, below = found.across, found.below
    side = "to starboard" if across.value > 0.0 else "to port"
    metric = Shown("mm")
    tolerances = [show(item.tolerance, Kind.LENGTH, metric) for item in (across, below)]
    return (
        f"{spot(abs(across.value), style)} ± {tolerances[0]} {side}, "
        f"{spot(below.value, style)} ± {tolerances[1]} below the top."
    )


def _typed_tolerance(reading: Reading | None) -> str:
    if reading is None or not reading.tolerance_typed:
        return ""
    return f" ± {reading.tolerance:.3g} mm"


def _sentence(error: RigfitError) -> str:
    words = error.sentence()
    return f"{words[:1].upper()}{words[1:]}"
