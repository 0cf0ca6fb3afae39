"""The history of one order: every release and withdrawal with who, when, why, and what changed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from weld_packets.packet.records.order import Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.records.record import Code, RecordKind
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.status import control_of

PacketOf = Callable[[RegisterEntry], Packet]
"""Returns the packet of a release."""


@dataclass(frozen=True)
class HistoryEntry:
    """One record: ``status`` is that of its revision on the day asked for; ``changes`` are against ``compared_with``.

    ``signed_with`` is the plant's name for the key, empty for an unsigned record; ``corrects`` are nonconformities.
    """

    kind: RecordKind
    revision: str
    status: str
    superseded_by: str
    effective_from: str
    author: str
    approver: str
    reason: str
    recorded_at: str
    record_digest: str
    code: Code
    signed_with: str
    compared_with: str
    changes: tuple[Change, ...]
    corrects: tuple[str, ...] = ()


def history_entries(entries: Sequence[RegisterEntry], day: date, packet_of: PacketOf) -> tuple[HistoryEntry, ...]:
    """Return the rows of an order's history, oldest first; statuses are those at the end of ``day``."""
    releases = [entry for entry in entries if entry.kind == "release"]
    packets = {entry.revision: packet_of(entry) for entry in releases}
    before = {newer.revision: older.revision for older, newer in pairwise(releases)}
    return tuple(_history_entry(entry, entries, day, packets, before) for entry in entries)


def _history_entry(
    entry: RegisterEntry,
    entries: Sequence[RegisterEntry],
    day: date,
    packets: dict[str, Packet],
    before: dict[str, str],
) -> HistoryEntry:
    compared = before.get(entry.revision, "") if entry.kind == "release" else ""
    control = control_of(entries, entry.revision, day)
    return HistoryEntry(
        kind=entry.kind,
        revision=entry.revision,
        status=control.status,
        superseded_by=control.superseded_by,
        effective_from=str(entry.effective),
        author=entry.author,
        approver=entry.approver,
        reason=entry.reason,
        recorded_at=entry.recorded_at,
        record_digest=entry.record_digest,
        code=entry.code,
        signed_with=entry.signed_with,
        compared_with=compared,
        changes=diff(packets[compared], packets[entry.revision]) if compared else (),
        corrects=entry.corrects,
    )
