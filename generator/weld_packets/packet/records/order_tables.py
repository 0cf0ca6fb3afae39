"""A table as a packet cites it."""

from __future__ import annotations

from weld_packets.units import Plain


class TableUse(Plain):
    """One table that the packet drew on: its identity and the rows that were read."""

    table: str
    title: str
    revision: str
    source: str
    approved_by: str
    approved_on: str
    rows: tuple[str, ...]
    notes: tuple[str, ...]
