"""The distance of two convex bodies from their corners (Gilbert, Johnson and Keerthi, 1988).

Plain arithmetic on short tuples: a few dozen corners take some tens of microseconds, less than
calling an array library would.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

Place: TypeAlias = tuple[float, float, float]
_Corner: TypeAlias = tuple[Place, Place, Place]

_MOST_STEPS = 60
_RELATIVE = 1e-10
_TOUCHING = 1e-14


def body_distance(
    one: Sequence[Place], two: Sequence[Place], toward: Place | None = None
) -> tuple[float, Place, Place]:
    """Return (distance, place on one, place on two) of two convex bodies; 0 when they overlap.

    :param one: corners of the one body; also corners inside it do no harm.
    :param toward: a guess of the vector from two to one, to begin with.
    """
    v = toward or _minus(one[0], two[0])
    if v == (0.0, 0.0, 0.0):
        v = (1.0, 0.0, 0.0)
    simplex: list[_Corner] = []
    weights: tuple[float, ...] = ()
    square = math.inf
    for _ in range(_MOST_STEPS):
        corner = _support(one, two, v)
        w = corner[0]
        if simplex and square - _dot(v, w) <= _RELATIVE * square + _TOUCHING:
            break
        if corner in simplex:
            break
        simplex.append(corner)
        simplex, weights = _reduced(simplex)
        v = _weighted([item[0] for item in simplex], weights)
        square = _dot(v, v)
        if len(simplex) == 4 or square < _TOUCHING:
            square = 0.0
            break
    place = _weighted([item[1] for item in simplex], weights)
    return math.sqrt(square), place, _weighted([item[2] for item in simplex], weights)


def _support(one: Sequence[Place], two: Sequence[Place], v: Place) -> _Corner:
    x, y, z = v
    a = min(one, key=lambda p: x * p[0] + y * p[1] + z * p[2])
    b = max(two, key=lambda p: x * p[0] + y * p[1] + z * p[2])
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2]), a, b


def _minus(a: Place, b: Place) -> Place:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _dot(a: Place, b: Place) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _crossed(a: Place, b: Place) -> Place:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _weighted(places: Sequence[Place], weights: Sequence[float]) -> Place:
    x = y = z = 0.0
    for (px, py, pz), weight in zip(places, weights, strict=True):
        x, y, z = x + weight * px, y + weight * py, z + weight * pz
    return x, y, z


def _reduced(simplex: list[_Corner]) -> tuple[list[_Corner], tuple[float, ...]]:
    """Return the part of a simplex that is nearest to the origin, and the weights of its place."""
    points = [item[0] for item in simplex]
    if len(points) == 1:
        return simplex, (1.0,)
    if len(points) == 2:
        kept = _on_line(points[0], points[1], (0, 1))
    elif len(points) == 3:
        kept = _on_triangle(points[0], points[1], points[2], (0, 1, 2))
    else:
        kept = _on_tetrahedron(points)
    return [simplex[index] for index, _ in kept], tuple(weight for _, weight in kept)


_Kept: TypeAlias = tuple[tuple[int, float], ...]


def _on_line(a: Place, b: Place, names: tuple[int, int]) -> _Kept:
    ab = _minus(b, a)
    square = _dot(ab, ab)
    part = -_dot(a, ab) / square if square > 0.0 else 0.0
    if part <= 0.0:
        return ((names[0], 1.0),)
    if part >= 1.0:
        return ((names[1], 1.0),)
    return (names[0], 1.0 - part), (names[1], part)


def _on_triangle(a: Place, b: Place, c: Place, names: tuple[int, int, int]) -> _Kept:
    ab, ac = _minus(b, a), _minus(c, a)
    d1, d2 = -_dot(ab, a), -_dot(ac, a)
    d3, d4 = -_dot(ab, b), -_dot(ac, b)
    d5, d6 = -_dot(ab, c), -_dot(ac, c)
    va, vb, vc = d3 * d6 - d5 * d4, d5 * d2 - d1 * d6, d1 * d4 - d3 * d2
    total = va + vb + vc
    if va > 0.0 and vb > 0.0 and vc > 0.0 and total > 0.0:
        return (names[0], va / total), (names[1], vb / total), (names[2], vc / total)
    sides = (
        _on_line(a, b, (names[0], names[1])),
        _on_line(b, c, (names[1], names[2])),
        _on_line(c, a, (names[2], names[0])),
    )
    own = dict(zip(names, (a, b, c), strict=True))
    return min(sides, key=lambda kept: _square_at(kept, own))


def _square_at(kept: _Kept, own: dict[int, Place]) -> float:
    v = _weighted([own[index] for index, _ in kept], [weight for _, weight in kept])
    return _dot(v, v)


def _on_tetrahedron(points: Sequence[Place]) -> _Kept:
    own = dict(enumerate(points))
    best: _Kept | None = None
    least = math.inf
    for i, j, k, last in ((0, 1, 2, 3), (0, 1, 3, 2), (0, 2, 3, 1), (1, 2, 3, 0)):
        a = points[i]
        normal = _crossed(_minus(points[j], a), _minus(points[k], a))
        inner, outer = _dot(normal, _minus(points[last], a)), -_dot(normal, a)
        if inner * outer > 0.0:
            continue
        kept = _on_triangle(a, points[j], points[k], (i, j, k))
        square = _square_at(kept, own)
        if square < least:
            best, least = kept, square
    return best or ((0, 0.25), (1, 0.25), (2, 0.25), (3, 0.25))
