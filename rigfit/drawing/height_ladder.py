"""The height ladder: every bolt row's plate height beside the target, and each leg's range."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigfit.drawing.dimensioning import whisker
from rigfit.drawing.fonts import text_width_mm
from rigfit.drawing.labels import VERDICT_INK
from rigfit.drawing.scene import CENTRE_LINE, THIN, Disc, Ink, Item, Path, Pen, Point, Text
from rigfit.rigging.mounting_options import HeightOption, PlateRange
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown, compact

SCALES = (1.0, 2.0, 5.0, 10.0)
_PITCH = 4.4
_COLUMN_GAP = 3.0
_REACH_MM = 60.0
"""A whisker is drawn no longer than this; its words say the whole tolerance."""
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
    columns = _Columns.fitted(shown, report.mounted, style, panel.width - _Ladder.LABEL)
    items += [
        piece
        for option, label_y in zip(shown, ladder.spread(shown), strict=True)
        for piece in ladder.rung(option, label_y, columns)
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
        reach = min(option.plate.tolerance, _REACH_MM)
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
    LABEL = 37.0

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
                words = compact(level, Shown("mm"), signed=True)
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

    def rung(self, option: HeightOption, label_y: float, columns: _Columns) -> list[Item]:
        assert option.plate is not None  # noqa: S101 - filtered by the caller
        panel, ink, bold = self.panel, VERDICT_INK[option.verdict], option == columns.mounted
        y, x = self.y(option.plate.value), self.AXIS + 10.0
        half = min(option.plate.tolerance, _REACH_MM) / self.ratio * panel.scale
        pen = Pen(0.5 if bold else 0.18, ink=Ink.LINE if bold else Ink.MUTED)
        radius = (1.3 if bold else 0.8) * panel.scale
        high = columns.height
        return [
            panel.line(self.AXIS, y, x, y, pen),
            panel.line(x, y, self.LABEL - 1.0, label_y, Pen(0.13, ink=Ink.MUTED)),
            *whisker(panel.at(x, y), half, 90.0, scale=panel.scale, ink=ink),
            Disc(panel.at(x, y), radius, "MEASURES", pen=None, fill=ink, group="sheet"),
            panel.text(
                self.LABEL, label_y, _name(option), up="middle", bold=bold, height_mm=high
            ),
            panel.text(
                columns.at, label_y, columns.words(option), up="middle", bold=bold, height_mm=high
            ),
            panel.text(
                panel.width, label_y, option.verdict.value, up="middle", across="right", ink=ink,
                bold=True, height_mm=high,
            ),
        ]  # fmt: skip


def _name(option: HeightOption) -> str:
    name = f"row {option.row}" if option.row else "clamped"
    return f"{name} +{option.setting_mm:.0f}" if option.setting_mm else name


@dataclass(frozen=True, slots=True)
class _Columns:
    """The columns of words beside the rungs, sized so that none touches the next.

    :param at: where the plate heights start, paper mm from the panel's left.
    :param height: of capitals, paper mm.
    """

    at: float
    height: float
    style: Shown
    mounted: HeightOption | None

    def words(self, option: HeightOption) -> str:
        assert option.plate is not None  # noqa: S101 - filtered by the caller
        return compact(
            option.plate.value, self.style, tolerance_mm=option.plate.tolerance, signed=True
        )

    @classmethod
    def fitted(
        cls, options: list[HeightOption], mounted: HeightOption | None, style: Shown, room: float
    ) -> _Columns:
        """Return columns for a width, paper mm, with words as high as fit, 2.5 mm at most."""
        draft = cls(0.0, 2.5, style, mounted)
        names = max(text_width_mm(_name(option), 2.5, bold=True) for option in options)
        plates = max(text_width_mm(draft.words(option), 2.5, bold=True) for option in options)
        ends = max(text_width_mm(option.verdict.value, 2.5, bold=True) for option in options)
        height = 2.5 * min(1.0, (room - 2.0 * _COLUMN_GAP) / (names + plates + ends))
        return cls(_Ladder.LABEL + names * height / 2.5 + _COLUMN_GAP, height, style, mounted)


def range_items(report: EngineReport, panel: Panel, style: Shown) -> tuple[Item, ...]:
    """Return the table: for each leg, the plate with the engine fully down and fully up.

    Nothing while it cannot be computed. It needs ``range_height`` paper mm.
    """
    if not report.ranges:
        return ()
    pitch, rows = 6.5, [_range_row(entry, style) for entry in report.ranges]
    top = range_height(report) - 3.0
    unit = ", in (mm)" if style.lengths == "in" else ""
    heads = ("", "fully down", "fully up", "at best")
    height, edges = _fitted_columns(rows, heads, panel.width)
    items: list[Item] = [
        panel.text(0.0, top, f"Plate from engine down to up{unit}", height_mm=2.5, bold=True)
    ]
    items += [
        panel.text(edge, top - pitch, head, height_mm=0.9 * height, across="right", ink=Ink.MUTED)
        for edge, head in zip(edges[1:], heads[1:], strict=True)
    ]
    for index, (entry, row) in enumerate(zip(report.ranges, rows, strict=True)):
        y = top - pitch * (index + 1) - 5.0
        items.append(panel.line(0.0, y + 3.9, panel.width, y + 3.9, Pen(0.13, ink=Ink.MUTED)))
        items.append(panel.text(0.0, y, row[0], height_mm=height))
        inks = (Ink.LINE, Ink.LINE, VERDICT_INK[entry.verdict])
        items += [
            panel.text(edge, y, words, height_mm=height, across="right", ink=ink)
            for edge, words, ink in zip(edges[1:], row[1:], inks, strict=True)
        ]
    return tuple(items)


def _fitted_columns(
    rows: list[tuple[str, ...]], heads: tuple[str, ...], room: float
) -> tuple[float, list[float]]:
    """Return the height of the words, 2.2 mm at most, and the right edge of each column."""
    full = 2.2
    widths = [
        max(text_width_mm(cell, full) for cell in (*column, head))
        for column, head in zip(zip(*rows, strict=True), heads, strict=True)
    ]
    height = full * min(1.0, (room - 3.0 * _COLUMN_GAP) / sum(widths))
    widths = [width * height / full for width in widths]
    gap = (room - sum(widths)) / (len(widths) - 1)
    return height, [sum(widths[: at + 1]) + gap * at for at in range(len(widths))]


def _range_row(entry: PlateRange, style: Shown) -> tuple[str, ...]:
    return (
        _leg_name(entry.name, entry.leg_mm, style),
        compact(entry.low_mm, style, signed=True),
        compact(entry.high_mm, style, signed=True),
        entry.verdict.value,
    )


def range_height(report: EngineReport) -> float:
    """Return the height the table of legs needs, paper mm; 0 when there is none."""
    return 6.5 * (len(report.ranges) + 1) + 3.0 if report.ranges else 0.0


def _leg_name(name: str, leg_mm: float, style: Shown) -> str:
    if "measured" in name or "stated" in name:
        return f"{name.split(',')[0]} {compact(leg_mm, style)}"
    return name
