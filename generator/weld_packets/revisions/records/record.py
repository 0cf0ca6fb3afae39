"""What is frozen when a packet is released or withdrawn, and its canonical serialisation."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, StringConstraints, ValidationError
from pydantic_core import ErrorDetails

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.nonconformity import Nonconformity, NonconformityNumber
from weld_packets.revisions.records.versions import RECORD_VERSION, Json, RecordVersion, is_older, upgraded_record
from weld_packets.units import Plain

Digest = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
OrderSlug = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]
RevisionLetter = Annotated[str, StringConstraints(pattern=r"^[A-HJ-NPRTUVWY]{1,2}$")]
SetUpId = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{16}$")]
Moment = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"),
    AfterValidator(lambda text: datetime.fromisoformat(text) and text),
]
RecordKind = Literal["release", "withdrawal"]

_VERSION = ("record_version",)
_PACKET_KEY = b',"packet":'
_AFTER_PACKET = b',"packet_digest":'


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
    """One table at the release: revision and approval, and the digest of its content, which older records have not."""

    table: str
    revision: str
    approved_by: str
    approved_on: str
    content_digest: Digest | Literal[""] = ""


class RegisterState(Plain):
    """The register at some moment: how many records it held, and the digest over all of them."""

    records: int
    register_digest: Digest


class Written(Plain):
    """Who wrote something that the register lists, why and when, and with which code."""

    author: str
    reason: str
    recorded_at: Moment
    code: Code

    @property
    def at(self) -> str:
        """The moment at which it was made."""
        return self.recorded_at


class Answered(Written):
    """What somebody wrote and another person approved."""

    approver: str


class RecordHead(Answered):
    """What a record and its entry in the register both say.

    A withdrawal may open a ``nonconformity`` of the revision that it withdraws; a release names those that it corrects.
    """

    record_version: RecordVersion = RECORD_VERSION
    kind: RecordKind
    order: OrderSlug
    sequence: int
    revision: RevisionLetter
    effective: Effective
    packet_digest: Digest | Literal[""]
    previous_record_digest: Digest | Literal[""]
    nonconformity: Nonconformity | None = None
    corrects: tuple[NonconformityNumber, ...] = ()


class RevisionRecord(RecordHead):
    """One record of an order, linked to the one before it.

    A withdrawal names in ``revision`` the revision that it withdraws and holds no packet. ``packet_digest`` is the
    SHA-256 of the packet alone, which was approved; ``previous_record_digest`` that of the bytes of the record before
    it in this order, empty for the first. ``register_before`` is the register without this record.
    """

    sources: tuple[SourceFile, ...]
    tables: tuple[TableState, ...]
    packet: Packet | None
    register_before: RegisterState


def record_bytes(record: RevisionRecord) -> bytes:
    """Return the record in its file: canonical JSON without a line end."""
    return canonical(record.model_dump(mode="json"))


def read_record(data: bytes, shown: str) -> RevisionRecord:
    """Return the record in ``data``, of this or an older version; ``shown`` names the file in messages.

    Raises PacketError for bytes that are no record, for unknown keys, and for a version that this program cannot read.
    """
    try:
        return RevisionRecord.model_validate_json(data, strict=True)
    except ValidationError as error:
        older = _older(data)
        if older is None:
            raise PacketError(_problems(error, shown)) from None
    try:
        return RevisionRecord.model_validate_json(json.dumps(upgraded_record(older)), strict=True)
    except ValidationError as error:
        raise PacketError(_problems(error, shown)) from None


def _older(data: bytes) -> Json | None:
    """Return the content of a record of an older version that this program reads, None for anything else."""
    try:
        content = json.loads(data)
    except (ValueError, RecursionError):  # of a record that is nested without end
        return None
    known = isinstance(content, dict) and is_older(content.get("record_version"))
    return content if known else None


def packet_bytes(data: bytes) -> bytes:
    """Return the packet's own bytes out of a record's, nothing where they are not found.

    In canonical JSON a part is in the whole as it is alone, and quotation marks inside texts are escaped, so
    that the keys before and after the packet occur once.
    """
    return data[_packet_span(data)]


def read_cover(data: bytes, shown: str) -> RevisionRecord:
    """Return the record in ``data`` without its packet, which need not be readable.

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


def record_name(kind: RecordKind, revision: str) -> str:
    """Return the file name of a record inside ``released/``."""
    return f"{revision}.json" if kind == "release" else f"{revision}.withdrawn.json"


def _problems(error: ValidationError, shown: str) -> list[Problem]:
    details = error.errors()
    foreign = [detail for detail in details if detail["loc"] == _VERSION]
    if foreign:
        return [_foreign(detail, shown) for detail in foreign]
    return [_unreadable(detail, shown) for detail in details]


def _foreign(detail: ErrorDetails, shown: str) -> Problem:
    key = ".".join(str(part) for part in detail["loc"])
    message = "this program does not know this version of a record"
    return Problem(shown, 0, key, str(detail["input"]), message, "use the program that wrote it, or a later one")


def _unreadable(detail: ErrorDetails, shown: str) -> Problem:
    key = ".".join(str(part) for part in detail["loc"])
    message = f"is not a record of this format: {detail['msg']}"
    return Problem(shown, 0, key, "", message, "restore the file; 'packets verify' shows what else differs")
