"""Shapes as path commands in sheet pixels (y down): lines, circles, arcs, arrowheads."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from weld_packets.drawing.boxes import Spot2

MOVE, LINE, CURVE, CLOSE = 1, 2, 4, 79
"""What a vertex of a path is, numbered as matplotlib's public path class numbers it, with which charts are cut."""
_ROUND = 4 / 3 * (math.sqrt(2) - 1)


class Shape(NamedTuple):
    """Path vertices with one code each."""

    points: tuple[Spot2, ...]
    codes: tuple[int, ...]


def joined(shapes: Iterable[Shape]) -> Shape:
    """Return all ``shapes`` as one."""
    known = list(shapes)
    return Shape(
        tuple(point for shape in known for point in shape.points),
        tuple(code for shape in known for code in shape.codes),
    )


def polyline(points: Sequence[Spot2]) -> Shape:
    """Return straight lines through ``points``."""
    return Shape(tuple(points), (MOVE, *[LINE] * (len(points) - 1)))


def polygon(points: Sequence[Spot2]) -> Shape:
    """Return a closed outline through ``points``."""
    return Shape((*points, points[0]), (MOVE, *[LINE] * (len(points) - 1), CLOSE))


def rectangle(left: float, top: float, width: float, height: float) -> Shape:
    """Return an upright rectangle."""
    right, bottom = left + width, top + height
    return polygon([(left, top), (right, top), (right, bottom), (left, bottom)])


def circle(centre: Spot2, radius: float) -> Shape:
    """Return a circle of four cubic pieces (off by less than 0.03 % of the radius)."""
    x, y = centre
    r, k = radius, radius * _ROUND
    return Shape(
        (
            (x + r, y),
            (x + r, y + k),
            (x + k, y + r),
            (x, y + r),
            (x - k, y + r),
            (x - r, y + k),
            (x - r, y),
            (x - r, y - k),
            (x - k, y - r),
            (x, y - r),
            (x + k, y - r),
            (x + r, y - k),
            (x + r, y),
            (x + r, y),
        ),
        (MOVE, *[CURVE] * 12, CLOSE),
    )


def stadium(centre: Spot2, half_width: float, radius: float) -> Shape:
    """Return a level bar with round ends; a circle where it is no wider than high."""
    x, y = centre
    r, k = radius, radius * _ROUND
    left, right = x - max(half_width, radius) + radius, x + max(half_width, radius) - radius
    return Shape(
        (
            (right, y - r),
            (right + k, y - r),
            (right + r, y - k),
            (right + r, y),
            (right + r, y + k),
            (right + k, y + r),
            (right, y + r),
            (left, y + r),
            (left - k, y + r),
            (left - r, y + k),
            (left - r, y),
            (left - r, y - k),
            (left - k, y - r),
            (left, y - r),
            (right, y - r),
        ),
        (MOVE, *[CURVE] * 6, LINE, *[CURVE] * 6, CLOSE),
    )


def square(centre: Spot2, half: float) -> Shape:
    """Return an upright square of half side ``half``."""
    return rectangle(centre[0] - half, centre[1] - half, 2 * half, 2 * half)


def arc(centre: Spot2, radius: float, start_deg: float, end_deg: float) -> Shape:
    """Return a circular arc; angles count from +x towards -y (counter-clockwise as seen)."""
    return polyline([at_angle(centre, radius, angle) for angle in _steps(start_deg, end_deg)])


def at_angle(centre: Spot2, radius: float, angle_deg: float) -> Spot2:
    """Return the point ``radius`` from ``centre``; the angle counts counter-clockwise as seen."""
    angle = math.radians(angle_deg)
    return centre[0] + radius * math.cos(angle), centre[1] - radius * math.sin(angle)


def arrowhead(tip: Spot2, towards: Spot2, length: float = 9.0, half: float = 3.0) -> Shape:
    """Return a filled head with its point at ``tip``; ``towards`` is the unit direction that it flies."""
    ux, uy = towards
    back = (tip[0] - ux * length, tip[1] - uy * length)
    return polygon([tip, (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)])


def ahead(point: Spot2, direction: Spot2, by: float) -> Spot2:
    """Return the point that lies ``by`` times a direction from another one."""
    return point[0] + direction[0] * by, point[1] + direction[1] * by


def unit(start: Spot2, end: Spot2) -> Spot2:
    """Return the unit direction from ``start`` to ``end``; (1, 0) when they coincide."""
    length = math.dist(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (1.0, 0.0)


def _steps(start: float, end: float) -> list[float]:
    count = max(2, math.ceil(abs(end - start) / 7.5))
    return [start + (end - start) * index / count for index in range(count + 1)]
