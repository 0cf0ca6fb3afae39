"""What tests of more than one package look at drawings with."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest
from weld_packets.drawing.boxes import Box


@pytest.fixture(scope="session")
def overlapping() -> Callable[[Iterable[Box]], list[tuple[Box, Box]]]:
    """Return every pair of boxes that share an area."""

    def pairs(boxes: Iterable[Box]) -> list[tuple[Box, Box]]:
        known = list(boxes)
        return [(one, other) for at, one in enumerate(known) for other in known[at + 1 :] if one.overlaps(other)]

    return pairs
