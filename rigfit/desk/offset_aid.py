"""The aid for a table of offsets: pasted from a spreadsheet or read from a CSV file.

Nothing is added before somebody says so, and what is added is one step.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from rigfit.desk.aid_parts import AidCard, OneAid, Paragraphs
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.kit.base import Area
from rigfit.desk.kit.buttons import Button
from rigfit.desk.row_names import counted_rows
from rigfit.desk.workbench import Workbench
from rigfit.records.offsets_csv import OffsetTable, parse_offsets
from rigfit.records.pasted import LARGEST_BYTES
from rigfit.records.plain_words import visible

FILES = (("tables", "*.csv *.CSV *.txt *.tsv"), ("all files", "*"))

_FIRST = (
    "Copy the table in a spreadsheet, with or without headings: section ahead of the transom, "
    "height above the keel line, half breadth. Then paste it here, or choose a CSV file."
)
_NO_TEXT = "There is no text on the clipboard. Copy the table in the spreadsheet first."
_PROBLEMS_SEEN = 4


def text_in(path: Path) -> tuple[str, str]:
    """Return the text of a table in a file, and what is wrong with it, "" for nothing."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "its name cannot be used"
        return "", f"{visible(path.name, 60)} cannot be read: {why}. Choose another file."
    if b"\0" in data:
        return "", f"{visible(path.name, 60)} is no text. Save the table as CSV and choose that."
    try:
        return data.decode("utf-8-sig"), ""
    except UnicodeDecodeError:  # as old spreadsheets write it; numbers are the same
        return data.decode("latin-1"), ""


def said_of(table: OffsetTable, there: int) -> list[tuple[str, Any]]:
    """Return sentences on a table with their roles: what it holds, and what is wrong with it.

    :param there: offsets that the boat has already.
    """
    words: list[tuple[str, Any]] = []
    if table.rows:
        stations = len({item.ahead.value for item in table.offsets if item.ahead})
        words.append((f"{counted_rows('offset', len(table.rows))} at {stations} sections.", "text"))
    said = [problem.sentence() for problem in table.problems]
    seen = said if len(said) <= _PROBLEMS_SEEN else said[: _PROBLEMS_SEEN - 1]
    words += [(sentence[:1].upper() + sentence[1:], "warn") for sentence in seen]
    if len(said) > len(seen):
        words.append((f"{len(said) - len(seen)} more things are to be looked at.", "warn"))
    if table.rows and there:
        words.append((f"The boat has {counted_rows('offset', there)} already; these come to "
                      "them.", "warn"))  # fmt: skip
    return words


class OffsetCard(AidCard):
    """A table of offsets that is pasted or read, and the button that adds it."""

    def build(self) -> None:
        """Make its parts."""
        self.said = Paragraphs(self.body)
        self.said.pack(fill="x")
        line = Area(self.body)
        line.pack(fill="x")
        self.again = Button(line, "Paste", self.paste, icon="copy")
        self.choose = Button(line, "Choose a CSV file", self.ask_file, icon="open")
        self.again.pack(side="left")
        self.choose.pack(side="left", padx=(theme.GAP, 0))
        self.add = Button(self.body, "Add", self._add, style="primary")
        self.table = OffsetTable((), ())
        self._text = self._trouble = ""
        self._read: tuple[str, str] | None = None
        for key in ("v", "V"):
            self.again.keys_to.bind(f"<Control-{key}>", lambda _event: self.paste())

    def opened(self) -> None:
        """Take what is on the clipboard at once where it is a table."""
        self.paste()
        if not self.table.rows:
            self._take("")
        (self.add if self.table.rows else self.again).focus_set()

    def paste(self) -> None:
        """Take what is on the clipboard."""
        try:
            text = str(self.clipboard_get())
        except tk.TclError:  # nothing there, or no text
            text = ""
        self._take(text, "" if text.strip() else _NO_TEXT)

    def ask_file(self) -> None:
        """Ask for a file and read it."""
        path = dialogs.questions().open_path(self, "A table of offsets", FILES)
        if path is not None and self.winfo_exists():
            self._take(*text_in(path))

    def refresh(self) -> None:
        """Read the table again: the unit of bare numbers may be another."""
        if self._read != (self._text, self.entries):
            self._read = self._text, self.entries
            is_text = bool(self._text.strip())
            self.table = parse_offsets(self._text, self.entries) if is_text else OffsetTable((), ())
        there = len(self.bench.draft.rows("offset"))
        words = [(self._trouble, "warn"), *said_of(self.table, there)]
        self.said.show(words if self.table.rows else [*words, (_FIRST, "dim")])
        self._show_add()

    def closed(self) -> None:
        """Let go of what was pasted."""
        self._text = self._trouble = ""

    def _take(self, text: str, trouble: str = "") -> None:
        self._text, self._trouble = text, trouble
        self.refresh()
        self.see_all()

    def _show_add(self) -> None:
        count = len(self.table.rows)
        if count:
            self.add.set_text(f"Add {counted_rows('offset', count)}")
        if bool(count) != bool(self.add.winfo_manager()):
            if count:
                self.add.pack(anchor="w", pady=(theme.GAP, 0))
            else:
                self.add.pack_forget()

    def _add(self) -> None:
        if self.table.rows:
            self.on_add([asdict(row) for row in self.table.rows])


class OffsetAid(OneAid):
    """The button of the aid, and its card while it is open.

    :param on_added: called with the place of the first offset that was added.
    :param see: brings a widget into sight.
    """

    words, heading, kind = "Paste offsets", "A table of offsets", OffsetCard

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        on_added: Callable[[int], Any],
        see: Callable[[tk.Misc], Any],
    ) -> None:
        super().__init__(master, bench, see)
        self._on_added = on_added

    def add(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Add offsets as one step."""
        first = len(self.bench.draft.rows("offset"))
        self.close()
        self.bench.add_rows("offset", rows)
        self._on_added(first)
