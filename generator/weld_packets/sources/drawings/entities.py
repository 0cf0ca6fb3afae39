"""What each kind of drawn element is as a chain of points in space.

Curves are flattened by the arcs of ezdxf, whose points lie on the curve. ``ezdxf.path`` is not used for polylines:
version 1.4.5 runs a clockwise bulge that ends on an axis of the drawing in the wrong direction, without a word. A test
holds that the area of such an outline is right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import islice, pairwise
from typing import Any

from ezdxf.math import ConstructionArc, Vec2, bulge_to_arc

POINT_LIMIT = 50_000
"""Points that the outlines of a drawing may have; of a longer polyline no more are made."""
_SPLINE_FIT = 4
_MAXIMUM_RADIUS = 1e6
_AT_45_DEGREES = 1 - math.cos(math.radians(45 / 2))
"""Rise of an arc of 45 degrees over its chord, by its radius: no chord spans more, however small a hole is."""

KINDS = frozenset({"LINE", "CIRCLE", "ARC", "LWPOLYLINE", "POLYLINE"})
"""The kinds of element that can be part of an outline."""


class StrayError(Exception):
    """An element that cannot be part of an outline; its text says why."""


def trace(entity: Any, flatness: float) -> list[Any]:
    """Return the points of an element in world coordinates, the first again at the end of a closed one.

    ``flatness`` is the maximum distance from a curve, in the drawing's unit. Raises StrayError for polylines that
    are splines or surfaces, and for arcs without a sensible radius or length.
    """
    kind = entity.dxftype()
    if kind == "LINE":
        return [entity.dxf.start, entity.dxf.end]
    if kind in {"CIRCLE", "ARC"}:
        return _arc(entity, flatness)
    return _light_polyline(entity, flatness) if kind == "LWPOLYLINE" else _old_polyline(entity, flatness)


def _arc(entity: Any, flatness: float) -> list[Any]:
    kind, radius = entity.dxftype(), entity.dxf.radius
    if not 0 < radius < _MAXIMUM_RADIUS:
        raise StrayError(f"a {kind} has the radius {radius:g}")
    points = list(entity.flattening(_rise(radius, flatness)))
    if not points:
        raise StrayError(f"an {kind} ends where it begins")
    return points


def _rise(radius: float, flatness: float) -> float:
    return min(flatness, radius * _AT_45_DEGREES)


def _light_polyline(entity: Any, flatness: float) -> list[Any]:
    corners = [(Vec2(x, y), bulge) for x, y, bulge in entity.get_points("xyb")]
    points = islice(_along(corners, flatness, closed=entity.closed), POINT_LIMIT + 1)
    return _in_space(entity, points, entity.dxf.elevation)


def _old_polyline(entity: Any, flatness: float) -> list[Any]:
    if entity.dxf.flags & _SPLINE_FIT or not (entity.is_2d_polyline or entity.is_3d_polyline):
        raise StrayError("a POLYLINE is a spline or a surface")
    places = list(entity.points())
    if entity.is_3d_polyline:
        return [*places, *places[: entity.is_closed]]
    corners = [(Vec2(place), vertex.dxf.bulge) for place, vertex in zip(places, entity.vertices, strict=True)]
    points = islice(_along(corners, flatness, closed=entity.is_closed), POINT_LIMIT + 1)
    return _in_space(entity, points, entity.dxf.elevation.z)


def _along(corners: Sequence[tuple[Vec2, float]], flatness: float, *, closed: bool) -> Iterator[Vec2]:
    """Yield the points of a polyline from its corners, each with the bulge of the piece that follows it."""
    yield corners[0][0]
    for (start, bulge), (end, _) in pairwise([*corners, *corners[:closed]]):
        _refuse_absurd(float(bulge), start.distance(end))
        if abs(bulge) * start.distance(end) / 2 > flatness:
            yield from _inside_bulge(start, end, bulge, flatness)
        yield end


def _refuse_absurd(bulge: float, chord: float) -> None:
    """Raise StrayError for an arc of more than half a circle that is larger than any; a flatter one is straight."""
    if not math.isfinite(bulge) or (
        abs(bulge) > 1 and not chord * (1 + bulge * bulge) / 4 < _MAXIMUM_RADIUS * abs(bulge)
    ):
        raise StrayError(f"a polyline has the bulge {bulge:g}")


def _inside_bulge(start: Vec2, end: Vec2, bulge: float, flatness: float) -> Sequence[Vec2]:
    """Return the points between the ends of a piece; a bulge is negative where its arc runs clockwise."""
    centre, first, last, radius = bulge_to_arc(start, end, bulge)
    arc = ConstructionArc(centre, radius, math.degrees(first), math.degrees(last))
    points = list(arc.flattening(_rise(radius, flatness)))[1:-1]
    return points if bulge > 0 else points[::-1]


def _in_space(entity: Any, points: Iterator[Vec2], height: float) -> list[Any]:
    """Return points of an element's own plane in world coordinates."""
    plane = entity.ocs()
    return [plane.to_wcs((point.x, point.y, height)) for point in points]
