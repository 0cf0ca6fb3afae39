"""Magnitudes as plain floats for quick geometry, and quantities as a source wrote them."""

from __future__ import annotations

from typing import Any

from generator.units import SPELLINGS, Quantity, exact, magnitude, plain, quantity, with_unit

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


def as_written(value: Quantity) -> str:
    """Return number and unit in the unit as written, without float noise."""
    unit = spelling(value)
    return with_unit(plain(exact(value, unit)), unit)
