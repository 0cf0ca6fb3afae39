"""A release as the answer to what was proposed: exactly that, or a refusal that says what changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import click

from weld_packets.commands.shared.releasing.releasable import Releasable
from weld_packets.commands.shared.releasing.responsible import Responsible
from weld_packets.errors import PacketError, Problem, unplaced
from weld_packets.letters import as_person, meaning
from weld_packets.revisions.differences.changes import change_lines
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.queries.proposed import proposed_packet
from weld_packets.revisions.records.canonical import agrees, packet_digest, short
from weld_packets.revisions.register.entries import ProposalEntry
from weld_packets.revisions.status.proposals import Proposal, not_proposed, waiting_proposals
from weld_packets.revisions.store.files import archive_for
from weld_packets.site.pages.revisions.change_ranking import split_changes
from weld_packets.sources.folders import INSTRUCTIONS, order_path

_SHOWN = 8


def answered(root: Path, found: Releasable, who: Responsible, digest: str) -> Responsible:
    """Return who answers for a release of an order: as it was proposed, where a proposal waits.

    Raises PacketError where the packet is not what was proposed, and UsageError where nothing waits and somebody is
    not named.
    """
    slug = found.packet.head.slug
    waiting = waiting_proposals(found.register, slug)
    if not waiting:
        if found.workspace.approved.plant.releases == "in two steps":
            raise PacketError([not_proposed(slug)])
        missing = [f"--{key}" for key in ("author", "reason", "effective") if not getattr(who, key)]
        if missing:
            raise click.UsageError(f"no proposal of this order waits: give {', '.join(missing)}")
        return who
    proposal = _meant(waiting, digest)
    archive = archive_for(found.register, root / INSTRUCTIONS)
    if problems := [*_other_words(proposal.entry, who), *_other_packet(found, archive, proposal)]:
        raise PacketError(replace(problem, file=order_path(slug)) for problem in problems)
    entry = proposal.entry
    return replace(who, author=entry.author, reason=entry.reason, effective=entry.effective.typed)


def _meant(waiting: Sequence[Proposal], digest: str) -> Proposal:
    """Return the proposal that the approver saw; raise PacketError where the digest is of none."""
    found = [each for each in waiting if agrees(digest, each.entry.packet_digest)]
    if len(found) == 1:
        return found[0]
    order = waiting[0].entry.order
    listed = ", ".join(f"{short(each.entry.packet_digest)} by {each.entry.author}" for each in waiting)
    if found:
        message, remedy = f"several proposals of this packet wait: {listed}", "withdraw them, and propose it once"
    else:
        message = f"a proposal waits, which is approved by its digest: {listed}"
        remedy = f"look at it with 'packets proposals {order}', then give --digest with the digest of what you saw"
    raise PacketError([Problem(order_path(order), 0, "digest", digest, message, remedy)])


def _other_words(entry: ProposalEntry, who: Responsible) -> Iterator[Problem]:
    remedy = "leave it out, or withdraw the proposal and propose the order anew"
    said = (
        ("author", as_person, who.author, entry.author),
        ("reason", meaning, who.reason, entry.reason),
        ("effective", meaning, who.effective, entry.effective.typed),
    )
    for key, compared, given, proposed in said:
        if given and compared(given) != compared(proposed):
            yield unplaced(key, given, f"is not what was proposed: {proposed}", remedy)


def _other_packet(found: Releasable, archive: Archive, proposal: Proposal) -> Iterator[Problem]:
    if packet_digest(found.packet) == proposal.entry.packet_digest:
        return
    changes = diff(proposed_packet(archive, proposal.entry), found.packet)
    leading, following = split_changes(changes)
    lines = change_lines([*leading, *following] or changes)
    more = f"; and {len(lines) - _SHOWN} more" if len(lines) > _SHOWN else ""
    message = f"the files have changed since it was proposed: {'; '.join(lines[:_SHOWN])}{more}"
    remedy = "take the change back, or have the order proposed anew"
    yield unplaced("digest", short(proposal.entry.packet_digest), message, remedy)
