"""Check 507: masses that can hardly be meant, each named with the reading to look at again."""

from __future__ import annotations

from rigfit.rigging.case import Case
from rigfit.rigging.checks_load import PERSON_LEAST_KG, PERSON_MOST_KG
from rigfit.rigging.findings import Finding, Phrase, Verdict, kg, mm, phrase
from rigfit.rigging.load_rules import persons_by_size
from rigfit.rigging.masses import masses_after
from rigfit.units import Kind

PERSON_KG = 75.0
"""One person, as Canada's study guide reckons."""

CREW_TIMES = 1.3
"""Crew beyond this many times what size suggests is looked at again (estimate)."""

LENGTH_TO_BEAM = 2.2
"""Length over beam of small open boats, where no beam was entered (estimate)."""


def check_masses(case: Case) -> tuple[Finding, ...]:
    """507: masses that can hardly be meant, each named with the reading to check."""
    doubts = [doubt for doubt in (*_crew_doubts(case), *_item_doubts(case)) if doubt is not None]
    if not doubts:
        return ()
    fields = tuple(dict.fromkeys(name for _, names in doubts for name in names))
    first, *others = (words for words, _ in doubts)
    return (
        Finding(
            code=507,
            subject="boat",
            title="masses as entered",
            verdict=Verdict.UNKNOWN,
            sentence=first,
            source="load-sense",
            kind=Kind.MASS,
            needs=fields,
            settle=phrase("Check the reading and its unit; write it again if it is meant."),
            working=tuple(others),
        ),
    )


Doubt = tuple[Phrase, tuple[str, ...]]


def _crew_doubts(case: Case) -> list[Doubt]:
    """Return doubts about people: too many kilograms for the boat, or for one person."""
    job = case.job
    doubts: list[Doubt] = []
    crew = [item for item in masses_after(case).of_kind("crew") if item.mass.value > 0.0]
    total = sum(item.mass.value for item in crew)
    length = job.boat.length
    if length is not None and crew:
        beam = job.rules.beam or job.rules.transom_width
        beam_mm = beam.value if beam else length.value / LENGTH_TO_BEAM
        likely = max(1, persons_by_size(length.value, beam_mm)) * PERSON_KG
        if total > CREW_TIMES * likely:
            text = "{total} of people in a boat of {length} is hard to believe: her size suggests "
            text += "some {likely}."
            amounts = {"total": kg(total), "length": mm(length.value), "likely": kg(likely)}
            doubts.append((phrase(text, **amounts), ("mass.mass", "boat.length")))
    for item in crew:
        each = item.mass.value / item.persons if item.persons else None
        if each is not None and not PERSON_LEAST_KG <= each <= PERSON_MOST_KG:
            text = "{name}: {mass} for {number} makes {each} a person."
            doubts.append(
                (
                    phrase(
                        text, name=item.name, mass=kg(item.mass.value), each=kg(each),
                        number=str(item.persons),
                    ),
                    ("mass.mass", "mass.persons"),
                )
            )  # fmt: skip
    return doubts


def _item_doubts(case: Case) -> list[Doubt]:
    """Return doubts about single entries: outside the boat, or a volume that counts nothing."""
    length = case.job.boat.length
    doubts: list[Doubt] = []
    for number, item in enumerate(case.job.masses, start=1):
        name = item.name or f"{item.kind} {number}"
        ahead = item.ahead_of_transom
        if length is not None and ahead is not None and ahead.value > length.value:
            text = "{name} is placed {ahead} ahead of the transom, beyond the bow of a boat of "
            text += "{length}."
            words = phrase(text, name=name, ahead=mm(ahead.value), length=mm(length.value))
            doubts.append((words, ("mass.ahead_of_transom", "boat.length")))
        if item.volume is not None and item.kind != "fuel tank":
            text = "{name} has a volume, which only counts for a fuel tank."
            doubts.append((phrase(text, name=name), ("mass.volume", "mass.kind")))
    return doubts
