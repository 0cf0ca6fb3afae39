"""What auditors and engineers ask of the released records, answered in lines of text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from weld_packets.commands.drafting import Drafts, draft
from weld_packets.commands.places import INSTRUCTIONS, SITES
from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records import Packet
from weld_packets.revisions.differences.changes import in_lines
from weld_packets.revisions.queries import looking_back
from weld_packets.revisions.queries.impact import Impact, edited_sources, impact_on
from weld_packets.revisions.queries.looking_back import Archive, open_archive
from weld_packets.revisions.queries.verification import Verification, point_text
from weld_packets.revisions.queries.verification import verify as verify_all
from weld_packets.revisions.queries.where_used import TableReading
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.clock import moment_now
from weld_packets.sources.digests import file_digests
from weld_packets.sources.orders.orders import known_order
from weld_packets.sources.tables.tables import load_workspace

DRAFT = "draft"


def today() -> date:
    """Return the present day in UTC, or that of SOURCE_DATE_EPOCH."""
    return moment_now().date()


def _archive_of(root: Path, slug: str) -> Archive:
    """Return the archive, in which ``slug`` may have no record yet, but must be an order."""
    archive = open_archive(root / INSTRUCTIONS)
    if not archive.register.of(slug):
        known_order(root, slug)
    return archive


def history_lines(root: Path, slug: str) -> Iterator[str]:
    """Yield the history of an order, oldest record first; raise SourceError where there is no such order."""
    for row in looking_back.order_history(_archive_of(root, slug), slug, today()):
        what = "released" if row.kind == "release" else "withdrawn"
        superseded = f" by {row.superseded_by}" if row.superseded_by else ""
        yield f"revision {row.revision} {what} {row.released_on}: {row.status}{superseded}"
        yield f"  effective from {row.effective_from}; author {row.author}; approver {row.approver}"
        yield f"  why: {row.reason}"
        yield f"  record {short(row.sha256)}" + (f", signed with {row.signed_with}" if row.signed_with else "")
        yield from (f"  {line}" for line in in_lines(row.changes))


def diff_lines(root: Path, slug: str, before: str, after: str) -> list[str]:
    """Return every difference between two revisions, or a revision and the working tree; empty where there is none."""
    packet = draft(load_workspace(root), slug) if DRAFT in (before, after) else None
    archive = open_archive(root / INSTRUCTIONS)
    return list(in_lines(looking_back.compare(archive, slug, before, after, packet)))


def as_of_lines(root: Path, slug: str, day: date) -> list[str]:
    """Return what was in force at an order on a day; raise SourceError where there is no such order."""
    found = looking_back.in_force_on(_archive_of(root, slug), slug, day)
    lines = [
        f"revision {one.revision} in force since {one.since}, approved by {one.approver}, record {short(one.sha256)}"
        + (f" ({one.covers})" if one.covers else "")
        for one in found.in_force
    ]
    earlier = [f"revision {mark} was in force for a part of that day" for mark in found.earlier_that_day]
    return [*(lines or [f"no revision of {slug} was in force on {day}"]), *earlier]


def where_used_lines(root: Path, table: str, row: str, revision: str) -> list[str]:
    """Return the released revisions that read a table, with the figures that rest on it."""
    archive = open_archive(root / INSTRUCTIONS)
    uses = looking_back.uses_of(archive, TableReading(table, revision, row), today())
    lines = []
    for use in uses:
        lines.append(f"{use.order}, revision {use.revision} ({use.status}): {table} revision {use.table_revision}")
        lines += [f"  row {name}" for name in use.rows]
        lines += [f"  {name}" for name in use.figures]
    return lines or [_unused(archive, TableReading(table, revision, row))]


def _unused(archive: Archive, wanted: TableReading) -> str:
    """Return that nothing used what is wanted, with the rows that were used where only the row is at fault."""
    whole = looking_back.uses_of(archive, replace(wanted, row=""), today())
    rows = dict.fromkeys(row for use in whole for row in use.rows)
    if wanted.row and rows:
        return f"no released revision used row '{wanted.row}' of {wanted.table}; rows used are: {', '.join(rows)}"
    of_revision = f" revision {wanted.revision}" if wanted.revision else ""
    return f"no released revision used {wanted.table}{of_revision}"


def impacts(root: Path) -> list[Impact]:
    """Return, for each revision in force or to come, what would change if it were released from the working tree."""
    workspace = load_workspace(root)
    archive = open_archive(root / INSTRUCTIONS)
    drafts = Drafts(workspace, archive)
    found = []
    for entry, record in looking_back.releases_that_count(archive, today()):
        released = looking_back.packet_of(archive, entry)
        edited = edited_sources(record.sources, file_digests(root, entry.order), f"{INSTRUCTIONS}/{entry.order}/")
        found.append(impact_on(entry.order, entry.revision, released, _recomputed(drafts, entry.order), edited))
    return found


def _recomputed(drafts: Drafts, slug: str) -> Packet | tuple[Problem, ...]:
    try:
        return drafts.draft(slug)
    except PacketError as error:
        return error.problems


def register_lines(root: Path) -> Iterator[str]:
    """Yield every released record with its digest, and the head over all of them."""
    register = open_archive(root / INSTRUCTIONS).register
    for entry in register.entries:
        yield f"{short(entry.sha256)}  {entry.order}  {entry.revision}  {entry.kind}  {entry.released_on}"
    yield f"register {point_text(register.point)}"


def verify(root: Path, known: list[str]) -> Verification:
    """Compare records, chains, register and built sites with what was released."""
    return verify_all(root / INSTRUCTIONS, root / SITES, known)


def verification_lines(verification: Verification) -> list[str]:
    """Return what differs, what could not be looked at, and what was compared."""
    counted = f"{verification.register.records} records of {verification.orders} orders, {verification.sites} sites"
    outcome = f"{len(verification.findings)} differ" if verification.findings else "nothing differs"
    return [
        *(f"{finding.file}: {finding.message}" for finding in verification.findings),
        *verification.notes,
        f"compared {counted}: {outcome}",
        f"register {point_text(verification.register)}",
    ]
