"""Whether two blocks come nearer than a distance, in closed form and in whole numbers, each pair looked at once."""

from __future__ import annotations

from math import isqrt

from weld_packets.geometry.vectors import cross, dot, minus
from weld_packets.planning.pair.blocks import Block, Box, Line, Place


def meets(first: Block, second: Block, clear: int) -> bool:
    """Return whether two blocks come nearer than ``clear`` (µm) anywhere, whenever they start."""
    if apart(first.box, second.box, clear):
        return False
    return any(
        _nearer(one, other, clear)
        for one in first.lines
        if not apart(one.box, second.box, clear)
        for other in second.lines
        if not apart(one.box, other.box, clear)
    )


def near_place(place: Place, block: Block, clear: int) -> bool:
    """Return whether a block comes nearer than ``clear`` (µm) to a place."""
    here = Line(place, (0, 0, 0), 0, (*place, *place))
    return any(_nearer(here, line, clear) for line in block.lines if not apart(here.box, line.box, clear))


def nearest(first: Block, second: Block) -> int:
    """Return how near two blocks come, whenever they start, in µm rounded down."""
    return min(_minimum(one, other) for one in first.lines for other in second.lines)


def apart(one: Box, other: Box, clear: int) -> bool:
    """Return whether two boxes are at least ``clear`` apart along an axis."""
    return (
        one[0] - other[3] >= clear
        or other[0] - one[3] >= clear
        or one[1] - other[4] >= clear
        or other[1] - one[4] >= clear
        or one[2] - other[5] >= clear
        or other[2] - one[5] >= clear
    )


def _nearer(one: Line, other: Line, clear: int) -> bool:
    """Return whether two straight moves come nearer than ``clear``."""
    square = clear * clear
    return any(above < square * below for above, below in _squares(one, other))


def _minimum(one: Line, other: Line) -> int:
    return min(isqrt(above // below) for above, below in _squares(one, other))


def _squares(one: Line, other: Line) -> list[tuple[int, int]]:
    """Return squared distances of two straight moves, as numerator and denominator: the smallest of them is theirs.

    They are those of each end from the other move and, where the feet lie inside both, of the two lines.
    """
    u, v, w = one.along, other.along, minus(one.start, other.start)
    uu, vv, ww, uv, wu, wv = one.square, other.square, dot(w, w), dot(u, v), dot(w, u), dot(w, v)
    found = [
        _to_line(ww, -wu, uu),
        _to_line(ww - 2 * wv + vv, uv - wu, uu),
        _to_line(ww, wv, vv),
        _to_line(ww + 2 * wu + uu, wv + uv, vv),
    ]
    det = uu * vv - uv * uv
    if det > 0 and 0 < uv * wv - vv * wu < det and 0 < uu * wv - uv * wu < det:
        found.append((dot(w, cross(u, v)) ** 2, det))
    return found


def _to_line(square: int, foot: int, length: int) -> tuple[int, int]:
    """Return numerator and denominator of the squared distance of a point from a move.

    Given are the squared distance of the point from the start of the move, its product with the vector of the move,
    and the squared length of that.
    """
    if foot <= 0:
        return square, 1
    if foot >= length:
        return square - 2 * foot + length, 1
    return square * length - foot * foot, length


class Zones:
    """Blocks that come nearer than a distance (µm); each answer is remembered, and a block is known by itself."""

    def __init__(self, clear: int) -> None:
        self._clear = clear
        self._met: dict[tuple[int, int], tuple[Block, Block, bool]] = {}
        self._near: dict[tuple[Place, int], tuple[Block, bool]] = {}

    def meet(self, first: Block, second: Block) -> bool:
        """Return whether two blocks come nearer than the distance anywhere."""
        key = id(first), id(second)
        if key not in self._met:
            self._met[key] = first, second, meets(first, second, self._clear)
        return self._met[key][-1]

    def near(self, place: Place, block: Block) -> bool:
        """Return whether a block comes nearer than the distance to a place."""
        key = place, id(block)
        if key not in self._near:
            self._near[key] = block, near_place(place, block, self._clear)
        return self._near[key][-1]
