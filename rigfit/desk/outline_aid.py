"""The aid for an engine's side view: closed outlines of a DXF file, placed on the tilt axis.

Nothing is put into the field before somebody says so, and it is one step.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from rigfit.desk.aid_parts import OneAid, Paragraphs
from rigfit.desk.draft import Address
from rigfit.desk.drawing_reader import DrawingFound
from rigfit.desk.kit import theme
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.colours import Role
from rigfit.desk.reading_card import ReadingCard
from rigfit.desk.workbench import Workbench
from rigfit.errors import RigfitError
from rigfit.rigging.readings import FieldSpec
from rigfit.units import Kind

OUTLINE = "outline"
"""The engine's field that holds its side view."""

MOST_RINGS = 200
"""Closed outlines of a file that are looked at, the largest."""

_FAR_MM = 1e6
_BOWS = MappingProxyType({"left": "to the left", "right": "to the right"})
_FIRST = (
    "A side view of the engine with the plate level, as one closed line round it. No file says "
    "where the tilt axis is: read that in the drawing."
)
_CLEARANCE = "It stands for the engine's room from the side; check the hood by tape as well."


def _place(axis: str, how: str) -> FieldSpec:
    return FieldSpec(
        label=f"tilt axis, {axis} in the drawing", how=how, kind=Kind.LENGTH,
        low=-_FAR_MM, high=_FAR_MM, required=True, example="0 mm",
    )  # fmt: skip


class OutlineCard(ReadingCard):
    """A drawing with the engine's side view, and where its tilt axis is in it."""

    asks = "A drawing of the engine's side view"
    specs = MappingProxyType(
        {
            "x": _place("x", "Where the middle of the tilt tube is, from the drawing's zero."),
            "y": _place("y", "How high the middle of the tilt tube is above the drawing's zero."),
        }
    )

    def build_inner(self) -> None:
        """Make the fields of the axis, and the button that takes the outline over."""
        self.text = ""
        self._asked: Any = None
        for name, spec in self.specs.items():
            self.add_field(name, spec, self.inner)
        self.add_choice("bow", "the bow lies there", _BOWS, self.inner)
        self.answer = Paragraphs(self.inner)
        self.answer.pack(fill="x")
        self.put = Button(self.inner, "Use this side view", self._put, style="primary")

    def opened(self) -> None:
        """Say first what is asked for."""
        super().opened()
        if self.found is None:
            self.said.show([(_FIRST, "dim")])

    def fill(self, _found: DrawingFound) -> None:
        """Leave the axis to be read; where it is, no file says."""
        self.refresh()
        self.fields["x"].focus_field()

    def read_words(self, found: DrawingFound) -> str:
        """Return how large it is, and where in the drawing."""
        left, bottom, right, top = found.outline_mm or found.box_mm
        count = len(found.rings)
        pieces = "one closed outline" if count == 1 else f"{count} closed outlines"
        return (
            f"{pieces if count else 'no closed outline'}, read in {found.unit}; x from {left:.0f} "
            f"to {right:.0f} mm, y from {bottom:.0f} to {top:.0f} mm."
        )

    def refresh(self) -> None:
        """Work out the outline about the axis as it is typed."""
        if self.found is None:
            return
        asked = self.found, self.typed(), self.choices["bow"].chosen
        if asked != self._asked:
            self._asked = asked
            self._work_out()

    def _work_out(self) -> None:
        from rigfit.records.outline_entry import outline_text

        found, typed, bow = self._asked
        role: Role = "text"
        self.text, said = "", ""
        places = [typed.readings.get(name) for name in self.specs]
        if None not in places:
            try:
                self.text, said = outline_text(
                    found.rings[:MOST_RINGS],
                    (places[0].value, places[1].value),
                    bow_right=bow == "right",
                )
            except RigfitError as error:
                said, role = error.sentence(), "warn"
        said = said[:1].upper() + said[1:].rstrip(".") + "." if said else ""
        notes = [*([_CLEARANCE] if self.text else []), *found.notes]
        self.answer.show([(said, role), *((note, "dim") for note in notes)])
        if bool(self.text) != bool(self.put.winfo_manager()):
            if self.text:
                self.put.pack(anchor="w", pady=(theme.GAP, 0))
            else:
                self.put.pack_forget()

    def _put(self) -> None:
        if self.text:
            self.on_add([{OUTLINE: self.text}])


class OutlineAid(OneAid):
    """The button of the aid, and its card while it is open.

    :param on_added: called with the field that was filled in.
    :param see: brings a widget into sight.
    """

    words, heading, kind = "Side view from a DXF file", "The engine's side view", OutlineCard

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        on_added: Callable[[Address], Any],
        see: Callable[[tk.Misc], Any],
    ) -> None:
        super().__init__(master, bench, see)
        self._on_added = on_added

    def add(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Put the side view into the field of the engine shown."""
        address = Address("engine", OUTLINE, self.bench.engine_index)
        self.close()
        self.bench.put(address, rows[0][OUTLINE], "the engine's side view")
        self._on_added(address)
