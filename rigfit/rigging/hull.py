"""Hull kinds: which line the plate is measured against, and where it usually belongs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HullKind:
    """A kind of bottom with the trade's band for the plate.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES`` for the band.
    :param datum: which line counts as the keel line on this bottom.
    :param low_mm: lower end of the starting band, plate above the keel line; None where no figure
        could be found: then the owner must write a target into the job.
    :param high_mm: upper end of the starting band.
    :param outer_low_mm: lower end of what is still tolerated.
    :param outer_high_mm: upper end of what is still tolerated.
    :param outer_source: key for the tolerated range.
    :param note: what to look at afloat on this bottom.
    """

    id: str
    name: str
    source: str
    datum: str
    low_mm: float | None = None
    high_mm: float | None = None
    outer_low_mm: float | None = None
    outer_high_mm: float | None = None
    outer_source: str = ""
    note: str = ""
