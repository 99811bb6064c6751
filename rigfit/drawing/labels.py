"""Words on drawings: numbers with their tolerance, short enough for a dimension line."""

from __future__ import annotations

from rigfit.drawing.scene import Ink
from rigfit.rigging.findings import Verdict
from rigfit.rigging.readings import Reading
from rigfit.units import Kind, Shown, inch_fraction, show

VERDICT_INK: dict[Verdict, Ink] = {
    Verdict.FITS: Ink.FITS,
    Verdict.TIGHT: Ink.TIGHT,
    Verdict.UNKNOWN: Ink.UNKNOWN,
    Verdict.STOPS: Ink.STOPS,
}


def length_words(value_mm: float, style: Shown, *, signed: bool = False) -> str:
    """Return a length for a dimension line: ``518`` in mm, ``20 3/8 (518)`` in inches."""
    return with_tolerance(value_mm, 0.0, style, signed=signed)


def exact_words(value_mm: float, style: Shown) -> str:
    """Return a length to 0.1 mm, as drilling wants it: ``163.5`` or ``6 7/16 in (163.5)``."""
    fine = f"{round(value_mm, 1) + 0.0:g}"
    return fine if style.lengths == "mm" else f"{inch_fraction(value_mm)} in ({fine})"


def with_tolerance(
    value_mm: float, tolerance_mm: float, style: Shown, *, signed: bool = False
) -> str:
    """Return a length with its tolerance: ``+12 ± 7``, or ``+1/2 (+12 ± 7)`` in inches."""
    metric = _millimetres(value_mm, signed=signed)
    if tolerance_mm > 0.0:
        metric += f" ± {_millimetres(tolerance_mm)}"
    if style.lengths == "mm":
        return metric
    inches = inch_fraction(value_mm)
    plus = "+" if signed and value_mm > 0.0 and inches != "0" else ""
    return f"{plus}{inches} ({metric})"


def _millimetres(value_mm: float, *, signed: bool = False) -> str:
    return show(value_mm, Kind.LENGTH, Shown("mm"), signed=signed).removesuffix(" mm")


def reading_words(reading: Reading, style: Shown, kind: Kind = Kind.LENGTH) -> str:
    """Return a reading with its tolerance; a figure nobody measured carries a question mark."""
    if kind is Kind.ANGLE:
        words = show(reading.value, kind)
        if reading.tolerance:
            words += f" ± {show(reading.tolerance, kind)}"
    else:
        words = with_tolerance(reading.value, reading.tolerance, style)
    return words if reading.origin.is_firm else f"{words} ?"


def units_note(style: Shown) -> str:
    """Return how the numbers on a sheet are meant."""
    if style.lengths == "in":
        return "Inches to 1/16, millimetres in brackets"
    return "Dimensions in millimetres"
