"""The first part of the register, which older programs wrote: one file of JSON lines under one digest.

It is read for ever and never changes: a first line with the number of records and the digest over the lines below it.
"""

from __future__ import annotations

import json
from typing import Literal, TypeVar

from pydantic import ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.revisions.records.canonical import canonical, short
from weld_packets.revisions.records.record import Digest
from weld_packets.revisions.records.versions import is_older, upgraded_line
from weld_packets.revisions.register.entries import RegisterEntry, SetUpEntry
from weld_packets.revisions.register.hash_tree import tree_digest
from weld_packets.revisions.register.register import Register
from weld_packets.units import Plain

REGISTER = "register.jsonl"
"""The first part."""
_CONFLICT = (b"<<<<<<<", b"=======", b">>>>>>>")
_Line = TypeVar("_Line", bound=Plain)


class _FirstLine(Plain):
    register_version: Literal[1] = 1
    records: int
    register_digest: Digest


def register_bytes(register: Register) -> bytes:
    """Return the first part of the register as its file holds it."""
    digest = tree_digest(register.lines)
    first = canonical(_FirstLine(records=len(register.lines), register_digest=digest).model_dump())
    return b"".join(line + b"\n" for line in (first, *register.lines))


def read_register(data: bytes) -> Register:
    """Return the first part of the register in ``data``; line ends of another system are accepted.

    Raises PacketError where the file is not what the program writes, or its digest does not fit its lines.
    """
    # What git leaves in a file of which two branches changed the same line.
    if any(line.startswith(_CONFLICT) for line in data.splitlines()):
        message = "holds the marks of a merge that git could not do"
        remedy = "take it as one of the branches had it: git checkout --ours, or --theirs, and git add"
        raise PacketError([Problem(REGISTER, 1, "", "", message, remedy)])
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


def _read_entry(line: bytes, number: int) -> RegisterEntry | SetUpEntry:
    """Return the entry in ``line``, of this or an older version."""
    try:
        content = json.loads(line)
    except (ValueError, RecursionError):
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
