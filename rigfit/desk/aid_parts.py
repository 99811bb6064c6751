"""What the aids for entering holes are made of: a card, paragraphs, a preview with its button."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from tkinter import ttk
from typing import Any

from rigfit.desk.hole_entry import Proposal, cells, doubles
from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Card, Label, space
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.fields import ChoiceRow, FieldRow
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.desk.measurement_rows import LONGEST_NUMBER, help_words, unit_behind
from rigfit.desk.row_names import counted_rows
from rigfit.desk.workbench import Workbench
from rigfit.rigging.readings import FieldSpec

FIELD_PX = 136
"""Width of a field inside a card, logical px."""

_SIDE = 12
_PROBLEMS_SEEN, _ROWS_SEEN = 4, 6
_LONGEST_NAME = 24


class Paragraphs(Area):
    """Sentences one below the other, broken at the width there is; lines are reused.

    :param size: letter size in logical px.
    """

    def __init__(self, master: tk.Misc, size: int = theme.SMALL) -> None:
        super().__init__(master)
        self._size_px = size
        self._lines: list[Label] = []
        self._said: tuple[tuple[str, Role], ...] = ()
        tk.Frame.configure(self, height=1)
        self.bind("<Configure>", lambda event: self._fit(event.width))

    @property
    def text(self) -> str:
        """All it says."""
        return " ".join(words for words, _ in self._said)

    def show(self, said: Sequence[tuple[str, Role]]) -> None:
        """Say other sentences, each in the colour of a role; empty ones are passed over."""
        new = tuple((words, role) for words, role in said if words)
        if new == self._said:
            return
        self._said = new
        while len(self._lines) < len(new):
            self._lines.append(Label(self, size=self._size_px))
        for line, (words, role) in zip(self._lines, new, strict=False):
            line.set_text(words)
            line.set_role(role)
            if not line.winfo_manager():
                line.pack(fill="x")
                space(line, pady=(0, theme.GAP / 2))
        for line in self._lines[len(new) :]:
            line.pack_forget()
        if not new:  # an empty frame would keep its last height
            tk.Frame.configure(self, height=1)
        self._fit(self.winfo_width())

    def _fit(self, width: int) -> None:
        if width > 1:
            for line in self._lines:
                line.set_wrap(width)


class HoleTable(Table):
    """Proposed holes; with ``ticks`` each can be left out: Space, Return or a click on its mark.

    :param on_tick: called after a mark was set or taken away; None for a table without marks.
    """

    def __init__(self, master: tk.Misc, on_tick: Callable[[], Any] | None = None) -> None:
        self.left_out: set[str] = set()
        self._on_tick = on_tick
        columns = (
            Column("across", "Across", 40, is_numeric=True),
            Column("below", "Below", 40, is_numeric=True),
            Column("diameter", "Diam.", 40, is_numeric=True, is_spare=True),
            Column("name", "Name", 40, is_spare=True, gives_way=1, grows=True),
        )
        super().__init__(
            master,
            columns,
            verdict_title="Add" if on_tick else "",
            on_open=self._toggle if on_tick else None,
            rows_seen=4,
            fits_cells=True,
        )
        if on_tick:
            self.tree.bind("<space>", lambda _event: self._toggle_picked())
            self.tree.bind("<ButtonRelease-1>", self._clicked_mark, add="+")

    def show(self, rows: Sequence[TableRow]) -> None:
        """Show other rows, all of them ticked."""
        self.left_out.clear()
        self.set_rows(rows)
        self.tree.configure(height=min(max(len(rows), 1), _ROWS_SEEN))

    def tick(self, keys: Sequence[str], *, is_on: bool) -> None:
        """Set the marks of some rows, or take them away."""
        for key in keys:
            (self.left_out.discard if is_on else self.left_out.add)(key)
        for row in self._rows:
            if row.key in keys:
                self.tree.item(row.key, **self._signed(row))
        if self._on_tick is not None:
            self._on_tick()

    def _signed(self, row: TableRow) -> dict[str, Any]:
        if self._on_tick is None:
            return {}
        is_on = row.key not in self.left_out
        image = icons.photo("check", "accent", icons.MARK) if is_on else icons.blank()
        return {"image": image, "text": "  add" if is_on else "  leave"}

    def _toggle(self, key: str) -> None:
        self.tick([key], is_on=key in self.left_out)

    def _toggle_picked(self) -> str:
        key = self.picked or str(self.tree.focus())
        if key:
            self._toggle(key)
        return "break"

    def _clicked_mark(self, event: tk.Event[Any]) -> None:
        key = str(self.tree.identify_row(event.y))
        if key and self.tree.identify_column(event.x) == "#0":
            self._toggle(key)


class Preview(Area):
    """What would be added, what cannot be, and the button that adds it.

    :param on_add: called with the texts of the rows to add.
    :param has_ticks: True where each row can be left out.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        on_add: Callable[[Sequence[Mapping[str, str]]], Any],
        *,
        has_ticks: bool = False,
    ) -> None:
        super().__init__(master)
        self._bench, self._on_add = bench, on_add
        self.proposal = Proposal()
        self._shown: Any = None
        self.said = Paragraphs(self)
        self.said.pack(fill="x")
        self.table = HoleTable(self, self._count if has_ticks else None)
        self.unit = Label(self, role="dim", size=theme.SMALL)
        self.add = Button(self, "Add holes", self._add, style="primary")

    def show(self, proposal: Proposal) -> None:
        """Show other holes; the same ones keep their marks."""
        bench = self._bench
        entries, style = bench.derived.job.units.entries, bench.style
        shown = proposal, entries, style, bench.derived.job.holes
        if shown == self._shown:
            return
        self._shown, self.proposal = shown, proposal
        rows = [
            TableRow(str(place), (*measured, name[:_LONGEST_NAME]))
            for place, (name, *measured) in enumerate(
                cells(row, entries, style) for row in proposal.rows
            )
        ]
        self.table.show(rows)
        again = doubles(proposal.rows, bench.derived.job.holes, entries)
        self.said.show(
            [
                *((words, "error") for words in _first(proposal.problems)),
                (again, "warn"),
                *((words, "dim") for words in proposal.notes),
            ]
        )
        self._show_table(has_rows=bool(rows))
        self.unit.set_text(f"Lengths in {'mm' if style.lengths == 'mm' else 'inches'}.")
        self._count()

    @property
    def chosen(self) -> tuple[Mapping[str, str], ...]:
        """The texts of the rows that are not left out."""
        left_out = self.table.left_out
        texts = self.proposal.texts
        return tuple(row for place, row in enumerate(texts) if str(place) not in left_out)

    def _show_table(self, *, has_rows: bool) -> None:
        if has_rows and not self.table.winfo_manager():
            self.table.pack(fill="x", after=self.said)
            self.unit.pack(anchor="w", after=self.table)
            space(self.unit, pady=(4, 0))
        elif not has_rows:
            self.table.pack_forget()
            self.unit.pack_forget()

    def _count(self) -> None:
        count = len(self.chosen)
        if count:
            self.add.set_text(f"Add {counted_rows('hole', count)}")
        if bool(count) != bool(self.add.winfo_manager()):
            if count:
                self.add.pack(anchor="w", pady=(theme.GAP, 0))
            else:
                self.add.pack_forget()

    def _add(self) -> None:
        chosen = self.chosen
        if chosen:
            self._on_add(chosen)


class AidCard(Card):
    """A card with one aid; a subclass fills ``body`` and answers ``refresh``.

    :param heading: what the aid is called.
    :param on_add: adds rows to the boat.
    :param on_close: takes the card away.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        heading: str,
        on_add: Callable[[Sequence[Mapping[str, str]]], Any],
        on_close: Callable[[], Any],
    ) -> None:
        super().__init__(master)
        self.bench, self._on_close = bench, on_close
        self.on_add = on_add
        self.see: Callable[[], Any] = bool
        """Brings the card into sight; set by whoever knows what scrolls."""
        inside = Area(self, "panel")
        inside.pack(fill="both", expand=True)
        space(inside, padx=_SIDE, pady=(8, _SIDE))
        head = Area(inside)
        head.pack(fill="x")
        self.title = Label(head, heading, bold=True, size=theme.LABEL)
        self.title.pack(side="left")
        self.close_button = IconButton(head, "close", "Close (Esc)", on_close)
        self.close_button.pack(side="right")
        self.body = Area(inside)
        self.body.pack(fill="x")
        self.fields: dict[str, FieldRow] = {}
        self.choices: dict[str, ChoiceRow] = {}
        self.build()
        self._close_on_escape(self)

    @property
    def entries(self) -> str:
        """In what a number without a unit is read."""
        return self.bench.derived.job.units.entries

    def build(self) -> None:
        """Fill the body."""

    def refresh(self) -> None:
        """Follow the boat and what is typed in the card."""

    def focus_first(self) -> None:
        """Give the first control the keyboard."""
        self.close_button.focus_set()

    def opened(self) -> None:
        """Called each time it has come into sight."""
        self.refresh()
        self.focus_first()

    def see_all(self) -> None:
        """Bring as much of it into sight as there is room for."""
        self.update_idletasks()  # its height decides how far to scroll
        self.see()

    def closed(self) -> None:
        """Called when it is taken away."""

    def add_field(
        self, name: str, spec: FieldSpec, master: tk.Misc | None = None, text: str = ""
    ) -> FieldRow:
        """Add a row for a measurement (or a name) of the aid's own."""
        row = FieldRow(
            master or self.body,
            spec.label,
            help_text=lambda: help_words(spec, shown=self.bench.style),
            on_edit=lambda _text: self.refresh(),
            on_focus=lambda: self.bench.set_focus(None),
            numeric=spec.kind is not None,
            field_width=FIELD_PX,
            echo_characters=0,
        )
        row.set_text(text)
        row.pack(fill="x")
        self.fields[name] = row
        return row

    def add_choice(
        self, name: str, label: str, choices: Mapping[str, str], master: tk.Misc | None = None
    ) -> ChoiceRow:
        """Add a row for a choice of the aid's own; the first one is chosen."""
        row = ChoiceRow(
            master or self.body,
            label,
            choices,
            on_choose=lambda _key: self.refresh(),
            on_focus=lambda: self.bench.set_focus(None),
            chosen=next(iter(choices), ""),
            field_width=FIELD_PX,
        )
        row.pack(fill="x")
        self.choices[name] = row
        return row

    def show_fields(self, specs: Mapping[str, FieldSpec], messages: Mapping[str, str]) -> None:
        """Say what is wrong with the fields, and in which unit bare numbers are read."""
        for name, spec in specs.items():
            row = self.fields[name]
            row.set_message(messages.get(name, ""))
            if spec.kind is not None:
                row.set_echo(unit_behind(row.text[:LONGEST_NUMBER], spec.kind, self.entries))

    def _close_on_escape(self, widget: tk.Misc) -> None:
        for child in tk.Misc.winfo_children(widget):
            # In an entry it takes back what was typed. Elsewhere a key that is bound would make a
            # stop of Tab of what is none.
            takes_keys = str(self.tk.call(str(child), "cget", "-takefocus")) == "1"
            if takes_keys or isinstance(child, ttk.Treeview):
                child.bind("<Escape>", lambda _event: self._escaped(), add="+")
            self._close_on_escape(child)

    def _escaped(self) -> str:
        self._on_close()
        return "break"


class OneAid(Area):
    """The button of the only aid a section has, and its card while it is open.

    A subclass says what stands on the button, the heading and kind of the card, and adds.

    :param see: brings a widget into sight.
    """

    words = heading = ""
    kind: type[AidCard] = AidCard

    def __init__(self, master: tk.Misc, bench: Workbench, see: Callable[[tk.Misc], Any]) -> None:
        super().__init__(master)
        self.bench, self._see = bench, see
        self.card: Any = None
        self.is_open = False
        self.button = Button(self, self.words, self.toggle)
        self.button.pack(anchor="w")
        space(self.button, pady=(0, theme.GAP))

    def add(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Add what the card offers, and close it."""
        raise NotImplementedError

    def toggle(self) -> None:
        """Open the card, or close it."""
        if self.is_open:
            self.close()
            return
        if self.card is None:
            self.card = self.kind(self, self.bench, self.heading, self.add, self.close)
            self.card.see = partial(self._see, self.card)
        self.is_open = True
        self.button.set_on(True)
        self.card.pack(fill="x")
        self.update_idletasks()  # what is not in sight yet cannot take the keyboard
        self.card.opened()
        self.card.see_all()

    def close(self) -> None:
        """Take the card away; the button has the keyboard again."""
        if self.is_open:
            self.is_open = False
            self.card.closed()
            self.card.pack_forget()
            self.button.set_on(False)
            self.button.focus_set()

    def update_card(self) -> None:
        """Have the open card follow the boat."""
        if self.is_open:
            self.card.refresh()


def _first(problems: Sequence[str]) -> tuple[str, ...]:
    """Return the first problems; a card is no place for a hundred."""
    if len(problems) <= _PROBLEMS_SEEN:
        return tuple(problems)
    more = len(problems) - _PROBLEMS_SEEN + 1
    return (*problems[: _PROBLEMS_SEEN - 1], f"{more} more cannot be used either.")
