"""Torch paths of straight and circular pieces, in plain millimetres for speed: length, points along, rise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, ceil, cos, dist, pi, sin, sqrt

from weld_packets.calculation.reach import Point, point_in_mm
from weld_packets.errors import located, refusal
from weld_packets.model.order import Arc, Path

_FLAT = 1e-9
"""Sine of the angle between two chords below which three points count as lying on one line."""
_SHORTEST = 0.01
"""Two points closer than this many millimetres are one point written twice."""
_MAXIMUM_STATIONS = 400
"""Points of one piece of a path: enough for 2 m at every 5 mm; a slip of a digit may make a piece of kilometres."""
_STEP = pi / 90
"""Greatest angle between points along a circular piece: 2°, which misses the curve by under 0.02 % of its radius."""


@dataclass(frozen=True)
class Straight:
    """A straight piece, in mm."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length in mm."""
        return dist(self.start, self.end)

    def points(self) -> Iterator[Point]:
        """Yield the points after the start."""
        yield self.end

    def at(self, share: float) -> Point:
        """Return the point a share of the length on from the start, the end itself at 1."""
        return self.end if share == 1 else _sum(self.start, _scaled(_less(self.end, self.start), share))


@dataclass(frozen=True)
class Curve:
    """A circular piece, in mm: ``centre``, the radius to the start, the one a quarter turn on, and the angle swept."""

    centre: Point
    to_start: Point
    quarter: Point
    sweep: float

    @property
    def length(self) -> float:
        """Length in mm."""
        return sqrt(_dot(self.to_start, self.to_start)) * self.sweep

    def points(self) -> Iterator[Point]:
        """Yield points after the start, at most two degrees apart, ending at the end."""
        count = ceil(self.sweep / _STEP)
        for index in range(1, count + 1):
            yield self.at(index / count)

    def at(self, share: float) -> Point:
        """Return the point a share of the length on from the start."""
        angle = self.sweep * share
        return _sum(self.centre, _scaled(self.to_start, cos(angle)), _scaled(self.quarter, sin(angle)))


def pieces_of(path: Path) -> tuple[Straight | Curve, ...]:
    """Return the pieces of a path in millimetres.

    Raises OutOfRangeError for a piece without length, and for a circular piece whose points make no circle.
    """
    here = point_in_mm(path.start, path.unit)
    found: list[Straight | Curve] = []
    for index, piece in enumerate(path.pieces):
        there = point_in_mm(piece.to, path.unit)
        with located(key=f"path.pieces[{index}]"):
            found.append(
                _curve(here, point_in_mm(piece.via, path.unit), there)
                if isinstance(piece, Arc)
                else _straight(here, there)
            )
        here = there
    return tuple(found)


def length_mm(path: Path) -> float:
    """Return the length along a path in millimetres."""
    return sum(piece.length for piece in pieces_of(path))


def points_mm(path: Path) -> tuple[Point, ...]:
    """Return points along a path, corners and ends exactly, curves by points two degrees apart."""
    along = [point for piece in pieces_of(path) for point in piece.points()]
    return (start_mm(path), *along)


def stations_mm(path: Path, apart: float) -> tuple[Point, ...]:
    """Return points along a path, every end of a piece among them.

    They are at most ``apart`` mm from each other, but no piece has more of them than any fixture has room for.
    """
    found = [start_mm(path)]
    for piece in pieces_of(path):
        count = min(ceil(piece.length / apart), _MAXIMUM_STATIONS)
        found += [piece.at(index / count) for index in range(1, count + 1)]
    return tuple(found)


def start_mm(path: Path) -> Point:
    """Return where a path starts."""
    return point_in_mm(path.start, path.unit)


def end_mm(path: Path) -> Point:
    """Return where a path ends."""
    return point_in_mm(path.pieces[-1].to, path.unit)


def _straight(start: Point, end: Point) -> Straight:
    if dist(start, end) < _SHORTEST:
        raise refusal("this piece ends where it starts", "remove it, or write a circle as two half circles")
    return Straight(start, end)


def _curve(start: Point, via: Point, end: Point) -> Curve:
    chord, whole = _less(via, start), _less(end, start)
    normal = _cross(chord, whole)
    area, chord_square, whole_square = _dot(normal, normal), _dot(chord, chord), _dot(whole, whole)
    if area <= _FLAT**2 * chord_square * whole_square:
        raise refusal(
            "the three points of this piece make no circle: they lie on one line or coincide",
            "write a straight piece with 'to' alone, or choose 'via' on the curve; write a full circle as two halves",
        )
    inward = _cross(_less(_scaled(whole, chord_square), _scaled(chord, whole_square)), normal)
    centre = _sum(start, _scaled(inward, 0.5 / area))
    to_start, to_end = _less(start, centre), _less(end, centre)
    quarter = _scaled(_cross(normal, to_start), 1 / sqrt(area))
    return Curve(centre, to_start, quarter, atan2(_dot(to_end, quarter), _dot(to_end, to_start)) % (2 * pi))


def _less(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def _sum(*vectors: Point) -> Point:
    x, y, z = (sum(components) for components in zip(*vectors, strict=True))
    return x, y, z


def _scaled(vector: Point, factor: float) -> Point:
    return vector[0] * factor, vector[1] * factor, vector[2] * factor


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _cross(one: Point, other: Point) -> Point:
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )
