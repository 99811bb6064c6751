"""The table of all runs above their fields: to sort, to pick one, to be led to its fields."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.draft import Address
from rigfit.desk.kit.tables import Table
from rigfit.desk.trial_rows import run_columns, run_rows
from rigfit.desk.workbench import Workbench

_ROWS_SEEN = 8


class RunTable(Table):
    """All runs with speed, slip and fuel; the picked one lights up in the curves.

    Keyboard: Up and Down pick a run, Return goes to its fields.

    :param on_run: called with the row, from 0, of a run that was opened.
    """

    def __init__(self, master: tk.Misc, bench: Workbench, on_run: Callable[[int], Any]) -> None:
        self._bench, self._style = bench, bench.style
        super().__init__(
            master,
            run_columns(bench.style),
            on_pick=self._pointed,
            on_open=lambda key: on_run(int(key)),
            rows_seen=1,
            fits_cells=True,
        )

    @property
    def count(self) -> int:
        """How many runs it shows."""
        return len(self._rows)

    def show(self) -> None:
        """Show the runs as they are now."""
        bench = self._bench
        rows = run_rows(bench.derived, bench.catalogue, bench.style)
        if bench.style != self._style:
            self._style = bench.style
            self.set_columns(run_columns(bench.style))
            self.set_rows(rows)
        else:
            self.update_rows(rows)
        high = min(max(len(rows), 1), _ROWS_SEEN)
        if int(self.tree.cget("height")) != high:
            self.tree.configure(height=high)
        self.follow()

    def follow(self) -> None:
        """Pick the run whose field has the cursor; another field changes nothing."""
        focus = self._bench.focus
        if focus is not None and focus.table == "run" and str(focus.index) in self.shown_keys:
            self.pick(str(focus.index))

    def _pointed(self, key: str) -> None:
        self._bench.set_focus(Address("run", "rpm", int(key)))
