"""How a number reads with its unit; apart from all that computes with units, which takes long to load."""

from __future__ import annotations


def with_unit(text: str, unit: str) -> str:
    """Return number and unit as printed: a no-break space between, none before a degree sign of angle."""
    if unit == "1":
        return text
    return f"{text}{unit}" if unit == "°" else f"{text}\N{NO-BREAK SPACE}{unit}"
