"""What to do next after a sea trial, above the findings: one thing, with why and what it may do.

What comes after it, the cautions and the sources unfold. The next trial can be put down from here:
with the engine and propeller of the last one, the one change, and what is reckoned for it.
"""

from __future__ import annotations

import tkinter as tk
from dataclasses import replace
from typing import Any

from rigfit.desk.aid_parts import Paragraphs
from rigfit.desk.draft import Address
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Rule, space
from rigfit.desk.panel_parts import SIDE, Flow, Linked, Words
from rigfit.desk.trial_rows import SAFETY
from rigfit.desk.workbench import Workbench
from rigfit.errors import EntryError
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import Gain, TrialResult, gains, trial_log
from rigfit.rigging.trial_advice import Advice, Step, advice_on
from rigfit.sources import cite
from rigfit.units import Kind, Shown, from_base
from rigfit.wording import say

_COPIED = (
    "engine", "row", "propeller", "pitch", "diameter", "gear_ratio", "wot_low", "wot_high",
    "mass_aboard", "speed_from", "rpm_checked",
)  # fmt: skip
"""What a planned trial takes from the one before: all that is not to change but one thing."""

_CHANGED = {
    Step.SAFETY: ("row",),
    Step.LOAD: ("mass_aboard",),
    Step.HEIGHT: ("row",),
    Step.PITCH: ("propeller", "pitch", "diameter"),
    Step.KEEP: ("mass_aboard",),
}
_MORE, _LESS = "Why, and what to expect", "Less"
_LONGEST_CHANGE, _MOST_GAINS = 200, 6

Said = tuple[str, Any]


def advice_of(report: EngineReport | None) -> tuple[Advice, ...]:
    """Return the advice on the engine of a report, first things first; () without a trial of it."""
    if report is None or not report.case.job.runs:
        return ()
    case = report.case
    return advice_on(case, trial_log(case.job, case.catalogue))


def detail_words(found: tuple[Advice, ...], style: Shown, gained: str = "") -> list[Said]:
    """Return why the first of the advice is given, what to expect, and what comes after it.

    :param gained: how the newest trial did against the one before it, a sentence.
    """
    first, *rest = found
    words: list[Said] = [
        (f"Why: {say(first.why, style)}", "text"),
        (f"Expected: {say(first.effect, style)}", "text"),
        (f"Against it would speak: {say(first.against, style)}", "text"),
        (f"Source: {cite(first.source)}", "dim"),
        (gained, "text"),
    ]
    if rest:
        words.append(("After that, one thing to a trial:", "text"))
    for place, item in enumerate(rest, start=2):
        words.append((f"{place}. {_begun(item.step.value)}: {say(item.what, style)}", "dim"))
        words.append((f"Why: {say(item.why, style)}", "dim"))
    words += [(line, "warn") for line in SAFETY]
    return words


def gain_words(report: EngineReport, style: Shown) -> str:
    """Return how much faster the newest trial was than the one before it, "" without such.

    Gains within their tolerance are said to be.
    """
    case = report.case
    log = trial_log(case.job, case.catalogue)
    ours = log.of_engine(case.candidate.id)
    before = [item for item in log.trials if item.runs]
    before = before[: before.index(ours[-1])] if ours else []
    if not before:
        return ""
    first, last = before[-1], ours[-1]
    found = gains(first, last)
    if not found:
        return ""
    said = [_gain(item, style) for item in found[:_MOST_GAINS]]
    more = f" and {len(found) - len(said)} more" if len(found) > len(said) else ""
    return f"Trial {last.trial.id} against {first.trial.id}: {', '.join(said)}{more}."


def _gain(item: Gain, style: Shown) -> str:
    gain, spread = (
        from_base(part, style.speeds, Kind.SPEED) for part in (item.gain, item.tolerance)
    )
    doubt = "" if item.is_clear else " (within tolerance)"
    return f"{gain:+.1f} ± {spread:.1f} {style.speeds} at {item.rpm:.0f} rpm{doubt}"


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


def planned(
    bench: Workbench, report: EngineReport, last: TrialResult, first: Advice
) -> dict[str, str]:
    """Return the texts of the next trial: as the last one, with the one change and the estimate."""
    from rigfit.desk.trial_entry import free_id

    draft, job = bench.draft, report.case.job
    ids = [draft.text(Address("trial", "id", at)).strip() for at in range(len(draft.rows("trial")))]
    at = ids.index(last.trial.id)
    texts = {name: draft.text(Address("trial", name, at)) for name in _COPIED}
    texts["id"] = free_id(draft)
    change = say(first.what, bench.style) if first.is_change else "nothing"
    texts["change"] = change[:_LONGEST_CHANGE]
    if first.step is not Step.PITCH:
        texts |= _expected(report, job, texts["id"])
    for name in _CHANGED.get(first.step, ()):
        texts[name] = ""  # that is what changes, and nobody has said to what
    return {name: text for name, text in texts.items() if text}


def _expected(report: EngineReport, job: Any, trial: str) -> dict[str, str]:
    """Return what is reckoned for full throttle, as texts; {} where nothing can be."""
    from rigfit.records.trial_entry import with_expectation
    from rigfit.rigging.trial_fields import Trial
    from rigfit.rigging.underway import UnderwayResult, underway_of

    found = underway_of(report.case)
    if not isinstance(found, UnderwayResult):
        return {}
    with_one = replace(job, trials=(*job.trials, Trial(id=trial)))
    try:
        kept, _ = with_expectation(with_one, trial, found.top, found.rpm)
    except EntryError:  # nothing can be reckoned yet
        return {}
    made = kept.trials[-1]
    texts = {"expected_speed": made.expected_speed, "expected_rpm": made.expected_rpm}
    return {name: reading.typed for name, reading in texts.items() if reading is not None}


class AdvicePart(Area):
    """The next thing to do, with links that unfold the rest and put the next trial down."""

    def __init__(self, master: tk.Misc, bench: Workbench) -> None:
        super().__init__(master)
        self._bench = bench
        self.is_open = False
        self.advice: tuple[Advice, ...] = ()
        self._seen: tuple[Any, ...] = ()
        self._is_built = False

    @property
    def text(self) -> str:
        """All it says."""
        if not self._is_built or not self.advice:
            return ""
        parts = (self.what.text, self.details.text if self.is_open else "")
        return " ".join([str(self.heading.said), *filter(None, parts)])

    def show(self, report: EngineReport | None) -> bool:
        """Show the advice on another report; return whether there is any."""
        case = report.case if report else None
        seen = case, self._bench.style, self.is_open
        if self._seen and self._seen[0] is case and self._seen[1:] == seen[1:]:
            return bool(self.advice)
        self._seen = seen
        self.advice = advice_of(report)
        if self.advice:
            if not self._is_built:
                self._build()
            self._fill()
        return bool(self.advice)

    def toggle(self) -> None:
        """Unfold what speaks for it and what comes after, or fold that."""
        self.is_open = not self.is_open
        self.show(self._bench.report)

    def plan(self) -> None:
        """Put down the next trial, as one step, and lead to its date."""
        bench, report = self._bench, self._bench.report
        if report is None or not self.advice:
            return
        log = trial_log(report.case.job, report.case.catalogue)
        last = log.of_engine(report.case.candidate.id)[-1]
        bench.take(
            bench.draft.add_row("trial", **planned(bench, report, last, self.advice[0])),
            "the next trial",
        )
        bench.go_to(Address("trial", "date", len(bench.draft.rows("trial")) - 1))

    # -- inside ----------------------------------------------------------------------------

    def _build(self) -> None:
        self._is_built = True
        self.heading = Words(self, "", bold=True, size=theme.LABEL)
        self.what = Paragraphs(self, theme.LABEL)
        self.details = Paragraphs(self, theme.SMALL)
        self.flow = Flow(self)
        self._rule = Rule(self)
        for part in (self.heading, self.what, self.details):
            part.pack(fill="x")
            space(part, padx=(SIDE, SIDE))
        self.flow.pack(fill="x")
        self._rule.pack(fill="x")
        space(self._rule, padx=SIDE, pady=(4, 8))
        self.bind("<Configure>", lambda event: self._fit(event.width), add="+")
        self._fit(self.winfo_width())

    def _fill(self) -> None:
        first, style = self.advice[0], self._bench.style
        is_safety = first.step is Step.SAFETY
        self.heading.set_text(f"Next at the sea trial: {first.step.value}")
        self.heading.set_role("error" if is_safety else "text")
        self.what.show([(say(first.what, style), "text")])
        report = self._bench.report
        gained = gain_words(report, style) if report and self.is_open else ""
        self.details.show(detail_words(self.advice, style, gained) if self.is_open else [])
        links: list[Linked] = [(_LESS if self.is_open else _MORE, self.toggle)]
        links.append(("Plan the next trial", self.plan))
        self.flow.show(links)

    def _fit(self, width: int) -> None:
        if width > 1:
            self.heading.set_wrap(max(1, width - theme.px(2 * SIDE)))
            self.flow.fit(width)
