"""Rectangles in sheet pixels (y down), and a grid that answers quickly what lies where."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

Spot2 = tuple[float, float]
"""A position on the sheet, in pixels, y down."""
_PER_CELL = 1 / 48


class Box(NamedTuple):
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.bottom - self.top

    @property
    def centre(self) -> Spot2:
        """The middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def overlaps(self, other: Box) -> bool:
        """Return whether the two share an area (touching edges do not count)."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def holds(self, other: Box) -> bool:
        """Return whether ``other`` lies wholly inside."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )

    def grown(self, by: float) -> Box:
        """Return the box with ``by`` pixels added on each side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def inside_part(self, start: Spot2, end: Spot2) -> tuple[Spot2, Spot2] | None:
        """Return the piece of a straight line that lies inside, None when none does (Liang-Barsky clipping)."""
        enter, leave = 0.0, 1.0
        dx, dy = end[0] - start[0], end[1] - start[1]
        for step, room in (
            (-dx, start[0] - self.left),
            (dx, self.right - start[0]),
            (-dy, start[1] - self.top),
            (dy, self.bottom - start[1]),
        ):
            if step == 0 and room <= 0:
                return None
            if step < 0:
                enter = max(enter, room / step)
            elif step > 0:
                leave = min(leave, room / step)
        if enter >= leave:
            return None
        return (start[0] + enter * dx, start[1] + enter * dy), (start[0] + leave * dx, start[1] + leave * dy)

    def crossed_by(self, start: Spot2, end: Spot2) -> bool:
        """Return whether the straight line from ``start`` to ``end`` enters the box."""
        (x, y), (a, b) = start, end
        left, top, right, bottom = self
        if (
            (x <= left and a <= left)
            or (x >= right and a >= right)
            or (y <= top and b <= top)
            or (y >= bottom and b >= bottom)
        ):
            return False
        dx, dy = a - x, b - y
        aside = dx * (top + bottom - 2 * y) - dy * (left + right - 2 * x)
        return dx == dy == 0 or abs(aside) < abs(dx) * (bottom - top) + abs(dy) * (right - left)


def around(centre: Spot2, half: float) -> Box:
    """Return the square of half side ``half`` about ``centre``."""
    return Box(centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)


def hull(points: Iterable[Spot2]) -> Box:
    """Return the smallest box around ``points`` (at least one)."""
    known = list(points)
    xs, ys = [x for x, _ in known], [y for _, y in known]
    return Box(min(xs), min(ys), max(xs), max(ys))


class _Line(NamedTuple):
    """A piece of a noted line with the box that it spans, how many lines it counts for, and of which line it is."""

    start: Spot2
    end: Spot2
    span: Box
    weight: int
    of: int


class Crowd:
    """What is already on the sheet: boxes that nothing may cover, and lines better left free."""

    def __init__(self) -> None:
        self._boxes: dict[tuple[int, int], list[Box]] = defaultdict(list)
        self._lines: dict[tuple[int, int], list[_Line]] = defaultdict(list)
        self._count = 0

    def block(self, box: Box) -> None:
        """Keep ``box`` free of labels."""
        for cell in _cells(box):
            self._boxes[cell].append(box)

    def line(self, start: Spot2, end: Spot2, weight: int = 1) -> None:
        """Note a line that labels should not cover if there is another place; it counts for ``weight`` lines."""
        self.polyline((start, end), weight)

    def bar(self, start: Spot2, end: Spot2, half: float = 1.5) -> None:
        """Keep a line ``half`` pixels to either side free of labels and of other lines."""
        steps = max(1, math.ceil(math.dist(start, end) / (2 * half)))
        for step in range(steps):
            share = step / steps
            self.block(around((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), half))

    def polyline(self, points: Iterable[Spot2], weight: int = 1) -> None:
        """Note a line through ``points``, which counts once however many of its pieces are covered."""
        self._count += 1
        for start, end in pairwise(points):
            noted = _Line(start, end, _span(start, end), weight, self._count)
            for cell in _cells(noted.span):
                self._lines[cell].append(noted)

    def taken(self, box: Box) -> bool:
        """Return whether ``box`` would cover a blocked box."""
        left, top, right, bottom = box
        for cell in _cells(box):
            for known in self._boxes.get(cell, ()):
                if left < known[2] and known[0] < right and top < known[3] and known[1] < bottom:
                    return True
        return False

    def crossings(self, box: Box) -> int:
        """Count the noted lines that run through ``box``."""
        left, top, right, bottom = box
        found: dict[int, int] = {}
        for cell in _cells(box):
            for line in self._lines.get(cell, ()):
                span = line[2]
                if (
                    left < span[2]
                    and span[0] < right
                    and top < span[3]
                    and span[1] < bottom
                    and line[4] not in found
                    and box.crossed_by(line[0], line[1])
                ):
                    found[line[4]] = line[3]
        return sum(found.values())

    def cuts(self, start: Spot2, end: Spot2) -> int:
        """Count the noted lines that a line from ``start`` to ``end`` would cross."""
        span = _span(start, end)
        return len(
            {
                line.of
                for cell in _cells(span)
                for line in self._lines.get(cell, ())
                if _parts(line.start, line.end, start, end) and _parts(start, end, line.start, line.end)
            }
        )

    def hits(self, start: Spot2, end: Spot2) -> bool:
        """Return whether a line from ``start`` to ``end`` would run through a blocked box."""
        return any(
            box.crossed_by(start, end) for cell in _cells(_span(start, end)) for box in self._boxes.get(cell, ())
        )


def _parts(start: Spot2, end: Spot2, one: Spot2, other: Spot2) -> bool:
    """Return whether two points lie on different sides of the endless line through ``start`` and ``end``."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    first = dx * (one[1] - start[1]) - dy * (one[0] - start[0])
    second = dx * (other[1] - start[1]) - dy * (other[0] - start[0])
    return (first > 0) != (second > 0)


def _span(start: Spot2, end: Spot2) -> Box:
    (x, y), (a, b) = start, end
    return Box(min(x, a), min(y, b), max(x, a), max(y, b))


def _cells(box: Box) -> list[tuple[int, int]]:
    left, top, right, bottom = box
    return _grid(int(left * _PER_CELL), int(top * _PER_CELL), int(right * _PER_CELL), int(bottom * _PER_CELL))


@lru_cache(maxsize=4096)
def _grid(left: int, top: int, right: int, bottom: int) -> list[tuple[int, int]]:
    return [(column, row) for column in range(left, right + 1) for row in range(top, bottom + 1)]
