"""Record that tables are approved as they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from weld_packets.errors import Problem, refuse
from weld_packets.revisions.queries.archive import sources_of
from weld_packets.revisions.register.entries import ApprovalEntry, ApprovedTable
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import Signer, name_of, signed_by
from weld_packets.revisions.status.people import OF_TABLES
from weld_packets.revisions.status.release_rules import Signatures, clock_problems, people_problems
from weld_packets.revisions.status.table_contents import TableContent, approval_of, content_problems
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import archive_for, commit, writing
from weld_packets.revisions.store.table_contents import new_contents, read_content


@dataclass(frozen=True)
class TableApproval:
    """Tables that are approved for ``plant`` as they are, and who answers for it."""

    plant: str
    contents: tuple[TableContent, ...]
    by: Signatures


def problems_of_contents(
    instructions: Path, register: Register, plant: str, contents: tuple[TableContent, ...]
) -> list[Problem]:
    """Return a problem for each table that holds something else than was approved or released under its revision."""
    archive = archive_for(register, instructions)
    return list(
        content_problems(
            contents,
            register,
            plant,
            lambda digest: read_content(instructions, digest),
            lambda entry: sources_of(archive, entry),
        )
    )


def record_approval(
    instructions: Path, wanted: TableApproval, signer: Signer | None = None
) -> tuple[ApprovalEntry, Register]:
    """Record the approval of tables and return its entry, and the register after it.

    Raises PacketError with every reason against it, and while another record is being written.
    """
    at, by = Disk(), wanted.by
    with writing(instructions, at) as register:
        refuse([
            *people_problems(by, OF_TABLES, name_of(signer)),
            *clock_problems(by, register.last_at),
            *problems_of_contents(instructions, register, wanted.plant, wanted.contents),
            *_approved_already(register, wanted),
        ])  # fmt: skip
        entry = ApprovalEntry(
            plant=wanted.plant,
            tables=tuple(
                ApprovedTable(table=each.table, revision=each.revision, content_digest=each.digest)
                for each in wanted.contents
            ),
            **by.answered,
        )
        entry = signed_by(signer, entry)
        return entry, commit(instructions, register, entry, new_contents(instructions, wanted.contents), at)


def _approved_already(register: Register, wanted: TableApproval) -> Iterator[Problem]:
    for content in wanted.contents:
        entry = approval_of(register, wanted.plant, content)
        if entry is not None:
            message = (
                f"table {content.table}, revision {content.revision}, was approved as it is by {entry.approver} on "
                f"{entry.recorded_at[:10]}"
            )
            yield Problem(content.file, 0, "revision", content.revision, message, "there is nothing to approve")
