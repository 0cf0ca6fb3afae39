"""What the register lists: each release, withdrawal, set-up record, approval, record set aside, nonconformity."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import StringConstraints

from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.nonconformity import Nonconformity
from weld_packets.revisions.records.record import (
    Answered,
    Code,
    Digest,
    Moment,
    OrderSlug,
    RecordHead,
    RevisionLetter,
    RevisionRecord,
    SetUpId,
    Written,
    record_name,
)
from weld_packets.revisions.records.versions import RECORD_VERSION, RecordVersion
from weld_packets.units import Plain

SET_UPS = "set-ups"
RUNS = "runs"
PROPOSED = "proposed"

KeyName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]


class Signing(Plain):
    """The signature beside a record: the plant's name for the key, the public key, the SHA-256 of the file."""

    key: KeyName
    public_key: Digest
    sha256: Digest


class RegisterEntry(RecordHead):
    """One record as the register lists it: everything but packet and sources, and the SHA-256 of its file.

    ``contents`` are the digests of what its tables held, one for each; older entries have none.
    """

    tables: tuple[tuple[str, str], ...]
    record_digest: Digest
    signing: Signing | None
    contents: tuple[Digest, ...] = ()

    @property
    def path(self) -> str:
        """Return the file of the record below the instructions folder."""
        return f"{self.order}/released/{record_name(self.kind, self.revision)}"

    @property
    def signature_path(self) -> str:
        """Return the file of its signature."""
        return self.path.removesuffix(".json") + ".sig"  # a path

    @property
    def signed_with(self) -> str:
        """Return the name of the key with which it is signed, empty where it is not."""
        return self.signing.key if self.signing else ""


class FromCell(Plain):
    """A record from the cells as the register lists it: to which revision it belongs, and the SHA-256 of its file."""

    folder: ClassVar[str]
    record_version: RecordVersion = RECORD_VERSION
    order: OrderSlug
    id: SetUpId
    revision: RevisionLetter
    filed_at: Moment
    code: Code
    file_digest: Digest

    @property
    def path(self) -> str:
        """The file of the record below the instructions folder."""
        return f"{self.order}/{self.folder}/{self.id}.json"

    @property
    def at(self) -> str:
        """The moment at which it was filed."""
        return self.filed_at


class SetUpEntry(FromCell):
    """One set-up record as the register lists it."""

    folder = SET_UPS
    kind: Literal["set-up"] = "set-up"
    operation: int


class RunEntry(FromCell):
    """The record of a run as the register lists it; ``revision`` is that by which the run ended."""

    folder = RUNS
    kind: Literal["run"] = "run"


class InlineSignature(Plain):
    """A signature in the entry itself, over the canonical bytes of the entry without it."""

    key: KeyName
    public_key: Digest
    signature: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{128}$")]


class ApprovedTable(Plain):
    """One table that is approved: its revision, and the digest of what it holds."""

    table: str
    revision: str
    content_digest: Digest


class SignedInline(Plain):
    """An entry that may hold its own signature."""

    signature: InlineSignature | None = None

    @property
    def signed_bytes(self) -> bytes:
        """Return what its signature is over: what its file says, without keys that only a later program knows."""
        unsigned = self.model_copy(update={"signature": None})
        return canonical(unsigned.model_dump(mode="json", exclude_unset=True))

    @property
    def signed_with(self) -> str:
        """Return the name of the key with which it is signed, empty where it is not."""
        return self.signature.key if self.signature else ""


class SetAsideEntry(Answered, SignedInline):
    """Records of an order that do not count, because another branch made others in their place.

    ``record_digests`` are those of the first of them and of all records that follow it.
    """

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["set aside"] = "set aside"
    order: OrderSlug
    record_digests: tuple[Digest, ...]


class ApprovalEntry(Answered, SignedInline):
    """Tables of a plant that are approved as they are; ``author`` answers for the values, ``approver`` checked them."""

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["approval"] = "approval"
    plant: str
    tables: tuple[ApprovedTable, ...]

    @property
    def order(self) -> str:
        """Return what its file is named after."""
        return "tables"


class ProposalEntry(Written, SignedInline):
    """A packet that its author proposes for release, from which day, and after which record of the order.

    ``replaces`` are the digests of the entries of proposals that do not count any more.
    """

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["proposal"] = "proposal"
    order: OrderSlug
    packet_digest: Digest
    effective: Effective
    previous_record_digest: Digest | Literal[""]
    replaces: tuple[Digest, ...] = ()

    @property
    def path(self) -> str:
        """Return the file of the packet below the instructions folder; its name is the digest of what it holds."""
        return f"{self.order}/{PROPOSED}/{self.packet_digest}.json"


class ProposalWithdrawalEntry(Written, SignedInline):
    """Proposals of an order, by the digests of their entries, that do not count any more."""

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["proposal withdrawn"] = "proposal withdrawn"
    order: OrderSlug
    proposals: tuple[Digest, ...]


class NonconformityEntry(Answered, SignedInline):
    """What is recorded of a nonconformity after its revision was released: it is opened, added to, or closed.

    ``corrected_by`` are the revisions that its closing names; older closings name none.
    """

    record_version: RecordVersion = RECORD_VERSION
    kind: Literal["nonconformity"] = "nonconformity"
    order: OrderSlug
    revision: RevisionLetter
    nonconformity: Nonconformity
    closed: bool = False
    corrected_by: tuple[RevisionLetter, ...] = ()


FiledEntry = SetUpEntry | RunEntry
"""What was filed from the cells."""
Entry = (
    RegisterEntry
    | FiledEntry
    | SetAsideEntry
    | ApprovalEntry
    | ProposalEntry
    | ProposalWithdrawalEntry
    | NonconformityEntry
)


def entry_of(record: RevisionRecord, data: bytes, signing: Signing | None) -> RegisterEntry:
    """Return the entry for ``record``, whose file holds ``data``."""
    shared = record.model_dump(include=set(RecordHead.model_fields))
    tables = tuple((table.table, table.revision) for table in record.tables)
    contents = tuple(table.content_digest for table in record.tables if table.content_digest)
    return RegisterEntry(**shared, tables=tables, record_digest=sha256(data), signing=signing, contents=contents)
