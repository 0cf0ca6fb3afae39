"""Which points lie nearest to each other: sorted along their longest axis, so that few pairs are looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import dist, inf

SAME = 1e-6
"""Distances that differ by less are equal: float noise, far below any gauge. In mm where points are in mm."""

_Points = Sequence[tuple[float, ...]]
Pair = tuple[int, int, float]
"""Two points by index, the lower one first, and their distance."""


def pairs_closer(points: _Points, limit: float) -> Iterator[Pair]:
    """Yield the pairs of points less than ``limit`` apart."""
    axis = _longest_axis(points)
    order = sorted(range(len(points)), key=lambda index: points[index][axis])
    for place, first in enumerate(order):
        for second in order[place + 1 :]:
            if points[second][axis] - points[first][axis] >= limit:
                break
            apart = dist(points[first], points[second])
            if apart < limit:
                yield min(first, second), max(first, second), apart


def closest_pairs(
    points: _Points, counts: Callable[[int, int], bool] = lambda _, __: True, slack: float = SAME
) -> list[Pair]:
    """Return the closest pairs among those that ``counts`` admits, in the order of the points.

    Several where their distances differ by no more than ``slack``; those that are equal to the smallest come first.
    """
    axis = _longest_axis(points)
    order = sorted(range(len(points)), key=lambda index: points[index][axis])
    found: list[Pair] = []
    smallest = inf
    for place, first in enumerate(order):
        for second in order[place + 1 :]:
            if points[second][axis] - points[first][axis] > smallest + slack:
                break
            if not counts(first, second):
                continue
            apart = dist(points[first], points[second])
            if apart <= smallest + slack:
                smallest = min(smallest, apart)
                found.append((min(first, second), max(first, second), apart))
    near = [pair for pair in found if pair[2] <= smallest + slack]
    return sorted(near, key=lambda pair: (pair[2] > smallest + SAME, pair))


def closest_pair(points: _Points, counts: Callable[[int, int], bool] = lambda _, __: True) -> Pair | None:
    """Return the closest pair among those that ``counts`` admits, the first of equal ones; None without any."""
    return next(iter(closest_pairs(points, counts)), None)


def smallest_distance(points: _Points) -> float:
    """Return the distance of the two points that lie closest together; infinite for fewer than two."""
    return min((apart for _, _, apart in closest_pairs(points)), default=inf)


def _longest_axis(points: _Points) -> int:
    def extent(axis: int) -> float:
        values = [point[axis] for point in points]
        return max(values) - min(values)

    return max(range(len(points[0])), key=extent) if points else 0
