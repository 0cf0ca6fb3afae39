"""The consumables of an order: those of its operations, each place once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from weld_packets.calculation.results import OperationResult
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.processes.family import family_of
from weld_packets.processes.supplies import Supply
from weld_packets.units import magnitude, quantity


def supplies(found: OperationResult, approved: ApprovedTables) -> tuple[Supply, ...]:
    """Return every consumable that is fitted for an operation, also where its parts take none of it.

    Raises OutOfRangeError where one has no known life.
    """
    return tuple(family_of(found.operation.process).supplies(found, approved))


def pooled(stock: Iterable[Supply]) -> tuple[Supply, ...]:
    """Return the consumables of an order, each once: operations in one cell weld with the same robots."""
    found: dict[tuple[str, str], Supply] = {}
    for supply in stock:
        key = (supply.place, supply.what)
        found[key] = _together(found[key], supply) if key in found else supply
    return tuple(found.values())


def _together(one: Supply, other: Supply) -> Supply:
    taken = magnitude(one.per_part, one.unit) + magnitude(other.per_part, one.unit)
    lasts = tuple(dict.fromkeys((*one.lasts, *other.lasts)))
    return replace(one, per_part=quantity(taken, one.unit), lasts=lasts, wear=one.wear + other.wear)
