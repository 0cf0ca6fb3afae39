"""File the records of set-ups and runs beside their orders, under the register's protection."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from weld_packets.errors import PacketError, Problem, located, refuse, unplaced
from weld_packets.packet.forms import run_form
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.archive import Archive, packet_of, released_packet
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.record import Code, moment_text
from weld_packets.revisions.register.entries import FiledEntry, RegisterEntry, RunEntry, SetUpEntry
from weld_packets.revisions.register.integrity import cell_findings, record_findings, refuse_altered
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.set_ups.checks import set_up_problems
from weld_packets.revisions.set_ups.from_cell import head_problems, of_release, release_of, turned_text_problems
from weld_packets.revisions.set_ups.record import SetUp, json_of, read_form, read_set_up, set_up_bytes
from weld_packets.revisions.set_ups.run_checks import OfRun, run_problems
from weld_packets.revisions.set_ups.run_record import RUN_FORM, Run, run_bytes
from weld_packets.revisions.status.release_rules import CLOCK_ALLOWANCE, ahead_problems
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import archive_for, commit, writing


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
    refuse(ahead_problems("filed on", at, machine_clock, allowance))
    with located(file=shown):
        kept = _read(data, shown)
        content = set_up_bytes(kept) if isinstance(kept, SetUp) else run_bytes(kept)
        with writing(instructions, Disk()) as register:
            archive = archive_for(register, instructions)
            before = _filed(register, kept, content)
            if before is not None:
                packet = released_packet(archive, kept.slug, before.revision)
                return FiledRecord(kept, before, register, packet, already=True)
            order = (register, kept.slug, archive.read)
            refuse_altered([*record_findings(*order), *cell_findings(*order)])
            packet, revision = _checked(archive, kept, at)
            entry = _entry(kept, revision, moment_text(at), code, sha256(content))
            after = commit(instructions, register, entry, {entry.path: content}, Disk())
            return FiledRecord(kept, entry, after, packet)


def _read(data: bytes, shown: str) -> SetUp | Run:
    content = json_of(data, shown)
    is_run = isinstance(content, dict) and content.get("form") == RUN_FORM
    return read_form(Run, data, shown) if is_run else read_set_up(data, shown)


def _entry(kept: SetUp | Run, revision: str, filed_at: str, code: Code, digest: str) -> FiledEntry:
    shared: dict[str, Any] = {
        "order": kept.slug, "id": kept.id, "revision": revision, "filed_at": filed_at, "code": code,
        "file_digest": digest,
    }  # fmt: skip
    return RunEntry(**shared) if isinstance(kept, Run) else SetUpEntry(**shared, operation=kept.operation)


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


def _checked(archive: Archive, kept: SetUp | Run, at: datetime) -> tuple[Packet, str]:
    """Return packet and revision of a record; raise PacketError with everything in it that cannot be so."""
    entries = archive.register.of(kept.slug)
    entry = release_of(kept, entries)
    if isinstance(entry, Problem):
        raise PacketError([entry])
    packet = packet_of(archive, entry)
    refuse(turned_text_problems(kept))
    if isinstance(kept, Run):
        problems = [
            *head_problems(kept, entry, packet),
            *run_problems(kept, _of_run(archive, entries, packet), at),
        ]
    else:
        of = of_release(kept, entries, entry, packet)
        problems = of if isinstance(of, list) else set_up_problems(kept, of, at)
    refuse(problems)
    return packet, entry.revision


def _of_run(archive: Archive, entries: tuple[RegisterEntry, ...], packet: Packet) -> OfRun:
    releases = (entry for entry in entries if entry.kind == "release")
    forms = {entry.revision: run_form(packet_of(archive, entry)) for entry in releases}
    return OfRun(entries, forms, packet.head.quantity)
