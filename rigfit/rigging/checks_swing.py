"""Checks 4xx: does the engine tilt, trim and turn without touching anything?

Nothing entered about well, obstacles, steering or trailer gives no finding; ``not_looked_at`` names
what was left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from rigfit.rigging.case import Case
from rigfit.rigging.checks_trim import (
    CLEAR,
    LEAST_MM,
    check_steering_gear,
    check_trailer,
    check_trim_reserve,
)
from rigfit.rigging.envelope import (
    DECIDING,
    Basis,
    engine_envelope,
    engine_travel,
    mounted_option,
    off_centre_mm,
    tilt_turn,
)
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Phrase,
    Verdict,
    at_best,
    deg,
    listed,
    mm,
    phrase,
    worst,
)
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.steer import PIVOT_MM, PlanGap, TwinsGap, pivot_share, plan_steer, twins_of
from rigfit.rigging.surroundings import Solid, surroundings
from rigfit.rigging.swing import WAYS, TiltGap, TiltSwing, tilt_swing, tilt_tolerance
from rigfit.rigging.tilt_steer import WorstPlace, tilt_and_steer
from rigfit.rigging.tolerance import expanded
from rigfit.rigging.turning import Turn, is_inside

_TAPE = {
    "engine.cowl_front_ahead_of_seat": "the front of the cowl ahead of the seat",
    "engine.cowl_top_above_seat": "the top of the cowl above the seat",
    "engine.cowl_breadth": "the breadth of the cowl",
    "engine.full_tilt": "the plate's angle at full tilt",
    "engine.trim_in": "the plate's angle fully in",
    "engine.lock_angle": "the steering lock",
    "engine.tilt_axis_out": "the tilt axis out from the face",
    "engine.tilt_axis_up": "the tilt axis above the seat",
    "well.front_top": "the top of the well's front wall above the transom top",
    "transom.thickness": "the thickness of the transom",
}


_AXIS = ("tilt_axis_out", "tilt_axis_up")

_BY_HAND = "Then tilt it by hand from end to end and look, before anything is cut."
_TURN_BY_HAND = "Then turn it by hand from lock to lock and look, before anything is cut."


def check_swing(case: Case) -> tuple[Finding, ...]:
    """401 to 407: everything about the swing of one engine, as far as the job speaks of it."""
    return (
        *_around(case),
        *check_trim_reserve(case),
        *check_steering_gear(case),
        *check_trailer(case),
        *check_neighbours(case),
    )


def not_looked_at(case: Case) -> tuple[str, ...]:
    """Return what nobody entered anything about, so that nothing was checked, as sentences."""
    job = case.job
    left = []
    if surroundings(case).is_empty:
        left.append("Swing: no motor well and no obstacle is entered.")
    if job.steering.kind == "unknown" and job.steering.tube_end is None:
        left.append("Steering gear in the well: nothing is entered about it.")
    if job.trailer.heel_above_ground is None:
        left.append("Trailer: the heel above the ground is not entered.")
    if case.candidate.trim_in is None and surroundings(case).is_empty:
        left.append("Trim reserve: the engine's angle fully in is not entered.")
    return tuple(left)


def _settle(missing: Iterable[str], also: str = "") -> Phrase | None:
    """Return the sentence that names the readings which settle it."""
    said = [_TAPE[name] for name in missing if name in _TAPE]
    if not said:
        alone = also.removeprefix("Then ")
        return Phrase(alone[:1].upper() + alone[1:]) if alone else None
    return Phrase(f"Measure {listed(said)}. {also}".strip())


def _judged(
    clear_mm: float, tolerance_mm: float, *, firm: bool, assumed: bool, sized: bool = True
) -> Verdict:
    """Return the verdict; what is not measured is at best tight, and where it seems to touch,
    unknown. Without the engine's sizes it is unknown.
    """
    if not sized:
        return Verdict.UNKNOWN
    verdict = CLEAR.judge(clear_mm, tolerance_mm)
    if firm and not assumed:
        return verdict
    if verdict is Verdict.FITS or (verdict is Verdict.TIGHT and clear_mm > 0.0):
        return Verdict.TIGHT if not firm or verdict is Verdict.TIGHT else Verdict.FITS
    return Verdict.UNKNOWN


def tilt_verdict(case: Case, gap: TiltGap) -> Verdict:
    """Return the verdict on one clearance of the tilting engine, as finding 401 gives it."""
    firm = not _missing(case, ("full_tilt",))
    verdict = _judged(
        gap.clear_mm, gap.tolerance_mm, firm=firm, assumed=bool(gap.solid.assumed),
        sized=bool(case.candidate.outline) or _is_sized(case),
    )  # fmt: skip
    return at_best(verdict, Verdict.TIGHT) if _axis_missing(case) else verdict


def plan_verdict(case: Case, gap: PlanGap) -> Verdict:
    """Return the verdict on one clearance of the turning hood, as finding 403 gives it."""
    clear = gap.touch.gap_mm
    firm = not _missing(case, ("lock_angle",))
    verdict = _judged(
        clear, gap.tolerance_mm, firm=firm, assumed=bool(gap.solid.assumed), sized=_is_sized(case)
    )
    if clear <= 0.0 and verdict is Verdict.TIGHT and _still_touches(case, gap):
        return Verdict.STOPS
    return verdict


def place_verdict(
    case: Case, option: HeightOption, place: WorstPlace
) -> tuple[Verdict, float]:  # fmt: skip
    """Return the verdict on a clearance in space as finding 404 gives it, and its tolerance, mm."""
    firm = not _missing(case, ("full_tilt", "lock_angle"))
    spread = _place_tolerance(case, option, tilt_turn(case, option), place)
    assumed = bool(place.solid.assumed)
    verdict = _judged(
        place.clear_mm, spread, firm=firm, assumed=assumed, sized=_is_sized(case)
    )  # fmt: skip
    return at_best(verdict, Verdict.TIGHT) if _axis_missing(case) else verdict, spread


def _is_sized(case: Case) -> bool:
    """True where the hood is measured or drawn, not only typical of its class."""
    return engine_envelope(case).basis is not Basis.CLASS


def _not_measured(case: Case, *, with_axis: bool = True) -> str:
    """Return what of the engine is only typical of its class, as a sentence behind another."""
    if not _is_sized(case):
        return " The engine's sizes are typical of its class, not measured."
    if with_axis and _axis_missing(case):
        return " Its tilt axis is typical of its class, not measured."
    return ""


def worst_place(case: Case, option: HeightOption) -> WorstPlace | None:
    """Return the worst place over the whole tilt and steering, as finding 404 takes it."""
    solids = [solid for solid in surroundings(case).solids if not solid.is_neighbour]
    turn, lock = tilt_turn(case, option), engine_travel(case).lock_deg
    return tilt_and_steer(engine_envelope(case), turn, lock, off_centre_mm(case), solids)


# ------------------------------------------------------------------ 401, 403, 404


def _around(case: Case) -> tuple[Finding, ...]:
    found = surroundings(case)
    if found.is_empty:
        return ()
    if case.job.transom.rake is None:
        return (_no_rake(case),)
    if found.problems:
        return (_problem(case, found.problems),)
    option = mounted_option(case)
    swing, off = tilt_swing(case, option), off_centre_mm(case)
    inside = [solid for solid in found.solids if _holds_axis(solid, swing, off)]
    if inside:
        text = (
            f"{inside[0].name}: the tilt axis lies inside it, so one of its measurements, or of "
            "the setback, is wrong; measure it again from the transom's upper outer edge."
        )
        return (_problem(case, (text,)),)
    return (*_tilt(case, swing), *_steer(case, option), *_both(case, option))


def _holds_axis(solid: Solid, swing: TiltSwing, off_mm: float) -> bool:
    return not solid.plan and solid.port_mm < off_mm < solid.starboard_mm and is_inside(
        swing.turn.pivot, solid.ring
    )  # fmt: skip


def _no_rake(case: Case) -> Finding:
    return Finding(
        code=401, subject=case.candidate.id, title="tilt clearance", verdict=Verdict.UNKNOWN,
        sentence=phrase("Without the rake nobody knows where the engine's tilt axis lies."),
        source="geometry", needs=("transom.rake",),
        settle=phrase("Measure the rake of the transom."),
    )  # fmt: skip


def _problem(case: Case, problems: tuple[str, ...]) -> Finding:
    more = f" And {len(problems) - 1} more." if len(problems) > 1 else ""
    return Finding(
        code=401, subject=case.candidate.id, title="tilt clearance", verdict=Verdict.UNKNOWN,
        sentence=phrase("What is entered cannot be used: {problem}", problem=problems[0] + more),
        source="geometry", settle=phrase("Put the entry right; nothing is checked until then."),
    )  # fmt: skip


def _needs(solid: Solid, names: tuple[str, ...]) -> tuple[str, ...]:
    own = tuple(f"engine.{name}" for name in (*DECIDING, *names))
    return tuple(dict.fromkeys((*own, *solid.needs, "transom.rake")))


def _missing(case: Case, names: tuple[str, ...]) -> tuple[str, ...]:
    wanted = (*engine_envelope(case).missing, *engine_travel(case).missing)
    keep = tuple(f"engine.{name}" for name in (*DECIDING, *names))
    return tuple(name for name in wanted if name in keep)


def _tilt(case: Case, swing: TiltSwing) -> tuple[Finding, ...]:
    """401: does the engine tilt from fully in to fully up without touching?"""
    gap = swing.worst
    if gap is None:
        return ()
    missing = _missing(case, ("full_tilt",))
    verdict = tilt_verdict(case, gap)
    amounts: dict[str, Amount | str] = {
        "solid": gap.solid.name, "at": deg(gap.touch.angle_deg, signed=True),
        "gap": mm(abs(gap.clear_mm)), "move": WAYS.get(gap.move, ""),
    }  # fmt: skip
    if gap.touches:
        text = "Tilting, the engine touches {solid} at {at}; "
        if gap.touch.at_rest:
            text = "The engine stands in {solid} before it is tilted at all; "
        cure = (
            "moving that by {gap} clears nothing"
            if gap.is_hopeless
            else ("it clears it once that is {gap} {move}")
        )
        text += f"{cure}."
    else:
        text = "Tilting, the engine passes {solid} by {gap}, nearest at {at}."
    text += f" Plate angles; 0 is level.{_not_measured(case)}"
    kick = swing.kick_up
    working = [
        phrase(
            "kicking up it reaches {ahead} ahead of the transom, {above} above its top, at {at}",
            ahead=mm(kick.ahead_mm), above=mm(kick.above_mm, signed=True), at=deg(kick.tilt_deg),
        ),
        phrase("the engine's size: {basis}", basis=swing.envelope.basis.value),
    ]  # fmt: skip
    working += [
        phrase("{solid}: {gap} at {at}", solid=item.solid.name,
               gap=mm(item.clear_mm, signed=item.clear_mm < 0.0), at=deg(item.touch.angle_deg))
        for item in swing.gaps[:6]
    ]  # fmt: skip
    if gap.solid.assumed:
        working.append(phrase(gap.solid.assumed))
    return (
        Finding(
            code=401, subject=case.candidate.id, title="tilt clearance", verdict=verdict,
            sentence=Phrase(text, amounts), source="swing-clearance",
            value=gap.clear_mm, low=LEAST_MM, margin=CLEAR.margin(gap.clear_mm),
            tolerance=gap.tolerance_mm, needs=_needs(gap.solid, ("full_tilt", *_AXIS)),
            settle=_closing(case, verdict, missing, gap.solid), working=tuple(working),
        ),
    )  # fmt: skip


def _closing(
    case: Case, verdict: Verdict, missing: tuple[str, ...], solid: Solid, *, with_axis: bool = True
) -> Phrase | None:
    if verdict is Verdict.FITS:
        return None
    also = tuple(
        name
        for name in solid.needs
        if solid.assumed and name in _TAPE and not _holds_reading(case, name)
    )
    # The tilt axis is asked for last, when the rest is measured; turning alone does not need it.
    axis = () if missing or also or not with_axis else _axis_missing(case)
    return _settle((*missing, *also, *axis), _BY_HAND if with_axis else _TURN_BY_HAND)


def _holds_reading(case: Case, name: str) -> bool:
    group, _, key = name.partition(".")
    return getattr(getattr(case.job, group), key) is not None


def _axis_missing(case: Case) -> tuple[str, ...]:
    """Return the readings of the tilt axis that nobody took: most of a clearance's tolerance."""
    return tuple(f"engine.{name}" for name in _AXIS if getattr(case.candidate, name) is None)


def _steer(case: Case, option: HeightOption) -> tuple[Finding, ...]:
    """403: does the hood turn from lock to lock, plate level, without touching?"""
    worst_gap = plan_steer(case, option).worst
    if worst_gap is None:
        return ()
    touch, solid = worst_gap.touch, worst_gap.solid
    missing = _missing(case, ("lock_angle",))
    clear = touch.gap_mm
    verdict = plan_verdict(case, worst_gap)
    if touch.at_rest:
        text = "The hood stands in {solid} wherever it is turned."
    elif clear <= 0.0:
        text = "Turning with the plate level, the hood touches {solid} at {at}."
    else:
        text = "Turning with the plate level, the hood passes {solid} by {gap}, nearest at {at}."
    text += f" + is propeller to starboard.{_not_measured(case, with_axis=False)}"
    return (
        Finding(
            code=403, subject=case.candidate.id, title="steering clearance", verdict=verdict,
            sentence=phrase(text, solid=solid.name, gap=mm(clear),
                            at=deg(touch.angle_deg, signed=True)),
            source="swing-clearance", value=clear, low=LEAST_MM, margin=CLEAR.margin(clear),
            tolerance=worst_gap.tolerance_mm, needs=_needs(solid, ("lock_angle",)),
            settle=_closing(case, verdict, missing, solid, with_axis=False),
            working=(_steering_axis(),),
        ),
    )  # fmt: skip


def _steering_axis() -> Phrase:
    return phrase(
        "the steering axis is taken where engines of the class have it, {spread} ahead or aft "
        "within the tolerance",
        spread=mm(PIVOT_MM),
    )


def _still_touches(case: Case, gap: PlanGap) -> bool:
    """True when even a hood smaller by the tolerance all round touches."""
    envelope = engine_envelope(case)
    smaller = replace(
        envelope,
        cowl_length_mm=max(1.0, envelope.cowl_length_mm - 2.0 * gap.tolerance_mm),
        cowl_half_breadth_mm=max(1.0, envelope.cowl_half_breadth_mm - gap.tolerance_mm),
        corner_radius_mm=0.0,
    )
    left = plan_steer(case, None, smaller, (gap.solid,)).worst
    return left is not None and left.touch.gap_mm <= 0.0


def _both(case: Case, option: HeightOption) -> tuple[Finding, ...]:
    """404: does it clear everything at every tilt and every angle of steering?"""
    place = worst_place(case, option)
    if place is None:
        return ()
    missing = _missing(case, ("full_tilt", "lock_angle"))
    verdict, spread = place_verdict(case, option, place)
    amounts: dict[str, Amount | str] = {
        "solid": place.solid.name, "gap": mm(abs(place.clear_mm)), "part": place.part,
        "tilt": deg(place.tilt_deg, signed=True), "steer": deg(place.steer_deg, signed=True),
    }  # fmt: skip
    if place.clear_mm <= 0.0:
        text = "Tilted to {tilt} and turned to {steer}, the {part} goes about {gap} into {solid}."
    else:
        text = "Nearest of all is the {part} to {solid}: {gap}, tilted to {tilt} and turned to "
        text += "{steer}."
    text += _not_measured(case)
    return (
        Finding(
            code=404, subject=case.candidate.id, title="tilt and steering together",
            verdict=verdict, sentence=Phrase(text, amounts), source="swing-sheet",
            value=place.clear_mm, low=LEAST_MM, margin=CLEAR.margin(place.clear_mm),
            tolerance=spread, needs=_needs(place.solid, ("full_tilt", "lock_angle", *_AXIS)),
            settle=_closing(case, verdict, missing, place.solid),
            working=(
                phrase("parts are taken as bodies with flat sides round them, on the safe side"),
                _steering_axis(),
                phrase("tilt fully and turn lock to lock; again after every change of height"),
            ),
        ),
    )  # fmt: skip


def _place_tolerance(case: Case, option: HeightOption, turn: Turn, place: WorstPlace) -> float:
    """Return the expanded uncertainty of a clearance in space."""
    envelope = engine_envelope(case)
    if place.clear_mm > 1e-6:
        n = tuple(
            (one - two) / place.clear_mm
            for one, two in zip(place.on_engine, place.on_solid, strict=True)
        )
    else:
        n = (1.0, 1.0, 0.0)
    off, spreads = case.job.mounting.off_centre, place.solid.tolerances_mm
    on_engine = (place.on_engine[0], place.on_engine[2])
    upright = tilt_tolerance(
        case, option, envelope, turn, (n[0], n[2]), place.tilt_deg, on_engine,
        (spreads[0], spreads[2]),
    )  # fmt: skip
    across = expanded(
        n[1] * envelope.side_tolerance_mm, n[1] * spreads[1], n[1] * (off.tolerance if off else 0.0)
    )
    lock = engine_travel(case).lock_tolerance_deg if place.part != "swivel" else 0.0
    reach = math.hypot(envelope.cowl_length_mm, envelope.cowl_half_breadth_mm)
    turned = expanded(reach * math.radians(lock)) * (abs(place.steer_deg) > 1.0)
    pivot = expanded(pivot_share((n[0], n[1], n[2]), place.steer_deg, place.tilt_deg))
    if place.part == "swivel":
        pivot = 0.0
    return math.hypot(upright, across, abs(n[1]) * turned, pivot) + place.resolution_mm


# ------------------------------------------------------------------ 407


def check_neighbours(case: Case) -> tuple[Finding, ...]:
    """407: do twins clear each other, and does the engine clear a kicker?"""
    neighbour = case.job.neighbour
    others = [solid for solid in surroundings(case).solids if solid.is_neighbour]
    found = []
    twins = twins_of(case)
    if twins is not None and neighbour.twin_spacing is not None:
        found.append(_twins(case, twins, neighbour.twin_spacing.tolerance))
    if others and case.job.transom.rake is not None:
        found.append(_kicker(case, others))
    if not found and neighbour.arrangement != "single":
        found.append(_neighbour_unknown(case))
    return tuple(sorted(found, key=lambda item: -item.verdict.rank)[:1])


def _twins(case: Case, gap: TwinsGap, tolerance_mm: float) -> Finding:
    envelope, toe = engine_envelope(case), case.job.neighbour.twin_toe
    missing = _missing(case, ("lock_angle",))
    spread = expanded(tolerance_mm, 2.0 * envelope.side_tolerance_mm)
    verdict = _judged(gap.tied_mm, spread, firm=not missing, assumed=False)
    if gap.free_mm <= spread:
        verdict = worst((verdict, Verdict.TIGHT))
    text = "Tied together, the hoods keep {tied} between them at full lock; "
    if gap.tied_mm <= 0.0:
        text = "Tied together, the hoods overlap by {tied} at full lock; "
    text += "with the tie bar off and turned towards each other they " + (
        "keep {free}." if gap.free_mm > 0.0 else "touch."
    )
    bar = "covers" if gap.tie_bar_reaches else "does not cover"
    return Finding(
        code=407, subject=case.candidate.id, title="room beside another engine", verdict=verdict,
        sentence=phrase(text, tied=mm(abs(gap.tied_mm)), free=mm(gap.free_mm)),
        source="twin-spacing",
        value=gap.tied_mm, low=LEAST_MM, margin=CLEAR.margin(gap.tied_mm), tolerance=spread,
        needs=("neighbour.twin_spacing", "engine.cowl_breadth", "engine.lock_angle"),
        settle=_settle(missing),
        working=(
            phrase(f"a usual adjustable tie bar, 470 to 749 mm, {bar} {{spacing}} of spacing",
                   spacing=mm(gap.spacing_mm)),
            phrase("each engine is toed by {toe} when steered straight, arm of the class",
                   toe=deg(round(gap.toe_deg, 2))) if toe else
            phrase("without toe; enter twin_toe where the propellers stand further apart"),
        ),
    )  # fmt: skip


def _kicker(case: Case, others: list[Solid]) -> Finding:
    envelope, travel, option = engine_envelope(case), engine_travel(case), mounted_option(case)
    turn = tilt_turn(case, option)
    place = tilt_and_steer(envelope, turn, travel.lock_deg, off_centre_mm(case), others)
    missing = _missing(case, ("full_tilt", "lock_angle"))
    if place is None:
        return _neighbour_unknown(case)
    spread = _place_tolerance(case, option, turn, place)
    verdict = _judged(
        place.clear_mm, spread, firm=not missing, assumed=False, sized=_is_sized(case)
    )  # fmt: skip
    if _axis_missing(case):
        verdict = at_best(verdict, Verdict.TIGHT)
    text = "The {part} keeps {gap} from {solid}" if place.clear_mm > 0.0 else (
        "The {part} goes about {gap} into {solid}"
    )  # fmt: skip
    return Finding(
        code=407, subject=case.candidate.id, title="room beside another engine", verdict=verdict,
        sentence=phrase(
            f"{text}, tilted to {{tilt}} and turned to {{steer}}; the other engine is taken to "
            "stand still.",
            part=place.part, gap=mm(abs(place.clear_mm)), solid=place.solid.name,
            tilt=deg(place.tilt_deg, signed=True), steer=deg(place.steer_deg, signed=True),
        ),
        source="swing-sheet", value=place.clear_mm, low=LEAST_MM,
        margin=CLEAR.margin(place.clear_mm), tolerance=spread,
        needs=_needs(place.solid, ("full_tilt", "lock_angle", *_AXIS)),
        settle=_closing(case, verdict, missing, place.solid),
    )  # fmt: skip


def _neighbour_unknown(case: Case) -> Finding:
    return Finding(
        code=407, subject=case.candidate.id, title="room beside another engine",
        verdict=Verdict.UNKNOWN, source="twin-spacing",
        sentence=phrase("Whether the engines clear each other is not known."),
        needs=("neighbour.arrangement",),
        settle=phrase(
            "Measure twins centre to centre; enter a kicker as an obstacle of kind kicker, with "
            "the room it takes."
        ),
    )  # fmt: skip
