"""The smallest distances of a spot pattern: from spot to spot, and from spot to the edge of a part it lies on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.packet.diagrams.faces import Face
from weld_packets.packet.diagrams.geometry import Point3, SpotPoint

_SAME_MM = 0.05
"""Distances that differ by less print alike: any of them may carry the dimension."""


@dataclass(frozen=True, slots=True)
class Span:
    """A measured distance in mm: from a spot (by index) to a point, which is another spot when ``other`` is given."""

    distance: float
    spot: int
    to: Point3
    other: int | None = None


def smallest_pitches(spots: Sequence[SpotPoint]) -> list[Span]:
    """Return the pairs of spots that lie closest together; several when they are equal within 0.05 mm."""
    order = sorted(range(len(spots)), key=lambda index: spots[index].at)
    found: list[Span] = []
    minimum = math.inf
    for rank, one in enumerate(order):
        for other in order[rank + 1 :]:
            if spots[other].at[0] - spots[one].at[0] > minimum + _SAME_MM:
                break
            distance = math.dist(spots[one].at, spots[other].at)
            if distance <= minimum + _SAME_MM:
                minimum = min(minimum, distance)
                found.append(Span(distance, min(one, other), spots[max(one, other)].at, max(one, other)))
    found.sort(key=lambda span: (span.spot, span.other or 0))
    return [span for span in found if span.distance <= minimum + _SAME_MM]


def smallest_edges(spots: Sequence[SpotPoint], faces: Sequence[Sequence[Face]]) -> list[Span]:
    """Return the spots that lie closest to an edge of a face that they lie on; empty when they lie on none."""
    found = [
        Span(math.dist(spot.at, face.foot), index, face.foot)
        for index, (spot, own) in enumerate(zip(spots, faces, strict=True))
        for face in own
    ]
    minimum = min((span.distance for span in found), default=math.inf)
    return [span for span in found if span.distance <= minimum + _SAME_MM]
