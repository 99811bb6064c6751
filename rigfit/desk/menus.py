"""The menu: every action under a heading, with its keys, and the choices that have no action."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from rigfit.desk.actions import ACTIONS, Context, shown_keys
from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import style_menu

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Boat", ("new", "open", "open-recent", "demo", "", "save", "save-as", "", "quit")),
    (
        "Edit",
        ("undo", "redo", "", "add-engine", "duplicate-engine", "remove-engine", "",
         "previous-engine", "next-engine", "", "import-runs"),
    ),
    ("Engine", ("raise", "lower", "", "tilt-up", "tilt-down", "", "steer-port", "steer-starboard",
                "play")),
    (
        "View",
        ("go-measurements", "go-drawing", "go-findings", "go-heights", "go-runs", "",
         "view-profile", "view-template", "view-face", "view-face-inside", "view-section",
         "view-dash",
         "view-swing", "view-swing-plan", "view-swing-worst", "view-afloat",
         "view-scupper-curve", "view-underway", "view-trial", "",
         "zoom-in", "zoom-out", "zoom-fit"),
    ),
    (
        "Give away",
        ("export-drawing", "export-face", "export-section", "export-swing", "export-afloat",
         "export-curve", "export-underway", "export-trial", "export-template",
         "export-plates", "export-report", "export-view", "",
         "copy-heights", "text-report"),
    ),
    ("Form", ("units", "larger", "smaller", "theme")),
    ("Help", ("keys", "cancel")),
)  # fmt: skip
"""Headings with the names of their actions; "" is a line between."""

THEMES = {"system": "As the system", "light": "Light", "dark": "Dark"}
SPEEDS = {"kn": "Knots", "km/h": "Kilometres an hour", "mph": "Miles an hour"}
SCALES = (100, 125, 150, 175, 200, 250, 300)
"""Sizes of the form, percent of what the screen asks for."""

Choices = Mapping[str, str]


class Menus:
    """The menus of the form, built anew each time one is opened.

    :param run: does an action, by its name.
    :param set_choice: takes the name of a setting ("theme", "speeds", "scale") and its new value.
    :param context: says what can be done now.
    :param chosen: returns the value of a setting as a word.
    :param recent: returns the recent files with what opens each.
    """

    def __init__(
        self,
        root: tk.Misc,
        *,
        run: Callable[[str], Any],
        set_choice: Callable[[str, str], Any],
        context: Callable[[], Context],
        chosen: Callable[[str], str],
        recent: Callable[[], Sequence[tuple[str, Callable[[], Any]]]],
    ) -> None:
        self._run, self._set_choice = run, set_choice
        self._context, self._chosen, self._recent_files = context, chosen, recent
        self.menu = self._made(root)
        self._parts = {title: self._made(self.menu) for title, _ in GROUPS}
        self._lists = {
            name: self._made(self.menu) for name in ("recent", "theme", "speeds", "scale")
        }
        self.menu.configure(postcommand=self.refill)
        theme.watch(self)
        self.repaint()

    def winfo_exists(self) -> bool:
        """True until the window is gone."""
        return bool(self.menu.winfo_exists())

    def open_below(self, widget: tk.Misc) -> None:
        """Open the menu below a widget."""
        self._open(self.menu, widget)

    def open_recent_below(self, widget: tk.Misc) -> None:
        """Open the list of recent files below a widget."""
        self.refill()
        self._open(self._lists["recent"], widget)

    def refill(self) -> None:
        """Fill in everything as it is now."""
        self.menu.delete(0, "end")
        context = self._context()
        self._fill_lists()
        for title, names in GROUPS:
            part = self._parts[title]
            part.delete(0, "end")
            for name in names:
                self._add(part, name, context)
            if title == "Form":
                self._cascade(part, "Colours", "theme")
                self._cascade(part, "Speeds", "speeds")
                self._cascade(part, "Size", "scale")
            self.menu.add_cascade(label=f"{title}  ", menu=part)

    def repaint(self) -> None:
        """Take colours and letters from the theme again."""
        for menu in (self.menu, *self._parts.values(), *self._lists.values()):
            style_menu(menu, border=3)

    def _made(self, master: tk.Misc) -> tk.Menu:
        return tk.Menu(master, tearoff=False, bd=1, relief="solid")

    def _open(self, menu: tk.Menu, widget: tk.Misc) -> None:
        below = widget.winfo_rooty() + widget.winfo_height() + 1
        menu.tk_popup(widget.winfo_rootx(), below)

    def _add(self, menu: tk.Menu, name: str, context: Context) -> None:
        if not name:
            menu.add_separator()
        elif name == "open-recent":
            self._cascade(menu, ACTIONS[name].label, "recent", enabled=context.recent > 0)
        elif name != "theme":  # the list of colours says more
            action = ACTIONS[name]
            menu.add_command(
                label=f"{action.label}  ",
                accelerator=shown_keys(action),
                command=partial(self._run, name),
                state="normal" if action.enabled(context) else "disabled",
            )

    def _cascade(self, menu: tk.Menu, label: str, name: str, *, enabled: bool = True) -> None:
        state: Any = "normal" if enabled else "disabled"
        menu.add_cascade(label=f"{label}  ", menu=self._lists[name], state=state)

    def _fill_lists(self) -> None:
        recent = self._lists["recent"]
        recent.delete(0, "end")
        for label, command in self._recent_files():
            recent.add_command(label=f"{label}  ", command=command)
        scales = {str(scale): f"{scale} %" for scale in SCALES}
        for name, choices in (("theme", THEMES), ("speeds", SPEEDS), ("scale", scales)):
            self._fill_choices(name, choices)

    def _fill_choices(self, name: str, choices: Choices) -> None:
        menu, now = self._lists[name], self._chosen(name)
        menu.delete(0, "end")
        for key, word in choices.items():
            menu.add_command(
                label=f"{word}  ",
                image=icons.photo("check") if key == now else icons.blank(icons.SIZE),
                compound="left",
                command=partial(self._set_choice, name, key),
            )
