"""Every height the shown engine can be bolted at: to compare, to choose one, to draw some besides.

Below the table stand the target, which old holes could serve, where a bare transom may be drilled,
and what each length of leg would give. The table follows typing a moment later, so that typing
never waits for it.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from rigfit.desk.clearances import Clearances, clearance_words, clearances_of
from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.panes import ScrollPane
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.desk.kit.tooltip import Tooltip
from rigfit.desk.panel_parts import SIDE, Later
from rigfit.desk.reuse_part import ReusePart
from rigfit.desk.workbench import (
    MOST_GHOSTS,
    REPORT,
    Change,
    HeightKey,
    Workbench,
    height_key,
)
from rigfit.rigging.drilling import DrillingChoice
from rigfit.rigging.findings import Verdict
from rigfit.rigging.mounting_options import HeightOption, PlateRange
from rigfit.rigging.report import EngineReport
from rigfit.rigging.swing import TiltGap
from rigfit.sources import cite
from rigfit.units import Kind, Shown, compact
from rigfit.wording import number

WAIT_MS = 120
_ROWS_SEEN = 10
_NONE_PICKED = "Pick a height in the table first."
_FULL, _INCHES, _NARROW = range(3)
"""How much each cell tells: inches with mm beside; inches alone; the setting in the row's cell."""
_HEARD = REPORT | Change.FINDINGS | Change.LOOK


def row_key(option: HeightOption) -> str:
    """Return the key of an option's row in the table."""
    return f"{option.row}/{option.setting_mm!r}"


def row_words(option: HeightOption, style: Shown) -> str:
    """Return what a height is called in a sentence ("row 2", "row 2 with the bracket at 40 mm")."""
    name = f"row {option.row}" if option.row else "clamped on"
    if not option.setting_mm:
        return name
    return f"{name} with the bracket at {number(option.setting_mm, Kind.LENGTH, style)}"


def option_words(option: HeightOption, style: Shown, gap: TiltGap | None = None) -> str:
    """Return everything about a height as sentences, for whom the table is too narrow.

    :param gap: the least clearance there, None where nothing is round the engine.
    """
    name = row_words(option, style)
    words = [f"{_begun(name)}: lift {_length(option.lift.value, style, signed=True)}"]
    if option.plate is not None:
        tolerance = number(option.plate.tolerance, Kind.LENGTH, Shown("mm"))
        words.append(f"plate {_length(option.plate.value, style, signed=True)} ± {tolerance}")
    if option.off_target_mm is not None:
        side = "above" if option.off_target_mm > 0.0 else "below"
        off = f"{_length(abs(option.off_target_mm), style)} {side} the target"
        words.append(off if option.off_target_mm else "inside the target")
    if gap is not None:
        words.append(clearance_words(gap, style))
    said = f"{', '.join(words)}. {option.verdict.value.capitalize()}"
    said += f": {option.reason}." if option.reason else "."
    return said if option.is_possible else f"{said} It cannot be chosen."


def target_words(report: EngineReport, style: Shown) -> str:
    """Return where the plate is wanted, and who says so."""
    band = report.case.band
    if band is None:
        return "Target: none is known for this kind of hull; enter one under Target for the plate."
    low, high = (_length(end, style, signed=True) for end in (band.low_mm, band.high_mm))
    rise = report.case.rise.mid_mm
    setback = f", {_length(rise, style)} of it for the setback" if rise else ""
    return f"Target {low} to {high}{setback}. Source: {cite(band.source)}. Check afloat."


def drilling_words(choice: DrillingChoice, style: Shown) -> str:
    """Return one way to drill a bare transom as a sentence."""
    upper = _length(choice.upper_below_top_mm, style)
    lower = _length(choice.lower_below_top_mm, style)
    spare = f"{choice.rows_below} down, {choice.rows_above} up"
    reason = f": {choice.reason}" if choice.reason else ""
    return (
        f"{_begun(choice.label)}: upper holes {upper}, lower holes {lower} below the top, plate "
        f"{_length(choice.plate_mm, style, signed=True)}, rows to spare {spare}; "
        f"{choice.verdict.value}{reason}."
    )


def range_words(entry: PlateRange, style: Shown) -> str:
    """Return where the plate comes with one leg, from fully down to fully up."""
    low, high = (_length(end, style, signed=True) for end in (entry.low_mm, entry.high_mm))
    leg = _length(entry.leg_mm, style)
    name = _begun(entry.name)
    return f"{name}, {leg}: plate {low} to {high}; {entry.verdict.value} at best."


def _begun(words: str) -> str:
    """Return words as the beginning of a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def _length(value_mm: float, style: Shown, *, signed: bool = False) -> str:
    return number(value_mm, Kind.LENGTH, style, signed=signed)


@dataclass(frozen=True, slots=True)
class Look:
    """How the table is to look.

    :param style: how lengths are shown.
    :param with_setting: True where a bracket can be set.
    :param level: how much each cell tells.
    :param clear: the least clearance at each height; the column is there while any is known.
    """

    style: Shown
    with_setting: bool
    level: int
    clear: Clearances = field(default_factory=dict)

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns; where it is narrow the lift gives way first, the clearance last."""
        unit = "mm" if self.style.lengths == "mm" else "in"
        both = "in (mm)" if unit == "in" and self.level == _FULL else unit
        merged = self.with_setting and self.level == _NARROW
        setting = Column("setting", f"Setting, {unit}", 64, is_numeric=True)
        clear = Column(
            "clear", f"Clearance, {unit}", 64, is_numeric=True, is_spare=True, gives_way=-1
        )
        return (
            Column("row", f"Row+set, {unit}" if merged else "Row", 64),
            *([setting] if self.with_setting and not merged else []),
            Column("lift", f"Lift, {both}", 64, is_numeric=True, is_spare=True, gives_way=2),
            Column("plate", "Plate" if merged else f"Plate, {both}", 64, is_numeric=True),
            Column("off", f"Off target, {unit}", 64, is_numeric=True, is_spare=True, gives_way=1),
            *([clear] if self.clear else []),
            Column("why", "Why", 96, grows=True, is_spare=True),
        )

    def row(self, option: HeightOption, state: str) -> TableRow:
        """Return an option as a row.

        :param state: "chosen", "best" or "overlaid", or "".
        """
        plate, off = option.plate, option.off_target_mm
        name = str(option.row) if option.row else "clamp"
        merged = self.with_setting and self.level == _NARROW
        setting = self._short(option.setting_mm, alone=True, signed=False)
        if merged:
            name = f"{name}+{setting}" if option.setting_mm else name
            state = "drawn" if state == "overlaid" else state  # a shorter word
        cells = {
            "row": (f"{name} {state}".rstrip(), (option.row, option.setting_mm)),
            "setting": (setting, option.setting_mm),
            "plate": (
                self._short(plate.value, tolerance_mm=plate.tolerance) if plate else "-",
                plate.value if plate else None,
            ),
            "off": (self._short(off, alone=True) if off is not None else "-", off),
            "clear": self._clear(self.clear.get(height_key(option))),
            "why": (option.reason, option.reason),
            "lift": (self._short(option.lift.value), option.lift.value),
        }
        chosen = [cells[column.key] for column in self.columns]
        words, order = tuple(cell for cell, _ in chosen), tuple(key for _, key in chosen)
        return TableRow(row_key(option), words, order, option.verdict)

    def _clear(self, gap: TiltGap | None) -> tuple[str, float | None]:
        if gap is None:
            return "-", None
        words = self._short(gap.clear_mm, alone=True, signed=False)
        return "touches" if gap.touches else words, gap.clear_mm

    def _short(
        self, mm: float, *, alone: bool = False, signed: bool = True, tolerance_mm: float = 0.0
    ) -> str:
        if self.style.lengths == "in" and (alone or self.level != _FULL):
            return compact(mm, self.style, signed=signed).partition(" (")[0]
        tolerance_mm = 0.0 if self.level == _NARROW else tolerance_mm
        return compact(mm, self.style, tolerance_mm=tolerance_mm, signed=signed)


class MarkedLine(Area):
    """The mark of a verdict and words beside it."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master)
        self._verdict = Verdict.UNKNOWN
        self._sign = tk.Label(self, bd=0, highlightthickness=0, padx=0, pady=0)
        self.words = Label(self, size=theme.LABEL)
        self._sign.pack(side="left", anchor="n")
        self.words.pack(side="left", anchor="w")
        space(self._sign, padx=(0, 8))
        self.repaint()

    def show(self, verdict: Verdict, words: str) -> None:
        """Say something else."""
        if verdict is not self._verdict:
            self._verdict = verdict
            self.repaint()
        if words != self.words.cget("text"):
            self.words.set_text(words)

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self.words.set_wrap(max(1, width - theme.px(icons.MARK + 8)))

    def repaint(self) -> None:
        """Take colours from the theme again."""
        super().repaint()
        self._sign.configure(bg=theme.colour(self.surface), image=icons.mark(self._verdict))


class MarkedList(Area):
    """A heading and a line with a mark for each thing told; lines are reused."""

    def __init__(self, master: tk.Misc, heading: str) -> None:
        super().__init__(master)
        self.heading = Label(self, heading, bold=True, size=theme.LABEL)
        self.heading.pack(anchor="w")
        self._lines: list[MarkedLine] = []
        self._count, self._width = 0, 0

    @property
    def texts(self) -> list[str]:
        """What its lines say."""
        return [str(line.words.cget("text")) for line in self._lines[: self._count]]

    def show(self, told: Sequence[tuple[Verdict, str]]) -> None:
        """Tell other things."""
        self._count = len(told)
        while len(self._lines) < len(told):
            line = MarkedLine(self)
            line.fit(self._width)
            self._lines.append(line)
        for line, (verdict, words) in zip(self._lines, told, strict=False):
            line.show(verdict, words)
            if not line.winfo_manager():
                line.pack(fill="x")
                space(line, pady=(4, 0))
        for line in self._lines[len(told) :]:
            line.pack_forget()

    def fit(self, width: int) -> None:
        """Break lines at a width in screen pixels."""
        self._width = width
        self.heading.set_wrap(max(1, width))
        for line in self._lines:
            line.fit(width)


class HeightsPanel(Area):
    """The table of heights with what can be done about the picked one.

    Keyboard in the table, besides its own: Return chooses the picked height, O draws it besides.

    :param bench: the boat; listened to from now on.
    """

    def __init__(self, master: tk.Misc, bench: Workbench) -> None:
        super().__init__(master)
        self._bench = bench
        self.on_say: Callable[[str], Any] | None = None
        self._look = Look(bench.style, with_setting=False, level=_FULL)
        self._is_stale, self._width = True, 0
        self._known: tuple[EngineReport | None, Clearances] = None, {}
        self._update = Later(self, self.refresh, WAIT_MS)
        self._refit = Later(self, lambda: self._fit(anew=True))
        self.pane = ScrollPane(self, width=304)
        body = self.pane.body
        self.none = Label(body, role="dim", size=theme.LABEL)
        self.table = Table(
            body,
            self._look.columns,
            verdict_title="Verdict",
            on_pick=lambda _key: self._show_picked(),
            on_open=lambda _key: self.choose(),
            rows_seen=4,
            fits_cells=True,
        )
        self.picked = Label(body, size=theme.LABEL)
        self._buttons = Area(body)
        self.buttons = self._make_buttons()
        self._a_row, self._shows_overlay = 0, False
        self.target = Label(body, role="dim", size=theme.SMALL)
        self.reuse = ReusePart(body, bench, self._say)
        self.drilling = MarkedList(body, "Where a bare transom may be drilled")
        self.ranges = MarkedList(body, "The plate from fully down to fully up, for each leg")
        self._lay_out()
        self._bind_keys()
        bench.listen(self._heard)

    # -- what is done ----------------------------------------------------------------------

    @property
    def picked_option(self) -> HeightOption | None:
        """The height that is picked in the table."""
        key = self.table.picked
        return next((option for option in self._bench.options if row_key(option) == key), None)

    def choose(self) -> None:
        """Decide on the picked height; what cannot be had is refused in words."""
        option = self.picked_option
        report = self._bench.report
        if option is None or report is None:
            self._say(_NONE_PICKED)
            return
        name = row_words(option, self._bench.style)
        if not option.is_possible:
            self._say(f"{_begun(name)} cannot be chosen: {option.reason}.")
        elif report.is_chosen and option == report.mounted:
            self._say(f"{_begun(name)} is chosen already.")
        else:
            self._bench.choose(option)
            self._say(f"{_begun(name)} is chosen; undo takes that back.")

    def overlay(self) -> None:
        """Draw the picked height besides the mounted one, or stop drawing it."""
        option, report = self.picked_option, self._bench.report
        if option is None or report is None:
            self._say(_NONE_PICKED)
            return
        name = row_words(option, self._bench.style)
        ghosts = self._bench.look.ghosts
        is_on = height_key(option) in ghosts
        if option == report.mounted and not is_on:
            self._say(f"The engine is drawn on {name} already; pick another height.")
            return
        self._bench.toggle_ghost(height_key(option))
        if is_on:
            self._say(f"{_begun(name)} is no longer drawn besides.")
        elif len(ghosts) >= MOST_GHOSTS:
            self._say(
                f"{_begun(name)} is drawn besides; the oldest of {MOST_GHOSTS} made room for it."
            )
        else:
            self._say(f"{_begun(name)} is drawn besides.")

    def copy_text(self) -> None:
        """Put the table on the clipboard as text."""
        from rigfit.desk.exports import heights_text

        self._copy(heights_text, "as text")

    def copy_csv(self) -> None:
        """Put the table on the clipboard as CSV for a spreadsheet."""
        from rigfit.desk.exports import heights_csv

        self._copy(heights_csv, "as CSV, lengths in mm")

    def refresh(self) -> None:
        """Show the heights as they are now; cells that say the same are not touched."""
        self._update.cancel()
        self._is_stale = False
        report = self._bench.report
        self._show_parts(report)
        if report is None:
            self.none.set_text(self._bench.trouble or "No boat is open, so there are no heights.")
            self.table.update_rows(())
            self._show_picked()
            return
        self._show_table(report)
        style = self._bench.style
        self.target.set_text(target_words(report, style))
        if ReusePart.has_something(report):
            self.reuse.show(report)
        self.drilling.show(
            [(item.verdict, drilling_words(item, style)) for item in report.drilling]
        )
        self.ranges.show([(item.verdict, range_words(item, style)) for item in report.ranges])
        self._show_picked()

    def focus_set(self) -> None:
        """Give the keyboard to the table."""
        self.table.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        if hasattr(self, "_refit"):
            self._refit.ask()

    def destroy(self) -> None:
        """Take it down, with what still waits to be done."""
        self._update.cancel()
        self._refit.cancel()
        super().destroy()

    # -- parts -----------------------------------------------------------------------------

    def _make_buttons(self) -> dict[str, Button]:
        made = {
            "choose": ("Choose this height", self.choose, "Bolt the engine there (Return)"),
            "overlay": (
                "Overlay",
                self.overlay,
                f"Overlay in the drawing, {MOST_GHOSTS} at most (O)",
            ),
            "text": ("Copy as text", self.copy_text, "Copy all heights as a table of text"),
            "csv": ("Copy as CSV", self.copy_csv, "Copy all heights for a spreadsheet, in mm"),
        }
        buttons = {}
        for name, (words, command, tip) in made.items():
            buttons[name] = Button(self._buttons, words, command)
            Tooltip(buttons[name].keys_to, tip)
        return buttons

    def _lay_out(self) -> None:
        self.pane.pack(fill="both", expand=True)
        body = self.pane.body
        body.grid_columnconfigure(0, weight=1)
        self._places: tuple[tuple[tk.Misc, tuple[int, int]], ...] = (
            (self.table, (8, 0)),
            (self.picked, (8, 0)),
            (self._buttons, (8, 0)),
            (self.target, (12, 0)),
            (self.reuse, (12, 0)),
            (self.drilling, (12, 0)),
            (self.ranges, (12, 12)),
        )
        self.none.grid(row=0, column=0, sticky="ew")
        space(self.none, padx=SIDE, pady=(12, 0))
        self.table.grid(row=1, column=0, sticky="ew", padx=SIDE // 2, pady=(8, 0))
        for place, (part, pady) in enumerate(self._places[1:], 2):
            part.grid(row=place, column=0, sticky="ew")
            space(part, padx=SIDE, pady=pady)
        body.bind("<Configure>", lambda _event: self._fit(), add="+")
        self.bind("<Map>", lambda _event: self._mapped())

    def _bind_keys(self) -> None:
        tree = self.table.tree
        for key in ("o", "O"):
            tree.bind(f"<{key}>", lambda _event: self.overlay())
        # The table would move its own pick besides, were these left to the window.
        for by, key in ((1, "Up"), (-1, "Down")):
            tree.bind(f"<Alt-{key}>", lambda _event, by=by: self._step(by))  # type: ignore[misc]

    def _step(self, by: int) -> str:
        self._bench.step_height(by)
        return "break"

    def _heard(self, change: Change) -> None:
        if not self.winfo_exists() or not change & _HEARD:
            return
        if self.winfo_ismapped():
            self._update.ask()
        else:
            self._is_stale = True

    def _mapped(self) -> None:
        if self._is_stale:
            self.refresh()

    def _show_parts(self, report: EngineReport | None) -> None:
        shown: dict[Any, bool] = {
            self.none: report is None,
            self.table: report is not None,
            self.picked: report is not None,
            self._buttons: report is not None,
            self.target: report is not None,
            self.reuse: ReusePart.has_something(report),
            self.drilling: report is not None and bool(report.drilling),
            self.ranges: report is not None and bool(report.ranges),
        }
        for part, is_shown in shown.items():
            if is_shown != bool(part.winfo_manager()):
                part.grid() if is_shown else part.grid_remove()

    def _show_table(self, report: EngineReport) -> None:
        look, rows = self._best_look(report)
        if (look.columns, look.level) != (self._look.columns, self._look.level):
            self.table.set_columns(look.columns)
            self.table.set_rows(rows)
        else:
            self.table.update_rows(rows)
        self._look = look
        high = min(max(len(rows), 2), _ROWS_SEEN)
        if int(self.table.tree.cget("height")) != high:
            self.table.tree.configure(height=high)

    def _best_look(self, report: EngineReport) -> tuple[Look, list[TableRow]]:
        """Return how to show the table so that what must be seen fits the width there is."""
        with_setting = any(option.setting_mm for option in report.options)
        room = self._width - theme.px(SIDE + 20) - Table.sign_room()
        states = self._states(report)
        for level in (_FULL, _INCHES, _NARROW):
            look = Look(self._bench.style, with_setting, level, self._clearances(report))
            rows = [
                look.row(option, states.get(height_key(option), "")) for option in report.options
            ]
            columns = look.columns
            needed = Table.room_for(columns, rows)
            least = sum(needed[column.key] for column in columns if not column.is_spare)
            if least <= room:
                break
        return look, rows

    def _clearances(self, report: EngineReport) -> Clearances:
        """Return the clearances of a report, worked out once; the last ones while findings wait."""
        if self._known[0] is not report and not self._bench.derived.waits:
            self._known = report, clearances_of(report)
        return self._known[1]

    def _states(self, report: EngineReport) -> dict[HeightKey, str]:
        """Return the word behind the row of each height that is drawn."""
        states = dict.fromkeys(self._bench.look.ghosts, "overlaid")
        if report.mounted is not None:
            states[height_key(report.mounted)] = "chosen" if report.is_chosen else "best"
        return states

    def _show_picked(self) -> None:
        """Say everything about the picked height, or about the mounted one while none is."""
        report = self._bench.report
        option = self.picked_option or (report.mounted if report else None)
        words = ""
        if option is not None and report is not None:
            gap = self._clearances(report).get(height_key(option))
            words = option_words(option, self._bench.style, gap)
        if words != self.picked.cget("text"):
            self.picked.set_text(words)
        is_over = option is not None and height_key(option) in self._bench.look.ghosts
        if is_over != self._shows_overlay:
            self._shows_overlay = is_over
            self.buttons["overlay"].set_on(is_over)

    def _copy(self, made: Callable[[EngineReport], str], how: str) -> None:
        report = self._bench.report
        if report is None:
            self._say("There are no heights to copy yet.")
            return
        self.clipboard_clear()
        self.clipboard_append(made(report))
        self._say(f"The heights are on the clipboard, {how}.")

    def _say(self, text: str) -> None:
        if self.on_say is not None:
            self.on_say(text)

    def _fit(self, *, anew: bool = False) -> None:
        """Break lines at the width there is, and show what fits it in the table."""
        width = self.pane.body.winfo_width()
        if width <= 1 or (width == self._width and not anew):
            return
        self._width = width
        inside = width - theme.px(2 * SIDE)
        for label in (self.none, self.picked, self.target):
            label.set_wrap(max(1, inside))
        for part in (self.reuse, self.drilling, self.ranges):
            part.fit(inside)
        self._fit_buttons(inside)
        if self._bench.report is not None and not self._is_stale:
            self._show_table(self._bench.report)

    def _fit_buttons(self, room: int) -> None:
        """Put the buttons into one row, or into two where they are wider than that."""
        gap = theme.px(theme.GAP)
        buttons = list(self.buttons.values())
        wide = sum(button.winfo_reqwidth() + gap for button in buttons) - gap
        a_row = len(buttons) if wide <= room else 2
        if a_row != self._a_row:
            self._a_row = a_row
            for at, button in enumerate(buttons):
                above = theme.GAP if at >= a_row else 0
                button.grid(
                    row=at // a_row,
                    column=at % a_row,
                    sticky="ew",
                    padx=(0, theme.GAP),
                    pady=(above, 0),
                )
