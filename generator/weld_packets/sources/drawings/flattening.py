"""Arcs as straight pieces that stay within a given distance of the curve; every point lies on the curve."""

from __future__ import annotations

import math

Point = tuple[float, float]
_WIDEST = math.pi / 4


def arc_points(centre: Point, radius: float, start: float, sweep: float, flatness: float) -> list[Point]:
    """Return the points of an arc with both ends; angles in radians, a negative ``sweep`` runs clockwise.

    The pieces stay within ``flatness`` of the arc and span 45 degrees at most. ``radius`` and ``flatness`` are positive
    and in one unit.
    """
    span = min(_WIDEST, 2 * math.acos(max(0.0, 1 - flatness / radius)))
    count = max(1, math.ceil(abs(sweep) / span - 1e-9))
    angles = (start + sweep * step / count for step in range(count + 1))
    return [(centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)) for angle in angles]


def bulge_points(start: Point, end: Point, bulge: float, flatness: float) -> list[Point]:
    """Return the points after ``start`` up to ``end`` of a polyline's piece.

    ``bulge`` is the tangent of a quarter of the arc's angle, positive where the arc runs counter-clockwise, 0 for a
    straight piece.
    """
    across, along = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(across, along)
    if not bulge or not chord:
        return [end]
    lift = (1 - bulge * bulge) / (4 * bulge)
    centre = ((start[0] + end[0]) / 2 - lift * along, (start[1] + end[1]) / 2 + lift * across)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    return [*arc_points(centre, radius, first, 4 * math.atan(bulge), flatness)[1:-1], end]
