"""Buttons, all reachable by Tab, with a ring for the keyboard, fired by Space or Return."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any, Literal

import customtkinter as ctk

from rigfit.desk.kit import colours, icons, theme
from rigfit.desk.kit.base import ExactSize, on_keys, surface_of
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.tooltip import Tooltip

Style = Literal["primary", "plain", "ghost"]
"""Filled with the accent (one a screen), outlined, or bare until the pointer is over it."""

_SIDE = 12
_ICON_GAP = 6
_RING_INSET = 3


class Button(ExactSize, ctk.CTkButton):  # type: ignore[misc] # customtkinter is untyped
    """A button with words, an icon, or both.

    :param text: what it does, a verb first; "" with an icon alone.
    :param command: called without arguments on a click, Space or Return.
    :param style: how much it stands out.
    :param icon: one of ``icons.NAMES``, or "".
    :param width: least width in logical px; 0 for as wide as text and icon ask for.
    """

    def __init__(
        self,
        master: tk.Misc,
        text: str,
        command: Callable[[], Any],
        *,
        style: Style = "plain",
        icon: str = "",
        width: int = 0,
    ) -> None:
        self._style, self._icon_name, self._least = style, icon, width
        self._words, self._is_on, self._has_keys = text, False, False
        self._outside = surface_of(master)
        super().__init__(
            master,
            text=text,
            command=command,
            height=theme.CONTROL,
            width=self._wanted_width(),
            font=theme.font(bold=style == "primary"),
            image=self._drawn_icon(),
            corner_radius=theme.RADIUS,
            border_spacing=2,
            bg_color=colours.pair(self._outside),
            **self._colours(),
        )
        self.keys_to: tk.Canvas = self._canvas
        """The widget inside that has the keyboard; Tab stops there."""
        self._take_keys()
        theme.watch(self)

    @property
    def words(self) -> str:
        """The text on the button."""
        return self._words

    @property
    def icon_name(self) -> str:
        """The icon on the button, "" for none."""
        return self._icon_name

    def set_text(self, text: str) -> None:
        """Show another text; the width follows."""
        self._words = text
        self.configure(text=text, width=self._wanted_width())

    def set_icon(self, icon: str) -> None:
        """Show another icon."""
        self._icon_name = icon
        self.configure(image=self._drawn_icon(), width=self._wanted_width())

    def set_enabled(self, enabled: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Let it be pressed, or grey it out and let Tab pass it by."""
        self.configure(state="normal" if enabled else "disabled")
        self.configure(image=self._drawn_icon())
        self.keys_to.configure(takefocus=enabled)

    def set_on(self, on: bool) -> None:  # noqa: FBT001 - a setter of one truth
        """Show it as switched on (a tool in use)."""
        self._is_on = on
        self._show()

    @property
    def is_enabled(self) -> bool:
        """True while it can be pressed."""
        return bool(self.cget("state") == "normal")

    def focus_set(self) -> None:
        """Give it the keyboard."""
        self.keys_to.focus_set()

    def repaint(self) -> None:
        """Take sizes, icon and line widths from the theme again."""
        look = self._colours()
        self.configure(width=self._wanted_width(), image=self._drawn_icon(), **look)

    def _take_keys(self) -> None:
        self.keys_to.configure(takefocus=1)
        on_keys(self.keys_to, self.invoke, "space", "Return", "KP_Enter")
        self.keys_to.bind("<FocusIn>", lambda _event: self._ring(True), add="+")  # noqa: FBT003
        self.keys_to.bind("<FocusOut>", lambda _event: self._ring(False), add="+")  # noqa: FBT003

    def _ring(self, on: bool) -> None:  # noqa: FBT001
        self._has_keys = on
        self._show()

    def _show(self) -> None:
        self.configure(**self._colours())

    def _draw(self, no_color_updates: bool = False) -> None:  # noqa: FBT001, FBT002 - theirs
        super()._draw(no_color_updates)
        self._draw_inner_ring()

    def _draw_inner_ring(self) -> None:
        # On the filled button a ring of the same accent could not be seen.
        if self._style != "primary" or not self._has_keys:
            self._canvas.delete("inner_ring")
            return
        inset, width = theme.px(_RING_INSET), max(1, theme.px(1.5))
        right, bottom = self.winfo_width() - inset - 1, self.winfo_height() - inset - 1
        if not self._canvas.find_withtag("inner_ring"):
            self._canvas.create_rectangle(0, 0, 0, 0, tags="inner_ring")
        self._canvas.coords("inner_ring", inset, inset, right, bottom)
        self._canvas.itemconfigure("inner_ring", outline=theme.colour("on_accent"), width=width)
        self._canvas.tag_raise("inner_ring")

    def _colours(self) -> dict[str, Any]:
        line, width = self._line()
        fill, over, words = self._fill()
        return {
            "fg_color": colours.pair(fill),
            "hover_color": colours.pair(over),
            "border_color": colours.pair(line),
            "border_width": theme.border(width) if width else 0,
            "text_color": colours.pair(words),
            "text_color_disabled": colours.pair("off"),
        }

    def _line(self) -> tuple[Role, int]:
        if self._has_keys:
            return "focus", theme.RING
        if self._style == "plain" or self._is_on:
            return ("focus" if self._is_on else "border"), 1
        return self._outside, 0

    def _fill(self) -> tuple[Role, Role, Role]:
        if self._style == "primary":
            return "accent", "accent_hover", "on_accent"
        if self._is_on:
            return "accent_tint", "pressed", "accent"
        return ("field" if self._style == "plain" else self._outside), "hover", "text"

    def _drawn_icon(self) -> Any:
        if not self._icon_name:
            return None
        disabled = getattr(self, "_state", "normal") == "disabled"
        return icons.icon(self._icon_name, "off" if disabled else self._fill()[2])

    def _wanted_width(self) -> int:
        if not self._words:
            return max(self._least, theme.CONTROL)
        bold = self._style == "primary"
        text = round(theme.text_width(self._words, bold=bold) / theme.scale())
        image = icons.SIZE + _ICON_GAP if self._icon_name else 0
        wanted = text + image + 2 * _SIDE
        return max(self._least, -(-wanted // 4) * 4)


class IconButton(Button):
    """A bare square button with an icon; its words are in its tooltip.

    :param icon: one of ``icons.NAMES``.
    :param tip: what it does and, in brackets, its keys.
    """

    def __init__(
        self,
        master: tk.Misc,
        icon: str,
        tip: str,
        command: Callable[[], Any],
        *,
        style: Style = "ghost",
    ) -> None:
        super().__init__(master, "", command, style=style, icon=icon)
        self.tip = Tooltip(self.keys_to, tip)
        self.tip.also(self._image_label)
