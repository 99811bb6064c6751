"""The window: puts the parts together, binds the actions, and keeps time.

It is the only place that knows all parts. Whatever fails inside an action becomes a sentence in
the status bar; nothing typed is ever lost by it.
"""

from __future__ import annotations

import sys
import threading
import tkinter as tk
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, get_args

from rigfit.desk.actions import ACTIONS, tk_sequences
from rigfit.desk.banner import Banner
from rigfit.desk.body import Body
from rigfit.desk.drop import accept_files
from rigfit.desk.file_flow import FileFlow
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.kit.base import Area
from rigfit.desk.kit.colours import Appearance
from rigfit.desk.kit.panes import StatusBar
from rigfit.desk.kit.root import Root
from rigfit.desk.layout import PARTS
from rigfit.desk.menus import SCALES, Menus
from rigfit.desk.panel_parts import Later
from rigfit.desk.settings import recent_files
from rigfit.desk.toolbar import PICTURES, Toolbar
from rigfit.desk.workbench import Change, Workbench, keep_settings
from rigfit.desk.worker import Worker
from rigfit.errors import RigfitError
from rigfit.records.saving import write_whole

if TYPE_CHECKING:
    from rigfit.desk.export_page import ExportPage
    from rigfit.desk.pages import ReadingPage
    from rigfit.desk.trial_groups import RunGroup
    from rigfit.desk.welcome import Welcome

Part = TypeVar("Part", bound=Area)

AUTOSAVE_MS = 1500
"""Time from a change until the work is kept on the disk."""

CATCH_UP_MS = 120
"""Time from the last key until the slow findings are worked out."""

PUMP_MS = 20
TILT_STEP_DEG = 5.0
SMALLEST = (640, 320)
USUAL = (1360, 840)
"""Least and first size of the window, logical px."""

WITHOUT_A_BOAT = frozenset(
    {"new", "open", "open-recent", "demo", "quit", "cancel", "menu", "keys", "theme", "units",
     "larger", "smaller"}
)  # fmt: skip
"""Actions that make sense while there is no boat in the form."""


class Window:
    """The one window of the form.

    :param root: the root window, empty.
    :param bench: the boat, or none yet.
    :param settings_folder: where the person's choices are kept; the platform's own when None.
    """

    def __init__(self, root: Root, bench: Workbench, settings_folder: Path | None = None) -> None:
        self.root, self.bench, self._settings_folder = root, bench, settings_folder
        self.worker = Worker()
        self._jobs: dict[str, Later] = {}
        self._page: Area | None = None
        self._title = ""
        self._made: dict[str, Any] = {}
        self._handlers = self._all_handlers()
        bench.listen(self._heard)
        self._catch_up = Later(root, bench.catch_up, CATCH_UP_MS)
        bench.on_wait = self._catch_up.ask_anew
        self.menus = Menus(
            root,
            run=self.run,
            set_choice=self.set_choice,
            context=bench.context,
            chosen=self._chosen,
            recent=self._recent,
        )
        self.toolbar = Toolbar(root, bench, self.run, self.menus.open_below)
        self.banner = Banner(root)
        self._middle = Area(root, "window")
        self.status = StatusBar(root)
        self.files = FileFlow(root, bench, self.banner, self.status.say, self._settled)
        self._lay_out()
        self._bind_actions()
        self.show()

    # -- parts -----------------------------------------------------------------------------

    # Pages are loaded when first wanted: the first paint does not wait for them.

    @property
    def body(self) -> Body:
        """The four parts of the form, made when first wanted."""
        return self._part("body", self._make_body)

    @property
    def welcome(self) -> Welcome:
        """The first screen."""
        from rigfit.desk.welcome import Welcome

        return self._part(
            "welcome",
            lambda: Welcome(
                self._middle,
                on_new=lambda: self.run("new"),
                on_open=lambda: self.run("open"),
                on_demo=lambda: self.run("demo"),
                on_recent=self.files.open,
            ),
        )

    @property
    def export_page(self) -> ExportPage:
        """The page on which files are given away."""
        return self._part("export", self._make_export_page)

    @property
    def reading_page(self) -> ReadingPage:
        """The page of texts to read."""
        from rigfit.desk.pages import ReadingPage

        return self._part(
            "reading", lambda: ReadingPage(self._middle, self.close_page, self._save_text)
        )

    def _part(self, name: str, make: Callable[[], Part]) -> Part:
        if name not in self._made:
            self._made[name] = make()
        made: Part = self._made[name]
        return made

    def _make_body(self) -> Body:
        body = Body(self._middle, self.bench, self.run)
        body.drawing.on_hover = self._hovered
        body.heights.on_say = self.status.say
        return body

    def _make_export_page(self) -> ExportPage:
        from rigfit.desk.export_page import ExportPage

        page = ExportPage(self._middle, self.bench, self.worker, self.close_page, self.status.say)
        page.on_busy = self._pump
        return page

    def _lay_out(self) -> None:
        root = self.root
        self.toolbar.grid(row=0, column=0, sticky="ew")
        self.banner.grid(row=1, column=0, sticky="ew")
        self._middle.grid(row=2, column=0, sticky="nsew")
        self.status.grid(row=3, column=0, sticky="ew")
        root.grid_columnconfigure(0, weight=1)
        root.grid_rowconfigure(2, weight=1)
        self._middle.grid_columnconfigure(0, weight=1)
        self._middle.grid_rowconfigure(0, weight=1)
        # The window has its size from outside; the parts share what there is.
        self._middle.grid_propagate(False)  # noqa: FBT003 - Tk's own
        root.protocol("WM_DELETE_WINDOW", lambda: self.run("quit"))
        root.after(300, lambda: accept_files(self._middle, self.files.open))

    def show(self) -> None:
        """Show the boat, or the first screen where there is none, or the page on top of it."""
        wanted: Area = self._page or (self.body if self.bench.has_boat else self.welcome)
        for part in self._made.values():
            if part is not wanted:
                part.grid_forget()
        if not wanted.winfo_manager():
            wanted.grid(row=0, column=0, sticky="nsew")
        if wanted is self._made.get("welcome"):
            self.welcome.set_recent(recent_files(self.bench.settings))
        self._show_title()
        self._show_units()

    def close_page(self) -> None:
        """Take away the page on top."""
        if self._page is not None:
            self._page = None
            self.show()
            if self.bench.has_boat:
                self.body.show_part(
                    "drawing" if "drawing" in self.body.seen_parts() else "findings"
                )

    def _show_page(self, page: Area) -> None:
        self._page = page
        self.show()
        page.focus_set()

    # -- actions ---------------------------------------------------------------------------

    def run(self, name: str) -> None:
        """Do an action, by its name in ``actions.ACTIONS``, if it can be done now."""
        self._commit_field()
        bench = self.bench
        bench.catch_up()  # whatever is done next is done with everything known
        if name != "play" and "body" in self._made:
            self.body.player.stop()
        can = ACTIONS[name].enabled(bench.context())
        if can and (bench.has_boat or name in WITHOUT_A_BOAT):
            try:
                self._handlers[name]()
            except RigfitError as error:
                self.status.say(error.sentence(), "error")

    def _all_handlers(self) -> dict[str, Callable[[], Any]]:
        bench = self.bench
        return {
            "new": lambda: self.files.new(),
            "open": lambda: self.files.ask_open(),
            "open-recent": lambda: self.menus.open_recent_below(self.toolbar.menu_button),
            "demo": lambda: self.files.demo(),
            "save": lambda: self.files.save(),
            "save-as": lambda: self.files.save_as(),
            "quit": self.quit,
            "undo": lambda: self._said("Took back: {}.", bench.undo()),
            "redo": lambda: self._said("Did again: {}.", bench.redo()),
            "add-engine": bench.add_engine,
            "duplicate-engine": bench.duplicate_engine,
            "remove-engine": bench.remove_engine,
            "next-engine": lambda: bench.show_beside(1),
            "previous-engine": lambda: bench.show_beside(-1),
            "raise": lambda: bench.step_height(1),
            "lower": lambda: bench.step_height(-1),
            "tilt-up": lambda: bench.set_tilt(bench.look.tilt_deg + TILT_STEP_DEG),
            "tilt-down": lambda: bench.set_tilt(bench.look.tilt_deg - TILT_STEP_DEG),
            "steer-port": lambda: bench.set_steer(bench.look.steer_deg - TILT_STEP_DEG),
            "play": lambda: self.body.player.toggle(),
            "steer-starboard": lambda: bench.set_steer(bench.look.steer_deg + TILT_STEP_DEG),
            **{f"go-{part}": partial(self._go, part) for part in PARTS},
            "go-runs": self._go_to_runs,
            "import-runs": lambda: self._go_to_runs().open_aid(),
            **{f"view-{name}": partial(self._look_at, name) for name in PICTURES},
            "zoom-in": lambda: self.body.drawing.zoom_in(),
            "zoom-out": lambda: self.body.drawing.zoom_out(),
            "zoom-fit": lambda: self.body.drawing.zoom_fit(),
            **{f"export-{name}": partial(self._export, name) for name in _EXPORTS},
            "copy-heights": self._copy_heights,
            "text-report": self._show_report,
            "cancel": self._cancel,
            "menu": lambda: self.menus.open_below(self.toolbar.menu_button),
            "keys": self._show_keys,
            "theme": self._toggle_theme,
            "units": self._toggle_units,
            "larger": lambda: self._resize_form(1),
            "smaller": lambda: self._resize_form(-1),
        }

    def _bind_actions(self) -> None:
        for name, action in ACTIONS.items():
            for sequence in tk_sequences(action):
                if action.keys != ("Escape",):
                    self.root.bind(sequence, lambda _event, wanted=name: self._pressed(wanted))
        self.root.bind("<Escape>", lambda _event: self._escaped())
        self.root.bind("<FocusIn>", self._came_back, add="+")

    def _pressed(self, name: str) -> str:
        self.run(name)
        return "break"

    def _escaped(self) -> None:
        if self._page is not None:
            self.close_page()
        else:
            self.run("cancel")

    def _commit_field(self) -> None:
        """Have the field that is being typed in taken over, as leaving it would."""
        entry = self.root.focus_get()
        if isinstance(entry, tk.Entry):
            entry.event_generate("<Return>")

    def _said(self, words: str, what: str) -> None:
        if what:
            self.status.say(words.format(what))

    def _go(self, part: Any) -> None:
        self.close_page()
        self.body.show_part(part)

    def _go_to_runs(self) -> RunGroup:
        self.close_page()
        self.body.show_part("measurements", focus=False)
        self.root.update_idletasks()  # what is not in sight yet cannot take the keyboard
        runs = self.body.measurements.runs
        runs.show_table()
        return runs

    def _look_at(self, picture: str) -> None:
        self.bench.set_picture(picture)
        self.body.show_part("drawing", focus=False)

    def _export(self, what: Any) -> None:
        scene = self.body.drawing.view_scene() if what == "view" else None
        page = self.export_page
        self._show_page(page)
        page.show(what, scene)

    def _copy_heights(self) -> None:
        from rigfit.desk.exports import heights_text

        if self.bench.report is not None:
            self.root.clipboard_clear()
            self.root.clipboard_append(heights_text(self.bench.report))
            self.status.say("The heights are on the clipboard, as text.", "ok")

    def _show_keys(self) -> None:
        from rigfit.desk.text_report import keys_text

        self._read("Keys", keys_text())

    def _show_report(self) -> None:
        from rigfit.desk.text_report import whole_text

        self._read(f"{self.bench.boat_name}: everything as text", whole_text(self.bench.derived))

    def _read(self, title: str, text: str) -> None:
        self.reading_page.show(title, text)
        self._show_page(self.reading_page)

    def _save_text(self, text: str) -> None:
        suggestion = Path.home() / "rigfit.txt"
        path = dialogs.questions().save_path(
            self.root, "Save the text", [("Text", "*.txt")], suggestion=suggestion
        )
        if path is None:
            return
        try:
            write_whole(path, text.encode("utf-8"))
        except RigfitError as error:
            self.status.say(error.sentence(), "error")
        else:
            self.status.say(f"Wrote {path}.", "ok")

    def _cancel(self) -> None:
        if self.worker.cancel():
            self.bench.is_busy = False
            self.status.say("Cancelled; nothing was written.")

    # -- settings --------------------------------------------------------------------------

    def set_choice(self, name: str, value: str) -> None:
        """Take over a choice of the menu: "theme", "speeds" or "scale"."""
        if name == "speeds":
            self.bench.set_units(speeds=value)
        elif name == "scale":
            self.bench.set_settings(scale=int(value))
            self._apply_look()
        else:
            self.bench.set_settings(theme=value)
            self._apply_look()

    def _chosen(self, name: str) -> str:
        if name == "speeds" and self.bench.has_boat:
            return self.bench.style.speeds
        return str(getattr(self.bench.settings, name))

    def _recent(self) -> list[tuple[str, Callable[[], Any]]]:
        found = recent_files(self.bench.settings)
        return [
            (
                str(item.path) if item.is_there else f"{item.path} (missing)",
                lambda path=item.path: self.files.open(path),  # type: ignore[misc]
            )
            for item in found
        ]

    def _toggle_theme(self) -> None:
        self.set_choice("theme", "light" if theme.appearance() == "dark" else "dark")

    def _toggle_units(self) -> None:
        is_metric = self._lengths() == "mm"
        self.bench.set_units(lengths="in" if is_metric else "mm")
        self._show_units()

    def _lengths(self) -> str:
        return self.bench.style.lengths if self.bench.has_boat else self.bench.settings.lengths

    def _resize_form(self, by: int) -> None:
        now = self.bench.settings.scale
        beyond = [scale for scale in SCALES if (scale - now) * by > 0]
        if beyond:
            self.set_choice("scale", str(min(beyond) if by > 0 else max(beyond)))

    def _apply_look(self) -> None:
        settings = self.bench.settings
        wanted = settings.theme
        self._put_on(theme.system_appearance() if wanted == "system" else _appearance(wanted))

    def _put_on(self, appearance: Appearance) -> None:
        theme.apply(appearance, self.bench.settings.scale / 100.0)
        self._limit_size()

    def _limit_size(self) -> None:
        width, height = (theme.px(size) for size in SMALLEST)
        screen = self.root.winfo_screenwidth(), self.root.winfo_screenheight()
        tk.Wm.minsize(self.root, min(width, screen[0]), min(height, screen[1]))

    def open_at(self) -> None:
        """Give the window its size of the last time, or a usual one, and somebody the keyboard."""
        self._limit_size()
        usual = tuple(theme.px(size) for size in USUAL)
        width, height = self.bench.settings.window if any(self.bench.settings.window) else usual
        screen = self.root.winfo_screenwidth(), self.root.winfo_screenheight()
        tk.Wm.geometry(self.root, f"{min(width, screen[0])}x{min(height, screen[1])}")
        # Once the window is there: a field can only be brought into sight where it has a place.
        self.root.after(1, self._first_focus)

    def _first_focus(self) -> None:
        if self.bench.has_boat:
            self.body.show_part("measurements")
        else:
            self.welcome.focus_set()

    def open_last(self, path: Path) -> None:
        """Open the boat of the last time, if its file is still there."""
        if path.is_file():
            self.files.open(path)
        else:
            self.status.say(f"{path.name}, the boat of the last time, is not there any more.")

    # -- watching --------------------------------------------------------------------------

    def _heard(self, change: Change) -> None:
        if change & (Change.TEXTS | Change.ENGINES | Change.ENGINE):
            self._later("autosave", AUTOSAVE_MS, self._autosave)
        if change & (Change.TEXTS | Change.SAVED | Change.BOAT):
            self._show_title()
            self._show_units()
        if change & Change.SETTINGS:
            self._later("settings", AUTOSAVE_MS, self._keep_settings)

    def _settled(self) -> None:
        """Show a boat that has come into the form."""
        self._page = None
        self.show()
        self.body.show_part("measurements")

    def _show_title(self) -> None:
        bench = self.bench
        mark = "" if bench.is_saved else "*"
        title = f"{mark}{bench.boat_name} - rigfit" if bench.has_boat else "rigfit"
        if title != self._title:
            self._title = title
            self.root.title(title)

    def _show_units(self) -> None:
        self.status.set_right({"mm": "millimetres", "in": "inches"}[self._lengths()])

    def _hovered(self, words: str) -> None:
        if words:
            self.status.set_right(words)
        else:
            self._show_units()

    def _later(self, name: str, wait_ms: int, action: Callable[[], None]) -> None:
        """Run something once after a while, however often it is asked for until then."""
        if name not in self._jobs or not self._jobs[name].is_waiting:
            self._jobs[name] = Later(self.root, action, wait_ms)
            self._jobs[name].ask()

    def _autosave(self) -> None:
        try:
            self.bench.autosave()
        except RigfitError as error:
            self.status.say(f"Unsaved work could not be kept: {error.sentence()}", "warn")

    def _keep_settings(self) -> None:
        trouble = keep_settings(self.bench.settings, self._settings_folder)
        if trouble:
            self.status.say(trouble, "warn")

    def _came_back(self, event: tk.Event[Any]) -> None:
        """Look at what may have changed while another window had the keyboard."""
        if event.widget is self.root:
            self._later("disk", 50, self.files.look_at_disk)
            if self.bench.settings.theme == "system":
                self._later("system", 100, self._ask_system)

    def _ask_system(self) -> None:
        """Ask the system for its appearance in a thread: it may start a program for that."""
        found: list[Appearance] = []

        def ask() -> None:
            with suppress(Exception):  # whatever the system answers, the form goes on
                found.append(theme.system_appearance())

        def follow() -> None:
            if thread.is_alive():
                self._later("follow", 100, follow)
            elif found and found[0] != theme.appearance():
                self._put_on(found[0])

        thread = threading.Thread(target=ask, daemon=True)
        thread.start()
        self._later("follow", 100, follow)

    def _pump(self) -> None:
        """Fetch the answers of long work until there is none."""
        self.bench.is_busy = self.worker.pump()
        self.toolbar.show()
        if self.bench.is_busy:
            self._later("pump", PUMP_MS, self._pump)

    # -- the end ---------------------------------------------------------------------------

    def failed(self, *error: Any) -> None:
        """Take an error nobody foresaw: keep the work, say so, and leave the details in the log."""
        sys.excepthook(*error)
        with suppress(RigfitError):
            self.bench.autosave()
        self.status.say(
            "Something failed inside rigfit. What you typed is kept; save it under another name, "
            "and report what you did.",
            "error",
        )

    def quit(self) -> None:
        """Close the window, once the boat may be left."""
        if self.files.may_leave():
            self.close()

    def close(self) -> None:
        """Close the window without asking; what is not saved stays beside the file."""
        bench = self.bench
        if bench.has_boat and bench.is_saved:
            bench.close()
        size = self.root.winfo_width(), self.root.winfo_height()
        last = str(bench.document.path or "") if bench.has_boat else bench.settings.last_file
        bench.settings = replace(bench.settings, window=size, last_file=last)
        self._keep_settings()
        self.worker.close(timeout=0.5)
        self.root.close()


_EXPORTS = (
    "drawing", "face", "section", "swing", "afloat", "curve", "underway", "trial", "template",
    "plates", "report", "view",
)  # fmt: skip


def _appearance(word: str) -> Appearance:
    return next(name for name in get_args(Appearance) if name == word)
