"""Seams on both sides of a thin sheet fall on one line at the scale of a map: they are drawn a little apart."""

from __future__ import annotations

import math
from collections.abc import Sequence

from weld_packets.drawing.boxes import Spot2
from weld_packets.packet.diagrams.seam_lines import on_line_at

APART_PX = 15.0
_SHARES = (0.2, 0.5, 0.8)


def apart(lines: Sequence[Sequence[Spot2]]) -> list[list[Spot2]]:
    """Return ``lines`` with each pair that runs together moved apart, across its way, to 15 pixels."""
    moved = [list(line) for line in lines]
    for one in range(len(lines)):
        for other in range(one + 1, len(lines)):
            across = _gap(moved[one], moved[other])
            if across is not None:
                moved[one] = [(x - across[0] / 2, y - across[1] / 2) for x, y in moved[one]]
                moved[other] = [(x + across[0] / 2, y + across[1] / 2) for x, y in moved[other]]
    return moved


def _gap(one: Sequence[Spot2], other: Sequence[Spot2]) -> Spot2 | None:
    """Return how much the other line is to be moved away, relative to the first; None when they are clear."""
    if math.dist(one[0], other[0]) > APART_PX and math.dist(one[0], other[-1]) > APART_PX:
        return None
    back = math.dist(one[0], other[0]) > math.dist(one[0], other[-1])
    along = on_line_at(one, _SHARES)
    beside = on_line_at(other, [1 - share for share in _SHARES] if back else _SHARES)
    if any(math.dist(here, there) >= APART_PX for (here, _), (there, _) in zip(along, beside, strict=True)):
        return None
    ((x, y), way), ((a, b), _) = along[1], beside[1]
    across = (-way[1], way[0])
    distance = (a - x) * across[0] + (b - y) * across[1]
    side = 1.0 if distance >= 0 else -1.0
    missing = APART_PX - abs(distance)
    return (across[0] * side * missing, across[1] * side * missing) if missing > 0 else None
