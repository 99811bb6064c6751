"""The findings of the shown engine, worst first: each opens to its numbers, working and source.

A key press changes a few findings, so rows are kept by what they are about and only those that
say something else are written anew; none is ever taken down while the form is open.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence

from rigfit.desk.draft import FIELDS, LIST_FIELDS
from rigfit.desk.finding_rows import FindingKey, FindingRow, finding_keys
from rigfit.desk.form_state import Address
from rigfit.desk.kit import colours, icons, theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.choices import Chip
from rigfit.desk.kit.panes import Link, ScrollPane
from rigfit.desk.panel_parts import SIDE, Later, Linked, Notice
from rigfit.desk.row_names import named_row, row_name
from rigfit.desk.trial_advice_part import AdvicePart
from rigfit.desk.trial_rows import deciding_row
from rigfit.desk.workbench import REPORT, Change, Workbench
from rigfit.errors import EntryError
from rigfit.rigging.findings import Finding, Verdict
from rigfit.wording import CAUTIONS, say, verdict_line

WORST_FIRST = (Verdict.STOPS, Verdict.UNKNOWN, Verdict.TIGHT, Verdict.FITS)

_SAID_OF = {
    Verdict.STOPS: "stops",
    Verdict.UNKNOWN: "is unknown",
    Verdict.TIGHT: "is tight",
    Verdict.FITS: "fits",
}
_LOW = 320  # below that height, logical px, chips that count nothing leave their room to the list
_ADVICE, _FIRST_ROW, _FOOT = 3, 10, 2000  # rows of the grid inside the pane
_MOST_LINKS = 6
_CATCH_UP_MS = 30  # until findings out of sight follow an edit


def field_words(address: Address, bench: Workbench) -> str:
    """Return how a link names a field: its label, behind its engine unless that is shown."""
    if not address.field:
        return f"{row_name(address.table)} {address.index + 1}"
    if address.table not in LIST_FIELDS or (address.table, address.index) == (
        "engine",
        bench.engine_index,
    ):
        return address.spec.label
    return f"{row_name(address.table)} {address.index + 1}, {address.spec.label}"


class _Head(Area):
    """The verdict over everything: mark, word and sentence on its tint."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master, "unknown_tint")
        self.verdict: Verdict = Verdict.UNKNOWN
        self._sign = tk.Label(self, bd=0, highlightthickness=0, padx=0, pady=0)
        self.word = Label(self, size=theme.HEADING, bold=True)
        self.sentence = Label(self, size=theme.LABEL)
        self._sign.grid(row=0, column=0)
        self.word.grid(row=0, column=1, sticky="w")
        self.sentence.grid(row=1, column=1, sticky="w")
        self.grid_columnconfigure(1, weight=1)
        space(self._sign, padx=(12, 8), pady=(8, 0))
        space(self.word, pady=(8, 0))
        space(self.sentence, padx=(0, 12), pady=(2, 8))
        self.repaint()

    def show(self, verdict: Verdict, word: str, sentence: str) -> None:
        """Say another verdict."""
        if (self.word.cget("text"), self.sentence.cget("text")) != (word, sentence):
            self.word.set_text(word)
            self.sentence.set_text(sentence)
        if verdict is not self.verdict:
            self.verdict = verdict
            self.repaint()

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self.sentence.set_wrap(max(1, width - theme.px(12 + 20 + 8 + 12)))

    def repaint(self) -> None:
        """Take colours from the theme again."""
        role, self.surface = colours.VERDICT_ROLES[self.verdict]
        super().repaint()
        self._sign.configure(bg=theme.colour(self.surface), image=icons.mark(self.verdict, 20))
        self.word.set_role(role)
        self.sentence.repaint()


class FindingsPanel(Area):
    """The findings on the shown engine, to filter, open and follow to the deciding fields.

    The list is one stop of Tab: Up and Down move in it, Return, Space or Right open a finding,
    Left folds it; Tab then goes through the links of what is open.

    :param bench: the boat; listened to from now on.
    """

    def __init__(self, master: tk.Misc, bench: Workbench) -> None:
        super().__init__(master)
        self._bench = bench
        self._rows: dict[FindingKey, FindingRow] = {}
        self._spare: list[FindingRow] = []
        self._order: tuple[FindingKey, ...] = ()
        self._open: set[FindingKey] = set()
        self._current: FindingRow | None = None
        self._is_stale, self._width = True, 0
        self._refit = Later(self, lambda: self._fit(anew=True))
        self._catch_up = Later(self, self._show_the_rest, _CATCH_UP_MS)
        # How wide a chip has become, Tk only tells a while after its number was set.
        self._chips_later = Later(self, self._fit_chips, _CATCH_UP_MS)
        self.head = _Head(self)
        self._chip_line = Area(self)
        self.chips = [
            Chip(self._chip_line, verdict, lambda _on: self._filter()) for verdict in WORST_FIRST
        ]
        self._chips_shown, self._chips_a_row = list[Chip](), 0
        self.pane = ScrollPane(self, width=304)
        self.left_out = Notice(self.pane.body, "warn")
        self.trouble = Notice(self.pane.body, "text")
        self.advice = AdvicePart(self.pane.body, bench)
        self.nothing = Label(self.pane.body, role="dim", size=theme.LABEL)
        self.not_looked_at = Label(self.pane.body, role="dim", size=theme.LABEL)
        self.cautions = Area(self.pane.body)
        self._caution_lines = [
            Label(self.cautions, words, role="dim", size=theme.SMALL) for words in CAUTIONS
        ]
        self._lay_out()
        self.bind("<Map>", lambda _event: self._mapped())
        bench.listen(self._heard)

    # -- what is shown ---------------------------------------------------------------------

    @property
    def shown_rows(self) -> list[FindingRow]:
        """The rows that are not filtered out, from above."""
        rows = [self._rows[key] for key in self._order]
        return [row for row in rows if row.place_shown >= 0]

    def row(self, code: int) -> FindingRow:
        """Return the row of a finding by its code; raises ``KeyError`` when there is none."""
        for key in self._order:
            if key[0] == code:
                return self._rows[key]
        raise KeyError(code)

    def refresh(self) -> None:
        """Show the findings as they are now; what has not changed is not touched."""
        self._is_stale = False
        report = self._bench.report
        if report is None:
            self.head.show(Verdict.UNKNOWN, "no answer yet", self._no_answer())
        else:
            self.head.show(report.verdict, report.verdict.value, verdict_line(report))
        self._show_not_looked_at(report.not_looked_at if report else ())
        self._show_left_out()
        self._show_trouble()
        self._show_advice()
        findings = report.findings if report else ()
        self._take_rows(finding_keys(findings))
        self._show_rows(findings)
        for chip in self.chips:
            count = sum(1 for finding in findings if finding.verdict is chip.verdict)
            if count != chip.count:
                chip.set_count(count)
                self._chips_later.ask()
        self._fit_chips()
        self._filter()

    def _show_rows(self, findings: Sequence[Finding]) -> None:
        """Show what is in sight at once, so that a key press is followed; the rest a little later.

        :param findings: in the order of the rows.
        """
        style, later = self._bench.style, False
        for key, finding in zip(self._order, findings, strict=True):
            row = self._rows[key]
            if row.finding is None or row.is_in(self.pane):
                row.show(finding, style, is_open=key in self._open)
            else:
                later = later or row.finding != finding
        if later:
            self._catch_up.ask()

    def _show_the_rest(self) -> None:
        report = self._bench.report
        if report is not None and finding_keys(report.findings) == self._order:
            for key, finding in zip(self._order, report.findings, strict=True):
                self._rows[key].show(finding, self._bench.style, is_open=key in self._open)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        if hasattr(self, "_refit"):
            self._refit.ask()

    def destroy(self) -> None:
        """Take it down, with what still waits to be done."""
        self._refit.cancel()
        self._catch_up.cancel()
        self._chips_later.cancel()
        super().destroy()

    def focus_set(self) -> None:
        """Give the keyboard to the list, or to the filter while the list is empty."""
        if self._current is not None and self._current.place_shown >= 0:
            self._current.focus_set()
        else:
            self._focus_elsewhere()

    # -- opening and moving ----------------------------------------------------------------

    def toggle(self, key: FindingKey) -> None:
        """Open a finding, or fold it."""
        self.set_open(key, is_open=key not in self._open)

    def set_open(self, key: FindingKey, *, is_open: bool) -> None:
        """Open or fold a finding; it stays so while findings are sorted anew."""
        row = self._rows.get(key)
        if row is None or row.finding is None or row.is_open == is_open:
            return
        if is_open:
            self._open.add(key)
        else:
            self._open.discard(key)
        row.show(row.finding, self._bench.style, is_open=is_open)
        self.update_idletasks()  # its new height decides how far to scroll
        self.pane.see(row)

    def move(self, by: int) -> None:
        """Give the keyboard to the finding ``by`` places further down, the last at most."""
        rows = self.shown_rows
        if rows:
            at = rows.index(self._current) + by if self._current in rows else 0
            rows[min(max(at, 0), len(rows) - 1)].focus_set()

    def entered(self, row: FindingRow) -> None:
        """Take note that a row has the keyboard: Tab comes back to it."""
        if row is not self._current:
            if self._current is not None:
                self._current.configure(takefocus=0)
            self._current = row
        row.configure(takefocus=1)

    def need_words(self, need: str) -> str:
        """Return the words of the link to a deciding field."""
        try:
            return Address.of_need(need, self._bench.engine_index).spec.label
        except EntryError:
            return need.replace("_", " ")

    def go_to_need(self, need: str, finding: Finding) -> None:
        """Go to the field that a finding says decides it, of the row it speaks of."""
        index = self._bench.engine_index
        is_table = need in FIELDS  # the hull as a whole: its first lack is gone to
        whole = Address(need, "", 0 if need in LIST_FIELDS else -1)
        address = whole if is_table else Address.of_need(need, index)
        if address.table in LIST_FIELDS and address.table != "engine":
            words = f"{finding.title} {say(finding.sentence, self._bench.style)}"
            if address.table in ("trial", "run"):
                row = deciding_row(address.table, address.field, finding, self._bench)
            else:
                row = named_row(self._bench.draft, address.table, words)
            address = Address(address.table, address.field, row)
        self._bench.go_to(address)

    # -- parts -----------------------------------------------------------------------------

    def _lay_out(self) -> None:
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(2, weight=1)
        self.head.grid(row=0, column=0, sticky="ew")
        self._chip_line.grid(row=1, column=0, sticky="ew")
        self.pane.grid(row=2, column=0, sticky="nsew")
        space(self._chip_line, padx=SIDE, pady=8)
        body = self.pane.body
        body.grid_columnconfigure(0, weight=1)
        self.not_looked_at.grid(row=_FOOT - 1, column=0, sticky="w")
        space(self.not_looked_at, padx=SIDE, pady=(12, 0))
        self.not_looked_at.grid_remove()
        self.cautions.grid(row=_FOOT, column=0, sticky="ew")
        space(self.cautions, padx=SIDE, pady=(12, 12))
        for line in self._caution_lines:
            line.pack(anchor="w")
            space(line, pady=(0, 4))
        body.bind("<Configure>", lambda _event: self._fit(), add="+")
        self.bind("<Configure>", lambda _event: self._fit_chips())

    def _heard(self, change: Change) -> None:
        if not self.winfo_exists():
            return
        if change & Change.BOAT:
            self._open.clear()
        if change & (REPORT | Change.FINDINGS):
            if self.winfo_ismapped():
                self.refresh()
            else:
                self._is_stale = True

    def _mapped(self) -> None:
        if self._is_stale:
            self.refresh()

    def _no_answer(self) -> str:
        if not self._bench.has_boat:
            return "No boat is open: start a new one, open a job file, or open the demo boat."
        return self._bench.trouble

    def _links(self, addresses: Sequence[Address]) -> list[Linked]:
        def going_to(address: Address) -> Callable[[], None]:
            return lambda: self._bench.go_to(address)

        return [
            (field_words(address, self._bench), going_to(address))
            for address in addresses[:_MOST_LINKS]
        ]

    def _show_not_looked_at(self, things: Sequence[str]) -> None:
        """Name what nobody entered anything about, so that silence is not taken for "fits"."""
        words = f"Not looked at yet: {', '.join(things)}." if things else ""
        if words != self.not_looked_at.cget("text"):
            self.not_looked_at.set_text(words)
            if words:
                self.not_looked_at.grid()
            else:
                self.not_looked_at.grid_remove()

    def _show_left_out(self) -> None:
        """Name what was typed but could not be used, with the way to it."""
        derived = self._bench.derived
        wrong = dict.fromkeys(item.address for item in derived.left_out if item.address.field)
        wrong.update(dict.fromkeys(derived.messages))
        count = len(wrong)
        words = ""
        if count:
            words = "1 entry cannot be used and is left out:"
            if count > 1:
                words = f"{count} entries cannot be used and are left out:"
            if count > _MOST_LINKS:
                words = f"{words[:-1]}; the first are:"
        self._show_notice(self.left_out, 0, words, self._links(list(wrong)))

    def _show_trouble(self) -> None:
        bench = self._bench
        if not bench.has_boat:
            self._show_notice(self.trouble, 1, "", ())
        elif not bench.draft.engines:
            add: Linked = ("Add an engine", bench.add_engine)
            self._show_notice(self.trouble, 1, bench.trouble, [add])
        elif bench.report is None:
            place = "engine", bench.engine_index
            lacks = [at for at in bench.derived.missing if (at.table, at.index) == place]
            words = "Without these there is no answer:" if lacks else bench.trouble
            self._show_notice(self.trouble, 1, words, self._links(lacks))
        else:
            self._show_notice(self.trouble, 1, bench.trouble, ())

    def _show_notice(self, notice: Notice, row: int, text: str, links: Sequence[Linked]) -> None:
        if text or notice.text:
            notice.say(text, links)
        if text and not notice.winfo_manager():
            notice.grid(row=row, column=0, sticky="ew", pady=(0, theme.px(8)))
        elif not text and notice.winfo_manager():
            notice.grid_remove()

    def _show_advice(self) -> None:
        if self._bench.derived.waits:  # it is asked again with the findings that are put off
            return
        if self.advice.show(self._bench.report) != bool(self.advice.winfo_manager()):
            if self.advice.advice:
                self.advice.grid(row=_ADVICE, column=0, sticky="ew")
            else:
                self.advice.grid_remove()

    def _take_rows(self, keys: tuple[FindingKey, ...]) -> None:
        """Have a row for each finding, in order; rows left over wait for others."""
        if keys == self._order:
            return
        for key in [key for key in self._order if key not in keys]:
            row = self._rows.pop(key)
            self._hide(row)
            self._spare.append(row)
        for key in keys:
            if key not in self._rows:
                row = self._spare_row(key)
                row.key, self._rows[key] = key, row
        self._order = keys
        for key in keys:
            self._rows[key].lift()  # Tab follows this order

    def _spare_row(self, key: FindingKey) -> FindingRow:
        """Return a row without a finding: best one that has told of the same question before."""
        if self._spare:
            at = next((at for at, row in enumerate(self._spare) if row.key[0] == key[0]), 0)
            return self._spare.pop(at)
        row = FindingRow(self.pane.body, self)
        row.fit(self._width)
        return row

    def _hide(self, row: FindingRow) -> None:
        if row.place_shown >= 0:
            row.place_shown = -1
            row.grid_remove()

    def _filter(self) -> None:
        """Show the findings of the verdicts that are switched on; of all when none is."""
        wanted = {chip.verdict for chip in self.chips if chip.is_on}
        had_keys = self._current is not None and self._current.has_keys
        for place, key in enumerate(self._order, _FIRST_ROW):
            row = self._rows[key]
            if wanted and row.verdict not in wanted:
                self._hide(row)
            elif row.place_shown != place:
                row.place_shown = place
                row.grid(row=place, column=0, sticky="ew")
        rows = self.shown_rows
        self._say_nothing(wanted if self._order and not rows else set())
        if self._current not in rows:
            if rows:
                self.entered(rows[0])
                if had_keys:
                    rows[0].focus_set()
            elif had_keys:
                self._focus_elsewhere()

    def _focus_elsewhere(self) -> None:
        """Give the keyboard to what there is while the list is empty."""
        links = [*self.trouble.flow.links, *self.left_out.flow.links]
        targets: list[Chip | Link] = [*self._chips_shown, *links]
        target = next(iter(targets), None)
        if target is not None:
            target.focus_set()

    def _say_nothing(self, wanted: set[Verdict]) -> None:
        words = " or ".join(_SAID_OF[verdict] for verdict in WORST_FIRST if verdict in wanted)
        if words:
            self.nothing.set_text(f"No finding {words}.")
            self.nothing.grid(row=2, column=0, sticky="w", padx=theme.px(SIDE))
        elif self.nothing.winfo_manager():
            self.nothing.grid_remove()

    def _fit(self, *, anew: bool = False) -> None:
        """Break lines at the width there is."""
        width, whole = self.pane.body.winfo_width(), self.winfo_width()
        # The pane inside may have a width while the panel has none yet.
        if width <= 1 or whole <= 1 or (width == self._width and not anew):
            return
        self._width = width
        self.head.fit(whole)
        self._fit_chips()
        for notice in (self.left_out, self.trouble):
            notice.fit(width)
        for row in (*self._rows.values(), *self._spare):
            row.fit(width)
        for line in (*self._caution_lines, self.nothing, self.not_looked_at):
            line.set_wrap(max(1, width - theme.px(2 * SIDE)))

    def _fit_chips(self) -> None:
        """Put the chips into one row, or into two where they are wider than that."""
        if not self._width:
            return
        room, gap = self.winfo_width() - theme.px(2 * SIDE), theme.px(theme.GAP)
        is_low = self.winfo_height() < theme.px(_LOW)
        chips = [chip for chip in self.chips if not is_low or chip.count or chip.is_on]
        wide = sum(chip.winfo_reqwidth() + gap for chip in chips) - gap
        a_row = len(chips) if wide <= room else 2
        if (chips, a_row) == (self._chips_shown, self._chips_a_row):
            return
        self._chips_shown, self._chips_a_row = chips, a_row
        for chip in self.chips:
            chip.grid_remove()
        for at, chip in enumerate(chips):
            above = theme.GAP if at >= a_row else 0
            place = {"row": at // a_row, "column": at % a_row}
            chip.grid(**place, sticky="ew", padx=(0, theme.GAP), pady=(above, 0))
        alike = "chip" if a_row == 2 else ""
        self._chip_line.grid_columnconfigure((0, 1), uniform=alike)
        if chips:
            self._chip_line.grid()
        else:
            self._chip_line.grid_remove()
