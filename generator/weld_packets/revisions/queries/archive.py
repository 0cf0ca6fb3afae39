"""Answers from the released records; each function answers one question and writes nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from weld_packets.errors import PacketError, Problem, refusal
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.queries.history import HistoryEntry, history_entries
from weld_packets.revisions.queries.where_used import TableReading, TableUser, use_in
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import RevisionRecord, read_cover, read_record
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.integrity import ReadFile
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import releases_not_withdrawn
from weld_packets.revisions.status.status import WORKED_BY, AsOf, as_of, control_of

DRAFT = "draft"
"""How a comparison names the packet of the present sources."""
RESTORE = "run 'packets verify', and restore the file"
"""What to do about a file that is not as it was released or filed."""


@dataclass(frozen=True)
class Archive:
    """All released records: their register, and how the file of one is read."""

    register: Register
    read: ReadFile


def released_record(archive: Archive, entry: RegisterEntry) -> RevisionRecord:
    """Return the record of ``entry``.

    Raises PacketError where the file is missing or not the one that the register lists.
    """
    return read_record(_bytes_of(archive, entry), entry.path)


def released_cover(archive: Archive, entry: RegisterEntry) -> RevisionRecord:
    """Return the record of ``entry`` without its packet, which takes long to read. Raises as `released_record` does."""
    return read_cover(_bytes_of(archive, entry), entry.path)


def _bytes_of(archive: Archive, entry: RegisterEntry) -> bytes:
    return unaltered(archive, entry.path, entry.record_digest, "its release", RESTORE)


def unaltered(archive: Archive, path: str, digest: str, since: str, remedy: str) -> bytes:
    """Return a file of the archive; raise PacketError where it is missing, or another than ``since`` then."""
    data = archive.read(path, digest)
    if data is None or sha256(data) != digest:
        message = "is missing" if data is None else f"is altered since {since}"
        raise PacketError([Problem(path, 0, "", "", message, remedy)])
    return data


def last_released(archive: Archive, order: str) -> tuple[str, Packet] | None:
    """Return revision and packet of the last release that was not withdrawn; None where there is none."""
    valid = releases_not_withdrawn(archive.register.of(order))
    return (valid[-1].revision, packet_of(archive, valid[-1])) if valid else None


def released_packet(archive: Archive, order: str, revision: str) -> Packet:
    """Return the packet of a released revision. Raises PacketError where there is none."""
    return packet_of(archive, _release(archive.register, order, revision))


def packet_of(archive: Archive, entry: RegisterEntry) -> Packet:
    """Return the packet of the release ``entry``. Raises PacketError where its file is not as released."""
    packet = released_record(archive, entry).packet
    if packet is None:
        raise PacketError([Problem(entry.path, 0, "packet", "", "holds no packet", RESTORE)])
    return packet


def sources_of(archive: Archive, entry: RegisterEntry) -> Mapping[str, str]:
    """Return the SHA-256 of each source file of a release, by path; nothing where its record cannot be read."""
    data = archive.read(entry.path, entry.record_digest)
    if data is None or sha256(data) != entry.record_digest:
        return {}
    return {source.path: source.sha256 for source in read_cover(data, entry.path).sources}


def compare(archive: Archive, order: str, old: str, new: str, draft: Packet | None = None) -> tuple[Change, ...]:
    """Return what changed between two revisions of ``order``; the name ``draft`` means the packet ``draft``."""
    chosen = (draft if name == DRAFT and draft else released_packet(archive, order, name) for name in (old, new))
    return diff(*chosen)


def order_history(archive: Archive, order: str, day: date) -> tuple[HistoryEntry, ...]:
    """Return the history of ``order`` with the statuses at the end of ``day``; empty before its first release."""
    return history_entries(archive.register.of(order), day, lambda entry: packet_of(archive, entry))


def in_force_on(archive: Archive, order: str, day: date) -> AsOf:
    """Return what was in force at ``order`` on ``day``."""
    return as_of(archive.register.of(order), day)


def releases_in_force_or_due(archive: Archive, day: date) -> Iterator[tuple[RegisterEntry, RevisionRecord]]:
    """Yield each revision that is in force on ``day`` or will be, one at a time."""
    for entries in archive.register.by_order.values():
        for entry in entries:
            if entry.kind == "release" and control_of(entries, entry.revision, day).status in WORKED_BY:
                yield entry, released_record(archive, entry)


def uses_of(archive: Archive, wanted: TableReading, day: date) -> tuple[TableUser, ...]:
    """Return every released revision that read what is ``wanted``, with its status at the end of ``day``.

    An order of which two branches made a record is left out: its statuses are not known.
    """
    entries = (entry for entry in archive.register.entries if entry.order not in archive.register.forks)
    found = (_use(archive, entry, wanted, day) for entry in entries if _read(entry, wanted))
    return tuple(use for use in found if use is not None)


def _read(entry: RegisterEntry, wanted: TableReading) -> bool:
    return any(table == wanted.table and wanted.revision in ("", revision) for table, revision in entry.tables)


def _use(archive: Archive, entry: RegisterEntry, wanted: TableReading, day: date) -> TableUser | None:
    status = control_of(archive.register.of(entry.order), entry.revision, day).status
    return use_in(packet_of(archive, entry), wanted, entry.revision, status)


def _release(register: Register, order: str, revision: str) -> RegisterEntry:
    releases = [entry for entry in register.of(order) if entry.kind == "release"]
    found = next((entry for entry in releases if entry.revision == revision), None)
    if found is None:
        known = ", ".join(entry.revision for entry in releases) or "none is released"
        message = f"order {order} has no such released revision"
        raise refusal(message, f"name one of: {known}", key="revision", value=revision)
    return found
