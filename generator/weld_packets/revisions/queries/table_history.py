"""Every revision of a table that the register knows: what it held, who approved it, which releases used it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import TableState, read_cover
from weld_packets.revisions.register.entries import ApprovalEntry, RegisterEntry
from weld_packets.revisions.register.filed import content_path
from weld_packets.revisions.register.integrity import ReadFile
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.table_contents import ContentChange, content_changes


@dataclass(frozen=True)
class KnownRevision:
    """One revision of a table as the register knows it.

    ``contents`` are the digests of what it held, empty where it was released before contents were kept; more than one
    is a fault, which `check` names. ``releases`` used it, in the order of their making.
    """

    table: str
    revision: str
    contents: tuple[str, ...]
    approvals: tuple[ApprovalEntry, ...]
    releases: tuple[RegisterEntry, ...]


def known_revisions(register: Register) -> Mapping[str, tuple[KnownRevision, ...]]:
    """Return the revisions of each table, by its name, in the order in which the register first names them."""
    found: dict[str, dict[str, KnownRevision]] = {}
    for entry in register.listed:
        for known in _named_by(entry, register):
            of_table = found.setdefault(known.table, {})
            of_table[known.revision] = _joined(of_table.get(known.revision), known)
    return {table: tuple(found[table].values()) for table in sorted(found)}


def kept_since(register: Register) -> str:
    """Return the moment from which on the register keeps what tables hold, empty where it keeps nothing yet."""
    keeping = (
        entry.at
        for entry in register.listed
        if isinstance(entry, ApprovalEntry) or (isinstance(entry, RegisterEntry) and entry.contents)
    )
    return next(keeping, "")


def table_content(read: ReadFile, digest: str) -> Mapping[str, Any] | None:
    """Return what is kept under a digest, None where it is missing or altered."""
    try:
        data = read(content_path(digest), digest)
    except PacketError:
        return None
    if data is None or sha256(data) != digest:
        return None
    content: Mapping[str, Any] = json.loads(data)
    return content


@dataclass(frozen=True)
class ShownRevision:
    """One revision of a table: what it held (None where that is not kept), and how it differs from ``compared_with``.

    ``changes`` is None where one of the two contents is not kept.
    """

    known: KnownRevision
    content: Mapping[str, Any] | None
    compared_with: str
    changes: Sequence[ContentChange] | None
    read: ReadFile

    @cached_property
    def stated(self) -> TableState | None:
        """Return what the first release that used it says of its approval; None where none can be read."""
        for entry in self.known.releases[:1]:
            try:
                data = self.read(entry.path, entry.record_digest)
                states = read_cover(data, entry.path).tables if data and sha256(data) == entry.record_digest else ()
            except PacketError:
                return None
            return next((state for state in states if state.table == self.known.table), None)
        return None


def shown_revision(read: ReadFile, known: KnownRevision, before: ShownRevision | None) -> ShownRevision:
    """Return a revision of a table, compared with ``before``, where there is one."""
    content = table_content(read, known.contents[0]) if known.contents else None
    kept = before is not None and before.content is not None and content is not None
    changes = content_changes(before.content, content) if before and kept else None
    return ShownRevision(known, content, before.known.revision if before else "", changes, read)


def _named_by(entry: object, register: Register) -> Iterator[KnownRevision]:
    match entry:
        case ApprovalEntry():
            for each in entry.tables:
                yield KnownRevision(each.table, each.revision, (each.content_digest,), (entry,), ())
        case RegisterEntry() if entry.record_digest not in register.set_aside:
            digests = entry.contents if len(entry.contents) == len(entry.tables) else ("",) * len(entry.tables)
            for (table, revision), digest in zip(entry.tables, digests, strict=True):
                yield KnownRevision(table, revision, (digest,) if digest else (), (), (entry,))


def _joined(before: KnownRevision | None, more: KnownRevision) -> KnownRevision:
    if before is None:
        return more
    return KnownRevision(
        more.table,
        more.revision,
        tuple(dict.fromkeys((*before.contents, *more.contents))),
        (*before.approvals, *more.approvals),
        (*before.releases, *more.releases),
    )
