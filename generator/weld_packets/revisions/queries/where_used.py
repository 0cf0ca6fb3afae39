"""Which released revisions drew on a table, and which of their figures on a row of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.values import Value


@dataclass(frozen=True)
class TableReading:
    """What is looked for: a table, all its revisions where ``revision`` is empty, all its rows where ``row`` is."""

    table: str
    revision: str = ""
    row: str = ""


@dataclass(frozen=True)
class TableUser:
    """One released revision that read the table: its revision, the rows that match, the figures that rest on them."""

    order: str
    revision: str
    status: str
    table_revision: str
    rows: tuple[str, ...]
    figures: tuple[str, ...]


def use_in(packet: Packet, wanted: TableReading, revision: str, status: str) -> TableUser | None:
    """Return how ``packet``, released as ``revision``, read what is ``wanted``; None where it did not."""
    for use in packet.cited:
        rows = tuple(row for row in use.rows if _matches(row, wanted.row))
        if use.table == wanted.table and wanted.revision in ("", use.revision) and (rows or not wanted.row):
            figures = tuple(dict.fromkeys(_figures(packet, wanted)))
            return TableUser(packet.head.slug, revision, status, use.revision, rows, figures)
    return None


def _figures(packet: Packet, wanted: TableReading) -> Iterator[str]:
    for place, value in _values(packet):
        looked_up = (point for point in value.trace if point.form == "lookup" and point.table == wanted.table)
        if any(not wanted.row or any(_matches(row, wanted.row) for row in point.rows) for point in looked_up):
            yield f"{place}, {value.label}"


def _values(packet: Packet) -> Iterator[tuple[str, Value]]:
    for operation in packet.operations:
        for group in operation.groups:
            yield from (
                (f"operation {operation.number}, {group.title}", value) for value in (*group.dialled, *group.derived)
            )
        yield from ((f"operation {operation.number}", value) for value in operation.times)
    yield from (("run", value) for value in packet.run.values)


def _matches(row: str, wanted: str) -> bool:
    """Return whether ``wanted`` names ``row``, with or without its unit; every row where nothing is wanted."""
    # the row of a table is looked for by what a person typed, spaces and capitals aside
    plain, sought = (" ".join(text.casefold().split()) for text in (row, wanted))
    return plain == sought or plain.startswith(f"{sought} ") or not sought  # by its first words
