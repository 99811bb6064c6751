"""What every picture in the drawing pane is made of: layers, a sentence in place of it, notes.

No Tk here. Notes and sentences belong to a view: they keep their size and place on the screen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from rigfit.desk.view import PIXELS_PER_PAPER_MM, View
from rigfit.drawing.fonts import printable, wrapped
from rigfit.drawing.scene import Ink, Item, Text

Kinds = Literal[
    "profile", "template", "face", "face-inside", "section", "dash", "swing", "swing-plan",
    "swing-worst", "afloat", "scupper-curve", "underway", "trial", "words",
]  # fmt: skip

MARGIN_PX = 20.0
"""Left free around a fitted drawing, at 100 %."""

CORNER_PX = 172.0
"""Left free beside a note for the buttons in the lower right corner, which never get smaller."""

NOTE_MM, LINE = 2.2, 1.75
"""Capitals of a note, paper mm, and the pitch of its lines in heights of capitals."""

_SENTENCE_MM, _SENTENCE_WIDEST_PX = 3.0, 520.0
_SMALLEST = 0.4
_LIT_MM = 0.45


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture, for one view.

    :param kind: the word in ``Look.picture``, or "words" for a sentence in place of a drawing.
    :param under: stays while the engine moves.
    :param moving: the engine and what follows it.
    :param over: lies on top of both.
    """

    kind: Kinds
    under: tuple[Item, ...] = ()
    moving: tuple[Item, ...] = ()
    over: tuple[Item, ...] = ()

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything, back to front."""
        return (*self.under, *self.moving, *self.over)

    def lit(self, ref: str) -> Picture:
        """Return the picture with one dimension in the accent colour and heavier; "" for none."""
        if not ref:
            return self
        under, moving, over = (
            tuple(_lit(item) if item.ref == ref else item for item in layer)
            for layer in (self.under, self.moving, self.over)
        )
        return Picture(self.kind, under, moving, over)


def _lit(item: Item) -> Item:
    if isinstance(item, Text):
        return replace(item, ink=Ink.ACCENT, bold=True)
    pen = item.pen and replace(item.pen, width_mm=max(_LIT_MM, item.pen.width_mm), ink=Ink.ACCENT)
    return replace(item, pen=pen, fill=Ink.ACCENT if item.fill is Ink.MUTED else item.fill)


# -- words -----


def smaller_by(view: View, roomy_mm: float) -> float:
    """Return by how much letters are smaller in a pane lower than a height, paper mm; 1 for not."""
    high = view.height / (PIXELS_PER_PAPER_MM * view.ui_scale)
    return min(max(high / roomy_mm, _SMALLEST), 1.0)


def sized(items: Iterable[Item], times: float) -> Iterator[Item]:
    """Yield items with their letters so many times as large."""
    for item in items:
        yield replace(item, height_mm=item.height_mm * times) if isinstance(item, Text) else item


def sentence_picture(sentence: str, view: View) -> Picture:
    """Return a sentence in the middle of the pane, in lines that fit it."""
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    room = view.width - 4.0 * MARGIN_PX * view.ui_scale
    width = max(min(room, _SENTENCE_WIDEST_PX * view.ui_scale), 40.0) / pixel
    lines = wrapped(printable(sentence), width, _SENTENCE_MM)
    pitch = _SENTENCE_MM * LINE * pixel
    first = view.height / 2.0 - (len(lines) - 1) * pitch / 2.0
    return Picture(
        "words",
        over=tuple(
            Text(
                view.to_model((view.width / 2.0, first + index * pitch)), line, "NOTES",
                height_mm=_SENTENCE_MM, across="centre", up="middle", ink=Ink.MUTED,
                group="sheet",
            )
            for index, line in enumerate(lines)
        ),
    )  # fmt: skip


def note_items(words: str, view: View) -> tuple[Text, ...]:
    """Return a quiet note in the lower left corner of the pane, in lines that fit it."""
    if not words:
        return ()
    pixel = PIXELS_PER_PAPER_MM * view.ui_scale
    edge, pitch = 12.0 * view.ui_scale, NOTE_MM * LINE * pixel
    lines = note_lines(words, view.width, view.ui_scale)
    return tuple(
        Text(
            view.to_model((edge, view.height - edge - (len(lines) - 1 - index) * pitch)), line,
            "NOTES", height_mm=NOTE_MM, ink=Ink.MUTED, backed=True, group="sheet",
        )
        for index, line in enumerate(lines)
    )  # fmt: skip


def note_lines(words: str, width: int, ui_scale: float) -> list[str]:
    """Return a note in lines that fit a pane of a width in pixels."""
    room = (width - (24.0 + CORNER_PX) * ui_scale) / (PIXELS_PER_PAPER_MM * ui_scale)
    return wrapped(words, max(room, 20.0), NOTE_MM)
