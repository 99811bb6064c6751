"""The trial's curves: speed, slip and litres a mile against engine speed, trials over each other.

Trials are told apart by the shape of their marks and the dashes of their lines, never by colour
alone. Bars are tolerances (k = 2). All of it is at scale 1, in paper mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigfit.drawing.charts import levels, step_of
from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.scene import Dash, Disc, Ink, Item, Path, Pen, Point, Scene, Text
from rigfit.errors import NotMeasuredError
from rigfit.rigging.propeller import USUAL_SLIP, Band
from rigfit.rigging.sea_trial import RunResult, TrialLog, TrialResult
from rigfit.units import Kind, Shown, from_base, per_mile

MOST_TRIALS = 6
"""Trials drawn over each other; of more, the first and the newest ones."""

SIZE_MM = (150.0, 205.0)
"""Width and height of the drawing where nobody asks for another."""

_SHARES = (0.40, 0.30, 0.30)  # of the height left for the diagrams of speed, slip and fuel
_FOOT_MM = 9.0

_GAP_MM = 12.0
_LEFT_MM = 16.0
_SMALL_MM = 2.2
_HEAD_MM = 2.5
_MARK_MM = 1.5
_CAP_MM = 0.9
_GRID = Pen(0.13, Dash.DOTTED, Ink.MUTED)
_AXIS = Pen(0.25, ink=Ink.LINE)
_STEEPEST_SLIP = 0.6
_USUAL = "dashed: usual on the plane, 5 to 20 %"
_DOUBT = "below 0: doubt a reading, the pitch or the gear ratio"
_RIGHT_MM = 6.0

SHAPES = ("circle", "square", "triangle", "diamond", "cross", "plus")
_DASHES = (Dash.SOLID, Dash.DASHED, Dash.DOTTED, Dash.CENTRE, Dash.DASHED, Dash.DOTTED)
_INKS = (Ink.ACCENT, Ink.LINE, Ink.MUTED, Ink.LINE, Ink.MUTED, Ink.LINE)

Value = Callable[[RunResult], tuple[float, float] | None]


@dataclass(frozen=True, slots=True)
class Look:
    """How one trial is drawn.

    :param shape: one of ``SHAPES``.
    """

    shape: str
    pen: Pen


@dataclass(frozen=True, slots=True)
class _Panel:
    """One diagram: where it lies on paper and what its axes span."""

    bottom: float
    height: float
    right: float
    x_span: tuple[float, float]
    y_span: tuple[float, float]

    def at(self, x: float, y: float) -> Point:
        (x0, x1), (y0, y1) = self.x_span, self.y_span
        return (
            _LEFT_MM + (x - x0) / (x1 - x0) * (self.right - _LEFT_MM),
            self.bottom + (y - y0) / (y1 - y0) * self.height,
        )

    def holds(self, y: float) -> bool:
        return self.y_span[0] <= y <= self.y_span[1]


def looks(count: int) -> tuple[Look, ...]:
    """Return how each of some trials is drawn, the newest last and in accent ink."""
    found = []
    for index in range(count):
        back = count - 1 - index
        pen = Pen(0.5 if back == 0 else 0.3, _DASHES[back % 6], _INKS[back % 6])
        found.append(Look(SHAPES[back % 6], pen))
    return tuple(found)


def drawn_trials(log: TrialLog) -> tuple[TrialResult, ...]:
    """Return the trials with runs that are drawn: of too many the first and the newest ones."""
    full = [item for item in log.trials if item.runs]
    if len(full) <= MOST_TRIALS:
        return tuple(full)
    return (full[0], *full[-(MOST_TRIALS - 1) :])


def trial_scene(
    log: TrialLog, style: Shown, boat: str = "", size_mm: tuple[float, float] = SIZE_MM
) -> Scene:
    """Return the three diagrams with their key, at scale 1.

    :param size_mm: width and height to fill.

    :raises NotMeasuredError: when no run with an engine speed is logged.
    """
    trials = drawn_trials(log)
    if not trials:
        raise NotMeasuredError(
            "no run of a sea trial is logged",
            cure="fill in [[trial]] and [[run]], or rigfit trial JOB --import FILE",
            where="run",
        )
    style_of = looks(len(trials))
    rpms = [run.rpm.value for item in trials for run in item.runs]
    band = _common_band(trials)
    # The band is the aim, so it is shown whole where the runs come near it.
    x_span = _span([*rpms, *([band.high] if band and band.low - max(rpms) < 1000.0 else [])], 500.0)
    doubted = any(run.slip and run.slip.value < 0.0 for item in trials for run in item.runs)
    width = size_mm[0] - _RIGHT_MM
    spots = _spots(size_mm[1] - key_height_mm(len(trials)))
    kinds = (
        ("Speed, " + style.speeds, _speed(style), None),
        ("Slip, %", _slip, 100.0 * _STEEPEST_SLIP),
        (_mile_title(style), _mile(style), None),
    )
    items: list[Item] = []
    for (title, value, most), (bottom, height) in zip(kinds, spots, strict=True):
        spans = _y_span(trials, value, most)
        if spans is None:
            items += _nothing(title, bottom, height, width)
            continue
        panel = _Panel(bottom, height, width, x_span, spans)
        items += _frame(panel, title, band, is_slip=value is _slip, is_doubted=doubted)
        for item, look in zip(trials, style_of, strict=True):
            items += _curve(panel, item, look, value)
    items += _axis_words(_Panel(spots[-1][0], 1.0, width, x_span, (0.0, 1.0)))
    items += _key(log, trials, style_of, sum(spots[0]), (width, boat))
    return Scene(title="Sea trial", items=tuple(items), scale=1.0)


def _spots(high: float) -> tuple[tuple[float, float], ...]:
    """Return bottom and height of the diagrams, uppermost first, in a height in mm."""
    room = high - _FOOT_MM - 2.0 * _GAP_MM
    heights = [share * room for share in _SHARES]
    low = _FOOT_MM
    middle = low + heights[2] + _GAP_MM
    return (middle + heights[1] + _GAP_MM, heights[0]), (middle, heights[1]), (low, heights[2])


# ------------------------------------------------------------------ values


def _speed(style: Shown) -> Value:
    def value(run: RunResult) -> tuple[float, float] | None:
        if run.speed is None:
            return None
        unit = style.speeds
        return (
            from_base(run.speed.value, unit, Kind.SPEED),
            from_base(run.speed.tolerance, unit, Kind.SPEED),
        )

    return value


def _slip(run: RunResult) -> tuple[float, float] | None:
    return None if run.slip is None else (100.0 * run.slip.value, 100.0 * run.slip.tolerance)


def _mile_title(style: Shown) -> str:
    mile = {"kn": "nautical mile", "km/h": "kilometre", "mph": "mile"}[style.speeds]
    return f"{'US gallons' if style.lengths == 'in' else 'Litres'} a {mile}"


def _mile(style: Shown) -> Value:
    def value(run: RunResult) -> tuple[float, float] | None:
        if run.per_mile is None:
            return None
        return per_mile(run.per_mile.value, style), per_mile(run.per_mile.tolerance, style)

    return value


def _common_band(trials: Sequence[TrialResult]) -> Band | None:
    """Return the band of the newest trial's engine."""
    return trials[-1].band


# ------------------------------------------------------------------ axes


def _span(values: Sequence[float], step: float) -> tuple[float, float]:
    low = math.floor(min(values) / step) * step
    high = math.ceil(max(values) / step) * step
    if high - low < 2.0 * step:
        low, high = low - step, high + step
    # Marks stand off the upright axis, so that its figures stay clear.
    return low - (step / 2.0 if low == min(values) else 0.0), high


def _y_span(
    trials: Sequence[TrialResult], value: Value, most: float | None
) -> tuple[float, float] | None:
    """Return what the upright axis spans, or None where there is nothing to show."""
    pairs = [pair for item in trials for run in item.runs if (pair := value(run)) is not None]
    if not pairs:
        return None
    high = max(middle + spread for middle, spread in pairs)
    low = min(0.0, min(middle - spread for middle, spread in pairs))
    if most is not None:
        high, low = min(high, most), max(low, -most)
    step = step_of(max(high - low, 1e-3), 6)
    return math.floor(low / step) * step, math.ceil(high / step) * step


def _frame(
    panel: _Panel, title: str, band: Band | None, *, is_slip: bool, is_doubted: bool
) -> list[Item]:
    (x0, x1), (y0, y1) = panel.x_span, panel.y_span
    items = [*_band(panel, band)]
    x_step, y_step = step_of(x1 - x0, 8), step_of(y1 - y0, 6)
    for y in levels(y0, y1, y_step):
        items.append(Path((panel.at(x0, y), panel.at(x1, y)), "MEASURES", pen=_GRID))
        left, up = panel.at(x0, y)
        items.append(
            Text((left - 1.5, up), _figure(y, y_step), "NOTES", _SMALL_MM, across="right",
                 up="middle", ink=Ink.MUTED)
        )  # fmt: skip
    items += [
        Path((panel.at(x, y0), panel.at(x, y1)), "MEASURES", pen=_GRID)
        for x in levels(x0, x1, x_step)
    ]
    corners = (panel.at(x0, y1), panel.at(x0, y0), panel.at(x1, y0))
    items.append(Path(corners, "MEASURES", pen=_AXIS))
    if y0 < 0.0 < y1:
        items.append(Path((panel.at(x0, 0.0), panel.at(x1, 0.0)), "MEASURES", pen=_AXIS))
    left, top = panel.at(x0, y1)
    items.append(Text((left, top + 2.4), title, "NOTES", _HEAD_MM, bold=True))
    if is_slip:
        wide = text_width_mm(title, _HEAD_MM, bold=True)
        items += [*_usual(panel), Text((left + wide + 4.0, top + 2.4), _USUAL, "NOTES", _SMALL_MM,
                                       ink=Ink.FITS)]  # fmt: skip
        if is_doubted:
            items.append(Text((panel.right, top + 2.4), _DOUBT, "NOTES", _SMALL_MM, across="right",
                              ink=Ink.STOPS))  # fmt: skip
    return items


def _figure(value: float, step: float) -> str:
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value + 0.0:.{places}f}".replace("-", "−")


def _band(panel: _Panel, band: Band | None) -> list[Item]:
    """Return the maker's band at full throttle, its upper half filled darker."""
    if band is None:
        return []
    items: list[Item] = []
    (x0, x1), (y0, y1) = panel.x_span, panel.y_span
    for low, high, fill in (
        (band.low, band.middle, Ink.HULL),
        (band.middle, band.high, Ink.BAND),
    ):
        left, right = max(x0, low), min(x1, high)
        if left < right:
            corners = ((left, y0), (right, y0), (right, y1), (left, y1))
            points = tuple(panel.at(*corner) for corner in corners)
            items.append(Path(points, "TARGET", pen=None, closed=True, fill=fill, ref="band"))
    return items


def _usual(panel: _Panel) -> list[Item]:
    """Return lines at the ends of the usual slip."""
    pen = Pen(0.25, Dash.DASHED, Ink.FITS)
    x0, x1 = panel.x_span
    levels = [100.0 * share for share in USUAL_SLIP if panel.holds(100.0 * share)]
    return [Path((panel.at(x0, y), panel.at(x1, y)), "TARGET", pen=pen) for y in levels]


def _nothing(title: str, bottom: float, height: float, right: float) -> list[Item]:
    """Return the place of a diagram for which nothing is logged."""
    corners = (
        (_LEFT_MM, bottom), (right, bottom), (right, bottom + height),
        (_LEFT_MM, bottom + height),
    )  # fmt: skip
    missing = {
        "S": "Needs speeds; slip needs pitch and gear ratio, too.",
    }.get(title[0], "No fuel flow is logged.")
    return [
        Path(corners, "MEASURES", pen=Pen(0.18, Dash.DASHED, Ink.MUTED), closed=True),
        Text((_LEFT_MM, bottom + height + 2.4), title, "NOTES", _HEAD_MM, bold=True),
        Text(((_LEFT_MM + right) / 2.0, bottom + height / 2.0), missing, "NOTES", _HEAD_MM,
             across="centre", up="middle", ink=Ink.MUTED),
    ]  # fmt: skip


def _axis_words(panel: _Panel) -> list[Item]:
    x0, x1 = panel.x_span
    step = step_of(x1 - x0, 8)
    items: list[Item] = []
    for rpm in levels(x0, x1, step):
        x, y = panel.at(rpm, 0.0)
        items.append(
            Text((x, y - 1.6), f"{rpm:.0f}", "NOTES", _SMALL_MM, across="centre", up="top",
                 ink=Ink.MUTED)
        )  # fmt: skip
    middle = ((_LEFT_MM + panel.right) / 2.0, panel.bottom - 5.4)
    words = "Engine speed, rpm"
    items.append(Text(middle, words, "NOTES", _HEAD_MM, across="centre", up="top", bold=True))
    return items


# ------------------------------------------------------------------ curves


def _curve(panel: _Panel, item: TrialResult, look: Look, value: Value) -> list[Item]:
    points: list[tuple[float, float, float, str]] = []
    for run in item.runs:
        pair = value(run)
        if pair is not None:
            points.append((run.rpm.value, *pair, f"run-{run.row}"))
    name = f"trial-{item.trial.id}"
    items: list[Item] = []
    inside = [(x, min(max(y, panel.y_span[0]), panel.y_span[1])) for x, y, _, _ in points]
    if len(inside) > 1:
        course = tuple(panel.at(*point) for point in inside)
        items.append(Path(course, "ENGINE", pen=look.pen, ref=name))
    for x, y, spread, run_name in points:
        if panel.holds(y):
            items += _bar(panel, x, y, spread, look.pen.ink)
            items += mark(panel.at(x, y), look, run_name)
        else:
            items += _beyond(panel, x, y, look)
    return items


def _bar(panel: _Panel, x: float, y: float, spread: float, ink: Ink) -> list[Item]:
    low, high = max(y - spread, panel.y_span[0]), min(y + spread, panel.y_span[1])
    (px, bottom), (_, top) = panel.at(x, low), panel.at(x, high)
    pen = Pen(0.18, ink=ink)
    items: list[Item] = [Path(((px, bottom), (px, top)), "MEASURES", pen=pen)]
    for end, is_whole in ((bottom, low == y - spread), (top, high == y + spread)):
        if is_whole:
            items.append(Path(((px - _CAP_MM, end), (px + _CAP_MM, end)), "MEASURES", pen=pen))
    return items


def _beyond(panel: _Panel, x: float, y: float, look: Look) -> list[Item]:
    """Return a figure at the edge for a value the diagram does not reach."""
    is_over = y > panel.y_span[1]
    px, edge = panel.at(x, panel.y_span[1 if is_over else 0])
    words = f"{'↑' if is_over else '↓'} {y:.0f}".replace("-", "−")
    return [
        Text((px, edge - 0.8 if is_over else edge + 0.8), words, "NOTES", _SMALL_MM,
             across="centre", up="top" if is_over else "base", ink=look.pen.ink, backed=True)
    ]  # fmt: skip


def mark(at: Point, look: Look, ref: str = "") -> list[Item]:
    """Return the mark of a trial at a point."""
    (x, y), r, pen = at, _MARK_MM, Pen(0.35, ink=look.pen.ink)
    if look.shape == "circle":
        return [Disc(at, r * 0.9, "ENGINE", pen=pen, fill=Ink.PAPER, ref=ref)]
    if look.shape in ("cross", "plus"):
        turned = r if look.shape == "cross" else 0.0
        reach = r if look.shape == "cross" else r * 1.2
        ends = (
            ((x - reach, y - turned), (x + reach, y + turned)),
            ((x - turned, y + reach), (x + turned, y - reach)),
        )
        return [Path(pair, "ENGINE", pen=pen, ref=ref) for pair in ends]
    corners = {
        "square": ((-0.8, -0.8), (0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)),
        "triangle": ((-1.0, -0.75), (1.0, -0.75), (0.0, 1.0)),
        "diamond": ((0.0, -1.15), (1.0, 0.0), (0.0, 1.15), (-1.0, 0.0)),
    }[look.shape]
    points = tuple((x + r * dx, y + r * dy) for dx, dy in corners)
    return [Path(points, "ENGINE", pen=pen, closed=True, fill=Ink.PAPER, ref=ref)]


# ------------------------------------------------------------------ key


def key_height_mm(count: int) -> float:
    """Return how high the key of some trials is, with its heading."""
    return 23.0 + 4.6 * count


def _key(
    log: TrialLog, trials: Sequence[TrialResult], style_of: Sequence[Look], top: float,
    named: tuple[float, str],
) -> list[Item]:  # fmt: skip
    """Return heading and key above the diagrams, the newest trial first."""
    base = top + 10.0
    width, boat = named
    items: list[Item] = []
    for place, (item, look) in enumerate(zip(trials, style_of, strict=True)):
        y = base + 4.6 * place
        items.append(Path(((0.0, y), (11.0, y)), "ENGINE", pen=look.pen))
        items += mark((5.5, y), look)
        items.append(Text((13.5, y), _key_words(item, width), "NOTES", _SMALL_MM, up="middle"))
    full = sum(1 for item in log.trials if item.runs)
    head = base + 4.6 * len(trials) + 1.5
    note = "Bars: tolerance, k = 2. Shaded: the maker's band at full throttle, upper half darker."
    if full > len(trials):
        note += f" {full - len(trials)} trials between are not drawn."
    items.append(Text((0.0, head), note, "NOTES", _SMALL_MM, ink=Ink.MUTED))
    name = f"{boat}, sea trial" if boat else "Sea trial"
    items.append(Text((0.0, head + 5.5), name, "NOTES", 4.0, bold=True))
    return items


def _key_words(item: TrialResult, width: float) -> str:
    said = [item.title]
    if item.trial.row is not None:
        said.append(f"row {item.trial.row}")
    if item.trial.change:
        said.append(f"changed: {item.trial.change}")
    words = ", ".join(said)
    room = width - 14.0
    if text_width_mm(words, _SMALL_MM) <= room:
        return words
    while words and text_width_mm(words + "…", _SMALL_MM) > room:
        words = words[:-1]
    return words.rstrip() + "…"
