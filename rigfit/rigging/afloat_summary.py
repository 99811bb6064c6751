"""Everything that is said of a boat afloat in one place: heights, masses until wet, moves, test.

The findings judge; this is what tables, data and the command ``afloat`` show beside them.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.afloat import Flotation, MarkHeight, Trouble, flotation_of
from rigfit.rigging.case import Case
from rigfit.rigging.checks_flotation import doubts, limits_of, mark_verdict
from rigfit.rigging.findings import Phrase, Verdict
from rigfit.rigging.margins import (
    FloatTest,
    PodBalance,
    WetAt,
    float_test,
    kilograms_until_wet,
    person_aft,
    pod_balance,
)
from rigfit.rigging.suggestions import FORWARD_MM, Suggestion, mass_for_gain_kg, suggestions

_LEAST_MM = 1.0


@dataclass(frozen=True, slots=True)
class MarkSummary:
    """One mark with all that is said of it.

    :param mark: its heights above the water.
    :param wanted_mm: how high it should be.
    :param wet_kg: mass at the transom that brings it to the water; 0 where it is wet already,
        None where it stays dry under all that was tried.
    :param aft_mm: its height with one more person aft; None where she swamps.
    :param verdict: of its height afterwards.
    """

    mark: MarkHeight
    wanted_mm: float
    wet_kg: float | None
    aft_mm: float | None
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class AfloatSummary:
    """How she floats, with what follows from it.

    :param marks: in the order of the flotation.
    :param first_wet: the mark that gets wet first under mass at the transom, None where none does.
    :param lifted: the mark whose shortage the moves are to make good; None where none is short,
        and the moves are to undo what the change sinks the transom.
    :param wanted_mm: what the moves are to lift the transom by; 0 where nothing is to be moved.
    :param moves: listed masses that could go forward, the shortest way that is enough first.
    :param any_kg: what mass, moved forward by ``FORWARD_MM``, would be enough; None where none is.
    :param undo_kg: what mass, moved forward as far, undoes what the change sinks the transom; None
        where it does not sink it, or none does.
    :param test: what to do and read at a float test.
    :param pod: a closed pod against what hangs on it.
    :param doubts: where readings contradict each other.
    """

    flotation: Flotation
    marks: tuple[MarkSummary, ...]
    first_wet: WetAt | None
    lifted: MarkHeight | None
    wanted_mm: float
    moves: tuple[Suggestion, ...]
    any_kg: float | None
    undo_kg: float | None
    test: FloatTest
    pod: PodBalance | None
    doubts: tuple[Phrase, ...]


def summary_of(case: Case) -> AfloatSummary | Trouble | None:
    """Return how she floats; None where nothing is entered, else what stands in the way."""
    found = flotation_of(case)
    if not isinstance(found, Flotation):
        return found
    wet = kilograms_until_wet(found)
    marks = _marks(found, wet)
    sinks = found.stern_mm.value if found.stern_mm else 0.0
    short = max(marks, key=lambda item: item.wanted_mm - item.mark.after.value, default=None)
    lifted, wanted = None, sinks
    if short is not None and short.mark.after.value < short.wanted_mm:
        lifted, wanted = short.mark, short.wanted_mm - short.mark.after.value
    wanted = wanted if wanted >= _LEAST_MM else 0.0
    first = wet[0] if wet and wet[0].kg is not None else None
    return AfloatSummary(
        found, marks, first, lifted, wanted,
        suggestions(case, found, wanted) if wanted else (),
        mass_for_gain_kg(found, FORWARD_MM, wanted) if wanted else None,
        mass_for_gain_kg(found, FORWARD_MM, sinks) if sinks >= _LEAST_MM else None,
        float_test(found), pod_balance(found), tuple(doubts(case, found)),
    )  # fmt: skip


def _marks(flotation: Flotation, wet: tuple[WetAt, ...]) -> tuple[MarkSummary, ...]:
    aft = person_aft(flotation)
    found = []
    for index, mark in enumerate(flotation.marks):
        low = limits_of(mark).low
        found.append(
            MarkSummary(
                mark,
                0.0 if low is None else low,
                next((item.kg for item in wet if item.mark is mark), None),
                aft[index] if aft is not None else None,
                mark_verdict(flotation, mark),
            )
        )
    return tuple(found)
