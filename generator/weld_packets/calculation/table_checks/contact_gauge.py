"""Tolerances of the plant finer than the gauge with which a distance is set: they leave one number and no range."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from weld_packets.errors import Problem, refusal
from weld_packets.model.table import Table
from weld_packets.model.tables.plant import Plant
from weld_packets.units import as_written, exact, quantity

CONTACT_GAUGES = MappingProxyType({"mm": quantity(1.0, "mm"), "in": quantity(0.0625, "in")})
"""Marks of the rule or gauge with which the contact distance is set: common practice, no source."""


def gauge_problems(table: Table) -> Iterator[Problem]:
    """Yield a problem for a tolerance of the contact distance that is smaller than a mark of the plant's gauge."""
    if not isinstance(table, Plant) or table.contact_distance_tolerance is None:
        return
    tolerance = table.contact_distance_tolerance
    unit = "in" if table.show_first == "US customary" else "mm"
    step = CONTACT_GAUGES[unit]
    if exact(tolerance, unit) < exact(step, unit):
        written = as_written(step)
        message = f"the gauge for it has marks every {written}: this leaves one mark, and no allowed range"
        remedy = f"write {written} or more, or leave the key out where no range is allowed"
        yield from refusal(message, remedy, key="contact distance tolerance", value=as_written(tolerance)).problems
