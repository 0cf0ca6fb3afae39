"""How well a figure is known, from what it was made of, and which digits that leaves it.

A set value is known to its machine's step, a reading to half its allowed range, a stated number to one unit of its last
digit. A result is known as well as it stays put while its inputs move by what they are known to.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from math import hypot
from types import MappingProxyType

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import Figure
from weld_packets.units import Quantity, distinguished, exact, magnitude, quantity, scaled

Shares = Mapping[str, float]
"""To which share of itself each input of a formula is known, by argument; one that is left out is exact."""
EXACT: Shares = MappingProxyType({})
GAUGE = quantity(0.1, "mm")
"""To which a weld gauge is read: common practice, no source. Sizes on a drawing are nominal and no better than that."""


def spread_of(figure: Figure) -> float:
    """Return to what a figure that has a number is known, in its own unit."""
    if figure.spread is not None:
        return figure.spread
    if figure.step is not None:
        return float(figure.step)
    window = figure.window
    if window is not None and window.low is not None and window.high is not None:
        return (magnitude(window.high, figure.unit) - magnitude(window.low, figure.unit)) / 2
    return 0.0 if figure.text is None else float(Decimal(1).scaleb(int(figure.text.as_tuple().exponent)))


def share_of(figure: Figure) -> float:
    """Return to which share of itself a figure is known; 0 for nothing."""
    value = 0.0 if figure.value is None else magnitude(figure.value, figure.unit)
    return spread_of(figure) / abs(value) if value else 0.0


def share_of_size(size: Quantity) -> float:
    """Return to which share of itself a size on a drawing is known: to what a gauge reads; 0 for nothing."""
    found = magnitude(size, "mm")
    return magnitude(GAUGE, "mm") / found if found else 0.0


def share_of_stated(value: Quantity, unit: str) -> float:
    """Return to which share of itself a number is known that a source states in ``unit``; 0 for nothing."""
    number = exact(value, unit)
    return float(Decimal(1).scaleb(min(int(number.as_tuple().exponent), 0)) / abs(number)) if number else 0.0


def share_moved(worked: Worked, shares: Shares, unit: str) -> float:
    """Return to which share of itself a result is known, while its inputs are known to theirs."""
    return moved(worked, shares, unit) / abs(magnitude(worked.result, unit))


def moved(worked: Worked, shares: Shares, unit: str) -> float:
    """Return by how much a result moves, in ``unit``, as each input moves by its share; root of the sum of squares."""
    result = magnitude(worked.result, unit)
    others = (
        worked.formula(**{**worked.given, name: scaled(worked.given[name], 1 + share)})
        for name, share in shares.items()
    )
    return hypot(*(magnitude(other, unit) - result for other in others))


def beside(found: Quantity, limit: Quantity, unit: str, last: Decimal) -> tuple[Decimal, Decimal]:
    """Return two quantities in ``unit`` to ``last``, or as much finer as it takes to show which is larger."""
    return distinguished(exact(found, unit), exact(limit, unit), last)
