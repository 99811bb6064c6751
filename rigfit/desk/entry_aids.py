"""Aids for entering old holes: pasted rows, a known pattern, two tapes, a drawing file.

Each opens a card in the measurements; nothing typed elsewhere waits for it. What an aid adds to the
boat is one step, and undo takes it back as one.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import Any

from rigfit.desk import hole_entry
from rigfit.desk.aid_parts import AidCard, Paragraphs, Preview
from rigfit.desk.draft import Address
from rigfit.desk.drawing_reader import DrawingFound
from rigfit.desk.hole_entry import Proposal, read_fields
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.panes import Link
from rigfit.desk.panel_parts import Notice
from rigfit.desk.reading_card import ReadingCard
from rigfit.desk.workbench import Workbench

_PASTE_FIRST = (
    "Copy rows of holes in a spreadsheet, with or without headings: name, across, below the top "
    "and diameter. Then paste them here."
)
_NO_TEXT = "There is no text on the clipboard. Copy the rows in the spreadsheet first."
_PICTURE_POINTS = "Two tapes need two fixed points on the transom. Still missing:"
_ABOUT_TAPES = (
    "The hole is where tapes from the two fixed points meet. The points are entered under the "
    "face of the transom."
)


class PasteCard(AidCard):
    """Rows copied from a spreadsheet."""

    def build(self) -> None:
        """Make its parts."""
        self.said = Paragraphs(self.body)
        self.said.pack(fill="x")
        self.again = Button(self.body, "Paste", self.paste, icon="copy")
        self.again.pack(anchor="w", pady=(0, theme.GAP))
        self.preview = Preview(self.body, self.bench, self.on_add)
        self.preview.pack(fill="x")
        self._text = ""
        self._read: tuple[str, Proposal] | None = None
        for key in ("v", "V"):
            self.again.keys_to.bind(f"<Control-{key}>", lambda _event: self.paste())

    def opened(self) -> None:
        """Take what is on the clipboard at once; that is why somebody came."""
        self.paste()
        ready = bool(self.preview.proposal.rows)
        (self.preview.add if ready else self.again).focus_set()

    def paste(self) -> None:
        """Take what is on the clipboard."""
        try:
            self._text = str(self.clipboard_get())
        except tk.TclError:  # nothing there, or no text
            self._text = ""
        self._read = None
        self.refresh()

    def refresh(self) -> None:
        """Read the rows again: the unit of bare numbers may be another."""
        if not self._text.strip():
            self.said.show([(_NO_TEXT, "warn"), (_PASTE_FIRST, "dim")])
            self.preview.show(Proposal())
            return
        if self._read is None or self._read[0] != self.entries:
            self._read = self.entries, hole_entry.from_paste(self._text, self.entries)
        proposal = self._read[1]
        self.said.show([] if proposal.rows else [(_PASTE_FIRST, "dim")])
        self.preview.show(proposal)

    def closed(self) -> None:
        """Let go of what was pasted."""
        self._text = ""


class PatternCard(AidCard):
    """The holes an engine of a known pattern left."""

    _SPECS = {"upper": hole_entry.UPPER, "centre": hole_entry.CENTRE}  # noqa: RUF012

    def build(self) -> None:
        """Make its parts."""
        patterns = hole_entry.bolted_patterns(self.bench.catalogue)
        self.add_choice("pattern", "hole pattern of the old engine", {"": "not chosen", **patterns})
        self.add_field("upper", self._SPECS["upper"])
        self.add_field("centre", self._SPECS["centre"])
        self.preview = Preview(self.body, self.bench, self.on_add)
        self.preview.pack(fill="x")

    def focus_first(self) -> None:
        """Give the choice of the pattern the keyboard."""
        self.choices["pattern"].focus_field()

    def refresh(self) -> None:
        """Show the four holes."""
        texts = {name: (spec, self.fields[name].text) for name, spec in self._SPECS.items()}
        fields = read_fields(texts, self.entries)
        self.show_fields(self._SPECS, fields.messages)
        chosen = self.choices["pattern"]
        pattern = self.bench.catalogue.hole_patterns.get(chosen.chosen)
        chosen.set_message(pattern.name if pattern else "", "note")
        self.preview.show(hole_entry.from_pattern(pattern, fields))


class TapesCard(AidCard):
    """A hole by tapes to the two fixed points; it stays open for the next hole."""

    _SPECS = {  # noqa: RUF012
        "name": hole_entry.NAME,
        "first": hole_entry.TAPES[0],
        "second": hole_entry.TAPES[1],
        "diameter": hole_entry.DIAMETER,
    }

    def build(self) -> None:
        """Make its parts."""
        self.notice = Notice(self.body, "warn")
        self.inner = Area(self.body)
        about = Paragraphs(self.inner)
        about.pack(fill="x")
        about.show([(_ABOUT_TAPES, "dim")])
        for name in ("name", "first", "second"):
            self.add_field(name, self._SPECS[name], self.inner)
        self.add_choice("side", "hole lies, from the points", {"below": "below"}, self.inner)
        self.add_field("diameter", self._SPECS["diameter"], self.inner)
        self.place = Paragraphs(self.inner)
        self.place.pack(fill="x")
        self.preview = Preview(self.inner, self.bench, self._add)
        self.preview.pack(fill="x")
        self._sides: Mapping[str, str] = {}
        self._lacks: tuple[Address, ...] | None = None
        self.body.bind("<Configure>", lambda event: self.notice.fit(event.width), add="+")

    def focus_first(self) -> None:
        """Give the first field, or the first link to what is missing, the keyboard."""
        if self._lacks:
            self.notice.flow.links[0].focus_set()
        else:
            self.fields["name"].focus_field()

    def refresh(self) -> None:
        """Show where the tapes meet."""
        face = self.bench.derived.job.face
        self._show_lacks(hole_entry.missing_points(face))
        if self._lacks:
            return
        self._show_sides(hole_entry.sides(face))
        measured = {key: spec for key, spec in self._SPECS.items() if key != "name"}
        texts = {key: (spec, self.fields[key].text) for key, spec in measured.items()}
        fields = read_fields(texts, self.entries)
        self.show_fields(measured, fields.messages)
        name, side = self.fields["name"].text, self.choices["side"].chosen
        taped = hole_entry.from_tapes(face, fields, side, name[:60], self.bench.style)
        self.place.show([(taped.sentence, "text"), *((item, "warn") for item in taped.warnings)])
        self.preview.show(taped.proposal)

    def _show_lacks(self, lacks: tuple[Address, ...]) -> None:
        if lacks == self._lacks:
            return
        self._lacks = lacks
        shown, hidden = (self.notice, self.inner) if lacks else (self.inner, self.notice)
        links = [(at.spec.label, partial(self.bench.go_to, at)) for at in lacks]
        self.notice.say(_PICTURE_POINTS if lacks else "", links)
        for link in self.notice.flow.links:
            link.bind("<Escape>", lambda _event: self._escaped())
        hidden.pack_forget()
        shown.pack(fill="x")

    def _show_sides(self, sides: Mapping[str, str]) -> None:
        if sides != self._sides:
            self._sides = sides
            choice = self.choices["side"].choice
            choice.set_choices(sides)
            if choice.chosen not in sides:
                choice.set(next(iter(sides)))

    def _add(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Add the hole and get ready for the next; its diameter is likely the same."""
        self.bench.add_rows("hole", rows)
        for name in ("name", "first", "second"):
            self.fields[name].set_text("")
        self.refresh()
        self.fields["name"].focus_field()


class DrawingCard(ReadingCard):
    """The circles of a DXF file."""

    asks = "A drawing with the holes"
    specs = MappingProxyType({"x": hole_entry.CENTRE_X, "y": hole_entry.TOP_Y})

    def build_inner(self) -> None:
        """Make what shows the circles."""
        self._proposed: tuple[Any, Proposal] | None = None
        self.add_choice("layer", "layer", {"": "all layers"}, self.inner)
        for name, spec in self.specs.items():
            self.add_field(name, spec, self.inner)
        ticks = Area(self.inner)
        ticks.pack(fill="x")
        self.tick_all = Link(ticks, "Tick all", lambda: self._tick(is_on=True))
        self.tick_none = Link(ticks, "Tick none", lambda: self._tick(is_on=False))
        self.tick_all.pack(side="left")
        self.tick_none.pack(side="left")
        self.preview = Preview(self.inner, self.bench, self.on_add, has_ticks=True)
        self.preview.pack(fill="x")

    def refresh(self) -> None:
        """Show the circles with the centreline and the top where they are said to be."""
        found = self.found
        if found is None:
            return
        asked = found, self.choices["layer"].chosen, self.typed()
        if self._proposed is None or self._proposed[0] != asked:
            self._proposed = asked, hole_entry.from_drawing(*asked)
        self.preview.show(self._proposed[1])

    def fill(self, found: DrawingFound) -> None:
        """Offer the layers, and propose where the centreline and the top are."""
        choice = self.choices["layer"].choice
        choice.set_choices(hole_entry.layers(found))
        choice.set("")
        self.fields["x"].set_text(f"{found.middle_x_mm:.6g} mm")
        self.fields["y"].set_text(f"{found.top_y_mm:.6g} mm")
        self.refresh()
        self.choices["layer"].focus_field()

    def read_words(self, found: DrawingFound) -> str:
        """Return how much was read."""
        left, bottom, right, top = found.box_mm
        circles = len(found.circles)
        said = f"{circles:,} circle{'' if circles == 1 else 's'}" if circles else "no circles"
        read = f"read in {found.unit}"
        if found.unit_found == found.unit:
            read += ", as the file says"
        part = "the largest outline" if found.outline_mm else "everything drawn"
        return (
            f"{said}; {right - left:.0f} x {top - bottom:.0f} mm, {read}. Centreline and top are "
            f"proposed from {part}."
        )

    def _tick(self, *, is_on: bool) -> None:
        self.preview.table.tick(self.preview.table.shown_keys, is_on=is_on)


_CARDS: Mapping[str, tuple[str, str, type[AidCard]]] = {
    "paste": ("Paste rows", "Paste rows from a spreadsheet", PasteCard),
    "pattern": ("From a pattern", "The holes of a known pattern", PatternCard),
    "tapes": ("By two tapes", "A hole by two tapes", TapesCard),
    "drawing": ("From a drawing file", "Holes from a drawing file", DrawingCard),
}
"""The aids: words on the button, heading of the card, the card."""


class EntryAids(Area):
    """The buttons of the aids, and the card of the one that is open.

    :param on_added: called with the place of the first hole that was added.
    :param see: brings a widget into sight.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        on_added: Callable[[int], Any],
        see: Callable[[tk.Misc], Any],
    ) -> None:
        super().__init__(master)
        self._bench, self._on_added, self._see = bench, on_added, see
        self.cards: dict[str, AidCard] = {}
        self.open = ""
        words = Label(self, "Several at once, or without a centreline:", role="dim")
        words.configure(font=theme.tk_font(theme.SMALL))
        words.grid(row=0, column=0, columnspan=2, sticky="w")
        space(words, pady=(0, theme.GAP / 2))
        self.buttons: dict[str, Button] = {}
        for place, (key, (label, _, _)) in enumerate(_CARDS.items()):
            button = Button(self, label, partial(self.toggle, key))
            right = 0 if place % 2 else theme.GAP
            button.grid(
                row=1 + place // 2,
                column=place % 2,
                sticky="ew",
                padx=(0, right),
                pady=(0, theme.GAP),
            )
            self.buttons[key] = button
        self.grid_columnconfigure((0, 1), weight=1, uniform="aid")

    def toggle(self, key: str) -> None:
        """Open the card of an aid, or close it."""
        if self.open == key:
            self.close()
            return
        if self.open:
            self.close()
        if key not in self.cards:
            _, heading, kind = _CARDS[key]
            self.cards[key] = kind(self, self._bench, heading, self._add, self.close)
            self.cards[key].see = partial(self._see, self.cards[key])
        self.open = key
        self.buttons[key].set_on(True)
        card = self.cards[key]
        card.grid(row=3, column=0, columnspan=2, sticky="ew")
        self.update_idletasks()  # what is not in sight yet cannot take the keyboard
        card.opened()
        card.see_all()

    def close(self) -> None:
        """Take the open card away; its button has the keyboard again."""
        if self.open:
            key, self.open = self.open, ""
            self.cards[key].closed()
            self.cards[key].grid_remove()
            self.buttons[key].set_on(False)
            self.buttons[key].focus_set()

    def update_card(self) -> None:
        """Have the open card follow the boat."""
        if self.open:
            self.cards[self.open].refresh()

    def _add(self, rows: Sequence[Mapping[str, str]]) -> None:
        first = len(self._bench.draft.rows("hole"))
        self.close()
        self._bench.add_rows("hole", rows)
        self._on_added(first)
