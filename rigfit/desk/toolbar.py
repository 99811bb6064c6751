"""The bar at the top: boat, engine, what is drawn, and the few things done most often."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.actions import ACTIONS, tip_of
from rigfit.desk.draft import Address
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label, Rule, space
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.choices import Choice
from rigfit.desk.workbench import Change, Workbench

NAME_FROM, WORDS_FROM = 1120, 900
"""Widths in logical px from which there is room for the boat's name, and for words on buttons."""

PICTURES = (
    "profile", "template", "face", "face-inside", "section", "dash", "swing", "swing-plan",
    "swing-worst", "afloat", "scupper-curve", "underway", "trial",
)  # fmt: skip
"""What can be drawn, by the word in ``Look.picture``, in the order of their keys."""

_LONGEST_NAME, _PICTURE_WIDTH = 220, 188

_BUTTONS = (("open", "open"), ("save", "save"), ("undo", "undo"), ("redo", "redo"))


class Toolbar(Area):
    """The bar at the top of the window.

    :param run: does an action, by its name.
    :param on_menu: opens the menu below the widget it is given.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        run: Callable[[str], Any],
        on_menu: Callable[[tk.Misc], Any],
    ) -> None:
        super().__init__(master, "panel")
        self._bench, self._run_action = bench, run
        self._shown: tuple[object, ...] = ()
        self._bar = Area(self)
        self.menu_button = IconButton(
            self._bar, "menu", tip_of("menu"),
            lambda: on_menu(self.menu_button),
        )  # fmt: skip
        self.menu_button.pack(side="left")
        self.buttons = {name: self._icon_button(name, icon) for name, icon in _BUTTONS}
        self._name = Label(self._bar, "", bold=True)
        self._mark = Label(self._bar, "", role="dim", size=theme.SMALL)
        self._ends()
        self._rule = Rule(self)
        self._rule.pack(side="bottom", fill="x")
        self._bar.pack(fill="both", expand=True)
        space(self._bar, padx=theme.GAP, pady=theme.GAP)
        self._wide = (-1, False)
        self._bar.bind("<Configure>", lambda event: self._fit(event.width))
        bench.listen(self._heard)
        self.show()

    def show(self) -> None:
        """Show what is true now, where that is another than before."""
        state = self._state()
        if state != self._shown:
            self._shown = state
            self._show_buttons()
            self._show_name()
            self._show_engine()
            self.picture.set(self._bench.look.picture)

    def _state(self) -> tuple[object, ...]:
        """Return everything the bar depends on."""
        bench, history = self._bench, self._bench.history
        return (
            bench.has_boat, bench.is_saved, bench.is_busy, bench.document.path, bench.boat_name,
            history.can_undo, history.can_redo, bench.draft.engines, bench.engine_index, bench.look,
        )  # fmt: skip

    def _show_buttons(self) -> None:
        bench, context = self._bench, self._bench.context()
        for name, button in self.buttons.items():
            enabled = bench.has_boat or name == "open"
            can = enabled and ACTIONS[name].enabled(context)
            if button.is_enabled != can:
                button.set_enabled(can)
        for widget in self._of_a_boat:
            if bench.has_boat and not widget.winfo_manager():
                widget.pack(side="right", padx=(theme.GAP, 0))

    def _icon_button(self, name: str, icon: str) -> IconButton:
        button = IconButton(self._bar, icon, tip_of(name), lambda: self._run_action(name))
        button.pack(side="left")
        return button

    def _ends(self) -> None:
        """Make what stands at the right end, from the right inwards."""
        bar = self._bar
        self.keys_button = IconButton(bar, "keys", tip_of("keys"), lambda: self._run_action("keys"))
        self.export_button = Button(
            bar, "Export", lambda: self._run_action("export-drawing"), icon="export"
        )
        words = {name: ACTIONS[f"view-{name}"].label for name in PICTURES}
        self.picture = Choice(bar, words, self._picture_chosen, width=_PICTURE_WIDTH)
        self.engine = Choice(bar, {}, lambda key: self._bench.show_engine(int(key)), width=176)
        self.keys_button.pack(side="right", padx=(theme.GAP, 0))
        self._of_a_boat = (self.export_button, self.picture, self.engine)

    def _picture_chosen(self, name: str) -> None:
        self._run_action(f"view-{name}")
        self.picture.set(self._bench.look.picture)  # it may be one that cannot be had now

    def _heard(self, change: Change) -> None:
        if change & ~(Change.FOCUS | Change.GOTO):
            self.show()

    def _show_name(self) -> None:
        bench = self._bench
        name = bench.boat_name if bench.has_boat else ""
        self._name.set_text(theme.fitted(name, theme.px(_LONGEST_NAME), bold=True))
        self._mark.set_text("" if bench.is_saved or not bench.has_boat else "not saved")

    def _show_engine(self) -> None:
        draft = self._bench.draft
        words = {}
        for index, engine_id in enumerate(draft.engine_ids):
            name = draft.text(Address("engine", "name", index)).strip()
            label = f"Engine {engine_id or index + 1}"
            words[str(index)] = f"{label}: {name}" if name else label
        words = words or {"0": "No engine yet"}
        chosen = str(self._bench.engine_index)
        if (words, chosen) != getattr(self, "_engines", None):
            self._engines = words, chosen
            self.engine.set_choices(words)
            self.engine.set(chosen)

    def _fit(self, width: int) -> None:
        """Leave out what there is no room for."""
        logical = width / theme.scale()
        wide = int(logical >= WORDS_FROM) + int(logical >= NAME_FROM), self._bench.has_boat
        if wide == self._wide:
            return
        self._wide = wide
        self.export_button.set_text("Export" if wide[0] else "")
        self._name.pack_forget()
        self._mark.pack_forget()
        if wide[0] == 2:
            self._name.pack(side="left")
            self._mark.pack(side="left")
            space(self._name, padx=(theme.PADDING, theme.GAP))
