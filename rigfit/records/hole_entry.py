"""Putting old holes into a job: from rows of texts, from two tapes, from a pattern that is known.

All of it ends in rows as they would be typed, so that limits, tolerances and messages are those of
every entry.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import TypeAlias

from rigfit.errors import EntryError
from rigfit.records.field_values import bare_units, checked_text, value_of
from rigfit.records.hole_paste import HoleRow
from rigfit.records.job_reading import MOST_ITEMS
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import ExistingHole, Job
from rigfit.rigging.readings import FieldSpec, Reading, specs
from rigfit.rigging.tolerance import half_width
from rigfit.rigging.transom_map import TAPE_MM
from rigfit.rigging.trilateration import Position, Side, Tape, fixed_points, locate
from rigfit.units import Kind

HoleTexts: TypeAlias = HoleRow | Mapping[str, str]
"""An old hole as texts: as pasted, or by the names of the fields of ``ExistingHole``."""

_DISTANCE = FieldSpec(
    label="distance", kind=Kind.LENGTH, low=0.0, high=4000.0, tolerance=TAPE_MM, example="412 mm"
)


@dataclass(frozen=True, slots=True)
class TapedHole:
    """A hole found by two tapes.

    :param row: it as it would be typed, tolerances included; its diameter may still be "".
    :param position: where it is, with what is known of how well.
    """

    row: HoleRow
    position: Position


def hole_of(row: HoleTexts, entries: str = "metric") -> ExistingHole:
    """Return an old hole from its texts.

    :param entries: "metric" or "inch", for numbers without a unit.
    :raises EntryError: naming the field that is missing, unreadable or outside its limits.
    """
    texts = dict(row) if isinstance(row, Mapping) else asdict(row)
    values: dict[str, Reading] = {}
    described = specs(ExistingHole)
    for key in ("across", "below_top", "diameter"):
        spec, text = described[key], texts.get(key, "").strip()
        if not text:
            raise EntryError(
                "it is not filled in", cure=f'write it like "{spec.example}"', where=spec.label
            )
        try:
            values[key] = value_of(text, spec, bare_units(entries), load_catalogue())
        except EntryError as error:
            raise error.at(spec.label) from None
    return ExistingHole(name=checked_text(texts.get("name", "")), **values)


def with_holes(job: Job, rows: Sequence[HoleTexts]) -> Job:
    """Return the job with old holes added behind those it has.

    :raises EntryError: for a row that cannot be read, named by its number, or for too many holes.
    """
    found = []
    for number, row in enumerate(rows, start=1):
        try:
            found.append(hole_of(row, job.units.entries))
        except EntryError as error:
            raise error.at(f"hole {number}") from None
    if len(job.holes) + len(found) > MOST_ITEMS["hole"]:
        raise EntryError(
            f"the job would have {len(job.holes) + len(found)} holes",
            allowed=f"at most {MOST_ITEMS['hole']}",
            cure="leave out those that are far from the engine",
        )
    return replace(job, holes=(*job.holes, *found))


def taped_hole(
    job: Job, name: str, first: str, second: str, *, side: str = "below", diameter: str = ""
) -> TapedHole:
    """Return the hole that two tapes from the job's two fixed points meet at.

    :param first: distance from the first fixed point, as typed.
    :param second: from the second one.
    :param side: below, above, port or starboard of the line between the points.
    :param diameter: of the hole, as typed; "" where it is not known yet.
    :raises EntryError: when a point or tape is missing or unreadable, or the tapes do not meet.
    """
    points = fixed_points(job.face)
    if len(points) < 2:
        raise EntryError(
            "the job does not say where its two fixed points are",
            cure="fill in point_a_across, point_a_below, point_b_across and point_b_below",
            where="face",
        )
    tapes = []
    for point, typed in zip(points, (first, second), strict=True):
        try:
            read = value_of(typed, _DISTANCE, bare_units(job.units.entries), load_catalogue())
        except EntryError as error:
            raise error.at(f"tape to the {point.name}") from None
        tapes.append(Tape(point, read))
    position = locate(tapes, Side(side))
    return TapedHole(row_at(position, checked_text(name), diameter.strip()), position)


def row_at(position: Position, name: str, diameter: str) -> HoleRow:
    """Return a hole at a place found by tapes as it would be typed, tolerances included.

    :param diameter: of the hole, as typed; "" where it is not known yet.
    """
    return HoleRow(
        name,
        _typed(position.across.value, position.across.tolerance),
        _typed(position.below.value, position.below.tolerance),
        diameter,
    )


def length_mm(typed: str, job: Job) -> float:
    """Return a length typed for a command, mm, either side of 0; a bare one in the job's own unit.

    :raises EntryError: when it cannot be read, or is out of all proportion.
    """
    spec = replace(_DISTANCE, low=-100_000.0, high=100_000.0)
    read = value_of(typed, spec, bare_units(job.units.entries), load_catalogue())
    return float(read.value)


def _typed(value_mm: float, expanded_mm: float) -> str:
    """Return a place as it would be typed: expanded tolerance back to a half-width."""
    return f"{round(value_mm, 1) + 0.0:g} ± {max(0.1, round(half_width(expanded_mm), 1)):g} mm"
