"""The whole quantity: times, consumables, what falls due."""

from __future__ import annotations

from generator.packet.records.figures import Value
from generator.packet.records.plain import Plain


class RunEvent(Plain):
    """Something that falls due during the run, at a part number."""

    part_number: int
    row: str
    row_name: str
    cell: str
    arm: str
    what: str
    basis: str


class RunPlan(Plain):
    """Times and consumables of the whole quantity."""

    values: tuple[Value, ...]
    bottleneck: str
    model: str
    events: tuple[RunEvent, ...]
    events_note: str = ""
