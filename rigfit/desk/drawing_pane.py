"""The drawing: boat and engine from the side, or another sheet; to look at, point at and drag.

It watches the workbench and shows what it holds. Nothing is painted while it cannot be seen, and
the library that paints is loaded only once the window is there.
"""

from __future__ import annotations

import math
import sys
import tkinter as tk
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from rigfit.desk import mass_drag, pictures
from rigfit.desk.drawing_drag import (
    CURSORS,
    Drag,
    Pointer,
    Target,
    dragged_deg,
    moves,
    turn_callout,
)
from rigfit.desk.drawing_surface import Surface, grip_photo
from rigfit.desk.kit import theme, wheel
from rigfit.desk.kit.base import Area
from rigfit.desk.picture_parts import Picture
from rigfit.desk.swing_pictures import Held, swing_handle
from rigfit.desk.swing_scrub import SWINGS, tilt_range, within
from rigfit.desk.view import View, ref_at
from rigfit.desk.workbench import REPORT, Change, Workbench
from rigfit.drawing.palette import DARK, LIGHT, Palette
from rigfit.drawing.scene import Point, Scene

FIRST_MS, RESIZE_MS, REFIT_MS = 30, 120, 300
"""Waits before the first picture, after a resize, and after an edit before it is fitted again."""

_NOTCH, _STEP = 1.15, 1.25  # enlargement by a notch of the wheel, and by a key
_REACH_PX, _CLICK_PX, _HANDLE_PX = 6.0, 4.0, 24
_NUDGE_PX, _LEAP_PX = 40.0, 160.0


class DrawingPane(Area):
    """The drawing of what a workbench holds.

    :param bench: what to show; heights, tilt and fields are chosen on it.

    ``on_hover`` is called with where the pointer is, in words; "" when it leaves.
    """

    def __init__(self, master: tk.Misc, bench: Workbench) -> None:
        super().__init__(master, surface="panel")
        self.on_hover: Callable[[str], None] = lambda _words: None
        self.bench = bench
        self.canvas = Surface(self)
        self.keys_to: tk.Canvas = self.canvas
        self.canvas.pack(fill="both", expand=True)
        self._view: View | None = None
        self._picture: Picture | None = None
        self._plain: Picture | None = None  # the same, no dimension lit
        self._plain_view: View | None = None  # that of the plain picture
        self._shown = ""  # which of the pictures of the workbench it is
        self._only_turned = False  # since it was painted nothing else has changed
        self._is_free = False  # zoomed or panned by hand
        self._is_dirty, self._must_fit = True, True
        self._jobs: dict[str, str] = {}
        self._drag: Drag | None = None
        self._pointer = Pointer()
        self._holds_space = False
        self._grip: Any = None
        self._scale = theme.scale()
        self._handle = self.canvas.create_image(0, 0, state="hidden", tags="above")
        self._bind_events()
        self._bind_keys()
        self.repaint()
        bench.listen(self._changed)

    # -- what others ask -------------------------------------------------------------------

    @property
    def is_painted(self) -> bool:
        """True once there is a picture, and it is the one the workbench wants."""
        return self._picture is not None and not self._is_dirty

    @property
    def pending(self) -> bool:
        """True while something is still to be painted or fitted later."""
        return bool(self._jobs)

    @property
    def view(self) -> View | None:
        """How the drawing lies in the pane; None before the first picture."""
        return self._view

    @property
    def picture(self) -> Picture | None:
        """What is on show; None before the first picture."""
        return self._picture

    def view_scene(self) -> Scene:
        """Return what is on the screen as a drawing on a sheet as large as the pane.

        It can be asked for at any time; a pane never shown gives a sheet of 900 x 640 px.
        """
        view, picture = self._view, self._picture
        if view is None or picture is None:
            view = pictures.fitted(self.bench, 900, 640, theme.scale())
            picture = pictures.picture_of(self.bench, view)
        return pictures.scene_on_screen(self.bench.boat_name, picture, view)

    def focus_set(self) -> None:
        """Give the drawing the keyboard."""
        self.canvas.focus_set()

    def zoom_in(self) -> None:
        """Enlarge the drawing about its middle."""
        self._zoom(_STEP)

    def zoom_out(self) -> None:
        """Make the drawing smaller about its middle."""
        self._zoom(1.0 / _STEP)

    def zoom_fit(self) -> None:
        """Show the whole drawing, and keep it whole when the pane or the boat changes."""
        self._is_free = False
        self._refresh(fit=True)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.canvas.repaint()
        self._grip = grip_photo(_HANDLE_PX)
        self.canvas.itemconfigure(self._handle, image=self._grip)
        if self._view is not None and self._scale != theme.scale():
            larger = theme.scale() / self._scale
            self._view = replace(self._view, ui_scale=self._view.ui_scale * larger)
            self._must_fit = self._must_fit or not self._is_free
        self._scale = theme.scale()
        if self._picture is not None:
            self._refresh(fit=self._must_fit)

    # -- painting --------------------------------------------------------------------------

    def _changed(self, change: Change) -> None:
        if self._drag is not None and change & (REPORT | Change.LOOK):
            self._end_drag()
        swings = self.bench.look.picture == self._shown and self._shown in SWINGS
        fresh = self._only_turned or not self._is_dirty
        self._only_turned = swings and fresh and change == Change.LOOK
        fit = bool(change & (Change.BOAT | Change.ENGINE))
        if change & Change.LOOK and self._picture is not None:
            fit = fit or self.bench.look.picture != self._shown
        if fit:
            self._is_free = False
        if change & (REPORT | Change.LOOK | Change.FOCUS):
            self._refresh(fit=fit)
        is_inside = self._only_turned and self._shown == "swing"  # of what it sweeps
        grows = change & (Change.TEXTS | Change.ENGINES | Change.LOOK)
        if grows and not self._is_free and not is_inside:
            # An engine put back level gets its full size back; small edits move nothing.
            is_level = bool(change & Change.LOOK) and self.bench.look.tilt_deg == 0.0
            roomy = pictures.SNUG if is_level else pictures.ROOMY
            self._later("refit", REFIT_MS, partial(self._refit, roomy))

    def _refresh(self, *, fit: bool = False) -> None:
        """Paint now where that can be seen, else when it can."""
        self._must_fit = self._must_fit or fit
        self._is_dirty = True
        if self._picture is not None and self.canvas.winfo_viewable():
            self._paint()

    def _paint(self) -> None:
        width, height = self.canvas.winfo_width(), self.canvas.winfo_height()
        if width <= 1 or height <= 1:
            return
        if self._view is None or self._must_fit:
            self._view = pictures.fitted(self.bench, width, height, theme.scale())
        elif (width, height) != (self._view.width, self._view.height):
            self._view = self._view.resized(width, height)
        self._is_dirty, self._must_fit = False, False
        self._shown = self.bench.look.picture
        picture = self._wanted(self._view)
        was_words = self._picture is not None and self._picture.kind == "words"
        if was_words and picture.kind != "words" and not self._is_free:
            # A sentence lies anywhere; the drawing after it is to be seen whole.
            self._view = pictures.fitted(self.bench, width, height, theme.scale())
            picture = self._wanted(self._view)
        self._picture = picture
        self.canvas.show(self._picture, self._view, self._palette())
        self._place_handle()

    def _wanted(self, view: View) -> Picture:
        """Return the picture to show; a height passed before in one drag gives the same object."""
        drag = self._drag
        if drag is not None and drag.option in drag.seen and view == drag.view:
            return drag.seen[drag.option]
        option = drag.option if drag else None
        tilt, steer = self._held()
        picture = None
        is_moved = drag is not None or self._only_turned
        if is_moved and view == self._plain_view and self._plain is not None:
            picture = pictures.moved(self._plain, self.bench, view, option, tilt, steer)
        if picture is None:
            picture = pictures.picture_of(self.bench, view, option, tilt, steer)
        self._plain, self._plain_view, self._only_turned = picture, view, False
        if drag is not None:
            picture = mass_drag.shown_at(picture, self.bench, drag.target.ref, drag.ahead_mm)
        picture = picture.lit(pictures.ref_of(self.bench.focus, self.bench.engine_index))
        if drag is not None and option is not None:
            drag.seen[option] = picture
        return picture

    def _palette(self) -> Palette:
        return DARK if theme.appearance() == "dark" else LIGHT

    def _refit(self, roomy: float = pictures.ROOMY) -> None:
        """Fit again where the drawing has grown out of the pane, or has shrunk in it."""
        if self._is_free or self._view is None or not self.is_painted:
            return
        if self._drag is not None:
            self._later("refit", REFIT_MS, partial(self._refit, roomy))
            return
        better = pictures.wants_fit(self.bench, self._view, theme.scale(), roomy)
        if better is not None:
            self._view = better
            self._refresh()

    def _appeared(self, _event: tk.Event[Any]) -> None:
        if self._is_dirty and "first" not in self._jobs:
            self._later("first", FIRST_MS if self._picture is None else 1, self._first)

    def _first(self) -> None:
        # Everything the window still has to draw of itself comes before the drawing.
        self._jobs["first"] = self.after_idle(self._run, "first", self._paint_if_seen)

    def _paint_if_seen(self) -> None:
        if self.canvas.winfo_viewable():
            is_fitted = self._must_fit
            self._paint()
            if not is_fitted:
                self._refit()

    def _resized(self, _event: tk.Event[Any]) -> None:
        if self._picture is None:
            return
        size = self.canvas.winfo_width(), self.canvas.winfo_height()
        if self._view is not None and size != (self._view.width, self._view.height):
            self._later("resize", RESIZE_MS, lambda: self._refresh(fit=not self._is_free))

    def _later(self, name: str, wait_ms: int, action: Callable[[], None]) -> None:
        if name in self._jobs:
            self.after_cancel(self._jobs[name])
        self._jobs[name] = self.after(wait_ms, self._run, name, action)

    def _run(self, name: str, action: Callable[[], None]) -> None:
        self._jobs.pop(name, None)
        action()

    # -- zooming and panning ---------------------------------------------------------------

    def _zoom(self, factor: float, about: Point | None = None) -> None:
        if self._can_move():
            self._move_to(self._seen().zoomed(factor, about))

    def _pan(self, right: float, down: float) -> None:
        if self._can_move():
            self._move_to(self._seen().panned(right, down))

    def _move_to(self, view: View) -> None:
        if view != self._view:
            self._view, self._is_free = view, True
            self._refresh()

    def _can_move(self) -> bool:
        return self._picture is not None and self._picture.kind != "words" and bool(self._view)

    def _seen(self) -> View:
        view = self._view
        if view is None:
            raise RuntimeError("the drawing has no view before it is painted")
        return view

    # -- events ----------------------------------------------------------------------------

    def _bind_events(self) -> None:
        canvas = self.canvas
        for widget in (self, canvas):
            widget.bind("<Map>", self._appeared, add="+")
        for sequence in ("<Visibility>", "<Expose>"):
            canvas.bind(sequence, self._appeared, add="+")
        canvas.bind("<Configure>", self._resized, add="+")
        canvas.bind("<Motion>", self._moved)
        canvas.bind("<Enter>", self._moved)
        canvas.bind("<Leave>", self._left)
        canvas.bind("<ButtonPress-1>", self._pressed)
        canvas.bind("<ButtonPress-2>", lambda event: self._begin(event, Target("ground")))
        canvas.bind("<Double-ButtonPress-1>", self._double)
        for button in (1, 2):
            canvas.bind(f"<B{button}-Motion>", self._dragged)
            canvas.bind(f"<ButtonRelease-{button}>", self._released)
        canvas.bind("<MouseWheel>", self._wheeled)
        if tk.TkVersion >= 9.0:
            canvas.bind("<TouchpadScroll>", self._stroked)
        elif canvas.tk.call("tk", "windowingsystem") == "x11":
            canvas.bind("<Button-4>", lambda event: self._turned(event, -1.0))
            canvas.bind("<Button-5>", lambda event: self._turned(event, 1.0))
        for sequence in ("<FocusIn>", "<FocusOut>"):
            canvas.bind(sequence, self._focus_moved, add="+")

    def _bind_keys(self) -> None:
        actions: dict[str, Callable[[], None]] = {
            **dict.fromkeys(("plus", "equal", "KP_Add"), self.zoom_in),
            **dict.fromkeys(("minus", "KP_Subtract"), self.zoom_out),
            **dict.fromkeys(("0", "KP_0"), self.zoom_fit),
        }
        # The arrows move what one looks through, so the drawing goes the other way.
        ways = {"Left": (1, 0), "Right": (-1, 0), "Up": (0, 1), "Down": (0, -1)}
        for key, (x, y) in ways.items():
            actions[key] = partial(self._nudge, x * _NUDGE_PX, y * _NUDGE_PX)
            actions[f"Shift-Key-{key}"] = partial(self._nudge, x * _LEAP_PX, y * _LEAP_PX)
        for key, action in actions.items():
            name = key if "Key-" in key else f"Key-{key}"
            self.canvas.bind(f"<{name}>", partial(self._keyed, action))
        # With these held the keys are the window's.
        held = ("Command", "Option") if sys.platform == "darwin" else ("Control", "Alt")
        for modifier in held:
            for key in ("Up", "Down", "Left", "Right", "plus", "equal", "minus", "0"):
                self.canvas.bind(f"<{modifier}-Key-{key}>", lambda _event: None)
        self.canvas.bind("<Key-Escape>", self._escaped)
        self.canvas.bind("<KeyPress-space>", lambda _event: self._hold_space(on=True))
        self.canvas.bind("<KeyRelease-space>", lambda _event: self._hold_space(on=False))

    def _keyed(self, action: Callable[[], None], _event: tk.Event[Any]) -> str:
        action()
        return "break"

    def _nudge(self, right: float, down: float) -> None:
        self._pan(right * theme.scale(), down * theme.scale())

    def _hold_space(self, *, on: bool) -> str:
        self._holds_space = on
        self._show_cursor()
        return "break"

    def _focus_moved(self, _event: tk.Event[Any]) -> None:
        self._holds_space = False
        self._place_handle()

    def _wheeled(self, event: tk.Event[Any]) -> str:
        aqua = tk.TkVersion < 9.0 and self.tk.call("tk", "windowingsystem") == "aqua"
        return self._turned(event, wheel.notches(event.delta, aqua=aqua))

    def _stroked(self, event: tk.Event[Any]) -> str:
        return self._turned(event, wheel.strokes(event.delta))

    def _turned(self, event: tk.Event[Any], notches: float) -> str:
        self._zoom(_NOTCH**-notches, (event.x, event.y))
        return "break"  # or the pane around it would scroll as well

    # -- pointing --------------------------------------------------------------------------

    def _target_at(self, pixel: Point) -> Target:
        picture = self._picture
        if picture is None or picture.kind == "words" or self._view is None:
            return Target("ground")
        handle = self._handle_at()
        if handle is not None and math.dist(handle, pixel) <= theme.px(_HANDLE_PX) / 2.0:
            return Target("tilt")
        view = self._view
        point, reach = view.to_model(pixel), _REACH_PX * view.ui_scale * view.mm_per_px
        if picture.kind in SWINGS and self._is_on_engine(picture, point, reach, view.scene_scale):
            return Target("engine")  # it lies over the well, and is what one has come to turn
        ref = pictures.pointed_at(picture, point, reach, view.scene_scale)
        if ref:
            return Target("mass" if mass_drag.is_handle(picture, ref) else "dimension", ref)
        if picture.moving and self._is_on_engine(picture, point, reach, view.scene_scale):
            return Target("engine")
        return Target("ground")

    def _is_on_engine(self, picture: Picture, point: Point, reach: float, scale: float) -> bool:
        near = ref_at(picture.moving, point, reach, scale)
        return bool(near) or pictures.is_inside(picture.moving, point)

    def _moved(self, event: tk.Event[Any]) -> None:
        if self._drag is None:
            self._point_at((event.x, event.y))

    def _point_at(self, pixel: Point) -> None:
        self._pointer.at = pixel
        self._pointer.target = self._target_at(pixel)
        self._show_cursor()
        self._place_handle()
        self._tell_place(pixel)

    def _tell_place(self, pixel: Point) -> None:
        if self._picture is not None and self._view is not None:
            point = self._view.to_model(pixel)
            self.on_hover(pictures.hover_words(self._picture.kind, point, self.bench.style))

    def _left(self, _event: tk.Event[Any]) -> None:
        self._pointer.at = None
        if self._drag is None:
            self._place_handle()
        self.on_hover("")

    def _show_cursor(self) -> None:
        kind = self._pointer.target.kind
        if kind == "engine" and self._picture is not None:
            kind = moves(self._pointer.target, self._picture, self.bench.look.tilt_deg)
        if kind == "engine" and not self._can_lift():
            kind = "ground"
        cursor = "fleur" if self._holds_space else CURSORS[kind]
        if self._drag is not None and self._drag.moved and self._drag.kind == "ground":
            cursor = "fleur"
        if str(self.canvas.cget("cursor")) != cursor:
            self.canvas.configure(cursor=cursor)

    def _handle_at(self) -> Point | None:
        """Return the pixel of the handle that tilts the engine; None where nothing tilts."""
        report, view = self.bench.report, self._view
        if self._picture is None or report is None or view is None:
            return None
        tilt, kind = self._held()[0], self._picture.kind
        if kind == "swing":
            return view.to_screen(swing_handle(report, tilt))
        if kind != "profile" or report.case.engine.tilt_deg <= 0.0:
            return None
        return view.to_screen(pictures.tilt_handle(report, tilt))

    def _held(self) -> Held:
        """Return tilt and steering of the engine as it is drawn or dragged."""
        drag, look, report = self._drag, self.bench.look, self.bench.report
        tilt, steer = look.tilt_deg, look.steer_deg
        if drag is not None:
            tilt = tilt if drag.tilt_deg is None else drag.tilt_deg
            steer = steer if drag.steer_deg is None else drag.steer_deg
        ends = tilt_range(report, look.picture) if report else (0.0, 0.0)
        return within(tilt, ends), steer

    def _place_handle(self) -> None:
        at = self._handle_at()
        drag = self._drag
        is_wanted = self._pointer.at is not None or self._has_keyboard()
        if drag is not None:
            is_wanted = drag.kind == "tilt"
        if at is None or not is_wanted:
            self.canvas.itemconfigure(self._handle, state="hidden")
        else:
            self.canvas.coords(self._handle, *at)
            self.canvas.itemconfigure(self._handle, state="normal")

    def _has_keyboard(self) -> bool:
        try:
            return self.focus_get() is self.canvas
        except KeyError:  # a menu of Tk's own, whose name tkinter does not know
            return False

    # -- dragging --------------------------------------------------------------------------

    def _can_lift(self) -> bool:
        options = self.bench.options
        return self.bench.report is not None and sum(item.is_possible for item in options) > 1

    def _pressed(self, event: tk.Event[Any]) -> None:
        self.canvas.focus_set()
        target = self._target_at((event.x, event.y))
        self._begin(event, Target("ground") if self._holds_space else target)

    def _begin(self, event: tk.Event[Any], target: Target) -> None:
        if self._view is None or self._picture is None:
            return
        kind = moves(target, self._picture, self.bench.look.tilt_deg)
        self._drag = Drag(target, (float(event.x), float(event.y)), self._view, kind)

    def _dragged(self, event: tk.Event[Any]) -> None:
        drag = self._drag
        if drag is None:
            return
        pixel = (float(event.x), float(event.y))
        if not drag.moved:
            if math.dist(pixel, drag.start) < _CLICK_PX * theme.scale():
                return
            drag.moved = True
            self._show_cursor()
        if drag.kind == "engine":
            self._drag_engine(drag, pixel)
        elif drag.kind in ("tilt", "steer"):
            self._drag_round(drag, pixel)
        elif drag.kind == "mass":
            self._drag_mass(drag, pixel)
        elif self._can_move():
            dx, dy = pixel[0] - drag.start[0], pixel[1] - drag.start[1]
            self._move_to(drag.view.panned(dx, dy))

    def _drag_engine(self, drag: Drag, pixel: Point) -> None:
        report = self.bench.report
        if report is None or not self._can_lift():
            return
        up = (drag.start[1] - pixel[1]) * self._seen().mm_per_px
        option = pictures.dragged_option(report, up)
        if option is None:
            return
        if option != drag.option:
            drag.option = option
            self._refresh()
        self.canvas.callout.show(pictures.height_callout(option, self.bench.style), pixel)

    def _drag_round(self, drag: Drag, pixel: Point) -> None:
        report = self.bench.report
        if report is None:
            return
        angle = dragged_deg(drag, self.bench, report, pixel)
        if angle != (drag.tilt_deg if drag.kind == "tilt" else drag.steer_deg):
            if drag.kind == "tilt":
                drag.tilt_deg = angle
            else:
                drag.steer_deg = angle
            self._refresh()
        self.canvas.callout.show(turn_callout(self.bench, report, self._held()), pixel)

    def _drag_mass(self, drag: Drag, pixel: Point) -> None:
        aft = (pixel[0] - drag.start[0]) * self._seen().mm_per_px
        drag.ahead_mm = mass_drag.dragged(self.bench, drag.target.ref, aft)
        self._refresh()
        self.canvas.callout.show(mass_drag.callout(drag.ahead_mm, self.bench.style), pixel)

    def _released(self, event: tk.Event[Any]) -> None:
        drag = self._end_drag()
        if drag is None:
            return
        if not drag.moved:
            self._click(drag.target)
        elif drag.option is not None:
            report = self.bench.report
            if report is not None and drag.option != report.mounted:
                self.bench.choose(drag.option)
        elif drag.tilt_deg is not None:
            self.bench.set_tilt(drag.tilt_deg)
        elif drag.steer_deg is not None:
            self.bench.set_steer(drag.steer_deg)
        elif drag.ahead_mm is not None:
            mass_drag.put(self.bench, drag.target.ref, drag.ahead_mm)
        if self._is_dirty:
            self._refresh()
        self._point_at((event.x, event.y))

    def _click(self, target: Target) -> None:
        if target.ref:
            address = pictures.address_of(target.ref, self.bench.engine_index)
            if address is not None:
                self.bench.go_to(address)

    def _double(self, event: tk.Event[Any]) -> None:
        if self._target_at((event.x, event.y)).kind == "ground":
            self.zoom_fit()

    def _escaped(self, _event: tk.Event[Any]) -> str | None:
        drag = self._end_drag()
        if drag is None:
            return None
        if drag.kind == "ground" and drag.moved:
            self._move_to(drag.view)
        self._refresh()
        return "break"

    def _end_drag(self) -> Drag | None:
        drag, self._drag = self._drag, None
        self.canvas.callout.hide()
        if drag is not None and drag.has_moved:
            self._is_dirty = True
        self._show_cursor()
        return drag
