"""Filters of the templates for amounts and allowed ranges; what is markup is escaped already."""

from __future__ import annotations

from markupsafe import Markup, escape

from weld_packets.packet.records import Amount, Span


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
