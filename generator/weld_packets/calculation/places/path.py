"""Torch paths of straight and circular pieces, in plain millimetres for speed: length, points along, rise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, dist, pi

from weld_packets.calculation.places.millimetres import point_in_mm
from weld_packets.errors import located, refusal
from weld_packets.geometry.arcs import Arc, arc_through
from weld_packets.geometry.vectors import Point, along, minus
from weld_packets.model import order as model
from weld_packets.model.order import Path

_SHORTEST = 0.01
"""Two points closer than this many millimetres are one point written twice."""
_MAXIMUM_STATIONS = 400
"""Points of one piece of a path: enough for 2 m at every 5 mm; a slip of a digit may make a piece of kilometres."""
_STEP = pi / 90
"""Largest angle between points along a circular piece: 2°, which misses the curve by under 0.02 % of its radius."""


@dataclass(frozen=True)
class Straight:
    """A straight piece, in mm."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length in mm."""
        return dist(self.start, self.end)

    def points(self, _step: float = 0.0) -> Iterator[Point]:
        """Yield the points after the start."""
        yield self.end

    def at(self, share: float) -> Point:
        """Return the point a share of the length on from the start, the end itself at 1."""
        return self.end if share == 1 else along(self.start, minus(self.end, self.start), share)


@lru_cache(maxsize=512)
def pieces_of(path: Path) -> tuple[Straight | Arc, ...]:
    """Return the pieces of a path in millimetres.

    Raises OutOfRangeError for a piece without length, and for a circular piece whose points make no circle.
    """
    here = point_in_mm(path.start, path.unit)
    found: list[Straight | Arc] = []
    for index, piece in enumerate(path.pieces):
        there = point_in_mm(piece.to, path.unit)
        with located(key=f"path.pieces[{index}]"):
            found.append(
                _arc(here, point_in_mm(piece.via, path.unit), there)
                if isinstance(piece, model.Arc)
                else _straight(here, there)
            )
        here = there
    return tuple(found)


def length_mm(path: Path) -> float:
    """Return the length along a path in millimetres."""
    return sum(piece.length for piece in pieces_of(path))


def points_mm(path: Path, step: float = _STEP) -> tuple[Point, ...]:
    """Return points along a path, corners and ends exactly, curves by points at most ``step`` radians apart."""
    return (start_mm(path), *(point for piece in pieces_of(path) for point in piece.points(step)))


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


def _arc(start: Point, via: Point, end: Point) -> Arc:
    found = arc_through(start, via, end)
    if found is None:
        raise refusal(
            "the three points of this piece make no circle: they lie on one line or coincide",
            "write a straight piece with 'to' alone, or choose 'via' on the curve; write a full circle as two halves",
        )
    return found
