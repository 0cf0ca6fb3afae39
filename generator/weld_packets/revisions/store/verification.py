"""Find what is not as it was released: records, their order, register, signatures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from weld_packets.errors import PacketError, Problem
from weld_packets.revisions.records.canonical import agrees, short
from weld_packets.revisions.records.record import RegisterState
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.integrity import Finding, record_findings, set_up_findings
from weld_packets.revisions.register.register import REGISTER, Register, read_register_state
from weld_packets.revisions.register.signing import can_sign
from weld_packets.revisions.store.files import listed_files, load_file, load_register, released_files


@dataclass(frozen=True)
class Verification:
    """What was compared, what differs (nothing, where all is well), and what could not be looked at."""

    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    register: RegisterState
    orders: int


def verify_records(instructions: Path, known: Sequence[str] = ()) -> Verification:
    """Compare everything below ``instructions`` with what was released.

    ``known`` are register digests that were written down earlier, as ``register_state_text`` prints them: they show
    that the newest records were removed or replaced together with the register.
    Raises PacketError for one that cannot be read.
    """
    states = [read_register_state(text) for text in known]
    try:
        register = load_register(instructions)
    except PacketError as error:
        broken = [Finding(_line(problem), problem.message) for problem in error.problems]
        return Verification(tuple(broken), (), Register().state, 0)
    findings = (*_record_findings(instructions, register), *_state_findings(register, states))
    return Verification(findings, tuple(_notes(register)), register.state, len(register.by_order))


def _record_findings(instructions: Path, register: Register) -> Iterator[Finding]:
    read = partial(load_file, instructions)
    for order in register.by_order:
        yield from record_findings(register, order, read)
    for order in register.set_ups:
        yield from set_up_findings(register, order, read)
    for name in sorted(released_files(instructions) - listed_files(register).keys()):
        yield Finding(name, "is not in the register")


def _state_findings(register: Register, states: Sequence[tuple[int, str]]) -> Iterator[Finding]:
    for records, digest in states:
        if records > len(register.lines):
            yield Finding(REGISTER, f"held {records} records when its digest was noted, now {len(register.lines)}")
        elif not agrees(digest, register.digests[records - 1] if records else EMPTY):
            yield Finding(
                REGISTER, f"its first {records} records are not those whose digest was noted as {short(digest)}"
            )


def _notes(register: Register) -> Iterator[str]:
    if not can_sign() and any(entry.signing for entry in register.entries):
        yield "signatures were not checked: pip install 'weld-cell-packets[sign]'"


def _line(problem: Problem) -> str:
    return f"{problem.file}:{problem.line}"
