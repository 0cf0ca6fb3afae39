"""Set aside a record that another branch made, or filed from a cell, in the place of one that counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from weld_packets.errors import PacketError, located, refuse, unplaced
from weld_packets.revisions.records.canonical import agrees, short
from weld_packets.revisions.register.entries import RegisterEntry, SetAsideEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import Signer, name_of, signed_by
from weld_packets.revisions.status.people import OF_RELEASE
from weld_packets.revisions.status.release_rules import (
    Signatures,
    clock_problems,
    people_problems,
    withdrawn_revisions,
)
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import commit, writing


@dataclass(frozen=True)
class SettingAside:
    """The record that is to be set aside, by its order and its digest, whole or short, and who answers for it."""

    order: str
    digest: str
    by: Signatures


def record_set_aside(
    instructions: Path, wanted: SettingAside, signer: Signer | None = None
) -> tuple[SetAsideEntry, Register]:
    """Record that a record, and those that follow it, do not count; return the entry and the register after it.

    Raises PacketError where the record is not one of those that were made in one place.
    """
    at, by = Disk(), wanted.by
    with located(file=str(instructions / wanted.order)), writing(instructions, at) as register:
        who = people_problems(by, OF_RELEASE, name_of(signer))
        refuse([*who, *clock_problems(by, register.last_at)])
        entry = SetAsideEntry(order=wanted.order, record_digests=_digests(register, wanted), **by.answered)
        entry = signed_by(signer, entry)
        return entry, commit(instructions, register, entry, {}, at)


def no_longer_withdrawn(register: Register, entry: SetAsideEntry) -> tuple[str, ...]:
    """Return the revisions whose withdrawal ``entry`` set aside, and that no other record withdraws."""
    still = withdrawn_revisions([each for each in register.entries if each.order == entry.order])
    gone = (each for each in register.every(entry.order) if each.record_digest in entry.record_digests)
    return tuple(each.revision for each in gone if each.kind == "withdrawal" and each.revision not in still)


def _digests(register: Register, wanted: SettingAside) -> tuple[str, ...]:
    """Return the digests of the record that is wanted and of those that follow it.

    Raises PacketError where it is not one of those that were made, or filed, in one place.
    """
    made = register.forks.get(wanted.order, ())
    found = [entry for entry in made if agrees(wanted.digest, entry.record_digest)]
    if len(found) == 1:
        return _with_followers(found[0], register.every(wanted.order))
    filed = [entry.file_digest for same in register.filed_twice(wanted.order) for entry in same]
    from_cell = [digest for digest in filed if agrees(wanted.digest, digest)]
    if len(from_cell) == 1:
        return (from_cell[0],)
    if made or filed:
        message = "is none of the records that were made in one place"
        digests = [*(entry.record_digest for entry in made), *filed]
        remedy = f"name one of: {', '.join(short(digest) for digest in digests)}"
    else:
        message = "no two branches made a record of this order in one place"
        remedy = "a record that counts is never set aside; withdraw its revision"
    raise PacketError([unplaced("digest", wanted.digest, message, remedy)])


def _with_followers(first: RegisterEntry, entries: Sequence[RegisterEntry]) -> tuple[str, ...]:
    digests = [first.record_digest]
    for entry in entries:
        if entry.previous_record_digest in digests and entry.record_digest not in digests:
            digests.append(entry.record_digest)
    return tuple(digests)
