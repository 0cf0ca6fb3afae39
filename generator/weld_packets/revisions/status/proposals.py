"""Which proposals of a release wait for approval, and whether a release answers one. Nothing here reads a file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import as_person
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.entries import ProposalEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import Signatures


@dataclass(frozen=True)
class Proposal:
    """A proposal with the digest of its entry, by which others name it."""

    entry: ProposalEntry
    digest: str

    def agrees_with(self, by: Signatures) -> bool:
        """Return whether a release says of author, reason and first day what was proposed."""
        same = (self.entry.reason, self.entry.effective) == (by.reason.strip(), by.effective)
        return same and as_person(self.entry.author) == as_person(by.author)


def waiting_proposals(register: Register, order: str) -> tuple[Proposal, ...]:
    """Return the proposals of an order that wait for approval: one, or after a merge several.

    One that another replaces, that was withdrawn, or since which the order got a release or a withdrawal, does not.
    """
    made = register.proposals.get(order, ())
    if not made or order in register.forks:
        return ()
    entries = register.by_order.get(order, ())
    last = entries[-1].record_digest if entries else ""
    waiting = (Proposal(entry, digest) for entry, digest in made if digest not in register.proposals_gone)
    return tuple(each for each in waiting if each.entry.previous_record_digest == last)


def answer_problems(
    register: Register, order: str, by: Signatures, packet_digest: str, *, in_two_steps: bool
) -> Iterator[Problem]:
    """Yield why a release of the packet ``packet_digest`` is not the answer to a proposal, where it must be one."""
    waiting = waiting_proposals(register, order)
    answered = [each for each in waiting if each.entry.packet_digest == packet_digest and each.agrees_with(by)]
    if answered:
        if by.must_sign and not any(each.entry.signature for each in answered):
            message = "the plant requires a signature, and the proposal has none"
            yield unplaced("order", order, message, "have its author propose it anew, with --key and --private")
        return
    if waiting:
        digests = ", ".join(short(each.entry.packet_digest) for each in waiting)
        message = f"a proposal waits that is not this packet, author, reason and day: {digests}"
        remedy = f"approve what is proposed, or withdraw it first: packets propose {order} --withdraw"
        yield unplaced("digest", short(packet_digest), message, remedy)
    elif in_two_steps:
        yield not_proposed(order)


def not_proposed(order: str) -> Problem:
    """Return why an order is not released, of which no proposal waits in a plant that releases in two steps."""
    message = "the plant releases in two steps, and no proposal of this order waits for approval"
    return unplaced("order", order, message, f"have its author propose it: packets propose {order}")
