"""A card of an aid that reads a drawing file: which file, in what unit, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from rigfit.desk.aid_parts import AidCard, Paragraphs
from rigfit.desk.drawing_reader import DrawingAnswer, DrawingFound, DrawingReader
from rigfit.desk.hole_entry import Fields, read_fields
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.kit.base import Area
from rigfit.desk.kit.buttons import Button
from rigfit.records.plain_words import visible
from rigfit.rigging.readings import FieldSpec

if TYPE_CHECKING:
    from rigfit.records.outline_import import GivenUnit

DRAWINGS = (("DXF drawings", "*.dxf *.DXF"), ("all files", "*"))
POLL_MS = 40


class ReadingCard(AidCard):
    """A DXF file, read in a process of its own that can be ended.

    A subclass says what is asked for, fills ``inner`` and answers ``fill`` and ``refresh``.
    """

    asks = "A drawing"
    """Heading of the question for the file."""

    specs: ClassVar[Mapping[str, FieldSpec]] = {}
    """Places in the drawing that are typed, by name."""

    def build(self) -> None:
        """Make its parts."""
        self.reader = DrawingReader()
        self.path: Path | None = None
        self.found: DrawingFound | None = None
        self._job = ""
        line = Area(self.body)
        line.pack(fill="x")
        self.choose = Button(line, "Choose a DXF file", self.ask_file, icon="open")
        self.stop = Button(line, "Cancel", self.cancel)
        self.choose.pack(side="left")
        self.said = Paragraphs(self.body)
        self.said.pack(fill="x", pady=(theme.GAP, 0))
        self.units = Area(self.body)
        self.unit_buttons = {
            "mm": Button(self.units, "Millimetres", lambda: self.read("mm")),
            "in": Button(self.units, "Inches", lambda: self.read("in")),
        }
        for button in self.unit_buttons.values():
            button.pack(side="left", padx=(0, theme.GAP))
        self.inner = Area(self.body)
        self.build_inner()

    def build_inner(self) -> None:
        """Fill ``inner``."""

    def fill(self, found: DrawingFound) -> None:
        """Propose what a drawing that has been read says, and give the first of it the keyboard."""

    def read_words(self, found: DrawingFound) -> str:
        """Return what was read, as a sentence behind the name of the file."""
        raise NotImplementedError

    def focus_first(self) -> None:
        """Give the button that asks for a file the keyboard."""
        self.choose.focus_set()

    def closed(self) -> None:
        """Nobody waits for the file any more."""
        self.cancel()

    def destroy(self) -> None:
        """Take it down, and what it started."""
        self._end()
        super().destroy()

    def ask_file(self) -> None:
        """Ask for a drawing and read it."""
        path = dialogs.questions().open_path(self, self.asks, DRAWINGS)
        if path is not None and self.winfo_exists():
            self.path = path
            self.read()

    def read(self, unit: GivenUnit | None = None) -> None:
        """Read the chosen file; the answer comes later.

        :param unit: what one unit of the file is; None to believe the file.
        """
        if self.path is None:
            return
        self._end()
        self._show_parts()
        try:
            self.reader.start(self.path, unit)
        except OSError as trouble:
            why = trouble.strerror or "the system refused"
            self.said.show([(f"The drawing cannot be read now: {why}. Try again.", "error")])
            return
        self.said.show([(f"Reading {visible(self.path.name, 60)} ...", "dim")])
        self.stop.pack(side="left", padx=(theme.GAP, 0))
        self._job = self.after(POLL_MS, self._look)

    def cancel(self) -> None:
        """Give up reading."""
        if self.reader.is_reading:
            had_keys = self.focus_get() is self.stop.keys_to
            self._end()
            self.said.show([("Reading was cancelled; nothing has changed.", "dim")])
            if had_keys:
                self.choose.focus_set()

    def typed(self) -> Fields:
        """Return what is typed in ``specs``; what is wrong with it is said below each."""
        texts = {name: (spec, self.fields[name].text) for name, spec in self.specs.items()}
        fields = read_fields(texts, self.entries)
        self.show_fields(self.specs, fields.messages)
        return fields

    # -- inside ----------------------------------------------------------------------------

    def _end(self) -> None:
        self.reader.cancel()
        if self._job:
            self.after_cancel(self._job)
            self._job = ""
        self.stop.pack_forget()

    def _look(self) -> None:
        self._job = ""
        answer = self.reader.answer()
        if answer is None:
            self._job = self.after(POLL_MS, self._look)
            return
        self.stop.pack_forget()
        self._show(answer)

    def _show(self, answer: DrawingAnswer) -> None:
        self.found = answer.found
        name = visible(self.path.name, 60) if self.path else ""
        if answer.found is None:
            self.said.show([(answer.problem or answer.unit_asked, self._tone(answer))])
        else:
            self.said.show(
                [(f"{name}: {self.read_words(answer.found)}".removeprefix(": "), "text")]
            )
        self._show_parts(asks_unit=bool(answer.unit_asked))
        if answer.unit_asked:
            self.unit_buttons["mm"].focus_set()
        elif answer.found is not None:
            self.fill(answer.found)
        self.see_all()

    @staticmethod
    def _tone(answer: DrawingAnswer) -> Any:
        return "error" if answer.problem else "text"

    def _show_parts(self, *, asks_unit: bool = False) -> None:
        """Show the question for the unit, or the circles, or neither."""
        self.units.pack_forget()
        self.inner.pack_forget()
        if asks_unit:
            self.units.pack(fill="x")
        elif self.found is not None and not self.reader.is_reading:
            self.inner.pack(fill="x")
