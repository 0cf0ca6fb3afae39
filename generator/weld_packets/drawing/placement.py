"""Places for labels beside their marks: near if free, else further out with a leader line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.lettering import ASCENT_EM, DESCENT_EM, text_width
from weld_packets.drawing.shapes import unit

_LINE_COST, _LEADER_COST, _HIT_COST = 6.0, 18.0, 45.0
_NEAR = tuple((math.cos(math.radians(a)), -math.sin(math.radians(a))) for a in (0, 180, 90, 270, 45, 135, 315, 225))
_FAR_ANGLES = (0, 15, 37, 60, 90, 120, 143, 165, 180, 195, 217, 240, 270, 300, 323, 345)
_FAR = tuple((math.cos(math.radians(a)), -math.sin(math.radians(a))) for a in _FAR_ANGLES)
_NEAR_GAP, _OWN, _WELL_BESIDE = 2.0, 5.0, 9.0
_FAR_STEPS = (16.0, 26.0, 38.0, 52.0, 70.0, 92.0, 118.0, 150.0, 190.0, 240.0)


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label asked for: its text, the middle of its mark, and the mark's radius."""

    text: str
    at: Spot2
    radius: float
    size: float
    bold: bool = False
    outward: Spot2 | None = None
    """A unit direction in which the label would best stand."""
    room: tuple[float, float] | None = None
    """Width and height to keep, for a label that is more than its text."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its box; ``leader`` runs from the mark to the label when they stand apart."""

    text: str
    box: Box
    size: float
    bold: bool
    leader: tuple[Spot2, Spot2] | None

    @property
    def baseline(self) -> Spot2:
        """Where centred text is anchored."""
        return (self.box.left + self.box.right) / 2, self.box.bottom - DESCENT_EM * self.size


def place(wanted: Sequence[Wanted], crowd: Crowd, bounds: Box) -> list[Placed | None]:
    """Return a place for each label, None where there is none; each place is blocked in ``crowd`` for the next.

    No place covers a blocked box or leaves ``bounds``. Lines are crossed only when that is the least evil. Labels that
    stand well beside their marks are placed before those that must look further.
    """
    beside = [_settle(label, crowd, bounds, _WELL_BESIDE) for label in wanted]
    return [found or _settle(label, crowd, bounds, math.inf) for found, label in zip(beside, wanted, strict=True)]


def _settle(label: Wanted, crowd: Crowd, bounds: Box, minimum: float) -> Placed | None:
    """Return the place that costs least, None when each costs ``least`` or more."""
    best: Placed | None = None
    for base, box, start in _candidates(label):
        if base >= minimum:
            break
        if not bounds.holds(box) or crowd.taken(box):
            continue
        cost = base + _LINE_COST * crowd.crossings(box)
        leader = (start, _nearest(box, start)) if start else None
        if leader and cost < minimum:
            cost += _leader_cost(leader, label, crowd)
        if cost < minimum:
            best, minimum = Placed(label.text, box, label.size, label.bold, leader), cost
    if best is not None:
        crowd.block(best.box)
        if best.leader:
            crowd.bar(*best.leader)
    return best


def _leader_cost(leader: tuple[Spot2, Spot2], label: Wanted, crowd: Crowd) -> float:
    start, end = leader
    away = unit(label.at, end)
    return _HIT_COST * crowd.hits((start[0] + _OWN * away[0], start[1] + _OWN * away[1]), end)


def _candidates(label: Wanted) -> Iterator[tuple[float, Box, Spot2 | None]]:
    """Return boxes for a label with their cost, and where the leader of a far one starts."""
    width, height = label.room or (
        text_width(label.text, label.size, bold=label.bold),
        (ASCENT_EM + DESCENT_EM) * label.size,
    )
    x, y = label.at
    for cost, direction in _ranked(_NEAR, label.outward):
        left, top = _beside(direction, width, height, label.radius + _NEAR_GAP)
        yield cost, Box(x + left, y + top, x + left + width, y + top + height), None
    ranked = _ranked(_FAR, label.outward)
    for ring, step in enumerate(_FAR_STEPS):
        for cost, direction in ranked:
            left, top = _beside(direction, width, height, label.radius + step)
            start = (x + direction[0] * label.radius, y + direction[1] * label.radius)
            box = Box(x + left, y + top, x + left + width, y + top + height)
            yield _LEADER_COST + 4.0 * ring + cost / 4, box, start


@lru_cache(maxsize=1024)
def _ranked(directions: tuple[Spot2, ...], outward: Spot2 | None) -> list[tuple[float, Spot2]]:
    """Return the directions with a cost each, the cheapest first."""
    if outward is None:
        return [(0.4 * rank, direction) for rank, direction in enumerate(directions)]
    ranked = ((4.0 * (1 - (d[0] * outward[0] + d[1] * outward[1])), d) for d in directions)
    return sorted(ranked, key=lambda pair: pair[0])


@lru_cache(maxsize=4096)
def _beside(direction: Spot2, width: float, height: float, reach: float) -> Spot2:
    """Return where a label's left upper corner lies from the middle of its mark.

    The box touches the circle of radius ``reach`` with its near edge or corner.
    """
    ux, uy = direction
    return ux * reach + (_lean(ux) - 1) * width / 2, uy * reach + (_lean(uy) - 1) * height / 2


def _lean(share: float) -> float:
    """Return -1, 0 or 1, smoothed, for how far a box is pushed off its anchor along one axis."""
    return max(-1.0, min(1.0, 1.6 * share))


def _nearest(box: Box, point: Spot2) -> Spot2:
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)
