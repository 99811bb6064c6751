"""The documents and trade habits behind rigfit's limits, each with how far it was verified.

A finding names a source by its key; the command line, the form and the drawings print the title.
Marks: ``read`` the text was read; ``from memory`` recalled, not re-read; ``common practice`` a
habit of the trade with no standard behind it; ``definition`` follows from a definition or plain
geometry; ``estimate`` rigfit's own figure, to be replaced by a better one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Mark(Enum):
    """How far a source was verified."""

    READ = "read"
    MEMORY = "from memory"
    COMMON_PRACTICE = "common practice, no standard"
    DEFINITION = "definition"
    ESTIMATE = "rigfit's own estimate"


@dataclass(frozen=True, slots=True)
class Source:
    """One cited document or habit.

    :param key: short name used by findings and profiles.
    :param title: how it is cited in print.
    :param mark: how far it was verified.
    """

    key: str
    title: str
    mark: Mark

    def cite(self) -> str:
        """Return the citation with its mark, as printed under a finding."""
        return f"{self.title} [{self.mark.value}]"


_ALL = (
    Source("geometry", "plane geometry of the transom, leg and plate", Mark.DEFINITION),
    Source(
        "cfr-183.3",
        "33 CFR 183.3, transom height: vertical, to the bottom line on the centreline, "
        "without bolted-on keel",
        Mark.MEMORY,
    ),
    Source("gum", "JCGM 100:2008 (GUM), 4.3.7, 5.1.2 and 5.1.3 note 2", Mark.MEMORY),
    Source(
        "hook-owners",
        "owners' reports: a hook of 1/4 in over 8 in ruined the handling of a boat",
        Mark.READ,
    ),
    Source(
        "straightedge",
        "reading error of a straightedge and feeler on a hull bottom, about 3 mm",
        Mark.ESTIMATE,
    ),
    Source("rake-design", "transoms are built to 14 deg of rake, 12 to 16 accepted", Mark.MEMORY),
    Source("wedges", "wedges of 3 and 5 deg are the stocked sizes", Mark.READ),
    Source("leg-table-a", "public fit table: 14-17 1/4, 19 1/2-22 1/2, 22 1/2-27 in", Mark.READ),
    Source("leg-table-b", "a marina's fit note: 15-17, 19-21, 24-26, 30 in", Mark.READ),
    Source(
        "leg-spread",
        "a dealer's list of real legs: short 416-445, long 508-572, extra long 635-703 mm",
        Mark.READ,
    ),
    Source(
        "plate-level",
        "propeller guide and boatyard tips: plate about level with the bottom",
        Mark.READ,
    ),
    Source(
        "plate-planing",
        "start at 0 to 25 mm above the keel line, 25 mm either way tolerated",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "plate-modern", "a press guide for modern hulls: 20 to 50 mm above the bottom", Mark.READ
    ),
    Source(
        "plate-portable",
        "an engine maker's manual for a small portable (2001): level to 25 mm below the bottom",
        Mark.READ,
    ),
    Source(
        "plate-rib",
        "an engine maker's figure quoted by an owner of a small RIB: not more than 25 mm below",
        Mark.READ,
    ),
    Source(
        "plate-pad",
        "fast pad-bottom hulls: 75 mm and more above, with low water pickups and a pressure gauge",
        Mark.READ,
    ),
    Source("plate-pontoon", "pontoon: level to 25 mm below the centre tube", Mark.COMMON_PRACTICE),
    Source(
        "plate-tunnel",
        "tunnel hulls: start level with the sponson bottoms, go up until it slips",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "plate-keel-short",
        "a keel that stops about 1 m ahead of the transom: below the bottom, no figure given",
        Mark.READ,
    ),
    Source("plate-step", "a step near the transom: true bottom or step line, disputed", Mark.READ),
    Source("plate-catamaran", "catamarans: no figure found in print", Mark.ESTIMATE),
    Source(
        "setback-custom",
        "plate up 25 mm for each 300 mm of setback (1 in per 12 in), spread 20 to 35 mm",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "setback-propeller",
        "other writers: 1 in for each 8 to 10 in from transom to propeller",
        Mark.READ,
    ),
    Source(
        "hole-layout",
        "trade hole layout: 12 7/8 and 9 7/8 in apart, 8 in between rows, 3/4 in steps",
        Mark.READ,
    ),
    Source(
        "hole-top-edge",
        "upper holes 1 7/8 in below the transom top, never under 1 3/4 in",
        Mark.READ,
    ),
    Source(
        "deadrise-raise",
        "off-centre engine on a vee bottom: raise by offset times the tangent of deadrise",
        Mark.READ,
    ),
    Source("class", "generic engine class, typical sizes drawn up for rigfit", Mark.ESTIMATE),
    Source("job", "the limit written in the job file", Mark.DEFINITION),
)

SOURCES: dict[str, Source] = {source.key: source for source in _ALL}


def cite(key: str) -> str:
    """Return the printed citation of a source key; raises ``KeyError`` for an unknown key."""
    return SOURCES[key].cite()
