"""Checks 511 to 515: will she float right with the new engine?

Nothing entered about hull or flotation gives no finding at all. What nobody measured never reads
``fits``; see ``Flotation.is_firm``.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from rigfit.rigging.afloat import Flotation, MarkHeight, Trouble, flotation_of
from rigfit.rigging.bolting import label_of
from rigfit.rigging.case import Case
from rigfit.rigging.findings import (
    Amount,
    Finding,
    Limits,
    Phrase,
    Verdict,
    at_best,
    deg,
    kg,
    mm,
    phrase,
)
from rigfit.rigging.margins import (
    FloatTest,
    PodBalance,
    WetAt,
    float_test,
    kilograms_until_wet,
    person_aft,
    pod_balance,
)
from rigfit.rigging.suggestions import (
    FORWARD_MM,
    gain_at_transom_mm,
    mass_for_gain_kg,
    suggestions,
)
from rigfit.units import Kind

STERN_MM = Limits(low=250.0, outer_low=100.0)
"""Lowest place in the transom above the water: 250 mm a code's surveyor, 100 mm own estimate."""

MARK_LIMITS: dict[str, tuple[Limits, str]] = {
    "scupper": (Limits(low=63.5, outer_low=25.4), "scupper-height"),
    "sole": (Limits(low=76.2, outer_low=25.4), "sole-height"),
    "bilge outlet": (Limits(low=76.2, outer_low=25.4), "bilge-outlet"),
    "rigging opening": (Limits(low=260.0, outer_low=100.0), "rigging-opening"),
    "other": (Limits(low=63.5, outer_low=25.4), "scupper-height"),
}
"""Height above the water that is enough, and what is still tolerated, by kind of mark."""

_KIND_WORDS = {
    "sole": (
        phrase("A sole above the water is not enough: a drain hose that fails floods the bilge."),
    ),
    "bilge outlet": (
        phrase("An outlet wants a loop in its hose, well above the water, or a seacock."),
    ),
    "rigging opening": (
        phrase("Keep its boot tight: a boat was lost through one {height} up.", height=mm(260.0)),
    ),
}
STERN_KINDS = ("transom notch", "well sill")
TRIM_DEG = Limits(low=-0.5, high=0.5, outer_low=-1.5, outer_high=1.5)
LIST_DEG = Limits(low=-1.0, high=1.0, outer_low=-3.0, outer_high=3.0)
"""Change of trim and list that pass unnoticed, and what is still tolerated (own estimates)."""

_TEST_TOLERANCE_MM = 20.0
_ACROSS_MM = 10.0
_MISFIT_MM = 25.0
_MASS_SHARE = 0.25
_LEAST_BARE_KG = 30.0


def limits_of(mark: MarkHeight) -> Limits:
    """Return how high above the water a mark should be, mm."""
    return STERN_MM if mark.kind in STERN_KINDS else MARK_LIMITS[mark.kind][0]


def mark_verdict(flotation: Flotation, mark: MarkHeight) -> Verdict:
    """Return the verdict on a mark's height, as findings 511 and 512 give it."""
    return _held(limits_of(mark).judge(mark.after.value, mark.after.tolerance), flotation)


def check_flotation(case: Case) -> tuple[Finding, ...]:
    """511 to 515: freeboard aft, scuppers and openings, trim, list, and what to test afloat."""
    found = flotation_of(case)
    if found is None:
        return ()
    if isinstance(found, Trouble):
        return (_trouble(case, found),)
    wet = kilograms_until_wet(found)
    return (
        *_stern(case, found, wet),
        *_openings(case, found, wet),
        *_trim(case, found),
        *_list(case, found),
        _test(case, found),
    )


def _trouble(case: Case, trouble: Trouble) -> Finding:
    return Finding(
        code=511,
        subject=case.candidate.id,
        title="flotation",
        verdict=Verdict.UNKNOWN,
        sentence=trouble.sentence,
        source="flotation",
        needs=trouble.needs,
        settle=trouble.settle,
    )


def _held(verdict: Verdict, flotation: Flotation) -> Verdict:
    """Return a verdict that fits only where it rests on this boat and on readings that agree."""
    agrees = not (_is_bent(flotation) or _is_too_light(flotation) or _is_other_mass(flotation))
    return verdict if flotation.is_firm and agrees else at_best(verdict, Verdict.TIGHT)


def _is_bent(flotation: Flotation) -> bool:
    return flotation.misfit_mm is not None and abs(flotation.misfit_mm) > _MISFIT_MM


def _is_too_light(flotation: Flotation) -> bool:
    return flotation.bare_kg is not None and flotation.bare_kg < _LEAST_BARE_KG


def _is_other_mass(flotation: Flotation) -> bool:
    bare, said = flotation.bare_kg, flotation.said_bare_kg
    return bare is not None and said is not None and abs(bare - said) > _MASS_SHARE * said


def _needs(flotation: Flotation, *more: str) -> tuple[str, ...]:
    core = ("boat.length", "engine.mass")
    return tuple(dict.fromkeys((*more, *flotation.needs, *core)))


def _stern(case: Case, flotation: Flotation, wet: tuple[WetAt, ...]) -> tuple[Finding, ...]:
    marks = [mark for mark in flotation.marks if mark.kind in STERN_KINDS]
    if not marks:
        return ()
    lowest = min(marks, key=lambda mark: mark.after.value)
    made = _mark_finding(case, flotation, wet, lowest, 511, "freeboard aft", STERN_MM)
    return (made(source="freeboard-aft"),)


def _openings(case: Case, flotation: Flotation, wet: tuple[WetAt, ...]) -> tuple[Finding, ...]:
    marks = [mark for mark in flotation.marks if mark.kind not in STERN_KINDS]
    findings = []
    for mark in sorted(marks, key=lambda item: item.after.value):
        limits, source = MARK_LIMITS[mark.kind]
        made = _mark_finding(case, flotation, wet, mark, 512, f"{mark.name} above water", limits)
        findings.append(made(source=source))
    return tuple(findings)


def _mark_finding(
    case: Case,
    flotation: Flotation,
    wet: tuple[WetAt, ...],
    mark: MarkHeight,
    code: int,
    title: str,
    limits: Limits,
) -> partial[Finding]:
    after = mark.after
    verdict = _held(limits.judge(after.value, after.tolerance), flotation)
    settle = None
    if verdict is not Verdict.FITS:
        settle = _settle(flotation)
    return partial(
        Finding,
        code=code,
        subject=case.candidate.id,
        title=title,
        verdict=verdict,
        sentence=_mark_sentence(mark),
        value=after.value,
        low=limits.low,
        margin=limits.margin(after.value),
        tolerance=after.tolerance,
        needs=_needs(flotation),
        settle=settle,
        working=(*_wet_words(wet, mark), *_aft_words(flotation, mark),
                 *_moves(case, flotation, limits, after.value), *_KIND_WORDS.get(mark.kind, ())),
    )  # fmt: skip


def _mark_sentence(mark: MarkHeight) -> Phrase:
    after = mark.after.value
    now = "" if mark.before is None else "; now it is {before}"
    amounts = {} if mark.before is None else {"before": mm(mark.before)}
    if after <= 0.0:
        return phrase(
            f"The {{name}} will be {{after}} under water{now}.",
            name=mark.name, after=mm(-after), **amounts,
        )  # fmt: skip
    return phrase(
        f"The {{name}} will be {{after}} above the water{now}.",
        name=mark.name, after=mm(after), **amounts,
    )  # fmt: skip


def _settle(flotation: Flotation) -> Phrase:
    if not flotation.is_anchored:
        return phrase(
            "Read the height of the transom top and of the stem head above the water, afloat in "
            "calm water; then only the change is reckoned."
        )
    if flotation.uncounted:
        return phrase("Give mass and place of {what}.", what=", ".join(flotation.uncounted))
    if _is_bent(flotation) or _is_too_light(flotation) or _is_other_mass(flotation):
        return phrase(
            "Read the heights afloat again, look at beam and depths of the hull and at what is "
            "listed aboard, until they agree."
        )
    return phrase("Float her with the test mass on the transom and read it again.")


def _wet_words(wet: Iterable[WetAt], mark: MarkHeight) -> tuple[Phrase, ...]:
    order = list(wet)
    for place, item in enumerate(order):
        if item.mark is mark and item.kg is not None and item.kg > 0.0:
            first = " It is the first to be wet." if place == 0 and len(order) > 1 else ""
            return (
                phrase(f"{{mass}} more at the transom brings it to the water.{first}",
                       mass=kg(item.kg)),
            )  # fmt: skip
    return ()


def _aft_words(flotation: Flotation, mark: MarkHeight) -> tuple[Phrase, ...]:
    heights = person_aft(flotation)
    if heights is None:
        return (phrase("With one person stepping aft she would swamp."),)
    height = heights[flotation.marks.index(mark)]
    return (phrase("With one person stepping aft it is {height}.", height=mm(height, signed=True)),)


def _moves(case: Case, flotation: Flotation, limits: Limits, height: float) -> tuple[Phrase, ...]:
    """Return what could be moved forward, for a mark that is too low."""
    short = -limits.margin(height)
    if short <= 0.0:
        return ()
    lines = []
    for item in suggestions(case, flotation, short)[:2]:
        text = "Moving {name} ({mass}) forward by {by} lifts the transom by {gain}"
        text += "." if item.is_enough else ", which is not enough by itself."
        lines.append(
            phrase(text, name=item.name, mass=kg(item.mass_kg), by=mm(item.by_mm),
                   gain=mm(item.gain_mm))
        )  # fmt: skip
    enough = mass_for_gain_kg(flotation, FORWARD_MM, short)
    if enough is not None:
        lines.append(
            phrase(
                "{mass} moved forward by {by} would make it good.",
                mass=kg(enough), by=mm(FORWARD_MM),
            )
        )  # fmt: skip
    else:
        gain = gain_at_transom_mm(flotation, 20.0, FORWARD_MM)
        lines.append(
            phrase(
                "No move alone makes it good: {mass} forward by {by} lifts the transom by {gain}. "
                "Raise, close or move the mark, or hang less aft.",
                mass=kg(20.0), by=mm(FORWARD_MM), gain=mm(gain),
            )
        )  # fmt: skip
    return tuple(lines)


def _trim(case: Case, flotation: Flotation) -> tuple[Finding, ...]:
    change, stern, bow = flotation.trim_change_deg, flotation.stern_mm, flotation.bow_mm
    if change is None or stern is None or bow is None:
        return ()
    verdict = _held(TRIM_DEG.judge(change.value, change.tolerance), flotation)
    way = "by the stern" if change.value >= 0.0 else "by the bow"
    return (
        Finding(
            code=513,
            subject=case.candidate.id,
            title="trim at rest",
            verdict=verdict,
            sentence=phrase(
                f"She trims {{change}} more {way}: {{stern}} {_depth(stern.value)} at the transom, "
                f"{{bow}} {_depth(bow.value)} at the stem.",
                change=deg(abs(change.value)), stern=mm(abs(stern.value)), bow=mm(abs(bow.value)),
            ),
            source="trim-rest",
            kind=Kind.ANGLE,
            value=change.value,
            low=TRIM_DEG.low,
            high=TRIM_DEG.high,
            margin=TRIM_DEG.margin(change.value),
            tolerance=change.tolerance,
            needs=_needs(flotation),
            settle=None if verdict is Verdict.FITS else _settle(flotation),
            working=_trim_working(flotation),
        ),
    )  # fmt: skip


def _depth(value: float) -> str:
    return "deeper" if value >= 0.0 else "higher"


def _trim_working(flotation: Flotation) -> tuple[Phrase, ...]:
    lines = [
        phrase(
            "She displaces {mass} in water of {density} kg/L; what changes is {change} heavier."
            if flotation.heavier_kg >= 0.0
            else "She displaces {mass} in water of {density} kg/L; what changes is {change} "
            "lighter.",
            mass=kg(flotation.after.load.mass_kg),
            density=f"{flotation.density_kg_l:g}",
            change=kg(abs(flotation.heavier_kg)),
        )
    ]
    pod = pod_balance(flotation)
    if pod is not None:
        lines.append(pod_sentence(pod))
    return tuple(lines)


def pod_sentence(pod: PodBalance) -> Phrase:
    """Return what a closed pod lifts against what hangs on it, and what is left about the transom.

    The moment is said as a mass at one metre, for which everybody has a feeling.
    """
    pulls = pod.moment_kgm < 0.0
    left = (
        "pulls the stern down like {mass} hung {arm} aft of it" if pulls
        else "lifts the stern like {mass} taken away {arm} aft of it"
    )  # fmt: skip
    return phrase(
        "The pod lifts {lift} as she lies, {most} wholly under water, against {carried} that hangs "
        f"on it. About the transom what is left {left}.",
        lift=kg(pod.buoyancy_kg), most=kg(pod.most_kg), carried=kg(pod.carried_kg),
        mass=kg(abs(pod.moment_kgm)), arm=mm(1000.0),
    )  # fmt: skip


def _list(case: Case, flotation: Flotation) -> tuple[Finding, ...]:
    """514, where something that changes sits off the centreline, or somebody said where."""
    items = (*flotation.added, *flotation.removed)
    said = case.job.mounting.off_centre is not None
    if not said and all(item.across_mm == 0.0 for item in items):
        return ()
    found = flotation.list_deg
    verdict = _held(LIST_DEG.judge(found.value, found.tolerance), flotation)
    if not said:
        verdict = at_best(verdict, Verdict.TIGHT)
    side = "to starboard" if found.value >= 0.0 else "to port"
    level = abs(found.value) < 0.05
    return (
        Finding(
            code=514,
            subject=case.candidate.id,
            title="list at rest",
            verdict=verdict,
            sentence=phrase("She stays upright.")
            if level
            else phrase(f"She lists {{angle}} {side}.", angle=deg(abs(found.value))),
            source="list-rest",
            kind=Kind.ANGLE,
            value=found.value,
            low=LIST_DEG.low,
            high=LIST_DEG.high,
            margin=LIST_DEG.margin(found.value),
            tolerance=found.tolerance,
            needs=_needs(flotation, "mounting.off_centre"),
            settle=None if verdict is Verdict.FITS else _settle(flotation),
        ),
    )


def _test(case: Case, flotation: Flotation) -> Finding:
    """515: what to float her with before anything is cut or bought."""
    test = float_test(flotation)
    worst_mm = max((mark.after.tolerance for mark in flotation.marks), default=0.0)
    firm = flotation.is_firm and worst_mm <= _TEST_TOLERANCE_MM and not doubts(case, flotation)
    return Finding(
        code=515,
        subject=case.candidate.id,
        title="float test",
        verdict=Verdict.FITS if firm else Verdict.TIGHT,
        sentence=test_sentence(flotation, test),
        source="float-test",
        kind=Kind.LENGTH,
        value=worst_mm,
        high=_TEST_TOLERANCE_MM,
        margin=_TEST_TOLERANCE_MM - worst_mm,
        needs=_needs(flotation),
        settle=None if firm else _settle(flotation),
        working=_test_working(case, flotation, test),
    )


def test_sentence(flotation: Flotation, test: FloatTest) -> Phrase:
    """Return what to do at the float test, as one finding and every sheet say it."""
    if flotation.before is None:
        return phrase(
            "A float test starts from the heights as they are now; read them above still water "
            "with the old engine on, and enter them."
        )
    if test.test_kg <= 0.0:
        return phrase(
            "The change does not sink her transom; read all heights again when it is done."
        )
    side = ""
    if abs(test.across_mm) >= _ACROSS_MM:
        side = f", {{across}} to {'starboard' if test.across_mm > 0.0 else 'port'}"
    wet = [name for name, _, height, spread in test.rows if height - spread <= 0.0]
    stop = " Stop before it is all in: by the reckoning it may wet {wet}." if wet else ""
    like = (
        "it weighs and trims like the whole change" if test.is_whole
        else "it sinks the transom as the change will"
    )  # fmt: skip
    return phrase(
        f"Float test, old engine on: put {{mass}} aboard {{ahead}} ahead of the foot of the "
        f"transom{side}; {like}. Read all heights in calm water, nobody aboard.{stop}",
        wet=", ".join(wet), mass=kg(test.test_kg),
        ahead=mm(test.ahead_mm), across=mm(abs(test.across_mm)),
    )  # fmt: skip


def _test_working(case: Case, flotation: Flotation, test: FloatTest) -> tuple[Phrase, ...]:
    lines = [
        phrase(
            "The {name} should then read {height}, give or take {spread}.",
            name=name, height=mm(height), spread=mm(spread),
        )
        for name, _, height, spread in test.rows
    ]  # fmt: skip
    lines += doubts(case, flotation)
    if flotation.usual:
        lines.append(usual_sentence(flotation))
    if flotation.uncounted:
        lines.append(
            phrase("Not counted, because mass or place is missing: {what}.",
                   what=", ".join(flotation.uncounted))
        )  # fmt: skip
    if case.job.afloat.fuel is not None:
        fuel = Amount(case.job.afloat.fuel.value, Kind.VOLUME)
        lines.append(phrase("The heights were read with {fuel} of fuel aboard.", fuel=fuel))
    if not case.job.afloat.people:
        lines.append(phrase("Read it once more in her usual load: fuel, gear and people aboard."))
    return tuple(lines)


def usual_sentence(flotation: Flotation) -> Phrase:
    """Return which measures of the hull are usual ones, that nobody took."""
    return phrase(
        "Usual figures stand in, within the tolerance, for what is not measured: {what}.",
        what="; ".join(label_of(name) for name in flotation.usual),
    )


def _pod_doubts(case: Case, flotation: Flotation) -> list[Phrase]:
    """Return why a closed pod that something is entered of lifts nothing, or nothing to say."""
    hull = case.job.hull
    fields = ("pod_volume", "pod_aft", "pod_bottom", "pod_height")
    lacks = [name for name in fields if getattr(hull, name) is None]
    if flotation.pods or len(lacks) == len(fields):
        return []
    if lacks:
        listed = ", ".join(label_of(f"hull.{name}") for name in lacks)
        return [phrase("The pod's lift is not counted without: {listed}.", listed=listed)]
    if case.bracket is None:
        return [phrase("The pod's lift is not counted, as the job has no bracket or pod.")]
    return []


def doubts(case: Case, flotation: Flotation) -> list[Phrase]:
    """Return where readings contradict each other, each with the readings to look at."""
    lines = []
    lines += _pod_doubts(case, flotation)
    off, bare, said = flotation.misfit_mm, flotation.bare_kg, flotation.said_bare_kg
    if off is not None and _is_bent(flotation):
        lines.append(
            phrase(
                "The heights read afloat do not lie on one level water: the middle one is {off} "
                "off. Look at it, and at the depths of the hull.",
                off=mm(abs(off)),
            )
        )
    if bare is not None and _is_too_light(flotation):
        lines.append(
            phrase(
                "By the heights read, less all that was aboard, the bare boat would weigh {bare}. "
                "Look at the heights, the depths, and what is listed as aboard.",
                bare=kg(bare),
            )
        )
    if bare is not None and said is not None and _is_other_mass(flotation):
        lines.append(
            phrase(
                "By the heights read the bare boat weighs {bare}, but {said} is entered. Look at "
                "the beam, the depths and the heights, and whether water stands in her.",
                bare=kg(bare), said=kg(said),
            )
        )  # fmt: skip
    return lines
