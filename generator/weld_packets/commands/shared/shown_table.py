"""A table as it was approved, as a command prints it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from itertools import pairwise
from typing import Any

from weld_packets.errors import PacketError, Problem
from weld_packets.revisions.queries.archive import Archive, packet_of
from weld_packets.revisions.queries.table_changes import TableChange, table_changes
from weld_packets.revisions.queries.table_history import (
    KnownRevision,
    ShownRevision,
    kept_since,
    known_revisions,
    shown_revision,
)
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.table_contents import value_text
from weld_packets.sources.reading.nearest import nearest
from weld_packets.wording.revisions import DIFFERENCE_NOT_KNOWN, not_shown_words


@dataclass(frozen=True)
class ShownTable:
    """One revision of a table, and by order what the next one meant.

    ``kept_since`` is the moment from which on contents are kept.
    """

    shown: ShownRevision
    meant: Sequence[tuple[str, TableChange]]
    kept_since: str


def revisions_of(register: Register, table: str) -> tuple[KnownRevision, ...]:
    """Return the revisions of a table; raise PacketError where the register does not know it."""
    known = known_revisions(register)
    if table not in known:
        message = "no table of this name was approved, and none was released"
        raise PacketError([Problem("TABLE", 0, "", table, message, nearest(table, set(known)))])
    return known[table]


def shown_table(archive: Archive, known: KnownRevision, before: KnownRevision | None) -> ShownTable:
    """Return a revision of a table, compared with ``before``, where there is one."""
    old = shown_revision(archive.read, before, None) if before else None
    shown = shown_revision(archive.read, known, old)
    return ShownTable(shown, tuple(_meant(archive, known)), kept_since(archive.register))


def _meant(archive: Archive, known: KnownRevision) -> Iterator[tuple[str, TableChange]]:
    """Yield what the next revision of the table meant, for each order that used this one and later another.

    An order of which two branches made a record is left out.
    """
    for order in dict.fromkeys(entry.order for entry in known.releases):
        releases = [entry for entry in archive.register.by_order.get(order, ()) if entry.kind == "release"]
        for older, newer in pairwise(releases):
            if _uses(older, known) and not _uses(newer, known):
                pair = ((each.revision, packet_of(archive, each)) for each in (older, newer))
                yield from ((order, each) for each in table_changes(*pair) if each.table == known.table)


def _uses(entry: RegisterEntry, known: KnownRevision) -> bool:
    return (known.table, known.revision) in entry.tables


def table_lines(table: ShownTable) -> Iterator[str]:
    """Yield a table line by line."""
    shown, known = table.shown, table.shown.known
    yield f"table {known.table}, revision {known.revision}"
    if shown.content is not None:
        yield f"  title: {shown.content['title']}"
        yield f"  source: {shown.content['source']}"
        for key in ("document", "transcribed", "checked"):
            yield f"  {key}: {value_text(shown.content[key]) if key in shown.content else 'not stated'}"
    yield from _approval_lines(shown)
    yield from (f"  digest of what it held: {digest}" for digest in known.contents)
    for entry in known.releases:
        yield f"  used by {entry.order}, revision {entry.revision}, effective from {entry.effective}"
    for order, change in table.meant:
        yield f"  {order}: revision {change.of_before} used {change.before}, {change.of_after} uses {change.after}"
        yield from (f"    {setting}" for setting in change.settings)
        yield f"    {change.same} settings read from it with the same value and the same allowed range"
    if shown.compared_with:
        yield f"  difference from revision {shown.compared_with}:"
        yield from _change_lines(shown)
    yield "  what it held:"
    if shown.content is not None:
        yield from _held(shown.content)
    else:
        yield f"    {not_shown_words(was_kept=bool(known.contents), kept_since=table.kept_since)}"


def _approval_lines(shown: ShownRevision) -> Iterator[str]:
    for entry in shown.known.approvals:
        yield f"  table approved {entry.recorded_at} by {entry.approver}; {entry.author} answers for the values"
        yield f"    why: {entry.reason}"
    stated = None if shown.known.approvals else shown.stated
    if stated is not None and stated.approved_by:
        yield f"  table approved {stated.approved_on} by {stated.approved_by}, as its file said at its first release"


def _change_lines(shown: ShownRevision) -> Iterator[str]:
    if shown.changes is None:
        yield f"    {DIFFERENCE_NOT_KNOWN}"
    else:
        yield from (f"    {change}" for change in shown.changes)
        if not shown.changes:
            yield "    none"


def _held(content: Mapping[str, Any]) -> Iterator[str]:
    for key, value in content.items():
        if isinstance(value, list):
            yield f"    {key}:"
            yield from (f"      - {value_text(item)}" for item in value)
        else:
            yield f"    {key}: {value_text(value)}"


def table_data(table: ShownTable) -> dict[str, Any]:
    """Return a table as data for JSON."""
    shown, known, stated = table.shown, table.shown.known, table.shown.stated
    said = {"author", "approver", "reason", "recorded_at"}
    return {
        "table": known.table,
        "revision": known.revision,
        "content_digests": list(known.contents),
        "approvals": [entry.model_dump(include=said) for entry in known.approvals],
        "stated_at_first_release": stated.model_dump() if stated else None,
        "used_by": [
            {"order": entry.order, "revision": entry.revision, "effective": str(entry.effective)}
            for entry in known.releases
        ],
        "meant": [asdict(change) | {"order": order} for order, change in table.meant],
        "compared_with": shown.compared_with,
        "changes": None if shown.changes is None else [asdict(change) for change in shown.changes],
        "contents_kept_since": table.kept_since,
        "content": shown.content,
    }
