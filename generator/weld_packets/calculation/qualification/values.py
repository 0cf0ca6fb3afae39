"""What an order has, or a record tested, of one variable; and what a rule makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from weld_packets.model.tables.qualification import Required, Variable, WeldType
from weld_packets.units import Kind, Quantity, exact, kinds

Outcome = Literal["inside", "cannot decide", "outside"]
RANKS: Mapping[Outcome, int] = {"inside": 0, "cannot decide": 1, "outside": 2}
"""From best to worst: the outcome of several is their worst."""

KINDS: Mapping[Variable, Kind] = {
    "outside diameter": kinds.SIZE,
    "thickness": kinds.THICKNESS,
    "throat": kinds.SIZE,
    "filler diameter": kinds.SIZE,
    "carbon dioxide": kinds.SHARE,
    "current": kinds.CURRENT,
    "voltage": kinds.VOLTAGE,
    "travel speed": kinds.TRAVEL_SPEED,
    "wire feed speed": kinds.WIRE_FEED,
    "heat input": kinds.HEAT,
    "preheat": kinds.TEMPERATURE,
    "interpass temperature": kinds.TEMPERATURE,
    "sheet thickness": kinds.THICKNESS,
    "cap face": kinds.SIZE,
    "electrode force": kinds.FORCE,
    "weld time": kinds.TIME,
    "weld current": kinds.SPOT_CURRENT,
}
"""The kind of quantity of a variable that is measured; every other one is a word. Rules count in its metric unit."""


@dataclass(frozen=True)
class Sizes:
    """One size of each component, or one alone, in the metric unit of the variable, the smallest first."""

    sizes: tuple[Decimal, ...]


@dataclass(frozen=True)
class Extent:
    """Everything from one size to another, in the metric unit of the variable."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True)
class Terms:
    """Words of the trade: the groups of both materials, a position."""

    terms: tuple[str, ...]


@dataclass(frozen=True)
class Range:
    """What is covered of a size; an open end is None."""

    low: Decimal | None
    high: Decimal | None


@dataclass(frozen=True)
class Ranges:
    """What is covered of each size of a test, the smallest first; one for all where all are covered equally."""

    each: tuple[Range, ...]

    def for_sizes(self, sizes: tuple[Decimal, ...]) -> tuple[tuple[Decimal, Range], ...]:
        """Return sizes of an order with the range of each; where the counts differ each size has to lie in every range.

        Two sheets of 1 mm are not covered by a test on 1 mm and 2 mm, though both lie between them.
        """
        if len(self.each) == len(sizes):
            return tuple(zip(sizes, self.each, strict=True))
        return tuple((size, each) for size in sizes for each in self.each)


Value = Sizes | Extent | Terms
Covered = Ranges | Terms
PAIRED: frozenset[Variable] = frozenset({"material", "material group", "material subgroup", "coating", "product"})
"""Words of which each component has one, so that the combination counts and not each by itself."""
THICKNESSES: tuple[Variable, Variable] = ("thickness", "sheet thickness")
"""The thickness of each component, of an arc weld and of a spot."""
OUTSIDE_DIAMETER: Variable = "outside diameter"
BANDED: frozenset[Variable] = frozenset({*THICKNESSES, OUTSIDE_DIAMETER})
"""Sizes of each component, each of which has the line of its own band."""
Tested = Mapping[Variable, Value]
"""What a record says of each variable; what it does not say is left out."""


@dataclass(frozen=True)
class Case:
    """Welds of an order that are equal in every variable: what the order has of each, None where nobody says it.

    ``required`` are the tests that the order requires; they decide which lines hold.
    """

    welds: tuple[str, ...]
    weld_type: WeldType
    has: Mapping[Variable, Value | None]
    required: tuple[Required, ...] = ()


def number(variable: Variable, value: Quantity) -> Decimal:
    """Return a quantity as a number in the metric unit of a variable."""
    return exact(value, KINDS[variable].metric)


def sizes(variable: Variable, *values: Quantity | None) -> Sizes | None:
    """Return sizes of a variable, the smallest first; None where one of them is not known."""
    known = [number(variable, value) for value in values if value is not None]
    return Sizes(tuple(sorted(known))) if values and len(known) == len(values) else None


def extent(variable: Variable, low: Quantity | None, high: Quantity | None) -> Extent | None:
    """Return a range of a variable; one end alone is a single reading, and nothing is not known."""
    ends = [number(variable, end) for end in (low, high) if end is not None]
    return Extent(min(ends), max(ends)) if ends else None


def terms(*words: str | None) -> Terms | None:
    """Return words in the order of the alphabet; None where one of them is not known."""
    known = [word for word in words if word]
    return Terms(tuple(sorted(known))) if words and len(known) == len(words) else None
