"""Quantities with units: the registry, the grammar of sources, and how numbers and ranges are shown."""

from importlib import import_module
from typing import TYPE_CHECKING

from weld_packets.units import kinds
from weld_packets.units.amounts import Amount, Plain, Span, in_brackets, range_text, with_unit
from weld_packets.units.kinds import Kind, SystemOfUnits

if TYPE_CHECKING:
    from weld_packets.units.digits import (
        as_written,
        distinguished,
        exact,
        exceeds,
        from_decimal,
        in_mm,
        in_unit,
        is_between,
        known_to,
        last_digit,
        limit_digits,
        plain,
        printed_unit,
        rounded,
        same,
        show,
        shown,
        significant,
        spelling,
        step_down,
        step_up,
        to_step,
        working,
    )
    from weld_packets.units.grammar import (
        bounded,
        is_fraction_of,
        meant_unit,
        parse,
        parse_fraction,
        parse_number,
        pattern_of,
    )
    from weld_packets.units.registry import SPELLINGS, Quantity, magnitude, quantity, scaled

__all__ = [
    "SPELLINGS",
    "Amount",
    "Kind",
    "Plain",
    "Quantity",
    "Span",
    "SystemOfUnits",
    "as_written",
    "bounded",
    "distinguished",
    "exact",
    "exceeds",
    "from_decimal",
    "in_brackets",
    "in_mm",
    "in_unit",
    "is_between",
    "is_fraction_of",
    "kinds",
    "known_to",
    "last_digit",
    "limit_digits",
    "magnitude",
    "meant_unit",
    "parse",
    "parse_fraction",
    "parse_number",
    "pattern_of",
    "plain",
    "printed_unit",
    "quantity",
    "range_text",
    "rounded",
    "same",
    "scaled",
    "show",
    "shown",
    "significant",
    "spelling",
    "step_down",
    "step_up",
    "to_step",
    "with_unit",
    "working",
]

_COMPUTING = ("registry", "digits", "grammar")
"""Modules that need pint, which a command that only reads records does without: half of the time to start."""

if not TYPE_CHECKING:  # types are read above, so that a wrong name is still found

    def __getattr__(name: str) -> object:
        """Return what one of those modules has under ``name``; they are loaded when the first is asked for."""
        if name in __all__:
            modules = (import_module(f"{__name__}.{each}") for each in _COMPUTING)
            found = next((module for module in modules if hasattr(module, name)), None)
            if found is not None:
                globals()[name] = getattr(found, name)
                return globals()[name]
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
