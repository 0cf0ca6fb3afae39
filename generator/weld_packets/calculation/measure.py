"""Magnitudes as plain floats for quick geometry, and quantities as a source wrote them."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from weld_packets.calculation.trace import Measured, Words, in_words
from weld_packets.errors import OutOfRangeError, Problem, ProblemWords
from weld_packets.units import (
    SPELLINGS,
    Amount,
    exact,
    from_decimal,
    in_mm,
    last_digit,
    plain,
    quantity,
    rounded,
    told_apart,
    with_unit,
)
from weld_packets.units.scales import converted, measured_amount

_SPELLED: dict[Any, str] = {frozenset(quantity(1.0, text).unit_items()): text for text in reversed(SPELLINGS)}

_NAMED = 11
"""Further welds that a refusal names: with the first, as many as most fixtures weld in a line."""


def lengths(found: float, limit: float, last: Decimal) -> tuple[Measured, Measured]:
    """Return a length in mm and its limit with their texts, to ``last`` or as fine as tells which is greater."""
    one, _ = told_apart(exact(quantity(found, "mm"), "mm"), exact(quantity(limit, "mm"), "mm"), last)
    shown = min(last, Decimal(1).scaleb(int(one.as_tuple().exponent)))
    return length(found, shown), length(limit, shown)


def length(found: float, last: Decimal) -> Measured:
    """Return a length in mm with its text to ``last``."""
    return Measured(found, with_unit(plain(rounded(exact(quantity(found, "mm"), "mm"), last)), "mm"), last)


def span_within(low: float, high: float, last: Decimal) -> tuple[Measured, Measured]:
    """Return both ends of a range in mm, rounded inwards to ``last`` of a mm, in inches to as fine a digit."""
    return _rounded_end(low, last, ROUND_CEILING), _rounded_end(high, last, ROUND_FLOOR)


def _rounded_end(end: float, last: Decimal, rounding: str) -> Measured:
    value = quantity(end, "mm")
    inches = rounded(exact(value, "in"), last_digit(converted(last, "mm", "in")), rounding)
    text = with_unit(plain(rounded(exact(value, "mm"), last, rounding)), "mm")
    return Measured(in_mm(from_decimal(inches, "in")), text, last)


def likewise(others: Iterable[Words]) -> Words:
    """Return what is said of further welds with one fault, to stand in brackets after what is said of the first."""
    further = list(others)
    if not further:
        return ()
    shown = [part for words in further[:_NAMED] for part in (*words, ", ")][:-1]
    rest = f", and {len(further) - _NAMED} more" if len(further) > _NAMED else ""
    return (" (likewise ", *shown, f"{rest})")


def refused(said: Words, remedy: str | Words, *, key: str = "", value: Measured | str = "") -> OutOfRangeError:
    """Return a refusal that says the lengths in it in mm, and with inches first where the order has them first."""
    written, inches = (value.text, _inches(value).first_text) if isinstance(value, Measured) else (value, value)
    metric = ProblemWords(_typed(written), _metric(said), _metric(in_words(remedy)))
    customary = ProblemWords(_typed(inches), _customary(said), _customary(in_words(remedy)))
    return OutOfRangeError([Problem("", 0, key, *metric, customary)])


def _typed(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _metric(words: Words) -> str:
    return "".join(part.text if isinstance(part, Measured) else part for part in words)


def _customary(words: Words) -> str:
    return "".join(_inches(part).text if isinstance(part, Measured) else part for part in words)


def _inches(length: Measured) -> Amount:
    return measured_amount(length.millimetres, length.last, "US customary")
