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
    Source(
        "dash-cover",
        "a rim should cover the old opening by 2 mm all round; openings come out up to 1 mm larger "
        "than the sheet; an adapter ring laps 5 mm",
        Mark.ESTIMATE,
    ),
    Source(
        "print-bars",
        "check bars of a printed template within 0.5 mm of 100 mm: 1.6 mm over a 327 mm pair",
        Mark.ESTIMATE,
    ),
    Source(
        "drill-guide",
        "a drill keeps square in a guide three times as long as it is thick",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "hole-ligament",
        "1.5 diameters of sound material between a new hole and an old one, never under 1",
        Mark.ESTIMATE,
    ),
    Source(
        "hole-edges",
        "bolts in laminate: 3 d from centre to edge and 4 d apart; in wood never under 1.5 d and "
        "3 d (NDS tables of edge distance and spacing)",
        Mark.MEMORY,
    ),
    Source(
        "drill-drift",
        "a hand-held drill 1 deg off square drifts by thickness times the tangent of it",
        Mark.DEFINITION,
    ),
    Source(
        "hole-filling",
        "old holes are dried, opened to sound core and filled solid before the engine hangs",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "shift-aside",
        "owners' reports: 1/2 in off the centreline judged best left alone, 1 in suspected of hard "
        "steering one way",
        Mark.READ,
    ),
    Source(
        "iso-273", "ISO 273:1979, clearance holes for bolts: fine, medium and coarse", Mark.READ
    ),
    Source(
        "asme-b18-2-8",
        "ASME B18.2.8-1999 (R2017), clearance holes for inch bolts, as a machinist's handbook "
        "prints it: metric drills and limits of the loose fit; inch drills recalled",
        Mark.READ,
    ),
    Source("asme-no-hole", "9/16 in is not among the sizes of ASME B18.2.8", Mark.MEMORY),
    Source(
        "iso-4032",
        "ISO 4032 nuts, read; ISO 7040 lock nuts and ISO 4014 heads are recalled only",
        Mark.READ,
    ),
    Source("nut-memory", "heights of heads, nuts and lock nuts as recalled: weak", Mark.MEMORY),
    Source(
        "bolt-lengths",
        "lengths and threads of bolts: ISO 4014, ISO 888, ASME B18.2.1",
        Mark.MEMORY,
    ),
    Source(
        "bolt-protrusion",
        "1 1/2 to 2 threads past a lock nut (read on an owners' forum); 3 is accepted here",
        Mark.COMMON_PRACTICE,
    ),
    Source("iso-3506", "ISO 3506-1, tensile strength of stainless bolts", Mark.READ),
    Source("iso-3506-proof", "ISO 3506-1, 0.2 % proof stress of stainless bolts", Mark.MEMORY),
    Source("iso-898", "ISO 898-1, class 8.8: tensile strength and 0.2 % proof stress", Mark.READ),
    Source("iso-898-proof", "ISO 898-1, class 8.8: proof stress", Mark.MEMORY),
    Source(
        "f593-table",
        "torque and tension guide for F593 and F837 bolts: clamp force is 75 % of the yield; "
        "K 0.16 lubricated, 0.35 dry",
        Mark.READ,
    ),
    Source("f593-tensile", "ASTM F593, tensile strength of cold-worked bolts", Mark.MEMORY),
    Source(
        "sae-table",
        "torque table for SAE grades 5 and 8: clamp force is 75 % of the proof load",
        Mark.READ,
    ),
    Source("sae-tensile", "SAE J429, tensile strength of grades 5 and 8", Mark.MEMORY),
    Source("iso-7089", "ISO 7089, plain washers", Mark.READ),
    Source("iso-7093", "ISO 7093-1, plain washers of the wide series", Mark.MEMORY),
    Source("washer-memory", "washer sizes as recalled", Mark.MEMORY),
    Source(
        "torque-factor",
        "T = K F d: K 0.20 to 0.25 dry, 0.15 to 0.20 oiled, 0.12 to 0.16 anti-seize; stainless "
        "0.16 lubricated, 0.35 dry; preload 75 % of proof for joints to be undone",
        Mark.READ,
    ),
    Source(
        "transom-torque",
        "an engine maker's manual (2018): a transom holds 75 N·m (55 lb·ft) on the mounting bolts "
        "without yielding; if the reading stops rising, enlarge washers or plate",
        Mark.READ,
    ),
    Source(
        "bolt-load",
        "engine weight times a load factor of 5 by custom, and thrust at rest from power and "
        "propeller size, on a rigid bracket",
        Mark.ESTIMATE,
    ),
    Source(
        "plywood-bearing",
        "US Plywood Design Specification: face bearing 340, 210, 160 psi by species group, dry",
        Mark.MEMORY,
    ),
    Source(
        "wood-bearing",
        "Wood Handbook, compression across the grain at 12 % moisture, proportional limit",
        Mark.MEMORY,
    ),
    Source("aluminium-proof", "EN 485-2, 0.2 % proof stress of annealed 5083 plate", Mark.MEMORY),
    Source(
        "core-not-found",
        "bearing strength of laminate, foam and composites: not found",
        Mark.ESTIMATE,
    ),
    Source(
        "plate-edge",
        "a backing plate goes past its bolts by the washer's radius and by 1 1/2 bolts",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "metal-pairs",
        "owners' and surveyors' reports: copper-treated wood or wet ply eats aluminium; stainless "
        "corrodes where sealed off from air and galls on itself",
        Mark.READ,
    ),
    Source(
        "swing-clearance",
        "20 mm between a swinging engine and what stands still, for mounts that give and a hull "
        "that works",
        Mark.ESTIMATE,
    ),
    Source(
        "swing-sheet",
        "a maker's safety sheet: tilt fully and turn lock to lock; again after moving the engine "
        "even half an inch",
        Mark.READ,
    ),
    Source(
        "trim-reserve",
        "plate 3 to 10 deg propeller under at full trim-in; wedges of 2 to 6 deg are usual",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "ram-arc",
        "owners' forum: a ram of 3 1/2 in each way on an arm of 8 1/2 in; the arc leaves the line",
        Mark.READ,
    ),
    Source(
        "trailer-departure",
        "an engine on its trailer clears a departure angle of 10 deg",
        Mark.ESTIMATE,
    ),
    Source(
        "twin-spacing",
        "owners and a maker's rigging guide: 26 in between twins, tie bar from 470 to 749 mm, toe "
        "out 1/2 in on 26 in",
        Mark.READ,
    ),
    Source(
        "capacity-plate",
        "the builder's capacity plate, which wins over every computed figure",
        Mark.DEFINITION,
    ),
    Source(
        "cfr-183.53",
        "33 CFR 183.51 and 183.53, horsepower capacity of monohull outboard boats under 20 ft "
        "(text revised 1 July 2001, no later change found)",
        Mark.READ,
    ),
    Source(
        "cfr-183.53b",
        "33 CFR 183.53(b), performance test up to 40 hp, as a letter on the standards quotes it",
        Mark.READ,
    ),
    Source(
        "cfr-183.41",
        "33 CFR 183.35 and 183.41, weight and persons capacity of outboard boats",
        Mark.READ,
    ),
    Source(
        "cfr-183.75",
        "33 CFR 183.75, outboard weights in force from 1 June 2018 (after ABYC S-30), read in a "
        "reprint",
        Mark.READ,
    ),
    Source(
        "iso-11592",
        "ISO 11592-1:2016, maximum power of craft under 8 m by a manoeuvring test; scope read, "
        "its figures not",
        Mark.READ,
    ),
    Source(
        "tp-1332",
        "Canada TP 1332, compliance notice of outboard boats up to 6 m; formulas not found",
        Mark.READ,
    ),
    Source(
        "as-1799",
        "AS 1799.1-2009 clause 2.6, by New South Wales Marine Safety Regulation 2016 cl. 13; its "
        "formula was not found",
        Mark.READ,
    ),
    Source("no-power-rule", "no rule of this country was found", Mark.ESTIMATE),
    Source(
        "usc-4312",
        "46 USC 4312: who in trade installs engine and starting controls on a boat under 26 ft "
        "with 115 lbf of static thrust or more fits a cut-off switch and link to ABYC A-33",
        Mark.READ,
    ),
    Source(
        "kill-switch",
        "a cut-off switch with its link on, whatever the law asks",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "iso-8848",
        "ISO 8848:2021, abstract: mechanical steering of standard duty above 15 kW in total, of "
        "light duty for one outboard of 15 to 40 kW",
        Mark.READ,
    ),
    Source(
        "persons-by-size",
        "US boating courses: length times beam in feet over 15 for a boat without a plate",
        Mark.READ,
    ),
    Source(
        "load-sense",
        "a third more than the persons of the boating course, 75 kg each, and 15 to 180 kg a "
        "person: beyond that a reading is looked at again",
        Mark.ESTIMATE,
    ),
    Source("petrol", "EN 228, petrol of 0.720 to 0.775 kg a litre", Mark.MEMORY),
    Source(
        "flotation",
        "hydrostatics: sections clipped at the water, Simpson's first rule, equilibrium of volume "
        "and moments",
        Mark.DEFINITION,
    ),
    Source(
        "freeboard-aft",
        "a surveyor for a code, quoted by owners: 250 mm from the water to the lowest part of the "
        "transom; a boat with 360 mm was lost through an opening below; 100 mm is rigfit's floor",
        Mark.READ,
    ),
    Source(
        "scupper-height",
        "surveyor's cases: scuppers 1 in and 2 1/2 in above the water belonged to boats that sank",
        Mark.READ,
    ),
    Source(
        "sole-height", "a surveyor: cockpit sole 3 in (76 mm) or more above the water", Mark.READ
    ),
    Source(
        "bilge-outlet",
        "surveyors' cases: bilge outlets 1 to 3 in above the water without a loop let boats fill",
        Mark.READ,
    ),
    Source(
        "rigging-opening",
        "report on a fatal case: stern freeboard 36 cm, opening for the engine's cables 26 cm "
        "above the water; 100 mm is rigfit's floor",
        Mark.READ,
    ),
    Source(
        "trim-rest",
        "half a degree of trim is hardly seen, one and a half wets scuppers aft",
        Mark.ESTIMATE,
    ),
    Source("list-rest", "one degree of list is hardly felt, three are a nuisance", Mark.ESTIMATE),
    Source(
        "float-test",
        "float her in calm water with the extra mass on the transom, heights to 5 mm",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "two-way",
        "the same stretch there and back, at once, and the mean: asked for in trial reports",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "trial-drift",
        "current and wind of up to 2 kn on one way only; beyond a tenth of the speed a mean is "
        "looked at again",
        Mark.ESTIMATE,
    ),
    Source(
        "trial-band",
        "the loaded boat reaches the upper half of the maker's band at full throttle; the band is "
        "in the engine's manual",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "trial-slip",
        "slip on the plane: light and fast craft 5 to 12 %, runabouts 10 to 20 %, read on one "
        "page; a good outboard 10 to 15 % by custom",
        Mark.READ,
    ),
    Source(
        "one-change",
        "one thing is changed between two trials, or nobody knows what helped",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "row-worth",
        "owners' and a yard's reports of one hole: up, 100 rpm and up to 1.5 mph at the top; down, "
        "a large boat gained 4 to 5.5 kn in mid-range and lost 1.4 kn at the top",
        Mark.READ,
    ),
    Source("pitch-worth", "dealers: 150 to 200 rpm an inch of pitch; others 100 to 300", Mark.READ),
    Source(
        "plate-afloat",
        "the plate is to be seen, skimming, at planing speed and trim",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "trial-safety",
        "sea-trial cautions of the trade, and the report on a capsize in a hard turn trimmed in",
        Mark.READ,
    ),
    Source(
        "trial-pressure",
        "owners and mechanics: pressure that falls as speed rises tells of disturbed flow; least "
        "figures quoted, 8 to 12 psi at full throttle, differ by engine",
        Mark.READ,
    ),
    Source("expected", "what the job expected before the trial", Mark.DEFINITION),
    Source(
        "savitsky-1964",
        "D. Savitsky, Hydrodynamic design of planing hulls, Marine Technology 1(1), 1964, 71-95; "
        "equations read in two public codes, not in the paper",
        Mark.READ,
    ),
    Source(
        "porpoising-1964",
        "the porpoising chart of the same paper, as a public library fitted it",
        Mark.READ,
    ),
    Source(
        "wake-2010",
        "D. Savitsky and M. Morabito, Marine Technology 47(1), 2010, 1-16: surface behind the "
        "transom; coefficients read in a public code and recalled, the paper not read",
        Mark.MEMORY,
    ),
    Source(
        "crouch",
        "Savitsky's resistance with a stated propulsive efficiency; Crouch's formula with the "
        "constants of Gerr's Propeller Handbook",
        Mark.MEMORY,
    ),
    Source(
        "wot-band",
        "propped so that the loaded boat comes to the upper half of the maker's band",
        Mark.COMMON_PRACTICE,
    ),
    Source(
        "voltage-drop",
        "ABYC E-11 as several public pages give it: CM = K I L / E, K 10.75, L out and back; 3 % "
        "for feeders, electronics, navigation lights and blowers, 10 % for the rest; areas of boat "
        "cable recalled but for AWG 12",
        Mark.READ,
    ),
    Source(
        "cranking-drop",
        "cranking conductors: aim at under 5 % and never lose over 10 %, read in one article; the "
        "engine's manual comes first",
        Mark.READ,
    ),
    Source(
        "cfr-183.425",
        "33 CFR 183.425, Table 5, allowable amperage of conductors at 30 °C; engine space 0.85 for "
        "105 °C as a dealer's table gives it",
        Mark.READ,
    ),
    Source(
        "steering-cable",
        "two makers' rules for a new steering cable: legs less 4 in or 10 cm for each right-angle "
        "bend, more for a tilt tube, up to the next foot; 360 degrees of bends at most",
        Mark.READ,
    ),
    Source(
        "control-cable",
        "control cable: the way and 3 ft (two rules read), 4 ft or 600 mm (one each), up to the "
        "next foot; no bend tighter than 200 mm",
        Mark.READ,
    ),
    Source("class", "generic engine class, typical sizes drawn up for rigfit", Mark.ESTIMATE),
    Source("job", "the limit written in the job file", Mark.DEFINITION),
)

SOURCES: dict[str, Source] = {source.key: source for source in _ALL}


def cite(key: str) -> str:
    """Return the printed citation of a source key; raises ``KeyError`` for an unknown key."""
    return SOURCES[key].cite()
