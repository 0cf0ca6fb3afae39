"""Charts: two axes with ticks, and lines, regions and marks between them that are cut off at the frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from matplotlib.path import Path
from matplotlib.ticker import MaxNLocator
from matplotlib.transforms import Bbox

from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import INK, SHEET_SHADE
from weld_packets.drawing.shapes import circle, polygon, polyline, rectangle
from weld_packets.drawing.sheet import Anchor, Layer, Sheet, Style

TEXT = 13.0
"""Lettering of a chart in pixels of its sheet."""
_MAXIMUM_TICKS = 7
_STEPS = (1, 2, 2.5, 5, 10)
_EDGE, _GAP, _LINE = 6.0, 6.0, 18.0
_GRID, _FRAME = Style(SHEET_SHADE, 0.8), Style(INK, 1.2)
_TICK = 4.0


@dataclass(frozen=True, slots=True)
class Axis:
    """What runs along one side of a chart: its label with the unit, and the values at both ends (low below high)."""

    label: str
    low: float
    high: float

    def ticks(self) -> list[Decimal]:
        """Return round values inside the axis, each with the digits that distinguish it from its neighbours."""
        found = MaxNLocator(_MAXIMUM_TICKS, steps=list(_STEPS)).tick_values(self.low, self.high)
        width = Decimal(f"{found[1] - found[0]:.6g}").normalize()
        last = min(0, int(width.as_tuple().exponent))
        rounded = [Decimal(f"{value:.6g}").quantize(Decimal(1).scaleb(last)) for value in found]
        return [one or abs(one) for one in rounded if self.low <= one <= self.high]


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
        for piece in _cut([self.at(point) for point in points], self.box):
            self.sheet.draw(polyline(piece), style, layer)

    def region(self, points: Sequence[Spot2], style: Style, layer: Layer = Layer.PART) -> None:
        """Fill what a ring of points encloses; what lies outside the frame is cut off."""
        for piece in _cut([self.at(point) for point in (*points, points[0])], self.box, closed=True):
            self.sheet.draw(polygon(piece), style, layer)

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


def _cut(points: Sequence[Spot2], box: Box, *, closed: bool = False) -> list[list[Spot2]]:
    """Return the pieces of a line, or the one of a ring, that lie inside a box."""
    if closed:
        frame = Bbox.from_extents(box.left, box.top, box.right, box.bottom)
        ring = np.asarray(Path(points, closed=True).clip_to_bbox(frame).vertices, dtype=float)
        return [[(float(x), float(y)) for x, y in ring]] if len(ring) else []
    pieces: list[list[Spot2]] = []
    for end, code in Path(points).iter_segments(clip=(box.left, box.top, box.right, box.bottom), simplify=False):
        x, y = np.asarray(end, dtype=float)
        if code == Path.MOVETO or not pieces:
            pieces.append([])
        pieces[-1].append((float(x), float(y)))
    return [piece for piece in pieces if len(piece) > 1]
