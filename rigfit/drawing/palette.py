"""Colours: one colour per role of ink, for light and for dark paper."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from rigfit.drawing.scene import Ink

FILLS = frozenset({Ink.HULL, Ink.ENGINE, Ink.COWL, Ink.BAND, Ink.RESERVE, Ink.WATER})
"""Inks that only ever fill an area; all others but ``Ink.PAPER`` draw lines or write text."""

_HEX = re.compile(r"#[0-9a-f]{6}")


@dataclass(frozen=True, slots=True)
class Palette:
    """A set of colours that belong together; read one with ``palette[Ink.LINE]``.

    :param name: "light" or "dark", or a name of the caller's own.
    :param colours: a colour "#rrggbb", lower case, for every ``Ink``.
    :raises ValueError: for a missing ink or a colour not written like that.
    """

    name: str
    colours: Mapping[Ink, str] = field(hash=False)

    def __post_init__(self) -> None:
        for ink in Ink:
            colour = self.colours.get(ink, "")
            if not _HEX.fullmatch(colour):
                raise ValueError(f"palette {self.name}: {ink.value} is {colour!r}, not #rrggbb")
        object.__setattr__(self, "colours", MappingProxyType(dict(self.colours)))

    def __getitem__(self, ink: Ink) -> str:
        return self.colours[ink]

    def __reduce__(self) -> tuple[type[Palette], tuple[str, dict[Ink, str]]]:
        # A read-only mapping cannot be pickled, and palettes travel to worker processes.
        return Palette, (self.name, dict(self.colours))


def luminance(colour: str) -> float:
    """Return the relative luminance (WCAG 2.2) of "#rrggbb": 0 for black, 1 for white."""
    channels = (int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5))
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio (WCAG 2.2) of two colours "#rrggbb", 1 (equal) to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


LIGHT = Palette(
    "light",
    {
        Ink.LINE: "#1b2430",
        Ink.MUTED: "#55606e",
        Ink.ACCENT: "#0b5cad",
        Ink.FITS: "#1a6b35",
        Ink.TIGHT: "#7a4f00",
        Ink.STOPS: "#b3261e",
        Ink.UNKNOWN: "#5f4b8b",
        Ink.PAPER: "#ffffff",
        Ink.HULL: "#eef1f5",
        Ink.ENGINE: "#e3e9f0",
        Ink.COWL: "#d3dce7",
        Ink.BAND: "#dcefe2",
        Ink.RESERVE: "#f9ecd0",
        Ink.WATER: "#dfedf9",
    },
)
"""For white paper and the light desktop."""

DARK = Palette(
    "dark",
    {
        Ink.LINE: "#e8ecf1",
        Ink.MUTED: "#a3afbd",
        Ink.ACCENT: "#7db7f2",
        Ink.FITS: "#86d99c",
        Ink.TIGHT: "#f5c26b",
        Ink.STOPS: "#ffb4ab",
        Ink.UNKNOWN: "#c7b6f2",
        Ink.PAPER: "#1e2227",
        Ink.HULL: "#2a3038",
        Ink.ENGINE: "#2f3741",
        Ink.COWL: "#36404b",
        Ink.BAND: "#213a2b",
        Ink.RESERVE: "#40351d",
        Ink.WATER: "#1d3245",
    },
)
"""For the dark desktop."""
