"""The aid for the runs of sea trials: pasted, read from a file, and given away as CSV.

Nothing is added before somebody says so; what is added is one step. A large log is read off the
main thread, with progress, and can be cancelled.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from rigfit.desk.aid_parts import AidCard, OneAid, Paragraphs
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.kit.base import Area, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.desk.panel_parts import Later
from rigfit.desk.trial_entry import (
    FileRead,
    Found,
    free_id,
    from_text,
    from_track,
    read_file,
    taken_over,
    trial_ids,
)
from rigfit.desk.workbench import Workbench
from rigfit.desk.worker import Worker
from rigfit.errors import RigfitError
from rigfit.records.plain_words import listed, visible

FILES = (
    ("tables and tracks", "*.csv *.CSV *.txt *.tsv *.gpx *.GPX *.nmea *.NMEA *.log"),
    ("all files", "*"),
)
CSV_FILES = (("CSV tables", "*.csv"),)
PUMP_MS = 30

_FIRST = (
    "Copy runs in a spreadsheet: engine speed, speed there, speed back, fuel flow, or with "
    "headings in any order. Then paste them here. Or choose a file: a CSV table, or the track of a "
    "satellite receiver (GPX, or NMEA 0183) for the speeds."
)
_NO_TEXT = "There is no text on the clipboard. Copy the runs in the spreadsheet first."
_NEW = "new"
_PROBLEMS_SEEN, _NOTES_SEEN, _ROWS_SEEN = 4, 6, 6
_LONGEST_CELL = 14


def _first(sentences: tuple[str, ...], most: int) -> list[str]:
    """Return the first sentences, and how many more there are."""
    if len(sentences) <= most:
        return list(sentences)
    return [*sentences[: most - 1], f"{len(sentences) - most + 1} more like these."]


def _are(count: int) -> str:
    return "are" if count > 1 else "is"


class RunCard(AidCard):
    """Runs that are pasted or read, and the button that takes them over."""

    def build(self) -> None:
        """Make its parts."""
        self.worker = Worker()
        self.found = Found()
        self._text = self._trouble = ""
        self._read: FileRead | None = None
        self._known: tuple[Any, ...] | None = None
        self._ids: tuple[str, ...] = ()
        self._pump_later = Later(self, self._pump, PUMP_MS)
        line = Area(self.body)
        line.pack(fill="x")
        self.again = Button(line, "Paste", self.paste, icon="copy")
        self.choose = Button(line, "Choose a file", self.ask_file, icon="open")
        self.stop = Button(line, "Cancel", self.cancel)
        self.again.pack(side="left")
        self.choose.pack(side="left", padx=(theme.GAP, 0))
        space(line, pady=(0, theme.GAP))
        self.add_choice("trial", "trial, where a row names none", {_NEW: "a new trial"})
        self.said = Paragraphs(self.body)
        self.said.pack(fill="x", pady=(theme.GAP, 0))
        self.table = self._table()
        self.add = Button(self.body, "Add", self.take, style="primary")
        for key in ("v", "V"):
            self.again.keys_to.bind(f"<Control-{key}>", lambda _event: self.paste())

    def _table(self) -> Table:
        columns = (
            Column("rpm", "rpm", 40, is_numeric=True),
            Column("there", "There", 40, is_numeric=True),
            Column("back", "Back", 40, is_numeric=True, is_spare=True),
            Column("trial", "Trial", 40, is_spare=True, gives_way=1),
            Column("time", "Time", 40, is_spare=True, gives_way=2, grows=True),
        )
        return Table(self.body, columns, rows_seen=4, fits_cells=True)

    @property
    def trial(self) -> str:
        """The id of the trial of rows that name none."""
        chosen = self.choices["trial"].chosen
        return free_id(self.bench.draft) if chosen == _NEW else chosen

    # -- what is done ----------------------------------------------------------------------

    def opened(self) -> None:
        """Take what is on the clipboard at once where it is a table of runs."""
        self._show_trials()
        ids = trial_ids(self.bench.draft)
        self.choices["trial"].choice.set(ids[-1] if ids else _NEW)
        self.paste()
        if not self.found.is_anything:
            self._take_in("")
        (self.add if self.found.is_anything else self.again).focus_set()

    def paste(self) -> None:
        """Take what is on the clipboard."""
        try:
            text = str(self.clipboard_get())
        except tk.TclError:  # nothing there, or no text
            text = ""
        self._take_in(text, "" if text.strip() else _NO_TEXT)

    def ask_file(self) -> None:
        """Ask for a table or a track and read it."""
        path = dialogs.questions().open_path(self, "A table of runs, or a track", FILES)
        if path is not None and self.winfo_exists():
            self.read(path)

    def read(self, path: Path) -> None:
        """Read a file; the answer comes later."""
        self._text = self._trouble = ""
        self._read = None
        self.worker.start(
            lambda progress, cancelled: read_file(path, progress, cancelled),
            self._came,
            self._failed,
            self._said_progress,
        )
        self.refresh()
        self._said_progress(0.0, f"reading {visible(path.name, 60)}")
        self.stop.pack(side="left", padx=(theme.GAP, 0))
        self._pump_later.ask()

    def cancel(self) -> None:
        """Give up reading; nothing has changed."""
        if self.worker.cancel():
            had_keys = self.focus_get() is self.stop.keys_to
            self.stop.pack_forget()
            self._take_in("", "Reading was cancelled; nothing has changed.")
            if had_keys:
                self.choose.focus_set()

    def take(self) -> None:
        """Take over what was found."""
        if self.found.is_anything:
            self.on_add(self.found.rows)

    def refresh(self) -> None:
        """Look again at what was pasted or read: units, trials or runs may be others."""
        self._show_trials()
        trial, derived = self.trial, self.bench.derived
        known = self._text, self._read, self.entries, trial, derived.job.runs
        if known != self._known:
            self._known = known
            if self._read is not None and self._read.track is not None:
                self.found = from_track(self._read, derived, trial)
            else:
                self.found = from_text(self._text, self.entries, trial)
        if not self.worker.is_busy:
            self._show_found()

    def closed(self) -> None:
        """Let go of what was pasted, and stop reading."""
        self.worker.cancel()
        self.stop.pack_forget()
        self._text, self._trouble, self._read = "", "", None

    def destroy(self) -> None:
        """Take it down, with what it started."""
        self._pump_later.cancel()
        self.worker.close(timeout=0.5)
        super().destroy()

    # -- inside ----------------------------------------------------------------------------

    def _take_in(self, text: str, trouble: str = "") -> None:
        self.worker.cancel()
        self.stop.pack_forget()
        self._text, self._trouble, self._read = text, trouble, None
        self.refresh()
        self.see_all()

    def _pump(self) -> None:
        if self.worker.pump():
            self._pump_later.ask()

    def _said_progress(self, share: float, doing: str) -> None:
        self.said.show([(f"{doing[:1].upper()}{doing[1:]}, {100.0 * share:.0f} % ...", "dim")])

    def _came(self, read: FileRead) -> None:
        self.stop.pack_forget()
        self._text, self._read = read.text, read
        self._trouble = "" if read.text.strip() or read.track else f"{read.name} is empty."
        self.refresh()
        self.see_all()
        (self.add if self.found.is_anything else self.choose).focus_set()

    def _failed(self, error: RigfitError) -> None:
        self.stop.pack_forget()
        words = error.sentence()
        self._take_in("", words[:1].upper() + words[1:])

    def _show_trials(self) -> None:
        ids = trial_ids(self.bench.draft)
        if ids != self._ids:
            self._ids = ids
            row = self.choices["trial"]
            chosen = row.chosen
            words = {name: visible(name, 24) for name in ids}
            row.choice.set_choices({**words, _NEW: "a new trial"})
            row.choice.set(chosen if chosen in ids else _NEW)

    def _show_found(self) -> None:
        found = self.found
        words: list[tuple[str, Any]] = [(self._trouble, "warn")]
        words += [(line, "text") for line in found.said]
        words.append((self._new_trials(), "text"))
        words += [(line, "warn") for line in _first(found.problems, _PROBLEMS_SEEN)]
        words += [(line, "dim") for line in _first(found.notes, _NOTES_SEEN)]
        if not found.is_anything:
            words.append((_FIRST, "dim"))
        self.said.show(words)
        rows = [self._row(place, row) for place, row in enumerate(found.rows)]
        self.table.set_rows(rows)
        self.table.tree.configure(height=min(max(len(rows), 1), _ROWS_SEEN))
        if bool(rows) != bool(self.table.winfo_manager()):
            if rows:
                self.table.pack(fill="x", after=self.said)
            else:
                self.table.pack_forget()
        if found.is_anything:
            self.add.set_text(found.button)
        if found.is_anything != bool(self.add.winfo_manager()):
            if found.is_anything:
                self.add.pack(anchor="w", pady=(theme.GAP, 0))
            else:
                self.add.pack_forget()

    def _new_trials(self) -> str:
        """Return which trials come with the runs because there are none such yet."""
        named = dict.fromkeys(row.get("trial", "") for row in self.found.rows)
        new = [visible(name, 24) for name in named if name and name not in self._ids]
        if not new:
            return ""
        return f"Added with them: trial{'s' if len(new) > 1 else ''} {listed(new)}."

    @staticmethod
    def _row(place: int, row: Any) -> TableRow:
        names = ("rpm", "speed_there", "speed_back", "trial", "time")
        cells = tuple(visible(row.get(name, ""), _LONGEST_CELL) or "-" for name in names)
        return TableRow(str(place), cells)


class TrialAid(OneAid):
    """The buttons under the runs: bring some in, copy or save them all.

    :param on_added: called with the row of the first run that was added or got a speed.
    :param see: brings a widget into sight.
    """

    words, heading = "Paste or import runs", "Runs from a table or a track"
    kind = RunCard

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        on_added: Callable[[int], Any],
        see: Callable[[tk.Misc], Any],
    ) -> None:
        super().__init__(master, bench, see)
        self._on_added = on_added
        self.told = Paragraphs(self)
        self.told.pack(fill="x", side="bottom")
        self._out = Area(self)
        self.copy = Button(self._out, "Copy as CSV", self.copy_runs, icon="copy")
        self.save = Button(self._out, "Save as CSV", self.save_runs, icon="save")
        self.copy.pack(side="left")
        self.save.pack(side="left", padx=(theme.GAP, 0))

    def toggle(self) -> None:
        """Open the card, or close it."""
        self.told.show([])
        super().toggle()
        if self.is_open:
            self.card.pack_configure(pady=(0, theme.px(theme.GAP)))

    def update_card(self) -> None:
        """Have the open card follow the boat, and the buttons the runs."""
        super().update_card()
        has_runs = bool(self.bench.draft.rows("run"))
        if has_runs != bool(self._out.winfo_manager()):
            if has_runs:
                self._out.pack(fill="x", side="bottom", pady=(0, theme.px(theme.GAP)))
            else:
                self._out.pack_forget()

    def add(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Take over what the card has found: these rows, or speeds for runs that are there."""
        found, trial, bench = self.card.found, self.card.trial, self.bench
        first = found.speeds[0].row if found.speeds else len(bench.draft.rows("run"))
        self.close()
        label = "runs of a sea trial" if rows else "speeds from a track"
        bench.take(taken_over(bench.draft, found, trial), label)
        self._on_added(first)

    def copy_runs(self) -> None:
        """Put all runs that can be used on the clipboard, as CSV."""
        text, words = self._csv()
        if text:
            self.clipboard_clear()
            self.clipboard_append(text)
            self.told.show([(f"{words} on the clipboard, as CSV.", "ok")])
        else:
            self.told.show([(words, "warn")])

    def save_runs(self) -> None:
        """Ask for a file and write all runs that can be used into it, as CSV."""
        from rigfit.records.saving import write_whole

        text, words = self._csv()
        if not text:
            self.told.show([(words, "warn")])
            return
        path = self.bench.document.path
        folder = path.parent if path else Path.home()
        suggestion = folder / "sea-trial-runs.csv"
        chosen = dialogs.questions().save_path(
            self, "Save the runs", CSV_FILES, suggestion=suggestion
        )
        if chosen is None or not self.winfo_exists():
            return
        try:
            write_whole(chosen, text.encode("utf-8"))
        except RigfitError as error:
            self.told.show([(error.sentence(), "error")])
        else:
            self.told.show([(f"{words} in {visible(str(chosen), 90)}.", "ok")])

    def _csv(self) -> tuple[str, str]:
        """Return all runs as CSV with how many they are; "" and why where there are none."""
        from rigfit.records.trial_csv import runs_csv
        from rigfit.rigging.sea_trial import trial_log

        log = trial_log(self.bench.derived.job, self.bench.catalogue)
        count = sum(len(trial.runs) for trial in log.trials)
        if not count:
            return "", "No run can be used yet: each needs its trial and an engine speed."
        left = len(self.bench.draft.rows("run")) - count
        unused = f" ({left} left out)" if left else ""
        return runs_csv(log), f"{count} run{'s' if count > 1 else ''}{unused} {_are(count)}"
