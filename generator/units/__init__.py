"""Quantities with units: the registry, the grammar of sources, and how numbers are shown."""

from generator.units import kinds
from generator.units.grammar import PATTERN, bounded, parse, parse_number
from generator.units.kinds import Kind
from generator.units.registry import SPELLINGS, Quantity, magnitude, quantity, registry
from generator.units.shown import (
    exact,
    from_decimal,
    known_to,
    last_digit,
    other_system,
    plain,
    show,
    shown,
    significant,
    step_down,
    step_up,
    to_last,
    to_step,
    told_apart,
    with_unit,
)

__all__ = [
    "PATTERN",
    "SPELLINGS",
    "Kind",
    "Quantity",
    "bounded",
    "exact",
    "from_decimal",
    "kinds",
    "known_to",
    "last_digit",
    "magnitude",
    "other_system",
    "parse",
    "parse_number",
    "plain",
    "quantity",
    "registry",
    "show",
    "shown",
    "significant",
    "step_down",
    "step_up",
    "to_last",
    "to_step",
    "told_apart",
    "with_unit",
]
