"""Look-ups name their table's revision: a new revision changes them all, which is one change and not a hundred."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar, cast

from weld_packets.packet.records import Packet, Plain, TableUse, TracePoint

_Item = TypeVar("_Item")


@dataclass(frozen=True)
class Revised:
    """A table that both packets drew on, in another revision."""

    table: str
    before: str
    after: str


def revised_tables(old: Packet, new: Packet) -> tuple[Revised, ...]:
    """Return the tables that have another revision in ``new``."""
    before = {use.table: use.revision for use in old.tables}
    return tuple(
        Revised(use.table, before[use.table], use.revision)
        for use in new.tables
        if before.get(use.table, use.revision) != use.revision
    )


def with_new_revisions(packet: Packet, tables: Sequence[Revised]) -> Packet:
    """Return ``packet`` as it would read if it named the new revisions of ``tables`` and nothing else had changed.

    A revision is in the list of tables, which is compared by itself, and at each look-up of a calculation.
    """
    after = {table.table: table.after for table in tables}
    return _with_revisions(packet, after)


def _with_revisions(item: _Item, after: Mapping[str, str]) -> _Item:
    if isinstance(item, TracePoint):
        return item.model_copy(update={"revision": after.get(item.table, item.revision)})
    if isinstance(item, TableUse):
        return item
    if isinstance(item, Plain):
        fields = {name: getattr(item, name) for name in type(item).model_fields}
        return item.model_copy(update={name: _with_revisions(each, after) for name, each in fields.items()})
    if isinstance(item, tuple):
        return cast("_Item", tuple(_with_revisions(each, after) for each in item))
    return item
