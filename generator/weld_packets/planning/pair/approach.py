"""How near two tools come over a whole cycle, in closed form: moves, welds, waits and standing included."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isqrt, sqrt
from typing import NamedTuple

from weld_packets.planning.pair.blocks import Piece, Place, Started, Timed, ends_of, squared

_SHOWN = 100
"""Milliseconds between two points of a curve: about two pixels of the shortest cycle that is drawn."""


class Nearest(NamedTuple):
    """The smallest distance of both tools in µm, rounded down; when it is first reached in ms; the blocks then.

    A block is given by its place in the robot's list: the one that runs, or the one that has ended last.
    """

    apart: int
    moment: int
    blocks: tuple[int, int]


class Stretch(NamedTuple):
    """A straight piece of the cycle, in ms from its start, and the block that it belongs to."""

    piece: Piece
    block: int


def stretches(blocks: Sequence[Started], waiting: Place, ends: int) -> Iterator[Stretch]:
    """Yield what a robot does from 0 to ``ends`` without a gap; where it waits it stands still."""
    here, now, last = waiting, 0, 0
    for place, started in enumerate(blocks):
        if started.start > now:
            yield Stretch(Piece(here, here, now, started.start), last)
        for piece in started.block.pieces:
            yield Stretch(
                Piece(piece.start, piece.end, started.start + piece.begins, started.start + piece.ends), place
            )
        here, now, last = started.block.end, started.end, place
    if ends > now:
        yield Stretch(Piece(here, here, now, ends), last)


def closest(timed: Timed, waiting: tuple[Place, Place]) -> Nearest:
    """Return the closest approach over the cycle; the earliest of equal ones."""
    one, other = (list(stretches(timed[robot], waiting[robot], ends_of(timed))) for robot in (0, 1))
    found = [_minimum(first, second, begins, stops) for first, second, begins, stops in overlaps(one, other)]
    at_rest = Nearest(isqrt(squared(*waiting)), 0, (0, 0))
    return min(found, key=lambda each: (each.apart, each.moment), default=at_rest)


def overlaps(one: Sequence[Stretch], other: Sequence[Stretch]) -> Iterator[tuple[Stretch, Stretch, int, int]]:
    """Yield every two stretches that share some time, and from when to when."""
    first = second = 0
    while first < len(one) and second < len(other):
        left, right = one[first].piece, other[second].piece
        yield one[first], other[second], max(left.begins, right.begins), min(left.ends, right.ends)
        if left.ends <= right.ends:
            first += 1
        if right.ends <= left.ends:
            second += 1


def _minimum(first: Stretch, second: Stretch, begins: int, ends: int) -> Nearest:
    """Return the smallest distance of two stretches between two moments."""
    left, right = first.piece, second.piece
    long, other = left.ends - left.begins, right.ends - right.begins
    scale = long * other
    offset, along = [], []
    for axis in range(3):
        speed_left = (left.end[axis] - left.start[axis]) * other
        speed_right = (right.end[axis] - right.start[axis]) * long
        at_left = left.start[axis] * scale + speed_left * (begins - left.begins)
        at_right = right.start[axis] * scale + speed_right * (begins - right.begins)
        offset.append(at_left - at_right)
        along.append(speed_left - speed_right)
    square = sum(each * each for each in along)
    inward = -sum(one * two for one, two in zip(offset, along, strict=True))
    start = sum(each * each for each in offset)
    span = ends - begins
    if square == 0 or inward <= 0:
        above, moment = start, begins
    elif inward >= span * square:
        above = sum((one + span * two) ** 2 for one, two in zip(offset, along, strict=True))
        moment = ends
    else:
        above, moment = (start * square - inward * inward) // square, begins + inward // square
    return Nearest(isqrt(above) // scale, moment, (first.block, second.block))


def distances(timed: Timed, waiting: tuple[Place, Place], each: int) -> Iterator[tuple[float, float]]:
    """Yield moments in s and distances in mm for a curve: the ends of every stretch, and points between in a move.

    There are at most ``each`` of these, and none nearer in time than a curve can show.
    """
    ends = ends_of(timed)
    one, other = (list(stretches(timed[robot], waiting[robot], ends)) for robot in (0, 1))
    for first, second, begins, stops in overlaps(one, other):
        moving = any(side.piece.start != side.piece.end for side in (first, second))
        parts = min(each, (stops - begins) // _SHOWN) + 1 if moving else 1
        for step in range(parts):
            moment = begins + (stops - begins) * step / parts
            yield moment / 1000, _apart(first.piece, second.piece, moment)
    if one and other:
        yield ends / 1000, _apart(one[-1].piece, other[-1].piece, ends)


def _apart(one: Piece, other: Piece, moment: float) -> float:
    (ax, ay, az), (bx, by, bz) = _where(one, moment), _where(other, moment)
    return sqrt((ax - bx) ** 2 + (ay - by) ** 2 + (az - bz) ** 2) / 1000


def _where(piece: Piece, moment: float) -> tuple[float, float, float]:
    share = (moment - piece.begins) / (piece.ends - piece.begins)
    (ax, ay, az), (bx, by, bz) = piece.start, piece.end
    return ax + (bx - ax) * share, ay + (by - ay) * share, az + (bz - az) * share
