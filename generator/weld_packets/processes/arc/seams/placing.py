"""How far a seam runs off the edges and faces of its two components, beyond what their thickness explains.

An outline is drawn in either face of its sheet or in the middle of it, so that a point up to a thickness off its plane
may lie on the sheet. A fillet follows an edge of one component and lies on a face of the other; a butt and a corner
follow edges of both; a flare bevel runs along a rounded corner, up to its radius inside the edge as drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot, inf

from weld_packets.calculation.places.millimetres import flat_shapes
from weld_packets.geometry.outlines import FlatShape
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Component
from weld_packets.processes.arc.records import Seam
from weld_packets.processes.arc.size.flare import is_angular, outer_radius, tube_of
from weld_packets.units import in_mm

APART = 5.0
"""Largest distance in mm between the places at which a seam is looked at; a shorter notch in an edge is not seen."""


@dataclass(frozen=True)
class Hold:
    """What a component gives a seam: its edge or a face, how far beside the edge and how far off the plane, in mm."""

    edge: bool
    beside: float
    above: float


Pair = tuple[Hold, Hold]


class Body:
    """A component with its outlines as flat shapes in mm; ``scale`` is that at which its outlines are read."""

    def __init__(self, component: Component, scale: float = 1.0) -> None:
        self.component = component
        self.thickness = in_mm(component.thickness)
        self.shapes = flat_shapes(component.outlines, scale)

    @cached_property
    def longest_edge(self) -> float:
        """Length in mm of the longest edge that is drawn of the component; 0 where none is."""
        return max((length for shape in self.shapes for length in shape.edge_lengths()), default=0.0)

    def miss(self, point: Point, hold: Hold) -> float:
        """Return how many mm a point lies off what the component gives; 0 for a component without outlines."""
        minimum = inf if self.shapes else 0.0
        for shape in self.shapes:
            off = max(0.0, shape.height(point) - hold.above)
            near = off < minimum
            if near and minimum < inf:  # a look at the box spares one at every edge
                near = hypot(off, max(0.0, shape.box_distance(point) - hold.beside)) < minimum
            if near:
                minimum = min(minimum, hypot(off, _beside(shape, point, hold)))
        return minimum

    def edge_at(self, point: Point) -> Point:
        """Return the direction of the edge that is nearest to a point, in mm; the component has outlines."""
        shape = min(self.shapes, key=lambda shape: hypot(shape.height(point), shape.edge_distance(point)))
        return shape.nearest_edge(point)


def _beside(shape: FlatShape, point: Point, hold: Hold) -> float:
    if not hold.edge and shape.holds(point):
        return 0.0
    return max(0.0, shape.edge_distance(point) - hold.beside)


@dataclass(frozen=True)
class Fit:
    """How a seam lies on its components at its worst place.

    Attributes:
        off: how many mm it is off what the components must give it.
        at: where.
        air: how many mm that place is off the nearer of both components, 0 on a face.
        edges: for each component whether the seam follows its edge.

    """

    off: float
    at: Point
    air: float
    edges: tuple[bool, bool]


def fit(seam: Seam, bodies: tuple[Body, Body], stations: Sequence[Point]) -> Fit:
    """Return how a seam lies on its components, in the reading that fits best; one or both have outlines."""
    pairs = list(_pairs(seam, bodies))
    middle = stations[len(stations) // 2]
    found = (inf, len(pairs), middle)
    # The likeliest reading first: another one is then given up at its first place that is worse than that one's worst.
    for reading in sorted(range(len(pairs)), key=lambda each: _off(middle, pairs[each], bodies)):
        worst = _worst(pairs[reading], bodies, stations, found[0])
        if worst is not None and (worst[0], reading) < found[:2]:
            found = (worst[0], reading, worst[1])
    off, reading, at = found
    drawn = [body for body in bodies if body.shapes] if off else []
    air = min((body.miss(at, Hold(edge=False, beside=0.0, above=body.thickness)) for body in drawn), default=0.0)
    return Fit(off, at, air, (pairs[reading][0].edge, pairs[reading][1].edge))


def _worst(
    pair: Pair, bodies: tuple[Body, Body], stations: Sequence[Point], limit: float
) -> tuple[float, Point] | None:
    """Return how far off a seam is at its worst place, and where; None where it is further off than ``limit``."""
    places: list[tuple[float, Point]] = []
    for point in stations:
        off = _off(point, pair, bodies)
        if off > limit:
            return None
        places.append((off, point))
    return max(places)


def _off(point: Point, pair: Pair, bodies: tuple[Body, Body]) -> float:
    return max(bodies[0].miss(point, pair[0]), bodies[1].miss(point, pair[1]))


def _pairs(seam: Seam, bodies: tuple[Body, Body]) -> Iterator[Pair]:
    """Yield the readings by which the two components may give a joint its place."""
    first, second = (body.thickness for body in bodies)
    if seam.joint == "square butt":
        gap = 0.0 if seam.gap is None else in_mm(seam.gap)
        yield _edge(gap, first), _edge(gap, second)
    elif seam.joint == "corner fillet":
        yield _edge(0.0, first), _edge(first, second)
        yield _edge(second, first), _edge(0.0, second)
    elif seam.joint == "flare bevel":
        tube_of((bodies[0].component, bodies[1].component))
        for place, body in enumerate(bodies):
            if is_angular(body.component):
                radius = outer_radius(body.component).maximum
                other = bodies[1 - place]
                tube, plate = _edge(radius, radius), Hold(edge=False, beside=0.0, above=other.thickness)
                yield (tube, plate) if place == 0 else (plate, tube)
    else:
        yield _edge(0.0, first), Hold(edge=False, beside=0.0, above=second)
        yield Hold(edge=False, beside=0.0, above=first), _edge(0.0, second)


def _edge(beside: float, above: float) -> Hold:
    return Hold(edge=True, beside=beside, above=above)


def bodies_of(seam: Seam, components: Mapping[str, Body]) -> tuple[Body, Body]:
    """Return the two components of a seam."""
    first, second = seam.components
    return components[first], components[second]
