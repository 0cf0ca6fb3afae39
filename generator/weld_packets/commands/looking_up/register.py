"""List every record with its digest.

Releases, withdrawals, approvals of tables, nonconformities, set-ups and runs, in the order of filing. The last line is
one digest over all of them. Keep a copy of it elsewhere: `packets verify --known LINE` then shows whether any record
was replaced since.

Example: packets register
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.entries import (
    ApprovalEntry,
    Entry,
    NonconformityEntry,
    ProposalEntry,
    ProposalWithdrawalEntry,
    RunEntry,
    SetAsideEntry,
    SetUpEntry,
)
from weld_packets.revisions.register.forks import counts
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.store.files import open_archive
from weld_packets.revisions.store.keys import key_fingerprints, key_line
from weld_packets.sources.folders import INSTRUCTIONS

_SET_ASIDE = "  set aside"


@click.command(help=__doc__)
@in_plant
def command(root: Path) -> None:
    print_lines(register_lines(root))


def register_lines(root: Path) -> Iterator[str]:
    """Yield every record with its digest, and the register digest over all of them."""
    register = open_archive(root / INSTRUCTIONS).register
    yield from (_line(entry, register) for entry in register.listed)
    yield from (key_line(name, digits) for name, digits in key_fingerprints(root / INSTRUCTIONS).items() if digits)
    yield f"register {register_state_text(register)}"


def _line(entry: Entry, register: Register) -> str:
    match entry:
        case SetUpEntry() | RunEntry():
            note = "" if counts(entry, register.set_aside) else _SET_ASIDE
            line = f"{short(entry.file_digest)}  {entry.order}  {entry.revision}  {entry.kind}  {entry.at}{note}"
        case SetAsideEntry():
            records = ", ".join(short(digest) for digest in entry.record_digests)
            line = f"{records}  {entry.order}  -  {entry.kind}  {entry.at}"
        case ApprovalEntry():
            tables = ", ".join(f"{each.table} {each.revision}" for each in entry.tables)
            line = f"{tables}  {entry.kind}  by {entry.approver}  {entry.at}"
        case ProposalEntry():
            line = f"{short(entry.packet_digest)}  {entry.order}  -  {entry.kind}  by {entry.author}  {entry.at}"
        case ProposalWithdrawalEntry():
            line = f"-  {entry.order}  -  {entry.kind}  by {entry.author}  {entry.at}"
        case NonconformityEntry():
            what = f"{entry.kind} {entry.nonconformity.number}{' closed' if entry.closed else ''}"
            line = f"{entry.order}  {entry.revision}  {what}  by {entry.approver}  {entry.at}"
        case _:
            note = "" if counts(entry, register.set_aside) else _SET_ASIDE
            line = f"{short(entry.record_digest)}  {entry.order}  {entry.revision}  {entry.kind}  {entry.at}{note}"
    return line
