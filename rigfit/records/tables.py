"""Tables as CSV that a spreadsheet shows and never runs."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

# A spreadsheet takes a cell that begins with one of these for a formula; the wide forms too.
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?")

Cell = str | int | float | None


def to_csv(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Return a comma-separated table with CRLF line ends, as spreadsheets expect it.

    Numbers stay numbers and None is an empty cell. Text that a spreadsheet would run as a formula
    gets an apostrophe in front, so that a name typed by somebody else stays a name.

    :raises ValueError: when a row is not as long as the headings.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_safe(heading) for heading in headings])
    for row in rows:
        if len(row) != len(headings):
            raise ValueError(f"a row of {len(row)} cells under {len(headings)} headings")
        writer.writerow([_safe(cell) for cell in row])
    return out.getvalue()


def _safe(cell: Cell) -> Cell:
    if not isinstance(cell, str) or _NUMBER.fullmatch(cell.strip()):
        return cell
    # Leading spaces are ignored by some spreadsheets before they look for the sign.
    if cell.lstrip(" \u00a0").startswith(_STARTS):
        return f"'{cell}"
    return cell
