"""The smallest distances of a spot pattern, and their dimensions put where they hide nothing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from weld_packets.diagrams.scene import SpotPoint
from weld_packets.diagrams.symbols import near
from weld_packets.diagrams.views import Face
from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.dimensions import Dimension, dimension, draw_dimension
from weld_packets.drawing.sheet import Sheet
from weld_packets.geometry.nearest import closest_pairs
from weld_packets.geometry.vectors import Point

_SAME_MM = 0.05
"""Distances that differ by less print the same: any of them may carry the dimension."""


@dataclass(frozen=True, slots=True)
class Span:
    """A measured distance in mm: from a spot (by index) to a point, which is another spot when ``other`` is given."""

    distance: float
    spot: int
    to: Point
    other: int | None = None


def smallest_pitches(spots: Sequence[SpotPoint]) -> list[Span]:
    """Return the pairs of spots that lie closest together, the pair that a check names first.

    Several where their distances differ by less than 0.05 mm.
    """
    found = closest_pairs([spot.at for spot in spots], slack=_SAME_MM)
    return [Span(apart, one, spots[other].at, other) for one, other, apart in found]


def smallest_edges(spots: Sequence[SpotPoint], faces: Sequence[Sequence[Face]]) -> list[Span]:
    """Return the spots that lie closest to an edge of a face that they lie on; empty when they lie on none."""
    found = [
        Span(math.dist(spot.at, face.foot), index, face.foot)
        for index, (spot, own) in enumerate(zip(spots, faces, strict=True))
        for face in own
    ]
    minimum = min((span.distance for span in found), default=math.inf)
    return [span for span in found if span.distance <= minimum + _SAME_MM]


T = TypeVar("T")
_LINE_COST, _CROSSED_COST, _STEP_COST, _HIDDEN_COST, _OFF = 2.0, 0.1, 1.0, 20.0, 7.0
_WORST = 16.0
"""A dimension that costs more would strike numbers or edges: the caption says it alone."""
_STEPS = (14.0, 24.0, 36.0, 50.0, 66.0, 84.0)
_MAXIMUM_TRIED = 5
_EXTENSION_WEIGHT = 4


@dataclass(frozen=True, slots=True)
class Stretch:
    """Two points on the sheet with the text of their distance, and the radius of the marks on them."""

    start: Spot2
    end: Spot2
    text: str
    radius: float


def draw_best(sheet: Sheet, stretches: Sequence[Stretch], crowd: Crowd, bounds: Box) -> bool:
    """Draw the dimension of the stretch that finds the best place; False when it would hide something everywhere."""
    best, minimum = None, _WORST
    for base, thought, radius in _thoughts(stretches):
        if base >= minimum:
            break
        box = thought.words.box
        if not bounds.holds(box) or not bounds.holds(thought.line) or crowd.taken(box):
            continue
        cost = base + _LINE_COST * crowd.crossings(box)
        if cost < minimum:
            cost += _CROSSED_COST * crowd.crossings(thought.line) + _HIDDEN_COST * _hides(thought, radius, crowd)
        if cost < minimum:
            best, minimum = thought, cost
    if best is None:
        return False
    crowd.block(draw_dimension(sheet, best).grown(1))
    crowd.block(best.line)
    for start, end in best.extensions:
        crowd.line(start, end, _EXTENSION_WEIGHT)
    return True


def _hides(thought: Dimension, radius: float, crowd: Crowd) -> int:
    """Count what lines of a dimension run over: its own line, and those that lead to it from beyond the marks."""
    leads = ((near(start, end, min(radius + _OFF, math.dist(start, end))), end) for start, end in thought.extensions)
    return crowd.taken(thought.line) + sum(crowd.hits(start, end) for start, end in leads)


def sampled(known: Sequence[T]) -> Sequence[T]:
    """Return a few of what is known, spread over all."""
    return known[:: max(1, len(known) // _MAXIMUM_TRIED)]


def _thoughts(stretches: Sequence[Stretch]) -> Iterator[tuple[float, Dimension, float]]:
    """Return dimensions with their cost and the radius of the marks, those nearest to their points first."""
    for rank, step in enumerate(_STEPS):
        for stretch in stretches:
            for start, end in ((stretch.start, stretch.end), (stretch.end, stretch.start)):
                for side in (1.0, -1.0):
                    offset = side * (stretch.radius + step)
                    yield _STEP_COST * rank, dimension(start, end, offset=offset, text=stretch.text), stretch.radius
