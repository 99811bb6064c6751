"""The printer: do the check bars of a printed template prove that it came out at full size?

Every sheet carries two bars of 100 mm, one across it and one along it, because printers stretch
the two directions unlike. What a steel rule reads on them decides whether the sheet may be used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from rigfit.rigging.bolting_fields import PrinterCheck
from rigfit.rigging.case import Case
from rigfit.rigging.findings import Finding, Verdict, phrase
from rigfit.rigging.readings import Reading

BAR_MM = 100.0
"""Length of each check bar as drawn."""

BAR_TOLERANCE_MM = 0.5
"""How far off a bar may be; over the 327 mm of the trade's upper pair that is 1.6 mm."""

LEAST_MM, MOST_MM = 50.5, 150.0
"""What can be a reading of a 100 mm bar: 50 mm is that of some other line, or half an inch rule."""

FACTOR_LOW, FACTOR_HIGH = 0.8, 1.25
"""Corrections that still leave room for bars and words; beyond, the print settings are wrong."""

_HINT_MM = 0.8
_CAUSES = (
    (85.5, "an A4 file on a printer set to Letter paper, fitted to the page"),
    (91.5, 'A4 with "fit to page" on a printer with wide margins'),
    (94.1, "an A4 file shrunk to fit Letter paper"),
    (97.0, '"fit to page" or "shrink to printable area"'),
    (95.4, '"fit to page" or "shrink to printable area"'),
    (106.3, "a Letter file enlarged to fill A4 paper"),
)
_AGAIN = "measure the bar marked 100 mm, from end tick to end tick, in millimetres"
_MEASURE = "print one sheet and measure both 100 mm bars with a steel rule"
_CURE = 'print again with scale "100 %" or "actual size" on the right paper'


class BarState(Enum):
    """What the two bars say of a printed sheet."""

    MISSING = "missing"
    CONFIRMED = "confirmed"
    OFF = "off"
    MISTAKEN = "mistaken"


@dataclass(frozen=True, slots=True)
class Bars:
    """The verdict on the two check bars.

    :param state: ``missing`` while a bar is not measured and neither is wrong, ``mistaken`` when a
        number cannot be that of a 100 mm bar.
    :param across_mm: the bar across the sheet as measured, None while it is not.
    :param along_mm: the bar along the sheet.
    :param sentence: the verdict in words, with what is off in percent and over the pattern.
    :param hint: the likely cause and the cure, "" where there is nothing to mend.
    """

    state: BarState
    across_mm: float | None
    along_mm: float | None
    sentence: str
    hint: str = ""

    @property
    def factors(self) -> tuple[float, float] | None:
        """Stretch across and along that would bring both bars to 100 mm.

        None unless both are measured and wrong, or when the stretch is beyond what can be drawn.
        """
        if self.state is not BarState.OFF or self.across_mm is None or self.along_mm is None:
            return None
        across, along = BAR_MM / self.across_mm, BAR_MM / self.along_mm
        able = all(FACTOR_LOW <= factor <= FACTOR_HIGH for factor in (across, along))
        return (across, along) if able else None


def judge_bars(across_mm: float | None, along_mm: float | None, span_mm: float = 0.0) -> Bars:
    """Return the verdict on the bars of a printed sheet; any number is judged, none raises.

    :param across_mm: the 100 mm bar across the sheet as measured, or None.
    :param along_mm: the one along it, or None.
    :param span_mm: width of the hole pattern, to say what the error comes to there; 0 for none.
    """
    bars = {"across": across_mm, "along": along_mm}
    known = {name: value for name, value in bars.items() if value is not None}
    wild = {name: value for name, value in known.items() if not _can_be_a_bar(value)}
    if wild:
        return Bars(BarState.MISTAKEN, across_mm, along_mm, _mistaken(wild), _AGAIN)
    off = {name: value for name, value in known.items() if not within(value)}
    if off:
        words = " ".join(_off(name, value, span_mm) for name, value in off.items())
        return Bars(BarState.OFF, across_mm, along_mm, words, _cause(list(known.values())))
    missing = [name for name, value in bars.items() if value is None]
    if missing:
        which = (
            "Neither check bar is"
            if len(missing) == 2
            else f"The bar {missing[0]} the sheet is not"
        )
        return Bars(BarState.MISSING, across_mm, along_mm, f"{which} measured yet.",
                    "print one sheet and measure both 100 mm bars with a steel rule")  # fmt: skip
    words = f"Both bars are within {BAR_TOLERANCE_MM:g} mm of {BAR_MM:g} mm."
    return Bars(BarState.CONFIRMED, across_mm, along_mm, words)


def within(measured_mm: float) -> bool:
    """True when a bar is near enough to 100 mm for the template to be used."""
    # The allowance is for decimal fractions that have no binary equal: 100.5 is within.
    return abs(measured_mm - BAR_MM) <= BAR_TOLERANCE_MM + 1e-9


def bars_of(printer: PrinterCheck, paper: str = "", span_mm: float = 0.0) -> Bars:
    """Return the verdict on the bars in a job.

    :param paper: the paper a template is made for; bars measured on another paper prove nothing
        for it. "" for whatever paper the job names.
    """
    if paper and printer.paper and paper != printer.paper:
        return judge_bars(None, None)
    return judge_bars(_value(printer.bar_across), _value(printer.bar_along), span_mm)


def check_printed_template(case: Case) -> tuple[Finding, ...]:
    """309: did the printer draw the template at full size? Only once a paper or a bar is named.

    It is about the boat's paper, not about an engine, so a bad print never stops one: tight at
    worst, because it can be printed again or drawn corrected. The sheets themselves refuse: their
    words say not to drill (``drawing.tiles.sheet_status``).
    """
    printer = case.job.printer
    readings = [item for item in (printer.bar_across, printer.bar_along) if item is not None]
    if not printer.paper and not readings:
        return ()
    bars = bars_of(printer, span_mm=_span_mm(case))
    low, high = BAR_MM - BAR_TOLERANCE_MM, BAR_MM + BAR_TOLERANCE_MM
    worst = max(readings, key=lambda item: abs(item.value - BAR_MM), default=None)
    judged = worst is not None and bars.state in (BarState.CONFIRMED, BarState.OFF)
    value = worst.value if worst is not None and judged else None
    return (
        Finding(
            code=309,
            subject="boat",
            title="printed template",
            verdict=_verdict(bars, readings),
            sentence=phrase("{verdict}", verdict=bars.sentence),
            source="print-bars",
            value=value,
            low=low,
            high=high,
            margin=None if value is None else min(value - low, high - value),
            tolerance=worst.tolerance if worst is not None and judged else None,
            needs=("printer.bar_across", "printer.bar_along"),
            settle=phrase("{cure}.", cure=_capital(bars.hint)) if bars.hint else None,
        ),
    )


def _verdict(bars: Bars, readings: list[Reading]) -> Verdict:
    if bars.state is BarState.OFF:
        return Verdict.TIGHT
    if bars.state is not BarState.CONFIRMED:
        return Verdict.UNKNOWN
    sure = all(
        item.origin.is_firm and abs(item.value - BAR_MM) + item.tolerance <= BAR_TOLERANCE_MM + 1e-9
        for item in readings
    )
    return Verdict.FITS if sure else Verdict.TIGHT


def _span_mm(case: Case) -> float:
    pattern = case.transom_pattern
    return max(pattern.upper_spacing_mm, pattern.lower_spacing_mm)


def _value(reading: Reading | None) -> float | None:
    return None if reading is None else reading.value


def _can_be_a_bar(value: float) -> bool:
    return math.isfinite(value) and LEAST_MM < value <= MOST_MM


def _mistaken(wild: dict[str, float]) -> str:
    parts = " and ".join(f"{value:g} mm for the bar {name}" for name, value in wild.items())
    what = "are not readings" if len(wild) > 1 else "is not a reading"
    return f"{_capital(parts)} the sheet {what} of a bar drawn {BAR_MM:g} mm long."


def _off(name: str, value: float, span_mm: float) -> str:
    words = f"The bar {name} the sheet measures {value:g} mm: {value / BAR_MM:.1%} of full size"
    words = words.replace("%", " %")
    if span_mm:
        error = span_mm * (value / BAR_MM - 1.0)
        words += (
            f", {abs(error):.1f} mm too {'wide' if error > 0 else 'narrow'} over {span_mm:g} mm"
        )
    return words + "."


def _cause(values: list[float]) -> str:
    near = [
        cause
        for percent, cause in _CAUSES
        if all(abs(value - percent) <= _HINT_MM for value in values)
    ]
    if near:
        return f"likely cause: {near[0]}; {_CURE}"
    if max(abs(value - BAR_MM) for value in values) < 2.0:
        return f"likely cause: paper feed or damp paper; {_CURE}, else ask for a corrected edition"
    if max(values) - min(values) > 2.0 * _HINT_MM:
        return f"the two directions differ: look for a stretch setting; {_CURE}"
    return f"likely cause: a scale setting of the print dialog; {_CURE}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
