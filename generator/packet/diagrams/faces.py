"""On which flat faces of the parts a point lies, and how far from their edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.packet.diagrams.geometry import Outline, Point3, along, cross, dot, minus

REACH_MM = 10.0
"""A point counts as on a face up to this far off it: sheets are drawn by one of their faces."""
_ON_EDGE_MM = 0.5
"""A point this close to an edge lies on another face that begins there, such as a flange."""
_NO_AREA = 1e-9


@dataclass(frozen=True, slots=True)
class Face:
    """A face that a point lies on: its unit normal, and the nearest point on its edge, level with the point."""

    normal: Point3
    foot: Point3


def faces_of(point: Point3, outlines: Sequence[Outline]) -> list[Face]:
    """Return the faces among ``outlines`` that ``point`` lies on, well inside their edges."""
    found = (_face(point, outline) for outline in outlines)
    return [face for face in found if face is not None and math.dist(point, face.foot) > _ON_EDGE_MM]


def _face(point: Point3, outline: Outline) -> Face | None:
    normal = normal_of(outline.points)
    if normal is None:
        return None
    height = dot(minus(point, outline.points[0]), normal)
    flat = along(point, normal, -height)
    if abs(height) > REACH_MM or not _inside(flat, outline.points, normal):
        return None
    ends = zip(outline.points, (*outline.points[1:], outline.points[0]), strict=True)
    foot = min((_foot(flat, one, other) for one, other in ends), key=lambda candidate: math.dist(flat, candidate))
    return Face(normal, along(foot, normal, height))


def normal_of(points: Sequence[Point3]) -> Point3 | None:
    """Return the unit normal of a flat outline; None when it encloses no area."""
    whole: Point3 = (0.0, 0.0, 0.0)
    for one, other in pairwise(points[1:]):
        whole = along(whole, cross(minus(one, points[0]), minus(other, points[0])), 1.0)
    size = math.sqrt(dot(whole, whole))
    return None if size < _NO_AREA else (whole[0] / size, whole[1] / size, whole[2] / size)


def _inside(point: Point3, points: Sequence[Point3], normal: Point3) -> bool:
    """Tell by crossing count whether ``point`` lies within the outline, seen along its greatest normal axis."""
    drop = max(range(3), key=lambda axis: abs(normal[axis]))
    u, v = (axis for axis in range(3) if axis != drop)
    inside = False
    for one, other in zip(points, (*points[1:], points[0]), strict=True):
        if (one[v] > point[v]) != (other[v] > point[v]):
            crossing = one[u] + (point[v] - one[v]) / (other[v] - one[v]) * (other[u] - one[u])
            inside ^= point[u] < crossing
    return inside


def _foot(point: Point3, start: Point3, end: Point3) -> Point3:
    way = minus(end, start)
    square = dot(way, way)
    share = min(1.0, max(0.0, dot(minus(point, start), way) / square)) if square else 0.0
    return along(start, way, share)
