"""Filters of the templates for amounts and allowed ranges; what is markup is escaped already."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

from markupsafe import Markup, escape

from weld_packets.packet.records import Amount, Span, Value


def second(it: Amount) -> Markup:
    """Return the amount in the other system, small; nothing where the two agree."""
    if not it.second:
        return Markup()
    return Markup(f"<small>{escape(it.second_text)}</small>")  # noqa: S704 - it is escaped


def amount_markup(it: Amount) -> Markup:
    """Return the amount, and small in the other system where the two differ."""
    first = escape(it.first_text)
    return Markup(f"{first} {second(it)}") if it.second else first  # noqa: S704 - both are escaped


def window(span: Span, amount: Amount | None) -> str:
    """Return the allowed range of ``amount`` in the first system."""
    return span.first_text(amount)


def second_window(value: Value) -> str:
    """Return the allowed range in the other system, empty where there is none."""
    return "" if value.window is None or value.amount is None else value.window.second_text(value.amount)


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
