"""The answer to how a boat floats before and after a change, or why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.rigging.findings import Phrase
from rigfit.rigging.flotation import Floating, Pod, PointMass
from rigfit.rigging.hull_form import HullForm
from rigfit.rigging.tolerance import Estimate


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why nothing can be said about how she floats.

    :param sentence: what is missing or wrong.
    :param needs: the readings to take or to look at.
    :param settle: what to do.
    """

    sentence: Phrase
    needs: tuple[str, ...]
    settle: Phrase


@dataclass(frozen=True, slots=True)
class MarkHeight:
    """A mark's height above the water, mm.

    :param z_mm: above the keel line; its place ahead and across beside it.
    :param before: as she lies now; None where nothing was read afloat.
    :param before_spread: tolerance of that height, 0 where there is none.
    :param after: with the new engine.
    :param needs: the readings that decide it.
    :param is_read: True when its height above the water now was read.
    """

    name: str
    kind: str
    ahead_mm: float
    across_mm: float
    z_mm: float
    before: float | None
    after: Estimate
    needs: tuple[str, ...]
    is_read: bool
    before_spread: float = 0.0


@dataclass(frozen=True, slots=True)
class Flotation:
    """How she floats, before and after.

    :param before: None where what hung on her before is not known.
    :param removed: what comes off, ``added`` what goes on.
    :param stern_mm: how much deeper she lies at the transom; ``bow_mm`` at the stem.
    :param trim_change_deg: + by the stern.
    :param list_deg: after, + to starboard.
    :param is_anchored: True when heights were read afloat.
    :param rake_deg: of the transom.
    :param needs: the readings of the hull and afloat that were used.
    :param is_firm: True when all masses that change, the length, the beam and the heights read
        afloat were taken from this boat. The form ahead of amidships may stand in: it acts within
        its tolerance only.
    :param misfit_mm: how far the height read amidships is off the line through the outer two, + for
        a water that stands higher there; None where three were not read.
    :param bare_kg: what the bare boat weighs by the heights read afloat, less all that was listed
        as aboard; None where one height alone was read.
    :param said_bare_kg: what the bare boat weighs as entered; None where nobody entered it.
    :param usual: names of the fields of the hull for which a usual figure stands in.
    :param uncounted: listed masses that change and whose mass or place is not known.
    """

    form: HullForm
    density_kg_l: float
    pods: tuple[Pod, ...]
    before: Floating | None
    after: Floating
    removed: tuple[PointMass, ...]
    added: tuple[PointMass, ...]
    marks: tuple[MarkHeight, ...]
    stern_mm: Estimate | None
    bow_mm: Estimate | None
    trim_change_deg: Estimate | None
    list_deg: Estimate
    is_anchored: bool
    rake_deg: float
    needs: tuple[str, ...]
    is_firm: bool
    uncounted: tuple[str, ...]
    misfit_mm: float | None
    bare_kg: float | None
    said_bare_kg: float | None = None
    usual: tuple[str, ...] = ()

    @property
    def heavier_kg(self) -> float:
        """How much heavier she is after the change."""
        return math.fsum(m.mass_kg for m in self.added) - math.fsum(m.mass_kg for m in self.removed)
