"""Magnitudes as plain floats for quick geometry, and quantities as a source wrote them."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from weld_packets.calculation.trace import Measured
from weld_packets.units import SPELLINGS, Quantity, exact, magnitude, plain, quantity, to_last, told_apart, with_unit

HUNDREDTH, TENTH, WHOLE = Decimal("0.01"), Decimal("0.1"), Decimal(1)
"""Last digits of a measured length in mm: of a distance on a sheet, and of the reach of a robot."""
NOISE = 1e-9
"""Relative distance at which two magnitudes are one: float noise of a conversion, never a real difference."""
_SPELLED: dict[Any, str] = {frozenset(quantity(1.0, text).unit_items()): text for text in reversed(SPELLINGS)}


def in_mm(length: Quantity) -> float:
    """Return a length's magnitude in millimetres, quickly."""
    return magnitude(length, "mm")


def same(one: float, other: float) -> bool:
    """Return whether two magnitudes differ by no more than float noise."""
    return abs(one - other) <= NOISE * max(abs(one), abs(other))


def spelling(value: Quantity) -> str:
    """Return how a source spells the unit that ``value`` is written in."""
    return _SPELLED[frozenset(value.unit_items())]


def lengths(found: float, limit: float, last: Decimal) -> tuple[Measured, Measured]:
    """Return a length in mm and its limit with their texts, to ``last`` or as fine as tells which is greater."""
    one, _ = told_apart(exact(quantity(found, "mm"), "mm"), exact(quantity(limit, "mm"), "mm"), last)
    shown = min(last, Decimal(1).scaleb(int(one.as_tuple().exponent)))
    return length(found, shown), length(limit, shown)


def length(found: float, last: Decimal) -> Measured:
    """Return a length in mm with its text to ``last``."""
    return Measured(found, with_unit(plain(to_last(exact(quantity(found, "mm"), "mm"), last)), "mm"), last)


def as_written(value: Quantity) -> str:
    """Return number and unit in the unit as written, without float noise."""
    unit = spelling(value)
    return with_unit(plain(exact(value, unit)), unit)
