"""The register over all orders: one line for each record, in the order of their making, under one head.

The file is JSON lines: a head line with the number of records and the tree head over the lines below it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Literal, TypeVar

from pydantic import StringConstraints, ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records import Plain
from weld_packets.revisions.records.canonical import SHORT, canonical, sha256, short
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import (
    Digest,
    Kind,
    Moment,
    OrderSlug,
    Record,
    RegisterPoint,
    RevisionMark,
    record_name,
)
from weld_packets.revisions.register.hash_tree import heads, tree_head

REGISTER = "register.jsonl"
_POINT = re.compile(r"\s*([0-9]{1,9})\s*:\s*([0-9A-Fa-f\s-]+)")

KeyName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]
Line = TypeVar("Line", bound=Plain)


class Signing(Plain):
    """The signature beside a record: the plant's name for the key, the public key, the SHA-256 of the file."""

    key: KeyName
    public_key: Digest
    sha256: Digest


class Entry(Plain):
    """One record as the register lists it: everything but packet and sources, and the SHA-256 of its file."""

    kind: Kind
    order: OrderSlug
    sequence: int
    revision: RevisionMark
    effective: Effective
    author: str
    approver: str
    reason: str
    released_on: Moment
    tables: tuple[tuple[str, str], ...]
    packet_sha256: Digest | Literal[""]
    previous: Digest | Literal[""]
    sha256: Digest
    signing: Signing | None

    @property
    def path(self) -> str:
        """Return the file of the record below the instructions folder."""
        return f"{self.order}/released/{record_name(self.kind, self.revision)}"

    @property
    def signature_path(self) -> str:
        """Return the file of its signature."""
        return self.path.removesuffix(".json") + ".sig"


class _HeadLine(Plain):
    format: Literal["weld-register-1"] = "weld-register-1"
    records: int
    head: Digest


@dataclass(frozen=True)
class Register:
    """All entries with the lines that spell them."""

    entries: tuple[Entry, ...] = ()
    lines: tuple[bytes, ...] = ()

    @cached_property
    def head(self) -> str:
        """Return the tree head over all lines."""
        return tree_head(self.lines)

    @cached_property
    def heads(self) -> tuple[str, ...]:
        """Return the tree head after each line."""
        return tuple(heads(self.lines))

    @property
    def point(self) -> RegisterPoint:
        """Return size and head, which the next record carries."""
        return RegisterPoint(records=len(self.lines), head=self.head)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Return the place of each record among all, by its file."""
        return {entry.path: at for at, entry in enumerate(self.entries)}

    @cached_property
    def chains(self) -> Mapping[str, tuple[Entry, ...]]:
        """Return the entries of each order, oldest first."""
        gathered: dict[str, list[Entry]] = {}
        for entry in self.entries:
            gathered.setdefault(entry.order, []).append(entry)
        return {order: tuple(entries) for order, entries in sorted(gathered.items())}

    def of(self, order: str) -> tuple[Entry, ...]:
        """Return the entries of one order, oldest first; none for an order without releases."""
        return self.chains.get(order, ())

    def with_entry(self, entry: Entry) -> Register:
        """Return the register with one more record."""
        return Register((*self.entries, entry), (*self.lines, canonical(entry.model_dump(mode="json"))))


def entry_of(record: Record, data: bytes, signing: Signing | None) -> Entry:
    """Return the entry for ``record``, whose file holds ``data``."""
    shared = record.model_dump(include=set(Entry.model_fields) - {"tables", "sha256", "signing"})
    tables = tuple((table.table, table.revision) for table in record.tables)
    return Entry(**shared, tables=tables, sha256=sha256(data), signing=signing)


def register_bytes(register: Register) -> bytes:
    """Return the register as it stands in its file."""
    head = canonical(_HeadLine(records=len(register.lines), head=register.head).model_dump())
    return b"".join(line + b"\n" for line in (head, *register.lines))


def read_register(data: bytes) -> Register:
    """Return the register in ``data``; line ends of another system are accepted.

    Raises PacketError where the file is not what the generator writes, or its head does not fit its lines.
    """
    head, *lines = data.replace(b"\r\n", b"\n").removesuffix(b"\n").split(b"\n")
    stated = _read_line(_HeadLine, head, 1)
    entries = tuple(_read_line(Entry, line, number) for number, line in enumerate(lines, start=2))
    register = Register(entries, tuple(lines))
    if register_bytes(register) != data.replace(b"\r\n", b"\n"):
        message = f"the head {stated.head[:12]} over {stated.records} records does not fit the lines below it"
        raise PacketError([Problem(REGISTER, 1, "head", stated.head, message, "restore the register from a copy")])
    return register


def point_text(point: RegisterPoint) -> str:
    """Return a point of the register for writing down: how many records, and the head over them."""
    return f"{point.records}:{short(point.head)}"


def read_point(text: str) -> tuple[int, str]:
    """Return number of records and head in a text that ``point_text`` printed, or with the whole head."""
    found = _POINT.fullmatch(text)
    head = re.sub(r"[\s-]", "", found[2]).lower() if found else ""
    if found is None or len(head) < SHORT:
        message = "this is not a point of the register"
        remedy = "write it as 'packets register' prints it, such as 12:1a2b 3c4d 5e6f"
        raise PacketError([Problem("", 0, "head", text, message, remedy)])
    return int(found[1]), head


def _read_line(model: type[Line], line: bytes, number: int) -> Line:
    try:
        return model.model_validate_json(line, strict=True)
    except ValidationError as error:
        key = ".".join(str(part) for part in error.errors()[0]["loc"])
        message = f"this line is not as the generator writes it: {error.errors()[0]['msg']}"
        raise PacketError([Problem(REGISTER, number, key, "", message, "restore the register from a copy")]) from None
