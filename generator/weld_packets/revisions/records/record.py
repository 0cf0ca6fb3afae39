"""What is frozen when a packet is released or withdrawn, and its one spelling as bytes."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, StringConstraints, ValidationError
from pydantic_core import ErrorDetails

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records import Packet, Plain
from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.records.effectivity import Effective

Digest = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
OrderSlug = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]
RevisionMark = Annotated[str, StringConstraints(pattern=r"^[A-HJ-NPRTUVWY]{1,2}$")]
Moment = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"),
    AfterValidator(lambda text: datetime.fromisoformat(text) and text),
]
Kind = Literal["release", "withdrawal"]

_FORMAT_PLACES = (("format",), ("packet", "format"))
_PACKET_KEY = b',"packet":'
_AFTER_PACKET = b',"packet_sha256":'


class SourceFile(Plain):
    """One file that the packet was computed from: its path in the workspace and its SHA-256."""

    path: str
    sha256: Digest


class Code(Plain):
    """The code that made a record.

    ``commit`` is 40 hex digits, followed by ``with edits`` where the code differed from that commit, or ``unknown``.
    """

    version: str
    commit: Annotated[str, StringConstraints(pattern=r"^([0-9a-f]{40}( with edits)?|unknown)$")]


class TableState(Plain):
    """One table as it stood: revision and approval."""

    table: str
    revision: str
    approved_by: str
    approved_on: str


class RegisterPoint(Plain):
    """The register as it stood before this record: how many records, and the head over them."""

    records: int
    head: Digest


class Record(Plain):
    """One link of an order's chain.

    A withdrawal names in ``revision`` the revision that it withdraws and holds no packet. ``previous`` is the SHA-256
    of the bytes of the record before it in this order, empty for the first.
    """

    format: Literal["weld-record-1"] = "weld-record-1"
    kind: Kind
    order: OrderSlug
    sequence: int
    revision: RevisionMark
    effective: Effective
    author: str
    approver: str
    reason: str
    released_on: Moment
    code: Code
    sources: tuple[SourceFile, ...]
    tables: tuple[TableState, ...]
    packet: Packet | None
    packet_sha256: Digest | Literal[""]
    previous: Digest | Literal[""]
    register_before: RegisterPoint


def record_bytes(record: Record) -> bytes:
    """Return the record as it stands in its file: canonical JSON without a line end."""
    return canonical(record.model_dump(mode="json"))


def read_record(data: bytes, shown: str) -> Record:
    """Return the record in ``data``; ``shown`` names the file in messages.

    Raises PacketError for bytes that are no record, for unknown keys, and for a format of another generator.
    """
    try:
        return Record.model_validate_json(data, strict=True)
    except ValidationError as error:
        raise PacketError(_problems(error, shown)) from None


def packet_bytes(data: bytes) -> bytes:
    """Return the packet's own bytes out of a record's, nothing where they are not found.

    In canonical JSON a part stands in the whole as it stands alone, and quotation marks inside texts are escaped, so
    that the keys before and after the packet occur once.
    """
    return data[_packet_span(data)]


def read_cover(data: bytes, shown: str) -> Record:
    """Return the record in ``data`` without its packet, which may be of a format of another generator.

    Raises PacketError as ``read_record`` does for the rest.
    """
    span = _packet_span(data)
    return read_record(data[: span.start] + b"null" + data[span.stop :] if span.stop else data, shown)


def _packet_span(data: bytes) -> slice:
    start, end = data.find(_PACKET_KEY), data.rfind(_AFTER_PACKET)
    return slice(start + len(_PACKET_KEY), end) if 0 <= start < end else slice(0, 0)


def moment_text(moment: datetime) -> str:
    """Return a moment with time zone as records hold it, in UTC to the second."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def read_moment(text: str) -> datetime:
    """Return the moment that a record holds."""
    return datetime.fromisoformat(text)


def record_name(kind: Kind, revision: str) -> str:
    """Return the file name of a record inside ``released/``."""
    return f"{revision}.json" if kind == "release" else f"{revision}.withdrawn.json"


def _problems(error: ValidationError, shown: str) -> list[Problem]:
    details = error.errors()
    foreign = [detail for detail in details if detail["loc"] in _FORMAT_PLACES]
    if foreign:
        return [_foreign(detail, shown) for detail in foreign]
    return [_unreadable(detail, shown) for detail in details]


def _foreign(detail: ErrorDetails, shown: str) -> Problem:
    key = ".".join(str(part) for part in detail["loc"])
    message = "this format is unknown to this generator"
    return Problem(shown, 0, key, str(detail["input"]), message, "use the generator that wrote it, or a later one")


def _unreadable(detail: ErrorDetails, shown: str) -> Problem:
    key = ".".join(str(part) for part in detail["loc"])
    message = f"is not a record of this format: {detail['msg']}"
    return Problem(shown, 0, key, "", message, "restore the file; 'packets verify' shows what else differs")
