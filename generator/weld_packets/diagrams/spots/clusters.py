"""Groups of points that are too close to be drawn at the scale of the whole."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from weld_packets.drawing.boxes import Spot2


def crowded(points: Sequence[Spot2], limit: float) -> list[list[int]]:
    """Return the groups (by index) of points that hang together by distances below ``limit``; none of one point."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    leader = list(range(len(points)))
    for index, (x, y) in enumerate(points):
        column, row = int(x // limit), int(y // limit)
        for near in ((column + dx, row + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)):
            for other in cells.get(near, ()):
                if math.dist(points[other], (x, y)) < limit:
                    leader[_root(leader, other)] = _root(leader, index)
        cells[column, row].append(index)
    groups: dict[int, list[int]] = defaultdict(list)
    for index in range(len(points)):
        groups[_root(leader, index)].append(index)
    return [group for group in groups.values() if len(group) > 1]


def _root(leader: list[int], index: int) -> int:
    while leader[index] != index:
        leader[index] = leader[leader[index]]
        index = leader[index]
    return index
