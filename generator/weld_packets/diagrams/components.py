"""The components beneath the welds: outlines, the datum."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from weld_packets.diagrams.layout import ORIGIN, Frame
from weld_packets.diagrams.scene import Outline, Scene
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around, hull
from weld_packets.drawing.dimensions import datum as draw_datum_mark
from weld_packets.drawing.palette import GREY, INK, SHEET, SHEET_SHADE
from weld_packets.drawing.shapes import circle, polygon, polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.geometry.outlines import normal_of
from weld_packets.geometry.vectors import Point, dot

_BODY = (Style(INK, 1.2, SHEET), Style(INK, 1.2, SHEET_SHADE))
_EDGE_ON = Style(INK, 2.4)
_THIN_PX = 1.5
_DATUM = 9.0
EDGE_WEIGHT = 10
"""An edge through a label is worse than a leader line, and than the moves of robots."""
_LEVEL_MM = 0.05
_NO_FACE = 0.05


def draw_components(sheet: Sheet, frame: Frame, outlines: Sequence[Outline]) -> None:
    """Draw the outlines as seen, near ones over far ones; one that is seen edge-on becomes a thick line."""
    flat = [[frame.to_sheet(point) for point in outline.points] for outline in outlines]
    boxes = [hull(points) for points in flat]
    for index, rank in enumerate(ranks(outlines, boxes, frame.view.eye)):
        _draw_outline(sheet, flat[index], boxes[index], shade=index % 2, rank=rank)


def _draw_outline(sheet: Sheet, points: Sequence[Spot2], box: Box, *, shade: int, rank: int) -> None:
    area = _area(points)
    if abs(area) < _THIN_PX * max(box.width, box.height):
        sheet.draw(polyline(_ends(points)), _EDGE_ON, Layer.PART, rank)
        return
    sheet.draw(polygon(points if area > 0 else points[::-1]), _BODY[shade], Layer.PART, rank)


def _area(points: Sequence[Spot2]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, [*points[1:], points[0]], strict=True)) / 2


def _ends(points: Sequence[Spot2]) -> list[Spot2]:
    first = max(points, key=lambda point: math.dist(points[0], point))
    return [first, max(points, key=lambda point: math.dist(first, point))]


def note_outlines(crowd: Crowd, frame: Frame, outlines: Sequence[Outline]) -> None:
    """Note in the crowd where edges run, so that labels prefer to stay off them."""
    for outline in outlines:
        flat = [frame.to_sheet(point) for point in (*outline.points, outline.points[0])]
        for start, end in pairwise(flat):
            crowd.line(start, end, EDGE_WEIGHT)


def draw_datum(sheet: Sheet, frame: Frame, crowd: Crowd) -> None:
    """Draw the datum where it is, or beside with a line to it when that place is taken; not when off the view."""
    at = frame.to_sheet(ORIGIN)
    if not frame.box.grown(1).holds(Box(*at, *at)):
        return
    away = unit(frame.box.centre, at)
    costs = [
        (rank + 3.0 * crowd.crossings(around(place, _DATUM)) * bool(step), place)
        for rank, step in enumerate((0.0, 24.0, 32.0, 44.0, 58.0))
        for turn in (0.0, 0.6, -0.6, 1.2, -1.2, 1.8, -1.8)
        if not crowd.taken(around(place := _beside(at, away, turn, step), _DATUM))
    ]
    _datum_at(sheet, crowd, at, min(costs, key=lambda pair: pair[0])[1] if costs else at)


def _beside(at: Spot2, away: Spot2, turn: float, step: float) -> Spot2:
    heading = _turned(away, turn)
    return at[0] + heading[0] * step, at[1] + heading[1] * step


def _datum_at(sheet: Sheet, crowd: Crowd, at: Spot2, place: Spot2) -> None:
    if place != at:
        sheet.draw(polyline([at, place]), Style(GREY, 1.0), Layer.DIMENSION)
        sheet.draw(circle(at, 2.2), Style(None, 0, INK), Layer.NOTE)
    crowd.block(draw_datum_mark(sheet, place, 8))


def _turned(direction: Spot2, by: float) -> Spot2:
    cos, sin = math.cos(by), math.sin(by)
    return direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos


def component_names(scene: Scene) -> str:
    """Return the names of the components, each once, as a phrase."""
    return ", ".join(dict.fromkeys(outline.name for outline in scene.outlines))


def datum_sample(sheet: Sheet, centre: Spot2) -> None:
    """Draw the legend's sample of the datum mark."""
    draw_datum_mark(sheet, centre, 8)


# ---------------------------------------------------------------- the order of painting


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
    above = other.facing > _NO_FACE and other.heights(one.points)[0] >= -_LEVEL_MM
    return above or (one.facing > _NO_FACE and one.heights(other.points)[1] <= _LEVEL_MM)
