"""Putting an engine's side view from a DXF file into a job, placed on its tilt axis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigfit.errors import EntryError, JobError, UsageError
from rigfit.records.outline_import import ImportedOutline
from rigfit.rigging.job import Job
from rigfit.rigging.outline import Polygon
from rigfit.rigging.surroundings import FAR_MM

OUTWARD_MM = 0.5
"""How far the kept outline may stand outside the drawn one; it never lies inside it."""

MOST_POINTS = 400
"""Most corners that are kept."""


def with_outline(
    job: Job,
    engine_id: str,
    imported: ImportedOutline,
    axis_mm: tuple[float, float],
    *,
    bow_right: bool = False,
) -> tuple[Job, str]:
    """Return the job with an engine's side view drawn, and what was put in, as a sentence.

    Outlines inside a larger one are left out: they are no rim.

    :param engine_id: which engine.
    :param axis_mm: where the tilt axis is in the file.
    :param bow_right: True where the boat's bow lies to the right in the file.
    :raises JobError: when the job has no such engine.
    :raises UsageError: for a file without a closed outline.
    :raises EntryError: for an outline with too many corners, or so far away that the axis is wrong.
    """
    if all(candidate.id != engine_id for candidate in job.engines):
        raise JobError(f'the job has no engine "{engine_id[:40]}"', where="--engine")
    text, said = outline_text(
        [outline.points for outline in imported.outlines], axis_mm, bow_right=bow_right
    )
    engines = tuple(
        replace(candidate, outline=text) if candidate.id == engine_id else candidate
        for candidate in job.engines
    )
    return replace(job, engines=engines), said


def outline_text(
    drawn: Sequence[Polygon], axis_mm: tuple[float, float], *, bow_right: bool = False
) -> tuple[str, str]:
    """Return an engine's side view as its field takes it, and what it is, as a sentence.

    :param drawn: closed outlines in the file's own axes, mm.
    :param axis_mm: where the tilt axis is in the file.
    :param bow_right: True where the boat's bow lies to the right in the file.
    :raises UsageError: without a closed outline.
    :raises EntryError: as ``with_outline``.
    """
    rings = _rims(drawn)
    if not rings:
        raise UsageError(
            "the file holds no closed outline", cure="close the engine's side view and export it"
        )
    sign = 1.0 if bow_right else -1.0
    placed = [tuple((sign * (x - axis_mm[0]), z - axis_mm[1]) for x, z in ring) for ring in rings]
    count = sum(len(ring) for ring in placed)
    if count > MOST_POINTS:
        raise EntryError(
            f"the outline has {count} corners",
            allowed=f"at most {MOST_POINTS} are kept",
            cure="draw the rim alone, without details inside or beside it",
        )
    far = max(abs(value) for ring in placed for point in ring for value in point)
    if far > FAR_MM:
        raise EntryError(
            f"the outline reaches {far:.0f} mm from the tilt axis",
            allowed=f"at most {FAR_MM:g} mm",
            cure="check the unit of the file and where the tilt axis is in it",
        )
    text = " / ".join("; ".join(f"{x:.1f}, {z:.1f}" for x, z in ring) for ring in placed)
    pieces = "one outline" if len(placed) == 1 else f"{len(placed)} outlines"
    ahead = max(x for ring in placed for x, _ in ring)
    above = max(z for ring in placed for _, z in ring)
    said = (
        f"{pieces} with {count} corners, reaching {ahead:.0f} mm ahead of the tilt axis and "
        f"{above:.0f} mm above it"
    )
    return text, said


def _rims(rings: Sequence[Polygon]) -> list[Polygon]:
    """Return the outer rims, joined where they touch, with no more corners than it takes."""
    from shapely import Polygon as Area
    from shapely import get_parts, unary_union

    grown = unary_union([Area(ring).buffer(0.5 * OUTWARD_MM) for ring in rings])
    # Simplified by less than it was grown, so that it never cuts into what was drawn.
    kept = [piece.simplify(0.45 * OUTWARD_MM) for piece in get_parts(grown)]
    rims = [tuple((float(x), float(z)) for x, z in piece.exterior.coords[:-1]) for piece in kept]
    return [ring for ring in rims if len(ring) > 2]
