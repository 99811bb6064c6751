"""Putting a table of offsets into a job: every row counts, and what it has already counts too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigfit.errors import EntryError
from rigfit.records.job_reading import MOST_ITEMS
from rigfit.records.offsets_csv import IS_OPEN, parse_offsets, sense_of
from rigfit.rigging.hull_fields import Offset
from rigfit.rigging.job import Job


def with_offsets(job: Job, text: str, where: str) -> tuple[Job, tuple[str, ...]]:
    """Return the job with the offsets in some text behind those it has, and what to look at.

    :param text: as ``parse_offsets`` reads it, bare numbers in the job's own unit.
    :param where: how the text is called in errors.
    :raises EntryError: for a row that cannot be read, a table that is no hull (fewer than three
        stations, a height twice in one station), or too many rows.
    """
    table = parse_offsets(text, job.units.entries)
    for problem in table.problems:
        if not table.offsets or problem.where.startswith("row"):
            raise problem.at(where)
    offsets = (*job.offsets, *table.offsets)
    if len(offsets) > MOST_ITEMS["offset"]:
        raise EntryError(
            f"the job would have {len(offsets)} offsets",
            allowed=f"at most {MOST_ITEMS['offset']}",
            cure="leave out some waterlines",
            where=where,
        )
    doubts = []
    for problem in sense_of(offsets):
        if problem.problem.startswith(IS_OPEN):
            doubts.append(problem.sentence())
            continue
        if job.offsets and not _stops(table.offsets):
            raise EntryError(
                f"with the {len(job.offsets)} offsets the job has already, {problem.problem} at "
                f"{problem.where}",
                allowed=problem.allowed,
                cure="take the [[offset]] tables out of the job first, if these replace them",
                where=where,
            )
        raise problem.at(where)
    return replace(job, offsets=offsets), tuple(doubts)


def _stops(offsets: Sequence[Offset]) -> bool:
    return any(not problem.problem.startswith(IS_OPEN) for problem in sense_of(offsets))
