"""Checks 7xx: are the bolts long, strong and tight enough, and does the backing hold them?

Forces and pressures are said in kN and MPa whatever the job's units: no wrench shows them.
"""

from __future__ import annotations

from functools import partial

from rigfit.rigging.bolt_findings import (
    bolt_of,
    grade_of,
    kilonewtons,
    no_pattern,
    torque_amount,
    waiting,
)
from rigfit.rigging.bolting import (
    PRELOAD_SHARE,
    THREADS_LEAST,
    THREADS_MOST,
    Loads,
    clamp_force,
    friction_range,
    grip_of,
    layers_of,
    length_needed_mm,
    loads_of,
    missing,
    preload_n,
    proof_load_n,
    protrusion_mm,
    protrusion_of,
    stack_needs,
    thread_to_spare_mm,
    torque_nm,
)
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.checks_backing import (
    check_backing_plate,
    check_bearing,
    check_clearance,
    check_metals,
)
from rigfit.rigging.fasteners import Bolt, BoltGrade
from rigfit.rigging.findings import Finding, Limits, Phrase, Verdict, at_best, mm, phrase
from rigfit.rigging.tolerance import Estimate
from rigfit.units import Kind

RUN_OUT_PITCHES = 2.0
"""Threads next to the shank are cut shallow; a nut should not have to use them."""


def check_bolts(case: Case) -> tuple[Finding, ...]:
    """701 to 707: everything about bolts and backing; nothing while nobody filled anything in.

    That nobody looked yet is said by ``not_looked_at``, so that it decides no verdict.
    """
    if case.job.bolting == Bolting():
        return ()
    checks = (
        check_length,
        check_strength,
        check_torque,
        check_bearing,
        check_clearance,
        check_backing_plate,
        check_metals,
    )
    return tuple(finding for check in checks for finding in check(case))


# ------------------------------------------------------------------------------ 701 length


def check_length(case: Case) -> tuple[Finding, ...]:
    """701: do the bolts reach through, with thread to show and thread enough?"""
    needs = ("bolting.bolt", *stack_needs(case))
    lacking = missing(case, *needs)
    if lacking:
        return (waiting(case, 701, "length of the bolts", "bolt-protrusion", lacking),)
    bolt = case.catalogue.bolt(case.job.bolting.bolt)
    grip = grip_of(layers_of(case))
    return ((_bought if case.job.bolting.length is None else _in_hand)(case, bolt, grip),)


def _length_working(case: Case, bolt: Bolt, grip: Estimate) -> tuple[Phrase, ...]:
    layers = layers_of(case)
    return (
        phrase("From the head in: {names}.", names=", ".join(layer.name for layer in layers)),
        phrase(
            "Grip {grip}: {sum} mm.",
            grip=mm(grip.value),
            sum=" + ".join(f"{layer.thickness.value:g}" for layer in layers),
        ),
        phrase(
            "Lock nut {nut}, thread {pitch} a turn; {least} with 1 1/2 threads showing, {most} "
            "with 3.",
            nut=mm(bolt.lock_nut_mm),
            pitch=mm(bolt.thread_mm),
            least=mm(length_needed_mm(bolt, grip.value)),
            most=mm(length_needed_mm(bolt, grip.value, THREADS_MOST)),
        ),
        phrase("Heights of nuts differ between makers: lay one on a rule before cutting."),
    )


def _bought(case: Case, bolt: Bolt, grip: Estimate) -> Finding:
    """Return the length to buy, long enough even if the grip is at the top of its tolerance."""
    needed = length_needed_mm(bolt, grip.value + grip.tolerance)
    found = partial(
        Finding,
        code=701,
        subject=case.candidate.id,
        title="length of the bolts",
        source="bolt-lengths",
        needs=("bolting.bolt", *stack_needs(case)),
        working=_length_working(case, bolt, grip),
    )
    length = bolt.next_length_mm(needed)
    if length is None:
        return found(
            verdict=Verdict.STOPS,
            sentence=phrase(
                "The grip is {grip}; no stocked {bolt} is long enough.",
                grip=mm(grip.value),
                bolt=bolt.name,
            ),
        )
    spare = thread_to_spare_mm(bolt, length, grip.value)
    short = spare < RUN_OUT_PITCHES * bolt.thread_mm + grip.tolerance
    text = "Buy {bolt} x {length}: the grip is {grip}, and a lock nut wants {needed}."
    if short:
        text += " Take them with thread to the head, or cut: the plain shank is too long."
    return found(
        verdict=Verdict.TIGHT if short or grip.stand_ins else Verdict.FITS,
        settle=_closer(bolt, grip, length) if short else None,
        sentence=phrase(
            text,
            bolt=bolt.name,
            length=bolt.length_words(length),
            grip=mm(grip.value),
            needed=mm(needed),
        ),
    )


def _closer(bolt: Bolt, grip: Estimate, length: float) -> Phrase:
    """Return what would settle a length whose thread is short: often a closer look at the grip."""
    shorter = bolt.next_length_mm(length_needed_mm(bolt, grip.value))
    if shorter is None or shorter >= length:
        return phrase("Offer one bolt up through the old hole with washers and nut, and look.")
    return phrase(
        "Measure the stack more closely: {shorter} will do up to a grip of {most} mm.",
        shorter=bolt.length_words(shorter),
        most=f"{shorter - length_needed_mm(bolt, 0.0):.1f}",
    )


def _in_hand(case: Case, bolt: Bolt, grip: Estimate) -> Finding:
    length = case.job.bolting.length
    assert length is not None  # noqa: S101 - the caller looked
    past = protrusion_of(bolt, length, layers_of(case))
    low, high = THREADS_LEAST * bolt.thread_mm, THREADS_MOST * bolt.thread_mm
    stocked = bolt.next_length_mm(length_needed_mm(bolt, grip.value + grip.tolerance))
    if stocked is not None:
        high = max(high, protrusion_mm(bolt, stocked, grip.value) + past.tolerance)
    limits = Limits(low, high, outer_high=float("inf"))
    spare = thread_to_spare_mm(bolt, length.value, grip.value)
    jams = spare < -past.tolerance
    verdict = limits.judge(past.value, past.tolerance)
    if past.stand_ins:
        verdict = at_best(verdict, Verdict.TIGHT)
    if jams:
        verdict = Verdict.STOPS
    elif spare < RUN_OUT_PITCHES * bolt.thread_mm:
        verdict = at_best(verdict, Verdict.TIGHT)
    text = "A bolt of {length} on a grip of {grip} stands {past} past its lock nut, {threads}."
    if past.value < 0.0:
        text = "A bolt of {length} on a grip of {grip} ends {past} short of its lock nut's end."
    threads = past.value / bolt.thread_mm
    text += _length_remark(past, low, high, jams=jams, spare=spare, bolt=bolt)
    return Finding(
        code=701,
        subject=case.candidate.id,
        title="length of the bolts",
        verdict=verdict,
        sentence=phrase(
            text,
            length=mm(length.value),
            grip=mm(grip.value),
            past=mm(abs(past.value)),
            threads=f"{threads:.1f} threads",
        ),
        source="bolt-protrusion",
        value=past.value,
        low=low,
        high=high,
        margin=limits.margin(past.value),
        tolerance=past.tolerance,
        needs=("bolting.bolt", "bolting.length", *stack_needs(case)),
        settle=None
        if verdict is Verdict.FITS
        else phrase("Offer one bolt up through the old hole with washers and nut, and look."),
        working=(
            *_length_working(case, bolt, grip),
            phrase(
                "Thread by its standard {threaded}, so {spare} of it lies inside the grip.",
                threaded=mm(bolt.threaded_mm(length.value)),
                spare=mm(spare),
            ),
        ),
    )


def _length_remark(
    past: Estimate, low: float, high: float, *, jams: bool, spare: float, bolt: Bolt
) -> str:
    if jams:
        return " The nut jams on the plain shank before it clamps: take a bolt with more thread."
    if past.value < low:
        return " That is too short; a lock nut wants 1 1/2 to 3 threads to show."
    if spare < RUN_OUT_PITCHES * bolt.thread_mm:
        return " The nut comes near the end of the thread: see that it clamps and does not jam."
    if past.value > high:
        return " That is longer than it need be, and snags: cut it, or take the next size down."
    return ""


# ------------------------------------------------------------------------------ 702 strength


def check_strength(case: Case) -> tuple[Finding, ...]:
    """702: do the upper bolts bear the worst pull of weight and thrust?"""
    title, code = "strength of the bolts", 702
    lacking = missing(
        case, "bolting.bolt", "bolting.grade", "engine.mass", "engine.power", "transom.rake"
    )
    if case.leg is None:
        lacking += ("engine.leg_measured",)
    if lacking:
        return (waiting(case, code, title, "bolt-load", lacking),)
    bolt, grade = bolt_of(case), grade_of(case)
    loads = loads_of(case)
    if loads is None:
        return (no_pattern(case, code, title),)
    assert bolt is not None and grade is not None  # noqa: S101 - not lacking
    proof = proof_load_n(bolt, grade)
    if proof is None:
        return (waiting(case, code, title, grade.proof_source, ("bolting.grade",)),)
    return (_strength(case, bolt, grade, loads, proof),)


def _strength(case: Case, bolt: Bolt, grade: BoltGrade, loads: Loads, proof: float) -> Finding:
    ratio, spread = loads.tension_n.value / proof, loads.tension_n.tolerance / proof
    limits = Limits(high=1.0)
    verdict = limits.judge(ratio, spread)
    ideal = loads.ideal_tension_n.value / proof, loads.ideal_tension_n.tolerance / proof
    if limits.judge(*ideal) is not Verdict.FITS or not _is_sure(case):
        verdict = at_best(verdict, Verdict.TIGHT)
    clamp = clamp_force(case, bolt, grade)
    factor = "by custom" if case.job.bolting.load_factor is None else "as chosen"
    return Finding(
        code=702,
        subject=case.candidate.id,
        title="strength of the bolts",
        verdict=verdict,
        sentence=phrase(
            "At {factor} times its weight ({why}) and full thrust, the engine pulls about {pull} "
            "at each upper bolt; {bolt} {grade} holds {proof} without lasting stretch. "
            + (_SURE if verdict is Verdict.FITS else _NOT_SURE),
            factor=f"{loads.factor.value:g}",
            why=factor,
            pull=kilonewtons(loads.tension_n.value),
            bolt=bolt.name,
            grade=grade.name,
            proof=kilonewtons(proof),
        ),
        source="bolt-load",
        kind=Kind.RATIO,
        value=ratio,
        high=1.0,
        margin=limits.margin(ratio),
        tolerance=spread,
        needs=_STRENGTH_NEEDS,
        settle=None if verdict is Verdict.FITS else phrase(
            "Take number, size and grade of the bolts from the engine maker's manual."
        ),
        working=_strength_working(case, bolt, loads, proof, clamp),
    )  # fmt: skip


_SURE = "Even an ideal propeller's thrust leaves it in hand."
_NOT_SURE = (
    "Thrust and centre of gravity are estimates; it reads fits only with mass and load factor of "
    "your own, and in hand even at an ideal propeller's thrust."
)


_STRENGTH_NEEDS = (
    "bolting.bolt",
    "bolting.grade",
    "engine.mass",
    "engine.power",
    "transom.rake",
    "engine.leg_measured",
    "engine.upper_to_lower",
    "bolting.load_factor",
)


def _is_sure(case: Case) -> bool:
    """Tell whether 702 may read fits: mass weighed, factor typed, levers measured, no bracket.

    The centre of gravity stays a class figure; its spread is in the tolerance.
    """
    mass = case.candidate.mass
    weighed = mass is not None and mass.origin.is_firm
    return weighed and case.bracket is None and not missing(case, *_STRENGTH_NEEDS)


def _strength_working(
    case: Case, bolt: Bolt, loads: Loads, proof: float, clamp: Estimate | None
) -> tuple[Phrase, ...]:
    thrust = loads.thrust_n
    lines = [
        phrase(
            "Weight {still} hanging still, {moving} with the factor; it hangs about {aft} aft of "
            "the lower bolts.",
            still=kilonewtons(loads.weight_n),
            moving=kilonewtons(loads.weight_n * loads.factor.value),
            aft=mm(loads.weight_lever_mm),
        ),
        phrase(
            "Thrust at rest about {mid} ({low} to {high}, the last what an ideal propeller of the "
            "class's size gives; estimate), {below} below the lower bolts.",
            mid=kilonewtons(thrust.value),
            low=kilonewtons(thrust.value - thrust.tolerance),
            high=kilonewtons(thrust.value + thrust.tolerance),
            below=mm(loads.thrust_lever_mm),
        ),
        phrase(
            "Together they turn the bracket with {moment} about the lower bolts; a rigid bracket "
            "puts all of it on the two upper ones. Shear {shear} a bolt over four.",
            moment=f"{loads.moment_nmm / 1e6:.1f} kN·m",
            shear=kilonewtons(loads.shear_n),
        ),
        phrase(
            "Stress area {area}; proof load {proof}.",
            area=f"{bolt.stress_area_mm2:.1f} mm²",
            proof=kilonewtons(proof),
        ),
    ]
    if clamp is not None:
        both = clamp.value + loads.tension_n.value
        lines.append(
            phrase(
                "Preload {clamp} and pull added up, which no joint does in full: {both}, "
                "{over} the proof load.",
                clamp=kilonewtons(clamp.value),
                both=kilonewtons(both),
                over="over" if both > proof else "within",
            )
        )
    lines.append(phrase("Not counted: hook, friction, side loads, grounding and reverse."))
    if case.bracket is not None:
        lines.append(phrase("Not counted: the setback bracket's own weight."))
    return tuple(lines)


# ------------------------------------------------------------------------------ 703 torque


def check_torque(case: Case) -> tuple[Finding, ...]:
    """703: how tight, and what that does to the bolt; the engine maker's torque wins."""
    lacking = missing(case, "bolting.bolt", "bolting.grade")
    if lacking:
        return (waiting(case, 703, "tightening torque", "torque-factor", lacking),)
    bolt, grade = bolt_of(case), grade_of(case)
    assert bolt is not None and grade is not None  # noqa: S101 - not lacking
    proof = proof_load_n(bolt, grade)
    if proof is None:
        lack = ("bolting.grade",)
        return (waiting(case, 703, "tightening torque", grade.proof_source, lack),)
    if case.job.bolting.torque is None:
        return (_torque_range(case, bolt, grade, proof),)
    return (_makers_torque(case, bolt, grade, proof),)


def _galls(case: Case, grade: BoltGrade) -> str:
    if grade.is_stainless and case.job.bolting.thread_state in ("", "dry"):
        return " Dry stainless galls: use a compound or a bronze nut, if the maker allows it."
    return ""


def _torque_range(case: Case, bolt: Bolt, grade: BoltGrade, proof: float) -> Finding:
    bolting = case.job.bolting
    low, high = friction_range(bolting.thread_state, stainless=grade.is_stainless)
    force = PRELOAD_SHARE * proof
    d = bolt.diameter_mm
    return Finding(
        code=703,
        subject=case.candidate.id,
        title="tightening torque",
        verdict=Verdict.UNKNOWN,
        sentence=phrase(
            "The engine maker's torque is not filled in. For 75 % of the bolt's proof load, "
            "{force}, {low} to {high} would be needed with {state} threads; the transom may bear "
            "less." + _galls(case, grade),
            force=kilonewtons(force),
            low=torque_amount(torque_nm(force, d, low)),
            high=torque_amount(torque_nm(force, d, high)),
            state=bolting.thread_state or "dry to greased",
        ),
        source="torque-factor",
        needs=("bolting.torque",),
        settle=phrase("Take the torque from the engine maker's manual; it comes before this."),
        working=(phrase("T = K F d with K {low} to {high}.", low=f"{low:g}", high=f"{high:g}"),),
    )


def _makers_torque(case: Case, bolt: Bolt, grade: BoltGrade, proof: float) -> Finding:
    bolting = case.job.bolting
    assert bolting.torque is not None  # noqa: S101 - the caller looked
    torque = bolting.torque.value
    low_k, high_k = friction_range(bolting.thread_state, stainless=grade.is_stainless)
    least, most = (preload_n(torque, bolt.diameter_mm, k) for k in (high_k, low_k))
    middle, half = (least + most) / 2.0 / proof, (most - least) / 2.0 / proof
    text = (
        "The engine maker's {torque} comes before any computed figure. It loads each bolt with "
        "{least} to {most}, its proof load being {proof}."
    )
    verdict = Verdict.FITS
    if least > proof:
        verdict = Verdict.STOPS
        text += " It overloads this bolt however its threads are: check the torque and the bolt."
    elif most > proof:
        verdict = Verdict.TIGHT
        text += " With slippery threads that is too much."
    settle = None
    if verdict is not Verdict.FITS:
        settle = phrase("Ask the maker whether the torque is meant for dry or greased threads.")
    if not bolting.thread_state:
        verdict = at_best(verdict, Verdict.TIGHT)
        settle = phrase("Say whether the threads are dry, oiled or with anti-seize compound.")
    return Finding(
        code=703,
        subject=case.candidate.id,
        title="tightening torque",
        verdict=verdict,
        sentence=phrase(
            text + _galls(case, grade),
            torque=torque_amount(torque),
            least=kilonewtons(least),
            most=kilonewtons(most),
            proof=kilonewtons(proof),
        ),
        source="torque-factor",
        kind=Kind.RATIO,
        value=middle,
        high=1.0,
        margin=1.0 - middle,
        tolerance=half,
        needs=("bolting.bolt", "bolting.grade", "bolting.torque", "bolting.thread_state"),
        settle=settle,
        working=(
            phrase(
                "F = T / (K d) with K {low} to {high}: {share} of the proof load at most; 75 % is "
                "aimed at where no maker says.",
                low=f"{low_k:g}",
                high=f"{high_k:g}",
                share=f"{100.0 * most / proof:.0f} %",
            ),
        ),
    )
