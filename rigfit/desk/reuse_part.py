"""Which old holes could take the new bolts, as a table to choose from, and which are to be filled.

It is a trade-off between holes used again, damage done and the height of the plate, so every choice
stands there with its price and none is called the best.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from typing import Any

from rigfit.desk.aid_parts import Paragraphs
from rigfit.desk.hole_entry import spot
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.desk.kit.tooltip import Tooltip
from rigfit.desk.row_names import counted_rows
from rigfit.desk.workbench import Workbench
from rigfit.plain_holes import place
from rigfit.records.plain_words import visible
from rigfit.rigging.hole_fit import OldHole
from rigfit.rigging.hole_reuse import ReuseChoice
from rigfit.rigging.report import EngineReport
from rigfit.units import Kind, Shown, compact
from rigfit.wording import number as length_words

MOST_TO_FILL = 12
"""Old holes to fill that are listed one by one."""

_ROWS_SEEN = 6
_ABOUT = (
    "A trade-off, not one answer: more old holes used again may cost new ones that break into "
    "others, or a plate further from its target. Choosing a row sets the upper holes, the engine's "
    "middle and the bolt row."
)
_NONE_PICKED = "Pick a row of the reuse of old holes first."


def reuse_key(choice: ReuseChoice) -> str:
    """Return the key of a choice's row in the table; it outlives the numbers of one report."""
    # No two choices use as many holes at the same damage.
    return f"{len(choice.reused)}/{choice.damage}"


def reuse_words(choice: ReuseChoice, report: EngineReport, style: Shown) -> str:
    """Return everything about a choice as sentences."""
    old = len(report.case.job.holes)
    words = [_used_words(choice.reused)]
    if choice.broken:
        words.append(f"{_new(choice.broken)} would break into what is there")
    if choice.too_near:
        words.append(f"{_new(choice.too_near)} would come too near to it")
    left = old - len(set(choice.reused))
    words.append(f"{counted_rows('hole', left)} to fill")
    where = [f"Upper holes {spot(choice.upper_below_top_mm, style)} below the top"]
    if round(choice.shift_mm, 1):
        side = "starboard" if choice.shift_mm > 0.0 else "port"
        by = spot(abs(choice.shift_mm), style)
        where.append(f"the engine {by} further to {side}")
    if choice.row:
        where.append(f"row {choice.row}")
    if choice.setting_mm:
        where.append(f"the bracket at {length_words(choice.setting_mm, Kind.LENGTH, style)}")
    if choice.plate_mm is not None:
        where.append(f"plate {length_words(choice.plate_mm, Kind.LENGTH, style, signed=True)}")
    verdict = choice.verdict.value.capitalize()
    verdict += f": {choice.reason}." if choice.reason else "."
    return f"{', '.join(words)}. {', '.join(where)}. {verdict}"


def fill_words(holes: Sequence[OldHole], style: Shown) -> list[str]:
    """Return the old holes that no bolt uses, a sentence each."""
    lines = []
    for hole in holes[:MOST_TO_FILL]:
        side = "to port" if hole.across_mm < 0.0 else "to starboard"
        name = visible(hole.name, 40) or f"hole {hole.number}"
        across, below = spot(abs(hole.across_mm), style), spot(hole.below_mm, style)
        wide = spot(2.0 * hole.radius_mm, style)
        at = f"{across} {side}" if hole.across_mm else "on the centreline"
        name = f"{name[:1].upper()}{name[1:]}"
        lines.append(f"{name}: {at}, {below} below the top, {wide} wide.")
    if len(holes) > MOST_TO_FILL:
        lines.append(f"And {len(holes) - MOST_TO_FILL:,} more.")
    return lines


def _used_words(reused: Sequence[int]) -> str:
    """Return which old holes are used again, as the beginning of a sentence."""
    if not reused:
        return "No old hole is used again"
    numbers = [str(number) for number in sorted(set(reused))]
    if len(numbers) == 1:
        return f"Old hole {numbers[0]} is used again"
    return f"Old holes {', '.join(numbers[:-1])} and {numbers[-1]} are used again"


def _new(count: int) -> str:
    return f"{count} new hole{'' if count == 1 else 's'}"


def _columns(style: Shown) -> tuple[Column, ...]:
    unit = style.lengths
    return (
        Column("used", "Used", 48, is_numeric=True),
        Column("breaks", "Broken", 48, is_numeric=True, is_spare=True, gives_way=3),
        Column("near", "Near", 48, is_numeric=True, is_spare=True, gives_way=4),
        Column("aside", f"Aside, {unit}", 48, is_numeric=True, is_spare=True),
        Column("upper", f"Upper, {unit}", 48, is_numeric=True),
        Column("row", "Row", 40, is_numeric=True, is_spare=True, gives_way=2),
        Column("plate", f"Plate, {unit}", 48, is_numeric=True, is_spare=True, gives_way=1),
        Column("why", "Why", 96, grows=True, is_spare=True, gives_way=5),
    )


class ReusePart(Area):
    """The reuse of old holes under the heights; its parts are made when there is something to show.

    Keyboard in the table, besides its own: Return chooses the picked row.

    :param say: says in the status bar what was done.
    """

    def __init__(self, master: tk.Misc, bench: Workbench, say: Callable[[str], Any]) -> None:
        super().__init__(master)
        self._bench, self._say = bench, say
        self._width, self._style = 0, bench.style
        self._is_built = False
        self._choices: tuple[ReuseChoice, ...] = ()

    @property
    def picked(self) -> ReuseChoice | None:
        """The choice that is picked in the table."""
        if not self._is_built:
            return None
        key = self.table.picked
        return next((choice for choice in self._choices if reuse_key(choice) == key), None)

    @staticmethod
    def has_something(report: EngineReport | None) -> bool:
        """True where a report says anything about old holes."""
        if report is None:
            return False
        return bool(report.reuse) or bool(report.holes and report.holes.to_fill)

    def show(self, report: EngineReport) -> None:
        """Show the choices of another report."""
        if not self._is_built:
            self._build()
        self._choices = report.reuse
        style = self._bench.style
        rows = [self._row(choice, style) for choice in report.reuse]
        if style != self._style:
            self._style = style
            self.table.set_columns(_columns(style))
            self.table.set_rows(rows)
        else:
            self.table.update_rows(rows)
        high = min(max(len(rows), 1), _ROWS_SEEN)
        if int(self.table.tree.cget("height")) != high:
            self.table.tree.configure(height=high)
        self._show_parts(report)
        self._show_picked()

    def choose(self) -> None:
        """Decide on the picked choice, or on the only one."""
        choice = self.picked or (self._choices[0] if len(self._choices) == 1 else None)
        if choice is None:
            self._say(_NONE_PICKED)
        elif self._bench.is_chosen_reuse(choice):
            self._say("The engine hangs there already.")
        else:
            self._bench.choose_reuse(choice)
            self._say(f"{_used_words(choice.reused)}; undo takes that back.")

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self._width = width
        if self._is_built:
            for label in (self.heading, self.about, self.said, self.fill_heading):
                label.set_wrap(max(1, width))

    # -- parts -----------------------------------------------------------------------------

    def _build(self) -> None:
        self._is_built = True
        self.heading = Label(self, "Reuse of old holes", bold=True, size=theme.LABEL)
        self.about = Label(self, _ABOUT, role="dim", size=theme.SMALL)
        self.table = Table(
            self,
            _columns(self._style),
            verdict_title="Verdict",
            on_pick=lambda _key: self._show_picked(),
            on_open=lambda _key: self.choose(),
            rows_seen=2,
            fits_cells=True,
        )
        self.said = Label(self, size=theme.LABEL)
        self.button = Button(self, "Choose these holes", self.choose)
        Tooltip(self.button.keys_to, "Hang the engine there (Return in the table)")
        self.fill_heading = Label(self, "Old holes to fill", bold=True, size=theme.LABEL)
        self.fill = Paragraphs(self, theme.LABEL)
        parts: tuple[tuple[Label | Table | Button | Paragraphs, int], ...] = (
            (self.heading, 0), (self.about, 4), (self.table, 8), (self.said, 8), (self.button, 8),
            (self.fill_heading, 12), (self.fill, 4),
        )  # fmt: skip
        self.grid_columnconfigure(0, weight=1)
        for line, (part, above) in enumerate(parts):
            wide = "ew" if part in (self.table, self.fill) else "w"
            part.grid(row=line, column=0, sticky=wide)
            if isinstance(part, (Label, Paragraphs)):
                space(part, pady=(above, 0))
            else:
                part.grid_configure(pady=(above, 0))
        for by, key in ((1, "Up"), (-1, "Down")):
            self.table.tree.bind(f"<Alt-{key}>", lambda _event, by=by: self._step(by))  # type: ignore[misc]
        self.fit(self._width)

    def _step(self, by: int) -> str:
        # The table would move its own pick besides, were this left to the window.
        self._bench.step_height(by)
        return "break"

    def _show_parts(self, report: EngineReport) -> None:
        to_fill = report.holes.to_fill if report.holes else ()
        self.fill.show([(line, "text") for line in fill_words(to_fill, self._bench.style)])
        shown: dict[Label | Table | Button | Paragraphs, bool] = {
            self.heading: bool(report.reuse),
            self.about: bool(report.reuse),
            self.table: bool(report.reuse),
            self.said: bool(report.reuse),
            self.button: bool(report.reuse),
            self.fill_heading: bool(to_fill),
            self.fill: bool(to_fill),
        }
        for part, is_shown in shown.items():
            if is_shown != bool(part.winfo_manager()):
                part.grid() if is_shown else part.grid_remove()

    def _show_picked(self) -> None:
        report = self._bench.report
        choice = self.picked or next(iter(self._choices), None)
        words = reuse_words(choice, report, self._bench.style) if choice and report else ""
        if words != self.said.cget("text"):
            self.said.set_text(words)

    def _row(self, choice: ReuseChoice, style: Shown) -> TableRow:
        plate = choice.plate_mm
        used = f"{len(choice.reused)} now" if self._bench.is_chosen_reuse(choice) else None
        cells = (
            used or str(len(choice.reused)),
            str(choice.broken),
            str(choice.too_near),
            place(choice.shift_mm, style, signed=True),
            place(choice.upper_below_top_mm, style),
            str(choice.row) if choice.row else "-",
            "-" if plate is None else compact(plate, style, signed=True).partition(" (")[0],
            choice.reason,
        )
        order = (
            len(choice.reused), choice.broken, choice.too_near, choice.shift_mm,
            choice.upper_below_top_mm, choice.row, -1e9 if plate is None else plate, choice.reason,
        )  # fmt: skip
        return TableRow(reuse_key(choice), cells, order, choice.verdict)
