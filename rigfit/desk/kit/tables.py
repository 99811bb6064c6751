"""Tables: sortable by heading or keyboard, with the verdict as mark and word in the first cell."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from tkinter import ttk
from typing import Any, Literal

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Outline
from rigfit.desk.kit.panes import ScrollBar
from rigfit.rigging.findings import Verdict

_STYLE = "Rigfit.Treeview"
_SIGN = "#0"
_CELL_SIDE = 8
_ROW_ROOM = 12
_SIGN_WIDTH = 104
_BUILT_IN = 4
"""Screen pixels that Tk adds at both sides of a cell, but not of a heading."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    :param key: its name for the program.
    :param title: its heading, with the unit where there is one ("lift, mm").
    :param width: least width in logical px.
    :param is_numeric: True for right-aligned figures.
    :param grows: True to share in width that is left over.
    :param is_spare: True to leave it out where the table is too narrow for all columns.
    :param gives_way: of spare columns those with the highest go first, of equals the last.
    """

    key: str
    title: str
    width: int = 96
    is_numeric: bool = False
    grows: bool = False
    is_spare: bool = False
    gives_way: int = 0


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table.

    :param key: its name for the program; no two rows have the same.
    :param cells: texts in the order of the columns.
    :param order: what to sort by, in the same order; the texts themselves where it is shorter.
    :param verdict: for the first cell, in tables that have one.
    """

    key: str
    cells: tuple[str, ...]
    order: tuple[Any, ...] = ()
    verdict: Verdict | None = None

    def sort_key(self, column: int) -> Any:
        """Return what to sort by in a column; -1 is the verdict."""
        if column < 0:
            return -1 if self.verdict is None else self.verdict.rank
        return self.order[column] if column < len(self.order) else self.cells[column]


class Table(Outline):
    """Rows to read, sort and pick from.

    Keyboard: Up and Down pick a row, Return opens it, Left and Right choose the column to sort
    by, Space turns the order round, Control-C copies the picked row.

    :param columns: without that of the verdict.
    :param verdict_title: heading of the verdict's column; "" for a table without one.
    :param on_pick: called with the key of the row that was picked by hand.
    :param on_open: called with its key on Return or a double click.
    :param rows_seen: how many rows it asks room for.
    :param fits_cells: True to make every column as wide as its widest cell asks for.
    """

    def __init__(
        self,
        master: tk.Misc,
        columns: Sequence[Column],
        *,
        verdict_title: str = "",
        on_pick: Callable[[str], Any] | None = None,
        on_open: Callable[[str], Any] | None = None,
        rows_seen: int = 8,
        fits_cells: bool = False,
    ) -> None:
        super().__init__(master, fill="panel", line="rule")
        self._columns, self._rows = tuple(columns), tuple[TableRow, ...]()
        self._widths, self._fits_cells, self._title = dict[str, int](), fits_cells, verdict_title
        self._on_pick, self._on_open, self._told = on_pick, on_open, ""
        self._has_verdict = bool(verdict_title)
        self.sorted_by, self.is_reversed = "", False
        show: Any = "tree headings" if verdict_title else "headings"
        self.tree = ttk.Treeview(
            self,
            columns=[column.key for column in columns],
            show=show,
            style=_STYLE,
            selectmode="browse",
            height=rows_seen,
        )
        self.keys_to: ttk.Treeview = self.tree
        self._bar = ScrollBar(self, self.tree.yview)
        self.tree.configure(yscrollcommand=self._bar.set)
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(0, weight=1)
        self.tree.grid(row=0, column=0, sticky="nsew")
        self._bar.grid(row=0, column=1, sticky="ns")
        self._head(verdict_title)
        self._bind_keys()
        self.repaint()

    @property
    def shown_keys(self) -> list[str]:
        """The keys of the rows in the order they are shown."""
        return [str(item) for item in self.tree.get_children()]

    @property
    def picked(self) -> str:
        """The key of the picked row, or ""."""
        return next((str(item) for item in self.tree.selection()), "")

    def set_rows(self, rows: Sequence[TableRow]) -> None:
        """Show other rows, sorted as before; the picked row stays picked if it is still there."""
        picked = self.picked
        self._rows = tuple(rows)
        self.tree.delete(*self.tree.get_children())
        for row in self._rows:
            self.tree.insert("", "end", iid=row.key, values=row.cells, **self._signed(row))
        self._arrange()
        self._widen()
        self.pick(picked if any(row.key == picked for row in self._rows) else "")

    def update_rows(self, rows: Sequence[TableRow]) -> None:
        """Show other rows; where the keys are the same only cells that differ are written."""
        if [row.key for row in rows] != [row.key for row in self._rows]:
            self.set_rows(rows)
            return
        changed = [row for row, old in zip(rows, self._rows, strict=True) if row != old]
        if not changed:
            return
        self._rows = tuple(rows)
        for row in changed:
            self.tree.item(row.key, values=row.cells, **self._signed(row))
        self._arrange()
        self._widen()

    def set_columns(self, columns: Sequence[Column]) -> None:
        """Have other columns; ``set_rows`` must follow, the picked row stays picked."""
        if tuple(columns) == self._columns:
            return
        picked = self.picked
        self._columns, self._rows = tuple(columns), ()
        if self.sorted_by not in self._keys():
            self.sorted_by = ""
        # Shown columns first: the old ones are no columns any more after that.
        self.tree.configure(displaycolumns="#all")
        self.tree.configure(columns=[column.key for column in columns])
        self._head(self._title)
        self.repaint()
        self.pick(picked)

    @staticmethod
    def room_for(columns: Sequence[Column], rows: Sequence[TableRow]) -> dict[str, int]:
        """Return how wide each column must be for its heading and cells, in screen pixels."""
        side = 2 * theme.px(_CELL_SIDE)
        needed = {}
        for at, column in enumerate(columns):
            # Behind the heading the arrow must find room once it is sorted by that column.
            words = theme.text_width(f"{column.title} ", theme.SMALL, bold=True) + theme.px(12)
            cells = {row.cells[at] for row in rows}
            widest = max((theme.text_width(cell, theme.LABEL) for cell in cells), default=0)
            needed[column.key] = max(theme.px(column.width), words + side, widest + side)
        return needed

    @staticmethod
    def sign_room() -> int:
        """Return the width of the column of the verdict, in screen pixels."""
        return theme.px(_SIGN_WIDTH)

    def pick(self, key: str) -> None:
        """Pick a row, or with "" none, without calling anybody."""
        # The news of it comes later, as an event, and is then known already.
        self._told = key
        if key == self.picked:
            return
        if not key:
            self.tree.selection_set(())
            return
        self.tree.selection_set(key)
        self.tree.focus(key)
        self.tree.see(key)

    def sort(self, column: str, *, is_reversed: bool = False) -> None:
        """Sort by a column (``"#0"`` is the verdict's); equal rows keep their given order."""
        self.sorted_by, self.is_reversed = column, is_reversed
        self._arrange()
        self._show_arrow()

    def copied(self) -> str:
        """Return the picked row, or else all rows, as tab-separated text with headings."""
        titles = [str(self.tree.heading(key)["text"]).strip() for key in self._keys()]
        keys = [self.picked] if self.picked else self.shown_keys
        rows = {row.key: row for row in self._rows}
        lines = [self._line(rows[key]) for key in keys]
        return "\n".join("\t".join(cells) for cells in (titles, *lines))

    def focus_set(self) -> None:
        """Give it the keyboard, with a row to start from."""
        self.tree.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        style_tables(self.tree)
        edge = max(2, theme.px(2))
        self.tree.grid_configure(padx=(edge, 0), pady=edge)
        self._bar.grid_configure(padx=(0, edge), pady=edge)
        self.tree.tag_configure("odd", background=theme.colour("stripe"))
        self.tree.tag_configure("even", background=theme.colour("panel"))
        self._widths = {}
        self.tree.column(_SIGN, width=theme.px(_SIGN_WIDTH), minwidth=theme.px(_SIGN_WIDTH))
        self._widen()
        for row in self._rows:
            self.tree.item(row.key, **self._signed(row))
        self._show_arrow()

    def _head(self, verdict_title: str) -> None:
        self.tree.heading(_SIGN, text=verdict_title, command=lambda: self._clicked(_SIGN))
        self.tree.column(_SIGN, stretch=False)
        for column in self._columns:
            anchor: Literal["e", "w"] = "e" if column.is_numeric else "w"
            click = lambda key=column.key: self._clicked(key)  # noqa: E731
            self.tree.heading(column.key, text=column.title, anchor=anchor, command=click)
            self.tree.column(column.key, anchor=anchor, stretch=column.grows)
        self.tree.heading(_SIGN, anchor="w")

    def _bind_keys(self) -> None:
        tree = self.tree
        tree.bind("<Configure>", lambda event: self._fold(event.width))
        tree.bind("<FocusIn>", lambda _event: self._entered(), add="+")
        tree.bind("<FocusOut>", lambda _event: self.ring(False), add="+")  # noqa: FBT003
        tree.bind("<<TreeviewSelect>>", lambda _event: self._selected())
        tree.bind("<Return>", lambda _event: self._opened())
        tree.bind("<Double-1>", self._double)
        tree.bind("<Left>", lambda _event: self._sort_beside(-1))
        tree.bind("<Right>", lambda _event: self._sort_beside(1))
        tree.bind("<space>", lambda _event: self._turn())
        for key in ("c", "C"):
            tree.bind(f"<Control-{key}>", lambda _event: self._copy())

    def _widen(self) -> None:
        """Give the columns their widths, and fold anew where these have changed."""
        widths = {column.key: theme.px(column.width) for column in self._columns}
        if self._fits_cells:
            widths = self.room_for(self._columns, self._rows)
        if widths != self._widths:
            self._widths = widths
            for key, least in widths.items():
                self.tree.column(key, width=least, minwidth=least)
            self._fold(self.tree.winfo_width())

    def _fold(self, width: int) -> None:
        """Leave out spare columns that do not fit; those that grow, or the last, take the rest."""
        if width <= 1:
            return
        left = width - (theme.px(_SIGN_WIDTH) if self._has_verdict else 0)
        left -= sum(self._widths[item.key] for item in self._columns if not item.is_spare)
        fitting = set[str]()
        for column in sorted(self._columns, key=lambda item: item.gives_way):
            if column.is_spare and self._widths[column.key] <= left:
                left -= self._widths[column.key]
                fitting.add(column.key)
        shown = [item for item in self._columns if not item.is_spare or item.key in fitting]
        keys = tuple(column.key for column in shown)
        if keys != tuple(self.tree.cget("displaycolumns")):
            self.tree.configure(displaycolumns=keys)
        growing = [column for column in shown if column.grows] or shown[-1:]
        for column in shown:
            more = max(0, left) // len(growing) if column in growing else 0
            self.tree.column(column.key, width=self._widths[column.key] + more)

    def _keys(self) -> list[str]:
        keys = [column.key for column in self._columns]
        return [_SIGN, *keys] if self._has_verdict else keys

    def _signed(self, row: TableRow) -> dict[str, Any]:
        if row.verdict is None:
            return {}
        return {"image": icons.mark(row.verdict), "text": f"  {row.verdict.value}"}

    def _line(self, row: TableRow) -> list[str]:
        word = [row.verdict.value if row.verdict else ""] if self._has_verdict else []
        return [*word, *row.cells]

    def _arrange(self) -> None:
        rows = list(self._rows)
        if self.sorted_by:
            keys = [column.key for column in self._columns]
            at = -1 if self.sorted_by == _SIGN else keys.index(self.sorted_by)
            # Empty cells last, whichever way round.
            filled = [row for row in rows if row.sort_key(at) not in (None, "")]
            empty = [row for row in rows if row.sort_key(at) in (None, "")]
            filled.sort(key=lambda row: row.sort_key(at), reverse=self.is_reversed)
            rows = [*filled, *empty]
        for place, row in enumerate(rows):
            self.tree.move(row.key, "", place)
            self.tree.item(row.key, tags=("odd" if place % 2 else "even",))

    def _show_arrow(self) -> None:
        arrow = icons.photo("down" if self.is_reversed else "up", "accent", 12)
        for key in self._keys():
            is_sorted = key == self.sorted_by
            title = str(self.tree.heading(key)["text"]).strip()
            self.tree.heading(
                key, image=arrow if is_sorted else "", text=f"{title} " if is_sorted else title
            )

    def _clicked(self, key: str) -> None:
        self.sort(key, is_reversed=key == self.sorted_by and not self.is_reversed)

    def _sort_beside(self, by: int) -> str:
        keys = self._keys()
        at = keys.index(self.sorted_by) + by if self.sorted_by in keys else 0
        self.sort(keys[at % len(keys)], is_reversed=self.is_reversed)
        return "break"

    def _turn(self) -> str:
        self.sort(self.sorted_by or self._keys()[0], is_reversed=not self.is_reversed)
        return "break"

    def _entered(self) -> None:
        self.ring(True)  # noqa: FBT003
        if self.shown_keys and not self.picked:
            # A row to start from; nothing is picked before an arrow is pressed.
            self.tree.focus(self.shown_keys[0])

    def _selected(self) -> None:
        if self.picked != self._told:
            self._told = self.picked
            if self._told and self._on_pick is not None:
                self._on_pick(self._told)

    def _opened(self) -> str:
        if self.picked and self._on_open is not None:
            self._on_open(self.picked)
        return "break"

    def _double(self, event: tk.Event[Any]) -> None:
        if self.tree.identify_row(event.y):
            self._opened()

    def _copy(self) -> str:
        self.clipboard_clear()
        self.clipboard_append(self.copied())
        return "break"


def style_tables(widget: tk.Misc) -> None:
    """Make tables look like the rest of the form, in the colours and at the scale in force."""
    style = ttk.Style(widget)
    if style.theme_use() != "clam":
        style.theme_use("clam")
    side, low = theme.px(_CELL_SIDE), theme.px(5)
    panel, text = theme.colour("panel"), theme.colour("text")
    style.layout(_STYLE, [("Treeview.treearea", {"sticky": "nswe"})])
    picture: Any = [
        ("Treeitem.image", {"side": "left", "sticky": ""}),
        ("Treeitem.text", {"side": "left", "sticky": ""}),
    ]
    style.layout(
        f"{_STYLE}.Item",
        [("Treeitem.padding", {"sticky": "nswe", "children": picture})],
    )
    style.configure(
        _STYLE,
        background=panel,
        fieldbackground=panel,
        foreground=text,
        font=theme.tk_font(theme.LABEL),
        rowheight=theme.line_height(theme.LABEL) + theme.px(_ROW_ROOM),
        borderwidth=0,
        indent=0,
    )
    style.configure(f"{_STYLE}.Cell", padding=(side - _BUILT_IN, 0))
    style.configure(f"{_STYLE}.Item", padding=(side, 0))
    style.configure(
        f"{_STYLE}.Heading",
        background=theme.colour("stripe"),
        foreground=theme.colour("dim"),
        font=theme.tk_font(theme.SMALL, bold=True),
        padding=(side, low),
        relief="flat",
        borderwidth=0,
    )
    hover = theme.colour("hover")
    style.map(f"{_STYLE}.Heading", background=[("active", hover)], relief=[("active", "flat")])
    style.map(
        _STYLE,
        background=[("selected", theme.colour("selection"))],
        foreground=[("selected", text)],
    )
