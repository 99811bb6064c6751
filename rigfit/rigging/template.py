"""What a drilling template must hold, or why there can be none yet."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.errors import NotMeasuredError
from rigfit.rigging.case import Case
from rigfit.rigging.checks_holes import upper_holes_in_transom
from rigfit.rigging.hole_fit import kicker_holes, new_holes
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.job import ExistingHole


@dataclass(frozen=True, slots=True)
class Template:
    """A drilling template seen from astern, origin at centreline and transom top.

    :param features: holes and slots to make, of twins and a kicker too.
    :param existing: holes that are there already.
    :param centre_mm: centre of the engine, or between twins, + to starboard of the centreline.
    :param bracket_slot_mm: length of the slots in the engine's bracket, 0 for round holes.
    :param headings: boat, engine and what is drilled, most important first.
    :param notes: cautions and conditions, in printing order.
    """

    features: tuple[Feature, ...]
    existing: tuple[Feature, ...]
    centre_mm: float
    bracket_slot_mm: float
    headings: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def diagonals(self) -> tuple[tuple[Feature, Feature], ...]:
        """The two crossing distances that prove an engine's four holes square, for each engine."""
        by_name = {feature.name: feature for feature in self.features}
        engines = dict.fromkeys(feature.engine for feature in self.features)
        pairs = [
            (f"{engine} {first}".strip(), f"{engine} {second}".strip())
            for engine in engines
            for first, second in (
                ("upper port", "lower starboard"),
                ("upper starboard", "lower port"),
            )
        ]
        return tuple(
            (by_name[first], by_name[second])
            for first, second in pairs
            if first in by_name and second in by_name
        )


def drilling_template(case: Case) -> Template:
    """Return the template for the holes a case needs in the transom.

    :raises NotMeasuredError: when the pattern is unknown, the height of the holes is not decided,
        or the leg was never measured: no drilling data from an advert.
    """
    _require_known(case)
    holes = upper_holes_in_transom(case)
    assert holes is not None  # noqa: S101 - required above
    off = case.job.mounting.off_centre
    centre = off.value if off else 0.0
    return Template(
        features=tuple(item.feature for item in new_holes(case, holes, centre)),
        existing=tuple(
            old_feature(index, hole) for index, hole in enumerate(case.job.holes, start=1)
        ),
        centre_mm=centre,
        bracket_slot_mm=case.transom_pattern.lower_slot_mm,
        headings=_headings(case),
        notes=_notes(case),
    )


def old_feature(number: int, hole: ExistingHole) -> Feature:
    """Return an existing hole as a feature; the job file makes sure that it is complete."""
    assert hole.across and hole.below_top and hole.diameter  # noqa: S101
    return Feature(
        name=hole.name or f"old hole {number}",
        across_mm=hole.across.value,
        below_top_mm=hole.below_top.value,
        diameter_mm=hole.diameter.value,
    )


def _require_known(case: Case) -> None:
    subject = f"engine {case.candidate.id}"
    if not case.transom_pattern.is_bolted:
        raise NotMeasuredError(
            f"there is no template for {subject}: it clamps on and its bolt holes are not known",
            cure="trace them from the engine's own clamp bracket",
        )
    if case.leg is None or not case.leg.is_measured:
        raise NotMeasuredError(
            f"there is no template for {subject}: its leg is not measured",
            cure="measure from the seat under the hook to the underside of the plate and enter it "
            "as leg_measured; no holes are placed from an advert",
            where="engine, leg_measured",
        )
    if upper_holes_in_transom(case) is None:
        raise NotMeasuredError(
            "it is not decided how far below the transom top the upper holes go",
            cure="choose one of the drilling heights that rigfit heights lists and enter it as "
            "upper_holes_below_top",
            where="mounting, upper_holes_below_top",
        )


def _headings(case: Case) -> tuple[str, ...]:
    candidate, pattern = case.candidate, case.transom_pattern
    name = f" ({candidate.name})" if candidate.name else ""
    carried = f"for {case.bracket.name}, " if case.bracket else ""
    return (
        f"{case.job.boat.name or 'Unnamed boat'}: {carried}engine {candidate.id}{name}",
        "SEEN FROM ASTERN, OUTSIDE OF THE TRANSOM",
        f"bolt {pattern.bolt}, drill {pattern.hole_mm:g} mm" if pattern.bolt else
        f"drill {pattern.hole_mm:g} mm",
    )  # fmt: skip


def _notes(case: Case) -> tuple[str, ...]:
    notes = [
        "Full size, 1 unit is 1 mm. Check the 100 mm square on what you print or cut.",
        "Diagonals must be equal; compare them with a tape before the first hole.",
        "Drill one pilot first and look inside where it comes out: well floor, knee, drain.",
        "The engine maker's template and instructions come first.",
    ]
    if case.bracket is not None:
        notes.insert(0, "HOLES OF THE BRACKET'S CLASS: check them against the bracket in hand.")
    elif not case.pattern_is_measured:
        notes.insert(0, "HOLES OF THE ENGINE'S CLASS: check them against the bracket in hand.")
    beside = case.job.neighbour
    if beside.arrangement == "twins" and beside.twin_spacing is None:
        notes.insert(0, "ONE ENGINE ONLY: the distance between the twins is not entered.")
    if beside.arrangement == "kicker" and not kicker_holes(case):
        notes.insert(0, "WITHOUT THE KICKER: its hole pattern or its place is not entered.")
    if case.pattern.note:
        notes.append(case.pattern.note)
    return tuple(notes)
