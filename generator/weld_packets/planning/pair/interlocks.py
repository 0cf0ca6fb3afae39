"""Who goes first: the fewest signals that keep a plan safe whatever the speeds, and what runs under them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.planning.pair.blocks import Block, Started, Timed
from weld_packets.planning.pair.distance import Zones


@dataclass(frozen=True, slots=True)
class Interlock:
    """One robot (0 or 1) goes first: the other begins its block ``enters`` after it has ended its block ``leaves``."""

    first: int
    leaves: int
    enters: int


def interlocks(timed: Timed, zones: Zones) -> tuple[Interlock, ...]:
    """Return the fewest interlocks that keep the order of every two blocks that meet, in the order of their requests.

    Of each block only the latest that it waits for counts, and not that where an earlier block of its robot has
    waited for as much.
    """
    wanted: list[tuple[int, Interlock]] = []
    for second in (0, 1):
        waited = -1
        for place, block in enumerate(timed[second]):
            latest = _latest(block, timed[1 - second], zones, swapped=second == 0)
            if latest > waited:
                waited = latest
                wanted.append((block.start, Interlock(1 - second, latest, place)))
    return tuple(lock for _, lock in sorted(wanted, key=lambda each: (each[0], each[1].first, each[1].enters)))


def _latest(block: Started, others: Sequence[Started], zones: Zones, *, swapped: bool) -> int:
    """Return the last block of the other robot that ends before ``block`` and meets it; -1 where there is none."""
    for place in range(len(others) - 1, -1, -1):
        other = others[place]
        pair = (block.block, other.block) if swapped else (other.block, block.block)
        if other.end <= block.start and zones.meet(*pair):
            return place
    return -1


def run(
    blocks: tuple[Sequence[Block], Sequence[Block]],
    locks: Sequence[Interlock],
    lasting: tuple[Sequence[int], Sequence[int]],
) -> tuple[list[int], list[int]]:
    """Return when each block starts under interlocks where each lasts so many ms; each starts as soon as it may.

    Raises ValueError where each robot waits for the other.
    """
    waits = {(1 - lock.first, lock.enters): lock.leaves for lock in locks}
    starts: tuple[list[int], list[int]] = ([], [])
    ends: tuple[list[int], list[int]] = ([], [])
    while any(len(starts[robot]) < len(blocks[robot]) for robot in (0, 1)):
        before = len(starts[0]) + len(starts[1])
        for robot in (0, 1):
            place = len(starts[robot])
            leaves = waits.get((robot, place), -1)
            if place < len(blocks[robot]) and leaves < len(ends[1 - robot]):
                own = ends[robot][-1] if place else 0
                start = max(own, ends[1 - robot][leaves] if leaves >= 0 else 0)
                starts[robot].append(start)
                ends[robot].append(start + lasting[robot][place])
        if before == len(starts[0]) + len(starts[1]):
            raise ValueError(starts)
    return starts
