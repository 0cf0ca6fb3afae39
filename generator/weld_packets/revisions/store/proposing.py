"""Propose a packet for release, and withdraw what was proposed."""

from __future__ import annotations

from pathlib import Path

from weld_packets.errors import located, refuse, unplaced
from weld_packets.revisions.records.canonical import packet_data, sha256
from weld_packets.revisions.register.entries import ProposalEntry, ProposalWithdrawalEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import Signer, name_of, signed_by
from weld_packets.revisions.status.people import Duties
from weld_packets.revisions.status.proposals import waiting_proposals
from weld_packets.revisions.status.release_rules import (
    Release,
    Signatures,
    author_problems,
    clock_problems,
    proposal_problems,
)
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import commit, known_orders, load_file, unlisted, writing
from weld_packets.revisions.store.nonconforming import uncorrected_problems

_OF_WITHDRAWAL = Duties(("author", "approve releases"), ())
"""Who may take a proposal back: whoever may write or approve one."""


def record_proposal(
    instructions: Path, wanted: Release, signer: Signer | None = None
) -> tuple[ProposalEntry, Register]:
    """Record that a packet is proposed; it takes the place of every proposal of its order that waits.

    Raises PacketError with every reason against it, and while another record is being written.
    """
    order, at, by = wanted.packet.head.slug, Disk(), wanted.by
    with located(file=str(instructions / order)), writing(instructions, at) as register:
        entries = register.of(order)
        key = name_of(signer)
        refuse([
            *proposal_problems(wanted, entries, known_orders(instructions), register.last_at, key),
            *uncorrected_problems(instructions, register, wanted.packet),
        ])  # fmt: skip
        refuse(unlisted(instructions, register, order))
        data = packet_data(wanted.packet)
        entry = ProposalEntry(
            order=order,
            packet_digest=sha256(data),
            effective=by.effective,
            previous_record_digest=entries[-1].record_digest if entries else "",
            replaces=tuple(each.digest for each in waiting_proposals(register, order)),
            **by.written,
        )
        entry = signed_by(signer, entry)
        is_kept = load_file(instructions, entry.path, entry.packet_digest) == data
        return entry, commit(instructions, register, entry, {} if is_kept else {entry.path: data}, at)


def withdraw_proposals(
    instructions: Path, order: str, by: Signatures, signer: Signer | None = None
) -> tuple[ProposalWithdrawalEntry, Register]:
    """Record that the proposals of an order that wait do not count any more.

    Raises PacketError where none waits, and while another record is being written.
    """
    at = Disk()
    with located(file=str(instructions / order)), writing(instructions, at) as register:
        waiting = waiting_proposals(register, order)
        nothing = unplaced("order", order, "no proposal of this order waits", "there is nothing to withdraw")
        refuse([
            *author_problems(by, _OF_WITHDRAWAL, name_of(signer)),
            *clock_problems(by, register.last_at),
            *(() if waiting else (nothing,)),
        ])  # fmt: skip
        proposals = tuple(each.digest for each in waiting)
        entry = ProposalWithdrawalEntry(order=order, proposals=proposals, **by.written)
        entry = signed_by(signer, entry)
        return entry, commit(instructions, register, entry, {}, at)
