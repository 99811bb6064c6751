"""What the drawing of the transom's face shows, resolved from a case: outline, holes, places.

Everything is in model mm, seen from astern: x from the centreline, + to starboard, y up from the
transom top, so that holes lie at negative y.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType

from rigfit.drawing.plates import Plate, backing_plates
from rigfit.drawing.scene import Point
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.case import Case
from rigfit.rigging.hole_fit import HoleFit, Relation
from rigfit.rigging.hole_pattern import Feature
from rigfit.rigging.readings import Reading
from rigfit.rigging.template import drilling_template, old_feature
from rigfit.rigging.transom_map import NoGo, Opening

_USUAL_HEIGHT_MM = 520.0
_USUAL_HALF_MM = 700.0
_USUAL_DEADRISE_DEG = 12.0
_USUAL_FLARE = 1.05
_BESIDE_HOLES_MM = 150.0


@dataclass(frozen=True, slots=True)
class Side:
    """One straight piece of the outline on the starboard side; ``known`` when both ends are."""

    start: Point
    end: Point
    known: bool


@dataclass(frozen=True, slots=True)
class FacePlan:
    """What is on the face of a transom.

    :param sides: starboard half of the outline, from the middle of the top round to the heel.
    :param guessed: what was not measured and is drawn at a usual size, in words.
    :param targets: points to tape from, by name: the chine corners, or two fixed points.
    :param new: holes to drill.
    :param why_none: why there are no new holes, as a sentence; "" where there are.
    :param old: holes that are there.
    :param openings: other openings; those without a place or size are left out.
    :param no_go: places inside where no bolt can sit, those that are complete.
    :param plates: backing plates inside.
    :param washer_mm: outer diameter of the washers inside, or None.
    :param centres: engines' centrelines that are not the boat's own, by name.
    :param relations: what each hole is to the old ones, in words, by the hole's name.
    :param notes: conditions, as sentences.
    """

    sides: tuple[Side, ...]
    guessed: tuple[str, ...] = ()
    targets: tuple[tuple[str, Point], ...] = ()
    new: tuple[Feature, ...] = ()
    why_none: str = ""
    old: tuple[Feature, ...] = ()
    openings: tuple[Opening, ...] = ()
    no_go: tuple[NoGo, ...] = ()
    plates: tuple[Plate, ...] = ()
    washer_mm: float | None = None
    centres: tuple[tuple[str, float], ...] = ()
    relations: Mapping[str, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "relations", MappingProxyType(dict(self.relations)))


def face_plan(case: Case, relations: Mapping[str, str] | None = None) -> FacePlan:
    """Return what the drawing of the face shows for one engine on its boat.

    :param relations: what each hole, new or old, is to the others: "serves", "breaks into" ...,
        by the hole's name.
    """
    notes: list[str] = []
    new, why_none = _new_holes(case)
    old = tuple(
        old_feature(number, hole)
        for number, hole in enumerate(case.job.holes, start=1)
        if hole.across and hole.below_top and hole.diameter
    )
    sides, guessed = _outline(case, [*new, *old])
    targets = _targets(case)
    if not targets:
        notes.append(
            "Measure the width between the chine corners and how far they lie below the top: then "
            "a tape can prove every hole from both."
        )
    plates, missing = _plates(case, new)
    notes += [missing] if missing else []
    return FacePlan(
        sides=sides,
        guessed=guessed,
        targets=targets,
        new=new,
        why_none=why_none,
        old=old,
        openings=tuple(
            item for item in case.job.openings if item.across and item.below_top and item.width
        ),
        no_go=tuple(
            place
            for place in case.job.no_go
            if place.across_from and place.across_to and place.below_from and place.below_to
        ),
        plates=plates,
        washer_mm=_washer(case),
        centres=_centres(case, new),
        relations=relations or {},
        notes=tuple(notes),
    )


_SEVERITY = (Relation.BREAKS, Relation.NEAR, Relation.SLOT, Relation.SERVES, Relation.CLEAR)


def relations_of(holes: HoleFit | None) -> dict[str, str]:
    """Return what each hole, new or old, is to the others, in words by the hole's name.

    An old hole has the worst of what the new ones are to it; one that no bolt comes near has none.
    """
    found: dict[str, str] = {}
    if holes is None:
        return found
    to_old: dict[str, Relation] = {}
    for fitted in holes.holes:
        near = [item for item in fitted.against("hole") if item.relation is not Relation.CLEAR]
        best = fitted.reuse or next(iter(near), None)
        found[fitted.hole.feature.name] = (best.relation if best else Relation.CLEAR).value
        for item in near:
            known = to_old.get(item.neighbour, item.relation)
            to_old[item.neighbour] = min(known, item.relation, key=_SEVERITY.index)
    return found | {name: relation.value for name, relation in to_old.items()}


def _new_holes(case: Case) -> tuple[tuple[Feature, ...], str]:
    """Return the holes to drill, or none and the reason."""
    try:
        return drilling_template(case).features, ""
    except NotMeasuredError as reason:
        sentence = reason.sentence()
        return (), f"No new holes are drawn: {sentence}"


def _outline(case: Case, holes: Sequence[Feature]) -> tuple[tuple[Side, ...], tuple[str, ...]]:
    """Return the starboard half of the outline, and what of it is a usual size."""
    job, face = case.job, case.job.face
    guessed: list[str] = []
    height = case.heights.along_face
    heel = (0.0, -(height.value if height else _USUAL_HEIGHT_MM))
    chine = _point(face.chine_width, face.chine_below_top)
    half, has_width = _half_width(case, chine, holes)
    corner = chine or _usual_corner(half, heel[1], job.boat.deadrise)
    for known, name in (
        (has_width, "width at the top"),
        (chine is not None, "chine corners"),
        (height is not None, "transom height"),
    ):
        if not known:
            guessed.append(name)
    chain: list[tuple[Point, bool]] = [((0.0, 0.0), True)]
    notch = _point(face.notch_width, face.notch_depth)
    if notch is not None:
        wide, up = notch[0], -notch[1]
        half = max(half, wide)
        chain += [((wide, 0.0), True), ((wide, up), True), ((half, up), has_width)]
    chain.append(((half, 0.0), has_width))
    chain += [(corner, chine is not None), (heel, height is not None)]
    sides = [
        Side(start, end, known and also)
        for (start, known), (end, also) in pairwise(chain)
        if start != end
    ]
    return tuple(sides), tuple(guessed)


def _point(width: Reading | None, below: Reading | None) -> Point | None:
    """Return half a width and a depth as a point, or None while one is missing."""
    if width is None or below is None:
        return None
    return width.value / 2.0, -below.value


def _half_width(case: Case, chine: Point | None, holes: Sequence[Feature]) -> tuple[float, bool]:
    width = case.job.transom.width_at_top
    if width is not None:
        return width.value / 2.0, True
    if chine is not None:
        return chine[0], False
    reach = max((abs(hole.across_mm) for hole in holes), default=0.0)
    return max(_USUAL_HALF_MM, reach + _BESIDE_HOLES_MM), False


def _usual_corner(half: float, heel_y: float, deadrise: Reading | None) -> Point:
    wide = max(_USUAL_FLARE * half, _USUAL_HALF_MM)
    slope = deadrise.value if deadrise else _USUAL_DEADRISE_DEG
    rise = wide * math.tan(math.radians(slope))
    return wide, min(heel_y + rise, 0.4 * heel_y)


def _targets(case: Case) -> tuple[tuple[str, Point], ...]:
    face = case.job.face
    chine = _point(face.chine_width, face.chine_below_top)
    if chine is not None:
        wide, y = chine
        return (("port chine", (-wide, y)), ("starboard chine", (wide, y)))
    found = []
    for name, across, below in (
        ("point A", face.point_a_across, face.point_a_below),
        ("point B", face.point_b_across, face.point_b_below),
    ):
        if across is not None and below is not None:
            found.append((name, (across.value, -below.value)))
    return tuple(found)


def _plates(case: Case, new: Sequence[Feature]) -> tuple[tuple[Plate, ...], str]:
    """Return the backing plates of all engines, or none and what is in the way."""
    bolting = case.job.bolting
    if "plate" not in bolting.backing or not new:
        return (), ""
    try:
        return backing_plates(new, bolting), ""
    except (NotMeasuredError, OutputError) as reason:
        return (), f"No backing plate is drawn: {reason.sentence()}"


def _washer(case: Case) -> float | None:
    bolting = case.job.bolting
    if "washer" not in bolting.backing or not bolting.washer:
        return None
    washer = case.catalogue.washers.get(bolting.washer)
    return washer.outer_mm if washer else None


def _centres(case: Case, new: Sequence[Feature]) -> tuple[tuple[str, float], ...]:
    """Return engines that do not sit on the boat's centreline, with their own."""
    job = case.job
    found: dict[str, float] = {}
    for engine in dict.fromkeys(hole.engine for hole in new):
        own = [hole.across_mm for hole in new if hole.engine == engine]
        found[engine or "engine"] = (min(own) + max(own)) / 2.0
    kicker = job.neighbour.kicker_across
    if job.neighbour.arrangement == "kicker" and kicker is not None:
        found.setdefault("kicker", kicker.value)
    return tuple((name, across) for name, across in found.items() if abs(across) > 0.05)


def marks_of(plan: FacePlan) -> tuple[tuple[str, Feature], ...]:
    """Return every hole and opening with its short mark: N new, X old, P opening."""
    return (
        *((f"N{number}", hole) for number, hole in enumerate(plan.new, start=1)),
        *((f"X{number}", hole) for number, hole in enumerate(plan.old, start=1)),
        *(
            (f"P{number}", opening_feature(opening, number))
            for number, opening in enumerate(plan.openings, start=1)
        ),
    )


def opening_feature(opening: Opening, number: int) -> Feature:
    """Return an opening as a feature; ``slot_mm`` is its height where it is not round."""
    assert opening.across and opening.below_top and opening.width  # noqa: S101 - complete ones only
    return Feature(
        opening.name or f"{opening.kind} {number}",
        opening.across.value,
        opening.below_top.value,
        opening.width.value,
        opening.height.value if opening.height else 0.0,
    )
