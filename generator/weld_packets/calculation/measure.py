"""Magnitudes as plain floats for quick geometry, and quantities as a source wrote them."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from weld_packets.calculation.trace import Measured
from weld_packets.units import SPELLINGS, exact, plain, quantity, rounded, told_apart, with_unit

_SPELLED: dict[Any, str] = {frozenset(quantity(1.0, text).unit_items()): text for text in reversed(SPELLINGS)}


def lengths(found: float, limit: float, last: Decimal) -> tuple[Measured, Measured]:
    """Return a length in mm and its limit with their texts, to ``last`` or as fine as tells which is greater."""
    one, _ = told_apart(exact(quantity(found, "mm"), "mm"), exact(quantity(limit, "mm"), "mm"), last)
    shown = min(last, Decimal(1).scaleb(int(one.as_tuple().exponent)))
    return length(found, shown), length(limit, shown)


def length(found: float, last: Decimal) -> Measured:
    """Return a length in mm with its text to ``last``."""
    return Measured(found, with_unit(plain(rounded(exact(quantity(found, "mm"), "mm"), last)), "mm"), last)
