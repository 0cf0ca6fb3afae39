"""File set-up records beside their orders, under the register's protection; and read what is filed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from weld_packets.errors import PacketError, Problem, located
from weld_packets.packet.records import Packet
from weld_packets.revisions.queries.archive import packet_of
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import Code, moment_text
from weld_packets.revisions.register.entries import RegisterEntry, SetUpEntry
from weld_packets.revisions.register.integrity import record_findings, set_up_findings
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.set_ups.checks import of_release, release_of, set_up_problems
from weld_packets.revisions.set_ups.record import SetUp, read_set_up, set_up_bytes
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import commit, load_file, open_archive, writing


@dataclass(frozen=True)
class Filed:
    """A set-up record that is filed; ``already`` where this very record was filed before."""

    set_up: SetUp
    entry: SetUpEntry
    register: Register
    already: bool = False


def file_set_up(
    instructions: Path, data: bytes, shown: str, *, at: datetime, code: Code, disk: Disk | None = None
) -> Filed:
    """File the set-up record in ``data`` beside its order; ``shown`` names its file in messages.

    Raises PacketError with everything that speaks against it, and while another record is being written.
    """
    with located(file=shown):
        set_up = read_set_up(data, shown)
        with writing(instructions, disk or Disk()) as register:
            kept = set_up_bytes(set_up)
            before = _filed(register, set_up, kept)
            if before is not None:
                return Filed(set_up, before, register, already=True)
            _refuse_broken(instructions, register, set_up.slug)
            release = _checked(instructions, register, set_up, at)
            entry = SetUpEntry(
                order=set_up.slug,
                id=set_up.id,
                operation=set_up.operation,
                revision=release.revision,
                filed_at=moment_text(at),
                code=code,
                file_digest=sha256(kept),
            )
            after = register.with_entry(entry)
            commit(instructions, {entry.path: kept}, after, disk or Disk())
            return Filed(set_up, entry, after)


def _filed(register: Register, set_up: SetUp, kept: bytes) -> SetUpEntry | None:
    """Return the entry of this very record; raise PacketError where another one of the same identifier is filed."""
    same = (entry for entries in register.set_ups.values() for entry in entries if entry.id == set_up.id)
    entry = next(same, None)
    if entry is None or entry.file_digest == sha256(kept):
        return entry
    message = f"another record of this set-up is filed: {entry.path}, on {entry.filed_at}"
    remedy = "a set-up is filed once, when it is finished; begin a new one for what was done later"
    raise PacketError([Problem("", 0, "id", set_up.id, message, remedy)])


def _checked(instructions: Path, register: Register, set_up: SetUp, at: datetime) -> RegisterEntry:
    """Return the release that a set-up belongs to; raise PacketError with everything that cannot be so."""
    entries = register.of(set_up.slug)
    entry = release_of(set_up, entries)
    if isinstance(entry, Problem):
        raise PacketError([entry])
    of = of_release(set_up, entries, entry, _packet(instructions, entry))
    problems = of if isinstance(of, list) else set_up_problems(set_up, of, at)
    if problems:
        raise PacketError(problems)
    return entry


def _packet(instructions: Path, entry: RegisterEntry) -> Packet:
    return packet_of(open_archive(instructions), entry)


def _refuse_broken(instructions: Path, register: Register, order: str) -> None:
    """Refuse to add to records that are not as they were filed."""

    def read(name: str, digest: str) -> bytes | None:
        return load_file(instructions, name, digest)

    findings = (*record_findings(register, order, read), *set_up_findings(register, order, read))
    remedy = "restore what was altered; nothing is added on top of it"
    if findings:
        raise PacketError(Problem(finding.file, 0, "", "", finding.message, remedy) for finding in findings)
