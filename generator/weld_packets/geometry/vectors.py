"""Vectors of three numbers; of whole numbers too, where a calculation has to be exact."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TypeVar

Point = tuple[float, float, float]
"""A point or a direction in space."""
FlatPoint = tuple[float, float]
"""A point in a plane."""
_Number = TypeVar("_Number", int, float)
_Vector = tuple[_Number, _Number, _Number]


def plus(one: Point, other: Point) -> Point:
    """Return ``one + other``."""
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def minus(one: _Vector[_Number], other: _Vector[_Number]) -> _Vector[_Number]:
    """Return ``one - other``."""
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def scaled(vector: Point, factor: float) -> Point:
    """Return ``factor * vector``."""
    return vector[0] * factor, vector[1] * factor, vector[2] * factor


def along(start: Point, direction: Point, by: float) -> Point:
    """Return ``start + by * direction``."""
    return start[0] + by * direction[0], start[1] + by * direction[1], start[2] + by * direction[2]


def dot(one: _Vector[_Number], other: _Vector[_Number]) -> _Number:
    """Return the scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: _Vector[_Number], other: _Vector[_Number]) -> _Vector[_Number]:
    """Return the vector product."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def length_of(points: Sequence[Point]) -> float:
    """Return the length of the line through ``points``."""
    return sum(math.dist(one, other) for one, other in pairwise(points))
