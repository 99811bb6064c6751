"""What one row of a repeated table is called in print; keys of tables are no words. No Tk."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from rigfit.desk.draft import FIELDS, Address, Draft

ROW_NAMES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "engine": ("engine", "engines"),
        "hole": ("hole", "holes"),
        "opening": ("opening", "openings"),
        "no_go": ("place inside", "places inside"),
        "obstacle": ("obstacle", "obstacles"),
        "dash": ("cut-out", "cut-outs"),
        "wire": ("conductor", "conductors"),
        "cable": ("cable", "cables"),
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


def named_row(draft: Draft, table: str, words: str) -> int:
    """Return which row of a repeated table words speak of, by the longest name in them; else 0.

    A row without a name goes by its kind, and by that with its number.
    """
    there = {name for name, _ in FIELDS[table]}
    found: list[tuple[int, int]] = []
    for index in range(len(draft.rows(table))):
        name, kind = (
            draft.text(Address(table, field, index)).strip() if field in there else ""
            for field in ("name", "kind")
        )
        names = [name] if name else [kind, f"{kind} {index + 1}"] if kind else []
        lengths = [len(item) for item in names if item.lower() in words.lower()]
        found += [(-max(lengths), index)] if lengths else []
    return min(found, default=(0, 0))[1]


def runs_of(draft: Draft, trial: int) -> tuple[int, ...]:
    """Return which runs name a trial by its id; () where another has the same id, or it has none.

    :param trial: its row, from 0.
    """
    ids = [draft.text(Address("trial", "id", at)).strip() for at in range(len(draft.rows("trial")))]
    if not ids[trial] or ids.count(ids[trial]) > 1:
        return ()
    runs = range(len(draft.rows("run")))
    names = (draft.text(Address("run", "trial", at)).strip() for at in runs)
    return tuple(at for at, name in enumerate(names) if name == ids[trial])
