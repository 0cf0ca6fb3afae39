"""The whole quantity: times, consumables, what falls due."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.figures import Amount, Value
from weld_packets.packet.records.plain import Plain
from weld_packets.packet.records.warning import OperationWarning


class RunEvent(Plain):
    """Something that falls due during the run, after so many parts or while the last of them is welded.

    After 0 parts is before the first one.
    """

    part_number: int
    operation: str
    operation_name: str
    cell: str
    robot: str
    what: str
    basis: str
    when: Literal["after", "during"] = "after"


class RunRule(Plain):
    """What recurs every so many parts on one or both robots of a cell, such as dressing, in a sentence."""

    operation: str
    operation_name: str
    cell: str
    robots: tuple[str, ...]
    text: str
    basis: str


class FittedAtEnd(Plain):
    """A consumable as the order leaves it: at a robot, or in a cell, also where only earlier orders used it.

    ``item`` is its identifier in its table. ``used`` is the exact share of one spool, cylinder, contact tip, or of the
    welds between two dressings, as a fraction; ``share`` is the same for a reader. ``order`` used it last; its
    ``revision`` is empty where that is this packet itself, or was computed from sources.
    """

    place: str
    what: str
    item: str
    used: str
    share: str
    dressings: int
    order: str
    revision: str = ""


class ConsumableLine(Plain):
    """What the run takes of one consumable on each of some robots; ``robots`` is empty where a whole cell shares it.

    ``due`` says what falls due how often, and first at which part. ``anchor`` is the place of its first figure.
    ``start`` says how far one is used before the first part, and on what that rests.
    """

    operation: str
    operation_name: str
    cell: str
    robots: tuple[str, ...]
    what: str
    per_part: Amount
    over_run: Amount
    due: tuple[str, ...]
    anchor: str
    start: str = ""


class RunPlan(Plain):
    """Times and consumables of the whole quantity; ``time_per_part`` is that of the slowest operation.

    ``rules`` say in short what recurs, ``events`` what else falls due, ``first_due`` which of all that is first.
    ``fitted_at_end`` is what the next order starts from.
    """

    values: tuple[Value, ...]
    bottleneck: str
    model: str
    events: tuple[RunEvent, ...]
    events_note: str = ""
    time_per_part: Value | None = None
    consumables: tuple[ConsumableLine, ...] = ()
    rules: tuple[RunRule, ...] = ()
    first_due: str = ""
    fitted_at_end: tuple[FittedAtEnd, ...] = ()
    warnings: tuple[OperationWarning, ...] = ()
