"""Weld symbols of ISO 2553, system A: arrow line, reference line, broken identification line, symbol, size and tail.

The elementary symbols are drawn as the standard shows them (from memory): fillet, square butt. A symbol on the full
line tells of a weld on the side that the arrow touches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.drawing.boxes import Box, Crowd, Spot2, around
from generator.drawing.lettering import text_width
from generator.drawing.palette import INK, PAPER
from generator.drawing.shapes import Shape, arrowhead, joined, polygon, polyline, unit
from generator.drawing.sheet import Layer, Sheet, Style
from generator.packet.diagrams.geometry import JointForm

Sign = Literal["fillet", "square butt"]
SIZE = 14.0
_CLEAR = Style(PAPER, 4.5)
_LINE = Style(INK, 1.3)
_BROKEN = Style(INK, 1.1, dash=(5, 3))
_STROKE = Style(INK, 1.6, join="miter")
_RISE, _DROP, _LEAD, _TAIL, _SYMBOL = 20.0, 10.0, 12.0, 11.0, 16.0
_STEPS = (26.0, 40.0, 56.0, 76.0, 100.0, 130.0, 165.0, 205.0)


@dataclass(frozen=True, slots=True)
class WeldSymbol:
    """What a symbol says: the sign, what stands before it (a3), and what stands in the tail (135 PB)."""

    sign: Sign
    size: str
    tail: str

    @property
    def width(self) -> float:
        """Length of the reference line with tail and its text."""
        return _LEAD + text_width(self.size, SIZE, bold=True) + _SYMBOL + 14 + _TAIL + text_width(self.tail, SIZE)


def place_symbol(symbol: WeldSymbol, target: Spot2, crowd: Crowd, bounds: Box) -> tuple[Box, bool] | None:
    """Return a free box for the symbol near ``target`` and whether it points to the left; None when there is none.

    The box is kept free of later labels.
    """
    best, least = None, 1e9
    for base, box, leftwards in _candidates(symbol, target):
        if base >= least:
            break
        if not bounds.holds(box) or crowd.taken(box):
            continue
        joint = _elbow(box, leftwards=leftwards)
        cost = base + 9 * crowd.crossings(box) + 12 * crowd.hits(joint, _near(target, joint, 14.0))
        if cost < least:
            best, least = (box, leftwards), cost
    if best:
        crowd.block(best[0])
        _block_line(crowd, _elbow(best[0], leftwards=best[1]), target)
    return best


def _block_line(crowd: Crowd, start: Spot2, end: Spot2) -> None:
    steps = max(1, round(math.dist(start, end) / 6))
    for step in range(steps):
        share = step / steps
        crowd.block(around((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), 3.0))


def _candidates(symbol: WeldSymbol, target: Spot2) -> Iterator[tuple[float, Box, bool]]:
    width, height = symbol.width, _RISE + _DROP
    for rank, step in enumerate(_STEPS):
        for leftwards in (True, False):
            for rise in (-1.0, 1.0, -0.5, 0.5, -1.6, 1.6):
                x = target[0] + (step if leftwards else -step - width)
                y = target[1] + rise * step
                yield 4.0 * rank + abs(rise), Box(x, y - _RISE, x + width, y - _RISE + height), leftwards


def _elbow(box: Box, *, leftwards: bool) -> Spot2:
    return (box.left if leftwards else box.right), box.top + _RISE


def _near(target: Spot2, other: Spot2, by: float) -> Spot2:
    ux, uy = unit(target, other)
    return target[0] + ux * by, target[1] + uy * by


def draw_symbol(sheet: Sheet, symbol: WeldSymbol, box: Box, target: Spot2 | None, *, leftwards: bool = True) -> None:
    """Draw the symbol in ``box`` with its arrow to ``target``; without a target the reference line stands alone."""
    y = box.top + _RISE
    if target is not None:
        _arrow(sheet, _elbow(box, leftwards=leftwards), target)
    _reference(sheet, symbol, box, y, leftwards=leftwards)


def _arrow(sheet: Sheet, elbow: Spot2, target: Spot2) -> None:
    way = unit(elbow, target)
    sheet.draw(polyline([elbow, (target[0] - way[0] * 8, target[1] - way[1] * 8)]), _LINE, Layer.NOTE)
    sheet.draw(arrowhead(target, way, 11, 3.6), Style(PAPER, 0.8, INK), Layer.NOTE)


def _reference(sheet: Sheet, symbol: WeldSymbol, box: Box, y: float, *, leftwards: bool) -> None:
    tail_words = text_width(symbol.tail, SIZE)
    low, high = (box.left, box.right - _TAIL - tail_words) if leftwards else (box.left + _TAIL + tail_words, box.right)
    fork, way, anchor_x = (high, 1, high + _TAIL) if leftwards else (low, -1, box.left)
    for rise in (0, 5):
        sheet.draw(polyline([(low, y + rise), (high, y + rise)]), _CLEAR, Layer.COVER)
    sheet.draw(polyline([(low, y), (high, y)]), _LINE, Layer.NOTE)
    sheet.draw(polyline([(low + 4, y + 5), (high - 4, y + 5)]), _BROKEN, Layer.NOTE)
    if symbol.tail:
        sheet.draw(polyline([(fork + way * 8, y - 8), (fork, y), (fork + way * 8, y + 8)]), _LINE, Layer.NOTE)
        sheet.write((anchor_x, y + 0.36 * SIZE), symbol.tail, SIZE)
    x = low + _LEAD
    size_box = sheet.write((x, y - 5), symbol.size, SIZE, bold=True)
    sheet.draw(elementary(symbol.sign, (x + size_box.width + 4, y)), _STROKE, Layer.NOTE)


def sign_of(joint: JointForm) -> Sign:
    """Return the sign of the weld that a joint gets: T, lap and corner joints are fillet welded here."""
    return "square butt" if joint == "butt" else "fillet"


def elementary(sign: Sign, foot: Spot2) -> Shape:
    """Return a sign standing with its left lower corner at ``foot``."""
    x, y = foot
    if sign == "square butt":
        return joined([polyline([(x + 3, y), (x + 3, y - 14)]), polyline([(x + 9, y), (x + 9, y - 14)])])
    return polygon([(x, y), (x, y - 14), (x + 14, y)])
