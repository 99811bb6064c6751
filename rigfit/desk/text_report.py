"""Everything in the form as plain text in 80 columns, and the page of keys. No Tk.

For copying, for mail, and for screen readers, which find nothing in drawn widgets: every input
with what was understood, every finding with its working, the heights, and the other engines.
"""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterator, Sequence

from rigfit.desk.actions import keys_page
from rigfit.desk.draft import FIELDS, LIST_FIELDS
from rigfit.desk.form_state import Address, Derived, echo
from rigfit.desk.row_names import row_name
from rigfit.plain_report import WIDTH, caution_lines, report_lines, shortlist_lines
from rigfit.rigging.job import GROUPS, LISTS
from rigfit.rigging.readings import Origin
from rigfit.wording import MARKS, shown

_ASCII = str.maketrans({"±": "+/-", "×": "x", "−": "-", "–": "-", "’": "'", "“": '"', "”": '"'})

_USING = (
    "Tab goes on to the next control, Shift+Tab back. What has the keyboard has a ring around it.",
    "F2 to F5 go to the measurements, the drawing, the findings and the heights, wherever you are.",
    "Start a boat, then go down the measurements with Tab and type each with its unit. The line "
    "under a field says at once what is wrong with it; nothing has to be confirmed.",
    "Go to the findings and walk down them, worst first. Return opens one: it says what would "
    "settle it, and Tab then reaches links to the fields that decide it.",
    "Go to the heights, pick one with Up and Down and choose it with Return.",
    "The report as plain text holds everything the form knows, for a screen reader as well.",
)
_PLACES: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "In a field",
        (
            ("Up, Down", "One step more or less; with Shift ten times as much."),
            ("F1", "How to measure it, with a picture."),
            ("Return", "Take over what was typed; Tab does so too."),
            ("Esc", "Take back what was typed since the field was entered."),
            ("Space, Alt+Down", "Open a list of choices; Up and Down step through it."),
            ("Space, Return", "Fold a section away on its heading, or open it."),
        ),
    ),
    (
        "In the list of findings",
        (
            ("Up, Down", "Go to the finding before or after."),
            ("Home, End", "Go to the first or the last."),
            ("Return, Space", "Open a finding, or fold it."),
            ("Right, Left", "Open it; fold it."),
            ("Tab", "Go through the links of the open ones; Return follows a link."),
            ("Space", "On a verdict above the list: show only its findings, or all again."),
        ),
    ),
    (
        "In a table",
        (
            ("Up, Down", "Pick a row."),
            (
                "Return",
                "In the heights: choose the picked height; in the reuse of old holes: hang the "
                "engine there.",
            ),
            ("O", "In the heights: draw the picked height besides, or stop drawing it."),
            ("Left, Right", "Choose the column to sort by."),
            ("Space", "Turn the order round; in the circles of a drawing: tick one, or leave it."),
            ("Ctrl+C", "Copy the picked row."),
        ),
    ),
    (
        "In the drawing",
        (
            ("Arrows", "Move the drawing."),
            ("+, -", "Enlarge it; make it smaller."),
            ("0", "Show all of it."),
            (
                "Drag",
                "Move the drawing, the engine up and down its bolt rows, or a load fore and aft.",
            ),
        ),
    ),
    (
        "In a page of text",
        (
            ("Arrows, Page Up, Page Down", "Move in it; with Shift select."),
            ("Ctrl+A, Ctrl+C", "Select all; copy."),
            ("Esc", "Close the page."),
        ),
    ),
)


# The report -----------------------------------------------------------------------------------


def whole_text(derived: Derived) -> str:
    """Return everything the form knows about a boat, for the engine the report is on.

    Whatever is typed, it returns a text; lines are at most 80 characters long, but for words
    that are longer by themselves.
    """
    lines: list[str] = []
    if derived.report is not None:
        lines += report_lines(derived.report, working=True)
    else:
        lines += [*_headed("No answer yet"), *_wrapped(derived.trouble), "", *caution_lines()]
    lines += ["", *_left_out_lines(derived), *_other_lines(derived), *_input_lines(derived)]
    return "\n".join(line.translate(_ASCII).rstrip() for line in lines).rstrip() + "\n"


def _left_out_lines(derived: Derived) -> list[str]:
    """Return what was typed but is not in the report, and what is wrong as a whole."""
    said = [item.sentence for item in derived.left_out]
    if derived.report is not None and derived.trouble:
        said.insert(0, derived.trouble)
    if not said:
        return []
    lines = _headed("Not in this report")
    for sentence in dict.fromkeys(said):
        lines += _wrapped(sentence, "* ", "  ")
    return [*lines, ""]


def _other_lines(derived: Derived) -> list[str]:
    """Return all engines, a line each; those that cannot be checked with the reason."""
    engines = derived.draft.engine_ids
    if len(engines) < 2:
        return []
    lines = _headed("All engines")
    lines += shortlist_lines(derived.reports)
    for index, name in enumerate(engines):
        if index not in derived.engine_places:
            why = next(_engine_faults(derived, index), "it cannot be checked")
            lines += _wrapped(f"{name or index + 1}: no answer. {why}", "", "  ")
    return [*lines, ""]


def _engine_faults(derived: Derived, index: int) -> Iterator[str]:
    for place, sentence in (*derived.missing.items(), *derived.messages.items()):
        if (place.table, place.index) == ("engine", index):
            yield sentence


def _input_lines(derived: Derived) -> list[str]:
    """Return every field with its text, in working order."""
    lines = _headed("Everything typed")
    for table, heading, _ in GROUPS:
        lines += ["", heading, *_field_lines(derived, table, -1)]
    for table, _, heading, _ in LISTS:
        rows = derived.draft.rows(table)
        lines += ["", heading, *([] if rows else ["  none"])]
        for index in range(len(rows)):
            name = row_name(table).capitalize()
            lines += [f"  {name} {index + 1}", *_field_lines(derived, table, index)]
    return lines


def _field_lines(derived: Derived, table: str, index: int) -> list[str]:
    lines = []
    before = "    " if table in LIST_FIELDS else "  "
    for name, _ in FIELDS[table]:
        lines += _one_field(derived, Address(table, name, index), before)
    return lines


def _one_field(derived: Derived, address: Address, before: str) -> list[str]:
    """Return one field: label, text, what was understood, and what is wrong with it."""
    text = derived.draft.text(address).strip()
    units = derived.job.units
    said = f"{address.spec.label}: {text or _empty(address)}"
    understood = echo(address, text, units.entries, shown(units)) if text else ""
    if understood.startswith(text) and text:
        said = f"{address.spec.label}: {understood}"
    elif understood:
        said += f" = {understood}"
    lines = _wrapped(said, before, f"{before}  ")
    message = derived.messages.get(address) or derived.missing.get(address)
    if message:
        lines += _wrapped(message, f"{before}  ! ", f"{before}    ")
    return lines


def _empty(address: Address) -> str:
    if address.table in ("mounting", "target"):
        return "not decided"
    is_taped = address.spec.kind is not None and address.spec.origin is Origin.MEASURED
    return "not measured" if is_taped else "not filled in"


# The keys -------------------------------------------------------------------------------------


def keys_text(platform: str = sys.platform) -> str:
    """Return the page of keys: how to get about, what the keys do where, and every action's.

    :param platform: as ``sys.platform``; decides how keys are called.
    """
    lines = _headed("With the keyboard alone")
    for sentence in _USING:
        lines += _wrapped(sentence, "* ", "  ")
    for heading, pairs in _PLACES:
        lines += ["", *_headed(heading), *_pairs(pairs)]
    actions = [
        (keys, f"{label.removesuffix('...')}: {words}")
        for keys, label, words in keys_page(platform)
    ]
    marks = ", ".join(f"{sign} {verdict.value}" for verdict, sign in MARKS.items())
    lines += ["", *_headed("Everywhere"), *_pairs(actions), ""]
    lines += _wrapped(f"Signs in the reports: {marks}.")
    return "\n".join(lines) + "\n"


def _pairs(pairs: Sequence[tuple[str, str]]) -> list[str]:
    """Return keys with what they do; keys too long for their column stand in a line of their own.

    A line says one thing, so that it makes sense when it is read out.
    """
    lines = []
    for keys, words in pairs:
        if len(keys) > 16:
            lines += [f"  {keys}", *_wrapped(words, " " * 20, " " * 20)]
        else:
            lines += _wrapped(words, f"  {keys:<18}", " " * 20)
    return lines


def _headed(heading: str) -> list[str]:
    return [heading, "-" * len(heading)]


def _wrapped(words: str, first: str = "", rest: str = "") -> list[str]:
    # Changed first: the signs grow longer by it.
    words = words.translate(_ASCII)
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=rest)
