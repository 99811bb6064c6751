"""The sea trial: two-way means, slip, litres a mile, and trials held against each other.

Speeds are over the ground in knots, fuel in litres an hour, distances in nautical miles. The mean
of a run there and back over the same stretch is free of a steady current; half the difference is
what current and wind did along the course. Tolerances are expanded uncertainties (k = 2, GUM).
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from rigfit.errors import ProfileError
from rigfit.rigging.case import Case, once_a_case
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.findings import Amount, Phrase
from rigfit.rigging.job import Job
from rigfit.rigging.outboard import CLASS_GEAR_SPREAD
from rigfit.rigging.propeller import Band, slip
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import Estimate, estimate, expanded, half_width
from rigfit.rigging.trial_fields import NOT_SAID, OLD, Run, Trial
from rigfit.units import Kind

UNSEEN_CURRENT_KN = 2.0
"""Half-width for what current and wind may do to a speed read one way only (estimate)."""

WIND_KN = 5.0
MASS_SHARE = 0.05
PLATE_MM = 5.0
"""Differences between trials that count: wind, share of the mass aboard, height of the plate."""

_PITCH_MM = 3.0  # an eighth of an inch: less is how a hub is stamped

_UNDER_WAY_RPM = 1500.0


@dataclass(frozen=True, slots=True)
class Speed:
    """The speed of a run.

    :param value: mean of both ways, or the one way there is, kn.
    :param tolerance: expanded uncertainty, kn; with one way only a current of
        ``UNSEEN_CURRENT_KN`` is in it.
    :param drift: half the difference of both ways, kn; None with one way only.
    """

    value: float
    tolerance: float
    drift: float | None

    @property
    def both_ways(self) -> bool:
        """True where the stretch was run there and back."""
        return self.drift is not None


def two_way(there: Reading | None, back: Reading | None) -> Speed | None:
    """Return the speed from readings there and back, kn; None without either.

    The order of the two does not matter.
    """
    if there is not None and back is not None:
        mean = (there.value + back.value) / 2.0
        spread = expanded(there.tolerance, back.tolerance) / 2.0
        return Speed(mean, spread, abs(there.value - back.value) / 2.0)
    one = there or back
    if one is None:
        return None
    return Speed(one.value, expanded(one.tolerance, UNSEEN_CURRENT_KN), None)


@dataclass(frozen=True, slots=True)
class RunResult:
    """What one run came to.

    :param row: which of the job's runs it is, counted from 1.
    :param speed: kn, None where no speed was read.
    :param slip: share of the pitch speed that is lost, None where it cannot be told; negative
        where the boat was faster than the propeller's pitch, which is a doubt, not a result.
    :param per_mile: litres a nautical mile, None without fuel flow or way.
    :param mass: kg aboard, of the run or its trial.
    """

    run: Run
    row: int
    rpm: Reading
    speed: Speed | None
    slip: Estimate | None
    per_mile: Estimate | None
    mass: Reading | None

    @property
    def is_full_throttle(self) -> bool:
        """True where the lever was said to be fully open."""
        return self.run.full_throttle == "yes"

    @property
    def is_against_pitch(self) -> bool:
        """True where she ran faster than the pitch, by more than the tolerance."""
        return self.slip is not None and self.slip.value + self.slip.tolerance < 0.0


@dataclass(frozen=True, slots=True)
class TrialResult:
    """One trial with its runs, slowest engine speed first.

    :param engine: id of the candidate, ``OLD``, or "" where it is not said or not known.
    :param engine_name: for print.
    :param gear: gear ratio with its origin, None where nothing says it.
    :param band: the maker's at full throttle, None where nothing says it.
    :param band_origin: where it came from.
    """

    trial: Trial
    engine: str
    engine_name: str
    gear: Reading | None
    band: Band | None
    band_origin: Origin = Origin.STATED
    runs: tuple[RunResult, ...] = ()

    @property
    def wot(self) -> RunResult | None:
        """The fastest run whose lever was fully open; None where nobody said so of any."""
        full = [run for run in self.runs if run.is_full_throttle]
        return max(full, key=lambda run: run.rpm.value, default=None)

    @property
    def title(self) -> str:
        """Name in print: id, date, engine."""
        said = (self.trial.id, self.trial.date, self.engine_name)
        return ", ".join(word for word in said if word)

    def starved(self) -> tuple[RunResult, ...]:
        """Return the runs whose water pressure is below that at a lower engine speed, by more than
        both tolerances: a sign of a starved intake.
        """
        found = []
        best: Reading | None = None
        for run in self.runs:
            pressure = run.run.pressure
            if pressure is None:
                continue
            if best is not None and best.value - pressure.value > expanded(
                best.tolerance, pressure.tolerance
            ):
                found.append(run)
            if best is None or pressure.value > best.value:
                best = pressure
        return tuple(found)

    def faster(self) -> tuple[RunResult, ...]:
        """Return the runs from half of the fastest engine speed up, with a speed."""
        top = max((run.rpm.value for run in self.runs), default=0.0)
        return tuple(
            run for run in self.runs if run.speed is not None and run.rpm.value >= 0.5 * top
        )

    def cruising(self) -> tuple[RunResult, ...]:
        """Return those of ``faster`` that turn no faster than nine tenths of the fastest."""
        top = max((run.rpm.value for run in self.runs), default=0.0)
        return tuple(run for run in self.faster() if run.rpm.value <= 0.9 * top)

    def says(self, name: str, *words: str) -> tuple[RunResult, ...]:
        """Return the runs of which a choice reads one of some words."""
        return tuple(run for run in self.runs if getattr(run.run, name) in words)


@dataclass(frozen=True, slots=True)
class Lost:
    """A row of the log that cannot be used, and why; nothing is left out without one of these."""

    what: str
    why: str


@dataclass(frozen=True, slots=True)
class TrialLog:
    """The whole log.

    :param trials: oldest first where every date can be read, else as they stand in the job.
    :param lost: rows that cannot be used.
    """

    trials: tuple[TrialResult, ...] = ()
    lost: tuple[Lost, ...] = field(default=())

    def of_engine(self, engine: str) -> tuple[TrialResult, ...]:
        """Return the trials with an engine that have runs, oldest first."""
        return tuple(item for item in self.trials if item.engine == engine and item.runs)

    def trial(self, trial_id: str) -> TrialResult | None:
        """Return the trial with an id."""
        return next((item for item in self.trials if item.trial.id == trial_id), None)


@once_a_case
def log_of_case(case: Case) -> TrialLog:
    """Return the log of a case's job."""
    return trial_log(case.job, case.catalogue)


def trial_log(job: Job, catalogue: Catalogue) -> TrialLog:
    """Return the log of a job: every trial with its runs, and what cannot be used."""
    lost: list[Lost] = []
    known: dict[str, Trial] = {}
    for trial in job.trials:
        if trial.id in known:
            lost.append(Lost(f"trial {trial.id}", "another trial has the same id"))
        else:
            known[trial.id] = trial
            typed = trial.date.strip()
            if typed and _date(typed) is None and len(job.trials) > 1:
                why = f'"{typed[:20]}" is no date like 2026-05-16, so trials are not put in order'
                lost.append(Lost(f"date of trial {trial.id}", why))
    runs: dict[str, list[tuple[int, Run]]] = {key: [] for key in known}
    for row, run in enumerate(job.runs, start=1):
        if run.trial in runs:
            runs[run.trial].append((row, run))
        else:
            lost.append(Lost(f"run {row}", f'there is no trial "{run.trial}"'))
    results = [_result(job, catalogue, known[key], runs[key], lost) for key in known]
    return TrialLog(_in_order(results), tuple(lost))


def _in_order(results: list[TrialResult]) -> tuple[TrialResult, ...]:
    dates = [_date(item.trial.date) for item in results]
    if any(date is None for date in dates):
        return tuple(results)
    pairs = sorted(zip(dates, range(len(results)), strict=True), key=lambda pair: str(pair[0]))
    return tuple(results[index] for _, index in pairs)


def _date(typed: str) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(typed.strip()[:10])
    except ValueError:
        return None


def _result(
    job: Job, catalogue: Catalogue, trial: Trial, runs: Sequence[tuple[int, Run]], lost: list[Lost]
) -> TrialResult:
    engine, name = _engine(job, trial, lost)
    gear, band, origin = _from_engine(job, catalogue, trial, engine)
    found = []
    for row, run in runs:
        if run.rpm is None:
            lost.append(Lost(f"run {row}", "it has no engine speed"))
            continue
        ways = [way.value for way in (run.speed_there, run.speed_back) if way is not None]
        if ways and not any(ways) and run.rpm.value >= _UNDER_WAY_RPM:
            why = "it is 0 under power; leave it empty where it was not read"
            lost.append(Lost(f"speed of run {row}", why))
        found.append(_run_result(trial, run, row, run.rpm, gear))
    found.sort(key=lambda item: (item.rpm.value, item.row))
    return TrialResult(trial, engine, name, gear, band, origin, tuple(found))


def _engine(job: Job, trial: Trial, lost: list[Lost]) -> tuple[str, str]:
    named = trial.engine.strip()
    if not named:
        return "", "engine not said"
    if named.casefold() == OLD:
        return OLD, "old engine"
    for candidate in job.engines:
        if candidate.id == named:
            more = f" ({candidate.name})" if candidate.name else ""
            return named, f"engine {named}{more}"
    lost.append(Lost(f"engine of trial {trial.id}", f'there is no engine "{named}"'))
    return "", f'unknown engine "{named}"'


def _from_engine(
    job: Job, catalogue: Catalogue, trial: Trial, engine: str
) -> tuple[Reading | None, Band | None, Origin]:
    """Return gear ratio and band with its origin: of the trial, the engine, else of its class."""
    gear, band = trial.gear_ratio, _band(trial.wot_low, trial.wot_high)
    if engine in ("", OLD):
        return gear, band, Origin.STATED
    candidate = job.engine(engine)
    gear = gear or candidate.gear_ratio
    band = band or _band(candidate.wot_low, candidate.wot_high)
    if gear is not None and band is not None:
        return gear, band, Origin.STATED
    try:
        typical = catalogue.engine_class(candidate.engine_class)
    except ProfileError:
        return gear, band, Origin.STATED
    gear = gear or Reading(typical.gear_ratio, CLASS_GEAR_SPREAD, Origin.CLASS)
    if band is not None:
        return gear, band, Origin.STATED
    return gear, Band(typical.wot_low_rpm, typical.wot_high_rpm), Origin.CLASS


def _band(low: Reading | None, high: Reading | None) -> Band | None:
    """Return a band from both its ends; ends in the wrong order are none."""
    if low is None or high is None or low.value >= high.value:
        return None
    return Band(low.value, high.value)


def _run_result(trial: Trial, run: Run, row: int, rpm: Reading, gear: Reading | None) -> RunResult:
    speed = two_way(run.speed_there, run.speed_back)
    lost = per_mile = None
    if speed is not None and speed.value > 0.0:
        # Taken as rectangular with the same expanded uncertainty, so that it stays what it is.
        way = Reading(speed.value, half_width(speed.tolerance))
        if trial.pitch is not None and gear is not None:
            lost = slip_of(way, rpm, trial.pitch, gear)
        if run.fuel_flow is not None:
            per_mile = litres_a_mile(run.fuel_flow, way)
    return RunResult(run, row, rpm, speed, lost, per_mile, run.mass_aboard or trial.mass_aboard)


# A form works the log out anew at every key; of all runs only one has changed then.
@lru_cache(maxsize=4096)
def slip_of(speed: Reading, rpm: Reading, pitch: Reading, gear: Reading) -> Estimate:
    """Return the slip with its tolerance; see ``propeller.slip``."""
    return estimate(
        lambda at: slip(at["speed"], at["rpm"], at["pitch"], at["gear"]),
        {"speed": speed, "rpm": rpm, "pitch": pitch, "gear": gear},
    )


@lru_cache(maxsize=4096)
def litres_a_mile(flow: Reading, speed: Reading) -> Estimate:
    """Return litres a nautical mile from L/h and kn (> 0)."""
    return estimate(lambda at: at["flow"] / max(at["speed"], 1e-3), {"flow": flow, "speed": speed})


# ------------------------------------------------------------------ between trials


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that was not the same in two trials.

    :param name: what.
    :param before: and ``after``, in words or as amounts.
    :param is_change: True for something somebody set: engine, height, propeller; False for the
        day: load, wind, water, instruments.
    """

    name: str
    before: str | Amount
    after: str | Amount
    is_change: bool


def differences(first: TrialResult, second: TrialResult) -> tuple[Difference, ...]:
    """Return everything known to differ between two trials; what was not said is not known."""
    a, b = first.trial, second.trial
    found: list[Difference] = []
    length = Kind.LENGTH

    def words(name: str, before: str, after: str, *, change: bool) -> None:
        blank = ("", NOT_SAID)
        if before not in blank and after not in blank and before.casefold() != after.casefold():
            found.append(Difference(name, before, after, change))

    def numbers(
        name: str, before: Reading | None, after: Reading | None, least: float, kind: Kind, *,
        change: bool,
    ) -> None:  # fmt: skip
        if before is None or after is None or abs(before.value - after.value) <= least:
            return
        pair = (Amount(before.value, kind), Amount(after.value, kind))
        found.append(Difference(name, *pair, change))

    words("engine", first.engine, second.engine, change=True)
    if first.engine == second.engine and a.row is not None and b.row is not None and a.row != b.row:
        found.append(Difference("bolt row", str(a.row), str(b.row), is_change=True))
    elif first.engine == second.engine and (a.row is None or b.row is None):
        numbers(
            "height of the plate", a.plate_height, b.plate_height, PLATE_MM, length, change=True
        )
    numbers("pitch", a.pitch, b.pitch, _PITCH_MM, length, change=True)
    numbers("diameter", a.diameter, b.diameter, _PITCH_MM, length, change=True)
    words("propeller", a.propeller, b.propeller, change=True)
    words("trim of the engine", _trim(first), _trim(second), change=True)
    if a.mass_aboard is not None and b.mass_aboard is not None:
        least = MASS_SHARE * max(a.mass_aboard.value, b.mass_aboard.value)
        numbers("mass aboard", a.mass_aboard, b.mass_aboard, least, Kind.MASS, change=False)
    numbers("wind", a.wind, b.wind, WIND_KN, Kind.SPEED, change=False)
    words("state of the water", a.water, b.water, change=False)
    words("where speed was read", a.speed_from, b.speed_from, change=False)
    return tuple(found)


_WITH_ENGINE = ("bolt row", "height of the plate", "pitch", "diameter", "propeller")


def counted(found: Sequence[Difference]) -> tuple[Difference, ...]:
    """Return the differences that count as changes of their own: another engine brings its height
    and its propeller along.
    """
    if all(item.name != "engine" for item in found):
        return tuple(found)
    return tuple(item for item in found if item.name not in _WITH_ENGINE)


def difference_words(found: Sequence[Difference]) -> Phrase:
    """Return differences as one phrase: "bolt row (2 to 3), pitch (17 in to 15 in)"."""
    parts, amounts = [], dict[str, Amount | str]()
    for place, item in enumerate(found):
        parts.append(f"{item.name} ({{before{place}}} to {{after{place}}})")
        amounts[f"before{place}"], amounts[f"after{place}"] = item.before, item.after
    return Phrase(", ".join(parts), amounts)


def _trim(result: TrialResult) -> str:
    """Return the trim of the run at full throttle, else the one all runs share, else ""."""
    if result.wot is not None:
        return result.wot.run.trim
    trims = {run.run.trim for run in result.runs}
    return trims.pop() if len(trims) == 1 else ""


def unsaid(first: TrialResult, second: TrialResult) -> tuple[str, ...]:
    """Return what one of two trials does not say, though it could differ."""
    a, b = first.trial, second.trial
    asked = (
        ("height of the engine", a.row or a.plate_height, b.row or b.plate_height),
        ("pitch", a.pitch, b.pitch),
        ("mass aboard", a.mass_aboard, b.mass_aboard),
    )
    return tuple(name for name, one, other in asked if one is None or other is None)


@dataclass(frozen=True, slots=True)
class Gain:
    """How much faster the second of two trials was at one engine speed.

    :param gain: kn, with its tolerance.
    """

    rpm: float
    gain: float
    tolerance: float

    @property
    def is_clear(self) -> bool:
        """True where it is more than its tolerance."""
        return abs(self.gain) > self.tolerance


def gains(first: TrialResult, second: TrialResult) -> tuple[Gain, ...]:
    """Return what the second trial gained at each of its engine speeds that the first spans.

    The first trial's speed is read from straight lines between its runs, so it tells nothing
    outside them.
    """
    line = curve(first)
    found = []
    for run in second.runs:
        if run.speed is None:
            continue
        at = _between(line, run.rpm.value)
        if at is not None:
            spread = math.hypot(run.speed.tolerance, at[1])
            found.append(Gain(run.rpm.value, run.speed.value - at[0], spread))
    return tuple(found)


def curve(result: TrialResult) -> tuple[tuple[float, float, float], ...]:
    """Return (rpm, speed kn, tolerance kn) in order; runs at one engine speed are averaged."""
    groups: dict[float, list[Speed]] = {}
    for run in result.runs:
        if run.speed is not None:
            groups.setdefault(run.rpm.value, []).append(run.speed)
    points = []
    for rpm, speeds in sorted(groups.items()):
        count = len(speeds)
        mean = sum(speed.value for speed in speeds) / count
        points.append((rpm, mean, math.hypot(*(speed.tolerance for speed in speeds)) / count))
    return tuple(points)


def _between(line: Sequence[tuple[float, float, float]], rpm: float) -> tuple[float, float] | None:
    for low, high in pairwise(line):
        if low[0] <= rpm <= high[0]:
            part = (rpm - low[0]) / (high[0] - low[0])
            value = low[1] + part * (high[1] - low[1])
            return value, max(low[2], high[2])
    for point in line:
        if point[0] == rpm:
            return point[1], point[2]
    return None


@dataclass(frozen=True, slots=True)
class Held:
    """What was expected at full throttle against what was measured.

    :param kind: "speed" in kn or "engine speed" in rpm.
    """

    kind: str
    expected: Reading
    measured: float
    tolerance: float

    @property
    def agrees(self) -> bool:
        """True where both agree within their tolerances."""
        room = self.tolerance + self.expected.tolerance
        return abs(self.measured - self.expected.value) <= room


def held_against(result: TrialResult) -> tuple[Held, ...]:
    """Return expectation against measurement at full throttle, as far as both are there."""
    wot, trial = result.wot, result.trial
    if wot is None:
        return ()
    found = []
    if trial.expected_speed is not None and wot.speed is not None:
        found.append(Held("speed", trial.expected_speed, wot.speed.value, wot.speed.tolerance))
    if trial.expected_rpm is not None:
        spread = expanded(wot.rpm.tolerance)
        found.append(Held("engine speed", trial.expected_rpm, wot.rpm.value, spread))
    return tuple(found)
