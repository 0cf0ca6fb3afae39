"""Whether two blocks come nearer than a distance, and at which start times: closed forms in whole numbers.

All bounds are rounded outward, so that what is allowed is allowed in continuous time too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import isqrt

from weld_packets.geometry.vectors import cross, dot, minus
from weld_packets.planning.pair.blocks import Block, Box, Line, Piece, Place, root_up

Span = tuple[int, int]
"""An open interval, in ms."""
_Vector = tuple[int, int, int]


def forbidden(first: Block, second: Block, clear: int) -> tuple[Span, ...]:
    """Return when ``second`` must not start, in ms after ``first`` starts, lest the tools come nearer than ``clear``.

    Two points that move straight and steadily are nearer than ``clear`` (µm) on a convex set of both clocks; what is
    wanted of it are the smallest and the largest difference of the clocks, at its edges or at the ends of an ellipse.
    """
    if apart(first.box, second.box, clear):
        return ()
    found = [
        span
        for one, one_box in zip(first.pieces, first.boxes, strict=True)
        if not apart(one_box, second.box, clear)
        for other, other_box in zip(second.pieces, second.boxes, strict=True)
        if not apart(one_box, other_box, clear)
        for span in _offsets(one, other, clear)
    ]
    return _merged(found)


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


def near_place(place: Place, block: Block, clear: int) -> tuple[Span, ...]:
    """Return when a block is nearer than ``clear`` (µm) to a place, in ms of the block's clock."""
    here = (*place, *place)
    found = [
        (piece.begins + span[0], piece.begins + span[1])
        for piece, box in zip(block.pieces, block.boxes, strict=True)
        if not apart(here, box, clear)
        for span in _times(minus(piece.start, place), minus(piece.end, piece.start), piece.ends - piece.begins, clear)
    ]
    return _merged(found)


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


def _merged(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Return spans in order; those that touch become one, because the pieces that they are of touch too."""
    together: list[list[int]] = []
    for low, high in sorted(spans):
        if together and low <= together[-1][1]:
            together[-1][1] = max(together[-1][1], high)
        else:
            together.append([low, high])
    return tuple((low, high) for low, high in together)


def _offsets(one: Piece, other: Piece, clear: int) -> Iterator[Span]:
    """Yield the forbidden starts of the block of ``other`` after that of ``one``."""
    ends = [*_at_edges(one, other, clear), *_at_ellipse(one, other, clear)]
    if ends:
        between = one.begins - other.begins
        yield between + min(low for low, _ in ends), between + max(high for _, high in ends)


def _at_edges(one: Piece, other: Piece, clear: int) -> Iterator[Span]:
    """Yield differences of the clocks at which an end of one piece is near the other piece."""
    first, second = one.ends - one.begins, other.ends - other.begins
    along_one, along_other = minus(one.end, one.start), minus(other.end, other.start)
    for clock, place in ((0, one.start), (first, one.end)):
        for low, high in _times(minus(other.start, place), along_other, second, clear):
            yield clock - high, clock - low
    for clock, place in ((0, other.start), (second, other.end)):
        for low, high in _times(minus(one.start, place), along_one, first, clear):
            yield low - clock, high - clock


def _times(offset: _Vector, along: _Vector, lasts: int, clear: int) -> Iterator[Span]:
    """Yield when a point from ``offset`` that moves ``along`` in ``lasts`` ms is nearer than ``clear`` to zero."""
    square, inward = dot(along, along), -dot(offset, along)
    short = dot(offset, offset) - clear * clear
    if not square:
        if short < 0:
            yield 0, lasts
        return
    left = inward * inward - square * short
    if left > 0:
        half = root_up(left * lasts * lasts)
        low = max(0, (inward * lasts - half) // square)
        high = min(lasts, -((-inward * lasts - half) // square))
        if low < high:
            yield low, high


def _at_ellipse(one: Piece, other: Piece, clear: int) -> Iterator[Span]:
    """Yield the smallest and the largest difference of the clocks where it lies inside both pieces."""
    first, second = one.ends - one.begins, other.ends - other.begins
    u, v, w = minus(one.end, one.start), minus(other.end, other.start), minus(one.start, other.start)
    uu, vv, uv, wu, wv = dot(u, u), dot(v, v), dot(u, v), dot(w, u), dot(w, v)
    det = uu * vv - uv * uv
    height = dot(w, cross(u, v))
    over = clear * clear * det - height * height
    if det <= 0 or over <= 0:
        return
    on_one, on_other = uv * wv - vv * wu, uu * wv - uv * wu
    slope = first * first * vv - 2 * first * second * uv + second * second * uu
    lean_one, lean_other = vv * first - uv * second, uv * first - uu * second
    root = root_up(over * slope)
    middle = first * on_one - second * on_other
    for sign in (-1, 1):
        share_one, share_other = on_one * slope + sign * lean_one * root, on_other * slope + sign * lean_other * root
        if _inside(share_one, abs(lean_one), det * slope) and _inside(share_other, abs(lean_other), det * slope):
            end = middle + sign * root
            yield end // det, -(-end // det)


def _inside(share: int, slack: int, whole: int) -> bool:
    return -slack <= share <= whole + slack


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
