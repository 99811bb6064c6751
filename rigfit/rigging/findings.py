"""Findings: one checked question each, with verdict, number, limit, margin, tolerance and source.

A finding never holds finished text with units. Its sentence is a ``Phrase`` with named amounts in
base units, which ``rigfit.wording`` renders in the units that the job asks for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType

from rigfit.units import Kind


class Verdict(Enum):
    """The four answers; the order of definition is from best to worst."""

    FITS = "fits"
    TIGHT = "tight"
    UNKNOWN = "unknown"
    STOPS = "stops"

    @property
    def rank(self) -> int:
        """0 for ``fits`` up to 3 for ``stops``."""
        return _RANKS[self]


_RANKS = {verdict: rank for rank, verdict in enumerate(Verdict)}


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the worst of some verdicts; with none at all the answer is ``unknown``."""
    ranked = sorted(verdicts, key=lambda verdict: verdict.rank)
    return ranked[-1] if ranked else Verdict.UNKNOWN


def at_best(verdict: Verdict, ceiling: Verdict) -> Verdict:
    """Return ``verdict``, but never better than ``ceiling``."""
    return worst((verdict, ceiling))


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its kind, in that kind's base unit; ``signed`` prints a plus sign."""

    value: float
    kind: Kind
    signed: bool = False


@dataclass(frozen=True, slots=True)
class Phrase:
    """A sentence with named places for amounts: ``Phrase("{gap} of hook", gap=mm(4.0))``.

    :param text: the sentence; every ``{name}`` must be a key of ``amounts``.
    :param amounts: amounts in base units, or plain words.
    """

    text: str
    amounts: Mapping[str, Amount | str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "amounts", MappingProxyType(dict(self.amounts)))


def phrase(text: str, **amounts: Amount | str) -> Phrase:
    """Return a phrase from a template and its named amounts."""
    return Phrase(text, amounts)


def listed(words: Sequence[str]) -> str:
    """Return words as a list for a sentence: "a", "a and b", "a, b and c"."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def mm(value: float, *, signed: bool = False) -> Amount:
    """Return a length amount in millimetres."""
    return Amount(value, Kind.LENGTH, signed=signed)


def kg(value: float) -> Amount:
    """Return a mass amount."""
    return Amount(value, Kind.MASS)


def kn(value: float) -> Amount:
    """Return a speed amount."""
    return Amount(value, Kind.SPEED)


def rpm(value: float) -> Amount:
    """Return an engine-speed amount."""
    return Amount(value, Kind.ROTATION)


def deg(value: float, *, signed: bool = False) -> Amount:
    """Return an angle amount in degrees."""
    return Amount(value, Kind.ANGLE, signed=signed)


@dataclass(frozen=True, slots=True)
class Finding:
    """One checked question and its answer.

    :param code: number in its band (1xx measurements, 2xx leg and plate, 3xx holes ...).
    :param subject: "boat" or the candidate engine's id.
    :param title: the question in three or four words.
    :param verdict: the answer.
    :param sentence: the answer in words.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param kind: kind of ``value``, ``low``, ``high``, ``margin`` and ``tolerance`` (base units).
    :param value: the number that was judged, or None where a measurement is missing.
    :param low: lower limit, or None where there is none.
    :param high: upper limit, or None where there is none.
    :param margin: distance from the value to the nearest limit, negative outside.
    :param tolerance: expanded uncertainty of the value (k = 2).
    :param needs: keys of the measurements that decide it ("transom.rake").
    :param settle: the tape reading that would settle it, or None.
    :param working: how the number came about, line by line.
    """

    code: int
    subject: str
    title: str
    verdict: Verdict
    sentence: Phrase
    source: str
    kind: Kind = Kind.LENGTH
    value: float | None = None
    low: float | None = None
    high: float | None = None
    margin: float | None = None
    tolerance: float | None = None
    needs: tuple[str, ...] = ()
    settle: Phrase | None = None
    working: tuple[Phrase, ...] = ()

    @property
    def limit(self) -> float | None:
        """The limit nearest to the value: the one the margin is counted from."""
        if self.value is None or self.low is None:
            return self.high if self.high is not None else self.low
        if self.high is None:
            return self.low
        return self.low if self.value - self.low < self.high - self.value else self.high


@dataclass(frozen=True, slots=True)
class Limits:
    """A band [low, high] that must hold, inside a wider band that is still tolerated.

    :param low: lower end of the band, or None for no lower limit.
    :param high: upper end of the band, or None.
    :param outer_low: lower end of what is tolerated; None means the same as ``low``.
    :param outer_high: upper end of what is tolerated; None means the same as ``high``.
    """

    low: float | None = None
    high: float | None = None
    outer_low: float | None = None
    outer_high: float | None = None

    def margin(self, value: float) -> float:
        """Return the distance to the nearest end of the band, negative outside it."""
        return _margin(value, self.low, self.high)

    def outer_margin(self, value: float) -> float:
        """Return the distance to the nearest end of the tolerated band, negative outside it."""
        low = self.low if self.outer_low is None else self.outer_low
        high = self.high if self.outer_high is None else self.outer_high
        return _margin(value, low, high)

    def judge(self, value: float, tolerance: float) -> Verdict:
        """Return the verdict on a value known to +/- tolerance.

        ``fits`` inside the band by more than the tolerance; ``tight`` inside it by less, in the
        tolerated reserve beside it, or outside by no more than the tolerance; ``stops`` beyond.
        """
        if self.margin(value) >= tolerance and self.margin(value) >= 0.0:
            return Verdict.FITS
        if self.outer_margin(value) >= -tolerance:
            return Verdict.TIGHT
        return Verdict.STOPS


def _margin(value: float, low: float | None, high: float | None) -> float:
    ends = [value - low] if low is not None else []
    ends += [high - value] if high is not None else []
    return min(ends, default=float("inf"))
