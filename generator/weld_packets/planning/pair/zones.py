"""Which blocks of two robots must never overlap in time: kept by signals, whatever the speeds."""

from __future__ import annotations

from weld_packets.planning.pair.blocks import Block, Place
from weld_packets.planning.pair.distance import meets, near_place


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
