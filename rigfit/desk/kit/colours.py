"""Colours of the form: one per role, for the light and for the dark appearance.

Whatever the drawing also has (text, accent, verdicts) is taken from the drawing's own palette, so
that a chip and the mark beside a dimension can never differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rigfit.drawing import palette
from rigfit.drawing.scene import Ink
from rigfit.rigging.findings import Verdict

Appearance = Literal["light", "dark"]
Role = Literal[
    "window",
    "panel",
    "field",
    "stripe",
    "hover",
    "pressed",
    "selection",
    "text",
    "dim",
    "off",
    "accent",
    "accent_hover",
    "on_accent",
    "focus",
    "border",
    "rule",
    "thumb",
    "thumb_hover",
    "error",
    "ok",
    "warn",
    "unknown",
    "accent_tint",
    "error_tint",
    "ok_tint",
    "warn_tint",
    "unknown_tint",
    "tip",
    "on_tip",
]
"""What a colour is for; the fields of ``Theme``."""


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours of one appearance, each "#rrggbb".

    :param window: behind everything.
    :param panel: the sheet that labels, rows and cards stand on.
    :param field: inside entries, drop-downs and plain buttons.
    :param stripe: every other row of a table.
    :param hover: under the pointer; ``pressed`` while held down or switched on.
    :param selection: behind selected text and the selected row.
    :param text: what is read; ``dim`` for units, help and notes; ``off`` for what cannot be used.
    :param accent: the one accent, and fill of the primary button; ``on_accent`` is text on it.
    :param focus: the 2-px ring around whatever has the keyboard.
    :param border: outline of controls; ``rule`` for hairlines that only divide.
    :param thumb: of scroll bars.
    :param error: ``stops``; ``ok`` is ``fits``, ``warn`` is ``tight``; each with its tint.
    :param tip: behind a tooltip, ``on_tip`` its text.
    """

    window: str
    panel: str
    field: str
    stripe: str
    hover: str
    pressed: str
    selection: str
    text: str
    dim: str
    off: str
    accent: str
    accent_hover: str
    on_accent: str
    focus: str
    border: str
    rule: str
    thumb: str
    thumb_hover: str
    error: str
    ok: str
    warn: str
    unknown: str
    accent_tint: str
    error_tint: str
    ok_tint: str
    warn_tint: str
    unknown_tint: str
    tip: str
    on_tip: str

    def __getitem__(self, role: Role) -> str:
        return str(getattr(self, role))


LIGHT = Theme(
    window="#f4f6f8",
    panel=palette.LIGHT[Ink.PAPER],
    field="#ffffff",
    stripe="#f4f6f8",
    hover="#eaf0f6",
    pressed="#dde7f1",
    selection="#cfe2f5",
    text=palette.LIGHT[Ink.LINE],
    dim=palette.LIGHT[Ink.MUTED],
    off="#75808c",
    accent=palette.LIGHT[Ink.ACCENT],
    accent_hover="#094c90",
    on_accent="#ffffff",
    focus=palette.LIGHT[Ink.ACCENT],
    border="#7b8794",
    rule="#d3dae2",
    thumb="#8b96a3",
    thumb_hover="#5f6b79",
    error=palette.LIGHT[Ink.STOPS],
    ok=palette.LIGHT[Ink.FITS],
    warn=palette.LIGHT[Ink.TIGHT],
    unknown=palette.LIGHT[Ink.UNKNOWN],
    accent_tint="#e4eff9",
    error_tint="#fbeae8",
    ok_tint="#e5f3e9",
    warn_tint="#faf0dc",
    unknown_tint="#eeeaf6",
    tip="#1b2430",
    on_tip="#f4f6f8",
)
"""For the light appearance."""

DARK = Theme(
    window="#16191d",
    panel=palette.DARK[Ink.PAPER],
    field="#171a1f",
    stripe="#23282e",
    hover="#2b323a",
    pressed="#36404b",
    selection="#274a6b",
    text=palette.DARK[Ink.LINE],
    dim=palette.DARK[Ink.MUTED],
    off="#7f8a97",
    accent=palette.DARK[Ink.ACCENT],
    accent_hover="#a3cdf7",
    on_accent="#0e1a26",
    focus=palette.DARK[Ink.ACCENT],
    border="#7f8a97",
    rule="#39414b",
    thumb="#6d7885",
    thumb_hover="#98a4b2",
    error=palette.DARK[Ink.STOPS],
    ok=palette.DARK[Ink.FITS],
    warn=palette.DARK[Ink.TIGHT],
    unknown=palette.DARK[Ink.UNKNOWN],
    accent_tint="#1d3145",
    error_tint="#43251f",
    ok_tint="#1f3427",
    warn_tint="#3a2f17",
    unknown_tint="#2e2842",
    tip="#e8ecf1",
    on_tip="#16191d",
)
"""For the dark appearance."""

THEMES: dict[Appearance, Theme] = {"light": LIGHT, "dark": DARK}
"""Both themes by the name of their appearance."""

SURFACES: tuple[Role, ...] = (
    "window",
    "panel",
    "field",
    "stripe",
    "hover",
    "pressed",
    "accent_tint",
    "error_tint",
    "ok_tint",
    "warn_tint",
    "unknown_tint",
)
"""Roles that anything may be written on; every text role can be read on each of them."""

VERDICT_ROLES: dict[Verdict, tuple[Role, Role]] = {
    Verdict.FITS: ("ok", "ok_tint"),
    Verdict.TIGHT: ("warn", "warn_tint"),
    Verdict.UNKNOWN: ("unknown", "unknown_tint"),
    Verdict.STOPS: ("error", "error_tint"),
}
"""The colour of a verdict and the tint that goes behind it."""


def pair(role: Role) -> tuple[str, str]:
    """Return the colour of a role as customtkinter wants it: (light, dark)."""
    return LIGHT[role], DARK[role]
