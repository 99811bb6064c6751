"""Text copied from a spreadsheet or a CSV file: its lines and cells, before anybody reads them."""

from __future__ import annotations

import csv
import re

from rigfit.errors import EntryError

MOST_ROWS = 2_000
LARGEST_BYTES = 1_000_000
MOST_PROBLEMS = 20
"""Rows with something wrong that are named; those behind them are not looked at."""

LENGTH_UNIT = re.compile(
    r"(?:[(\[]\s*|[\s,_])(mm|cm|m|in|inch|inches)\s*(?:[)\]]|$)", re.IGNORECASE
)
"""The unit in a heading such as "across (mm)", or behind it: "across mm"."""

BARE_NUMBER = re.compile(r"[+\-−]?\s*(?:\d+(?:[.,]\d+)?|[.,]\d+)")
"""A number without a unit; either mark of decimals."""


def lines_of(text: str) -> list[str]:
    """Return the lines that hold anything, at most a heading and ``MOST_ROWS``.

    :raises EntryError: when there are more, or the text is larger than ``LARGEST_BYTES``.
    """
    if len(text.encode("utf-8", "replace")) > LARGEST_BYTES:
        raise EntryError(
            "the text is too large", allowed=f"at most {LARGEST_BYTES // 1_000_000} MB"
        )
    lines = [line for line in re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff")) if line.strip()]
    if len(lines) > MOST_ROWS + 1:
        raise EntryError(
            f"there are {len(lines)} rows", allowed=f"at most {MOST_ROWS} are read at once"
        )
    return lines


def cells_of(line: str, mark: str) -> list[str]:
    """Return the cells of one line, parted by a mark, with single spaces; never raises."""
    try:
        row = next(csv.reader([line], delimiter=mark), [])
    except csv.Error:  # a cell longer than its limit, or a quote that never ends
        row = line.split(mark)
    return [" ".join(cell.split()) for cell in row]
