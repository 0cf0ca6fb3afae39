"""What waits for approval, with its packet and what it changes; reads through the archive, writes nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pydantic import ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.queries.archive import Archive, packet_of, unaltered
from weld_packets.revisions.register.entries import ProposalEntry
from weld_packets.revisions.status.proposals import waiting_proposals
from weld_packets.revisions.status.status import in_force

_AGAIN = "propose the order anew"


@dataclass(frozen=True)
class Proposed:
    """A proposal that waits, its packet, and what that changes against the packet ``before`` of ``compared_with``.

    The first revision of an order is compared with nothing.
    """

    entry: ProposalEntry
    packet: Packet
    compared_with: str = ""
    before: Packet | None = None
    changes: tuple[Change, ...] = ()


def proposed_of(archive: Archive, order: str, day: date) -> tuple[Proposed, ...]:
    """Return what waits for approval of an order, compared with the revision in force on a day, else with the last.

    Raises PacketError where a file is not as it was proposed or released.
    """
    waiting = waiting_proposals(archive.register, order)
    if not waiting:
        return ()
    entries = archive.register.by_order.get(order, ())
    releases = [entry for entry in entries if entry.kind == "release"]
    entry = in_force(entries, day) or (releases[-1] if releases else None)
    before = packet_of(archive, entry) if entry else None
    return tuple(_compared(archive, each.entry, entry.revision if entry else "", before) for each in waiting)


def proposed_packet(archive: Archive, entry: ProposalEntry) -> Packet:
    """Return the packet that was proposed. Raises PacketError where its file is not as it was proposed."""
    remedy = f"restore the file, or {_AGAIN}"
    data = unaltered(archive, entry.path, entry.packet_digest, "it was proposed", remedy)
    try:
        return Packet.model_validate_json(data, strict=True)
    except ValidationError:
        message = "was proposed by another version of this program"
        raise PacketError([Problem(entry.path, 0, "", "", message, _AGAIN)]) from None


def _compared(archive: Archive, entry: ProposalEntry, mark: str, before: Packet | None) -> Proposed:
    packet = proposed_packet(archive, entry)
    return Proposed(entry, packet, mark, before, diff(before, packet) if before else ())
