"""Flat outlines in space: whether a point lies on one, how far it is off its plane and from its edges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, hypot, inf, sqrt

from weld_packets.geometry.vectors import FlatPoint, Point, along, cross, dot, minus

_AXES = {"XY": (0, 1, 2), "XZ": (0, 2, 1), "YZ": (1, 2, 0)}
_NO_AREA = 1e-9
"""Length of the area vector of an outline below which it encloses none."""
Edge = tuple[FlatPoint, FlatPoint]


def encloses(edges: Iterable[Edge], across: float, up: float) -> bool:
    """Return whether a point lies inside an odd number of rings of edges; a point of an edge may count as in or out."""
    crossings = sum(
        1 for (x1, y1), (x2, y2) in edges if (y1 > up) != (y2 > up) and across < (x2 - x1) * (up - y1) / (y2 - y1) + x1
    )
    return crossings % 2 == 1


def foot_on(point: Point, start: Point, end: Point) -> Point:
    """Return the point of a straight piece that is nearest to ``point``."""
    course = minus(end, start)
    square = dot(course, course)
    share = min(1.0, max(0.0, dot(minus(point, start), course) / square)) if square else 0.0
    return along(start, course, share)


def normal_of(points: Sequence[Point]) -> Point | None:
    """Return the unit normal of a flat outline; None when it encloses no area."""
    whole: Point = (0.0, 0.0, 0.0)
    for one, other in pairwise(points[1:]):
        whole = along(whole, cross(minus(one, points[0]), minus(other, points[0])), 1.0)
    size = sqrt(dot(whole, whole))
    return None if size < _NO_AREA else (whole[0] / size, whole[1] / size, whole[2] / size)


@dataclass(frozen=True, slots=True)
class Surface:
    """One outline in any plane with its unit normal.

    ``axes`` are the two axes along which it is seen best, ``edges`` its edges along these, ``low`` and ``high`` the
    corners of the box around them.
    """

    points: tuple[Point, ...]
    normal: Point
    axes: tuple[int, int]
    edges: tuple[Edge, ...]
    low: FlatPoint
    high: FlatPoint

    def height(self, point: Point) -> float:
        """Return how far ``point`` lies off the plane, positive on the side of the normal."""
        return dot(minus(point, self.points[0]), self.normal)

    def holds(self, point: Point) -> bool:
        """Return whether ``point``, which lies in the plane, is within the outline."""
        across, up = point[self.axes[0]], point[self.axes[1]]
        if not (self.low[0] <= across <= self.high[0] and self.low[1] <= up <= self.high[1]):
            return False
        return encloses(self.edges, across, up)

    def foot(self, point: Point) -> Point:
        """Return the point of the outline that is nearest to ``point``."""
        ends = zip(self.points, (*self.points[1:], self.points[0]), strict=True)
        return min((foot_on(point, one, other) for one, other in ends), key=lambda found: dist(point, found))


def surface_of(points: tuple[Point, ...]) -> Surface | None:
    """Return an outline as a surface; None when it encloses no area."""
    normal = normal_of(points)
    if normal is None:
        return None
    drop = max(range(3), key=lambda axis: abs(normal[axis]))
    u, v = (axis for axis in range(3) if axis != drop)
    flat = [(point[u], point[v]) for point in points]
    (left, low), (right, high) = (tuple(edge(values) for values in zip(*flat, strict=True)) for edge in (min, max))
    return Surface(points, normal, (u, v), tuple(_closed(flat)), (left, low), (right, high))


class FlatShape:
    """Outlines in one plane along two axes; a point inside an odd number of them is on the sheet, so holes count."""

    def __init__(self, plane: str, offset: float, outlines: Sequence[Sequence[FlatPoint]]) -> None:
        self.plane = plane
        self.offset = offset
        self._edges = [edge for outline in outlines for edge in _closed(outline)]
        self._box = _box_of(self._edges)
        self._spans = [_span(start, end) for start, end in self._edges]

    def height(self, point: Point) -> float:
        """Return how far a point is off the plane."""
        return abs(self.rise(point))

    def rise(self, point: Point) -> float:
        """Return how far a point is off the plane, negative on the side towards zero."""
        return point[_AXES[self.plane][2]] - self.offset

    def holds(self, point: Point) -> bool:
        """Return whether the point's foot in the plane is on the sheet; a point of an edge may count as in or out."""
        return encloses(self._edges, *self._flat(point))

    def edge_distance(self, point: Point) -> float:
        """Return the distance from the point's foot to the nearest edge."""
        x, y = self._flat(point)
        smallest = inf
        for start_x, start_y, along_x, along_y, square in self._spans:  # a loop in the open: it is run very often
            from_x, from_y = x - start_x, y - start_y
            share = (from_x * along_x + from_y * along_y) / square
            if share > 0.0:
                share = min(share, 1.0)
                from_x -= share * along_x
                from_y -= share * along_y
            found = from_x * from_x + from_y * from_y
            smallest = min(found, smallest)
        return sqrt(smallest)

    def box_distance(self, point: Point) -> float:
        """Return how far the point's foot lies outside the box around the outlines; 0 inside it."""
        (left, low), (right, high) = self._box
        x, y = self._flat(point)
        return hypot(max(left - x, x - right, 0.0), max(low - y, y - high, 0.0))

    def nearest_edge(self, point: Point) -> Point:
        """Return the direction of the edge that is nearest to the point's foot, from its one end to the other."""
        x, y = self._flat(point)
        start, end = min(self._edges, key=lambda edge: _squared_to_edge(x, y, *edge))
        return self._in_space(end[0] - start[0], end[1] - start[1])

    def edge_lengths(self) -> Iterator[float]:
        """Yield the length of every edge."""
        return (dist(start, end) for start, end in self._edges)

    def _in_space(self, across: float, up: float) -> Point:
        found = [0.0, 0.0, 0.0]
        along_across, along_up, _ = _AXES[self.plane]
        found[along_across], found[along_up] = across, up
        return found[0], found[1], found[2]

    def _flat(self, point: Point) -> FlatPoint:
        across, up, _ = _AXES[self.plane]
        return point[across], point[up]


def _closed(outline: Sequence[FlatPoint]) -> Iterator[Edge]:
    return zip(outline, [*outline[1:], outline[0]], strict=True)


def _span(start: FlatPoint, end: FlatPoint) -> tuple[float, float, float, float, float]:
    """Return where an edge starts, how far it runs, and the square of its length; 1 for one without length."""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    return *start, along_x, along_y, along_x * along_x + along_y * along_y or 1.0


def _box_of(edges: Sequence[Edge]) -> tuple[FlatPoint, FlatPoint]:
    across, up = ([start[axis] for start, _ in edges] for axis in (0, 1))
    return (min(across), min(up)), (max(across), max(up))


def _squared_to_edge(x: float, y: float, start: FlatPoint, end: FlatPoint) -> float:
    from_x, from_y = x - start[0], y - start[1]
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    length = along_x * along_x + along_y * along_y
    if length:
        share = min(1.0, max(0.0, (from_x * along_x + from_y * along_y) / length))
        from_x -= share * along_x
        from_y -= share * along_y
    return from_x * from_x + from_y * from_y
