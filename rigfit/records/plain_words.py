"""How the readers of files show what they found, name places and suggest the nearest word."""

from __future__ import annotations

import datetime
import difflib
import re
from collections.abc import Iterable
from pathlib import Path

_ECHOED = 40
_MANY = 16


def visible(text: str, most: int = 120) -> str:
    """Return ``text`` on one line, cut to ``most`` characters, without anything unprintable.

    File names and file contents may hold line ends, terminal codes or half characters; an error
    sentence must not.
    """
    cut = text if len(text) <= most else f"{text[: most - 1]}…"
    return "".join(char if char.isprintable() else "�" for char in cut)


def echo(value: object) -> str:
    """Return a value from a TOML file the way an error sentence shows it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{visible(value, _ECHOED)}"'
    if isinstance(value, int):
        # Python refuses to print whole numbers of thousands of digits.
        return str(value) if value.bit_length() < 128 else "a whole number of very many digits"
    if isinstance(value, float):
        return repr(value)
    return toml_kind(value)


def described(value: object) -> str:
    """Return a clause that says what a TOML value is ("3 is a whole number", "this is a list")."""
    plain = isinstance(value, str | int | float) and not isinstance(value, bool)
    return f"{echo(value)} is {toml_kind(value)}" if plain else f"this is {echo(value)}"


def toml_kind(value: object) -> str:
    """Return what a TOML value is, in plain words ("a list")."""
    if isinstance(value, bool):
        return "true or false"
    for kinds, words in (
        (str, "text"),
        (int, "a whole number"),
        (float, "a number"),
        (list, "a list"),
        (dict, "a table"),
        ((datetime.date, datetime.time), "a date or time"),
    ):
        if isinstance(value, kinds):
            return words
    return "a value of another kind"


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a cure that names the known word most like ``word``, or "" when none is alike."""
    near = difflib.get_close_matches(word[:_ECHOED].casefold(), list(known), n=1)
    return f'write "{near[0]}" if that is meant' if near else ""


def listed(words: Iterable[str]) -> str:
    """Return words as a list for a sentence, the rest counted where there are very many."""
    every = list(words)
    if len(every) <= _MANY:
        return ", ".join(every)
    return ", ".join(every[:_MANY]) + f" and {len(every) - _MANY} more"


def shown_path(path: Path) -> str:
    """Return a path as the user gave it, safe to print."""
    return visible(str(path), 300)


def line_of(text: str, number: int) -> str:
    """Return the line of that number (from 1) without the spaces round it, or ""."""
    lines = re.split(r"\r\n|\n", text)
    return lines[number - 1].strip() if 0 < number <= len(lines) else ""
