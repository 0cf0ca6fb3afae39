"""Which of several flat outlines lies over which, as seen by an eye far away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.diagrams.scene import Outline
from weld_packets.drawing.boxes import Box
from weld_packets.geometry.outlines import normal_of
from weld_packets.geometry.vectors import Point, dot

_LEVEL_MM = 0.05
_EDGE_ON = 0.05


@dataclass(frozen=True, slots=True)
class _Sheet:
    """An outline with its plane: the unit normal towards the eye, and how far along it the plane lies."""

    points: tuple[Point, ...]
    box: Box
    normal: Point
    offset: float
    facing: float
    nearness: float

    def heights(self, points: Sequence[Point]) -> tuple[float, float]:
        """Return how far the lowest and the highest of ``points`` are above the plane."""
        found = [dot(point, self.normal) - self.offset for point in points]
        return min(found), max(found)

    @property
    def size(self) -> float:
        """The length of the box's diagonal."""
        return math.hypot(self.box.width, self.box.height)


def ranks(outlines: Sequence[Outline], boxes: Sequence[Box], eye: Point) -> list[int]:
    """Return how high each outline lies: above all that it covers; ``boxes`` are where they are on the sheet.

    Of outlines in one plane the smaller lies over the larger.
    """
    sheets = [_sheet(outline, box, eye) for outline, box in zip(outlines, boxes, strict=True)]
    order = sorted(range(len(sheets)), key=lambda index: sheets[index].nearness)
    covered = {
        index: [other for other in order if other != index and _over(sheets[index], sheets[other])] for index in order
    }
    found = [0] * len(sheets)
    for _ in sheets:
        before = list(found)
        for index in order:
            found[index] = min(max((found[other] + 1 for other in covered[index]), default=0), len(sheets) - 1)
        if found == before:
            break
    return found


def _sheet(outline: Outline, box: Box, eye: Point) -> _Sheet:
    normal = normal_of(outline.points) or eye
    if dot(normal, eye) < 0:
        normal = (-normal[0], -normal[1], -normal[2])
    nearness = sum(dot(point, eye) for point in outline.points) / len(outline.points)
    return _Sheet(outline.points, box, normal, dot(outline.points[0], normal), dot(normal, eye), nearness)


def _over(one: _Sheet, other: _Sheet) -> bool:
    """Return whether ``one`` is to be drawn after ``other``: never true both times."""
    if not one.box.overlaps(other.box):
        return False
    clear, covered = _before(one, other), _before(other, one)
    if clear != covered:
        return clear
    if clear and one.normal == other.normal:
        return one.size < other.size
    return one.nearness > other.nearness


def _before(one: _Sheet, other: _Sheet) -> bool:
    """Return whether ``one`` is wholly on the eye's side of the other's plane, or the other behind that of ``one``."""
    above = other.facing > _EDGE_ON and other.heights(one.points)[0] >= -_LEVEL_MM
    return above or (one.facing > _EDGE_ON and one.heights(other.points)[1] <= _LEVEL_MM)
