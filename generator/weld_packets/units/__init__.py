"""Quantities with units: the registry, the grammar of sources, and how numbers are shown."""

from weld_packets.units import kinds
from weld_packets.units.grammar import PATTERN, bounded, parse, parse_number
from weld_packets.units.kinds import Kind
from weld_packets.units.registry import SPELLINGS, Quantity, magnitude, quantity, registry
from weld_packets.units.shown import (
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
