"""Words on drawings: numbers with their tolerance, short enough for a dimension line."""

from __future__ import annotations

from rigfit.drawing.scene import Ink
from rigfit.rigging.findings import Verdict
from rigfit.rigging.readings import Reading
from rigfit.units import Kind, Shown, compact, inch_fraction, show

VERDICT_INK: dict[Verdict, Ink] = {
    Verdict.FITS: Ink.FITS,
    Verdict.TIGHT: Ink.TIGHT,
    Verdict.UNKNOWN: Ink.UNKNOWN,
    Verdict.STOPS: Ink.STOPS,
}

_LONGEST_NAME = 40


def exact_words(value_mm: float, style: Shown) -> str:
    """Return a length to 0.1 mm, as drilling wants it: ``163.5`` or ``6 7/16 in (163.5)``."""
    fine = f"{round(value_mm, 1) + 0.0:g}"
    return fine if style.lengths == "mm" else f"{inch_fraction(value_mm)} in ({fine})"


def reading_words(reading: Reading, style: Shown, kind: Kind = Kind.LENGTH) -> str:
    """Return a reading with its tolerance; a figure nobody measured carries a question mark."""
    if kind is Kind.ANGLE:
        words = show(reading.value, kind)
        if reading.tolerance:
            words += f" ± {show(reading.tolerance, kind)}"
    else:
        words = compact(reading.value, style, tolerance_mm=reading.tolerance)
    return words if reading.origin.is_firm else f"{words} ?"


def units_note(style: Shown) -> str:
    """Return how the numbers on a sheet are meant."""
    if style.lengths == "in":
        return "Inches to 1/16, millimetres in brackets"
    return "Dimensions in millimetres"


def short_name(name: str) -> str:
    """Return a name as it has room beside a drawing, cut with "…" where it is long."""
    return name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1].rstrip() + "…"
