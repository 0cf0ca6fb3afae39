"""What two robots must not do at once, as open intervals of their clocks: by whole blocks, or to the millisecond."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

from weld_packets.planning.pair.blocks import Block, Place
from weld_packets.planning.pair.distance import Span, forbidden, meets, near_place

_T = TypeVar("_T")


class Rule(Protocol):
    """When a block may start beside another, and when a robot may be still beside one."""

    def starts(self, first: Block, second: Block) -> tuple[Span, ...]:
        """Return when ``second`` must not start, in ms after ``first``; inside (-its own length, that of first)."""

    def standing(self, place: Place, block: Block) -> tuple[Span, ...]:
        """Return when no robot may be at ``place``, in ms of the block's clock."""


class Zones:
    """Blocks that come nearer than a distance (µm) never overlap in time: kept by signals, whatever the speeds."""

    def __init__(self, clear: int) -> None:
        self._meets = _of_blocks(lambda one, other: meets(one, other, clear))
        self._near = _of_place(lambda place, block: bool(near_place(place, block, clear)))

    def starts(self, first: Block, second: Block) -> tuple[Span, ...]:
        """Return the whole time of both where they meet."""
        return ((-second.lasts, first.lasts),) if self.meet(first, second) else ()

    def standing(self, place: Place, block: Block) -> tuple[Span, ...]:
        """Return the whole time of a block that comes near the place."""
        return ((0, block.lasts),) if self._near(place, block) else ()

    def meet(self, first: Block, second: Block) -> bool:
        """Return whether two blocks come nearer than the distance anywhere."""
        return self._meets(first, second)


class Offsets:
    """Tools never come nearer than a distance (µm), to the millisecond: only as good as the clocks are."""

    def __init__(self, clear: int) -> None:
        self._starts = _of_blocks(lambda one, other: forbidden(one, other, clear))
        self._standing = _of_place(lambda place, block: near_place(place, block, clear))

    def starts(self, first: Block, second: Block) -> tuple[Span, ...]:
        """Return the starts in closed form."""
        return self._starts(first, second)

    def standing(self, place: Place, block: Block) -> tuple[Span, ...]:
        """Return the times in closed form."""
        return self._standing(place, block)


def _of_blocks(found: Callable[[Block, Block], _T]) -> Callable[[Block, Block], _T]:
    """Return a function that remembers what it found; a block is known by itself and not by what it holds."""
    known: dict[tuple[int, int], tuple[Block, Block, _T]] = {}

    def look(first: Block, second: Block) -> _T:
        key = (id(first), id(second))
        if key not in known:
            known[key] = (first, second, found(first, second))
        return known[key][2]

    return look


def _of_place(found: Callable[[Place, Block], _T]) -> Callable[[Place, Block], _T]:
    """Return a function that remembers what it found of a place beside a block."""
    known: dict[tuple[Place, int], tuple[Block, _T]] = {}

    def look(place: Place, block: Block) -> _T:
        key = (place, id(block))
        if key not in known:
            known[key] = (block, found(place, block))
        return known[key][1]

    return look
