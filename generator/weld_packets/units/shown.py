"""How numbers are shown: decimal text with honest digits, metric and US-customary."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal

from weld_packets.units.kinds import Kind
from weld_packets.units.registry import SPELLINGS, Quantity, magnitude, registry

_ZERO = Decimal(0)
_ONE_AND_THE_SAME = Decimal("1e-7")
"""Closer than this, two numbers differ by the noise of a conversion."""
_WITHOUT_NOISE = Context(prec=12)


def exact(value: Quantity, unit: str) -> Decimal:
    """Return the magnitude in ``unit`` as a decimal of 12 significant digits, which drops float noise."""
    return _WITHOUT_NOISE.create_decimal_from_float(magnitude(value, unit)).normalize()


def plain(number: Decimal) -> str:
    """Return a decimal as text without exponent and without negative zero."""
    text = f"{number:f}"
    return text.lstrip("-") if number == _ZERO else text


def significant(number: Decimal, digits: int) -> Decimal:
    """Return ``number`` rounded half-even to ``digits`` significant digits."""
    rounded = Context(prec=digits, rounding=ROUND_HALF_EVEN).plus(number)
    exponent = max(rounded.adjusted() - digits + 1, -12)
    return rounded.quantize(Decimal(1).scaleb(exponent)) if exponent < 0 else Decimal(int(rounded))


def last_digit(spread: Decimal) -> Decimal:
    """Return the unit of the last digit of a number that is known to ``spread``.

    It is the greatest power of ten by which rounding moves the number no further than it is known.
    """
    return Decimal(1).scaleb((2 * spread).adjusted())


def to_last(number: Decimal, last: Decimal) -> Decimal:
    """Return ``number`` rounded half-even to a whole number of ``last``, a power of ten."""
    whole = (number / last).to_integral_value(rounding=ROUND_HALF_EVEN) * last
    return whole.quantize(last) if last < 1 else Decimal(int(whole))


def known_to(number: Decimal, spread: Decimal, maximum: int = 3) -> Decimal:
    """Return ``number`` rounded to the last digit that its ``spread`` leaves, with at most ``most`` significant digits.

    One significant digit is always kept.
    """
    few = significant(number, maximum)
    if not spread or not number:
        return few
    last = min(last_digit(abs(spread)), Decimal(1).scaleb(number.adjusted()))
    return few if last < Decimal(1).scaleb(few.adjusted() - maximum + 1) else to_last(number, last)


def told_apart(one: Decimal, other: Decimal, last: Decimal) -> tuple[Decimal, Decimal]:
    """Return two numbers rounded to ``last``, or as much finer as it takes to show which of them is greater."""
    while abs(one - other) >= _ONE_AND_THE_SAME and to_last(one, last) == to_last(other, last):
        last /= 10
    return to_last(one, last), to_last(other, last)


def show(value: Quantity, unit: str, digits: int = 3) -> str:
    """Return the magnitude in ``unit`` with ``digits`` significant digits, without the unit."""
    return plain(significant(exact(value, unit), digits))


def with_unit(text: str, unit: str) -> str:
    """Return number and unit as printed: a no-break space between, none before a degree sign of angle."""
    if unit == "1":
        return text
    return f"{text}{unit}" if unit == "°" else f"{text}\N{NO-BREAK SPACE}{unit}"


def shown(value: Quantity, unit: str, digits: int = 3) -> str:
    """Return number and unit as printed."""
    return with_unit(show(value, unit, digits), unit)


def other_system(unit: str, kind: Kind) -> str:
    """Return the unit in which the other reader wants ``kind``; the same unit where there is no other."""
    if kind.metric == kind.customary:
        return unit
    return kind.customary if unit == kind.metric else kind.metric


def to_step(value: Quantity, step: Decimal, unit: str, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    """Return ``value`` as the nearest whole number of machine steps, in ``unit``, with the step's decimals."""
    steps = (exact(value, unit) / step).to_integral_value(rounding=rounding)
    return (steps * step).quantize(step)


def step_up(value: Quantity, step: Decimal, unit: str) -> Decimal:
    """Return the smallest whole number of steps that is not below ``value``."""
    return to_step(value, step, unit, ROUND_CEILING)


def step_down(value: Quantity, step: Decimal, unit: str) -> Decimal:
    """Return the greatest whole number of steps that is not above ``value``."""
    return to_step(value, step, unit, ROUND_FLOOR)


def from_decimal(number: Decimal, unit: str) -> Quantity:
    """Return a decimal and its unit as a quantity for calculation."""
    return registry.Quantity(float(number), SPELLINGS[unit])
