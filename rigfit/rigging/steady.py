"""Steady stretches of speed in a track, and which run of a trial each belongs to.

Times are seconds since 1970 (UTC), speeds knots, courses degrees from north. Only what stays inside
a narrow band for long enough is offered; nothing is put into a run that has a speed already.
"""

from __future__ import annotations

import datetime
import math
import re
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin, Reading
from rigfit.rigging.tolerance import expanded, half_width
from rigfit.rigging.trial_fields import SPEED_READING, Run

LEAST_SECONDS = 20.0
BAND_KN, BAND_SHARE = 0.6, 0.03
"""A stretch is steady while all its speeds lie within twice the larger of these."""

LEAST_KN = 2.0
TURN_DEG = 40.0
_TURN_COS = math.cos(math.radians(TURN_DEG))
LONGEST_GAP_S = 5.0
NEAR_S = 45.0
"""How far from a typed time its stretch may begin."""

BACK_WITHIN_S = 900.0
BACK_DEG = 35.0
BACK_SHARE = 0.3
"""What makes a stretch the way back: soon, on about the opposite course, at a like speed."""

_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch held at one speed.

    :param start: and ``end``, s.
    :param mean: kn.
    :param spread: expanded uncertainty of the mean (k = 2) from how the speeds scatter, at least
        that of one reading of the display.
    :param course: mean course, degrees; None where it is not known or she turned.
    """

    start: float
    end: float
    mean: float
    spread: float
    course: float | None

    @property
    def seconds(self) -> float:
        """How long it was held."""
        return self.end - self.start

    @property
    def clock(self) -> str:
        """Its start as a time of day, UTC."""
        return datetime.datetime.fromtimestamp(self.start, datetime.UTC).strftime("%H:%M:%S")


def steady_stretches(
    times: Sequence[float], speeds: Sequence[float], courses: Sequence[float] = ()
) -> tuple[Stretch, ...]:
    """Return the steady stretches of a track in order of time, one pass over its points.

    A stretch ends where a speed leaves the band, where she turns by ``TURN_DEG``, where the log has
    a gap of more than ``LONGEST_GAP_S``, or at its end. It counts from ``LEAST_SECONDS`` on and
    ``LEAST_KN`` up.

    :param times: not falling.
    """
    found: list[Stretch] = []
    low: deque[int] = deque()
    high: deque[int] = deque()
    start = 0
    heading = _Heading()
    for i, speed in enumerate(speeds):
        gap = i > 0 and times[i] - times[i - 1] > LONGEST_GAP_S
        turned = heading.turns(courses[i] if courses else math.nan)
        if gap or turned:
            found += _stretch(times, speeds, courses, start, i)
            start = i
            low.clear()
            high.clear()
        _keep(low, speeds, i, rising=True)
        _keep(high, speeds, i, rising=False)
        room = 2.0 * max(BAND_KN, BAND_SHARE * speed)
        if speeds[high[0]] - speeds[low[0]] > room:
            done = _stretch(times, speeds, courses, start, i)
            found += done
            start = i if done else start + 1
            while speeds[high[0]] - speeds[low[0]] > room or min(low[0], high[0]) < start:
                start = max(start, min(low[0], high[0]) + 1)
                _forget(low, start)
                _forget(high, start)
    found += _stretch(times, speeds, courses, start, len(speeds))
    return tuple(found)


class _Heading:
    """The course held lately; tells when she turns off it."""

    def __init__(self) -> None:
        self._north = self._east = 0.0

    def turns(self, course: float) -> bool:
        """Take the next course, nan where not known; True where it is ``TURN_DEG`` off."""
        if math.isnan(course):
            return False
        north, east = math.cos(math.radians(course)), math.sin(math.radians(course))
        held = math.hypot(self._north, self._east)
        along = self._north * north + self._east * east
        if held > 0.0 and along < held * _TURN_COS:
            self._north, self._east = north, east
            return True
        self._north = 0.8 * self._north + 0.2 * north
        self._east = 0.8 * self._east + 0.2 * east
        return False


def _keep(queue: deque[int], speeds: Sequence[float], i: int, *, rising: bool) -> None:
    while queue and (speeds[queue[-1]] >= speeds[i] if rising else speeds[queue[-1]] <= speeds[i]):
        queue.pop()
    queue.append(i)


def _forget(queue: deque[int], start: int) -> None:
    while queue and queue[0] < start:
        queue.popleft()


def _stretch(
    times: Sequence[float], speeds: Sequence[float], courses: Sequence[float], start: int, stop: int
) -> list[Stretch]:
    """Return the stretch of points start to stop - 1, or none where it is too short or slow."""
    count = stop - start
    if count < 3 or times[stop - 1] - times[start] < LEAST_SECONDS:
        return []
    part = speeds[start:stop]
    mean = math.fsum(part) / count
    if mean < LEAST_KN:
        return []
    scatter = math.sqrt(math.fsum((speed - mean) ** 2 for speed in part) / (count - 1))
    # Neighbouring points are not independent: five seconds count as one of them.
    free = max(1.0, (times[stop - 1] - times[start]) / 5.0)
    spread = max(2.0 * scatter / math.sqrt(free), expanded(SPEED_READING))
    return [Stretch(times[start], times[stop - 1], mean, spread, _course(courses[start:stop]))]


def _course(courses: Sequence[float]) -> float | None:
    known = [math.radians(course) for course in courses if not math.isnan(course)]
    if not known:
        return None
    north, east = (math.fsum(f(c) for c in known) / len(known) for f in (math.cos, math.sin))
    if math.hypot(north, east) < 0.9:  # she did not hold it
        return None
    return math.degrees(math.atan2(east, north)) % 360.0


def way_back(stretch: Stretch, others: Sequence[Stretch]) -> Stretch | None:
    """Return the stretch that is the way back of another: the next on the opposite course."""
    if stretch.course is None:
        return None
    for other in others:
        if not 0.0 <= other.start - stretch.end <= BACK_WITHIN_S or other.course is None:
            continue
        turn = abs((other.course - stretch.course) % 360.0 - 180.0)
        if turn <= BACK_DEG and abs(other.mean - stretch.mean) <= BACK_SHARE * stretch.mean:
            return other
    return None


@dataclass(frozen=True, slots=True)
class Matched:
    """A job with speeds from a track, and what was done, sentence by sentence."""

    job: Job
    told: tuple[str, ...]
    count: int


def with_speeds(job: Job, stretches: Sequence[Stretch], trial: str) -> Matched:
    """Return the job with speeds put into the runs of a trial that have a time and no speed.

    The stretch that begins nearest to the time, within ``NEAR_S``, is the way there; the next on
    the opposite course is the way back. A time without a date is taken on the day of the track.
    """
    runs = list(job.runs)
    told: list[str] = []
    count = 0
    for index, run in enumerate(runs):
        if run.trial != trial or run.rpm is None:
            continue
        name = f"Run {index + 1} at {run.rpm.value:.0f} rpm"
        new, words = _with_speed(run, stretches)
        told.append(f"{name}: {words}.")
        if new is not None:
            runs[index] = new
            count += 1
    return Matched(replace(job, runs=tuple(runs)), tuple(told), count)


def _with_speed(run: Run, stretches: Sequence[Stretch]) -> tuple[Run | None, str]:
    if not run.time.strip():
        return None, "it has no time, so no stretch was sought"
    if run.speed_there is not None:
        return None, "it has a speed already, which is kept"
    there, why = nearest(run.time, stretches)
    if there is None:
        return None, why
    new = replace(run, speed_there=_reading(there))
    words = f"{there.mean:.1f} kn there from {there.clock}"
    back = way_back(there, stretches)
    if run.speed_back is not None:
        return new, words + ", the way back is kept as typed"
    if back is None:
        return new, words + ", no way back was found"
    return replace(new, speed_back=_reading(back)), (
        words + f", {back.mean:.1f} kn back from {back.clock}"
    )


def _reading(stretch: Stretch) -> Reading:
    spread = round(half_width(stretch.spread), 2)
    value = round(stretch.mean, 2)
    typed = f"{value:g} ± {spread:g} kn"
    return Reading(value, spread, Origin.MEASURED, typed, tolerance_typed=True)


def nearest(typed: str, stretches: Sequence[Stretch]) -> tuple[Stretch | None, str]:
    """Return the stretch that begins nearest to a typed time, or None and why there is none."""
    if not stretches:
        return None, "the track has no steady stretch"
    wanted = _moment(typed, stretches[0].start)
    if wanted is None:
        return None, f'its time "{typed[:40]}" cannot be read; write it like 14:32:10'
    best = min(stretches, key=lambda item: _away(wanted, item))
    if _away(wanted, best) > NEAR_S:
        return None, (
            f"no steady stretch begins within {NEAR_S:.0f} s of {typed}; the nearest begins at "
            f"{best.clock} UTC"
        )
    return best, ""


def _away(moment: float, stretch: Stretch) -> float:
    """Return how far a time is from a stretch, s; 0 inside it."""
    return max(0.0, stretch.start - moment, moment - stretch.end)


def _moment(typed: str, day: float) -> float | None:
    """Return a time of day, or a full date and time, as s since 1970; UTC where no zone is said."""
    text = typed.strip()
    clock = _CLOCK.fullmatch(text)
    try:
        if clock is not None:
            base = datetime.datetime.fromtimestamp(day, datetime.UTC)
            hours, minutes, seconds = (int(part or 0) for part in clock.groups())
            moment = base.replace(hour=hours, minute=minutes, second=seconds, microsecond=0)
            around = (moment + datetime.timedelta(days=shift) for shift in (-1, 0, 1))
            return min((item.timestamp() for item in around), key=lambda item: abs(item - day))
        moment = datetime.datetime.fromisoformat(text)
    except ValueError:
        return None
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=datetime.UTC)
    return moment.timestamp()
