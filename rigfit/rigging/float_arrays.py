"""Many equilibria of one hull at once, as arrays: the same equations as in ``flotation``.

Sections are clipped and Newton's steps taken for all loads together. A load that comes to no rest
like that is marked and left to the scalar search. numpy is imported inside, so that a check in
text starts without it. Rows are loads; lengths mm, masses kg.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from rigfit.rigging.flotation import CLOSE, STEEPEST, Load, Plane, Pod, awash_mm3, cuts_of
from rigfit.rigging.hull_form import HullForm

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers: TypeAlias = NDArray[np.float64]
    Flags: TypeAlias = NDArray[np.bool_]

_MM3_L = 1e-6
_TURNS = 40
_HALVINGS = 12


@dataclass(frozen=True, slots=True)
class ManyFloating:
    """A hull at rest under many loads, one row each.

    :param planes: height of the water, mm, and its slopes ahead and across; shape (loads, 3).
    :param floats: False where the scalar search must say whether and how she floats: too heavy,
        centre outside the hull, no rest, or not upright.
    """

    planes: Numbers
    floats: Flags

    def plane(self, row: int) -> Plane:
        """Return the water of one load."""
        height, ahead, across = (float(value) for value in self.planes[row])
        return Plane(height, ahead, across)

    def above_mm(self, points: Sequence[tuple[float, float, float]]) -> Numbers:
        """Return how far points (ahead, across, above) are above the water; (loads, points)."""
        import numpy as np

        x, y, z = np.asarray(points, dtype=float).reshape(-1, 3).T
        height, ahead, across = (column[:, None] for column in self.planes.T)
        lean = np.sqrt(1.0 + ahead**2 + across**2)
        found: Numbers = (z - (height + ahead * x + across * y)) / lean
        return found


def equilibria(
    form: HullForm,
    loads: Sequence[Load],
    density_kg_l: float,
    start: Plane,
    pods: Sequence[Pod] = (),
) -> ManyFloating:
    """Return how a hull floats under each of many loads, from one plane to begin with.

    The same as ``flotation.equilibrium`` for every load, to 1e-6 mm anywhere on her. Nothing is
    raised: a load that cannot float is a row whose ``floats`` is False and whose plane means
    nothing.
    """
    import numpy as np

    places = [(one.mass_kg, one.ahead_mm, one.above_mm, one.across_mm) for one in loads]
    table = np.asarray(places, dtype=float).reshape(-1, 4)
    search = _Search(form, table, density_kg_l, pods)
    planes = np.tile(
        np.array([start.height_mm, start.slope_ahead, start.slope_across]), (len(table), 1)
    )
    possible = (search.volume > 0.0) & (search.volume < awash_mm3(form, pods))
    possible &= (table[:, 1] > 0.0) & (table[:, 1] < form.length_mm)
    listing = (np.abs(table[:, 3]) > 1e-9) | (start.slope_across != 0.0)
    # Loads on the centreline of an upright boat need one side only, and two equations of three.
    floats = np.zeros(len(table), dtype=bool)
    for rows, lists in ((possible & ~listing, False), (possible & listing, True)):
        which = np.flatnonzero(rows)
        if which.size:
            planes[which], floats[which] = search.rest(planes[which], which, lists=lists)
    return ManyFloating(planes, floats)


class _Search:
    """One hull cut up into arrays, and loads that seek their rest in it.

    ``edges`` are (y, z, y, z), each of shape (sections, edges).
    """

    def __init__(
        self, form: HullForm, table: Numbers, density_kg_l: float, pods: Sequence[Pod]
    ) -> None:
        import numpy as np

        cuts = cuts_of(form)
        self.x = np.array([cut.ahead_mm for cut in cuts])
        self.weight = np.array([cut.weight_mm for cut in cuts])
        self.edges = np.moveaxis(np.array([cut.edges for cut in cuts]), -1, 0)
        self.length, self.pods, self.table = form.length_mm, pods, table
        self.volume = table[:, 0] / density_kg_l / _MM3_L

    # ------------------------------------------------------------------ what is under water

    def displaced(self, planes: Numbers, *, lists: bool) -> Numbers:
        """Return the ten numbers of ``Displaced`` for each load; (10, loads)."""
        import numpy as np

        height, ahead, across = planes.T
        level = height[:, None] + ahead[:, None] * self.x
        if lists:
            sides = self._halves(np.stack((level, level)), np.stack((across, -across)))
            area, breadth, second = (sides[k][0] + sides[k][1] for k in (0, 3, 5))
            tall = sides[2][0] + sides[2][1]
            moment, first = (sides[k][0] - sides[k][1] for k in (1, 4))
        else:
            area, _, tall, breadth, _, second = (2.0 * part for part in self._halves(level, None))
            moment = first = np.zeros_like(area)
        high = tall + level * area + across[:, None] * moment
        x, w = self.x, self.weight
        parts = (
            area @ w, area @ (w * x), moment @ w, high @ w, breadth @ w, breadth @ (w * x),
            first @ w, breadth @ (w * x * x), first @ (w * x), second @ w,
        )  # fmt: skip
        total = np.stack(parts)
        for pod in self.pods:
            self._add_pod(total, pod, height + ahead * pod.ahead_mm)
        return total

    def _halves(self, level: Numbers, slope: Numbers | None) -> tuple[Numbers, ...]:
        """Return area, moments and wet breadth's moments of clipped half sections.

        :param level: of the water at the middle, shape (..., loads, sections); ``slope``, that of
            the water outwards, shape (..., loads).
        """
        import numpy as np

        y0, z0, y1, z1 = self.edges
        h0, h1 = z0 - level[..., None], z1 - level[..., None]
        if slope is not None:
            h0 = h0 - slope[..., None, None] * y0
            h1 = h1 - slope[..., None, None] * y1
        wet0, wet1 = h0 < 0.0, h1 < 0.0
        crosses = wet0 != wet1
        fall = np.where(crosses, h0 - h1, 1.0)
        cut = y0 + (y1 - y0) * np.where(crosses, h0, 0.0) / fall
        ya, yb = np.where(crosses & wet1, cut, y0), np.where(crosses & wet0, cut, y1)
        ha, hb = np.minimum(h0, 0.0), np.minimum(h1, 0.0)
        # Where an edge leaves the water upwards the wet breadth ends, and the reverse.
        ends = np.where(crosses, np.where(wet0, 1.0, -1.0), 0.0)
        dy, both = yb - ya, ha + hb
        return (
            -np.sum(dy * both, axis=-1) / 2.0,
            -np.sum(dy * (ya * (both + ha) + yb * (both + hb)), axis=-1) / 6.0,
            -np.sum(dy * (ha * ha + ha * hb + hb * hb), axis=-1) / 6.0,
            np.sum(ends * cut, axis=-1),
            np.sum(ends * cut**2, axis=-1) / 2.0,
            np.sum(ends * cut**3, axis=-1) / 3.0,
        )

    def _add_pod(self, total: Numbers, pod: Pod, level: Numbers) -> None:
        import numpy as np

        share = np.clip((level - pod.bottom_mm) / pod.height_mm, 0.0, 1.0)
        volume, x = pod.volume_l / _MM3_L * share, pod.ahead_mm
        surface = np.where(
            (share > 0.0) & (share < 1.0), pod.volume_l / _MM3_L / pod.height_mm, 0.0
        )
        middle = pod.bottom_mm + share * pod.height_mm / 2.0
        for k, part in ((0, volume), (1, volume * x), (3, volume * middle), (4, surface),
                        (5, surface * x), (7, surface * x * x)):  # fmt: skip
            total[k] += part

    # ------------------------------------------------------------------ the search

    def rest(
        self, planes: Numbers, rows: NDArray[np.intp], *, lists: bool
    ) -> tuple[Numbers, Flags]:
        """Return planes at rest of some loads, and which of them came to rest upright."""
        import numpy as np

        planes, table, volume = planes.copy(), self.table[rows], self.volume[rows]
        wet = self.displaced(planes, lists=lists)
        gaps = _gaps(table, volume, planes, wet)
        size = _size(gaps, volume, self.length)
        for _ in range(_TURNS):
            busy = (size >= CLOSE) & (np.abs(planes[:, 1:]).max(axis=1) <= STEEPEST)
            todo = np.flatnonzero(busy)
            if not todo.size:
                break
            step = _steps(table[todo], planes[todo], wet[:, todo], gaps[:, todo], lists=lists)
            most = np.abs(step * np.array([1.0, self.length, self.length])).max(axis=1)
            share = np.minimum(1.0, self.length / 8.0 / np.maximum(most, 1e-12))
            for _ in range(_HALVINGS):
                tried = planes[todo] + share[:, None] * step
                new_wet = self.displaced(tried, lists=lists)
                new_gaps = _gaps(table[todo], volume[todo], tried, new_wet)
                new_size = _size(new_gaps, volume[todo], self.length)
                worse = ~(new_size < size[todo])
                if not worse.any():
                    break
                share = np.where(worse, share / 2.0, share)
            planes[todo], size[todo] = tried, new_size
            wet[:, todo], gaps[:, todo] = new_wet, new_gaps
        calm = (size < CLOSE) & (np.abs(planes[:, 1:]).max(axis=1) <= STEEPEST)
        return planes, calm & _is_upright(table, wet)


def _gaps(table: Numbers, volume: Numbers, planes: Numbers, wet: Numbers) -> Numbers:
    """Return what is missing in volume, and in moment ahead and across; (3, loads)."""
    import numpy as np

    _, ahead, above, across = table.T
    arm = wet[3] - above * wet[0]
    gaps: Numbers = np.stack(
        (
            wet[0] - volume,
            wet[1] - ahead * wet[0] + planes[:, 1] * arm,
            wet[2] - across * wet[0] + planes[:, 2] * arm,
        )
    )
    return gaps


def _size(gaps: Numbers, volume: Numbers, length: float) -> Numbers:
    import numpy as np

    turned = (np.abs(gaps[1]) + np.abs(gaps[2])) / length
    size: Numbers = (np.abs(gaps[0]) + turned) / volume
    return size


def _steps(table: Numbers, planes: Numbers, wet: Numbers, gaps: Numbers, *, lists: bool) -> Numbers:
    """Return Newton's steps in height and slopes, (loads, 3); 50 mm where there are none."""
    import numpy as np

    _, ahead, above, across = table.T
    height, a, m = planes.T
    arm = wet[3] - above * wet[0]
    area, ax, ay, axx, axy, ayy = wet[4:]
    # Columns are moments of the surface strip for 1, x, y; then the same times its height.
    strips = np.array([[area, ax, ay], [ax, axx, axy], [ay, axy, ayy]])
    tall = height * strips[:, 0] + a * strips[:, 1] + m * strips[:, 2] - above * strips[:, 0]
    matrix = np.stack(
        (
            strips[:, 0],
            strips[:, 1] - ahead * strips[:, 0] + a * tall,
            strips[:, 2] - across * strips[:, 0] + m * tall,
        )
    )
    matrix[1, 1] += arm
    matrix[2, 2] += arm
    size = 3 if lists else 2
    square = np.moveaxis(matrix[:size, :size], -1, 0)
    step = np.zeros((len(table), 3))
    # Scaled to like sizes, a determinant of nothing is a hull out of the water.
    solvable = np.abs(np.linalg.det(square)) > 1e-30
    if solvable.any():
        right = -gaps[:size, solvable].T[..., None]
        step[solvable, :size] = np.linalg.solve(square[solvable], right)[..., 0]
    step[~solvable, 0] = np.where(gaps[0, ~solvable] > 0.0, -50.0, 50.0)
    return step


def _is_upright(table: Numbers, wet: Numbers) -> Flags:
    """Tell where the transverse metacentric height is above nothing."""
    import numpy as np

    with np.errstate(divide="ignore", invalid="ignore"):
        middle = wet[6] / wet[4]
        gm = (wet[9] - wet[4] * middle**2) / wet[0] + wet[3] / wet[0] - table[:, 2]
    upright: Flags = gm > 0.0
    return upright
