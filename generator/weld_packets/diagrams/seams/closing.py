"""Seams that come back to their own start: whether they stop on it, or how far they run on over it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from weld_packets.diagrams.scene import Trail
from weld_packets.geometry.vectors import Point, length_of

_ON_MM = 0.5
_FIRST_PART = 0.3
"""A seam that ends on a later part of itself crosses it, it does not close."""


def overlap_mm(trail: Trail) -> float | None:
    """Return how far a closed seam runs on over its start, 0 where it stops on it; None for an open seam."""
    points = trail.points()
    whole = length_of(points)
    if math.dist(points[0], points[-1]) < _ON_MM:
        return 0.0 if whole > 4 * _ON_MM else None
    off, run_on = min(_feet(points, _FIRST_PART * whole))
    return run_on if off < _ON_MM and run_on < _FIRST_PART * whole else None


def _feet(points: Sequence[Point], until: float) -> Iterator[tuple[float, float]]:
    """Yield how far the end of a path is off each piece of its first part, and how far along the path that is."""
    passed = 0.0
    for start, end in pairwise(points):
        if passed > until:
            return
        span = math.dist(start, end)
        along = _foot(points[-1], start, end)
        yield math.dist(_between(start, end, along / span if span else 0.0), points[-1]), passed + along
        passed += span


def _foot(point: Point, start: Point, end: Point) -> float:
    """Return how far along a straight piece the point nearest to ``point`` lies."""
    span = math.dist(start, end)
    if not span:
        return 0.0
    share = sum((p - s) * (e - s) for p, s, e in zip(point, start, end, strict=True)) / span
    return min(span, max(0.0, share))


def _between(start: Point, end: Point, share: float) -> Point:
    x, y, z = (s + share * (e - s) for s, e in zip(start, end, strict=True))
    return x, y, z
