"""Release a packet as the next revision, and withdraw one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from weld_packets.errors import Problem, located, refusal, refuse, unplaced
from weld_packets.packet.records.values import TableUse
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.record import RevisionRecord, TableState, record_bytes
from weld_packets.revisions.register.entries import RegisterEntry, entry_of
from weld_packets.revisions.register.integrity import (
    inline_findings,
    proposal_findings,
    record_findings,
    refuse_altered,
)
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import Signer, name_of
from weld_packets.revisions.status.nonconformities import correction_problems, nonconformities_of
from weld_packets.revisions.status.proposals import answer_problems
from weld_packets.revisions.status.release_rules import (
    Release,
    Signatures,
    Withdrawal,
    release_problems,
    withdrawal_problems,
)
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import commit, known_orders, load_file, unlisted, writing
from weld_packets.revisions.store.nonconforming import stated, uncorrected_problems
from weld_packets.revisions.store.table_contents import new_contents

_Given = tuple[Signer | None, Mapping[str, bytes]]
"""Who signs the record, and what its tables held, by file."""
LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""The alphabet without I, O, Q, S, X and Z."""

REVISION_LETTERS: tuple[str, ...] = (*LETTERS, *(first + second for first in LETTERS for second in LETTERS))
"""All 420 revisions in the order in which they are used."""


def next_letter(last: str) -> str:
    """Return the letters after ``last``; the first one after an empty text.

    Raises OutOfRangeError for a text that is not a revision letter, and after the last one.
    """
    following = position(last) + 1 if last else 0
    if following == len(REVISION_LETTERS):
        raise refusal("all revision letters from A to YY are used", "start a new order number", value=last)
    return REVISION_LETTERS[following]


def position(letter: str) -> int:
    """Return the place of ``letter`` in the sequence, from 0.

    Raises OutOfRangeError for a text that is not a revision letter.
    """
    if letter not in REVISION_LETTERS:
        raise refusal(
            "this is not a revision letter", "use A to Y or AA to YY without the letters I, O, Q, S, X, Z", value=letter
        )
    return REVISION_LETTERS.index(letter)


@dataclass(frozen=True)
class Published:
    """What was recorded, and the register after it, to be written down elsewhere."""

    entry: RegisterEntry
    register: Register


def record_release(
    instructions: Path, wanted: Release, signer: Signer | None = None, disk: Disk | None = None
) -> Published:
    """Freeze a packet as the next revision of its order.

    Raises PacketError with every reason against it, and while another release is being written.
    """
    order, at = wanted.packet.head.slug, disk or Disk()
    with located(file=str(instructions / order)), writing(instructions, at) as register:
        refuse(recorded_meanwhile(wanted, register))
        entries = register.of(order)
        key = name_of(signer)
        digest = packet_digest(wanted.packet)
        refuse(
            [
                *release_problems(wanted, entries, known_orders(instructions), register.last_at, key),
                *answer_problems(register, order, wanted.by, digest, in_two_steps=wanted.in_two_steps),
                *correction_problems(wanted.corrects, nonconformities_of(register, order)),
                *uncorrected_problems(instructions, register, wanted.packet),
            ]
        )
        _refuse_broken(instructions, register, order)
        record = _release_record(wanted, entries, register)
        kept = [wanted.contents[use.table] for use in wanted.packet.cited if use.table in wanted.contents]
        return _publish(instructions, record, register, (signer, new_contents(instructions, kept)), at)


def record_withdrawal(instructions: Path, wanted: Withdrawal, signer: Signer | None = None) -> Published:
    """Record that a released revision is not to be used any more; no other revision comes back in its place.

    Raises PacketError with every reason against it, and while another release is being written.
    """
    at = Disk()
    with located(file=str(instructions / wanted.order)), writing(instructions, at) as register:
        entries = register.of(wanted.order)
        refuse(withdrawal_problems(wanted, entries, name_of(signer)))
        _refuse_broken(instructions, register, wanted.order)
        found = stated(instructions, register, wanted.order, wanted.revision, wanted.reported)
        record = _record(
            wanted.by, entries, register, kind="withdrawal", order=wanted.order, revision=wanted.revision,
            sources=(), tables=(), packet=None, packet_digest="", nonconformity=found,
        )  # fmt: skip
        return _publish(instructions, record, register, (signer, {}), at)


def recorded_meanwhile(wanted: Release, register: Register) -> Iterator[Problem]:
    """Yield a problem where something was recorded since the packet was compared with other orders and approvals."""
    if wanted.seen is not None and wanted.seen != register.state:
        message = "something was recorded while the packet was compared with other orders and approvals"
        yield unplaced("order", wanted.packet.head.slug, message, "run the command again")


def _release_record(wanted: Release, entries: tuple[RegisterEntry, ...], register: Register) -> RevisionRecord:
    used = [entry.revision for entry in register.every(wanted.packet.head.slug) if entry.kind == "release"]
    return _record(
        wanted.by, entries, register, kind="release", order=wanted.packet.head.slug,
        revision=next_letter(max(used, key=position) if used else ""), sources=wanted.sources,
        tables=tuple(_state(use, wanted) for use in wanted.packet.cited), packet=wanted.packet,
        packet_digest=packet_digest(wanted.packet), corrects=wanted.corrects,
    )  # fmt: skip


def _record(
    by: Signatures, entries: tuple[RegisterEntry, ...], register: Register, **content: object
) -> RevisionRecord:
    return RevisionRecord.model_validate({
        **content,
        "sequence": len(entries) + 1,
        "effective": by.effective,
        **by.answered,
        "previous_record_digest": entries[-1].record_digest if entries else "",
        "register_before": register.state,
    })  # fmt: skip


def _publish(instructions: Path, record: RevisionRecord, register: Register, given: _Given, disk: Disk) -> Published:
    signer, contents = given
    data = record_bytes(record)
    content, signing = signer.sign(data) if signer else (b"", None)
    entry = entry_of(record, data, signing)
    files = {entry.path: data} | ({entry.signature_path: content} if signing else {})
    return Published(entry, commit(instructions, register, entry, {**contents, **files}, disk))


def _state(use: TableUse, wanted: Release) -> TableState:
    content = wanted.contents.get(use.table)
    return TableState(
        table=use.table,
        revision=use.revision,
        approved_by=use.approved_by,
        approved_on=use.approved_on,
        content_digest=content.digest if content else "",
    )


def _refuse_broken(instructions: Path, register: Register, order: str) -> None:
    read = partial(load_file, instructions)
    refuse_altered([
        *record_findings(register, order, read),
        *proposal_findings(register, read, order),
        *inline_findings(register, read, order),
    ])  # fmt: skip
    refuse(unlisted(instructions, register, order))
