"""The hull of a job: which readings make it, what stands in for those nobody took, and its form.

What stands in carries the spread of its class, so that it widens every tolerance it touches.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from rigfit.rigging.case import Case
from rigfit.rigging.hull_fields import Offset, Station
from rigfit.rigging.hull_form import (
    FewMeasures,
    HullForm,
    Outline,
    few_measures_form,
    sections_form,
)
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin, Reading

Values = Mapping[str, float]

STATION_SHARE = 0.01
OFFSET_SHARE = 0.005
"""How far all breadths of measured sections, or of a table of offsets, may be off together."""

FULLNESS = Reading(2.2, 0.4, Origin.CLASS)
"""How full the water lines run to the stem, as in ``FewMeasures`` (own estimate)."""

_USUAL_TOP_MM = 508.0
_USUAL_RAKE_DEG = 12.0


class ReadingBook:
    """Readings by name, those that stand in among them.

    :param readings: every number of the calculation by name ("hull.chine_beam").
    :param entered: names of those that somebody entered, in order.
    """

    def __init__(self) -> None:
        self.readings: dict[str, Reading] = {}
        self.entered: list[str] = []

    def take(self, key: str, reading: Reading | None, stand_in: Reading | None = None) -> bool:
        """Note a reading, or what stands in for it; True when there is either."""
        if reading is not None:
            self.entered.append(key)
        chosen = reading or stand_in
        if chosen is not None:
            self.readings[key] = chosen
        return chosen is not None


def usual(value: float, half: float) -> Reading:
    """Return a figure typical of boats of the kind, with half its spread."""
    return Reading(value, half, Origin.CLASS)


def take_hull(book: ReadingBook, case: Case) -> None:
    """Note what is known of the hull, and what stands in for the rest of its form."""
    job, hull = case.job, case.job.hull
    book.take("boat.length", job.boat.length)
    book.take("transom.height_along_face", case.heights.along_face)
    book.take("transom.rake", job.transom.rake, Reading(_USUAL_RAKE_DEG, 6.0, Origin.DEFAULT))
    if job.offsets:
        book.readings["breadth"] = Reading(1.0, OFFSET_SHARE)
    elif job.stations:
        book.readings["breadth"] = Reading(1.0, STATION_SHARE)
    else:
        _take_few(book, case)
    for name in ("depth_amidships", "depth_bow"):
        key = f"hull.{name}"
        if key not in book.readings:
            book.take(key, getattr(hull, name))
    deep = hull.depth_amidships or hull.depth_aft or Reading(700.0)
    high = Reading(0.5 * deep.value, 0.2 * deep.value, Origin.DEFAULT)
    book.take("hull.centre_height", hull.centre_height, high)
    book.take("hull.mass", hull.mass)
    book.take("hull.centre_ahead", hull.centre_ahead)


def _take_few(book: ReadingBook, case: Case) -> None:
    job, hull = case.job, case.job.hull
    if not book.take("hull.chine_beam", hull.chine_beam):
        return
    beam = book.readings["hull.chine_beam"].value
    book.take("face.chine_width", job.face.chine_width, usual(0.96 * beam, 0.04 * beam))
    book.take("hull.sheer_beam", hull.sheer_beam, usual(1.14 * beam, 0.08 * beam))
    book.take("boat.deadrise", job.boat.deadrise)
    book.take("hull.chine_height_aft", hull.chine_height_aft)
    aft = job.boat.deadrise.value if job.boat.deadrise else None
    if aft is None and hull.chine_height_aft is not None:
        aft = math.degrees(math.atan2(hull.chine_height_aft.value, beam / 2.0))
    if aft is not None:
        book.take("hull.deadrise_amidships", hull.deadrise_amidships, usual(aft + 3.0, 4.0))
    face = case.heights.along_face
    top = transom_top(
        {
            "transom.height_along_face": face.value if face else _USUAL_TOP_MM,
            "transom.rake": book.readings["transom.rake"].value,
        }
    )[1]
    book.take("hull.depth_aft", hull.depth_aft, usual(top + 100.0, 80.0))
    deep = book.readings["hull.depth_aft"].value
    book.take("hull.depth_amidships", hull.depth_amidships, usual(deep + 60.0, 80.0))
    middle = book.readings["hull.depth_amidships"].value
    book.take("hull.depth_bow", hull.depth_bow, usual(1.35 * middle, 0.15 * middle))
    book.readings["fullness"] = FULLNESS


def form_of(job: Job, values: Values) -> HullForm:
    """Return the hull for some values of its readings: from offsets, stations or few measurements.

    :raises JobError: as ``sections_form`` and ``few_measures_form``.
    """
    long = values["boat.length"]
    sections = measured_sections(job.offsets, job.stations)
    if sections:
        # The last section may stand at the very stem, known to the length's tolerance only.
        said, last = job.boat.length, sections[-1][0]
        if said is not None and last <= said.value + 1.0:
            long = max(long, last)
        wide = values["breadth"]
        scaled = [(x, tuple((y * wide, z) for y, z in part)) for x, part in sections]
        return sections_form(scaled, long)
    beam, aft = values["hull.chine_beam"], values["face.chine_width"]
    rise = values.get("hull.chine_height_aft")
    if rise is None:
        rise = aft / 2.0 * math.tan(math.radians(values["boat.deadrise"]))
    middle = math.tan(math.radians(values["hull.deadrise_amidships"]))
    return few_measures_form(
        FewMeasures(
            length_mm=long,
            chine_beam_mm=beam,
            chine_aft_mm=aft,
            sheer_beam_mm=values["hull.sheer_beam"],
            chine_height_aft_mm=rise,
            chine_height_mid_mm=beam / 2.0 * middle,
            depth_aft_mm=values["hull.depth_aft"],
            depth_mid_mm=values["hull.depth_amidships"],
            depth_bow_mm=values["hull.depth_bow"],
            fullness=values["fullness"],
        )
    )


def measured_sections(
    offsets: tuple[Offset, ...], stations: tuple[Station, ...]
) -> list[tuple[float, Outline]]:
    """Return measured sections as (ahead, half outline); a table of offsets leads over stations."""
    if offsets:
        rows: dict[float, list[tuple[float, float]]] = {}
        for row in offsets:
            if row.ahead and row.height and row.half_breadth:
                part = rows.setdefault(row.ahead.value, [])
                part.append((row.half_breadth.value, row.height.value))
        return [
            (x, tuple(sorted(part, key=lambda point: (point[1], point[0]))))
            for x, part in rows.items()
        ]
    return [
        (
            item.ahead.value,
            (
                (0.0, item.keel_height.value),
                (item.chine_half.value, item.chine_height.value),
                (item.sheer_half.value, item.sheer_height.value),
            ),
        )
        for item in stations
        if item.ahead and item.keel_height and item.chine_half
        and item.chine_height and item.sheer_half and item.sheer_height
    ]  # fmt: skip


def transom_top(values: Values) -> tuple[float, float]:
    """Return x and z of the transom top, mm; of an unmeasured one, that of a long leg."""
    rake = math.radians(values["transom.rake"])
    face = values.get("transom.height_along_face", _USUAL_TOP_MM)
    return -face * math.sin(rake), face * math.cos(rake)
