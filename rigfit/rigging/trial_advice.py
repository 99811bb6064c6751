"""Advice after a sea trial, in the order a good rigger goes: one thing at a time.

What endangers comes first, then instruments, load, the hull's bottom, height by one row, pitch.
Full throttle alone decides nothing: without runs in mid-range and a look at gentle turns height and
pitch wait. Effects are ranges from reports; the engine maker's instructions win.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from rigfit.rigging.case import Case
from rigfit.rigging.findings import Amount, Phrase, Verdict, kn, mm, phrase, rpm
from rigfit.rigging.mounting_options import height_options
from rigfit.rigging.propeller import RPM_PER_INCH_WIDE, Band, pitch_by_percent, pitch_by_rate
from rigfit.rigging.sea_trial import RunResult, TrialLog, TrialResult, differences, gains
from rigfit.rigging.trial_fields import NOT_SAID
from rigfit.units import Kind, inch_fraction, show

USUAL_DRIFT = 0.10
"""Share of the speed that both ways may differ by from their mean before it is looked at again."""

LEAST_DRIFT_KN = 1.0
"""Below it a drift is what any tide does, whatever share it is of a slow run (estimate)."""

HEAVY = 0.15
"""Share by which the mass aboard differs between trials before load is named first."""

_LEAST_MID = 2


class Step(Enum):
    """The steps in their order."""

    SAFETY = "safety first"
    INSTRUMENTS = "check the instruments"
    LOAD = "load"
    HULL = "bottom of the hull"
    HEIGHT = "height, one row"
    PITCH = "pitch of the propeller"
    KEEP = "keep it as it is"

    @property
    def rank(self) -> int:
        """0 for what comes first."""
        return _ORDER.index(self)


_ORDER = tuple(Step)


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to do.

    :param step: where in the order it belongs.
    :param what: what to do.
    :param why: what in the log speaks for it.
    :param effect: what it is likely to do, as a range, with how sure that is.
    :param against: what would contradict it.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param is_change: True for a change to boat, engine or propeller; False for looking again.
    :param is_possible: False where what the log asks for cannot be done; said only where nothing
        else is to be done.
    """

    step: Step
    what: Phrase
    why: Phrase
    effect: Phrase
    against: Phrase
    source: str
    is_change: bool = True
    is_possible: bool = True


def advice_on(case: Case, log: TrialLog) -> tuple[Advice, ...]:
    """Return what to do next with this engine, first things first; empty without runs of it."""
    trials = log.of_engine(case.candidate.id)
    if not trials:
        return ()
    last, before = trials[-1], trials[-2] if len(trials) > 1 else None
    found = [
        *_safety(last),
        *_instruments(last),
        *_load(last, before),
        *_hull(case),
        *_height(case, last, before),
        *_pitch(last),
    ]
    found = [item for item in found if item.is_possible] or found
    if not found:
        found.append(_keep(last))
    return tuple(sorted(found, key=lambda item: item.step.rank))


def next_step(found: tuple[Advice, ...]) -> Advice | None:
    """Return the one thing to do before the next trial; the rest waits."""
    return found[0] if found else None


# ------------------------------------------------------------------ safety


def _rpms(runs: tuple[RunResult, ...]) -> str:
    return ", ".join(f"{run.rpm.value:.0f}" for run in runs)


def _safety(last: TrialResult) -> Iterator[Advice]:
    hot = last.says("overheats", "yes")
    if hot:
        yield Advice(
            Step.SAFETY,
            Phrase("Do not run it again before the cooling is looked at: intake clear and under "
                   "water at speed, impeller, thermostat."),
            phrase("Overheating was signalled at {at} rpm.", at=_rpms(hot)),
            Phrase("An engine too high starves its intake; one row lower covers it again."),
            Phrase("Water pressure that holds at that speed, and a steady tell-tale."),
            "trial-safety",
        )  # fmt: skip
    starved = last.starved()
    if starved and not hot:
        yield Advice(
            Step.SAFETY,
            Phrase("Look at the intake before it is run hard again: clear, under water at speed, "
                   "nothing ahead of it, impeller sound."),
            phrase("Water pressure falls as the engine turns faster, at {at} rpm: it may overheat.",
                   at=_rpms(starved)),
            Phrase("One row lower covers an intake that draws air; a hull fitting ahead of it is "
                   "moved. What pressure is right, the engine's manual says."),
            Phrase("Pressure that rises with engine speed to what the manual asks."),
            "trial-pressure",
        )  # fmt: skip
    airy = last.says("ventilates", "in turns", "straight on")
    if airy:
        where = "straight on" if last.says("ventilates", "straight on") else "in turns"
        lower = "Lower the engine one row"
        if last.trial.row == 1:
            lower = "It hangs in its lowest row already: look for what feeds the propeller air"
        yield Advice(
            Step.SAFETY,
            Phrase(f"{lower}; until then ease off in turns and trim in a little before them, never "
                   "hard over trimmed fully in."),
            phrase("The propeller draws air {where}, at {at} rpm.", where=where, at=_rpms(airy)),
            phrase("It bites in turns again; up to 100 rpm and {lost} less at the top are "
                   "reported.", lost=kn(1.4)),
            Phrase("The same with the engine lower: then look for a hook, a fitting or a keel "
                   "strip ahead of the propeller, or a worn or small propeller."),
            "row-worth",
        )  # fmt: skip
    leaping = last.says("porpoises", "yes")
    if leaping:
        yield Advice(
            Step.SAFETY,
            Phrase("Ease off and trim in until it stops; then move weight forward before anything "
                   "else is changed."),
            phrase("She porpoises at {at} rpm.", at=_rpms(leaping)),
            Phrase("Weight forward and trim in stop most of it; how much, the boat says."),
            Phrase("It goes on, trimmed in and with weight forward: then the bottom is looked at "
                   "for a rocker."),
            "trial-safety",
        )  # fmt: skip


# ------------------------------------------------------------------ instruments


def _instruments(last: TrialResult) -> Iterator[Advice]:
    doubts = list(_doubts(last))
    if not doubts:
        return
    deeds = tuple(dict.fromkeys(deed for _, deed in doubts))
    why = Phrase(
        " ".join(doubt.text for doubt, _ in doubts),
        {key: value for doubt, _ in doubts for key, value in doubt.amounts.items()},
    )
    yield Advice(
        Step.INSTRUMENTS, Phrase(" ".join(deeds)), why,
        Phrase("None on the boat. A tachometer set to the wrong number of poles is wrong by a "
               "fixed share, and a current by its own speed; both pass for height or pitch."),
        Phrase("A second instrument, or the way back, that reads the same."),
        "two-way", is_change=False,
    )  # fmt: skip


_READ_AGAIN = (
    "Check the tachometer against a second one or the engine's computer, and read pitch and gear "
    "ratio again."
)
_BOTH_WAYS = "Run the same stretch both ways, at once, at the same engine speed."
_SATELLITE = "Read the speed from a satellite receiver."


def _doubts(last: TrialResult) -> Iterator[tuple[Phrase, str]]:
    """Yield what speaks against the readings, and what to do about it."""
    against = tuple(run for run in last.runs if run.is_against_pitch)
    if against:
        text = "At {against} rpm she ran faster than the pitch allows."
        yield phrase(text, against=_rpms(against)), _READ_AGAIN
    one_way = tuple(run for run in last.runs if run.speed is not None and not run.speed.both_ways)
    if one_way:
        yield phrase("At {one_way} rpm only one way was run.", one_way=_rpms(one_way)), _BOTH_WAYS
    drifted = tuple(run for run in last.runs if is_drifted(run))
    if drifted:
        text = "At {drifted} rpm both ways differ by more than a fifth of the speed."
        yield phrase(text, drifted=_rpms(drifted)), _BOTH_WAYS
    if last.trial.speed_from == "paddle wheel":
        yield Phrase("Speed was read from a paddle wheel."), _SATELLITE
    if last.trial.rpm_checked != "yes" and _is_off(last):
        text = (
            "The engine speed is outside what the propeller is chosen for, and nobody checked the "
            "tachometer."
        )
        yield Phrase(text), _READ_AGAIN


def is_drifted(run: RunResult) -> bool:
    """True where current or wind made more than ``USUAL_DRIFT`` of the speed."""
    speed = run.speed
    return speed is not None and speed.drift is not None and (
        speed.drift > max(USUAL_DRIFT * speed.value, speed.tolerance, LEAST_DRIFT_KN)
    )  # fmt: skip


def _is_off(last: TrialResult) -> bool:
    """True where full throttle lies outside the upper half of the band."""
    wot, band = last.wot, last.band
    return wot is not None and band is not None and band.place(wot.rpm.value) != "upper half"


# ------------------------------------------------------------------ load, hull


def _load(last: TrialResult, before: TrialResult | None) -> Iterator[Advice]:
    mass = last.trial.mass_aboard
    if mass is None and not any(run.run.mass_aboard for run in last.runs):
        yield Advice(
            Step.LOAD,
            Phrase("Write down what is aboard and run with your usual load."),
            Phrase("Nothing is said of people, fuel and gear on that day."),
            Phrase("Load moves engine speed and planing more than a row does on small boats; how "
                   "much was not found as a figure."),
            Phrase("Two trials with the same load that agree."),
            "one-change",
            is_change=False,
        )  # fmt: skip
    elif before is not None and mass is not None and before.trial.mass_aboard is not None:
        other = before.trial.mass_aboard
        if abs(mass.value - other.value) > HEAVY * max(mass.value, other.value):
            yield Advice(
                Step.LOAD,
                phrase("Run again with the load of the trial before, {load}.",
                       load=Amount(other.value, Kind.MASS)),
                phrase("{now} were aboard, {then} in the trial before.",
                       now=Amount(mass.value, Kind.MASS), then=Amount(other.value, Kind.MASS)),
                Phrase("What is left between the two trials is then the change that was made."),
                Phrase("No difference between light and heavy runs of one day."),
                "one-change",
            )  # fmt: skip


def _hull(case: Case) -> Iterator[Advice]:
    if case.keel is None or case.keel.depth is None:
        yield Advice(
            Step.HULL,
            Phrase("Lay a straightedge under the keel and read the gaps before height is judged."),
            Phrase("The bottom was not checked for hook or rocker, which pass for a wrong height."),
            Phrase("None on the boat; it says which advice below can be trusted."),
            Phrase("A straight bottom, gaps of less than 3 mm."),
            "hook-owners",
            is_change=False,
        )  # fmt: skip
    elif case.keel_is_bent:
        yield Advice(
            Step.HULL,
            phrase("Have the bottom made true first: {depth} is too much.",
                   depth=mm(case.keel.depth.value)),
            Phrase("A hook or rocker of this size shapes trim and turns more than height does."),
            Phrase("Owners tell of handling ruined by 1/4 in over 8 in; figures for yours are not "
                   "known."),
            Phrase("The straightedge, laid again with the boat off its bunks, shows none."),
            "hook-owners",
        )  # fmt: skip


# ------------------------------------------------------------------ height


def _looked(last: TrialResult) -> Phrase | None:
    """Return what is missing before height or pitch may be judged, or None."""
    lacking = []
    if len(last.cruising()) < _LEAST_MID:
        lacking.append("two runs in mid-range, with speeds")
    if all(run.run.ventilates == NOT_SAID for run in last.runs):
        lacking.append("whether it draws air in gentle turns")
    if not lacking:
        return None
    return phrase("Before height or pitch is touched, log {what}.", what=" and ".join(lacking))


def _height(case: Case, last: TrialResult, before: TrialResult | None) -> Iterator[Advice]:
    lacking = _looked(last)
    if lacking is not None:
        yield Advice(
            Step.HEIGHT, lacking,
            Phrase("Full throttle alone says nothing of the speeds she is used at."),
            phrase("On one large boat a row lower cost {top} at the top and gave {mid} in "
                   "mid-range.", top=kn(1.4), mid=kn(4.0)),
            Phrase("Nothing: it is only a look."),
            "row-worth", is_change=False,
        )  # fmt: skip
        return
    if last.says("ventilates", "in turns", "straight on") or (
        last.says("overheats", "yes") or last.starved()
    ):
        return  # lower, which safety has said already
    worse = _got_worse(last, before)
    if worse is not None:
        yield worse
        return
    # Before she planes every plate is buried, so only the faster half says anything.
    seen = tuple(run for run in last.faster() if run.run.plate != "not seen")
    low = tuple(run for run in seen if run.run.plate in ("buried", "spray"))
    if not seen:
        yield Advice(
            Step.HEIGHT,
            Phrase("See where the water leaves the plate: fix a camera at the stern and run at "
                   "cruising speed."),
            Phrase("Nobody saw the plate, and height is judged by it."),
            Phrase("None on the boat; it decides between up, down and leave."),
            Phrase("Nothing: it is only a look."),
            "plate-afloat", is_change=False,
        )  # fmt: skip
    elif low and 2 * len(low) >= len(seen):
        yield _up(case, last, low)


def _up(case: Case, last: TrialResult, low: tuple[RunResult, ...]) -> Advice:
    what, can_be_done = _row_above(case, last)
    return Advice(
        Step.HEIGHT,
        what,
        phrase("The plate was buried or threw spray at {at} rpm and no air was drawn.",
               at=_rpms(low)),
        phrase("At the top 0 to 100 rpm and 0 to {gain} are reported from small boats; mid-range "
               "and turns may lose.", gain=kn(1.3)),
        Phrase("It draws air in gentle turns, or mid-range slip grows: go back down one row."),
        "row-worth",
        is_change=can_be_done,
        is_possible=can_be_done,
    )  # fmt: skip


def _row_above(case: Case, last: TrialResult) -> tuple[Phrase, bool]:
    """Return what to do to go one row up, and whether that can be done."""
    words = "Raise the engine one row, then turn it lock to lock and tilt it on the trailer again."
    row = last.trial.row
    if not case.pattern.is_bolted or row is None:
        return Phrase(words), True
    above = next((item for item in height_options(case) if item.row == row + 1), None)
    if above is None:
        return Phrase(
            "It hangs in its highest row already: only a bracket that adjusts takes it higher."
        ), False
    if above.verdict is Verdict.STOPS:
        return phrase("Leave the height: of row {row} the table of heights says: {why}.",
                      row=str(above.row), why=above.reason or "stops"), False  # fmt: skip
    if case.candidate.max_lift is None:
        words += " Ask its manual how high it may hang."
    if above.plate is None:
        return Phrase(words), True
    return phrase(words + " In row {row} the plate stands {plate} to the keel line.",
                  row=str(above.row), plate=mm(above.plate.value, signed=True)), True  # fmt: skip


def _got_worse(last: TrialResult, before: TrialResult | None) -> Advice | None:
    """Return the advice to go back where the row was changed alone and mid-range got slower."""
    if before is None:
        return None
    changed = [item for item in differences(before, last) if item.is_change]
    if [item.name for item in changed] != ["bolt row"]:
        return None
    middle = {run.rpm.value for run in last.cruising()}
    lost = [gain for gain in gains(before, last) if gain.rpm in middle and gain.is_clear]
    slower = [gain for gain in lost if gain.gain < 0.0]
    if not slower or len(slower) < len(lost):
        return None
    worst = min(slower, key=lambda gain: gain.gain)
    return Advice(
        Step.HEIGHT,
        phrase("Go back to row {row}.", row=changed[0].before),
        phrase("In mid-range she lost up to {lost} at {at} against the trial before, and the row "
               "was all that changed.", lost=kn(-worst.gain), at=rpm(worst.rpm)),
        Phrase("The mid-range of the trial before, whatever the top does."),
        Phrase("The same loss with the old row: then it was the day, not the row."),
        "row-worth",
    )  # fmt: skip


# ------------------------------------------------------------------ pitch


def _pitch(last: TrialResult) -> Iterator[Advice]:
    wot, band = last.wot, last.band
    if wot is None:
        yield Advice(
            Step.PITCH,
            Phrase("Log a run at full throttle, trimmed as she runs best, and say that it is one."),
            Phrase("No run is marked as full throttle, so the propeller cannot be judged."),
            Phrase("None; the maker's band is for that run."),
            Phrase("Nothing: it is only a look."),
            "trial-band", is_change=False,
        )  # fmt: skip
        return
    if band is None or _looked(last) is not None or any(r.is_against_pitch for r in last.runs):
        return  # what is not known, or cannot be so, is no ground for another propeller
    place = band.place(wot.rpm.value)
    if place == "upper half":
        return
    yield _other_pitch(last, wot, band, place)


def pitch_words(pitch_mm: float) -> str:
    """Return a pitch as the trade names it, inches first, to a quarter: "15 3/4 in (400 mm)"."""
    return f"{inch_fraction(pitch_mm, 4)} in ({show(pitch_mm, Kind.LENGTH)})"


def pitch_range(pitch_mm: float, at_rpm: float, band: Band) -> tuple[float, float]:
    """Return the pitches, mm, that bring full throttle to the middle of the band's upper half.

    From every custom rule: in proportion, and 100 to 300 rpm an inch.
    """
    ends = (
        pitch_by_percent(pitch_mm, at_rpm, band.aim),
        *pitch_by_rate(pitch_mm, at_rpm, band.aim, RPM_PER_INCH_WIDE),
    )
    return min(ends), max(ends)


def _other_pitch(last: TrialResult, wot: RunResult, band: Band, place: str) -> Advice:
    less = place != "above"
    pitch = last.trial.pitch
    words = f"Try a propeller an inch {'smaller' if less else 'larger'} in pitch"
    amounts: dict[str, Amount | str] = {}
    if pitch is not None:
        low, high = pitch_range(pitch.value, wot.rpm.value, band)
        words += "; the rules of the trade span {low} to {high} for the middle of the upper half"
        amounts = {"low": pitch_words(low), "high": pitch_words(high)}
    why = {
        "below": "It lugs: {at} at full throttle is under the band of {low} to {high}.",
        "lower half": "{at} at full throttle is in the lower half of the band of {low} to {high}.",
        "above": "It races: {at} at full throttle is over the band of {low} to {high}.",
    }[place]
    sign = "more" if less else "less"
    return Advice(
        Step.PITCH,
        Phrase(words + ".", amounts),
        phrase(why, at=rpm(wot.rpm.value), low=rpm(band.low), high=rpm(band.high)),
        Phrase(f"150 to 200 rpm {sign} an inch by two dealers, 100 to 300 by all that was met; a "
               "quarter inch of diameter or a cup does as much."),
        Phrase("The same engine speed with a lighter load or one row higher: then it is load or "
               "height. A slip out of the usual says so too."),
        "pitch-worth",
    )  # fmt: skip


def _keep(last: TrialResult) -> Advice:
    return Advice(
        Step.KEEP,
        Phrase("Leave it, and run one trial with your heaviest load."),
        phrase("Nothing in trial {id} speaks against height or propeller.", id=last.trial.id),
        Phrase("None."),
        Phrase("With the heaviest load it leaves the band, draws air or runs hot."),
        "trial-band",
        is_change=False,
    )  # fmt: skip
