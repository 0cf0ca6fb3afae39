"""Figures: values set to a machine's step inside their window, and results shown with honest digits."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from generator.errors import refusal
from generator.process.formula import Worked
from generator.process.measure import as_written, spelling
from generator.process.trace import Figure, Given, Lookup, Name, Rounded, Step, Window
from generator.units import (
    Quantity,
    exact,
    from_decimal,
    plain,
    significant,
    step_down,
    step_up,
    to_step,
    with_unit,
)


@dataclass(frozen=True)
class Range:
    """What a machine can be set to, and in which steps."""

    low: Quantity
    high: Quantity
    step: Quantity
    machine: str


def set_to_step(name: Name, wanted: Quantity, window: Window, span: Range, trace: tuple[Step, ...]) -> Figure:
    """Return the figure at the machine's step nearest to ``wanted``, or the nearest one inside the window.

    Raises OutOfRangeError where no step lies inside the window, or the machine cannot reach it.
    """
    unit = spelling(span.step)
    step = exact(span.step, unit)
    steps = (to_step(wanted, step, unit), *(step_up(end, step, unit) for end in (window.low,) if end is not None))
    text = next((number for number in steps if inside(number, unit, window)), None)
    if text is None:
        raise refusal(
            f"{name.label}: no step of {as_written(span.step)} of {span.machine} lies inside {span_words(window)}",
            "widen the window in the table, or use a machine with finer steps",
            value=as_written(wanted),
        )
    return at_step(name, Rounded(wanted, text, unit, step, span.machine), window, span, trace)


def at_step(name: Name, rounded: Rounded, window: Window, span: Range, trace: tuple[Step, ...]) -> Figure:
    """Return the figure at a step already chosen, with the steps that the window and the machine both allow.

    Raises OutOfRangeError where the machine cannot be set to it.
    """
    text, unit = rounded.after, rounded.unit
    value = from_decimal(text, unit)
    _reachable(name, value, text, unit, span)
    settable = _settable(window, span, unit)
    whole = (*trace, rounded)
    return Figure(name.key, name.label, name.symbol, name.kind, unit, value, text, settable, rounded.step, whole)


def _settable(window: Window, span: Range, unit: str) -> Window:
    """Return the window cut to the machine's range, both ends on a step inside it; the origin names what cuts it."""
    step, words = exact(span.step, unit), [window.origin]
    least, greatest = step_up(span.low, step, unit), step_down(span.high, step, unit)
    low = least if window.low is None else step_up(window.low, step, unit)
    high = greatest if window.high is None else step_down(window.high, step, unit)
    if window.low is None or low < least:
        low = least
        words.append(f"lower end: {span.machine}")
    if window.high is None or high > greatest:
        high = greatest
        words.append(f"upper end: {span.machine}")
    return Window(from_decimal(low, unit), from_decimal(high, unit), "; ".join(words))


def inside(number: Decimal, unit: str, window: Window) -> bool:
    """Return whether a set value lies in a window, ends included."""
    above = window.low is None or number >= exact(window.low, unit)
    return above and (window.high is None or number <= exact(window.high, unit))


def _reachable(name: Name, value: Quantity, text: Decimal, unit: str, span: Range) -> None:
    if not exact(span.low, unit) <= text <= exact(span.high, unit):
        raise refusal(
            f"{name.label} {with_unit(plain(text), unit)} is outside what {span.machine} can give, "
            f"{as_written(span.low)} to {as_written(span.high)}",
            "use an arm with a machine that reaches it, or another schedule",
            value=as_written(value),
        )


def span_words(window: Window) -> str:
    """Return both ends of a window in words."""
    ends = [(end, spelling(end)) for end in (window.low, window.high) if end is not None]
    return " to ".join(with_unit(plain(significant(exact(end, unit), 4).normalize()), unit) for end, unit in ends)


def result(name: Name, worked: Worked, *, before: tuple[Step, ...] = (), digits: int = 3, **more: Any) -> Figure:
    """Return the figure of a formula's result, shown in the metric unit of its kind; ``more`` is window or remarks."""
    unit = name.kind.metric
    text = significant(exact(worked.result, unit), digits)
    trace = (*before, worked)
    return replace(Figure(name.key, name.label, name.symbol, name.kind, unit, worked.result, text, trace=trace), **more)


def charted(name: Name, lookup: Lookup, window: Window | None, digits: int = 3) -> Figure:
    """Return a figure that a chart gives and no machine step rounds, with honest digits; its window rounded inward."""
    unit = spelling(lookup.result)
    text = significant(exact(lookup.result, unit), digits)
    last = Decimal(1).scaleb(int(text.as_tuple().exponent))
    inward = None if window is None else _inward(window, last, unit)
    value = from_decimal(text, unit)
    return Figure(name.key, name.label, name.symbol, name.kind, unit, value, text, inward, trace=(lookup,))


def _inward(window: Window, last: Decimal, unit: str) -> Window:
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


def measured(name: Name, value: Quantity, origin: str, digits: int = 4) -> Figure:
    """Return a figure that geometry gives, with honest digits."""
    figure = ordered(name, value, origin)
    return replace(figure, text=significant(exact(value, figure.unit), digits))


def no_number(name: Name, reasons: str) -> Figure:
    """Return the figure of something that its method does not give, with the reasons."""
    text = f"outside the method: {reasons}"
    return Figure(name.key, name.label, name.symbol, name.kind, name.kind.metric, None, None, outside=text)


def value_of(figure: Figure) -> Quantity:
    """Return the value of a figure that has one; ValueError for one that is outside its method."""
    if figure.value is None:
        raise ValueError(figure.key)
    return figure.value
