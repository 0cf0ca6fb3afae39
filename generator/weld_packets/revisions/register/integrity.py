"""What differs between an order's record files and the register; reads through a function, writes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from weld_packets.errors import PacketError, Problem, refuse
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import RevisionRecord, packet_bytes, read_cover, read_moment
from weld_packets.revisions.register.entries import (
    FiledEntry,
    InlineSignature,
    ProposalEntry,
    RegisterEntry,
    SetUpEntry,
    SignedInline,
    Signing,
    entry_of,
)
from weld_packets.revisions.register.filed import FOLDER
from weld_packets.revisions.register.forks import FILED_FORK_REMEDY, filed_fork_message
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import can_sign, holds, public_pem, read_signature
from weld_packets.revisions.set_ups.record import read_form, read_set_up
from weld_packets.revisions.set_ups.run_record import Run
from weld_packets.units.zones import day_at

ReadFile = Callable[[str, str], bytes | None]
"""Returns the file of a name below the instructions folder, given the digest that is listed for it."""


@dataclass(frozen=True, order=True)
class Finding:
    """One thing that is not as it was released: the file, and how it differs."""

    file: str
    message: str

    def __str__(self) -> str:
        """Return both in a line."""
        return f"{self.file}: {self.message}"


def refuse_altered(findings: Iterable[Finding]) -> None:
    """Raise PacketError where anything that a record would be added to is not as it was."""
    remedy = "restore what was altered; nothing is added on top of it"
    refuse(Problem(finding.file, 0, "", "", finding.message, remedy) for finding in findings)


def public_key_path(key: str) -> str:
    """Return the file of a public key below the instructions folder."""
    return f"keys/{key}.pub"


def record_findings(register: Register, order: str, read: ReadFile) -> list[Finding]:
    """Return what differs in the records of ``order``: files, links, places in the register, signatures."""
    findings: list[Finding] = []
    previous = ""
    for sequence, entry in enumerate(register.of(order), start=1):
        data, faults = _read(read, entry.path, entry.record_digest)
        messages = faults or list(_messages(entry, data, sequence, previous, register))
        findings += [Finding(entry.path, message) for message in messages]
        findings += _signature_findings(entry, data or b"", read)
        previous = sha256(data or b"")
    return findings


def cell_findings(register: Register, order: str, read: ReadFile) -> list[Finding]:
    """Return what differs in the records from the cells of ``order``: files, and what they say of themselves."""
    made = register.filed_twice(order)
    forked = [Finding(same[0].path, f"{filed_fork_message(same)}; {FILED_FORK_REMEDY}") for same in made]
    several = {entry for same in made for entry in same}
    single = (entry for entry in register.filed_from_cells(order) if entry not in several)
    found = ((entry, *_read(read, entry.path, entry.file_digest)) for entry in single)
    return forked + [
        Finding(entry.path, message)
        for entry, data, faults in found
        for message in faults or _cell_messages(entry, data)
    ]


def _read(read: ReadFile, path: str, digest: str) -> tuple[bytes | None, list[str]]:
    """Return the file of a name, and why it cannot be read: a link, a folder, a pipe."""
    try:
        return read(path, digest), []
    except PacketError as error:
        return None, [problem.message for problem in error.problems]


def _cell_messages(entry: FiledEntry, data: bytes | None) -> Iterator[str]:
    if data is None:
        yield "is missing"
    elif sha256(data) != entry.file_digest:
        yield f"is altered: its SHA-256 is {sha256(data)}, the register says {entry.file_digest}"
    else:
        try:
            said = _said_by(entry, data)
        except PacketError as error:
            yield from (f"{problem.key}: {problem.message}" for problem in error.problems)
            return
        listed = (entry.operation,) if isinstance(entry, SetUpEntry) else ()
        if said != (entry.order, entry.id, entry.revision, *listed):
            yield "says other things of itself than the register says"


def _said_by(entry: FiledEntry, data: bytes) -> tuple[object, ...]:
    """Return what a record from a cell says of itself, as the register lists it."""
    if isinstance(entry, SetUpEntry):
        set_up = read_set_up(data, entry.path)
        return set_up.slug, set_up.id, set_up.revision, set_up.operation
    run = read_form(Run, data, entry.path)
    return run.slug, run.id, run.revision


def _messages(
    entry: RegisterEntry, data: bytes | None, sequence: int, previous: str, register: Register
) -> Iterator[str]:
    if entry.sequence != sequence:
        yield f"is number {entry.sequence} of its order in the register, but number {sequence} in fact"
    if data is None:
        yield "is missing"
    elif sha256(data) != entry.record_digest:
        yield _altered(entry, sha256(data), register)
    else:
        yield from _content_messages(entry, data, previous, register)


def _altered(entry: RegisterEntry, found: str, register: Register) -> str:
    owner = next((other.path for other in register.entries if other.record_digest == found), "")
    if owner:
        return f"holds the record that belongs in {owner}"
    return f"is altered: its SHA-256 is {found}, the register says {entry.record_digest}"


def _content_messages(entry: RegisterEntry, data: bytes, previous: str, register: Register) -> Iterator[str]:
    try:
        record = read_cover(data, entry.path)
    except PacketError as error:
        yield from (f"{problem.key}: {problem.message}" for problem in error.problems)
        return
    if entry_of(record, data, entry.signing) != entry:
        yield "says other things of itself than the register says"
    if record.previous_record_digest != previous:
        yield "does not continue the record before it, which is altered, missing or replaced"
    if record.packet_digest != _packet_sha256(record, data):
        yield "holds another packet than its digest says"
    if register.is_whole:
        yield from _place_messages(entry, record, register)
    yield from _late_approvals(record)


def _late_approvals(record: RevisionRecord) -> Iterator[str]:
    day = day_at(read_moment(record.recorded_at), record.effective.zone).isoformat()
    for table in record.tables:
        if table.approved_on > day:
            yield f"rests on table {table.table}, approved on {table.approved_on}, after the day of the record, {day}"


def _packet_sha256(record: RevisionRecord, data: bytes) -> str:
    packet = packet_bytes(data)
    return "" if (record.kind, packet) == ("withdrawal", b"null") else sha256(packet)


def _place_messages(entry: RegisterEntry, record: RevisionRecord, register: Register) -> Iterator[str]:
    before = register.state_before(register.places[entry.path])
    if record.register_before != before:
        stated, now = record.register_before.records, before.records
        yield f"was made when the register held {stated} other records than the {now} that are before it now"


def _signature_findings(entry: RegisterEntry, data: bytes, read: ReadFile) -> Iterator[Finding]:
    if entry.signing is None:
        return
    content, faults = _read(read, entry.signature_path, entry.signing.sha256)
    if faults:
        yield from (Finding(entry.signature_path, message) for message in faults)
    elif content is None:
        yield Finding(entry.signature_path, "is missing")
    elif sha256(content) != entry.signing.sha256:
        yield Finding(entry.signature_path, "is altered")
    elif can_sign() and not _signed(entry.signing.public_key, content, data):
        yield Finding(entry.signature_path, f"is not a signature of {entry.path} by the key {entry.signing.key}")
    yield from _key_findings(entry.signing, entry.path, read)


def proposal_findings(register: Register, read: ReadFile, order: str = "") -> Iterator[Finding]:
    """Yield each proposed packet, of all orders or of one, that is missing or altered."""
    for entry in register.listed:
        if isinstance(entry, ProposalEntry) and order in ("", entry.order):
            yield from content_findings(read, entry.path, entry.packet_digest)


def content_findings(read: ReadFile, path: str, digest: str) -> Iterator[Finding]:
    """Yield why a file that is named by the digest of what it holds is not that: missing, altered, not to be read."""
    data, faults = _read(read, path, digest)
    yield from (Finding(path, message) for message in faults)
    if data is None and not faults:
        yield Finding(path, "is missing")
    elif data is not None and sha256(data) != digest:
        yield Finding(path, "is altered: its name is not the SHA-256 of what it holds")


def inline_findings(register: Register, read: ReadFile, order: str = "") -> Iterator[Finding]:
    """Yield each approval of tables and each proposal whose signature is not that of its key, and each missing key.

    With ``order`` only proposals of that order are looked at.
    """
    for each in register.filed:
        entry = each.entry
        if not isinstance(entry, SignedInline) or entry.signature is None or order not in ("", entry.order):
            continue
        signature, shown = entry.signature, f"{FOLDER}/{each.name}"
        public = bytes.fromhex(signature.public_key)
        if can_sign() and not holds(public, bytes.fromhex(signature.signature), entry.signed_bytes):
            yield Finding(shown, f"holds no signature of itself by the key {signature.key}")
        yield from _key_findings(signature, shown, read)


def _key_findings(used: Signing | InlineSignature, shown: str, read: ReadFile) -> Iterator[Finding]:
    path = public_key_path(used.key)
    key, _ = _read(read, path, "")
    if key is None or (can_sign() and key != public_pem(bytes.fromhex(used.public_key))):
        yield Finding(path, f"is missing or not the key that signed {shown}")


def _signed(public_key: str, content: bytes, data: bytes) -> bool:
    signature = read_signature(content)
    if signature is None or signature.public_key != public_key:
        return False
    try:
        return holds(bytes.fromhex(public_key), bytes.fromhex(signature.signature), data)
    except ValueError:
        return False
