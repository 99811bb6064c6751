"""Tables of plain text in 80 columns: what reports, lists of holes and the command line share."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from rigfit.rigging.findings import Verdict
from rigfit.wording import MARKS

WIDTH = 80

Paint = Callable[[str, Verdict], str]
"""Wraps a word in the colour of its verdict, or returns it as it is."""


def no_paint(word: str, _verdict: Verdict) -> str:
    """Return the word without colour."""
    return word


def table(
    headings: Sequence[str], rows: Iterable[Sequence[str]], right: str, gap: str = "  "
) -> list[str]:
    """Return an aligned text table.

    :param headings: one per column.
    :param rows: cells as text.
    :param right: one letter per column, "r" to align right, "l" to align left.
    :param gap: what stands between two columns.
    """
    cells = [list(headings), *[list(row) for row in rows]]
    widths = [max(len(row[index]) for row in cells) for index in range(len(headings))]
    lines = []
    for row in cells:
        parts = [
            cell.rjust(width) if side == "r" else cell.ljust(width)
            for cell, width, side in zip(row, widths, right, strict=True)
        ]
        lines.append(gap.join(parts).rstrip())
    lines.insert(1, gap.join("-" * width for width in widths))
    return lines


def verdict_word(verdict: Verdict, paint: Paint) -> str:
    """Return sign and word of a verdict, padded to a column."""
    return paint(f"{MARKS[verdict]} {verdict.value:<7}", verdict)


def verdict_cell(verdict: Verdict) -> str:
    """Return sign and word of a verdict for a table."""
    return f"{MARKS[verdict]} {verdict.value}"


def fitted(headings: Sequence[str], rows: list[list[str]], right: str) -> list[str]:
    """Lay a table out in the width; what does not fit goes below it, numbered, or is closed up.

    The last column holds reasons in words; they move below first, then the gaps get narrower.
    """
    lines = table(headings, rows, right)
    if max(len(line) for line in lines) <= WIDTH:
        return lines
    reasons = list(dict.fromkeys(row[-1] for row in rows if row[-1]))
    short = [[*row[:-1], f"({reasons.index(row[-1]) + 1})" if row[-1] else ""] for row in rows]
    lines = table(headings, short, right)
    if max(len(line) for line in lines) > WIDTH:
        lines = table(headings, short, right, gap=" ")
    return [*lines, *(f"({index + 1}) {reason}" for index, reason in enumerate(reasons))]


def narrow(headings: Sequence[str], rows: list[list[str]], right: str, column: int) -> list[str]:
    """Lay a table out in the width, cutting the words of one column as far as it takes."""
    lines = table(headings, rows, right)
    over = max(len(line) for line in lines) - WIDTH
    if over <= 0:
        return lines
    width = max(max(len(row[column]) for row in rows) - over, 8)
    shorter = [[cut(cell, width) if at == column else cell for at, cell in enumerate(row)]
           for row in rows]  # fmt: skip
    return table(headings, shorter, right)


def cut(words: str, width: int) -> str:
    """Return words cut to a width, three points at the end where something is lost."""
    return words if len(words) <= width else words[: width - 3].rstrip() + "..."


def apart(*blocks: Sequence[str]) -> list[str]:
    """Return blocks of lines below each other with a blank line between, empty ones left out."""
    return [line for block in blocks if block for line in ("", *block)][1:]


def painted(lines: Sequence[str], verdicts: Sequence[Verdict], paint: Paint) -> list[str]:
    """Return a table's lines with the verdict of each row in its colour.

    :param verdicts: of the rows, which follow two lines of heading; lines below them stay.
    """
    found = list(lines)
    for index, verdict in enumerate(verdicts, start=2):
        word = verdict_cell(verdict)
        found[index] = found[index].replace(word, paint(word, verdict), 1)
    return found
