"""The height ladder: every bolt row's plate height beside the target, and each leg's range."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.drawing.dimensioning import whisker
from rigfit.drawing.labels import VERDICT_INK, length_words, with_tolerance
from rigfit.drawing.scene import CENTRE_LINE, THIN, Disc, Ink, Item, Path, Pen, Point, Text
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown

SCALES = (1.0, 2.0, 5.0, 10.0)
_PITCH = 4.4
_MOST = 16
"""Rungs beyond this are too many to read; the table lists them all."""
_HEAD = Pen(0.25, ink=Ink.MUTED)


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle on the sheet, and how paper mm become model mm there.

    :param left: and ``bottom``, ``width``, ``height`` on the sheet, paper mm.
    :param corner: lower left corner of the sheet, model mm.
    :param scale: model mm per paper mm of the sheet.
    """

    left: float
    bottom: float
    width: float
    height: float
    corner: Point
    scale: float

    def at(self, x: float, y: float) -> Point:
        """Return the model point for a place in the panel, paper mm from its lower left corner."""
        return (
            self.corner[0] + (self.left + x) * self.scale,
            self.corner[1] + (self.bottom + y) * self.scale,
        )

    def line(self, x0: float, y0: float, x1: float, y1: float, pen: Pen = THIN) -> Path:
        """Return a line between two places in the panel."""
        return Path((self.at(x0, y0), self.at(x1, y1)), "MEASURES", pen=pen, group="sheet")

    def text(self, x: float, y: float, words: str, **style: object) -> Text:
        """Return words at a place in the panel."""
        return Text(self.at(x, y), words, "NOTES", group="sheet", **style)  # type: ignore[arg-type]

    def fill(self, x0: float, y0: float, x1: float, y1: float, ink: Ink) -> Path:
        """Return a filled rectangle in the panel."""
        corners = (self.at(x0, y0), self.at(x1, y0), self.at(x1, y1), self.at(x0, y1))
        return Path(corners, "TARGET", pen=None, closed=True, fill=ink, group="sheet")


def ladder_items(report: EngineReport, panel: Panel, style: Shown) -> tuple[Item, ...]:
    """Return the ladder with its heading; of very many heights those nearest to the target."""
    options = [
        option for option in report.options if option.is_possible and option.plate is not None
    ]
    title = panel.text(0.0, panel.height - 4.0, "Height of the plate", height_mm=3.5, bold=True)
    if not options:
        missing = panel.text(0.0, panel.height - 14.0, "not to be computed yet", ink=Ink.MUTED)
        return (title, missing)
    return (title, *_ladder(report, options, panel, style))


def _ladder(
    report: EngineReport, options: list[HeightOption], panel: Panel, style: Shown
) -> list[Item]:
    room = panel.height - 16.0
    shown = _nearest(report, options, min(_MOST, int(room / _PITCH)))
    low, high, step, ratio = _span(report, shown, room)
    ladder = _Ladder(panel, 4.0, low, high, step, ratio)
    note = f"upright 1:{ratio:g}"
    if len(shown) < len(options):
        note = f"{len(shown)} of {len(options)} heights, {note}"
    items: list[Item] = [
        panel.text(
            panel.width, panel.height - 4.0, note, height_mm=2.2, across="right", ink=Ink.MUTED
        ),
        *ladder.band(report),
        *ladder.axis(),
    ]
    items += [
        piece
        for option, label_y in zip(shown, ladder.spread(shown), strict=True)
        for piece in ladder.rung(option, label_y, style, mounted=option == report.mounted)
    ]
    return items


def _nearest(report: EngineReport, options: list[HeightOption], most: int) -> list[HeightOption]:
    """Return at most ``most`` options: the mounted one and those nearest to the target."""
    band = report.case.band
    middle = band.middle_mm if band else 0.0

    def distance(option: HeightOption) -> float:
        if option == report.mounted:
            return -1.0
        return abs(option.plate.value - middle) if option.plate else math.inf

    kept = sorted(options, key=distance)[:most]
    return [option for option in options if option in kept]


def _span(
    report: EngineReport, options: list[HeightOption], room: float
) -> tuple[float, float, float, float]:
    """Return lowest and highest level to show, the step of the ticks and the scale, 1 to it."""
    levels = [0.0]
    for option in options:
        assert option.plate is not None  # noqa: S101 - filtered by the caller
        reach = min(option.plate.tolerance, 60.0)
        levels += [option.plate.value - reach, option.plate.value + reach]
    band = report.case.band
    if band is not None:
        levels += [band.low_mm, band.high_mm]
    for ratio in SCALES:
        step = 10.0 if ratio <= 2.0 else 50.0
        low = step * math.floor((min(levels) - 2.0) / step)
        high = step * math.ceil((max(levels) + 2.0) / step)
        if (high - low) / ratio <= room:
            break
    return low, high, step, ratio


@dataclass(frozen=True, slots=True)
class _Ladder:
    """Places levels (mm above the keel line) on the panel."""

    panel: Panel
    foot: float
    low: float
    high: float
    step: float
    ratio: float

    AXIS = 20.0
    LABEL = 47.0

    def y(self, level: float) -> float:
        return self.foot + (min(max(level, self.low), self.high) - self.low) / self.ratio

    def band(self, report: EngineReport) -> list[Item]:
        band, right = report.case.band, self.panel.width
        if band is None:
            return []
        outer = (band.limits.outer_low, band.limits.outer_high)
        items: list[Item] = []
        if outer[0] is not None and outer[1] is not None:
            items.append(
                self.panel.fill(self.AXIS, self.y(outer[0]), right, self.y(outer[1]), Ink.RESERVE)
            )
        low, high = self.y(band.low_mm), self.y(band.high_mm)
        items.append(self.panel.fill(self.AXIS, low, right, high, Ink.BAND))
        return items

    def axis(self) -> list[Item]:
        panel, x = self.panel, self.AXIS
        items: list[Item] = [panel.line(x, self.y(self.low), x, self.y(self.high), _HEAD)]
        every = 2 if self.step / self.ratio >= 4.0 else 5
        first, last = round(self.low / self.step), round(self.high / self.step)
        for number in range(first, last + 1):
            level, named = number * self.step, number % every == 0
            y = self.y(level)
            items.append(panel.line(x - (2.0 if named else 1.0), y, x, y, _HEAD))
            if named and level != 0.0:
                words = length_words(level, Shown("mm"), signed=True)
                items.append(
                    panel.text(x - 3.0, y, words, height_mm=2.0, across="right", up="middle",
                               ink=Ink.MUTED)
                )  # fmt: skip
        zero = self.y(0.0)
        items.append(panel.line(x - 3.0, zero, panel.width, zero, CENTRE_LINE))
        items.append(panel.text(x - 4.0, zero, "keel line", height_mm=2.0, across="right",
                                up="middle"))  # fmt: skip
        return items

    def spread(self, options: list[HeightOption]) -> list[float]:
        """Return where the labels go: at their level, pushed apart to stay readable."""
        places: list[float] = []
        for option in options:
            assert option.plate is not None  # noqa: S101 - filtered by the caller
            wanted = self.y(option.plate.value)
            places.append(max(wanted, places[-1] + _PITCH) if places else wanted)
        # Pushed past the top, they settle downwards again from there.
        limit = max(self.y(self.high), self.panel.height - 16.0)
        for index in range(len(places) - 1, -1, -1):
            places[index] = min(places[index], limit)
            limit = places[index] - _PITCH
        return places

    def rung(
        self, option: HeightOption, label_y: float, style: Shown, *, mounted: bool
    ) -> list[Item]:
        assert option.plate is not None  # noqa: S101 - filtered by the caller
        panel, ink = self.panel, VERDICT_INK[option.verdict]
        y, x = self.y(option.plate.value), self.AXIS + 10.0
        half = option.plate.tolerance / self.ratio * panel.scale
        name = f"row {option.row}" if option.row else "clamped"
        if option.setting_mm:
            name += f" +{option.setting_mm:.0f}"
        words = with_tolerance(option.plate.value, option.plate.tolerance, style, signed=True)
        at = self.LABEL + (16.0 if option.setting_mm else 9.0)
        pen = Pen(0.5 if mounted else 0.18, ink=Ink.LINE if mounted else Ink.MUTED)
        radius = (1.3 if mounted else 0.8) * panel.scale
        return [
            panel.line(self.AXIS, y, x, y, pen),
            panel.line(x, y, self.LABEL - 10.0, label_y, Pen(0.13, ink=Ink.MUTED)),
            *whisker(panel.at(x, y), half, 90.0, scale=panel.scale, ink=ink),
            Disc(panel.at(x, y), radius, "MEASURES", pen=None, fill=ink, group="sheet"),
            panel.text(self.LABEL - 9.0, label_y, name, up="middle", bold=mounted),
            panel.text(at, label_y, words, up="middle", bold=mounted),
            panel.text(panel.width, label_y, option.verdict.value, up="middle", across="right",
                       ink=ink, bold=True),
        ]  # fmt: skip


def range_items(report: EngineReport, panel: Panel, style: Shown) -> tuple[Item, ...]:
    """Return the table: for each leg, the plate with the engine fully down and fully up.

    Nothing while it cannot be computed. It needs ``range_height`` paper mm.
    """
    if not report.ranges:
        return ()
    pitch = 6.5
    top = range_height(report) - 3.0
    columns = (0.61, 0.85, 1.0)
    unit = ", in (mm)" if style.lengths == "in" else ""
    items: list[Item] = [
        panel.text(
            0.0, top, f"Plate from engine fully down to fully up{unit}", height_mm=2.5, bold=True
        )
    ]
    items += [
        panel.text(panel.width * place, top - pitch, head, height_mm=2.0, across="right",
                   ink=Ink.MUTED)
        for place, head in zip(columns, ("fully down", "fully up", "at best"), strict=True)
    ]  # fmt: skip
    for index, entry in enumerate(report.ranges):
        y = top - pitch * (index + 1) - 5.0
        items.append(panel.line(0.0, y + 3.9, panel.width, y + 3.9, Pen(0.13, ink=Ink.MUTED)))
        items.append(panel.text(0.0, y, _leg_name(entry.name, entry.leg_mm, style), height_mm=2.2))
        cells = (
            (_cell(entry.low_mm, style), Ink.LINE),
            (_cell(entry.high_mm, style), Ink.LINE),
            (entry.verdict.value, VERDICT_INK[entry.verdict]),
        )
        items += [
            panel.text(panel.width * place, y, words, height_mm=2.2, across="right", ink=ink)
            for place, (words, ink) in zip(columns, cells, strict=True)
        ]
    return tuple(items)


def range_height(report: EngineReport) -> float:
    """Return the height the table of legs needs, paper mm; 0 when there is none."""
    return 6.5 * (len(report.ranges) + 1) + 3.0 if report.ranges else 0.0


def _cell(value: float, style: Shown) -> str:
    return length_words(value, style, signed=True).replace(" in ", " ")


def _leg_name(name: str, leg_mm: float, style: Shown) -> str:
    if "measured" in name or "stated" in name:
        return f"{name.split(',')[0]} {_cell(leg_mm, style).lstrip('+')}"
    return name
