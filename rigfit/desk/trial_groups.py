"""The sections of the sea trials: what is said before going out, and the runs as a table.

The table shows all runs with what they came to; the fields below it stand for some at a time. Under
both are the ways to bring many runs in at once, and to give them away.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigfit.desk.draft import FIELDS, Address
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import space
from rigfit.desk.measurement_groups import ListGroup
from rigfit.desk.panel_parts import Later
from rigfit.desk.workbench import REPORT, Change

if TYPE_CHECKING:
    from rigfit.desk.trial_aid import TrialAid
    from rigfit.desk.trial_table import RunTable

FIELDS_FOR = 3
"""Trials and runs that have their fields shown at a time: each has a score of them."""

_WAIT_MS = 120


class TrialGroup(ListGroup):
    """The trials, below the cautions for going out."""

    rows_shown = FIELDS_FOR

    def build(self) -> None:
        """Make what stands above and under the trials."""
        from rigfit.desk.aid_parts import Paragraphs
        from rigfit.desk.trial_rows import SAFETY

        self.safety = Paragraphs(self.section.body)
        self.safety.pack(fill="x")
        space(self.safety, pady=(0, theme.GAP))
        self.safety.show([(words, "warn") for words in SAFETY])
        super().build()


class RunGroup(ListGroup):
    """The runs: a table of all of them, the fields of some, and ways to bring many in."""

    rows_shown = FIELDS_FOR
    runs: RunTable
    aid: TrialAid

    def build(self) -> None:
        """Make the table, and what stands under the fields."""
        from rigfit.desk.trial_aid import TrialAid
        from rigfit.desk.trial_table import RunTable

        self.runs = RunTable(self.section.body, self.bench, self._opened)
        super().build()
        self.aid = TrialAid(self.section.body, self.bench, self._added, self.panel.see)
        self.aid.pack(fill="x")
        space(self.aid, pady=(0, theme.GAP))
        self._follow = Later(self.section, self._show_runs, _WAIT_MS)
        self.section.bind("<Destroy>", lambda _event: self._follow.cancel(), add="+")
        self.bench.listen(self._heard)

    def update(self, change: Change) -> None:
        """Show what the draft holds; table and aid hear of it too."""
        super().update(change)
        if not (self.is_built and self.section.is_open):
            return
        if change & (REPORT & ~Change.TEXTS):
            self._show_runs()
        else:
            self._follow.ask_anew()  # typing does not wait for slips
        self.aid.update_card()

    def show_table(self) -> None:
        """Open the section and give the keyboard to the table of runs, without runs to the head."""
        self.set_open(True)
        self._show_runs()
        self.section.update_idletasks()  # a table has no place before
        self.panel.see(self.runs if self.runs.count else self.section)
        (self.runs if self.runs.count else self.section).focus_set()

    def open_aid(self) -> None:
        """Open the section and the card by which runs are brought in."""
        self.set_open(True)
        if self.aid.is_open:
            self.aid.close()
        self.aid.toggle()

    def _show_runs(self) -> None:
        self.runs.show()
        if bool(self.runs.count) != bool(self.runs.winfo_manager()):
            if self.runs.count:
                before = self._pages if self._pages.winfo_manager() else self._list
                self.runs.pack(fill="x", before=before)
                self.runs.pack_configure(pady=(0, theme.px(theme.GAP)))
            else:
                self.runs.pack_forget()

    def _heard(self, change: Change) -> None:
        if change & Change.FOCUS and self.section.is_open:
            self.runs.follow()

    def _opened(self, index: int) -> None:
        """Bring the fields of a run of the table into sight."""
        self.panel.go_to(Address(self.table, "rpm", index))

    def _added(self, first: int) -> None:
        """Show the first of the runs that were added."""
        self.panel.go_to(Address(self.table, FIELDS[self.table][0][0], first))
