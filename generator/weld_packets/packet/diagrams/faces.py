"""On which flat faces of the parts a point lies, how far from their edges, and which faces stand before it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from weld_packets.packet.diagrams.geometry import Outline, Point3, along, cross, dot, minus

REACH_MM = 10.0
"""A point counts as on a face up to this far off it: sheets are drawn by one of their faces."""
_ON_EDGE_MM = 0.5
"""A point this close to an edge lies on another face that begins there, such as a flange."""
_NO_AREA = 1e-9
_FACING = 0.9


@dataclass(frozen=True, slots=True)
class Face:
    """A face that a point lies on: its unit normal, and the nearest point on its edge, level with the point."""

    normal: Point3
    foot: Point3


@dataclass(frozen=True, slots=True)
class Surface:
    """A flat outline with its unit normal, the two axes along which it is best seen, and its extents along these."""

    points: tuple[Point3, ...]
    normal: Point3
    axes: tuple[int, int]
    low: tuple[float, float]
    high: tuple[float, float]

    def height(self, point: Point3) -> float:
        """Return how far ``point`` lies off the plane, positive on the side of the normal."""
        return dot(minus(point, self.points[0]), self.normal)

    def holds(self, point: Point3) -> bool:
        """Tell whether ``point``, which lies in the plane, is within the outline (crossing count)."""
        u, v = self.axes
        across, up = point[u], point[v]
        if not (self.low[0] <= across <= self.high[0] and self.low[1] <= up <= self.high[1]):
            return False
        inside = False
        for one, other in zip(self.points, (*self.points[1:], self.points[0]), strict=True):
            if (one[v] > up) != (other[v] > up):
                inside ^= across < one[u] + (up - one[v]) / (other[v] - one[v]) * (other[u] - one[u])
        return inside

    def foot(self, point: Point3) -> Point3:
        """Return the point of the outline that is nearest to ``point``."""
        ends = zip(self.points, (*self.points[1:], self.points[0]), strict=True)
        return min((_foot(point, one, other) for one, other in ends), key=lambda found: math.dist(point, found))


def surfaces_of(outlines: Iterable[Outline]) -> list[Surface]:
    """Return the outlines as surfaces, without those that enclose no area."""
    found = ((outline.points, normal_of(outline.points)) for outline in outlines)
    return [_surface(points, normal) for points, normal in found if normal is not None]


def _surface(points: tuple[Point3, ...], normal: Point3) -> Surface:
    drop = max(range(3), key=lambda axis: abs(normal[axis]))
    u, v = (axis for axis in range(3) if axis != drop)
    us, vs = [point[u] for point in points], [point[v] for point in points]
    return Surface(points, normal, (u, v), (min(us), min(vs)), (max(us), max(vs)))


def faces_of(point: Point3, surfaces: Sequence[Surface]) -> list[Face]:
    """Return the faces among ``surfaces`` that ``point`` lies on, well inside their edges."""
    found = (_face(point, surface) for surface in surfaces)
    return [face for face in found if face is not None and math.dist(point, face.foot) > _ON_EDGE_MM]


def _face(point: Point3, surface: Surface) -> Face | None:
    height = surface.height(point)
    if abs(height) > REACH_MM:
        return None
    flat = along(point, surface.normal, -height)
    return Face(surface.normal, along(surface.foot(flat), surface.normal, height)) if surface.holds(flat) else None


def hidden(point: Point3, eye: Point3, surfaces: Sequence[Surface]) -> bool:
    """Tell whether a surface that faces ``eye`` (a unit direction) stands before ``point``, clear of its own part."""
    return any(_before(point, eye, surface) for surface in surfaces)


def _before(point: Point3, eye: Point3, surface: Surface) -> bool:
    facing = dot(surface.normal, eye)
    if abs(facing) < _FACING:
        return False
    distance = -surface.height(point) / facing
    return distance > REACH_MM and surface.holds(along(point, eye, distance))


def normal_of(points: Sequence[Point3]) -> Point3 | None:
    """Return the unit normal of a flat outline; None when it encloses no area."""
    whole: Point3 = (0.0, 0.0, 0.0)
    for one, other in pairwise(points[1:]):
        whole = along(whole, cross(minus(one, points[0]), minus(other, points[0])), 1.0)
    size = math.sqrt(dot(whole, whole))
    return None if size < _NO_AREA else (whole[0] / size, whole[1] / size, whole[2] / size)


def _foot(point: Point3, start: Point3, end: Point3) -> Point3:
    way = minus(end, start)
    square = dot(way, way)
    share = min(1.0, max(0.0, dot(minus(point, start), way) / square)) if square else 0.0
    return along(start, way, share)
