"""What the other widgets stand on: surfaces, text, hairlines, and the outline with its ring."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any, Literal

import customtkinter as ctk

from rigfit.desk.kit import colours, theme
from rigfit.desk.kit.colours import Role

_CtkAppearance: Any = ctk.windows.widgets.appearance_mode.CTkAppearanceModeBaseClass

Anchor = Literal["w", "center", "e", "nw"]


def surface_of(widget: Any) -> Role:
    """Return the role of the colour a widget stands on: its own or its nearest master's."""
    while widget is not None:
        role: Role | None = getattr(widget, "surface", None)
        if role is not None:
            return role
        widget = widget.master
    return "window"


class Area(tk.Frame):
    """A flat frame that keeps to the theme; the cheap one, for laying out.

    :param surface: role of its colour; None takes over the master's.
    """

    def __init__(self, master: tk.Misc, surface: Role | None = None) -> None:
        self.surface: Role = surface or surface_of(master)
        super().__init__(master, bg=theme.colour(self.surface), bd=0, highlightthickness=0)
        theme.watch(self)

    def repaint(self) -> None:
        """Take the colour from the theme again."""
        # Not self.configure: customtkinter children put a wrapper around their master's.
        tk.Frame.configure(self, bg=theme.colour(self.surface))


class Label(tk.Label):
    """A line (or, with ``wrap``, a paragraph) of text.

    :param role: role of its colour.
    :param size: letter size in logical px.
    :param wrap: width in logical px at which lines break; 0 for one line.
    """

    def __init__(
        self,
        master: tk.Misc,
        text: str = "",
        *,
        role: Role = "text",
        size: int = theme.BODY,
        bold: bool = False,
        wrap: int = 0,
        anchor: Anchor = "w",
    ) -> None:
        self.role: Role = role
        self._size, self._bold, self._wrap = size, bold, wrap
        font = theme.tk_font(size, bold=bold)
        super().__init__(master, text=text, font=font, anchor=anchor, justify="left")
        tk.Label.configure(self, bd=0, padx=0, pady=0, highlightthickness=0)
        self.repaint()
        theme.watch(self)

    def set_text(self, text: str) -> None:
        """Show another text."""
        tk.Label.configure(self, text=text)

    def set_role(self, role: Role) -> None:
        """Write in the colour of another role."""
        self.role = role
        self.repaint()

    def set_wrap(self, width: int) -> None:
        """Break lines at another width, in screen pixels; it lasts until the scale changes."""
        tk.Label.configure(self, wraplength=width)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        background = theme.colour(surface_of(self.master))
        tk.Label.configure(self, fg=theme.colour(self.role), bg=background)
        if self._wrap:
            tk.Label.configure(self, wraplength=theme.px(self._wrap))


class Rule(tk.Frame):
    """A hairline that divides; pack or grid it to fill one direction."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master, bd=0, highlightthickness=0)
        self.repaint()
        theme.watch(self)

    def repaint(self) -> None:
        """Take colour and width from the theme again."""
        width = max(1, theme.px(1))
        tk.Frame.configure(self, bg=theme.colour("rule"), height=width, width=width)


class ExactSize:
    """Makes customtkinter draw in whole screen pixels, to the last row and column.

    It cuts sizes down to even numbers, and to whole numbers before scaling; at 150 % that left
    a strip of another colour beside outlines.
    """

    _draw_engine: Any
    _current_width: float
    _current_height: float
    _draw: Any
    _get_widget_scaling: Any

    def _apply_widget_scaling(self, value: float) -> int:
        return round(value * float(self._get_widget_scaling()))

    def _update_dimensions_event(self, event: Any) -> None:
        scaling = float(self._get_widget_scaling())
        size = event.width / scaling, event.height / scaling
        if size != (self._current_width, self._current_height):
            self._current_width, self._current_height = size
            self._draw_engine.set_round_to_even_numbers(False, False)  # noqa: FBT003 - theirs
            self._draw(no_color_updates=True)

    def _set_appearance_mode(self, mode: str) -> None:
        # Theirs lets the whole window be painted after each single widget.
        _CtkAppearance._set_appearance_mode(self, mode)
        self._draw()


class Card(ExactSize, ctk.CTkFrame):  # type: ignore[misc] # customtkinter is untyped
    """A sheet with a hairline around it; put an ``Area`` inside with ``theme.PADDING``."""

    surface: Role = "panel"

    def __init__(self, master: tk.Misc, *, radius: int = theme.CARD_RADIUS) -> None:
        super().__init__(
            master,
            width=0,
            height=0,
            corner_radius=radius,
            border_width=theme.border(),
            border_color=colours.pair("rule"),
            bg_color=colours.pair(surface_of(master)),
            fg_color=colours.pair(self.surface),
        )
        theme.watch(self)

    def repaint(self) -> None:
        """Take the line width from the theme again."""
        self.configure(border_width=theme.border())


class Outline(ExactSize, ctk.CTkFrame):  # type: ignore[misc] # customtkinter is untyped
    """The outline of a control, which turns into the focus ring or the mark of an error.

    :param fill: role of the colour inside.
    :param line: role of the line when nothing is the matter; "" for no line then.
    """

    def __init__(
        self,
        master: tk.Misc,
        *,
        fill: Role = "field",
        line: Role | Literal[""] = "border",
        width: int = 0,
        height: int = theme.CONTROL,
    ) -> None:
        self.surface: Role = fill
        self._outside = surface_of(master)
        self.line: Role | Literal[""] = line
        self.alert: Role | Literal[""] = ""
        self._alert_width = theme.RING
        self.has_ring = False
        self._drawn = line or self._outside, theme.border()
        super().__init__(
            master,
            width=width,
            height=height,
            corner_radius=theme.RADIUS,
            border_width=theme.border(),
            border_color=colours.pair(line or self._outside),
            bg_color=colours.pair(self._outside),
            fg_color=colours.pair(fill),
        )
        theme.watch(self)

    def ring(self, on: bool) -> None:  # noqa: FBT001 - on or off is all there is to say
        """Show or hide the focus ring."""
        if on != self.has_ring:
            self.has_ring = on
            self._show_line()

    def warn(self, role: Role | Literal[""], width: int = theme.RING) -> None:
        """Draw the line in the colour of an alert, some px wide; "" takes that back."""
        self.alert, self._alert_width = role, width
        self._show_line()

    def fill(self, role: Role) -> None:
        """Fill with the colour of another role."""
        if role != self.surface:
            self.surface = role
            self.configure(fg_color=colours.pair(role))
            self._show_line()

    def repaint(self) -> None:
        """Take the line width from the theme again."""
        self._show_line()

    def _show_line(self) -> None:
        role: Role = self.line or self.surface
        if self.has_ring:
            role = "focus"
        elif self.alert:
            role = self.alert
        width = theme.RING if self.has_ring else self._alert_width if self.alert else 1
        # Drawing one costs a millisecond, and a form has sixty.
        if self._drawn != (role, theme.border(width)):
            self._drawn = role, theme.border(width)
            self.configure(border_color=colours.pair(role), border_width=self._drawn[1])


def on_keys(widget: tk.Misc, action: Callable[[], Any], *keys: str) -> None:
    """Run an action on some keys ("space", "Return"), and let nobody else have them."""

    def pressed(_event: tk.Event[Any]) -> str:
        action()
        return "break"

    for key in keys:
        widget.bind(f"<{key}>", pressed)


def ring_on_focus(widget: tk.Misc, outline: Outline) -> None:
    """Show the ring of an outline while a widget inside it has the keyboard."""
    widget.bind("<FocusIn>", lambda _event: outline.ring(True), add="+")  # noqa: FBT003
    widget.bind("<FocusOut>", lambda _event: outline.ring(False), add="+")  # noqa: FBT003


class _Spacing:
    """Distances around one widget, put on again when the scale has changed."""

    def __init__(self, widget: tk.Misc, pads: dict[str, float | tuple[float, float]]) -> None:
        self._widget, self._pads = widget, pads
        theme.watch(self)
        self.repaint()

    def winfo_exists(self) -> bool:
        return self._widget.winfo_exists()

    def repaint(self) -> None:
        manager = self._widget.winfo_manager()
        if manager in ("pack", "grid"):
            for name, size in self._pads.items():
                pair = size if isinstance(size, tuple) else (size, size)
                raw = f"{theme.px(pair[0])} {theme.px(pair[1])}"
                self._widget.tk.call(manager, "configure", str(self._widget), f"-{name}", raw)


def space(
    widget: tk.Misc,
    *,
    padx: float | tuple[float, float] = 0,
    pady: float | tuple[float, float] = 0,
) -> None:
    """Keep distances, in logical px, around a widget that has been packed or gridded.

    For plain Tk widgets and ``Area``, whose own ``padx`` would be screen pixels for ever.
    """
    widget.spacing = _Spacing(widget, {"padx": padx, "pady": pady})  # type: ignore[attr-defined]


def style_menu(menu: tk.Menu, border: int = 4) -> None:
    """Give a menu of Tk's the colours and letters in force.

    :param border: around the entry under the pointer, logical px.
    """
    menu.configure(
        bg=theme.colour("hover"),
        fg=theme.colour("text"),
        disabledforeground=theme.colour("off"),
        activebackground=theme.colour("selection"),
        activeforeground=theme.colour("text"),
        activeborderwidth=theme.px(border),
        font=theme.tk_font(),
    )
