"""File the records of set-ups and runs beside their orders, under the register's protection."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from weld_packets.errors import PacketError, Problem, located, refuse, unplaced
from weld_packets.packet.forms import run_form
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.archive import packet_of, released_packet
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import Code, moment_text
from weld_packets.revisions.register.entries import FiledEntry, RegisterEntry, RunEntry, SetUpEntry
from weld_packets.revisions.register.integrity import cell_findings, record_findings
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.set_ups.checks import set_up_problems
from weld_packets.revisions.set_ups.from_cell import head_problems, release_of, turned_text_problems
from weld_packets.revisions.set_ups.of_release import of_release
from weld_packets.revisions.set_ups.record import SetUp, json_of, read_form, read_set_up, set_up_bytes
from weld_packets.revisions.set_ups.run_checks import OfRun, run_problems
from weld_packets.revisions.set_ups.run_record import RUN_FORM, Run, run_bytes
from weld_packets.revisions.status.release_rules import CLOCK_ALLOWANCE, ahead_problems
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import commit, load_file, open_archive, writing


@dataclass(frozen=True)
class FiledRecord:
    """A record from a cell that is filed, with the packet that it is of.

    ``already`` where this very record was filed before.
    """

    kept: SetUp | Run
    entry: FiledEntry
    register: Register
    packet: Packet
    already: bool = False


def file_from_cell(
    instructions: Path,
    data: bytes,
    shown: str,
    *,
    at: datetime,
    code: Code,
    machine_clock: datetime | None = None,
    allowance: timedelta = CLOCK_ALLOWANCE,
) -> FiledRecord:
    """File the record of a set-up or a run in ``data`` beside its order; ``shown`` names its file in messages.

    It may be filed as much as ``allowance`` after ``machine_clock``, where that is known. Raises PacketError with
    everything that speaks against it, and while another record is being written.
    """
    if ahead := list(ahead_problems("filed on", at, machine_clock, allowance)):
        raise PacketError(ahead)
    with located(file=shown):
        kept = _read(data, shown)
        content = set_up_bytes(kept) if isinstance(kept, SetUp) else run_bytes(kept)
        with writing(instructions, Disk()) as register:
            before = _filed(register, kept, content)
            if before is not None:
                packet = released_packet(open_archive(instructions), kept.slug, before.revision)
                return FiledRecord(kept, before, register, packet, already=True)
            _refuse_broken(instructions, register, kept.slug)
            packet, revision = _checked(instructions, register, kept, at)
            entry = _entry(kept, revision, moment_text(at), code, sha256(content))
            after = register.with_entry(entry)
            commit(instructions, {entry.path: content}, after, Disk())
            return FiledRecord(kept, entry, after, packet)


def _read(data: bytes, shown: str) -> SetUp | Run:
    content = json_of(data, shown)
    is_run = isinstance(content, dict) and content.get("form") == RUN_FORM
    return read_form(Run, data, shown) if is_run else read_set_up(data, shown)


def _entry(kept: SetUp | Run, revision: str, filed_at: str, code: Code, digest: str) -> FiledEntry:
    if isinstance(kept, Run):
        return RunEntry(
            order=kept.slug, id=kept.id, revision=revision, filed_at=filed_at, code=code, file_digest=digest
        )
    return SetUpEntry(
        order=kept.slug,
        id=kept.id,
        operation=kept.operation,
        revision=revision,
        filed_at=filed_at,
        code=code,
        file_digest=digest,
    )


def _filed(register: Register, kept: SetUp | Run, content: bytes) -> FiledEntry | None:
    """Return the entry of this very record; raise PacketError where another one of the same identifier is filed."""
    of_orders = register.set_ups if isinstance(kept, SetUp) else register.runs
    entry = next((entry for entries in of_orders.values() for entry in entries if entry.id == kept.id), None)
    if entry is None or entry.file_digest == sha256(content):
        return entry
    what = "set-up" if isinstance(kept, SetUp) else "run"
    message = f"another record of this {what} is filed: {entry.path}, on {entry.filed_at}"
    remedy = f"a {what} is filed once, when it is finished; begin a new one for what was done later"
    raise PacketError([unplaced("id", kept.id, message, remedy)])


def _checked(instructions: Path, register: Register, kept: SetUp | Run, at: datetime) -> tuple[Packet, str]:
    """Return packet and revision of a record; raise PacketError with everything in it that cannot be so."""
    entries = register.of(kept.slug)
    entry = release_of(kept, entries)
    if isinstance(entry, Problem):
        raise PacketError([entry])
    packet = _packet(instructions, entry)
    refuse(turned_text_problems(kept))
    if isinstance(kept, Run):
        problems = [
            *head_problems(kept, entry, packet),
            *run_problems(kept, _of_run(instructions, entries, packet), at),
        ]
    else:
        of = of_release(kept, entries, entry, packet)
        problems = of if isinstance(of, list) else set_up_problems(kept, of, at)
    if problems:
        raise PacketError(problems)
    return packet, entry.revision


def _of_run(instructions: Path, entries: tuple[RegisterEntry, ...], packet: Packet) -> OfRun:
    releases = (entry for entry in entries if entry.kind == "release")
    forms = {entry.revision: run_form(_packet(instructions, entry)) for entry in releases}
    return OfRun(entries, forms, packet.head.quantity)


def _packet(instructions: Path, entry: RegisterEntry) -> Packet:
    return packet_of(open_archive(instructions), entry)


def _refuse_broken(instructions: Path, register: Register, order: str) -> None:
    """Refuse to add to records that are not as they were filed."""

    def read(name: str, digest: str) -> bytes | None:
        return load_file(instructions, name, digest)

    findings = (*record_findings(register, order, read), *cell_findings(register, order, read))
    remedy = "restore what was altered; nothing is added on top of it"
    if findings:
        raise PacketError(Problem(finding.file, 0, "", "", finding.message, remedy) for finding in findings)
