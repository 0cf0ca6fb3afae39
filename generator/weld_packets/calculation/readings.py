"""Figures that are read, not dialled: given, charted or computed, with no more digits than can be measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from typing import Any

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.spread import EXACT, Shares, moved
from weld_packets.calculation.trace import (
    Act,
    Figure,
    Given,
    Lookup,
    Name,
    Remark,
    Rounded,
    Step,
    Verdict,
    Weight,
    Window,
    Words,
)
from weld_packets.model.tables import Table
from weld_packets.model.trade import Reliability
from weld_packets.units import (
    Quantity,
    exact,
    from_decimal,
    known_to,
    last_digit,
    rounded,
    spelling,
    step_down,
    step_up,
    to_step,
)
from weld_packets.units.digits import HUNDREDTH


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
    """Return the figure of a formula's result, shown in the metric unit of its kind; ``more`` is window or remarks.

    ``shares`` says how well each input is known; what that leaves of the result decides its digits. A size that is
    a ``minimum`` is rounded up to a hundredth.
    """
    unit = name.kind.metric
    spread = moved(worked, shares, unit) if shares else None
    number = exact(worked.result, unit)
    text = rounded(number, HUNDREDTH, ROUND_CEILING) if minimum else known_to(number, Decimal(spread or 0), digits)
    trace = (*before, worked)
    return Figure(
        name.key,
        name.label,
        name.symbol,
        name.kind,
        unit,
        worked.result,
        text,
        trace=trace,
        spread=spread,
        minimum=minimum,
        **more,
    )


def charted(name: Name, lookup: Lookup, window: Window, last: Decimal) -> Figure:
    """Return a figure that a chart gives and a display shows to ``last``; its window is rounded inward to it."""
    unit = spelling(lookup.result)
    text = rounded(exact(lookup.result, unit), last)
    inward = rounded_inward(window, last, unit)
    return Figure(name.key, name.label, name.symbol, name.kind, unit, lookup.result, text, inward, trace=(lookup,))


def rounded_inward(window: Window, last: Decimal, unit: str) -> Window:
    """Return a window whose ends are whole numbers of ``last`` in ``unit`` and lie no further out."""
    low = None if window.low is None else from_decimal(step_up(window.low, last, unit), unit)
    high = None if window.high is None else from_decimal(step_down(window.high, last, unit), unit)
    return Window(low, high, window.origin)


def ordered(name: Name, value: Quantity, origin: str, **more: Any) -> Figure:
    """Return a figure that the order or one entry of a table gives, in the unit and with the digits as written."""
    unit = spelling(value)
    trace = (Given(name.label, value, unit, origin),)
    figure = Figure(name.key, name.label, name.symbol, name.kind, unit, value, as_stated(value, unit), trace=trace)
    return replace(figure, **more)


def as_stated(value: Quantity, unit: str) -> Decimal:
    """Return the number of a quantity with the digits that state it, never with an exponent."""
    number = exact(value, unit)
    return number.quantize(Decimal(1)) if int(number.as_tuple().exponent) > 0 else number


def measured(name: Name, value: Quantity, origin: str, spread: float) -> Figure:
    """Return a figure that geometry gives of places that are known to ``spread``, in the unit of the value."""
    figure = ordered(name, value, origin)
    return replace(figure, text=rounded(exact(value, figure.unit), last_digit(Decimal(spread))), spread=spread)


def no_number(name: Name, reasons: str | Words) -> Figure:
    """Return the figure of something that its method does not give, with the reasons."""
    return Figure(name.key, name.label, name.symbol, name.kind, name.kind.metric, None, None, outside=reasons)


def value_of(figure: Figure) -> Quantity:
    """Return the value of a figure that has one; ValueError for one that is outside its method."""
    if figure.value is None:
        raise ValueError(figure.key)
    return figure.value


@dataclass(frozen=True)
class Shown:
    """How a result is shown: in which unit, to which decimal, and in which direction it is rounded."""

    unit: str
    to: Decimal
    rounding: str
    reason: str


MINIMUM = Shown("mm", Decimal("0.1"), ROUND_CEILING, "rounded up, so that what is measured is never too small")


def rounded_result(
    name: Name,
    result: Quantity,
    shown: Shown,
    trace: tuple[Step, ...],
    *,
    window: Window | None = None,
    remarks: tuple[Remark, ...] = (),
) -> Figure:
    """Return a figure that is read, not dialled, rounded as ``shown`` says; its value is the rounded one."""
    text = to_step(result, shown.to, shown.unit, shown.rounding)
    rounded = Rounded(result, text, shown.unit, shown.to, shown.reason)
    value = from_decimal(text, shown.unit)
    steps = (*trace, rounded)
    spread = float(shown.to)
    return Figure(
        name.key,
        name.label,
        name.symbol,
        name.kind,
        shown.unit,
        value,
        text,
        window,
        None,
        steps,
        remarks,
        spread=spread,
    )


def doubts(source: str, reliability: Reliability, act: Act) -> tuple[Remark, ...]:
    """Return a remark where a value of a table is from memory (a warning) or common practice (a note)."""
    if reliability == "from memory":
        return (Remark(Weight.WARNING, source, act=act),)
    return () if reliability == "published" else (Remark(Weight.NOTE, source, reader="auditor"),)


def resting_on_memory(table: Table, subject: str, act: Act) -> Iterator[Verdict]:
    """Yield a warning where the source of a whole chart is memory."""
    if table.reliability == "from memory":
        text = f"table {table.table} rests on memory"
        yield Verdict("chart_standing", subject, text, passed=None, source=table.source, warns=True, act=act)
