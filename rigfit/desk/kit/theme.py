"""The look in force: appearance, scale and letters, and who must be told when they change.

Sizes in the kit are logical pixels, 1/96 in at 100 %. ``px`` turns them into screen pixels for
plain Tk widgets; customtkinter's own widgets do that themselves and take ``font`` and ``border``.
"""

from __future__ import annotations

import subprocess
import sys
import tkinter as tk
from tkinter import font as tkfont
from typing import Any, Protocol
from weakref import WeakSet

import customtkinter as ctk

from rigfit.desk.kit import colours, lettering
from rigfit.desk.kit.colours import Appearance, Role, Theme

UNIT = 8
"""The grid: every distance is a multiple of it, or half of it inside a control."""

GAP, PADDING = UNIT, 2 * UNIT
"""Between neighbours; and between the edge of a panel and what it holds."""

CONTROL, PITCH, MESSAGE = 4 * UNIT, 6 * UNIT, 2 * UNIT
"""Height of a control; of a form row; and of the line kept free under each field."""

RADIUS, CARD_RADIUS, RING = 4, 6, 2
"""Corner radius of controls and of cards, and the width of the focus ring."""

BODY, SMALL, LABEL, HEADING = 14, 12, 13, 16
"""Letter sizes: what is typed and read; units, notes; labels of rows; headings of pages."""

LOWEST_SCALE, HIGHEST_SCALE = 1.0, 3.0

_SYSTEM_WAIT_S = 2.0


class Repainted(Protocol):
    """Whatever must be told when the appearance or the scale has changed."""

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""

    def winfo_exists(self) -> bool:
        """True until the widget is destroyed."""


class _Look:
    """The one look of this process; customtkinter knows only one as well."""

    def __init__(self) -> None:
        self.appearance: Appearance = "light"
        self.scale = 1.0
        self.user_scale = 1.0
        self.root: tk.Tk | None = None
        self.fonts: dict[tuple[int, bool], tkfont.Font] = {}
        self.watchers: WeakSet[Any] = WeakSet()


_look = _Look()


def appearance() -> Appearance:
    """Return the appearance in force."""
    return _look.appearance


def now() -> Theme:
    """Return the colours in force."""
    return colours.THEMES[_look.appearance]


def colour(role: Role) -> str:
    """Return the colour of a role in force, "#rrggbb"."""
    return now()[role]


def scale() -> float:
    """Return how many screen pixels a logical pixel is wide, 1 to 3."""
    return _look.scale


def px(size: float) -> int:
    """Return a logical size in whole screen pixels."""
    return round(size * _look.scale)


def border(width: float = 1.0) -> float:
    """Return a line width for customtkinter that comes out as whole pixels, one at least.

    customtkinter cuts off fractions: a 1-px line would stay 1 px until 200 %.
    """
    return max(1, px(width)) / _look.scale


def watch(widget: Repainted) -> None:
    """Have a widget's ``repaint`` called after every change of the look, while it exists."""
    _look.watchers.add(widget)


def family() -> str:
    """Return the family that everything is written with."""
    return lettering.family()


def font(size: int = BODY, *, bold: bool = False) -> tuple[Any, ...]:
    """Return a font for customtkinter's widgets, which scale it themselves; size in px."""
    return (family(), size, "bold") if bold else (family(), size)


def tk_font(size: int = BODY, *, bold: bool = False) -> str:
    """Return the name of a font for plain Tk widgets; it follows the scale by itself."""
    return _font(size, bold=bold).name


def text_width(text: str, size: int = BODY, *, bold: bool = False) -> int:
    """Return how wide a line of text is, in screen pixels."""
    return _font(size, bold=bold).measure(text)


def line_height(size: int = BODY, *, bold: bool = False) -> int:
    """Return the height of a line of text, in screen pixels."""
    return int(_font(size, bold=bold).metrics("linespace"))


def fitted(text: str, width: int, size: int = BODY, *, bold: bool = False) -> str:
    """Return a text, cut short with "…" where it is wider than ``width`` screen pixels."""
    if text_width(text, size, bold=bold) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + "…", size, bold=bold) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def apply(appearance: Appearance, user_scale: float = 1.0) -> None:
    """Put a look in force while the window is open.

    :param appearance: "light" or "dark"; "system" is never passed on, because customtkinter
        would then ask the system thirty times a second.
    :param user_scale: times what the screen asks for; the product stays within 1 to 3.
    """
    _look.appearance, _look.user_scale = appearance, user_scale
    ctk.ThemeManager.theme = _ctk_theme()
    ctk.set_appearance_mode(appearance)
    if _look.root is not None:
        wanted = clamped_scale(screen_scale(_look.root) * user_scale)
        ctk.set_widget_scaling(wanted / _window_dpi_scale(_look.root))
        tell()


def root() -> tk.Tk | None:
    """Return the root window in use."""
    return _look.root


def prepare(appearance: Appearance, user_scale: float = 1.0) -> None:
    """Put a look in force before there is a root window, or instead of one that is gone."""
    _look.root = None
    apply(appearance, user_scale)


def adopt(root: tk.Tk) -> None:
    """Start afresh with a new root window: earlier fonts and watchers went with their root."""
    _look.root = root
    _look.fonts.clear()
    _look.watchers.clear()
    _look.scale = clamped_scale(screen_scale(root) * _look.user_scale)
    # Set before there is any widget to tell; telling the root would resize it.
    ctk.ScalingTracker.widget_scaling = _look.scale / _window_dpi_scale(root)


def rescale(scale: float) -> None:
    """Take over a scale that customtkinter has found or was given; fonts follow."""
    _look.scale = scale
    for (size, _), item in _look.fonts.items():
        item.configure(size=-px(size))


def tell() -> None:
    """Repaint everything that watches the look."""
    for widget in list(_look.watchers):
        if widget.winfo_exists():
            widget.repaint()


def clamped_scale(scale: float) -> float:
    """Return a scale within 1 to 3, in hundredths."""
    return round(min(HIGHEST_SCALE, max(LOWEST_SCALE, scale)), 2)


def screen_scale(root: tk.Misc) -> float:
    """Return the scale the screen asks for: its pixels per inch over 96."""
    return root.winfo_fpixels("1i") / 96.0


def plain_corners() -> None:
    """Draw corners as circles, for systems that show the round font glyphs at odd places."""
    ctk.DrawEngine.preferred_drawing_method = "circle_shapes"


def system_appearance() -> Appearance:
    """Return what the system is set to, asked once; "light" where it does not tell."""
    stated = _desktop_appearance() if sys.platform.startswith("linux") else None
    return stated or _detected_appearance()


def _desktop_appearance() -> Appearance | None:
    question = ["gsettings", "get", "org.gnome.desktop.interface", "color-scheme"]
    try:
        done = subprocess.run(
            question, capture_output=True, text=True, timeout=_SYSTEM_WAIT_S, check=False
        )
    except (OSError, subprocess.SubprocessError):
        return None
    answers: dict[str, Appearance] = {"'prefer-dark'": "dark", "'prefer-light'": "light"}
    return answers.get(done.stdout.strip())


def _detected_appearance() -> Appearance:
    import darkdetect  # type: ignore[import-untyped] # comes with customtkinter

    return "dark" if darkdetect.theme() == "Dark" else "light"


def _window_dpi_scale(root: tk.Misc) -> float:
    return float(ctk.ScalingTracker.get_window_dpi_scaling(root))


def _font(size: int, *, bold: bool) -> tkfont.Font:
    known = _look.fonts.get((size, bold))
    if known is None:
        name = f"rigfit{size}{'bold' if bold else ''}"
        weight: Any = "bold" if bold else "normal"
        known = tkfont.Font(_look.root, name=name, family=family(), size=-px(size), weight=weight)
        _look.fonts[size, bold] = known
    return known


def _ctk_theme() -> dict[str, dict[str, Any]]:
    def of(role: Role) -> list[str]:
        return list(colours.pair(role))

    clear = "transparent"
    edge = {"corner_radius": RADIUS, "border_width": 1, "border_color": of("border")}
    written = {"text_color": of("text"), "text_color_disabled": of("off")}
    pick = {"fg_color": of("field"), "button_color": of("field"), "button_hover_color": of("hover")}
    bar = {"corner_radius": 1000, "fg_color": clear, "button_color": of("thumb")}
    knob = {"button_color": of("on_accent"), "button_hover_color": of("on_accent")}
    switch = {"button_length": 0, "fg_color": of("border"), "progress_color": of("accent")}
    return {
        "CTk": {"fg_color": of("window")},
        "CTkToplevel": {"fg_color": of("panel")},
        "CTkFrame": {
            **edge,
            "corner_radius": CARD_RADIUS,
            "fg_color": of("panel"),
            "top_fg_color": of("panel"),
            "border_color": of("rule"),
        },
        "CTkButton": {**edge, **written, "fg_color": of("field"), "hover_color": of("hover")},
        "CTkLabel": {**edge, "border_width": 0, "fg_color": clear, "text_color": of("text")},
        "CTkEntry": {
            **edge,
            "fg_color": of("field"),
            "text_color": of("text"),
            "placeholder_text_color": of("dim"),
        },
        "CTkSwitch": {**edge, **written, **switch, **knob, "corner_radius": 1000},
        "CTkProgressBar": {
            **edge,
            "border_width": 0,
            "fg_color": of("rule"),
            "progress_color": of("accent"),
        },
        "CTkOptionMenu": {**edge, **written, **pick},
        "CTkScrollbar": {**bar, "border_spacing": 3, "button_hover_color": of("thumb_hover")},
        "DropdownMenu": {
            "fg_color": of("field"),
            "hover_color": of("selection"),
            "text_color": of("text"),
        },
        "CTkFont": {"family": family(), "size": BODY, "weight": "normal"},
    }
