"""The register over all orders: one line for each record, in the order of their making, under one digest.

The file is JSON lines: a first line with the number of records and the register digest over the lines below it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Literal, TypeVar

from pydantic import StringConstraints, ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records import Plain
from weld_packets.revisions.records.canonical import SHORT_DIGEST, canonical, sha256, short
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import (
    Code,
    Digest,
    Moment,
    OrderSlug,
    RecordKind,
    RegisterState,
    RevisionLetter,
    RevisionRecord,
    SetUpId,
    record_name,
)
from weld_packets.revisions.records.versions import RECORD_VERSION, RecordVersion, is_older, upgraded_line
from weld_packets.revisions.register.hash_tree import tree_digest, tree_digests

REGISTER = "register.jsonl"
SET_UPS = "set-ups"
_STATE = re.compile(r"\s*([0-9]{1,9})\s*:\s*([0-9A-Fa-f\s-]+)")  # what a person typed from a page

KeyName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]
_Line = TypeVar("_Line", bound=Plain)


class Signing(Plain):
    """The signature beside a record: the plant's name for the key, the public key, the SHA-256 of the file."""

    key: KeyName
    public_key: Digest
    sha256: Digest


class RegisterEntry(Plain):
    """One record as the register lists it: everything but packet and sources, and the SHA-256 of its file."""

    record_version: RecordVersion = RECORD_VERSION
    kind: RecordKind
    order: OrderSlug
    sequence: int
    revision: RevisionLetter
    effective: Effective
    author: str
    approver: str
    reason: str
    recorded_at: Moment
    code: Code
    tables: tuple[tuple[str, str], ...]
    packet_digest: Digest | Literal[""]
    previous_record_digest: Digest | Literal[""]
    record_digest: Digest
    signing: Signing | None

    @property
    def path(self) -> str:
        """Return the file of the record below the instructions folder."""
        return f"{self.order}/released/{record_name(self.kind, self.revision)}"

    @property
    def signature_path(self) -> str:
        """Return the file of its signature."""
        return self.path.removesuffix(".json") + ".sig"  # a path


class _FirstLine(Plain):
    register_version: Literal[1] = 1
    records: int
    register_digest: Digest


class SetUpEntry(Plain):
    """One set-up record as the register lists it: to which revision it belongs, and the SHA-256 of its file."""

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["set-up"] = "set-up"
    order: OrderSlug
    id: SetUpId
    operation: int
    revision: RevisionLetter
    filed_at: Moment
    code: Code
    file_digest: Digest

    @property
    def path(self) -> str:
        """Return the file of the record below the instructions folder."""
        return f"{self.order}/{SET_UPS}/{self.id}.json"


@dataclass(frozen=True)
class Register:
    """All that the register lists, in the order of filing, with the lines that spell it."""

    listed: tuple[RegisterEntry | SetUpEntry, ...] = ()
    lines: tuple[bytes, ...] = ()

    @cached_property
    def entries(self) -> tuple[RegisterEntry, ...]:
        """Return releases and withdrawals."""
        return tuple(entry for entry in self.listed if isinstance(entry, RegisterEntry))

    @cached_property
    def set_ups(self) -> Mapping[str, tuple[SetUpEntry, ...]]:
        """Return the set-up records of each order, in the order of filing."""
        gathered: dict[str, list[SetUpEntry]] = {}
        for entry in self.listed:
            if isinstance(entry, SetUpEntry):
                gathered.setdefault(entry.order, []).append(entry)
        return {order: tuple(entries) for order, entries in sorted(gathered.items())}

    @cached_property
    def digest(self) -> str:
        """Return the digest over all lines."""
        return tree_digest(self.lines)

    @cached_property
    def digests(self) -> tuple[str, ...]:
        """Return the digest over the lines down to each."""
        return tuple(tree_digests(self.lines))

    @property
    def state(self) -> RegisterState:
        """Return number of records and digest, which the next record carries."""
        return RegisterState(records=len(self.lines), register_digest=self.digest)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Return the place of each record among all, by its file."""
        return {entry.path: at for at, entry in enumerate(self.listed)}

    @cached_property
    def by_order(self) -> Mapping[str, tuple[RegisterEntry, ...]]:
        """Return the entries of each order, oldest first."""
        gathered: dict[str, list[RegisterEntry]] = {}
        for entry in self.entries:
            gathered.setdefault(entry.order, []).append(entry)
        return {order: tuple(entries) for order, entries in sorted(gathered.items())}

    def of(self, order: str) -> tuple[RegisterEntry, ...]:
        """Return the entries of one order, oldest first; none for an order without releases."""
        return self.by_order.get(order, ())

    def with_entry(self, entry: RegisterEntry | SetUpEntry) -> Register:
        """Return the register with one more record."""
        return Register((*self.listed, entry), (*self.lines, canonical(entry.model_dump(mode="json"))))


def entry_of(record: RevisionRecord, data: bytes, signing: Signing | None) -> RegisterEntry:
    """Return the entry for ``record``, whose file holds ``data``."""
    shared = record.model_dump(include=set(RegisterEntry.model_fields) - {"tables", "record_digest", "signing"})
    tables = tuple((table.table, table.revision) for table in record.tables)
    return RegisterEntry(**shared, tables=tables, record_digest=sha256(data), signing=signing)


def register_bytes(register: Register) -> bytes:
    """Return the register as its file holds it."""
    first = canonical(_FirstLine(records=len(register.lines), register_digest=register.digest).model_dump())
    return b"".join(line + b"\n" for line in (first, *register.lines))


def read_register(data: bytes) -> Register:
    """Return the register in ``data``; line ends of another system are accepted.

    Raises PacketError where the file is not what the program writes, or its digest does not fit its lines.
    """
    first, *lines = data.replace(b"\r\n", b"\n").removesuffix(b"\n").split(b"\n")  # a file
    stated = _read_line(_FirstLine, first, 1)
    entries = tuple(_read_entry(line, number) for number, line in enumerate(lines, start=2))
    register = Register(entries, tuple(lines))
    if register_bytes(register) != data.replace(b"\r\n", b"\n"):
        message = (
            f"the digest {short(stated.register_digest)} over {stated.records} records does not fit the lines below"
        )
        raise PacketError(
            [
                Problem(
                    REGISTER, 1, "register_digest", stated.register_digest, message, "restore the register from a copy"
                )
            ]
        )
    return register


def register_state_text(state: RegisterState) -> str:
    """Return the state of a register for writing down: how many records, and the short digest over them."""
    return f"{state.records}:{short(state.register_digest)}"


def read_register_state(text: str) -> tuple[int, str]:
    """Return number of records and digest in a text that ``register_state_text`` printed, or with the whole digest.

    Raises PacketError for any other text.
    """
    found = _STATE.fullmatch(text)
    digest = re.sub(r"[\s-]", "", found[2]).lower() if found else ""  # what a person typed from a page
    if found is None or len(digest) < SHORT_DIGEST:
        message = "this is not a register digest"
        remedy = "write it as 'packets register' prints it, such as 12:1a2b 3c4d 5e6f"
        raise PacketError([Problem("", 0, "register digest", text, message, remedy)])
    return int(found[1]), digest


def _read_entry(line: bytes, number: int) -> RegisterEntry | SetUpEntry:
    """Return the entry in ``line``, of this or an older version."""
    try:
        content = json.loads(line)
    except ValueError:
        content = None
    if isinstance(content, dict) and is_older(content.get("record_version")):
        line = json.dumps(upgraded_line(content)).encode()
    if isinstance(content, dict) and content.get("kind") == "set-up":
        return _read_line(SetUpEntry, line, number)
    return _read_line(RegisterEntry, line, number)


def _read_line(model: type[_Line], line: bytes, number: int) -> _Line:
    try:
        return model.model_validate_json(line, strict=True)
    except ValidationError as error:
        key = ".".join(str(part) for part in error.errors()[0]["loc"])
        message = f"this line is not as the program writes it: {error.errors()[0]['msg']}"
        raise PacketError([Problem(REGISTER, number, key, "", message, "restore the register from a copy")]) from None
