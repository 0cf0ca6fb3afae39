"""Rectangles in sheet pixels (y down), and a grid that answers quickly what stands where."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

Spot2 = tuple[float, float]
"""A position on the sheet, in pixels, y down."""
_CELL = 48.0


@dataclass(frozen=True, slots=True)
class Box:
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
        """Tell whether the two share an area (touching edges do not count)."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def holds(self, other: Box) -> bool:
        """Tell whether ``other`` lies wholly inside."""
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
        """Tell whether the straight line from ``start`` to ``end`` enters the box."""
        if (
            (start[0] <= self.left and end[0] <= self.left)
            or (start[0] >= self.right and end[0] >= self.right)
            or (start[1] <= self.top and end[1] <= self.top)
            or (start[1] >= self.bottom and end[1] >= self.bottom)
        ):
            return False
        return self.inside_part(start, end) is not None


def around(centre: Spot2, half: float) -> Box:
    """Return the square of half side ``half`` about ``centre``."""
    return Box(centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)


def hull(points: Iterable[Spot2]) -> Box:
    """Return the smallest box around ``points`` (at least one)."""
    known = list(points)
    xs, ys = [x for x, _ in known], [y for _, y in known]
    return Box(min(xs), min(ys), max(xs), max(ys))


class Crowd:
    """What already stands on the sheet: boxes that nothing may cover, and lines better left free."""

    def __init__(self) -> None:
        self._boxes: dict[tuple[int, int], list[Box]] = defaultdict(list)
        self._lines: dict[tuple[int, int], list[int]] = defaultdict(list)
        self._known: list[tuple[Spot2, Spot2]] = []

    def block(self, box: Box) -> None:
        """Keep ``box`` free of labels."""
        for cell in _cells(box):
            self._boxes[cell].append(box)

    def line(self, start: Spot2, end: Spot2) -> None:
        """Note a line that labels should not cover if there is another place."""
        for cell in _cells(hull((start, end))):
            self._lines[cell].append(len(self._known))
        self._known.append((start, end))

    def polyline(self, points: Iterable[Spot2]) -> None:
        """Note each piece of a line through ``points``."""
        for start, end in pairwise(points):
            self.line(start, end)

    def taken(self, box: Box) -> bool:
        """Tell whether ``box`` would cover a blocked box."""
        return any(box.overlaps(other) for cell in _cells(box) for other in self._boxes.get(cell, ()))

    def crossings(self, box: Box) -> int:
        """Count the noted lines that run through ``box``."""
        near = {index for cell in _cells(box) for index in self._lines.get(cell, ())}
        return sum(box.crossed_by(*self._known[index]) for index in near)

    def hits(self, start: Spot2, end: Spot2) -> bool:
        """Tell whether a line from ``start`` to ``end`` would run through a blocked box."""
        return any(
            box.crossed_by(start, end) for cell in _cells(hull((start, end))) for box in self._boxes.get(cell, ())
        )


def _cells(box: Box) -> list[tuple[int, int]]:
    columns = range(int(box.left // _CELL), int(box.right // _CELL) + 1)
    rows = range(int(box.top // _CELL), int(box.bottom // _CELL) + 1)
    return [(column, row) for column in columns for row in rows]
