"""The first screen: what rigfit is for, three ways to begin, and the files worked on before."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from pathlib import Path
from typing import Any

from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label, Outline, Rule, on_keys, ring_on_focus, space
from rigfit.desk.kit.panes import BAR_WIDTH, ScrollPane
from rigfit.desk.kit.tooltip import Tooltip
from rigfit.desk.settings import Recent
from rigfit.records.plain_words import shown_path
from rigfit.wording import CAUTIONS

PURPOSE = (
    "Does this engine fit this boat? Measure transom and engine, and see at which heights it can "
    "be bolted on, which old holes serve again, and what stands in the way."
)

PAINT_DELAY_MS = 120
"""How long after the first screen the drawing on it is begun."""

_TITLE = 32
_LEFT, _RIGHT, _BETWEEN = 432, 440, 48  # logical px: two columns and the room between them
_NARROWEST = 240
_PICTURE = 440, 320
_DRAWN = ("HULL", "TRANSOM", "TARGET", "KEELLINE", "BRACKET", "ENGINE", "PLATE")
_DRAWN_SCALE = 6.0


class Welcome(Area):
    """What is shown while there is no boat.

    :param on_new: called to start a new boat.
    :param on_open: called to open a job file.
    :param on_demo: called to look at the demo.
    :param on_recent: called with the path of a recent file.
    """

    def __init__(
        self,
        master: tk.Misc,
        *,
        on_new: Callable[[], Any],
        on_open: Callable[[], Any],
        on_demo: Callable[[], Any],
        on_recent: Callable[[Path], Any],
    ) -> None:
        super().__init__(master, "panel")
        self._on_recent = on_recent
        self._recent: tuple[Recent, ...] = ()
        self.rows: list[RecentRow] = []
        self._image: Any = None
        self._painted: tuple[Any, ...] = ()
        self._job, self._room = "", 0
        self._pane = ScrollPane(self, width=3 * theme.PITCH)
        self._pane.pack(fill="both", expand=True)
        self._sheet = Area(self._pane.body)
        self._sheet.grid(row=0, column=0)
        self._pane.body.grid_columnconfigure(0, weight=1)
        self._build(on_new, on_open, on_demo)
        self.bind("<Configure>", lambda _event: self._arrange())
        self._sheet.bind("<Configure>", lambda _event: self._arrange(), add="+")
        self.bind("<Map>", lambda _event: self._paint_later())
        self.repaint()

    @property
    def picture(self) -> Any:
        """The drawing shown, a ``PhotoImage``; None until it is painted."""
        return self._image

    def set_recent(self, recent: tuple[Recent, ...]) -> None:
        """Show the files worked on before, newest first."""
        if recent == self._recent:
            return
        self._recent = recent
        for row in self.rows:
            row.destroy()
        self.rows = [RecentRow(self._list, item, self._on_recent) for item in recent]
        for row in self.rows:
            row.pack(fill="x")
        self._room = 0
        self._arrange()

    def focus_set(self) -> None:
        """Give the first choice the keyboard."""
        self.choices[0].focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self._room = 0
        self._arrange()
        self._paint_later()

    # -- parts -----------------------------------------------------------------------------

    def _build(
        self,
        on_new: Callable[[], Any],
        on_open: Callable[[], Any],
        on_demo: Callable[[], Any],
    ) -> None:
        self._left = Area(self._sheet)
        self._title = Label(self._left, "rigfit", size=_TITLE, bold=True)
        self._purpose = Label(self._left, PURPOSE, size=theme.HEADING)
        self.choices = (
            BigChoice(
                self._left,
                "plus",
                "Start a new boat",
                "Measure as you go; every field says how its reading is taken.",
                on_new,
            ),
            BigChoice(
                self._left,
                "open",
                "Open a job file",
                "Go on with a boat that was saved before.",
                on_open,
            ),
            BigChoice(
                self._left,
                "tilt",
                "Look at the demo",
                "Dunlin, an invented boat, with everything filled in.",
                on_demo,
            ),
        )
        self._right = Area(self._sheet)
        self._drawing = tk.Label(self._right, bd=0, highlightthickness=0)
        self._files = Area(self._right)
        self._heading = Label(self._files, "Worked on before", bold=True)
        self._list = Area(self._files)
        self._foot = Area(self._sheet)
        self._foot_rule = Rule(self._foot)
        self._cautions = [
            Label(self._foot, line, size=theme.SMALL, role="dim") for line in CAUTIONS
        ]
        self._stack()

    def _stack(self) -> None:
        self._title.pack(anchor="w")
        self._purpose.pack(anchor="w")
        space(self._purpose, pady=(theme.GAP, 3 * theme.GAP))
        for choice in self.choices:
            choice.pack(fill="x", pady=(0, theme.GAP))
        self._heading.pack(anchor="w")
        space(self._heading, padx=theme.GAP + theme.RING)
        self._list.pack(fill="x")
        space(self._list, pady=(theme.GAP, 0))
        self._foot_rule.pack(fill="x")
        for place, line in enumerate(self._cautions):
            line.pack(anchor="w")
            space(line, pady=(theme.GAP if not place else 2, 0))

    def _arrange(self) -> None:
        """Lay out in two columns or in one, by the room there is."""
        wide = self.winfo_width() - theme.px(2 * theme.PADDING + BAR_WIDTH)
        if self.winfo_width() <= 1:
            return
        if wide != self._room:
            self._room = wide
            two = wide >= theme.px(_LEFT + _BETWEEN + _RIGHT)
            left = theme.px(_LEFT) if two else min(wide, theme.px(_LEFT + _BETWEEN + _RIGHT))
            left = max(left, theme.px(_NARROWEST))
            right = theme.px(_RIGHT) if two else left
            self._place_parts(left, right, two=two)
        # What is left of the height goes above and below, a little more below.
        spare = self.winfo_height() - self._sheet.winfo_reqheight()
        top = max(theme.px(3 * theme.GAP), spare // 3)
        if (top, theme.px(theme.PADDING)) != self._sheet_pads():
            self._sheet.grid_configure(pady=(top, theme.px(theme.PADDING)))

    def _sheet_pads(self) -> tuple[int, int]:
        pad: Any = self._sheet.grid_info().get("pady", 0)
        return pad if isinstance(pad, tuple) else (pad, pad)

    def _place_parts(self, left: int, right: int, *, two: bool) -> None:
        sheet, between = self._sheet, theme.px(_BETWEEN)
        self._purpose.set_wrap(left)
        for choice in self.choices:
            choice.fit(left)
        for row in self.rows:
            row.fit(right)
        sheet.grid_columnconfigure(0, minsize=left)
        sheet.grid_columnconfigure(1, minsize=between + right if two else 0)
        self._left.grid(row=0, column=0, sticky="new")
        self._place_right(two=two)
        below = theme.px(4 * theme.GAP), 0
        self._foot.grid(row=2, column=0, columnspan=2, sticky="new", pady=below)
        for line in self._cautions:
            line.set_wrap(left + between + right if two else left)

    def _place_right(self, *, two: bool) -> None:
        """Place drawing and recent files beside the choices, or the files alone below them."""
        gap = theme.px(2 * theme.GAP)
        for part in (self._drawing, self._files):
            part.pack_forget()
        if two:
            self._drawing.pack(anchor="w")
        if self.rows:
            self._files.pack(fill="x", pady=(gap if two else 0, 0))
        if two:
            beside = theme.px(_BETWEEN), 0
            self._right.grid(row=0, column=1, sticky="new", padx=beside, pady=0)
        elif self.rows:
            self._right.grid(row=1, column=0, sticky="new", padx=0, pady=(gap, 0))
        else:
            self._right.grid_forget()

    # -- the drawing -----------------------------------------------------------------------

    def _paint_later(self) -> None:
        """Paint the drawing once the screen itself has been seen."""
        wanted = theme.appearance(), theme.scale()
        if self._painted != wanted and not self._job and self.winfo_ismapped():
            self._job = self.after(PAINT_DELAY_MS, self._paint)

    def _paint(self) -> None:
        self._job = ""
        if not self.winfo_ismapped():
            return
        # Only here: the drawing library takes longer to load than the whole window to show.
        from PIL import Image, ImageTk

        self._painted = theme.appearance(), theme.scale()
        pixels = _demo_pixels(theme.px(_PICTURE[0]), theme.px(_PICTURE[1]))
        self._image = ImageTk.PhotoImage(Image.fromarray(pixels, "RGBA"), master=self)
        self._drawing.configure(image=self._image, bg=theme.colour(self.surface))


class BigChoice(Outline):
    """A large button: an icon, what it does, and a line of explanation.

    :param icon: one of ``icons.NAMES``.
    :param command: called on a click, Space or Return.
    """

    def __init__(
        self,
        master: tk.Misc,
        icon: str,
        title: str,
        explanation: str,
        command: Callable[[], Any],
    ) -> None:
        super().__init__(master)
        self._icon, self._command = icon, command
        self._inside = tk.Frame(self, bd=0, highlightthickness=0, takefocus=1)
        self._sign = tk.Label(self._inside, bd=0, highlightthickness=0)
        self._title = Label(self._inside, title, size=theme.HEADING, bold=True)
        self._words = Label(self._inside, explanation, role="dim", size=theme.LABEL)
        self._inside.grid(row=0, column=0, sticky="nsew")
        self.grid_columnconfigure(0, weight=1)
        self._inside.grid_columnconfigure(1, weight=1)
        self._sign.grid(row=0, column=0, rowspan=2)
        self._title.grid(row=0, column=1, sticky="sw")
        self._words.grid(row=1, column=1, sticky="nw")
        self.keys_to: tk.Frame = self._inside
        ring_on_focus(self._inside, self)
        on_keys(self._inside, self.invoke, "space", "Return", "KP_Enter")
        for part in (self._inside, self._sign, self._title, self._words):
            part.bind("<ButtonRelease-1>", lambda _event: self.invoke())
        self._inside.bind("<Enter>", lambda _event: self._hover("hover"))
        self._inside.bind("<Leave>", lambda _event: self._hover("field"))
        self.repaint()

    @property
    def title(self) -> str:
        """What it does."""
        return str(self._title.cget("text"))

    def invoke(self) -> None:
        """Do what it says."""
        self._command()

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self.keys_to.focus_set()

    def fit(self, width: int) -> None:
        """Break its lines so that the whole is no wider than this, screen pixels."""
        taken = theme.px(2 * theme.PADDING + icons.SIZE + theme.PADDING + 2 * theme.RING)
        for line in (self._title, self._words):
            line.set_wrap(max(width - taken, 1))

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        pad, edge = theme.px(theme.PADDING), theme.px(theme.RING) + 1
        self._inside.grid_configure(padx=edge, pady=edge)
        self._sign.configure(image=icons.photo(self._icon, "accent", icons.SIZE))
        self._sign.grid_configure(padx=(pad - edge, pad))
        self._title.grid_configure(padx=(0, pad), pady=(theme.px(10), 0))
        self._words.grid_configure(padx=(0, pad), pady=(theme.px(2), theme.px(10)))
        self._show_ground()

    def _hover(self, role: Any) -> None:
        self.fill(role)
        self._show_ground()

    def _show_ground(self) -> None:
        ground = theme.colour(self.surface)
        for part in (self._inside, self._sign, self._title, self._words):
            tk.Misc.configure(part, bg=ground)  # type: ignore[call-arg]


class RecentRow(tk.Frame):
    """One file worked on before: its name, its folder, and whether it is missing.

    :param on_open: called with its path on a click, Space or Return; never for a missing one.
    """

    def __init__(self, master: tk.Misc, recent: Recent, on_open: Callable[[Path], Any]) -> None:
        super().__init__(master, bd=0)
        self.recent, self._on_open = recent, on_open
        tk.Frame.configure(self, takefocus=1 if recent.is_there else 0)
        role: Any = "accent" if recent.is_there else "off"
        self._name = Label(self, "", bold=recent.is_there, role=role)
        self._folder = Label(self, "", size=theme.SMALL, role="dim" if recent.is_there else "off")
        state = "" if recent.is_there else "missing"
        self._state = Label(self, state, size=theme.SMALL, role="dim")
        self.keys_to = self
        self._name.grid(row=0, column=0, sticky="w")
        self._folder.grid(row=1, column=0, sticky="w")
        self._state.grid(row=0, column=1, rowspan=2)
        self.grid_columnconfigure(0, weight=1)
        self._whole = Tooltip(self, shown_path(recent.path), on_focus=False)
        on_keys(self, self.invoke, "space", "Return", "KP_Enter")
        for part in (self, self._name, self._folder, self._state):
            part.bind("<ButtonRelease-1>", lambda _event: self.invoke())
        self.repaint()
        theme.watch(self)

    def invoke(self) -> None:
        """Open the file, unless it is missing."""
        if self.recent.is_there:
            self._on_open(self.recent.path)

    def fit(self, width: int) -> None:
        """Cut name and folder short where they are wider than the row, screen pixels."""
        room = width - self._state.winfo_reqwidth() - theme.px(4 * theme.GAP)
        path = self.recent.path
        name = theme.fitted(shown_path(Path(path.name)), room, bold=self.recent.is_there)
        self._name.set_text(name)
        self._folder.set_text(theme.fitted(shown_path(path.parent), room, theme.SMALL))

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        panel = theme.colour("panel")
        tk.Frame.configure(
            self,
            bg=panel,
            highlightthickness=theme.px(theme.RING),
            highlightcolor=theme.colour("focus"),
            highlightbackground=panel,
            cursor="hand2" if self.recent.is_there else "",
        )
        side, edge = theme.px(theme.GAP), theme.px(4)
        self._name.grid_configure(padx=side, pady=(edge, 0))
        self._folder.grid_configure(padx=side, pady=(0, edge))
        self._state.grid_configure(padx=(0, side))


def _demo_pixels(width: int, height: int) -> Any:
    """Return the demo's engine at its transom as RGBA pixels, in the colours in force."""
    from rigfit import tasks
    from rigfit.desk.painter import paint
    from rigfit.desk.view import View
    from rigfit.drawing.palette import DARK, LIGHT
    from rigfit.drawing.scene import Scene, Text
    from rigfit.drawing.side_view import side_items
    from rigfit.wording import shown

    report = tasks.check(tasks.demo_job())
    items = side_items(report, _DRAWN_SCALE, shown(report.case.job.units))
    kept = [item for item in items if item.layer in _DRAWN and not isinstance(item, Text)]
    bounds = Scene("", tuple(kept), _DRAWN_SCALE).bounds()
    view = View.fitted(bounds, width, height, margin=theme.px(theme.GAP), ui_scale=theme.scale())
    return paint(kept, view, DARK if theme.appearance() == "dark" else LIGHT)
