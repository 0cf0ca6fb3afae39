"""The whole quantity: times, consumables, what falls due."""

from __future__ import annotations

from generator.packet.records.figures import Amount, Value
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


class ConsumableLine(Plain):
    """What the run takes of one consumable on each of some arms; ``arms`` is empty where a whole cell shares it.

    ``due`` says what falls due how often, and first at which part. ``anchor`` is the place of its first figure.
    """

    row: str
    row_name: str
    cell: str
    arms: tuple[str, ...]
    what: str
    per_part: Amount
    over_run: Amount
    due: tuple[str, ...]
    anchor: str


class RunPlan(Plain):
    """Times and consumables of the whole quantity; ``time_per_part`` is that of the slowest row."""

    values: tuple[Value, ...]
    bottleneck: str
    model: str
    events: tuple[RunEvent, ...]
    events_note: str = ""
    time_per_part: Value | None = None
    consumables: tuple[ConsumableLine, ...] = ()
