"""The form for the next trial: the one thing to change on top, cautions, boxes for the runs."""

from __future__ import annotations

from collections.abc import Sequence

from rigfit.drawing.fonts import wrapped
from rigfit.drawing.profile_sheet import SheetWords
from rigfit.drawing.scene import Ink, Item, Path, Pen, Placement, Scene, Text
from rigfit.drawing.sheet import drawing_area, frame, paper
from rigfit.drawing.trial_sheet import trial_title_block
from rigfit.rigging.report import EngineReport
from rigfit.rigging.sea_trial import TrialResult, log_of_case
from rigfit.rigging.trial_advice import pitch_words
from rigfit.units import Kind, Shown, show

ROWS = 10
"""Runs a form has boxes for, where the paper has room."""

_LEAST_SPEEDS = 4
_LEAST_NOTES_MM = 12.0

_PAD_MM = 3.0
_HEAD_MM = 2.5
_SMALL_MM = 2.2
_BIG_MM = 3.5
_LINE_MM = 5.0
_BOX = Pen(0.35)
_RULE = Pen(0.18, ink=Ink.MUTED)
_ROW_MM = 9.0
_TABLE_HEAD_MM = 9.2
_HOW = (
    "Hold each engine speed half a minute, turn gently, run the same stretch back at once.",
    "Stop at an alarm, at falling water pressure, or where she porpoises.",
)
_FULL_MM = 14.0
_CHECKS = (
    "cut-off cord clipped to the driver, engine tried to stop with it",
    "life jackets on, second person briefed and looking out",
    "gentle turns first; no hard turn trimmed in",
    "nobody over the stern: a camera sees the plate",
)
_COLUMNS = (
    ("rpm", 1.1), ("speed\nthere", 1.1), ("speed\nback", 1.1), ("fuel\nflow", 1.0),
    ("water\npressure", 1.0), ("trim", 1.0), ("plate seen by camera:\nring one", 2.2),
    ("ring what\nshowed", 1.8), ("time", 1.0),
)  # fmt: skip
_RINGED = {6: "dry  wetted  buried  spray", 7: "air  porpoises  hot"}
_USUAL_RPM = (1000.0, 2000.0, 2500.0, 3000.0, 3500.0, 4000.0, 4500.0)


def trial_form_sheet(
    report: EngineReport,
    style: Shown,
    words: SheetWords,
    paper_name: str = "A4",
    change: tuple[str, str] = ("", ""),
) -> Scene:
    """Return the form for the next trial; it needs nothing logged.

    :param change: the one thing to change before it, and why, in words.
    :raises OutputError: for an unknown paper, or one too small.
    """
    case = report.case
    log = log_of_case(case)
    trials = log.of_engine(case.candidate.id)
    sheet = paper(paper_name, landscape=False)
    block = trial_title_block(report, style, words, "Form for the next sea trial")
    left, bottom, right, top = drawing_area(sheet, block)
    x0, x1 = left + _PAD_MM, right - _PAD_MM
    items: list[Item] = []
    y = _change(items, change, (x0, x1, top - 4.0))
    y = _cautions(items, (x0, x1, y - 4.0))
    y = _day(items, trials[-1] if trials else None, style, (x0, x1, y - 4.0))
    rpms = _rpms(trials[-1] if trials else None)
    low = _runs(items, rpms, style, (x0, x1, y - 3.0, bottom + _FULL_MM))
    _notes(items, (x0, x1, low - 3.0, bottom + _FULL_MM))
    return Scene(
        title=block.title,
        items=(*items, *frame(sheet, 1.0, (0.0, 0.0), block)),
        scale=1.0,
        placement=Placement(sheet, (0.0, 0.0)),
    )


# ------------------------------------------------------------------ parts


def _text(items: list[Item], at: tuple[float, float], words: str, height: float = _SMALL_MM,
          *, bold: bool = False, ink: Ink = Ink.LINE) -> None:  # fmt: skip
    items.append(Text(at, words, "NOTES", height, up="top", bold=bold, ink=ink))


def _box(items: list[Item], x0: float, y0: float, x1: float, y1: float, pen: Pen = _BOX) -> None:
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    items.append(Path(corners, "SHEET", pen=pen, closed=True))


def _change(items: list[Item], change: tuple[str, str], room: tuple[float, float, float]) -> float:
    """Put the one thing to change on top; return where it ends."""
    x0, x1, top = room
    what, why = change
    lines = wrapped(what, x1 - x0 - 6.0, _BIG_MM, bold=True)[:4]
    reason = wrapped(why, x1 - x0 - 6.0, _HEAD_MM)[:2]
    high = 8.0 + len(lines) * 1.5 * _BIG_MM + len(reason) * 1.6 * _HEAD_MM + 2.0
    _box(items, x0, top - high, x1, top, Pen(0.7, ink=Ink.ACCENT))
    y = top - 2.5
    _text(items, (x0 + 3.0, y), "Before this trial, one thing only", _HEAD_MM, ink=Ink.ACCENT)
    y -= 5.0
    for line in lines:
        _text(items, (x0 + 3.0, y), line, _BIG_MM, bold=True)
        y -= 1.5 * _BIG_MM
    for line in reason:
        _text(items, (x0 + 3.0, y), line, _HEAD_MM, ink=Ink.MUTED)
        y -= 1.6 * _HEAD_MM
    return top - high


def _cautions(items: list[Item], room: tuple[float, float, float]) -> float:
    """Put the boxes to tick before casting off; return where they end."""
    x0, x1, top = room
    y, middle = top, (x0 + x1) / 2.0
    for index, words in enumerate(_CHECKS):
        x = x0 if index % 2 == 0 else middle
        _box(items, x, y - 3.2, x + 3.2, y)
        _text(items, (x + 5.0, y - 0.5), words)
        if index % 2:
            y -= _LINE_MM
    return y


def _day(
    items: list[Item], last: TrialResult | None, style: Shown, room: tuple[float, float, float]
) -> float:
    """Put the lines for the day, and what the trial before had; return where they end."""
    x0, x1, top = room
    asked = (
        ("date", 1.0), ("trial", 0.7), ("bolt row", 0.7), ("propeller, pitch", 1.5),
        ("people, fuel, gear", 1.4), ("wind, from", 1.1), ("water", 1.0),
    )  # fmt: skip
    before = _before(last, style)
    share = (x1 - x0) / sum(part for _, part in asked)
    x = x0
    for (name, part), said in zip(asked, before, strict=True):
        wide = part * share
        _box(items, x, top - 12.0, x + wide, top, _RULE)
        _text(items, (x + 1.2, top - 1.2), name, 1.8, ink=Ink.MUTED)
        fitting = wrapped(said, wide - 2.0, 1.8)[:1] if said else []
        items += [Text((x + 1.2, top - 11.2), line, "NOTES", 1.8, ink=Ink.MUTED)
                  for line in fitting]  # fmt: skip
        x += wide
    words = "Small: as it was in the trial before. Same load, same stretch, like weather."
    _text(items, (x0, top - 13.4), words, 1.8, ink=Ink.MUTED)
    return top - 16.0


def _before(last: TrialResult | None, style: Shown) -> tuple[str, ...]:
    if last is None:
        return ("",) * 7
    trial = last.trial
    return (
        trial.date,
        trial.id,
        str(trial.row or ""),
        pitch_words(trial.pitch.value) if trial.pitch else "",
        show(trial.mass_aboard.value, Kind.MASS, style) if trial.mass_aboard else "",
        show(trial.wind.value, Kind.SPEED, style) if trial.wind else "",
        trial.water if trial.water != "not said" else "",
    )


def _rpms(last: TrialResult | None) -> tuple[str, ...]:
    """Return the engine speeds to run: those of the trial before, so that both can be compared."""
    if last is None:
        return (*(f"{rpm:.0f}" for rpm in _USUAL_RPM), "full")
    speeds = sorted({run.rpm.value for run in last.runs if not run.is_full_throttle})
    if len(speeds) < _LEAST_SPEEDS:
        speeds = sorted({*speeds, *_USUAL_RPM})
    return (*(f"{rpm:.0f}" for rpm in speeds), "full")


def _runs(
    items: list[Item], rpms: Sequence[str], style: Shown, room: tuple[float, float, float, float]
) -> float:
    """Put the table of runs, and two rows for more; return where it ends."""
    x0, x1, top, bottom = room
    shares = sum(part for _, part in _COLUMNS)
    edges = [x0]
    for _, part in _COLUMNS:
        edges.append(edges[-1] + part / shares * (x1 - x0))
    fitting = max(1, int((top - bottom - _TABLE_HEAD_MM) / _ROW_MM))
    count = min(fitting, max(ROWS, len(rpms) + 2))
    low = top - _TABLE_HEAD_MM - count * _ROW_MM
    items += _heads(edges, top, style)
    for row in range(count):
        y = top - _TABLE_HEAD_MM - row * _ROW_MM
        middle = y - _ROW_MM / 2.0
        items.append(Path(((x0, y), (x1, y)), "SHEET", pen=_RULE))
        words = rpms[row] if row < len(rpms) else ""
        items.append(Text((x0 + 1.0, middle), words, "NOTES", _HEAD_MM, up="middle"))
        items += [
            Text((edges[column] + 1.0, middle), said, "NOTES", 1.8, up="middle", ink=Ink.MUTED)
            for column, said in _RINGED.items()
        ]
    items += [Path(((x, top), (x, low)), "SHEET", pen=_RULE) for x in edges[1:-1]]
    _box(items, x0, low, x1, top)
    return low


def _heads(edges: Sequence[float], top: float, style: Shown) -> list[Item]:
    items: list[Item] = []
    for (name, _), x in zip(_COLUMNS, edges, strict=False):
        unit = _unit(name, style)
        lines = [(words, True) for words in name.split("\n")] + ([(unit, False)] if unit else [])
        for line, (words, bold) in enumerate(lines):
            at = (x + 1.0, top - 2.6 - 2.7 * line)
            items.append(Text(at, words, "NOTES", 1.8, bold=bold))
    return items


def _unit(name: str, style: Shown) -> str:
    units = {
        "speed\nthere": style.speeds,
        "speed\nback": style.speeds,
        "fuel\nflow": "US gal/h" if style.lengths == "in" else "L/h",
        "water\npressure": "psi" if style.lengths == "in" else "bar",
    }
    return units.get(name, "")


def _notes(items: list[Item], room: tuple[float, float, float, float]) -> None:
    """Put a box for notes where there is room, and how a run is made."""
    x0, x1, top, bottom = room
    if top - bottom >= _LEAST_NOTES_MM:
        _box(items, x0, bottom, x1, top, _RULE)
        words = "Notes: what was seen, heard and felt; the turns; anything not as usual"
        _text(items, (x0 + 1.2, top - 1.2), words, 1.8, ink=Ink.MUTED)
    for index, line in enumerate(_HOW):
        _text(items, (x0, bottom - 3.0 - 4.0 * index), line, _SMALL_MM)
