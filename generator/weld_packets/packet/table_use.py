"""A table as a packet cites it, with the rows that were read."""

from __future__ import annotations

from collections.abc import Iterable

from weld_packets.model.tables import Table
from weld_packets.packet.records import TableUse


def table_use(table: Table, rows: Iterable[str]) -> TableUse:
    """Return who a table is from, what it rests on, who approved it, and the rows that were read."""
    approved = table.approved
    return TableUse(
        table=table.table,
        title=table.title,
        revision=table.revision,
        source=table.source,
        approved_by="" if approved is None else approved.by,
        approved_on="" if approved is None else approved.date.isoformat(),
        rows=tuple(row for row in rows if row),
        notes=table.notes,
    )
