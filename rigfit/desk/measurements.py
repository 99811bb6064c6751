"""The measurements: every field of a job in the order one works at the boat, made from its
description.
"""

from __future__ import annotations

import tkinter as tk
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

from rigfit.desk.draft import FIELDS, LIST_FIELDS, Address
from rigfit.desk.form_state import Derived
from rigfit.desk.how_to_pictures import HowToPictures
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, space
from rigfit.desk.kit.panes import ScrollPane
from rigfit.desk.measurement_groups import (
    EngineGroup,
    Group,
    HoleGroup,
    ListGroup,
    OffsetGroup,
    filled_in,
)
from rigfit.desk.panel_parts import Later
from rigfit.desk.trial_groups import RunGroup, TrialGroup
from rigfit.desk.workbench import REPORT, Change, Workbench

WIDTH = 384
"""Width the panel asks for, logical px; it works from 330 on."""

ORDER = (
    "boat",
    "plate",
    "rules",
    "transom",
    "keel_line",
    "bracket",
    "target",
    "old_engine",
    "engine",
    "neighbour",
    "face",
    "hole",
    "opening",
    "no_go",
    "well",
    "obstacle",
    "steering",
    "mounting",
    "bolting",
    "trailer",
    "mass",
    "hull",
    "station",
    "offset",
    "afloat",
    "mark",
    "propeller",
    "underway",
    "trial",
    "run",
    "dash",
    "wire",
    "cable",
    "printer",
    "units",
)
"""The tables in the order one works at the boat; units are seldom touched and come last."""

START_FOLDED = (
    "keel_line", "hole", "opening", "no_go", "obstacle", "station", "offset", "propeller",
    "underway", "trial", "run", "dash", "wire", "cable", "units",
)  # fmt: skip
"""Tables that are measured once and then left alone: folded at first, whatever they hold."""

LISTED = frozenset(LIST_FIELDS) - {"engine"}
"""Repeated tables of which several rows are shown, counted under one heading."""

_ROWS_AT_ONCE, _NEXT_MS = 10, 20

_KINDS: dict[str, type[Group]] = {
    **dict.fromkeys(LISTED, ListGroup),
    "engine": EngineGroup,
    "hole": HoleGroup,
    "offset": OffsetGroup,
    "trial": TrialGroup,
    "run": RunGroup,
}
_REQUIRED = {
    table: tuple(name for name, spec in fields if spec.required) for table, fields in FIELDS.items()
}


@dataclass(frozen=True, slots=True)
class _Place:
    """A single table or a row of a repeated one, of which is known whether something was typed."""

    table: str
    index: int


class MeasurementsPanel(Area):
    """All fields of the boat in the form, in a pane that scrolls.

    :param bench: the boat; the panel shows what changes there and tells it what is typed.
    """

    def __init__(self, master: tk.Misc, bench: Workbench) -> None:
        super().__init__(master, "panel")
        self._bench = bench
        self.folds: dict[str, bool] = {}
        """What the person has opened or folded, by table; it outlives the boat."""
        self._touched: set[_Place] = set()
        self._faults: tuple[Derived | None, dict[_Place, tuple[str, ...]]] = None, {}
        self._waiting: list[Group] = []
        self.may_go_on: Callable[[], bool] = lambda: True
        """Whether what is out of sight may be made now; the window says no until it is painted."""
        self._open_later = Later(self, self._open_next, _NEXT_MS)
        self.pane = ScrollPane(self, "panel", width=WIDTH)
        self.pane.pack(fill="both", expand=True)
        pictures = HowToPictures(self)
        self.groups = {
            table: _KINDS.get(table, Group)(self.pane.body, bench, table, pictures, self)
            for table in ORDER
        }
        foot = Area(self.pane.body)
        foot.pack(fill="x")
        space(foot, pady=(theme.PADDING, 0))
        self._show(Change.BOAT)
        bench.listen(self._heard)

    # -- what other parts of the form ask for ----------------------------------------------

    def go_to(self, address: Address) -> None:
        """Bring a field into sight and put the cursor into it.

        Without a field it is the first of its table that lacks something. For an engine or hole
        that is not there any more the section is opened; what is no measurement is passed over.
        """
        if address.table not in self.groups:
            return
        if address.table == "engine" and 0 <= address.index < len(self._bench.draft.engines):
            self._bench.show_engine(address.index)
        group = self.groups[address.table]
        if not address.field:
            address = self._first_lack(address)
        line = group.go_to(address)
        self.update_idletasks()  # a row has no place before
        if line is None or not self._is_there(address):
            group.section.focus_set()
            self.pane.see(group.section)
        else:
            line.row.focus_field()
            self.pane.see(line.row)

    def focus_first(self) -> None:
        """Put the cursor into the first needed field that is empty, or else the first field."""
        fields = [address for group in self.groups.values() for address in group.addresses()]
        there = [address for address in fields if self._is_there(address)]
        self.go_to(next((address for address in there if self._is_needed(address)), there[0]))

    @property
    def runs(self) -> RunGroup:
        """The section of the runs of the sea trials."""
        group = self.groups["run"]
        if not isinstance(group, RunGroup):
            raise TypeError("the runs have another kind of section")
        return group

    @property
    def is_opening(self) -> bool:
        """True while sections below the first screen still wait to be opened."""
        return self._open_later.is_waiting

    # -- what rows and groups ask for ------------------------------------------------------

    def touch(self, address: Address) -> None:
        """Take note that somebody types in a table: from now on it says what it lacks."""
        self._touched.add(_Place(address.table, address.index))

    def is_quiet(self, address: Address) -> bool:
        """True while nothing has been typed in the table of a field."""
        if address.table in LISTED and address.index < 0:
            lacking = self._lacking(address.table)
            return all(self.is_quiet(Address(address.table, "", index)) for index in lacking)
        if _Place(address.table, address.index) in self._touched:
            return False
        rows = self._bench.draft.rows(address.table)
        place = max(address.index, 0)
        # An engine has its id from the start.
        return place >= len(rows) or filled_in(address.table, rows[place]) <= (
            address.table == "engine"
        )

    def see(self, widget: tk.Misc) -> None:
        """Scroll until a widget is in sight."""
        self.pane.see(widget)

    def faults_at(self, table: str, index: int) -> tuple[str, ...]:
        """Return what is said of the fields of one row; the same while that is the same."""
        derived, found = self._faults
        if derived is not self._bench.derived:
            derived, found = self._bench.derived, {}
            for address, text in (*derived.messages.items(), *derived.missing.items()):
                place = _Place(address.table, address.index)
                found[place] = (*found.get(place, ()), address.field, text)
            self._faults = derived, found
        return found.get(_Place(table, index), ())

    # -- inside ----------------------------------------------------------------------------

    def _heard(self, change: Change) -> None:
        if change & Change.BOAT:
            self._touched.clear()
        if change & REPORT:
            self._show(change)
        wanted = self._bench.wanted
        if change & Change.GOTO and wanted is not None:
            self.go_to(wanted)

    def _show(self, change: Change) -> None:
        if change & Change.BOAT:
            self._open_first()
            self.pane.to_top()
        for group in self.groups.values():
            group.update(change)
        self._show_notes()

    def _open_first(self) -> None:
        """Open the sections that start open; below the first screen they open a moment later.

        Making a row costs milliseconds, and the window is not to wait for those out of sight.
        """
        self._waiting.clear()
        rows = 0
        for table, group in self.groups.items():
            opens = self._starts_open(group)
            if opens and not group.is_built and rows >= _ROWS_AT_ONCE:
                self._waiting.append(group)
            else:
                group.set_open(opens)
            rows += len(FIELDS[table]) if opens else 1
        self._open_later.ask()

    def _open_next(self) -> None:
        if not self._waiting:
            return
        if self.may_go_on():
            group = self._waiting.pop(0)
            group.set_open(self.folds.get(group.table, True))
        self._open_later.ask()

    def destroy(self) -> None:
        """Take it down, with what still waits to be done."""
        self._open_later.cancel()
        super().destroy()

    def _starts_open(self, group: Group) -> bool:
        table = group.table
        if table in self.folds:
            return self.folds[table]
        if table in START_FOLDED:
            return False
        rows = self._bench.draft.rows(table)
        is_needed = any(spec.required for _, spec in FIELDS[table])
        return is_needed or any(filled_in(table, row) for row in rows)

    def _show_notes(self) -> None:
        wrong = Counter(self._counted(address) for address in self._bench.derived.messages)
        lacks = Counter(self._counted(address) for address in self._bench.derived.missing)
        for table, group in self.groups.items():
            key = _Place(table, group.index)
            needed = lacks[key]
            if table not in LIST_FIELDS:
                fields = (Address(table, name) for name in _REQUIRED[table])
                needed = sum(1 for address in fields if self._is_needed(address))
            group.section.set_note(*group.note(wrong[key], needed))

    @staticmethod
    def _counted(address: Address) -> _Place:
        """Return the heading a field is counted under: all holes stand under one."""
        return _Place(address.table, -1 if address.table in LISTED else address.index)

    def _lacking(self, table: str) -> set[int]:
        missing = self._bench.derived.missing
        return {address.index for address in missing if address.table == table}

    def _first_lack(self, address: Address) -> Address:
        derived, draft = self._bench.derived, self._bench.draft
        fields = [Address(address.table, name, address.index) for name, _ in FIELDS[address.table]]
        there = [field for field in fields if self._is_there(field)]
        lacks = (
            field
            for field in there
            if field in derived.messages or (field.spec.required and not draft.text(field).strip())
        )
        return next(lacks, fields[0])

    def _is_needed(self, address: Address) -> bool:
        return address.spec.required and not self._bench.draft.text(address).strip()

    def _is_there(self, address: Address) -> bool:
        if address.table not in LIST_FIELDS:
            return True
        return 0 <= address.index < len(self._bench.draft.rows(address.table))
