"""The sections of the measurements: one for each table, whose rows are made when first opened.

There is one set of rows for engines, which stands for the engine shown, and a few for each other
repeated table, which stand for some of its rows at a time.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Any, Protocol

from rigfit.desk.draft import FIELDS, Address
from rigfit.desk.how_to_pictures import HowToPictures
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, Rule, space
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.panes import BAR_WIDTH
from rigfit.desk.kit.sections import Section
from rigfit.desk.measurement_rows import DEFAULTS, Line, rows_behind
from rigfit.desk.row_names import counted_rows, one_row, row_name
from rigfit.desk.workbench import Change, Workbench
from rigfit.records.plain_words import visible
from rigfit.rigging.job import GROUPS, LISTS

if TYPE_CHECKING:
    from rigfit.desk.entry_aids import EntryAids
    from rigfit.desk.offset_aid import OffsetAid
    from rigfit.desk.outline_aid import OutlineAid

ROWS_SHOWN = 8
"""Rows of a repeated table shown at a time; a file may hold thousands of holes."""

RESHAPED = Change.BOAT | Change.ENGINES | Change.ENGINE
"""Changes after which rows may have to stand for other engines, holes, openings ..."""

_LONGEST_TITLE = 24
_HEADINGS = {key: heading for key, heading, _ in GROUPS} | {
    key: heading for key, _, heading, _ in LISTS
}


class Panel(Protocol):
    """What a section asks of the panel it stands in."""

    folds: dict[str, bool]

    def touch(self, address: Address) -> None:
        """Take note that somebody types in a table."""

    def is_quiet(self, address: Address) -> bool:
        """True while nothing has been typed in the table of a field."""

    def go_to(self, address: Address) -> None:
        """Bring a field into sight and put the cursor into it."""

    def see(self, widget: tk.Misc) -> None:
        """Scroll until a widget is in sight."""

    def faults_at(self, table: str, index: int) -> tuple[str, ...]:
        """Return what is said of the fields of one row; the same while that is the same."""


@lru_cache(maxsize=1024)
def filled_in(table: str, row: tuple[str, ...]) -> int:
    """Return how many fields of a row hold something that is not their default."""
    defaults = DEFAULTS[table]
    pairs = zip(row, FIELDS[table], strict=True)
    texts = ((text.strip(), defaults[name]) for text, (name, _) in pairs)
    return sum(1 for text, default in texts if text and text != default)


class Group:
    """A section with the rows of one single table; the base of the others.

    :param table: key of the table.
    :param pictures: paints the pictures of the helps.
    :param panel: what it stands in.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        table: str,
        pictures: HowToPictures,
        panel: Panel,
    ) -> None:
        self.bench, self.table, self.panel = bench, table, panel
        self._pictures = pictures
        title, _, self._remark = _HEADINGS[table].partition(": ")
        self.section = Section(master, title, is_open=False, on_fold=self._folded)
        self.section.pack(fill="x")
        left, right = theme.PADDING, theme.PADDING - BAR_WIDTH + theme.GAP
        space(self.section, padx=(left, right), pady=(theme.GAP, 0))
        self.lines: list[Line] = []
        self.is_built, self._is_asked = False, True
        self._seen: dict[int, tuple[Any, ...]] = {}
        self._by_row: list[tuple[int, tuple[Line, ...]]] = []

    @property
    def index(self) -> int:
        """Which of a repeated table is shown; -1 for a single one, and for all of them."""
        return -1

    def addresses(self) -> Iterator[Address]:
        """Yield the address of every field shown, in reading order."""
        for name, _ in FIELDS[self.table]:
            yield Address(self.table, name, self.index)

    def set_open(self, is_open: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Open or fold it, which the person has not asked for."""
        self._is_asked = False
        if is_open:
            self.section.unfold()
        else:
            self.section.fold()
        self._is_asked = True

    def line(self, address: Address) -> Line | None:
        """Return the row of a field, None where none shows it."""
        return next((line for line in self.lines if line.address == address), None)

    def update(self, change: Change) -> None:
        """Show what the draft holds; folded rows wait until they are opened."""
        if self.is_built and self.section.is_open:
            if change & RESHAPED:
                self._seen.clear()
                self.point()
                rows = groupby(self.lines, lambda line: line.address.index)
                self._by_row = [(index, tuple(lines)) for index, lines in rows]
            for index, lines in self._by_row:
                self._update_row(index, lines)

    def _update_row(self, index: int, lines: tuple[Line, ...]) -> None:
        """Show one row of the table, unless nothing of it can have changed: most are as before."""
        rows, derived = self.bench.draft.rows(self.table), self.bench.derived
        if index >= len(rows):
            return
        row, quiet = rows[max(index, 0)], self.panel.is_quiet(Address(self.table, "", index))
        behind = rows_behind(self.bench, self.table)
        faults = self.panel.faults_at(self.table, index)
        seen = row, faults, quiet, derived.job.units, behind
        if seen != self._seen.get(index):
            self._seen[index] = seen
            for line in lines:
                line.update(quiet=quiet)

    def point(self) -> None:
        """Have the rows stand for what is to be shown now."""

    def build(self) -> None:
        """Make the rows."""
        if self._remark:
            words = self._remark[:1].upper() + self._remark[1:] + "."
            remark = Label(self.section.body, words, role="dim", size=theme.SMALL)
            remark.pack(fill="x")
            space(remark, pady=(0, theme.GAP))
        self._add_lines(self.section.body)

    def go_to(self, address: Address) -> Line | None:
        """Open the section and return the row of a field, None where there is none."""
        self.set_open(True)
        return self.line(address)

    def note(self, wrong: int, needed: int) -> tuple[str, Role]:
        """Return what stands at the end of the heading, and its colour.

        :param wrong: fields with a message.
        :param needed: needed fields that are empty.
        """
        if wrong:
            return f"{wrong} to put right", "error"
        if needed:
            quiet = self.panel.is_quiet(Address(self.table, "", self.index))
            return f"{needed} needed", "dim" if quiet else "warn"
        return self._fill(), "dim"

    def _fill(self) -> str:
        fields, row = FIELDS[self.table], self.bench.draft.rows(self.table)[max(self.index, 0)]
        if all(spec.choices for _, spec in fields):
            return ", ".join(visible(text.strip(), 12) for text in row if text.strip())
        filled = filled_in(self.table, row)
        if not filled and not any(spec.required for _, spec in fields):
            return "optional"
        return f"{filled} of {len(row)}"

    def _add_lines(self, master: tk.Misc) -> None:
        for address in self.addresses():
            self.lines.append(Line(master, self.bench, address, self._pictures, self.panel.touch))

    def _folded(self, is_open: bool) -> None:  # noqa: FBT001 - as the section calls it
        if self._is_asked:
            self.panel.folds[self.table] = is_open
        if is_open and not self.is_built:
            self.is_built = True
            self.build()
        self.update(Change.BOAT)


class EngineGroup(Group):
    """The fields of the engine shown, with buttons for engines."""

    @property
    def index(self) -> int:
        """Which engine is shown."""
        return self.bench.engine_index

    def build(self) -> None:
        """Make the buttons; rows are made once there is an engine."""
        self._buttons = Area(self.section.body)
        self._buttons.pack(fill="x")
        space(self._buttons, pady=(0, theme.GAP))
        self.add = Button(self._buttons, "Add", self._add, icon="plus")
        self.duplicate = Button(self._buttons, "Duplicate", self.bench.duplicate_engine)
        self.remove = Button(self._buttons, "Remove", self._remove)
        self.add.pack(side="left")
        words = "There is no engine yet. Add one to see whether it fits."
        self._none = Label(self.section.body, words, role="dim", wrap=280)
        self._rows = Area(self.section.body)
        self._aid: OutlineAid | None = None

    def point(self) -> None:
        """Stand for the engine shown; without one there are no rows."""
        has_engine = bool(self.bench.draft.engines)
        if has_engine and not self.lines:
            self._add_lines(self._rows)
            self._add_aid()
        if has_engine != bool(self._rows.winfo_manager()):
            self._show_rows(has_engine)
        elif not has_engine and not self._none.winfo_manager():
            self._none.pack(fill="x")
        if has_engine:
            for line, address in zip(self.lines, self.addresses(), strict=True):
                line.point(address)

    @property
    def aid(self) -> OutlineAid | None:
        """The aid for the engine's side view, once there is an engine."""
        return self._aid

    def update(self, change: Change) -> None:
        """Show what the draft holds; an aid that is open hears of it too."""
        super().update(change)
        if self.is_built and self.section.is_open and self._aid is not None:
            self._aid.update_card()

    def _add_aid(self) -> None:
        from rigfit.desk.outline_aid import OutlineAid

        self._aid = OutlineAid(self._rows, self.bench, self.panel.go_to, self.panel.see)
        self._aid.pack(fill="x")

    def _show_rows(self, has_engine: bool) -> None:  # noqa: FBT001
        shown, hidden = (self._rows, self._none) if has_engine else (self._none, self._rows)
        hidden.pack_forget()
        shown.pack(fill="x")
        for button in (self.duplicate, self.remove):
            if has_engine:
                button.pack(side="left", padx=(theme.GAP, 0))
            else:
                button.pack_forget()

    def title(self) -> str:
        """Return the heading with the engine's id."""
        ids = self.bench.draft.engine_ids
        if not ids:
            return "Engine"
        return "Engine " + (visible(ids[self.index], _LONGEST_TITLE) or str(self.index + 1))

    def note(self, wrong: int, needed: int) -> tuple[str, Role]:
        """Return what stands at the end of the heading."""
        self.section.set_title(self.title())
        if not self.bench.draft.engines:
            return "none yet", "dim"
        return super().note(wrong, needed)

    def _add(self) -> None:
        self.bench.add_engine()
        self.panel.go_to(Address("engine", "", self.index))

    def _remove(self) -> None:
        self.bench.remove_engine()
        if not self.bench.draft.engines:
            self.add.focus_set()


class RowBlock(Area):
    """One row of a repeated table: its number, a button to take it out, and its fields.

    :param name: what such a row is called ("hole").
    """

    def __init__(self, master: tk.Misc, name: str, on_remove: Callable[[], Any]) -> None:
        super().__init__(master)
        self._name = name.capitalize()
        head = Area(self)
        head.pack(fill="x")
        space(head, pady=(0, theme.GAP / 2))
        self._title = Label(head, "", size=theme.LABEL, bold=True)
        self._title.pack(side="left")
        self.remove = IconButton(head, "remove", f"Take this {name} out", on_remove)
        self.remove.pack(side="right")
        rule = Rule(head)
        rule.pack(side="left", fill="x", expand=True)
        space(rule, padx=theme.GAP)
        self.rows = Area(self)
        self.rows.pack(fill="x")

    def set_number(self, number: int) -> None:
        """Show which row it is, from 1."""
        self._title.set_text(f"{self._name} {number}")


class ListGroup(Group):
    """The rows of a repeated table, ``rows_shown`` at a time."""

    rows_shown = ROWS_SHOWN
    """How many rows have fields at a time; rows of many fields take long to make."""

    first = 0
    """Which row the first fields stand for."""

    def build(self) -> None:
        """Make what stands under the rows; their fields are made when there are rows."""
        self.blocks: list[RowBlock] = []
        self._pages = Area(self.section.body)
        self._list = Area(self.section.body)
        self._list.pack(fill="x")
        self.earlier = Button(self._pages, "Earlier", lambda: self._turn(-self.rows_shown))
        self.later = Button(self._pages, "Later", lambda: self._turn(self.rows_shown))
        self._which = Label(self._pages, "", role="dim", size=theme.SMALL, anchor="center")
        self.earlier.pack(side="left")
        self.later.pack(side="right")
        self._which.pack(side="left", fill="x", expand=True)
        foot = Area(self.section.body)
        foot.pack(fill="x")
        space(foot, pady=(0, theme.GAP))
        self.add = Button(foot, f"Add {one_row(self.table)}", self._add, icon="plus")
        self.add.pack(side="left")

    def addresses(self) -> Iterator[Address]:
        """Yield the fields of the rows shown."""
        for index in self._shown():
            for name, _ in FIELDS[self.table]:
                yield Address(self.table, name, index)

    def point(self) -> None:
        """Have a block of fields for each row shown."""
        self._turn_to_place()
        shown = self._shown()
        while len(self.blocks) < len(shown):
            self._add_block()
        for place, block in enumerate(self.blocks):
            self._place(place, block, is_shown=place < len(shown))
        self._show_pages()

    def go_to(self, address: Address) -> Line | None:
        """Open the section at a row and return the line of its field."""
        self.first = max(address.index, 0) // self.rows_shown * self.rows_shown
        self.set_open(True)
        self.update(Change.ENGINES)
        return self.line(address)

    def note(self, wrong: int, needed: int) -> tuple[str, Role]:
        """Return what stands at the end of the heading."""
        if not needed and not wrong:
            return counted_rows(self.table, len(self.bench.draft.rows(self.table))), "dim"
        return super().note(wrong, needed)

    def _shown(self) -> range:
        return range(
            self.first, min(self.first + self.rows_shown, len(self.bench.draft.rows(self.table)))
        )

    def _turn_to_place(self) -> None:
        last = max(len(self.bench.draft.rows(self.table)) - 1, 0)
        self.first = min(self.first, last // self.rows_shown * self.rows_shown)

    def _turn(self, by: int) -> None:
        self.first = max(self.first + by, 0)
        self.update(Change.ENGINES)

    def _add_block(self) -> None:
        place = len(self.blocks)
        block = RowBlock(self._list, row_name(self.table), lambda: self._remove(place))
        self.blocks.append(block)
        for name, _ in FIELDS[self.table]:
            address = Address(self.table, name, self.first + place)
            self.lines.append(
                Line(block.rows, self.bench, address, self._pictures, self.panel.touch)
            )

    def _place(self, place: int, block: RowBlock, *, is_shown: bool) -> None:
        index = self.first + place
        count = len(FIELDS[self.table])
        for line in self.lines[place * count : (place + 1) * count]:
            line.point(Address(self.table, line.address.field, index))
        if is_shown:
            block.set_number(index + 1)
            block.pack(fill="x")
        else:
            block.pack_forget()

    def _show_pages(self) -> None:
        shown, count = self._shown(), len(self.bench.draft.rows(self.table))
        if count <= self.rows_shown:
            self._pages.pack_forget()
            return
        self._which.set_text(f"{shown.start + 1} to {shown.stop} of {count:,}")
        self.earlier.set_enabled(shown.start > 0)
        self.later.set_enabled(shown.stop < count)
        if not self._pages.winfo_manager():
            self._pages.pack(fill="x", before=self._list)
            space(self._pages, pady=(0, theme.GAP))

    def _add(self) -> None:
        self.bench.add_row(self.table)
        name = FIELDS[self.table][0][0]
        self.panel.go_to(Address(self.table, name, len(self.bench.draft.rows(self.table)) - 1))

    def _remove(self, place: int) -> None:
        self.bench.remove_row(self.table, self.first + place)
        if place >= len(self._shown()):
            self.add.focus_set()


class OffsetGroup(ListGroup):
    """The table of offsets, with the way to paste all of it or read it from a file."""

    aid: OffsetAid

    def build(self) -> None:
        """Make what stands under the offsets."""
        from rigfit.desk.offset_aid import OffsetAid

        super().build()
        self.aid = OffsetAid(self.section.body, self.bench, self._added, self.panel.see)
        self.aid.pack(fill="x")
        space(self.aid, pady=(0, theme.GAP))

    def update(self, change: Change) -> None:
        """Show what the draft holds; the aid hears of it too when it is open."""
        super().update(change)
        if self.is_built and self.section.is_open:
            self.aid.update_card()

    def _added(self, first: int) -> None:
        """Show the first of the offsets that were added."""
        self.panel.go_to(Address(self.table, FIELDS[self.table][0][0], first))


class HoleGroup(ListGroup):
    """The old holes, with the ways to enter many of them, or one without a centreline."""

    aids: EntryAids

    def build(self) -> None:
        """Make what stands under the holes."""
        from rigfit.desk.entry_aids import EntryAids

        super().build()
        self.aids = EntryAids(self.section.body, self.bench, self._added, self.panel.see)
        self.aids.pack(fill="x")
        space(self.aids, pady=(0, theme.GAP))

    def update(self, change: Change) -> None:
        """Show what the draft holds; an aid that is open hears of it too."""
        super().update(change)
        if self.is_built and self.section.is_open:
            self.aids.update_card()

    def _added(self, first: int) -> None:
        """Show the first of the holes that an aid has added."""
        self.panel.go_to(Address(self.table, FIELDS[self.table][0][0], first))
