"""How much room a map leaves for its labels: the room in which the most of them can be read at a glance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol, TypeVar

from weld_packets.diagrams.components import EDGE_WEIGHT
from weld_packets.diagrams.layout import PAD, Room
from weld_packets.drawing.boxes import Box
from weld_packets.drawing.placement import Placed

ROOMS = tuple(Room(pad=pad) for pad in (PAD, 72.0))
LARGER = tuple(Room(growth) for growth in (1.25, 1.6, 2.1, 2.8))
"""What is tried in turn until every label has a place: a smaller drawing first, then a larger sheet."""
_STRUCK_IS_WORTH = 3
_FEW = 0.05
"""What share of the labels may be on an edge before a smaller drawing is tried."""


@dataclass(slots=True)
class Labels:
    """The labels of a map: those of its welds, the boxes of all others, and how many welds have none of any use."""

    welds: list[Placed] = field(default_factory=list)
    others: list[Box] = field(default_factory=list)
    missing: int = 0

    def keep(self, label: Placed | None) -> None:
        """Count the label of a weld; None is one without a place."""
        if label is None:
            self.missing += 1
        else:
            self.welds.append(label)

    @property
    def boxes(self) -> list[Box]:
        """The boxes of all labels."""
        return [*(label.box for label in self.welds), *self.others]

    @property
    def struck(self) -> int:
        """How many are on the edge of a component or on a line that leads to a dimension."""
        return sum(label.crossed >= EDGE_WEIGHT for label in self.welds)

    @property
    def faults(self) -> tuple[int, int]:
        """What makes a map worse than another: labels without a place, then such on edges and such with leaders."""
        led = sum(label.leader is not None for label in self.welds)
        return self.missing, _STRUCK_IS_WORTH * self.struck + led


class Labelled(Protocol):
    """A map with labels."""

    labels: Labels


Map = TypeVar("Map", bound=Labelled)


def fitted(attempt: Callable[[Room], Map]) -> Map:
    """Return the first map on which labels have their places, all but few off edges, else that with the fewest faults.

    A larger sheet, whose lettering is smaller on the page, is taken only for labels that have no place at all.
    """
    best = attempt(ROOMS[0])
    for room in ROOMS[1:]:
        if best.labels.missing or best.labels.struck > _FEW * len(best.labels.welds):
            best = min(best, attempt(room), key=lambda drawn: drawn.labels.faults)
    for room in LARGER:
        if best.labels.missing:
            best = min(best, attempt(room), key=lambda drawn: drawn.labels.faults)
    return best
