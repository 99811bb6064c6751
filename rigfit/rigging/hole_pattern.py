"""Bolt-hole patterns of engine brackets, and where they land on a transom."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HolePattern:
    """The holes of a clamp bracket, measured from its seat downwards along the face.

    :param id: key of the profile.
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param upper_rows_mm: distances of the upper holes below the seat, uppermost first; empty for a
        clamp bracket without bolt rows.
    :param upper_spacing_mm: upper pair, centre to centre across the engine.
    :param lower_below_upper_mm: uppermost upper hole to uppermost lower hole.
    :param lower_spacing_mm: lower pair, centre to centre.
    :param lower_slot_mm: end-to-end length of the bracket's upright lower slots; 0 for round holes.
    :param hole_mm: diameter to drill.
    :param bolt: the bolt meant, in the trade's words.
    :param note: anything a driller should know.
    """

    id: str
    name: str
    source: str
    upper_rows_mm: tuple[float, ...] = ()
    upper_spacing_mm: float = 0.0
    lower_below_upper_mm: float = 0.0
    lower_spacing_mm: float = 0.0
    lower_slot_mm: float = 0.0
    hole_mm: float = 0.0
    bolt: str = ""
    note: str = ""

    @property
    def is_bolted(self) -> bool:
        """False for an engine that only clamps on, whose bolt holes are not known here."""
        return bool(self.upper_rows_mm)


@dataclass(frozen=True, slots=True)
class Feature:
    """One hole or upright slot on the transom, seen from astern.

    :param name: "upper port", "lower starboard" ...
    :param across_mm: centre, from the boat's centreline, + to starboard.
    :param below_top_mm: centre, below the transom top along the face.
    :param diameter_mm: diameter of the hole, or width of the slot.
    :param slot_mm: end-to-end length of the slot, 0 for a round hole.
    :param engine: which engine it carries where there are two ("port engine", "kicker"), else "".
    """

    name: str
    across_mm: float
    below_top_mm: float
    diameter_mm: float
    slot_mm: float = 0.0
    engine: str = ""


@dataclass(frozen=True, slots=True)
class HoleRule:
    """How much material must stay round a bolt hole, as multiples of its diameter.

    Edge to edge means from the rim of the new hole to the rim, edge or opening beside it. Between
    "enough" and "least" the answer is tight; below "least" it stops.

    :param id: key of the profile; a core's id where the rule is for that core, or "default".
    :param name: how it is called in print.
    :param source: key into ``rigfit.sources.SOURCES`` for old holes and openings.
    :param old_enough_d: to an old hole or opening, edge to edge.
    :param old_least_d: the least of it.
    :param edge_enough_d: to an edge of the transom, rim to edge.
    :param edge_least_d: the least of it.
    :param pitch_enough_d: between two loaded bolts, edge to edge.
    :param pitch_least_d: the least of it.
    :param edge_source: source of the edge and pitch figures.
    :param play_mm: play of the bolt meant in the hole to drill, on the diameter.
    :param loose_mm: most an old hole may exceed the bolt and still serve, on the diameter.
    :param washer_d: outer diameter of a wide washer over the bolt's, where none is chosen.
    :param drill_off_deg: how far a hand-held drill may be off square.
    :param note: anything a driller should know.
    """

    id: str
    name: str
    source: str
    old_enough_d: float
    old_least_d: float
    edge_enough_d: float
    edge_least_d: float
    pitch_enough_d: float
    pitch_least_d: float
    edge_source: str
    play_mm: float
    loose_mm: float
    washer_d: float
    drill_off_deg: float
    note: str = ""


def drilled_features(
    pattern: HolePattern, upper_below_top_mm: float, off_centre_mm: float = 0.0, engine: str = ""
) -> tuple[Feature, ...]:
    """Return the four holes a transom needs for a bolted pattern.

    The bolt row in use does not move them: row k raises the engine so that its k-th upper hole
    meets the same two holes. The lower pair sits at the pattern's row distance below the upper.

    :param upper_below_top_mm: centre of the upper pair below the transom top, along the face.
    :param off_centre_mm: the engine's own centre, + to starboard.
    :param engine: which engine, where there are two; put in front of the names.
    :raises ValueError: for a pattern without bolt rows.
    """
    if not pattern.is_bolted:
        raise ValueError(f"pattern {pattern.id} has no bolt rows")
    lower = upper_below_top_mm + pattern.lower_below_upper_mm
    rows = (
        ("upper", upper_below_top_mm, pattern.upper_spacing_mm),
        ("lower", lower, pattern.lower_spacing_mm),
    )
    return tuple(
        Feature(
            name=f"{engine} {row} {side}".strip(),
            across_mm=off_centre_mm + sign * spacing / 2.0,
            below_top_mm=below,
            diameter_mm=pattern.hole_mm,
            engine=engine,
        )
        for row, below, spacing in rows
        for side, sign in (("port", -1.0), ("starboard", 1.0))
    )


def diagonal_mm(first: Feature, second: Feature) -> float:
    """Return the centre distance of two features, which a tape can confirm on the boat."""
    across = second.across_mm - first.across_mm
    down = second.below_top_mm - first.below_top_mm
    return float((across * across + down * down) ** 0.5)
