"""Figures that are read, not dialled: given, charted or computed, with no more digits than are known.

A set value is known to its machine's step, a reading to half its allowed range, a stated number to one unit of its last
digit. A result is known as well as it stays put while its inputs move by what they are known to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from math import hypot
from types import MappingProxyType
from typing import Any

from weld_packets.calculation.dial import span_words
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import (
    AllowedRange,
    Countermeasure,
    Figure,
    Given,
    Lookup,
    Name,
    Remark,
    Rounded,
    Step,
    Verdict,
    Weight,
    Words,
    warned,
)
from weld_packets.errors import refusal
from weld_packets.model.table import Table
from weld_packets.model.trade import Reliability
from weld_packets.units import (
    Quantity,
    distinguished,
    exact,
    from_decimal,
    known_to,
    last_digit,
    magnitude,
    plain,
    quantity,
    rounded,
    scaled,
    spelling,
    step_down,
    step_up,
    to_step,
    with_unit,
)
from weld_packets.units.digits import HUNDREDTH, TENTH, WHOLE, stated

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
    allowed_range = figure.allowed_range
    if allowed_range is not None and allowed_range.low is not None and allowed_range.high is not None:
        return (magnitude(allowed_range.high, figure.unit) - magnitude(allowed_range.low, figure.unit)) / 2
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
    value = magnitude(worked.result, unit)
    others = (
        worked.formula(**{**worked.given, name: scaled(worked.given[name], 1 + share)})
        for name, share in shares.items()
    )
    return hypot(*(magnitude(other, unit) - value for other in others))


def beside(found: Quantity, limit: Quantity, unit: str, last: Decimal) -> tuple[Decimal, Decimal]:
    """Return two quantities in ``unit`` to ``last``, or as much finer as it takes to show which is larger."""
    return distinguished(exact(found, unit), exact(limit, unit), last)


def result(
    name: Name,
    worked: Worked,
    *,
    before: tuple[Step, ...] = (),
    digits: int = 3,
    shares: Shares = EXACT,
    minimum: bool = False,
    **more: Any,
) -> Figure:
    """Return the figure of a formula's result, shown in the metric unit of its kind; ``more`` are range or remarks.

    ``shares`` says how well each input is known; what that leaves of the result decides its digits. A size that is
    a ``minimum`` is rounded up to a hundredth.
    """
    unit = name.kind.metric
    spread = moved(worked, shares, unit) if shares else None
    number = exact(worked.result, unit)
    text = rounded(number, HUNDREDTH, ROUND_CEILING) if minimum else known_to(number, Decimal(spread or 0), digits)
    trace = (*before, worked)
    return name.figure(unit, worked.result, text, trace=trace, spread=spread, minimum=minimum, **more)


def charted(name: Name, lookup: Lookup, allowed_range: AllowedRange, last: Decimal) -> Figure:
    """Return a figure that a chart gives and a display shows to ``last``; its allowed range is rounded inward to it."""
    unit = spelling(lookup.result)
    text = rounded(exact(lookup.result, unit), last)
    inward = rounded_inward(allowed_range, last, unit)
    return name.figure(unit, lookup.result, text, inward, trace=(lookup,))


def rounded_inward(allowed_range: AllowedRange, last: Decimal, unit: str) -> AllowedRange:
    """Return an allowed range whose ends are whole numbers of ``last`` in ``unit`` and lie no further out.

    Raises OutOfRangeError for a range so narrow that it holds no such number.
    """
    low = None if allowed_range.low is None else step_up(allowed_range.low, last, unit)
    high = None if allowed_range.high is None else step_down(allowed_range.high, last, unit)
    if low is not None and high is not None and low > high:
        words = span_words(allowed_range, unit)
        raise refusal(
            f"no number that a display in steps of {with_unit(plain(last), unit)} shows lies inside {words} "
            f"({allowed_range.origin})",
            "use a chart with a wider range",
            value=words,
        )
    ends = [None if end is None else from_decimal(end, unit) for end in (low, high)]
    return AllowedRange(ends[0], ends[1], allowed_range.origin)


def ordered(name: Name, value: Quantity, origin: str, **more: Any) -> Figure:
    """Return a figure that the order or one entry of a table gives, in the unit and with the digits as written."""
    unit = spelling(value)
    trace = (Given(name.label, value, unit, origin),)
    return replace(name.figure(unit, value, as_stated(value, unit), trace=trace), **more)


def as_stated(value: Quantity, unit: str) -> Decimal:
    """Return the number of a quantity with the digits that state it, never with an exponent."""
    number = stated(exact(value, unit))
    return number.quantize(WHOLE) if int(number.as_tuple().exponent) > 0 else number


def measured(name: Name, value: Quantity, origin: str, spread: float) -> Figure:
    """Return a figure that geometry gives of places that are known to ``spread``, in the unit of the value."""
    figure = ordered(name, value, origin)
    return replace(figure, text=rounded(exact(value, figure.unit), last_digit(Decimal(spread))), spread=spread)


def no_number(name: Name, reasons: str | Words) -> Figure:
    """Return the figure of something that its method does not give, with the reasons."""
    return name.figure(name.kind.metric, None, None, outside=reasons)


def value_of(figure: Figure) -> Quantity:
    """Return the value of a figure that has one; ValueError for one that is outside its method."""
    if figure.value is None:
        raise ValueError(figure.key)
    return figure.value


def highest(figure: Figure) -> Quantity | None:
    """Return the upper end of the allowed range of a figure; None where nothing above is limited."""
    return None if figure.allowed_range is None else figure.allowed_range.high


@dataclass(frozen=True)
class Shown:
    """How a result is shown: in which unit, to which decimal, and in which direction it is rounded."""

    unit: str
    to: Decimal
    rounding: str
    reason: str


MINIMUM = Shown("mm", TENTH, ROUND_CEILING, "rounded up, so that what is measured is never too small")


def rounded_result(
    name: Name,
    result: Quantity,
    shown: Shown,
    trace: tuple[Step, ...],
    *,
    allowed_range: AllowedRange | None = None,
    remarks: tuple[Remark, ...] = (),
) -> Figure:
    """Return a figure that is read, not dialled, rounded as ``shown`` says; its value is the rounded one."""
    text = to_step(result, shown.to, shown.unit, shown.rounding)
    rounded = Rounded(result, text, shown.unit, shown.to, shown.reason)
    value = from_decimal(text, shown.unit)
    steps = (*trace, rounded)
    return name.figure(
        shown.unit,
        value,
        text,
        allowed_range,
        trace=steps,
        remarks=remarks,
        spread=float(shown.to),
        rounding=shown.rounding,
    )


def doubts(source: str, reliability: Reliability, countermeasure: Countermeasure) -> tuple[Remark, ...]:
    """Return a remark where a value of a table is from memory (a warning) or common practice (a note)."""
    if reliability == "from memory":
        return (Remark(Weight.WARNING, source, countermeasure=countermeasure),)
    return () if reliability == "published" else (Remark(Weight.NOTE, source, reader="auditor"),)


def resting_on_memory(table: Table, subject: str, countermeasure: Countermeasure) -> Iterator[Verdict]:
    """Yield a warning where the source of a whole chart is memory."""
    if table.reliability == "from memory":
        text = f"table {table.table} rests on memory"
        yield warned("chart_standing", subject, text, table.source, countermeasure)
