"""Charts: two axes with ticks, and lines, regions and marks between them that are cut off at the frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import ceil, dist, floor, log10

from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import INK, SHEET_SHADE
from weld_packets.drawing.shapes import circle, polygon, polyline, rectangle
from weld_packets.drawing.sheet import Anchor, Layer, Sheet, Style

TEXT = 13.0
"""Lettering of a chart in pixels of its sheet."""
_MAXIMUM_STEPS = 7
_STEPS = (Decimal(1), Decimal(2), Decimal("2.5"), Decimal(5), Decimal(10))
_MINIMUM_TICKS = 2
_EDGE, _GAP, _LINE = 6.0, 6.0, 18.0
_GRID, _FRAME = Style(SHEET_SHADE, 0.8), Style(INK, 1.2)
_TICK = 4.0
_SAME = 1e-6
"""Pixels between two points that are one but for the rounding of floats."""
_BEYOND = 1.0
"""How far a line runs into the stroke of the frame, in pixels, so that its end is not seen."""


@dataclass(frozen=True, slots=True)
class Axis:
    """What runs along one side of a chart: its label with the unit, and the values at both ends (low below high)."""

    label: str
    low: float
    high: float

    def ticks(self) -> list[Decimal]:
        """Return round values inside the axis, each with the digits that tell it from its neighbours."""
        at_least = (self.high - self.low) / _MAXIMUM_STEPS
        power = floor(log10(at_least))
        steps = [each.scaleb(exponent) for exponent in (power - 1, power) for each in _STEPS[:-1]]
        steps.append(_STEPS[-1].scaleb(power))
        wide = next(place for place, step in enumerate(steps) if step >= at_least)
        tried = (self._multiples(step) for step in reversed(steps[: wide + 1]))
        return next(ticks for ticks in tried if len(ticks) >= _MINIMUM_TICKS)

    def _multiples(self, step: Decimal) -> list[Decimal]:
        last = min(0, int(step.normalize().as_tuple().exponent))
        places = range(floor(self.low / float(step)), ceil(self.high / float(step)) + 1)
        found = (step * place or Decimal(0) for place in places)  # never -0
        return [value.quantize(Decimal(1).scaleb(last)) for value in found if self.low <= value <= self.high]


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart on its sheet; points are in the units of its axes."""

    sheet: Sheet
    box: Box
    x: Axis
    y: Axis

    def at(self, point: Spot2) -> Spot2:
        """Return where a point lies on the sheet, also when that is outside the frame."""
        across = (point[0] - self.x.low) / (self.x.high - self.x.low)
        up = (point[1] - self.y.low) / (self.y.high - self.y.low)
        return self.box.left + across * self.box.width, self.box.bottom - up * self.box.height

    def line(self, points: Sequence[Spot2], style: Style, layer: Layer = Layer.PATH) -> None:
        """Draw a line through points; what lies outside the frame is cut off."""
        for piece in _cut([self.at(point) for point in points], self.box.grown(_BEYOND)):
            self.sheet.draw(polyline(piece), style, layer)

    def region(self, points: Sequence[Spot2], style: Style, layer: Layer = Layer.PART) -> None:
        """Fill what a ring of points encloses; what lies outside the frame is cut off."""
        ring = _cut_ring([self.at(point) for point in points], self.box)
        if ring:
            self.sheet.draw(polygon(ring), style, layer)

    def mark(self, point: Spot2, style: Style, radius: float = 5.0) -> None:
        """Put a round mark at a point."""
        self.sheet.draw(circle(self.at(point), radius), style, Layer.MARK)

    def words(self, point: Spot2, text: str, *, anchor: Anchor = "left", bold: bool = False) -> Box:
        """Write a text with its baseline at a point; it is moved as far as it takes to stay inside the frame."""
        x, y = self.at(point)
        width = text_width(text, TEXT, bold=bold)
        before = {"left": 0.0, "center": width / 2, "right": width}[anchor]
        left = min(max(x - before, self.box.left + _GAP), self.box.right - _GAP - width)
        baseline = min(max(y, self.box.top + TEXT), self.box.bottom - _GAP)
        return self.sheet.write((left, baseline), text, TEXT, bold=bold)


def chart(width: float, height: float, x: Axis, y: Axis) -> Chart:
    """Return an empty chart of ``width`` by ``height`` pixels with frame, grid, ticks and labels."""
    sheet = Sheet(width, height)
    ticks = [(value, f"{value:f}") for value in y.ticks()]
    room = max((text_width(text, TEXT) for _, text in ticks), default=0.0)
    ends = (f"{value:f}" for value in x.ticks()[-1:])
    beyond = max((text_width(text, TEXT) / 2 for text in ends), default=0.0)
    box = Box(_EDGE + _LINE + room + _TICK + _GAP, _EDGE + TEXT / 2, width - _EDGE - beyond, height - 2 * _LINE - _EDGE)
    made = Chart(sheet, box, x, y)
    for value, text in ticks:
        level = made.at((x.low, float(value)))[1]
        sheet.draw(polyline([(box.left - _TICK, level), (box.right, level)]), _GRID, Layer.PART, -1)
        sheet.write((box.left - _TICK - _GAP, level + 0.36 * TEXT), text, TEXT, anchor="right")
    for value in x.ticks():
        place = made.at((float(value), y.low))[0]
        sheet.draw(polyline([(place, box.top), (place, box.bottom + _TICK)]), _GRID, Layer.PART, -1)
        sheet.write((place, box.bottom + _TICK + TEXT), f"{value:f}", TEXT, anchor="center")
    sheet.draw(rectangle(box.left, box.top, box.width, box.height), _FRAME, Layer.DIMENSION)
    sheet.write((box.centre[0], height - _EDGE), x.label, TEXT, anchor="center", bold=True)
    sheet.write((_EDGE + TEXT, box.centre[1]), y.label, TEXT, anchor="center", bold=True, angle=90.0)
    return made


def _cut(points: Sequence[Spot2], box: Box) -> list[list[Spot2]]:
    """Return the pieces of a line that lie inside a box."""
    pieces: list[list[Spot2]] = []
    for start, end in pairwise(points):
        inside = box.inside_part(start, end)
        if inside is None:
            continue
        if not pieces or dist(pieces[-1][-1], inside[0]) > _SAME:
            pieces.append([inside[0]])
        pieces[-1].append(inside[1])
    return pieces


def _between(start: Spot2, end: Spot2, share: float) -> Spot2:
    """Return the point at a share of the way."""
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _cut_ring(ring: Sequence[Spot2], box: Box) -> list[Spot2]:
    """Return what lies inside a box of a ring, closed; it is cut off at one side after the other."""
    for axis, bound, sign in ((0, box.left, 1), (0, box.right, -1), (1, box.top, 1), (1, box.bottom, -1)):
        kept: list[Spot2] = []
        for start, end in pairwise((ring[-1], *ring) if ring else ()):
            was, now = (sign * (point[axis] - bound) for point in (start, end))
            if was * now < 0:
                kept.append(_between(start, end, was / (was - now)))
            if now >= 0:
                kept.append(end)
        ring = kept
    return [*ring, *ring[:1]]
