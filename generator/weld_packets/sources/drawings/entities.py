"""What each kind of drawn element is as a chain of points in space."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from typing import Any

from weld_packets.sources.drawings.flattening import Point, arc_points, bulge_points

_SPLINE_FIT = 4
_MAXIMUM_RADIUS = 1e6


class StrayError(Exception):
    """An element that cannot be part of an outline; its text says why."""


def trace(entity: Any, flatness: float) -> list[Any]:
    """Return the points of an element in world coordinates, the first again at the end of a closed one.

    ``flatness`` is the maximum distance from a curve, in the drawing's unit. Raises StrayError for polylines that
    are splines or surfaces, and for arcs without a sensible radius.
    """
    return list(TRACES[entity.dxftype()](entity, flatness))


def _line(entity: Any, _flatness: float) -> Iterator[Any]:
    yield entity.dxf.start
    yield entity.dxf.end


def _circle(entity: Any, flatness: float) -> Iterator[Any]:
    return _arc_between(entity, 0, math.tau, flatness)


def _arc(entity: Any, flatness: float) -> Iterator[Any]:
    start, end = math.radians(entity.dxf.start_angle), math.radians(entity.dxf.end_angle)
    return _arc_between(entity, start, (end - start) % math.tau or math.tau, flatness)


def _arc_between(entity: Any, start: float, sweep: float, flatness: float) -> Iterator[Any]:
    centre, radius = entity.dxf.center, entity.dxf.radius
    if not 0 < radius < _MAXIMUM_RADIUS:
        raise StrayError(f"a {entity.dxftype()} has the radius {radius:g}")
    points = arc_points((centre.x, centre.y), radius, start, sweep, flatness)
    return _in_space(entity, points, centre.z)


def _light_polyline(entity: Any, flatness: float) -> Iterator[Any]:
    corners = [((x, y), bulge) for x, y, bulge in entity.get_points("xyb")]
    return _in_space(entity, _along(corners, flatness, closed=entity.closed), entity.dxf.elevation)


def _old_polyline(entity: Any, flatness: float) -> Iterator[Any]:
    if entity.dxf.flags & _SPLINE_FIT or not (entity.is_2d_polyline or entity.is_3d_polyline):
        raise StrayError("a POLYLINE is a spline or a surface")
    places = [vertex.dxf.location for vertex in entity.vertices]
    if entity.is_3d_polyline:
        return iter([*places, *places[: entity.is_closed]])
    corners = [((place.x, place.y), vertex.dxf.bulge) for place, vertex in zip(places, entity.vertices, strict=True)]
    return _in_space(entity, _along(corners, flatness, closed=entity.is_closed), entity.dxf.elevation.z)


def _along(corners: list[tuple[Point, float]], flatness: float, *, closed: bool) -> list[Point]:
    """Return the points of a polyline from its corners, each with the bulge of the piece that follows it."""
    points = [corners[0][0]]
    for (start, bulge), (end, _) in pairwise([*corners, *corners[:closed]]):
        points += bulge_points(start, end, bulge, flatness)
    return points


def _in_space(entity: Any, points: list[Point], height: float) -> Iterator[Any]:
    """Yield points of an element's own plane in world coordinates."""
    plane = entity.ocs()
    return (plane.to_wcs((x, y, height)) for x, y in points)


TRACES: Mapping[str, Callable[[Any, float], Iterator[Any]]] = {
    "LINE": _line,
    "CIRCLE": _circle,
    "ARC": _arc,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _old_polyline,
}
"""The kinds of element that can be part of an outline."""
