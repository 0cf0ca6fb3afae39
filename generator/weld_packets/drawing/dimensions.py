"""Dimension lines, scale bar, datum and axes, drawn on a sheet."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from weld_packets.drawing.boxes import Box, Spot2, hull
from weld_packets.drawing.lettering import clean, text_width
from weld_packets.drawing.palette import GREY, INK, PAPER
from weld_packets.drawing.shapes import (
    CLOSE,
    CURVE,
    LINE,
    MOVE,
    Shape,
    ahead,
    arrowhead,
    circle,
    polyline,
    rectangle,
    unit,
)
from weld_packets.drawing.sheet import Layer, Sheet, Style, TextLine

DIMENSION = Style(INK, 0.8)
_HEAD = Style(None, 0, INK)
_KNOCKOUT = Style(None, 0, PAPER)
_HEAD_LENGTH, _HEAD_HALF = 9.0, 2.8
_GAP, _OVERRUN, _TAIL, _SHORT_TAIL = 2.5, 3.0, 16.0, 12.0
NOTE_SIZE = 15.0
_MIDDLE = 0.36 * NOTE_SIZE
_STEEP = 0.5
"""Lines steeper than 60 degrees have their words turned."""


Form = Literal["inside", "beside", "beyond"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension thought out: the measured points, its line from ``low`` to ``high``, and its words.

    ``inside``: words in a gap of the line. ``beside``: an overall size with its words below the line, or above the
    upper end of a steep one. ``beyond``: words past the end. Arrows of a short line point inwards.
    """

    start: Spot2
    end: Spot2
    offset: float
    low: Spot2
    high: Spot2
    form: Form
    words: TextLine

    @property
    def line(self) -> Box:
        """The box of line and arrowheads."""
        along = unit(self.low, self.high)
        return hull((ahead(self.low, along, -self.tail), ahead(self.high, along, self.tail))).grown(_HEAD_HALF)

    @property
    def extensions(self) -> tuple[tuple[Spot2, Spot2], tuple[Spot2, Spot2]]:
        """The lines from the measured points to the dimension line."""
        return (self.start, self.low), (self.end, self.high)

    @property
    def tail(self) -> float:
        """How far the line runs on beyond both ends: nothing when the arrows are between them."""
        if self.form == "beyond":
            return _HEAD_LENGTH + _TAIL
        return _SHORT_TAIL if math.dist(self.low, self.high) < 3 * _HEAD_LENGTH else 0.0


def dimension(start: Spot2, end: Spot2, *, offset: float, text: str, overall: bool = False) -> Dimension:
    """Think out a dimension between two points.

    The line is ``offset`` pixels to the right of the direction from ``start`` to ``end`` (negative: to the
    left). Words that do not fit into the line are written beyond ``end``, or beside the line of an ``overall`` size.
    """
    along = unit(start, end)
    across = (-along[1], along[0])
    low, high = ahead(start, across, offset), ahead(end, across, offset)
    room = math.dist(low, high)
    steep = abs(along[0]) < _STEEP
    if room >= text_width(text, NOTE_SIZE) + 8 + 2.6 * _HEAD_LENGTH:
        form: Form = "inside"
        words = _words_on(low, high, text, 0.0, steep=steep)
    elif overall:
        form = "beside"
        words = _words_above(low, high, text) if steep else _words_on(low, high, text, 1.1 * NOTE_SIZE, steep=False)
    else:
        form = "beyond"
        words = _words_beyond(high, along, text, math.copysign(1.0, across[0] * offset))
    return Dimension(start, end, offset, low, high, form, words)


def draw_dimension(sheet: Sheet, thought: Dimension) -> Box:
    """Draw a dimension and return the box of its words."""
    along = unit(thought.low, thought.high)
    _extensions(sheet, thought, (-along[1], along[0]))
    _line(sheet, thought, along)
    words = thought.words
    if thought.form == "inside":
        box = words.box
        sheet.draw(rectangle(box.left, box.top, box.width, box.height), _KNOCKOUT, Layer.COVER)
    return sheet.write(words.at, words.text, words.size, anchor=words.anchor, angle=words.angle)


def _extensions(sheet: Sheet, thought: Dimension, across: Spot2) -> None:
    if abs(thought.offset) <= _GAP:
        return
    side = math.copysign(1.0, thought.offset)
    for point in (thought.start, thought.end):
        near, far = side * _GAP, thought.offset + side * _OVERRUN
        sheet.draw(polyline([ahead(point, across, near), ahead(point, across, far)]), DIMENSION, Layer.DIMENSION)


def _line(sheet: Sheet, thought: Dimension, along: Spot2) -> None:
    back = (-along[0], -along[1])
    outer, inner = (along, back) if thought.tail else (back, along)
    ends = [ahead(thought.low, along, -thought.tail), ahead(thought.high, along, thought.tail)]
    sheet.draw(polyline(ends), DIMENSION, Layer.DIMENSION)
    sheet.draw(arrowhead(thought.low, outer, _HEAD_LENGTH, _HEAD_HALF), _HEAD, Layer.DIMENSION)
    sheet.draw(arrowhead(thought.high, inner, _HEAD_LENGTH, _HEAD_HALF), _HEAD, Layer.DIMENSION)


def _words_on(low: Spot2, high: Spot2, text: str, shift: float, *, steep: bool) -> TextLine:
    x, y = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    if steep:
        return TextLine((x + _MIDDLE - shift, y), clean(text), NOTE_SIZE, "center", angle=90)
    return TextLine((x, y + _MIDDLE + shift), clean(text), NOTE_SIZE, "center")


def _words_above(low: Spot2, high: Spot2, text: str) -> TextLine:
    x, y = min(low, high, key=lambda end: end[1])
    return TextLine((x - 4, y - _SHORT_TAIL - 2), clean(text), NOTE_SIZE)


def _words_beyond(high: Spot2, along: Spot2, text: str, side: float) -> TextLine:
    end = ahead(high, along, _HEAD_LENGTH + _TAIL + 3)
    if abs(along[0]) < _STEEP:
        drop = NOTE_SIZE if along[1] > 0 else 0.0
        return TextLine((end[0] - 4 * side, end[1] + drop), clean(text), NOTE_SIZE, "left" if side > 0 else "right")
    return TextLine((end[0], end[1] + _MIDDLE), clean(text), NOTE_SIZE, "left" if along[0] > 0 else "right")


def nice_length(longest: float, unit_length: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten (in units of ``unit_length``) up to ``longest``."""
    power = 10.0 ** math.floor(math.log10(longest / unit_length))
    digit = max(digit for digit in (1, 2, 5) if digit * power * unit_length <= longest * (1 + 1e-9))
    return digit * power * unit_length


def scale_bar(
    sheet: Sheet,
    at: Spot2,
    *,
    pixels_per_mm: float,
    longest: float,
    unit_length: float,
    label: Callable[[float], str],
) -> Box:
    """Draw a bar of a round length with its left top at ``at``; it is at most ``longest`` pixels."""
    length = nice_length(longest / pixels_per_mm, unit_length)
    pixels = length * pixels_per_mm
    x, y = at
    for part in range(4):
        fill = INK if part % 2 == 0 else PAPER
        sheet.draw(rectangle(x + pixels * part / 4, y, pixels / 4, 6), Style(INK, 0.8, fill), Layer.NOTE)
    words = sheet.write((x + pixels + 8, y + 3 + 0.36 * NOTE_SIZE), label(length), NOTE_SIZE)
    return Box(x, y - 2, words.right, max(words.bottom, y + 8))


def datum(sheet: Sheet, centre: Spot2, radius: float = 9.0) -> Box:
    """Draw the origin mark: a circle in quarters, two of them black."""
    sheet.draw(circle(centre, radius), Style(INK, 1.4, PAPER), Layer.NOTE)
    for turn in (0, 2):
        sheet.draw(_quarter(centre, radius, turn), Style(None, 0, INK), Layer.NOTE, 1)
    return Box(centre[0] - radius, centre[1] - radius, centre[0] + radius, centre[1] + radius).grown(1)


def _quarter(centre: Spot2, radius: float, turn: int) -> Shape:
    x, y = centre
    sign = 1 if turn == 0 else -1
    r, k = radius * sign, radius * sign * 0.5523
    return Shape(
        ((x, y), (x + r, y), (x + r, y - k), (x + k, y - r), (x, y - r), (x, y)),
        (MOVE, LINE, CURVE, CURVE, CURVE, CLOSE),
    )


def axis(sheet: Sheet, origin: Spot2, towards: Spot2, name: str, *, length: float = 30.0, size: float = 15.0) -> Box:
    """Draw one axis arrow with its name and return the box of both; ``towards`` is in sheet directions."""
    long = math.hypot(*towards)
    ux, uy = towards[0] / long, towards[1] / long
    tip = (origin[0] + ux * length, origin[1] + uy * length)
    stem = (tip[0] - ux * 6, tip[1] - uy * 6)
    sheet.draw(polyline([origin, stem]), Style(INK, 1.6), Layer.NOTE)
    sheet.draw(arrowhead(tip, (ux, uy), 9, 3.4), _HEAD, Layer.NOTE)
    at = (tip[0] + ux * 9, tip[1] + uy * 9)
    words = sheet.write_in(at, name, size, bold=True, colour=GREY)
    return hull((origin, tip, (words.left, words.top), (words.right, words.bottom)))
