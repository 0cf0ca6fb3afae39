"""Texts that name a table's revision: a new revision changes them all, which is one change and not a hundred."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from weld_packets.packet.records import Packet


@dataclass(frozen=True)
class Revised:
    """A table that both packets drew on, in another revision."""

    table: str
    before: str
    after: str


def revised_tables(old: Packet, new: Packet) -> tuple[Revised, ...]:
    """Return the tables that stand in another revision in ``new``."""
    before = {use.table: use.revision for use in old.tables}
    return tuple(
        Revised(use.table, before[use.table], use.revision)
        for use in new.tables
        if before.get(use.table, use.revision) != use.revision
    )


def cited_anew(packet: Packet, tables: Sequence[Revised]) -> Packet:
    """Return ``packet`` as it would read if it named the new revisions of ``tables`` and nothing else had changed.

    Works on the packet's text as JSON: identifiers of tables and revisions hold no sign that JSON escapes.
    """
    text = packet.model_dump_json()
    for table in tables:
        text = _read_in_traces(table).sub(partial(_with_revision, table.after), text)
        text = _named_in_texts(table).sub(partial(_with_revision, table.after), text)
    return Packet.model_validate_json(text).model_copy(update={"head": packet.head, "tables": packet.tables})


def _read_in_traces(table: Revised) -> re.Pattern[str]:
    return re.compile(rf'("table":"{re.escape(table.table)}","revision":"){re.escape(table.before)}(?=")')


def _named_in_texts(table: Revised) -> re.Pattern[str]:
    return re.compile(rf"(\btable {re.escape(table.table)} revision ){re.escape(table.before)}(?![\w+/-]|\.\w)")


def _with_revision(revision: str, found: re.Match[str]) -> str:
    return found[1] + revision
