"""Circular arcs in space."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, ceil, cos, pi, sin, sqrt

from weld_packets.geometry.vectors import Point, along, cross, dot, minus, plus, scaled

_FLAT = 1e-9
"""Sine of the angle between two chords below which three points count as lying on one line."""


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc: its centre, the radius to its start and a quarter turn on, and the angle swept in radians."""

    centre: Point
    to_start: Point
    quarter: Point
    sweep: float

    @property
    def radius(self) -> float:
        """Distance of the arc from its centre."""
        return sqrt(dot(self.to_start, self.to_start))

    @property
    def length(self) -> float:
        """Length along the arc."""
        return self.radius * self.sweep

    def at(self, share: float) -> Point:
        """Return the point a share of the length on from the start."""
        return self.at_angle(self.sweep * share)

    def points(self, step: float) -> Iterator[Point]:
        """Yield points after the start, at most ``step`` radians apart, ending at the end."""
        count = ceil(self.sweep / step)
        for index in range(1, count + 1):
            yield self.at(index / count)

    def at_angle(self, angle: float) -> Point:
        """Return the point an angle in radians on from the start."""
        return plus(plus(self.centre, scaled(self.to_start, cos(angle))), scaled(self.quarter, sin(angle)))

    def angle_to(self, point: Point) -> float:
        """Return the angle in radians from the start on to a point of the circle, from 0 to 2π."""
        offset = minus(point, self.centre)
        return atan2(dot(offset, self.quarter), dot(offset, self.to_start)) % (2 * pi)


def arc_through(start: Point, via: Point, end: Point) -> Arc | None:
    """Return the arc from ``start`` through ``via`` to ``end``; None where the three make no circle."""
    chord, whole = minus(via, start), minus(end, start)
    normal = cross(chord, whole)
    area, chord_square, whole_square = dot(normal, normal), dot(chord, chord), dot(whole, whole)
    if area <= _FLAT**2 * chord_square * whole_square:
        return None
    inward = cross(minus(scaled(whole, chord_square), scaled(chord, whole_square)), normal)
    centre = along(start, inward, 0.5 / area)
    to_start = minus(start, centre)
    arc = Arc(centre, to_start, scaled(cross(normal, to_start), 1 / sqrt(area)), 0.0)
    return Arc(centre, to_start, arc.quarter, arc.angle_to(end))


def arc_points(start: Point, via: Point, end: Point, step: float) -> list[Point]:
    """Return points along an arc, at most ``step`` radians apart, the three given ones among them.

    Three points that make no circle are joined straight.
    """
    arc = arc_through(start, via, end)
    if arc is None:
        return [start, via, end]
    half = arc.angle_to(via)
    before, after = _between(0.0, half, step), _between(half, arc.sweep, step)
    return [start, *map(arc.at_angle, before), via, *map(arc.at_angle, after), end]


def _between(low: float, high: float, step: float) -> list[float]:
    """Return the angles that divide the arc from ``low`` to ``high`` evenly, without its ends."""
    count = max(1, ceil((high - low) / step))
    return [low + (high - low) * index / count for index in range(1, count)]
