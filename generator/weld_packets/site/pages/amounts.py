"""Amounts and windows as a line of text; what is markup is escaped already."""

from __future__ import annotations

from markupsafe import Markup, escape

from weld_packets.packet.records import Amount, Span, Value


def shown(it: Amount) -> str:
    """Return value and unit."""
    return f"{it.value} {it.unit}" if it.unit else it.value


def second(it: Amount) -> Markup:
    """Return the amount in the other system, small; nothing where the two agree."""
    if not it.second:
        return Markup()
    return Markup(f"<small>{escape(it.second)} {escape(it.second_unit)}</small>")  # noqa: S704 - both are escaped


def both(it: Amount) -> Markup:
    """Return the amount, and small in the other system where the two differ."""
    first = escape(shown(it))
    return Markup(f"{first} {second(it)}") if it.second else first  # noqa: S704 - both are escaped


def both_in_line(it: Amount) -> str:
    """Return the amount, and in brackets in the other system where the two differ."""
    return f"{shown(it)} ({it.second} {it.second_unit})" if it.second else shown(it)


def window(span: Span, amount: Amount | None) -> str:
    """Return the allowed window of ``amount`` in the first system."""
    return _window(span.low, span.high, amount.unit if amount else "")


def second_window(value: Value) -> str:
    """Return the allowed window in the other system, empty where there is none."""
    if value.window is None or value.amount is None or not value.amount.second_unit:
        return ""
    return _window(value.window.second_low, value.window.second_high, value.amount.second_unit)


def _window(low: str, high: str, unit: str) -> str:
    after = f" {unit}" if unit else ""
    if low and high:
        return f"{low} to {high}{after}"
    if low:
        return f"at least {low}{after}"
    return f"at most {high}{after}" if high else ""
