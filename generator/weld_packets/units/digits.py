"""How many digits a number is shown with, and how it reads with its unit.

One rule: a number is rounded to the last digit by which rounding moves it no further than it is known. What a source
states is known to its last digit, a setting to its machine's step, a result to its spread.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from functools import lru_cache
from typing import Any, Literal

from weld_packets.units.amounts import with_unit
from weld_packets.units.registry import SPELLINGS, Quantity, magnitude, quantity

STATED_DIGITS = 5
"""Digits up to which a number that a source states is printed in full; a longer one was computed."""
WORKING_DIGITS = 4
"""Significant digits of a number between two steps of a calculation."""
RESULT_DIGITS = 3
"""Significant digits of a result at most; whole numbers keep all of theirs."""
WHOLE, TENTH, HUNDREDTH, THOUSANDTH = Decimal(1), Decimal("0.1"), Decimal("0.01"), Decimal("0.001")
"""Last digits of a number."""
NOISE = 1e-9
"""Relative distance at which two magnitudes are one: float noise of a conversion, never a real difference."""
_ZERO = Decimal(0)
_ONE_AND_THE_SAME = Decimal("1e-7")
"""Closer than this, two numbers differ by the noise of a conversion."""
_WITHOUT_NOISE = Context(prec=12)
_MAXIMUM_KEPT = 8192
"""An order adds some five hundred: enough for what it asks for again, and little beside what the tables take."""
_EXACT: dict[tuple[Any, ...], Decimal] = {}
_SPELLED: dict[Any, str] = {frozenset(quantity(1.0, text).unit_items()): text for text in reversed(SPELLINGS)}
_PRINTED = {
    "1": "", "1/min": "per minute", "cycles@50Hz": "cycles at 50 Hz", "cycles@60Hz": "cycles at 60 Hz",
    "ml/100g": "ml/100 g",
}  # fmt: skip
Rounding = Literal["ROUND_HALF_EVEN", "ROUND_CEILING", "ROUND_FLOOR"]

# ---------------------------------------------------------------- magnitudes


def in_mm(length: Quantity) -> float:
    """Return a length's magnitude in millimetres, quickly."""
    return magnitude(length, "mm")


def same(one: float, other: float) -> bool:
    """Return whether two magnitudes differ by no more than float noise."""
    return abs(one - other) <= NOISE * max(abs(one), abs(other))


def exceeds(one: float, other: float) -> bool:
    """Return whether a magnitude is larger than another by more than float noise."""
    return one > other and not same(one, other)


def is_between(low: float, at: float, high: float) -> bool:
    """Return whether a magnitude lies between two others or, but for float noise, at one of them."""
    return not exceeds(low, at) and not exceeds(at, high)


def in_band(at: Decimal, over: Quantity | None, up_to: Quantity | None) -> bool:
    """Return whether a length in mm is over one end of a band and up to and including the other; None is open.

    All three are decimals without float noise: 0.007 in comes out beside 0.1778 mm, and is the end of a band there.
    """
    return (over is None or at > exact(over, "mm")) and (up_to is None or at <= exact(up_to, "mm"))


def exact(value: Quantity, unit: str) -> Decimal:
    """Return the magnitude in ``unit`` as a decimal of 12 significant digits, which drops float noise."""
    key = (value.magnitude, unit, *value.unit_items())
    found = _EXACT.get(key)
    if found is None:
        if len(_EXACT) >= _MAXIMUM_KEPT:
            _EXACT.clear()
        found = _EXACT[key] = _WITHOUT_NOISE.create_decimal_from_float(magnitude(value, unit)).normalize()
    return found


def from_decimal(number: Decimal, unit: str) -> Quantity:
    """Return a decimal and its unit as a quantity for calculation."""
    return quantity(float(number), unit)


# ---------------------------------------------------------------- rounding


def rounded(number: Decimal, quantum: Decimal, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    """Return ``number`` as a whole number of ``quantum``, with the decimals of ``quantum``."""
    whole = (number / quantum).to_integral_value(rounding=rounding) * quantum
    return whole.quantize(quantum + WHOLE)  # a sum has the decimals of the finer one


def to_step(value: Quantity, step: Decimal, unit: str, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    """Return ``value`` as the nearest whole number of machine steps, in ``unit``, with the step's decimals."""
    return rounded(exact(value, unit), step, rounding)


def step_up(value: Quantity, step: Decimal, unit: str) -> Decimal:
    """Return the smallest whole number of steps that is not below ``value``."""
    return to_step(value, step, unit, ROUND_CEILING)


def step_down(value: Quantity, step: Decimal, unit: str) -> Decimal:
    """Return the largest whole number of steps that is not above ``value``."""
    return to_step(value, step, unit, ROUND_FLOOR)


def significant(number: Decimal, digits: int) -> Decimal:
    """Return ``number`` rounded half-even to ``digits`` significant digits."""
    kept = Context(prec=digits, rounding=ROUND_HALF_EVEN).plus(number)
    exponent = max(kept.adjusted() - digits + 1, -12)
    return kept.quantize(Decimal(1).scaleb(exponent)) if exponent < 0 else Decimal(int(kept))


def last_digit(spread: Decimal) -> Decimal:
    """Return the unit of the last digit of a number that is known to ``spread``.

    It is the largest power of ten by which rounding moves the number no further than it is known.
    """
    return Decimal(1).scaleb((2 * spread).adjusted())


def known_to(number: Decimal, spread: Decimal, maximum: int = RESULT_DIGITS) -> Decimal:
    """Return ``number`` rounded to the last digit that its ``spread`` leaves.

    It has at most ``maximum`` significant digits, and one is always kept.
    """
    few = significant(number, maximum)
    if not spread or not number:
        return few
    last = min(last_digit(abs(spread)), Decimal(1).scaleb(number.adjusted()))
    return few if last < Decimal(1).scaleb(few.adjusted() - maximum + 1) else rounded(number, last)


def distinguished(one: Decimal, other: Decimal, last: Decimal) -> tuple[Decimal, Decimal]:
    """Return two numbers rounded to ``last``, or as much finer as it takes to show which of them is larger."""
    while abs(one - other) >= _ONE_AND_THE_SAME and rounded(one, last) == rounded(other, last):
        last /= 10
    return rounded(one, last), rounded(other, last)


# ---------------------------------------------------------------- text


def plain(number: Decimal) -> str:
    """Return a decimal as text without exponent and without negative zero."""
    text = f"{number:f}"
    return text.lstrip("-") if number == _ZERO else text


def trimmed(number: Decimal) -> Decimal:
    """Return a number without zeros at its end, and never with an exponent."""
    whole = number.to_integral_value()
    return whole if number == whole else number.normalize()


def working(number: Decimal, digits: int = WORKING_DIGITS) -> str:
    """Return a number between two steps as text: whole or of few ``digits`` as it is, else four significant digits."""
    full = number == number.to_integral_value() or len(number.as_tuple().digits) <= digits
    return plain(trimmed(number if full else significant(number, WORKING_DIGITS)))


def stated(number: Decimal) -> Decimal:
    """Return a number that a source states as it is printed: of five digits at most as it is.

    One of more, such as 11/64 of an inch, has four significant digits, or a thousandth where that is finer.
    """
    if number == number.to_integral_value() or len(number.as_tuple().digits) <= STATED_DIGITS:
        return number
    return min(significant(number, WORKING_DIGITS), rounded(number, THOUSANDTH), key=lambda each: abs(each - number))


def limit_digits(number: Decimal, rounding: Rounding) -> str:
    """Return a limit to three digits, rounded into what is allowed; whole numbers keep all of theirs."""
    last = Decimal(1).scaleb(min(number.adjusted() - RESULT_DIGITS + 1, 0))
    return plain(number.quantize(last, rounding=rounding))


def spelling(value: Quantity) -> str:
    """Return how a source spells the unit that ``value`` is written in."""
    return _SPELLED[frozenset(value.unit_items())]


def printed_unit(unit: str) -> str:
    """Return a unit as printed beside its number; nothing for a plain number."""
    return _PRINTED.get(unit, unit)


def in_unit(text: str, unit: str) -> str:
    """Return a number as text with a spelling of a unit as printed."""
    return with_unit(text, printed_unit(unit) or "1")


def as_written(value: Quantity) -> str:
    """Return number and unit as a source wrote them."""
    return _as_written(value.magnitude, tuple(value.unit_items()))


@lru_cache(maxsize=1024)  # an order asks for each of its hundred sizes a dozen times
def _as_written(number: float, parts: tuple[tuple[str, float], ...]) -> str:
    unit = _SPELLED[frozenset(parts)]
    return in_unit(plain(stated(exact(quantity(number, unit), unit))), unit)


def show(value: Quantity, unit: str, digits: int = RESULT_DIGITS) -> str:
    """Return the magnitude in ``unit`` with ``digits`` significant digits, without the unit."""
    return plain(significant(exact(value, unit), digits))


def shown(value: Quantity, unit: str, digits: int = RESULT_DIGITS) -> str:
    """Return number and unit as printed."""
    return with_unit(show(value, unit, digits), unit)
