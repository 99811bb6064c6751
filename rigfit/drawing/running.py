"""Running measures: many distances from one line, each with a leader to its place in a row."""

from __future__ import annotations

from collections.abc import Sequence

from rigfit.drawing.scene import MEASURE, Item, Path, Point, Text

GROUP, LAYER = "measures", "MEASURES"
PITCH = 1.7
"""Room for a line of words, in heights of its capitals."""


def spread(wanted: Sequence[float], pitch: float) -> tuple[float, ...]:
    """Return places at least ``pitch`` apart, as near as can be to those wanted.

    The order stays, and the sum of squares of the shifts is the least possible.

    :param wanted: in rising order.
    """
    blocks: list[tuple[float, int]] = []  # mean of what is left of each place, how many share it
    for index, place in enumerate(wanted):
        mean, count = place - index * pitch, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (mean * count + before * many) / (count + many), count + many
        blocks.append((mean, count))
    flat = [mean for mean, count in blocks for _ in range(count)]
    return tuple(mean + index * pitch for index, mean in enumerate(flat))


def measures_above(
    marks: Sequence[tuple[Point, str]], level: float, scale: float, *, height_mm: float = 2.5
) -> tuple[Item, ...]:
    """Return upright words in a row above ``level``, each with a line up from its point.

    :param marks: points and what is written for each; one of those with the same x and words.
    :param level: where the lines bend towards their words, model mm.
    """
    chosen = _distinct(marks, axis=0)
    places = spread([point[0] for point, _ in chosen], height_mm * PITCH * scale)
    items: list[Item] = []
    for (point, words), place in zip(chosen, places, strict=True):
        bend = (place, level + 4.0 * scale)
        points = ((point[0], point[1]), (point[0], level), bend, (place, level + 5.0 * scale))
        items.append(Path(points, LAYER, pen=MEASURE, group=GROUP, ref=f"across-{words}"))
        items.append(
            Text(
                (place, level + 6.0 * scale), words, LAYER, height_mm=height_mm, up="middle",
                angle_deg=90.0, group=GROUP, ref=f"across-{words}",
            )
        )  # fmt: skip
    return tuple(items)


def measures_beside(
    marks: Sequence[tuple[Point, str]],
    level: float,
    scale: float,
    *,
    height_mm: float = 2.5,
    way: float = 1.0,
) -> tuple[Item, ...]:
    """Return words in a column beyond ``level``, each with a line across from its point.

    :param level: x where the lines bend towards their words, model mm.
    :param way: 1 for a column to the right of ``level``, -1 for one to the left.
    """
    chosen = _distinct(marks, axis=1)
    places = spread([point[1] for point, _ in chosen], height_mm * PITCH * scale)
    items: list[Item] = []
    for (point, words), place in zip(chosen, places, strict=True):
        bend = (level + way * 4.0 * scale, place)
        points = (point, (level, point[1]), bend, (level + way * 5.0 * scale, place))
        items.append(Path(points, LAYER, pen=MEASURE, group=GROUP, ref=f"below-{words}"))
        items.append(
            Text(
                (level + way * 6.0 * scale, place), words, LAYER, height_mm=height_mm,
                across="left" if way > 0.0 else "right", up="middle", group=GROUP,
                ref=f"below-{words}",
            )
        )  # fmt: skip
    return tuple(items)


def _distinct(marks: Sequence[tuple[Point, str]], axis: int) -> list[tuple[Point, str]]:
    """Return one mark for each place along an axis, in rising order.

    Of several on one line the nearest to the row of words is kept: the highest, or the rightmost.
    """
    found: dict[tuple[float, str], tuple[Point, str]] = {}
    for point, words in sorted(marks, key=lambda mark: -mark[0][1 - axis]):
        found.setdefault((round(point[axis], 2), words), (point, words))
    return sorted(found.values(), key=lambda mark: mark[0][axis])
