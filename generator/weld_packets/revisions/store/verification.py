"""Find what is not as it was released: records, their order, register, signatures."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import agrees, short
from weld_packets.revisions.register.entries import RegisterEntry, SignedInline
from weld_packets.revisions.register.filed import FOLDER
from weld_packets.revisions.register.first_part import REGISTER
from weld_packets.revisions.register.forks import FORK_REMEDY, fork_message
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.integrity import (
    Finding,
    cell_findings,
    inline_findings,
    proposal_findings,
    public_key_path,
    record_findings,
)
from weld_packets.revisions.register.register import Register, read_register_state
from weld_packets.revisions.register.signing import can_sign
from weld_packets.revisions.status.nonconformities import nonconformity_findings
from weld_packets.revisions.status.record_rules import Rules, rule_findings, rule_notes
from weld_packets.revisions.store.files import (
    known_orders,
    listed_files,
    load_file,
    register_as_far,
    released_files,
)
from weld_packets.revisions.store.keys import key_fingerprints
from weld_packets.revisions.store.table_contents import kept_findings

# What a person typed, or pasted: a key with its whole fingerprint.
_KEY_LINE = re.compile(r"\s*key\s+([a-z0-9-]{1,64})\s+((?:[0-9A-Fa-f]\s*){64})")
_NOT_COMPARED = "neither records nor websites were compared, since the register cannot be read"


@dataclass(frozen=True)
class Verification:
    """What was compared, what differs (nothing, where all is well), and what could not be looked at.

    Where the register cannot be read, nothing can be compared with it. Where entries of it are missing or altered,
    ``uncompared`` are the orders of which nobody can say what was released.
    """

    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    register: Register
    orders: int
    is_readable: bool = True
    uncompared: frozenset[str] = frozenset()


def verify_records(instructions: Path, known: Sequence[str] = (), rules: Rules | None = None) -> Verification:
    """Compare everything below ``instructions`` with what was released, and with the ``rules`` of the plant.

    ``known`` are lines that were written down earlier: register digests, as ``register_state_text`` prints them, which
    show that the newest records were removed or replaced together with the register; and keys with their fingerprints.
    Raises PacketError for one that cannot be read.
    """
    keys = {text: found for text in known if (found := _KEY_LINE.fullmatch(text))}
    states = [read_register_state(text) for text in known if text not in keys]
    rules = rules or Rules()
    present = released_files(instructions)  # before the register, which may get an entry meanwhile, never after it
    try:
        register, missing = register_as_far(instructions)
    except PacketError as error:
        broken = [Finding(problem.place, problem.message) for problem in error.problems]
        return Verification(tuple(broken), (_NOT_COMPARED,), Register(), 0, is_readable=False)
    unlisted = {name: name.partition("/")[0] for name in sorted(present - listed_files(register).keys())}  # paths
    named = {each.order for each in missing}
    uncompared = named | (set(unlisted.values()) if missing else set())
    findings = (
        *(Finding(each.problem.place, each.problem.message) for each in missing),
        *_record_findings(instructions, register, uncompared),
        *(Finding(name, "is not in the register") for name, order in unlisted.items() if order not in named),
        *rule_findings(register, rules),
        *(_state_findings(register, states) if register.is_whole else ()),
        *_key_findings(instructions, [(found[1], found[2]) for found in keys.values()]),
    )
    orders = register.by_order.keys() | register.forks.keys()
    missed = sorted(uncompared & (orders | known_orders(instructions)))
    notes = (*_not_compared(register, missed, states), *_notes(register), *rule_notes(register, rules))
    return Verification(findings, notes, register, len(orders - uncompared), uncompared=frozenset(uncompared))


def _not_compared(register: Register, orders: Sequence[str], states: Sequence[object]) -> Iterator[str]:
    """Yield what could not be compared because entries of the register are missing or altered."""
    for order in orders:
        yield f"{order}: neither its records nor its website were compared, since entries of it are missing or altered"
    if states and not register.is_whole:
        yield "the register was not compared with lines noted earlier, since entries of it are missing or altered"


def _key_findings(instructions: Path, noted: Sequence[tuple[str, str]]) -> Iterator[Finding]:
    here = key_fingerprints(instructions) if noted else {}
    for name, digits in noted:
        found = here.get(name)
        if found is None:
            yield Finding(public_key_path(name), "is missing, and its fingerprint was noted")
        elif found != re.sub(r"\s", "", digits).lower():  # what a person typed
            yield Finding(public_key_path(name), "is not the key whose fingerprint was noted")


def _record_findings(instructions: Path, register: Register, uncompared: AbstractSet[str]) -> Iterator[Finding]:
    read = partial(load_file, instructions)
    for order, made in register.forks.items():
        if order in uncompared:
            continue
        yield Finding(f"{order}/released", f"{fork_message(made)}; {FORK_REMEDY}")
    if register.lines:
        for each in register.filed:
            if not each.after:
                yield Finding(
                    f"{FOLDER}/{each.name}", f"does not follow {REGISTER}, which was missing when it was made"
                )
    for entry in register.backward():
        yield Finding(f"{entry.order} {entry.kind}", f"is of {entry.at}, earlier than an entry before it")
    for order in sorted(register.by_order.keys() - uncompared):
        yield from record_findings(register, order, read)
    for order in sorted((register.set_ups.keys() | register.runs.keys()) - uncompared):
        yield from cell_findings(register, order, read)
    yield from kept_findings(instructions, register)
    yield from proposal_findings(register, read)
    unsettled = nonconformity_findings(register)
    yield from (Finding(order, message) for order, message in unsettled if order not in uncompared)
    yield from inline_findings(register, read)


def _state_findings(register: Register, states: Sequence[tuple[int, tuple[str, ...]]]) -> Iterator[Finding]:
    for records, digests in states:
        if records > len(register.listed):
            yield Finding(
                "the register", f"held {records} records when its digest was noted, now {len(register.listed)}"
            )
        elif not held(register, records, digests):
            noted = " + ".join(short(digest) for digest in digests)
            yield Finding(
                "the register", f"its first {records} records are not those whose digest was noted as {noted}"
            )


def held(register: Register, records: int, digests: Sequence[str]) -> bool:
    """Return whether the register once held so many entries under these digests."""
    if records <= len(register.first):
        before = register.digests[records - 1] if records else EMPTY
        return len(digests) == 1 and agrees(digests[0], before)
    heads = [[full for full in register.ancestry if agrees(digest, full)] for digest in digests]
    return all(len(found) == 1 for found in heads) and register.count(full for (full,) in heads) == records


def _notes(register: Register) -> Iterator[str]:
    for entry in register.wrong_clocks():
        yield f"{entry.path} is of {entry.at}, earlier than an entry before it: one of the two clocks was wrong"
    signed = (entry.signed_with for entry in register.listed if isinstance(entry, RegisterEntry | SignedInline))
    if not can_sign() and any(signed):
        yield "signatures were not checked: pip install 'weld-cell-packets[sign]'"
