"""What one row of a repeated table is called in print; keys of tables are no words. No Tk."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

ROW_NAMES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "engine": ("engine", "engines"),
        "hole": ("hole", "holes"),
        "opening": ("opening", "openings"),
        "no_go": ("place inside", "places inside"),
        "obstacle": ("obstacle", "obstacles"),
        "dash": ("cut-out", "cut-outs"),
        "mass": ("load", "loads"),
        "mark": ("mark", "marks"),
        "station": ("section", "sections"),
        "offset": ("offset", "offsets"),
        "trial": ("trial", "trials"),
        "run": ("run", "runs"),
    }
)
"""One and several rows of each repeated table, by its key."""


def row_name(table: str) -> str:
    """Return what one row of a table is called; a table that is not known by its key."""
    return ROW_NAMES.get(table, (table, table))[0]


def one_row(table: str) -> str:
    """Return one row with its article ("an opening")."""
    name = row_name(table)
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def counted_rows(table: str, count: int) -> str:
    """Return a number of rows in words ("2 places inside", "none")."""
    if not count:
        return "none"
    return f"{count:,} {ROW_NAMES.get(table, (table, table))[count != 1]}"
