"""The middle of the window: measurements, drawing, findings and heights, as the room allows."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from rigfit.desk.actions import tip_of
from rigfit.desk.drawing_pane import DrawingPane
from rigfit.desk.findings_panel import FindingsPanel
from rigfit.desk.heights_panel import HeightsPanel
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, space
from rigfit.desk.kit.buttons import IconButton
from rigfit.desk.kit.choices import Segmented
from rigfit.desk.kit.sash import Sash
from rigfit.desk.layout import (
    PARTS,
    WORDS,
    Layout,
    Part,
    layout_for,
    side_widths,
)
from rigfit.desk.measurements import MeasurementsPanel
from rigfit.desk.swing_play import PLAYED, Player
from rigfit.desk.workbench import Change, Workbench

_LEFT, _CENTRE, _RIGHT = 0, 2, 4
_HEAD, _UPPER, _BETWEEN, _LOWER = range(4)
_FINDINGS_SHARE, _HEIGHTS_SHARE = 5, 4


@dataclass
class _Wished:
    """Widths wished for, logical px; 0 for the usual one."""

    left: float = 0.0
    right: float = 0.0


class Body(Area):
    """The four parts of the form, arranged anew whenever the room changes.

    :param run: does an action, by its name.
    """

    def __init__(self, master: tk.Misc, bench: Workbench, run: Callable[[str], Any]) -> None:
        super().__init__(master, "panel")
        self._run_action = run
        # Before the panels: a part is brought into sight first, then its panel finds the field.
        bench.listen(self._heard)
        self.measurements = MeasurementsPanel(self, bench)
        self.drawing = DrawingPane(self, bench)
        self.measurements.may_go_on = self._is_shown
        self.findings = FindingsPanel(self, bench)
        self.heights = HeightsPanel(self, bench)
        self._parts: dict[Part, Any] = {
            "measurements": self.measurements,
            "drawing": self.drawing,
            "findings": self.findings,
            "heights": self.heights,
        }
        for panel in self._parts.values():
            # Rows and columns share what there is; what a panel would like counts for nothing.
            panel.pack_propagate(False)  # noqa: FBT003 - Tk's own
            panel.grid_propagate(False)  # noqa: FBT003
            tk.Frame.configure(panel, width=1, height=1)
        self._tools = self._zoom_buttons()
        self._play_button: IconButton | None = None
        self.player = Player(self, bench)
        """Turns the drawn engine to and fro by itself."""
        self.player.on_change = self._show_play
        self.drawing.canvas.bind("<ButtonPress-1>", lambda _event: self.player.stop(), add="+")
        self._bench = bench
        self._wished = _Wished()
        self._sashes = (Sash(self, self._left_moved), Sash(self, self._right_moved))
        self._between = Area(self, "window")
        self._tabs: dict[tuple[Part, ...], tuple[Area, Segmented]] = {}
        self._chosen: dict[tuple[Part, ...], Part] = {}
        self.layout = Layout(PARTS)
        self._size = (0, 0)
        self.bind("<Configure>", self._resized)

    def show_part(self, part: Part, *, focus: bool = True) -> None:
        """Bring a part into sight and give it the keyboard."""
        column = self.layout.column_of(part)
        if len(column) > 1 and self._chosen.setdefault(column, column[0]) != part:
            self._chosen[column] = part
            self._arrange()
            self.update_idletasks()  # what is not in sight yet cannot take the keyboard
        if focus:
            self._focus(part)

    def seen_parts(self) -> tuple[Part, ...]:
        """Return the parts in sight."""
        return tuple(part for part in PARTS if self._parts[part].winfo_manager())

    def _is_shown(self) -> bool:
        """True once the parts in sight are, and the drawing among them is painted."""
        seen = self.seen_parts()
        return bool(seen) and ("drawing" not in seen or self.drawing.is_painted)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        if self._size != (0, 0):
            self._fit()

    # -- arranging -------------------------------------------------------------------------

    def _resized(self, event: tk.Event[Any]) -> None:
        if (event.width, event.height) != self._size:
            self._size = event.width, event.height
            self._fit()

    def _fit(self) -> None:
        scale = theme.scale()
        layout = layout_for(self._size[0] / scale, self._size[1] / scale)
        if layout != self.layout or not self.seen_parts():
            self.layout = layout
            self._arrange()
        else:
            self._share()

    def _arrange(self) -> None:
        for widget in (*self._parts.values(), *self._sashes, self._between):
            widget.grid_forget()
        for head, _ in self._tabs.values():
            head.grid_forget()
        layout = self.layout
        self._place_column(layout.left, _LEFT)
        if layout.centre is not None:
            self._sashes[0].grid(row=_HEAD, rowspan=4, column=1, sticky="ns")
            self._parts[layout.centre].grid(row=_HEAD, rowspan=4, column=_CENTRE, sticky="nsew")
        if layout.right:
            self._sashes[1].grid(row=_HEAD, rowspan=4, column=3, sticky="ns")
            if layout.is_stacked:
                self._place_stacked(layout.right)
            else:
                self._place_column(layout.right, _RIGHT)
        self._share()

    def _place_column(self, parts: tuple[Part, ...], column: int) -> None:
        chosen = self._chosen.setdefault(parts, parts[0])
        if len(parts) > 1:
            head, tabs = self._tabs_of(parts)
            tabs.set(chosen)
            head.grid(row=_HEAD, column=column, sticky="ew")
        first = _UPPER if len(parts) > 1 else _HEAD
        self._parts[chosen].grid(
            row=first, rowspan=_LOWER + 1 - first, column=column, sticky="nsew"
        )

    def _place_stacked(self, parts: tuple[Part, ...]) -> None:
        upper, lower = parts
        self._parts[upper].grid(row=_HEAD, rowspan=2, column=_RIGHT, sticky="nsew")
        self._between.grid(row=_BETWEEN, column=_RIGHT, sticky="ew")
        self._parts[lower].grid(row=_LOWER, column=_RIGHT, sticky="nsew")

    def _share(self) -> None:
        """Give each row and column its size."""
        scale = theme.scale()
        layout, wished = self.layout, self._wished
        left, right = side_widths(self._size[0] / scale, layout, wished.left, wished.right)
        alone = layout.centre is None
        self.grid_columnconfigure(_LEFT, minsize=0 if alone else theme.px(left), weight=int(alone))
        self.grid_columnconfigure(_CENTRE, weight=int(not alone))
        self.grid_columnconfigure(_RIGHT, minsize=theme.px(right), weight=0)
        stacked = layout.is_stacked and bool(layout.right)
        self.grid_rowconfigure(_HEAD, weight=0)
        self.grid_rowconfigure(_UPPER, weight=_FINDINGS_SHARE, uniform="results" if stacked else "")
        self.grid_rowconfigure(
            _LOWER,
            weight=_HEIGHTS_SHARE if stacked else 0,
            uniform="results" if stacked else "",
        )
        self._between.configure(height=theme.px(theme.GAP))

    def _tabs_of(self, parts: tuple[Part, ...]) -> tuple[Area, Segmented]:
        if parts not in self._tabs:
            head = Area(self, "panel")
            words: dict[str, str] = {part: WORDS[part] for part in parts}
            tabs = Segmented(head, words, lambda part: self._tab_chosen(parts, part))
            tabs.pack(fill="x")
            space(tabs, padx=theme.GAP, pady=theme.GAP)
            self._tabs[parts] = head, tabs
        return self._tabs[parts]

    def _tab_chosen(self, parts: tuple[Part, ...], part: str) -> None:
        self._chosen[parts] = next(item for item in parts if item == part)
        self._arrange()

    def _left_moved(self, by: float) -> None:
        left, _ = self._widths()
        self._wished.left = left + by
        self._share()

    def _right_moved(self, by: float) -> None:
        _, right = self._widths()
        self._wished.right = right - by
        self._share()

    def _widths(self) -> tuple[int, int]:
        wished = self._wished
        return side_widths(self._size[0] / theme.scale(), self.layout, wished.left, wished.right)

    # -- keyboard and drawing --------------------------------------------------------------

    def _focus(self, part: Part) -> None:
        panel = self._parts[part]
        if part == "measurements":
            panel.focus_first()
        else:
            panel.focus_set()

    def _heard(self, change: Change) -> None:
        if change & (Change.LOOK | Change.BOAT):
            self._show_play()
        if change & Change.GOTO:
            self.show_part("measurements", focus=False)
            self.update_idletasks()

    def _show_play(self) -> None:
        """Show the button that plays the swing, where there is one to be played."""
        is_wanted = self._bench.look.picture in PLAYED
        if self._play_button is None:
            if not is_wanted:
                return
            self._play_button = IconButton(
                self._tools, "play", tip_of("play"), partial(self._run_action, "play")
            )
        button = self._play_button
        icon = "stop" if self.player.is_playing else "play"
        if button.icon_name != icon:
            button.set_icon(icon)
        if is_wanted != bool(button.winfo_manager()):
            if is_wanted:
                button.pack(side="left", before=tk.Misc.winfo_children(self._tools)[0])
            else:
                button.pack_forget()

    def _zoom_buttons(self) -> Area:
        tools = Area(self.drawing, "panel")
        for name, icon in (("zoom-in", "zoom in"), ("zoom-out", "zoom out"), ("zoom-fit", "fit")):
            button = IconButton(tools, icon, tip_of(name), partial(self._run_action, name))
            button.pack(side="left")
        tools.place(relx=1.0, rely=1.0, x=-4, y=-4, anchor="se")
        return tools
