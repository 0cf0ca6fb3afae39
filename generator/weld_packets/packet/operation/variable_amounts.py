"""Numbers of the variables of qualification in both systems, with no more digits than anybody measures."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from weld_packets.calculation.qualification.values import KINDS
from weld_packets.model.tables.qualification import Variable
from weld_packets.units import SystemOfUnits, in_brackets, in_unit, kinds, plain, rounded
from weld_packets.units.digits import (
    HUNDREDTH,
    RESULT_DIGITS,
    STATED_DIGITS,
    TENTH,
    THOUSANDTH,
    WHOLE,
    Rounding,
    trimmed,
)
from weld_packets.units.scales import converted
from weld_packets.wording.qualification import Amounts

_LAST: Mapping[str, Decimal] = {"mm": HUNDREDTH, "in": THOUSANDTH, "°C": WHOLE, "°F": WHOLE}
"""The unit of the last digit of a size and of a temperature; anything else has three digits."""
_REQUIRED: Mapping[Variable, Rounding] = {
    "throat": ROUND_CEILING,
    "preheat": ROUND_CEILING,
    "interpass temperature": ROUND_FLOOR,
}
"""How a variable that is itself a minimum or a maximum is rounded, as on every other page."""


def amounts_in(first: SystemOfUnits) -> Amounts:
    """Return how a number of a variable is said: in the order's first system of units, and in the other."""

    def said(
        variable: Variable, number: Decimal, rounding: Rounding = ROUND_HALF_EVEN, beside: Decimal | None = None
    ) -> str:
        kind = KINDS[variable]
        inward = _REQUIRED.get(variable, rounding) if rounding == ROUND_HALF_EVEN else rounding
        fine = beside is not None and 0 < abs(number - beside) < 2 * _last(number, kind.metric)
        metric, customary = (
            in_unit(_text(converted(number, kind.metric, unit), unit, inward, fine=fine), unit)
            for unit in (kind.metric, kind.customary)
        )
        if kind.metric == kind.customary:
            return metric
        return in_brackets(metric, customary) if first == "metric" else in_brackets(customary, metric)

    return said


def _text(number: Decimal, unit: str, rounding: Rounding, *, fine: bool) -> str:
    """Return a number rounded once, ``fine`` where the usual digits would not show which of two is larger."""
    shown = rounded(number, _of_digits(number, STATED_DIGITS) if fine else _last(number, unit), rounding)
    return plain(shown if unit == kinds.SIZE.customary and shown < TENTH and not fine else trimmed(shown))


def _last(number: Decimal, unit: str) -> Decimal:
    return _LAST.get(unit) or _of_digits(number, RESULT_DIGITS)


def _of_digits(number: Decimal, digits: int) -> Decimal:
    """Return the unit of the last of so many digits of a number; a whole one keeps all of its own."""
    return Decimal(1).scaleb(min(number.adjusted() - digits + 1, 0))
