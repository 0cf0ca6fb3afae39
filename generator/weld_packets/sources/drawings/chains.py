"""Joining loose pieces of an outline end to end into closed rings."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from weld_packets.errors import Problem, SourceError
from weld_packets.sources.reading.places import capped

Point = tuple[float, float]
Ring = tuple[Point, ...]
_MINIMUM_CORNERS = 3
_REMEDY = "close the outline in the drawing so that each end meets exactly one other"


def join(pieces: Sequence[Ring], file: str, tolerance: float) -> tuple[Ring, ...]:
    """Return the closed rings that ``pieces`` form, each without repeating its first point.

    Ends within ``tolerance`` of each other are one. Raises SourceError for every end that meets no other end or
    several, and for rings without area.
    """
    pieces = [piece for piece in pieces if len(set(piece)) > 1]
    knots = _Knots(tolerance)
    ends = [(knots.at(piece[0]), knots.at(piece[-1])) for piece in pieces]
    meetings: dict[int, list[int]] = defaultdict(list)
    for index, (first, last) in enumerate(ends):
        meetings[first].append(index)
        meetings[last].append(index)
    _refuse_open(meetings, knots, file)
    return tuple(_rings(pieces, ends, meetings, file))


class _Knots:
    """Numbers points, giving one number to points within the tolerance."""

    def __init__(self, tolerance: float) -> None:
        self.tolerance = tolerance
        self.points: list[Point] = []
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def at(self, point: Point) -> int:
        column, row = (math.floor(value / self.tolerance) for value in point)
        for cell in [(column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]:
            for number in self._cells.get(cell, ()):
                if math.dist(self.points[number], point) <= self.tolerance:
                    return number
        self.points.append(point)
        self._cells[column, row].append(len(self.points) - 1)
        return len(self.points) - 1


def _refuse_open(meetings: dict[int, list[int]], knots: _Knots, file: str) -> None:
    problems = []
    for knot, met in sorted(meetings.items()):
        if len(met) != 2:  # noqa: PLR2004 - an outline goes in and out of each corner
            x, y = knots.points[knot]
            fault = "is open" if len(met) == 1 else f"branches ({len(met)} ends meet)"
            problems.append(Problem(file, 0, "", f"x {x:.3f} mm, y {y:.3f} mm", f"the outline {fault} here", _REMEDY))
    if problems:
        raise SourceError(capped(problems))


def _rings(
    pieces: Sequence[Ring], ends: list[tuple[int, int]], meetings: dict[int, list[int]], file: str
) -> list[Ring]:
    left = set(range(len(pieces)))
    rings = []
    for start in range(len(pieces)):
        if start in left:
            ring = _ring(start, pieces, ends, meetings, left)
            if len(ring) < _MINIMUM_CORNERS:
                raise SourceError([Problem(file, 0, "", "", "a closed outline has no area", "delete the doubled line")])
            rings.append(ring)
    return rings


def _ring(
    start: int, pieces: Sequence[Ring], ends: list[tuple[int, int]], meetings: dict[int, list[int]], left: set[int]
) -> Ring:
    """Walk from piece to piece until the ring closes, taking the pieces walked out of ``left``."""
    ring: list[Point] = []
    piece, knot = start, ends[start][0]
    while True:
        left.discard(piece)
        first, last = ends[piece]
        ring += pieces[piece][:-1] if knot == first else tuple(reversed(pieces[piece]))[:-1]
        knot = last if knot == first else first
        following = [other for other in meetings[knot] if other in left]
        if not following:
            return tuple(ring)
        piece = following[0]
