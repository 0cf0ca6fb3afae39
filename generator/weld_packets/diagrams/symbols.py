"""Weld symbols of ISO 2553, system A: arrow line, reference line, broken identification line, symbol, size and tail.

The elementary symbols are drawn as the standard shows them (from memory): fillet, square butt, flare bevel, spot. A
symbol on the full line means a weld on the side that the arrow touches; a circle where arrow line and reference line
meet means a weld all round. The circle of a spot lies across the reference line, for a weld between the sheets, and
needs no broken line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from weld_packets.diagrams.scene import JointForm
from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import INK, PAPER
from weld_packets.drawing.shapes import Shape, arc, arrowhead, circle, joined, polygon, polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style

Sign = Literal["fillet", "square butt", "flare bevel", "spot"]
SIZE = 15.0
_CLEAR = Style(PAPER, 4.5)
_LINE = Style(INK, 1.3)
_BROKEN = Style(INK, 1.1, dash=(5, 3))
_ROUND = Style(INK, 1.3, PAPER)
_STROKE = Style(INK, 1.6, join="miter")
_RISE, _DROP, _LEAD, _TAIL, _SYMBOL = 20.0, 10.0, 12.0, 11.0, 16.0
_MAXIMUM_TARGETS, _CLOSE, _LINE_COST = 12, 14.0, 9.0
ALL_ROUND = 4.5
"""Pixels, the radius of the circle of a weld all round."""
_STEPS = (26.0, 40.0, 56.0, 76.0, 100.0, 130.0, 165.0)


@dataclass(frozen=True, slots=True)
class WeldSymbol:
    """What a symbol says: the sign, the size before it (a3), in the tail (135 PB), and between its lines (a gap).

    ``all_round`` is a seam that comes back to its own start.
    """

    sign: Sign
    size: str
    tail: str
    gap: str = ""
    all_round: bool = False

    @property
    def width(self) -> float:
        """Length of the reference line with tail and its text."""
        before = _LEAD + text_width(self.size, SIZE, bold=True) + _SYMBOL + self.spread
        return before + 14 + _TAIL + text_width(self.tail, SIZE)

    @property
    def spread(self) -> float:
        """How much wider than without a gap its sign is."""
        return text_width(self.gap, SIZE) if self.gap else 0.0


@dataclass(frozen=True, slots=True)
class PlacedSymbol:
    """Where a symbol is: its box, what its arrow points at, and whether the arrow leaves it at the left."""

    box: Box
    target: Spot2
    leftwards: bool

    @property
    def elbow(self) -> Spot2:
        """Where arrow line and reference line meet."""
        return (self.box.left if self.leftwards else self.box.right), self.box.top + _RISE


def place_symbol(symbol: WeldSymbol, targets: Sequence[Spot2], crowd: Crowd, bounds: Box) -> PlacedSymbol | None:
    """Return the best free place for a symbol near one of ``targets``, the first preferred; None when there is none.

    The arrow runs over nothing that is there. Box and arrow are kept free of later labels.
    """
    best, minimum = None, math.inf
    for rank, target in enumerate(targets[:_MAXIMUM_TARGETS]):
        for base, box, leftwards in _candidates(symbol, target):
            cost = base + rank
            if cost >= minimum:
                break
            if bounds.holds(box) and not crowd.taken(box):
                cost += _LINE_COST * crowd.crossings(box)
                standing = PlacedSymbol(box, target, leftwards)
                if cost < minimum and not crowd.hits(standing.elbow, near(target, standing.elbow, _CLOSE)):
                    best, minimum = standing, cost
    if best:
        crowd.block(best.box)
        crowd.bar(best.elbow, best.target, 3.0)
    return best


def _candidates(symbol: WeldSymbol, target: Spot2) -> Iterator[tuple[float, Box, bool]]:
    """Yield places for a symbol: what each costs, its box, and whether the arrow leaves it to the left."""
    width, height = symbol.width, _RISE + _DROP
    for rank, step in enumerate(_STEPS):
        for leftwards in (True, False):
            for rise in (-1.0, 1.0, -0.5, 0.5, -1.6, 1.6, -2.6, 2.6):
                x = target[0] + (step if leftwards else -step - width)
                y = target[1] + rise * step
                box = Box(x, y - _RISE, x + width, y - _RISE + height)
                yield 4.0 * rank + abs(rise), box, leftwards


def near(target: Spot2, other: Spot2, by: float) -> Spot2:
    """Return the point ``by`` pixels from ``target`` towards ``other``."""
    ux, uy = unit(target, other)
    return target[0] + ux * by, target[1] + uy * by


def draw_symbol(sheet: Sheet, symbol: WeldSymbol, standing: PlacedSymbol) -> None:
    """Draw the symbol with its arrow up to its target."""
    _arrow(sheet, standing.elbow, standing.target)
    draw_reference(sheet, symbol, standing.box, leftwards=standing.leftwards)


def _arrow(sheet: Sheet, elbow: Spot2, target: Spot2) -> None:
    along = unit(elbow, target)
    sheet.draw(polyline([elbow, (target[0] - along[0] * 8, target[1] - along[1] * 8)]), _LINE, Layer.NOTE)
    sheet.draw(arrowhead(target, along, 11, 3.6), Style(PAPER, 0.8, INK), Layer.NOTE)


def draw_reference(sheet: Sheet, symbol: WeldSymbol, box: Box, *, leftwards: bool = True) -> None:
    """Draw the symbol in ``box`` without its arrow."""
    y = box.top + _RISE
    tail_words = text_width(symbol.tail, SIZE)
    low, high = (box.left, box.right - _TAIL - tail_words) if leftwards else (box.left + _TAIL + tail_words, box.right)
    fork, along, anchor_x = (high, 1, high + _TAIL) if leftwards else (low, -1, box.left)
    for rise in (0,) if symbol.sign == "spot" else (0, 5):
        sheet.draw(polyline([(low, y + rise), (high, y + rise)]), _CLEAR, Layer.COVER)
    sheet.draw(polyline([(low, y), (high, y)]), _LINE, Layer.NOTE)
    if symbol.sign != "spot":
        sheet.draw(polyline([(low + 4, y + 5), (high - 4, y + 5)]), _BROKEN, Layer.NOTE)
    if symbol.tail:
        sheet.draw(polyline([(fork + along * 8, y - 8), (fork, y), (fork + along * 8, y + 8)]), _LINE, Layer.NOTE)
        sheet.write((anchor_x, y + 0.36 * SIZE), symbol.tail, SIZE)
    if symbol.all_round:
        sheet.draw(circle((low if leftwards else high, y), ALL_ROUND), _ROUND, Layer.NOTE)
    x = low + _LEAD
    size_box = sheet.write((x, y - 5), symbol.size, SIZE, bold=True)
    foot = x + size_box.width + 4, y
    sheet.draw(elementary(symbol.sign, foot, symbol.spread), _STROKE, Layer.NOTE)
    if symbol.gap:
        sheet.write((foot[0] + 6 + symbol.spread / 2, y - 2), symbol.gap, SIZE, anchor="center")


def sign_of(joint: JointForm) -> Sign:
    """Return the sign of the weld that a joint gets: T, lap and corner joints are fillet welded here."""
    signs: dict[JointForm, Sign] = {"butt": "square butt", "flare-bevel": "flare bevel"}
    return signs.get(joint, "fillet")


def elementary(sign: Sign, foot: Spot2, spread: float = 0.0) -> Shape:
    """Return a sign with its left lower corner at ``foot``; the lines of a butt are ``spread`` further apart."""
    x, y = foot
    if sign == "spot":
        return circle((x + 8, y), 6.5)
    if sign == "square butt":
        return joined([polyline([(left, y), (left, y - 14)]) for left in (x + 3, x + 9 + spread)])
    if sign == "flare bevel":
        return joined([polyline([(x + 2, y), (x + 2, y - 14)]), arc((x + 18, y), 14, 90, 180)])
    return polygon([(x, y), (x, y - 14), (x + 14, y)])
