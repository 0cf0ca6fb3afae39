"""What a diagram is drawn from: plain lengths in mm in the fixture datum (X right, Y away, Z up), and text as shown."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

Point3 = tuple[float, float, float]
Side = Literal["A", "B"]
JointForm = Literal["T", "lap", "corner", "butt", "flare-bevel"]
_STEP_DEG = 6.0


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight piece of a path, to a point."""

    end: Point3


@dataclass(frozen=True, slots=True)
class Bend:
    """A circular piece of a path, through ``via`` to ``end``."""

    via: Point3
    end: Point3


@dataclass(frozen=True, slots=True)
class Trail:
    """A path: where it starts, then its pieces."""

    start: Point3
    pieces: tuple[Straight | Bend, ...]

    @property
    def end(self) -> Point3:
        """Where it stops."""
        return self.pieces[-1].end

    def points(self) -> list[Point3]:
        """Return points along the path, close enough to be joined by straight lines; ends and vias are among them."""
        known = [self.start]
        for piece in self.pieces:
            known += [piece.end] if isinstance(piece, Straight) else bend_points(known[-1], piece.via, piece.end)[1:]
        return known


@dataclass(frozen=True, slots=True)
class Outline:
    """The closed outline of a part."""

    name: str
    points: tuple[Point3, ...]


@dataclass(frozen=True, slots=True)
class SpotPoint:
    """One spot weld: its number in its robot's sequence and its mark on the drawing.

    ``stack`` names the sheets that it joins, ``size`` is its nominal diameter as shown; both empty when unknown.
    """

    sequence: int
    label: str
    side: Side
    at: Point3
    stack: str = ""
    size: str = ""


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One arc seam with what its symbol and its torch detail say; texts are as shown, angles in degrees.

    ``size`` is what stands before the symbol (such as a3 or z4), empty for a butt. ``travel_angle`` is how far the
    torch leans out of square along the seam, positive when the arc points forward (push), negative for drag.
    None angles were not asked for and are not drawn.
    """

    order: int
    label: str
    side: Side
    trail: Trail
    joint: JointForm
    size: str
    process: str
    position: str
    work_angle: float | None = None
    travel_angle: float | None = None
    stick_out: str = ""
    """The distance from contact tip to work as shown, empty when unknown."""
    runs: int = 1


@dataclass(frozen=True, slots=True)
class Lengths:
    """How lengths are written: ``text`` takes mm; ``unit_length`` is one unit of the first system in mm."""

    text: Callable[[float], str]
    unit_length: float = 1.0


@dataclass(frozen=True, slots=True)
class Ghost:
    """Previous geometry to show beneath: spots and paths."""

    spots: tuple[Point3, ...] = ()
    trails: tuple[Trail, ...] = ()
    label: str = ""


@dataclass(frozen=True, slots=True)
class Scene:
    """What all diagrams of an operation share. ``key`` starts the ids on the page; ``robots`` names A and B."""

    key: str
    datum: str
    robots: tuple[str, str]
    outlines: tuple[Outline, ...]
    lengths: Lengths


def minus(one: Point3, other: Point3) -> Point3:
    """Return ``one - other``."""
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def dot(one: Point3, other: Point3) -> float:
    """Return the scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Point3, other: Point3) -> Point3:
    """Return the vector product."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def along(start: Point3, direction: Point3, by: float) -> Point3:
    """Return ``start + by * direction``."""
    return start[0] + by * direction[0], start[1] + by * direction[1], start[2] + by * direction[2]


def length_of(points: Sequence[Point3]) -> float:
    """Return the length in mm of the line through ``points``."""
    return sum(math.dist(one, other) for one, other in pairwise(points))


def bend_points(start: Point3, via: Point3, end: Point3) -> list[Point3]:
    """Return points along the circular arc from ``start`` through ``via`` to ``end``, all three among them.

    Three points on one straight line are joined straight.
    """
    centre = _centre(start, via, end)
    if centre is None:
        return [start, via, end]
    first = minus(start, centre)
    normal = cross(minus(via, start), minus(end, start))
    second = _scaled(cross(normal, first), 1 / math.sqrt(dot(normal, normal)))
    half = _angle(minus(via, centre), first, second)
    whole = _angle(minus(end, centre), first, second)
    angles = [*_steps(0.0, half), *_steps(half, whole)]
    swept = [along(along(centre, first, math.cos(a)), second, math.sin(a)) for a in angles]
    return [start, *swept[1 : len(_steps(0.0, half))], via, *swept[len(_steps(0.0, half)) + 1 :], end]


def _centre(start: Point3, via: Point3, end: Point3) -> Point3 | None:
    u, v = minus(via, start), minus(end, start)
    w = cross(u, v)
    area = dot(w, w)
    if area <= 1e-12 * dot(u, u) * dot(v, v):
        return None
    inner = minus(_scaled(v, dot(u, u)), _scaled(u, dot(v, v)))
    return along(start, cross(inner, w), 1 / (2 * area))


def _scaled(vector: Point3, by: float) -> Point3:
    return vector[0] * by, vector[1] * by, vector[2] * by


def _angle(vector: Point3, first: Point3, second: Point3) -> float:
    return math.atan2(dot(vector, second), dot(vector, first)) % (2 * math.pi)


def _steps(low: float, high: float) -> list[float]:
    count = max(1, math.ceil(math.degrees(high - low) / _STEP_DEG))
    return [low + (high - low) * index / count for index in range(count)]
