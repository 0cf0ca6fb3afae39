"""What a robot does without a stop in between, as straight pieces in whole micrometres and milliseconds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import isqrt
from typing import NamedTuple

from weld_packets.geometry.vectors import dot, minus

Place = tuple[int, int, int]
"""A tool centre point in µm from the fixture datum."""
Box = tuple[int, int, int, int, int, int]
"""Lowest x, y and z, then highest x, y and z, in µm."""


class Piece(NamedTuple):
    """A straight move, or a stop where both ends are one place; ``begins`` and ``ends`` in ms of its block's clock."""

    start: Place
    end: Place
    begins: int
    ends: int

    @property
    def box(self) -> Box:
        """The box that it lies in."""
        (ax, ay, az), (bx, by, bz) = self.start, self.end
        return min(ax, bx), min(ay, by), min(az, bz), max(ax, bx), max(ay, by), max(az, bz)


class Line(NamedTuple):
    """Where a piece leads, whatever its times: its start, the vector to its end, the square of that, and its box."""

    start: Place
    along: Place
    square: int
    box: Box


@dataclass(frozen=True)
class Block:
    """One move with what is done at its end; a robot waits before a block, never inside one.

    Attributes:
        pieces: each begins where and when the one before it ends; the first begins at 0.
        weld: the weld that it makes, empty for a move to the waiting place.
        pass_number: number of the pass of the weld, from 1; 0 for a move.
        welds_from: ms of its clock from which the robot is at the weld; of a move, when that is over.

    """

    pieces: tuple[Piece, ...]
    weld: str = ""
    pass_number: int = 0
    welds_from: int = 0

    @property
    def lasts(self) -> int:
        """How long it takes, in ms."""
        return self.pieces[-1].ends

    @property
    def start(self) -> Place:
        """Where the robot is before it."""
        return self.pieces[0].start

    @property
    def end(self) -> Place:
        """Where the robot is after it."""
        return self.pieces[-1].end

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """The box of each piece."""
        return tuple(piece.box for piece in self.pieces)

    @cached_property
    def box(self) -> Box:
        """The box that all of it lies in."""
        lows_x, lows_y, lows_z, highs_x, highs_y, highs_z = zip(*self.boxes, strict=True)
        return min(lows_x), min(lows_y), min(lows_z), max(highs_x), max(highs_y), max(highs_z)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """Its pieces that lead somewhere: they pass wherever it stops; one stop where none does."""
        lines = tuple(map(_line_of, self.pieces, self.boxes))
        return tuple(line for line in lines if line.square) or lines[:1]


def _line_of(piece: Piece, box: Box) -> Line:
    along = minus(piece.end, piece.start)
    return Line(piece.start, along, dot(along, along), box)


@dataclass(frozen=True, slots=True)
class Started:
    """A block of a robot and when it starts, in ms from the start of both."""

    block: Block
    start: int

    @property
    def end(self) -> int:
        """When it ends."""
        return self.start + self.block.lasts


Timed = tuple[tuple[Started, ...], tuple[Started, ...]]
"""The blocks of both robots, each in its order."""


def ends_of(timed: Timed) -> int:
    """Return when the later robot has ended its last block, in ms; 0 where neither has any."""
    return max((block.end for one in timed for block in one), default=0)


@dataclass(frozen=True, slots=True)
class Bead:
    """One pass of a seam, or one spot: its points in µm and its times in ms.

    ``before`` and ``after`` are spent standing at its ends (gas pre-flow and arc start, crater; closing and opening of
    the gun), ``along`` on the path through its points; for a spot that is standing too.
    """

    weld: str
    pass_number: int
    points: tuple[Place, ...]
    before: int
    along: int
    after: int


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a robot moves through the air, in µm/s, and the ms that each approach to a weld takes besides."""

    air_speed: int
    approach: int


def squared(one: Place, other: Place) -> int:
    """Return the squared distance of two places in µm²."""
    return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2 + (one[2] - other[2]) ** 2


def root_up(square: int) -> int:
    """Return the square root of a whole number, rounded up."""
    return isqrt(square - 1) + 1 if square > 0 else 0


def travel(start: Place, end: Place, air_speed: int) -> int:
    """Return the ms of a straight move at ``air_speed`` in µm/s, rounded up."""
    return -(-root_up(squared(start, end) * 1_000_000) // air_speed)


def move(start: Place, end: Place, pace: Pace) -> Block:
    """Return a move from one place to another at which nothing is welded."""
    lasts = max(1, travel(start, end, pace.air_speed))
    return Block((Piece(start, end, 0, lasts),), welds_from=lasts)


def weld_block(start: Place, bead: Bead, pace: Pace) -> Block:
    """Return the move to a bead, the approach to it, and the bead."""
    first, last = bead.points[0], bead.points[-1]
    arrives = travel(start, first, pace.air_speed)
    welds_from = arrives + pace.approach
    burns = welds_from + bead.before
    beads = list(_along(bead, burns))
    over = beads[-1].ends if beads else burns + bead.along
    pieces = [Piece(start, first, 0, arrives)] if arrives else []
    if not beads:
        pieces.append(Piece(first, first, arrives, max(arrives + 1, over + bead.after)))
        return Block(tuple(pieces), bead.weld, bead.pass_number, welds_from)
    if burns > arrives:
        pieces.append(Piece(first, first, arrives, burns))
    pieces += beads
    if bead.after:
        pieces.append(Piece(last, last, over, over + bead.after))
    return Block(tuple(pieces), bead.weld, bead.pass_number, welds_from)


def _along(bead: Bead, begins: int) -> Iterator[Piece]:
    """Yield the pieces of a bead at one speed, each of at least 1 ms; none of a spot."""
    lengths = [root_up(squared(one, other)) for one, other in pairwise(bead.points)]
    whole = sum(lengths)
    done, here = 0, begins
    for (start, end), length in zip(pairwise(bead.points), lengths, strict=True):
        if length:
            done += length
            there = max(here + 1, begins - (-bead.along * done // whole))
            yield Piece(start, end, here, there)
            here = there


@dataclass(frozen=True, slots=True)
class Course:
    """All blocks of a robot in the order of its welds, each with the detour by the waiting place.

    Attributes:
        onward: block ``k`` leads from weld ``k`` to the next; the first from the waiting place, the last back to it.
        off: block ``k`` leads from weld ``k`` to the waiting place; None before the first weld and after the last.
        again: block ``k`` leads from the waiting place to the weld after weld ``k``.

    """

    waiting: Place
    onward: tuple[Block, ...]
    off: tuple[Block | None, ...]
    again: tuple[Block | None, ...]


def course(waiting: Place, beads: Sequence[Bead], pace: Pace) -> Course:
    """Return the blocks of a robot that begins and ends at its waiting place; ``beads`` in the order of welding."""
    places = [waiting, *(bead.points[-1] for bead in beads)]
    onward = [weld_block(place, bead, pace) for place, bead in zip(places, beads, strict=False)]
    inner = range(1, len(beads))
    off = [move(places[k], waiting, pace) if k in inner else None for k in range(len(beads) + 2)]
    again = [weld_block(waiting, beads[k], pace) if k in inner else None for k in range(len(beads) + 2)]
    back = [move(places[-1], waiting, pace)] if beads else []
    return Course(waiting, (*onward, *back), tuple(off), tuple(again))
