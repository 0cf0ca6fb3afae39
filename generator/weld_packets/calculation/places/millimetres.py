"""Places of robots and outlines in plain millimetres, and lengths beside their limits but for float noise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from math import dist

from weld_packets.geometry.outlines import FlatShape
from weld_packets.geometry.vectors import FlatPoint, Point
from weld_packets.model.order import Coordinates, LengthUnit, Outline
from weld_packets.model.tables.machines import Robot
from weld_packets.units import in_mm, quantity

SLACK = 1e-6
"""Millimetres by which a found length may miss a limit: float noise, far below any gauge."""


def point_in_mm(coordinates: Coordinates, unit: LengthUnit) -> Point:
    """Return coordinates in millimetres."""
    scale = _millimetres(unit)
    x, y, z = (float(number) * scale for number in coordinates)
    return x, y, z


@cache
def _millimetres(unit: LengthUnit) -> float:
    return in_mm(quantity(1.0, unit))


def base_point(robot: Robot) -> Point:
    """Return where a robot's base is, in millimetres from the fixture datum."""
    return point_in_mm(robot.base, robot.base_unit)


def farthest(robot: Robot, points: Iterable[Point]) -> tuple[int, float]:
    """Return index and distance in millimetres of the point farthest from the robot's base."""
    base = base_point(robot)
    return max(enumerate(dist(base, point) for point in points), key=lambda found: found[1])


def within(found: float, limit: float) -> bool:
    """Return whether a length is no more than its limit, but for float noise."""
    return found <= limit + SLACK


def flat_shapes(outlines: Iterable[Outline], scale: float = 1.0) -> list[FlatShape]:
    """Return the outlines of a component as one shape for each plane and offset, in millimetres.

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


def points_in_space(outline: Outline) -> Iterator[Point]:
    """Yield the corners of an outline in space, in millimetres from the fixture datum."""
    offset = 0.0 if outline.offset is None else in_mm(outline.offset)
    scale = _millimetres(outline.unit or "mm")
    for across, up in ((float(x) * scale, float(y) * scale) for x, y in outline.points):
        yield {"XY": (across, up, offset), "XZ": (across, offset, up), "YZ": (offset, across, up)}[outline.plane]
