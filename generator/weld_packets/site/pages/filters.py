"""Filters of the templates for amounts and allowed ranges; what is markup is escaped already."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

from markupsafe import Markup, escape

from weld_packets.packet.records import Amount, Span, Value


def amount_text(it: Amount) -> str:
    """Return value and unit."""
    return f"{it.value} {it.unit}" if it.unit else it.value


def second(it: Amount) -> Markup:
    """Return the amount in the other system, small; nothing where the two agree."""
    if not it.second:
        return Markup()
    return Markup(f"<small>{escape(it.second)} {escape(it.second_unit)}</small>")  # noqa: S704 - both are escaped


def amount_markup(it: Amount) -> Markup:
    """Return the amount, and small in the other system where the two differ."""
    first = escape(amount_text(it))
    return Markup(f"{first} {second(it)}") if it.second else first  # noqa: S704 - both are escaped


def amount_text_both(it: Amount) -> str:
    """Return the amount, and in brackets in the other system where the two differ."""
    return f"{amount_text(it)} ({it.second} {it.second_unit})" if it.second else amount_text(it)


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


def gauge(value: Value) -> Markup:
    """Return where the value stands in its window, as a drawing; nothing where the window is not closed."""
    window = value.window
    if value.amount is None or window is None:
        return Markup()
    try:
        low, high, at = (Decimal(text) for text in (window.low, window.high, value.amount.value))
    except InvalidOperation:
        return Markup()
    if not low < high or not low <= at <= high:
        return Markup()
    place = 10 + round(180 * (at - low) / (high - low), 1)
    return Markup(  # noqa: S704 - numbers only
        '<svg class="gauge" viewBox="0 0 200 24" aria-hidden="true">'
        '<path stroke="#20282d" stroke-width="4" fill="none" '
        f'd="M10 4v16M190 4v16M10 12H190"/><path fill="#b34700" d="M{place} 14l9-13h-18z"/></svg>'
    )
