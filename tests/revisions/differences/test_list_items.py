"""What a list of a packet holds has a name in a list of changes, never the notation of a program."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from weld_packets.packet.records.operation import MachineLine, ProcedureLine
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import WeldGeometry, WeldLine
from weld_packets.packet.records.steps import Action
from weld_packets.packet.records.values import PutIn, TracePoint
from weld_packets.revisions.differences.list_items import ITEM_NAMES
from weld_packets.units import Plain

RECOGNISED_OTHERWISE = {Action, TracePoint, PutIn, WeldLine, WeldGeometry}
"""Steps by their text; the trace of a value and the welds are compared by rules of their own."""


def in_lists(annotation: Any, *, listed: bool = False) -> Iterator[tuple[type[Plain], bool]]:
    """Yield each record that a field may hold, and whether in a list."""
    if isinstance(annotation, type) and issubclass(annotation, Plain):
        yield annotation, listed
    for inner in get_args(annotation):
        yield from in_lists(inner, listed=listed or "tuple" in str(annotation).lower())


def test_every_item_of_a_list_is_recognised_and_named() -> None:
    looked_at: set[type[Plain]] = set()
    open_records: list[type[Plain]] = [Packet]
    unnamed = set()
    while open_records:
        record = open_records.pop()
        looked_at.add(record)
        for field in record.model_fields.values():
            for found, listed in in_lists(field.annotation):
                if listed and found not in ITEM_NAMES:
                    unnamed.add(found)
                if found not in looked_at:
                    open_records.append(found)
    assert unnamed == RECOGNISED_OTHERWISE


def test_a_line_of_a_procedure_is_quoted_with_what_it_is_of() -> None:
    words = ITEM_NAMES[ProcedureLine].words
    assert words(ProcedureLine(text="one pass", of="T fillet")) == "“T fillet: one pass”"
    assert words(ProcedureLine(text="DC+")) == "“DC+”"
    assert ITEM_NAMES[MachineLine].words(MachineLine(name="Gun", values=("a", "b"))) == "machine: Gun"
