"""One finding of the list: folded to its answer, open to its numbers, working and source."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from typing import Any, Protocol

from rigfit.desk.kit import colours, icons, theme
from rigfit.desk.kit.base import Area, Rule, on_keys, surface_of
from rigfit.desk.panel_parts import Flow, Words
from rigfit.rigging.findings import Finding, Verdict
from rigfit.sources import cite
from rigfit.units import IN_METRIC, Shown
from rigfit.wording import number, say, share_words

FindingKey = tuple[int, str, int]
"""A finding by its code, its subject and, should both come twice, which of them it is."""

_SIGNED_CODES = frozenset({220, 221})  # heights above and below the keel line
_CHEVRON, _WORD = 12, 60
_ALL = 1000  # further than any list is long


class ListOfRows(Protocol):
    """What a row reports to: the panel it stands in."""

    def toggle(self, key: FindingKey) -> None:
        """Open a finding, or fold it."""

    def set_open(self, key: FindingKey, *, is_open: bool) -> None:
        """Open or fold a finding."""

    def move(self, by: int) -> None:
        """Give the keyboard to the finding ``by`` places further down."""

    def entered(self, row: FindingRow) -> None:
        """Take note that a row has the keyboard."""

    def need_words(self, need: str) -> str:
        """Return the words of the link to a deciding field."""

    def go_to_need(self, need: str, finding: Finding) -> None:
        """Go to a deciding field of a finding."""


def finding_keys(findings: Sequence[Finding]) -> tuple[FindingKey, ...]:
    """Return by what each finding is known from one report to the next, in the same order."""
    seen: dict[tuple[int, str], int] = {}
    keys = []
    for finding in findings:
        pair = finding.code, finding.subject
        seen[pair] = seen.get(pair, -1) + 1
        keys.append((*pair, seen[pair]))
    return tuple(keys)


def key_number(finding: Finding, style: Shown) -> str:
    """Return the judged number with its margin ("+9 mm, 3 mm to spare"); "" without one."""
    if finding.value is None or share_words(finding):
        return share_words(finding)
    signed = finding.code in _SIGNED_CODES
    words = number(finding.value, finding.kind, style, signed=signed)
    if finding.margin is None:
        return words
    margin = number(abs(finding.margin), finding.kind, style)
    return f"{words}, {margin} {'to spare' if finding.margin >= 0.0 else 'outside'}"


def limit_words(finding: Finding, style: Shown) -> str:
    """Return what the value is held against ("0 mm to +25 mm", "at most 3 mm"); "" for none."""
    signed = finding.code in _SIGNED_CODES
    low, high = (
        number(end, finding.kind, style, signed=signed) for end in (finding.low, finding.high)
    )
    if finding.low is not None and finding.high is not None:
        return f"{low} to {high}"
    if finding.low is not None:
        return f"at least {low}"
    return f"at most {high}" if finding.high is not None else ""


class Details(Area):
    """What an open finding tells besides: settling, numbers, deciding fields, working, source.

    :param on_need: called with a key of ``Finding.needs`` to go to that field.
    :param name_need: returns the words for such a key.
    :param on_focus: called when a link gets the keyboard or loses it.
    """

    def __init__(
        self,
        master: tk.Misc,
        on_need: Callable[[str], Any],
        name_need: Callable[[str], str],
        on_focus: Callable[[], Any],
    ) -> None:
        super().__init__(master)
        self._on_need, self._name_need = on_need, name_need
        self.settle = Words(self, size=theme.SMALL, bold=True)
        self._facts = Area(self)
        self._facts.grid_columnconfigure(1, weight=1)
        self.facts = {
            name: (Words(self._facts, name, role="dim", size=theme.SMALL), self._small(self._facts))
            for name in ("value", "limit", "margin", "tolerance")
        }
        self._decided = Words(self, "Decided by", role="dim", size=theme.SMALL)
        self.flow = Flow(self, on_focus)
        self._worked = Words(self, "How it was worked out", role="dim", size=theme.SMALL)
        self._lines = Area(self)
        self.working: list[Words] = []
        self.source = Words(self, role="dim", size=theme.SMALL)
        self._width = 0
        self._needs: tuple[str, ...] = ()

    def show(self, finding: Finding, style: Shown) -> None:
        """Tell about a finding."""
        self.settle.set_text(
            f"To settle it: {say(finding.settle, style)}" if finding.settle else ""
        )
        has_facts = self._show_facts(finding, style)
        needs = finding.needs
        if needs != self._needs:
            self._needs = needs
            self.flow.show([(self._name_need(need), self._going_to(need)) for need in needs])
        self._show_working([say(line, style) for line in finding.working])
        self.source.set_text(f"Source: {cite(finding.source)}.")
        has_settle, has_working = finding.settle is not None, bool(finding.working)
        parts: tuple[tuple[Any, bool, int], ...] = (
            (self.settle, has_settle, 4),
            (self._facts, has_facts, 4),
            (self._decided, bool(needs), 6),
            (self.flow, bool(needs), 0),
            (self._worked, has_working, 6),
            (self._lines, has_working, 0),
            (self.source, True, 6),
        )
        for place, (part, is_shown, above) in enumerate(parts):
            _put(part, place, (above, 0), is_shown=is_shown)

    def _show_working(self, lines: list[str]) -> None:
        for label, line in zip(self.working, lines, strict=False):
            label.set_text(line)
        for line in lines[len(self.working) :]:
            label = self._small(self._lines)
            label.set_text(line)
            label.set_wrap(max(1, self._width))
            self.working.append(label)
        for place, label in enumerate(self.working):
            _put(label, place, (0, 3), is_shown=place < len(lines))

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self._width = width
        self._facts.grid_columnconfigure(0, pad=theme.px(2 * theme.GAP))
        for label in (self.settle, self.source, *self.working):
            label.set_wrap(max(1, width))
        beside = max((theme.text_width(name, theme.SMALL) for name in self.facts), default=0)
        for _, value in self.facts.values():
            value.set_wrap(max(1, width - beside - theme.px(2 * theme.GAP)))
        self.flow.fit(width)

    def _small(self, master: tk.Misc) -> Words:
        return Words(master, size=theme.SMALL)

    def _going_to(self, need: str) -> Callable[[], Any]:
        return lambda: self._on_need(need)

    def _show_facts(self, finding: Finding, style: Shown) -> bool:
        """Show the numbers; return whether there are any."""
        signed = finding.code in _SIGNED_CODES
        words = {
            "value": number(finding.value, finding.kind, style, signed=signed),
            "limit": limit_words(finding, style),
            "margin": number(finding.margin, finding.kind, style, signed=True),
            "tolerance": number(finding.tolerance, finding.kind, style),
        }
        known = {name for name, text in words.items() if text not in ("", "-")}
        for place, (name, (title, value)) in enumerate(self.facts.items()):
            value.set_text(words[name] if name in known else "")
            _put(title, place, (0, 0), is_shown=name in known)
            _put(value, place, (0, 0), is_shown=name in known, column=1)
        return bool(known)


def _put(part: Any, row: int, pady: tuple[int, int], *, is_shown: bool, column: int = 0) -> None:
    """Show a part in its row, with some logical px above and below, or hide it."""
    if not is_shown:
        if part.winfo_manager():
            part.grid_remove()
        return
    wanted = theme.px(pady[0]), theme.px(pady[1])
    if not part.winfo_manager() or getattr(part, "pady_shown", None) != wanted:
        part.pady_shown = wanted
        part.grid(row=row, column=column, sticky="nw", pady=wanted)


class FindingRow(tk.Frame):
    """One finding of the list; it has the keyboard as a whole.

    :param panel: the panel that it reports to.
    """

    def __init__(self, master: tk.Misc, panel: ListOfRows) -> None:
        super().__init__(master, bd=0, takefocus=0, cursor="hand2")
        self._panel = panel
        self.key: FindingKey = (0, "", 0)
        self.finding: Finding | None = None
        self.is_open, self.place_shown = False, -1
        self._chevron_shows_open, self._number_place = False, "beside"
        self._style: Shown = IN_METRIC
        self._width = 0
        self.keys_to: tk.Frame = self
        self._chevron = tk.Label(self, bd=0, highlightthickness=0, padx=0, pady=0)
        self._sign = tk.Label(self, bd=0, highlightthickness=0, padx=0, pady=0)
        self.word = Words(self, size=theme.SMALL, bold=True)
        self.title = Words(self, bold=True)
        self.number = Words(self, size=theme.SMALL)
        self.sentence = Words(self, size=theme.LABEL)
        self.details: Details | None = None
        self._rule = Rule(self)
        self._lay_out()
        self._bind_keys()
        self.repaint()
        theme.watch(self)

    @property
    def verdict(self) -> Verdict:
        """The verdict of the finding shown."""
        return self.finding.verdict if self.finding else Verdict.UNKNOWN

    @property
    def has_keys(self) -> bool:
        """True while the row itself has the keyboard."""
        # Not focus_get: it fails while an open menu has the keyboard.
        return str(self.tk.call("focus")) == str(self)

    def is_in(self, pane: tk.Misc) -> bool:
        """True while part of it lies within a pane, or close to it."""
        top = self.winfo_rooty() - pane.winfo_rooty()
        return -self.winfo_height() <= top <= pane.winfo_height()

    def show(self, finding: Finding, style: Shown, *, is_open: bool) -> None:
        """Show a finding; nothing is written where it says the same as before."""
        if (self.finding, self._style, self.is_open) == (finding, style, is_open):
            return
        self.finding, self._style, self.is_open = finding, style, is_open
        self._show_verdict()
        self.title.set_text(finding.title)
        self.number.set_text(key_number(finding, style))
        self._show_details()
        self._place_number()
        self._show_sentence()

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self._width = width
        if self.details is not None:
            self.details.fit(self._text_width())
        self._place_number(anew=True)
        self._show_sentence()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        back, gap = theme.colour(surface_of(self.master)), theme.px(6)
        tk.Frame.configure(
            self,
            bg=back,
            highlightthickness=theme.px(theme.RING),
        )
        self._show_ring()
        self.grid_columnconfigure(2, minsize=theme.px(_WORD))
        top = theme.px(6)
        self._chevron.configure(bg=back)
        self._chevron.grid_configure(padx=(theme.px(4), gap), pady=(top, 0))
        self._sign.configure(bg=back)
        self._sign.grid_configure(padx=(0, gap), pady=(top, 0))
        for label in (self.word, self.title):
            label.grid_configure(pady=(top, 0))
        self.sentence.grid_configure(pady=(theme.px(2), 0), padx=(0, theme.px(4)))
        self._rule.grid_configure(pady=(theme.px(8), 0))
        self._show_chevron(anew=True)
        self._show_verdict(anew=True)
        if self.details is not None and self.finding is not None:
            self.details.show(self.finding, self._style)

    def _lay_out(self) -> None:
        self.grid_columnconfigure(3, weight=1)
        for column, cell in enumerate((self._chevron, self._sign, self.word, self.title)):
            cell.grid(row=0, column=column, sticky="w")
        self.number.grid(row=0, column=4, sticky="e")
        self.sentence.grid(row=2, column=1, columnspan=4, sticky="w")
        self._rule.grid(row=4, column=0, columnspan=5, sticky="ew")
        touched: tuple[tk.Misc, ...] = (self, self._chevron, self._sign, self.word, self.title)
        for part in (*touched, self.number, self.sentence):
            part.bind("<ButtonRelease-1>", lambda _event: self._panel.toggle(self.key))

    def _bind_keys(self) -> None:
        panel = self._panel
        for key in ("Return", "KP_Enter", "space"):
            on_keys(self, lambda: panel.toggle(self.key), key)
        on_keys(self, lambda: panel.set_open(self.key, is_open=True), "Right")
        on_keys(self, lambda: panel.set_open(self.key, is_open=False), "Left")
        for by, key in ((-1, "Up"), (1, "Down")):
            on_keys(self, lambda by=by: panel.move(by), key)  # type: ignore[misc]
        on_keys(self, lambda: panel.move(-_ALL), "Home")
        on_keys(self, lambda: panel.move(_ALL), "End")
        # With Alt they raise and lower the engine, which is the window's business.
        for key in ("Up", "Down", "Left", "Right"):
            self.bind(f"<Alt-{key}>", lambda _event: None)
        self.bind("<FocusIn>", lambda _event: self._focused())
        self.bind("<FocusOut>", lambda _event: self._show_ring())

    def _focused(self) -> None:
        self._panel.entered(self)
        self._show_ring()

    def _show_ring(self) -> None:
        """Show the ring, but not for a link inside, for which Tk would ring both."""
        line = theme.colour("focus" if self.has_keys else surface_of(self.master))
        tk.Frame.configure(self, highlightcolor=line, highlightbackground=line)

    def _show_verdict(self, *, anew: bool = False) -> None:
        if anew or self.word.said != self.verdict.value:
            self._sign.configure(image=icons.mark(self.verdict))
            self.word.set_text(self.verdict.value)
            self.word.set_role(colours.VERDICT_ROLES[self.verdict][0])

    def _show_chevron(self, *, anew: bool = False) -> None:
        if anew or self._chevron_shows_open != self.is_open:
            self._chevron_shows_open = self.is_open
            name = "down" if self.is_open else "right"
            self._chevron.configure(image=icons.photo(name, "dim", _CHEVRON))

    def _go_to_need(self, need: str) -> None:
        if self.finding is not None:
            self._panel.go_to_need(need, self.finding)

    def _show_details(self) -> None:
        self._show_chevron()
        if self.is_open and self.details is None:
            panel = self._panel
            self.details = Details(self, self._go_to_need, panel.need_words, self._show_ring)
            self.details.fit(self._text_width())
        if self.details is None:
            return
        if self.is_open and self.finding is not None:
            self.details.show(self.finding, self._style)
        if self.is_open != bool(self.details.winfo_manager()):
            if self.is_open:
                self.details.grid(row=3, column=1, columnspan=4, sticky="ew")
            else:
                self.details.grid_remove()

    def _left(self) -> int:
        """Where the words begin, in screen pixels."""
        return theme.px(4) + theme.px(_CHEVRON) + theme.px(6) + theme.px(theme.RING)

    def _text_width(self) -> int:
        return max(1, self._width - self._left() - theme.px(8 + theme.RING))

    def _place_number(self, *, anew: bool = False) -> None:
        """Put the number behind the title, or under it where there is no room beside it."""
        words, title = self.number.said, self.title.said
        begin = theme.px(icons.MARK) + theme.px(6) + theme.px(_WORD)
        room = max(1, self._text_width() - begin)
        wanted = theme.text_width(title, bold=True) + theme.text_width(words, theme.SMALL)
        is_beside = bool(words) and wanted + theme.px(2 * theme.GAP) <= room
        self.title.set_wrap(room)
        self.number.set_wrap(room)
        place = "beside" if is_beside else "below" if words else ""
        if place == self._number_place and not anew:
            return
        self._number_place = place
        if not words:
            self.number.grid_remove()
        elif is_beside:
            self.number.grid(row=0, column=4, sticky="e", columnspan=1)
            self.number.grid_configure(pady=(theme.px(6), 0), padx=(0, theme.px(8)))
        else:
            self.number.grid(row=1, column=3, sticky="w", pady=0, padx=0, columnspan=2)

    def _show_sentence(self) -> None:
        """Say it whole, or in one line where nothing is the matter and it is folded."""
        if self.finding is None:
            return
        words, width = say(self.finding.sentence, self._style), self._text_width()
        if self.verdict is Verdict.FITS and not self.is_open and self._width > 1:
            words = theme.fitted(words, width, theme.LABEL)
        self.sentence.set_text(words)
        self.sentence.set_wrap(width)
