"""On which flat faces of the parts a point lies, how far from their edges, and which faces are in front of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from weld_packets.diagrams.scene import Outline
from weld_packets.geometry.outlines import Surface, surface_of
from weld_packets.geometry.vectors import Point, along, dot

REACH_MM = 10.0
"""A point counts as on a face up to this far off it: sheets are drawn by one of their faces."""
_ON_EDGE_MM = 0.5
"""A point this close to an edge lies on another face that begins there, such as a flange."""
_FACING = 0.9


@dataclass(frozen=True, slots=True)
class Face:
    """A face that a point lies on: its unit normal, and the nearest point on its edge, level with the point."""

    normal: Point
    foot: Point


def surfaces_of(outlines: Iterable[Outline]) -> list[Surface]:
    """Return the outlines as surfaces, without those that enclose no area."""
    found = (surface_of(outline.points) for outline in outlines)
    return [surface for surface in found if surface is not None]


def faces_of(point: Point, surfaces: Sequence[Surface]) -> list[Face]:
    """Return the faces among ``surfaces`` that ``point`` lies on, well inside their edges."""
    found = (_face(point, surface) for surface in surfaces)
    return [face for face in found if face is not None and math.dist(point, face.foot) > _ON_EDGE_MM]


def _face(point: Point, surface: Surface) -> Face | None:
    height = surface.height(point)
    if abs(height) > REACH_MM:
        return None
    flat = along(point, surface.normal, -height)
    return Face(surface.normal, along(surface.foot(flat), surface.normal, height)) if surface.holds(flat) else None


def hidden(point: Point, eye: Point, surfaces: Sequence[Surface]) -> bool:
    """Return whether a surface facing ``eye`` (a unit direction) is in front of ``point``, clear of its own part."""
    return any(_before(point, eye, surface) for surface in surfaces)


def _before(point: Point, eye: Point, surface: Surface) -> bool:
    facing = dot(surface.normal, eye)
    if abs(facing) < _FACING:
        return False
    distance = -surface.height(point) / facing
    return distance > REACH_MM and surface.holds(along(point, eye, distance))
