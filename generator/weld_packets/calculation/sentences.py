"""Sentences with numbers in them, of which each can be said in metric and in US customary units."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from weld_packets.calculation.trace import InBoth, Measured, Words, in_words, metric_text
from weld_packets.errors import OutOfRangeError, Problem, ProblemWords
from weld_packets.units import (
    Amount,
    Kind,
    Quantity,
    SystemOfUnits,
    as_written,
    distinguished,
    exact,
    in_brackets,
    kinds,
    last_digit,
    plain,
    quantity,
    range_text,
    rounded,
    significant,
    spelling,
    with_unit,
)
from weld_packets.units.digits import RESULT_DIGITS, trimmed
from weld_packets.units.scales import converted, free_scale, measured_amount, minimum_amount, other_unit, stated_amount

_NO_MAINS = 0
"""For what is no time of a spot weld: only those go by the mains."""
_NAMED = 11
"""Further welds that a refusal names: with the first, as many as most fixtures weld in a line."""


def lengths(found: float, limit: float, last: Decimal) -> tuple[Measured, Measured]:
    """Return a length in mm and its limit with their texts, to ``last`` or as fine as shows which is larger."""
    one, _ = distinguished(exact(quantity(found, "mm"), "mm"), exact(quantity(limit, "mm"), "mm"), last)
    shown = min(last, Decimal(1).scaleb(int(one.as_tuple().exponent)))
    return length(found, shown), length(limit, shown)


def length(found: float, last: Decimal) -> Measured:
    """Return a length in mm with its text to ``last``."""
    return Measured(found, with_unit(plain(rounded(exact(quantity(found, "mm"), "mm"), last)), "mm"), last)


def span_within(low: float, high: float, last: Decimal) -> tuple[InBoth, InBoth]:
    """Return both ends of a range in mm, rounded inwards to ``last`` of a mm, in inches to as fine a digit."""
    return _rounded(quantity(low, "mm"), last, ROUND_CEILING), _rounded(quantity(high, "mm"), last, ROUND_FLOOR)


def at_most(found: Quantity, last: Decimal) -> InBoth:
    """Return a length that must not be passed, rounded down once to ``last`` of a mm and once as fine in inches."""
    return _rounded(found, last, ROUND_FLOOR)


def at_least(size: Quantity) -> InBoth:
    """Return a size that a weld must reach, as its figure shows it."""
    return InBoth(minimum_amount(size, "metric").first_text, minimum_amount(size, "US customary").text)


def _rounded(found: Quantity, last: Decimal, rounding: str) -> InBoth:
    metric = with_unit(plain(rounded(exact(found, "mm"), last, rounding)), "mm")
    inches = rounded(exact(found, "in"), last_digit(converted(last, "mm", "in")), rounding)
    return InBoth(metric, in_brackets(with_unit(plain(inches), "in"), metric))


def likewise(others: Iterable[Words]) -> Words:
    """Return what is said of further welds with one fault, to be put in brackets after what is said of the first."""
    further = list(others)
    if not further:
        return ()
    shown = [part for words in further[:_NAMED] for part in (*words, ", ")][:-1]
    rest = f", and {len(further) - _NAMED} more" if len(further) > _NAMED else ""
    return (" (likewise ", *shown, f"{rest})")


def separated(sentences: Iterable[Words]) -> Words:
    """Return several sentences as one, with commas between them."""
    return tuple(part for words in sentences for part in (", ", *words))[1:]


def stated(value: Quantity, kind: Kind) -> InBoth:
    """Return a stated quantity as it was written, and with US customary units first, to at least two digits.

    One that is written in US customary units has metric ones first where the order has, as all numbers beside it.
    """
    customary = stated_amount(value, kind, "US customary", _NO_MAINS).text
    if kind.metric != kind.customary and other_unit(kind, spelling(value), _NO_MAINS) == kind.metric:
        return InBoth(stated_amount(value, kind, "metric", _NO_MAINS).text, customary)
    return InBoth(as_written(value), customary)


def shown_value(text: Decimal, unit: str, kind: Kind) -> InBoth:
    """Return a value as it is set or shown in its own unit, and with US customary units first."""
    scale = free_scale(kind, unit, text, "US customary", _NO_MAINS)
    second = rounded(converted(text, unit, scale.other), scale.other_quantum) if scale.other else None
    return InBoth(with_unit(plain(text), unit), scale.amount(text, second).text)


def in_mm2(area: Quantity) -> InBoth:
    """Return a computed area to two digits of mm², and with in² first."""
    return shown_value(significant(exact(area, "mm²"), 2), "mm²", kinds.AREA)


def stated_range(low: Quantity, high: Quantity, kind: Kind, words: str = "") -> InBoth:
    """Return both ends of a range as they were written, and with US customary units first, to three digits.

    ``words`` is how it was written, where that is not ``1.5 m/min to 25 m/min``.
    """
    metric = words or f"{as_written(low)} to {as_written(high)}"
    if kind.metric == kind.customary:
        return InBoth(metric, metric)
    first, second = (range_text(_few(low, unit), _few(high, unit), unit) for unit in (kind.customary, kind.metric))
    return InBoth(metric, in_brackets(first, second))


def _few(end: Quantity, unit: str) -> str:
    return plain(trimmed(significant(exact(end, unit), RESULT_DIGITS)))


def sentence(said: str | Words, first: SystemOfUnits) -> str:
    """Return a sentence with the numbers in it as the order's system of units has them."""
    return "".join(_part(part, first) for part in in_words(said))


def _part(part: str | Measured | InBoth, first: SystemOfUnits) -> str:
    match part:
        case Measured():
            return measured_amount(part.millimetres, part.last, first).text
        case InBoth():
            return part.metric if first == "metric" else part.customary
    return part


def refused(said: Words, remedy: str | Words, *, key: str = "", value: Measured | InBoth | str = "") -> OutOfRangeError:
    """Return a refusal that says the numbers in it in metric units, and in US customary ones where these come first."""
    inches = _inches(value).first_text if isinstance(value, Measured) else sentence((value,), "US customary")
    metric = ProblemWords(_typed(metric_text((value,))), metric_text(said), metric_text(remedy))
    customary = ProblemWords(_typed(inches), sentence(said, "US customary"), sentence(remedy, "US customary"))
    return OutOfRangeError([Problem("", 0, key, *metric, customary)])


def _typed(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _inches(length: Measured) -> Amount:
    return measured_amount(length.millimetres, length.last, "US customary")
