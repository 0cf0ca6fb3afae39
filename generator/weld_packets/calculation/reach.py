"""Geometry of points, paths and outlines in plain millimetres: distances, edges, closest pairs, reach of a robot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from math import dist, hypot, inf, sqrt

from weld_packets.calculation.measure import in_mm
from weld_packets.model.machines import Robot
from weld_packets.model.order import Coordinates, LengthUnit, Outline, Spot
from weld_packets.units import quantity

Point = tuple[float, float, float]
FlatPoint = tuple[float, float]
SLACK = 1e-6
"""Millimetres by which a found length may miss a limit: float noise, far below any gauge."""
_AXES = {"XY": (0, 1, 2), "XZ": (0, 2, 1), "YZ": (1, 2, 0)}


def point_in_mm(coordinates: Coordinates, unit: LengthUnit) -> Point:
    """Return coordinates in millimetres."""
    scale = _millimetres(unit)
    x, y, z = (float(number) * scale for number in coordinates)
    return x, y, z


@cache
def _millimetres(unit: LengthUnit) -> float:
    return in_mm(quantity(1.0, unit))


def spot_point(spot: Spot) -> Point:
    """Return where a spot is, in millimetres from the fixture datum."""
    return in_mm(spot.x), in_mm(spot.y), in_mm(spot.z)


def base_point(robot: Robot) -> Point:
    """Return where a robot's base stands, in millimetres from the fixture datum."""
    return point_in_mm(robot.base, robot.base_unit)


def farthest(robot: Robot, points: Iterable[Point]) -> tuple[int, float]:
    """Return index and distance in millimetres of the point farthest from the robot's base."""
    base = base_point(robot)
    return max(enumerate(dist(base, point) for point in points), key=lambda found: found[1])


def within(found: float, limit: float) -> bool:
    """Return whether a length is no more than its limit, but for float noise."""
    return found <= limit + SLACK


class FlatShape:
    """The outlines of a part in one plane; a point inside an odd number of them is on the sheet, so holes count."""

    def __init__(self, plane: str, offset: float, outlines: Sequence[Sequence[FlatPoint]]) -> None:
        self.plane = plane
        self.offset = offset
        self._axes = _AXES[plane]
        self._edges = [edge for outline in outlines for edge in _closed(outline)]
        self._box = _box_of(self._edges)
        self._spans = [_span(start, end) for start, end in self._edges]

    def height(self, point: Point) -> float:
        """Return how far a point stands off the plane in millimetres."""
        return abs(self.rise(point))

    def rise(self, point: Point) -> float:
        """Return how far a point stands off the plane in millimetres, negative on the side towards the datum."""
        return point[self._axes[2]] - self.offset

    def holds(self, point: Point) -> bool:
        """Return whether the point's foot in the plane is on the sheet; an edge's own points may fall either way."""
        x, y = self._flat(point)
        crossings = sum(
            1
            for (x1, y1), (x2, y2) in self._edges
            if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1
        )
        return crossings % 2 == 1

    def edge_distance(self, point: Point) -> float:
        """Return the distance in millimetres from the point's foot to the nearest edge."""
        x, y = self._flat(point)
        minimum = inf
        for start_x, start_y, along_x, along_y, square in self._spans:  # a loop in the open: it is run very often
            from_x, from_y = x - start_x, y - start_y
            share = (from_x * along_x + from_y * along_y) / square
            if share >= 1.0:
                from_x -= along_x
                from_y -= along_y
            elif share > 0.0:
                from_x -= share * along_x
                from_y -= share * along_y
            found = from_x * from_x + from_y * from_y
            if found < minimum:  # noqa: PLR1730 - a call for each edge would cost as much as all the rest
                minimum = found
        return sqrt(minimum)

    def box_distance(self, point: Point) -> float:
        """Return how far in millimetres the point's foot lies outside the box around the outlines; 0 inside it."""
        (left, low), (right, high) = self._box
        x, y = self._flat(point)
        return hypot(max(left - x, x - right, 0.0), max(low - y, y - high, 0.0))

    def nearest_edge(self, point: Point) -> Point:
        """Return the way along the edge that is nearest to the point's foot, in mm, from its one end to the other."""
        x, y = self._flat(point)
        start, end = min(self._edges, key=lambda edge: _squared_to_edge(x, y, *edge))
        return self._in_space(end[0] - start[0], end[1] - start[1])

    def edge_lengths(self) -> Iterator[float]:
        """Yield the length of every edge in mm."""
        return (dist(start, end) for start, end in self._edges)

    def _in_space(self, across: float, up: float) -> Point:
        way = [0.0, 0.0, 0.0]
        along_across, along_up, _ = self._axes
        way[along_across], way[along_up] = across, up
        return way[0], way[1], way[2]

    def _flat(self, point: Point) -> FlatPoint:
        across, up, _ = self._axes
        return point[across], point[up]


def _closed(outline: Sequence[FlatPoint]) -> Iterator[tuple[FlatPoint, FlatPoint]]:
    return zip(outline, [*outline[1:], outline[0]], strict=True)


def _span(start: FlatPoint, end: FlatPoint) -> tuple[float, float, float, float, float]:
    """Return where an edge starts, how far it runs, and the square of its length; 1 for one without length."""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    return *start, along_x, along_y, along_x * along_x + along_y * along_y or 1.0


def _box_of(edges: Sequence[tuple[FlatPoint, FlatPoint]]) -> tuple[FlatPoint, FlatPoint]:
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


def flat_shapes(outlines: Iterable[Outline], scale: float = 1.0) -> list[FlatShape]:
    """Return the outlines of a part as one shape for each plane and offset, in millimetres.

    ``scale`` is for looking whether outlines were drawn in another unit; an offset is the order's and stays.
    """
    planes: dict[tuple[str, float], list[list[FlatPoint]]] = {}
    for outline in outlines:
        if outline.points:
            offset = in_mm(outline.offset) if outline.offset is not None else 0.0
            planes.setdefault((outline.plane, offset), []).append(_flat_points(outline, scale))
    return [FlatShape(plane, offset, found) for (plane, offset), found in planes.items()]


def _flat_points(outline: Outline, times: float) -> list[FlatPoint]:
    scale = _millimetres(outline.unit or "mm") * times
    return [(float(across) * scale, float(up) * scale) for across, up in outline.points]


def pairs_closer(points: Sequence[Point], limit: float) -> Iterator[tuple[int, int, float]]:
    """Yield index pairs of points less than ``limit`` mm apart, with the distance; sweeps along the longest axis."""
    axis = _longest_axis(points)
    order = sorted(range(len(points)), key=lambda index: points[index][axis])
    for place, first in enumerate(order):
        for second in order[place + 1 :]:
            if points[second][axis] - points[first][axis] >= limit:
                break
            apart = dist(points[first], points[second])
            if apart < limit:
                yield min(first, second), max(first, second), apart


def _longest_axis(points: Sequence[Point]) -> int:
    def extent(axis: int) -> float:
        along = [point[axis] for point in points]
        return max(along, default=0.0) - min(along, default=0.0)

    return max(range(3), key=extent)


def closest_pair(points: Sequence[Point], counts: Callable[[int, int], bool]) -> tuple[int, int, float] | None:
    """Return the closest pair among those that ``counts`` admits, with its distance; None where there is none."""
    best: tuple[int, int, float] | None = None
    axis = _longest_axis(points)
    order = sorted(range(len(points)), key=lambda index: points[index][axis])
    for place, first in enumerate(order):
        for second in order[place + 1 :]:
            nearest = best[2] if best else inf
            if points[second][axis] - points[first][axis] >= nearest:
                break
            if counts(first, second) and (apart := dist(points[first], points[second])) < nearest:
                best = (min(first, second), max(first, second), apart)
    return best
