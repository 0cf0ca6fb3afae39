"""Freeze an order's packet as its next revision.

ORDER is the order's folder in instructions/ or its number. Its pages are rendered from the frozen record from then on.

Example: packets release LK-2041 --author "welding engineer" --approver "quality lead"
--reason "first issue" --effective 2026-12-01
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.approvals import changed_tables, table_contents
from weld_packets.commands.shared.drafts import draft
from weld_packets.commands.shared.named import order_argument
from weld_packets.commands.shared.people import listed_people
from weld_packets.commands.shared.plant import INSTRUCTIONS, in_plant, print_lines
from weld_packets.commands.shared.programs import program_problems
from weld_packets.commands.shared.responsible import Responsible, published_lines, responsible_options
from weld_packets.errors import Problem, SourceError
from weld_packets.packet.programs import program_uses
from weld_packets.revisions.records.record import SourceFile
from weld_packets.revisions.status.release_rules import Release
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.releasing import record_release
from weld_packets.sources.digests import file_digests
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@order_argument
@responsible_options
@click.option(
    "--digest",
    default="",
    help="Refuse unless the packet has this digest, whole or its first 12 digits, as `packets check` prints it.",
)
@in_plant
def command(root: Path, order: str, who: Responsible, digest: str) -> None:
    print_lines(release(root, order, who, digest))


def release(root: Path, slug: str, who: Responsible, approved: str) -> list[str]:
    """Freeze the packet of ``slug`` as its next revision and return what to print; raise PacketError against it."""
    read_before = file_digests(root, slug)
    workspace = load_workspace(root)
    packet = draft(workspace, slug)
    register = load_register(root / INSTRUCTIONS)
    listed = listed_people(workspace, register)
    faults = [
        *listed.problems,
        *program_problems(workspace, [(slug, program_uses(packet))]),
        *changed_tables(workspace, register, [use.table for use in packet.cited]),
    ]
    if faults:
        raise SourceError(faults)
    sources = file_digests(root, slug)
    if sources != read_before:
        message, remedy = "its sources changed while the packet was computed", "run the command again"
        raise SourceError([Problem(f"{INSTRUCTIONS}/{slug}", 0, "", "", message, remedy)])
    files = tuple(SourceFile(path=path, sha256=digest) for path, digest in sources.items())
    by = who.signatures(workspace.approved.plant, listed.people)
    wanted = Release(packet, files, by, approved, table_contents(workspace))
    return published_lines(record_release(root / INSTRUCTIONS, wanted, who.signer(root)))
