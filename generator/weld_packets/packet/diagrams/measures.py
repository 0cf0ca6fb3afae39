"""Dimensions of short distances, put where they hide nothing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.dimensions import Dimension, dimension, draw_dimension
from weld_packets.drawing.sheet import Sheet

T = TypeVar("T")
_LINE_COST, _STEP_COST, _HIDDEN_COST = 3.0, 1.0, 8.0
_STEPS = (14.0, 24.0, 36.0, 50.0, 66.0)
_MAXIMUM_TRIED = 5


@dataclass(frozen=True, slots=True)
class Stretch:
    """Two points on the sheet with the text of their distance, and the radius of the marks on them."""

    start: Spot2
    end: Spot2
    text: str
    radius: float


def draw_best(sheet: Sheet, stretches: Sequence[Stretch], crowd: Crowd, bounds: Box) -> bool:
    """Draw the dimension of the stretch that finds the best place; False when none fits anywhere."""
    best, minimum = None, math.inf
    for base, thought in _thoughts(stretches):
        if base >= minimum:
            break
        box = thought.words.box
        if not bounds.holds(box) or not bounds.holds(thought.line) or crowd.taken(box):
            continue
        cost = base + _LINE_COST * crowd.crossings(box)
        if cost < minimum:
            cost += crowd.crossings(thought.line) + _HIDDEN_COST * crowd.taken(thought.line)
        if cost < minimum:
            best, minimum = thought, cost
    if best is None:
        return False
    crowd.block(draw_dimension(sheet, best).grown(1))
    crowd.block(best.line)
    return True


def sampled(known: Sequence[T]) -> Sequence[T]:
    """Return a few of what is known, spread over all."""
    return known[:: max(1, len(known) // _MAXIMUM_TRIED)]


def _thoughts(stretches: Sequence[Stretch]) -> Iterator[tuple[float, Dimension]]:
    """Return dimensions with their cost, those nearest to their points first."""
    for rank, step in enumerate(_STEPS):
        for stretch in stretches:
            for start, end in ((stretch.start, stretch.end), (stretch.end, stretch.start)):
                for side in (1.0, -1.0):
                    offset = side * (stretch.radius + step)
                    yield _STEP_COST * rank, dimension(start, end, offset=offset, text=stretch.text)
